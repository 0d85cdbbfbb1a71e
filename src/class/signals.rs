//! What a whole class being off together points at. A single group cannot be told from chance here; a class can.

use std::cmp::Ordering;
use std::cmp::Reverse;

use statrs::distribution::Binomial;
use statrs::distribution::DiscreteCDF;

use crate::class::Likely;
use crate::class::Pool;
use crate::class::entry;
use crate::class::pool::Column;
use crate::working::Kind;
use crate::working::Variable;
use crate::working::slopes::Slopes;

/// How near the median must lie to a factor: 3 % of it (common practice, no source: the spread of a good class).
const NEAR: f64 = 0.03;
/// Half-width of the undecided band between two candidate ratios on a scale of logarithms, as for a single group.
const UNDECIDED: f64 = 0.06;
/// Chance below which one-sidedness is no accident.
const CHANCE: f64 = 0.05;

/// Something the class says together.
#[derive(Debug, Clone, PartialEq)]
pub enum Signal {
    /// The median yield sits where a salt with its water was taken for one without (`true`), or the reverse.
    Water {
        /// The substance.
        substance: usize,
        /// Whether its water was left out of the working.
        left_out: bool,
        /// Where the median would be, in percent.
        at: f64,
    },
    /// Nearly every group is on one side.
    OneSided {
        /// The quantity.
        quantity: usize,
        /// How many are above.
        above: usize,
        /// How many are below.
        below: usize,
        /// How many groups the teacher leaves out, which are not counted.
        left_out: usize,
        /// How that is to be read.
        reading: Reading,
        /// What may have moved them, a sentence without its full stop: the cause that most reports list and no sign speaks against.
        cause: Option<String>,
    },
    /// Which candidate ratio the median is nearest to; `None` when undecided.
    Nearest {
        /// The quantity.
        quantity: usize,
        /// The candidate's words.
        candidate: Option<String>,
        /// Groups nearest to each candidate, in the order of the lines.
        groups: Vec<usize>,
        /// How many groups the teacher leaves out, which are not counted.
        left_out: usize,
    },
}

/// What a class that lies to one side can be taken to say.
#[derive(Debug, Clone, PartialEq)]
pub enum Reading {
    /// What is the same for all groups can move them as far.
    Common {
        /// How far the median is off.
        shift: f64,
        /// How far givens and atomic weights together may move everyone, by the lab's rule.
        room: f64,
        /// Which of them can move everyone most.
        most: Variable,
    },
    /// Most groups are within the uncertainty of their own readings, so that each of them by itself says nothing.
    Within {
        /// How many are.
        groups: usize,
    },
    /// Neither.
    Beyond,
}

/// Everything that a pool says; nothing of fewer than five values.
#[must_use]
pub fn of(pool: &Pool<'_>) -> Vec<Signal> {
    let mut signals = Vec::new();
    for (place, quantity) in pool.kept.quantities.iter().enumerate() {
        let column = pool.column(place);
        if !column.single {
            continue;
        }
        let counted = |place: &usize| !column.left_out.contains(place);
        let values: Vec<f64> = column
            .values
            .iter()
            .filter(|(entry, _)| counted(entry))
            .map(|(_, number)| number.value.to_f64())
            .collect();
        let left_out = column.left_out.len();
        let Some(summary) = &column.all else { continue };
        let sided = |target: f64| {
            one_sided(&values, target).map(|(above, below)| Signal::OneSided {
                quantity: place,
                above,
                below,
                left_out,
                reading: reading(pool, place, &column, (summary.median, target)),
                cause: cause(pool, place, &column, above.cmp(&below)),
            })
        };
        match quantity.kind {
            Kind::PercentYield(_) => {
                let water = water(pool, summary.median);
                signals.extend(water.or_else(|| sided(100.0)));
            }
            Kind::MeasuredLeft(_) => signals.extend(sided(0.0)),
            Kind::Ratio(..) if quantity.lines.len() > 1 => {
                let candidates: Vec<f64> = quantity.lines.iter().map(|(value, _)| *value).collect();
                let groups = (0..candidates.len())
                    .map(|candidate| {
                        let near = |value: &&f64| nearest(**value, &candidates) == Some(candidate);
                        values.iter().filter(near).count()
                    })
                    .collect();
                let decided = decided(summary.median, &candidates);
                signals.push(Signal::Nearest {
                    quantity: place,
                    candidate: decided.map(|candidate| quantity.lines[candidate].1.clone()),
                    groups,
                    left_out,
                });
            }
            _ => {}
        }
    }
    signals
}

/// Whether the median yield sits at the factor between a hydrate and the salt without its water, or at its inverse.
fn water(pool: &Pool<'_>, median: f64) -> Option<Signal> {
    let weights = &pool.lab.atomic_weights;
    let reactants = pool.lab.substances.iter().enumerate();
    reactants
        .filter(|(_, substance)| substance.reactant)
        .find_map(|(index, substance)| {
            let form = substance.weighed_as.as_ref()?;
            let whole = weights.molar_mass(form).ok()?.to_f64();
            let dry = weights.molar_mass(&substance.formula).ok()?.to_f64();
            let candidates = [(true, 100.0 * dry / whole), (false, 100.0 * whole / dry)];
            candidates
                .into_iter()
                .find(|(_, at)| (median / at - 1.0).abs() <= NEAR)
                .map(|(left_out, at)| Signal::Water {
                    substance: index,
                    left_out,
                    at,
                })
        })
}

