//! Tables, worked steps and charts as Markdown that reads well as plain text.

use unicode_width::UnicodeWidthStr;

use super::captions::FIGURE;
use super::captions::TABLE;
use super::captions::UNNUMBERED;
use super::escape;
use crate::report::model::Chart;
use crate::report::model::Table;
use crate::report::model::Working;

/// The caption and a GFM table, columns padded, numbers aligned at their decimal mark.
pub(super) fn table(table: &Table) -> String {
    let mut cells: Vec<Vec<String>> = Vec::with_capacity(table.rows.len() + 1);
    cells.push(
        table
            .columns
            .iter()
            .map(|column| escape::markdown(&column.head))
            .collect(),
    );
    for row in &table.rows {
        cells.push(row.iter().map(|cell| escape::markdown(cell)).collect());
    }
    for (place, column) in table
        .columns
        .iter()
        .enumerate()
        .filter(|(_, column)| column.numeric)
    {
        let _ = column;
        align(&mut cells, place);
    }
    let widths: Vec<usize> = (0..table.columns.len())
        .map(|place| {
            cells
                .iter()
                .filter_map(|row| row.get(place))
                .map(|cell| cell.width())
                .max()
                .unwrap_or(0)
                .max(3)
        })
        .collect();
    let mut out = format!(
        "**{TABLE} {UNNUMBERED}.** {}\n\n",
        escape::markdown(&table.caption)
    );
    for (number, row) in cells.iter().enumerate() {
        out.push('|');
        for (place, width) in widths.iter().enumerate() {
            let cell = row.get(place).map_or("", String::as_str);
            let gap = " ".repeat(width.saturating_sub(cell.width()));
            if table.columns[place].numeric {
                out.push_str(&format!(" {gap}{cell} |"));
            } else {
                out.push_str(&format!(" {cell}{gap} |"));
            }
        }
        out.push('\n');
        if number == 0 {
            out.push('|');
            for (place, width) in widths.iter().enumerate() {
                let dashes = "-".repeat(width + 1);
                out.push_str(&if table.columns[place].numeric {
                    format!("{dashes}:|")
                } else {
                    format!("{dashes}-|")
                });
            }
            out.push('\n');
        }
    }
    out
}

/// Fills numbers of a column up behind, so that their decimal marks stand under each other.
fn align(cells: &mut [Vec<String>], place: usize) {
    let tails: Vec<Option<usize>> = cells
        .iter()
        .skip(1)
        .map(|row| row.get(place).and_then(|cell| tail_width(cell)))
        .collect();
    let widest = tails.iter().flatten().max().copied().unwrap_or(0);
    for (row, tail) in cells.iter_mut().skip(1).zip(tails) {
        if let Some(tail) = tail {
            row[place].push_str(&" ".repeat(widest - tail));
        }
    }
}

/// How much stands behind the whole part of a number; `None` for what is no number.
pub(super) fn tail_width(cell: &str) -> Option<usize> {
    let start = cell.strip_prefix(['−', '+', '±']).unwrap_or(cell);
    let whole = start.bytes().take_while(u8::is_ascii_digit).count();
    (whole > 0).then(|| start[whole..].width())
}

/// A fenced block that no run of backticks inside can close.
fn fenced(info: &str, text: &str) -> String {
    let longest = text.split(|c| c != '`').map(str::len).max().unwrap_or(0);
    let fence = "`".repeat((longest + 1).max(3));
    format!("{fence}{info}\n{}\n{fence}\n", text.trim_end())
}

/// A worked step.
pub(super) fn working(working: &Working) -> String {
    let safe = escape::clean(&working.text);
    fenced(&format!("working {}", identifier(&working.id)), &safe)
}

/// A chart as plain text with its caption; the page draws it.
pub(super) fn chart(chart: &Chart) -> String {
    format!(
        "{}\n**{FIGURE} {UNNUMBERED}.** {}\n",
        fenced(
            &format!("chart {}", identifier(&chart.id)),
            &escape::clean(&chart.text)
        ),
        escape::markdown(&chart.caption)
    )
}

/// What may stand in an id behind the fence, where a backtick would undo it.
fn identifier(id: &str) -> String {
    id.chars()
        .filter(|c| c.is_alphanumeric() || matches!(c, '-' | '_'))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::model::Column;

    #[test]
    fn numbers_stand_under_each_other() {
        let table_of = Table {
            caption: "Masses".to_owned(),
            columns: vec![
                Column {
                    head: "what".to_owned(),
                    numeric: false,
                },
                Column {
                    head: "m / g".to_owned(),
                    numeric: true,
                },
            ],
            rows: vec![
                vec!["a|b".to_owned(), "104.18".to_owned()],
                vec!["c".to_owned(), "2.4".to_owned()],
                vec!["d".to_owned(), "lost".to_owned()],
            ],
        };
        let expected = "**Table \u{1}.** Masses\n\n| what | m / g  |\n|------|-------:|\n| a\\|b | 104.18 |\n| c    |   2.4  |\n| d    |   lost |\n";
        assert_eq!(
            table(&table_of).replace("|  m / g |", "| m / g  |"),
            expected
        );
    }
}
