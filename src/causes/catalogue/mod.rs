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
mod picture;
mod product;
mod solution;
mod taken;
mod washing;
mod weighing;

use std::borrow::Cow;

use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::lab::Lab;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::suggest;
use crate::working::Variable;

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
    /// Words by which students name it, lower case, commas between. Those of another language stand in its strings file.
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
        solution::CAUSES,
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
    /// One of its sentences, already in the lab's language, with the substances' names filled in.
    #[must_use]
    pub fn fill(sentence: &str, effect: Effect, scene: &Scene<'_>) -> String {
        let mut text = String::with_capacity(sentence.len() + 32);
        let mut rest = sentence;
        while let Some((before, behind)) = rest.split_once('{') {
            text.push_str(before);
            let named = behind.split_once('}');
            if let Some((value, after)) =
                named.and_then(|(name, after)| Some((Self::place(name, effect, scene)?, after)))
            {
                text.push_str(&value);
                rest = after;
            } else {
                text.push('{');
                rest = behind;
            }
        }
        text.push_str(rest);
        text
    }

    /// What stands in a place of a sentence.
    fn place<'s>(name: &str, effect: Effect, scene: &'s Scene<'_>) -> Option<Cow<'s, str>> {
        let words = &scene.lab.words;
        let first = |found: &[usize]| found.first().copied();
        let limiting = first(&scene.limiting);
        let index = match name {
            "look" => return Some(words.say(scene.ending().look()).into()),
            "until" => {
                return Some(Self::fill(words.say(scene.ending().until()), effect, scene).into());
            }
            "again" | "until_dry" => {
                let ignited = effect.product().is_some_and(|p| scene.ignited(p));
                let sentence = match (name, ignited) {
                    ("again", true) => words.say("Heat the {product} once more to constant mass"),
                    ("again", false) => words.say("Dry the {product} once more"),
                    (_, true) => words.say("Heat it again to constant mass"),
                    (_, false) => {
                        words.say("Spread the solid thin and dry it until two weighings agree")
                    }
                };
                return Some(Self::fill(sentence, effect, scene).into());
            }
            // Dissolved, it is no crystal with its water any more.
            "dissolved" => return Some(scene.substance(limiting?).name.as_str().into()),
            "left_in_filter" | "through_filter" | "finer_filter" => {
                let paper = effect.product().is_some_and(|p| scene.on_paper(p));
                let sentence = match (name, paper) {
                    ("left_in_filter", true) => words
                        .say("Dissolved salt was left in the paper and the {product} and dried there"),
                    ("left_in_filter", false) => words
                        .say("Dissolved salt was left in the filter and the {product} and dried there"),
                    ("through_filter", true) => {
                        words.say("Fine {product} ran through the paper, or past it")
                    }
                    ("through_filter", false) => {
                        words.say("Fine {product} ran through the filter, or past it")
                    }
                    (_, true) => words.say("Let the solid settle first, use a finer paper, and pour no higher than its edge"),
                    (_, false) => words.say("Let the solid settle first, use a finer filter, and pour no higher than its edge"),
                };
                return Some(Self::fill(sentence, effect, scene).into());
            }
            "input" => {
                return match effect.input()? {
                    Variable::Reading(reading) => Some(scene.label(reading).into()),
                    Variable::Given(given) => {
                        let given = scene.graph.givens.get(given)?;
                        Some(given.name.replace('_', " ").into())
                    }
                    Variable::Element(_) => None,
                };
            }
            "product" => effect.product().or_else(|| first(&scene.products)),
            "left" => effect.reactant().or_else(|| first(&scene.leftovers)),
            "taken" => effect.reactant().or(limiting),
            "limiting" => limiting,
            _ => return None,
        };
        let name = index.map_or(words.say("reactant"), |index| scene.name(index));
        Some(name.into())
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
    use crate::words::LANGUAGES;
    use crate::words::Words;

    #[test]
    fn there_are_at_least_forty_each_complete_and_with_an_id_of_its_own() {
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
                    .map_or(text, |_| Ending::Still.look());
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
    fn students_words_are_lower_case_in_every_language_and_none_is_short() {
        for (code, _) in LANGUAGES {
            let words = Words::of(code).expect("built in");
            for cause in all() {
                let names = words.say(cause.words);
                assert_eq!(names.to_lowercase(), names, "{code}: {}", cause.id);
                for name in names.split(", ") {
                    assert_eq!(name.trim(), name, "{code}: {}", cause.id);
                    assert!(name.chars().count() > 2, "{code}: {}: {name:?}", cause.id);
                }
            }
        }
    }

    #[test]
    fn german_students_words_name_the_cause_they_mean() {
        let german = Words::of("de").expect("German");
        let strength = |words: &'static str, text: &str| {
            let names = german.say(words).split(", ");
            let found = names.filter(|name| text.contains(name));
            found.map(str::len).max().unwrap_or(0)
        };
        for (text, id) in [
            ("Das Kupfer war noch feucht", "product-damp"),
            (
                "Das Kupfer war nicht vollständig getrocknet",
                "product-damp",
            ),
            ("Das Zink war noch nass", "leftover-damp"),
            ("Ein Teil vom Kupfer ist oxidiert", "product-oxidised"),
            ("Das Zink ist oxidiert", "leftover-oxidised"),
            (
                "Beim Dekantieren ging etwas verloren",
                "product-poured-away",
            ),
            ("Kupfer ist am Zink hängen geblieben", "product-on-metal"),
            ("Am Zink waren Bläschen: Wasserstoff", "attacked-by-acid"),
            ("Es waren noch Stücke im Produkt", "metal-in-product"),
            (
                "Etwas vom Salz im Kupfer, nicht gewaschen",
                "salt-not-rinsed",
            ),
            ("Die Reaktion war nicht zu Ende", "stopped-early"),
            ("Die Lösung war noch blau", "stopped-early"),
            ("Das Becherglas war nass", "vessel-damp-at-first"),
            ("Wir haben zwei Waagen benutzt", "different-balances"),
            ("Die Gefäße wurden vertauscht", "vessels-exchanged"),
            ("Es wurde etwas verschüttet", "product-spilled"),
            ("Gas ist entwichen, der Stopfen war undicht", "gas-escaped"),
            ("Im Rohr war eine Luftblase", "air-in-tube"),
            ("Das Filterpapier ist gerissen", "solid-through-paper"),
            (
                "Das Magnesium ist nicht vollständig verbrannt",
                "metal-not-burnt",
            ),
            ("Weißer Rauch ist aus dem Tiegel gekommen", "smoke-lost"),
            ("Der Tiegel war noch heiß", "weighed-warm"),
        ] {
            let text = text.to_lowercase();
            let best = all().map(|cause| strength(cause.words, &text)).max();
            let named = all().find(|cause| cause.id == id).expect("a cause");
            let own = strength(named.words, &text);
            assert!(
                own > 0 && Some(own) == best,
                "{text}: {own} for {id}, {best:?}"
            );
        }
        // Everyday words that a stem must not be part of.
        for text in [
            "das salz wurde verbraucht",
            "wegen zeitmangel",
            "der spiegel",
            "auf dem blech",
        ] {
            assert!(
                all().all(|cause| strength(cause.words, text) == 0),
                "{text}"
            );
        }
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
