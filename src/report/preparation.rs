//! The preparation of a class as a page: reagents, solutions, water, vessels, what to expect, and whether it can be weighed.

mod checks;
mod rows;

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
use crate::say;
use crate::words::Words;
use crate::working::show;

/// A class's preparation.
#[derive(Debug, Clone, Serialize)]
pub struct PlanPage {
    /// The language it is written in; templates see its code, `language`: `en`.
    #[serde(rename = "language")]
    pub words: Words,
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
        say!(self.words, "{title}, preparation", title = self.title)
    }

    fn words(&self) -> &Words {
        &self.words
    }

    fn charts(&self) -> Vec<&Chart> {
        Vec::new()
    }
}

/// The page of a preparation.
#[must_use]
pub fn compose(plan: &Preparation<'_>) -> PlanPage {
    let reagents = plan.reagents();
    let wording = &plan.lab.words;
    PlanPage {
        words: wording.clone(),
        title: plan.lab.title.clone(),
        equation: equation(plan),
        lead: lead(plan),
        reagents: (!reagents.is_empty()).then(|| reagents_table(plan, &reagents)),
        solutions: solutions(plan, &reagents),
        equipment: rows::equipment(plan).map(|rows| Table {
            caption: if plan.lab.trials == 1 {
                say!(wording, "Water and vessels.")
            } else {
                say!(
                    wording,
                    "Water and vessels, counted for every trial; a vessel that is washed and dried in between is needed once a group."
                )
            },
            columns: vec![
                words(wording.say("what")),
                figures(each(plan)),
                figures(wording.say("all groups")),
            ],
            rows,
        }),
        expected: rows::expected(plan).map(|rows| Table {
            caption: say!(
                wording,
                "What each group can expect to find, if all goes as the equation says."
            ),
            columns: vec![
                words(wording.say("substance")),
                figures(wording.say("amount")),
                words(wording.say("on the lab's instruments")),
            ],
            rows,
        }),
        checks: checks::checks(plan),
        safety: safety(plan.lab, None),
        notes: checks::notes(plan),
    }
}

/// For how many groups, with how much to spare.
fn lead(plan: &Preparation<'_>) -> String {
    let words = &plan.lab.words;
    let spare = percent(plan, 100.0 * plan.spare);
    match (plan.groups, plan.lab.trials) {
        (1, 1) => say!(words, "For 1 group, with {spare} to spare.", spare = spare),
        (groups, 1) => say!(
            words,
            "For {groups} groups, with {spare} to spare.",
            groups = groups,
            spare = spare
        ),
        (1, trials) => say!(
            words,
            "For 1 group that do it {trials} times each, with {spare} to spare.",
            trials = trials,
            spare = spare
        ),
        (groups, trials) => say!(
            words,
            "For {groups} groups that do it {trials} times each, with {spare} to spare.",
            groups = groups,
            trials = trials,
            spare = spare
        ),
    }
}

/// What an amount in the tables is for.
fn each<'a>(plan: &'a Preparation<'_>) -> &'a str {
    if plan.lab.trials == 1 {
        plan.lab.words.say("each group")
    } else {
        plan.lab.words.say("each trial")
    }
}

/// A number with so many figures, trailing zeros kept.
fn figure(plan: &Preparation<'_>, value: f64, figures: i32) -> String {
    let number = rounding::float_to_figures(value, figures, Rounding::HalfUp);
    number.map_or_else(String::new, |number| show::written(&plan.lab.words, number))
}

/// A percentage with two figures.
fn percent(plan: &Preparation<'_>, value: f64) -> String {
    let number = rounding::float_to_figures(value, 2, Rounding::HalfUp);
    number.map_or_else(String::new, |number| {
        show::amount(&plan.lab.words, number, Unit::Percent)
    })
}

/// An amount in its base unit, in the unit of that kind that reads best.
fn amount(plan: &Preparation<'_>, value: f64, base: Unit) -> String {
    let unit = match base {
        Unit::Litre | Unit::Millilitre | Unit::Microlitre if value < 1.0 => Unit::Millilitre,
        Unit::Litre | Unit::Millilitre | Unit::Microlitre => Unit::Litre,
        Unit::Gram | Unit::Milligram | Unit::Microgram if value >= 1000.0 => Unit::Kilogram,
        Unit::Milligram | Unit::Microgram => Unit::Gram,
        other => other,
    };
    let shown = value / 10.0_f64.powi(unit.power_to_base());
    show::with_unit(&figure(plan, shown, 3), unit)
}

