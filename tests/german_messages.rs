//! What a student is told about the own data file, in a lab in German: the same problems at the same places, in German.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/program.rs"]
mod program;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::path::PathBuf;

use gramleaf::answers;
use gramleaf::lab;
use gramleaf::lab::Lab;
use gramleaf::problem::Problem;
use gramleaf::problem::Source;
use gramleaf::record;
use gramleaf::words::LANGUAGES;
use gramleaf::working;
use program::gramleaf;

/// Shorter pieces of an English sentence may stand in a German one by chance, or in the name of a reading.
const SHORTEST_PIECE: usize = 15;

/// A reading that may mean two things in English and only one in German, where a comma is the decimal mark.
const COMMA: &str = "1,525";

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/problems")
}

/// Every data file among the samples of problems: its name and bytes.
fn samples() -> Vec<(String, Vec<u8>)> {
    let mut samples: Vec<_> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read(&path).unwrap())
        })
        .filter(|(name, _)| !name.ends_with(".lab.toml"))
        .collect();
    samples.sort();
    samples
}

/// The text of the lab that the samples belong to, in German.
fn german_lab() -> String {
    let text = fs::read_to_string(folder().join("bench.lab.toml")).unwrap();
    let id = "id       = \"bench\"\n";
    assert!(text.contains(id));
    text.replace(id, &format!("{id}language = \"de\"\n"))
}

/// The lab that the samples belong to.
fn bench(text: String) -> Lab {
    let name = "bench.lab.toml".to_owned();
    let (lab, problems) = lab::check::check(&Source { name, text });
    assert!(problems.is_empty(), "{problems:?}");
    lab.unwrap()
}

/// What is wrong with a data file, in the language of its lab.
fn problems(bytes: &[u8], lab: &Lab) -> Vec<Problem> {
    let (source, mut problems) = Source::decode_in("data.toml".to_owned(), bytes, &lab.words);
    if source.text.is_empty() {
        return problems;
    }
    let written = record::read_in(source, &lab.words);
    if written.is_lab {
        problems.extend(written.problems);
        return problems;
    }
    let (graph, _) = working::plan::plan(lab);
    let steps: Vec<String> = graph.steps().iter().map(|step| step.id.clone()).collect();
    let (mut record, found) = record::check(&written, lab, &steps);
    problems.extend(found);
    let (worked, odd) = working::work(lab, &graph, &mut record);
    problems.extend(odd);
    problems.extend(answers::judge(lab, &graph, &record, &worked).1);
    problems
}

/// What a problem says.
fn said(problem: &Problem) -> Vec<&str> {
    let labels = problem.labels.iter().map(|label| label.text.as_str());
    let message = std::iter::once(problem.message.as_str());
    message
        .chain(labels)
        .chain(problem.help.as_deref())
        .collect()
}

/// Texts whose German is another one, with it.
fn translated() -> BTreeMap<String, String> {
    let (_, german) = LANGUAGES.iter().find(|(code, _)| *code == "de").unwrap();
    let file: toml::Table = german.parse().unwrap();
    let say = file["say"].as_table().unwrap();
    say.iter()
        .map(|(english, own)| (english.clone(), own.as_str().unwrap().to_owned()))
        .filter(|(english, own)| english != own)
        .collect()
}

/// What stands in a text around its places.
fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split('{')
        .map(|part| part.split_once('}').map_or(part, |(_, behind)| behind))
}

#[test]
fn every_sample_has_the_same_problems_in_german() {
    let english = bench(fs::read_to_string(folder().join("bench.lab.toml")).unwrap());
    let german = bench(german_lab());
    for (name, bytes) in samples() {
        let text = String::from_utf8_lossy(&bytes);
        let comma = text.find(COMMA).map(|at| at..at + COMMA.len());
        let places = |lab: &Lab| -> Vec<_> {
            let mut all = problems(&bytes, lab);
            all.retain(|problem| {
                let at = problem.labels.first().map(|label| &label.span);
                comma.is_none() || at != comma.as_ref()
            });
            let all = all.into_iter();
            all.map(|problem| {
                let labels = problem.labels.into_iter();
                let spans: Vec<_> = labels.map(|label| label.span).collect();
                (problem.severity, problem.code, spans)
            })
            .collect()
        };
        assert_eq!(places(&english), places(&german), "{name}");
    }
}

