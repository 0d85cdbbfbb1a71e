//! Causes in German: students' German words are recognised, and neither reports nor tests speak of causes in English.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/german.rs"]
mod german;
mod support;

#[path = "support/program.rs"]
mod program;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use german::english_pieces;
use german::in_german;
use gramleaf::causes;
use program::gramleaf;

/// The lab description and the first data file of every sample.
fn samples() -> Vec<(String, String)> {
    let mut all = Vec::new();
    for folder in fs::read_dir("samples").unwrap() {
        let folder = folder.unwrap().path();
        let Ok(lab) = fs::read_to_string(folder.join("lab.toml")) else {
            continue;
        };
        let files = fs::read_dir(&folder).unwrap();
        let mut groups: Vec<_> = files.map(|file| file.unwrap().path()).collect();
        groups.retain(|path| path.extension().is_some_and(|end| end == "toml"));
        groups.sort();
        all.push((lab, fs::read_to_string(&groups[0]).unwrap()));
    }
    assert!(all.len() > 10, "{}", all.len());
    all
}

/// A data file with these causes instead of its own, and notes on its last day.
fn with(data: &str, own: &[(&str, &str, &str)], seen: &str) -> String {
    let sections = data.split_inclusive("\n[");
    let mut text: String = sections
        .filter(|section| !section.starts_with("cause."))
        .collect();
    let opened = "\nseen = '''\n";
    if let Some(at) = text.rfind(opened) {
        text.insert_str(at + opened.len(), seen);
    }
    for (number, (what, effect, evidence)) in own.iter().enumerate() {
        text.push_str(&format!(
            "[cause.{}]\nwhat = \"{what}\"\neffect = \"{effect}\"\nevidence = \"{evidence}\"\n",
            number + 1
        ));
    }
    text
}

fn zinc() -> (String, String) {
    let read = |name: &str| {
        fs::read_to_string(format!("samples/zinc-copper-sulfate/{name}.toml")).unwrap()
    };
    (in_german(&read("lab")), read("3-07"))
}

#[test]
fn a_cause_in_german_words_is_recognised() {
    let (lab, data) = zinc();
    for (what, id) in [
        ("Das Kupfer war noch nicht ganz trocken.", "product-damp"),
        ("Kupfer war beim Wiegen feucht", "product-damp"),
        (
            "Etwas Kupfer wurde mit der Lösung abgegossen.",
            "product-poured-away",
        ),
        ("Wir haben zu früh abgegossen", "product-poured-away"),
        (
            "Ein Teil des Kupfers ist im Becherglas hängen geblieben",
            "solid-left-behind",
        ),
        ("Es wurde etwas Kupfer verschüttet", "product-spilled"),
        ("Das Kupfer ist an der Luft oxidiert", "product-oxidised"),
        (
            "Wir haben nicht gut gespült, zu wenig gewaschen",
            "salt-not-rinsed",
        ),
        ("Zinkstückchen waren noch im Kupfer", "metal-in-product"),
        ("Kupfer klebte am Zink", "product-on-metal"),
        (
            "Am Zink stiegen Bläschen auf: Wasserstoff",
            "attacked-by-acid",
        ),
        ("Bläschen am Zink", "attacked-by-acid"),
        ("Das Zink war noch nass", "leftover-damp"),
        ("Die Reaktion war noch nicht zu Ende", "stopped-early"),
        (
            "Die blauen Kristalle waren feucht: feuchtes Salz",
            "more-water-than-stated",
        ),
        ("Salz wurde verschüttet", "reactant-spilled"),
        (
            "In der Wägeschale blieb etwas Salz",
            "left-in-weighing-dish",
        ),
        ("Das Becherglas war noch warm", "weighed-warm"),
        ("Eine andere Waage", "different-balances"),
        ("Wir haben die Gefäße vertauscht", "vessels-exchanged"),
        ("Nasses Becherglas am Anfang", "vessel-damp-at-first"),
        ("Etikett erst nach dem Wiegen aufgeklebt", "label-added"),
        ("Es spritzte etwas heraus", "product-spilled"),
        // The forms and the table of signs name these in English.
        ("product_still_damp", "product-damp"),
        ("product-damp", "product-damp"),
        ("Menschlicher Fehler", ""),
        ("Gelbe Vorhänge", ""),
    ] {
        let data = with(&data, &[(what, "", "")], "");
        support::worked(&lab, &data, |lab, graph, record, worked| {
            let weighed = causes::weigh(lab, graph, record, worked, &|_| true);
            let own = &weighed.own[0];
            let found = own.cause.map_or("", |(cause, _)| cause.id);
            assert_eq!(found, id, "{what}");
            let says_nothing = own.direction.starts_with("Das nennt nichts");
            assert_eq!(says_nothing, what == "Menschlicher Fehler", "{what}");
        });
    }
}

