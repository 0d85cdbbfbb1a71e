//! Slips with the ratio of moles found.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::Way;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::bench::number;
use crate::answers::slips::slip;
use crate::measure::Unit;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;

/// What every slip here is a mistake in.
const OF: Family = Family::MoleRatio;

pub(super) const SLIPS: &[Slip] = &[
    slip(
        OF,
        "ratio-upside-down",
        "Read the question once more: which substance is asked for one mole of which?",
        |bench, at| match &bench.of(at).expression {
            Expression::Quotient(a, b) if is_ratio(bench, at).is_some() || compares(bench, at) => {
                vec![(**b).clone().over((**a).clone())]
            }
            _ => Vec::new(),
        },
    ),
    slip(
        OF,
        "ratio-of-grams",
        "Do ratios in an equation count grams, or moles?",
        |bench, at| {
            of(bench, at, |p, r| {
                pair(bench, Kind::Collected(p), Kind::Used(r))
            })
        },
    ),
    slip(
        OF,
        "ratio-of-the-start",
        "Did all of it react?",
        |bench, at| {
            of(bench, at, |p, r| {
                pair(bench, Kind::MolesCollected(p), Kind::Moles(r))
            })
        },
    ),
    slip(
        OF,
        "ratio-of-the-leftover",
        "Which atoms took part in the reaction, those that are gone or those that are left?",
        |bench, at| {
            of(bench, at, |p, r| {
                let left = bench.step(Kind::MeasuredLeft(r))?.over(bench.molar_mass(r));
                Some(bench.step(Kind::MolesCollected(p))?.over(left))
            })
        },
    ),
    slip(
        OF,
        "theory-for-data",
        "A perfect ratio often means that the equation was used twice: did you use your own measurements?",
        |bench, at| {
            let Some((p, r)) = is_ratio(bench, at) else {
                return Vec::new();
            };
            let mut ways = Vec::new();
            if let (Some(theory), Some(used)) = (
                bench.step(Kind::Theoretical(p)),
                bench.step(Kind::MolesUsed(r)),
            ) {
                ways.push(theory.over(bench.molar_mass(p)).over(used));
            }
            if let (Some(formed), Some(needed)) = (
                bench.step(Kind::MolesCollected(p)),
                bench.step(Kind::Needed(r)),
            ) {
                ways.push(formed.over(needed.over(bench.molar_mass(r))));
            }
            if let (Some(p), Some(r)) = (bench.coefficient(at, p), bench.coefficient(at, r)) {
                ways.push(number(p).over(number(r)));
            }
            ways
        },
    ),
    slip(
        OF,
        "masses-multiplied",
        "To get moles from grams, does the molar mass multiply or divide?",
        |bench, at| {
            of(bench, at, |p, r| {
                let mass = bench.step(Kind::Collected(p))?.times(bench.molar_mass(p));
                Some(mass.over(bench.step(Kind::Used(r))?.times(bench.molar_mass(r))))
            })
        },
    ),
    Slip {
        id: "other-whole-numbers",
        prompt: "Which whole numbers does the chemistry allow here, and which are nearest to what you measured?",
        family: OF,
        way: Way::Answer(|bench| {
            let near = |other: f64| (bench.right - other).abs() > 0.05 * bench.right.abs();
            if is_ratio(bench, bench.step).is_some()
                && bench.number.whole
                && near(bench.number.value)
            {
                vec![bench.number.value]
            } else {
                Vec::new()
            }
        }),
    },
];

/// Whether the lab's own relation is one amount over another of its kind, a plain number.
fn compares(bench: &Layout<'_>, at: StepId) -> bool {
    let step = bench.of(at);
    let Expression::Quotient(a, b) = &step.expression else {
        return false;
    };
    let of = |part: &Expression| bench.graph.dimension(part).ok();
    matches!(step.kind, Kind::Find(_)) && step.unit == Unit::One && of(a) == of(b)
}

/// The product and the reactant that a step compares.
fn is_ratio(bench: &Layout<'_>, at: StepId) -> Option<(usize, usize)> {
    match bench.of(at).kind {
        Kind::Ratio(p, r) => Some((p, r)),
        _ => None,
    }
}

fn of(
    bench: &Layout<'_>,
    at: StepId,
    way: impl Fn(usize, usize) -> Option<Expression>,
) -> Vec<Expression> {
    is_ratio(bench, at)
        .and_then(|(p, r)| way(p, r))
        .into_iter()
        .collect()
}

fn pair(bench: &Layout<'_>, above: Kind, below: Kind) -> Option<Expression> {
    Some(bench.step(above)?.over(bench.step(below)?))
}
