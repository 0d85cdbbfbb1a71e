//! An exact ratio rounded once, to a decimal place or to significant figures.

/// What happens to a value exactly half way between two digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rounding {
    /// Away from zero: 2.675 to two places is 2.68.
    #[default]
    HalfUp,
    /// To the even digit: 2.665 to two places is 2.66.
    HalfEven,
}
