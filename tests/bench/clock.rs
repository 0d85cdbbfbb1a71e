//! Timing: medians of repeated runs, the most memory a process used, and one printed line a measurement.

use std::fs;
use std::process::Command;
use std::process::Stdio;
use std::time::Duration;
use std::time::Instant;

/// What one run of a process cost.
#[derive(Debug, Clone, Copy)]
pub struct Cost {
    /// From start to exit.
    pub time: Duration,
    /// The most memory seen in use, in kB; 0 where the system does not tell.
    pub memory: u64,
}

/// The median time of `runs` calls.
pub fn median(runs: usize, mut work: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .collect();
    times.sort();
    times[runs / 2]
}

/// The median time and the largest memory of `runs` processes; `prepare` makes each command, outside the clock.
pub fn processes(runs: usize, mut prepare: impl FnMut(usize) -> Command) -> Cost {
    let mut costs: Vec<Cost> = (0..runs)
        .map(|run| process(&mut prepare(run), false))
        .collect();
    costs.sort_by_key(|cost| cost.time);
    // Looking at the memory takes time from the process, so it has a run of its own.
    let memory = process(&mut prepare(runs), true).memory;
    Cost {
        time: costs[runs / 2].time,
        memory,
    }
}

fn process(command: &mut Command, watch: bool) -> Cost {
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        // Nobody reads while it runs: a pipe would fill up with problems and stop it.
        .stderr(Stdio::null());
    let start = Instant::now();
    let mut child = command.spawn().unwrap();
    let mut memory = 0;
    if watch {
        let status = format!("/proc/{}/status", child.id());
        while child.try_wait().unwrap().is_none() {
            memory = memory.max(high_water(&status));
        }
    }
    let output = child.wait_with_output().unwrap();
    let time = start.elapsed();
    // 1 says that answers need another look, which is no failure of the run.
    let failed = !matches!(output.status.code(), Some(0 | 1));
    assert!(!failed, "{command:?} ended with {}", output.status);
    Cost { time, memory }
}

/// The most memory a running process has used so far, in kB.
fn high_water(status: &str) -> u64 {
    let text = fs::read_to_string(status).unwrap_or_default();
    let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.split_whitespace().next()?.parse().ok())
        .unwrap_or(0)
}

/// Prints one measurement: name, time for all, time for one, and what stands beside it.
pub fn line(name: &str, time: Duration, count: usize, beside: &str) {
    let all = time.as_secs_f64() * 1e3;
    let each = all / count as f64;
    println!("  {name:<44} {all:>9.2} ms {each:>9.4} ms each   {beside}");
}

/// How many times longer one took than the other, as text.
pub fn ratio(time: Duration, bound: Duration) -> String {
    format!("{:.2} ×", time.as_secs_f64() / bound.as_secs_f64())
}
