//! How documents come out: students' signs as typed, lists and headings numbered as printed, drawings that fit small screens.

#![allow(clippy::unwrap_used, reason = "a test stops at what it cannot use")]

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

const ZINC: &str = "zinc-copper-sulfate/3-07.toml";

/// Markdown and page of a sample's group, with pieces of its data file exchanged.
fn drafted(sample: &str, template: &str, changes: &[(&str, &str)]) -> (String, String) {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(samples.join(sample)).unwrap();
    let text = changes.iter().fold(text, |text, (from, to)| {
        assert!(text.contains(from), "no {from}");
        text.replace(from, to)
    });
    let data = folder.path().join("data.toml");
    fs::write(&data, text).unwrap();
    let lab = samples.join(sample).with_file_name("lab.toml");
    let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .args(["draft", "--key", "--template", template, "--lab"])
        .args([&lab, &data])
        .output()
        .unwrap();
    assert!(run.status.success(), "{run:?}");
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).unwrap();
    (read("data.md"), read("data.html"))
}

/// Every complete group among the samples.
fn groups() -> Vec<String> {
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let mut found = Vec::new();
    for folder in fs::read_dir(&samples).unwrap() {
        let folder = folder.unwrap().path();
        if !folder.join("lab.toml").exists() {
            continue;
        }
        for file in fs::read_dir(&folder).unwrap() {
            let file = file.unwrap().path();
            if file.extension().is_some_and(|end| end == "toml") && !file.ends_with("lab.toml") {
                let name = file.strip_prefix(&samples).unwrap();
                found.push(name.to_string_lossy().replace('\\', "/"));
            }
        }
    }
    assert!(found.len() > 10, "{found:?}");
    found.sort();
    found
}

/// The numbers of headings like `## 3 Data`.
fn numbers(report: &str) -> Vec<u32> {
    let headings = report.lines().filter_map(|line| line.strip_prefix("## "));
    headings
        .filter_map(|heading| heading.split(' ').next()?.parse().ok())
        .collect()
}

#[test]
fn numbers_that_students_type_come_out_as_typed() {
    let (report, page) = drafted(
        ZINC,
        "report",
        &[(
            "Solution clear blue.",
            "1.51/1.593*100*1 = 94.8, 0.0251*1*63.55 = 1.6, 2 * 3 * 4. About ~5 g and ~6 g of H~2~O, *very* wet.",
        )],
    );
    assert!(report.contains("1.51/1.593\\*100\\*1 = 94.8"), "{report}");
    for shown in [
        "1.51/1.593*100*1 = 94.8, 0.0251*1*63.55 = 1.6, 2 * 3 * 4.",
        "About ~5 g and ~6 g of H<sub>2</sub>O, <em>very</em> wet.",
    ] {
        assert!(page.contains(shown), "{shown}: {page}");
    }
}

#[test]
fn causes_are_numbered_and_say_what_they_say() {
    let (report, page) = drafted(
        ZINC,
        "report",
        &[
            (
                "[cause.2]\nwhat      = \"\"\nevidence  = \"\"\neffect    = \"\"",
                "[cause.2]\nwhat      = \"the copper was still wet\"\nevidence  = \"clumpy\"\neffect    = \"it made it lower\"",
            ),
            (
                "product_still_damp = \"no\"",
                "product_still_damp = \"yes\"",
            ),
        ],
    );
    for text in [
        "\n1. **Was any solid poured away with the liquid?** (effect on the result: lower);",
        "\n2. **the copper was still wet** (effect on the result: it made it lower); how they know: clumpy",
        ". What stands there as evidence is in none of the notes: write what was seen under its day.",
    ] {
        assert!(report.contains(text), "{text}: {report}");
    }
    let list = page.split("What the group names").nth(1).unwrap();
    assert_eq!(list.matches("<ol>").count(), 1, "{list}");
    assert!(!list.contains("<ol start"), "{list}");
}

