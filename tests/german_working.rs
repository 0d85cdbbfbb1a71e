//! Worked steps of labs in German: titles, words of the working, reasons and odd results, with the numbers of the English report.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/gas_lab.rs"]
mod gas_lab;
mod support;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

use gramleaf::working::State;

/// Samples with a precipitate, a hydrate, a gas over water in three trials, a gas that is lost, a metal that is left, a
/// solution, and a purity.
const SAMPLES: [(&str, &str); 8] = [
    ("calcium-carbonate-precipitate", "2-05"),
    ("calcium-phosphate", "2-09"),
    ("water-in-hydrate", "1-09"),
    ("unknown-hydrate", "1-11"),
    ("hydrogen-over-water", "9-02"),
    ("marble-and-acid", "1-03"),
    ("iron-copper-chloride", "7-08"),
    ("salt-by-evaporation", "4-06"),
];

/// A report in one language.
struct Drafted {
    markdown: String,
    page: String,
}

/// A sample's lab description, said to be in a language.
fn lab(sample: &str, language: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let text = fs::read_to_string(folder.join(sample).join("lab.toml")).unwrap();
    text.replacen("\nid ", &format!("\nlanguage = \"{language}\"\nid "), 1)
}

fn drafted(lab: &str, data: &str) -> Drafted {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    fs::write(path("lab.toml"), lab).unwrap();
    fs::write(path("data.toml"), data).unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .args(["draft", "--lab"])
        .args([path("lab.toml"), path("data.toml")])
        .output()
        .unwrap();
    // A blank that does not break is a blank to this test.
    let read = |name: &str| {
        let text = fs::read_to_string(path(name)).map_err(|_| &run).unwrap();
        text.replace('\u{a0}', " ")
    };
    Drafted {
        markdown: read("data.md"),
        page: read("data.html"),
    }
}

/// The lab of a sample as text, and the report of its group in English and in German.
fn both(sample: &str, group: &str) -> (String, Drafted, Drafted) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let data = fs::read_to_string(folder.join(sample).join(format!("{group}.toml"))).unwrap();
    let [english, german] = ["en", "de"].map(|language| drafted(&lab(sample, language), &data));
    (lab(sample, "en"), english, german)
}

/// The worked steps of a report in Markdown, without the step's id before them.
fn blocks(markdown: &str) -> Vec<&str> {
    let behind = markdown.split("```working ").skip(1);
    let inside = behind.map(|block| block.split("```").next().unwrap());
    inside
        .map(|block| block.split_once('\n').unwrap().1)
        .collect()
}

/// The worked steps of a page: what stands in elements of the class.
fn worked_on(page: &str) -> Vec<&str> {
    let behind = page.split("<div class=\"working\"").skip(1);
    behind
        .map(|block| block.split("<h").next().unwrap())
        .collect()
}

/// The text of HTML without its tags.
fn text_of(html: &str) -> String {
    let parts = html.split('<');
    parts
        .map(|part| part.split_once('>').map_or("", |(_, text)| text))
        .collect::<Vec<_>>()
        .join(" ")
}

/// Words in small letters; no formulas, which have capital letters inside.
fn words(text: &str) -> BTreeSet<String> {
    let words = text.split(|c: char| !c.is_alphabetic());
    words
        .filter(|word| word.len() > 2 && !word.chars().skip(1).any(char::is_uppercase))
        .map(str::to_lowercase)
        .collect()
}

/// Numbers as they stand in a text, with a decimal point or comma.
fn numbers(text: &str, mark: char) -> Vec<String> {
    let mut found = vec![String::new()];
    let characters: Vec<char> = text.chars().collect();
    for (at, c) in characters.iter().enumerate() {
        let beside = |at: Option<usize>| {
            at.and_then(|at| characters.get(at))
                .is_some_and(char::is_ascii_digit)
        };
        let inside = *c == mark && beside(at.checked_sub(1)) && beside(Some(at + 1));
        if c.is_ascii_digit() || inside {
            found
                .last_mut()
                .unwrap()
                .push(if inside { '.' } else { *c });
        } else if !found.last().unwrap().is_empty() {
            found.push(String::new());
        }
    }
    found.retain(|number| !number.is_empty());
    found
}

