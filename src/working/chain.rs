//! The steps that follow from one balanced equation: limiting reactant, yield, leftover, and what they say together.

use crate::chem::Equation;
use crate::lab::Before;
use crate::lab::Written;
use crate::problem::Code;
use crate::problem::Problem;
use crate::say;
use crate::working::Graph;
use crate::working::State;
use crate::working::Step;
use crate::working::StepId;
use crate::working::comparisons::GRAM;
use crate::working::comparisons::MOLE;
use crate::working::comparisons::comparisons;
use crate::working::comparisons::id;
use crate::working::comparisons::mass_kept;
use crate::working::comparisons::percent_yields;
use crate::working::comparisons::ratios;
use crate::working::comparisons::title;
use crate::working::expression::Candidate;
use crate::working::expression::Expression;
use crate::working::graph::Kind;
use crate::working::plan::Plan;

/// Moles of reaction that the reactants allow.
#[derive(Debug, Clone)]
pub(in crate::working) struct Extent {
    /// In mol; the limiting step, or the only known reactant's moles ÷ coefficient.
    expression: Expression,
}

/// The extent of reaction by one equation; adds the limiting step where two or more reactants are known.
pub(in crate::working) fn extent_of(
    plan: &mut Plan<'_>,
    number: usize,
    equation: &Equation,
) -> Option<Extent> {
    let mut candidates = Vec::new();
    for (index, substance) in plan.lab.substances.iter().enumerate() {
        if !matches!(substance.before, Some(Before::Measured(_))) {
            continue;
        }
        let Some((species, true)) = equation.find(&substance.formula) else {
            continue;
        };
        // How far x waters go is only known with x.
        if species.open {
            continue;
        }
        let moles = plan.graph.of_kind(Kind::Moles(index))?;
        let coefficient = Expression::coefficient(species.coefficient, species.formula.pretty());
        candidates.push(Candidate {
            substance: index,
            share: Expression::Step(moles).over(coefficient),
        });
    }
    if candidates.len() < 2 {
        return candidates.pop().map(|only| Extent {
            expression: only.share,
        });
    }
    let lowered = (Expression::Smallest(candidates), MOLE);
    let words = &plan.lab.words;
    let first = say!(words, "the reactant that runs out first");
    let step = plan.add_for(
        number,
        id(number, "limiting"),
        title(words, number, first),
        Kind::Limiting,
        lowered,
    );
    Some(Extent {
        expression: Expression::Step(step),
    })
}

/// What a reactant that runs out needs of itself is all of it, whatever stands in between: the step that holds that.
pub(in crate::working) fn all_of_it(
    graph: &Graph,
    states: &[State],
    step: &Step,
) -> Option<StepId> {
    let Kind::Needed(reactant) = step.kind else {
        return None;
    };
    let start = graph.start(reactant)?;
    let runs_out = match graph.of_equation(step.equation, Kind::Limiting) {
        Some(limiting) => {
            let smallest = &states.get(limiting.index())?.known()?.smallest;
            smallest.first() == Some(&reactant)
        }
        // The only reactant of which it is known how much there was.
        None => true,
    };
    (runs_out && graph.step(start).dimension == step.dimension).then_some(start)
}

/// All steps of the lab's own equation behind the starting amounts.
pub(in crate::working) fn main(plan: &mut Plan<'_>, extent: Option<&Extent>) {
    let lab = plan.lab;
    if let Some(extent) = extent {
        predictions(plan, 0, &lab.equation, extent);
    }
    collected(plan);
    leftovers(plan);
    if extent.is_some() {
        percent_yields(plan, 0);
    }
    ratios(plan);
    if extent.is_some() {
        comparisons(plan, 0, &lab.equation);
    }
    mass_kept(plan);
}

/// The steps that another equation would change.
pub(in crate::working) fn alternative(plan: &mut Plan<'_>, number: usize, equation: &Equation) {
    for substance in &plan.lab.substances {
        let measured =
            substance.after.is_some() || matches!(substance.before, Some(Before::Measured(_)));
        if measured && equation.find(&substance.formula).is_none() {
            plan.problems.push(
                Problem::error(
                    Code::SubstanceNotInEquation,
                    format!(
                        "alternative {number} has no {}, which this lab measures",
                        substance.formula.pretty()
                    ),
                )
                .at(substance.span.clone(), "measured here")
                .help("every measured substance must stand in each of the `alternatives`"),
            );
            return;
        }
    }
    if let Some(extent) = extent_of(plan, number, equation) {
        predictions(plan, number, equation, &extent);
        percent_yields(plan, number);
        comparisons(plan, number, equation);
    }
}

