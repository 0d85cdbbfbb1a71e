//! Units: what was found is held against what was predicted in one unit, whatever each was measured in, and units that are not the right ones.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/program.rs"]
mod program;
mod support;

use std::fs;

use gramleaf::lab;
use gramleaf::problem::Source;
use gramleaf::working::plan::plan;
use program::gramleaf;
use tempfile::TempDir;

/// A salt that is weighed in and titrated at the end, a reactant that is pipetted, a product that is weighed.
const IODATE: &str = r#"
id = "iodate"
title = "Barium iodate"
equation = "BaCl2 + KIO3 -> Ba(IO3)2 + KCl"
[substance.barium]
formula = "BaCl2"
name = "barium chloride"
weighed_as = "BaCl2·2H2O"
before = "boat_full - boat"
after = "edta * edta_molarity * 100 / 10"
[substance.iodate]
formula = "KIO3"
before = "iodate * iodate_molarity"
[substance.product]
formula = "Ba(IO3)2"
weighed_as = "Ba(IO3)2·H2O"
after = "crucible_full - crucible"
yield = true
[given]
iodate_molarity = "0.150 mol/L"
edta_molarity = "0.0100 mol/L"
[instrument.balance]
unit = "g"
readability = "0.001 g"
[instrument.burette]
unit = "mL"
tolerance = "0.05 mL"
[day.1]
title = "All"
readings = [
  { name = "boat", label = "weighing boat" },
  { name = "boat_full", label = "boat with the salt" },
  { name = "iodate", label = "iodate solution", unit = "mL" },
  { name = "crucible", label = "crucible, empty" },
  { name = "crucible_full", label = "crucible with the solid" },
  { name = "edta", label = "EDTA solution", unit = "mL" },
]
[ask]
usual = true
measured_left_barium = { points = 2 }
theoretical_product = { points = 3 }
moles_iodate = { points = 1 }
[plan]
barium = "0.900 g"
iodate = "40 mL"
"#;

const IODATE_DATA: &str = r#"
[who]
lab = "iodate"
section = "4b"
group = "4b-01"
[day.1]
boat = "2.314 g"
boat_full = "3.218 g"
iodate = "40.00 mL"
crucible = "31.402 g"
crucible_full = "32.886 g"
edta = "7.05 mL"
"#;

/// A folder with the lab and one group, a text of the lab and one of the group changed.
fn folder(of_lab: (&str, &str), of_group: (&str, &str), answers: &str) -> TempDir {
    let folder = TempDir::new().unwrap();
    let changed = |text: &str, (from, to): (&str, &str)| {
        assert!(from.is_empty() || text.matches(from).count() == 1, "{from}");
        if from.is_empty() {
            text.to_owned()
        } else {
            text.replace(from, to)
        }
    };
    fs::write(folder.path().join("lab.toml"), changed(IODATE, of_lab)).unwrap();
    let group = format!("{}[answers]\n{answers}", changed(IODATE_DATA, of_group));
    fs::write(folder.path().join("4b-01.toml"), group).unwrap();
    folder
}

const SAME: (&str, &str) = ("", "");

fn check(of_lab: (&str, &str), of_group: (&str, &str), answers: &str) -> String {
    gramleaf(
        folder(of_lab, of_group, answers).path(),
        &["check", "4b-01.toml"],
    )
}

/// The values of some steps, in g or mol.
fn values<const N: usize>(lab: &str, data: &str, steps: [&str; N]) -> [f64; N] {
    support::worked(lab, data, |_, graph, _, worked| {
        steps.map(|id| {
            let step = graph.find(id).unwrap_or_else(|| panic!("no {id}"));
            worked.value(step).unwrap().approximate()
        })
    })
}

fn near(value: f64, expected: f64) {
    assert!(
        (value / expected - 1.0).abs() < 2e-4,
        "{value} is not {expected}"
    );
}

