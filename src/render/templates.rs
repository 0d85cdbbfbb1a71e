//! Built-in templates, a user's folder laid over them, and Markdown made from them.

use std::collections::BTreeMap;
use std::fmt;

use handlebars::Context;
use handlebars::Handlebars;

use super::builtin;
use super::builtin::BUILT_IN;
use super::builtin::DOCUMENTS;
use super::builtin::OF_A_GROUP;
use super::calls;
use super::class;
use super::escape;
use super::fields;
use super::frame::Frame;
use super::markdown::Markdown;
use super::specimen;
use super::tidy::tidy;
use crate::problem::suggest;
use crate::report::Document;

/// What is wrong with a template.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TemplateError {
    /// Its file name.
    pub template: String,
    /// Line, from 1; 0 when it is not known.
    pub line: usize,
    /// Column, from 1.
    pub column: usize,
    /// One sentence.
    pub message: String,
}

impl fmt::Display for TemplateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "template {}:{}:{}: {}",
            self.template, self.line, self.column, self.message
        )
    }
}

/// Templates compiled once a run.
pub struct Templates {
    markdown: Handlebars<'static>,
    /// The templates that each document is put together from, in order.
    pieces: BTreeMap<&'static str, Vec<Piece>>,
    frame: Frame,
}

impl Templates {
    /// Compiles the built-in templates with a user's files, name and text, laid over them; also returns a sentence for
    /// each file of the user's that replaces nothing.
    ///
    /// # Errors
    /// When a template cannot be compiled, names what a report does not have, or includes itself.
    pub fn new(overlay: &BTreeMap<String, String>) -> Result<(Self, Vec<String>), TemplateError> {
        let mut texts: BTreeMap<String, String> = BUILT_IN
            .iter()
            .map(|(name, text)| ((*name).to_owned(), (*text).to_owned()))
            .collect();
        let mut strangers = Vec::new();
        for (name, text) in overlay {
            if let Some(known) = texts.get_mut(name) {
                known.clone_from(text);
            } else {
                let near = suggest::closest(name, BUILT_IN.iter().map(|(known, _)| *known));
                let help = near.map_or_else(
                    || {
                        format!(
                            "the templates are {}",
                            BUILT_IN
                                .iter()
                                .map(|(known, _)| *known)
                                .collect::<Vec<_>>()
                                .join(", ")
                        )
                    },
                    |near| format!("did you mean {near}?"),
                );
                strangers.push(format!("{name} replaces no template; {help}"));
            }
        }
        let templates = Self::of(&texts, &DOCUMENTS, true)?;
        let class = class::specimen("text");
        for (documents, model) in [
            (
                &OF_A_GROUP[..],
                serde_json::to_value(specimen::report("text")),
            ),
            (&["class", "class-overview"], serde_json::to_value(class.0)),
            (&["teacher"], serde_json::to_value(class.1)),
            (&["plan"], serde_json::to_value(class::plan("text"))),
            (
                &["bench-sheet"],
                serde_json::to_value(class::bench_sheet("text")),
            ),
            (&["pre-lab"], serde_json::to_value(class::pre_lab("text"))),
        ] {
            fields::check(&templates.markdown, documents, &model.unwrap_or_default())?;
        }
        Ok((templates, strangers))
    }

    /// The built-in templates of some documents, with what they include; nothing else is compiled. A test checks them all.
    ///
    /// # Errors
    /// None that a built-in template has.
    pub fn built_in(documents: &[&str]) -> Result<Self, TemplateError> {
        let mut wanted: Vec<String> = documents
            .iter()
            .map(|document| format!("{document}.md.hbs"))
            .collect();
        wanted.extend(["page.html.hbs".to_owned(), "page.css".to_owned()]);
        let texts = builtin::with_included(wanted)
            .into_iter()
            .map(|(name, text)| (name.to_owned(), text.to_owned()))
            .collect();
        Self::of(&texts, documents, false)
    }

