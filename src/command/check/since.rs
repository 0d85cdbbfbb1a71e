//! The older copy of a file for `--since`: found, read by the lab of the present file, and compared with it.

use std::path::Path;
use std::path::PathBuf;

use super::changes;
use super::changes::Side;
use super::changes::Since;
use crate::answers;
use crate::command::Stop;
use crate::command::case;
use crate::command::files;
use crate::command::files::Found;
use crate::command::group_file;
use crate::command::labs_in_use::Ready;
use crate::problem::Source;
use crate::record;
use crate::record::Record;
use crate::report::Case;
use crate::working;

/// Refuses what can be an older copy of none of the files.
///
/// # Errors
/// When nothing is there, or one file is given for several.
pub(super) fn refuse(old: &Path, found: &[Found]) -> Result<(), Stop> {
    let piped = old.as_os_str() == "-";
    if piped && found.iter().any(|file| file.path == old) {
        return Err(Stop::new(
            "standard input cannot be both the file and its older copy",
            "give one of them by its path",
        ));
    }
    if !piped && !files::exists(old) {
        return Err(Stop::new(
            format!("there is no older copy {}", old.display()),
            "give an older copy of the data file, or a folder of such copies with the same names",
        ));
    }
    if found.len() > 1 && !old.is_dir() {
        return Err(Stop::new(
            format!(
                "{} is one older copy, but there are {} files to compare",
                old.display(),
                found.len()
            ),
            "give a folder of older copies with the same names",
        ));
    }
    Ok(())
}

/// What changed in a file since its older copy.
///
/// # Errors
/// When the older copy cannot be used.
pub(super) fn since(
    old: &Path,
    file: &Found,
    ready: &Ready,
    case: &Case<'_>,
    key: bool,
) -> Result<Since, Stop> {
    let Some(old) = copy_of(file, old) else {
        return Ok(Since::NoOlderCopy);
    };
    let Some(mut record) = read(&old, &file.path, ready, case)? else {
        // A report drafted from the file as it is now.
        return Ok(Since::Changes(Vec::new()));
    };
    let (worked, _) = working::work(case.lab, case.graph, &mut record);
    let (judged, _) = answers::judge(case.lab, case.graph, &record, &worked);
    let old = Side {
        record: &record,
        worked: &worked,
        judged: &judged,
    };
    let new = Side {
        record: case.record,
        worked: case.worked,
        judged: case.judged,
    };
    Ok(Since::Changes(changes::between(
        case.lab, case.graph, &old, &new, key,
    )))
}

/// The older copy itself, or the one of the same name in a folder of them.
fn copy_of(file: &Found, old: &Path) -> Option<PathBuf> {
    if !old.is_dir() {
        return Some(old.to_path_buf());
    }
    let inside = match &file.under {
        Some(under) => file.path.strip_prefix(under).ok()?,
        None => Path::new(file.path.file_name()?),
    };
    Some(old.join(inside)).filter(|copy| copy.is_file())
}

/// The older record, by the present lab: it is the data that are compared. `None` for a report drafted from the very
/// data that stand in the file now.
fn read(
    old: &Path,
    present: &Path,
    ready: &Ready,
    case: &Case<'_>,
) -> Result<Option<Record>, Stop> {
    let is = |ending: &str| {
        old.extension()
            .is_some_and(|end| end.eq_ignore_ascii_case(ending))
    };
    let source = text(old)?;
    if !is("md") && !is("html") {
        return data(old, source, present, ready, case).map(Some);
    }
    if is("md") && case::is_report(present) {
        return worksheet(old, &source, present, ready, case).map(Some);
    }
    // A report keeps what was found and a digest of its data file, not what was typed.
    if !case.digest.is_empty() && source.text.contains(case.digest) {
        return Ok(None);
    }
    let what = if source.text.contains("SHA-256") {
        format!(
            "{} was drafted from other data, but does not keep what was typed",
            old.display()
        )
    } else {
        format!(
            "{} is a report; it does not keep what was typed",
            old.display()
        )
    };
    Err(Stop::new(what, "give an older copy of the data file"))
}

fn text(path: &Path) -> Result<Source, Stop> {
    let (source, problems) = Source::decode(path.display().to_string(), &files::read(path)?);
    if let Some(problem) = problems.first().filter(|_| source.text.is_empty()) {
        return Err(Stop::new(
            format!("the older copy {} cannot be read", path.display()),
            problem.message.clone(),
        ));
    }
    Ok(source)
}

/// A data file. A student's own takes the readings of the group from beside it, or from beside the present one.
fn data(
    old: &Path,
    source: Source,
    present: &Path,
    ready: &Ready,
    case: &Case<'_>,
) -> Result<Record, Stop> {
    let written = record::read(source);
    if written.is_lab {
        return Err(Stop::new(
            format!("{} is a lab description, not an older copy", old.display()),
            "give an older copy of the data file",
        ));
    }
    let (mut record, _) = record::check(&written, case.lab, &ready.steps);
    if let Some((group, _)) = &written.who.readings_of {
        let mut beside = [old, present].into_iter();
        if let Some(group) = beside.find_map(|file| group_file::read(file, group, ready, None).ok())
        {
            record.take_readings(group.record);
        }
    }
    Ok(record)
}

/// A worksheet's answers, on the readings of the data file beside it; the present ones where there is none.
fn worksheet(
    old: &Path,
    source: &Source,
    present: &Path,
    ready: &Ready,
    case: &Case<'_>,
) -> Result<Record, Stop> {
    let words = &case.lab.words;
    let Some((answers, _)) = record::worksheet::read(&source.text, &ready.steps, words) else {
        return Err(Stop::new(
            format!("{} holds no table of steps with answers", old.display()),
            "give an older copy of the worksheet",
        ));
    };
    let mut record = match case::data_of(old) {
        Some(path) => data(&path, text(&path)?, present, ready, case)?,
        None => case.record.clone(),
    };
    record.answers = answers;
    Ok(record)
}
