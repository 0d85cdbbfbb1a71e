//! How far each measured amount is from what the equation predicts, judged alone and together by what the readings can tell.
//!
//! Deviations share readings, so they are correlated: the covariance follows from the same derivatives as every
//! uncertainty (JCGM 102:2011, 6.2), and together they are judged by the squared distance from zero in
//! standard uncertainties, which for readings alone follows a χ² distribution.

use crate::lab::Lab;
use crate::lab::UncertaintyRule;
use crate::measure::Exact;
use crate::measure::uncertainty::Doubt;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Variable;
use crate::working::Worked;
use crate::working::line::Line;
use crate::working::slopes::Slopes;

/// A deviation of which less than this part of the variance is its own says nothing that an earlier one does not.
const OWN_PART: f64 = 1e-4;

/// What was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// A product, by index into [`Lab::substances`].
    Product(usize),
    /// What is left of a reactant.
    Leftover(usize),
    /// What was taken up of a reactant, where its leftover is not weighed.
    Used(usize),
    /// Moles of a product for one mole of a reactant, where the equation cannot say more.
    Ratio(usize, usize),
    /// A quantity of the lab's own, by index into [`Lab::finds`].
    Find(usize),
}

/// What a measured amount is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Against {
    /// A step.
    Step(StepId),
    /// A ratio of coefficients.
    Ratio(f64),
}

/// A measured amount and how far it is off, in the base unit of its step.
#[derive(Debug, Clone, PartialEq)]
pub struct Deviation {
    /// What was measured.
    pub measure: Measure,
    /// The step that holds it.
    pub found: StepId,
    /// What it is held against.
    pub against: Against,
    /// Found minus predicted.
    pub size: f64,
    /// Standard uncertainty of that difference.
    pub standard: f64,
    /// How far it may be off when the limits of all readings add.
    pub limit: f64,
}

/// All independent deviations of a record.
#[derive(Debug, Clone, Default)]
pub struct Deviations {
    /// One each, the percent yield's product first.
    pub all: Vec<Deviation>,
    /// Whether a product or a leftover was measured as well, or what stands in their place, and may not be looked at yet.
    pub hidden: bool,
    /// Rows of the inverse of the Cholesky factor of their covariance: it makes them independent, each in units of
    /// its own standard uncertainty.
    whitening: Vec<Vec<f64>>,
    /// What the limit of each input does to each deviation.
    limits: Vec<ByInput>,
    /// Every input that moves a deviation, in order.
    inputs: Vec<Variable>,
}

/// By input, in order: how far it moves a deviation, with the sign.
type ByInput = Vec<(Variable, f64)>;

impl Deviations {
    /// The deviations by one of the lab's equations, of steps that may be looked at; those that only repeat another are left out.
    #[must_use]
    pub fn of(
        lab: &Lab,
        graph: &Graph,
        worked: &Worked<'_>,
        equation: usize,
        open: &dyn Fn(StepId) -> bool,
    ) -> Self {
        let mut deviations = Self::default();
        let mut factor: Vec<Vec<f64>> = Vec::new();
        let mut gradients: Vec<ByInput> = Vec::new();
        let candidates = candidates(lab, graph, equation, open);
        let weak = |measure| matches!(measure, Measure::Ratio(..) | Measure::Find(_));
        let predicts = candidates.iter().any(|one| !weak(one.measure));
        for candidate in candidates {
            let Candidate {
                measure,
                found,
                against,
                is_open,
            } = candidate;
            let none = Slopes::default();
            let reference = match against {
                Against::Ratio(ratio) => Some((ratio, &none)),
                Against::Step(step) => {
                    let value = worked.value(step);
                    value.map(|value| (value.approximate(), &value.slopes))
                }
            };
            // What waits for readings is not hidden: no answer would show it.
            let (Some(value), Some((predicted, of_reference))) = (worked.value(found), reference)
            else {
                continue;
            };
            let weak = weak(measure);
            // A ratio alone would allow causes that a hidden product or leftover speaks against.
            if weak && (deviations.hidden || !deviations.all.is_empty()) {
                continue;
            }
            if !is_open {
                // Where the equation predicts nothing, a quantity of the lab's own stands in its place.
                let instead = !predicts && matches!(measure, Measure::Find(_));
                deviations.hidden |= !weak || instead;
                continue;
            }
            let mut slopes = value.slopes.clone();
            slopes.add(of_reference, -1.0);
            let scaled = |by: fn(&Doubt) -> f64| -> ByInput {
                let part = |(input, slope): &(Variable, f64)| {
                    (*input, slope * by(&worked.inputs.doubt(*input)))
                };
                slopes.iter().map(part).collect()
            };
            let gradient = scaled(|doubt| doubt.standard);
            let limits = scaled(|doubt| doubt.half_width);
            let covariance = |other: &ByInput| {
                let shared = |(input, slope): &(Variable, f64)| {
                    let place = other.binary_search_by_key(input, |(known, _)| *known);
                    Some(slope * other[place.ok()?].1)
                };
                gradient.iter().filter_map(shared).sum::<f64>()
            };
            let variance = covariance(&gradient);
            let mut row: Vec<f64> = Vec::new();
            for (earlier, other) in factor.iter().zip(&gradients) {
                let known: f64 = row.iter().zip(earlier).map(|(a, b)| a * b).sum();
                row.push((covariance(other) - known) / earlier[row.len()]);
            }
            let own = variance - row.iter().map(|part| part * part).sum::<f64>();
            if variance.is_nan() || own <= OWN_PART * variance || own < f64::MIN_POSITIVE {
                continue;
            }
            row.push(own.sqrt());
            factor.push(row);
            gradients.push(gradient);
            deviations.all.push(Deviation {
                measure,
                found,
                against,
                size: value.approximate() - predicted,
                standard: variance.sqrt(),
                limit: limits.iter().map(|(_, part)| part.abs()).sum(),
            });
            deviations.limits.push(limits);
        }
        let inputs = deviations.limits.iter().flatten();
        deviations.inputs = inputs.map(|(input, _)| *input).collect();
        deviations.inputs.sort_unstable();
        deviations.inputs.dedup();
        deviations.whitening = inverse(&factor);
        deviations
    }

