//! The causes known: what happened, which readings it changes, how much of it is possible, what would show it.
//!
//! A cause is a row of a table. Where it applies is told from what a lab measures; its size is solved through the
//! graph of steps; only its physical bound and its words are its own. Sizes without a source beside
//! them are common practice, no source.

pub mod bound;
mod collecting;
mod filtering;
mod heating;
mod leftover;
mod product;
mod taken;
mod weighing;

use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::lab::Lab;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::suggest;

/// Something that may have happened at the bench.
#[derive(Debug)]
pub struct Cause {
    /// In kebab case.
    pub id: &'static str,
    /// What happened, a sentence without its full stop.
    pub says: &'static str,
    /// The effects it may have here; none where the lab has no place for it.
    pub at: fn(&Scene<'_>) -> Vec<Effect>,
    /// The most of it that is possible.
    pub most: Bound,
    /// An amount of it as something seen or known.
    pub picture: Picture,
    /// Signs that support it when answered yes, and speak against it when answered no.
    pub signs: &'static [&'static str],
    /// Signs that speak against it when answered yes.
    pub unless: &'static [&'static str],
    /// Words by which students name it, lower case, commas between.
    pub words: &'static str,
    /// What would tell it from the others.
    pub test: &'static str,
    /// What to do another time.
    pub next_time: &'static str,
    /// Whether it is one of the causes that reports name from habit, and so is worth ruling out aloud.
    pub stock: bool,
}

/// How much of a cause is possible: nothing known, or a bound for an effect.
pub type Bound = fn(&Scene<'_>, Effect) -> Option<Limit>;

/// An amount of an effect as something seen or known, a sentence.
pub type Picture = fn(&Scene<'_>, Effect, f64) -> Option<String>;

/// How much of a cause is possible.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// The least, in the unit of the effect's amount; 0 for nearly all causes.
    pub least: f64,
    /// The most, in the same unit.
    pub most: f64,
    /// Where that comes from, a sentence.
    pub why: String,
}

impl Limit {
    /// An upper bound.
    #[must_use]
    pub const fn most(most: f64, why: String) -> Self {
        Self {
            least: 0.0,
            most,
            why,
        }
    }
}

/// Every cause, in the order of the tables.
pub fn all() -> impl Iterator<Item = &'static Cause> {
    [
        product::CAUSES,
        collecting::CAUSES,
        leftover::CAUSES,
        taken::CAUSES,
        filtering::CAUSES,
        heating::CAUSES,
        weighing::CAUSES,
    ]
    .into_iter()
    .flatten()
}

/// A cause by its id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Cause> {
    all().find(|cause| cause.id == id)
}

/// What is wrong with the causes that a lab's own signs say they support.
#[must_use]
pub fn unknown_supports(lab: &Lab) -> Vec<Problem> {
    let named = lab.signs.iter().flat_map(|sign| &sign.supports);
    named
        .filter(|(id, _)| find(id).is_none())
        .map(|(id, span)| {
            let help = suggest::closest(id, all().map(|cause| cause.id)).map_or_else(
                || {
                    let ids: Vec<&str> = all().map(|cause| cause.id).collect();
                    format!("the causes known are: {}", ids.join(", "))
                },
                |near| format!("did you mean `{near}`?"),
            );
            Problem::error(
                Code::UnknownCause,
                format!("there is no cause called `{id}`"),
            )
            .at(span.clone(), "not known")
            .help(help)
        })
        .collect()
}

