//! A trial whose result lies far from those of the others, which agree: its readings are asked about.

use crate::lab::Lab;
use crate::problem::Code;
use crate::problem::Problem;
use crate::record::Record;
use crate::record::Recorded;
use crate::say;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::Worked;

/// A value is far from the others when it is off their mean by more than this part of it …
const FAR: f64 = 0.1;
/// … and by more than this many times the range of the others (common practice, no source).
const RANGES: f64 = 3.0;

/// A question beside the readings of each trial that lies far from at least two others.
pub(in crate::working) fn look(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    record: &Record,
    problems: &[Problem],
) -> Vec<Problem> {
    let all: Vec<&Worked<'_>> = std::iter::once(worked).chain(&worked.trials).collect();
    let recorded: Vec<(u32, &[Recorded], &[bool])> =
        std::iter::once((1, &record.readings[..], &[][..]))
            .chain(
                record
                    .trials
                    .iter()
                    .map(|trial| (trial.number, &trial.readings[..], &trial.common[..])),
            )
            .collect();
    let results = graph.ids().filter(|step| {
        let step = graph.step(*step);
        step.equation == 0 && matches!(step.kind, Kind::PercentYield(_) | Kind::Find(_))
    });
    let mut found: Vec<Problem> = Vec::new();
    for step in results {
        let values: Vec<Option<f64>> = all
            .iter()
            .map(|trial| Some(trial.value(step)?.approximate()).filter(|value| value.is_finite()))
            .collect();
        for (place, (number, readings, common)) in recorded.iter().enumerate() {
            if !alone(&values, place) {
                continue;
            }
            let mut behind = graph.readings_behind(graph.of_kinds(&[graph.step(step).kind]));
            behind.retain(|reading| common.get(*reading).is_none_or(|common| !common));
            // What is unlike the same reading in the other trials is looked at first.
            let alike = |reading: &usize| {
                let of_trials: Vec<Option<f64>> = recorded
                    .iter()
                    .map(|(_, readings, _)| number_of(&readings[*reading]))
                    .collect();
                !alone(&of_trials, place)
            };
            behind.sort_by_key(alike);
            let spans: Vec<_> = behind
                .iter()
                .filter_map(|reading| Some(readings[*reading].counting()?.span.clone()))
                .collect();
            let told = |problem: &Problem| {
                problem
                    .labels
                    .iter()
                    .any(|label| spans.contains(&label.span))
            };
            // A reading that is odd by itself, or asked about already, is enough to look at.
            if spans.is_empty() || problems.iter().chain(&found).any(told) {
                continue;
            }
            let words = &lab.words;
            let message = say!(
                words,
                "trial {number} lies far from the others, which agree",
                number = number
            );
            let mut problem = Problem::warning(Code::OddResult, message);
            for (place, span) in spans.into_iter().enumerate() {
                problem = problem.at(
                    span,
                    match place {
                        0 => words.say("worked from this reading"),
                        _ => words.say("and this one"),
                    },
                );
            }
            found.push(problem.help(words.say(
                "are these the digits that you read? If they are, was anything different in this trial? Say it under `seen`",
            )));
        }
    }
    found
}

/// A reading as a number in its base unit.
fn number_of(recorded: &Recorded) -> Option<f64> {
    let value = recorded.usable()?;
    Some(value.unit?.in_base(value.number))
}

/// Whether the value at a place lies far from the others, of which there are at least two and which agree.
fn alone(values: &[Option<f64>], place: usize) -> bool {
    let Some(Some(value)) = values.get(place) else {
        return false;
    };
    let others = values
        .iter()
        .enumerate()
        .filter(|(other, _)| *other != place);
    let others: Vec<f64> = others.filter_map(|(_, value)| *value).collect();
    if others.len() < 2 {
        return false;
    }
    let mean = others.iter().sum::<f64>() / others.len() as f64;
    let least = others.iter().copied().fold(f64::INFINITY, f64::min);
    let most = others.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let off = (value - mean).abs();
    off > FAR * mean.abs() && off > RANGES * (most - least)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_of_at_least_three_lies_far_from_others_that_agree() {
        let far = |values: &[f64]| {
            let values: Vec<Option<f64>> = values.iter().copied().map(Some).collect();
            (0..values.len())
                .filter(|place| alone(&values, *place))
                .collect::<Vec<_>>()
        };
        assert_eq!(far(&[97.4, 98.8, 70.9]), [2]);
        assert_eq!(far(&[71.0, 97.0, 99.0, 98.0]), [0]);
        // Two cannot tell which is wrong, three that scatter neither, and what is near is no question.
        for values in [
            &[97.0, 71.0][..],
            &[97.0, 85.0, 71.0],
            &[97.0, 99.0, 90.0],
            &[97.0],
        ] {
            assert!(far(values).is_empty(), "{values:?}");
        }
    }
}
