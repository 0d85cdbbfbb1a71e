//! A form with slips of typing, walked line by line: every slip named in a plain sentence, and mended in a copy, so
//! that the rest of the file can still be read.
//!
//! The walk starts only when a file is no TOML. It knows the few shapes that forms have (headings, names, quoted
//! values, lists, blocks of text) and gives up politely on the rest.

mod blocks;
mod comments;
mod doubled;
mod edits;
mod strings;
mod text;
mod values;
mod whole;

use std::collections::BTreeMap;

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::problem::mend::comments::is_prose;
use crate::problem::mend::edits::Edits;
use crate::problem::mend::text::is_name_byte;
use crate::problem::mend::text::is_quote;
use crate::problem::mend::text::triple;
use crate::say;
use crate::words::Words;

/// Names every slip of a text, in a language, and mends it.
fn mend(text: &str, words: &Words) -> (Mended, Vec<Problem>) {
    let mut walk = Walk {
        text,
        words: words.clone(),
        ..Walk::default()
    };
    let mut at = 0;
    while at < text.len() {
        at = walk.statement(at);
    }
    walk.report_curly_quotes();
    let mut mended = walk.edits.apply(text);
    mended.words = walk.words;
    (mended, walk.problems)
}

pub(in crate::problem) use edits::Mended;
pub(in crate::problem) use whole::mended;

/// The state of the walk.
#[derive(Default)]
struct Walk<'t> {
    text: &'t str,
    words: Words,
    edits: Edits,
    problems: Vec<Problem>,
    curly: Vec<Span>,
    section: String,
    sections: BTreeMap<String, Span>,
    names: BTreeMap<(String, String), Line>,
}

/// A line `name = value` already seen.
#[derive(Clone)]
struct Line {
    name: Span,
    value: Span,
}

