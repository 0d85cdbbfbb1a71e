//! Several trials of one group beside each other: readings, results, their mean and spread.

use crate::class::statistics::Summary;
use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::figures::Figures;
use crate::measure::rounding;
use crate::record::Content;
use crate::record::Recorded;
use crate::report::compose::Case;
use crate::report::compose::after_answer;
use crate::report::model::Column;
use crate::report::model::Figure;
use crate::report::model::Table;
use crate::report::results;
use crate::report::tables;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::say;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Worked;
use crate::working::show;

/// Decimals that values keep for their mean: far more than any reading defends.
const KEPT: i32 = 12;

/// What the trials of a group give for one step.
#[derive(Debug, Clone)]
pub struct Spread {
    /// The step.
    pub step: StepId,
    /// How many trials have a value.
    pub count: usize,
    /// Arithmetic mean, in the unit the step is shown in.
    pub mean: f64,
    /// Sample standard deviation (n − 1), in that unit.
    pub deviation: f64,
    /// The mean as shown, to the place of the standard deviation's last figure, with a point in every language.
    pub mean_shown: String,
    /// The standard deviation as shown, likewise.
    pub deviation_shown: String,
}

/// Mean and spread of everything measured that at least two trials have and that may be shown.
#[must_use]
pub fn spreads(case: &Case<'_>) -> Vec<Spread> {
    let lines = results::lines(case).into_iter();
    let open = lines.filter(|line| case.open.step(line.found));
    open.filter_map(|line| spread(case, line.found)).collect()
}

/// Behind what is true of the first trial only: ` of trial 1`; nothing for a group with one trial.
pub(in crate::report) fn of_the_first<'c>(case: &Case<'c>) -> &'c str {
    let lab: &'c Lab = case.lab;
    if case.record.trials.is_empty() {
        ""
    } else {
        lab.words.say(" of trial 1")
    }
}

/// What the trials have in common at the head of page one: the mean of each result with its spread.
pub(in crate::report) fn figure(case: &Case<'_>, step: StepId) -> Option<Figure> {
    if case.record.trials.is_empty() {
        return None;
    }
    let spread = spread(case, step)?;
    let words = &case.lab.words;
    Some(Figure {
        name: say!(
            words,
            "{quantity}, mean of {count} trials",
            quantity = case.graph.step(step).title,
            count = spread.count
        ),
        value: words.number(&spread.mean_shown),
        uncertainty: say!(
            words,
            "(standard deviation {deviation})",
            deviation = words.number(&spread.deviation_shown)
        ),
    })
}

/// The readings of all trials; none for a group with one trial.
pub(in crate::report) fn readings(case: &Case<'_>) -> Option<Table> {
    let trials = &case.record.trials;
    if trials.is_empty() {
        return None;
    }
    let all = std::iter::once(&case.record.readings);
    let all: Vec<&Vec<Recorded>> = all
        .chain(trials.iter().map(|trial| &trial.readings))
        .collect();
    let rows = case.lab.readings().enumerate().map(|(index, (_, asked))| {
        let cells = all
            .iter()
            .map(|readings| as_written(case, &readings[index]));
        std::iter::once(asked.label.clone()).chain(cells).collect()
    });
    Some(Table {
        caption: say!(
            case.lab.words,
            "Readings of all trials; of a series the last. The table above and the worked calculations are those of trial 1."
        ),
        columns: heads(case, case.lab.words.say("reading")),
        rows: rows.collect(),
    })
}

