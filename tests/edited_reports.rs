//! A report that somebody wrote into is never lost: `draft` leaves it alone, or keeps a copy.

use std::fs;
use std::path::Path;
use std::process::Command;
use std::process::Output;

const SAMPLE: &str = include_str!("../samples/zinc-copper-sulfate/3-07.toml");

/// Drafts `3-07.toml` of a folder.
fn draft(folder: &Path, more: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_gramleaf"))
        .current_dir(folder)
        .args(["draft", "3-07.toml"])
        .args(more)
        .output()
        .expect("the program was built for this test")
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("3-07.toml"), SAMPLE).expect("written");
    assert!(draft(folder.path(), &[]).status.success());
    folder
}

fn read(folder: &Path, name: &str) -> Vec<u8> {
    fs::read(folder.join(name)).unwrap_or_else(|why| panic!("{name}: {why}"))
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("the folder");
    let mut names: Vec<String> = entries
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    names
}

#[test]
fn each_edit_is_kept_under_a_name_of_its_own() {
    for ending in ["md", "html"] {
        let scratch = folder();
        let folder = scratch.path();
        let report = format!("3-07.{ending}");
        let drafted = [read(folder, "3-07.md"), read(folder, "3-07.html")];
        // The second is no UTF-8, as an old editor writes it.
        let edits: [&[u8]; 2] = [b"\nOur own line.\n", b"\nK\xfcvette\n"];
        for (number, edit) in edits.iter().enumerate() {
            let edited = [&read(folder, &report)[..], edit].concat();
            fs::write(folder.join(&report), &edited).expect("written");
            let before = names(folder);

            let output = draft(folder, &[]);
            assert_eq!(output.status.code(), Some(1));
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            assert!(
                said.contains(&format!("{report} was edited since")) && said.contains("--replace"),
                "{said}"
            );
            assert_eq!(read(folder, &report), edited);
            assert_eq!(names(folder), before, "nothing is written beside");

            let output = draft(folder, &["--replace"]);
            assert!(output.status.success());
            let copy = format!("3-07.edited-{}.{ending}", number + 1);
            let told = String::from_utf8_lossy(&output.stdout).into_owned();
            assert!(told.contains(&format!("kept {copy}\n")), "{told}");
            assert_eq!(read(folder, &copy), edited);
            assert_eq!(
                [read(folder, "3-07.md"), read(folder, "3-07.html")],
                drafted
            );
        }
        // The first copy is as it was kept, and what nobody edited is not kept again.
        assert!(read(folder, &format!("3-07.edited-1.{ending}")).ends_with(edits[0]));
        let before = names(folder);
        assert!(draft(folder, &["--replace"]).status.success());
        assert_eq!(names(folder), before);
        assert_eq!(before.len(), 5, "{before:?}");
    }
}

#[test]
fn new_readings_replace_a_report_that_nobody_edited_and_no_other() {
    let scratch = folder();
    let folder = scratch.path();
    fs::write(folder.join("3-07.toml"), SAMPLE.replace("4.36 g", "4.35 g")).expect("written");
    assert!(draft(folder, &[]).status.success());
    let report = String::from_utf8(read(folder, "3-07.md")).expect("UTF-8");
    assert!(report.contains("4.35"));

    let edited = report.replacen("4.35", "4.55", 1);
    fs::write(folder.join("3-07.md"), &edited).expect("written");
    let page = read(folder, "3-07.html");
    fs::write(folder.join("3-07.toml"), SAMPLE.replace("4.36 g", "4.34 g")).expect("written");
    assert_eq!(draft(folder, &[]).status.code(), Some(1));
    assert_eq!(read(folder, "3-07.md"), edited.as_bytes());
    assert_eq!(read(folder, "3-07.html"), page, "both documents or none");
    assert!(draft(folder, &["--replace"]).status.success());
    assert_eq!(read(folder, "3-07.edited-1.md"), edited.as_bytes());
    assert!(String::from_utf8_lossy(&read(folder, "3-07.md")).contains("4.34"));
}

#[test]
fn a_file_of_another_origin_is_not_overwritten() {
    let scratch = tempfile::tempdir().expect("a folder");
    fs::write(scratch.path().join("3-07.toml"), SAMPLE).expect("written");
    fs::write(scratch.path().join("3-07.md"), "my notes").expect("written");
    assert_eq!(draft(scratch.path(), &[]).status.code(), Some(1));
    assert_eq!(names(scratch.path()), ["3-07.md", "3-07.toml"]);
    assert!(draft(scratch.path(), &["--replace"]).status.success());
    assert_eq!(read(scratch.path(), "3-07.edited-1.md"), b"my notes");
}

