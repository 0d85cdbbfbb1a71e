//! Numbers on the page that must agree with each other, in corners of the numbers: purities, exact values, zeros, policies.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/program.rs"]
mod program;

use std::fs;

use program::gramleaf;

/// A lab of the built-in ones, changed, with a group's readings.
struct Page {
    folder: tempfile::TempDir,
}

impl Page {
    fn of(lab: &str, change: impl Fn(String) -> String, readings: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = |name: &str| folder.path().join(name);
        gramleaf(folder.path(), &["labs", lab, "--out", "lab.toml"]);
        let description = fs::read_to_string(file("lab.toml")).unwrap();
        fs::write(file("lab.toml"), change(description)).unwrap();
        let data = format!("[who]\nlab = \"{lab}\"\ngroup = \"1-01\"\n{readings}");
        fs::write(file("data.toml"), data).unwrap();
        Self { folder }
    }

    /// The report with all working, blanks before units plain.
    fn report(&self) -> String {
        self.by(&[])
    }

    /// The same with the uncertainty budget in full.
    fn formal(&self) -> String {
        self.by(&["--template", "formal"])
    }

    fn by(&self, more: &[&str]) -> String {
        let command = [&["draft", "data.toml", "--key", "--replace"], more].concat();
        let said = gramleaf(self.folder.path(), &command);
        let page = fs::read_to_string(self.folder.path().join("data.md"));
        page.unwrap_or_else(|why| panic!("{why}: {said}"))
            .replace('\u{a0}', " ")
    }

    /// What `check` says, as data or in words.
    fn check(&self, more: &[&str]) -> String {
        let command = [&["check", "data.toml", "--key"], more].concat();
        gramleaf(self.folder.path(), &command)
    }
}

/// The lines of a page that hold all of these.
fn lines<'p>(page: &'p str, wanted: &[&str]) -> Vec<&'p str> {
    let holds = |line: &&str| wanted.iter().all(|part| line.contains(part));
    page.lines().filter(holds).collect()
}

/// The cells of a row of a table.
fn cells(row: &str) -> Vec<&str> {
    row.trim_matches('|').split('|').map(str::trim).collect()
}

fn unchanged(lab: String) -> String {
    lab
}

const FOIL: &str = r#"
[day.1]
dish_empty = "1.62 g"
dish_with_salt = "5.71 g"
foil_before = "1.27 g"
beaker_empty = "98.46 g"
water_added = "50 mL"
[day.3]
beaker_with_copper = ["99.98 g", "99.98 g"]
foil_dish_empty = "1.95 g"
foil_dish_with_foil = "2.74 g"
"#;

/// A purity beside the formula of one substance.
fn purity(of: &str, purity: &str) -> impl Fn(String) -> String {
    let at = format!("= \"{of}\"\n");
    let with = format!("{at}purity = \"{purity}\"\n");
    move |lab| {
        assert!(lab.contains(&at), "{lab}");
        lab.replacen(&at, &with, 1)
    }
}

/// 0.79 g of foil of 90.0 % are 26.35 mmol Al: 0.79 × 0.900 ÷ 26.982.
#[test]
fn a_mass_found_in_moles_is_of_the_substance_itself() {
    let page = Page::of("aluminium-copper-chloride", purity("Al", "90.0 %"), FOIL).report();
    assert_eq!(lines(&page, &["26.37", "after, predicted"]).len(), 1);
    assert_eq!(lines(&page, &["26.35", "after, found"]).len(), 1);
}

/// 50.0 mL × 2.00 mol/L × 80.0 %.
#[test]
fn a_purity_multiplies_moles_that_no_mass_is_turned_into() {
    let readings = r#"
[day.1]
acid_volume = "50.0 mL"
flask_and_acid = "172.46 g"
marble = "3.00 g"
flask_final = "174.20 g"
"#;
    let lab = |lab: String| {
        let before = "before  = \"acid_volume * acid_molarity\"";
        assert!(lab.contains(before), "{lab}");
        lab.replace(before, &format!("{before}\npurity = \"80.0 %\""))
    };
    let page = Page::of("marble-and-acid", lab, readings).report();
    let worked = "= 50.0 mL × (1 L / 1000 mL) × (2.00 mol / 1 L) × (80.0 % / 100 %)";
    assert_eq!(lines(&page, &[worked]).len(), 1, "{page}");
    assert!(page.contains("= 0.0800 mol HCl"), "{page}");
}

