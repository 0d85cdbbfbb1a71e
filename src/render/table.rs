//! Tables of the page: caption, headers with their scope, numbers under each other, a box that scrolls by itself.

use comrak::Node;
use comrak::nodes::NodeValue;
use comrak::nodes::TableAlignment;

use super::escape::html;
use super::numbers::split;

/// Plain text of a node's descendants.
pub(super) fn text_of(node: Node<'_>) -> String {
    let mut out = String::new();
    for inner in node.descendants() {
        match &inner.data().value {
            NodeValue::Text(text) => out.push_str(text),
            NodeValue::Code(code) => out.push_str(&code.literal),
            NodeValue::SoftBreak | NodeValue::LineBreak => out.push(' '),
            _ => {}
        }
    }
    out
}

/// What a table's columns need to know of all their cells.
pub(super) struct Columns(Vec<Column>);

/// How the numbers of one column are set.
#[derive(Default)]
struct Column {
    numeric: bool,
    /// Characters of the longest decimals, with their mark.
    decimals: usize,
    /// Room for the longest unit, in halves of a digit's width.
    unit: usize,
}

impl Columns {
    /// Looks over a table.
    pub(super) fn of(table: Node<'_>) -> Self {
        let alignments = match &table.data().value {
            NodeValue::Table(table) => table.alignments.clone(),
            _ => Vec::new(),
        };
        let mut columns: Vec<Column> = alignments
            .iter()
            .map(|side| Column {
                numeric: *side == TableAlignment::Right,
                ..Column::default()
            })
            .collect();
        for row in table.children().skip(1) {
            for (column, cell) in columns.iter_mut().zip(row.children()) {
                if let Some(number) = split(&text_of(cell)).filter(|_| column.numeric) {
                    column.decimals = column.decimals.max(number.decimals.chars().count());
                    column.unit = column.unit.max(room(number.unit));
                }
            }
        }
        Self(columns)
    }

    /// Whether a column holds numbers.
    pub(super) fn is_numeric(&self, place: usize) -> bool {
        self.0.get(place).is_some_and(|column| column.numeric)
    }

    /// A number, its unit in a box as wide as the column's widest, and invisible digits behind, so that decimal marks
    /// stand under each other; `None` for what is no number. The digits are drawn by the style sheet: they are
    /// neither read aloud nor copied.
    pub(super) fn number(&self, place: usize, text: &str) -> Option<String> {
        let column = self.0.get(place).filter(|column| column.numeric)?;
        let number = split(text)?;
        let mut out = html(number.whole) + &html(number.decimals);
        if column.unit > 0 {
            let unit = html(&number.unit.replace(' ', "\u{a0}"));
            out.push_str(&format!("<span class=\"u u{}\">{unit}</span>", column.unit));
        }
        let missing = column.decimals.saturating_sub(number.decimals.len());
        if missing > 0 {
            let digits = "0".repeat(missing - usize::from(number.decimals.is_empty()));
            let mark = if number.decimals.is_empty() { "." } else { "" };
            out.push_str(&format!(
                "<span class=\"pad\" data-pad=\"{mark}{digits}\"></span>"
            ));
        }
        Some(out)
    }
}

/// Room that a unit needs, in halves of a digit's width; the style sheet knows up to 24.
fn room(unit: &str) -> usize {
    let halves = unit.chars().map(|c| match c {
        'm' | 'M' | 'w' | 'W' | '%' => 4,
        ' ' | '\u{a0}' | 'l' | 'i' | '.' | '/' => 1,
        _ => 2,
    });
    halves.sum::<usize>().min(24)
}

/// The name of a table's box: its caption, with a number where several groups on one page have the same.
pub(super) fn name(caption: &str, used: &mut Vec<String>) -> String {
    let caption = if caption.is_empty() { "table" } else { caption };
    let before = used.iter().filter(|one| *one == caption).count();
    used.push(caption.to_owned());
    match before {
        0 => caption.to_owned(),
        some => format!("{caption} ({})", some + 1),
    }
}

/// Opens the box of a table.
pub(super) fn open(name: &str) -> String {
    let name = html(name);
    format!("<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"{name}\"><table>\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimal_marks_stand_under_each_other() {
        let columns = Columns(vec![Column {
            numeric: true,
            decimals: 3,
            unit: 3,
        }]);
        for (text, expected) in [
            (
                "104.18 g",
                Some("104.18<span class=\"u u3\">\u{a0}g</span>"),
            ),
            (
                "2.4",
                Some("2.4<span class=\"u u3\"></span><span class=\"pad\" data-pad=\"0\"></span>"),
            ),
            (
                "50",
                Some("50<span class=\"u u3\"></span><span class=\"pad\" data-pad=\".00\"></span>"),
            ),
            ("lost", None),
        ] {
            assert_eq!(columns.number(0, text).as_deref(), expected, "{text}");
        }
    }
}
