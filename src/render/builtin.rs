//! The templates built in, and which of them make a whole document.

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
