//! Every name in the templates held against a report with everything filled in, before any is rendered.
//!
//! Handlebars' strict mode finds a misspelt field where it is printed, but not in `#if`, `#each` or
//! a partial's arguments, and two partials that include each other would exhaust the stack.

use std::collections::BTreeMap;
use std::collections::BTreeSet;

use handlebars::Handlebars;
use handlebars::template::BlockParam;
use handlebars::template::DecoratorTemplate;
use handlebars::template::HelperTemplate;
use handlebars::template::Parameter;
use handlebars::template::Template;
use handlebars::template::TemplateElement;
use serde_json::Value as Json;

use super::calls;
use super::templates::TemplateError;
use crate::problem::suggest::closest;

/// Checks the templates that make documents and all that they include; returns the names reached.
///
/// # Errors
/// The first name that does not exist, or the circle in which templates include each other.
pub(super) fn check(
    registry: &Handlebars<'_>,
    documents: &[&str],
    data: &Json,
) -> Result<BTreeSet<String>, TemplateError> {
    let mut check = Check {
        registry,
        reached: BTreeSet::new(),
        path: Vec::new(),
        place: (1, 1),
    };
    for document in documents {
        let mut scopes = vec![Scope {
            value: Some(data),
            names: BTreeMap::new(),
        }];
        check.included(document, &mut scopes)?;
    }
    Ok(check.reached)
}

/// What names mean inside a block; a value of `None` is something that cannot be told beforehand.
struct Scope<'j> {
    value: Option<&'j Json>,
    /// Block parameters and a partial's arguments.
    names: BTreeMap<String, Option<&'j Json>>,
}

/// A walk through the templates.
struct Check<'r> {
    registry: &'r Handlebars<'r>,
    reached: BTreeSet<String>,
    /// The templates that include the present one, and itself.
    path: Vec<String>,
    place: (usize, usize),
}

type Checked = Result<(), TemplateError>;

