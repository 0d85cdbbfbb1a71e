//! Students' Markdown made safe: it keeps its emphasis, lists, tables, links and mathematics, and can neither
//! bring in HTML, nor load anything, nor break out of its place in the report.

use std::ops::Range;

use pulldown_cmark::CodeBlockKind;
use pulldown_cmark::Event;
use pulldown_cmark::LinkType;
use pulldown_cmark::Options;
use pulldown_cmark::Parser;
use pulldown_cmark::Tag;

use super::escape::turns_direction;

/// How deep quotes and lists may nest; deeper ones are printed as text.
const DEEPEST: usize = 8;

/// A change to the text: these bytes become this.
type Edit = (Range<usize>, String);

/// Prose that can stand anywhere in a report's Markdown.
#[must_use]
pub fn safe(prose: &str) -> String {
    let text: String = prose
        .replace("\r\n", "\n")
        .replace('\r', "\n")
        .chars()
        .filter(|c| !turns_direction(*c) && (!c.is_control() || *c == '\n' || *c == '\t'))
        .collect();
    let mut text = text.trim_matches('\n').trim_end().to_owned();
    // Definitions and HTML are found as text only once what hid them is gone; two rounds settle it.
    for _ in 0..3 {
        let edits = edits(&text);
        if edits.is_empty() {
            break;
        }
        apply(&mut text, edits);
    }
    if needs_fallback(&text) {
        // Something still reads as markup that must not be there: print it as it was typed.
        return text
            .lines()
            .map(super::escape::markdown)
            .collect::<Vec<_>>()
            .join("\n");
    }
    close_fence(text)
}

fn options() -> Options {
    Options::ENABLE_TABLES | Options::ENABLE_FOOTNOTES | Options::ENABLE_MATH
}

/// Everything that must change, in order of place.
fn edits(text: &str) -> Vec<Edit> {
    let mut edits: Vec<Edit> = Vec::new();
    let parser = Parser::new_ext(text, options());
    for (label, definition) in parser.reference_definitions().iter() {
        let _ = label;
        // A definition would be seen by the whole report, and is invisible where it stands.
        edits.push((
            definition.span.start..definition.span.start,
            "\\".to_owned(),
        ));
    }
    let mut depth = 0_usize;
    for (event, span) in Parser::new_ext(text, options()).into_offset_iter() {
        match event {
            Event::Html(_) | Event::InlineHtml(_) => edits.extend(escaped(text, span, &['<', '&'])),
            Event::Start(Tag::Heading { .. }) => heading(text, span, &mut edits),
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) if !info.is_empty() => {
                info_string(text, span, &info, &mut edits);
            }
            Event::Start(Tag::Image { .. }) => {
                // The picture would have to be loaded; its words stay.
                edits.push((span.start..span.start + 1, String::new()));
                unlink(text, span, &mut edits);
            }
            Event::Start(Tag::Link {
                link_type,
                dest_url,
                ..
            }) => {
                let harmless = ["https://", "http://", "mailto:"]
                    .iter()
                    .any(|start| dest_url.to_lowercase().starts_with(start));
                if !harmless && link_type != LinkType::Email {
                    unlink(text, span, &mut edits);
                }
            }
            Event::Start(Tag::FootnoteDefinition(_)) => {
                edits.extend(escaped(text, span.start..span.start + 1, &['[']));
            }
            Event::FootnoteReference(_) => edits.extend(escaped(text, span, &['['])),
            Event::Start(Tag::BlockQuote(_) | Tag::List(_)) => {
                depth += 1;
                if depth > DEEPEST {
                    edits.extend(escaped(
                        text,
                        span.start..(span.start + 1).min(span.end),
                        &['>', '-', '*', '+'],
                    ));
                }
            }
            Event::End(pulldown_cmark::TagEnd::BlockQuote(_) | pulldown_cmark::TagEnd::List(_)) => {
                depth = depth.saturating_sub(1);
            }
            Event::Rule => edits.push((span.start..span.start, "\\".to_owned())),
            _ => {}
        }
    }
    edits
}

/// A backslash before each of some characters.
fn escaped(text: &str, span: Range<usize>, which: &[char]) -> Vec<Edit> {
    let inner = text.get(span.clone()).unwrap_or_default();
    let places = inner.char_indices().filter(|(_, c)| which.contains(c));
    places
        .map(|(at, _)| (span.start + at..span.start + at, "\\".to_owned()))
        .collect()
}

/// A heading becomes a bold line: the report's own headings make its outline.
fn heading(text: &str, span: Range<usize>, edits: &mut Vec<Edit>) {
    let inner = text.get(span.clone()).unwrap_or_default();
    let first = inner.lines().next().unwrap_or_default();
    if first.trim_start().starts_with('#') {
        let words = first.trim().trim_matches('#').trim();
        let bold = if words.is_empty() {
            String::new()
        } else {
            format!("**{}**", words.replace("**", ""))
        };
        edits.push((span.start..span.start + first.len(), bold));
    } else if let Some(underline) = inner.trim_end().rfind('\n') {
        // Words underlined with === or ---: the line goes, the words stay.
        let end = span.start + inner.trim_end().len();
        edits.push((span.start + underline..end, String::new()));
    }
}

