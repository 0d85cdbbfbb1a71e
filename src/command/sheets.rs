//! Sheets on paper, for one group or all of them: one Markdown file and one page to print, never over a file that is there.

use std::path::Path;
use std::path::PathBuf;

use crate::cli;
use crate::cli::Sheet;
use crate::command::Stop;
use crate::command::draft::with_ending;
use crate::command::files;
use crate::command::plan::without_ending;
use crate::command::terminal;
use crate::lab::Lab;
use crate::render::TemplateError;
use crate::render::Templates;
use crate::render::bound;
use crate::report::Document;
use crate::report::bench_sheet;
use crate::report::form::FormFor;
use crate::report::pre_lab;
use crate::say;
use crate::status::Status;
use crate::working::Graph;

/// Writes the sheets of groups as NAME.md and NAME.html, or prints the Markdown.
///
/// # Errors
/// When a file of that name is there already, or cannot be written.
pub(super) fn write(
    lab: &Lab,
    graph: &Graph,
    arguments: &cli::Start,
    groups: &[FormFor],
) -> Result<Status, Stop> {
    let out = arguments.out.as_deref();
    let printed = out == Some(Path::new("-"));
    let target = target(out, &lab.id, arguments.sheet);
    let paths = ["md", "html"].map(|ending| with_ending(&target, ending));
    if let Some(taken) = paths.iter().find(|path| !printed && files::exists(path)) {
        return Err(Stop::new(
            format!("{} is there already", taken.display()),
            "nothing was written; move it away, or give another name with --out",
        ));
    }
    let (markdown, html) = match arguments.sheet {
        Sheet::PreLab => {
            let page = |group| pre_lab::compose(lab, graph, group, arguments.key);
            let title = if arguments.key {
                say!(lab.words, "{title}: before the lab, key", title = lab.title)
            } else {
                say!(lab.words, "{title}: before the lab", title = lab.title)
            };
            let nobody = || pre_lab::compose(lab, graph, &FormFor::default(), arguments.key);
            made(
                "pre-lab",
                &title,
                &groups.iter().map(page).collect::<Vec<_>>(),
                nobody,
            )
        }
        Sheet::Bench | Sheet::Form => {
            let sheet = |group| bench_sheet::compose(lab, group);
            let title = say!(lab.words, "{title}: bench sheets", title = lab.title);
            let nobody = || bench_sheet::compose(lab, &FormFor::default());
            made(
                "bench-sheet",
                &title,
                &groups.iter().map(sheet).collect::<Vec<_>>(),
                nobody,
            )
        }
    }
    .map_err(|wrong| {
        Stop::new(
            wrong.to_string(),
            "this is a fault of the program; please report it",
        )
    })?;
    if printed {
        terminal::result(&markdown);
        return Ok(Status::Good);
    }
    for (path, text) in paths.iter().zip([markdown, html]) {
        files::write(path, &text)?;
        terminal::result(&format!("wrote {}\n", path.display()));
    }
    Ok(Status::Good)
}

/// Markdown and page of one sheet, or of several bound together; `nobody` makes the sheet that lends those its title.
fn made<D: Document>(
    template: &str,
    title: &str,
    sheets: &[D],
    nobody: impl FnOnce() -> D,
) -> Result<(String, String), TemplateError> {
    let templates = Templates::built_in(&[template])?;
    let mut markdown = Vec::new();
    for sheet in sheets {
        markdown.push(templates.markdown(template, sheet)?);
    }
    if let ([sheet], [markdown]) = (sheets, &markdown[..]) {
        return Ok((markdown.text.clone(), templates.page(markdown, sheet)));
    }
    let texts: Vec<String> = markdown.into_iter().map(|one| one.text).collect();
    let markdown = bound(title, &texts).into();
    let html = templates.page(&markdown, &nobody());
    Ok((markdown.text, html))
}

/// NAME: as given, in a folder given, or after the lab.
fn target(out: Option<&Path>, lab: &str, sheet: Sheet) -> PathBuf {
    let what = if sheet == Sheet::PreLab {
        "prelab"
    } else {
        "bench"
    };
    let own = PathBuf::from(format!("{}-{what}", files::safe_name(lab)));
    match out {
        None => own,
        Some(folder) if folder.is_dir() => folder.join(own),
        Some(name) => without_ending(name),
    }
}
