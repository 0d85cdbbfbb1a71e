//! What a student's text names that is no substance of the equation: a sample by its reading, what is titrated with by its label.

use std::ops::Range;

use crate::causes::mention::Mention;
use crate::causes::mention::Text;
use crate::causes::mention::is_place;
use crate::causes::mention::written_out;
use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::chem::Formula;
use crate::chem::name;
use crate::measure::Unit;
use crate::working::Variable;

/// Formulas of solutions that schools titrate with or keep at hand (common practice, no source).
const REAGENTS: [&str; 14] = [
    "NaOH", "KOH", "Na2CO3", "Ba(OH)2", "NH3", "HCl", "H2SO4", "HNO3", "AgNO3", "KMnO4", "Na2S2O3",
    "KI", "KSCN", "BaCl2",
];

/// Words in the names of givens that say what kind of number it is.
const NUMBERS: [&str; 8] = [
    "molarity",
    "molar",
    "conc",
    "concentration",
    "strength",
    "label",
    "solution",
    "titre",
];

/// A name, and the numbers that are of what it names.
type Named = (String, Vec<Variable>);

/// What a text names besides the substances of the lab, whose places are `taken`. Only labs with a sample of their own, or with
/// a titration, have anything of the kind.
pub(super) fn all(text: &Text, taken: &[Range<usize>], scene: &Scene<'_>) -> Vec<Mention> {
    let titrants = scene.all_titrants();
    let sample = scene.sample();
    if titrants.is_empty() && sample.is_none() {
        return Vec::new();
    }
    let mut names = solutions(titrants, scene);
    names.extend(
        sample
            .into_iter()
            .flat_map(|reading| of_sample(reading, scene)),
    );
    let mut found: Vec<(Range<usize>, Vec<Variable>)> = Vec::new();
    for (name, inputs) in names {
        for (at, _) in text.plain.match_indices(name.as_str()) {
            let behind = &text.plain[at + name.len()..];
            let letters = behind.find(|c: char| !c.is_alphanumeric()).unwrap_or(0);
            let begins = !text.plain[..at].ends_with(char::is_alphanumeric);
            let at = at..at + name.len() + letters;
            let meets = |other: &Range<usize>| other.start < at.end && at.start < other.end;
            if begins && ["", "s"].contains(&&behind[..letters]) && !taken.iter().any(meets) {
                found.push((at, inputs.clone()));
            }
        }
    }
    // The longest name at a place counts, and of two the one that says more.
    found.sort_by_key(|(at, inputs)| (at.start, usize::MAX - at.len(), inputs.is_empty()));
    found.dedup_by(|next, kept| next.0.start < kept.0.end);
    let language = &scene.lab.words;
    let mentions = found.into_iter().map(|(at, inputs)| Mention {
        place: is_place(text, text.number(at.start), language),
        at,
        who: Vec::new(),
        inputs,
        carrier: false,
    });
    mentions.collect()
}

/// Names of solutions, and the concentrations of those that are titrated with.
fn solutions(titrants: &[usize], scene: &Scene<'_>) -> Vec<Named> {
    let language = &scene.lab.words;
    let mut names: Vec<Named> = Vec::new();
    let mut add =
        |name: &str, inputs: Vec<Variable>| names.push((written_out(name, language), inputs));
    let mut is_base = None;
    let mut is_called_base = false;
    for given in titrants {
        let inputs = vec![Variable::Given(*given)];
        let key = scene.graph.givens[*given].name.to_lowercase();
        is_called_base |= key
            .split('_')
            .any(|word| vocabulary::has(vocabulary::BASES, word, language));
        let own = key
            .split('_')
            .filter(|word| word.len() > 2 && !NUMBERS.contains(word));
        own.for_each(|word| add(word, inputs.clone()));
        for (formula, reagent) in reagents() {
            let short = formula.to_lowercase();
            let by_name = name::in_language(&reagent, language);
            if !key.split('_').any(|word| word == short)
                && !is_labelled(formula, by_name.as_deref(), scene)
            {
                continue;
            }
            is_base = Some(formula.contains("OH") || formula.contains("CO3") || formula == "NH3");
            add(&short, inputs.clone());
            if let Some(name) = by_name {
                add(&name, inputs.clone());
            }
        }
    }
    let only = match titrants {
        [given] => vec![Variable::Given(*given)],
        _ => Vec::new(),
    };
    for name in vocabulary::own(vocabulary::TITRANTS, language) {
        add(name, only.clone());
    }
    let base = is_base.unwrap_or(is_called_base);
    for name in vocabulary::own(vocabulary::BASES, language) {
        // Of two bases nobody knows which is meant.
        if !scene
            .lab
            .substances
            .iter()
            .any(|one| one.formula.plain().contains("OH"))
        {
            add(name, if base { only.clone() } else { Vec::new() });
        }
    }
    for (formula, reagent) in reagents() {
        add(formula, Vec::new());
        if let Some(name) = name::in_language(&reagent, language) {
            add(&name, Vec::new());
        }
    }
    for name in vocabulary::own(vocabulary::INDICATORS, language) {
        add(name, Vec::new());
    }
    names
}

fn reagents() -> impl Iterator<Item = (&'static str, Formula)> {
    REAGENTS
        .into_iter()
        .filter_map(|it| Some((it, Formula::parse(it).ok()?)))
}

/// Whether a volume is read of a substance that is no reactant: its formula or its name stands in the words of the reading.
fn is_labelled(formula: &str, name: Option<&str>, scene: &Scene<'_>) -> bool {
    let is_reactant = scene
        .lab
        .substances
        .iter()
        .any(|one| one.formula.plain() == formula);
    let mut readings = scene.lab.readings();
    !is_reactant
        && readings.any(|(_, asked)| {
            let mut words = asked
                .label
                .split(|c: char| !(c.is_alphanumeric() || "()".contains(c)));
            let says = words.any(|word| word == formula)
                || name
                    .is_some_and(|name| asked.label.to_lowercase().contains(&name.to_lowercase()));
            says && asked.unit.dimension() == Unit::Millilitre.dimension()
        })
}

/// What the sample is called: the words of its reading that name no vessel.
fn of_sample(reading: usize, scene: &Scene<'_>) -> Vec<Named> {
    let language = &scene.lab.words;
    let label = scene.label(reading);
    let head = label.split([',', ';', '(']).next().unwrap_or(label);
    let key = scene.reading_name(reading).split('_');
    let words = head.split(|c: char| !c.is_alphanumeric()).chain(key);
    let written = words.map(|word| written_out(word, language));
    let tells = |word: &String| {
        word.chars().nth(3).is_some() && !vocabulary::has(vocabulary::VESSELS, word, language)
    };
    let general = vocabulary::own(vocabulary::SAMPLES, language).map(str::to_owned);
    let input = vec![Variable::Reading(reading)];
    written
        .filter(tells)
        .chain(general)
        .map(|name| (name, input.clone()))
        .collect()
}
