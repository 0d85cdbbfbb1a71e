//! What the instruments can tell: is each deviation, and are all together, larger than their uncertainty?

use crate::causes::Weighed;
use crate::lab::UncertaintyRule;
use crate::measure::rounding;
use crate::report::compose::Case;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Value;
use crate::working::drying;
use crate::working::drying::Verdict;
use crate::working::show;

/// Deviations below this multiple of the standard uncertainty may be the readings' alone (about 95 %, JCGM 100, 6.2).
const COVERAGE: f64 = 2.0;

/// Sentences about the instruments; none that would give a hidden step away.
pub(in crate::report) fn sentences(case: &Case<'_>, weighed: &Weighed<'_>) -> Vec<String> {
    let mut sentences = Vec::new();
    if !case.record.trials.is_empty() && !weighed.deviations.all.is_empty() {
        sentences.push(
            "What follows holds the readings of trial 1 against the prediction; how far trials differ from each other stands in the results."
                .to_owned(),
        );
    }
    for id in case
        .graph
        .ids()
        .filter(|id| case.open.step(*id) && case.graph.step(*id).equation == weighed.scene.equation)
    {
        let sentence = match case.graph.step(id).kind {
            Kind::PercentYield(_) => deviation(case, id, 100.0, "100 %"),
            Kind::LeftError(_) => deviation(case, id, 0.0, "what should be left"),
            Kind::FindError(_) => deviation(case, id, 0.0, "the accepted value"),
            Kind::Ratio(p, r) if case.lab.alternatives.is_empty() => {
                let coefficient = |index: usize| f64::from(case.lab.substances[index].coefficient);
                let ratio = coefficient(p) / coefficient(r);
                deviation(
                    case,
                    id,
                    ratio,
                    &format!("the {} of the equation", show::chart_number(ratio)),
                )
            }
            _ => None,
        };
        sentences.extend(sentence);
    }
    let measured = weighed.deviations.all.len();
    if measured > 1 {
        sentences.push(together(case, measured, weighed.beyond));
    }
    for series in drying::series(case.lab, case.record) {
        if series.verdict() == Verdict::StillFalling {
            sentences.push(format!(
                "“{}” was still losing mass at the last weighing: what was weighed may hold water.",
                series.asked.label
            ));
        }
    }
    sentences
}

/// Whether all measured amounts together are more than the readings explain.
fn together(case: &Case<'_>, measured: usize, beyond: bool) -> String {
    let worst = case.lab.policy.uncertainty == UncertaintyRule::WorstCase;
    match (worst, beyond) {
        (true, true) => format!(
            "Of the {measured} measured amounts, at least one differs from the prediction by more than the limits of the readings add up to: something happened at the bench or in the reaction."
        ),
        (true, false) => format!(
            "Each of the {measured} measured amounts agrees with the prediction within the limits of the readings added up: nothing else has to have happened."
        ),
        (false, true) => format!(
            "Taken together, with what they share counted, the {measured} measured amounts differ from the prediction by more than the readings alone explain (95 %): something happened at the bench or in the reaction."
        ),
        (false, false) => format!(
            "Taken together, with what they share counted, the {measured} measured amounts agree with the prediction as well as the readings can tell (95 %): nothing else has to have happened."
        ),
    }
}

/// How far a value may be off by the lab's rule, in its base unit, and the multiple of that which the readings alone may explain:
/// twice a standard uncertainty, or limits that add as they are.
pub(in crate::report) fn doubt(case: &Case<'_>, value: &Value) -> (f64, f64) {
    match case.lab.policy.uncertainty {
        UncertaintyRule::WorstCase => (value.worst_case(&case.worked.inputs), 1.0),
        _ => (value.standard_uncertainty(&case.worked.inputs), COVERAGE),
    }
}

/// Whether a result differs from what it should be by more than its uncertainty.
fn deviation(case: &Case<'_>, id: StepId, target: f64, words: &str) -> Option<String> {
    let step = case.graph.step(id);
    let value = case.worked.value(id)?;
    let (doubt, coverage) = doubt(case, value);
    let off = value.approximate() - target;
    if case.lab.policy.uncertainty == UncertaintyRule::None || doubt <= 0.0 {
        return None;
    }
    // Two figures of the uncertainty, and the deviation to the same place, so that a reader can divide one by the other.
    let rule = case.lab.policy.rounding;
    let places = rounding::to_figures(&rounding::of_f64(doubt)?, 2, rule).places();
    let shown = |number: f64| {
        let exact = rounding::of_f64(number).unwrap_or_default();
        let rounded = rounding::to_places(&exact, places, rule);
        show::with_unit(&show::text(rounded), step.unit)
    };
    let times = off.abs() / doubt;
    let title = crate::report::compose::sentence_case(&step.title);
    let side = if off < 0.0 { "below" } else { "above" };
    let place = format!("{} {side} {words}", shown(off.abs()));
    let worst = case.lab.policy.uncertainty == UncertaintyRule::WorstCase;
    Some(if worst && times <= coverage {
        format!(
            "{title}: {place}, which is within its worst case of ±{}{}: the readings alone may explain it.",
            show::NO_BREAK,
            shown(doubt)
        )
    } else if worst {
        format!(
            "{title}: {place}, which is beyond its worst case of ±{}{}, {times:.1} times as far: more than the readings alone explain.",
            show::NO_BREAK,
            shown(doubt)
        )
    } else if times <= coverage {
        format!(
            "{title}: {place}, which is within twice its standard uncertainty of {}: the readings alone may explain it.",
            shown(doubt)
        )
    } else {
        format!(
            "{title}: {place}, which is {times:.1} times its standard uncertainty of {}: more than the readings alone explain.",
            shown(doubt)
        )
    })
}
