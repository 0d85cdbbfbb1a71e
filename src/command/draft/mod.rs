//! `gramleaf draft`: reports as Markdown and HTML, each file whole or not at all, both cores at work.
//!
//! | file | holds |
//! |---|---|
//! | `keep` | what tells a report that was edited, and its copy |
//! | `watch` | drafting again whenever something is saved |

mod keep;
mod watch;

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::path::Path;
use std::path::PathBuf;

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
use crate::render::mentions;
use crate::report::Parts;
use crate::report::compose_parts;
use crate::status::Status;
use crate::words::Words;

/// What came of one file.
struct Outcome {
    messages: Vec<Message>,
    wrote: Vec<PathBuf>,
    /// Copies of reports that were edited by hand.
    kept: Vec<PathBuf>,
    status: Status,
}

impl Outcome {
    /// A folder that cannot be written is no fault of the data.
    fn unwritten(&mut self) {
        self.status = Status::CouldNotRun;
    }
}

/// Something to say about one file.
enum Message {
    /// The file they are in, and the problems as they are printed: a run over many files keeps no text of theirs.
    Problems(String, String),
    Stopped(Stop),
}

impl Message {
    fn problems(source: &Source, problems: &[Problem], words: &Words) -> Self {
        let quoted = terminal::quoted(source, problems, words);
        Self::Problems(source.name.clone(), quoted)
    }
}

/// What came of a run over some files.
struct Round {
    status: Status,
    wrote: Vec<PathBuf>,
    kept: Vec<PathBuf>,
}

/// Drafts every file; one that is broken is said and the rest goes on.
pub(super) fn run(arguments: &cli::Draft) -> Result<Status, Stop> {
    if arguments.watch {
        return watch::run(arguments);
    }
    let found = files::find(&arguments.paths)?;
    let labs = LabsInUse::default();
    let round = round(arguments, &found, &|_| true, &labs)?;
    let line = |word, path: &PathBuf| format!("{word} {}\n", path.display());
    let kept = round.kept.iter().map(|path| line("kept", path));
    let wrote = round.wrote.iter().map(|path| line("wrote", path));
    terminal::result(&kept.chain(wrote).collect::<String>());
    Ok(round.status)
}

/// Drafts those of the files that are wanted, and says what is wrong with them.
fn round(
    arguments: &cli::Draft,
    found: &[Found],
    wanted: &dyn Fn(&Found) -> bool,
    labs: &LabsInUse,
) -> Result<Round, Stop> {
    if let Some(lab) = arguments.lab.as_deref().filter(|lab| !files::exists(lab)) {
        return Err(Stop::new(
            format!("there is no lab description {}", lab.display()),
            "give the path of the teacher's file",
        ));
    }
    let (templates, template, parts) = templates(&arguments.template)?;
    let targets = targets(found, arguments.out.as_deref())?;
    let work: Vec<(&Found, PathBuf)> = found
        .iter()
        .zip(targets)
        .filter(|(file, _)| wanted(file))
        .collect();
    let job = Job {
        arguments,
        templates: &templates,
        template: &template,
        parts,
        labs,
        files: work
            .iter()
            .map(|(file, _)| file.path.display().to_string())
            .collect(),
    };
    let outcomes = pool::all(work.len(), |place| {
        let (file, target) = &work[place];
        one(file, target, &job)
    });
    let mut round = Round {
        status: Status::Good,
        wrote: Vec::new(),
        kept: Vec::new(),
    };
    let mut told = std::collections::BTreeSet::new();
    for outcome in outcomes {
        round.status = round.status.max(outcome.status);
        for message in outcome.messages {
            match message {
                // A broken lab description is said once, not with each of its groups.
                Message::Problems(file, quoted) => {
                    if told.insert(file) {
                        terminal::written(&quoted);
                    }
                }
                Message::Stopped(stop) => terminal::stopped(&stop.message, &stop.help),
            }
        }
        round.wrote.extend(outcome.wrote);
        round.kept.extend(outcome.kept);
    }
    Ok(round)
}

/// What every file is drafted with.
struct Job<'a> {
    arguments: &'a cli::Draft,
    templates: &'a Templates,
    template: &'a str,
    parts: Parts,
    labs: &'a LabsInUse,
    /// The names of all that is drafted.
    files: BTreeSet<String>,
}

/// The templates, the document's name and what it prints: a built-in name, or `report` with the files of a folder laid over.
fn templates(wanted: &str) -> Result<(Templates, String, Parts), Stop> {
    let broken = |wrong: crate::render::TemplateError| {
        Stop::new(
            wrong.to_string(),
            "put the template right; the built-in ones show how",
        )
    };
    let names = Templates::of_a_group();
    // A folder of such a name is most likely one that documents were written to; `./marked` is the folder.
    if names.contains(&wanted) {
        let templates = Templates::built_in(&[wanted]).map_err(broken)?;
        let parts = Parts::mentioned(|part| mentions(wanted, part));
        return Ok((templates, wanted.to_owned(), parts));
    }
    let folder = Path::new(wanted);
    if !folder.is_dir() {
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
    let (templates, strangers) = Templates::new(&files::texts_in(folder)?).map_err(broken)?;
    for stranger in strangers {
        terminal::remark(&format!("warning: {stranger}"));
    }
    Ok((templates, "report".to_owned(), Parts::ALL))
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
        kept: Vec::new(),
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
        let told = Message::problems(&lab.source, &lab.problems, &Words::english());
        outcome.messages.push(told);
    }
    let written = read.with_case(job.arguments.key, |case| {
        let report = compose_parts(case, job.parts);
        let markdown = job.templates.markdown(job.template, &report)?;
        let page = job.templates.page(&markdown, &report);
        Ok((markdown.text, page))
    });
    let elsewhere = read.elsewhere();
    let wrong = elsewhere.iter().any(|(_, problems)| any_error(problems));
    if any_error(&read.problems) || wrong || written.is_none() {
        outcome.status = Status::ProblemsFound;
    }
    // A group's file that is drafted itself is told then.
    let others = elsewhere
        .iter()
        .filter(|(source, problems)| !problems.is_empty() && !job.files.contains(&source.name));
    for (source, problems) in others {
        let told = Message::problems(source, problems, &read.words);
        outcome.messages.push(told);
    }
    if !read.problems.is_empty() {
        let told = Message::problems(&read.source, &read.problems, &read.words);
        outcome.messages.push(told);
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
    write(target, outputs, job.arguments.replace, outcome)
}

/// Writes the documents of one report. One that was edited is left alone, or kept as a copy before any is written.
fn write(
    target: &Path,
    outputs: [(PathBuf, String); 2],
    replace: bool,
    outcome: &mut Outcome,
) -> Result<(), Stop> {
    let paths = outputs.iter().map(|(path, _)| path);
    let edited: Vec<&PathBuf> = paths.filter(|path| keep::edited(path)).collect();
    if let Some(path) = edited.first().filter(|_| !replace) {
        return Err(Stop::new(
            format!(
                "{} was edited since it was drafted, or was not drafted by this program",
                path.display()
            ),
            "nothing was written for this file; --replace writes it anew and keeps a copy",
        ));
    }
    for path in edited {
        let copy = keep::keep(target, path).inspect_err(|_| outcome.unwritten())?;
        outcome.kept.push(copy);
    }
    for (path, text) in outputs {
        files::write(&path, &keep::marked(text)).inspect_err(|_| outcome.unwritten())?;
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
