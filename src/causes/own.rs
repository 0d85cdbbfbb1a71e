//! The students' own causes, each tested for direction, size and evidence: one sentence a test.

use std::cmp::Ordering;

use crate::causes::catalogue;
use crate::causes::catalogue::Cause;
use crate::causes::deviation::Deviations;
use crate::causes::effect::Effect;
use crate::causes::evidence;
use crate::causes::notes;
use crate::causes::scene::Scene;
use crate::causes::weigh;
use crate::causes::weigh::Listed;
use crate::record;
use crate::working::Kind;

/// Names that say nothing of what happened.
const NO_CAUSE: [&str; 6] = [
    "human error",
    "human mistake",
    "faulty equipment",
    "bad equipment",
    "measurement error",
    "inaccura",
];

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
    /// Says that direction and size wait for answers.
    pub(super) fn wait(&mut self) {
        const WAITS: &str = "waits for your own answers to the steps that it would change.";
        WAITS.clone_into(&mut self.direction);
        WAITS.clone_into(&mut self.size);
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
    let lower_case = own.what.to_lowercase();
    let Some(cause) = found else {
        let says_nothing = NO_CAUSE.iter().any(|name| lower_case.contains(name));
        return Own {
            place,
            what,
            cause: None,
            support: "open",
            direction: if says_nothing {
                "names nothing that happened: say what was done, to what, and which reading it changed.".to_owned()
            } else {
                "not a cause that the program knows by these words: which reading did it change, and which way?".to_owned()
            },
            size:
                "how many grams would it take to explain the difference, and is that much possible?"
                    .to_owned(),
            evidence: evidence_of(own, None, scene),
        };
    };
    Own {
        place,
        what,
        cause: Some((cause, effect)),
        support: evidence::of(cause, effect.unwrap_or(Effect::Unreacted), scene).in_a_word(),
        direction: effect.map_or_else(
            || if scene.products.is_empty() && scene.leftovers.is_empty() {
                "this lab predicts no mass that it could be held against: say which reading it changed, and which way that moves the result.".to_owned()
            } else {
                "this lab measures nothing that would show it.".to_owned()
            },
            |effect| direction(own, effect, scene, deviations),
        ),
        size: effect.map_or_else(
            || "it cannot be told from these readings.".to_owned(),
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
            None => {
                let names = scene.lab.words.say(cause.words).split(", ");
                let words = names.filter(|word| text.contains(*word));
                words.map(str::len).max().unwrap_or(0)
            }
        }
    };
    let is_listed = |cause: &Cause| listed.iter().any(|one| one.cause.id == cause.id);
    let mut best: Option<((bool, usize, bool), &'static Cause)> = None;
    for cause in catalogue::all() {
        let strength = weight(&cause);
        // What cannot have happened here is meant only when nothing else is.
        let key = (applies(&cause), strength, is_listed(cause));
        if strength > 0 && best.is_none_or(|(known, _)| key > known) {
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

/// Whether it would move the percent yield as the students say, and as the readings say.
fn direction(
    own: &record::Cause,
    effect: Effect,
    scene: &Scene<'_>,
    deviations: &Deviations,
) -> String {
    let claimed = claimed(&own.effect);
    let Some(moves) = effect.on_the_yield(scene) else {
        return "waits until there is a percent yield to compare with.".to_owned();
    };
    let word = |way: Ordering| {
        if way == Ordering::Greater {
            "higher"
        } else {
            "lower"
        }
    };
    if moves == Ordering::Equal {
        let readings: Vec<String> = effect
            .readings(scene)
            .into_iter()
            .map(|(reading, way)| format!("“{}” {}", scene.label(reading), word(way)))
            .collect();
        let changes = if readings.is_empty() {
            String::new()
        } else {
            format!("; it makes {}", readings.join(" and "))
        };
        let found = effect.solve(scene, deviations).map_or("", |solved| {
            if solved.amount > 2.0 * solved.standard {
                ", and that is what was found"
            } else if solved.amount < -2.0 * solved.standard {
                ", and the opposite was found"
            } else {
                ""
            }
        });
        return format!("it does not change the percent yield at all{changes}{found}.");
    }
    match claimed {
        Some(way) if way != moves => {
            return format!(
                "this makes the percent yield {}, not {}.",
                word(moves),
                word(way)
            );
        }
        _ => {}
    }
    let found = scene.graph.ids().find_map(|id| {
        let step = scene.graph.step(id);
        let yields = matches!(step.kind, Kind::PercentYield(_)) && step.equation == scene.equation;
        let known = scene
            .products
            .iter()
            .any(|p| step.kind == Kind::PercentYield(*p));
        (yields && known).then(|| scene.line.current(id)).flatten()
    });
    let Some(found) = found else {
        return format!(
            "it makes the percent yield {}; whether yours is waits for your own answers.",
            word(moves)
        );
    };
    let side = if found > 100.0 {
        Ordering::Greater
    } else {
        Ordering::Less
    };
    let asks = if claimed.is_none() {
        " Say so under `effect`."
    } else {
        ""
    };
    if side == moves {
        format!(
            "fits: it makes the percent yield {}, and yours is {} 100 %.{asks}",
            word(moves),
            if side == Ordering::Greater {
                "above"
            } else {
                "below"
            }
        )
    } else {
        format!(
            "it makes the percent yield {}, but yours is {} 100 %: alone it cannot be the reason.{asks}",
            word(moves),
            if side == Ordering::Greater {
                "above"
            } else {
                "below"
            }
        )
    }
}

/// `higher` or `lower`, as students write it.
fn claimed(text: &str) -> Option<Ordering> {
    let text = text.to_lowercase();
    let any = |words: &[&str]| words.iter().any(|word| text.contains(word));
    match (
        any(&[
            "higher", "high", "more", "greater", "larger", "bigger", "up", "increase", "above",
        ]),
        any(&[
            "lower", "low", "less", "smaller", "down", "decrease", "below", "fewer",
        ]),
    ) {
        (true, false) => Some(Ordering::Greater),
        (false, true) => Some(Ordering::Less),
        _ => None,
    }
}

/// Whether so much of it is possible.
fn size(
    cause: &Cause,
    effect: Effect,
    scene: &Scene<'_>,
    (deviations, beyond): (&Deviations, bool),
    listed: &[Listed],
) -> String {
    if deviations.all.is_empty() {
        return "waits for readings, or for your own answers.".to_owned();
    }
    let Some(solved) = effect.solve(scene, deviations) else {
        return "it would not show in what was measured.".to_owned();
    };
    if !beyond {
        return "the readings alone may explain what is off, so no size can be given.".to_owned();
    }
    if solved.amount < 2.0 * solved.standard {
        return "no amount of it explains what was measured.".to_owned();
    }
    let needed = effect.in_words(&solved, scene);
    let limit = (cause.most)(scene, effect);
    if !weigh::is_within(limit.as_ref(), effect, &solved) {
        let why = limit.map_or_else(String::new, |limit| format!(" {}", limit.why));
        return format!("it would take {needed}, more than is possible.{why}");
    }
    let paired = listed.iter().find(|one| one.cause.id == cause.id);
    let shown = paired.map_or(&solved, |one| &one.solved);
    let picture = (cause.picture)(scene, effect, shown.amount)
        .map_or_else(String::new, |picture| format!(" {picture}"));
    if weigh::explains(&solved, deviations) {
        format!("possible: {needed} of it would explain everything that was measured.{picture}")
    } else if let Some(one) = paired {
        let needed = one.effect.in_words(&one.solved, scene);
        format!(
            "possible: {needed} of it, with another cause for the rest of what was measured.{picture}"
        )
    } else {
        format!(
            "at best {needed} of it fits, and then something else is still unexplained.{picture}"
        )
    }
}

/// Whether the signs and the notes show it.
fn evidence_of(
    own: &record::Cause,
    cause: Option<(&'static Cause, Option<Effect>)>,
    scene: &Scene<'_>,
) -> String {
    let mut said = Vec::new();
    if let Some((cause, effect)) = cause {
        let effect = effect.unwrap_or(Effect::Unreacted);
        let found = evidence::of(cause, effect, scene);
        if !found.supports.is_empty() {
            said.push(format!("for it: {}.", found.supports.join("; ")));
        }
        if !found.contradicts.is_empty() {
            said.push(format!("against it: {}.", found.contradicts.join("; ")));
        }
    }
    if own.evidence.trim().is_empty() {
        said.push(
            "no evidence is written beside it: quote a reading or a line of your notes.".to_owned(),
        );
    } else if let Some(day) = notes::day_that_says(&own.evidence, scene.record) {
        said.push(format!("The notes of day {day} say so."));
    } else {
        said.push(
            "the words quoted stand in none of the notes: write what was seen under its day."
                .to_owned(),
        );
    }
    said.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn higher_and_lower_are_read_as_students_write_them() {
        for (text, way) in [
            ("lower", Some(Ordering::Less)),
            ("Too low", Some(Ordering::Less)),
            ("higher yield", Some(Ordering::Greater)),
            ("it went up", Some(Ordering::Greater)),
            ("", None),
            ("higher or lower", None),
        ] {
            assert_eq!(claimed(text), way, "{text}");
        }
    }
}
