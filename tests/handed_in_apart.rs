//! Students of one group who hand in apart: beside their group for the teacher, never on a shared page, and whole as data.

#[path = "support/conforms.rs"]
mod conforms;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::process::Output;

use conforms::faults;
use serde_json::Value;
use tempfile::TempDir;

/// Groups of one section.
const SAMPLES: [&str; 6] = ["5-01", "5-04", "5-06", "5-08", "5-10", "5-12"];

fn gramleaf(folder: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gramleaf"));
    let output = command.current_dir(folder).args(arguments).output();
    output.expect("the program runs")
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// A folder with the class in `in`.
fn class() -> TempDir {
    let home = TempDir::new().expect("a folder");
    for code in SAMPLES {
        write(home.path(), &format!("{code}.toml"), &sample(code));
    }
    home
}

fn sample(code: &str) -> String {
    fs::read_to_string(format!("samples/marking/{code}.toml")).expect("the sample")
}

fn write(home: &Path, name: &str, text: &str) {
    fs::create_dir_all(home.join("in")).expect("a folder");
    fs::write(home.join("in").join(name), text).expect("written");
}

/// A student's own file: the answers of a sample, on the readings of a group's file.
fn student(name: &str, answers_of: &str, readings_of: &str) -> String {
    let sample = sample(answers_of);
    let answers = sample.split("[answers]").nth(1).expect("answers");
    format!(
        "[who]\nlab = \"aluminium-copper-chloride\"\nnames = [\"{name}\"]\nreadings_of = \"{readings_of}\"\n[answers]{answers}"
    )
}

/// Every file of the shared pages.
fn shared(home: &Path) -> BTreeMap<String, Vec<u8>> {
    let files = walkdir::WalkDir::new(home.join("site")).into_iter();
    let files = files.filter_map(Result::ok);
    files
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let bytes = fs::read(entry.path()).expect("readable");
            (entry.path().display().to_string(), bytes)
        })
        .collect()
}

/// The cells of the rows of a Markdown page that hold a word.
fn rows(page: &str, word: &str) -> Vec<Vec<String>> {
    let lines = page.lines();
    lines
        .filter(|line| line.starts_with('|') && line.contains(word))
        .map(|line| {
            let cells = line.trim_matches('|').split('|');
            cells.map(|cell| cell.trim().to_owned()).collect()
        })
        .collect()
}

const SHARE: [&str; 6] = ["share", "in", "--out", "site", "--teacher", "private"];

#[test]
fn the_teacher_sees_each_student_beside_the_group() {
    let home = class();
    let at = home.path();
    assert_eq!(gramleaf(at, &SHARE).status.code(), Some(0));
    let alone = shared(at);
    let page = fs::read_to_string(at.join("private/teacher.md")).unwrap();
    assert!(
        page.contains("\n6 groups\n") && !page.contains("own file"),
        "{page}"
    );

    write(at, "zyxminh.toml", &student("Zyxminh", "5-01", "5-01.toml"));
    let page = || {
        let output = gramleaf(at, &SHARE);
        assert_eq!(output.status.code(), Some(0), "{}", said(&output));
        fs::read_to_string(at.join("private/teacher.md")).unwrap()
    };
    assert!(
        page().contains("\n6 groups; 1 student hands in apart, on the readings of the group\n")
    );
    // The group may be named as the student knows it, or in another way.
    let blank = student("Zyxada", "5-01", "./5-01.toml");
    let blank = blank.split("[answers]").next().unwrap();
    write(
        at,
        "a.toml",
        &blank.replace("[who]", "[who]\ngroup = \"four\"\nsection = \"zyxfive\""),
    );
    let page = page();
    assert!(
        page.contains("\n6 groups; 2 students hand in apart, on the readings of their groups\n"),
        "{page}"
    );
    // Both behind their group; what is missing in the readings is said with the group.
    let of_group = rows(&page, "5-01");
    assert_eq!(of_group.len(), 3, "{page}");
    let stands = of_group[0][5].parse::<usize>().unwrap();
    assert_eq!(
        of_group[0][..5],
        ["5-01", "B. N., S. K.", "5", "5-01.toml", "0"]
    );
    assert_eq!(
        of_group[1],
        ["5-01 (own file)", "Zyxada", "5", "a.toml", "", "0", "0", ""]
    );
    assert_eq!(
        of_group[2][..5],
        ["5-01 (own file)", "Zyxminh", "5", "zyxminh.toml", ""]
    );
    assert_eq!(of_group[2][7], "moles_salt");
    assert!(stands > 0 && of_group[2][5].parse::<usize>().unwrap() > 0);
    // The slip of 5-01 and of the student's answers, each in its column.
    assert_eq!(
        rows(&page, "slip "),
        [["slip", "groups", "own files"]],
        "{page}"
    );
    assert_eq!(
        rows(&page, "water left out"),
        [["water left out", "1", "1"]]
    );
    assert_eq!(rows(&page, "ratio ignored"), [["ratio ignored", "1", "0"]]);
    let html = fs::read_to_string(at.join("private/teacher.html")).unwrap();
    assert!(html.contains("Zyxminh") && html.contains("5-01 (own file)"));

    // Nothing of a student is shared, and the class counts each group's readings once: not a byte is another one.
    assert_eq!(shared(at), alone);
}

