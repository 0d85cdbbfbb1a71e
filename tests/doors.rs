//! What opens the working of a step and what does not, and which ways of writing an answer are understood.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/program.rs"]
mod program;
mod support;

use std::fs;

use gramleaf::answers::Open;
use gramleaf::answers::Verdict;
use gramleaf::answers::judge;
use gramleaf::answers::slips;
use program::gramleaf;

const CHALK: &str = "[who]\nlab = \"calcium-carbonate-precipitate\"\ngroup = \"3-07\"\n[day.1]\nchloride_boat = \"2.31 g\"\nchloride_boat_with_salt = \"3.93 g\"\nsoda_boat = \"2.29 g\"\nsoda_boat_with_salt = \"3.70 g\"\nwater_each = \"25.0 mL\"\npaper = \"0.98 g\"\n[day.2]\npaper_with_chalk = [\"2.06 g\", \"2.03 g\", \"2.03 g\"]\n";
const WATERS: &str = "[who]\nlab = \"water-in-hydrate\"\ngroup = \"3-07\"\n[day.1]\ncrucible = \"24.512 g\"\ncrucible_with_crystals = \"27.034 g\"\ncrucible_heated = [\"26.141 g\", \"26.140 g\"]\n";
const GAS: &str = "[who]\nlab = \"hydrogen-over-water\"\ngroup = \"3-07\"\n[trial.1]\nribbon = \"0.0365 g\"\ngas_volume = \"36.4 mL\"\ngas_temperature = \"21.0 °C\"\nair_pressure = \"100.8 kPa\"\n";
const EISEN: &str = "[who]\nlab = \"eisen-kupfersulfat\"\ngroup = \"3-07\"\n[day.1]\nschale_leer = \"12,41 g\"\nschale_mit_salz = \"17,43 g\"\nnaegel_vorher = \"3,62 g\"\nbecherglas_leer = \"98,35 g\"\nwasser = \"50 mL\"\n[day.3]\nbecherglas_mit_kupfer = [\"99,60 g\", \"99,59 g\", \"99,59 g\"]\nschale_naegel_leer = \"11,98 g\"\nschale_mit_naegeln = \"14,47 g\"\n";

/// What is said of the last of some answers.
struct Said {
    verdict: Verdict,
    opens: bool,
    slips: Vec<&'static str>,
    feedback: String,
}

fn said(data: &str, answers: &[(&str, &str)]) -> Said {
    let id = data.split('"').nth(1).unwrap();
    let lab = gramleaf::lab::builtin::find(id).unwrap();
    said_in(lab, data, answers)
}

fn said_in(lab: &str, data: &str, answers: &[(&str, &str)]) -> Said {
    let lines = answers
        .iter()
        .map(|(step, typed)| format!("{step} = \"{typed}\"\n"));
    let data = format!("{data}[answers]\n{}", lines.collect::<String>());
    support::worked(lab, &data, |lab, graph, record, worked| {
        let (judged, _) = judge(lab, graph, record, worked);
        let step = graph.find(answers.last().unwrap().0).unwrap();
        let judgement = judged.of(step).unwrap();
        Said {
            verdict: judgement.verdict,
            opens: Open::of(lab, graph, &judged, false).step(step),
            slips: judgement.slips.iter().map(|slip| slip.id).collect(),
            feedback: judgement.feedback.clone(),
        }
    })
}

