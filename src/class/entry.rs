//! What one group contributes to its class: numbers under a code. No name, word, answer or path is ever in it.

use crate::class::pool::Kept;
use crate::class::pool::Quantity;
use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::figures::Figures;
use crate::measure::rounding;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Value;
use crate::working::Worked;
use crate::working::drying;
use crate::working::drying::Verdict;

/// Decimals that pooled values keep: far more than any reading defends.
const KEPT: i32 = 12;

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
    /// Moles of a product collected and of a reactant used, for each pair of the pool.
    pub pairs: Vec<Option<(f64, f64)>>,
    /// Weighings until constant mass; `None` where a series did not come to it.
    pub weighings: Option<u32>,
}

/// A pooled value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// The value, to twelve decimals of its unit.
    pub value: Decimal,
    /// Decimals that the readings defend.
    pub places: i32,
}

impl Entry {
    /// What a record contributes under a code; of several trials the mean.
    #[must_use]
    pub fn of(
        (code, section): (String, String),
        lab: &Lab,
        graph: &Graph,
        record: &Record,
        worked: &Worked<'_>,
        kept: &Kept,
    ) -> Self {
        let series = drying::series(lab, record);
        Self {
            code,
            section,
            missing: record.missing(|index, _| graph.needs(index)),
            trials: 1 + worked.trials.len(),
            values: kept
                .quantities
                .iter()
                .map(|quantity| {
                    let all = every(worked).filter_map(|worked| number(quantity, graph, worked));
                    mean(&all.collect::<Vec<_>>())
                })
                .collect(),
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
    })
}

/// The mean of pairs.
fn middle(pairs: &[(f64, f64)]) -> Option<(f64, f64)> {
    let count = pairs.len() as f64;
    let sum = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>();
    (!pairs.is_empty()).then(|| (sum(|pair| pair.0) / count, sum(|pair| pair.1) / count))
}

/// The value of a quantity.
fn number(quantity: &Quantity, graph: &Graph, worked: &Worked<'_>) -> Option<Number> {
    let value = |id: StepId| worked.value(id);
    let found = value(quantity.found)?;
    let (exact, figures) = match quantity.minus {
        None => (found.exact.clone(), found.figures),
        Some(id) => difference(found, value(id)?),
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
    Some(Number {
        value: rounding::to_places(&shown, KEPT, crate::measure::Rounding::HalfUp),
        places: places.min(KEPT),
    })
}

fn difference(a: &Value, b: &Value) -> (Exact, Figures) {
    let digits = Figures::sum([(a.figures, &a.exact), (b.figures, &b.exact)]);
    (&a.exact - &b.exact, digits)
}
