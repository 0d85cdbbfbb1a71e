//! The JSON Schemas of both files: what they accept, what they refuse, and that they keep up with what the program reads.

#[path = "support/conforms.rs"]
mod conforms;

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::process::Output;

use conforms::faults;
use gramleaf::lab;
use gramleaf::lab::Lab;
use gramleaf::lab::builtin;
use gramleaf::problem::Problem;
use gramleaf::problem::Severity;
use gramleaf::problem::Source;
use gramleaf::record;
use gramleaf::report::form;
use gramleaf::report::form::FormFor;
use gramleaf::report::schema;
use gramleaf::working::Graph;
use gramleaf::working::plan::plan;
use serde_json::Value;

const LAB: &str = "samples/zinc-copper-sulfate/lab.toml";

fn read(path: &str) -> String {
    fs::read_to_string(path).unwrap_or_else(|why| panic!("{path}: {why}"))
}

fn json(toml: &str) -> Value {
    let table: toml::Table = toml.parse().unwrap_or_else(|why| panic!("{why}\n{toml}"));
    serde_json::to_value(table).expect("TOML fits into JSON")
}

fn source(text: &str) -> Source {
    Source {
        name: "file.toml".to_owned(),
        text: text.to_owned(),
    }
}

fn described(text: &str) -> (Lab, Graph) {
    let (lab, problems) = lab::check::check(&source(text));
    let lab = lab.unwrap_or_else(|| panic!("{problems:#?}"));
    let (graph, _) = plan(&lab);
    (lab, graph)
}

fn lab_schema() -> Value {
    serde_json::from_str(lab::SCHEMA).expect("JSON")
}

fn data_schema(lab: &Lab, graph: &Graph) -> Value {
    serde_json::from_str(&schema::data_file(lab, graph)).expect("JSON")
}

/// What the program says of a data file.
fn problems_of(text: &str, lab: &Lab, graph: &Graph) -> Vec<Problem> {
    let steps: Vec<String> = graph.steps().iter().map(|step| step.id.clone()).collect();
    record::check(&record::read(source(text)), lab, &steps).1
}

fn any_error(problems: &[Problem]) -> bool {
    problems
        .iter()
        .any(|problem| problem.severity == Severity::Error)
}

fn gramleaf(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .args(arguments)
        .output()
        .expect("the program runs")
}

/// The files of the folders below `samples` but `samples/problems`, which are wrong on purpose.
fn samples() -> Vec<String> {
    let mut found = Vec::new();
    for entry in walkdir::WalkDir::new("samples").sort_by_file_name() {
        let path = entry
            .expect("an entry")
            .path()
            .to_string_lossy()
            .replace('\\', "/");
        if path.ends_with(".toml") && !path.starts_with("samples/problems") {
            found.push(path);
        }
    }
    found
}

#[test]
fn every_lab_description_conforms() {
    let schema = lab_schema();
    let mut labs = 0;
    for path in samples().iter().filter(|path| path.ends_with("/lab.toml")) {
        assert_eq!(
            faults(&schema, &json(&read(path))),
            Vec::<String>::new(),
            "{path}"
        );
        labs += 1;
    }
    assert!(labs >= 16, "only {labs}");
}

#[test]
fn every_good_data_file_conforms_to_the_schema_of_its_lab() {
    let mut labs: BTreeMap<String, String> = BTreeMap::new();
    for path in samples().iter().filter(|path| path.ends_with("/lab.toml")) {
        let text = read(path);
        let id = json(&text)["id"].as_str().expect("an id").to_owned();
        labs.insert(id, text);
    }
    let mut files = 0;
    for path in samples().iter().filter(|path| !path.ends_with("/lab.toml")) {
        let text = read(path);
        let Ok(table) = text.parse::<toml::Table>() else {
            continue;
        };
        let Some(id) = table.get("who").and_then(|who| who.get("lab")?.as_str()) else {
            continue;
        };
        // Some name the description by its path.
        let beside = Path::new(path).with_file_name("lab.toml");
        let own = if id.ends_with(".toml") {
            fs::read_to_string(beside).ok()
        } else {
            labs.get(id).cloned()
        };
        let (lab, graph) = described(&own.unwrap_or_else(|| panic!("{path}: no lab {id}")));
        if any_error(&problems_of(&text, &lab, &graph)) {
            continue;
        }
        assert_eq!(
            faults(&data_schema(&lab, &graph), &json(&text)),
            Vec::<String>::new(),
            "{path}"
        );
        files += 1;
    }
    assert!(files >= 20, "only {files}");
}

