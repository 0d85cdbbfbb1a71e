//! A decimal number with the digits as written: `1.50` is not `1.5`.

use std::fmt;

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::Pow;

use crate::measure::Exact;

/// The most digits a number in a file may have.
pub const MOST_DIGITS: usize = 20;
/// The largest power of ten, up or down, that a number in a file may carry.
pub const LARGEST_EXPONENT: i32 = 40;

/// A decimal number as written: `coefficient × 10^-places`.
///
/// `places` is the number of digits after the decimal mark; it is negative for
/// a number such as `1.20e3`, whose last written digit stands for tens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Decimal {
    coefficient: i128,
    places: i32,
}

/// Why a text is not a decimal number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotDecimal {
    /// There is no number here.
    NotANumber,
    /// More than [`MOST_DIGITS`] digits.
    TooManyDigits,
    /// A power of ten beyond [`LARGEST_EXPONENT`].
    TooLarge,
}

impl Decimal {
    /// The number `coefficient × 10^-places`.
    #[must_use]
    pub const fn new(coefficient: i128, places: i32) -> Self {
        Self {
            coefficient,
            places,
        }
    }

    /// Reads `12.270`, `.97`, `104.`, `-5`, `1.20e3`; the decimal mark is a point.
    ///
    /// # Errors
    /// When the text is no number, has more than 20 digits, or a power of ten
    /// beyond ±40.
    pub fn parse(text: &str) -> Result<Self, NotDecimal> {
        let (number, exponent) = match text.split_once(['e', 'E']) {
            Some((number, exponent)) => (number, read_exponent(exponent)?),
            None => (text, 0),
        };
        let (negative, digits) = match number.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, number.strip_prefix('+').unwrap_or(number)),
        };
        let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
        if whole.is_empty() && fraction.is_empty() {
            return Err(NotDecimal::NotANumber);
        }
        if !whole
            .bytes()
            .chain(fraction.bytes())
            .all(|b| b.is_ascii_digit())
        {
            return Err(NotDecimal::NotANumber);
        }
        if whole.trim_start_matches('0').len() + fraction.len() > MOST_DIGITS {
            return Err(NotDecimal::TooManyDigits);
        }
        let places =
            i32::try_from(fraction.len()).map_err(|_| NotDecimal::TooManyDigits)? - exponent;
        if places.abs() > LARGEST_EXPONENT {
            return Err(NotDecimal::TooLarge);
        }
        let mut coefficient = 0_i128;
        for digit in whole.bytes().chain(fraction.bytes()) {
            coefficient = coefficient * 10 + i128::from(digit - b'0');
        }
        Ok(Self {
            coefficient: if negative { -coefficient } else { coefficient },
            places,
        })
    }

    /// The decimal that a floating-point number stands for: 0.0365 itself and not the binary fraction just below it, which would be
    /// rounded down where a half is rounded up. `None` for one that is no number, has no end, or is far too large or small.
    #[must_use]
    pub fn nearest(number: f64) -> Option<Self> {
        // Fifteen figures are those that every such number keeps; what lies behind them is noise of the working.
        Self::parse(&format!("{number:.14e}")).ok()
    }

    /// The value as an exact ratio.
    #[must_use]
    pub fn to_exact(self) -> Exact {
        let power = self.places.unsigned_abs();
        // Nearly every number fits into machine words.
        let small = 10_i128.checked_pow(power).and_then(|ten| {
            if self.places > 0 {
                return Some(Exact::new(self.coefficient, ten));
            }
            self.coefficient.checked_mul(ten).map(Exact::from_integer)
        });
        small.unwrap_or_else(|| {
            let ten = Pow::pow(BigInt::from(10), power);
            Exact::of_large(if self.places > 0 {
                BigRational::new(self.coefficient.into(), ten)
            } else {
                (self.coefficient * ten).into()
            })
        })
    }

    /// The nearest binary floating-point number.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        /// The powers of ten that are floating-point numbers.
        const POWERS: [f64; 23] = [
            1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
            1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
        ];
        let power = usize::try_from(self.places.unsigned_abs()).unwrap_or(usize::MAX);
        // One operation on two numbers that are exact is rounded right.
        if let Some(power) = POWERS.get(power)
            && self.coefficient.unsigned_abs() <= 1 << f64::MANTISSA_DIGITS
        {
            let coefficient = self.coefficient as f64;
            return if self.places > 0 {
                coefficient / power
            } else {
                coefficient * power
            };
        }
        // The text form is parsed with correct rounding by the standard library.
        format!("{}e{}", self.coefficient, -self.places)
            .parse()
            .unwrap_or(f64::NAN)
    }

    /// Digits after the decimal mark; negative when the last digit written stands for tens or more.
    #[must_use]
    pub const fn places(self) -> i32 {
        self.places
    }

    /// The digits without their decimal mark.
    #[must_use]
    pub const fn coefficient(self) -> i128 {
        self.coefficient
    }

    /// Whether the value is zero.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.coefficient == 0
    }

    /// Whether the value is below zero.
    #[must_use]
    pub const fn is_negative(self) -> bool {
        self.coefficient < 0
    }

    /// The value times ten to the power given; the digits stay.
    #[must_use]
    pub const fn shifted(self, power: i32) -> Self {
        Self {
            coefficient: self.coefficient,
            places: self.places - power,
        }
    }

    /// Significant figures as written: zeros in front do not count, zeros behind do.
    #[must_use]
    pub fn significant_figures(self) -> i32 {
        let digits = self.coefficient.unsigned_abs();
        if digits == 0 {
            1
        } else {
            i32::try_from(digits.ilog10()).unwrap_or(0) + 1
        }
    }
}

