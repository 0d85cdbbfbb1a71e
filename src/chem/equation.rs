//! Chemical equations: parsed with or without coefficients, balanced exactly.

use crate::chem::Formula;
use crate::problem::Span;

/// A balanced equation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Equation {
    /// In the order written.
    pub reactants: Vec<Species>,
    /// In the order written.
    pub products: Vec<Species>,
}

/// A formula with its coefficient.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Species {
    /// Stoichiometric coefficient, at least 1.
    pub coefficient: u32,
    /// The formula with its state.
    pub formula: Formula,
}

/// Why a text is no balanced equation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EquationError {
    /// One plain sentence; names the element where one is at fault.
    pub message: String,
    /// Bytes of the text given.
    pub span: Span,
    /// A next step.
    pub help: Option<String>,
}

impl Equation {
    /// Reads `Zn(s) + CuSO4(aq) -> ZnSO4(aq) + Cu(s)`; arrows `->`, `→`, `=`, `⟶`, `=>`.
    ///
    /// Without coefficients the equation is balanced; with them it is verified.
    ///
    /// # Errors
    /// When a formula cannot be read, when no balance exists (naming the element),
    /// when more than one does and no coefficients are given, or when the coefficients given do not balance.
    pub fn parse(text: &str) -> Result<Self, EquationError> {
        let _ = text;
        unimplemented!()
    }

    /// `Zn(s) + CuSO₄(aq) → ZnSO₄(aq) + Cu(s)`, coefficients of 1 left out.
    #[must_use]
    pub fn pretty(&self) -> String {
        unimplemented!()
    }

    /// The species of a substance with the side it stands on: `true` for a reactant.
    #[must_use]
    pub fn find(&self, formula: &Formula) -> Option<(&Species, bool)> {
        let _ = formula;
        unimplemented!()
    }
}