/// By hand: the yield is 95.2 %, the most chalk 1.103 g, the moles 0.01102; 4.865 waters; 0.964 mol of copper for one of iron; 0.0015017 mol of
/// magnesium. One figure says none of that, in whatever unit it stands.
#[test]
fn a_guess_of_one_figure_opens_nothing() {
    for (data, step, typed, verdict) in [
        (CHALK, "percent_yield", "1e2 %", Verdict::Rough),
        (CHALK, "percent_yield", "100 %", Verdict::LookAgain),
        (CHALK, "percent_yield", "1.0e2 %", Verdict::LookAgain),
        (CHALK, "percent_yield", "1.00e2 %", Verdict::LookAgain),
        (CHALK, "percent_yield", "9.5e1 %", Verdict::Matches),
        (CHALK, "percent_yield", "95 %", Verdict::Matches),
        (CHALK, "theoretical_chalk", "1 g", Verdict::Rough),
        (CHALK, "theoretical_chalk", "0.001 kg", Verdict::Rough),
        (CHALK, "theoretical_chalk", "2 g", Verdict::LookAgain),
        (CHALK, "theoretical_chalk", "1.1 g", Verdict::Matches),
        (CHALK, "moles_chloride", "0.01 mol", Verdict::Rough),
        (CHALK, "moles_chloride", "1e-2 mol", Verdict::Rough),
        (CHALK, "moles_chloride", "10 mmol", Verdict::Rough),
        (CHALK, "moles_chloride", "11 mmol", Verdict::Matches),
        (CHALK, "moles_chloride", "10.0 mmol", Verdict::LookAgain),
        (GAS, "moles_magnesium", "0.002 mol", Verdict::Rough),
        (GAS, "moles_magnesium", "2 mmol", Verdict::Rough),
        (GAS, "moles_magnesium", "0.0015 mol", Verdict::Matches),
        (WATERS, "waters_per_salt", "5:1", Verdict::Rough),
        (WATERS, "waters_per_salt", "5", Verdict::Rough),
        (WATERS, "waters_per_salt", "4.9", Verdict::Matches),
        (EISEN, "ratio_kupfer_eisen", "1:1", Verdict::Rough),
        (EISEN, "ratio_kupfer_eisen", "1", Verdict::Rough),
        (EISEN, "ratio_kupfer_eisen", "1,0", Verdict::Rough),
        (EISEN, "ratio_kupfer_eisen", "1,0:1", Verdict::Rough),
        (EISEN, "ratio_kupfer_eisen", "1,0 : 1,0", Verdict::Rough),
        (
            EISEN,
            "ratio_kupfer_eisen",
            "1,0 mol Cu pro mol Fe",
            Verdict::Rough,
        ),
        (EISEN, "ratio_kupfer_eisen", "1,00", Verdict::LookAgain),
        (EISEN, "ratio_kupfer_eisen", "100 %", Verdict::LookAgain),
        (EISEN, "ratio_kupfer_eisen", "1,0e2 %", Verdict::LookAgain),
        (EISEN, "ratio_kupfer_eisen", "0,96", Verdict::Matches),
    ] {
        let said = said(data, &[(step, typed)]);
        assert_eq!(said.verdict, verdict, "{step} = {typed}: {:?}", said.slips);
        assert_eq!(said.opens, verdict == Verdict::Matches, "{step} = {typed}");
        if verdict == Verdict::Rough {
            assert_eq!(said.slips, ["too-few-figures"], "{step} = {typed}");
        }
    }
    let rough = said(CHALK, &[("theoretical_chalk", "1 g")]);
    assert_eq!(
        rough.feedback,
        "You measured better than that: how many figures do your readings have? The report does not show its working before that is put right."
    );
    // A balance that shows whole grams defends no more.
    let coarse = CHALK
        .replace("2.31 g", "12 g")
        .replace("3.93 g", "14 g")
        .replace("\"2.06 g\", \"2.03 g\", \"2.03 g\"", "\"2.03 g\"");
    let coarse = said(&coarse, &[("mass_chloride", "2 g")]);
    assert_eq!((coarse.verdict, coarse.opens), (Verdict::Matches, true));
}

/// A claim is no guess where the readings themselves say the whole number.
#[test]
fn a_ratio_that_is_a_whole_number_as_far_as_the_readings_say_opens() {
    // 1.13 g of iron are 0.020235 mol, so 1.286 g of copper are as many; 1.29 g say 1.003.
    let equal = EISEN.replace(
        "\"99,60 g\", \"99,59 g\", \"99,59 g\"",
        "\"99,64 g\", \"99,64 g\"",
    );
    for (typed, verdict) in [
        ("1,00", Verdict::Matches),
        ("1,00:1", Verdict::Matches),
        ("1,003", Verdict::Matches),
        ("1", Verdict::Matches),
    ] {
        let said = said(&equal, &[("ratio_kupfer_eisen", typed)]);
        assert_eq!(said.verdict, verdict, "{typed}: {:?}", said.slips);
        assert!(said.opens, "{typed}");
    }
    // A balance of three decimals says 1.0032 of it: `1,00` is that in three figures, `1,0` may come from the equation.
    let finer = ["3,62", "98,35", "99,64", "11,98", "14,47"];
    let finer = finer.iter().fold(equal.clone(), |data, reading| {
        data.replace(&format!("{reading} g"), &format!("{reading}0 g"))
    });
    for (typed, verdict) in [
        ("1,00", Verdict::Matches),
        ("1,0", Verdict::Rough),
        ("1:1", Verdict::Rough),
        ("1,003", Verdict::Matches),
    ] {
        let said = said(&finer, &[("ratio_kupfer_eisen", typed)]);
        assert_eq!(said.verdict, verdict, "{typed}: {:?}", said.slips);
        assert_eq!(said.opens, verdict == Verdict::Matches, "{typed}");
    }
    // 1.32 g say 1.026: a measured ratio, and no 1.0.
    let more = equal.replace("99,64", "99,67");
    for (typed, verdict) in [
        ("1,0", Verdict::Rough),
        ("1:1", Verdict::Rough),
        ("1,03", Verdict::Matches),
        ("1,00", Verdict::LookAgain),
    ] {
        let said = said(&more, &[("ratio_kupfer_eisen", typed)]);
        assert_eq!(said.verdict, verdict, "{typed}: {:?}", said.slips);
        assert_eq!(said.opens, verdict == Verdict::Matches, "{typed}");
    }
}

