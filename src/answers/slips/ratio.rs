//! Slips with the equation's ratio, the limiting reactant and the leftover.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::bench::Bench;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::bench::in_ratio;
use crate::answers::slips::bench::molar_mass;
use crate::answers::slips::by_line;
use crate::answers::slips::relation::Of;
use crate::answers::slips::relation::Way;
use crate::answers::slips::relation::factors;
use crate::answers::slips::slip;
use crate::measure::Unit;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;

/// What every slip here is a mistake in.
const OF: Family = Family::Ratio;

pub(super) const SLIPS: &[Slip] = &[
    by_line(
        OF,
        "ratio-ignored",
        "What do the numbers in front of the formulas say about how many moles go with how many?",
        |bench, at| {
            let mut ways = predicted(bench, at, |l, _, _| bench.moles(l).into_iter().collect());
            ways.extend(factors(bench, at, Of::Equation, Way::LeftOut));
            ways
        },
    ),
    by_line(
        OF,
        "ratio-turned-over",
        "Which substance do you come from and which do you go to: whose number is on top?",
        |bench, at| {
            let mut ways = predicted(bench, at, |l, own, target| {
                bench
                    .moles(l)
                    .map(|moles| in_ratio(moles, own, target))
                    .into_iter()
                    .collect()
            });
            ways.extend(factors(bench, at, Of::Equation, Way::TurnedOver));
            ways
        },
    ),
    by_line(
        OF,
        "another-ratio",
        "Which two substances are you linking, and which numbers stand in front of these two?",
        |bench, at| {
            predicted(bench, at, |l, own, target| {
                let counts = bench.coefficients(at);
                let mut ways = Vec::new();
                for top in &counts {
                    for bottom in &counts {
                        let usual = top * own == target * bottom
                            || top * target == own * bottom
                            || top == bottom;
                        if !usual && let Some(moles) = bench.moles(l) {
                            ways.push(in_ratio(moles, *top, *bottom));
                        }
                    }
                }
                ways
            })
        },
    ),
    by_line(
        OF,
        "coefficients-on-grams",
        "Do the numbers in front of the formulas compare grams, or particles?",
        |bench, at| {
            let limiting = bench.limiting(at);
            let weighed = |r: &usize| bench.step(Kind::Mass(*r)).is_some();
            let mut reactants = match bench.of(at).kind {
                // Where grams of what runs out are not at hand, those of another reactant are.
                Kind::Theoretical(_) if !limiting.is_some_and(|l| weighed(&l)) => bench.reactants(),
                _ => limiting.into_iter().collect(),
            };
            reactants.retain(weighed);
            in_grams(bench, at, &reactants, in_ratio)
        },
    ),
    by_line(
        OF,
        "mass-for-mass",
        "Can a gram of one substance become a gram of another: what else is in it?",
        |bench, at| {
            let limiting = bench.limiting(at);
            in_grams(bench, at, limiting.as_slice(), |mass, _, _| mass)
        },
    ),
    by_line(
        OF,
        "limiting-by-grams",
        "Compare moles, not grams, and then ask how many of each the equation needs.",
        |bench, at| chosen(bench, at, |r| bench.step(Kind::Mass(r))),
    ),
    by_line(
        OF,
        "limiting-by-moles",
        "Fewer moles need not run out first: how many of them does one run of the equation take?",
        |bench, at| chosen(bench, at, |r| bench.moles(r)),
    ),
    by_line(
        OF,
        "from-the-excess-reactant",
        "Could that much form before the other reactant has run out?",
        |bench, at| match bench.of(at).kind {
            Kind::Theoretical(_) => from_others(bench, at),
            _ => Vec::new(),
        },
    ),
    slip(
        OF,
        "yields-added",
        "Do two reactants make the product twice?",
        |bench, at| {
            let Kind::Theoretical(p) = bench.of(at).kind else {
                return Vec::new();
            };
            let reactants = bench.reactants();
            let mut parts = Vec::new();
            for r in &reactants {
                let (Some(moles), Some(own), Some(target)) = (
                    bench.moles(*r),
                    bench.coefficient(at, *r),
                    bench.coefficient(at, p),
                ) else {
                    return Vec::new();
                };
                parts.push(bench.finish(at, p, in_ratio(moles, target, own)));
            }
            if parts.len() > 1 {
                vec![Expression::Sum(parts)]
            } else {
                Vec::new()
            }
        },
    ),
    by_line(
        OF,
        "another-product",
        "Which product did you collect and weigh?",
        |bench, at| {
            let Kind::Theoretical(p) = bench.of(at).kind else {
                return Vec::new();
            };
            let Some(l) = bench.limiting(at) else {
                return Vec::new();
            };
            let (Some(moles), Some(own)) = (bench.moles(l), bench.coefficient(at, l)) else {
                return Vec::new();
            };
            let collected = &bench.lab.substances[p].formula;
            let others = bench
                .equation(at)
                .products
                .iter()
                .filter(|species| !species.formula.same_substance(collected));
            others
                .flat_map(|species| {
                    let mass = molar_mass(&species.formula);
                    [
                        in_ratio(moles.clone(), species.coefficient, own).times(mass.clone()),
                        moles.clone().times(mass),
                    ]
                })
                .collect()
        },
    ),
    by_line(
        OF,
        "another-equation",
        "Check the charges and the balance of the equation before you use its numbers.",
        |bench, at| {
            let mine = bench.of(at).equation;
            let equations = std::iter::once(&bench.lab.equation)
                .chain(&bench.lab.alternatives)
                .enumerate();
            let mut ways = Vec::new();
            for (_, equation) in equations.filter(|(number, _)| *number != mine) {
                ways.extend(predicted(bench, at, |l, _, _| {
                    let target = target_of(bench, at)
                        .and_then(|target| equation.find(&bench.lab.substances[target].formula));
                    let own = equation.find(&bench.lab.substances[l].formula);
                    match (bench.moles(l), own, target) {
                        (Some(moles), Some((own, _)), Some((target, _))) => {
                            vec![in_ratio(moles, target.coefficient, own.coefficient)]
                        }
                        _ => Vec::new(),
                    }
                }));
            }
            ways
        },
    ),
    slip(
        OF,
        "from-what-was-used",
        "That is what the metal you used could have made: what could the reactant that runs out have made?",
        |bench, at| {
            let Kind::Theoretical(p) = bench.of(at).kind else {
                return Vec::new();
            };
            let used = (0..bench.lab.substances.len()).filter_map(|r| {
                let moles = bench.step(Kind::MolesUsed(r))?;
                let ratio = in_ratio(moles, bench.coefficient(at, p)?, bench.coefficient(at, r)?);
                Some(bench.finish(at, p, ratio))
            });
            used.collect()
        },
    ),
    slip(
        OF,
        "measured-for-predicted",
        "This is what you measured: what did the equation predict before you looked?",
        |bench, at| match bench.of(at).kind {
            Kind::ExpectedLeft(r) => bench.step(Kind::MeasuredLeft(r)).into_iter().collect(),
            Kind::Theoretical(p) => bench.step(Kind::Collected(p)).into_iter().collect(),
            _ => Vec::new(),
        },
    ),
    by_line(
        OF,
        "predicted-for-measured",
        "This fits what the equation predicts, not what you measured: what do your own readings say?",
        |bench, at| match bench.of(at).kind {
            _ if at != bench.step => Vec::new(),
            Kind::MeasuredLeft(r) => bench.step(Kind::ExpectedLeft(r)).into_iter().collect(),
            Kind::Collected(p) => bench.step(Kind::Theoretical(p)).into_iter().collect(),
            Kind::Used(r) => {
                let left = bench.graph.of_kind(Kind::ExpectedLeft(r));
                match left.map(|left| &bench.of(left).expression) {
                    Some(Expression::Difference(_, needed)) => vec![(**needed).clone()],
                    _ => Vec::new(),
                }
            }
            _ => Vec::new(),
        },
    ),
];

