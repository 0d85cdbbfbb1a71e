//! What somebody typed in a box, read: a number with its unit and remarks, a word for “no reading”, or nothing.

mod digits;
mod plain;
mod reader;
mod words;

use std::fmt;
use std::ops::Range;

use crate::measure::Decimal;
use crate::measure::Unit;
use crate::measure::typed::reader::Cursor;
use crate::words::Words;

/// A number read off an instrument or a label, with everything said beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// The number, digits as written, in `unit`.
    pub number: Decimal,
    /// The unit written beside the number, if any; the checks that know the instrument fill it in.
    pub unit: Option<Unit>,
    /// The reading's own uncertainty, if it states one.
    pub spread: Option<Spread>,
    /// `exactly 25 mL`: a count or a defined value, which limits no figures.
    pub exact: bool,
    /// `~25 mL`: read off roughly.
    pub approximate: bool,
    /// What stands in brackets: `was 106.58, misread`.
    pub note: Option<String>,
    /// When it was read.
    pub time: Option<Time>,
}

/// When a reading was taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Time {
    /// `at 14:10`, as typed.
    OfDay(String),
    /// Minutes since the first of its series: what is left where nobody may learn the time of day. It is never printed.
    Since(i32),
}

/// A reading's own uncertainty, in the reading's unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// `12.270 ± 0.005`: limits, a half-width.
    Limits(Decimal),
    /// `12.270(5)`: a standard uncertainty.
    Standard(Decimal),
}

/// The content of a box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Typed {
    /// Nothing yet.
    Empty,
    /// `lost`, `spilled`, `?`, `N/A`: no reading, and the word that says so.
    Missing(String),
    /// A reading.
    Value(Reading),
}

impl Reading {
    /// A number and its unit, with nothing said beside them.
    #[must_use]
    pub const fn plain(number: Decimal, unit: Option<Unit>) -> Self {
        Self {
            number,
            unit,
            spread: None,
            exact: false,
            approximate: false,
            note: None,
            time: None,
        }
    }
}

/// Why a text in a box is no reading, in the language it was read with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypedError {
    /// The kind of fault.
    pub fault: Fault,
    /// The fault, one plain sentence.
    pub message: String,
    /// Bytes of the text.
    pub span: Range<usize>,
    /// One next step.
    pub help: String,
}

/// Kinds of faults, as far as anybody asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// No digit at all.
    NoNumber,
    /// More than one number.
    SeveralNumbers,
    /// A comma in front of three digits, which may be a decimal mark or stand between thousands.
    CommaOrThousands,
    /// Something behind the number that is no unit; the span is its place.
    UnknownUnit,
    /// Any other.
    Other,
}

/// Reads a box in English. `decimals` is what the instrument reads: it tells `1,525` from one thousand five hundred
/// and twenty-five.
///
/// ```
/// use gramleaf::measure::typed::Typed;
/// use gramleaf::measure::typed::parse;
///
/// let Ok(Typed::Value(reading)) = parse("105,68g (was 106.58, misread)", None) else { panic!() };
/// assert_eq!(reading.to_string(), "105.68 g (was 106.58, misread)");
/// assert_eq!(parse("spilled", None), Ok(Typed::Missing("spilled".to_owned())));
/// assert_eq!(parse("  ", None), Ok(Typed::Empty));
/// ```
///
/// # Errors
/// When the text is neither empty, nor a reading, nor a word for a missing one.
pub fn parse(text: &str, decimals: Option<i32>) -> Result<Typed, TypedError> {
    parse_with(text, decimals, &Words::english())
}

/// The same in the language of some words: faults are said in it, and where its decimal mark is a comma `1,525` is no thousand.
///
/// # Errors
/// As [`parse`].
pub fn parse_with(text: &str, decimals: Option<i32>, words: &Words) -> Result<Typed, TypedError> {
    let content = text.trim();
    if content.is_empty() {
        return Ok(Typed::Empty);
    }
    if let Some(reading) = plain::plain(content) {
        return Ok(Typed::Value(reading));
    }
    if !content.is_ascii() {
        let inner = inner(text);
        let content = &text[inner.clone()];
        if content.contains(is_invisible) {
            let seen: String = content.chars().filter(|c| !is_invisible(*c)).collect();
            // Where a fault stands in the text as typed, nobody can see.
            return parse_with(&seen, decimals, words).map_err(|wrong| TypedError {
                span: inner,
                ..wrong
            });
        }
        if content.len() < text.trim().len() {
            return parse_with(content, decimals, words).map_err(|wrong| wrong.behind(inner.start));
        }
    }
    parse_slowly(text, decimals, words)
}

