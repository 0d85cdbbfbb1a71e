//! An exact ratio: two machine words as long as they hold it, whole numbers of any size beyond.

use std::cmp::Ordering;
use std::fmt;
use std::iter::Sum;
use std::ops::Add;
use std::ops::AddAssign;
use std::ops::Div;
use std::ops::Mul;
use std::ops::Neg;
use std::ops::Sub;
use std::ops::SubAssign;

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::Signed;
use num_traits::ToPrimitive;
use num_traits::float::FloatCore;

/// An exact value: a ratio of whole numbers of any size, in lowest terms.
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Exact(Form);

/// Of each value there is one form only: large is what does not fit into the small one.
#[derive(Clone, PartialEq, Eq, Hash)]
enum Form {
    /// In lowest terms, the number below positive, and neither `i128::MIN`, so that a sign can always be turned.
    Small(i128, i128),
    Large(Box<BigRational>),
}

impl Exact {
    /// `above ÷ below`.
    ///
    /// # Panics
    /// When `below` is zero.
    #[must_use]
    pub fn new(above: i128, below: i128) -> Self {
        if above == i128::MIN || below == i128::MIN {
            return Self::of_large(BigRational::new(above.into(), below.into()));
        }
        assert!(below != 0, "a ratio has no zero below");
        // A divisor of numbers that are not `i128::MIN` fits.
        let common = divisor(above.unsigned_abs(), below.unsigned_abs()).cast_signed();
        let common = if below < 0 { -common } else { common };
        Self(Form::Small(above / common, below / common))
    }

    /// A ratio already in lowest terms, the number below positive, and neither number `i128::MIN`.
    const fn reduced(above: i128, below: i128) -> Self {
        Self(Form::Small(above, below))
    }

    /// A whole number.
    #[must_use]
    pub fn from_integer(number: i128) -> Self {
        if number == i128::MIN {
            return Self::of_large(BigInt::from(number).into());
        }
        Self::reduced(number, 1)
    }

    /// A ratio of numbers of any size.
    #[must_use]
    pub fn of_large(ratio: BigRational) -> Self {
        match (ratio.numer().to_i128(), ratio.denom().to_i128()) {
            (Some(above), Some(below)) if above != i128::MIN => Self::reduced(above, below),
            _ => Self(Form::Large(Box::new(ratio))),
        }
    }

    /// The exact value of a binary floating-point number; `None` for one that is no number or has no end.
    #[must_use]
    pub fn from_float(number: f64) -> Option<Self> {
        if !number.is_finite() {
            return None;
        }
        let (mantissa, exponent, sign) = number.integer_decode();
        if mantissa == 0 {
            return Some(Self::zero());
        }
        // An odd number over a power of two is in lowest terms: no common divisor has to be looked for.
        let zeros = mantissa.trailing_zeros();
        let odd = i128::from(mantissa >> zeros) * i128::from(sign);
        let power = i32::from(exponent) + zeros.cast_signed();
        // 53 digits of the number and 70 of the power are fewer than a machine word has.
        Some(match power {
            0..70 => Self::from_integer(odd << power),
            -120..0 => Self::reduced(odd, 1 << -power),
            70.. => Self::of_large((BigInt::from(odd) << power).into()),
            _ => Self::of_large(BigRational::new_raw(odd.into(), BigInt::from(1) << -power)),
        })
    }

    /// The same as a ratio of numbers of any size.
    #[must_use]
    pub fn to_large(&self) -> BigRational {
        match &self.0 {
            Form::Small(above, below) => BigRational::new_raw((*above).into(), (*below).into()),
            Form::Large(ratio) => (**ratio).clone(),
        }
    }

    /// Numerator and denominator, where machine words hold them: in lowest terms, the second positive.
    #[must_use]
    pub const fn small(&self) -> Option<(i128, i128)> {
        match self.0 {
            Form::Small(above, below) => Some((above, below)),
            Form::Large(_) => None,
        }
    }

    /// Nothing.
    #[must_use]
    pub const fn zero() -> Self {
        Self::reduced(0, 1)
    }

    /// Whether it is nothing.
    #[must_use]
    pub const fn is_zero(&self) -> bool {
        matches!(self.0, Form::Small(0, _))
    }

