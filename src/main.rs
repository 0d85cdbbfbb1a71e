//! The program: arguments in, exit status out.

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    gramleaf::command::run(gramleaf::cli::Cli::parse()).into()
}
