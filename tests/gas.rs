//! Moles of gas held against published constants and vapour pressures.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/gas_lab.rs"]
mod gas_lab;
#[path = "support/program.rs"]
mod program;
mod support;

use std::fs;
use std::path::Path;

use gramleaf::chem::water;
use gramleaf::measure::Decimal;
use gramleaf::working::State;
use program::gramleaf;

fn amount(expression: &str, volume: &str, celsius: &str, pressure: &str) -> State {
    gas_lab::amount("en", expression, volume, celsius, pressure)
}

/// One mole of gas fills these volumes: CODATA 2022 molar volumes of an ideal gas, NIST (physics.nist.gov/constants), in L.
#[test]
fn a_molar_volume_holds_a_mole() {
    for (volume, celsius, pressure) in [
        ("22.413969545 L", "0.00 °C", "101.325 kPa"),
        ("22.710954641 L", "0.00 °C", "100.000 kPa"),
        ("22.710954641 L", "0.00 °C", "1000.00 hPa"),
        ("22.710954641 L", "0.00 °C", "100000 Pa"),
        ("22.710954641 L", "0.00 °C", "1.00000 bar"),
        ("22.413969545 L", "0.00 °C", "1.00000 atm"),
        ("22.413969545 L", "0.00 °C", "760.000 Torr"),
        // At 25 °C from the same constant: 298.15 ÷ 273.15 of it.
        ("24.789570296 L", "25.00 °C", "100.000 kPa"),
    ] {
        let state = amount("gas(volume, celsius, pressure)", volume, celsius, pressure);
        let found = state.known().unwrap().approximate();
        assert!((found - 1.0).abs() < 1e-9, "{volume}: {found}");
    }
}