    /// Whether it is above zero.
    #[must_use]
    pub fn is_positive(&self) -> bool {
        match &self.0 {
            Form::Small(above, _) => *above > 0,
            Form::Large(ratio) => ratio.is_positive(),
        }
    }

    /// Whether it is below zero.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        match &self.0 {
            Form::Small(above, _) => *above < 0,
            Form::Large(ratio) => ratio.is_negative(),
        }
    }

    /// Whether it is a whole number.
    #[must_use]
    pub fn is_integer(&self) -> bool {
        match &self.0 {
            Form::Small(_, below) => *below == 1,
            Form::Large(ratio) => ratio.is_integer(),
        }
    }

    /// Without its sign.
    #[must_use]
    pub fn abs(&self) -> Self {
        if self.is_negative() {
            -self
        } else {
            self.clone()
        }
    }

    /// The largest whole number that is not larger; `None` when it needs more than a machine word.
    #[must_use]
    pub fn floor(&self) -> Option<i128> {
        match &self.0 {
            Form::Small(above, below) => Some(above.div_euclid(*below)),
            Form::Large(ratio) => ratio.floor().to_integer().to_i128(),
        }
    }

    /// The nearest binary floating-point number; of two as near, the one with an even last digit.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        self.small()
            .and_then(|(above, below)| nearest(above, below))
            .or_else(|| self.to_large().to_f64())
            .unwrap_or(f64::NAN)
    }

    /// An operation on two values: on small ones where its result is small, else on large ones.
    fn both(
        &self,
        other: &Self,
        small: impl FnOnce((i128, i128), (i128, i128)) -> Option<(i128, i128)>,
        large: impl FnOnce(BigRational, BigRational) -> BigRational,
    ) -> Self {
        if let (Some(one), Some(two)) = (self.small(), other.small())
            && let Some((above, below)) = small(one, two)
            && above != i128::MIN
        {
            return Self::reduced(above, below);
        }
        Self::of_large(large(self.to_large(), other.to_large()))
    }
}

/// The greatest common divisor; that of a number and zero is the number.
fn divisor(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        if let (Ok(mut a), Ok(mut b)) = (u64::try_from(a), u64::try_from(b)) {
            while b != 0 {
                (a, b) = (b, a % b);
            }
            return a.into();
        }
        (a, b) = (b, a % b);
    }
    a
}

/// The common divisor of a number of any sign and a positive one.
fn common(number: i128, positive: i128) -> i128 {
    if positive == 1 || number == 1 {
        return 1;
    }
    // It is not above the positive number.
    divisor(number.unsigned_abs(), positive.unsigned_abs()).cast_signed()
}

/// `number ÷ by` where most divisors are one.
const fn over(number: i128, by: i128) -> i128 {
    if by == 1 { number } else { number / by }
}

fn sum((a, b): (i128, i128), (c, d): (i128, i128)) -> Option<(i128, i128)> {
    if b == d {
        let above = a.checked_add(c)?;
        let shared = common(above, b);
        return Some((over(above, shared), over(b, shared)));
    }
    let shared = common(b, d);
    let (own, others) = (over(b, shared), over(d, shared));
    let above = a.checked_mul(others)?.checked_add(c.checked_mul(own)?)?;
    // Whatever divides the numbers above and below now divides what these two had in common.
    let again = common(above, shared);
    Some((over(above, again), own.checked_mul(over(d, again))?))
}

fn product((a, b): (i128, i128), (c, d): (i128, i128)) -> Option<(i128, i128)> {
    let (first, second) = (common(a, d), common(c, b));
    Some((
        over(a, first).checked_mul(over(c, second))?,
        over(b, second).checked_mul(over(d, first))?,
    ))
}

fn quotient(one: (i128, i128), (c, d): (i128, i128)) -> Option<(i128, i128)> {
    match c.cmp(&0) {
        Ordering::Less => product(one, (-d, -c)),
        Ordering::Equal => None,
        Ordering::Greater => product(one, (d, c)),
    }
}

