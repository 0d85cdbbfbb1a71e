//! Keys of a lab description that are common words: where a product may be called so too, they name no reactant.

use crate::answers::elements;
use crate::chem::Formula;
use crate::lab::Lab;
use crate::lab::ProductNames;

/// A kind of substance by its words, and whether a substance is of that kind.
type Class = (&'static [&'static str], fn(&Formula) -> bool);

/// Kinds of substances that schools speak of.
const CLASSES: [Class; 5] = [
    (&["salt", "salz"], is_salt),
    (&["oxide", "oxid"], is_oxide),
    (&["acid", "saeure"], is_acid),
    (&["base"], is_hydroxide),
    (
        &["metal", "metall"],
        |formula| matches!(formula.atoms(), [(only, _)] if elements::is_metal(*only)),
    ),
];

/// Whether one of the products may be called by a name, as words of small letters: by a word of its own name, or by its kind.
pub(super) fn is_of_a_product(name: &[String], products: &[ProductNames], lab: &Lab) -> bool {
    let [only] = name else { return false };
    if products.is_empty() {
        return false;
    }
    let in_name = |product: &ProductNames| product.names.iter().any(|words| words.contains(only));
    let class = CLASSES
        .iter()
        .find(|(words, _)| words.contains(&only.as_str()));
    let of_class = |(_, is): &Class| {
        let equations = std::iter::once(&lab.equation).chain(&lab.alternatives);
        let mut all = equations.flat_map(|equation| &equation.products);
        all.any(|species| is(&species.formula.waters().0))
    };
    products.iter().any(in_name) || class.is_some_and(of_class)
}

/// A metal or ammonium with something else that makes neither an oxide nor a hydroxide of it.
fn is_salt(formula: &Formula) -> bool {
    let begins = match formula.atoms().first() {
        Some((first, _)) => elements::is_metal(*first) || formula.plain().contains("NH4"),
        None => false,
    };
    begins && formula.atoms().len() > 1 && !is_oxide(formula) && !is_hydroxide(formula)
}

fn is_oxide(formula: &Formula) -> bool {
    let atoms = formula.atoms();
    let holds = |symbol: &str| atoms.iter().any(|(element, _)| element.symbol() == symbol);
    atoms.len() == 2 && holds("O") && !holds("H")
}

fn is_acid(formula: &Formula) -> bool {
    formula.atoms().len() > 1 && formula.plain().starts_with('H') && formula.plain() != "H2O"
}

fn is_hydroxide(formula: &Formula) -> bool {
    let plain = formula.plain();
    formula.atoms().len() == 3 && plain.contains("OH") && !plain.contains('C')
}
