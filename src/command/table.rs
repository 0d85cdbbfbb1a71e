//! A table saved as CSV by a spreadsheet or a web form: its headings and rows, whatever separates the cells.

use std::path::Path;

use crate::command::Stop;
use crate::command::files;
use crate::command::terminal;
use crate::problem::Severity;
use crate::problem::Source;
use crate::problem::suggest;
use crate::words::Words;

/// What the column of the groups' codes may be called, in [plain letters](plain).
pub(super) const GROUP: &[&str] = &[
    "group",
    "group code",
    "code",
    "team",
    "bench",
    "gruppe",
    "gruppencode",
];
/// What the column of the sections may be called.
pub(super) const SECTION: &[&str] = &["section", "class", "period", "set", "kurs", "klasse"];
/// Headings are looked for in so many rows.
const HEADINGS_WITHIN: usize = 10;

/// A table.
pub(super) struct Table {
    /// The file, for messages.
    pub name: String,
    /// The line of the headings, from 1.
    pub line: usize,
    /// The headings as written, blanks at their ends cut off.
    pub heads: Vec<String>,
    /// The rows that are not empty.
    pub rows: Vec<Row>,
}

/// A row of a table.
pub(super) struct Row {
    /// The line it starts on, from 1.
    pub line: usize,
    /// Its cells; line ends in them are those of a text file, blanks at their ends are cut off.
    pub cells: Vec<String>,
}

/// Reads a table; `-` is standard input. Of the characters that may separate cells the one counts that gives the most
/// headings `known`.
///
/// # Errors
/// When the file cannot be read, is no text, or a quote mark in it is never closed.
pub(super) fn read(path: &Path, known: impl Fn(&str) -> bool) -> Result<Table, Stop> {
    let name = if path.as_os_str() == "-" {
        "standard input".to_owned()
    } else {
        path.display().to_string()
    };
    let bytes = files::read(path)?;
    let (source, mut problems) = Source::as_saved(name.clone(), &bytes, &Words::english())
        .map_err(|what| {
            // Spreadsheets save their own files as zip archives, too.
            let what = if bytes.starts_with(b"PK") {
                "a spreadsheet (.xlsx, .ods) or another zip archive".to_owned()
            } else {
                what
            };
            Stop::new(
                format!("{name} is {what}, not plain text"),
                "save the table as CSV, and give that file",
            )
        })?;
    // That a spreadsheet marks its files as UTF-8 is nothing to tell.
    problems.retain(|problem| problem.severity != Severity::Note);
    terminal::problems(&source, &problems, &Words::english());
    let known_in = |row: &Row| row.cells.iter().filter(|head| known(head)).count();
    let best = [b';', b'\t', b',']
        .into_iter()
        .max_by_key(|mark| {
            let rows = rows(&name, &source.text, *mark).unwrap_or_default();
            let first = rows.iter().take(HEADINGS_WITHIN);
            first.map(|row| (known_in(row), row.cells.len())).max()
        })
        .unwrap_or(b',');
    let mut rows = records(&name, &source.text, best)?;
    // A title, blank lines or a spreadsheet's `sep=;` may stand above the headings.
    let first = rows.iter().take(HEADINGS_WITHIN).map(known_in);
    let most = first.clone().max().unwrap_or(0);
    let above = first.take_while(|known| *known < most).count();
    rows.drain(..above);
    rows.retain(|row| row.cells.iter().any(|cell| !cell.is_empty()));
    let mut rows = rows.into_iter();
    let (line, heads) = rows
        .next()
        .map_or_else(|| (1, Vec::new()), |row| (row.line, row.cells));
    Ok(Table {
        name,
        line,
        heads,
        rows: rows.collect(),
    })
}

impl Table {
    /// The stop for a table without a column of groups.
    pub(super) fn without_groups(&self, further: &str) -> Stop {
        let plain: Vec<String> = self.heads.iter().map(|head| plain(head)).collect();
        let near = suggest::closest("group", plain.iter().map(String::as_str));
        let help = near.map_or_else(
            || format!("name the column with the groups' codes `group`; {further}"),
            |near| format!("is it the column `{near}`? Then name it `group`"),
        );
        Stop::new(
            format!("{}:{}: no column holds the groups", self.name, self.line),
            help,
        )
    }
}

