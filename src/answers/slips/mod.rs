//! Slips of calculation: each a wrong way to work one step, carried to the end of the student's own line.
//!
//! A slip that gives the answer typed is offered, never asserted, and never two at once. Slips that cannot be told apart
//! are all offered to the teacher. One file a family; the names of the entries are the ids in JSON.

pub mod bench;
mod dividing;
mod gas;
mod label;
mod leftover;
mod molar_mass;
mod mole_ratio;
mod percent;
mod ratio;
mod reading;
mod trials;
mod writing;

use crate::answers::slips::bench::Bench;
use crate::answers::slips::bench::Layout;
use crate::lab::Lab;
use crate::record::Record;
use crate::words::Words;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Worked;
use crate::working::line::Habit;
use crate::working::line::Line;
use crate::working::line::Rewrite;

/// A known mistake.
pub struct Slip {
    /// Plain words in kebab case.
    pub id: &'static str,
    /// One sentence that sends the student back without giving the answer.
    pub prompt: &'static str,
    /// What it is a mistake in.
    pub family: Family,
    /// How it arises.
    pub(in crate::answers) way: Way,
}

/// What a slip is a mistake in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    /// Taking readings from the sheet, and subtracting them.
    Reading,
    /// Molar masses.
    MolarMass,
    /// Between grams and moles.
    Dividing,
    /// The equation's ratio, the limiting reactant, the leftover.
    Ratio,
    /// Percentages.
    Percent,
    /// The mole ratio found.
    MoleRatio,
    /// Rounding, figures and units.
    Writing,
}

