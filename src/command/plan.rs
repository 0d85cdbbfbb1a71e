//! `gramleaf plan`: what to set out for a class, as Markdown, HTML or JSON.

use std::path::Path;

use serde::Serialize;

use crate::cli;
use crate::command::Stop;
use crate::command::draft::with_ending;
use crate::command::files;
use crate::command::labs_in_use::LabsInUse;
use crate::command::terminal;
use crate::planning;
use crate::planning::Item;
use crate::planning::Preparation;
use crate::planning::WashLiquid;
use crate::render::Templates;
use crate::report::preparation;
use crate::status::Status;
use crate::words::Words;

/// What `--json` prints.
#[derive(Debug, Serialize)]
struct Plan<'a> {
    lab: &'a str,
    groups: u32,
    /// How often each group does the experiment: what `each` counts is for one of them.
    trials: u32,
    spare_percent: f64,
    reagents: Vec<Reagent<'a>>,
    /// Keys of reactants in excess that nothing is planned of.
    in_excess: Vec<&'a str>,
    /// What no step asks for.
    supplies: Vec<Supply>,
    water_ml: Amounts,
    /// Washing liquid that is not water; `null` where water is, or where the lab does not name it.
    wash_liquid: Option<&'a str>,
    wash_liquid_ml: Amounts,
    liquid_left_ml: Amounts,
    vessels: Vec<&'a str>,
    expected: Vec<Expected<'a>>,
    percent_yield_standard_uncertainty: Option<f64>,
    halving_factor: Option<f64>,
    /// What to take so many times as much of.
    halving_of: Vec<&'a str>,
    /// The reactant that runs out first, and the others held against it.
    reactants: Vec<Reach<'a>>,
    oven_shelves: Option<u32>,
}

#[derive(Debug, Serialize)]
struct Reach<'a> {
    substance: &'a str,
    /// Times what is needed; 1 for the reactant that runs out first.
    times_needed: f64,
}

#[derive(Debug, Serialize)]
struct Supply {
    name: String,
    each: String,
    /// How many for all groups, of what is counted in drops or pieces.
    count: Option<u64>,
}

#[derive(Debug, Serialize)]
struct Amounts {
    each: f64,
    all: f64,
}

#[derive(Debug, Serialize)]
struct Reagent<'a> {
    /// Key of the substance; `null` for a reading.
    substance: Option<&'a str>,
    /// Name of the reading; `null` for a substance.
    reading: Option<&'a str>,
    unit: &'static str,
    each: f64,
    all: f64,
    moles: Option<f64>,
    /// Of a liquid that is measured by its volume and taken by its mass: the mass of the substance in it.
    grams: Option<f64>,
    concentration: Option<f64>,
    dissolved_concentration: Option<f64>,
}

#[derive(Debug, Serialize)]
struct Expected<'a> {
    substance: &'a str,
    product: bool,
    amount: f64,
    unit: &'static str,
    gas_ml: Option<f64>,
    /// Of what is titrated: the volume read.
    titre_ml: Option<f64>,
    figures: Option<u32>,
    three_figures: Option<bool>,
    measurable: bool,
}

/// Prints the preparation of a lab, or writes it as Markdown and HTML.
pub(super) fn run(arguments: &cli::Plan) -> Result<Status, Stop> {
    let labs = LabsInUse::default();
    let ready = labs.of_command(&arguments.lab)?;
    terminal::problems(&ready.source, &ready.problems, &Words::english());
    let Some((lab, graph)) = &ready.lab else {
        return Ok(Status::ProblemsFound);
    };
    let plan = Preparation::new(lab, graph, arguments.groups, arguments.spare);
    if arguments.json {
        let text = serde_json::to_string_pretty(&json(&plan)).map_err(|why| {
            Stop::new(
                format!("the plan cannot be printed: {why}"),
                "this is a fault of the program; please report it",
            )
        })?;
        terminal::result(&format!("{text}\n"));
        return Ok(Status::Good);
    }
    let page = preparation::compose(&plan);
    let templates = Templates::built_in(&["plan"]).map_err(|wrong| {
        Stop::new(
            wrong.to_string(),
            "this is a fault of the program; please report it",
        )
    })?;
    let markdown = templates.markdown("plan", &page).map_err(|wrong| {
        Stop::new(
            wrong.to_string(),
            "this is a fault of the program; please report it",
        )
    })?;
    let Some(out) = &arguments.out else {
        terminal::result(&markdown.text);
        return Ok(Status::Good);
    };
    let target = without_ending(out);
    let html = templates.page(&markdown, &page);
    let outputs = [("md", markdown.text), ("html", html)].map(|(ending, text)| {
        let path = with_ending(&target, ending);
        (path, text)
    });
    if let Some((taken, _)) = outputs.iter().find(|(path, _)| files::exists(path)) {
        return Err(Stop::new(
            format!("{} is there already", taken.display()),
            "nothing was written; move it away, or give another name with --out",
        ));
    }
    for (path, text) in outputs {
        files::write(&path, &text)?;
        terminal::result(&format!("wrote {}\n", path.display()));
    }
    Ok(Status::Good)
}

