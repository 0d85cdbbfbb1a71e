//! What is not TOML, said in plain sentences; the faulty line is blanked out and the rest still read.

use toml::de::DeTable;

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::Span;

/// How many faulty lines a file may have before the reader gives up.
const MOST_FAULTS: usize = 200;

/// A copy of the source in which every faulty line is blank, and a problem for each; offsets stay the same.
pub(super) fn repair(source: &Source) -> (Source, Vec<Problem>) {
    let mut repaired = source.clone();
    let mut problems = Vec::new();
    for _ in 0..MOST_FAULTS {
        let (_, errors) = DeTable::parse_recoverable(&repaired.text);
        // The parser may find several; after the first repair the others often vanish.
        let Some(error) = errors.first() else {
            return (repaired, problems);
        };
        let place = error.span().unwrap_or(0..0);
        let (problem, line) = explain(source, &repaired, &place, error.message());
        problems.push(problem);
        let before = repaired.text.clone();
        blank(&mut repaired.text, line);
        if repaired.text == before {
            // Nothing left to blank there: give up on the file rather than go round in circles.
            repaired.text = " ".repeat(source.text.len());
            return (repaired, problems);
        }
    }
    repaired.text = " ".repeat(source.text.len());
    (repaired, problems)
}

/// Fills a range with spaces, keeping the line ends.
fn blank(text: &mut String, range: Span) {
    let filled: String = text[range.clone()]
        .chars()
        .map(|c| {
            if c == '\n' || c == '\r' {
                c.to_string()
            } else {
                " ".repeat(c.len_utf8())
            }
        })
        .collect();
    text.replace_range(range, &filled);
}

/// The line that holds a byte, without its line end.
fn line_around(text: &str, at: usize) -> Span {
    let at = text.floor_char_boundary(at.min(text.len()));
    let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let end = text[at..].find('\n').map_or(text.len(), |end| at + end);
    start..end
}

/// One fault in a plain sentence, and the range to blank.
fn explain(source: &Source, repaired: &Source, place: &Span, message: &str) -> (Problem, Span) {
    let text = &repaired.text;
    if message.contains("duplicate key") {
        return doubled(source, place);
    }
    let mut line = line_around(text, place.start);
    // An error at the very start of a line is often about the one before: a value or quote that never ended.
    if text[line.clone()].trim().is_empty() && line.start > 0 {
        line = line_around(text, line.start - 1);
    }
    let written = &text[line.clone()];
    let code_end = written.find('#').unwrap_or(written.len());
    let code = written[..code_end].trim();
    let caret = line.start + (written.len() - written.trim_start().len())
        ..line.start + written.trim_end().len().max(1).min(written.len());
    let say = |code, message: String, span: Span, label: &str, help: String| {
        (
            Problem::error(code, message).at(span, label).help(help),
            line.clone(),
        )
    };
    if let Some(open) = unclosed_prose(text, place, message) {
        let opening = line_around(text, open);
        return (
            Problem::error(
                Code::MissingQuote,
                "a text begins here with three quote marks and never ends",
            )
            .at(open..open + 3, "opened here")
            .help("put ''' on a line of its own where the text ends"),
            opening.start..text.len(),
        );
    }
    if let Some(at) = written
        .find(['“', '”', '„', '‘', '’'])
        .filter(|_| !code.contains('"') || code.matches('"').count() % 2 == 1)
    {
        let start = line.start + at;
        let length = written[at..].chars().next().map_or(1, char::len_utf8);
        return say(
            Code::CurlyQuotes,
            "these are curly quote marks; the file needs straight ones".to_owned(),
            start..start + length,
            "curly",
            format!("type the line as: {}", straightened(code)),
        );
    }
    if code.starts_with('[') && !code.contains('=') {
        return say(
            Code::Syntax,
            "this section name is not complete".to_owned(),
            caret,
            "here",
            "write it as [day.1], with both square brackets".to_owned(),
        );
    }
    let Some((name, value)) = code.split_once('=') else {
        if let Some((name, value)) = code
            .split_once(':')
            .filter(|(name, _)| is_name(name.trim()))
        {
            let at = line.start + written.find(':').unwrap_or(0);
            let help = format!("write it as: {} = {}", name.trim(), quoted(value.trim()));
            return say(
                Code::MissingEquals,
                "there is a colon where the equals sign belongs".to_owned(),
                at..at + 1,
                "should be =",
                help,
            );
        }
        let first = code.split([' ', '"', '\'']).next().unwrap_or_default();
        if is_name(first) && code.len() > first.len() {
            let help = format!(
                "write it as: {first} = {}",
                quoted(code[first.len()..].trim())
            );
            return say(
                Code::MissingEquals,
                "the equals sign is missing".to_owned(),
                caret,
                "no = in this line",
                help,
            );
        }
        let help = "texts stand between quote marks behind a name and an equals sign; longer texts between ''' and '''".to_owned();
        return say(
            Code::Syntax,
            "this line is not of the form name = \"…\"".to_owned(),
            caret,
            "not understood",
            help,
        );
    };
    let (name, value) = (name.trim(), value.trim());
    let start = line.start + written.find('=').unwrap_or(0) + 1;
    let value_at = start + (text[start..line.end].len() - text[start..line.end].trim_start().len());
    let value_span = value_at..(value_at + value.len().max(1)).min(line.end.max(value_at));
    if !is_name(name) {
        return say(
            Code::Syntax,
            format!("“{name}” cannot be a name"),
            caret,
            "here",
            "names are the ones the form came with, without spaces".to_owned(),
        );
    }
    if value.is_empty() {
        let help = format!("write {name} = \"\" until you have the reading");
        return say(
            Code::BareValue,
            format!("nothing stands behind {name} ="),
            value_span,
            "empty",
            help,
        );
    }
    if value.contains('\\') && value.starts_with('"') {
        let help = format!("leave the backslash out, or use single quote marks: {name} = '…'");
        return say(
            Code::Syntax,
            "a backslash cannot stand between these quote marks".to_owned(),
            value_span,
            "here",
            help,
        );
    }
    let marks = value.matches('"').count();
    if marks % 2 == 1 || (value.starts_with('\'') && value.matches('\'').count() % 2 == 1) {
        let help = format!("write it as: {name} = {}", quoted(value));
        return say(
            Code::MissingQuote,
            "a quote mark is missing in this line".to_owned(),
            value_span,
            "one quote mark too few",
            help,
        );
    }
    if marks == 0 && !value.starts_with(['[', '\'']) {
        let help = format!("write it as: {name} = {}", quoted(value));
        return say(
            Code::BareValue,
            "the value stands outside quote marks".to_owned(),
            value_span,
            "no quote marks",
            help,
        );
    }
    let help = if value.starts_with('[') {
        format!("write a list as: {name} = [\"105.70 g\", \"105.68 g\"]")
    } else {
        format!("keep one value between one pair of quote marks: {name} = \"…\"")
    };
    say(
        Code::Syntax,
        "something in this line does not belong there".to_owned(),
        value_span,
        "not understood",
        help,
    )
}

