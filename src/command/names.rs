//! Names of students in a table: the columns that hold them, and how those of one cell are told apart.

use crate::command::table::plain;

/// What the column of the names may be called.
pub(super) const NAMES: &[&str] = &[
    "names",
    "name",
    "student",
    "students",
    "member",
    "members",
    "namen",
    "schüler",
    "schueler",
    "schuelerin",
    "schülerin",
    "mitglieder",
    "surname, first name",
    "last name, first name",
    "name, first name",
    "family name, given name",
    "name, vorname",
    "nachname, vorname",
];

/// Headings of one student.
const ONE_STUDENT: &[&str] = &["name", "student", "schüler", "schülerin"];

/// Headings of first names.
const FIRST: &[&str] = &[
    "first name",
    "firstname",
    "given name",
    "forename",
    "vorname",
];

/// Headings of surnames.
const SURNAME: &[&str] = &[
    "last name",
    "lastname",
    "surname",
    "family name",
    "nachname",
    "familienname",
];

/// What people write where there is no name.
const NOBODY: [&str; 7] = ["-", "\u{2013}", "\u{2014}", "n/a", "none", "?", "x"];

/// What a column says of names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Whole,
    First,
    Surname,
}

/// The columns of a table that hold names.
#[derive(Debug)]
pub(super) struct Columns {
    /// Whole names.
    whole: Vec<usize>,
    /// First name and surname of one student; either may be missing.
    pairs: Vec<(Option<usize>, Option<usize>)>,
    /// How whole names are written.
    how: Names,
}

/// Whether a column of this heading holds names: `names`, `Student 2`, `Vorname`.
pub(super) fn is_heading(head: &str) -> bool {
    part(head).is_some()
}

/// What a heading says of names, the number behind it, and its words.
fn part(head: &str) -> Option<(Part, String, String)> {
    let plain = plain(head);
    let words = plain
        .trim_end_matches(|c: char| c.is_ascii_digit())
        .trim_end();
    let number = plain[words.len()..].trim().to_owned();
    [
        (Part::Whole, NAMES),
        (Part::First, FIRST),
        (Part::Surname, SURNAME),
    ]
    .into_iter()
    .find(|(_, spellings)| spellings.contains(&words))
    .map(|(part, _)| (part, number, words.to_owned()))
}

impl Columns {
    /// The columns of names among these headings, with all of their cells in `rows`; `rows_of_students` where each row is known
    /// to be one student.
    pub(super) fn of(heads: &[String], rows: &[&[String]], rows_of_students: bool) -> Self {
        let parts = heads.iter().map(|head| part(head));
        let parts: Vec<(usize, (Part, String, String))> = parts
            .enumerate()
            .filter_map(|(at, part)| Some((at, part?)))
            .collect();
        let of_part = |wanted: Part| {
            let fitting = parts.iter().filter(move |(_, (part, ..))| *part == wanted);
            fitting.map(|(at, (_, number, words))| (*at, number.as_str(), words.as_str()))
        };
        let mut whole: Vec<(usize, &str, &str)> = of_part(Part::Whole).collect();
        let mut surnames: Vec<(usize, &str, &str)> = of_part(Part::Surname).collect();
        let firsts: Vec<(usize, &str, &str)> = of_part(Part::First).collect();
        // `Name` beside `Vorname` is the surname.
        if surnames.is_empty() && !firsts.is_empty() {
            let is_surname = |(_, _, words): &(usize, &str, &str)| *words == "name";
            (surnames, whole) = whole.into_iter().partition(is_surname);
        }
        let mut pairs: Vec<(Option<usize>, Option<usize>)> = Vec::new();
        for (first, number, _) in &firsts {
            let same = surnames.iter().position(|(_, other, _)| other == number);
            let surname = same.map(|same| surnames.remove(same).0);
            pairs.push((Some(*first), surname));
        }
        pairs.extend(surnames.iter().map(|(surname, ..)| (None, Some(*surname))));
        let numbered = whole.iter().any(|(_, number, _)| !number.is_empty());
        let head = whole.first().map_or("", |(.., words)| *words);
        let mut whole: Vec<usize> = whole.iter().map(|(at, ..)| *at).collect();
        // Further students of a row stand behind, where their columns have no heading: nobody's name is a mark or a remark.
        if let Some(last) = whole.iter().max().copied() {
            let bare = |at: &usize| {
                let cells = || rows.iter().filter_map(|row| row.get(*at));
                heads[*at].is_empty() && cells().all(|cell| may_be_name(cell))
            };
            whole.extend((last + 1..heads.len()).take_while(bare));
        }
        let several = numbered || whole.len() > 1;
        let cells: Vec<&str> = rows
            .iter()
            .flat_map(|row| whole.iter().filter_map(|at| row.get(*at)))
            .map(String::as_str)
            .collect();
        let how = Names::of(head, &cells, rows_of_students || several);
        Self { whole, pairs, how }
    }

