//! The number of waters of a hydrate `·xH2O`, as a further quantity to be found.

use crate::chem::Formula;
use crate::lab::Before;
use crate::lab::Find;
use crate::lab::Substance;
use crate::lab::Term;
use crate::lab::Written;
use crate::lab::expression::Sign;
use crate::problem::Span;

/// `waters_<hydrate>`: moles of water for one mole of the salt without it, from whatever the lab weighs; none without such a
/// hydrate, or where neither the salt nor the hydrate is weighed.
pub(super) fn to_find(substances: &[Substance]) -> Option<Find> {
    let hydrate = substances.iter().find(|s| s.formula.open_waters())?;
    let (dry, _) = hydrate.formula.waters();
    let water = Formula::parse("H2O").ok()?;
    let of = |formula: &Formula| {
        let mut found = substances.iter();
        found.find(|s| s.formula.same_substance(formula) && s.after.is_some())
    };
    let span = hydrate.span.clone();
    let salt = of(&dry)?;
    let value = if let Some(water) = of(&water) {
        let moles = |s: &Substance| named(&format!("moles_collected_{}", s.key), &span);
        over(moles(water), moles(salt), &span)
    } else {
        // What the crystals lost is the water.
        let Some(Before::Measured(crystals)) = &hydrate.before else {
            return None;
        };
        let left = salt.after.as_ref()?.term.clone();
        let lost = binary(Sign::Minus, crystals.term.clone(), left.clone(), &span);
        let moles = |mass, formula| over(mass, Term::MolarMass(formula, span.clone()), &span);
        over(moles(lost, water), moles(left, dry.clone()), &span)
    };
    let expected = hydrate.waters.as_ref().map(|(number, place)| Written {
        term: Term::Number(*number, place.clone()),
        span: place.clone(),
    });
    let title = format!("moles of water for one mole of {} (x)", dry.pretty());
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
