//! Which substances of the lab a student's text names, and what each is said to be in or on.

use std::ops::Range;

use crate::causes::beside;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::chem::Element;
use crate::chem::Formula;
use crate::chem::formula::State;
use crate::chem::name;
use crate::lab::Substance;
use crate::words;
use crate::words::Words;
use crate::working::Variable;

/// Behind the name of a metal: a salt of it is spoken of. An oxide is not among them, it is what became of the metal.
const RADICALS: [&str; 10] = [
    "sulfat", "chlorid", "nitrat", "carbonat", "hydroxid", "iodid", "bromid", "sulfid", "phosphat",
    "acetat",
];

/// Marks at which a clause ends.
const MARKS: [char; 6] = ['.', ',', ';', ':', '!', '?'];

/// Ways to write a word that count as one.
const SPELLINGS: [(&str, &str); 8] = [
    ("’", "'"),
    ("(i)", ""),
    ("(ii)", ""),
    ("(iii)", ""),
    ("(iv)", ""),
    ("sulph", "sulf"),
    ("aluminum", "aluminium"),
    ("jod", "iod"),
];

/// English verbs whose “not” is often written without its apostrophe: “didnt”.
const SHORT: [&str; 11] = [
    "did", "was", "were", "is", "are", "could", "does", "do", "has", "have", "would",
];

/// A student's text, made ready to be looked through.
pub(super) struct Text {
    /// In small letters, short forms written out, formulas of the lab by their names, a blank around.
    pub plain: String,
    /// Where its words stand.
    pub words: Vec<Range<usize>>,
    /// Formulas in it, in small letters, that the equation does not hold and that are made of the elements of the lab.
    pub formulas: Vec<String>,
}

impl Text {
    pub(super) fn of(text: &str, scene: &Scene<'_>) -> Self {
        let language = &scene.lab.words;
        let mut plain = String::from(" ");
        let mut formulas = Vec::new();
        for word in text.split_whitespace() {
            let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
            let formula = scene.lab.substances.iter().find(|one| {
                let forms = std::iter::once(&one.formula).chain(&one.weighed_as);
                forms.into_iter().any(|form| form.plain() == bare)
            });
            let by_name = formula.map(|substance| substance.name.clone());
            let by_name = by_name.or_else(|| by_product(bare, scene));
            let written = match by_name {
                Some(name) => word.replacen(bare, &name, 1),
                None => word.to_owned(),
            };
            let written = written_out(&written, language);
            if formula.is_none() && is_salt(bare, scene) {
                formulas.push(bare.to_lowercase());
            }
            // A mark does not keep a word from being found as a whole.
            let bare = written.trim_end_matches(MARKS);
            plain.push_str(bare);
            plain.push(' ');
            plain.push_str(&written[bare.len()..]);
            plain.push_str(if bare.len() < written.len() { " " } else { "" });
        }
        let mut words = Vec::new();
        let mut start = None;
        for (at, c) in plain.char_indices() {
            match (c.is_alphanumeric(), start) {
                (true, None) => start = Some(at),
                (false, Some(from)) => {
                    words.push(from..at);
                    start = None;
                }
                _ => {}
            }
        }
        Self {
            plain,
            words,
            formulas,
        }
    }

    /// A word by its number.
    pub(super) fn word(&self, number: usize) -> &str {
        self.words
            .get(number)
            .map_or("", |range| &self.plain[range.clone()])
    }

    /// The number of the word that a place is in, or that follows it.
    pub(super) fn number(&self, at: usize) -> usize {
        self.words.partition_point(|word| word.end <= at)
    }

    /// The words of the clause around a word, by their numbers: it ends at a mark, or where something else begins.
    pub(super) fn clause(&self, number: usize, language: &Words) -> Range<usize> {
        let begins = |at: &usize| {
            let marks = &self.plain[self.words[*at - 1].end..self.words[*at].start];
            marks.contains(MARKS) || vocabulary::has(vocabulary::JOINS, self.word(*at), language)
        };
        let count = self.words.len();
        let number = number.min(count.saturating_sub(1));
        let start = (1..=number).rev().find(begins).unwrap_or(0);
        let end = (number + 1..count).find(begins).unwrap_or(count);
        start..end
    }
}

/// The name of a substance of the equation, by its formula.
fn by_product(formula: &str, scene: &Scene<'_>) -> Option<String> {
    let equation = scene.equation();
    let mut all = equation.reactants.iter().chain(&equation.products);
    let species = all.find(|species| species.formula.plain() == formula)?;
    name::in_language(&species.formula, &scene.lab.words)
}

