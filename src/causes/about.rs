//! Whether what a text says happened is said of the substances that an effect is about.

use std::ops::Range;

use crate::causes::catalogue::Cause;
use crate::causes::effect::Effect;
use crate::causes::mention::Mention;
use crate::causes::mention::Text;
use crate::causes::places::places;
use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::words::Words;
use crate::working::Kind;
use crate::working::Variable;

/// Causes that are about what is titrated with, and show in what it is added to.
const TITRATING: [&str; 3] = ["over-titrated", "under-titrated", "air-in-burette"];

/// The cause that the reaction of a sample did not end.
const UNFINISHED: &str = "stopped-early";

/// Words of a text that say what happened.
pub(super) struct Said {
    pub at: Range<usize>,
    pub letters: usize,
    pub own: bool,
    /// Whether everything weighed together has to be named.
    pub both: bool,
}

/// Whether what a text names is dissolved by the reaction until it has run out: no product, and nothing in excess.
pub(super) fn may_dissolve(mentions: &[Mention], scene: &Scene<'_>) -> bool {
    let excess =
        |index: &usize| scene.step(Kind::Limiting).is_some() && !scene.limiting.contains(index);
    let mut named = mentions.iter().filter(|one| !one.carrier);
    scene.wet()
        && named.all(|one| {
            let mut who = one.who.iter();
            one.who.is_empty() || who.any(|it| scene.substance(*it).reactant && !excess(it))
        })
}

/// Whether a text names what runs out, and no substance of which something has to be left.
pub(super) fn should_run_out(mentions: &[Mention], scene: &Scene<'_>) -> bool {
    let mut named = mentions.iter().filter(|one| !one.who.is_empty()).peekable();
    named.peek().is_some()
        && named.all(|one| one.who.iter().any(|index| scene.limiting.contains(index)))
}

/// How many of the substances of an effect are named with what is said, and whether the nearest is among them; `None` where
/// others are named instead.
pub(super) fn about(
    said: &Said,
    (cause, effect): (&Cause, Effect),
    text: &Text,
    mentions: &[Mention],
    scene: &Scene<'_>,
) -> Option<(usize, bool)> {
    let is = |index: Option<usize>| {
        index.is_some_and(|index| mentions.iter().any(|one| one.who.contains(&index)))
    };
    let pair = match effect {
        Effect::Carried { product, reactant } => Some((product, reactant, product)),
        Effect::Clinging { product, reactant } => Some((product, reactant, reactant)),
        _ => None,
    };
    if let Some((product, reactant, place)) = pair {
        let mut places = mentions.iter().filter(|one| one.place);
        let elsewhere = places.any(|one| {
            let other = if place == product { reactant } else { product };
            !one.who.contains(&place) && one.who.contains(&other)
        });
        let clause = text.clause(text.number(said.at.start), &scene.lab.words);
        let beside = |index: usize| {
            let mut named = mentions.iter().filter(|one| one.who.contains(&index));
            named.any(|one| clause.contains(&text.number(one.at.start)))
        };
        if elsewhere || (said.both && !(beside(product) && beside(reactant))) {
            return None;
        }
    }
    if is_before(effect, text, &scene.lab.words)
        || from_product(effect, mentions, scene)
        || is_of_paper(effect, text, mentions, scene)
    {
        return None;
    }
    let inside = |one: &Mention| said.at.start <= one.at.start && one.at.end <= said.at.end;
    let is_about = |one: &Mention| {
        one.is_of(effect, scene)
            || match one.inputs[..] {
                [Variable::Given(_)] => TITRATING.contains(&cause.id),
                [Variable::Reading(_)] => cause.id == UNFINISHED,
                _ => false,
            }
    };
    // What only a reading or a label tells of has to be named.
    if matches!(effect.input(), Some(Variable::Reading(_))) && !mentions.iter().any(is_about) {
        return None;
    }
    let touched = mentions.iter().any(is_about);
    // The words for a cause may name a substance themselves: “salt left” is about the product.
    let others = mentions.iter().any(|one| !one.carrier && !inside(one));
    if others && !touched {
        return None;
    }
    let both = usize::from(is(effect.product())) + usize::from(is(effect.reactant()));
    let named = both.max(usize::from(touched));
    let away = |one: &&Mention| {
        let (start, end) = (said.at.start, said.at.end);
        start
            .saturating_sub(one.at.end)
            .max(one.at.start.saturating_sub(end))
    };
    let nearest = mentions.iter().filter(|one| !one.carrier).min_by_key(away);
    Some((named, nearest.is_some_and(is_about)))
}

/// Whether a text speaks of a time before there was what an effect is about: nothing is left over at the beginning.
fn is_before(effect: Effect, text: &Text, language: &Words) -> bool {
    matches!(effect, Effect::MoreLeft(_) | Effect::LessLeft(_))
        && vocabulary::longest(&text.plain, vocabulary::EARLY, language) > 0
}

/// Whether a text speaks of paper, and an effect is of what a reactant is like that it does not name.
fn is_of_paper(effect: Effect, text: &Text, mentions: &[Mention], scene: &Scene<'_>) -> bool {
    matches!(effect, Effect::LessTaken(_) | Effect::MoreTaken(_))
        && !mentions.iter().any(|one| one.is_of(effect, scene))
        && places(text, vocabulary::PAPER, &scene.lab.words)
            .next()
            .is_some()
}

/// Whether something else is said to be in a product, and an effect is about nothing but a loss.
fn from_product(effect: Effect, mentions: &[Mention], scene: &Scene<'_>) -> bool {
    let mut places = mentions.iter().filter(|one| one.place);
    let is_product = |index: &usize| !scene.substance(*index).reactant;
    match effect {
        Effect::LessLeft(_) | Effect::NotPutIn(_) | Effect::LessTaken(_) => {
            places.any(|one| one.who.iter().all(is_product) && !one.is_of(effect, scene))
        }
        Effect::LessProduct(product) => {
            let other = |one: &Mention| !one.carrier && !one.who.contains(&product);
            places.any(|one| one.who.contains(&product)) && mentions.iter().any(other)
        }
        _ => false,
    }
}
