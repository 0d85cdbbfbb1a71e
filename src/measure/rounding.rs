//! An exact ratio rounded once, to a decimal place or to significant figures.

use std::cmp::Ordering;

use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::Pow;
use num_traits::Signed;
use num_traits::ToPrimitive;

use crate::measure::Decimal;
use crate::measure::Exact;

/// What happens to a value exactly half way between two digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rounding {
    /// Away from zero: 2.675 to two places is 2.68.
    #[default]
    HalfUp,
    /// To the even digit: 2.665 to two places is 2.66.
    HalfEven,
}

/// Digits kept at most when a value is so large that the places asked for cannot be written.
const WIDEST: i32 = 30;

const TEN: u128 = 10;

/// The value rounded to a number of decimal places; negative places round to tens, hundreds, ….
#[must_use]
pub fn to_places(value: &Exact, places: i32, rounding: Rounding) -> Decimal {
    match scaled(value, places, rounding) {
        Some(coefficient) => Decimal::new(coefficient, places),
        None => to_figures(value, WIDEST, rounding),
    }
}

/// The value rounded to `figures` significant figures; at least one, at most thirty.
///
/// A carry keeps the number of figures: 9.996 to three is 10.0.
#[must_use]
pub fn to_figures(value: &Exact, figures: i32, rounding: Rounding) -> Decimal {
    let figures = figures.clamp(1, WIDEST);
    if value.is_zero() {
        return Decimal::new(0, figures - 1);
    }
    let places = figures - 1 - exponent(value);
    let coefficient = scaled(value, places, rounding).unwrap_or(i128::MAX);
    let rounded = Decimal::new(coefficient, places);
    if rounded.significant_figures() > figures {
        // The digits became a one and zeros: the last zero is one figure too many.
        Decimal::new(coefficient / 10, places - 1)
    } else {
        rounded
    }
}

/// A floating-point number, taken for the decimal that it stands for, rounded to `figures` significant figures; `None` for one that
/// is no number or has no end.
#[must_use]
pub fn float_to_figures(number: f64, figures: i32, rounding: Rounding) -> Option<Decimal> {
    let exact = match Decimal::nearest(number) {
        Some(decimal) => decimal.to_exact(),
        None => Exact::from_float(number)?,
    };
    Some(to_figures(&exact, figures, rounding))
}

/// The power of ten of the first digit: 2 for 123, −3 for 0.00123; 0 for zero.
#[must_use]
pub fn exponent(value: &Exact) -> i32 {
    if value.is_zero() {
        return 0;
    }
    value
        .small()
        .and_then(small_exponent)
        .unwrap_or_else(|| large_exponent(value))
}

/// The power of ten of the first digit; `None` where machine words are too short to find it.
fn small_exponent((above, below): (i128, i128)) -> Option<i32> {
    let (above, below) = (above.unsigned_abs(), below.unsigned_abs());
    // As many digits more above than below: the exponent, or one more than that.
    let (more, less) = (above.ilog10(), below.ilog10());
    let reached = if more >= less {
        above >= below.checked_mul(TEN.checked_pow(more - less)?)?
    } else {
        above.checked_mul(TEN.checked_pow(less - more)?)? >= below
    };
    let guess = more.cast_signed() - less.cast_signed();
    Some(if reached { guess } else { guess - 1 })
}

fn large_exponent(value: &Exact) -> i32 {
    let value = value.to_large();
    let (above, below) = (value.numer().abs(), value.denom());
    // `b` binary digits more above than below: the ratio lies between 2^(b − 1) and 2^(b + 1), so its exponent is that of
    // the upper end or one less.
    let bits = |n: &BigInt| i64::try_from(n.bits()).unwrap_or(i64::MAX / 2);
    let upper = (bits(&above) - bits(below) + 1) as f64 * std::f64::consts::LOG10_2;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the digits of a number in memory are counted in 32 bits"
    )]
    let guess = upper.floor() as i32;
    let reaches = |power: i32| {
        let ten = Pow::pow(BigInt::from(10), power.unsigned_abs());
        if power >= 0 {
            above >= below * ten
        } else {
            &above * ten >= *below
        }
    };
    if reaches(guess) { guess } else { guess - 1 }
}

/// `value × 10^places` as a whole number, rounded; `None` when that is too long for machine words.
fn scaled(value: &Exact, places: i32, rounding: Rounding) -> Option<i128> {
    let small = value.small();
    small
        .and_then(|ratio| small_scaled(ratio, places, rounding))
        .or_else(|| large_scaled(value, places, rounding))
}

/// The same where no number on the way is too long for machine words.
fn small_scaled((above, below): (i128, i128), places: i32, rounding: Rounding) -> Option<i128> {
    let ten = TEN.checked_pow(places.unsigned_abs())?;
    let (mut size, mut by) = (above.unsigned_abs(), below.unsigned_abs());
    if places >= 0 {
        size = size.checked_mul(ten)?;
    } else {
        by = by.checked_mul(ten)?;
    }
    let whole = match (u64::try_from(size), u64::try_from(by)) {
        (Ok(size), Ok(by)) => u128::from(size / by),
        _ => size / by,
    };
    let rest = size - whole * by;
    let up = match rest.cmp(&(by - rest)) {
        Ordering::Less => false,
        Ordering::Greater => true,
        Ordering::Equal => rounding == Rounding::HalfUp || whole % 2 == 1,
    };
    let magnitude = i128::try_from(whole + u128::from(up)).ok()?;
    Some(if above < 0 { -magnitude } else { magnitude })
}

