//! Temperatures and pressures of a gas that the working cannot use, or that no air has.
//!
//! The limits of the pressure are common practice, no source.

use std::ops::RangeInclusive;

use num_traits::ToPrimitive;

use crate::chem::water;
use crate::lab::Lab;
use crate::lab::Term;
use crate::problem::Code;
use crate::problem::Problem;
use crate::record::Record;
use crate::record::plausible::base;
use crate::record::plausible::last;
use crate::say;

/// Pressures of the air in kPa, from high mountains to the highest ever at the sea.
const AIR: RangeInclusive<f64> = 50.0..=110.0;

/// A temperature that the table of vapour pressures does not reach, and a pressure that the air never has.
pub(super) fn look(
    lab: &Lab,
    record: &Record,
    [_, temperature, pressure]: &[Term; 3],
    over_water: bool,
    problems: &mut Vec<Problem>,
) {
    let read = |term: &Term| {
        let Term::Name(name, _) = term else {
            return None;
        };
        let index = lab.reading_index(name)?;
        let (reading, at) = last(record, index)?;
        let label = lab.readings().nth(index)?.1.label.clone();
        Some((base(reading), label, at))
    };
    let mut tell = |problem: Problem| {
        if !problems.contains(&problem) {
            problems.push(problem);
        }
    };
    if let Some((celsius, label, at)) = read(temperature).filter(|_| over_water)
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
    if let Some((kilopascal, label, at)) = read(pressure)
        && !AIR.contains(&kilopascal)
    {
        let message = say!(
            lab.words,
            "“{reading}” is no usual pressure of the air, which is near 100 kPa (1000 hPa)",
            reading = label
        );
        tell(
            Problem::warning(Code::OddAmount, message)
                .at(at, format!("{} kPa", kilopascal.round()))
                .help(say!(
                    lab.words,
                    "look at the unit of the barometer, and write it behind the number: kPa, hPa, mmHg, bar or atm"
                )),
        );
    }
}
