//! The blank data file of a lab: a form by day; students type only between quote marks.

use std::fmt::Write as _;

use crate::lab::Lab;
use crate::working::Graph;

/// Who a form is for; empty texts leave a box to fill.
#[derive(Debug, Clone, Default)]
pub struct FormFor {
    /// Group code.
    pub group: String,
    /// Section.
    pub section: String,
    /// Names, where a class list gives them.
    pub names: Vec<String>,
}

/// The blank form of a lab. `lab_is` is what goes behind `lab =`: the id, or a path ending in `.toml`.
#[must_use]
pub fn blank(lab: &Lab, graph: &Graph, lab_is: &str, whose: &FormFor) -> String {
    let mut form = String::new();
    // Writing to a String cannot fail.
    let _ = write_form(&mut form, lab, graph, lab_is, whose);
    form
}

/// Every prose box of a lab: its key, and what it asks for.
#[must_use]
pub fn prose(lab: &Lab) -> Vec<(String, String)> {
    let usual = [
        ("purpose", "what this experiment was to find out"),
        ("safety", "what you did to work safely"),
        ("procedure", "what you really did"),
        ("discussion", "why the result differs"),
        ("conclusion", "what you found, with your numbers"),
    ];
    let usual = usual.map(|(key, note)| (key.to_owned(), note.to_owned()));
    let asked = lab.text.questions.iter().enumerate();
    let asked =
        asked.map(|(place, question)| (format!("question_{}", place + 1), question.clone()));
    usual.into_iter().chain(asked).collect()
}

/// The list of names, with boxes where there are none.
fn names(names: &[String]) -> String {
    if names.is_empty() {
        return "[\"\", \"\"]".to_owned();
    }
    let quoted: Vec<String> = names.iter().map(|name| quoted(name)).collect();
    format!("[{}]", quoted.join(", "))
}

fn write_form(
    form: &mut String,
    lab: &Lab,
    graph: &Graph,
    lab_is: &str,
    whose: &FormFor,
) -> std::fmt::Result {
    writeln!(form, "# LAB DATA: {}", comment(&lab.title))?;
    writeln!(
        form,
        "# Type only between the quote marks. Leave \"\" until you have done that step."
    )?;
    writeln!(
        form,
        "# Write what the balance shows: every digit, and the unit.   Example: \"104.18 g\""
    )?;
    writeln!(
        form,
        "# Lost it? Write \"lost\". Wrote it wrong? \"105.68 g (was 106.58, misread)\"\n"
    )?;
    writeln!(form, "[who]")?;
    let rows = [
        ("lab", quoted(lab_is), "do not change"),
        ("section", quoted(&whose.section), ""),
        (
            "group",
            quoted(&whose.group),
            "the code your teacher gave you",
        ),
        (
            "names",
            names(&whose.names),
            "stays on your own report; never on class pages",
        ),
        (
            "share_words",
            "\"no\"".to_owned(),
            "may your observations and discussion appear on the class pages?",
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
        let mut rows = vec![("date".to_owned(), "\"\"".to_owned(), String::new())];
        for asked in &day.readings {
            let boxes = asked.series.map_or_else(
                || "\"\"".to_owned(),
                |count| format!("[{}]", vec!["\"\""; count].join(", ")),
            );
            let note = asked.note.as_ref().map_or_else(
                || asked.label.clone(),
                |note| format!("{}; {note}", asked.label),
            );
            rows.push((asked.name.clone(), boxes, note));
        }
        lines(form, &rows)?;
        let notice = if day.notice.is_empty() {
            String::new()
        } else {
            format!(" {}", day.notice.join(" · "))
        };
        writeln!(form, "# What did you see?{}", comment(&notice))?;
        writeln!(form, "seen = '''\n\n\n'''")?;
    }
    writeln!(
        form,
        "\n{:<38}# readings nobody planned: name = \"value\"",
        "[extra]"
    )?;
    if !lab.signs.is_empty() {
        writeln!(form, "\n{:<38}# yes, no, or leave empty", "[signs]")?;
        let rows: Vec<_> = lab
            .signs
            .iter()
            .map(|sign| (sign.id.clone(), "\"\"".to_owned(), sign.question.clone()))
            .collect();
        lines(form, &rows)?;
    }
    let asked: Vec<_> = graph
        .steps()
        .iter()
        .filter_map(|step| Some((step.id.clone(), "\"\"".to_owned(), step.asked.clone()?)))
        .collect();
    if !asked.is_empty() {
        writeln!(
            form,
            "\n{:<38}# your own working: number and unit",
            "[answers]"
        )?;
        lines(form, &asked)?;
    }
    for cause in 1..=3 {
        let note = if cause == 1 {
            "                              # what made the result differ? one block each; leave spare blocks empty"
        } else {
            ""
        };
        writeln!(form, "\n[cause.{cause}]{note}")?;
        let notes = if cause == 1 {
            [
                "one of the signs, or your own words",
                "which day, what you saw or read",
                "higher or lower: how the percent yield came out",
                "what you would do",
            ]
        } else {
            [""; 4]
        };
        let names = ["what", "evidence", "effect", "next_time"];
        let rows: Vec<_> = names
            .iter()
            .zip(notes)
            .map(|(name, note)| ((*name).to_owned(), "\"\"".to_owned(), note.to_owned()))
            .collect();
        lines(form, &rows)?;
    }
    writeln!(
        form,
        "\n{:<38}# your report's text, between ''' and '''",
        "[words]"
    )?;
    for (key, note) in prose(lab) {
        writeln!(form, "# {}", comment(&note))?;
        writeln!(form, "{key} = '''\n\n'''")?;
    }
    Ok(())
}

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

/// A text between quotes, its own quotes and backslashes escaped.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
