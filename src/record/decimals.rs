//! Readings with fewer digits than their instrument shows, or than others of the same balance.

use std::collections::BTreeMap;

use crate::lab::Lab;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::record::Content;
use crate::record::Entry;
use crate::record::Record;
use crate::record::check::instrument_decimals;
use crate::say;
use crate::words::Words;

/// A reading with fewer decimals than its instrument shows.
pub(super) fn few_decimals(
    words: &Words,
    entry: &Entry,
    (unit, decimals): (Unit, i32),
    instrument: &str,
    problems: &mut Vec<Problem>,
) {
    let Content::Value(reading) = &entry.content else {
        return;
    };
    let read_in = reading.unit.unwrap_or(Unit::One);
    let shift = read_in.power_to_base() - unit.power_to_base();
    // Where the factor between two units is no power of ten, the digits of one say nothing about the other.
    let comparable = read_in == unit || (read_in.is_decimal() && unit.is_decimal());
    if reading.exact
        || !comparable
        || reading.spread.is_some()
        || reading.number.shifted(shift).places() >= decimals
    {
        return;
    }
    problems.push(
        Problem::warning(
            Code::FewDecimals,
            say!(
                words,
                "the {instrument} shows {decimals} decimals, this reading has fewer",
                instrument = instrument,
                decimals = decimals
            ),
        )
        .at(entry.span.clone(), say!(words, "did it show more digits?"))
        .help(say!(words, "write every digit, zeros too")),
    );
}

/// Readings of one instrument whose description does not say what it shows should still agree among themselves.
pub(super) fn uneven_decimals(lab: &Lab, record: &Record, problems: &mut Vec<Problem>) {
    let mut usual: BTreeMap<(Option<usize>, Unit), (i32, Span)> = BTreeMap::new();
    for ((_, asked), recorded) in lab.readings().zip(&record.readings) {
        for entry in &recorded.entries {
            let Content::Value(reading) = &entry.content else {
                continue;
            };
            let unit = reading.unit.unwrap_or(asked.unit);
            // Where the instrument says what it shows, missing digits are told already.
            if reading.exact
                || reading.approximate
                || unit.dimension() != Unit::Gram.dimension()
                || instrument_decimals(lab, asked)
                    .is_some_and(|shown| reading.number.places() < shown)
            {
                continue;
            }
            let places = reading.number.places();
            let (first, at) = usual
                .entry((asked.instrument, unit))
                .or_insert_with(|| (places, entry.span.clone()));
            if *first != places {
                problems.push(
                    Problem::warning(Code::UnevenDecimals, say!(lab.words, "readings of one balance have different numbers of decimals"))
                        .at(entry.span.clone(), say!(lab.words, "{decimals} here", decimals = places))
                        .at(at.clone(), say!(lab.words, "{decimals} here", decimals = first))
                        .help(say!(lab.words, "write every digit that the balance shows, zeros too; was another balance used?")),
                );
                return;
            }
        }
    }
}