#[test]
fn no_english_word_of_the_working_is_left() {
    for (sample, group) in SAMPLES {
        let (lab, english, german) = both(sample, group);
        // What the teacher wrote stands as it is; a mole is one in both languages.
        let mut allowed = words(&lab);
        allowed.insert("mol".to_owned());
        let there = blocks(&english.markdown).concat();
        let english_words: BTreeSet<String> = words(&there).difference(&allowed).cloned().collect();
        assert!(english_words.len() > 5, "{sample}: {english_words:?}");
        let page: Vec<String> = worked_on(&german.page)
            .iter()
            .map(|html| text_of(html))
            .collect();
        for (where_from, text) in [
            ("Markdown", blocks(&german.markdown).concat()),
            ("page", page.concat()),
        ] {
            assert!(text.contains("gesucht"), "{sample}: {text}");
            let words = words(&text);
            let left: Vec<&String> = words.intersection(&english_words).collect();
            // The name that a screen reader is told is not part of the text.
            assert!(left.is_empty(), "{sample}, {where_from}: {left:?}\n{text}");
        }
    }
}

#[test]
fn no_english_title_is_left_anywhere() {
    for (sample, group) in SAMPLES {
        let (lab, english, german) = both(sample, group);
        // What the teacher wrote somewhere, or the name and the word for collecting that the teacher gave.
        let quoted = |text: &str| lab.contains(&format!("\"{text}\""));
        let of_the_teacher = |title: &str| {
            let mut blanks = title.match_indices(' ').map(|(at, _)| at);
            lab.contains(title) || blanks.any(|at| quoted(&title[..at]) && quoted(&title[at + 1..]))
        };
        let find = |line: &str| Some(line.strip_prefix("find ")?.trim().to_owned());
        let titles: BTreeSet<String> = english.markdown.lines().filter_map(find).collect();
        assert!(titles.len() > 5, "{sample}: {titles:?}");
        for title in titles.iter().filter(|title| !of_the_teacher(title)) {
            for text in [&german.markdown, &german.page] {
                let small = text.to_lowercase();
                assert!(!small.contains(&title.to_lowercase()), "{sample}: {title}");
            }
        }
    }
}

#[test]
fn the_numbers_are_those_of_the_english_report() {
    for (sample, group) in SAMPLES {
        let (_, english, german) = both(sample, group);
        let (there, here) = (blocks(&english.markdown), blocks(&german.markdown));
        assert_eq!(there.len(), here.len(), "{sample}");
        for (there, here) in there.iter().zip(&here) {
            assert_eq!(numbers(there, '.'), numbers(here, ','), "{sample}: {here}");
        }
        let (there, here) = (worked_on(&english.page), worked_on(&german.page));
        assert_eq!(there.len(), here.len(), "{sample}");
        for (there, here) in there.iter().zip(&here) {
            let (there, here) = (text_of(there), text_of(here));
            assert_eq!(
                numbers(&there, '.'),
                numbers(&here, ','),
                "{sample}: {here}"
            );
        }
    }
}

