//! One file as its student sees it: is it all right, what is missing, and a verdict on each answer without numbers.

use std::fmt::Write as _;
use std::path::Path;

use crate::answers::Verdict;
use crate::problem::Severity;
use crate::report::Case;
use crate::working::show;

/// What a person wants to know first: is the file all right, what is missing, and which answers need another look.
pub(super) fn text(path: &Path, case: &Case<'_>, key: bool) -> String {
    let count = |severity| {
        case.problems
            .iter()
            .filter(|problem| problem.severity == severity)
            .count()
    };
    let standing = crate::report::words::standing(case);
    let mut text = format!("{}: {}", path.display(), standing.sentence);
    for (severity, word) in [(Severity::Error, "error"), (Severity::Warning, "warning")] {
        match count(severity) {
            0 => {}
            1 => drop(write!(text, " 1 {word}.")),
            some => drop(write!(text, " {some} {word}s.")),
        }
    }
    text.push('\n');
    for missing in &standing.missing {
        let _ = writeln!(text, "  missing  {missing}");
    }
    means(case, &mut text);
    answers(case, &mut text);
    causes(case, &mut text);
    if key {
        values(case, &mut text);
    }
    text
}

/// The mean of all trials, where it may be shown.
fn means(case: &Case<'_>, text: &mut String) {
    for spread in crate::report::trials::spreads(case) {
        let line = format!(
            "  mean     {}, {} trials: {}, standard deviation {}",
            case.graph.step(spread.step).id,
            spread.count,
            spread.mean_shown,
            spread.deviation_shown
        );
        let _ = writeln!(text, "{}", line.replace(show::NO_BREAK, " "));
    }
}

/// A line an answer given, and one line for those that are not.
fn answers(case: &Case<'_>, text: &mut String) {
    let judged = &case.judged.answers;
    if judged.is_empty() {
        return;
    }
    let given = judged
        .iter()
        .filter(|judgement| judgement.given.is_some())
        .count();
    let _ = write!(text, "  answers  {given} of {} given", judged.len());
    if let Some((points, out_of)) = case.judged.points() {
        let _ = write!(text, "; {points} of {out_of} points");
    }
    text.push('\n');
    let id = |step| case.graph.step(step).id.as_str();
    let width = judged
        .iter()
        .map(|judgement| id(judgement.step).chars().count())
        .max()
        .unwrap_or(0);
    for judgement in judged {
        let Some(typed) = judgement
            .typed
            .as_ref()
            .filter(|_| judgement.verdict != Verdict::NotGiven)
        else {
            continue;
        };
        let _ = writeln!(
            text,
            "    {:<width$}  {typed}: {}",
            id(judgement.step),
            judgement.verdict.in_words()
        );
        if !judgement.feedback.is_empty() {
            let _ = writeln!(text, "    {:<width$}    {}", "", judgement.feedback);
        }
    }
    for (verdict, words) in [
        (Verdict::NotGiven, "not given yet"),
        (Verdict::Waiting, "waiting for readings"),
    ] {
        let steps: Vec<&str> = judged
            .iter()
            .filter(|judgement| {
                judgement.verdict == verdict
                    && (verdict == Verdict::NotGiven || judgement.typed.is_none())
            })
            .map(|judgement| id(judgement.step))
            .collect();
        if !steps.is_empty() {
            let _ = writeln!(text, "    {words}: {}", steps.join(", "));
        }
    }
}

/// What each cause the students name comes to: direction, size, evidence; and questions that their notes may answer.
fn causes(case: &Case<'_>, text: &mut String) {
    let hints = crate::causes::hints(case.lab, case.record);
    if case.record.causes.is_empty() && hints.is_empty() {
        return;
    }
    let weighed = case.weigh();
    if !weighed.own.is_empty() {
        text.push_str("  causes\n");
    }
    for own in &weighed.own {
        let _ = writeln!(text, "    {}", own.what);
        for (name, sentence) in [
            ("direction", &own.direction),
            ("size", &own.size),
            ("evidence", &own.evidence),
        ] {
            let _ = writeln!(
                text,
                "      {name:<9}  {}",
                sentence.replace(show::NO_BREAK, " ")
            );
        }
    }
    for hint in hints {
        let _ = writeln!(text, "  asks     {hint}");
    }
}

/// Every step with its value, for the teacher.
fn values(case: &Case<'_>, text: &mut String) {
    let _ = writeln!(text, "  key");
    let width = case
        .graph
        .steps()
        .iter()
        .map(|step| step.id.chars().count())
        .max()
        .unwrap_or(0);
    for id in case.graph.ids() {
        let step = case.graph.step(id);
        let found = match case.worked.value(id) {
            Some(value) => {
                let doubt = show::doubt_text(case.lab, step, value, &case.worked.inputs);
                let doubt = doubt.map_or_else(String::new, |doubt| format!("  ± {doubt}"));
                format!("{}{doubt}", show::value(case.lab, step, value))
            }
            None => crate::report::compose::why_not(case, id).unwrap_or_default(),
        };
        let _ = writeln!(
            text,
            "    {:<width$}  {}",
            step.id,
            found.replace(show::NO_BREAK, " ")
        );
    }
}
