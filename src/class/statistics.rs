//! Statistics of pooled results, exact until the square root: n, median, mean, standard deviation, range, interval of the mean.
//!
//! Values are decimals, so sums of them and of their squares are whole numbers; nothing is lost however large the mean is
//! beside the spread.

use num_bigint::BigInt;
use num_rational::BigRational;
use statrs::distribution::ContinuousCDF;
use statrs::distribution::StudentsT;

use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::quantile;

/// What a set of values comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Summary {
    /// How many values.
    pub count: usize,
    /// The middle value, or the mean of the two in the middle.
    pub median: f64,
    /// Arithmetic mean.
    pub mean: f64,
    /// Sample standard deviation (n − 1); `None` for one value.
    pub deviation: Option<f64>,
    /// Smallest value.
    pub least: f64,
    /// Largest value.
    pub most: f64,
    /// Half-width of the two-sided 95 % interval of the mean, t·s/√n (Student); `None` for one value.
    pub interval: Option<f64>,
}

/// Confidence of the interval of the mean.
const CONFIDENCE: f64 = 0.95;

impl Summary {
    /// The summary of some values; `None` for none.
    #[must_use]
    pub fn of(values: &[Decimal]) -> Option<Self> {
        let mut sorted = values.to_vec();
        sorted.sort_by_cached_key(|value| value.to_exact());
        let (least, most) = (sorted.first()?, sorted.last()?);
        let places = values.iter().map(|value| value.places()).max()?.max(0);
        let whole: Vec<BigInt> = values.iter().map(|value| whole(*value, places)).collect();
        let count = BigInt::from(values.len());
        let total: BigInt = whole.iter().sum();
        let squares: BigInt = whole.iter().map(|value| value * value).sum();
        let unit = Decimal::new(1, places).to_exact();
        let mean = ratio(total.clone(), count.clone()) * &unit;
        // (n·Σx² − (Σx)²) ÷ (n·(n − 1)), exact.
        let deviation = (values.len() > 1).then(|| {
            let above = &count * squares - &total * &total;
            let below = &count * (&count - 1);
            let variance = ratio(above, below) * &unit * &unit;
            if variance.is_zero() {
                0.0
            } else {
                root(&variance)
            }
        });
        let interval = deviation.map(|deviation| {
            let n = values.len() as f64;
            quantile(n - 1.0, f64::midpoint(1.0, CONFIDENCE)) * deviation / n.sqrt()
        });
        Some(Self {
            count: values.len(),
            median: median(&sorted).to_f64(),
            mean: mean.to_f64(),
            deviation,
            least: least.to_f64(),
            most: most.to_f64(),
            interval,
        })
    }
}

/// A value in units of a power of ten that leaves no fraction.
fn whole(value: Decimal, places: i32) -> BigInt {
    let power = u32::try_from(places - value.places()).unwrap_or(0);
    BigInt::from(value.coefficient()) * BigInt::from(10).pow(power)
}

fn ratio(above: BigInt, below: BigInt) -> Exact {
    Exact::of_large(BigRational::new(above, below))
}

/// The middle of sorted values.
fn median(sorted: &[Decimal]) -> Exact {
    let middle = sorted.len() / 2;
    let upper = sorted[middle].to_exact();
    if sorted.len() % 2 == 1 {
        return upper;
    }
    (upper + sorted[middle - 1].to_exact()) / Exact::from_integer(2.into())
}

/// A square root, right in the last digits also where the number itself is beyond floating point's fractions.
fn root(number: &Exact) -> f64 {
    number.to_f64().sqrt()
}

/// The quantile of Student's t: `freedom` degrees, a probability below it.
#[must_use]
pub fn quantile(freedom: f64, probability: f64) -> f64 {
    // Symmetric around zero.
    if probability < 0.5 {
        return -quantile(freedom, 1.0 - probability);
    }
    StudentsT::new(0.0, 1.0, freedom).map_or(f64::NAN, |t| {
        quantile::quantile(|value| t.cdf(value), probability)
    })
}

/// The median of floating-point numbers; `None` for none.
#[must_use]
pub fn middle(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.len() / 2;
    let upper = *sorted.get(middle)?;
    if sorted.len() % 2 == 1 {
        return Some(upper);
    }
    Some(f64::midpoint(upper, sorted[middle - 1]))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimals(values: &[&str]) -> Vec<Decimal> {
        values
            .iter()
            .map(|value| Decimal::parse(value).unwrap())
            .collect()
    }

    #[test]
    fn a_large_mean_takes_nothing_from_a_small_spread() {
        let summary = Summary::of(&decimals(&["10000001", "10000003", "10000002"])).unwrap();
        assert_eq!(
            (summary.mean, summary.deviation, summary.median),
            (10_000_002.0, Some(1.0), 10_000_002.0)
        );
    }

    #[test]
    fn few_values_have_what_they_can_have() {
        assert_eq!(Summary::of(&[]), None);
        let one = Summary::of(&decimals(&["97.9"])).unwrap();
        assert_eq!((one.count, one.deviation, one.interval), (1, None, None));
        let two = Summary::of(&decimals(&["1.0", "1.00"])).unwrap();
        assert_eq!((two.deviation, two.interval), (Some(0.0), Some(0.0)));
        let four = Summary::of(&decimals(&["4", "1", "3", "2"])).unwrap();
        assert!((four.median - 2.5).abs() < 1e-15);
    }
}
