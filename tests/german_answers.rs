//! Answers of a German class: read as they are typed, and judged in German, by `check`, `draft` and the marked copies.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/german.rs"]
mod german;

use std::fs;
use std::path::Path;
use std::process::Command;

use german::in_german;
use gramleaf::answers::Verdict;
use gramleaf::answers::slips;
use gramleaf::lab::signs;
use serde_json::Value;
use tempfile::TempDir;

/// Answers right, wrong, by a known slip, by an own earlier line, below zero, without a unit and in another.
const WRONG: &[(&str, &str)] = &[
    ("mass_salt", "6,02 g"),
    ("moles_salt", "0,0377 mol"),
    ("moles_zinc", "0,9 mol"),
    ("limiting", "Zink"),
    ("theoretical_copper", "1,532 Gramm Kupfer"),
    ("expected_left_zinc", "-1,2 g"),
    ("collected_copper", "1,50"),
    ("measured_left_zinc", "2,76 mol"),
    ("used_zinc", "1,6000 g"),
    ("percent_yield", "0,979"),
    ("ratio_copper_zinc", "3:2"),
];

/// Right, right but for rounding, and one that is still to come.
const RIGHT: &[(&str, &str)] = &[
    ("moles_salt", "0,0241 Mol"),
    ("moles_zinc", "0,0667 mol"),
    ("limiting", "Zinkblech bleibt übrig"),
    ("theoretical_copper", "1,54 g"),
    ("percent_yield", "97,9 Prozent"),
    ("ratio_copper_zinc", "0,965 mol Kupfer : 1 mol Zink"),
    ("expected_left_zinc", ""),
];

/// A reading is missing; the percent yield follows from a wrong line.
const WAITING: &[(&str, &str)] = &[
    ("zinc_dish_with_zinc", ""),
    ("limiting", "Kupfersulfat"),
    ("theoretical_copper", "2,40 g"),
    ("percent_yield", "62,5 %"),
];

/// A folder with the sample's lab, said to be German, and three groups.
fn class() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/zinc-copper-sulfate");
    let lab = fs::read_to_string(sample.join("lab.toml")).unwrap();
    let german = in_german(&lab).replace("name       = \"copper(II) sulfate\"\n", "");
    fs::write(folder.path().join("lab.toml"), german).unwrap();
    let data = fs::read_to_string(sample.join("3-07.toml")).unwrap();
    for (group, typed) in [("3-21", WRONG), ("3-22", RIGHT), ("3-23", WAITING)] {
        let lines = data.lines().map(|line| {
            let own = typed
                .iter()
                .find(|(name, _)| line.split_whitespace().next() == Some(*name));
            match own {
                Some((name, typed)) => format!("{name} = \"{typed}\"\n"),
                None => format!("{}\n", line.replace("3-07", group)),
            }
        });
        let path = folder.path().join(format!("{group}.toml"));
        fs::write(path, lines.collect::<String>()).unwrap();
    }
    folder
}

/// What the program prints when it runs in the folder, without blanks that do not break.
fn gramleaf(folder: &TempDir, arguments: &[&str]) -> String {
    let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .current_dir(folder.path())
        .args(arguments)
        .output()
        .unwrap();
    assert!(run.status.code().unwrap() < 2, "{run:?}");
    String::from_utf8(run.stdout)
        .unwrap()
        .replace('\u{a0}', " ")
}

fn holds(text: &str, sentences: &[&str]) {
    for sentence in sentences {
        assert!(text.contains(sentence), "no {sentence:?} in\n{text}");
    }
}

