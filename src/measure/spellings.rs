//! Every way of writing a unit, and what a misspelt one can only mean.

use crate::measure::Unit;

/// Every unit with the ways of writing it, the first being the one shown.
pub(super) const SPELLINGS: &[(Unit, &[&str])] = &[
    (
        Unit::Gram,
        &[
            "g", "gram", "grams", "gramme", "grammes", "gr", "gm", "gramm",
        ],
    ),
    (
        Unit::Milligram,
        &["mg", "milligram", "milligrams", "milligramm"],
    ),
    (
        Unit::Microgram,
        &["µg", "μg", "ug", "microgram", "micrograms", "mikrogramm"],
    ),
    (
        Unit::Kilogram,
        &["kg", "kilogram", "kilograms", "kilogramm"],
    ),
    (
        Unit::Millilitre,
        &[
            "mL",
            "ml",
            "cm³",
            "cm3",
            "cm^3",
            "cc",
            "millilitre",
            "millilitres",
            "milliliter",
            "milliliters",
        ],
    ),
    (
        Unit::Litre,
        &[
            "L", "l", "dm³", "dm3", "dm^3", "litre", "litres", "liter", "liters",
        ],
    ),
    (
        Unit::Microlitre,
        &[
            "µL",
            "µl",
            "μL",
            "μl",
            "uL",
            "ul",
            "microlitre",
            "microlitres",
            "microliter",
            "microliters",
            "mikroliter",
        ],
    ),
    (Unit::Mole, &["mol", "mole", "moles", "mols"]),
    (
        Unit::Millimole,
        &["mmol", "millimole", "millimoles", "millimol"],
    ),
    (
        Unit::Micromole,
        &[
            "µmol",
            "μmol",
            "umol",
            "micromole",
            "micromoles",
            "micromol",
            "mikromol",
        ],
    ),
    (
        Unit::MolePerLitre,
        &[
            "mol/L",
            "M",
            "mol/l",
            "mol L⁻¹",
            "mol L^-1",
            "mol/dm³",
            "mol/dm3",
            "mol/dm^3",
            "mol dm⁻³",
            "mol dm^-3",
            "molar",
        ],
    ),
    (
        Unit::MillimolePerLitre,
        &[
            "mmol/L",
            "mmol/l",
            "mmol L⁻¹",
            "mmol L^-1",
            "mmol/dm³",
            "mmol/dm3",
            "mmol/dm^3",
            "mmol dm⁻³",
            "mmol dm^-3",
            "millimolar",
        ],
    ),
    (
        Unit::GramPerMillilitre,
        &[
            "g/mL",
            "g/ml",
            "g/cm³",
            "g/cm3",
            "g/cm^3",
            "g mL⁻¹",
            "g cm⁻³",
            "g cm^-3",
        ],
    ),
    (Unit::GramPerMole, &["g/mol", "g mol⁻¹", "g mol^-1"]),
    (
        Unit::DegreeCelsius,
        &[
            "°C",
            "C",
            "ºC",
            "° C",
            "deg C",
            "deg. C",
            "degC",
            "celsius",
            "℃",
            "degree C",
            "degrees C",
            "degree celsius",
            "degrees celsius",
            "° celsius",
            "°celsius",
            "grad C",
            "grad celsius",
        ],
    ),
    (
        Unit::Kilopascal,
        &["kPa", "kpa", "KPa", "kilopascal", "kilopascals"],
    ),
    (
        Unit::Hectopascal,
        &[
            "hPa",
            "hpa",
            "mbar",
            "millibar",
            "millibars",
            "hectopascal",
            "hectopascals",
        ],
    ),
    (Unit::Pascal, &["Pa", "pa", "pascal", "pascals"]),
    (Unit::Bar, &["bar", "bars"]),
    (
        Unit::Atmosphere,
        &[
            "atm",
            "atmosphere",
            "atmospheres",
            "atmosphäre",
            "atmosphaere",
        ],
    ),
    (
        Unit::MillimetreOfMercury,
        &["mmHg", "mm Hg", "mm of Hg", "mm of mercury"],
    ),
    (Unit::Torr, &["Torr", "torr"]),
    (
        Unit::Percent,
        &["%", "percent", "per cent", "pct", "prozent"],
    ),
];

/// The units whose names are spelt out, and so misspelt.
const SPELT_OUT: &[Unit] = &[
    Unit::Gram,
    Unit::Milligram,
    Unit::Microgram,
    Unit::Kilogram,
    Unit::Millilitre,
    Unit::Microlitre,
    Unit::Litre,
    Unit::Mole,
    Unit::Millimole,
    Unit::Micromole,
    Unit::DegreeCelsius,
    Unit::Percent,
];

