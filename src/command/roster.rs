//! A class list as a table: one row a student or one row a group, columns found by their names however they are written.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::path::Path;

use crate::command::Stop;
use crate::command::names;
use crate::command::table;
use crate::report::form::FormFor;

/// The groups of a class list, in order of their codes; several rows of one group are its students.
///
/// # Errors
/// When the file cannot be read, has no column of groups, or a row has no group.
pub(super) fn read(path: &Path) -> Result<Vec<FormFor>, Stop> {
    let called = |spellings: &[&str], head: &str| spellings.contains(&table::plain(head).as_str());
    let known = |head: &str| {
        let labels = [table::GROUP, table::SECTION];
        names::is_heading(head) || labels.iter().any(|spellings| called(spellings, head))
    };
    let mut table = table::read(path, known)?;
    for cell in table.rows.iter_mut().flat_map(|row| &mut row.cells) {
        *cell = table::unguarded(cell).to_owned();
    }
    // The commonest word comes first: a `code` beside a `group` may be the student's.
    let column = |spellings: &[&str]| {
        let heads = || table.heads.iter().map(|head| table::plain(head));
        let found = spellings.iter().find_map(|spelling| {
            let mut places = heads().enumerate().filter(|(_, head)| head == spelling);
            let first = places.next()?.0;
            Some((first, places.next().map(|(second, _)| second)))
        });
        match found {
            Some((first, Some(second))) => Err(Stop::new(
                format!(
                    "{}:{}: the columns {} and {} are both called `{}`",
                    table.name,
                    table.line,
                    first + 1,
                    second + 1,
                    table.heads[first]
                ),
                "nothing was written; keep one of them",
            )),
            found => Ok(found.map(|(first, _)| first)),
        }
    };
    let Some(group) = column(table::GROUP)? else {
        return Err(table.without_groups("further columns are `section` and `names`"));
    };
    let section = column(table::SECTION)?;
    if table.rows.is_empty() {
        return Err(Stop::new(
            format!("{} has no row below its headings", table.name),
            "nothing was written; the list needs a row for each student or each group",
        ));
    }
    let mut groups: BTreeMap<(String, String), Vec<String>> = BTreeMap::new();
    let at = |row: &'_ table::Row, place: Option<usize>| -> String {
        let text = place.and_then(|place| row.cells.get(place));
        text.cloned().unwrap_or_default()
    };
    let mut codes = BTreeSet::new();
    let mut rows = table.rows.iter();
    let rows_of_students = rows.any(|row| !codes.insert((at(row, section), at(row, Some(group)))));
    let cells: Vec<&[String]> = table.rows.iter().map(|row| &row.cells[..]).collect();
    let names = names::Columns::of(&table.heads, &cells, rows_of_students);
    for row in &table.rows {
        let stop = |fault: &str, help: &str| {
            let place = format!("{}:{}", table.name, row.line);
            Stop::new(
                format!("{place}: {fault}"),
                format!("nothing was written; {help}"),
            )
        };
        let mut beyond = row.cells.iter().skip(table.heads.len());
        if beyond.any(|cell| !cell.is_empty()) {
            return Err(stop(
                "this row has more cells than the list has columns",
                "a text that holds the character between cells must stand between double quotes",
            ));
        }
        let code = at(row, Some(group));
        if code.is_empty() {
            return Err(stop("this row has no group", "give every student a group"));
        }
        let students = groups.entry((at(row, section), code)).or_default();
        students.extend(names.in_row(&row.cells));
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
    fn lists_of_any_school_are_read() {
        let ana_bo = vec!["Ana Perez", "Bo Quint"];
        for (text, is) in [
            // What spreadsheets and people put above the headings.
            (
                "sep=;\nGroup;Names\n1;Ana Perez;\n1;Bo Quint\n",
                ana_bo.clone(),
            ),
            (
                "Class list;;\n;;\n\nGroup;Section;Names\n1;3;Ana Perez / Bo Quint\n",
                ana_bo.clone(),
            ),
            // First names and surnames apart, and a column for each student.
            (
                "Last name,First name,Group\nPerez,Ana,1\nQuint,Bo,1\n",
                ana_bo.clone(),
            ),
            (
                "Gruppe;Name;Vorname\n1;Perez;Ana\n1;Quint;Bo\n",
                ana_bo.clone(),
            ),
            (
                "Group,Student 1,Student 2,Student 3\n1,Ana Perez,Bo Quint,-\n",
                ana_bo.clone(),
            ),
            (
                "Group,First name 1,Surname 1,First name 2,Surname 2\n1,Ana,Perez,Bo,Quint\n",
                ana_bo.clone(),
            ),
            (
                "group;names;;\n1;Ana Perez;Bo Quint;\n2;n/a;;\n",
                ana_bo.clone(),
            ),
            // A mark or a remark in a column without a heading is nobody.
            ("group,name,,\n1,Ana,,3.5\n1,Bo,,\n", vec!["Ana", "Bo"]),
            ("group,name,,\n1,Ana,Bo,2 late\n", vec!["Ana", "Bo"]),
            ("group;name;\n1;Ana;*\n2;Bo;\n", vec!["Ana", "Bo"]),
            ("Surname,Group\nXu,1\n", vec!["Xu"]),
            // The student's own code is not the group's; a guard against formulas comes off.
            (
                "Code,Name,Group\n77,'=Ana Perez,1\n78,Bo Quint,1\n",
                vec!["=Ana Perez", "Bo Quint"],
            ),
            (
                "group,names\n1,\"José \"\"Pepe\"\" Ruiz\nŁucja Groß\"\n",
                vec!["José \"Pepe\" Ruiz", "Łucja Groß"],
            ),
        ] {
            let groups = roster(text).unwrap_or_else(|why| panic!("{text}: {why}"));
            assert_eq!(groups[0].1, "1", "{text}");
            let names: Vec<String> = groups.into_iter().flat_map(|(.., names)| names).collect();
            assert_eq!(names, is, "{text}");
        }
        for (text, why) in [
            ("group,names\n", "has no row below its headings"),
            (
                "x\ngroup,group\n1,2\n",
                "roster.csv:2: the columns 1 and 2 are both called",
            ),
            (
                "group;names\n1;Ana;Bo;Cy\n",
                "roster.csv:2: this row has more cells",
            ),
        ] {
            let error = roster(text).unwrap_err();
            assert!(error.contains(why), "{text}: {error}");
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
