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
