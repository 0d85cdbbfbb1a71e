//! What a student or a teacher is told about readings that cannot be used: the fault itself, and a next step that fits it.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/program.rs"]
mod program;

use std::fs;

use program::gramleaf;

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
            "757 mm",
            "for a pressure type mmHg behind the number",
        ),
        ("21.0 °C", "29.8 inHg", "multiply the number by 3.38639"),
        ("21.0 °C", "350 mmHg", "is no usual pressure of the air"),
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
        ("21.0 °C", "757 mmHg"),
        ("21.0 °C", "757 mm Hg"),
        ("21.0 °C", "757 torr"),
        ("21.0 °C", "757.2 Torr"),
        ("21.0 °C", "0.998 atm"),
        ("21.0 °C", "1.013 bar"),
        ("21.0 °C", "101300 Pa"),
        ("0.0 °C", "101.3 kPa"),
        ("21.0 °C", "65.0 kPa"),
    ] {
        let told = check(temperature, pressure);
        for odd in [
            "reaches from",
            "no usual pressure",
            "is not a unit",
            "error",
        ] {
            assert!(!told.contains(odd), "{temperature}, {pressure}: {told}");
        }
    }
}

/// Web forms of other languages: who sent a form is no reading, and no address may stand in a data file by accident.
#[test]
fn addresses_of_senders_are_left_out_in_other_languages() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let table = "\u{feff}Zeitstempel;E-Mail-Adresse;Adresse e-mail;Deine Mail;group;ribbon (g);Wasserfarbe\r\n\
                 2026-03-02 10:11;lea@school.example;lea@school.example;lea@school.example;4-01;0,0376;blau\r\n";
    fs::write(at.join("web.csv"), table).unwrap();
    gramleaf(
        at,
        &[
            "import",
            "web.csv",
            "--lab",
            "hydrogen-over-water",
            "--out",
            "in",
        ],
    );
    let written = fs::read_to_string(at.join("in/4-01.toml")).unwrap();
    assert!(
        !written.contains("lea@") && !written.contains("2026-03-02"),
        "{written}"
    );
    assert!(
        written.contains("\"0,0376 g\"") && written.contains("\"blau\""),
        "{written}"
    );
}

#[test]
fn a_file_that_is_not_there_is_looked_for() {
    let folder = tempfile::tempdir().unwrap();
    let told = gramleaf(
        folder.path(),
        &["import", "no.csv", "--lab", "aspirin", "--out", "in"],
    );
    assert!(told.contains("there is no no.csv"), "{told}");
    assert!(told.contains("check the name and the folder"), "{told}");
    let told = gramleaf(
        folder.path(),
        &["import", ".", "--lab", "aspirin", "--out", "in"],
    );
    assert!(told.contains(". is a folder"), "{told}");
}

/// What sends a student back to a line fits how it was measured; and a form of several trials says whose answers it asks for.
#[test]
fn hints_fit_a_gas_and_plain_numbers_have_no_unit() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    gramleaf(
        at,
        &[
            "start",
            "hydrogen-over-water",
            "--group",
            "3-07",
            "--out",
            "form.toml",
        ],
    );
    let form = fs::read_to_string(at.join("form.toml")).unwrap();
    assert!(
        form.contains("# your own working of trial 1: number and unit"),
        "{form}"
    );
    let answers =
        "[answers]\ntheoretical_hydrogen = \"0.0031 mol\"\ncollected_hydrogen = \"0.0023 mol\"\n";
    fs::write(
        at.join("3-07.toml"),
        gas_file("21.0 °C", "101.3 kPa") + answers,
    )
    .unwrap();
    let told = gramleaf(at, &["check", "3-07.toml"]);
    assert!(told.contains("Write the law of gases"), "{told}");
    for silly in ["same vessel", "to grams"] {
        assert!(!told.contains(silly), "{told}");
    }
    let hydrate = "[who]\nlab = \"unknown-hydrate\"\n[day.1]\ncrucible = \"22.104 g\"\n\
                   crucible_with_crystals = \"24.483 g\"\ncrucible_heated = [\"23.302 g\"]\n\
                   [answers]\nwaters_crystals = \"6.586 mol\"\n";
    fs::write(at.join("x.toml"), hydrate).unwrap();
    let told = gramleaf(at, &["check", "x.toml"]);
    assert!(told.contains("is a plain number, not in mol"), "{told}");
}

#[test]
fn a_file_where_a_folder_is_wanted_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::write(at.join("3-07.toml"), gas_file("21.0 °C", "101.3 kPa")).unwrap();
    let told = gramleaf(at, &["draft", "3-07.toml", "--out", "3-07.toml"]);
    assert!(
        told.contains("3-07.toml is a file; give a folder"),
        "{told}"
    );
}

#[test]
fn a_date_in_a_trial_is_sent_to_its_day() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let text = gas_file("21.0 °C", "101.3 kPa") + "date = \"Monday\"\n";
    fs::write(at.join("3-07.toml"), text).unwrap();
    let told = gramleaf(at, &["check", "3-07.toml"]);
    assert!(told.contains("a trial has no `date` of its own"), "{told}");
    assert!(!told.contains("did you mean"), "{told}");
}

/// A wrong expression is told once, and not also as steps that it makes impossible.
#[test]
fn a_wrong_expression_is_one_error() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    gramleaf(at, &["labs", "hydrogen-over-water", "--out", "lab.toml"]);
    let text = fs::read_to_string(at.join("lab.toml")).unwrap();
    let gas = "gas_over_water(gas_volume, gas_temperature, air_pressure)";
    assert!(text.contains(gas));
    fs::write(at.join("lab.toml"), text.replace(gas, "gas_volume")).unwrap();
    let told = gramleaf(at, &["plan", "lab.toml"]);
    assert_eq!(told.matches("error[").count(), 1, "{told}");
    assert!(
        told.contains("gas(volume, temperature, pressure) gives moles"),
        "{told}"
    );
}

#[test]
fn only_a_name_that_is_alike_is_suggested_for_a_file_that_is_not_there() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["3-07.toml", "bin.toml"] {
        fs::write(folder.path().join(name), "").unwrap();
    }
    for (typed, help) in [
        ("3-7.toml", "did you mean"),
        ("3-07.tml", "did you mean"),
        ("none.toml", "check the name and the folder"),
    ] {
        let told = gramleaf(folder.path(), &["check", typed]);
        assert!(told.contains(help), "{typed}: {told}");
    }
}