/// The data of a lab, a cause and what is said of its direction.
fn directions(folder: &str, readings: &str, rows: &[(&str, &str, &str)]) {
    let lab = fs::read_to_string(format!("samples/{folder}/lab.toml")).unwrap();
    let lab = in_german(&lab);
    for (what, effect, starts) in rows {
        let data = format!(
            "[who]\nlab = \"{folder}\"\ngroup = \"3-07\"\n{readings}[cause.1]\nwhat = \"{what}\"\neffect = \"{effect}\"\n"
        );
        support::worked(&lab, &data, |lab, graph, record, worked| {
            let weighed = causes::weigh(lab, graph, record, worked, &|_| true);
            let said = &weighed.own[0].direction;
            assert!(said.starts_with(starts), "{what}: {said}");
        });
    }
}

#[test]
fn what_cancels_and_what_depends_is_told_in_german() {
    let higher = "Das macht die prozentuale Ausbeute höher, aber eure liegt unter 100 %";
    let fits = "Passt: Das macht die prozentuale Ausbeute niedriger";
    let excess =
        "Das ändert die prozentuale Ausbeute gar nicht: sodium carbonate ist im Überschuss";
    directions(
        "calcium-carbonate-precipitate",
        "[day.1]\nchloride_boat = \"2,31 g\"\nchloride_boat_with_salt = \"3,93 g\"\nsoda_boat = \"2,29 g\"\n\
         soda_boat_with_salt = \"3,70 g\"\nwater_each = \"25,0 mL\"\npaper = \"0,98 g\"\n\
         [day.2]\npaper_with_chalk = [\"2,06 g\", \"2,03 g\", \"2,03 g\"]\n",
        &[
            (
                "Das Filterpapier hat Feuchtigkeit aufgenommen",
                "höher",
                higher,
            ),
            ("Papier war feucht", "höher", higher),
            ("Papier war feucht", "niedriger", fits),
            ("Papier war feucht", "", "Es kommt darauf an, wann:"),
            (
                "Verunreinigung",
                "höher",
                "Es kommt darauf an, was unrein war:",
            ),
            (
                "Waage nicht tariert",
                "niedriger",
                "Die Abweichung der Waage steckt in beiden",
            ),
            (
                "Wir haben Natriumcarbonat-Lösung verschüttet",
                "niedriger",
                excess,
            ),
            (
                "zu wenig Calciumchlorid",
                "niedriger",
                "Wie viel genommen wurde (",
            ),
            ("Im Papier war ein Loch", "niedriger", fits),
            (
                "Vom Papier lösten sich Stücke: Papierfetzen",
                "niedriger",
                fits,
            ),
            ("Calciumcarbonat löst sich in Wasser", "niedriger", fits),
            (
                "falsch gerechnet",
                "niedriger",
                "Das ist ein Fehler beim Rechnen",
            ),
        ],
    );
    directions(
        "hydrogen-over-water",
        "[day.1]\n[trial.1]\nribbon = \"0,0365 g\"\ngas_volume = \"36,4 mL\"\ngas_temperature = \"21,0 °C\"\nair_pressure = \"100,8 kPa\"\n",
        &[
            ("Luft drang in das Rohr ein", "höher", higher),
            ("Rohr undicht", "niedriger", fits),
            ("Das Wasser stand im Rohr höher als außen", "höher", higher),
            ("Wasser im Rohr nicht gleich hoch", "niedriger", fits),
            (
                "Magnesium war zu kurz",
                "niedriger",
                "Wie viel genommen wurde (",
            ),
            (
                "Wasserdampf vergessen",
                "höher",
                "Das ist ein Fehler beim Rechnen",
            ),
        ],
    );
    directions(
        "water-in-hydrate",
        "[day.1]\ncrucible = \"24,512 g\"\ncrucible_with_crystals = \"27,034 g\"\ncrucible_heated = [\"26,152 g\", \"26,141 g\", \"26,140 g\"]\n",
        &[(
            "Die Kristalle hatten schon Wasser verloren",
            "niedriger",
            fits,
        )],
    );
}

