//! Values in a form with slips: lists, tables in braces, and what has no quote marks.

use crate::problem::Code;
use crate::problem::mend::Walk;
use crate::problem::mend::text::is_quote;
use crate::problem::mend::text::is_toml_bare;
use crate::problem::mend::text::looks_like_form;
use crate::problem::mend::text::triple;
use crate::say;

/// Lists within lists deeper than this are not looked into.
const DEEPEST: usize = 8;
/// A table in braces is not looked through for longer than so many characters.
const LONGEST_TABLE: usize = 4_000;

impl Walk<'_> {
    /// Goes over a value and returns its end. `list` is the depth when it stands in a list.
    pub(super) fn value(&mut self, at: usize, list: Option<usize>) -> usize {
        let rest = &self.text[at..self.line_end(at)];
        let mut next = rest.chars();
        match next.next() {
            None | Some('#') if list.is_none() => {
                let line = at.min(self.text.len());
                self.problem(
                    Code::BlankValue,
                    line.saturating_sub(1)..line,
                    say!(self.words, "nothing stands behind the = sign"),
                    say!(self.words, "here"),
                    say!(self.words, "type \"\" for what is not done yet"),
                );
                self.edits.insert(at, "\"\" ");
                at
            }
            Some(c) if triple(rest).is_some() => self.block(at, c),
            Some(quote @ ('"' | '\'')) => self.string(at, quote, list),
            Some(c) if is_quote(c) => self.curly_string(at, c, list),
            Some('[') => self.list(at, list.unwrap_or(0)),
            Some('{') => self.inline_table(at),
            _ => self.bare(at, list),
        }
    }

    /// A list, on one line or several.
    pub(super) fn list(&mut self, open: usize, depth: usize) -> usize {
        if depth > DEEPEST {
            return self.line_end(open);
        }
        let mut at = open + 1;
        let mut content = at;
        let mut value_before = false;
        loop {
            let blank_from = at;
            at = self.skip_space_and_comments(at);
            let crossed = self.text[blank_from..at].contains('\n');
            let line = &self.text[at..self.line_end(at)];
            if line.is_empty() || (crossed && looks_like_form(line)) {
                self.problem(
                    Code::MissingBracket,
                    open..content,
                    say!(self.words, "the ] at the end of the list is missing"),
                    say!(self.words, "the list starts here"),
                    say!(self.words, "type ] behind the last value"),
                );
                self.edits.insert(content, "]");
                return content;
            }
            if line.starts_with(']') {
                return at + 1;
            }
            if line.starts_with(',') {
                (at, value_before) = (at + 1, false);
                content = at;
                continue;
            }
            if value_before {
                self.problem(
                    Code::MissingComma,
                    at..at + 1,
                    say!(self.words, "a comma is missing between two values"),
                    say!(self.words, "in front of this one"),
                    say!(self.words, "type a comma between them"),
                );
                self.edits.insert(at, ", ");
            }
            let end = self.value(at, Some(depth + 1));
            if end <= at {
                return self.line_end(at);
            }
            (at, content, value_before) = (end, end, true);
        }
    }

    /// A table in braces: only its end is looked for.
    pub(super) fn inline_table(&mut self, open: usize) -> usize {
        let (mut depth, mut quote) = (0_usize, None);
        for (inside, c) in self.text[open..].char_indices().take(LONGEST_TABLE) {
            match (quote, c) {
                (Some(mark), c) if c == mark || c == '\n' => quote = None,
                (Some(_), _) => {}
                (None, '"' | '\'') => quote = Some(c),
                (None, '{') => depth += 1,
                (None, '}') if depth == 1 => return open + inside + 1,
                (None, '}') => depth -= 1,
                _ => {}
            }
        }
        let end = self.line_end(open);
        self.problem(
            Code::MissingBracket,
            open..open + 1,
            say!(self.words, "the } of this { is missing"),
            say!(self.words, "opened here"),
            say!(
                self.words,
                "type } where it ends, or put quote marks around the text"
            ),
        );
        self.edits.replace(open..end, "\"\"");
        end
    }

    /// What to type instead of a value: the value between quote marks, where it is short enough to be shown.
    fn quoted(&self, shown: &str) -> String {
        if shown.len() < 40 {
            say!(self.words, "type \"{text}\"", text = shown)
        } else {
            say!(self.words, "put \" at both ends of it")
        }
    }

    /// A value that begins in front of its quote marks: one pair of them goes around all of it.
    fn in_front(&mut self, at: usize, end: usize) -> usize {
        let shown = self.text[at..end].replace(['"', '\''], "");
        let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
        let help = self.quoted(&shown);
        self.problem(
            Code::BareValue,
            at..end,
            say!(self.words, "this value stands outside its quote marks"),
            say!(self.words, "here"),
            help,
        );
        let text = shown.replace('\\', "\\\\");
        self.edits.replace(at..end, &format!("\"{text}\""));
        end
    }

    /// A value without quotes: a number, a date or yes/no is left alone, the rest gets quotes.
    pub(super) fn bare(&mut self, at: usize, list: Option<usize>) -> usize {
        let end = self.value_end(at, list);
        let shown = &self.text[at..end];
        if shown.is_empty() || is_toml_bare(shown) {
            return end.max(at);
        }
        if let Some(quote) = shown
            .chars()
            .next_back()
            .filter(|c| matches!(c, '"' | '\''))
        {
            // `2.31 g ""` and `2.31 "g"`: the text stands in front of its quote marks.
            if shown.matches(quote).count() > 1 && list.is_none() {
                return self.in_front(at, end);
            }
            self.problem(
                Code::MissingQuote,
                at..end,
                say!(self.words, "a quote mark is missing here"),
                say!(self.words, "closed, and not opened"),
                say!(self.words, "type {text}", text = format!("{quote}{shown}")),
            );
            self.edits.insert(at, quote.encode_utf8(&mut [0; 4]));
            return end;
        }
        let help = self.quoted(shown);
        self.problem(
            Code::BareValue,
            at..end,
            say!(self.words, "this value needs quote marks around it"),
            say!(self.words, "here"),
            help,
        );
        if shown.contains(['"', '\\']) {
            self.edits.replace(
                at..end,
                &format!("\"{}\"", shown.replace('\\', "\\\\").replace('"', "\\\"")),
            );
        } else {
            self.edits.insert(at, "\"");
            self.edits.insert(end, "\"");
        }
        end
    }
}
