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
        // The fault is the pressure, and that is told once.
        ("21.0 °C", "760", "is no usual pressure of the air"),
        ("21.0 °C", "100.8 Pa", "0.101 kPa"),
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
        for silly in [
            "did you mean",
            "if it is wet",
            "hydrogen weighed",
            "could have formed",
        ] {
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

/// The readings of the copper lab's first group, complete and sound, with lines put in the place of others.
fn copper_file(changes: &[(&str, &str)]) -> String {
    let sample = fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").unwrap();
    changes.iter().fold(sample, |text, (old, new)| {
        assert!(text.contains(old), "{old}");
        text.replacen(old, new, 1)
    })
}

/// The places that a problem points at: the words beside each caret.
fn carets<'t>(told: &'t str, message: &str) -> Vec<&'t str> {
    let problem = told.split("\n\n").find(|one| one.contains(message));
    let lines = problem.into_iter().flat_map(str::lines);
    let marked = lines.filter(|line| {
        line.contains("^^") || (line.trim_start().starts_with('|') && line.contains("--"))
    });
    marked
        .map(|line| line.trim_start_matches([' ', '|', '^', '-']))
        .collect()
}

#[test]
fn the_group_s_file_is_told_as_itself_and_readings_beside_it_are_not_used() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let full_beaker = "[\"105.70 g\", \"105.68 g\", \"\", \"\"]";
    let group = copper_file(&[(
        full_beaker,
        "[\"108.88 g\", \"108.70 g\", \"108.69 g\", \"\"]",
    )]);
    fs::write(at.join("3-07.toml"), &group).unwrap();
    let student = |lines: &str| {
        let text = format!("[who]\nlab = \"zinc-copper-sulfate\"\ngroup = \"3-07\"\n{lines}");
        fs::write(at.join("ngoc.toml"), text).unwrap();
        gramleaf(at, &["check", "ngoc.toml"])
    };
    let told = student("readings_of = \"3-07.toml\"\n");
    assert!(told.contains("error[impossible-result]"), "{told}");
    assert!(
        told.contains("--> 3-07.toml:") && !told.contains("--> ngoc.toml:"),
        "{told}"
    );
    assert!(told.contains("1 error."), "{told}");
    // Checked together, the group's file is told once.
    let told = gramleaf(at, &["check", "."]);
    assert_eq!(
        told.matches("error[impossible-result]").count(),
        1,
        "{told}"
    );
    let told = gramleaf(at, &["draft", "ngoc.toml"]);
    assert!(told.contains("--> 3-07.toml:"), "{told}");
    let report = fs::read_to_string(at.join("ngoc.md")).unwrap();
    assert!(
        report.contains("far more than could have formed"),
        "{report}"
    );

    fs::write(at.join("3-07.toml"), copper_file(&[])).unwrap();
    let told = student(
        "readings_of = \"3-07.toml\"\n[day.1]\nzinc_before = \"4.63 g\"\nbeaker_empty = \"104.18 g\"\n",
    );
    assert_eq!(
        carets(
            &told,
            "a reading typed here is not used: this file takes its readings from 3-07.toml"
        ),
        ["not used"]
    );
    assert!(
        told.contains("put a wrong number right in 3-07.toml"),
        "{told}"
    );
    let told = student("readings_of = \"3-07.toml\"\n[day.1]\nseen = \"green gas\"\n");
    assert!(told.contains("those of 3-07.toml count"), "{told}");

    let write = |name: &str, text: &str| fs::write(at.join(name), text).unwrap();
    write("lab2.toml", "id = \"x\"\nequation = \"C + O2 -> CO2\"\n");
    write(
        "other.toml",
        "[who]\nlab = \"magnesium-oxide\"\ngroup = \"3-07\"\n",
    );
    write(
        "minh.toml",
        "[who]\nlab = \"zinc-copper-sulfate\"\nreadings_of = \"3-07.toml\"\n",
    );
    for (file, why) in [
        ("3-70.toml", "not found"),
        ("lab2.toml", "this is the teacher's lab description"),
        ("other.toml", "it belongs to the lab `magnesium-oxide`"),
        ("minh.toml", "readings_of = \"3-07.toml\""),
        ("ngoc.toml", "or take this line away"),
    ] {
        let told = student(&format!("readings_of = \"{file}\"\n"));
        let message = format!("the group's file {file} cannot be used");
        assert!(
            told.contains(&message) && told.contains(why),
            "{file}: {told}"
        );
    }
}

