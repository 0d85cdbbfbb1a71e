//! Charts as inline SVG, drawn as in a paper: thin axes, ticks outside, direct labels, shapes before colour.

use unicode_width::UnicodeWidthStr;

use super::drawings;
use super::escape::html;
use crate::report::drawing::Axis;
use crate::report::drawing::Band;
use crate::report::drawing::DotRow;
use crate::report::drawing::Drawing;
use crate::report::drawing::Point;
use crate::report::drawing::Shape;
use crate::report::model::Chart;

/// Width of a drawing on a page at full measure, in the units of its view box (about one pixel each).
pub(super) const WIDE: f64 = 640.0;
/// Width of a drawing on a small screen. It is drawn again for that: shrunk, its words could not be read.
const NARROW: f64 = 340.0;
/// About how many bytes a drawing takes.
pub(super) const DRAWN: usize = 4096;
/// Height of one row of a dot chart; each holds up to three labels.
const ROW: f64 = 62.0;

/// The drawing with its title and description.
pub(super) fn chart(chart: &Chart) -> String {
    let Some((height, marks)) = drawn(chart, WIDE) else {
        return String::new();
    };
    let id = html(&chart.id);
    format!(
        "<svg viewBox=\"0 0 {WIDE} {height}\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\"><title id=\"{id}-title\">{}</title>\
         <desc id=\"{id}-desc\">{}</desc>{marks}</svg>",
        html(&chart.title),
        html(&chart.description)
    )
}

/// The drawing for a small screen; title and description are those of the other one.
pub(super) fn narrow(chart: &Chart) -> String {
    let Some((height, marks)) = drawn(chart, NARROW) else {
        return String::new();
    };
    let id = html(&chart.id);
    format!(
        "<svg viewBox=\"0 0 {NARROW} {height}\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\">{marks}</svg>"
    )
}

/// Height and marks of a drawing as wide as that; `None` where there is nothing to draw.
fn drawn(chart: &Chart, wide: f64) -> Option<(f64, String)> {
    Some(match &chart.drawing {
        Drawing::None => return None,
        Drawing::Dots { x, rows } => dots(x, rows, wide),
        Drawing::Bars { x, rows } if wide < WIDE => drawings::bars_under_labels(x, rows, wide),
        Drawing::Bars { x, rows } => drawings::bars(x, rows, wide),
        Drawing::Strip {
            x,
            values,
            lines,
            median,
        } => drawings::strip(x, (values, *median), lines, wide),
        Drawing::Scatter {
            x,
            y,
            points,
            lines,
        } => drawings::scatter((x, y), points, lines, wide),
        Drawing::Plane {
            x,
            y,
            point,
            half_across,
            centre,
            regions,
            curve,
        } => drawings::plane(
            (x, y),
            (point, *half_across),
            (*centre, regions),
            curve,
            wide,
        ),
        Drawing::Line { x, y, points, band } => line((x, y), points, band.as_ref(), wide),
    })
}

/// A coordinate rounded once, to a tenth.
pub(super) fn at(x: f64) -> f64 {
    let rounded = (x * 10.0).round() / 10.0;
    // No negative zero: it would print as -0.
    if rounded == 0.0 { 0.0 } else { rounded }
}

/// Writes a piece of a drawing, with coordinates to a tenth in the places of `#`.
pub(super) fn draw(out: &mut String, pattern: &str, coordinates: &[f64]) {
    let mut rest = pattern;
    for coordinate in coordinates {
        let place = rest.bytes().position(|byte| byte == b'#');
        let at = place.unwrap_or(rest.len());
        out.push_str(&rest[..at]);
        rest = rest.get(at + 1..).unwrap_or_default();
        // Rounded once, and without a negative zero. A coordinate beyond these numbers ends at them.
        #[allow(clippy::cast_possible_truncation, reason = "it saturates")]
        let tenths = (coordinate * 10.0).round() as i32;
        out.push_str(if tenths < 0 { "-" } else { "" });
        push_tenths(tenths.unsigned_abs(), out);
    }
    out.push_str(rest);
}

/// Writes a number of tenths as a decimal. A drawing holds hundreds of them: `write!` would take more time than all the rest of it.
fn push_tenths(tenths: u32, out: &mut String) {
    let (whole, tenth) = (tenths / 10, tenths % 10);
    let digit = |number: u32| char::from_digit(number % 10, 10).unwrap_or_default();
    let mut power = whole.checked_ilog10().map_or(1, |power| 10_u32.pow(power));
    while power > 0 {
        out.push(digit(whole / power));
        power /= 10;
    }
    if tenth > 0 {
        out.push('.');
        out.push(digit(tenth));
    }
}

