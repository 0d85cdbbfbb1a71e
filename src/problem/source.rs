//! The text of a file with its name, and places in it; bytes of any editor decoded.

use crate::problem::Code;
use crate::problem::Problem;
use crate::say;
use crate::words::Words;

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
    /// Decodes the bytes of a file: UTF-8, UTF-16 with its mark, else Windows-1252; byte order mark and odd spaces
    /// are taken out. What is no text at all comes back empty, with an error that says what it is. Told in English.
    #[must_use]
    pub fn decode(name: String, bytes: &[u8]) -> (Self, Vec<Problem>) {
        Self::decode_in(name, bytes, &Words::english())
    }

    /// Decodes the bytes of a file as [`Source::decode`] does, told in a language.
    #[must_use]
    pub fn decode_in(name: String, bytes: &[u8], words: &Words) -> (Self, Vec<Problem>) {
        match Self::as_saved(name.clone(), bytes, words) {
            Ok((mut source, mut problems)) => {
                source.text = plain_spaces(&source.text, words, &mut problems);
                (source, problems)
            }
            Err(what) => {
                let message = say!(words, "this file is {what}, not plain text", what = what);
                let problem =
                    Problem::error(Code::NotText, message).help(words.say(
                        "copy the lines into a plain text editor and save them as a .toml file",
                    ));
                let text = String::new();
                (Self { name, text }, vec![problem])
            }
        }
    }

    /// Decodes the bytes of a file that is no TOML: every space stays what it is.
    ///
    /// # Errors
    /// When the file is no text: what it is instead, in words.
    pub fn as_saved(
        name: String,
        bytes: &[u8],
        words: &Words,
    ) -> Result<(Self, Vec<Problem>), String> {
        let mut problems = Vec::new();
        if let Some(what) = not_text(bytes, words) {
            return Err(what.to_owned());
        }
        let text = decoded(bytes, words, &mut problems);
        Ok((Self { name, text }, problems))
    }

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

/// What the file is when it is no plain text, in words: first bytes of well-known formats (from the formats' own
/// descriptions).
fn not_text<'w>(bytes: &[u8], words: &'w Words) -> Option<&'w str> {
    Some(match bytes {
        [b'P', b'K', 3, 4, ..] => {
            words.say("a word-processor document (.docx, .odt) or a zip archive")
        }
        [b'{', b'\\', b'r', b't', b'f', ..] => words.say("a word-processor document (.rtf)"),
        [0xD0, 0xCF, 0x11, 0xE0, ..] => words.say("a word-processor document (.doc)"),
        [b'%', b'P', b'D', b'F', ..] => words.say("a PDF document"),
        [0x89, b'P', b'N', b'G', ..] => words.say("a picture (.png)"),
        [0xFF, 0xD8, 0xFF, ..] => words.say("a picture (.jpg)"),
        // UTF-16.
        [0xFF, 0xFE, ..] | [0xFE, 0xFF, ..] => return None,
        _ if bytes.contains(&0) => words.say("a file of another program"),
        _ => return None,
    })
}

