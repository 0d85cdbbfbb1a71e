//! Charts as axes, marks and captions: amounts before and after, and drying series.

use crate::measure::Exact;
use crate::measure::rounding;
use crate::report::amounts;
use crate::report::compose::Case;
use crate::report::compose::Numbers;
use crate::report::model::Axis;
use crate::report::model::Band;
use crate::report::model::Chart;
use crate::report::model::DotRow;
use crate::report::model::Drawing;
use crate::report::model::Drying;
use crate::report::model::Mark;
use crate::report::model::Point;
use crate::report::model::Shape;
use crate::report::model::Table;
use crate::report::tables;
use crate::working::Kind;
use crate::working::drying;
use crate::working::drying::Series;
use crate::working::drying::Verdict;
use crate::working::show;

/// Amounts before and after the reaction, predicted and found; only marks that give nothing away.
pub(in crate::report) fn amounts(case: &Case<'_>, numbers: &mut Numbers) -> Option<Chart> {
    let extent = amounts::extent(case);
    let mut rows = Vec::new();
    for (index, substance) in case.lab.substances.iter().enumerate() {
        let mut marks = Vec::new();
        let moles = case.graph.of_kind(Kind::Moles(index));
        let before = moles.and_then(|step| Some((step, case.worked.value(step)?)));
        if let Some((step, value)) = before.filter(|(step, _)| case.open.step(*step)) {
            let half = Some(1000.0 * value.standard_uncertainty(&case.worked.inputs));
            let _ = step;
            marks.push(Mark {
                x: 1000.0 * value.approximate(),
                half,
                shape: Shape::OpenCircle,
                label: "before".to_owned(),
            });
        }
        if let Some(predicted) = predicted_after(case, index, extent.as_ref()) {
            marks.push(Mark {
                x: 1000.0 * predicted,
                half: None,
                shape: Shape::Diamond,
                label: "after, predicted".to_owned(),
            });
        }
        if let Some((found, half)) = found_after(case, index) {
            marks.push(Mark {
                x: 1000.0 * found,
                half: Some(1000.0 * half),
                shape: Shape::FilledCircle,
                label: "after, found".to_owned(),
            });
        }
        if !marks.is_empty() {
            rows.push(DotRow {
                label: substance.formula.pretty(),
                marks,
            });
        }
    }
    let most = rows
        .iter()
        .flat_map(|row| &row.marks)
        .map(|mark| mark.x + mark.half.unwrap_or(0.0))
        .fold(0.0, f64::max);
    if rows.is_empty() || most <= 0.0 || !most.is_finite() {
        return None;
    }
    let x = axis("amount / mmol", 0.0, most);
    let number = |x: f64| show::chart_number(x);
    let mut description = String::from("Amounts in mmol. ");
    let mut text = vec!["amount / mmol".to_owned()];
    let widest = rows
        .iter()
        .map(|row| row.label.chars().count())
        .max()
        .unwrap_or(0);
    for row in &rows {
        let parts: Vec<String> = row
            .marks
            .iter()
            .map(|mark| format!("{} {}", mark.label, number(mark.x)))
            .collect();
        description.push_str(&format!("{}: {}. ", row.label, parts.join("; ")));
        for (place, mark) in row.marks.iter().enumerate() {
            let label = if place == 0 { row.label.as_str() } else { "" };
            let pad = " ".repeat(widest - label.chars().count());
            let sign = match mark.shape {
                Shape::OpenCircle => '○',
                Shape::FilledCircle => '●',
                Shape::Diamond => '◇',
            };
            text.push(format!(
                "{label}{pad}  |{}{sign}  {} {}",
                "-".repeat(columns(mark.x, x.to)),
                number(mark.x),
                mark.label
            ));
        }
    }
    Some(Chart {
        number: numbers.figure(),
        id: "amounts".to_owned(),
        title: "Amounts before and after".to_owned(),
        description: description.trim_end().to_owned(),
        caption: "Amounts before and after the reaction: ○ before, ◇ after as the equation predicts, ● after as found. Bars are one standard uncertainty either way; where none is seen it is smaller than the mark."
            .to_owned(),
        text: text.join("\n"),
        drawing: Drawing::Dots { x, rows },
    })
}

