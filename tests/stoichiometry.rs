//! Runs published worked examples as labs: description and readings in, the book's values out.

mod support;

use std::fs;

use gramleaf::chem::AtomicWeights;
use gramleaf::chem::Formula;
use gramleaf::measure::Decimal;
use gramleaf::working::State;
use gramleaf::working::Value as Known;
use toml::Table;
use toml::Value;

/// Examples that are no lab of this program, with the reason.
const NOT_EXPRESSED: &[(&str, &str)] = &[
    ("S07", "two masses without an equation or a substance"),
    (
        "S17",
        "a gas over water: no equation, and pressures in torr",
    ),
    (
        "S18",
        "a gas over water: no equation, and pressures in torr",
    ),
    ("S21", "the volume of a gas needs the gas constant and atm"),
    ("S22", "the volume of a gas needs the gas constant and K"),
    ("S23", "the volume of a gas needs the gas constant and K"),
    ("S32", "the volume of a gas needs the gas constant and atm"),
];

/// Two programs that work in binary arithmetic agree to this share; ours only loses the last digit.
const RELATIVE: f64 = 1e-9;

/// Source: textbooks, named in the head of the file and in each example. A printed value may be off by half a unit of its last
/// figure, and where the book prints its own molar masses by the sum of their relative differences from ours besides.
/// Values that the book itself gets wrong must differ, so that none is listed for nothing.
#[test]
fn published_examples_come_out_as_printed() {
    let text = fs::read_to_string("tests/reference/stoichiometry.toml").expect("the examples");
    let table: Table = text.parse().expect("TOML");
    let (mut printed, mut recomputed) = (0, 0);
    for example in table["example"].as_array().expect("examples") {
        let id = text_of(&example["id"]);
        let listed = NOT_EXPRESSED.iter().any(|(known, _)| *known == id);
        assert_ne!(
            listed,
            example.get("substances").is_some(),
            "{id} must be either worked or listed with a reason"
        );
        if listed {
            continue;
        }
        let (lab, data) = (lab_of(example), data_of(example));
        support::worked(&lab, &data, |lab, graph, _, worked| {
            let state = |step: &str| {
                let found = graph.find(step);
                worked.state(found.unwrap_or_else(|| panic!("{id}: no step {step}")))
            };
            let known = |step: &str| match state(step) {
                State::Known(value) => value,
                other => panic!("{id} {step}: {other:?}"),
            };
            let limiting = || {
                let smallest = &known("limiting").smallest;
                assert_eq!(smallest.len(), 1, "{id}: one reactant runs out first");
                lab.substances[smallest[0]].key.clone()
            };
            for (step, value) in entries(example, "worked") {
                recomputed += 1;
                if let Some(name) = value.as_str() {
                    assert_eq!(limiting(), name, "{id}");
                    continue;
                }
                let (found, expected) = (
                    known(step).approximate(),
                    value.as_float().expect("a number"),
                );
                assert!(
                    (found - expected).abs() <= RELATIVE * expected.abs(),
                    "{id} {step}: {found} is not {expected}"
                );
            }
            for (step, value) in entries(example, "printed") {
                printed += 1;
                let value = text_of(value);
                let agrees = if step == "limiting" {
                    limiting() == value
                } else {
                    let found = known(step).approximate();
                    (found - number(value).to_f64()).abs() <= allowed(example, value)
                };
                let astray = entries(example, "astray").any(|(wrong, _)| wrong == step);
                assert_ne!(
                    agrees,
                    astray,
                    "{id} {step}: {value} is printed, we find {:?}",
                    state(step).known().map(Known::approximate)
                );
            }
        });
    }
    assert!(
        printed >= 25 && recomputed >= 25,
        "only {printed} printed and {recomputed} unrounded values were compared"
    );
}

fn text_of(value: &Value) -> &str {
    value.as_str().expect("a text")
}

