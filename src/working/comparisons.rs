//! What was found against what the equation predicts: yield, ratio, completion, recovery, mass kept.

use crate::chem::Equation;
use crate::measure::Dimension;
use crate::measure::Unit;
use crate::say;
use crate::words::Words;
use crate::working::expression::Expression;
use crate::working::expression::StepId;
use crate::working::graph::Kind;
use crate::working::plan::Plan;
use crate::working::terms::terms_of;

pub(in crate::working) const GRAM: Dimension = Unit::Gram.dimension();

pub(in crate::working) const MOLE: Dimension = Unit::Mole.dimension();

pub(in crate::working) const PERCENT: Dimension = Unit::Percent.dimension();

/// The id of a step of an equation: `theoretical_copper`, `alt1_theoretical_copper`.
pub(in crate::working) fn id(equation: usize, rest: &str) -> String {
    if equation == 0 {
        rest.to_owned()
    } else {
        format!("alt{equation}_{rest}")
    }
}

/// The title of a step of an equation.
pub(in crate::working) fn title(words: &Words, equation: usize, quantity: String) -> String {
    if equation == 0 {
        quantity
    } else {
        say!(
            words,
            "{quantity}, by equation {number}",
            quantity = quantity,
            number = equation + 1
        )
    }
}

/// The percent yield of each substance marked for it.
pub(in crate::working) fn percent_yields(plan: &mut Plan<'_>, number: usize) {
    let marked: Vec<usize> = (0..plan.lab.substances.len())
        .filter(|index| plan.lab.substances[*index].yields)
        .collect();
    for index in &marked {
        let substance = plan.substance(*index);
        let (Some(collected), Some(theory)) = (
            plan.graph.of_kind(Kind::Collected(*index)),
            plan.graph.of_equation(number, Kind::Theoretical(*index)),
        ) else {
            continue;
        };
        let percent =
            Expression::hundred().times(Expression::Step(collected).over(Expression::Step(theory)));
        let name = substance.weighed_name.as_ref().unwrap_or(&substance.name);
        let plain = if marked.len() > 1 {
            format!("percent_yield_{}", substance.key)
        } else {
            "percent_yield".to_owned()
        };
        let words = &plan.lab.words;
        let quantity = say!(words, "percent yield of {substance}", substance = name);
        let title = title(words, number, quantity);
        plan.add_for(
            number,
            id(number, &plain),
            title,
            Kind::PercentYield(*index),
            (percent, PERCENT),
        );
    }
}

/// Moles collected and used, and their ratio.
pub(in crate::working) fn ratios(plan: &mut Plan<'_>) {
    let mut products = Vec::new();
    let mut reactants = Vec::new();
    for (index, substance) in plan.lab.substances.iter().enumerate() {
        let (words, name) = (&plan.lab.words, &substance.name);
        let (kind, moles_kind, id, title) = if substance.reactant {
            (
                Kind::Used(index),
                Kind::MolesUsed(index),
                format!("moles_used_{}", substance.key),
                say!(words, "moles of {substance} used", substance = name),
            )
        } else {
            (
                Kind::Collected(index),
                Kind::MolesCollected(index),
                format!("moles_collected_{}", substance.key),
                say!(words, "moles of {substance} collected", substance = name),
            )
        };
        let Some(measured) = plan.graph.of_kind(kind) else {
            continue;
        };
        if substance.formula.open_waters() {
            continue;
        }
        let moles = if plan.graph.step(measured).dimension == MOLE {
            Expression::Step(measured)
        } else {
            plan.to_moles(index, Expression::Step(measured))
        };
        let step = plan.add(id, title, moles_kind, (moles, MOLE));
        // A ratio with x waters would be held against the coefficient 1.
        if plan
            .lab
            .equation
            .find(&substance.formula)
            .is_some_and(|(species, _)| species.open)
        {
            continue;
        }
        if substance.reactant {
            reactants.push((index, step));
        } else {
            products.push((index, step));
        }
    }
    for (p, formed) in &products {
        for (r, used) in &reactants {
            let (product, reactant) = (plan.substance(*p), plan.substance(*r));
            let title = say!(
                plan.lab.words,
                "moles of {product} for one mole of {reactant} used",
                product = product.name,
                reactant = reactant.name
            );
            let ratio = Expression::Step(*formed).over(Expression::Step(*used));
            plan.add(
                format!("ratio_{}_{}", product.key, reactant.key),
                title,
                Kind::Ratio(*p, *r),
                (ratio, Dimension::ONE),
            );
        }
    }
}

