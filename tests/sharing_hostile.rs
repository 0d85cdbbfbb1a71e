//! What a class shares when files, labels, links and folders are set against it: other labs, broken files, names in odd places.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::process::Output;

use tempfile::TempDir;

/// Runs `share` as somebody whose account has telling names.
fn share(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .arg("share")
        .args(words)
        .env("USER", "zyxuser")
        .env("LOGNAME", "zyxuser")
        .env("HOSTNAME", "zyxmachine")
        .env("HOME", "/zyxhome")
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

fn holds(bytes: &[u8], word: &str) -> bool {
    String::from_utf8_lossy(bytes)
        .to_lowercase()
        .contains(&word.to_lowercase())
}

/// Files of the tree that hold a word, or are named with it.
fn holders(files: &BTreeMap<String, Vec<u8>>, word: &str) -> Vec<String> {
    files
        .iter()
        .filter(|(name, bytes)| holds(bytes, word) || holds(name.as_bytes(), word))
        .map(|(name, _)| name.clone())
        .collect()
}

/// Invented scatter: a linear congruential sequence from a fixed seed (constants of Knuth's MMIX, from memory).
struct Scatter(u64);

impl Scatter {
    /// A whole number of hundredths below `most`, in grams.
    fn grams(&mut self, most: u64) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let hundredths = u32::try_from((self.0 >> 33) % most).expect("small");
        f64::from(hundredths) / 100.0
    }
}

/// What can be set for one invented group.
#[derive(Clone)]
struct Group {
    lab: &'static str,
    code: String,
    section: String,
    name: String,
    /// More lines under `[who]`.
    who: String,
    /// Whole tables at the end of the file.
    end: String,
    /// Something in every place beside a reading.
    beside: bool,
}

impl Group {
    fn plain(lab: &'static str, code: &str) -> Self {
        Self {
            lab,
            code: code.to_owned(),
            section: "3".to_owned(),
            name: "Ada Q.".to_owned(),
            who: String::new(),
            end: String::new(),
            beside: false,
        }
    }

    /// The data file.
    fn file(&self, scatter: &mut Scatter) -> String {
        let (metal, dish) = match self.lab {
            "zinc-copper-sulfate" => ("zinc", "zinc_dish"),
            _ => ("nails", "nail_dish"),
        };
        let last = match self.lab {
            "zinc-copper-sulfate" => "zinc_dish_with_zinc",
            _ => "nail_dish_with_nails",
        };
        let (note, lost, clock) = if self.beside {
            (
                " (was 9.99, zyxwas, zyxnote)",
                "\"lost (zyxlost)\"",
                " at 14:10 zyxclock",
            )
        } else {
            ("", "\"50 mL\"", "")
        };
        let copper = 105.60 + scatter.grams(12);
        let mut file = format!(
            "# zyxcomment\n[who]\nlab = \"{}\"\nsection = \"{}\"\ngroup = \"{}\"\nnames = [\"{}\"]\n{}\n",
            self.lab, self.section, self.code, self.name, self.who
        );
        let _ = write!(
            file,
            "[day.1]\ndish_empty = \"2.45 g\"\ndish_with_salt = \"{:.2} g{note}\"\n{metal}_before = \"{:.2} g\"\nbeaker_empty = \"104.18 g\"\n\
             water_added = {lost}\n[day.3]\nbeaker_with_copper = [\"{:.2} g{clock}\", \"{copper:.2} g\"]\n{dish}_empty = \"2.38 g\"\n\
             {last} = \"{:.2} g\"\n{}",
            8.40 + scatter.grams(17),
            4.36 + scatter.grams(5),
            copper + 0.01,
            5.10 + scatter.grams(9),
            self.end
        );
        file
    }
}

/// A folder `in` of plain groups `3-01`, `3-02`, … of a lab.
fn class(lab: &'static str, count: usize) -> TempDir {
    let home = TempDir::new().expect("a folder");
    let mut scatter = Scatter(5);
    for number in 1..=count {
        let code = format!("3-{number:02}");
        let file = Group::plain(lab, &code).file(&mut scatter);
        write(&home.path().join("in"), &format!("{code}.toml"), &file);
    }
    home
}

const ZINC: &str = "zinc-copper-sulfate";
const IRON: &str = "iron-copper-chloride";