/// The bytes as text, without a byte order mark.
fn decoded(bytes: &[u8], words: &Words, problems: &mut Vec<Problem>) -> String {
    let help = || {
        say!(
            words,
            "nothing to do; to be rid of this note save the file as UTF-8"
        )
    };
    if let Some(rest) = bytes.strip_prefix(b"\xEF\xBB\xBF") {
        problems.push(
            Problem::note(
                Code::Encoding,
                words.say(
                    "the file starts with an invisible mark that some editors add; it was left out",
                ),
            )
            .help(help()),
        );
        return decoded(rest, words, problems);
    }
    let utf16 = match bytes {
        [0xFF, 0xFE, rest @ ..] => Some((rest, u16::from_le_bytes as fn([u8; 2]) -> u16)),
        [0xFE, 0xFF, rest @ ..] => Some((rest, u16::from_be_bytes as fn([u8; 2]) -> u16)),
        _ => None,
    };
    if let Some((rest, read)) = utf16 {
        problems.push(
            Problem::note(
                Code::Encoding,
                words.say("the file is saved as UTF-16; it was decoded"),
            )
            .help(help()),
        );
        let units: Vec<u16> = rest
            .chunks_exact(2)
            .map(|pair| read([pair[0], pair[1]]))
            .collect();
        return String::from_utf16_lossy(&units);
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(error) => {
            let text: String = bytes.iter().map(|byte| windows_1252(*byte)).collect();
            // Every byte in front of the first odd one is a whole UTF-8 character; decoded one by one, it may be longer.
            let at = bytes[..error.valid_up_to()]
                .iter()
                .map(|byte| windows_1252(*byte).len_utf8())
                .sum::<usize>();
            let odd = text[at..].chars().next().unwrap_or(' ');
            let message = say!(
                words,
                "the file is saved in an old encoding; this character was read as “{odd}”",
                odd = odd
            );
            problems.push(
                Problem::warning(Code::Encoding, message)
                    .at(at..at + odd.len_utf8(), words.say("first one here"))
                    .help(words.say("look whether it is right, then save the file as UTF-8")),
            );
            text
        }
    }
}

/// One byte of Windows-1252, which holds Latin-1; the table of its upper controls is from memory of the code page.
fn windows_1252(byte: u8) -> char {
    const CONTROLS: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž',
        '\u{8f}', '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}',
        'ž', 'Ÿ',
    ];
    match byte {
        0x80..=0x9F => CONTROLS[usize::from(byte - 0x80)],
        other => char::from(other),
    }
}

/// The text with ordinary spaces, outside quotes, for non-breaking ones, and without zero-width ones.
fn plain_spaces(text: &str, words: &Words, problems: &mut Vec<Problem>) -> String {
    // Most files hold none of the bytes with which one begins.
    let begins = |two: &[u8]| {
        matches!(
            two,
            [0xC2, 0xA0] | [0xE2, 0x80 | 0x81] | [0xE3, 0x80] | [0xEF, 0xBB]
        )
    };
    if !text.as_bytes().windows(2).any(begins) || !text.contains(is_odd_space) {
        return text.to_owned();
    }
    let mut plain = String::with_capacity(text.len());
    let mut first = None;
    let mut quotes = Quotes::Outside;
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let step = quotes.step(rest);
        if quotes == Quotes::Outside && is_odd_space(c) {
            first = first.or(Some(plain.len()));
            if !matches!(c, '\u{200B}' | '\u{FEFF}' | '\u{2060}') {
                plain.push(' ');
            }
        } else {
            plain.push_str(&rest[..step]);
        }
        rest = &rest[step..];
    }
    if let Some(at) = first {
        problems.push(
            Problem::note(Code::OddSpace, words.say("there are invisible or non-breaking spaces outside the quote marks; ordinary ones were read for them"))
                .at(at..at + 1, words.say("first one here"))
                .help(words.say("nothing to do; word processors and web pages put them in")),
        );
    }
    plain
}

/// Spaces that look like ordinary ones, or like nothing, and are neither for TOML.
const fn is_odd_space(c: char) -> bool {
    matches!(
        c,
        '\u{A0}'
            | '\u{2007}'
            | '\u{2009}'
            | '\u{202F}'
            | '\u{3000}'
            | '\u{200B}'
            | '\u{2060}'
            | '\u{FEFF}'
    )
}

/// Where a walk through TOML text is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Quotes {
    /// Between values, or in a comment's line.
    Outside,
    /// In a comment.
    Comment,
    /// In a string of one line that this mark ends.
    Line(char),
    /// In a string of many lines that these marks end.
    Block(&'static str),
}

