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
        unit: &'static str,
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
    /// Writes the piece as one line of Unicode text; a no-break space stands between a number and its unit.
    pub fn plain(&self, out: &mut String) {
        let mut say = |parts: &[&str]| parts.iter().for_each(|part| out.push_str(part));
        match self {
            Self::Row(parts) => parts.iter().for_each(|part| part.plain(out)),
            Self::Symbol { letter, of, index } => match (of, index) {
                (Some(of), Some(index)) => say(&[letter, "(", of, ", ", index, ")"]),
                (Some(inside), None) | (None, Some(inside)) => say(&[letter, "(", inside, ")"]),
                (None, None) => out.push_str(letter),
            },
            Self::Number(text) | Self::Words(text) => out.push_str(text),
            Self::Answer(inner) => inner.plain(out),
            Self::Unit {
                unit, substance, ..
            } if substance.is_empty() => say(&["\u{a0}", unit]),
            Self::Unit {
                unit, substance, ..
            } => say(&["\u{a0}", unit, "\u{a0}", substance]),
            Self::Fraction(above, below) => {
                above.grouped(out);
                out.push_str(" / ");
                below.grouped(out);
            }
            Self::Operator("→") => out.push_str("  →  "),
            Self::Operator(sign) => say(&[" ", sign, " "]),
            Self::Brackets(inner) => {
                out.push('(');
                inner.plain(out);
                out.push(')');
            }
        }
    }

    /// Writes the piece in brackets when a slash beside it could be read in two ways.
    fn grouped(&self, out: &mut String) {
        let compound = match self {
            Self::Row(parts) => parts
                .iter()
                .any(|part| matches!(part, Self::Operator(_) | Self::Fraction(..))),
            Self::Fraction(..) => true,
            _ => false,
        };
        if compound {
            out.push('(');
        }
        self.plain(out);
        if compound {
            out.push(')');
        }
    }
}

impl Chain {
    /// Writes the chain as lines behind those written already, aligned at the equals signs.
    pub fn plain(&self, out: &mut String) {
        let mut width = 0;
        for (place, right) in self.right.iter().enumerate() {
            out.push('\n');
            if place == 0 {
                let start = out.len();
                self.left.plain(out);
                width = out[start..].chars().count();
            } else {
                (0..width).for_each(|_| out.push(' '));
            }
            out.push_str(" = ");
            right.plain(out);
        }
    }
}
