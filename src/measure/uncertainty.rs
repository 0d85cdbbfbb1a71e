//! Standard uncertainty of one input, and how those of several combine.
//!
//! Source: JCGM 100:2008 (GUM). A digital reading lies anywhere within one step of the
//! display, a rectangular distribution of full width one step: u = step ÷ √12 (4.3.7).
//! A tolerance or a ± is a half-width: u = half-width ÷ √3. Independent inputs combine in
//! quadrature of ∂f/∂x · u (5.1.2); the same input used twice is one input, so its
//! derivatives add before they are squared.

use crate::measure::Decimal;
use crate::measure::Instrument;
use crate::measure::Reading;
use crate::measure::Spread;
use crate::measure::Unit;

/// How far one input may be off, in its base unit (g, mol, L, °C, kPa, fraction of one).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Doubt {
    /// Standard uncertainty.
    pub standard: f64,
    /// Half-width of the limits, for the worst-case rule.
    pub half_width: f64,
}

impl Doubt {
    /// Of limits: the value lies anywhere within ± `half_width`.
    #[must_use]
    pub fn limits(half_width: f64) -> Self {
        let half_width = half_width.abs();
        Self {
            standard: half_width / 3.0_f64.sqrt(),
            half_width,
        }
    }

    /// Of a stated standard uncertainty; its limits are taken as a rectangle of that standard uncertainty.
    #[must_use]
    pub fn standard(standard: f64) -> Self {
        let standard = standard.abs();
        Self {
            standard,
            half_width: standard * 3.0_f64.sqrt(),
        }
    }

    /// Of a reading: what it states itself, else its instrument's tolerance, else the step of the display.
    ///
    /// A reading written with fewer digits than the display shows is only good to its last digit.
    /// Without an instrument the last digit written is the step.
    #[must_use]
    pub fn of_reading(reading: &Reading, instrument: Option<&Instrument>) -> Self {
        let unit = reading.unit.unwrap_or(Unit::One);
        if reading.exact {
            return Self::default();
        }
        match reading.spread {
            Some(Spread::Limits(half)) => return Self::limits(unit.in_base(half)),
            Some(Spread::Standard(u)) => return Self::standard(unit.in_base(u)),
            None => {}
        }
        let last_digit = unit.in_base(Decimal::new(1, reading.number.places()));
        let Some(instrument) = instrument else {
            return Self::limits(last_digit / 2.0);
        };
        let own = |decimal: Decimal| instrument.unit.in_base(decimal);
        match (instrument.tolerance, instrument.readability) {
            (Some(tolerance), _) => Self::limits(own(tolerance).max(last_digit / 2.0)),
            (None, Some(step)) => Self::limits(own(step).max(last_digit) / 2.0),
            (None, None) => Self::limits(last_digit / 2.0),
        }
    }
}

/// One input's share in a result's uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// ∂f/∂x · u, with its sign, in the result's base unit.
    pub contribution: f64,
    /// |∂f/∂x| · half-width.
    pub limit: f64,
}

/// Root of the sum of squares.
#[must_use]
pub fn in_quadrature(shares: &[Share]) -> f64 {
    shares
        .iter()
        .map(|share| share.contribution * share.contribution)
        .sum::<f64>()
        .sqrt()
}

/// Limits added up: the worst case.
#[must_use]
pub fn worst_case(shares: &[Share]) -> f64 {
    shares.iter().map(|share| share.limit).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(text: &str, spread: Option<Spread>) -> Reading {
        Reading {
            number: Decimal::parse(text).unwrap(),
            unit: Some(Unit::Gram),
            spread,
            exact: false,
            approximate: false,
            note: None,
            time: None,
        }
    }

    fn balance(readability: &str, tolerance: Option<&str>) -> Instrument {
        Instrument {
            name: "balance".to_owned(),
            unit: Unit::Gram,
            readability: Some(Decimal::parse(readability).unwrap()),
            tolerance: tolerance.map(|text| Decimal::parse(text).unwrap()),
        }
    }

    fn close(a: f64, b: f64) {
        assert!((a - b).abs() < 1e-12, "{a} is not {b}");
    }

    #[test]
    fn a_display_step_is_a_full_width_and_a_tolerance_a_half_width() {
        let plain = reading("104.18", None);
        close(
            Doubt::of_reading(&plain, Some(&balance("0.01", None))).standard,
            0.01 / 12.0_f64.sqrt(),
        );
        close(
            Doubt::of_reading(&plain, Some(&balance("0.01", Some("0.02")))).standard,
            0.02 / 3.0_f64.sqrt(),
        );
        close(
            Doubt::of_reading(&plain, Some(&balance("0.01", None))).half_width,
            0.005,
        );
    }

    #[test]
    fn what_the_reading_states_counts_first() {
        let limits = reading(
            "12.270",
            Some(Spread::Limits(Decimal::parse("0.005").unwrap())),
        );
        close(
            Doubt::of_reading(&limits, Some(&balance("0.01", None))).standard,
            0.005 / 3.0_f64.sqrt(),
        );
        let standard = reading(
            "12.270",
            Some(Spread::Standard(Decimal::parse("0.005").unwrap())),
        );
        close(Doubt::of_reading(&standard, None).standard, 0.005);
    }

    #[test]
    fn dropped_digits_cost() {
        close(
            Doubt::of_reading(&reading("104", None), Some(&balance("0.01", None))).half_width,
            0.5,
        );
    }
}