#[test]
fn a_list_that_is_announced_is_there() {
    // The third has more product than can form and as much more metal used: nothing that was noted says why.
    let cases = [
        (
            ZINC,
            "\"105.70 g\", \"105.68 g\"",
            "105.82 g",
            "5.14 g",
            "5.06 g",
        ),
        (
            ZINC,
            "\"105.70 g\", \"105.68 g\"",
            "105.84 g",
            "5.14 g",
            "5.06 g",
        ),
        (
            "aluminium-copper-chloride/5-03.toml",
            "\"99.94 g\", \"99.91 g\"",
            "100.12 g",
            "2.76 g",
            "2.75 g",
        ),
    ];
    let leads = cases.map(|(sample, product, mass, left, other)| {
        let mass = format!("\"{mass}\", \"{mass}\"");
        let changes = [
            (product, mass.as_str()),
            (left, other),
            ("\"yes\" ", "\"no\" "),
        ];
        let (report, _) = drafted(sample, "report", &changes);
        let (_, behind) = report.split_once("### What could explain it\n\n").unwrap();
        let (lead, behind) = behind.split_once("\n\n").unwrap();
        let list = lead.contains("Each of these") || lead.contains("These would");
        let begins = if list {
            "1. **"
        } else {
            "Right in direction and possible in size: "
        };
        assert!(behind.starts_with(begins), "{lead}\n{behind}");
        lead.to_owned()
    });
    for (lead, begins) in leads.iter().zip([
        "Each of these would explain all",
        "No single cause explains all that was measured. These",
        "Nothing that was written down speaks clearly for one of",
    ]) {
        assert!(lead.starts_with(begins), "{lead}");
    }
}

#[test]
fn headings_are_numbered_without_gaps() {
    for sample in groups() {
        for template in ["report", "formal"] {
            let (report, page) = drafted(&sample, template, &[]);
            let numbers = numbers(&report);
            let expected: Vec<u32> = (1..).take(numbers.len()).collect();
            assert_eq!(numbers, expected, "{sample} {template}");
            assert!(numbers.len() > 6, "{sample} {template}: {numbers:?}");
            let ids: Vec<&str> = page
                .split(" id=\"")
                .skip(1)
                .filter_map(|behind| behind.split('"').next())
                .collect();
            let different: BTreeSet<&&str> = ids.iter().collect();
            assert_eq!(different.len(), ids.len(), "{sample} {template}: {ids:?}");
        }
    }
    // A section that is left out leaves no gap, and no anchor changes.
    let without = [("procedure = '''", "procedure_then = '''")];
    let (report, page) = drafted(ZINC, "formal", &without);
    assert!(report.contains("\n## 4 Data\n"), "{report}");
    assert!(page.contains("<h2 id=\"data\">4 Data</h2>"), "{page}");
}

#[test]
fn another_digit_is_spoken_of_only_where_the_display_makes_the_uncertainty() {
    let says = "showed one more decimal";
    let (report, _) = drafted(ZINC, "formal", &[]);
    assert!(report.contains(says), "{report}");
    // The uncertainty of what states its own ± does not come from the display, nor does that of a tolerance.
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let folder = tempfile::tempdir().unwrap();
    let lab = fs::read_to_string(samples.join("zinc-copper-sulfate/lab.toml")).unwrap();
    let display = "readability = \"0.01 g\"";
    assert!(lab.contains(display), "{lab}");
    let lab = lab.replace(display, "tolerance = \"0.01 g\"");
    fs::write(folder.path().join("lab.toml"), lab).unwrap();
    fs::copy(samples.join(ZINC), folder.path().join("data.toml")).unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .current_dir(folder.path())
        .args([
            "draft",
            "--key",
            "--template",
            "formal",
            "--lab",
            "lab.toml",
            "data.toml",
        ])
        .output()
        .unwrap();
    assert!(run.status.success(), "{run:?}");
    let report = fs::read_to_string(folder.path().join("data.md")).unwrap();
    assert!(!report.contains(says), "{report}");
}

/// Headings of a report with nothing before the next one of their depth.
fn empty_headings(report: &str) -> Vec<&str> {
    let depth = |line: &str| line.bytes().take_while(|byte| *byte == b'#').count();
    let mut in_code = false;
    let mut found = Vec::new();
    let mut open: Option<&str> = None;
    for line in report.lines().filter(|line| !line.trim().is_empty()) {
        in_code ^= line.starts_with("```");
        if depth(line) > 0 && !in_code {
            found.extend(open.filter(|before| depth(line) <= depth(before)));
            open = Some(line);
        } else if !line.starts_with("<!--") {
            open = None;
        }
    }
    found.extend(open);
    found
}

