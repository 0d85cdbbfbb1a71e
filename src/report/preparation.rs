//! The preparation of a class as a page: reagents, solutions, water, vessels, what to expect, and whether it can be weighed.

use serde::Serialize;

use crate::chem::Equation;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::planning::Preparation;
use crate::planning::Reagent;
use crate::report::compose::sentence_case;
use crate::report::document::Document;
use crate::report::model::Chart;
use crate::report::model::Safety;
use crate::report::model::Table;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::report::words::safety;
use crate::working::show;

/// A class's preparation.
#[derive(Debug, Clone, Serialize)]
pub struct PlanPage {
    /// The lab's title.
    pub title: String,
    /// The balanced equation, pretty.
    pub equation: String,
    /// For how many groups, with how much to spare.
    pub lead: String,
    /// Reagents; `None` when nothing is planned.
    pub reagents: Option<Table>,
    /// Solutions as they may be made.
    pub solutions: Vec<String>,
    /// Water, vessels, places in the oven.
    pub equipment: Option<Table>,
    /// What each group can expect to weigh; `None` when the plan does not say.
    pub expected: Option<Table>,
    /// Whether that can be weighed well, and how uncertain the percent yield will be.
    pub checks: Vec<String>,
    /// Safety.
    pub safety: Safety,
    /// What the plan does not say.
    pub notes: Vec<String>,
}

impl Document for PlanPage {
    fn title(&self) -> String {
        format!("{}, preparation", self.title)
    }

    fn charts(&self) -> Vec<&Chart> {
        Vec::new()
    }
}

/// The page of a preparation.
#[must_use]
pub fn compose(plan: &Preparation<'_>) -> PlanPage {
    let reagents = plan.reagents();
    let spare = 100.0 * plan.spare;
    let groups = match plan.groups {
        1 => "1 group".to_owned(),
        some => format!("{some} groups"),
    };
    let mut number = 0;
    let mut next = || {
        number += 1;
        number
    };
    PlanPage {
        title: plan.lab.title.clone(),
        equation: equation(plan),
        lead: format!(
            "For {groups}, with {} to spare.",
            show::with_unit(&figure(spare, 2), Unit::Percent)
        ),
        reagents: (!reagents.is_empty()).then(|| reagents_table(plan, &reagents, next())),
        solutions: solutions(plan, &reagents),
        equipment: equipment(plan).map(|rows| Table {
            number: next(),
            caption: "Water and vessels.".to_owned(),
            columns: vec![words("what"), figures("each group"), figures("all groups")],
            rows,
        }),
        expected: expected(plan).map(|rows| Table {
            number: next(),
            caption: "What each group can expect to weigh, if all goes as the equation says."
                .to_owned(),
            columns: vec![
                words("substance"),
                figures("mass"),
                words("on this balance"),
            ],
            rows,
        }),
        checks: checks(plan),
        safety: safety(plan.lab, None),
        notes: notes(plan),
    }
}

/// A number with so many figures, trailing zeros kept.
fn figure(value: f64, figures: i32) -> String {
    rounding::of_f64(value).map_or_else(String::new, |exact| {
        show::text(rounding::to_figures(&exact, figures, Rounding::HalfUp))
    })
}

/// A number with its unit.
fn amount(value: f64, unit: Unit) -> String {
    let shown = value / 10.0_f64.powi(unit.power_to_base());
    show::with_unit(&figure(shown, 3), unit)
}

fn equation(plan: &Preparation<'_>) -> String {
    Equation::pretty(&plan.lab.equation)
}

fn name<'a>(plan: &Preparation<'a>, index: usize) -> &'a str {
    let substance = &plan.lab.substances[index];
    substance.weighed_name.as_ref().unwrap_or(&substance.name)
}

fn reagents_table(plan: &Preparation<'_>, reagents: &[Reagent], number: u32) -> Table {
    let rows = reagents.iter().map(|reagent| {
        let substance = &plan.lab.substances[reagent.substance];
        let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
        let what = match reagent.concentration {
            Some(concentration) => format!(
                "{}, {} mol/L",
                name(plan, reagent.substance),
                figure(concentration, 3)
            ),
            None => name(plan, reagent.substance).to_owned(),
        };
        vec![
            what,
            form.pretty(),
            amount(reagent.each, reagent.unit),
            amount(reagent.all, reagent.unit),
        ]
    });
    Table {
        number,
        caption: "Reagents to set out; the last column counts the spare.".to_owned(),
        columns: vec![
            words("reagent"),
            words("formula"),
            figures("each group"),
            figures("all groups"),
        ],
        rows: rows.collect(),
    }
}

