//! What the instruments can tell: is each deviation, and are all together, larger than their uncertainty?

use std::cmp::Ordering;

use crate::causes::Weighed;
use crate::lab::UncertaintyRule;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::rounding;
use crate::report::compose::Case;
use crate::say;
use crate::words::Words;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Value;
use crate::working::drying::Verdict;
use crate::working::show;

/// Deviations below this multiple of the standard uncertainty may be the readings' alone (about 95 %, JCGM 100, 6.2).
const COVERAGE: f64 = 2.0;

/// Sentences about the instruments; none that would give a hidden step away.
pub(in crate::report) fn sentences(case: &Case<'_>, weighed: &Weighed<'_>) -> Vec<String> {
    let words = &case.lab.words;
    let mut sentences = Vec::new();
    if !case.record.trials.is_empty() && !weighed.deviations.all.is_empty() {
        sentences.push(
            say!(words, "What follows holds the readings of trial 1 against the prediction; how far trials differ from each other stands in the results."),
        );
    }
    let asks_equation = case.asks_which_equation();
    for id in case
        .graph
        .ids()
        .filter(|id| case.open.step(*id) && case.graph.step(*id).equation == weighed.scene.equation)
    {
        let sentence = match case.graph.step(id).kind {
            // Before the students have said which equation holds, nothing is judged by the first.
            Kind::PercentYield(_) | Kind::LeftError(_) if asks_equation => None,
            Kind::PercentYield(_) => deviation(case, id, 100.0, &Target::Whole),
            Kind::LeftError(_) => deviation(case, id, 0.0, &Target::Left),
            Kind::FindError(_) => deviation(case, id, 0.0, &Target::Accepted),
            Kind::Ratio(p, r) if case.lab.alternatives.is_empty() => {
                let coefficient = |index: usize| f64::from(case.lab.substances[index].coefficient);
                let ratio = coefficient(p) / coefficient(r);
                deviation(
                    case,
                    id,
                    ratio,
                    &Target::Ratio(show::chart_number(words, ratio)),
                )
            }
            _ => None,
        };
        sentences.extend(sentence);
    }
    let measured = weighed.deviations.all.len();
    if measured > 1 {
        sentences.extend(together(case, measured, weighed.beyond));
    }
    for series in weighed.scene.dried.iter() {
        if series.verdict() == Verdict::StillFalling {
            sentences.push(say!(
                words,
                "“{reading}” was still losing mass at the last weighing: what was weighed may hold water.",
                reading = weighed.scene.label(series.reading)
            ));
        }
    }
    sentences
}

/// Whether all measured amounts together are more than the readings explain; nothing where no uncertainty is worked.
fn together(case: &Case<'_>, measured: usize, beyond: bool) -> Option<String> {
    let worst = match case.lab.policy.uncertainty {
        UncertaintyRule::Standard => false,
        UncertaintyRule::WorstCase => true,
        UncertaintyRule::None => return None,
    };
    let words = &case.lab.words;
    Some(match (worst, beyond) {
        (true, true) => say!(
            words,
            "Of the {measured} measured amounts, at least one differs from the prediction by more than the limits of the readings add up to: something happened at the bench or in the reaction.",
            measured = measured
        ),
        (true, false) => say!(
            words,
            "Each of the {measured} measured amounts agrees with the prediction within the limits of the readings added up: nothing else has to have happened.",
            measured = measured
        ),
        (false, true) => say!(
            words,
            "Taken together, with what they share counted, the {measured} measured amounts differ from the prediction by more than the readings alone explain (95 %): something happened at the bench or in the reaction.",
            measured = measured
        ),
        (false, false) => say!(
            words,
            "Taken together, with what they share counted, the {measured} measured amounts agree with the prediction as well as the readings can tell (95 %): nothing else has to have happened.",
            measured = measured
        ),
    })
}

/// How far a value may be off by the lab's rule, in its base unit, and the multiple of that which the readings alone may explain:
/// twice a standard uncertainty, or limits that add as they are.
pub(in crate::report) fn doubt(case: &Case<'_>, value: &Value) -> (f64, f64) {
    match case.lab.policy.uncertainty {
        UncertaintyRule::WorstCase => (value.worst_case(&case.worked.inputs), 1.0),
        _ => (value.standard_uncertainty(&case.worked.inputs), COVERAGE),
    }
}

/// What a result is held against.
enum Target {
    /// A full yield.
    Whole,
    /// What the equation leaves.
    Left,
    /// The accepted value.
    Accepted,
    /// The ratio of the coefficients, as shown.
    Ratio(String),
}

