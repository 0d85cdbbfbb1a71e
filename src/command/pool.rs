//! Many files worked on all cores, results in the order of the files, progress on a terminal.

use std::io::IsTerminal;
use std::sync::atomic::AtomicUsize;
use std::sync::atomic::Ordering;
use std::time::Duration;
use std::time::Instant;

use crate::command::terminal;

/// Files between two lines of progress.
const PROGRESS_EVERY: usize = 50;

/// `work` done on the numbers below `count`, results in order.
pub(super) fn all<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let cores = std::thread::available_parallelism()
        .map_or(1, std::num::NonZero::get)
        .min(count);
    let started = Instant::now();
    let shows_progress = std::io::stderr().is_terminal();
    let mine = || {
        let mut done = Vec::new();
        loop {
            let place = next.fetch_add(1, Ordering::Relaxed);
            if place >= count {
                return done;
            }
            if shows_progress
                && place % PROGRESS_EVERY == PROGRESS_EVERY - 1
                && started.elapsed() > Duration::from_secs(1)
            {
                terminal::remark(&format!("{} of {count} …", place + 1));
            }
            done.push((place, work(place)));
        }
    };
    let mut results: Vec<(usize, T)> = std::thread::scope(|scope| {
        let threads: Vec<_> = (1..cores).map(|_| scope.spawn(mine)).collect();
        let mut all = mine();
        for thread in threads {
            // A panic is a bug of ours and goes on as one.
            all.extend(
                thread
                    .join()
                    .unwrap_or_else(|panic| std::panic::resume_unwind(panic)),
            );
        }
        all
    });
    results.sort_by_key(|(place, _)| *place);
    results.into_iter().map(|(_, result)| result).collect()
}
