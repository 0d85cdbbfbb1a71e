//! `gramleaf share`: the pages of a class, under codes, without names; and the teacher's page, kept apart.

mod alias;
mod gather;
mod lab_site;
mod letters;
mod names;
mod ordinary;
mod private;
mod prose;
mod site;
mod students;

use std::collections::BTreeMap;
use std::path::Path;

use crate::cli;
use crate::command::Stop;
use crate::command::files;
use crate::command::labs_in_use::LabsInUse;
use crate::command::share::lab_site::LabSite;
use crate::command::share::lab_site::as_markdown;
use crate::command::share::site::Site;
use crate::command::terminal;
use crate::render::Templates;
use crate::render::escaped;
use crate::say;
use crate::status::Status;

/// Builds the pages; a file that cannot be used is said, and the rest goes on.
pub(super) fn run(arguments: &cli::Share) -> Result<Status, Stop> {
    if let Some(teacher) = &arguments.teacher {
        apart(teacher, &arguments.out)?;
    }
    let found = files::find(&arguments.paths)?;
    let labs = LabsInUse::default();
    let mut gathered = gather::all(&found, arguments, &labs)?;
    if gathered.classes.is_empty() {
        return Err(Stop::new(
            "there is no group's file that can be used",
            "nothing was written; `gramleaf check` says what is wrong with each file",
        ));
    }
    if let Some(teacher) = arguments.teacher.as_deref().filter(|_| arguments.alias) {
        alias::give(&mut gathered.classes, teacher)?;
    }
    let documents = ["shared", "class", "class-overview", "teacher"];
    let templates = Templates::built_in(&documents).map_err(|wrong| {
        Stop::new(
            wrong.to_string(),
            "this is a fault of the program; please report it",
        )
    })?;
    let several = gathered.classes.len() > 1;
    let sites: Vec<LabSite<'_>> = gathered
        .classes
        .values()
        .filter_map(|class| LabSite::new(class, several, &gathered))
        .collect();
    let mut pages: Vec<String> = sites.iter().flat_map(LabSite::pages).collect();
    if several {
        pages.extend(["index.html".to_owned(), "index.md".to_owned()]);
    }
    let site = Site::open(&arguments.out);
    site.begin(&pages)?;
    let mut written = BTreeMap::new();
    for lab in &sites {
        lab.write(&templates, &labs, arguments, &site, &mut written)?;
    }
    if several {
        let markdown = overview_of_labs(&sites).into();
        let page = templates.page(&markdown, &sites[0].overview());
        for (name, text) in [
            ("index.md", as_markdown(&markdown.text)),
            ("index.html", page),
        ] {
            written.insert(name.to_owned(), site.write(name, &text)?);
        }
    }
    for path in site.finish(&written)? {
        terminal::remark(&format!(
            "{} is no longer one of the shared pages, but was changed by somebody, so it stays",
            path.display()
        ));
    }
    if let Some(teacher) = &arguments.teacher {
        for lab in &sites {
            lab.write_for_teacher(&templates, teacher, several)?;
        }
    }
    let groups: usize = sites.iter().map(|lab| lab.class.groups.len()).sum();
    terminal::result(&format!(
        "wrote {} for {groups} group{}; open {}\n",
        arguments.out.display(),
        if groups == 1 { "" } else { "s" },
        arguments.out.join("index.html").display()
    ));
    Ok(if gathered.unread + gathered.students_unread > 0 {
        Status::ProblemsFound
    } else {
        Status::Good
    })
}

/// Makes sure that the teacher's folder is no part of the shared one.
fn apart(teacher: &Path, shared: &Path) -> Result<(), Stop> {
    // Some file systems do not tell capitals from small letters.
    let plain =
        |path: &Path| Path::new(&files::real(path).to_string_lossy().to_lowercase()).to_path_buf();
    if plain(teacher).starts_with(plain(shared)) {
        return Err(Stop::new(
            format!(
                "the teacher's folder {} lies inside the shared one, {}",
                teacher.display(),
                shared.display()
            ),
            "nothing was written; the teacher's page holds names: give it a folder elsewhere",
        ));
    }
    Ok(())
}

/// The first page of a site with several labs.
fn overview_of_labs(sites: &[LabSite<'_>]) -> String {
    // The first lab's language, as the page around it has.
    let words = &sites[0].lab.words;
    let mut markdown = format!(
        "# {}\n\n{}\n\n",
        words.say("Class results"),
        words.say(
            "Each lab has pages of its own: what was done, the results of the class, and where there are enough groups one report a \
             group, under its code."
        )
    );
    for lab in sites {
        let (title, groups) = (&lab.lab.title, lab.class.groups.len());
        let equation = lab.lab.equation.pretty();
        let groups = if groups == 1 {
            say!(words, "1 group")
        } else {
            say!(words, "{n} groups", n = groups)
        };
        markdown.push_str(&format!(
            "- [{}]({}index.html): {}; {groups}\n",
            escaped(title),
            lab.folder,
            escaped(&equation)
        ));
    }
    markdown
}