/// `plan.md` and `plan.html` mean the pair of them.
pub(super) fn without_ending(out: &Path) -> std::path::PathBuf {
    let ending = out.extension().map(std::ffi::OsStr::to_ascii_lowercase);
    match ending.as_ref().and_then(|ending| ending.to_str()) {
        Some("md" | "html") => out.with_extension(""),
        _ => out.to_path_buf(),
    }
}

/// The name of a washing liquid that is not water.
fn wash_liquid<'a>(plan: &Preparation<'a>) -> Option<&'a str> {
    let is_other = matches!(plan.planned.wash_liquid, WashLiquid::Named(_));
    let mut lines = plan.lab.plan.iter();
    let (_, text) = lines.find(|(name, _)| is_other && name == "wash_liquid")?;
    Some(text.trim())
}

fn json<'a>(plan: &Preparation<'a>) -> Plan<'a> {
    let key = |index: usize| plan.lab.substances[index].key.as_str();
    let halving = plan.halving();
    Plan {
        lab: &plan.lab.id,
        groups: plan.groups,
        trials: plan.lab.trials,
        spare_percent: 100.0 * plan.spare,
        reagents: plan
            .reagents()
            .into_iter()
            .map(|reagent| self::reagent(plan, &reagent))
            .collect(),
        in_excess: plan.in_excess().into_iter().map(key).collect(),
        supplies: plan
            .planned
            .supplies
            .iter()
            .map(|supply| Supply {
                name: supply.name.clone(),
                each: supply.text.clone(),
                count: match (&supply.amount, &supply.counted) {
                    (None, Some((each, _))) => Some(plan.count_for_all(*each)),
                    _ => None,
                },
            })
            .collect(),
        water_ml: Amounts {
            each: millilitres(plan.water_each()),
            all: millilitres(plan.for_all(plan.water_each())),
        },
        wash_liquid: wash_liquid(plan),
        wash_liquid_ml: Amounts {
            each: millilitres(plan.planned.wash_liquid_each()),
            all: millilitres(plan.for_all(plan.planned.wash_liquid_each())),
        },
        liquid_left_ml: Amounts {
            each: millilitres(plan.liquid_each()),
            all: millilitres(plan.liquid_each() * plan.runs()),
        },
        vessels: plan.vessels(),
        expected: plan
            .expected()
            .into_iter()
            .map(|expected| Expected {
                substance: key(expected.substance),
                product: expected.product,
                amount: expected.amount,
                unit: expected.unit.symbol(),
                gas_ml: expected.gas.as_ref().map(|gas| millilitres(gas.volume)),
                titre_ml: expected.titre.map(|(_, volume)| millilitres(volume)),
                figures: expected.figures,
                three_figures: expected.three_figures(),
                measurable: expected.measurable,
            })
            .collect(),
        percent_yield_standard_uncertainty: plan.yield_uncertainty(),
        halving_factor: halving.as_ref().map(|halving| halving.factor),
        halving_of: halving.map_or_else(Vec::new, |halving| {
            let items = plan.planned.items().iter().map(|(item, _)| *item);
            items
                .filter(|item| halving.only.is_none_or(|only| only == *item))
                .map(|item| item_name(plan, item))
                .collect()
        }),
        reactants: plan
            .reaches()
            .into_iter()
            .map(|reach| Reach {
                substance: key(reach.substance),
                times_needed: reach.times,
            })
            .collect(),
        oven_shelves: plan.oven_shelves(),
    }
}

fn millilitres(litres: f64) -> f64 {
    1000.0 * litres
}

/// The key of a substance, or the name of a reading.
fn item_name<'a>(plan: &Preparation<'a>, item: Item) -> &'a str {
    match item {
        Item::Substance(index) => plan.lab.substances[index].key.as_str(),
        Item::Reading(reading) => plan
            .lab
            .readings()
            .nth(reading)
            .map_or("", |(_, asked)| asked.name.as_str()),
    }
}

fn reagent<'a>(plan: &Preparation<'a>, reagent: &planning::Reagent) -> Reagent<'a> {
    let unit = reagent.each.unit;
    let scale = 10.0_f64.powi(unit.power_to_base());
    let name = item_name(plan, reagent.item);
    let substance = matches!(reagent.item, Item::Substance(_));
    Reagent {
        substance: substance.then_some(name),
        reading: (!substance).then_some(name),
        unit: unit.symbol(),
        each: reagent.each.base / scale,
        all: reagent.all / scale,
        moles: reagent.moles,
        grams: reagent.grams,
        concentration: reagent.concentration,
        dissolved_concentration: reagent.dissolved.map(|(_, concentration)| concentration),
    }
}
