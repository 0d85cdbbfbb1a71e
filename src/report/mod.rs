//! Everything a reader sees, composed in words: the typed model that templates fill in.
//!
//! | file | holds |
//! |---|---|
//! | `model` | the templates' whole contract |
//! | `drawing` | what charts draw |
//! | `document` | what every printed document has |
//! | `compose` | a case turned into a [`Report`] |
//! | `decimal` | numbers with the decimal mark of the language |
//! | `steps` | worked steps, steps not shown, the worksheet's table |
//! | `tables` | readings, signs, causes, atomic weights |
//! | `answers` | the answers judged, and the teacher's marked copy |
//! | `amounts` | the before–change–after table |
//! | `results` | predicted beside found |
//! | `evidence` | whether the deviations are more than the readings can tell |
//! | `plane` | completion and recovery |
//! | `discussion` | causes that could explain the result, and the students' own, tested |
//! | `budget` | which readings the uncertainty comes from |
//! | `charts` | amounts before and after |
//! | `drying` | drying series |
//! | `standing` | what is missing and odd |
//! | `words` | safety, prediction, provenance |
//! | `class` | class pages |
//! | `preparation` | what to set out for a class |
//! | `form` | the blank data file of a lab |
//! | `bench_sheet` | the same form on paper |
//! | `pre_lab` | the page before the lab |
//! | `prediction` | what the planned amounts predict, blank or worked |
//! | `schema` | the JSON Schema of a lab's data file |

pub mod amounts;
pub mod answers;
pub mod bench_sheet;
mod budget;
pub mod charts;
pub mod class;
pub mod compose;
mod discussion;
pub mod document;
pub mod drawing;
mod drying;
mod equations;
pub mod evidence;
pub mod form;
mod lead;
pub mod model;
mod outcome;
mod plane;
pub mod pre_lab;
mod prediction;
pub mod preparation;
pub mod results;
pub mod schema;
pub mod standing;
pub mod steps;
pub mod tables;
pub mod trials;
pub mod words;

pub use crate::working::math;
pub use compose::Case;
pub use compose::LabFrom;
pub use compose::Parts;
pub use compose::compose;
pub use compose::compose_parts;
pub use document::Document;
pub use model::Report;
