//! Which slips an answer shows: by its value, or by the reactant it names.

use crate::answers::given::Number;
use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::Way;
use crate::answers::slips::all;
use crate::answers::slips::any_way;
use crate::answers::slips::bench::Bench;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::by_id;
use crate::answers::slips::dividing::AMOUNT_FOR_MASS;
use crate::answers::slips::of_the_lab;
use crate::answers::slips::open_steps;
use crate::answers::slips::percent::FRACTION;
use crate::answers::slips::relation::FACTOR;
use crate::answers::slips::writing::CUT;
use crate::answers::tables::ROUNDED_WEIGHTS;
use crate::answers::tables::Tables;
use crate::lab::Lab;
use crate::measure::Unit;
use crate::record::Record;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::line::Habit;
use crate::working::line::Line;
use crate::working::line::Rewrite;

/// What another table of atomic weights may move a wrong value by.
const MOLAR_MASS_VARIANTS: f64 = 0.0008;

/// What honest rounding on the way may move a right value by before its power of ten is lost.
const ROUNDING: f64 = 0.005;

/// Half a unit of the last of two figures is more than this part of a value.
const FEW_FIGURES: f64 = 0.005;

/// The most, as a part of a value, that the single figure of an answer may be away from it.
const COARSEST: f64 = 0.05;

/// How many times nearer to the answer than the right value a slip has to come where rounding would explain it too.
const NEARER: f64 = 3.0;

/// What other atomic weights may move a value by that is to explain an answer better than rounding.
const NEAREST: f64 = 0.0003;

/// The slips thought of where a leftover has so few figures that most of the others would fit some answer: those made often.
const OF_SMALL_LEFTOVERS: &[&str] = &[
    "used-for-leftover",
    "measured-for-predicted",
    "leftover-in-moles",
    "water-left-out",
    "leftover-by-another-reactant",
    "ratio-ignored",
    "ratio-turned-over",
    "rounded-too-early",
    ROUNDED_WEIGHTS,
    CUT,
];

/// Slips that leave out the last step, and so are plain wherever they fit.
const PLAIN: &[&str] = &[AMOUNT_FOR_MASS, FRACTION];

/// The slips that give the answer on the bench, from earlier answers as typed or, on the `long` line if it is another, from
/// their unrounded values. Of an answer that stands but for rounding, only slips of rounding.
fn by_value(
    bench: &Bench<'_>,
    long: Option<&Bench<'_>>,
    only_rounding: bool,
) -> Vec<&'static Slip> {
    // Nothing at all is what a hundred slips could lead to.
    if bench.number.value == 0.0 {
        return Vec::new();
    }
    let steps = with_ways(bench);
    // A single figure of an amount is what nearly everything comes to.
    let says_little = bench.number.is_single_figure()
        && !matches!(bench.of(bench.step).unit, Unit::One | Unit::Percent);
    let mut found: Vec<&'static Slip> = all()
        .enumerate()
        .filter(|(_, slip)| !only_rounding || slip.family == Family::Writing)
        .filter(|(_, slip)| !says_little || matches!(slip.way, Way::Power(_)))
        .filter(|(place, slip)| {
            let benches = || [Some(bench), long].into_iter().flatten();
            // What the calculator's own digits round to was not cut.
            let rounds = |bench: &Bench<'_>| {
                (bench.right - bench.number.value).abs() <= bench.number.doubt() * (1.0 + 1e-9)
            };
            !(slip.id == CUT && benches().any(rounds))
                && benches().any(|bench| gives((*place, slip), bench, &steps))
        })
        .map(|(_, slip)| slip)
        .collect();
    // What explains all digits by a step that is missing stands for others that come near it by chance.
    if let Some(plain) = found.iter().find(|slip| PLAIN.contains(&slip.id)).copied() {
        found = vec![plain];
    }
    // A number of the relation that is missing says more than a point in the wrong place.
    if found.iter().any(|slip| slip.id == FACTOR) {
        found.retain(|slip| !matches!(slip.way, Way::Power(_)));
    }
    found
}

