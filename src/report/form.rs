//! The data file of a lab as a form by day, blank or filled; students type only between quote marks.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::lab::Asked;
use crate::lab::Lab;
use crate::report::outcome;
use crate::report::steps::with_unit;
use crate::report::tables::written;
use crate::say;
use crate::working::Graph;

/// Who a form is for and what stands in it; empty texts leave a box to fill.
#[derive(Debug, Clone, Default)]
pub struct FormFor {
    /// Group code.
    pub group: String,
    /// Section.
    pub section: String,
    /// Names, where a class list gives them.
    pub names: Vec<String>,
    /// Texts in the boxes, as typed: one, or one for each box of a series.
    pub filled: BTreeMap<Place, Vec<String>>,
}

/// A box of a form.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// `share_words`.
    ShareWords,
    /// The date of a day.
    Date(u32),
    /// What was seen on a day.
    Seen(u32),
    /// A reading by name, of the days or of the first trial.
    Reading(String),
    /// A reading of a further trial, by the trial's number and the reading's name.
    OfTrial(u32, String),
    /// A reading nobody planned, by a name of letters, digits, `_` and `-`.
    Extra(String),
    /// A sign by id.
    Sign(String),
    /// An answer by the id of its step.
    Answer(String),
    /// A line of a cause, by number and [one of its keys](CAUSE_KEYS).
    Cause(usize, &'static str),
    /// Prose by [key](prose).
    Words(String),
}

/// The lines of a cause.
pub const CAUSE_KEYS: [&str; 4] = ["what", "evidence", "effect", "next_time"];

/// Blocks of causes that a form has, used or not.
pub const CAUSES: usize = 3;

/// The form of a lab. `lab_is` is what goes behind `lab =`: the id, or a path ending in `.toml`.
#[must_use]
pub fn form(lab: &Lab, graph: &Graph, lab_is: &str, whose: &FormFor) -> String {
    let mut form = String::new();
    // Writing to a String cannot fail.
    let _ = write_form(&mut form, lab, graph, lab_is, whose);
    form
}

/// Every prose box of a lab: its key, and what it asks for.
#[must_use]
pub fn prose(lab: &Lab) -> Vec<(String, String)> {
    let words = &lab.words;
    let usual = [
        ("purpose", words.say("what this experiment was to find out")),
        ("safety", words.say("what you did to work safely")),
        ("procedure", words.say("what you really did")),
        ("discussion", words.say("why the result differs")),
        ("conclusion", words.say("what you found, with your numbers")),
    ];
    let usual = usual.map(|(key, note)| (key.to_owned(), note.to_owned()));
    let asked = lab.text.questions.iter().enumerate();
    let asked =
        asked.map(|(place, question)| (format!("question_{}", place + 1), question.clone()));
    usual.into_iter().chain(asked).collect()
}

impl FormFor {
    /// The text of a box of one line, between quotes.
    fn line(&self, place: &Place) -> String {
        match self.filled.get(place).map(Vec::as_slice) {
            None | Some([]) => "\"\"".to_owned(),
            Some([only]) => quoted(only),
            Some(several) => list(several, several.len()),
        }
    }

    /// The line of a reading in a trial: name, boxes, what is read.
    fn reading(&self, asked: &Asked, trial: u32) -> (String, String, String) {
        let place = if trial == 1 {
            Place::Reading(asked.name.clone())
        } else {
            Place::OfTrial(trial, asked.name.clone())
        };
        let boxes = match asked.series {
            None => self.line(&place),
            Some(count) => {
                let texts = self.filled.get(&place).map_or(&[][..], Vec::as_slice);
                list(texts, count)
            }
        };
        let note = asked.note.as_ref().map_or_else(
            || asked.label.clone(),
            |note| format!("{}; {note}", asked.label),
        );
        (asked.name.clone(), boxes, note)
    }

    /// The text of a box of several lines, if there is any.
    fn block(&self, place: &Place) -> Option<&str> {
        let text = self.filled.get(place)?.first()?;
        // A reader cuts off these, and no other space.
        let blank = text.trim_matches([' ', '\t', '\n', '\r']).is_empty();
        (!blank).then_some(text)
    }
}