#[test]
fn every_blank_form_conforms_and_the_schema_is_the_same_each_time() {
    for (id, text) in builtin::BUILT_IN {
        let (lab, graph) = described(text);
        let blank = form::form(&lab, &graph, id, &FormFor::default());
        assert_eq!(
            faults(&data_schema(&lab, &graph), &json(&blank)),
            Vec::<String>::new(),
            "{id}"
        );
        assert_eq!(
            schema::data_file(&lab, &graph),
            schema::data_file(&lab, &graph)
        );
    }
}

/// A lab description that names every section that has keys of its own.
const FULL: &str = r#"
id = "x"
title = "X"
equation = "Zn(s) + CuSO4(aq) -> ZnSO4(aq) + Cu(s)"
[substance.zinc]
formula = "Zn"
before = "strip"
[substance.copper]
formula = "Cu"
after = "product"
[instrument.balance]
unit = "g"
[given]
density = "1.00 g/mL"
[day.1]
readings = [ { name = "strip" }, { name = "product" } ]
[signs]
own = { question = "Was it?" }
[ask]
theoretical_copper = { points = 1 }
[find.more]
value = "strip"
[policy]
rounding = "half-up"
[atomic_weights]
Cu = "63.55"
[plan]
zinc = "4 g"
[share]
leave_out = { "3-07" = "spilled" }
[safety]
source = "us"
[text]
background = "b"
"#;

/// Each row: what is changed in a good description, and what of it is wrong.
const FAULTY_LABS: &[(&str, &str, &str)] = &[
    (
        "title = \"X\"",
        "titel = \"X\"",
        "a key misspelt, so that one is missing too",
    ),
    ("id = \"x\"", "id = 7", "a number for a name"),
    (
        "formula = \"Zn\"",
        "formla = \"Zn\"",
        "a key of a substance misspelt",
    ),
    (
        "[substance.zinc]",
        "[substance.Zinc_a]",
        "a capital and an underscore in the key of a substance",
    ),
    (
        "before = \"strip\"",
        "before = 4.3",
        "a number for an expression",
    ),
    (
        "after = \"product\"",
        "after = \"product\"\nyield = \"yes\"",
        "text for true or false",
    ),
    (
        "after = \"product\"",
        "after = \"product\"\nhazards = [302]",
        "a number for a code",
    ),
    (
        "unit = \"g\"",
        "readability = \"0.01 g\"",
        "an instrument without a unit",
    ),
    (
        "density = \"1.00 g/mL\"",
        "density = true",
        "a given that is no value",
    ),
    ("[day.1]", "[day.first]", "a day without a number"),
    ("[day.1]", "[day.0]", "a day zero"),
    (
        "{ name = \"strip\" }",
        "{ label = \"strip\" }",
        "a reading without a name",
    ),
    (
        "{ name = \"strip\" }",
        "{ name = \"Zinc strip\" }",
        "a name with a capital and a space",
    ),
    (
        "{ name = \"strip\" }",
        "{ name = \"strip\", series = 1 }",
        "a series of one",
    ),
    (
        "{ name = \"strip\" }",
        "{ name = \"strip\", series = \"4\" }",
        "a series as text",
    ),
    (
        "{ question = \"Was it?\" }",
        "{ supports = [] }",
        "a sign without a question",
    ),
    (
        "{ question = \"Was it?\" }",
        "\"Was it?\"",
        "a sign that is text",
    ),
    (
        "[signs]",
        "[signs]\nuse = [\"paper_tron\"]",
        "a built-in question misspelt",
    ),
    ("{ points = 1 }", "{ points = 101 }", "too many points"),
    (
        "{ points = 1 }",
        "{ pionts = 1 }",
        "a key of a step misspelt",
    ),
    (
        "{ points = 1 }",
        "2",
        "a number where true, false or braces belong",
    ),
    ("[ask]", "[ask]\nusual = \"yes\"", "text for true or false"),
    (
        "value = \"strip\"",
        "title = \"strip\"",
        "a quantity without a value",
    ),
    ("\"half-up\"", "\"up\"", "an unknown rule"),
    ("Cu = \"63.55\"", "copper = \"63.55\"", "no symbol"),
    ("zinc = \"4 g\"", "zinc = [\"4 g\"]", "a list for an amount"),
    ("\"spilled\" }", "\"\" }", "no reason"),
    ("[share]", "[share]\nlevel = \"94 %\"", "an unknown level"),
    (
        "source = \"us\"",
        "sauce = \"us\"",
        "a key of safety misspelt",
    ),
    (
        "background = \"b\"",
        "background = [\"b\"]",
        "a list for one text",
    ),
    ("[safety]", "[saftey]", "a section misspelt"),
];

