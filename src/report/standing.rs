//! Is the file all right, what is missing, and what is odd: the sentences that open a report and a check.

use crate::lab::Asked;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::problem::Span;
use crate::record::Content;
use crate::record::Recorded;
use crate::report::compose::Case;
use crate::report::compose::sentence_case;
use crate::report::model::Remark;
use crate::report::model::Standing;
use crate::say;
use crate::words::Words;

/// Is the file all right, and what is missing?
#[must_use]
pub fn standing(case: &Case<'_>) -> Standing {
    let (lab, record) = (case.lab, case.record);
    let words = &lab.words;
    let trials = &record.trials;
    let several = lab.trials > 1 || !trials.is_empty();
    let which = |number: u32| match number {
        number if several => say!(words, "trial {number}: ", number = number),
        _ => String::new(),
    };
    let entry = |which: String, label: &str, day: u32, why: &str| {
        say!(
            words,
            "{trial}{reading} (day {day}){reason}",
            trial = which,
            reading = label,
            day = day,
            reason = why
        )
    };
    // What no result needs and nobody will read any more is said, and nothing waits for it.
    let unneeded = |index: usize, recorded: &Recorded| {
        (!counts(case, index, recorded)).then(|| words.say(" (no result needs it)"))
    };
    let mut missing = Vec::new();
    let mut total = 0;
    for (index, ((day, asked), recorded)) in lab.readings().zip(&record.readings).enumerate() {
        total += 1;
        if let Some(why) = why_missing(words, asked, recorded) {
            let why = why + unneeded(index, recorded).unwrap_or_default();
            missing.push(entry(which(1), &asked.label, day, &why));
        }
    }
    for trial in trials {
        total += trial.common.iter().filter(|common| !**common).count();
        for index in record.missing_in(trial) {
            if let Some((day, asked)) = lab.readings().nth(index) {
                let recorded = &trial.readings[index];
                let why = why_missing(words, asked, recorded).unwrap_or_default();
                let why = why + unneeded(index, recorded).unwrap_or_default();
                let which = which(trial.number);
                missing.push(entry(which, &asked.label, day, &why));
            }
        }
    }
    let of = match trials.len() {
        0 => say!(words, "readings"),
        further => say!(words, "readings of {count} trials", count = further + 1),
    };
    let waited_for = self::missing(case);
    let mut sentence = match missing.len() {
        1.. if waited_for == 0 => say!(
            words,
            "All {readings} that a result needs are in.",
            readings = of
        ),
        0 => say!(
            words,
            "All {total} {readings} are in.",
            total = total,
            readings = of
        ),
        1 => say!(
            words,
            "1 of {total} {readings} is still missing.",
            total = total,
            readings = of
        ),
        some => say!(
            words,
            "{count} of {total} {readings} are still missing.",
            count = some,
            total = total,
            readings = of
        ),
    };
    let empty: Vec<String> = case
        .record
        .unbegun(lab.trials)
        .map(|number| number.to_string())
        .collect();
    match &empty[..] {
        [] => {}
        [only] => sentence.push_str(&say!(
            words,
            " Trial {number} is still empty.",
            number = only
        )),
        several => sentence.push_str(&say!(
            words,
            " Trials {numbers} are still empty.",
            numbers = several.join(", ")
        )),
    }
    let remarks = case.problems.iter().map(|problem| remark(case, problem));
    Standing {
        sentence,
        complete: waited_for == 0 && empty.is_empty(),
        missing,
        remarks: remarks.collect(),
    }
}

/// How many readings are missing that somebody can still read, or that a result needs.
#[must_use]
pub fn missing(case: &Case<'_>) -> usize {
    case.record
        .missing(|index, recorded| counts(case, index, recorded))
}

/// Whether a reading is waited for while it is missing: not where it is given up and no result needs it.
fn counts(case: &Case<'_>, index: usize, recorded: &Recorded) -> bool {
    case.graph.needs(index) || !recorded.given_up()
}

/// Why a reading cannot be used, behind its label; `None` where it can.
fn why_missing(words: &Words, asked: &Asked, recorded: &Recorded) -> Option<String> {
    Some(match recorded.counting().map(|entry| &entry.content) {
        None => String::new(),
        Some(Content::Missing(word)) => format!(": {word}"),
        Some(Content::Unreadable) => say!(words, ": could not be read"),
        Some(Content::Value(_)) if recorded.impossible.is_some() && recorded.doubted_unit => {
            say!(words, ": its unit is to be looked at")
        }
        Some(Content::Value(_)) if recorded.impossible.is_some() && recorded.by_result => {
            say!(
                words,
                ": does not go with other readings, to be looked at again"
            )
        }
        Some(Content::Value(_)) if recorded.impossible.is_some() => {
            let weighed = asked.unit.dimension() == Unit::Gram.dimension();
            if weighed {
                say!(words, ": impossible, to be weighed again")
            } else {
                say!(words, ": impossible, to be read again")
            }
        }
        Some(Content::Value(_)) => return None,
    })
}

/// A problem as a remark that stands by itself: it names the reading that it is about.
fn remark(case: &Case<'_>, problem: &Problem) -> Remark {
    let about = problem.labels.first().and_then(|label| {
        let of_answers = matches!(problem.code, Code::Answer | Code::AnswerUnit);
        let trials = case.record.trials.iter().map(|trial| &trial.readings);
        let mut readings = std::iter::once(&case.record.readings)
            .chain(trials)
            .flat_map(|readings| case.lab.readings().zip(readings));
        let found = readings.find(|(_, recorded)| {
            let inside = |span: &Span| span.start <= label.span.start && label.span.end <= span.end;
            !of_answers && recorded.entries.iter().any(|entry| inside(&entry.span))
        });
        match found {
            Some(((_, asked), _)) => Some(asked.label.as_str()),
            // The label of an answer is its question.
            None => of_answers.then_some(label.text.as_str()),
        }
    });
    let words = &case.lab.words;
    let message = match about
        .filter(|label| !problem.message.contains(label) && problem.code != Code::AnswerUnit)
    {
        Some(label) => {
            let label = say!(words, "“{reading}”", reading = label);
            format!("{label}: {}", problem.message)
        }
        None => sentence_case(&problem.message),
    };
    let full = |text: String| {
        if text.is_empty() || text.ends_with(['.', '?', '!']) {
            text
        } else {
            format!("{text}.")
        }
    };
    let word = match problem.severity {
        Severity::Error => words.say("Error"),
        Severity::Warning => words.say("Warning"),
        Severity::Note => words.say("Note"),
    };
    Remark {
        word: word.to_owned(),
        sentence: full(message),
        help: full(sentence_case(problem.help.as_deref().unwrap_or_default())),
    }
}