impl Cause {
    /// One of its sentences with the substances' names filled in.
    #[must_use]
    pub fn fill(sentence: &str, effect: Effect, scene: &Scene<'_>) -> String {
        let first = |found: &[usize]| found.first().copied();
        let limiting = first(&scene.limiting);
        let product = effect.product().or_else(|| first(&scene.products));
        let left = effect.reactant().or_else(|| first(&scene.leftovers));
        let taken = effect.reactant().or(limiting);
        let ending = scene.ending();
        let mut text = sentence
            .replace("{look}", ending.look(&scene.lab.words))
            .replace("{until}", ending.until(&scene.lab.words));
        if let Some(index) = limiting {
            // Dissolved, it is no crystal with its water any more.
            text = text.replace("{dissolved}", &scene.substance(index).name);
        }
        for (place, index) in [
            ("{product}", product),
            ("{left}", left),
            ("{taken}", taken),
            ("{limiting}", limiting),
        ] {
            if text.contains(place) {
                text = text.replace(place, index.map_or("reactant", |index| scene.name(index)));
            }
        }
        text
    }
}

/// Nothing is known about how much is possible.
pub(in crate::causes) fn unbounded(_: &Scene<'_>, _: Effect) -> Option<Limit> {
    None
}

/// There is nothing to compare an amount with.
pub(in crate::causes) fn no_picture(_: &Scene<'_>, _: Effect, _: f64) -> Option<String> {
    None
}

/// One effect for every product that fits.
fn products(
    scene: &Scene<'_>,
    effect: fn(usize) -> Effect,
    fits: impl Fn(usize) -> bool,
) -> Vec<Effect> {
    let all = scene.products.iter().copied();
    all.filter(|product| fits(*product)).map(effect).collect()
}

/// One effect for every leftover that fits.
fn leftovers(
    scene: &Scene<'_>,
    effect: fn(usize) -> Effect,
    fits: impl Fn(usize) -> bool,
) -> Vec<Effect> {
    let all = scene.leftovers.iter().copied();
    all.filter(|reactant| fits(*reactant)).map(effect).collect()
}

/// One effect for every limiting reactant that was measured and fits. What is inert in a reactant weighed into the
/// product's own vessel stays in that vessel, as if it had not reacted.
fn limiting(
    scene: &Scene<'_>,
    effect: fn(usize) -> Effect,
    inert: bool,
    fits: impl Fn(usize) -> bool,
) -> Vec<Effect> {
    let all = scene.limiting.iter().copied();
    all.filter(|reactant| scene.measured(*reactant) && fits(*reactant))
        .map(|reactant| {
            let shares = |product: &usize| {
                !scene.gas(*product) && scene.same_vessel(*product) == Some(reactant)
            };
            let stays = scene.heated() || scene.products.iter().any(shares);
            if stays && inert {
                Effect::Unreacted
            } else {
                effect(reactant)
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::all;
    use crate::causes::matter::Ending;
    use crate::lab::signs;
    use crate::words::Words;

    #[test]
    fn there_are_at_least_forty_each_complete_and_with_an_id_of_its_own() {
        let words = Words::english();
        let mut ids = BTreeSet::new();
        for cause in all() {
            assert!(ids.insert(cause.id), "{} twice", cause.id);
            let kebab = |c: char| c.is_ascii_lowercase() || c == '-';
            assert!(cause.id.chars().all(kebab), "{}", cause.id);
            for (text, ends) in [
                (cause.says, false),
                (cause.test, true),
                (cause.next_time, true),
            ] {
                assert!(!text.is_empty(), "{}", cause.id);
                // Its sentences end with a full stop of their own.
                let text = text
                    .strip_suffix("{look}")
                    .map_or(text, |_| Ending::Still.look(&words));
                assert_eq!(text.ends_with(['.', '?']), ends, "{}: {text}", cause.id);
            }
            assert!(!cause.words.is_empty(), "{}", cause.id);
            assert_eq!(cause.words.to_lowercase(), cause.words, "{}", cause.id);
            for sign in cause.signs.iter().chain(cause.unless) {
                assert!(signs::question(sign).is_some(), "{}: {sign}", cause.id);
            }
        }
        assert!(ids.len() >= 40, "{}", ids.len());
    }

    #[test]
    fn every_sign_supports_a_cause() {
        for (sign, _) in signs::BUILT_IN {
            assert!(
                all().any(|cause| cause.signs.contains(sign)),
                "{sign} supports no cause"
            );
        }
    }
}
