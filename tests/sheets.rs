//! Sheets on paper: the names of the data file, a box for each digit, nothing written over, no key without `--key`.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

fn gramleaf(words: &[&str]) -> (String, bool) {
    let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .args(words)
        .output()
        .expect("the program runs");
    let text = format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    (text, output.status.success())
}

/// What `start LAB …` prints.
fn start(lab: &str, words: &[&str]) -> String {
    let (text, good) = gramleaf(&[&["start", lab], words, &["--out", "-"]].concat());
    assert!(good, "{text}");
    text
}

/// Paths of the descriptions of all built-in labs.
fn labs() -> Vec<String> {
    let folders = fs::read_dir("samples").expect("samples");
    let lab = |folder: fs::DirEntry| folder.path().join("lab.toml");
    let mut labs: Vec<String> = folders
        .map(|folder| lab(folder.expect("a folder")))
        .filter(|lab| lab.is_file())
        .map(|lab| lab.display().to_string())
        .collect();
    labs.sort();
    assert!(labs.len() >= 16, "{labs:?}");
    labs
}

/// The rows of every table, cell by cell, without the lines under the heads.
fn rows(markdown: &str) -> Vec<Vec<&str>> {
    markdown
        .lines()
        .filter(|line| line.starts_with("| "))
        .map(|line| {
            let cells: Vec<&str> = line.split('|').map(str::trim).collect();
            cells[1..cells.len() - 1].to_vec()
        })
        .collect()
}

/// Whether a cell is the name of a line of the data file.
fn is_name(cell: &str) -> bool {
    cell.starts_with(|c: char| c.is_ascii_lowercase())
        && cell
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
}

#[test]
fn names_are_exactly_those_of_the_data_file() {
    for lab in labs() {
        let form: toml::Table = start(&lab, &[]).parse().expect("a form");
        let mut expected: Vec<(String, usize)> = Vec::new();
        let days = form["day"].as_table().expect("days");
        let mut seen = 0;
        for day in days.values() {
            for (name, value) in day.as_table().expect("a day") {
                match name.as_str() {
                    "date" | "seen" => seen += 1,
                    _ => expected.push((name.clone(), value.as_array().map_or(1, Vec::len))),
                }
            }
        }
        let trials = form.get("trial").and_then(toml::Value::as_table);
        for trial in trials.into_iter().flat_map(toml::Table::values) {
            for (name, value) in trial.as_table().expect("a trial") {
                expected.push((name.clone(), value.as_array().map_or(1, Vec::len)));
            }
        }
        let signs = form.get("signs").and_then(toml::Value::as_table);
        expected.extend(
            signs
                .into_iter()
                .flatten()
                .map(|(name, _)| (name.clone(), 1)),
        );
        expected.sort();

        let sheet = start(&lab, &["--sheet", "bench"]);
        assert_eq!(
            sheet.matches("(`date`)").count() + sheet.matches("(`seen`)").count(),
            seen,
            "{lab}"
        );
        let mut found: Vec<(String, usize)> = Vec::new();
        for row in rows(&sheet) {
            let last = row.last().expect("a cell");
            let (name, place) = last.split_once(",\u{a0}").unwrap_or((last, "1"));
            if !is_name(name) {
                continue;
            }
            match found.last_mut().filter(|(before, _)| before == name) {
                Some((_, count)) => *count += 1,
                None => found.push((name.to_owned(), 1)),
            }
            assert_eq!(place, found.last().expect("one").1.to_string(), "{lab}");
        }
        found.sort();
        assert_eq!(found, expected, "{lab}");
    }
}

/// Digits behind the decimal point counted by hand from the descriptions' instruments.
#[test]
fn boxes_are_those_of_the_instruments() {
    for (lab, expected) in [
        (
            "zinc-copper-sulfate",
            &[
                ("dish_empty", "□□□.□□\u{a0}g"),
                ("water_added", "□□□.□\u{a0}mL"),
            ][..],
        ),
        ("baking-soda", &[("crucible", "□□□.□□□\u{a0}g")]),
        (
            "hydrogen-over-water",
            &[
                ("ribbon", "□□□.□□□□\u{a0}g"),
                ("gas_volume", "□□□.□\u{a0}mL"),
                ("gas_temperature", "□□□.□\u{a0}°C"),
                ("air_pressure", "□□□.□\u{a0}kPa"),
            ],
        ),
    ] {
        let sheet = start(lab, &["--sheet", "bench"]);
        for (name, boxes) in expected {
            let found = rows(&sheet)
                .into_iter()
                .find(|row| row.last() == Some(name))
                .unwrap_or_else(|| panic!("{lab}: no {name} in {sheet}"));
            assert_eq!(found[1], *boxes, "{lab}, {name}");
        }
    }
}