#[test]
fn aliases_are_those_of_groups_alone() {
    let home = class();
    let at = home.path();
    write(at, "minh.toml", &student("Minh", "5-01", "5-04.toml"));
    let output = gramleaf(at, &[&SHARE[..], &["--alias"]].concat());
    assert!(output.status.success(), "{}", said(&output));
    let page = fs::read_to_string(at.join("private/teacher.md")).unwrap();
    let of_group = rows(&page, "5-04");
    assert!(of_group[0][1].starts_with('G'), "{page}");
    assert_eq!(of_group[1][..3], ["5-04 (own file)", "", "Minh"]);
    let codes = fs::read_to_string(at.join("private/codes.csv")).unwrap();
    assert_eq!(codes.lines().count(), 7, "{codes}");
}

#[test]
fn a_student_whose_file_or_group_cannot_be_used_is_said_and_no_shared_page_tells() {
    let home = class();
    let at = home.path();
    assert!(gramleaf(at, &SHARE).status.success());
    let alone = shared(at);
    write(at, "zyxlost.toml", &student("Zyxlost", "5-01", "5-99.toml"));
    let output = gramleaf(at, &SHARE);
    assert_eq!(output.status.code(), Some(1));
    assert!(
        said(&output).contains("the group's file 5-99.toml cannot be used"),
        "{}",
        said(&output)
    );
    assert_eq!(shared(at), alone);
    let page = fs::read_to_string(at.join("private/teacher.md")).unwrap();
    assert!(page.contains("\n6 groups\n"), "{page}");
    // Without a teacher's page nobody needs the file.
    assert!(gramleaf(at, &SHARE[..4]).status.success());

    // A group whose file lies elsewhere is called by its file, or as the student does.
    fs::write(at.join("elsewhere.toml"), sample("5-13")).unwrap();
    let text = student("Zyxlost", "5-01", "../elsewhere.toml");
    for (text, label) in [
        (text.clone(), "elsewhere.toml (own file)"),
        (
            text.replace("[who]", "[who]\ngroup = \"13\""),
            "13 (own file)",
        ),
    ] {
        write(at, "zyxlost.toml", &text);
        let output = gramleaf(at, &SHARE);
        assert!(output.status.success(), "{}", said(&output));
        let page = fs::read_to_string(at.join("private/teacher.md")).unwrap();
        assert_eq!(rows(&page, "Zyxlost")[0][0], label);
        assert_eq!(shared(at), alone);
    }

    // Where there is no group of the lab at all, there is no page to stand on.
    fs::write(at.join("zinc.toml"), zinc()).unwrap();
    let own = "[who]\nlab = \"zinc-copper-sulfate\"\nnames = [\"Zyxlost\"]\nreadings_of = \"../zinc.toml\"\n";
    write(at, "zyxlost.toml", own);
    let output = gramleaf(at, &SHARE);
    assert_eq!(output.status.code(), Some(1));
    for part in ["in/zyxlost.toml is on no teacher's page", "zinc.toml"] {
        assert!(said(&output).contains(part), "{}", said(&output));
    }
    assert_eq!(shared(at), alone);
}

