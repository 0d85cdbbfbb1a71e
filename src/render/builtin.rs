//! The templates built in, and which of them make a whole document.

use std::collections::BTreeMap;

/// Every file a user may replace: its name, and the text built in.
pub(super) const BUILT_IN: &[(&str, &str)] = &[
    (
        "report.md.hbs",
        include_str!("../../report-templates/report.md.hbs"),
    ),
    (
        "formal.md.hbs",
        include_str!("../../report-templates/formal.md.hbs"),
    ),
    (
        "worksheet.md.hbs",
        include_str!("../../report-templates/worksheet.md.hbs"),
    ),
    (
        "head.md.hbs",
        include_str!("../../report-templates/head.md.hbs"),
    ),
    (
        "safety.md.hbs",
        include_str!("../../report-templates/safety.md.hbs"),
    ),
    (
        "background.md.hbs",
        include_str!("../../report-templates/background.md.hbs"),
    ),
    (
        "data.md.hbs",
        include_str!("../../report-templates/data.md.hbs"),
    ),
    (
        "observations.md.hbs",
        include_str!("../../report-templates/observations.md.hbs"),
    ),
    (
        "working.md.hbs",
        include_str!("../../report-templates/working.md.hbs"),
    ),
    (
        "results.md.hbs",
        include_str!("../../report-templates/results.md.hbs"),
    ),
    (
        "trials.md.hbs",
        include_str!("../../report-templates/trials.md.hbs"),
    ),
    (
        "discussion.md.hbs",
        include_str!("../../report-templates/discussion.md.hbs"),
    ),
    (
        "budget.md.hbs",
        include_str!("../../report-templates/budget.md.hbs"),
    ),
    (
        "shared.md.hbs",
        include_str!("../../report-templates/shared.md.hbs"),
    ),
    (
        "class.md.hbs",
        include_str!("../../report-templates/class.md.hbs"),
    ),
    (
        "class-overview.md.hbs",
        include_str!("../../report-templates/class-overview.md.hbs"),
    ),
    (
        "teacher.md.hbs",
        include_str!("../../report-templates/teacher.md.hbs"),
    ),
    (
        "plan.md.hbs",
        include_str!("../../report-templates/plan.md.hbs"),
    ),
    (
        "bench-sheet.md.hbs",
        include_str!("../../report-templates/bench-sheet.md.hbs"),
    ),
    (
        "pre-lab.md.hbs",
        include_str!("../../report-templates/pre-lab.md.hbs"),
    ),
    (
        "provenance.md.hbs",
        include_str!("../../report-templates/provenance.md.hbs"),
    ),
    (
        "marked.md.hbs",
        include_str!("../../report-templates/marked.md.hbs"),
    ),
    (
        "page.html.hbs",
        include_str!("../../report-templates/page.html.hbs"),
    ),
    ("page.css", include_str!("../../report-templates/page.css")),
];

/// Templates that make a whole document.
pub(super) const DOCUMENTS: [&str; 11] = [
    "plan",
    "bench-sheet",
    "pre-lab",
    "report",
    "formal",
    "worksheet",
    "marked",
    "shared",
    "class",
    "class-overview",
    "teacher",
];

/// Those among them that print one group's report.
pub(super) const OF_A_GROUP: [&str; 5] = ["report", "formal", "worksheet", "marked", "shared"];

/// Built-in files, and the templates that they include: names and texts.
pub(super) fn with_included(mut wanted: Vec<String>) -> BTreeMap<&'static str, &'static str> {
    let mut texts = BTreeMap::new();
    while let Some(file) = wanted.pop() {
        let known = BUILT_IN.iter().find(|(name, _)| *name == file);
        let Some((name, text)) = known.filter(|(name, _)| !texts.contains_key(name)) else {
            continue;
        };
        for included in text.split("{{>").skip(1) {
            let included = included.split("}}").next().unwrap_or_default();
            wanted.push(format!("{}.md.hbs", included.trim()));
        }
        texts.insert(*name, *text);
    }
    texts
}

/// Whether the built-in template of a document, or one that it includes, mentions a name.
#[must_use]
pub fn mentions(document: &str, name: &str) -> bool {
    let texts = with_included(vec![format!("{document}.md.hbs")]);
    texts.values().any(|text| text.contains(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_document_mentions_what_its_parts_print() {
        for (document, name, mentioned) in [
            ("report", "budget", false),
            ("formal", "budget", true),
            ("report", "atomic_weights", true),
            ("marked", "marked", true),
            ("report", "marked", false),
            ("worksheet", "step_table", true),
        ] {
            assert_eq!(mentions(document, name), mentioned, "{document} {name}");
        }
    }
}