/// The binary floating-point number nearest to a ratio; `None` where machine words are too short to find it.
fn nearest(above: i128, below: i128) -> Option<f64> {
    /// Up to here every whole number is a floating-point number, and their division rounds right.
    const WHOLE: i64 = 1 << f64::MANTISSA_DIGITS;
    if let (Ok(above), Ok(below)) = (i64::try_from(above), i64::try_from(below))
        && (-WHOLE..=WHOLE).contains(&above)
        && below <= WHOLE
    {
        return Some(above as f64 / below as f64);
    }
    let (size, below) = (above.unsigned_abs(), below.unsigned_abs());
    // A quotient of 55 or 56 binary digits, two more than a floating-point number holds. Where the division leaves a rest
    // its last digit is made odd: then it does not look like the middle between two numbers.
    let shift = 55 + i64::from(size.leading_zeros()) - i64::from(below.leading_zeros());
    let (size, below) = if shift >= 0 {
        (shifted(size, shift)?, below)
    } else {
        (size, shifted(below, -shift)?)
    };
    let quotient = size / below;
    let sticky = u64::try_from(quotient | u128::from(quotient * below != size)).ok()?;
    let power = 2.0_f64.powi(i32::try_from(-shift).ok()?);
    let size = sticky as f64 * power;
    Some(if above < 0 { -size } else { size })
}

/// A number times a power of two; `None` when it gets too long.
fn shifted(number: u128, by: i64) -> Option<u128> {
    let by = u32::try_from(by).ok()?;
    (by <= number.leading_zeros()).then(|| number << by)
}

macro_rules! operation {
    ($name:ident, $method:ident, $small:expr, $large:expr) => {
        impl $name<&Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                self.both(other, $small, $large)
            }
        }
        impl $name<Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                self.$method(&other)
            }
        }
        impl $name<&Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                (&self).$method(other)
            }
        }
        impl $name<Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                (&self).$method(&other)
            }
        }
    };
}

operation!(Add, add, sum, |a, b| a + b);
operation!(Sub, sub, |one, (c, d)| sum(one, (-c, d)), |a, b| a - b);
operation!(Mul, mul, product, |a, b| a * b);
operation!(Div, div, quotient, |a, b| a / b);

impl AddAssign<&Self> for Exact {
    fn add_assign(&mut self, other: &Self) {
        *self = &*self + other;
    }
}

impl SubAssign<&Self> for Exact {
    fn sub_assign(&mut self, other: &Self) {
        *self = &*self - other;
    }
}

impl Neg for &Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        match &self.0 {
            Form::Small(above, below) => Exact::reduced(-above, *below),
            // `i128::MIN` is large only with this sign or with another number below.
            Form::Large(ratio) => Exact::of_large(-&**ratio),
        }
    }
}

impl Neg for Exact {
    type Output = Self;
    fn neg(self) -> Self {
        -&self
    }
}

impl Sum for Exact {
    fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
        terms.fold(Self::zero(), |all, term| all + term)
    }
}

impl<'a> Sum<&'a Self> for Exact {
    fn sum<I: Iterator<Item = &'a Self>>(terms: I) -> Self {
        terms.fold(Self::zero(), |all, term| all + term)
    }
}

impl Ord for Exact {
    fn cmp(&self, other: &Self) -> Ordering {
        if let (Some((a, b)), Some((c, d))) = (self.small(), other.small()) {
            if b == d {
                return a.cmp(&c);
            }
            if let (Some(one), Some(two)) = (a.checked_mul(d), c.checked_mul(b)) {
                return one.cmp(&two);
            }
        }
        self.to_large().cmp(&other.to_large())
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Default for Exact {
    fn default() -> Self {
        Self::zero()
    }
}

/// As a fraction, for whoever looks for a mistake.
impl fmt::Debug for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.to_large())
    }
}

#[cfg(test)]
mod tests {
    use num_traits::Zero;
    use proptest::prelude::*;

    use super::*;

    /// Numbers around everything that changes the way: zero, one, words, double words, and powers of ten and two.
    fn whole() -> impl Strategy<Value = i128> {
        prop_oneof![
            -20_i128..20,
            any::<i32>().prop_map(i128::from),
            any::<i64>().prop_map(i128::from),
            any::<i128>(),
            (-3_i128..3).prop_map(|near| i128::MAX.wrapping_add(near)),
            (-3_i128..3).prop_map(|near| i128::from(i64::MAX) + near),
            (-3_i128..3).prop_map(|near| i128::from(u64::MAX) + near),
            (-3_i128..3).prop_map(|near| (1 << 53) + near),
            (-3_i128..3, 0_u32..38).prop_map(|(near, power)| 10_i128.pow(power) + near),
            (any::<i32>(), 0_u32..90).prop_map(|(odd, power)| i128::from(odd) << power),
            (any::<i32>(), 0_u32..28).prop_map(|(odd, power)| i128::from(odd) * 10_i128.pow(power)),
        ]
    }

