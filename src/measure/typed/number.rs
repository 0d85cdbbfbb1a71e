//! A reading in a box: number, ±, unit, time, remark.

use super::spread::spread_and_unit;
use super::spread::take_bracket;
use std::ops::Range;

use super::Reading;
use super::Spread;
use super::TypedError;
use super::trim;
use crate::measure::Decimal;
use crate::measure::decimal::NotDecimal;

/// Words before a number that say it was read off roughly.
const ROUGHLY: &[&str] = &[
    "~",
    "≈",
    "about ",
    "approximately ",
    "approx. ",
    "approx ",
    "ca. ",
    "ca ",
    "around ",
    "roughly ",
];

/// Reads the trimmed part of a text that is not empty and no word for a missing reading.
pub(super) fn read(
    text: &str,
    range: Range<usize>,
    decimals: Option<i32>,
) -> Result<Reading, TypedError> {
    let (range, note) = take_note(text, range);
    let (range, time) = take_time(text, range);
    let (range, exact) = take_prefix(text, range, &["exactly ", "exact "]);
    let (range, approximate) = take_prefix(text, range, ROUGHLY);
    let whole = range.clone();
    let (number, rest) = split_number(text, range, decimals)?;
    let (bracket, rest) = take_bracket(text, rest, number)?;
    let (limits, unit) = spread_and_unit(text, rest, decimals)?;
    let spread = limits.map(Spread::Limits).or(bracket);
    if number.is_negative()
        && spread.is_some_and(|spread| matches!(spread, Spread::Limits(half) if half.is_negative()))
    {
        return Err(error(
            "an uncertainty cannot be negative",
            whole,
            "write 12.270 ± 0.005 g",
        ));
    }
    Ok(Reading {
        number,
        unit,
        spread,
        exact,
        approximate,
        note,
        time,
    })
}

pub(super) fn error(
    message: impl Into<String>,
    span: Range<usize>,
    help: impl Into<String>,
) -> TypedError {
    TypedError {
        message: message.into(),
        span,
        help: help.into(),
    }
}

/// `105.68 g (was 106.58, misread)`: what stands in brackets at the end is a remark, unless it is digits at the number.
fn take_note(text: &str, range: Range<usize>) -> (Range<usize>, Option<String>) {
    let inner = &text[range.clone()];
    let Some(open) = inner.find('(') else {
        return (range, None);
    };
    let digits_only = inner[open + 1..].split(')').next().is_some_and(|inside| {
        inside
            .trim()
            .bytes()
            .all(|b| b.is_ascii_digit() || b == b'.')
    });
    let (open, inside) = if digits_only {
        // The bracket belongs to the number; a remark may still follow.
        let Some(close) = inner.find(')') else {
            return (range, None);
        };
        let Some(second) = inner[close..].find('(').map(|at| close + at) else {
            return (range, None);
        };
        (second, &inner[second + 1..])
    } else {
        (open, &inner[open + 1..])
    };
    let note = inside.trim_end().trim_end_matches(')').trim().to_owned();
    (
        trim(text, range.start..range.start + open),
        Some(note).filter(|note| !note.is_empty()),
    )
}

/// `105.70 g at 14:10`
fn take_time(text: &str, range: Range<usize>) -> (Range<usize>, Option<String>) {
    let inner = &text[range.clone()];
    let found = inner
        .rfind(" at ")
        .map(|at| (at, at + 4))
        .or_else(|| inner.rfind(" @").map(|at| (at, at + 2)));
    let Some((at, behind)) = found else {
        return (range, None);
    };
    let time = inner[behind..].trim();
    if at == 0 || !time.starts_with(|c: char| c.is_ascii_digit()) {
        return (range, None);
    }
    (
        trim(text, range.start..range.start + at),
        Some(time.to_owned()),
    )
}

/// Takes one of the prefixes off.
fn take_prefix(text: &str, range: Range<usize>, prefixes: &[&str]) -> (Range<usize>, bool) {
    let inner = &text[range.clone()];
    for prefix in prefixes {
        if inner
            .get(..prefix.len())
            .is_some_and(|start| start.eq_ignore_ascii_case(prefix))
        {
            return (trim(text, range.start + prefix.len()..range.end), true);
        }
    }
    (range, false)
}

/// The number at the start, and what stands behind it.
pub(super) fn split_number(
    text: &str,
    range: Range<usize>,
    decimals: Option<i32>,
) -> Result<(Decimal, Range<usize>), TypedError> {
    let inner = &text[range.clone()];
    let lower = inner.to_lowercase();
    if ["nan", "inf", "+inf", "-inf", "infinity"]
        .iter()
        .any(|word| lower == *word || lower.starts_with(&format!("{word} ")))
    {
        return Err(error(
            "this is no number a balance can show",
            range,
            "write the digits you read, or \"lost\"",
        ));
    }
    let mut end = 0;
    let mut previous_digit = false;
    let mut characters = inner.char_indices().peekable();
    while let Some((at, c)) = characters.next() {
        let next_digit = characters
            .peek()
            .is_some_and(|(_, next)| next.is_ascii_digit());
        let part = match c {
            '0'..='9' => true,
            '.' | ',' => previous_digit || next_digit,
            '+' | '-' | '−' | '–' => at == 0,
            ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '\'' => {
                previous_digit && groups_of_three(&inner[at + c.len_utf8()..])
            }
            _ => false,
        };
        if !part {
            break;
        }
        previous_digit = c.is_ascii_digit();
        end = at + c.len_utf8();
    }
    let (power, end) = power_of_ten(inner, end);
    let written = &inner[..end];
    if !written.chars().any(|c| c.is_ascii_digit()) {
        return Err(no_number(text, range));
    }
    let mantissa_end = written
        .find(|c: char| !(c.is_ascii_digit() || " .,+-−–'\u{a0}\u{202f}\u{2009}".contains(c)))
        .unwrap_or(written.len());
    let span = range.start..range.start + end;
    let plain = normalise(&written[..mantissa_end], &span, decimals)?;
    let number =
        Decimal::parse(&format!("{plain}e{power}")).map_err(|why| not_decimal(why, span))?;
    Ok((number, range.start + end..range.end))
}

