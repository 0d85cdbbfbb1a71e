//! A line of worked mathematics as data: written as plain Unicode text or as MathML.

/// A piece of a formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Math {
    /// Pieces in a row.
    Row(Vec<Math>),
    /// A quantity symbol with what it is of: `n` of `CuSO₄`, `M` of `Cu`, `Y` of nothing.
    Symbol {
        /// `n`, `m`, `M`, `V`, `c`, `Y`.
        letter: &'static str,
        /// `CuSO₄`.
        of: Option<String>,
        /// A few words as an index: `left`, `theory`.
        index: Option<String>,
    },
    /// A number already rounded: `0.02411`.
    Number(String),
    /// The answer's number and unit: the one bold thing.
    Answer(Box<Math>),
    /// A unit with its substance, `g Cu`; a space stands before it.
    Unit {
        /// `g`.
        unit: String,
        /// `Cu`; empty for none.
        substance: String,
        /// Whether it cancels in this line and is struck out.
        struck: bool,
    },
    /// A fraction.
    Fraction(Box<Math>, Box<Math>),
    /// An operator with its spaces: `+`, `−`, `×`, `=`, `→`, `:`.
    Operator(&'static str),
    /// Something in round brackets.
    Brackets(Box<Math>),
    /// Upright words: a reading's label, `smallest of`.
    Words(String),
}

/// One worked chain: `left = first = second → rounded`, aligned at the equals signs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chain {
    /// What is found: `m(Cu)`.
    pub left: Math,
    /// The right-hand sides, one line each.
    pub right: Vec<Math>,
}

impl Math {
    /// The piece as one line of Unicode text; a no-break space stands between a number and its unit.
    #[must_use]
    pub fn plain(&self) -> String {
        match self {
            Self::Row(parts) => parts.iter().map(Self::plain).collect(),
            Self::Symbol { letter, of, index } => match (of, index) {
                (Some(of), Some(index)) => format!("{letter}({of}, {index})"),
                (Some(of), None) => format!("{letter}({of})"),
                (None, Some(index)) => format!("{letter}({index})"),
                (None, None) => (*letter).to_owned(),
            },
            Self::Number(number) => number.clone(),
            Self::Answer(inner) => inner.plain(),
            Self::Unit {
                unit, substance, ..
            } if substance.is_empty() => format!("\u{a0}{unit}"),
            Self::Unit {
                unit, substance, ..
            } => format!("\u{a0}{unit}\u{a0}{substance}"),
            Self::Fraction(above, below) => format!("{} / {}", above.grouped(), below.grouped()),
            Self::Operator("→") => "  →  ".to_owned(),
            Self::Operator(sign) => format!(" {sign} "),
            Self::Brackets(inner) => format!("({})", inner.plain()),
            Self::Words(words) => words.clone(),
        }
    }

    /// The piece in brackets when a slash beside it could be read in two ways.
    fn grouped(&self) -> String {
        let compound = match self {
            Self::Row(parts) => parts
                .iter()
                .any(|part| matches!(part, Self::Operator(_) | Self::Fraction(..))),
            Self::Fraction(..) => true,
            _ => false,
        };
        if compound {
            format!("({})", self.plain())
        } else {
            self.plain()
        }
    }
}

impl Chain {
    /// The chain as lines, aligned at the equals signs.
    #[must_use]
    pub fn plain(&self) -> Vec<String> {
        let left = self.left.plain();
        let width = left.chars().count();
        let lines = self.right.iter().enumerate();
        lines
            .map(|(place, right)| {
                let start = if place == 0 {
                    left.clone()
                } else {
                    " ".repeat(width)
                };
                format!("{start} = {}", right.plain())
            })
            .collect()
    }
}
