//! What a whole class being off together points at. A single group cannot be told from chance here; a class can.

use statrs::distribution::Binomial;
use statrs::distribution::DiscreteCDF;

use crate::class::Pool;
use crate::working::Kind;

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
    },
    /// Which candidate ratio the median is nearest to; `None` when undecided.
    Nearest {
        /// The quantity.
        quantity: usize,
        /// The candidate's words.
        candidate: Option<String>,
        /// Groups nearest to each candidate, in the order of the lines.
        groups: Vec<usize>,
    },
}

/// Everything that a pool says; nothing of fewer than five groups.
#[must_use]
pub fn of(pool: &Pool<'_>) -> Vec<Signal> {
    let mut signals = Vec::new();
    if !pool.shows_groups() {
        return signals;
    }
    for (place, quantity) in pool.kept.quantities.iter().enumerate() {
        let column = pool.column(place);
        let values: Vec<f64> = column
            .values
            .iter()
            .map(|(_, number)| number.value.to_f64())
            .collect();
        let Some(summary) = &column.all else { continue };
        match quantity.kind {
            Kind::PercentYield(_) => {
                let water = water(pool, summary.median);
                let sided = one_sided(place, &values, 100.0);
                signals.extend(water.or(sided));
            }
            Kind::MeasuredLeft(_) => signals.extend(one_sided(place, &values, 0.0)),
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

/// Whether so many more lie on one side than chance would have it: a sign test, two-sided, 5 %.
fn one_sided(quantity: usize, values: &[f64], target: f64) -> Option<Signal> {
    let above = values.iter().filter(|value| **value > target).count();
    let below = values.iter().filter(|value| **value < target).count();
    let (fewer, all) = (above.min(below) as u64, (above + below) as u64);
    let chance = 2.0 * Binomial::new(0.5, all).ok()?.cdf(fewer);
    (chance < CHANCE).then_some(Signal::OneSided {
        quantity,
        above,
        below,
    })
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
        assert!(one_sided(0, &[101.0; 6], 100.0).is_some());
        assert!(one_sided(0, &[101.0; 5], 100.0).is_none());
        assert!(one_sided(0, &[101.0, 99.0, 102.0, 98.0, 103.0, 97.5], 100.0).is_none());
    }
}
