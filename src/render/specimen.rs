//! A report with every field filled in: what templates may name is read from it.

use std::collections::BTreeMap;

use crate::report::Report;
use crate::report::drawing::Drawing;
use crate::report::model::AnswerNote;
use crate::report::model::Budget;
use crate::report::model::Chart;
use crate::report::model::Column;
use crate::report::model::Discussion;
use crate::report::model::Drying;
use crate::report::model::Figure;
use crate::report::model::Hazard;
use crate::report::model::HazardStatement;
use crate::report::model::Marked;
use crate::report::model::Observation;
use crate::report::model::OtherWords;
use crate::report::model::OwnCause;
use crate::report::model::OwnTest;
use crate::report::model::Pending;
use crate::report::model::Possible;
use crate::report::model::Question;
use crate::report::model::Remark;
use crate::report::model::Safety;
use crate::report::model::Standing;
use crate::report::model::Table;
use crate::report::model::Working;
use crate::words::Words;

/// A report in which no list is empty and nothing is left out; every text in it is this one.
pub(super) fn report(text: &str) -> Report {
    let table = || table(text);
    let chart = || chart(text);
    let safety = safety(text);
    let text = || text.to_owned();
    Report {
        words: Words::english(),
        title: text(),
        group: text(),
        section: text(),
        names: vec![text()],
        dates: text(),
        standing: Standing {
            sentence: text(),
            complete: true,
            missing: vec![text()],
            remarks: vec![Remark {
                word: text(),
                sentence: text(),
                help: text(),
            }],
        },
        headline: vec![Figure {
            name: text(),
            value: text(),
            uncertainty: text(),
        }],
        safety,
        purpose: Some(text()),
        background: Some(text()),
        equation: text(),
        alternatives: vec![text()],
        prediction: vec![text()],
        procedure_given: Some(text()),
        procedure: Some(text()),
        data: table(),
        trial_readings: Some(table()),
        drying: vec![Drying {
            table: table(),
            sentences: vec![text()],
            chart: Some(chart()),
        }],
        extra: Some(table()),
        observations: vec![Observation {
            day: text(),
            date: text(),
            seen: Some(text()),
            notice: vec![text()],
        }],
        signs: Some(table()),
        observed: true,
        workings: vec![Working {
            id: text(),
            title: text(),
            text: text(),
            source: text(),
        }],
        pending: vec![Pending {
            id: text(),
            title: text(),
            why: text(),
        }],
        amounts: Some(table()),
        amounts_notes: vec![text()],
        results: table(),
        trial_results: Some(table()),
        answers: Some(table()),
        answer_notes: vec![AnswerNote {
            title: text(),
            verdict: text(),
            stop: ".",
            sentence: text(),
            slips: vec![text()],
        }],
        marked: Some(Marked {
            table: table(),
            points: text(),
        }),
        charts: vec![chart()],
        discussion: Discussion {
            instrument: vec![text()],
            split: vec![text()],
            plane: Some(chart()),
            equations: Some(table()),
            decision: text(),
            lead: text(),
            possible: vec![Possible {
                number: 1,
                what: text(),
                size: text(),
                test: text(),
                next_time: text(),
            }],
            also: text(),
            ruled_out: vec![text()],
            own: vec![OwnCause {
                number: 1,
                what: text(),
                evidence: text(),
                effect: text(),
                next_time: text(),
                tests: vec![OwnTest {
                    name: text(),
                    sentence: text(),
                }],
            }],
            asks: vec![text()],
            written: Some(text()),
            says: true,
        },
        budget: Some(Budget {
            table: table(),
            chart: chart(),
            sentences: vec![text()],
        }),
        conclusion: Some(text()),
        other_words: vec![OtherWords {
            title: text(),
            text: text(),
        }],
        questions: vec![Question {
            question: text(),
            answer: Some(text()),
        }],
        references: vec![text()],
        provenance: vec![text()],
        atomic_weights: table(),
        step_table: Some(table()),
        chains: BTreeMap::new(),
    }
}

pub(super) fn safety(text: &str) -> Safety {
    let text = || text.to_owned();
    let statement = HazardStatement {
        code: text(),
        text: text(),
    };
    Safety {
        cautions: vec![text()],
        hazards: vec![Hazard {
            substance: text(),
            statements: vec![statement],
        }],
        priority: text(),
        waste: text(),
        source: text(),
        own: Some(text()),
    }
}

pub(super) fn table(text: &str) -> Table {
    let text = || text.to_owned();
    Table {
        caption: text(),
        columns: vec![Column {
            head: text(),
            numeric: false,
        }],
        rows: vec![vec![text()]],
    }
}

pub(super) fn chart(text: &str) -> Chart {
    let text = || text.to_owned();
    Chart {
        id: text(),
        title: text(),
        description: text(),
        caption: text(),
        text: text(),
        drawing: Drawing::None,
    }
}
