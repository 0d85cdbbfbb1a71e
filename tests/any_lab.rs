//! Labs of kinds that no built-in lab shows, each against values worked by hand.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

mod support;

use gramleaf::working::State;

// Atomic weights, g/mol: T. Prohaska et al., Pure Appl. Chem. 94 (2022) 573, abridged to five figures.
const H: f64 = 1.0080;
const C: f64 = 12.011;
const O: f64 = 15.999;
const NA: f64 = 22.990;
const ZN: f64 = 65.38;
const I: f64 = 126.90;

/// Holds steps of a lab to values.
fn holds(lab: &str, data: &str, expected: &[(&str, f64)]) {
    support::worked(lab, data, |_, graph, _, worked| {
        for (id, value) in expected {
            let step = graph.find(id).unwrap_or_else(|| panic!("no step {id}"));
            let found = worked
                .value(step)
                .unwrap_or_else(|| panic!("{id} has no value"));
            let found = found.approximate();
            let near = (found - value).abs() <= 1e-12 * value.abs().max(1.0);
            assert!(near, "{id}: {found} instead of {value}");
        }
    });
}

const TWO_PRODUCTS: &str = r#"
id = "two-products"
title = "Two solids from one heating"
equation = "2 NaHCO3(s) -> Na2CO3(s) + H2O(g) + CO2(g)"
[substance.soda]
formula = "NaHCO3"
before = "tube_with_soda - tube"
[substance.carbonate]
formula = "Na2CO3"
after = "tube_with_residue - tube"
yield = true
[substance.gas]
formula = "CO2"
after = "absorber_after - absorber"
yield = true
[instrument.balance]
unit = "g"
readability = "0.001 g"
[day.1]
title = "Heat"
readings = [
 { name = "tube", label = "tube, empty" },
 { name = "tube_with_soda", label = "tube with soda" },
 { name = "tube_with_residue", label = "tube with residue" },
 { name = "absorber", label = "absorber before" },
 { name = "absorber_after", label = "absorber after" },
]
[ask]
usual = true
"#;

#[test]
fn two_products_weighed_have_a_yield_each() {
    let data = r#"
[who]
lab = "two-products"
group = "1-01"
[day.1]
tube = "20.000 g"
tube_with_soda = "23.000 g"
tube_with_residue = "21.900 g"
absorber = "50.000 g"
absorber_after = "50.750 g"
"#;
    let soda = 3.000 / (NA + H + C + 3.0 * O);
    let carbonate = soda / 2.0 * (2.0 * NA + C + 3.0 * O);
    let gas = soda / 2.0 * (C + 2.0 * O);
    holds(
        TWO_PRODUCTS,
        data,
        &[
            ("theoretical_carbonate", carbonate),
            ("theoretical_gas", gas),
            ("collected_carbonate", 1.900),
            ("collected_gas", 0.750),
            ("percent_yield_carbonate", 100.0 * 1.900 / carbonate),
            ("percent_yield_gas", 100.0 * 0.750 / gas),
        ],
    );
    support::worked(TWO_PRODUCTS, data, |_, graph, _, _| {
        assert!(graph.find("percent_yield").is_none());
    });
}

const TWO_LEFT: &str = r#"
id = "two-left"
title = "Zinc and iodine, both left"
equation = "Zn(s) + I2(s) -> ZnI2(s)"
[substance.zinc]
formula = "Zn"
before = "zinc"
after = "zinc_left"
[substance.iodine]
formula = "I2"
before = "iodine"
after = "iodine_left"
[substance.salt]
formula = "ZnI2"
after = "dish_with_salt - dish"
yield = true
[instrument.balance]
unit = "g"
readability = "0.001 g"
[day.1]
title = "All"
readings = [
 { name = "zinc", label = "zinc taken" },
 { name = "iodine", label = "iodine taken" },
 { name = "zinc_left", label = "zinc left" },
 { name = "iodine_left", label = "iodine left" },
 { name = "dish", label = "dish, empty" },
 { name = "dish_with_salt", label = "dish with salt" },
]
[ask]
usual = true
"#;

