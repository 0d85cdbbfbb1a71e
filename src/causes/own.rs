//! The students' own causes, each tested for direction, size and evidence: one sentence a test.

use crate::causes::catalogue;
use crate::causes::catalogue::Cause;
use crate::causes::deviation::Deviations;
use crate::causes::direction::direction;
use crate::causes::effect::Effect;
use crate::causes::evidence;
use crate::causes::notes;
use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::causes::weigh;
use crate::causes::weigh::Listed;
use crate::record;
use crate::say;

/// A cause named by students, tested.
#[derive(Debug, Clone)]
pub struct Own {
    /// Its place among the record's causes.
    pub place: usize,
    /// As they named it; a sign's question where they gave its id.
    pub what: String,
    /// The cause of the catalogue that it is taken for.
    pub cause: Option<(&'static Cause, Option<Effect>)>,
    /// What signs and drying say of it in a word: `supported`, `contradicted`, `mixed` or `open`.
    pub support: &'static str,
    /// Whether it would move the results the way they moved.
    pub direction: String,
    /// Whether its size is possible.
    pub size: String,
    /// Whether the notes or signs show it.
    pub evidence: String,
}

impl Own {
    /// Says that direction and size wait for answers, where the cause would show in what may not be looked at yet: `whole`
    /// is the experiment with nothing hidden.
    pub(super) fn wait(&mut self, own: &record::Cause, whole: &Scene<'_>) {
        let shows = |cause: &Cause| !(cause.at)(whole).is_empty();
        let nowhere = matches!(self.cause, Some((_, None)));
        if !nowhere || !recognised(own, whole, &[]).is_some_and(shows) {
            return;
        }
        let words = &whole.lab.words;
        let waits = say!(
            words,
            "waits for your own answers to the steps that it would change."
        );
        self.direction.clone_from(&waits);
        self.size = waits;
    }
}

/// Tests one cause.
pub(super) fn test(
    (place, own): (usize, &record::Cause),
    scene: &Scene<'_>,
    deviations: &Deviations,
    beyond: bool,
    listed: &[Listed],
) -> Own {
    let sign = scene.lab.signs.iter().find(|sign| sign.id == own.what);
    let what = sign.map_or_else(|| own.what.clone(), |sign| sign.question.clone());
    let found = recognised(own, scene, listed);
    let effect = found.and_then(|cause| effect(cause, scene, deviations, listed));
    let words = &scene.lab.words;
    let Some(cause) = found else {
        let lower_case = own.what.to_lowercase();
        let says_nothing = vocabulary::longest(&lower_case, vocabulary::NO_CAUSE, words) > 0;
        return Own {
            place,
            what,
            cause: None,
            support: "open",
            direction: if says_nothing {
                say!(
                    words,
                    "names nothing that happened: say what was done, to what, and which reading it changed."
                )
            } else {
                say!(
                    words,
                    "not a cause that the program knows by these words: which reading did it change, and which way?"
                )
            },
            size: say!(
                words,
                "how many grams would it take to explain the difference, and is that much possible?"
            ),
            evidence: evidence_of(own, None, scene),
        };
    };
    Own {
        place,
        what,
        cause: Some((cause, effect)),
        support: evidence::of(cause, effect.unwrap_or(Effect::Unreacted), scene).in_a_word(),
        direction: effect.map_or_else(
            || if scene.products.is_empty() && scene.leftovers.is_empty() && !deviations.hidden {
                say!(words, "this lab predicts no mass that it could be held against: say which reading it changed, and which way that moves the result.")
            } else {
                say!(words, "this lab measures nothing that would show it.")
            },
            |effect| direction(own, effect, scene, deviations),
        ),
        size: effect.map_or_else(
            || say!(words, "it cannot be told from these readings."),
            |effect| size(cause, effect, scene, (deviations, beyond), listed),
        ),
        evidence: evidence_of(own, Some((cause, effect)), scene),
    }
}

/// The cause that students mean: by the sign they name, by its id, or by their words.
fn recognised(own: &record::Cause, scene: &Scene<'_>, listed: &[Listed]) -> Option<&'static Cause> {
    let what = own.what.trim();
    let by_name = what.to_lowercase().replace([' ', '_'], "-");
    if let Some(cause) = catalogue::find(&by_name) {
        return Some(cause);
    }
    let sign = scene
        .lab
        .signs
        .iter()
        .find(|sign| sign.id == what.replace(' ', "_"));
    let text = what.to_lowercase();
    let applies = |cause: &&'static Cause| !(cause.at)(scene).is_empty();
    let weight = |cause: &&'static Cause| -> usize {
        match sign {
            Some(sign) if !sign.supports.is_empty() => {
                usize::from(sign.supports.iter().any(|(id, _)| id == cause.id))
            }
            Some(sign) => usize::from(cause.signs.contains(&sign.id.as_str())),
            None => vocabulary::longest(&text, cause.words, &scene.lab.words),
        }
    };
    let is_listed = |cause: &Cause| listed.iter().any(|one| one.cause.id == cause.id);
    let mut best: Option<((bool, usize, bool), &'static Cause)> = None;
    for cause in catalogue::all() {
        let strength = weight(&cause);
        if strength == 0 {
            continue;
        }
        // What cannot have happened here is meant only when nothing else is.
        let key = (applies(&cause), strength, is_listed(cause));
        if best.is_none_or(|(known, _)| key > known) {
            best = Some((key, cause));
        }
    }
    best.map(|(_, cause)| cause)
}

/// The effect of a cause here: the one listed, else the one that comes nearest to explaining the deviations.
fn effect(
    cause: &Cause,
    scene: &Scene<'_>,
    deviations: &Deviations,
    listed: &[Listed],
) -> Option<Effect> {
    if let Some(one) = listed.iter().find(|one| one.cause.id == cause.id) {
        return Some(one.effect);
    }
    let effects = (cause.at)(scene);
    let rest = |effect: &Effect| {
        effect
            .solve(scene, deviations)
            .map_or(f64::INFINITY, |solved| solved.rest)
    };
    effects
        .into_iter()
        .min_by(|a, b| rest(a).total_cmp(&rest(b)))
}

/// Whether so much of it is possible.
fn size(
    cause: &Cause,
    effect: Effect,
    scene: &Scene<'_>,
    (deviations, beyond): (&Deviations, bool),
    listed: &[Listed],
) -> String {
    let words = &scene.lab.words;
    if deviations.all.is_empty() {
        return say!(words, "waits for readings, or for your own answers.");
    }
    let Some(solved) = effect.solve(scene, deviations) else {
        return say!(words, "it would not show in what was measured.");
    };
    if !beyond {
        return say!(
            words,
            "the readings alone may explain what is off, so no size can be given."
        );
    }
    if solved.amount < 2.0 * solved.standard {
        return say!(words, "no amount of it explains what was measured.");
    }
    let needed = effect.in_words(&solved, scene);
    let limit = (cause.most)(scene, effect);
    let (says, more) = if weigh::is_within(limit.as_ref(), effect, &solved) {
        let paired = listed.iter().find(|one| one.cause.id == cause.id);
        let says = if weigh::explains(&solved, deviations) {
            say!(
                words,
                "possible: {amount} of it would explain everything that was measured.",
                amount = needed
            )
        } else if let Some(one) = paired {
            say!(
                words,
                "possible: {amount} of it, with another cause for the rest of what was measured.",
                amount = one.effect.in_words(&one.solved, scene)
            )
        } else {
            say!(
                words,
                "at best {amount} of it fits, and then something else is still unexplained.",
                amount = needed
            )
        };
        let shown = paired.map_or(&solved, |one| &one.solved);
        (says, (cause.picture)(scene, effect, shown.amount))
    } else {
        let says = say!(
            words,
            "it would take {amount}, more than is possible.",
            amount = needed
        );
        (says, limit.map(|limit| limit.why))
    };
    more.into_iter()
        .fold(says, |says, sentence| format!("{says} {sentence}"))
}

/// Whether the signs and the notes show it.
fn evidence_of(
    own: &record::Cause,
    cause: Option<(&'static Cause, Option<Effect>)>,
    scene: &Scene<'_>,
) -> String {
    let words = &scene.lab.words;
    let mut said = Vec::new();
    if let Some((cause, effect)) = cause {
        let effect = effect.unwrap_or(Effect::Unreacted);
        let found = evidence::of(cause, effect, scene);
        if !found.supports.is_empty() {
            let list = found.supports.join("; ");
            said.push(say!(words, "for it: {evidence}.", evidence = list));
        }
        if !found.contradicts.is_empty() {
            let list = found.contradicts.join("; ");
            said.push(say!(words, "against it: {evidence}.", evidence = list));
        }
    }
    said.push(if own.evidence.trim().is_empty() {
        say!(
            words,
            "no evidence is written beside it: quote a reading or a line of your notes."
        )
    } else if let Some(day) = notes::day_that_says(&own.evidence, scene.record, words) {
        say!(words, "The notes of day {day} say so.", day = day)
    } else {
        say!(
            words,
            "what stands there as evidence is in none of the notes: write what was seen under its day."
        )
    });
    // The first stands behind the name of the test; the others are sentences of their own.
    let behind = said.iter().skip(1);
    behind.fold(said[0].clone(), |all, sentence| {
        format!("{all} {}", begun(sentence))
    })
}

/// A sentence with its first letter large.
fn begun(sentence: &str) -> String {
    let mut letters = sentence.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters.as_str().chars()).collect()
}
