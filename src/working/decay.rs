//! What is still to come off in a drying series: an exponential through the weighings, with its uncertainty, or an honest refusal.
//!
//! m(t) = m∞ + a·exp(−k·t), fitted by least squares with readings of equal weight; for each k the other
//! two are linear. Uncertainty from the covariance u²·(JᵀJ)⁻¹ of the three parameters (JCGM 100:2008, H.3, in matrix form).

use statrs::distribution::ChiSquared;
use statrs::distribution::ContinuousCDF;

use crate::measure::quantile;

/// What a series says about its end.
#[derive(Debug, Clone, PartialEq)]
pub enum Estimate {
    /// Fewer than three weighings.
    TooFew,
    /// So much is still to come off, in g, with its standard uncertainty.
    Left {
        /// The amount.
        amount: f64,
        /// Its standard uncertainty.
        standard: f64,
        /// Whether the times written beside the readings were used; otherwise each drying counts as equally long.
        timed: bool,
    },
    /// It no longer changes by more than the readings can tell.
    Settled,
    /// The last weighing was not lower than the one before.
    NotFalling,
    /// It falls as fast as before, or faster: no end is in sight.
    NotSlowing,
    /// It does not fall along one exponential.
    NoExponential,
    /// The readings leave the end open: anything up to this much, in g.
    Open(f64),
}

/// A share of its own amount beyond which an uncertainty makes an estimate useless.
const USEFUL: f64 = 0.5;
/// An amount left below this part of the readings' uncertainty is none.
const AT_ITS_END: f64 = 0.1;
/// How sure a misfit must be before it is called one.
const SURE: f64 = 0.99;

/// The estimate from masses in g, each with the same standard uncertainty, and from their times in hours if all are known.
#[must_use]
pub fn estimate(masses: &[f64], times: Option<&[f64]>, standard: f64) -> Estimate {
    let [first, .., before, last] = masses else {
        return Estimate::TooFew;
    };
    // A difference of two readings is √2 as uncertain as one.
    let noise = 2.0 * standard * std::f64::consts::SQRT_2;
    if (first - last).abs() <= noise && (before - last).abs() <= noise {
        return Estimate::Settled;
    }
    if last > before || last >= first {
        return Estimate::NotFalling;
    }
    let steps: Vec<f64> = (0..masses.len()).map(|step| step as f64).collect();
    let rising = |times: &&[f64]| {
        times.len() == masses.len() && times.windows(2).all(|pair| pair[1] > pair[0])
    };
    let timed = times.filter(rising);
    let times = timed.unwrap_or(&steps);
    let span = times[times.len() - 1] - times[0];
    // Time from the last weighing, in spans of the whole series: then the amount left is a itself.
    let scaled: Vec<f64> = times
        .iter()
        .map(|time| (time - times[times.len() - 1]) / span)
        .collect();
    let Some(fit) = Fit::best(&scaled, masses) else {
        return Estimate::NotSlowing;
    };
    if fit.left < AT_ITS_END * standard {
        return Estimate::Settled;
    }
    let freedom = masses.len() - 3;
    if freedom > 0 && standard > 0.0 {
        let most = ChiSquared::new(freedom as f64).map_or(f64::INFINITY, |chi| {
            quantile::quantile(|value| chi.cdf(value), SURE)
        });
        if fit.misfit / (standard * standard) > most {
            return Estimate::NoExponential;
        }
    }
    let Some(variance) = fit.variance_of_left(&scaled) else {
        return Estimate::NotSlowing;
    };
    let doubt = standard * variance.sqrt();
    // Less than a display step is no amount worth an argument, however uncertain.
    if doubt > USEFUL * fit.left && fit.left + 2.0 * doubt > noise {
        return Estimate::Open(fit.left + 2.0 * doubt);
    }
    Estimate::Left {
        amount: fit.left,
        standard: doubt,
        timed: timed.is_some(),
    }
}

/// An exponential through the weighings, on times that end at 0 and begin at −1.
struct Fit {
    rate: f64,
    /// The amount above the end at the last weighing.
    left: f64,
    /// Sum of the squares of what it misses.
    misfit: f64,
}

