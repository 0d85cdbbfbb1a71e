//! `gramleaf check`: what is wrong, missing or odd in each file, and a verdict on each answer.
//!
//! | file | holds |
//! |---|---|
//! | `one` | one file, for the student who wrote it |
//! | `class` | a table of many files, and the slips that came up most |
//! | `csv` | the same as rows for a spreadsheet |
//! | `json`, `stream` | the same as data, printed as it comes |
//! | `since`, `changes`, `items` | what changed since an older copy |
//! | `marked` | marked copies, one a group and one a section to print |

mod changes;
mod class;
pub(super) mod csv;
mod items;
pub(super) mod json;
mod marked;
mod one;
mod since;
mod stream;

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use self::changes::Since;
use self::marked::Made;
use crate::answers::Judged;
use crate::answers::Verdict;
use crate::cli;
use crate::command::Stop;
use crate::command::case;
use crate::command::files;
use crate::command::files::Found;
use crate::command::group_file;
use crate::command::labs_in_use::LabsInUse;
use crate::command::pool;
use crate::command::terminal;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::any_error;
use crate::status::Status;
use crate::words::Words;

/// What came of one file.
enum Outcome<T> {
    /// A data file.
    Checked(T),
    /// A lab description: a file given by its own name is checked as one.
    LabDescription,
    /// It could not be read at all.
    Stopped(Stop),
}

/// A data file checked.
struct Checked {
    source: Source,
    problems: Vec<Problem>,
    /// Problems of other files: the lab description it belongs to, the data file behind a worksheet, the group's
    /// file behind a student's.
    elsewhere: Vec<(Source, Vec<Problem>, Words)>,
    object: json::File,
    /// The language of its lab; English where there is none.
    words: Words,
    /// For people.
    text: String,
    /// Why an older copy could not be used.
    stopped: Option<Stop>,
    section: String,
    judged: Judged,
    rows: csv::Rows,
    marked: Option<Result<marked::Copy, crate::render::TemplateError>>,
}

impl Checked {
    fn status(&self) -> Status {
        let elsewhere = self
            .elsewhere
            .iter()
            .any(|(_, problems, _)| any_error(problems));
        if any_error(&self.problems)
            || elsewhere
            || self.stopped.is_some()
            || self.judged.count(Verdict::LookAgain) > 0
        {
            Status::ProblemsFound
        } else {
            Status::Good
        }
    }
}

impl<T> Outcome<T> {
    fn map<U>(self, then: impl FnOnce(T) -> U) -> Outcome<U> {
        match self {
            Self::Checked(checked) => Outcome::Checked(then(checked)),
            Self::LabDescription => Outcome::LabDescription,
            Self::Stopped(stop) => Outcome::Stopped(stop),
        }
    }

    /// Says what there is to say of a file that is no data file; the data file otherwise.
    fn tell(self, file: &Found, labs: &LabsInUse) -> (Status, Option<T>) {
        match self {
            Self::LabDescription if file.under.is_none() => {
                (lab_description(&file.path, labs), None)
            }
            // Among the groups' files of a folder a lab description is nobody's data.
            Self::LabDescription => (Status::Good, None),
            Self::Stopped(stop) => {
                terminal::stopped(&stop.message, &stop.help);
                (Status::ProblemsFound, None)
            }
            Self::Checked(checked) => (Status::Good, Some(checked)),
        }
    }
}

/// Checks every file; one that is broken is said and the rest goes on.
pub(super) fn run(arguments: &cli::Check) -> Result<Status, Stop> {
    let found = files::find(&arguments.paths)?;
    if let Some(lab) = arguments.lab.as_deref().filter(|lab| !files::exists(lab)) {
        return Err(Stop::new(
            format!("there is no lab description {}", lab.display()),
            "give the path of the teacher's file",
        ));
    }
    if let Some(old) = &arguments.since {
        since::refuse(old, &found)?;
    }
    let labs = LabsInUse::default();
    let press = marked::Press::new(arguments)?;
    let one = |place: usize| match one(&found[place], arguments, &labs, press.as_ref()) {
        Ok(Some(checked)) => Outcome::Checked(checked),
        Ok(None) => Outcome::LabDescription,
        Err(stop) => Outcome::Stopped(stop),
    };
    let (mut status, made) = if arguments.json {
        stream::run(&found, &labs, one)?
    } else {
        let outcomes = pool::all(found.len(), |place| one(place).map(Box::new));
        for_people(arguments, &found, &labs, outcomes)?
    };
    if let Some(press) = press {
        status = status.max(press.print(made)?);
    }
    Ok(status)
}

/// Prints the problems of all files, then the results; what is left to write are the marked copies.
fn for_people(
    arguments: &cli::Check,
    found: &[Found],
    labs: &LabsInUse,
    outcomes: Vec<Outcome<Box<Checked>>>,
) -> Result<(Status, Vec<Made>), Stop> {
    let mut status = Status::Good;
    let mut all = Vec::new();
    // A group's file that is checked itself is told then.
    let checked = outcomes.iter().filter_map(|outcome| match outcome {
        Outcome::Checked(checked) => Some(checked.source.name.clone()),
        _ => None,
    });
    let mut told: BTreeSet<String> = checked.collect();
    for (file, outcome) in found.iter().zip(outcomes) {
        let (of_file, checked) = outcome.tell(file, labs);
        status = status.max(of_file);
        let Some(checked) = checked else { continue };
        status = status.max(checked.status());
        for (source, problems, words) in &checked.elsewhere {
            if told.insert(source.name.clone()) {
                terminal::problems(source, problems, words);
            }
        }
        terminal::problems(&checked.source, &checked.problems, &checked.words);
        if let Some(stop) = &checked.stopped {
            terminal::stopped(&stop.message, &stop.help);
        }
        all.push(*checked);
    }
    print(arguments, found, &all)?;
    let made = all.into_iter().filter_map(|checked| {
        Some(Made {
            copy: checked.marked?,
            path: checked.object.path,
            section: checked.section,
        })
    });
    Ok((status, made.collect()))
}

