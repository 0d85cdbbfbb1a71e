//! The percent yield split into completion and recovery: what the two say together, and their chart.

use crate::causes::Weighed;
use crate::lab::UncertaintyRule;
use crate::measure::rounding;
use crate::report::charts;
use crate::report::compose::Case;
use crate::report::drawing::Drawing;
use crate::report::drawing::Point;
use crate::report::drawing::Region;
use crate::report::evidence;
use crate::report::model::Chart;
use crate::say;
use crate::words::Words;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::show;

/// How the yield of a product splits, judged by a reactant.
struct Split {
    product: usize,
    reactant: usize,
    completion: (StepId, f64, f64),
    recovery: (StepId, f64, f64),
    /// Percent yield, and how far it may be off by the lab's rule.
    whole: (f64, f64),
    /// The multiple of such a doubt that the readings alone may explain.
    coverage: f64,
}

/// Sentences and chart; nothing unless every step they show is open.
pub(in crate::report) fn split(
    case: &Case<'_>,
    weighed: &Weighed<'_>,
) -> (Vec<String>, Option<Chart>) {
    // Which equation the split belongs to may be what is asked.
    if case.asks_which_equation() {
        return (Vec::new(), None);
    }
    let equation = weighed.scene.equation;
    let splits: Vec<Split> = case
        .graph
        .ids()
        .filter_map(|id| find(case, equation, id))
        .collect();
    let sentences = splits
        .iter()
        .flat_map(|split| say(case, weighed, split))
        .collect();
    let chart = splits.first().map(|split| chart(case, split));
    (sentences, chart)
}

/// A split, where its steps are known and open.
fn find(case: &Case<'_>, equation: usize, recovery: StepId) -> Option<Split> {
    let step = case.graph.step(recovery);
    let Kind::Recovery(product, reactant) = step.kind else {
        return None;
    };
    let of = |kind| case.graph.of_equation(equation, kind);
    // What was taken up may come from the product's own readings: then the two parts say nothing that the yield does not.
    case.graph.of_kind(Kind::MeasuredLeft(reactant))?;
    let completion = of(Kind::Completion(reactant))?;
    let whole = of(Kind::PercentYield(product))?;
    let open = case.open.all(&[recovery, completion, whole]);
    let number = |id: StepId| {
        let value = case.worked.value(id)?;
        Some((value.approximate(), evidence::doubt(case, value).0))
    };
    let (x, r) = (number(completion)?, number(recovery)?);
    (step.equation == equation && open).then_some(Split {
        product,
        reactant,
        completion: (completion, x.0, x.1),
        recovery: (recovery, r.0, r.1),
        whole: number(whole)?,
        coverage: evidence::doubt(case, case.worked.value(whole)?).1,
    })
}

/// A value with its uncertainty, where the lab works with any.
fn with_doubt(case: &Case<'_>, (id, _, standard): (StepId, f64, f64)) -> String {
    let words = &case.lab.words;
    let step = case.graph.step(id);
    let value = case.worked.value(id);
    match show::doubt_number(standard) {
        Some(doubt) if case.lab.policy.uncertainty != UncertaintyRule::None => {
            let exact = value.map(|value| value.exact.clone()).unwrap_or_default();
            let number = rounding::to_places(&exact, doubt.places(), case.lab.policy.rounding);
            format!(
                "{}{nb}±{nb}{}",
                show::written(words, show::plain(number, step.unit)),
                show::written(words, show::plain(doubt, step.unit)),
                nb = show::NO_BREAK
            )
        }
        _ => value.map_or_else(String::new, |value| {
            show::value(case.lab, step, value, &case.worked.inputs)
        }),
    }
}

fn say(case: &Case<'_>, weighed: &Weighed<'_>, split: &Split) -> Vec<String> {
    let scene = &weighed.scene;
    let (product, reactant) = (scene.name(split.product), scene.name(split.reactant));
    vec![
        say!(
            case.lab.words,
            "Percent yield = 100 % × completion × recovery. Judged by {reactant}, completion (used ÷ needed) is {completion}; recovery ({product} collected ÷ what the used \
             {reactant} should have made) is {recovery}.",
            reactant = reactant,
            product = product,
            completion = with_doubt(case, split.completion),
            recovery = with_doubt(case, split.recovery)
        ),
        reading(weighed, split),
    ]
}

