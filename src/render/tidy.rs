//! What is done to the Markdown of templates last: numbers for captions, no loose blank.

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
