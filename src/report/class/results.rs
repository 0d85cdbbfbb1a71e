//! The results of a class, or of one section of it, composed from a pool.

use crate::chem::AtomicWeights;
use crate::class::Pool;
use crate::class::outliers;
use crate::class::pool::Column;
use crate::class::pool::FEWEST;
use crate::class::signals;
use crate::lab::share::OutlierRule;
use crate::report::class::ClassPage;
use crate::report::class::Link;
use crate::report::class::Plot;
use crate::report::class::plots;
use crate::report::class::plots::number;
use crate::report::class::plots::rounded;
use crate::report::class::remarks;
use crate::report::class::scatter::scatter;
use crate::report::class::tables::by_group;
use crate::report::class::tables::flags;
use crate::report::class::tables::statistics;
use crate::report::compose::sentence_case;
use crate::say;
use crate::words::Words;
use crate::working::Kind;
use crate::working::show;

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
        words: pool.lab.words.clone(),
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
        notes: notes(pool, &columns),
        pages: scope.pages.clone(),
        reports: scope.reports.clone(),
        plots,
        statistics,
        table,
        remarks: signals::of(pool)
            .iter()
            .map(|signal| remarks::remark(pool, signal))
            .collect(),
        questions: questions(pool),
        provenance: provenance(&pool.lab.words),
    }
}

fn count(pool: &Pool<'_>, unread: usize) -> String {
    let words = &pool.lab.words;
    let (all, complete) = (pool.entries.len(), pool.complete());
    let groups = match (all, complete == all) {
        (1, true) => say!(words, "1 group; every reading that a result needs is in."),
        (1, false) => say!(
            words,
            "1 group; {complete} of them have every reading that a result needs.",
            complete = complete
        ),
        (_, true) => say!(
            words,
            "{all} groups; every reading that a result needs is in.",
            all = all
        ),
        (_, false) => say!(
            words,
            "{all} groups; {complete} of them have every reading that a result needs.",
            all = all,
            complete = complete
        ),
    };
    let unread = match unread {
        0 => String::new(),
        1 => say!(words, " 1 more data file could not be used."),
        some => say!(
            words,
            " {count} more data files could not be used.",
            count = some
        ),
    };
    groups + &unread
}

fn notes(pool: &Pool<'_>, columns: &[Column]) -> Vec<String> {
    let words = &pool.lab.words;
    let mut notes = Vec::new();
    let hidden = pool.kept.quantities.iter().zip(columns);
    let hidden = hidden.filter(|(_, column)| !column.single && !column.values.is_empty());
    let hidden: Vec<&str> = hidden
        .map(|(quantity, _)| quantity.title.as_str())
        .collect();
    if pool.shows_groups() {
        if !hidden.is_empty() {
            notes.push(say!(
                words,
                "Fewer than {fewest} values of: {quantities}. No single one of them is shown, nor the report of a group that has one.",
                fewest = FEWEST,
                quantities = hidden.join(words.say(", "))
            ));
        }
    } else if pool.entries.len() >= FEWEST {
        notes.push(say!(
            words,
            "Fewer than {fewest} groups have a result: whoever knows one of the values could find the others from mean and spread, so only plots are shown, each dot about where its value lies.",
            fewest = FEWEST
        ));
    } else {
        notes.push(say!(
            words,
            "Fewer than {fewest} groups: whoever knows one of the values could find the others from mean and spread, so only plots are shown, each dot about where its value lies.",
            fewest = FEWEST
        ));
    }
    for (code, reason) in &pool.lab.share.left_out {
        if pool.shows_groups() && pool.entries.iter().any(|entry| entry.code == *code) {
            notes.push(say!(
                words,
                "Group {group} is left out of the statistics by the teacher: {reason}",
                group = code,
                reason = full_stop(reason)
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
        if let Some((chart, values)) = plots::strip((quantity, pool), column, place) {
            plots.push(Plot {
                heading: sentence_case(&quantity.title),
                chart,
                values,
                far: far(pool, column),
            });
        }
    }
    for pair in 0..pool.kept.pairs.len() {
        if let Some(chart) = scatter(pool, pair) {
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
    let (share, words) = (&pool.lab.share, &pool.lab.words);
    let kept = column.values.len() - column.left_out.len();
    if kept < FEWEST {
        return Vec::new();
    }
    let Some(rule) = outliers::in_words(share.outliers, share.level, kept, words) else {
        return if share.outliers == OutlierRule::Dixon {
            vec![say!(
                words,
                "Dixon's ratio has critical values for 3 to 30 groups only: nothing is marked."
            )]
        } else {
            Vec::new()
        };
    };
    if column.far.is_empty() {
        return Vec::new();
    }
    let value = |place: usize| {
        let (_, value) = column.values.iter().find(|(entry, _)| *entry == place)?;
        let text = words.number(&number(value.value, column.fine));
        Some(if column.single {
            say!(
                words,
                "{value} (group {group})",
                value = text,
                group = pool.entries[place].code
            )
        } else {
            text
        })
    };
    let values: Vec<String> = column
        .far
        .iter()
        .filter_map(|place| value(*place))
        .collect();
    vec![say!(
        words,
        "Far from the others, {rule}: {values}. Marked, not removed: the statistics stand with and without.",
        rule = rule,
        values = values.join(words.say(", "))
    )]
}

fn questions(pool: &Pool<'_>) -> Vec<String> {
    let words = &pool.lab.words;
    let mut questions = vec![
        say!(
            words,
            "Is the spread random, or does it lie to one side? What would move everyone the same way?"
        ),
        say!(
            words,
            "Which plot says most about the question of this lab, and which groups decide it?"
        ),
    ];
    if !pool.kept.pairs.is_empty() {
        questions.push(say!(
            words,
            "A point far from its line: is it the product or the leftover that took it there? How would you find out?"
        ));
    }
    if (0..pool.kept.quantities.len()).any(|quantity| pool.shows_values(quantity)) {
        questions.push(say!(
            words,
            "Mean or median: which would you report for this class, and why?"
        ));
    }
    questions
}

fn provenance(words: &Words) -> Vec<String> {
    vec![
        say!(
            words,
            "Everything here is worked from the groups' readings; answers, marks and names have no part in it."
        ),
        say!(
            words,
            "Atomic weights: {edition} with the CIAAW changes of 2024 (zirconium, gadolinium, lutetium).",
            edition = AtomicWeights::EDITION
        ),
        say!(
            words,
            "Sums and squares are exact; mean, standard deviation and interval are rounded once, when they are shown."
        ),
        say!(
            words,
            "Made by gramleaf {version}.",
            version = env!("CARGO_PKG_VERSION")
        ),
    ]
}

/// The groups' values for a spreadsheet, two decimals more than the readings defend; only the head where single groups
/// are not shown, and empty cells where single values are not.
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
        for (value, column) in entry.values.iter().zip(&columns) {
            let value = value.filter(|_| column.single);
            let text = value.map_or_else(String::new, |value| {
                show::decimal(rounded(value.value, value.places + GUARD))
            });
            row.push(text);
        }
        row.push(flags(pool, &columns, place));
        rows.push(row);
    }
    rows
}
