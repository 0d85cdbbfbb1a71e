//! Forms, sheets, preparations and class pages of labs in German: read back clean, and no English sentence of the program in them.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/german.rs"]
mod german;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::sync::LazyLock;

use german::english_pieces;
use german::in_german;
use tempfile::TempDir;

/// Runs the program and returns what it printed.
fn gramleaf(folder: &Path, words: &[&str]) -> String {
    let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .current_dir(folder)
        .args(words)
        .output()
        .unwrap();
    let text = [run.stdout, run.stderr].concat();
    let text = String::from_utf8(text).unwrap();
    assert!(run.status.success(), "{words:?}: {text}");
    // A blank that does not break is a blank to this test.
    text.replace('\u{a0}', " ")
}

fn read(folder: &TempDir, name: &str) -> String {
    let text = fs::read_to_string(folder.path().join(name)).unwrap();
    text.replace('\u{a0}', " ")
}

/// A folder with the description of a sample, said to be in German, as `lab.toml`.
fn folder_of(sample: &str) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let lab = fs::read_to_string(samples.join(sample).join("lab.toml")).unwrap();
    fs::write(folder.path().join("lab.toml"), in_german(&lab)).unwrap();
    folder
}

/// Every sample lab: with trials, gases, hydrates, solutions, and with nothing to predict.
fn samples() -> Vec<String> {
    let folders = fs::read_dir("samples").unwrap();
    let mut names: Vec<String> = folders
        .map(|folder| folder.unwrap())
        .filter(|folder| folder.path().join("lab.toml").is_file())
        .map(|folder| folder.file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

static ENGLISH: LazyLock<BTreeSet<String>> = LazyLock::new(|| english_pieces(25));

fn no_english(text: &str, where_from: &str) {
    for sentence in ENGLISH.iter() {
        assert!(!text.contains(sentence), "{where_from} says {sentence:?}");
    }
}

#[test]
fn the_blank_form_reads_back_clean_and_has_the_names_of_the_english_one() {
    for sample in samples() {
        let folder = folder_of(&sample);
        let start = ["start", "lab.toml", "--group", "3-07", "--out"];
        gramleaf(folder.path(), &[&start[..], &["3-07.toml"]].concat());
        let form = read(&folder, "3-07.toml");
        no_english(&form, &sample);
        for text in [
            "# MESSDATEN: ",
            "# Schreibt, was die Waage zeigt: jede Ziffer und die Einheit.",
            "# was ihr gefunden habt, mit euren Zahlen",
        ] {
            assert!(form.contains(text), "{sample}: no {text:?} in\n{form}");
        }
        let checked = gramleaf(folder.path(), &["check", "3-07.toml"]);
        for wrong in ["error", "warning"] {
            assert!(!checked.contains(wrong), "{sample}: {checked}");
        }
        let own: toml::Table = form.parse().unwrap();
        let english = gramleaf(
            Path::new(env!("CARGO_MANIFEST_DIR")),
            &["start", &sample, "--group", "3-07", "--out", "-"],
        );
        let mut english: toml::Table = english.parse().unwrap();
        english["who"]["lab"] = own["who"]["lab"].clone();
        assert_eq!(own["who"]["share_words"].as_str(), Some("nein"));
        english["who"]["share_words"] = own["who"]["share_words"].clone();
        assert_eq!(own, english, "{sample}");
    }
}

#[test]
fn the_sheet_for_the_bench_asks_in_german() {
    let folder = folder_of("zinc-copper-sulfate");
    let words = ["start", "lab.toml", "--sheet", "bench", "--out", "sheet"];
    gramleaf(folder.path(), &[&words[..], &["--group", "3-07"]].concat());
    let sheet = read(&folder, "sheet.md");
    for text in [
        ": Messblatt",
        "## Sicherheit",
        "H302 Gesundheitsschädlich bei Verschlucken",
        "## Tag 1: ",
        "□□□,□□ g",
        "| Messwert",
        "in der Datendatei",
        "## Zum Schluss",
    ] {
        assert!(sheet.contains(text), "no {text:?} in\n{sheet}");
    }
    let page = read(&folder, "sheet.html");
    assert!(page.contains("<html lang=\"de\">"), "{page}");
    assert!(page.contains("Messblatt, Gruppe 3-07</title>"), "{page}");
}

#[test]
fn sheets_and_preparations_of_every_sample_have_no_english_sentence() {
    for sample in samples() {
        let folder = folder_of(&sample);
        for words in [
            &["start", "lab.toml", "--sheet", "bench"][..],
            &["start", "lab.toml", "--sheet", "prelab"],
            &["start", "lab.toml", "--sheet", "prelab", "--key"],
            &["plan", "lab.toml", "--groups", "12"],
        ] {
            let printed = gramleaf(folder.path(), &[words, &["--out", "page"]].concat());
            no_english(
                &read(&folder, "page.md"),
                &format!("{sample}: {words:?} {printed}"),
            );
            fs::remove_file(folder.path().join("page.md")).unwrap();
            fs::remove_file(folder.path().join("page.html")).unwrap();
        }
    }
}

#[test]
fn class_pages_are_german_with_decimal_commas() {
    let folder = folder_of("zinc-copper-sulfate");
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/zinc-copper-sulfate");
    let groups = ["3-02", "3-07", "3-11", "3-14", "3-07", "3-02"];
    // Of fewer than five results nothing is printed.
    let more = ["3-02", "3-07", "3-14"].repeat(5);
    for (from, code) in groups.iter().chain(&more).zip(1..) {
        let text = fs::read_to_string(data.join(format!("{from}.toml"))).unwrap();
        let own = text.replace(from, &format!("4-{code:02}"));
        let lost = if code == 5 { "lost" } else { "104.18 g" };
        let own = own.replace("\"104.18 g\"", &format!("\"{lost}\""));
        fs::write(folder.path().join(format!("4-{code:02}.toml")), own).unwrap();
    }
    let words = ["share", ".", "--out", "site", "--teacher", "teacher"];
    gramleaf(folder.path(), &words);
    let results = read(&folder, "site/results.md");
    for text in [
        ": Ergebnisse der Klasse",
        "## Statistik",
        " Median |",
        "97,9",
        "## Nach Gruppen",
        "Erstellt mit gramleaf",
    ] {
        assert!(results.contains(text), "no {text:?} in\n{results}");
    }
    for name in ["site/index.md", "site/results.md", "teacher/teacher.md"] {
        no_english(&read(&folder, name), name);
    }
    let lost = read(&folder, "site/groups/4-05.md");
    assert!(lost.contains("kein Messwert") && !lost.contains("no reading"));
    let csv = read(&folder, "site/results.csv");
    assert!(
        csv.contains("97.9"),
        "numbers for spreadsheets keep the point: {csv}"
    );
}
