//! Reads one box: a number, and in any order a unit, an uncertainty, a time and a remark in brackets.

use std::ops::Range;

use crate::measure::Decimal;
use crate::measure::Reading;
use crate::measure::Spread;
use crate::measure::Unit;
use crate::measure::decimal::NotDecimal;
use crate::measure::foreign;
use crate::measure::typed::Fault;
use crate::measure::typed::Time;
use crate::measure::typed::TypedError;
use crate::measure::typed::words::is_time;
use crate::say;
use crate::words::Words;

/// Words in front of a number that was read off roughly.
const ROUGHLY: &[&str] = &[
    "~",
    "≈",
    "about",
    "approximately",
    "approx.",
    "approx",
    "circa",
    "ca.",
    "ca",
    "around",
    "roughly",
    // In German.
    "etwa",
    "ungefähr",
    "ungefaehr",
    "rund",
];

/// Words in front of a time of day, in the languages built in.
pub(super) const AT: &[&str] = &["at", "um"];

/// A box while it is read.
pub(super) struct Cursor<'t> {
    pub(super) text: &'t str,
    /// End of the text without blanks behind it.
    pub(super) end: usize,
    pub(super) at: usize,
    /// Whether a comma with three digits behind it is a decimal mark for sure.
    pub(super) comma_is_decimal: bool,
    /// The language of what is said about a fault.
    pub(super) words: &'t Words,
}

