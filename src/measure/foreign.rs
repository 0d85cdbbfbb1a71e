//! Units of laboratories that no file may use: what to do about each, so that nobody changes the unit and keeps the number.

use crate::measure::Unit;

/// Each with what to do about it, in small letters. Factors: NIST Special Publication 811, appendix B.
const FOREIGN: &[(&[&str], &str)] = &[
    (
        &["inhg", "in hg"],
        "multiply the number by 3.38639 and type it in kPa",
    ),
    (
        &["psi"],
        "multiply the number by 6.89476 and type it in kPa",
    ),
    (
        &["k", "kelvin"],
        "take 273.15 from the number and type it in °C",
    ),
    (
        &["°f", "f", "fahrenheit", "deg f"],
        "take 32 from the number, divide by 1.8 and type it in °C",
    ),
    (
        &["oz", "ounces"],
        "multiply the number by 28.3495 and type it in g",
    ),
    (
        &["lb", "lbs"],
        "multiply the number by 453.592 and type it in g",
    ),
    (&["cl"], "multiply the number by 10 and type it in mL"),
    (&["dl"], "multiply the number by 100 and type it in mL"),
    (
        &["mm"],
        "mm is a length; for a pressure type mmHg behind the number, for a mass mg or g",
    ),
    (
        &[
            "cm",
            "m",
            "km",
            "in",
            "inch",
            "inches",
            "meter",
            "metre",
            "metres",
            "meters",
            "zentimeter",
            "ft",
        ],
        "a length is neither a mass nor a volume; type what the instrument of this line showed, with its unit, such as g or mL",
    ),
];

/// What to do about degrees that may be of an angle.
const DEGREES: &str = "type °C behind the number";

/// What to do about a unit that is known in laboratories but not here, in English.
#[must_use]
pub fn instead(text: &str) -> Option<&'static str> {
    if Unit::is_degrees(text.trim()) {
        return Some(DEGREES);
    }
    let text = text.trim().to_lowercase();
    FOREIGN
        .iter()
        .find(|(names, _)| names.contains(&text.as_str()))
        .map(|(_, help)| *help)
}

/// Every text of [`instead`], for the strings files.
pub fn all() -> impl Iterator<Item = &'static str> {
    FOREIGN.iter().map(|(_, help)| *help).chain([DEGREES])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source of the factors: NIST Special Publication 811, appendix B, from memory: 1 inHg = 3386.389 Pa, 1 psi = 6894.757 Pa,
    /// 1 oz = 28.34952 g, 1 lb = 453.5924 g.
    #[test]
    fn units_not_used_here_say_how_to_convert() {
        for (text, factor) in [
            ("inHg", "by 3.38639 and"),
            ("psi", "by 6.89476 and"),
            ("K", "take 273.15"),
            ("°F", "take 32 from the number, divide by 1.8"),
            ("oz", "by 28.3495 and"),
            ("lb", "by 453.592 and"),
            ("cm", "a length is neither a mass"),
            ("mm", "for a pressure type mmHg"),
        ] {
            assert_eq!(Unit::parse(text), None, "{text}");
            let help = instead(text).unwrap();
            assert!(help.contains(factor), "{text}: {help}");
        }
        for (names, help) in FOREIGN {
            assert!(
                names.iter().all(|name| Unit::parse(name).is_none()),
                "{help}"
            );
            let unit = help.split_whitespace().find_map(Unit::parse);
            assert!(unit.is_some(), "{help}");
        }
        assert_eq!(instead("gramm"), None);
    }
}