/// Dashes before a mark in the plain-text chart.
fn columns(x: f64, to: f64) -> usize {
    const WIDTH: f64 = 40.0;
    let share = (x / to * WIDTH).round().clamp(0.0, WIDTH);
    // Within 0 and 40 after the clamp.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to 0..=40"
    )]
    let count = share as usize;
    count
}

/// The amount after, by the equation, in mol.
fn predicted_after(case: &Case<'_>, index: usize, extent: Option<&amounts::Extent>) -> Option<f64> {
    let extent = extent?;
    let substance = &case.lab.substances[index];
    let own = if substance.reactant {
        Kind::ExpectedLeft(index)
    } else {
        Kind::Theoretical(index)
    };
    let mut reveals = extent.steps.clone();
    reveals.push(case.graph.of_kind(own)?);
    if !case.open.all(&reveals) {
        return None;
    }
    let change = &extent.value * Exact::from_integer(substance.coefficient.into());
    let before = case
        .graph
        .of_kind(Kind::Moles(index))
        .and_then(|step| case.worked.value(step));
    let after = match (substance.reactant, before) {
        (true, Some(before)) => &before.exact - change,
        (true, None) => return None,
        (false, _) => change,
    };
    Some(rounding::to_f64(&after))
}

/// The amount after, as found, in mol, with its standard uncertainty.
fn found_after(case: &Case<'_>, index: usize) -> Option<(f64, f64)> {
    let substance = &case.lab.substances[index];
    let kind = if substance.reactant {
        Kind::MeasuredLeft(index)
    } else {
        Kind::Collected(index)
    };
    let step = case
        .graph
        .of_kind(kind)
        .filter(|step| case.open.step(*step))?;
    let value = case.worked.value(step)?;
    let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
    let per_mole = if case.graph.step(step).unit == crate::measure::Unit::Mole {
        1.0
    } else {
        rounding::to_f64(&case.lab.atomic_weights.molar_mass(form).ok()?)
    };
    Some((
        value.approximate() / per_mole,
        value.standard_uncertainty(&case.worked.inputs) / per_mole,
    ))
}

/// Every drying series: table, sentences, plot.
pub(in crate::report) fn drying(case: &Case<'_>, numbers: &mut Numbers) -> Vec<Drying> {
    drying::series(case.lab, case.record)
        .iter()
        .map(|series| one_series(case, series, numbers))
        .collect()
}

fn one_series(case: &Case<'_>, series: &Series<'_>, numbers: &mut Numbers) -> Drying {
    let label = &series.asked.label;
    let places = series
        .values
        .iter()
        .map(|value| value.number.places())
        .max()
        .unwrap_or(2);
    let write =
        |exact: &Exact| show::text(rounding::to_places(exact, places, case.lab.policy.rounding));
    let mut rows = Vec::new();
    for (place, value) in series.values.iter().enumerate() {
        let change = place.checked_sub(1).map_or_else(String::new, |before| {
            signed(&write(&series.changes[before]))
        });
        rows.push(vec![(place + 1).to_string(), tables::value(value), change]);
    }
    let table = Table {
        number: numbers.table(),
        caption: format!("Weighings of “{label}” and how it changed from one to the next."),
        columns: vec![
            tables::words("weighing"),
            tables::figures("reading"),
            tables::figures("change / g"),
        ],
        rows,
    };
    let limit = show::text(trimmed(&series.limit));
    let mut sentences = vec![match series.verdict() {
        Verdict::TooFew => "Weighed once: nobody can tell whether it was dry.".to_owned(),
        Verdict::Constant => format!(
            "Constant mass: the last two weighings agree within {limit}{}g.",
            show::NO_BREAK
        ),
        Verdict::StillFalling => format!(
            "Not yet constant: the last weighing was lower by more than {limit}{}g.",
            show::NO_BREAK
        ),
        Verdict::Rising => format!(
            "The last weighing was higher by more than {limit}{}g: something was taken up, or the balance differed.",
            show::NO_BREAK
        ),
    }];
    if let Some(rest) = series.still_to_lose() {
        let shown = write(&rest);
        sentences.push(format!(
            "If each drying keeps taking off the same share of what is left, about {shown}{}g would still come off.",
            show::NO_BREAK
        ));
    }
    Drying {
        table,
        sentences,
        chart: plot(series, places, &limit, numbers),
    }
}