/// Reads the part behind an `e`.
fn read_exponent(text: &str) -> Result<i32, NotDecimal> {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return Err(NotDecimal::NotANumber);
    }
    let exponent: i32 = text.parse().map_err(|_| NotDecimal::TooLarge)?;
    if exponent.abs() > LARGEST_EXPONENT {
        Err(NotDecimal::TooLarge)
    } else {
        Ok(exponent)
    }
}

/// Plain digits, a Unicode minus for a negative number, no grouping; `1.20e3` prints as `1.20×10³`.
impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.short(&mut [b'0'; LONGEST]) {
            Some(text) => f.write_str(text),
            None => self.write_long(f),
        }
    }
}

impl Decimal {
    /// The number without its power of ten, where that makes it larger: `1.0e2` as `100`.
    #[must_use]
    pub fn written_out(self) -> Self {
        let power = self.places.checked_neg();
        let power = power.and_then(|power| u32::try_from(power).ok());
        power
            .and_then(|power| self.coefficient.checked_mul(10_i128.checked_pow(power)?))
            .map_or(self, |coefficient| Self::new(coefficient, 0))
    }
}

/// Bytes that a short number needs at most: twenty digits, one more in front of the mark, the mark, the minus.
const LONGEST: usize = 32;

impl Decimal {
    /// The number as it displays itself.
    #[must_use]
    pub fn text(self) -> String {
        self.short(&mut [b'0'; LONGEST])
            .map_or_else(|| self.to_string(), str::to_owned)
    }

    /// A number of at most twenty digits written over zeros; `None` for others. Numbers stand everywhere in a report: from
    /// the last digit to the first, and out in one piece.
    fn short(self, text: &mut [u8; LONGEST]) -> Option<&str> {
        const MINUS: &[u8] = "\u{2212}".as_bytes();
        let mut rest = u64::try_from(self.coefficient.unsigned_abs()).ok()?;
        let places = usize::try_from(self.places)
            .ok()
            .filter(|places| *places <= 20)?;
        let mut free = text.iter_mut().rev();
        for digit in free.by_ref().take(places) {
            *digit += (rest % 10).to_le_bytes()[0];
            rest /= 10;
        }
        if places > 0 {
            *free.next()? = b'.';
        }
        loop {
            *free.next()? += (rest % 10).to_le_bytes()[0];
            rest /= 10;
            if rest == 0 {
                break;
            }
        }
        let mut start = free.len();
        if self.coefficient < 0 {
            start -= MINUS.len();
            text[start..start + MINUS.len()].copy_from_slice(MINUS);
        }
        std::str::from_utf8(&text[start..]).ok()
    }

