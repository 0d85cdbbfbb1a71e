//! A whole file mended: slips that are known by name first, then line by line whatever is left.

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::Span;
use crate::problem::mend::edits::Mended;
use crate::problem::mend::mend;
use crate::problem::tree::Line;
use crate::problem::tree::parse;
use crate::words::Words;

/// Lines that nothing is known about are blanked one after the other, so many times.
const MOST_BLANKED: usize = 40;
/// More slips than these in one file are not listed.
const MOST_PROBLEMS: usize = 100;

/// The text of a file with its slips of typing mended, what it holds, and a problem for each slip in a language. A sound
/// file stays as it is, and is parsed once.
pub(in crate::problem) fn mended(
    source: &Source,
    words: &Words,
) -> (Mended, Vec<Line>, Vec<Problem>) {
    let (lines, error) = parse(&source.text);
    if error.is_none() {
        return (Mended::unchanged(&source.text, words), lines, Vec::new());
    }
    let (mut mended, mut problems) = mend(&source.text, words);
    let lines = blank_the_rest(&mut mended, &mut problems);
    if problems.len() > MOST_PROBLEMS {
        problems.truncate(MOST_PROBLEMS);
        problems.push(
            Problem::error(
                Code::TooManyProblems,
                words.say("there are many more slips in this file"),
            )
            .help(words.say("mend the first ones and look again")),
        );
    }
    for label in problems.iter_mut().flat_map(|problem| &mut problem.labels) {
        // A place found by the byte may lie inside a character: it means the whole one.
        let text = &source.text;
        let start = text.floor_char_boundary(label.span.start);
        label.span = start..text.ceil_char_boundary(label.span.end).max(start);
    }
    (mended, lines, problems)
}

/// Blanks the lines that are still no TOML, one after the other, until the text is TOML.
fn blank_the_rest(mended: &mut Mended, problems: &mut Vec<Problem>) -> Vec<Line> {
    let (mut lines, mut wrong) = parse(&mended.text);
    for _ in 0..MOST_BLANKED {
        let Some(error) = &wrong else {
            return lines;
        };
        let at = mended.text.floor_char_boundary(
            error
                .span()
                .map_or(0, |span| span.start)
                .min(mended.text.len()),
        );
        let Some(line) = line_to_blank(&mended.text, at) else {
            break;
        };
        let code = &mended.text[line.clone()];
        let comment = code.find(" #").unwrap_or(code.len());
        let place = line.start..line.start + code[..comment].trim_end().len();
        problems.push(
            Problem::error(Code::Syntax, mended.words.say("this line cannot be read"))
                .at(mended.back(&place), mended.words.say("here"))
                .help(
                    mended
                        .words
                        .say("every line has the form: name = \"value\""),
                ),
        );
        mended.blank(line);
        (lines, wrong) = parse(&mended.text);
    }
    if wrong.is_some() {
        problems.push(
            Problem::error(
                Code::TooManyProblems,
                mended.words.say("parts of this file cannot be read at all"),
            )
            .help(
                mended
                    .words
                    .say("start from a fresh form and type the values in again"),
            ),
        );
    }
    lines
}

/// The line at a place, without blanks in front; when it is blank, the one before it that is not.
fn line_to_blank(text: &str, at: usize) -> Option<Span> {
    let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let end = text[at..]
        .find('\n')
        .map_or(text.len(), |length| at + length);
    let line = &text[start..end];
    if line.trim().is_empty() {
        return if start == 0 {
            None
        } else {
            line_to_blank(text, start - 1)
        };
    }
    Some(start + line.len() - line.trim_start().len()..end)
}