impl Fit {
    /// The best rate between an end far away and one reached at once; `None` where the best is no end at all.
    fn best(times: &[f64], masses: &[f64]) -> Option<Self> {
        const SLOWEST: f64 = 0.02;
        const FASTEST: f64 = 60.0;
        const GRID: i32 = 120;
        let rate =
            |step: i32| SLOWEST * (FASTEST / SLOWEST).powf(f64::from(step) / f64::from(GRID));
        let misfit =
            |rate: f64| Self::at(rate, times, masses).map_or(f64::INFINITY, |fit| fit.misfit);
        let (mut best, mut least) = (0, f64::INFINITY);
        for step in 0..=GRID {
            let here = misfit(rate(step));
            if here < least {
                (best, least) = (step, here);
            }
        }
        if best == 0 {
            return None;
        }
        // The minimum lies between the neighbours of the best step of the grid: halve by the golden section.
        let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
        let (mut low, mut high) = (rate(best - 1).ln(), rate((best + 1).min(GRID)).ln());
        for _ in 0..80 {
            let (a, b) = (high - golden * (high - low), low + golden * (high - low));
            if misfit(a.exp()) < misfit(b.exp()) {
                high = b;
            } else {
                low = a;
            }
        }
        let fit = Self::at(f64::midpoint(low, high).exp(), times, masses)?;
        (fit.left > 0.0).then_some(fit)
    }

    /// The best end and amount for a rate: a straight line through the masses against exp(−k·t).
    fn at(rate: f64, times: &[f64], masses: &[f64]) -> Option<Self> {
        let count = masses.len() as f64;
        let x: Vec<f64> = times.iter().map(|time| (-rate * time).exp()).collect();
        let (mean_x, mean_m) = (
            x.iter().sum::<f64>() / count,
            masses.iter().sum::<f64>() / count,
        );
        let spread: f64 = x.iter().map(|x| (x - mean_x).powi(2)).sum();
        if spread <= 0.0 || !spread.is_finite() {
            return None;
        }
        let slope = x
            .iter()
            .zip(masses)
            .map(|(x, m)| (x - mean_x) * (m - mean_m))
            .sum::<f64>()
            / spread;
        let misfit = x
            .iter()
            .zip(masses)
            .map(|(x, m)| (m - mean_m - slope * (x - mean_x)).powi(2))
            .sum();
        Some(Self {
            rate,
            left: slope,
            misfit,
        })
    }

    /// Variance of the amount left for readings of variance 1.
    fn variance_of_left(&self, times: &[f64]) -> Option<f64> {
        let mut normal = [[0.0_f64; 3]; 3];
        for time in times {
            let x = (-self.rate * time).exp();
            let row = [1.0, x, -self.left * time * x];
            for (a, line) in row.iter().zip(&mut normal) {
                for (b, cell) in row.iter().zip(line) {
                    *cell += a * b;
                }
            }
        }
        let minor = |i: usize, j: usize, k: usize, l: usize| {
            normal[i][k] * normal[j][l] - normal[i][l] * normal[j][k]
        };
        let determinant = normal[0][0] * minor(1, 2, 1, 2) - normal[0][1] * minor(1, 2, 0, 2)
            + normal[0][2] * minor(1, 2, 0, 1);
        let cofactor = minor(0, 2, 0, 2);
        let variance = cofactor / determinant;
        (variance.is_finite() && variance > 0.0).then_some(variance)
    }
}