#[test]
fn a_faulty_lab_description_is_refused_by_schema_and_program() {
    let schema = lab_schema();
    assert_eq!(faults(&schema, &json(FULL)), Vec::<String>::new());
    assert!(!any_error(&lab::check::check(&source(FULL)).1));
    for (good, bad, why) in FAULTY_LABS {
        let text = FULL.replacen(good, bad, 1);
        assert_ne!(text, FULL, "{why}");
        assert!(
            !faults(&schema, &json(&text)).is_empty(),
            "the schema accepts {why}: {bad}"
        );
        assert!(
            any_error(&lab::check::check(&source(&text)).1),
            "the program accepts {why}: {bad}"
        );
    }
}

#[test]
fn any_tag_of_a_language_is_taken_by_schema_and_program() {
    let schema = lab_schema();
    for (tag, good) in [
        ("de", true),
        ("DE", true),
        ("en-GB", true),
        ("De-AT", true),
        ("fr", false),
        ("de_DE", false),
        ("deutsch", false),
        ("de-", false),
    ] {
        let text = format!("language = \"{tag}\"\n{}", FULL.trim_start());
        let by_schema = faults(&schema, &json(&text)).is_empty();
        let by_program = !any_error(&lab::check::check(&source(&text)).1);
        assert_eq!((by_schema, by_program), (good, good), "{tag}");
    }
}

/// Each row: what is changed in a good data file, and what of it is wrong.
const FAULTY_DATA: &[(&str, &str, &str)] = &[
    ("group   = \"3-07\"", "gruop = \"3-07\"", "a key misspelt"),
    ("[day.2]", "[day.7]", "a day that the lab does not have"),
    ("[day.2]", "[day2]", "a heading misspelt"),
    (
        "dish_empty     = \"2.45 g\"",
        "dish_emty = \"2.45 g\"",
        "a reading misspelt",
    ),
    (
        "dish_empty     = \"2.45 g\"",
        "dish_empty = true",
        "no reading",
    ),
    (
        "[\"105.70 g\", \"105.68 g\", \"\", \"\"]",
        "[true]",
        "no reading in a series",
    ),
    (
        "solid_poured_away  = \"yes\"",
        "solid_poured_away = \"perhaps\"",
        "neither yes nor no",
    ),
    (
        "solid_poured_away  = \"yes\"",
        "paper_torn = \"yes\"",
        "a question that the lab does not ask",
    ),
    ("moles_salt         = ", "mols_salt = ", "a step misspelt"),
    (
        "percent_yield      = \"98.0 %\"",
        "percent_yield = [\"98.0 %\"]",
        "a list for an answer",
    ),
    (
        "effect    = \"lower\"",
        "efect = \"lower\"",
        "a key of a cause misspelt",
    ),
    ("[words]", "[word]", "a section misspelt"),
];

