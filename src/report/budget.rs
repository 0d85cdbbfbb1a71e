//! Which readings the uncertainty of the main result comes from, and what a finer balance would change.

use crate::lab::UncertaintyRule;
use crate::measure::Unit;
use crate::report::charts;
use crate::report::compose::Case;
use crate::report::drawing::Bar;
use crate::report::drawing::Drawing;
use crate::report::model::Budget;
use crate::report::model::Chart;
use crate::report::model::Table;
use crate::report::results::main_steps;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::report::trials;
use crate::say;
use crate::words::Words;
use crate::working::StepId;
use crate::working::Variable;
use crate::working::show;

/// What a source of uncertainty is called.
pub(in crate::report) fn source_name(case: &Case<'_>, variable: Variable) -> String {
    match variable {
        Variable::Reading(index) => case
            .lab
            .readings()
            .nth(index)
            .map_or_else(String::new, |(_, asked)| asked.label.clone()),
        Variable::Given(index) => case
            .graph
            .givens
            .get(index)
            .map_or_else(String::new, |given| given.name.replace('_', " ")),
        Variable::Element(element) => say!(
            case.lab.words,
            "atomic weight of {element}",
            element = case.lab.words.say(element.name())
        ),
    }
}

/// A source of uncertainty, its contribution, and its share of the variance in percent.
type Part = (Variable, f64, f64);

/// A share of the variance, in percent, that is none.
const NOTHING: f64 = 1e-14;

/// Each source's share in the variance of the first main result, largest first; in percent.
pub(in crate::report) fn shares(case: &Case<'_>) -> Option<(StepId, Vec<Part>)> {
    if case.lab.policy.uncertainty != UncertaintyRule::Standard {
        return None;
    }
    let id = main_steps(case)
        .into_iter()
        .find(|id| case.open.step(*id) && case.worked.value(*id).is_some())?;
    let budget = case.worked.value(id)?.budget(&case.worked.inputs);
    let total: f64 = budget
        .iter()
        .map(|(_, share)| share.contribution.powi(2))
        .sum();
    if total <= 0.0 {
        return None;
    }
    let mut shares: Vec<Part> = budget
        .into_iter()
        .map(|(variable, share)| {
            (
                variable,
                share.contribution.abs(),
                100.0 * share.contribution.powi(2) / total,
            )
        })
        .collect();
    // What cancels exactly leaves only the last binary digits.
    shares.retain(|(_, _, percent)| *percent > NOTHING);
    shares.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)));
    Some((id, shares))
}

/// The uncertainty budget of the first main result: table, bars, and what a finer balance would change.
pub(in crate::report) fn budget(case: &Case<'_>) -> Option<Budget> {
    const SHOWN: usize = 8;
    let wording = &case.lab.words;
    let (id, shares) = shares(case)?;
    let step = case.graph.step(id);
    let power = 10.0_f64.powi(step.unit.power_to_base());
    let number = |value: f64| {
        show::doubt_number(value).map_or_else(
            || "0".to_owned(),
            |number| show::written(wording, show::plain(number, step.unit)),
        )
    };
    let whole = |percent: f64| {
        if percent < 0.5 {
            say!(wording, "below 1")
        } else {
            format!("{percent:.0}")
        }
    };
    let mut rows = Vec::new();
    let mut bars = Vec::new();
    for (variable, contribution, percent) in shares.iter().take(SHOWN) {
        let (name, value) = (source_name(case, *variable), number(contribution / power));
        rows.push(vec![name.clone(), value.clone(), whole(*percent)]);
        bars.push(Bar {
            label: name,
            length: contribution / power,
            value,
        });
    }
    if shares.len() > SHOWN {
        let rest: f64 = shares[SHOWN..].iter().map(|(_, _, percent)| percent).sum();
        rows.push(vec![
            further(wording, shares.len() - SHOWN),
            String::new(),
            whole(rest),
        ]);
    }
    let unit = if step.unit == Unit::One {
        String::new()
    } else {
        format!(" / {}", step.unit)
    };
    let table = Table {
        caption: say!(
            wording,
            "Where the uncertainty of the {quantity}{of_trial} comes from.",
            quantity = step.title,
            of_trial = trials::of_the_first(case)
        ),
        columns: vec![
            words(wording.say("source")),
            figures(&say!(wording, "contribution{unit}", unit = unit)),
            figures(wording.say("share of the variance / %")),
        ],
        rows,
    };
    let mut sentences = vec![dominant(case, id, &shares)?];
    sentences.extend(finer_balance(case, id, &shares));
    Some(Budget {
        table,
        chart: chart(wording, &step.title, &unit, bars),
        sentences,
    })
}

