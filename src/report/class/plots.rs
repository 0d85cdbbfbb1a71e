//! Plots of a class along one axis: stacked dots of a quantity, and how many weighings were needed.

use crate::class::Pool;
use crate::class::Quantity;
use crate::class::entry::Number;
use crate::class::pool::Column;
use crate::class::pool::FEWEST;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::report::charts::axis;
use crate::report::compose::sentence_case;
use crate::report::drawing::Axis;
use crate::report::drawing::Drawing;
use crate::report::model::Chart;
use crate::say;
use crate::words::Words;
use crate::working::Kind;
use crate::working::show;

/// Decimals up to which the numbers of a column are written out, so that their last digits stand below each other.
const WRITTEN_OUT: i32 = 8;

/// A value rounded to so many decimals.
pub(super) fn rounded(value: Decimal, places: i32) -> Decimal {
    rounding::to_places(&value.to_exact(), places, crate::measure::Rounding::HalfUp)
}

/// A value with so many decimals.
pub(super) fn number(value: Decimal, places: i32) -> String {
    in_column(rounded(value, places))
}

/// A number of a column, all of which have as many decimals.
fn in_column(number: Decimal) -> String {
    if number.places() <= WRITTEN_OUT {
        number.text()
    } else {
        show::text(number)
    }
}

/// A floating-point number with so many decimals.
pub(super) fn float(value: f64, places: i32) -> String {
    Exact::from_float(value).map_or_else(String::new, |exact| {
        in_column(rounding::to_places(
            &exact,
            places,
            crate::measure::Rounding::HalfUp,
        ))
    })
}

/// ` / %`, or nothing for a plain number.
pub(super) fn per(unit: Unit) -> String {
    if unit == Unit::One {
        String::new()
    } else {
        format!(" /\u{a0}{unit}")
    }
}

/// What the lines of a plot stand for, behind another sentence; nothing where there is none.
pub(super) fn marked_by(wording: &Words, lines: &[String]) -> String {
    let lines: Vec<String> = lines
        .iter()
        .map(|line| line.replace(" %", "\u{a0}%"))
        .collect();
    match lines.as_slice() {
        [] => String::new(),
        [one] => say!(wording, " Marked by a line: {line}.", line = one),
        more => say!(
            wording,
            " Marked by lines: {lines}.",
            lines = more.join("; ")
        ),
    }
}

/// Fewer values than this are not plotted where single values are not shown: what all come to would tell them.
pub(super) const FEWEST_TOGETHER: usize = 3;

/// The values of a quantity as stacked dots with its lines; the median, which of three is one of them, and all of them in words only
/// where single values are shown. `None` without a value.
pub(super) fn strip(
    (quantity, pool): (&Quantity, &Pool<'_>),
    column: &Column,
    place: usize,
) -> Option<(Chart, String)> {
    let (wording, single) = (&pool.lab.words, column.single);
    if !single && column.values.len() < FEWEST_TOGETHER {
        return None;
    }
    let mut sorted: Vec<Number> = column.values.iter().map(|(_, value)| *value).collect();
    sorted.sort_by_cached_key(|number| number.value.to_exact());
    let values: Vec<f64> = sorted.iter().map(|number| number.value.to_f64()).collect();
    let summary = column.all.as_ref()?;
    let lines = quantity.lines.iter().map(|(value, _)| *value);
    let all = || values.iter().copied().chain(lines.clone());
    let (low, high) = (
        all().fold(f64::INFINITY, f64::min),
        all().fold(f64::NEG_INFINITY, f64::max),
    );
    let room = ((high - low) * 0.08).max(1e-9);
    let title = sentence_case(&quantity.title);
    let label = format!("{}{}", quantity.title, per(quantity.unit));
    let x = axis((&label, wording), low - room, high + room);
    let values: Vec<f64> = values
        .into_iter()
        .map(|value| if single { value } else { about(value, &x) })
        .collect();
    let median = wording.number(&float(summary.median, column.fine.max(column.places + 1)));
    let line_places = match quantity.kind {
        Kind::Find(_) => column.fine,
        _ => column.places.min(3),
    };
    let words: Vec<String> = quantity
        .lines
        .iter()
        .map(|(value, words)| {
            if words.contains('%') {
                words.clone()
            } else {
                say!(
                    wording,
                    "{line} at {value}",
                    line = words,
                    value = wording.number(&float(*value, line_places))
                )
            }
        })
        .collect();
    let listed: Vec<String> = sorted
        .iter()
        .map(|value| wording.number(&number(value.value, column.fine)))
        .collect();
    let (first, last) = (listed.first()?.clone(), listed.last()?.clone());
    let listed = listed.join(wording.say(", "));
    let lines_said = marked_by(wording, &words);
    let chart = Chart {
        id: format!("class-{place}"),
        title: title.clone(),
        description: if single {
            say!(
                wording,
                "{count} values{unit}, from {first} to {last}; median {median}.{lines} Every value is listed beside the plot.",
                count = values.len(),
                unit = per(quantity.unit),
                first = first,
                last = last,
                median = median,
                lines = lines_said
            )
        } else {
            say!(
                wording,
                "{count} values{unit}.{lines}",
                count = values.len(),
                unit = per(quantity.unit),
                lines = lines_said
            )
        },
        caption: if single {
            say!(
                wording,
                "{quantity}: a dot a group, dots of nearly one value stacked. The triangle marks the median, {median}.{lines}",
                quantity = title,
                median = show::with_unit(&median, quantity.unit),
                lines = lines_said
            )
        } else {
            say!(
                wording,
                "{quantity}: a dot a group, dots of nearly one value stacked.{lines}",
                quantity = title,
                lines = lines_said
            )
        },
        text: in_letters(&values, &x, &label, wording),
        drawing: Drawing::Strip {
            x,
            values,
            lines: quantity.lines.clone(),
            median: single.then_some(summary.median),
        },
    };
    let listed = format!("{listed}{}", per(quantity.unit).replace(" / ", "\u{a0}"));
    Some((chart, if single { listed } else { String::new() }))
}

/// Steps of an axis by which a dot tells about where a value lies, and no more.
const STEPS: f64 = 50.0;

/// A value to the nearest step of its axis: the coordinates of a drawing would tell it to four digits.
pub(super) fn about(value: f64, axis: &Axis) -> f64 {
    let step = (axis.to - axis.from) / STEPS;
    axis.from + ((value - axis.from) / step).round() * step
}

/// Columns of a plot in letters.
const COLUMNS: usize = 50;
/// Rows of a plot in letters.
const MOST: usize = 20;

/// A stacked plot in letters: so many columns, an `o` a value, the rows from the top.
fn in_letters(values: &[f64], x: &Axis, label: &str, words: &Words) -> String {
    let (from, to) = (x.from, x.to);
    let mut counts = [0_usize; COLUMNS];
    for value in values {
        let share = ((value - from) / (to - from)).clamp(0.0, 1.0);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 0 and the number of columns"
        )]
        let column = (share * (COLUMNS - 1) as f64).round() as usize;
        counts[column] += 1;
    }
    let tallest = counts.iter().copied().max().unwrap_or(0).max(1);
    let each = tallest.div_ceil(MOST);
    let rows = tallest.div_ceil(each);
    let mut lines: Vec<String> = (0..rows)
        .rev()
        .map(|row| {
            let cell = |count: &usize| if count.div_ceil(each) > row { 'o' } else { ' ' };
            let line: String = counts.iter().map(cell).collect();
            format!("|{}", line.trim_end())
        })
        .collect();
    lines.push(format!("+{}", "-".repeat(COLUMNS)));
    let tick =
        |tick: Option<&(f64, String)>| tick.map_or_else(String::new, |(_, label)| label.clone());
    let ends = (tick(x.ticks.first()), tick(x.ticks.last()));
    let gap = COLUMNS.saturating_sub(ends.0.chars().count() + ends.1.chars().count());
    lines.push(format!(" {}{}{}", ends.0, " ".repeat(gap), ends.1));
    lines.push(format!(" {label}"));
    if each > 1 {
        lines.push(say!(words, " an o for up to {count} groups", count = each));
    }
    lines.join("\n")
}