/// The results of all trials, with mean and standard deviation; none for a group with one trial.
pub(in crate::report) fn results(case: &Case<'_>) -> Option<Table> {
    if case.record.trials.is_empty() {
        return None;
    }
    let mut columns = heads(case, case.lab.words.say("quantity"));
    let say = &case.lab.words;
    columns.extend([
        figures(say.say("mean")),
        figures(say.say("standard deviation")),
    ]);
    let rows = results::lines(case).into_iter().map(|line| {
        let step = case.graph.step(line.found);
        let open = case.open.step(line.found);
        let mut row = vec![line.name];
        row.extend(every(case).map(|worked| match worked.value(line.found) {
            None => "–".to_owned(),
            Some(_) if !open => after_answer(case).to_owned(),
            Some(value) => show::value(case.lab, step, value, &worked.inputs),
        }));
        let found = spread(case, line.found).filter(|_| open);
        row.extend(found.map_or_else(
            || [String::new(), String::new()],
            |spread| [spread.mean_shown, spread.deviation_shown].map(|shown| say.number(&shown)),
        ));
        row
    });
    let rows = rows.collect();
    Some(Table {
        caption: say!(
            case.lab.words,
            "Results of all trials, with mean and sample standard deviation (n − 1); none of amounts collected, left or used, because each trial takes its own."
        ),
        columns,
        rows,
    })
}

/// The first trial worked, and every further one.
fn every<'c>(case: &Case<'c>) -> impl Iterator<Item = &'c Worked<'c>> {
    let worked: &'c Worked<'c> = case.worked;
    std::iter::once(worked).chain(&worked.trials)
}

/// A first column of words, and one for each trial.
fn heads(case: &Case<'_>, first: &str) -> Vec<Column> {
    let further = case.record.trials.iter().map(|trial| trial.number);
    let trials = std::iter::once(1).chain(further);
    let trials =
        trials.map(|number| figures(&say!(case.lab.words, "trial {number}", number = number)));
    std::iter::once(words(first)).chain(trials).collect()
}

/// The last box of a reading as the report writes it.
fn as_written(case: &Case<'_>, recorded: &Recorded) -> String {
    let words = &case.lab.words;
    let value = |reading| tables::written(words, reading);
    match recorded.counting().map(|entry| &entry.content) {
        None => say!(words, "not yet"),
        Some(Content::Value(reading)) if recorded.impossible.is_some() => {
            say!(words, "{value} (impossible)", value = value(reading))
        }
        Some(Content::Value(reading)) => value(reading),
        Some(Content::Missing(word)) => word.clone(),
        Some(Content::Unreadable) => say!(words, "not readable"),
    }
}

/// Mean and spread of a step; `None` with fewer than two values, and for amounts: each trial takes another.
fn spread(case: &Case<'_>, id: StepId) -> Option<Spread> {
    let step = case.graph.step(id);
    if matches!(
        step.kind,
        Kind::Collected(_) | Kind::MeasuredLeft(_) | Kind::Used(_)
    ) {
        return None;
    }
    let unit = Decimal::new(1, -step.unit.power_to_base()).to_exact();
    let mut values = Vec::new();
    let mut places = Vec::new();
    for value in every(case).filter_map(|worked| worked.value(id)) {
        let shown = &value.exact / &unit;
        values.push(rounding::to_places(&shown, KEPT, case.lab.policy.rounding));
        let digits = value.figures.shifted(step.unit.power_to_base());
        if digits != Figures::Exact {
            places.push(digits.write(&shown, 0, case.lab.policy.rounding).places());
        }
    }
    let summary = Summary::of(&values)?;
    let deviation = summary.deviation?;
    let shown = show::doubt_number(deviation);
    let fewest = places.into_iter().min().unwrap_or(0);
    let places = shown.map_or(fewest, Decimal::places);
    let mean = Exact::from_float(summary.mean)?;
    let mean = rounding::to_places(&mean, places, case.lab.policy.rounding);
    let with_unit =
        |number| show::with_unit(&show::text(show::plain(number, step.unit)), step.unit);
    Some(Spread {
        step: id,
        count: summary.count,
        mean: summary.mean,
        deviation,
        mean_shown: with_unit(mean),
        deviation_shown: with_unit(shown.unwrap_or(Decimal::new(0, 0))),
    })
}
