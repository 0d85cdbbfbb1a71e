//! What the substances of an experiment are like — coloured, damp, volatile — and so how the end of a reaction shows.

use crate::causes::scene::Scene;
use crate::chem::Formula;
use crate::chem::formula::State;

/// Metals whose ions colour water (common practice, no source).
const COLOURED: [&str; 5] = ["Cu", "Co", "Ni", "Cr", "Fe"];

/// Salts that draw water from the air until they are wet (common practice, no source).
const DELIQUESCENT: [&str; 6] = ["CaCl2", "MgCl2", "ZnCl2", "FeCl3", "NaOH", "KOH"];

/// Further salts that take up water from the air and stay dry to look at (common practice, no source).
const HYGROSCOPIC: [&str; 4] = ["Na2CO3", "K2CO3", "CuSO4", "CuCl2"];

/// Bases that bind the carbon dioxide of the air, in solution or as they are (common practice, no source).
const BIND_CARBON_DIOXIDE: [&str; 5] = ["NaOH", "KOH", "LiOH", "Ca(OH)2", "Ba(OH)2"];

/// Metals that acid attacks, with the charge of the ion they form and so the hydrogen they make.
const ATTACKED_BY_ACID: [(&str, u32); 5] = [("Mg", 2), ("Al", 3), ("Zn", 2), ("Fe", 2), ("Ni", 2)];

/// The oxide a metal turns into when it is heated in air, and the atoms of the metal in it.
const OXIDES: [(&str, &str, u32); 7] = [
    ("Cu", "CuO", 1),
    ("Fe", "Fe2O3", 2),
    ("Zn", "ZnO", 1),
    ("Al", "Al2O3", 2),
    ("Mg", "MgO", 1),
    ("Pb", "PbO", 1),
    ("Ni", "NiO", 1),
];

/// Oxides that carbon or a flame turns into a lower one: both, each with the atoms of the metal in it (common practice, no source).
const REDUCED: [(&str, u32, &str, u32); 3] = [
    ("Fe2O3", 2, "Fe3O4", 3),
    ("CuO", 1, "Cu2O", 2),
    ("MnO2", 1, "Mn3O4", 3),
];

/// Elements that go off as a coloured vapour near room temperature.
const VOLATILE: [&str; 2] = ["I2", "Br2"];

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
    /// The charge of the ion a metal forms in acid.
    #[must_use]
    pub fn attacked_by_acid(&self, reactant: usize) -> Option<u32> {
        let symbol = self.metal(reactant)?.symbol();
        let mut known = ATTACKED_BY_ACID.iter();
        known
            .find(|(metal, _)| *metal == symbol)
            .map(|(_, charge)| *charge)
    }

    /// Whether a substance is a metal that air turns into an oxide.
    #[must_use]
    pub fn oxidises(&self, index: usize) -> bool {
        let metal = self.metal(index);
        metal.is_some_and(|metal| OXIDES.iter().any(|(known, ..)| *known == metal.symbol()))
    }

    /// Mass of the oxide for a mass of the metal, with the oxide's formula.
    #[must_use]
    pub fn oxide(&self, index: usize) -> Option<(f64, &'static str)> {
        let symbol = self.metal(index)?.symbol();
        let (_, oxide, atoms) = OXIDES.iter().find(|(metal, ..)| *metal == symbol)?;
        let metal = self.molar_mass(symbol)?;
        Some((self.molar_mass(oxide)? / (f64::from(*atoms) * metal), oxide))
    }

    /// Whether a salt draws water from the air until it is wet.
    #[must_use]
    pub fn deliquescent(&self, reactant: usize) -> bool {
        DELIQUESCENT.contains(&self.substance(reactant).formula.waters().0.plain())
    }

    /// Whether a reactant binds the carbon dioxide of the air.
    #[must_use]
    pub fn binds_carbon_dioxide(&self, reactant: usize) -> bool {
        let formula = &self.substance(reactant).formula;
        BIND_CARBON_DIOXIDE.contains(&formula.waters().0.plain())
    }

    /// The lower oxide that a product may become in the flame, and the share of its mass that it loses then.
    #[must_use]
    pub fn lower_oxide(&self, product: usize) -> Option<(&'static str, f64)> {
        let formula = self.substance(product).formula.plain();
        let (oxide, atoms, lower, of_lower) = REDUCED.iter().find(|row| row.0 == formula)?;
        let before = self.molar_mass(oxide)? / f64::from(*atoms);
        let after = self.molar_mass(lower)? / f64::from(*of_lower);
        Some((*lower, 1.0 - after / before))
    }

    /// Whether a bottle of a salt may hold more water than its label says: a hydrate, or a salt that takes it from the air.
    #[must_use]
    pub fn holds_water(&self, reactant: usize) -> bool {
        let formula = &self.substance(reactant).formula;
        self.waters(reactant) > 0
            || self.deliquescent(reactant)
            || HYGROSCOPIC.contains(&formula.plain())
    }

    /// Whether a substance goes off as a vapour that can be seen.
    #[must_use]
    pub fn volatile(&self, index: usize) -> bool {
        VOLATILE.contains(&self.substance(index).formula.plain())
    }

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
        if VOLATILE.contains(&formula.plain()) {
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
