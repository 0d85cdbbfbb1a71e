//! Several trials in one data file: each worked by itself, then mean and spread.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

mod support;

use std::fs;
use std::path::Path;
use std::process::Command;
use std::process::Output;

use gramleaf::class::Entry;
use gramleaf::class::pool::Kept;
use serde_json::Value;
use tempfile::TempDir;

const LAB: &str = r#"
id = "salt"
title = "Salt from soda"
equation = "Na2CO3(s) + 2 HCl(aq) -> 2 NaCl(aq) + H2O(l) + CO2(g)"
trials = 3
[substance.soda]
formula = "Na2CO3"
before = "soda"
[substance.acid]
formula = "HCl"
before = "acid_volume * acid_molarity"
[substance.salt]
formula = "NaCl"
after = "dish_with_salt - dish"
yield = true
[instrument.balance]
unit = "g"
readability = "0.001 g"
[instrument.cylinder]
unit = "mL"
tolerance = "0.1 mL"
[given]
acid_molarity = "3.00 M"
[day.1]
title = "All"
readings = [
  { name = "acid_volume", label = "acid", unit = "mL" },
  { name = "soda", label = "soda" },
  { name = "dish", label = "dish" },
  { name = "dish_with_salt", label = "dish with salt" },
]
"#;

/// Three trials with one volume of acid for all; yields worked by hand below.
const DATA: &str = r#"
[who]
lab = "salt"
group = "1-01"
[day.1]
acid_volume = "12.0 mL"
[trial.1]
soda = "1.063 g"
dish = "61.338 g"
dish_with_salt = "62.497 g"
[trial.2]
soda = "1.010 g"
dish = "60.120 g"
dish_with_salt = "61.222 g"
[trial.3]
soda = "1.104 g"
dish = "61.338 g"
dish_with_salt = "62.541 g"
"#;

/// 100 × m(NaCl) ÷ (m(Na2CO3) ÷ 105.988 × 2 × 58.44): IUPAC abridged weights Na 22.990, C 12.011, O 15.999, Cl 35.45.
fn percent_yield(soda: f64, salt: f64) -> f64 {
    let most = soda / (2.0 * 22.990 + 12.011 + 3.0 * 15.999) * 2.0 * (22.990 + 35.45);
    100.0 * salt / most
}

fn yields() -> [f64; 3] {
    [(1.063, 1.159), (1.010, 1.102), (1.104, 1.203)].map(|(soda, salt)| percent_yield(soda, salt))
}

fn folder(data: &str) -> TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("lab.toml"), LAB).unwrap();
    fs::write(home.path().join("1-01.toml"), data).unwrap();
    home
}

fn run(home: &Path, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .args(words)
        .current_dir(home)
        .output()
        .unwrap()
}

fn object(data: &str) -> Value {
    let home = folder(data);
    let output = run(home.path(), &["check", "1-01.toml", "--key", "--json"]);
    let all: Value = serde_json::from_slice(&output.stdout).unwrap();
    all[0].clone()
}

fn step(steps: &Value, id: &str) -> Value {
    let mut steps = steps.as_array().unwrap().iter();
    steps.find(|step| step["id"] == id).unwrap().clone()
}

#[test]
fn each_trial_is_worked_by_itself_and_the_mean_is_that_of_the_yields() {
    let object = object(DATA);
    assert_eq!(object["problems"], serde_json::json!([]));
    let [first, second, third] = yields();
    let near = |value: &Value, expected: f64| {
        let value = value.as_f64().unwrap();
        assert!((value / expected - 1.0).abs() < 1e-12, "{value} {expected}");
    };
    near(&step(&object["steps"], "percent_yield")["value"], first);
    for (place, expected) in [(0, second), (1, third)] {
        let trial = &object["trials"][place];
        assert_eq!(trial["trial"], place + 2);
        near(&step(&trial["steps"], "percent_yield")["value"], expected);
        // The acid stands with the day and holds for all.
        near(&step(&trial["steps"], "moles_acid")["value"], 0.036);
    }
    let mean = (first + second + third) / 3.0;
    let squares: f64 = yields().iter().map(|value| (value - mean).powi(2)).sum();
    let found = step(&object["means"], "percent_yield");
    near(&found["mean"], mean);
    let deviation = found["standard_deviation"].as_f64().unwrap();
    assert!((deviation / (squares / 2.0).sqrt() - 1.0).abs() < 1e-9);
    assert_eq!(found["trials"], 3);
    // Amounts differ from trial to trial on purpose: no mean of them.
    let means = object["means"].as_array().unwrap();
    assert!(means.iter().all(|mean| mean["id"] != "collected_salt"));
}

