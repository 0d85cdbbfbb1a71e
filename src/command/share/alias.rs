//! Shuffled codes in place of the groups' own; which is whose is kept in the teacher's folder, and stays from run to run.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::hash::BuildHasher;
use std::hash::RandomState;
use std::path::Path;

use crate::command::Stop;
use crate::command::files;
use crate::command::share::gather::Class;
use crate::command::terminal;

/// The table's name.
const TABLE: &str = "codes.csv";

/// Gives every group its alias: the one it has, or a new one drawn at random.
///
/// # Errors
/// When the table cannot be read or written.
pub(super) fn give(classes: &mut BTreeMap<String, Class>, teacher: &Path) -> Result<(), Stop> {
    let path = teacher.join(TABLE);
    let mut known = read(&path)?;
    let mut taken: BTreeSet<String> = known.values().cloned().collect();
    // Seeded by the system: an order that nobody can work out from the codes.
    let shuffle = RandomState::new();
    for (lab, class) in classes.iter_mut() {
        let mut new: Vec<&str> = class
            .groups
            .iter()
            .map(|group| group.entry.code.as_str())
            .filter(|code| !known.contains_key(&(lab.clone(), (*code).to_owned())))
            .collect();
        new.sort_by_key(|code| shuffle.hash_one(code));
        let mut number = 0;
        let added: Vec<(String, String)> = new
            .into_iter()
            .map(|code| {
                loop {
                    number += 1;
                    let alias = format!("G{number:02}");
                    if taken.insert(format!("{lab}/{alias}")) {
                        return (code.to_owned(), alias);
                    }
                }
            })
            .collect();
        for (code, alias) in added {
            known.insert((lab.clone(), code), format!("{lab}/{alias}"));
        }
        for group in &mut class.groups {
            let Some(alias) = known.get(&(lab.clone(), group.entry.code.clone())) else {
                continue;
            };
            let alias = alias.rsplit('/').next().unwrap_or(alias).to_owned();
            if let Some(judged) = &mut group.judged {
                judged.alias = Some(alias.clone());
            }
            group.entry.code = alias;
        }
        class
            .groups
            .sort_by_cached_key(|group| crate::class::code::order(lab, &group.entry.code));
    }
    let mut text = String::from("lab,group,alias\n");
    for ((lab, code), alias) in &known {
        let alias = alias.rsplit('/').next().unwrap_or(alias);
        text.push_str(&format!("{lab},{code},{alias}\n"));
    }
    files::write(&path, &text)?;
    terminal::result(&format!("wrote {}\n", path.display()));
    Ok(())
}

/// Lab and group code by group, as an earlier run left them; an alias with its lab before it.
fn read(path: &Path) -> Result<BTreeMap<(String, String), String>, Stop> {
    let mut known = BTreeMap::new();
    let Some(text) = files::existing(path) else {
        return Ok(known);
    };
    for (number, line) in text.lines().enumerate().skip(1) {
        let cells: Vec<&str> = line.split(',').map(str::trim).collect();
        let [lab, code, alias] = cells[..] else {
            return Err(Stop::new(
                format!(
                    "{}:{}: a row has three cells: lab, group, alias",
                    path.display(),
                    number + 1
                ),
                "nothing was written; put the row right, or move the table away to draw new aliases",
            ));
        };
        known.insert((lab.to_owned(), code.to_owned()), format!("{lab}/{alias}"));
    }
    Ok(known)
}
