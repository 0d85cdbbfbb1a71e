//! The direction of a student's own cause: whether it moves the percent yield as they say, and as the readings say.

use std::cmp::Ordering;

use crate::causes::deviation::Deviations;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::causes::still_off::Compared;
use crate::causes::vocabulary;
use crate::measure::Exact;
use crate::record;
use crate::say;
use crate::words::Words;
use crate::words::restored;
use crate::working::Kind;
use crate::working::StepId;

/// Whether it would move the percent yield as the students say, and as the readings say.
pub(super) fn direction(
    own: &record::Cause,
    effect: Effect,
    scene: &Scene<'_>,
    (deviations, compared): (&Deviations, &[Compared]),
) -> String {
    let words = &scene.lab.words;
    let claimed = claimed(&own.effect, words);
    let Some(moves) = effect.on_the_yield(scene) else {
        return on_a_find(claimed, effect, scene, (deviations, compared));
    };
    if moves == Ordering::Equal {
        return no_direction(effect, scene, deviations);
    }
    let higher = moves == Ordering::Greater;
    if claimed.is_some_and(|way| way != moves) {
        return if higher {
            say!(words, "this makes the percent yield higher, not lower.")
        } else {
            say!(words, "this makes the percent yield lower, not higher.")
        };
    }
    let found = scene.graph.ids().find_map(|id| {
        let step = scene.graph.step(id);
        let yields = matches!(step.kind, Kind::PercentYield(_)) && step.equation == scene.equation;
        let known = scene
            .products
            .iter()
            .any(|p| step.kind == Kind::PercentYield(*p));
        scene.line.current(id).filter(|_| yields && known)?;
        Some(scene.worked.value(id)?.exact.cmp(&Exact::from_integer(100)))
    });
    let mut says = match (found, higher) {
        (None, true) => {
            return say!(
                words,
                "it makes the percent yield higher; whether yours is waits for your own answers."
            );
        }
        (None, false) => {
            return say!(
                words,
                "it makes the percent yield lower; whether yours is waits for your own answers."
            );
        }
        (Some(Ordering::Greater), true) => say!(
            words,
            "fits: it makes the percent yield higher, and yours is above 100 %."
        ),
        (Some(Ordering::Less), false) => say!(
            words,
            "fits: it makes the percent yield lower, and yours is below 100 %."
        ),
        (Some(Ordering::Less), true) => say!(
            words,
            "it makes the percent yield higher, but yours is below 100 %: alone it cannot be the reason."
        ),
        (Some(Ordering::Equal), true) => say!(
            words,
            "it makes the percent yield higher, but yours is exactly 100 %: it goes only with something that makes it lower by as much."
        ),
        (Some(Ordering::Equal), false) => say!(
            words,
            "it makes the percent yield lower, but yours is exactly 100 %: it goes only with something that makes it higher by as much."
        ),
        (Some(Ordering::Greater), false) => say!(
            words,
            "it makes the percent yield lower, but yours is above 100 %: alone it cannot be the reason."
        ),
    };
    if claimed.is_none() {
        says.push(' ');
        says.push_str(words.say("Say so under `effect`."));
    }
    says
}

/// Whether it makes a result higher or lower: the percent yield, else a quantity of the lab's own.
pub(super) fn on_the_result(
    effect: Effect,
    scene: &Scene<'_>,
    deviations: &Deviations,
) -> Option<Ordering> {
    let on_find = || find(effect, scene, deviations).map(|(_, way)| way);
    effect.on_the_yield(scene).or_else(on_find)
}

/// The quantity of the lab's own that an effect moves, where there is no percent yield: the first that the lab speaks of.
fn find(effect: Effect, scene: &Scene<'_>, deviations: &Deviations) -> Option<(StepId, Ordering)> {
    let mut finds = scene.graph.finds().into_iter();
    finds.find_map(|id| {
        let way = effect.on_a_find(id, scene, deviations)?;
        (way != Ordering::Equal).then_some((id, way))
    })
}

/// Whether it would move a quantity of the lab's own as the students say, and as it is found beside the accepted value.
fn on_a_find(
    claimed: Option<Ordering>,
    effect: Effect,
    scene: &Scene<'_>,
    (deviations, compared): (&Deviations, &[Compared]),
) -> String {
    let words = &scene.lab.words;
    let Some((found, way)) = find(effect, scene, deviations) else {
        return on_nothing(effect, scene, deviations);
    };
    let quantity = &scene.graph.step(found).title;
    let higher = way == Ordering::Greater;
    let turned = claimed.is_some_and(|claimed| claimed != way);
    let side = compared.iter().find_map(|one| one.side_of(found, scene));
    match (turned, side, higher) {
        (true, _, true) => say!(
            words,
            "this makes the result ({quantity}) higher, not lower.",
            quantity = quantity
        ),
        (true, _, false) => say!(
            words,
            "this makes the result ({quantity}) lower, not higher.",
            quantity = quantity
        ),
        (false, Some(Ordering::Greater), true) => say!(
            words,
            "fits: it makes the result ({quantity}) higher, and yours is above the accepted value.",
            quantity = quantity
        ),
        (false, Some(Ordering::Less), false) => say!(
            words,
            "fits: it makes the result ({quantity}) lower, and yours is below the accepted value.",
            quantity = quantity
        ),
        (false, Some(Ordering::Equal), true) => say!(
            words,
            "it makes the result ({quantity}) higher, but yours is exactly the accepted value: it goes only with something that makes it lower by as much.",
            quantity = quantity
        ),
        (false, Some(Ordering::Equal), false) => say!(
            words,
            "it makes the result ({quantity}) lower, but yours is exactly the accepted value: it goes only with something that makes it higher by as much.",
            quantity = quantity
        ),
        (false, Some(Ordering::Less), true) => say!(
            words,
            "it makes the result ({quantity}) higher, but yours is below the accepted value: alone it cannot be the reason.",
            quantity = quantity
        ),
        (false, Some(Ordering::Greater), false) => say!(
            words,
            "it makes the result ({quantity}) lower, but yours is above the accepted value: alone it cannot be the reason.",
            quantity = quantity
        ),
        (false, None, true) => say!(
            words,
            "it makes the result ({quantity}) higher; there is nothing yet to hold yours against.",
            quantity = quantity
        ),
        (false, None, false) => say!(
            words,
            "it makes the result ({quantity}) lower; there is nothing yet to hold yours against.",
            quantity = quantity
        ),
    }
}

