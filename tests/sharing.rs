//! What a class shares: nothing that names anybody, whatever stands in the files; and a folder that survives accidents.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::process::Output;

use tempfile::TempDir;

/// Planted wherever a student can type; none of it may be in a shared byte.
const SENTINELS: &[&str] = &[
    "zyxnameone",
    "zyxnametwo",
    "zyxanswer",
    "zyxseen",
    "zyxprose",
    "zyxextra",
    "zyxcause",
    "zyxdate",
    "zyxnote",
    "zyxclock",
    "zyxwas",
    "zyxfolder",
    "zyxfile",
    "zyxlabfile",
    "zyxpurpose",
    "zyxstudent",
    "zyxapart",
];

/// Runs `share` with arguments; `HOME` and `USER` are sentinels of their own.
fn share(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .arg("share")
        .args(words)
        .env("USER", "zyxuser")
        .output()
        .expect("the program runs")
}

fn said(output: &Output) -> String {
    format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    )
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a path in UTF-8")
}

/// Readings of group `number`, all possible, each group its own.
fn readings(number: usize, note: &str) -> String {
    let step = |most: usize, prime: usize| ((number * prime) % most) as f64 / 100.0;
    let copper = 105.55 + step(19, 7);
    format!(
        "[day.1]\ndish_empty = \"2.45 g\"\ndish_with_salt = \"{:.2} g{note}\"\nzinc_before = \"{:.2} g\"\nbeaker_empty = \"104.18 g\"\nwater_added = \"50 mL\"\n\
         {{day1}}\n[day.3]\nbeaker_with_copper = [\"{:.2} g{{clock}}\", \"{copper:.2} g\"]\nzinc_dish_empty = \"2.38 g\"\nzinc_dish_with_zinc = \"{:.2} g\"\n",
        8.40 + step(17, 11),
        4.36 + step(5, 3),
        copper + 0.01,
        5.10 + step(7, 5),
    )
}

/// A plain file of a group.
fn plain(code: &str, section: &str, number: usize) -> String {
    let readings = readings(number, "")
        .replace("{day1}", "")
        .replace("{clock}", "");
    format!(
        "[who]\nlab = \"zinc-copper-sulfate\"\nsection = \"{section}\"\ngroup = \"{code}\"\nnames = [\"Ada Q.\"]\n{readings}"
    )
}

/// A file with a sentinel in every place where something can be typed.
fn planted(code: &str, number: usize, shares: &str) -> String {
    let day = "date = \"zyxdate\"\nseen = \"zyxseen and Zyxnameone stirred\"";
    let readings = readings(number, " at 15:20 (was 9.99, zyxwas, zyxnote)")
        .replace("{day1}", day)
        .replace("{clock}", " at 14:10 zyxclock");
    format!(
        "[who]\nlab = \"zinc-copper-sulfate\"\nsection = \"3\"\ngroup = \"{code}\"\nnames = [\"Zyxnameone Zyxnametwo\"]\nshare_words = \"{shares}\"\n{readings}\
         [extra]\nzyxextra = \"zyxextra\"\n[signs]\nproduct_still_damp = \"yes\"\n[answers]\nlimiting = \"zyxanswer\"\npercent_yield = \"98.7654 %\"\n\
         [cause.1]\nwhat = \"zyxcause\"\nevidence = \"zyxcause\"\neffect = \"lower\"\nnext_time = \"zyxcause\"\n\
         [words]\npurpose = \"zyxpurpose\"\ndiscussion = \"zyxprose, said ZYXNAMETWO\"\nconclusion = \"zyxprose\"\n"
    )
}

fn write(folder: &Path, name: &str, content: &str) {
    fs::create_dir_all(folder).expect("a folder");
    fs::write(folder.join(name), content).expect("a file");
}

/// Every file under a folder by its path from there.
fn tree(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .into_iter()
        .filter_map(Result::ok)
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let name = entry.path().strip_prefix(folder).expect("inside");
            let bytes = fs::read(entry.path()).expect("readable");
            (text(name).to_owned(), bytes)
        })
        .collect()
}

