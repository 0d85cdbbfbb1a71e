//! What one group contributes to its class: numbers under a code. No name, word, answer or path is ever in it.

use std::cmp::Ordering;

use crate::class::pool::Kept;
use crate::class::pool::Quantity;
use crate::lab::Lab;
use crate::lab::UncertaintyRule;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::figures::Figures;
use crate::measure::rounding;
use crate::measure::uncertainty::Doubt;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Value;
use crate::working::Variable;
use crate::working::Worked;
use crate::working::drying;
use crate::working::drying::Verdict;
use crate::working::slopes::Slopes;

/// Decimals that pooled values keep: far more than any reading defends.
pub(super) const KEPT: i32 = 12;

/// One group.
#[derive(Debug, Clone)]
pub struct Entry {
    /// Its code.
    pub code: String,
    /// Its section's code; empty for none.
    pub section: String,
    /// Readings that are missing or impossible.
    pub missing: usize,
    /// How many trials it did.
    pub trials: usize,
    /// One value a quantity of the pool, where it is known.
    pub values: Vec<Option<Number>>,
    /// For each of them how far a given or an atomic weight may move it, with the sign: these are the same for every group.
    pub common: Vec<Vec<(Variable, f64)>>,
    /// Moles of a product collected and of a reactant used, for each pair of the pool.
    pub pairs: Vec<Option<(f64, f64)>>,
    /// Weighings until constant mass; `None` where a series did not come to it.
    pub weighings: Option<u32>,
    /// Causes that its report lists, in that order.
    pub causes: Vec<Likely>,
}

/// A cause that the report of a group lists, and what it does to what is pooled.
#[derive(Debug, Clone)]
pub struct Likely {
    /// Its id.
    pub id: &'static str,
    /// What happened, a sentence without its full stop.
    pub says: String,
    /// How many signs and series speak for it, less those against it.
    pub score: i32,
    /// For each quantity of the pool whether it makes it higher or lower, where it does so one way only.
    pub moves: Vec<Option<Ordering>>,
}

/// A pooled value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// The value, to twelve decimals of its unit.
    pub value: Decimal,
    /// Decimals that the readings defend.
    pub places: i32,
    /// How far it may be off before that says something, by the lab's rule: twice its standard uncertainty, or the sum of the limits.
    pub room: f64,
}

impl Entry {
    /// What a record contributes under a code; of several trials the mean. Its causes are not weighed.
    #[must_use]
    pub fn of(
        (code, section): (String, String),
        lab: &Lab,
        graph: &Graph,
        record: &Record,
        worked: &Worked<'_>,
        kept: &Kept,
    ) -> Self {
        let series = drying::series(lab, record, &worked.instruments);
        let numbers: Vec<Vec<(Number, Common)>> = kept
            .quantities
            .iter()
            .map(|quantity| {
                let all = every(worked);
                all.filter_map(|worked| number(quantity, lab, graph, worked))
                    .collect()
            })
            .collect();
        Self {
            code,
            section,
            missing: record.missing(|index, _| graph.needs(index)),
            trials: 1 + worked.trials.len(),
            values: numbers
                .iter()
                .map(|trials| mean(&trials.iter().map(|(number, _)| *number).collect::<Vec<_>>()))
                .collect(),
            common: numbers.iter().map(|trials| together(trials)).collect(),
            pairs: kept
                .pairs
                .iter()
                .map(|(p, r)| {
                    let pairs = every(worked).filter_map(|worked| {
                        let of = |kind| Some(worked.value(graph.of_kind(kind)?)?.approximate());
                        Some((of(Kind::MolesUsed(*r))?, of(Kind::MolesCollected(*p))?))
                    });
                    middle(&pairs.collect::<Vec<_>>())
                })
                .collect(),
            weighings: series
                .first()
                .filter(|series| series.verdict() == Verdict::Constant)
                .and_then(|series| u32::try_from(series.values.len()).ok()),
            causes: Vec::new(),
        }
    }
}

/// All trials of a group.
fn every<'w>(worked: &'w Worked<'w>) -> impl Iterator<Item = &'w Worked<'w>> {
    std::iter::once(worked).chain(&worked.trials)
}

