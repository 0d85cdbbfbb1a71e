//! The students' answers judged: the table of their own report, and the teacher's marked copy.

use crate::answers::Judgement;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::rounding;
use crate::report::compose::Case;
use crate::report::compose::after_answer;
use crate::report::compose::no_value;
use crate::report::compose::sentence_case;
use crate::report::model::AnswerNote;
use crate::report::model::Marked;
use crate::report::model::Table;
use crate::report::tables::words;
use crate::report::trials;
use crate::say;
use crate::working::Kind;
use crate::working::Step;
use crate::working::line::Standing;
use crate::working::show;

/// The students' answers beside what their readings give, with the verdict on each.
pub(in crate::report) fn table(case: &Case<'_>) -> Option<Table> {
    let wording = &case.lab.words;
    let rows: Vec<Vec<String>> = case
        .judged
        .answers
        .iter()
        .map(|judgement| {
            vec![
                question(case, judgement),
                typed(case, judgement),
                found(case, judgement),
                wording.say(judgement.verdict.in_words()).to_owned(),
            ]
        })
        .collect();
    (!rows.is_empty()).then(|| Table {
        caption: say!(
            wording,
            "Your answers beside what your readings{of_trial} give.",
            of_trial = trials::of_the_first(case)
        ),
        columns: vec![
            words(wording.say("question")),
            words(wording.say("your answer")),
            words(wording.say("from your readings")),
            words(wording.say("verdict")),
        ],
        rows,
    })
}

/// What is said of answers beyond their verdict, a sentence or two each.
pub(in crate::report) fn notes(case: &Case<'_>) -> Vec<AnswerNote> {
    let wording = &case.lab.words;
    let said = case
        .judged
        .answers
        .iter()
        .filter(|judgement| !judgement.feedback.is_empty() && judgement.typed.is_some());
    said.map(|judgement| {
        let verdict = wording.say(judgement.verdict.in_words());
        // Remarks on unit and figures stand in the sentence already.
        let slips = judgement.slips.iter().filter(|slip| slip.explains());
        AnswerNote {
            title: sentence_case(&question(case, judgement)),
            verdict: verdict.to_owned(),
            stop: if verdict.ends_with(['.', '?', '!']) {
                ""
            } else {
                "."
            },
            sentence: judgement.feedback.clone(),
            slips: slips.map(|slip| slip.name(wording)).collect(),
        }
    })
    .collect()
}

/// The teacher's copy; `None` where the lab asks for nothing, or where not every step may be shown.
pub(in crate::report) fn marked(case: &Case<'_>) -> Option<Marked> {
    let wording = &case.lab.words;
    let judged = &case.judged.answers;
    if judged.is_empty() || !case.graph.ids().all(|id| case.open.step(id)) {
        return None;
    }
    let points = case.judged.points();
    let mut columns = vec![
        words(wording.say("question")),
        words(wording.say("answer")),
        words(wording.say("from the readings")),
        words(wording.say("from their own lines")),
        words(wording.say("verdict")),
    ];
    if points.is_some() {
        columns.push(words(wording.say("points")));
    }
    let rows = judged.iter().map(|judgement| {
        let step = case.graph.step(judgement.step);
        let mut row = vec![
            question(case, judgement),
            typed(case, judgement),
            found(case, judgement),
            judgement.own.as_ref().map_or_else(String::new, |own_line| {
                own(case, own_line, step, |number| {
                    show::written(wording, number)
                })
            }),
            wording.say(judgement.verdict.in_words()).to_owned(),
        ];
        if points.is_some() {
            row.push(
                judgement
                    .points
                    .map_or_else(String::new, |(points, out_of)| {
                        say!(
                            wording,
                            "{points} of {out_of}",
                            points = points,
                            out_of = out_of
                        )
                    }),
            );
        }
        row
    });
    Some(Marked {
        table: Table {
            caption: say!(
                wording,
                "Group {group}: each answer beside what the readings{of_trial} give and, where an earlier answer is wrong, what follows from the group's own lines.",
                group = case.record.who.group,
                of_trial = trials::of_the_first(case)
            ),
            columns,
            rows: rows.collect(),
        },
        points: points.map_or_else(String::new, |(points, out_of)| {
            say!(
                wording,
                "{points} of {out_of}",
                points = points,
                out_of = out_of
            )
        }),
    })
}

fn question(case: &Case<'_>, judgement: &Judgement) -> String {
    let step = case.graph.step(judgement.step);
    step.asked.clone().unwrap_or_else(|| step.title.clone())
}

/// The answer as typed; a number does not part from the unit behind it.
fn typed(case: &Case<'_>, judgement: &Judgement) -> String {
    match &judgement.typed {
        Some(typed) => match typed.split_once(' ') {
            Some((number, unit)) if number.ends_with(|c: char| c.is_ascii_digit()) => {
                [number, show::NO_BREAK, unit].concat()
            }
            _ => typed.clone(),
        },
        None => say!(case.lab.words, "not given yet"),
    }
}

fn found(case: &Case<'_>, judgement: &Judgement) -> String {
    match case.shown(judgement.step) {
        Some(shown) if case.open.step(judgement.step) => shown.to_owned(),
        Some(_) => after_answer(case).to_owned(),
        None => no_value(case, judgement.step).to_owned(),
    }
}

/// What an own line comes to, in the unit of its step, to four figures as they are to be written.
#[must_use]
pub fn own(
    case: &Case<'_>,
    own: &Standing,
    step: &Step,
    written: impl FnOnce(Decimal) -> String,
) -> String {
    match own {
        // Nothing can be less than none: the own lines contradict each other, and the number would say nothing.
        Standing::Number(value) if *value < 0.0 && matches!(step.kind, Kind::ExpectedLeft(_)) => {
            case.lab
                .words
                .say("more would be used than there is")
                .to_owned()
        }
        Standing::Number(value) => {
            let unit = step.unit;
            let value = value / 10.0_f64.powi(unit.power_to_base());
            let exact = Exact::from_float(value).unwrap_or_default();
            let number = rounding::to_figures(&exact, 4, case.lab.policy.rounding);
            show::with_unit(&written(number), unit)
        }
        Standing::Substances(indices) => {
            let names: Vec<&str> = indices
                .iter()
                .map(|index| case.lab.substances[*index].name.as_str())
                .collect();
            names.join(case.lab.words.say(" and "))
        }
    }
}
