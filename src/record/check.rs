//! Readings matched with their lab: from the sections of the file to a [`Record`], as complete as can be.

use crate::lab::Asked;
use crate::lab::Lab;
use crate::measure::Typed;
use crate::measure::typed;
use crate::measure::typed::Fault;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::problem::document::Shape;
use crate::problem::document::Table;
use crate::problem::document::Value;
use crate::problem::suggest;
use crate::record::Content;
use crate::record::Day;
use crate::record::Entry;
use crate::record::Record;
use crate::record::Recorded;
use crate::record::comments;
use crate::record::plausible;
use crate::record::read::Written;
use crate::record::signs;
use crate::record::strangers::strangers;
use crate::record::trials;
use crate::record::unread;
use crate::record::words;
use crate::say;

/// The record of a data file by its lab. `steps` are the ids that `[answers]` may use.
///
/// What is wrong is said and left out; the rest stands.
#[must_use]
pub fn check(written: &Written, lab: &Lab, steps: &[String]) -> (Record, Vec<Problem>) {
    let mut problems = written.problems.clone();
    let mut root = Table::root(&written.document);
    root.take("who");
    let mut record = blank(written, lab);
    days(&mut root, lab, &mut record, &mut problems);
    trials::read(&mut root, lab, &mut record, &mut problems);
    words::extra(&mut root, &lab.words, &mut record, &mut problems);
    signs::read(&mut root, lab, &mut record, &mut problems);
    words::answers(&mut root, (steps, &lab.words), &mut record, &mut problems);
    words::causes(&mut root, &mut record, &mut problems);
    words::prose(&mut root, &lab.words, &mut record, &mut problems);
    strangers(&mut root, lab, &mut record, &mut problems);
    comments::look(&written.source, lab, steps, &mut problems);
    plausible::look(lab, &mut record, &mut problems);
    (record, problems)
}

/// A record with nothing in it.
fn blank(written: &Written, lab: &Lab) -> Record {
    Record {
        who: written.who.clone(),
        days: lab
            .days
            .iter()
            .map(|day| Day {
                number: day.number,
                date: None,
                date_span: 0..0,
                seen: None,
            })
            .collect(),
        readings: lab.readings().map(|_| Recorded::default()).collect(),
        trials: Vec::new(),
        extra: Vec::new(),
        signs: lab
            .signs
            .iter()
            .map(|sign| (sign.id.clone(), None))
            .collect(),
        sign_remarks: Vec::new(),
        answers: Vec::new(),
        causes: Vec::new(),
        words: Vec::new(),
    }
}

/// The `[day.N]` sections.
fn days(root: &mut Table<'_>, lab: &Lab, record: &mut Record, problems: &mut Vec<Problem>) {
    let Some(mut all) = root.table("day", problems) else {
        return;
    };
    for (key, span, value) in all.take_all() {
        let Some(table) = value.table(format!("[day.{key}]"), span.clone()) else {
            problems.push(value.wrong_section(&key, "day.1"));
            continue;
        };
        let number = key
            .parse()
            .ok()
            .filter(|number| lab.days.iter().any(|day| day.number == *number));
        if number.is_none() {
            let known: Vec<String> = lab
                .days
                .iter()
                .map(|day| format!("[day.{}]", day.number))
                .collect();
            let words = &lab.words;
            problems.push(
                Problem::error(
                    Code::UnknownSection,
                    say!(words, "this lab has no day {key}", key = key),
                )
                .at(span, words.say("not a day of this lab"))
                .help(say!(words, "its days are {days}", days = known.join(", "))),
            );
        }
        one_day(table, number, lab, record, problems);
    }
}

/// The lines of a day; readings count whatever the day.
pub(super) fn one_day(
    mut table: Table<'_>,
    number: Option<u32>,
    lab: &Lab,
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    for (name, name_span, value) in table.take_all() {
        match name.as_str() {
            "date" => set_day(record, number, |day| {
                day.date = plain(&value);
                day.date_span = value.inner_span();
            }),
            "seen" => set_day(record, number, |day| day.seen = plain(&value)),
            _ => reading(
                lab,
                &mut record.readings,
                number,
                (&name, name_span),
                &value,
                problems,
            ),
        }
    }
}

fn set_day(record: &mut Record, number: Option<u32>, set: impl FnOnce(&mut Day)) {
    if let Some(day) = record
        .days
        .iter_mut()
        .find(|day| Some(day.number) == number)
    {
        set(day);
    }
}

/// A text that is not blank, trimmed at its ends.
pub(super) fn plain(value: &Value<'_>) -> Option<String> {
    match value.shape() {
        Shape::Text(text) => Some(text),
        Shape::Number(text) | Shape::Date(text) => Some(text),
        Shape::Flag(true) => Some("yes"),
        Shape::Flag(false) => Some("no"),
        Shape::List(_) | Shape::Table => None,
    }
    .map(|text| text.trim_matches(['\n', '\r', ' ', '\t']).to_owned())
    .filter(|text| !text.is_empty())
}

