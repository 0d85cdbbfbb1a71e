//! Hydrates whose number of waters is to be found: heated, made, and where it cannot be.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

mod support;

use gramleaf::chem::Equation;
use gramleaf::working::Graph;
use gramleaf::working::Worked;

const BENCH: &str = r#"
[instrument.balance]
unit = "g"
readability = "0.001 g"
[day.1]
title = "All"
readings = [
  { name = "dish", label = "dish" },
  { name = "dish_salt", label = "dish with salt" },
  { name = "dish_crystals", label = "dish with crystals" },
]
"#;

/// 1.204 g of MgSO4 and 2.465 g of its hydrate: (1.261 / 18.015) / (1.204 / 120.36), worked by hand from IUPAC abridged weights.
const DATA: &str = r#"
[who]
lab = "waters"
group = "1-01"
[day.1]
dish = "20.000 g"
dish_salt = "21.204 g"
dish_crystals = "22.465 g"
"#;

const X: f64 = 1.261 / 18.015 / (1.204 / 120.361);

fn lab(equation: &str, substances: &str) -> String {
    format!("id = \"waters\"\ntitle = \"Waters\"\nequation = \"{equation}\"\n{substances}{BENCH}")
}

fn value(graph: &Graph, worked: &Worked<'_>, id: &str) -> f64 {
    let step = graph
        .find(id)
        .unwrap_or_else(|| panic!("there is no step {id}"));
    worked.value(step).unwrap().approximate()
}

#[test]
fn a_hydrate_that_is_made_gives_its_waters_and_no_yield_without_a_molar_mass() {
    let made = lab(
        "MgSO4(s) + x H2O(l) -> MgSO4·xH2O(s)",
        r#"
[substance.salt]
formula = "MgSO4"
before = "dish_salt - dish"
[substance.water]
formula = "H2O"
before = "excess"
[substance.crystals]
formula = "MgSO4·xH2O"
after = "dish_crystals - dish"
yield = true
waters = 7
"#,
    );
    support::worked(&made, DATA, |_, graph, _, worked| {
        let found = value(graph, worked, "waters_crystals");
        assert!((found / X - 1.0).abs() < 1e-4, "{found} {X}");
        // A hydrate without its x has no molar mass, and x waters no share.
        for id in [
            "molar_mass_crystals",
            "theoretical_crystals",
            "percent_yield",
            "needed_water",
        ] {
            assert!(graph.find(id).is_none(), "{id}");
        }
    });
}

#[test]
fn a_hydrate_that_is_heated_gives_the_same_with_its_water_weighed_or_not() {
    let crystals = r#"
[substance.crystals]
formula = "MgSO4·xH2O"
before = "dish_crystals - dish"
[substance.salt]
formula = "MgSO4"
after = "dish_salt - dish"
"#;
    let water = "[substance.water]\nformula = \"H2O\"\nafter = \"dish_crystals - dish_salt\"\n";
    for substances in [crystals.to_owned(), format!("{crystals}{water}")] {
        let heated = lab("MgSO4·xH2O(s) -> MgSO4(s) + x H2O(g)", &substances);
        support::worked(&heated, DATA, |_, graph, _, worked| {
            let found = value(graph, worked, "waters_crystals");
            assert!((found / X - 1.0).abs() < 1e-4, "{found} {X}");
        });
    }
}

/// Water that counts as x moles is held against no coefficient, even where the moles of the hydrate are known.
#[test]
fn x_waters_are_not_predicted_as_one() {
    let known = lab(
        "MgSO4·xH2O(s) -> MgSO4(s) + x H2O(g)",
        r#"
[given]
crystals = "0.01000 mol"
[substance.crystals]
formula = "MgSO4·xH2O"
before = "crystals"
[substance.salt]
formula = "MgSO4"
after = "dish_salt - dish"
yield = true
[substance.water]
formula = "H2O"
after = "dish_crystals - dish_salt"
yield = true
"#,
    );
    support::worked(&known, DATA, |_, graph, _, worked| {
        assert!((value(graph, worked, "theoretical_salt") - 1.2036).abs() < 1e-4);
        assert!(graph.find("theoretical_water").is_none());
        assert!((value(graph, worked, "waters_crystals") / X - 1.0).abs() < 1e-4);
    });
}

#[test]
fn waters_known_and_unknown_in_one_formula_are_refused() {
    let equation = "MgSO4·5H2O·xH2O -> MgSO4·5H2O + x H2O";
    let wrong = Equation::parse(equation).unwrap_err();
    assert!(wrong.message.contains("twice"), "{}", wrong.message);
}
