//! Balances an equation exactly, and says which element or substance is at fault when that fails.

use num_bigint::BigInt;
use num_traits::Signed;
use num_traits::ToPrimitive;
use num_traits::Zero;

use crate::chem::Element;
use crate::chem::Formula;
use crate::chem::null_space::null_space;

/// A formula with the side it stands on.
pub(super) struct Place<'a> {
    /// The formula.
    pub formula: &'a Formula,
    /// Whether it stands on the left.
    pub reactant: bool,
}

/// What an equation must have as much of on the left as on the right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kept {
    /// Atoms of an element.
    Atoms(Element),
    /// Charge, counted in elementary charges.
    Charge,
}

/// Why no coefficients balance an equation, or why several sets do.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Fault {
    /// One plain sentence that names the element or the substance.
    pub message: String,
    /// The places at fault, by their number; none when it is the whole equation.
    pub at: Option<usize>,
    /// A next step.
    pub help: String,
    /// Whether more than one set of coefficients may balance.
    pub open: bool,
}

/// One thing that does not balance, with its total on each side.
pub(super) struct Imbalance {
    /// What it is.
    pub kept: Kept,
    /// Total on the left.
    pub left: i128,
    /// Total on the right.
    pub right: i128,
}

/// The next step when charges are at fault.
const CHECK_CHARGES: &str =
    "Check the charge of every ion; a half-equation needs its electrons too, written `e^-`.";
/// The next step when atoms are.
const CHECK_FORMULAS: &str =
    "Check every formula, and whether a substance is missing, such as water, an acid or a gas.";

impl Kept {
    /// In words: `copper`, `charge`.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Atoms(element) => element.name(),
            Self::Charge => "charge",
        }
    }

    /// How much of it one formula unit holds.
    fn of(self, formula: &Formula) -> i64 {
        match self {
            Self::Atoms(element) => i64::from(formula.count(element)),
            Self::Charge => i64::from(formula.charge()),
        }
    }
}

/// The first thing that the coefficients given leave unbalanced.
pub(super) fn imbalance(places: &[Place], coefficients: &[u32]) -> Option<Imbalance> {
    kept(places).into_iter().find_map(|kept| {
        let total = |side: bool| -> i128 {
            let on_side = places
                .iter()
                .zip(coefficients)
                .filter(|(place, _)| place.reactant == side);
            on_side
                .map(|(place, number)| i128::from(kept.of(place.formula)) * i128::from(*number))
                .sum()
        };
        let (left, right) = (total(true), total(false));
        (left != right).then_some(Imbalance { kept, left, right })
    })
}

/// The smallest whole coefficients that balance the places, in their order.
///
/// # Errors
/// When there are none, or more than one set.
pub(super) fn balance(places: &[Place]) -> Result<Vec<u32>, Fault> {
    let kept = kept(places);
    let rows: Vec<Vec<i64>> = kept.iter().map(|kept| row(*kept, places)).collect();
    let basis = null_space(&rows, places.len());
    let idle: Vec<usize> = (0..places.len())
        .filter(|&at| !basis.is_empty() && basis.iter().all(|vector| vector[at].is_zero()))
        .collect();
    if let [at] = idle[..] {
        return Err(takes_no_part(places, at));
    }
    refuse_one_sided(&kept, places)?;
    if kept.contains(&Kept::Charge) && rows.last().is_some_and(|row| one_signed(row)) {
        return Err(Fault {
            message: "The charges of this equation cannot balance, whatever its coefficients are."
                .into(),
            at: None,
            help: CHECK_CHARGES.into(),
            open: false,
        });
    }
    if let Some(&at) = idle.first() {
        return Err(takes_no_part(places, at));
    }
    match basis.as_slice() {
        [] => Err(impossible(&kept, &rows, places)),
        [only] => {
            if let Some(at) = wrong_side(only) {
                return Err(stands_wrong(places, at));
            }
            only.iter()
                .map(|number| number.to_u32().ok_or_else(too_large))
                .collect()
        }
        several => Err(more_than_one(several.len())),
    }
}

/// Everything the places hold, elements in order of appearance, charge last if there is any.
fn kept(places: &[Place]) -> Vec<Kept> {
    let mut kept = Vec::new();
    for (element, _) in places.iter().flat_map(|place| place.formula.atoms()) {
        if !kept.contains(&Kept::Atoms(*element)) {
            kept.push(Kept::Atoms(*element));
        }
    }
    if places.iter().any(|place| place.formula.charge() != 0) {
        kept.push(Kept::Charge);
    }
    kept
}

/// How much of one thing each place holds: positive on the left, negative on the right.
fn row(kept: Kept, places: &[Place]) -> Vec<i64> {
    let signed = |place: &Place| {
        if place.reactant {
            kept.of(place.formula)
        } else {
            -kept.of(place.formula)
        }
    };
    places.iter().map(signed).collect()
}

/// Whether a row can only sum to zero when all that it touches is zero.
fn one_signed(row: &[i64]) -> bool {
    row.iter().all(|number| *number >= 0) || row.iter().all(|number| *number <= 0)
}

/// The first place whose coefficient would be below zero.
fn wrong_side(vector: &[BigInt]) -> Option<usize> {
    vector.iter().position(Signed::is_negative)
}