/// One reading's line.
pub(super) fn reading(
    lab: &Lab,
    readings: &mut [Recorded],
    day: Option<u32>,
    (name, name_span): (&str, Span),
    value: &Value<'_>,
    problems: &mut Vec<Problem>,
) {
    let words = &lab.words;
    let Some((index, (its_day, asked))) = lab
        .readings()
        .enumerate()
        .find(|(_, (_, asked))| asked.name == name)
    else {
        let names = lab
            .readings()
            .map(|(_, asked)| asked.name.as_str())
            .chain(["date", "seen"]);
        let help = suggest::closest(name, names).map_or_else(
            || say!(words, "put readings nobody planned under [extra]"),
            |near| say!(words, "did you mean `{name}`?", name = near),
        );
        problems.push(
            Problem::error(
                Code::UnknownReading,
                say!(
                    words,
                    "this lab has no reading called `{name}`",
                    name = name
                ),
            )
            .at(name_span, words.say("not known"))
            .help(help),
        );
        return;
    };
    if day.is_some_and(|day| day != its_day) {
        problems.push(
            Problem::warning(
                Code::WrongDay,
                say!(
                    words,
                    "`{name}` belongs to day {day}",
                    name = name,
                    day = its_day
                ),
            )
            .at(name_span.clone(), words.say("used all the same"))
            .help(say!(
                words,
                "move the line under [day.{day}]",
                day = its_day
            )),
        );
    }
    let boxes: Vec<Value<'_>> = match value.shape() {
        Shape::List(items) => items,
        Shape::Table | Shape::Flag(_) | Shape::Date(_) => {
            problems.push(unread::no_reading(words, name, value));
            return;
        }
        Shape::Text(_) | Shape::Number(_) => vec![*value],
    };
    let mut entries: Vec<Entry> = boxes
        .iter()
        .filter_map(|item| entry(lab, asked, item, problems))
        .collect();
    if asked.series.is_none() && entries.len() > 1 {
        problems.push(
            Problem::warning(
                Code::WrongShape,
                say!(words, "`{name}` has more than one reading", name = name),
            )
            .at(value.span(), words.say("the last one is used"))
            .help(words.say(
                "keep the one that counts; write the other as a remark: \"105.68 g (was 106.58)\"",
            )),
        );
    }
    if !readings[index].entries.is_empty() && !entries.is_empty() {
        problems.push(
            Problem::error(
                Code::DoubledKey,
                say!(words, "`{name}` stands in two sections", name = name),
            )
            .at(name_span, words.say("again here"))
            .help(words.say("keep one of them; the first is used")),
        );
        entries.clear();
    }
    readings[index].entries.extend(entries);
}

/// One box; `None` when it is empty.
fn entry(lab: &Lab, asked: &Asked, item: &Value<'_>, problems: &mut Vec<Problem>) -> Option<Entry> {
    let text = match item.shape() {
        Shape::Text(text) => text,
        Shape::Number(text) => text,
        _ => {
            problems.push(unread::no_reading(&lab.words, &asked.name, item));
            return None;
        }
    };
    let span = item.inner_span();
    let done = |content| {
        Some(Entry {
            content,
            typed: text.trim().to_owned(),
            span: span.clone(),
        })
    };
    let decimals = instrument_decimals(lab, asked);
    match typed::parse_as(text, decimals, asked.unit, &lab.words) {
        Ok(Typed::Empty) => None,
        Ok(Typed::Missing(word)) => {
            problems.extend(unread::number_in_words(
                &word,
                asked,
                (decimals, &lab.words),
                span.clone(),
            ));
            done(Content::Missing(word))
        }
        Ok(Typed::Value(mut reading)) => {
            let unit = *reading.unit.get_or_insert(asked.unit);
            if unit.dimension() == asked.unit.dimension() {
                return done(Content::Value(reading));
            }
            problems.push(unread::wrong_unit(&lab.words, asked, unit, span.clone()));
            done(Content::Unreadable)
        }
        Err(wrong) => {
            let help = if asked.series.is_some() && wrong.fault == Fault::SeveralNumbers {
                say!(
                    lab.words,
                    "each weighing has a box of its own between quote marks: [\"105.70 g\", \"105.68 g\"]"
                )
            } else {
                wrong.help
            };
            let place = if text.len() == span.len() {
                span.start + wrong.span.start..span.start + wrong.span.end
            } else {
                span.clone()
            };
            problems.push(
                Problem::error(Code::Reading, wrong.message)
                    .at(place, asked.label.clone())
                    .help(help),
            );
            done(Content::Unreadable)
        }
    }
}

/// Decimals the reading's instrument shows, where its description says.
pub(super) fn instrument_decimals(lab: &Lab, asked: &Asked) -> Option<i32> {
    let instrument = lab.instruments.get(asked.instrument?)?;
    Some(instrument.readability?.places())
}