/// How near an answer that stands but for rounding is to the right value.
#[derive(Clone, Copy)]
pub(in crate::answers) struct Band<'t> {
    /// No usual rounding on the way leads to it.
    pub(in crate::answers) unlike: bool,
    /// A shorter table of atomic weights does.
    pub(in crate::answers) by_table: bool,
    /// Lines by those tables.
    pub(in crate::answers) tables: &'t Tables,
}

/// The slips that explain an answer: of one in the band that is forgiven as rounding, what is said beside it, and at no cost.
pub(in crate::answers) fn explaining(
    bench: &Bench<'_>,
    long: Option<&Bench<'_>>,
    band: Option<Band<'_>>,
) -> Vec<&'static Slip> {
    let mut found = by_value(bench, long, band.is_some());
    if let Some(band) = band {
        let nearer = if band.unlike {
            nearer(bench, long)
        } else {
            Vec::new()
        };
        let tightly = |line: Line<'_>| {
            let worked = line.worked(bench.step, Habit::Full);
            worked.is_some_and(|worked| to_the_last_digit(bench.number, worked))
        };
        let one = nearer.len() == 1;
        if band.by_table && (!one || band.tables.lines(bench.lab, bench.line).any(tightly)) {
            found = by_id(ROUNDED_WEIGHTS).into_iter().collect();
        } else if one && found.iter().all(|slip| slip.id == CUT) {
            found = nearer;
        }
    }
    if found.iter().any(|slip| slip.id == ROUNDED_WEIGHTS) {
        found.retain(|slip| slip.id == ROUNDED_WEIGHTS);
    }
    found
}

/// The slips that explain an answer on the first of some other lines where any does.
pub(in crate::answers) fn on_lines(bench: &Bench<'_>, lines: &[Line<'_>]) -> Vec<&'static Slip> {
    let slips = lines.iter().map(|line| {
        let on_it = Bench {
            line,
            right: line.worked(bench.step, Habit::Full).unwrap_or(bench.key),
            ..*bench
        };
        explaining(&on_it, None, None)
    });
    let mut slips = slips.filter(|slips| !slips.is_empty());
    slips.next().unwrap_or_default()
}

/// The slips that give an answer to its last digits where only rounding on the way would lead to it from the right value.
fn nearer(bench: &Bench<'_>, long: Option<&Bench<'_>>) -> Vec<&'static Slip> {
    let number = bench.number;
    let away = (number.value - bench.key)
        .abs()
        .min((number.value - bench.right).abs());
    if last_digit(number) * NEARER > away {
        return Vec::new();
    }
    let steps = with_ways(bench);
    let gives = |(place, slip): (usize, &Slip)| {
        let mut benches = [Some(bench), long].into_iter().flatten();
        benches.any(|bench| {
            any_way((place, slip), bench, &steps, |rewrite| {
                let value = bench.line.rewritten(bench.step, rewrite);
                value.is_some_and(|value| to_the_last_digit(number, value))
            })
        })
    };
    all()
        .enumerate()
        .filter(|(_, slip)| slip.family != Family::Writing)
        .filter(|(place, slip)| gives((*place, slip)))
        .map(|(_, slip)| slip)
        .collect()
}

/// Whether an answer has so few figures that nearly every one is what some slip leads to.
pub(in crate::answers) fn has_few_figures(number: &Number) -> bool {
    number.doubt() > FEW_FIGURES * number.value.abs()
}

/// What may lie between an answer and a value that gives it to its last digit.
fn last_digit(number: &Number) -> f64 {
    number.doubt() + NEAREST * number.value.abs()
}

/// Whether a value gives an answer to its last digit.
pub(in crate::answers) fn to_the_last_digit(number: &Number, value: f64) -> bool {
    (value - number.value).abs() <= last_digit(number)
}

/// The steps that a slip may have been made in, each with the wrong ways of the lab to work it.
fn with_ways<'a>(bench: &Bench<'a>) -> Vec<(StepId, &'a [Vec<Expression>])> {
    let steps = open_steps(bench.graph, bench.line, bench.step).into_iter();
    steps.map(|at| (at, of_the_lab(bench.layout, at))).collect()
}

