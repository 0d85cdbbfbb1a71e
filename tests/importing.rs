//! Tables of web forms and spreadsheets become data files: every cell as typed, nothing lost without a word, all or none.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::Command;
use std::process::Stdio;

use gramleaf::lab;
use gramleaf::lab::Lab;
use gramleaf::measure::typed::inner;
use gramleaf::problem::Problem;
use gramleaf::problem::Source;
use gramleaf::record;
use gramleaf::record::Record;
use gramleaf::report::form;
use gramleaf::report::form::FormFor;
use gramleaf::report::form::Place;
use gramleaf::working::Graph;
use gramleaf::working::plan::plan;
use proptest::prelude::*;
use tempfile::TempDir;

const LAB: &str = "zinc-copper-sulfate";

/// What came of a run.
struct Ran {
    status: i32,
    out: String,
    err: String,
}

/// Runs the program in a folder.
fn gramleaf(home: &Path, words: &[&str], input: &[u8]) -> Ran {
    let mut child = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .args(words)
        .current_dir(home)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    // A program that stops early reads nothing.
    let _ = child.stdin.take().expect("a pipe").write_all(input);
    let output = child.wait_with_output().expect("the program ends");
    Ran {
        status: output.status.code().expect("a status"),
        out: String::from_utf8_lossy(&output.stdout).into_owned(),
        err: String::from_utf8_lossy(&output.stderr).into_owned(),
    }
}

/// Imports a table from `forms.csv` into `in`.
fn import(table: impl AsRef<[u8]>) -> (TempDir, Ran) {
    let home = TempDir::new().expect("a folder");
    fs::write(home.path().join("forms.csv"), table).expect("a file");
    let words = ["import", "forms.csv", "--lab", LAB, "--out", "in"];
    let ran = gramleaf(home.path(), &words, b"");
    (home, ran)
}

fn the_lab(text: &str) -> (Lab, Graph) {
    let source = Source {
        name: "lab.toml".to_owned(),
        text: text.to_owned(),
    };
    let (lab, problems) = lab::check::check(&source);
    let lab = lab.unwrap_or_else(|| panic!("{problems:#?}"));
    let (graph, _) = plan(&lab);
    (lab, graph)
}

fn zinc() -> (Lab, Graph) {
    the_lab(lab::builtin::find(LAB).expect("built in"))
}

/// Reads a data file as the program does.
fn read(text: &[u8], lab: &Lab, graph: &Graph) -> (Record, Vec<Problem>) {
    let (source, mut problems) = Source::decode("data.toml".to_owned(), text);
    let written = record::read(source);
    let steps: Vec<String> = graph.steps().iter().map(|step| step.id.clone()).collect();
    let (record, found) = record::check(&written, lab, &steps);
    problems.extend(found);
    (record, problems)
}

/// The record of a group of a table that was imported without an error.
fn imported(table: impl AsRef<[u8]>, group: &str) -> (Record, String) {
    let (home, ran) = import(table);
    assert!(ran.status < 2, "{}", ran.err);
    let text = fs::read(home.path().join(format!("in/{group}.toml"))).expect("written");
    let (lab, graph) = zinc();
    (read(&text, &lab, &graph).0, ran.err)
}

/// The typed texts of a reading.
fn typed(record: &Record, name: &str) -> Vec<String> {
    let place = zinc().0.reading_index(name).expect("a reading");
    let entries = record.readings[place].entries.iter();
    entries.map(|entry| entry.typed.clone()).collect()
}