#[test]
fn a_purity_that_no_moles_are_worked_with_is_told() {
    let lab = |lab: String| {
        let lab = purity("Cu", "99 %")(lab);
        lab.replace(
            "after   = \"copper_back\"",
            "after = \"copper_back / M(Cu)\"",
        )
    };
    let page = Page::of("copper-cycle", lab, "[day.1]\nwire = \"0.412 g\"\n");
    let said = page.check(&["--lab", "lab.toml"]);
    assert!(
        said.contains("the purity of copper changes nothing"),
        "{said}"
    );
    let used = Page::of("copper-cycle", purity("Cu", "99 %"), "");
    let said = used.check(&["--lab", "lab.toml"]);
    assert!(!said.contains("changes nothing"), "{said}");
}

/// 4.00 g of 90 % zinc of which 2.30 g come back: 1.70 g were used, however they are written; divided by M(Zn) the 2.30 g would be
/// pure zinc, which stands for 2.56 g of what was weighed.
#[test]
fn a_mass_divided_by_the_own_molar_mass_does_not_leave_the_purity_out() {
    let said = |after: &str| {
        let lab = |lab: String| {
            let weighed = "\"zinc_dish_with_zinc - zinc_dish_empty\"";
            assert!(lab.contains(weighed), "{lab}");
            purity("Zn", "90 %")(lab.replace(weighed, &format!("\"{after}\"")))
                + "[find.found]\ntitle = \"moles found\"\nvalue = \"zinc_dish_with_zinc / M(Zn)\"\n"
        };
        Page::of("zinc-copper-sulfate", lab, "").check(&["--lab", "lab.toml"])
    };
    let divided = "`after` divides by the molar mass of zinc itself, and so leaves its purity out";
    for after in [
        "(zinc_dish_with_zinc - zinc_dish_empty) / M(Zn)",
        "(zinc_dish_with_zinc - zinc_dish_empty) / molar_mass_zinc",
        "found",
    ] {
        let said = said(after);
        assert!(said.contains(divided), "{after}: {said}");
        assert!(said.contains("let it come out in g"), "{after}: {said}");
    }
    let pure = said("0.1 * found * M(Zn)");
    assert!(pure.contains("`after` is a mass of pure zinc"), "{pure}");
    for after in [
        "zinc_dish_with_zinc - zinc_dish_empty",
        "zinc_dish_with_zinc * M(Zn) / M(Zn)",
    ] {
        let said = said(after);
        assert!(!said.contains("pur"), "{after}: {said}");
    }
}

#[test]
fn a_purity_cannot_count_before_the_waters_are_known() {
    let lab = purity("MgSO4·xH2O", "98 %");
    let said = Page::of("unknown-hydrate", lab, "").check(&["--lab", "lab.toml"]);
    assert!(said.contains("before x is known no mass"), "{said}");
    assert!(said.contains("take this line out"), "{said}");
    assert!(!said.contains("come out in g"), "{said}");
}

const CRYSTALS: &str = r#"
[day.1]
crucible = "30.00 g"
crucible_with_crystals = "34.00 g"
crucible_heated = ["32.56 g", "32.56 g"]
"#;

/// 1.44 g of water in 4.00 g of crystals are 36.0 %: the factor 100 is the description's own, and without it the quotient is no percentage.
#[test]
fn a_quotient_shown_in_percent_has_its_factor_100() {
    let value = "100 * (crucible_with_crystals - crucible_heated)";
    let expected = "\"100 * 5 * M(H2O) / M(CuSO4·5H2O)\"";
    let said = |of_value: &str, of_expected: &str| {
        let lab = |lab: String| {
            assert!(lab.contains(value) && lab.contains(expected), "{lab}");
            lab.replace(value, of_value).replace(expected, of_expected)
        };
        let page = Page::of("water-in-hydrate", lab, CRYSTALS);
        page.check(&["--lab", "lab.toml"]).replace('\u{a0}', " ")
    };
    let right = said(value, expected);
    assert!(right.contains("36.0 %"), "{right}");
    for (of_value, of_expected) in [
        ("(crucible_with_crystals - crucible_heated)", expected),
        (
            "10 * M(H2O) / M(H2O) * (crucible_with_crystals - crucible_heated)",
            expected,
        ),
        (value, "\"5 * M(H2O) / M(CuSO4·5H2O)\""),
    ] {
        let said = said(of_value, of_expected);
        let told = "comes out as a part of 1, but `unit` says %";
        assert!(said.contains(told), "{of_value}, {of_expected}: {said}");
        assert!(said.contains("write `100 * (…)`"), "{said}");
    }
    for of_value in [
        "50 * 2 * (crucible_with_crystals - crucible_heated)",
        "(crucible_with_crystals - crucible_heated) * 100",
    ] {
        let said = said(of_value, "\"36 %\"");
        assert!(said.contains("36.0 %"), "{of_value}: {said}");
        assert!(said.contains("36 %\n"), "{of_value}: {said}");
    }
    // Beside something with a unit a percentage is its part.
    let said = said(
        "100 * 50 % * (crucible_with_crystals - crucible_heated)",
        "\"18 %\"",
    );
    assert!(said.contains("18.0 %"), "{said}");
}