/// A planned amount as the teacher wrote it.
fn as_written(plan: &Preparation<'_>, amount: &Amount) -> String {
    show::amount(&plan.lab.words, amount.number, amount.unit)
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
    let wording = &plan.lab.words;
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
                match reagent.concentration {
                    Some(of) => format!("{what}, {} mol/L", figure(plan, of, 3)),
                    None if reagent.solution => {
                        say!(wording, "{substance}, in solution", substance = what)
                    }
                    None => what.to_owned(),
                },
                formula,
                as_written(plan, &reagent.each),
                reagent
                    .moles
                    .map_or_else(String::new, |moles| amount(plan, moles, Unit::Mole)),
                amount(plan, reagent.all, reagent.each.unit),
            ]
        })
        .collect();
    rows.extend(plan.planned.supplies.iter().map(|supply| {
        let all = match (&supply.amount, &supply.counted) {
            (Some(each), _) => amount(plan, plan.for_all(each.base), each.unit),
            (None, Some((1, what))) => format!("{} × 1 {what}", plan.count_for_all(1)),
            (None, Some((count, what))) => format!("{} {what}", plan.count_for_all(*count)),
            (None, None) => String::new(),
        };
        let each = supply
            .amount
            .as_ref()
            .map_or_else(|| supply.text.clone(), |each| as_written(plan, each));
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
            say!(
                wording,
                "{substance}, in excess: as much as your procedure says",
                substance = name(plan, index)
            ),
            plan.lab.substances[index].formula.pretty(),
            String::new(),
            String::new(),
            String::new(),
        ]
    }));
    Table {
        caption: say!(
            wording,
            "Reagents to set out; the last column counts the spare."
        ),
        columns: vec![
            words(wording.say("reagent")),
            words(wording.say("formula")),
            figures(each(plan)),
            figures(wording.say("moles")),
            figures(wording.say("all groups")),
        ],
        rows,
    }
}

/// Solutions to make, of a reagent that is taken as one and of a salt that every group would dissolve by itself, and liquids by mass.
fn solutions(plan: &Preparation<'_>, reagents: &[Reagent]) -> Vec<String> {
    let words = &plan.lab.words;
    let mut sentences = Vec::new();
    for reagent in reagents {
        let Item::Substance(index) = reagent.item else {
            continue;
        };
        let substance = &plan.lab.substances[index];
        if let Some(grams) = reagent.grams {
            let each = as_written(plan, &reagent.each);
            let substance = name(plan, index);
            let mass = amount(plan, grams, Unit::Gram);
            let all = amount(plan, reagent.all, Unit::Litre);
            let all_mass = amount(plan, plan.for_all(grams), Unit::Gram);
            sentences.push(if reagent.solution {
                say!(
                    words,
                    "{each} of the solution hold {mass} of {substance}; {all} for all hold {all_mass}.",
                    each = each,
                    mass = mass,
                    substance = substance,
                    all = all,
                    all_mass = all_mass
                )
            } else {
                say!(
                    words,
                    "{each} of {substance} weigh {mass}; {all} for all weigh {all_mass}.",
                    each = each,
                    substance = substance,
                    mass = mass,
                    all = all,
                    all_mass = all_mass
                )
            });
        }
        if let (Some(concentration), Some(pure)) = (reagent.concentration, reagent.pure) {
            let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
            sentences.push(say!(
                words,
                "{volume} of {substance} at {concentration} mol/L hold {moles} of {formula}, {mass}.",
                volume = amount(plan, reagent.all, Unit::Litre),
                substance = name(plan, index),
                concentration = figure(plan, concentration, 3),
                moles = amount(plan, concentration * reagent.all, Unit::Mole),
                formula = form.pretty(),
                mass = amount(plan, pure, Unit::Gram)
            ));
            if let (Some(sold), Some(purity)) = (reagent.as_sold, &substance.purity) {
                sentences.push(say!(
                    words,
                    "Of {substance} with a purity of {purity} that is {mass} as it comes from its bottle.",
                    substance = form.pretty(),
                    purity = show::amount(words, purity.value.number, Unit::Percent),
                    mass = amount(plan, sold, Unit::Gram)
                ));
            }
        }
        if let Some((water, concentration)) = reagent.dissolved {
            sentences.push(say!(
                words,
                "{each} of {substance} in {water} of water is about {concentration} mol/L of {formula}. One stock solution for all is another way: {all} made up to {all_water}, {water} a group. Only then is a group's amount volume times concentration, and “before” of {key} in the lab description is worked from these.",
                each = as_written(plan, &reagent.each),
                substance = name(plan, index),
                water = amount(plan, water, Unit::Litre),
                concentration = figure(plan, concentration, 2),
                formula = substance.formula.pretty(),
                all = amount(plan, reagent.all, reagent.each.unit),
                all_water = amount(plan, plan.for_all(water), Unit::Litre),
                key = substance.key,
            ));
        }
    }
    sentences
}
