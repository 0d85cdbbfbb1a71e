//! Numbers brought from the unit they were written in to the base unit (g, mol, L, °C, kPa), and to other units.

use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;

/// Digits of a number brought to another unit by a factor that is no power of ten: far more than any instrument shows.
const DIGITS: i32 = 9;

impl Unit {
    /// The power of ten that takes a value in this unit to the base unit (g, mol, L, …); 0 for a unit that is no
    /// [decimal](Self::is_decimal) one, whose factor is [another](Self::exact_in_base).
    #[must_use]
    pub const fn power_to_base(self) -> i32 {
        match self {
            Self::Milligram
            | Self::Millilitre
            | Self::Millimole
            | Self::MillimolePerLitre
            | Self::Pascal => -3,
            Self::Microgram | Self::Microlitre | Self::Micromole => -6,
            Self::Bar => 2,
            Self::Kilogram | Self::GramPerMillilitre => 3,
            Self::Hectopascal => -1,
            _ => 0,
        }
    }

    /// Whether a power of ten takes a value in this unit to the base unit.
    #[must_use]
    pub const fn is_decimal(self) -> bool {
        !matches!(
            self,
            Self::Atmosphere | Self::MillimetreOfMercury | Self::Torr
        )
    }

    /// What a value is multiplied by, beside the power of ten, to have it in the base unit.
    fn factor(self) -> Exact {
        match self {
            Self::Atmosphere => Decimal::new(101_325, 3).to_exact(),
            Self::MillimetreOfMercury => Decimal::new(133_322_387_415, 12).to_exact(),
            Self::Torr => Self::Atmosphere.factor() / Decimal::new(760, 0).to_exact(),
            _ => Decimal::new(1, 0).to_exact(),
        }
    }

    /// A number in this unit, in the base unit.
    #[must_use]
    pub fn exact_in_base(self, number: Decimal) -> Exact {
        let number = number.shifted(self.power_to_base()).to_exact();
        if self.is_decimal() {
            number
        } else {
            number * self.factor()
        }
    }

    /// A number in this unit, in the base unit, as a decimal: exactly where a power of ten lies between them.
    #[must_use]
    pub fn decimal_in_base(self, number: Decimal) -> Decimal {
        if self.is_decimal() {
            return number.shifted(self.power_to_base());
        }
        rounding::to_figures(&self.exact_in_base(number), DIGITS, Rounding::HalfUp)
    }

    /// A number in this unit, in the base unit, as a binary number.
    #[must_use]
    pub fn in_base(self, number: Decimal) -> f64 {
        if self.is_decimal() {
            number.shifted(self.power_to_base()).to_f64()
        } else {
            self.exact_in_base(number).to_f64()
        }
    }

    /// A binary number in the base unit, in this unit.
    #[must_use]
    pub fn from_base(self, base: f64) -> f64 {
        let shifted = base / 10.0_f64.powi(self.power_to_base());
        if self.is_decimal() {
            shifted
        } else {
            shifted / self.factor().to_f64()
        }
    }

    /// A number in this unit, in another of its dimension: exactly where a power of ten lies between them.
    #[must_use]
    pub fn converted(self, number: Decimal, to: Self) -> Decimal {
        if self == to || (self.is_decimal() && to.is_decimal()) {
            return number.shifted(self.power_to_base() - to.power_to_base());
        }
        let one = to.exact_in_base(Decimal::new(1, 0));
        let exact = self.exact_in_base(number) / one;
        rounding::to_figures(&exact, DIGITS, Rounding::HalfUp)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(text: &str) -> Decimal {
        Decimal::parse(text).unwrap()
    }

    /// Sources, from memory: BIPM, The International System of Units, 9th edition, table 8 (bar, mmHg); NIST Special Publication
    /// 811, appendix B (atm = 101 325 Pa exactly, Torr = 1/760 atm exactly). The conventional mmHg is a column of 1 mm of a liquid of
    /// 13 595.1 kg/m³ under the standard gravity, 9.806 65 m/s² (3rd CGPM, 1901).
    #[test]
    fn pressures_have_their_defined_values() {
        let kilopascal = |text: &str, unit: Unit| unit.exact_in_base(number(text));
        for (text, unit, kpa) in [
            ("1", Unit::Atmosphere, "101.325"),
            ("1", Unit::Bar, "100"),
            ("101325", Unit::Pascal, "101.325"),
            ("1013.25", Unit::Hectopascal, "101.325"),
            ("760", Unit::Torr, "101.325"),
            ("1", Unit::MillimetreOfMercury, "0.133322387415"),
        ] {
            assert_eq!(
                kilopascal(text, unit),
                number(kpa).to_exact(),
                "{text} {unit}"
            );
        }
        let column = number("13595.1").to_exact() * number("9.80665").to_exact();
        let millimetre = Decimal::new(1, 6).to_exact();
        assert_eq!(
            kilopascal("1", Unit::MillimetreOfMercury),
            column * millimetre
        );
    }

    #[test]
    fn numbers_go_from_unit_to_unit() {
        for (text, from, to, converted) in [
            ("4.36", Unit::Gram, Unit::Milligram, "4360"),
            ("1013", Unit::Hectopascal, Unit::Kilopascal, "101.3"),
            ("760.0", Unit::Torr, Unit::Torr, "760.0"),
            ("760", Unit::Torr, Unit::Atmosphere, "1.00000000"),
            ("1", Unit::Atmosphere, Unit::Bar, "1.01325000"),
            (
                "1",
                Unit::Kilopascal,
                Unit::MillimetreOfMercury,
                "7.50061576",
            ),
        ] {
            let found = from.converted(number(text), to);
            assert_eq!(
                found.to_exact(),
                number(converted).to_exact(),
                "{text} {from} in {to}"
            );
        }
        assert!((Unit::Torr.from_base(Unit::Torr.in_base(number("757"))) - 757.0).abs() < 1e-9);
        assert!((Unit::Bar.in_base(number("1.013")) - 101.3).abs() < 1e-9);
    }
}
