//! What is written on by hand: boxes for digits, lines for words, room for sentences, and several sheets bound together.

use super::escape;
use super::escape::html;
use crate::report::bench_sheet::BOX;
use crate::say;
use crate::words::Words;

/// The shortest run of `_` that is a line to write on.
const SHORTEST_LINE: usize = 4;

/// Text of a sheet for HTML: runs of □, with the marks between them, become boxes, and runs of `_` lines to write on.
pub(super) fn marks(text: &str, words: &Words) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut rest = text;
    while let Some(at) = rest.find([BOX, '_']) {
        let (before, from) = rest.split_at(at);
        out.push_str(&html(before));
        let length = if from.starts_with(BOX) {
            let run = run_of_boxes(from);
            let unit = unit_behind(&from[run..]);
            out.push_str("<span class=\"together\">");
            out.push_str(&boxes(&from[..run], words));
            out.push_str(&html(&from[run..run + unit]));
            out.push_str("</span>");
            run + unit
        } else {
            let run = from.bytes().take_while(|byte| *byte == b'_').count();
            if run < SHORTEST_LINE {
                out.push_str(&from[..run]);
            } else {
                // The style sheet knows three lengths.
                let length = match run {
                    0..=8 => "short",
                    9..=16 => "middle",
                    _ => "long",
                };
                out.push_str(&format!(
                    "<span class=\"line {length}\" role=\"img\" aria-label=\"{}\"></span>",
                    words.say("room to write")
                ));
            }
            run
        };
        rest = &from[length..];
    }
    out + &html(rest)
}

/// Bytes of a run of boxes; a point, a comma or a colon belongs to it only between two boxes.
fn run_of_boxes(text: &str) -> usize {
    let mut end = 0;
    let mut mark = 0;
    for c in text.chars() {
        match c {
            BOX => {
                end += mark + c.len_utf8();
                mark = 0;
            }
            '.' | ',' | ':' if mark == 0 => mark = 1,
            _ => break,
        }
    }
    end
}

/// Bytes of the unit behind a run of boxes, which a no-break space alone would not hold there.
fn unit_behind(text: &str) -> usize {
    let Some(unit) = text.strip_prefix('\u{a0}') else {
        return 0;
    };
    let end = unit.find([' ', '\u{a0}', BOX]).unwrap_or(unit.len());
    text.len() - unit.len() + end
}

/// A run of boxes, named by how many there are.
fn boxes(run: &str, words: &Words) -> String {
    let counts: Vec<usize> = run
        .split(['.', ',', ':'])
        .map(|part| part.chars().count())
        .collect();
    let name = match counts[..] {
        [1] => say!(words, "box to tick"),
        [whole] => say!(words, "boxes for {whole} digits", whole = whole),
        [whole, behind] if run.contains(':') => {
            say!(
                words,
                "boxes for a time: {whole} and {behind} digits",
                whole = whole,
                behind = behind
            )
        }
        [whole, behind] => {
            say!(
                words,
                "boxes for {whole} digits, the decimal point, and {behind} digits",
                whole = whole,
                behind = behind
            )
        }
        _ => say!(words, "boxes for digits"),
    };
    let mut out = format!("<span class=\"boxes\" role=\"img\" aria-label=\"{name}\">");
    for c in run.chars() {
        out.push_str(&match c {
            BOX => "<span class=\"box\"></span>".to_owned(),
            mark => format!("<span class=\"point\">{mark}</span>"),
        });
    }
    out.push_str("</span>");
    out
}

/// A block of so many lines, for Markdown.
pub(super) fn room(lines: u32) -> String {
    let line = "_".repeat(72);
    let lines: Vec<&str> = (0..lines).map(|_| line.as_str()).collect();
    format!("```room\n{}\n```\n", lines.join("\n"))
}

/// The same as ruled lines of the page.
pub(super) fn ruled(lines: usize, words: &Words) -> String {
    format!(
        "<div class=\"room\" role=\"img\" aria-label=\"{}\">{}</div>\n",
        say!(words, "room to write, {lines} lines", lines = lines),
        "<div class=\"rule\"></div>".repeat(lines)
    )
}

/// Where a part of a sheet begins or ends.
pub(super) enum Edge {
    /// It begins, and is called so.
    Start(&'static str),
    /// It ends.
    End,
}

/// The edge of a part that a comment marks: `keep` stays on one sheet of paper, `screen` is not printed.
pub(super) fn part(comment: &str) -> Option<Edge> {
    match comment {
        "<!-- keep -->" => Some(Edge::Start("keep")),
        "<!-- screen -->" => Some(Edge::Start("screen")),
        "<!-- /keep -->" | "<!-- /screen -->" => Some(Edge::End),
        _ => None,
    }
}

/// Sheets as one document under a title that is not printed, each on a sheet of paper of its own.
#[must_use]
pub fn bound(title: &str, sheets: &[String]) -> String {
    let mut out = format!(
        "<!-- screen -->\n\n# {}\n\n<!-- /screen -->\n",
        escape::markdown(title)
    );
    for (place, sheet) in sheets.iter().enumerate() {
        if place > 0 {
            out.push_str("\n---\n");
        }
        out.push('\n');
        let mut fenced = false;
        for line in sheet.lines() {
            fenced ^= line.starts_with("```");
            // The sheets' headings stand under the common one.
            if line.starts_with('#') && !fenced {
                out.push('#');
            }
            out.push_str(line);
            out.push('\n');
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_and_lines_are_drawn_and_other_text_is_not() {
        let drawn = marks("□□.□\u{a0}g at □□:□□.", &Words::english());
        assert_eq!(drawn.matches("class=\"box\"").count(), 7);
        assert_eq!(drawn.matches("class=\"point\"").count(), 2);
        assert!(drawn.contains("</span>\u{a0}g</span> at <span"), "{drawn}");
        assert!(drawn.ends_with("</span>."), "{drawn}");
        assert_eq!(marks("a_b __ <", &Words::english()), "a_b __ &lt;");
        assert!(marks("____", &Words::english()).contains("class=\"line short\""));
        let german = marks("□□,□\u{a0}g", &Words::of("de").expect("German"));
        assert_eq!(german.matches("class=\"box\"").count(), 3);
        assert!(
            german.contains("aria-label=\"Kästchen für Ziffern: 2 vor und 1 nach dem Komma\""),
            "{german}"
        );
    }

    #[test]
    fn bound_sheets_stand_under_one_title() {
        let sheets = ["# A\n\n```room\n#\n```\n\n## B\n", "# C\n"].map(str::to_owned);
        let bound = bound("All *of* them", &sheets);
        assert_eq!(
            bound,
            "<!-- screen -->\n\n# All \\*of\\* them\n\n<!-- /screen -->\n\n## A\n\n```room\n#\n```\n\n### B\n\n---\n\n## C\n"
        );
    }
}
