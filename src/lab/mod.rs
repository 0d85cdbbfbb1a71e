//! The lab description: the teacher's file, read and checked, and the labs built in.
//!
//! | file | holds |
//! |---|---|
//! | `expression`, `parser` | the small language of `before`, `after`, `used` and `find` |
//! | `check` | the description made sense of; the only maker of a [`Lab`] |
//! | `substances`, `waters`, `apparatus`, `rules` | the sections of the file |
//! | `ignited` | which readings weigh something ignited |
//! | `crystals` | whether a product crystallises from its liquid |
//! | `share` | what class pages show |
//! | `signs` | built-in yes-or-no questions |
//! | `builtin` | the labs embedded in the program |
//! | `lab.schema.json` | what a description may hold, for editors: [`SCHEMA`] |

mod apparatus;
pub mod builtin;
pub mod check;
mod crystals;
pub mod expression;
pub mod ignited;
mod kept;
mod names;
mod parser;
mod rules;
pub mod share;
pub mod signs;
mod substances;
pub(crate) mod waters;

use std::sync::OnceLock;

use crate::chem::AtomicWeights;
use crate::chem::Equation;
use crate::chem::Formula;
use crate::measure::Decimal;
use crate::measure::Instrument;
use crate::measure::Reading;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::problem::Span;
use crate::words::Words;

pub use expression::Term;
pub use kept::MolarMasses;
pub use kept::ProductNames;
pub use share::Sharing;

/// The JSON Schema of lab descriptions. Draft-07, because editors for TOML know it best.
pub const SCHEMA: &str = include_str!("lab.schema.json");

/// A lab description that makes sense. Only [`check`](check::check) makes one.
#[derive(Debug, Clone)]
pub struct Lab {
    /// Short name, also of the built-in lab or the file: `zinc-copper-sulfate`.
    pub id: String,
    /// Title of reports.
    pub title: String,
    /// The wording of reports, forms and feedback, in the lab's language.
    pub words: Words,
    /// The balanced equation.
    pub equation: Equation,
    /// Other balanced equations the data might support.
    pub alternatives: Vec<Equation>,
    /// The substances, in the file's order.
    pub substances: Vec<Substance>,
    /// Instruments, in the file's order.
    pub instruments: Vec<Instrument>,
    /// Values nobody reads off, in the file's order.
    pub givens: Vec<Given>,
    /// Days, in order of their numbers.
    pub days: Vec<Day>,
    /// How often each group does the experiment: 1 for most labs.
    pub trials: u32,
    /// Yes-or-no questions about what happened.
    pub signs: Vec<Sign>,
    /// What students are asked to work out.
    pub ask: Ask,
    /// Rules of working and showing.
    pub policy: Policy,
    /// Atomic weights in use.
    pub atomic_weights: AtomicWeights,
    /// Further quantities.
    pub finds: Vec<Find>,
    /// Planned amounts as written, in the file's order: name and amount.
    pub plan: Vec<(String, String)>,
    /// Rules of class pages.
    pub share: Sharing,
    /// Cautions, waste, source.
    pub safety: Safety,
    /// The teacher's prose.
    pub text: Text,
    /// Where `equation` stands in the file, for problems found while planning.
    pub equation_span: Span,
    /// Molar masses asked for so far.
    pub molar_masses: MolarMasses,
    /// The products of each equation, by their names; kept by the stage that reads answers.
    pub product_names: OnceLock<Vec<Vec<ProductNames>>>,
}

/// One substance of the experiment.
#[derive(Debug, Clone)]
pub struct Substance {
    /// `zinc`: lower-case letters and digits, no underscore.
    pub key: String,
    /// Where its table starts in the file.
    pub span: Span,
    /// Its formula in the equation, state as in the equation.
    pub formula: Formula,
    /// Name in words: the teacher's, else derived, else the pretty formula.
    pub name: String,
    /// The form that is weighed, where it differs: `CuSO4·5H2O`. Always the formula plus water.
    pub weighed_as: Option<Formula>,
    /// Name in words of the form weighed, where it differs.
    pub weighed_name: Option<String>,
    /// Whether it stands on the left of the equation.
    pub reactant: bool,
    /// Stoichiometric coefficient in the equation.
    pub coefficient: u32,
    /// What there is at the start.
    pub before: Option<Before>,
    /// What there is at the end, measured.
    pub after: Option<Written>,
    /// What was taken up, where before − after does not say it.
    pub used: Option<Written>,
    /// Whether the percent yield is of this substance.
    pub yields: bool,
    /// Fraction of the substance in what is weighed, such as `98.5 %`.
    pub purity: Option<Given>,
    /// GHS codes.
    pub hazards: Vec<String>,
    /// Of a hydrate `·xH2O`: the accepted number of waters.
    pub waters: Option<(Decimal, Span)>,
    /// The lab's own word for what is collected, such as `lost as gas`.
    pub collected_as: Option<String>,
    /// The words of every name that students may have for it, kept by the stage that reads answers.
    pub called: OnceLock<Vec<Vec<String>>>,
}

impl Substance {
    /// Whether what there is at the end is measured as a gas, by its volume, and not weighed.
    #[must_use]
    pub fn measured_as_gas(&self) -> bool {
        let after = self.after.as_ref();
        after.is_some_and(|written| !written.term.gases().is_empty())
    }
}

/// An amount at the start.
#[derive(Debug, Clone)]
pub enum Before {
    /// `"excess"`: as much as is needed, never weighed.
    Excess,
    /// Measured.
    Measured(Written),
}

/// An expression with its place in the file.
#[derive(Debug, Clone)]
pub struct Written {
    /// The expression.
    pub term: Term,
    /// Where its text stands in the file (inside the quotes).
    pub span: Span,
}

