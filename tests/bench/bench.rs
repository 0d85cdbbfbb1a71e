//! Speed: `cargo bench` prints what a run costs, the goal beside it, and the same work done bare as a bound.
//!
//! Absolute times drift with the machine, so look at the ratios. Whole runs are timed as processes, from start to
//! exit, with their files in memory-backed folders where the system has one.

#![allow(unreachable_pub, reason = "nothing outside a bench can reach into it")]
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a bench prints, and stops on a fault"
)]

mod bare;
mod class;
mod clock;
mod parts;
mod share;
mod watch;
mod whole;

/// Runs everything; `cargo bench -- whole` only what is named.
fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    if !words.iter().any(|word| word == "--bench") {
        println!("run it with `cargo bench`");
        return;
    }
    let wanted = |name: &str| {
        let mut named = words
            .iter()
            .filter(|word| !word.starts_with('-'))
            .peekable();
        named.peek().is_none() || named.any(|word| word == name)
    };
    if wanted("share") {
        share::run();
    }
    if wanted("whole") {
        whole::run();
    }
    if wanted("watch") {
        watch::run();
    }
    if wanted("parts") {
        parts::run();
    }
}
