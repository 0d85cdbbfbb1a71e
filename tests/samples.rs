//! Runs the program on the samples, and holds every value to figures worked apart from it.

use std::path::Path;
use std::process::Command;
use std::process::Output;

use serde_json::Value;

/// The program with arguments, run in the repository.
fn gramleaf(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gramleaf"));
    command
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(arguments);
    command
        .output()
        .expect("the program was built for this test")
}

/// The first object of `check --json`.
fn checked(arguments: &[&str]) -> Value {
    let mut all = vec!["check", "--json"];
    all.extend(arguments);
    let output = gramleaf(&all);
    let array: Value = serde_json::from_slice(&output.stdout).expect("JSON on standard output");
    array[0].clone()
}

/// A step of a checked file.
fn step<'v>(object: &'v Value, id: &str) -> &'v Value {
    let steps = object["steps"].as_array().expect("steps");
    steps
        .iter()
        .find(|step| step["id"] == id)
        .unwrap_or_else(|| panic!("no step {id} in {}", object["file"]))
}

/// Source: values of ours, worked with exact fractions by a script apart from the program; see the head of the file.
/// Tolerance: one part in 10¹², since values are exact and only the last binary digit is lost.
#[test]
fn every_value_of_every_lab_is_right() {
    let text =
        std::fs::read_to_string("tests/reference/trade-labs.toml").expect("the table of values");
    let table: toml::Table = text.parse().expect("TOML");
    let tolerance = table["relative_tolerance"].as_float().expect("a tolerance");
    let mut compared = 0;
    for file in table["file"].as_array().expect("files") {
        let path = file["path"].as_str().expect("a path");
        let object = checked(&[path, "--key"]);
        assert_eq!(
            object["problems"].as_array().map_or(1, |all| all
                .iter()
                .filter(|p| p["severity"] == "error")
                .count()),
            0,
            "{path}: {:#}",
            object["problems"]
        );
        let steps = file["steps"]
            .as_table()
            .into_iter()
            .flatten()
            .map(|(id, value)| (id.clone(), value));
        let accepted = file
            .get("accepted")
            .and_then(toml::Value::as_table)
            .into_iter()
            .flatten();
        for (id, expected) in
            steps.chain(accepted.map(|(id, value)| (format!("accepted_{id}"), value)))
        {
            let found = &step(&object, &id)["value"];
            match expected {
                toml::Value::String(text) => assert_eq!(found, text, "{path} {id}"),
                number => {
                    let expected = number
                        .as_float()
                        .or(number.as_integer().map(|whole| whole as f64))
                        .expect("a number");
                    let found = found
                        .as_f64()
                        .unwrap_or_else(|| panic!("{path} {id} has no value"));
                    let allowed = tolerance * expected.abs();
                    assert!(
                        (found - expected).abs() <= allowed,
                        "{path} {id}: {found} is not {expected}"
                    );
                }
            }
            compared += 1;
        }
    }
    assert!(compared > 200, "only {compared} values were compared");
}

#[test]
fn the_percent_yield_of_the_zinc_sample_has_its_uncertainty() {
    let object = checked(&["samples/zinc-copper-sulfate/3-07.toml", "--key"]);
    let found = step(&object, "percent_yield")["standard_uncertainty"]
        .as_f64()
        .expect("a number");
    // Worked by hand: two differences on a balance that reads 0.01 g, atomic weights with their ±.
    assert!((found - 0.274_651).abs() < 1e-6, "{found}");
}

#[test]
fn a_half_filled_file_is_a_normal_state() {
    let output = gramleaf(&["check", "samples/zinc-copper-sulfate/3-02.toml", "--json"]);
    assert_eq!(output.status.code(), Some(0));
    let array: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let waiting = array[0]["waiting_for"].as_array().expect("a list").len();
    assert_eq!(waiting, 3);
    assert_eq!(step(&array[0], "percent_yield")["state"], "waiting");
}

