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

/// Reads the trials. `[trial.1]` adds to the readings of the days; a later one takes from the days what it does not name.
pub(super) fn read(
    root: &mut Table<'_, '_>,
    lab: &Lab,
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    let Some(mut all) = root.table("trial", problems) else {
        return;
    };
    let common = record.readings.clone();
    let mut numbers: BTreeMap<u32, Span> = BTreeMap::new();
    for (key, span, value) in all.take_all() {
        let Some(table) = value.table(format!("[trial.{key}]"), span.clone()) else {
            problems.push(
                value.wrong_shape(&key, "a section, written `[trial.1]` on a line of its own"),
            );
            continue;
        };
        let Ok(number @ 1..=99) = key.parse::<u32>() else {
            problems.push(
                Problem::error(
                    Code::UnknownSection,
                    format!("`{key}` is no number of a trial"),
                )
                .at(span, "not read")
                .help("number the trials: [trial.1], [trial.2], …"),
            );
            continue;
        };
        if let Some(first) = numbers.insert(number, span.clone()) {
            problems.push(
                Problem::error(Code::DoubledKey, format!("trial {number} has two sections"))
                    .at(span, "this one is not read")
                    .at(first, "the other one")
                    .help("number the trials one after the other: [trial.1], [trial.2], …"),
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
    mut table: Table<'_, '_>,
    lab: &Lab,
    days: &[Recorded],
    problems: &mut Vec<Problem>,
) -> Option<Trial> {
    let mut readings = vec![Recorded::default(); days.len()];
    let mut common = vec![true; days.len()];
    for (name, name_span, value) in table.take_all() {
        if of_a_day(&name, &name_span, problems) {
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

fn one(
    mut table: Table<'_, '_>,
    lab: &Lab,
    readings: &mut [Recorded],
    problems: &mut Vec<Problem>,
) {
    for (name, name_span, value) in table.take_all() {
        if of_a_day(&name, &name_span, problems) {
            continue;
        }
        check::reading(lab, readings, None, (&name, name_span), &value, problems);
    }
}

/// Whether a line belongs to a day and not to a trial; says so.
fn of_a_day(name: &str, span: &Span, problems: &mut Vec<Problem>) -> bool {
    let found = ["date", "seen"].contains(&name);
    if found {
        let message = format!("a trial has no `{name}` of its own");
        problems.push(
            Problem::error(Code::UnknownReading, message)
                .at(span.clone(), "not read")
                .help("write it under the day, such as [day.1]"),
        );
    }
    found
}
