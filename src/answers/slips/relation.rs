//! Slips in relations that the lab description writes out: titrations, gases, quantities of its own.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::bench::variants;
use crate::answers::slips::slip;
use crate::measure::Dimension;
use crate::measure::Unit;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::line::number_of;

/// A plain number of the relation forgotten.
pub(super) const FACTOR: &str = "factor-left-out";

pub(super) const SLIPS: &[Slip] = &[
    slip(
        Family::Dividing,
        FACTOR,
        "Is every number of the relation in your line: did you measure the whole, or only a part of it?",
        |bench, at| factors(bench, at, Of::Parts, Way::LeftOut),
    ),
    slip(
        Family::Dividing,
        "factor-turned-over",
        "Is the whole more than the part you measured, or less: do you multiply or divide?",
        |bench, at| factors(bench, at, Of::Parts, Way::TurnedOver),
    ),
    slip(
        Family::Dividing,
        "value-of-another",
        "Which solution or substance does each value from a label belong to, and which one did you measure here?",
        |bench, at| {
            let known = &bench.lab.givens;
            let dimension = |given: usize| known.get(given)?.value.unit.map(Unit::dimension);
            variants(&bench.of(at).expression, &|part| {
                let Expression::Given(own) = part else {
                    return Vec::new();
                };
                let is = dimension(*own);
                if is.is_none_or(|is| is == Dimension::ONE || is == Unit::Percent.dimension()) {
                    return Vec::new();
                }
                let others = (0..known.len()).filter(|other| other != own);
                let others = others.filter(|other| dimension(*other) == is);
                others.map(Expression::Given).collect()
            })
        },
    ),
];

/// What a plain number in a relation is.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Of {
    /// The ratio of two numbers in front of formulas.
    Equation,
    /// Any other: the share that was measured.
    Parts,
}

/// What became of it.
#[derive(Clone, Copy)]
pub(super) enum Way {
    LeftOut,
    TurnedOver,
}

/// Every part of a relation of the lab with its plain numbers, one or all, left out or on the other side of the line.
pub(super) fn factors(bench: &Layout<'_>, at: StepId, of: Of, way: Way) -> Vec<Expression> {
    let step = bench.of(at);
    if !matches!(
        step.kind,
        Kind::Find(_)
            | Kind::Mass(_)
            | Kind::Moles(_)
            | Kind::Collected(_)
            | Kind::MolesCollected(_)
            | Kind::MeasuredLeft(_)
            | Kind::Used(_)
    ) {
        return Vec::new();
    }
    variants(&step.expression, &|part| {
        let mut numbers = Vec::new();
        plain(part, true, &mut numbers);
        // A hundred makes a percentage, and ones nothing.
        numbers.retain(|(number, _)| {
            let value = value(number).abs();
            value > 0.0 && !is(value, 1.0) && !(step.unit == Unit::Percent && is(value, 100.0))
        });
        let mut sets: Vec<&[(&Expression, bool)]> = numbers.chunks(1).collect();
        if numbers.len() > 1 {
            sets.push(&numbers);
        }
        let sets = sets.into_iter().filter(|set| {
            let factor = set.iter().map(|(number, on_top)| {
                let value = value(number);
                if *on_top { value } else { value.recip() }
            });
            let of_equation = is_ratio(bench, at, factor.product());
            of_equation == (of == Of::Equation)
        });
        let without = |set: &[(&Expression, bool)]| {
            let times = match way {
                Way::LeftOut => 1,
                Way::TurnedOver => 2,
            };
            let all = std::iter::repeat_n(set, times).flatten();
            all.fold(part.clone(), |rest, (number, on_top)| {
                if *on_top {
                    rest.over((*number).clone())
                } else {
                    rest.times((*number).clone())
                }
            })
        };
        sets.map(without).collect()
    })
}

/// The plain numbers that a product or quotient multiplies and divides by, and whether they stand above the line.
fn plain<'e>(part: &'e Expression, on_top: bool, found: &mut Vec<(&'e Expression, bool)>) {
    let mut see = |part: &'e Expression, on_top| {
        if let Expression::Constant(Constant::Number(_)) = part {
            found.push((part, on_top));
        } else {
            plain(part, on_top, found);
        }
    };
    match part {
        Expression::Product(factors) => factors.iter().for_each(|factor| see(factor, on_top)),
        Expression::Quotient(above, below) => {
            see(above, on_top);
            see(below, !on_top);
        }
        _ => {}
    }
}

fn value(number: &Expression) -> f64 {
    match number {
        Expression::Constant(Constant::Number(number)) => number_of(*number),
        _ => 1.0,
    }
}

fn is(value: f64, other: f64) -> bool {
    (value - other).abs() < 1e-9 * other
}

/// Whether a factor is the ratio of two numbers of the equation.
fn is_ratio(bench: &Layout<'_>, at: StepId, factor: f64) -> bool {
    let counts = bench.coefficients(at);
    counts.iter().any(|top| {
        let mut below = counts.iter();
        below.any(|below| is(factor.abs(), f64::from(*top) / f64::from(*below)))
    })
}
