//! The data file: a group's readings, observations and answers, read and checked against its lab.
//!
//! | file | holds |
//! |---|---|
//! | `read` | the file as written, and who made it |
//! | `check` | readings matched with the lab; the only maker of a [`Record`] |
//! | `trials` | readings of further trials |
//! | `unread` | what is said of a box that cannot be used |
//! | `signs` | yes or no to what was looked for |
//! | `words` | answers, causes and prose |
//! | `worksheet` | answers written into a worksheet report |
//! | `comments` | comments that look like data |
//! | `plausible`, `prefixes`, `drying`, `dates` | impossible and odd readings |

mod check;
mod comments;
mod dates;
mod decimals;
mod display;
mod drying;
mod gases;
mod plausible;
mod prefixes;
mod read;
mod signs;
mod strangers;
mod trials;
mod unread;
mod words;
pub mod worksheet;

pub use check::check;
pub(crate) use gases::AIR;
pub use read::Written;
pub use read::read;
pub use read::read_in;

use crate::measure::Reading;
use crate::problem::Span;

/// A group's data, checked against its lab. Half-filled is a normal state.
#[derive(Debug, Clone)]
pub struct Record {
    /// Who made it.
    pub who: Who,
    /// The days of the lab, in order, whether or not the file has them.
    pub days: Vec<Day>,
    /// One entry for each reading of the lab, in the order of [`Lab::readings`](crate::lab::Lab::readings).
    pub readings: Vec<Recorded>,
    /// Further trials, in order of their numbers; the first trial is `readings`.
    pub trials: Vec<Trial>,
    /// Unplanned readings as typed: name and text, in the file's order.
    pub extra: Vec<(String, String)>,
    /// Answers to the signs of the lab, in the lab's order; `None`: not answered.
    pub signs: Vec<(String, Option<bool>)>,
    /// What was said beside a yes or no: a sign's id, and the words.
    pub sign_remarks: Vec<(String, String)>,
    /// Answers that are not empty, in the file's order.
    pub answers: Vec<Answer>,
    /// Causes the students name, blank blocks left out.
    pub causes: Vec<Cause>,
    /// Students' prose by key (`purpose`, `procedure`, …), in the file's order, empty ones left out.
    pub words: Vec<(String, String)>,
}

/// Who made the record.
#[derive(Debug, Clone, Default)]
pub struct Who {
    /// The lab's id or path, as typed.
    pub lab: String,
    /// Where it stands.
    pub lab_span: Span,
    /// Section, as typed.
    pub section: String,
    /// Group code, as typed.
    pub group: String,
    /// Names; stay on the own report.
    pub names: Vec<String>,
    /// Whether observations and discussion may appear on class pages.
    pub share_words: bool,
    /// The group's file this student's file points at.
    pub readings_of: Option<(String, Span)>,
}

/// One day as recorded.
#[derive(Debug, Clone)]
pub struct Day {
    /// 1, 2, 3, …
    pub number: u32,
    /// As typed.
    pub date: Option<String>,
    /// Where the date stands.
    pub date_span: Span,
    /// What was seen, as typed; `None` when blank.
    pub seen: Option<String>,
}

/// The readings of a further trial of the same experiment.
#[derive(Debug, Clone)]
pub struct Trial {
    /// 2, 3, …
    pub number: u32,
    /// One entry for each reading of the lab. What the trial does not name, such as the molarity of a common acid, is that of the days.
    pub readings: Vec<Recorded>,
    /// Which readings the trial does not name.
    pub common: Vec<bool>,
}

/// What was recorded for one reading of the lab.
#[derive(Debug, Clone, Default)]
pub struct Recorded {
    /// One entry for a single reading, several for a series; empty boxes of a series are left out.
    pub entries: Vec<Entry>,
    /// Set when a reading is impossible: the sentence that says why. The steps that need it wait.
    pub impossible: Option<String>,
    /// Whether only a result says so: then another reading behind that result may be the wrong one.
    pub by_result: bool,
    /// Whether milli or kilo before its unit does not go with its digits: that explains whatever else is odd.
    pub doubted_unit: bool,
}

/// One filled box.
#[derive(Debug, Clone)]
pub struct Entry {
    /// What stands in it.
    pub content: Content,
    /// The box's text as typed.
    pub typed: String,
    /// Where the text stands in the file.
    pub span: Span,
}

/// What a filled box holds.
#[derive(Debug, Clone)]
pub enum Content {
    /// A reading; its `unit` is always filled in (the lab's, where none was written).
    Value(Reading),
    /// `lost`, `?`: no reading, and the word.
    Missing(String),
    /// Something that could not be read; a problem says why.
    Unreadable,
}

