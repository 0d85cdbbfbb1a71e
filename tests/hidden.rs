//! What stays hidden until a student's own answer stands.

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