#[test]
fn a_lost_weighing_leaves_the_one_before_it_standing() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let check = |series: &str| {
        let full_beaker = "[\"105.70 g\", \"105.68 g\", \"\", \"\"]";
        fs::write(at.join("3-07.toml"), copper_file(&[(full_beaker, series)])).unwrap();
        gramleaf(at, &["check", "3-07.toml"])
    };
    for series in [
        "[\"105.70 g\", \"105.68 g\", \"?\", \"\"]",
        "[\"105.70 g\", \"105.68 g\", \"lost\", \"lost\"]",
    ] {
        let told = check(series);
        assert!(told.contains("All 8 readings are in."), "{told}");
        assert!(told.contains("so the one before it counts"), "{told}");
    }
    let told = check("[\"lost\", \"\", \"\", \"\"]");
    assert!(
        told.contains("1 of 8 readings is still missing.") && !told.contains("one before it"),
        "{told}"
    );
}

#[test]
fn a_reading_that_is_given_up_and_no_result_needs_holds_nothing_up() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let check = |water: &str| {
        fs::write(at.join("3-07.toml"), copper_file(&[("\"50 mL\"", water)])).unwrap();
        gramleaf(at, &["check", "3-07.toml"])
    };
    let told = check("\"lost\"");
    assert!(
        told.contains("All readings that a result needs are in."),
        "{told}"
    );
    assert!(
        told.contains("distilled water (day 1): lost (no result needs it)"),
        "{told}"
    );
    // Nobody knows yet whether it will come.
    let told = check("\"\"");
    assert!(told.contains("1 of 8 readings is still missing."), "{told}");
    gramleaf(at, &["share", ".", "--out", "site"]);
    let told = fs::read_to_string(at.join("site/results.md")).unwrap();
    assert!(
        told.contains("every reading that a result needs is in"),
        "{told}"
    );
}

/// A slip on the first day is looked for there, not in the weighings of the last.
#[test]
fn an_impossible_result_points_at_every_reading_behind_it() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let check = |changes: &[(&str, &str)]| {
        fs::write(at.join("3-07.toml"), copper_file(changes)).unwrap();
        gramleaf(at, &["check", "3-07.toml"])
    };
    // A wrong prefix explains the result, and is all that is told.
    let told = check(&[("\"4.36 g\"", "\"4.36 mg\"")]);
    assert_eq!(told.matches("warning[").count(), 1, "{told}");
    assert!(told.contains("warning[wrong-unit]"), "{told}");
    assert!(!told.contains("error["), "{told}");
    for zinc in ["\"43.60 g\"", "\"436.00 g\""] {
        let told = check(&[("\"4.36 g\"", zinc)]);
        let message = "one of the amounts taken is far from what the lab plans";
        assert!(
            carets(&told, message).contains(&"the plan says 4.4 g"),
            "{told}"
        );
        let blamed = told.lines().find(|line| line.contains("the plan says"));
        assert!(blamed.is_some_and(|line| line.contains('^')), "{told}");
        assert_eq!(told.matches("error[").count(), 1, "{told}");
        assert!(!told.contains("odd-result"), "{told}");
        assert!(told.contains("1 of 8 readings is still missing."), "{told}");
        assert!(
            told.contains("zinc strip, clean and dry (day 1): does not go with other readings"),
            "{told}"
        );
    }
    // Two amounts are off the plan: nobody can tell which is wrong, and all are pointed at.
    let told = check(&[("\"8.47 g\"", "\"3.67 g\""), ("\"4.36 g\"", "\"9.16 g\"")]);
    let carets = carets(
        &told,
        "the copper weighed is far more than could have formed",
    );
    let count = |label: &str| carets.iter().filter(|caret| **caret == label).count();
    assert_eq!(count("compared with this one"), 3, "{told}");
    assert_eq!(
        count("from this reading") + count("and this one"),
        2,
        "{told}"
    );
    assert!(!told.contains("one of the amounts taken"), "{told}");
    assert_eq!(told.matches("is that what you took?").count(), 2, "{told}");
}

/// What else is said beside a yes or no stays with the group's report, and with nobody else's without its leave.
#[test]
fn what_is_said_beside_a_sign_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let sample = fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").unwrap();
    let line = sample
        .lines()
        .find(|line| line.starts_with("bubbles_on_metal"))
        .unwrap();
    fs::write(
        at.join("3-07.toml"),
        sample.replace(line, "bubbles_on_metal = \"Yes, a few small ones\""),
    )
    .unwrap();
    let told = gramleaf(at, &["check", "3-07.toml"]);
    assert_eq!(
        carets(&told, "of this answer only yes or no counts"),
        ["counts as yes"],
        "{told}"
    );
    gramleaf(at, &["draft", "3-07.toml"]);
    let report = fs::read_to_string(at.join("3-07.md")).unwrap();
    assert!(report.contains("yes (“a few small ones”)"), "{report}");
    let table = gramleaf(at, &["check", "3-07.toml", "--groups-csv"]);
    assert!(table.contains("\"yes, a few small ones\""), "{table}");
}

