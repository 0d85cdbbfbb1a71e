//! Worked steps on the page: their lines, the steps that are not shown with the reason, and the worksheet's table.

use std::collections::BTreeMap;

use crate::measure::Unit;
use crate::report::compose::Case;
use crate::report::compose::sentence_case;
use crate::report::compose::why_not;
use crate::report::model::Pending;
use crate::report::model::Table;
use crate::report::model::Working;
use crate::report::tables;
use crate::say;
use crate::words::Words;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::Step;
use crate::working::math::Chain;
use crate::working::text::WorkedStep;
use crate::working::text::check_reveals;

/// Worked steps, the steps that are not shown with the reason, and the chains by step id.
pub(in crate::report) fn workings(
    case: &Case<'_>,
) -> (Vec<Working>, Vec<Pending>, BTreeMap<String, Vec<Chain>>) {
    let (mut workings, mut pending, mut chains) = (Vec::new(), Vec::new(), BTreeMap::new());
    for id in case.graph.ids() {
        let step = case.graph.step(id);
        if is_idle(case, step) {
            continue;
        }
        let open = case.open.working(case.graph, id);
        let text = open
            .then(|| case.worked.text(case.lab, case.graph, case.record, id))
            .flatten();
        if let Some(mut text) = text {
            let reveals = check_reveals(case.lab, case.graph, step);
            if !case.open.all(&reveals) {
                text.check = None;
            }
            workings.push(Working {
                id: step.id.clone(),
                title: sentence_case(&step.title),
                text: block(case, &text),
                source: String::new(),
            });
            chains.insert(step.id.clone(), text.chains);
        } else if let Some(why) = why_not(case, id) {
            pending.push(Pending {
                id: step.id.clone(),
                title: sentence_case(&step.title),
                why,
            });
        }
    }
    (workings, pending, chains)
}

/// Whether working a step out would tell nobody anything: a mass that was simply read, moles that were moles already, or
/// the leftover of a reactant that nobody asks for and nobody weighs.
fn is_idle(case: &Case<'_>, step: &Step) -> bool {
    let weighed = |index: usize| {
        let substance = &case.lab.substances[index];
        substance.after.is_some() || substance.used.is_some()
    };
    step.asked.is_none()
        && match step.kind {
            Kind::Mass(_) => matches!(step.expression, Expression::Reading(_)),
            Kind::MolesCollected(_) | Kind::MolesUsed(_) => {
                matches!(step.expression, Expression::Step(_))
            }
            Kind::Needed(index) | Kind::ExpectedLeft(index) => !weighed(index),
            _ => false,
        }
}

/// A question with the unit of its answer, where its own words do not tell: a leftover may be wanted in g or in mol.
#[must_use]
pub fn with_unit(words: &Words, question: &str, step: &Step) -> String {
    let unit = step.unit;
    let tells = || {
        let mut parts = question.split(|c: char| !(c.is_alphanumeric() || "%/°".contains(c)));
        parts.any(|part| Unit::parse(part) == Some(unit))
    };
    if step.kind == Kind::Limiting || matches!(unit, Unit::One | Unit::Percent) || tells() {
        return question.to_owned();
    }
    say!(
        words,
        "{question}, in {unit}",
        question = question,
        unit = unit
    )
}

/// A row for each step asked, with room for the answer.
pub(in crate::report) fn step_table(case: &Case<'_>) -> Option<Table> {
    let words = &case.lab.words;
    let asked: Vec<(&str, String)> = case
        .graph
        .steps()
        .iter()
        .filter_map(|step| {
            let question = step.asked.as_deref()?;
            Some((step.id.as_str(), with_unit(words, question, step)))
        })
        .collect();
    let rows = asked.iter().map(|(id, question)| {
        let answer = case.record.answers.iter().find(|answer| answer.step == *id);
        vec![
            question.clone(),
            answer.map_or_else(
                || "________________".to_owned(),
                |answer| answer.typed.clone(),
            ),
            (*id).to_owned(),
        ]
    });
    let wording = &case.lab.words;
    let columns = vec![
        tables::words(wording.say("step")),
        tables::words(wording.say("your answer, with unit")),
        tables::words(wording.say("name in the data file")),
    ];
    (!asked.is_empty()).then(|| Table {
        caption: say!(wording, "Your working"),
        columns,
        rows: rows.collect(),
    })
}

/// A worked step as the lines of its fenced block.
fn block(case: &Case<'_>, text: &WorkedStep) -> String {
    let words = &case.lab.words;
    let mut lines = String::with_capacity(512);
    if !text.given.is_empty() {
        lines.push_str(&say!(
            words,
            "given   {readings}",
            readings = text.given.join(";  ")
        ));
        lines.push('\n');
    }
    lines.push_str(&say!(words, "find    {quantity}", quantity = text.find));
    for chain in &text.chains {
        chain.plain(&mut lines);
    }
    if let Some(so) = &text.so {
        lines.push('\n');
        lines.push_str(&say!(words, "so      {sentence}", sentence = so));
    }
    if let Some(check) = &text.check {
        lines.push('\n');
        lines.push_str(&say!(words, "check   {sentence}", sentence = check));
    }
    lines
}