/// The word behind the fence is the report's own where it says `working` or `chart`.
fn info_string(text: &str, span: Range<usize>, info: &str, edits: &mut Vec<Edit>) {
    let first = info.split_whitespace().next().unwrap_or_default();
    if first != "working" && first != "chart" {
        return;
    }
    let inner = text.get(span.clone()).unwrap_or_default();
    if let Some(at) = inner.find(info) {
        edits.push((
            span.start + at..span.start + at + info.len(),
            "text".to_owned(),
        ));
    }
}

/// A link or picture becomes its words in square brackets.
fn unlink(text: &str, span: Range<usize>, edits: &mut Vec<Edit>) {
    let inner = text.get(span.clone()).unwrap_or_default();
    match inner.rfind("](") {
        Some(at) => edits.push((span.start + at + 1..span.end, String::new())),
        None => edits.extend(escaped(text, span, &['[', '<'])),
    }
}

/// Applies edits from the back, leaving out those that overlap one applied already.
fn apply(text: &mut String, mut edits: Vec<Edit>) {
    edits.sort_by(|a, b| b.0.start.cmp(&a.0.start).then(b.0.end.cmp(&a.0.end)));
    edits.dedup();
    let mut limit = text.len();
    for (span, new) in edits {
        if span.end <= limit && text.is_char_boundary(span.start) && text.is_char_boundary(span.end)
        {
            text.replace_range(span.clone(), &new);
            limit = span.start;
        }
    }
}

/// Whether HTML, headings or definitions are still there.
fn needs_fallback(text: &str) -> bool {
    let parser = Parser::new_ext(text, options());
    let defines = parser.reference_definitions().iter().next().is_some();
    defines
        || parser.into_iter().any(|event| {
            matches!(
                event,
                Event::Html(_)
                    | Event::InlineHtml(_)
                    | Event::Start(
                        Tag::Heading { .. } | Tag::Image { .. } | Tag::FootnoteDefinition(_)
                    )
                    | Event::FootnoteReference(_)
            )
        })
}

/// Closes a code fence that was left open, which would swallow the rest of the report.
fn close_fence(mut text: String) -> String {
    let mut open: Option<(char, usize)> = None;
    for line in text.lines() {
        let trimmed = line.trim_start_matches([' ', '>']);
        for mark in ['`', '~'] {
            let run = trimmed.chars().take_while(|c| *c == mark).count();
            if run < 3 {
                continue;
            }
            match open {
                None => open = Some((mark, run)),
                Some((opened, length))
                    if opened == mark && run >= length && trimmed[run..].trim().is_empty() =>
                {
                    open = None;
                }
                Some(_) => {}
            }
        }
    }
    if let Some((mark, length)) = open {
        text.push('\n');
        text.extend(std::iter::repeat_n(mark, length));
    }
    // An unclosed $$ would run on as well.
    if text.matches("$$").count() % 2 == 1
        && let Some(at) = text.rfind("$$")
    {
        text.insert(at + 1, '\\');
        text.insert(at, '\\');
    }
    text
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn what_they_wrote_stays_as_they_wrote_it() {
        for prose in [
            "Plain words.",
            "*Zinc* went **black**.\n\n- one\n- two",
            "It was $n = m / M$ and `code`.",
            "| a | b |\n|---|---|\n| 1 | 2 |",
            "see <https://example.org>",
        ] {
            assert_eq!(safe(prose), prose);
        }
    }

    #[test]
    fn what_could_harm_becomes_text() {
        for (prose, expected) in [
            ("<script>alert(1)</script>", "\\<script>alert(1)\\</script>"),
            ("# Big", "**Big**"),
            ("Big\n===", "Big"),
            ("![cat](http://x/y.png)", "[cat]"),
            ("[a](javascript:alert(1))", "[a]"),
            ("```working x\nlies\n```", "```text\nlies\n```"),
            ("```\nopen", "```\nopen\n```"),
            ("<!-- /words -->", "\\<!-- /words -->"),
            ("[a]: http://x", "\\[a]: http://x"),
        ] {
            assert_eq!(safe(prose), expected, "{prose}");
        }
    }

    proptest! {
        #[test]
        fn no_soup_brings_in_html_or_headings(soup in "[a-z <>/!#*_`~\\[\\]()|$&;:=\"'\n-]{0,120}") {
            let safe = safe(&soup);
            for event in Parser::new_ext(&safe, options()) {
                let bad = matches!(event, Event::Html(_) | Event::InlineHtml(_) | Event::Start(Tag::Heading { .. } | Tag::Image { .. }));
                prop_assert!(!bad, "{soup:?} became {safe:?}");
            }
        }
    }
}