    /// The names in a row.
    pub(super) fn in_row(&self, cells: &[String]) -> Vec<String> {
        let cell = |at: usize| cells.get(at).map_or("", |cell| cell.trim());
        let known = |text: &&str| !NOBODY.contains(&text.to_lowercase().as_str());
        let whole = self.whole.iter().map(|at| cell(*at)).filter(known);
        let mut names: Vec<String> = whole.flat_map(|cell| self.how.in_cell(cell)).collect();
        for (first, surname) in &self.pairs {
            let parts = [first, surname].map(|at| at.map_or("", cell));
            let parts: Vec<&str> = parts.into_iter().filter(known).collect();
            let name = parts.join(" ").trim().to_owned();
            names.extend((!name.is_empty()).then_some(name));
        }
        names
    }
}

/// What always stands between two names.
const BETWEEN: [char; 7] = [';', '/', '&', '+', '|', '\n', '\t'];

/// Words that do so, too.
const AND: [&str; 2] = [" and ", " und "];

/// What the names of a column have in common; the marks of each cell come before that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Names {
    /// A comma stands between two students.
    Commas,
    /// Other cells say that it stands within the name of one, where it does not stand in a list.
    Pairs,
    /// `Surname, First name`: a comma stands within the name of one.
    SurnameFirst,
}

impl Names {
    /// How a column's names are written, by its heading and by its cells; `rows_of_students` where each row is known to be
    /// one student. A cell without a comma says nothing of commas.
    fn of(head: &str, cells: &[&str], rows_of_students: bool) -> Self {
        let head = plain(head);
        if head.contains(',') && NAMES.contains(&head.as_str()) {
            return Self::SurnameFirst;
        }
        let one_each = rows_of_students || ONE_STUDENT.contains(&head.as_str());
        let cells: Vec<Vec<String>> = cells.iter().map(|cell| marked_off(cell)).collect();
        let mut commas = cells.iter().flatten().filter(|part| part.contains(','));
        if commas.clone().next().is_none() || !commas.all(|part| is_pair(part)) {
            Self::Commas
        } else if one_each {
            Self::SurnameFirst
        } else if cells.iter().any(|parts| are_pairs(parts)) {
            Self::Pairs
        } else {
            Self::Commas
        }
    }

    /// The names in a cell.
    fn in_cell(self, cell: &str) -> impl Iterator<Item = String> {
        let parts = marked_off(cell);
        let pairs = self == Self::Pairs || are_pairs(&parts);
        let names = parts.into_iter().flat_map(move |part| {
            if self == Self::SurnameFirst || (pairs && is_pair(&part)) {
                return vec![part];
            }
            part.split(',').map(|name| name.trim().to_owned()).collect()
        });
        names.filter(|name| !name.is_empty())
    }
}

/// Whether a cell may hold names, or nothing.
fn may_be_name(cell: &str) -> bool {
    let cell = cell.trim();
    let (letter, digit) = (char::is_alphabetic, |c: char| c.is_numeric());
    NOBODY.contains(&cell.to_lowercase().as_str())
        || cell.is_empty()
        || cell.contains(letter) && !cell.contains(digit)
}

/// What stands between the marks of a cell that no name holds.
fn marked_off(cell: &str) -> Vec<String> {
    let cell = AND
        .iter()
        .fold(cell.to_owned(), |cell, and| cell.replace(and, "&"));
    let mut open = 0_i32;
    // `Ana (she/her)` is one.
    let parts = cell.split(|c: char| {
        open += i32::from(c == '(') - i32::from(c == ')');
        open <= 0 && BETWEEN.contains(&c)
    });
    let parts = parts.map(str::trim).filter(|part| !part.is_empty());
    parts.map(str::to_owned).collect()
}

/// Whether a text may be `Surname, First name`. `Ana P., Bert Q.` are two: no surname ends in a point.
fn is_pair(part: &str) -> bool {
    part.split_once(',').is_some_and(|(surname, first)| {
        let (surname, first) = (surname.trim(), first.trim());
        !surname.is_empty() && !surname.ends_with('.') && !first.is_empty() && !first.contains(',')
    })
}

/// Whether all of several parts may be.
fn are_pairs(parts: &[String]) -> bool {
    parts.len() > 1 && parts.iter().all(|part| is_pair(part))
}