/// The same where a unit is asked: degrees that do not say which are those of Celsius where a temperature is.
///
/// # Errors
/// As [`parse`].
pub fn parse_as(
    text: &str,
    decimals: Option<i32>,
    asked: Unit,
    words: &Words,
) -> Result<Typed, TypedError> {
    let read = parse_with(text, decimals, words);
    let Err(wrong) = &read else {
        return read;
    };
    let degrees = asked == Unit::DegreeCelsius
        && wrong.fault == Fault::UnknownUnit
        && text.get(wrong.span.clone()).is_some_and(Unit::is_degrees);
    if !degrees {
        return read;
    }
    let mut meant = text.to_owned();
    meant.replace_range(wrong.span.clone(), asked.symbol());
    parse_with(&meant, decimals, words)
}

/// The part of a text between the typographic quote marks and invisible characters that word processors, phones and web pages put
/// around it, without blanks at its ends.
#[must_use]
pub fn inner(text: &str) -> Range<usize> {
    let around = |c: char| c.is_whitespace() || is_invisible(c);
    let mut content = text.trim_matches(around);
    // An opening mark in front of a reading means nothing; one behind it alone may mean inches or minutes.
    while let Some(rest) = content.strip_prefix(is_curly) {
        let rest = rest.trim_start_matches(around);
        content = rest.strip_suffix(is_curly).unwrap_or(rest);
        content = content.trim_end_matches(around);
    }
    let start = content.as_ptr() as usize - text.as_ptr() as usize;
    start..start + content.len()
}

/// Typographic quote marks.
const fn is_curly(c: char) -> bool {
    matches!(c, '“' | '”' | '„' | '«' | '»' | '‘' | '’' | '‚' | '‹' | '›')
}

/// Characters that take no room: spaces of no width, marks of direction, hyphens that may be.
const fn is_invisible(c: char) -> bool {
    matches!(c, '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}' | '\u{2066}'..='\u{2069}' | '\u{FEFF}')
}

impl TypedError {
    /// The same fault of a text that stands so many bytes behind the start of another.
    #[must_use]
    pub fn behind(self, at: usize) -> Self {
        let span = self.span.start + at..self.span.end + at;
        Self { span, ..self }
    }
}

/// The same of any text but an empty one.
fn parse_slowly(text: &str, decimals: Option<i32>, words: &Words) -> Result<Typed, TypedError> {
    let content = text.trim();
    if words::says_missing(content) {
        return Ok(Typed::Missing(content.to_owned()));
    }
    let at = text.len() - text.trim_start().len();
    let mut cursor = Cursor {
        text,
        end: at + content.len(),
        at,
        comma_is_decimal: words.decimal_mark() == ',' || decimals == Some(3),
        words,
    };
    cursor.refuse_what_is_no_number()?;
    cursor.reading().map(Typed::Value)
}

