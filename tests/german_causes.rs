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
use gramleaf::causes::vocabulary;
use gramleaf::words::LANGUAGES;
use gramleaf::words::Words;
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

/// The cause that words are taken for, and what is said of it, in the lab of a text with the readings given.
fn own(lab: &str, data: &str, what: &str) -> causes::Own {
    let data = with(data, &[(what, "", "Tag 1 gesehen")], "");
    support::worked(lab, &data, |lab, graph, record, worked| {
        causes::weigh(lab, graph, record, worked, &|_| true)
            .own
            .remove(0)
    })
}

/// The gas lab with the trials of its group as one, and a titration whose titrant is called what students call it.
fn gas_and_titration() -> [(String, &'static str); 2] {
    let gas = fs::read_to_string("samples/hydrogen-over-water/lab.toml").unwrap();
    let titration = r#"
id = "titration"
title = "Kalk"
language = "de"
equation = "CaCO3(s) + 2 HCl(aq) -> CaCl2(aq) + H2O(l) + CO2(g)"
[substance.kalk]
formula = "CaCO3"
name = "Calciumcarbonat"
before = "schale"
[substance.saeure]
formula = "HCl"
name = "Salzsäure"
before = "volumen * saeure_konzentration"
after = "(ende - anfang) * lauge_konzentration"
[given]
saeure_konzentration = "1,000 mol/L"
lauge_konzentration = "0,500 mol/L"
[instrument.balance]
unit = "g"
readability = "0,001 g"
[instrument.buerette]
unit = "mL"
tolerance = "0,05 mL"
[day.1]
title = "Alles"
readings = [
  { name = "schale", label = "gemahlene Schale" },
  { name = "volumen", label = "Salzsäure aus der Pipette", unit = "mL" },
  { name = "anfang", label = "Bürette am Anfang", unit = "mL" },
  { name = "ende", label = "Bürette am Umschlag", unit = "mL" },
]
[ask]
usual = true
"#;
    [
        (
            in_german(&gas),
            "[who]\nlab = \"hydrogen-over-water\"\ngroup = \"9-02\"\n[day.1]\nribbon = \"0,0382 g\"\ngas_volume = \"36,4 mL\"\ngas_temperature = \"21,5 °C\"\nair_pressure = \"100,6 kPa\"\n",
        ),
        (
            titration.to_owned(),
            "[who]\nlab = \"titration\"\ngroup = \"9-02\"\n[day.1]\nschale = \"0,604 g\"\nvolumen = \"25,00 mL\"\nanfang = \"0,40 mL\"\nende = \"27,60 mL\"\n",
        ),
    ]
}

#[test]
fn what_happens_to_a_gas_and_past_an_end_point_is_understood() {
    let [gas, titration] = gas_and_titration();
    for ((lab, data), what, id) in [
        (&gas, "Blasen sind entwischt", "gas-escaped"),
        (
            &gas,
            "Gasblasen sind am Rohr vorbei gegangen",
            "gas-escaped",
        ),
        (&gas, "Es war noch Magnesium übrig", "stopped-early"),
        (&gas, "Am Ende blieb Magnesium übrig.", "stopped-early"),
        (&gas, "Es war noch Salzsäure übrig", ""),
        (&gas, "Es war kein Magnesium mehr übrig", ""),
        (&gas, "Übrigens war es schön", ""),
        (&titration, "zu viel Natronlauge zugegeben", "over-titrated"),
        (&titration, "zu viel Lauge zugetropft", "over-titrated"),
        (
            &titration,
            "Der Umschlagspunkt wurde überschritten",
            "over-titrated",
        ),
        (&titration, "Endpunkt überschritten", "over-titrated"),
        (&titration, "zu viel Salzsäure zugegeben", ""),
    ] {
        let own = own(lab, data, what);
        let found = own.cause.map_or("", |(cause, _)| cause.id);
        assert_eq!(found, id, "{what}: {own:?}");
    }
}

#[test]
fn a_reading_named_as_wrong_is_asked_for_its_direction_and_amount() {
    let [gas, titration] = gas_and_titration();
    let titles = |lab: &str| {
        lab.replace(
            "temperature of the water beside the tube",
            "Temperatur des Wassers",
        )
        .replace(
            "gas in the tube, water equally",
            "Gas im Rohr, Wasser equally",
        )
    };
    for (lab, data, what, names) in [
        (
            titles(&gas.0),
            gas.1,
            "Temperatur falsch gemessen",
            "„Temperatur des Wassers“",
        ),
        (
            titles(&gas.0),
            gas.1,
            "Die Wassertemperatur wurde falsch abgelesen",
            "„Temperatur des Wassers“",
        ),
        (titles(&gas.0), gas.1, "am Barometer verlesen", "barometer“"),
        (
            titration.0.clone(),
            titration.1,
            "Bürette falsch abgelesen",
            "„Bürette am Anfang“ oder „Bürette am Umschlag“",
        ),
    ] {
        let said = own(&lab, data, what).direction;
        assert!(said.contains(names), "{what}: {said}");
        assert!(
            said.contains("zu viel oder zu wenig abgelesen, und um wie viel?"),
            "{what}: {said}"
        );
        assert_eq!(
            said.matches('„').count(),
            names.matches('„').count().max(1),
            "{said}"
        );
    }
    for what in ["Alles falsch gemessen", "Temperatur war schön"] {
        let said = own(&titles(&gas.0), gas.1, what).direction;
        assert!(
            said.starts_with("Mit diesen Worten kennt"),
            "{what}: {said}"
        );
    }
    let english = fs::read_to_string("samples/hydrogen-over-water/lab.toml").unwrap();
    let said = own(
        &english,
        &gas.1.replace(',', "."),
        "we read the temperature wrong",
    )
    .direction;
    assert!(
        said.contains("“temperature of the water beside the tube” was off"),
        "{said}"
    );
}

#[test]
fn a_cause_without_a_name_asks_for_it() {
    let (lab, data) = zinc();
    let own = own(&lab, &data, "");
    assert_eq!(own.what, "Eine Ursache ohne `what`");
    assert!(own.direction.starts_with("`what` ist noch leer"), "{own:?}");
    assert!(
        own.evidence.starts_with("Was dort als Beleg steht"),
        "{own:?}"
    );
}

/// German sentences begin with a large letter, and within another sentence only nouns and names of substances keep it.
#[test]
fn sentences_begin_large_and_only_nouns_stay_so() {
    const NOUNS: [&str; 11] = [
        "Wasser",
        "Säure",
        "Luft",
        "Salzreste",
        "Rost",
        "Leitungswasser",
        "Tropfen",
        "Stückchen",
        "Sauerstoff,",
        "Stücke",
        "Ruß",
    ];
    let german = Words::of("de").unwrap();
    for cause in causes::catalogue::all() {
        let says = german.say(cause.says);
        let first = says.split(' ').next().unwrap();
        let small = vocabulary::has(vocabulary::UNLIKE_NOUNS, &first.to_lowercase(), &german);
        assert!(
            small || first.starts_with('{') || NOUNS.contains(&first),
            "{says}"
        );
    }
    let (_, text) = LANGUAGES.iter().find(|(code, _)| *code == "de").unwrap();
    let strings: toml::Table = text.parse().unwrap();
    for said in strings["say"].as_table().unwrap().values() {
        let said = said.as_str().unwrap();
        let is_sentence = said.ends_with('.') && said.contains(' ');
        assert!(
            !is_sentence || !said.starts_with(char::is_lowercase),
            "{said}"
        );
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
