//! The students' own causes, each tested for direction, size and evidence: one sentence a test.

use crate::causes::catalogue::Cause;
use crate::causes::deviation::Deviations;
use crate::causes::direction;
use crate::causes::direction::direction;
use crate::causes::effect::Effect;
use crate::causes::evidence;
use crate::causes::mention::Mention;
use crate::causes::mention::Text;
use crate::causes::misread;
use crate::causes::notes;
use crate::causes::recognise;
use crate::causes::recognise::Meaning;
use crate::causes::scene::Scene;
use crate::causes::still_off;
use crate::causes::still_off::Compared;
use crate::causes::told;
use crate::causes::vocabulary;
use crate::causes::weigh;
use crate::causes::weigh::Listed;
use crate::causes::weighings;
use crate::record;
use crate::say;
use crate::words::restored;

/// The cause of which words may say which of two ways it worked.
const LEVELS: &str = "levels-not-equal";

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
    /// Says that direction and size wait, where the cause would show in what is not read or may not be looked at yet: `whole`
    /// is the experiment with nothing hidden. What waits for the students to say which equation holds waits for that alone.
    fn wait(&mut self, whole: &Scene<'_>, (hidden, asks_equation): (bool, bool)) {
        let Some((cause, None)) = self.cause else {
            return;
        };
        if (cause.at)(whole).is_empty() {
            return;
        }
        let words = &whole.lab.words;
        let waits = if asks_equation {
            say!(
                words,
                "waits until you have said which of the equations your data speak for: it is held against that one."
            )
        } else if hidden {
            say!(
                words,
                "waits for your own answers to the steps that it would change."
            )
        } else {
            say!(words, "waits for readings, or for your own answers.")
        };
        self.direction.clone_from(&waits);
        self.size = waits;
    }
}

/// Tests one cause. It is recognised in the experiment with nothing hidden, if there is one besides, and weighed in the one that
/// may be looked at.
pub(super) fn test(
    (place, own): (usize, &record::Cause),
    (scene, whole): (&Scene<'_>, Option<&Scene<'_>>),
    (deviations, compared): (&Deviations, &[Compared]),
    (beyond, asks_equation): (bool, bool),
    listed: &[Listed],
) -> Own {
    let sign = scene.lab.signs.iter().find(|sign| sign.id == own.what);
    let what = sign.map_or_else(|| own.what.clone(), |sign| sign.question.clone());
    let words = &scene.lab.words;
    if own.what.is_empty() {
        return Own {
            place,
            what: say!(words, "a cause without `what`"),
            cause: None,
            support: "open",
            direction: say!(
                words,
                "`what` is still empty: write there what happened, in your own words or as one of the signs."
            ),
            size: say!(words, "waits until `what` is written."),
            evidence: evidence_of(own, None, scene),
        };
    }
    let meaning = recognise::meaning(own, whole.unwrap_or(scene), deviations, listed);
    if let Meaning::Told(told) = &meaning {
        return Own {
            place,
            what,
            cause: None,
            support: "open",
            direction: told.direction(scene),
            size: told.size(scene),
            evidence: evidence_of(own, None, scene),
        };
    }
    let Meaning::Cause(cause, mentions) = meaning else {
        let denied = matches!(meaning, Meaning::Denied);
        return Own {
            place,
            what,
            cause: None,
            support: "open",
            direction: why_unknown(own, denied, scene),
            size: say!(
                words,
                "how much would it take to explain the difference, and is that much possible?"
            ),
            evidence: evidence_of(own, None, scene),
        };
    };
    // What runs out may be what is asked.
    let undecided = whole.is_some_and(|whole| whole.limiting != scene.limiting);
    let of_limiting = |effect: &Effect| {
        matches!(
            effect,
            Effect::LessTaken(_) | Effect::NotPutIn(_) | Effect::MoreTaken(_)
        )
    };
    let effect = effect(own, (cause, &mentions), scene, deviations, listed)
        .filter(|effect| !(undecided && of_limiting(effect)));
    // What is not read yet is predicted all the same.
    let all = whole.unwrap_or(scene);
    let predicts_nothing = all.products.is_empty() && all.leftovers.is_empty();
    let beside = still_off::beside(compared, deviations);
    let mut tested = Own {
        place,
        what,
        cause: Some((cause, effect)),
        support: evidence::of(cause, effect.unwrap_or(Effect::Unreacted), scene).in_a_word(),
        direction: effect.map_or_else(
            || if predicts_nothing && !deviations.hidden {
                say!(words, "this lab predicts no mass that it could be held against: say which reading it changed, and which way that moves the result.")
            } else {
                say!(words, "the program knows of nothing in this lab that would show it: which reading did it change, and which way does that move the result?")
            },
            |effect| direction(own, effect, scene, (deviations, compared)),
        ),
        size: effect.map_or_else(
            || say!(words, "it cannot be told from these readings."),
            |effect| size(cause, effect, scene, (deviations, beyond), (listed, beside)),
        ),
        evidence: evidence_of(own, Some((cause, effect)), scene),
    };
    if let Some(whole) = whole {
        tested.wait(whole, (deviations.hidden || undecided, asks_equation));
    }
    tested
}