#[test]
fn worked_lines_read_as_german() {
    let (_, _, metal) = both("iron-copper-chloride", "7-08");
    for text in [
        "### Größte Menge von Kupfer, die entstehen kann",
        "gegeben   0,0235224 mol CuCl₂ (begrenzend);  M(Cu) = 63,546 g/mol;  1 mol Cu je 1 mol CuCl₂",
        "m(Cu, max.) = n(CuCl₂) × (Cu : CuCl₂) × M(Cu)",
        "Probe     zwischen null und den eingesetzten 5,03 g Fe",
        "Probe     100 % × 1,012 Umsatz × 0,9647 Wiederfindung ergibt dasselbe",
        "Stoffmengenverhältnis = n(Cu, erhalten) / n(Fe, verbraucht)",
    ] {
        assert!(
            metal.markdown.contains(text),
            "no {text:?} in\n{}",
            metal.markdown
        );
    }
    assert!(
        metal.page.contains("<dt>Probe</dt><dd>zwischen null"),
        "the word is told from the rest"
    );
    let (_, _, gas) = both("hydrogen-over-water", "9-02");
    for text in [
        "2,57 kPa, Dampfdruck von Wasser bei 21,5 °C",
        "R = 8,31446 kPa·L/(mol·K)",
        "21,5 °C = 294,65 K",
    ] {
        assert!(
            gas.markdown.contains(text),
            "no {text:?} in\n{}",
            gas.markdown
        );
    }
}

/// A label and a name of the teacher's hold points and commas between digits; numbers worked out have commas, these stay.
#[test]
fn what_teachers_wrote_keeps_its_marks() {
    let lab = lab("salt-by-evaporation", "de").replace(
        "label = \"hydrochloric acid",
        "label = \"Säure 3.00 und 0,5",
    );
    let data = fs::read_to_string("samples/salt-by-evaporation/4-06.toml").unwrap();
    let report = drafted(&lab, &data);
    for text in [
        "gegeben   8,0 mL, Säure 3.00 und 0,5",
        "n(HCl) = Säure 3.00 und 0,5",
    ] {
        assert!(
            report.markdown.contains(text),
            "no {text:?} in\n{}",
            report.markdown
        );
    }
    assert!(report.page.contains("Säure 3.00 und 0,5"), "and in MathML");
}

#[test]
fn odd_results_are_remarked_in_german() {
    let lab = lab("zinc-copper-sulfate", "de");
    let sample = fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").unwrap();
    let (head, _) = sample.split_once("[answers]").unwrap();
    for (from, to, remark) in [
        (
            "105.68 g",
            "106.30 g",
            "mehr Kupfer gewogen, als entstehen konnte",
        ),
        ("105.68 g", "115.70 g", "mehr Kupfer gewogen, als "),
    ] {
        let data = head.replace(from, to);
        assert_ne!(data, head);
        let report = drafted(&lab, &data);
        for text in [&report.markdown, &report.page] {
            assert!(text.contains(remark), "no {remark:?} in\n{text}");
            for english in ["was weighed than", "could have formed", "is it dry"] {
                assert!(!text.contains(english), "{english:?}");
            }
        }
    }
}

/// Why there is no value, with a gas at a temperature and a pressure, or a reading of nothing.
#[test]
fn reasons_are_german() {
    for (expression, celsius, pressure, reason) in [
        (
            "gas(volume, celsius, pressure)",
            "-300 °C",
            "100.6 kPa",
            "so kalt ist nichts: Die Skala endet bei −273,15 °C",
        ),
        (
            "gas_over_water(volume, celsius, pressure)",
            "140 °C",
            "100.6 kPa",
            "die Tabelle des Dampfdrucks von Wasser reicht von 0 bis ",
        ),
        (
            "gas_over_water(volume, celsius, pressure)",
            "21.5 °C",
            "2.0 kPa",
            "der Druck ist nicht höher als der des Wasserdampfs darin",
        ),
        (
            "volume / (volume - volume)",
            "21.5 °C",
            "100.6 kPa",
            "es würde durch null geteilt",
        ),
        (
            "volume / nothing",
            "21.5 °C",
            "100.6 kPa",
            "dieser Wert ist null: nothing",
        ),
        (
            "volume / volume * M(Tc) / M(Tc)",
            "21.5 °C",
            "100.6 kPa",
            "es gibt keine Standard-Atommasse für Technetium",
        ),
    ] {
        let state = gas_lab::amount("de", expression, "38.4 mL", celsius, pressure);
        let State::Undefined(why) = state else {
            panic!("{expression}: {state:?}")
        };
        assert!(why.starts_with(reason), "{expression}: {why}");
    }
}