/// A line through points.
pub(super) fn series(points: impl Iterator<Item = (f64, f64)>, out: &mut String) {
    out.push_str("<path class=\"series\" d=\"");
    for (place, (x, y)) in points.enumerate() {
        draw(out, if place == 0 { "M# #" } else { "L# #" }, &[x, y]);
    }
    out.push_str("\"/>");
}

/// Where a value lies between two coordinates.
pub(super) fn scale(axis: &Axis, value: f64, from: f64, to: f64) -> f64 {
    let share = (value - axis.from) / (axis.to - axis.from);
    // An axis without length has one place only.
    let share = if share.is_finite() { share } else { 0.0 };
    at(from + share * (to - from))
}

pub(super) fn text(out: &mut String, x: f64, y: f64, anchor: &str, words: &str) {
    draw(out, "<text x=\"#\" y=\"#\" text-anchor=\"", &[x, y]);
    for piece in [anchor, "\">", &html(words), "</text>"] {
        out.push_str(piece);
    }
}

/// About how wide a text is at the drawings' size.
pub(super) fn width(words: &str) -> f64 {
    7.4 * words.width() as f64
}

fn dots(x: &Axis, rows: &[DotRow], wide: f64) -> (f64, String) {
    let widest = rows.iter().map(|row| width(&row.label)).fold(0.0, f64::max);
    let (left, right, top) = (at(widest + 24.0), wide - 30.0, 12.0);
    let bottom = top + ROW * rows.len() as f64;
    let mut out = String::with_capacity(DRAWN);
    x_axis(&mut out, x, (left, right), bottom);
    for (place, row) in rows.iter().enumerate() {
        let middle = top + ROW * (place as f64 + 0.5);
        text(&mut out, left - 14.0, middle + 5.0, "end", &row.label);
        draw(
            &mut out,
            "<path class=\"guide\" d=\"M# #H#\"/>",
            &[left, middle, right],
        );
        labels(&mut out, x, row, (left, right), middle);
        for mark in &row.marks {
            let centre = scale(x, mark.x, left, right);
            if let Some(half) = mark.half {
                bar(
                    &mut out,
                    scale(x, mark.x - half, left, right),
                    scale(x, mark.x + half, left, right),
                    middle,
                );
            }
            shape(&mut out, mark.shape, centre, middle);
        }
    }
    (at(bottom + 54.0), out)
}

/// A horizontal axis with ticks outside, their labels, and its own.
pub(super) fn x_axis(out: &mut String, x: &Axis, (left, right): (f64, f64), bottom: f64) {
    draw(
        out,
        "<path class=\"axis\" d=\"M# #H#",
        &[left, bottom, right],
    );
    for (value, _) in &x.ticks {
        draw(out, "M# #v6", &[scale(x, *value, left, right), bottom]);
    }
    out.push_str("\"/>");
    for (value, label) in x.ticks.iter().step_by(labelled(x, right - left)) {
        let place = scale(x, *value, left, right);
        text(out, place, bottom + 22.0, "middle", label);
    }
    let middle = f64::midpoint(left, right);
    text(out, middle, bottom + 44.0, "middle", &x.label);
}

/// Every how many ticks of an axis as long as that there is room for a number.
fn labelled(x: &Axis, length: f64) -> usize {
    let widest = x
        .ticks
        .iter()
        .map(|(_, label)| width(label))
        .fold(0.0, f64::max);
    let places: Vec<f64> = x
        .ticks
        .iter()
        .map(|(value, _)| scale(x, *value, 0.0, length))
        .collect();
    let has_room = |every: &usize| {
        let shown: Vec<f64> = places.iter().step_by(*every).copied().collect();
        shown.windows(2).all(|two| two[1] - two[0] >= widest + 6.0)
    };
    (1..=places.len()).find(has_room).unwrap_or(1)
}

/// A vertical axis with ticks outside, their labels, and its own above it.
pub(super) fn y_axis(out: &mut String, y: &Axis, (top, bottom): (f64, f64), left: f64) {
    draw(out, "<path class=\"axis\" d=\"M# #V#", &[left, top, bottom]);
    for (value, _) in &y.ticks {
        draw(out, "M# #h-6", &[left, scale(y, *value, bottom, top)]);
    }
    out.push_str("\"/>");
    for (value, label) in &y.ticks {
        let place = scale(y, *value, bottom, top) + 5.0;
        text(out, left - 11.0, place, "end", label);
    }
    text(out, 4.0, 16.0, "start", &y.label);
}