/// A time of day in minutes: `14:10`, `2:10 pm`.
#[must_use]
pub fn minutes(clock: &str) -> Option<i32> {
    let clock = clock.trim().to_lowercase();
    let digits = clock.trim_end_matches(|c: char| c.is_alphabetic() || c == '.' || c == ' ');
    let (hour, minute) = digits.split_once([':', '.', 'h'])?;
    let (hour, minute): (i32, i32) = (hour.trim().parse().ok()?, minute.trim().parse().ok()?);
    let afternoon = clock[digits.len()..].trim().starts_with('p');
    let hour = if afternoon && hour < 12 {
        hour + 12
    } else {
        hour
    };
    ((0..24).contains(&hour) && (0..60).contains(&minute)).then_some(60 * hour + minute)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decay(end: f64, amount: f64, rate: f64, times: &[f64]) -> Vec<f64> {
        let mass = |time: &f64| end + amount * (-rate * time).exp();
        times.iter().map(mass).collect()
    }

    #[test]
    fn three_weighings_give_the_rest_of_a_geometric_series() {
        // d₁ = 0.40, d₂ = 0.10: a quarter each time, so 0.10·(1/4 + 1/16 + …) = 0.10/3 is left.
        let Estimate::Left { amount, timed, .. } = estimate(&[10.50, 10.10, 10.00], None, 0.0003)
        else {
            panic!("no estimate")
        };
        assert!((amount - 0.1 / 3.0).abs() < 1e-6, "{amount}");
        assert!(!timed);
    }

    #[test]
    fn uneven_times_are_counted() {
        let times = [9.0, 9.5, 11.0, 12.0];
        let masses = decay(20.0, 1.2, 0.9, &[0.0, 0.5, 2.0, 3.0]);
        let Estimate::Left { amount, timed, .. } = estimate(&masses, Some(&times), 0.0003) else {
            panic!("no estimate")
        };
        assert!(timed);
        assert!((amount - 1.2 * (-2.7_f64).exp()).abs() < 1e-6, "{amount}");
        // Equal steps would be another curve.
        assert_eq!(estimate(&masses, None, 0.0003), Estimate::NoExponential);
    }

    #[test]
    fn the_uncertainty_is_that_of_repeated_rounding() {
        // 2,000 series with the same end, each reading off by a random part of a step: the spread of the estimates.
        let (step, mut state) = (0.01_f64, 7_u64);
        let mut random = || {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            (state >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        };
        let masses = decay(50.0, 2.0, 0.7, &[0.0, 1.0, 2.0, 3.0, 4.0]);
        let standard = step / 12.0_f64.sqrt();
        let mut found = Vec::new();
        let mut said = 0.0;
        for _ in 0..2000 {
            let off: Vec<f64> = masses.iter().map(|mass| mass + step * random()).collect();
            if let Estimate::Left {
                amount, standard, ..
            } = estimate(&off, None, standard)
            {
                found.push(amount);
                said += standard;
            }
        }
        let count = found.len() as f64;
        assert!(count > 1990.0, "{count}");
        let mean = found.iter().sum::<f64>() / count;
        let spread = (found.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt();
        // The spread of 2,000 values is known to 1.6 %; 5 % is three of that.
        assert!(
            (spread / (said / count) - 1.0).abs() < 0.05,
            "{spread} {}",
            said / count
        );
    }

    #[test]
    fn what_the_data_do_not_support_is_refused() {
        for (masses, refusal) in [
            (vec![10.5, 10.4], Estimate::TooFew),
            (vec![10.50, 10.20, 10.21], Estimate::NotFalling),
            (vec![10.50, 10.40, 10.30], Estimate::NotSlowing),
            (vec![10.50, 10.45, 10.30], Estimate::NotSlowing),
            (vec![10.01, 10.00, 10.00, 10.00], Estimate::Settled),
            (vec![12.0, 11.0, 10.9, 10.2, 10.19], Estimate::NoExponential),
        ] {
            assert_eq!(estimate(&masses, None, 0.003), refusal, "{masses:?}");
        }
        let open = estimate(&[10.50, 10.46, 10.43], None, 0.003);
        assert!(
            matches!(open, Estimate::Open(most) if most > 0.09),
            "{open:?}"
        );
    }

    #[test]
    fn times_of_day_are_read() {
        for (text, is) in [
            ("14:10", Some(850)),
            ("2:30 pm", Some(870)),
            ("12:00 pm", Some(720)),
            ("9.15", Some(555)),
            ("14h30", Some(870)),
            ("25:00", None),
            ("noon", None),
        ] {
            assert_eq!(minutes(text), is, "{text}");
        }
    }
}