#[test]
fn a_faulty_data_file_is_refused_by_schema_and_program() {
    let (lab, graph) = described(&read(LAB));
    let schema = data_schema(&lab, &graph);
    let good_file = read("samples/zinc-copper-sulfate/3-07.toml");
    for (good, bad, why) in FAULTY_DATA {
        let text = good_file.replacen(good, bad, 1);
        assert_ne!(text, good_file, "{why}");
        assert!(
            !faults(&schema, &json(&text)).is_empty(),
            "the schema accepts {why}: {bad}"
        );
        assert!(
            any_error(&problems_of(&text, &lab, &graph)),
            "the program accepts {why}: {bad}"
        );
    }
    // What the program reads as no, with a warning.
    let text = good_file.replacen("share_words = \"no\"", "share_words = \"maybe\"", 1);
    assert!(!faults(&schema, &json(&text)).is_empty());
}

/// The keys that a reader asks for, from what it says about a key that nobody could mean.
fn understood(problems: &[Problem]) -> BTreeSet<String> {
    let told = problems.iter().find_map(|problem| {
        let help = problem.help.as_deref()?;
        problem
            .message
            .contains("`qqqqqqqqqq`")
            .then(|| help.split_once(" understands: "))?
    });
    let (_, names) = told.unwrap_or_else(|| panic!("{problems:#?}"));
    names.split(", ").map(str::to_owned).collect()
}

fn keys(schema: &Value, pointer: &str) -> BTreeSet<String> {
    let object = schema
        .pointer(pointer)
        .unwrap_or_else(|| panic!("no {pointer}"));
    assert_eq!(
        object["additionalProperties"],
        Value::Bool(false),
        "{pointer}"
    );
    let keys = object["properties"].as_object().expect("properties").keys();
    keys.cloned().collect()
}

/// Fails when a reader learns a key, or forgets one, and the schema does not.
#[test]
fn the_schema_has_just_the_keys_that_the_readers_ask_for() {
    let schema = lab_schema();
    // A section of FULL, or a brace, and the place of its keys in the schema.
    for (place, pointer) in [
        ("\nid =", ""),
        ("[substance.zinc]\n", "/definitions/substance"),
        ("[instrument.balance]\n", "/definitions/instrument"),
        ("[day.1]\n", "/definitions/day"),
        ("{ name = \"strip\"", "/definitions/reading"),
        ("{ question =", "/definitions/sign"),
        ("{ points =", "/definitions/asked_with"),
        ("[find.more]\n", "/definitions/find"),
        ("[policy]\n", "/properties/policy"),
        ("[share]\n", "/properties/share"),
        ("[safety]\n", "/properties/safety"),
        ("[text]\n", "/properties/text"),
    ] {
        let probe = if let Some(rest) = place.strip_prefix("{ ") {
            format!("{{ qqqqqqqqqq = 1, {rest}")
        } else if let Some(rest) = place.strip_prefix('\n') {
            format!("\nqqqqqqqqqq = 1\n{rest}")
        } else {
            format!("{place}qqqqqqqqqq = 1\n")
        };
        let text = FULL.replacen(place, &probe, 1);
        let (_, problems) = lab::check::check(&source(&text));
        assert_eq!(
            understood(&problems),
            keys(&schema, pointer),
            "reader and schema, {place:?}"
        );
    }
    // Every closed section of the schema was probed above, or holds names of the teacher's own.
    let text = lab::SCHEMA.replace(char::is_whitespace, "");
    let closed = text.matches("\"additionalProperties\":false").count();
    let by_pattern = text
        .matches("\"additionalProperties\":false,\"patternProperties\"")
        .count();
    assert_eq!(
        closed - by_pattern,
        12,
        "a section was added: add its row above"
    );
    let built_in: BTreeSet<&str> = lab::signs::BUILT_IN.iter().map(|(id, _)| *id).collect();
    let listed = schema["definitions"]["built_in_sign"]["enum"]
        .as_array()
        .expect("a list");
    assert_eq!(
        built_in,
        listed.iter().filter_map(Value::as_str).collect(),
        "built-in questions"
    );
}

