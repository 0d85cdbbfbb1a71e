//! `check --since`: what changed since an older copy, told as typed, and never more than `check` itself tells.

#[path = "support/conforms.rs"]
mod conforms;

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::Command;
use std::process::Output;
use std::process::Stdio;

use conforms::faults;
use serde_json::Value;

const SAMPLE: &str = include_str!("../samples/zinc-copper-sulfate/3-07.toml");
const SCHEMA: &str = include_str!("../src/command/check/check.schema.json");

/// Runs the program in a folder, with a text on standard input.
fn gramleaf(folder: &Path, arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .current_dir(folder)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program was built for this test");
    let mut pipe = child.stdin.take().expect("a pipe");
    // A run that refuses its arguments reads nothing.
    let _ = pipe.write_all(input.as_bytes());
    drop(pipe);
    child.wait_with_output().expect("it ends")
}

fn check(folder: &Path, arguments: &[&str]) -> (String, String, Option<i32>) {
    let arguments = [&["check"], arguments].concat();
    let output = gramleaf(folder, &arguments, "");
    (
        text(&output.stdout),
        text(&output.stderr),
        output.status.code(),
    )
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("UTF-8")
}

/// The sample with texts put in place of others, each of which it must hold.
fn edited(edits: &[(&str, &str)]) -> String {
    edits.iter().fold(SAMPLE.to_owned(), |text, (old, new)| {
        assert!(text.contains(old), "the sample has no {old}");
        text.replacen(old, new, 1)
    })
}

/// A folder with files in it.
fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        fs::write(path, text).expect("written");
    }
    folder
}

