//! The entries of a class: which quantities are pooled, and what they come to.

use crate::class::Entry;
use crate::class::Summary;
use crate::class::entry::KEPT;
use crate::class::entry::Number;
use crate::class::outliers;
use crate::lab::Lab;
use crate::lab::ShowWorking;
use crate::lab::share::OutlierRule;
use crate::measure::Decimal;
use crate::measure::Unit;
use crate::say;
use crate::working::Graph;
use crate::working::Inputs;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::inputs::Input;
use crate::working::value;

/// Of fewer groups than this, and fewer values of a quantity, no single one is shown.
pub const FEWEST: usize = 5;

/// What is kept of each group.
#[derive(Debug, Clone)]
pub struct Kept {
    /// Quantities, in the order of the table.
    pub quantities: Vec<Quantity>,
    /// Product and reactant whose moles are held against each other.
    pub pairs: Vec<(usize, usize)>,
}

/// A pooled quantity.
#[derive(Debug, Clone)]
pub struct Quantity {
    /// What it is, in words.
    pub title: String,
    /// Its unit.
    pub unit: Unit,
    /// What kind of step it is.
    pub kind: Kind,
    /// The step found.
    pub found: StepId,
    /// The step taken from it, for differences.
    pub minus: Option<StepId>,
    /// Values that its plot has lines at, with their words; none for a quantity that is only listed.
    pub lines: Vec<(f64, String)>,
}

/// A class, or one section of it.
#[derive(Debug)]
pub struct Pool<'a> {
    /// The lab.
    pub lab: &'a Lab,
    /// The lab's steps.
    pub graph: &'a Graph,
    /// What is kept of each group.
    pub kept: &'a Kept,
    /// The groups, in an order that tells nothing.
    pub entries: Vec<&'a Entry>,
}

/// One quantity of a pool.
#[derive(Debug, Clone)]
pub struct Column {
    /// Whether single ones of its values may be shown.
    pub single: bool,
    /// Entry number and value, in the pool's order.
    pub values: Vec<(usize, Number)>,
    /// Numbers of entries whose value is far from the others.
    pub far: Vec<usize>,
    /// Numbers of entries that the teacher leaves out.
    pub left_out: Vec<usize>,
    /// Statistics of all values but those left out.
    pub all: Option<Summary>,
    /// Statistics without those that are far; `None` where none is.
    pub without_far: Option<Summary>,
    /// Statistics with those left out; `None` where none is.
    pub with_left_out: Option<Summary>,
    /// Decimals that most groups defend.
    pub places: i32,
    /// Decimals that all of its values are shown with: no fewer than those, and two figures of their spread.
    pub fine: i32,
}

impl Kept {
    /// What a lab's class pages pool.
    #[must_use]
    pub fn of(lab: &Lab, graph: &Graph) -> Self {
        let mut quantities = Vec::new();
        let mut pairs = Vec::new();
        let accepted = |find: usize| accepted(lab, graph, find);
        let name = |index: usize| {
            let substance = &lab.substances[index];
            substance.weighed_name.as_ref().unwrap_or(&substance.name)
        };
        for id in graph.ids().filter(|id| graph.step(*id).equation == 0) {
            // What results are held against is nothing that a group found.
            if !graph.compared_with(id).is_empty() {
                continue;
            }
            let step = graph.step(id);
            let mut minus = None;
            let mut title = step.title.clone();
            let lines = match step.kind {
                Kind::Collected(_) | Kind::Used(_) | Kind::Completion(_) | Kind::Recovery(..) => {
                    Vec::new()
                }
                Kind::PercentYield(_) => vec![(100.0, "100 %".to_owned())],
                Kind::MeasuredLeft(r) => {
                    let Some(expected) = graph.of_kind(Kind::ExpectedLeft(r)) else {
                        continue;
                    };
                    if graph.step(expected).dimension != step.dimension {
                        continue;
                    }
                    minus = Some(expected);
                    title = say!(
                        lab.words,
                        "{substance} left, found minus predicted",
                        substance = name(r)
                    );
                    vec![(0.0, say!(lab.words, "as predicted"))]
                }
                Kind::Ratio(p, r) => {
                    pairs.push((p, r));
                    candidates(lab, p, r)
                }
                Kind::Find(find) => accepted(find).into_iter().collect(),
                _ => continue,
            };
            quantities.push(Quantity {
                title,
                unit: step.unit,
                kind: step.kind,
                found: id,
                minus,
                lines,
            });
        }
        Self { quantities, pairs }
    }
}

/// The line at the accepted value of a further quantity: where it is one for all groups, and students may see it.
fn accepted(lab: &Lab, graph: &Graph, find: usize) -> Option<(f64, String)> {
    let hidden = lab.ask.present && lab.policy.show_working == ShowWorking::Teacher;
    let id = graph.of_kind(Kind::Accepted(find)).filter(|_| !hidden)?;
    // Worked without any reading: what depends on one has no value then.
    let inputs = Inputs {
        readings: vec![None; graph.readings.len()],
        givens: graph
            .givens
            .iter()
            .map(|given| Input::of_given(&given.value))
            .collect(),
        weights: &lab.atomic_weights,
        words: &lab.words,
    };
    let value = value::evaluate(graph, &inputs)[id.index()]
        .known()?
        .approximate();
    let power = graph.step(id).unit.power_to_base();
    Some((
        value / 10.0_f64.powi(power),
        say!(lab.words, "accepted value"),
    ))
}

