//! An instrument: the unit it reads in and how far a reading may be off.

use crate::measure::Decimal;
use crate::measure::Unit;

/// A balance, a cylinder, a thermometer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Instrument {
    /// The name it has in the lab description.
    pub name: String,
    /// The unit it reads in.
    pub unit: Unit,
    /// The smallest step it shows, in its unit; a reading lies anywhere within that step.
    pub readability: Option<Decimal>,
    /// Half the width within which a reading is taken to lie, in its unit; counts instead of the readability.
    pub tolerance: Option<Decimal>,
}