/// A result that cannot be written.
fn cannot_print(why: &impl ToString) -> Stop {
    Stop::new(
        format!("cannot write the result: {}", why.to_string()),
        "this is a fault of the program",
    )
}

/// The result in the form asked for.
fn print(arguments: &cli::Check, found: &[Found], all: &[Checked]) -> Result<(), Stop> {
    if arguments.csv {
        let rows = csv::answers(all, arguments.key);
        terminal::result(&rows.map_err(|why| cannot_print(&why))?);
    } else if arguments.groups_csv {
        terminal::result(&csv::groups(all, arguments.key).map_err(|why| cannot_print(&why))?);
    } else if found.len() > 1 || found.iter().any(|file| file.under.is_some()) {
        if arguments.key {
            for checked in all {
                terminal::result(&checked.text);
            }
        }
        let words = class::language(all);
        terminal::result(&class::table(all, &words));
        if arguments.since.is_some() {
            terminal::result(&format!("\n{}\n", words.say("changes")));
        }
        for (checked, name) in all.iter().zip(class::names(all)) {
            terminal::result(&changes_text(arguments, checked, &name));
        }
    } else {
        for checked in all {
            terminal::result(&checked.text);
            let words = &checked.words;
            let what = one::label(words, words.say("changes"));
            terminal::result(&changes_text(arguments, checked, &what));
        }
    }
    Ok(())
}

/// What changed, when that is asked.
fn changes_text(arguments: &cli::Check, checked: &Checked, what: &str) -> String {
    let old = arguments.since.as_deref();
    let text = old.zip(checked.object.changes.as_ref());
    text.map_or_else(String::new, |(old, since)| {
        since.text(what, old, &checked.words)
    })
}

/// A lab description given by its own name: what is wrong with it.
fn lab_description(path: &Path, labs: &LabsInUse) -> Status {
    let Some(ready) = labs.read_file(path) else {
        return Status::CouldNotRun;
    };
    terminal::problems(&ready.source, &ready.problems, &Words::english());
    if ready.lab.is_none() {
        return Status::ProblemsFound;
    }
    let steps = ready.steps.len();
    terminal::remark(&format!(
        "{}: a lab description with {steps} steps; check a group's data file for its readings",
        path.display()
    ));
    Status::Good
}

/// One file; `None` for a lab description.
fn one(
    file: &Found,
    arguments: &cli::Check,
    labs: &LabsInUse,
    press: Option<&marked::Press>,
) -> Result<Option<Checked>, Stop> {
    let path = &file.path;
    let read = if case::is_report(path) {
        case::read_worksheet
    } else {
        case::read
    };
    let Some(mut read) = read(path, arguments.lab.as_deref(), labs)? else {
        return Ok(None);
    };
    let key = arguments.key || press.is_some();
    let broken_lab = read
        .broken_lab()
        .map(|lab| (lab.source.clone(), lab.problems.clone(), Words::english()));
    let ready = read.matched.as_ref().map(|(ready, _)| Arc::clone(ready));
    let older = arguments.since.as_deref().zip(ready.as_deref());
    let who = read.matched.as_ref().map(|(_, record)| record.who.clone());
    let worked = read.with_case(key, |case| {
        let object = json::File {
            lab: Some(case.lab.id.clone()),
            waiting_for: json::waiting_for(case),
            steps: json::steps(case),
            answers: json::answers(case),
            trials: json::trials(case),
            means: json::means(case),
            causes: if arguments.json {
                json::causes(case)
            } else {
                Vec::new()
            },
            ..json::File::default()
        };
        // Text and rows are printed in the place of the object, never beside it.
        let (text, rows) = if arguments.json {
            Default::default()
        } else {
            (one::text(path, case, arguments.key), csv::Rows::of(case))
        };
        let copy = press.map(|press| press.copy(case));
        let since = older.map(|(old, ready)| since::since(old, file, ready, case, arguments.key));
        (object, text, case.judged.clone(), rows, copy, since)
    });
    let others = read.elsewhere().into_iter();
    let words = read.words;
    let others = others.map(|(source, problems)| (source, problems, words.clone()));
    let elsewhere: Vec<_> = broken_lab.into_iter().chain(others).collect();
    let (mut object, text, judged, rows, marked, since) = worked.unwrap_or_default();
    object.path = path.display().to_string();
    object.group = who.as_ref().map(|who| who.group.clone());
    let of = who.as_ref().and_then(|who| who.readings_of.as_ref());
    object.readings_of = of.map(|(file, _)| group_file::path(path, file).display().to_string());
    object.problems = json::problems(&read.source, &read.problems);
    object.elsewhere = json::elsewhere(&elsewhere);
    let (changes, stopped) = match since {
        Some(Ok(since)) => (Some(since), None),
        Some(Err(stop)) => (Some(Since::NotCompared), Some(stop)),
        // A file that could not be worked is not compared either.
        None => (arguments.since.as_ref().map(|_| Since::NotCompared), None),
    };
    object.changes = changes;
    Ok(Some(Checked {
        source: read.source,
        problems: read.problems,
        elsewhere,
        object,
        words,
        text,
        stopped,
        section: who.map_or_else(String::new, |who| who.section),
        judged,
        rows,
        marked,
    }))
}