    /// Digits of any number, and a power of ten where they do not reach the ones.
    fn write_long(self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.coefficient < 0 { "\u{2212}" } else { "" };
        let digits = self.coefficient.unsigned_abs().to_string();
        if self.coefficient == 0 && self.places < 0 {
            return f.write_str("0");
        }
        if self.places < 0 {
            // The written digits do not reach the ones: only a power of ten says so honestly.
            let (first, rest) = digits.split_at(1);
            let power = i64::try_from(rest.len()).unwrap_or(0) - i64::from(self.places);
            let point = if rest.is_empty() { "" } else { "." };
            return write!(f, "{sign}{first}{point}{rest}×10{}", superscript(power));
        }
        let places = usize::try_from(self.places).unwrap_or(0);
        if places == 0 {
            return write!(f, "{sign}{digits}");
        }
        let padded = format!("{digits:0>width$}", width = places + 1);
        let (whole, fraction) = padded.split_at(padded.len() - places);
        write!(f, "{sign}{whole}.{fraction}")
    }
}

/// A whole number in superscript digits.
#[must_use]
pub fn superscript(number: i64) -> String {
    number
        .to_string()
        .chars()
        .map(|c| match c {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            digit => char::from_u32(0x2070 + digit.to_digit(10).unwrap_or(0)).unwrap_or(digit),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_kept() {
        for (typed, shown, figures) in [
            ("1.50", "1.50", 3),
            (".97", "0.97", 2),
            ("104.", "104", 3),
            ("0.0050", "0.0050", 2),
            ("1.20e3", "1.20×10³", 3),
            ("2e1", "2×10¹", 1),
            ("-5.0", "−5.0", 2),
            ("2.41e-2", "0.0241", 3),
            ("000", "0", 1),
            ("0e2", "0", 1),
        ] {
            let decimal = Decimal::parse(typed).unwrap();
            assert_eq!(decimal.to_string(), shown, "{typed}");
            assert_eq!(decimal.significant_figures(), figures, "{typed}");
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for typed in [
            "", ".", "-", "1.2.3", "abc", "1e", "e5", "1e+", "nan", "inf", "0x1F", "١",
        ] {
            assert_eq!(
                Decimal::parse(typed),
                Err(NotDecimal::NotANumber),
                "{typed}"
            );
        }
        assert_eq!(Decimal::parse("1e999"), Err(NotDecimal::TooLarge));
        assert_eq!(
            Decimal::parse("1e99999999999999"),
            Err(NotDecimal::TooLarge)
        );
        assert_eq!(
            Decimal::parse(&"9".repeat(40)),
            Err(NotDecimal::TooManyDigits)
        );
    }

    /// Short numbers are written another way than long ones.
    #[test]
    fn short_numbers_are_written_like_long_ones() {
        struct Long(Decimal);
        impl fmt::Display for Long {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.write_long(f)
            }
        }
        for coefficient in [
            0,
            1,
            -7,
            10,
            -105,
            99_999,
            i128::from(u64::MAX),
            -i128::from(u64::MAX),
            i128::MIN,
        ] {
            for places in -2..25 {
                let number = Decimal::new(coefficient, places);
                assert_eq!(number.to_string(), Long(number).to_string());
                assert_eq!(number.text(), number.to_string());
                let parsed: f64 = format!("{coefficient}e{}", -places).parse().unwrap();
                assert_eq!(number.to_f64().to_bits(), parsed.to_bits());
            }
        }
    }

    #[test]
    fn exact_and_float_agree() {
        let decimal = Decimal::parse("63.546").unwrap();
        assert_eq!(decimal.to_exact(), Exact::new(31773, 500));
        assert!((decimal.to_f64() - 63.546).abs() < f64::EPSILON);
        assert_eq!(
            Decimal::parse("1.2e3").unwrap().to_exact(),
            Exact::from_integer(1200)
        );
    }

    #[test]
    fn a_float_stands_for_the_decimal_it_was_made_of() {
        for (number, shown) in [
            (0.0365, "0.0365"),
            (-2.5, "−2.5"),
            (1250.0, "1250"),
            (0.1 + 0.2, "0.3"),
        ] {
            let found = Decimal::nearest(number).map(Decimal::to_exact);
            let meant = Decimal::parse(&shown.replace('−', "-")).map(Decimal::to_exact);
            assert_eq!(found, meant.ok(), "{number}");
        }
        assert_eq!(Decimal::nearest(f64::NAN), None);
        assert_eq!(Decimal::nearest(f64::INFINITY), None);
    }
}
