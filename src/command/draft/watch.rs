//! `draft --watch`: looks at the files again and again, and drafts anew what was saved.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::time::Duration;
use std::time::Instant;
use std::time::SystemTime;

use super::Round;
use crate::cli;
use crate::command::Stop;
use crate::command::files;
use crate::command::files::Found;
use crate::command::labs_in_use::LabsInUse;
use crate::command::terminal;
use crate::status::Status;

/// Time between two looks. A change counts once it is the same in two of them: an editor may be in the middle of saving.
const PAUSE: Duration = Duration::from_millis(50);

/// A look at very many files, or over a slow network, takes no more than about a tenth of the time, up to a longest pause.
const SHARE: u32 = 10;
const LONGEST: Duration = Duration::from_secs(1);

/// Folders above a data file where its lab description may stand.
const ABOVE: usize = 12;

/// What tells that a file was saved: when, and how long it is.
type Stamp = (SystemTime, u64);

/// The files there are at one moment. One that is missing or empty is not among them: it may be in the middle of
/// being saved, and what was drafted from it stays.
type Stamps = BTreeMap<PathBuf, Stamp>;

/// Drafts everything, then what changes, until the program is ended.
///
/// # Errors
/// When there is nothing that could be watched.
pub(super) fn run(arguments: &cli::Draft) -> Result<Status, Stop> {
    refuse(arguments)?;
    let mut labs = BTreeSet::new();
    let mut drafted = Stamps::new();
    let mut before = None;
    loop {
        let start = Instant::now();
        let found = find(&arguments.paths);
        let now = look(arguments, &found, &labs);
        let took = start.elapsed();
        let saved = saved(&now, &drafted, before.as_ref());
        if before.is_none() || !saved.is_empty() {
            let wanted = touched(&saved, &found, &labs, arguments);
            drafted.extend(saved);
            if !wanted.is_empty() {
                labs.extend(draft(arguments, &found, &wanted));
                // A description that this round was the first to read is as it was read.
                for lab in &labs {
                    if let (false, Some(stamp)) = (drafted.contains_key(lab), stamp(lab)) {
                        drafted.insert(lab.clone(), stamp);
                    }
                }
            }
        }
        if before.is_none() {
            let paths = arguments
                .paths
                .iter()
                .map(|path| path.display().to_string());
            terminal::result(&format!(
                "watching {}; Ctrl-C ends it\n",
                paths.collect::<Vec<_>>().join(", ")
            ));
        }
        before = Some(now);
        std::thread::sleep((took * SHARE).clamp(PAUSE, LONGEST));
    }
}

fn refuse(arguments: &cli::Draft) -> Result<(), Stop> {
    for path in &arguments.paths {
        if path.as_os_str() == "-" {
            return Err(Stop::new(
                "standard input cannot be watched",
                "give files or folders",
            ));
        }
        if !path.is_dir() {
            files::find(std::slice::from_ref(path))?;
        }
    }
    if !Path::new(&arguments.template).is_dir() {
        super::templates(&arguments.template)?;
    }
    Ok(())
}

/// The data files that are there now; a folder may have none yet, and a file may be missing for a moment.
fn find(paths: &[PathBuf]) -> Vec<Found> {
    let mut found: Vec<Found> = paths
        .iter()
        .filter_map(|path| files::find(std::slice::from_ref(path)).ok())
        .flatten()
        .collect();
    let mut seen = BTreeSet::new();
    found.retain(|file| stamp(&file.path).is_some() && seen.insert(file.path.clone()));
    found
}

/// Everything that a report is drafted from: data files, what stands beside them, lab descriptions, templates.
fn look(arguments: &cli::Draft, found: &[Found], labs: &BTreeSet<PathBuf>) -> Stamps {
    let mut paths: BTreeSet<PathBuf> = found.iter().map(|file| file.path.clone()).collect();
    paths.extend(labs.iter().cloned());
    paths.extend(arguments.lab.clone());
    let folders: BTreeSet<PathBuf> = found.iter().map(|file| folder_of(&file.path)).collect();
    for folder in &folders {
        let toml = |path: &Path| {
            let name = path.to_string_lossy().to_lowercase();
            name.ends_with(".toml") || name.ends_with(".toml.txt")
        };
        paths.extend(entries(folder).filter(|path| toml(path)));
        let mut above = folder.clone();
        for _ in 0..ABOVE {
            above.push("..");
            paths.insert(above.join("lab.toml"));
        }
    }
    let template = Path::new(&arguments.template);
    if template.is_dir() {
        // Reports may be written into the same folder, and must not start the next round.
        paths.extend(entries(template).filter(|path| is_template(path)));
    }
    let stamps = paths.into_iter().filter_map(|path| {
        let stamp = stamp(&path)?;
        Some((path, stamp))
    });
    stamps.collect()
}

