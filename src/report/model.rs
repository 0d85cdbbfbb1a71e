//! The templates' whole contract: every number already in words, every table and chart finished.
//!
//! Field order and names are what `report-templates/*.md.hbs` use. Student text stands in
//! fields documented as *prose* (Markdown, to be made safe) or *as typed* (plain text, to be escaped).

use std::collections::BTreeMap;

use serde::Serialize;

use crate::report::drawing::Drawing;
use crate::words::Words;
use crate::working::math::Chain;

/// A finished report.
#[derive(Debug, Clone, Serialize)]
pub struct Report {
    /// The language it is written in; templates see its code, `language`: `en`.
    #[serde(rename = "language")]
    pub words: Words,
    /// Lab title.
    pub title: String,
    /// `Group 3-07`; as typed.
    pub group: String,
    /// As typed; empty for none.
    pub section: String,
    /// As typed.
    pub names: Vec<String>,
    /// `10 Feb · 11 Feb · 13 Feb`, as typed; empty when no day has a date.
    pub dates: String,
    /// What a reader must know first.
    pub standing: Standing,
    /// The results in one or two lines for the head of page one; empty when nothing is open yet.
    pub headline: Vec<Figure>,
    /// Safety.
    pub safety: Safety,
    /// Prose; `None` when the students have not written it.
    pub purpose: Option<String>,
    /// The teacher's background, Markdown.
    pub background: Option<String>,
    /// The balanced equation, pretty.
    pub equation: String,
    /// Other equations the data might support, pretty.
    pub alternatives: Vec<String>,
    /// Prediction from the amounts taken, as sentences.
    pub prediction: Vec<String>,
    /// The teacher's procedure, Markdown.
    pub procedure_given: Option<String>,
    /// What was really done; prose.
    pub procedure: Option<String>,
    /// Readings: reading, value, ±, day.
    pub data: Table,
    /// Readings of all trials beside each other; `None` for one trial.
    pub trial_readings: Option<Table>,
    /// Drying series, one each.
    pub drying: Vec<Drying>,
    /// Unplanned readings; `None` when there are none.
    pub extra: Option<Table>,
    /// Observations by day.
    pub observations: Vec<Observation>,
    /// Signs answered.
    pub signs: Option<Table>,
    /// Whether anything was written of what was seen, or a sign answered.
    pub observed: bool,
    /// Worked calculations, in order.
    pub workings: Vec<Working>,
    /// Steps whose working waits, is undefined, or is hidden: one line each.
    pub pending: Vec<Pending>,
    /// Before–change–after, predicted; with measured amounts beside.
    pub amounts: Option<Table>,
    /// Remarks under the before–change–after table.
    pub amounts_notes: Vec<String>,
    /// Results: predicted, measured, difference, uncertainty.
    pub results: Table,
    /// Results of all trials beside each other, with mean and standard deviation; `None` for one trial.
    pub trial_results: Option<Table>,
    /// The students' answers beside what the program finds; `None` when nothing is asked.
    pub answers: Option<Table>,
    /// What is said of those answers, beyond their verdicts.
    pub answer_notes: Vec<AnswerNote>,
    /// The teacher's copy; `None` unless everything may be shown.
    pub marked: Option<Marked>,
    /// Charts: amounts before and after.
    pub charts: Vec<Chart>,
    /// The error discussion: what the program computes, what the students name, what they wrote.
    pub discussion: Discussion,
    /// Uncertainty budget of the main result; `None` without one.
    pub budget: Option<Budget>,
    /// Prose.
    pub conclusion: Option<String>,
    /// Other prose by its key.
    pub other_words: Vec<OtherWords>,
    /// The teacher's questions, Markdown, with the answer's prose if there is one.
    pub questions: Vec<Question>,
    /// The teacher's references, Markdown.
    pub references: Vec<String>,
    /// How it was computed: one sentence each.
    pub provenance: Vec<String>,
    /// Atomic weights used.
    pub atomic_weights: Table,
    /// For the worksheet: a row a step, with room for the answer.
    pub step_table: Option<Table>,
    /// Worked chains by step id, for MathML; not for templates.
    #[serde(skip)]
    pub chains: BTreeMap<String, Vec<Chain>>,
}

impl Report {
    /// Every chart that a template may print.
    pub fn all_charts(&self) -> impl Iterator<Item = &Chart> {
        let drying = self.drying.iter();
        let drying = drying.filter_map(|drying| drying.chart.as_ref());
        let budget = self.budget.iter().map(|budget| &budget.chart);
        self.charts
            .iter()
            .chain(drying)
            .chain(&self.discussion.plane)
            .chain(budget)
    }
}