/// How a wrong value arises.
#[derive(Clone, Copy)]
pub(in crate::answers) enum Way {
    /// A step, the one answered or an unanswered one before it, worked one of these ways, the same in every record of
    /// the lab.
    Step(fn(&Layout<'_>, StepId) -> Vec<Expression>),
    /// The same for ways that follow from readings and answers.
    Line(fn(&Bench<'_>, StepId) -> Vec<Expression>),
    /// The answer itself is one of these values; told from others by all its digits.
    Answer(fn(&Bench<'_>) -> Vec<f64>),
    /// The right answer times a power of ten: too far off for chance, so that rounding on the way may come with it.
    Power(fn(&Bench<'_>) -> Vec<f64>),
    /// Judged beside the value: unit and figures.
    Beside,
}

/// A slip that works a step another way.
const fn slip(
    family: Family,
    id: &'static str,
    prompt: &'static str,
    way: fn(&Layout<'_>, StepId) -> Vec<Expression>,
) -> Slip {
    Slip {
        id,
        prompt,
        family,
        way: Way::Step(way),
    }
}

/// A slip that works a step another way, told by what was read and answered.
const fn by_line(
    family: Family,
    id: &'static str,
    prompt: &'static str,
    way: fn(&Bench<'_>, StepId) -> Vec<Expression>,
) -> Slip {
    Slip {
        id,
        prompt,
        family,
        way: Way::Line(way),
    }
}

/// The wrong ways of every slip to work a step, in the order of [`all`]; those of the lab are looked for once.
fn of_the_lab(layout: Layout<'_>, at: StepId) -> &[Vec<Expression>] {
    layout.graph.wrong_ways(at, || {
        let ways = |slip: &Slip| match slip.way {
            Way::Step(ways) => ways(&layout, at),
            Way::Line(_) | Way::Answer(_) | Way::Power(_) | Way::Beside => Vec::new(),
        };
        all().map(ways).collect()
    })
}

/// Whether a slip, by its place in [`all`], works one of the steps in a way that fits.
fn any_way(
    (place, slip): (usize, &Slip),
    bench: &Bench<'_>,
    steps: &[(StepId, &[Vec<Expression>])],
    fits: impl Fn(Rewrite<'_>) -> bool,
) -> bool {
    steps.iter().any(|(at, known)| {
        let any = |ways: &[Expression]| {
            let rewrite = |expression| Rewrite {
                at: *at,
                expression,
            };
            ways.iter().any(|expression| fits(rewrite(expression)))
        };
        match slip.way {
            Way::Step(_) => any(&known[place]),
            Way::Line(ways) => any(&ways(bench, *at)),
            Way::Answer(_) | Way::Power(_) | Way::Beside => false,
        }
    })
}

impl Slip {
    /// What it is called for people: in English the words of its id.
    #[must_use]
    pub fn name(&self, words: &Words) -> String {
        match words.say(self.id) {
            id if id == self.id => id.replace('-', " "),
            own => own.to_owned(),
        }
    }

    /// Whether it explains a wrong value; else it is a remark on unit or figures.
    #[must_use]
    pub const fn explains(&self) -> bool {
        !matches!(self.way, Way::Beside)
    }
}

impl std::fmt::Debug for Slip {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.id)
    }
}

/// What another table of atomic weights may move a wrong value by.
const MOLAR_MASS_VARIANTS: f64 = 0.0008;

/// What honest rounding on the way may move a right value by before its power of ten is lost.
const ROUNDING: f64 = 0.005;

/// Every slip, family by family.
pub fn all() -> impl Iterator<Item = &'static Slip> {
    [
        reading::SLIPS,
        trials::SLIPS,
        molar_mass::SLIPS,
        label::SLIPS,
        dividing::SLIPS,
        gas::SLIPS,
        ratio::SLIPS,
        leftover::SLIPS,
        percent::SLIPS,
        mole_ratio::SLIPS,
        writing::SLIPS,
    ]
    .into_iter()
    .flatten()
}

/// A slip by its id.
#[must_use]
pub fn by_id(id: &str) -> Option<&'static Slip> {
    all().find(|slip| slip.id == id)
}

/// The slips that give the answer on the bench, from earlier answers as typed or, on the `long` line if it is another, from
/// their unrounded values. Of an answer that stands but for rounding, only slips of rounding.
pub(in crate::answers) fn matching(
    bench: &Bench<'_>,
    long: Option<&Bench<'_>>,
    only_rounding: bool,
) -> Vec<&'static Slip> {
    // Nothing at all is what a hundred slips could lead to.
    if bench.number.value == 0.0 {
        return Vec::new();
    }
    let steps = with_ways(bench);
    all()
        .enumerate()
        .filter(|(_, slip)| !only_rounding || slip.family == Family::Writing)
        .filter(|(place, slip)| {
            let mut benches = [Some(bench), long].into_iter().flatten();
            benches.any(|bench| gives((*place, slip), bench, &steps))
        })
        .map(|(_, slip)| slip)
        .collect()
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
    let number = bench.number;
    let fits = |value: f64, variants: f64| {
        let width = number.doubt() + variants * value.abs();
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

/// The wrong values a slip leads to at a step, when nothing else is answered, for an answer of so many figures; in the
/// base unit of the step. Right values and values that cannot be told from them are among them.
#[must_use]
pub fn wrong_values(
    slip: &Slip,
    case: (&Lab, &Graph, &Record, &Worked<'_>),
    step: StepId,
    figures: i32,
) -> Vec<f64> {
    let (lab, graph, record, worked) = case;
    let line = Line::new(graph, &worked.inputs);
    let Some(right) = line
        .worked(step, Habit::Full)
        .filter(|right| right.is_finite())
    else {
        return Vec::new();
    };
    let number = crate::answers::given::Number::rounded(right, figures);
    let bench = Bench {
        layout: Layout { lab, graph },
        record,
        line: &line,
        step,
        number: &number,
        key: right,
        right,
        other_trials: &[],
    };
    let ways: &dyn Fn(StepId) -> Vec<Expression> = match &slip.way {
        Way::Beside => return Vec::new(),
        Way::Answer(values) | Way::Power(values) => return values(&bench),
        Way::Step(ways) => &|at| ways(&bench, at),
        Way::Line(ways) => &|at| ways(&bench, at),
    };
    open_steps(graph, &line, step)
        .into_iter()
        .flat_map(|at| ways(at).into_iter().map(move |expression| (at, expression)))
        .filter_map(|(at, expression)| {
            line.rewritten(
                step,
                Rewrite {
                    at,
                    expression: &expression,
                },
            )
        })
        .collect()
}

/// The slips by which another reactant would seem to run out first.
pub(in crate::answers) fn matching_reactant(
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

/// The step answered and every unanswered step it is worked from without an answer between.
fn open_steps(graph: &Graph, line: &Line<'_>, step: StepId) -> Vec<StepId> {
    let mut found = vec![step];
    let mut place = 0;
    while place < found.len() {
        for earlier in &graph.uses(found[place]).steps {
            if line.answer(*earlier).is_none() && !found.contains(earlier) {
                found.push(*earlier);
            }
        }
        place += 1;
    }
    found
}

/// Whether a step is of one of the kinds that moles are worked in.
const fn is_moles(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Moles(_) | Kind::MolesCollected(_) | Kind::MolesUsed(_)
    )
}
