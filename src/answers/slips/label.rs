//! Slips with what the label of a bottle says besides the formula: the purity, and the water together with it.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::bench::molar_mass;
use crate::answers::slips::bench::number;
use crate::answers::slips::bench::variants;
use crate::answers::slips::by_line;
use crate::answers::slips::slip;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;

/// What every slip here is a mistake in.
const OF: Family = Family::Dividing;

pub(super) const SLIPS: &[Slip] = &[
    slip(
        OF,
        "purity-ignored",
        "Is everything in the bottle the substance itself? Look for its purity on the label.",
        as_if_pure,
    ),
    // Somebody who reads no label misses both: the one pair that is a single mistake.
    by_line(
        OF,
        "label-not-read",
        "Read the whole label on the bottle: what does the solid you weighed hold besides the salt?",
        |bench, at| {
            let dry = |part: &Expression| match part {
                Expression::Step(step) if bench.line.answer(*step).is_none() => {
                    of_the_dry_salt(bench, *step).into_iter().collect()
                }
                _ => Vec::new(),
            };
            let pure = as_if_pure(bench, at);
            pure.iter().flat_map(|pure| variants(pure, &dry)).collect()
        },
    ),
];

/// A step with a purity in it, worked as if that were a hundred percent.
fn as_if_pure(bench: &Layout<'_>, at: StepId) -> Vec<Expression> {
    let substances = 0..bench.lab.substances.len();
    let purities: Vec<usize> = substances.filter_map(|s| bench.graph.purity(s)).collect();
    variants(&bench.of(at).expression, &|part| match part {
        Expression::Quotient(purity, _) if matches!(**purity, Expression::Given(given) if purities.contains(&given)) =>
        {
            vec![number(1)]
        }
        _ => Vec::new(),
    })
}

/// The molar mass that a step finds, without its water.
fn of_the_dry_salt(bench: &Layout<'_>, step: StepId) -> Option<Expression> {
    let Kind::MolarMass(index) = bench.of(step).kind else {
        return None;
    };
    let substance = &bench.lab.substances[index];
    let weighed = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
    match weighed.waters() {
        (_, 0) => None,
        (dry, _) => Some(molar_mass(&dry)),
    }
}
