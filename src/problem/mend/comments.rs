//! Comments of a form that lost their #: behind a heading, behind a value, or on a line of their own.

use crate::problem::Code;
use crate::problem::Span;
use crate::problem::mend::Walk;
use crate::say;

/// Comments of a form stand at least so many blanks behind the value; words typed outside the quote marks stand nearer.
const GAP: usize = 4;

impl Walk<'_> {
    /// Whether words behind the end of a value are the comment of the form: far off, and more than one.
    pub(super) fn is_comment_behind(&self, end: usize) -> bool {
        let behind = &self.text[end..self.line_end(end)];
        let words = behind.trim_start_matches([' ', '\t']);
        behind.len() - words.len() >= GAP && is_prose(words) && !words.contains('"')
    }

    /// Whether the file has a place for what was seen, as data files do and lab descriptions do not.
    pub(super) fn has_notes(&self) -> bool {
        self.text.lines().any(|line| {
            let behind = line.trim_start().strip_prefix("seen");
            behind.is_some_and(|behind| behind.trim_start().starts_with('='))
        })
    }

    /// Says that text is a comment without its #, and reads it as one.
    pub(super) fn lost_hash(&mut self, place: Span) {
        let message = say!(self.words, "this looks like a comment that lost its #");
        let help = if self.has_notes() {
            say!(
                self.words,
                "type # in front of it; what you saw goes between the ''' marks under seen"
            )
        } else {
            say!(self.words, "type # in front of it")
        };
        let label = say!(self.words, "here");
        self.edits.insert(place.start, "# ");
        self.problem(Code::Syntax, place, message, label, help);
    }
}

/// Whether a text is words, more than one of them, and no name with its value.
pub(super) fn is_prose(text: &str) -> bool {
    let mut words = text.split_whitespace();
    let lettered = |word: &str| word.chars().any(char::is_alphabetic);
    text.starts_with(char::is_alphabetic)
        && words.next().is_some_and(lettered)
        && words.filter(|word| lettered(word)).count() > 0
}
