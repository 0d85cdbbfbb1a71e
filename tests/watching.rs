//! `draft --watch`: the built program, left running beside files that are saved, half saved, moved away and added.

use std::fs;
use std::fs::File;
use std::path::Path;
use std::path::PathBuf;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;
use std::thread;
use std::time::Duration;
use std::time::Instant;

/// Where the reports go, but for one test.
const OUT: &[&str] = &["--out", "out"];

/// Far more than a round takes: these tests ask what happens, the bench how fast.
const PATIENCE: Duration = Duration::from_secs(20);

/// Several looks of the program.
const A_WHILE: Duration = Duration::from_millis(600);

const SAMPLE: &str = include_str!("../samples/zinc-copper-sulfate/3-07.toml");
const LAB: &str = include_str!("../samples/zinc-copper-sulfate/lab.toml");

/// A program that watches the folder `class` of a scratch folder; ended when dropped.
struct Watch {
    scratch: tempfile::TempDir,
    child: Child,
}

impl Drop for Watch {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Watch {
    /// Starts it on these files of `class`, and waits until it says that it watches.
    fn start(files: &[(&str, &str)], paths: &[&str], more: &[&str]) -> Self {
        let scratch = tempfile::tempdir().expect("a folder");
        fs::create_dir_all(scratch.path().join("class")).expect("a folder");
        for (name, text) in files {
            let path = scratch.path().join(name);
            fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
            fs::write(path, text).expect("written");
        }
        let log = |name| File::create(scratch.path().join(name)).expect("a log");
        let child = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .current_dir(scratch.path())
            .arg("draft")
            .args(paths)
            .arg("--watch")
            .args(more)
            .stdin(Stdio::null())
            .stdout(log("out.log"))
            .stderr(log("err.log"))
            .spawn()
            .expect("the program was built for this test");
        let watch = Self { scratch, child };
        watch.until("it watches", || watch.read("out.log").contains("watching "));
        watch
    }

    fn path(&self, name: &str) -> PathBuf {
        self.scratch.path().join(name)
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap_or_default()
    }

    fn save(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).expect("written");
    }

    /// Lines on standard output: one a round, and one that says what is watched.
    fn lines(&self) -> usize {
        self.read("out.log").lines().count()
    }

    fn until(&self, what: &str, mut holds: impl FnMut() -> bool) {
        let start = Instant::now();
        while !holds() {
            assert!(
                start.elapsed() < PATIENCE,
                "waited in vain: {what}\n{}\n{}",
                self.read("out.log"),
                self.read("err.log")
            );
            thread::sleep(Duration::from_millis(10));
        }
    }

    fn until_report(&self, name: &str, text: &str) {
        self.until(text, || self.read(name).contains(text));
    }
}

fn with_zinc(mass: &str) -> String {
    assert!(SAMPLE.contains("4.36"));
    SAMPLE.replace("4.36 g", mass)
}

#[test]
fn what_is_saved_is_drafted_again_and_only_that() {
    let files = [("class/3-07.toml", SAMPLE), ("class/3-08.toml", SAMPLE)];
    let watch = Watch::start(&files, &["class"], OUT);
    assert!(watch.read("out/3-07.md").contains("4.36"));
    assert!(watch.path("out/3-08.html").exists());
    let other = modified(&watch.path("out/3-08.md"));
    assert_eq!(watch.lines(), 2, "{}", watch.read("out.log"));

    watch.save("class/3-07.toml", &with_zinc("4.35 g"));
    watch.until_report("out/3-07.md", "4.35");
    watch.until_report("out/3-07.html", "4.35");
    watch.until("a line", || watch.lines() == 3);
    let line = "class/3-07.toml: wrote out/3-07.md and out/3-07.html";
    assert!(watch.read("out.log").contains(line));
    assert_eq!(modified(&watch.path("out/3-08.md")), other);

    // A new file, in a new folder, is drafted as well.
    fs::create_dir(watch.path("class/late")).expect("a folder");
    watch.save("class/late/3-09.toml", &with_zinc("4.34 g"));
    watch.until_report("out/late/3-09.md", "4.34");

    // A problem is said when it comes; the report stays until the file is right again.
    watch.save("class/3-07.toml", &with_zinc("4.3b g"));
    watch.until("the problem", || watch.read("err.log").contains("4.3b"));
    watch.save("class/3-07.toml", &with_zinc("4.33 g"));
    watch.until_report("out/3-07.md", "4.33");
}