/// What the equation predicts: most product, reactant needed and left.
fn predictions(plan: &mut Plan<'_>, number: usize, equation: &Equation, extent: &Extent) {
    let words = &plan.lab.words;
    for (index, substance) in plan.lab.substances.iter().enumerate() {
        let Some((species, false)) = equation.find(&substance.formula) else {
            continue;
        };
        if species.waits_for_x() {
            continue;
        }
        let Some(after) = &substance.after else {
            continue;
        };
        let Some((_, measured_in)) = plan.lower_matter(after, "after") else {
            continue;
        };
        let coefficient = Expression::coefficient(species.coefficient, species.formula.pretty());
        let moles = extent.expression.clone().times(coefficient);
        let name = substance.weighed_name.as_ref().unwrap_or(&substance.name);
        let (most, dimension) = if measured_in == GRAM {
            (plan.to_mass(index, moles), GRAM)
        } else {
            (moles, MOLE)
        };
        let quantity = say!(
            words,
            "the most {substance} that could form",
            substance = name
        );
        plan.add_for(
            number,
            id(number, &format!("theoretical_{}", substance.key)),
            title(words, number, quantity),
            Kind::Theoretical(index),
            (most, dimension),
        );
    }
    for (index, substance) in plan.lab.substances.iter().enumerate() {
        let Some((species, true)) = equation.find(&substance.formula) else {
            continue;
        };
        if substance.before.is_none() || species.waits_for_x() {
            continue;
        }
        let coefficient = Expression::coefficient(species.coefficient, species.formula.pretty());
        let moles = extent.expression.clone().times(coefficient);
        let dimension = plan.compared_in(index);
        let name = substance.weighed_name.as_ref().unwrap_or(&substance.name);
        let Some(needed) = plan.brought_to(dimension, index, (moles, MOLE)) else {
            continue;
        };
        let quantity = say!(
            words,
            "{substance} that the equation uses up",
            substance = name
        );
        let needed = plan.add_for(
            number,
            id(number, &format!("needed_{}", substance.key)),
            title(words, number, quantity),
            Kind::Needed(index),
            (needed, dimension),
        );
        let Some(start) = plan.start(index) else {
            continue;
        };
        let Some(start) = plan.brought_to(dimension, index, start) else {
            continue;
        };
        let left = start.minus(Expression::Step(needed));
        let quantity = say!(words, "{substance} that should be left", substance = name);
        plan.add_for(
            number,
            id(number, &format!("expected_left_{}", substance.key)),
            title(words, number, quantity),
            Kind::ExpectedLeft(index),
            (left, dimension),
        );
    }
}

/// What was collected of each product.
fn collected(plan: &mut Plan<'_>) {
    for (index, substance) in plan.lab.substances.iter().enumerate() {
        let Some(after) = substance.after.as_ref().filter(|_| !substance.reactant) else {
            continue;
        };
        let Some((after_is, dimension)) = plan.lower_matter(after, "after") else {
            continue;
        };
        let expression = match plan.start(index) {
            Some(start) => {
                let Some(before) = plan.brought_to(dimension, index, start) else {
                    continue;
                };
                after_is.minus(before)
            }
            None => after_is,
        };
        let name = substance.weighed_name.as_ref().unwrap_or(&substance.name);
        // How a product was brought together stands there in the teacher's own words.
        let title = match &substance.collected_as {
            Some(how) => format!("{name} {how}"),
            None => say!(plan.lab.words, "{substance} collected", substance = name),
        };
        plan.add(
            format!("collected_{}", substance.key),
            title,
            Kind::Collected(index),
            (expression, dimension),
        );
    }
}

/// What was found left of each reactant, and what was used.
fn leftovers(plan: &mut Plan<'_>) {
    let words = &plan.lab.words;
    for (index, substance) in plan.lab.substances.iter().enumerate() {
        if !substance.reactant {
            continue;
        }
        let key = &substance.key;
        let name = substance.weighed_name.as_ref().unwrap_or(&substance.name);
        let dimension = plan.compared_in(index);
        let measured = |plan: &mut Plan<'_>, written: &Option<Written>, what| {
            let lowered = plan.lower_matter(written.as_ref()?, what)?;
            plan.brought_to(dimension, index, lowered)
        };
        let left = measured(plan, &substance.after, "after").map(|left| {
            plan.add(
                format!("measured_left_{key}"),
                say!(words, "{substance} found left", substance = name),
                Kind::MeasuredLeft(index),
                (left, dimension),
            )
        });
        let used = match (&substance.used, left) {
            (Some(_), _) => measured(plan, &substance.used, "used"),
            (None, Some(left)) => plan.start(index).and_then(|start| {
                let start = plan.brought_to(dimension, index, start)?;
                Some(start.minus(Expression::Step(left)))
            }),
            (None, None) => None,
        };
        if let Some(used) = used {
            plan.add(
                format!("used_{key}"),
                say!(
                    words,
                    "{substance} that reacted, from the readings",
                    substance = name
                ),
                Kind::Used(index),
                (used, dimension),
            );
        }
    }
}
