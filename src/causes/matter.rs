//! What the substances of an experiment are like: coloured in water, gaseous, and so how the end of a reaction shows.

use crate::causes::scene::Scene;
use crate::chem::Formula;
use crate::chem::formula::State;

/// Metals whose ions colour water (common practice, no source).
const COLOURED: [&str; 5] = ["Cu", "Co", "Ni", "Cr", "Fe"];

/// How the end of a reaction shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// The colour of the reactant that runs out has gone.
    ColourFades,
    /// No more bubbles come.
    Bubbles,
    /// Nothing changes any more.
    Still,
}

impl Ending {
    /// What to look at, a sentence.
    #[must_use]
    pub const fn look(self) -> &'static str {
        match self {
            Self::ColourFades => "Look whether the colour of the liquid still fades.",
            Self::Bubbles => "Look whether bubbles still come.",
            Self::Still => "Look whether anything still changes, in the liquid or in the solid.",
        }
    }

    /// How long to wait, behind the word “until”.
    #[must_use]
    pub const fn until(self) -> &'static str {
        match self {
            Self::ColourFades => "the liquid has lost the colour of the {dissolved}",
            Self::Bubbles => "no more bubbles come",
            Self::Still => "nothing changes any more",
        }
    }
}

impl Scene<'_> {
    /// How the end of the reaction shows, told from the equation and the reactant that runs out.
    #[must_use]
    pub fn ending(&self) -> Ending {
        let mut products = self.equation().products.iter();
        if self.limiting.iter().any(|index| self.fades(*index)) {
            Ending::ColourFades
        } else if products.any(|species| species.formula.state() == Some(State::Gas)) {
            Ending::Bubbles
        } else {
            Ending::Still
        }
    }

    /// Whether a reactant colours the liquid until it has run out: coloured itself, and no product keeps its colour.
    fn fades(&self, reactant: usize) -> bool {
        let Some((species, true)) = self.equation().find(&self.substance(reactant).formula) else {
            return false;
        };
        let formula = &species.formula;
        if ["I2", "Br2"].contains(&formula.plain()) {
            return true;
        }
        let Some(colour) = colour(formula).filter(|_| formula.state() == Some(State::Aqueous))
        else {
            return false;
        };
        let mut products = self.equation().products.iter();
        !products.any(|product| {
            product.formula.state() == Some(State::Aqueous)
                && self::colour(&product.formula) == Some(colour)
        })
    }
}

/// The metal that colours a dissolved substance.
fn colour(formula: &Formula) -> Option<&'static str> {
    let has = |symbol: &str| formula.atoms().iter().any(|(e, _)| e.symbol() == symbol);
    COLOURED.into_iter().find(|symbol| has(symbol))
}
