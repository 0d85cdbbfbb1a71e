//! Slips of calculation: each a wrong way to work one step, carried to the end of the student's own line.
//!
//! A slip that gives the answer typed is offered, never asserted, and never two at once. Slips that cannot be told apart
//! are all offered to the teacher. One file a family; the names of the entries are the ids in JSON.

pub mod bench;
mod dividing;
mod gas;
mod label;
mod leftover;
pub(in crate::answers) mod matching;
mod molar_mass;
mod mole_ratio;
mod percent;
mod ratio;
mod reading;
mod relation;
mod trials;
pub(in crate::answers) mod writing;

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

    /// Whether hardly anybody makes it where no molar mass is asked for: the water of a hydrate is forgotten often, other
    /// things in a molar mass are not.
    fn is_far_fetched(&self, asked: Kind) -> bool {
        self.family == Family::MolarMass
            && !self.id.starts_with("water-")
            && !matches!(asked, Kind::MolarMass(_))
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

/// Every slip, family by family.
pub fn all() -> impl Iterator<Item = &'static Slip> {
    [
        reading::SLIPS,
        trials::SLIPS,
        molar_mass::SLIPS,
        label::SLIPS,
        dividing::SLIPS,
        relation::SLIPS,
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

/// The step answered and every unanswered step it is worked from without an answer between.
pub(in crate::answers) fn open_steps(graph: &Graph, line: &Line<'_>, step: StepId) -> Vec<StepId> {
    graph.worked_through(step, |earlier| line.answer(earlier).is_none())
}

/// Whether a step is of one of the kinds that moles are worked in.
const fn is_moles(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Moles(_) | Kind::MolesCollected(_) | Kind::MolesUsed(_)
    )
}
