//! What stays hidden until a student's own answer stands, and what a report must not promise.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

#[path = "support/program.rs"]
mod program;

use std::fs;

use program::gramleaf;

/// The x of a hydrate is what the class is to find: neither a blank form's report nor one with readings may print the
/// accepted one before the own x stands; afterwards it does.
#[test]
fn accepted_waters_wait_for_the_own_answer() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    gramleaf(
        at,
        &[
            "start",
            "unknown-hydrate",
            "--group",
            "3-07",
            "--out",
            "3-07.toml",
        ],
    );
    let blank = fs::read_to_string(at.join("3-07.toml")).unwrap();
    let filled = [
        ("crucible               = \"\"", "crucible = \"22.104 g\""),
        (
            "crucible_with_crystals = \"\"",
            "crucible_with_crystals = \"24.483 g\"",
        ),
        (
            "crucible_heated        = [\"\", ",
            "crucible_heated = [\"23.302 g\", ",
        ),
    ]
    .iter()
    .fold(blank.clone(), |text, (empty, full)| {
        assert!(text.contains(empty), "{text}");
        text.replace(empty, full)
    });
    // n(H2O) = 1.181/18.015 = 0.065556, n(MgSO4) = 1.198/120.36 = 0.0099535: x = 6.5863.
    let answered = filled.replace(
        "waters_crystals         = \"\"",
        "waters_crystals = \"6.586\"",
    );
    assert_ne!(answered, filled);
    for (text, shown) in [(&blank, false), (&filled, false), (&answered, true)] {
        fs::write(at.join("3-07.toml"), text).unwrap();
        gramleaf(at, &["draft", "3-07.toml", "--replace"]);
        let report = fs::read_to_string(at.join("3-07.md")).unwrap();
        assert_eq!(report.contains("accepted value = 7"), shown, "{report}");
        let row = report
            .lines()
            .find(|line| line.starts_with("| moles of water for one mole") && line.contains("(x)"))
            .unwrap();
        let predicted = row.split('|').nth(2).unwrap().trim();
        assert_eq!(predicted == "7", shown, "{row}");
    }
}

/// The complete sample with its answers changed: what its report shows.
fn report_with(answers: &[(&str, &str)]) -> String {
    let sample = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/samples/zinc-copper-sulfate/3-07.toml"
    );
    let sample = fs::read_to_string(sample).unwrap();
    let text = answers.iter().fold(sample, |text, (right, own)| {
        assert!(text.contains(right), "{right}");
        text.replacen(right, own, 1)
    });
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("3-07.toml"), text).unwrap();
    gramleaf(folder.path(), &["draft", "3-07.toml"]);
    fs::read_to_string(folder.path().join("3-07.md")).unwrap()
}

/// Right from the own lines is not right: the value by the readings would contradict the one typed, and lead back to
/// the line that is wrong.
#[test]
fn what_only_follows_gives_nothing_away() {
    // With the zinc named as limiting: 0.066687 mol of copper weigh 4.2377 g, none of the zinc is left, and 1.50 g are 35.4 %.
    let report = report_with(&[
        ("\"copper(II) sulfate\"   # which", "\"zinc\"   # which"),
        ("\"1.53 g\"         #", "\"4.24 g\"         #"),
        ("\"2.78 g\"         #", "\"0 g\"         #"),
        ("\"98.0 %\"         #", "\"35.4 %\"         #"),
    ]);
    assert!(
        report.contains("follows from your earlier line"),
        "{report}"
    );
    // The students' own words hold what they like.
    let words = report.split("<!-- words -->").skip(1);
    let report = words
        .filter_map(|words| words.split_once("<!-- /words -->"))
        .fold(report.clone(), |rest, (words, _)| rest.replace(words, ""));
    // What could form, what should be left, and the yield, by the readings.
    for hidden in ["1.53 g", "1.532", "2.78 g", "97.9"] {
        assert!(!report.contains(hidden), "{hidden} in {report}");
    }
    assert!(
        report.contains(
            "Percent yield of copper: after your own answer to: the reactant that runs out first"
        ),
        "{report}"
    );
}