/// The substance a predicted amount is of.
fn target_of(bench: &Layout<'_>, at: StepId) -> Option<usize> {
    match bench.of(at).kind {
        Kind::Theoretical(q) | Kind::Needed(q) => Some(q),
        _ => None,
    }
}

/// What a step predicts, the reactant that runs out, and the coefficients of that reactant and of the target; `None`
/// where nothing links two substances.
fn linked(bench: &Bench<'_>, at: StepId) -> Option<(usize, usize, u32, u32)> {
    let (target, l) = (target_of(bench, at)?, bench.limiting(at)?);
    let (own, count) = (bench.coefficient(at, l)?, bench.coefficient(at, target)?);
    (l != target).then_some((target, l, own, count))
}

/// Ways to the moles of what a step predicts, from the limiting reactant, its coefficient and the target's.
fn predicted(
    bench: &Bench<'_>,
    at: StepId,
    ways: impl Fn(usize, u32, u32) -> Vec<Expression>,
) -> Vec<Expression> {
    let Some((target, l, own, count)) = linked(bench, at) else {
        return Vec::new();
    };
    ways(l, own, count)
        .into_iter()
        .map(|moles| bench.finish(at, target, moles))
        .collect()
}

/// Ways that put the grams of one of some reactants where moles belong, and of a solution those of what is dissolved; `way`
/// takes the number of the target and that of the reactant.
fn in_grams(
    bench: &Layout<'_>,
    at: StepId,
    reactants: &[usize],
    way: impl Fn(Expression, u32, u32) -> Expression,
) -> Vec<Expression> {
    let Some(target) = target_of(bench, at) else {
        return Vec::new();
    };
    if bench.of(at).dimension != Unit::Gram.dimension() {
        return Vec::new();
    }
    let others = reactants.iter().filter(|r| **r != target);
    others
        .filter_map(|r| {
            let r = *r;
            let of_moles = || Some(bench.moles(r)?.times(bench.molar_mass(r)));
            let mass = bench.step(Kind::Mass(r)).or_else(of_moles)?;
            let (own, count) = (bench.coefficient(at, r)?, bench.coefficient(at, target)?);
            Some(way(mass, count, own))
        })
        .collect()
}

