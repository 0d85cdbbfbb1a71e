//! Finding, reading and writing files: whole or not at all.

use std::collections::BTreeMap;
use std::io::Read;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;

use sha2::Digest;
use sha2::Sha256;

use crate::command::Stop;
use crate::problem::suggest;

/// A data file to work on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Found {
    /// Its path as given or found; `-` for standard input.
    pub path: PathBuf,
    /// The folder it was found in, for keeping the structure of folders in the output.
    pub under: Option<PathBuf>,
}

/// Every data file of the paths, in order: files as they are, folders searched for `.toml` and `.toml.txt`.
///
/// # Errors
/// When a path does not exist, or a folder holds no such file.
pub(super) fn find(paths: &[PathBuf]) -> Result<Vec<Found>, Stop> {
    let mut found: Vec<Found> = Vec::new();
    for path in paths {
        if path.as_os_str() == "-" || path.is_file() {
            found.push(Found {
                path: path.clone(),
                under: None,
            });
        } else if path.is_dir() {
            let before = found.len();
            for entry in walkdir::WalkDir::new(path)
                .sort_by_file_name()
                .into_iter()
                .filter_map(Result::ok)
            {
                let name = entry.file_name().to_string_lossy().to_lowercase();
                let lab = is_lab_name(entry.path());
                if entry.file_type().is_file()
                    && (name.ends_with(".toml") || name.ends_with(".toml.txt"))
                    && !lab
                {
                    found.push(Found {
                        path: entry.into_path(),
                        under: Some(path.clone()),
                    });
                }
            }
            if found.len() == before {
                return Err(Stop::new(
                    format!("there is no data file in {}", path.display()),
                    "data files end in .toml",
                ));
            }
        } else {
            return Err(Stop::new(
                format!("there is no {}", path.display()),
                near_file(path),
            ));
        }
    }
    let mut seen = std::collections::BTreeSet::new();
    found.retain(|file| seen.insert(file.path.clone()));
    Ok(found)
}

/// A file with nearly that name in the same folder, as a next step.
fn near_file(path: &Path) -> String {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    let names: Vec<String> = std::fs::read_dir(folder)
        .map(|entries| {
            entries
                .filter_map(Result::ok)
                .map(|entry| entry.file_name().to_string_lossy().into_owned())
                .collect()
        })
        .unwrap_or_default();
    let wanted = path
        .file_name()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default();
    let mut sorted: Vec<&str> = names.iter().map(String::as_str).collect();
    sorted.sort_unstable();
    // An ending that all data files have makes no two names alike: `none.toml` is not `bin.toml`.
    let is_near = |near: &&str| {
        let stems = wanted.rsplit_once('.').zip(near.rsplit_once('.'));
        stems.is_none_or(|((own, ending), (other, others))| {
            ending != others || suggest::closest(own, [other]).is_some()
        })
    };
    let near = suggest::closest(&wanted, sorted).filter(is_near);
    near.map_or_else(
        || "check the name and the folder".to_owned(),
        |near| format!("did you mean {}?", folder.join(near).display()),
    )
}

/// The bytes of a file, or of standard input for `-`.
///
/// # Errors
/// When it cannot be read.
pub(super) fn read(path: &Path) -> Result<Vec<u8>, Stop> {
    let mut bytes = Vec::new();
    let read = if path.as_os_str() == "-" {
        std::io::stdin().lock().read_to_end(&mut bytes).map(|_| ())
    } else {
        std::fs::read(path).map(|content| bytes = content)
    };
    read.map_err(|why| match why.kind() {
        std::io::ErrorKind::NotFound => Stop::new(
            format!("there is no {}", path.display()),
            "check the name and the folder",
        ),
        std::io::ErrorKind::IsADirectory => Stop::new(
            format!("{} is a folder", path.display()),
            "give the path of a file",
        ),
        _ => Stop::new(
            format!("cannot read {}: {why}", path.display()),
            "is it open elsewhere, or is it not yours?",
        ),
    })?;
    Ok(bytes)
}

/// Every text file of a folder by name, subfolders left out.
///
/// # Errors
/// When the folder cannot be read.
pub(super) fn texts_in(folder: &Path) -> Result<BTreeMap<String, String>, Stop> {
    let entries = std::fs::read_dir(folder).map_err(|why| {
        Stop::new(
            format!("cannot read {}: {why}", folder.display()),
            "give the folder that holds your templates",
        )
    })?;
    let mut texts = BTreeMap::new();
    for entry in entries
        .filter_map(Result::ok)
        .filter(|entry| entry.path().is_file())
    {
        let name = entry.file_name().to_string_lossy().into_owned();
        if let Ok(text) = std::fs::read_to_string(entry.path()) {
            texts.insert(name, text);
        }
    }
    Ok(texts)
}

/// The text of a file that is there already.
pub(super) fn existing(path: &Path) -> Option<String> {
    std::fs::read_to_string(path).ok()
}

/// A text as part of a file name: letters, digits, points and dashes stay, anything else becomes a dash.
pub(super) fn safe_name(text: &str) -> String {
    let kept = text.chars().map(|c| {
        if c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_') {
            c
        } else {
            '-'
        }
    });
    let name: String = kept.take(60).collect();
    name.trim_matches('.').to_owned()
}

/// A path with `.` and `..` taken out, by its letters alone.
pub(super) fn without_dots(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            std::path::Component::CurDir => {}
            std::path::Component::ParentDir => drop(plain.pop()),
            part => plain.push(part),
        }
    }
    plain
}

