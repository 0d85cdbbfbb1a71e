//! Readings that cannot be, and readings that may be but are odd: said while the sample still exists.
//!
//! The limits are common practice, no source.

use crate::lab::Before;
use crate::lab::Lab;
use crate::lab::Term;
use crate::lab::Written;
use crate::lab::expression::Sign;
use crate::measure::Reading;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::record::Content;
use crate::record::Record;
use crate::record::check::instrument_decimals;
use crate::record::dates;
use crate::record::decimals::few_decimals;
use crate::record::decimals::uneven_decimals;
use crate::record::drying;
use crate::record::gases;
use crate::record::prefixes;
use crate::say;

/// Pressure (kPa) above which a number without its unit was more likely read in hPa (common practice, no source).
const MOST_PRESSURE: f64 = 400.0;

/// Adds a problem for each reading that is impossible or odd, and marks the impossible ones.
pub(super) fn look(lab: &Lab, record: &mut Record, problems: &mut Vec<Problem>) {
    let pairs = vessel_pairs(lab);
    readings(lab, record, &pairs, problems);
    record.each_trial(|trial| {
        let mut found = Vec::new();
        readings(lab, trial, &pairs, &mut found);
        // What a trial has in common with the first is said once.
        found.retain(|problem| !problems.contains(problem));
        problems.extend(found);
    });
    dates::look(&lab.words, record, problems);
}

/// The readings of one trial.
fn readings(lab: &Lab, record: &mut Record, pairs: &[(usize, usize)], problems: &mut Vec<Problem>) {
    prefixes::mark(lab, record);
    for (full, empty) in pairs {
        vessel(lab, record, *full, *empty, problems);
    }
    // The pressure of a gas is looked at with its gas.
    let gases = || expressions(lab).flat_map(|written| written.term.gases());
    let of_gases: Vec<usize> = gases()
        .flat_map(|(parts, _)| parts.iter().flat_map(Term::names))
        .filter_map(|(name, _)| lab.reading_index(name))
        .collect();
    for index in 0..record.readings.len() {
        single(lab, record, (index, of_gases.contains(&index)), problems);
        if !prefixes::look(lab, record, index, problems) {
            drying::look(lab, record, index, problems);
        }
    }
    for (parts, over_water) in gases() {
        gases::look(lab, record, parts, over_water, problems);
    }
    uneven_decimals(lab, record, problems);
    same_number(lab, record, pairs, problems);
}

/// Every difference of two readings in the lab's expressions: full vessel and empty one.
fn vessel_pairs(lab: &Lab) -> Vec<(usize, usize)> {
    let mut pairs = Vec::new();
    for written in expressions(lab) {
        differences(lab, &written.term, &mut pairs);
    }
    pairs
}

/// The lab's expressions over readings.
fn expressions(lab: &Lab) -> impl Iterator<Item = &Written> {
    let of_substances = lab.substances.iter().flat_map(|substance| {
        let before = match &substance.before {
            Some(Before::Measured(written)) => Some(written),
            _ => None,
        };
        [before, substance.after.as_ref(), substance.used.as_ref()]
            .into_iter()
            .flatten()
    });
    of_substances.chain(lab.finds.iter().map(|find| &find.value))
}

fn differences(lab: &Lab, term: &Term, pairs: &mut Vec<(usize, usize)>) {
    match term {
        Term::Binary {
            sign, left, right, ..
        } => {
            if let (Sign::Minus, Term::Name(full, _), Term::Name(empty, _)) =
                (sign, &**left, &**right)
                && let (Some(full), Some(empty)) =
                    (lab.reading_index(full), lab.reading_index(empty))
                && !pairs.contains(&(full, empty))
            {
                pairs.push((full, empty));
            }
            differences(lab, left, pairs);
            differences(lab, right, pairs);
        }
        Term::Negative(inner, _) => differences(lab, inner, pairs),
        Term::Gas { of, .. } => of.iter().for_each(|part| differences(lab, part, pairs)),
        Term::Name(..) | Term::Number(..) | Term::Percentage(..) | Term::MolarMass(..) => {}
    }
}

