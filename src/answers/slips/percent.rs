//! Slips with percentages.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::Way;
use crate::answers::slips::bench::Bench;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::bench::number;
use crate::answers::slips::by_line;
use crate::answers::slips::slip;
use crate::measure::Unit;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;

/// What every slip here is a mistake in.
const OF: Family = Family::Percent;

/// A percentage without its factor of a hundred.
pub(super) const FRACTION: &str = "fraction-for-percent";

pub(super) const SLIPS: &[Slip] = &[
    slip(
        OF,
        "percent-upside-down",
        "Which of the two amounts did you really get, and does it belong on top?",
        |bench, at| {
            let step = bench.of(at);
            let mut ways = yields(bench, at, |_, c, t| vec![percent(t, c)]);
            if matches!(step.kind, Kind::Find(_)) && step.unit == Unit::Percent {
                ways.push(percent(Expression::hundred(), step.expression.clone()));
            }
            ways
        },
    ),
    Slip {
        id: FRACTION,
        prompt: "This is a fraction, out of one: which factor makes a percentage of it?",
        family: OF,
        way: Way::Power(|bench| {
            if is_percent(bench) {
                vec![bench.right / 100.0]
            } else {
                Vec::new()
            }
        }),
    },
    Slip {
        id: "hundred-twice",
        prompt: "The percent key of a calculator may already multiply: did you do it again?",
        family: OF,
        way: Way::Power(|bench| {
            if is_percent(bench) {
                vec![bench.right * 100.0]
            } else {
                Vec::new()
            }
        }),
    },
    slip(
        OF,
        "percent-error",
        "You found how far off you were; the question asks how much you got.",
        |bench, at| {
            yields(bench, at, |_, c, t| {
                both_signs(percent(c.minus(t.clone()), t))
            })
        },
    ),
    slip(
        OF,
        "percent-error-of-found",
        "Which of the two values is the one to compare with, and is the question about the difference?",
        |bench, at| {
            let mut ways = yields(bench, at, |_, c, t| {
                both_signs(percent(c.clone().minus(t), c))
            });
            if let Some((found, accepted)) = compared(bench, at) {
                ways.extend(both_signs(percent(found.clone().minus(accepted), found)));
            }
            ways
        },
    ),
    slip(
        OF,
        "percent-difference",
        "There is one right value here: which relation compares with it, and not with a mean?",
        |bench, at| {
            let difference = |a: Expression, b: Expression| {
                both_signs(number(2).times(percent(
                    a.clone().minus(b.clone()),
                    Expression::Sum(vec![a, b]),
                )))
            };
            let mut ways = yields(bench, at, |_, c, t| difference(c, t));
            if let Some((found, accepted)) = compared(bench, at) {
                ways.extend(difference(found, accepted));
            }
            ways
        },
    ),
    slip(
        OF,
        "sign-reversed",
        "Does your sign say too much, or too little?",
        |bench, at| match bench.of(at).kind {
            Kind::LeftError(_) | Kind::FindError(_) => {
                vec![negative(bench.of(at).expression.clone())]
            }
            _ => Vec::new(),
        },
    ),
    slip(
        OF,
        "percent-lost",
        "Is this what you got, or what is missing from a hundred?",
        |bench, at| match bench.of(at).kind {
            Kind::PercentYield(_) => {
                vec![Expression::hundred().minus(bench.of(at).expression.clone())]
            }
            _ => Vec::new(),
        },
    ),
    slip(
        OF,
        "percent-of-the-reactant",
        "Out of which amount should the product be: out of what could form, or out of what you started with?",
        |bench, at| {
            yields(bench, at, |_, c, _| {
                let starts = (0..bench.lab.substances.len())
                    .flat_map(|r| [bench.step(Kind::Mass(r)), bench.step(Kind::Used(r))]);
                starts
                    .flatten()
                    .map(|start| percent(c.clone(), start))
                    .collect()
            })
        },
    ),
    slip(
        OF,
        "percent-of-what-was-used",
        "That compares with what the metal used could have made; percent yield compares with what could form at most.",
        |bench, at| {
            let Kind::PercentYield(p) = bench.of(at).kind else {
                return Vec::new();
            };
            let recoveries =
                (0..bench.lab.substances.len()).filter_map(|r| bench.step(Kind::Recovery(p, r)));
            recoveries
                .map(|share| Expression::hundred().times(share))
                .collect()
        },
    ),
    slip(
        OF,
        "vessel-on-top",
        "Is there still a vessel in the mass on top?",
        |bench, at| {
            yields(bench, at, |p, _, t| {
                let collected = bench
                    .graph
                    .of_kind(Kind::Collected(p))
                    .map(|step| &bench.of(step).expression);
                match collected {
                    Some(Expression::Difference(gross, _)) => vec![percent((**gross).clone(), t)],
                    _ => Vec::new(),
                }
            })
        },
    ),
    slip(
        OF,
        "grams-over-moles",
        "Do the numbers on top and below have the same unit?",
        |bench, at| {
            yields(bench, at, |p, c, t| {
                let mut ways = vec![percent(c.clone(), t.clone().over(bench.molar_mass(p)))];
                ways.extend(
                    bench
                        .step(Kind::MolesCollected(p))
                        .map(|moles| percent(moles, t)),
                );
                ways
            })
        },
    ),
    by_line(
        OF,
        "percent-capped",
        "A percent above a hundred is information: what could have been measured too large?",
        |bench, at| {
            if matches!(bench.of(at).kind, Kind::PercentYield(_)) && bench.right > 100.0 {
                vec![Expression::hundred()]
            } else {
                Vec::new()
            }
        },
    ),
    slip(
        OF,
        "percent-composition",
        "Is this about the formula, or about your experiment?",
        |bench, at| {
            let Kind::PercentYield(p) = bench.of(at).kind else {
                return Vec::new();
            };
            let reactants = bench.reactants().into_iter();
            reactants
                .map(|r| percent(bench.molar_mass(p), bench.molar_mass(r)))
                .collect()
        },
    ),
];

fn percent(above: Expression, below: Expression) -> Expression {
    Expression::hundred().times(above.over(below))
}

fn negative(expression: Expression) -> Expression {
    number(0).minus(expression)
}

/// A value and its negative: students leave signs out.
fn both_signs(expression: Expression) -> Vec<Expression> {
    vec![expression.clone(), negative(expression)]
}

/// Ways of a percent yield from the product, what was collected and what could form.
fn yields(
    bench: &Layout<'_>,
    at: StepId,
    ways: impl Fn(usize, Expression, Expression) -> Vec<Expression>,
) -> Vec<Expression> {
    let Kind::PercentYield(p) = bench.of(at).kind else {
        return Vec::new();
    };
    match bench.graph.uses(at).steps[..] {
        [collected, theory] => ways(p, Expression::Step(collected), Expression::Step(theory)),
        _ => Vec::new(),
    }
}

/// What a percent error compares: the value found and the one it should be.
fn compared(bench: &Layout<'_>, at: StepId) -> Option<(Expression, Expression)> {
    if !matches!(bench.of(at).kind, Kind::LeftError(_) | Kind::FindError(_)) {
        return None;
    }
    match bench.graph.uses(at).steps[..] {
        [found, right] => Some((Expression::Step(found), Expression::Step(right))),
        _ => None,
    }
}

/// Whether the answer is to a percentage.
pub(super) fn is_percent(bench: &Bench<'_>) -> bool {
    bench.of(bench.step).unit == Unit::Percent
}
