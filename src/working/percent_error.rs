//! Percent errors: shown to the place of their uncertainty.
//!
//! A difference of near values has few figures left, one or none, where products count figures and not places: by their rule
//! a ratio of 1.06 ± 0.003 is 6 % off, give or take 0.3 %. So where an uncertainty is worked, it says which digits are defended.

use crate::lab::Lab;
use crate::measure::figures::Figures;
use crate::working::Inputs;
use crate::working::Kind;
use crate::working::Step;
use crate::working::Value;
use crate::working::show;

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
