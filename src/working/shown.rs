//! The results of a record as they are shown, written once however often a report says them.

use std::cell::OnceCell;

use crate::lab::Lab;
use crate::measure::Decimal;
use crate::working::Graph;
use crate::working::Inputs;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Value;
use crate::working::Worked;
use crate::working::percent_error;
use crate::working::show;
use crate::working::symbols;

/// A step's value in the language of its lab.
#[derive(Debug)]
pub struct Shown {
    /// The number with the digits it defends: `1.53`.
    pub number: String,
    /// The number with a guard digit: `1.532`.
    pub guarded: String,
    /// The first of them as a number.
    pub(in crate::working) defended: Decimal,
    /// The other as a number.
    pub(in crate::working) carried: Decimal,
    /// The value as results show it: `1.53 g`, or the names of the limiting reactants.
    pub value: String,
    /// The formula of what the number is of; empty for percentages, ratios and the lab's own quantities.
    pub substance: String,
}

/// What has been written so far, an entry a step.
#[derive(Debug)]
pub(in crate::working) struct AllShown(Vec<OnceCell<Shown>>);

impl AllShown {
    /// Nothing yet of so many steps.
    pub(in crate::working) fn new(steps: usize) -> Self {
        Self(std::iter::repeat_with(OnceCell::new).take(steps).collect())
    }
}

impl Shown {
    fn of(lab: &Lab, graph: &Graph, id: StepId, value: &Value, inputs: &Inputs<'_>) -> Self {
        let step = graph.step(id);
        let figures = percent_error::figures(lab, step, value, inputs);
        let (defended, guarded) =
            show::with_guard(lab, step, &value.exact, figures.unwrap_or(value.figures));
        // Nothing is worked from a percent error, and its own working comes to the digits shown.
        let guarded = figures.map_or(guarded, |_| defended);
        let carried = guarded;
        let number = show::written(&lab.words, defended);
        let guarded = if guarded == defended {
            number.clone()
        } else {
            show::written(&lab.words, guarded)
        };
        let value = if step.kind == Kind::Limiting {
            show::limiting(lab, value)
        } else {
            show::with_unit(&number, step.unit)
        };
        Self {
            number,
            guarded,
            defended,
            carried,
            value,
            substance: symbols::substance_of(lab, graph, id),
        }
    }
}

impl Worked<'_> {
    /// A step's value as it is shown; `None` while it is not known.
    #[must_use]
    pub fn shown(&self, lab: &Lab, graph: &Graph, id: StepId) -> Option<&Shown> {
        let value = self.value(id)?;
        let cell = self.shown.0.get(id.index())?;
        Some(cell.get_or_init(|| Shown::of(lab, graph, id, value, &self.inputs)))
    }
}
