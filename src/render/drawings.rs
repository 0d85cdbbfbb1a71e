//! Bars from zero, stacked dots, points against points, and one point on a plane with named regions.

use super::svg::DRAWN;
use super::svg::WIDE;
use super::svg::at;
use super::svg::draw;
use super::svg::scale;
use super::svg::series;
use super::svg::shape;
use super::svg::text;
use super::svg::width;
use super::svg::x_axis;
use super::svg::y_axis;
use crate::report::drawing::Axis;
use crate::report::drawing::Bar;
use crate::report::drawing::Point;
use crate::report::drawing::Region;
use crate::report::drawing::Shape;

/// From one line of words to the next.
const LINE: f64 = 16.0;

/// Height of a row of bars.
const ROW: f64 = 30.0;

/// Bars along one axis, each behind its label.
pub(super) fn bars(x: &Axis, rows: &[Bar], wide: f64) -> (f64, String) {
    let widest = rows.iter().map(|row| width(&row.label)).fold(0.0, f64::max);
    let (left, right, top) = (at((widest + 18.0).min(0.6 * wide)), wide - 70.0, 10.0);
    let bottom = top + ROW * rows.len() as f64;
    let mut out = String::with_capacity(DRAWN);
    for (place, row) in rows.iter().enumerate() {
        let middle = top + ROW * (place as f64 + 0.5);
        let end = scale(x, row.length, left, right);
        text(&mut out, left - 10.0, middle + 5.0, "end", &row.label);
        let (high, low) = (at(middle - 8.0), at(middle + 8.0));
        draw(
            &mut out,
            "<path class=\"filled\" d=\"M# #H#V#H#z\"/>",
            &[left, high, end, low, left],
        );
        text(&mut out, end + 8.0, middle + 5.0, "start", &row.value);
    }
    draw(
        &mut out,
        "<path class=\"axis\" d=\"M# #V#\"/>",
        &[left, top, bottom],
    );
    x_axis(&mut out, x, (left, right), bottom);
    (at(bottom + 54.0), out)
}

/// The same where labels have no room beside their bars: each stands above its own.
pub(super) fn bars_under_labels(x: &Axis, rows: &[Bar], wide: f64) -> (f64, String) {
    let (left, right, top) = (16.0, wide - 70.0, 4.0);
    let mut bottom = top;
    let mut out = String::with_capacity(DRAWN);
    for row in rows {
        let end = scale(x, row.length, left, right);
        for line in broken(&row.label, wide - left - 4.0) {
            text(&mut out, left + 4.0, bottom + LINE, "start", &line);
            bottom += LINE;
        }
        let (high, low) = (at(bottom + 6.0), at(bottom + 22.0));
        bottom += ROW;
        draw(
            &mut out,
            "<path class=\"filled\" d=\"M# #H#V#H#z\"/>",
            &[left, high, end, low, left],
        );
        text(&mut out, end + 8.0, low - 3.0, "start", &row.value);
    }
    draw(
        &mut out,
        "<path class=\"axis\" d=\"M# #V#\"/>",
        &[left, top, bottom],
    );
    x_axis(&mut out, x, (left, right), bottom);
    (at(bottom + 54.0), out)
}

