//! Slips between grams, millilitres and moles.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::Way;
use crate::answers::slips::bench::Bench;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::bench::decimal;
use crate::answers::slips::bench::number;
use crate::answers::slips::bench::variants;
use crate::answers::slips::by_line;
use crate::answers::slips::is_moles;
use crate::answers::slips::percent::is_percent;
use crate::answers::slips::slip;
use crate::measure::Unit;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;

/// What every slip here is a mistake in.
const OF: Family = Family::Dividing;

/// Moles where a mass was asked for.
pub(super) const AMOUNT_FOR_MASS: &str = "amount-for-mass";

/// Grams where moles were asked for.
pub(super) const MASS_FOR_AMOUNT: &str = "mass-for-amount";

pub(super) const SLIPS: &[Slip] = &[
    slip(
        OF,
        "molar-mass-multiplied",
        "Can a spoonful hold that many moles? Write the units and see what cancels.",
        |bench, at| quotients(bench, at, |mass, molar| vec![mass.times(molar)]),
    ),
    slip(
        OF,
        "molar-mass-upside-down",
        "Which of the two goes on the bottom, so that grams cancel?",
        |bench, at| quotients(bench, at, |mass, molar| vec![molar.over(mass)]),
    ),
    slip(
        OF,
        "divided-on-the-way-back",
        "On the way from moles to grams, is the molar mass above or below the line?",
        |bench, at| products(bench, at, Expression::over),
    ),
    slip(
        OF,
        "stopped-at-moles",
        "What unit does your last line really have?",
        |bench, at| products(bench, at, |moles, _| moles),
    ),
    by_line(
        OF,
        AMOUNT_FOR_MASS,
        "This is the amount in moles: the mass was asked for.",
        |bench, at| {
            let step = bench.of(at);
            if at != bench.step {
                return Vec::new();
            }
            let (Kind::Mass(index)
            | Kind::Collected(index)
            | Kind::MeasuredLeft(index)
            | Kind::Used(index)) = step.kind
            else {
                return Vec::new();
            };
            if step.dimension != Unit::Gram.dimension() {
                return Vec::new();
            }
            vec![step.expression.clone().over(bench.molar_mass(index))]
        },
    ),
    by_line(
        OF,
        MASS_FOR_AMOUNT,
        "This is the mass in grams: the amount in moles was asked for.",
        |bench, at| {
            if at == bench.step {
                quotients(bench, at, |mass, _| vec![mass])
            } else {
                Vec::new()
            }
        },
    ),
    slip(
        OF,
        "avogadro-number",
        "Are you counting moles, or single particles?",
        |bench, at| {
            let avogadro = || decimal(6_022, -20);
            let step = bench.of(at);
            if is_moles(step.kind) {
                let moles = step.expression.clone();
                let mut ways = quotients(bench, at, |mass, _| {
                    vec![mass.clone().over(avogadro()), mass.times(avogadro())]
                });
                ways.push(moles.times(avogadro()));
                return ways;
            }
            products(bench, at, |moles, _| moles.times(avogadro()))
        },
    ),
    slip(
        OF,
        "gas-volume",
        "That constant is for a mole of gas: is this substance a gas?",
        |bench, at| {
            let mut ways = quotients(bench, at, |mass, _| {
                vec![mass.clone().over(decimal(224, 1)), mass.over(number(24))]
            });
            if is_moles(bench.of(at).kind) {
                for volume in volumes(bench, at) {
                    ways.push(volume.clone().over(decimal(224, 1)));
                    ways.push(volume.over(number(24)));
                }
            }
            ways
        },
    ),
    slip(
        OF,
        "millilitres-for-litres",
        "Your concentration counts moles in a litre: in what unit is your volume?",
        |bench, at| {
            let step = bench.of(at);
            let litres = !volumes(bench, at).is_empty();
            if litres && (is_moles(step.kind) || matches!(step.kind, Kind::Find(_) | Kind::Mass(_)))
            {
                vec![
                    step.expression.clone().times(number(1000)),
                    step.expression.clone().over(number(1000)),
                ]
            } else {
                Vec::new()
            }
        },
    ),
    slip(
        OF,
        "concentration-divided",
        "Write moles per litre beside litres, and see which operation leaves moles.",
        |bench, at| {
            if !is_moles(bench.of(at).kind) && !matches!(bench.of(at).kind, Kind::Mass(_)) {
                return Vec::new();
            }
            variants(&bench.of(at).expression, &|part| match part {
                Expression::Product(factors) => match &factors[..] {
                    [a, b] if has_volume(bench, a) || has_volume(bench, b) => {
                        vec![a.clone().over(b.clone()), b.clone().over(a.clone())]
                    }
                    _ => Vec::new(),
                },
                _ => Vec::new(),
            })
        },
    ),
    Slip {
        id: "prefix",
        prompt: "Is there a milli or a kilo in one of your lines that is not in the other?",
        family: OF,
        way: Way::Power(|bench| vec![bench.right * 1e3, bench.right * 1e-3]),
    },
    Slip {
        id: "decimal-point",
        prompt: "Estimate the answer in your head first: where does the decimal point belong?",
        family: OF,
        way: Way::Power(decimal_point),
    },
    Slip {
        id: "exponent-sign",
        prompt: "Is the power of ten positive or negative: is the amount more or less than one?",
        family: OF,
        way: Way::Power(exponent_sign),
    },
];