/// Units that a prefix may stand in front of.
const WITHOUT_PREFIX: &[Unit] = &[
    Unit::Gram,
    Unit::Litre,
    Unit::Mole,
    Unit::MolePerLitre,
    Unit::Pascal,
    Unit::Bar,
];

/// The prefixes of units known here, as one letter, each with its power of ten.
const PREFIXES: &[(char, i32)] = &[('m', -3), ('k', 3), ('µ', -6), ('μ', -6), ('u', -6)];

/// Words for degrees that do not say which; where a temperature is asked, they can only be those of Celsius.
const DEGREES: &[&str] = &["°", "º", "deg", "degree", "degrees", "grad", "grads"];

/// Short forms and slips that are more than a letter away from a name, or shorter than others are looked at.
const SLIPS: &[(&str, Unit)] = &[
    ("gms", Unit::Gram),
    ("grm", Unit::Gram),
    ("grms", Unit::Gram),
    ("mgs", Unit::Milligram),
    ("kgs", Unit::Kilogram),
    ("mls", Unit::Millilitre),
    ("ccm", Unit::Millilitre),
    ("milliter", Unit::Millilitre),
    ("milliters", Unit::Millilitre),
    ("millitre", Unit::Millilitre),
    ("millitres", Unit::Millilitre),
    ("ltr", Unit::Litre),
    ("moll", Unit::Mole),
    ("mmols", Unit::Millimole),
];

/// Shorter words are a letter away from too much else: `grad` is no gram.
const FEWEST_LETTERS: usize = 5;