/// A class of plain groups `3-01`, `3-02`, …
fn class(count: usize) -> TempDir {
    let home = TempDir::new().expect("a folder");
    for number in 1..=count {
        let code = format!("3-{number:02}");
        write(
            &home.path().join("in"),
            &format!("{code}.toml"),
            &plain(&code, "3", number),
        );
    }
    home
}

fn holds(bytes: &[u8], word: &str) -> bool {
    String::from_utf8_lossy(bytes)
        .to_lowercase()
        .contains(&word.to_lowercase())
}

#[test]
fn no_shared_byte_holds_what_a_student_typed_beside_a_reading() {
    let home = TempDir::new().unwrap();
    let data = home.path().join("zyxfolder");
    for number in 1..=6 {
        write(
            &data,
            &format!("zyxfile-{number}.toml"),
            &planted(&format!("3-{number:02}"), number, "no"),
        );
    }
    let lab = fs::read_to_string("samples/zinc-copper-sulfate/lab.toml").unwrap();
    write(&data, "zyxlabfile.lab.toml", &lab);
    // A student who hands in apart, and one whose file has faults.
    for (name, group_file) in [
        ("zyxapart", "zyxfile-2.toml"),
        ("zyxfaulty", "zyxfile-9.toml"),
    ] {
        let file = planted("Zyxapart", 2, "yes")
            .replace("Zyxnameone Zyxnametwo", "Zyxstudent Zyxapart")
            .replace("section = \"3\"", "section = \"zyxapart\"")
            .replace("[who]", &format!("[who]\nreadings_of = \"{group_file}\""));
        write(&data, &format!("{name}.toml"), &file);
    }
    let (site, teacher) = (home.path().join("site"), home.path().join("zyxteacher"));
    let output = share(&[
        text(&data),
        "--out",
        text(&site),
        "--teacher",
        text(&teacher),
    ]);
    // What is planted is there to be found.
    let page = fs::read(teacher.join("teacher.md")).unwrap();
    assert!(holds(&page, "zyxstudent") && holds(&page, "3-02 (own file)"));
    assert!(
        said(&output).contains("zyxfaulty.toml:"),
        "{}",
        said(&output)
    );
    assert!(site.join("groups/3-01.html").is_file(), "{}", said(&output));
    let machine = fs::read_to_string("/etc/hostname").unwrap_or_default();
    let here = text(home.path()).to_owned();
    for (name, bytes) in tree(&site) {
        for word in SENTINELS
            .iter()
            .copied()
            .chain(["zyxuser", "98.7654", "14:10", "15:20", &here])
        {
            assert!(
                !holds(&bytes, word) && !holds(name.as_bytes(), word),
                "{name} holds {word}"
            );
        }
        for word in [
            "matches your data",
            "look again",
            "slip",
            "marks",
            "sha-256",
        ] {
            // The provenance says in so many words that marks have no part in the page.
            let allowed = word == "marks" && holds(&bytes, "answers, marks and names have no part");
            assert!(allowed || !holds(&bytes, word), "{name} holds {word}");
        }
        let machine = machine.trim();
        assert!(
            machine.len() < 5 || !holds(&bytes, machine),
            "{name} holds the machine's name"
        );
    }
}

