//! `gramleaf start`: blank data files, bench sheets and pages before the lab, never over a file that is there.

use std::path::Path;

use crate::cli;
use crate::command::Stop;
use crate::command::files;
use crate::command::forms;
use crate::command::forms::LabIs;
use crate::command::labs_in_use::LabsInUse;
use crate::command::roster;
use crate::command::schema::Schema;
use crate::command::sheets;
use crate::command::terminal;
use crate::report::form;
use crate::report::form::FormFor;
use crate::report::schema;
use crate::status::Status;
use crate::words::Words;

/// Writes the blank form of a lab, or its sheets, for one group or several.
pub(super) fn run(arguments: &cli::Start) -> Result<Status, Stop> {
    let labs = LabsInUse::default();
    let ready = labs.of_command(&arguments.lab)?;
    terminal::problems(&ready.source, &ready.problems, &Words::english());
    let Some((lab, graph)) = &ready.lab else {
        return Ok(Status::ProblemsFound);
    };
    let paper = arguments.sheet != cli::Sheet::Form;
    if paper && arguments.schema.is_some() {
        return Err(Stop::new(
            "a sheet on paper has no schema",
            "nothing was written; leave out --schema or --sheet",
        ));
    }
    if arguments.key && arguments.sheet != cli::Sheet::PreLab {
        return Err(Stop::new(
            "only the page before the lab has a key",
            "nothing was written; give `--sheet prelab` with --key",
        ));
    }
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
    // Codes that are counted are all alike.
    let told = arguments.groups.and_then(|_| codes.get(..1));
    forms::warn_of_codes(told.unwrap_or(&codes));
    if paper {
        return sheets::write(lab, graph, arguments, &codes);
    }
    let lab_is = LabIs::new(&arguments.lab, &lab.id);
    if arguments.out.as_deref() == Some(Path::new("-")) {
        schema.write()?;
        for whose in &codes {
            let here = lab_is.in_form(Path::new("form.toml"));
            let line = schema.line(Path::new("form.toml"));
            terminal::result(&(line + &form::form(lab, graph, &here, whose)));
        }
        return Ok(Status::Good);
    }
    let several = arguments.groups.is_some() || arguments.roster.is_some();
    let groups = codes.iter().map(|whose| whose.group.as_str());
    let targets = forms::targets(arguments.out.as_deref(), several, groups)?;
    schema.write()?;
    for (whose, path) in codes.iter().zip(&targets) {
        let form = form::form(lab, graph, &lab_is.in_form(path), whose);
        files::write(path, &(schema.line(path) + &form))?;
        terminal::result(&format!("wrote {}\n", path.display()));
    }
    Ok(Status::Good)
}

/// Who the forms are for.
fn codes(arguments: &cli::Start) -> Vec<FormFor> {
    let section = arguments.section.clone().unwrap_or_default();
    match arguments.groups {
        None => {
            let group = arguments.group.clone().unwrap_or_default();
            let from_code = forms::section_of(&group).filter(|_| section.is_empty());
            vec![FormFor {
                section: from_code.map_or(section, str::to_owned),
                group,
                ..FormFor::default()
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
                    ..FormFor::default()
                })
                .collect()
        }
    }
}
