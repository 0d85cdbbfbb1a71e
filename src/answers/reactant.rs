//! Which reactant a student names: by name, formula or ion, with or without its water, and “in excess” turned round.

use std::ops::Range;

use crate::answers::elements;
use crate::answers::ions;
use crate::answers::names::called;
use crate::answers::names::in_words;
use crate::answers::names::names_of;
use crate::answers::names::other_spellings;
use crate::answers::vocabulary;
use crate::answers::vocabulary::Vocabulary;
use crate::chem::Equation;
use crate::chem::Formula;
use crate::chem::name;
use crate::lab::Lab;
use crate::lab::ProductNames;
use crate::lab::Substance;

/// What a text names where a reactant is asked for.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Named {
    /// Reactants, by index into [`Lab::substances`]; empty where none is named.
    Reactants(Vec<usize>),
    /// No reactant, but this product, by its name.
    Product(String),
}

/// The same as [`named`] in an answer to what runs out by an equation of the lab: a product's name is told from that of the
/// reactant that stands in it, as “zinc sulfate” from zinc.
#[must_use]
pub(super) fn named_of(text: &str, lab: &Lab, equation: usize, choices: &[usize]) -> Named {
    let products = products(lab, equation);
    let text = elements::apart(text, lab);
    let (found, product) = told_apart(&text, lab, choices, products);
    match product {
        Some(product) if found.is_empty() => Named::Product(product),
        _ => Named::Reactants(found),
    }
}

/// The reactants a text names, by index into [`Lab::substances`]; empty when it names none.
///
/// `choices` are the reactants that could run out. “zinc is in excess” names the others.
#[must_use]
pub(super) fn named(text: &str, lab: &Lab, choices: &[usize]) -> Vec<usize> {
    told_apart(text, lab, choices, &[]).0
}

/// The reactants named, and the first product where there is one.
fn told_apart(
    text: &str,
    lab: &Lab,
    choices: &[usize],
    products: &[ProductNames],
) -> (Vec<usize>, Option<String>) {
    let vocabulary = vocabulary::of(&lab.words);
    let typed = grown_apart(words(&ions::apart(text, lab)), vocabulary);
    let mut found: Vec<usize> = Vec::new();
    let mut in_excess: Vec<usize> = Vec::new();
    let mut spans: Vec<(usize, usize, usize)> = Vec::new();
    for choice in choices {
        for name in called(lab, *choice) {
            let places = places(&typed, name, vocabulary.endings);
            spans.extend(places.map(|(start, end)| (start, end, *choice)));
        }
    }
    let product = take_products(&mut spans, &typed, products);
    // The longest name at a place counts: “copper sulfate” does not name copper.
    let mut longest: Vec<(usize, usize, usize)> = spans
        .iter()
        .filter(|(start, end, _)| {
            !spans
                .iter()
                .any(|(s, e, _)| s <= start && end <= e && (e - s) > (end - start))
        })
        .copied()
        .collect();
    // A reason names the others: “copper sulfate, because there is less of it than zinc”.
    let is_reason = |word: &String| vocabulary.reasons.contains(&word.as_str());
    let reason = typed.iter().position(is_reason).unwrap_or(typed.len());
    if longest.iter().any(|(start, ..)| *start < reason) {
        longest.retain(|(start, ..)| *start < reason);
    }
    let starts: Vec<usize> = longest.iter().map(|(start, ..)| *start).collect();
    for (start, end, choice) in longest {
        let excess = is_in_excess(&typed, start..end, &starts, vocabulary);
        let list = if excess { &mut in_excess } else { &mut found };
        if !list.contains(&choice) {
            list.push(choice);
        }
    }
    // “zinc (Zn) is left over” says it of both names.
    found.retain(|choice| !in_excess.contains(choice));
    if found.is_empty() && !in_excess.is_empty() {
        found = choices
            .iter()
            .copied()
            .filter(|choice| !in_excess.contains(choice))
            .collect();
    }
    let all = |word: &String| vocabulary.all.contains(&word.as_str());
    if found.is_empty() && typed.iter().any(all) {
        found = choices.to_vec();
    }
    found.sort_unstable();
    (found, product)
}

/// The products of an equation of the lab; looked up once for the lab.
fn products(lab: &Lab, equation: usize) -> &[ProductNames] {
    let all = lab.product_names.get_or_init(|| {
        let equations = std::iter::once(&lab.equation).chain(&lab.alternatives);
        equations
            .map(|equation| products_of(equation, lab))
            .collect()
    });
    all.get(equation).map_or(&[], Vec::as_slice)
}

