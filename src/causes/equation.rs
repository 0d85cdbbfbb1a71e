//! Which of several equations the data favour, and by how many standard uncertainties.

use crate::causes::catalogue;
use crate::causes::deviation::Deviations;
use crate::causes::deviation::Measure;
use crate::causes::effect::Effect;
use crate::causes::effect::Solved;
use crate::causes::evidence;
use crate::causes::scene::Scene;
use crate::causes::weigh;
use crate::lab::Lab;
use crate::lab::UncertaintyRule;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Worked;

/// Half-width of the undecided band between two candidate ratios, on a scale of logarithms: 6 %, so that between
/// 1 and 1.5 it lasts from 1.15 to 1.30 (common practice, no source).
const UNDECIDED: f64 = 0.06;

/// Standard uncertainties that the readings alone may explain (about 95 %, JCGM 100, 6.2).
const COVERAGE: f64 = 2.0;

/// An equation is only favoured when each measured amount is within this part of what it predicts (common practice, no source).
const AGREES: f64 = 0.10;

/// The data held against each equation.
#[derive(Debug, Clone)]
pub struct Decision {
    /// The step that decides: a ratio of moles, or where none is measured the collected product.
    pub step: StepId,
    /// One entry an equation, the lab's own first.
    pub candidates: Vec<Candidate>,
    /// The equation that the data favour: 0 for the lab's own, `None` when undecided.
    pub favoured: Option<usize>,
    /// The equation that the deciding step alone favours, where all measured amounts together fit the lab's own better.
    pub contradicted: Option<usize>,
    /// The equation that the deciding step alone favours, where the amounts measured fit it badly too, or signs speak for
    /// [`Decision::instead`].
    pub doubted: Option<usize>,
    /// What would have to have happened under the lab's own equation, where another one lies nearer.
    pub instead: Option<Instead>,
}

/// Something at the bench that makes the lab's own equation look like another one.
#[derive(Debug, Clone, PartialEq)]
pub struct Instead {
    /// What is weighed too much or too little.
    pub effect: Effect,
    /// How much of it explains everything.
    pub solved: Solved,
    /// Whether a sign or a drying series speaks for a cause that does this.
    pub supported: bool,
}

/// One equation's prediction.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// 0 for the lab's own.
    pub equation: usize,
    /// What it predicts for the deciding step, in its base unit.
    pub predicted: f64,
    /// Found minus predicted, in standard uncertainties, or in worst cases where the lab lets limits add.
    pub distance: f64,
}

/// Holds the data against every equation of the lab; `None` where it has only one or nothing decides.
pub(super) fn decide(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    open: &dyn Fn(StepId) -> bool,
) -> Option<Decision> {
    if lab.alternatives.is_empty() {
        return None;
    }
    let worst = lab.policy.uncertainty == UncertaintyRule::WorstCase;
    let known = |id: &StepId| open(*id) && worked.value(*id).is_some();
    let ratio = graph
        .ids()
        .find(|id| matches!(graph.step(*id).kind, Kind::Ratio(..)) && known(id));
    let equations = std::iter::once(&lab.equation).chain(&lab.alternatives);
    let (step, predicted): (StepId, Vec<(f64, f64)>) = if let Some(step) = ratio {
        let Kind::Ratio(p, r) = graph.step(step).kind else {
            return None;
        };
        let value = worked.value(step)?;
        let standard = if worst {
            value.worst_case(&worked.inputs)
        } else {
            value.standard_uncertainty(&worked.inputs)
        };
        let ratios: Option<Vec<(f64, f64)>> = equations
            .map(|equation| {
                let of = |index: usize| {
                    let (species, _) = equation.find(&lab.substances[index].formula)?;
                    Some(f64::from(species.coefficient))
                };
                Some((of(p)? / of(r)?, standard))
            })
            .collect();
        (step, ratios?)
    } else {
        let product = (0..lab.substances.len()).find(|index| lab.substances[*index].yields)?;
        let step = graph.of_kind(Kind::Collected(product)).filter(known)?;
        let found = worked.value(step)?;
        let predictions: Option<Vec<(f64, f64)>> = equations
            .enumerate()
            .map(|(number, _)| {
                let id = graph.of_equation(number, Kind::Theoretical(product));
                let theory = worked.value(id.filter(known)?)?;
                // Both share readings: the uncertainty is that of the difference.
                let mut slopes = found.slopes.clone();
                slopes.add(&theory.slopes, -1.0);
                let parts = slopes
                    .iter()
                    .map(|(variable, slope)| (slope, worked.inputs.doubt(*variable)));
                let doubt = if worst {
                    parts
                        .map(|(slope, doubt)| slope.abs() * doubt.half_width)
                        .sum()
                } else {
                    let squares = parts.map(|(slope, doubt)| (slope * doubt.standard).powi(2));
                    squares.sum::<f64>().sqrt()
                };
                Some((theory.approximate(), doubt))
            })
            .collect();
        (step, predictions?)
    };
    let found = worked.value(step)?.approximate();
    let candidates: Vec<Candidate> = predicted
        .iter()
        .enumerate()
        .map(|(equation, (predicted, standard))| Candidate {
            equation,
            predicted: *predicted,
            distance: (found - predicted) / standard.max(f64::MIN_POSITIVE),
        })
        .collect();
    let coverage = if worst { 1.0 } else { COVERAGE };
    let favoured = favoured(found, &candidates, coverage);
    Some(Decision {
        step,
        candidates,
        favoured,
        contradicted: None,
        doubted: None,
        instead: None,
    })
}

