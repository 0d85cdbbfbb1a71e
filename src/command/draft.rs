//! `gramleaf draft`: reports as Markdown and HTML, each file whole or not at all, both cores at work.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::path::Path;
use std::path::PathBuf;

use sha2::Digest;
use sha2::Sha256;

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
use crate::render::Templates;
use crate::report::compose;
use crate::status::Status;

/// Begins the line that tells whether a report was edited since it was drafted.
const MARK: &str = "<!-- drafted ";

/// What came of one file.
struct Outcome {
    messages: Vec<Message>,
    wrote: Vec<PathBuf>,
    status: Status,
}

/// Something to say about one file.
enum Message {
    Problems(Source, Vec<Problem>),
    Stopped(Stop),
}

/// Drafts every file; one that is broken is said and the rest goes on.
pub(super) fn run(arguments: &cli::Draft) -> Result<Status, Stop> {
    let found = files::find(&arguments.paths)?;
    if let Some(lab) = arguments.lab.as_deref().filter(|lab| !files::exists(lab)) {
        return Err(Stop::new(
            format!("there is no lab description {}", lab.display()),
            "give the path of the teacher's file",
        ));
    }
    let (templates, template) = templates(&arguments.template)?;
    let targets = targets(&found, arguments.out.as_deref())?;
    let labs = LabsInUse::default();
    let job = Job {
        arguments,
        templates: &templates,
        template: &template,
        labs: &labs,
    };
    let outcomes = pool::all(found.len(), |place| {
        one(&found[place], &targets[place], &job)
    });
    let mut status = Status::Good;
    let mut wrote = String::new();
    let mut told = std::collections::BTreeSet::new();
    for outcome in outcomes {
        status = status.max(outcome.status);
        for message in outcome.messages {
            match message {
                // A broken lab description is said once, not with each of its groups.
                Message::Problems(source, problems) if told.insert(source.name.clone()) => {
                    terminal::problems(&source, &problems);
                }
                Message::Problems(..) => {}
                Message::Stopped(stop) => terminal::stopped(&stop.message, &stop.help),
            }
        }
        for path in outcome.wrote {
            wrote.push_str(&format!("wrote {}\n", path.display()));
        }
    }
    terminal::result(&wrote);
    Ok(status)
}

/// What every file is drafted with.
struct Job<'a> {
    arguments: &'a cli::Draft,
    templates: &'a Templates,
    template: &'a str,
    labs: &'a LabsInUse,
}

/// The templates and the document's name: a built-in name, or `report` with the files of a folder laid over.
fn templates(wanted: &str) -> Result<(Templates, String), Stop> {
    let broken = |wrong: crate::render::TemplateError| {
        Stop::new(
            wrong.to_string(),
            "put the template right; the built-in ones show how",
        )
    };
    let folder = Path::new(wanted);
    if folder.is_dir() {
        let (templates, strangers) = Templates::new(&files::texts_in(folder)?).map_err(broken)?;
        for stranger in strangers {
            terminal::remark(&format!("warning: {stranger}"));
        }
        return Ok((templates, "report".to_owned()));
    }
    let names = Templates::of_a_group();
    if !names.contains(&wanted) {
        let help = crate::problem::suggest::closest(wanted, names.iter().copied()).map_or_else(
            || {
                format!(
                    "templates are {}; or give a folder of your own",
                    names.join(" and ")
                )
            },
            |near| format!("did you mean {near}?"),
        );
        return Err(Stop::new(
            format!("there is no template `{wanted}`, nor a folder of that name"),
            help,
        ));
    }
    let templates = Templates::built_in(&[wanted]).map_err(broken)?;
    Ok((templates, wanted.to_owned()))
}

/// Where each report goes, without its ending; two reports of one name are refused before anything is written.
fn targets(found: &[Found], out: Option<&Path>) -> Result<Vec<PathBuf>, Stop> {
    let mut seen: BTreeMap<PathBuf, &Path> = BTreeMap::new();
    let mut targets = Vec::new();
    for file in found {
        let name = file.path.file_name().unwrap_or(OsStr::new("report"));
        let name = name.to_string_lossy();
        let name = if file.path.as_os_str() == "-" {
            "report"
        } else {
            &*name
        };
        let stem = strip(name);
        let folder = match (out, &file.under) {
            (Some(out), Some(under)) => {
                let inside = file
                    .path
                    .parent()
                    .and_then(|parent| parent.strip_prefix(under).ok())
                    .unwrap_or(Path::new(""));
                out.join(inside)
            }
            (Some(out), None) => out.to_path_buf(),
            (None, _) => file.path.parent().unwrap_or(Path::new("")).to_path_buf(),
        };
        let target = folder.join(stem);
        if let Some(first) = seen.insert(target.clone(), &file.path) {
            return Err(Stop::new(
                format!(
                    "{} and {} would both be written to {}.md",
                    first.display(),
                    file.path.display(),
                    target.display()
                ),
                "nothing was written; give folders instead of files, or draft them apart",
            ));
        }
        targets.push(target);
    }
    Ok(targets)
}

