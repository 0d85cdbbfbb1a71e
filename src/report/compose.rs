//! A case — one record, worked by its lab — turned into a report.

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
use crate::report::model::Question;
use crate::report::model::Report;
use crate::report::results;
use crate::report::standing;
use crate::report::steps;
use crate::report::tables;
use crate::report::trials;
use crate::report::words;
use crate::say;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::State;
use crate::working::StepId;
use crate::working::Worked;

/// What stands where something would give an answer away.
pub(in crate::report) fn after_answer<'c>(case: &Case<'c>) -> &'c str {
    let lab: &'c Lab = case.lab;
    lab.words.say("after your own answer")
}

/// Where a lab description came from.
#[derive(Debug, Clone, Copy)]
pub enum LabFrom<'a> {
    /// The program has it.
    BuiltIn,
    /// A file of this name.
    File(&'a str),
    /// A shared page does not say it.
    Unsaid,
}

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
    /// Where the lab description came from.
    pub lab_from: LabFrom<'a>,
    /// SHA-256 of the data file, in hexadecimal.
    pub digest: &'a str,
}

impl<'a> Case<'a> {
    /// A step's value as results show it; `None` while it is not known.
    pub(in crate::report) fn shown(&self, step: StepId) -> Option<&'a str> {
        let shown = self.worked.shown(self.lab, self.graph, step)?;
        Some(&shown.value)
    }

    /// What at the bench could explain the results, as far as open steps tell.
    #[must_use]
    pub fn weigh(&self) -> Weighed<'a> {
        let (lab, graph, record, worked) = (self.lab, self.graph, self.record, self.worked);
        // What is held against one equation would tell which it is, and so would what is not.
        if self.asks_which_equation() {
            return causes::weigh_later(lab, graph, record, worked);
        }
        causes::weigh(lab, graph, record, worked, &|step| self.open.step(step))
    }

    /// Whether the students still have to say which of several equations their data favour: the ratio that is asked for, or what
    /// they write under the questions of the lab that speak of an equation (under any, where none does). A question mark is no answer.
    pub(in crate::report) fn asks_which_equation(&self) -> bool {
        if self.lab.alternatives.is_empty() || self.open.everything() {
            return false;
        }
        let ratio = self.graph.ids().any(|id| {
            let step = self.graph.step(id);
            matches!(step.kind, Kind::Ratio(..)) && step.asked.is_some() && !self.open.step(id)
        });
        let questions = &self.lab.text.questions;
        let equation = self.lab.words.say("equation").to_lowercase();
        let speaks = |question: &String| question.to_lowercase().contains(&equation);
        let any = questions.iter().any(speaks);
        let unanswered = |(place, question): (usize, &String)| {
            let key = format!("question_{}", place + 1);
            let mut words = self.record.words.iter();
            let answered =
                words.any(|(known, text)| *known == key && text.chars().any(char::is_alphanumeric));
            (speaks(question) || !any) && !answered
        };
        ratio || questions.iter().enumerate().any(unanswered)
    }
}

/// Parts of a report that few documents print.
#[derive(Debug, Clone, Copy)]
pub struct Parts {
    /// The uncertainty budget.
    pub budget: bool,
    /// The teacher's copy of the answers.
    pub marked: bool,
    /// The worksheet's table of steps.
    pub step_table: bool,
}

impl Parts {
    /// Every one.
    pub const ALL: Self = Self {
        budget: true,
        marked: true,
        step_table: true,
    };

    /// Those that a document's template mentions by their names in the model.
    #[must_use]
    pub fn mentioned(mentions: impl Fn(&str) -> bool) -> Self {
        Self {
            budget: mentions("budget"),
            marked: mentions("marked"),
            step_table: mentions("step_table"),
        }
    }
}

/// The report of a case, with every part.
#[must_use]
pub fn compose(case: &Case<'_>) -> Report {
    compose_parts(case, Parts::ALL)
}

