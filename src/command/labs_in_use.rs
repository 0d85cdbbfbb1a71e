//! Where a data file's lab comes from; each lab is read, checked and planned once a run.

use std::collections::BTreeMap;
use std::path::Path;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::Mutex;
use std::sync::PoisonError;

use crate::causes::catalogue;
use crate::command::Stop;
use crate::command::files;
use crate::lab::Lab;
use crate::lab::builtin;
use crate::lab::check;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::any_error;
use crate::problem::suggest;
use crate::words::Words;
use crate::working::Graph;
use crate::working::plan;

/// A lab ready for use, or what is wrong with it.
#[derive(Debug)]
pub(super) struct Ready {
    /// Its text.
    pub source: Source,
    /// What is wrong or odd.
    pub problems: Vec<Problem>,
    /// The lab with its steps; `None` when something is wrong.
    pub lab: Option<(Lab, Graph)>,
    /// Its language, as far as it can be told where something is wrong.
    pub words: Words,
    /// Ids of its steps.
    pub steps: Vec<String>,
    /// Name of the file its text stands in; `None` for a built-in lab.
    pub file: Option<String>,
}

/// A lab's name and the folder of the data files that name it.
type Named = (String, PathBuf);

/// Every lab read so far, by where it came from.
#[derive(Debug, Default)]
pub(super) struct LabsInUse {
    ready: Mutex<BTreeMap<String, Arc<Ready>>>,
    /// What a name leads to from a folder: the same for a whole class.
    named: Mutex<BTreeMap<Named, Option<Arc<Ready>>>>,
}

impl LabsInUse {
    /// A lab description from a file given by `--lab` or by a path.
    pub(super) fn read_file(&self, path: &Path) -> Option<Arc<Ready>> {
        let key = path.display().to_string();
        self.once(&key, || {
            let bytes = files::read(path).ok()?;
            let (source, problems) = Source::decode(key.clone(), &bytes);
            let name = path
                .file_name()
                .map(|name| name.to_string_lossy().into_owned())
                .unwrap_or_default();
            Some(Ready {
                file: Some(name),
                ..prepare(source, problems)
            })
        })
    }

    /// The files that lab descriptions were read from.
    pub(super) fn files(&self) -> Vec<PathBuf> {
        let ready = self.ready.lock().unwrap_or_else(PoisonError::into_inner);
        let from_files = ready.iter().filter(|(_, ready)| ready.file.is_some());
        from_files.map(|(key, _)| PathBuf::from(key)).collect()
    }

    /// Whether a lab on the command line is a path rather than an id.
    pub(super) fn is_path(lab: &str) -> bool {
        lab.to_lowercase().ends_with(".toml")
    }

