//! The preparation of a class as a page: reagents, solutions, water, vessels, what to expect, and whether it can be weighed.

mod checks;

use serde::Serialize;

use crate::chem::Equation;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::planning::Amount;
use crate::planning::Item;
use crate::planning::Preparation;
use crate::planning::Reagent;
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
    let times = match plan.lab.trials {
        1 => String::new(),
        some => format!(" that do it {some} times each"),
    };
    PlanPage {
        title: plan.lab.title.clone(),
        equation: equation(plan),
        lead: format!(
            "For {groups}{times}, with {} to spare.",
            show::with_unit(&figure(spare, 2), Unit::Percent)
        ),
        reagents: (!reagents.is_empty()).then(|| reagents_table(plan, &reagents)),
        solutions: solutions(plan, &reagents),
        equipment: equipment(plan).map(|rows| Table {
            caption: "Water and vessels.".to_owned(),
            columns: vec![words("what"), figures(each(plan)), figures("all groups")],
            rows,
        }),
        expected: expected(plan).map(|rows| Table {
            caption: "What each group can expect to find, if all goes as the equation says."
                .to_owned(),
            columns: vec![
                words("substance"),
                figures("amount"),
                words("on the lab's instruments"),
            ],
            rows,
        }),
        checks: checks::checks(plan),
        safety: safety(plan.lab, None),
        notes: checks::notes(plan),
    }
}

/// What an amount in the tables is for.
fn each(plan: &Preparation<'_>) -> &'static str {
    if plan.lab.trials == 1 {
        "each group"
    } else {
        "each trial"
    }
}

/// A number with so many figures, trailing zeros kept.
fn figure(value: f64, figures: i32) -> String {
    rounding::of_f64(value).map_or_else(String::new, |exact| {
        show::text(rounding::to_figures(&exact, figures, Rounding::HalfUp))
    })
}

/// An amount in its base unit, in the unit of that kind that reads best.
fn amount(value: f64, base: Unit) -> String {
    let unit = match base {
        Unit::Litre | Unit::Millilitre if value < 1.0 => Unit::Millilitre,
        Unit::Litre | Unit::Millilitre => Unit::Litre,
        Unit::Gram | Unit::Milligram if value >= 1000.0 => Unit::Kilogram,
        Unit::Milligram => Unit::Gram,
        other => other,
    };
    let shown = value / 10.0_f64.powi(unit.power_to_base());
    show::with_unit(&figure(shown, 3), unit)
}

/// A planned amount as the teacher wrote it.
fn as_written(amount: &Amount) -> String {
    show::with_unit(&show::text(amount.number), amount.unit)
}

fn equation(plan: &Preparation<'_>) -> String {
    Equation::pretty(&plan.lab.equation)
}

fn name<'a>(plan: &Preparation<'a>, index: usize) -> &'a str {
    let substance = &plan.lab.substances[index];
    substance.weighed_name.as_ref().unwrap_or(&substance.name)
}

/// A substance's name, or what is read.
fn item_name<'a>(plan: &Preparation<'a>, item: Item) -> &'a str {
    match item {
        Item::Substance(index) => name(plan, index),
        Item::Reading(reading) => plan
            .lab
            .readings()
            .nth(reading)
            .map_or("", |(_, asked)| asked.label.as_str()),
    }
}

fn reagents_table(plan: &Preparation<'_>, reagents: &[Reagent]) -> Table {
    let mut rows: Vec<Vec<String>> = reagents
        .iter()
        .map(|reagent| {
            let formula = match reagent.item {
                Item::Substance(index) => {
                    let substance = &plan.lab.substances[index];
                    let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
                    form.pretty()
                }
                Item::Reading(_) => String::new(),
            };
            let what = item_name(plan, reagent.item);
            vec![
                reagent.concentration.map_or_else(
                    || what.to_owned(),
                    |of| format!("{what}, {} mol/L", figure(of, 3)),
                ),
                formula,
                as_written(&reagent.each),
                reagent
                    .moles
                    .map_or_else(String::new, |moles| amount(moles, Unit::Mole)),
                amount(reagent.all, reagent.each.unit),
            ]
        })
        .collect();
    rows.extend(plan.planned.supplies.iter().map(|supply| {
        let all = supply.amount.as_ref().map_or_else(String::new, |each| {
            amount(plan.for_all(each.base), each.unit)
        });
        let each = supply
            .amount
            .as_ref()
            .map_or_else(|| supply.text.clone(), as_written);
        vec![
            supply.name.replace('_', " "),
            String::new(),
            each,
            String::new(),
            all,
        ]
    }));
    rows.extend(plan.in_excess().into_iter().map(|index| {
        vec![
            format!(
                "{}, in excess: as much as your procedure says",
                name(plan, index)
            ),
            plan.lab.substances[index].formula.pretty(),
            String::new(),
            String::new(),
            String::new(),
        ]
    }));
    Table {
        caption: "Reagents to set out; the last column counts the spare.".to_owned(),
        columns: vec![
            words("reagent"),
            words("formula"),
            figures(each(plan)),
            figures("moles"),
            figures("all groups"),
        ],
        rows,
    }
}