/// A list with at least so many boxes.
fn list(texts: &[String], boxes: usize) -> String {
    let blank = std::iter::repeat_n("\"\"".to_owned(), boxes.saturating_sub(texts.len()));
    let quoted: Vec<String> = texts.iter().map(|text| quoted(text)).chain(blank).collect();
    format!("[{}]", quoted.join(", "))
}

fn write_form(
    form: &mut String,
    lab: &Lab,
    graph: &Graph,
    lab_is: &str,
    whose: &FormFor,
) -> std::fmt::Result {
    let words = &lab.words;
    let head = say!(words, "LAB DATA: {title}", title = comment(&lab.title));
    writeln!(form, "# {head}")?;
    let how = [
        words.say("Type only between the quote marks. Leave \"\" until you have done that step."),
        words.say(
            "Write what the balance shows: every digit, and the unit.   Example: \"104.18 g\"",
        ),
        words.say("Lost it? Write \"lost\". Wrote it wrong? \"105.68 g (was 106.58, misread)\""),
    ];
    for line in how {
        writeln!(form, "# {line}")?;
    }
    writeln!(form)?;
    writeln!(form, "[who]")?;
    let rows = [
        ("lab", quoted(lab_is), words.say("do not change")),
        ("section", quoted(&whose.section), ""),
        (
            "group",
            quoted(&whose.group),
            words.say("the code your teacher gave you"),
        ),
        (
            "names",
            list(&whose.names, if whose.names.is_empty() { 2 } else { 0 }),
            words.say("stays on your own report; never on class pages"),
        ),
        (
            "share_words",
            match whose.line(&Place::ShareWords) {
                empty if empty == "\"\"" => quoted(words.say("no")),
                answer => answer,
            },
            words.say("may your observations and discussion appear on the class pages?"),
        ),
    ];
    lines(
        form,
        &rows.map(|(name, value, note)| (name.to_owned(), value, note.to_owned())),
    )?;
    for day in &lab.days {
        writeln!(
            form,
            "\n{:<38}# {}",
            format!("[day.{}]", day.number),
            comment(&day.title)
        )?;
        let date = whose.line(&Place::Date(day.number));
        let mut rows = vec![("date".to_owned(), date, String::new())];
        if lab.trials == 1 {
            rows.extend(day.readings.iter().map(|asked| whose.reading(asked, 1)));
        }
        lines(form, &rows)?;
        let notice = if day.notice.is_empty() {
            String::new()
        } else {
            format!(" {}", day.notice.join(" · "))
        };
        let asks = words.say("What did you see?");
        writeln!(form, "# {asks}{}", comment(&notice))?;
        match whose.block(&Place::Seen(day.number)) {
            Some(text) => writeln!(form, "seen = {}", block(text))?,
            None => writeln!(form, "seen = '''\n\n\n'''")?,
        }
    }
    let filled = whose.filled.keys().filter_map(|place| match place {
        Place::OfTrial(trial, _) => Some(*trial),
        _ => None,
    });
    let last = filled.max().unwrap_or(1).max(lab.trials);
    // Where the lab asks for one, the readings of the first stand with its days.
    let first = if lab.trials > 1 { 1 } else { 2 };
    for trial in first..=last {
        let head = format!("[trial.{trial}]");
        let note = say!(words, "readings of trial {trial}", trial = trial);
        writeln!(form, "\n{head:<38}# {note}")?;
        let rows: Vec<_> = lab
            .readings()
            .map(|(_, asked)| whose.reading(asked, trial))
            .collect();
        lines(form, &rows)?;
    }
    writeln!(
        form,
        "\n{:<38}# {}",
        "[extra]",
        words.say("readings nobody planned: name = \"value\"")
    )?;
    let extra = whose.filled.keys().filter_map(|place| match place {
        Place::Extra(name) => Some((name.clone(), whose.line(place), String::new())),
        _ => None,
    });
    lines(form, &extra.collect::<Vec<_>>())?;
    if !lab.signs.is_empty() {
        let note = words.say("yes, no, or leave empty");
        writeln!(form, "\n{:<38}# {note}", "[signs]")?;
        let rows: Vec<_> = lab
            .signs
            .iter()
            .map(|sign| {
                let answer = whose.line(&Place::Sign(sign.id.clone()));
                (sign.id.clone(), answer, sign.question.clone())
            })
            .collect();
        lines(form, &rows)?;
    }
    let asked: Vec<_> = graph
        .steps()
        .iter()
        .filter_map(|step| {
            let place = Place::Answer(step.id.clone());
            let note = step
                .asked
                .clone()
                .or_else(|| whose.filled.get(&place).map(|_| step.title.clone()))?;
            let note = with_unit(words, &note, step);
            Some((step.id.clone(), whose.line(&place), note))
        })
        .collect();
    if !asked.is_empty() {
        let note = if lab.trials > 1 {
            words.say("your own working of trial 1: number and unit")
        } else {
            words.say("your own working: number and unit")
        };
        writeln!(form, "\n{:<38}# {note}", "[answers]")?;
        // Purities and the like are on the label, not on the balance: the working needs them all the same.
        for given in graph.told_givens() {
            let (name, value) = (given.name.replace('_', " "), written(words, &given.value));
            let line = format!("{}: {name} = {value}", words.say("given"));
            writeln!(form, "# {}", comment(&line))?;
        }
        lines(form, &asked)?;
    }
    let last = whose.filled.keys().filter_map(|place| match place {
        Place::Cause(number, _) => Some(*number),
        _ => None,
    });
    for cause in 1..=last.max().unwrap_or(0).max(CAUSES) {
        let head = format!("[cause.{cause}]");
        if cause == 1 {
            let note =
                words.say("what made the result differ? one block each; leave spare blocks empty");
            writeln!(form, "\n{head:<39}# {note}")?;
        } else {
            writeln!(form, "\n{head}")?;
        }
        let effect = comment(&outcome::effect_note(graph, words));
        let notes = if cause == 1 {
            [
                words.say("one of the signs, or your own words"),
                words.say("which day, what you saw or read"),
                &effect,
                words.say("what you would do"),
            ]
        } else {
            [""; 4]
        };
        let rows: Vec<_> = CAUSE_KEYS
            .iter()
            .zip(notes)
            .map(|(name, note)| {
                let text = whose.line(&Place::Cause(cause, name));
                ((*name).to_owned(), text, note.to_owned())
            })
            .collect();
        lines(form, &rows)?;
    }
    let note = words.say("your report's text, between ''' and '''");
    writeln!(form, "\n{:<38}# {note}", "[words]")?;
    for (key, note) in prose(lab) {
        writeln!(form, "# {}", comment(&note))?;
        match whose.block(&Place::Words(key.clone())) {
            Some(text) => writeln!(form, "{key} = {}", block(text))?,
            None => writeln!(form, "{key} = '''\n\n'''")?,
        }
    }
    Ok(())
}

