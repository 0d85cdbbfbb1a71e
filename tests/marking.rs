//! Marking from the command line: verdicts of the sample groups, the class table, CSV, JSON by its schema, marked copies.

#[path = "support/conforms.rs"]
mod conforms;

use std::fs;
use std::path::Path;
use std::process::Command;
use std::process::Output;

use conforms::faults;
use serde_json::Value;

fn gramleaf(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gramleaf"));
    command
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(arguments);
    command
        .output()
        .expect("the program was built for this test")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("UTF-8")
}

/// Each group's expected output stands beside its data file.
#[test]
fn every_group_is_judged_as_expected() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/marking");
    let mut checked = 0;
    let mut names: Vec<String> = std::fs::read_dir(&folder)
        .expect("the folder")
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    for name in names
        .iter()
        .filter_map(|name| name.strip_suffix(".check.txt"))
    {
        let path = if name == "class" {
            "samples/marking".to_owned()
        } else {
            format!("samples/marking/{name}.toml")
        };
        let expected = std::fs::read_to_string(folder.join(format!("{name}.check.txt")))
            .expect("the expected output");
        let output = gramleaf(&["check", &path]);
        assert_eq!(text(&output.stdout), expected, "{name}");
        let wrong = expected.contains("look again") || expected.contains("error");
        assert_eq!(output.status.code(), Some(i32::from(wrong)), "{name}");
        checked += 1;
    }
    let data = names.iter().filter(|name| name.ends_with(".toml")).count();
    assert_eq!(
        checked,
        data + 1,
        "each group has its expected output, and the class has one"
    );
    assert!(data >= 6);
}

/// No sentence, table cell, JSON field or chart of a student's own gives a wrong answer's number away.
#[test]
fn a_wrong_answer_stays_closed_everywhere() {
    let scratch = tempfile::tempdir().expect("a folder");
    let out = scratch.path().to_string_lossy().into_owned();
    let output = gramleaf(&["draft", "samples/marking/5-01.toml", "--out", &out]);
    assert!(output.status.success(), "{}", text(&output.stderr));
    // The moles of salt by the readings, 4.12 g ÷ 170.48 g/mol = 0.024167 mol, and what is left of it nowhere.
    for ending in ["md", "html"] {
        let report = std::fs::read_to_string(scratch.path().join(format!("5-01.{ending}")))
            .expect("the report");
        assert!(
            !report.contains("0.02417") && !report.contains("0.0242"),
            "{ending}"
        );
        assert!(
            report.contains("look again") && report.contains("Read the label on the bottle"),
            "{ending}"
        );
        assert!(report.contains("after your own answer"), "{ending}");
    }
    let output = gramleaf(&["check", "samples/marking/5-01.toml", "--json"]);
    let json: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let step = json[0]["steps"]
        .as_array()
        .expect("steps")
        .iter()
        .find(|step| step["id"] == "moles_salt")
        .expect("the step")
        .clone();
    assert_eq!(step["state"], "hidden");
    assert!(step.get("value").is_none() && step.get("shown").is_none());
    assert!(!text(&output.stdout).contains("0.0241"));
}

/// Right answers of the zinc sample 3-07.
const RIGHT: &[(&str, &str)] = &[
    ("mass_salt", "6.02 g"),
    ("moles_salt", "0.0241 mol"),
    ("moles_zinc", "0.0667 mol"),
    ("limiting", "copper(II) sulfate"),
    ("theoretical_copper", "1.53 g"),
    ("expected_left_zinc", "2.78 g"),
    ("collected_copper", "1.50 g"),
    ("measured_left_zinc", "2.76 g"),
    ("used_zinc", "1.60 g"),
    ("percent_yield", "98.0 %"),
    ("ratio_copper_zinc", "0.965"),
];

/// The object of the zinc sample with other answers, and its report without the students' prose.
fn with_answers(answers: &[(&str, &str)]) -> (Value, String) {
    let scratch = tempfile::tempdir().expect("a folder");
    let data =
        std::fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").expect("the sample");
    let (front, rest) = data.split_once("[answers]").expect("answers");
    assert!(rest.contains("[words]"));
    let lines: String = answers
        .iter()
        .map(|(step, typed)| format!("{step} = \"{typed}\"\n"))
        .collect();
    let path = scratch.path().join("a.toml");
    std::fs::write(&path, format!("{front}[answers]\n{lines}")).expect("written");
    let path = path.to_string_lossy().into_owned();
    let output = gramleaf(&["check", &path, "--json"]);
    let json: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert!(matches!(
        gramleaf(&["draft", &path]).status.code(),
        Some(0 | 1)
    ));
    let report = std::fs::read_to_string(scratch.path().join("a.md")).expect("the report");
    (json[0].clone(), report)
}