/// Solutions to make, of a reagent that is taken as one and of a salt that every group would dissolve by itself, and liquids by mass.
fn solutions(plan: &Preparation<'_>, reagents: &[Reagent]) -> Vec<String> {
    let mut sentences = Vec::new();
    for reagent in reagents {
        let Item::Substance(index) = reagent.item else {
            continue;
        };
        let substance = &plan.lab.substances[index];
        if let Some(grams) = reagent.grams {
            sentences.push(format!(
                "{} of {} weigh {}; {} for all weigh {}.",
                as_written(&reagent.each),
                name(plan, index),
                amount(grams, Unit::Gram),
                amount(reagent.all, Unit::Litre),
                amount(plan.for_all(grams), Unit::Gram),
            ));
        }
        if let (Some(concentration), Some(pure)) = (reagent.concentration, reagent.pure) {
            let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
            sentences.push(format!(
                "{} of {} at {} mol/L hold {} of {}, {}.",
                amount(reagent.all, Unit::Litre),
                name(plan, index),
                figure(concentration, 3),
                amount(concentration * reagent.all, Unit::Mole),
                form.pretty(),
                amount(pure, Unit::Gram)
            ));
        }
        if let Some((water, concentration)) = reagent.dissolved {
            sentences.push(format!(
                "{} of {} in {} of water is about {} mol/L of {}. As one stock solution for all: {} made up to {}, {} a group. A group's amount is then volume times concentration, and “before” of {} in the lab description has to say so.",
                as_written(&reagent.each),
                name(plan, index),
                amount(water, Unit::Litre),
                figure(concentration, 2),
                substance.formula.pretty(),
                amount(reagent.all, reagent.each.unit),
                amount(plan.for_all(water), Unit::Litre),
                amount(water, Unit::Litre),
                substance.key,
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
            "distilled water, washings included, rinsing of glassware not".to_owned(),
            amount(water, Unit::Litre),
            amount(plan.for_all(water), Unit::Litre),
        ]);
    }
    let liquid = plan.liquid_each();
    if liquid > 0.0 {
        let uncounted = plan.planned.supplies.iter().any(|one| one.amount.is_none())
            || !plan.in_excess().is_empty();
        let basis = match (plan.planned.liquid_left.is_some(), uncounted) {
            (true, _) => "",
            (false, false) => " if none evaporates",
            (false, true) => " if none evaporates, without what has no amount above",
        };
        rows.push(vec![
            format!("liquid left over at the end{basis}; it is collected as the teacher directs"),
            amount(liquid, Unit::Litre),
            amount(liquid * plan.runs(), Unit::Litre),
        ]);
    }
    let tubes = plan.expected().into_iter();
    for gas in tubes.filter_map(|expected| expected.gas) {
        rows.push(vec![
            format!(
                "tube for more than {} of gas",
                amount(gas.volume, Unit::Litre)
            ),
            "1".to_owned(),
            plan.groups.to_string(),
        ]);
    }
    for label in plan.vessels() {
        rows.push(vec![
            label.to_owned(),
            "1".to_owned(),
            plan.groups.to_string(),
        ]);
    }
    if let (Some((_, shelf)), Some(shelves)) = (&plan.planned.oven_shelf, plan.oven_shelves()) {
        rows.push(vec![
            format!("shelves of the oven, {shelf} on each, one a group"),
            String::new(),
            shelves.to_string(),
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
            let amounts = match &expected.gas {
                Some(gas) => format!(
                    "{} ({})",
                    amount(gas.volume, Unit::Litre),
                    amount(expected.amount, expected.unit)
                ),
                None => amount(expected.amount, expected.unit),
            };
            let shows = match expected.figures {
                _ if !expected.measurable => "too little to be told from nothing".to_owned(),
                Some(0) => "less than the instrument can show".to_owned(),
                Some(1) => "one figure only".to_owned(),
                Some(2) => "two figures only".to_owned(),
                Some(_) => "enough for three figures".to_owned(),
                None => String::new(),
            };
            vec![what, amounts, shows]
        })
        .collect();
    (!rows.is_empty()).then_some(rows)
}