/// Solutions to make: of a reagent that is taken as one, and of a salt that every group would dissolve by itself.
fn solutions(plan: &Preparation<'_>, reagents: &[Reagent]) -> Vec<String> {
    let mut sentences = Vec::new();
    for reagent in reagents {
        let name = name(plan, reagent.substance);
        if let (Some(concentration), Some(pure)) = (reagent.concentration, reagent.pure) {
            sentences.push(format!(
                "{} of {name} at {} mol/L hold {} of the pure substance.",
                amount(reagent.all, Unit::Millilitre),
                figure(concentration, 3),
                amount(pure, Unit::Gram)
            ));
        }
        if let (Some(in_water), Some(water)) = (reagent.in_water, &plan.planned.water) {
            sentences.push(format!(
                "{} in {} is about {} mol/L of {}. As one stock solution for all: {} in {} of water, {} a group (then the mass each group takes is no longer its own).",
                amount(reagent.each, Unit::Gram),
                amount(water.base, Unit::Millilitre),
                figure(in_water, 2),
                plan.lab.substances[reagent.substance].formula.pretty(),
                amount(reagent.all, Unit::Gram),
                amount(plan.for_all(water.base), Unit::Litre),
                amount(water.base, Unit::Millilitre)
            ));
        }
    }
    sentences
}

fn equipment(plan: &Preparation<'_>) -> Option<Vec<Vec<String>>> {
    let mut rows = Vec::new();
    let water = plan.water_each();
    if water > 0.0 {
        rows.push(vec![
            "distilled water, washing included".to_owned(),
            amount(water, Unit::Millilitre),
            amount(plan.for_all(water), Unit::Litre),
        ]);
    }
    let liquid = plan.liquid_each();
    if liquid > 0.0 {
        rows.push(vec![
            "liquid left over at the end, to be collected as the teacher directs".to_owned(),
            amount(liquid, Unit::Millilitre),
            amount(liquid * f64::from(plan.groups), Unit::Litre),
        ]);
    }
    for label in plan.vessels() {
        rows.push(vec![
            label.to_owned(),
            "1".to_owned(),
            plan.groups.to_string(),
        ]);
    }
    if let Some(places) = plan.planned.oven_places {
        rows.push(vec![
            format!("shelves of the oven, {places} vessels on each"),
            String::new(),
            plan.groups.div_ceil(places).to_string(),
        ]);
    }
    (!rows.is_empty()).then_some(rows)
}

fn expected(plan: &Preparation<'_>) -> Option<Vec<Vec<String>>> {
    let rows: Vec<Vec<String>> = plan
        .expected()
        .into_iter()
        .map(|expected| {
            let name = name(plan, expected.substance);
            let what = if expected.product {
                format!("{name}, at most")
            } else {
                format!("{name} left")
            };
            let weighs = match expected.three_figures {
                _ if !expected.measurable => "too little to be told from nothing".to_owned(),
                Some(true) => "enough for three figures".to_owned(),
                Some(false) => "too light for three figures".to_owned(),
                None => String::new(),
            };
            vec![what, amount(expected.amount.max(0.0), Unit::Gram), weighs]
        })
        .collect();
    (!rows.is_empty()).then_some(rows)
}

fn checks(plan: &Preparation<'_>) -> Vec<String> {
    let mut checks = Vec::new();
    let Some(uncertainty) = plan.yield_uncertainty() else {
        return checks;
    };
    let percent = |value: f64| show::with_unit(&figure(value, 2), Unit::Percent);
    checks.push(format!(
        "With these amounts and the lab's instruments the percent yield will have a standard uncertainty of about {}: a deviation of less than {} says nothing.",
        percent(uncertainty),
        percent(2.0 * uncertainty)
    ));
    if let Some(factor) = plan.halving_factor() {
        let masses: Vec<String> = plan
            .reagents()
            .iter()
            .map(|reagent| {
                format!(
                    "{} of {}",
                    amount(reagent.each * factor, reagent.unit),
                    name(plan, reagent.substance)
                )
            })
            .collect();
        checks.push(format!(
            "{} times as much of everything would halve that: {}.",
            sentence_case(&figure(factor, 2)),
            masses.join(", ")
        ));
    }
    checks
}

fn notes(plan: &Preparation<'_>) -> Vec<String> {
    let mut notes: Vec<String> = plan
        .unplanned()
        .into_iter()
        .map(|index| {
            format!(
                "The lab description plans no amount of {}: add `{} = \"…\"` under [plan].",
                name(plan, index),
                plan.lab.substances[index].key
            )
        })
        .collect();
    notes.extend(plan.planned.others.iter().map(|(name, text)| {
        format!(
            "Planned, and not counted here: {} {text}.",
            name.replace('_', " ")
        )
    }));
    notes.push(
        "This page plans amounts only. The safety data sheets of the bottles in use, the rules of your school and your own risk assessment decide whether and how the experiment is done, and where its waste goes."
            .to_owned(),
    );
    notes
}