#[test]
fn two_reactants_measured_after_each_tell_how_far_it_went() {
    let data = r#"
[who]
lab = "two-left"
group = "1-01"
[day.1]
zinc = "2.014 g"
iodine = "2.006 g"
zinc_left = "1.517 g"
iodine_left = "0.060 g"
dish = "17.224 g"
dish_with_salt = "19.630 g"
"#;
    let iodine = 2.006 / (2.0 * I);
    let salt = ZN + 2.0 * I;
    let (zinc_used, iodine_used) = (2.014 - 1.517, 2.006 - 0.060);
    let made = 19.630 - 17.224;
    holds(
        TWO_LEFT,
        data,
        &[
            ("theoretical_salt", iodine * salt),
            ("percent_yield", 100.0 * made / (iodine * salt)),
            ("used_zinc", zinc_used),
            ("used_iodine", iodine_used),
            ("completion_zinc", zinc_used / (iodine * ZN)),
            ("completion_iodine", iodine_used / 2.006),
            (
                "recovery_salt_iodine",
                made / (iodine_used / (2.0 * I) * salt),
            ),
            ("ratio_salt_zinc", made / salt / (zinc_used / ZN)),
            (
                "mass_kept",
                100.0 * (made + 1.517 + 0.060) / (2.014 + 2.006),
            ),
        ],
    );
    support::worked(TWO_LEFT, data, |lab, graph, record, worked| {
        // What runs out needs all of itself: no ratio of one to one stands in its line.
        let needed = graph.find("needed_iodine").unwrap();
        let text = worked.text(lab, graph, record, needed).unwrap();
        assert!(
            text.given.iter().all(|given| !given.contains(" for 1")),
            "{:?}",
            text.given
        );
        // Nothing of the one that runs out should be left: there is no percentage of nothing.
        let state = worked.state(graph.find("left_error_iodine").unwrap());
        assert!(matches!(state, State::Undefined(_)), "{state:?}");
    });
}

/// A reactant that limits and is taken as a solution, with what is left of the metal.
#[test]
fn a_solution_may_be_what_runs_out() {
    let lab = r#"
id = "magnesium-in-acid"
title = "Magnesium in little acid"
equation = "Mg(s) + 2 HCl(aq) -> MgCl2(aq) + H2(g)"
[substance.magnesium]
formula = "Mg"
before = "ribbon"
after = "ribbon_left"
[substance.acid]
formula = "HCl"
before = "volume * molarity"
[given]
molarity = "0.500 ± 0.001 mol/L"
[instrument.balance]
unit = "g"
readability = "0.0001 g"
[instrument.pipette]
unit = "mL"
tolerance = "0.03 mL"
[day.1]
title = "All"
readings = [
  { name = "ribbon", label = "ribbon" },
  { name = "volume", label = "acid", unit = "mL" },
  { name = "ribbon_left", label = "ribbon left, dry" },
]
"#;
    let data = "[who]\nlab = \"magnesium-in-acid\"\ngroup = \"1-01\"\n[day.1]\nribbon = \"0.2431 g\"\nvolume = \"20.00 mL\"\nribbon_left = \"0.1230 g\"\n";
    let needed = 0.020 * 0.500 / 2.0 * 24.305;
    holds(
        lab,
        data,
        &[
            ("moles_acid", 0.0100),
            ("needed_magnesium", needed),
            ("expected_left_magnesium", 0.2431 - needed),
            ("expected_left_acid", 0.0),
            ("measured_left_magnesium", 0.1230),
            (
                "left_error_magnesium",
                100.0 * (0.1230 - (0.2431 - needed)) / (0.2431 - needed),
            ),
            ("completion_magnesium", (0.2431 - 0.1230) / needed),
        ],
    );
}