impl Walk<'_> {
    /// Goes over one heading, one `name = value` or one line without meaning; returns where the next one starts.
    fn statement(&mut self, at: usize) -> usize {
        let start = self.skip_blanks(at);
        let line = &self.text[start..self.line_end(start)];
        let end = match line.chars().next() {
            None | Some('#') => return self.next_line(start),
            Some('[') => self.heading(start),
            Some('"' | '\'') if triple(line).is_some() => self.stray_marks(start),
            Some(_) => self.entry(start),
        };
        self.next_line(end)
    }

    fn heading(&mut self, start: usize) -> usize {
        let end = self.code_end(start);
        let code = &self.text[start..end];
        let double = code.starts_with("[[");
        if !code.contains(']') {
            self.problem(
                Code::MissingBracket,
                start..end,
                say!(self.words, "the ] at the end of the heading is missing"),
                say!(self.words, "here"),
                say!(self.words, "type {heading}]", heading = code),
            );
            self.edits.insert(end, if double { "]]" } else { "]" });
        }
        let inner = code.trim_start_matches('[').split(']').next().unwrap_or("");
        let inner_start = start + code.len() - code.trim_start_matches('[').len();
        let mut name: String = inner.trim().to_owned();
        if name.contains(' ')
            && !name.contains(['"', '\''])
            && !name.replace(' ', "").contains("..")
        {
            let mut parts: Vec<String> = name
                .split([' ', '.'])
                .filter(|part| !part.is_empty())
                .map(str::to_owned)
                .collect();
            // All sections begin with a small letter.
            if let Some(first) = parts.first_mut() {
                *first = first.to_lowercase();
            }
            let meant = parts.join(".");
            if meant.split('.').count() > name.split('.').count() {
                self.problem(
                    Code::SpaceInName,
                    inner_start..inner_start + inner.len(),
                    say!(self.words, "the heading has a space in it"),
                    say!(self.words, "here"),
                    say!(self.words, "did you mean [{name}]?", name = meant),
                );
                self.edits
                    .replace(inner_start..inner_start + inner.len(), &meant);
            }
            name = meant;
        }
        if !double && !name.is_empty() && name.bytes().all(is_name_byte) {
            if let Some(first) = self.sections.get(&name).cloned() {
                let place = start..end;
                let message = say!(
                    self.words,
                    "you have two sections called [{name}]",
                    name = name
                );
                self.problems.push(
                    Problem::error(Code::DoubledKey, message)
                        .at(place.clone(), self.words.say("the second one"))
                        .at(first, self.words.say("the first one"))
                        .help(self.words.say(
                            "give one of them its right heading, or put all its lines under the first",
                        )),
                );
                self.edits
                    .replace(inner_start..inner_start + inner.len(), &again(&name, start));
            }
            self.sections.entry(name.clone()).or_insert(start..end);
        }
        self.section = name;
        let behind = code.find(']').map_or("", |close| &code[close..]);
        let words = behind.trim_start_matches(']').trim_start();
        if !words.is_empty() {
            self.lost_hash(end - words.len()..end);
        }
        self.line_end(start)
    }

    fn entry(&mut self, start: usize) -> usize {
        let line_end = self.line_end(start);
        let line = &self.text[start..line_end];
        let name_length = match line.chars().next() {
            Some(quote @ ('"' | '\'')) => line[1..]
                .find(quote)
                .map_or(line.len(), |length| length + 2),
            _ => line.bytes().take_while(|b| is_name_byte(*b)).count(),
        };
        let after = self.skip_blanks(start + name_length);
        let name = &line[..name_length];
        let value = match self.text[after..line_end].chars().next() {
            Some('=') if name_length > 0 => Some((name.to_owned(), after + 1)),
            Some(':') if name_length > 0 => {
                self.problem(
                    Code::MissingEquals,
                    after..after + 1,
                    say!(self.words, "there is a colon where the = sign belongs"),
                    say!(self.words, "here"),
                    say!(self.words, "type {name} = \"…\"", name = name),
                );
                self.edits.replace(after..after + 1, "=");
                Some((name.to_owned(), after + 1))
            }
            _ => self.odd_entry(start, after, name),
        };
        let Some((name, value_at)) = value else {
            return line_end;
        };
        let value_at = self.skip_blanks(value_at);
        let end = self.value(value_at, None);
        // A string of one line has looked behind its end itself.
        let string = self.text[value_at..].starts_with(['"', '\'']);
        let end = if string && triple(&self.text[value_at..]).is_none() {
            end
        } else {
            self.tail(end)
        };
        self.doubled(
            &name,
            Line {
                name: start..start + name_length.max(1),
                value: value_at..end.max(value_at),
            },
        );
        end
    }

    /// A line without `=` where one is expected: its name and where its value starts, if it was mended.
    fn odd_entry(&mut self, start: usize, after: usize, name: &str) -> Option<(String, usize)> {
        let end = self.code_end(start);
        let code = &self.text[start..end];
        let first_quote = code.find(['"', '\'', '“', '”', '‘']).unwrap_or(code.len());
        if code.ends_with(']') && !code.contains(['=', '"', '\'']) {
            self.problem(
                Code::MissingBracket,
                start..end,
                say!(self.words, "the [ in front of the heading is missing"),
                say!(self.words, "here"),
                say!(self.words, "type [{heading}", heading = code),
            );
            self.edits.insert(start, "[");
            code.trim_end_matches(']').clone_into(&mut self.section);
            return None;
        }
        let sign = code[..first_quote]
            .find(['=', ':'])
            .filter(|sign| *sign > 0);
        // A colon between words is one of a sentence.
        let sentence = |sign: usize| {
            let (name, value) = code.split_at(sign);
            let value = value.strip_prefix(':').unwrap_or("").trim_start();
            is_prose(name) && is_prose(value)
        };
        if let Some(sign) = sign.filter(|sign| !sentence(*sign)) {
            let written = code[..sign].trim_end();
            let meant: String = written
                .chars()
                .map(|c| {
                    if c.is_ascii() && is_name_byte(c as u8) {
                        c
                    } else {
                        '_'
                    }
                })
                .collect();
            let message = if written.contains(' ') {
                say!(self.words, "the name has a space in it")
            } else {
                say!(
                    self.words,
                    "the name has a character in it that names cannot have"
                )
            };
            self.problem(
                Code::SpaceInName,
                start..start + written.len(),
                message,
                say!(self.words, "here"),
                say!(self.words, "did you mean {name}?", name = meant),
            );
            self.edits.replace(start..start + written.len(), &meant);
            self.edits.replace(start + sign..start + sign + 1, "=");
            return Some((meant, start + sign + 1));
        }
        let value_like = |c: char| is_quote(c) || c == '[' || c.is_ascii_digit();
        if !name.is_empty() && after < end && self.text[after..].starts_with(value_like) {
            self.problem(
                Code::MissingEquals,
                start..end,
                say!(self.words, "the = sign is missing"),
                say!(self.words, "between the name and the value"),
                say!(self.words, "type {name} = \"…\"", name = name),
            );
            self.edits.insert(after, "= ");
            return Some((name.to_owned(), after));
        }
        if is_prose(code) {
            self.lost_hash(start..end);
            return None;
        }
        self.problem(
            Code::Syntax,
            start..end,
            say!(self.words, "this line has neither a name nor an = sign"),
            say!(self.words, "here"),
            if self.has_notes() {
                say!(
                    self.words,
                    "observations go between the ''' marks under seen; put # in front of a remark of your own"
                )
            } else {
                say!(
                    self.words,
                    "put # in front of a remark of your own, or take the line out"
                )
            },
        );
        self.edits.replace(start..end, "");
        None
    }

    /// What stands behind a value that is no plain string: nothing, or a comment.
    fn tail(&mut self, at: usize) -> usize {
        let line_end = self.line_end(at);
        let from = self.skip_blanks(at);
        let rest = &self.text[from..line_end];
        if self.is_comment_behind(at) && !rest.starts_with('#') {
            let end = self.code_end(from);
            self.lost_hash(from..end);
        } else if !rest.is_empty() && !rest.starts_with('#') {
            let end = self.value_end(from, None);
            self.problem(
                Code::QuoteInside,
                from..end,
                say!(self.words, "there is something behind the end of the value"),
                say!(self.words, "here"),
                say!(self.words, "take it away, or put it in front of the end"),
            );
            self.edits.replace(from..end, "");
        }
        at
    }

    /// One problem for all curly quotes of a file: phones and word processors change every one of them.
    fn report_curly_quotes(&mut self) {
        let Some(first) = self.curly.first().cloned() else {
            return;
        };
        let here = match self.curly.len() {
            1 => say!(self.words, "here"),
            places => say!(
                self.words,
                "here, and in {count} more places",
                count = places - 1
            ),
        };
        let message = self
            .words
            .say("there are curly quote marks where straight ones belong");
        let help = self.words.say("let your editor replace every “ and ” by \", and every ‘ and ’ at the ends of a text by '");
        let problem = Problem::error(Code::CurlyQuotes, message);
        self.problems.push(problem.at(first, here).help(help));
    }

    pub(super) fn problem(
        &mut self,
        code: Code,
        span: Span,
        message: String,
        label: String,
        help: String,
    ) {
        self.problems
            .push(Problem::error(code, message).at(span, label).help(help));
    }
}

/// A heading that TOML takes for a new one and the tree reader for the same: see `document`.
fn again(name: &str, number: usize) -> String {
    let (front, last) = name
        .rsplit_once('.')
        .map_or(("", name), |(front, last)| (front, last));
    format!(
        "{front}{}\"{last}\\u0001{number}\"",
        if front.is_empty() { "" } else { "." }
    )
}
