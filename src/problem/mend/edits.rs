//! Small changes to a text, and the way back from the changed text to places in the first one.

use crate::problem::Span;
use crate::words::Words;

/// Changes that are wanted; places are bytes of the text they are for.
#[derive(Default)]
pub(super) struct Edits {
    list: Vec<(Span, String)>,
}

/// A changed text that remembers where its bytes came from.
#[derive(Debug, Clone)]
pub(in crate::problem) struct Mended {
    /// The changed text.
    pub(in crate::problem) text: String,
    /// For each byte, and the end, the place in the first text; `None` when nothing was changed.
    origin: Option<Vec<usize>>,
    /// The language in which its reader is told what is wrong.
    pub(in crate::problem) words: Words,
}

impl Edits {
    /// Puts a text in.
    pub(super) fn insert(&mut self, at: usize, text: &str) {
        self.list.push((at..at, text.to_owned()));
    }

    /// Puts a text in the place of another.
    pub(super) fn replace(&mut self, span: Span, text: &str) {
        self.list.push((span, text.to_owned()));
    }

    /// Makes the changes. One that overlaps an earlier, or a longer one from the same place, is left out.
    pub(super) fn apply(mut self, text: &str) -> Mended {
        // Insertions come in front of what is replaced at the same place, but not in front of what takes a line away.
        self.list.sort_by_key(|(span, new)| {
            (
                span.start,
                !(span.end > span.start && new.is_empty()),
                span.end,
            )
        });
        let mut mended = Mended {
            text: String::with_capacity(text.len() + 64),
            origin: None,
            words: Words::english(),
        };
        let mut origin = Vec::with_capacity(text.len() + 64);
        let mut done = 0;
        for (span, new) in &self.list {
            if span.start < done || text.get(span.clone()).is_none() {
                continue;
            }
            mended.text.push_str(&text[done..span.start]);
            origin.extend(done..span.start);
            mended.text.push_str(new);
            origin.extend(std::iter::repeat_n(span.start, new.len()));
            done = span.end;
        }
        mended.text.push_str(&text[done..]);
        origin.extend(done..=text.len());
        mended.origin = Some(origin);
        mended
    }
}

impl Mended {
    /// A text without changes.
    pub(in crate::problem) fn unchanged(text: &str, words: &Words) -> Self {
        Self {
            text: text.to_owned(),
            origin: None,
            words: words.clone(),
        }
    }

    /// The place in the first text.
    #[must_use]
    pub(in crate::problem) fn back(&self, span: &Span) -> Span {
        let Some(origin) = &self.origin else {
            return span.clone();
        };
        let place = |at: usize| origin[at.min(origin.len() - 1)];
        let start = place(span.start);
        start..place(span.end).max(start)
    }

    /// Makes a line blank, byte for byte.
    pub(in crate::problem) fn blank(&mut self, span: Span) {
        let blanks: String = self.text[span.clone()]
            .bytes()
            .map(|b| {
                if matches!(b, b'\n' | b'\r') {
                    char::from(b)
                } else {
                    ' '
                }
            })
            .collect();
        self.text.replace_range(span, &blanks);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changed_places_lead_back() {
        let mut edits = Edits::default();
        edits.insert(4, "\"");
        edits.insert(9, "\"");
        edits.replace(12..13, "=");
        edits.replace(12..13, "never");
        let mended = edits.apply("a = 1.5 g\nb : 2");
        assert_eq!(mended.text, "a = \"1.5 g\"\nb = 2");
        assert_eq!(mended.back(&(4..11)), 4..9);
        assert_eq!(mended.back(&(14..15)), 12..13);
        assert_eq!(mended.back(&(99..120)), 15..15);
    }

    #[test]
    fn taking_a_line_away_takes_its_other_changes_with_it() {
        let mut edits = Edits::default();
        edits.insert(4, "\"");
        edits.replace(0..7, "");
        edits.insert(0, "x");
        assert_eq!(edits.apply("a = 1.5\nb").text, "\nb");
    }
}