    /// A lab named on the command line: the path of a description, or an id.
    ///
    /// # Errors
    /// When there is no such lab.
    pub(super) fn of_command(&self, lab: &str) -> Result<Arc<Ready>, Stop> {
        let ready = if Self::is_path(lab) {
            self.read_file(Path::new(lab))
        } else if files::exists(Path::new(lab)) && builtin::find(lab).is_none() {
            return Err(Stop::new(
                format!("{lab} is not taken for a lab description"),
                "a lab description is a file that ends in .toml; `gramleaf labs` lists the built-in labs",
            ));
        } else {
            self.named(lab, Path::new("form.toml"))
        };
        ready.ok_or_else(|| {
            let help = suggest::closest(lab, builtin::BUILT_IN.iter().map(|(id, _)| *id))
                .map_or_else(
                    || "`gramleaf labs` lists the built-in labs".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
            Stop::new(format!("there is no lab `{lab}`"), help)
        })
    }

    /// A built-in lab.
    pub(super) fn built_in(&self, id: &str) -> Option<Arc<Ready>> {
        let text = builtin::find(id)?;
        let name = format!("built-in lab {id}");
        self.once(&name.clone(), || {
            Some(prepare(
                Source {
                    name,
                    text: text.to_owned(),
                },
                Vec::new(),
            ))
        })
    }

    /// The lab that a data file names: a path ending in `.toml` beside it; else a `lab.toml` or `*.lab.toml` with that
    /// id in its folder or a parent of it; else the built-in lab of that id.
    pub(super) fn named(&self, lab: &str, data_file: &Path) -> Option<Arc<Ready>> {
        let folder = data_file.parent().unwrap_or(Path::new(""));
        let key = (lab.to_owned(), folder.to_path_buf());
        let named = || self.named.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = named().get(&key) {
            return known.clone();
        }
        // Looked for without the lock: a lab takes time to read, and other names need not wait for it.
        let found = self.look_for(lab, folder);
        named().insert(key, found.clone());
        found
    }

    /// Looks for the lab that a data file in a folder names.
    fn look_for(&self, lab: &str, folder: &Path) -> Option<Arc<Ready>> {
        if lab.to_lowercase().ends_with(".toml") {
            return self.read_file(&folder.join(lab));
        }
        let here = if folder.as_os_str().is_empty() {
            PathBuf::from(".")
        } else {
            folder.to_path_buf()
        };
        let whole = here.canonicalize().unwrap_or(here);
        for (depth, parent) in whole.ancestors().enumerate().take(12) {
            if let Some(path) = self.with_id(parent, lab) {
                // Named as the user would: relative to the data file.
                let shown = (0..depth).fold(folder.to_path_buf(), |path, _| path.join(".."));
                return self.read_file(&shown.join(path.file_name()?));
            }
        }
        self.built_in(lab)
    }

    /// The description with an id in a folder.
    fn with_id(&self, folder: &Path, id: &str) -> Option<PathBuf> {
        let key = format!("folder {}", folder.display());
        let listed = self.once(&key, || {
            let mut lines = Vec::new();
            let mut entries: Vec<PathBuf> = std::fs::read_dir(folder)
                .ok()?
                .filter_map(Result::ok)
                .map(|entry| entry.path())
                .collect();
            entries.sort();
            for path in entries {
                let name = path
                    .file_name()
                    .map(|name| name.to_string_lossy().to_lowercase())
                    .unwrap_or_default();
                if (name == "lab.toml" || name.ends_with(".lab.toml"))
                    && let Some(found) = files::existing(&path)
                        .as_deref()
                        .and_then(|text| value_of(text, "id"))
                {
                    lines.push(format!("{found}\t{}", path.display()));
                }
            }
            let source = Source {
                name: key.clone(),
                text: lines.join("\n"),
            };
            Some(Ready {
                source,
                problems: Vec::new(),
                lab: None,
                words: Words::english(),
                steps: Vec::new(),
                file: None,
            })
        })?;
        let line = listed
            .source
            .text
            .lines()
            .find_map(|line| line.split_once('\t').filter(|(found, _)| *found == id))?;
        Some(PathBuf::from(line.1))
    }

    /// What is known under a key, made the first time.
    fn once(&self, key: &str, make: impl FnOnce() -> Option<Ready>) -> Option<Arc<Ready>> {
        // A poisoned lock only means that another thread stopped between two files; the map is whole.
        let mut ready = self.ready.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = ready.get(key) {
            return Some(Arc::clone(known));
        }
        let made = Arc::new(make()?);
        ready.insert(key.to_owned(), Arc::clone(&made));
        Some(made)
    }
}

/// The value of the first line `name = "…"` of a text, without reading the rest: quotes may be missing or curly, and a
/// colon may stand in the place of the sign.
pub(super) fn value_of<'t>(text: &'t str, name: &str) -> Option<&'t str> {
    let mut values = text.lines().filter_map(|line| {
        let behind = line.trim_start().strip_prefix(name)?.trim_start();
        behind.strip_prefix(['=', ':'])
    });
    let value = values.next()?.split('#').next().unwrap_or_default().trim();
    Some(value.trim_matches(['"', '\'', '“', '”', '„', '‘', '’', ' ', ',']))
}

/// Checks and plans a description.
fn prepare(source: Source, mut problems: Vec<Problem>) -> Ready {
    let (lab, found) = check::check(&source);
    problems.extend(found);
    let words = match &lab {
        Some(lab) => lab.words.clone(),
        None => value_of(&source.text, "language")
            .and_then(Words::of)
            .unwrap_or_default(),
    };
    let planned = lab.map(|lab| {
        let (graph, found) = plan::plan(&lab);
        problems.extend(found);
        problems.extend(catalogue::unknown_supports(&lab));
        (lab, graph)
    });
    let lab = planned.filter(|_| !any_error(&problems));
    let steps = lab
        .as_ref()
        .map(|(_, graph)| graph.steps().iter().map(|step| step.id.clone()).collect())
        .unwrap_or_default();
    Ready {
        source,
        problems,
        lab,
        words,
        steps,
        file: None,
    }
}
