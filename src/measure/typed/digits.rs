//! The digits of a number: sign, decimal mark, marks between thousands, power of ten.

use crate::measure::Decimal;
use crate::measure::decimal::LARGEST_EXPONENT;
use crate::measure::decimal::NotDecimal;
use crate::measure::typed::Fault;
use crate::measure::typed::TypedError;
use crate::measure::typed::reader::Cursor;
use crate::say;

impl Cursor<'_> {
    /// The digits of a number with their marks, sign included; a power of ten only in the `e` form.
    pub(super) fn number(&mut self) -> Result<(Decimal, usize), TypedError> {
        let start = self.at;
        let negative = self.take(&["-", "−", "–"]);
        if !negative {
            self.take(&["+"]);
        }
        self.skip_blanks();
        let token_start = self.at;
        let length = number_length(self.rest());
        let token = &self.rest()[..length];
        if !token.bytes().any(|b| b.is_ascii_digit()) {
            return Err(self.error(
                start..self.end,
                self.words.say("a number is expected first"),
                self.words
                    .say("type the number, then the unit; remarks go in brackets behind them"),
            ));
        }
        self.at += length;
        self.refuse_letters_among_digits(token_start)?;
        let mut plain = self.plain_digits(token, token_start)?;
        let exponent = exponent_length(self.rest());
        plain.push_str(&self.rest()[..exponent].replace(['−', '–'], "-"));
        self.at += exponent;
        if negative {
            plain.insert(0, '-');
        }
        let number = Decimal::parse(&plain).map_err(|why| self.not_decimal(why, start..self.at))?;
        Ok((number, self.at))
    }

    /// `l04.18`, `1O4.18`: a letter that looks like a digit.
    fn refuse_letters_among_digits(&self, start: usize) -> Result<(), TypedError> {
        let mut rest = self.rest().chars();
        let (letter, next) = (rest.next(), rest.next());
        if matches!(letter, Some('O' | 'o' | 'l' | 'I'))
            && next
                .is_some_and(|c| c.is_ascii_digit() || c == '.' || c == self.words.decimal_mark())
        {
            let letter = letter.unwrap_or(' ');
            let help = if matches!(letter, 'O' | 'o') {
                self.words.say("type the digit zero for it")
            } else {
                self.words.say("type the digit one for it")
            };
            return Err(self.error(
                start..self.at + 1,
                say!(
                    self.words,
                    "there is a letter {letter} among the digits",
                    letter = letter
                ),
                help,
            ));
        }
        Ok(())
    }

    /// The digits with a point for the decimal mark and no marks between thousands.
    fn plain_digits(&self, token: &str, start: usize) -> Result<String, TypedError> {
        let span = start..start + token.len();
        let spaced = token.contains(char::is_whitespace);
        let ambiguous = |help: String| {
            Err(self.error(
                span.clone(),
                say!(
                    self.words,
                    "“{number}” can be read in two ways",
                    number = token
                ),
                help,
            ))
        };
        let marks: Vec<char> = token.chars().filter(|c| !c.is_ascii_digit()).collect();
        let commas = marks.iter().filter(|c| **c == ',').count();
        let points = marks.iter().filter(|c| **c == '.').count();
        let decimal_mark = match (points, commas) {
            (0, 0) => None,
            (1, 0) => Some('.'),
            (0, 1) => Some(','),
            (1, _) if token.rfind('.') > token.rfind(',') => Some('.'),
            (_, 1) if token.rfind(',') > token.rfind('.') => Some(','),
            (0, _) if grouped(token, ',') => None,
            // Where every number has its comma, two of them with a blank between are two numbers.
            (0, _) if spaced && self.words.decimal_mark() == ',' => {
                return Err(self.two_numbers(span));
            }
            (0, _) => {
                return ambiguous(say!(
                    self.words,
                    "type a point for the decimal mark and nothing between thousands"
                ));
            }
            _ if spaced => return Err(self.two_numbers(span)),
            _ => {
                return Err(self.error(
                    span,
                    say!(
                        self.words,
                        "“{number}” has more than one decimal point",
                        number = token
                    ),
                    self.words.say("type one number, such as 104.18 g"),
                ));
            }
        };
        let (whole, fraction) = decimal_mark
            .and_then(|mark| token.rsplit_once(mark))
            .unwrap_or((token, ""));
        let separators: Vec<char> = whole.chars().filter(|c| !c.is_ascii_digit()).collect();
        if let Some(separator) = separators.first() {
            // A plain space may also stand between two numbers, so it needs a decimal part to be sure.
            let sure = *separator != ' ' || !fraction.is_empty();
            if !(sure
                && separators.iter().all(|c| c == separator)
                && grouped(whole, *separator)
                && !fraction.contains(char::is_whitespace))
            {
                return if spaced && whole.contains('.') {
                    Err(self.two_numbers(span))
                } else {
                    ambiguous(say!(
                        self.words,
                        "type one number without spaces or marks between the thousands"
                    ))
                };
            }
        } else if decimal_mark == Some(',')
            && fraction.len() == 3
            && (1..=3).contains(&whole.len())
            && !whole.starts_with('0')
            && !self.comma_is_decimal
        {
            let wrong = ambiguous(say!(
                self.words,
                "type {whole}.{fraction} or {whole}{fraction}, whichever the instrument showed",
                whole = whole,
                fraction = fraction
            ));
            return wrong.map_err(|wrong| TypedError {
                fault: Fault::CommaOrThousands,
                ..wrong
            });
        }
        let mut plain: String = whole.chars().filter(char::is_ascii_digit).collect();
        if !fraction.is_empty() {
            plain.push('.');
            plain.push_str(fraction);
        }
        Ok(plain)
    }

    /// `x10^-2`, `×10⁻²`, `*10^-2` behind a number: the power.
    pub(super) fn power(&mut self) -> Result<i32, TypedError> {
        let start = self.at;
        self.skip_blanks();
        if !["×", "x", "X", "*", "·"].iter().any(|sign| {
            self.rest()
                .strip_prefix(sign)
                .is_some_and(|rest| rest.trim_start().starts_with("10"))
        }) {
            self.at = start;
            return Ok(0);
        }
        self.at += self.rest().chars().next().map_or(0, char::len_utf8);
        self.skip_blanks();
        self.at += "10".len();
        let opened = self.take(&["^(", "^{"]);
        let marked = opened || self.take(&["^", "**"]);
        let length = self.rest().find(|c: char| {
            !(c.is_ascii_digit()
                || matches!(c, '-' | '−' | '–' | '+' | '⁻' | '⁺')
                || superscript_digit(c).is_some())
        });
        let shown = &self.rest()[..length.unwrap_or(self.rest().len())];
        let plain: String = shown
            .chars()
            .map(|c| match c {
                '−' | '–' | '⁻' => '-',
                '⁺' => '+',
                other => superscript_digit(other).unwrap_or(other),
            })
            .collect();
        self.at += shown.len();
        if opened {
            self.take(&[")", "}"]);
        }
        let signed = plain.starts_with(['-', '+']);
        let raised = shown.chars().any(|c| superscript_digit(c).is_some());
        match plain.parse::<i64>() {
            Ok(power) if marked || signed || raised => i32::try_from(power)
                .map_err(|_| self.not_decimal(NotDecimal::TooLarge, start..self.at)),
            Err(_) if plain.len() > 4 => {
                Err(self.not_decimal(NotDecimal::TooLarge, start..self.at))
            }
            _ => Err(self.error(
                start..self.at,
                self.words.say("the power of ten is not complete"),
                self.words.say("type it like 2.41x10^-2 or 2.41e-2"),
            )),
        }
    }

    /// The number times a power of ten, within the bounds of a decimal.
    pub(super) fn shifted(
        &self,
        number: Decimal,
        power: i32,
        end: usize,
    ) -> Result<Decimal, TypedError> {
        let places = i64::from(number.places()) - i64::from(power);
        if places.abs() > i64::from(LARGEST_EXPONENT) {
            return Err(self.not_decimal(NotDecimal::TooLarge, end..self.at));
        }
        Ok(number.shifted(power))
    }
}

