//! What a preparation points out: which reactant runs out first, what is too little, what the percent yield hangs on, what is not planned.

use crate::lab::UncertaintyRule;
use crate::measure::Unit;
use crate::planning::Preparation;
use crate::report::compose::sentence_case;
use crate::report::preparation::amount;
use crate::report::preparation::as_written;
use crate::report::preparation::figure;
use crate::report::preparation::item_name;
use crate::report::preparation::name;
use crate::report::preparation::percent;
use crate::say;

/// A standard uncertainty of the percent yield, in %, that no class's losses come down to. Common practice, no source.
const SMALL: f64 = 0.1;

/// Whether what the plan promises can be measured well, and how uncertain the percent yield will be.
pub(super) fn checks(plan: &Preparation<'_>) -> Vec<String> {
    let words = &plan.lab.words;
    let mut checks: Vec<String> = supply(plan).into_iter().collect();
    for expected in plan.expected() {
        let name = name(plan, expected.substance);
        if let Some(gas) = expected.gas.as_ref().filter(|_| expected.product) {
            let volume = amount(plan, gas.volume, Unit::Litre);
            checks.push(if gas.damp {
                say!(
                    words,
                    "The volume of {gas} is that at 20 °C and 101.3 kPa, the water vapour in it counted: choose a tube that holds more than {volume}.",
                    gas = name,
                    volume = volume
                )
            } else {
                say!(
                    words,
                    "The volume of {gas} is that at 20 °C and 101.3 kPa: choose a tube that holds more than {volume}.",
                    gas = name,
                    volume = volume
                )
            });
        }
        if let Some(times) = expected.times_for_three.filter(|_| expected.product) {
            checks.push(say!(
                words,
                "For three figures of {substance}, {times} times as much of everything is needed.",
                substance = name,
                // Never less than needed.
                times = figure(plan, (times * 10.0).ceil() / 10.0, 2)
            ));
        }
    }
    checks.extend(uncertainty(plan));
    checks
}

/// What the plan leaves open, what of it makes no sense, and who decides about safety.
pub(super) fn notes(plan: &Preparation<'_>) -> Vec<String> {
    let words = &plan.lab.words;
    let of = |index: usize| (name(plan, index), plan.lab.substances[index].key.as_str());
    let mut notes: Vec<String> = plan
        .unplanned()
        .into_iter()
        .map(|index| {
            let (name, key) = of(index);
            say!(
                words,
                "The lab description plans no amount of {substance}: add {key} = \"…\" under [plan].",
                substance = name,
                key = key
            )
        })
        .collect();
    notes.extend(plan.volume_not_measured().into_iter().map(|index| {
        let (name, key) = of(index);
        say!(
            words,
            "{substance} is planned by volume, but the lab reads no volume of it, so nothing follows from that: plan {key} in g, or give it a “before” of volume times density.",
            substance = sentence_case(name),
            key = key
        )
    }));
    notes.extend(plan.planned.misread.iter().map(|(name, text)| {
        let example = match name.as_str() {
            "washes" => "3 of 25 mL",
            "wash_liquid" => words.say("distilled water"),
            "oven_shelf" => words.say("12 beakers"),
            name if name.ends_with("water") || name == "liquid_left" => "50 mL",
            _ => "6.0 g",
        };
        say!(
            words,
            "Under [plan], {name} = \"{text}\" makes no sense and is left out: write it like \"{example}\".",
            name = name,
            text = text,
            example = example
        )
    }));
    notes.extend(plan.planned.supplies.iter().filter_map(|supply| {
        let near = supply.near.as_ref()?;
        Some(say!(
            words,
            "Under [plan], {name} is neither a substance nor a reading of this lab, so it is only set out. Did you mean {near}?",
            name = supply.name,
            near = near
        ))
    }));
    notes.push(say!(
        words,
        "This page plans amounts only. The safety data sheets of the bottles in use, the rules of your school and your own risk assessment decide whether and how the experiment is done, and where its waste goes."
    ));
    notes
}