/// Whether every measured amount is near what an equation predicts, given its deviations.
pub(super) fn agrees(
    graph: &Graph,
    worked: &Worked<'_>,
    equation: usize,
    deviations: &Deviations,
) -> bool {
    let whole = |kind: Kind| {
        let step = graph.of_equation(equation, kind)?;
        Some(worked.value(step)?.approximate())
    };
    deviations.all.iter().all(|one| {
        let of = match one.measure {
            Measure::Product(product) => whole(Kind::Theoretical(product)),
            // What is left is a difference: it is as far off as the reactant used is.
            Measure::Leftover(reactant) | Measure::Used(reactant) => whole(Kind::Needed(reactant)),
            Measure::Ratio(..) | Measure::Find(_) => None,
        };
        of.is_none_or(|of| one.size.abs() <= (AGREES * of).max(2.0 * one.standard))
    })
}

/// One product or leftover weighed too heavy or too light by which the scene's own equation explains everything.
pub(super) fn instead(scene: &Scene<'_>, deviations: &Deviations) -> Option<Instead> {
    let products = scene
        .products
        .iter()
        .flat_map(|p| [Effect::MoreProduct(*p), Effect::LessProduct(*p)]);
    let leftovers = scene
        .leftovers
        .iter()
        .flat_map(|r| [Effect::MoreLeft(*r), Effect::LessLeft(*r)]);
    let fitting = products.chain(leftovers).filter_map(|effect| {
        let solved = effect.solve(scene, deviations)?;
        weigh::explains(&solved, deviations).then_some((effect, solved))
    });
    let (effect, solved) = fitting.min_by(|a, b| a.1.rest.total_cmp(&b.1.rest))?;
    let supported = catalogue::all()
        .filter(|cause| (cause.at)(scene).contains(&effect))
        .any(|cause| evidence::score(cause, effect, scene) > 0);
    Some(Instead {
        effect,
        solved,
        supported,
    })
}

/// The candidate that is nearest on a scale of logarithms, unless a value lies about as near to another: within the
/// undecided band of the middle, or within so many standard uncertainties or worst cases of it.
fn favoured(found: f64, candidates: &[Candidate], coverage: f64) -> Option<usize> {
    let far = |candidate: &Candidate| (found / candidate.predicted).ln().abs();
    let nearest = candidates.iter().min_by(|a, b| far(a).total_cmp(&far(b)))?;
    if found.is_nan() || found <= 0.0 {
        return None;
    }
    let clear = candidates
        .iter()
        .filter(|other| (other.predicted / nearest.predicted).ln().abs() > 1e-9)
        .all(|other| {
            let middle = (nearest.predicted * other.predicted).sqrt();
            let standard = ((found - other.predicted) / other.distance).abs();
            (found / middle).ln().abs() > UNDECIDED && (found - middle).abs() > coverage * standard
        });
    let alone = candidates
        .iter()
        .any(|other| (other.predicted / nearest.predicted).ln().abs() > 1e-9);
    (clear && alone).then_some(nearest.equation)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn candidates(found: f64, standard: f64) -> Vec<Candidate> {
        [1.0, 1.5]
            .into_iter()
            .enumerate()
            .map(|(equation, predicted)| Candidate {
                equation,
                predicted,
                distance: (found - predicted) / standard,
            })
            .collect()
    }

    #[test]
    fn the_nearest_candidate_is_favoured_outside_the_undecided_band() {
        for (found, standard, favoured_is) in [
            (0.97, 0.01, Some(0)),
            (1.14, 0.01, Some(0)),
            (1.16, 0.01, None),
            (1.225, 0.01, None),
            (1.29, 0.01, None),
            (1.32, 0.01, Some(1)),
            (1.61, 0.02, Some(1)),
            // Far enough from the middle, but not for so rough a ratio.
            (1.10, 0.08, None),
            (-0.2, 0.01, None),
        ] {
            assert_eq!(
                favoured(found, &candidates(found, standard), COVERAGE),
                favoured_is,
                "{found}"
            );
        }
    }
}