/// Every way of calling a column that leads to the box, with a cell and what is read from it.
#[test]
fn a_heading_is_understood_however_it_is_written() {
    for (heads, cells, name, read) in [
        ("dish_empty", "2.45 g", "dish_empty", &["2.45 g"][..]),
        ("Dish Empty", "2.45 g", "dish_empty", &["2.45 g"]),
        ("DISH-EMPTY", "2.45 g", "dish_empty", &["2.45 g"]),
        ("DishEmpty", "2.45 g", "dish_empty", &["2.45 g"]),
        ("dish_empty (g)", "2.45", "dish_empty", &["2.45 g"]),
        ("dish_empty [in g]", "\"2,45\"", "dish_empty", &["2,45 g"]),
        ("dish_empty (mg)", "2450", "dish_empty", &["2450 mg"]),
        ("dish_empty (g)", "2450 mg", "dish_empty", &["2450 mg"]),
        ("dish_empty (g)", "lost", "dish_empty", &["lost"]),
        (
            "dish_empty (g)",
            "2.45 (was 2.54)",
            "dish_empty",
            &["2.45 g (was 2.54)"],
        ),
        ("dish_empty (optional)", "2.45 g", "dish_empty", &["2.45 g"]),
        ("3. dish empty", "2.45 g", "dish_empty", &["2.45 g"]),
        ("Day 1: dish empty", "2.45 g", "dish_empty", &["2.45 g"]),
        ("Reading: dish_empty", "2.45 g", "dish_empty", &["2.45 g"]),
        (
            "\"Weighing dish, nothing in it\"",
            "2.45 g",
            "dish_empty",
            &["2.45 g"],
        ),
        (
            "\"weighing dish, nothing in it (g)\"",
            "2.45",
            "dish_empty",
            &["2.45 g"],
        ),
        (
            "\"beaker, empty; number it before you weigh it\"",
            "104.18 g",
            "beaker_empty",
            &["104.18 g"],
        ),
        (
            "zinc before",
            "105.68 g (was 106.58)",
            "zinc_before",
            &["105.68 g (was 106.58)"],
        ),
        (
            "beaker_with_copper",
            "105.70 g; 105.68 g",
            "beaker_with_copper",
            &["105.70 g", "105.68 g"],
        ),
        (
            "beaker_with_copper (g)",
            "105.70;105.68 at 14:10",
            "beaker_with_copper",
            &["105.70 g", "105.68 g at 14:10"],
        ),
        (
            "beaker_with_copper 1,beaker_with_copper 2",
            "105.70 g,105.68 g",
            "beaker_with_copper",
            &["105.70 g", "105.68 g"],
        ),
        (
            "beaker with copper [1st],beaker_with_copper_3 (g)",
            "105.70 g,105.68",
            "beaker_with_copper",
            &["105.70 g", "105.68 g"],
        ),
        ("dish_empty", "'=x", "dish_empty", &["=x"]),
        ("dish_empty", "  ", "dish_empty", &[]),
    ] {
        let (record, said) = imported(format!("group,{heads}\n3-07,{cells}\n"), "3-07");
        assert_eq!(typed(&record, name), read, "{heads}");
        assert!(!said.contains("for no box"), "{heads}: {said}");
    }
}

/// Finds the text of a box.
type Look = fn(&Record) -> Option<&str>;

/// The same for boxes that are no readings.
#[test]
fn every_box_of_the_form_has_its_column() {
    let look: [(&str, Look); 8] = [
        ("day 1 date|date 1|Date of day 1|Day 1: date", |record| {
            record.days[0].date.as_deref()
        }),
        (
            "day 2 seen|seen_2|What did you see on day 2?|observations (day 2)",
            |record| record.days[1].seen.as_deref(),
        ),
        (
            "percent_yield|Percent yield of copper|answers.percent_yield|answer: percent yield",
            |record| record.answers.first().map(|answer| answer.typed.as_str()),
        ),
        ("cause 1 what|what|cause.1.what|cause", |record| {
            record.causes.first().map(|cause| cause.what.as_str())
        }),
        ("cause 2 next_time|next time 2", |record| {
            record.causes.first().map(|cause| cause.next_time.as_str())
        }),
        (
            "discussion|words.discussion|Why the result differs",
            |record| record.words.first().map(|(_, text)| text.as_str()),
        ),
        (
            "question_1|\"Which reading would you take again first, and what would it change in the percent yield?\"",
            |record| record.words.first().map(|(_, text)| text.as_str()),
        ),
        ("extra.room_temp|extra room temp", |record| {
            record.extra.first().map(|(_, text)| text.as_str())
        }),
    ];
    for (heads, found) in look {
        for head in heads.split('|') {
            let (record, said) = imported(format!("Group Code,{head}\n3-07,some text\n"), "3-07");
            assert_eq!(found(&record), Some("some text"), "{head}: {said}");
            assert!(!said.contains("for no box"), "{head}: {said}");
        }
    }
    for head in [
        "solid_poured_away",
        "Was any solid poured away with the liquid?",
        "Signs: solid poured away",
    ] {
        let (record, _) = imported(format!("group,{head}\n3-07,Yes\n"), "3-07");
        assert_eq!(
            record.signs[0],
            ("solid_poured_away".to_owned(), Some(true)),
            "{head}"
        );
    }
    let (record, _) = imported(
        "Team;Class;Members;share_words\n3-07;4;Ada & Bo;yes\n",
        "3-07",
    );
    assert_eq!(
        (record.who.section.as_str(), record.who.share_words),
        ("4", true)
    );
    assert_eq!(record.who.names, ["Ada", "Bo"]);
    for (table, names) in [
        (
            "group,names\n3-07,\"Ada P., Bo Q.\"\n",
            &["Ada P.", "Bo Q."][..],
        ),
        (
            "group;Surname, First name\n3-07;Perez, Ada\n",
            &["Perez, Ada"],
        ),
    ] {
        let (record, _) = imported(table, "3-07");
        assert_eq!(record.who.names, names, "{table}");
    }
    let (record, _) = imported("group\n3-07\n", "3-07");
    assert_eq!(record.who.section, "3");
}

