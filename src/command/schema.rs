//! The `--schema` option: a schema printed, or written beside files that name it in their first line for editors.

use std::path::Path;
use std::path::PathBuf;

use crate::command::Stop;
use crate::command::files;
use crate::command::terminal;

/// What is to become of a schema.
pub(super) enum Schema {
    /// Nothing: it was not asked for.
    None,
    /// It is printed, and nothing else is done.
    Print(String),
    /// It goes into a file. `there` when the file holds just this schema already.
    File {
        /// The file.
        path: PathBuf,
        /// The schema.
        text: String,
        /// Whether the file is there already.
        there: bool,
    },
}

impl Schema {
    /// What the command line asks for; `out` is where the files go that may name the schema.
    ///
    /// # Errors
    /// When the file is no `.json`, or holds something else; or when there is no file, but others are to name it.
    pub(super) fn asked(
        option: Option<&Path>,
        out: Option<&Path>,
        text: impl FnOnce() -> String,
    ) -> Result<Self, Stop> {
        let Some(path) = option else {
            return Ok(Self::None);
        };
        if path.as_os_str() == "-" {
            return match out {
                None => Ok(Self::Print(text())),
                Some(_) => Err(Stop::new(
                    "--schema without a file prints the schema and writes nothing else",
                    "give it a file, such as --schema lab.schema.json, or leave --out away",
                )),
            };
        }
        if path.extension().is_none_or(|ending| ending != "json") {
            return Err(Stop::new(
                format!("{} does not end in .json", path.display()),
                "the file behind --schema is written; name it lab.schema.json, say",
            ));
        }
        let text = text();
        let there = files::exists(path);
        if there && files::existing(path).as_ref() != Some(&text) {
            return Err(Stop::new(
                format!(
                    "{} is there already and holds something else",
                    path.display()
                ),
                "nothing was written; move it away, or give another name with --schema",
            ));
        }
        Ok(Self::File {
            path: path.to_path_buf(),
            text,
            there,
        })
    }

    /// Prints the schema, where that is all that was asked for.
    pub(super) fn print(&self) -> bool {
        if let Self::Print(text) = self {
            terminal::result(text);
        }
        matches!(self, Self::Print(_))
    }

    /// Writes the schema, where it has a file that is not there yet.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub(super) fn write(&self) -> Result<(), Stop> {
        if let Self::File {
            path,
            text,
            there: false,
        } = self
        {
            files::write(path, text)?;
            // Standard output may carry the form itself.
            terminal::remark(&format!("wrote {}", path.display()));
        }
        Ok(())
    }

    /// The first line of a file at a place, by which an editor finds the schema; empty where there is none to find.
    pub(super) fn line(&self, file: &Path) -> String {
        match self {
            Self::File { path, .. } => format!("#:schema {}\n", way(file, path)),
            Self::None | Self::Print(_) => String::new(),
        }
    }
}

/// The way from one file to another as editors want it: it begins with a point.
fn way(from: &Path, to: &Path) -> String {
    let way = files::way(from, to);
    if way.starts_with("../") {
        way
    } else {
        format!("./{way}")
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::way;

    #[test]
    fn the_way_begins_with_a_point() {
        for (from, to, expected) in [
            ("a/3-07.toml", "a/lab.schema.json", "./lab.schema.json"),
            ("a/3-07.toml", "lab.schema.json", "../lab.schema.json"),
            ("a/b/3-07.toml", "c/x.json", "../../c/x.json"),
            ("3-07.toml", "./a/../c/x.json", "./c/x.json"),
        ] {
            assert_eq!(way(Path::new(from), Path::new(to)), expected);
        }
    }
}