impl<'t> Cursor<'t> {
    pub(super) fn rest(&self) -> &'t str {
        &self.text[self.at..self.end]
    }

    pub(super) fn skip_blanks(&mut self) {
        self.at = self.end - self.rest().trim_start().len();
    }

    /// Goes over one of the texts given, if it stands next, whatever its capitals.
    pub(super) fn take(&mut self, texts: &[&str]) -> bool {
        for text in texts {
            let Some(found) = self.rest().get(..text.len()) else {
                continue;
            };
            // A word must end where its letters end: `ca` is no part of `cat`.
            let next = self.rest()[text.len()..].chars().next();
            let cut = text.ends_with(char::is_alphabetic) && next.is_some_and(char::is_alphabetic);
            if found.eq_ignore_ascii_case(text) && !cut {
                self.at += text.len();
                return true;
            }
        }
        false
    }

    pub(super) fn error(
        &self,
        span: Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> TypedError {
        TypedError {
            fault: Fault::Other,
            message: message.into(),
            span: span.start.min(self.end)..span.end.min(self.end),
            help: help.into(),
        }
    }

    pub(super) fn reading(&mut self) -> Result<Reading, TypedError> {
        let exact = self.take(&["exactly", "exact", "genau"]);
        self.skip_blanks();
        let mut approximate = self.take(ROUGHLY);
        self.skip_blanks();
        let (mut number, digits_end) = self.number()?;
        let mut spread = self.attached_bracket(number)?;
        if spread.is_some() || self.at == digits_end {
            let power = self.power()?;
            if power != 0 {
                number = self.shifted(number, power, digits_end)?;
                if let Some(Spread::Standard(width)) = spread {
                    spread = Some(Spread::Standard(width.shifted(power)));
                }
            }
        }
        let mut reading = Reading {
            number,
            unit: None,
            spread,
            exact,
            approximate,
            note: None,
            time: None,
        };
        loop {
            self.skip_blanks();
            let from = self.at;
            if self.rest().is_empty() {
                break;
            } else if self.take(&["±", "+/-", "+-", "+/−", "+−"]) {
                self.limits(&mut reading, from)?;
            } else if self.rest().starts_with('(') {
                let note = self.bracket();
                remark(&mut reading, note);
            } else if self.rest().chars().all(|c| c == '?') {
                approximate = true;
                break;
            } else if self.take(AT) {
                self.time(&mut reading);
            } else {
                let unit = self.unit(reading.unit.is_some())?;
                reading.unit = Some(unit);
            }
        }
        reading.approximate = approximate;
        Ok(reading)
    }

    /// `(5)` directly behind the digits: a standard uncertainty in units of the last place.
    fn attached_bracket(&mut self, number: Decimal) -> Result<Option<Spread>, TypedError> {
        let Some(inner) = self
            .rest()
            .strip_prefix('(')
            .and_then(|rest| rest.split_once(')'))
            .map(|(inner, _)| inner)
        else {
            return Ok(None);
        };
        if inner.is_empty() || !inner.bytes().all(|b| b.is_ascii_digit() || b == b'.') {
            return Ok(None);
        }
        let start = self.at;
        self.at += inner.len() + 2;
        let width = Decimal::parse(inner).map_err(|why| self.not_decimal(why, start..self.at))?;
        let width = if inner.contains('.') {
            width
        } else {
            Decimal::new(width.coefficient(), number.places())
        };
        Ok(Some(Spread::Standard(width)))
    }

    /// What follows `±`.
    fn limits(&mut self, reading: &mut Reading, from: usize) -> Result<(), TypedError> {
        let again = |this: &Self, message: &str| {
            let help = this.words.say("type it like 12.270 ± 0.005 g");
            Err(this.error(from..this.end, message, help))
        };
        if reading.spread.is_some() {
            let message = self.words.say("the reading states its uncertainty twice");
            return again(self, message);
        }
        self.skip_blanks();
        if !self
            .rest()
            .starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | ','))
        {
            let message = self.words.say("a positive number is expected behind the ±");
            return again(self, message);
        }
        let (mut width, digits_end) = self.number()?;
        let power = self.power()?;
        width = self.shifted(width, power, digits_end)?;
        self.skip_blanks();
        let ends = self.rest().is_empty()
            || self.rest().starts_with(['(', '?'])
            || AT.iter().any(|word| {
                self.rest()
                    .strip_prefix(word)
                    .is_some_and(|rest| rest.starts_with(' '))
            });
        if !ends {
            let unit = self.unit(false)?;
            match reading.unit {
                None => reading.unit = Some(unit),
                Some(own) if own == unit => {}
                Some(own) if own.dimension() == unit.dimension() => {
                    width = unit.converted(width, own);
                }
                Some(_) => {
                    let words = self.words;
                    return again(
                        self,
                        words.say("the uncertainty has another unit than the reading"),
                    );
                }
            }
        }
        reading.spread = Some(Spread::Limits(width));
        Ok(())
    }

    /// The text of a bracket, up to its partner or the end.
    fn bracket(&mut self) -> String {
        let rest = self.rest();
        let mut depth = 0_usize;
        let mut close = rest.len();
        for (at, c) in rest.char_indices() {
            match c {
                '(' => depth += 1,
                ')' => depth -= 1,
                _ => {}
            }
            if depth == 0 {
                close = at;
                break;
            }
        }
        let inner = rest[1..close].trim().to_owned();
        self.at = (self.at + close + 1).min(self.end);
        inner
    }

    /// What follows `at`: a time of day, else a remark.
    fn time(&mut self, reading: &mut Reading) {
        self.skip_blanks();
        let length = self.rest().find('(').unwrap_or(self.rest().len());
        let shown = self.rest()[..length].trim();
        self.at += length;
        let clock = shown.split_whitespace().next().unwrap_or("");
        if is_time(clock.trim_end_matches(|c: char| c.is_alphabetic())) && reading.time.is_none() {
            reading.time = Some(Time::OfDay(shown.to_owned()));
        } else {
            remark(reading, format!("at {shown}"));
        }
    }

    /// A unit, up to what may follow one.
    fn unit(&mut self, have_one: bool) -> Result<Unit, TypedError> {
        let rest = self.rest();
        let stop = ["±", "+/-", "+-", "+/−", "(", "?", " at ", " um "]
            .iter()
            .filter_map(|mark| rest.find(mark))
            .min()
            .unwrap_or(rest.len());
        let shown = rest[..stop].trim_end();
        let span = self.at..self.at + shown.len();
        let text = shown.trim_end_matches(['.', ',', ';', '!']).trim_end();
        self.at += stop;
        match Unit::parse(text)
            .or_else(|| Unit::parse(&text.split_whitespace().collect::<Vec<_>>().join(" ")))
            .or_else(|| Unit::misspelt(text))
        {
            Some(unit) if !have_one => Ok(unit),
            Some(_) => Err(self.error(
                span,
                self.words.say("there are two units"),
                self.words.say("leave one unit"),
            )),
            None if text.bytes().filter(u8::is_ascii_digit).count() > 1
                || text.starts_with(|c: char| c.is_ascii_digit()) =>
            {
                Err(self.two_numbers(span))
            }
            None if is_sum(text) => Err(self.two_numbers(span)),
            None => Err(self.unknown_unit(text, span)),
        }
    }

    fn unknown_unit(&self, text: &str, span: Range<usize>) -> TypedError {
        let letters = text.chars().count();
        let limit = if letters <= 3 { 1 } else { 2 };
        let close = (letters <= 20)
            .then(|| {
                // With another letter in front, a name has another prefix, and so another size.
                Unit::spellings()
                    .filter(|name| begins_like(text, name))
                    .map(|name| (strsim::damerau_levenshtein(text, name), name))
                    .min_by_key(|(distance, _)| *distance)
            })
            .flatten()
            .filter(|(distance, name)| {
                *distance <= limit && *distance < letters.max(name.chars().count())
            });
        let help = match (foreign::instead(text), close) {
            (Some(instead), _) => self.words.say(instead).to_owned(),
            (None, Some((_, name))) => {
                // Most spellings are English words; a symbol is the same in every language.
                let own = Unit::parse(name).filter(|_| self.words.code() != "en");
                say!(
                    self.words,
                    "did you mean `{unit}`? put remarks in brackets",
                    unit = own.map_or(name, Unit::symbol)
                )
            }
            (None, None) => say!(
                self.words,
                "type a unit such as g, mL, mol or °C; put remarks in brackets"
            ),
        };
        let message = say!(self.words, "“{text}” is not a unit", text = shortened(text));
        TypedError {
            fault: Fault::UnknownUnit,
            ..self.error(span, message, help)
        }
    }

    pub(super) fn two_numbers(&self, span: Range<usize>) -> TypedError {
        let error = self.error(
            span,
            self.words.say("there is more than one number"),
            self.words.say(
                "leave one reading; put what it was before in brackets: 105.68 g (was 106.58)",
            ),
        );
        TypedError {
            fault: Fault::SeveralNumbers,
            ..error
        }
    }

    pub(super) fn not_decimal(&self, why: NotDecimal, span: Range<usize>) -> TypedError {
        let words = self.words;
        let (message, help) = match why {
            NotDecimal::NotANumber => (
                words.say("this is not a number"),
                words.say("type the reading, such as 104.18 g"),
            ),
            NotDecimal::TooManyDigits => (
                words.say("the number has more digits than any instrument shows"),
                words.say("type the digits that the instrument shows"),
            ),
            NotDecimal::TooLarge => (
                words.say("the power of ten is larger than anything in a laboratory"),
                words.say("look at the power of ten again"),
            ),
        };
        self.error(span, message, help)
    }
}

/// Adds a remark; several are kept.
fn remark(reading: &mut Reading, text: String) {
    reading.note = match reading.note.take() {
        Some(note) => Some(format!("{note}; {text}")),
        None => (!text.is_empty()).then_some(text),
    };
}

/// Whether two words begin with the same letter, whatever its capital.
fn begins_like(text: &str, name: &str) -> bool {
    let first = |text: &str| text.chars().next().map(|c| c.to_ascii_lowercase());
    first(text) == first(name)
}

/// `- 2.45`: a sign and a number, as in a sum typed in full.
fn is_sum(text: &str) -> bool {
    text.starts_with(['-', '−', '–', '+', '=', '/', '*', '×'])
        && text.bytes().any(|b| b.is_ascii_digit())
}

/// At most thirty characters of a text.
pub(super) fn shortened(text: &str) -> String {
    match text.char_indices().nth(30) {
        Some((at, _)) => format!("{}…", &text[..at]),
        None => text.to_owned(),
    }
}