/// One place or two to either side; two places of a percentage are slips of their own.
fn decimal_point(bench: &Bench<'_>) -> Vec<f64> {
    let powers: &[f64] = if is_percent(bench) {
        &[10.0, 0.1]
    } else {
        &[10.0, 0.1, 100.0, 0.01]
    };
    powers.iter().map(|power| bench.right * power).collect()
}

/// The power of ten with its sign turned round.
fn exponent_sign(bench: &Bench<'_>) -> Vec<f64> {
    let power = bench.right.abs().log10().floor();
    if power.is_finite() && power != 0.0 && !is_percent(bench) {
        vec![bench.right * 10.0_f64.powf(-2.0 * power)]
    } else {
        Vec::new()
    }
}

/// A step of moles that divides a mass by a molar mass, put other ways.
fn quotients(
    bench: &Layout<'_>,
    at: StepId,
    ways: impl Fn(Expression, Expression) -> Vec<Expression>,
) -> Vec<Expression> {
    let step = bench.of(at);
    match &step.expression {
        Expression::Quotient(mass, molar) if is_moles(step.kind) => {
            ways((**mass).clone(), (**molar).clone())
        }
        _ => Vec::new(),
    }
}

/// A step that turns moles into grams, put another way.
fn products(
    bench: &Layout<'_>,
    at: StepId,
    way: impl Fn(Expression, Expression) -> Expression,
) -> Vec<Expression> {
    let step = bench.of(at);
    if !matches!(step.kind, Kind::Theoretical(_) | Kind::Needed(_))
        || step.dimension != Unit::Gram.dimension()
    {
        return Vec::new();
    }
    let Expression::Product(factors) = unpurified(&step.expression) else {
        return Vec::new();
    };
    let Some((molar, moles)) = factors.split_last() else {
        return Vec::new();
    };
    vec![way(Expression::Product(moles.to_vec()), molar.clone())]
}

/// The product inside a mass that is divided by its purity.
fn unpurified(expression: &Expression) -> &Expression {
    match expression {
        Expression::Quotient(mass, _) => mass,
        other => other,
    }
}

/// The volumes a step uses.
fn volumes(bench: &Layout<'_>, at: StepId) -> Vec<Expression> {
    let readings = bench.of(at).expression.readings();
    let volume =
        |reading: &usize| bench.graph.readings.get(*reading) == Some(&Unit::Litre.dimension());
    readings
        .into_iter()
        .filter(volume)
        .map(Expression::Reading)
        .collect()
}

fn has_volume(bench: &Layout<'_>, expression: &Expression) -> bool {
    bench
        .graph
        .dimension(expression)
        .is_ok_and(|dimension| dimension == Unit::Litre.dimension())
}
