//! `gramleaf import`: a data file for each row of a table, every cell as it was typed.
//!
//! | file | holds |
//! |---|---|
//! | `columns` | what each column of the table is for |
//! | `spellings` | what the columns of a lab may be called |
//! | `trials` | columns of one of several trials |
//! | `boxes` | what of a cell goes into the boxes |

mod boxes;
mod columns;
mod headings;
mod spellings;
mod trials;

use std::collections::BTreeMap;
use std::path::Path;

use crate::cli;
use crate::command::Stop;
use crate::command::case;
use crate::command::files;
use crate::command::forms;
use crate::command::forms::LabIs;
use crate::command::import::columns::Column;
use crate::command::import::columns::Remark;
use crate::command::import::spellings::Meaning;
use crate::command::import::spellings::Spellings;
use crate::command::labs_in_use::LabsInUse;
use crate::command::names;
use crate::command::table;
use crate::command::table::Row;
use crate::command::table::Table;
use crate::command::terminal;
use crate::lab::Lab;
use crate::problem::any_error;
use crate::report::form;
use crate::report::form::FormFor;
use crate::report::form::Place;
use crate::status::Status;
use crate::words::Words;

/// The longest code of a group, in characters: it becomes the name of a file.
const LONGEST_CODE: usize = 60;

/// Writes a data file for each row, all of them or none, and checks what it wrote.
pub(super) fn run(arguments: &cli::Import) -> Result<Status, Stop> {
    let labs = LabsInUse::default();
    let ready = labs.of_command(&arguments.lab)?;
    terminal::problems(&ready.source, &ready.problems, &Words::english());
    let Some((lab, graph)) = &ready.lab else {
        return Ok(Status::ProblemsFound);
    };
    let spellings = Spellings::of(lab, graph);
    let table = table::read(&arguments.file, |head| spellings.knows(head))?;
    let (columns, remarks) = columns::read(&table, &spellings)?;
    let groups = groups(&table, &columns, lab)?;
    let codes = groups.iter().map(|whose| whose.group.as_str());
    let out = arguments.out.as_deref().unwrap_or(Path::new(""));
    let targets = forms::targets(Some(out), true, codes)?;
    for remark in &remarks {
        tell(&table.name, table.line, remark);
    }
    forms::warn_of_codes(&groups);
    let lab_is = LabIs::new(&arguments.lab, &lab.id);
    for (whose, path) in groups.iter().zip(&targets) {
        files::write(path, &form::form(lab, graph, &lab_is.in_form(path), whose))?;
        terminal::result(&format!("wrote {}\n", path.display()));
    }
    let mut status = Status::Good;
    for path in &targets {
        status = status.max(checked(path, &labs)?);
    }
    Ok(status)
}

/// What is wrong or odd in a data file, as `check` says it.
fn checked(path: &Path, labs: &LabsInUse) -> Result<Status, Stop> {
    let Some(mut read) = case::read(path, None, labs)? else {
        return Ok(Status::Good);
    };
    read.with_case(false, |_| ());
    terminal::problems(&read.source, &read.problems, &read.words);
    Ok(if any_error(&read.problems) {
        Status::ProblemsFound
    } else {
        Status::Good
    })
}

/// Says something about the headings.
fn tell(name: &str, line: usize, remark: &Remark) {
    let word = if remark.is_note { "note" } else { "warning" };
    terminal::remark(&format!("{word}: {name}:{line}: {}", remark.message));
    terminal::remark(&format!("  help: {}", remark.help));
}

/// The form of every row.
fn groups(table: &Table, columns: &[Column], lab: &Lab) -> Result<Vec<FormFor>, Stop> {
    if table.rows.is_empty() {
        return Err(Stop::new(
            format!("{} has no row below its headings", table.name),
            "nothing was written; the table needs a row for each group",
        ));
    }
    let mut lines: BTreeMap<&str, usize> = BTreeMap::new();
    // Other columns may be called so too, and be for something else.
    let heads: Vec<String> = table
        .heads
        .iter()
        .zip(columns)
        .map(|(head, column)| match column.meaning {
            Meaning::Names if names::is_heading(head) => head.clone(),
            Meaning::Names => "names".to_owned(),
            _ => "\u{1}".to_owned(),
        })
        .collect();
    let cells: Vec<Vec<String>> = table.rows.iter().map(unguarded).collect();
    let cells: Vec<&[String]> = cells.iter().map(|row| &row[..]).collect();
    let written = names::Columns::of(&heads, &cells, false);
    let rows = table
        .rows
        .iter()
        .map(|row| of_row(table, columns, (lab, &written), row));
    let groups = rows.collect::<Result<Vec<FormFor>, Stop>>()?;
    for (whose, row) in groups.iter().zip(&table.rows) {
        if let Some(first) = lines.insert(&whose.group, row.line) {
            return Err(Stop::new(
                format!(
                    "{}:{}: the group `{}` has a row already, line {first}",
                    table.name, row.line, whose.group
                ),
                "nothing was written; keep the row that counts, or give each group a code of its own",
            ));
        }
    }
    Ok(groups)
}

