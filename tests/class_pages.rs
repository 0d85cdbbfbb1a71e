//! What the results of a class say: groups left out, what a given common to all can do, few groups, and numbers for spreadsheets.

use std::fs;
use std::process::Command;

use tempfile::TempDir;

/// A base in solution, some of it titrated back, and a share of calcium with an accepted value.
const LAB: &str = r#"
id = "base-left"
title = "Base left over"
equation = "CaCl2 + NaOH -> Ca(OH)2 + NaCl"
[substance.salt]
formula = "CaCl2"
before = "salt_mass"
[substance.lye]
formula = "NaOH"
before = "lye_volume * lye_molarity"
after = "titre * acid_molarity"
[substance.solid]
formula = "Ca(OH)2"
after = "solid_mass"
yield = true
[given]
lye_molarity = "2.00 ± LYE mol/L"
acid_molarity = "1.0000 ± 0.0001 mol/L"
[instrument.balance]
unit = "g"
readability = "0.001 g"
[instrument.burette]
unit = "mL"
tolerance = "BURETTE mL"
[day.1]
title = "All of it"
readings = [
  { name = "salt_mass", label = "salt" },
  { name = "lye_volume", label = "lye", unit = "mL", instrument = "burette" },
  { name = "titre", label = "acid", unit = "mL", instrument = "burette" },
  { name = "solid_mass", label = "solid" },
]
[find.calcium]
title = "percent calcium in the salt"
value = "100 * collected_solid * M(Ca) / M(Ca(OH)2) / salt_mass"
expected = "100 * M(Ca) / M(CaCl2)"
unit = "%"
question = "percent calcium"
[ask]
usual = true
[policy]
RULE
[share]
OUT
"#;

/// A class of so many groups of this lab: 1.110 g of CaCl2 (10.002 mmol) take 20.004 mmol of 40 mmol, and each titrates `less` mL
/// below the 19.996 mL that should be left, two hundredths apart.
struct Class {
    home: TempDir,
}

impl Class {
    fn of(groups: u32, less: f64, changes: &[(&str, &str)]) -> Self {
        let home = TempDir::new().expect("a folder");
        let mut lab = LAB.to_owned();
        let usual = [
            ("LYE", "0.02"),
            ("BURETTE", "0.05"),
            ("RULE", ""),
            ("OUT", ""),
        ];
        for (from, to) in changes.iter().chain(&usual) {
            lab = lab.replace(from, to);
        }
        fs::write(home.path().join("lab.toml"), lab).expect("a file");
        for group in 1..=groups {
            let step = f64::from(group);
            let data = format!(
                "[who]\nlab = \"base-left\"\ngroup = \"4-{group:02}\"\n[day.1]\nsalt_mass = \"1.110 g\"\nlye_volume = \"20.00 mL\"\n\
                 titre = \"{:.2} mL\"\nsolid_mass = \"{:.3} g\"\n",
                19.99 - less - 0.02 * step,
                0.700 + 0.007 * step
            );
            fs::write(home.path().join(format!("4-{group:02}.toml")), data).expect("a file");
        }
        Self { home }
    }

