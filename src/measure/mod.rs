//! Numbers with the digits they were written with: decimals, units, instruments, rounding, figures.
//!
//! | file | holds |
//! |---|---|
//! | `decimal` | a decimal number as written, every digit kept |
//! | `exact` | a ratio of whole numbers of any size |
//! | `unit` | the units a file may use, and the dimensions they combine to |
//! | `conversion` | numbers brought to base units and to other units |
//! | `foreign` | units of laboratories that no file may use, with what to do about each |
//! | `typed` | what a student typed in a box, read |
//! | `instrument` | readability and tolerance of a balance or a cylinder |
//! | `rounding` | an exact ratio rounded once, half-up or half-even |
//! | `figures` | which digits of a result the readings defend |
//! | `uncertainty` | one input's standard uncertainty and the budget of many |

pub mod conversion;
pub mod decimal;
pub mod exact;
pub mod figures;
pub mod foreign;
pub mod instrument;
pub mod quantile;
pub mod rounding;
mod spellings;
pub mod typed;
pub mod uncertainty;
pub mod unit;

pub use decimal::Decimal;
pub use exact::Exact;
pub use instrument::Instrument;
pub use rounding::Rounding;
pub use typed::Reading;
pub use typed::Spread;
pub use typed::Typed;
pub use unit::Dimension;
pub use unit::Unit;
