//! Instruments, values from labels, and the readings of each day.

use crate::lab::Asked;
use crate::lab::Day;
use crate::lab::Given;
use crate::measure::Decimal;
use crate::measure::Instrument;
use crate::measure::Reading;
use crate::measure::Typed;
use crate::measure::Unit;
use crate::measure::foreign;
use crate::measure::typed;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::problem::document::Shape;
use crate::problem::document::Table;
use crate::problem::document::Value;
use crate::problem::suggest;
use crate::say;
use crate::words::Words;

/// The `[instrument.x]` tables.
pub(super) fn instruments(
    root: &mut Table<'_>,
    words: &Words,
    problems: &mut Vec<Problem>,
) -> Vec<Instrument> {
    let Some(mut all) = root.table("instrument", problems) else {
        return Vec::new();
    };
    let mut instruments = Vec::new();
    for (name, span, value) in all.take_all() {
        let Some(mut table) = value.table(format!("[instrument.{name}]"), span.clone()) else {
            problems.push(
                value.wrong_shape(&name, &format!("a section, written `[instrument.{name}]`")),
            );
            continue;
        };
        let unit = table
            .required_text("unit", problems)
            .and_then(|(text, span)| unit(&text, span, problems));
        let unit = unit.unwrap_or(Unit::Gram);
        let readability = width(&mut table, "readability", (unit, words), problems);
        let tolerance = width(&mut table, "tolerance", (unit, words), problems);
        table.finish(problems);
        instruments.push(Instrument {
            name,
            unit,
            readability,
            tolerance,
        });
    }
    instruments
}

/// A unit as written.
pub(super) fn unit(text: &str, span: Span, problems: &mut Vec<Problem>) -> Option<Unit> {
    if ["", "1", "count"].contains(&text.trim()) {
        return Some(Unit::One);
    }
    let unit = Unit::parse(text.trim());
    if unit.is_none() {
        let help = match (
            foreign::instead(text),
            suggest::closest(text, Unit::spellings()),
        ) {
            (None, Some(near)) => format!("did you mean {near}?"),
            _ => {
                "units are g, mg, µg, kg, mL, µL, L, mol, mol/L, g/mL, g/mol, °C, kPa, hPa, Pa, bar, atm, mmHg, Torr and %".to_owned()
            }
        };
        problems.push(
            Problem::error(
                Code::WrongUnit,
                format!("“{text}” is not a unit known here"),
            )
            .at(span, "here")
            .help(help),
        );
    }
    unit
}

/// A readability or tolerance, brought to the instrument's unit.
fn width(
    table: &mut Table<'_>,
    key: &'static str,
    (unit, words): (Unit, &Words),
    problems: &mut Vec<Problem>,
) -> Option<Decimal> {
    let value = table.take(key)?;
    let reading = quantity(&value, (key, words), problems)?;
    let own = reading.unit.unwrap_or(unit);
    if own.dimension() != unit.dimension() || reading.number.coefficient() <= 0 {
        problems.push(
            Problem::error(
                Code::WrongUnit,
                format!("`{key}` must be a step above zero in {}", unit.in_words()),
            )
            .at(value.inner_span(), "here")
            .help(format!("write it as \"0.01 {unit}\"")),
        );
        return None;
    }
    Some(own.converted(reading.number, unit))
}

/// With so many decimals, a comma in front of three digits is a decimal mark.
const PLACES_OF_THOUSANDS: i32 = 3;

/// A value typed between quotes or as a bare number; a comma means in it what it means in the readings of the lab's language.
pub(super) fn quantity(
    value: &Value<'_>,
    (key, words): (&str, &Words),
    problems: &mut Vec<Problem>,
) -> Option<Reading> {
    let text = match value.shape() {
        Shape::Text(text) => text,
        Shape::Number(text) => text,
        _ => {
            problems.push(value.wrong_shape(key, "a value between quotes, such as \"0.01 g\""));
            return None;
        }
    };
    // What is wrong with a lab description is said in English, whatever its language.
    let decimals = (words.decimal_mark() == ',').then_some(PLACES_OF_THOUSANDS);
    match typed::parse(text, decimals) {
        Ok(Typed::Value(reading)) => Some(reading),
        Ok(Typed::Empty | Typed::Missing(_)) => {
            problems.push(
                Problem::error(Code::NotANumber, format!("`{key}` has no value"))
                    .at(value.span(), "empty")
                    .help("write a number and its unit"),
            );
            None
        }
        Err(wrong) => {
            let span = super::check::within(&value.inner_span(), &wrong.span);
            problems.push(
                Problem::error(Code::NotANumber, wrong.message)
                    .at(span, "here")
                    .help(wrong.help),
            );
            None
        }
    }
}

/// The `[given]` table.
///
/// One that cannot be read is there all the same, as a plain 1: its name is known, and there is no lab from a description with
/// an error in it.
pub(super) fn givens(
    root: &mut Table<'_>,
    words: &Words,
    problems: &mut Vec<Problem>,
) -> Vec<Given> {
    let Some(mut table) = root.table("given", problems) else {
        return Vec::new();
    };
    let mut givens = Vec::new();
    for (name, span, value) in table.take_all() {
        let mut reading = quantity(&value, (&name, words), problems)
            .unwrap_or_else(|| Reading::plain(Decimal::new(1, 0), None));
        reading.unit.get_or_insert(Unit::One);
        givens.push(Given {
            name,
            value: reading,
            span,
        });
    }
    givens
}

