//! Slips in readings told where they are, as soon as they can be known, and nowhere else.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/program.rs"]
mod program;

use std::fs;

use program::gramleaf;

/// What `check` says of readings: lines of `[day.1]`, or whole sections.
fn check(lab: &str, readings: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let file = format!("[who]\nlab = \"{lab}\"\ngroup = \"3-07\"\n{readings}");
    fs::write(folder.path().join("3-07.toml"), file).unwrap();
    gramleaf(folder.path(), &["check", "3-07.toml"])
}

/// The lines that a caret stands under.
fn pointed_at(told: &str) -> Vec<&str> {
    let lines: Vec<&str> = told.lines().collect();
    let pairs = lines.windows(2);
    pairs
        .filter(|pair| pair[1].contains("| ") && pair[1].contains('^'))
        .map(|pair| pair[0])
        .collect()
}

fn chalk(chloride: &str, soda: &str) -> String {
    let readings = format!(
        "[day.1]\nchloride_boat = \"2.31 g\"\nchloride_boat_with_salt = \"{chloride}\"\nsoda_boat = \"2.29 g\"\nsoda_boat_with_salt = \"{soda}\"\n"
    );
    check("calcium-carbonate-precipitate", &readings)
}

#[test]
fn an_amount_far_from_the_plan_is_asked_about_on_the_day_it_is_taken() {
    for (chloride, soda, line, planned) in [
        ("13.93 g", "3.70 g", "chloride_boat_with_salt", "1.6 g"),
        ("53.70 g", "3.70 g", "chloride_boat_with_salt", "1.6 g"),
        ("3.93 g", "53.70 g", "soda_boat_with_salt", "1.4 g"),
        ("3.93 g", "203.70 g", "soda_boat_with_salt", "1.4 g"),
        ("2.36 g", "3.70 g", "chloride_boat_with_salt", "1.6 g"),
    ] {
        let told = chalk(chloride, soda);
        assert_eq!(told.matches("warning[").count(), 1, "{told}");
        assert!(told.contains("far from what the lab plans"), "{told}");
        let question = format!("the plan says about {planned}: is that what you took?");
        assert!(told.contains(&question), "{told}");
        let carets = pointed_at(&told);
        assert!(carets.len() == 1 && carets[0].contains(line), "{told}");
    }
    // What groups take freely is no slip: three tenths more or less.
    for (chloride, soda) in [
        ("3.93 g", "3.70 g"),
        ("4.39 g", "3.27 g"),
        ("3.43 g", "4.11 g"),
    ] {
        let told = chalk(chloride, soda);
        assert!(!told.contains("the plan says"), "{told}");
    }
    // Two slips are two questions.
    let told = chalk("13.93 g", "13.70 g");
    assert_eq!(told.matches("is that what you took?").count(), 2, "{told}");
}

#[test]
fn a_planned_amount_is_said_as_the_language_writes_it() {
    let readings = "[day.1]\nschale_leer = \"12,41 g\"\nschale_mit_salz = \"27,43 g\"\nnaegel_vorher = \"3,62 g\"\n";
    let told = check("eisen-kupfersulfat", readings);
    assert!(told.contains("geplant sind etwa 5,0 g"), "{told}");
    let told = check("eisen-kupfersulfat", &readings.replace("3,62 g", "36,20 g"));
    assert!(told.contains("geplant sind etwa 3,6 g"), "{told}");
    let told = check("eisen-kupfersulfat", &readings.replace("27,43", "17,43"));
    assert!(!told.contains("geplant"), "{told}");
}

#[test]
fn a_later_result_points_at_the_amount_that_is_far_from_the_plan() {
    let told = check(
        "water-in-hydrate",
        "[day.1]\ncrucible = \"14.512 g\"\ncrucible_with_crystals = \"27.034 g\"\ncrucible_heated = [\"26.141 g\", \"26.140 g\"]\n",
    );
    assert!(told.contains("the plan says 2.5 g"), "{told}");
    for blamed in ["is it dry and clean", "left behind"] {
        assert!(!told.contains(blamed), "{told}");
    }
    let carets = pointed_at(&told);
    assert!(
        carets.len() == 1 && carets[0].contains("crucible_with_crystals"),
        "{told}"
    );
}