#[test]
fn the_report_shows_trials_mean_and_spread_and_works_the_first() {
    let home = folder(DATA);
    assert!(run(home.path(), &["draft", "1-01.toml"]).status.success());
    let report = fs::read_to_string(home.path().join("1-01.md")).unwrap();
    let row = report
        .lines()
        .find(|line| line.contains("percent yield") && line.matches('|').count() == 7);
    let cells: Vec<&str> = row.unwrap().split('|').map(str::trim).collect();
    // 98.870…, 98.941…, 98.813…: mean 98.875, s 0.064.
    let expected = ["98.87", "98.94", "98.81", "98.87", "0.06"];
    for (cell, number) in cells[2..7].iter().zip(expected) {
        assert!(cell.starts_with(number), "{cell} {number}");
    }
    assert!(report.contains("1.063\u{a0}g Na₂CO₃") || report.contains("1.063\u{a0}g\u{a0}Na₂CO₃"));
    assert!(!report.contains("1.010\u{a0}g\u{a0}Na₂CO₃"));
}

#[test]
fn what_is_wrong_in_a_trial_is_said_with_its_line_and_the_rest_stands() {
    let data = DATA
        .replace("\"61.222 g\"", "\"6.122 g\"")
        .replace("soda = \"1.104 g\"", "soda = \"lost\"");
    let object = object(&data);
    let line = data
        .lines()
        .position(|line| line.contains("6.122"))
        .unwrap()
        + 1;
    let problems = object["problems"].as_array().unwrap();
    assert_eq!(problems.len(), 1, "{problems:#?}");
    assert_eq!(problems[0]["code"], "lighter-than-empty");
    assert_eq!(problems[0]["line"], line);
    assert_eq!(
        step(&object["trials"][0]["steps"], "percent_yield")["state"],
        "waiting"
    );
    assert_eq!(
        object["trials"][1]["waiting_for"],
        serde_json::json!(["soda"])
    );
    assert_eq!(object["means"], Value::Null);
}

#[test]
fn a_misspelt_reading_a_wrong_number_and_a_reading_given_twice_are_said() {
    for (from, to, code) in [
        ("[trial.3]\nsoda", "[trial.3]\nsodda", "unknown-reading"),
        ("[trial.3]", "[trial.three]", "unknown-section"),
        ("[trial.3]", "[trial.02]", "doubled-key"),
        (
            "[trial.1]",
            "[trial.1]\nacid_volume = \"12.1 mL\"",
            "doubled-key",
        ),
    ] {
        let object = object(&DATA.replace(from, to));
        let problems = object["problems"].as_array().unwrap();
        assert!(
            problems.iter().any(|problem| problem["code"] == code),
            "{to}: {problems:#?}"
        );
    }
}

#[test]
fn blank_trials_of_a_form_are_not_there_yet() {
    let home = folder("");
    let asking = format!("{LAB}[ask]\nusual = true\n");
    fs::write(home.path().join("lab.toml"), asking).unwrap();
    fs::remove_file(home.path().join("1-01.toml")).unwrap();
    let output = run(
        home.path(),
        &["start", "lab.toml", "--group", "1-01", "--out", "1-01.toml"],
    );
    assert!(output.status.success());
    let form = fs::read_to_string(home.path().join("1-01.toml")).unwrap();
    for trial in 1..=3 {
        assert!(form.contains(&format!("[trial.{trial}]")));
    }
    // Of the answers only those of one trial are judged.
    assert!(form.contains("your own working of trial 1"));
    let output = run(home.path(), &["check", "1-01.toml", "--json"]);
    let all: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(all[0]["problems"], serde_json::json!([]));
    assert_eq!(all[0]["trials"], Value::Null);
    assert_eq!(all[0]["waiting_for"].as_array().unwrap().len(), 4);
}

#[test]
fn what_changed_in_a_trial_is_told() {
    let home = folder(&DATA.replace("62.541", "62.514"));
    fs::write(home.path().join("old.toml"), DATA).unwrap();
    let output = run(home.path(), &["check", "1-01.toml", "--since", "old.toml"]);
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    let line = said
        .lines()
        .find(|line| line.contains("trial 3 dish_with_salt"));
    let line = line.unwrap_or_else(|| panic!("{said}"));
    assert!(line.contains("62.541") && line.contains("62.514"), "{line}");
}

/// The molarity, the volume: what stands with the day and holds for all trials is one change, not one a trial.
#[test]
fn a_reading_that_trials_have_in_common_is_told_once() {
    let home = folder(&DATA.replace("12.0 mL", "12.1 mL"));
    fs::write(home.path().join("old.toml"), DATA).unwrap();
    let output = run(home.path(), &["check", "1-01.toml", "--since", "old.toml"]);
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    assert_eq!(said.matches("12.0 mL").count(), 1, "{said}");
}

#[test]
fn whether_all_is_in_is_said_of_every_trial() {
    let said = |data: &str| {
        let home = folder(data);
        let output = run(home.path(), &["check", "1-01.toml"]);
        String::from_utf8_lossy(&output.stdout).into_owned()
    };
    let lost = DATA.replace("soda = \"1.104 g\"", "soda = \"lost\"");
    let third = DATA.find("[trial.3]").unwrap();
    for (data, expected) in [
        (DATA, &["All 10 readings of 3 trials are in.\n"][..]),
        (
            &lost,
            &[
                "1 of 10 readings of 3 trials is still missing.\n",
                "missing  trial 3: soda (day 1): lost\n",
            ],
        ),
        (
            &DATA[..third],
            &["All 7 readings of 2 trials are in. Trial 3 is still empty.\n"],
        ),
        (
            &DATA.replace("acid_volume = \"12.0 mL\"", ""),
            &["1 of 10 readings", "missing  trial 1: acid (day 1)\n"],
        ),
    ] {
        let said = said(data);
        for words in expected {
            assert!(said.contains(words), "{words}\n{said}");
        }
    }
    let home = folder(&lost);
    let output = run(home.path(), &["check", "1-01.toml", "--groups-csv"]);
    let mut table = csv::Reader::from_reader(&output.stdout[..]);
    let place = table
        .headers()
        .unwrap()
        .iter()
        .position(|head| head == "missing");
    let row = table.records().next().unwrap().unwrap();
    assert_eq!(&row[place.unwrap()], "1");
}

