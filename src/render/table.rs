//! Tables of the page: caption, headers with their scope, numbers under each other, a box that scrolls by itself.

use comrak::Node;
use comrak::nodes::NodeValue;
use comrak::nodes::TableAlignment;

use super::escape::html;
use super::numbers::Split;
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
pub(super) struct Columns {
    columns: Vec<Column>,
    /// Whether the names of all rows are so short that they need no room kept for them.
    short_names: bool,
}

/// The longest name of a row, in characters, that never breaks.
const SHORT: usize = 12;

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
    fn new(numeric: impl Iterator<Item = bool>) -> Self {
        let columns = numeric.map(|numeric| Column {
            numeric,
            ..Column::default()
        });
        Self {
            columns: columns.collect(),
            short_names: false,
        }
    }

    /// Looks over a table.
    pub(super) fn of(table: Node<'_>) -> Self {
        let mut columns = match &table.data().value {
            NodeValue::Table(table) => {
                let sides = table.alignments.iter();
                Self::new(sides.map(|side| *side == TableAlignment::Right))
            }
            _ => Self::new(std::iter::empty()),
        };
        columns.short_names = true;
        for row in table.children().skip(1) {
            let name = row
                .first_child()
                .map_or(0, |name| text_of(name).chars().count());
            columns.short_names &= name <= SHORT;
            for (column, cell) in columns.columns.iter_mut().zip(row.children()) {
                if column.numeric {
                    column.widen(split(&text_of(cell)).as_ref());
                }
            }
        }
        columns
    }

    /// Whether a column holds numbers.
    fn is_numeric(&self, place: usize) -> bool {
        self.columns.get(place).is_some_and(|column| column.numeric)
    }

    /// The number that a cell under the headings is, in a column of numbers.
    pub(super) fn number<'t>(&self, place: usize, text: &'t str) -> Option<Split<'t>> {
        split(text).filter(|_| self.is_numeric(place))
    }

    /// Writes a number, its unit in a box as wide as the column's widest, and invisible digits behind, so that decimal
    /// marks stand under each other. The digits are drawn by the style sheet: they are neither read aloud nor copied.
    pub(super) fn write(&self, place: usize, number: &Split<'_>, out: &mut String) {
        let Some(column) = self.columns.get(place) else {
            return;
        };
        out.push_str(&html(number.whole));
        out.push_str(&html(number.decimals));
        if column.unit > 0 {
            out.push_str("<span class=\"u u");
            out.push_str(&column.unit.to_string());
            out.push_str("\">");
            out.push_str(&html(&number.unit.replace(' ', "\u{a0}")));
            out.push_str("</span>");
        }
        let missing = column.decimals.saturating_sub(number.decimals.len());
        if missing > 0 {
            let whole = number.decimals.is_empty();
            out.push_str("<span class=\"pad\" data-pad=\"");
            out.push_str(if whole { "." } else { "" });
            for _ in usize::from(whole)..missing {
                out.push('0');
            }
            out.push_str("\"></span>");
        }
    }

    /// The tag that opens a cell. A number never parts from its unit; words in its column may break, and leave room
    /// to the others.
    pub(super) fn opening(&self, place: usize, cell: Cell, is_number: bool) -> &'static str {
        match (cell, self.is_numeric(place), is_number) {
            (Cell::Data, false, _) => "<td>",
            (Cell::Data, true, true) => "<td class=\"n\">",
            (Cell::Data, true, false) => "<td class=\"n w\">",
            (Cell::OfColumn, false, _) => "<th scope=\"col\">",
            (Cell::OfColumn, true, true) => "<th class=\"n\" scope=\"col\">",
            (Cell::OfColumn, true, false) => "<th class=\"n w\" scope=\"col\">",
            (Cell::OfRow, false, _) if self.short_names => "<th class=\"s\" scope=\"row\">",
            (Cell::OfRow, false, _) => "<th scope=\"row\">",
            (Cell::OfRow, true, true) => "<th class=\"n\" scope=\"row\">",
            (Cell::OfRow, true, false) => "<th class=\"n w\" scope=\"row\">",
        }
    }
}

impl Column {
    /// Makes room for a number.
    fn widen(&mut self, number: Option<&Split<'_>>) {
        if let Some(number) = number {
            self.decimals = self.decimals.max(number.decimals.len());
            self.unit = self.unit.max(room(number.unit));
        }
    }
}

/// What a cell is.
#[derive(Debug, Clone, Copy)]
pub(super) enum Cell {
    /// It says what stands in its column.
    OfColumn,
    /// It says what stands in its row.
    OfRow,
    /// Anything else.
    Data,
}

impl Cell {
    /// What a cell of the program's own tables is. Students' tables have headings at the top only.
    pub(super) const fn of(place: usize, header: bool, empty: bool, in_words: bool) -> Self {
        if header && !empty {
            Self::OfColumn
        } else if place == 0 && !header && !in_words {
            Self::OfRow
        } else {
            Self::Data
        }
    }

    /// The tag that closes it.
    pub(super) const fn closing(self) -> &'static str {
        match self {
            Self::OfColumn | Self::OfRow => "</th>",
            Self::Data => "</td>",
        }
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
        let columns = Columns {
            columns: vec![Column {
                numeric: true,
                decimals: 3,
                unit: 3,
            }],
            short_names: false,
        };
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
            let mut out = String::new();
            let number = columns.number(0, text);
            let written = number.map(|number| columns.write(0, &number, &mut out));
            assert_eq!(written.map(|()| out.as_str()), expected, "{text}");
        }
    }
}