/// No verdict, prompt or question of the program is English, nor any longer part of a sentence that has a translation.
fn is_german(text: &str) {
    let mut english: Vec<String> = Vec::new();
    english.extend(slips::all().map(|slip| slip.prompt.to_owned()));
    // `check` prints no slip by its id, and neither does a marked copy, in words.
    let ids = slips::all().map(|slip| slip.id).filter(|id| id.len() > 8);
    english.extend(ids.flat_map(|id| [id.to_owned(), id.replace('-', " ")]));
    english.extend(
        Verdict::ALL
            .iter()
            .map(|verdict| verdict.in_words().to_owned()),
    );
    english.extend(signs::BUILT_IN.iter().map(|(_, asked)| (*asked).to_owned()));
    let strings = fs::read_to_string("src/words/de.toml").unwrap();
    let strings: toml::Table = strings.parse().unwrap();
    for (key, own) in strings["say"].as_table().unwrap() {
        let parts = key.split('{').flat_map(|part| part.split('}'));
        let longest = parts.max_by_key(|part| part.len()).unwrap();
        if longest.len() > 22 && !own.as_str().unwrap().contains(longest) {
            english.push(longest.to_owned());
        }
    }
    for sentence in english {
        assert!(!text.contains(&sentence), "{sentence:?} in\n{text}");
    }
}

#[test]
fn a_file_is_checked_in_german() {
    let folder = class();
    let text = gramleaf(&folder, &["check", "3-21.toml"]);
    is_german(&text);
    holds(
        &text,
        &[
            "Alle 8 Messwerte sind da. 1 Warnung.",
            "  Antworten   11 von 11 gegeben; 2 von 2 Punkten\n",
            "mass_salt           6,02 g: passt zu euren Messwerten\n",
            "moles_salt          0,0377 mol: noch einmal ansehen\n",
            "Das sieht nach einem bekannten Rechenfehler aus. Lest das Etikett auf der Flasche",
            "Wenn ihr den Fehler nicht findet, zeigt eurer Lehrkraft die Zeile",
            "theoretical_copper  1,532 Gramm Kupfer: passt zu euren Messwerten\n",
            "Weniger als nichts gibt es nicht",
            "Eine Zahl wovon? Schreibt die Einheit dazu.",
            "Die Zahl passt, aber passt ihre Einheit zu dem, was gefragt war?",
            "Konnten eure Messgeräte die letzten Ziffern wirklich unterscheiden?",
        ],
    );
    let text = gramleaf(&folder, &["check", "3-22.toml"]);
    is_german(&text);
    holds(
        &text,
        &[
            "limiting            Zinkblech bleibt übrig: passt zu euren Messwerten\n",
            "theoretical_copper  1,54 g: fast richtig: gerundet?\n",
            "percent_yield       97,9 Prozent: passt zu euren Messwerten\n",
            "0,965 mol Kupfer : 1 mol Zink: passt zu euren Messwerten\n",
            "    noch nicht gegeben: expected_left_zinc\n",
        ],
    );
    let text = gramleaf(&folder, &["check", "3-23.toml"]);
    is_german(&text);
    holds(
        &text,
        &[
            "  fehlt       the same dish with the dried zinc (Tag 3)\n",
            "limiting            Kupfersulfat: passt zu euren Messwerten\n",
            "percent_yield       62,5 %: folgt aus eurer früheren Zeile",
            "wartet auf einen Messwert\n",
            "Wartet auf „the same dish with the dried zinc“.",
        ],
    );
}

#[test]
fn an_answer_in_another_unit_is_told_in_german() {
    let folder = class();
    let path = folder.path().join("3-21.toml");
    let typed = fs::read_to_string(&path).unwrap();
    let typed = typed.replace(
        "ratio_copper_zinc = \"3:2\"",
        "ratio_copper_zinc = \"1,34 g\"",
    );
    fs::write(path, typed).unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .current_dir(folder.path())
        .args(["check", "3-21.toml"])
        .output()
        .unwrap();
    holds(
        &String::from_utf8(run.stderr).unwrap(),
        &[
            "„gefundener Rest von Zink“ ist in g gefragt, nicht in mol\n",
            " hier steht mol\n",
            "schreibt die Einheit, die eure letzte Zeile wirklich hat; ist es diese, fehlt noch ein Schritt\n",
            "„Stoffmenge von Kupfer je Mol Zink (verbraucht)“ ist eine reine Zahl, ohne g\n",
        ],
    );
}

