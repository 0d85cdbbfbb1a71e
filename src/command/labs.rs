//! `gramleaf labs`: the built-in labs, and one's description for editing.

use std::path::Path;

use crate::chem::Equation;
use crate::cli;
use crate::command::Stop;
use crate::command::files;
use crate::command::labs_in_use::LabsInUse;
use crate::command::schema::Schema;
use crate::command::terminal;
use crate::lab;
use crate::lab::builtin;
use crate::problem::suggest;
use crate::status::Status;

/// Lists the labs, or writes one.
pub(super) fn run(arguments: &cli::Labs) -> Result<Status, Stop> {
    let schema = Schema::asked(
        arguments.schema.as_deref(),
        arguments.out.as_deref(),
        || lab::SCHEMA.to_owned(),
    )?;
    if schema.print() {
        return Ok(Status::Good);
    }
    let Some(id) = &arguments.id else {
        if arguments.schema.is_some() {
            schema.write()?;
            return Ok(Status::Good);
        }
        terminal::result(&list());
        return Ok(Status::Good);
    };
    let Some(text) = builtin::find(id) else {
        let help = suggest::closest(id, builtin::BUILT_IN.iter().map(|(id, _)| *id)).map_or_else(
            || "`gramleaf labs` lists them".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        return Err(Stop::new(format!("there is no built-in lab `{id}`"), help));
    };
    match &arguments.out {
        None => {
            schema.write()?;
            terminal::result(&(schema.line(Path::new("lab.toml")) + text));
        }
        Some(path) if files::exists(path) => {
            return Err(Stop::new(
                format!("{} is there already", path.display()),
                "give another name; nothing was written",
            ));
        }
        Some(path) => {
            schema.write()?;
            files::write(path, &(schema.line(path) + text))?;
            terminal::result(&format!("wrote {}\n", path.display()));
        }
    }
    Ok(Status::Good)
}

/// Id, title and equation of every built-in lab.
fn list() -> String {
    let labs = LabsInUse::default();
    let mut text = String::new();
    for (id, _) in builtin::BUILT_IN {
        let ready = labs.built_in(id);
        if let Some((lab, _)) = ready.as_ref().and_then(|ready| ready.lab.as_ref()) {
            text.push_str(&format!(
                "{id}\n    {}\n    {}\n",
                lab.title,
                Equation::pretty(&lab.equation)
            ));
        }
    }
    text
}
