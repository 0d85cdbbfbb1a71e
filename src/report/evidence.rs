//! What the numbers say about the result: is the deviation larger than the uncertainty, where was it lost, was it dry?

use crate::measure::rounding;
use crate::report::compose::Case;
use crate::report::results;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::drying;
use crate::working::drying::Verdict;
use crate::working::show;

/// Deviations below this multiple of the standard uncertainty may be the readings' alone (about 95 %, JCGM 100, 6.2).
const COVERAGE: f64 = 2.0;

/// Sentences of computed evidence; none that would give a hidden step away.
pub(in crate::report) fn sentences(case: &Case<'_>) -> Vec<String> {
    let mut sentences = Vec::new();
    for id in case
        .graph
        .ids()
        .filter(|id| case.open.step(*id) && case.graph.step(*id).equation == 0)
    {
        let sentence = match case.graph.step(id).kind {
            Kind::PercentYield(_) => deviation(case, id, 100.0, "100 %"),
            Kind::LeftError(_) => deviation(case, id, 0.0, "what should be left"),
            Kind::FindError(_) => deviation(case, id, 0.0, "the accepted value"),
            _ => None,
        };
        sentences.extend(sentence);
    }
    sentences.extend(split(case));
    sentences.extend(dominant(case));
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

/// Whether a result differs from what it should be by more than its uncertainty.
fn deviation(case: &Case<'_>, id: StepId, target: f64, words: &str) -> Option<String> {
    let step = case.graph.step(id);
    let value = case.worked.value(id)?;
    let doubt = value.standard_uncertainty(&case.worked.inputs);
    let off = value.approximate() - target;
    if case.lab.policy.uncertainty == crate::lab::UncertaintyRule::None || doubt <= 0.0 {
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
    Some(if times <= COVERAGE {
        format!(
            "{title}: {place}, which is within twice its standard uncertainty of {}. The readings alone may explain it; no other cause is needed.",
            shown(doubt)
        )
    } else {
        format!(
            "{title}: {place}, which is {times:.1} times its standard uncertainty of {}. The readings alone do not explain it; something happened at the bench or in the reaction.",
            shown(doubt)
        )
    })
}

/// How the percent yield splits into how far the reaction went and how much of the product was recovered.
fn split(case: &Case<'_>) -> Vec<String> {
    let mut sentences = Vec::new();
    for id in case.graph.ids() {
        let Kind::Recovery(p, r) = case.graph.step(id).kind else {
            continue;
        };
        let Some(completion) = case.graph.of_kind(Kind::Completion(r)) else {
            continue;
        };
        let whole = case.graph.of_kind(Kind::PercentYield(p));
        if case.graph.step(id).equation != 0 || whole.is_none() || !case.open.all(&[id, completion])
        {
            continue;
        }
        let (Some(recovery), Some(extent)) = (case.worked.value(id), case.worked.value(completion))
        else {
            continue;
        };
        let (product, reactant) = (&case.lab.substances[p].name, &case.lab.substances[r].name);
        let text = |id: StepId, value| show::value(case.lab, case.graph.step(id), value);
        sentences.push(format!(
            "Percent yield = 100 % × completion × recovery. Judged by {reactant}, the reaction went to {} of what the equation says (completion), \
             and {} of the {product} that the used {reactant} should have made was collected (recovery).",
            text(completion, extent),
            text(id, recovery)
        ));
    }
    sentences
}

/// Which reading dominates.
fn dominant(case: &Case<'_>) -> Option<String> {
    let (id, shares) = results::shares(case)?;
    let (variable, _, percent) = shares.first()?;
    let name = results::source_name(case, *variable);
    Some(format!(
        "Of the uncertainty of the {}, {percent:.0} % of the variance comes from “{name}”.",
        case.graph.step(id).title
    ))
}