impl Check<'_> {
    fn wrong<T>(&self, reason: String) -> Result<T, TemplateError> {
        let name = self.path.last().map_or("", String::as_str);
        let (line, column) = self.place;
        Err(TemplateError {
            template: format!("{name}.md.hbs"),
            line,
            column,
            message: reason,
        })
    }

    /// One template by its name.
    fn included(&mut self, name: &str, scopes: &mut Vec<Scope<'_>>) -> Checked {
        if let Some(from) = self.path.iter().position(|earlier| earlier == name) {
            let circle = self.path[from..].join(" → ");
            return self.wrong(format!(
                "templates include each other without end: {circle} → {name}"
            ));
        }
        let registry = self.registry;
        let Some(template) = registry.get_template(name) else {
            let near = suggestion(name, registry.get_templates().keys().map(String::as_str));
            return self.wrong(format!("there is no template `{name}` to include{near}"));
        };
        self.reached.insert(name.to_owned());
        self.path.push(name.to_owned());
        let outer = self.place;
        self.template(template, scopes)?;
        self.place = outer;
        self.path.pop();
        Ok(())
    }

    fn template(&mut self, template: &Template, scopes: &mut Vec<Scope<'_>>) -> Checked {
        for (index, element) in template.elements.iter().enumerate() {
            if let Some(mapping) = template.mapping.get(index) {
                self.place = (mapping.0, mapping.1);
            }
            self.element(element, scopes)?;
        }
        Ok(())
    }

    fn element(&mut self, element: &TemplateElement, scopes: &mut Vec<Scope<'_>>) -> Checked {
        match element {
            TemplateElement::Expression(call) | TemplateElement::HtmlExpression(call) => {
                self.expression(call, scopes)
            }
            TemplateElement::HelperBlock(block) => self.block(block, scopes),
            TemplateElement::PartialExpression(partial)
            | TemplateElement::PartialBlock(partial) => self.partial(partial, scopes),
            TemplateElement::DecoratorExpression(_) | TemplateElement::DecoratorBlock(_) => self
                .wrong(
                    "templates inside templates are not read; put the piece into a file of its own"
                        .to_owned(),
                ),
            // Text, and comments.
            _ => Ok(()),
        }
    }

    /// `{{title}}` or `{{table data}}`.
    fn expression(&self, call: &HelperTemplate, scopes: &[Scope<'_>]) -> Checked {
        let bare = call.params.is_empty() && call.hash.is_empty();
        match call.name.as_name() {
            Some(name) if bare && !is_helper(name) => self.look_up(name, scopes).map(|_| ()),
            Some(name) if !is_helper(name) => self.no_helper(name),
            Some(_) => self.arguments(call, scopes),
            None => self.parameter(&call.name, scopes).map(|_| ()),
        }
    }

    fn no_helper<T>(&self, name: &str) -> Result<T, TemplateError> {
        self.wrong(format!(
            "there is nothing called `{name}` to call{}",
            suggestion(name, names())
        ))
    }

    fn arguments(&self, call: &HelperTemplate, scopes: &[Scope<'_>]) -> Checked {
        let named: BTreeMap<&String, &Parameter> = call.hash.iter().collect();
        for argument in call.params.iter().chain(named.into_values()) {
            self.parameter(argument, scopes)?;
        }
        Ok(())
    }

    /// An argument's value, where it can be told.
    fn parameter<'j>(
        &self,
        parameter: &Parameter,
        scopes: &[Scope<'j>],
    ) -> Result<Option<&'j Json>, TemplateError> {
        match parameter {
            Parameter::Subexpression(inner) => {
                if let TemplateElement::Expression(call) = inner.as_element() {
                    match call.name.as_name() {
                        Some(name) if !is_helper(name) => return self.no_helper(name),
                        _ => self.arguments(call, scopes)?,
                    }
                }
                Ok(None)
            }
            Parameter::Name(_) | Parameter::Path(_) => parameter
                .as_name()
                .map_or(Ok(None), |name| self.look_up(name, scopes)),
            _ => Ok(None),
        }
    }

    fn block(&mut self, block: &HelperTemplate, scopes: &mut Vec<Scope<'_>>) -> Checked {
        let name = block.name.as_name().unwrap_or_default();
        if !matches!(name, "if" | "unless" | "each" | "with") {
            return self.no_helper(name);
        }
        let Some(first) = block.params.first() else {
            return self.wrong(format!("`#{name}` needs to be told of what"));
        };
        self.arguments(block, scopes)?;
        let value = self.parameter(first, scopes)?;
        let inside = match name {
            "each" => Some(value.and_then(|value| value.as_array()?.first())),
            "with" => Some(value),
            _ => None,
        };
        if let Some(inside) = inside {
            let mut names = BTreeMap::new();
            match &block.block_param {
                Some(BlockParam::Single(one)) => {
                    names.insert(one.as_name().unwrap_or_default().to_owned(), inside);
                }
                Some(BlockParam::Pair((one, key))) => {
                    names.insert(one.as_name().unwrap_or_default().to_owned(), inside);
                    names.insert(key.as_name().unwrap_or_default().to_owned(), None);
                }
                _ => {}
            }
            scopes.push(Scope {
                value: inside,
                names,
            });
        }
        if let Some(template) = &block.template {
            self.template(template, scopes)?;
        }
        if inside.is_some() {
            scopes.pop();
        }
        if let Some(template) = &block.inverse {
            self.template(template, scopes)?;
        }
        Ok(())
    }

    fn partial(&mut self, partial: &DecoratorTemplate, scopes: &mut Vec<Scope<'_>>) -> Checked {
        let Some(name) = partial.name.as_name().map(str::to_owned) else {
            return self
                .wrong("the name of a template to include has to be written out".to_owned());
        };
        if let Some(content) = &partial.template {
            self.template(content, scopes)?;
        }
        if name == "@partial-block" {
            return Ok(());
        }
        let mut names = BTreeMap::new();
        // In order of name, so that of two faults the same one is told every time.
        let arguments: BTreeMap<&String, &Parameter> = partial.hash.iter().collect();
        for (key, argument) in arguments {
            names.insert(key.clone(), self.parameter(argument, scopes)?);
        }
        let value = match partial.params.first() {
            Some(argument) => self.parameter(argument, scopes)?,
            None => scopes.last().and_then(|scope| scope.value),
        };
        scopes.push(Scope { value, names });
        self.included(&name, scopes)?;
        scopes.pop();
        Ok(())
    }

    /// What a path such as `../safety.hazards` means.
    fn look_up<'j>(
        &self,
        path: &str,
        scopes: &[Scope<'j>],
    ) -> Result<Option<&'j Json>, TemplateError> {
        let mut rest = path;
        let mut depth = scopes.len().saturating_sub(1);
        let outermost = scopes.first().and_then(|scope| scope.value);
        if let Some(local) = rest.strip_prefix('@') {
            let Some(after) = local.strip_prefix("root") else {
                return Ok(None);
            };
            return self.descend(outermost, after, path);
        }
        while let Some(after) = rest.strip_prefix("../") {
            let Some(up) = depth.checked_sub(1) else {
                return self.wrong(format!("`{path}` leads out of the report"));
            };
            depth = up;
            rest = after;
        }
        let first = rest.split(['.', '/']).next().unwrap_or_default();
        let named = scopes[..=depth]
            .iter()
            .rev()
            .find_map(|scope| scope.names.get(first));
        match named {
            Some(value) => self.descend(*value, &rest[first.len()..], path),
            None => self.descend(scopes.get(depth).and_then(|scope| scope.value), rest, path),
        }
    }

    /// Follows the parts of a path from a value.
    fn descend<'j>(
        &self,
        from: Option<&'j Json>,
        parts: &str,
        path: &str,
    ) -> Result<Option<&'j Json>, TemplateError> {
        let mut value = from;
        for part in parts.split(['.', '/']) {
            let part = part.trim_matches(['[', ']']);
            let Some(here) = value.filter(|_| !part.is_empty() && part != "this") else {
                continue;
            };
            value = match here {
                Json::Object(fields) => {
                    let Some(inner) = fields.get(part) else {
                        let near = suggestion(part, fields.keys().map(String::as_str));
                        return self.wrong(format!("there is no field `{part}`{near}"));
                    };
                    Some(inner)
                }
                Json::Array(items) if part.bytes().all(|byte| byte.is_ascii_digit()) => {
                    items.first()
                }
                _ => {
                    return self.wrong(format!(
                        "`{path}`: what stands before `{part}` has no parts of that name"
                    ));
                }
            };
        }
        Ok(value)
    }
}

