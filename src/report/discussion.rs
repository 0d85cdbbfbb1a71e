//! The error discussion: what could explain the result, and the students' own causes, tested.

use std::cmp::Ordering;

use crate::causes;
use crate::causes::Cause;
use crate::causes::Fit;
use crate::causes::Listed;
use crate::causes::Measure;
use crate::causes::Weighed;
use crate::causes::Why;
use crate::causes::catalogue::bound;
use crate::causes::vocabulary;
use crate::report::compose::Case;
use crate::report::equations;
use crate::report::evidence;
use crate::report::lead;
use crate::report::model::Discussion;
use crate::report::model::OwnCause;
use crate::report::model::OwnTest;
use crate::report::model::Possible;
use crate::report::plane;
use crate::say;
use crate::words::Words;

/// Causes written out; the others are named in one sentence.
const WRITTEN_OUT: usize = 5;

/// The whole section.
pub(in crate::report) fn compose(case: &Case<'_>) -> Discussion {
    let weighed = case.weigh();
    let (split, plane) = plane::split(case, &weighed);
    let (equations, decision) = equations::equations(case, &weighed);
    let (possible, also) = possible(&weighed);
    let own = case
        .record
        .causes
        .iter()
        .enumerate()
        .map(|(place, cause)| OwnCause {
            number: place + 1,
            what: cause.what.clone(),
            evidence: cause.evidence.clone(),
            effect: match cause.effect.as_str() {
                "higher" => say!(case.lab.words, "higher"),
                "lower" => say!(case.lab.words, "lower"),
                own => own.to_owned(),
            },
            next_time: cause.next_time.clone(),
            tests: Vec::new(),
        })
        .collect();
    let written = case.record.words.iter();
    let mut discussion = Discussion {
        instrument: evidence::sentences(case, &weighed),
        split,
        plane,
        equations,
        decision,
        lead: lead::lead(case, &weighed, possible.is_empty()),
        possible,
        also,
        ruled_out: ruled_out(&weighed),
        own: tested(own, &weighed),
        asks: causes::hints(case.lab, case.record),
        written: written
            .into_iter()
            .find(|(key, _)| key == "discussion")
            .map(|(_, text)| text.clone()),
        says: false,
    };
    discussion.says = says(&discussion);
    discussion
}

/// Whether there is anything to read under the heading without the questions to the students.
const fn says(discussion: &Discussion) -> bool {
    !discussion.instrument.is_empty()
        || !discussion.split.is_empty()
        || !discussion.decision.is_empty()
        || !discussion.lead.is_empty()
        || !discussion.ruled_out.is_empty()
        || !discussion.own.is_empty()
        || discussion.written.is_some()
}

/// The students' causes with their tests beside them.
fn tested(mut own: Vec<OwnCause>, weighed: &Weighed<'_>) -> Vec<OwnCause> {
    let words = &weighed.scene.lab.words;
    for test in &weighed.own {
        let Some(cause) = own.get_mut(test.place) else {
            continue;
        };
        cause.what.clone_from(&test.what);
        let parts = [
            (words.say("Direction"), &test.direction),
            (words.say("Size"), &test.size),
            (words.say("Evidence"), &test.evidence),
        ];
        cause.tests = parts
            .map(|(name, sentence)| OwnTest {
                name: name.to_owned(),
                sentence: sentence.clone(),
            })
            .into();
    }
    own
}

/// Causes written out, and the rest in one sentence.
fn possible(weighed: &Weighed<'_>) -> (Vec<Possible>, String) {
    let words = &weighed.scene.lab.words;
    let written_out = |(place, one): &(usize, &Listed)| {
        *place < WRITTEN_OUT && (one.cause.stock || one.evidence.score() > 0)
    };
    let all: Vec<(usize, &Listed)> = weighed.listed.iter().enumerate().collect();
    let (first, rest): (Vec<_>, Vec<_>) = all.into_iter().partition(written_out);
    let possible = first
        .iter()
        .enumerate()
        .map(|(place, (_, one))| one_cause(place + 1, one, weighed))
        .collect();
    // Causes that take the same amount differ in words only: the amount is said once.
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (_, one) in &rest {
        let says = lower_case(
            words,
            &Cause::fill(words.say(one.cause.says), one.effect, &weighed.scene),
        );
        let mut amount = one.effect.in_words(&one.solved, &weighed.scene);
        if one.is_at_edge() {
            amount = say!(
                words,
                "{amount} (possible only at the edge of its uncertainty)",
                amount = amount
            );
        }
        match groups.iter_mut().find(|(known, _)| *known == amount) {
            Some((_, group)) => group.push(says),
            None => groups.push((amount, vec![says])),
        }
    }
    let others: Vec<String> = groups
        .into_iter()
        .map(|(amount, group)| {
            say!(
                words,
                "{amount} if {causes}",
                amount = amount,
                causes = group.join(words.say(", or "))
            )
        })
        .collect();
    let also = if others.is_empty() {
        String::new()
    } else if first.is_empty() {
        say!(
            words,
            "Right in direction and possible in size: {causes}.",
            causes = others.join("; ")
        )
    } else {
        say!(
            words,
            "Also right in direction and possible in size, with less to show for them: {causes}.",
            causes = others.join("; ")
        )
    };
    (possible, also)
}

