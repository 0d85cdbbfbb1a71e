//! Decimal marks: numbers that the program wrote into a report, in the writing of its language.

use crate::report::drawing::Axis;
use crate::report::drawing::Drawing;
use crate::report::model::Chart;
use crate::report::model::Report;
use crate::report::model::Table;
use crate::words::Words;
use crate::working::math::Math;

/// Gives every number that the program composed the decimal mark of a language. What was typed and what teachers and
/// students wrote stays as it is; readings and their limits have theirs already.
pub(in crate::report) fn marks(report: &mut Report, words: &Words) {
    if is_point(words) {
        return;
    }
    let text = |text: &mut String| *text = words.number(text);
    for figure in &mut report.headline {
        text(&mut figure.value);
        text(&mut figure.uncertainty);
    }
    for sentence in report
        .prediction
        .iter_mut()
        .chain(&mut report.amounts_notes)
    {
        text(sentence);
    }
    for drying in &mut report.drying {
        in_table(&mut drying.table, words);
        drying.sentences.iter_mut().for_each(text);
        drying
            .chart
            .iter_mut()
            .for_each(|chart| in_chart(chart, words));
    }
    for working in &mut report.workings {
        text(&mut working.text);
    }
    for pending in &mut report.pending {
        text(&mut pending.why);
    }
    let tables = [&mut report.results, &mut report.atomic_weights];
    let optional = [&mut report.amounts, &mut report.trial_results];
    for table in tables.into_iter().chain(optional.into_iter().flatten()) {
        in_table(table, words);
    }
    // Question and answer stand there as typed.
    let marked = report.marked.as_mut().map(|marked| &mut marked.table);
    for table in report.answers.as_mut().into_iter().chain(marked) {
        for cell in table.rows.iter_mut().flat_map(|row| row.iter_mut().skip(2)) {
            text(cell);
        }
    }
    for note in &mut report.answer_notes {
        text(&mut note.sentence);
    }
    report
        .charts
        .iter_mut()
        .for_each(|chart| in_chart(chart, words));
    if let Some(budget) = &mut report.budget {
        in_table(&mut budget.table, words);
        in_chart(&mut budget.chart, words);
        budget.sentences.iter_mut().for_each(text);
    }
    in_discussion(report, words);
    for chain in report.chains.values_mut().flatten() {
        in_math(&mut chain.left, words);
        chain.right.iter_mut().for_each(|line| in_math(line, words));
    }
}

/// Whether the language writes a point, so that nothing is to be done.
fn is_point(words: &Words) -> bool {
    words.number("0.5") == "0.5"
}

fn in_discussion(report: &mut Report, words: &Words) {
    let text = |text: &mut String| *text = words.number(text);
    let discussion = &mut report.discussion;
    let sentences = discussion.instrument.iter_mut();
    let sentences = sentences.chain(&mut discussion.split);
    sentences.chain(&mut discussion.ruled_out).for_each(text);
    for sentence in [
        &mut discussion.decision,
        &mut discussion.lead,
        &mut discussion.also,
    ] {
        text(sentence);
    }
    discussion
        .plane
        .iter_mut()
        .for_each(|chart| in_chart(chart, words));
    discussion
        .equations
        .iter_mut()
        .for_each(|table| in_table(table, words));
    for possible in &mut discussion.possible {
        for sentence in [
            &mut possible.what,
            &mut possible.size,
            &mut possible.test,
            &mut possible.next_time,
        ] {
            text(sentence);
        }
    }
    for test in discussion.own.iter_mut().flat_map(|own| &mut own.tests) {
        text(&mut test.sentence);
    }
}

/// The caption, the heads and every cell of a table that the program composed.
pub(in crate::report) fn in_table(table: &mut Table, words: &Words) {
    if is_point(words) {
        return;
    }
    table.caption = words.number(&table.caption);
    for column in &mut table.columns {
        column.head = words.number(&column.head);
    }
    for cell in table.rows.iter_mut().flatten() {
        *cell = words.number(cell);
    }
}

/// The texts of a chart and what is written in its drawing.
pub(in crate::report) fn in_chart(chart: &mut Chart, words: &Words) {
    if is_point(words) {
        return;
    }
    for text in [
        &mut chart.title,
        &mut chart.description,
        &mut chart.caption,
        &mut chart.text,
    ] {
        *text = words.number(text);
    }
    in_drawing(&mut chart.drawing, words);
}

fn in_drawing(drawing: &mut Drawing, words: &Words) {
    let text = |text: &mut String| *text = words.number(text);
    match drawing {
        Drawing::None => {}
        Drawing::Dots { x, rows } => {
            in_axis(x, words);
            for mark in rows.iter_mut().flat_map(|row| &mut row.marks) {
                text(&mut mark.label);
            }
        }
        Drawing::Bars { x, rows } => {
            in_axis(x, words);
            for bar in rows {
                text(&mut bar.value);
            }
        }
        Drawing::Strip { x, lines, .. } => {
            in_axis(x, words);
            for (_, label) in lines {
                text(label);
            }
        }
        Drawing::Scatter { x, y, lines, .. } => {
            in_axis(x, words);
            in_axis(y, words);
            for (_, label) in lines {
                text(label);
            }
        }
        // Beside its point stands the name of the group.
        Drawing::Plane { x, y, curve, .. } => {
            in_axis(x, words);
            in_axis(y, words);
            text(&mut curve.1);
        }
        Drawing::Line { x, y, points, band } => {
            in_axis(x, words);
            in_axis(y, words);
            for point in points {
                text(&mut point.label);
            }
            if let Some(band) = band {
                text(&mut band.label);
            }
        }
    }
}

fn in_axis(axis: &mut Axis, words: &Words) {
    axis.label = words.number(&axis.label);
    for (_, label) in &mut axis.ticks {
        *label = words.number(label);
    }
}

/// The numbers and words of a formula.
fn in_math(math: &mut Math, words: &Words) {
    match math {
        Math::Row(parts) => parts.iter_mut().for_each(|part| in_math(part, words)),
        Math::Number(text) | Math::Words(text) => *text = words.number(text),
        Math::Answer(inner) | Math::Brackets(inner) => in_math(inner, words),
        Math::Fraction(above, below) => {
            in_math(above, words);
            in_math(below, words);
        }
        Math::Symbol { .. } | Math::Unit { .. } | Math::Operator(_) => {}
    }
}
