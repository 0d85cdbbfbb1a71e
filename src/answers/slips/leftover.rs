//! Slips with the reactant that should be left.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::bench::Bench;
use crate::answers::slips::bench::in_ratio;
use crate::answers::slips::bench::molar_mass;
use crate::answers::slips::by_line;
use crate::answers::slips::ratio::from_others;
use crate::answers::slips::slip;
use crate::measure::Unit;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;

/// What every slip here is a mistake in.
const OF: Family = Family::Ratio;

pub(super) const SLIPS: &[Slip] = &[
    by_line(OF, "leftover-in-moles", "Is that in grams?", |bench, at| {
        left_moles(bench, at, |_, moles| vec![moles])
    }),
    slip(
        OF,
        "used-for-leftover",
        "Is this what is used up, or what remains?",
        |bench, at| match (bench.of(at).kind, &bench.of(at).expression) {
            (Kind::ExpectedLeft(_), Expression::Difference(_, needed)) => vec![(**needed).clone()],
            _ => Vec::new(),
        },
    ),
    slip(
        OF,
        "unlike-subtracted",
        "You can only take like from like: are both masses of the same substance?",
        |bench, at| {
            let Kind::ExpectedLeft(r) = bench.of(at).kind else {
                return Vec::new();
            };
            let Some(start) = bench.step(Kind::Mass(r)) else {
                return Vec::new();
            };
            let others = (0..bench.lab.substances.len()).filter(|other| *other != r);
            others
                .flat_map(|other| {
                    [
                        bench.step(Kind::Mass(other)),
                        bench.step(Kind::Theoretical(other)),
                        bench.step(Kind::Collected(other)),
                    ]
                })
                .flatten()
                .map(|other| start.clone().minus(other))
                .collect()
        },
    ),
    by_line(
        OF,
        "leftover-with-another-molar-mass",
        "Which substance is left, and whose molar mass did you use for it?",
        |bench, at| {
            left_moles(bench, at, |r, moles| {
                let formulas = bench.formulas(at);
                let own = &bench.lab.substances[r];
                let others = formulas.iter().filter(|formula| {
                    !formula.same_substance(own.weighed_as.as_ref().unwrap_or(&own.formula))
                });
                others
                    .map(|formula| moles.clone().times(molar_mass(formula)))
                    .collect()
            })
        },
    ),
    slip(
        OF,
        "leftover-of-another",
        "Which reactant can have some left?",
        |bench, at| match bench.of(at).kind {
            Kind::ExpectedLeft(r) => {
                let others = bench.reactants().into_iter().filter(|other| *other != r);
                others
                    .filter_map(|other| bench.step(Kind::ExpectedLeft(other)))
                    .collect()
            }
            _ => Vec::new(),
        },
    ),
    by_line(
        OF,
        "leftover-by-another-reactant",
        "Which reactant decides how much of this one is used, and for how long does the reaction go on?",
        |bench, at| match bench.of(at).kind {
            Kind::Needed(_) => from_others(bench, at),
            _ => Vec::new(),
        },
    ),
    by_line(
        OF,
        "coefficient-in-the-leftover",
        "A molar mass belongs to one mole: did the number in front of the formula slip into it?",
        |bench, at| {
            let Kind::ExpectedLeft(r) = bench.of(at).kind else {
                return Vec::new();
            };
            let (Some(moles), Some(count), Some(needed)) = (
                bench.moles(r),
                bench.coefficient(at, r),
                needed_moles(bench, at, r),
            ) else {
                return Vec::new();
            };
            if count < 2 {
                return Vec::new();
            }
            let left = moles
                .over(crate::answers::slips::bench::number(count))
                .minus(needed);
            vec![bench.finish(at, r, left)]
        },
    ),
];

/// The moles of a reactant that the equation takes.
fn needed_moles(bench: &Bench<'_>, at: StepId, r: usize) -> Option<Expression> {
    let l = bench.limiting(at)?;
    Some(in_ratio(
        bench.moles(l)?,
        bench.coefficient(at, r)?,
        bench.coefficient(at, l)?,
    ))
}

/// Ways from the moles of a reactant that should be left, where the step is in grams.
fn left_moles(
    bench: &Bench<'_>,
    at: StepId,
    ways: impl Fn(usize, Expression) -> Vec<Expression>,
) -> Vec<Expression> {
    let Kind::ExpectedLeft(r) = bench.of(at).kind else {
        return Vec::new();
    };
    if bench.of(at).dimension != Unit::Gram.dimension() {
        return Vec::new();
    }
    match (bench.moles(r), needed_moles(bench, at, r)) {
        (Some(moles), Some(needed)) => ways(r, moles.minus(needed)),
        _ => Vec::new(),
    }
}