/// A folder that cannot be written is said, and leaves the edited report as it is.
#[test]
fn nothing_is_lost_where_nothing_can_be_written() {
    // A file where the folder should be stops everybody, also those whom permissions do not stop.
    let scratch = folder();
    fs::write(scratch.path().join("blocked"), "a file").expect("written");
    let output = draft(scratch.path(), &["--out", "blocked"]);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        said.contains("cannot write blocked/3-07.md")
            || said.contains("cannot write blocked\\3-07.md"),
        "{said}"
    );

    let edited = [&read(scratch.path(), "3-07.md")[..], b"ours\n"].concat();
    fs::write(scratch.path().join("3-07.md"), &edited).expect("written");
    let Some(_restored) = ReadOnly::make(scratch.path()) else {
        return;
    };
    let before = names(scratch.path());
    let output = draft(scratch.path(), &["--replace"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("cannot keep a copy of 3-07.md"));
    assert_eq!(read(scratch.path(), "3-07.md"), edited);
    assert_eq!(names(scratch.path()), before);
}

/// Documents are often written to a folder named after their template; that folder is no template then.
#[test]
fn a_folder_with_the_name_of_a_template_does_not_hide_it() {
    let scratch = folder();
    let folder = scratch.path();
    for run in ["first", "second"] {
        let options = ["--template", "marked", "--key", "--out", "marked"];
        let output = draft(folder, &options);
        assert!(output.status.success(), "{run}: {output:?}");
        assert!(output.stderr.is_empty(), "{run}: {output:?}");
    }
    let marked = String::from_utf8(read(&folder.join("marked"), "3-07.md")).expect("text");
    let output = draft(folder, &["--template", "./marked", "--out", "own"]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains("3-07.md replaces no template"), "{said}");
    assert_ne!(marked.as_bytes(), read(&folder.join("own"), "3-07.md"));
}

/// A folder made read-only, until it is dropped.
struct ReadOnly<'a>(&'a Path, fs::Permissions);

impl<'a> ReadOnly<'a> {
    /// `None` where permissions stop nobody: the administrator, and folders of some systems.
    fn make(folder: &'a Path) -> Option<Self> {
        let before = fs::metadata(folder).expect("the folder").permissions();
        let mut after = before.clone();
        after.set_readonly(true);
        fs::set_permissions(folder, after).expect("permissions");
        let made = Self(folder, before);
        let probe = folder.join("probe");
        let stopped = fs::write(&probe, "").is_err();
        let _ = fs::remove_file(&probe);
        stopped.then_some(made)
    }
}

impl Drop for ReadOnly<'_> {
    fn drop(&mut self) {
        let _ = fs::set_permissions(self.0, self.1.clone());
    }
}

/// An editor of another system may save all lines with ends of its own.
#[test]
fn other_line_ends_are_no_edit() {
    let scratch = folder();
    let folder = scratch.path();
    let with_ends = |text: &[u8]| String::from_utf8_lossy(text).replace('\n', "\r\n");
    for ending in ["md", "html"] {
        let report = format!("3-07.{ending}");
        let drafted = with_ends(&read(folder, &report));
        fs::write(folder.join(&report), &drafted).expect("written");
        assert!(draft(folder, &[]).status.success());
        assert!(names(folder).iter().all(|name| !name.contains("edited")));
        // What is typed into such a copy is an edit as before.
        fs::write(
            folder.join(&report),
            drafted.replacen("# ", "# Our ", 1) + "x",
        )
        .expect("written");
        assert!(!draft(folder, &[]).status.success());
        assert!(draft(folder, &["--replace"]).status.success());
        let kept = folder.join(format!("3-07.edited-1.{ending}"));
        assert!(kept.exists());
        fs::remove_file(kept).expect("taken away");
    }
}

/// What others may do with a report is what they may do with any new file, and stays as somebody set it.
#[cfg(unix)]
#[test]
fn permissions_are_those_of_other_files_and_stay() {
    use std::os::unix::fs::PermissionsExt;
    let folder = folder();
    let mode = |name: &str| {
        let found = fs::metadata(folder.path().join(name)).expect("it is there");
        found.permissions().mode() & 0o777
    };
    fs::write(folder.path().join("any"), "x").expect("written");
    assert_eq!(mode("3-07.md"), mode("any"));
    let html = folder.path().join("3-07.html");
    fs::set_permissions(&html, fs::Permissions::from_mode(0o640)).expect("set");
    assert!(draft(folder.path(), &["--key"]).status.success());
    assert_eq!(mode("3-07.html"), 0o640);
    assert_eq!(
        names(folder.path()),
        ["3-07.html", "3-07.md", "3-07.toml", "any"]
    );
}

/// A report of before the check sum, whose last line held a digest.
#[test]
fn a_report_marked_the_former_way_is_not_taken_for_edited() {
    let folder = folder();
    let path = folder.path().join("3-07.md");
    let text = String::from_utf8(read(folder.path(), "3-07.md")).expect("text");
    let (above, _) = text.rsplit_once("<!-- drafted ").expect("a mark");
    let digest = <sha2::Sha256 as sha2::Digest>::digest(above.as_bytes());
    let digest: String = digest
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect();
    fs::write(&path, format!("{above}<!-- drafted {digest} -->\n")).expect("written");
    assert!(draft(folder.path(), &[]).status.success());
    assert_eq!(read(folder.path(), "3-07.md"), text.as_bytes());
    fs::write(&path, format!("{above}x\n<!-- drafted {digest} -->\n")).expect("written");
    assert!(!draft(folder.path(), &[]).status.success());
}