/// Values as dots on an axis, stacked where they would overlap; lines with their words; the median, if it is to be shown, as a triangle.
pub(super) fn strip(
    x: &Axis,
    (values, median): (&[f64], Option<f64>),
    lines: &[(f64, String)],
    wide: f64,
) -> (f64, String) {
    const TALLEST: f64 = 190.0;
    let (left, right) = (30.0, wide - 30.0);
    let at_value = |value: f64| scale(x, value, left, right);
    let highest = |radius: f64| {
        let places = stacked(values, radius, &at_value);
        places.iter().map(|(_, level)| *level).max().unwrap_or(0) + 1
    };
    // Smaller dots when a stack would grow out of the page.
    let radius = [5.0, 4.0, 3.0, 2.0, 1.2, 0.7]
        .into_iter()
        .find(|radius| highest(*radius) as f64 * 2.0 * radius <= TALLEST)
        .unwrap_or(0.4);
    let places = stacked(values, radius, &at_value);
    let stack = ((highest(radius) as f64) * 2.0 * radius).min(2.0 * TALLEST);
    let top = 30.0;
    let bottom = at(top + stack + 14.0);
    let mut out = String::with_capacity(DRAWN);
    for (place, (value, words)) in lines.iter().enumerate() {
        let here = at_value(*value);
        draw(
            &mut out,
            "<path class=\"series\" d=\"M# #V#\"/>",
            &[here, top - 6.0, bottom],
        );
        // The words of two lines side by side would meet: every other one stands to the left.
        let (shift, anchor) = if place % 2 == 0 && lines.len() > 1 || here > right - 120.0 {
            (-6.0, "end")
        } else {
            (6.0, "start")
        };
        text(&mut out, here + shift, top, anchor, words);
    }
    for (centre, level) in places {
        let height = at(bottom - 6.0 - radius - 2.0 * radius * level as f64);
        draw(
            &mut out,
            "<circle class=\"dot\" cx=\"#\" cy=\"#\" r=\"#\"/>",
            &[centre, height, radius],
        );
    }
    if let Some(median) = median {
        draw(
            &mut out,
            "<path class=\"mark\" d=\"M# #l4 7h-8z\"/>",
            &[at_value(median), bottom + 1.0],
        );
    }
    x_axis(&mut out, x, (left, right), bottom);
    (at(bottom + 58.0), out)
}

/// Where each of some sorted values stands, and how many dots lie under it: dots are gathered into columns as wide as one.
fn stacked(values: &[f64], radius: f64, at_value: &dyn Fn(f64) -> f64) -> Vec<(f64, usize)> {
    let mut places: Vec<(f64, usize)> = Vec::with_capacity(values.len());
    for value in values {
        let here = at_value(*value);
        let stacks = places
            .last()
            .filter(|(column, _)| here - column < 2.0 * radius);
        places.push(match stacks {
            Some((column, level)) => (*column, level + 1),
            None => (here, 0),
        });
    }
    places
}

/// Points against points, and a line from the origin for each slope with its words at its end.
pub(super) fn scatter(
    (x, y): (&Axis, &Axis),
    points: &[(f64, f64)],
    lines: &[(f64, String)],
    wide: f64,
) -> (f64, String) {
    let widest = y
        .ticks
        .iter()
        .map(|(_, label)| width(label))
        .fold(0.0, f64::max);
    let (left, right, top, bottom) = (at(widest + 34.0), wide - 30.0, 34.0, 334.0);
    let across = |value: f64| scale(x, value, left, right);
    let up = |value: f64| scale(y, value, bottom, top);
    let mut out = String::with_capacity(DRAWN);
    for (slope, words) in lines {
        // The part of the line that lies in the plot.
        let (start, end) = (x.from.max(y.from / slope), x.to.min(y.to / slope));
        if start >= end {
            continue;
        }
        let (px, py) = (across(end), up(end * slope));
        draw(
            &mut out,
            "<path class=\"series\" d=\"M# #L# #\"/>",
            &[across(start), up(start * slope), px, py],
        );
        // Beside its upper end: left of a line that leaves at the right, right of one that leaves at the top.
        if px + width(words) + 12.0 < right {
            text(&mut out, px + 10.0, py + 12.0, "start", words);
        } else {
            text(&mut out, px - 10.0, (py - 4.0).max(top + 8.0), "end", words);
        }
    }
    let radius = if points.len() > 400 { 1.5 } else { 4.0 };
    for (a, b) in points {
        draw(
            &mut out,
            "<circle class=\"dot\" cx=\"#\" cy=\"#\" r=\"#\"/>",
            &[across(*a), up(*b), radius],
        );
    }
    x_axis(&mut out, x, (left, right), bottom);
    y_axis(&mut out, y, (top, bottom), left);
    (at(bottom + 54.0), out)
}