#[test]
fn in_a_german_lab_the_teachers_page_says_it_in_german() {
    let home = TempDir::new().unwrap();
    let at = home.path();
    let group = fs::read_to_string("samples/eisen-kupfersulfat/7b-02.toml").unwrap();
    write(at, "7b-02.toml", &group);
    let own =
        "[who]\nlab = \"eisen-kupfersulfat\"\nnames = [\"Jana\"]\nreadings_of = \"7b-02.toml\"\n";
    write(at, "jana.toml", own);
    let page = || {
        let output = gramleaf(at, &SHARE);
        assert!(output.status.success(), "{}", said(&output));
        fs::read_to_string(at.join("private/teacher.md")).unwrap()
    };
    let one = page();
    assert!(
        one.contains("\n1 Gruppe; 1 Person gibt getrennt ab, mit den Messwerten der Gruppe\n"),
        "{one}"
    );
    assert_eq!(rows(&one, "Jana")[0][0], "7b-02 (eigene Datei)");
    write(at, "uli.toml", &own.replace("Jana", "Uli"));
    let two = page();
    assert!(
        two.contains("2 Personen geben getrennt ab, mit den Messwerten ihrer Gruppen"),
        "{two}"
    );
}

/// A file whose lab is nowhere is told, but no shared page counts it where it is a student's.
#[test]
fn a_students_file_without_a_lab_is_no_groups_file_either() {
    let home = class();
    let at = home.path();
    assert!(gramleaf(at, &SHARE).status.success());
    let alone = shared(at);
    let own = student("Zyxlost", "5-01", "5-01.toml");
    write(
        at,
        "zyxlost.toml",
        &own.replace("aluminium-copper-chloride", "no-such-lab"),
    );
    let output = gramleaf(at, &SHARE);
    assert_eq!(output.status.code(), Some(1));
    assert!(
        said(&output).contains("zyxlost.toml:2"),
        "{}",
        said(&output)
    );
    assert_eq!(shared(at), alone);
}

fn zinc() -> String {
    fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").expect("the sample")
}

/// A program that reads the JSON learns whose the readings are, and what is wrong with them in which file.
#[test]
fn as_data_a_students_file_is_told_with_its_groups() {
    let home = TempDir::new().unwrap();
    let at = home.path();
    let wrong = zinc().replace("\"105.68 g\"", "\"108.69 g\"");
    write(at, "3-07.toml", &wrong);
    let own = "[who]\nlab = \"zinc-copper-sulfate\"\nreadings_of = \"./3-07.toml\"\n[answers]\nmass_salt = \"6,0,2\"\n";
    write(at, "minh.toml", own);
    let schema = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/command/check/check.schema.json");
    let schema: Value = serde_json::from_str(&fs::read_to_string(schema).unwrap()).unwrap();
    let check = |words: &[&str]| -> Value {
        let output = gramleaf(at, words);
        let printed = serde_json::from_slice(&output.stdout).expect("JSON");
        assert_eq!(faults(&schema, &printed), Vec::<String>::new());
        printed
    };
    let both = check(&["check", "in", "--json"]);
    let [group, student] = &both.as_array().unwrap()[..] else {
        panic!("{both}")
    };
    assert!(group.get("readings_of").is_none() && group.get("elsewhere").is_none());
    assert!(!group["problems"].as_array().unwrap().is_empty());
    assert_eq!(student["readings_of"], group["file"]);
    // Its own problems stay apart, since their lines are those of its own file.
    let own = student["problems"].as_array().unwrap();
    assert!(
        own.iter().all(|problem| problem["line"] == 5) && own.len() == 1,
        "{own:?}"
    );
    assert_eq!(
        student["elsewhere"],
        serde_json::json!([{ "file": group["file"], "problems": group["problems"] }])
    );
    // Alone it is told the same.
    assert_eq!(check(&["check", "in/minh.toml", "--json"])[0], *student);

    write(at, "3-07.toml", &zinc());
    let right = check(&["check", "in/minh.toml", "--json"]);
    assert!(right[0].get("elsewhere").is_none(), "{right}");
    assert_eq!(right[0]["readings_of"], "in/3-07.toml");
    fs::remove_file(at.join("in/3-07.toml")).unwrap();
    let gone = check(&["check", "in/minh.toml", "--json"]);
    assert_eq!(gone[0]["problems"][0]["code"], "readings-of");
    assert_eq!(gone[0]["readings_of"], "in/3-07.toml");
}