#[test]
fn a_class_and_what_changed_are_told_in_german() {
    let folder = class();
    let text = gramleaf(&folder, &["check", "."]);
    is_german(&text);
    holds(
        &text,
        &[
            "Gruppe  Datei ",
            "vollständig ",
            "1 fehlend ",
            "1 auffällig ",
            "moles_salt (Kristallwasser weggelassen)",
            "\nRechenfehler, die häufigsten zuerst",
            "Lest das Etikett auf der Flasche",
        ],
    );
    let text = gramleaf(
        &folder,
        &["check", "--key", "--since", "3-21.toml", "3-22.toml"],
    );
    is_german(&text);
    holds(
        &text,
        &[
            "  Musterlösung\n",
            "molar_mass_zinc         65,38 g/mol  ± 0,012 g/mol\n",
            " seit 3-21.toml\n",
            "    Antwort      moles_zinc          0,9 mol → 0,0667 mol\n",
            "    Antwort      expected_left_zinc  entfernt: -1,2 g\n",
            "    Rückmeldung  moles_salt          noch einmal ansehen → passt zu euren Messwerten\n",
        ],
    );
    let text = gramleaf(&folder, &["check", "--since", "3-22.toml", "3-22.toml"]);
    holds(&text, &["  Änderungen  nichts seit 3-22.toml\n"]);
}

#[test]
fn ids_stay_english_in_data_and_prompts_do_not() {
    let folder = class();
    let text = gramleaf(
        &folder,
        &["check", "--json", "--since", "3-22.toml", "3-21.toml"],
    );
    let files: Value = serde_json::from_str(&text).unwrap();
    let answers = files[0]["answers"].as_array().unwrap();
    let salt = answers.iter().find(|one| one["step"] == "moles_salt");
    let salt = salt.unwrap();
    assert_eq!(salt["verdict"], "look-again");
    assert_eq!(salt["slips"][0], "water-left-out");
    let feedback = salt["feedback"].as_str().unwrap();
    assert!(feedback.starts_with("Das sieht nach"), "{feedback}");
    let kinds = files[0]["changes"].as_array().unwrap().iter();
    let kinds: Vec<&Value> = kinds.map(|change| &change["kind"]).collect();
    assert!(kinds.contains(&&Value::from("verdict")), "{kinds:?}");
}

#[test]
fn reports_and_marked_copies_judge_in_german() {
    let folder = class();
    for (group, verdict) in [
        ("3-21", "noch einmal ansehen"),
        ("3-22", "fast richtig: gerundet?"),
    ] {
        let file = format!("{group}.toml");
        gramleaf(&folder, &["draft", "--template", "report", &file]);
        let report = fs::read_to_string(folder.path().join(format!("{group}.md"))).unwrap();
        is_german(&report.replace('\u{a0}', " "));
        holds(&report, &[verdict, "passt zu euren Messwerten"]);
    }
    gramleaf(&folder, &["check", "--marked", "marked", "."]);
    let marked = fs::read_to_string(folder.path().join("marked/3-21-marked.md")).unwrap();
    is_german(&marked.replace('\u{a0}', " "));
    // A leftover below nothing is told, not printed.
    assert!(
        marked.contains("es würde mehr verbraucht, als da ist"),
        "{marked}"
    );
    holds(
        &marked,
        &["(Kristallwasser weggelassen)", "noch einmal ansehen"],
    );
    let together = fs::read_to_string(folder.path().join("marked/section-3.html")).unwrap();
    holds(
        &together,
        &["<title>Korrigierte Protokolle, Kurs 3</title>"],
    );
}

/// 1,50 g of 1,532 g are 97,9 %; whoever kept the digits of the calculator is asked as well.
#[test]
fn a_fraction_is_told_from_a_percentage_however_many_digits_it_has() {
    let folder = class();
    let path = folder.path().join("3-21.toml");
    let sample = fs::read_to_string(&path).unwrap();
    for fraction in ["0,98", "0,979", "0,9791", "0,97906", "0,9804"] {
        let typed = sample.replace("\"0,979\"", &format!("\"{fraction}\""));
        fs::write(&path, typed).unwrap();
        let text = gramleaf(&folder, &["check", "3-21.toml"]);
        holds(&text, &["Bruchteil von eins"]);
    }
}
