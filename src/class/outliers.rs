//! Values far from the others: by median absolute deviation, Grubbs' test or Dixon's ratio. They are marked, never removed.

use crate::class::statistics::middle;
use crate::class::statistics::quantile;
use crate::lab::share::OutlierRule;
use crate::say;
use crate::words::Words;

/// Median absolute deviations that make a value far: 3, each × 1.4826 so that it counts as a standard deviation of normal data
/// (Hampel's rule; common practice, no source).
const FAR: f64 = 3.0;
const AS_DEVIATION: f64 = 1.4826;

/// Critical values of Dixon's r₁₀, two-sided, at 90 %, 95 % and 99 %, for so many values.
///
/// D. B. Rorabacher, Anal. Chem. 63 (1991) 139, as in tables that agree on it; but for n = 4 at 99 % the exact value, 0.921, not
/// the 0.926 that is printed.
const DIXON: [(usize, [f64; 3]); 28] = [
    (3, [0.941, 0.970, 0.994]),
    (4, [0.765, 0.829, 0.921]),
    (5, [0.642, 0.710, 0.821]),
    (6, [0.560, 0.625, 0.740]),
    (7, [0.507, 0.568, 0.680]),
    (8, [0.468, 0.526, 0.634]),
    (9, [0.437, 0.493, 0.598]),
    (10, [0.412, 0.466, 0.568]),
    (11, [0.392, 0.444, 0.542]),
    (12, [0.376, 0.426, 0.522]),
    (13, [0.361, 0.410, 0.503]),
    (14, [0.349, 0.396, 0.488]),
    (15, [0.338, 0.384, 0.475]),
    (16, [0.329, 0.374, 0.463]),
    (17, [0.320, 0.365, 0.452]),
    (18, [0.313, 0.356, 0.442]),
    (19, [0.306, 0.349, 0.433]),
    (20, [0.300, 0.342, 0.425]),
    (21, [0.295, 0.337, 0.418]),
    (22, [0.290, 0.331, 0.411]),
    (23, [0.285, 0.326, 0.404]),
    (24, [0.281, 0.321, 0.399]),
    (25, [0.277, 0.317, 0.393]),
    (26, [0.273, 0.312, 0.388]),
    (27, [0.269, 0.308, 0.384]),
    (28, [0.266, 0.305, 0.380]),
    (29, [0.263, 0.301, 0.376]),
    (30, [0.260, 0.298, 0.372]),
];

/// Which of some values are far from the others, by number.
#[must_use]
pub fn far(values: &[f64], rule: OutlierRule, level: f64) -> Vec<usize> {
    match rule {
        OutlierRule::None => Vec::new(),
        OutlierRule::Deviation => by_deviation(values),
        OutlierRule::Grubbs => {
            let Some((place, ratio)) = grubbs(values) else {
                return Vec::new();
            };
            let critical = grubbs_critical(values.len(), level);
            (ratio > critical).then_some(place).into_iter().collect()
        }
        OutlierRule::Dixon => {
            let (Some((place, ratio)), Some(critical)) =
                (dixon(values), dixon_critical(values.len(), level))
            else {
                return Vec::new();
            };
            (ratio > critical).then_some(place).into_iter().collect()
        }
    }
}

/// The rule in words, with its level; `None` where it cannot be used on so many values.
#[must_use]
pub fn in_words(rule: OutlierRule, level: f64, count: usize, words: &Words) -> Option<String> {
    let percent = format!("{:.0}", 100.0 * level);
    match rule {
        OutlierRule::None => None,
        OutlierRule::Deviation => (count >= 3).then(|| {
            say!(
                words,
                "more than {times} median absolute deviations (× {factor}) from the median",
                times = format_args!("{FAR:.0}"),
                factor = words.number(&AS_DEVIATION.to_string())
            )
        }),
        OutlierRule::Grubbs => (count >= 3).then(|| {
            say!(
                words,
                "by Grubbs' test for one value, two-sided, {percent} %",
                percent = percent
            )
        }),
        OutlierRule::Dixon => dixon_critical(count, level).map(|_| {
            say!(
                words,
                "by Dixon's ratio r₁₀ for one value, two-sided, {percent} %",
                percent = percent
            )
        }),
    }
}

