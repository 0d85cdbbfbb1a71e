//! What is done to the Markdown of templates last: numbers for captions and headings, no loose blank, tables for the page put aside.

use memchr::memchr;
use memchr::memmem;

use super::captions::Numbers;
use super::markdown::ASIDE;
use super::markdown::ASIDE_END;
use super::markdown::Aside;
use super::markdown::Markdown;
use crate::words::Words;

/// How typed text escapes a point that would begin a list.
const ESCAPED: &str = "\\.";

/// Gives tables, figures and headings their numbers in the order they are printed; at most one blank line in a row, no space at line ends, one line end at the end; fenced blocks are left alone, and
/// so is what students wrote, where two spaces at a line's end mean something. Tables as the page has them are put aside.
pub(super) fn tidy(text: &str, wording: &Words) -> Markdown {
    let mut out = String::with_capacity(text.len());
    let mut blank = true;
    let mut words = false;
    let mut numbers = Numbers::default();
    let escaped = text.contains(ESCAPED);
    let mut tables: Vec<Aside> = Vec::new();
    // The table that the lines belong to.
    let mut open: Option<Aside> = None;
    let mut rest = text;
    while !rest.is_empty() {
        if let Some((html, behind)) = put_aside(rest) {
            rest = behind;
            open = Some(Aside {
                place: out.len()..out.len(),
                html: html.to_owned(),
            });
        }
        let end = memchr(b'\n', rest.as_bytes());
        let (line, behind) = end.map_or((rest, ""), |end| (&rest[..end], &rest[end + 1..]));
        let line = line.strip_suffix('\r').unwrap_or(line);
        rest = behind;
        if words || line == "<!-- words -->" {
            words = line != "<!-- /words -->";
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
        if blank && let Some(mut table) = open.take() {
            table.place.end = out.len();
            tables.push(table);
        }
        if line.starts_with("```") {
            let fence = &line[..line.len() - line.trim_start_matches('`').len()];
            let (block, behind) = up_to(fence, rest);
            out.push_str(line);
            out.push('\n');
            out.extend(block.split('\r'));
            rest = behind;
            continue;
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
    if let Some(mut table) = open {
        table.place.end = out.len();
        tables.push(table);
    }
    Markdown { text: out, tables }
}

/// A table as the page has it, at the beginning of a text, and what follows it.
fn put_aside(text: &str) -> Option<(&str, &str)> {
    text.strip_prefix(ASIDE)?.split_once(ASIDE_END)
}

/// A fenced block up to the line that ends it, with that, and what follows.
fn up_to<'t>(fence: &str, text: &'t str) -> (&'t str, &'t str) {
    let ends = |at: &usize| {
        let line = text[*at..].split('\n').next().unwrap_or_default();
        (*at == 0 || text[..*at].ends_with('\n')) && line.trim_end() == fence
    };
    let mut places = memmem::find_iter(text.as_bytes(), fence);
    let last = places.find(ends).unwrap_or(text.len());
    let end = memchr(b'\n', &text.as_bytes()[last..]).map_or(text.len(), |end| last + end + 1);
    text.split_at(end)
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
    fn headings_are_numbered_in_the_order_of_printing() {
        let text =
            "## \u{1} A\n\n### b\n\n## own\n\n## 7 Own\n\n## \u{1} B\n\n```\n## \u{1} c\n```";
        assert_eq!(
            tidy(text, &Words::english()).text,
            "## 1 A\n\n### b\n\n## own\n\n## 7 Own\n\n## 2 B\n\n```\n## \u{1} c\n```\n"
        );
    }

    #[test]
    fn tables_are_put_aside_with_their_place() {
        let aside = "\u{2}<tr>\n</tr>\u{3}| a |\n|---|\n| b |\n";
        let table = "| a |\n|---|\n| b |\n";
        for (before, behind) in [("x\n\n", "\ny"), ("", ""), ("x\n\n", " \n \n")] {
            let printed = tidy(&format!("{before}{aside}{behind}"), &Words::english());
            let plain = tidy(&format!("{before}{table}{behind}"), &Words::english());
            assert_eq!(printed.text, plain.text);
            let [put_aside] = printed.tables.as_slice() else {
                panic!("{printed:?}");
            };
            assert_eq!(&printed.text[put_aside.place.clone()], table);
            assert_eq!(put_aside.html, "<tr>\n</tr>");
        }
    }

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
            assert_eq!(tidy(line, &Words::english()).text.trim_end(), tidied);
        }
    }
}