/// What is asked of students whose words name no known cause.
fn why_unknown(own: &record::Cause, denied: bool, scene: &Scene<'_>) -> String {
    let words = &scene.lab.words;
    let lower_case = restored(&own.what.to_lowercase(), words);
    if denied {
        say!(
            words,
            "says what did not happen, and that changes no reading: name what did."
        )
    } else if let Some(question) = misread::asked(&own.what, scene) {
        question
    } else if vocabulary::longest(&lower_case, vocabulary::NO_CAUSE, words) > 0 {
        say!(
            words,
            "names nothing that happened: say what was done, to what, and which reading it changed."
        )
    } else {
        say!(
            words,
            "not a cause that the program knows by these words: which reading did it change, and which way?"
        )
    }
}

/// The effect of a cause here, on a substance that is named: of those that work as the students say the one listed, else the
/// one that comes nearest to explaining the deviations the way they are.
fn effect(
    own: &record::Cause,
    (cause, mentions): (&Cause, &[Mention]),
    scene: &Scene<'_>,
    deviations: &Deviations,
    listed: &[Listed],
) -> Option<Effect> {
    let effects = (cause.at)(scene);
    let named = |effect: &Effect| mentions.iter().any(|one| one.is_of(*effect, scene));
    // “Soda solution” is the soda's, though “solution” alone may be any.
    let exactly = |effect: &Effect| {
        let mut exact = mentions.iter().filter(|one| one.who.len() == 1);
        exact.any(|one| one.is_of(*effect, scene))
    };
    let any_named = effects.iter().any(named);
    let any_exactly = effects.iter().any(exactly);
    let text = Text::of(&own.what, scene);
    let inside = (cause.id == LEVELS)
        .then(|| told::higher_inside(&text, scene))
        .flatten();
    // Where the liquid stands higher inside, the gas has less than the pressure of the air, and more of its volume.
    let as_said = |effect: &Effect| {
        inside.is_none_or(|higher| matches!(effect, Effect::MoreProduct(_)) == higher)
    };
    let is_listed = |effect: Effect| {
        listed
            .iter()
            .any(|one| one.cause.id == cause.id && one.effect == effect)
    };
    let claimed = direction::claimed(&own.effect, &scene.lab.words);
    // What can work either way is judged by the way they say, and what was found by the way it was.
    let key = |effect: &Effect| {
        let solved = effect.solve(scene, deviations);
        let says = claimed
            .is_some_and(|way| direction::on_the_result(*effect, scene, deviations) != Some(way));
        let wrong_way = solved.as_ref().is_none_or(|solved| solved.amount < 0.0);
        let rest = solved.map_or(f64::INFINITY, |solved| solved.rest);
        (says, !is_listed(*effect), wrong_way, rest)
    };
    let fitting = effects
        .into_iter()
        .filter(|effect| named(effect) || !any_named)
        .filter(|effect| exactly(effect) || !any_exactly)
        .filter(as_said);
    let keyed = fitting.map(|effect| (key(&effect), effect));
    let best = keyed.min_by(|(a, _), (b, _)| {
        let by_way = (a.0, a.1, a.2).cmp(&(b.0, b.1, b.2));
        by_way.then(a.3.total_cmp(&b.3))
    });
    best.map(|(_, effect)| effect)
}

/// Whether so much of it is possible.
fn size(
    cause: &Cause,
    effect: Effect,
    scene: &Scene<'_>,
    (deviations, beyond): (&Deviations, bool),
    (listed, beside): (&[Listed], &[Compared]),
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
        let off = still_off::without(beside, effect, &solved, scene);
        let says = if weigh::explains(&solved, deviations) && !off.is_empty() {
            let quantities: Vec<String> = off.iter().map(|one| one.name(scene)).collect();
            say!(
                words,
                "possible: {amount} of it would explain what the equation predicts; what is still unexplained beside the accepted value is {quantities}.",
                amount = needed,
                quantities = quantities.join(", ")
            )
        } else if weigh::explains(&solved, deviations) {
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
        let picture = (cause.picture)(scene, effect, shown.amount);
        (
            says,
            weigh::only_at_edge(limit.as_ref(), shown, words).or(picture),
        )
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
    let mut doubted = false;
    if let Some((cause, effect)) = cause {
        let effect = effect.unwrap_or(Effect::Unreacted);
        let found = evidence::of(cause, effect, scene);
        if !found.supports.is_empty() {
            let list = found.supports.join("; ");
            said.push(say!(words, "for it: {evidence}.", evidence = list));
        }
        doubted = !found.contradicts.is_empty();
        if doubted {
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
        if doubted {
            say!(
                words,
                "But the words quoted do stand in the notes of day {day}: which of the two is right?",
                day = day
            )
        } else {
            say!(words, "The notes of day {day} say so.", day = day)
        }
    } else if let Some(quoted) = notes::readings_quoted(&own.evidence, scene) {
        say!(
            words,
            "what it quotes stands among your readings: {quoted}.",
            quoted = quoted
        )
    } else if let Some(says) = weighings::said(&own.evidence, scene) {
        says
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
