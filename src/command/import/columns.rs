//! What each column of a table is for; every heading that is for nothing is said.

use crate::command::Stop;
use crate::command::import::spellings::Found;
use crate::command::import::spellings::Meaning;
use crate::command::import::spellings::Spellings;
use crate::command::import::spellings::words;
use crate::command::names;
use crate::command::table::Table;
use crate::command::table::unguarded;
use crate::measure::Unit;
use crate::report::form::Place;

/// A column.
pub(super) struct Column {
    /// What it is for.
    pub meaning: Meaning,
    /// The unit that its heading gives in brackets.
    pub unit: Option<Unit>,
}

/// Something to know about the headings.
pub(super) struct Remark {
    /// Whether it is a note rather than a warning.
    pub is_note: bool,
    /// What there is to know.
    pub message: String,
    /// A next step.
    pub help: String,
}

/// The columns that `check --groups-csv` adds are known as such when there are so many of them.
const FEWEST_COUNTS: usize = 3;

/// The longest name of a reading nobody planned.
const LONGEST_NAME: usize = 60;

/// Finds out what every column is for.
///
/// # Errors
/// When no column holds the groups, two columns are for the same box, or a heading may mean two.
pub(super) fn read(
    table: &Table,
    spellings: &Spellings,
) -> Result<(Vec<Column>, Vec<Remark>), Stop> {
    let mut columns: Vec<Column> = Vec::new();
    let mut remarks = Vec::new();
    let is_count = |head: &str| matches!(spellings.find(head), Found::Meaning(Meaning::LeftOut, _));
    let counts = table.heads.iter().filter(|head| is_count(head)).count();
    for (index, head) in table.heads.iter().enumerate() {
        let head = unguarded(head);
        let has_cells = (table.rows.iter()).any(|row| {
            let cell = row.cells.get(index);
            cell.is_some_and(|cell| !cell.is_empty())
        });
        let meaning = match spellings.find(head) {
            // A class's own column may be called `errors`.
            Found::Meaning(Meaning::LeftOut, _) if counts < FEWEST_COUNTS => {
                let (meaning, remark) = unknown(index, head, has_cells, spellings);
                remarks.extend(remark);
                meaning
            }
            Found::Meaning(meaning, bracket) => {
                if let (Meaning::Box(..), Some(bracket)) = (&meaning, bracket) {
                    remarks.push(no_unit(head, &bracket));
                }
                meaning
            }
            Found::Several(names) => {
                return Err(Stop::new(
                    format!(
                        "{}:{}: the column `{head}` may be any of {}",
                        table.name,
                        table.line,
                        names.join(", ")
                    ),
                    "nothing was written; name the column after one of them",
                ));
            }
            Found::Nothing if names::is_heading(head) => Meaning::Names,
            Found::Nothing if head.is_empty() && !has_cells => Meaning::Nothing,
            Found::Nothing => {
                let (meaning, remark) = unknown(index, head, has_cells, spellings);
                remarks.extend(remark);
                meaning
            }
        };
        columns.push(Column {
            meaning,
            unit: brackets(head).filter_map(|(_, inner)| unit(inner)).last(),
        });
    }
    if !columns
        .iter()
        .any(|column| column.meaning == Meaning::Group)
    {
        return Err(table.without_groups("the others are named after the boxes of the form"));
    }
    none_twice(table, &columns)?;
    remarks.extend(sending(table, &columns));
    Ok((columns, remarks))
}

/// Every bracket of a heading with its place, and what it holds.
pub(super) fn brackets(head: &str) -> impl Iterator<Item = (std::ops::Range<usize>, &str)> {
    head.match_indices(['(', '['])
        .filter_map(move |(at, open)| {
            let close = if open == "(" { ')' } else { ']' };
            let inner = head[at + 1..].split(close).next()?;
            let end = at + 1 + inner.len() + 1;
            (end <= head.len()).then_some((at..end, inner))
        })
}

/// A unit in a bracket: `g`, `in g`.
pub(super) fn unit(inner: &str) -> Option<Unit> {
    let inner = inner.trim();
    Unit::parse(inner.strip_prefix("in ").unwrap_or(inner).trim())
}

