//! The command line: what may be typed.

use std::path::PathBuf;

use clap::Args;
use clap::Parser;
use clap::Subcommand;
use clap::ValueEnum;

/// Turns the readings of a chemistry experiment into a checked, worked, shareable lab report.
#[derive(Debug, Parser)]
#[command(
    name = "gramleaf",
    version,
    about,
    propagate_version = true,
    disable_help_subcommand = true
)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// List the built-in labs, or write one's description for editing.
    Labs(Labs),
    /// Write blank data files for a lab, bench sheets to print, or pages before the lab.
    Start(Start),
    /// Write a data file for each row of a table, as a web form or a spreadsheet saves it.
    Import(Import),
    /// Build reports, as Markdown and HTML, from data files.
    Draft(Draft),
    /// Say what is wrong, missing or odd in data files.
    Check(Check),
    /// Build the pages that a class shares: results and one report a group, under codes, without names.
    Share(Share),
    /// Say what to set out for a class: reagents, solutions, vessels, what to expect.
    Plan(Plan),
    /// Print the script that completes commands and options in a shell.
    Completions(Completions),
    /// Print the manual page.
    Man,
}

/// `gramleaf labs`
#[derive(Debug, Args)]
pub struct Labs {
    /// Id of a built-in lab, such as zinc-copper-sulfate.
    pub id: Option<String>,
    /// Write the description to this file instead of the terminal.
    #[arg(long, value_name = "FILE", requires = "id")]
    pub out: Option<PathBuf>,
    /// Print the JSON Schema of lab descriptions, for editors; with a file, write it there and name it in the description.
    #[arg(long, value_name = "FILE.json", num_args = 0..=1, default_missing_value = "-")]
    pub schema: Option<PathBuf>,
}

/// `gramleaf start`
#[derive(Debug, Args)]
pub struct Start {
    /// Id of a built-in lab, or the path of a lab description.
    pub lab: String,
    /// What to write: the data file, the same form on paper, or the prediction page before the lab.
    #[arg(long, value_enum, value_name = "SHEET", default_value = "form")]
    pub sheet: Sheet,
    /// With `--sheet prelab`: filled in from the planned amounts (for the teacher).
    #[arg(long)]
    pub key: bool,
    /// Group code, such as 3-07.
    #[arg(long, value_name = "CODE", conflicts_with = "groups")]
    pub group: Option<String>,
    /// Number of groups; their codes are made from the section.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=200))]
    pub groups: Option<u32>,
    /// Class list (CSV with columns group, section, names): a form for each of its groups.
    #[arg(long, value_name = "FILE.csv", conflicts_with_all = ["group", "groups", "section"])]
    pub roster: Option<PathBuf>,
    /// Section, such as 3.
    #[arg(long)]
    pub section: Option<String>,
    /// Data files: file for one group, or folder for several. Sheets: NAME of NAME.md and NAME.html, which hold all groups. `-` prints.
    #[arg(long, value_name = "PATH")]
    pub out: Option<PathBuf>,
    /// Print the JSON Schema of the lab's data files, for editors; with a file, write it there and name it in the forms.
    #[arg(long, value_name = "FILE.json", num_args = 0..=1, default_missing_value = "-")]
    pub schema: Option<PathBuf>,
}

/// What `start` writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
#[value(rename_all = "lower")]
pub enum Sheet {
    /// The data file, to type into.
    Form,
    /// The bench sheet: the same form on paper.
    Bench,
    /// The page before the lab.
    PreLab,
}