#[test]
fn a_table_is_read_whatever_saved_it() {
    for table in [
        &b"group,dish_empty,day 1 seen\n3-07,\"2,45 g\",20 \xC2\xB0C\n"[..],
        b"\xEF\xBB\xBFgroup;dish_empty;day 1 seen\r\n;;\r\n3-07;2,45 g;20 \xC2\xB0C\r\n\r\n",
        b"group\tdish_empty\tday 1 seen\r3-07\t2,45 g\t20 \xC2\xB0C\r",
        b"group;dish_empty;day 1 seen\n3-07;2,45 g;20 \xB0C\n",
        b"\xFF\xFEg\0r\0o\0u\0p\0;\0d\0i\0s\0h\0 \0e\0m\0p\0t\0y\0;\0s\0e\0e\0n\0 \x001\0\n\x003\0-\x000\x007\0;\x002\0,\x004\x005\0 \0g\0;\x002\x000\0 \0\xB0\0C\0\n\0",
        // More commas than semicolons, none of them between cells.
        b"group;weighing dish, nothing in it;day 1 seen\n3-07;2,45 g;20 \xC2\xB0C\n",
    ] {
        let (record, said) = imported(table, "3-07");
        assert_eq!(typed(&record, "dish_empty"), ["2,45 g"]);
        assert_eq!(record.days[0].seen.as_deref(), Some("20 °C"));
        assert_eq!(said.contains("old encoding"), table.contains(&b'\xB0') && !table.contains(&b'\xC2') && table[0] != 0xFF);
    }
}

#[test]
fn standard_input_is_a_table_and_the_lab_may_be_a_file() {
    let home = TempDir::new().expect("a folder");
    fs::write(
        home.path().join("lab.toml"),
        lab::builtin::find(LAB).expect("built in"),
    )
    .expect("a file");
    let table = b"group,dish_empty\n3-07,2.45 g\n3-08,abc\n";
    let ran = gramleaf(
        home.path(),
        &["import", "-", "--lab", "lab.toml", "--out", "a/b"],
        table,
    );
    assert_eq!(
        ran.out.replace('\\', "/"),
        "wrote a/b/3-07.toml\nwrote a/b/3-08.toml\n"
    );
    assert_eq!(ran.status, 1);
    assert!(
        ran.err.contains("3-08.toml:") && ran.err.contains("there is no number in “abc”"),
        "{}",
        ran.err
    );
    let ran = gramleaf(
        home.path(),
        &["import", "-", "--lab", "lab.toml"],
        b"group,sectoin\n,\n",
    );
    assert!(
        ran.err
            .contains("standard input has no row below its headings"),
        "{}",
        ran.err
    );
}

/// The file is the form that `start` writes, with texts in its boxes.
#[test]
fn an_empty_row_is_the_blank_form() {
    for id in lab::builtin::BUILT_IN.iter().map(|(id, _)| id) {
        let home = TempDir::new().expect("a folder");
        let started = gramleaf(
            home.path(),
            &["start", id, "--group", "3-07", "--out", "-"],
            b"",
        );
        let ran = gramleaf(home.path(), &["import", "-", "--lab", id], b"group\n3-07\n");
        assert_eq!(ran.out, "wrote 3-07.toml\n", "{}", ran.err);
        assert_eq!(
            fs::read_to_string(home.path().join("3-07.toml")).expect("written"),
            started.out
        );
    }
}