    /// Leaves none of them, so that nothing is held against them.
    pub(super) fn forget(&mut self) {
        *self = Self {
            hidden: self.hidden,
            ..Self::default()
        };
    }

    /// The sizes of the deviations when other numbers stand in the working.
    #[must_use]
    pub fn sizes(&self, line: &Line<'_>) -> Option<Vec<f64>> {
        let size = |deviation: &Deviation| {
            let predicted = match deviation.against {
                Against::Ratio(ratio) => ratio,
                Against::Step(step) => line.current(step)?,
            };
            Some(line.current(deviation.found)? - predicted)
        };
        self.all.iter().map(size).collect()
    }

    /// Deviations made independent, each in units of its own standard uncertainty.
    #[must_use]
    pub fn white(&self, sizes: &[f64]) -> Vec<f64> {
        let row = |row: &Vec<f64>| row.iter().zip(sizes).map(|(a, b)| a * b).sum();
        self.whitening.iter().map(row).collect()
    }

    /// The squared distance of the deviations from zero, in standard uncertainties, correlations counted.
    #[must_use]
    pub fn distance(&self) -> f64 {
        let sizes: Vec<f64> = self.all.iter().map(|deviation| deviation.size).collect();
        self.white(&sizes).iter().map(|part| part * part).sum()
    }

    /// Whether the deviations are more than the readings alone explain: together with 95 % confidence, or any of them beyond
    /// its limits where the lab lets limits add.
    #[must_use]
    pub fn beyond_the_readings(&self, rule: UncertaintyRule) -> bool {
        if rule == UncertaintyRule::WorstCase {
            self.all.iter().any(|one| one.size.abs() > one.limit)
        } else {
            self.distance() > usual(self.all.len())
        }
    }

    /// How far a sum of the independent deviations, each times a weight, may be off when the limits of all readings add.
    #[must_use]
    pub fn worst_case(&self, weights: &[f64]) -> f64 {
        let mut moved = vec![0.0; self.inputs.len()];
        for (weight, row) in weights.iter().zip(&self.whitening) {
            for (part, limits) in row.iter().zip(&self.limits) {
                // Both are in order, and every input of a deviation is among all of them.
                let mut all = self.inputs.iter().zip(&mut moved);
                for (input, limit) in limits {
                    if let Some((_, moved)) = all.find(|(known, _)| *known == input) {
                        *moved += weight * part * limit;
                    }
                }
            }
        }
        moved.iter().map(|part: &f64| part.abs()).sum()
    }
}

/// The squared distance that chance stays below, for 1, 2, … independent deviations: the quantiles of χ² at 95 % and at 99.7 %.
const BY_CHANCE: [(f64, f64); 8] = [
    (3.841_459, 8.807_468),
    (5.991_465, 11.618_286),
    (7.814_728, 13.931_423),
    (9.487_729, 16.014_326),
    (11.070_498, 17.957_612),
    (12.591_587, 19.804_652),
    (14.067_140, 21.580_145),
    (15.507_313, 23.299_735),
];

/// The squared distance that so many deviations stay below by chance in 95 % of cases.
#[must_use]
pub fn usual(deviations: usize) -> f64 {
    by_chance(deviations).0
}

/// The squared distance that what is left unexplained stays below in 99.7 % of cases; nothing may be left where nothing is free.
#[must_use]
pub fn at_most(free: usize) -> f64 {
    if free == 0 {
        return f64::INFINITY;
    }
    by_chance(free).1
}

fn by_chance(deviations: usize) -> (f64, f64) {
    let place = deviations.clamp(1, BY_CHANCE.len()) - 1;
    BY_CHANCE[place]
}

/// Something measured that the equation predicts, whether or not its value is known.
struct Candidate {
    measure: Measure,
    found: StepId,
    against: Against,
    /// Whether it may be looked at.
    is_open: bool,
}

