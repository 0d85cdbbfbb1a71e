//! What stands before an answer on the student's own line.

use crate::answers::Judgement;
use crate::answers::tables::ROUNDED_WEIGHTS;
use crate::answers::window::HABITS;
use crate::answers::window::ROUNDING;
use crate::lab::Lab;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::Step;
use crate::working::StepId;
use crate::working::line::Habit;
use crate::working::line::Line;
use crate::working::line::Standing;

/// What should be left by the other usual way: own moles at the start less moles needed, then grams.
pub(super) fn left_by_moles(
    (lab, graph): (&Lab, &Graph),
    own: &Line<'_>,
    line: &Line<'_>,
    id: StepId,
) -> Option<f64> {
    let Kind::ExpectedLeft(r) = graph.step(id).kind else {
        return None;
    };
    let moles = graph.of_kind(Kind::Moles(r))?;
    let molar_mass = graph.of_kind(Kind::MolarMass(r))?;
    let Expression::Difference(_, needed) = &graph.step(id).expression else {
        return None;
    };
    if own.answer(moles).is_none() || lab.substances[r].purity.is_some() {
        return None;
    }
    let start = Expression::Step(moles).times(Expression::Step(molar_mass));
    line.value(&start.minus((**needed).clone()))
}

/// A leftover by own lines; what falls short of nothing by no more than rounding on the way is nothing.
pub(super) fn none_left(step: &Step, line: &Line<'_>, own: f64) -> f64 {
    let scale = || line.scale(&step.expression).unwrap_or(0.0);
    if matches!(step.kind, Kind::ExpectedLeft(_)) && own < 0.0 && -own <= ROUNDING * scale() {
        return 0.0;
    }
    own
}

/// The line on which the own moles decide what runs out; `None` where they decide as was typed.
pub(super) fn as_moles_decide<'a>(graph: &Graph, own: &Line<'a>) -> Option<Line<'a>> {
    let mut line = own.clone();
    let mut differs = false;
    for id in graph.ids() {
        if let Some(Standing::Substances(chosen)) = own.answer(id) {
            line.without(id);
            differs |= line.limiting(id, None) != *chosen;
        }
    }
    differs.then_some(line)
}

/// What a line gives by the usual ways of rounding on the way, and of working what is left.
pub(super) fn by_habits<'l>(
    layout: (&'l Lab, &'l Graph),
    own: &'l Line<'_>,
    line: &'l Line<'_>,
    id: StepId,
) -> impl Iterator<Item = f64> {
    let habits = HABITS.iter().map(move |habit| line.worked(id, *habit));
    let by_moles = move || left_by_moles(layout, own, line, id);
    habits.chain(std::iter::once_with(by_moles)).flatten()
}

/// An answer as it stood in the calculator: where it stands, the unrounded value it was rounded from; `line` is the one with the digits
/// of the calculator, `tables` is that line by shorter tables of atomic weights.
pub(super) fn unrounded<'l>(
    tables: impl Iterator<Item = Line<'l>>,
    line: &Line<'_>,
    answer: f64,
    key: f64,
    judgement: &Judgement,
) -> f64 {
    if !judgement.verdict.stands() {
        return answer;
    }
    let own = match judgement.own {
        Some(Standing::Number(own)) => Some(own),
        _ => None,
    };
    let long = line.worked(judgement.step, Habit::Full);
    let off = |value: &f64| (value - answer).abs();
    let mut slips = judgement.slips.iter();
    let by_table = slips.any(|slip| slip.id == ROUNDED_WEIGHTS);
    let by_table = by_table.then_some(tables).into_iter().flatten();
    [Some(key), long, own]
        .into_iter()
        .flatten()
        .chain(by_table.filter_map(|line| line.worked(judgement.step, Habit::Full)))
        .min_by(|a, b| off(a).total_cmp(&off(b)))
        .unwrap_or(answer)
}

/// A step and all that it is worked from through steps for which no number stands in.
pub(super) fn without_numbers(graph: &Graph, line: &Line<'_>, step: StepId) -> Vec<StepId> {
    graph.worked_through(step, |earlier| {
        !matches!(line.answer(earlier), Some(Standing::Number(_)))
    })
}

/// Whether a step is worked from a molar mass for which no number stands in, itself or by steps before it.
pub(super) fn is_by_molar_masses(graph: &Graph, line: &Line<'_>, step: StepId) -> bool {
    let mut steps = without_numbers(graph, line, step).into_iter();
    steps.any(|step| graph.uses(step).molar_masses)
}

/// The answered steps a step is worked from, looked for through those that nobody answered.
pub(super) fn earlier(graph: &Graph, line: &Line<'_>, id: StepId) -> Vec<StepId> {
    let mut found = Vec::new();
    let mut to_see = graph.uses(id).steps.clone();
    while let Some(step) = to_see.pop() {
        match line.answer(step) {
            Some(_) if found.contains(&step) => {}
            Some(Standing::Number(_)) => found.push(step),
            // A choice says which reactant counts; how much of it there is stands in the lines before.
            Some(Standing::Substances(chosen)) => {
                found.push(step);
                if let Expression::Smallest(candidates) = &graph.step(step).expression {
                    let counts = candidates
                        .iter()
                        .filter(|candidate| chosen.contains(&candidate.substance));
                    to_see.extend(counts.flat_map(|candidate| candidate.share.steps()));
                }
            }
            None => to_see.extend(&graph.uses(step).steps),
        }
    }
    found
}