/// Whether something of that name is there.
pub(super) fn exists(path: &Path) -> bool {
    path.exists()
}

/// Whether a file of that name is a lab description among data files: `lab.toml`, `school.lab.toml`.
pub(super) fn is_lab_name(path: &Path) -> bool {
    let name = path
        .file_name()
        .map(|name| name.to_string_lossy().to_lowercase())
        .unwrap_or_default();
    name == "lab.toml" || name.ends_with(".lab.toml")
}

/// Deletes a file.
///
/// # Errors
/// When it cannot be deleted.
pub(super) fn remove(path: &Path) -> Result<(), Stop> {
    std::fs::remove_file(path).map_err(|why| {
        Stop::new(
            format!("cannot delete {}: {why}", path.display()),
            "is it open elsewhere, or is it not yours?",
        )
    })
}

/// The beginning of a text's SHA-256, hexadecimal: enough to tell whether somebody changed it.
pub(super) fn digest(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    digest
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// The way from the folder of one file to another, with `/` on every system: `../lab.toml`.
pub(super) fn way(from: &Path, to: &Path) -> String {
    let whole = |path: &Path| {
        without_dots(&std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf()))
    };
    let (from, to) = (whole(from), whole(to));
    let folder = from.parent().unwrap_or(Path::new(""));
    let pairs = folder.components().zip(to.components());
    let common = pairs.take_while(|(a, b)| a == b).count();
    let up = std::iter::repeat_n("..".to_owned(), folder.components().count() - common);
    let down = to.components().skip(common);
    let down = down.map(|part| part.as_os_str().to_string_lossy().into_owned());
    up.chain(down).collect::<Vec<_>>().join("/")
}

/// Deletes a folder if it is empty; says whether it did.
pub(super) fn remove_empty(folder: &Path) -> bool {
    std::fs::remove_dir(folder).is_ok()
}

/// Adds a line to the end of a file, making the file and its folder where they are not there.
///
/// # Errors
/// When it cannot be written.
pub(super) fn append(path: &Path, line: &str) -> Result<(), Stop> {
    let failed = |why| cannot_write(path, &why);
    folder_of(path)?;
    let mut options = std::fs::OpenOptions::new();
    let mut file = options
        .append(true)
        .create(true)
        .open(path)
        .map_err(failed)?;
    file.write_all(line.as_bytes()).map_err(failed)
}

/// A path as the system knows it, with links followed as far as it exists.
pub(super) fn real(path: &Path) -> PathBuf {
    let whole = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
    followed(&whole, LINKS)
}

/// Links that are followed in one path; a system gives up after about as many.
const LINKS: usize = 40;

/// A path part by part, as the system walks it: `..` after a link leads to the folder above what the link points to, not
/// to the one that holds the link; and a link counts before the folder that it points to is there.
fn followed(path: &Path, links: usize) -> PathBuf {
    let mut here = PathBuf::new();
    for part in path.components() {
        match part {
            std::path::Component::CurDir => {}
            std::path::Component::ParentDir => drop(here.pop()),
            std::path::Component::Normal(_) => {
                let folder = here.clone();
                here.push(part);
                if let Ok(real) = std::fs::canonicalize(&here) {
                    here = real;
                } else if let (Ok(target), 1..) = (std::fs::read_link(&here), links) {
                    here = followed(&folder.join(target), links - 1);
                }
            }
            part => here.push(part),
        }
    }
    here
}

/// Writes a file whole or not at all, making its folder where it is not there. One that is there keeps its permissions.
///
/// The system is not asked to have it on the disk before the next one is begun: reports can be made again, and a class would
/// take minutes where it takes a second.
///
/// # Errors
/// When the folder or the file cannot be written.
pub(super) fn write(path: &Path, text: &str) -> Result<(), Stop> {
    let failed = |why| cannot_write(path, &why);
    let mut file = match beside(path) {
        // Of many files in one folder only the first has to make it.
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => {
            folder_of(path)?;
            beside(path).map_err(failed)?
        }
        opened => opened.map_err(failed)?,
    };
    file.write_all(text.as_bytes()).map_err(failed)?;
    if let Ok(before) = std::fs::metadata(path) {
        let file = file.as_file();
        file.set_permissions(before.permissions()).map_err(failed)?;
    }
    file.persist(path).map_err(|wrong| failed(wrong.error))?;
    Ok(())
}

/// A new file in the folder of another, which goes away unless it takes its place.
fn beside(path: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    let folder = path.parent().filter(|path| !path.as_os_str().is_empty());
    let mut new = tempfile::Builder::new();
    new.prefix(".gramleaf-");
    // As any program's files are: what others may do with them is for the system's settings to say.
    #[cfg(unix)]
    new.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    new.tempfile_in(folder.unwrap_or(Path::new(".")))
}

/// Makes the folder of a file.
fn folder_of(path: &Path) -> Result<(), Stop> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    folder.map_or(Ok(()), |folder| {
        std::fs::create_dir_all(folder).map_err(|why| cannot_write(path, &why))
    })
}

fn cannot_write(path: &Path, why: &std::io::Error) -> Stop {
    let message = format!("cannot write {}: {why}", path.display());
    let file = path.ancestors().skip(1).find(|folder| folder.is_file());
    match file {
        Some(file) => Stop::new(
            message,
            format!("{} is a file; give a folder", file.display()),
        ),
        None => Stop::new(message, "is the folder yours, and is the disk full?"),
    }
}