/// What completion and recovery say together; deviations count from where the readings alone explain them no more.
fn reading(weighed: &Weighed<'_>, split: &Split) -> String {
    let scene = &weighed.scene;
    let (product, left) = (scene.name(split.product), scene.name(split.reactant));
    let limiting = scene
        .limiting
        .first()
        .map_or(scene.lab.words.say("limiting reactant"), |index| {
            scene.name(*index)
        });
    let side = |value: f64, target: f64, standard: f64| -> i8 {
        let off = (value - target) / standard.max(f64::MIN_POSITIVE);
        i8::from(off > split.coverage) - i8::from(off < -split.coverage)
    };
    let x = side(split.completion.1, 1.0, split.completion.2);
    let r = side(split.recovery.1, 1.0, split.recovery.2);
    let y = side(split.whole.0, 100.0, split.whole.1);
    let words = &weighed.scene.lab.words;
    // What is titrated is neither damp nor in pieces.
    let weighs = scene.weighs(Kind::MeasuredLeft(split.reactant));
    if !weighs && let Some(says) = titrated((x, r, y), words, [left, product, limiting]) {
        return says;
    }
    match (x, r, y) {
        (0, 0, 0) => say!(words, "Both are 1 as far as the readings can tell."),
        (0, 0, _) => {
            say!(
                words,
                "Neither part is off by more than the readings can tell; only together do they show."
            )
        }
        (0, 1, _) => say!(
            words,
            "The {left} says that the reaction went to its end; more was weighed as {product} than it can have made. Something else was weighed with it: water, oxygen, or salt.",
            left = left,
            product = product
        ),
        (0, -1, _) => say!(
            words,
            "The {left} says that the reaction went to its end; some of the {product} it made is missing.",
            left = left,
            product = product
        ),
        (-1, 0, _) => say!(
            words,
            "Less {left} is gone than should be, and the {product} agrees with it: the reaction was not at its end, or there was less {limiting} than its mass says.",
            left = left,
            product = product,
            limiting = limiting
        ),
        (1, 0, _) => say!(
            words,
            "More {left} is gone than the equation can use, and the {product} is heavier in step: pieces of {left} in the {product}, or more {limiting} than its mass says.",
            left = left,
            product = product,
            limiting = limiting
        ),
        (1, -1, 0) => say!(
            words,
            "The percent yield looks right, but its parts do not: more {left} is gone than the equation can use. Either only the {left} is off (something else attacked it, or pieces were lost), or two opposite errors cancel in the percent yield.",
            left = left
        ),
        (-1, 1, 0) => say!(
            words,
            "The percent yield looks right, but its parts do not: less {left} is gone than should be. Either only the {left} left over is off (damp, or with {product} on it), or two opposite errors cancel in the percent yield, such as a reaction not at its end and {product} that was not dry.",
            left = left,
            product = product
        ),
        (1, -1, -1) => say!(
            words,
            "More {left} is gone than the equation can use, and less {product} was weighed than could form: two things happened, or one that takes from both.",
            left = left,
            product = product
        ),
        (1, -1, _) => say!(
            words,
            "More {left} is gone than the equation can use and more {product} was weighed than could form, though less than the {left} used would make: pieces of {left} in the {product} fit that.",
            left = left,
            product = product
        ),
        (-1, 1, -1) => say!(
            words,
            "Less {left} is gone and less {product} was weighed than should be, but more than the {left} used can have made: {product} still on the {left} fits that, or a reaction not at its end with {product} that was not dry.",
            left = left,
            product = product
        ),
        (-1, 1, _) => say!(
            words,
            "Less {left} is gone than should be, and yet more {product} was weighed than could form: two things happened.",
            left = left,
            product = product
        ),
        (1, _, _) => say!(
            words,
            "More {left} is gone than the equation can use, and even more was weighed as {product}: two things happened.",
            left = left,
            product = product
        ),
        (_, _, _) => say!(
            words,
            "Less {left} is gone than should be, and some of the {product} it made is missing as well: two things happened, and both make the yield low.",
            left = left,
            product = product
        ),
    }
}

