//! What the students write beside readings: unplanned readings, answers, causes, prose.

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::document::Table;
use crate::problem::suggest;
use crate::record::Answer;
use crate::record::Cause;
use crate::record::Record;
use crate::record::check::plain;
use crate::say;
use crate::words::Words;

/// `[extra]`
pub(super) fn extra(
    root: &mut Table<'_>,
    words: &Words,
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    let Some(mut table) = root.table("extra", problems) else {
        return;
    };
    for (name, _, value) in table.take_all() {
        match plain(&value) {
            Some(text) => record.extra.push((name, text)),
            None if matches!(value.shape(), crate::problem::document::Shape::Text(_)) => {}
            None => problems.push(value.wrong_shape(&name, words.say("text between quotes"))),
        }
    }
}

/// `[answers]`
pub(super) fn answers(
    root: &mut Table<'_>,
    (steps, words): (&[String], &Words),
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    let Some(mut table) = root.table("answers", problems) else {
        return;
    };
    for (step, span, value) in table.take_all() {
        if !steps.contains(&step) {
            let help = suggest::closest(&step, steps.iter().map(String::as_str)).map_or_else(
                || say!(words, "keep the names the form came with"),
                |near| say!(words, "did you mean `{name}`?", name = near),
            );
            problems.push(
                Problem::error(
                    Code::UnknownStep,
                    say!(words, "this lab has no step `{step}`", step = step),
                )
                .at(span, words.say("not known"))
                .help(help),
            );
            continue;
        }
        if matches!(
            value.shape(),
            crate::problem::document::Shape::List(_) | crate::problem::document::Shape::Table
        ) {
            problems.push(value.wrong_shape(&step, words.say("one answer between quotes")));
        } else if let Some(typed) = plain(&value) {
            record.answers.push(Answer {
                step,
                typed,
                span: value.inner_span(),
            });
        }
    }
}

/// `[cause.1]`, `[cause.2]`, …
pub(super) fn causes(root: &mut Table<'_>, record: &mut Record, problems: &mut Vec<Problem>) {
    let Some(mut all) = root.table("cause", problems) else {
        return;
    };
    for (key, span, value) in all.take_all() {
        let Some(mut table) = value.table(format!("[cause.{key}]"), span) else {
            problems.push(value.wrong_section(&key, "cause.1"));
            continue;
        };
        let mut text = |key| {
            table
                .take(key)
                .and_then(|value| plain(&value))
                .unwrap_or_default()
        };
        let cause = Cause {
            what: text("what"),
            evidence: text("evidence"),
            effect: text("effect"),
            next_time: text("next_time"),
        };
        table.finish(problems);
        if !(cause.what.is_empty()
            && cause.evidence.is_empty()
            && cause.effect.is_empty()
            && cause.next_time.is_empty())
        {
            record.causes.push(cause);
        }
    }
}

/// `[words]`
pub(super) fn prose(
    root: &mut Table<'_>,
    words: &Words,
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    let Some(mut table) = root.table("words", problems) else {
        return;
    };
    for (key, _, value) in table.take_all() {
        match plain(&value) {
            Some(text) => record.words.push((key, text)),
            None if matches!(value.shape(), crate::problem::document::Shape::Text(_)) => {}
            None => problems.push(value.wrong_shape(&key, words.say("text between ''' and '''"))),
        }
    }
}
