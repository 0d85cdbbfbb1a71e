//! What is said of a box whose text cannot be used as its reading.

use crate::lab::Asked;
use crate::measure::Typed;
use crate::measure::Unit;
use crate::measure::typed;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::problem::document::Value;
use crate::say;
use crate::words::Words;

/// The problem of a box that holds no text.
pub(super) fn no_reading(words: &Words, name: &str, value: &Value<'_>) -> Problem {
    value.wrong_shape(
        name,
        words.say("a reading between quotes, such as \"104.18 g\""),
    )
}

/// The problem of a reading in a unit of something else.
pub(super) fn wrong_unit(words: &Words, asked: &Asked, unit: Unit, span: Span) -> Problem {
    let (reading, wanted) = (&asked.label, asked.unit);
    let message = match (wanted, unit) {
        (Unit::One, _) => say!(
            words,
            "“{reading}” is read in a plain number, not in {other}",
            reading = reading,
            other = unit
        ),
        (_, Unit::One) => say!(
            words,
            "“{reading}” is read in {unit}, not in a plain number",
            reading = reading,
            unit = wanted
        ),
        _ => say!(
            words,
            "“{reading}” is read in {unit}, not in {other}",
            reading = reading,
            unit = wanted,
            other = unit
        ),
    };
    let label = match unit {
        Unit::One => say!(words, "this is in a plain number"),
        _ => say!(words, "this is in {unit}", unit = unit),
    };
    let help = match wanted {
        Unit::One => say!(words, "write it in a plain number"),
        _ => say!(words, "write it in {unit}", unit = wanted),
    };
    Problem::error(Code::WrongUnit, message)
        .at(span, label)
        .help(help)
}

/// What to ask when a word for “no reading” has a reading behind it: `spilled some, 2.31 g` may be what the balance showed,
/// or what was spilled. It is not used before somebody says which.
pub(super) fn number_in_words(
    text: &str,
    asked: &Asked,
    (decimals, words): (Option<i32>, &Words),
    span: Span,
) -> Option<Problem> {
    let at = text.find(|c: char| c.is_ascii_digit())?;
    let (before, rest) = text.split_at(at);
    let Ok(Typed::Value(reading)) = typed::parse_with(rest, decimals, words) else {
        return None;
    };
    let fits = match reading.unit {
        Some(unit) => unit.dimension() == asked.unit.dimension(),
        // A whole number without a unit is a day or a count.
        None => reading.number.places() > 0,
    };
    let remark = before.trim_end_matches(|c: char| !c.is_alphanumeric());
    fits.then(|| {
        let message = say!(
            words,
            "“{typed}” counts as no reading, because it begins with “{remark}”",
            typed = text,
            remark = remark
        );
        Problem::warning(Code::Reading, message)
            .at(span, asked.label.clone())
            .help(say!(
                words,
                "if the instrument showed {reading}, write \"{reading} ({remark})\"; if nothing was read, write only \"{remark}\"",
                reading = rest,
                remark = remark
            ))
    })
}
