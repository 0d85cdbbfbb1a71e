//! Everything a reader sees, composed in words: the typed model that templates fill in.

pub mod math;
pub mod model;

pub use math::Math;
pub use model::Report;
