//! One file as its student sees it: is it all right, what is missing, and a verdict on each answer without numbers.

use std::fmt::Write as _;
use std::path::Path;

use crate::answers::Verdict;
use crate::problem::Severity;
use crate::report::Case;
use crate::say;
use crate::words::Words;
use crate::working::show;

/// What a person wants to know first: is the file all right, what is missing, and which answers need another look.
pub(super) fn text(path: &Path, case: &Case<'_>, key: bool) -> String {
    let count = |severity| {
        case.problems
            .iter()
            .filter(|problem| problem.severity == severity)
            .count()
    };
    let standing = crate::report::standing::standing(case);
    let mut text = format!("{}: {}", path.display(), standing.sentence);
    let words = &case.lab.words;
    match count(Severity::Error) {
        0 => {}
        1 => text.push_str(words.say(" 1 error.")),
        some => text.push_str(&say!(words, " {count} errors.", count = some)),
    }
    match count(Severity::Warning) {
        0 => {}
        1 => text.push_str(words.say(" 1 warning.")),
        some => text.push_str(&say!(words, " {count} warnings.", count = some)),
    }
    text.push('\n');
    for missing in &standing.missing {
        let _ = writeln!(text, "  {}  {missing}", label(words, words.say("missing")));
    }
    means(case, &mut text);
    answers(case, &mut text);
    causes(case, &mut text);
    if key {
        values(case, &mut text);
    }
    text
}

/// The word in front of a line, as wide as the widest of them.
pub(super) fn label(words: &Words, word: &str) -> String {
    let all = ["missing", "mean", "answers", "asks", "changes"].map(|word| words.say(word));
    let width = all.iter().map(|word| word.chars().count()).max();
    format!("{word:<width$}", width = width.unwrap_or(0))
}

/// The mean of all trials, where it may be shown.
fn means(case: &Case<'_>, text: &mut String) {
    let words = &case.lab.words;
    for spread in crate::report::trials::spreads(case) {
        let line = say!(
            words,
            "{step}, {count} trials: {mean}, standard deviation {deviation}",
            step = case.graph.step(spread.step).id,
            count = spread.count,
            mean = words.number(&spread.mean_shown),
            deviation = words.number(&spread.deviation_shown)
        );
        let line = line.replace(show::NO_BREAK, " ");
        let _ = writeln!(text, "  {}  {line}", label(words, words.say("mean")));
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
        .filter(|judgement| judgement.given.is_some() || judgement.verdict == Verdict::Unreadable)
        .count();
    let words = &case.lab.words;
    let mut count = say!(
        words,
        "{given} of {asked} given",
        given = given,
        asked = judged.len()
    );
    if let Some((points, out_of)) = case.judged.points() {
        count.push_str(&say!(
            words,
            "; {points} of {out_of} points",
            points = points,
            out_of = out_of
        ));
    }
    let _ = writeln!(text, "  {}  {count}", label(words, words.say("answers")));
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
            words.say(judgement.verdict.in_words())
        );
        if !judgement.feedback.is_empty() {
            let _ = writeln!(text, "    {:<width$}    {}", "", judgement.feedback);
        }
    }
    for (verdict, what) in [
        (Verdict::NotGiven, words.say("not given yet")),
        (Verdict::Waiting, words.say("waiting for readings")),
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
            let _ = writeln!(text, "    {what}: {}", steps.join(", "));
        }
    }
}

/// What each cause the students name comes to: direction, size, evidence; and questions that their notes may answer.
fn causes(case: &Case<'_>, text: &mut String) {
    let hints = crate::causes::hints(case.lab, case.record);
    if case.record.causes.is_empty() && hints.is_empty() {
        return;
    }
    let words = &case.lab.words;
    let weighed = case.weigh();
    if !weighed.own.is_empty() {
        let _ = writeln!(text, "  {}", words.say("causes"));
    }
    for own in &weighed.own {
        let _ = writeln!(text, "    {}", own.what);
        for (name, sentence) in [
            (words.say("direction"), &own.direction),
            (words.say("size"), &own.size),
            (words.say("evidence"), &own.evidence),
        ] {
            let _ = writeln!(
                text,
                "      {name:<9}  {}",
                sentence.replace(show::NO_BREAK, " ")
            );
        }
    }
    for hint in hints {
        let _ = writeln!(text, "  {}  {hint}", label(words, words.say("asks")));
    }
}

/// Every step with its value, for the teacher.
fn values(case: &Case<'_>, text: &mut String) {
    let words = &case.lab.words;
    let _ = writeln!(text, "  {}", words.say("key"));
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
                format!(
                    "{}{doubt}",
                    show::value(case.lab, step, value, &case.worked.inputs)
                )
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