/// What follows from a rough line is no better than it: 1.05 ÷ 1 is 105 %, and the readings say 95.2 %.
#[test]
fn a_rough_line_leads_through_no_door_beside() {
    let follows = said(
        CHALK,
        &[("theoretical_chalk", "1 g"), ("percent_yield", "105 %")],
    );
    assert_eq!((follows.verdict, follows.opens), (Verdict::Follows, false));
    let kept = said(
        CHALK,
        &[("theoretical_chalk", "1 g"), ("percent_yield", "95.2 %")],
    );
    assert_eq!((kept.verdict, kept.opens), (Verdict::Matches, true));
    assert!(kept.slips.is_empty(), "{:?}", kept.slips);
}

#[test]
fn a_right_number_in_the_unit_of_another_quantity_opens_nothing() {
    for (step, typed, opens) in [
        ("mass_chloride", "1.62 mol", false),
        ("mass_chloride", "1.62", true),
        ("mass_chloride", "1.62 g", true),
        ("moles_chloride", "0.01102 g", false),
        ("moles_chloride", "0.01102 mol", true),
    ] {
        let said = said(CHALK, &[(step, typed)]);
        assert_eq!(
            (said.verdict, said.opens),
            (Verdict::Matches, opens),
            "{typed}"
        );
        let told = said
            .feedback
            .starts_with("The number fits, but does its unit fit what was asked?");
        assert_eq!(told, !opens, "{}", said.feedback);
        assert_eq!(said.slips.contains(&"unit-of-another-kind"), !opens);
    }
}

#[test]
fn names_of_the_form_and_other_spellings_are_read() {
    for typed in [
        "Kupfer-Sulfat",
        "copper sulfate",
        "copper(II) sulfate",
        "blaue Kristalle",
        "die blauen Kristalle",
    ] {
        let said = said(EISEN, &[("limiting", typed)]);
        assert_eq!(said.verdict, Verdict::Matches, "{typed}");
    }
    let product = said(EISEN, &[("limiting", "Kupfer")]);
    assert_eq!(product.verdict, Verdict::Unreadable);
    for typed in [
        "0,964 mol Cu pro mol Fe",
        "0,964 mol Kupfer je mol Eisen",
        "0,964 mol Cu/mol Fe",
    ] {
        let said = said(EISEN, &[("ratio_kupfer_eisen", typed)]);
        assert_eq!(said.verdict, Verdict::Matches, "{typed}");
    }
    let turned = said(EISEN, &[("ratio_kupfer_eisen", "1,037 mol Fe pro mol Cu")]);
    assert_eq!(turned.verdict, Verdict::Matches);
    let waters = said(
        WATERS,
        &[("waters_per_salt", "4.865 mol H2O per mol CuSO4")],
    );
    assert_eq!(waters.verdict, Verdict::Matches);
    // Where the file has commas, a point can only part thousands of milligrams; of grams it is the decimal point.
    for (typed, opens) in [("1.278 mg", true), ("1.278 g", true), ("1,278 mg", false)] {
        let said = said(EISEN, &[("theoretical_kupfer", typed)]);
        assert_eq!(
            (said.verdict, said.opens),
            (Verdict::Matches, opens),
            "{typed}"
        );
        assert_eq!(said.slips.contains(&"prefix"), !opens, "{typed}");
    }
    let points = EISEN.replace(',', ".").replace("\". \"", "\", \"");
    let milligrams = said(&points, &[("theoretical_kupfer", "1.278 mg")]);
    assert_eq!(
        (milligrams.verdict, milligrams.opens),
        (Verdict::Matches, false)
    );
}