/// A list of causes that holds against one amount only would promise what the other speaks against.
#[test]
fn causes_wait_until_all_that_was_measured_may_be_seen() {
    const WAITS: &str = "is weighed here once your own answers stand";
    const LISTED: &str = "possible in size";
    let whole = report_with(&[("\"0.965\"          #", "\"0.965\"          #")]);
    assert!(whole.contains(LISTED) && !whole.contains(WAITS), "{whole}");
    for (right, own) in [
        ("\"2.78 g\"         #", "\"\"         #"),
        ("\"2.78 g\"         #", "\"1.11 g\"         #"),
        ("\"1.53 g\"         #", "\"1.11 g\"         #"),
        ("\"98.0 %\"         #", "\"\"         #"),
    ] {
        let report = report_with(&[(right, own)]);
        assert!(report.contains(WAITS), "{own} for {right}: {report}");
        assert!(!report.contains(LISTED), "{own} for {right}: {report}");
    }
}

/// A vessel holds 1.90 g: what its weighings promise to come off cannot be more than that.
#[test]
fn no_more_comes_off_than_there_is() {
    const OPEN: &str = "do not show yet how much is still to come off";
    for (dryings, open) in [
        // 0.46 g and 0.42 g: the geometric series that goes on has still 4.4 g to come.
        ("\"106.96 g\", \"106.50 g\", \"106.08 g\", \"\"", true),
        // 0.80 g and 0.20 g: 0.067 g are still to come.
        ("\"107.08 g\", \"106.28 g\", \"106.08 g\", \"\"", false),
    ] {
        let report = report_with(&[("\"105.70 g\", \"105.68 g\", \"\", \"\"", dryings)]);
        assert_eq!(report.contains(OPEN), open, "{report}");
        assert_eq!(report.contains("would still come off"), !open, "{report}");
    }
}

/// What waits for a lost reading is not hidden behind an answer: the ratio of what was measured still tells of causes.
#[test]
fn causes_do_not_wait_for_what_no_answer_opens() {
    let report = report_with(&[("\"8.47 g\"", "\"lost\"")]);
    assert!(report.contains("possible in size"), "{report}");
    assert!(
        !report.contains("is weighed here once your own answers stand"),
        "{report}"
    );
}

/// A quantity of the lab's own whose relation names molar masses that the students are to find.
const RUST: &str = r#"
id = "rust"
title = "Iron in a salt"
equation = "FeCl3(aq) + 3 NaOH(aq) -> Fe(OH)3(s) + 3 NaCl(aq)"
[substance.yellow]
formula = "FeCl3"
weighed_as = "FeCl3·6H2O"
before = "salt"
[substance.lye]
formula = "NaOH"
before = "base"
[substance.solid]
formula = "Fe(OH)3"
after = "dish_full - dish"
yield = true
[instrument.balance]
unit = "g"
readability = "0.001 g"
[day.1]
title = "All"
readings = [
 { name = "salt", label = "yellow lumps" },
 { name = "base", label = "pellets" },
 { name = "dish", label = "dish" },
 { name = "dish_full", label = "dish with solid" },
]
[find.iron]
title = "percent iron in the yellow lumps"
value = "100 * collected_solid * M(Fe) / M(Fe(OH)3) / salt"
expected = "100 * M(Fe) / M(FeCl3·6H2O)"
unit = "%"
[ask]
usual = true
iron = true
"#;

/// The molar mass of the weighed salt is 270.29 g/mol and that of the solid 106.866 g/mol: who took the anhydrous salt finds neither,
/// though the answer to the other question is right.
#[test]
fn a_relation_waits_for_the_molar_masses_it_shows() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::write(at.join("lab.toml"), RUST).unwrap();
    // 1.000 × 55.845 ÷ 106.866 of 2.711 g are 19.276 %; 2.711 ÷ 162.195 is 0.016714 mol, ÷ 270.29 it is 0.010030 mol.
    let data = |moles: &str, theory: &str| {
        format!(
            "[who]\nlab = \"rust\"\ngroup = \"4b-04\"\n[day.1]\nsalt = \"2.711 g\"\nbase = \"4.000 g\"\ndish = \"20.000 g\"\ndish_full = \"21.000 g\"\n\
             [answers]\nmoles_yellow = \"{moles}\"\nlimiting = \"FeCl3\"\ntheoretical_solid = \"{theory}\"\ncollected_solid = \"1.000 g\"\niron = \"19.28 %\"\n"
        )
    };
    for (moles, theory, shown) in [
        ("0.01671 mol", "1.786 g", false),
        ("0.01003 mol", "1.072 g", true),
    ] {
        fs::write(at.join("a.toml"), data(moles, theory)).unwrap();
        for template in ["report", "formal", "worksheet"] {
            gramleaf(
                at,
                &[
                    "draft",
                    "a.toml",
                    "--lab",
                    "lab.toml",
                    "--template",
                    template,
                    "--replace",
                ],
            );
            let report = fs::read_to_string(at.join("a.md")).unwrap();
            for mass in ["270.29", "106.866", "20.66"] {
                let wanted = shown && template != "worksheet";
                assert!(
                    wanted || !report.contains(mass),
                    "{mass} in {template}: {report}"
                );
            }
            if template == "report" {
                assert_eq!(report.contains("270.29"), shown, "{report}");
                assert_eq!(
                    report.contains("Percent iron in the yellow lumps: after your own answer to:"),
                    !shown,
                    "{report}"
                );
            }
        }
    }
}