fn products_of(equation: &Equation, lab: &Lab) -> Vec<ProductNames> {
    let formulas = || equation.products.iter().map(|species| &species.formula);
    let product = |formula: &Formula| {
        let is_own = |own: &Substance| own.formula.same_substance(formula) && !own.reactant;
        let own = lab.substances.iter().position(is_own);
        let said = name::in_language(formula, &lab.words);
        let shown = match own {
            Some(own) => lab.substances[own].name.clone(),
            None => said.clone().unwrap_or_else(|| formula.pretty()),
        };
        let mut names = vec![formula.plain().to_owned(), formula.pretty()];
        names.extend(said.into_iter().chain(name::of(formula)));
        let mut names = other_spellings(names, lab);
        names.extend(own.into_iter().flat_map(|own| names_of(lab, own, true)));
        names.extend(ions::names(formula, formulas(), lab));
        let names = in_words(&names);
        ProductNames { shown, names }
    };
    formulas().map(product).collect()
}

/// Takes out of the names found what belongs to the longer name of a product, and returns the first product that is named
/// where no reactant is.
fn take_products(
    spans: &mut Vec<(usize, usize, usize)>,
    typed: &[String],
    products: &[ProductNames],
) -> Option<String> {
    // Most answers are a reactant's name and nothing else.
    if spans
        .iter()
        .any(|(start, end, _)| end - start == typed.len())
    {
        return None;
    }
    let mut found: Vec<(usize, usize, &str)> = Vec::new();
    for ProductNames { shown, names } in products {
        for name in names {
            // `Kupfersalz` is not the metal.
            // Nor does “copper(I) sulfate” name it, whether the lab has such a salt or not.
            let goes_on = |end: usize| typed.get(end).is_some_and(|word| is_roman(word));
            found.extend(
                places(typed, name, &[])
                    .filter(|(_, end)| !goes_on(*end))
                    .map(|(start, end)| (start, end, shown.as_str())),
            );
        }
    }
    let inside =
        |inner: (usize, usize), outer: (usize, usize)| outer.0 <= inner.0 && inner.1 <= outer.1;
    found.retain(|(start, end, _)| {
        let own = (*start, *end);
        !spans.iter().any(|(s, e, _)| inside(own, (*s, *e)))
    });
    spans.retain(|(start, end, _)| {
        let own = (*start, *end);
        !found.iter().any(|(s, e, _)| inside(own, (*s, *e)))
    });
    let first = found.iter().min_by_key(|(start, ..)| *start);
    first.map(|(.., shown)| (*shown).to_owned())
}

/// Where a name stands among words typed, from and to.
fn places(
    typed: &[String],
    name: &[String],
    endings: &[&str],
) -> impl Iterator<Item = (usize, usize)> {
    let starts = 0..typed.len().saturating_sub(name.len() - 1);
    starts
        .map(|start| (start, start + name.len()))
        .filter(|(start, end)| is(&typed[*start..*end], name, endings))
}

/// Whether words typed are a name, which may go on in a compound: `Zinkblech`.
fn is(typed: &[String], name: &[String], endings: &[&str]) -> bool {
    let (Some((last, front)), Some((last_of_name, front_of_name))) =
        (typed.split_last(), name.split_last())
    else {
        return false;
    };
    let ending = last.strip_prefix(last_of_name.as_str());
    front == front_of_name && ending.is_some_and(|end| end.is_empty() || endings.contains(&end))
}

