//! Reads the answers of a record: what is wrong with one is said with its place, and a comma means what it means elsewhere.

use crate::answers::Given;
use crate::answers::given;
use crate::answers::given::Number;
use crate::answers::given::WrittenUnit;
use crate::lab::Lab;
use crate::measure::Unit;
use crate::measure::foreign;
use crate::measure::typed::Fault;
use crate::measure::typed::TypedError;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::record::Answer;
use crate::record::Content;
use crate::record::Record;
use crate::say;
use crate::working::Kind;
use crate::working::Step;

/// An answer this many times larger or smaller than the right value is still taken for an answer.
const FAR: f64 = 100.0;

/// What an answer is read by.
pub(super) struct About<'a> {
    pub(super) lab: &'a Lab,
    pub(super) step: &'a Step,
    pub(super) record: &'a Record,
    /// What the readings give, in the base unit of the step; `None` while they do not.
    pub(super) key: Option<f64>,
}

impl About<'_> {
    /// Reads an answer; `None` when it cannot be read, which is said.
    pub(super) fn read(&self, answer: &Answer, problems: &mut Vec<Problem>) -> Option<Given> {
        let read = given::read(&answer.typed, self.lab, self.step);
        let read = match read {
            Err(wrong) if wrong.fault == Fault::CommaOrThousands => {
                self.by_what_the_comma_means(answer, &wrong).ok_or(wrong)
            }
            Ok(given) => Ok(self.with_a_point_for_thousands(answer).unwrap_or(given)),
            Err(wrong) if wrong.fault == Fault::UnknownUnit => {
                self.without_its_unit(answer, &wrong, problems).ok_or(wrong)
            }
            Err(wrong) if self.step.kind == Kind::Limiting => {
                self.with_the_letter_o(answer, problems).ok_or(wrong)
            }
            read => read,
        };
        match read {
            Ok(given) => {
                if let Given::Number(Number {
                    unit: WrittenUnit::Other(unit),
                    ..
                }) = given
                {
                    problems.push(given::other_unit(answer, self.lab, self.step, unit));
                }
                Some(given)
            }
            Err(wrong) => {
                problems.push(
                    Problem::error(Code::Answer, wrong.message)
                        .at(place(answer, &wrong.span), self.step.title.clone())
                        .help(wrong.help),
                );
                None
            }
        }
    }

    /// `CuS04`, with a digit for the last letter but one; said, as it is no formula.
    fn with_the_letter_o(&self, answer: &Answer, problems: &mut Vec<Problem>) -> Option<Given> {
        let meant = answer.typed.replace('0', "O");
        if meant == answer.typed {
            return None;
        }
        let given = given::read(&meant, self.lab, self.step).ok();
        let given = given.filter(|given| matches!(given, Given::Substances(_)))?;
        let words = &self.lab.words;
        problems.push(
            Problem::warning(
                Code::Answer,
                words.say("a digit 0 stands in the formula where the letter O belongs"),
            )
            .at(answer.span.clone(), self.step.title.clone())
            .help(say!(words, "it was read as {meant}", meant = meant)),
        );
        Some(given)
    }

    /// `1.52 grumms`, a number with a word behind it that is no unit: judged as if none stood there. A unit of other
    /// laboratories, or one with another prefix, has a number of its own, and more than a word may be anything.
    fn without_its_unit(
        &self,
        answer: &Answer,
        wrong: &TypedError,
        problems: &mut Vec<Problem>,
    ) -> Option<Given> {
        let mut text = answer.typed.clone();
        let word = text.get(wrong.span.clone())?.to_owned();
        let is_word = word.chars().all(|c| c.is_alphabetic() || c == '/');
        let has_a_size =
            foreign::instead(&word).is_some() || Unit::behind_a_letter(&word).is_some();
        if !is_word || has_a_size {
            return None;
        }
        text.replace_range(wrong.span.clone(), "");
        let Given::Number(mut number) = given::read(&text, self.lab, self.step).ok()? else {
            return None;
        };
        if number.unit == WrittenUnit::Missing {
            number.unit = WrittenUnit::Unread;
        }
        let taken = self
            .lab
            .words
            .say("the number is judged as if no unit stood behind it");
        problems.push(
            Problem::warning(Code::Answer, wrong.message.clone())
                .at(place(answer, &wrong.span), self.step.title.clone())
                .help(format!("{}; {taken}", wrong.help)),
        );
        Some(Given::Number(number))
    }

    /// `2,704` as a decimal or as thousands: as the file writes its other numbers, else as only one of them can be an answer.
    fn by_what_the_comma_means(&self, answer: &Answer, wrong: &TypedError) -> Option<Given> {
        let with = |mark: &str| {
            let mut text = answer.typed.clone();
            let token = text.get(wrong.span.clone())?.replace(',', mark);
            text.replace_range(wrong.span.clone(), &token);
            given::read(&text, self.lab, self.step).ok()
        };
        let decimal = with(".")?;
        if self.writes_commas(None) {
            return Some(decimal);
        }
        let thousands = with("")?;
        match (self.may_be(&decimal), self.may_be(&thousands)) {
            (true, false) => Some(decimal),
            (false, true) => Some(thousands),
            _ => None,
        }
    }

    /// `1.278 mg` where the other numbers of the file have commas, if only 1278 mg can be an answer.
    fn with_a_point_for_thousands(&self, answer: &Answer) -> Option<Given> {
        let token = number_in(&answer.typed);
        let (whole, rest) = token.split_once('.')?;
        let groups = !whole.starts_with('0') && whole.len() <= 3 && rest.len() == 3;
        if !groups
            || !rest.bytes().all(|byte| byte.is_ascii_digit())
            || self.lab.words.decimal_mark() != ','
            || !self.writes_commas(Some(answer))
        {
            return None;
        }
        let read = |text: &str| given::read(text, self.lab, self.step).ok();
        let decimal = read(&answer.typed)?;
        let thousands = read(&answer.typed.replacen(token, &[whole, rest].concat(), 1))?;
        (!self.may_be(&decimal) && self.may_be(&thousands)).then_some(thousands)
    }

    /// Whether a number is near enough to what the readings give to be an answer.
    fn may_be(&self, given: &Given) -> bool {
        let (Given::Number(number), Some(key)) = (given, self.key) else {
            return false;
        };
        let times = number.value.abs() / key.abs();
        (1.0 / FAR..=FAR).contains(&times)
    }

    /// Whether the other numbers of the file have a comma for the decimal mark, and none a point; but for one answer.
    fn writes_commas(&self, but: Option<&Answer>) -> bool {
        let entries = self
            .record
            .readings
            .iter()
            .flat_map(|reading| &reading.entries);
        let readings = entries
            .filter(
                |entry| matches!(&entry.content, Content::Value(read) if read.number.places() > 0),
            )
            .map(|entry| number_in(&entry.typed));
        let answers = self
            .record
            .answers
            .iter()
            .filter(|answer| but.is_none_or(|but| but.step != answer.step))
            .map(|answer| number_in(&answer.typed));
        let (mut commas, mut points) = (0, 0);
        for number in readings {
            commas += usize::from(number.contains(','));
            points += usize::from(number.contains('.'));
        }
        for number in answers {
            commas += usize::from(is_decimal_by_comma(number));
            points += usize::from(number.contains('.'));
        }
        commas > 0 && points == 0
    }
}