/// The bytes of a number: digits, points, commas, and blanks between a digit and a group of digits.
fn number_length(text: &str) -> usize {
    let mut end = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        if c.is_ascii_digit() {
            end = at + 1;
        } else if matches!(c, '.' | ',') {
            // A mark belongs to the number when a digit follows; one behind the last digit is dropped.
            if !chars.peek().is_some_and(|(_, next)| next.is_ascii_digit()) {
                return if end > 0 { at + 1 } else { 0 };
            }
        } else if !(c.is_whitespace()
            && end > 0
            && chars.peek().is_some_and(|(_, next)| next.is_ascii_digit()))
        {
            break;
        }
    }
    end
}

/// The bytes of `e-2`, `E+3`; none when what follows is something else.
fn exponent_length(text: &str) -> usize {
    let Some(rest) = text.strip_prefix(['e', 'E']) else {
        return 0;
    };
    let digits = rest.strip_prefix(['+', '-', '−', '–']).unwrap_or(rest);
    let count = digits.bytes().take_while(u8::is_ascii_digit).count();
    if count == 0 {
        0
    } else {
        text.len() - digits.len() + count
    }
}

/// Whether a mark stands between groups of three digits, the first of one to three.
fn grouped(token: &str, mark: char) -> bool {
    let mut groups = token.split(mark);
    let digits = |group: &str| group.bytes().all(|b| b.is_ascii_digit());
    groups
        .next()
        .is_some_and(|first| (1..=3).contains(&first.len()) && digits(first))
        && groups.all(|group| group.len() == 3 && digits(group))
}

/// The digit that a raised one stands for.
const fn superscript_digit(c: char) -> Option<char> {
    Some(match c {
        '⁰' => '0',
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        '⁴' => '4',
        '⁵' => '5',
        '⁶' => '6',
        '⁷' => '7',
        '⁸' => '8',
        '⁹' => '9',
        _ => return None,
    })
}
