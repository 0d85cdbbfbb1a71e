//! `104.18 g`: the shape that nearly every box has, read without looking for any other.

use crate::measure::Decimal;
use crate::measure::Reading;
use crate::measure::Unit;
use crate::measure::typed::reader::AT;

/// Digits, perhaps a decimal mark with digits behind it, perhaps a unit of letters, and nothing else.
///
/// `None` for any other text, and where more has to be looked at: what follows a word for a time, and three digits behind
/// a comma.
pub(super) fn plain(content: &str) -> Option<Reading> {
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let whole = digits(content);
    let mark = content[whole..].starts_with(['.', ',']);
    let places = if mark {
        digits(&content[whole + 1..])
    } else {
        0
    };
    let comma = mark && content.as_bytes()[whole] == b',';
    if whole == 0 || mark && places == 0 || comma && places == 3 {
        return None;
    }
    let (number, rest) = content.split_at(whole + usize::from(mark) + places);
    let rest = rest.trim_start();
    let unit = if rest.is_empty() {
        None
    } else {
        let letters = |c: char| c.is_alphabetic() || matches!(c, '%' | '°' | '/');
        let timed = AT.iter().any(|word| {
            let start = rest.get(..word.len());
            start.is_some_and(|start| start.eq_ignore_ascii_case(word))
        });
        if timed || !rest.chars().all(letters) {
            return None;
        }
        Some(Unit::parse(rest)?)
    };
    let number = if comma {
        Decimal::parse(&number.replace(',', "."))
    } else {
        Decimal::parse(number)
    };
    Some(Reading::plain(number.ok()?, unit))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::measure::Typed;
    use crate::measure::typed::parse_slowly;
    use crate::words::Words;

    /// Whatever is read here, the reader of all shapes reads as well.
    fn agree(text: &str) -> Result<(), TestCaseError> {
        let text = text.trim();
        if let Some(reading) = plain(text) {
            for language in ["en", "de"] {
                let words = Words::of(language).unwrap();
                for decimals in [None, Some(2), Some(3)] {
                    let read = parse_slowly(text, decimals, &words);
                    prop_assert_eq!(read, Ok(Typed::Value(reading.clone())), "{}", text);
                }
            }
        }
        Ok(())
    }

    proptest! {
        #[test]
        fn a_plain_text_is_read_as_ever(text in "[0-9]{0,4}[.,]?[0-9]{0,22}[ \u{a0}]{0,2}[a-zA-Z%°/.0-9]{0,5}") {
            agree(&text)?;
        }
    }

    #[test]
    fn every_unit_is_read_as_ever() {
        let mut plainly = 0;
        for unit in Unit::spellings() {
            for number in ["5", "104.18", "0,97", "1,525", "1.525", "14"] {
                for between in ["", " ", "\u{a0}"] {
                    let text = format!("{number}{between}{unit}");
                    plainly += usize::from(plain(&text).is_some());
                    agree(&text).unwrap();
                }
            }
        }
        assert!(plainly > 500, "{plainly}");
    }
}