#[test]
fn every_built_in_lab_has_both_sheets_and_they_defer() {
    for lab in labs() {
        for words in [
            &["--sheet", "bench"][..],
            &["--sheet", "prelab"],
            &["--sheet", "prelab", "--key"],
        ] {
            let sheet = start(&lab, words);
            // One of the labs is in German.
            let says =
                |english: &str, german: &str| sheet.contains(english) || sheet.contains(german);
            assert!(
                says(
                    "the safety data sheet (SDS) of the bottle in use",
                    "das Sicherheitsdatenblatt (SDB) der benutzten Flasche"
                ),
                "{lab}"
            );
            assert!(
                says(
                    "Waste: as your teacher directs.",
                    "Abfälle: nach Anweisung der Lehrkraft."
                ) || fs::read_to_string(&lab).expect("a lab").contains("\nwaste"),
                "{lab}"
            );
            for fault in ["NaN", "inf ", "undefined"] {
                assert!(!sheet.contains(fault), "{lab}: {fault} in {sheet}");
            }
            for cell in rows(&sheet).into_iter().flatten() {
                assert!(!["-0", "−0", "+0"].contains(&cell), "{lab}: {sheet}");
            }
            if words.contains(&"--key") {
                assert!(
                    !sheet.contains("There is no key") && !sheet.contains("there is no key"),
                    "{lab}: {sheet}"
                );
                assert!(!sheet.contains("\\_\\_\\_"), "{lab}: a gap in {sheet}");
            }
        }
    }
}

#[test]
fn nothing_is_written_over() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name).display().to_string();
    for sheet in ["bench", "prelab"] {
        for taken in ["md", "html"] {
            let name = at(&format!("{sheet}-{taken}"));
            let filled = format!("{name}.{taken}");
            fs::write(&filled, "filled in").expect("a file");
            for out in [name.clone(), filled.clone()] {
                let words = [
                    "start",
                    "zinc-copper-sulfate",
                    "--sheet",
                    sheet,
                    "--out",
                    &out,
                ];
                let (text, good) = gramleaf(&words);
                assert!(!good && text.contains("is there already"), "{text}");
            }
            assert_eq!(fs::read_to_string(&filled).expect("a file"), "filled in");
            let other = if taken == "md" { "html" } else { "md" };
            assert!(!Path::new(&format!("{name}.{other}")).exists());
        }
    }
    // A folder takes the lab's own name; a second run finds it there.
    let words = [
        "start",
        "zinc-copper-sulfate",
        "--sheet",
        "bench",
        "--out",
        &at(""),
    ];
    assert!(gramleaf(&words).1);
    assert!(Path::new(&at("zinc-copper-sulfate-bench.html")).is_file());
    assert!(!gramleaf(&words).1);
}

#[test]
fn all_groups_stand_on_one_page_each_on_its_own_sheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name).display().to_string();
    let roster = at("roster.csv");
    let table = "group,section,names\n3-01,3,A. B.\n3-01,3,C. D.\n3-02,3,\n";
    fs::write(&roster, table).expect("a roster");
    for sheet in ["bench", "prelab"] {
        let out = at(sheet);
        let words = [
            "start",
            "zinc-copper-sulfate",
            "--sheet",
            sheet,
            "--roster",
            &roster,
        ];
        let (text, good) = gramleaf(&[&words[..], &["--out", &out]].concat());
        assert!(good, "{text}");
        let page = fs::read_to_string(format!("{out}.html")).expect("a page");
        assert_eq!(page.matches("<h1").count(), 1, "{sheet}");
        assert_eq!(page.matches("<hr>").count(), 1, "{sheet}");
        assert!(page.contains("Group 3-01 · Names A. B., C. D.") && page.contains("Group 3-02"));
        // Regions of a page are told apart by their names.
        let names: Vec<&str> = page
            .split("role=\"region\" aria-label=\"")
            .skip(1)
            .filter_map(|rest| rest.split('"').next())
            .collect();
        let different: BTreeSet<&str> = names.iter().copied().collect();
        assert_eq!(names.len(), different.len(), "{names:?}");
    }
    let fourteen = start(
        "zinc-copper-sulfate",
        &["--sheet", "bench", "--groups", "14", "--section", "3"],
    );
    assert_eq!(fourteen.matches("\n## ").count(), 14);
    assert!(fourteen.contains("Group 3-14"));
}