/// A value from a label or a table.
#[derive(Debug, Clone)]
pub struct Given {
    /// Its name in expressions.
    pub name: String,
    /// The value; `unit` is always filled in.
    pub value: Reading,
    /// Where it stands in the file.
    pub span: Span,
}

/// One day of the experiment.
#[derive(Debug, Clone)]
pub struct Day {
    /// 1, 2, 3, …
    pub number: u32,
    /// `Set up`.
    pub title: String,
    /// The readings of the day, in order.
    pub readings: Vec<Asked>,
    /// What to look for.
    pub notice: Vec<String>,
}

/// A reading the students are asked to take.
#[derive(Debug, Clone)]
pub struct Asked {
    /// Its name in files and expressions.
    pub name: String,
    /// What is read, in words.
    pub label: String,
    /// A remark for whoever takes it.
    pub note: Option<String>,
    /// The unit it is read in.
    pub unit: Unit,
    /// Index into [`Lab::instruments`], where an instrument of that unit is described.
    pub instrument: Option<usize>,
    /// The number of boxes of a series; `None` for a single reading.
    pub series: Option<usize>,
}

/// A yes-or-no question about what happened at the bench.
#[derive(Debug, Clone)]
pub struct Sign {
    /// `solid_poured_away`.
    pub id: String,
    /// `Was any solid poured away with the liquid?`
    pub question: String,
    /// Causes it supports with their places in the file, for a teacher's own sign.
    pub supports: Vec<(String, Span)>,
}

/// What students are asked to work out.
#[derive(Debug, Clone, Default)]
pub struct Ask {
    /// Whether the file has an `[ask]` table at all; without one nothing is asked and all working is shown.
    pub present: bool,
    /// Whether the usual steps are asked.
    pub usual: bool,
    /// Steps named one by one.
    pub steps: Vec<AskedStep>,
}

/// A step named in `[ask]`.
#[derive(Debug, Clone)]
pub struct AskedStep {
    /// Step id.
    pub id: String,
    /// Where the id stands in the file.
    pub span: Span,
    /// `false` takes a usual step out.
    pub wanted: bool,
    /// Marks, where the teacher gives any.
    pub points: Option<u32>,
    /// The question in the form, where the teacher words it.
    pub question: Option<String>,
}

/// When a worked step is shown to its student.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShowWorking {
    /// Always.
    Always,
    /// Once the student's own answer stands.
    AfterAnswer,
    /// Only to the teacher.
    Teacher,
}

/// How uncertainty is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UncertaintyRule {
    /// Standard uncertainties in quadrature (JCGM 100).
    Standard,
    /// Limits add.
    WorstCase,
    /// Not at all.
    None,
}

/// How figures of answers are judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FiguresRule {
    /// Just the defensible figures.
    Strict,
    /// One figure more or less.
    Lenient,
    /// Not judged.
    Off,
}

/// Rules of working and showing.
#[derive(Debug, Clone)]
pub struct Policy {
    /// When a worked step is shown.
    pub show_working: ShowWorking,
    /// How uncertainty is worked.
    pub uncertainty: UncertaintyRule,
    /// How figures are judged.
    pub figures: FiguresRule,
    /// How ties are rounded.
    pub rounding: Rounding,
    /// The most by which the last two readings of a drying series may differ, in g; `None`: twice the readability.
    pub constant_mass: Option<Decimal>,
}

/// A further quantity with its own title, question and accepted value.
#[derive(Debug, Clone)]
pub struct Find {
    /// Step id.
    pub id: String,
    /// Where its table starts in the file.
    pub span: Span,
    /// `percent water in the crystals`.
    pub title: String,
    /// How it is worked.
    pub value: Written,
    /// The accepted value.
    pub expected: Option<Written>,
    /// The unit it is shown in, where written.
    pub unit: Option<(Unit, Span)>,
    /// The question in the form.
    pub question: Option<String>,
}

/// Safety as the teacher wrote it.
#[derive(Debug, Clone, Default)]
pub struct Safety {
    /// Cautions.
    pub cautions: Vec<String>,
    /// Where waste goes; `None`: as the teacher directs.
    pub waste: Option<String>,
    /// Where the cautions come from.
    pub source: Option<String>,
}

/// The teacher's prose, Markdown.
#[derive(Debug, Clone, Default)]
pub struct Text {
    /// Background.
    pub background: Option<String>,
    /// Procedure.
    pub procedure: Option<String>,
    /// Questions after the lab.
    pub questions: Vec<String>,
    /// References.
    pub references: Vec<String>,
}

impl Lab {
    /// Every reading asked for with its day number, in order: the index is the reading's number everywhere.
    pub fn readings(&self) -> impl Iterator<Item = (u32, &Asked)> {
        self.days
            .iter()
            .flat_map(|day| day.readings.iter().map(move |asked| (day.number, asked)))
    }

    /// The number of a reading in [`Lab::readings`].
    #[must_use]
    pub fn reading_index(&self, name: &str) -> Option<usize> {
        self.readings().position(|(_, asked)| asked.name == name)
    }
}

#[cfg(test)]
mod tests {
    use crate::problem::Source;

    #[test]
    fn every_built_in_lab_reads_and_plans_without_a_problem() {
        for (id, text) in super::builtin::BUILT_IN {
            let source = Source {
                name: (*id).to_owned(),
                text: (*text).to_owned(),
            };
            let (lab, problems) = super::check::check(&source);
            assert!(problems.is_empty(), "{id}: {problems:#?}");
            assert_eq!(lab.unwrap().id, *id);
        }
    }
}