/// A heading in plain letters: small ones, with single spaces for what separates words.
pub(super) fn plain(head: &str) -> String {
    let words = head.to_lowercase().replace(['_', '-'], " ");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Characters that make a spreadsheet take a cell for a formula.
const STARTS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// A cell that no spreadsheet takes for a formula: what would start one gets an apostrophe in front, numbers do not.
/// [`unguarded`] takes it off again.
pub(super) fn harmless(cell: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || matches!(c, '.' | ',' | ' ' | '%' | '×' | '^');
    let negative = cell.strip_prefix(['-', '+']).is_some_and(|rest| {
        rest.starts_with(|c: char| c.is_ascii_digit() || c == '.') && rest.chars().all(plain)
    });
    // A cell that looks guarded already gets a guard of its own, so that one can always be taken off.
    if cell.trim_start_matches('\'').starts_with(STARTS) && !negative {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

/// A cell as it was before [`harmless`].
pub(super) fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest) if rest.trim_start_matches('\'').starts_with(STARTS) => rest,
        _ => cell,
    }
}

/// Stands behind the last line: unless it is read as a row of its own, a quote mark in front of it is open.
const END: &str = "\u{1}end";

/// Every row of a text with cells separated by a mark, empty lines left out.
fn records(name: &str, text: &str, delimiter: u8) -> Result<Vec<Row>, Stop> {
    let mut rows = rows(name, text, delimiter)?;
    match rows.pop() {
        Some(last) if last.cells != [END] => Err(Stop::new(
            format!(
                "{name}:{}: a quote mark in this row is never closed",
                last.line
            ),
            "open the table in a spreadsheet, look at that row, and save it as CSV again",
        )),
        _ => Ok(rows),
    }
}

/// The same with what stands at the end.
fn rows(name: &str, text: &str, delimiter: u8) -> Result<Vec<Row>, Stop> {
    let whole = format!("{text}\n{END}\n");
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .flexible(true)
        .has_headers(false)
        .from_reader(whole.as_bytes());
    let mut rows = Vec::new();
    let (mut counted, mut line) = (0, 1);
    for record in reader.records() {
        let record = record.map_err(|why| {
            Stop::new(
                format!("{name} is no table: {why}"),
                "save the table as CSV",
            )
        })?;
        // The reader's own position is in front of the line ends that it skips.
        let at = record.position().map_or(0, csv::Position::byte);
        let at = usize::try_from(at).unwrap_or(whole.len());
        let skipped = whole[at..]
            .bytes()
            .take_while(|b| matches!(b, b'\n' | b'\r'));
        let at = at + skipped.count();
        line += line_ends(&whole[counted..at]);
        counted = at;
        let cells = record.iter().map(|cell| {
            let lines = cell.replace("\r\n", "\n").replace('\r', "\n");
            lines.trim_matches([' ', '\t', '\n', '\r']).to_owned()
        });
        rows.push(Row {
            line,
            cells: cells.collect(),
        });
    }
    Ok(rows)
}

/// Line ends of any system.
fn line_ends(text: &str) -> usize {
    text.matches('\n').count() + text.matches('\r').count() - text.matches("\r\n").count()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(text: &str, delimiter: u8) -> Vec<(usize, Vec<String>)> {
        let rows = records("a.csv", text, delimiter);
        let rows = rows.unwrap_or_else(|stop| panic!("{}", stop.message));
        rows.into_iter().map(|row| (row.line, row.cells)).collect()
    }

    #[test]
    fn rows_know_their_lines_whatever_ends_them() {
        for end in ["\n", "\r\n", "\r"] {
            let text = "a,b\n\n1, x \n\"2\n3\",\"say \"\"y\"\"\"\n4,z".replace('\n', end);
            let expected = [
                (1, ["a", "b"]),
                (3, ["1", "x"]),
                (4, ["2\n3", "say \"y\""]),
                (6, ["4", "z"]),
            ];
            let expected = expected.map(|(line, cells)| (line, cells.map(str::to_owned).to_vec()));
            assert_eq!(lines(&text, b','), expected, "{end:?}");
        }
        assert!(lines("", b',').is_empty());
    }

    #[test]
    fn an_open_quote_mark_is_told_with_its_line() {
        let Err(stop) = records("a.csv", "a,b\r\n1,\"x\r\n2,y\r\n", b',') else {
            panic!()
        };
        assert!(stop.message.starts_with("a.csv:2: a quote mark"));
    }

    #[test]
    fn no_cell_starts_a_formula_and_every_guard_comes_off() {
        for (cell, safe) in [
            ("=1+1", "'=1+1"),
            ("@x", "'@x"),
            ("-x", "'-x"),
            ("-0.46 g", "-0.46 g"),
            ("-2+3+cmd|calc", "'-2+3+cmd|calc"),
            ("'=1", "''=1"),
            ("'tis", "'tis"),
            ("1.5 g", "1.5 g"),
            ("", ""),
        ] {
            assert_eq!(harmless(cell), safe);
            assert_eq!(unguarded(safe), cell);
        }
    }

    proptest::proptest! {
        #[test]
        fn any_guard_comes_off(cell in "['=+@\t-]{0,4}\\PC{0,4}") {
            let safe = harmless(&cell);
            proptest::prop_assert_eq!(unguarded(&safe), cell);
        }
    }
}