#[test]
fn a_percentage_is_not_held_against_a_plain_number() {
    let lab = |lab: String| {
        let expected = "expected = \"5\"";
        assert!(lab.contains(expected), "{lab}");
        lab.replace(expected, "expected = \"500 %\"")
    };
    let said = Page::of("water-in-hydrate", lab, CRYSTALS).check(&["--lab", "lab.toml"]);
    let told = "`expected` is a percentage, `value` a plain number";
    assert!(said.contains(told), "{said}");
}

/// 0.45 g of copper from a wire of 0.41 g: two figures of 109.756 % are 110 %, never a power of ten.
#[test]
fn a_percentage_has_no_power_of_ten() {
    let readings = CYCLE
        .replace("0.412 g", "0.45 g")
        .replacen("0.45 g", "0.41 g", 1)
        + "[answers]\npercent_yield = \"110 %\"\n";
    let page = Page::of("copper-cycle", unchanged, &readings);
    let said = page.check(&["--lab", "lab.toml"]).replace('\u{a0}', " ");
    assert!(said.contains("110 %: matches"), "{said}");
    for text in [page.report(), page.formal(), page.check(&["--csv"]), said] {
        let text = text.replace('\u{a0}', " ");
        assert!(text.contains("110 %"), "{text}");
        for line in text.lines().filter(|line| line.contains('%')) {
            assert!(!line.contains("×10²"), "{line}");
        }
    }
    let plan = gramleaf(
        page.folder.path(),
        &["plan", "copper-cycle", "--spare", "150%"],
    );
    assert!(plan.replace('\u{a0}', " ").contains("150 %"), "{plan}");
}

const CYCLE: &str = r#"
[day.1]
wire = "0.412 g"
[day.4]
copper_back = ["0.412 g", "0.412 g"]
[cause.1]
what = "product_still_damp"
effect = "higher"
[cause.2]
what = "solid_poured_away"
effect = "lower"
"#;

/// What is exactly as it should be lies on neither side, wherever that is said.
#[test]
fn exactly_a_hundred_percent_is_neither_above_nor_below() {
    let page = Page::of("copper-cycle", unchanged, CYCLE).report();
    for wanted in [
        "Percent yield of copper: exactly 100 %. Nothing is off.",
        "copper found again: exactly the accepted value. Nothing is off.",
        "higher, but yours is exactly 100 %",
        "lower, but yours is exactly 100 %",
    ] {
        assert_eq!(lines(&page, &[wanted]).len(), 1, "{wanted}: {page}");
    }
    assert!(!page.contains("above 100 %") && !page.contains("below 100 %"));
    assert!(!page.contains("above the accepted") && !page.contains("below the accepted"));
}

/// 0.01 g of salicylic acid and no anhydride: nothing reacts, and all that was taken is left.
#[test]
fn where_nothing_reacts_nothing_changes() {
    let readings = r#"
[day.1]
acid = "0.01 g"
anhydride_volume = "0.0 mL"
"#;
    let page = Page::of("aspirin", unchanged, readings).report();
    for (row, wanted) in [
        ("before / mol", ["7.2×10⁻⁵", "0", "0", "0"]),
        ("change / mol", ["0", "0", "0", "0"]),
        ("after / mol", ["7.2×10⁻⁵", "0 (limiting)", "0", "0"]),
        ("by the equation", ["0.01 g left", "0 g left", "0 g", "–"]),
    ] {
        let line = lines(&page, &["|", row])[0];
        assert_eq!(cells(line)[1..5], wanted, "{row}: {line}");
    }
}

/// 6.00 g of crystals give 1.527 g of copper at most, 6.02 g give 1.532 g: 1.53 g is off to neither side as far as is shown.
#[test]
fn a_difference_that_rounds_to_nothing_has_no_sign() {
    let readings = |salt: &str, copper: &str| {
        format!(
            r#"
[day.1]
dish_empty = "2.45 g"
dish_with_salt = "{salt}"
zinc_before = "4.36 g"
beaker_empty = "104.18 g"
[day.3]
beaker_with_copper = ["{copper}"]
"#
        )
    };
    for (salt, copper, off) in [
        ("8.45 g", "105.71 g", "0.00 g"),
        ("8.47 g", "105.71 g", "0.00 g"),
        ("8.47 g", "105.72 g", "+0.01 g"),
    ] {
        let page = Page::of("zinc-copper-sulfate", unchanged, &readings(salt, copper)).report();
        let found = cells(lines(&page, &["| copper collected"])[0]);
        assert_eq!(found[3], off, "{found:?}");
    }
}

