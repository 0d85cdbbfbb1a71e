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
use crate::record::gases;
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
    for (full, empty) in pairs {
        vessel(lab, record, *full, *empty, problems);
    }
    for index in 0..record.readings.len() {
        single(lab, record, index, problems);
        drying(lab, record, index, problems);
    }
    for written in expressions(lab) {
        for (parts, over_water) in written.term.gases() {
            gases::look(lab, record, parts, over_water, problems);
        }
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
        Term::Name(..) | Term::Number(..) | Term::MolarMass(..) => {}
    }
}

/// A reading in its base unit (g, L, …).
pub(super) fn base(reading: &Reading) -> f64 {
    reading
        .number
        .shifted(reading.unit.map_or(0, Unit::power_to_base))
        .to_f64()
}

/// The last value of a reading with its place.
pub(super) fn last(record: &Record, index: usize) -> Option<(&Reading, Span)> {
    let entry = record.readings[index].entries.last()?;
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
        problems.push(
            Problem::error(Code::LighterThanEmpty, message.clone())
                .at(heavy_at, full_label.clone())
                .at(light_at, empty_label.clone())
                .help(say!(lab.words, "were the two swapped, is it another vessel, or is a digit wrong? weigh it again while you can")),
        );
        record.readings[full].impossible = Some(message.clone());
        record.readings[empty].impossible = Some(message);
    } else if !(0.1..=200.0).contains(&net) {
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

/// A volume below zero, a strange temperature, fewer digits than the instrument shows.
fn single(lab: &Lab, record: &mut Record, index: usize, problems: &mut Vec<Problem>) {
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
    if unit.dimension() == Unit::Kilopascal.dimension() && base(reading) > MOST_PRESSURE {
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
    let instrument = asked
        .instrument
        .map_or("", |index| lab.instruments[index].name.as_str());
    for entry in &record.readings[index].entries {
        few_decimals(
            &lab.words,
            entry,
            (asked.unit, decimals),
            instrument,
            problems,
        );
    }
}

/// A drying series: rising, not yet constant, or one value only.
fn drying(lab: &Lab, record: &Record, index: usize, problems: &mut Vec<Problem>) {
    let Some((_, asked)) = lab.readings().nth(index) else {
        return;
    };
    if asked.series.is_none() {
        return;
    }
    let mut values: Vec<(f64, Span)> = Vec::new();
    for entry in &record.readings[index].entries {
        if let Content::Value(reading) = &entry.content {
            values.push((base(reading), entry.span.clone()));
        }
    }
    let instrument = asked
        .instrument
        .and_then(|index| lab.instruments.get(index));
    let step = instrument
        .and_then(|i| Some(i.readability?.shifted(i.unit.power_to_base()).to_f64()))
        .unwrap_or(0.01);
    let limit = lab
        .policy
        .constant_mass
        .map_or(2.0 * step, crate::measure::Decimal::to_f64);
    // Half a step of slack: 105.70 − 105.68 is not 0.02 in binary.
    let slack = step / 2.0;
    for pair in values.windows(2) {
        if pair[1].0 - pair[0].0 > limit.max(2.0 * step) + slack {
            problems.push(
                Problem::warning(Code::DryingRises, say!(lab.words, "“{reading}” gained mass from one weighing to the next", reading = asked.label))
                    .at(pair[1].1.clone(), say!(lab.words, "heavier"))
                    .at(pair[0].1.clone(), say!(lab.words, "lighter"))
                    .help(say!(lab.words, "was it the same balance and the same vessel, cooled and dry outside? Weigh it once more")),
            );
        }
    }
    match &values[..] {
        [(_, at)] => problems.push(
            Problem::note(
                Code::OneDrying,
                say!(
                    lab.words,
                    "“{reading}” was weighed once, so nobody can tell whether it was dry",
                    reading = asked.label
                ),
            )
            .at(at.clone(), say!(lab.words, "the only weighing"))
            .help(say!(lab.words, "dry it again and weigh it again")),
        ),
        [.., (before, _), (after, at)] if before - after > limit + slack => problems.push(
            Problem::warning(
                Code::NotConstant,
                say!(
                    lab.words,
                    "“{reading}” was still losing mass at the last weighing",
                    reading = asked.label
                ),
            )
            .at(at.clone(), say!(lab.words, "the last weighing"))
            .help(say!(
                lab.words,
                "dry it again and weigh it again, until two weighings agree"
            )),
        ),
        _ => {}
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