impl Unit {
    /// Reads a unit as students write it: `g`, `grams`, `ml`, `cm3`, `M`, `%`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let exact = SPELLINGS.iter().find(|(_, names)| names.contains(&text));
        let any_case = || {
            // A single letter means different things in either case (m, M), so only longer words are folded.
            (text.chars().count() > 1).then(|| {
                SPELLINGS
                    .iter()
                    .find(|(_, names)| names.iter().any(|name| name.eq_ignore_ascii_case(text)))
            })?
        };
        exact
            .or_else(any_case)
            .map(|(unit, _)| *unit)
            .or(match text {
                "G" => Some(Self::Gram),
                // In other capitals it is a length.
                "mM" => Some(Self::MillimolePerLitre),
                _ => None,
            })
    }

    /// Every spelling understood, for suggestions.
    pub fn spellings() -> impl Iterator<Item = &'static str> {
        SPELLINGS
            .iter()
            .flat_map(|(_, names)| names.iter().copied())
    }

    /// Whether a word means degrees and does not say which: `Grad`, `degrees`, `°`.
    #[must_use]
    pub fn is_degrees(text: &str) -> bool {
        DEGREES.contains(&text.trim_end_matches('.').to_lowercase().as_str())
    }

    /// The unit behind one letter in front, which may be a prefix: mol for `nmol`, g for `cgrams`.
    #[must_use]
    pub fn behind_a_letter(text: &str) -> Option<Self> {
        let mut letters = text.chars();
        letters.next()?;
        let rest = letters.as_str();
        Self::parse(rest).or_else(|| Self::misspelt(rest))
    }

    /// The same unit with a prefix in front, where that is a unit known here.
    fn prefixed(self, power: i32) -> Option<Self> {
        SPELLINGS.iter().map(|(unit, _)| *unit).find(|unit| {
            WITHOUT_PREFIX.contains(&self)
                && unit.is_decimal()
                && unit.dimension() == self.dimension()
                && unit.power_to_base() == self.power_to_base() + power
        })
    }

    /// The one unit that a misspelt name can mean: `gramms`, `mililiter`, one letter away from a name that is spelt out; a prefix as
    /// one letter before a name: `mgrams`; or a slip that is known: `mls`. No prefix is ever taken for a slip: a name begins as it
    /// should, and one letter in front of a unit is a prefix or something unknown.
    #[must_use]
    pub fn misspelt(text: &str) -> Option<Self> {
        let word = text.to_lowercase();
        if let Some((_, unit)) = SLIPS.iter().find(|(slip, _)| *slip == word) {
            return Some(*unit);
        }
        if word.chars().count() < FEWEST_LETTERS || !word.chars().all(char::is_alphabetic) {
            return None;
        }
        if Self::is_degrees(&word) {
            return None;
        }
        let first = word.chars().next();
        if let Some(unit) = Self::behind_a_letter(&word) {
            let (_, power) = PREFIXES.iter().find(|(prefix, _)| first == Some(*prefix))?;
            return unit.prefixed(*power);
        }
        let mut near = SPELLINGS.iter().filter(|(_, names)| {
            names
                .iter()
                .filter(|name| name.chars().count() + 1 >= FEWEST_LETTERS)
                .filter(|name| name.chars().next() == first)
                .any(|name| strsim::damerau_levenshtein(&word, name) == 1)
        });
        let (unit, _) = near.next()?;
        (near.next().is_none() && SPELT_OUT.contains(unit)).then_some(*unit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn students_spellings() {
        for (text, unit) in [
            ("g", Unit::Gram),
            ("Grams", Unit::Gram),
            ("ML", Unit::Millilitre),
            ("cm3", Unit::Millilitre),
            ("dm³", Unit::Litre),
            ("M", Unit::MolePerLitre),
            ("%", Unit::Percent),
            ("Gramm", Unit::Gram),
            ("Prozent", Unit::Percent),
        ] {
            assert_eq!(Unit::parse(text), Some(unit), "{text}");
        }
        assert_eq!(Unit::parse("m"), None);
        assert_eq!(Unit::parse(""), None);
    }

    #[test]
    fn a_name_misspelt_in_one_letter_is_the_unit_it_can_only_mean() {
        for (text, unit) in [
            ("gramms", Unit::Gram),
            ("Garms", Unit::Gram),
            ("gramos", Unit::Gram),
            ("miligrams", Unit::Milligram),
            ("kilogramms", Unit::Kilogram),
            ("litters", Unit::Litre),
            ("mililiter", Unit::Millilitre),
            ("milliters", Unit::Millilitre),
            ("molles", Unit::Mole),
            ("precent", Unit::Percent),
            ("mls", Unit::Millilitre),
            ("Moll", Unit::Mole),
            ("celcius", Unit::DegreeCelsius),
            ("mgrams", Unit::Milligram),
            ("mgram", Unit::Milligram),
            ("mgramms", Unit::Milligram),
            ("kgram", Unit::Kilogram),
            ("kgrams", Unit::Kilogram),
            ("µgram", Unit::Microgram),
            ("μgrams", Unit::Microgram),
            ("mliters", Unit::Millilitre),
            ("mlitre", Unit::Millilitre),
            ("uliter", Unit::Microlitre),
            ("mmole", Unit::Millimole),
            ("mmoles", Unit::Millimole),
            ("umoles", Unit::Micromole),
            ("mbars", Unit::Hectopascal),
            ("mmolar", Unit::MillimolePerLitre),
        ] {
            assert_eq!(Unit::parse(text), None, "{text}");
            assert_eq!(Unit::misspelt(text), Some(unit), "{text}");
        }
        for text in [
            "grad",
            "grain",
            "meter",
            "molal",
            "grads",
            "drams",
            "cgrams",
            "dgram",
            "ngrams",
            "mmgrams",
            "kliters",
            "cliter",
            "nmole",
            "kmoles",
            "mmmoles",
            "moler",
            "milogram",
            "picogram",
            "centiliter",
            "kilomole",
            "gramm Kupfer",
            "silver",
            "ounces",
            "grams1",
        ] {
            assert_eq!(Unit::misspelt(text), None, "{text}");
        }
    }

    /// A slip may never turn one power of ten into another.
    #[test]
    fn a_letter_in_front_of_a_name_never_disappears() {
        for (unit, names) in SPELLINGS {
            for name in *names {
                for letter in ('a'..='z').chain(['µ', 'μ']) {
                    let word = format!("{letter}{name}");
                    let read = Unit::parse(&word).or_else(|| Unit::misspelt(&word));
                    assert_ne!(read, Some(*unit), "{word}");
                }
            }
        }
    }

    #[test]
    fn millionths_are_read_with_either_sign() {
        for (text, unit) in [
            ("µg", Unit::Microgram),
            ("μg", Unit::Microgram),
            ("ug", Unit::Microgram),
            ("µL", Unit::Microlitre),
            ("μl", Unit::Microlitre),
            ("µmol", Unit::Micromole),
            ("umol", Unit::Micromole),
            ("Mikromol", Unit::Micromole),
        ] {
            assert_eq!(Unit::parse(text), Some(unit), "{text}");
            assert_eq!(unit.power_to_base(), -6, "{text}");
        }
    }

    #[test]
    fn millimolar_is_no_length() {
        assert_eq!(Unit::parse("mM"), Some(Unit::MillimolePerLitre));
        assert_eq!(Unit::parse("mmol/l"), Some(Unit::MillimolePerLitre));
        assert_eq!(Unit::parse("mm"), None);
    }
}