/// Whether what stands around a name says that there is enough of it, or that it is not the one.
///
/// Only the clause counts: in “zinc is in excess, so copper sulfate …” the salt is not the one in excess. Nor does a “not” count that
/// begins what is said of the next name: “copper sulfate not zinc”. `starts` are where names begin.
fn is_in_excess(
    typed: &[String],
    name: Range<usize>,
    starts: &[usize],
    vocabulary: &Vocabulary,
) -> bool {
    let one_of = |at: usize, list: &[&str]| {
        typed
            .get(at)
            .is_some_and(|word| list.contains(&word.as_str()))
    };
    let joins = |at: &usize| one_of(*at, vocabulary.joins);
    let begin = (0..name.start).rev().find(joins).map_or(0, |at| at + 1);
    let end = (name.end..typed.len()).find(joins).unwrap_or(typed.len());
    let beside = || {
        // “the excess reactant is zinc”
        let before = name.start.saturating_sub(3).max(begin)..name.start;
        before.chain(name.end..(name.end + 4).min(end))
    };
    let is_of_another = |at: usize| {
        let behind = at + 1 + usize::from(one_of(at + 1, vocabulary.articles));
        behind > name.end && starts.contains(&behind)
    };
    let negation = |at: usize| {
        (begin..end).contains(&at) && one_of(at, vocabulary.negations) && !is_of_another(at)
    };
    // Neither the name nor the small words before it keep a negation apart from what it is said of.
    let counts = |at: &usize| {
        !(name.contains(at) || one_of(*at, vocabulary.articles) || one_of(*at, vocabulary.of))
    };
    // “not in excess”, “no copper sulfate left”, “reicht nicht”: there is none left.
    let none = |at: usize| {
        (begin..at).rev().filter(counts).take(2).any(negation)
            || (one_of(at, vocabulary.suffices) && negation(at + 1))
    };
    let spent = |at: usize| {
        let mut behind = (at + 1..end).filter(counts).take(2);
        let verb = at.checked_sub(1);
        behind.any(|at| one_of(at, vocabulary.plenty) || one_of(at, vocabulary.no_more))
            || verb.is_some_and(|verb| one_of(verb, vocabulary.suffices))
    };
    beside().any(|at| (one_of(at, vocabulary.plenty) && !none(at)) || (negation(at) && !spent(at)))
}

/// Words that have grown together with the name before them, apart: `Zinküberschuss`.
fn grown_apart(typed: Vec<String>, vocabulary: &Vocabulary) -> Vec<String> {
    let mut apart = Vec::with_capacity(typed.len());
    for word in typed {
        let grown = vocabulary
            .grown
            .iter()
            .find_map(|behind| Some((word.strip_suffix(behind)?, *behind)));
        match grown {
            Some((name, behind)) if !name.is_empty() => {
                apart.extend([name.to_owned(), behind.to_owned()]);
            }
            _ => apart.push(word),
        }
    }
    apart
}

/// A text as lower-case words of letters and digits without umlauts, with `|` where a clause ends. Dots, stars and brackets inside a name part
/// words, in names and formulas alike.
pub(super) fn words(text: &str) -> Vec<String> {
    let mut plain = String::new();
    let mut characters = text.chars().peekable();
    while let Some(c) = characters.next() {
        let ends = characters.peek().is_none_or(|next| next.is_whitespace());
        match c {
            '₀'..='₉' => plain.extend(char::from_digit(c as u32 - '₀' as u32, 10)),
            ',' | ';' | '–' | '—' | '>' | '<' => plain.push_str(" | "),
            '.' if ends => plain.push_str(" | "),
            '(' if plain.ends_with(' ') && !is_number(&characters) => plain.push_str("| "),
            c if c.is_alphanumeric() => plain.push(c),
            _ => plain.push(' '),
        }
    }
    let mut words = plain.to_lowercase();
    for (letter, plain) in [('ä', "ae"), ('ö', "oe"), ('ü', "ue"), ('ß', "ss")] {
        words = words.replace(letter, plain);
    }
    words.split_whitespace().map(str::to_owned).collect()
}

/// Whether a bracket just opened holds a Roman number: `copper (II) sulfate`.
fn is_number(behind: &std::iter::Peekable<std::str::Chars<'_>>) -> bool {
    let inner: String = behind.clone().take_while(|c| *c != ')').collect();
    is_roman(&inner)
}