/// A plus in front of a number that has no sign.
fn signed(number: &str) -> String {
    let zero = number.chars().all(|c| c == '0' || c == '.');
    if number.starts_with('−') || zero {
        number.to_owned()
    } else {
        format!("+{number}")
    }
}

/// A limit without trailing zeros.
fn trimmed(exact: &Exact) -> crate::measure::Decimal {
    crate::measure::figures::Figures::Exact.write(exact, 0, crate::measure::Rounding::HalfUp)
}

fn plot(series: &Series<'_>, places: i32, limit: &str, numbers: &mut Numbers) -> Option<Chart> {
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
    let band = rounding::to_f64(&series.limit);
    let (low, high) = masses
        .iter()
        .fold((last - band, last + band), |(low, high), mass| {
            (low.min(*mass), high.max(*mass))
        });
    let margin = (high - low) * 0.12;
    let y = axis("mass / g", low - margin, high + margin);
    let label = |mass: f64| format!("{mass:.*}", usize::try_from(places).unwrap_or(2));
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
            format!(
                "weighing {}  |{}●  {} g",
                place + 1,
                "-".repeat(share),
                label(*mass)
            )
        })
        .collect();
    let readings: Vec<String> = masses
        .iter()
        .map(|mass| format!("{} g", label(*mass)))
        .collect();
    Some(Chart {
        number: numbers.figure(),
        id: format!("drying-{}", series.asked.name),
        title: format!("Drying of “{}”", series.asked.label),
        description: format!("Mass at each weighing: {}.", readings.join(", then ")),
        caption: format!(
            "Mass of “{}” at each weighing. The band is {limit}{}g either side of the last one.",
            series.asked.label,
            show::NO_BREAK
        ),
        text: text.join("\n"),
        drawing: Drawing::Line {
            x: Axis {
                label: "weighing".to_owned(),
                from: 0.5,
                to: count as f64 + 0.5,
                ticks,
            },
            y,
            points: points.collect(),
            band: Some(Band {
                from: last - band,
                to: last + band,
                label: format!("within {limit} g of the last"),
            }),
        },
    })
}

/// An axis whose ends and ticks are round numbers: steps of 1, 2 or 5 times a power of ten.
fn axis(label: &str, from: f64, to: f64) -> Axis {
    let raw = ((to - from) / 5.0).max(f64::MIN_POSITIVE);
    let power = raw.log10().floor();
    let unit = 10.0_f64.powf(power);
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|factor| factor * unit)
        .find(|step| *step >= raw)
        .unwrap_or(raw);
    let first = (from / step).floor();
    let last = (to / step).ceil();
    // Whole powers of ten between -300 and 300.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small count of decimals"
    )]
    let decimals = (-step.log10().floor()).clamp(0.0, 12.0) as usize;
    let mut ticks = Vec::new();
    let mut place = first;
    while place <= last && ticks.len() < 20 {
        ticks.push((
            place * step,
            format!("{:.decimals$}", place * step).replace('-', "−"),
        ));
        place += 1.0;
    }
    Axis {
        label: label.to_owned(),
        from: first * step,
        to: last * step,
        ticks,
    }
}