/// Values worked by hand, with the atomic weights of the table in `src/chem/weights.rs` and the planned amounts of the labs.
///
/// zinc-copper-sulfate: 6.0 g ÷ 249.677 g/mol = 0.0240310 mol; 4.4 g ÷ 65.38 g/mol = 0.0672989 mol; the salt limits; 0.0432679 mol of
/// zinc are left, 2.82886 g; 0.0240310 × 63.546 = 1.52707 g of copper.
///
/// calcium-phosphate: 1.5 g ÷ 147.008 g/mol = 0.0102035 mol, ÷ 3 = 0.00340118; 3.1 g ÷ 380.119 g/mol = 0.00815534 mol, ÷ 2 = 0.00407767: the
/// chloride limits though it has more moles; 0.00340118 × 310.174 = 1.05496 g; 0.00815534 − 0.00680235 = 0.00135299 mol = 0.514296 g left.
#[test]
fn the_key_holds_the_values_worked_by_hand() {
    for (lab, values) in [
        (
            "zinc-copper-sulfate",
            &[
                ("before / mol", &["0.0673", "0.0240", "0", "0"][..]),
                (
                    "change / mol",
                    &["−0.0240", "−0.0240", "+0.0240", "+0.0240"],
                ),
                ("after / mol", &["0.0433", "0", "0.0240", "0.0240"]),
                ("after / g", &["2.83", "0", "–", "1.53"]),
                ("limiting", &["copper(II) sulfate"]),
                ("theoretical_copper", &["1.53\u{a0}g"]),
                ("expected_left_zinc", &["2.83\u{a0}g"]),
            ][..],
        ),
        (
            "calcium-phosphate",
            &[
                ("before / mol", &["0.0102", "0.00816", "0", "0"]),
                (
                    "change / mol",
                    &["−0.0102", "−0.00680", "+0.00340", "+0.0204"],
                ),
                ("after / mol", &["0", "0.00135", "0.00340", "0.0204"]),
                ("after / g", &["0", "0.514", "1.05", "–"]),
                ("limiting", &["calcium chloride"]),
                ("theoretical_solid", &["1.05\u{a0}g"]),
            ],
        ),
    ] {
        let key = start(lab, &["--sheet", "prelab", "--key"]);
        let rows = rows(&key);
        for (head, cells) in values {
            let row = rows
                .iter()
                .find(|row| row.first() == Some(head) || row.last() == Some(head))
                .unwrap_or_else(|| panic!("{lab}: no {head} in {key}"));
            assert_eq!(row[1..=cells.len()], **cells, "{lab}, {head}");
        }
    }
}

#[test]
fn without_the_key_no_predicted_number_is_anywhere() {
    let folder = tempfile::tempdir().expect("a folder");
    for lab in labs() {
        let key = start(&lab, &["--sheet", "prelab", "--key"]);
        let out = folder.path().join("prelab").display().to_string();
        let (text, good) = gramleaf(&["start", &lab, "--sheet", "prelab", "--out", &out]);
        assert!(good, "{text}");
        let blank = fs::read_to_string(format!("{out}.md")).expect("Markdown");
        let page = fs::read_to_string(format!("{out}.html")).expect("a page");
        for ending in ["md", "html"] {
            fs::remove_file(format!("{out}.{ending}")).expect("removed");
        }
        // Cell by cell: what the key fills in is a line to write on here.
        let heads = [
            "M / (g/mol)",
            "before / mol",
            "change / mol",
            "after / mol",
            "after / g",
            "vorher / mol",
            "Änderung / mol",
            "nachher / mol",
            "nachher / g",
        ];
        let (key, blank_rows) = (rows(&key), rows(&blank));
        assert_eq!(key.len(), blank_rows.len(), "{lab}");
        let mut filled = 0;
        for (with, without) in key.iter().zip(&blank_rows) {
            let numbers = heads.contains(&with[0]);
            let predicts = ["limiting", "theoretical_", "expected_left_"];
            let predicts = predicts
                .iter()
                .any(|step| with.last().expect("one").starts_with(step));
            if !numbers && !predicts {
                assert_eq!(with, without, "{lab}");
                continue;
            }
            for (value, room) in with.iter().zip(without).skip(1) {
                let digits: String = value.chars().filter(char::is_ascii_digit).collect();
                if numbers && !["XS", "–"].contains(value) {
                    assert!(room.chars().all(|c| c == '\\' || c == '_'), "{lab}: {room}");
                    filled += 1;
                    // A value of three figures is in no other place either, title and descriptions included.
                    if digits.trim_start_matches('0').len() >= 3 && value.starts_with(['−', '+'])
                    {
                        assert!(
                            !page.contains(*value) && !blank.contains(*value),
                            "{lab}: {value}"
                        );
                    }
                }
            }
            if predicts {
                assert!(
                    !without[1].contains(|c: char| c.is_ascii_digit()),
                    "{lab}: {without:?}"
                );
                assert!(without[1].contains("\\_\\_"), "{lab}: {without:?}");
            }
        }
        // Where a share or a number of waters is to be found, the amounts taken predict nothing.
        let predicts = !blank.contains("nothing can be predicted");
        assert_eq!(filled >= 8, predicts, "{lab}: {filled}");
    }
}