/// The error discussion.
#[derive(Debug, Clone, Serialize)]
pub struct Discussion {
    /// Whether each deviation, and all together, are more than the readings can tell; the first sentences of the section.
    pub instrument: Vec<String>,
    /// How the percent yield splits into completion and recovery, and what that says.
    pub split: Vec<String>,
    /// Completion and recovery on a chart; `None` without a leftover.
    pub plane: Option<Chart>,
    /// The data held against each equation; `None` for a lab with one, and while the students have yet to say which it is.
    pub equations: Option<Table>,
    /// Which equation they favour; empty for a lab with one.
    pub decision: String,
    /// What the list of causes is; empty where none is looked for.
    pub lead: String,
    /// Causes right in direction and possible in size, strongest evidence first.
    pub possible: Vec<Possible>,
    /// Further ones of which nothing was seen either way, in one sentence; empty for none.
    pub also: String,
    /// Causes often named that the numbers speak against, a sentence each.
    pub ruled_out: Vec<String>,
    /// The students' own causes, tested.
    pub own: Vec<OwnCause>,
    /// Questions to the students about their notes.
    pub asks: Vec<String>,
    /// The students' discussion; prose.
    pub written: Option<String>,
    /// Whether any of this is there, but for questions to the students.
    pub says: bool,
}

/// A cause that could explain the result.
#[derive(Debug, Clone, Serialize)]
pub struct Possible {
    /// Its place in the list, from 1.
    pub number: usize,
    /// What happened, a sentence without its full stop.
    pub what: String,
    /// How much it would take, whether that is possible, what speaks for and against it.
    pub size: String,
    /// What would tell it from the others.
    pub test: String,
    /// What to do another time; empty unless something speaks for it.
    pub next_time: String,
}

/// A cause the students name, as typed, with its tests.
#[derive(Debug, Clone, Serialize)]
pub struct OwnCause {
    /// Its place in the list, from 1.
    pub number: usize,
    /// As typed, or the question of the sign named.
    pub what: String,
    /// As typed.
    pub evidence: String,
    /// As typed.
    pub effect: String,
    /// As typed.
    pub next_time: String,
    /// Direction, size, evidence.
    pub tests: Vec<OwnTest>,
}

/// One test of a student's cause.
#[derive(Debug, Clone, Serialize)]
pub struct OwnTest {
    /// `Direction`, `Size`, `Evidence`.
    pub name: String,
    /// The end of a sentence that begins with the name and a colon.
    pub sentence: String,
}

/// Where an uncertainty comes from.
#[derive(Debug, Clone, Serialize)]
pub struct Budget {
    /// A row a source, largest first.
    pub table: Table,
    /// The same as bars.
    pub chart: Chart,
    /// Which reading dominates and what a finer balance would change.
    pub sentences: Vec<String>,
}

/// What is said of one answer.
#[derive(Debug, Clone, Serialize)]
pub struct AnswerNote {
    /// The question, as a sentence begins.
    pub title: String,
    /// The verdict in words.
    pub verdict: String,
    /// What ends it before a sentence: a full stop, or nothing where it ends in a mark of its own.
    pub stop: &'static str,
    /// What to look at; never holds a number of the key.
    pub sentence: String,
    /// For the teacher: what the slips that would give the answer are called.
    pub slips: Vec<String>,
}

/// The teacher's copy of one group.
#[derive(Debug, Clone, Serialize)]
pub struct Marked {
    /// Question, answer, key, what follows from their own lines, verdict, points.
    pub table: Table,
    /// `7 of 10`; empty where the lab gives no marks.
    pub points: String,
}

/// What a reader must know first: is the file all right, and what is missing?
#[derive(Debug, Clone, Serialize)]
pub struct Standing {
    /// `Complete: all 9 readings are in.` or `3 of 9 readings are still missing.`
    pub sentence: String,
    /// Whether every reading is in and none is impossible.
    pub complete: bool,
    /// `beaker with copper (day 3): lost`.
    pub missing: Vec<String>,
    /// Errors and warnings of the data file: word and sentence.
    pub remarks: Vec<Remark>,
}

