//! Metals that stand for the substance that holds them: `Ca` and “calcium” for calcium chloride, where no calcium metal takes part.

use crate::answers::ions;
use crate::chem::Element;
use crate::lab::Lab;

/// How the word behind an element ends where both are the name of a compound: `calcium oxide`, `Calcium Chlorid`.
const OF_COMPOUNDS: [&str; 6] = ["ide", "ate", "ite", "id", "at", "it"];
/// The words behind an element where both name an ion.
const OF_IONS: [&str; 7] = [
    "ion", "ions", "ionen", "cation", "cations", "kation", "kationen",
];

/// So many letters stand before such an ending in the name of a compound, which `that`, `did` and `limit` have not …
const STEM: usize = 4;
/// … but for these, and the same with an e …
const SHORT: [&str; 5] = ["oxid", "iodid", "iodat", "borat", "azid"];
/// … and these only look like one.
const EVERYDAY: [&str; 12] = [
    "precipitate",
    "separate",
    "evaporate",
    "despite",
    "outside",
    "alongside",
    "provide",
    "liquid",
    "deposit",
    "repeat",
    "permit",
    "profit",
];

/// A text with the ion in the place of each metal that only stands in compounds of the lab's equations.
pub(super) fn apart(text: &str, lab: &Lab) -> String {
    let equations = std::iter::once(&lab.equation).chain(&lab.alternatives);
    let formulas = equations
        .flat_map(|equation| equation.reactants.iter().chain(&equation.products))
        .map(|species| species.formula.atoms());
    let (bare, compounds): (Vec<_>, Vec<_>) = formulas.partition(|atoms| atoms.len() == 1);
    let bare: Vec<Element> = bare
        .into_iter()
        .flatten()
        .map(|(element, _)| *element)
        .collect();
    let mut metals: Vec<Element> = compounds
        .into_iter()
        .flatten()
        .map(|(element, _)| *element)
        .collect();
    metals.retain(|element| element.is_metal() && !bare.contains(element));
    let mut plain = String::with_capacity(text.len() + 8);
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let length = rest
            .find(|c: char| !c.is_alphanumeric())
            .unwrap_or(rest.len());
        if length == 0 {
            plain.push(c);
            rest = &rest[c.len_utf8()..];
            continue;
        }
        let (word, behind) = rest.split_at(length);
        let named = metals.iter().find(|element| is_named(word, **element, lab));
        match named.filter(|_| stands_alone(behind)) {
            Some(element) => {
                plain.push_str(element.symbol());
                plain.push(' ');
                plain.push_str(ions::ION);
            }
            None => plain.push_str(word),
        }
        rest = behind;
    }
    plain
}

/// Whether a word is an element, by its symbol as it is written or by its name in either language.
fn is_named(word: &str, element: Element, lab: &Lab) -> bool {
    let lower = word.to_lowercase();
    word == element.symbol()
        || lower == element.name().to_lowercase()
        || lower == lab.words.say(element.name()).to_lowercase()
}

/// Whether what stands behind an element lets it stand for itself: no charge, no hyphen, no second half of a name.
fn stands_alone(behind: &str) -> bool {
    let next = behind.trim_start();
    let Some(first) = next.chars().next() else {
        return true;
    };
    if first.is_alphanumeric() {
        let clause = next
            .split([',', ';', '.', '(', '–', '—'])
            .next()
            .unwrap_or_default();
        let clause = clause.to_lowercase();
        let mut words = clause
            .split(|c: char| !c.is_alphanumeric())
            .filter(|word| !word.is_empty());
        // `sodium hydrogen carbonate` goes on for two words.
        let of_ions = |word: &str| OF_IONS.contains(&word);
        return !words
            .next()
            .is_some_and(|word| of_ions(word) || goes_on(word, &OF_COMPOUNDS))
            && !words
                .next()
                .is_some_and(|word| goes_on(word, &OF_COMPOUNDS[..3]));
    }
    // `Ca(aq)` names it, `iron(III)` and `Ca(OH)2` go on.
    matches!(
        first,
        ',' | ';' | '.' | ':' | '!' | '?' | ')' | '=' | '<' | '>' | '–' | '—'
    ) || ["(aq)", "(s)", "(l)"]
        .iter()
        .any(|state| next.starts_with(state))
}

/// Whether a word is the second half of the name of a compound, by its ending: `oxide`, `Chlorid`.
fn goes_on(word: &str, endings: &[&str]) -> bool {
    endings.iter().any(|end| {
        word.strip_suffix(end).is_some_and(|stem| {
            let short = SHORT.contains(&word.strip_suffix('e').unwrap_or(word));
            short || stem.chars().count() >= STEM && !EVERYDAY.contains(&word)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Source;

    fn lab() -> Lab {
        let text = r#"
id = "oxalate"
title = "Calcium as oxalate"
equation = "CaCl2(aq) + Na2C2O4(aq) -> CaC2O4(s) + NaCl(aq)"
[substance.calcium]
formula = "CaCl2"
before = "portion"
[substance.oxalate]
formula = "Na2C2O4"
before = "salt"
[substance.solid]
formula = "CaC2O4"
after = "full - empty"
yield = true
[instrument.balance]
unit = "g"
readability = "0.01 g"
[day.1]
title = "All"
readings = [
 { name = "portion", label = "chloride" },
 { name = "salt", label = "oxalate" },
 { name = "empty", label = "crucible" },
 { name = "full", label = "crucible with solid" },
]
"#;
        let source = Source {
            name: "lab".into(),
            text: text.into(),
        };
        crate::lab::check::check(&source).0.unwrap()
    }

    /// Silver is a product where copper takes it out of silver nitrate: there it stands for itself.
    #[test]
    fn a_metal_of_the_equation_is_itself() {
        let source = Source {
            name: "lab".into(),
            text: crate::lab::builtin::find("copper-silver-nitrate")
                .unwrap()
                .into(),
        };
        let lab = crate::lab::check::check(&source).0.unwrap();
        for typed in ["silver", "Ag", "copper"] {
            assert_eq!(apart(typed, &lab), typed);
        }
    }

    #[test]
    fn a_metal_stands_for_its_compound_unless_its_name_goes_on() {
        let lab = lab();
        for (typed, read) in [
            ("Ca", "Ca ion"),
            ("Ca(aq)", "Ca ion(aq)"),
            ("Calcium runs out", "Ca ion runs out"),
            ("Ca, sodium is left", "Ca ion, Na ion is left"),
            ("calcium chloride", "calcium chloride"),
            ("calcium ions", "calcium ions"),
            ("sodium hydrogen carbonate", "sodium hydrogen carbonate"),
            ("Ca(OH)2", "Ca(OH)2"),
            ("CaCl2", "CaCl2"),
            ("calcium oxide", "calcium oxide"),
            ("calcium iodid", "calcium iodid"),
            ("calcium hydrogen sulfite", "calcium hydrogen sulfite"),
            ("the calcium that was added", "the Ca ion that was added"),
            ("calcium did", "Ca ion did"),
            ("calcium solution", "Ca ion solution"),
            ("calcium cations", "calcium cations"),
            ("calcium limit", "Ca ion limit"),
            ("calcium will precipitate", "Ca ion will precipitate"),
            ("calcium is quite gone", "Ca ion is quite gone"),
            ("can", "can"),
            ("Cl", "Cl"),
            ("iron", "iron"),
        ] {
            assert_eq!(apart(typed, &lab), read);
        }
    }
}