/// The reading in one canonical form, which [`parse`] reads back to the same reading.
impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.exact {
            f.write_str("exactly ")?;
        }
        if self.approximate {
            f.write_str("~")?;
        }
        let number = self.number.to_string();
        // A standard uncertainty stands directly behind the digits, in front of a power of ten.
        let (digits, power) = number
            .find('×')
            .map_or((number.as_str(), ""), |at| number.split_at(at));
        f.write_str(digits)?;
        if let Some(Spread::Standard(spread)) = self.spread {
            if spread.places() == self.number.places() {
                write!(f, "({})", spread.coefficient())?;
            } else {
                write!(f, "({spread})")?;
            }
        }
        f.write_str(power)?;
        if let Some(Spread::Limits(spread)) = self.spread {
            write!(f, " ± {spread}")?;
        }
        if let Some(unit) = self.unit.filter(|unit| *unit != Unit::One) {
            write!(f, " {unit}")?;
        }
        if let Some(Time::OfDay(time)) = &self.time {
            write!(f, " at {time}")?;
        }
        if let Some(note) = &self.note {
            write!(f, " ({note})")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn value(text: &str) -> Reading {
        match parse(text, None) {
            Ok(Typed::Value(reading)) => reading,
            other => panic!("{text}: {other:?}"),
        }
    }

    fn fault(text: &str) -> TypedError {
        match parse(text, None) {
            Err(error) => error,
            Ok(other) => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn what_students_type_is_read() {
        for (typed, shown) in [
            ("104.18 g", "104.18 g"),
            ("104.18g", "104.18 g"),
            ("1,50", "1.50"),
            (".97", "0.97"),
            (",97 g", "0.97 g"),
            ("104.", "104"),
            ("04.36", "4.36"),
            ("~25 mL", "~25 mL"),
            ("about 25", "~25"),
            ("approx. 25 cm3", "~25 mL"),
            ("25 mL?", "~25 mL"),
            ("exactly 25 mL", "exactly 25 mL"),
            (
                "105.68 g (was 106.58, misread)",
                "105.68 g (was 106.58, misread)",
            ),
            ("105.68 (was 106.58) g", "105.68 g (was 106.58)"),
            ("31.402 gramms", "31.402 g"),
            ("25.0 litters", "25.0 L"),
            ("6.00 mmol/L", "6.00 mmol/L"),
            ("12.270 ± 0.005 g", "12.270 ± 0.005 g"),
            ("12.270 g ± 0.005 g", "12.270 ± 0.005 g"),
            ("12.270 g ± 5 mg", "12.270 ± 0.005 g"),
            ("12.270+/-0.005 g", "12.270 ± 0.005 g"),
            ("12.270 +- 0,005 g", "12.270 ± 0.005 g"),
            ("12.270(5) g", "12.270(5) g"),
            ("12.270 (5) g", "12.270 g (5)"),
            ("2.41x10^-2", "0.0241"),
            ("2.41×10⁻²", "0.0241"),
            ("2.41 × 10⁻² mol", "0.0241 mol"),
            ("2.41*10^-2", "0.0241"),
            ("2.41e-2", "0.0241"),
            ("2.41E-2", "0.0241"),
            ("1.20x10^3 g", "1.20×10³ g"),
            ("etwa 25 mL", "~25 mL"),
            ("genau 25 mL", "exactly 25 mL"),
            ("105,70 g um 14:10 Uhr", "105.70 g at 14:10 Uhr"),
            ("97.9 %", "97.9 %"),
            ("97,9%", "97.9 %"),
            ("−5.0 °C", "−5.0 °C"),
            ("–5.0", "−5.0"),
            ("-5.0", "−5.0"),
            ("+5.0", "5.0"),
            ("1 234.5 g", "1234.5 g"),
            ("1\u{202f}234 g", "1234 g"),
            ("1,234.5", "1234.5"),
            ("1.234,5", "1234.5"),
            ("0,525 g", "0.525 g"),
            ("105.70 g at 14:10", "105.70 g at 14:10"),
            (
                "105.70 g at 14:10 (after lunch)",
                "105.70 g at 14:10 (after lunch)",
            ),
            ("25.0 mL at 20 °C", "25.0 mL (at 20 °C)"),
            ("\u{a0}5.0\u{a0}g ", "5.0 g"),
            ("5.0 g.", "5.0 g"),
            ("0.100 mol dm^-3", "0.100 mol/L"),
            ("2.00 M", "2.00 mol/L"),
            ("5 l", "5 L"),
            ("“2.31 g”", "2.31 g"),
            ("„2,31 g“", "2.31 g"),
            ("»2.31 g« ", "2.31 g"),
            (" “ 2.31 g", "2.31 g"),
            ("\u{200b}2.31 g", "2.31 g"),
            ("\u{feff}“2.31\u{200b}\u{a0}g”\u{2060}", "2.31 g"),
            ("“2.31 g (was 2.13)”", "2.31 g (was 2.13)"),
        ] {
            assert_eq!(value(typed).to_string(), shown, "{typed}");
        }
    }

    #[test]
    fn words_for_no_reading_are_kept() {
        for typed in [
            "lost",
            "Spilled",
            "?",
            "??",
            "N/A",
            "n/a",
            "none",
            "-",
            "—",
            "not measured",
            "we lost it",
            "lost (knocked over)",
            "lost on day 2",
            "verloren",
            "nicht gemessen",
        ] {
            assert_eq!(
                parse(typed, None),
                Ok(Typed::Missing(typed.to_owned())),
                "{typed}"
            );
        }
        for empty in [" \u{a0}\t", "\u{200b}", "“”"] {
            assert_eq!(parse(empty, None), Ok(Typed::Empty));
        }
        let curly = parse("“lost”", None);
        assert_eq!(curly, Ok(Typed::Missing("lost".to_owned())));
    }

    #[test]
    fn a_fault_between_curly_quotes_is_shown_where_it_stands() {
        let text = "“2.31 gqms”";
        assert_eq!(&text[fault(text).span], "gqms");
        let text = "“heavy stuff”";
        assert_eq!(&text[fault(text).span], "heavy stuff");
        // Behind a number alone it may mean inches.
        assert!(parse("3.65”", None).is_err());
    }

    #[test]
    fn the_instrument_decides_about_three_decimals() {
        let Ok(Typed::Value(reading)) = parse("1,525 g", Some(3)) else {
            panic!()
        };
        assert_eq!(reading.to_string(), "1.525 g");
        for decimals in [None, Some(2)] {
            assert!(
                parse("1,525 g", decimals)
                    .unwrap_err()
                    .help
                    .contains("1.525 or 1525")
            );
        }
    }

    #[test]
    fn where_a_comma_is_the_decimal_mark_it_is_no_mark_between_thousands() {
        for (text, shown) in [
            ("98,340 g", "98.340 g"),
            ("1,525 g (war 1,535)", "1.525 g (war 1,535)"),
            ("12,270 ± 0,005 g", "12.270 ± 0.005 g"),
            ("98.34 g", "98.34 g"),
        ] {
            let read = parse_with(text, Some(2), &Words::of("de").unwrap());
            let Ok(Typed::Value(reading)) = read else {
                panic!("{text}: {read:?}")
            };
            assert_eq!(reading.to_string(), shown);
        }
    }

    #[test]
    fn everything_else_is_a_question() {
        for (typed, kind) in [
            ("nan", "is not a number"),
            ("NaN g", "is not a number"),
            ("inf", "is not a number"),
            ("-infinity", "is not a number"),
            ("3/4/2026", ""),
            ("2026-02-10", ""),
            ("10.2.2026", ""),
            ("14:10", ""),
            ("heavy", ""),
            ("l04.18 g", ""),
            ("1O4.18 g", ""),
            ("1.2.3", ""),
            ("five g", ""),
            ("> 5 g", ""),
            ("12.3 ± g", ""),
            ("12.3 ± -1 g", ""),
            ("12.3(5) ± 1 g", ""),
            ("12.3 g ± 1 %", ""),
            ("2x10^", ""),
            (&"9".repeat(40), "than any"),
            ("1e999", "than any"),
            ("2x10^99", "than any"),
            ("1 234 g", "two ways"),
            ("25 100", "two ways"),
            ("12,345,67", "two ways"),
            ("105.70 105.68", "more than one number"),
            ("105.70 g, 105.68 g", "more than one number"),
            ("105.70 g 105.68 g", "more than one number"),
            ("8.47 - 2.45", "more than one number"),
            ("4.36 gw", "not a unit"),
            ("4.36 gramz cu", "not a unit"),
            ("4.36 ounces", "not a unit"),
        ] {
            let error = fault(typed);
            assert!(error.message.contains(kind), "{typed}: {}", error.message);
            assert!(
                typed.get(error.span.clone()).is_some(),
                "{typed}: {:?}",
                error.span
            );
        }
        assert!(fault("4.36 gramz cu").help.contains("such as g,"));
    }

    fn readings() -> impl Strategy<Value = Reading> {
        let number = (-10_i128.pow(9)..10_i128.pow(9), -4..9_i32);
        let spread = prop_oneof![
            Just(None),
            (1..10_000_i128, 0..6_i32).prop_map(|(n, p)| Some(Spread::Limits(Decimal::new(n, p)))),
            (1..99_i128).prop_map(|n| Some(Spread::Standard(Decimal::new(n, i32::MAX)))),
        ];
        let unit = prop::option::of(prop::sample::select(vec![
            Unit::Gram,
            Unit::Millilitre,
            Unit::Percent,
            Unit::DegreeCelsius,
            Unit::MolePerLitre,
        ]));
        let note = prop::option::of("(was|[a-z]{3,9})( [a-z0-9.,]{1,6}){0,3}");
        (
            number,
            spread,
            unit,
            any::<bool>(),
            any::<bool>(),
            note,
            prop::option::of("[01][0-9]:[0-5][0-9]"),
        )
            .prop_map(
                |((n, p), spread, unit, exact, approximate, note, time)| Reading {
                    number: Decimal::new(n, p),
                    unit,
                    // A standard uncertainty is written in the reading's last place.
                    spread: match spread {
                        Some(Spread::Standard(s)) => {
                            Some(Spread::Standard(Decimal::new(s.coefficient(), p)))
                        }
                        other => other,
                    },
                    exact,
                    approximate,
                    note,
                    time: time.map(Time::OfDay),
                },
            )
    }

    proptest! {
        #[test]
        fn a_reading_printed_and_read_is_itself(reading in readings()) {
            prop_assert_eq!(parse(&reading.to_string(), None), Ok(Typed::Value(reading)));
        }

        #[test]
        fn no_text_panics(text in "\\PC{0,40}|[0-9.,()±+ xX×*^eE⁻²g%mL~?-]{0,24}") {
            if let Err(error) = parse(&text, None) {
                prop_assert!(text.get(error.span).is_some());
            }
        }
    }
}