#[test]
fn no_english_sentence_is_left_in_german() {
    let german = bench(german_lab());
    let translated = translated();
    let mut told = 0;
    for (name, bytes) in samples() {
        for problem in problems(&bytes, &german) {
            for text in said(&problem) {
                told += 1;
                assert!(!translated.contains_key(text), "{name}: {text}");
                for (english, own) in &translated {
                    let english = pieces(english).filter(|piece| piece.len() >= SHORTEST_PIECE);
                    for piece in english {
                        // A reading that is called so in the lab.
                        let name_of_a_reading = german
                            .readings()
                            .any(|(_, asked)| asked.label.contains(piece.trim()));
                        assert!(
                            name_of_a_reading || own.contains(piece) || !text.contains(piece),
                            "{name}: {text}\n{piece}"
                        );
                    }
                }
            }
        }
    }
    assert!(told > 150, "{told}");
}

/// What `check` prints of a file of the lab in German that has these lines under day 1.
fn check(text: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("bench.lab.toml"), german_lab()).unwrap();
    fs::write(folder.path().join("3-07.toml"), text).unwrap();
    gramleaf(folder.path(), &["check", "3-07.toml"])
}

#[test]
fn problems_are_told_in_german() {
    let day = |line: &str| format!("[who]\nlab = \"bench\"\ngroup = \"3-07\"\n[day.1]\n{line}\n");
    let cases: &[(&str, &[&str])] = &[
        (
            "dish_empty = \"2,45 g",
            &[
                "Fehler[missing-quote]: hier fehlt ein Anführungszeichen",
                "geöffnet, aber in dieser Zeile nicht geschlossen",
                "Hilfe: schreibt \"2,45 g\"",
            ],
        ),
        (
            "beaker_empty = \"104\"",
            &["Warnung[few-decimals]: das Gerät „Waage“ zeigt 2 Nachkommastellen"],
        ),
        (
            "dish_empty = { }",
            &[
                "bei `dish_empty` steht nicht, was dorthin gehört (ein Messwert zwischen Anführungszeichen, zum Beispiel \"104,18 g\"), sondern ein Abschnitt",
                "das ist ein Abschnitt",
            ],
        ),
        (
            "dish_empty = [\"2,45 g\", \"2,46 g\"]",
            &["schreibt den anderen als Bemerkung dazu: \"105,68 g (war 106,58)\""],
        ),
        (
            "dish_emty = \"2,45 g\"",
            &[
                "dieser Versuch hat keinen Messwert namens `dish_emty`",
                "meintet ihr `dish_empty`?",
            ],
        ),
        (
            "dish_empty = \"2,45 mL\"",
            &[
                "„weighing dish, nothing in it“ wird in g abgelesen, nicht in mL",
                "hier steht mL",
                "schreibt den Wert in g",
            ],
        ),
        (
            "dish_empty = \"verloren, 2,31 g\"",
            &[
                "schreibt \"2,31 g (verloren)\"; wenn nichts abgelesen wurde, schreibt nur \"verloren\"",
            ],
        ),
        (
            "[signs]\nbubbles_on_metal = \"vielleicht\"",
            &["schreibt \"ja\" oder \"nein\", oder lasst es leer"],
        ),
        (
            "zinc_before = \"4,36 g\"\nzinc_before = \"4,63 g\"",
            &[
                "zwei Zeilen heißen zinc_before",
                "keine von beiden wird verwendet; löscht die falsche",
            ],
        ),
    ];
    for (line, parts) in cases {
        let told = check(&day(line));
        for part in *parts {
            assert!(told.contains(part), "{line}: “{part}” is not in\n{told}");
        }
        for frame in ["error[", "warning[", "note[", "help:"] {
            assert!(!told.contains(frame), "{told}");
        }
    }
}

/// The language has to be known before the file can be read at all.
#[test]
fn the_lab_is_found_in_a_file_that_is_still_broken() {
    for who in [
        "lab = \"bench\"",
        "lab = “bench”",
        "lab : bench  # nicht ändern",
        "lab=\"bench",
    ] {
        let told = check(&format!("[who\n{who}\n[day.1]\nzinc_before 4,36 g\n"));
        assert!(told.contains("am Ende der Überschrift fehlt ]"), "{told}");
        assert!(told.contains("das Zeichen = fehlt"), "{told}");
    }
    let misspelt = check("[who]\nlab = \"eisen-kupfersulfa\"\n");
    assert!(
        misspelt.contains("meintet ihr `eisen-kupfersulfat`?"),
        "{misspelt}"
    );
    let nowhere = check("[who]\nlab = \"xyz\"\n");
    assert!(
        nowhere.contains("error[lab-not-found]: there is no lab called `xyz` here"),
        "{nowhere}"
    );
}

