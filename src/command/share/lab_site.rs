//! The pages of one lab: overview, results, sections, groups, and the teacher's.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::path::Path;

use crate::answers;
use crate::answers::Open;
use crate::class::Pool;
use crate::cli;
use crate::command::Stop;
use crate::command::case;
use crate::command::files;
use crate::command::labs_in_use::LabsInUse;
use crate::command::pool;
use crate::command::share::gather::Class;
use crate::command::share::gather::Gathered;
use crate::command::share::gather::Group;
use crate::command::share::names::Names;
use crate::command::share::private;
use crate::command::share::site::Site;
use crate::command::terminal;
use crate::lab::Lab;
use crate::render::Templates;
use crate::report::Case;
use crate::report::Document;
use crate::report::LabFrom;
use crate::report::class;
use crate::report::class::Link;
use crate::report::class::Scope;
use crate::report::compose;
use crate::say;
use crate::working;
use crate::working::Graph;

/// The pages of one lab.
pub(super) struct LabSite<'a> {
    pub(super) class: &'a Class,
    /// The lab, with aliases where it names groups.
    pub(super) lab: Lab,
    graph: &'a Graph,
    /// Its folder inside the site, with a slash; empty for the only lab.
    pub(super) folder: String,
    /// Sections in order, where there are several.
    sections: Vec<String>,
    /// Groups that have a page of their own.
    shown: Vec<&'a Group>,
    names: &'a Names,
    unread: usize,
}

impl<'a> LabSite<'a> {
    pub(super) fn new(class: &'a Class, several: bool, gathered: &'a Gathered) -> Option<Self> {
        let (lab, graph) = class.ready.lab.as_ref()?;
        let mut lab = lab.clone();
        for (code, reason) in &mut lab.share.left_out {
            let group = class.groups.iter().find(|group| {
                let typed = group.judged.as_ref().map(|judged| judged.label.as_str());
                typed.unwrap_or(&group.entry.code) == code
            });
            if let Some(group) = group {
                code.clone_from(&group.entry.code);
            }
            *reason = gathered.names.masked(reason);
        }
        let mut sections: Vec<String> = class
            .groups
            .iter()
            .map(|group| group.entry.section.clone())
            .filter(|section| !section.is_empty())
            .collect();
        sections.sort();
        sections.dedup();
        let folder = if several {
            format!("{}/", files::safe_name(&lab.id))
        } else {
            String::new()
        };
        let mut site = Self {
            class,
            lab,
            graph,
            folder,
            sections,
            shown: Vec::new(),
            names: &gathered.names,
            unread: gathered.unread,
        };
        let pool = site.pool(None);
        let codes: BTreeSet<&str> = pool
            .shown()
            .into_iter()
            .map(|entry| entry.code.as_str())
            .collect();
        let shown = class.groups.iter();
        let shown: Vec<&Group> = shown
            .filter(|group| codes.contains(group.entry.code.as_str()))
            .collect();
        // A page of its own for one group's section would show that group where the class is too small to show any.
        if site.sections.len() < 2 || !pool.shows_groups() {
            site.sections.clear();
        }
        site.shown = shown;
        Some(site)
    }

    /// Every page it will write.
    pub(super) fn pages(&self) -> Vec<String> {
        let mut names = vec!["index".to_owned(), "results".to_owned()];
        names.extend(self.sections.iter().map(|section| section_page(section)));
        let groups = self.shown.iter();
        names.extend(groups.map(|group| format!("groups/{}", group.entry.code)));
        let mut pages: Vec<String> = names
            .iter()
            .flat_map(|name| ["html", "md"].map(|ending| format!("{}{name}.{ending}", self.folder)))
            .collect();
        pages.push(format!("{}results.csv", self.folder));
        pages
    }

