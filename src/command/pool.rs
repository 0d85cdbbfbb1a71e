//! Many files worked on all cores, results in the order of the files, progress on a terminal.

use std::collections::BTreeMap;
use std::io::IsTerminal;
use std::sync::Mutex;
use std::sync::PoisonError;
use std::sync::atomic::AtomicUsize;
use std::sync::atomic::Ordering;
use std::time::Duration;
use std::time::Instant;

use crate::command::terminal;

/// Files between two lines of progress.
const PROGRESS_EVERY: usize = 50;

/// `work` done on the numbers below `count`, results in order.
pub(super) fn all<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let mut results = Vec::with_capacity(count);
    in_order(count, work, |result| results.push(result));
    results
}

/// `work` done on the numbers below `count`; each result goes to `then` in order, as soon as those before it are there, so
/// that no more of them are kept than came too early.
pub(super) fn in_order<T: Send>(
    count: usize,
    work: impl Fn(usize) -> T + Sync,
    then: impl FnMut(T) + Send,
) {
    let next = AtomicUsize::new(0);
    let cores = std::thread::available_parallelism()
        .map_or(1, std::num::NonZero::get)
        .min(count);
    let started = Instant::now();
    let shows_progress = std::io::stderr().is_terminal();
    let queue = Mutex::new(Queue {
        then,
        turn: 0,
        early: BTreeMap::new(),
    });
    let mine = || {
        loop {
            let place = next.fetch_add(1, Ordering::Relaxed);
            if place >= count {
                return;
            }
            if shows_progress
                && place % PROGRESS_EVERY == PROGRESS_EVERY - 1
                && started.elapsed() > Duration::from_secs(1)
            {
                terminal::remark(&format!("{} of {count} …", place + 1));
            }
            let result = work(place);
            // Only a panic in `then` leaves the lock poisoned, and that panic goes on below.
            let mut queue = queue.lock().unwrap_or_else(PoisonError::into_inner);
            queue.take(place, result);
        }
    };
    std::thread::scope(|scope| {
        let threads: Vec<_> = (1..cores).map(|_| scope.spawn(mine)).collect();
        mine();
        for thread in threads {
            // A panic is a bug of ours and goes on as one.
            thread
                .join()
                .unwrap_or_else(|panic| std::panic::resume_unwind(panic));
        }
    });
}

/// Results on their way to whoever takes them in order.
struct Queue<T, F> {
    then: F,
    /// The number of the result that is next.
    turn: usize,
    /// Results that are there before their turn.
    early: BTreeMap<usize, T>,
}

impl<T, F: FnMut(T)> Queue<T, F> {
    /// Passes a result on in its turn, and those that waited for it.
    fn take(&mut self, place: usize, result: T) {
        if place != self.turn {
            self.early.insert(place, result);
            return;
        }
        (self.then)(result);
        self.turn += 1;
        while let Some(result) = self.early.remove(&self.turn) {
            (self.then)(result);
            self.turn += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_order_whoever_is_done_first() {
        let slow_at_first = |place: usize| {
            if place.is_multiple_of(16) {
                std::thread::sleep(Duration::from_millis(2));
            }
            place
        };
        let mut taken = Vec::new();
        in_order(100, slow_at_first, |place| taken.push(place));
        assert_eq!(taken, (0..100).collect::<Vec<_>>());
        assert_eq!(all(100, slow_at_first), taken);
        assert!(all(0, slow_at_first).is_empty());
    }

    #[test]
    fn a_result_is_passed_on_before_all_are_there() {
        let mut taken = Vec::new();
        let mut queue = Queue {
            then: |place: usize| taken.push(place),
            turn: 0,
            early: BTreeMap::new(),
        };
        for place in [1, 0, 3, 2] {
            queue.take(place, place);
            assert_eq!(queue.early.len(), usize::from(place % 2 == 1));
        }
        assert_eq!(taken, [0, 1, 2, 3]);
    }
}