#[test]
fn what_would_give_an_answer_away_is_hidden() {
    let folder = tempfile::tempdir().expect("a folder");
    let text =
        std::fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").expect("the sample");
    let start = text.find("[answers]").expect("answers");
    let end = text.find("[cause.1]").expect("causes");
    let kept = "[answers]\nmass_salt = \"6.02 g\"\n";
    let bare = format!(
        "{}{kept}{}",
        &text[..start],
        &text[end..text.find("[words]").expect("words")]
    );
    let path = folder.path().join("3-07.toml");
    std::fs::write(&path, bare).expect("written");
    let path = path.to_string_lossy().into_owned();
    let object = checked(&[&path]);
    assert_eq!(step(&object, "mass_salt")["state"], "known");
    for id in [
        "moles_salt",
        "theoretical_copper",
        "percent_yield",
        "completion_zinc",
        "molar_mass_salt",
    ] {
        assert_eq!(step(&object, id)["state"], "hidden", "{id}");
        assert!(step(&object, id).get("value").is_none(), "{id}");
    }
    let out = folder.path().join("out");
    assert!(
        gramleaf(&["draft", &path, "--out", &out.to_string_lossy()])
            .status
            .success()
    );
    for ending in ["md", "html"] {
        let page = std::fs::read_to_string(out.join(format!("3-07.{ending}"))).expect("a report");
        for secret in [
            "97.9", "0.0241", "0.02411", "1.53", "2.78", "24.11", "0.965",
        ] {
            assert!(!page.contains(secret), "{secret} stands in the {ending}");
        }
        assert!(page.contains("after your own answer"));
    }
}

#[test]
fn a_blank_form_reads_back_without_a_problem() {
    let folder = tempfile::tempdir().expect("a folder");
    let labs = String::from_utf8(gramleaf(&["labs"]).stdout).expect("text");
    let ids: Vec<&str> = labs.lines().filter(|line| !line.starts_with(' ')).collect();
    assert!(ids.len() >= 16, "{labs}");
    for id in ids {
        let form = folder.path().join(format!("{id}.toml"));
        let path = form.to_string_lossy().into_owned();
        assert!(
            gramleaf(&["start", id, "--group", "3-07", "--out", &path])
                .status
                .success(),
            "{id}"
        );
        let object = checked(&[&path]);
        assert_eq!(object["problems"], Value::Array(Vec::new()), "{id}");
        assert_eq!(object["group"], "3-07");
        let again = gramleaf(&["start", id, "--group", "3-07", "--out", &path]);
        assert_eq!(
            again.status.code(),
            Some(2),
            "a form is never written over another"
        );
    }
}

#[test]
fn a_second_run_gives_the_same_bytes_and_an_edited_report_is_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().to_string_lossy().into_owned();
    let sample = "samples/zinc-copper-sulfate/3-14.toml";
    let page = folder.path().join("3-14.md");
    assert!(gramleaf(&["draft", sample, "--out", &out]).status.success());
    let first = std::fs::read(&page).expect("a report");
    assert!(gramleaf(&["draft", sample, "--out", &out]).status.success());
    assert_eq!(std::fs::read(&page).expect("a report"), first);
    let mut edited = first.clone();
    edited.extend_from_slice(b"\nOur own line.\n");
    std::fs::write(&page, &edited).expect("written");
    assert_eq!(
        gramleaf(&["draft", sample, "--out", &out]).status.code(),
        Some(1)
    );
    assert_eq!(std::fs::read(&page).expect("a report"), edited);
    assert!(
        gramleaf(&["draft", sample, "--out", &out, "--replace"])
            .status
            .success()
    );
    assert_eq!(std::fs::read(&page).expect("a report"), first);
    assert_eq!(
        std::fs::read(folder.path().join("3-14.edited-1.md")).expect("a copy"),
        edited
    );
}