/// Prose, answers, extra readings, causes and signs, each with a word of its own.
const TYPED: &str = "[extra]\nzyxextra = \"1.23 g zyxextra\"\n[signs]\nsolid_poured_away = \"yes\"\n[answers]\nlimiting = \"zyxanswer\"\n\
    percent_yield = \"98.7654 %\"\n[cause.1]\nwhat = \"zyxcause\"\nevidence = \"zyxevidence\"\neffect = \"lower\"\nnext_time = \"zyxnext\"\n\
    [words]\npurpose = \"zyxpurpose\"\nprocedure = \"zyxprocedure\"\ndiscussion = \"zyxprose\"\nconclusion = \"zyxend\"\n";

#[test]
fn two_labs_in_one_folder_share_no_word_and_no_path() {
    let home = TempDir::new().unwrap();
    let data = home.path().join("zyxfolder");
    let mut scatter = Scatter(11);
    for lab in [ZINC, IRON] {
        for number in 1..=6 {
            let group = Group {
                name: "Zyxname Zyxsecond".to_owned(),
                who: "share_words = \"no\"".to_owned(),
                end: TYPED.to_owned(),
                beside: true,
                ..Group::plain(lab, &format!("3-{number:02}"))
            };
            let file = group
                .file(&mut scatter)
                .replace("[day.1]", "[day.1]\ndate = \"zyxdate\"\nseen = \"zyxseen\"");
            let name = format!("zyxfile-{lab}-{number}.toml");
            write(&data.join("zyxinner"), &name, &file);
        }
    }
    write(
        &data.join("zyxinner"),
        "zyxown.toml",
        &format!(
            "[who]\nlab = \"{ZINC}\"\nnames = [\"Zyxstudent\"]\nreadings_of = \"zyxfile-{ZINC}-1.toml\"\n{TYPED}"
        ),
    );
    let (site, teacher) = (home.path().join("site"), home.path().join("zyxteacher"));
    let output = share(&[
        text(&data),
        "--out",
        text(&site),
        "--teacher",
        text(&teacher),
    ]);
    let files = tree(&site);
    for lab in [ZINC, IRON] {
        for number in 1..=6 {
            let page = format!("{lab}/groups/3-{number:02}.html");
            assert!(files.contains_key(&page), "{page}: {}", said(&output));
        }
    }
    let here = text(home.path()).to_owned();
    for word in ["zyx", "98.7654", here.as_str(), ".toml"] {
        assert!(
            holders(&files, word).is_empty(),
            "{word} is in {:?}",
            holders(&files, word)
        );
    }
    // The planted words are really there to be found: the teacher's page holds the names.
    assert!(!holders(&tree(&teacher), "zyxname").is_empty());
}

#[test]
fn a_label_with_the_name_of_somebody_in_another_file_is_refused() {
    let home = class(ZINC, 6);
    let data = home.path().join("in");
    let mut scatter = Scatter(3);
    let named = Group {
        name: "Zyxowner Lee".to_owned(),
        ..Group::plain(ZINC, "3-07")
    };
    write(&data, "named.toml", &named.file(&mut scatter));
    for (file, code, section, line) in [
        ("label.toml", "zyxowner-8", "3", 5),
        ("both.toml", "3-09", "Zyxowner", 4),
    ] {
        let odd = Group {
            section: section.to_owned(),
            ..Group::plain(ZINC, code)
        };
        write(&data, file, &odd.file(&mut scatter));
        let site = home.path().join(format!("site-{line}"));
        let output = share(&[text(&data), "--out", text(&site)]);
        assert_eq!(output.status.code(), Some(1), "{}", said(&output));
        let place = format!("{file}:{line}");
        assert!(said(&output).contains(&place), "{place}: {}", said(&output));
        let files = tree(&site);
        assert!(files.contains_key("groups/3-07.html"), "the others stay");
        assert_eq!(holders(&files, "zyxowner"), Vec::<String>::new());
    }
}

#[test]
fn a_name_in_the_groups_own_section_label_is_refused_with_its_line() {
    let home = class(ZINC, 6);
    let data = home.path().join("in");
    let odd = Group {
        name: "Zyxsection".to_owned(),
        section: "3zyxsections".to_owned(),
        ..Group::plain(ZINC, "3-07")
    };
    write(&data, "odd.toml", &odd.file(&mut Scatter(2)));
    let site = home.path().join("site");
    let output = share(&[text(&data), "--out", text(&site)]);
    assert_eq!(output.status.code(), Some(1));
    assert!(said(&output).contains("odd.toml:4"), "{}", said(&output));
    let files = tree(&site);
    assert!(files.contains_key("groups/3-06.html") && !files.contains_key("groups/3-07.html"));
    assert_eq!(holders(&files, "zyx"), Vec::<String>::new());
}