#[test]
fn a_column_for_no_box_is_said_and_kept() {
    for (heads, cells, says, extra) in [
        (
            "dish_emty",
            "x",
            "warning: forms.csv:1: the column `dish_emty` is for no box of this lab\n  help: did you mean `dish_empty`? what stands in it was kept under [extra] as `dish_emty`",
            Some(("dish_emty", "x")),
        ),
        (
            "Room temp (°C)",
            "21",
            "kept under [extra] as `room_temp`",
            Some(("room_temp", "21 °C")),
        ),
        (
            "温度",
            "21",
            "what stands in it was left out; to keep it under [extra], name the column with a few plain letters",
            None,
        ),
        (
            "date",
            "",
            "the column `date` is for no box of this lab",
            None,
        ),
        ("zzz", "", "nothing stands in it", None),
        (
            "Errors",
            "we spilled",
            "kept under [extra] as `errors`",
            Some(("errors", "we spilled")),
        ),
        ("", "x", "column 2 has no heading", None),
        (
            "beaker_empty (ounces)",
            "3.7",
            "`ounces` in the column `beaker_empty (ounces)` is no unit that is known\n  help: its cells were taken as typed",
            None,
        ),
        (
            "Timestamp",
            "1.2.2026",
            "note: forms.csv:1: the column `Timestamp` was left out\n  help: it says who sent the form",
            None,
        ),
        (
            "Start time,E-mail address",
            "9:00,a@b.c",
            "the columns `Start time`, `E-mail address` were left out",
            None,
        ),
    ] {
        let (record, said) = imported(format!("group,{heads}\n3-07,{cells}\n"), "3-07");
        assert!(said.contains(says), "{heads}: {said}");
        let kept = record
            .extra
            .first()
            .map(|(name, text)| (name.as_str(), text.as_str()));
        assert_eq!(kept, extra, "{heads}");
    }
    let (_, said) = imported(
        "file,lab,section,group,errors,look-again,points,out_of\na,zinc-copper-sulfate,3,3-07,1,2,3,4\n",
        "3-07",
    );
    assert_eq!(said, "");
}

#[test]
fn what_cannot_be_imported_writes_nothing() {
    for (table, says) in [
        (
            "groop,dish_empty\n3-07,1 g\n",
            "forms.csv:1: no column holds the groups\n  help: is it the column `groop`? Then name it `group`",
        ),
        (
            "xyz,dish_empty\n3-07,1 g\n",
            "name the column with the groups' codes `group`; the others are named after the boxes of the form",
        ),
        (
            "group,dish_empty\n",
            "forms.csv has no row below its headings",
        ),
        ("", "no column holds the groups"),
        (
            "group,dish_empty\n3-07,1 g\n,2 g\n",
            "forms.csv:3: this row has no group\n  help: nothing was written; give every row a group",
        ),
        (
            "group,dish_empty\n3-07,1 g\n\n3-07,2 g\n",
            "forms.csv:4: the group `3-07` has a row already, line 2\n  help: nothing was written; keep the row that counts",
        ),
        (
            "group,dish_empty\n3/07,1 g\n3-07,2 g\n",
            "two groups would both be written to in",
        ),
        (
            "group,dish_empty\na-1,1 g\nA-1,2 g\n",
            "two groups would both be written to in",
        ),
        ("group\nlab\n", "would be taken for a lab description"),
        (
            "group\n\"3\n7\"\n",
            "forms.csv:2: the group's code is too long, or has more than one line",
        ),
        (
            "group,dish_empty\n3-07,1,5 g\n",
            "forms.csv:2: this row has 3 cells, but the table has 2 columns\n  help: nothing was written; a text that holds",
        ),
        (
            "group,dish_empty\n\n3-07\n",
            "forms.csv:3: this row has 1 cell, but the table has 2 columns",
        ),
        (
            "group,dish_empty\n3-07,\"1 g\n3-08,2 g\n",
            "forms.csv:2: a quote mark in this row is never closed",
        ),
        (
            "group,dish_empty,Dish empty (g)\n3-07,1 g,2\n",
            "forms.csv:1: the columns `dish_empty` and `Dish empty (g)` are for the same box\n  help: nothing was written; keep one of them",
        ),
        (
            "group,beaker_with_copper,beaker_with_copper 2\n3-07,1 g,2 g\n",
            "are for the same box",
        ),
        (
            "group,team\n3-07,1\n",
            "the columns `group` and `team` are for the same box",
        ),
        (
            "group,zzz,Zzz\n3-07,1,2\n",
            "the columns `zzz` and `Zzz` are for the same box",
        ),
        (
            "group,lab\n3-07,baking-soda\n",
            "forms.csv:2: this row belongs to the lab `baking-soda`, not to `zinc-copper-sulfate`",
        ),
        (
            "PK\u{3}\u{4}",
            "forms.csv is a spreadsheet (.xlsx, .ods) or another zip archive, not plain text\n  help: save the table as CSV",
        ),
        ("%PDF-1.7", "forms.csv is a PDF document, not plain text"),
    ] {
        let (home, ran) = import(table);
        assert!(ran.err.contains(says), "{table}: {}", ran.err);
        assert_eq!((ran.status, ran.out.as_str()), (2, ""), "{table}");
        assert!(!home.path().join("in").exists(), "{table}");
    }
    let home = TempDir::new().expect("a folder");
    for (words, says) in [
        (["import", "none.csv", "--lab", LAB], "there is no none.csv"),
        (
            ["import", "none.csv", "--lab", "zinc-coper-sulfate"],
            "did you mean `zinc-copper-sulfate`?",
        ),
    ] {
        let ran = gramleaf(home.path(), &words, b"");
        assert!(ran.status == 2 && ran.err.contains(says), "{}", ran.err);
    }
}

