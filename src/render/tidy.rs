//! What is done to the Markdown of templates last: numbers for captions, no loose blank.

use std::borrow::Cow;

use super::captions::Numbers;
use crate::words::Words;

/// Gives tables and figures their numbers in the order they are printed; at most one blank line in a row, no space at line ends, one line end at the end; fenced blocks are left alone, and
/// so is what students wrote, where two spaces at a line's end mean something.
pub(super) fn tidy(text: &str, wording: &Words) -> String {
    let mut out = String::with_capacity(text.len());
    let mut blank = true;
    let mut fence: Option<String> = None;
    let mut words = false;
    let mut numbers = Numbers::default();
    for line in text.lines() {
        if words || line == "<!-- words -->" {
            words = line != "<!-- /words -->";
            out.push_str(line);
            out.push('\n');
            blank = false;
            continue;
        }
        if let Some(open) = &fence {
            if line.trim_end() == open {
                fence = None;
            }
            out.push_str(line);
            out.push('\n');
            blank = false;
            continue;
        }
        let numbered = numbers.number(line, wording);
        let line = numbered.as_deref().unwrap_or(line);
        let line = without_idle_escapes(line);
        let trimmed = line.trim_end();
        let run = trimmed.chars().take_while(|c| *c == '`').count();
        if run >= 3 {
            fence = Some("`".repeat(run));
        }
        if trimmed.is_empty() && blank {
            continue;
        }
        blank = trimmed.is_empty();
        out.push_str(trimmed);
        out.push('\n');
    }
    format!("{}\n", out.trim_end())
}

/// A point behind a number is escaped in typed text, where it would begin a list. Inside a line it begins none, and
/// `3. May` reads better than `3\. May`.
fn without_idle_escapes(line: &str) -> Cow<'_, str> {
    const ESCAPED: &str = "\\.";
    if !line.contains(ESCAPED) {
        return Cow::Borrowed(line);
    }
    let mut out = String::with_capacity(line.len());
    let mut rest = line;
    while let Some(at) = rest.find(ESCAPED) {
        out.push_str(&rest[..at]);
        let before = out.trim_end_matches(|c: char| c.is_ascii_digit());
        let is_number = before.len() < out.len();
        let inside = before.ends_with([' ', '(', '\u{a0}']) && before.contains(char::is_alphabetic);
        out.push_str(if is_number && inside { "." } else { ESCAPED });
        rest = &rest[at + ESCAPED.len()..];
    }
    out.push_str(rest);
    Cow::Owned(out)
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