impl Target {
    /// How far off a result is, and on which side: `2.1 % below 100 %`.
    fn place(&self, words: &Words, side: Ordering, off: &str) -> String {
        match (self, side) {
            (Self::Whole, Ordering::Equal) => say!(words, "exactly 100 %"),
            (Self::Left, Ordering::Equal) => say!(words, "exactly what should be left"),
            (Self::Accepted, Ordering::Equal) => say!(words, "exactly the accepted value"),
            (Self::Ratio(ratio), Ordering::Equal) => {
                say!(words, "exactly the {ratio} of the equation", ratio = ratio)
            }
            (Self::Whole, Ordering::Less) => say!(words, "{amount} below 100 %", amount = off),
            (Self::Whole, Ordering::Greater) => say!(words, "{amount} above 100 %", amount = off),
            (Self::Left, Ordering::Less) => {
                say!(words, "{amount} below what should be left", amount = off)
            }
            (Self::Left, Ordering::Greater) => {
                say!(words, "{amount} above what should be left", amount = off)
            }
            (Self::Accepted, Ordering::Less) => {
                say!(words, "{amount} below the accepted value", amount = off)
            }
            (Self::Accepted, Ordering::Greater) => {
                say!(words, "{amount} above the accepted value", amount = off)
            }
            (Self::Ratio(ratio), Ordering::Less) => {
                say!(
                    words,
                    "{amount} below the {ratio} of the equation",
                    amount = off,
                    ratio = ratio
                )
            }
            (Self::Ratio(ratio), Ordering::Greater) => {
                say!(
                    words,
                    "{amount} above the {ratio} of the equation",
                    amount = off,
                    ratio = ratio
                )
            }
        }
    }
}

/// Whether a result differs from what it should be by more than its uncertainty.
fn deviation(case: &Case<'_>, id: StepId, target: f64, named: &Target) -> Option<String> {
    let words = &case.lab.words;
    let step = case.graph.step(id);
    let value = case.worked.value(id)?;
    let (doubt, coverage) = doubt(case, value);
    let off = value.approximate() - target;
    if case.lab.policy.uncertainty == UncertaintyRule::None || doubt <= 0.0 {
        return None;
    }
    // Two figures of the uncertainty, and the deviation to the same place, so that a reader can divide one by the other.
    let rule = case.lab.policy.rounding;
    let places = rounding::to_figures(&Exact::from_float(doubt)?, 2, rule).places();
    let shown = |number: f64| {
        let exact = Exact::from_float(number).unwrap_or_default();
        let rounded = rounding::to_places(&exact, places, rule);
        show::amount(words, rounded, step.unit)
    };
    let far = off.abs() / doubt;
    let times = words.number(&format!("{far:.1}"));
    let title = crate::report::compose::sentence_case(&step.title);
    let side = off.partial_cmp(&0.0)?;
    // Nothing that is not nothing is shown as 0.
    let least = Decimal::new(1, places);
    let amount = if off.abs() < least.to_f64() / 2.0 {
        say!(words, "less than {amount}", amount = shown(least.to_f64()))
    } else {
        shown(off.abs())
    };
    let place = named.place(words, side, &amount);
    let worst = case.lab.policy.uncertainty == UncertaintyRule::WorstCase;
    if side == Ordering::Equal {
        return Some(say!(
            words,
            "{title}: {place}. Nothing is off.",
            title = title,
            place = place
        ));
    }
    Some(if worst && far <= coverage {
        say!(
            words,
            "{title}: {place}, which is within its worst case of ±{doubt}: the readings alone may explain it.",
            title = title,
            place = place,
            doubt = format!("{}{}", show::NO_BREAK, shown(doubt))
        )
    } else if worst {
        say!(
            words,
            "{title}: {place}, which is beyond its worst case of ±{doubt}, {times} times as far: more than the readings alone explain.",
            title = title,
            place = place,
            doubt = format!("{}{}", show::NO_BREAK, shown(doubt)),
            times = times
        )
    } else if far <= coverage {
        say!(
            words,
            "{title}: {place}, which is within twice its standard uncertainty of {doubt}: the readings alone may explain it.",
            title = title,
            place = place,
            doubt = shown(doubt)
        )
    } else {
        say!(
            words,
            "{title}: {place}, which is {times} times its standard uncertainty of {doubt}: more than the readings alone explain.",
            title = title,
            place = place,
            times = times,
            doubt = shown(doubt)
        )
    })
}
