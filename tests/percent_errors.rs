//! Percent errors: shown to the last place of their uncertainty, followed by hand from what their working puts in, judged by either rule of figures.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

use std::fs;
use std::path::Path;
use std::process::Command;

const SAMPLE: &str = "magnesium-oxide/6-12.toml";

fn samples() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("samples")
}

/// What a command prints about a sample's group, with pieces of its lab and of its data file exchanged, and its report.
fn worked(
    sample: &str,
    (lab_from, lab_to): (&str, &str),
    (from, to): (&str, &str),
    arguments: &[&str],
) -> (String, String) {
    let folder = tempfile::tempdir().unwrap();
    let place = samples().join(sample);
    let read = |path: &Path| fs::read_to_string(path).unwrap();
    let lab = read(&place.with_file_name("lab.toml"));
    let data = read(&place);
    assert!(lab.contains(lab_from) && data.contains(from));
    fs::write(
        folder.path().join("lab.toml"),
        lab.replacen(lab_from, lab_to, 1),
    )
    .unwrap();
    fs::write(folder.path().join("x.toml"), data.replacen(from, to, 1)).unwrap();
    let run = |arguments: &[&str]| {
        let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args(arguments)
            .args(["--key", "--lab", "lab.toml", "x.toml"])
            .current_dir(folder.path())
            .output()
            .unwrap();
        assert_ne!(run.status.code(), Some(2), "{run:?}");
        String::from_utf8(run.stdout).unwrap()
    };
    run(&["draft"]);
    (run(arguments), read(&folder.path().join("x.md")))
}

/// Every group among the samples that has a lab beside it.
fn groups() -> Vec<String> {
    let mut found = Vec::new();
    for folder in fs::read_dir(samples()).unwrap() {
        let folder = folder.unwrap().path();
        if !folder.join("lab.toml").exists() {
            continue;
        }
        for file in fs::read_dir(&folder).unwrap() {
            let file = file.unwrap().path();
            if file.extension().is_some_and(|end| end == "toml") && !file.ends_with("lab.toml") {
                let name = file.strip_prefix(samples()).unwrap();
                found.push(name.to_string_lossy().replace('\\', "/"));
            }
        }
    }
    found
}

fn number(text: &str) -> f64 {
    text.replace('−', "-").replace(',', ".").parse().unwrap()
}

fn decimals(text: &str) -> usize {
    text.split(['.', ',']).nth(1).map_or(0, str::len)
}

#[test]
fn a_percent_error_and_its_uncertainty_end_at_the_same_place() {
    let mut seen = 0;
    for sample in groups() {
        let (told, report) = worked(&sample, ("", ""), ("", ""), &["check"]);
        for line in told.lines() {
            let [id, error, "%", "±", doubt, "%"] = line.split_whitespace().collect::<Vec<_>>()[..]
            else {
                continue;
            };
            if !id.contains("error_") {
                continue;
            }
            seen += 1;
            assert_eq!(decimals(error), decimals(doubt), "{sample}: {line}");
            let working = report.split(&format!("```working {id}\n")).nth(1).unwrap();
            let working = working.split("```").next().unwrap();
            let (put_in, result) = working.trim_end().rsplit_once('\n').unwrap();
            assert!(
                result
                    .trim_start()
                    .starts_with(&format!("= {error}\u{a0}%")),
                "{sample}: {working}"
            );
            // Worked by hand from the numbers put in, it comes to what stands there.
            let put_in = put_in.lines().last().unwrap();
            let of = |text: &str| number(text.split(['\u{a0}', ' ', ')']).next().unwrap());
            let (found, right) = put_in.split_once('(').unwrap().1.split_once(" − ").unwrap();
            let (found, right) = (of(found), of(right));
            let by_hand = (found - right) / right * 100.0;
            let half = 0.5 * 10.0_f64.powi(-i32::try_from(decimals(error)).unwrap());
            assert!(
                (by_hand - number(error)).abs() <= half * 1.000_001,
                "{sample}: {working}"
            );
        }
    }
    assert!(seen > 15, "{seen}");
    let (told, _) = worked(SAMPLE, ("", ""), ("", ""), &["check"]);
    let line = told
        .lines()
        .find(|line| line.contains(" error_magnesium_to_oxygen"));
    assert!(line.unwrap().ends_with(" 6.3 %  ± 0.3 %"), "{told}");
}

#[test]
fn without_an_uncertainty_the_rules_for_differences_and_quotients_hold() {
    let none = ("[policy]", "[policy]\nuncertainty = \"none\"");
    let (told, report) = worked(SAMPLE, none, ("", ""), &["check"]);
    let line = told
        .lines()
        .find(|line| line.contains(" error_magnesium_to_oxygen"));
    assert!(line.unwrap().ends_with(" 6 %"), "{told}");
    assert!(report.contains("6.3\u{a0}%  →  6\u{a0}%"), "{report}");
}

#[test]
fn an_answer_may_have_the_figures_of_either_rule() {
    let strict = ("[policy]", "[policy]\nfigures = \"strict\"");
    for (answer, slips) in [
        ("6 %", "[]"),
        ("6.3 %", "[]"),
        ("6.31 %", "[\"too-many-figures\"]"),
    ] {
        let typed = format!("[answers]\nerror_magnesium_to_oxygen = \"{answer}\"");
        let (told, _) = worked(SAMPLE, strict, ("[answers]", &typed), &["check", "--json"]);
        let object: serde_json::Value = serde_json::from_str(&told).unwrap();
        let file = object.as_array().map_or(&object, |files| &files[0]);
        let judged = file["answers"].as_array().unwrap().iter();
        let judged = judged
            .clone()
            .find(|answer| answer["step"] == "error_magnesium_to_oxygen")
            .unwrap();
        assert_eq!(judged["verdict"], "matches", "{answer}: {judged}");
        assert_eq!(judged["slips"].to_string(), slips, "{answer}: {judged}");
    }
}