/// Words in lines that have room, as few as can be.
fn broken(words: &str, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut so_far = 0.0;
    for word in words.split(' ').filter(|word| !word.is_empty()) {
        let longer = so_far + width(" ") + width(word);
        if let Some(line) = lines.last_mut().filter(|_| longer <= room) {
            line.push(' ');
            line.push_str(word);
            so_far = longer;
        } else {
            lines.push(word.to_owned());
            so_far = width(word);
        }
    }
    if lines.is_empty() {
        lines.push(String::new());
    }
    lines
}

/// One point with its bars, lines through the centre, a curve, and what lies in each direction.
pub(super) fn plane(
    (x, y): (&Axis, &Axis),
    (point, half_across): (&Point, Option<f64>),
    (centre, regions): (f64, &[Region]),
    (curve, curve_label): &(Vec<(f64, f64)>, String),
    wide: f64,
) -> (f64, String) {
    let widest = y
        .ticks
        .iter()
        .map(|(_, label)| width(label))
        .fold(0.0, f64::max);
    // Words in more lines need a higher drawing.
    let bottom = if wide < WIDE { 414.0 } else { 334.0 };
    let (left, right, top) = (at(widest + 34.0), wide - 20.0, 34.0);
    let across = |value: f64| scale(x, value, left, right);
    let up = |value: f64| scale(y, value, bottom, top);
    let mut out = String::with_capacity(DRAWN);
    let (cx, cy) = (across(centre), up(centre));
    draw(
        &mut out,
        "<path class=\"guide\" d=\"M# #V#M# #H#\"/>",
        &[cx, top, bottom, left, cy, right],
    );
    if !curve.is_empty() {
        series(curve.iter().map(|(x, y)| (across(*x), up(*y))), &mut out);
    }
    x_axis(&mut out, x, (left, right), bottom);
    y_axis(&mut out, y, (top, bottom), left);
    for region in regions {
        let (place, anchor, room) = match (region.across, region.up) {
            (-1, _) => (left + 10.0, "start", cx - left - 12.0),
            (0, 1) => (cx + 8.0, "start", right - cx - 8.0),
            (0, _) => (cx - 8.0, "end", cx - left - 10.0),
            _ => (right - 6.0, "end", right - cx - 10.0),
        };
        let lines = broken(&region.label, room);
        let further = LINE * (lines.len() - 1) as f64;
        let height = match region.up {
            1 => top + 16.0,
            0 => cy - 8.0 - further,
            _ => bottom - 12.0 - further,
        };
        for (number, line) in lines.iter().enumerate() {
            let height = height + LINE * number as f64;
            text(&mut out, place, height, anchor, line);
        }
    }
    if let Some((x, y)) = curve.first() {
        text(
            &mut out,
            across(*x) + 10.0,
            up(*y) + 2.0,
            "start",
            curve_label,
        );
    }
    let (px, py) = (across(point.x), up(point.y));
    if let Some(half) = half_across {
        draw(
            &mut out,
            "<path class=\"bar\" d=\"M# #H#\"/>",
            &[across(point.x - half), py, across(point.x + half)],
        );
    }
    if let Some(half) = point.half {
        draw(
            &mut out,
            "<path class=\"bar\" d=\"M# #V#\"/>",
            &[px, up(point.y - half), up(point.y + half)],
        );
    }
    shape(&mut out, Shape::FilledCircle, px, py);
    (at(bottom + 54.0), out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_broken_where_they_have_no_room() {
        for (words, room, lines) in [
            ("not at its end", 200.0, vec!["not at its end"]),
            ("not at its end", 80.0, vec!["not at its", "end"]),
            ("side reaction", 5.0, vec!["side", "reaction"]),
            ("", 5.0, vec![""]),
        ] {
            assert_eq!(broken(words, room), lines, "{words} in {room}");
        }
    }
}
