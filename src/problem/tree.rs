//! What a TOML text holds: values with their places, which outlive the text.

use toml::Spanned;
use toml::de::DeTable;
use toml::de::DeValue;
use toml::de::Error;

use crate::problem::Span;

/// A value of a text.
#[derive(Debug, Clone)]
pub(in crate::problem) struct Node {
    /// Where it stands, quotes included.
    pub(in crate::problem) span: Span,
    /// What it is.
    pub(in crate::problem) kind: Kind,
}

/// What a value is; numbers and dates are as written at their place.
#[derive(Debug, Clone)]
pub(in crate::problem) enum Kind {
    Text(String),
    Number,
    Flag(bool),
    Date,
    List(Vec<Node>),
    Table(Vec<Line>),
}

/// A key with its value.
#[derive(Debug, Clone)]
pub(in crate::problem) struct Line {
    /// The key.
    pub(in crate::problem) key: String,
    /// Where the key stands.
    pub(in crate::problem) key_span: Span,
    /// Its value.
    pub(in crate::problem) value: Node,
}

/// The lines of a text as far as it is TOML, and the first place where it is none.
pub(in crate::problem) fn parse(text: &str) -> (Vec<Line>, Option<Error>) {
    let (root, errors) = DeTable::parse_recoverable(text);
    (lines(root.into_inner()), errors.into_iter().next())
}

fn lines(table: DeTable<'_>) -> Vec<Line> {
    let lines = table.into_iter().map(|(key, value)| Line {
        key_span: key.span(),
        key: key.into_inner().into_owned(),
        value: node(value),
    });
    lines.collect()
}

fn node(value: Spanned<DeValue<'_>>) -> Node {
    Node {
        span: value.span(),
        kind: match value.into_inner() {
            DeValue::String(text) => Kind::Text(text.into_owned()),
            DeValue::Integer(_) | DeValue::Float(_) => Kind::Number,
            DeValue::Boolean(flag) => Kind::Flag(flag),
            DeValue::Datetime(_) => Kind::Date,
            DeValue::Array(items) => Kind::List(items.into_iter().map(node).collect()),
            DeValue::Table(table) => Kind::Table(lines(table)),
        },
    }
}