/// Labels of a row, above or below the line, wherever the last ones leave room.
fn labels(out: &mut String, x: &Axis, row: &DotRow, (left, right): (f64, f64), middle: f64) {
    let mut taken: [Vec<(f64, f64)>; 3] = Default::default();
    let heights = [-12.0, 23.0, -26.0];
    for mark in &row.marks {
        let half = width(&mark.label) / 2.0;
        let centre = scale(x, mark.x, left, right)
            .clamp(left + half - 8.0, (right - half + 20.0).max(left + half));
        let free = |slots: &[(f64, f64)]| {
            slots
                .iter()
                .all(|(from, to)| centre + half < *from - 4.0 || centre - half > *to + 4.0)
        };
        let place = (0..heights.len())
            .find(|place| free(&taken[*place]))
            .unwrap_or(heights.len() - 1);
        taken[place].push((centre - half, centre + half));
        text(out, centre, middle + heights[place], "middle", &mark.label);
    }
}

/// A horizontal error bar; one shorter than the mark is not drawn.
fn bar(out: &mut String, from: f64, to: f64, y: f64) {
    if to - from > 9.0 {
        draw(
            out,
            "<path class=\"bar\" d=\"M# #H#M# #v8M# #v8\"/>",
            &[from, y, to, from, y - 4.0, to, y - 4.0],
        );
    }
}

pub(super) fn shape(out: &mut String, shape: Shape, x: f64, y: f64) {
    match shape {
        Shape::OpenCircle => draw(
            out,
            "<circle class=\"open\" cx=\"#\" cy=\"#\" r=\"5\"/>",
            &[x, y],
        ),
        Shape::FilledCircle => draw(
            out,
            "<circle class=\"filled\" cx=\"#\" cy=\"#\" r=\"4.5\"/>",
            &[x, y],
        ),
        Shape::Diamond => draw(
            out,
            "<path class=\"open\" d=\"M# #l6.5 -6.5l6.5 6.5l-6.5 6.5z\"/>",
            &[x - 6.5, y],
        ),
    }
}

fn line((x, y): (&Axis, &Axis), points: &[Point], band: Option<&Band>, wide: f64) -> (f64, String) {
    let widest = y
        .ticks
        .iter()
        .map(|(_, label)| width(label))
        .fold(0.0, f64::max);
    let (left, right, top, bottom) = (at(widest + 44.0), wide - 30.0, 34.0, 274.0);
    let mut out = String::with_capacity(DRAWN);
    if let Some(band) = band {
        let (high, low) = (
            scale(y, band.to, bottom, top),
            scale(y, band.from, bottom, top),
        );
        draw(
            &mut out,
            "<path class=\"band\" d=\"M# #H#V#H#z\"/>",
            &[left, high, right, low, left],
        );
        text(&mut out, left + 8.0, low + 17.0, "start", &band.label);
    }
    x_axis(&mut out, x, (left, right), bottom);
    y_axis(&mut out, y, (top, bottom), left);
    let places: Vec<(f64, f64)> = points
        .iter()
        .map(|point| {
            (
                scale(x, point.x, left, right),
                scale(y, point.y, bottom, top),
            )
        })
        .collect();
    series(places.iter().copied(), &mut out);
    for (point, (px, py)) in points.iter().zip(places) {
        if let Some(half) = point.half {
            let (high, low) = (
                scale(y, point.y + half, bottom, top),
                scale(y, point.y - half, bottom, top),
            );
            draw(
                &mut out,
                "<path class=\"bar\" d=\"M# #V#\"/>",
                &[px, high, low],
            );
        }
        shape(&mut out, Shape::FilledCircle, px, py);
        text(&mut out, px, py - 12.0, "middle", &point.label);
    }
    (at(bottom + 54.0), out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coordinates_are_written_to_a_tenth() {
        for (number, written) in [
            (0.0, "0"),
            (-0.04, "0"),
            (-0.05, "-0.1"),
            (198.25, "198.3"),
            (41.0, "41"),
            (-6.5, "-6.5"),
            (99.96, "100"),
            (1e12, "214748364.7"),
            (f64::NAN, "0"),
        ] {
            let mut out = String::new();
            draw(&mut out, "#", &[number]);
            assert_eq!(out, written, "{number}");
        }
    }
}
