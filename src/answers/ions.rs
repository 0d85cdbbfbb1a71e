//! Ions that stand for the substance that holds them: `Cu2+`, `Cu²⁺`, `copper ions` and `Kupferionen` for copper sulfate.

use std::iter::Peekable;
use std::str::Chars;

use crate::chem::Element;
use crate::chem::Formula;
use crate::lab::Lab;

/// Behind an element, in every language that students write: it is an ion.
const IONS: [&str; 3] = ["ion", "ions", "ionen"];

/// What [`apart`] writes for the charge of an ion.
pub(super) const ION: &str = "ion";

/// Between an element and the word for its ion, if anything.
const CHARGES: [&str; 5] = ["", " i", " ii", " iii", " iv"];

/// What the ions are called that only this one of some substances holds; none of an element by itself.
pub(super) fn names<'f>(
    formula: &Formula,
    among: impl Iterator<Item = &'f Formula>,
    lab: &Lab,
) -> Vec<String> {
    let compound = |formula: &Formula| formula.waters().0.atoms().len() > 1;
    if !compound(formula) {
        return Vec::new();
    }
    let others: Vec<&Formula> = among
        .filter(|other| compound(other) && !other.same_substance(formula))
        .collect();
    let mut names = Vec::new();
    for (element, _) in formula.waters().0.atoms() {
        if others.iter().any(|other| other.count(*element) > 0) {
            continue;
        }
        names.push(format!("{} {ION}", element.symbol()));
        let own = lab.words.say(element.name());
        for name in [element.name(), own] {
            for ion in IONS {
                names.push(format!("{name}{ion}"));
                names.extend(CHARGES.map(|charge| format!("{name}{charge} {ion}")));
            }
        }
    }
    names
}

/// A text with a word in the place of the charge of each ion of the lab's elements: `Cu²⁺` becomes `Cu ion`.
pub(super) fn apart(text: &str, lab: &Lab) -> String {
    let species = lab.equation.reactants.iter().chain(&lab.equation.products);
    let known: Vec<Element> = species
        .flat_map(|species| species.formula.atoms())
        .map(|(element, _)| *element)
        .collect();
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let begins = !plain.ends_with(char::is_alphanumeric);
        if let Some((symbol, length)) = begins.then(|| ion(rest, &known)).flatten() {
            plain.push_str(symbol);
            plain.push(' ');
            plain.push_str(ION);
            rest = &rest[length..];
        } else {
            plain.push(c);
            rest = &rest[c.len_utf8()..];
        }
    }
    plain
}

/// The symbol of the ion a text begins with, and how many bytes it takes with its charge.
fn ion(text: &str, known: &[Element]) -> Option<(&'static str, usize)> {
    // Students write small letters too.
    let begins = |element: &&Element| {
        let symbol = element.symbol();
        text.get(..symbol.len()).is_some_and(|typed| {
            let small = || symbol.bytes().map(|letter| letter.to_ascii_lowercase());
            typed == symbol || typed.bytes().eq(small())
        })
    };
    let symbols = known.iter().filter(begins);
    let symbol = symbols
        .map(|element| element.symbol())
        .max_by_key(|symbol| symbol.len())?;
    let behind = text.get(symbol.len()..)?;
    let length = charge(behind)?;
    Some((symbol, symbol.len() + length))
}

/// How many bytes the charge takes that a text begins with: `2+`, `^{2+}`, `²⁺`, `(2+)`, `+2`, `+`.
fn charge(text: &str) -> Option<usize> {
    let mut rest = text.chars().peekable();
    skip(&mut rest, |c| matches!(c, '^' | '{' | '('));
    skip(&mut rest, is_digit);
    // `Cu++`, but of `Cu2+-Ionen` only the plus.
    let sign = rest.next_if(|c| matches!(c, '+' | '-' | '−' | '⁺' | '⁻'))?;
    skip(&mut rest, |c| c == sign);
    skip(&mut rest, is_digit);
    skip(&mut rest, |c| matches!(c, '}' | ')'));
    // `Zn-Blech` and `Zn+CuSO4` go on with something else.
    if rest.peek().is_some_and(|next| next.is_alphanumeric()) {
        return None;
    }
    let left: usize = rest.map(char::len_utf8).sum();
    Some(text.len() - left)
}

fn is_digit(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '¹' | '²' | '³' | '⁴')
}

/// Goes over characters of a kind, and says whether there were any.
fn skip(rest: &mut Peekable<Chars<'_>>, kind: impl Fn(char) -> bool) -> bool {
    let mut any = false;
    while rest.next_if(|c| kind(*c)).is_some() {
        any = true;
    }
    any
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_charge_ends_where_the_ion_does() {
        for (text, length) in [
            ("2+", Some(2)),
            ("²⁺", Some("²⁺".len())),
            ("^{2+}", Some(5)),
            ("^2+ ions", Some(3)),
            ("(2+)", Some(4)),
            ("+2", Some(2)),
            ("+", Some(1)),
            ("++", Some(2)),
            ("2+-Ionen", Some(2)),
            ("2+(aq)", Some(2)),
            ("", None),
            ("2", None),
            ("-Blech", None),
            ("+CuSO4", None),
        ] {
            assert_eq!(charge(text), length, "{text}");
        }
    }
}
