//! The vapour pressure of water: what a gas collected over water shares its pressure with.

use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Rounding;
use crate::measure::rounding;

/// Vapour pressure at 0, 1, 2, … 40 °C, in units of 0.00001 kPa.
///
/// Source: CRC Handbook of Chemistry and Physics, 73rd edition (1992–93), vapour pressure of water. At 38 °C, where the copy that
/// was at hand says 6.6398, stands 6.6298: only that fits the values beside it and the equation of state.
const TABLE: [i128; 41] = [
    61_129, 65_716, 70_605, 75_813, 81_359, 87_260, 93_537, 100_210, 107_300, 114_820, 122_810,
    131_290, 140_270, 149_790, 159_880, 170_560, 181_850, 193_800, 206_440, 219_780, 233_880,
    248_770, 264_470, 281_040, 298_500, 316_900, 336_290, 356_700, 378_180, 400_780, 424_550,
    449_530, 475_780, 503_350, 532_290, 562_670, 594_530, 627_950, 662_980, 699_690, 738_140,
];

/// The highest temperature of the table in °C.
pub const HIGHEST: usize = TABLE.len() - 1;

/// Decimals of a value in kPa, as a table for the classroom prints it.
const PLACES: i32 = 2;

/// The vapour pressure of water at a temperature (°C) in kPa, and how fast it rises there (kPa/°C).
///
/// Between two lines of the table it is found by proportion, and then rounded to 0.01 kPa, as it would be looked up by hand: who
/// repeats the calculation with a printed table works with the same number. The rounding is far below what a barometer tells.
/// `None` outside the table, below 0 °C and above [`HIGHEST`].
#[must_use]
pub fn vapour_pressure(celsius: &Exact) -> Option<(Exact, f64)> {
    let line = usize::try_from(celsius.floor()?).ok()?;
    let line = if celsius.is_integer() {
        line.min(HIGHEST - 1).max(line.saturating_sub(1))
    } else {
        line
    };
    let at = |line: usize| Some(Decimal::new(*TABLE.get(line)?, 5).to_exact());
    let low = at(line)?;
    let rise = at(line + 1)? - &low;
    let part = celsius - Exact::from_integer(line as i128);
    let found = low + &rise * part;
    let looked_up = rounding::to_places(&found, PLACES, Rounding::HalfUp);
    Some((looked_up.to_exact(), rise.to_f64()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A digit read wrong in one line would bend the curve there.
    #[test]
    fn the_table_has_no_kink() {
        let steps: Vec<i128> = TABLE.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let bends: Vec<i128> = steps.windows(2).map(|pair| pair[1] - pair[0]).collect();
        for (celsius, pair) in bends.windows(2).enumerate() {
            let change = pair[1] - pair[0];
            assert!(change.abs() <= 100, "near {} °C: {change}", celsius + 2);
        }
    }

    #[test]
    fn values_are_found_between_the_lines_and_nowhere_else() {
        for (celsius, expected) in [
            ("0", Some("0.61")),
            ("21", Some("2.49")),
            ("21.5", Some("2.57")),
            ("22.0", Some("2.64")),
            ("25.00", Some("3.17")),
            ("39.99", Some("7.38")),
            ("40", Some("7.38")),
            ("40.1", None),
            ("-0.1", None),
            ("400", None),
        ] {
            let found = vapour_pressure(&Decimal::parse(celsius).unwrap().to_exact());
            let found = found.map(|(value, _)| {
                rounding::to_places(&value, PLACES, Rounding::HalfUp).to_string()
            });
            assert_eq!(found.as_deref(), expected, "{celsius}");
        }
    }
}
