//! The calculation: what can be found from a lab's readings, worked exactly.
//!
//! | file | holds |
//! |---|---|
//! | `expression` | a step as a small expression |
//! | `graph` | the steps in order, and their dimensions |
//! | `plan` | the graph of a lab: which steps its substances and equation allow |
//! | `lower` | a written expression of the lab description turned into an [`Expression`] |
//! | `chain`, `comparisons` | the steps that follow from one balanced equation |
//! | `finds` | the lab's own quantities |
//! | `inputs` | readings, givens and atomic weights as numbers with their doubt |
//! | `terms` | a step as a sum of readings and givens |
//! | `value`, `arithmetic`, `slopes` | evaluation: value, figures, derivatives |
//! | `line` | the same in floating point, with other numbers standing in |
//! | `odd`, `odd_plan`, `odd_ratios`, `odd_readings`, `odd_trials` | results that no experiment can give, or few do |
//! | `drying`, `decay` | series of weighings to constant mass, and what is still to come off |
//! | `show` | results as text, with the digits they defend |
//! | `text`, `factors`, `layout`, `symbols`, `math` | the worked text of a step |

mod arithmetic;
mod carried;
pub mod chain;
pub mod comparisons;
pub mod decay;
pub mod drying;
pub mod expression;
mod factors;
mod finds;
mod gas;
pub mod graph;
pub mod inputs;
mod layout;
pub mod line;
pub mod lower;
pub mod math;
mod matter;
mod moles;
pub mod odd;
mod odd_plan;
mod odd_ratios;
mod odd_readings;
mod odd_trials;
pub mod percent_error;
pub mod plan;
mod purity;
pub mod show;
pub mod shown;
pub mod slopes;
mod symbols;
pub mod terms;
pub mod text;
pub mod value;
mod walks;

pub use expression::Constant;
pub use expression::Expression;
pub use expression::StepId;
pub use graph::Graph;
pub use graph::Kind;
pub use graph::Step;
pub use inputs::Inputs;
pub use inputs::Variable;
pub use value::State;
pub use value::Value;

use crate::lab::Lab;
use crate::measure::Instrument;
use crate::problem::Problem;
use crate::record::Record;
use crate::working::shown::AllShown;

/// A record worked: the state of every step of the graph.
#[derive(Debug)]
pub struct Worked<'a> {
    /// What the record was worked on.
    pub inputs: Inputs<'a>,
    /// The lab's instruments as the group had them.
    pub instruments: Vec<Instrument>,
    /// One state a step, in the graph's order.
    pub states: Vec<State>,
    /// The same for each further trial of the record.
    pub trials: Vec<Worked<'a>>,
    shown: AllShown,
}

/// Works a record. Readings that a result shows to be impossible are marked in the record, and
/// what needs them waits.
pub fn work<'a>(lab: &'a Lab, graph: &Graph, record: &mut Record) -> (Worked<'a>, Vec<Problem>) {
    let (mut worked, mut problems) = work_trial(lab, graph, record);
    record.each_trial(|trial| {
        let (other, mut found) = work_trial(lab, graph, trial);
        // What a trial has in common with the first is said once.
        found.retain(|problem| !problems.contains(problem));
        problems.extend(found);
        worked.trials.push(other);
    });
    if !record.trials.is_empty() {
        let far = odd_trials::look(lab, graph, &worked, record, &problems);
        problems.extend(far);
    }
    (worked, problems)
}

/// Works the readings of one trial.
fn work_trial<'a>(lab: &'a Lab, graph: &Graph, record: &mut Record) -> (Worked<'a>, Vec<Problem>) {
    let instruments = record.instruments(lab);
    let inputs = Inputs::new(lab, graph, record, &instruments);
    let first = Worked::on(graph, inputs, instruments);
    let (problems, impossible) = odd::look(lab, graph, &first, record);
    if impossible.is_empty() {
        return (first, problems);
    }
    for (reading, why) in impossible {
        let recorded = &mut record.readings[reading];
        recorded.impossible = Some(why);
        recorded.by_result = true;
    }
    let inputs = Inputs::new(lab, graph, record, &first.instruments);
    (Worked::on(graph, inputs, first.instruments), problems)
}

impl<'a> Worked<'a> {
    /// The steps worked on one trial's inputs.
    fn on(graph: &Graph, inputs: Inputs<'a>, instruments: Vec<Instrument>) -> Self {
        let states = value::evaluate(graph, &inputs);
        Self {
            inputs,
            instruments,
            shown: AllShown::new(states.len()),
            states,
            trials: Vec::new(),
        }
    }

    /// What a step comes to in each of the further trials where it is known.
    #[must_use]
    pub fn in_other_trials(&self, step: StepId) -> Vec<f64> {
        let known = self.trials.iter().filter_map(|trial| trial.value(step));
        known.map(Value::approximate).collect()
    }

    /// The state of a step.
    #[must_use]
    pub fn state(&self, step: StepId) -> &State {
        &self.states[step.index()]
    }

    /// The value of an expression over the steps, if known.
    #[must_use]
    pub fn value_of(&self, graph: &Graph, expression: &Expression) -> Option<Value> {
        value::of(graph, &self.inputs, &self.states, expression)
    }

    /// The value of a step, if known.
    #[must_use]
    pub fn value(&self, step: StepId) -> Option<&Value> {
        self.state(step).known()
    }
}
