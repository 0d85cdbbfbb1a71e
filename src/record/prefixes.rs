//! Readings with milli or kilo before a unit that the instrument shows without, as their digits tell: the unit is asked about first.

use crate::lab::Asked;
use crate::lab::Lab;
use crate::measure::Reading;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::record::Content;
use crate::record::Record;
use crate::record::check::instrument_decimals;
use crate::record::plausible::last;
use crate::say;

/// Whether a reading has just the decimals that its instrument shows, but not in the unit that stands behind it.
pub(super) fn is_doubted(lab: &Lab, asked: &Asked, reading: &Reading) -> bool {
    let (Some(unit), Some(decimals)) = (reading.unit, instrument_decimals(lab, asked)) else {
        return false;
    };
    // Air is read in hPa and in kPa alike.
    let bench = [Unit::Gram, Unit::Litre].map(Unit::dimension);
    unit != asked.unit
        && unit.dimension() == asked.unit.dimension()
        && bench.contains(&unit.dimension())
        && reading.number.places() == decimals
}

/// Marks the readings that are doubted for their unit.
pub(super) fn mark(lab: &Lab, record: &mut Record) {
    for (index, (_, asked)) in lab.readings().enumerate() {
        let doubted = last(record, index).is_some_and(|(value, _)| is_doubted(lab, asked, value));
        record.readings[index].doubted_unit = doubted;
    }
}

/// Asks for the unit of each weighing of a reading that is doubted for it; whether there is one.
pub(super) fn look(lab: &Lab, record: &Record, index: usize, problems: &mut Vec<Problem>) -> bool {
    let Some((_, asked)) = lab.readings().nth(index) else {
        return false;
    };
    let words = &lab.words;
    let before = problems.len();
    for entry in &record.readings[index].entries {
        let Content::Value(reading) = &entry.content else {
            continue;
        };
        let Some(unit) = reading.unit.filter(|_| is_doubted(lab, asked, reading)) else {
            continue;
        };
        let message = say!(
            words,
            "is “{reading}” really in {other}? Its digits are those of an instrument that shows {unit}",
            reading = asked.label,
            other = unit,
            unit = asked.unit
        );
        let problem = if record.readings[index].impossible.is_some() {
            Problem::error(Code::WrongUnit, message)
        } else {
            Problem::warning(Code::WrongUnit, message)
        };
        problems.push(
            problem
                .at(
                    entry.span.clone(),
                    say!(words, "this is in {unit}", unit = unit),
                )
                .help(say!(
                    words,
                    "if the instrument showed {unit}, write {unit} behind the number",
                    unit = asked.unit
                )),
        );
    }
    problems.len() > before
}