#[test]
fn hints_say_what_was_done() {
    let prediction = said(EISEN, &[("used_eisen", "1,12 g")]);
    assert_eq!(prediction.slips, ["predicted-for-measured"]);
    let moles = said(CHALK, &[("collected_chalk", "0.01049 mol")]);
    assert_eq!(moles.slips, ["amount-for-mass"]);
    assert!(
        moles.feedback.contains("the amount in moles"),
        "{}",
        moles.feedback
    );
    let fraction = said(CHALK, &[("percent_yield", "0.952")]);
    assert_eq!(fraction.slips, ["fraction-for-percent", "unit-missing"]);
    let own = [
        ("moles_chloride", "0.01460 mol"),
        ("expected_left_soda", "-0.14 g"),
    ];
    let negative = said(CHALK, &own);
    assert!(negative.slips.is_empty(), "{:?}", negative.slips);
    assert!(
        negative.feedback.contains("which reactant runs out first"),
        "{}",
        negative.feedback
    );
    for typed in [
        "none",
        "nothing",
        "no soda left",
        "0",
        "there is nothing left",
    ] {
        let right = said(CHALK, &[("expected_left_soda", typed)]);
        assert_eq!(right.verdict, Verdict::LookAgain, "{typed}");
        let lines = [
            ("moles_chloride", "0.01460 mol"),
            ("limiting", "soda"),
            ("expected_left_soda", typed),
        ];
        assert_eq!(said(CHALK, &lines).verdict, Verdict::Follows, "{typed}");
    }
    let nothing = said(CHALK, &[("expected_left_soda", "?")]);
    assert_eq!(nothing.verdict, Verdict::NotGiven);
}

/// A gas is caught and measured by its volume: what is said of any product speaks of no balance.
#[test]
fn hints_for_any_product_speak_of_no_balance() {
    let any = slips::all().filter(|slip| {
        let of_masses = ["grams-over-moles", "vessel-on-top"].contains(&slip.id);
        slip.family == slips::Family::Percent && !of_masses || slip.id == "measured-for-predicted"
    });
    for slip in any {
        for word in ["weigh", "mass", "gram", "heavy", "solid"] {
            assert!(!slip.prompt.contains(word), "{}: {}", slip.id, slip.prompt);
        }
    }
}

const RIGHT: &str = "[answers]\nmoles_eisen = \"0,0648 mol\"\nmass_salz = \"5,02 g\"\nmoles_salz = \"0,02010 mol\"\nlimiting = \"Kupfersulfat\"\ntheoretical_kupfer = \"1,278 g\"\nexpected_left_eisen = \"2,50 g\"\ncollected_kupfer = \"1,24 g\"\nmeasured_left_eisen = \"2,49 g\"\nused_eisen = \"1,13 g\"\npercent_yield = \"97,1 %\"\nratio_kupfer_eisen = \"0,964\"\n";

fn draft(data: &str, key: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::write(at.join("3-07.toml"), data).unwrap();
    let printed = gramleaf(at, &[&["draft", "3-07.toml"], key].concat());
    fs::read_to_string(at.join("3-07.md")).unwrap_or_else(|why| panic!("{why}: {printed}"))
}

/// The lab asks which equation the numbers speak for: the report does not answer in the students' place.
#[test]
fn which_equation_waits_for_the_students_own_word() {
    let data = format!("{EISEN}{RIGHT}");
    let other = format!("{data}[words]\nquestion_1 = \"Die Nägel.\"\n");
    let own = format!("{data}[words]\nquestion_3 = \"Für die erste.\"\n");
    let without_ratio = own.replace("ratio_kupfer_eisen = \"0,964\"\n", "");
    for (data, key, says) in [
        (&data, &[][..], false),
        (&other, &[], false),
        (&own, &[], true),
        (&without_ratio, &[], false),
        (&data, &["--key"], true),
    ] {
        let report = draft(data, key);
        assert!(report.contains("### Welche Gleichung?"), "{report}");
        assert_eq!(
            report.contains("Die Messwerte sprechen für"),
            says,
            "{report}"
        );
        let waits = "Was die Messwerte über die Gleichungen sagen, steht hier, sobald eure eigene Antwort dasteht";
        assert_eq!(report.contains(waits), !says, "{report}");
    }
}