#[test]
fn words_that_are_shared_name_nobody_of_any_file_not_even_of_a_broken_one() {
    let home = class(IRON, 6);
    let data = home.path().join("in");
    let prose = "zyxprose: ZYXREFUSED, Zyxbroken, zyxstudent, Zyxother and Zyxmate poured; the beaker of Zyxmates, Z\u{301}yxmate";
    let words = Group {
        name: "Zyxmate".to_owned(),
        who: "share_words = \"yes\"".to_owned(),
        end: TYPED.replace("\"zyxprose\"", &format!("\"{prose}\"")),
        beside: true,
        ..Group::plain(IRON, "3-07")
    };
    write(&data, "words.toml", &words.file(&mut Scatter(7)));
    let other = Group {
        name: "Zyxother".to_owned(),
        ..Group::plain(IRON, "3-08")
    };
    write(&data, "other.toml", &other.file(&mut Scatter(8)));
    let refused = Group {
        name: "Zyxrefused".to_owned(),
        ..Group::plain(IRON, "zyxrefused-9")
    };
    write(&data, "refused.toml", &refused.file(&mut Scatter(9)));
    write(
        &data,
        "broken.toml",
        "[who]\nlab = \"no-such-lab\"\ngroup = \"3-10\"\nnames = [\"Zyxbroken\"]\n",
    );
    write(
        &data,
        "own.toml",
        &format!(
            "[who]\nlab = \"{IRON}\"\nnames = [\"Zyxstudent\"]\nreadings_of = \"words.toml\"\n"
        ),
    );
    let site = home.path().join("site");
    let output = share(&[text(&data), "--out", text(&site)]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    let files = tree(&site);
    let page = &files["groups/3-07.html"];
    for word in [
        "zyxprose",
        "zyxend",
        "[name], [name], [name], [name] and [name]",
    ] {
        assert!(holds(page, word), "{word} is missing");
    }
    for word in [
        "zyxmate",
        "zyxother",
        "zyxrefused",
        "zyxbroken",
        "zyxstudent",
        "zyxanswer",
        "98.7654",
        "zyxextra",
        "zyxnote",
        "zyxwas",
        "zyxclock",
        "zyxlost",
        "zyxpurpose",
        "zyxprocedure",
        "zyxcomment",
    ] {
        assert_eq!(holders(&files, word), Vec::<String>::new(), "{word}");
    }
}

#[test]
fn a_small_class_shows_no_section_and_no_group() {
    let home = TempDir::new().unwrap();
    let data = home.path().join("in");
    let mut scatter = Scatter(4);
    for number in 1..=4 {
        let group = Group {
            section: if number == 4 { "5" } else { "3" }.to_owned(),
            ..Group::plain(IRON, &format!("3-{number:02}"))
        };
        // One group far from the others: a remark on it must not name it either.
        let file = group.file(&mut scatter);
        let file = if number == 4 {
            file.replace(
                "nail_dish_empty = \"2.38 g\"",
                "nail_dish_empty = \"1.08 g\"",
            )
        } else {
            file
        };
        write(&data, &format!("{number}.toml"), &file);
    }
    let site = home.path().join("site");
    let output = share(&[text(&data), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    let files = tree(&site);
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    assert_eq!(
        names,
        [
            ".gramleaf-share",
            "index.html",
            "index.md",
            "results.csv",
            "results.html",
            "results.md"
        ]
    );
    for number in 1..=4 {
        let code = format!("3-{number:02}");
        assert_eq!(holders(&files, &code), Vec::<String>::new());
    }
    assert!(!holds(&files["results.md"], "## By group"));
    assert!(holds(&files["results.md"], "Fewer than 5 groups"));
    let csv = String::from_utf8_lossy(&files["results.csv"]).into_owned();
    assert_eq!(csv.lines().count(), 1, "{csv}");
}

#[test]
fn a_file_that_no_mending_saves_is_said_by_line_and_seventy_less_one_are_built() {
    let home = class(IRON, 70);
    let data = home.path().join("in");
    let good = fs::read_to_string(data.join("3-41.toml")).unwrap();
    let cut = good.replace("group = \"3-41\"", "= = [[ group 3-41");
    fs::write(data.join("3-41.toml"), &cut).unwrap();
    let site = home.path().join("site");
    let output = share(&[text(&data), "--out", text(&site)]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    assert!(said(&output).contains("3-41.toml:5"), "{}", said(&output));
    let files = tree(&site);
    let pages = |ending: &str| {
        let of = |name: &&String| name.starts_with("groups/") && name.ends_with(ending);
        files.keys().filter(of).count()
    };
    assert_eq!((pages(".html"), pages(".md")), (69, 69));
    assert!(holds(
        &files["index.md"],
        "1 more data file could not be used"
    ));
    // A file that is no text at all is another kind.
    fs::write(data.join("3-41.toml"), b"PK\x03\x04\0\0\0").unwrap();
    let output = share(&[text(&data), "--out", text(&site)]);
    assert_eq!(output.status.code(), Some(1));
    assert!(said(&output).contains("3-41.toml"), "{}", said(&output));
    assert_eq!(tree(&site), files);
}

#[test]
fn two_files_of_one_code_are_both_named_and_a_site_that_is_there_stays_as_it_is() {
    for again in ["3-02", "G-1"] {
        let home = class(ZINC, 6);
        let (data, site) = (home.path().join("in"), home.path().join("site"));
        write(
            &data,
            "small.toml",
            &Group::plain(ZINC, "g-1").file(&mut Scatter(1)),
        );
        assert!(share(&[text(&data), "--out", text(&site)]).status.success());
        let before = tree(&site);
        write(
            &data,
            "again.toml",
            &Group::plain(ZINC, again).file(&mut Scatter(2)),
        );
        let output = share(&[text(&data), "--out", text(&site)]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        let first = if again == "3-02" {
            "3-02.toml"
        } else {
            "small.toml"
        };
        for file in [first, "again.toml"] {
            assert!(said(&output).contains(file), "{file}: {}", said(&output));
        }
        assert_eq!(tree(&site), before);
    }
}

#[test]
fn a_run_cut_off_at_any_page_is_finished_by_the_next() {
    let home = class(IRON, 6);
    let (data, site) = (home.path().join("in"), home.path().join("site"));
    let run = || share(&[text(&data), "--out", text(&site)]);
    assert!(run().status.success());
    let whole = tree(&site);
    let list = String::from_utf8(whole[".gramleaf-share"].clone()).unwrap();
    let lines: Vec<&str> = list.lines().collect();
    let cut = |listed: usize, written: usize| {
        fs::remove_dir_all(&site).unwrap();
        write(&site, ".gramleaf-share", &lines[..listed].join("\n"));
        for line in &lines[..written] {
            let name = line.split_once(' ').unwrap().1;
            let path = site.join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(&path, &whole[name]).unwrap();
        }
    };
    let half = lines.len() / 2;
    for (listed, written) in [
        (0, 0),
        (1, 0),
        (1, 1),
        (half, half - 1),
        (lines.len(), lines.len()),
    ] {
        cut(listed, written);
        let output = run();
        assert!(output.status.success(), "{written}: {}", said(&output));
        assert_eq!(tree(&site), whole, "{written} pages were there");
    }
    // A page that somebody edited after the run was cut off is not written over.
    cut(half, half);
    let edited = site.join(lines[0].split_once(' ').unwrap().1);
    fs::write(&edited, "edited since").unwrap();
    let output = run();
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert_eq!(fs::read_to_string(&edited).unwrap(), "edited since");
}

#[cfg(unix)]
#[test]
fn no_link_inside_the_shared_folder_leads_a_page_out_of_it() {
    for link in ["groups", "index.html"] {
        let home = class(ZINC, 6);
        let (data, site) = (home.path().join("in"), home.path().join("site"));
        let elsewhere = home.path().join("elsewhere");
        fs::create_dir_all(&site).unwrap();
        fs::create_dir_all(&elsewhere).unwrap();
        std::os::unix::fs::symlink(&elsewhere, site.join(link)).unwrap();
        let output = share(&[text(&data), "--out", text(&site)]);
        assert_eq!(output.status.code(), Some(2), "{link}: {}", said(&output));
        assert!(
            said(&output).contains("through a link"),
            "{}",
            said(&output)
        );
        assert!(tree(&elsewhere).is_empty());
    }
    // The shared folder itself may be a link.
    let home = class(ZINC, 6);
    let real = home.path().join("real");
    fs::create_dir_all(&real).unwrap();
    let site = home.path().join("site");
    std::os::unix::fs::symlink(&real, &site).unwrap();
    let output = share(&[text(&home.path().join("in")), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    assert!(real.join("groups/3-04.md").exists() || real.join("index.md").exists());
}

#[test]
fn the_teachers_folder_is_not_inside_the_shared_one_in_other_letters_either() {
    let home = class(ZINC, 6);
    let (data, site) = (home.path().join("in"), home.path().join("Site"));
    let teacher = home.path().join("site").join("t");
    let output = share(&[
        text(&data),
        "--out",
        text(&site),
        "--teacher",
        text(&teacher),
    ]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(!site.exists() && !teacher.exists());
}

#[test]
fn folders_left_empty_by_a_second_lab_are_taken_away() {
    let home = class(ZINC, 6);
    let (data, site) = (home.path().join("in"), home.path().join("site"));
    assert!(share(&[text(&data), "--out", text(&site)]).status.success());
    assert!(site.join("groups").is_dir());
    for number in 1..=6_u64 {
        let group = Group::plain(IRON, &format!("4-{number:02}"));
        write(
            &data,
            &format!("iron-{number}.toml"),
            &group.file(&mut Scatter(number)),
        );
    }
    let output = share(&[text(&data), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    assert!(!site.join("groups").exists());
    assert!(site.join(ZINC).join("groups").is_dir());
}

#[test]
fn a_folder_with_a_page_of_somebody_else_is_left_alone() {
    for page in ["index.html", "results.csv", "groups/3-04.md"] {
        let home = class(ZINC, 6);
        let (data, site) = (home.path().join("in"), home.path().join("site"));
        let path = site.join(page);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, "somebody's").unwrap();
        let before = tree(&site);
        let output = share(&[text(&data), "--out", text(&site)]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(said(&output).contains(page), "{page}: {}", said(&output));
        assert_eq!(tree(&site), before);
    }
}

#[cfg(unix)]
#[test]
fn no_link_brings_the_teachers_page_into_the_shared_folder() {
    let home = class(ZINC, 6);
    let data = home.path().join("in");
    let (site, later) = (home.path().join("site"), home.path().join("later"));
    assert!(share(&[text(&data), "--out", text(&site)]).status.success());
    let link = |name: &str, to: &Path| {
        let path = home.path().join(name);
        std::os::unix::fs::symlink(to, &path).unwrap();
        path
    };
    let to_groups = link("to-groups", &site.join("groups"));
    let to_later = link("to-later", &later);
    let to_itself = link("to-itself", &home.path().join("to-itself"));
    let before = tree(&site);
    for (out, teacher) in [
        (&site, to_groups.join("t")),
        // `..` after a link leads above what the link points to.
        (&site, to_groups.join("../t")),
        // The folder is not there yet, but will be when the teacher's page is written.
        (&later, to_later.join("t")),
        (&later, home.path().join("in/../later/./t")),
    ] {
        let output = share(&[text(&data), "--out", text(out), "--teacher", text(&teacher)]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(
            said(&output).contains("inside the shared one"),
            "{}",
            said(&output)
        );
    }
    assert_eq!(tree(&site), before);
    assert!(!later.exists());
    // A link that leads round in a circle ends with a message, not in a loop.
    let output = share(&[
        text(&data),
        "--out",
        text(&later),
        "--teacher",
        text(&to_itself),
    ]);
    assert_ne!(output.status.code(), None);
    assert!(!output.status.success());
}

#[test]
fn the_key_to_aliases_stands_with_the_teacher_alone() {
    let home = class(IRON, 9);
    let (data, site, teacher) = (
        home.path().join("in"),
        home.path().join("site"),
        home.path().join("t"),
    );
    let output = share(&[
        text(&data),
        "--out",
        text(&site),
        "--teacher",
        text(&teacher),
        "--alias",
    ]);
    assert!(output.status.success(), "{}", said(&output));
    let key = fs::read_to_string(teacher.join("codes.csv")).unwrap();
    assert_eq!(key.lines().count(), 10, "{key}");
    let files = tree(&site);
    for line in key.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [_, code, alias] = cells[..] else {
            panic!("{line}")
        };
        assert_ne!(code, alias);
        assert!(
            files.contains_key(&format!("groups/{alias}.html")),
            "{alias}"
        );
        assert_eq!(holders(&files, code), Vec::<String>::new());
    }
    assert!(
        files.keys().all(|name| !name.contains("codes")),
        "{files:?}"
    );
    // Without a teacher's folder there is no place for the key.
    let none = home.path().join("none");
    let output = share(&[text(&data), "--out", text(&none), "--alias"]);
    assert!(!output.status.success() && !none.exists());
}

#[test]
fn links_between_labs_sections_and_groups_lead_somewhere_without_a_host() {
    let home = TempDir::new().unwrap();
    let data = home.path().join("in");
    let mut scatter = Scatter(6);
    for lab in [ZINC, IRON] {
        for number in 1..=8 {
            let group = Group {
                section: (3 + number % 2).to_string(),
                ..Group::plain(lab, &format!("3-{number:02}"))
            };
            write(
                &data,
                &format!("{lab}-{number}.toml"),
                &group.file(&mut scatter),
            );
        }
    }
    let site = home.path().join("site");
    let output = share(&[text(&data), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    let mut links = 0;
    for (name, bytes) in tree(&site) {
        let page = String::from_utf8(bytes).expect("every page is UTF-8");
        assert!(!page.to_lowercase().contains("<script"), "{name}");
        // The name of a namespace is no link; nothing else may hold an address.
        let plain = page.replace("http://www.w3.org/", "");
        assert!(!plain.contains("://"), "{name} holds an address");
        let cuts: &[(&str, char)] = match name.rsplit('.').next() {
            Some("html") => &[("href=\"", '"'), ("src=\"", '"')],
            Some("md") => &[("](", ')')],
            _ => &[],
        };
        for (open, close) in cuts {
            for part in page.split(open).skip(1) {
                let target = part.split(*close).next().unwrap_or_default();
                let file = target.split('#').next().unwrap_or_default();
                if file.is_empty() {
                    continue;
                }
                assert!(
                    !file.starts_with('/') && !file.contains(':'),
                    "{name}: {target}"
                );
                let leads = site.join(&name).parent().unwrap().join(file);
                assert!(leads.is_file(), "{name} leads to {target}");
                links += 1;
            }
        }
    }
    // Each lab, in two formats: 8 links back from groups, 3 pages of results with 4, an overview with 3 and 8; 2 to the labs.
    assert_eq!(links, 2 * (2 * (8 + 3 * 4 + 11) + 2));
}

/// Moles of copper for one mole of iron, worked with plain floating point; M from the lab's table of atomic weights
/// (Cu 63.546, Fe 55.845). Held to every digit that the page shows.
#[test]
fn the_ratio_of_a_small_class_is_what_the_readings_give() {
    let home = class(IRON, 5);
    let data = home.path().join("in");
    let mut ratios = Vec::new();
    for number in 1..=5 {
        let file = fs::read_to_string(data.join(format!("3-{number:02}.toml"))).unwrap();
        let grams: Vec<f64> = file
            .split(" g\"")
            .filter_map(|part| part.rsplit('"').next()?.parse().ok())
            .collect();
        let [_, _, iron, beaker, _, copper, dish, with_nails] = grams[..] else {
            panic!("{grams:?}")
        };
        let used = iron - (with_nails - dish);
        ratios.push((copper - beaker) / 63.546 / (used / 55.845));
    }
    let site = home.path().join("site");
    let output = share(&[text(&data), "--out", text(&site)]);
    assert!(output.status.success(), "{}", said(&output));
    let page = fs::read_to_string(site.join("results.md")).unwrap();
    let row = page
        .lines()
        .find(|line| line.starts_with('|') && line.contains("copper for one mole of iron"))
        .unwrap_or_else(|| panic!("{page}"));
    let cells: Vec<&str> = row
        .split('|')
        .map(str::trim)
        .filter(|cell| cell.parse::<f64>().is_ok())
        .collect();
    let mean = ratios.iter().sum::<f64>() / 5.0;
    let squares = ratios.iter().map(|x| (x - mean).powi(2)).sum::<f64>();
    let deviation = (squares / 4.0).sqrt();
    ratios.sort_by(f64::total_cmp);
    // Student's t for 4 degrees of freedom at 97.5 %: 2.776445 (tests/reference/student_t.tsv).
    let interval = 2.776_445 * deviation / 5.0_f64.sqrt();
    let expected = [
        5.0, ratios[2], mean, deviation, ratios[0], ratios[4], interval,
    ];
    assert_eq!(cells.len(), expected.len(), "{row}");
    for (cell, expected) in cells.iter().zip(expected) {
        let decimals = cell.split_once('.').map_or(0, |(_, after)| after.len());
        assert_eq!(format!("{expected:.decimals$}"), **cell, "{row}");
    }
}