/// Whether a word is the formula of a salt that may be made of the ions of the lab: `NaNO3` where silver nitrate meets
/// sodium chloride, and the equation speaks of silver and chloride only.
fn is_salt(word: &str, scene: &Scene<'_>) -> bool {
    let Ok(formula) = Formula::parse(word) else {
        return false;
    };
    let substances = scene.lab.substances.iter();
    let forms: Vec<&Formula> = substances
        .flat_map(|one| std::iter::once(&one.formula).chain(&one.weighed_as))
        .collect();
    let has = |element: &Element| {
        let mut atoms = forms.iter().flat_map(|form| form.atoms());
        atoms.any(|(known, _)| known == element)
    };
    let mut elements = formula.atoms().iter().map(|(element, _)| element);
    formula.atoms().len() > 1 && formula.plain() != "H2O" && scene.wet() && elements.all(has)
}

/// A word in small letters and in one spelling.
pub(super) fn written_out(word: &str, language: &Words) -> String {
    let mut word = word.to_lowercase();
    for (from, to) in SPELLINGS {
        word = word.replace(from, to);
    }
    if language.code() == "de" {
        return words::restored(&word.replace('-', ""), language);
    }
    let bare = word.trim_end_matches(|c: char| !c.is_alphanumeric());
    let stem = bare
        .strip_suffix("n't")
        .or_else(|| bare.strip_suffix("nt").filter(|stem| SHORT.contains(stem)));
    let stem = if bare == "cannot" { Some("can") } else { stem };
    stem.map_or_else(
        || word.clone(),
        |stem| format!("{stem} not{}", &word[bare.len()..]),
    )
}

/// A substance named.
#[derive(Debug)]
pub(super) struct Mention {
    /// Where in the plain text.
    pub at: Range<usize>,
    /// Which it may be, by index into [`Lab::substances`](crate::lab::Lab::substances).
    pub who: Vec<usize>,
    /// Readings and givens that are of it, where it is no substance of the equation.
    pub inputs: Vec<Variable>,
    /// Whether something is said to be in it or on it.
    pub place: bool,
    /// Whether it may be only what something else was in: the solution that is poured away takes copper along.
    pub carrier: bool,
}

impl Mention {
    /// Whether an effect is about it.
    pub(super) fn is_of(&self, effect: Effect, scene: &Scene<'_>) -> bool {
        self.who.iter().any(|index| touches(effect, *index, scene))
            || effect
                .input()
                .is_some_and(|input| self.inputs.contains(&input))
    }
}

/// Whether an effect is about a substance. Whatever a vessel loses counts as the gas that left it, and what is lost of a
/// reactant is lost of the product that forms in its vessel.
fn touches(effect: Effect, index: usize, scene: &Scene<'_>) -> bool {
    let own = [effect.product(), effect.reactant()].contains(&Some(index));
    let as_gas = effect.product().is_some_and(|product| {
        scene.gas(product)
            || effect == Effect::LessProduct(product) && scene.same_vessel(product) == Some(index)
    });
    own || as_gas || effect == Effect::Unreacted
}