#[test]
fn the_data_schema_has_just_the_keys_that_the_readers_ask_for() {
    let (lab, graph) = described(&read(LAB));
    let schema = data_schema(&lab, &graph);
    for (text, pointer) in [
        ("[who]\nqqqqqqqqqq = 1\n", "/properties/who"),
        (
            "[cause.1]\nqqqqqqqqqq = 1\n",
            "/properties/cause/patternProperties/^[0-9]+$",
        ),
    ] {
        let problems = problems_of(text, &lab, &graph);
        assert_eq!(understood(&problems), keys(&schema, pointer), "{text}");
    }
    let sections = "[who]\n[day.1]\n[trial.2]\n[extra]\n[signs]\n[answers]\n[cause.1]\n[words]\n";
    assert_eq!(problems_of(sections, &lab, &graph).len(), 0);
    let read: BTreeSet<String> = json(sections)
        .as_object()
        .expect("sections")
        .keys()
        .cloned()
        .collect();
    assert_eq!(read, keys(&schema, ""));
}

#[test]
fn forms_name_the_schema_that_was_written_and_read_back_clean() {
    let scratch = tempfile::tempdir().expect("a folder");
    let place = |name: &str| scratch.path().join(name).to_string_lossy().into_owned();
    for (id, _) in builtin::BUILT_IN {
        let (out, file) = (place(id), place(&format!("{id}.schema.json")));
        let start = [
            "start",
            id,
            "--section",
            "3",
            "--groups",
            "2",
            "--out",
            &out,
            "--schema",
            &file,
        ];
        let output = gramleaf(&start);
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        let form = read(&format!("{out}/3-01.toml"));
        let line = format!("#:schema ../{id}.schema.json\n");
        assert!(form.starts_with(&line), "{form}");
        let printed = gramleaf(&["start", id, "--schema"]).stdout;
        assert_eq!(printed, fs::read(&file).expect("the schema"));
        let checked = gramleaf(&["check", &out, "--json"]);
        let told: Value = serde_json::from_slice(&checked.stdout).expect("JSON");
        for object in told.as_array().expect("a list") {
            assert_eq!(object["problems"], Value::Array(Vec::new()), "{id}");
        }
        // The same schema again is no obstacle; another one is, and then no form is written.
        let more = [
            "start", id, "--group", "4-01", "--out", &out, "--schema", &file,
        ];
        assert!(gramleaf(&more).status.success());
        fs::write(&file, "{}").expect("written");
        let again = [
            "start", id, "--group", "4-02", "--out", &out, "--schema", &file,
        ];
        assert_eq!(gramleaf(&again).status.code(), Some(2));
        assert!(!Path::new(&out).join("4-02.toml").exists());
        assert_eq!(read(&file), "{}");
    }
    // A form without the option names no schema.
    let plain = gramleaf(&["start", "baking-soda", "--out", "-"]).stdout;
    assert!(!String::from_utf8_lossy(&plain).contains("schema"));
}

#[test]
fn a_lab_description_names_its_schema_and_reads_back_clean() {
    let scratch = tempfile::tempdir().expect("a folder");
    let place = |name: &str| scratch.path().join(name).to_string_lossy().into_owned();
    let (out, file) = (place("labs/lab.toml"), place("labs/lab.schema.json"));
    assert_eq!(
        gramleaf(&["labs", "--schema"]).stdout,
        lab::SCHEMA.as_bytes()
    );
    let labs = ["labs", "baking-soda", "--out", &out, "--schema", &file];
    assert!(gramleaf(&labs).status.success());
    let text = read(&out);
    assert!(text.starts_with("#:schema ./lab.schema.json\n"), "{text}");
    assert_eq!(read(&file), lab::SCHEMA);
    assert_eq!(lab::check::check(&source(&text)).1.len(), 0);
    for (arguments, why) in [
        (
            &["labs", "--schema", "baking-soda"][..],
            "an id taken for a file",
        ),
        (
            &[
                "start",
                "baking-soda",
                "--out",
                &place("x.toml"),
                "--schema",
            ],
            "forms that would name nothing",
        ),
    ] {
        assert_eq!(gramleaf(arguments).status.code(), Some(2), "{why}");
    }
    assert!(!Path::new(&place("x.toml")).exists());
}