/// A sentence as the middle of another; names of substances keep their own first letter. In German, which writes nouns
/// large, only a word that is none is written small.
fn lower_case(words: &Words, sentence: &str) -> String {
    let first = sentence
        .split(' ')
        .next()
        .unwrap_or_default()
        .to_lowercase();
    let large = words.code() != "en" && !vocabulary::has(vocabulary::UNLIKE_NOUNS, &first, words);
    if large {
        return sentence.to_owned();
    }
    let mut rest = sentence.chars();
    let first = rest.next().into_iter().flat_map(char::to_lowercase);
    let mut small: String = first.collect();
    small.push_str(rest.as_str());
    small
}

fn one_cause(number: usize, one: &Listed, weighed: &Weighed<'_>) -> Possible {
    let scene = &weighed.scene;
    let words = &scene.lab.words;
    let fill = |sentence: &str| Cause::fill(words.say(sentence), one.effect, scene);
    let mut size = {
        let amount = one.effect.in_words(&one.solved, scene);
        say!(words, "It would take {amount}", amount = amount)
    };
    let readings: Vec<String> = one
        .effect
        .readings(scene)
        .into_iter()
        .map(|(reading, way)| {
            let reading = scene.label(reading);
            if way == Ordering::Greater {
                say!(words, "“{reading}” too high", reading = reading)
            } else {
                say!(words, "“{reading}” too low", reading = reading)
            }
        })
        .collect();
    if readings.is_empty() {
        size.push('.');
    } else {
        size.push_str(&say!(
            words,
            "; it makes {readings}.",
            readings = readings.join(words.say(" and "))
        ));
    }
    let picture = (one.cause.picture)(scene, one.effect, one.solved.amount);
    let sentence = one.only_at_edge(words).or(picture).or_else(|| {
        let limit = one.limit.as_ref().filter(|limit| limit.most.is_finite());
        limit.map(|limit| limit.why.clone())
    });
    if let Some(sentence) = sentence {
        size.push(' ');
        size.push_str(&sentence);
    }
    for (word, list) in [
        (words.say("For it"), &one.evidence.supports),
        (words.say("Against it"), &one.evidence.contradicts),
    ] {
        if !list.is_empty() {
            size.push_str(&format!(" {word}: {}.", list.join("; ")));
        }
    }
    if let Fit::With(partner) = one.fit {
        let other = weighed.listed.iter().find(|other| other.effect == partner);
        if let Some(other) = other {
            let says = Cause::fill(words.say(other.cause.says), other.effect, scene);
            size.push_str(&say!(
                words,
                " Together with: {cause}.",
                cause = lower_case(words, &says)
            ));
        }
    }
    Possible {
        number,
        what: fill(one.cause.says),
        size,
        test: fill(one.cause.test),
        next_time: if one.evidence.score() > 0 {
            fill(one.cause.next_time)
        } else {
            String::new()
        },
    }
}

/// Causes that the numbers speak against: those that work the other way together, the others a sentence each.
fn ruled_out(weighed: &Weighed<'_>) -> Vec<String> {
    let scene = &weighed.scene;
    let words = &scene.lab.words;
    let mut other_way: Vec<(Option<Ordering>, Vec<String>)> = Vec::new();
    let mut sentences = Vec::new();
    for one in &weighed.ruled_out {
        let says = Cause::fill(words.say(one.cause.says), one.effect, scene);
        match &one.why {
            Why::WrongWay => {
                let moves = one.effect.on_the_yield(scene);
                let moves = moves.filter(|way| *way != Ordering::Equal);
                match other_way.iter_mut().find(|(known, _)| *known == moves) {
                    Some((_, group)) => group.push(lower_case(words, &says)),
                    None => other_way.push((moves, vec![lower_case(words, &says)])),
                }
            }
            Why::TooMuch { needed, limit } => sentences.push(say!(
                words,
                "{cause}: it would take {amount}. {reason}",
                cause = says,
                amount = bound::figures(scene, one.effect.shown(*needed), one.effect.unit(scene)),
                reason = limit.why
            )),
            Why::NotAll => {
                sentences.push(say!(
                    words,
                    "{cause}: alone it leaves something unexplained.",
                    cause = says
                ));
            }
        }
    }
    let mut deviations = weighed.deviations.all.iter();
    let of_a_find = deviations.any(|one| matches!(one.measure, Measure::Find(_)));
    let grouped = other_way.into_iter().map(|(moves, group)| {
        let group = group.join("; ");
        match moves {
            Some(Ordering::Greater) => say!(
                words,
                "These make the percent yield higher, and the numbers ask for the opposite: {causes}.",
                causes = group
            ),
            Some(_) => say!(
                words,
                "These make the percent yield lower, and the numbers ask for the opposite: {causes}.",
                causes = group
            ),
            None if of_a_find => say!(
                words,
                "These move the result the other way: {causes}.",
                causes = group
            ),
            None => say!(
                words,
                "These move what is left the other way: {causes}.",
                causes = group
            ),
        }
    });
    grouped.chain(sentences).collect()
}
