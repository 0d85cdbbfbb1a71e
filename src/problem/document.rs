//! A TOML file as a tree with places, and a walker over its tables that gathers every problem.

use std::borrow::Cow;

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::Span;
use crate::problem::mend::Mended;
use crate::problem::mend::mended;
use crate::problem::suggest;
use crate::problem::tree::Kind;
use crate::problem::tree::Line;
use crate::problem::tree::Node;
use crate::say;
use crate::words::Words;

/// A file as a tree, with slips of typing mended where it was not TOML.
#[derive(Debug, Clone)]
pub struct Document {
    mended: Mended,
    lines: Vec<Line>,
}

impl Document {
    /// Parses a file; what is no TOML is mended, and said in a language.
    #[must_use]
    pub fn read(source: &Source, words: &Words) -> (Self, Vec<Problem>) {
        let (mended, lines, problems) = mended(source, words);
        (Self { mended, lines }, problems)
    }
}

/// A table under reading: what is asked for is taken, the rest is reported as unknown at the end.
pub struct Table<'d> {
    /// What the table is called in messages: `[day.1]`, “the file”.
    pub name: String,
    /// Where the table's name stands.
    pub span: Span,
    entries: Vec<Entry<'d>>,
    known: Vec<&'static str>,
    source: &'d Mended,
}

/// A key with its value.
pub struct Entry<'d> {
    /// The key.
    pub key: String,
    /// Where the key stands.
    pub key_span: Span,
    /// The value.
    pub value: Value<'d>,
    taken: bool,
}

/// A value with its place.
#[derive(Clone, Copy)]
pub struct Value<'d> {
    node: &'d Node,
    /// A second section of the same name.
    twin: Option<&'d Node>,
    source: &'d Mended,
}

