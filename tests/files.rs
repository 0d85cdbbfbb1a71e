//! Files as people write them: a sample for every problem code, and a row for everything that students find hard.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

use gramleaf::lab;
use gramleaf::lab::Lab;
use gramleaf::problem::Code;
use gramleaf::problem::Problem;
use gramleaf::problem::Severity;
use gramleaf::problem::Source;
use gramleaf::problem::print::print;
use gramleaf::record;
use gramleaf::record::Content;
use gramleaf::record::Record;
use gramleaf::working;

/// What is expected of a file: severity, code, and the line (0 for the whole file).
type Found = (String, String, usize);

/// Codes that only the commands find, since they look for other files.
const FOUND_BY_COMMANDS: &[Code] = &[Code::LabNotFound, Code::ReadingsOf];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/problems")
}

/// Every sample: its name and bytes.
fn samples() -> Vec<(String, Vec<u8>)> {
    let mut samples: Vec<_> = fs::read_dir(folder())
        .expect("the folder of samples")
        .map(|entry| entry.expect("an entry").path())
        .map(|path| {
            (
                path.file_name()
                    .expect("a name")
                    .to_string_lossy()
                    .into_owned(),
                fs::read(&path).expect("a sample"),
            )
        })
        .filter(|(name, _)| name != "bench.lab.toml")
        .collect();
    samples.sort();
    samples
}

/// The lab that the samples belong to, and the ids of its steps.
fn bench() -> (Lab, Vec<String>) {
    let bytes = fs::read(folder().join("bench.lab.toml")).expect("the lab");
    let (source, problems) = Source::decode("bench.lab.toml".to_owned(), &bytes);
    assert!(problems.is_empty());
    let (lab, problems) = lab::check::check(&source);
    assert!(problems.is_empty(), "{}", print(&source, &problems, false));
    let lab = lab.expect("a lab");
    let (graph, problems) = working::plan::plan(&lab);
    assert!(problems.is_empty(), "{}", print(&source, &problems, false));
    let steps = graph.steps().iter().map(|step| step.id.clone()).collect();
    (lab, steps)
}

/// Reads a data file as the commands do, as far as no other file is needed.
fn data_file(name: &str, bytes: &[u8]) -> (Source, Vec<Problem>, Option<Record>) {
    let (source, mut problems) = Source::decode(name.to_owned(), bytes);
    if source.text.is_empty() {
        return (source, problems, None);
    }
    let written = record::read(source.clone());
    if written.is_lab {
        problems.extend(written.problems);
        return (source, problems, None);
    }
    let (lab, steps) = bench();
    let (graph, _) = working::plan::plan(&lab);
    let (mut record, found) = record::check(&written, &lab, &steps);
    problems.extend(found);
    let (worked, odd) = working::work(&lab, &graph, &mut record);
    problems.extend(odd);
    problems.extend(gramleaf::answers::judge(&lab, &graph, &record, &worked).1);
    (source, problems, Some(record))
}

/// Reads a lab description as the commands do.
fn lab_description(name: &str, bytes: &[u8]) -> (Source, Vec<Problem>) {
    let (source, mut problems) = Source::decode(name.to_owned(), bytes);
    let (lab, found) = lab::check::check(&source);
    problems.extend(found);
    if let Some(lab) = lab {
        problems.extend(working::plan::plan(&lab).1);
        problems.extend(gramleaf::causes::catalogue::unknown_supports(&lab));
    }
    (source, problems)
}

/// What the comments of a sample expect.
fn expected(text: &str) -> Vec<Found> {
    let mut expected = Vec::new();
    for (index, line) in text.lines().enumerate() {
        for (mark, number) in [("#! ", index + 1), ("#^ ", index), ("#!! ", 0)] {
            for wanted in line.split(mark).skip(1) {
                let wanted = wanted.split('#').next().unwrap_or_default();
                let (severity, code) = wanted
                    .trim()
                    .split_once(": ")
                    .unwrap_or_else(|| panic!("{line}"));
                expected.push((severity.to_owned(), code.to_owned(), number));
            }
        }
    }
    expected.sort();
    expected
}