/// The readings of trials of the gas lab, a row each.
fn gas(trials: &[[&str; 4]]) -> String {
    let names = ["ribbon", "gas_volume", "gas_temperature", "air_pressure"];
    let mut readings = String::new();
    for (number, trial) in trials.iter().enumerate() {
        readings += &format!("[trial.{}]\n", number + 1);
        for (name, typed) in names.iter().zip(trial) {
            readings += &format!("{name} = \"{typed}\"\n");
        }
    }
    check("hydrogen-over-water", &readings)
}

#[test]
fn a_gas_that_is_too_little_or_too_much_points_at_its_reading_and_not_at_a_usual_pressure() {
    for (ribbon, volume, line) in [
        ("36.5000 g", "36.4 mL", "ribbon"),
        ("0.3650 g", "36.4 mL", "ribbon"),
        ("0.0365 g", "36.4 L", "gas_volume"),
        ("0.0365 g", "364 mL", "gas_volume"),
        ("0.0365 g", "3.64 mL", "gas_volume"),
    ] {
        let told = gas(&[[ribbon, volume, "21.0 °C", "100.8 kPa"]]);
        let carets = pointed_at(&told);
        assert!(carets.len() == 1 && carets[0].contains(line), "{told}");
        assert!(!told.contains("air_pressure "), "{told}");
    }
    // A pressure that is odd itself is looked at first.
    let told = gas(&[["0.0365 g", "36.4 mL", "21.0 °C", "60.0 kPa"]]);
    let carets = pointed_at(&told);
    assert!(
        carets.len() == 1 && carets[0].contains("air_pressure"),
        "{told}"
    );
}

/// Where nothing is planned, both sides of a result that is off by a power of ten are looked at.
#[test]
fn a_power_of_ten_is_looked_for_on_both_sides_where_nothing_is_planned() {
    let folder = tempfile::tempdir().unwrap();
    let lab = fs::read_to_string("samples/hydrogen-over-water/lab.toml").unwrap();
    let lab = lab.replace("[plan]\nmagnesium = \"0.038 g\"\n", "");
    assert!(!lab.contains("[plan]"));
    fs::write(folder.path().join("lab.toml"), lab).unwrap();
    let check = |ribbon: &str| {
        let file = format!(
            "[who]\nlab = \"hydrogen-over-water\"\ngroup = \"3-07\"\n[trial.1]\nribbon = \"{ribbon}\"\ngas_volume = \"36.4 mL\"\ngas_temperature = \"21.0 °C\"\nair_pressure = \"100.8 kPa\"\n"
        );
        fs::write(folder.path().join("3-07.toml"), file).unwrap();
        gramleaf(folder.path(), &["check", "3-07.toml"])
    };
    for ribbon in ["36.5000 g", "0.3650 g"] {
        let told = check(ribbon);
        assert!(told.contains("a power of ten would explain it"), "{told}");
        assert!(told.contains("compared with this one"), "{told}");
        assert!(!told.contains("air_pressure "), "{told}");
    }
    let told = check("0.0665 g");
    assert!(!told.contains("a power of ten"), "{told}");
}

#[test]
fn a_trial_far_from_others_that_agree_is_asked_about() {
    let first = ["0.0365 g", "36.4 mL", "21.0 °C", "100.8 kPa"];
    let second = ["0.0352 g", "35.6 mL", "21.0 °C", "100.8 kPa"];
    let third = |volume| ["0.0371 g", volume, "21.5 °C", "100.8 kPa"];
    let told = gas(&[first, second, third("26.9 mL")]);
    assert!(
        told.contains("trial 3 lies far from the others, which agree"),
        "{told}"
    );
    let carets = pointed_at(&told);
    assert!(carets.len() == 1 && carets[0].contains("26.9 mL"), "{told}");
    for told in [
        gas(&[first, second, third("36.9 mL")]),
        gas(&[first, third("26.9 mL")]),
    ] {
        assert!(!told.contains("lies far"), "{told}");
    }
    // What is asked about by itself is not asked about twice.
    let told = gas(&[
        first,
        second,
        ["0.3710 g", "36.9 mL", "21.5 °C", "100.8 kPa"],
    ]);
    assert_eq!(told.matches("warning[").count(), 1, "{told}");
}

