//! The results of a class, or of one section of it, composed from a pool.

use crate::chem::AtomicWeights;
use crate::class::Pool;
use crate::class::Summary;
use crate::class::outliers;
use crate::class::pool::Column;
use crate::class::pool::FEWEST;
use crate::class::signals;
use crate::lab::share::OutlierRule;
use crate::report::class::ClassPage;
use crate::report::class::Link;
use crate::report::class::Plot;
use crate::report::class::plots;
use crate::report::class::plots::float;
use crate::report::class::plots::number;
use crate::report::class::plots::per;
use crate::report::class::remarks;
use crate::report::compose::sentence_case;
use crate::report::model::Table;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::working::Kind;

/// What a page of results is about, and where it leads.
#[derive(Debug, Clone, Default)]
pub struct Scope {
    /// `Section 3`; empty for all sections together.
    pub title: String,
    /// Whether a column names each group's section.
    pub names_sections: bool,
    /// To the other pages.
    pub pages: Vec<Link>,
    /// To the groups' reports.
    pub reports: Vec<Link>,
    /// Data files that could not be used.
    pub unread: usize,
}

/// The results of a pool.
#[must_use]
pub fn compose(pool: &Pool<'_>, scope: &Scope) -> ClassPage {
    let columns: Vec<Column> = (0..pool.kept.quantities.len())
        .map(|quantity| pool.column(quantity))
        .collect();
    let plots = all_plots(pool, &columns);
    let statistics = statistics(pool, &columns);
    let table = pool.shows_groups().then(|| by_group(pool, &columns, scope));
    ClassPage {
        title: pool.lab.title.clone(),
        scope: scope.title.clone(),
        equation: pool.lab.equation.pretty(),
        alternatives: pool
            .lab
            .alternatives
            .iter()
            .map(crate::chem::Equation::pretty)
            .collect(),
        procedure: pool.lab.text.procedure.clone(),
        count: count(pool, scope.unread),
        notes: notes(pool),
        pages: scope.pages.clone(),
        reports: if pool.shows_groups() {
            scope.reports.clone()
        } else {
            Vec::new()
        },
        plots,
        statistics,
        table,
        remarks: signals::of(pool)
            .iter()
            .map(|signal| remarks::remark(pool, signal))
            .collect(),
        questions: questions(pool),
        provenance: provenance(),
    }
}

fn count(pool: &Pool<'_>, unread: usize) -> String {
    let all = pool.entries.len();
    let complete = pool.complete();
    let groups = if all == 1 {
        "1 group".to_owned()
    } else {
        format!("{all} groups")
    };
    let have = if complete == all {
        "every reading of each is in".to_owned()
    } else {
        format!("{complete} of them have every reading")
    };
    let unread = match unread {
        0 => String::new(),
        1 => " 1 more data file could not be used.".to_owned(),
        some => format!(" {some} more data files could not be used."),
    };
    format!("{groups}; {have}.{unread}")
}

fn notes(pool: &Pool<'_>) -> Vec<String> {
    let mut notes = Vec::new();
    if !pool.shows_groups() {
        notes.push(format!(
            "Fewer than {FEWEST} groups: single groups could be told from their numbers, so only the plots and the statistics of all together are shown."
        ));
    }
    for (code, reason) in &pool.lab.share.left_out {
        if pool.shows_groups() && pool.entries.iter().any(|entry| entry.code == *code) {
            notes.push(format!(
                "Group {code} is left out of the statistics by the teacher: {}",
                full_stop(reason)
            ));
        }
    }
    notes
}

