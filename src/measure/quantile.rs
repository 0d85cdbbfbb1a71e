//! Quantiles of distributions by halving, from the distribution function alone: slow, sure, and to the last digit.
//!
//! The libraries' own inverses were found to run for ever on some arguments (Student's t far out with few degrees of freedom).

/// The value below which an increasing distribution function reaches a probability, for distributions of values from 0 on
/// or the upper half of a symmetric one; `NaN` where it never does.
#[must_use]
pub fn quantile(distribution: impl Fn(f64) -> f64, probability: f64) -> f64 {
    /// No quantile of a table lies beyond.
    const FARTHEST: f64 = 1e12;
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    // A probability that is not a number is never reached.
    while distribution(high) < probability {
        low = high;
        high *= 2.0;
        if high > FARTHEST {
            return f64::NAN;
        }
    }
    // Each halving gains a binary digit; a floating-point number has 53.
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if distribution(middle) < probability {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::quantile;

    #[test]
    fn a_known_function_is_turned_round() {
        for probability in [0.01_f64, 0.5, 0.95, 0.999_999] {
            let found = quantile(|x| 1.0 - (-x).exp(), probability);
            let exact = -(1.0 - probability).ln();
            assert!((found / exact - 1.0).abs() < 1e-9, "{probability}: {found}");
        }
        assert!(quantile(|_| 0.5, 0.9).is_nan());
        assert!(quantile(|x| x, f64::NAN) >= 0.0);
    }
}
