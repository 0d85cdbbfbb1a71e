//! What stays hidden until a student's own answer stands, and what a report must not promise.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/program.rs"]
mod program;

use std::fs;

use program::gramleaf;

/// The x of a hydrate is what the class is to find: neither a blank form's report nor one with readings may print the
/// accepted one before the own x stands; afterwards it does.
#[test]
fn accepted_waters_wait_for_the_own_answer() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    gramleaf(
        at,
        &[
            "start",
            "unknown-hydrate",
            "--group",
            "3-07",
            "--out",
            "3-07.toml",
        ],
    );
    let blank = fs::read_to_string(at.join("3-07.toml")).unwrap();
    let filled = [
        ("crucible               = \"\"", "crucible = \"22.104 g\""),
        (
            "crucible_with_crystals = \"\"",
            "crucible_with_crystals = \"24.483 g\"",
        ),
        (
            "crucible_heated        = [\"\", ",
            "crucible_heated = [\"23.302 g\", ",
        ),
    ]
    .iter()
    .fold(blank.clone(), |text, (empty, full)| {
        assert!(text.contains(empty), "{text}");
        text.replace(empty, full)
    });
    // n(H2O) = 1.181/18.015 = 0.065556, n(MgSO4) = 1.198/120.36 = 0.0099535: x = 6.5863.
    let answered = filled.replace(
        "waters_crystals         = \"\"",
        "waters_crystals = \"6.586\"",
    );
    assert_ne!(answered, filled);
    for (text, shown) in [(&blank, false), (&filled, false), (&answered, true)] {
        fs::write(at.join("3-07.toml"), text).unwrap();
        gramleaf(at, &["draft", "3-07.toml", "--replace"]);
        let report = fs::read_to_string(at.join("3-07.md")).unwrap();
        assert_eq!(report.contains("accepted value = 7"), shown, "{report}");
        let row = report
            .lines()
            .find(|line| line.starts_with("| moles of water for one mole") && line.contains("(x)"))
            .unwrap();
        let predicted = row.split('|').nth(2).unwrap().trim();
        assert_eq!(predicted == "7", shown, "{row}");
    }
}

/// The complete sample with its answers changed: what its report shows.
fn report_with(answers: &[(&str, &str)]) -> String {
    let sample = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/samples/zinc-copper-sulfate/3-07.toml"
    );
    let sample = fs::read_to_string(sample).unwrap();
    let text = answers.iter().fold(sample, |text, (right, own)| {
        assert!(text.contains(right), "{right}");
        text.replacen(right, own, 1)
    });
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("3-07.toml"), text).unwrap();
    gramleaf(folder.path(), &["draft", "3-07.toml"]);
    fs::read_to_string(folder.path().join("3-07.md")).unwrap()
}

/// Right from the own lines is not right: the value by the readings would contradict the one typed, and lead back to
/// the line that is wrong.
#[test]
fn what_only_follows_gives_nothing_away() {
    // With the zinc named as limiting: 0.066687 mol of copper weigh 4.2377 g, none of the zinc is left, and 1.50 g are 35.4 %.
    let report = report_with(&[
        ("\"copper(II) sulfate\"   # which", "\"zinc\"   # which"),
        ("\"1.53 g\"         #", "\"4.24 g\"         #"),
        ("\"2.78 g\"         #", "\"0 g\"         #"),
        ("\"98.0 %\"         #", "\"35.4 %\"         #"),
    ]);
    assert!(
        report.contains("follows from your earlier line"),
        "{report}"
    );
    // The students' own words hold what they like.
    let words = report.split("<!-- words -->").skip(1);
    let report = words
        .filter_map(|words| words.split_once("<!-- /words -->"))
        .fold(report.clone(), |rest, (words, _)| rest.replace(words, ""));
    // What could form, what should be left, and the yield, by the readings.
    for hidden in ["1.53 g", "1.532", "2.78 g", "97.9"] {
        assert!(!report.contains(hidden), "{hidden} in {report}");
    }
    assert!(
        report.contains(
            "Percent yield of copper: after your own answer to: the reactant that runs out first"
        ),
        "{report}"
    );
}

/// A list of causes that holds against one amount only would promise what the other speaks against.
#[test]
fn causes_wait_until_all_that_was_measured_may_be_seen() {
    const WAITS: &str = "is weighed here once your own answers stand";
    const LISTED: &str = "possible in size";
    let whole = report_with(&[("\"0.965\"          #", "\"0.965\"          #")]);
    assert!(whole.contains(LISTED) && !whole.contains(WAITS), "{whole}");
    for (right, own) in [
        ("\"2.78 g\"         #", "\"\"         #"),
        ("\"2.78 g\"         #", "\"1.11 g\"         #"),
        ("\"1.53 g\"         #", "\"1.11 g\"         #"),
        ("\"98.0 %\"         #", "\"\"         #"),
    ] {
        let report = report_with(&[(right, own)]);
        assert!(report.contains(WAITS), "{own} for {right}: {report}");
        assert!(!report.contains(LISTED), "{own} for {right}: {report}");
    }
}

/// A vessel holds 1.90 g: what its weighings promise to come off cannot be more than that.
#[test]
fn no_more_comes_off_than_there_is() {
    const OPEN: &str = "do not show yet how much is still to come off";
    for (dryings, open) in [
        // 0.46 g and 0.42 g: the geometric series that goes on has still 4.4 g to come.
        ("\"106.96 g\", \"106.50 g\", \"106.08 g\", \"\"", true),
        // 0.80 g and 0.20 g: 0.067 g are still to come.
        ("\"107.08 g\", \"106.28 g\", \"106.08 g\", \"\"", false),
    ] {
        let report = report_with(&[("\"105.70 g\", \"105.68 g\", \"\", \"\"", dryings)]);
        assert_eq!(report.contains(OPEN), open, "{report}");
        assert_eq!(report.contains("would still come off"), !open, "{report}");
    }
}

/// What waits for a lost reading is not hidden behind an answer: the ratio of what was measured still tells of causes.
#[test]
fn causes_do_not_wait_for_what_no_answer_opens() {
    let report = report_with(&[("\"8.47 g\"", "\"lost\"")]);
    assert!(report.contains("possible in size"), "{report}");
    assert!(
        !report.contains("is weighed here once your own answers stand"),
        "{report}"
    );
}