/// Whether a word is a Roman number, as the charge in the name of a salt.
fn is_roman(word: &str) -> bool {
    let digit = |c| matches!(c, 'I' | 'V' | 'X' | 'i' | 'v' | 'x');
    !word.is_empty() && word.chars().all(digit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Source;

    fn zinc() -> Lab {
        zinc_in("en")
    }

    fn zinc_in(language: &str) -> Lab {
        let text = crate::lab::builtin::find("zinc-copper-sulfate").unwrap();
        let source = Source {
            name: "lab".into(),
            text: text.replacen("\nid ", &format!("\nlanguage = \"{language}\"\nid "), 1),
        };
        crate::lab::check::check(&source).0.unwrap()
    }

    #[test]
    fn ions_stand_for_the_reactant_that_holds_them_and_products_for_themselves() {
        let index =
            |lab: &Lab, key: &str| lab.substances.iter().position(|s| s.key == key).unwrap();
        for (language, typed, expected) in [
            ("en", "Cu2+", Some("salt")),
            ("en", "Cu^2+", Some("salt")),
            ("en", "Cu²⁺", Some("salt")),
            ("en", "Cu^{2+}(aq)", Some("salt")),
            ("en", "cu2+ ions", Some("salt")),
            ("en", "the copper ions", Some("salt")),
            ("en", "copper(II) ions run out", Some("salt")),
            ("en", "Cu2+, Zn is left", Some("salt")),
            ("en", "Zn-strip", Some("zinc")),
            (
                "en",
                "Zn is in excess, all Cu2+ becomes copper",
                Some("salt"),
            ),
            ("en", "zinc, it becomes zinc sulfate", Some("zinc")),
            ("en", "copper", None),
            ("en", "Cu", None),
            ("en", "zinc sulfate", None),
            ("en", "zinc sulphate", None),
            ("en", "ZnSO4", None),
            ("en", "Zn2+", None),
            ("en", "zinc ions", None),
            ("de", "Kupferionen", Some("salt")),
            ("de", "Kupfer-Ionen", Some("salt")),
            ("de", "die Kupfer(II)-Ionen", Some("salt")),
            ("de", "Cu2+-Ionen", Some("salt")),
            ("de", "Zink-Blech", Some("zinc")),
            ("de", "Kupfer", None),
            ("de", "Zinksulfat", None),
            ("de", "Zinkionen", None),
        ] {
            let lab = zinc_in(language);
            let choices = [index(&lab, "zinc"), index(&lab, "salt")];
            match (named_of(typed, &lab, 0, &choices), expected) {
                (Named::Reactants(found), Some(key)) => {
                    assert_eq!(found, [index(&lab, key)], "{typed}");
                }
                (Named::Product(_), None) => {}
                (other, _) => panic!("{typed}: {other:?}"),
            }
        }
        let lab = zinc();
        let choices = [index(&lab, "zinc"), index(&lab, "salt")];
        let nothing = Named::Reactants(Vec::new());
        for typed in ["oxygen", "SO4^2-", "don't know", "Kupfersalz"] {
            assert_eq!(named_of(typed, &lab, 0, &choices), nothing, "{typed}");
        }
    }

    #[test]
    fn a_reactant_is_known_by_name_formula_water_and_excess() {
        let lab = zinc();
        let index = |key: &str| lab.substances.iter().position(|s| s.key == key).unwrap();
        let (zinc, salt) = (index("zinc"), index("salt"));
        for (typed, expected) in [
            ("copper(II) sulfate", vec![salt]),
            ("copper (II) sulfate", vec![salt]),
            ("copper sulphate", vec![salt]),
            ("CuSO4", vec![salt]),
            ("CuSO₄", vec![salt]),
            ("cuso4", vec![salt]),
            ("CuSO4(aq)", vec![salt]),
            ("CuSO4·5H2O", vec![salt]),
            ("CuSO4.5H2O", vec![salt]),
            ("CuSO4*5H2O", vec![salt]),
            ("copper(II) sulfate pentahydrate", vec![salt]),
            ("the salt", vec![salt]),
            ("Zn", vec![zinc]),
            ("ZINC", vec![zinc]),
            ("zinc strip", vec![zinc]),
            ("zinc is in excess", vec![salt]),
            ("excess zinc", vec![salt]),
            ("zinc is in excess so copper sulfate runs out", vec![salt]),
            ("CuSO4, because zinc is left over", vec![salt]),
            ("both", vec![zinc, salt]),
            ("zinc and copper sulfate", vec![zinc, salt]),
            ("copper", vec![]),
            ("don't know", vec![]),
            ("CuSO4, Zn is in excess", vec![salt]),
            ("CuSO4 (zinc in excess)", vec![salt]),
            ("There is excess zinc, copper sulfate limits", vec![salt]),
            ("copper sulfate, zinc was left over", vec![salt]),
            ("Zn is excess, CuSO4 is limiting", vec![salt]),
            ("copper(II) sulfate ran out (zinc left over)", vec![salt]),
            ("zinc does not run out, copper sulfate does", vec![salt]),
            ("Zinc is not the limiting reactant", vec![salt]),
            ("CuSO4 limits; none left, zinc 2.78 g left", vec![salt]),
            ("none", vec![]),
            ("copper sulfate is not in excess", vec![salt]),
            ("not enough copper sulfate", vec![salt]),
            ("there is enough zinc", vec![salt]),
            ("excess zinc does not react", vec![salt]),
            ("no copper sulfate left", vec![salt]),
            (
                "there is no copper(II) sulfate pentahydrate left",
                vec![salt],
            ),
            ("none of the copper sulfate was left", vec![salt]),
            ("copper sulfate has nothing left", vec![salt]),
            ("no excess zinc", vec![zinc]),
            ("copper sulfate not zinc", vec![salt]),
            ("too much zinc", vec![salt]),
            ("zinc isn't limiting", vec![salt]),
            ("the excess reactant is zinc", vec![salt]),
            (
                "copper sulfate, because there is less of it than zinc",
                vec![salt],
            ),
            ("zinc is left because copper sulfate ran out", vec![salt]),
            ("because zinc is in excess, copper sulfate", vec![salt]),
            ("CuSO4 and not the zinc", vec![salt]),
        ] {
            let mut expected = expected;
            expected.sort_unstable();
            assert_eq!(named(typed, &lab, &[zinc, salt]), expected, "{typed}");
        }
    }

    #[test]
    fn german_names_and_clauses_are_read() {
        let lab = zinc_in("de");
        let index = |key: &str| lab.substances.iter().position(|s| s.key == key).unwrap();
        let (zinc, salt) = (index("zinc"), index("salt"));
        for (typed, expected) in [
            ("Kupfer(II)-sulfat", vec![salt]),
            ("Kupfer(II)sulfat", vec![salt]),
            ("Kupfer (II) sulfat", vec![salt]),
            ("Kupfersulfat", vec![salt]),
            ("Kupfersulphat", vec![salt]),
            ("Kupfersulfat-Pentahydrat", vec![salt]),
            ("Kupfersulfatpentahydrat", vec![salt]),
            ("Kupfer(II)-sulfat-Pentahydrat", vec![salt]),
            ("die Kupfersulfatlösung", vec![salt]),
            ("die Kupfersulfat-Lösung", vec![salt]),
            ("copper(II) sulfate", vec![salt]),
            ("CuSO4", vec![salt]),
            ("Zink", vec![zinc]),
            ("das Zinkblech", vec![zinc]),
            ("Zink ist im Überschuss", vec![salt]),
            ("Zink ist im Ueberschuss", vec![salt]),
            ("Zink im Überschuß", vec![salt]),
            ("Zinküberschuss", vec![salt]),
            ("Zink ist noch da", vec![salt]),
            ("Zink (Zn) ist übrig", vec![salt]),
            (
                "Kupfersulfat, weil weniger davon da ist als Zink",
                vec![salt],
            ),
            ("überschüssiges Zink", vec![salt]),
            ("Überschuss an Zink", vec![salt]),
            ("überschüssiges Zink reagiert nicht", vec![salt]),
            ("Zink bleibt übrig", vec![salt]),
            ("Kupfersulfat, weil Zink übrig bleibt", vec![salt]),
            (
                "Zink ist im Überschuss und Kupfersulfat geht aus",
                vec![salt],
            ),
            ("nicht Zink, sondern Kupfersulfat", vec![salt]),
            ("Zink ist nicht der begrenzende Stoff", vec![salt]),
            ("Kupfersulfat reicht nicht aus", vec![salt]),
            ("nicht genug Kupfersulfat", vec![salt]),
            ("es ist genug Zink da", vec![salt]),
            ("Kupfersulfat ist nicht mehr da", vec![salt]),
            ("Kupfersulfat ist nicht im Überschuss", vec![salt]),
            ("es bleibt kein Zink übrig", vec![zinc]),
            ("es ist kein Kupfer(II)-sulfat übrig", vec![salt]),
            ("kein Kupfer(II)-sulfat mehr da", vec![salt]),
            ("von Kupfersulfat bleibt nichts übrig", vec![salt]),
            ("Kupfersulfat nicht Zink", vec![salt]),
            ("Kupfersulfat nicht das Zink", vec![salt]),
            ("beide", vec![zinc, salt]),
            ("keiner von beiden", vec![zinc, salt]),
            ("keiner", vec![zinc, salt]),
            ("beide gleichzeitig", vec![zinc, salt]),
            ("Zink und Kupfersulfat", vec![zinc, salt]),
            ("Kupfer", vec![]),
            ("keine Ahnung", vec![]),
        ] {
            let mut expected = expected;
            expected.sort_unstable();
            assert_eq!(named(typed, &lab, &[zinc, salt]), expected, "{typed}");
        }
    }
}