/// The last step of each row is judged; the others stand before it.
#[test]
fn verdicts_hold_for_answers_that_would_fool_a_careless_judge() {
    for (answers, verdict) in [
        (
            &[("used_zinc", "0 g"), ("ratio_copper_zinc", "50")][..],
            "look-again",
        ),
        (
            &[
                ("moles_salt", "24.1 mol"),
                ("limiting", "salt"),
                ("expected_left_zinc", "10 g"),
            ],
            "look-again",
        ),
        (
            &[
                ("moles_salt", "0 mol"),
                ("theoretical_copper", "0 g"),
                ("percent_yield", "0 %"),
            ],
            "look-again",
        ),
        (&[("ratio_copper_zinc", "1 Zn to 9 Cu")], "look-again"),
        (
            &[("ratio_copper_zinc", "1.037 mol Zn : 1 mol Cu")],
            "matches",
        ),
        (&[("ratio_copper_zinc", "1:1")], "rough"),
        (&[("moles_zinc", "0.1 mol")], "look-again"),
        (&[("theoretical_copper", "2 g")], "rough"),
        (&[("theoretical_copper", "1.5 g")], "matches"),
        (&[("theoretical_copper", "1.54 g")], "rounding"),
        (&[("theoretical_copper", "1530 mg")], "matches"),
        (
            &[
                ("moles_zinc", "0.0687 mol"),
                ("moles_salt", "0.0241 mol"),
                ("limiting", "salt"),
                ("expected_left_zinc", "2.92 g"),
            ],
            "follows",
        ),
        (&[("left_error_zinc", "0.1 %")], "look-again"),
        (&[("collected_copper", "1.51 g")], "look-again"),
        (&[("collected_copper", "1.5 g")], "matches"),
        (
            &[
                ("moles_salt", "0.0377 mol"),
                ("limiting", "salt"),
                ("theoretical_copper", "2.40 g"),
                ("percent_yield", "62.5 %"),
            ],
            "follows",
        ),
        (
            &[("limiting", "zinc"), ("expected_left_zinc", "-1 g")],
            "look-again",
        ),
        (&[("percent_yield", "")], "not-given"),
    ] {
        let (object, _) = with_answers(answers);
        let (step, typed) = answers.last().expect("an answer");
        let judged = object["answers"]
            .as_array()
            .expect("answers")
            .iter()
            .find(|answer| answer["step"] == *step)
            .expect("judged");
        assert_eq!(judged["verdict"], verdict, "{step} = {typed}: {judged}");
    }
}

/// With one answer left out or wrong, no other step gives its number away.
#[test]
fn no_door_beside_leads_to_an_answer() {
    let without = |step: &str| -> Vec<(&str, &str)> {
        RIGHT
            .iter()
            .copied()
            .filter(|(own, _)| *own != step)
            .collect()
    };
    for (answers, hidden) in [
        (
            vec![("limiting", "CuSO4")],
            &["6.02", "0.0241", "0.02411"][..],
        ),
        (without("ratio_copper_zinc"), &["0.9646", "0.965"]),
        (without("expected_left_zinc"), &["1.0149", "2.784", "1.576"]),
        (without("mass_salt"), &["6.02"]),
        (without("percent_yield"), &["97.9"]),
        (
            vec![
                ("moles_salt", "0.0377 mol"),
                ("limiting", "salt"),
                ("theoretical_copper", "2.40 g"),
            ],
            &["1.576", "0.02411"],
        ),
    ] {
        let (object, report) = with_answers(&answers);
        let printed = serde_json::to_string(&object["steps"]).expect("JSON");
        for number in hidden {
            assert!(!printed.contains(number), "{number} in {printed}");
            let shown: Vec<&str> = report
                .lines()
                .filter(|line| line.contains(number))
                .collect();
            assert!(shown.is_empty(), "{number} with {answers:?} in {shown:#?}");
        }
    }
}

