//! The text of a file with its name, and places in it.

/// A range of bytes of a [`Source`]'s text.
pub type Span = std::ops::Range<usize>;

/// A file's name and decoded text. Spans are byte offsets into `text`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The path as the user gave it.
    pub name: String,
    /// The text.
    pub text: String,
}

impl Source {
    /// Line and column of a byte offset, both from 1, columns counted in characters.
    #[must_use]
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let offset = self.text.floor_char_boundary(offset.min(self.text.len()));
        let before = &self.text[..offset];
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or(before).chars().count() + 1;
        (line, column)
    }
}