/// An oxide ignited in a crucible, made with a lye whose rest is titrated: it is heated again and not dried, and what is titrated
/// is neither dry nor in pieces.
#[test]
fn what_was_ignited_is_heated_again_and_what_is_titrated_is_never_dried() {
    const LAB: &str = r#"
id = "oxide"
title = "Oxide by way of the hydroxide"
equation = "FeCl3(aq) + NaOH(aq) -> Fe2O3(s) + NaCl(aq) + H2O(l)"
[substance.salt]
formula = "FeCl3"
weighed_as = "FeCl3·6H2O"
before = "boat_full - boat"
[substance.lye]
formula = "NaOH"
before = "lye_volume * lye_molarity"
after = "titre * acid_molarity * 250 / 25"
[substance.oxide]
formula = "Fe2O3"
after = "crucible_full - crucible"
yield = true
[instrument.balance]
unit = "g"
readability = "0.001 g"
[instrument.burette]
unit = "mL"
tolerance = "0.05 mL"
[given]
lye_molarity = "2.00 ± 0.02 mol/L"
acid_molarity = "0.1000 ± 0.0005 mol/L"
[day.1]
title = "All"
readings = [
  { name = "boat", label = "boat" },
  { name = "boat_full", label = "boat with salt" },
  { name = "lye_volume", label = "lye", unit = "mL" },
  { name = "titre", label = "acid used", unit = "mL" },
  { name = "crucible", label = "crucible" },
  { name = "crucible_full", label = "the same crucible with the oxide", series = 3 },
]
[policy]
show_working = "always"
"#;
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::write(at.join("lab.toml"), LAB).unwrap();
    let write = |titre: &str, full: &str| {
        let data = format!(
            "[who]\nlab = \"oxide\"\ngroup = \"1\"\n[day.1]\nboat = \"1.500 g\"\nboat_full = \"4.195 g\"\nlye_volume = \"20.0 mL\"\n\
             titre = \"{titre} mL\"\ncrucible = \"28.000 g\"\ncrucible_full = [{full}]\n"
        );
        fs::write(at.join("1.toml"), data).unwrap();
    };
    for (titre, full, expected) in [
        (
            "10.09",
            r#""28.796 g""#,
            "nobody can tell whether its mass was constant",
        ),
        (
            "10.09",
            r#""28.796 g""#,
            "heat it again, let it cool and weigh it again",
        ),
        (
            "10.09",
            r#""28.816 g", "28.796 g""#,
            "heat it again to constant mass: until two weighings agree",
        ),
        (
            "10.09",
            r#""28.860 g""#,
            "was it heated to constant mass? Heat it again",
        ),
        ("10.09", r#""31.000 g""#, "and at the vessel's number"),
        (
            "30.00",
            r#""28.796 g""#,
            "did the reaction run to its end? check",
        ),
    ] {
        write(titre, full);
        let told = gramleaf(at, &["check", "1.toml"]);
        assert!(told.contains(expected), "{titre}, {full}: {told}");
        for silly in [
            "dry it",
            "it was dry",
            "clean and dry",
            "if it is wet",
            "another drying",
        ] {
            assert!(!told.contains(silly), "{titre}, {full}: {silly}: {told}");
        }
    }
    // Used less or more than the oxide says.
    for (titre, full, expected) in [
        (
            "11.50",
            "28.796",
            "more was taken than is written down, or too much was found",
        ),
        (
            "9.00",
            "28.796",
            "less was taken than is written down, or some was lost",
        ),
        (
            "8.50",
            "28.838",
            "there was more iron(III) chloride hexahydrate than its mass says, or",
        ),
        (
            "8.50",
            "28.800",
            "though less than the sodium hydroxide used would make: two things",
        ),
        (
            "13.00",
            "28.780",
            "a reaction not at its end with iron(III) oxide that was not dry fits",
        ),
    ] {
        write(titre, &format!("\"{full} g\", \"{full} g\""));
        gramleaf(at, &["draft", "1.toml", "--replace", "--out", "out"]);
        let report = fs::read_to_string(at.join("out/1.md")).unwrap();
        assert!(report.contains(expected), "{titre}, {full}: {report}");
        for silly in ["pieces of sodium", "still on the sodium", "off (damp"] {
            assert!(!report.contains(silly), "{titre}, {full}: {silly}");
        }
    }
}

/// What a message says to type is right itself: no second message about it.
#[test]
fn what_a_message_says_to_type_is_understood() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let form = |day: &str, beaker: &str, mass: &str| {
        let text = format!(
            "[who]\nlab = \"zinc-copper-sulfate\"\ngroup = \"3-07\"\n{day}\ndish_empty = \"2.45 g\"\n[day.3]\nbeaker_with_copper = {beaker}\n\
             [answers]\nmoles_zinc = {mass}\n"
        );
        fs::write(at.join("3-07.toml"), text).unwrap();
        gramleaf(at, &["check", "3-07.toml"])
    };
    let (list, mass) = ("[\"105.68 g\", \"105.68 g\"]", "\"0.0667 mol\"");
    let cases = [
        ("[Day 1]", list, mass, "did you mean [day.1]?"),
        ("[DAY.1]", list, mass, "did you mean [day.1]?"),
        ("[Day.1]", list, mass, "did you mean [day.1]?"),
        (
            "[day.1]",
            "\"105.70 g\", '105.68 g'",
            mass,
            "type [\"105.70 g\", '105.68 g']",
        ),
        (
            "[day.1]",
            "\"105.68 g\", \"105.68 g\"",
            mass,
            "type [\"105.68 g\", \"105.68 g\"]",
        ),
        (
            "[day.1]",
            "\"105.68 g\"; \"105.68 g\"]",
            mass,
            "type [\"105.68 g\", \"105.68 g\"]",
        ),
        (
            "[day.1]",
            list,
            "\"0.0667 mol\" because I divided",
            "type \"0.0667 mol\", number and unit only",
        ),
        (
            "[day.1]",
            list,
            "\"0.0667\" mol as I divided",
            "\"0.0667 mol (as I divided)\"",
        ),
    ];
    for (day, beaker, mass, expected) in cases {
        let told = form(day, beaker, mass);
        assert!(told.contains(expected), "{told}");
        assert_eq!(told.matches("error[").count(), 1, "{told}");
        assert!(!told.contains("dish, empty (day 1)"), "{told}");
        assert!(
            !told.contains("could not be read") || beaker.contains('\''),
            "{told}"
        );
    }
    let told = form("[day.1]", list, mass);
    assert_eq!(told.matches("error[").count(), 0, "{told}");
}

