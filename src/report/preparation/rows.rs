//! Rows of a preparation: what is set out besides reagents, and what each group can expect to find.

use crate::measure::Unit;
use crate::planning::Preparation;
use crate::planning::WashLiquid;
use crate::report::preparation::amount;
use crate::report::preparation::name;
use crate::say;

/// Water, liquid left over, tubes, vessels and shelves.
pub(super) fn equipment(plan: &Preparation<'_>) -> Option<Vec<Vec<String>>> {
    let words = &plan.lab.words;
    let mut rows = Vec::new();
    let water = plan.water_each();
    let washing = plan.planned.wash_liquid_each();
    if water > 0.0 {
        rows.push(vec![
            if washing > 0.0 {
                say!(words, "distilled water, without what rinses glassware")
            } else {
                say!(
                    words,
                    "distilled water with the washings, without what rinses glassware"
                )
            },
            amount(plan, water, Unit::Litre),
            amount(plan, plan.for_all(water), Unit::Litre),
        ]);
    }
    if washing > 0.0 {
        rows.push(vec![
            match &plan.planned.wash_liquid {
                WashLiquid::Named(liquid) => {
                    say!(words, "{liquid} for the washings", liquid = liquid)
                }
                WashLiquid::Water | WashLiquid::Unnamed => say!(words, "washing liquid"),
            },
            amount(plan, washing, Unit::Litre),
            amount(plan, plan.for_all(washing), Unit::Litre),
        ]);
    }
    let liquid = plan.liquid_each();
    if liquid > 0.0 {
        let uncounted = plan.planned.supplies.iter().any(|one| one.amount.is_none())
            || !plan.in_excess().is_empty();
        let what = match (plan.planned.liquid_left.is_some(), uncounted) {
            (true, _) => say!(
                words,
                "liquid left over at the end; it is collected as the teacher directs"
            ),
            (false, false) => say!(
                words,
                "liquid left over at the end if none evaporates; it is collected as the teacher directs"
            ),
            (false, true) => say!(
                words,
                "liquid left over at the end if none evaporates, without what has no amount above; it is collected as the teacher directs"
            ),
        };
        rows.push(vec![
            what,
            amount(plan, liquid, Unit::Litre),
            amount(plan, liquid * plan.runs(), Unit::Litre),
        ]);
    }
    let tubes = plan.expected().into_iter();
    for gas in tubes.filter_map(|expected| expected.gas) {
        rows.push(vec![
            say!(
                words,
                "tube for more than {volume} of gas",
                volume = amount(plan, gas.volume, Unit::Litre)
            ),
            "1".to_owned(),
            plan.vessels_for_all().to_string(),
        ]);
    }
    for label in plan.vessels() {
        rows.push(vec![
            label.to_owned(),
            "1".to_owned(),
            plan.vessels_for_all().to_string(),
        ]);
    }
    if let (Some((_, shelf)), Some(shelves)) = (&plan.planned.oven_shelf, plan.oven_shelves()) {
        rows.push(vec![
            if plan.lab.trials == 1 {
                say!(
                    words,
                    "shelves of the oven, {shelf} on each, one a group",
                    shelf = shelf
                )
            } else {
                say!(
                    words,
                    "shelves of the oven, {shelf} on each, one for each trial",
                    shelf = shelf
                )
            },
            String::new(),
            shelves.to_string(),
        ]);
    }
    (!rows.is_empty()).then_some(rows)
}

/// What each group can expect, and whether that can be measured.
pub(super) fn expected(plan: &Preparation<'_>) -> Option<Vec<Vec<String>>> {
    let words = &plan.lab.words;
    let rows: Vec<Vec<String>> = plan
        .expected()
        .into_iter()
        .map(|expected| {
            let name = name(plan, expected.substance);
            let what = if expected.product {
                say!(words, "{substance}, at most", substance = name)
            } else {
                say!(words, "{substance} left", substance = name)
            };
            let amounts = match &expected.gas {
                Some(gas) => format!(
                    "{} ({})",
                    amount(plan, gas.volume, Unit::Litre),
                    amount(plan, expected.amount, expected.unit)
                ),
                None => amount(plan, expected.amount, expected.unit),
            };
            let titrated = expected
                .titre
                .and_then(|(reading, volume)| Some((plan.lab.readings().nth(reading)?.1, volume)));
            let what = match titrated {
                Some((asked, volume)) => say!(
                    words,
                    "{what}: {volume} on “{reading}”",
                    what = what,
                    volume = amount(plan, volume, Unit::Litre),
                    reading = asked.label
                ),
                None => what,
            };
            let shows = match expected.figures {
                _ if !expected.measurable => say!(words, "too little to be told from nothing"),
                Some(0) => say!(words, "less than the instrument can show"),
                Some(1) => say!(words, "one figure only"),
                Some(2) => say!(words, "two figures only"),
                Some(_) => say!(words, "enough for three figures"),
                None => String::new(),
            };
            vec![what, amounts, shows]
        })
        .collect();
    (!rows.is_empty()).then_some(rows)
}
