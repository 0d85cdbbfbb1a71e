//! The sentence that sends a student back to a line. It never holds a number of the key.

use crate::answers::Slip;
use crate::lab::Lab;
use crate::measure::Unit;
use crate::working::Kind;
use crate::working::State;
use crate::working::Step;

/// What is said of an answer that is wrong.
pub(super) fn look_again(
    lab: &Lab,
    step: &Step,
    slips: &[&'static Slip],
    impossible: bool,
) -> String {
    let mut prompts: Vec<&str> = slips.iter().map(|slip| slip.prompt).collect();
    prompts.dedup();
    match prompts[..] {
        [only] if slips.iter().all(|slip| !slip.explains()) => only.to_owned(),
        [only] => format!("This looks like a known slip. {only}"),
        [] if impossible => "Nothing can be less than none: which of the two numbers belongs first, and which reactant can have some left?".to_owned(),
        [] => format!("{} If you cannot find it, show your teacher the line you typed.", generally(lab, step)),
        _ => format!("Several slips would give this answer. {} Check the line number by number, each with its unit and its substance.", generally(lab, step)),
    }
}

/// Where to look when no slip is recognised.
fn generally(lab: &Lab, step: &Step) -> &'static str {
    match step.kind {
        Kind::MolarMass(_) => {
            "Count the atoms of each element in the formula on the label, water included."
        }
        Kind::Collected(product) if lab.substances[product].measured_as_gas() => {
            "Write the law of gases with every unit: which volume, which temperature from absolute zero, and whose pressure?"
        }
        Kind::Mass(_) | Kind::Collected(_) | Kind::MeasuredLeft(_)
            if step.expression.readings().len() < 2 =>
        {
            "Find the reading this comes from, with every digit and its unit, and what is still to do with it."
        }
        Kind::Mass(_) | Kind::Collected(_) | Kind::MeasuredLeft(_) => {
            "Find the two readings of the same vessel, with and without its content, and subtract again."
        }
        Kind::Used(_) => {
            "Compare what there was at the start with what was found left of the same substance."
        }
        Kind::Moles(_) | Kind::MolesCollected(_) | Kind::MolesUsed(_) => {
            "Write the line from grams (or millilitres) to moles with every unit, and see what cancels."
        }
        Kind::Limiting => {
            "For each reactant, ask how many times the equation could run with the moles you have."
        }
        Kind::Theoretical(_) if step.unit == Unit::Mole => {
            "Start from the moles of the reactant that runs out, and go through the equation."
        }
        Kind::Theoretical(_) => {
            "Start from the moles of the reactant that runs out, go through the equation, and only then to grams."
        }
        Kind::Needed(_) => {
            "Start from the reactant that runs out and ask the equation how much of the other it takes."
        }
        Kind::ExpectedLeft(_) => {
            "Work out how much of this reactant the equation takes, then what remains of it."
        }
        Kind::PercentYield(_) => "Ask how much you got and how much you could have got at most.",
        Kind::Ratio(..) => "Turn both masses into moles before you compare them.",
        Kind::LeftError(_) | Kind::FindError(_) => {
            "Ask how far you are off, out of what it should be."
        }
        Kind::Completion(_) | Kind::Recovery(..) | Kind::MassKept => {
            "Ask which amount goes on top and which below."
        }
        Kind::Find(_) | Kind::Accepted(_) => {
            "Write the relation first, then put the readings in one by one."
        }
    }
}

/// What an answer waits for.
pub(super) fn waiting(lab: &Lab, state: &State) -> String {
    match state {
        State::Waiting(readings) => {
            let labels: Vec<String> = lab
                .readings()
                .enumerate()
                .filter(|(index, _)| readings.contains(index))
                .map(|(_, (_, asked))| format!("“{}”", asked.label))
                .collect();
            format!("Waiting for {}.", labels.join(", "))
        }
        State::Undefined(why) => format!("There is no such value: {why}."),
        State::Known(_) => String::new(),
    }
}