/// The substances of the lab that a text names; the longest name at a place counts.
pub(super) fn all(text: &Text, scene: &Scene<'_>) -> Vec<Mention> {
    let language = &scene.lab.words;
    let german = language.code() == "de";
    let mut found: Vec<Mention> = Vec::new();
    let mut add = |name: &str, who: &[usize], carrier: bool| {
        let whole = !german;
        for (at, _) in text.plain.match_indices(name) {
            let behind = &text.plain[at + name.len()..];
            let inside = text.plain[..at].ends_with(char::is_alphanumeric);
            let letters = behind.find(|c: char| !c.is_alphanumeric()).unwrap_or(0);
            let (ending, next) = behind.split_at(letters);
            let goes_on = whole && !["", "s"].contains(&ending);
            let salt = if ending.is_empty() {
                next.trim_start()
            } else {
                ending
            };
            let of_another = RADICALS.iter().any(|radical| salt.starts_with(radical));
            if !inside && !goes_on && !of_another {
                let number = text.number(at);
                found.push(Mention {
                    at: at..at + name.len() + if whole { letters } else { 0 },
                    who: who.to_vec(),
                    inputs: Vec::new(),
                    place: is_place(text, number, language),
                    carrier,
                });
            }
        }
    };
    for (index, substance) in scene.lab.substances.iter().enumerate() {
        for name in names(substance, language) {
            add(&name, &[index], false);
        }
    }
    // Substances of the equation that the lab does not speak of: zinc sulfate is no zinc.
    let equation = scene.equation();
    for species in equation.reactants.iter().chain(&equation.products) {
        if let Some(name) = name::in_language(&species.formula, language) {
            add(&written_out(&name, language), &[], false);
        }
    }
    for (list, who, carrier) in kinds(scene) {
        for name in vocabulary::own(list, language).filter(|_| !who.is_empty()) {
            add(name, &who, carrier);
        }
    }
    let within = |inner: &Range<usize>, outer: &Range<usize>| {
        outer.start <= inner.start && inner.end <= outer.end && outer.len() > inner.len()
    };
    let ranges: Vec<Range<usize>> = found.iter().map(|one| one.at.clone()).collect();
    found.retain(|one| !ranges.iter().any(|other| within(&one.at, other)));
    let named: Vec<Range<usize>> = found
        .iter()
        .filter(|one| one.who.len() == 1)
        .map(|one| one.at.clone())
        .collect();
    // The lab's own name for a thing counts more than what its kind is called.
    found.retain(|one| !one.who.is_empty() && (one.who.len() == 1 || !named.contains(&one.at)));
    found.extend(beside::all(text, &ranges, scene));
    found.sort_by_key(|one| one.at.start);
    for there in vocabulary::own(vocabulary::THERE, language) {
        for (at, _) in text.plain.match_indices(&format!(" {there} ")) {
            let clause = text.clause(text.number(at + 1), language);
            let mut named = found
                .iter_mut()
                .filter(|one| clause.contains(&text.number(one.at.start)));
            if let Some(first) = named.next() {
                first.place |= named.next().is_some();
            }
        }
    }
    found
}

/// Whether something is said to be in what a word names: “in the copper”.
pub(super) fn is_place(text: &Text, number: usize, language: &Words) -> bool {
    let is = |back: usize, list: &'static str| {
        let number = number.checked_sub(back);
        number.is_some_and(|number| vocabulary::has(list, text.word(number), language))
    };
    is(1, vocabulary::PLACES) || (is(1, vocabulary::ARTICLES) && is(2, vocabulary::PLACES))
}

/// What a substance is called: by its names, with and without its water, and by its key in the lab description.
fn names(substance: &Substance, language: &Words) -> Vec<String> {
    let key = (substance.key.len() > 3).then_some(&substance.key);
    let written = std::iter::once(&substance.name)
        .chain(&substance.weighed_name)
        .chain(&substance.collected_as)
        .chain(key);
    let mut names: Vec<String> = written.map(|name| written_out(name, language)).collect();
    names.extend(
        name::in_language(&substance.formula, language).map(|name| written_out(&name, language)),
    );
    names.retain(|name| !name.trim().is_empty());
    names.sort_unstable();
    names.dedup();
    names
}

/// Words for kinds of substances, which of the lab they may mean, and whether these only carry another.
fn kinds(scene: &Scene<'_>) -> [(&'static str, Vec<usize>, bool); 5] {
    let those = |fits: &dyn Fn(usize) -> bool| -> Vec<usize> {
        (0..scene.lab.substances.len())
            .filter(|index| fits(*index))
            .collect()
    };
    let reactant = |index: usize| scene.substance(index).reactant;
    let solid = |index: usize| scene.metal(index).is_none() && !scene.gas(index);
    let dissolved = |index: usize| {
        let found = scene.equation().find(&scene.substance(index).formula);
        found.is_some_and(|(species, _)| species.formula.state() == Some(State::Aqueous))
    };
    [
        (vocabulary::GASES, those(&|index| scene.gas(index)), false),
        (
            vocabulary::METALS,
            those(&|index| reactant(index) && scene.metal(index).is_some()),
            false,
        ),
        (
            vocabulary::SALTS,
            those(&|index| solid(index) && (scene.weighed(index) || !reactant(index))),
            false,
        ),
        (
            vocabulary::PRODUCTS,
            those(&|index| !reactant(index)),
            false,
        ),
        (
            vocabulary::SOLUTIONS,
            those(&|index| reactant(index) && dissolved(index)),
            true,
        ),
    ]
}
