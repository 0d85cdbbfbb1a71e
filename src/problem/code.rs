//! The closed list of problem codes.

/// What kind of problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each code is described by `Code::about`")]
pub enum Code {
    Syntax,
    MissingKey,
    UnknownKey,
    WrongShape,
    UnknownName,
    UnknownStep,
    UnitMismatch,
    MissingBefore,
    CircularFind,
    SubstanceNotInEquation,
    OddResult,
    ImpossibleResult,
}

impl Code {
    /// The code as printed and in JSON (plain words in kebab case), and what it means.
    const fn entry(self) -> (&'static str, &'static str) {
        match self {
            Self::Syntax => ("syntax", "the file is not TOML where the caret points"),
            Self::MissingKey => ("missing-key", "a line that must be there is not"),
            Self::UnknownKey => ("unknown-key", "a name this place has no use for"),
            Self::WrongShape => ("wrong-shape", "a list where a text belongs, or the like"),
            Self::UnknownName => ("unknown-name", "an expression names nothing known"),
            Self::UnknownStep => ("unknown-step", "no such step in this lab"),
            Self::UnitMismatch => ("unit-mismatch", "units that do not go together"),
            Self::MissingBefore => ("missing-before", "a reactant without an amount"),
            Self::CircularFind => ("circular-find", "a quantity that needs its own value"),
            Self::SubstanceNotInEquation => (
                "substance-not-in-equation",
                "a substance the equation does not have",
            ),
            Self::OddResult => ("odd-result", "a result that few experiments give"),
            Self::ImpossibleResult => ("impossible-result", "a result that no experiment gives"),
        }
    }

    /// The code as printed and in JSON: plain words in kebab case.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        self.entry().0
    }

    /// What it means, in a few words.
    #[must_use]
    pub const fn about(self) -> &'static str {
        self.entry().1
    }
}