/// Which reactant runs out first, and how far the others go.
fn supply(plan: &Preparation<'_>) -> Option<String> {
    let words = &plan.lab.words;
    let reaches = plan.reaches();
    let (first, others) = reaches.split_first()?;
    let of = |index: usize| plan.lab.substances[index].name.as_str();
    let parts: Vec<String> = others
        .iter()
        .map(|reach| {
            // Where it is close, two figures would not tell the one from the other.
            let times = figure(plan, reach.times, if reach.times < 1.1 { 3 } else { 2 });
            let substance = of(reach.substance);
            match reach.times {
                short if short < 0.995 => say!(
                    words,
                    "of {substance} there is {times} times what is needed, which is not enough",
                    substance = substance,
                    times = times
                ),
                close if close < 1.05 => say!(
                    words,
                    "of {substance} there is {times} times what is needed, so close that a group's weighing decides which of the two runs out",
                    substance = substance,
                    times = times
                ),
                _ => say!(
                    words,
                    "of {substance} there is {times} times what is needed",
                    substance = substance,
                    times = times
                ),
            }
        })
        .collect();
    Some(say!(
        words,
        "{substance} runs out first; {others}.",
        substance = sentence_case(of(first.substance)),
        others = parts.join("; ")
    ))
}

/// How sure the percent yield will be, what that hangs on, and what would halve the uncertainty.
fn uncertainty(plan: &Preparation<'_>) -> Vec<String> {
    let words = &plan.lab.words;
    let mut checks = Vec::new();
    if plan.lab.policy.uncertainty == UncertaintyRule::None {
        return checks;
    }
    let Some(uncertainty) = plan.yield_uncertainty().filter(|known| *known > 0.0) else {
        return checks;
    };
    checks.push(say!(
        words,
        "With these amounts and the lab's instruments the percent yield will have a standard uncertainty of about {uncertainty}: a deviation of less than {deviation} says nothing.",
        uncertainty = percent(plan, uncertainty),
        deviation = percent(plan, 2.0 * uncertainty)
    ));
    let doubtful: Vec<String> = plan
        .doubtful()
        .into_iter()
        .map(|(what, part)| format!("{what} ({})", percent(plan, 100.0 * part)))
        .collect();
    if !doubtful.is_empty() {
        checks.push(say!(
            words,
            "Most of that uncertainty, by parts of its square, comes from: {sources}.",
            sources = doubtful.join("; ")
        ));
    }
    let Some(halving) = plan.halving() else {
        checks.push(say!(
            words,
            "Even four times as much would not halve it: that takes a finer instrument, or a value that is better known."
        ));
        return checks;
    };
    let raised: Vec<String> = plan
        .planned
        .items()
        .iter()
        .filter(|(item, _)| halving.only.is_none_or(|only| only == *item))
        .map(|(item, planned)| {
            say!(
                words,
                "{more} instead of {planned} of {substance}",
                more = amount(plan, planned.base * halving.factor, planned.unit),
                planned = as_written(plan, planned),
                substance = item_name(plan, *item)
            )
        })
        .collect();
    let mut amounts = raised.join("; ");
    if halving.only.is_some() {
        amounts.push_str(words.say("; the rest as planned"));
    }
    let first = if uncertainty < SMALL {
        say!(
            words,
            "Losses at the bench will be far larger than that. To halve it all the same: {amounts}.",
            amounts = amounts
        )
    } else {
        say!(words, "To halve it: {amounts}.", amounts = amounts)
    };
    let then = if plan.reagents().iter().any(|one| one.dissolved.is_some()) {
        words.say(
            "Look first whether the vessels hold that, whether more water is needed, and at the safety of the larger amounts.",
        )
    } else {
        words.say(
            "Look first whether the vessels hold that and at the safety of the larger amounts.",
        )
    };
    checks.push(format!("{first} {then}"));
    checks
}