/// The first trial is worked and discussed; nothing on the page may pass for all of them.
#[test]
fn the_page_says_which_trial_it_speaks_of() {
    let home = folder(DATA);
    assert!(run(home.path(), &["draft", "1-01.toml"]).status.success());
    let report = fs::read_to_string(home.path().join("1-01.md")).unwrap();
    for words in [
        "mean of 3 trials: **98.87",
        "percent yield of sodium chloride of trial 1: **98.87",
        "Readings of trial 1 as written down",
        "Results of trial 1:",
        "holds the readings of trial 1 against",
    ] {
        assert!(report.contains(words), "{words}");
    }
    let third = DATA.find("[trial.2]").unwrap();
    let home = folder(&DATA[..third]);
    assert!(run(home.path(), &["draft", "1-01.toml"]).status.success());
    let report = fs::read_to_string(home.path().join("1-01.md")).unwrap();
    assert!(!report.contains("of trial 1") && !report.contains("mean of"));
}

#[test]
fn a_group_counts_once_in_its_class_with_its_mean() {
    let found = support::worked(LAB, DATA, |lab, graph, record, worked| {
        let kept = Kept::of(lab, graph);
        let codes = ("1-01".to_owned(), String::new());
        let entry = Entry::of(codes, lab, graph, record, worked, &kept);
        let values = entry.values.iter().flatten();
        values
            .map(|number| number.value.to_f64())
            .collect::<Vec<_>>()
    });
    let mean = yields().iter().sum::<f64>() / 3.0;
    assert!(
        found.iter().any(|value| (value - mean).abs() < 1e-9),
        "{found:?} {mean}"
    );
}

#[test]
fn no_word_beside_a_reading_of_a_trial_is_shared() {
    let home = folder("");
    fs::remove_file(home.path().join("1-01.toml")).unwrap();
    let data = home.path().join("in");
    fs::create_dir_all(&data).unwrap();
    for group in 1..=6 {
        let text = DATA
            .replace("1-01", &format!("1-{group:02}"))
            .replace("\"61.222 g\"", "\"61.222 g (was 61.232, zyxword)\"")
            .replace("soda = \"1.104 g\"", "soda = \"lost\"");
        fs::write(data.join(format!("1-{group:02}.toml")), text).unwrap();
    }
    let output = run(
        home.path(),
        &["share", "in", "--out", "site", "--lab", "lab.toml"],
    );
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let page = fs::read_to_string(home.path().join("site/groups/1-03.md")).unwrap();
    assert!(page.contains("trial 2") && page.contains("no reading"));
    for word in ["zyxword", "61.232", "lost"] {
        assert!(!page.contains(word), "{word}");
    }
}

#[test]
fn an_answer_of_another_trial_or_the_mean_is_recognised() {
    // Salt collected: 62.497 − 61.338, 61.222 − 60.120, 62.541 − 61.338 g; their mean is 1.1547 g.
    for (answer, verdict, slips) in [
        ("1.159 g", "matches", vec![]),
        ("1.102 g", "look-again", vec!["of-another-trial"]),
        ("1.203 g", "look-again", vec!["of-another-trial"]),
        ("1.155 g", "look-again", vec!["mean-of-trials"]),
    ] {
        let object = object(&format!("{DATA}[answers]\ncollected_salt = \"{answer}\"\n"));
        let judged = &object["answers"][0];
        assert_eq!(judged["verdict"], verdict, "{answer}: {judged}");
        let found = judged["slips"].as_array().unwrap();
        let found: Vec<&str> = found.iter().filter_map(Value::as_str).collect();
        assert_eq!(found, slips, "{answer}: {judged}");
    }
}

#[test]
fn a_class_is_not_complete_while_a_trial_is_empty() {
    let state = |data: &str| {
        let home = folder(data);
        let output = run(home.path(), &["check", "."]);
        let text = String::from_utf8(output.stdout).unwrap();
        let row = text.lines().find(|line| line.contains("1-01")).unwrap();
        row.to_owned()
    };
    assert!(state(DATA).contains("complete"), "{}", state(DATA));
    let (two, _) = DATA.split_once("[trial.3]").unwrap();
    assert!(state(two).contains("1 trial empty"), "{}", state(two));
    let (one, _) = DATA.split_once("[trial.2]").unwrap();
    assert!(state(one).contains("2 trials empty"), "{}", state(one));
}
