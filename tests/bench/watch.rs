//! `draft --watch`: from saving a data file to its written report.

use std::fs;
use std::path::Path;
use std::process::Child;
use std::process::Command;
use std::process::Stdio;
use std::thread;
use std::time::Duration;
use std::time::Instant;

use crate::class;

/// Saves that are timed.
const SAVES: usize = 25;

/// Times saves in a folder of one file and of many.
pub fn run() {
    println!("from a save to the written report, watching [200 ms]");
    for count in [1, 70] {
        let scratch = class::scratch();
        let folder = class::write(scratch.path(), count);
        let out = scratch.path().join("out");
        let mut times = watched(&folder, &out);
        times.sort();
        println!(
            "  folder of {count:<4} median {:>6.1} ms   longest {:>6.1} ms",
            times[SAVES / 2].as_secs_f64() * 1e3,
            times[SAVES - 1].as_secs_f64() * 1e3
        );
    }
}

fn watched(folder: &Path, out: &Path) -> Vec<Duration> {
    let _watch = Running(
        Command::new(env!("CARGO_BIN_EXE_gramleaf"))
            .arg("draft")
            .arg(folder)
            .args(["--key", "--watch", "--out"])
            .arg(out)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap(),
    );
    let sample = fs::read_to_string(class::SAMPLE).unwrap();
    // The page is the last that is written.
    let page = out.join("g-00000.html");
    let last = fs::read_dir(folder).unwrap().count() - 1;
    let all = out.join(format!("g-{last:05}.html"));
    until(|| page.exists() && all.exists());
    (0..SAVES)
        .map(|save| {
            // At another moment between two looks each time.
            thread::sleep(Duration::from_millis(300 + 7 * save as u64));
            let title = format!("saved {save} times");
            let text =
                class::varied(&sample, 0).replacen("\"g-00000\"", &format!("\"{title}\""), 1);
            fs::write(folder.join("g-00000.toml"), text).unwrap();
            let start = Instant::now();
            until(|| fs::read_to_string(&page).is_ok_and(|page| page.contains(&title)));
            start.elapsed()
        })
        .collect()
}

fn until(holds: impl Fn() -> bool) {
    let start = Instant::now();
    while !holds() {
        assert!(
            start.elapsed() < Duration::from_secs(30),
            "nothing was written"
        );
        thread::sleep(Duration::from_millis(1));
    }
}

/// Ended when dropped.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}
