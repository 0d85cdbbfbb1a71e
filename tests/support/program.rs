//! The program, run in a folder.

use std::path::Path;
use std::process::Command;

/// Everything the program printed, results first.
pub(crate) fn gramleaf(folder: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gramleaf"));
    let output = command.current_dir(folder).args(arguments).output();
    let output = output.expect("the program runs");
    let both = [output.stdout, output.stderr].concat();
    String::from_utf8_lossy(&both).into_owned()
}
