//! Everything a reader sees, composed in words: the typed model that templates fill in.
//!
//! | file | holds |
//! |---|---|
//! | `model` | the templates' whole contract |
//! | `compose` | a case turned into a [`Report`] |
//! | `tables` | readings, signs, causes, atomic weights |
//! | `answers` | the answers judged, and the teacher's marked copy |
//! | `amounts` | the before–change–after table |
//! | `results` | predicted beside found, uncertainty budget |
//! | `evidence` | what the numbers say about the result |
//! | `charts` | amounts before and after, drying series |
//! | `words` | safety, standing, prediction, provenance |
//! | `form` | the blank data file of a lab |

pub mod amounts;
pub mod answers;
pub mod charts;
pub mod compose;
pub mod evidence;
pub mod form;
pub mod model;
pub mod results;
pub mod tables;
pub mod words;

pub use crate::working::math;
pub use compose::Case;
pub use compose::compose;
pub use model::Report;
