//! Takes the state and the charge off the end of a formula.

use crate::chem::formula::FormulaError;
use crate::chem::formula::State;
use crate::chem::reader::digit_in;
use crate::problem::Span;

/// The largest charge number.
const LARGEST_CHARGE: i32 = 20;
/// Raised digits, by value.
const SUPERSCRIPTS: &str = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/// Takes a state such as `(aq)` off the end: where it starts, and which it is.
pub(super) fn split_state(text: &str, span: Span) -> Result<(usize, Option<State>), FormulaError> {
    let typed = &text[span.clone()];
    let Some(open) = typed.rfind('(').filter(|_| typed.ends_with(')')) else {
        return Ok((span.end, None));
    };
    let place = span.start + open..span.end;
    let word = typed[open + 1..typed.len() - 1].trim();
    let state = match word {
        "s" => State::Solid,
        "l" => State::Liquid,
        "g" => State::Gas,
        _ if word.eq_ignore_ascii_case("aq") => State::Aqueous,
        _ if word.starts_with(|c: char| c.is_ascii_lowercase())
            && word.chars().all(char::is_alphabetic) =>
        {
            return Err(FormulaError::new(format!("`({word})` is no state."), place)
                .help("States are (s), (l), (g) and (aq)."));
        }
        _ => return Ok((span.end, None)),
    };
    let end = span.start + typed[..open].trim_end().len();
    if end == span.start {
        return Err(
            FormulaError::new("There is no formula before the state.", place)
                .help("Write the formula first: `NaCl(aq)`."),
        );
    }
    Ok((end, Some(state)))
}

/// Takes a charge such as `^2+`, `²⁺` or a trailing `+` off the end: where it starts, and its number.
pub(super) fn split_charge(text: &str, span: Span) -> Result<(usize, i32), FormulaError> {
    let typed = &text[span.clone()];
    if let Some(caret) = typed.rfind('^') {
        let inner = typed[caret + 1..]
            .trim()
            .trim_start_matches(['{', '('])
            .trim_end_matches(['}', ')']);
        return finish_charge(text, span.start + caret..span.end, inner);
    }
    let raised = typed.trim_end_matches(|c| sign(c).is_some() || SUPERSCRIPTS.contains(c));
    let tail = &typed[raised.len()..];
    let place = span.start + raised.len()..span.end;
    if tail.is_empty() {
        return Ok((span.end, 0));
    }
    if tail.chars().any(|c| SUPERSCRIPTS.contains(c)) {
        return finish_charge(text, place, tail);
    }
    // Signs alone: digits before them may be a subscript or the size of the charge.
    let core = raised.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = &raised[core.len()..];
    if digits.is_empty() || core.is_empty() {
        return finish_charge(text, place, tail);
    }
    let place = span.start + core.len()..span.end;
    if core.ends_with(']') {
        return finish_charge(text, place, &format!("{digits}{tail}"));
    }
    let symbols = core.chars().filter(char::is_ascii_uppercase).count();
    if symbols > 1 && digits.len() == 1 && !core.ends_with([')', '}']) && tail.chars().count() == 1
    {
        // `NH4+`, `NO3-`: the digit counts atoms.
        return finish_charge(text, span.start + raised.len()..span.end, tail);
    }
    Err(two_readings(core, digits, tail, place))
}

/// The error for `Cu2+` and `SO42-`.
fn two_readings(core: &str, digits: &str, tail: &str, place: Span) -> FormulaError {
    let (subscript, size) = digits.split_at(digits.len() - 1);
    let sign = if tail.chars().next().and_then(sign) == Some(-1) {
        '-'
    } else {
        '+'
    };
    let help = if size == "0" || tail.chars().count() > 1 {
        format!("Put a caret before the charge: `{core}{digits}^{sign}`.")
    } else {
        let size = if size == "1" { "" } else { size };
        format!("Put a caret before the charge: `{core}{subscript}^{size}{sign}`.")
    };
    let message = format!(
        "`{core}{digits}{tail}` can be read in two ways: {digits} may count atoms or charge."
    );
    FormulaError::new(message, place).help(help)
}

/// Reads the charge in `inner`; `place` covers it with its caret.
fn finish_charge(text: &str, place: Span, inner: &str) -> Result<(usize, i32), FormulaError> {
    let Some(charge) = read_charge(inner) else {
        let message = format!("`{}` is no charge.", &text[place.clone()]);
        return Err(
            FormulaError::new(message, place).help("Write a charge as `^2+`, `^-` or `³⁺`.")
        );
    };
    Ok((place.start, charge))
}

/// `2+`, `+2`, `-`, `++`, `²⁻` as a number.
fn read_charge(inner: &str) -> Option<i32> {
    let mut size: i32 = 0;
    let mut digits = 0;
    let mut signs = 0;
    let mut direction = 0;
    for c in inner.chars() {
        if let Some(next) = sign(c) {
            if direction != 0 && direction != next {
                return None;
            }
            direction = next;
            signs += 1;
        } else {
            let digit = digit_in(c, SUPERSCRIPTS).or_else(|| c.to_digit(10))?;
            size = size
                .checked_mul(10)?
                .checked_add(i32::try_from(digit).ok()?)?;
            digits += 1;
        }
    }
    let size = match (digits, signs) {
        (0, 1..) => signs,
        (1.., 1) => size,
        _ => return None,
    };
    (1..=LARGEST_CHARGE)
        .contains(&size)
        .then_some(direction * size)
}

/// +1 or −1 for a sign, in any of its characters.
pub(super) const fn sign(c: char) -> Option<i32> {
    match c {
        '+' | '⁺' | '＋' => Some(1),
        '-' | '−' | '⁻' | '–' | '‐' | '‑' | '﹣' | '－' => Some(-1),
        _ => None,
    }
}
