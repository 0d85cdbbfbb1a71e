//! Where forms go, never over a file that is there, and what they call their lab.

use std::collections::BTreeSet;
use std::path::Path;
use std::path::PathBuf;

use crate::class::code;
use crate::command::Stop;
use crate::command::files;
use crate::command::labs_in_use::LabsInUse;
use crate::command::terminal;
use crate::report::form::FormFor;

/// Bytes in the longest name of a file that systems take.
const LONGEST_NAME: usize = 255;
/// So much of a longer one is told.
const SHOWN: usize = 24;

/// What forms call their lab.
pub(super) struct LabIs<'a> {
    /// The path of the description, where the command line gives one.
    description: Option<&'a Path>,
    id: &'a str,
}

impl<'a> LabIs<'a> {
    /// For a lab as the command line names it, with its id.
    pub(super) fn new(given: &'a str, id: &'a str) -> Self {
        let description = LabsInUse::is_path(given).then_some(Path::new(given));
        Self { description, id }
    }

    /// What goes behind `lab =` in a form at a path.
    pub(super) fn in_form(&self, form: &Path) -> String {
        self.description.map_or_else(
            || self.id.to_owned(),
            |description| lab_from(form, description, self.id),
        )
    }
}

/// The section in a group's code: `3` in `3-07`.
pub(super) fn section_of(group: &str) -> Option<&str> {
    group.split_once('-').map(|(section, _)| section)
}

/// Warns of groups' codes that no class page can show: once forms are handed out, nobody likes to change them.
pub(super) fn warn_of_codes(groups: &[FormFor]) {
    // A form without a code has one filled in by hand.
    for whose in groups.iter().filter(|whose| !whose.group.is_empty()) {
        if let Err(unfit) = code::fit(&whose.group, &whose.names) {
            terminal::remark(&format!(
                "warning: the group's code “{}” {}\n  help: `share` would leave it out; write a short code with a digit, such as 3-07",
                whose.group,
                unfit.in_words()
            ));
        }
    }
}

/// Where the forms of groups go, one place a group. `several` makes of the path given a folder.
///
/// # Errors
/// When two groups would share a file, a file is there already, or its name is that of a lab description.
pub(super) fn targets<'g>(
    out: Option<&Path>,
    several: bool,
    groups: impl Iterator<Item = &'g str>,
) -> Result<Vec<PathBuf>, Stop> {
    let targets: Vec<PathBuf> = groups.map(|group| target(out, several, group)).collect();
    let mut seen = BTreeSet::new();
    for path in &targets {
        if let Some(name) = path.file_name()
            && name.len() > LONGEST_NAME
        {
            let name = name.to_string_lossy();
            let begin: String = name.chars().take(SHOWN).collect();
            return Err(Stop::new(
                format!("“{begin}…” is too long for the name of a file"),
                "nothing was written; give the group a short code, such as 3-07",
            ));
        }
        // There are disks where names in capitals and in small letters are the same.
        if !seen.insert(path.to_string_lossy().to_lowercase()) {
            return Err(Stop::new(
                format!("two groups would both be written to {}", path.display()),
                "nothing was written; give each group a code of its own",
            ));
        }
        if files::exists(path) {
            return Err(Stop::new(
                format!("{} is there already", path.display()),
                "nothing was written; move it away, or give another place with --out",
            ));
        }
        if files::is_lab_name(path) {
            return Err(Stop::new(
                format!("{} would be taken for a lab description", path.display()),
                "nothing was written; give the group another code",
            ));
        }
    }
    Ok(targets)
}

/// What a form calls its lab: the id where a reader of the form finds the description by it, in the form's folder or one
/// above; else the way from the form to it.
fn lab_from(form: &Path, description: &Path, id: &str) -> String {
    let way = files::way(form, description);
    // A description in the form's folder or one above is nothing but steps up and a name.
    let above = way.split('/').rev().skip(1).all(|step| step == "..");
    if above && files::is_lab_name(description) {
        id.to_owned()
    } else {
        way
    }
}

/// Where a form goes: the file given, or a file named after the group in the folder given.
fn target(out: Option<&Path>, several: bool, group: &str) -> PathBuf {
    let safe: String = group
        .chars()
        .map(|c| {
            if c.is_alphanumeric() || "-_.".contains(c) {
                c
            } else {
                '-'
            }
        })
        .collect();
    // A name that begins with a point would be hidden.
    let safe = safe.trim_start_matches('.');
    let name = if safe.is_empty() {
        "data.toml".to_owned()
    } else {
        format!("{safe}.toml")
    };
    match out {
        None => PathBuf::from(name),
        Some(path)
            if several
                || path.is_dir()
                || path.extension().is_none_or(|extension| extension != "toml") =>
        {
            path.join(name)
        }
        Some(path) => path.to_path_buf(),
    }
}