#[test]
fn a_label_of_two_readings_is_asked_about() {
    let text = lab::builtin::find(LAB).expect("built in");
    let text = text.replace(
        "weighing dish for the zinc, nothing in it",
        "weighing dish, nothing in it",
    );
    let home = TempDir::new().expect("a folder");
    fs::write(home.path().join("my.lab.toml"), text).expect("a file");
    let words = ["import", "-", "--lab", "my.lab.toml"];
    let ran = gramleaf(
        home.path(),
        &words,
        b"group;weighing dish, nothing in it\n3-07;1 g\n",
    );
    let says = "the column `weighing dish, nothing in it` may be any of `dish_empty`, `zinc_dish_empty`\n  help: nothing was written; name the column after one of them";
    assert!(ran.status == 2 && ran.err.contains(says), "{}", ran.err);
}

#[test]
fn a_file_that_is_there_stays_and_no_other_is_written() {
    let (home, ran) = import("group,dish_empty\n3-07,2.45 g\n");
    assert_eq!(ran.status, 0, "{}", ran.err);
    let there = home.path().join("in/3-07.toml");
    let before = fs::read(&there).expect("written");
    fs::write(
        home.path().join("forms.csv"),
        "group,dish_empty\n3-06,1.11 g\n3-07,9.99 g\n",
    )
    .expect("a file");
    let ran = gramleaf(
        home.path(),
        &["import", "forms.csv", "--lab", LAB, "--out", "in"],
        b"",
    );
    assert!(
        ran.status == 2
            && ran
                .err
                .contains("3-07.toml is there already\n  help: nothing was written"),
        "{}",
        ran.err
    );
    assert_eq!(fs::read(&there).expect("there"), before);
    assert!(!home.path().join("in/3-06.toml").exists());
}

/// Rows of `check --groups-csv`, by group: readings, signs and answers.
fn columns(csv: &str) -> BTreeMap<String, Vec<(String, String)>> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let heads: Vec<String> = reader
        .headers()
        .expect("headings")
        .iter()
        .map(str::to_owned)
        .collect();
    let end = heads
        .iter()
        .position(|head| head == "errors")
        .expect("counts");
    let rows = reader.records().map(|row| {
        let row = row.expect("a row");
        let typed = (1..end).map(|place| (heads[place].clone(), row[place].to_owned()));
        (row[3].to_owned(), typed.collect())
    });
    rows.collect()
}