/// An error that names every element that stands on one side only.
fn refuse_one_sided(kept: &[Kept], places: &[Place]) -> Result<(), Fault> {
    let mut parts = Vec::new();
    let mut at = None;
    let mut one_sided = Vec::new();
    for kept in kept {
        let Kept::Atoms(element) = *kept else {
            continue;
        };
        let on = |side: bool| {
            places
                .iter()
                .position(|place| place.reactant == side && place.formula.count(element) > 0)
        };
        let (place, side) = match (on(true), on(false)) {
            (Some(place), None) => (place, "left"),
            (None, Some(place)) => (place, "right"),
            _ => continue,
        };
        let verb = if parts.is_empty() { "stands " } else { "" };
        parts.push(format!("{} {verb}on the {side} only", element.name()));
        at = at.or(Some(place));
        one_sided.push(element);
    }
    let Some(at) = at else { return Ok(()) };
    let help = lookalike(&one_sided, places).unwrap_or_else(|| {
        "Check the formulas, and whether a substance is missing, such as water, a gas or a dissolved salt.".into()
    });
    Err(Fault {
        message: sentence(&parts.join(", ")),
        at: Some(at),
        help,
        open: false,
    })
}

/// A next step when a digit 1 or a capital I was typed for the l of chlorine.
fn lookalike(one_sided: &[Element], places: &[Place]) -> Option<String> {
    let chlorine = Element::from_symbol("Cl");
    let suspicious = |mark: &str| {
        places
            .iter()
            .find(|place| place.formula.plain().contains(mark))
    };
    let involved = |symbol: &str| {
        one_sided
            .iter()
            .any(|element| element.symbol() == symbol || Some(*element) == chlorine)
    };
    let (place, typed) = if let Some(place) = suspicious("C1").filter(|_| involved("C")) {
        (place, "the digit 1")
    } else {
        (suspicious("CI").filter(|_| involved("I"))?, "a capital I")
    };
    let formula = place.formula.plain();
    Some(format!(
        "Look at `{formula}`: was {typed} typed for the small letter l of Cl?"
    ))
}

/// The error for a substance whose coefficient comes out as zero.
fn takes_no_part(places: &[Place], at: usize) -> Fault {
    let formula = places[at].formula.pretty();
    Fault {
        message: format!("{formula} takes no part: the equation balances only with 0 {formula}."),
        at: Some(at),
        help: format!("Leave {formula} out, or add the substance that it reacts to or comes from."),
        open: false,
    }
}

/// The error for a substance that would have to stand on the other side.
fn stands_wrong(places: &[Place], at: usize) -> Fault {
    let formula = places[at].formula.pretty();
    let (side, other) = if places[at].reactant {
        ("left", "right")
    } else {
        ("right", "left")
    };
    Fault {
        message: format!(
            "{formula} stands on the {side}, but the equation balances only with it on the {other}."
        ),
        at: Some(at),
        help: format!("Move {formula} to the {other}, or check the other formulas."),
        open: false,
    }
}

/// The error for an equation that only balances with nothing at all; names what is left over once
/// the rest is balanced.
fn impossible(kept: &[Kept], rows: &[Vec<i64>], places: &[Place]) -> Fault {
    for dropped in (0..rows.len()).rev() {
        let mut others = rows.to_vec();
        others.remove(dropped);
        let basis = null_space(&others, places.len());
        let [only] = basis.as_slice() else { continue };
        let Some(numbers) = only
            .iter()
            .map(|number| number.to_u32().filter(|n| *n > 0))
            .collect::<Option<Vec<_>>>()
        else {
            continue;
        };
        let Some(Imbalance { kept, left, right }) = imbalance(places, &numbers) else {
            continue;
        };
        let name = kept.name();
        let rest = if rows.len() > 1 {
            " when the rest is balanced"
        } else {
            ""
        };
        let help = if kept == Kept::Charge {
            CHECK_CHARGES
        } else {
            CHECK_FORMULAS
        };
        return Fault {
            message: sentence(&format!(
                "{name} cannot balance: {} on the left, {} on the right{rest}",
                signed(left),
                signed(right)
            )),
            at: None,
            help: help.into(),
            open: false,
        };
    }
    let names: Vec<&str> = kept.iter().map(|kept| kept.name()).collect();
    let message = format!("No coefficients balance {} all at once.", names.join(", "));
    Fault {
        message,
        at: None,
        help: CHECK_FORMULAS.into(),
        open: false,
    }
}

/// The error for an equation that leaves its coefficients open.
fn more_than_one(freedom: usize) -> Fault {
    Fault {
        message: format!(
            "This equation balances in more than one way: counting atoms leaves {freedom} of its coefficients open."
        ),
        at: None,
        help: "Write a coefficient before every formula, also the 1s, or write one equation for each reaction.".into(),
        open: true,
    }
}

/// The error for coefficients that no lab needs.
fn too_large() -> Fault {
    Fault {
        message: "The coefficients of this equation come out too large.".into(),
        at: None,
        help: "Check the numbers in the formulas.".into(),
        open: false,
    }
}

/// A number with the true minus sign.
pub(super) fn signed(number: i128) -> String {
    number.to_string().replace('-', "\u{2212}")
}

/// Words as a sentence: capital first, full stop last.
pub(super) fn sentence(words: &str) -> String {
    let mut chars = words.chars();
    let first = chars.next().map(|c| c.to_ascii_uppercase());
    first.into_iter().chain(chars).chain(['.']).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences() {
        assert_eq!(
            sentence("chlorine stands on the left only"),
            "Chlorine stands on the left only."
        );
    }
}