    /// A ratio both ways, sometimes longer than machine words.
    fn ratio() -> impl Strategy<Value = (Exact, BigRational)> {
        let small = (whole(), whole()).prop_map(|(above, below)| {
            let below = if below == 0 { 1 } else { below };
            let large = BigRational::new(above.into(), below.into());
            (Exact::new(above, below), large)
        });
        let pair = (whole(), whole(), whole(), whole()).prop_map(|(a, b, c, d)| {
            let below = BigInt::from(c) * d;
            let below = if below.is_zero() { 1.into() } else { below };
            let large = BigRational::new(BigInt::from(a) * b, below);
            (Exact::of_large(large.clone()), large)
        });
        prop_oneof![3 => small, 1 => pair]
    }

    /// Of the same value, and in the only form there is of it.
    fn same(exact: &Exact, large: &BigRational) -> Result<(), TestCaseError> {
        prop_assert_eq!(&exact.to_large(), large);
        prop_assert_eq!(exact, &Exact::of_large(large.clone()));
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(1000))]

        #[test]
        fn two_values_come_to_what_large_numbers_come_to(
            (a, big_a) in ratio(),
            (b, big_b) in ratio(),
        ) {
            same(&a, &big_a)?;
            same(&(&a + &b), &(&big_a + &big_b))?;
            same(&(&a - &b), &(&big_a - &big_b))?;
            same(&(&a * &b), &(&big_a * &big_b))?;
            if !b.is_zero() {
                same(&(&a / &b), &(&big_a / &big_b))?;
            }
            prop_assert_eq!(a.cmp(&b), big_a.cmp(&big_b));
            prop_assert_eq!(a == b, big_a == big_b);
            let mut total = a.clone();
            total += &b;
            prop_assert_eq!(&total, &[&a, &b].into_iter().sum::<Exact>());
            total -= &b;
            prop_assert_eq!(total, a);
        }

        #[test]
        fn one_value_is_what_a_large_number_is((a, large) in ratio()) {
            same(&-&a, &-&large)?;
            same(&a.abs(), &large.abs())?;
            prop_assert_eq!(a.is_zero(), large.is_zero());
            prop_assert_eq!(a.is_positive(), large.is_positive());
            prop_assert_eq!(a.is_negative(), large.is_negative());
            prop_assert_eq!(a.is_integer(), large.is_integer());
            prop_assert_eq!(a.floor(), large.floor().to_integer().to_i128());
            let nearest = large.to_f64().unwrap();
            prop_assert_eq!(a.to_f64().to_bits(), nearest.to_bits());
        }

        /// Values half way between two floating-point numbers, and next to it.
        #[test]
        fn ties_go_to_the_even_number(mantissa in any::<u64>(), near in -1_i128..2, power in 0_u32..60) {
            for above in [i128::from(mantissa) + near, (i128::from(mantissa) << power) + near] {
                for below in [1, 3, 1 << power] {
                    let exact = Exact::new(above, below);
                    let nearest = exact.to_large().to_f64().unwrap();
                    prop_assert_eq!(exact.to_f64().to_bits(), nearest.to_bits());
                }
            }
        }
    }

    #[test]
    #[should_panic(expected = "denominator == 0")]
    fn nothing_is_divided_by_zero() {
        let _ = Exact::from_integer(1) / Exact::zero();
    }

    #[test]
    fn floating_point_numbers_are_taken_exactly() {
        for (number, above, below) in [
            (0.0, 0, 1),
            (0.75, 3, 4),
            (-2.5, -5, 2),
            (1024.0, 1024, 1),
            (0.1, 3_602_879_701_896_397, 36_028_797_018_963_968),
        ] {
            let expected = Exact::new(above, below);
            assert_eq!(Exact::from_float(number), Some(expected), "{number}");
        }
        assert_eq!(Exact::from_float(f64::NAN), None);
        assert_eq!(Exact::from_float(f64::INFINITY), None);
    }
}