#[test]
fn a_lab_description_concerns_every_file() {
    let data = SAMPLE.replace("\"zinc-copper-sulfate\"", "\"../labs/ours.toml\"");
    let files = [
        ("class/3-07.toml", data.as_str()),
        ("class/3-08.toml", SAMPLE),
        ("labs/ours.toml", LAB),
        ("lab.toml", LAB),
    ];
    let watch = Watch::start(&files, &["class"], OUT);
    let titled = |title: &str| {
        let line = LAB.lines().find(|line| line.starts_with("title"));
        LAB.replacen(line.expect("a title"), &format!("title = \"{title}\""), 1)
    };
    // Named by its path; above the folder by its name; and one that comes nearer than that.
    watch.save("labs/ours.toml", &titled("Ours by path"));
    watch.until_report("out/3-07.md", "Ours by path");
    watch.save("lab.toml", &titled("Ours above"));
    watch.until_report("out/3-08.md", "Ours above");
    watch.save("class/lab.toml", &titled("Ours beside"));
    watch.until_report("out/3-08.md", "Ours beside");
}

#[test]
fn templates_and_the_groups_own_file_count_too() {
    let student = SAMPLE.replacen("[who]", "[who]\nreadings_of = \"3-07.toml\"", 1);
    let files = [
        ("class/3-07.toml", SAMPLE),
        ("class/ik.toml", student.as_str()),
        ("ours/report.md.hbs", "First {{title}}\n"),
    ];
    // Reports go into the folder of the templates: what is written there starts no round.
    let options = ["--template", "ours", "--out", "ours"];
    let watch = Watch::start(&files, &["class/ik.toml"], &options);
    watch.until_report("ours/ik.md", "First ");
    thread::sleep(A_WHILE);
    assert_eq!(watch.lines(), 2, "{}", watch.read("out.log"));
    watch.save("ours/report.md.hbs", "Second {{title}}\n{{> data}}\n");
    watch.until_report("ours/ik.md", "Second ");
    assert!(watch.read("ours/ik.md").contains("4.36"));
    watch.save("class/3-07.toml", &with_zinc("4.35 g"));
    watch.until_report("ours/ik.md", "4.35");
    assert!(!watch.path("ours/3-07.md").exists());
    // A broken template is said, and the watch goes on.
    watch.save("ours/report.md.hbs", "{{#if}}\n");
    watch.until("the fault", || {
        watch.read("err.log").contains("report.md.hbs")
    });
    watch.save("ours/report.md.hbs", "Third {{title}}\n");
    watch.until_report("ours/ik.md", "Third ");
}

#[test]
fn a_file_that_is_half_saved_or_away_is_no_error() {
    let watch = Watch::start(&[("class/3-07.toml", SAMPLE)], &["class/3-07.toml"], OUT);
    let report = watch.read("out/3-07.md");
    let said = watch.read("err.log");
    // Emptied, then away, then back as it was.
    watch.save("class/3-07.toml", "");
    thread::sleep(A_WHILE);
    fs::remove_file(watch.path("class/3-07.toml")).expect("removed");
    thread::sleep(A_WHILE);
    assert_eq!(watch.read("out/3-07.md"), report);
    assert_eq!(watch.read("err.log"), said);
    assert_eq!(watch.lines(), 2, "{}", watch.read("out.log"));
    // Saved as many editors do: another file takes its place.
    watch.save("class/.3-07.swp", &with_zinc("4.35 g"));
    fs::rename(watch.path("class/.3-07.swp"), watch.path("class/3-07.toml")).expect("moved");
    watch.until_report("out/3-07.md", "4.35");
    assert_eq!(watch.read("err.log"), said);
}

#[test]
fn an_empty_folder_can_be_watched_and_what_is_not_there_cannot() {
    let watch = Watch::start(&[], &["class"], OUT);
    watch.save("class/3-07.toml", SAMPLE);
    watch.until_report("out/3-07.md", "4.36");
    for (path, fault) in [
        ("-", "standard input cannot be watched"),
        ("nowhere.toml", "there is no nowhere.toml"),
    ] {
        let output = Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .args(["draft", path, "--watch"])
            .stdin(Stdio::null())
            .output()
            .expect("the program was built for this test");
        assert_eq!(output.status.code(), Some(2), "{path}");
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(said.contains(fault), "{said}");
    }
}

fn modified(path: &Path) -> std::time::SystemTime {
    fs::metadata(path)
        .and_then(|about| about.modified())
        .expect("a file")
}
