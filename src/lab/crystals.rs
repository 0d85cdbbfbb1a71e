//! Whether a product comes out of its liquid as crystals, so that a part of it stays dissolved however careful the work is.

use crate::chem::Equation;
use crate::chem::Formula;
use crate::chem::formula::State;
use crate::lab::Substance;

/// Elements of which organic molecules without a metal are made.
const OF_MOLECULES: &str = " H C N O F P S Cl Br I ";

impl Substance {
    /// Whether it crystallises from the liquid of an equation: a salt that takes up water, or an organic solid that is
    /// filtered off.
    #[must_use]
    pub fn crystallises(&self, equation: &Equation) -> bool {
        if self.reactant || self.after.is_none() {
            return false;
        }
        let Some((species, _)) = equation.find(&self.formula) else {
            return false;
        };
        match species.formula.state() {
            Some(State::Aqueous) => {
                let form = self.weighed_as.as_ref();
                form.is_some_and(|form| form.waters().1 > 0)
            }
            Some(State::Solid) => is_organic(&self.formula) && has_liquid(equation),
            _ => false,
        }
    }
}

/// Whether anything of an equation is a liquid or dissolved.
fn has_liquid(equation: &Equation) -> bool {
    let mut all = equation.reactants.iter().chain(&equation.products);
    all.any(|species| {
        matches!(
            species.formula.state(),
            Some(State::Liquid | State::Aqueous)
        )
    })
}

/// Whether a formula holds carbon and hydrogen, and nothing that is not found in organic molecules.
fn is_organic(formula: &Formula) -> bool {
    let has = |symbol: &str| formula.atoms().iter().any(|(e, _)| e.symbol() == symbol);
    let molecule = formula
        .atoms()
        .iter()
        .all(|(element, _)| OF_MOLECULES.contains(&format!(" {} ", element.symbol())));
    formula.charge() == 0 && has("C") && has("H") && molecule
}

#[cfg(test)]
mod tests {
    use super::is_organic;
    use crate::chem::Formula;

    #[test]
    fn organic_molecules_are_told_from_salts() {
        for (formula, is) in [
            ("C9H8O4", true),
            ("C6H5Br", true),
            ("CaCO3", false),
            ("NaHCO3", false),
            ("CO2", false),
            ("C2H3O2^-", false),
        ] {
            let formula = Formula::parse(formula).unwrap();
            assert_eq!(is_organic(&formula), is, "{formula:?}");
        }
    }
}