#[test]
fn weighings_in_one_box_are_sent_to_boxes_of_their_own() {
    let told = check(
        "calcium-carbonate-precipitate",
        "[day.2]\npaper_with_chalk = [\"2,06 g, 2,03 g\", \"\", \"\"]\n",
    );
    assert!(
        told.contains("each weighing has a box of its own"),
        "{told}"
    );
    assert!(!told.contains("in brackets"), "{told}");
}

#[test]
fn a_comment_without_its_mark_is_one_message() {
    let told = check(
        "calcium-carbonate-precipitate",
        "[day.1]              Mix and filter\nchloride_boat = \"2.31 g\"\nsoda_boat = \"2.29 g\"     boat, empty\nWhat did you see? colour, smell\n",
    );
    assert_eq!(told.matches("comment that lost its #").count(), 3, "{told}");
    assert_eq!(told.matches("error[").count(), 3, "{told}");
    assert!(told.contains("5 of 7 readings are still missing"), "{told}");
}

#[test]
fn marks_on_a_line_of_their_own_are_no_name() {
    let told = check(
        "calcium-carbonate-precipitate",
        "[day.1]\nseen = '''white'''\n'''foam\nchloride_boat = \"2.31 g\"\n",
    );
    assert!(told.contains("close no text"), "{told}");
    assert!(!told.contains("no reading called"), "{told}");
    assert_eq!(told.matches("error[").count(), 1, "{told}");
}

/// Barium iodate is weighed, and barium left in the filtrate titrated: 0.904 g of the chloride leave 0.172 g, 7.05 mL.
const IODATE: &str = r#"
id = "iodate"
title = "Barium iodate"
equation = "BaCl2(aq) + KIO3(aq) -> Ba(IO3)2(s) + KCl(aq)"
[substance.barium]
formula = "BaCl2"
weighed_as = "BaCl2·2H2O"
before = "boat_full - boat"
after = "edta_volume * edta_molarity * 10 * M(BaCl2·2H2O)"
[substance.iodate]
formula = "KIO3"
before = "iodate_volume * iodate_molarity"
[substance.product]
formula = "Ba(IO3)2"
weighed_as = "Ba(IO3)2·H2O"
after = "crucible_full - crucible"
yield = true
[given]
iodate_molarity = "0.150 mol/L"
edta_molarity = "0.0100 mol/L"
[instrument.balance]
unit = "g"
readability = "0.001 g"
[instrument.burette]
unit = "mL"
tolerance = "0.05 mL"
[day.1]
readings = [
  { name = "boat", label = "boat, empty" },
  { name = "boat_full", label = "boat with barium chloride" },
  { name = "iodate_volume", label = "potassium iodate solution", unit = "mL" },
  { name = "crucible", label = "filter crucible, empty" },
  { name = "crucible_full", label = "filter crucible with the solid" },
  { name = "edta_volume", label = "EDTA solution for 10 mL of 100 mL", unit = "mL" },
]
"#;

#[test]
fn a_titrated_leftover_is_asked_about_and_not_the_right_weighings() {
    let told = |product: &str, edta: &str| {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("lab.toml"), IODATE).unwrap();
        let file = format!(
            "[who]\nlab = \"iodate\"\ngroup = \"1\"\n[day.1]\nboat = \"2.110 g\"\nboat_full = \"3.014 g\"\niodate_volume = \"40.00 mL\"\n\
             crucible = \"31.402 g\"\ncrucible_full = \"{product} g\"\nedta_volume = \"{edta} mL\"\n"
        );
        fs::write(folder.path().join("1.toml"), file).unwrap();
        gramleaf(folder.path(), &["check", "1.toml"])
    };
    assert!(!told("32.886", "7.05").contains("warning["));
    for edta in ["17.05", "0.70"] {
        let told = told("32.886", edta);
        let carets = pointed_at(&told);
        assert!(!carets.is_empty(), "{told}");
        assert!(carets.iter().all(|line| line.contains("edta")), "{told}");
        assert!(!told.contains("clean and dry"), "{told}");
    }
    // Both sides are off: every reading that the ratio is worked from is pointed at.
    let told = told("32.600", "2.00");
    let ratio = told
        .split("warning[")
        .find(|part| part.contains("the ratio of"))
        .unwrap();
    for name in ["edta_volume", "crucible_full"] {
        assert!(ratio.contains(name), "{told}");
    }
    assert!(!ratio.contains("both masses"), "{told}");
}
