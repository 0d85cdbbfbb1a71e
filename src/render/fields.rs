//! Names in templates held against the model: a misspelt field is an error in `#if` and `#each` too.

use std::collections::BTreeMap;
use std::collections::BTreeSet;

use super::templates::TemplateError;

/// Names that Handlebars and the helpers know.
const WORDS: &[&str] = &[
    "this", "else", "if", "unless", "each", "with", "lookup", "table", "words", "working", "chart",
    "given", "section", "true", "false", "and",
];

/// Every name a field of the model has, at any depth.
pub(super) fn of_model(value: &serde_json::Value, names: &mut BTreeSet<String>) {
    match value {
        serde_json::Value::Object(fields) => {
            for (name, inner) in fields {
                names.insert(name.clone());
                of_model(inner, names);
            }
        }
        serde_json::Value::Array(items) => items.iter().for_each(|item| of_model(item, names)),
        _ => {}
    }
}

/// Checks every tag of the templates.
///
/// # Errors
/// The first name that the model does not have, with template, line and column.
pub(super) fn check(
    templates: &BTreeMap<String, String>,
    names: &BTreeSet<String>,
) -> Result<(), TemplateError> {
    for (template, text) in templates.iter().filter(|(name, _)| name.ends_with(".hbs")) {
        let mut from = 0;
        while let Some(open) = text[from..].find("{{").map(|at| from + at) {
            let Some(close) = text[open..].find("}}").map(|at| open + at) else {
                break;
            };
            let inner = text[open..close]
                .trim_start_matches('{')
                .trim_matches(['~', '{', '}']);
            from = close + 2;
            if inner.starts_with(['!', '>', '/']) {
                if inner.starts_with("!--") {
                    from = text[open..].find("--}}").map_or(from, |at| open + at + 4);
                }
                continue;
            }
            for word in inner
                .trim_start_matches(['#', '^', '&'])
                .split([' ', '\n', '(', ')', '=', '|'])
            {
                let word = word.trim();
                let literal = word.is_empty()
                    || word.starts_with(['"', '\'', '@'])
                    || word.bytes().all(|b| b.is_ascii_digit());
                if literal || WORDS.contains(&word) || word == "as" {
                    continue;
                }
                for part in word
                    .split(['.', '/'])
                    .filter(|part| !part.is_empty() && *part != "this")
                {
                    if names.contains(part) || WORDS.contains(&part) {
                        continue;
                    }
                    let line = text[..open].matches('\n').count() + 1;
                    let column = open - text[..open].rfind('\n').map_or(0, |at| at + 1) + 1;
                    let help =
                        crate::problem::suggest::closest(part, names.iter().map(String::as_str))
                            .map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
                    return Err(TemplateError {
                        template: template.clone(),
                        line,
                        column,
                        message: format!("the report has no field `{part}`{help}"),
                    });
                }
            }
        }
    }
    Ok(())
}

/// Refuses templates that include each other without end.
///
/// # Errors
/// The chain of templates that leads back to itself.
pub(super) fn no_cycle(templates: &BTreeMap<String, String>) -> Result<(), TemplateError> {
    let mut includes: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for (name, text) in templates {
        let partials = text.split("{{").skip(1).filter_map(|tag| {
            let inner = tag.trim_start_matches(['~', '#']).strip_prefix('>')?;
            let name = inner.split("}}").next()?.split_whitespace().next()?;
            Some(name.trim_matches(['"', '\'', '~']).to_owned())
        });
        includes.insert(stem(name), partials.collect());
    }
    for start in includes.keys() {
        let mut path = vec![(*start).to_owned()];
        if let Some(chain) = walk(start, &includes, &mut path) {
            return Err(TemplateError {
                template: (*start).to_owned(),
                line: 1,
                column: 1,
                message: format!(
                    "templates include each other without end: {}",
                    chain.join(" → ")
                ),
            });
        }
    }
    Ok(())
}

/// A template's name in `{{> name}}`.
pub(super) fn stem(file: &str) -> &str {
    file.strip_suffix(".md.hbs")
        .or_else(|| file.strip_suffix(".hbs"))
        .unwrap_or(file)
}

fn walk(
    at: &str,
    includes: &BTreeMap<&str, Vec<String>>,
    path: &mut Vec<String>,
) -> Option<Vec<String>> {
    for next in includes.get(at).into_iter().flatten() {
        let seen = path.contains(next);
        path.push(next.clone());
        if seen {
            return Some(path.clone());
        }
        if let Some(found) = walk(next, includes, path) {
            return Some(found);
        }
        path.pop();
    }
    None
}
