//! Elements and atomic weights, formulas and their names, equations and balancing, hazard statements.

pub mod element;
pub mod equation;
pub mod formula;
pub mod hazard;
pub mod name;
pub mod weights;

pub use element::Element;
pub use equation::Equation;
pub use equation::Species;
pub use formula::Formula;
pub use weights::AtomicWeight;
pub use weights::AtomicWeights;