/// The widest value that others are lined up with.
const WIDEST: usize = 60;

/// Lines of one section, values and comments aligned.
fn lines(form: &mut String, rows: &[(String, String, String)]) -> std::fmt::Result {
    let name = rows
        .iter()
        .map(|(name, _, _)| name.chars().count())
        .max()
        .unwrap_or(0);
    let value = rows
        .iter()
        .map(|(_, value, _)| value.chars().count())
        // A long text pushes its own note out, not everybody's.
        .filter(|width| *width <= WIDEST)
        .max()
        .unwrap_or(0)
        .max(22);
    for (key, text, note) in rows {
        if note.is_empty() {
            writeln!(form, "{key:<name$} = {text}")?;
        } else {
            writeln!(form, "{key:<name$} = {text:<value$}  # {}", comment(note))?;
        }
    }
    Ok(())
}

/// A text as one comment line.
fn comment(text: &str) -> String {
    text.split(|c: char| c.is_control())
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

/// A text between quotes that reads back as itself: quotes, backslashes and control characters escaped.
fn quoted(text: &str) -> String {
    format!("\"{}\"", escaped(text, false))
}

/// A text of several lines that reads back as itself but for blanks at its ends: as it is, where it can stand so.
fn block(text: &str) -> String {
    let plain = |c: char| c == '\n' || c == '\t' || !c.is_control();
    if text.chars().all(plain) && !text.contains("'''") {
        format!("'''\n{text}\n'''")
    } else {
        format!("\"\"\"\n{}\n\"\"\"", escaped(text, true))
    }
}

/// A text with escapes for what may not stand between double quotes, and for three single ones, which would look like
/// the start of a block.
fn escaped(text: &str, lines: bool) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            '\n' if lines => out.push(c),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            '\'' if out.ends_with("''") => out.push_str("\\u0027"),
            // What is no character of a line at all: its number.
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out
}