/// A remark of the program on the file.
#[derive(Debug, Clone, Serialize)]
pub struct Remark {
    /// `error`, `warning`, `note`.
    pub word: String,
    /// The sentence.
    pub sentence: String,
    /// What to do; empty for nothing.
    pub help: String,
}

/// A result named and written out.
#[derive(Debug, Clone, Serialize)]
pub struct Figure {
    /// `percent yield of copper`.
    pub name: String,
    /// `97.9 %`.
    pub value: String,
    /// `± 0.3 %`; empty for none.
    pub uncertainty: String,
}

/// Safety.
#[derive(Debug, Clone, Serialize)]
pub struct Safety {
    /// The teacher's cautions.
    pub cautions: Vec<String>,
    /// `copper(II) sulfate: H302 harmful if swallowed; …`, one a substance.
    pub hazards: Vec<Hazard>,
    /// The sentence that teacher, SDS and local rules come first.
    pub priority: String,
    /// The teacher's words on waste, or that the teacher directs.
    pub waste: String,
    /// Where the cautions come from; empty for none.
    pub source: String,
    /// The students' own precautions; prose.
    pub own: Option<String>,
}

/// Hazards of one substance.
#[derive(Debug, Clone, Serialize)]
pub struct Hazard {
    /// Name and form.
    pub substance: String,
    /// Code and statement.
    pub statements: Vec<HazardStatement>,
}

/// One hazard statement.
#[derive(Debug, Clone, Serialize)]
pub struct HazardStatement {
    /// `H302`.
    pub code: String,
    /// `Harmful if swallowed`.
    pub text: String,
}

/// A table, finished.
#[derive(Debug, Clone, Serialize)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// Columns; the first holds row headers.
    pub columns: Vec<Column>,
    /// Rows of cells, each as long as `columns`; plain text, to be escaped.
    pub rows: Vec<Vec<String>>,
}

/// A column of a table.
#[derive(Debug, Clone, Serialize)]
pub struct Column {
    /// Heading with unit: `value / g`.
    pub head: String,
    /// Whether its cells are numbers, aligned on the decimal mark.
    pub numeric: bool,
}

/// A drying series.
#[derive(Debug, Clone, Serialize)]
pub struct Drying {
    /// Reading, difference from the one before.
    pub table: Table,
    /// The constant-mass verdict and what another drying would take off, as sentences.
    pub sentences: Vec<String>,
    /// The plot; `None` for fewer than two readings.
    pub chart: Option<Chart>,
}

/// What was seen on one day.
#[derive(Debug, Clone, Serialize)]
pub struct Observation {
    /// `Day 2: Separate and wash`.
    pub day: String,
    /// As typed; empty for none.
    pub date: String,
    /// Prose; `None` when blank.
    pub seen: Option<String>,
    /// What the lab asks to look for.
    pub notice: Vec<String>,
}

/// One worked step.
#[derive(Debug, Clone, Serialize)]
pub struct Working {
    /// Step id: `theoretical_copper`.
    pub id: String,
    /// `the most copper that could form`.
    pub title: String,
    /// The whole step as plain Unicode lines, for the fenced block.
    pub text: String,
    /// Which source or rule the relation follows; empty for none.
    pub source: String,
}

/// A step that is not shown.
#[derive(Debug, Clone, Serialize)]
pub struct Pending {
    /// Step id.
    pub id: String,
    /// Title.
    pub title: String,
    /// `waiting for beaker with copper`, `after your own answer`, the reason it is undefined.
    pub why: String,
}

/// Students' prose under a key of their own.
#[derive(Debug, Clone, Serialize)]
pub struct OtherWords {
    /// The key, as a heading.
    pub title: String,
    /// Prose.
    pub text: String,
}

/// A question of the teacher.
#[derive(Debug, Clone, Serialize)]
pub struct Question {
    /// Markdown.
    pub question: String,
    /// Prose; `None` when not answered.
    pub answer: Option<String>,
}

/// A chart as axes, marks and captions.
#[derive(Debug, Clone, Serialize)]
pub struct Chart {
    /// Anchor and info word of the fenced block: `amounts`, `drying-beaker_with_copper`.
    pub id: String,
    /// Short title, also the SVG's title.
    pub title: String,
    /// What the chart shows, in sentences with its numbers: the SVG's description.
    pub description: String,
    /// The caption under the figure; explains error bars.
    pub caption: String,
    /// The chart as plain text lines, for the fenced block.
    pub text: String,
    /// The drawing; not for templates.
    #[serde(skip)]
    pub drawing: Drawing,
}
