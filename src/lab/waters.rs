//! The number of waters of a hydrate `·xH2O`, as a further quantity to be found; and water by its name.

use crate::chem::Formula;
use crate::lab::Before;
use crate::lab::Find;
use crate::lab::Substance;
use crate::lab::Term;
use crate::lab::Written;
use crate::lab::expression::Sign;
use crate::problem::Span;
use crate::say;
use crate::words::Words;

/// Whether a liquid is water by its name: `distilled water`, `destilliertes Wasser`; not `water with acid`.
pub(crate) fn is_water(liquid: &str) -> bool {
    let last = liquid.split_whitespace().next_back().unwrap_or_default();
    ["water", "wasser"].contains(&last.to_lowercase().as_str())
}

/// `waters_<hydrate>`: moles of water for one mole of the salt without it, whether the hydrate is heated or made; none without such
/// a hydrate, or where the lab does not weigh both the salt and either its hydrate or the water.
pub(super) fn to_find(substances: &[Substance], words: &Words) -> Option<Find> {
    let hydrate = substances.iter().find(|s| s.formula.open_waters())?;
    let (dry, _) = hydrate.formula.waters();
    let span = hydrate.span.clone();
    let value = if hydrate.reactant {
        given_off(substances, hydrate, &dry)?
    } else {
        taken_up(substances, hydrate, &dry)?
    };
    let expected = hydrate.waters.as_ref().map(|(number, place)| Written {
        term: Term::Number(*number, place.clone()),
        span: place.clone(),
    });
    let title = say!(
        words,
        "moles of water for one mole of {salt} (x)",
        salt = dry.pretty()
    );
    Some(Find {
        id: format!("waters_{}", hydrate.key),
        span: span.clone(),
        title,
        value: Written { term: value, span },
        expected,
        unit: None,
        question: None,
    })
}

/// A hydrate that is heated: its water is collected, or it is what the crystals lost.
fn given_off(substances: &[Substance], hydrate: &Substance, dry: &Formula) -> Option<Term> {
    let span = &hydrate.span;
    let collected = |formula: &Formula| {
        let mut found = substances.iter();
        found.find(|s| s.formula.same_substance(formula) && s.after.is_some())
    };
    let moles = |s: &Substance| named(&format!("moles_collected_{}", s.key), span);
    let salt = collected(dry)?;
    let water = Formula::parse("H2O").ok()?;
    if let Some(water) = collected(&water) {
        return Some(over(moles(water), moles(salt), span));
    }
    let Some(Before::Measured(crystals)) = &hydrate.before else {
        return None;
    };
    let left = salt.after.as_ref()?.term.clone();
    let lost = binary(Sign::Minus, crystals.term.clone(), left, span);
    let water = over(lost, Term::MolarMass(water, span.clone()), span);
    Some(over(water, moles(salt), span))
}

/// A hydrate that is made: its water is what the salt gained.
fn taken_up(substances: &[Substance], hydrate: &Substance, dry: &Formula) -> Option<Term> {
    let span = &hydrate.span;
    let mut found = substances.iter();
    let salt = found.find(|s| s.reactant && s.formula.same_substance(dry))?;
    let Some(Before::Measured(_)) = &salt.before else {
        return None;
    };
    let moles = || named(&format!("moles_{}", salt.key), span);
    let molar_mass = |formula: &Formula| Term::MolarMass(formula.clone(), span.clone());
    let without = binary(Sign::Times, moles(), molar_mass(dry), span);
    let crystals = hydrate.after.as_ref()?.term.clone();
    let gained = binary(Sign::Minus, crystals, without, span);
    let water = over(gained, molar_mass(&Formula::parse("H2O").ok()?), span);
    Some(over(water, moles(), span))
}

fn named(name: &str, span: &Span) -> Term {
    Term::Name(name.to_owned(), span.clone())
}

fn over(above: Term, below: Term, span: &Span) -> Term {
    binary(Sign::Over, above, below, span)
}

fn binary(sign: Sign, left: Term, right: Term, span: &Span) -> Term {
    Term::Binary {
        sign,
        left: Box::new(left),
        right: Box::new(right),
        span: span.clone(),
    }
}