/// The ratios that the lab's equations allow, each once.
pub(crate) fn candidates(lab: &Lab, product: usize, reactant: usize) -> Vec<(f64, String)> {
    let mut found: Vec<(f64, String)> = Vec::new();
    for equation in std::iter::once(&lab.equation).chain(&lab.alternatives) {
        let of = |index: usize| Some(equation.find(&lab.substances[index].formula)?.0.coefficient);
        let (Some(made), Some(used)) = (of(product), of(reactant)) else {
            continue;
        };
        let ratio = f64::from(made) / f64::from(used);
        if !found.iter().any(|(known, _)| (known - ratio).abs() < 1e-12) {
            found.push((ratio, format!("{made}\u{a0}:\u{a0}{used}")));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found
}

impl Pool<'_> {
    /// Groups whose every reading is in.
    #[must_use]
    pub fn complete(&self) -> usize {
        self.entries
            .iter()
            .filter(|entry| entry.missing == 0)
            .count()
    }

    /// Whether single groups may be shown: a group without any value hides nobody else's.
    #[must_use]
    pub fn shows_groups(&self) -> bool {
        let has_value = |entry: &&&Entry| entry.values.iter().any(Option::is_some);
        self.entries.iter().filter(has_value).count() >= FEWEST
    }

    /// Whether single values of a quantity may be shown.
    #[must_use]
    pub fn shows_values(&self, quantity: usize) -> bool {
        let with_value = self.entries.iter();
        let with_value = with_value.filter(|entry| entry.values[quantity].is_some());
        self.shows_groups() && with_value.count() >= FEWEST
    }

    /// The groups of which a page may hold all that they found.
    #[must_use]
    pub fn shown(&self) -> Vec<&Entry> {
        let single: Vec<bool> = (0..self.kept.quantities.len())
            .map(|quantity| self.shows_values(quantity))
            .collect();
        let all = |entry: &&&Entry| {
            let mut values = entry.values.iter().zip(&single);
            values.all(|(value, single)| *single || value.is_none())
        };
        if !self.shows_groups() {
            return Vec::new();
        }
        self.entries.iter().filter(all).copied().collect()
    }

    /// One of the quantities, pooled.
    #[must_use]
    pub fn column(&self, quantity: usize) -> Column {
        let share = &self.lab.share;
        let numbered = self.entries.iter().enumerate();
        let numbers: Vec<(usize, Number)> = numbered
            .filter_map(|(place, entry)| Some((place, entry.values[quantity]?)))
            .collect();
        let is_left_out = |place: usize| {
            let code = &self.entries[place].code;
            share.left_out.iter().any(|(known, _)| known == code)
        };
        let (out, kept): (Vec<_>, Vec<_>) = numbers
            .iter()
            .partition::<Vec<(usize, Number)>, _>(|(place, _)| is_left_out(*place));
        let values: Vec<f64> = kept
            .iter()
            .map(|(_, number)| number.value.to_exact().to_f64())
            .collect();
        let plotted = !self.kept.quantities[quantity].lines.is_empty()
            || matches!(self.kept.quantities[quantity].kind, Kind::Find(_));
        // Of three or four values one distance decides which of them is far.
        let rule = if plotted && values.len() >= FEWEST {
            share.outliers
        } else {
            OutlierRule::None
        };
        let far: Vec<usize> = outliers::far(&values, rule, share.level)
            .into_iter()
            .map(|place| kept[place].0)
            .collect();
        let summary = |numbers: &[(usize, Number)]| {
            let values: Vec<Decimal> = numbers.iter().map(|(_, number)| number.value).collect();
            Summary::of(&values)
        };
        let near: Vec<(usize, Number)> = kept
            .iter()
            .filter(|(place, _)| !far.contains(place))
            .copied()
            .collect();
        let (all, without_far) = (summary(&kept), summary(&near));
        let places = usual_places(&numbers);
        Column {
            single: self.shows_values(quantity),
            fine: without_far.as_ref().map_or(places, |summary| {
                spread_places(summary).map_or(places, |fine| fine.max(places))
            }),
            all,
            without_far: without_far.filter(|_| !far.is_empty()),
            with_left_out: (!out.is_empty()).then(|| summary(&numbers)).flatten(),
            left_out: out.iter().map(|(place, _)| *place).collect(),
            places,
            values: numbers,
            far,
        }
    }
}

/// The decimals that show two figures of the spread of some values; `None` where they do not spread.
fn spread_places(summary: &Summary) -> Option<i32> {
    let spread = summary.deviation.filter(|spread| *spread > 0.0)?;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "an exponent of floating point is small"
    )]
    let leading = spread.log10().floor() as i32;
    Some((1 - leading).clamp(0, KEPT))
}

/// The decimals in the middle of those that the groups defend.
fn usual_places(numbers: &[(usize, Number)]) -> i32 {
    let mut places: Vec<i32> = numbers.iter().map(|(_, number)| number.places).collect();
    places.sort_unstable();
    places.get(places.len() / 2).copied().unwrap_or(0).max(0)
}
