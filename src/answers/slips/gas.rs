//! Slips with the law of gases.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::bench::variants;
use crate::answers::slips::slip;
use crate::working::Expression;

/// What every slip here is a mistake in.
const OF: Family = Family::Dividing;

pub(super) const SLIPS: &[Slip] = &[
    slip(
        OF,
        "vapour-pressure-forgotten",
        "The gas was caught over water: what else is in the tube and shares the pressure?",
        |bench, at| {
            variants(&bench.of(at).expression, &|part| match part {
                Expression::Difference(all, water)
                    if matches!(**water, Expression::VapourPressure(_)) =>
                {
                    vec![(**all).clone()]
                }
                _ => Vec::new(),
            })
        },
    ),
    slip(
        OF,
        "celsius-for-kelvin",
        "From which zero does the law of gases count the temperature?",
        |bench, at| {
            variants(&bench.of(at).expression, &|part| match part {
                Expression::Absolute(celsius) => vec![(**celsius).clone()],
                _ => Vec::new(),
            })
        },
    ),
];