    fn pool<'p>(&'p self, section: Option<&str>) -> Pool<'p> {
        let entries = self.class.groups.iter().map(|group| &group.entry);
        Pool {
            lab: &self.lab,
            graph: self.graph,
            kept: &self.class.kept,
            entries: entries
                .filter(|entry| section.is_none_or(|section| entry.section == section))
                .collect(),
        }
    }

    /// Links to the pages of results.
    fn links(&self) -> Vec<Link> {
        let words = &self.lab.words;
        let link = |text: String, name: &str| Link {
            text,
            to: format!("{name}.html"),
        };
        let mut links = vec![
            link(say!(words, "Overview"), "index"),
            link(say!(words, "Results of all groups"), "results"),
        ];
        links.extend(self.sections.iter().map(|section| {
            link(
                say!(words, "Results of section {section}", section = section),
                &section_page(section),
            )
        }));
        links
    }

    fn scope(&self, section: Option<&str>) -> Scope {
        let words = &self.lab.words;
        let groups = self.shown.iter();
        let reports = groups
            .filter(|group| section.is_none_or(|section| group.entry.section == section))
            .map(|group| Link {
                text: group.entry.code.clone(),
                to: format!("groups/{}.html", group.entry.code),
            });
        Scope {
            title: match section {
                Some(section) => say!(words, "Section {section}", section = section),
                None if self.sections.is_empty() => String::new(),
                None => say!(words, "All sections together"),
            },
            names_sections: section.is_none() && !self.sections.is_empty(),
            pages: self.links(),
            reports: reports.collect(),
            unread: if section.is_none() { self.unread } else { 0 },
        }
    }

    /// The overview, without plots.
    pub(super) fn overview(&self) -> class::ClassPage {
        let mut page = class::compose(&self.pool(None), &self.scope(None));
        page.pages.retain(|link| link.to != "index.html");
        page.plots.clear();
        page
    }

    pub(super) fn write(
        &self,
        templates: &Templates,
        labs: &LabsInUse,
        arguments: &cli::Share,
        site: &Site,
        written: &mut BTreeMap<String, String>,
    ) -> Result<(), Stop> {
        let put = |name: &str, template: &str, document: &class::ClassPage| {
            let (markdown, page) = both(templates, template, document)?;
            let mut pages = Vec::new();
            for (ending, text) in [("md", as_markdown(&markdown)), ("html", page)] {
                let name = format!("{}{name}.{ending}", self.folder);
                let digest = site.write(&name, &text)?;
                pages.push((name, digest));
            }
            Ok::<_, Stop>(pages)
        };
        written.extend(put("index", "class-overview", &self.overview())?);
        let all = self.pool(None);
        written.extend(put(
            "results",
            "class",
            &class::compose(&all, &self.scope(None)),
        )?);
        for section in &self.sections {
            let page = class::compose(&self.pool(Some(section)), &self.scope(Some(section)));
            written.extend(put(&section_page(section), "class", &page)?);
        }
        let name = format!("{}results.csv", self.folder);
        let digest = site.write(&name, &rows(&class::csv(&all))?)?;
        written.insert(name, digest);
        let groups = &self.shown;
        let pages = pool::all(groups.len(), |place| {
            let group = groups[place];
            let (markdown, page, is_answered) = self.group(group, templates, labs, arguments)?;
            let mut pages = Vec::new();
            for (ending, text) in [("md", back_as_markdown(&markdown)), ("html", page)] {
                let name = format!("{}groups/{}.{ending}", self.folder, group.entry.code);
                let digest = site.write(&name, &text)?;
                pages.push((name, digest));
            }
            let answers_apart = || {
                let path = files::real(&group.path);
                let mut students = self.class.students.iter();
                students.any(|student| files::real(&student.group_file) == path)
            };
            let unanswered =
                (!is_answered && !answers_apart()).then_some(group.entry.code.as_str());
            Ok((pages, unanswered))
        });
        let mut waiting = Vec::new();
        for made in pages {
            let (pages, unanswered) = made?;
            written.extend(pages);
            waiting.extend(unanswered);
        }
        waiting.sort_unstable();
        if !waiting.is_empty() {
            terminal::remark(&format!(
                "not every question is answered by {}; the shared pages show what their readings give all the same",
                waiting.join(", ")
            ));
        }
        Ok(())
    }

    /// A group's shared report, composed from a record in which nothing but what may be shared is left; and whether the group
    /// answered every question of the lab.
    fn group(
        &self,
        group: &Group,
        templates: &Templates,
        labs: &LabsInUse,
        arguments: &cli::Share,
    ) -> Result<(String, String, bool), Stop> {
        let gone = || {
            Stop::new(
                format!(
                    "{} was changed while the pages were built",
                    group.path.display()
                ),
                "run the command again",
            )
        };
        let read = case::read(&group.path, arguments.lab.as_deref(), labs)?;
        let (_, mut record) = read.and_then(|read| read.matched).ok_or_else(gone)?;
        let (lab, graph) = (&self.lab, self.graph);
        let given = |id: &str| record.answers.iter().any(|one| one.step == id);
        let mut asked = graph.steps().iter().filter(|step| step.asked.is_some());
        let is_answered = asked.all(|step| given(&step.id));
        private::make_fit(&mut record, &group.entry.code, self.names, &lab.words);
        let (worked, _) = working::work(lab, graph, &mut record);
        let (judged, _) = answers::judge(lab, graph, &record, &worked);
        let open = Open::shared(lab, graph);
        let mut report = compose(&Case {
            lab,
            graph,
            record: &record,
            worked: &worked,
            judged: &judged,
            open: &open,
            problems: &[],
            lab_from: LabFrom::Unsaid,
            digest: "",
        });
        report.observations.retain(|day| day.seen.is_some());
        if !lab.share.working {
            report.workings.clear();
            report.pending.clear();
        }
        let (markdown, page) = both(templates, "shared", &report)?;
        Ok((markdown, page, is_answered))
    }

    pub(super) fn write_for_teacher(
        &self,
        templates: &Templates,
        teacher: &Path,
        several: bool,
    ) -> Result<(), Stop> {
        let mut groups: Vec<class::Judged> = self
            .class
            .groups
            .iter()
            .filter_map(|group| group.judged.clone())
            .collect();
        let students = self.class.students.iter();
        groups.extend(students.map(|student| student.judged.clone()));
        groups.sort_by_cached_key(class::Judged::order);
        let document = class::teacher(&self.lab, &groups);
        let (markdown, page) = both(templates, "teacher", &document)?;
        let name = if several {
            format!("teacher-{}", files::safe_name(&self.lab.id))
        } else {
            "teacher".to_owned()
        };
        for (ending, text) in [("md", markdown), ("html", page)] {
            let path = teacher.join(format!("{name}.{ending}"));
            files::write(&path, &text)?;
            terminal::result(&format!("wrote {}\n", path.display()));
        }
        Ok(())
    }
}