/// The cells of a row as they were typed.
fn unguarded(row: &Row) -> Vec<String> {
    let cells = row.cells.iter();
    cells
        .map(|cell| table::unguarded(cell).to_owned())
        .collect()
}

/// The form of a row.
fn of_row(
    table: &Table,
    columns: &[Column],
    (lab, written): (&Lab, &names::Columns),
    row: &Row,
) -> Result<FormFor, Stop> {
    let stop = |fault: String, help: &str| {
        let place = format!("{}:{}", table.name, row.line);
        Err(Stop::new(
            format!("{place}: {fault}"),
            format!("nothing was written; {help}"),
        ))
    };
    let beyond = row.cells.iter().skip(columns.len());
    if row.cells.len() < columns.len() || beyond.clone().any(|cell| !cell.is_empty()) {
        return stop(
            format!(
                "this row has {}, but the table has {} columns",
                cells(row.cells.len()),
                columns.len()
            ),
            "a text that holds the character between cells must stand between double quotes",
        );
    }
    let mut whose = FormFor::default();
    let mut has_section = false;
    for (column, cell) in columns.iter().zip(&row.cells) {
        let cell = table::unguarded(cell);
        match &column.meaning {
            Meaning::Group => cell.clone_into(&mut whose.group),
            Meaning::Section => {
                has_section = true;
                cell.clone_into(&mut whose.section);
            }
            Meaning::Names => {}
            Meaning::Lab => {
                let plain = table::plain(cell);
                let own = [&lab.id, &lab.title].map(|name| table::plain(name));
                if !plain.is_empty() && !own.contains(&plain) {
                    return stop(
                        format!("this row belongs to the lab `{cell}`, not to `{}`", lab.id),
                        "import the rows of each lab by themselves, with their own --lab",
                    );
                }
            }
            Meaning::Box(place, number) => {
                if !cell.is_empty() {
                    fill(
                        &mut whose,
                        place,
                        *number,
                        boxes::texts(cell, column, *number, lab),
                    );
                }
            }
            Meaning::LeftOut | Meaning::Sending | Meaning::Nothing => {}
        }
    }
    whose.names = written.in_row(&unguarded(row));
    if whose.group.is_empty() {
        return stop("this row has no group".to_owned(), "give every row a group");
    }
    if whose.group.chars().count() > LONGEST_CODE || whose.group.contains(char::is_control) {
        return stop(
            "the group's code is too long, or has more than one line".to_owned(),
            "codes are short, such as 3-07",
        );
    }
    trials::share_common(&mut whose, &of_trials(columns));
    if !has_section && let Some(section) = forms::section_of(&whose.group) {
        section.clone_into(&mut whose.section);
    }
    Ok(whose)
}

/// Readings that have columns of their own for further trials.
fn of_trials(columns: &[Column]) -> Vec<&str> {
    let places = columns.iter().filter_map(|column| match &column.meaning {
        Meaning::Box(Place::OfTrial(_, name), _) => Some(name.as_str()),
        _ => None,
    });
    places.collect()
}

/// A number of cells in words.
fn cells(count: usize) -> String {
    if count == 1 {
        "1 cell".to_owned()
    } else {
        format!("{count} cells")
    }
}

/// Puts texts into the boxes of a place; a numbered column has one of them.
fn fill(whose: &mut FormFor, place: &Place, number: Option<usize>, texts: Vec<String>) {
    let boxes = whose.filled.entry(place.clone()).or_default();
    match number {
        None => *boxes = texts,
        Some(number) => {
            if boxes.len() < number {
                boxes.resize(number, String::new());
            }
            boxes[number - 1] = texts.concat();
        }
    }
}
