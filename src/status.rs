//! What a run ends with.

use std::process::ExitCode;

/// The exit status of the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Status {
    /// 0: everything asked for was done; readings may be missing, and there may be warnings.
    Good,
    /// 1: a file was read, but something in it is wrong.
    ProblemsFound,
    /// 2: nothing could be done: bad arguments, a missing file, a broken template.
    CouldNotRun,
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(match status {
            Status::Good => 0,
            Status::ProblemsFound => 1,
            Status::CouldNotRun => 2,
        })
    }
}