fn number(text: &str) -> Decimal {
    Decimal::parse(text).unwrap_or_else(|why| panic!("{text}: {why:?}"))
}

/// The entries of one of an example's tables, if it has that table.
fn entries<'e>(example: &'e Value, table: &str) -> impl Iterator<Item = (&'e str, &'e Value)> {
    let table = example.get(table).and_then(Value::as_table);
    table
        .into_iter()
        .flatten()
        .map(|(key, value)| (key.as_str(), value))
}

/// How far our value may lie from the printed one.
fn allowed(example: &Value, printed: &str) -> f64 {
    let printed = number(printed);
    let half_unit = 0.5 * 10_f64.powi(-printed.places());
    let weights = AtomicWeights::default();
    let apart: f64 = entries(example, "printed_molar_mass")
        .map(|(formula, theirs)| {
            let formula = Formula::parse(formula).expect("a formula");
            let ours = weights
                .molar_mass(&formula)
                .expect("known elements")
                .to_f64();
            (number(text_of(theirs)).to_f64() / ours - 1.0).abs()
        })
        .sum();
    // A value that ends in 5 may be printed up or down: the edge belongs to it.
    (half_unit + apart * printed.to_f64().abs()) * (1.0 + RELATIVE)
}

/// The unit of a reading: the one behind its typed value, for an empty box the one the example tells, else g.
fn unit<'e>(example: &'e Value, name: &str, typed: &'e str) -> &'e str {
    let told = || {
        entries(example, "units")
            .find(|(told, _)| *told == name)
            .map_or("g", |(_, unit)| text_of(unit))
    };
    typed.split_once(' ').map_or_else(told, |(_, unit)| unit)
}

/// The name of a substance in the lab description: its formula without capitals and brackets.
fn key(formula: &str) -> String {
    let kept = formula.chars().filter(char::is_ascii_alphanumeric);
    kept.map(|c| c.to_ascii_lowercase()).collect()
}

/// The lab description of an example.
fn lab_of(example: &Value) -> String {
    let equation = &example["equation"];
    let substances = example["substances"].as_array().expect("substances");
    let described = |formula: &str| substances.iter().any(|s| text_of(&s["formula"]) == formula);
    let mut lab = format!("id = \"example\"\ntitle = \"Example\"\nequation = {equation}\n");
    // What the example says nothing about there is enough of.
    let left = text_of(equation).split(" -> ").next().unwrap_or_default();
    for reactant in left
        .split(" + ")
        .filter_map(|term| term.split(' ').next_back())
    {
        if !described(reactant) {
            let key = key(reactant);
            lab.push_str(&format!(
                "[substance.{key}]\nformula = \"{reactant}\"\nbefore = \"excess\"\n"
            ));
        }
    }
    for substance in substances {
        lab.push_str(&format!(
            "[substance.{}]\n",
            key(text_of(&substance["formula"]))
        ));
        for (name, value) in substance.as_table().expect("a table") {
            lab.push_str(&format!("{name} = {value}\n"));
        }
    }
    lab.push_str("[given]\n");
    for (name, value) in entries(example, "given") {
        lab.push_str(&format!("{name} = {value}\n"));
    }
    lab.push_str("[day.1]\ntitle = \"Readings\"\nreadings = [\n");
    for (name, value) in entries(example, "inputs") {
        let unit = unit(example, name, text_of(value));
        lab.push_str(&format!("{{ name = \"{name}\", unit = \"{unit}\" }},\n"));
    }
    lab.push_str("]\n");
    for (id, value) in entries(example, "find") {
        lab.push_str(&format!("[find.{id}]\nvalue = {value}\n"));
    }
    lab
}

/// The data file of an example.
fn data_of(example: &Value) -> String {
    let mut data = "[who]\nlab = \"example\"\ngroup = \"1\"\n[day.1]\n".to_owned();
    for (name, value) in entries(example, "inputs") {
        data.push_str(&format!("{name} = {value}\n"));
    }
    data
}