#[test]
fn what_check_prints_comes_back() {
    for (folder, lab, least) in [
        ("samples/zinc-copper-sulfate", LAB, 4),
        ("samples/marking", "aluminium-copper-chloride", 7),
        // Three trials of one group.
        ("samples/hydrogen-over-water", "hydrogen-over-water", 1),
    ] {
        let home = TempDir::new().expect("a folder");
        let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let first = gramleaf(
            home.path(),
            &["check", samples.to_str().expect("UTF-8"), "--groups-csv"],
            b"",
        );
        fs::write(home.path().join("a.csv"), &first.out).expect("a file");
        let ran = gramleaf(
            home.path(),
            &["import", "a.csv", "--lab", lab, "--out", "b"],
            b"",
        );
        assert!(ran.status < 2 && !ran.err.contains("a.csv"), "{}", ran.err);
        let second = gramleaf(home.path(), &["check", "b", "--groups-csv"], b"");
        assert_eq!(columns(&second.out), columns(&first.out));
        assert!(columns(&first.out).len() >= least);
    }
}

#[test]
fn columns_of_trials_fill_their_sections_and_a_common_column_all_of_them() {
    let home = TempDir::new().expect("a folder");
    let table = "Group,air_pressure (kPa),Trial 1: ribbon,ribbon (trial 2),gas_volume,gas_volume trial #2 (mL),trial 3 ribbon\n\
        9-04,100.6,0.0382 g,0.0367 g,38.4 mL,37.3,\n\
        9-05,100.7,0.0401 g,,40.1 mL,,0.0391 g\n";
    let ran = gramleaf(
        home.path(),
        &["import", "-", "--lab", "hydrogen-over-water", "--out", "in"],
        table.as_bytes(),
    );
    assert!(ran.status < 2, "{}", ran.err);
    let read = |name: &str| -> toml::Table {
        let text = fs::read_to_string(home.path().join("in").join(name)).expect("written");
        text.parse().expect("TOML")
    };
    let (first, second) = (read("9-04.toml"), read("9-05.toml"));
    for (file, trial, reading, typed) in [
        (&first, "1", "ribbon", "0.0382 g"),
        (&first, "2", "ribbon", "0.0367 g"),
        (&first, "1", "gas_volume", "38.4 mL"),
        (&first, "2", "gas_volume", "37.3 mL"),
        (&first, "1", "air_pressure", "100.6 kPa"),
        (&first, "2", "air_pressure", "100.6 kPa"),
        // Nobody began the third.
        (&first, "3", "air_pressure", ""),
        (&second, "3", "ribbon", "0.0391 g"),
        (&second, "3", "air_pressure", "100.7 kPa"),
        (&second, "2", "air_pressure", ""),
        // The first trial's volume is not that of the third: the column has others of its kind.
        (&second, "3", "gas_volume", ""),
    ] {
        let found = &file["trial"][trial][reading];
        assert_eq!(found.as_str(), Some(typed), "{trial} {reading}");
    }
}

/// Texts that a spreadsheet could take for formulas, remarks with semicolons, quotes and lines.
#[test]
fn hostile_cells_come_back_through_check() {
    let home = TempDir::new().expect("a folder");
    fs::create_dir(home.path().join("a")).expect("a folder");
    let data = "[who]\nlab = \"zinc-copper-sulfate\"\ngroup = \"3-07\"\n[day.1]\ndish_empty = \"=1+1\"\ndish_with_salt = \"'=x\"\nzinc_before = \"4.36 g (\\\"new\\\"; a\\\\b)\"\nbeaker_empty = '''a\nb'''\n[day.3]\nbeaker_with_copper = [\"105.70 g (was 1; 2)\", \"lost\", \"-x\"]\n[answers]\nlimiting = \"@Zn, of course\"\nmass_salt = \"-0.46 g\"\n";
    fs::write(home.path().join("a/3-07.toml"), data).expect("a file");
    let first = gramleaf(home.path(), &["check", "a", "--groups-csv"], b"");
    let ran = gramleaf(
        home.path(),
        &["import", "-", "--lab", LAB, "--out", "b"],
        first.out.as_bytes(),
    );
    assert!(
        ran.status == 1 && !ran.err.contains("standard input"),
        "{}",
        ran.err
    );
    let second = gramleaf(home.path(), &["check", "b", "--groups-csv"], b"");
    assert_eq!(columns(&second.out), columns(&first.out));
    assert!(
        columns(&first.out)["3-07"].contains(&("dish_with_salt".to_owned(), "''=x".to_owned()))
    );
}

