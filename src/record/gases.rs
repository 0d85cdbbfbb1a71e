//! Temperatures and pressures of a gas that the working cannot use, or that no air has.
//!
//! The limits of the pressure are common practice, no source.

use std::ops::RangeInclusive;

use num_traits::ToPrimitive;

use crate::chem::water;
use crate::lab::Lab;
use crate::lab::Term;
use crate::measure::Exact;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::problem::Code;
use crate::problem::Problem;
use crate::record::Record;
use crate::record::plausible::base;
use crate::record::plausible::last;
use crate::say;

/// Pressures of the air in kPa, from high mountains to the highest ever at the sea.
pub(crate) const AIR: RangeInclusive<f64> = 50.0..=110.0;

/// A pressure in kPa that no air ever had: the amount of a gas that stands over water in the open would be far too large with it.
/// With one that is far too low there is none.
const NEVER: f64 = 220.0;

/// A temperature that the table of vapour pressures does not reach, and a pressure that the air never has.
pub(super) fn look(
    lab: &Lab,
    record: &mut Record,
    [_, temperature, pressure]: &[Term; 3],
    over_water: bool,
    problems: &mut Vec<Problem>,
) {
    let index = |term: &Term| match term {
        Term::Name(name, _) => lab.reading_index(name),
        _ => None,
    };
    let read = |index: usize| {
        let (reading, at) = last(record, index)?;
        let label = lab.readings().nth(index)?.1.label.clone();
        Some((base(reading), reading.unit, label, at))
    };
    let mut tell = |problem: Problem| {
        if !problems.contains(&problem) {
            problems.push(problem);
        }
    };
    if let Some((celsius, _, label, at)) = index(temperature).filter(|_| over_water).and_then(read)
        && !(0.0..=water::HIGHEST.to_f64().unwrap_or(f64::INFINITY)).contains(&celsius)
    {
        let message = say!(
            lab.words,
            "“{reading}” is outside the table of water's vapour pressure, which reaches from 0 to {highest} °C",
            reading = label,
            highest = water::HIGHEST
        );
        tell(Problem::warning(Code::OddTemperature, message)
            .at(at, say!(lab.words, "the gas cannot be worked out with this"))
            .help(say!(lab.words, "read the thermometer again; if it is right, let the gas cool down and read its volume and temperature again")));
    }
    if let Some(pressure) = index(pressure)
        && let Some((kilopascal, unit, label, at)) = read(pressure)
        && !AIR.contains(&kilopascal)
    {
        let message = say!(
            lab.words,
            "“{reading}” is no usual pressure of the air, which is near 100 kPa (1000 hPa)",
            reading = label
        );
        let never = over_water && kilopascal > NEVER;
        let problem = if never {
            Problem::error(Code::OddAmount, message.clone())
        } else {
            Problem::warning(Code::OddAmount, message.clone())
        };
        let label = match unit {
            Some(unit @ (Unit::Kilopascal | Unit::Hectopascal)) => {
                say!(lab.words, "read in {unit}", unit = unit)
            }
            _ => lab.words.number(&in_kilopascals(kilopascal)),
        };
        tell(problem.at(at, label).help(say!(
            lab.words,
            "look at the unit of the barometer, and write it behind the number: kPa, hPa, mmHg, bar or atm"
        )));
        if never {
            record.readings[pressure].impossible = Some(message);
        }
    }
}

/// A pressure with three figures.
fn in_kilopascals(pressure: f64) -> String {
    let exact = Exact::from_float(pressure).unwrap_or_default();
    let rounded = rounding::to_figures(&exact, 3, Rounding::HalfUp);
    format!("{rounded} kPa")
}
