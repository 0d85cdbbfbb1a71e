//! What somebody typed in a box, read: a number with its unit and remarks, a word for “no reading”, or nothing.

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
