//! Slips in rounding, figures and units.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::Way;
use crate::answers::slips::bench::Bench;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::line::Habit;
use crate::working::line::Standing;
use crate::working::line::to_decimals;
use crate::working::line::to_figures;

/// Cut where the next digit says to round up.
pub(in crate::answers) const CUT: &str = "cut-instead-of-rounded";

/// A whole number for the waters of a hydrate: a formula, not what was measured.
pub(in crate::answers) const WHOLE_WATERS: &str = "whole-number-of-waters";

const fn beside(id: &'static str, prompt: &'static str) -> Slip {
    Slip {
        id,
        prompt,
        family: Family::Writing,
        way: Way::Beside,
    }
}

pub(super) const SLIPS: &[Slip] = &[
    Slip {
        id: "rounded-too-early",
        prompt: "Keep the long number in the calculator until the last line.",
        family: Family::Writing,
        way: Way::Answer(rounded_early),
    },
    Slip {
        id: CUT,
        prompt: "Look at the next digit before you cut a number short.",
        family: Family::Writing,
        way: Way::Answer(|bench| {
            // A single figure may be a guess: it proves no cut.
            if bench.number.is_single_figure() {
                return Vec::new();
            }
            let unit = bench.number.half * 2.0;
            // A value that ends where the answer does was not cut, whatever a float makes of it.
            let places = bench.right / unit;
            let cut = (places + places.signum() * 1e-6).trunc() * unit;
            // Only the answer as written is the cut one; half a unit more or less would be the rounded one.
            if (cut - bench.number.value).abs() < unit * 1e-6 {
                vec![bench.number.value]
            } else {
                Vec::new()
            }
        }),
    },
    beside(
        "too-many-figures",
        "Could your instruments really tell the last digits apart?",
    ),
    beside(
        "too-few-figures",
        "You measured better than that: how many figures do your readings have?",
    ),
    beside(
        WHOLE_WATERS,
        "A formula counts its waters in whole numbers, but your readings give a value with decimals: which one is it?",
    ),
    beside(
        "zero-left-out",
        "A zero that you measured is information: write it.",
    ),
    beside(
        "figures-for-decimals",
        "For plus and minus, count decimal places, not figures.",
    ),
    beside("unit-missing", "A number of what? Write its unit."),
    beside(
        "unit-unknown",
        "What stands behind the number is no unit that is known here: which one did you mean?",
    ),
    beside(
        "unit-of-another-kind",
        "The number fits, but does its unit fit what was asked?",
    ),
    beside(
        "right-after-wrong-line",
        "This answer is right, but your earlier line does not lead to it.",
    ),
];

/// What the answer would be if an earlier value were rounded to one or two figures, or to two or three decimals.
fn rounded_early(bench: &Bench<'_>) -> Vec<f64> {
    let mut values = Vec::new();
    let mut line = bench.line.clone();
    for at in earlier(bench) {
        // A student may round the long number of the calculator, or the one written down.
        let written = bench.line.value(&Expression::Step(at));
        let long = bench.line.worked(at, Habit::Full);
        for value in written.into_iter().chain(long.filter(|_| long != written)) {
            for rounded in [
                to_figures(value, 1),
                to_figures(value, 2),
                to_decimals(value, 2),
                to_decimals(value, 3),
            ] {
                if rounded != 0.0 {
                    line.stand_in(at, Standing::Number(rounded));
                    values.extend(line.worked(bench.step, Habit::Full));
                }
            }
        }
        line.without(at);
        if let Some(answer) = bench.line.answer(at) {
            line.stand_in(at, answer.clone());
        }
    }
    values
}

/// Every earlier step whose value a student may have rounded on the way: amounts and masses, not molar masses.
fn earlier(bench: &Bench<'_>) -> Vec<StepId> {
    let mut found: Vec<StepId> = Vec::new();
    let mut to_see = bench.graph.uses(bench.step).steps.clone();
    while let Some(step) = to_see.pop() {
        if !found.contains(&step) {
            to_see.extend(&bench.graph.uses(step).steps);
            found.push(step);
        }
    }
    found.retain(|step| {
        !matches!(
            bench.of(*step).kind,
            Kind::MolarMass(_)
                | Kind::Limiting
                | Kind::Mass(_)
                | Kind::Collected(_)
                | Kind::MeasuredLeft(_)
                | Kind::Used(_)
        )
    });
    found
}