/// The chart is in moles: it shows an amount found only where the table shows its moles.
#[test]
fn the_chart_of_amounts_shows_what_the_table_shows() {
    let lab = gramleaf::lab::builtin::find("calcium-carbonate-precipitate").unwrap();
    let lab = lab.replace("[policy]", "moles_collected_chalk = true\n\n[policy]");
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::write(at.join("lab.toml"), &lab).unwrap();
    let answers = "[answers]\nmass_soda = \"1.41 g\"\nmoles_soda = \"0.01330 mol\"\ncollected_chalk = \"1.05 g\"\nmoles_chloride = \"0.0146 mol\"\n";
    for (more, shown) in [
        ("", false),
        ("moles_collected_chalk = \"0.01049 mol\"\n", true),
    ] {
        fs::write(at.join("3-07.toml"), format!("{CHALK}{answers}{more}")).unwrap();
        gramleaf(at, &["draft", "3-07.toml", "--replace"]);
        let report = fs::read_to_string(at.join("3-07.md")).unwrap();
        let row = report
            .lines()
            .find(|line| line.starts_with("| change found"));
        assert_eq!(row.unwrap().contains("0.01049"), shown, "{row:?}");
        assert_eq!(report.contains("10.49 after, found"), shown, "{report}");
        assert!(report.contains("13.30 before"), "{report}");
    }
}

/// The rows of a report's tables, their blanks taken out.
fn rows(report: &str) -> Vec<String> {
    let rows = report.lines().filter(|line| line.starts_with('|'));
    rows.map(|row| row.replace(' ', "")).collect()
}

/// A row by the name in front of it.
fn row(report: &str, name: &str) -> String {
    let head = format!("|{}|", name.replace(' ', ""));
    let mut rows = rows(report).into_iter();
    rows.find(|row| row.starts_with(&head))
        .unwrap_or_else(|| panic!("{name}: {report}"))
}

/// What one reactant uses up tells, by the coefficients, what all do: while one may not be seen, none is.
#[test]
fn no_column_of_the_amounts_tells_what_another_hides() {
    let whole = fs::read_to_string("samples/salt-by-evaporation/4-06.toml").unwrap();
    let blank = |data: &str, step: &str| -> String {
        let lines = data.lines().map(|line| match line.split_once('=') {
            Some((key, _)) if key.trim() == step => format!("{step} = \"\"\n"),
            _ => format!("{line}\n"),
        });
        lines.collect()
    };
    let no_left = blank(&whole, "expected_left_acid");
    let neither = blank(&no_left, "mass_soda");
    let no_mass = blank(&whole, "mass_soda");
    let shown = draft(&whole, &[]);
    assert!(row(&shown, "change / mol").contains("+0.020059"), "{shown}");
    for data in [&no_left, &neither, &no_mass] {
        let report = draft(data, &[]);
        for name in ["change / mol", "after / mol"] {
            let row = row(&report, name);
            assert!(!row.contains("0.0"), "{row}");
        }
        assert!(!report.contains("after, predicted"), "{report}");
    }
}

/// Found and predicted stand with one decimal more than the readings defend, and as many of them.
#[test]
fn a_ratio_stands_beside_each_equation_to_the_same_digit() {
    let own = format!("{EISEN}{RIGHT}[words]\nquestion_3 = \"Für die erste.\"\n");
    let report = draft(&own, &[]);
    for predicted in ["1,0000", "1,5000"] {
        let cells = format!("|{predicted}|0,9644|");
        assert!(
            rows(&report).iter().any(|row| row.contains(&cells)),
            "{predicted}: {report}"
        );
    }
}

#[test]
fn higher_is_read_without_its_umlaut() {
    let cause = "[cause.1]\nwhat = \"Kupfer war noch nass\"\neffect = \"hoeher\"\n";
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    // Which equation fits is asked in this lab: causes wait for that.
    let own = "[words]\nquestion_3 = \"Für die erste.\"\n";
    fs::write(at.join("3-07.toml"), format!("{EISEN}{RIGHT}{cause}{own}")).unwrap();
    let checked = gramleaf(at, &["check", "3-07.toml"]);
    assert!(
        checked.contains("Das macht die prozentuale Ausbeute höher"),
        "{checked}"
    );
    assert!(
        !checked.contains("Schreibt das unter `effect`"),
        "{checked}"
    );
}