/// What a step would predict from a reactant that does not run out.
pub(super) fn from_others(bench: &Bench<'_>, at: StepId) -> Vec<Expression> {
    let Some(target) = target_of(bench, at) else {
        return Vec::new();
    };
    let Some(l) = bench.limiting(at) else {
        return Vec::new();
    };
    let others = bench
        .reactants()
        .into_iter()
        .filter(|r| *r != l && *r != target);
    others
        .filter_map(|r| {
            let ratio = in_ratio(
                bench.moles(r)?,
                bench.coefficient(at, target)?,
                bench.coefficient(at, r)?,
            );
            Some(bench.finish(at, target, ratio))
        })
        .collect()
}

/// The limiting step when the reactant with the least of something is taken for it.
fn chosen(
    bench: &Bench<'_>,
    at: StepId,
    of: impl Fn(usize) -> Option<Expression>,
) -> Vec<Expression> {
    let Expression::Smallest(candidates) = &bench.of(at).expression else {
        return Vec::new();
    };
    let size =
        |substance: usize| of(substance).and_then(|expression| bench.line.value(&expression));
    let mut least: Option<(f64, &Expression)> = None;
    for candidate in candidates {
        let Some(size) = size(candidate.substance) else {
            return Vec::new();
        };
        if least.is_none_or(|(best, _)| size < best) {
            least = Some((size, &candidate.share));
        }
    }
    least.map(|(_, share)| share.clone()).into_iter().collect()
}
