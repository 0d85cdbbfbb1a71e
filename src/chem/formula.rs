//! Chemical formulas: groups, nested brackets, hydrate dots, states, charges.

use crate::chem::Element;
use crate::problem::Span;

/// A chemical formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Formula {
    /// as written, normalised: `CuSO4·5H2O`
    text: String,
    atoms: Vec<(Element, u32)>,
    charge: i32,
    state: Option<State>,
}

/// The state of a species, in brackets behind its formula.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// (s)
    Solid,
    /// (l)
    Liquid,
    /// (g)
    Gas,
    /// (aq)
    Aqueous,
}

/// Why a text is no formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FormulaError {
    /// One plain sentence, naming the offending symbol.
    pub message: String,
    /// Bytes of the text given.
    pub span: Span,
    /// A next step, such as a spelling that would do.
    pub help: Option<String>,
}

impl Formula {
    /// Reads `Zn`, `CuSO4·5H2O` (dot as `·`, `.`, `*`), `Ca3(PO4)2`, `[Cu(NH3)4]^2+`, `e-`, with Unicode subscripts too.
    ///
    /// # Errors
    /// When the text is no formula.
    pub fn parse(text: &str) -> Result<Self, FormulaError> {
        let _ = text;
        unimplemented!()
    }

    /// Atoms in order of first appearance, counts summed over the whole formula.
    #[must_use]
    pub fn atoms(&self) -> &[(Element, u32)] {
        &self.atoms
    }

    /// Charge number.
    #[must_use]
    pub const fn charge(&self) -> i32 {
        self.charge
    }

    /// The state written, if any.
    #[must_use]
    pub const fn state(&self) -> Option<State> {
        self.state
    }

    /// The formula without its waters of crystallisation and their number: `CuSO4` and 5; 0 for an anhydrous one.
    #[must_use]
    pub fn waters(&self) -> (Self, u32) {
        unimplemented!()
    }

    /// Same atoms and charge, whatever the state and the way of writing.
    #[must_use]
    pub fn same_substance(&self, other: &Self) -> bool {
        let _ = other;
        unimplemented!()
    }

    /// Plain ASCII with `·`: `CuSO4·5H2O`; no state.
    #[must_use]
    pub fn plain(&self) -> &str {
        &self.text
    }

    /// With Unicode subscripts and superscripts: `CuSO₄·5H₂O`, `SO₄²⁻`; no state.
    #[must_use]
    pub fn pretty(&self) -> String {
        unimplemented!()
    }
}