#[test]
fn words_are_shared_only_where_the_group_says_so_and_then_without_names() {
    let home = TempDir::new().unwrap();
    for number in 1..=6 {
        let shares = if number == 2 { "yes" } else { "no" };
        write(
            home.path(),
            &format!("{number}.toml"),
            &planted(&format!("3-{number:02}"), number, shares),
        );
    }
    let site = home.path().join("site");
    share(&[text(home.path()), "--out", text(&site)]);
    let page = fs::read(site.join("groups/3-02.html")).unwrap();
    for word in ["zyxseen", "zyxprose", "[name]"] {
        assert!(holds(&page, word), "{word} is missing");
    }
    for word in [
        "zyxnameone",
        "zyxnametwo",
        "zyxanswer",
        "zyxextra",
        "zyxnote",
        "zyxwas",
        "zyxclock",
        "14:10",
        "15:20",
        "zyxdate",
        "zyxpurpose",
    ] {
        assert!(!holds(&page, word), "the page holds {word}");
    }
    for (name, bytes) in tree(&site) {
        let own = name.contains("3-02");
        assert!(own || !holds(&bytes, "zyxprose"), "{name}");
    }
}

#[test]
fn labels_that_could_name_somebody_or_leave_the_folder_are_refused_with_their_line() {
    let bad = ["Zyxnameone-7", "../../x1", "CON", "🧪7", "\u{202e}3-07", ""];
    let long = "7".repeat(300);
    for label in bad.iter().copied().chain([long.as_str()]) {
        let home = class(6);
        let file = planted("LABEL", 9, "no").replace("\"LABEL\"", &format!("\"{label}\""));
        write(&home.path().join("in"), "odd.toml", &file);
        let site = home.path().join("site");
        let output = share(&[text(&home.path().join("in")), "--out", text(&site)]);
        assert_eq!(output.status.code(), Some(1), "{label}: {}", said(&output));
        assert!(
            said(&output).contains("odd.toml:4"),
            "{label}: {}",
            said(&output)
        );
        assert!(site.join("groups/3-06.html").is_file());
        let files = tree(home.path());
        assert!(
            files
                .keys()
                .all(|name| name.starts_with("in/") || name.starts_with("site/")),
            "{files:?}"
        );
        assert!(tree(&site).values().all(|bytes| !holds(bytes, "zyxname")));
    }
}

