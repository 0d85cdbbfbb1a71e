//! The folder of shared pages: what this program wrote in it, what it may write over, and what is no longer wanted.
//!
//! A list in the folder says which pages are its own and what they held. A page is put on the list just before it is
//! written, so that a run that was cut off can be run again. Nothing that is not on the list, or that somebody changed
//! since, is ever written over or deleted.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::path::Path;
use std::path::PathBuf;

use crate::command::Stop;
use crate::command::files;

/// The list's name.
const LIST: &str = ".gramleaf-share";

/// A folder of shared pages.
#[derive(Debug)]
pub(super) struct Site {
    root: PathBuf,
    /// Pages of earlier runs with the digests of what was, or was about to be, written there.
    earlier: BTreeMap<String, BTreeSet<String>>,
}

impl Site {
    /// A folder, with what an earlier run wrote there.
    pub(super) fn open(root: &Path) -> Self {
        let list = files::existing(&root.join(LIST)).unwrap_or_default();
        let listed = list
            .lines()
            .filter_map(|line| line.split_once(' '))
            // A list that somebody changed must not lead out of the folder.
            .filter(|(_, path)| {
                let path = Path::new(path);
                path.is_relative()
                    && path
                        .components()
                        .all(|part| matches!(part, std::path::Component::Normal(_)))
            });
        let mut earlier: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for (digest, path) in listed {
            let digests = earlier.entry(path.to_owned()).or_default();
            digests.insert(digest.to_owned());
        }
        Self {
            root: root.to_path_buf(),
            earlier,
        }
    }

    /// Makes sure that every page may be written.
    ///
    /// # Errors
    /// When a page is there that this program did not write, or that somebody changed since; or when a link leads a page elsewhere.
    pub(super) fn begin(&self, pages: &[String]) -> Result<(), Stop> {
        let root = files::real(&self.root);
        for page in pages {
            let path = self.root.join(page);
            if files::real(&path) != root.join(page) {
                return Err(Stop::new(
                    format!(
                        "{} would be written elsewhere, through a link",
                        path.display()
                    ),
                    "nothing was written; take the link away, or give another folder with --out",
                ));
            }
            if files::exists(&path) && !self.is_own(page) {
                return Err(Stop::new(
                    format!(
                        "{} was not written by this program, or was changed since",
                        path.display()
                    ),
                    "nothing was written; move it away, or give another folder with --out",
                ));
            }
        }
        Ok(())
    }

    /// Whether a page is as this program left it.
    fn is_own(&self, page: &str) -> bool {
        let text = files::existing(&self.root.join(page));
        let digests = self.earlier.get(page);
        digests.is_some_and(|known| text.is_some_and(|text| known.contains(&files::digest(&text))))
    }

    /// Puts a page on the list and writes it, whole or not at all; returns its digest.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn write(&self, page: &str, text: &str) -> Result<String, Stop> {
        let digest = files::digest(text);
        files::append(&self.root.join(LIST), &format!("{digest} {page}\n"))?;
        files::write(&self.root.join(page), text)?;
        Ok(digest)
    }

    /// Takes away pages of earlier runs that are no longer wanted, and lists what is there now. Returns those that were
    /// changed by somebody and so stay.
    ///
    /// # Errors
    /// When the list cannot be written.
    pub(super) fn finish(&self, written: &BTreeMap<String, String>) -> Result<Vec<PathBuf>, Stop> {
        let mut stay = Vec::new();
        for page in self.earlier.keys() {
            let path = self.root.join(page);
            if written.contains_key(page) || !files::exists(&path) {
                continue;
            }
            if self.is_own(page) {
                files::remove(&path)?;
                for folder in Path::new(page).ancestors().skip(1) {
                    if folder.as_os_str().is_empty()
                        || !files::remove_empty(&self.root.join(folder))
                    {
                        break;
                    }
                }
            } else {
                stay.push(path);
            }
        }
        self.list(written)?;
        Ok(stay)
    }

    fn list(&self, pages: &BTreeMap<String, String>) -> Result<(), Stop> {
        let lines: String = pages
            .iter()
            .map(|(page, digest)| format!("{digest} {page}\n"))
            .collect();
        files::write(&self.root.join(LIST), &lines)
    }
}
