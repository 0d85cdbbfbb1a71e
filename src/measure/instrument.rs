//! An instrument: the unit it reads in and how far a reading may be off.

use crate::measure::Decimal;
use crate::measure::Unit;
use crate::words::Words;

/// A balance, a cylinder, a thermometer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Instrument {
    /// The name it has in the lab description.
    pub name: String,
    /// The unit it reads in.
    pub unit: Unit,
    /// The smallest step it shows, in its unit; a reading lies anywhere within that step.
    pub readability: Option<Decimal>,
    /// Half the width within which a reading is taken to lie, in its unit; counts instead of the readability.
    pub tolerance: Option<Decimal>,
}

impl Instrument {
    /// Its name in the language of the lab where it is one of those that labs usually give, else as the description has it.
    #[must_use]
    pub fn named(&self, words: &Words) -> String {
        match self.name.as_str() {
            "balance" => words.say("balance").to_owned(),
            "cylinder" => words.say("cylinder").to_owned(),
            "burette" => words.say("burette").to_owned(),
            "pipette" => words.say("pipette").to_owned(),
            "thermometer" => words.say("thermometer").to_owned(),
            "barometer" => words.say("barometer").to_owned(),
            "eudiometer" => words.say("eudiometer").to_owned(),
            own => own.replace('_', " "),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn usual_instruments_have_a_name_in_each_language() {
        let named = |name: &str, code: &str| {
            let instrument = Instrument {
                name: name.to_owned(),
                unit: Unit::Gram,
                readability: None,
                tolerance: None,
            };
            instrument.named(&Words::of(code).expect("a language"))
        };
        assert_eq!(named("balance", "de"), "Waage");
        assert_eq!(named("cylinder", "en"), "cylinder");
        assert_eq!(named("fine_balance", "de"), "fine balance");
    }
}