/// Lines of the changes, each with single spaces.
fn changes(shown: &str) -> Vec<String> {
    let lines = shown
        .lines()
        .skip_while(|line| !line.starts_with("  changes  "));
    lines
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

/// One edit a row: what stands in the older copy, what stands there now, and what is told.
#[test]
fn each_kind_of_change_is_told_as_typed() {
    for (old, new, told) in [
        (
            "\"10 Feb\"",
            "\"9 Feb\"",
            &["date day 1 10 Feb → 9 Feb"][..],
        ),
        ("\"50 mL\"", "\"\"", &["reading water_added removed: 50 mL"]),
        (
            "\"50 mL\"",
            "\"52 mL (was 50, misread)\"",
            &["reading water_added 50 mL → 52 mL (was 50, misread)"],
        ),
        (
            "\"50 mL\"",
            "\"lost\"",
            &["reading water_added 50 mL → lost"],
        ),
        (
            "[\"105.70 g\", \"105.68 g\", \"\", \"\"]",
            "[\"105.70 g\", \"105.68 g\", \"105.68 g\", \"\"]",
            &["reading beaker_with_copper 3 added: 105.68 g"],
        ),
        (
            "[signs]",
            "[extra]\nroom = \"21 °C\"\n[signs]",
            &["extra room added: 21 °C"],
        ),
        (
            "product_still_damp = \"no\"",
            "product_still_damp = \"yes\"",
            &["sign product_still_damp no → yes"],
        ),
        (
            "product_still_damp = \"no\"",
            "product_still_damp = \"\"",
            &["sign product_still_damp removed: no"],
        ),
        (
            "\"0.0241 mol\"",
            "\"0.02411 mol\"",
            &["answer moles_salt 0.0241 mol → 0.02411 mol"],
        ),
        (
            "\"98.0 %\"",
            "\"89.0 %\"",
            &[
                "answer percent_yield 98.0 % → 89.0 %",
                "verdict percent_yield matches your data → look again",
            ],
        ),
        (
            "\"98.0 %\"",
            "\"\"",
            &[
                "answer percent_yield removed: 98.0 %",
                "verdict percent_yield matches your data → not given yet",
            ],
        ),
        (
            "\"lower\"",
            "\"higher\"",
            &["cause solid_poured_away lower → higher"],
        ),
        (
            "\"lower\"",
            "\"\"",
            &["cause solid_poured_away no longer lower"],
        ),
        (
            "solid floated off with the first pouring\"",
            "SECRET floated off\"",
            &["words evidence of solid_poured_away changed"],
        ),
        (
            "Zinc went black within a minute.",
            "Zinc went SECRET.",
            &["words day 1 seen changed"],
        ),
        (
            "[words]",
            "[words]\nthanks = 'SECRET'",
            &["words thanks changed"],
        ),
        ("\"I. K.\"", "\"SECRET\"", &["who names changed"]),
        ("\"3-07\"", "\"3-17\"", &["who group 3-07 → 3-17"]),
        (
            "share_words = \"no\"",
            "share_words = \"yes\"",
            &["who share_words no → yes"],
        ),
        ("# Set up", "# set up", &[]),
    ] {
        let scratch = folder(&[("old.toml", SAMPLE), ("3-07.toml", &edited(&[(old, new)]))]);
        let (shown, said, _) = check(scratch.path(), &["3-07.toml", "--since", "old.toml"]);
        let found = changes(&shown);
        let head = match told.len() {
            0 => "changes none since old.toml".to_owned(),
            some => format!("changes {some} since old.toml"),
        };
        assert_eq!(found[0], head, "{old} {new}\n{shown}{said}");
        assert_eq!(found[1..], *told, "{old} {new}");
        assert!(!found.join("\n").contains("SECRET"));
        // And back: the exit status is that of the file alone.
        let (back, _, code) = check(scratch.path(), &["old.toml", "--since", "3-07.toml"]);
        assert_eq!(changes(&back).len(), told.len() + 1, "{old} {new}");
        assert_eq!(code, Some(0));
    }
}

/// What stands in `changes` is typed by the group, or a verdict; a value of the key only with `--key`.
#[test]
fn nothing_hidden_is_told() {
    let new = edited(&[
        ("\"4.36 g\"", "\"4.63 g\""),
        ("\"0.0241 mol\"", "\"0.0377 mol\""),
        ("\"1.60 g\"", "\"\""),
    ]);
    let scratch = folder(&[("old.toml", SAMPLE), ("3-07.toml", &new)]);
    let schema: Value = serde_json::from_str(SCHEMA).expect("the schema");
    let mut of_key = 0;
    for key in [&[][..], &["--key"]] {
        let arguments = [&["3-07.toml", "--json", "--since", "old.toml"], key].concat();
        let (printed, _, _) = check(scratch.path(), &arguments);
        let printed: Value = serde_json::from_str(&printed).expect("JSON");
        assert_eq!(faults(&schema, &printed), Vec::<String>::new());
        let changes = printed[0]["changes"].as_array().expect("changes");
        assert!(changes.len() > 5);
        for change in changes {
            let texts = [&change["before"], &change["after"]];
            match change["kind"].as_str().expect("a kind") {
                "value" => {
                    assert!(!key.is_empty(), "{change}");
                    of_key += 1;
                }
                "verdict" => assert!(texts.iter().all(|text| text.is_string()), "{change}"),
                _ => {
                    let typed = texts[0].as_str().is_none_or(|text| SAMPLE.contains(text))
                        && texts[1].as_str().is_none_or(|text| new.contains(text));
                    assert!(typed, "{change}");
                }
            }
        }
    }
    assert!(of_key > 3, "{of_key}");
    // 4.63 g ÷ 65.38 g/mol
    let (shown, _, _) = check(
        scratch.path(),
        &["3-07.toml", "--since", "old.toml", "--key"],
    );
    let line = "value moles_zinc 0.0667 mol → 0.0708 mol";
    assert!(changes(&shown).contains(&line.to_owned()), "{shown}");
    let (shown, _, _) = check(scratch.path(), &["3-07.toml", "--since", "old.toml"]);
    assert!(!shown.contains("0.0708"), "{shown}");

    let (printed, _, _) = check(scratch.path(), &["3-07.toml", "--json"]);
    assert!(!printed.contains("\"changes\""));
}

#[test]
fn a_folder_holds_the_older_copies_of_a_folder() {
    let new = edited(&[("\"98.0 %\"", "\"89.0 %\"")]);
    let files = [
        ("class/3-07.toml", new.as_str()),
        ("class/a/3-08.toml", &edited(&[("\"3-07\"", "\"3-08\"")])),
        ("class/3-09.toml", &edited(&[("\"3-07\"", "\"3-09\"")])),
        ("monday/3-07.toml", SAMPLE),
        ("monday/a/3-08.toml", &edited(&[("\"3-07\"", "\"3-08\"")])),
        // Of the same name, but not of the same place.
        ("monday/a/3-09.toml", SAMPLE),
    ];
    let scratch = folder(&files);
    let (shown, said, code) = check(scratch.path(), &["class", "--since", "monday"]);
    assert_eq!(code, Some(1), "{said}");
    let (_, below) = shown.split_once("\nchanges\n").expect("changes");
    let lines: Vec<String> = below
        .lines()
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect();
    assert_eq!(
        lines,
        [
            "3-07 2 since monday",
            "answer percent_yield 98.0 % → 89.0 %",
            "verdict percent_yield matches your data → look again",
            "3-09 no older copy in monday",
            "3-08 none since monday",
        ]
    );
    let (printed, _, _) = check(scratch.path(), &["class", "--json", "--since", "monday"]);
    let printed: Value = serde_json::from_str(&printed).expect("JSON");
    let schema: Value = serde_json::from_str(SCHEMA).expect("the schema");
    assert_eq!(faults(&schema, &printed), Vec::<String>::new());
    let lengths: Vec<Option<usize>> = (0..3)
        .map(|place| printed[place]["changes"].as_array().map(Vec::len))
        .collect();
    assert_eq!(lengths, [Some(2), None, Some(0)]);
    assert!(printed[1]["changes"].is_null() && printed[1].get("changes").is_some());
    // One file looks for its own name.
    let (shown, _, _) = check(scratch.path(), &["class/3-07.toml", "--since", "monday"]);
    assert_eq!(changes(&shown)[0], "changes 2 since monday");
}

#[test]
fn what_cannot_be_an_older_copy_is_said() {
    let scratch = folder(&[
        ("3-07.toml", &edited(&[("\"50 mL\"", "\"51 mL\"")])),
        ("old/3-07.toml", SAMPLE),
        (
            "lab.toml",
            include_str!("../samples/zinc-copper-sulfate/lab.toml"),
        ),
        ("picture.toml", "\0\u{1}\u{2}\0\0\0"),
        ("3-08.toml", SAMPLE),
    ]);
    let folder = scratch.path();
    assert!(
        gramleaf(folder, &["draft", "3-08.toml"], "")
            .status
            .success()
    );
    for (arguments, status, fault) in [
        (
            &["3-07.toml", "--since", "nowhere.toml"][..],
            2,
            "there is no older copy nowhere.toml",
        ),
        (
            &["3-07.toml", "3-08.toml", "--since", "old/3-07.toml"],
            2,
            "there are 2 files to compare",
        ),
        (&["-", "--since", "-"], 2, "standard input cannot be both"),
        (
            &["3-07.toml", "--since", "lab.toml"],
            1,
            "lab.toml is a lab description",
        ),
        (
            &["3-07.toml", "--since", "3-08.md"],
            1,
            "was drafted from other data, but does not keep what was typed",
        ),
        (
            &["3-07.toml", "--since", "3-08.html"],
            1,
            "was drafted from other data",
        ),
        (
            &["3-07.toml", "--csv", "--since", "old"],
            2,
            "cannot be used with",
        ),
    ] {
        let (shown, said, code) = check(folder, arguments);
        assert!(said.contains(fault), "{arguments:?}\n{said}");
        assert_eq!(code, Some(status), "{arguments:?}");
        if status == 1 {
            assert!(
                shown.contains("3-07.toml: All 8 readings are in.")
                    && shown.contains("not compared with"),
                "{shown}"
            );
        }
    }
    // A report tells by its digest that nothing changed, also one that somebody wrote into.
    for report in ["3-08.md", "3-08.html"] {
        let path = folder.join(report);
        let text = fs::read_to_string(&path).expect("a report") + "our own line\n";
        fs::write(&path, text).expect("written");
        let (shown, said, _) = check(folder, &["3-08.toml", "--since", report]);
        assert_eq!(
            changes(&shown),
            [format!("changes none since {report}")],
            "{said}"
        );
    }
    // A file that is no text is compared with as far as it can be read; nothing stops the check.
    let (shown, _, code) = check(folder, &["3-07.toml", "--since", "picture.toml"]);
    assert!(shown.contains("All 8 readings are in."), "{code:?} {shown}");
}

#[test]
fn an_older_copy_comes_from_anywhere() {
    // From standard input, as a version control system prints it, with slips of typing in it.
    let old = edited(&[("\"50 mL\"", "\"49 mL")]);
    let scratch = folder(&[("3-07.toml", SAMPLE)]);
    let output = gramleaf(
        scratch.path(),
        &["check", "3-07.toml", "--since", "-"],
        &old,
    );
    assert_eq!(
        changes(&text(&output.stdout)),
        [
            "changes 1 since standard input",
            "reading water_added 49 mL → 50 mL"
        ]
    );

    // A folder without the lab description: it is the data that are compared, by the lab of the present file.
    let lab = include_str!("../samples/zinc-copper-sulfate/lab.toml");
    let by_path = |text: &str| text.replacen("\"zinc-copper-sulfate\"", "\"ours.lab.toml\"", 1);
    let scratch = folder(&[
        (
            "class/3-07.toml",
            &by_path(&edited(&[("\"50 mL\"", "\"51 mL\"")])),
        ),
        ("class/ours.lab.toml", lab),
        ("old/3-07.toml", &by_path(SAMPLE)),
    ]);
    let (shown, said, _) = check(scratch.path(), &["class/3-07.toml", "--since", "old"]);
    assert_eq!(
        changes(&shown),
        ["changes 1 since old", "reading water_added 50 mL → 51 mL"],
        "{said}"
    );
}

/// A student's own file takes the older readings from beside its older copy; where there are none, the present ones.
#[test]
fn a_students_file_follows_its_group() {
    let student = edited(&[("[who]", "[who]\nreadings_of = \"3-07.toml\"")]);
    let new = edited(&[("\"50 mL\"", "\"51 mL\"")]);
    let scratch = folder(&[
        ("3-07.toml", &new),
        ("ik.toml", &student),
        ("old/3-07.toml", SAMPLE),
        ("old/ik.toml", &student),
        ("older/ik.toml", &student),
    ]);
    let (shown, _, _) = check(scratch.path(), &["ik.toml", "--since", "old"]);
    assert_eq!(changes(&shown)[1..], ["reading water_added 50 mL → 51 mL"]);
    let (shown, _, _) = check(scratch.path(), &["ik.toml", "--since", "older"]);
    assert_eq!(changes(&shown), ["changes none since older"]);
}

/// The copy that `draft --replace` keeps of a worksheet with answers in it is an older copy of the answers.
#[test]
fn a_worksheet_that_draft_kept_is_an_older_copy() {
    let (front, rest) = SAMPLE.split_once("[answers]").expect("answers");
    let (_, behind) = rest.split_once("[cause.1]").expect("causes");
    let scratch = folder(&[("3-07.toml", &format!("{front}[cause.1]{behind}"))]);
    let folder = scratch.path();
    let draft = ["draft", "3-07.toml", "--template", "worksheet"];
    assert!(gramleaf(folder, &draft, "").status.success());
    let sheet = folder.join("3-07.md");
    let fill = |answer: &str| {
        let blank = fs::read_to_string(&sheet).expect("the worksheet");
        let lines = blank.lines().map(|line| {
            if !line.replace('\\', "").contains("| percent_yield ") {
                return line.to_owned();
            }
            let mut cells: Vec<&str> = line.split('|').collect();
            cells[2] = answer;
            cells.join("|")
        });
        let filled = lines.collect::<Vec<_>>().join("\n");
        assert!(filled.contains(answer));
        fs::write(&sheet, filled).expect("written");
    };
    fill(" 89 % ");
    let replace = [&draft[..], &["--replace"]].concat();
    assert!(gramleaf(folder, &replace, "").status.success());
    fill(" 97.9 % ");
    let (shown, said, _) = check(folder, &["3-07.md", "--since", "3-07.edited-1.md"]);
    assert_eq!(
        changes(&shown),
        [
            "changes 2 since 3-07.edited-1.md",
            "answer percent_yield 89 % → 97.9 %",
            "verdict percent_yield look again → matches your data",
        ],
        "{said}"
    );
}