#[test]
fn a_plan_with_a_gap_gives_no_key() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("lab.toml");
    let text = fs::read_to_string("samples/zinc-copper-sulfate/lab.toml").expect("a lab");
    let gap: Vec<&str> = text
        .lines()
        .filter(|line| !line.starts_with("zinc "))
        .collect();
    fs::write(&path, gap.join("\n")).expect("a file");
    let key = start(
        path.to_str().expect("a path"),
        &["--sheet", "prelab", "--key"],
    );
    assert!(
        key.contains(
            "There is no key while the lab description plans no amount, under \\[plan\\], of: zinc."
        ),
        "{key}"
    );
    assert!(!key.contains("1.53"), "{key}");
}

#[test]
fn hostile_text_of_a_description_comes_out_as_text() {
    let folder = tempfile::tempdir().expect("a folder");
    let sample = fs::read_to_string("samples/zinc-copper-sulfate/lab.toml").expect("a lab");
    for (number, hostile) in [
        "<script>alert(1)</script>",
        "<!-- /keep --><img src=x onerror=alert(1)>",
        "a|b `c` ```alert(1) □□ ____",
        "# alert(1)",
        "--- {{title}} alert(1) </div></main>",
        "[alert(1)](javascript:alert(1))",
    ]
    .iter()
    .enumerate()
    {
        let lab = sample
            .replace(
                "title    = \"Copper from a zinc strip\"",
                &format!("title = '{hostile}'"),
            )
            .replace("\"zinc strip, clean and dry\"", &format!("'{hostile}'"))
            .replace("\"Separate and wash\"", &format!("'{hostile}'"))
            .replace("\"bubbles\"", &format!("'{hostile}'"))
            .replace(
                "name       = \"copper(II) sulfate\"",
                &format!("name = '{hostile}'"),
            )
            .replace(
                "  \"Keep the blue",
                &format!("  '{hostile}',\n  \"Keep the blue"),
            )
            .replace(
                "salt   = \"6.0 g\"",
                &format!("salt = \"6.0 g\"\nwashes2 = '{hostile}'"),
            )
            .replace("washes = \"3 of 25 mL\"", &format!("washes = '{hostile}'"))
            .replace(
                "background = '''",
                &format!("background = '''\n{hostile}\n\n<!-- keep -->\n\n<!-- screen -->\n\n"),
            );
        let path = folder.path().join(format!("{number}.lab.toml"));
        fs::write(&path, lab).expect("a file");
        let plain = folder.path().join("plain").display().to_string();
        for sheet in ["bench", "prelab"] {
            let out = folder.path().join(format!("{sheet}-{number}"));
            let out = out.display().to_string();
            let lab = path.display().to_string();
            let words = [
                "start", &lab, "--sheet", sheet, "--groups", "2", "--out", &out,
            ];
            let (text, good) = gramleaf(&words);
            assert!(good, "{text}");
            let page = fs::read_to_string(format!("{out}.html")).expect("a page");
            let main = page.split_once("<main").expect("a main part").1;
            for markup in ["<script", "<img", "href=\"javascript", "onerror=\"", "{{"] {
                let there = main.contains(markup);
                assert!(
                    !there || markup == "{{" && hostile.contains("{{"),
                    "{markup} in {main}"
                );
            }
            assert!(main.contains("alert(1)"), "{hostile}");
            assert_eq!(
                main.matches("<main").count() + 1,
                page.matches("</main>").count()
            );
            assert_eq!(
                main.matches("<div").count(),
                main.matches("</div>").count(),
                "{hostile}"
            );
            // As many headings and tables as the lab has without it.
            let plain = format!("{plain}-{sheet}");
            if !Path::new(&format!("{plain}.html")).exists() {
                let lab = "samples/zinc-copper-sulfate/lab.toml";
                let words = [
                    "start", lab, "--sheet", sheet, "--groups", "2", "--out", &plain,
                ];
                assert!(gramleaf(&words).1);
            }
            let plain = fs::read_to_string(format!("{plain}.html")).expect("a page");
            for part in [
                "<h1",
                "<h2",
                "<h3",
                "<table",
                "<hr",
                "class=\"screen\"",
                "class=\"room\"",
            ] {
                // Only the teacher's background is Markdown, where a heading may be one.
                if sheet == "prelab" && hostile.starts_with('#') && part.starts_with("<h") {
                    continue;
                }
                assert_eq!(
                    page.matches(part).count(),
                    plain.matches(part).count(),
                    "{part}: {hostile}"
                );
            }
        }
    }
}