/// By hand with M(BaCl₂·2H₂O) = 244.26 g/mol: 0.904 g are 0.0037010 mol, of which 0.00300 mol react, 0.73278 g; 7.05 mL titrate
/// 0.000705 mol, 0.172203 g.
#[test]
fn a_leftover_titrated_is_held_in_grams_against_what_was_weighed() {
    let [expected, found, used, ratio, error] = values(
        IODATE,
        IODATE_DATA,
        [
            "expected_left_barium",
            "measured_left_barium",
            "used_barium",
            "ratio_product_barium",
            "left_error_barium",
        ],
    );
    near(expected, 0.904 - 0.732_78);
    near(found, 0.172_203);
    near(used, 0.904 - 0.172_203);
    near(ratio, 1.484 / 505.14 / ((0.904 - 0.172_203) / 244.26));
    assert!((error - 0.574).abs() < 1e-3, "{error}");
    let folder = folder(SAME, SAME, "measured_left_barium = \"0.1722 g\"\n");
    let said = gramleaf(folder.path(), &["check", "4b-01.toml"]);
    assert!(!said.contains("warning"), "{said}");
    assert!(said.contains("0.1722 g: matches your data"), "{said}");
    gramleaf(folder.path(), &["draft", "4b-01.toml", "--key"]);
    let report = fs::read_to_string(folder.path().join("4b-01.md")).unwrap();
    let row = report
        .lines()
        .find(|line| line.contains("found left") && line.contains('+'))
        .unwrap();
    for part in ["0.171", "0.172", "+0.001"] {
        assert!(row.contains(part), "{row}");
    }
    // 0.900 g leave 0.16722 g, 0.00068460 mol; a tenth of them takes 6.85 mL.
    let plan = gramleaf(folder.path(), &["plan", "lab.toml", "--groups", "7"]);
    assert!(plan.contains("left: 6.85"), "{plan}");
    assert!(plan.contains("| 0.167"), "{plan}");
}

/// The amount itself is one step short of the mass that is asked for: said as that, whatever the lab's expression comes out in.
#[test]
fn moles_of_a_titrated_leftover_are_told_to_be_moles() {
    let said = check(SAME, SAME, "measured_left_barium = \"0.000705 mol\"\n");
    assert!(said.contains("is in g, not in mol"), "{said}");
    assert!(said.contains("the mass was asked for"), "{said}");
}

/// By hand as above: of 40.00 mL at 0.150 mol/L, 0.00600 mol; M(KIO₃) = 214.00 g/mol. 0.00600 mol are 1.2840 g; 0.100 g left are 1.1840 g used.
#[test]
fn a_leftover_weighed_is_held_in_grams_against_a_solution() {
    let lab = IODATE.replace(
        "before = \"iodate * iodate_molarity\"",
        "before = \"iodate * iodate_molarity\"\nafter = \"crucible_full - crucible - 1.384\"",
    );
    let lab = lab.replace("- 1.384", "- boat + boat - stone");
    let lab = lab.replace(
        "  { name = \"edta\"",
        "  { name = \"stone\", label = \"stone\" },\n  { name = \"edta\"",
    );
    let data = IODATE_DATA.replace("edta =", "stone = \"1.384 g\"\nedta =");
    let [found, expected, needed, used] = values(
        &lab,
        &data,
        [
            "measured_left_iodate",
            "expected_left_iodate",
            "needed_iodate",
            "used_iodate",
        ],
    );
    near(found, 0.100);
    near(needed, 1.2840);
    assert!(expected.abs() < 1e-4, "{expected}");
    near(used, 1.1840);
}

/// By hand: 0.000700 mol of what was taken in grams are 0.170982 g, and 0.00300 mol are 0.73278 g.
#[test]
fn what_was_used_and_what_was_there_already_come_to_one_unit_too() {
    let lab = IODATE.replace(
        "after = \"edta * edta_molarity * 100 / 10\"",
        "used = \"edta * edta_molarity * 100 / 10\"",
    );
    let lab = lab.replace("measured_left_barium = { points = 2 }\n", "");
    let lab = lab.replace(
        "yield = true",
        "before = \"edta * edta_molarity\"\nyield = true",
    );
    let data = IODATE_DATA.replace("7.05 mL", "7.00 mL");
    let [used, completion, collected] = values(
        &lab,
        &data,
        ["used_barium", "completion_barium", "collected_product"],
    );
    near(used, 0.170_982);
    near(completion, 0.170_982 / 0.732_78);
    // 7.00 mL at 0.0100 mol/L were there: 0.0000700 mol of 505.14 g/mol, 0.035360 g.
    near(collected, 1.484 - 0.035_360);
}

#[test]
fn without_a_molar_mass_two_units_of_one_substance_are_refused() {
    let text = r#"
id = "x"
title = "x"
equation = "MgSO4·xH2O(s) -> MgSO4(s) + x H2O(g)"
[substance.hydrate]
formula = "MgSO4·xH2O"
before = "full - crucible"
after = "edta * edta_molarity"
[substance.dry]
formula = "MgSO4"
after = "heated - crucible"
[given]
edta_molarity = "0.0100 mol/L"
[day.1]
title = "All"
readings = [
  { name = "crucible", label = "crucible", unit = "g" },
  { name = "full", label = "with hydrate", unit = "g" },
  { name = "heated", label = "heated", unit = "g" },
  { name = "edta", label = "EDTA", unit = "mL" },
]
"#;
    let source = Source {
        name: "lab.toml".to_owned(),
        text: text.to_owned(),
    };
    let (lab, problems) = lab::check::check(&source);
    let lab = lab.unwrap_or_else(|| panic!("{problems:#?}"));
    let (_, problems) = plan(&lab);
    let [problem] = &problems[..] else {
        panic!("{problems:#?}")
    };
    assert!(
        problem.message.contains("without its waters"),
        "{problem:?}"
    );
}