/// Which equation fits is not told by what stays hidden: while the students have not said which, nothing is weighed for
/// either, and nothing is judged by the first.
#[test]
fn causes_wait_alike_for_both_equations() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::copy("samples/iron-copper-chloride/lab.toml", at.join("lab.toml")).unwrap();
    let first = fs::read_to_string("samples/iron-copper-chloride/7-08.toml").unwrap();
    // With heavier nails left, 0.022895 mol of copper stand beside 0.86/55.845 mol of iron: 1.49.
    let second = [
        (
            "nail_dish_with_nails = \"6.14 g\"",
            "nail_dish_with_nails = \"6.61 g\"",
        ),
        (
            "measured_left_iron = \"3.70 g\"",
            "measured_left_iron = \"4.17 g\"",
        ),
        (
            "used_iron          = \"1.33 g\"",
            "used_iron          = \"0.86 g\"",
        ),
        (
            "ratio_copper_iron  = \"0.965\"",
            "ratio_copper_iron  = \"1.49\"",
        ),
    ]
    .iter()
    .fold(first.clone(), |text, (from, to)| {
        assert!(text.contains(from), "{text}");
        text.replace(from, to)
    });
    let (before, rest) = first.split_once("question_1 = '''\n").unwrap();
    let answer = rest.split_once("\n'''").unwrap().0;
    assert!(!before.contains(answer));
    let looked = |data: &str, own: &str| {
        fs::write(at.join("7-08.toml"), data.replace(answer, own)).unwrap();
        let checked = gramleaf(at, &["check", "7-08.toml"]);
        assert!(checked.contains("11 of 11 given"), "{checked}");
        let causes = checked.split_once("  causes\n").unwrap().1.to_owned();
        gramleaf(at, &["draft", "7-08.toml", "--replace"]);
        let report = fs::read_to_string(at.join("7-08.md")).unwrap();
        let (results, discussed) = report.split_once("Error discussion").unwrap();
        let results = results.split_once("8 Results").unwrap().1;
        let split = results.contains("how far the reaction went");
        assert_eq!(split, own.starts_with("The one"), "{results}");
        (
            causes,
            discussed.split_once("### Discussion").unwrap().0.to_owned(),
        )
    };
    for own in ["", "?", " … ?!"] {
        let (causes, discussed) = looked(&first, own);
        assert_eq!(
            (&causes, &discussed),
            (&looked(&second, own).0, &looked(&second, own).1)
        );
        let waits = "waits until you have said which of the equations your data speak for";
        assert_eq!(causes.matches(waits).count(), 4, "{causes}");
        assert!(discussed.contains("once you have said which equation your data speak for."));
        for judged in [
            "12.21",
            "above",
            "below",
            "Completion",
            "fits",
            "your own answers to the steps",
        ] {
            assert!(!discussed.contains(judged), "{judged}: {discussed}");
        }
    }
    for data in [&first, &second] {
        let (causes, discussed) = looked(data, "The one that fits.");
        assert!(!causes.contains("waits"), "{causes}");
        assert!(discussed.contains("The data favour"), "{discussed}");
        assert!(discussed.contains("Completion"), "{discussed}");
    }
}

/// A lab whose accepted values stand on labels, one of them read by way of a quantity that nobody is asked for.
const LABELS: &str = r#"
id = "powder"
title = "Powder"
equation = "2 NaHCO3 -> Na2CO3 + H2O + CO2"
[substance.soda]
formula = "NaHCO3"
[substance.carbonate]
formula = "Na2CO3"
[instrument.balance]
unit = "g"
readability = "0.001 g"
[given]
factor = "3.107"
printed_percent = "61.3 %"
printed_part = "0.3711"
[day.1]
title = "Heat"
readings = [{ name = "mixture", label = "mixture" }, { name = "lost", label = "mass lost" }]
[find.percent]
title = "percent soda"
value = "100 * lost * factor / mixture"
expected = "printed_percent"
unit = "%"
question = "percent soda"
[find.label_share]
title = "share that the label states"
value = "2 * printed_part"
[find.share]
title = "share lost, doubled"
value = "2 * lost / mixture"
expected = "label_share"
question = "share lost, doubled"
[ask]
percent = true
share = true
"#;

