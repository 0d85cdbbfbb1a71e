//! A class list as a table: one row a student or one row a group, columns found by their names however they are written.

use std::collections::BTreeMap;
use std::path::Path;

use crate::command::Stop;
use crate::command::files;
use crate::problem::suggest;
use crate::report::form::FormFor;

/// What a column may be called.
const COLUMNS: [(&str, &[&str]); 3] = [
    ("group", &["group", "group code", "code", "team", "bench"]),
    ("section", &["section", "class", "period", "set"]),
    (
        "names",
        &["names", "name", "student", "students", "member", "members"],
    ),
];

/// The groups of a class list, in order of their codes; several rows of one group are its students.
///
/// # Errors
/// When the file cannot be read, has no column of groups, or a row has no group.
pub(super) fn read(path: &Path) -> Result<Vec<FormFor>, Stop> {
    let bytes = files::read(path)?;
    let text = String::from_utf8_lossy(&bytes);
    let text = text.trim_start_matches('\u{feff}');
    let first = text.lines().next().unwrap_or_default();
    let count = |mark: char| first.matches(mark).count();
    // Spreadsheets that write decimal commas separate their cells with semicolons.
    let delimiter = [b';', b'\t', b',']
        .into_iter()
        .max_by_key(|mark| count(char::from(*mark)))
        .unwrap_or(b',');
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .flexible(true)
        .from_reader(text.as_bytes());
    let broken = |why: csv::Error| {
        Stop::new(
            format!("{} is no table: {why}", path.display()),
            "save the class list as CSV",
        )
    };
    let heads: Vec<String> = reader
        .headers()
        .map_err(broken)?
        .iter()
        .map(|head| head.trim().to_lowercase().replace(['_', '-'], " "))
        .collect();
    let column = |wanted: &str| {
        let (_, spellings) = COLUMNS.iter().find(|(name, _)| *name == wanted)?;
        heads
            .iter()
            .position(|head| spellings.contains(&head.as_str()))
    };
    let Some(group) = column("group") else {
        let help = suggest::closest("group", heads.iter().map(String::as_str)).map_or_else(
            || "name the column with the groups' codes `group`; further columns are `section` and `names`".to_owned(),
            |near| format!("is it the column `{near}`? Then name it `group`"),
        );
        return Err(Stop::new(
            format!("{}:1: no column holds the groups", path.display()),
            help,
        ));
    };
    let (section, names) = (column("section"), column("names"));
    let mut groups: BTreeMap<(String, String), Vec<String>> = BTreeMap::new();
    for (number, row) in reader.records().enumerate() {
        let row = row.map_err(broken)?;
        let cell = |place: Option<usize>| {
            let text = place.and_then(|place| row.get(place)).unwrap_or_default();
            text.trim().to_owned()
        };
        if row.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        let code = cell(Some(group));
        if code.is_empty() {
            return Err(Stop::new(
                format!("{}:{}: this row has no group", path.display(), number + 2),
                "nothing was written; give every student a group",
            ));
        }
        let students = groups.entry((cell(section), code)).or_default();
        let listed = cell(names);
        students.extend(
            listed
                .split([';', '/', '&'])
                .map(str::trim)
                .filter(|name| !name.is_empty())
                .map(str::to_owned),
        );
    }
    Ok(groups
        .into_iter()
        .map(|((section, group), names)| FormFor {
            group,
            section,
            names,
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
            "Section\tGroup_Code\tMembers\n3\t3-01\tAda Q. & Bo L.\n3\t3-02\tCy\n",
        ] {
            assert_eq!(roster(text).as_ref(), Ok(&expected), "{text}");
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
