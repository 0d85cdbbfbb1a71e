//! Which digits of a result the readings defend: decimals for sums, figures for products.
//!
//! Source: the propagation rules of introductory texts (OpenStax Chemistry 2e, section 1.5).

use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Rounding;
use crate::measure::rounding;

/// How far the digits of a value can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figures {
    /// A count, a coefficient, the factor 100: limits nothing.
    Exact,
    /// The last trusted digit stands this many places after the decimal mark (negative: tens, …).
    Places(i32),
    /// This many significant figures are trusted, wherever rounding puts the first one.
    Significant(i32),
}

impl Figures {
    /// The figures of a number as written.
    #[must_use]
    pub const fn of(number: Decimal) -> Self {
        Self::Places(number.places())
    }

    /// The number of significant figures of a value; `None` for an exact one.
    ///
    /// A measured zero has none; one is counted, so that products keep a digit.
    #[must_use]
    pub fn significant(self, value: &Exact) -> Option<i32> {
        match self {
            Self::Exact => None,
            Self::Significant(figures) => Some(figures),
            Self::Places(_) if value.is_zero() => Some(1),
            Self::Places(places) => Some((rounding::exponent(value) + 1 + places).max(1)),
        }
    }

    /// The place of the last trusted digit of a value; `None` for an exact one.
    #[must_use]
    pub fn places(self, value: &Exact) -> Option<i32> {
        match self {
            Self::Exact => None,
            Self::Places(places) => Some(places),
            // Nothing has no first figure to count from: it says of no place that it is the last.
            Self::Significant(_) if value.is_zero() => None,
            Self::Significant(figures) => Some(figures - 1 - rounding::exponent(value)),
        }
    }

    /// The figures of a sum or difference: the fewest decimals of its terms.
    #[must_use]
    pub fn sum<'e>(terms: impl IntoIterator<Item = (Self, &'e Exact)>) -> Self {
        let places = terms
            .into_iter()
            .filter_map(|(figures, value)| figures.places(value))
            .min();
        places.map_or(Self::Exact, Self::Places)
    }

    /// The figures of a product or quotient: the fewest significant figures of its factors.
    #[must_use]
    pub fn product(factors: &[(Self, &Exact)]) -> Self {
        let figures = factors
            .iter()
            .filter_map(|(figures, value)| figures.significant(value))
            .min();
        figures.map_or(Self::Exact, Self::Significant)
    }

    /// The figures of the same value in a unit ten to the `power` times smaller.
    #[must_use]
    pub const fn shifted(self, power: i32) -> Self {
        match self {
            Self::Places(places) => Self::Places(places - power),
            other => other,
        }
    }

    /// A value with the digits it defends and `guard` more; an exact one with six figures at most.
    #[must_use]
    pub fn write(self, value: &Exact, guard: i32, rule: Rounding) -> Decimal {
        match self {
            Self::Exact => shortest(value, rule),
            Self::Places(places) => rounding::to_places(value, places + guard, rule),
            Self::Significant(_) if value.is_zero() => Decimal::new(0, 0),
            Self::Significant(figures) => rounding::to_figures(value, figures + guard, rule),
        }
    }
}

/// An exact value without trailing zeros, six significant figures at most.
fn shortest(value: &Exact, rule: Rounding) -> Decimal {
    if value.is_integer() && rounding::exponent(value) < 9 {
        return rounding::to_places(value, 0, rule);
    }
    let mut rounded = rounding::to_figures(value, 6, rule);
    while rounded.places() > 0 && rounded.coefficient() % 10 == 0 {
        rounded = Decimal::new(rounded.coefficient() / 10, rounded.places() - 1);
    }
    rounded
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(text: &str) -> (Figures, Exact) {
        let decimal = Decimal::parse(text).unwrap();
        (Figures::of(decimal), decimal.to_exact())
    }

    #[test]
    #[expect(
        clippy::many_single_char_names,
        reason = "two sums and two products, a letter each"
    )]
    fn sums_keep_the_fewest_decimals_and_products_the_fewest_figures() {
        let (a, x) = number("1.0023");
        let (b, y) = number("4.383");
        let sum = Figures::sum([(a, &x), (b, &y)]);
        assert_eq!(
            sum.write(&(&x + &y), 0, Rounding::HalfUp).to_string(),
            "5.385"
        );
        let (c, z) = number("0.6238");
        let (d, w) = number("6.6");
        let product = Figures::product(&[(c, &z), (d, &w)]);
        assert_eq!(
            product.write(&(z * w), 0, Rounding::HalfUp).to_string(),
            "4.1"
        );
    }

    #[test]
    fn a_carry_does_not_add_a_figure_to_a_product() {
        let value = Decimal::parse("9.996").unwrap().to_exact();
        assert_eq!(
            Figures::Significant(3)
                .write(&value, 0, Rounding::HalfUp)
                .to_string(),
            "10.0"
        );
        assert_eq!(
            Figures::Significant(3)
                .write(&value, 1, Rounding::HalfUp)
                .to_string(),
            "9.996"
        );
        assert_eq!(
            Figures::Places(2)
                .write(&value, 0, Rounding::HalfUp)
                .to_string(),
            "10.00"
        );
    }

    #[test]
    fn nothing_times_something_is_nothing_and_limits_no_sum() {
        let (none, zero) = (Figures::Significant(1), Exact::zero());
        assert_eq!(none.write(&zero, 1, Rounding::HalfUp).to_string(), "0");
        let (a, x) = (Figures::Significant(1), Exact::new(72, 1_000_000));
        let sum = Figures::sum([(a, &x), (none, &zero)]);
        assert_eq!(sum.write(&x, 1, Rounding::HalfUp).to_string(), "0.000072");
    }

    #[test]
    fn exact_values_are_short() {
        let half = Exact::new(1, 2);
        assert_eq!(
            Figures::Exact.write(&half, 0, Rounding::HalfUp).to_string(),
            "0.5"
        );
        assert_eq!(
            Figures::Exact
                .write(&Exact::from_integer(5), 1, Rounding::HalfUp)
                .to_string(),
            "5"
        );
    }
}