fn full_stop(text: &str) -> String {
    if text.ends_with(['.', '!', '?']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

/// A plot for every quantity with a line of its own, moles against moles, weighings.
fn all_plots(pool: &Pool<'_>, columns: &[Column]) -> Vec<Plot> {
    let mut plots = Vec::new();
    for (place, (quantity, column)) in pool.kept.quantities.iter().zip(columns).enumerate() {
        let plotted = !quantity.lines.is_empty() || matches!(quantity.kind, Kind::Find(_));
        if !plotted {
            continue;
        }
        if let Some((chart, values)) = plots::strip(quantity, column, place) {
            plots.push(Plot {
                heading: sentence_case(&quantity.title),
                chart,
                values,
                far: far(pool, column),
            });
        }
    }
    for pair in 0..pool.kept.pairs.len() {
        if let Some(chart) = plots::scatter(pool, pair) {
            plots.push(Plot {
                heading: chart.title.clone(),
                chart,
                values: String::new(),
                far: Vec::new(),
            });
        }
    }
    if let Some((chart, values)) = plots::weighings(pool) {
        plots.push(Plot {
            heading: chart.title.clone(),
            chart,
            values,
            far: Vec::new(),
        });
    }
    plots
}

/// Which values of a column are far from the others, and by what rule.
fn far(pool: &Pool<'_>, column: &Column) -> Vec<String> {
    let share = &pool.lab.share;
    let kept = column.values.len() - column.left_out.len();
    let Some(rule) = outliers::in_words(share.outliers, share.level, kept) else {
        return if share.outliers == OutlierRule::Dixon && kept > 2 {
            vec![
                "Dixon's ratio has critical values for 3 to 30 groups only: nothing is marked."
                    .to_owned(),
            ]
        } else {
            Vec::new()
        };
    };
    if column.far.is_empty() {
        return Vec::new();
    }
    let value = |place: usize| {
        let (_, value) = column.values.iter().find(|(entry, _)| *entry == place)?;
        let text = number(value.value, value.places);
        Some(if pool.shows_groups() {
            format!("{text} (group {})", pool.entries[place].code)
        } else {
            text
        })
    };
    let values: Vec<String> = column
        .far
        .iter()
        .filter_map(|place| value(*place))
        .collect();
    vec![format!(
        "Far from the others, {rule}: {}. Marked, not removed: the statistics stand with and without.",
        values.join(", ")
    )]
}

/// Statistics, a row a quantity; further rows without values far from the others, and with those left out.
fn statistics(pool: &Pool<'_>, columns: &[Column]) -> Option<Table> {
    let mut rows = Vec::new();
    for (quantity, column) in pool.kept.quantities.iter().zip(columns) {
        let title = format!("{}{}", quantity.title, per(quantity.unit));
        let mut row = |title: String, summary: &Option<Summary>| {
            let Some(summary) = summary else { return };
            let places = column.places + 1;
            let optional =
                |value: Option<f64>| value.map_or_else(String::new, |value| float(value, places));
            rows.push(vec![
                title,
                summary.count.to_string(),
                float(summary.median, places),
                float(summary.mean, places),
                optional(summary.deviation),
                float(summary.least, column.places),
                float(summary.most, column.places),
                optional(summary.interval),
            ]);
        };
        row(title.clone(), &column.all);
        row(
            format!("{title}, without values far from the others"),
            &column.without_far,
        );
        row(
            format!("{title}, with groups left out"),
            &column.with_left_out,
        );
    }
    (!rows.is_empty()).then(|| Table {
        caption: "Statistics: SD is the sample standard deviation, ± the half-width of the 95\u{a0}% interval of the mean (Student's t).".to_owned(),
        columns: vec![
            words("quantity"),
            figures("n"),
            figures("median"),
            figures("mean"),
            figures("SD"),
            figures("lowest"),
            figures("highest"),
            figures("±"),
        ],
        rows,
    })
}

/// What is said of an entry in the table.
fn flags(pool: &Pool<'_>, columns: &[Column], place: usize) -> String {
    let mut flags = Vec::new();
    match pool.entries[place].missing {
        0 => {}
        1 => flags.push("1 reading missing".to_owned()),
        some => flags.push(format!("{some} readings missing")),
    }
    if columns.iter().any(|column| column.far.contains(&place)) {
        flags.push("far from the others".to_owned());
    }
    if columns
        .iter()
        .any(|column| column.left_out.contains(&place))
    {
        flags.push("left out of the statistics".to_owned());
    }
    flags.join("; ")
}

/// Values by group, in an order that tells nothing.
fn by_group(pool: &Pool<'_>, columns: &[Column], scope: &Scope) -> Table {
    let mut heads = vec![words("group")];
    if scope.names_sections {
        heads.push(words("section"));
    }
    for quantity in &pool.kept.quantities {
        heads.push(figures(&format!(
            "{}{}",
            quantity.title,
            per(quantity.unit)
        )));
    }
    let remarks: Vec<String> = (0..pool.entries.len())
        .map(|place| flags(pool, columns, place))
        .collect();
    // Beside the code, where a narrow screen shows it; and only where there is something to say.
    let remarked = remarks.iter().any(|remark| !remark.is_empty());
    if remarked {
        heads.insert(1, words("remark"));
    }
    let rows = pool.entries.iter().enumerate().map(|(place, entry)| {
        let mut row = vec![entry.code.clone()];
        if scope.names_sections {
            row.push(entry.section.clone());
        }
        for value in &entry.values {
            row.push(value.map_or_else(String::new, |value| number(value.value, value.places)));
        }
        if remarked {
            row.insert(1, remarks[place].clone());
        }
        row
    });
    let several = pool.entries.iter().any(|entry| entry.trials > 1);
    let mean = if several {
        ", of several trials the mean"
    } else {
        ""
    };
    Table {
        caption: format!("What each group found{mean}; the order of the groups tells nothing."),
        columns: heads,
        rows: rows.collect(),
    }
}

fn questions(pool: &Pool<'_>) -> Vec<String> {
    let mut questions = vec![
        "Is the spread random, or does it lie to one side? What would move everyone the same way?"
            .to_owned(),
        "Which plot says most about the question of this lab, and which groups decide it?"
            .to_owned(),
    ];
    if !pool.kept.pairs.is_empty() {
        questions.push(
            "A point far from its line: is it the product or the leftover that took it there? How would you find out?"
                .to_owned(),
        );
    }
    questions.push("Mean or median: which would you report for this class, and why?".to_owned());
    questions
}

fn provenance() -> Vec<String> {
    vec![
        "Everything here is worked from the groups' readings; answers, marks and names have no part in it.".to_owned(),
        format!("Atomic weights: {}.", AtomicWeights::EDITION),
        "Sums and squares are exact; mean, standard deviation and interval are rounded once, when they are shown.".to_owned(),
        format!("Made by gramleaf {}.", env!("CARGO_PKG_VERSION")),
    ]
}

/// The groups' values for a spreadsheet, two decimals more than the readings defend; only the head where single groups
/// are not shown.
#[must_use]
pub fn csv(pool: &Pool<'_>) -> Vec<Vec<String>> {
    const GUARD: i32 = 2;
    let step = |quantity: &crate::class::Quantity| {
        let id = &pool.graph.step(quantity.found).id;
        if quantity.minus.is_some() {
            format!("{id}_minus_predicted")
        } else {
            id.clone()
        }
    };
    let mut head = vec!["group".to_owned(), "section".to_owned()];
    head.extend(pool.kept.quantities.iter().map(step));
    head.push("remark".to_owned());
    let columns: Vec<Column> = (0..pool.kept.quantities.len())
        .map(|quantity| pool.column(quantity))
        .collect();
    let mut rows = vec![head];
    if !pool.shows_groups() {
        return rows;
    }
    for (place, entry) in pool.entries.iter().enumerate() {
        let mut row = vec![entry.code.clone(), entry.section.clone()];
        for value in &entry.values {
            let text = value.map_or_else(String::new, |value| {
                number(value.value, value.places + GUARD).replace('−', "-")
            });
            row.push(text);
        }
        row.push(flags(pool, &columns, place));
        rows.push(row);
    }
    rows
}
