//! A class list as a table: one row a student or one row a group, columns found by their names however they are written.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::path::Path;

use crate::command::Stop;
use crate::command::table;
use crate::command::table::Names;
use crate::report::form::FormFor;

/// The groups of a class list, in order of their codes; several rows of one group are its students.
///
/// # Errors
/// When the file cannot be read, has no column of groups, or a row has no group.
pub(super) fn read(path: &Path) -> Result<Vec<FormFor>, Stop> {
    let called = |spellings: &[&str], head: &str| spellings.contains(&table::plain(head).as_str());
    let known = |head: &str| {
        [table::GROUP, table::SECTION, table::NAMES]
            .iter()
            .any(|spellings| called(spellings, head))
    };
    let table = table::read(path, known)?;
    let column = |spellings: &[&str]| {
        let mut heads = table.heads.iter();
        heads.position(|head| called(spellings, head))
    };
    let Some(group) = column(table::GROUP) else {
        return Err(table.without_groups("further columns are `section` and `names`"));
    };
    let (section, names) = (column(table::SECTION), column(table::NAMES));
    let mut groups: BTreeMap<(String, String), Vec<String>> = BTreeMap::new();
    let at = |row: &'_ table::Row, place: Option<usize>| -> String {
        let text = place.and_then(|place| row.cells.get(place));
        text.cloned().unwrap_or_default()
    };
    let mut codes = BTreeSet::new();
    let mut rows = table.rows.iter();
    let rows_of_students = rows.any(|row| !codes.insert((at(row, section), at(row, Some(group)))));
    let cells: Vec<&str> = table
        .rows
        .iter()
        .filter_map(|row| row.cells.get(names?).map(String::as_str))
        .collect();
    let head = names.map_or("", |place| table.heads[place].as_str());
    let written = Names::of(head, &cells, rows_of_students);
    for row in &table.rows {
        let cell = |place: Option<usize>| at(row, place);
        let code = cell(Some(group));
        if code.is_empty() {
            return Err(Stop::new(
                format!("{}:{}: this row has no group", table.name, row.line),
                "nothing was written; give every student a group",
            ));
        }
        let students = groups.entry((cell(section), code)).or_default();
        students.extend(written.in_cell(&cell(names)));
    }
    Ok(groups
        .into_iter()
        .map(|((section, group), names)| FormFor {
            group,
            section,
            names,
            ..FormFor::default()
        })
        .collect())
}

#[cfg(test)]
mod tests {
    use super::read;

    fn roster(text: &str) -> Result<Vec<(String, String, Vec<String>)>, String> {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("roster.csv");
        std::fs::write(&path, text).unwrap();
        read(&path)
            .map(|groups| {
                let of = |one: super::FormFor| (one.section, one.group, one.names);
                groups.into_iter().map(of).collect()
            })
            .map_err(|stop| format!("{} {}", stop.message, stop.help))
    }

    #[test]
    fn a_class_list_is_read_however_its_columns_are_called() {
        let expected = vec![
            (
                "3".to_owned(),
                "3-01".to_owned(),
                vec!["Ada Q.".to_owned(), "Bo L.".to_owned()],
            ),
            ("3".to_owned(), "3-02".to_owned(), vec!["Cy".to_owned()]),
        ];
        for text in [
            "group,section,names\n3-02,3,Cy\n3-01,3,Ada Q.; Bo L.\n",
            "\u{feff}Student;Class;Team\nAda Q.;3;3-01\nBo L.;3;3-01\n;;\nCy;3;3-02\n",
            "Namen;Klasse;Gruppe\nAda Q.;3;3-01\nBo L.;3;3-01\nCy;3;3-02\n",
            "Section\tGroup_Code\tMembers\n3\t3-01\tAda Q. & Bo L.\n3\t3-02\tCy\n",
        ] {
            assert_eq!(roster(text).as_ref(), Ok(&expected), "{text}");
        }
    }

    #[test]
    fn commas_stand_between_names_unless_the_heading_or_all_cells_say_otherwise() {
        for (text, is) in [
            (
                "group,names\n1,\"Ana P., Bert Q.\"\n",
                vec!["Ana P.", "Bert Q."],
            ),
            (
                "group;names\n1;Ana, Bert\n2;Cy\n",
                vec!["Ana", "Bert", "Cy"],
            ),
            (
                "group\tnames\n1\tAna, Bert; Cy\n",
                vec!["Ana", "Bert", "Cy"],
            ),
            // Surnames first: by the heading, by pairs on both sides of another mark, by a row for each student.
            (
                "group;Surname, First name\n1;Perez, Ana\n2;Quint, Bert\n",
                vec!["Perez, Ana", "Quint, Bert"],
            ),
            ("Gruppe;Name, Vorname\n1;Perez, Ana\n", vec!["Perez, Ana"]),
            (
                "group\tnames\n1\tPerez, Ana; Quint, Bert\n",
                vec!["Perez, Ana", "Quint, Bert"],
            ),
            (
                "group;names\n1;Perez, Ana\n1;Quint, Bert\n",
                vec!["Perez, Ana", "Quint, Bert"],
            ),
            ("group;student\n1;Perez, Ana\n", vec!["Perez, Ana"]),
            // Each cell speaks for itself: a group of one, a list with other marks and no commas, a list with commas.
            (
                "group;names\n1;Perez, Ana / Quint, Bert\n2;Xu\n3;Cy D. & Di E. and Flo G.\n4;Reza, Hal\n5;Ito, Kim (she/her) + Lu\n",
                vec![
                    "Perez, Ana",
                    "Quint, Bert",
                    "Xu",
                    "Cy D.",
                    "Di E.",
                    "Flo G.",
                    "Reza, Hal",
                    "Ito, Kim (she/her)",
                    "Lu",
                ],
            ),
            (
                "group;names\n1;Perez, Ana / Quint, Bert\n2;Cy, Di, Ed\n3;Flo, Gus\n",
                vec!["Perez, Ana", "Quint, Bert", "Cy", "Di", "Ed", "Flo", "Gus"],
            ),
            // A row for each student, one of them without a surname.
            (
                "group;names\n1;Perez, Ana\n1;Xu\n2;Quint, Bert\n",
                vec!["Perez, Ana", "Xu", "Quint, Bert"],
            ),
            // Two points of abbreviated names are no surname, whatever the heading.
            (
                "group;student\n1;Ana P., Bert Q.\n",
                vec!["Ana P.", "Bert Q."],
            ),
        ] {
            let names = roster(text).map(|groups| {
                let names = groups.into_iter().flat_map(|(_, _, names)| names);
                names.collect::<Vec<_>>()
            });
            let is: Vec<String> = is.into_iter().map(str::to_owned).collect();
            assert_eq!(names, Ok(is), "{text}");
        }
    }

    #[test]
    fn what_is_missing_is_said_with_its_line() {
        let error = roster("groop,name\n1,x\n").unwrap_err();
        assert!(
            error.contains("roster.csv:1: no column") && error.contains("`groop`"),
            "{error}"
        );
        let error = roster("group,name\n1,x\n,y\n").unwrap_err();
        assert!(
            error.contains("roster.csv:3: this row has no group"),
            "{error}"
        );
    }
}
