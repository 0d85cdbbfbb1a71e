//! Many files at a glance: a row a group, and the slips that came up most, for re-teaching.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::Checked;
use crate::answers::Slip;
use crate::answers::Verdict;
use crate::answers::slips;
use crate::problem::Severity;
use crate::say;
use crate::words::Words;

/// The widest a column of the table gets; what is longer goes on as it is.
const WIDEST: usize = 48;

/// The language of every file's lab; English where they differ.
pub(super) fn language(all: &[Checked]) -> Words {
    let mut labs = all.iter().filter(|checked| checked.object.lab.is_some());
    let first = labs.next().map(|checked| checked.words.clone());
    let first = first.unwrap_or_default();
    if labs.all(|checked| checked.words.code() == first.code()) {
        first
    } else {
        Words::english()
    }
}

/// The table, and the tally of slips under it.
pub(super) fn table(all: &[Checked], words: &Words) -> String {
    let names = names(all);
    let rows: Vec<[String; 4]> = all
        .iter()
        .zip(&names)
        .map(|(checked, name)| {
            [
                name.clone(),
                state(checked, words),
                verdicts(checked, words),
                again(checked, words),
            ]
        })
        .collect();
    let heads = [
        words.say("group"),
        words.say("file"),
        words.say("answers"),
        words.say("look again at"),
    ]
    .map(str::to_owned);
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
    text.push_str(&tally(all, &names, words));
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
fn state(checked: &Checked, words: &Words) -> String {
    let count = |severity| {
        checked
            .problems
            .iter()
            .filter(|problem| problem.severity == severity)
            .count()
    };
    let mut parts = Vec::new();
    match count(Severity::Error) {
        0 => {}
        1 => parts.push(say!(words, "1 error")),
        some => parts.push(say!(words, "{count} errors", count = some)),
    }
    if checked.rows.missing > 0 {
        parts.push(say!(words, "{count} missing", count = checked.rows.missing));
    }
    match checked.rows.unbegun {
        0 => {}
        1 => parts.push(say!(words, "1 trial empty")),
        some => parts.push(say!(words, "{count} trials empty", count = some)),
    }
    match count(Severity::Warning) {
        0 => {}
        some => parts.push(say!(words, "{count} odd", count = some)),
    }
    if parts.is_empty() {
        say!(words, "complete")
    } else {
        parts.join(", ")
    }
}

/// How many answers of each verdict.
fn verdicts(checked: &Checked, words: &Words) -> String {
    let one = |verdict: &Verdict| match (checked.judged.count(*verdict), verdict) {
        (0, _) => None,
        (some, Verdict::Matches) => Some(say!(words, "{count} match", count = some)),
        (some, Verdict::Rounding) => Some(say!(words, "{count} rounding", count = some)),
        (some, Verdict::Rough) => Some(say!(words, "{count} rough", count = some)),
        (some, Verdict::Follows) => Some(say!(words, "{count} follow", count = some)),
        (some, Verdict::LookAgain) => Some(say!(words, "{count} look again", count = some)),
        (some, Verdict::Unreadable) => Some(say!(words, "{count} unreadable", count = some)),
        (some, Verdict::NotGiven) => Some(say!(words, "{count} not given", count = some)),
        (some, Verdict::Waiting) => Some(say!(words, "{count} waiting", count = some)),
    };
    let parts: Vec<String> = Verdict::ALL.iter().filter_map(one).collect();
    let mut text = if parts.is_empty() {
        say!(words, "nothing asked")
    } else {
        parts.join(", ")
    };
    if let Some((points, out_of)) = checked.judged.points() {
        text.push_str(&say!(
            words,
            "; {points}/{out_of} points",
            points = points,
            out_of = out_of
        ));
    }
    text
}

/// The steps to look at again, with the slips that would give the answer.
fn again(checked: &Checked, words: &Words) -> String {
    let wrong = checked
        .object
        .answers
        .iter()
        .filter(|answer| answer.verdict == Verdict::LookAgain.as_str());
    let one = |answer: &super::json::Answer| {
        let slips = answer.slips.iter().filter(|slip| explains(slip));
        let slips: Vec<&str> = slips.map(|slip| words.say(slip)).collect();
        if slips.is_empty() {
            answer.step.clone()
        } else {
            format!("{} ({})", answer.step, slips.join(words.say(" or ")))
        }
    };
    wrong.map(one).collect::<Vec<_>>().join(", ")
}

/// Whether a slip explains a number; else it is a remark on its unit or its figures.
fn explains(slip: &str) -> bool {
    slips::by_id(slip).is_some_and(Slip::explains)
}

/// Every slip with its groups, the commonest first, and behind them every remark.
fn tally(all: &[Checked], names: &[String], words: &Words) -> String {
    let mut groups: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for (checked, name) in all.iter().zip(names) {
        for slip in checked.judged.slips() {
            groups.entry(slip).or_default().push(name.clone());
        }
    }
    let (slips, remarks) = groups.into_iter().partition(|(slip, _)| explains(slip));
    let mut text = counted(
        words.say("slips, the commonest first (each may have another reason)"),
        slips,
        words,
    );
    text.push_str(&counted(
        words.say("remarks on units, figures and earlier lines"),
        remarks,
        words,
    ));
    text
}

/// A heading with slips or remarks and their groups under it, the commonest first; nothing where there are none.
fn counted(heading: &str, groups: BTreeMap<&str, Vec<String>>, words: &Words) -> String {
    if groups.is_empty() {
        return String::new();
    }
    let mut sorted: Vec<(&str, Vec<String>)> = groups.into_iter().collect();
    sorted.sort_by(|a, b| b.1.len().cmp(&a.1.len()).then(a.0.cmp(b.0)));
    let widths = sorted
        .iter()
        .map(|(slip, _)| words.say(slip).chars().count());
    let width = widths.max().unwrap_or(0);
    let mut text = format!("\n{heading}\n");
    for (slip, groups) in sorted {
        let prompt = slips::by_id(slip).map_or("", |slip| words.say(slip.prompt));
        let _ = writeln!(
            text,
            "{:>3}  {:<width$}  {}",
            groups.len(),
            words.say(slip),
            groups.join(", ")
        );
        let _ = writeln!(text, "     {:<width$}  {prompt}", "");
    }
    text
}
