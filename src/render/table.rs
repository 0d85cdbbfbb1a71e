//! Tables of the page: caption, headers with their scope, numbers under each other, a box that scrolls by itself.

use comrak::Node;
use comrak::nodes::NodeValue;
use comrak::nodes::TableAlignment;

use super::escape::html;
use super::numbers::Split;
use super::numbers::split;

/// Plain text of a node's descendants.
pub(super) fn text_of(node: Node<'_>) -> String {
    let mut out = String::with_capacity(64);
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
    /// Looks over a table: which columns are numeric, and the texts of the rows below the headings.
    pub(super) fn of<T: AsRef<str>>(
        numeric: impl Iterator<Item = bool>,
        rows: impl Iterator<Item = impl Iterator<Item = T>>,
    ) -> Self {
        let columns = numeric.map(|numeric| Column {
            numeric,
            ..Column::default()
        });
        let mut columns: Vec<Column> = columns.collect();
        let mut short_names = true;
        for row in rows {
            let mut name = 0;
            for (place, (column, text)) in columns.iter_mut().zip(row).enumerate() {
                let text = text.as_ref();
                if place == 0 {
                    name = text.chars().count();
                }
                if column.numeric {
                    column.widen(split(text).as_ref());
                }
            }
            short_names &= name <= SHORT;
        }
        Self {
            columns,
            short_names,
        }
    }

    /// Looks over a table of Markdown.
    pub(super) fn of_node(table: Node<'_>) -> Self {
        let sides = match &table.data().value {
            NodeValue::Table(table) => table.alignments.clone(),
            _ => Vec::new(),
        };
        let rows = table.children().skip(1);
        Self::of(
            sides.iter().map(|side| *side == TableAlignment::Right),
            rows.map(|row| row.children().map(text_of)),
        )
    }

    /// Opens a cell, and writes its text if it is a number, which it tells.
    pub(super) fn begin(&self, place: usize, cell: Cell, text: &str, out: &mut String) -> bool {
        let of_column = matches!(cell, Cell::OfColumn);
        let number = if of_column {
            None
        } else {
            self.number(place, text)
        };
        out.push_str(self.opening(place, cell, number.is_some()));
        if let Some(number) = &number {
            self.write(place, number, out);
        }
        number.is_some()
    }

    /// Whether a column holds numbers.
    fn is_numeric(&self, place: usize) -> bool {
        self.columns.get(place).is_some_and(|column| column.numeric)
    }

    /// The number that a cell under the headings is, in a column of numbers.
    fn number<'t>(&self, place: usize, text: &'t str) -> Option<Split<'t>> {
        self.is_numeric(place).then(|| split(text)).flatten()
    }

    /// Writes a number, its unit in a box as wide as the column's widest, and invisible digits behind, so that decimal
    /// marks stand under each other. The digits are drawn by the style sheet: they are neither read aloud nor copied.
    fn write(&self, place: usize, number: &Split<'_>, out: &mut String) {
        let Some(column) = self.columns.get(place) else {
            return;
        };
        out.push_str(&html(number.whole));
        out.push_str(&html(number.decimals));
        if column.unit > 0 {
            out.push_str("<span class=\"u u");
            out.push_str(&column.unit.to_string());
            out.push_str("\">");
            for (place, word) in number.unit.split(' ').enumerate() {
                out.push_str(if place > 0 { "\u{a0}" } else { "" });
                out.push_str(&html(word));
            }
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
    fn opening(&self, place: usize, cell: Cell, is_number: bool) -> &'static str {
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

/// What opens a row, of headings or not.
pub(super) const fn row(header: bool) -> &'static str {
    if header { "<thead><tr>" } else { "<tr>" }
}

/// What closes it.
pub(super) const fn row_end(header: bool) -> &'static str {
    if header {
        "</tr></thead><tbody>\n"
    } else {
        "</tr>\n"
    }
}

/// What closes a table and its box.
pub(super) const END: &str = "</tbody></table></div>\n";

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