#[test]
fn no_heading_stands_over_nothing_and_a_formal_report_asks_nothing() {
    let found = empty_headings("# A\n\n## B\n\n## C\nx\n### D\n");
    assert_eq!(found, ["## B", "### D"]);
    for sample in groups() {
        for template in ["report", "formal"] {
            let (report, _) = drafted(&sample, template, &[]);
            let empty = empty_headings(&report);
            assert!(empty.is_empty(), "{sample} {template}: {empty:?}");
            let asks = ["**Asks**", "**Frage**"]
                .iter()
                .any(|word| report.contains(word));
            assert!(template == "report" || !asks, "{sample}: {report}");
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let run = |arguments: &[&str]| {
        let run = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args(arguments)
            .current_dir(folder.path())
            .output()
            .unwrap();
        assert!(run.status.success(), "{run:?}");
    };
    run(&["start", "zinc-copper-sulfate", "--out", "blank.toml"]);
    let report = |template: &str, (from, to): (&str, &str)| {
        let form = fs::read_to_string(folder.path().join("blank.toml")).unwrap();
        assert!(form.contains(from), "{form}");
        fs::write(folder.path().join("x.toml"), form.replacen(from, to, 1)).unwrap();
        run(&[
            "draft",
            "x.toml",
            "--template",
            template,
            "--key",
            "--replace",
        ]);
        fs::read_to_string(folder.path().join("x.md")).unwrap()
    };
    let blank = report("formal", ("", ""));
    assert_eq!(empty_headings(&blank), [""; 0], "{blank}");
    for heading in ["Observations", "Error discussion", "**Asks**"] {
        assert!(!blank.contains(heading), "{heading}: {blank}");
    }
    let answered = report(
        "formal",
        ("product_still_damp = \"\"", "product_still_damp = \"no\""),
    );
    assert!(answered.contains(" Observations\n\n"), "{answered}");
    let asked = report("report", ("", ""));
    for question in ["What did you see?", "Which precautions did you take"] {
        assert!(asked.contains(&format!("> **Asks** {question}")), "{asked}");
    }
}

#[test]
fn differences_of_per_cents_are_percentage_points() {
    let (report, _) = drafted("magnesium-oxide/6-12.toml", "report", &[]);
    let row = "| percent magnesium in the product";
    let row = report.lines().find(|line| line.starts_with(row)).unwrap();
    assert!(row.contains("| +1.5 percentage points |"), "{row}");
}

/// A value of an attribute in what follows a tag's name.
fn attribute<'t>(tag: &'t str, name: &str) -> &'t str {
    let behind = tag.split_once(&format!(" {name}=\"")).unwrap().1;
    behind.split('"').next().unwrap()
}

#[test]
fn words_of_drawings_for_small_screens_stand_inside_them() {
    let mut drawings = 0;
    for sample in groups() {
        let (_, page) = drafted(&sample, "formal", &[]);
        for drawing in page.split("<svg viewBox=\"0 0 340 ").skip(1) {
            drawings += 1;
            let drawing = drawing.split("</svg>").next().unwrap();
            for piece in drawing.split("<text").skip(1) {
                let (tag, behind) = piece.split_once('>').unwrap();
                let words = behind.split('<').next().unwrap();
                let x: f64 = attribute(tag, "x").parse().unwrap();
                // As wide as common sans faces are at this size.
                let width = 6.6 * f64::from(u32::try_from(words.chars().count()).unwrap());
                let start = match attribute(tag, "text-anchor") {
                    "start" => x,
                    "middle" => x - width / 2.0,
                    _ => x - width,
                };
                assert!(
                    start > -8.0 && start + width < 348.0,
                    "{sample}: {words} from {start} to {}",
                    start + width
                );
            }
        }
    }
    assert!(drawings > 10, "{drawings}");
}
