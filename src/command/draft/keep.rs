//! Reports that somebody wrote into are never lost: a check sum in the last line tells, and a copy is kept beside.

use std::path::Path;
use std::path::PathBuf;

use super::with_ending;
use crate::command::Stop;
use crate::command::files;

/// Begins the line that tells whether a report was edited since it was drafted.
const MARK: &str = "<!-- drafted ";

/// A text with its last line: a check sum of all above it.
pub(super) fn marked(mut text: String) -> String {
    let mark = mark(&text);
    text.push_str(&mark);
    text
}

/// Whether a file is there that this program did not write as it is.
pub(super) fn edited(path: &Path) -> bool {
    let Some(text) = files::existing(path) else {
        return files::exists(path);
    };
    // An editor, or a copy over another system, may change the ends of all lines and nothing else.
    let text = if text.contains('\r') {
        text.replace("\r\n", "\n")
    } else {
        text
    };
    let Some(at) = text.rfind(MARK) else {
        return true;
    };
    let (above, last) = text.split_at(at);
    last != mark(above) && last != former_mark(above)
}

/// Keeps a copy of a file, byte for byte, under a name that is not taken: `3-07.edited-1.md`.
///
/// # Errors
/// When it cannot be copied.
pub(super) fn keep(target: &Path, path: &Path) -> Result<PathBuf, Stop> {
    let copy = free_name(target, path);
    std::fs::copy(path, &copy).map_err(|why| {
        Stop::new(
            format!("cannot keep a copy of {}: {why}", path.display()),
            "nothing was written for this file; is the folder yours, and is the disk full?",
        )
    })?;
    Ok(copy)
}

/// CRC-32 finds out what somebody wrote, in a twentieth of the time of a digest that withstands an attack.
fn mark(text: &str) -> String {
    format!("{MARK}{:08x} -->\n", crc32fast::hash(text.as_bytes()))
}

/// The mark of reports drafted before there was the check sum.
fn former_mark(text: &str) -> String {
    format!("{MARK}{} -->\n", files::digest(text))
}

/// The ending stays the last, so that the copy opens as the report did.
fn free_name(target: &Path, path: &Path) -> PathBuf {
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    let mut number = 1;
    loop {
        let copy = with_ending(target, &format!("edited-{number}.{ending}"));
        if !files::exists(&copy) {
            return copy;
        }
        number += 1;
    }
}