/// Neither a broken lab description nor the data file behind a worksheet is kept from a program.
#[test]
fn as_data_every_other_file_is_told_where_its_problems_are() {
    let home = TempDir::new().unwrap();
    let at = home.path();
    write(
        at,
        "own.lab.toml",
        "id = \"own\"\nequation = \"Zn + -> Cu\"\n",
    );
    write(at, "1.toml", "[who]\nlab = \"own\"\ngroup = \"1\"\n");
    let printed = gramleaf(at, &["check", "in/1.toml", "--json"]).stdout;
    let printed: Value = serde_json::from_slice(&printed).unwrap();
    assert_eq!(printed[0]["problems"][0]["code"], "lab-not-found");
    let elsewhere = &printed[0]["elsewhere"][0];
    assert!(
        elsewhere["file"]
            .as_str()
            .unwrap()
            .ends_with("own.lab.toml"),
        "{printed}"
    );
    assert!(!elsewhere["problems"].as_array().unwrap().is_empty());

    write(at, "3-07.toml", &zinc());
    let draft = ["draft", "in/3-07.toml", "--template", "worksheet"];
    assert!(gramleaf(at, &draft).status.success());
    write(
        at,
        "3-07.toml",
        &zinc().replace("\"105.68 g\"", "\"108.69 g\""),
    );
    let printed = gramleaf(at, &["check", "in/3-07.md", "--json"]).stdout;
    let printed: Value = serde_json::from_slice(&printed).unwrap();
    let elsewhere = &printed[0]["elsewhere"][0];
    assert_eq!(elsewhere["file"], "in/3-07.toml", "{printed}");
    assert!(printed[0].get("readings_of").is_none());
}

/// Printed as it comes, the array is one array: the order of the files, with and without some that cannot be read.
#[test]
fn many_files_are_one_array_in_the_order_of_the_files() {
    let home = TempDir::new().unwrap();
    let at = home.path();
    for number in 0..60 {
        write(
            at,
            &format!("g-{number:02}.toml"),
            &zinc().replace("3-07", &format!("g-{number:02}")),
        );
    }
    write(
        at,
        "g-30.lab.toml",
        "id = \"other\"\nequation = \"C + O2 -> CO2\"\n",
    );
    let output = gramleaf(at, &["check", "in", "--json"]);
    let printed = String::from_utf8(output.stdout).unwrap();
    let all: Vec<Value> = serde_json::from_str(&printed).unwrap();
    let groups: Vec<&str> = all
        .iter()
        .filter_map(|file| file["group"].as_str())
        .collect();
    let expected: Vec<String> = (0..60).map(|number| format!("g-{number:02}")).collect();
    assert_eq!(groups, expected);
    assert!(printed.starts_with("[\n  {\n    \"file\": ") && printed.ends_with("\n  }\n]\n"));
    assert_eq!(printed.matches("\n  },\n  {\n").count(), 59);
    let none = gramleaf(at, &["check", "in/g-30.lab.toml", "--json"]);
    assert_eq!(none.stdout, b"[]\n");
}