/// `gramleaf import`
#[derive(Debug, Args)]
pub struct Import {
    /// Table (CSV) with a row for each group and columns named after the boxes of the form; `-` reads standard input.
    #[arg(value_name = "FILE.csv")]
    pub file: PathBuf,
    /// Id of a built-in lab, or the path of a lab description.
    #[arg(long)]
    pub lab: String,
    /// Folder for the data files; without it they go where you are.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// `gramleaf draft`
#[derive(Debug, Args)]
pub struct Draft {
    /// Data files, and folders of them; `-` reads standard input.
    #[arg(required = true, value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// Folder for the reports; without it they stand beside their data files.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// A template by name (report, formal, worksheet), or a folder of your own templates.
    #[arg(long, value_name = "NAME|DIR", default_value = "report")]
    pub template: String,
    /// Show all working, whatever the lab description hides (for the teacher).
    #[arg(long)]
    pub key: bool,
    /// Replace reports that were edited by hand since they were drafted; a copy of each is kept.
    #[arg(long)]
    pub replace: bool,
    /// Draft again whenever a data file, its lab description or a template is saved, until Ctrl-C.
    #[arg(long)]
    pub watch: bool,
    /// Use this lab description for every file.
    #[arg(long, value_name = "FILE")]
    pub lab: Option<PathBuf>,
}

/// `gramleaf check`
#[derive(Debug, Args)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is an option of the command line"
)]
pub struct Check {
    /// Data files, and folders of them; `-` reads standard input.
    #[arg(required = true, value_name = "PATH")]
    pub paths: Vec<PathBuf>,
    /// Show what the readings give, whatever the lab description hides (for the teacher).
    #[arg(long)]
    pub key: bool,
    /// Print JSON: an array with one object a file.
    #[arg(long, group = "form")]
    pub json: bool,
    /// Print CSV with a row for each group and step.
    #[arg(long, group = "form")]
    pub csv: bool,
    /// Print CSV with a row for each group: readings and answers as typed, verdicts counted.
    #[arg(long, group = "form")]
    pub groups_csv: bool,
    /// Write a marked copy of each group into this folder, and one file a section to print (for the teacher).
    #[arg(long, value_name = "DIR")]
    pub marked: Option<PathBuf>,
    /// Say what changed since an older copy: readings, signs, answers, verdicts; a folder holds one for each file.
    #[arg(long, value_name = "OLD", conflicts_with_all = ["csv", "groups_csv"])]
    pub since: Option<PathBuf>,
    /// Use this lab description for every file.
    #[arg(long, value_name = "FILE")]
    pub lab: Option<PathBuf>,
}

/// `gramleaf share`
#[derive(Debug, Args)]
pub struct Share {
    /// Folders of data files, and data files.
    #[arg(required = true, value_name = "DIR")]
    pub paths: Vec<PathBuf>,
    /// Folder for the shared pages.
    #[arg(long, value_name = "SITE")]
    pub out: PathBuf,
    /// Folder for the teacher's page, with names and answers; never inside the shared one.
    #[arg(long, value_name = "DIR")]
    pub teacher: Option<PathBuf>,
    /// Replace the groups' codes by shuffled ones; which is whose is kept in the teacher's folder.
    #[arg(long, requires = "teacher")]
    pub alias: bool,
    /// Use this lab description for every file.
    #[arg(long, value_name = "FILE")]
    pub lab: Option<PathBuf>,
}

/// `gramleaf plan`
#[derive(Debug, Args)]
pub struct Plan {
    /// Id of a built-in lab, or the path of a lab description.
    pub lab: String,
    /// Number of groups.
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=2000))]
    pub groups: u32,
    /// How much more than needed to set out, such as 15%.
    #[arg(long, value_name = "PERCENT", default_value = "15%", value_parser = percent)]
    pub spare: f64,
    /// Write NAME.md and NAME.html instead of printing Markdown.
    #[arg(long, value_name = "NAME")]
    pub out: Option<PathBuf>,
    /// Print JSON.
    #[arg(long, conflicts_with = "out")]
    pub json: bool,
}

/// `gramleaf completions`
#[derive(Debug, Args)]
pub struct Completions {
    /// The shell.
    pub shell: Shell,
}

/// Shells with a completion script.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
#[value(rename_all = "lower")]
#[expect(missing_docs, reason = "the names of the shells say it")]
pub enum Shell {
    Bash,
    Zsh,
    Fish,
    PowerShell,
    Elvish,
}

impl Shell {
    /// The completion script. `tests/command_line.rs` makes the scripts and tells when they are out of date.
    #[must_use]
    pub fn script(self) -> &'static str {
        match self {
            Self::Bash => include_str!("cli/completions/gramleaf.bash"),
            Self::Zsh => include_str!("cli/completions/_gramleaf"),
            Self::Fish => include_str!("cli/completions/gramleaf.fish"),
            Self::PowerShell => include_str!("cli/completions/_gramleaf.ps1"),
            Self::Elvish => include_str!("cli/completions/gramleaf.elv"),
        }
    }
}

/// The manual page, made as the scripts are.
pub const MANUAL: &str = include_str!("cli/gramleaf.1");

/// `15%`, `15 %` or `15` as a fraction.
fn percent(text: &str) -> Result<f64, String> {
    let number = text
        .trim()
        .trim_end_matches('%')
        .trim_end()
        .replace(',', ".");
    match number.parse::<f64>() {
        Ok(percent) if (0.0..=1000.0).contains(&percent) => Ok(percent / 100.0),
        _ => Err("write a percentage from 0 to 1000, such as 15%".to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_definitions_are_coherent() {
        super::Cli::command().debug_assert();
    }
}