impl Quotes {
    /// Goes over what stands next and returns its length in bytes: one character, an escape, or three quote marks.
    fn step(&mut self, rest: &str) -> usize {
        let c = rest.chars().next().unwrap_or(' ');
        let triple = ["'''", "\"\"\""]
            .into_iter()
            .find(|marks| rest.starts_with(marks));
        match (*self, triple) {
            (Self::Outside, Some(marks)) => {
                *self = Self::Block(marks);
                return 3;
            }
            (Self::Block(marks), Some(found)) if marks == found => {
                *self = Self::Outside;
                return 3;
            }
            (Self::Block(_), _) => {}
            // A quote mark behind a backslash ends nothing.
            (Self::Line('"'), _) if rest.starts_with("\\\"") || rest.starts_with("\\\\") => {
                return 2;
            }
            (Self::Outside, None) if c == '#' => *self = Self::Comment,
            (Self::Outside, None) if c == '"' || c == '\'' => *self = Self::Line(c),
            (Self::Line(mark), _) if c == mark || c == '\n' => *self = Self::Outside,
            (Self::Comment, _) if c == '\n' => *self = Self::Outside,
            _ => {}
        }
        c.len_utf8()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decode(bytes: &[u8]) -> (String, Vec<(Code, bool)>) {
        let (source, problems) = Source::decode("a.toml".to_owned(), bytes);
        (
            source.text,
            problems
                .into_iter()
                .map(|p| (p.code, p.severity == crate::problem::Severity::Error))
                .collect(),
        )
    }

    #[test]
    fn plain_text_is_taken_as_it_is() {
        assert_eq!(
            decode("a = \"1 °C\"\r\n".as_bytes()),
            ("a = \"1 °C\"\r\n".to_owned(), vec![])
        );
    }

    #[test]
    fn marks_and_old_encodings_are_decoded() {
        assert_eq!(
            decode(b"\xEF\xBB\xBFa = 1"),
            ("a = 1".to_owned(), vec![(Code::Encoding, false)])
        );
        assert_eq!(
            decode(b"\xFF\xFEa\0=\x001\0"),
            ("a=1".to_owned(), vec![(Code::Encoding, false)])
        );
        assert_eq!(
            decode(b"\xFE\xFF\0a\0=\x001"),
            ("a=1".to_owned(), vec![(Code::Encoding, false)])
        );
        assert_eq!(
            decode(b"t = \"20 \xB0C\x85\""),
            ("t = \"20 °C…\"".to_owned(), vec![(Code::Encoding, false)])
        );
    }

    #[test]
    fn an_old_encoding_names_its_first_line() {
        let (source, problems) = Source::decode("a.toml".to_owned(), b"a = 1\nt = \"20 \xB0C\"\n");
        assert_eq!(source.line_column(problems[0].labels[0].span.start), (2, 9));
    }

    #[test]
    fn odd_spaces_stay_between_quotes_only() {
        let (text, problems) =
            decode("a\u{a0}=\u{a0}\"1\u{a0}g\"\u{a0}# b\n'''\n\u{a0}'''".as_bytes());
        assert_eq!(text, "a = \"1\u{a0}g\" # b\n'''\n\u{a0}'''");
        assert_eq!(problems, [(Code::OddSpace, false)]);
        let escaped = "a = \"\\\"\u{a0}\\\\\"\nb = \"\u{a0}\"";
        assert_eq!(decode(escaped.as_bytes()), (escaped.to_owned(), vec![]));
    }

    #[test]
    fn what_is_no_text_is_named() {
        for (bytes, word) in [
            (&b"PK\x03\x04\x14\0"[..], ".docx"),
            (b"{\\rtf1\\ansi", ".rtf"),
            (b"MZ\x90\0\x03", "another program"),
        ] {
            let (source, problems) = Source::decode("a.docx".to_owned(), bytes);
            assert!(source.text.is_empty());
            assert!(
                problems[0].message.contains(word),
                "{}",
                problems[0].message
            );
        }
    }

    #[test]
    fn lines_and_columns_count_characters_from_one() {
        let source = Source {
            name: "x".to_owned(),
            text: "ab\nä水c".to_owned(),
        };
        assert_eq!(source.line_column(0), (1, 1));
        assert_eq!(source.line_column(8), (2, 3));
        assert_eq!(source.line_column(999), (2, 4));
    }
}