#[test]
fn csv_has_a_row_a_group_and_step_or_a_row_a_group() {
    let rows = |arguments: &[&str]| {
        let output = gramleaf(arguments);
        let mut reader = csv::Reader::from_reader(output.stdout.as_slice());
        let heads = reader.headers().expect("a head").clone();
        let rows: Vec<csv::StringRecord> =
            reader.records().map(|row| row.expect("a row")).collect();
        (heads, rows)
    };
    let (heads, answers) = rows(&["check", "samples/marking", "--csv"]);
    let column = |heads: &csv::StringRecord, name: &str| {
        heads
            .iter()
            .position(|head| head == name)
            .unwrap_or_else(|| panic!("{name} in {heads:?}"))
    };
    assert_eq!(answers.len(), 7 * 11);
    let row = answers
        .iter()
        .find(|row| {
            &row[column(&heads, "group")] == "5-01" && &row[column(&heads, "step")] == "moles_salt"
        })
        .expect("the row");
    assert_eq!(&row[column(&heads, "given")], "0.0306 mol");
    assert_eq!(&row[column(&heads, "verdict")], "look-again");
    assert_eq!(&row[column(&heads, "slips")], "water-left-out");
    assert!(!heads.iter().any(|head| head == "expected"));
    let (heads, answers) = rows(&["check", "samples/marking", "--csv", "--key"]);
    let row = answers
        .iter()
        .find(|row| {
            &row[column(&heads, "group")] == "5-01"
                && &row[column(&heads, "step")] == "theoretical_copper"
        })
        .expect("the row");
    assert_eq!(&row[column(&heads, "expected")], "1.54 g");
    assert_eq!(&row[column(&heads, "from_own_lines")], "1.945 g");
    let (heads, groups) = rows(&["check", "samples/marking", "--groups-csv"]);
    assert_eq!(groups.len(), 7);
    let row = groups
        .iter()
        .find(|row| &row[column(&heads, "group")] == "5-04")
        .expect("the row");
    assert_eq!(
        &row[column(&heads, "beaker_with_copper")],
        "102.74 g; 102.73 g"
    );
    assert_eq!(&row[column(&heads, "limiting")], "Al");
    assert_eq!(&row[column(&heads, "follows")], "3");
    let broken = groups
        .iter()
        .find(|row| &row[column(&heads, "group")] == "5-13")
        .expect("the row");
    assert_eq!(&broken[column(&heads, "errors")], "5");
}

/// With the most that could form and what was collected answered, but not the yield, no cause may tell how far the two are apart.
#[test]
fn causes_give_no_answer_away() {
    let home = tempfile::tempdir().expect("a folder");
    let sample = fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").expect("the sample");
    for (gone, waits) in [
        (&["percent_yield"][..], "product-poured-away"),
        (
            &["percent_yield", "theoretical_copper"],
            "product-poured-away",
        ),
        (
            &["used_zinc", "percent_yield", "ratio_copper_zinc"],
            "product-poured-away",
        ),
    ] {
        let kept = |line: &&str| !gone.iter().any(|step| line.starts_with(step));
        let text: String = sample
            .lines()
            .filter(kept)
            .map(|line| format!("{line}\n"))
            .collect();
        let file = home.path().join("g.toml");
        fs::write(&file, text).expect("a file");
        let path = file.to_str().expect("a path");
        let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args(["check", "--json", path])
            .output()
            .expect("the program runs");
        let json: Value = serde_json::from_slice(&output.stdout).expect("JSON");
        let causes = json[0]["causes"].as_array().expect("causes");
        let own = causes
            .iter()
            .find(|cause| cause["id"] == waits)
            .expect("the group's own");
        assert!(own["needed"].is_null() && own["possible"] == false, "{own}");
        assert!(
            causes
                .iter()
                .all(|cause| cause["against"] != "collected_copper"),
            "{causes:?}"
        );
        let out = home.path().join("out");
        let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args([
                "draft",
                path,
                "--replace",
                "--out",
                out.to_str().expect("a path"),
            ])
            .output()
            .expect("the program runs");
        assert!(output.status.success());
        let report = fs::read_to_string(out.join("g.md")).expect("a report");
        // What the students wrote themselves is theirs to say.
        let computed = report.split("<!-- words -->").next().unwrap_or_default();
        let section = report
            .split("## 9 Error discussion")
            .nth(1)
            .expect("the section");
        let section = section.split("### Discussion").next().unwrap_or_default();
        for word in [
            "0.032",
            "97.9",
            "2.1\u{a0}%",
            "below 100",
            "makes the percent yield",
        ] {
            assert!(
                !computed.contains(word) && !section.contains(word),
                "{word}\n{section}"
            );
        }
    }
}

/// The schema is kept beside the code.
#[test]
fn json_is_what_its_schema_says() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/command/check/check.schema.json");
    let schema: Value =
        serde_json::from_str(&std::fs::read_to_string(path).expect("the schema")).expect("JSON");
    for arguments in [
        &["check", "samples", "--json"][..],
        &["check", "samples", "--json", "--key"],
        &["check", "samples/problems/lab-not-found.toml", "--json"],
    ] {
        let output = gramleaf(arguments);
        let printed: Value = serde_json::from_slice(&output.stdout).expect("JSON");
        assert!(printed.as_array().is_some_and(|all| !all.is_empty()));
        assert_eq!(faults(&schema, &printed), Vec::<String>::new());
    }
    let mut wrong: Value =
        serde_json::from_slice(&gramleaf(&["check", "samples/marking/5-01.toml", "--json"]).stdout)
            .expect("JSON");
    wrong[0]["answers"][0]["verdict"] = "perfect".into();
    assert!(!faults(&schema, &wrong).is_empty(), "the check can fail");
}