/// A reading in its base unit (g, L, …).
pub(super) fn base(reading: &Reading) -> f64 {
    reading.unit.unwrap_or(Unit::One).in_base(reading.number)
}

/// The last value of a reading with its place.
pub(super) fn last(record: &Record, index: usize) -> Option<(&Reading, Span)> {
    let entry = record.readings[index].counting()?;
    match &entry.content {
        Content::Value(reading) => Some((reading, entry.span.clone())),
        Content::Missing(_) | Content::Unreadable => None,
    }
}

/// A full vessel must weigh more than the empty one.
fn vessel(lab: &Lab, record: &mut Record, full: usize, empty: usize, problems: &mut Vec<Problem>) {
    let (Some((heavy, heavy_at)), Some((light, light_at))) =
        (last(record, full), last(record, empty))
    else {
        return;
    };
    if heavy
        .unit
        .is_none_or(|unit| unit.dimension() != Unit::Gram.dimension())
    {
        return;
    }
    let net = base(heavy) - base(light);
    let doubted: Vec<usize> = [full, empty]
        .into_iter()
        .filter(|reading| record.readings[*reading].doubted_unit)
        .collect();
    let labels: Vec<String> = lab
        .readings()
        .map(|(_, asked)| asked.label.clone())
        .collect();
    let (full_label, empty_label) = (&labels[full], &labels[empty]);
    if heavy
        .number
        .shifted(heavy.unit.map_or(0, Unit::power_to_base))
        .to_exact()
        <= light
            .number
            .shifted(light.unit.map_or(0, Unit::power_to_base))
            .to_exact()
    {
        let message = say!(
            lab.words,
            "“{full}” weighs no more than “{empty}”",
            full = full_label,
            empty = empty_label
        );
        if !doubted.is_empty() {
            // The unit is asked about, and what follows from it is not.
            for reading in doubted {
                record.readings[reading].impossible = Some(message.clone());
            }
            return;
        }
        let help = if heavy.unit == light.unit {
            say!(
                lab.words,
                "were the two swapped, is it another vessel, or is a digit wrong? weigh it again while you can"
            )
        } else {
            say!(
                lab.words,
                "the two stand in different units: is each the one that the balance showed? if so, weigh it again while you can"
            )
        };
        problems.push(
            Problem::error(Code::LighterThanEmpty, message.clone())
                .at(heavy_at, full_label.clone())
                .at(light_at, empty_label.clone())
                .help(help),
        );
        record.readings[full].impossible = Some(message.clone());
        record.readings[empty].impossible = Some(message);
    } else if !(0.1..=200.0).contains(&net) && doubted.is_empty() && !planned(lab, (full, empty)) {
        let message = if net < 0.1 {
            say!(
                lab.words,
                "the difference of these two readings is less than 0.1 g"
            )
        } else {
            say!(
                lab.words,
                "the difference of these two readings is more than 200 g"
            )
        };
        problems.push(
            Problem::warning(Code::OddAmount, message)
                .at(heavy_at, full_label.clone())
                .at(light_at, empty_label.clone())
                .help(say!(lab.words, "compare both with your notes")),
        );
    }
}

/// Whether the lab plans how much comes between the two readings of a vessel: then the plan says what is odd.
fn planned(lab: &Lab, (full, empty): (usize, usize)) -> bool {
    let pair = [full, empty];
    lab.substances.iter().any(|substance| {
        let Some(Before::Measured(written)) = &substance.before else {
            return false;
        };
        let names = written.term.names().into_iter();
        let mut readings = names.map(|(name, _)| lab.reading_index(name));
        let by_mass = |text: &str| text.trim_end().ends_with('g');
        let mut plan = lab.plan.iter();
        plan.any(|(name, text)| *name == substance.key && by_mass(text))
            && readings.all(|reading| reading.is_some_and(|one| pair.contains(&one)))
    })
}