/// What is not as it was drafted, and is the same as at the last look; at the first look everything.
fn saved(now: &Stamps, drafted: &Stamps, before: Option<&Stamps>) -> Stamps {
    let saved = now.iter().filter(|(path, stamp)| {
        drafted.get(*path) != Some(stamp)
            && before.is_none_or(|before| before.get(*path) == Some(stamp))
    });
    saved.map(|(path, stamp)| (path.clone(), *stamp)).collect()
}

/// The data files to draft again: all of them when a lab description or a template was saved, else those that were
/// saved and those that take their readings from one that was.
fn touched(
    saved: &Stamps,
    found: &[Found],
    labs: &BTreeSet<PathBuf>,
    arguments: &cli::Draft,
) -> BTreeSet<PathBuf> {
    let for_all = |path: &PathBuf| {
        files::is_lab_name(path)
            || is_template(path)
            || labs.contains(path)
            || arguments.lab.as_ref() == Some(path)
    };
    let all = saved.keys().any(for_all);
    let names: Vec<String> = saved
        .keys()
        .filter_map(|path| Some(path.file_name()?.to_string_lossy().into_owned()))
        .collect();
    let wanted = found.iter().map(|file| &file.path).filter(|path| {
        all || saved.contains_key(*path) || (!names.is_empty() && takes_readings(path, &names))
    });
    wanted.cloned().collect()
}

/// Whether a student's file may point at one of these for its readings.
fn takes_readings(path: &Path, names: &[String]) -> bool {
    let text = files::existing(path).filter(|text| text.contains("readings_of"));
    text.is_some_and(|text| names.iter().any(|name| text.contains(name)))
}

/// One round; the lab descriptions that it read. What stops it is said, and the watch goes on.
fn draft(arguments: &cli::Draft, found: &[Found], wanted: &BTreeSet<PathBuf>) -> Vec<PathBuf> {
    let labs = LabsInUse::default();
    let is_wanted = |file: &Found| wanted.contains(&file.path);
    match super::round(arguments, found, &is_wanted, &labs) {
        Ok(round) => terminal::result(&line(wanted, &round)),
        Err(stop) => terminal::stopped(&stop.message, &stop.help),
    }
    labs.files()
}

/// One line a round: what was saved, and what came of it.
fn line(wanted: &BTreeSet<PathBuf>, round: &Round) -> String {
    let names = |paths: &[PathBuf]| {
        let paths = paths.iter().map(|path| path.display().to_string());
        paths.collect::<Vec<_>>().join(" and ")
    };
    let mut line = match wanted.first() {
        Some(path) if wanted.len() == 1 => path.display().to_string(),
        _ => format!("{} data files", wanted.len()),
    };
    line.push_str(": ");
    match round.wrote.len() {
        0 => line.push_str("nothing written"),
        1 | 2 => line.push_str(&format!("wrote {}", names(&round.wrote))),
        some => line.push_str(&format!("wrote {some} documents")),
    }
    if !round.kept.is_empty() {
        line.push_str(&format!(", kept {}", names(&round.kept)));
    }
    line.push('\n');
    line
}

/// `None` for what is missing, empty, or no file.
fn stamp(path: &Path) -> Option<Stamp> {
    let about = fs::metadata(path).ok()?;
    let filled = about.is_file() && about.len() > 0;
    Some((about.modified().ok()?, about.len())).filter(|_| filled)
}

fn is_template(path: &Path) -> bool {
    let ending = path.extension();
    ending.is_some_and(|ending| ending == "hbs" || ending == "css")
}

fn folder_of(path: &Path) -> PathBuf {
    let folder = path.parent().filter(|path| !path.as_os_str().is_empty());
    folder.unwrap_or(Path::new(".")).to_path_buf()
}

fn entries(folder: &Path) -> impl Iterator<Item = PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten();
    entries.filter_map(Result::ok).map(|entry| entry.path())
}
