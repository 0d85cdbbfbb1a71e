//! Markdown of a document, with its tables as the page has them: comrak takes longer over tables than over all else.

use std::borrow::Cow;
use std::ops::Range;

/// Stands before a table as the page has it, which the Markdown of the same table follows. What the built-in templates
/// print of typed text holds neither of these characters: it is cleaned of them.
pub(super) const ASIDE: char = '\u{2}';

/// Stands behind it.
pub(super) const ASIDE_END: char = '\u{3}';

/// A document as templates print it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Markdown {
    /// What is read and kept.
    pub text: String,
    pub(super) tables: Vec<Aside>,
}

/// A table of the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Aside {
    /// Where it stands in the text, in bytes: whole lines, with an empty one or an end behind.
    pub(super) place: Range<usize>,
    /// Its rows, as the page has them.
    pub(super) html: String,
}

impl From<String> for Markdown {
    fn from(text: String) -> Self {
        let tables = Vec::new();
        Self { text, tables }
    }
}

impl Markdown {
    /// The text with a comment in the place of every table, and the tables' rows in that order.
    pub(super) fn apart(&self) -> (Cow<'_, str>, Vec<String>) {
        if self.tables.is_empty() {
            return (Cow::Borrowed(&self.text), Vec::new());
        }
        let mut out = String::with_capacity(self.text.len());
        let mut done = 0;
        for (number, table) in self.tables.iter().enumerate() {
            out.push_str(&self.text[done..table.place.start]);
            out.push_str(&format!("{PLACE}{number}{PLACE_END}\n"));
            done = table.place.end;
        }
        out.push_str(&self.text[done..]);
        let rows = self.tables.iter().map(|table| table.html.clone());
        (Cow::Owned(out), rows.collect())
    }
}

/// What a comment in the place of a table begins and ends with; typed text cannot hold it.
const PLACE: &str = "<!-- \u{2}";
const PLACE_END: &str = " -->";

/// Which table's place a block of HTML keeps.
pub(super) fn place_of(html: &str) -> Option<usize> {
    let number = html.trim_end().strip_prefix(PLACE)?;
    number.strip_suffix(PLACE_END)?.parse().ok()
}
