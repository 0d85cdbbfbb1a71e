//! `gramleaf check`: what is wrong, missing or odd in each file, and a verdict on each answer.
//!
//! | file | holds |
//! |---|---|
//! | `one` | one file, for the student who wrote it |
//! | `class` | a table of many files, and the slips that came up most |
//! | `csv` | the same as rows for a spreadsheet |
//! | `json` | the same as data |
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

use std::path::Path;
use std::sync::Arc;

use self::changes::Since;
use crate::answers::Judged;
use crate::answers::Verdict;
use crate::cli;
use crate::command::Stop;
use crate::command::case;
use crate::command::files;
use crate::command::files::Found;
use crate::command::labs_in_use::LabsInUse;
use crate::command::pool;
use crate::command::terminal;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::any_error;
use crate::status::Status;
use crate::words::Words;

/// What came of one file.
enum Outcome {
    /// A data file.
    Checked(Box<Checked>),
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
    let outcomes = pool::all(found.len(), |place| {
        match one(&found[place], arguments, &labs, press.as_ref()) {
            Ok(Some(checked)) => Outcome::Checked(Box::new(checked)),
            Ok(None) => Outcome::LabDescription,
            Err(stop) => Outcome::Stopped(stop),
        }
    });
    let mut status = Status::Good;
    let mut all = Vec::new();
    // A group's file that is checked itself is told then.
    let checked = outcomes.iter().filter_map(|outcome| match outcome {
        Outcome::Checked(checked) => Some(checked.source.name.clone()),
        _ => None,
    });
    let mut told: std::collections::BTreeSet<String> = checked.collect();
    for (file, outcome) in found.iter().zip(outcomes) {
        match outcome {
            Outcome::LabDescription if file.under.is_none() => {
                status = status.max(lab_description(&file.path, &labs));
            }
            // Among the groups' files of a folder a lab description is nobody's data.
            Outcome::LabDescription => {}
            Outcome::Stopped(stop) => {
                terminal::stopped(&stop.message, &stop.help);
                status = status.max(Status::ProblemsFound);
            }
            Outcome::Checked(checked) => {
                status = status.max(checked.status());
                if !arguments.json {
                    for (source, problems, words) in &checked.elsewhere {
                        if told.insert(source.name.clone()) {
                            terminal::problems(source, problems, words);
                        }
                    }
                    terminal::problems(&checked.source, &checked.problems, &checked.words);
                }
                if let Some(stop) = &checked.stopped {
                    terminal::stopped(&stop.message, &stop.help);
                }
                all.push(*checked);
            }
        }
    }
    print(arguments, &found, &all)?;
    if let Some(press) = press {
        status = status.max(press.print(&mut all)?);
    }
    Ok(status)
}

/// The result in the form asked for.
fn print(arguments: &cli::Check, found: &[Found], all: &[Checked]) -> Result<(), Stop> {
    let cannot = |why: String| {
        Stop::new(
            format!("cannot write the result: {why}"),
            "this is a fault of the program",
        )
    };
    if arguments.json {
        let objects: Vec<&json::File> = all.iter().map(|checked| &checked.object).collect();
        let text = serde_json::to_string_pretty(&objects).map_err(|why| cannot(why.to_string()))?;
        terminal::result(&format!("{text}\n"));
    } else if arguments.csv {
        terminal::result(&csv::answers(all, arguments.key).map_err(|why| cannot(why.to_string()))?);
    } else if arguments.groups_csv {
        terminal::result(&csv::groups(all).map_err(|why| cannot(why.to_string()))?);
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
        let text = one::text(path, case, arguments.key);
        let copy = press.map(|press| press.copy(case));
        let since = older.map(|(old, ready)| since::since(old, file, ready, case, arguments.key));
        let rows = csv::Rows::of(case);
        (object, text, case.judged.clone(), rows, copy, since)
    });
    let others = read.elsewhere().into_iter();
    let words = read.words;
    let others = others.map(|(source, problems)| (source, problems, words.clone()));
    let elsewhere = broken_lab.into_iter().chain(others).collect();
    let (mut object, text, judged, rows, marked, since) = worked.unwrap_or_default();
    object.path = path.display().to_string();
    object.group = who.as_ref().map(|who| who.group.clone());
    object.problems = json::problems(&read.source, &read.problems);
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