/// Found against predicted: leftover, extent judged by the reactant, recovery of the product.
pub(in crate::working) fn comparisons(plan: &mut Plan<'_>, number: usize, equation: &Equation) {
    let lab = plan.lab;
    let words = &lab.words;
    for (r, reactant) in lab.substances.iter().enumerate() {
        let name = reactant.weighed_name.as_ref().unwrap_or(&reactant.name);
        if let (Some(found), Some(expected)) = (
            plan.graph.of_kind(Kind::MeasuredLeft(r)),
            plan.graph.of_equation(number, Kind::ExpectedLeft(r)),
        ) && plan.graph.step(found).dimension == plan.graph.step(expected).dimension
        {
            let difference = Expression::Step(found).minus(Expression::Step(expected));
            let error = Expression::hundred().times(difference.over(Expression::Step(expected)));
            let quantity = say!(
                words,
                "how far the {substance} left is from what should be left",
                substance = name
            );
            plan.add_for(
                number,
                id(number, &format!("left_error_{}", reactant.key)),
                title(words, number, quantity),
                Kind::LeftError(r),
                (error, PERCENT),
            );
        }
        let Some(used) = plan.graph.of_kind(Kind::Used(r)) else {
            continue;
        };
        let Some(needed) = plan.graph.of_equation(number, Kind::Needed(r)) else {
            continue;
        };
        if plan.graph.step(used).dimension != plan.graph.step(needed).dimension {
            continue;
        }
        let completion = Expression::Step(used).over(Expression::Step(needed));
        let quantity = say!(
            words,
            "how far the reaction went, judged by {reactant}",
            reactant = reactant.name
        );
        plan.add_for(
            number,
            id(number, &format!("completion_{}", reactant.key)),
            title(words, number, quantity),
            Kind::Completion(r),
            (completion, Dimension::ONE),
        );
        for (p, product) in lab.substances.iter().enumerate() {
            recovery(
                plan,
                number,
                equation,
                (r, &reactant.key),
                (p, &product.key),
            );
        }
    }
}

/// Collected ÷ what the used reactant should have made.
pub(in crate::working) fn recovery(
    plan: &mut Plan<'_>,
    number: usize,
    equation: &Equation,
    (r, r_key): (usize, &str),
    (p, p_key): (usize, &str),
) {
    let (Some(collected), Some(used)) = (
        plan.graph.of_kind(Kind::Collected(p)),
        plan.graph.of_kind(Kind::MolesUsed(r)),
    ) else {
        return;
    };
    let (reactant, product) = (plan.substance(r), plan.substance(p));
    let (Some((from, true)), Some((to, false))) = (
        equation.find(&reactant.formula),
        equation.find(&product.formula),
    ) else {
        return;
    };
    if from.waits_for_x() || to.waits_for_x() {
        return;
    }
    let moles = Expression::Step(used)
        .over(Expression::coefficient(
            from.coefficient,
            from.formula.pretty(),
        ))
        .times(Expression::coefficient(to.coefficient, to.formula.pretty()));
    let expected = if plan.graph.step(collected).dimension == GRAM {
        plan.to_mass(p, moles)
    } else {
        moles
    };
    let words = &plan.lab.words;
    let quantity = say!(
        words,
        "{product} collected, of what the {reactant} used should have made",
        product = product.name,
        reactant = reactant.name
    );
    let share = Expression::Step(collected).over(expected);
    plan.add_for(
        number,
        id(number, &format!("recovery_{p_key}_{r_key}")),
        title(words, number, quantity),
        Kind::Recovery(p, r),
        (share, Dimension::ONE),
    );
}

/// Total mass after ÷ total mass before, where every substance was weighed.
///
/// A reactant whose leftover nobody weighs counts as used up; that holds for one of them at most.
pub(in crate::working) fn mass_kept(plan: &mut Plan<'_>) {
    let lab = plan.lab;
    let every = lab.equation.reactants.iter().chain(&lab.equation.products);
    let mut before = Vec::new();
    let mut after = Vec::new();
    let mut unweighed = 0;
    for species in every {
        let Some(index) = lab
            .substances
            .iter()
            .position(|s| s.formula.same_substance(&species.formula))
        else {
            return;
        };
        let (start, end) = if lab.substances[index].reactant {
            (
                plan.graph.of_kind(Kind::Mass(index)),
                plan.graph.of_kind(Kind::MeasuredLeft(index)),
            )
        } else {
            (None, plan.graph.of_kind(Kind::Collected(index)))
        };
        if lab.substances[index].reactant && start.is_none() {
            return;
        }
        before.extend(start);
        match end {
            Some(end) if plan.graph.step(end).dimension == GRAM => after.push(end),
            None if lab.substances[index].reactant => unweighed += 1,
            _ => return,
        }
    }
    if unweighed > 1 || before.is_empty() || after.is_empty() {
        return;
    }
    let total =
        |steps: Vec<StepId>| Expression::Sum(steps.into_iter().map(Expression::Step).collect());
    let (before, after) = (total(before), total(after));
    // A mass that was found by taking the rest away is found again whatever was read.
    let readings = |masses: &Expression| terms_of(&plan.graph, masses);
    if readings(&before).is_some_and(|taken| readings(&after) == Some(taken)) {
        return;
    }
    let kept = Expression::hundred().times(after.over(before));
    plan.add(
        "mass_kept".to_owned(),
        say!(plan.lab.words, "mass found again, of the mass taken"),
        Kind::MassKept,
        (kept, PERCENT),
    );
}
