//! A TOML file as a tree with places, and a walker over its tables that gathers every problem.

use std::borrow::Cow;

use toml::Spanned;
use toml::de::DeTable;
use toml::de::DeValue;

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::Span;
use crate::problem::suggest;

/// A table under reading: what is asked for is taken, the rest is reported as unknown at the end.
pub struct Table<'d, 's> {
    /// What the table is called in messages: `[day.1]`, “the file”.
    pub name: String,
    /// Where the table's name stands.
    pub span: Span,
    source: &'s Source,
    entries: Vec<Entry<'d, 's>>,
    known: Vec<&'static str>,
}

/// A key with its value.
pub struct Entry<'d, 's> {
    /// The key.
    pub key: String,
    /// Where the key stands.
    pub key_span: Span,
    /// The value.
    pub value: Value<'d, 's>,
    taken: bool,
}

/// A value with its place.
#[derive(Clone, Copy)]
pub struct Value<'d, 's> {
    node: &'d Spanned<DeValue<'s>>,
    source: &'s Source,
}

/// What a value is.
pub enum Shape<'d, 's> {
    /// Text.
    Text(&'d str),
    /// A whole or decimal number, as written.
    Number(&'s str),
    /// `true` or `false`.
    Flag(bool),
    /// A list.
    List(Vec<Value<'d, 's>>),
    /// A table.
    Table,
    /// A TOML date or time, as written.
    Date(&'s str),
}

/// Parses a text; every syntax error the parser finds is handed to `reword`.
#[must_use]
pub fn parse(source: &Source) -> (Spanned<DeTable<'_>>, Vec<toml::de::Error>) {
    DeTable::parse_recoverable(&source.text)
}

impl<'d, 's> Table<'d, 's> {
    /// The whole file.
    #[must_use]
    pub fn root(source: &'s Source, root: &'d Spanned<DeTable<'s>>) -> Self {
        Self::of(source, "the file".to_owned(), 0..0, root.get_ref())
    }

    fn of(source: &'s Source, name: String, span: Span, table: &'d DeTable<'s>) -> Self {
        let mut entries: Vec<Entry<'d, 's>> = table
            .iter()
            .map(|(key, node)| Entry {
                key: key.get_ref().to_string(),
                key_span: key.span(),
                value: Value { node, source },
                taken: false,
            })
            .collect();
        entries.sort_by_key(|entry| entry.key_span.start);
        Self {
            name,
            span,
            source,
            entries,
            known: Vec::new(),
        }
    }

    /// Every key with its value, in the file's order; all count as known.
    pub fn take_all(&mut self) -> Vec<(String, Span, Value<'d, 's>)> {
        let fresh = self.entries.iter_mut().filter(|entry| !entry.taken);
        fresh
            .map(|entry| {
                entry.taken = true;
                (entry.key.clone(), entry.key_span.clone(), entry.value)
            })
            .collect()
    }

    /// The value of a key, if there.
    pub fn take(&mut self, key: &'static str) -> Option<Value<'d, 's>> {
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
            problems.push(value.wrong_shape(key, "text between quotes"));
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
            problems.push(
                Problem::error(Code::MissingKey, format!("{} has no `{key}`", self.name))
                    .at(self.span.clone(), format!("`{key}` is missing"))
                    .help(format!("add a line `{key} = \"…\"`")),
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
            problems.push(value.wrong_shape(key, "true or false, without quotes"));
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
                        _ => problems.push(item.wrong_shape(key, "a list of texts")),
                    }
                }
                texts
            }
            _ => {
                problems.push(value.wrong_shape(key, "a list of texts"));
                Vec::new()
            }
        }
    }

    /// The table of a key.
    pub fn table(
        &mut self,
        key: &'static str,
        problems: &mut Vec<Problem>,
    ) -> Option<Table<'d, 's>> {
        let span = self.key_span(key);
        let value = self.take(key)?;
        let table = value.table(format!("[{key}]"), span.unwrap_or_default());
        if table.is_none() {
            problems.push(value.wrong_shape(
                key,
                &format!("a section, written `[{key}]` on a line of its own"),
            ));
        }
        table
    }

    /// Reports every key that nobody asked for.
    pub fn finish(self, problems: &mut Vec<Problem>) {
        for entry in self.entries.iter().filter(|entry| !entry.taken) {
            let near = suggest::closest(&entry.key, self.known.iter().copied());
            let help = match near {
                Some(known) => format!("did you mean `{known}`?"),
                None => format!("{} understands: {}", self.name, self.known.join(", ")),
            };
            problems.push(
                Problem::error(
                    Code::UnknownKey,
                    format!("{} has no use for `{}`", self.name, entry.key),
                )
                .at(entry.key_span.clone(), "not known")
                .help(help),
            );
        }
    }

    /// The source the table stands in.
    #[must_use]
    pub const fn source(&self) -> &'s Source {
        self.source
    }
}

impl<'d, 's> Value<'d, 's> {
    /// Where the value stands, quotes included.
    #[must_use]
    pub fn span(&self) -> Span {
        self.node.span()
    }

    /// Where the value's text stands, quotes left out.
    #[must_use]
    pub fn inner_span(&self) -> Span {
        let span = self.node.span();
        let raw = self.source.text.get(span.clone()).unwrap_or_default();
        for quote in ["\"\"\"", "'''", "\"", "'"] {
            if raw.len() >= 2 * quote.len() && raw.starts_with(quote) && raw.ends_with(quote) {
                return span.start + quote.len()..span.end - quote.len();
            }
        }
        span
    }

    /// What the value is.
    #[must_use]
    pub fn shape(&self) -> Shape<'d, 's> {
        let raw = || self.source.text.get(self.node.span()).unwrap_or_default();
        match self.node.get_ref() {
            DeValue::String(text) => Shape::Text(text),
            DeValue::Integer(_) | DeValue::Float(_) => Shape::Number(raw()),
            DeValue::Boolean(flag) => Shape::Flag(*flag),
            DeValue::Datetime(_) => Shape::Date(raw()),
            DeValue::Array(items) => Shape::List(
                items
                    .iter()
                    .map(|node| Value {
                        node,
                        source: self.source,
                    })
                    .collect(),
            ),
            DeValue::Table(_) => Shape::Table,
        }
    }

    /// The value as a table, if it is one.
    #[must_use]
    pub fn table(&self, name: String, span: Span) -> Option<Table<'d, 's>> {
        match self.node.get_ref() {
            DeValue::Table(table) => Some(Table::of(self.source, name, span, table)),
            _ => None,
        }
    }

    /// The problem of a value that is something else than it should be.
    #[must_use]
    pub fn wrong_shape(&self, key: &str, expected: &str) -> Problem {
        let found = match self.shape() {
            Shape::Text(_) => "text",
            Shape::Number(_) => "a number",
            Shape::Flag(_) => "true or false",
            Shape::List(_) => "a list",
            Shape::Table => "a section",
            Shape::Date(_) => "a date",
        };
        Problem::error(
            Code::WrongShape,
            format!("`{key}` should be {expected}, not {found}"),
        )
        .at(self.span(), format!("this is {found}"))
        .help(format!("write {expected}"))
    }
}
