//! Class pages: what their templates see. Numbers under codes, and nothing else of any group.

mod likely;
mod plots;
mod remarks;
mod results;
mod scatter;
mod tables;
mod teacher;

use serde::Serialize;

use crate::report::model::Chart;
use crate::report::model::Table;
use crate::words::Words;

pub use likely::likely;
pub use results::Scope;
pub use results::compose;
pub use results::csv;
pub use teacher::Judged;
pub use teacher::teacher;

/// The overview of a class, or its results.
#[derive(Debug, Clone, Serialize)]
pub struct ClassPage {
    /// The language it is written in; templates see its code, `language`: `en`.
    #[serde(rename = "language")]
    pub words: Words,
    /// The lab's title.
    pub title: String,
    /// `Section 3`; empty for all together.
    pub scope: String,
    /// The balanced equation, pretty.
    pub equation: String,
    /// Other equations the data might support, pretty.
    pub alternatives: Vec<String>,
    /// What was done: the teacher's procedure, Markdown.
    pub procedure: Option<String>,
    /// How many groups there are, and how many have every reading.
    pub count: String,
    /// What a reader must know first: few groups, groups left out.
    pub notes: Vec<String>,
    /// To the other pages of the class.
    pub pages: Vec<Link>,
    /// To the groups' reports; empty where single groups are not shown.
    pub reports: Vec<Link>,
    /// One a quantity.
    pub plots: Vec<Plot>,
    /// Statistics, a row a quantity; `None` while there is no value.
    pub statistics: Option<Table>,
    /// Values by group; `None` where single groups are not shown.
    pub table: Option<Table>,
    /// What the class says together.
    pub remarks: Vec<String>,
    /// Questions for a discussion.
    pub questions: Vec<String>,
    /// How it was computed.
    pub provenance: Vec<String>,
}

/// A link to a page of the same class.
#[derive(Debug, Clone, Serialize)]
pub struct Link {
    /// Its words.
    pub text: String,
    /// Relative.
    pub to: String,
}

/// A plot with its values as text.
#[derive(Debug, Clone, Serialize)]
pub struct Plot {
    /// The quantity.
    pub heading: String,
    /// The plot.
    pub chart: Chart,
    /// Every value, in order of size.
    pub values: String,
    /// Which values are far from the others and by what rule; empty for none.
    pub far: Vec<String>,
}

/// What the teacher sees of a class: it holds names and answers, and is never among the shared pages.
#[derive(Debug, Clone, Serialize)]
pub struct TeacherPage {
    /// The language it is written in; templates see its code, `language`: `en`.
    #[serde(rename = "language")]
    pub words: Words,
    /// The lab's title.
    pub title: String,
    /// How many groups there are.
    pub count: String,
    /// Codes with names, what is missing, verdicts, steps to look at again.
    pub table: Table,
    /// Slips of the class, the commonest first; `None` when there are none.
    pub slips: Option<Table>,
    /// Vessels that may be exchanged, balances that differ.
    pub remarks: Vec<String>,
}

impl ClassPage {
    /// Every chart of the page.
    pub fn all_charts(&self) -> impl Iterator<Item = &Chart> {
        self.plots.iter().map(|plot| &plot.chart)
    }
}
