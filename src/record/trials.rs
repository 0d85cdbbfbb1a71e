//! The `[trial.N]` sections: the same experiment done again by one group, each time with readings of its own.

use std::collections::BTreeMap;

use crate::lab::Lab;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::problem::document::Table;
use crate::record::Record;
use crate::record::Recorded;
use crate::record::Trial;
use crate::record::check;
use crate::say;
use crate::words::Words;

/// Reads the trials. `[trial.1]` adds to the readings of the days; a later one takes from the days what it does not name.
pub(super) fn read(
    root: &mut Table<'_>,
    lab: &Lab,
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    let Some(mut all) = root.table("trial", problems) else {
        return;
    };
    let words = &lab.words;
    let common = record.readings.clone();
    let mut numbers: BTreeMap<u32, Span> = BTreeMap::new();
    for (key, span, value) in all.take_all() {
        let Some(table) = value.table(format!("[trial.{key}]"), span.clone()) else {
            problems.push(value.wrong_section(&key, "trial.1"));
            continue;
        };
        let Ok(number @ 1..=99) = key.parse::<u32>() else {
            problems.push(
                Problem::error(
                    Code::UnknownSection,
                    say!(words, "`{key}` is no number of a trial", key = key),
                )
                .at(span, words.say("not read"))
                .help(words.say("number the trials: [trial.1], [trial.2], …")),
            );
            continue;
        };
        if let Some(first) = numbers.insert(number, span.clone()) {
            problems.push(
                Problem::error(
                    Code::DoubledKey,
                    say!(words, "trial {number} has two sections", number = number),
                )
                .at(span, words.say("this one is not read"))
                .at(first, words.say("the other one"))
                .help(words.say("number the trials one after the other: [trial.1], [trial.2], …")),
            );
            continue;
        }
        if number == 1 {
            one(table, lab, &mut record.readings, problems);
        } else {
            record
                .trials
                .extend(further(number, table, lab, &common, problems));
        }
    }
    record.trials.sort_by_key(|trial| trial.number);
}

/// A further trial; `None` while nothing is filled in in it.
fn further(
    number: u32,
    mut table: Table<'_>,
    lab: &Lab,
    days: &[Recorded],
    problems: &mut Vec<Problem>,
) -> Option<Trial> {
    let mut readings = vec![Recorded::default(); days.len()];
    let mut common = vec![true; days.len()];
    for (name, name_span, value) in table.take_all() {
        if of_a_day(&name, &name_span, &lab.words, problems) {
            continue;
        }
        if let Some(index) = lab.reading_index(&name) {
            common[index] = false;
        }
        check::reading(
            lab,
            &mut readings,
            None,
            (&name, name_span),
            &value,
            problems,
        );
    }
    let filled = readings.iter().any(|recorded| !recorded.entries.is_empty());
    for (index, recorded) in readings.iter_mut().enumerate() {
        if common[index] {
            recorded.clone_from(&days[index]);
        }
    }
    filled.then_some(Trial {
        number,
        readings,
        common,
    })
}

fn one(mut table: Table<'_>, lab: &Lab, readings: &mut [Recorded], problems: &mut Vec<Problem>) {
    for (name, name_span, value) in table.take_all() {
        if of_a_day(&name, &name_span, &lab.words, problems) {
            continue;
        }
        check::reading(lab, readings, None, (&name, name_span), &value, problems);
    }
}

/// Whether a line belongs to a day and not to a trial; says so.
fn of_a_day(name: &str, span: &Span, words: &Words, problems: &mut Vec<Problem>) -> bool {
    let found = ["date", "seen"].contains(&name);
    if found {
        let message = say!(words, "a trial has no `{name}` of its own", name = name);
        problems.push(
            Problem::error(Code::UnknownReading, message)
                .at(span.clone(), words.say("not read"))
                .help(words.say("write it under the day, such as [day.1]")),
        );
    }
    found
}
