//! Elements and atomic weights, water vapour, formulas and their names, equations and balancing, hazard statements.

mod balance;
pub mod element;
mod ending;
pub mod equation;
pub mod formula;
mod german;
pub mod hazard;
pub mod name;
mod null_space;
mod reader;
mod spelling;
mod terms;
pub mod water;
pub mod weights;

pub use element::Element;
pub use equation::Equation;
pub use equation::Species;
pub use formula::Formula;
pub use weights::AtomicWeight;
pub use weights::AtomicWeights;