fn large_scaled(value: &Exact, places: i32, rounding: Rounding) -> Option<i128> {
    let value = value.to_large();
    let ten = Pow::pow(BigInt::from(10), places.unsigned_abs());
    let (mut above, mut below) = (value.numer().abs(), value.denom().clone());
    if places >= 0 {
        above *= ten;
    } else {
        below *= ten;
    }
    let (whole, rest) = above.div_rem(&below);
    let twice: BigInt = rest * 2;
    let up = match twice.cmp(&below) {
        Ordering::Less => false,
        Ordering::Greater => true,
        Ordering::Equal => rounding == Rounding::HalfUp || whole.is_odd(),
    };
    let magnitude = if up { whole + 1 } else { whole };
    let signed = if value.is_negative() {
        -magnitude
    } else {
        magnitude
    };
    signed.to_i128()
}

#[cfg(test)]
mod tests {
    use num_rational::BigRational;
    use proptest::prelude::*;

    use super::*;

    fn exact(text: &str) -> Exact {
        Decimal::parse(text).unwrap().to_exact()
    }

    #[test]
    fn a_float_half_way_is_rounded_as_the_decimal_it_stands_for() {
        for (number, half_up, half_even) in [
            (0.0365, "0.037", "0.036"),
            (0.000_365, "0.00037", "0.00036"),
            (0.0375, "0.038", "0.038"),
            (0.1 + 0.15, "0.25", "0.25"),
        ] {
            let shown = |rounding| float_to_figures(number, 2, rounding).unwrap().to_string();
            assert_eq!(shown(Rounding::HalfUp), half_up, "{number}");
            assert_eq!(shown(Rounding::HalfEven), half_even, "{number}");
        }
        assert_eq!(float_to_figures(f64::NAN, 2, Rounding::HalfUp), None);
    }

    #[test]
    fn carries_keep_the_figures() {
        for (value, figures, shown) in [
            ("9.996", 3, "10.0"),
            ("0.0999", 2, "0.10"),
            ("99.95", 3, "100."),
            ("1.5", 4, "1.500"),
            ("0.00099999", 3, "0.00100"),
        ] {
            let rounded = to_figures(&exact(value), figures, Rounding::HalfUp);
            assert_eq!(rounded.to_string(), shown.trim_end_matches('.'), "{value}");
            assert_eq!(rounded.significant_figures(), figures, "{value}");
        }
    }

    #[test]
    fn decimal_ties_are_decimal() {
        for (value, places, up, even) in [
            ("2.675", 2, "2.68", "2.68"),
            ("1.15", 1, "1.2", "1.2"),
            ("2.665", 2, "2.67", "2.66"),
            ("-2.665", 2, "−2.67", "−2.66"),
            ("0.5", 0, "1", "0"),
            ("-0.004", 2, "0.00", "0.00"),
        ] {
            assert_eq!(
                to_places(&exact(value), places, Rounding::HalfUp).to_string(),
                up
            );
            assert_eq!(
                to_places(&exact(value), places, Rounding::HalfEven).to_string(),
                even
            );
        }
    }

    #[test]
    fn exponents() {
        for (value, power) in [
            ("123", 2),
            ("0.00123", -3),
            ("1", 0),
            ("9.99", 0),
            ("10", 1),
            ("-0.1", -1),
        ] {
            assert_eq!(exponent(&exact(value)), power, "{value}");
        }
        let third = Exact::new(1, 3);
        assert_eq!(exponent(&third), -1);
        assert_eq!(
            to_figures(&third, 4, Rounding::HalfUp).to_string(),
            "0.3333"
        );
    }

    proptest! {
        #[test]
        fn machine_words_round_as_large_numbers_do(
            above in any::<i64>(),
            odd in 1_i64..1_000_000,
            tens in 0_u32..20,
            places in -20_i32..20,
        ) {
            let ten = 10_i128.pow(tens);
            for below in [ten, 2 * ten, i128::from(odd), 1_i128 << (3 * tens)] {
                let value = Exact::new(above.into(), below);
                let small = value.small().unwrap();
                if let Some(power) = small_exponent(small).filter(|_| above != 0) {
                    prop_assert_eq!(power, large_exponent(&value));
                }
                for rounding in [Rounding::HalfUp, Rounding::HalfEven] {
                    if let Some(whole) = small_scaled(small, places, rounding) {
                        prop_assert_eq!(Some(whole), large_scaled(&value, places, rounding));
                    }
                }
            }
        }
    }

    #[test]
    fn very_large_values_are_still_written() {
        let huge = Exact::of_large(BigRational::from_integer(Pow::pow(
            BigInt::from(10),
            60_u32,
        )));
        assert!(
            to_places(&huge, 2, Rounding::HalfUp)
                .to_string()
                .ends_with("×10⁶⁰")
        );
    }
}