/// The `[day.N]` tables, in order of N.
pub(super) fn days(
    root: &mut Table<'_>,
    (instruments, words): (&[Instrument], &Words),
    problems: &mut Vec<Problem>,
) -> Vec<Day> {
    let Some(mut all) = root.table("day", problems) else {
        problems.push(
            Problem::error(Code::MissingKey, "the file has no `[day.1]`")
                .at(0..0, "no day at all")
                .help("add `[day.1]` with a title and its readings"),
        );
        return Vec::new();
    };
    let mut days = Vec::new();
    for (key, span, value) in all.take_all() {
        let Some(mut table) = value.table(format!("[day.{key}]"), span.clone()) else {
            problems.push(value.wrong_shape(&key, "a section, written `[day.1]`"));
            continue;
        };
        let Ok(number @ 1..) = key.parse::<u32>() else {
            problems.push(
                Problem::error(Code::UnknownSection, format!("`day.{key}` is not a day"))
                    .at(span, "not a whole number")
                    .help("number the days: `[day.1]`, `[day.2]`"),
            );
            continue;
        };
        let title = table.text("title", problems).map_or_else(
            || say!(words, "Day {number}", number = number),
            |(text, _)| text.into_owned(),
        );
        let notice = table
            .texts("notice", problems)
            .into_iter()
            .map(|(text, _)| text)
            .collect();
        let mut readings = Vec::new();
        if let Some(list) = table.take("readings") {
            match list.shape() {
                Shape::List(items) => readings.extend(
                    items
                        .iter()
                        .filter_map(|item| asked(item, instruments, problems)),
                ),
                _ => problems.push(list.wrong_shape(
                    "readings",
                    "a list: readings = [ { name = \"…\", label = \"…\" } ]",
                )),
            }
        }
        table.finish(problems);
        days.push(Day {
            number,
            title,
            readings,
            notice,
        });
    }
    days.sort_by_key(|day| day.number);
    days
}

/// One `{ name = …, label = … }`.
fn asked(
    item: &Value<'_>,
    instruments: &[Instrument],
    problems: &mut Vec<Problem>,
) -> Option<Asked> {
    let Some(mut table) = item.table("a reading".to_owned(), item.span()) else {
        problems.push(item.wrong_shape(
            "readings",
            "a reading in braces: { name = \"…\", label = \"…\" }",
        ));
        return None;
    };
    let name = table.required_text("name", problems);
    let label = table
        .text("label", problems)
        .map(|(text, _)| text.into_owned());
    let note = table
        .text("note", problems)
        .map(|(text, _)| text.into_owned());
    let written_unit = table
        .text("unit", problems)
        .and_then(|(text, span)| unit(&text, span, problems));
    let named = table
        .text("instrument", problems)
        .map(|(text, span)| (text.into_owned(), span));
    let series = table
        .take("series")
        .and_then(|value| series(&value, problems));
    let span = item.span();
    table.finish(problems);
    let (name, name_span) = name?;
    if !name.starts_with(|c: char| c.is_ascii_lowercase())
        || !name
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
    {
        problems.push(
            Problem::error(
                Code::SubstanceKey,
                format!("`{name}` cannot be the name of a reading"),
            )
            .at(name_span, "here")
            .help("use lower-case letters, digits and underscores, such as dish_empty"),
        );
        return None;
    }
    let instrument = if let Some((wanted, span)) = &named {
        let found = instruments
            .iter()
            .position(|instrument| instrument.name == *wanted);
        if found.is_none() {
            let names = instruments
                .iter()
                .map(|instrument| instrument.name.as_str());
            let help = suggest::closest(wanted, names).map_or_else(
                || format!("add `[instrument.{wanted}]`"),
                |near| format!("did you mean `{near}`?"),
            );
            problems.push(
                Problem::error(
                    Code::UnknownInstrument,
                    format!("there is no instrument `{wanted}`"),
                )
                .at(span.clone(), "not known")
                .help(help),
            );
        }
        found
    } else {
        let unit = written_unit
            .or(instruments.first().map(|instrument| instrument.unit))
            .unwrap_or(Unit::Gram);
        let mut fitting = instruments
            .iter()
            .enumerate()
            .filter(|(_, i)| i.unit.dimension() == unit.dimension());
        let first = fitting.next().map(|(index, _)| index);
        if let (Some(first), Some((second, _))) = (first, fitting.next()) {
            problems.push(
                Problem::error(
                    Code::InstrumentNeeded,
                    format!("`{name}` can be read on two instruments"),
                )
                .at(
                    span.clone(),
                    format!(
                        "{} or {}?",
                        instruments[first].name, instruments[second].name
                    ),
                )
                .help(format!(
                    "add `instrument = \"{}\"`",
                    instruments[first].name
                )),
            );
        }
        first
    };
    let unit = written_unit
        .or(instrument.map(|index| instruments[index].unit))
        .unwrap_or(Unit::Gram);
    if let Some(index) = instrument
        && instruments[index].unit.dimension() != unit.dimension()
    {
        problems.push(
            Problem::error(
                Code::UnitMismatch,
                format!(
                    "`{name}` is in {}, but {} reads {}",
                    unit.in_words(),
                    instruments[index].name,
                    instruments[index].unit
                ),
            )
            .at(span, "here")
            .help("change the unit or the instrument"),
        );
    }
    let label = label.unwrap_or_else(|| name.replace('_', " "));
    Some(Asked {
        name: name.into_owned(),
        label,
        note,
        unit,
        instrument,
        series,
    })
}

fn series(value: &Value<'_>, problems: &mut Vec<Problem>) -> Option<usize> {
    if let Shape::Number(text) = value.shape()
        && let Ok(count @ 2..=30) = text.parse()
    {
        return Some(count);
    }
    problems.push(
        Problem::error(
            Code::WrongShape,
            "`series` must be a whole number from 2 to 30",
        )
        .at(value.span(), "here")
        .help("write the number of boxes: series = 4"),
    );
    None
}
