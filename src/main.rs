//! The program: arguments in, exit status out.

use std::process::ExitCode;

use clap::Parser;

/// Reports are made of many small texts: with the system's allocator a fifth of a run over a folder goes into finding room for them.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    gramleaf::command::run(gramleaf::cli::Cli::parse()).into()
}