/// Wagner and Pruß as released by IAPWS (SR1-86), the column of that name: the table of 1992–93 and the rounding to 0.01 kPa stay
/// within 0.009 kPa of it (0.005 of rounding, and 0.0037 between the sources at 40 °C).
#[test]
fn vapour_pressures_agree_with_the_equation_of_state() {
    let table = fs::read_to_string("tests/reference/water_vapour_pressure.tsv").unwrap();
    let mut rows = 0;
    for row in table.lines().skip(1) {
        let cells: Vec<&str> = row.split('\t').collect();
        let pascal: f64 = cells[2].parse().unwrap();
        let celsius = Decimal::parse(cells[0]).unwrap().to_exact();
        let (found, _) = water::vapour_pressure(&celsius).unwrap();
        let off = found.to_f64() - pascal / 1000.0;
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
        let by_celsius = value.slopes.iter().map(|(_, slope)| *slope);
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

/// No amount of gas comes out below zero, whatever was typed.
#[test]
fn a_gas_that_cannot_be_has_no_value_and_the_reason_is_said() {
    let wet = "gas_over_water(volume, celsius, pressure)";
    let dry = "gas(volume, celsius, pressure)";
    for (expression, celsius, pressure, why) in [
        (wet, "21.0 °C", "1.0 kPa", "water vapour"),
        (wet, "21 °C", "2.49 kPa", "water vapour"),
        (wet, "21.0 °C", "0 kPa", "water vapour"),
        (dry, "-273.15 °C", "100.6 kPa", "nothing is as cold"),
        (dry, "-300 °C", "100.6 kPa", "nothing is as cold"),
    ] {
        let state = amount(expression, "38.4 mL", celsius, pressure);
        let State::Undefined(reason) = state else {
            panic!("{celsius} {pressure}: {state:?}");
        };
        assert!(reason.contains(why), "{celsius} {pressure}: {reason}");
    }
}

/// hPa typed where kPa is asked: the fault is named, and nobody is sent to a vessel or a balance.
#[test]
fn a_pressure_in_the_wrong_unit_is_told_in_words_for_a_gas() {
    let home = tempfile::tempdir().unwrap();
    let lab = fs::read_to_string("samples/hydrogen-over-water/lab.toml").unwrap();
    let data = fs::read_to_string("samples/hydrogen-over-water/9-02.toml").unwrap();
    let data = data.replacen("\"100.6 kPa\"", "\"1006\"", 1);
    fs::write(home.path().join("lab.toml"), lab).unwrap();
    fs::write(home.path().join("9-02.toml"), data).unwrap();
    let said = gramleaf(home.path(), &["check", "9-02.toml"]);
    for words in [
        "is no usual pressure of the air",
        "1000 hPa",
        "read in kPa",
        "impossible, to be read again",
        "1 error.",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    // One slip, one message.
    for words in [
        "vessel",
        "weighed",
        "dry it",
        "could have formed",
        "unusually high",
    ] {
        assert!(!said.contains(words), "{words}: {said}");
    }
}

/// What stands on a line has to come out: 38.4 mL as the difference of two marks are 0.0384 L for R, and for a molarity.
#[test]
fn a_difference_of_volumes_is_turned_into_litres_on_the_line() {
    let lab = r#"
id = "marks"
title = "Marks"
equation = "NaOH(aq) + HCl(aq) -> NaCl(aq) + H2O(l)"
[substance.base]
formula = "NaOH"
before = "(lower - upper) * molarity"
[substance.acid]
formula = "HCl"
before = "excess"
[given]
molarity = "0.100 mol/L"
[find.gas]
title = "moles of gas"
value = "gas(lower - upper, celsius, pressure)"
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
  { name = "upper", label = "upper mark", unit = "mL" },
  { name = "lower", label = "lower mark", unit = "mL" },
  { name = "celsius", label = "temperature", unit = "°C" },
  { name = "pressure", label = "pressure", unit = "kPa" },
]
"#;
    let data = "[who]\nlab = \"marks\"\ngroup = \"1-01\"\n[day.1]\nupper = \"11.6 mL\"\nlower = \"50.0 mL\"\ncelsius = \"21.5 °C\"\npressure = \"100.6 kPa\"\n";
    support::worked(lab, data, |lab, graph, record, worked| {
        for id in ["gas", "moles_base"] {
            let step = graph.find(id).unwrap();
            let text = worked.text(lab, graph, record, step).unwrap();
            let mut lines = String::new();
            text.chains.iter().for_each(|chain| chain.plain(&mut lines));
            let line = lines.lines().find(|line| line.contains("50.0")).unwrap();
            assert!(line.contains("1\u{a0}L / 1000\u{a0}mL"), "{id}: {line}");
        }
    });
}

/// A figure that no reading gave has its source on the page, and only on pages that use it.
#[test]
fn the_page_names_the_sources_of_its_constants() {
    let home = tempfile::tempdir().unwrap();
    for (sample, gas) in [
        ("hydrogen-over-water/9-02", true),
        ("zinc-copper-sulfate/3-07", false),
    ] {
        let data = format!("samples/{sample}.toml");
        let out = home.path().display().to_string();
        gramleaf(Path::new("."), &["draft", &data, "--out", &out]);
        let (_, group) = sample.split_once('/').unwrap();
        let report = fs::read_to_string(home.path().join(format!("{group}.md"))).unwrap();
        for source in ["R by CODATA 2022", "CRC Handbook"] {
            assert_eq!(report.contains(source), gas, "{sample} {source}");
        }
    }
}

/// By hand for 34.1 mL at 21.5 °C and 100.92 kPa, vapour 2.56 kPa, R = 8.3145: (100.92 − 2.56) × 0.0341 ÷ (R × 294.65) = 0.001369 mol is
/// right; the whole pressure gives 0.001405, 21.5 in the place of 294.65 gives 0.01876.
#[test]
fn the_classic_slips_with_a_gas_are_told() {
    let home = tempfile::tempdir().unwrap();
    let lab = fs::read_to_string("samples/hydrogen-over-water/lab.toml").unwrap();
    fs::write(home.path().join("lab.toml"), lab).unwrap();
    for (typed, told) in [
        ("0.001405 mol", "shares the pressure?"),
        ("0.01876 mol", "From which zero"),
        ("0.0188 mol", "From which zero"),
        ("0.001369 mol", "matches your data"),
    ] {
        let data = format!(
            "[who]\nlab = \"hydrogen-over-water\"\ngroup = \"9-09\"\n[trial.1]\nribbon = \"0.0352 g\"\ngas_volume = \"34.1 mL\"\ngas_temperature = \"21.5 °C\"\nair_pressure = \"100.92 kPa\"\n[answers]\ncollected_hydrogen = \"{typed}\"\n"
        );
        fs::write(home.path().join("9-09.toml"), data).unwrap();
        let said = gramleaf(home.path(), &["check", "9-09.toml"]);
        assert!(said.contains(told), "{typed}: {said}");
    }
}

/// Pressures as barometers of other kinds show them, worked by hand with n = pV/(RT) at 21.0 °C and 38.1 mL, without water vapour.
#[test]
fn a_pressure_counts_in_the_unit_of_its_barometer() {
    let moles = |pressure: &str| {
        let state = amount(
            "gas(volume, celsius, pressure)",
            "38.1 mL",
            "21.0 °C",
            pressure,
        );
        state.known().unwrap().approximate()
    };
    // 757 mmHg are 100.925 047 kPa.
    let expected = 100.925_047 * 0.0381 / (8.314_462_618 * 294.15);
    for pressure in [
        "757 mmHg",
        "757 Torr",
        "757 mm Hg",
        "757.0 torr",
        "757 mmHg ± 1 mmHg",
    ] {
        let found = moles(pressure);
        assert!((found / expected - 1.0).abs() < 2e-7, "{pressure}: {found}");
    }
    let one = moles("101.325 kPa");
    for pressure in [
        "1 atm",
        "1.01325 bar",
        "101325 Pa",
        "760 Torr",
        "1013.25 mbar",
    ] {
        assert!((moles(pressure) / one - 1.0).abs() < 1e-9, "{pressure}");
    }
}

/// A lab whose own barometer shows mmHg: every document and sheet of it comes out, answers may be in any unit of pressure, and a
/// result is not shown in a unit whose factor is no power of ten.
#[test]
fn a_barometer_in_millimetres_of_mercury_serves_a_whole_lab() {
    let home = tempfile::tempdir().unwrap();
    let at = home.path();
    let find = |unit: &str| {
        format!(
            "\n[find.dry]\ntitle = \"the pressure doubled\"\nvalue = \"2 * air_pressure\"\nunit = \"{unit}\"\n\n[safety]"
        )
    };
    let lab = fs::read_to_string("samples/hydrogen-over-water/lab.toml")
        .unwrap()
        .replace("\"kPa\"", "\"mmHg\"")
        .replace("tolerance = \"0.1 kPa\"", "readability = \"1 mmHg\"")
        .replace(
            "percent_yield        =",
            "dry = true\npercent_yield        =",
        );
    let data = fs::read_to_string("samples/hydrogen-over-water/9-02.toml")
        .unwrap()
        .replacen("\"100.6 kPa\"", "\"755 mmHg\"", 1)
        .replace("[answers]", "[answers]\ndry = \"1510 Torr\"");
    fs::write(at.join("9-02.toml"), data).unwrap();
    let write = |unit: &str| {
        let lab = lab.replacen("\n[safety]", &find(unit), 1);
        fs::write(at.join("lab.toml"), lab).unwrap();
    };
    write("mmHg");
    let said = gramleaf(at, &["check", "9-02.toml"]);
    assert!(said.contains("results are not shown in mmHg"), "{said}");
    write("kPa");
    let said = gramleaf(at, &["check", "9-02.toml", "--key"]);
    assert!(
        !said.contains("error") && !said.contains("few-decimals"),
        "{said}"
    );
    let answer = said.lines().find(|line| line.contains("1510 Torr"));
    assert!(
        answer.is_some_and(|line| line.contains("matches your data")),
        "{said}"
    );
    gramleaf(at, &["draft", "9-02.toml", "--key"]);
    let report = fs::read_to_string(at.join("9-02.md")).unwrap();
    let report = report.replace('\u{a0}', " ");
    // A whole number of mmHg is good to 0.1 kPa, so the percent yield keeps three figures.
    assert!(report.contains("percent yield of hydrogen of trial 1: **97.8 %**"));
    assert!(
        report.contains("755 mmHg = 100.66 kPa") && report.contains("0.5 mmHg"),
        "{report}"
    );
    for sheet in ["bench", "prelab"] {
        let said = gramleaf(at, &["start", "lab.toml", "--sheet", sheet, "--out", sheet]);
        assert!(!said.contains("error"), "{sheet}: {said}");
    }
    let bench = fs::read_to_string(at.join("bench.md")).unwrap();
    assert!(bench.contains("mmHg"), "{bench}");
    let said = gramleaf(at, &["plan", "lab.toml"]);
    assert!(
        !said.contains("error") && said.contains("hydrogen"),
        "{said}"
    );
}