#[test]
fn what_german_students_write_is_judged_and_answered_in_german() {
    let (lab, data) = zinc();
    let seen = "Heute war das rotbraune Pulver noch feucht.";
    let own = [
        (
            "Kupfer abgegossen",
            "niedriger",
            "Das rotbraune Pulver war feucht",
        ),
        ("Kupfer abgegossen", "higher", "etwas ganz anderes"),
        ("Kupfer noch nass", "höher", ""),
        ("Das Zink war noch nass", "", ""),
    ];
    let data = with(&data, &own, seen);
    support::worked(&lab, &data, |lab, graph, record, worked| {
        let weighed = causes::weigh(lab, graph, record, worked, &|_| true);
        let starts = [
            "Passt: Das macht die prozentuale Ausbeute niedriger",
            "Das macht die prozentuale Ausbeute niedriger, nicht höher.",
            "Das macht die prozentuale Ausbeute höher, aber eure liegt unter 100 %",
            "Das ändert die prozentuale Ausbeute gar nicht; es macht „the same dish with the dried zinc“ höher",
        ];
        for (own, start) in weighed.own.iter().zip(starts) {
            assert!(own.direction.starts_with(start), "{}", own.direction);
        }
        let ends = [
            "So steht es in den Notizen von Tag 3.",
            "Schreibt unter den Tag, an dem es war, was ihr gesehen habt.",
            "eine Zeile aus euren Notizen.",
        ];
        for (own, end) in weighed.own.iter().zip(ends) {
            assert!(own.evidence.ends_with(end), "{}", own.evidence);
        }
        let hints = causes::hints(lab, record);
        let asked = "mit Nein beantwortet, aber in den Notizen von Tag 3 steht „Heute war das rotbraune Pulver noch feucht“: Was davon stimmt?";
        assert!(hints.iter().any(|hint| hint.ends_with(asked)), "{hints:?}");
    });
}

fn no_english(text: &str, sentences: &BTreeSet<String>) {
    let text = text.replace('\u{a0}', " ");
    for sentence in sentences {
        assert!(!text.contains(sentence), "{sentence:?} in\n{text}");
    }
}

#[test]
fn neither_reports_nor_tests_speak_of_causes_in_english() {
    let sentences = english_pieces(20);
    let own = [
        ("nass", "niedriger", "Das war feucht."),
        ("nass", "höher", ""),
        ("verschüttet", "", "abgegossen"),
        ("Nebenreaktion", "higher", ""),
        ("menschlicher Fehler", "", ""),
        ("zu früh aufgehört", "lower", ""),
        ("noch warm", "", ""),
        ("Gelbe Vorhänge", "", ""),
    ];
    let seen = "Alles noch feucht. Keine Blasen, nichts abgegossen. Noch blau, Rauch, andere Waage, verschüttet, noch warm.";
    for (lab, data) in samples() {
        let german = in_german(&lab);
        let theirs = with(&data, &own, seen);
        for data in [
            &data,
            &theirs,
            &theirs.replace("= \"yes\"", "= \"no\""),
            &theirs.replace("= \"no\"", "= \"yes\""),
        ] {
            for open in [true, false] {
                let tested = support::worked(&german, data, |lab, graph, record, worked| {
                    let weighed = causes::weigh(lab, graph, record, worked, &|_| open);
                    let own = weighed.own.into_iter();
                    let parts = own.flat_map(|own| [own.direction, own.size, own.evidence]);
                    parts.chain(causes::hints(lab, record)).collect::<Vec<_>>()
                });
                no_english(&tested.join("\n"), &sentences);
            }
        }
        no_english(&discussion(&german, &theirs), &sentences);
    }
}

/// The error discussion of a report.
fn discussion(lab: &str, data: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let folder: &Path = folder.path();
    fs::write(folder.join("lab.toml"), lab).unwrap();
    fs::write(folder.join("3-07.toml"), data).unwrap();
    let drafted = gramleaf(
        folder,
        &["draft", "--key", "--lab", "lab.toml", "3-07.toml"],
    );
    let report = fs::read_to_string(folder.join("3-07.md"));
    let report = report.unwrap_or_else(|_| panic!("{drafted}"));
    // What is odd in a file is said in English further up.
    let Some((_, behind)) = report.split_once(" Fehlerdiskussion\n") else {
        panic!("no discussion in\n{report}");
    };
    behind.split("\n## ").next().unwrap().to_owned()
}