/// Two readings of one figure each: a percentage to tens, of which nothing is left.
#[test]
fn nothing_in_hundreds_is_nothing() {
    let readings = r#"
[day.1]
wire = "0.004 g"
[day.4]
copper_back = ["0.004 g"]
"#;
    let page = Page::of("copper-cycle", unchanged, readings).report();
    assert!(!page.contains(" 0×10"), "{page}");
    assert_eq!(
        lines(&page, &["| copper found again", "| 0 percentage points |"]).len(),
        1
    );
}

/// All but nothing is collected, or nothing at all: the amount that would explain it is what is missing.
#[test]
fn a_reaction_that_hardly_went_is_told_as_it_is() {
    for (crystals, missing) in [("0.01 g", "99.62 %"), ("0.00 g", "100.00 %")] {
        let readings = format!(
            r#"
[day.1]
acid = "2.02 g"
anhydride_volume = "5.0 mL"
[day.2]
crystals = ["{crystals}", "{crystals}"]
"#
        );
        let page = Page::of("aspirin", unchanged, &readings).report();
        let wanted = format!("It would take {missing} (±");
        assert_eq!(
            lines(&page, &["not at its end", &wanted]).len(),
            1,
            "{page}"
        );
    }
}

/// What runs out is needed whole: a purity of two figures that cancels neither limits that nor makes it uncertain.
#[test]
fn what_cancels_limits_no_figures() {
    let lab = |lab: String| {
        let lab = purity("CuCl2", "98 %")(lab);
        lab.replacen("[ask]\n", "[ask]\nneeded_salt = true\n", 1)
    };
    let page = Page::of("aluminium-copper-chloride", lab, FOIL).formal();
    assert_eq!(
        lines(&page, &["by the equation", "0.00 g left"]).len(),
        1,
        "{page}"
    );
    assert_eq!(
        lines(&page, &["m(CuCl₂·2H₂O, needed) = m(CuCl₂·2H₂O)"]).len(),
        1,
        "{page}"
    );
    let page = Page::of("aluminium-copper-chloride", purity("CuCl2", "98 %"), FOIL);
    let key: Vec<serde_json::Value> = serde_json::from_str(&page.check(&["--json"])).unwrap();
    let steps = key[0]["steps"].as_array().unwrap();
    let step = |id: &str| steps.iter().find(|step| step["id"] == id).unwrap();
    assert_eq!(step("needed_salt")["shown"], "4.09 g");
    assert_eq!(step("expected_left_salt")["shown"], "0.00 g");
    assert_eq!(step("expected_left_salt")["standard_uncertainty"], 0.0);
}

/// The atomic weight of copper turns the wire into moles and those into copper again.
#[test]
fn what_cancels_is_no_source_of_uncertainty() {
    let page = Page::of("copper-cycle", unchanged, CYCLE).formal();
    assert_eq!(
        lines(&page, &["| copper wire at the start", "below 1"]).len(),
        0
    );
    assert_eq!(
        lines(&page, &["| atomic weight of copper"]).len(),
        0,
        "{page}"
    );
    assert!(
        lines(&page, &["| copper wire at the start"]).len() > 1,
        "{page}"
    );
}

/// A wire of copper becomes copper sulfate, and copper again: the substance changes where it is said so.
#[test]
fn no_substance_changes_unseen() {
    let page = Page::of("copper-cycle", unchanged, CYCLE).report();
    let line = "= 0.412 g × (1 mol Cu / 63.546 g Cu) × (1 mol CuSO₄ / 1 mol Cu)";
    assert_eq!(lines(&page, &[line]).len(), 1, "{page}");
    assert_eq!(
        lines(&page, &["given", "1 mol CuSO₄ for 1 mol Cu"]).len(),
        1
    );
    // Where the moles are those of the answer, nothing is to be changed.
    let page = Page::of("aluminium-copper-chloride", unchanged, FOIL).report();
    assert!(!page.contains("(1 mol Al / 1 mol Al)"));
    assert!(!page.contains("(1 mol CuCl₂ / 1 mol CuCl₂)"));
}

/// The first number of a text, and the place of its last digit.
fn number(text: &str) -> Option<(f64, i32)> {
    let first = text
        .split(' ')
        .find(|part| part.starts_with(|c: char| c.is_ascii_digit()))?;
    let plain = first.replace(',', ".");
    let decimals = plain.split_once('.').map_or(0, |(_, rest)| rest.len());
    Some((plain.parse().ok()?, i32::try_from(decimals).ok()?))
}

