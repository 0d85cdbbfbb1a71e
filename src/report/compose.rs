//! A case — one record, worked by its lab — turned into a report.

use std::collections::BTreeMap;

use crate::answers::Judged;
use crate::answers::Open;
use crate::causes;
use crate::causes::Weighed;
use crate::lab::Lab;
use crate::problem::Problem;
use crate::record::Record;
use crate::report::amounts;
use crate::report::answers;
use crate::report::budget;
use crate::report::charts;
use crate::report::discussion;
use crate::report::drying;
use crate::report::model::Observation;
use crate::report::model::OtherWords;
use crate::report::model::Pending;
use crate::report::model::Question;
use crate::report::model::Report;
use crate::report::model::Table;
use crate::report::model::Working;
use crate::report::results;
use crate::report::tables;
use crate::report::trials;
use crate::report::words;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::State;
use crate::working::Step;
use crate::working::StepId;
use crate::working::Worked;
use crate::working::math::Chain;
use crate::working::text::WorkedStep;
use crate::working::text::check_reveals;

/// What stands where something would give an answer away.
pub const AFTER_ANSWER: &str = "after your own answer";

/// Everything known about one record.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    /// Its lab.
    pub lab: &'a Lab,
    /// The lab's steps.
    pub graph: &'a Graph,
    /// The record.
    pub record: &'a Record,
    /// The record worked.
    pub worked: &'a Worked<'a>,
    /// Its answers judged.
    pub judged: &'a Judged,
    /// What may be shown.
    pub open: &'a Open,
    /// What is wrong with the data file.
    pub problems: &'a [Problem],
    /// Where the lab description came from, in words.
    pub lab_from: &'a str,
    /// SHA-256 of the data file, in hexadecimal.
    pub digest: &'a str,
}

impl<'a> Case<'a> {
    /// What at the bench could explain the results, as far as open steps tell.
    #[must_use]
    pub fn weigh(&self) -> Weighed<'a> {
        causes::weigh(self.lab, self.graph, self.record, self.worked, &|step| {
            self.open.step(step)
        })
    }
}

/// The report of a case. Tables and figures are numbered in the order the `report` template prints them.
#[must_use]
pub fn compose(case: &Case<'_>) -> Report {
    let (lab, record) = (case.lab, case.record);
    let charts: Vec<_> = charts::amounts(case).into_iter().collect();
    let data = tables::data(case);
    let trial_readings = trials::readings(case);
    let drying = drying::all(case);
    let extra = tables::extra(case);
    let signs = tables::signs(case);
    let (workings, pending, chains) = workings(case);
    let (amounts, amounts_notes) = amounts::table(case);
    let results = results::table(case);
    let trial_results = trials::results(case);
    let answers = answers::table(case);
    let discussion = discussion::compose(case);
    let budget = budget::budget(case);
    let atomic_weights = tables::atomic_weights(case);
    let prose = |key: &str| {
        record
            .words
            .iter()
            .find(|(known, _)| known == key)
            .map(|(_, text)| text.clone())
    };
    let dates: Vec<&str> = record
        .days
        .iter()
        .filter_map(|day| day.date.as_deref())
        .collect();
    Report {
        title: lab.title.clone(),
        group: record.who.group.clone(),
        section: record.who.section.clone(),
        names: record.who.names.clone(),
        dates: dates.join(" · "),
        standing: words::standing(case),
        headline: results::headline(case),
        safety: words::safety(lab, prose("safety").or_else(|| prose("precautions"))),
        purpose: prose("purpose"),
        background: lab.text.background.clone(),
        equation: lab.equation.pretty(),
        alternatives: lab
            .alternatives
            .iter()
            .map(crate::chem::Equation::pretty)
            .collect(),
        prediction: words::prediction(case),
        procedure_given: lab.text.procedure.clone(),
        procedure: prose("procedure"),
        data,
        trial_readings,
        drying,
        extra,
        observations: observations(case),
        signs,
        workings,
        pending,
        amounts,
        amounts_notes,
        results,
        trial_results,
        answers,
        answer_notes: answers::notes(case),
        marked: answers::marked(case),
        charts,
        discussion,
        budget,
        conclusion: prose("conclusion"),
        other_words: other_words(case),
        questions: questions(case),
        references: lab.text.references.clone(),
        provenance: words::provenance(case),
        atomic_weights,
        step_table: step_table(case),
        chains,
    }
}

