//! What a student or a teacher is told about readings that cannot be used: the fault itself, and a next step that fits it.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

use std::fs;
use std::path::Path;
use std::process::Command;

/// What the program printed, results first.
fn gramleaf(folder: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gramleaf"));
    let output = command
        .current_dir(folder)
        .args(arguments)
        .output()
        .unwrap();
    let (out, err) = (output.stdout, output.stderr);
    format!(
        "{}{}",
        String::from_utf8_lossy(&out),
        String::from_utf8_lossy(&err)
    )
}

/// A file of the built-in gas lab, whose second trial is read so.
fn gas_file(temperature: &str, pressure: &str) -> String {
    format!(
        r#"
[who]
lab = "hydrogen-over-water"
group = "3-07"
[trial.1]
ribbon = "0.0376 g"
gas_volume = "38.1 mL"
gas_temperature = "21.0 °C"
air_pressure = "101.3 kPa"
[trial.2]
ribbon = "0.0376 g"
gas_volume = "38.1 mL"
gas_temperature = "{temperature}"
air_pressure = "{pressure}"
"#
    )
}

#[test]
fn readings_of_a_gas_that_cannot_be_are_told_with_what_to_look_at() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let check = |temperature: &str, pressure: &str| {
        fs::write(at.join("3-07.toml"), gas_file(temperature, pressure)).unwrap();
        gramleaf(at, &["check", "3-07.toml"])
    };
    let cases = [
        ("45 °C", "101.3 kPa", "warning[odd-temperature]"),
        ("45 °C", "101.3 kPa", "reaches from 0 to 40 °C"),
        ("-0.5 °C", "101.3 kPa", "reaches from 0 to 40 °C"),
        ("21.0 °C", "760 kPa", "is no usual pressure of the air"),
        ("21.0 °C", "13 hPa", "is no usual pressure of the air"),
        // The fault is the pressure, and a gas is neither weighed nor dried.
        ("21.0 °C", "760", "the hydrogen collected is far more than"),
        (
            "21.0 °C",
            "760",
            "look at the volume, the temperature and the pressure",
        ),
        (
            "21.0 °C",
            "760 mmHg",
            "multiply the number by 0.133322 and type it in kPa",
        ),
        (
            "21.0 °C",
            "1.013 bar",
            "multiply the number by 100 and type it in kPa",
        ),
        ("70 °F", "101.3 kPa", "take 32 from the number"),
    ];
    for (temperature, pressure, expected) in cases {
        let told = check(temperature, pressure);
        assert!(told.contains(expected), "{temperature}, {pressure}: {told}");
        for silly in ["did you mean", "if it is wet", "hydrogen weighed"] {
            assert!(!told.contains(silly), "{temperature}, {pressure}: {told}");
        }
    }
    for (temperature, pressure) in [
        ("40 °C", "1013 hPa"),
        ("0.0 °C", "101.3 kPa"),
        ("21.0 °C", "65.0 kPa"),
    ] {
        let told = check(temperature, pressure);
        for odd in ["reaches from", "no usual pressure"] {
            assert!(!told.contains(odd), "{temperature}, {pressure}: {told}");
        }
    }
}
