//! Words that stand where a reading should, and texts that are no reading: lost, nan, a date, a time.

use crate::measure::typed::Fault;
use crate::measure::typed::TypedError;
use crate::measure::typed::reader::Cursor;
use crate::measure::typed::reader::shortened;
use crate::say;

/// Words that say there is no reading; any of them makes a text without a number “missing”.
const MISSING: &[&str] = &[
    "lost",
    "spilled",
    "spilt",
    "n/a",
    "na",
    "none",
    "missing",
    "unknown",
    "dropped",
    "broken",
    "broke",
    "forgot",
    "forgotten",
    "skipped",
    "absent",
    "unreadable",
    "not",
    "no",
    "nothing",
    "nil",
    "tbd",
    // The same in German, for labs in that language.
    "verloren",
    "verschüttet",
    "verschuettet",
    "fehlt",
    "vergessen",
    "unbekannt",
    "unleserlich",
    "nicht",
    "kein",
    "keine",
    "nichts",
    "kaputt",
];

/// Whether the text is a word for “no reading”, alone or at the start of a remark, or in a remark without any digit.
pub(super) fn says_missing(text: &str) -> bool {
    if text
        .chars()
        .all(|c| matches!(c, '?' | '-' | '–' | '—' | '−' | '/' | '.' | '…'))
        && text != "."
        && text != "/"
    {
        return true;
    }
    let lower = text.to_lowercase();
    let mut words = lower
        .split(|c: char| {
            c.is_whitespace() || matches!(c, ',' | ';' | '.' | '(' | ')' | '!' | '?' | ':')
        })
        .filter(|w| !w.is_empty());
    if text.bytes().any(|b| b.is_ascii_digit()) {
        words
            .next()
            .is_some_and(|word| MISSING.contains(&word) && word != "no")
    } else {
        words.any(|word| MISSING.contains(&word))
    }
}

impl Cursor<'_> {
    /// Names the common texts that are no reading: nan, dates, times, words.
    pub(super) fn refuse_what_is_no_number(&self) -> Result<(), TypedError> {
        let text = self.rest();
        let whole = self.at..self.end;
        let first = text
            .trim_start_matches(['+', '-', '−', '–'])
            .split_whitespace()
            .next()
            .unwrap_or("");
        if ["nan", "inf", "infinity", "∞"]
            .iter()
            .any(|word| first.eq_ignore_ascii_case(word))
        {
            return Err(self.error(
                whole,
                say!(
                    self.words,
                    "“{text}” is not a number that an instrument can show",
                    text = text
                ),
                self.words.say("type the reading, or a word such as lost"),
            ));
        }
        if !text.bytes().any(|b| b.is_ascii_digit()) {
            let error = self.error(
                whole,
                say!(
                    self.words,
                    "there is no number in “{text}”",
                    text = shortened(text)
                ),
                self.words
                    .say("type the reading with its unit, or one of: lost, spilled, none, ?"),
            );
            return Err(TypedError {
                fault: Fault::NoNumber,
                ..error
            });
        }
        let first = first.trim_end_matches([',', '.']);
        if is_date(first) {
            return Err(self.error(
                whole,
                say!(
                    self.words,
                    "“{text}” looks like a date, not like a reading",
                    text = first
                ),
                self.words
                    .say("type what the instrument shows, such as 104.18 g"),
            ));
        }
        if is_time(first) {
            return Err(self.error(
                whole,
                say!(
                    self.words,
                    "“{text}” looks like a time, not like a reading",
                    text = first
                ),
                self.words.say("type the reading first: 105.70 g at 14:10"),
            ));
        }
        Ok(())
    }
}

/// `3/4/2026`, `2026-02-10`, `10.2.2026`.
fn is_date(word: &str) -> bool {
    ['/', '-', '.'].iter().any(|mark| {
        let parts: Vec<&str> = word.split(*mark).collect();
        parts.len() == 3
            && parts.iter().all(|part| {
                (1..=4).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit())
            })
            && parts.iter().any(|part| part.len() == 4)
    }) || (word.matches('/').count() == 2 && word.bytes().all(|b| b.is_ascii_digit() || b == b'/'))
}

/// `14:10`, `9.05`, `14h10`.
pub(super) fn is_time(word: &str) -> bool {
    word.split_once([':', 'h']).is_some_and(|(hours, minutes)| {
        (1..=2).contains(&hours.len())
            && minutes.len() == 2
            && hours
                .bytes()
                .chain(minutes.bytes())
                .all(|b| b.is_ascii_digit())
    })
}
