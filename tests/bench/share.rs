//! Class pages of small and large classes: time and memory a group, and the second run, which changes nothing.

use std::process::Command;

use crate::class;
use crate::clock;

/// Groups in a class.
const CLASSES: [usize; 4] = [14, 140, 1_400, 10_000];

/// Times `share` for each size.
pub fn run() {
    println!("share, from start to exit (medians)");
    for count in CLASSES {
        let scratch = class::scratch();
        let folder = class::write(scratch.path(), count);
        let runs = if count > 2_000 { 1 } else { 3 };
        let share = |run: usize| {
            let mut command = Command::new(env!("CARGO_BIN_EXE_gramleaf"));
            command.arg("share").arg(&folder);
            command
                .arg("--out")
                .arg(scratch.path().join(format!("site-{run}")));
            command
        };
        let cost = clock::processes(runs, share);
        clock::line(
            &format!("share, {count} groups"),
            cost.time,
            count,
            &format!("{:>5.1} MB", cost.memory as f64 / 1024.0),
        );
        let again = clock::processes(runs, |_| share(0));
        clock::line(
            &format!("share, {count} groups, once more"),
            again.time,
            count,
            "",
        );
    }
}
