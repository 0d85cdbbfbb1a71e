//! Quoted values in a form with slips: a quote mark missing, curly, or in the middle.

use crate::problem::Code;
use crate::problem::Span;
use crate::problem::mend::Walk;
use crate::problem::mend::comments::is_prose;
use crate::problem::mend::text::is_escape;
use crate::problem::mend::text::is_name_byte;
use crate::problem::mend::text::is_quote;
use crate::problem::mend::text::is_single;

use crate::say;

/// A text between single marks is looked for no further than so many lines.
const LONGEST_TEXT: usize = 60;

impl Walk<'_> {
    /// A quoted value of one line.
    pub(super) fn string(&mut self, at: usize, quote: char, list: Option<usize>) -> usize {
        let line_end = self.line_end(at);
        let Some(close) = self.closing(at + 1, line_end, quote) else {
            let over_lines = || self.closed_below(at, quote);
            return match list.is_none().then(over_lines).flatten() {
                Some(close) => self.over_lines(at, close),
                None => self.unclosed(at, quote, list),
            };
        };
        let after = self.skip_blanks(close + 1);
        let rest = &self.text[after..line_end];
        if rest.is_empty() || rest.starts_with('#') {
            return close + 1;
        }
        if list.is_none() && self.is_comment_behind(close + 1) {
            let end = self.code_end(after);
            self.lost_hash(after..end);
            return end;
        }
        if list.is_some() {
            if rest.starts_with([',', ']']) {
                return close + 1;
            }
            // ["105.70 g, "105.68 g"]: the quote found opens the next value.
            if let Some(comma) = self.text[at + 1..close].rfind(',') {
                let end = at + 1 + self.text[at + 1..at + 1 + comma].trim_end().len();
                self.missing_quote(at..end, end, quote);
                return end;
            }
            return close + 1;
        }
        self.text_behind(at, close, quote)
    }

    /// The place of the quote that closes a string of one line; backslashes that mean nothing are doubled.
    pub(super) fn closing(&mut self, from: usize, to: usize, quote: char) -> Option<usize> {
        let mut wrong = Vec::new();
        let mut chars = self.text[from..to].char_indices();
        let mut close = None;
        while let Some((at, c)) = chars.next() {
            if c == quote {
                close = Some(from + at);
                break;
            }
            if c == '\\' && quote == '"' {
                chars.next();
                if !is_escape(&self.text[from + at + 1..to]) {
                    wrong.push(from + at);
                }
            }
        }
        if close.is_some() {
            self.backslashes(&wrong);
        }
        close
    }

    /// Doubles backslashes that mean nothing; said once.
    pub(super) fn backslashes(&mut self, wrong: &[usize]) {
        let Some(first) = wrong.first() else {
            return;
        };
        self.problem(
            Code::Backslash,
            *first..first + 1,
            say!(
                self.words,
                "there is a backslash between double quote marks, where it has a meaning of its own"
            ),
            say!(self.words, "here"),
            say!(self.words, "type / for it, or use '…' around the text"),
        );
        for at in wrong {
            self.edits.insert(*at, "\\");
        }
    }

    /// The quote mark that closes, at the end of a line below, a text that goes on over lines; `None` where the form goes on
    /// first.
    fn closed_below(&self, at: usize, quote: char) -> Option<usize> {
        if self.text[at..self.line_end(at)].contains('#') {
            return None;
        }
        let named = |line: &str| {
            let name = line.split_once('=').map_or("", |(name, _)| name.trim_end());
            !name.is_empty() && name.bytes().all(is_name_byte)
        };
        let mut line = self.next_line(at);
        for _ in 0..LONGEST_TEXT {
            let shown = self.text[line..self.line_end(line)].trim();
            if line >= self.text.len() || shown.starts_with(['#', '[']) || named(shown) {
                return None;
            }
            if let Some(inside) = self.text[line..self.line_end(line)].find(quote) {
                let close = line + inside;
                let behind = self.text[close + 1..self.line_end(close)].trim_start();
                let text = &self.text[at + 1..close];
                let ends = behind.is_empty() || behind.starts_with('#');
                return Some(close).filter(|_| ends && !text.contains("'''"));
            }
            line = self.next_line(line);
        }
        None
    }

    /// A text of several lines between two single marks: it gets three at each end.
    fn over_lines(&mut self, at: usize, close: usize) -> usize {
        let end = self.line_end(at);
        self.problem(
            Code::MissingQuote,
            at..end,
            say!(self.words, "this text goes on over several lines"),
            say!(self.words, "opened, and not closed on this line"),
            say!(self.words, "type ''' in front of it and ''' behind its end"),
        );
        self.edits.replace(at..at + 1, "'''");
        self.edits.replace(close..close + 1, "'''");
        close + 1
    }

    /// A value whose closing quote is missing: closes it in front of the comment, or of the next value of a list.
    pub(super) fn unclosed(&mut self, at: usize, quote: char, list: Option<usize>) -> usize {
        let mut end = self.value_end(at + 1, list);
        let last = self.text[at + 1..end].chars().next_back();
        if let Some(other) = last.filter(|c| is_quote(*c)) {
            let place = end - other.len_utf8()..end;
            if matches!(other, '"' | '\'') {
                self.missing_quote(at..end, place.start, quote);
            } else {
                self.curly.push(place.clone());
            }
            self.edits.replace(place, quote.encode_utf8(&mut [0; 4]));
        } else {
            end = at + 1 + self.text[at + 1..end].trim_end().len();
            self.missing_quote(at..end, end, quote);
            self.edits.insert(end, quote.encode_utf8(&mut [0; 4]));
        }
        end
    }

    pub(super) fn missing_quote(&mut self, place: Span, end: usize, quote: char) {
        let text = self.text[place.start + 1..end.max(place.start + 1)].trim_end();
        let whole = if text.len() < 40 {
            let typed = format!("{quote}{text}{quote}");
            say!(self.words, "type {text}", text = typed)
        } else {
            say!(self.words, "type {quote} at the end", quote = quote)
        };
        self.problem(
            Code::MissingQuote,
            place,
            say!(self.words, "a quote mark is missing here"),
            say!(self.words, "opened, and not closed on this line"),
            whole,
        );
        if self.text[end..].starts_with(',') {
            self.edits.insert(end, quote.encode_utf8(&mut [0; 4]));
        }
    }

    /// Text behind the closing quote: `"105.68" g`, `""8.47 g""`, `"it was "black" at first"`.
    pub(super) fn text_behind(&mut self, at: usize, close: usize, quote: char) -> usize {
        let end = self.value_end(close + 1, None);
        let behind = self.text[close + 1..end].trim();
        let inner = self.text[at..end].trim_matches(quote).trim();
        if behind.chars().all(|c| matches!(c, ',' | ';' | '.')) {
            self.problem(
                Code::QuoteInside,
                close + 1..end,
                say!(
                    self.words,
                    "there is something behind the closing quote mark"
                ),
                say!(self.words, "here"),
                say!(self.words, "take it away"),
            );
            self.edits.replace(close + 1..end, "");
            return end;
        }
        if let Some(list) = listed(&self.text[at..end]) {
            return self.list_without_brackets(at..end, &list);
        }
        if self.holds_numbers()
            && let Some((value, words)) = remarked(&self.text[at + 1..close], behind)
        {
            return self.words_behind(at..end, close, (&value, &words));
        }
        let alone = inner.matches(quote).count() == 1;
        let text = inner
            .replace(quote, if alone { "" } else { "’" })
            .replace('\\', "\\\\")
            .replace('"', "’");
        let help = if text.len() < 40 {
            say!(self.words, "type \"{text}\"", text = text)
        } else {
            say!(
                self.words,
                "leave one quote mark at each end; use ‘…’ inside"
            )
        };
        self.closed_too_early(close..end, help);
        self.edits.replace(at..end, &format!("\"{text}\""));
        end
    }

    /// Whether the boxes of the present section are for numbers.
    fn holds_numbers(&self) -> bool {
        let section = self.section.split('.').next().unwrap_or_default();
        ["day", "trial", "extra", "answers"].contains(&section)
    }

    /// Several values without the brackets of a list: `"32.899 g", "32.887 g"`.
    fn list_without_brackets(&mut self, place: Span, list: &str) -> usize {
        let help = if list.len() < 60 {
            say!(self.words, "type {text}", text = list)
        } else {
            say!(
                self.words,
                "type [ in front of the first value, and ] behind the last one"
            )
        };
        let end = place.end;
        self.edits.replace(place.clone(), list);
        self.problem(
            Code::MissingBracket,
            place,
            say!(self.words, "several values need [ ] around them"),
            say!(self.words, "these"),
            help,
        );
        end
    }

    /// A value with words behind its quote mark: they are kept as a remark.
    fn words_behind(&mut self, place: Span, close: usize, (value, words): (&str, &str)) -> usize {
        let with_words = format!("\"{value} ({words})\"");
        let help = if with_words.len() < 60 {
            say!(
                self.words,
                "type \"{value}\", number and unit only; words stand in brackets behind them, {remark}, or under [words]",
                value = value,
                remark = with_words
            )
        } else {
            say!(
                self.words,
                "type \"{value}\", number and unit only; words go under [words]",
                value = value
            )
        };
        let end = place.end;
        self.edits.replace(place, &with_words);
        self.closed_too_early(close..end, help);
        end
    }

    fn closed_too_early(&mut self, place: Span, help: String) {
        self.problem(
            Code::QuoteInside,
            place,
            say!(
                self.words,
                "the closing quote mark comes too early: there is text behind it"
            ),
            say!(self.words, "closed here"),
            help,
        );
    }

    /// A value between curly quotes.
    pub(super) fn curly_string(&mut self, at: usize, open: char, list: Option<usize>) -> usize {
        let single = is_single(open);
        let from = at + open.len_utf8();
        let end = self.value_end(from, list);
        // The closing mark may be curly or straight; an apostrophe closes nothing that a double mark opened.
        let close = self.text[from..end]
            .char_indices()
            .find(|(_, c)| is_quote(*c) && is_single(*c) == single);
        self.curly.push(at..from);
        self.edits.replace(at..from, "\"");
        for (inside, c) in self.text[from..end]
            .char_indices()
            .take_while(|(inside, _)| close.is_none_or(|(close, _)| *inside < close))
        {
            if matches!(c, '"' | '\\') {
                self.edits.insert(from + inside, "\\");
            }
        }
        let Some((inside, c)) = close else {
            self.edits.insert(end, "\"");
            return end;
        };
        let place = from + inside..from + inside + c.len_utf8();
        self.edits.replace(place.clone(), "\"");
        if list.is_none() && place.end < end {
            self.edits.replace(place.end..end, "");
            return end;
        }
        place.end
    }
}