/// What the equation predicts and the lab measures, and whose readings are not there yet.
pub(super) fn missing(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    equation: usize,
) -> Vec<Measure> {
    let all = candidates(lab, graph, equation, &|_| true).into_iter();
    all.filter(|one| worked.value(one.found).is_none())
        .map(|one| one.measure)
        .collect()
}

/// Everything measured that the equation predicts, products and leftovers first.
fn candidates(
    lab: &Lab,
    graph: &Graph,
    equation: usize,
    open: &dyn Fn(StepId) -> bool,
) -> Vec<Candidate> {
    let mut order: Vec<usize> = (0..lab.substances.len()).collect();
    order.sort_by_key(|index| {
        (
            lab.substances[*index].reactant,
            !lab.substances[*index].yields,
        )
    });
    let both = |found: Kind, predicted: Kind| {
        let found = graph.of_kind(found)?;
        let predicted = graph.of_equation(equation, predicted)?;
        (graph.step(found).dimension == graph.step(predicted).dimension)
            .then_some((found, predicted))
    };
    // What a deviation says would give these away: they have to be open as well, where there are such steps.
    let follows = |kind: Kind| graph.of_equation(equation, kind).is_none_or(open);
    let mut all = Vec::new();
    let mut add = |measure, (found, predicted): (StepId, StepId), others: bool| {
        all.push(Candidate {
            measure,
            found,
            against: Against::Step(predicted),
            is_open: open(found) && open(predicted) && others,
        });
    };
    for index in order {
        if let Some(both) = both(Kind::Collected(index), Kind::Theoretical(index)) {
            add(
                Measure::Product(index),
                both,
                follows(Kind::PercentYield(index)),
            );
        }
        let used = both(Kind::Used(index), Kind::Needed(index));
        if let Some(both) = both(Kind::MeasuredLeft(index), Kind::ExpectedLeft(index)) {
            let others = follows(Kind::LeftError(index)) && follows(Kind::Completion(index));
            add(Measure::Leftover(index), both, others);
        } else if let Some(both) = used {
            add(Measure::Used(index), both, true);
        }
    }
    let equation = match equation {
        0 => Some(&lab.equation),
        number => lab.alternatives.get(number - 1),
    };
    for id in graph.ids() {
        let (measure, against) = match graph.step(id).kind {
            Kind::Ratio(p, r) => {
                let coefficient = |index: usize| {
                    let formula = &lab.substances[index].formula;
                    Some(equation?.find(formula)?.0.coefficient)
                };
                let (Some(made), Some(used)) = (coefficient(p), coefficient(r)) else {
                    continue;
                };
                let ratio = Exact::new(made.into(), used.into()).to_f64();
                (Measure::Ratio(p, r), Against::Ratio(ratio))
            }
            Kind::Find(find) => match graph.of_kind(Kind::Accepted(find)) {
                Some(accepted) => (Measure::Find(find), Against::Step(accepted)),
                None => continue,
            },
            _ => continue,
        };
        let predicted = match against {
            Against::Step(step) => open(step),
            Against::Ratio(_) => true,
        };
        all.push(Candidate {
            measure,
            found: id,
            against,
            is_open: open(id) && predicted,
        });
    }
    all
}

/// The inverse of a lower triangular matrix given by rows.
fn inverse(factor: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let mut inverse: Vec<Vec<f64>> = Vec::new();
    for (place, row) in factor.iter().enumerate() {
        let own = row[place];
        let column = |column: usize| {
            let known: f64 = (column..place)
                .map(|middle| row[middle] * inverse[middle][column])
                .sum();
            -known / own
        };
        let mut line: Vec<f64> = (0..place).map(column).collect();
        line.push(1.0 / own);
        inverse.push(line);
    }
    inverse
}

#[cfg(test)]
mod tests {
    use statrs::distribution::ChiSquared;
    use statrs::distribution::ContinuousCDF;

    use super::*;

    #[test]
    fn quantiles_are_those_of_the_tables() {
        // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, upper critical values of χ².
        for (freedom, value) in [(1, 3.841), (2, 5.991), (3, 7.815), (4, 9.488), (5, 11.070)] {
            assert!((usual(freedom) - value).abs() < 0.0006, "{freedom}");
        }
        for (place, (usual, rare)) in BY_CHANCE.iter().enumerate() {
            let chi = ChiSquared::new(place as f64 + 1.0).unwrap();
            assert!((chi.cdf(*usual) - 0.95).abs() < 1e-7, "{place}");
            assert!((chi.cdf(*rare) - 0.997).abs() < 1e-7, "{place}");
        }
    }

    #[test]
    fn a_triangle_and_its_inverse_give_one() {
        let factor = vec![vec![2.0], vec![0.5, 3.0], vec![-1.0, 0.25, 0.5]];
        let inverse = inverse(&factor);
        for (i, row) in factor.iter().enumerate() {
            for (j, _) in row.iter().enumerate() {
                let product: f64 = (j..=i).map(|k| row[k] * inverse[k][j]).sum();
                let wanted = if i == j { 1.0 } else { 0.0 };
                assert!((product - wanted).abs() < 1e-12, "{i} {j}: {product}");
            }
        }
    }
}
