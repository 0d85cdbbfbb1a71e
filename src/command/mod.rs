//! Files, terminal and exit status: the only code that touches the world.
//!
//! | file | holds |
//! |---|---|
//! | `labs`, `start`, `import`, `draft`, `check`, `share`, `plan` | one command each |
//! | `roster` | a class list |
//! | `table` | a table saved as CSV |
//! | `forms` | where forms go |
//! | `sheets` | sheets on paper: where they go, one page for all groups |
//! | `schema` | schemas for editors, and the line that names one |
//! | `files` | finding, reading and writing files |
//! | `labs_in_use` | where a data file's lab comes from, each lab read once |
//! | `case` | a data file read, checked, worked and its answers judged |
//! | `group_file` | the group's file that a student's file points at |
//! | `pool` | many files on all cores |
//! | `terminal` | text to the terminal |

mod case;
mod check;
mod draft;
mod files;
mod forms;
mod group_file;
mod import;
mod labs;
mod labs_in_use;
mod names;
mod plan;
mod pool;
mod roster;
mod schema;
mod share;
mod sheets;
mod start;
mod table;
mod terminal;

use crate::cli::Cli;
use crate::cli::Command;
use crate::status::Status;

/// Why nothing could be done: one sentence, and a next step.
#[derive(Debug)]
struct Stop {
    message: String,
    help: String,
}

impl Stop {
    fn new(message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            help: help.into(),
        }
    }
}

/// Runs a command line.
#[must_use]
pub fn run(cli: Cli) -> Status {
    let outcome = match cli.command {
        Command::Labs(arguments) => labs::run(&arguments),
        Command::Start(arguments) => start::run(&arguments),
        Command::Import(arguments) => import::run(&arguments),
        Command::Draft(arguments) => draft::run(&arguments),
        Command::Check(arguments) => check::run(&arguments),
        Command::Share(arguments) => share::run(&arguments),
        Command::Plan(arguments) => plan::run(&arguments),
        Command::Completions(arguments) => {
            terminal::result(arguments.shell.script());
            Ok(Status::Good)
        }
        Command::Man => {
            terminal::result(crate::cli::MANUAL);
            Ok(Status::Good)
        }
    };
    let status = outcome.unwrap_or_else(|stop| {
        terminal::stopped(&stop.message, &stop.help);
        Status::CouldNotRun
    });
    match terminal::lost() {
        Some(why) => {
            let message = format!("what was to be printed is not complete: {why}");
            terminal::stopped(&message, "is the disk full that it goes to?");
            Status::CouldNotRun
        }
        None => status,
    }
}