/// What a result is held against is told on no page for students before their own result stands; what the working needs is.
#[test]
fn accepted_values_from_a_label_are_no_givens_of_a_form() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    fs::write(at.join("lab.toml"), LABELS).unwrap();
    let hidden = ["61.3", "0.3711", "0.7422"];
    let start = |more: &[&str]| {
        let words = [&["start", "lab.toml", "--out", "-"][..], more].concat();
        gramleaf(at, &words)
    };
    let form = start(&["--group", "3-07"]);
    assert!(form.contains("# given: factor = 3.107"), "{form}");
    let pages = [
        form.clone(),
        start(&["--sheet", "prelab"]),
        start(&["--sheet", "bench"]),
    ];
    for page in &pages {
        assert!(!hidden.iter().any(|value| page.contains(value)), "{page}");
    }
    // 100 × 0.400 × 3.107 ÷ 2.000 = 62.14 %; 2 × 0.400 ÷ 2.000 = 0.4000.
    let filled = form
        .replace("mixture = \"\"", "mixture = \"2.000 g\"")
        .replace("lost    = \"\"", "lost = \"0.400 g\"");
    let answered = filled
        .replace("percent = \"\"", "percent = \"62.1 %\"")
        .replace("share   = \"\"", "share = \"0.400\"");
    assert_ne!(filled, answered);
    for (text, shown) in [(&filled, false), (&answered, true)] {
        fs::write(at.join("3-07.toml"), text).unwrap();
        for template in ["worksheet", "formal", "report"] {
            let words = ["draft", "3-07.toml", "--replace", "--template", template];
            gramleaf(at, &words);
            let report = fs::read_to_string(at.join("3-07.md")).unwrap();
            let shown = shown && template != "worksheet";
            for value in ["61.3", "0.7422"] {
                assert_eq!(report.contains(value), shown, "{value}: {report}");
            }
        }
    }
    // A class page shows it, but where the teacher alone is to see it.
    fs::create_dir(at.join("class")).unwrap();
    for group in 1..=5 {
        let text = answered.replace("\"3-07\"", &format!("\"3-0{group}\""));
        fs::write(at.join(format!("class/3-0{group}.toml")), text).unwrap();
    }
    for (policy, shown) in [("after-answer", true), ("teacher", false)] {
        let lab =
            format!("{LABELS}[policy]\nshow_working = \"{policy}\"\n[share]\nworking = true\n");
        fs::write(at.join("lab.toml"), lab).unwrap();
        gramleaf(
            at,
            &["share", "class", "--lab", "lab.toml", "--out", policy],
        );
        for page in ["results.md", "groups/3-02.md"] {
            let page = fs::read_to_string(at.join(policy).join(page)).unwrap();
            for value in ["61.3", "0.742"] {
                assert_eq!(page.contains(value), shown, "{value}: {page}");
            }
        }
    }
}

/// Forty quantities, each the sum of all those before it, and one that is held against the last of them: looked for way by way,
/// what leads to the accepted value would take until the end of school.
#[test]
fn what_leads_to_an_accepted_value_is_looked_for_once() {
    let sample = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/samples/zinc-copper-sulfate/lab.toml"
    );
    let mut finds = String::new();
    let mut earlier = "zinc_before".to_owned();
    for number in 0..40 {
        let find = format!("\n[find.q{number}]\ntitle = \"q {number}\"\nunit = \"g\"\n");
        finds += &format!("{find}value = \"{earlier}\"\n");
        earlier += &format!(" + q{number}");
    }
    finds += "\n[find.last]\ntitle = \"last\"\nunit = \"g\"\nvalue = \"zinc_before\"\nexpected = \"q39\"\n\n[ask]\n";
    let unasked: String = (0..40)
        .map(|number| format!("q{number} = false\n"))
        .collect();
    let lab = fs::read_to_string(sample).unwrap();
    assert!(lab.contains("[ask]\n"));
    let folder = tempfile::tempdir().unwrap();
    let lab = lab.replace("[ask]\n", &(finds + &unasked));
    fs::write(folder.path().join("lab.toml"), lab).unwrap();
    gramleaf(
        folder.path(),
        &["start", "lab.toml", "--group", "7", "--out", "7.toml"],
    );
    gramleaf(folder.path(), &["draft", "7.toml", "--lab", "lab.toml"]);
    let report = fs::read_to_string(folder.path().join("7.md")).unwrap();
    assert!(report.contains("last"), "{report}");
}
