//! What at the bench could explain the results, weighed: direction, size and evidence, never a student's paragraph.
//!
//! | file | holds |
//! |---|---|
//! | `deviation` | how far each measured amount is off, alone and together |
//! | `scene` | what kind of experiment it is, from what the lab measures |
//! | `bench` | how its amounts were measured, and what stays dissolved |
//! | `matter` | what its substances are like, and how the end of its reaction shows |
//! | `effect`, `undo`, `amount` | what a cause does to the readings, undone, and the amount that explains the deviations |
//! | `catalogue` | the causes known |
//! | `weigh` | which of them fit, strongest evidence first, and which are ruled out |
//! | `evidence`, `notes`, `weighings` | signs, drying series and words of the notes that speak for or against one |
//! | `vocabulary` | words by which students' own text is recognised, in their language |
//! | `mention`, `held`, `places`, `about`, `recognise` | which substances and which cause those words mean |
//! | `beside` | what they name that is no substance of the equation |
//! | `grain` | how coarse a reactant is said to be |
//! | `told` | what students name that is answered without weighing it |
//! | `own`, `direction` | the students' own causes, tested |
//! | `still_off` | the lab's own quantities that causes leave off |
//! | `equation` | which of several equations the data favour |

mod about;
mod amount;
mod bench;
mod beside;
pub mod catalogue;
pub mod deviation;
mod direction;
pub mod effect;
pub mod equation;
mod evidence;
mod grain;
mod held;
pub mod matter;
mod mention;
mod misread;
mod notes;
mod own;
mod places;
mod recognise;
pub mod scene;
mod still_off;
mod told;
mod undo;
pub mod vocabulary;
mod weigh;
mod weighings;

pub use catalogue::Cause;
pub use catalogue::Limit;
pub use deviation::Deviation;
pub use deviation::Deviations;
pub use deviation::Measure;
pub use effect::Effect;
pub use effect::Solved;
pub use equation::Decision;
pub use equation::Instead;
pub use evidence::Evidence;
pub use evidence::of as evidence;
pub use notes::hints;
pub use own::Own;
pub use scene::Scene;
pub use weigh::Fit;
pub use weigh::Listed;
pub use weigh::RuledOut;
pub use weigh::Why;

use std::cell::OnceCell;
use std::rc::Rc;

use crate::lab::Lab;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Worked;
use crate::working::drying;
use crate::working::drying::Series;
use crate::working::line::Line;
use crate::working::line::Standing;

/// The causes of a record, weighed.
#[derive(Debug)]
pub struct Weighed<'a> {
    /// The experiment they are weighed in.
    pub scene: Scene<'a>,
    /// How far the measured amounts are off.
    pub deviations: Deviations,
    /// Whether that is more than the readings alone explain.
    pub beyond: bool,
    /// Causes that fit in direction and size, strongest evidence first; none unless `beyond`.
    pub listed: Vec<Listed>,
    /// Quantities of the lab's own, named, that the causes listed leave off from their accepted values.
    pub still_off: Vec<String>,
    /// Causes that reports name from habit and that the numbers speak against.
    pub ruled_out: Vec<RuledOut>,
    /// The students' own causes, in the file's order.
    pub own: Vec<Own>,
    /// Which of several equations the data favour; `None` where the lab has only one.
    pub decision: Option<Decision>,
}

/// Weighs the causes of a record, looking only at steps that may be seen.
#[must_use]
pub fn weigh<'a>(
    lab: &'a Lab,
    graph: &'a Graph,
    record: &'a Record,
    worked: &'a Worked<'a>,
    open: &dyn Fn(StepId) -> bool,
) -> Weighed<'a> {
    weigh_as(lab, graph, record, worked, (open, false))
}

/// Weighs nothing, whatever was measured: the students still have to say which of several equations their data favour.
#[must_use]
pub fn weigh_later<'a>(
    lab: &'a Lab,
    graph: &'a Graph,
    record: &'a Record,
    worked: &'a Worked<'a>,
) -> Weighed<'a> {
    weigh_as(lab, graph, record, worked, (&|_| false, true))
}