/// What is said where an effect moves no result, or none is there yet.
fn on_nothing(effect: Effect, scene: &Scene<'_>, deviations: &Deviations) -> String {
    let words = &scene.lab.words;
    let mut ids = scene.graph.ids();
    let yields = ids.any(|id| matches!(scene.graph.step(id).kind, Kind::PercentYield(_)));
    let finds = scene.graph.finds();
    let known = |id: StepId| effect.on(id, scene).is_some();
    if yields {
        say!(
            words,
            "waits until there is a percent yield to compare with."
        )
    } else if finds.is_empty() {
        say!(
            words,
            "this lab has no percent yield and no other result of its own: which reading did it change, and which way?"
        )
    } else if !deviations.hidden && finds.into_iter().any(known) {
        say!(
            words,
            "the program knows of no result of this lab that it would change: which reading did it change, and which way?"
        )
    } else {
        say!(words, "waits for readings, or for your own answers.")
    }
}

/// What a cause does that leaves the percent yield as it is, and whether that was found.
fn no_direction(effect: Effect, scene: &Scene<'_>, deviations: &Deviations) -> String {
    let words = &scene.lab.words;
    let less = matches!(effect, Effect::LessTaken(_) | Effect::NotPutIn(_));
    if let Some(reactant) = effect.reactant().filter(|it| less && scene.idle(*it)) {
        return say!(
            words,
            "it does not change the percent yield at all: {substance} is in excess, and less of it changes nothing until what should be left of it is gone.",
            substance = scene.name(reactant)
        );
    }
    let readings: Vec<String> = effect
        .readings(scene)
        .into_iter()
        .map(|(reading, way)| {
            let reading = scene.label(reading);
            if way == Ordering::Greater {
                say!(words, "“{reading}” higher", reading = reading)
            } else {
                say!(words, "“{reading}” lower", reading = reading)
            }
        })
        .collect();
    let readings = readings.join(words.say(" and "));
    let found = effect.solve(scene, deviations).and_then(|solved| {
        let doubt = 2.0 * solved.standard;
        (solved.amount.abs() > doubt).then_some(solved.amount > 0.0)
    });
    match (readings.is_empty(), found) {
        (true, None) => say!(words, "it does not change the percent yield at all."),
        (true, Some(true)) => say!(
            words,
            "it does not change the percent yield at all, and that is what was found."
        ),
        (true, Some(false)) => say!(
            words,
            "it does not change the percent yield at all, and the opposite was found."
        ),
        (false, None) => say!(
            words,
            "it does not change the percent yield at all; it makes {readings}.",
            readings = readings
        ),
        (false, Some(true)) => say!(
            words,
            "it does not change the percent yield at all; it makes {readings}, and that is what was found.",
            readings = readings
        ),
        (false, Some(false)) => say!(
            words,
            "it does not change the percent yield at all; it makes {readings}, and the opposite was found.",
            readings = readings
        ),
    }
}

/// `higher` or `lower`, as students write it.
pub(super) fn claimed(text: &str, words: &Words) -> Option<Ordering> {
    let text = restored(&text.to_lowercase(), words);
    let any = |list: &'static str| vocabulary::longest(&text, list, words) > 0;
    match (any(vocabulary::HIGHER), any(vocabulary::LOWER)) {
        (true, false) => Some(Ordering::Greater),
        (false, true) => Some(Ordering::Less),
        _ => None,
    }
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
            assert_eq!(claimed(text, &Words::english()), way, "{text}");
        }
    }

    #[test]
    fn higher_and_lower_are_read_in_german_too() {
        let german = Words::of("de").unwrap();
        for (text, way) in [
            ("niedriger", Some(Ordering::Less)),
            ("Zu niedrig", Some(Ordering::Less)),
            ("weniger Kupfer", Some(Ordering::Less)),
            ("lower", Some(Ordering::Less)),
            ("höhere Ausbeute", Some(Ordering::Greater)),
            ("hoeher", Some(Ordering::Greater)),
            ("groesser", Some(Ordering::Greater)),
            ("mehr Kupfer als vorher", Some(Ordering::Greater)),
            ("higher", Some(Ordering::Greater)),
            ("Kupfer", None),
            ("ein Unterschied", None),
            ("höher oder niedriger", None),
        ] {
            assert_eq!(claimed(text, &german), way, "{text}");
        }
    }
}