/// A section that is read under another name is not said to be unread.
#[test]
fn a_day_that_is_read_all_the_same_is_said_to_be() {
    let folder = tempfile::tempdir().unwrap();
    for heading in ["[DAY.1]", "[day_1]"] {
        let text = format!(
            "[who]\nlab = \"zinc-copper-sulfate\"\ngroup = \"3-07\"\n{heading}\ndish_empty = \"2.45 g\"\n"
        );
        fs::write(folder.path().join("3-07.toml"), text).unwrap();
        let told = gramleaf(folder.path(), &["check", "3-07.toml"]);
        assert!(told.contains("read as [day.1]"), "{told}");
        assert!(!told.contains("not read"), "{told}");
    }
    let text =
        "[who]\nlab = \"zinc-copper-sulfate\"\ngroup = \"3-07\"\n[Cause.1]\nwhat = \"spilled\"\n";
    fs::write(folder.path().join("3-07.toml"), text).unwrap();
    let told = gramleaf(folder.path(), &["check", "3-07.toml"]);
    assert!(told.contains("^ not read"), "{told}");
}

/// A lab description has no place for what was seen.
#[test]
fn a_stray_line_is_told_as_its_file_has_places_for_it() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let lab = fs::read_to_string("samples/hydrogen-over-water/lab.toml").unwrap();
    fs::write(
        at.join("stray.lab.toml"),
        lab.replacen("[signs]", "[signs]\noops", 1),
    )
    .unwrap();
    let told = gramleaf(at, &["plan", "stray.lab.toml"]);
    assert!(
        told.contains("put # in front of a remark of your own, or take"),
        "{told}"
    );
    assert!(!told.contains("seen"), "{told}");
    let data = fs::read_to_string("samples/hydrogen-over-water/9-02.toml").unwrap();
    fs::write(
        at.join("9-02.toml"),
        data.replacen("[signs]", "oops\n[signs]", 1),
    )
    .unwrap();
    let told = gramleaf(at, &["check", "9-02.toml"]);
    assert!(told.contains("between the ''' marks under seen"), "{told}");
}