/// The mean of a group's trials: what the group contributes, so that each group counts once.
fn mean(trials: &[Number]) -> Option<Number> {
    let [first, rest @ ..] = trials else {
        return None;
    };
    if rest.is_empty() {
        return Some(*first);
    }
    let total: Exact = trials.iter().map(|number| number.value.to_exact()).sum();
    let mean = total / Exact::from_integer(trials.len() as i128);
    Some(Number {
        value: rounding::to_places(&mean, KEPT, crate::measure::Rounding::HalfUp),
        places: rest
            .iter()
            .fold(first.places, |least, number| least.min(number.places)),
        room: trials.iter().map(|number| number.room).sum::<f64>() / trials.len() as f64,
    })
}

/// What is common to all groups, as it moves the mean of a group's trials.
fn together(trials: &[(Number, Common)]) -> Common {
    let mut sum = Slopes::default();
    for (_, common) in trials {
        let common: Slopes = common.iter().copied().collect();
        sum.add(&common, 1.0 / trials.len() as f64);
    }
    sum.iter().copied().collect()
}

/// The mean of pairs.
fn middle(pairs: &[(f64, f64)]) -> Option<(f64, f64)> {
    let count = pairs.len() as f64;
    let sum = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>();
    (!pairs.is_empty()).then(|| (sum(|pair| pair.0) / count, sum(|pair| pair.1) / count))
}

/// How far each given and atomic weight may move a value, with the sign.
type Common = Vec<(Variable, f64)>;

/// The value of a quantity, and how far what is common to all groups may move it.
fn number(
    quantity: &Quantity,
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
) -> Option<(Number, Common)> {
    let value = |id: StepId| worked.value(id);
    let found = value(quantity.found)?;
    let mut slopes = found.slopes.clone();
    let (exact, figures) = match quantity.minus {
        None => (found.exact.clone(), found.figures),
        Some(id) => {
            slopes.add(&value(id)?.slopes, -1.0);
            difference(found, value(id)?)
        }
    };
    let power = graph.step(quantity.found).unit.power_to_base();
    let shown = exact / Decimal::new(1, -power).to_exact();
    // A ratio of readings of nothing may be beyond any decimal.
    if shown.to_f64().abs() > 1e15 {
        return None;
    }
    let figures = figures.shifted(power);
    let places = figures
        .write(&shown, 0, crate::measure::Rounding::HalfUp)
        .places();
    let unit = 10.0_f64.powi(power);
    let moved = |by: fn(&Doubt) -> f64| -> Common {
        let slopes = slopes.iter();
        slopes
            .map(|(input, slope)| (*input, slope * by(&worked.inputs.doubt(*input)) / unit))
            .collect()
    };
    let parts = match lab.policy.uncertainty {
        UncertaintyRule::WorstCase => moved(|doubt| doubt.half_width),
        UncertaintyRule::Standard | UncertaintyRule::None => moved(|doubt| doubt.standard),
    };
    let number = Number {
        value: rounding::to_places(&shown, KEPT, crate::measure::Rounding::HalfUp),
        places: places.min(KEPT),
        room: room(lab.policy.uncertainty, parts.iter().map(|(_, part)| *part)),
    };
    let is_common = |(input, _): &(Variable, f64)| !matches!(input, Variable::Reading(_));
    Some((number, parts.into_iter().filter(is_common).collect()))
}

/// How far independent parts may move a value before that says something, by the lab's rule: twice their standard uncertainty, or
/// the sum of their limits.
pub(super) fn room(rule: UncertaintyRule, parts: impl Iterator<Item = f64>) -> f64 {
    match rule {
        UncertaintyRule::WorstCase => parts.map(f64::abs).sum(),
        UncertaintyRule::Standard | UncertaintyRule::None => {
            2.0 * parts.map(|part| part * part).sum::<f64>().sqrt()
        }
    }
}

fn difference(a: &Value, b: &Value) -> (Exact, Figures) {
    let digits = Figures::sum([(a.figures, &a.exact), (b.figures, &b.exact)]);
    (&a.exact - &b.exact, digits)
}