/// Where a part of an answer stands in the file, if it stands there as it was read.
fn place(answer: &Answer, part: &Span) -> Span {
    let start = answer.span.start;
    if answer.typed.len() == answer.span.len() {
        start + part.start..start + part.end
    } else {
        answer.span.clone()
    }
}

/// The number a text begins with, marks included: what follows, as a remark in brackets, may be written in any way.
fn number_in(text: &str) -> &str {
    let text = text.trim_start_matches(|c: char| !c.is_ascii_digit());
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, ',' | '.')));
    text[..end.unwrap_or(text.len())].trim_end_matches(['.', ','])
}

/// Whether the comma of a number cannot stand between thousands: `0,783`, `99,0`.
fn is_decimal_by_comma(number: &str) -> bool {
    number.split_once(',').is_some_and(|(whole, fraction)| {
        !fraction.contains(',')
            && (fraction.len() != 3 || whole.starts_with('0') || whole.len() > 3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_some_commas_tell_what_they_mean() {
        for (text, number, decimal) in [
            ("0,783 g", "0,783", true),
            ("99,0 %", "99,0", true),
            ("2,704 g", "2,704", false),
            ("1,234,567", "1,234,567", false),
            ("~ 1,50 g (not 1.5)", "1,50", true),
            ("FeCl3", "3", false),
            ("1,", "1", false),
        ] {
            assert_eq!(number_in(text), number);
            assert_eq!(is_decimal_by_comma(number), decimal, "{text}");
        }
    }
}