#[test]
fn a_language_is_known_by_any_tag_that_means_it() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let group = "[who]\nlab = \"bench\"\n[day.1]\nx = \"1 g\"\n";
    fs::write(at.join("3-07.toml"), group).unwrap();
    for (tag, said) in [
        ("DE", "Fehler[unknown-reading]"),
        ("de-DE", "Fehler[unknown-reading]"),
        ("De-at", "Fehler[unknown-reading]"),
        ("EN", "error[unknown-reading]"),
        ("en-GB", "error[unknown-reading]"),
    ] {
        let lab = german_lab().replace("language = \"de\"", &format!("language = \"{tag}\""));
        assert!(lab.contains(tag));
        fs::write(at.join("bench.lab.toml"), lab).unwrap();
        let told = gramleaf(at, &["check", "3-07.toml"]);
        assert!(told.contains(said), "{tag}: {told}");
    }
    for tag in ["fr-DE", "de_DE", "deutsch"] {
        let lab = german_lab().replace("language = \"de\"", &format!("language = \"{tag}\""));
        fs::write(at.join("bench.lab.toml"), lab).unwrap();
        let told = gramleaf(at, &["start", "bench.lab.toml"]);
        let said = format!("there are no words in “{tag}”");
        assert!(
            told.contains(&said) && told.contains("languages are en and de"),
            "{told}"
        );
    }
}

#[test]
fn a_lab_with_errors_is_told_in_english_and_its_group_in_german() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let broken = german_lab().replace("formula = \"Zn\"", "formula = \"Zx\"");
    fs::write(at.join("bench.lab.toml"), broken).unwrap();
    fs::write(at.join("3-07.toml"), "[who]\nlab = \"bench\"\n").unwrap();
    let told = gramleaf(at, &["check", "3-07.toml"]);
    assert!(
        told.contains("die Versuchsbeschreibung bench.lab.toml hat selbst Fehler"),
        "{told}"
    );
    assert!(told.contains("error[formula]"), "{told}");
    assert!(!told.contains("Fehler[formula]"), "{told}");
}

#[test]
fn codes_and_severities_of_the_json_stay_english() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::write(at.join("bench.lab.toml"), german_lab()).unwrap();
    fs::write(
        at.join("3-07.toml"),
        "[who]\nlab = \"bench\"\n[day.1]\nx = \"1 g\"\n",
    )
    .unwrap();
    let told = gramleaf(at, &["check", "3-07.toml", "--json"]);
    for part in [
        "\"error\"",
        "\"unknown-reading\"",
        "dieser Versuch hat keinen Messwert",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
}

/// Signs answered in whole phrases, and a group's file, in a lab in German.
#[test]
fn phrases_beside_a_yes_and_the_group_s_file_are_told_in_german() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    let sample = fs::read_to_string("samples/eisen-kupfersulfat/7b-02.toml").unwrap();
    fs::write(at.join("7b-02.toml"), &sample).unwrap();
    let (_, signs) = sample.split_once("[signs]").unwrap();
    let sign = signs.lines().find_map(|line| line.split_once('=')).unwrap();
    let sign = sign.0.trim();
    let said = |answer: &str| {
        let text = format!(
            "[who]\nlab = \"eisen-kupfersulfat\"\ngroup = \"7b-02\"\n[signs]\n{sign} = \"{answer}\"\n"
        );
        fs::write(at.join("mia.toml"), text).unwrap();
        gramleaf(at, &["check", "mia.toml"])
    };
    assert!(said("Ja, etwas").contains("zählt als ja"));
    assert!(said("nein, gar nichts").contains("zählt als nein"));
    for short in ["Nö", "Nee", "etwas"] {
        let told = said(short);
        assert!(
            !told.contains("error") && !told.contains("Fehler"),
            "{short}: {told}"
        );
    }
    assert!(said("nicht sicher").contains("unknown-word"));
    let text = "[who]\nlab = \"eisen-kupfersulfat\"\nreadings_of = \"7b-02.toml\"\n[day.1]\nseen = \"rot\"\n";
    fs::write(at.join("mia.toml"), text).unwrap();
    let told = gramleaf(at, &["check", "mia.toml"]);
    assert!(told.contains("Es zählen die aus 7b-02.toml"), "{told}");
}