/// Which readings dominate: all that contribute as much as the first.
fn dominant(case: &Case<'_>, id: StepId, shares: &[Part]) -> Option<String> {
    let (_, most, _) = shares.first()?;
    let first: Vec<&Part> = shares
        .iter()
        .take_while(|(_, contribution, _)| *contribution > most * 0.999)
        .collect();
    let names: Vec<String> = first
        .iter()
        .map(|(variable, ..)| {
            let reading = source_name(case, *variable);
            say!(case.lab.words, "“{reading}”", reading = reading)
        })
        .collect();
    let percent: f64 = first.iter().map(|(_, _, percent)| percent).sum();
    let title = &case.graph.step(id).title;
    Some(say!(
        case.lab.words,
        "Of the uncertainty of the {quantity}, {percent} % of the variance comes from {sources}.",
        quantity = title,
        percent = format!("{percent:.0}"),
        sources = names.join(case.lab.words.say(" and "))
    ))
}

/// What the uncertainty would be if the instrument of the dominating reading showed one more decimal; nothing where it comes from
/// a tolerance or from what the reading states itself, which another digit would not change.
fn finer_balance(case: &Case<'_>, id: StepId, shares: &[Part]) -> Option<String> {
    let by_display = |reading: usize| {
        let read = case.record.readings.get(reading)?.usable()?;
        let (_, asked) = case.lab.readings().nth(reading)?;
        let instrument = asked.instrument?;
        let shown = case.lab.instruments.get(instrument)?.tolerance.is_none();
        (shown && read.spread.is_none()).then_some(instrument)
    };
    let instrument_of = |variable: &Variable| match variable {
        Variable::Reading(reading) => by_display(*reading),
        _ => None,
    };
    let finer = instrument_of(&shares.first()?.0)?;
    let variance = |scale: f64| -> f64 {
        let one = |(variable, contribution, _): &Part| {
            let scale = if instrument_of(variable) == Some(finer) {
                scale
            } else {
                1.0
            };
            (contribution * scale).powi(2)
        };
        shares.iter().map(one).sum()
    };
    let step = case.graph.step(id);
    let text = |variance: f64| {
        let number = show::doubt_number(variance.sqrt() / 10.0_f64.powi(step.unit.power_to_base()));
        number.map(|number| show::amount(&case.lab.words, number, step.unit))
    };
    Some(say!(
        case.lab.words,
        "If the {instrument} showed one more decimal, the standard uncertainty would be {less} instead of {now}.",
        instrument = case.lab.instruments.get(finer)?.named(&case.lab.words),
        less = text(variance(0.1))?,
        now = text(variance(1.0))?
    ))
}

/// The contributions as bars.
fn chart(wording: &Words, title: &str, unit: &str, rows: Vec<Bar>) -> Chart {
    let most = rows.iter().map(|row| row.length).fold(0.0, f64::max);
    let label = say!(wording, "contribution{unit}", unit = unit);
    let x = charts::axis((&label, wording), 0.0, most);
    let widest = rows
        .iter()
        .map(|row| row.label.chars().count())
        .max()
        .unwrap_or(0);
    let text: Vec<String> = rows
        .iter()
        .map(|row| {
            let pad = " ".repeat(widest - row.label.chars().count());
            let bar = "#".repeat(charts::columns(row.length, x.to));
            format!("{}{pad}  |{bar} {}", row.label, row.value)
        })
        .collect();
    let described: Vec<String> = rows
        .iter()
        .map(|row| format!("{} {}", row.label, row.value))
        .collect();
    Chart {
        id: "budget".to_owned(),
        title: say!(
            wording,
            "Uncertainty of the {quantity}, by source",
            quantity = title
        ),
        description: say!(
            wording,
            "Contributions{unit}: {list}.",
            unit = unit,
            list = described.join("; ")
        ),
        caption: say!(
            wording,
            "Contributions to the standard uncertainty of the {quantity}, one bar a source. Together they count as the root of the sum of their squares.",
            quantity = title
        ),
        text: text.join("\n"),
        drawing: Drawing::Bars { x, rows },
    }
}

/// What the sources that are not shown singly are called.
fn further(wording: &Words, count: usize) -> String {
    if count == 1 {
        say!(wording, "1 more source")
    } else {
        say!(wording, "{count} more sources", count = count)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_source_is_one() {
        assert_eq!(further(&Words::english(), 1), "1 more source");
        assert_eq!(further(&Words::english(), 2), "2 more sources");
    }
}