/// Whether a template can call something of that name.
fn is_helper(name: &str) -> bool {
    names().any(|known| known == name)
}

/// What a template can call: the helpers of ours, and Handlebars' own.
fn names() -> impl Iterator<Item = &'static str> {
    const OWN: [&str; 15] = [
        "if", "unless", "each", "with", "lookup", "eq", "ne", "gt", "gte", "lt", "lte", "and",
        "or", "not", "len",
    ];
    calls::names().chain(OWN)
}

fn suggestion<'c>(name: &str, known: impl Iterator<Item = &'c str>) -> String {
    let mut known: Vec<&str> = known.collect();
    known.sort_unstable();
    closest(name, known).map_or_else(String::new, |near| format!("; did you mean `{near}`?"))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::templates::Templates;

    #[test]
    fn a_name_that_does_not_exist_is_told_with_its_place() {
        for (template, line, words) in [
            ("a\n{{titel}}", 2, "`titel`; did you mean `title`?"),
            ("{{#if purpos}}x{{/if}}", 1, "did you mean `purpose`?"),
            ("{{#unless nosuch}}x{{/unless}}", 1, "`nosuch`"),
            (
                "\n\n{{#each observations}}{{dai}}{{/each}}",
                3,
                "did you mean `day`?",
            ),
            // A name of the model, but not one that stands here.
            ("{{#if day}}x{{/if}}", 1, "`day`"),
            ("{{#if title}}{{else}}{{nosuch}}{{/if}}", 1, "`nosuch`"),
            ("{{> head who=nosuch}}", 1, "`nosuch`"),
            ("{{> haed}}", 1, "did you mean `head`?"),
            ("{{tabel data}}", 1, "did you mean `table`?"),
            ("{{#each data.rows}}{{../nosuch}}{{/each}}", 1, "`nosuch`"),
            ("{{title.part}}", 1, "has no parts"),
            ("{{#if (nosuch title)}}x{{/if}}", 1, "`nosuch`"),
        ] {
            let own = BTreeMap::from([("report.md.hbs".to_owned(), template.to_owned())]);
            let error = Templates::new(&own)
                .err()
                .unwrap_or_else(|| panic!("{template} passed"));
            assert_eq!(
                (error.template.as_str(), error.line),
                ("report.md.hbs", line),
                "{template}: {error}"
            );
            assert!(error.message.contains(words), "{template}: {error}");
        }
    }

    #[test]
    fn names_that_exist_pass() {
        let template = "{{#each observations as |o|}}{{@index}}{{o.day}}{{../title}}{{@root.group}}{{/each}}\
                        {{#with safety}}{{priority}}{{/with}}{{#each names}}{{this}}{{/each}}{{> head t=data}}";
        let own = BTreeMap::from([("report.md.hbs".to_owned(), template.to_owned())]);
        assert_eq!(Templates::new(&own).err(), None);
    }

    #[test]
    fn templates_that_lead_back_to_themselves_are_refused() {
        let files = [
            ("head.md.hbs", "{{> safety}}"),
            ("safety.md.hbs", "{{#if title}}{{> head}}{{/if}}"),
        ];
        let own = files
            .map(|(name, text)| (name.to_owned(), text.to_owned()))
            .into();
        let error = Templates::new(&own)
            .err()
            .map(|error| error.message)
            .unwrap_or_default();
        assert!(error.contains("head → safety → head"), "{error}");
    }
}