/// What a class whose median lies to one side of a target can be taken to say.
fn reading(
    pool: &Pool<'_>,
    quantity: usize,
    column: &Column,
    (median, target): (f64, f64),
) -> Reading {
    let counted: Vec<_> = column
        .values
        .iter()
        .filter(|(entry, _)| !column.left_out.contains(entry))
        .collect();
    // How far each given moves the class: the mean of how far it moves the groups.
    let mut common = Slopes::default();
    for (entry, _) in &counted {
        let own = &pool.entries[*entry].common[quantity];
        common.add(&own.iter().copied().collect(), 1.0 / counted.len() as f64);
    }
    let parts = common.iter().map(|(_, part)| *part);
    let room = entry::room(pool.lab.policy.uncertainty, parts);
    let shift = median - target;
    let most = common
        .iter()
        .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
        .map(|(input, _)| *input);
    if let Some(most) = most.filter(|_| shift.abs() <= room) {
        return Reading::Common { shift, room, most };
    }
    let within = |(_, number): &&&(usize, entry::Number)| {
        (number.value.to_f64() - target).abs() <= number.room
    };
    let groups = counted.iter().filter(within).count();
    if 2 * groups > counted.len() {
        Reading::Within { groups }
    } else {
        Reading::Beyond
    }
}

/// The cause that the reports of most groups list and that moves a quantity to the side where they lie: the one with the most to show
/// for it, unless more speaks against it; of several the one that more reports list, and list first.
fn cause(pool: &Pool<'_>, quantity: usize, column: &Column, side: Ordering) -> Option<String> {
    let counted = column.values.iter().map(|(entry, _)| *entry);
    let counted: Vec<usize> = counted.filter(|it| !column.left_out.contains(it)).collect();
    let mut found: Vec<(i32, usize, usize, &Likely)> = Vec::new();
    for entry in &counted {
        for (place, one) in pool.entries[*entry].causes.iter().enumerate() {
            if one.moves[quantity] != Some(side) {
                continue;
            }
            match found.iter_mut().find(|(.., known)| known.id == one.id) {
                Some((score, reports, places, _)) => {
                    (*score, *reports, *places) =
                        (*score + one.score, *reports + 1, *places + place);
                }
                None => found.push((one.score, 1, place, one)),
            }
        }
    }
    found.retain(|(score, reports, ..)| *score >= 0 && 2 * reports > counted.len());
    let best = found
        .into_iter()
        .max_by_key(|(score, reports, places, _)| (*score, *reports, Reverse(*places)));
    best.map(|(.., one)| one.says.clone())
}

/// How many lie above and below, where that is more than chance would have it: a sign test, two-sided, 5 %.
fn one_sided(values: &[f64], target: f64) -> Option<(usize, usize)> {
    let above = values.iter().filter(|value| **value > target).count();
    let below = values.iter().filter(|value| **value < target).count();
    let (fewer, all) = (above.min(below) as u64, (above + below) as u64);
    let chance = 2.0 * Binomial::new(0.5, all).ok()?.cdf(fewer);
    (chance < CHANCE).then_some((above, below))
}

/// The candidate nearest to a value on a scale of logarithms.
fn nearest(value: f64, candidates: &[f64]) -> Option<usize> {
    if value <= 0.0 || value.is_nan() {
        return None;
    }
    let far = |candidate: f64| (value / candidate).ln().abs();
    (0..candidates.len()).min_by(|a, b| far(candidates[*a]).total_cmp(&far(candidates[*b])))
}

/// The same, unless the value lies in the undecided band around the middle of it and another.
fn decided(value: f64, candidates: &[f64]) -> Option<usize> {
    let best = nearest(value, candidates)?;
    let clear = candidates.iter().enumerate().all(|(place, other)| {
        place == best || (value / (candidates[best] * other).sqrt()).ln().abs() > UNDECIDED
    });
    clear.then_some(best)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_way_is_the_geometric_mean() {
        for (value, is) in [
            (0.98, Some(0)),
            (1.15, Some(0)),
            (1.17, None),
            (1.225, None),
            (1.28, None),
            (1.31, Some(1)),
            (1.61, Some(1)),
            (-1.0, None),
        ] {
            assert_eq!(decided(value, &[1.0, 1.5]), is, "{value}");
        }
    }

    #[test]
    fn six_of_six_on_one_side_are_no_accident_and_five_of_five_are_not_enough() {
        assert!(one_sided(&[101.0; 6], 100.0).is_some());
        assert!(one_sided(&[101.0; 5], 100.0).is_none());
        assert!(one_sided(&[101.0, 99.0, 102.0, 98.0, 103.0, 97.5], 100.0).is_none());
    }
}