/// The list that several quoted texts behind each other are meant to be; `None` where anything else than commas, blanks and
/// a bracket stands between or behind them.
fn listed(text: &str) -> Option<String> {
    let mut texts = Vec::new();
    let mut rest = text;
    while let Some(quote) = rest.chars().next().filter(|c| matches!(c, '"' | '\'')) {
        let (one, behind) = rest[1..].split_once(quote)?;
        // An escape may hide a mark; and nothing stands between two of them: `""8.47 g""`.
        if one.contains('\\') || one.is_empty() && behind.starts_with(quote) {
            return None;
        }
        texts.push(format!("{quote}{one}{quote}"));
        rest = behind.trim_start_matches([',', ';', ' ', '\t']);
    }
    let ends = rest.is_empty() || rest == "]";
    (ends && texts.len() > 1).then(|| format!("[{}]", texts.join(", ")))
}

/// A value that begins with its number, and the words behind its quote mark; a unit that stands there goes with the number.
fn remarked(inside: &str, behind: &str) -> Option<(String, String)> {
    let inside = inside.trim();
    let number = inside.trim_start_matches(['-', '+', '\u{2212}', '.', ',', '~']);
    if !number.starts_with(|c: char| c.is_ascii_digit()) || behind.contains(is_quote) {
        return None;
    }
    let (mut value, mut words) = (inside.to_owned(), behind);
    if !inside.contains(char::is_alphabetic) && !inside.contains('%') {
        let (unit, further) = behind.split_once(char::is_whitespace)?;
        value = format!("{inside} {unit}");
        words = further.trim();
    }
    let plain = |c: char| !matches!(c, '(' | ')' | '\\') && !c.is_control();
    let all = !words.is_empty() && is_prose(words) && words.chars().chain(value.chars()).all(plain);
    all.then(|| (value, words.to_owned()))
}
