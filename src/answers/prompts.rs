//! The sentence that sends a student back to a line, in the language of the lab. It never holds a number of the key.

use crate::answers::Judgement;
use crate::answers::Slip;
use crate::answers::Verdict;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::open_steps;
use crate::chem::Formula;
use crate::lab::Lab;
use crate::lab::ShowWorking;
use crate::measure::Unit;
use crate::say;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::State;
use crate::working::StepId;
use crate::working::line::Line;

/// Says of a number what its verdict and its slips call for.
pub(super) fn say(
    layout: Layout<'_>,
    line: &Line<'_>,
    judgement: &mut Judgement,
    impossible: bool,
) {
    let (lab, id) = (layout.lab, judgement.step);
    if matches!(judgement.verdict, Verdict::Rounding | Verdict::Follows) {
        let slips = judgement.slips.iter();
        let prompts: Vec<&str> = slips.map(|slip| fitting(layout, line, id, slip)).collect();
        judgement.feedback = prompts.join(" ");
        if judgement.is_near_a_slip() {
            judgement.feedback += &stays_shut(lab);
        }
    }
    if judgement.verdict == Verdict::LookAgain {
        judgement.feedback = look_again(layout, line, id, &judgement.slips, impossible);
    }
}

/// What is said of an answer that is wrong.
pub(super) fn look_again(
    layout: Layout<'_>,
    line: &Line<'_>,
    id: StepId,
    slips: &[&'static Slip],
    impossible: bool,
) -> String {
    let step = layout.graph.step(id);
    let words = &layout.lab.words;
    let slips_say = slips.iter().map(|slip| fitting(layout, line, id, slip));
    let mut prompts: Vec<&str> = slips_say.collect();
    prompts.dedup();
    match prompts[..] {
        [only] if slips.iter().all(|slip| !slip.explains()) => only.to_owned(),
        [only] => say!(
            words,
            "This looks like a known slip. {prompt}",
            prompt = only
        ),
        [] if impossible && matches!(step.kind, Kind::ExpectedLeft(_)) => say!(
            words,
            "Nothing can be less than none: by your own moles, which reactant runs out first, and how much of this one does it take?"
        ),
        [] if impossible => say!(
            words,
            "Nothing can be less than none: which of the two numbers belongs first, and which reactant can have some left?"
        ),
        [] => say!(
            words,
            "{prompt} If you cannot find it, show your teacher the line you typed.",
            prompt = generally(layout, id)
        ),
        _ => say!(
            words,
            "Several slips would give this answer. {prompt} Check the line number by number, each with its unit and its substance.",
            prompt = generally(layout, id)
        ),
    }
}

/// What is said of “neither” and “zinc or copper sulfate” where one of them runs out.
pub(super) fn no_single_reactant(layout: Layout<'_>, id: StepId) -> String {
    say!(
        layout.lab.words,
        "This names no single reactant. {prompt}",
        prompt = generally(layout, id)
    )
}

/// What is said behind the rest where an answer does not open its working, though its value stands; nothing where that is no matter.
pub(super) fn stays_shut(lab: &Lab) -> String {
    if lab.policy.show_working != ShowWorking::AfterAnswer {
        return String::new();
    }
    let words = &lab.words;
    let shut = words.say("The report does not show its working before that is put right.");
    format!(" {shut}")
}

/// The prompt of a slip, in words that fit what a step is measured with.
fn fitting<'l>(layout: Layout<'l>, line: &Line<'_>, id: StepId, slip: &Slip) -> &'l str {
    let words = &layout.lab.words;
    let open = || open_steps(layout.graph, line, id);
    match slip.id {
        "container-left-in" | "another-container" | "container-taken-twice" | "container-added"
        | "subtracted-backwards" | "other-full-vessel" | "vessel-in-leftover"
            if !subtracts_masses(layout, open()) =>
        {
            words.say("Two readings belong together here, one before and one after: which is taken from which, and how many times?")
        }
        "percent-upside-down" if matches!(layout.graph.step(id).kind, Kind::Find(_)) => {
            words.say("Which of the two amounts is the part and which the whole: does the part stand on top?")
        }
        "water-left-out" if is_of_a_product(layout, open()) => {
            words.say("Look at the formula of the solid that formed: does what you weighed hold anything besides the salt?")
        }
        _ => words.say(slip.prompt),
    }
}

/// Whether nothing but masses is subtracted in some steps.
fn subtracts_masses(layout: Layout<'_>, steps: impl IntoIterator<Item = StepId>) -> bool {
    let is_other = |taken: &Expression| {
        let dimension = layout.graph.dimension(taken);
        matches!(taken, Expression::Reading(_))
            && dimension.is_ok_and(|is| is != Unit::Gram.dimension())
    };
    let mut others = false;
    for step in steps {
        layout.graph.step(step).expression.visit(&mut |part| {
            others |= matches!(part, Expression::Difference(_, taken) if is_other(taken));
        });
    }
    !others
}

/// Whether the only water of crystallisation that some steps count is in solids that formed.
fn is_of_a_product(layout: Layout<'_>, steps: impl IntoIterator<Item = StepId>) -> bool {
    let formed = |formula: &Formula| {
        let mut products = layout.lab.substances.iter().filter(|s| !s.reactant);
        products.any(|s| s.weighed_as.as_ref().unwrap_or(&s.formula) == formula)
    };
    let mut only = true;
    for step in steps {
        layout.graph.step(step).expression.visit(&mut |part| {
            if let Expression::Constant(Constant::MolarMass(formula)) = part {
                only &= formula.waters().1 == 0 || formed(formula);
            }
        });
    }
    only
}

/// Where to look when no slip is recognised.
fn generally(layout: Layout<'_>, id: StepId) -> &str {
    let (lab, step) = (layout.lab, layout.graph.step(id));
    let words = &lab.words;
    match step.kind {
        Kind::MolarMass(_) => {
            words.say("Count the atoms of each element in the formula on the label, water included.")
        }
        Kind::Collected(product) if lab.substances[product].measured_as_gas() => {
            words.say("Write the law of gases with every unit: which volume, which temperature from absolute zero, and whose pressure?")
        }
        Kind::Mass(_) | Kind::Collected(_) | Kind::MeasuredLeft(_)
            if step.expression.readings().len() < 2 =>
        {
            words.say("Find the reading this comes from, with every digit and its unit, and what is still to do with it.")
        }
        Kind::Mass(_) | Kind::Collected(_) | Kind::MeasuredLeft(_)
            if !subtracts_masses(layout, [id]) =>
        {
            words.say("Find the two readings, before and after, subtract them, and write the line on from there with every unit, to see what cancels.")
        }
        Kind::Mass(_) | Kind::Collected(_) | Kind::MeasuredLeft(_) => {
            words.say("Find the two readings of the same vessel, with and without its content, and subtract again.")
        }
        Kind::Used(_) => {
            words.say("Compare what there was at the start with what was found left of the same substance.")
        }
        Kind::Moles(_) | Kind::MolesCollected(_) | Kind::MolesUsed(_) => {
            words.say("Write the line from grams (or millilitres) to moles with every unit, and see what cancels.")
        }
        Kind::Limiting => {
            words.say("For each reactant, ask how many times the equation could run with the moles you have.")
        }
        Kind::Theoretical(_) if step.unit == Unit::Mole => {
            words.say("Start from the moles of the reactant that runs out, and go through the equation.")
        }
        Kind::Theoretical(_) => {
            words.say("Start from the moles of the reactant that runs out, go through the equation, and only then to grams.")
        }
        Kind::Needed(_) => {
            words.say("Start from the reactant that runs out and ask the equation how much of the other it takes.")
        }
        Kind::ExpectedLeft(_) => {
            words.say("Work out how much of this reactant the equation takes, then what remains of it.")
        }
        Kind::PercentYield(_) => words.say("Ask how much you got and how much you could have got at most."),
        Kind::Ratio(..) => words.say("Turn both masses into moles before you compare them."),
        Kind::LeftError(_) | Kind::FindError(_) => {
            words.say("Ask how far you are off, out of what it should be.")
        }
        Kind::Completion(_) | Kind::Recovery(..) | Kind::MassKept => {
            words.say("Ask which amount goes on top and which below.")
        }
        Kind::Find(_) | Kind::Accepted(_) => {
            words.say("Write the relation first, then put the readings in one by one.")
        }
    }
}

/// What an answer waits for.
pub(super) fn waiting(lab: &Lab, state: &State) -> String {
    let words = &lab.words;
    match state {
        State::Waiting(readings) => {
            let labels: Vec<String> = lab
                .readings()
                .enumerate()
                .filter(|(index, _)| readings.contains(index))
                .map(|(_, (_, asked))| say!(words, "“{reading}”", reading = asked.label))
                .collect();
            say!(
                words,
                "Waiting for {readings}.",
                readings = labels.join(", ")
            )
        }
        State::Undefined(why) => say!(words, "There is no such value: {reason}.", reason = why),
        State::Known(_) => String::new(),
    }
}
