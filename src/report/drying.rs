//! Drying series: differences, constant mass, what is still to come off, and the plot.

use crate::lab::UncertaintyRule;
use crate::measure::Exact;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::report::charts::axis;
use crate::report::charts::columns;
use crate::report::compose::Case;
use crate::report::drawing::Axis;
use crate::report::drawing::Band;
use crate::report::drawing::Drawing;
use crate::report::drawing::Point;
use crate::report::model::Chart;
use crate::report::model::Drying;
use crate::report::model::Table;
use crate::report::tables;
use crate::report::trials;
use crate::say;
use crate::words::Words;
use crate::working::Kind;
use crate::working::decay::Estimate;
use crate::working::drying;
use crate::working::drying::Series;
use crate::working::drying::Verdict;
use crate::working::show;

/// Every drying series: table, sentences, plot.
pub(in crate::report) fn all(case: &Case<'_>) -> Vec<Drying> {
    drying::series(case.lab, case.record, &case.worked.instruments)
        .iter()
        .map(|series| one_series(case, series))
        .collect()
}

fn one_series(case: &Case<'_>, series: &Series<'_>) -> Drying {
    let words = &case.lab.words;
    let label = &series.asked.label;
    let places = series
        .values
        .iter()
        .map(|value| value.number.places())
        .max()
        .unwrap_or(2);
    let rounded = |exact: &Exact| rounding::to_places(exact, places, case.lab.policy.rounding);
    let mut rows = Vec::new();
    for (place, value) in series.values.iter().enumerate() {
        let change = place.checked_sub(1).map_or_else(String::new, |before| {
            show::signed(words, rounded(&series.changes[before]))
        });
        rows.push(vec![
            (place + 1).to_string(),
            tables::written(words, value),
            change,
        ]);
    }
    let table = Table {
        caption: say!(
            words,
            "Weighings{of_trial} of “{reading}” and how it changed from one to the next.",
            of_trial = trials::of_the_first(case),
            reading = label
        ),
        columns: vec![
            tables::words(words.say("weighing")),
            tables::figures(words.say("reading")),
            tables::figures(words.say("change / g")),
        ],
        rows,
    };
    let limit = show::written(words, trimmed(&series.limit));
    let grams = format!("{limit}{}g", show::NO_BREAK);
    let mut sentences = vec![match series.verdict() {
        Verdict::TooFew => say!(words, "Weighed once: nobody can tell whether it was dry."),
        Verdict::Constant => say!(
            words,
            "Constant mass: the last two weighings agree within {limit}.",
            limit = grams
        ),
        Verdict::StillFalling => say!(
            words,
            "Not yet constant: the last weighing was lower by more than {limit}.",
            limit = grams
        ),
        Verdict::Rising => say!(
            words,
            "The last weighing was higher by more than {limit}. It took something up (oxygen, or water from the air), or it had been weighed \
             warm before, which makes a vessel too light, or it is another vessel: weigh it once more, cold, and compare its number.",
            limit = grams
        ),
    }];
    sentences.extend(still_to_lose(case, series, holds(case, series.reading)));
    Drying {
        table,
        sentences,
        chart: plot(words, series, places, &limit),
    }
}

/// The mass of what stands on the vessel of a reading, g.
fn holds(case: &Case<'_>, reading: usize) -> Option<f64> {
    let weighed = case.graph.ids().find(|id| {
        let is_mass = matches!(
            case.graph.step(*id).kind,
            Kind::Collected(_) | Kind::MeasuredLeft(_)
        );
        is_mass && case.graph.uses(*id).readings.contains(&reading)
    });
    Some(case.worked.value(weighed?)?.approximate())
}