#[test]
fn fewer_than_five_groups_are_only_shown_together() {
    let home = class(4);
    let site = home.path().join("site");
    let output = share(&[text(&home.path().join("in")), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    let files = tree(&site);
    assert!(
        files.keys().all(|name| !name.starts_with("groups/")),
        "{files:?}"
    );
    for (name, bytes) in &files {
        for number in 1..=4 {
            assert!(!holds(bytes, &format!("3-{number:02}")), "{name}");
        }
    }
    assert!(holds(&files["results.html"], "Fewer than 5 groups"));
    // Nothing that a group's own value could be taken out of.
    for name in ["results.md", "results.html", "index.html"] {
        for word in [
            "standard deviation (",
            "sample standard",
            "## Statistics",
            ">Statistics",
            " mean |",
            "Mean or",
        ] {
            assert!(!holds(&files[name], word), "{name} says {word}");
        }
    }
    let page = String::from_utf8_lossy(&files["results.html"]).into_owned();
    // Dots stand on the fifty steps of an axis of 580, so that no coordinate tells a value to more than a fiftieth.
    let figure = page.split("id=\"figure-class-").nth(1).unwrap();
    let drawing = figure.split("</svg>").next().unwrap();
    let mut dots = 0;
    for dot in drawing.split("class=\"dot\" cx=\"").skip(1) {
        let at: f64 = dot.split('"').next().unwrap().parse().unwrap();
        let steps = (at - 30.0) / 11.6;
        assert!((steps - steps.round()).abs() < 0.01, "{at}: {drawing}");
        dots += 1;
    }
    assert_eq!(dots, 4, "{drawing}");
    let csv = String::from_utf8_lossy(&files["results.csv"]).into_owned();
    assert_eq!(csv.lines().count(), 1, "{csv}");
}

/// What counts is how many have a value, not how many handed a file in.
#[test]
fn fewer_than_five_values_are_only_shown_together() {
    let lose = |home: &TempDir, names: &[&str]| {
        for number in 4..=6 {
            let path = home.path().join(format!("in/3-{number:02}.toml"));
            let file = fs::read_to_string(&path).unwrap();
            let line = |line: &str| {
                let lost = names.iter().find(|name| line.starts_with(**name));
                lost.map_or_else(
                    || format!("{line}\n"),
                    |name| format!("{name} = \"lost\"\n"),
                )
            };
            fs::write(&path, file.lines().map(line).collect::<String>()).unwrap();
        }
    };
    let home = class(6);
    lose(&home, &["beaker_with_copper"]);
    let site = home.path().join("site");
    let output = share(&[text(&home.path().join("in")), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    let files = tree(&site);
    let page = String::from_utf8_lossy(&files["results.md"]).into_owned();
    assert!(page.contains("Fewer than 5 values of: "), "{page}");
    let tables = page.split("## Statistics").nth(1).unwrap();
    assert!(
        tables.contains("zinc left, found minus predicted"),
        "{page}"
    );
    assert!(
        !tables.contains("yield") && !tables.contains("collected"),
        "{page}"
    );
    assert_eq!(page.matches("Values:").count(), 1, "{page}");
    // Nor does a point stand above the zinc that each group is listed with.
    assert!(!page.contains("Moles of copper against"), "{page}");
    for number in 1..=6 {
        let name = format!("groups/3-{number:02}.html");
        assert_eq!(files.contains_key(&name), number > 3, "{name}");
        let listed = holds(&files["index.html"], &name);
        assert_eq!(listed, number > 3, "{name}");
    }
    let csv = String::from_utf8_lossy(&files["results.csv"]).into_owned();
    let mut rows = csv.lines();
    let heads: Vec<&str> = rows.next().unwrap().split(',').collect();
    let at = heads
        .iter()
        .position(|head| *head == "percent_yield")
        .unwrap();
    assert!(rows.all(|row| row.split(',').nth(at) == Some("")), "{csv}");

    // Of three that have a result and three that have none, as little is shown as of three.
    lose(&home, &["beaker_with_copper", "zinc_before"]);
    let output = share(&[text(&home.path().join("in")), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    let files = tree(&site);
    assert!(
        files.keys().all(|name| !name.starts_with("groups/")),
        "{files:?}"
    );
    let page = String::from_utf8_lossy(&files["results.md"]).into_owned();
    assert!(page.contains("Fewer than 5 groups have a result"), "{page}");
    assert!(
        !page.contains("## Statistics") && !page.contains("Values:"),
        "{page}"
    );
    let csv = String::from_utf8_lossy(&files["results.csv"]).into_owned();
    assert_eq!(csv.lines().count(), 1, "{csv}");
}

/// The class page may not contradict the group's own report, and tells no time of day all the same.
#[test]
fn what_is_still_to_dry_off_is_the_same_as_in_the_groups_own_report() {
    let home = class(6);
    let data = home.path().join("in");
    for (number, (series, says)) in [
        (
            1,
            (
                "\"106.55 g at 9:07\", \"105.95 g at 9:37\", \"105.75 g at 10:37\", \"105.62 g at 11:37\"",
                "do not fall along one exponential",
            ),
        ),
        (
            2,
            (
                "\"106.80 g at 8:17 am\", \"106.37 g at 8:47 am\", \"105.80 g at 10:17 am\", \"105.68 g at 11:17 am\"",
                "exponential in time",
            ),
        ),
        (
            3,
            (
                "\"106.00 g at 9:07\", \"105.70 g\", \"105.60 g at 10:37\"",
                "same share of what is left",
            ),
        ),
    ] {
        let path = data.join(format!("3-{number:02}.toml"));
        let file = fs::read_to_string(&path).unwrap();
        let (before, rest) = file.split_once("beaker_with_copper = [").unwrap();
        let (_, rest) = rest.split_once(']').unwrap();
        fs::write(
            &path,
            format!("{before}beaker_with_copper = [{series}]{rest}"),
        )
        .unwrap();
        let own = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args([
                "draft",
                text(&path),
                "--out",
                text(&home.path().join("own")),
            ])
            .output()
            .unwrap();
        let site = home.path().join("site");
        assert!(share(&[text(&data), "--out", text(&site)]).status.success());
        let sentence = |page: &str| {
            let mut lines = page.lines();
            lines.find(|line| line.contains(says)).map(str::to_owned)
        };
        let own_page = tree(&home.path().join("own"));
        let own_page = own_page
            .iter()
            .find(|(name, _)| name.ends_with(".md") && name.contains(&format!("3-{number:02}")));
        let own_page =
            String::from_utf8_lossy(own_page.unwrap_or_else(|| panic!("{}", said(&own))).1)
                .into_owned();
        let shared = tree(&site);
        let page =
            String::from_utf8_lossy(&shared[&format!("groups/3-{number:02}.md")]).into_owned();
        assert!(sentence(&own_page).is_some(), "{own_page}");
        assert_eq!(sentence(&own_page), sentence(&page));
        for (name, bytes) in &shared {
            for clock in [":07", ":37", ":17", ":47", "0:30", " 30 min", "150 min"] {
                assert!(!holds(bytes, clock), "{name} holds {clock}");
            }
        }
    }
}

/// A mean with and without one group tells what it found, and the middle one of three values is one of them.
#[test]
fn under_five_groups_nothing_tells_what_one_left_out_found() {
    for (groups, told) in [(4, false), (6, true)] {
        let home = class(groups);
        let lab = gramleaf::lab::builtin::find("zinc-copper-sulfate").unwrap();
        let left_out = "leave_out = { \"3-02\" = \"spilled\" }";
        let lab = if lab.contains("[share]") {
            lab.replacen("[share]", &format!("[share]\n{left_out}"), 1)
        } else {
            format!("{lab}\n[share]\n{left_out}\n")
        };
        fs::write(home.path().join("in/lab.toml"), lab).unwrap();
        let site = home.path().join("site");
        let output = share(&[text(&home.path().join("in")), "--out", text(&site)]);
        assert!(output.status.success(), "{}", said(&output));
        let files = tree(&site);
        for (name, says) in [
            ("results.md", "left out counted too"),
            ("results.html", "left out counted too"),
            ("results.md", "triangle"),
            ("results.html", "class=\"mark\""),
            ("results.html", "lowest"),
        ] {
            assert_eq!(holds(&files[name], says), told, "{groups} {name} {says}");
        }
        assert!(holds(&files["results.html"], "a dot a group"));
        assert!(holds(&files["results.html"], "class=\"dot\""));
    }
}

#[test]
fn one_broken_file_of_seventy_stops_nobody_else() {
    let home = class(70);
    let broken = home.path().join("in/3-33.toml");
    fs::write(&broken, "[who]\nlab = \"no-such-lab\"\ngroup = \"3-33\"\n").unwrap();
    let site = home.path().join("site");
    let output = share(&[text(&home.path().join("in")), "--out", text(&site)]);
    assert_eq!(output.status.code(), Some(1));
    assert!(said(&output).contains("3-33.toml:2"), "{}", said(&output));
    let pages = tree(&site)
        .into_keys()
        .filter(|name| name.starts_with("groups/") && name.ends_with(".html"));
    assert_eq!(pages.count(), 69);
}

#[test]
fn two_groups_of_one_code_are_refused_before_anything_is_written() {
    for second in ["3-02", "A-1"] {
        let home = class(6);
        let data = home.path().join("in");
        if second == "A-1" {
            write(&data, "small.toml", &plain("a-1", "3", 8));
        }
        write(&data, "again.toml", &plain(second, "4", 9));
        let site = home.path().join("site");
        let output = share(&[text(&data), "--out", text(&site)]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(said(&output).contains("again.toml"), "{}", said(&output));
        assert!(!site.exists(), "something was written");
    }
}

#[test]
fn a_second_run_writes_the_same_bytes_and_what_is_missing() {
    let home = class(8);
    let (data, site) = (home.path().join("in"), home.path().join("site"));
    let run = || {
        let output = share(&[text(&data), "--out", text(&site)]);
        assert!(output.status.success(), "{}", said(&output));
        tree(&site)
    };
    let first = run();
    assert_eq!(run(), first);
    fs::remove_file(site.join("groups/3-05.html")).unwrap();
    assert_eq!(run(), first);
}

#[test]
fn what_others_put_into_the_folder_stays() {
    let home = class(8);
    let (data, site) = (home.path().join("in"), home.path().join("site"));
    share(&[text(&data), "--out", text(&site)]);
    fs::write(site.join("notes.txt"), "mine").unwrap();
    fs::write(site.join("groups/3-08.html"), "edited by hand").unwrap();
    for gone in ["3-07", "3-08"] {
        fs::remove_file(data.join(format!("{gone}.toml"))).unwrap();
    }
    let output = share(&[text(&data), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    let files = tree(&site);
    assert!(!files.contains_key("groups/3-07.html") && !files.contains_key("groups/3-08.md"));
    assert_eq!(files["notes.txt"], b"mine");
    assert_eq!(files["groups/3-08.html"], b"edited by hand");
    assert!(said(&output).contains("3-08.html"), "{}", said(&output));

    // A page that is wanted but was changed by somebody stops the run before anything is written.
    fs::write(site.join("index.html"), "edited by hand").unwrap();
    let before = tree(&site);
    let output = share(&[text(&data), "--out", text(&site)]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("index.html"), "{}", said(&output));
    assert_eq!(tree(&site), before);
}

#[test]
fn a_list_that_leads_out_of_the_folder_deletes_nothing() {
    let home = class(6);
    let (data, site) = (home.path().join("in"), home.path().join("site"));
    share(&[text(&data), "--out", text(&site)]);
    fs::write(home.path().join("precious"), "x").unwrap();
    let list = fs::read_to_string(site.join(".gramleaf-share")).unwrap();
    fs::write(
        site.join(".gramleaf-share"),
        format!("- ../precious\n{list}"),
    )
    .unwrap();
    share(&[text(&data), "--out", text(&site)]);
    assert!(home.path().join("precious").is_file());
}

#[test]
fn the_teachers_page_holds_names_and_never_lies_in_the_shared_folder() {
    let home = class(6);
    let data = home.path().join("in");
    let site = home.path().join("site");
    for inside in [
        site.join("t"),
        site.join("x/../t"),
        home.path().join("in/../site/t"),
        site.clone(),
    ] {
        let output = share(&[
            text(&data),
            "--out",
            text(&site),
            "--teacher",
            text(&inside),
        ]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(
            said(&output).contains("inside the shared one"),
            "{}",
            said(&output)
        );
        assert!(!site.exists());
    }
    let teacher = home.path().join("t");
    share(&[
        text(&data),
        "--out",
        text(&site),
        "--teacher",
        text(&teacher),
    ]);
    assert!(holds(
        &fs::read(teacher.join("teacher.html")).unwrap(),
        "Ada Q."
    ));
    assert!(tree(&site).values().all(|bytes| !holds(bytes, "Ada Q.")));
    #[cfg(unix)]
    {
        let link = home.path().join("link");
        std::os::unix::fs::symlink(&site, &link).unwrap();
        let output = share(&[
            text(&data),
            "--out",
            text(&site),
            "--teacher",
            text(&link.join("t")),
        ]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    }
}

#[test]
fn aliases_hide_the_codes_and_stay() {
    let home = class(7);
    let (data, site, teacher) = (
        home.path().join("in"),
        home.path().join("site"),
        home.path().join("t"),
    );
    let run = || {
        let output = share(&[
            text(&data),
            "--out",
            text(&site),
            "--teacher",
            text(&teacher),
            "--alias",
        ]);
        assert!(output.status.success(), "{}", said(&output));
        (
            tree(&site),
            fs::read_to_string(teacher.join("codes.csv")).unwrap(),
        )
    };
    let (first, key) = run();
    for (name, bytes) in &first {
        for number in 1..=7 {
            let code = format!("3-{number:02}");
            assert!(
                !holds(bytes, &code) && !name.contains(&code),
                "{name} holds {code}"
            );
        }
    }
    assert_eq!(run(), (first.clone(), key.clone()));
    write(&data, "3-99.toml", &plain("3-99", "3", 99));
    let (_, later) = run();
    for line in key.lines() {
        assert!(later.lines().any(|known| known == line), "{line} changed");
    }
    assert_eq!(later.lines().count(), key.lines().count() + 1);
}

#[test]
fn every_link_is_relative_and_leads_somewhere() {
    let home = class(6);
    let data = home.path().join("in");
    for number in 1..=6 {
        let code = format!("4-{number:02}");
        write(
            &data,
            &format!("{code}.toml"),
            &plain(&code, "4", number + 20),
        );
    }
    let site = home.path().join("site");
    share(&[text(&data), "--out", text(&site)]);
    let files = tree(&site);
    assert!(files.contains_key("section-3.html") && files.contains_key("section-4.md"));
    let mut links = 0;
    for (name, bytes) in &files {
        let page = String::from_utf8_lossy(bytes);
        assert!(!page.to_lowercase().contains("<script"), "{name}");
        let here = site.join(name);
        let (open, close) = if name.ends_with(".html") {
            ("href=\"", '"')
        } else {
            ("](", ')')
        };
        for part in page.split(open).skip(1) {
            let target = part.split(close).next().unwrap_or_default();
            if target.starts_with('#') {
                continue;
            }
            assert!(
                !target.contains("://") && !target.starts_with('/'),
                "{name}: {target}"
            );
            assert!(
                here.parent().unwrap().join(target).is_file(),
                "{name} leads to {target}"
            );
            links += 1;
        }
    }
    assert!(links > 60, "{links}");
}

/// Five yields worked with plain floating point; M as the lab's table gives them. Tolerance: the last digit on the page.
#[test]
fn the_page_says_what_the_readings_give() {
    let home = class(5);
    let data = home.path().join("in");
    let (mut yields, site) = (Vec::new(), home.path().join("site"));
    for number in 1..=5 {
        let file = fs::read_to_string(data.join(format!("3-{number:02}.toml"))).unwrap();
        let all: Vec<f64> = file
            .split(" g\"")
            .filter_map(|part| part.rsplit('"').next()?.parse().ok())
            .collect();
        let [dish, with_salt, _, beaker, _, copper, ..] = all[..] else {
            panic!("{all:?}")
        };
        let theory = (with_salt - dish) / 249.677 * 63.546;
        yields.push(100.0 * (copper - beaker) / theory);
    }
    share(&[text(&data), "--out", text(&site)]);
    let page = fs::read_to_string(site.join("results.md")).unwrap();
    let row = page
        .lines()
        .find(|line| line.starts_with("| percent yield of copper /\u{a0}%"))
        .unwrap();
    let cells: Vec<f64> = row
        .split('|')
        .filter_map(|cell| cell.trim().replace('−', "-").parse().ok())
        .collect();
    let mean = yields.iter().sum::<f64>() / 5.0;
    let deviation = (yields.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / 4.0).sqrt();
    yields.sort_by(f64::total_cmp);
    // Student's t for 4 degrees of freedom at 97.5 %: 2.776445 (tests/reference/student_t.tsv).
    let interval = 2.776_445 * deviation / 5.0_f64.sqrt();
    for (cell, expected) in cells.iter().zip([
        5.0, yields[2], mean, deviation, yields[0], yields[4], interval,
    ]) {
        assert!(
            (cell - expected).abs() < 0.06,
            "{row}\n{cell} is not {expected}"
        );
    }
    assert_eq!(cells.len(), 7, "{row}");
}