/// Whether a slip gives the answer on the bench.
fn gives(
    (place, slip): (usize, &Slip),
    bench: &Bench<'_>,
    steps: &[(StepId, &[Vec<Expression>])],
) -> bool {
    // Most slips are made in other steps than these.
    if matches!(slip.way, Way::Step(_)) && steps.iter().all(|(_, known)| known[place].is_empty()) {
        return false;
    }
    let number = bench.number;
    let asked = bench.of(bench.step);
    // A leftover near nothing is near what many slips lead to.
    if matches!(asked.kind, Kind::ExpectedLeft(_))
        && has_few_figures(number)
        && !matches!(slip.way, Way::Power(_))
        && !OF_SMALL_LEFTOVERS.contains(&slip.id)
    {
        return false;
    }
    // By so few figures nearly every answer is what some slip leads to: only those made often are thought of.
    if has_few_figures(number) && slip.is_far_fetched(asked.kind) {
        return false;
    }
    let fits = |value: f64, variants: f64| {
        let width = number.doubt().min(COARSEST * value.abs()) + variants * value.abs();
        let near = |other: f64| (value - other).abs() <= width + 1e-9 * value.abs();
        // A value that cannot be told from the right one is no slip.
        value.is_finite() && near(number.value) && !near(bench.right) && !near(bench.key)
    };
    match slip.way {
        Way::Answer(values) => return values(bench).into_iter().any(|value| fits(value, 0.0)),
        Way::Power(values) => {
            let mut values = values(bench).into_iter();
            return values.any(|value| fits(value, ROUNDING));
        }
        Way::Step(_) | Way::Line(_) | Way::Beside => {}
    }
    let exact = bench.graph.uses(bench.step).is_difference;
    let variants = if exact { 0.0 } else { MOLAR_MASS_VARIANTS };
    any_way((place, slip), bench, steps, |rewrite| {
        let value = bench.line.rewritten(bench.step, rewrite);
        value.is_some_and(|value| fits(value, variants))
    })
}

/// The slips by which another reactant would seem to run out first.
pub(in crate::answers) fn by_reactant(
    lab: &Lab,
    graph: &Graph,
    record: &Record,
    line: &Line<'_>,
    step: StepId,
    named: &[usize],
) -> Vec<&'static Slip> {
    let nothing = crate::answers::given::Number {
        value: 0.0,
        half: 0.0,
        zeros: 0,
        written: crate::measure::Decimal::new(0, 0),
        unit: crate::answers::given::WrittenUnit::Fits,
        whole: false,
        claim: false,
    };
    let right = line.worked(step, Habit::Full).unwrap_or(f64::NAN);
    let bench = Bench {
        layout: Layout { lab, graph },
        record,
        line,
        step,
        number: &nothing,
        key: right,
        right,
        other_trials: &[],
    };
    let steps = with_ways(&bench);
    let leads = |rewrite: Rewrite<'_>| {
        if rewrite.at == step {
            // A choice by a wrong rule: the share of the one chosen.
            let value = line.rewritten(step, rewrite);
            named.len() == 1 && value.is_some() && value == share(graph, line, step, named[0])
        } else {
            line.limiting(step, Some(rewrite)) == named
        }
    };
    let mut found: Vec<&Slip> = all()
        .enumerate()
        .filter(|(place, slip)| any_way((*place, slip), &bench, &steps, leads))
        .map(|(_, slip)| slip)
        .collect();
    // A choice by a wrong rule is the plain reading of a wrong choice.
    if found.iter().any(|slip| slip.id.starts_with("limiting-by-")) {
        found.retain(|slip| slip.id.starts_with("limiting-by-"));
    }
    found
}

/// One candidate's moles ÷ coefficient on the student's line.
fn share(graph: &Graph, line: &Line<'_>, step: StepId, substance: usize) -> Option<f64> {
    let Expression::Smallest(candidates) = &graph.step(step).expression else {
        return None;
    };
    let candidate = candidates
        .iter()
        .find(|candidate| candidate.substance == substance)?;
    line.value(&candidate.share)
}
