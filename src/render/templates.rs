//! Built-in templates, a user's folder laid over them, and Markdown made from them.

use std::collections::BTreeMap;
use std::fmt;

use handlebars::Context;
use handlebars::Handlebars;
use handlebars::template::Template;
use handlebars::template::TemplateElement;

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
    /// The templates that each document is put together from, in order: one part is set apart from the next.
    pieces: BTreeMap<&'static str, Vec<Vec<String>>>,
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
        let mut templates = Self::of(&texts, &DOCUMENTS, overlay.is_empty())?;
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
        templates.cut(&texts, &DOCUMENTS);
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
        let mut templates = Self::of(&texts, documents, true)?;
        templates.cut(&texts, documents);
        Ok(templates)
    }

    /// The wanted documents, and what they may include, compiled from their texts. Tables are put aside for the page
    /// only where all templates are built in: others may print one inside a list, a quotation or a comment.
    fn of(
        texts: &BTreeMap<String, String>,
        documents: &[&str],
        built_in: bool,
    ) -> Result<Self, TemplateError> {
        let mut markdown = Handlebars::new();
        markdown.set_strict_mode(true);
        markdown.register_escape_fn(escape::markdown);
        calls::register(&mut markdown, built_in);
        for (name, text) in texts.iter().filter(|(name, _)| name.ends_with(".md.hbs")) {
            let stem = name.trim_end_matches(".md.hbs");
            if DOCUMENTS.contains(&stem) && !documents.contains(&stem) {
                continue;
            }
            markdown
                .register_template_string(stem, text)
                .map_err(|wrong| {
                    let (line, column) = wrong.pos().unwrap_or((0, 0));
                    TemplateError {
                        template: name.clone(),
                        line,
                        column,
                        message: wrong.reason().to_string(),
                    }
                })?;
        }
        let style = texts.get("page.css").cloned().unwrap_or_default();
        let frame = Frame::new(
            texts.get("page.html.hbs").map_or("", String::as_str),
            &style,
        )?;
        Ok(Self {
            markdown,
            pieces: BTreeMap::new(),
            frame,
        })
    }

    /// Cuts documents at what they include on a line of its own outside every block: each piece is rendered on the same
    /// data, where an included template would get a copy of all of it.
    fn cut(&mut self, texts: &BTreeMap<String, String>, documents: &[&str]) {
        for document in DOCUMENTS.iter().filter(|name| documents.contains(*name)) {
            let parts = self.pieces_of(document, texts).into_iter();
            let parts = parts.map(|piece| self.inner_pieces(piece, texts)).collect();
            self.pieces.insert(document, parts);
        }
    }

    /// What an included template is put together from, as deep as that goes. None includes itself: that is checked before.
    fn inner_pieces(&mut self, name: String, texts: &BTreeMap<String, String>) -> Vec<String> {
        if name.contains(PIECE) {
            return vec![name];
        }
        let pieces = self.pieces_of(&name, texts);
        if pieces.len() < 2 {
            return vec![name];
        }
        let inner = pieces.into_iter();
        inner
            .flat_map(|piece| self.inner_pieces(piece, texts))
            .collect()
    }

    /// The names of a template's own pieces, which get known to Handlebars, and of what it includes between them.
    fn pieces_of(&mut self, stem: &str, texts: &BTreeMap<String, String>) -> Vec<String> {
        let Some(whole) = self.markdown.get_template(stem) else {
            return Vec::new();
        };
        let text = texts.get(&format!("{stem}.md.hbs"));
        let lines: Vec<&str> = text.map_or_else(Vec::new, |text| text.lines().collect());
        let mut pieces = vec![Err(Template::default())];
        for (element, place) in whole.elements.iter().zip(&whole.mapping) {
            let line = lines
                .get(place.0.wrapping_sub(1))
                .copied()
                .unwrap_or_default();
            if let Some(name) = included(element, line) {
                pieces.extend([Ok(name.to_owned()), Err(Template::default())]);
            } else if let Some(Err(own)) = pieces.last_mut() {
                own.elements.push(element.clone());
                own.mapping.push(place.clone());
            }
        }
        let mut names = Vec::new();
        for piece in pieces {
            match piece {
                Ok(included) => names.push(included),
                Err(own) if own.elements.is_empty() => {}
                Err(mut own) => {
                    let name = format!("{stem}{PIECE}{}", names.len());
                    // What messages call it.
                    own.name = Some(stem.to_owned());
                    self.markdown.register_template(&name, own);
                    names.push(name);
                }
            }
        }
        names
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
                template: format!("{name}.md.hbs"),
                line: wrong.line_no.unwrap_or(0),
                column: wrong.column_no.unwrap_or(0),
                message: wrong.reason().to_string(),
            }
        };
        let data = Context::wraps(document).map_err(failed)?;
        let mut text = String::with_capacity(1 << 15);
        for part in self.pieces.get(template).into_iter().flatten() {
            for piece in part {
                let printed = self.markdown.render_with_context(piece, &data);
                text.push_str(&printed.map_err(failed)?);
            }
            text.push_str("\n\n");
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

/// What an element includes, if its line does nothing else.
fn included<'e>(element: &'e TemplateElement, line: &str) -> Option<&'e str> {
    let TemplateElement::PartialExpression(partial) = element else {
        return None;
    };
    let name = partial.name.as_name()?;
    let plain = partial.params.is_empty() && partial.hash.is_empty() && partial.indent.is_none();
    let inside = line.strip_prefix("{{>")?.trim_end().strip_suffix("}}")?;
    (plain && inside.trim() == name).then_some(name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::specimen;

    /// The report made of a user's files.
    fn made(files: &[(&str, &str)]) -> Result<String, TemplateError> {
        let own = files
            .iter()
            .map(|(name, text)| (format!("{name}.md.hbs"), (*text).to_owned()));
        let (templates, _) = Templates::new(&own.collect())?;
        let printed = templates.markdown("report", &specimen::report("text"))?;
        assert!(
            printed.tables.is_empty(),
            "a table of a user's template was put aside"
        );
        Ok(printed.text)
    }

    #[test]
    fn what_is_included_stands_apart() {
        let inner = (
            "budget",
            "inner\n{{#if title}}\n{{> trials}}\n{{/if}}\n{{> trials}}\nend",
        );
        let trials = ("trials", "- {{title}}\n");
        for (report, printed) in [
            (
                "a\n{{> budget}}\nb",
                "a\n\ninner\n- text\n- text\nend\n\nb\n",
            ),
            ("{{> trials}}\n## b", "- text\n\n## b\n"),
            ("a {{> trials}} b", "a - text\n b\n"),
            ("- a\n  {{> trials}}\n- b", "- a\n  - text\n- b\n"),
            ("a\n{{> trials}}\n\n{{~title}}", "a\n\n- text\n\ntext\n"),
            ("{{!-- {{> trials}}\n{{> trials}}\n--}}\na", "a\n"),
        ] {
            let found = made(&[("report", report), inner, trials]);
            assert_eq!(found.as_deref(), Ok(printed), "{report}");
        }
    }

    #[test]
    fn what_fails_is_told_with_its_own_file_and_line() {
        let inner = ("results", "\n{{> trials}}\n\n{{title.part}}\n");
        let Err(wrong) = made(&[("report", "{{> results}}\n"), inner]) else {
            panic!("it passed");
        };
        assert_eq!((wrong.template.as_str(), wrong.line), ("results.md.hbs", 4));
    }

    #[test]
    fn templates_that_include_each_other_are_refused_at_once() {
        let names = [
            "head",
            "safety",
            "background",
            "data",
            "observations",
            "working",
            "results",
            "discussion",
            "budget",
        ];
        let text: String = names
            .iter()
            .map(|name| format!("{{{{> {name}}}}}\n"))
            .collect();
        let files: Vec<(&str, &str)> = names.iter().map(|name| (*name, text.as_str())).collect();
        assert!(made(&files).is_err_and(|wrong| wrong.message.contains("without end")));
    }
}