/// How many weighings the groups needed to come to constant mass; `None` where no group dried in a series.
pub(super) fn weighings(pool: &Pool<'_>) -> Option<(Chart, String)> {
    let wording = &pool.lab.words;
    let mut counts: Vec<u32> = pool
        .entries
        .iter()
        .filter_map(|entry| entry.weighings)
        .collect();
    counts.sort_unstable();
    let single = pool.shows_groups() && counts.len() >= FEWEST;
    if !single && counts.len() < FEWEST_TOGETHER {
        return None;
    }
    let (least, most) = (*counts.first()?, *counts.last()?);
    let values: Vec<f64> = counts.iter().map(|count| f64::from(*count)).collect();
    let median = crate::class::statistics::middle(&values)?;
    let label = wording.say("weighings until constant mass");
    let mut x = axis((label, wording), 0.0, f64::from(most) + 0.5);
    x.to = f64::from(most) + 0.5;
    x.ticks = (0..=most)
        .map(|tick| (f64::from(tick), tick.to_string()))
        .collect();
    let listed: Vec<String> = counts.iter().map(u32::to_string).collect();
    let chart = Chart {
        id: "class-weighings".to_owned(),
        title: say!(wording, "Weighings until constant mass"),
        description: if single {
            say!(
                wording,
                "{count} groups came to constant mass, after {least} to {most} weighings; median {median}.",
                count = counts.len(),
                least = least,
                most = most,
                median = show::chart_number(wording, median)
            )
        } else {
            say!(
                wording,
                "{count} groups came to constant mass.",
                count = counts.len()
            )
        },
        caption: if single {
            say!(
                wording,
                "Weighings until constant mass, a dot a group, for the {count} groups that came to it. The triangle marks the median.",
                count = counts.len()
            )
        } else {
            say!(
                wording,
                "Weighings until constant mass, a dot a group, for the {count} groups that came to it.",
                count = counts.len()
            )
        },
        text: in_letters(&values, &x, label, wording),
        drawing: Drawing::Strip {
            x,
            values,
            lines: Vec::new(),
            median: single.then_some(median),
        },
    };
    let listed = if single {
        listed.join(", ")
    } else {
        String::new()
    };
    Some((chart, listed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_said_in_their_number() {
        let said = |lines: &[&str]| {
            let lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
            marked_by(&Words::english(), &lines)
        };
        assert_eq!(said(&[]), "");
        assert_eq!(said(&["100 %"]), " Marked by a line: 100\u{a0}%.");
        assert_eq!(said(&["a", "b"]), " Marked by lines: a; b.");
    }
}
