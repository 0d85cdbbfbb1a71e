//! The students' answers, judged: one step at a time, against the readings and against their own earlier lines.
//!
//! | file | holds |
//! |---|---|
//! | `given`, `ratio`, `reactant`, `names`, `ions`, `elements` | an answer as typed, read |
//! | `vocabulary` | what students write around the names of substances, by language |
//! | `reading` | the answers of a record, with what is wrong with them |
//! | `judge`, `limiting`, `units` | the verdict on each answer: numbers, what runs out, milli and kilo |
//! | `tables` | shorter tables of atomic weights |
//! | `lines` | what stands before an answer on the own line |
//! | `instead` | own lines where a later step does not name them |
//! | `window` | how near to a value an answer has to be |
//! | `writing` | unit and figures, judged apart from the value |
//! | `prompts` | the sentence that sends a student back to a line, without its number |
//! | `marks` | points, where the lab gives any |
//! | `open` | which steps a student may see |
//! | `slips` | the known mistakes of calculation, each a way of working a step wrong |

mod earlier;
mod elements;
pub mod given;
mod instead;
mod ions;
pub mod judge;
mod limiting;
mod lines;
mod marks;
mod names;
pub mod open;
mod prompts;
mod ratio;
mod reactant;
mod reading;
pub mod slips;
mod tables;
mod units;
mod vocabulary;
mod window;
mod writing;

pub use given::Given;
pub use judge::judge;
pub use open::Open;
pub use slips::Slip;

use crate::working::StepId;
use crate::working::line::Standing;

/// What is said of one answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Within half a unit of the answer's last figure, and 0.15 %, of what the readings give.
    Matches,
    /// Right but for rounding on the way.
    Rounding,
    /// Right as far as it goes, with so few figures that it could be a guess where the readings say more.
    Rough,
    /// Right from the student's own earlier lines, at least one of which is wrong.
    Follows,
    /// None of these.
    LookAgain,
    /// There is one, but it cannot be read.
    Unreadable,
    /// No answer yet.
    NotGiven,
    /// The readings do not give it yet.
    Waiting,
}

/// One answer judged.
#[derive(Debug, Clone)]
pub struct Judgement {
    /// The step.
    pub step: StepId,
    /// The answer as typed; `None` when there is none.
    pub typed: Option<String>,
    /// What it says; `None` when it is missing or could not be read.
    pub given: Option<Given>,
    /// The verdict on its value.
    pub verdict: Verdict,
    /// What the student's own earlier answers give, where at least one of them is wrong.
    pub own: Option<Standing>,
    /// The slips that would give this answer; all that cannot be told apart. Of unit and figures, what was charged.
    pub slips: Vec<&'static Slip>,
    /// What a student is told; never holds a number of the key. Empty when there is nothing to say.
    pub feedback: String,
    /// Points and out of how many, where the lab gives marks.
    pub points: Option<(u32, u32)>,
}

/// Every step that is asked or answered, judged, in the order of the graph.
#[derive(Debug, Clone, Default)]
pub struct Judged {
    /// One entry a step.
    pub answers: Vec<Judgement>,
}

impl Verdict {
    /// Every verdict, best first.
    pub const ALL: &'static [Self] = &[
        Self::Matches,
        Self::Rounding,
        Self::Rough,
        Self::Follows,
        Self::LookAgain,
        Self::Unreadable,
        Self::NotGiven,
        Self::Waiting,
    ];

    /// The word in JSON and CSV.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Matches => "matches",
            Self::Rounding => "rounding",
            Self::Rough => "rough",
            Self::Follows => "follows",
            Self::LookAgain => "look-again",
            Self::Unreadable => "unreadable",
            Self::NotGiven => "not-given",
            Self::Waiting => "waiting",
        }
    }

    /// The verdict for people.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Matches => "matches your data",
            Self::Rounding => "close: rounding?",
            Self::Rough => "about right: give more figures",
            Self::Follows => "follows from your earlier line, which needs another look",
            Self::LookAgain => "look again",
            Self::Unreadable => "could not be read",
            Self::NotGiven => "not given yet",
            Self::Waiting => "waiting for a reading",
        }
    }

    /// Whether the value stands: it is right, or right from the student's own lines.
    #[must_use]
    pub const fn stands(self) -> bool {
        matches!(
            self,
            Self::Matches | Self::Rounding | Self::Rough | Self::Follows
        )
    }
}

impl Judgement {
    /// Whether the answer shows that the step was worked, so that its working may be looked at: right by the readings, with figures
    /// that no guess has, not in the unit of another quantity, and not what another slip gives to the last digit.
    #[must_use]
    pub fn opens(&self) -> bool {
        let in_another_unit = matches!(
            &self.given,
            Some(Given::Number(number)) if matches!(number.unit, given::WrittenUnit::Other(_))
        );
        matches!(self.verdict, Verdict::Matches | Verdict::Rounding)
            && !in_another_unit
            && !self.is_near_a_slip()
    }

    /// Whether it is right but for rounding, while another slip would give it to its last digit.
    fn is_near_a_slip(&self) -> bool {
        let another = |slip: &Slip| {
            slip.explains()
                && slip.family != slips::Family::Writing
                && ![tables::ROUNDED_WEIGHTS, units::PREFIX].contains(&slip.id)
        };
        self.verdict == Verdict::Rounding && self.slips.iter().any(|slip| another(slip))
    }
}

impl Judged {
    /// The judgement of a step; `None` when it is neither asked nor answered.
    #[must_use]
    pub fn of(&self, step: StepId) -> Option<&Judgement> {
        self.answers.iter().find(|judgement| judgement.step == step)
    }

    /// How many answers have a verdict.
    #[must_use]
    pub fn count(&self, verdict: Verdict) -> usize {
        self.answers
            .iter()
            .filter(|judgement| judgement.verdict == verdict)
            .count()
    }

    /// The slips and the remarks on units and figures, each once, whatever their verdict.
    #[must_use]
    pub fn slips(&self) -> Vec<&'static str> {
        let slips = self.answers.iter().flat_map(|judgement| &judgement.slips);
        let mut slips: Vec<&'static str> = slips.map(|slip| slip.id).collect();
        slips.sort_unstable();
        slips.dedup();
        slips
    }

    /// Points and out of how many, of the whole report; `None` where the lab gives no marks.
    #[must_use]
    pub fn points(&self) -> Option<(u32, u32)> {
        self.answers
            .iter()
            .filter_map(|judgement| judgement.points)
            .reduce(|(points, of), (more, out_of)| (points + more, of + out_of))
    }
}
