//! What a preparation points out: which reactant runs out first, what is too little, what the percent yield hangs on, what is not planned.

use crate::measure::Unit;
use crate::planning::Preparation;
use crate::report::compose::sentence_case;
use crate::report::preparation::amount;
use crate::report::preparation::as_written;
use crate::report::preparation::figure;
use crate::report::preparation::item_name;
use crate::report::preparation::name;
use crate::working::show;

/// A standard uncertainty of the percent yield, in %, that no class's losses come down to. Common practice, no source.
const SMALL: f64 = 0.1;

/// Whether what the plan promises can be measured well, and how uncertain the percent yield will be.
pub(super) fn checks(plan: &Preparation<'_>) -> Vec<String> {
    let mut checks: Vec<String> = supply(plan).into_iter().collect();
    for expected in plan.expected() {
        let name = name(plan, expected.substance);
        if let Some(gas) = expected.gas.as_ref().filter(|_| expected.product) {
            let damp = if gas.damp {
                ", the water vapour in it counted"
            } else {
                ""
            };
            checks.push(format!(
                "The volume of {name} is that at 20 °C and 101.3 kPa{damp}: choose a tube that holds more than {}.",
                amount(gas.volume, Unit::Litre)
            ));
        }
        if let Some(times) = expected.times_for_three.filter(|_| expected.product) {
            checks.push(format!(
                "For three figures of {name}, {} times as much of everything is needed.",
                // Never less than needed.
                figure((times * 10.0).ceil() / 10.0, 2)
            ));
        }
    }
    checks.extend(uncertainty(plan));
    checks
}

/// What the plan leaves open, what of it makes no sense, and who decides about safety.
pub(super) fn notes(plan: &Preparation<'_>) -> Vec<String> {
    let of = |index: usize| (name(plan, index), plan.lab.substances[index].key.as_str());
    let mut notes: Vec<String> = plan
        .unplanned()
        .into_iter()
        .map(|index| {
            let (name, key) = of(index);
            format!(
                "The lab description plans no amount of {name}: add {key} = \"…\" under [plan]."
            )
        })
        .collect();
    notes.extend(plan.volume_not_measured().into_iter().map(|index| {
        let (name, key) = of(index);
        format!(
            "{} is planned by volume, but the lab reads no volume of it, so nothing follows from that: plan {key} in g, or give it a “before” of volume times density.",
            sentence_case(name)
        )
    }));
    notes.extend(plan.planned.misread.iter().map(|(name, text)| {
        let example = match name.as_str() {
            "washes" => "3 of 25 mL",
            "oven_shelf" => "12 beakers",
            name if name.ends_with("water") || name == "liquid_left" => "50 mL",
            _ => "6.0 g",
        };
        format!("Under [plan], {name} = \"{text}\" makes no sense and is left out: write it like \"{example}\".")
    }));
    notes.extend(plan.planned.supplies.iter().filter_map(|supply| {
        let near = supply.near.as_ref()?;
        Some(format!("Under [plan], {} is neither a substance nor a reading of this lab, so it is only set out. Did you mean {near}?", supply.name))
    }));
    notes.push(
        "This page plans amounts only. The safety data sheets of the bottles in use, the rules of your school and your own risk assessment decide whether and how the experiment is done, and where its waste goes."
            .to_owned(),
    );
    notes
}

/// Which reactant runs out first, and how far the others go.
fn supply(plan: &Preparation<'_>) -> Option<String> {
    let reaches = plan.reaches();
    let (first, others) = reaches.split_first()?;
    let of = |index: usize| plan.lab.substances[index].name.as_str();
    let parts: Vec<String> = others
        .iter()
        .map(|reach| {
            // Where it is close, two figures would not tell the one from the other.
            let times = figure(reach.times, if reach.times < 1.1 { 3 } else { 2 });
            let warns = match reach.times {
                short if short < 0.995 => ", which is not enough",
                close if close < 1.05 => {
                    ", so close that a group's weighing decides which of the two runs out"
                }
                _ => "",
            };
            format!(
                "of {} there is {times} times what is needed{warns}",
                of(reach.substance)
            )
        })
        .collect();
    Some(format!(
        "{} runs out first; {}.",
        sentence_case(of(first.substance)),
        parts.join("; ")
    ))
}

fn percent(value: f64) -> String {
    show::with_unit(&figure(value, 2), Unit::Percent)
}

/// How sure the percent yield will be, what that hangs on, and what would halve the uncertainty.
fn uncertainty(plan: &Preparation<'_>) -> Vec<String> {
    let mut checks = Vec::new();
    let Some(uncertainty) = plan.yield_uncertainty().filter(|known| *known > 0.0) else {
        return checks;
    };
    checks.push(format!(
        "With these amounts and the lab's instruments the percent yield will have a standard uncertainty of about {}: a deviation of less than {} says nothing.",
        percent(uncertainty),
        percent(2.0 * uncertainty)
    ));
    let doubtful: Vec<String> = plan
        .doubtful()
        .into_iter()
        .map(|(what, part)| format!("{what} ({})", percent(100.0 * part)))
        .collect();
    if !doubtful.is_empty() {
        checks.push(format!(
            "Most of that uncertainty, by parts of its square, comes from: {}.",
            doubtful.join("; ")
        ));
    }
    let Some(halving) = plan.halving() else {
        checks.push(
            "Even four times as much would not halve it: that takes a finer instrument, or a value that is better known."
                .to_owned(),
        );
        return checks;
    };
    let raised: Vec<String> = plan
        .planned
        .items()
        .iter()
        .filter(|(item, _)| halving.only.is_none_or(|only| only == *item))
        .map(|(item, planned)| {
            format!(
                "{} instead of {} of {}",
                amount(planned.base * halving.factor, planned.unit),
                as_written(planned),
                item_name(plan, *item)
            )
        })
        .collect();
    let rest = if halving.only.is_some() {
        "; the rest as planned"
    } else {
        ""
    };
    let start = if uncertainty < SMALL {
        "Losses at the bench will be far larger than that. To halve it all the same"
    } else {
        "To halve it"
    };
    let water = if plan.reagents().iter().any(|one| one.dissolved.is_some()) {
        ", whether more water is needed,"
    } else {
        ""
    };
    checks.push(format!(
        "{start}: {}{rest}. Look first whether the vessels hold that{water} and at the safety of the larger amounts.",
        raised.join("; ")
    ));
    checks
}
