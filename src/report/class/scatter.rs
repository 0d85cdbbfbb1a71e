//! The plot of moles against moles, with the lines of the ratios that the equations allow.

use crate::class::Pool;
use crate::class::pool::FEWEST;
use crate::class::pool::candidates;
use crate::report::charts::axis;
use crate::report::class::plots::FEWEST_TOGETHER;
use crate::report::class::plots::about;
use crate::report::class::plots::marked_by;
use crate::report::compose::sentence_case;
use crate::report::drawing::Drawing;
use crate::report::model::Chart;
use crate::say;
use crate::working::show;

/// Moles of product collected against moles of reactant used, with a line from zero for each candidate ratio.
pub(super) fn scatter(pool: &Pool<'_>, pair: usize) -> Option<Chart> {
    let wording = &pool.lab.words;
    let (p, r) = pool.kept.pairs[pair];
    let (product, reactant) = (&pool.lab.substances[p].name, &pool.lab.substances[r].name);
    let mut points: Vec<(f64, f64)> = pool
        .entries
        .iter()
        .filter_map(|entry| entry.pairs[pair])
        .map(|(used, made)| (1000.0 * used, 1000.0 * made))
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let ends = |of: fn(&(f64, f64)) -> f64| {
        let least = points.iter().map(of).fold(f64::INFINITY, f64::min);
        let most = points.iter().map(of).fold(0.0, f64::max);
        let room = 0.15 * (most - least) + 0.02 * most;
        ((least - room).max(0.0), most + room)
    };
    let (x, y) = (ends(|point| point.0), ends(|point| point.1));
    let single = pool.shows_groups() && points.len() >= FEWEST;
    // Where single values of the reactant are shown, a point above one of them would tell whose it is.
    let told = !single && (pool.shows_groups() || points.len() < FEWEST_TOGETHER);
    if points.is_empty() || told || x.1 <= 0.0 || y.1 <= 0.0 {
        return None;
    }
    let lines: Vec<(f64, String)> = candidates(pool.lab, p, r)
        .into_iter()
        .map(|(slope, words)| (slope, format!("{product} : {reactant} = {words}")))
        .collect();
    // A description of thousands of points would help nobody; the plot's text holds them all.
    let listed: Vec<String> = points
        .iter()
        .take(60)
        .map(|(used, made)| {
            say!(
                wording,
                "{used} and {made}",
                used = show::chart_number(wording, *used),
                made = show::chart_number(wording, *made)
            )
        })
        .collect();
    let slopes: Vec<String> = lines.iter().map(|(_, words)| words.clone()).collect();
    let used = say!(wording, "{reactant} used / mmol", reactant = reactant);
    let collected = say!(wording, "{product} collected / mmol", product = product);
    Some(Chart {
        id: format!("class-moles-{pair}"),
        title: say!(
            wording,
            "Moles of {product} against moles of {reactant}",
            product = product,
            reactant = reactant
        ),
        description: if single {
            say!(
                wording,
                "{reactant} used and {product} collected, in mmol, a group each: {points}.",
                reactant = reactant,
                product = product,
                points = listed.join("; ")
            )
        } else {
            say!(
                wording,
                "{reactant} used and {product} collected, in mmol, for {count} groups.",
                reactant = reactant,
                product = product,
                count = points.len()
            )
        },
        caption: say!(
            wording,
            "{product} collected against {reactant} used, a dot a group, in mmol.{lines} Damp product lies above its line; reactant lost, or taken by a side reaction, to the right of it.",
            product = sentence_case(product),
            reactant = reactant,
            lines = marked_by(wording, &slopes)
        ),
        text: {
            let listed = points.iter().filter(|_| single);
            let rows = listed.map(|(used, made)| {
                format!(
                    "{:>10}  {:>10}",
                    show::chart_number(wording, *used),
                    show::chart_number(wording, *made)
                )
            });
            let head = format!("{used}, {collected}");
            std::iter::once(head)
                .chain(rows)
                .collect::<Vec<_>>()
                .join("\n")
        },
        drawing: {
            let (x, y) = (
                axis((&used, wording), x.0, x.1),
                axis((&collected, wording), y.0, y.1),
            );
            if !single {
                for point in &mut points {
                    *point = (about(point.0, &x), about(point.1, &y));
                }
            }
            Drawing::Scatter {
                x,
                y,
                points,
                lines,
            }
        },
    })
}
