//! What stands behind the digits of a reading: its ± or bracket, and its unit.

use super::Spread;
use super::TypedError;
use super::number::error;
use super::number::split_number;
use super::trim;
use crate::measure::Decimal;
use crate::measure::Unit;
use std::ops::Range;

/// `(5)` directly behind the digits: a standard uncertainty in units of the last place.
pub(super) fn take_bracket(
    text: &str,
    range: Range<usize>,
    number: Decimal,
) -> Result<(Option<Spread>, Range<usize>), TypedError> {
    let inner = &text[range.clone()];
    let Some(tail) = inner.strip_prefix('(') else {
        return Ok((None, range));
    };
    let Some(close) = tail.find(')') else {
        return Err(error(
            "the bracket is not closed",
            range,
            "write 12.270(5) g",
        ));
    };
    let inside = tail[..close].trim();
    let span = range.start..range.start + close + 2;
    let spread = if inside.contains('.') {
        Decimal::parse(inside).ok()
    } else {
        Decimal::parse(inside)
            .ok()
            .map(|digits| Decimal::new(digits.coefficient(), number.places()))
    };
    match spread {
        Some(spread) => Ok((
            Some(Spread::Standard(spread)),
            range.start + close + 2..range.end,
        )),
        None => Err(error(
            "the bracket behind the number holds no digits",
            span,
            "write 12.270(5) g, or leave a space before a remark",
        )),
    }
}

/// `± 0.005 g`, `g ± 0.005 g`, `g`.
pub(super) fn spread_and_unit(
    text: &str,
    range: Range<usize>,
    decimals: Option<i32>,
) -> Result<(Option<Decimal>, Option<Unit>), TypedError> {
    let inner = &text[range.clone()];
    for sign in ["±", "+/-", "+-", "+/−"] {
        let Some(at) = inner.find(sign) else { continue };
        let behind = trim(text, range.start + at + sign.len()..range.end);
        if behind.is_empty() {
            return Err(error(
                "nothing stands behind the ±",
                range,
                "write 12.270 ± 0.005 g",
            ));
        }
        let first = unit_of(text, trim(text, range.start..range.start + at))?;
        let (half, rest) = split_number(text, behind, decimals)?;
        let second = unit_of(text, trim(text, rest.clone()))?;
        if let (Some(a), Some(b)) = (first, second)
            && a != b
        {
            return Err(error(
                format!("the number is in {a}, its ± in {b}"),
                rest,
                "use one unit for both",
            ));
        }
        if half.is_negative() {
            return Err(error(
                "an uncertainty cannot be negative",
                range,
                "write 12.270 ± 0.005 g",
            ));
        }
        return Ok((Some(half), first.or(second)));
    }
    Ok((None, unit_of(text, trim(text, range))?))
}

/// The unit in a range, if anything stands there.
pub(super) fn unit_of(text: &str, range: Range<usize>) -> Result<Option<Unit>, TypedError> {
    let inner = text[range.clone()]
        .trim()
        .trim_end_matches(['.', ';', ','])
        .trim();
    if inner.is_empty() {
        return Ok(None);
    }
    if let Some(unit) = Unit::parse(inner) {
        return Ok(Some(unit));
    }
    if inner.chars().any(|c| c.is_ascii_digit()) {
        return Err(error(
            "there is more than one number in this box",
            range,
            "leave one number; put a remark in brackets, such as \"105.68 g (was 106.58)\"",
        ));
    }
    let help = Unit::near(inner).map_or_else(
        || "units are g, mg, kg, mL, L, mol, mol/L, g/mL, °C, kPa and %".to_owned(),
        |unit| format!("did you mean {unit}?"),
    );
    Err(error(
        format!("“{inner}” is not a unit known here"),
        range,
        help,
    ))
}