/// A student may write the answers into the worksheet instead of the data file.
#[test]
fn answers_are_read_back_from_a_worksheet() {
    let scratch = tempfile::tempdir().expect("a folder");
    let data =
        std::fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").expect("the sample");
    let (front, rest) = data.split_once("[answers]").expect("answers");
    let (_, behind) = rest.split_once("[cause.1]").expect("causes");
    let path = scratch.path().join("3-07.toml");
    std::fs::write(&path, format!("{front}[cause.1]{behind}")).expect("written");
    let path = path.to_string_lossy().into_owned();
    assert!(
        gramleaf(&["draft", &path, "--template", "worksheet"])
            .status
            .success()
    );
    let sheet = scratch.path().join("3-07.md");
    let blank = std::fs::read_to_string(&sheet).expect("the worksheet");
    let fill = |answers: &[(&str, &str)]| {
        let mut filled = String::new();
        for line in blank.lines() {
            let answer = answers
                .iter()
                .find(|(step, _)| line.replace('\\', "").contains(&format!("| {step} ")));
            let line = answer.map_or_else(
                || line.to_owned(),
                |(_, answer)| {
                    let mut cells: Vec<String> = line.split('|').map(str::to_owned).collect();
                    cells[2] = format!(" {answer} ");
                    cells.join("|")
                },
            );
            filled.push_str(&line);
            filled.push('\n');
        }
        std::fs::write(&sheet, filled).expect("written");
    };
    fill(&[
        ("theoretical_copper", "2.40 g"),
        ("percent_yield", "97,9 %"),
    ]);
    let path = sheet.to_string_lossy().into_owned();
    let output = gramleaf(&["check", &path]);
    let shown = text(&output.stdout);
    assert!(
        shown.contains("2.40 g: look again") && shown.contains("bottle"),
        "{shown}\n{}",
        text(&output.stderr)
    );
    assert!(shown.contains("97,9 %: matches your data"), "{shown}");
    assert_eq!(output.status.code(), Some(1));
    assert!(
        !text(&output.stderr).contains("odd-space"),
        "{}",
        text(&output.stderr)
    );
    fill(&[("percent_yield", "97,9 % | maybe")]);
    let output = gramleaf(&["check", &path]);
    let (shown, problems) = (text(&output.stdout), text(&output.stderr));
    assert!(shown.contains("97,9 %: matches your data"), "{shown}");
    assert!(problems.contains("too many cells"), "{problems}");
    fill(&[("theoretical_copper", "a lot")]);
    let output = gramleaf(&["check", &path]);
    let problems = text(&output.stderr);
    assert!(
        problems.contains("error[answer]") && problems.contains("3-07.md:"),
        "{problems}"
    );
    let refused = gramleaf(&["draft", &path]);
    assert!(text(&refused.stderr).contains("is a report, not a data file"));
    assert_eq!(refused.status.code(), Some(1));
}

#[test]
fn marked_copies_are_written_a_group_and_a_section() {
    let scratch = tempfile::tempdir().expect("a folder");
    let out = scratch.path().join("marked").to_string_lossy().into_owned();
    let output = gramleaf(&["check", "samples/marking", "--marked", &out]);
    assert_eq!(
        output.status.code(),
        Some(1),
        "a look again and errors: {}",
        text(&output.stderr)
    );
    let read = |name: &str| {
        std::fs::read_to_string(Path::new(&out).join(name)).unwrap_or_else(|_| panic!("{name}"))
    };
    let copy = read("5-01-marked.md");
    for wanted in [
        "1.94 g",
        "1.54 g",
        "1.945 g",
        "0.0242 mol",
        "follows from your earlier line",
        "Teacher's words",
        "water left out",
    ] {
        assert!(
            copy.replace('\u{a0}', " ").contains(wanted),
            "{wanted}\n{copy}"
        );
    }
    let section = read("section-5.html");
    for group in ["5-01", "5-04", "5-06", "5-08", "5-10", "5-12", "5-13"] {
        assert!(section.contains(&format!("Group {group}")), "{group}");
        assert!(
            read(&format!("{group}-marked.html")).contains("<table"),
            "{group}"
        );
    }
    // The student's own terminal output stays without the key.
    assert!(!text(&output.stdout).contains("1.54 g"));
    let again = gramleaf(&[
        "check",
        "samples/marking/5-01.toml",
        "samples/problems/answer.toml",
        "--marked",
        &out,
    ]);
    assert!(again.status.code().is_some());
    assert_eq!(read("5-01-marked.md"), copy);
}