/// Markdown and page of a document.
fn both(
    templates: &Templates,
    template: &str,
    document: &impl Document,
) -> Result<(String, String), Stop> {
    let markdown = templates.markdown(template, document).map_err(|wrong| {
        Stop::new(
            wrong.to_string(),
            "this is a fault of the program; please report it",
        )
    })?;
    let page = templates.page(&markdown, document);
    Ok((markdown.text, page))
}

/// The page of a section, without its ending.
fn section_page(section: &str) -> String {
    format!("section-{}", files::safe_name(section))
}

/// The Markdown of a class page, whose links lead to Markdown. No words of a group are in it.
pub(super) fn as_markdown(markdown: &str) -> String {
    markdown.replace(".html)", ".md)")
}

/// The Markdown of a group's page, whose one link leads to Markdown.
fn back_as_markdown(markdown: &str) -> String {
    markdown.replacen("](../results.html)", "](../results.md)", 1)
}

/// Rows as CSV.
fn rows(rows: &[Vec<String>]) -> Result<String, Stop> {
    let failed = |why: String| {
        Stop::new(
            format!("the table cannot be written: {why}"),
            "this is a fault of the program; please report it",
        )
    };
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer
            .write_record(row)
            .map_err(|why| failed(why.to_string()))?;
    }
    let bytes = writer.into_inner().map_err(|why| failed(why.to_string()))?;
    String::from_utf8(bytes).map_err(|why| failed(why.to_string()))
}
