//! Tables of a class: statistics, and values by group.

use crate::class::Pool;
use crate::class::Summary;
use crate::class::entry::Number;
use crate::class::pool::Column;
use crate::report::class::plots::float;
use crate::report::class::plots::number;
use crate::report::class::plots::per;
use crate::report::class::results::Scope;
use crate::report::model::Table;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::say;

/// Statistics, a row a quantity; further rows without values far from the others, and with those that the teacher leaves out.
/// None of fewer than five values: who knows one of three or four finds the others from mean and spread.
pub(super) fn statistics(pool: &Pool<'_>, columns: &[Column]) -> Option<Table> {
    let wording = &pool.lab.words;
    let mut rows = Vec::new();
    for (quantity, column) in pool.kept.quantities.iter().zip(columns) {
        if !column.single {
            continue;
        }
        let title = format!("{}{}", quantity.title, per(quantity.unit));
        let mut row = |title: String, summary: &Option<Summary>| {
            let Some(summary) = summary else { return };
            let places = column.fine.max(column.places + 1);
            let shown = |value: f64, places: i32| wording.number(&float(value, places));
            let optional =
                |value: Option<f64>| value.map_or_else(String::new, |value| shown(value, places));
            rows.push(vec![
                title,
                summary.count.to_string(),
                shown(summary.median, places),
                shown(summary.mean, places),
                optional(summary.deviation),
                shown(summary.least, column.fine),
                shown(summary.most, column.fine),
                optional(summary.interval),
            ]);
        };
        row(title.clone(), &column.all);
        row(
            say!(
                wording,
                "{quantity}, without values far from the others",
                quantity = title
            ),
            &column.without_far,
        );
        row(
            say!(
                wording,
                "{quantity}, all groups, those left out counted too",
                quantity = title
            ),
            &column.with_left_out,
        );
    }
    let columns = vec![
        words(wording.say("quantity")),
        figures(wording.say("n")),
        figures(wording.say("median")),
        figures(wording.say("mean")),
        figures(wording.say("SD")),
        figures(wording.say("lowest")),
        figures(wording.say("highest")),
        figures("±"),
    ];
    (!rows.is_empty()).then(|| Table {
        caption: say!(
            wording,
            "Statistics: SD is the sample standard deviation, ± the half-width of the 95\u{a0}% interval of the mean (Student's t)."
        ),
        columns,
        rows,
    })
}

/// What is said of an entry in the table.
pub(super) fn flags(pool: &Pool<'_>, columns: &[Column], place: usize) -> String {
    let words = &pool.lab.words;
    let mut flags = Vec::new();
    match pool.entries[place].missing {
        0 => {}
        1 => flags.push(say!(words, "1 reading missing")),
        some => flags.push(say!(words, "{count} readings missing", count = some)),
    }
    if columns.iter().any(|column| column.far.contains(&place)) {
        flags.push(say!(words, "far from the others"));
    }
    if columns
        .iter()
        .any(|column| column.left_out.contains(&place))
    {
        flags.push(say!(words, "left out of the statistics"));
    }
    flags.join("; ")
}

/// Values by group, in an order that tells nothing; without quantities of which single values are not shown.
pub(super) fn by_group(pool: &Pool<'_>, columns: &[Column], scope: &Scope) -> Table {
    let wording = &pool.lab.words;
    let mut heads = vec![words(wording.say("group"))];
    if scope.names_sections {
        heads.push(words(wording.say("section")));
    }
    let shown = pool.kept.quantities.iter().zip(columns);
    for (quantity, _) in shown.filter(|(_, column)| column.single) {
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
        heads.insert(1, words(wording.say("remark")));
    }
    let mut finer = false;
    let mut rows = Vec::new();
    for (place, entry) in pool.entries.iter().enumerate() {
        let mut row = vec![entry.code.clone()];
        if scope.names_sections {
            row.push(entry.section.clone());
        }
        let values = entry.values.iter().zip(columns);
        for (value, column) in values.filter(|(_, column)| column.single) {
            let shown = |value: Number| wording.number(&number(value.value, column.fine));
            finer |= value.is_some_and(|value| value.places < column.fine);
            row.push(value.map_or_else(String::new, shown));
        }
        if remarked {
            row.insert(1, remarks[place].clone());
        }
        rows.push(row);
    }
    let several = pool.entries.iter().any(|entry| entry.trials > 1);
    let mut caption = if several {
        say!(
            wording,
            "What each group found, of several trials the mean; the order of the groups tells nothing."
        )
    } else {
        say!(
            wording,
            "What each group found; the order of the groups tells nothing."
        )
    };
    if finer {
        caption.push_str(wording.say(
            " All values of a column have as many decimals as show how they spread, which may be more than a group's readings defend.",
        ));
    }
    Table {
        caption,
        columns: heads,
        rows,
    }
}
