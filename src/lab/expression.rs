//! The small language of `before`, `after`, `used` and `find`: names, numbers, `+ - * / ( )` and `M(formula)`.

use crate::chem::Formula;
use crate::measure::Decimal;
use crate::problem::Span;

/// An expression as written, parsed. Spans are bytes of the whole lab description.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Term {
    /// A reading, a given or a step; which one, the plan decides.
    Name(String, Span),
    /// A plain number, exact.
    Number(Decimal, Span),
    /// The molar mass of a formula.
    MolarMass(Formula, Span),
    /// `-x`
    Negative(Box<Term>, Span),
    /// Two terms and the sign between them.
    Binary {
        /// The sign.
        sign: Sign,
        /// Left of it.
        left: Box<Term>,
        /// Right of it.
        right: Box<Term>,
        /// Both with the sign.
        span: Span,
    },
}

/// The sign between two terms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `*`
    Times,
    /// `/`
    Over,
}

impl Term {
    /// The bytes it was written in.
    #[must_use]
    pub fn span(&self) -> Span {
        match self {
            Self::Name(_, span)
            | Self::Number(_, span)
            | Self::MolarMass(_, span)
            | Self::Negative(_, span)
            | Self::Binary { span, .. } => span.clone(),
        }
    }

    /// Every name in it, in order of appearance.
    #[must_use]
    pub fn names(&self) -> Vec<(&str, Span)> {
        match self {
            Self::Name(name, span) => vec![(name, span.clone())],
            Self::Number(..) | Self::MolarMass(..) => Vec::new(),
            Self::Negative(inner, _) => inner.names(),
            Self::Binary { left, right, .. } => {
                let mut names = left.names();
                names.extend(right.names());
                names
            }
        }
    }
}
