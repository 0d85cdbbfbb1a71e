//! Class pages and preparations with every field filled in: what their templates may name is read from them.

use super::specimen::chart;
use super::specimen::safety;
use super::specimen::table;
use crate::report::class::ClassPage;
use crate::report::class::Link;
use crate::report::class::Plot;
use crate::report::class::TeacherPage;
use crate::report::preparation::PlanPage;

/// A class page and a teacher's page in which no list is empty and nothing is left out.
pub(super) fn specimen(text: &str) -> (ClassPage, TeacherPage) {
    let words = || text.to_owned();
    let link = || Link {
        text: words(),
        to: words(),
    };
    let class = ClassPage {
        title: words(),
        scope: words(),
        equation: words(),
        alternatives: vec![words()],
        procedure: Some(words()),
        count: words(),
        notes: vec![words()],
        pages: vec![link()],
        reports: vec![link()],
        plots: vec![Plot {
            heading: words(),
            chart: chart(text),
            values: words(),
            far: vec![words()],
        }],
        statistics: Some(table(text)),
        table: Some(table(text)),
        remarks: vec![words()],
        questions: vec![words()],
        provenance: vec![words()],
    };
    let teacher = TeacherPage {
        title: words(),
        count: words(),
        table: table(text),
        slips: Some(table(text)),
        remarks: vec![words()],
    };
    (class, teacher)
}

/// A preparation in which nothing is left out.
pub(super) fn plan(text: &str) -> PlanPage {
    let words = || text.to_owned();
    PlanPage {
        title: words(),
        equation: words(),
        lead: words(),
        reagents: Some(table(text)),
        solutions: vec![words()],
        equipment: Some(table(text)),
        expected: Some(table(text)),
        checks: vec![words()],
        safety: safety(text),
        notes: vec![words()],
    }
}
