//! How many digits the values put into a worked line carry, so that the line comes to what stands behind it.

use crate::measure::Decimal;
use crate::measure::Rounding;
use crate::measure::rounding;
use crate::working::Kind;
use crate::working::Step;
use crate::working::StepId;
use crate::working::Value;
use crate::working::expression::Constant;
use crate::working::expression::Expression;
use crate::working::factors::Scene;
use crate::working::show;

/// Digits at most that a value carries into a line beyond those it carries elsewhere.
const FURTHER: i32 = 6;

/// The fewest further digits with which the numbers of a step's line come to what is printed next, its result with a guard digit:
/// 0.213 ÷ 0.2264 is 0.9408, where the result is 0.9406. None where no number of digits does, and where a table is read on the way.
pub(in crate::working) fn further(scene: &Scene<'_>, step: &Step) -> i32 {
    let Some(shown) = scene.shown(scene.of) else {
        return 0;
    };
    let power = 10.0_f64.powi(step.unit.power_to_base());
    fewest(shown.carried, |further| {
        Some(put_in(scene, &step.expression, further)? / power)
    })
}

/// The same for the share of one reactant where they are compared: its moles over its coefficient.
pub(in crate::working) fn further_of_share(
    scene: &Scene<'_>,
    moles: StepId,
    count: u32,
    share: Decimal,
) -> i32 {
    fewest(share, |further| {
        Some(number(scene, moles, further)?.to_f64() / f64::from(count))
    })
}

/// The fewest further digits with which a line comes to a number as it is printed.
fn fewest(printed: Decimal, line: impl Fn(i32) -> Option<f64>) -> i32 {
    let (target, half) = (printed.to_f64(), 0.5 * place(printed));
    // Half way between two numbers nobody can tell which of them is meant.
    let comes_to_it = |further: i32| Some((line(further)? - target).abs() < half * (1.0 - 1e-9));
    match comes_to_it(0) {
        Some(false) => (1..=FURTHER)
            .find(|further| comes_to_it(*further) == Some(true))
            .unwrap_or(0),
        _ => 0,
    }
}

/// The number of an earlier step with so many further digits, in the unit it is shown in.
pub(in crate::working) fn number(scene: &Scene<'_>, id: StepId, further: i32) -> Option<Decimal> {
    let step = scene.graph.step(id);
    let shown = scene.shown(id)?;
    if further == 0 {
        return Some(shown.carried);
    }
    let value = scene.worked.value(id)?;
    Some(with_further(step, value, shown.carried, further))
}

/// A value as it is carried on, with further digits where it has any.
fn with_further(step: &Step, value: &Value, carried: Decimal, further: i32) -> Decimal {
    let unit = Decimal::new(1, -step.unit.power_to_base()).to_exact();
    let exact = &value.exact / &unit;
    if carried.to_exact() == exact {
        return carried;
    }
    rounding::to_places(&exact, carried.places() + further, Rounding::HalfUp)
}

/// One unit of the last digit of a number.
fn place(number: Decimal) -> f64 {
    Decimal::new(1, number.places()).to_f64()
}

/// What the numbers on the line come to, in the base unit of their step.
fn put_in(scene: &Scene<'_>, expression: &Expression, further: i32) -> Option<f64> {
    let of = |part: &Expression| put_in(scene, part, further);
    let inputs = &scene.worked.inputs;
    Some(match expression {
        Expression::Reading(reading) => inputs.readings.get(*reading)?.as_ref()?.value.to_f64(),
        Expression::Given(given) => inputs.givens.get(*given)?.value.to_f64(),
        Expression::Constant(Constant::Number(number)) => number.to_f64(),
        Expression::Constant(Constant::Hundred) => 100.0,
        Expression::Constant(Constant::MolarMass(formula)) => {
            show::molar_mass(scene.lab, formula)?.to_f64()
        }
        Expression::Constant(Constant::Coefficient { count, .. }) => f64::from(*count),
        Expression::Step(id) => return step(scene, *id, further),
        Expression::Sum(terms) => terms.iter().map(of).sum::<Option<f64>>()?,
        Expression::Difference(from, taken) => of(from)? - of(taken)?,
        Expression::Product(factors) => factors.iter().map(of).product::<Option<f64>>()?,
        Expression::Quotient(above, below) => of(above)? / of(below)?,
        Expression::Constant(Constant::Gas)
        | Expression::Absolute(_)
        | Expression::VapourPressure(_)
        | Expression::Smallest(_) => return None,
    })
}

/// An earlier step's number on the line; of the reactant that runs out its share.
fn step(scene: &Scene<'_>, id: StepId, further: i32) -> Option<f64> {
    let step = scene.graph.step(id);
    match (step.kind, &step.expression) {
        (Kind::MolarMass(_), _) => Some(scene.shown(id)?.defended.to_f64()),
        (Kind::Limiting, Expression::Smallest(candidates)) => {
            let first = scene.worked.value(id)?.smallest.first()?;
            let winner = candidates.iter().find(|one| one.substance == *first)?;
            put_in(scene, &winner.share, further)
        }
        _ => {
            let power = 10.0_f64.powi(step.unit.power_to_base());
            Some(number(scene, id, further)?.to_f64() * power)
        }
    }
}
