//! `gramleaf check`: what is wrong, missing or odd, and what the readings give.

use std::fmt::Write as _;
use std::path::Path;

use crate::cli;
use crate::command::Stop;
use crate::command::case;
use crate::command::files;
use crate::command::json;
use crate::command::labs_in_use::LabsInUse;
use crate::command::terminal;
use crate::problem::Severity;
use crate::problem::any_error;
use crate::report::Case;
use crate::status::Status;
use crate::working;
use crate::working::open::Open;
use crate::working::show;

/// Checks every file; one that is broken is said and the rest goes on.
pub(super) fn run(arguments: &cli::Check) -> Result<Status, Stop> {
    let found = files::find(&arguments.paths)?;
    if let Some(lab) = arguments.lab.as_deref().filter(|lab| !files::exists(lab)) {
        return Err(Stop::new(
            format!("there is no lab description {}", lab.display()),
            "give the path of the teacher's file",
        ));
    }
    let labs = LabsInUse::default();
    let mut status = Status::Good;
    let mut objects = Vec::new();
    for file in &found {
        match one(&file.path, arguments, &labs) {
            Ok(None) if file.under.is_none() => {
                status = status.max(lab_description(&file.path, &labs));
            }
            // Among the groups' files of a folder a lab description is nobody's data.
            Ok(None) => {}
            Ok(Some((object, file_status))) => {
                status = status.max(file_status);
                objects.push(object);
            }
            Err(stop) => {
                terminal::stopped(&stop.message, &stop.help);
                status = status.max(Status::ProblemsFound);
            }
        }
    }
    if arguments.json {
        let text = serde_json::to_string_pretty(&objects)
            .map_err(|why| Stop::new(format!("cannot write JSON: {why}"), ""))?;
        terminal::result(&format!("{text}\n"));
    }
    Ok(status)
}

/// A lab description given by its own name: what is wrong with it.
fn lab_description(path: &Path, labs: &LabsInUse) -> Status {
    let Some(ready) = labs.read_file(path) else {
        return Status::CouldNotRun;
    };
    terminal::problems(&ready.source, &ready.problems);
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

/// One file: its object, and what is printed for people unless JSON was asked for.
fn one(
    path: &Path,
    arguments: &cli::Check,
    labs: &LabsInUse,
) -> Result<Option<(json::File, Status)>, Stop> {
    let Some(read) = case::read(path, arguments.lab.as_deref(), labs)? else {
        return Ok(None);
    };
    let mut problems = read.problems;
    let mut object = json::File {
        path: path.display().to_string(),
        lab: None,
        group: None,
        problems: Vec::new(),
        waiting_for: Vec::new(),
        steps: Vec::new(),
        answers: Vec::new(),
        causes: Vec::new(),
    };
    let mut text = String::new();
    if let Some((ready, mut record)) = read.matched {
        object.group = Some(record.who.group.clone());
        if let Some((lab, graph)) = &ready.lab {
            object.lab = Some(lab.id.clone());
            let (worked, odd) = working::work(lab, graph, &mut record);
            problems.extend(odd);
            let open = Open::of(lab, graph, &record, arguments.key);
            let case = Case {
                lab,
                graph,
                record: &record,
                worked: &worked,
                open: &open,
                problems: &problems,
                lab_from: &ready.from,
                digest: &read.digest,
            };
            object.waiting_for = json::waiting_for(&case);
            object.steps = json::steps(&case);
            text = summary(path, &case, arguments.key);
        } else if !arguments.json {
            terminal::problems(&ready.source, &ready.problems);
        }
    }
    object.problems = json::problems(&read.source, &problems);
    if !arguments.json {
        terminal::problems(&read.source, &problems);
        terminal::result(&text);
    }
    let status = if any_error(&problems) {
        Status::ProblemsFound
    } else {
        Status::Good
    };
    Ok(Some((object, status)))
}

/// What a person wants to know first: is the file all right, and what is missing?
fn summary(path: &Path, case: &Case<'_>, key: bool) -> String {
    let count = |severity| {
        case.problems
            .iter()
            .filter(|problem| problem.severity == severity)
            .count()
    };
    let standing = crate::report::words::standing(case);
    let mut text = format!("{}: {}", path.display(), standing.sentence);
    for (severity, word) in [(Severity::Error, "error"), (Severity::Warning, "warning")] {
        match count(severity) {
            0 => {}
            1 => drop(write!(text, " 1 {word}.")),
            some => drop(write!(text, " {some} {word}s.")),
        }
    }
    text.push('\n');
    for missing in &standing.missing {
        let _ = writeln!(text, "  missing  {missing}");
    }
    let asked = case
        .graph
        .steps()
        .iter()
        .filter(|step| step.asked.is_some())
        .count();
    if asked > 0 {
        let given = case
            .record
            .answers
            .iter()
            .filter(|answer| case.graph.find(&answer.step).is_some())
            .count();
        let _ = writeln!(text, "  answers  {given} of {asked} given");
    }
    if key {
        let width = case
            .graph
            .steps()
            .iter()
            .map(|step| step.id.chars().count())
            .max()
            .unwrap_or(0);
        for id in case.graph.ids() {
            let step = case.graph.step(id);
            let found = match case.worked.value(id) {
                Some(value) => {
                    let doubt = show::doubt_text(case.lab, step, value, &case.worked.inputs);
                    let doubt = doubt.map_or_else(String::new, |doubt| format!("  ± {doubt}"));
                    format!("{}{doubt}", show::value(case.lab, step, value))
                }
                None => crate::report::compose::why_not(case, id).unwrap_or_default(),
            };
            let _ = writeln!(
                text,
                "  {:<width$}  {}",
                step.id,
                found.replace(show::NO_BREAK, " ")
            );
        }
    }
    text
}
