//! Problems as text with the line quoted and a caret, for the terminal.

use annotate_snippets::Annotation;
use annotate_snippets::AnnotationKind;
use annotate_snippets::Group;
use annotate_snippets::Level;
use annotate_snippets::Origin;
use annotate_snippets::Renderer;
use annotate_snippets::Snippet;

use crate::problem::Label;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::problem::Source;
use crate::problem::Span;
use crate::words::Words;

/// All problems of a file in order of place, errors with the line quoted; ANSI colours when asked for. The words
/// around them are English.
#[must_use]
pub fn print(source: &Source, problems: &[Problem], colour: bool) -> String {
    print_in(source, problems, &Words::english(), colour)
}

/// All problems of a file as [`print()`] shows them, with the words around them in the language that the problems are told in.
#[must_use]
pub fn print_in(source: &Source, problems: &[Problem], words: &Words, colour: bool) -> String {
    let renderer = if colour {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let mut sorted: Vec<&Problem> = problems.iter().collect();
    sorted.sort_by_key(|problem| problem.labels.first().map_or(0, |label| label.span.start));
    let lines = Lines::of(&source.text);
    let mut text = String::new();
    for problem in sorted {
        text.push_str(&renderer.render(&groups(source, &lines, problem, words)));
        text.push_str("\n\n");
    }
    text
}

/// One problem: its sentence, the lines, and the next step.
fn groups<'p>(
    source: &'p Source,
    lines: &Lines,
    problem: &'p Problem,
    words: &'p Words,
) -> Vec<Group<'p>> {
    let level = match problem.severity {
        Severity::Error => Level::ERROR.with_name(words.say("error")),
        Severity::Warning => Level::WARNING.with_name(words.say("warning")),
        Severity::Note => Level::NOTE.with_name(words.say("note")),
    };
    let title = Group::with_title(
        level
            .primary_title(&problem.message)
            .id(problem.code.as_str()),
    );
    let mut groups = vec![if problem.labels.is_empty() {
        title.element(Origin::path(&source.name))
    } else {
        title.element(excerpt(source, lines, &problem.labels))
    }];
    if let Some(help) = &problem.help {
        let level = Level::HELP.with_name(words.say("help"));
        groups.push(Group::with_title(level.secondary_title(help)));
    }
    groups
}

/// The lines that the labels point into: the printer walks all the text it is given.
fn excerpt<'s>(
    source: &'s Source,
    lines: &Lines,
    labels: &'s [Label],
) -> Snippet<'s, Annotation<'s>> {
    let spans: Vec<Span> = labels
        .iter()
        .map(|label| printable(&source.text, &label.span))
        .collect();
    let first = spans.iter().map(|span| span.start).min().unwrap_or(0);
    let last = spans.iter().map(|span| span.end).max().unwrap_or(0);
    let line = lines.number(first);
    let from = lines.starts[line];
    let to = source.text[last..]
        .find('\n')
        .map_or(source.text.len(), |end| last + end);
    let annotations = spans
        .into_iter()
        .zip(labels)
        .enumerate()
        .map(|(index, (span, label))| {
            let kind = if index == 0 {
                AnnotationKind::Primary
            } else {
                AnnotationKind::Context
            };
            kind.span(span.start - from..span.end - from)
                .label(label.text.as_str())
        });
    Snippet::source(&source.text[from..to])
        .path(&source.name)
        .line_start(line + 1)
        .annotations(annotations)
}

/// A span on character boundaries of one line of the text: the printer insists on the first, and a caret under
/// many lines helps nobody.
fn printable(text: &str, span: &Span) -> Span {
    let end = text.floor_char_boundary(span.end.min(text.len()));
    let start = text.floor_char_boundary(span.start.min(end));
    let line_end = text[start..end]
        .find(['\n', '\r'])
        .map_or(end, |length| start + length);
    start..line_end
}

/// Where the lines of a text start.
struct Lines {
    starts: Vec<usize>,
}

impl Lines {
    /// Finds the lines of a text.
    fn of(text: &str) -> Self {
        Self {
            starts: std::iter::once(0)
                .chain(text.match_indices('\n').map(|(at, _)| at + 1))
                .collect(),
        }
    }

    /// The number, from 0, of the line with a byte.
    fn number(&self, offset: usize) -> usize {
        self.starts
            .partition_point(|start| *start <= offset)
            .saturating_sub(1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Code;

    #[test]
    fn line_caret_and_help_are_printed() {
        let source = Source {
            name: "3-07.toml".to_owned(),
            text: "a = 1\nwäge = \"水\"\n".to_owned(),
        };
        let problem = Problem::error(Code::UnknownReading, "no such reading")
            .at(6..11, "not known")
            .help("did you mean it?");
        let text = print(&source, &[problem], false);
        for part in [
            "error[unknown-reading]: no such reading",
            "3-07.toml:2:1",
            "^^^^ not known",
            "did you mean it?",
        ] {
            assert!(text.contains(part), "{part} is not in\n{text}");
        }
    }

    #[test]
    fn no_span_is_too_wild() {
        let source = Source {
            name: "x".to_owned(),
            text: "水\r\nb".to_owned(),
        };
        for start in 0..8 {
            for end in 0..8 {
                let problem = Problem::warning(Code::Syntax, "x").at(start..end, "y");
                assert!(!print(&source, &[problem], true).is_empty());
            }
        }
    }
}