#[test]
fn hostile_text_comes_out_as_text() {
    let folder = tempfile::tempdir().expect("a folder");
    let hostile = "</title><script>alert(1)</script> | `x` $y$ {{z}} <img src=x onerror=alert(1)> \\u202eabc ![p](http://e.example/x.png)";
    let text =
        std::fs::read_to_string("samples/zinc-copper-sulfate/3-07.toml").expect("the sample");
    let text = text
        .replace("\"3-07\"", &format!("\"{hostile}\""))
        .replace("\"I. K.\"", &format!("\"{hostile}\""))
        .replace(
            "date           = \"10 Feb\"",
            &format!("date = \"{hostile}\""),
        )
        .replace("Solution clear blue.", hostile)
        .replace("Wait longer before pouring.", hostile);
    let path = folder.path().join("a b.c.toml");
    std::fs::write(&path, text).expect("written");
    let output = gramleaf(&["draft", &path.to_string_lossy()]);
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let page = std::fs::read_to_string(folder.path().join("a b.c.html"))
        .expect("a page named after the data file");
    for bad in ["<script", "<img", "\u{202e}"] {
        assert!(!page.contains(bad), "{bad} stands in the page");
    }
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert!(page.contains("{{z}}"));
}

#[test]
fn a_broken_file_does_not_stop_the_others() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::copy(
        "samples/zinc-copper-sulfate/3-07.toml",
        folder.path().join("good.toml"),
    )
    .expect("copied");
    std::fs::write(
        folder.path().join("bad.toml"),
        "[who]\nlab = \"zinc-coper-sulfate\"\n",
    )
    .expect("written");
    std::fs::write(folder.path().join("doc.toml"), b"PK\x03\x04rest").expect("written");
    let path = folder.path().to_string_lossy().into_owned();
    let output = gramleaf(&["draft", &path]);
    assert_eq!(output.status.code(), Some(1));
    assert!(folder.path().join("good.html").is_file());
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        said.contains("did you mean `zinc-copper-sulfate`?"),
        "{said}"
    );
    assert!(said.contains("word-processor"), "{said}");
}

