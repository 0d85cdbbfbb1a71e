//! What somebody typed in a box, read: a number with its unit and remarks, a word for “no reading”, or nothing.

mod number;
mod spread;
mod words;

use std::fmt;
use std::ops::Range;

use crate::measure::Decimal;
use crate::measure::Unit;

/// A number read off an instrument or a label, with everything said beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// The number, digits as written, in `unit`.
    pub number: Decimal,
    /// The unit written beside the number, if any; the checks that know the instrument fill it in.
    pub unit: Option<Unit>,
    /// The reading's own uncertainty, if it states one.
    pub spread: Option<Spread>,
    /// `exactly 25 mL`: a count or a defined value, which limits no figures.
    pub exact: bool,
    /// `~25 mL`: read off roughly.
    pub approximate: bool,
    /// What stands in brackets: `was 106.58, misread`.
    pub note: Option<String>,
    /// `at 14:10`, as typed.
    pub time: Option<String>,
}

/// A reading's own uncertainty, in the reading's unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// `12.270 ± 0.005`: limits, a half-width.
    Limits(Decimal),
    /// `12.270(5)`: a standard uncertainty.
    Standard(Decimal),
}

/// The content of a box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Typed {
    /// Nothing yet.
    Empty,
    /// `lost`, `spilled`, `?`, `N/A`: no reading, and the word that says so.
    Missing(String),
    /// A reading.
    Value(Reading),
}

/// Why a text in a box is no reading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypedError {
    /// The fault, one plain sentence.
    pub message: String,
    /// Bytes of the text.
    pub span: Range<usize>,
    /// One next step.
    pub help: String,
}

/// Reads a box. `decimals` is what the instrument reads: it tells `1,525` from one thousand five hundred
/// and twenty-five.
///
/// # Errors
/// When the text is neither empty, nor a reading, nor a word for a missing one.
pub fn parse(text: &str, decimals: Option<i32>) -> Result<Typed, TypedError> {
    let trimmed = trim(text, 0..text.len());
    let content = &text[trimmed.clone()];
    if content.is_empty() {
        return Ok(Typed::Empty);
    }
    if words::says_missing(content) {
        return Ok(Typed::Missing(content.to_owned()));
    }
    number::read(text, trimmed, decimals).map(Typed::Value)
}

/// A range of a text without the spaces at its ends.
fn trim(text: &str, range: Range<usize>) -> Range<usize> {
    let inner = &text[range.clone()];
    let start = range.start + (inner.len() - inner.trim_start().len());
    let end = range.end - (inner.len() - inner.trim_end().len());
    start..end.max(start)
}

/// The reading in one way of writing it, which reads back as itself.
impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.exact {
            f.write_str("exactly ")?;
        }
        if self.approximate {
            f.write_str("~")?;
        }
        write!(f, "{}", self.number)?;
        match self.spread {
            Some(Spread::Limits(half)) => write!(f, " ± {half}")?,
            Some(Spread::Standard(u)) if u.places() == self.number.places() && u.places() >= 0 => {
                write!(f, "({})", u.coefficient())?;
            }
            Some(Spread::Standard(u)) => write!(f, " (u = {u})")?,
            None => {}
        }
        if let Some(unit) = self.unit.filter(|unit| *unit != Unit::One) {
            write!(f, " {unit}")?;
        }
        if let Some(time) = &self.time {
            write!(f, " at {time}")?;
        }
        if let Some(note) = &self.note {
            write!(f, " ({note})")?;
        }
        Ok(())
    }
}