/// Where a ''' text that never ends was opened, if the error is about one.
fn unclosed_prose(text: &str, place: &Span, message: &str) -> Option<usize> {
    if !message.contains("multi-line")
        && !message.contains("multiline")
        && !message.contains("'''")
        && !message.contains("\"\"\"")
    {
        return None;
    }
    let before =
        &text[..text.floor_char_boundary((place.end.max(place.start + 3)).min(text.len()))];
    before.rfind("'''").or_else(|| before.rfind("\"\"\""))
}

/// Two lines of one name.
fn doubled(source: &Source, place: &Span) -> (Problem, Span) {
    let key = source.text.get(place.clone()).unwrap_or_default();
    let line = line_around(&source.text, place.start);
    let section_start = source.text[..line.start]
        .rfind("\n[")
        .map_or(0, |at| at + 1);
    let mut offset = section_start;
    let mut first = None;
    for written in source.text[section_start..line.start].split_inclusive('\n') {
        if written
            .split('=')
            .next()
            .is_some_and(|name| name.trim() == key)
        {
            first = Some(offset..offset + key.len());
            break;
        }
        offset += written.len();
    }
    let is_section = source.text[line.clone()].trim_start().starts_with('[');
    let message = if is_section {
        format!("you have two sections called {key}")
    } else {
        format!("you have two lines called {key}")
    };
    let mut problem = Problem::error(Code::DoubledKey, message).at(place.clone(), "again here");
    if let Some(first) = first {
        problem = problem.at(first, "first here");
    }
    (problem.help("keep one of them; the first is used"), line)
}

/// Whether a text could be a name of the form.
fn is_name(text: &str) -> bool {
    !text.is_empty()
        && text
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || b == b'_' || b == b'-' || b == b'.')
}

/// A value between straight quote marks, its own marks and stray ones taken off.
fn quoted(value: &str) -> String {
    let inner = value.trim_matches(|c: char| c.is_whitespace() || "\"'“”„‘’".contains(c));
    format!("\"{inner}\"")
}

/// A line with straight quote marks.
fn straightened(line: &str) -> String {
    line.chars()
        .map(|c| {
            if "“”„".contains(c) {
                '"'
            } else if "‘’".contains(c) {
                '\''
            } else {
                c
            }
        })
        .collect()
}
