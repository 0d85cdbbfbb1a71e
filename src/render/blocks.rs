//! Tables, worked steps and charts as Markdown that reads well as plain text.

use std::borrow::Cow;
use std::iter;

use serde::Deserialize;
use unicode_width::UnicodeWidthStr;

use super::captions::FIGURE;
use super::captions::TABLE;
use super::captions::UNNUMBERED;
use super::escape;
use super::escape::html;
use super::markdown::ASIDE;
use super::markdown::ASIDE_END;
use super::table;
use super::table::Columns;

const BLANKS: &str = "                                                                ";
const DASHES: &str = "----------------------------------------------------------------";

/// A [`Table`](crate::report::model::Table) as templates have it; its texts are borrowed.
#[derive(Deserialize)]
#[serde(rename = "Table")]
pub(super) struct Table<'a> {
    caption: &'a str,
    #[serde(borrow)]
    columns: Vec<Column<'a>>,
    rows: Vec<Vec<&'a str>>,
}

/// A column of a table.
#[derive(Deserialize)]
struct Column<'a> {
    head: &'a str,
    numeric: bool,
}

/// A [`Working`](crate::report::model::Working) as templates have it.
#[derive(Deserialize)]
#[serde(rename = "Working")]
pub(super) struct Working<'a> {
    id: &'a str,
    text: &'a str,
}

/// A [`Chart`](crate::report::model::Chart) as templates have it.
#[derive(Deserialize)]
#[serde(rename = "Chart")]
pub(super) struct Chart<'a> {
    id: &'a str,
    text: &'a str,
    caption: &'a str,
}

/// A cell, escaped: its text stands in one string with those of all others, each behind the one before.
struct Cell {
    /// Where its text ends.
    end: usize,
    /// Columns of a typewriter that the text takes.
    width: usize,
    /// Blanks to fill it up with, so that decimal marks stand under each other.
    fill: usize,
}