#[test]
fn wrong_options_are_answered_with_a_next_step() {
    for (words, says) in [
        (&["--key"][..], "give `--sheet prelab` with --key"),
        (
            &["--sheet", "bench", "--key"],
            "give `--sheet prelab` with --key",
        ),
        (
            &["--sheet", "bench", "--schema"],
            "leave out --schema or --sheet",
        ),
        (
            &["--sheet", "wall"],
            "[possible values: form, bench, prelab]",
        ),
    ] {
        let (text, good) = gramleaf(&[&["start", "zinc-copper-sulfate"], words].concat());
        assert!(!good && text.contains(says), "{text}");
    }
}

/// A hydrate that is made has no molar mass before its waters are found, and `x H2O` is not one molecule.
#[test]
fn what_waits_for_x_is_predicted_by_no_key() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("lab.toml");
    let lab = r#"
id = "made"
title = "A hydrate made"
equation = "MgSO4(s) + x H2O(l) -> MgSO4·xH2O(s)"
[substance.salt]
formula = "MgSO4"
before = "dish_salt - dish"
[substance.water]
formula = "H2O"
before = "excess"
[substance.crystals]
formula = "MgSO4·xH2O"
after = "dish_crystals - dish"
[instrument.balance]
unit = "g"
readability = "0.001 g"
[day.1]
title = "All"
readings = [
  { name = "dish", label = "dish" },
  { name = "dish_salt", label = "dish with salt" },
  { name = "dish_crystals", label = "dish with crystals" },
]
[plan]
salt = "1.204 g"
"#;
    fs::write(&path, lab).expect("a file");
    let key = start(
        path.to_str().expect("a path"),
        &["--sheet", "prelab", "--key"],
    );
    assert!(!key.contains("change / mol"), "{key}");
    assert!(!key.contains("120.36"), "{key}");
}

/// A day without a balance asks for the number of whatever it reads, and a day without readings for none.
#[test]
fn each_day_asks_for_the_number_of_the_instrument_it_reads() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("lab.toml");
    let lab = "id = \"soda\"\ntitle = \"Soda\"\nequation = \"Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2\"\n\
        [substance.soda]\nformula = \"Na2CO3\"\nbefore = \"dish\"\n[substance.acid]\nformula = \"HCl\"\nbefore = \"titre * acid_molarity\"\n\
        [given]\nacid_molarity = \"1.00 mol/L\"\n[instrument.balance]\nunit = \"g\"\nreadability = \"0.01 g\"\n\
        [instrument.burette]\nunit = \"mL\"\ntolerance = \"0.05 mL\"\n\
        [day.1]\ntitle = \"Titrate\"\nreadings = [{ name = \"titre\", label = \"acid\", unit = \"mL\", instrument = \"burette\" }]\n\
        [day.2]\ntitle = \"Weigh\"\nreadings = [{ name = \"dish\", label = \"dish\" }]\n[day.3]\ntitle = \"Wait\"\nreadings = []\n";
    fs::write(&path, lab).expect("a file");
    let sheet = start(path.to_str().expect("UTF-8"), &["--sheet", "bench"]);
    let dates: Vec<&str> = sheet
        .lines()
        .filter(|line| line.starts_with("Date"))
        .collect();
    let [titrated, weighed, waited] = dates[..] else {
        panic!("{sheet}");
    };
    assert!(titrated.contains("Instrument number") && !titrated.contains("Balance"));
    assert!(weighed.contains("Balance number") && !weighed.contains("Instrument"));
    assert!(!waited.contains("umber"), "{waited}");
}

#[test]
fn the_effect_of_a_cause_is_asked_of_the_labs_own_result() {
    for (lab, note) in [
        (
            "zinc-copper-sulfate",
            "# higher or lower: how the percent yield came out\n",
        ),
        ("soda-in-mixture", "# higher or lower: how this came out: "),
    ] {
        let form = start(lab, &[]);
        assert!(form.contains(note), "{lab}: {form}");
        assert_eq!(
            form.contains("percent yield came out"),
            lab == "zinc-copper-sulfate"
        );
    }
}
