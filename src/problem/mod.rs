//! What is wrong with a file, where, and what to do next: data first, words second, printing last.

pub mod code;
pub mod document;
mod mend;
pub mod print;
pub mod source;
pub mod suggest;
mod tree;

pub use code::Code;
pub use source::Source;
pub use source::Span;

/// How serious a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Something to know; changes no exit status.
    Note,
    /// Odd, may be true; the value is used.
    Warning,
    /// Wrong; what depends on it waits.
    Error,
}

/// One problem of one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// How serious.
    pub severity: Severity,
    /// What kind, from a closed list.
    pub code: Code,
    /// The fault in one plain sentence.
    pub message: String,
    /// Where: the first is the place the caret points at.
    pub labels: Vec<Label>,
    /// One next step.
    pub help: Option<String>,
}

/// A place in a file with a few words beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Bytes of the source text.
    pub span: Span,
    /// Words beside the caret.
    pub text: String,
}

impl Problem {
    /// An error.
    #[must_use]
    pub fn error(code: Code, message: impl Into<String>) -> Self {
        Self::new(Severity::Error, code, message)
    }

    /// A warning.
    #[must_use]
    pub fn warning(code: Code, message: impl Into<String>) -> Self {
        Self::new(Severity::Warning, code, message)
    }

    /// A note.
    #[must_use]
    pub fn note(code: Code, message: impl Into<String>) -> Self {
        Self::new(Severity::Note, code, message)
    }

    fn new(severity: Severity, code: Code, message: impl Into<String>) -> Self {
        Self {
            severity,
            code,
            message: message.into(),
            labels: Vec::new(),
            help: None,
        }
    }

    /// The problem with one more place.
    #[must_use]
    pub fn at(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label {
            span,
            text: text.into(),
        });
        self
    }

    /// The problem with its next step.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help = Some(text.into());
        self
    }
}

/// Whether any of the problems is an error.
#[must_use]
pub fn any_error(problems: &[Problem]) -> bool {
    problems
        .iter()
        .any(|problem| problem.severity == Severity::Error)
}
