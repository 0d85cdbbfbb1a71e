//! Marked copies: one a group as Markdown and HTML, and one file a section to print, a page a group.

use std::collections::BTreeMap;
use std::path::Path;
use std::path::PathBuf;

use crate::cli;
use crate::command::Stop;
use crate::command::files;
use crate::command::terminal;
use crate::render::TemplateError;
use crate::render::Templates;
use crate::report::Case;
use crate::report::Report;
use crate::report::compose;
use crate::say;
use crate::status::Status;

/// What marked copies are made with.
pub(super) struct Press {
    templates: Templates,
    folder: PathBuf,
}

/// One group's marked copy.
pub(super) struct Copy {
    markdown: String,
    page: String,
    report: Report,
}

/// What came of the marked copy of one file.
pub(super) struct Made {
    /// The data file.
    pub path: String,
    /// Its section.
    pub section: String,
    /// The copy.
    pub copy: Result<Copy, TemplateError>,
}

impl Press {
    /// `None` when no marked copies are asked for.
    ///
    /// # Errors
    /// When the templates cannot be compiled.
    pub(super) fn new(arguments: &cli::Check) -> Result<Option<Self>, Stop> {
        let Some(folder) = &arguments.marked else {
            return Ok(None);
        };
        let templates = Templates::built_in(&["marked"])
            .map_err(|wrong| Stop::new(wrong.to_string(), "this is a fault of the program"))?;
        Ok(Some(Self {
            templates,
            folder: folder.clone(),
        }))
    }

    /// The marked copy of one group.
    pub(super) fn copy(&self, case: &Case<'_>) -> Result<Copy, TemplateError> {
        let report = compose(case);
        let markdown = self.templates.markdown("marked", &report)?;
        let page = self.templates.page(&markdown, &report);
        Ok(Copy {
            markdown: markdown.text,
            page,
            report,
        })
    }

    /// Writes every copy, and one file a section; two copies of one name are refused before anything is written.
    ///
    /// # Errors
    /// When two groups would be written to one file, or a file cannot be written.
    pub(super) fn print(&self, all: Vec<Made>) -> Result<Status, Stop> {
        let mut names: BTreeMap<String, String> = BTreeMap::new();
        for made in &all {
            let name = stem(&made.path);
            if let Some(first) = names.insert(name.clone(), made.path.clone()) {
                return Err(Stop::new(
                    format!(
                        "{first} and {} would both be written to {name}.html",
                        made.path
                    ),
                    "nothing was written; check the folders apart, each into a folder of its own",
                ));
            }
        }
        let mut sections: BTreeMap<String, (Vec<String>, Report)> = BTreeMap::new();
        let mut wrote = String::new();
        let mut status = Status::Good;
        for made in all {
            let copy = match made.copy {
                Ok(copy) => copy,
                Err(wrong) => {
                    terminal::stopped(&wrong.to_string(), "this is a fault of the program");
                    status = Status::ProblemsFound;
                    continue;
                }
            };
            let name = stem(&made.path);
            for (ending, text) in [("md", &copy.markdown), ("html", &copy.page)] {
                let path = self.folder.join(format!("{name}.{ending}"));
                files::write(&path, text)?;
                wrote.push_str(&format!("wrote {}\n", path.display()));
            }
            let section = sections.entry(made.section);
            let (copies, _) = section.or_insert_with(|| (Vec::new(), copy.report));
            copies.push(copy.markdown);
        }
        for (section, (copies, mut report)) in sections {
            let (title, name) = if section.is_empty() {
                (say!(report.words, "Marked copies"), "all".to_owned())
            } else {
                (
                    say!(
                        report.words,
                        "Marked copies, section {section}",
                        section = section
                    ),
                    files::safe_name(&section),
                )
            };
            report.group = String::new();
            report.title.clone_from(&title);
            let path = self.folder.join(format!("section-{name}.html"));
            files::write(&path, &self.templates.together(&title, &copies, &report))?;
            wrote.push_str(&format!("wrote {}\n", path.display()));
        }
        terminal::remark(wrote.trim_end());
        Ok(status)
    }
}

/// A data file's name without its folder and ending.
fn stem(path: &str) -> String {
    let name = Path::new(path)
        .file_name()
        .map_or_else(|| "report".into(), |name| name.to_string_lossy());
    let name = crate::command::draft::strip(if path == "-" { "report" } else { &name });
    format!("{name}-marked")
}
