//! Charts as axes, marks and captions: amounts before and after.

use crate::lab::UncertaintyRule;
use crate::measure::Unit;
use crate::report::amounts;
use crate::report::compose::Case;
use crate::report::drawing::Axis;
use crate::report::drawing::DotRow;
use crate::report::drawing::Drawing;
use crate::report::drawing::Mark;
use crate::report::drawing::Shape;
use crate::report::evidence;
use crate::report::model::Chart;
use crate::report::trials;
use crate::say;
use crate::words::Words;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::Value;
use crate::working::show;

/// Amounts before and after the reaction, predicted and found; only marks that give nothing away.
pub(in crate::report) fn amounts(case: &Case<'_>) -> Option<Chart> {
    let words = &case.lab.words;
    let extent = amounts::extent(case);
    let rule = case.lab.policy.uncertainty;
    let bar = |value: &Value| {
        (rule != UncertaintyRule::None).then(|| 1000.0 * evidence::doubt(case, value).0)
    };
    let mut rows = Vec::new();
    for (index, substance) in case.lab.substances.iter().enumerate() {
        let mut marks = Vec::new();
        let moles = case.graph.of_kind(Kind::Moles(index));
        let before = moles.and_then(|step| Some((step, case.worked.value(step)?)));
        if let Some((_, value)) = before.filter(|(step, _)| case.open.step(*step)) {
            marks.push(Mark {
                x: 1000.0 * value.approximate(),
                half: bar(value),
                shape: Shape::OpenCircle,
                label: say!(words, "before"),
            });
        }
        if let Some(predicted) = predicted_after(case, index, extent.as_ref()) {
            marks.push(Mark {
                x: 1000.0 * predicted,
                half: None,
                shape: Shape::Diamond,
                label: say!(words, "after, predicted"),
            });
        }
        if let Some(found) = found_after(case, index) {
            marks.push(Mark {
                x: 1000.0 * found.approximate(),
                half: bar(&found),
                shape: Shape::FilledCircle,
                label: say!(words, "after, found"),
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
    let x = axis((words.say("amount / mmol"), words), 0.0, most);
    let mut description = say!(words, "Amounts in mmol. ");
    let mut text = vec![say!(words, "amount / mmol")];
    let widest = rows
        .iter()
        .map(|row| row.label.chars().count())
        .max()
        .unwrap_or(0);
    for row in &rows {
        for (place, mark) in row.marks.iter().enumerate() {
            let number = show::chart_number(words, mark.x);
            for part in [
                if place == 0 { &row.label } else { "" },
                if place == 0 { ": " } else { "; " },
                &mark.label,
                " ",
                &number,
            ] {
                description.push_str(part);
            }
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
                number,
                mark.label
            ));
        }
        description.push_str(". ");
    }
    Some(Chart {
        id: "amounts".to_owned(),
        title: say!(words, "Amounts before and after"),
        description: description.trim_end().to_owned(),
        caption: with_bars(
            case,
            say!(
                words,
                "Amounts before and after the reaction{of_trial}: ○ before, ◇ after as the equation predicts, ● after as found.",
                of_trial = trials::of_the_first(case)
            ),
            &rows,
        ),
        text: text.join("\n"),
        drawing: Drawing::Dots { x, rows },
    })
}

/// A caption with what the bars are by the lab's rule, where there are any.
fn with_bars(case: &Case<'_>, caption: String, rows: &[DotRow]) -> String {
    if rows
        .iter()
        .flat_map(|row| &row.marks)
        .all(|mark| mark.half.is_none())
    {
        return caption;
    }
    let words = &case.lab.words;
    let bars = bars(case).unwrap_or_default();
    say!(
        words,
        "{caption} Bars are {bars} either way; where none is seen it is smaller than the mark.",
        caption = caption,
        bars = bars
    )
}

/// What the bars of a chart are by the lab's rule; `None` where it has none.
pub(in crate::report) fn bars<'c>(case: &'c Case<'_>) -> Option<&'c str> {
    let words = &case.lab.words;
    match case.lab.policy.uncertainty {
        UncertaintyRule::Standard => Some(words.say("one standard uncertainty")),
        UncertaintyRule::WorstCase => Some(words.say("the worst case")),
        UncertaintyRule::None => None,
    }
}

/// Dashes before a mark in the plain-text chart.
pub(in crate::report) fn columns(x: f64, to: f64) -> usize {
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
    let mut reveals = amounts::reveals(case, extent, Some(index), substance.reactant);
    reveals.push(case.graph.of_kind(own)?);
    reveals.extend(case.graph.of_kind(Kind::Moles(index)));
    if !case.open.all(&reveals) {
        return None;
    }
    let change = extent.times(substance.coefficient);
    let before = case
        .graph
        .of_kind(Kind::Moles(index))
        .and_then(|step| case.worked.value(step));
    let after = match (substance.reactant, before) {
        (true, Some(before)) => &before.exact - change,
        (true, None) => return None,
        (false, _) => change,
    };
    Some(after.to_f64())
}

/// The amount after, as found, in mol: of the substance itself, as what the equation predicts is.
fn found_after(case: &Case<'_>, index: usize) -> Option<Value> {
    let substance = &case.lab.substances[index];
    let kind = if substance.reactant {
        Kind::MeasuredLeft(index)
    } else {
        Kind::Collected(index)
    };
    let step = case.graph.of_kind(kind)?;
    // In moles it says what the moles found or used do.
    let in_moles = if substance.reactant {
        vec![Kind::MolesUsed(index), Kind::Moles(index)]
    } else {
        vec![Kind::MolesCollected(index)]
    };
    let mut reveals = vec![step];
    reveals.extend(
        in_moles
            .into_iter()
            .filter_map(|kind| case.graph.of_kind(kind)),
    );
    if !case.open.all(&reveals) {
        return None;
    }
    let found = Expression::Step(step);
    let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
    let moles = if case.graph.step(step).unit == Unit::Mole {
        found
    } else if form.open_waters() {
        return None;
    } else {
        case.graph.in_moles(index, found)?
    };
    case.worked.value_of(case.graph, &moles)
}

/// An axis with its label in a language, whose ends and ticks are round numbers: steps of 1, 2 or 5 times a power of ten.
pub(in crate::report) fn axis((label, words): (&str, &Words), from: f64, to: f64) -> Axis {
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
        let number = format!("{:.decimals$}", place * step + 0.0).replace('-', "−");
        ticks.push((place * step, words.number(&number)));
        place += 1.0;
    }
    Axis {
        label: label.to_owned(),
        from: first * step,
        to: last * step,
        ticks,
    }
}