/// What a value is.
pub enum Shape<'d> {
    /// Text.
    Text(&'d str),
    /// A whole or decimal number, as written.
    Number(&'d str),
    /// `true` or `false`.
    Flag(bool),
    /// A list.
    List(Vec<Value<'d>>),
    /// A table.
    Table,
    /// A TOML date or time, as written.
    Date(&'d str),
}

impl<'d> Table<'d> {
    /// The whole file.
    #[must_use]
    pub fn root(document: &'d Document) -> Self {
        let source = &document.mended;
        let name = source.words.say("the file").to_owned();
        Self::of(source, name, 0..0, &document.lines)
    }

    fn of(
        source: &'d Mended,
        name: String,
        span: Span,
        lines: impl IntoIterator<Item = &'d Line>,
    ) -> Self {
        let mut entries: Vec<Entry<'d>> = Vec::new();
        let mut twins = Vec::new();
        for line in lines {
            let (name, twin) = line
                .key
                .split_once('\u{1}')
                .map_or((&*line.key, false), |(name, _)| (name, true));
            let entry = Entry {
                key: name.to_owned(),
                key_span: source.back(&line.key_span),
                value: Value {
                    node: &line.value,
                    twin: None,
                    source,
                },
                taken: false,
            };
            if twin {
                twins.push(entry);
            } else {
                entries.push(entry);
            }
        }
        entries.sort_by_key(|entry| entry.key_span.start);
        // A section that was told apart from an earlier one of its name only to be read is one with it again.
        for twin in twins {
            if let Some(first) = entries.iter_mut().find(|entry| entry.key == twin.key) {
                first.value.twin = Some(twin.value.node);
            }
        }
        Self {
            name,
            span,
            entries,
            known: Vec::new(),
            source,
        }
    }

    /// Every key with its value, in the file's order; all count as known.
    pub fn take_all(&mut self) -> Vec<(String, Span, Value<'d>)> {
        let fresh = self.entries.iter_mut().filter(|entry| !entry.taken);
        fresh
            .map(|entry| {
                entry.taken = true;
                (entry.key.clone(), entry.key_span.clone(), entry.value)
            })
            .collect()
    }

    /// The value of a key, if there.
    pub fn take(&mut self, key: &'static str) -> Option<Value<'d>> {
        self.known.push(key);
        let entry = self.entries.iter_mut().find(|entry| entry.key == key)?;
        entry.taken = true;
        Some(entry.value)
    }

    /// Where a key stands, if there.
    #[must_use]
    pub fn key_span(&self, key: &str) -> Option<Span> {
        self.entries
            .iter()
            .find(|entry| entry.key == key)
            .map(|entry| entry.key_span.clone())
    }

    /// The text of a key.
    pub fn text(
        &mut self,
        key: &'static str,
        problems: &mut Vec<Problem>,
    ) -> Option<(Cow<'d, str>, Span)> {
        let value = self.take(key)?;
        if let Shape::Text(text) = value.shape() {
            Some((Cow::Borrowed(text), value.inner_span()))
        } else {
            let expected = self.source.words.say("text between quotes");
            problems.push(value.wrong_shape(key, expected));
            None
        }
    }

    /// The text of a key that must be there.
    pub fn required_text(
        &mut self,
        key: &'static str,
        problems: &mut Vec<Problem>,
    ) -> Option<(Cow<'d, str>, Span)> {
        if !self.entries.iter().any(|entry| entry.key == key) {
            self.known.push(key);
            let (words, section) = (&self.source.words, &self.name);
            let message = say!(
                words,
                "{section} has no `{key}`",
                section = section,
                key = key
            );
            problems.push(
                Problem::error(Code::MissingKey, message)
                    .at(
                        self.span.clone(),
                        say!(words, "`{key}` is missing", key = key),
                    )
                    .help(say!(words, "add a line `{key} = \"…\"`", key = key)),
            );
            return None;
        }
        self.text(key, problems)
    }

    /// `true` or `false` of a key.
    pub fn flag(&mut self, key: &'static str, problems: &mut Vec<Problem>) -> Option<bool> {
        let value = self.take(key)?;
        if let Shape::Flag(flag) = value.shape() {
            Some(flag)
        } else {
            let expected = self.source.words.say("true or false, without quotes");
            problems.push(value.wrong_shape(key, expected));
            None
        }
    }

    /// A list of texts; one text counts as a list of one.
    pub fn texts(&mut self, key: &'static str, problems: &mut Vec<Problem>) -> Vec<(String, Span)> {
        let Some(value) = self.take(key) else {
            return Vec::new();
        };
        match value.shape() {
            Shape::Text(text) => vec![(text.to_owned(), value.inner_span())],
            Shape::List(items) => {
                let mut texts = Vec::new();
                for item in items {
                    match item.shape() {
                        Shape::Text(text) => texts.push((text.to_owned(), item.inner_span())),
                        _ => problems
                            .push(item.wrong_shape(key, self.source.words.say("a list of texts"))),
                    }
                }
                texts
            }
            _ => {
                problems.push(value.wrong_shape(key, self.source.words.say("a list of texts")));
                Vec::new()
            }
        }
    }

    /// The table of a key.
    pub fn table(&mut self, key: &'static str, problems: &mut Vec<Problem>) -> Option<Table<'d>> {
        let span = self.key_span(key);
        let value = self.take(key)?;
        let table = value.table(format!("[{key}]"), span.unwrap_or_default());
        if table.is_none() {
            problems.push(value.wrong_section(key, key));
        }
        table
    }

    /// Reports every key that nobody asked for.
    pub fn finish(self, problems: &mut Vec<Problem>) {
        for entry in self.entries.iter().filter(|entry| !entry.taken) {
            let words = &self.source.words;
            let near = suggest::closest(&entry.key, self.known.iter().copied());
            let help = match near {
                Some(known) => say!(words, "did you mean `{name}`?", name = known),
                None => say!(
                    words,
                    "{section} understands: {known}",
                    section = self.name,
                    known = self.known.join(", ")
                ),
            };
            let message = say!(
                words,
                "{section} has no use for `{key}`",
                section = self.name,
                key = entry.key
            );
            problems.push(
                Problem::error(Code::UnknownKey, message)
                    .at(entry.key_span.clone(), words.say("not known"))
                    .help(help),
            );
        }
    }
}

impl<'d> Value<'d> {
    /// Where the value stands, quotes included.
    #[must_use]
    pub fn span(&self) -> Span {
        self.source.back(&self.node.span)
    }

    /// Where the value's text stands, quotes left out.
    #[must_use]
    pub fn inner_span(&self) -> Span {
        let span = self.node.span.clone();
        let raw = self.source.text.get(span.clone()).unwrap_or_default();
        for quote in ["\"\"\"", "'''", "\"", "'"] {
            if raw.len() >= 2 * quote.len() && raw.starts_with(quote) && raw.ends_with(quote) {
                let mut start = span.start + quote.len();
                if quote.len() == 3 {
                    // The line end behind opening triple quotes is no part of the text.
                    start += ["\r\n", "\n"]
                        .into_iter()
                        .find(|end| raw[3..].starts_with(end))
                        .map_or(0, str::len);
                }
                let end = span.end - quote.len();
                return self.source.back(&(start.min(end)..end));
            }
        }
        self.source.back(&span)
    }

    /// What the value is.
    #[must_use]
    pub fn shape(&self) -> Shape<'d> {
        let raw = || {
            self.source
                .text
                .get(self.node.span.clone())
                .unwrap_or_default()
        };
        match &self.node.kind {
            Kind::Text(text) => Shape::Text(text),
            Kind::Number => Shape::Number(raw()),
            Kind::Flag(flag) => Shape::Flag(*flag),
            Kind::Date => Shape::Date(raw()),
            Kind::List(items) => Shape::List(
                items
                    .iter()
                    .map(|node| Value {
                        node,
                        twin: None,
                        source: self.source,
                    })
                    .collect(),
            ),
            Kind::Table(_) => Shape::Table,
        }
    }

    /// The value as a table, if it is one.
    #[must_use]
    pub fn table(&self, name: String, span: Span) -> Option<Table<'d>> {
        let Kind::Table(lines) = &self.node.kind else {
            return None;
        };
        let twin = self.twin.map(|twin| match &twin.kind {
            Kind::Table(lines) => &lines[..],
            _ => &[],
        });
        let lines = lines.iter().chain(twin.into_iter().flatten());
        Some(Table::of(self.source, name, span, lines))
    }

    /// The problem of a value that is something else than it should be. What is expected is said in the language of the file.
    #[must_use]
    pub fn wrong_shape(&self, key: &str, expected: &str) -> Problem {
        let words = &self.source.words;
        let found = match self.shape() {
            Shape::Text(_) => words.say("text"),
            Shape::Number(_) => words.say("a number"),
            Shape::Flag(_) => words.say("true or false"),
            Shape::List(_) => words.say("a list"),
            Shape::Table => words.say("a section"),
            Shape::Date(_) => words.say("a date"),
        };
        let message = say!(
            words,
            "`{key}` should be {expected}, not {found}",
            key = key,
            expected = expected,
            found = found
        );
        Problem::error(Code::WrongShape, message)
            .at(self.span(), say!(words, "this is {found}", found = found))
            .help(say!(words, "write {expected}", expected = expected))
    }

    /// The problem of a value where a section should be, whose heading would be `written`.
    #[must_use]
    pub fn wrong_section(&self, key: &str, written: &str) -> Problem {
        let words = &self.source.words;
        let expected = say!(
            words,
            "a section, written `[{heading}]` on a line of its own",
            heading = written
        );
        self.wrong_shape(key, &expected)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn source(text: &str) -> Source {
        Source {
            name: "a.toml".to_owned(),
            text: text.to_owned(),
        }
    }

    /// `name=value` of every text or number, sections joined with a slash, and codes with the lines they point at.
    fn outline(text: &str) -> (Vec<String>, Vec<(Code, usize)>) {
        fn written(value: &Value<'_>) -> String {
            match value.shape() {
                Shape::Text(text) => text.to_owned(),
                Shape::Number(text) | Shape::Date(text) => text.to_owned(),
                Shape::List(items) => items.iter().map(written).collect::<Vec<_>>().join("|"),
                Shape::Flag(flag) => flag.to_string(),
                Shape::Table => String::new(),
            }
        }
        fn walk(mut table: Table<'_>, front: &str, lines: &mut Vec<String>) {
            for (name, _, value) in table.take_all() {
                match value.table(name.clone(), 0..0) {
                    Some(inside) => walk(inside, &format!("{front}{name}/"), lines),
                    None => lines.push(format!("{front}{name}={}", written(&value))),
                }
            }
        }
        let source = source(text);
        let (document, problems) = Document::read(&source, &Words::english());
        let mut lines = Vec::new();
        walk(Table::root(&document), "", &mut lines);
        let codes = problems.iter().map(|problem| {
            (
                problem.code,
                source.line_column(problem.labels[0].span.start).0,
            )
        });
        (lines, codes.collect())
    }

    #[test]
    fn a_sound_file_keeps_order_digits_and_places() {
        let text = "b = \"x\"\na = 1.50\n[day.2]\nz = ['''\nq''']\n[day.1]\nc = \"\\u0041\"\n";
        let (lines, problems) = outline(text);
        assert_eq!(lines, ["b=x", "a=1.50", "day/2/z=q", "day/1/c=A"]);
        assert!(problems.is_empty());
        let (document, _) = Document::read(&source(text), &Words::english());
        let mut root = Table::root(&document);
        assert_eq!(&text[root.take("b").unwrap().inner_span()], "x");
        assert_eq!(&text[root.take("a").unwrap().span()], "1.50");
    }

    #[test]
    fn each_slip_is_one_problem_on_its_line_and_the_rest_is_read() {
        for (slip, code, read) in [
            ("m = \"1.0 g  # mass", Code::MissingQuote, "m=1.0 g"),
            ("m = \"1.0 g'", Code::MissingQuote, "m=1.0 g"),
            ("m = 1.0 g\"", Code::MissingQuote, "m=1.0 g"),
            ("m = 1.0 g", Code::BareValue, "m=1.0 g"),
            ("m = 1,50", Code::BareValue, "m=1,50"),
            ("m = .97 # g", Code::BareValue, "m=.97"),
            ("m = 04.36", Code::BareValue, "m=04.36"),
            ("m = lost", Code::BareValue, "m=lost"),
            ("m = −5.0", Code::BareValue, "m=−5.0"),
            ("m =", Code::BlankValue, "m="),
            ("m = # mass", Code::BlankValue, "m="),
            ("m \"1.0 g\"", Code::MissingEquals, "m=1.0 g"),
            ("m : \"1.0 g\"", Code::MissingEquals, "m=1.0 g"),
            ("my mass = \"1.0 g\"", Code::SpaceInName, "my_mass=1.0 g"),
            ("m = \"Cu\\Zn\"", Code::Backslash, "m=Cu\\Zn"),
            ("m = “1.0 g”", Code::CurlyQuotes, "m=1.0 g"),
            ("m = \"1.0 g”", Code::CurlyQuotes, "m=1.0 g"),
            ("m = ‘it’", Code::CurlyQuotes, "m=it"),
            ("m = “it’s black” # x", Code::CurlyQuotes, "m=it’s black"),
            ("m = \"1.0\" g", Code::QuoteInside, "m=1.0 g"),
            ("m = \"\"1.0 g\"\"", Code::QuoteInside, "m=1.0 g"),
            ("m = \"1.0 g\",", Code::QuoteInside, "m=1.0 g"),
            ("m = 'it's'", Code::QuoteInside, "m=its"),
            ("m = [\"1 g\", \"2 g\"", Code::MissingBracket, "m=1 g|2 g"),
            ("m = [\"1 g\" \"2 g\"]", Code::MissingComma, "m=1 g|2 g"),
            ("m = [\"1 g, \"2 g\"]", Code::MissingQuote, "m=1 g|2 g"),
            ("m = [\"1 g\", 2 g]", Code::BareValue, "m=1 g|2 g"),
            ("m = [“1 g”, “2 g”]", Code::CurlyQuotes, "m=1 g|2 g"),
            ("m = '''\nblack\n", Code::MissingQuote, "m=black\n\n"),
            ("m = ’’’\nblack’’’", Code::CurlyQuotes, "m=black"),
        ] {
            let text = format!("a = \"1\"\n{slip}\nb = \"2\"\n[c]\nd = \"3\"\n");
            assert_eq!(
                outline(&text),
                (
                    vec!["a=1".into(), read.into(), "b=2".into(), "c/d=3".into()],
                    vec![(code, 2)]
                ),
                "{slip}"
            );
        }
    }

    #[test]
    fn headings_are_mended() {
        for (heading, code) in [
            ("day.1]", Code::MissingBracket),
            ("[day.1", Code::MissingBracket),
            ("[day 1]", Code::SpaceInName),
        ] {
            let text = format!("{heading} # set up\na = \"1\"\n");
            assert_eq!(
                outline(&text),
                (vec!["day/1/a=1".into()], vec![(code, 1)]),
                "{heading}"
            );
        }
        let (lines, problems) =
            outline("[day.1]\na = \"1\"\n[day.2]\nb = \"2\"\n[day.1]\nc = \"3\"\n");
        assert_eq!(lines, ["day/1/a=1", "day/1/c=3", "day/2/b=2"]);
        assert_eq!(problems, [(Code::DoubledKey, 5)]);
    }

    #[test]
    fn of_two_lines_of_one_name_the_filled_one_counts() {
        for (first, second, read) in [
            ("\"\"", "\"2 g\"", &["m=2 g"][..]),
            ("\"2 g\"", "\"\"", &["m=2 g"]),
            ("\"2 g\"", "\"2 g\"", &["m=2 g"]),
            ("\"2 g\"", "\"3 g\"", &[]),
        ] {
            let (lines, problems) = outline(&format!("m = {first}\nm = {second}\n"));
            assert_eq!(lines, read);
            assert_eq!(problems, [(Code::DoubledKey, 2)]);
        }
    }

    #[test]
    fn of_two_texts_of_one_name_no_word_is_lost() {
        let text = "m = '''\none\n'''\nn = \"1\"\nm = '''\ntwo\n''' # again\nm = '''three'''\n";
        let (lines, problems) = outline(text);
        assert_eq!(lines, ["m=one\n\ntwo\n\nthree", "n=1"]);
        assert_eq!(problems, [(Code::DoubledKey, 5), (Code::DoubledKey, 8)]);
        // An empty one, or the same again, adds nothing.
        let text = "m = '''\none\n'''\nm = '''\n\n'''\nm = '''\none\n'''\n";
        assert_eq!(outline(text).0, ["m=one\n"]);
    }

    #[test]
    fn several_slips_are_all_told() {
        let (lines, problems) = outline("a = 1 g\nb : \"2\"\nwhat is this\nc = {\nd = \"4\n");
        assert_eq!(lines, ["a=1 g", "b=2", "c=", "d=4"]);
        assert_eq!(
            problems,
            [
                (Code::BareValue, 1),
                (Code::MissingEquals, 2),
                (Code::Syntax, 3),
                (Code::MissingBracket, 4),
                (Code::MissingQuote, 5)
            ]
        );
    }

    #[test]
    fn no_file_panics_or_takes_long() {
        for text in [
            "[".repeat(20_000),
            "a = ".to_owned() + &"[".repeat(20_000),
            "'''".repeat(5_000),
            "a = \"\n".repeat(2_000),
            "{".repeat(20_000),
            "\"".repeat(9_999),
            // A quote mark of three bytes where a bracket is missing.
            "a[a\n‘".to_owned(),
        ] {
            let text = source(&text);
            for label in Document::read(&text, &Words::english())
                .1
                .iter()
                .flat_map(|problem| &problem.labels)
            {
                assert!(text.text.get(label.span.clone()).is_some(), "{label:?}");
            }
        }
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read(text in "([a-z]{1,3}|\n('’’|‘''|\"“”)|    [a-z] [a-zé]|\\[[a-z]\\]+[ é]|[ =\\[\\]\"'#:,.\\\\{}“”‘’\n\r]|''')*") {
            let source = source(&text);
            for problem in Document::read(&source, &Words::english()).1 {
                for label in problem.labels {
                    proptest::prop_assert!(text.get(label.span).is_some());
                }
            }
        }
    }
}
