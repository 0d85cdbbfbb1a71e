//! Something dissolved that a student's text says was left in a solid, by its name or its formula.

use std::ops::Range;

use crate::causes::bench;
use crate::causes::mention;
use crate::causes::mention::Mention;
use crate::causes::mention::Text;
use crate::causes::places::places;
use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::chem::Formula;
use crate::chem::name;

/// Where a text says that something dissolved was left in a solid: what nobody measures can only be there; of a reactant, which
/// may be left over as well, the solid has to be named.
pub(super) fn places_of(text: &Text, mentions: &[Mention], scene: &Scene<'_>) -> Vec<Range<usize>> {
    let language = &scene.lab.words;
    let is_product = |index: &usize| !scene.substance(*index).reactant;
    let mut inside = mentions.iter().filter(|one| one.place);
    let solid = (0..text.words.len()).any(|number| {
        vocabulary::has(vocabulary::SOLIDS, text.word(number), language)
            && mention::is_place(text, number, language)
    });
    let in_solid = solid || inside.any(|one| one.who.iter().any(is_product));
    let held: Vec<Range<usize>> = places(text, vocabulary::HELD, language).collect();
    let mut found = Vec::new();
    for (name, reactant) in dissolved(text, scene) {
        let clause = text.clause(text.number(name.start), language);
        let beside = |at: &&Range<usize>| clause.contains(&text.number(at.start));
        let word = held.iter().find(beside).cloned();
        let says = if reactant {
            in_solid
        } else {
            in_solid || word.is_some()
        };
        if says {
            let word = word.unwrap_or_else(|| name.clone());
            let at = name.start.min(word.start)..name.end.max(word.end);
            found.push(at);
        }
    }
    found
}

/// Where a text names something dissolved that the lab does not measure, and so can only be left in something else; and
/// where it names a dissolved reactant.
fn dissolved(text: &Text, scene: &Scene<'_>) -> Vec<(Range<usize>, bool)> {
    let language = &scene.lab.words;
    let equation = scene.equation();
    let reactants = equation.reactants.iter().map(|species| (species, true));
    let species = reactants.chain(equation.products.iter().map(|species| (species, false)));
    let measured = |formula: &Formula| {
        let mut products = scene.products.iter();
        products.any(|product| scene.substance(*product).formula.same_substance(formula))
    };
    let named = species
        .filter(|(species, _)| bench::is_dissolved(species) && !measured(&species.formula))
        .filter_map(|(species, reactant)| {
            let name = name::in_language(&species.formula, language)?;
            Some((mention::written_out(&name, language), reactant))
        });
    let formulas = text.formulas.iter().map(|formula| (formula.clone(), false));
    let mut found = Vec::new();
    for (name, reactant) in named.chain(formulas) {
        for (at, _) in text.plain.match_indices(&name) {
            let end = at + name.len();
            let inside = text.plain[..at].ends_with(char::is_alphanumeric)
                || text.plain[end..].starts_with(char::is_alphanumeric);
            if !inside {
                found.push((at..end, reactant));
            }
        }
    }
    found
}
