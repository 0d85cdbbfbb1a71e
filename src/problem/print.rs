//! Problems as text with the line quoted and a caret, for the terminal.

use annotate_snippets::AnnotationKind;
use annotate_snippets::Group;
use annotate_snippets::Level;
use annotate_snippets::Renderer;
use annotate_snippets::Snippet;

use crate::problem::Problem;
use crate::problem::Severity;
use crate::problem::Source;
use crate::problem::Span;

/// All problems of a file in order of place, errors with the line quoted; ANSI colours when asked for.
#[must_use]
pub fn print(source: &Source, problems: &[Problem], colour: bool) -> String {
    let renderer = if colour {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let mut sorted: Vec<&Problem> = problems.iter().collect();
    sorted.sort_by_key(|problem| problem.labels.first().map_or(0, |label| label.span.start));
    let mut text = String::new();
    for problem in sorted {
        text.push_str(&renderer.render(&groups(source, problem)));
        text.push_str("\n\n");
    }
    text
}

fn groups<'p>(source: &'p Source, problem: &'p Problem) -> Vec<Group<'p>> {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = level
        .primary_title(&problem.message)
        .id(problem.code.as_str());
    let mut snippet = Snippet::source(&source.text).path(&source.name);
    for (place, label) in problem.labels.iter().enumerate() {
        let kind = if place == 0 {
            AnnotationKind::Primary
        } else {
            AnnotationKind::Context
        };
        snippet = snippet.annotation(
            kind.span(clamp(&source.text, &label.span))
                .label(&label.text),
        );
    }
    let mut groups = vec![title.element(snippet)];
    if problem.labels.is_empty() {
        groups = vec![level_only(problem)];
    }
    if let Some(help) = &problem.help {
        groups.push(Group::with_title(Level::HELP.secondary_title(help)));
    }
    groups
}

/// A problem of the whole file.
fn level_only(problem: &Problem) -> Group<'_> {
    let level = if problem.severity == Severity::Error {
        Level::ERROR
    } else {
        Level::WARNING
    };
    Group::with_title(
        level
            .primary_title(&problem.message)
            .id(problem.code.as_str()),
    )
}

/// A span that lies within the text on character boundaries, which the printer insists on.
fn clamp(text: &str, span: &Span) -> Span {
    let end = text.floor_char_boundary(span.end.min(text.len()));
    text.floor_char_boundary(span.start.min(end))..end
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
