//! `gramleaf start`: blank data files, never over a filled one.

use std::path::Path;
use std::path::PathBuf;

use crate::cli;
use crate::command::Stop;
use crate::command::files;
use crate::command::labs_in_use::LabsInUse;
use crate::command::roster;
use crate::command::schema::Schema;
use crate::command::terminal;
use crate::report::form;
use crate::report::form::FormFor;
use crate::report::schema;
use crate::status::Status;

/// Writes the blank form of a lab for one group or several.
pub(super) fn run(arguments: &cli::Start) -> Result<Status, Stop> {
    let labs = LabsInUse::default();
    let path = Path::new(&arguments.lab);
    let is_file = LabsInUse::is_path(&arguments.lab);
    let ready = labs.of_command(&arguments.lab)?;
    terminal::problems(&ready.source, &ready.problems);
    let Some((lab, graph)) = &ready.lab else {
        return Ok(Status::ProblemsFound);
    };
    let schema = Schema::asked(
        arguments.schema.as_deref(),
        arguments.out.as_deref(),
        || schema::data_file(lab, graph),
    )?;
    if schema.print() {
        return Ok(Status::Good);
    }
    let codes = match &arguments.roster {
        Some(roster) => roster::read(roster)?,
        None => codes(arguments),
    };
    let named = |form: &Path| {
        if is_file {
            lab_from(form, path, &lab.id)
        } else {
            lab.id.clone()
        }
    };
    if arguments.out.as_deref() == Some(Path::new("-")) {
        schema.write()?;
        for whose in &codes {
            let here = named(Path::new("form.toml"));
            let line = schema.line(Path::new("form.toml"));
            terminal::result(&(line + &form::blank(lab, graph, &here, whose)));
        }
        return Ok(Status::Good);
    }
    let several = arguments.groups.is_some() || arguments.roster.is_some();
    let targets: Vec<PathBuf> = codes
        .iter()
        .map(|whose| target(arguments.out.as_deref(), several, &whose.group))
        .collect();
    let mut seen = std::collections::BTreeSet::new();
    if let Some(twice) = targets.iter().find(|path| !seen.insert(*path)) {
        return Err(Stop::new(
            format!("two groups would both be written to {}", twice.display()),
            "nothing was written; give each group a code of its own",
        ));
    }
    if let Some(taken) = targets.iter().find(|path| files::exists(path)) {
        return Err(Stop::new(
            format!("{} is there already", taken.display()),
            "nothing was written; move it away, or give another place with --out",
        ));
    }
    schema.write()?;
    for (whose, path) in codes.iter().zip(&targets) {
        let form = form::blank(lab, graph, &named(path), whose);
        files::write(path, &(schema.line(path) + &form))?;
        terminal::result(&format!("wrote {}\n", path.display()));
    }
    Ok(Status::Good)
}

/// What a form calls its lab: the id where a reader of the form finds the description by it, in the form's folder or one
/// above; else the way from the form to it.
fn lab_from(form: &Path, description: &Path, id: &str) -> String {
    let whole = |path: &Path| std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
    let (form, description) = (
        files::without_dots(&whole(form)),
        files::without_dots(&whole(description)),
    );
    let name = description
        .file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let lower = name.to_lowercase();
    let found_by_id = lower == "lab.toml" || lower.ends_with(".lab.toml");
    let (Some(from), Some(to)) = (form.parent(), description.parent()) else {
        return name;
    };
    if found_by_id && from.starts_with(to) {
        return id.to_owned();
    }
    let common = from
        .components()
        .zip(to.components())
        .take_while(|(a, b)| a == b)
        .count();
    let up = std::iter::repeat_n("..".to_owned(), from.components().count() - common);
    let down = to
        .components()
        .skip(common)
        .map(|part| part.as_os_str().to_string_lossy().into_owned());
    up.chain(down).chain([name]).collect::<Vec<_>>().join("/")
}

/// Who the forms are for.
fn codes(arguments: &cli::Start) -> Vec<FormFor> {
    let section = arguments.section.clone().unwrap_or_default();
    match arguments.groups {
        None => {
            let group = arguments.group.clone().unwrap_or_default();
            let from_code = group
                .split_once('-')
                .map(|(section, _)| section.to_owned())
                .filter(|_| section.is_empty());
            vec![FormFor {
                section: from_code.unwrap_or(section),
                group,
                names: Vec::new(),
            }]
        }
        Some(groups) => {
            let code = |number: u32| {
                if section.is_empty() {
                    format!("{number:02}")
                } else {
                    format!("{section}-{number:02}")
                }
            };
            (1..=groups)
                .map(|number| FormFor {
                    group: code(number),
                    section: section.clone(),
                    names: Vec::new(),
                })
                .collect()
        }
    }
}

/// Where a form goes: the file given, or a file named after the group in the folder given.
fn target(out: Option<&Path>, several: bool, group: &str) -> PathBuf {
    let safe: String = group
        .chars()
        .map(|c| {
            if c.is_alphanumeric() || "-_.".contains(c) {
                c
            } else {
                '-'
            }
        })
        .collect();
    let name = if safe.trim_matches('.').is_empty() {
        "data.toml".to_owned()
    } else {
        format!("{safe}.toml")
    };
    match out {
        None => PathBuf::from(name),
        Some(path)
            if several
                || path.is_dir()
                || path.extension().is_none_or(|extension| extension != "toml") =>
        {
            path.join(name)
        }
        Some(path) => path.to_path_buf(),
    }
}