#[test]
fn a_lab_of_which_only_a_misspelt_part_is_typed_is_guessed() {
    for arguments in [
        &["start", "zinc-coper", "--group", "x"][..],
        &["labs", "zinc-coper"],
        &["plan", "zinc-coper"],
    ] {
        let output = gramleaf(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        let near = "did you mean `zinc-copper-sulfate`?";
        assert!(
            said.contains("lab `zinc-coper`") && said.contains(near),
            "{said}"
        );
    }
}

#[test]
fn wrong_arguments_say_what_to_do() {
    for (arguments, words) in [
        (
            &["check", "samples/zinc-copper-sulfate/3-70.toml"][..],
            "did you mean",
        ),
        (&["labs", "baking-sода"][..], "baking-soda"),
        (
            &[
                "draft",
                "samples/zinc-copper-sulfate/3-07.toml",
                "--template",
                "reprot",
            ][..],
            "did you mean report?",
        ),
        (&["start", "lead-nitrate"][..], "gramleaf labs"),
        (
            &[
                "check",
                "samples/zinc-copper-sulfate/3-07.toml",
                "--lab",
                "nowhere.toml",
            ][..],
            "nowhere.toml",
        ),
    ] {
        let output = gramleaf(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(said.contains(words), "{arguments:?}: {said}");
    }
}

#[test]
fn templates_of_a_folder_lie_over_the_built_in_ones() {
    let folder = tempfile::tempdir().expect("a folder");
    let own = folder.path().join("own");
    std::fs::create_dir(&own).expect("made");
    let sample = "samples/zinc-copper-sulfate/3-07.toml";
    let draft = |out: &str| {
        gramleaf(&[
            "draft",
            sample,
            "--out",
            out,
            "--template",
            &own.to_string_lossy(),
        ])
    };
    let out = folder.path().join("out").to_string_lossy().into_owned();
    std::fs::write(own.join("head.md.hbs"), "# Our school: {{title}}\n").expect("written");
    std::fs::write(own.join("haed.md.hbs"), "x").expect("written");
    let output = draft(&out);
    assert!(output.status.success());
    assert!(
        String::from_utf8_lossy(&output.stderr)
            .contains("haed.md.hbs replaces no template; did you mean head.md.hbs?")
    );
    assert!(
        std::fs::read_to_string(Path::new(&out).join("3-07.md"))
            .expect("a report")
            .starts_with("# Our school: Copper")
    );
    for (template, words) in [
        ("# {{titel}}\n", "titel"),
        ("{{#if titel}}x{{/if}}\n", "did you mean `title`?"),
        ("{{> head}}\n", "without end"),
        ("{{#if title}}\n", "head.md.hbs"),
    ] {
        std::fs::write(own.join("head.md.hbs"), template).expect("written");
        let output = draft(&out);
        assert_ne!(output.status.code(), Some(0), "{template}");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(said.contains(words), "{template}: {said}");
    }
}

/// A form finds its teacher's description wherever the two stand.
#[test]
fn forms_of_a_teachers_own_lab_find_it() {
    let scratch = tempfile::tempdir().expect("a folder");
    let place = |name: &str| scratch.path().join(name).to_string_lossy().into_owned();
    let text = std::fs::read_to_string("samples/baking-soda/lab.toml").expect("the lab");
    let own = text.replace("\"baking-soda\"", "\"my-soda\"");
    for (lab, out) in [
        ("lab.toml", "s2"),
        ("labs/soda.toml", "s3/early"),
        ("soda.lab.toml", "s4"),
        ("labs/x.lab.toml", "s5"),
    ] {
        let path = place(lab);
        std::fs::create_dir_all(Path::new(&path).parent().expect("a folder")).expect("made");
        std::fs::write(&path, &own).expect("written");
        let out = place(out);
        let output = gramleaf(&[
            "start",
            &path,
            "--section",
            "2",
            "--groups",
            "2",
            "--out",
            &out,
        ]);
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        let output = gramleaf(&["check", &out]);
        assert!(
            output.status.success(),
            "{lab} {out}: {}",
            String::from_utf8_lossy(&output.stderr)
        );
        std::fs::remove_file(&path).expect("removed");
    }
}

/// A ratio that is far from every allowed one is said only where nothing simpler explains it.
#[test]
fn a_low_yield_is_no_odd_ratio() {
    let folder = tempfile::tempdir().expect("a folder");
    let odd = |path: &str| {
        let object = checked(&[path]);
        let problems = object["problems"].as_array().expect("problems").clone();
        problems.iter().any(|problem| {
            let message = problem["message"].as_str().unwrap_or_default();
            message.contains("far from every ratio")
        })
    };
    // 74 % of the crystals: the rest stays in the liquid, as the lab itself says.
    assert!(!odd("samples/copper-sulfate-crystals/8-05.toml"));
    let text = std::fs::read_to_string("samples/iron-copper-chloride/7-08.toml").expect("sample");
    let path = folder
        .path()
        .join("7-08.toml")
        .to_string_lossy()
        .into_owned();
    for (copper, nails, is_odd) in [
        // A fifth of the copper lost, and the iron as it should be: the percent yield says it.
        (0.80, 1.00, false),
        // A fifth of the copper lost, and a tenth too much iron used: no equation fits, and nothing else says so.
        (0.80, 1.10, true),
    ] {
        // 3.98 g of the salt (170.48 g/mol by the weights of the sample) give 1.484 g of copper for 1.304 g of iron.
        let salt = 3.98 / 170.48;
        let mut edited = String::new();
        for line in text.lines() {
            let reading = line.split_whitespace().next().unwrap_or_default();
            let value = match reading {
                "dish_empty" => "2.00".to_owned(),
                "dish_with_salt" => "5.98".to_owned(),
                "nails_before" => "5.00".to_owned(),
                "beaker_with_copper" => format!("{:.2}", 60.0 + copper * salt * 63.546),
                "beaker_empty" => "60.00".to_owned(),
                "nail_dish_empty" => "1.00".to_owned(),
                "nail_dish_with_nails" => format!("{:.2}", 6.0 - nails * salt * 55.845),
                _ => {
                    edited.push_str(line);
                    edited.push('\n');
                    continue;
                }
            };
            let value = if reading == "beaker_with_copper" {
                format!("[\"{value} g\", \"{value} g\"]")
            } else {
                format!("\"{value} g\"")
            };
            edited.push_str(&format!("{reading} = {value}\n"));
        }
        std::fs::write(&path, edited).expect("written");
        assert_eq!(odd(&path), is_odd, "{copper} {nails}");
    }
}

#[test]
fn a_quantity_is_asked_for_in_the_words_of_its_find() {
    let folder = tempfile::tempdir().expect("a folder");
    let place = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let text = std::fs::read_to_string("samples/water-in-hydrate/lab.toml").expect("the lab");
    let own = "waters_per_salt = { points = 3, question = \"waters for each salt\" }";
    let text = text.replace("waters_per_salt = { points = 3 }", own);
    std::fs::write(place("lab.toml"), text).expect("written");
    let form = place("1-01.toml");
    let output = gramleaf(&[
        "start",
        &place("lab.toml"),
        "--group",
        "1-01",
        "--out",
        &form,
    ]);
    assert!(output.status.success());
    let form = std::fs::read_to_string(form).expect("the form");
    // `water_percent` stands in [ask] with points only; `waters_per_salt` has a question there, which goes first.
    assert!(
        form.contains("# water in the crystals, percent by mass"),
        "{form}"
    );
    assert!(form.contains("# waters for each salt"), "{form}");
}

/// The program finds by itself how much of the mass came back; no lab brings a second line of it.
#[test]
fn no_sample_asks_for_one_value_under_two_names() {
    let mut compared = 0;
    for folder in std::fs::read_dir("samples").expect("samples") {
        let folder = folder.expect("an entry").path();
        if !folder.join("lab.toml").exists() {
            continue;
        }
        for file in std::fs::read_dir(&folder).expect("a folder") {
            let path = file.expect("an entry").path();
            if path.extension().is_none_or(|ending| ending != "toml") || path.ends_with("lab.toml")
            {
                continue;
            }
            let object = checked(&[&path.to_string_lossy(), "--key"]);
            let Some(kept) = object["steps"]
                .as_array()
                .expect("steps")
                .iter()
                .find(|step| step["id"] == "mass_kept" && step["value"].is_number())
            else {
                continue;
            };
            compared += 1;
            for other in object["steps"].as_array().expect("steps") {
                let same = other["unit"] == kept["unit"] && other["value"] == kept["value"];
                assert!(
                    !same || other["id"] == "mass_kept",
                    "{}: {} is mass_kept again",
                    path.display(),
                    other["id"]
                );
            }
        }
    }
    assert!(compared > 0);
}

/// Nobody weighs what is left of the phosphate: then only a step that the lab names is asked, and none of the reactant that runs out.
#[test]
fn a_leftover_that_nobody_weighs_is_asked_for_only_by_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let place = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let text = std::fs::read_to_string("samples/calcium-phosphate/lab.toml").expect("the lab");
    let named: Vec<&str> = text
        .lines()
        .filter(|line| line.starts_with("expected_left_"))
        .collect();
    assert_eq!(named.len(), 1, "{named:?}");
    for (text, asked) in [
        (text.clone(), vec!["expected_left_phosphate"]),
        (text.replace(named[0], ""), vec![]),
    ] {
        std::fs::write(place("lab.toml"), text).expect("written");
        let form = place("2-01.toml");
        let output = gramleaf(&[
            "start",
            &place("lab.toml"),
            "--group",
            "2-01",
            "--out",
            &form,
        ]);
        assert!(output.status.success());
        let form = std::fs::read_to_string(&form).expect("the form");
        let lines = form
            .lines()
            .filter_map(|line| line.split_whitespace().next());
        let found: Vec<&str> = lines
            .filter(|word| word.starts_with("expected_left_"))
            .collect();
        assert_eq!(found, asked);
        std::fs::remove_file(place("2-01.toml")).expect("removed");
    }
    let out = place("out");
    for sample in [
        "samples/calcium-phosphate/2-09.toml",
        "samples/aspirin/6-03.toml",
    ] {
        assert!(gramleaf(&["draft", sample, "--out", &out]).status.success());
        let page = Path::new(&out).join(
            Path::new(sample)
                .with_extension("md")
                .file_name()
                .expect("a name"),
        );
        let page = std::fs::read_to_string(page).expect("a report");
        let left: Vec<&str> = page
            .lines()
            .filter(|line| line.contains("should be left."))
            .collect();
        assert!(
            !left.is_empty() && left.iter().all(|line| !line.contains(" 0.0")),
            "{left:?}"
        );
    }
}

/// Where the lab lets limits add, the discussion speaks of them, with the numbers of the table of results.
#[test]
fn a_lab_of_worst_cases_discusses_worst_cases() {
    let folder = tempfile::tempdir().expect("a folder");
    let place = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    for (lab, group) in [
        ("zinc-copper-sulfate", "3-07"),
        ("iron-copper-chloride", "7-08"),
        ("zinc-iodide", "7-11"),
    ] {
        let text = std::fs::read_to_string(format!("samples/{lab}/lab.toml")).expect("the lab");
        let text: String = text
            .lines()
            .filter(|line| !line.starts_with("uncertainty "))
            .map(|line| format!("{line}\n"))
            .collect();
        let text = text.replacen("[policy]\n", "[policy]\nuncertainty = \"worst-case\"\n", 1);
        assert!(text.contains("worst-case"), "{lab}");
        std::fs::write(place("lab.toml"), text).expect("written");
        let data = place(&format!("{group}.toml"));
        std::fs::copy(format!("samples/{lab}/{group}.toml"), &data).expect("copied");
        let output = gramleaf(&[
            "draft",
            &data,
            "--lab",
            &place("lab.toml"),
            "--out",
            &place("out"),
            "--replace",
        ]);
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        let page = std::fs::read_to_string(Path::new(&place("out")).join(format!("{group}.md")))
            .expect("a report");
        let start = page.find("Error discussion").expect("a discussion");
        let discussion = &page[start..page.find("### Discussion").expect("the group's own words")];
        assert!(
            !discussion.contains("standard uncertaint"),
            "{lab}: {discussion}"
        );
        let row = page
            .lines()
            .find(|line| line.starts_with("| percent yield"))
            .expect("a row of results");
        // The last cell: `0.9 %`, where the sentence has two figures, such as 0.93 %.
        let cell = row
            .trim_end_matches('|')
            .rsplit('|')
            .next()
            .expect("a cell");
        let digits: String = cell
            .chars()
            .filter(|c| c.is_ascii_digit() || *c == '.')
            .collect();
        let tabled: f64 = digits.parse().expect("a number");
        let sentence = discussion
            .lines()
            .find(|line| line.contains("Percent yield of"))
            .expect("a sentence");
        let (_, after) = sentence
            .split_once("worst case of ±")
            .unwrap_or_else(|| panic!("{sentence}"));
        let number: String = after
            .trim_start()
            .chars()
            .take_while(|c| c.is_ascii_digit() || *c == '.')
            .collect();
        let said: f64 = number.parse().expect("a number");
        assert!(
            (said / tabled - 1.0).abs() < 0.2,
            "{lab}: {said} beside {tabled}"
        );
    }
}

/// What one template leaves out takes no number: a reader who finds Table 5 finds Table 4 before it.
#[test]
fn tables_and_figures_are_counted_as_they_are_printed() {
    let scratch = tempfile::tempdir().expect("a folder");
    for template in ["report", "formal", "worksheet"] {
        let out = scratch.path().join(template);
        let to = out.to_str().expect("a path");
        for lab in ["zinc-copper-sulfate/3-11", "hydrogen-over-water/9-02"] {
            let data = format!("samples/{lab}.toml");
            let output = gramleaf(&["draft", &data, "--key", "--template", template, "--out", to]);
            assert!(output.status.success(), "{output:?}");
            let group = lab.rsplit('/').next().expect("a group");
            let read = |ending: &str| {
                std::fs::read_to_string(out.join(format!("{group}.{ending}"))).expect("a page")
            };
            for (what, tag) in [("Table", "<caption><span>"), ("Figure", "<figcaption>")] {
                let markdown = numbers(&read("md"), &format!("\n**{what} "));
                let page = numbers(&read("html"), &format!("{tag}<b>{what} "));
                let expected: Vec<u32> = (1..).take(markdown.len()).collect();
                assert_eq!(markdown, expected, "{template}, {lab}, {what}");
                assert_eq!(page, expected, "{template}, {lab}, {what}");
            }
        }
    }
}

/// The numbers that stand behind each of some beginnings.
fn numbers(text: &str, begins: &str) -> Vec<u32> {
    let behind = text.split(begins).skip(1);
    behind
        .map(|rest| rest.split('.').next().expect("a part").parse().expect(rest))
        .collect()
}