/// What is still to come off, or why nobody can tell.
fn still_to_lose(case: &Case<'_>, series: &Series<'_>, holds: Option<f64>) -> Option<String> {
    let words = &case.lab.words;
    let gram = |mass: f64| {
        show::doubt_number(mass)
            .map_or_else(String::new, |mass| show::amount(words, mass, Unit::Gram))
    };
    let all = holds.unwrap_or(f64::INFINITY);
    Some(match series.still_to_lose() {
        Estimate::Left {
            amount, standard, ..
        } if amount + standard > all => no_end(words),
        Estimate::Open(most) if most > all => no_end(words),
        Estimate::TooFew | Estimate::NotFalling => return None,
        Estimate::Settled => say!(
            words,
            "As far as the readings can tell it has stopped losing mass."
        ),
        Estimate::Left {
            amount,
            standard,
            timed,
        } => {
            let doubt = show::doubt_number(standard)?;
            let number = rounding::to_places(
                &Exact::from_float(amount)?,
                doubt.places(),
                crate::measure::Rounding::HalfUp,
            );
            let amount = show::amount(words, number, Unit::Gram);
            let doubt = show::amount(words, doubt, Unit::Gram);
            let doubt = match case.lab.policy.uncertainty {
                UncertaintyRule::None => String::new(),
                _ => say!(words, " (standard uncertainty {doubt})", doubt = doubt),
            };
            if timed {
                say!(
                    words,
                    "If it goes on drying along the same exponential in time, about {amount} would still come off{doubt}.",
                    amount = amount,
                    doubt = doubt
                )
            } else {
                say!(
                    words,
                    "If each drying keeps taking off the same share of what is left, about {amount} would still come off{doubt}.",
                    amount = amount,
                    doubt = doubt
                )
            }
        }
        Estimate::NotSlowing => say!(
            words,
            "It falls as fast as before: no end is in sight yet, and nobody can say how much is still to come off."
        ),
        Estimate::NoExponential => say!(
            words,
            "The weighings do not fall along one exponential, so no end is estimated from them."
        ),
        Estimate::Open(most) => say!(
            words,
            "The weighings leave the end open: anything up to about {amount} may still come off. One more drying will tell more.",
            amount = gram(most)
        ),
    })
}

/// More than there is would come off: the weighings say nothing of the end.
fn no_end(words: &Words) -> String {
    say!(
        words,
        "The weighings leave the end open: they do not show yet how much is still to come off. One more drying will tell more."
    )
}

/// A limit without trailing zeros.
fn trimmed(exact: &Exact) -> crate::measure::Decimal {
    crate::measure::figures::Figures::Exact.write(exact, 0, crate::measure::Rounding::HalfUp)
}

fn plot(words: &Words, series: &Series<'_>, places: i32, limit: &str) -> Option<Chart> {
    let masses: Vec<f64> = series
        .values
        .iter()
        .map(|value| {
            value
                .number
                .shifted(value.unit.map_or(0, crate::measure::Unit::power_to_base))
                .to_f64()
        })
        .collect();
    let (&last, _) = masses.split_last().filter(|(_, rest)| !rest.is_empty())?;
    let band = series.limit.to_f64();
    let (low, high) = masses
        .iter()
        .fold((last - band, last + band), |(low, high), mass| {
            (low.min(*mass), high.max(*mass))
        });
    let margin = (high - low) * 0.12;
    let y = axis((words.say("mass / g"), words), low - margin, high + margin);
    let decimals = usize::try_from(places).unwrap_or(2);
    let label = |mass: f64| words.number(&format!("{mass:.decimals$}"));
    let points = masses.iter().enumerate().map(|(place, mass)| Point {
        x: place as f64 + 1.0,
        y: *mass,
        half: None,
        label: label(*mass),
    });
    let count = masses.len();
    let ticks = (1..=count)
        .map(|weighing| (weighing as f64, weighing.to_string()))
        .collect();
    let text: Vec<String> = masses
        .iter()
        .enumerate()
        .map(|(place, mass)| {
            let share = columns(mass - y.from, y.to - y.from);
            let weighing = say!(words, "weighing {number}", number = place + 1);
            format!("{weighing}  |{}●  {} g", "-".repeat(share), label(*mass))
        })
        .collect();
    let readings: Vec<String> = masses
        .iter()
        .map(|mass| format!("{} g", label(*mass)))
        .collect();
    Some(Chart {
        id: format!("drying-{}", series.asked.name),
        title: say!(words, "Drying of “{reading}”", reading = series.asked.label),
        description: say!(
            words,
            "Mass at each weighing: {list}.",
            list = readings.join(words.say(", then "))
        ),
        caption: say!(
            words,
            "Mass of “{reading}” at each weighing. The band is {limit} either side of the last one.",
            reading = series.asked.label,
            limit = format!("{limit}{}g", show::NO_BREAK)
        ),
        text: text.join("\n"),
        drawing: Drawing::Line {
            x: Axis {
                label: say!(words, "weighing"),
                from: 0.5,
                to: count as f64 + 0.5,
                ticks,
            },
            y,
            points: points.collect(),
            band: Some(Band {
                from: last - band,
                to: last + band,
                label: say!(words, "within {limit} g of the last", limit = limit),
            }),
        },
    })
}
