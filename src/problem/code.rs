//! The closed list of problem codes.

/// What kind of problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Code {
    /// The file is not TOML where the caret points.
    Syntax,
}

impl Code {
    /// The code as printed and in JSON: plain words in kebab case.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Syntax => "syntax",
        }
    }
}
