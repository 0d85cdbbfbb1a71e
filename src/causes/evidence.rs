//! What speaks for a cause and against it: signs answered, and how the mass changed from drying to drying.

use crate::causes::catalogue::Cause;
use crate::causes::effect::Effect;
use crate::causes::matter::Ending;
use crate::causes::scene::Scene;
use crate::say;
use crate::words::Words;
use crate::working::Kind;
use crate::working::drying::Verdict;

/// Causes that another drying or heating would show: the mass goes on falling.
const FALLS: [&str; 7] = [
    "product-damp",
    "paper-damp",
    "liquid-left-in-salt",
    "not-heated-enough",
    "not-decomposed",
    "hydroxide-left",
    "leftover-damp",
];

/// Causes that make the mass rise from one drying to the next.
const RISES: [&str; 4] = [
    "product-oxidised",
    "leftover-oxidised",
    "water-taken-up-again",
    "weighed-warm",
];

/// The sign that tells how far a reaction went, where a reactant colours the liquid.
const COLOUR_LEFT: &str = "liquid_still_coloured";

/// What speaks for a cause and against it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Evidence {
    /// Each the end of a sentence that begins with “for it:”.
    pub supports: Vec<String>,
    /// Each the end of a sentence that begins with “against it:”.
    pub contradicts: Vec<String>,
}

impl Evidence {
    /// How strong it is: what supports minus what contradicts.
    #[must_use]
    pub fn score(&self) -> i32 {
        let count = |list: &[String]| i32::try_from(list.len()).unwrap_or(i32::MAX);
        count(&self.supports) - count(&self.contradicts)
    }

    /// `supported`, `contradicted`, `mixed` or `open`.
    #[must_use]
    pub fn in_a_word(&self) -> &'static str {
        match (self.supports.is_empty(), self.contradicts.is_empty()) {
            (true, true) => "open",
            (false, true) => "supported",
            (true, false) => "contradicted",
            (false, false) => "mixed",
        }
    }
}

/// Something that speaks for a cause or against it.
#[derive(Clone, Copy)]
enum Said<'s> {
    /// A question answered.
    Sign(&'s str, bool),
    /// A reading that was dried in a series, and how that ended.
    Dried(&'s str, Verdict),
}

impl Said<'_> {
    fn in_words(self, words: &Words) -> String {
        match self {
            Self::Sign(question, true) => say!(words, "“{question}” yes", question = question),
            Self::Sign(question, false) => say!(words, "“{question}” no", question = question),
            Self::Dried(reading, Verdict::StillFalling) => say!(
                words,
                "“{reading}” was still losing mass at the last weighing",
                reading = reading
            ),
            Self::Dried(reading, Verdict::Rising) => say!(
                words,
                "“{reading}” rose at the last weighing",
                reading = reading
            ),
            Self::Dried(reading, _) => say!(
                words,
                "“{reading}” had come to constant mass",
                reading = reading
            ),
        }
    }
}

/// The evidence on a cause.
#[must_use]
pub fn of(cause: &Cause, effect: Effect, scene: &Scene<'_>) -> Evidence {
    let mut evidence = Evidence::default();
    look(cause, effect, scene, &mut |supports, said| {
        let list = if supports {
            &mut evidence.supports
        } else {
            &mut evidence.contradicts
        };
        list.push(said.in_words(&scene.lab.words));
    });
    evidence
}

/// How strong the evidence on a cause is: its [`Evidence::score`], without a word written.
pub(super) fn score(cause: &Cause, effect: Effect, scene: &Scene<'_>) -> i32 {
    let mut score = 0;
    look(cause, effect, scene, &mut |supports, _| {
        score += if supports { 1 } else { -1 };
    });
    score
}

/// Shows everything that speaks for a cause, with `true`, or against it, in the order of the lab.
fn look<'s>(
    cause: &Cause,
    effect: Effect,
    scene: &'s Scene<'_>,
    see: &mut dyn FnMut(bool, Said<'s>),
) {
    for (asked, (id, answer)) in scene.lab.signs.iter().zip(&scene.record.signs) {
        let Some(yes) = *answer else { continue };
        if id == COLOUR_LEFT && asked.supports.is_empty() && colour_says_nothing(cause, scene) {
            continue;
        }
        let own = asked.supports.iter().any(|(id, _)| id == cause.id);
        // A built-in sign that the teacher words anew keeps its meaning unless the teacher says which cause it supports.
        let built_in = asked.supports.is_empty() && cause.signs.contains(&id.as_str());
        if own || built_in {
            see(yes, Said::Sign(&asked.question, yes));
        } else if yes && cause.unless.contains(&id.as_str()) {
            see(false, Said::Sign(&asked.question, yes));
        }
    }
    let falls = FALLS.contains(&cause.id);
    let rises = RISES.contains(&cause.id);
    if (falls || rises)
        && let Some((verdict, label)) = series(effect, scene)
    {
        match verdict {
            Verdict::StillFalling if falls => see(true, Said::Dried(label, verdict)),
            Verdict::Constant if falls => see(false, Said::Dried(label, verdict)),
            Verdict::Rising if rises => see(true, Said::Dried(label, verdict)),
            _ => {}
        }
    }
}

/// Whether the colour of the liquid tells nothing about a cause: it is about how far the reaction went, and what runs out
/// has no colour. The liquid over silver is blue because the reaction went on.
fn colour_says_nothing(cause: &Cause, scene: &Scene<'_>) -> bool {
    let crystals = cause.id == "stayed-in-solution";
    !crystals && scene.ending() != Ending::ColourFades
}

/// The drying series that an effect would show in.
fn series<'a>(effect: Effect, scene: &Scene<'a>) -> Option<(Verdict, &'a str)> {
    let readings: Vec<usize> = if effect == Effect::Unreacted {
        let full = |product: &usize| scene.full(Kind::Collected(*product));
        scene
            .products
            .iter()
            .filter_map(full)
            .map(|(reading, _)| reading)
            .collect()
    } else {
        let changed = effect.readings(scene).into_iter();
        changed.map(|(reading, _)| reading).collect()
    };
    scene
        .dried
        .iter()
        .find(|series| readings.contains(&series.reading))
        .map(|series| (series.verdict(), scene.label(series.reading)))
}

#[cfg(test)]
mod tests {
    use super::FALLS;
    use super::RISES;
    use crate::causes::catalogue::find;

    #[test]
    fn the_causes_that_drying_shows_exist() {
        for id in FALLS.iter().chain(&RISES) {
            assert!(find(id).is_some(), "{id}");
        }
    }
}