/// A column for no box: kept as a reading nobody planned, if its heading can be a name.
fn unknown(
    index: usize,
    head: &str,
    has_cells: bool,
    spellings: &Spellings,
) -> (Meaning, Option<Remark>) {
    let mut bare = head.to_owned();
    if let Some((at, _)) = brackets(head)
        .filter(|(_, inner)| unit(inner).is_some())
        .last()
    {
        bare.replace_range(at, " ");
    }
    let bare = words(&bare);
    let meant = bare.strip_prefix("extra ");
    let name = meant.unwrap_or(&bare).replace(' ', "_");
    let usable = !name.is_empty() && name.len() <= LONGEST_NAME && name.is_ascii();
    if meant.is_some() && usable {
        return (Meaning::Box(Place::Extra(name), None), None);
    }
    let near = spellings.near(&bare);
    let near = near.map_or_else(String::new, |near| format!("did you mean `{near}`? "));
    let (meaning, what) = match (usable, has_cells) {
        (true, true) => {
            let what = format!("what stands in it was kept under [extra] as `{name}`");
            (Meaning::Box(Place::Extra(name), None), what)
        }
        (_, false) => (Meaning::Nothing, "nothing stands in it".to_owned()),
        (false, true) => {
            let what = "what stands in it was left out; to keep it under [extra], name the column with a few plain letters";
            (Meaning::Nothing, what.to_owned())
        }
    };
    let message = if head.is_empty() {
        format!("column {} has no heading", index + 1)
    } else {
        format!("the column `{head}` is for no box of this lab")
    };
    let help = format!("{near}{what}");
    let is_note = false;
    let remark = Remark {
        is_note,
        message,
        help,
    };
    (meaning, Some(remark))
}

/// The remark on a bracket that looks like a unit and is none.
fn no_unit(head: &str, bracket: &str) -> Remark {
    Remark {
        is_note: false,
        message: format!("`{bracket}` in the column `{head}` is no unit that is known"),
        help: "its cells were taken as typed; a number without a unit is read in the lab's own"
            .to_owned(),
    }
}

/// The note on columns that say when and from where a form was sent.
fn sending(table: &Table, columns: &[Column]) -> Option<Remark> {
    let sending = table.heads.iter().zip(columns);
    let heads: Vec<String> = sending
        .filter(|(_, column)| column.meaning == Meaning::Sending)
        .map(|(head, _)| format!("`{head}`"))
        .collect();
    let (message, help) = match &heads[..] {
        [] => return None,
        [only] => (
            format!("the column {only} was left out"),
            "it says who sent the form, or when; no data file holds that",
        ),
        several => (
            format!("the columns {} were left out", several.join(", ")),
            "they say who sent the form, or when; no data file holds that",
        ),
    };
    Some(Remark {
        is_note: true,
        message,
        help: help.to_owned(),
    })
}

/// Stops when two columns are for the same box.
fn none_twice(table: &Table, columns: &[Column]) -> Result<(), Stop> {
    let same = |a: &Meaning, b: &Meaning| match (a, b) {
        // A series as a whole holds each of its boxes.
        (Meaning::Box(a, one), Meaning::Box(b, other)) => {
            a == b && (one == other || one.is_none() || other.is_none())
        }
        // `Student 1` and `Student 2`.
        (Meaning::Names, Meaning::Names) => false,
        (a, b) => a == b,
    };
    // Spreadsheets save thousands of columns that hold nothing.
    let mut earlier: Vec<(usize, &Meaning)> = Vec::new();
    for (index, column) in columns.iter().enumerate() {
        let meaning = &column.meaning;
        if matches!(
            meaning,
            Meaning::LeftOut | Meaning::Sending | Meaning::Nothing
        ) {
            continue;
        }
        let first = earlier.iter().find(|(_, other)| same(other, meaning));
        if let Some((first, _)) = first.copied() {
            let heads = &table.heads;
            return Err(Stop::new(
                format!(
                    "{}:{}: the columns `{}` and `{}` are for the same box",
                    table.name, table.line, heads[first], heads[index]
                ),
                "nothing was written; keep one of them",
            ));
        }
        earlier.push((index, meaning));
    }
    Ok(())
}