fn by_deviation(values: &[f64]) -> Vec<usize> {
    if values.len() < 3 {
        return Vec::new();
    }
    let Some(median) = middle(values) else {
        return Vec::new();
    };
    let distances: Vec<f64> = values.iter().map(|value| (value - median).abs()).collect();
    let Some(spread) = middle(&distances).filter(|spread| *spread > 0.0) else {
        return Vec::new();
    };
    let limit = FAR * AS_DEVIATION * spread;
    (0..values.len())
        .filter(|place| distances[*place] > limit)
        .collect()
}

/// The value farthest from the mean, and its distance in sample standard deviations; `None` where all are equal.
#[must_use]
pub fn grubbs(values: &[f64]) -> Option<(usize, f64)> {
    let count = values.len() as f64;
    if values.len() < 3 {
        return None;
    }
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    let deviation = (squares / (count - 1.0)).sqrt();
    if deviation <= 0.0 || deviation.is_nan() {
        return None;
    }
    let distances = values.iter().map(|value| (value - mean).abs() / deviation);
    distances.enumerate().max_by(|a, b| a.1.total_cmp(&b.1))
}

/// Critical value of Grubbs' test for one value on either side:
/// (n − 1)/√n · √(t² / (n − 2 + t²)) with t = t(α/2n, n − 2) (NIST/SEMATECH e-Handbook, 1.3.5.17.1).
#[must_use]
pub fn grubbs_critical(count: usize, level: f64) -> f64 {
    let n = count as f64;
    let t = quantile(n - 2.0, 1.0 - (1.0 - level) / (2.0 * n));
    (n - 1.0) / n.sqrt() * (t * t / (n - 2.0 + t * t)).sqrt()
}

/// The value with the largest gap to its neighbour, of the two ends, and that gap over the range.
#[must_use]
pub fn dixon(values: &[f64]) -> Option<(usize, f64)> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    let [first, second, .., before, last] = order[..] else {
        let [a, b, c] = order[..] else { return None };
        return ends(values, [a, b, b, c]);
    };
    ends(values, [first, second, before, last])
}

fn ends(values: &[f64], [first, second, before, last]: [usize; 4]) -> Option<(usize, f64)> {
    let range = values[last] - values[first];
    if range <= 0.0 || range.is_nan() {
        return None;
    }
    let low = (values[second] - values[first]) / range;
    let high = (values[last] - values[before]) / range;
    Some(if low > high {
        (first, low)
    } else {
        (last, high)
    })
}

/// Critical value of Dixon's r₁₀; `None` for fewer than 3 or more than 30 values, or another level than 90, 95 or 99 %.
#[must_use]
pub fn dixon_critical(count: usize, level: f64) -> Option<f64> {
    let column = [0.90, 0.95, 0.99]
        .iter()
        .position(|known| (known - level).abs() < 1e-9)?;
    let row = DIXON.iter().find(|(n, _)| *n == count)?;
    Some(row.1[column])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wild_value_is_far_by_every_rule_and_a_quiet_class_has_none() {
        let quiet = [96.1, 97.0, 97.4, 97.9, 98.3, 98.8, 99.2];
        let wild = [96.1, 97.0, 97.4, 97.9, 98.3, 98.8, 133.0];
        for rule in [
            OutlierRule::Deviation,
            OutlierRule::Grubbs,
            OutlierRule::Dixon,
        ] {
            assert_eq!(far(&quiet, rule, 0.95), [] as [usize; 0], "{rule:?}");
            assert_eq!(far(&wild, rule, 0.95), [6], "{rule:?}");
        }
        assert_eq!(far(&wild, OutlierRule::None, 0.95), [] as [usize; 0]);
    }

    #[test]
    fn equal_values_and_few_values_have_no_far_one() {
        for values in [&[1.0, 1.0, 1.0, 1.0][..], &[1.0, 5.0], &[], &[3.0]] {
            for rule in [
                OutlierRule::Deviation,
                OutlierRule::Grubbs,
                OutlierRule::Dixon,
            ] {
                assert_eq!(
                    far(values, rule, 0.95),
                    [] as [usize; 0],
                    "{values:?} {rule:?}"
                );
            }
        }
    }
}
