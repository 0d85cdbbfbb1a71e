//! Percent errors: shown to the place of their uncertainty, and worked from values with digits enough to follow.
//!
//! A difference of near values has few figures left, one or none, where products count figures and not places: by their rule
//! a ratio of 1.06 ± 0.003 is 6 % off, give or take 0.3 %. So where an uncertainty is worked, it says which digits are defended.

use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Rounding;
use crate::measure::figures::Figures;
use crate::measure::rounding;
use crate::working::Inputs;
use crate::working::Kind;
use crate::working::Step;
use crate::working::StepId;
use crate::working::Value;
use crate::working::factors::Scene;
use crate::working::show;

/// Digits at most that a value carries into a percent error beyond those it carries elsewhere.
const FURTHER: i32 = 6;

/// The digits that a percent error defends by its uncertainty as printed; `None` for other steps, and where no uncertainty is
/// worked: there the rules for differences and quotients hold.
#[must_use]
pub fn figures(lab: &Lab, step: &Step, value: &Value, inputs: &Inputs<'_>) -> Option<Figures> {
    if !matches!(step.kind, Kind::LeftError(_) | Kind::FindError(_)) {
        return None;
    }
    let doubt = show::doubt_number(show::doubt(lab, step, value, inputs)?)?;
    Some(Figures::Places(doubt.places()).shifted(-step.unit.power_to_base()))
}

/// The number of a value in the working of a percent error: the one with which the working comes to what is shown; `None`
/// where the number with the usual guard digit does.
pub(in crate::working) fn operand(scene: &Scene<'_>, operand: StepId) -> Option<Decimal> {
    let (lab, graph, worked) = (scene.lab, scene.graph, scene.worked);
    let step = graph.step(scene.of);
    let value = worked.value(scene.of)?;
    let defended = figures(lab, step, value, &worked.inputs)?;
    let [found, right] = graph.uses(scene.of).steps[..] else {
        return None;
    };
    let rule = lab.policy.rounding;
    let shown = defended.write(&value.exact, 0, rule);
    let carried = |id: StepId, further: i32| {
        let value = worked.value(id)?;
        Some(with_further(lab, graph.step(id), value, further))
    };
    let further = (0..=FURTHER).find(|further| {
        let (Some(found), Some(right)) = (carried(found, *further), carried(right, *further))
        else {
            return false;
        };
        let (found, right) = (found.to_exact(), right.to_exact());
        if right.is_zero() {
            return false;
        }
        let error = &(&(&found - &right) / &right) * &Exact::from_integer(100);
        defended.write(&error, 0, rule) == shown
    })?;
    carried(operand, further).filter(|_| further > 0)
}

/// A value as it is carried on, with further digits where it has any.
fn with_further(lab: &Lab, step: &Step, value: &Value, further: i32) -> Decimal {
    let (_, guarded) = show::with_guard(lab, step, &value.exact, value.figures);
    let unit = Decimal::new(1, -step.unit.power_to_base()).to_exact();
    let exact = &value.exact / &unit;
    if guarded.to_exact() == exact {
        return guarded;
    }
    rounding::to_places(&exact, guarded.places() + further, Rounding::HalfUp)
}
