//! Blocks of text between triple quotes in a form with slips elsewhere: what stands inside is the students' own, whatever it
//! looks like, and is left alone.

use crate::problem::Code;
use crate::problem::Span;
use crate::problem::mend::Walk;
use crate::problem::mend::text::is_escape;
use crate::problem::mend::text::is_name_byte;
use crate::problem::mend::text::is_quote;
use crate::problem::mend::text::is_single;
use crate::problem::mend::text::looks_like_form;
use crate::problem::mend::text::triple;
use crate::say;

impl Walk<'_> {
    /// Goes over a block of text and returns its end.
    pub(super) fn block(&mut self, at: usize, open: char) -> usize {
        let single = is_single(open);
        let marks = if single { "'''" } else { "\"\"\"" };
        let from = at + triple(&self.text[at..]).unwrap_or(3);
        if self.text[at..from] != *marks {
            self.curly.push(at..from);
            self.edits.replace(at..from, marks);
        }
        let close = self.block_close(at..from, marks);
        let close = close.map(|close| self.last_close(close, marks));
        let inside = from..close.as_ref().map_or_else(
            || self.first_form_line(from, self.text.len()),
            |close| close.start,
        );
        if !single {
            self.backslashes_of_block(inside.clone());
        }
        if let Some(close) = close {
            if !self.text[close.clone()].ends_with(marks) {
                self.edits.replace(close.clone(), marks);
            }
            return close.end;
        }
        if inside.end == self.text.len() {
            self.unclosed_block(at..from, inside.end, &format!("\n{marks}"));
            return inside.end;
        }
        self.unclosed_block(at..from, inside.end, &format!("{marks}\n"));
        inside.end.saturating_sub(1)
    }

    /// Where the block that these marks open is closed: at the next marks of its kind, whatever its text looks like, unless
    /// those stand in a line of the form, where they open the next block or are part of a comment.
    fn block_close(&self, open: Span, marks: &str) -> Option<Span> {
        let opening = &self.text[open.clone()];
        let exact = |found: &str| found == marks;
        // Three backticks are Markdown, unless they opened the block.
        let any = |found: &str| opening.contains('`') || !found.contains('`');
        if opening == marks {
            // A word processor makes curly what it sees typed: it may have taken the closing marks alone.
            let straight = self.closing_marks(open.end, marks, exact);
            return straight.or_else(|| self.closing_marks(open.end, marks, any));
        }
        self.closing_marks(open.end, marks, any)
    }

    /// The marks that are meant to close a block: where marks stand alone on a line below, before the form goes on, those that
    /// were found first stand inside the text, and are none.
    fn last_close(&mut self, first: Span, marks: &str) -> Span {
        let mut inner: Vec<Span> = Vec::new();
        let mut close = first;
        while let Some(next) = self.lone_marks(close.end, marks) {
            let between = self.text[close.end..next.start].match_indices(marks);
            let between: Vec<usize> = between.map(|(at, _)| close.end + at).collect();
            inner.push(close);
            inner.extend(between.into_iter().map(|at| at..at + marks.len()));
            close = next;
        }
        let Some(place) = inner.first().cloned() else {
            return close;
        };
        let message = say!(
            self.words,
            "{marks} inside the text end it here",
            marks = marks
        );
        let help = say!(
            self.words,
            "leave {marks} only at the two ends of a text; inside it use “…”",
            marks = marks
        );
        let label = say!(self.words, "closed here");
        self.problem(Code::QuoteInside, place, message, label, help);
        let harmless = if marks.starts_with('\'') {
            "’’’"
        } else {
            "”””"
        };
        for place in inner {
            self.edits.replace(place, harmless);
        }
        close
    }

    /// Marks alone on a line behind a place, before the next line of the form.
    fn lone_marks(&self, from: usize, marks: &str) -> Option<Span> {
        let mut line = self.next_line(from);
        while line < self.text.len() {
            let shown = &self.text[line..self.line_end(line)];
            if looks_like_form(shown) {
                return None;
            }
            if shown.trim() == marks {
                let start = line + shown.find(marks)?;
                return Some(start..start + marks.len());
            }
            line = self.next_line(line);
        }
        None
    }

    /// The first marks that close a block whose text starts at a place, of those that count.
    fn closing_marks(
        &self,
        from: usize,
        marks: &str,
        counts: impl Fn(&str) -> bool,
    ) -> Option<Span> {
        let single = marks.starts_with('\'');
        let mut at = from;
        while let Some(length) = self.text[at..].find(|c| is_quote(c) || c == '\\') {
            at += length;
            let rest = &self.text[at..];
            let mark = rest.chars().next().unwrap_or('"');
            if mark == '\\' {
                // In a literal block a backslash is a character like any other.
                let escaped = rest[1..].chars().next().map_or(0, char::len_utf8);
                at += 1 + if single { 0 } else { escaped };
                continue;
            }
            let found =
                triple(rest).filter(|length| is_single(mark) == single && counts(&rest[..*length]));
            let Some(length) = found else {
                at += mark.len_utf8();
                continue;
            };
            if self.is_of_form(from, at) {
                return None;
            }
            if !rest.starts_with(marks) {
                return Some(at..at + length);
            }
            // Up to two quote marks in front of the closing ones are text.
            let more = rest[length..].chars().take_while(|c| marks.starts_with(*c));
            let more = more.take(2).count();
            return Some(at + more..at + more + length);
        }
        None
    }

    /// Whether marks at a place belong to a line of the form, and not to the text of a block that starts at `from`.
    fn is_of_form(&self, from: usize, at: usize) -> bool {
        let start = self.text[..at].rfind('\n').map_or(0, |end| end + 1);
        if start <= from {
            return false;
        }
        let before = self.text[start..at].trim();
        let opens = before.strip_suffix('=').is_some_and(|name| {
            let name = name.trim_end();
            !name.is_empty() && name.bytes().all(is_name_byte)
        });
        opens || (before.contains('#') && looks_like_form(before))
    }

    /// The first line behind a place, up to another, that is in truth the next line of the form; the end when there is none.
    fn first_form_line(&self, from: usize, to: usize) -> usize {
        let mut line = self.next_line(from);
        while line < to {
            if looks_like_form(&self.text[line..self.line_end(line)]) {
                return line;
            }
            line = self.next_line(line);
        }
        to
    }

    /// Backslashes that mean nothing in a block between double quote marks.
    fn backslashes_of_block(&mut self, inside: Span) {
        let text = &self.text[inside.clone()];
        let mut wrong = Vec::new();
        let mut chars = text.char_indices();
        while let Some((at, c)) = chars.next() {
            if c != '\\' {
                continue;
            }
            let behind = &text[at + 1..];
            // At the end of a line it joins two lines.
            let joins = behind
                .trim_start_matches([' ', '\t', '\r'])
                .starts_with('\n');
            if joins || is_escape(behind) {
                chars.next();
            } else {
                wrong.push(inside.start + at);
            }
        }
        self.backslashes(&wrong);
    }

    /// Marks of a block on a line where no value is: the block above was closed before they came.
    pub(super) fn stray_marks(&mut self, start: usize) -> usize {
        let end = self.line_end(start);
        let marks = triple(&self.text[start..end]).unwrap_or(0);
        let marks = &self.text[start..start + marks];
        let message = say!(
            self.words,
            "these {marks} close no text: the text above was closed already",
            marks = marks
        );
        let help = say!(
            self.words,
            "leave {marks} only at the two ends of a text; inside it use “…”",
            marks = marks
        );
        let label = say!(self.words, "here");
        self.problem(Code::QuoteInside, start..end, message, label, help);
        self.edits.replace(start..end, "");
        end
    }

    fn unclosed_block(&mut self, open: Span, at: usize, mending: &str) {
        let marks = self.text[open.clone()].to_owned();
        self.problem(
            Code::MissingQuote,
            open,
            say!(self.words, "the text that starts here is never closed"),
            say!(self.words, "opened here"),
            say!(
                self.words,
                "put {marks} on a line of its own where the text ends",
                marks = marks
            ),
        );
        self.edits.insert(at, mending);
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use crate::problem::Code;
    use crate::problem::Source;
    use crate::problem::document::Document;
    use crate::problem::document::Shape;
    use crate::problem::document::Table;
    use crate::words::Words;

    /// The texts of the file's lines by name, and the codes of its problems.
    fn read(text: &str) -> (Vec<(String, String)>, Vec<Code>) {
        let source = Source {
            name: "a.toml".to_owned(),
            text: text.to_owned(),
        };
        let (document, problems) = Document::read(&source, &Words::english());
        let texts = Table::root(&document).take_all().into_iter();
        let texts = texts.map(|(name, _, value)| match value.shape() {
            Shape::Text(text) => (name, text.to_owned()),
            _ => (name, "no text".to_owned()),
        });
        let codes = problems.iter().map(|problem| problem.code).collect();
        (texts.collect(), codes)
    }

    /// Reads prose in a block beside one slip, in front of it and behind it.
    fn beside_a_slip(prose: &str, marks: &str) -> Result<(), TestCaseError> {
        for (before, after) in [("m = 4.36 g", "n = \"1\""), ("m = \"1\"", "n = 4.36 g")] {
            let file = format!("{before}\nb = {marks}\n{prose}\n{marks} # a remark\n{after}\n");
            let (texts, codes) = read(&file);
            prop_assert_eq!(&codes, &[Code::BareValue], "{}", file);
            prop_assert_eq!(texts.len(), 3, "{}", file);
            prop_assert_eq!(&texts[1].1, &format!("{prose}\n"));
        }
        Ok(())
    }

    #[test]
    fn prose_stands_as_it_was_typed_beside_a_slip() {
        for prose in [
            "```python\nx = 4.36 / 65.38\n```",
            "rate = \"fast\"",
            "n = m/M\n\n= 4.36/65.38",
            "[day.2]\ndate = \"Monday\"\nseen = \"black\"",
            "zinc_before = 4.36 g\nzinc_before = 4.63 g",
            "# Result\n- one\n- two: 3 g",
            "it's black, “really” ‘black’, ’ and ` too",
            "[link](http://a.b) | a | b |\n|---|---|",
            "$\\frac{m}{M}$, C:\\temp\\x",
            "x = [\n{ \"json\": [1, 2\n",
            "\u{a0}non\u{200b}breaking\u{202f}spaces\t",
            "she said ’’’no’’’ and ‘‘‘yes‘‘‘",
            "two '' marks, and \"\"\" marks",
        ] {
            beside_a_slip(prose, "'''").unwrap();
            if !prose.contains(['\\']) && !prose.contains("\"\"\"") {
                beside_a_slip(prose, "\"\"\"").unwrap();
            }
        }
    }

    proptest! {
        #[test]
        fn any_prose_stands_as_it_was_typed_beside_a_slip(
            prose in "([a-z]{1,3}|[ =#:,.{}“”‘’`|*$\n\\[\\]]|\\[day\\.2\\]\n|\n[a-z]{1,3} = [\"‘“]|```|’’’|‘‘‘|“““|'' ?x|[0-9.]+ g)*"
        ) {
            beside_a_slip(&prose, "'''")?;
            beside_a_slip(&prose.replace('"', "“"), "\"\"\"")?;
        }
    }

    #[test]
    fn marks_are_closed_where_they_are_meant_to_be() {
        for (file, second, codes) in [
            // Up to two quote marks in front of the closing ones are text.
            ("m = 1 g\nb = '''it'''''\n", "it''", &[Code::BareValue][..]),
            (
                "m = 1 g\nb = \"\"\"say \\\"\\\"\\\" \\\n  x\"\"\"\n",
                "say \"\"\" x",
                &[Code::BareValue],
            ),
            // What a word processor made of the closing marks.
            (
                "m = \"1\"\nb = '''\nblack\n’’’\nc = '''\nx'''\n",
                "black\n",
                &[],
            ),
            (
                "m = \"1\"\nb = ‘‘‘\nblack\n’’’\nc = ‘‘‘\nx’’’\n",
                "black\n",
                &[Code::CurlyQuotes],
            ),
            (
                "m = \"1\"\nb = ```\nblack\n```\nc = \"x\"\n",
                "black\n",
                &[Code::CurlyQuotes],
            ),
            // Never closed: the next marks open another block, or stand in a comment.
            (
                "m = \"1\"\nb = '''\nblack\nc = '''\nx'''\n",
                "black\n",
                &[Code::MissingQuote],
            ),
            (
                "m = \"1\"\nb = '''\nblack\n[words] # between ''' and '''\nc = '''\nx'''\n",
                "black\n",
                &[Code::MissingQuote],
            ),
            // Backslashes in a block between double marks.
            (
                "m = 1 g\nb = \"\"\"\n\\(x\\)\n\"\"\"\n",
                "\\(x\\)\n",
                &[Code::BareValue, Code::Backslash],
            ),
            // Marks inside a text whose own stand below.
            (
                "m = \"1\"\nb = '''\nit was '''very''' white\nfoam\n'''\nc = \"2\"\n",
                "it was ’’’very’’’ white\nfoam\n",
                &[Code::QuoteInside],
            ),
            (
                "m = \"1\"\nb = '''\nwhite\n'''\nfoam\n'''\nc = \"2\"\n",
                "white\n’’’\nfoam\n",
                &[Code::QuoteInside],
            ),
            // A text between single marks that goes on.
            (
                "m = \"1\"\nb = \"white stuff\nand more\" # x\nc = \"2\"\n",
                "white stuff\nand more",
                &[Code::MissingQuote],
            ),
            (
                "m = \"1\"\nb = \"white\nc = \"2\"\n",
                "white",
                &[Code::MissingQuote],
            ),
            // A value in front of its quote marks.
            (
                "m = \"1\"\nb = 2.31 g \"\" # boat\n",
                "2.31 g",
                &[Code::BareValue],
            ),
            ("m = \"1\"\nb = 2.31 \"g\"\n", "2.31 g", &[Code::BareValue]),
            // Comments without their #.
            (
                "Write each digit: as shown\nm = \"1\"\nb = \"\"      dish, dry\n",
                "",
                &[Code::Syntax, Code::Syntax],
            ),
            (
                "m = \"1\"\nb = \"\" 2.31 g\n",
                "2.31 g",
                &[Code::QuoteInside],
            ),
            // Something behind a block of one line.
            (
                "m = \"1\"\nb = '''black''' x\nc = \"2\"\n",
                "black",
                &[Code::QuoteInside],
            ),
        ] {
            let (texts, found) = read(file);
            assert_eq!(texts[1].1, second, "{file}");
            assert_eq!(found, codes, "{file}");
        }
    }
}