/// The report of a case with the parts that are wanted. Tables and figures are numbered in the order the `report` template
/// prints them.
#[must_use]
pub fn compose_parts(case: &Case<'_>, parts: Parts) -> Report {
    let (lab, record) = (case.lab, case.record);
    let charts: Vec<_> = charts::amounts(case).into_iter().collect();
    let data = tables::data(case);
    let trial_readings = trials::readings(case);
    let drying = drying::all(case);
    let extra = tables::extra(case);
    let signs = tables::signs(case);
    let (workings, pending, chains) = steps::workings(case);
    let (amounts, amounts_notes) = amounts::table(case);
    let results = results::table(case);
    let trial_results = trials::results(case);
    let answers = answers::table(case);
    let discussion = discussion::compose(case);
    let budget = parts.budget.then(|| budget::budget(case)).flatten();
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
    let observations = observations(case);
    let observed = signs.is_some() || observations.iter().any(|day| day.seen.is_some());
    Report {
        words: lab.words.clone(),
        title: lab.title.clone(),
        group: record.who.group.clone(),
        section: record.who.section.clone(),
        names: record.who.names.clone(),
        dates: dates.join(" · "),
        standing: standing::standing(case),
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
        observations,
        signs,
        observed,
        workings,
        pending,
        amounts,
        amounts_notes,
        results,
        trial_results,
        answers,
        answer_notes: answers::notes(case),
        marked: parts.marked.then(|| answers::marked(case)).flatten(),
        charts,
        discussion,
        budget,
        conclusion: prose("conclusion"),
        other_words: other_words(case),
        questions: questions(case),
        references: lab.text.references.clone(),
        provenance: words::provenance(case),
        atomic_weights,
        step_table: parts.step_table.then(|| steps::step_table(case)).flatten(),
        chains,
    }
}

/// What was seen, day by day.
fn observations(case: &Case<'_>) -> Vec<Observation> {
    let days = case.lab.days.iter().zip(&case.record.days);
    days.map(|(asked, day)| Observation {
        day: say!(
            case.lab.words,
            "Day {number}: {title}",
            number = asked.number,
            title = asked.title
        ),
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

/// A text that begins with a capital letter, unless it begins with a formula.
pub(in crate::report) fn sentence_case(text: &str) -> String {
    let mut characters = text.chars();
    let mut sentence = String::with_capacity(text.len() + 2);
    sentence.extend(characters.next().into_iter().flat_map(char::to_uppercase));
    sentence.push_str(characters.as_str());
    sentence
}

/// Why a step is not worked on the page.
#[must_use]
pub fn why_not(case: &Case<'_>, id: StepId) -> Option<String> {
    let words = &case.lab.words;
    Some(match case.worked.state(id) {
        State::Waiting(readings) => {
            let labels: Vec<String> = case
                .lab
                .readings()
                .enumerate()
                .filter(|(index, _)| readings.contains(index))
                .map(|(_, (_, asked))| asked.label.clone())
                .collect();
            say!(
                words,
                "waiting for {readings}",
                readings = labels.join("; ")
            )
        }
        State::Undefined(reason) => say!(words, "has no value: {reason}", reason = reason),
        State::Known(_) => {
            let titles: Vec<&str> = case
                .open
                .waits_for(case.graph, id)
                .into_iter()
                .filter(|earlier| *earlier != id)
                .map(|earlier| case.graph.step(earlier).title.as_str())
                .collect();
            if titles.is_empty() {
                after_answer(case).to_owned()
            } else {
                say!(
                    words,
                    "after your own answer to: {questions}",
                    questions = titles.join("; ")
                )
            }
        }
    })
}

/// A word for the missing value of a step, short enough for a table.
pub(in crate::report) fn no_value<'c>(case: &Case<'c>, id: StepId) -> &'c str {
    let lab: &'c Lab = case.lab;
    match case.worked.state(id) {
        State::Waiting(_) => lab.words.say("waiting"),
        State::Undefined(_) => lab.words.say("no value"),
        State::Known(_) => after_answer(case),
    }
}