/// The same of a leftover that is not put on a balance, where that makes a difference.
fn titrated(
    sides: (i8, i8, i8),
    words: &Words,
    [left, product, limiting]: [&str; 3],
) -> Option<String> {
    Some(match sides {
        (1, 0, _) => say!(
            words,
            "More {left} is gone than the equation can use, and the {product} is heavier in step: there was more {limiting} than its mass says, or two things happened.",
            left = left,
            product = product,
            limiting = limiting
        ),
        (1, -1, 0) => say!(
            words,
            "The percent yield looks right, but its parts do not: more {left} is gone than the equation can use. Either only the {left} is off (less was taken than is written down, or some was lost), or two opposite errors cancel in the percent yield.",
            left = left
        ),
        (-1, 1, 0) => say!(
            words,
            "The percent yield looks right, but its parts do not: less {left} is gone than should be. Either only the {left} is off (more was taken than is written down, or too much was found), or two opposite errors cancel in the percent yield, such as a reaction not at its end and {product} that was not dry.",
            left = left,
            product = product
        ),
        (1, -1, 1) => say!(
            words,
            "More {left} is gone than the equation can use and more {product} was weighed than could form, though less than the {left} used would make: two things happened.",
            left = left,
            product = product
        ),
        (-1, 1, -1) => say!(
            words,
            "Less {left} is gone and less {product} was weighed than should be, but more than the {left} used can have made: a reaction not at its end with {product} that was not dry fits that.",
            left = left,
            product = product
        ),
        _ => return None,
    })
}

fn chart(case: &Case<'_>, split: &Split) -> Chart {
    const STEPS: u32 = 24;
    let words = &case.lab.words;
    let name = |index: usize| {
        let substance = &case.lab.substances[index];
        substance.weighed_name.as_ref().unwrap_or(&substance.name)
    };
    let (product, left) = (name(split.product), name(split.reactant));
    let ((_, x, across), (_, r, up)) = (split.completion, split.recovery);
    let shows = case.lab.policy.uncertainty != UncertaintyRule::None;
    // The same reach on both axes, with the point and its bars well inside.
    let reach = ((x - 1.0).abs() + across)
        .max((r - 1.0).abs() + up)
        .max(0.04)
        * 1.3;
    let axis = |label: &str| charts::axis((label, words), 1.0 - reach, 1.0 + reach);
    let (x_axis, y_axis) = (axis(words.say("completion")), axis(words.say("recovery")));
    let region = |across: i8, up: i8, label: String| Region { label, across, up };
    let regions = vec![
        region(
            -1,
            1,
            say!(
                words,
                "{left} left over damp, or {product} on it",
                left = left,
                product = product
            ),
        ),
        region(
            0,
            1,
            say!(
                words,
                "something weighed with the {product}",
                product = product
            ),
        ),
        region(-1, 0, say!(words, "not at its end")),
        region(
            1,
            0,
            say!(
                words,
                "{left} in the {product}",
                left = left,
                product = product
            ),
        ),
        region(
            0,
            -1,
            say!(words, "some {product} missing", product = product),
        ),
        region(
            1,
            -1,
            say!(words, "{left} lost, or a side reaction", left = left),
        ),
    ];
    // Short of the corners, where the words of the regions stand.
    let curve: Vec<(f64, f64)> = (0..=STEPS)
        .map(|step| {
            let share = 2.0 * f64::from(step) / f64::from(STEPS) - 1.0;
            let x = 1.0 + 0.6 * share * (x_axis.to - 1.0);
            (x, 1.0 / x)
        })
        .filter(|(_, y)| (y_axis.from..=y_axis.to).contains(y))
        .collect();
    let completion = with_doubt(case, split.completion);
    let recovery = with_doubt(case, split.recovery);
    let bars = charts::bars(case).map_or_else(String::new, |bars| {
        say!(words, ", bars {bars} either way", bars = bars)
    });
    Chart {
        id: "completion-recovery".to_owned(),
        title: say!(words, "Completion and recovery"),
        description: say!(
            words,
            "Completion {completion} across, recovery {recovery} up. Right of 1: more {left} gone than needed; left: less. Above 1: more {product} than the used {left} can have made; below: less.",
            completion = completion,
            recovery = recovery,
            left = left,
            product = product
        ),
        caption: say!(
            words,
            "Completion, judged by {left}, and recovery of {product}: ● this group{bars}. On the curve the percent yield is 100 %. The words name what \
             takes a point there.",
            left = left,
            product = product,
            bars = bars
        ),
        text: say!(
            words,
            "completion  {completion}   (1: all that the equation needs was used)\nrecovery    {recovery}   (1: all that the used {left} can make was weighed)",
            completion = completion,
            recovery = recovery,
            left = left
        ),
        drawing: Drawing::Plane {
            x: x_axis,
            y: y_axis,
            point: Point {
                x,
                y: r,
                half: shows.then_some(up),
                label: say!(words, "group {group}", group = case.record.who.group),
            },
            half_across: shows.then_some(across),
            centre: 1.0,
            regions,
            curve: (curve, say!(words, "percent yield 100 %")),
        },
    }
}