/// The rows of a table as the page has them, to be put aside.
fn rows_of_the_page<'a>(table: &Table<'a>, out: &mut String) {
    let width = table.columns.len();
    let cell = |row: &[&'a str], place| escape::plain(row.get(place).copied().unwrap_or_default());
    let cells = |row: &Vec<&'a str>| (0..width).map(|place| cell(row, place)).collect();
    let rows: Vec<Vec<Cow<'a, str>>> = table.rows.iter().map(cells).collect();
    let columns = Columns::of(
        table.columns.iter().map(|column| column.numeric),
        rows.iter().map(|row| row.iter()),
    );
    let heads = table
        .columns
        .iter()
        .map(|column| escape::plain(column.head))
        .collect();
    out.push(ASIDE);
    for (number, row) in iter::once(&heads).chain(&rows).enumerate() {
        let header = number == 0;
        out.push_str(table::row(header));
        for (place, text) in row.iter().enumerate() {
            let cell = table::Cell::of(place, header, text.is_empty(), false);
            if !columns.begin(place, cell, text, out) {
                out.push_str(&html(text));
            }
            out.push_str(cell.closing());
        }
        out.push_str(table::row_end(header));
    }
    out.push_str(table::END);
    out.push(ASIDE_END);
}

/// The caption and a GFM table, columns padded, numbers aligned at their decimal mark; between them the rows as the
/// page has them, where they are to be put `aside`.
pub(super) fn table(table: &Table<'_>, aside: bool, out: &mut String) {
    let columns = table.columns.len();
    let mut texts = String::with_capacity(1024);
    let mut cells: Vec<Cell> = Vec::with_capacity((table.rows.len() + 1) * columns);
    let heads = table.columns.iter().map(|column| column.head);
    let inner = table
        .rows
        .iter()
        .flat_map(|row| (0..columns).map(|place| row.get(place).copied().unwrap_or_default()));
    for text in heads.chain(inner) {
        let start = texts.len();
        escape::markdown_into(text, &mut texts);
        cells.push(Cell {
            end: texts.len(),
            width: width(&texts[start..]),
            fill: 0,
        });
    }
    let mut widths = Vec::with_capacity(columns);
    for (place, column) in table.columns.iter().enumerate() {
        if column.numeric {
            align(&mut cells, &texts, place, columns);
        }
        let own = cells.iter().skip(place).step_by(columns);
        widths.push(
            own.map(|cell| cell.width + cell.fill)
                .max()
                .unwrap_or(0)
                .max(3),
        );
    }
    out.push_str("**");
    out.push_str(TABLE);
    out.push(' ');
    out.push(UNNUMBERED);
    out.push_str(".** ");
    escape::markdown_into(table.caption, out);
    out.push_str("\n\n");
    if aside {
        rows_of_the_page(table, out);
    }
    let line: usize = widths.iter().map(|width| width + 3).sum();
    out.reserve(texts.len() + (table.rows.len() + 2) * (line + 2));
    let mut start = 0;
    for (number, row) in cells.chunks(columns.max(1)).enumerate() {
        out.push('|');
        for ((cell, column), width) in row.iter().zip(&table.columns).zip(&widths) {
            let text = &texts[start..cell.end];
            let gap = width - cell.width - cell.fill;
            let (before, behind) = if column.numeric {
                (gap, cell.fill)
            } else {
                (0, gap)
            };
            run(BLANKS, before + 1, out);
            out.push_str(text);
            run(BLANKS, behind + 1, out);
            out.push('|');
            start = cell.end;
        }
        out.push('\n');
        if number == 0 {
            rule(table, &widths, out);
        }
    }
}

/// The line between the head of a table and its rows.
fn rule(table: &Table<'_>, widths: &[usize], out: &mut String) {
    out.push('|');
    for (column, width) in table.columns.iter().zip(widths) {
        run(DASHES, width + 1, out);
        out.push_str(if column.numeric { ":|" } else { "-|" });
    }
    out.push('\n');
}

/// A run of blanks or dashes.
fn run(many: &str, length: usize, out: &mut String) {
    let mut left = length;
    while left > 0 {
        let next = left.min(many.len());
        out.push_str(&many[..next]);
        left -= next;
    }
}

/// How many columns of a typewriter a text takes.
fn width(text: &str) -> usize {
    if text.is_ascii() {
        text.len()
    } else {
        text.width()
    }
}

/// Fills numbers of a column up behind, so that their decimal marks stand under each other.
fn align(cells: &mut [Cell], texts: &str, place: usize, columns: usize) {
    let tails: Vec<Option<usize>> = (place + columns..cells.len())
        .step_by(columns)
        .map(|at| tail_width(&texts[cells[at - 1].end..cells[at].end]))
        .collect();
    let widest = tails.iter().flatten().max().copied().unwrap_or(0);
    let below = cells.iter_mut().skip(place).step_by(columns).skip(1);
    for (cell, tail) in below.zip(tails) {
        cell.fill = tail.map_or(0, |tail| widest - tail);
    }
}

/// How much stands behind the whole part of a number; `None` for what is no number.
fn tail_width(cell: &str) -> Option<usize> {
    let start = cell.strip_prefix(['−', '+', '±']).unwrap_or(cell);
    let whole = start.bytes().take_while(u8::is_ascii_digit).count();
    (whole > 0).then(|| width(&start[whole..]))
}

/// A fenced block that no run of backticks inside can close.
fn fenced(info: &str, id: &str, text: &str, out: &mut String) {
    let text = escape::clean(text);
    let longest = if text.contains('`') {
        text.split(|c| c != '`').map(str::len).max().unwrap_or(0)
    } else {
        0
    };
    let fence = "`".repeat((longest + 1).max(3));
    out.push_str(&fence);
    out.push_str(info);
    out.push(' ');
    // What may stand in an id behind the fence, where a backtick would undo it.
    out.extend(
        id.chars()
            .filter(|c| c.is_alphanumeric() || matches!(c, '-' | '_')),
    );
    out.push('\n');
    out.push_str(text.trim_end());
    out.push('\n');
    out.push_str(&fence);
    out.push('\n');
}

/// A worked step.
pub(super) fn working(working: &Working<'_>, out: &mut String) {
    fenced("working", working.id, working.text, out);
}

/// A chart as plain text with its caption; the page draws it.
pub(super) fn chart(chart: &Chart<'_>, out: &mut String) {
    fenced("chart", chart.id, chart.text, out);
    out.push_str("\n**");
    out.push_str(FIGURE);
    out.push(' ');
    out.push(UNNUMBERED);
    out.push_str(".** ");
    escape::markdown_into(chart.caption, out);
    out.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_under_each_other() {
        let table_of = Table {
            caption: "Masses",
            columns: vec![
                Column {
                    head: "what",
                    numeric: false,
                },
                Column {
                    head: "m / g",
                    numeric: true,
                },
            ],
            rows: vec![vec!["a|b", "104.18"], vec!["c", "2.4"], vec!["d", "lost"]],
        };
        let expected = "**Table \u{1}.** Masses\n\n| what | m / g  |\n|------|-------:|\n| a\\|b | 104.18 |\n| c    |   2.4  |\n| d    |   lost |\n";
        let mut printed = String::new();
        table(&table_of, true, &mut printed);
        let (before, behind) = printed.split_once(ASIDE).expect("the rows for the page");
        let (rows, behind) = behind.split_once(ASIDE_END).expect("their end");
        assert_eq!(rows.matches("<tr>").count(), 4, "{rows}");
        let printed = format!("{before}{behind}");
        assert_eq!(printed.replace("|  m / g |", "| m / g  |"), expected);
    }
}
