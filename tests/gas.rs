//! Moles of gas held against published constants and vapour pressures.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

mod support;

use std::fs;

use gramleaf::chem::water;
use gramleaf::measure::Decimal;
use gramleaf::measure::rounding;
use gramleaf::working::State;

/// The state of `amount`, a quantity worked from a volume, a temperature and a pressure.
fn amount(expression: &str, volume: &str, celsius: &str, pressure: &str) -> State {
    let lab = format!(
        r#"
id = "gas"
title = "Gas"
equation = "Mg(s) + 2 HCl(aq) -> MgCl2(aq) + H2(g)"
[ask]
amount = true
[substance.magnesium]
formula = "Mg"
before = "excess"
[substance.acid]
formula = "HCl"
before = "excess"
[find.amount]
title = "moles of gas"
value = "{expression}"
[instrument.tube]
unit = "mL"
tolerance = "0.1 mL"
[instrument.thermometer]
unit = "°C"
tolerance = "0.1 °C"
[instrument.barometer]
unit = "kPa"
tolerance = "0.1 kPa"
[day.1]
title = "All"
readings = [
  {{ name = "volume", label = "volume", unit = "mL" }},
  {{ name = "celsius", label = "temperature", unit = "°C" }},
  {{ name = "pressure", label = "pressure", unit = "kPa" }},
]
"#
    );
    let data = format!(
        "[who]\nlab = \"gas\"\ngroup = \"1-01\"\n[day.1]\nvolume = \"{volume}\"\ncelsius = \"{celsius}\"\npressure = \"{pressure}\"\n"
    );
    support::worked(&lab, &data, |_, graph, _, worked| {
        worked.state(graph.find("amount").unwrap()).clone()
    })
}

/// One mole of gas fills these volumes: CODATA 2022 molar volumes of an ideal gas, NIST (physics.nist.gov/constants), in L.
#[test]
fn a_molar_volume_holds_a_mole() {
    for (volume, celsius, pressure) in [
        ("22.413969545 L", "0.00 °C", "101.325 kPa"),
        ("22.710954641 L", "0.00 °C", "100.000 kPa"),
        ("22.710954641 L", "0.00 °C", "1000.00 hPa"),
        // At 25 °C from the same constant: 298.15 ÷ 273.15 of it.
        ("24.789570296 L", "25.00 °C", "100.000 kPa"),
    ] {
        let state = amount("gas(volume, celsius, pressure)", volume, celsius, pressure);
        let found = state.known().unwrap().approximate();
        assert!((found - 1.0).abs() < 1e-9, "{volume}: {found}");
    }
}

/// Wagner and Pruß as released by IAPWS (SR1-86), the column of that name: the table of 1992–93 and the rounding to 0.01 kPa stay
/// within 0.01 kPa of it.
#[test]
fn vapour_pressures_agree_with_the_equation_of_state() {
    let table = fs::read_to_string("tests/reference/water_vapour_pressure.tsv").unwrap();
    let mut rows = 0;
    for row in table.lines().skip(1) {
        let cells: Vec<&str> = row.split('\t').collect();
        let pascal: f64 = cells[2].parse().unwrap();
        let celsius = Decimal::parse(cells[0]).unwrap().to_exact();
        let (found, _) = water::vapour_pressure(&celsius).unwrap();
        let off = rounding::to_f64(&found) - pascal / 1000.0;
        assert!(off.abs() < 0.009, "{} °C: {off}", cells[0]);
        rows += 1;
    }
    assert_eq!(rows, water::HIGHEST + 1);
}

#[test]
fn over_water_only_the_rest_of_the_pressure_is_the_gas() {
    let wet = amount(
        "gas_over_water(volume, celsius, pressure)",
        "38.4 mL",
        "21.5 °C",
        "100.6 kPa",
    );
    let dry = amount(
        "gas(volume, celsius, pressure)",
        "38.4 mL",
        "21.5 °C",
        "100.6 kPa",
    );
    let (wet, dry) = (wet.known().unwrap(), dry.known().unwrap());
    let share = wet.approximate() / dry.approximate();
    assert!((share - (100.6 - 2.57) / 100.6).abs() < 1e-12, "{share}");
    // A warmer gas is less of it, and has more vapour beside it: the slope by temperature is steeper over water.
    let slope = |value: &gramleaf::working::Value| {
        let by_celsius = value.slopes.values().copied();
        by_celsius.fold(f64::INFINITY, f64::min)
    };
    assert!(slope(wet) < slope(dry) && slope(dry) < 0.0);
}

#[test]
fn where_the_table_ends_there_is_no_value_and_the_reason_is_said() {
    let state = amount(
        "gas_over_water(volume, celsius, pressure)",
        "38.4 mL",
        "45.0 °C",
        "100.6 kPa",
    );
    let State::Undefined(reason) = state else {
        panic!("{state:?}");
    };
    assert!(reason.contains("from 0 to 40 °C"), "{reason}");
}