    fn run(&self, words: &[&str]) -> String {
        let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args(words)
            .current_dir(self.home.path())
            .output()
            .expect("the program runs");
        assert!(
            output.status.code() < Some(2),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    /// A page of the class.
    fn page(&self, name: &str) -> String {
        self.run(&["share", ".", "--out", "site"]);
        fs::read_to_string(self.home.path().join("site").join(name)).expect(name)
    }
}

/// What the class says together.
fn together(page: &str) -> &str {
    let (_, from) = page
        .split_once("## What the class says together")
        .unwrap_or(("", ""));
    from.split("\n## ").next().unwrap_or_default()
}

/// The paragraph about what is left.
fn about_left(page: &str) -> &str {
    let mut lines = together(page).lines();
    lines
        .find(|line| line.contains("left, found minus predicted"))
        .unwrap_or_else(|| panic!("{page}"))
}

#[test]
fn a_given_that_is_the_same_for_all_may_account_for_a_class_that_leans() {
    // The molarity's limits of 1 % are 0.4 mmol of the lye, 2 × 0.4 / √3 = 0.46 mmol twice the standard uncertainty.
    let page = Class::of(8, 0.1, &[]).page("results.md");
    let said = about_left(&page);
    for part in [
        "8 of 8 groups lie below",
        "above all lye molarity (2.00\u{a0}mol/L), may move everyone together by 0.00046\u{a0}mol (twice its standard uncertainty)",
        "The median is off by −0.000",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert!(!said.contains("side reaction"), "{said}");
    // Where limits add, it is 0.4 mmol and the atomic weights and the acid with it.
    let page = Class::of(8, 0.1, &[("RULE", "uncertainty = \"worst-case\"")]).page("results.md");
    assert!(about_left(&page).contains("(its limits added)"), "{page}");
}

#[test]
fn what_no_given_can_do_has_moved_everyone_unless_each_group_is_within_its_own_readings() {
    let page = Class::of(8, 2.0, &[("LYE", "0.002")]).page("results.md");
    let said = about_left(&page);
    assert!(
        said.contains("Something moved everyone the same way."),
        "{said}"
    );
    assert!(!said.contains("side reaction"), "{said}");
    // A burette of 0.5 mL: 2 × 0.5 √5 / √3 mL of acid, 1.3 mmol, is more than the 0.6 that anybody is off.
    let page = Class::of(8, 0.4, &[("LYE", "0.002"), ("BURETTE", "0.5")]).page("results.md");
    let said = about_left(&page);
    assert!(
        said.contains("Yet 8 of the 8 are within what their own readings may be off"),
        "{said}"
    );
    assert!(!said.contains("Something moved"), "{said}");
}

/// Silver chloride on paper, too heavy in each of seven groups, with the answer of all to whether it was damp.
fn silver(damp: &str) -> String {
    let home = TempDir::new().expect("a folder");
    let lab = r#"
id = "silver"
title = "Silver chloride"
equation = "AgNO3(aq) + NaCl(aq) -> AgCl(s) + NaNO3(aq)"
[substance.silver]
formula = "AgNO3"
before = "silver_volume * silver_molarity"
[substance.salt]
formula = "NaCl"
before = "salt_mass"
[substance.chloride]
formula = "AgCl"
name = "silver chloride"
after = "paper_full - paper"
yield = true
[given]
silver_molarity = "0.1000 mol/L"
[instrument.balance]
unit = "g"
readability = "0.001 g"
[instrument.pipette]
unit = "mL"
tolerance = "0.05 mL"
[day.1]
title = "All"
readings = [
  { name = "silver_volume", label = "silver nitrate solution", unit = "mL" },
  { name = "salt_mass", label = "salt" },
  { name = "paper", label = "filter paper, dry" },
  { name = "paper_full", label = "the same paper with the solid" },
]
[signs]
use = ["product_still_damp"]
"#;
    fs::write(home.path().join("lab.toml"), lab).expect("a file");
    for group in 1..=7 {
        let data = format!(
            "[who]\nlab = \"silver\"\ngroup = \"4-0{group}\"\n[day.1]\nsilver_volume = \"25.00 mL\"\nsalt_mass = \"0.200 g\"\npaper = \"0.808 g\"\n\
             paper_full = \"{:.3} g\"\n[signs]\nproduct_still_damp = \"{damp}\"\n",
            1.180 + 0.002 * f64::from(group)
        );
        fs::write(home.path().join(format!("4-0{group}.toml")), data).expect("a file");
    }
    let class = Class { home };
    together(&class.page("results.md")).to_owned()
}

#[test]
fn a_cause_that_the_signs_of_a_class_speak_against_is_not_named() {
    let names = "One cause that most groups' reports list";
    let damp = "The paper and the silver chloride on it were not dry";
    let said = silver("yes");
    assert!(said.contains(names) && said.contains(damp), "{said}");
    let said = silver("no");
    assert!(said.contains("7 of 7 groups lie above"), "{said}");
    assert!(
        !said.contains("not dry") && !said.contains("damp"),
        "{said}"
    );
}

#[test]
fn a_group_that_is_left_out_is_not_counted_in_what_the_class_says() {
    let out = ("OUT", "leave_out = { \"4-02\" = \"wet\" }");
    let page = Class::of(8, 0.1, &[out]).page("results.md");
    let said = about_left(&page);
    assert!(said.contains("7 of 7 groups lie below"), "{said}");
    assert!(
        said.contains("1 group that is left out is not counted."),
        "{said}"
    );
    let row = |words: &str| {
        let mut rows = page.lines();
        rows.find(|line| line.starts_with("| percent yield") && line.contains(words))
            .map(|row| row.split('|').nth(2).unwrap_or_default().trim().to_owned())
    };
    assert_eq!(row("").as_deref(), Some("7"));
    assert_eq!(row("those left out counted too").as_deref(), Some("8"));
}

#[test]
fn of_three_groups_no_value_is_printed_and_none_is_far() {
    let class = Class::of(3, 0.1, &[]);
    for name in ["results.md", "results.html"] {
        let page = class.page(name);
        for single in ["Values:", "ar from the others", "lowest", "median,"] {
            assert!(!page.contains(single), "{single}: {page}");
        }
        // Their percent yields: 0.707, 0.714 and 0.721 g of 0.7410 g.
        for value in ["95.4", "97.3"] {
            assert!(!page.contains(value), "{value}: {page}");
        }
        // 0.707, 0.714 and 0.721 g of solid; the one in the middle is their mean as well.
        for value in ["0.707", "0.714", "0.721"] {
            let alone = page
                .split(value)
                .skip(1)
                .any(|rest| !rest.starts_with(|c: char| c.is_ascii_digit()));
            assert!(value == "0.714" || !alone, "{value}: {page}");
        }
    }
    // Of two groups not even a mean, which would tell each of them the other's.
    let page = Class::of(2, 0.1, &[]).page("results.md");
    assert!(
        !page.contains("## Statistics") && !page.contains("```chart"),
        "{page}"
    );
}

#[test]
fn values_share_a_last_decimal_that_shows_their_spread_and_the_accepted_value_has_a_line() {
    let page = Class::of(6, 0.1, &[]).page("results.md");
    let values = |heading: &str| -> Vec<String> {
        let (_, from) = page.split_once(&format!("### {heading}")).expect(heading);
        let line = from
            .lines()
            .find(|line| line.starts_with("Values: "))
            .expect("values");
        let line = line.trim_start_matches("Values: ");
        let line = line
            .split_once("\u{a0}/")
            .map_or(line, |(values, _)| values)
            .split(" /")
            .next()
            .expect("text");
        line.split(", ").map(str::to_owned).collect()
    };
    for heading in [
        "Sodium hydroxide left, found minus predicted",
        "Percent yield of calcium hydroxide",
        "Percent calcium in the salt",
    ] {
        let values = values(heading);
        assert_eq!(values.len(), 6, "{values:?}");
        let places = |text: &String| text.split_once('.').map_or(0, |(_, places)| places.len());
        assert!(
            values
                .iter()
                .all(|value| places(value) == places(&values[0])),
            "{values:?}"
        );
        let mut different = values.clone();
        different.dedup();
        assert_eq!(different, values);
    }
    // 100 × 40.078 / 110.98.
    let (_, from) = page
        .split_once("### Percent calcium in the salt")
        .expect("the plot");
    assert!(
        from.contains("Marked by a line: accepted value at 36.1"),
        "{from}"
    );
    let hidden = Class::of(6, 0.1, &[("RULE", "show_working = \"teacher\"")]).page("results.md");
    assert!(!hidden.contains("accepted value"), "{hidden}");
}

#[test]
fn numbers_for_spreadsheets_have_no_powers_of_ten() {
    let class = Class::of(6, 0.0, &[]);
    let shared = class.page("results.csv");
    for text in [
        shared.clone(),
        class.run(&["check", ".", "--csv", "--key"]),
        class.run(&["check", ".", "--groups-csv", "--key"]),
    ] {
        assert!(!text.contains("×10") && !text.contains('−'), "{text}");
    }
    let mut reader = csv::Reader::from_reader(shared.as_bytes());
    let heads = reader.headers().expect("headings").clone();
    let place = heads
        .iter()
        .position(|head| head == "measured_left_lye_minus_predicted")
        .expect("the column");
    let cells = reader
        .records()
        .map(|row| row.expect("a row")[place].to_owned());
    let numbers: Vec<f64> = cells.map(|cell| cell.parse().expect("a number")).collect();
    assert!(
        numbers.len() == 6 && numbers.iter().any(|number| number.abs() < 1e-4),
        "{numbers:?}"
    );
}

#[test]
fn the_key_of_a_group_stands_behind_its_counts_and_is_not_imported() {
    let class = Class::of(5, 0.0, &[]);
    let without = class.run(&["check", ".", "--groups-csv"]);
    assert!(!without.contains("_expected"), "{without}");
    let with = class.run(&["check", ".", "--groups-csv", "--key"]);
    let mut reader = csv::Reader::from_reader(with.as_bytes());
    let heads = reader.headers().expect("headings").clone();
    let place = |name: &str| heads.iter().position(|head| head == name).expect(name);
    let row = reader.records().next().expect("a row").expect("a row");
    assert_eq!(&row[place("moles_salt_expected")], "0.01000 mol");
    assert_eq!(&row[place("limiting_expected")], "calcium chloride");
    assert!(place("out_of") < place("moles_salt_expected"));
    fs::write(class.home.path().join("groups.csv"), &with).expect("a file");
    class.run(&[
        "import",
        "groups.csv",
        "--lab",
        "lab.toml",
        "--out",
        "again",
    ]);
    let again = fs::read_to_string(class.home.path().join("again/4-01.toml")).expect("imported");
    assert!(
        !again.contains("_expected") && again.contains("\"1.110 g\""),
        "{again}"
    );
}

/// The pages of a class show what its readings give; a teacher may not want that before everybody has answered.
#[test]
fn groups_with_questions_still_to_answer_are_told_when_pages_are_shared() {
    let home = TempDir::new().expect("a folder");
    let share = |folder: &str| {
        let out = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args(["share", folder, "--out"])
            .arg(home.path().join("site"))
            .output()
            .expect("the program was built for this test");
        assert_eq!(out.status.code(), Some(0), "{out:?}");
        String::from_utf8(out.stderr).expect("text")
    };
    assert_eq!(
        share("samples/marking").trim_end(),
        "not every question is answered by 5-10, 5-13; the shared pages show what their readings give all the same"
    );
    let all = home.path().join("answered");
    fs::create_dir(&all).expect("made");
    for code in ["5-01", "5-04", "5-06", "5-08", "5-12"] {
        let name = format!("{code}.toml");
        let from = std::path::Path::new("samples/marking").join(&name);
        fs::copy(from, all.join(&name)).expect("copied");
    }
    assert_eq!(share(&all.to_string_lossy()), "");
}
