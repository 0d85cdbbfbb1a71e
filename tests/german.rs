//! Reports of a lab in German: its words, its decimal marks, and no English sentence of the program among them.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/german.rs"]
mod german;

use std::fs;
use std::path::Path;
use std::process::Command;

use german::english_pieces;
use german::in_german;

/// Page and Markdown of a sample's group, drafted with its lab said to be in German.
fn drafted(template: &str) -> (String, String) {
    drafted_by(template, &[])
}

/// The same with parts of the lab description exchanged.
fn drafted_by(template: &str, changes: &[(&str, &str)]) -> (String, String) {
    let folder = tempfile::tempdir().unwrap();
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/zinc-copper-sulfate");
    let lab = fs::read_to_string(sample.join("lab.toml")).unwrap();
    let german = changes.iter().fold(in_german(&lab), |german, (from, to)| {
        assert!(german.contains(from), "no {from}");
        german.replace(from, to)
    });
    let (lab, data) = (
        folder.path().join("lab.toml"),
        folder.path().join("3-07.toml"),
    );
    fs::write(&lab, german).unwrap();
    fs::copy(sample.join("3-07.toml"), &data).unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .args(["draft", "--template", template, "--lab"])
        .arg(&lab)
        .arg(&data)
        .output()
        .unwrap();
    assert!(run.status.success(), "{run:?}");
    // A blank that does not break is a blank to this test.
    let read = |name: &str| {
        let text = fs::read_to_string(folder.path().join(name)).unwrap();
        text.replace('\u{a0}', " ")
    };
    (read("3-07.html"), read("3-07.md"))
}

#[test]
fn headings_sentences_and_numbers_are_german() {
    let (page, report) = drafted("report");
    for text in [
        "## 1 Sicherheit",
        "## 5 Messwerte",
        "## 9 Fehlerdiskussion",
        "**97,9 %** ± 0,3 %",
        "| beaker with copper, Wägung 2              | 105,68 g | 0,005 g | 3   |",
        "gesucht   prozentuale Ausbeute an Kupfer",
        "= 1,50 g Cu / 1,5322 g Cu × 100 %",
        "Zink",
        "H302 Gesundheitsschädlich bei Verschlucken",
        "Zuerst gelten die Anweisungen der Lehrkraft, das Sicherheitsdatenblatt (SDB)",
    ] {
        assert!(report.contains(text), "no {text:?} in\n{report}");
    }
    for text in [
        "<html lang=\"de\">",
        ">Zum Bericht springen</a>",
        "<title>Copper from a zinc strip, Gruppe 3-07</title>",
        "<dt>gesucht</dt><dd>prozentuale Ausbeute an Kupfer</dd>",
        "<dt>Probe</dt>",
        "<mn>65,38</mn>",
    ] {
        assert!(page.contains(text), "no {text:?} in the page");
    }
}

#[test]
fn what_was_typed_keeps_its_decimal_mark() {
    let (_, report) = drafted("report");
    for text in ["| 98.0 %", "Our yield is 98.0 %", "gramleaf ", "10 Feb"] {
        assert!(report.contains(text), "no {text:?} in\n{report}");
    }
    assert!(report.contains(concat!("gramleaf ", env!("CARGO_PKG_VERSION"))));
}

#[test]
fn a_reading_with_three_decimals_is_no_thousand() {
    let folder = tempfile::tempdir().unwrap();
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/zinc-copper-sulfate");
    let lab = fs::read_to_string(sample.join("lab.toml")).unwrap();
    let data = fs::read_to_string(sample.join("3-07.toml")).unwrap();
    let data = data.replace("\"104.18 g\"", "\"104,180 g\"");
    assert!(data.contains("104,180 g"));
    fs::write(folder.path().join("3-07.toml"), data).unwrap();
    for (language, code) in [("en", Some(1)), ("de", Some(0))] {
        let language = format!("\nlanguage = \"{language}\"\nid ");
        fs::write(
            folder.path().join("lab.toml"),
            lab.replacen("\nid ", &language, 1),
        )
        .unwrap();
        let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .arg("check")
            .arg(folder.path())
            .output()
            .unwrap();
        assert_eq!(run.status.code(), code, "{language}: {run:?}");
    }
}

#[test]
fn a_point_in_a_name_is_no_decimal_mark() {
    let changes = [
        (
            "formula = \"Zn\"",
            "formula = \"Zn\"\nname = \"Zink 2.0338\"",
        ),
        ("\"beaker with copper\"", "\"Becherglas 3.2\""),
    ];
    let (page, report) = drafted_by("formal", &changes);
    for text in [&page, &report] {
        assert!(text.contains("Zink 2.0338") && text.contains("Becherglas 3.2"));
        assert!(!text.contains("2,0338") && !text.contains("Becherglas 3,2"));
        assert!(text.contains("0,3 %"));
    }
}

#[test]
fn no_english_sentence_of_the_reports_is_left() {
    let strings: toml::Table = fs::read_to_string("src/words/de.toml")
        .unwrap()
        .parse()
        .unwrap();
    let strings = strings["say"].as_table().unwrap();
    for template in ["report", "formal", "worksheet"] {
        let (_, report) = drafted(template);
        for english in english_pieces(25) {
            assert!(!report.contains(&english), "{template} says {english:?}");
        }
        for heading in report.lines().filter(|line| line.starts_with("## ")) {
            let words = heading
                .trim_start_matches(['#', ' ', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9']);
            let german = strings.values().any(|own| own.as_str() == Some(words));
            assert!(german, "{template}: {heading:?}");
        }
    }
}