#[test]
fn the_form_says_in_which_unit_an_answer_is_wanted() {
    let folder = folder(SAME, SAME, "");
    let form = ["start", "lab.toml", "--group", "4b-02", "--out", "new.toml"];
    gramleaf(folder.path(), &form);
    let form = fs::read_to_string(folder.path().join("new.toml")).unwrap();
    let note = |id: &str| {
        let mut lines = form.lines();
        let line = lines.find(|line| line.starts_with(id)).unwrap();
        line.split_once("# ").unwrap().1.to_owned()
    };
    let left = note("measured_left_barium");
    assert_eq!(left, "barium chloride dihydrate found left, in g");
    // Its own words tell already, or there is no unit.
    for (id, is) in [
        ("moles_barium", "moles of barium chloride at the start"),
        ("limiting", "the reactant that runs out first"),
        (
            "percent_yield",
            "percent yield of barium iodate monohydrate",
        ),
        (
            "ratio_product_barium",
            "moles of barium iodate for one mole of barium chloride used",
        ),
    ] {
        assert_eq!(note(id), is);
    }
    gramleaf(
        folder.path(),
        &["draft", "new.toml", "--template", "worksheet"],
    );
    let sheet = fs::read_to_string(folder.path().join("new.md")).unwrap();
    assert!(
        sheet.contains("barium chloride dihydrate found left, in g"),
        "{sheet}"
    );
    // A web form that asks in these words is read back.
    let table = format!("group,\"{left}\"\n4b-03,\"0.171 g\"\n");
    fs::write(folder.path().join("forms.csv"), table).unwrap();
    let import = ["import", "forms.csv", "--lab", "lab.toml", "--out", "in"];
    gramleaf(folder.path(), &import);
    let filled = fs::read_to_string(folder.path().join("in/4b-03.toml")).unwrap();
    assert!(
        filled.contains("measured_left_barium = \"0.171 g\""),
        "{filled}"
    );
}

#[test]
fn a_misspelt_unit_costs_nothing_and_an_unknown_one_no_more_than_a_missing_one() {
    let answer = |typed: &str| check(SAME, SAME, &format!("theoretical_product = \"{typed}\"\n"));
    for typed in ["1.52 gramms", "1.52 Gramm", "1.52 (gramms)", "1.52 grms"] {
        let said = answer(typed);
        assert!(said.contains("matches your data"), "{typed}: {said}");
        assert!(said.contains("3 of 6 points"), "{typed}: {said}");
        assert!(!said.contains("not a unit"), "{typed}: {said}");
    }
    let missing = answer("1.52");
    let unknown = answer("1.52 blurps");
    assert!(missing.contains("2 of 6 points"), "{missing}");
    assert!(missing.contains("A number of what?"), "{missing}");
    // Where something stands that is not known, nothing is missing.
    assert!(!unknown.contains("A number of what?"), "{unknown}");
    for part in [
        "warning[answer]: “blurps” is not a unit",
        "judged as if no unit",
        "is no unit that is known here: which one did you mean?",
        "matches your data",
        "2 of 6 points",
    ] {
        assert!(unknown.contains(part), "{part}: {unknown}");
    }
    // A unit with a factor of its own is nobody's gram, and more than a word may be anything.
    for typed in ["1.52 ounces", "1.52 x 3", "1.52 g or so"] {
        let said = answer(typed);
        assert!(said.contains("could not be read"), "{typed}: {said}");
    }
}

/// Another prefix is another size: a letter in front of a name is never taken for a slip, and no correction adds or drops one.
#[test]
fn a_prefix_is_read_as_it_stands_or_not_at_all() {
    let answer = |typed: &str| check(SAME, SAME, &format!("theoretical_product = \"{typed}\"\n"));
    for typed in ["1520 mgrams", "1520 mgramms", "1520000 µgrams", "1.52E6 ug"] {
        let said = answer(typed);
        assert!(said.contains("matches your data"), "{typed}: {said}");
    }
    for typed in [
        "1.52 mgrams",
        "1.52 kgram",
        "1.52 µgram",
        "1.52 μg",
        "1.52 cgrams",
        "1.52 ng",
        "1.52 mliters",
        "1.52 nmol",
    ] {
        let said = answer(typed);
        let stands = said.contains("matches your data")
            && !said.contains("does its unit fit")
            && !said.contains("milli or kilo");
        assert!(!stands, "{typed}: {said}");
        assert!(!said.contains("did you mean `"), "{typed}: {said}");
    }
    let step = ["theoretical_product"];
    let in_micro = IODATE_DATA.replace("\"40.00 mL\"", "\"40000 µL\"");
    let [micro] = values(IODATE, &in_micro, step);
    let [milli] = values(IODATE, IODATE_DATA, step);
    assert_eq!(micro.to_bits(), milli.to_bits());
}