/// Whether the next characters continue a number written in groups of three: exactly three digits, then no digit.
fn groups_of_three(rest: &str) -> bool {
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    digits == 3
}

/// `×10^-2`, `x10⁻²`, `*10^-2`, `e-2` behind the digits: the power, and where it ends.
fn power_of_ten(inner: &str, end: usize) -> (i64, usize) {
    let rest = &inner[end..];
    let bytes_to = |tail: &str| inner.len() - tail.len();
    let exponent = |tail: &str| -> Option<(i64, usize)> {
        let mut digits = String::new();
        let mut used = 0;
        for c in tail.chars() {
            let plain = match c {
                '0'..='9' => c,
                '-' | '−' | '⁻' | '–' if digits.is_empty() => '-',
                '+' | '⁺' if digits.is_empty() => '+',
                '⁰' => '0',
                '¹' => '1',
                '²' => '2',
                '³' => '3',
                '⁴'..='⁹' => char::from_digit(u32::from(c) - 0x2070, 10)?,
                _ => break,
            };
            digits.push(plain);
            used += c.len_utf8();
        }
        let number = digits.parse().ok().or_else(|| {
            digits
                .ends_with(|c: char| c.is_ascii_digit())
                .then_some(i64::from(i32::MAX))
        })?;
        Some((number, bytes_to(&tail[used..])))
    };
    let times = rest.trim_start();
    for sign in ["×", "x", "X", "*", "·"] {
        if let Some(tail) = times.strip_prefix(sign)
            && let Some(tail) = tail.trim_start().strip_prefix("10")
            && let Some(found) = exponent(
                tail.strip_prefix('^')
                    .unwrap_or(tail)
                    .trim_start_matches('('),
            )
        {
            return (found.0, found.1);
        }
    }
    if let Some(tail) = rest.strip_prefix(['e', 'E'])
        && let Some(found) = exponent(tail)
    {
        return found;
    }
    (0, end)
}

/// The digits with a decimal point, whatever mark was typed.
fn normalise(
    written: &str,
    span: &Range<usize>,
    decimals: Option<i32>,
) -> Result<String, TypedError> {
    let mut plain: String = written
        .trim()
        .chars()
        .filter(|c| !" '\u{a0}\u{202f}\u{2009}".contains(*c))
        .map(|c| if c == '−' || c == '–' { '-' } else { c })
        .collect();
    let (commas, points) = (plain.matches(',').count(), plain.matches('.').count());
    match (commas, points) {
        (0, 0 | 1) => {}
        (1, 0) => {
            let behind = plain.split(',').nth(1).map_or(0, str::len);
            let before = plain
                .split(',')
                .next()
                .unwrap_or_default()
                .trim_start_matches('-');
            let ambiguous =
                behind == 3 && !before.starts_with('0') && !before.is_empty() && before.len() <= 3;
            if ambiguous && decimals != Some(3) {
                let (decimal, thousand) = (plain.replace(',', "."), plain.replace(',', ""));
                return Err(error(
                    format!("this can be read as {decimal} or as {thousand}"),
                    span.clone(),
                    format!("write {decimal} or {thousand}"),
                ));
            }
            plain = plain.replace(',', ".");
        }
        (_, 1) if plain.rfind(',') < plain.rfind('.') => plain = plain.replace(',', ""),
        (1, _) if plain.rfind('.') < plain.rfind(',') => {
            plain = plain.replace('.', "").replace(',', ".");
        }
        _ => {
            return Err(error(
                "this number has more than one decimal mark",
                span.clone(),
                "write it with one point, such as 104.18",
            ));
        }
    }
    Ok(plain)
}

/// The error for a text without a number.
fn no_number(text: &str, range: Range<usize>) -> TypedError {
    let shown: String = text[range.clone()].chars().take(24).collect();
    error(
        format!("“{shown}” is not a number"),
        range,
        "write what the instrument showed, such as \"104.18 g\"; if there is no reading, write \"lost\" or \"?\"",
    )
}

fn not_decimal(why: NotDecimal, span: Range<usize>) -> TypedError {
    match why {
        NotDecimal::NotANumber => error(
            "this is not a number",
            span,
            "write it with digits and one point, such as 104.18",
        ),
        NotDecimal::TooManyDigits => error(
            "this number has more digits than any instrument shows",
            span,
            "write the digits you read",
        ),
        NotDecimal::TooLarge => error(
            "this number is far too large or too small to be a reading",
            span,
            "look at its power of ten",
        ),
    }
}