/// What was seen, day by day.
fn observations(case: &Case<'_>) -> Vec<Observation> {
    let days = case.lab.days.iter().zip(&case.record.days);
    days.map(|(asked, day)| Observation {
        day: format!("Day {}: {}", asked.number, asked.title),
        date: day.date.clone().unwrap_or_default(),
        seen: day.seen.clone(),
        notice: asked.notice.clone(),
    })
    .collect()
}

/// Keys of `[words]` that have a section of their own.
fn has_section(key: &str) -> bool {
    [
        "purpose",
        "procedure",
        "discussion",
        "conclusion",
        "safety",
        "precautions",
    ]
    .contains(&key)
        || key.starts_with("question_")
}

fn other_words(case: &Case<'_>) -> Vec<OtherWords> {
    let others = case
        .record
        .words
        .iter()
        .filter(|(key, _)| !has_section(key));
    others
        .map(|(key, text)| OtherWords {
            title: key.replace('_', " "),
            text: text.clone(),
        })
        .collect()
}

/// The teacher's questions with the prose of `question_1`, `question_2`, ….
fn questions(case: &Case<'_>) -> Vec<Question> {
    let questions = case.lab.text.questions.iter().enumerate();
    questions
        .map(|(place, question)| {
            let key = format!("question_{}", place + 1);
            let answer = case
                .record
                .words
                .iter()
                .find(|(known, _)| *known == key)
                .map(|(_, text)| text.clone());
            Question {
                question: question.clone(),
                answer,
            }
        })
        .collect()
}

/// Worked steps, the steps that are not shown with the reason, and the chains by step id.
fn workings(case: &Case<'_>) -> (Vec<Working>, Vec<Pending>, BTreeMap<String, Vec<Chain>>) {
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
                text: block(&text),
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

/// A text that begins with a capital letter, unless it begins with a formula.
pub(in crate::report) fn sentence_case(text: &str) -> String {
    let mut characters = text.chars();
    characters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(characters).collect()
    })
}

/// Why a step is not worked on the page.
#[must_use]
pub fn why_not(case: &Case<'_>, id: StepId) -> Option<String> {
    Some(match case.worked.state(id) {
        State::Waiting(readings) => {
            let labels: Vec<String> = case
                .lab
                .readings()
                .enumerate()
                .filter(|(index, _)| readings.contains(index))
                .map(|(_, (_, asked))| asked.label.clone())
                .collect();
            format!("waiting for {}", labels.join("; "))
        }
        State::Undefined(reason) => format!("has no value: {reason}"),
        State::Known(_) => {
            let titles: Vec<&str> = case
                .open
                .waits_for(case.graph, id)
                .into_iter()
                .filter(|earlier| *earlier != id)
                .map(|earlier| case.graph.step(earlier).title.as_str())
                .collect();
            if titles.is_empty() {
                AFTER_ANSWER.to_owned()
            } else {
                format!("after your own answer to: {}", titles.join("; "))
            }
        }
    })
}

/// A word for the missing value of a step, short enough for a table.
pub(in crate::report) fn no_value(case: &Case<'_>, id: StepId) -> &'static str {
    match case.worked.state(id) {
        State::Waiting(_) => "waiting",
        State::Undefined(_) => "no value",
        State::Known(_) => AFTER_ANSWER,
    }
}

/// A worked step as the lines of its fenced block.
fn block(text: &WorkedStep) -> String {
    let mut lines = Vec::new();
    if !text.given.is_empty() {
        lines.push(format!("given   {}", text.given.join(";  ")));
    }
    lines.push(format!("find    {}", text.find));
    for chain in &text.chains {
        lines.extend(chain.plain());
    }
    lines.extend(text.so.iter().map(|so| format!("so      {so}")));
    lines.extend(text.check.iter().map(|check| format!("check   {check}")));
    lines.join("\n")
}

/// A row for each step asked, with room for the answer.
fn step_table(case: &Case<'_>) -> Option<Table> {
    let asked: Vec<(&str, &str)> = case
        .graph
        .steps()
        .iter()
        .filter_map(|step| Some((step.id.as_str(), step.asked.as_deref()?)))
        .collect();
    let rows = asked.iter().map(|(id, question)| {
        let answer = case.record.answers.iter().find(|answer| answer.step == *id);
        vec![
            (*question).to_owned(),
            answer.map_or_else(
                || "________________".to_owned(),
                |answer| answer.typed.clone(),
            ),
            (*id).to_owned(),
        ]
    });
    let columns = vec![
        tables::words("step"),
        tables::words("your answer, with unit"),
        tables::words("name in the data file"),
    ];
    (!asked.is_empty()).then(|| Table {
        caption: "Your working".to_owned(),
        columns,
        rows: rows.collect(),
    })
}
