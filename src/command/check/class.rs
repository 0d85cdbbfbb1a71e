//! Many files at a glance: a row a group, and the slips that came up most, for re-teaching.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::Checked;
use crate::answers::Verdict;
use crate::answers::slips;
use crate::problem::Severity;

/// The widest a column of the table gets; what is longer goes on as it is.
const WIDEST: usize = 48;

/// The table, and the tally of slips under it.
pub(super) fn table(all: &[Checked]) -> String {
    let names = names(all);
    let rows: Vec<[String; 4]> = all
        .iter()
        .zip(&names)
        .map(|(checked, name)| {
            [
                name.clone(),
                state(checked),
                verdicts(checked),
                again(checked),
            ]
        })
        .collect();
    let heads = ["group", "file", "answers", "look again at"].map(str::to_owned);
    let mut text = String::new();
    let width = |column: usize| {
        let cells = rows
            .iter()
            .chain([&heads])
            .map(|row| row[column].chars().count());
        cells.max().unwrap_or(0).min(WIDEST)
    };
    let widths = [width(0), width(1), width(2)];
    for row in [&heads].into_iter().chain(&rows) {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(widths) {
            let _ = write!(line, "{cell:<width$}  ");
        }
        line.push_str(&row[3]);
        let _ = writeln!(text, "{}", line.trim_end());
    }
    text.push_str(&tally(all, &names));
    text
}

/// Each group's code, with its file where several have the same, or none.
pub(super) fn names(all: &[Checked]) -> Vec<String> {
    let code = |checked: &Checked| {
        checked
            .object
            .group
            .clone()
            .filter(|group| !group.trim().is_empty())
    };
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for group in all.iter().filter_map(code) {
        *counts.entry(group).or_default() += 1;
    }
    let one = |checked: &Checked| {
        let path = &checked.object.path;
        match code(checked) {
            Some(group) if counts.get(&group) == Some(&1) => group,
            Some(group) => format!("{group} {path}"),
            None => path.clone(),
        }
    };
    all.iter().map(one).collect()
}

/// Errors, missing readings and warnings.
fn state(checked: &Checked) -> String {
    let count = |severity| {
        checked
            .problems
            .iter()
            .filter(|problem| problem.severity == severity)
            .count()
    };
    let mut parts = Vec::new();
    for (number, word, words) in [
        (count(Severity::Error), "error", "errors"),
        (checked.rows.missing, "missing", "missing"),
        (count(Severity::Warning), "odd", "odd"),
    ] {
        if number > 0 {
            parts.push(format!(
                "{number} {}",
                if number == 1 { word } else { words }
            ));
        }
    }
    if parts.is_empty() {
        "complete".to_owned()
    } else {
        parts.join(", ")
    }
}

/// How many answers of each verdict.
fn verdicts(checked: &Checked) -> String {
    let words = [
        (Verdict::Matches, "match"),
        (Verdict::Rounding, "rounding"),
        (Verdict::Follows, "follow"),
        (Verdict::LookAgain, "look again"),
        (Verdict::NotGiven, "not given"),
        (Verdict::Waiting, "waiting"),
    ];
    let parts: Vec<String> = words
        .into_iter()
        .map(|(verdict, word)| (checked.judged.count(verdict), word))
        .filter(|(number, _)| *number > 0)
        .map(|(number, word)| format!("{number} {word}"))
        .collect();
    let mut text = if parts.is_empty() {
        "nothing asked".to_owned()
    } else {
        parts.join(", ")
    };
    if let Some((points, out_of)) = checked.judged.points() {
        let _ = write!(text, "; {points}/{out_of} points");
    }
    text
}

/// The steps to look at again, with the slips that would give the answer.
fn again(checked: &Checked) -> String {
    let wrong = checked
        .object
        .answers
        .iter()
        .filter(|answer| answer.verdict == Verdict::LookAgain.as_str());
    let one = |answer: &super::json::Answer| {
        if answer.slips.is_empty() {
            answer.step.clone()
        } else {
            format!("{} ({})", answer.step, answer.slips.join(" or "))
        }
    };
    wrong.map(one).collect::<Vec<_>>().join(", ")
}

/// Every slip with its groups, the commonest first.
fn tally(all: &[Checked], names: &[String]) -> String {
    let mut groups: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for (checked, name) in all.iter().zip(names) {
        let mut own: Vec<&str> = checked
            .object
            .answers
            .iter()
            .flat_map(|answer| answer.slips.iter().copied())
            .collect();
        own.sort_unstable();
        own.dedup();
        for slip in own {
            groups.entry(slip).or_default().push(name.clone());
        }
    }
    if groups.is_empty() {
        return String::new();
    }
    let mut sorted: Vec<(&str, Vec<String>)> = groups.into_iter().collect();
    sorted.sort_by(|a, b| b.1.len().cmp(&a.1.len()).then(a.0.cmp(b.0)));
    let width = sorted.iter().map(|(slip, _)| slip.len()).max().unwrap_or(0);
    let mut text = "\nslips, the commonest first (each may have another reason)\n".to_owned();
    for (slip, groups) in sorted {
        let prompt = slips::by_id(slip).map_or("", |slip| slip.prompt);
        let _ = writeln!(
            text,
            "{:>3}  {slip:<width$}  {}",
            groups.len(),
            groups.join(", ")
        );
        let _ = writeln!(text, "     {:<width$}  {prompt}", "");
    }
    text
}