/// Weighs the causes by what is open; the second of the pair tells that which equation holds is still asked.
fn weigh_as<'a>(
    lab: &'a Lab,
    graph: &'a Graph,
    record: &'a Record,
    worked: &'a Worked<'a>,
    (open, asks_equation): (&dyn Fn(StepId) -> bool, bool),
) -> Weighed<'a> {
    let dried: Rc<[Series<'a>]> = drying::series(lab, record, &worked.instruments).into();
    let mut decision = equation::decide(lab, graph, worked, open);
    let mut deviations = Deviations::of(lab, graph, worked, 0, open);
    let mut favoured = 0;
    if let Some(decision) = &mut decision
        && let Some(equation) = decision.favoured.filter(|equation| *equation > 0)
    {
        let other = Deviations::of(lab, graph, worked, equation, open);
        if other.distance() < deviations.distance() {
            let own = scene(lab, graph, record, worked, 0, (&deviations, &dried));
            decision.instead = equation::instead(&own, &deviations);
            let supported = decision.instead.as_ref().is_some_and(|one| one.supported);
            if equation::agrees(graph, worked, equation, &other) && !supported {
                (favoured, deviations) = (equation, other);
            } else {
                decision.doubted = Some(equation);
                decision.favoured = None;
            }
        } else {
            // A product too heavy moves the ratio, but not what is left: all amounts together know better.
            decision.contradicted = Some(equation);
            decision.favoured = None;
        }
    }
    if deviations.hidden {
        // What is hidden may speak against any cause: none is weighed before all that was measured may be looked at.
        deviations.forget();
    }
    let scene = scene(lab, graph, record, worked, favoured, (&deviations, &dried));
    let beyond =
        !deviations.all.is_empty() && deviations.beyond_the_readings(lab.policy.uncertainty);
    let (listed, ruled_out) = if beyond {
        weigh::all(&scene, &deviations)
    } else {
        (Vec::new(), Vec::new())
    };
    let compared = still_off::compared(&scene, open);
    let beside = still_off::beside(&compared, &deviations);
    let still_off = still_off::named(beside, &listed, &scene);
    // Hidden, or not read yet, is something else than not measured.
    let missing = deviation::missing(lab, graph, worked, favoured);
    let limiting = graph.of_equation(favoured, Kind::Limiting);
    let undecided = limiting.is_some_and(|step| !open(step));
    let whole = (deviations.hidden || !missing.is_empty() || undecided).then(|| {
        let all = Deviations::of(lab, graph, worked, favoured, &|_| true);
        let mut whole = self::scene(lab, graph, record, worked, favoured, (&all, &dried));
        // Which words are recognised must not tell what runs out.
        if undecided {
            let taken = |index: &usize| lab.substances[*index].reactant && whole.measured(*index);
            whole.limiting = (0..lab.substances.len()).filter(taken).collect();
        }
        for measure in &missing {
            measured(*measure, graph, &mut whole.products, &mut whole.leftovers);
        }
        whole
    });
    let mut own = Vec::new();
    for (place, cause) in record.causes.iter().enumerate() {
        let scenes = (&scene, whole.as_ref());
        own.push(own::test(
            (place, cause),
            scenes,
            (&deviations, &compared),
            (beyond, asks_equation),
            &listed,
        ));
    }
    Weighed {
        scene,
        deviations,
        beyond,
        listed,
        still_off,
        ruled_out,
        own,
        decision,
    }
}

/// Adds the products and the leftovers that something measured is about.
fn measured(
    measure: Measure,
    graph: &Graph,
    products: &mut Vec<usize>,
    leftovers: &mut Vec<usize>,
) {
    let (product, reactant) = match measure {
        Measure::Find(find) => {
            // Where the equation predicts nothing, what a quantity is worked from shows in it.
            worked_from(graph, Kind::Find(find), products, leftovers);
            (None, None)
        }
        Measure::Product(product) => (Some(product), None),
        Measure::Leftover(reactant) => (None, Some(reactant)),
        Measure::Ratio(product, reactant) => (Some(product), Some(reactant)),
        Measure::Used(_) => (None, None),
    };
    products.extend(product);
    leftovers.extend(reactant);
}

/// Adds the products and the leftovers that a step is worked from.
fn worked_from(graph: &Graph, kind: Kind, products: &mut Vec<usize>, leftovers: &mut Vec<usize>) {
    let mut waiting: Vec<StepId> = graph.of_kind(kind).into_iter().collect();
    while let Some(step) = waiting.pop() {
        let (list, index) = match graph.step(step).kind {
            Kind::Collected(product) => (&mut *products, product),
            Kind::MeasuredLeft(reactant) => (&mut *leftovers, reactant),
            _ => {
                waiting.extend(&graph.uses(step).steps);
                continue;
            }
        };
        if !list.contains(&index) {
            list.push(index);
        }
    }
}

/// The experiment behind some deviations.
fn scene<'a>(
    lab: &'a Lab,
    graph: &'a Graph,
    record: &'a Record,
    worked: &'a Worked<'a>,
    equation: usize,
    (deviations, dried): (&Deviations, &Rc<[Series<'a>]>),
) -> Scene<'a> {
    let (mut products, mut leftovers) = (Vec::new(), Vec::new());
    for deviation in &deviations.all {
        measured(deviation.measure, graph, &mut products, &mut leftovers);
    }
    let smallest = graph
        .of_equation(equation, Kind::Limiting)
        .and_then(|step| worked.value(step))
        .map(|value| value.smallest.clone());
    let limiting = smallest.unwrap_or_else(|| {
        let known = |index: &usize| {
            lab.substances[*index].reactant && graph.of_kind(Kind::Moles(*index)).is_some()
        };
        (0..lab.substances.len()).find(known).into_iter().collect()
    });
    Scene {
        lab,
        graph,
        record,
        worked,
        line: worked_out(graph, worked),
        equation,
        products,
        leftovers,
        limiting,
        dried: Rc::clone(dried),
        readings: vec![OnceCell::new(); graph.steps().len()],
        papers: vec![OnceCell::new(); lab.substances.len()],
        states: vec![OnceCell::new(); lab.substances.len()],
        sample: OnceCell::new(),
        titrants: OnceCell::new(),
    }
}

/// The working in floating point with the value of every step standing in it.
fn worked_out<'a>(graph: &'a Graph, worked: &Worked<'a>) -> Line<'a> {
    let mut line = Line::new(graph, &worked.inputs);
    for step in graph.ids() {
        if let Some(value) = line.current(step) {
            line.stand_in(step, Standing::Number(value));
        }
    }
    line
}
