//! What is done to the Markdown of templates last: numbers for captions, no loose blank.

use super::captions::Numbers;
use crate::words::Words;

/// How typed text escapes a point that would begin a list.
const ESCAPED: &str = "\\.";

/// Gives tables and figures their numbers in the order they are printed; at most one blank line in a row, no space at line ends, one line end at the end; fenced blocks are left alone, and
/// so is what students wrote, where two spaces at a line's end mean something.
pub(super) fn tidy(text: &str, wording: &Words) -> String {
    let mut out = String::with_capacity(text.len());
    let mut blank = true;
    let mut fence = "";
    let mut words = false;
    let mut numbers = Numbers::default();
    let escaped = text.contains(ESCAPED);
    let mut rest = text;
    while !rest.is_empty() {
        let (line, behind) = first_line(rest);
        rest = behind;
        let in_words = words || line == "<!-- words -->";
        if in_words || !fence.is_empty() {
            words = in_words && line != "<!-- /words -->";
            if !in_words && line.as_bytes().first() == Some(&b'`') && line.trim_end() == fence {
                fence = "";
            }
            out.push_str(line);
            out.push('\n');
            blank = false;
            continue;
        }
        let line = line.trim_end();
        if line.is_empty() && blank {
            continue;
        }
        blank = line.is_empty();
        if line.as_bytes().starts_with(b"```") {
            fence = &line[..line.len() - line.trim_start_matches('`').len()];
        }
        let numbered = numbers.number(line, wording);
        let line = numbered.as_deref().unwrap_or(line);
        if escaped {
            without_idle_escapes(line, &mut out);
        } else {
            out.push_str(line);
        }
        out.push('\n');
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

/// The first line of a text, without its end, and what comes behind.
fn first_line(text: &str) -> (&str, &str) {
    // Every other line is blank.
    if text.as_bytes().first() == Some(&b'\n') {
        return ("", &text[1..]);
    }
    let end = first_line_end(text.as_bytes());
    let (line, behind) = (&text[..end], text.get(end + 1..).unwrap_or_default());
    match line.as_bytes().last() {
        Some(b'\r') => (&line[..line.len() - 1], behind),
        _ => (line, behind),
    }
}

/// Where the first line ends.
fn first_line_end(bytes: &[u8]) -> usize {
    // Sixteen at a time are compared together.
    let ends = |chunk: &[u8]| {
        let ends = |some, byte: &u8| some | u8::from(*byte == b'\n');
        chunk.iter().fold(0, ends) > 0
    };
    let before = 16
        * bytes
            .chunks_exact(16)
            .take_while(|chunk| !ends(chunk))
            .count();
    let rest = bytes[before..].iter().position(|byte| *byte == b'\n');
    rest.map_or(bytes.len(), |rest| before + rest)
}

/// A point behind a number is escaped in typed text, where it would begin a list. Inside a line it begins none, and
/// `3. May` reads better than `3\. May`. Writes the line behind what is there.
fn without_idle_escapes(line: &str, out: &mut String) {
    let start = out.len();
    let mut done = 0;
    for (at, _) in line.match_indices(ESCAPED) {
        out.push_str(&line[done..at]);
        let written = &out[start..];
        let before = written.trim_end_matches(|c: char| c.is_ascii_digit());
        let is_number = before.len() < written.len();
        let inside = before.ends_with([' ', '(', '\u{a0}']) && before.contains(char::is_alphabetic);
        done = if is_number && inside { at + 1 } else { at };
    }
    out.push_str(&line[done..]);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_that_begins_no_list_is_not_escaped() {
        for (line, tidied) in [
            ("### Day 1 (3\\. May)", "### Day 1 (3. May)"),
            (
                "Group 7b · 3\\. May · 4\\. May",
                "Group 7b · 3. May · 4. May",
            ),
            ("3\\. May", "3\\. May"),
            ("- 3\\. May", "- 3\\. May"),
            ("a www\\.b", "a www\\.b"),
            ("a 2\\\\. b", "a 2\\\\. b"),
        ] {
            assert_eq!(tidy(line, &Words::english()).trim_end(), tidied);
        }
    }
}