#[test]
fn degrees_are_those_of_celsius_where_a_temperature_is_asked() {
    let lab = (
        "  { name = \"edta\"",
        "  { name = \"bath\", label = \"bath\", unit = \"°C\" },\n  { name = \"edta\"",
    );
    let typed = |name: &str, text: &str| {
        let data = format!("edta = \"7.05 mL\"\n{name} = \"{text}\"\n");
        check(lab, ("edta = \"7.05 mL\"\n", &data), "")
    };
    for text in [
        "21 Grad",
        "21 grad Celsius",
        "21 degrees",
        "21 degrees Celsius",
        "21 deg C",
        "21 deg.",
        "21°",
        "21 celcius",
    ] {
        let said = typed("bath", text);
        assert!(said.contains("All 7 readings are in"), "{text}: {said}");
    }
    for text in ["70 °F", "294 K", "21 grams", "21 gradients"] {
        let said = typed("bath", text);
        assert!(said.contains("1 of 7"), "{text}: {said}");
    }
    // An angle is no temperature, and nobody's gram either.
    for text in ["21 Grad", "21 grads", "21°"] {
        let data = format!("boat = \"{text}\"\n");
        let said = check(SAME, ("boat = \"2.314 g\"\n", &data), "");
        assert!(said.contains("is not a unit"), "{text}: {said}");
        assert!(said.contains("type °C behind the number"), "{text}: {said}");
    }
}

#[test]
fn millimoles_are_read_with_a_litre_too_many_and_in_a_given_value() {
    let said = check(
        SAME,
        SAME,
        "moles_iodate = \"6.00 mmol/L\"\nmoles_barium = \"3.70 mmol\"\n",
    );
    assert!(said.contains("is in mol, not in mmol/L"), "{said}");
    assert!(said.contains("6.00 mmol/L: matches your data"), "{said}");
    assert!(said.contains("3.70 mmol: matches your data"), "{said}");
    let in_milli = IODATE.replace("0.150 mol/L", "150. mmol/L");
    let step = ["moles_iodate"];
    let [milli] = values(&in_milli, IODATE_DATA, step);
    let [full] = values(IODATE, IODATE_DATA, step);
    assert_eq!(milli.to_bits(), full.to_bits());
    let folder = folder(
        ("\"0.150 mol/L\"", "\"150. mmol/L\""),
        SAME,
        "moles_iodate = \"0.00600 mol\"\n",
    );
    gramleaf(folder.path(), &["draft", "4b-01.toml", "--key"]);
    let report = fs::read_to_string(folder.path().join("4b-01.md")).unwrap();
    assert!(report.contains("0.150\u{a0}mol/L"), "{report}");
}

#[test]
fn a_wrong_prefix_is_asked_about_and_nothing_that_follows_from_it() {
    let problems = |of_lab: (&str, &str), of_group: (&str, &str)| -> Vec<String> {
        let said = check(of_lab, of_group, "");
        let heads = said
            .lines()
            .filter(|line| line.starts_with("error[") || line.starts_with("warning["));
        heads.map(str::to_owned).collect()
    };
    for (from, to, starts) in [
        (
            "\"2.314 g\"",
            "\"2.314 kg\"",
            "error[wrong-unit]: is “weighing boat” really in kg?",
        ),
        (
            "\"3.218 g\"",
            "\"3.218 mg\"",
            "error[wrong-unit]: is “boat with the salt” really in mg?",
        ),
        // Heavier than its vessel all the same: the amount is far from the plan, which the unit explains.
        (
            "\"3.218 g\"",
            "\"3.218 kg\"",
            "warning[wrong-unit]: is “boat with the salt” really in kg?",
        ),
        (
            "\"32.886 g\"",
            "\"32.886 kg\"",
            "warning[wrong-unit]: is “crucible with the solid” really in kg?",
        ),
    ] {
        let found = problems(SAME, (from, to));
        assert!(
            found.len() == 1 && found[0].starts_with(starts),
            "{to}: {found:?}"
        );
    }
    // The same mass in another unit, with every digit, is right.
    for (from, to) in [
        ("\"2.314 g\"", "\"2314 mg\""),
        ("\"2.314 g\"", "\"0.002314 kg\""),
    ] {
        assert!(problems(SAME, (from, to)).is_empty(), "{to}");
    }
    let said = check(SAME, ("\"2.314 g\"", "\"2.314 kg\""), "");
    assert!(said.contains("its unit is to be looked at"), "{said}");
    // Where nobody says what the balance shows, the digits tell nothing: the units do.
    let blind = ("readability = \"0.001 g\"", "");
    let said = check(blind, ("\"2.314 g\"", "\"2.314 kg\""), "");
    assert!(said.contains("stand in different units"), "{said}");
}