/// Quotients of two numbers on the pages of all samples: worked again from what is printed, they come to what is printed next, with its
/// guard digit.
#[test]
fn quotients_follow_from_the_numbers_on_their_line() {
    let samples = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let out = tempfile::tempdir().unwrap();
    let target = out.path().to_str().unwrap();
    gramleaf(&samples, &["draft", ".", "--key", "--out", target]);
    let mut followed = 0;
    for folder in fs::read_dir(out.path())
        .unwrap()
        .map(|entry| entry.unwrap().path())
    {
        let files = fs::read_dir(&folder).into_iter().flatten();
        for file in files.map(|entry| entry.unwrap().path()) {
            if file.extension().is_none_or(|end| end != "md") {
                continue;
            }
            let page = fs::read_to_string(&file).unwrap().replace('\u{a0}', " ");
            for (line, next) in page.lines().zip(page.lines().skip(1)) {
                let Some((above, below)) = line
                    .trim_start()
                    .strip_prefix("= ")
                    .and_then(|it| it.split_once(" / "))
                else {
                    continue;
                };
                let percent = below.ends_with("× 100 %");
                if line.contains(['(', '→']) || line.contains('×') != percent {
                    continue;
                }
                // In the comparison of reactants the share stands on the line itself.
                let (below, next) = below.split_once(" = ").unwrap_or((below, next));
                let result = next.trim_start().trim_start_matches("= ");
                let result = result.split_once('→').map_or(result, |(first, _)| first);
                let (Some((a, _)), Some((b, _)), Some((shown, places))) =
                    (number(above), number(below), number(result))
                else {
                    continue;
                };
                let times = if below.ends_with("× 100 %") {
                    100.0
                } else {
                    1.0
                };
                let off = (a / b * times - shown).abs();
                followed += 1;
                assert!(
                    off <= 0.5001 * 10.0_f64.powi(-places),
                    "{}: {line}: {result}",
                    file.display()
                );
            }
        }
    }
    assert!(followed > 40, "{followed}");
}

/// Every reading to 0.0001 g on what is described as a balance of 0.01 g: its display shows that step.
#[test]
fn a_finer_balance_than_described_is_taken_as_it_was_read() {
    let table = |change: fn(&str) -> String| {
        let page = Page::of("aluminium-copper-chloride", unchanged, &change(FOIL)).report();
        let rows = lines(&page, &["| weighing dish", " g |"]);
        cells(rows[0])[2].to_owned()
    };
    let finer = |readings: &str| readings.replace(" g\"", "37 g\"");
    assert_eq!(table(str::to_owned), "0.005 g");
    assert_eq!(table(finer), "5×10⁻⁵ g");
    // Zeros behind what the display shows are none that it showed, and one finer reading among others is told instead.
    assert_eq!(
        table(|readings| readings.replace(" g\"", "00 g\"")),
        "0.005 g"
    );
    assert_eq!(
        table(|readings| readings.replacen(" g\"", "37 g\"", 1)),
        "0.005 g"
    );
    let page = Page::of("aluminium-copper-chloride", unchanged, &finer(FOIL)).report();
    let row = cells(lines(&page, &["| copper collected"])[0]).join(" ");
    assert!(row.ends_with("4×10⁻⁵ g"), "{row}");
}

/// Bars and what is said of them follow the lab's rule.
#[test]
fn captions_speak_of_the_bars_that_are_drawn() {
    let by = |rule: &str| {
        let rule = format!("[policy]\nuncertainty = \"{rule}\"");
        let lab = |lab: String| lab.replacen("[policy]", &rule, 1);
        Page::of("aluminium-copper-chloride", lab, FOIL).report()
    };
    let figures = |page: &str, words: &str| lines(page, &["**Figure", words]).len();
    let (standard, worst, none) = (by("standard"), by("worst-case"), by("none"));
    assert_eq!(figures(&standard, "one standard uncertainty either way"), 2);
    assert_eq!(figures(&worst, "the worst case either way"), 2);
    assert_eq!(figures(&worst, "standard uncertainty"), 0);
    assert_eq!(figures(&none, "Completion, judged by"), 1);
    assert_eq!(figures(&none, "ars are") + figures(&none, "bars"), 0);
    assert_eq!(lines(&standard, &["95 %"]).len(), 1);
    assert_eq!(lines(&none, &["95 %"]).len(), 0);
    assert_eq!(lines(&none, &["standard uncertaint"]).len(), 0);
}
