//! Sections that no data file has: what was meant is said, and days are read all the same.

use crate::lab::Lab;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::document::Shape;
use crate::problem::document::Table;
use crate::problem::suggest;
use crate::record::Record;
use crate::record::check::one_day;
use crate::say;

/// Sections that have a number.
const NUMBERED: [&str; 3] = ["day", "trial", "cause"];

/// The numbered sections of a heading whose name is not in small letters, `[Day.1]`; days are read all the same.
fn numbered(
    mut table: Table<'_>,
    (typed, meant): (&str, &str),
    lab: &Lab,
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    let words = &lab.words;
    for (number, span, value) in table.take_all() {
        let heading = format!("{typed}.{number}");
        let section = value.table(format!("[{heading}]"), span.clone());
        let help = if section.is_some() {
            say!(
                words,
                "did you mean [{name}]?",
                name = format!("{meant}.{number}")
            )
        } else {
            say!(words, "did you mean [{name}]?", name = format!("{meant}.1"))
        };
        let label = if section.is_some() && meant == "day" {
            say!(words, "read as [{name}]", name = format!("day.{number}"))
        } else {
            say!(words, "not read")
        };
        let named = if section.is_some() { &heading } else { typed };
        let message = say!(words, "a data file has no section [{key}]", key = named);
        problems.push(
            Problem::error(Code::UnknownSection, message)
                .at(span, label)
                .help(help),
        );
        match section {
            Some(section) if meant == "day" => {
                one_day(section, number.parse().ok(), lab, record, problems);
            }
            Some(_) => {}
            // `[Day]` without a number: one problem for all of its lines.
            None => return,
        }
    }
}

/// Sections nobody asked for; a day whose heading is misspelt is read all the same.
pub(super) fn strangers(
    root: &mut Table<'_>,
    lab: &Lab,
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    const SECTIONS: &[&str] = &[
        "who", "trial.2", "extra", "signs", "answers", "cause.1", "words",
    ];
    let days: Vec<String> = lab
        .days
        .iter()
        .map(|day| format!("day.{}", day.number))
        .collect();
    for (key, span, value) in root.take_all() {
        let joined = key.replace(['_', ' ', '-'], "").to_lowercase();
        if NUMBERED.contains(&joined.as_str())
            && let Some(table) = value.table(format!("[{key}]"), span.clone())
        {
            numbered(table, (&key, &joined), lab, record, problems);
            continue;
        }
        let day = joined
            .strip_prefix("day")
            .filter(|number| !number.is_empty());
        let words = &lab.words;
        let mut label = say!(words, "not read");
        if let (Some(day), Some(table)) = (day, value.table(format!("[{key}]"), span.clone())) {
            label = say!(words, "read as [{name}]", name = format!("day.{day}"));
            one_day(table, day.parse().ok(), lab, record, problems);
        }
        let known = SECTIONS
            .iter()
            .copied()
            .chain(days.iter().map(String::as_str));
        let near = day
            .map(|number| format!("day.{number}"))
            .or_else(|| suggest::closest(&key, known).map(str::to_owned));
        let is_reading = lab.readings().any(|(_, asked)| asked.name == key);
        let (message, help) = if is_reading {
            (
                say!(words, "`{key}` stands outside its day", key = key),
                say!(words, "move the line under the day it was read on"),
            )
        } else if matches!(value.shape(), Shape::Table) {
            let help = near.map_or_else(
                || say!(words, "sections are [who], [day.1] …, [trial.2] …, [extra], [signs], [answers], [cause.1] …, [words]"),
                |near| say!(words, "did you mean [{name}]?", name = near),
            );
            let message = say!(words, "a data file has no section [{key}]", key = key);
            (message, help)
        } else {
            (
                say!(words, "`{key}` stands in no section", key = key),
                say!(words, "move the line under the section it belongs to"),
            )
        };
        problems.push(
            Problem::error(Code::UnknownSection, message)
                .at(span, label)
                .help(help),
        );
    }
}