/// The ends of a text that the reader of data files cuts off.
const ENDS: [char; 4] = [' ', '\t', '\n', '\r'];

fn any_text() -> impl Strategy<Value = String> {
    let odd = prop::sample::select(vec![
        "\"",
        "'",
        "'''",
        "\"\"\"",
        "\\",
        "\n",
        "\r",
        "\t",
        "\0",
        "\u{7f}",
        "\u{85}",
        "\u{a0}",
        "\u{feff}",
        "#",
        " # 2.45 g",
        "\\u0041",
        "=",
        "\n# 5 g\n",
    ]);
    let piece =
        prop_oneof![3 => "\\PC{0,6}".prop_map(|text| text), 2 => odd.prop_map(str::to_owned)];
    prop::collection::vec(piece, 0..8).prop_map(|pieces| pieces.concat())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Whatever stands in the boxes is read back as itself, and none of it disturbs its neighbours.
    #[test]
    fn any_text_in_any_box_is_read_back(texts in prop::collection::vec(any_text(), 12)) {
        let (lab, graph) = zinc();
        let reading = |name: &str| Place::Reading(name.to_owned());
        let answer = |id: &str| Place::Answer(id.to_owned());
        let word = |key: &str| Place::Words(key.to_owned());
        let places = [
            Place::Date(1), Place::Seen(1), Place::Seen(2), reading("dish_empty"), reading("zinc_before"),
            answer("limiting"), answer("molar_mass_zinc"), Place::Cause(5, "evidence"), word("purpose"),
            word("question_3"), Place::Extra("room".to_owned()), reading("beaker_with_copper"),
        ];
        let filled = places.into_iter().zip(texts.iter().map(|text| vec![text.clone()])).collect();
        let whose = FormFor { group: "3-07".to_owned(), section: texts[0].clone(), names: vec![texts[1].clone()], filled };
        let written = form::form(&lab, &graph, &lab.id, &whose);
        let (record, problems) = read(written.as_bytes(), &lab, &graph);
        prop_assert!(problems.iter().all(|problem| ["reading", "wrong-unit"].contains(&problem.code.as_str())
            || problem.severity != gramleaf::problem::Severity::Error), "{:#?}\n{}", problems, written);
        prop_assert!(problems.iter().all(|problem| problem.code.as_str() != "commented-data"), "{:#?}\n{}", problems, written);
        let cut = |place: usize| Some(texts[place].trim_matches(ENDS)).filter(|text| !text.is_empty());
        let find = |id: &str| record.answers.iter().find(|answer| answer.step == id).map(|answer| answer.typed.as_str());
        let word = |key: &str| record.words.iter().find(|(name, _)| name == key).map(|(_, text)| text.as_str());
        prop_assert_eq!(record.days[0].date.as_deref(), cut(0));
        prop_assert_eq!(record.days[0].seen.as_deref(), cut(1));
        prop_assert_eq!(record.days[1].seen.as_deref(), cut(2));
        prop_assert_eq!(find("limiting"), cut(5));
        prop_assert_eq!(find("molar_mass_zinc"), cut(6));
        prop_assert_eq!(record.causes.first().map(|cause| cause.evidence.as_str()), cut(7));
        prop_assert_eq!(word("purpose"), cut(8));
        prop_assert_eq!(word("question_3"), cut(9));
        prop_assert_eq!(record.extra.first().map(|(_, text)| text.as_str()), cut(10));
        for (place, name) in [(3, "dish_empty"), (4, "zinc_before"), (11, "beaker_with_copper")] {
            let text = texts[place].trim();
            let expected: Vec<String> = Some(text.to_owned()).filter(|text| !inner(text).is_empty()).into_iter().collect();
            prop_assert_eq!(typed(&record, name), expected);
        }
        prop_assert_eq!(&record.who.section, texts[0].trim());
        prop_assert_eq!(record.who.names.first(), Some(&texts[1]).filter(|text| !text.trim().is_empty()));
        prop_assert_eq!(&record.who.group, "3-07");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// The same from the table on: cells of many rows at once.
    #[test]
    fn any_cell_is_read_back(rows in prop::collection::vec([any_text(), any_text(), any_text(), any_text()], 8)) {
        let mut table = csv::Writer::from_writer(Vec::new());
        table.write_record(["group", "dish_empty", "limiting", "day 2 seen", "discussion"]).expect("a row");
        for (number, cells) in rows.iter().enumerate() {
            let row = [&[format!("3-{number}")], &cells[..]].concat();
            table.write_record(row).expect("a row");
        }
        let (home, ran) = import(table.into_inner().expect("bytes"));
        // A byte that no text has is the only thing that a table may not hold.
        if rows.iter().flatten().any(|cell| cell.contains('\0')) {
            prop_assert!(ran.status == 2 && ran.err.contains("not plain text"), "{}", ran.err);
            return Ok(());
        }
        prop_assert!(ran.status < 2, "{}", ran.err);
        let (lab, graph) = zinc();
        for (number, cells) in rows.iter().enumerate() {
            let text = fs::read(home.path().join(format!("in/3-{number}.toml"))).expect("written");
            let (record, _) = read(&text, &lab, &graph);
            let expected = cells.clone().map(|cell| {
                let lines = cell.replace("\r\n", "\n").replace('\r', "\n");
                let cut = lines.trim_matches(ENDS);
                // An apostrophe that guards against formulas comes off.
                let rest = cut.strip_prefix('\'').filter(|rest| rest.trim_start_matches('\'').starts_with(['=', '+', '-', '@', '\t']));
                rest.unwrap_or(cut).trim_matches(ENDS).to_owned()
            });
            let seen = record.days[1].seen.clone().unwrap_or_default();
            let answer = record.answers.first().map_or("", |answer| answer.typed.as_str());
            let word = record.words.first().map_or("", |(_, text)| text.as_str());
            let reading = Some(expected[0].trim()).filter(|text| !inner(text).is_empty());
            prop_assert_eq!(typed(&record, "dish_empty").concat(), reading.unwrap_or_default());
            prop_assert_eq!([answer, &seen, word], [&expected[1], &expected[2], &expected[3]]);
        }
    }
}

#[test]
fn a_german_table_is_read_in_german() {
    let home = TempDir::new().expect("a folder");
    let table = "Gruppe;Kurs;Namen;Datum Tag 1;Was habt ihr gesehen Tag 2;becherglas_leer;\
                 dieselbe Schale mit den blauen Kristallen (g);Wurde mit der Flüssigkeit Feststoff weggegossen?\n\
                 7b-01;7b;A. B.;3. März;fast farblos;98,34 g;7,52;ja\n";
    let words = ["import", "-", "--lab", "eisen-kupfersulfat", "--out", "in"];
    let ran = gramleaf(home.path(), &words, table.as_bytes());
    assert!(ran.status == 0 && ran.err.is_empty(), "{}", ran.err);
    let written = fs::read_to_string(home.path().join("in/7b-01.toml")).expect("written");
    for line in [
        "section     = \"7b\"",
        "group       = \"7b-01\"",
        "names       = [\"A. B.\"]",
        "date            = \"3. März\"",
        "becherglas_leer = \"98,34 g\"",
        "schale_mit_salz = \"7,52 g\"",
        "solid_poured_away     = \"ja\"",
        "seen = '''\nfast farblos\n'''",
    ] {
        assert!(written.contains(line), "no {line} in\n{written}");
    }
}

/// Names are names in however many columns they stand; nothing of them is kept as a reading nobody planned.
#[test]
fn names_in_several_columns_are_names() {
    let (lab, graph) = zinc();
    let table = "Class 3;;;;\nGroup;Student 1;Student 2;Vorname;Nachname\n3-01;Ana P.;Bo Q.;Cy;Ruiz\n3 02;Xu;;;\n";
    let (home, ran) = import(table);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let file = fs::read(home.path().join("in/3-01.toml")).expect("a file");
    let (record, problems) = read(&file, &lab, &graph);
    assert!(problems.is_empty(), "{problems:#?}");
    assert_eq!(record.who.names, ["Ana P.", "Bo Q.", "Cy Ruiz"]);
    assert!(record.extra.is_empty(), "{:?}", record.extra);
    // A code that no class page can show is told as long as it can be changed.
    assert!(ran.err.contains("the group's code “3 02”"), "{}", ran.err);
}