/// A data file's name without its ending.
pub(super) fn strip(name: &str) -> &str {
    let lower = name.to_lowercase();
    [".toml.txt", ".toml"]
        .iter()
        .find(|ending| lower.ends_with(*ending))
        .map_or(name, |ending| &name[..name.len() - ending.len()])
}

fn one(file: &Found, target: &Path, job: &Job<'_>) -> Outcome {
    let mut outcome = Outcome {
        messages: Vec::new(),
        wrote: Vec::new(),
        status: Status::Good,
    };
    match draft(file, target, job, &mut outcome) {
        Ok(()) => {}
        Err(stop) => {
            outcome.status = outcome.status.max(Status::ProblemsFound);
            outcome.messages.push(Message::Stopped(stop));
        }
    }
    outcome
}

fn draft(file: &Found, target: &Path, job: &Job<'_>, outcome: &mut Outcome) -> Result<(), Stop> {
    if case::is_report(&file.path) {
        return Err(Stop::new(
            format!("{} is a report, not a data file", file.path.display()),
            "draft its data file; `gramleaf check` reads the answers of a worksheet",
        ));
    }
    let Some(mut read) = case::read(&file.path, job.arguments.lab.as_deref(), job.labs)? else {
        if file.under.is_none() {
            return Err(Stop::new(
                format!(
                    "{} is a lab description, not a group's data file",
                    file.path.display()
                ),
                "draft the groups' files",
            ));
        }
        return Ok(());
    };
    if let Some(lab) = read.broken_lab() {
        outcome
            .messages
            .push(Message::Problems(lab.source.clone(), lab.problems.clone()));
    }
    let written = read.with_case(job.arguments.key, |case| {
        let report = compose(case);
        let markdown = job.templates.markdown(job.template, &report)?;
        let page = job.templates.page(&markdown, &report);
        Ok((markdown, page))
    });
    if any_error(&read.problems) || written.is_none() {
        outcome.status = Status::ProblemsFound;
    }
    // Nothing to say needs no text kept: a run over many files stays small.
    if !read.problems.is_empty() {
        outcome
            .messages
            .push(Message::Problems(read.source, read.problems));
    }
    let Some(written) = written else {
        return Ok(());
    };
    let (markdown, page) = written.map_err(|wrong: crate::render::TemplateError| {
        Stop::new(
            wrong.to_string(),
            "put the template right; nothing was written for this file",
        )
    })?;
    let outputs = [
        (with_ending(target, "md"), markdown),
        (with_ending(target, "html"), page),
    ];
    for (path, _) in &outputs {
        if edited(path) && !job.arguments.replace {
            return Err(Stop::new(
                format!(
                    "{} was edited since it was drafted, or was not drafted by this program",
                    path.display()
                ),
                "nothing was written for this file; --replace writes it anew and keeps a copy",
            ));
        }
    }
    for (path, text) in outputs {
        if let Some(old) = files::existing(&path).filter(|_| edited(&path)) {
            files::write(&free_name(&path), &old)?;
        }
        files::write(&path, &format!("{text}{}", mark(&text)))?;
        outcome.wrote.push(path);
    }
    Ok(())
}

/// A path with an ending put behind its whole name, which may hold points of its own.
pub(super) fn with_ending(target: &Path, ending: &str) -> PathBuf {
    let mut name = target.as_os_str().to_owned();
    name.push(".");
    name.push(ending);
    PathBuf::from(name)
}

/// The last line of an output: a digest of all above it.
fn mark(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    let short: String = digest
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect();
    format!("{MARK}{short} -->\n")
}

/// Whether a file is there that this program did not write as it is.
fn edited(path: &Path) -> bool {
    let Some(text) = files::existing(path) else {
        return files::exists(path);
    };
    let Some(at) = text.rfind(MARK) else {
        return true;
    };
    text[at..] != mark(&text[..at])
}

/// A name for a copy that is not taken yet.
fn free_name(path: &Path) -> PathBuf {
    let mut number = 1;
    loop {
        let copy = with_ending(path, &format!("edited-{number}"));
        if !files::exists(&copy) {
            return copy;
        }
        number += 1;
    }
}
