//! Class pages, preparations and sheets with every field filled in: what their templates may name is read from them.

use super::specimen::chart;
use super::specimen::safety;
use super::specimen::table;
use crate::report::bench_sheet::BenchDay;
use crate::report::bench_sheet::BenchSheet;
use crate::report::bench_sheet::Whose;
use crate::report::class::ClassPage;
use crate::report::class::Link;
use crate::report::class::Plot;
use crate::report::class::TeacherPage;
use crate::report::pre_lab::PreLab;
use crate::report::preparation::PlanPage;
use crate::words::Words;

/// A class page and a teacher's page in which no list is empty and nothing is left out.
pub(super) fn specimen(text: &str) -> (ClassPage, TeacherPage) {
    let words = || text.to_owned();
    let link = || Link {
        text: words(),
        to: words(),
    };
    let class = ClassPage {
        words: Words::english(),
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
        words: Words::english(),
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
        words: Words::english(),
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

fn whose(text: &str) -> Whose {
    let words = || text.to_owned();
    Whose {
        group: words(),
        section: words(),
        names: words(),
    }
}

/// A bench sheet in which nothing is left out.
pub(super) fn bench_sheet(text: &str) -> BenchSheet {
    let words = || text.to_owned();
    BenchSheet {
        words: Words::english(),
        title: words(),
        whose: whose(text),
        safety: safety(text),
        days: vec![BenchDay {
            weighs: true,
            number: 1,
            title: words(),
            readings: vec![table(text)],
            notice: vec![words()],
            lines: 4,
        }],
        signs: Some(table(text)),
        extra: table(text),
    }
}

/// A page before the lab in which nothing is left out.
pub(super) fn pre_lab(text: &str) -> PreLab {
    let words = || text.to_owned();
    PreLab {
        words: Words::english(),
        title: words(),
        whose: whose(text),
        key: true,
        safety: safety(text),
        safety_questions: vec![words()],
        background: Some(words()),
        equation: words(),
        alternatives: vec![words()],
        planned: Some(table(text)),
        amounts: Some(table(text)),
        amounts_notes: vec![words()],
        predictions: Some(table(text)),
        questions: vec![words()],
    }
}
