//! The folder of shared pages: what this program wrote in it, what it may write over, and what is no longer wanted.
//!
//! A list in the folder says which pages are its own and what they held. While a run goes on, the pages it will write are
//! listed without a digest, so that a run that was cut off can be run again. Nothing that is not on the list is ever
//! written over or deleted.

use std::collections::BTreeMap;
use std::path::Path;
use std::path::PathBuf;

use sha2::Digest;
use sha2::Sha256;

use crate::command::Stop;
use crate::command::files;

/// The list's name.
const LIST: &str = ".gramleaf-share";

/// Stands for a page that is being written.
const UNDER_WAY: &str = "-";

/// A folder of shared pages.
#[derive(Debug)]
pub(super) struct Site {
    root: PathBuf,
    /// Pages of an earlier run with their digests.
    earlier: BTreeMap<String, String>,
}

impl Site {
    /// A folder, with what an earlier run wrote there.
    pub(super) fn open(root: &Path) -> Self {
        let list = files::existing(&root.join(LIST)).unwrap_or_default();
        let earlier = list
            .lines()
            .filter_map(|line| line.split_once(' '))
            // A list that somebody changed must not lead out of the folder.
            .filter(|(_, path)| {
                let path = Path::new(path);
                path.is_relative()
                    && path
                        .components()
                        .all(|part| matches!(part, std::path::Component::Normal(_)))
            })
            .map(|(digest, path)| (path.to_owned(), digest.to_owned()));
        Self {
            root: root.to_path_buf(),
            earlier: earlier.collect(),
        }
    }

    /// Makes sure that every page may be written, and says which will be.
    ///
    /// # Errors
    /// When a page is there that this program did not write, or that somebody changed since.
    pub(super) fn begin(&self, pages: &[String]) -> Result<(), Stop> {
        for page in pages {
            let path = self.root.join(page);
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
        let mut listed = self.earlier.clone();
        for page in pages {
            listed.insert(page.clone(), UNDER_WAY.to_owned());
        }
        self.list(&listed)
    }

    /// Whether a page is as this program left it.
    fn is_own(&self, page: &str) -> bool {
        let Some(digest) = self.earlier.get(page) else {
            return false;
        };
        digest == UNDER_WAY
            || files::existing(&self.root.join(page))
                .is_some_and(|text| digest_of(&text) == *digest)
    }

    /// Writes a page, whole or not at all; returns its digest.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn write(&self, page: &str, text: &str) -> Result<String, Stop> {
        files::write(&self.root.join(page), text)?;
        Ok(digest_of(text))
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

fn digest_of(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    digest
        .iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
