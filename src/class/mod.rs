//! Many groups pooled: what each found, statistics with and without far values, and what the class as a whole says.
//!
//! | file | holds |
//! |---|---|
//! | `entry` | what one group contributes: numbers under a code, nothing else |
//! | `code` | codes: which may be shown, in which order, and aliases |
//! | `statistics` | exact summaries |
//! | `outliers` | values far from the others |
//! | `pool` | the entries of a class, quantity by quantity |
//! | `signals` | what a whole class being off together points at |

pub mod code;
pub mod entry;
pub mod outliers;
pub mod pool;
pub mod signals;
pub mod statistics;

pub use entry::Entry;
pub use entry::Likely;
pub use pool::Pool;
pub use pool::Quantity;
pub use statistics::Summary;