fn found(source: &Source, problems: &[Problem]) -> Vec<Found> {
    let mut found: Vec<Found> = problems
        .iter()
        .map(|problem| {
            let severity = match problem.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
                Severity::Note => "note",
            };
            let line = problem
                .labels
                .first()
                .map_or(0, |label| source.line_column(label.span.start).0);
            (severity.to_owned(), problem.code.as_str().to_owned(), line)
        })
        .collect();
    found.sort();
    found
}

#[test]
fn each_sample_has_the_problems_that_it_names_and_no_other() {
    let mut faults = Vec::new();
    for (name, bytes) in samples() {
        let (source, problems) = if name.ends_with(".lab.toml") {
            lab_description(&name, &bytes)
        } else {
            let (source, problems, _) = data_file(&name, &bytes);
            (source, problems)
        };
        let text = if source.text.is_empty() {
            String::from_utf8_lossy(&bytes).into_owned()
        } else {
            source.text.clone()
        };
        let mut wanted = expected(&text);
        wanted.retain(|(_, code, _)| !FOUND_BY_COMMANDS.iter().any(|later| later.as_str() == code));
        let found = found(&source, &problems);
        if found != wanted {
            faults.push(format!(
                "{name}\n  wanted {wanted:?}\n  found  {found:?}\n{}",
                print(&source, &problems, false)
            ));
        }
        for problem in &problems {
            assert!(
                problem.help.is_some(),
                "{name}: {} has no next step",
                problem.message
            );
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn every_code_has_a_sample() {
    let named: BTreeSet<String> = samples()
        .iter()
        .flat_map(|(_, bytes)| {
            let (source, _) = Source::decode(String::new(), bytes);
            let text = if source.text.is_empty() {
                String::from_utf8_lossy(bytes).into_owned()
            } else {
                source.text
            };
            expected(&text)
                .into_iter()
                .map(|(_, code, _)| code)
                .collect::<Vec<_>>()
        })
        .collect();
    let missing: Vec<&str> = Code::ALL
        .iter()
        .map(|code| code.as_str())
        .filter(|code| !named.contains(*code))
        .collect();
    assert!(missing.is_empty(), "no sample for {missing:?}");
}

#[test]
fn the_commands_find_what_needs_other_files() {
    for code in FOUND_BY_COMMANDS {
        let path = format!("samples/problems/{}.toml", code.as_str());
        let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args(["check", &path])
            .output()
            .expect("the program runs");
        let said = String::from_utf8_lossy(&output.stderr);
        let line = expected(&fs::read_to_string(&path).expect("the sample"))[0].2;
        assert!(
            said.contains(&format!("error[{}]", code.as_str())),
            "{said}"
        );
        assert!(
            said.contains(&format!("{}.toml:{line}:", code.as_str())),
            "{said}"
        );
        assert_eq!(output.status.code(), Some(1));
    }
}

#[test]
fn a_problem_reads_as_a_sentence_a_quoted_line_and_a_next_step() {
    for (name, parts) in [
        (
            "missing-quote.toml",
            &[
                "a quote mark is missing",
                "dish_empty     = \"2.45 g",
                "^",
                "type \"2.45 g\"",
            ][..],
        ),
        (
            "lighter-than-empty.toml",
            &[
                "weighs no more than",
                "dish_with_salt = \"2.45 g\"",
                "swapped",
            ],
        ),
        (
            "unknown-reading.toml",
            &[
                "no reading called `zinc_befor`",
                "did you mean `zinc_before`?",
            ],
        ),
        (
            "doubled-key.toml",
            &[
                "you have two lines called zinc_before",
                "the first one",
                "the second one",
            ],
        ),
        ("not-text.toml", &["word-processor", "plain text editor"]),
    ] {
        let bytes = fs::read(folder().join(name)).expect("the sample");
        let (source, problems, _) = data_file(name, &bytes);
        let text = print(&source, &problems, false);
        for part in parts {
            assert!(text.contains(part), "{name}: “{part}” is not in\n{text}");
        }
    }
}

/// The content of `zinc_before` when a line of a form is as given, and the codes of its errors.
fn line(line: &str) -> (String, Vec<&'static str>) {
    let text = format!(
        "[who]\nlab = \"bench\"\ngroup = \"1\"\n[day.1]\n{line}\nwater_added = \"50.0 mL\"\n"
    );
    let (source, problems, record) = data_file("line.toml", text.as_bytes());
    let record = record.expect("a record");
    let (lab, _) = bench();
    let water = &record.readings[lab.reading_index("water_added").expect("asked for")];
    assert!(
        water.usable().is_some(),
        "{line}: the next line was lost\n{}",
        print(&source, &problems, false)
    );
    let zinc = &record.readings[lab.reading_index("zinc_before").expect("asked for")];
    let content = match zinc.entries.last().map(|entry| &entry.content) {
        None => String::new(),
        Some(Content::Value(reading)) => reading.to_string(),
        Some(Content::Missing(word)) => format!("missing: {word}"),
        Some(Content::Unreadable) => "unreadable".to_owned(),
    };
    let errors = problems
        .iter()
        .filter(|problem| problem.severity == Severity::Error)
        .map(|problem| problem.code.as_str());
    (content, errors.collect())
}

/// What students type, bare and between the quotes of the form: what is read, and the errors.
macro_rules! hard {
    ($($name:ident: $typed:expr => bare $bare:expr, $bare_errors:expr; quoted $quoted:expr, $quoted_errors:expr;)*) => {
        $(#[test]
        fn $name() {
            for typed in $typed {
                let (bare, bare_errors): (&str, &[&str]) = ($bare, &$bare_errors);
                let (quoted, quoted_errors): (&str, &[&str]) = ($quoted, &$quoted_errors);
                assert_eq!(line(&format!("zinc_before = {typed}")), (bare.to_owned(), bare_errors.to_vec()), "{typed} bare");
                assert_eq!(line(&format!("zinc_before = \"{typed}\"")), (quoted.to_owned(), quoted_errors.to_vec()), "{typed} between quotes");
            }
        })*
    };
}

hard! {
    a_unit_behind_the_number: ["104.18 g", "104.18g"] => bare "104.18 g", ["bare-value"]; quoted "104.18 g", [];
    a_decimal_comma: ["1,50"] => bare "1.50 g", ["bare-value"]; quoted "1.50 g", [];
    a_comma_that_may_be_either: ["1,525"] => bare "unreadable", ["bare-value", "reading"]; quoted "unreadable", ["reading"];
    a_point_in_front: [".97"] => bare "0.97 g", ["bare-value"]; quoted "0.97 g", [];
    a_point_behind: ["104."] => bare "104 g", ["bare-value"]; quoted "104 g", [];
    a_zero_in_front: ["04.36"] => bare "4.36 g", ["bare-value"]; quoted "4.36 g", [];
    nothing_yet: [""] => bare "", ["blank-value"]; quoted "", [];
    a_question_mark: ["?"] => bare "missing: ?", ["bare-value"]; quoted "missing: ?", [];
    not_available: ["N/A"] => bare "missing: N/A", ["bare-value"]; quoted "missing: N/A", [];
    lost: ["lost"] => bare "missing: lost", ["bare-value"]; quoted "missing: lost", [];
    spilled: ["spilled"] => bare "missing: spilled", ["bare-value"]; quoted "missing: spilled", [];
    its_own_uncertainty: ["1.50 ± 0.01"] => bare "1.50 ± 0.01 g", ["bare-value"]; quoted "1.50 ± 0.01 g", [];
    roughly: ["~25"] => bare "~25 g", ["bare-value"]; quoted "~25 g", [];
    a_power_of_ten: ["2.41x10^-2"] => bare "0.0241 g", ["bare-value"]; quoted "0.0241 g", [];
    a_slashed_date: ["3/4/2026"] => bare "unreadable", ["bare-value", "reading"]; quoted "unreadable", ["reading"];
    a_typographic_minus: ["−5.0 °C"] => bare "unreadable", ["bare-value", "wrong-unit"]; quoted "unreadable", ["wrong-unit"];
    nan: ["nan", "inf"] => bare "unreadable", ["reading"]; quoted "unreadable", ["reading"];
    fewer_digits_than_the_balance_shows: ["104"] => bare "104 g", []; quoted "104 g", [];
    a_zero_at_the_end: ["1.50"] => bare "1.50 g", []; quoted "1.50 g", [];
    a_correction: ["105.68 g (was 106.58, misread)"] => bare "105.68 g (was 106.58, misread)", ["bare-value"]; quoted "105.68 g (was 106.58, misread)", [];
    another_unit: ["4360 mg"] => bare "4360 mg", ["bare-value"]; quoted "4360 mg", [];
}

#[test]
fn a_word_for_no_reading_with_a_reading_behind_it_says_how_to_write_it() {
    for (typed, rewritten) in [
        ("spilled some, 2.31 g", Some("\"2.31 g (spilled some)\"")),
        ("lost a little - 2.31", Some("\"2.31 (lost a little)\"")),
        ("lost on day 2", None),
        ("lost at 14:10", None),
        ("lost 20 mL of the washings", None),
    ] {
        let text = format!("[who]\nlab = \"bench\"\n[day.1]\nzinc_before = \"{typed}\"\n");
        let (_, problems, _) = data_file("spilled.toml", text.as_bytes());
        let help = problems.iter().find_map(|problem| problem.help.clone());
        match rewritten {
            Some(line) => assert!(help.is_some_and(|help| help.contains(line)), "{typed}"),
            None => assert!(problems.is_empty(), "{typed}: {problems:?}"),
        }
    }
}

#[test]
fn percent_is_an_answer() {
    let text = "[who]\nlab = \"bench\"\n[answers]\npercent_yield = \"97.9%\"\nmass_salt = \"6.02 g\"\nmoles_salt = 0.0240\n";
    let (_, problems, record) = data_file("answers.toml", text.as_bytes());
    assert!(problems.is_empty(), "{problems:?}");
    let answers: Vec<_> = record
        .expect("a record")
        .answers
        .into_iter()
        .map(|answer| answer.typed)
        .collect();
    assert_eq!(answers, ["97.9%", "6.02 g", "0.0240"]);
}

#[test]
fn an_apostrophe_and_a_backslash() {
    for (typed, read, codes) in [
        ("\"it's black\"", "it's black", &[][..]),
        ("'it's black'", "its black", &["quote-inside"]),
        ("'''it's black'''", "it's black", &[]),
        ("\"Cu\\Zn\"", "Cu\\Zn", &["backslash"]),
        ("'''Cu\\Zn'''", "Cu\\Zn", &[]),
    ] {
        let text = format!("[who]\nlab = \"bench\"\n[day.2]\nseen = {typed}\n");
        let (_, problems, record) = data_file("seen.toml", text.as_bytes());
        assert_eq!(
            record.expect("a record").days[1].seen.as_deref(),
            Some(read),
            "{typed}"
        );
        assert_eq!(
            problems
                .iter()
                .map(|problem| problem.code.as_str())
                .collect::<Vec<_>>(),
            codes,
            "{typed}"
        );
    }
}

#[test]
fn curly_quotes_a_missing_quote_and_what_stands_for_the_equals_sign() {
    for (typed, code) in [
        ("zinc_before = “4.36 g”", "curly-quotes"),
        ("zinc_before = ‘4.36 g’", "curly-quotes"),
        ("zinc_before = \"4.36 g", "missing-quote"),
        ("zinc_before = 4.36 g\"", "missing-quote"),
        ("zinc before = \"4.36 g\"", "space-in-name"),
        ("zinc_before : \"4.36 g\"", "missing-equals"),
        ("zinc_before \"4.36 g\"", "missing-equals"),
        (
            "zinc_before = \"4.36 g\"\nzinc_before = \"\"",
            "doubled-key",
        ),
    ] {
        assert_eq!(line(typed), ("4.36 g".to_owned(), vec![code]), "{typed}");
    }
    assert_eq!(
        line("zinc_before = \"4.36 g\"\nzinc_before = \"4.63 g\""),
        (String::new(), vec!["doubled-key"])
    );
}

#[test]
fn a_form_of_another_editor_is_read_the_same() {
    let form = "[who]\nlab = \"bench\"\n[day.1]\nzinc_before = \"4.36 g\"\nroom = \"21.5 °C\"\n";
    let dos = form.replace('\n', "\r\n");
    let forms: [Vec<u8>; 5] = [
        form.into(),
        dos.clone().into(),
        [&b"\xEF\xBB\xBF"[..], dos.as_bytes()].concat(),
        form.replace(" = ", "\u{a0}= ").into(),
        form.chars()
            .map(|c| u8::try_from(u32::from(c)).expect("Latin-1"))
            .collect(),
    ];
    let (lab, _) = bench();
    for bytes in forms {
        let (source, problems, record) = data_file("form.toml", &bytes);
        let record = record.expect("a record");
        assert!(
            !gramleaf::problem::any_error(&problems),
            "{}",
            print(&source, &problems, false)
        );
        let room = record.readings[lab.reading_index("room").expect("asked for")]
            .usable()
            .map(ToString::to_string);
        assert_eq!(room.as_deref(), Some("21.5 °C"));
    }
}

/// Files that broke off, lost a character or gained one: whatever is left is read, and printing never stops.
#[test]
fn no_broken_file_stops_the_program() {
    let whole = include_str!("../samples/zinc-copper-sulfate/3-07.toml")
        .replace("zinc-copper-sulfate", "bench");
    let lab = include_str!("../samples/problems/bench.lab.toml");
    for (text, is_lab) in [(whole.as_str(), false), (lab, true)] {
        for (at, c) in text.char_indices().step_by(23) {
            let (front, back) = text.split_at(at);
            let mut broken = vec![
                front.to_owned(),
                format!("{front}{}", &back[c.len_utf8()..]),
            ];
            broken.extend(["\"", "'''", "[", "#", "="].map(|mark| format!("{front}{mark}{back}")));
            for text in broken {
                let (source, problems) = if is_lab {
                    lab_description("broken", text.as_bytes())
                } else {
                    let (source, problems, _) = data_file("broken", text.as_bytes());
                    (source, problems)
                };
                assert_eq!(
                    print(&source, &problems, true).is_empty(),
                    problems.is_empty()
                );
            }
        }
    }
}

/// A form whose prose holds what programs and slips look like, beside one slip: the slip alone is told, and no prose is lost.
#[test]
fn one_slip_costs_no_prose() {
    let (lab, steps) = bench();
    let prose = [
        "```python\nyield_ = 1.51/1.59\n```\nend",
        "n = m/M\n\n= 4.36/65.38\n\nrate = \"fast\"",
        "[day.1]\nmass = 3 g\n# Heading",
    ];
    let blocks: Vec<String> = (1..)
        .zip(prose)
        .map(|(number, text)| format!("question_{number} = '''\n{text}\n'''\n"))
        .collect();
    let file = |quote: &str| {
        format!(
            "[who]\nlab = \"bench\"\ngroup = {quote}3-07{quote}\n[words] # between ''' and '''\n{}",
            blocks.concat()
        )
    };
    for (quote, slips) in [("\"", 0), ("", 1)] {
        let source = Source {
            name: "3-07.toml".to_owned(),
            text: file(quote),
        };
        let written = record::read(source);
        let (record, _) = record::check(&written, &lab, &steps);
        assert_eq!(written.problems.len(), slips, "{:?}", written.problems);
        assert_eq!(record.who.group, "3-07");
        let read: Vec<&str> = record.words.iter().map(|(_, text)| text.as_str()).collect();
        assert_eq!(read, prose);
    }
}
