//! Tables of what stands in the file: readings, unplanned readings, signs; and the atomic weights used.

use std::collections::BTreeSet;

use crate::chem::Element;
use crate::measure::Reading;
use crate::measure::Unit;
use crate::measure::typed::Time;
use crate::measure::uncertainty::Doubt;
use crate::record::Content;
use crate::report::compose::Case;
use crate::report::model::Column;
use crate::report::model::Table;
use crate::report::trials;
use crate::say;
use crate::words::Words;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::show;

/// A column of words.
pub(in crate::report) fn words(head: &str) -> Column {
    Column {
        head: head.to_owned(),
        numeric: false,
    }
}

/// A column of numbers.
pub(in crate::report) fn figures(head: &str) -> Column {
    Column {
        head: head.to_owned(),
        numeric: true,
    }
}

/// Every reading of the lab: value, limits, day.
pub(in crate::report) fn data(case: &Case<'_>) -> Table {
    let wording = &case.lab.words;
    let instruments = &case.worked.instruments;
    let mut rows = Vec::new();
    for (index, (day, asked)) in case.lab.readings().enumerate() {
        let recorded = &case.record.readings[index];
        let instrument = asked.instrument.and_then(|index| instruments.get(index));
        let several = recorded.entries.len() > 1;
        if recorded.entries.is_empty() {
            rows.push(vec![
                asked.label.clone(),
                say!(wording, "not yet"),
                String::new(),
                day.to_string(),
                String::new(),
            ]);
        }
        for (place, entry) in recorded.entries.iter().enumerate() {
            let label = if several {
                say!(
                    wording,
                    "{reading}, weighing {number}",
                    reading = asked.label,
                    number = place + 1
                )
            } else {
                asked.label.clone()
            };
            let (value, limits, mut remark) = match &entry.content {
                Content::Value(reading) => (
                    written(wording, reading),
                    limits(wording, reading, instrument),
                    remark(wording, reading),
                ),
                Content::Missing(word) => {
                    (word.clone(), String::new(), say!(wording, "no reading"))
                }
                Content::Unreadable => (
                    entry.typed.clone(),
                    String::new(),
                    say!(wording, "could not be read"),
                ),
            };
            let counts = recorded
                .counting()
                .is_some_and(|counting| std::ptr::eq(counting, entry));
            if recorded.impossible.is_some() && counts {
                let why = if recorded.by_result {
                    wording.say("does not go with other readings, not used")
                } else {
                    wording.say("impossible, not used")
                };
                remark = join(&remark, why);
            }
            rows.push(vec![label, value, limits, day.to_string(), remark]);
        }
    }
    let caption = say!(
        wording,
        "Readings{of_trial} as written down. ± is half a step of the display, or what the instrument or the reading states.",
        of_trial = trials::of_the_first(case)
    );
    let mut columns = vec![
        words(wording.say("reading")),
        figures(wording.say("value")),
        figures("±"),
        words(wording.say("day")),
        words(wording.say("remark")),
    ];
    if rows.iter().all(|row| row[4].is_empty()) {
        columns.pop();
        for row in &mut rows {
            row.pop();
        }
    }
    Table {
        caption,
        columns,
        rows,
    }
}

/// `104.18 g`, with `~` when read off roughly.
pub(in crate::report) fn value(reading: &Reading) -> String {
    written(&Words::english(), reading)
}

/// A reading in the words of a language.
pub(in crate::report) fn written(wording: &Words, reading: &Reading) -> String {
    let number = wording.number(&reading.number.to_string());
    let text = show::with_unit(&number, reading.unit.unwrap_or(Unit::One));
    if reading.approximate {
        say!(wording, "about {amount}", amount = text)
    } else {
        text
    }
}

/// The half-width of a reading's limits, in its own unit.
fn limits(
    wording: &Words,
    reading: &Reading,
    instrument: Option<&crate::measure::Instrument>,
) -> String {
    let unit = reading.unit.unwrap_or(Unit::One);
    let half = unit.from_base(Doubt::of_reading(reading, instrument).half_width);
    show::doubt_number(half).map_or_else(String::new, |number| show::amount(wording, number, unit))
}

fn remark(wording: &Words, reading: &Reading) -> String {
    let time = match &reading.time {
        Some(Time::OfDay(time)) => say!(wording, "at {time}", time = time),
        Some(Time::Since(_)) | None => String::new(),
    };
    join(&time, reading.note.as_deref().unwrap_or_default())
}

fn join(a: &str, b: &str) -> String {
    [a, b]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join("; ")
}

/// Readings nobody planned.
pub(in crate::report) fn extra(case: &Case<'_>) -> Option<Table> {
    let wording = &case.lab.words;
    let rows: Vec<Vec<String>> = case
        .record
        .extra
        .iter()
        .map(|(name, text)| vec![name.replace('_', " "), text.clone()])
        .collect();
    (!rows.is_empty()).then(|| Table {
        caption: say!(wording, "Readings nobody planned, as written down."),
        columns: vec![words(wording.say("reading")), words(wording.say("value"))],
        rows,
    })
}

/// Questions about the bench with their answers.
pub(in crate::report) fn signs(case: &Case<'_>) -> Option<Table> {
    let wording = &case.lab.words;
    let asked = case.lab.signs.iter().zip(&case.record.signs);
    let rows: Vec<Vec<String>> = asked
        .map(|(sign, (id, answer))| {
            let said = match answer {
                None => wording.say("not answered"),
                Some(true) => wording.say("yes"),
                Some(false) => wording.say("no"),
            };
            let said = match case.record.sign_remark(id) {
                Some(remark) => say!(
                    wording,
                    "{answer} (“{remark}”)",
                    answer = said,
                    remark = remark
                ),
                None => said.to_owned(),
            };
            vec![sign.question.clone(), said]
        })
        .collect();
    let any = case.record.signs.iter().any(|(_, answer)| answer.is_some());
    any.then(|| Table {
        caption: say!(wording, "Signs looked for at the bench."),
        columns: vec![words(wording.say("question")), words(wording.say("answer"))],
        rows,
    })
}

/// The atomic weights that entered the working.
pub(in crate::report) fn atomic_weights(case: &Case<'_>) -> Table {
    let mut elements: BTreeSet<Element> = BTreeSet::new();
    for step in case.graph.steps() {
        step.expression.visit(&mut |part| {
            if let Expression::Constant(Constant::MolarMass(formula)) = part {
                elements.extend(formula.atoms().iter().map(|(element, _)| *element));
            }
        });
    }
    let wording = &case.lab.words;
    let weights = &case.lab.atomic_weights;
    let rows = elements.into_iter().filter_map(|element| {
        let weight = weights.get(element)?;
        Some(vec![
            wording.say(element.name()).to_owned(),
            element.symbol().to_owned(),
            wording.number(&weight.value.to_string()),
            wording.number(&weight.half_width.to_string()),
        ])
    });
    Table {
        caption: say!(wording, "Atomic weights used, g/mol."),
        columns: vec![
            words(wording.say("element")),
            words(wording.say("symbol")),
            figures(wording.say("weight")),
            figures("±"),
        ],
        rows: rows.collect(),
    }
}