/// A student's answer to a step.
#[derive(Debug, Clone)]
pub struct Answer {
    /// Step id.
    pub step: String,
    /// As typed.
    pub typed: String,
    /// Where the text stands in the file.
    pub span: Span,
}

/// A cause a student names.
#[derive(Debug, Clone, Default)]
pub struct Cause {
    /// A sign's id, or own words.
    pub what: String,
    /// What speaks for it.
    pub evidence: String,
    /// Higher or lower.
    pub effect: String,
    /// What to change.
    pub next_time: String,
}

impl Record {
    /// Does something with the readings of each further trial in the place of the first's.
    pub(crate) fn each_trial(&mut self, mut then: impl FnMut(&mut Self)) {
        let mut trials = std::mem::take(&mut self.trials);
        for trial in &mut trials {
            std::mem::swap(&mut self.readings, &mut trial.readings);
            then(self);
            std::mem::swap(&mut self.readings, &mut trial.readings);
        }
        self.trials = trials;
    }

    /// Numbers of the readings that are missing or impossible in a further trial. What trials have in common is missing in the first.
    pub fn missing_in<'r>(&'r self, trial: &'r Trial) -> impl Iterator<Item = usize> {
        let unusable = |readings: &[Recorded], index: usize| readings[index].usable().is_none();
        (0..trial.readings.len()).filter(move |index| {
            let told = trial.common[*index] && unusable(&self.readings, *index);
            unusable(&trial.readings, *index) && !told
        })
    }

    /// How many readings of those that count are missing or impossible, in all trials together.
    #[must_use]
    pub fn missing(&self, counts: impl Fn(usize, &Recorded) -> bool) -> usize {
        let first = self.readings.iter().enumerate();
        let first = first.filter(|(_, reading)| reading.usable().is_none());
        let further = self.trials.iter();
        let further = further.flat_map(|trial| {
            let missing = self.missing_in(trial);
            missing.map(|index| (index, &trial.readings[index]))
        });
        first
            .chain(further)
            .filter(|(index, recorded)| counts(*index, recorded))
            .count()
    }

    /// What was said beside the yes or no to a sign.
    #[must_use]
    pub fn sign_remark(&self, sign: &str) -> Option<&str> {
        let mut remarks = self.sign_remarks.iter();
        remarks
            .find(|(id, _)| id == sign)
            .map(|(_, remark)| remark.as_str())
    }

    /// Trials of a lab that have no reading of their own yet, of so many that are asked for.
    pub fn unbegun(&self, trials: u32) -> impl Iterator<Item = u32> {
        let begun = |number: &u32| self.trials.iter().any(|trial| trial.number == *number);
        (2..=trials).filter(move |number| !begun(number))
    }

    /// Takes the readings, days and signs of the group's own record, for a student who hands in separately.
    pub fn take_readings(&mut self, group: Self) {
        self.days = group.days;
        self.readings = group.readings;
        self.trials = group.trials;
        self.extra = group.extra;
        self.signs = group.signs;
        self.sign_remarks = group.sign_remarks;
    }
}

impl Recorded {
    /// The value that counts: the last one given, where nothing speaks against it.
    #[must_use]
    pub fn usable(&self) -> Option<&Reading> {
        if self.impossible.is_some() {
            None
        } else {
            self.last_value()
        }
    }

    /// The last value given, possible or not.
    #[must_use]
    pub fn last_value(&self) -> Option<&Reading> {
        match self.counting()?.content {
            Content::Value(ref reading) => Some(reading),
            Content::Missing(_) | Content::Unreadable => None,
        }
    }

    /// The entry that counts: the last one. A weighing that was lost leaves the one before it standing, since then the vessel
    /// was weighed.
    #[must_use]
    pub fn counting(&self) -> Option<&Entry> {
        let known = |entry: &&Entry| !matches!(entry.content, Content::Missing(_));
        let last = self.entries.iter().rev().find(known);
        last.or(self.entries.last())
    }

    /// Whether the group says that there will be no reading: `lost`, `spilled`, `?`.
    #[must_use]
    pub fn given_up(&self) -> bool {
        let entry = self.counting().map(|entry| &entry.content);
        matches!(entry, Some(Content::Missing(_)))
    }

    /// Every value given, in order.
    pub fn values(&self) -> impl Iterator<Item = &Reading> {
        self.entries
            .iter()
            .filter_map(|entry| match &entry.content {
                Content::Value(reading) => Some(reading),
                Content::Missing(_) | Content::Unreadable => None,
            })
    }
}