    /// Templates compiled from their texts: the wanted documents in pieces, and `whole` where they are to be checked.
    fn of(
        texts: &BTreeMap<String, String>,
        documents: &[&str],
        whole: bool,
    ) -> Result<Self, TemplateError> {
        let mut markdown = Handlebars::new();
        let mut pieces = BTreeMap::new();
        markdown.set_strict_mode(true);
        markdown.register_escape_fn(escape::markdown);
        calls::register(&mut markdown);
        for (name, text) in texts.iter().filter(|(name, _)| name.ends_with(".md.hbs")) {
            let compile = |engine: &mut Handlebars<'static>, as_name: &str, text: &str| {
                engine
                    .register_template_string(as_name, text)
                    .map_err(|wrong| {
                        let (line, column) = wrong.pos().unwrap_or((0, 0));
                        TemplateError {
                            template: name.clone(),
                            line,
                            column,
                            message: wrong.reason().to_string(),
                        }
                    })
            };
            let stem = name.trim_end_matches(".md.hbs");
            if whole || !DOCUMENTS.contains(&stem) {
                compile(&mut markdown, stem, text)?;
            }
            let document = DOCUMENTS.iter().find(|document| **document == stem);
            if let Some(document) = document.filter(|document| documents.contains(*document)) {
                let cut = cut(stem, texts, &mut vec![stem]);
                for piece in &cut {
                    if let Some(own) = &piece.own {
                        compile(&mut markdown, &piece.name, own)?;
                    }
                }
                pieces.insert(*document, cut);
            }
        }
        let style = texts.get("page.css").cloned().unwrap_or_default();
        let frame = Frame::new(
            texts.get("page.html.hbs").map_or("", String::as_str),
            &style,
        )?;
        Ok(Self {
            markdown,
            pieces,
            frame,
        })
    }

    /// Names of the documents that print one group's report.
    #[must_use]
    pub const fn of_a_group() -> &'static [&'static str] {
        &OF_A_GROUP
    }

    /// The Markdown of a report.
    ///
    /// # Errors
    /// When a template names a field that the report does not have.
    pub fn markdown(
        &self,
        template: &str,
        document: &impl Document,
    ) -> Result<Markdown, TemplateError> {
        let failed = |wrong: handlebars::RenderError| {
            let name = wrong.template_name.as_deref().unwrap_or(template);
            TemplateError {
                template: format!("{}.md.hbs", name.split(PIECE).next().unwrap_or(name)),
                line: wrong.line_no.unwrap_or(0),
                column: wrong.column_no.unwrap_or(0),
                message: wrong.reason().to_string(),
            }
        };
        let data = Context::wraps(document).map_err(failed)?;
        let mut text = String::new();
        for piece in self.pieces.get(template).into_iter().flatten() {
            let printed = self
                .markdown
                .render_with_context(&piece.name, &data)
                .map_err(failed)?;
            text.push_str(printed.get(piece.skip..).unwrap_or_default());
        }
        Ok(tidy(&text, document.words()))
    }

    /// Several documents as one page to print under a title, each on a sheet of its own; `report` as in
    /// [`Templates::page`].
    #[must_use]
    pub fn together(&self, title: &str, documents: &[String], report: &impl Document) -> String {
        let mut markdown = format!("# {}\n", super::escape::markdown(title));
        for (place, document) in documents.iter().enumerate() {
            if place > 0 {
                markdown.push_str("\n---\n");
            }
            markdown.push('\n');
            // A document's own title stands under the common one.
            markdown.push_str(&document.replacen("# ", "## ", 1));
        }
        self.page(&markdown.into(), report)
    }

    /// The page of a report's Markdown.
    #[must_use]
    pub fn page(&self, markdown: &Markdown, document: &impl Document) -> String {
        self.frame.page(markdown, document)
    }
}

/// Stands between a document's name and the number of a piece of it.
const PIECE: char = '#';

/// A template that a document is put together from.
struct Piece {
    /// Its name to Handlebars.
    name: String,
    /// Its text where that is cut out of a template, and not a whole one.
    own: Option<String>,
    /// Empty lines at its beginning, which keep the numbers of the lines right in messages.
    skip: usize,
}

/// A template cut at what it includes on a line of its own outside every block: each piece is rendered on the same data,
/// where an included template would get a copy of all of it. What is included is cut likewise where it includes others.
fn cut<'t>(
    stem: &'t str,
    texts: &'t BTreeMap<String, String>,
    path: &mut Vec<&'t str>,
) -> Vec<Piece> {
    let text = texts
        .get(&format!("{stem}.md.hbs"))
        .map_or("", String::as_str);
    let mut pieces: Vec<Piece> = Vec::new();
    let mut own = String::new();
    let mut skip = 0;
    let mut depth = 0_usize;
    let end = |own: &mut String, skip, pieces: &mut Vec<Piece>| {
        let own = std::mem::take(own);
        if !own.trim().is_empty() {
            pieces.push(Piece {
                name: format!("{stem}{PIECE}{}", pieces.len()),
                own: Some(own),
                skip,
            });
        }
    };
    for (number, line) in text.lines().enumerate() {
        if let Some(name) = included(line).filter(|_| depth == 0) {
            end(&mut own, skip, &mut pieces);
            let inner = if path.contains(&name) {
                Vec::new()
            } else {
                path.push(name);
                let inner = cut(name, texts, path);
                path.pop();
                inner
            };
            if inner.len() > 1 {
                pieces.extend(inner);
            } else {
                pieces.push(Piece {
                    name: name.to_owned(),
                    own: None,
                    skip: 0,
                });
            }
            skip = number + 1;
            own = "\n".repeat(skip);
        } else {
            let opened = line.matches("{{#").count();
            depth = (depth + opened).saturating_sub(line.matches("{{/").count());
            own.push_str(line);
            own.push('\n');
        }
    }
    end(&mut own, skip, &mut pieces);
    pieces
}

/// What a line includes, if it does nothing else.
fn included(line: &str) -> Option<&str> {
    let name = line.trim().strip_prefix("{{>")?.strip_suffix("}}")?.trim();
    let named = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    name.chars().all(named).then_some(name)
}
