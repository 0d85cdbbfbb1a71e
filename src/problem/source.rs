//! The text of a file with its name, and places in it.

use crate::problem::Code;
use crate::problem::Problem;

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

impl Source {
    /// The text of a file's bytes: UTF-8 with or without a mark in front, UTF-16 with one, else Windows-1252.
    ///
    /// What is no text at all becomes an empty source with one plain error.
    #[must_use]
    pub fn decode(name: String, bytes: &[u8]) -> (Self, Vec<Problem>) {
        let stranger = |what: &str| {
            let problem = Problem::error(Code::NotText, format!("this is {what}, not a plain text file"))
                .help("open it in the program that made it and save it as plain text (UTF-8), or copy the lines into a new .toml file");
            (
                Self {
                    name: name.clone(),
                    text: String::new(),
                },
                vec![problem],
            )
        };
        if bytes.starts_with(b"PK\x03\x04") {
            return stranger("a word-processor or spreadsheet file");
        }
        if bytes.starts_with(b"{\\rtf") {
            return stranger("a rich-text file");
        }
        if let [0xFF, 0xFE, rest @ ..] = bytes {
            return (
                Self {
                    name,
                    text: utf_16(rest, u16::from_le_bytes),
                },
                Vec::new(),
            );
        }
        if let [0xFE, 0xFF, rest @ ..] = bytes {
            return (
                Self {
                    name,
                    text: utf_16(rest, u16::from_be_bytes),
                },
                Vec::new(),
            );
        }
        let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
        if bytes.contains(&0) {
            return stranger("a program's own file");
        }
        match std::str::from_utf8(bytes) {
            Ok(text) => (
                Self {
                    name,
                    text: text.to_owned(),
                },
                Vec::new(),
            ),
            Err(wrong) => {
                let source = Self {
                    name,
                    text: bytes.iter().map(|byte| windows_1252(*byte)).collect(),
                };
                let before: usize = bytes[..wrong.valid_up_to()]
                    .iter()
                    .map(|byte| windows_1252(*byte).len_utf8())
                    .sum();
                let problem = Problem::warning(
                    Code::Encoding,
                    "the file is not UTF-8; it was read as an older Western encoding",
                )
                .at(before..before + 2, "first such character")
                .help("save the file as UTF-8, and look whether all letters and signs are right");
                (source, vec![problem])
            }
        }
    }
}

/// UTF-16 units to text, what does not fit replaced.
fn utf_16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> String {
    let units = bytes.chunks_exact(2).map(|pair| unit([pair[0], pair[1]]));
    char::decode_utf16(units)
        .map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER))
        .collect()
}

/// One byte of Windows-1252, which holds Latin-1.
fn windows_1252(byte: u8) -> char {
    const UPPER: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž',
        '\u{8f}', '\u{90}', '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}',
        'ž', 'Ÿ',
    ];
    match byte {
        0x80..=0x9F => UPPER[usize::from(byte - 0x80)],
        other => char::from(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_of_every_usual_kind_are_read() {
        let read = |bytes: &[u8]| Source::decode("x".to_owned(), bytes);
        assert_eq!(read("\u{feff}a = 1".as_bytes()).0.text, "a = 1");
        let utf_16: Vec<u8> = [0xFF, 0xFE]
            .into_iter()
            .chain("a·".encode_utf16().flat_map(u16::to_le_bytes))
            .collect();
        assert_eq!(read(&utf_16).0.text, "a·");
        let (source, problems) = read(b"t = \"21 \xB0C\" \x93");
        assert_eq!(source.text, "t = \"21 °C\" “");
        assert_eq!(problems[0].code, Code::Encoding);
        assert_eq!(problems[0].labels[0].span.start, 8);
        for strange in [&b"PK\x03\x04docx"[..], b"{\\rtf1", b"a\0b"] {
            assert_eq!(read(strange).1[0].code, Code::NotText);
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