/// A volume below zero, a strange temperature, fewer digits than the instrument shows.
fn single(
    lab: &Lab,
    record: &mut Record,
    (index, of_gas): (usize, bool),
    problems: &mut Vec<Problem>,
) {
    let Some((_, asked)) = lab.readings().nth(index) else {
        return;
    };
    let Some((reading, at)) = last(record, index) else {
        return;
    };
    let negative = reading.number.is_negative();
    let unit = reading.unit.unwrap_or(asked.unit);
    if negative && unit != Unit::DegreeCelsius {
        let message = say!(
            lab.words,
            "“{reading}” is below zero",
            reading = asked.label
        );
        let code = if unit.dimension() == Unit::Litre.dimension() {
            Code::NegativeVolume
        } else {
            Code::OddAmount
        };
        problems.push(
            Problem::error(code, message.clone())
                .at(at, say!(lab.words, "below zero"))
                .help(say!(
                    lab.words,
                    "was the instrument set to zero, and is the sign right? read it again"
                )),
        );
        record.readings[index].impossible = Some(message);
        return;
    }
    if unit == Unit::DegreeCelsius && !(-20.0..=1500.0).contains(&reading.number.to_f64()) {
        problems.push(
            Problem::warning(
                Code::OddTemperature,
                say!(
                    lab.words,
                    "“{reading}” is an unusual temperature",
                    reading = asked.label
                ),
            )
            .at(at.clone(), say!(lab.words, "here"))
            .help(say!(lab.words, "compare it with your notes")),
        );
    }
    let pressure = unit.dimension() == Unit::Kilopascal.dimension();
    if pressure && !of_gas && base(reading) > MOST_PRESSURE {
        problems.push(
            Problem::warning(
                Code::OddAmount,
                say!(lab.words, "“{reading}” is an unusually high pressure", reading = asked.label),
            )
            .at(at.clone(), say!(lab.words, "read in {unit}", unit = unit))
            .help(say!(lab.words, "the air has about 100 kPa, that is 1000 hPa; write the unit that the barometer shows behind the number")),
        );
    }
    let Some(decimals) = instrument_decimals(lab, asked) else {
        return;
    };
    let instrument = asked.instrument.map_or_else(String::new, |index| {
        lab.instruments[index].named(&lab.words)
    });
    let entries = record.readings[index].entries.iter();
    let sure = entries.filter(|entry| match &entry.content {
        Content::Value(reading) => !prefixes::is_doubted(lab, asked, reading),
        Content::Missing(_) | Content::Unreadable => true,
    });
    for entry in sure {
        few_decimals(
            &lab.words,
            entry,
            (asked.unit, decimals),
            &instrument,
            problems,
        );
    }
}

/// Two different objects of exactly one mass are more often one number copied twice.
fn same_number(lab: &Lab, record: &Record, pairs: &[(usize, usize)], problems: &mut Vec<Problem>) {
    let labels: Vec<&str> = lab
        .readings()
        .map(|(_, asked)| asked.label.as_str())
        .collect();
    for a in 0..record.readings.len() {
        for b in a + 1..record.readings.len() {
            if pairs.contains(&(a, b)) || pairs.contains(&(b, a)) {
                continue;
            }
            let (Some((x, x_at)), Some((y, y_at))) = (last(record, a), last(record, b)) else {
                continue;
            };
            let weighty = x.unit == Some(Unit::Gram) && x.number.significant_figures() >= 3;
            if weighty && x.number == y.number && x.unit == y.unit {
                problems.push(
                    Problem::warning(
                        Code::SameNumber,
                        say!(
                            lab.words,
                            "“{one}” and “{other}” have the same mass",
                            one = labels[a],
                            other = labels[b]
                        ),
                    )
                    .at(y_at, say!(lab.words, "the same number"))
                    .at(x_at, say!(lab.words, "as here"))
                    .help(say!(
                        lab.words,
                        "was one of them copied into the wrong line?"
                    )),
                );
            }
        }
    }
}
