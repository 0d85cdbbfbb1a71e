//! The units a file may use, and the dimensions that products and quotients of them have.

use std::fmt;

use crate::measure::spellings::SPELLINGS;
use crate::words::Filling;
use crate::words::Words;

/// A unit that a value is written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    /// g
    Gram,
    /// mg
    Milligram,
    /// µg
    Microgram,
    /// kg
    Kilogram,
    /// mL, the same as cm³
    Millilitre,
    /// µL
    Microlitre,
    /// L, the same as dm³
    Litre,
    /// mol
    Mole,
    /// mmol
    Millimole,
    /// µmol
    Micromole,
    /// mol/L, also written M
    MolePerLitre,
    /// mmol/L, also written mM
    MillimolePerLitre,
    /// g/mL, the same as g/cm³
    GramPerMillilitre,
    /// g/mol
    GramPerMole,
    /// °C
    DegreeCelsius,
    /// kPa
    Kilopascal,
    /// hPa, the same as mbar
    Hectopascal,
    /// Pa
    Pascal,
    /// bar
    Bar,
    /// atm, the standard atmosphere
    Atmosphere,
    /// mmHg, the conventional millimetre of mercury
    MillimetreOfMercury,
    /// Torr, 1/760 of an atmosphere
    Torr,
    /// %
    Percent,
    /// a plain number
    One,
}

/// Powers of the base quantities: what a product of units amounts to.
///
/// The base units are g, mol, L, °C and kPa. Percent is counted apart, since
/// `98.5 %` of a mass is a mass but a percentage is shown as one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Dimension {
    /// power of g
    pub mass: i8,
    /// power of mol
    pub amount: i8,
    /// power of L
    pub volume: i8,
    /// power of °C
    pub temperature: i8,
    /// power of kPa
    pub pressure: i8,
    /// 1 for a percentage
    pub percent: i8,
}

impl Unit {
    /// The unit as shown; empty for a plain number.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        SPELLINGS
            .iter()
            .find(|(unit, _)| *unit == self)
            .map_or("", |(_, names)| names[0])
    }

    /// The unit for a sentence: its symbol, or “a plain number”.
    #[must_use]
    pub fn in_words(self) -> &'static str {
        if self == Self::One {
            "a plain number"
        } else {
            self.symbol()
        }
    }

    /// The same in the language of a lab.
    #[must_use]
    pub fn said(self, words: &Words) -> &str {
        if self == Self::One {
            words.say("a plain number")
        } else {
            self.symbol()
        }
    }

    /// What the unit measures.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        let mut d = Dimension {
            mass: 0,
            amount: 0,
            volume: 0,
            temperature: 0,
            pressure: 0,
            percent: 0,
        };
        match self {
            Self::Gram | Self::Milligram | Self::Microgram | Self::Kilogram => d.mass = 1,
            Self::Millilitre | Self::Microlitre | Self::Litre => d.volume = 1,
            Self::Mole | Self::Millimole | Self::Micromole => d.amount = 1,
            Self::MolePerLitre | Self::MillimolePerLitre => {
                d.amount = 1;
                d.volume = -1;
            }
            Self::GramPerMillilitre => {
                d.mass = 1;
                d.volume = -1;
            }
            Self::GramPerMole => {
                d.mass = 1;
                d.amount = -1;
            }
            Self::DegreeCelsius => d.temperature = 1,
            Self::Kilopascal
            | Self::Hectopascal
            | Self::Pascal
            | Self::Bar
            | Self::Atmosphere
            | Self::MillimetreOfMercury
            | Self::Torr => d.pressure = 1,
            Self::Percent => d.percent = 1,
            Self::One => {}
        }
        d
    }

    /// The unit results of a dimension are shown in, if there is a named one.
    ///
    /// Volumes are shown in mL, as bench work reads them.
    #[must_use]
    pub fn for_dimension(dimension: Dimension) -> Option<Self> {
        [
            Self::Gram,
            Self::Millilitre,
            Self::Mole,
            Self::MolePerLitre,
            Self::GramPerMillilitre,
            Self::GramPerMole,
            Self::DegreeCelsius,
            Self::Kilopascal,
            Self::Percent,
            Self::One,
        ]
        .into_iter()
        // g/mL and g/L are of one dimension; the first named wins.
        .find(|unit| unit.dimension() == dimension)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

impl Filling for Unit {
    fn push_to(&self, out: &mut String) {
        out.push_str(self.symbol());
    }
}

impl Dimension {
    /// A plain number.
    pub const ONE: Self = Unit::One.dimension();

    /// That of the molar gas constant, kPa·L/(mol·K).
    pub const GAS_CONSTANT: Self = Self {
        amount: -1,
        volume: 1,
        temperature: -1,
        pressure: 1,
        ..Self::ONE
    };

    /// The dimension of a product.
    #[must_use]
    pub const fn times(self, other: Self) -> Self {
        Self {
            mass: self.mass.saturating_add(other.mass),
            amount: self.amount.saturating_add(other.amount),
            volume: self.volume.saturating_add(other.volume),
            temperature: self.temperature.saturating_add(other.temperature),
            pressure: self.pressure.saturating_add(other.pressure),
            percent: self.percent.saturating_add(other.percent),
        }
    }

    /// The dimension of a quotient.
    #[must_use]
    pub const fn over(self, other: Self) -> Self {
        Self {
            mass: self.mass.saturating_sub(other.mass),
            amount: self.amount.saturating_sub(other.amount),
            volume: self.volume.saturating_sub(other.volume),
            temperature: self.temperature.saturating_sub(other.temperature),
            pressure: self.pressure.saturating_sub(other.pressure),
            percent: self.percent.saturating_sub(other.percent),
        }
    }
}

/// The dimension as a unit: `g`, `mol/L`, `g·L`, “a plain number”.
impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(unit) = Unit::for_dimension(*self) {
            return f.write_str(unit.in_words());
        }
        let powers = [
            ("g", self.mass),
            ("mol", self.amount),
            ("L", self.volume),
            ("°C", self.temperature),
            ("kPa", self.pressure),
            ("%", self.percent),
        ];
        let write = |sign: i8| {
            powers
                .iter()
                .filter(|(_, power)| power.signum() == sign)
                .map(|(name, power)| match power.unsigned_abs() {
                    1 => (*name).to_owned(),
                    more => format!(
                        "{name}{}",
                        crate::measure::decimal::superscript(i64::from(more))
                    ),
                })
                .collect::<Vec<_>>()
                .join("·")
        };
        let (above, below) = (write(1), write(-1));
        let above = if above.is_empty() {
            "1".to_owned()
        } else {
            above
        };
        if below.is_empty() {
            f.write_str(&above)
        } else {
            write!(f, "{above}/{below}")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn products_are_named() {
        let amount = Unit::Millilitre
            .dimension()
            .times(Unit::MolePerLitre.dimension());
        assert_eq!(Unit::for_dimension(amount), Some(Unit::Mole));
        let odd = Unit::Gram.dimension().times(Unit::Mole.dimension());
        assert_eq!(odd.to_string(), "g·mol");
    }
}
