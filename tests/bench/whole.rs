//! Whole runs of the program, each beside the same bytes converted or written bare.

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;
use std::thread;
use std::time::Duration;

use crate::bare;
use crate::class;
use crate::clock;
use crate::clock::Cost;

/// How often a folder is gone through.
const RUNS: usize = 5;

/// Files in the folder.
const CLASS: usize = 1_000;

/// Times one report, `check`, `start`, and a folder of reports.
pub fn run() {
    let scratch = class::scratch();
    println!("whole runs, from start to exit (medians); goals in brackets");
    one(scratch.path());
    many(scratch.path());
}

fn gramleaf(words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gramleaf"));
    command.args(words);
    command
}

/// A folder that no run has written to before: overwriting and deleting slow a file system down.
fn fresh(scratch: &Path, name: &str, run: usize) -> String {
    scratch
        .join(format!("{name}-{run}"))
        .to_string_lossy()
        .into_owned()
}

fn report(name: &str, cost: Cost, count: usize, beside: &str) {
    clock::line(
        name,
        cost.time,
        count,
        &format!("{:>5.1} MB   {beside}", cost.memory as f64 / 1024.0),
    );
}

fn one(scratch: &Path) {
    let floor = clock::processes(31, |_| gramleaf(&["--version"]));
    report("--version, the floor of a process", floor, 1, "");
    let cost = clock::processes(31, |run| {
        gramleaf(&["draft", class::SAMPLE, "--out", &fresh(scratch, "one", run)])
    });
    report("draft, one report, cold", cost, 1, "[10 ms, 30 MB]");
    let cost = clock::processes(31, |_| gramleaf(&["check", class::SAMPLE]));
    report("check, one file", cost, 1, "[5 ms]");
    let cost = clock::processes(31, |run| {
        gramleaf(&[
            "start",
            "zinc-copper-sulfate",
            "--group",
            "9-99",
            "--out",
            &fresh(scratch, "start", run),
        ])
    });
    report("start, one blank file", cost, 1, "[5 ms]");
}

fn many(scratch: &Path) {
    let folder = class::write(scratch, CLASS);
    let folder = folder.to_string_lossy();
    // Every file holds wrong answers, so that every slip is tried on them.
    let cost = clock::processes(RUNS, |_| gramleaf(&["check", &folder, "--json"]));
    report(
        "check --json, 1,000 with slips",
        cost,
        CLASS,
        "[0.3 ms each]",
    );
    let cost = clock::processes(RUNS, |run| {
        // With other readings the sample's answers are wrong and would keep the working closed.
        gramleaf(&[
            "draft",
            &folder,
            "--key",
            "--out",
            &fresh(scratch, "many", run),
        ])
    });
    report(
        "draft --key, folder of 1,000",
        cost,
        CLASS,
        "[0.5 ms each, memory as for one]",
    );

    let written = documents(Path::new(&fresh(scratch, "many", 0)));
    // Page and Markdown of a report stand beside each other.
    let reports: Vec<[&str; 2]> = written
        .chunks_exact(2)
        .map(|two| [two[0].1.as_str(), two[1].1.as_str()])
        .collect();
    assert_eq!(reports.len(), CLASS, "two documents a data file");
    let bytes: usize = written.iter().map(|(_, text)| text.len()).sum();
    let bare = Path::new(&fresh(scratch, "bare", 0)).to_owned();
    fs::create_dir_all(&bare).unwrap();
    let documents: Vec<PathBuf> = (0..CLASS)
        .map(|place| bare.join(format!("{place}.md")))
        .collect();
    for (path, [page, markdown]) in documents.iter().zip(&reports) {
        fs::write(path, bare::written_out(markdown, page)).unwrap();
    }
    let frame = bare::frame(reports[0][0]);
    let convert = clock::median(RUNS, || {
        on_both_cores(&documents, |path| {
            let text = fs::read_to_string(path).unwrap();
            fs::write(path.with_extension("html"), bare::html(&text, &frame)).unwrap();
        });
    });
    let mut run = 0;
    let write = clock::median(RUNS, || {
        run += 1;
        write_bare(Path::new(&fresh(scratch, "written", run)), &written);
    });
    bound(
        "bound: the same Markdown by libraries",
        convert,
        cost,
        "[1.8 ×] read, formulas as LaTeX, written",
    );
    bound(
        "bound: the same bytes written",
        write,
        cost,
        &format!("{} KB a report", bytes / CLASS / 1024),
    );
}

fn bound(name: &str, time: Duration, cost: Cost, remark: &str) {
    clock::line(
        name,
        time,
        CLASS,
        &format!("draft takes {}   {remark}", clock::ratio(cost.time, time)),
    );
}

/// What a run wrote: file name and text.
fn documents(folder: &Path) -> Vec<(String, String)> {
    let mut paths: Vec<PathBuf> = walkdir::WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.unwrap().into_path())
        .filter(|path| path.is_file())
        .collect();
    paths.sort();
    let name = |path: &Path| path.file_name().unwrap().to_string_lossy().into_owned();
    paths
        .iter()
        .map(|path| (name(path), fs::read_to_string(path).unwrap()))
        .collect()
}

fn write_bare(folder: &Path, documents: &[(String, String)]) {
    fs::create_dir_all(folder).unwrap();
    on_both_cores(documents, |(name, text)| {
        fs::write(folder.join(name), text).unwrap();
    });
}

fn on_both_cores<T: Sync>(items: &[T], work: impl Fn(&T) + Sync) {
    let (first, second) = items.split_at(items.len() / 2);
    thread::scope(|scope| {
        scope.spawn(|| first.iter().for_each(&work));
        second.iter().for_each(&work);
    });
}
