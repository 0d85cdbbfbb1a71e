//! The planned experiment, worked: readings made up so that every mass is the planned one and every product the
//! predicted one, with the doubt that the lab's instruments have.

use std::collections::BTreeSet;

use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Reading;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::figures::Figures;
use crate::measure::rounding;
use crate::measure::uncertainty::Doubt;
use crate::planning::Planned;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Inputs;
use crate::working::Kind;
use crate::working::State;
use crate::working::Variable;
use crate::working::inputs::Input;
use crate::working::line::Line;
use crate::working::value;

/// Decimals of a made-up reading, in its base unit: more than any school balance shows.
const PLACES: i32 = 6;

/// The steps of the planned experiment.
#[derive(Debug)]
pub struct Trial {
    states: Vec<State>,
    /// Standard uncertainties, one a step.
    standards: Vec<Option<f64>>,
}

impl Trial {
    /// The planned amounts times a factor, worked.
    #[must_use]
    pub fn of(lab: &Lab, graph: &Graph, planned: &Planned, factor: f64) -> Self {
        let mut inputs = blank(lab, graph);
        let masses = (0..lab.substances.len()).filter_map(|index| {
            let amount = planned.of_substance(index)?;
            let kind = if amount.unit.dimension() == Unit::Gram.dimension() {
                Kind::Mass(index)
            } else {
                Kind::Moles(index)
            };
            Some((kind, amount))
        });
        for (kind, amount) in masses {
            let Some(step) = graph.of_kind(kind) else {
                continue;
            };
            let expression = &graph.step(step).expression;
            if amount.unit.dimension() == Unit::Litre.dimension() {
                let readings = expression.readings();
                let volumes = readings
                    .iter()
                    .filter(|reading| graph.readings[**reading] == Unit::Litre.dimension());
                for reading in volumes {
                    put(&mut inputs, *reading, amount.base * factor);
                }
            } else {
                reach(&mut inputs, graph, expression, amount.base * factor);
            }
        }
        // Water that is only read off enters nothing, but a reading of it may.
        for (kind, found) in (0..lab.substances.len()).flat_map(|index| {
            [
                (Kind::Theoretical(index), Kind::Collected(index)),
                (Kind::ExpectedLeft(index), Kind::MeasuredLeft(index)),
            ]
        }) {
            let (Some(predicted), Some(found)) = (graph.of_kind(kind), graph.of_kind(found)) else {
                continue;
            };
            let line = Line::new(graph, &inputs);
            if let Some(target) = line.current(predicted) {
                reach(&mut inputs, graph, &graph.step(found).expression, target);
            }
        }
        let states = value::evaluate(graph, &inputs);
        let standards = states
            .iter()
            .map(|state| Some(state.known()?.standard_uncertainty(&inputs)))
            .collect();
        Self { states, standards }
    }

    /// What a step comes to, in its base unit.
    #[must_use]
    pub fn value(&self, graph: &Graph, kind: Kind) -> Option<f64> {
        let step = graph.of_kind(kind)?;
        Some(self.states[step.index()].known()?.approximate())
    }

    /// Standard uncertainty of a step, in its base unit.
    #[must_use]
    pub fn standard(&self, graph: &Graph, kind: Kind) -> Option<f64> {
        self.standards[graph.of_kind(kind)?.index()]
    }

    /// Standard uncertainty of the first percent yield.
    #[must_use]
    pub fn yield_uncertainty(&self, graph: &Graph) -> Option<f64> {
        let yields = graph.ids().find(|id| {
            let step = graph.step(*id);
            matches!(step.kind, Kind::PercentYield(_)) && step.equation == 0
        })?;
        self.standards[yields.index()]
    }
}

/// Every reading at zero, as doubtful as its instrument makes it.
fn blank<'l>(lab: &'l Lab, graph: &Graph) -> Inputs<'l> {
    let readings = lab.readings().map(|(_, asked)| {
        let instrument = asked
            .instrument
            .and_then(|index| lab.instruments.get(index));
        let shown = instrument.and_then(|one| one.readability.or(one.tolerance));
        let reading = Reading {
            number: Decimal::new(0, shown.map_or(2, Decimal::places)),
            unit: Some(asked.unit),
            spread: None,
            exact: false,
            approximate: false,
            note: None,
            time: None,
        };
        Some(Input {
            value: crate::measure::Exact::from_integer(0.into()),
            figures: Figures::Places(reading.number.places()),
            doubt: Doubt::of_reading(&reading, instrument),
        })
    });
    let givens = graph.givens.iter();
    Inputs {
        readings: readings.collect(),
        givens: givens.map(|given| Input::of_given(&given.value)).collect(),
        weights: &lab.atomic_weights,
    }
}

/// Puts a number in the place of a reading.
fn put(inputs: &mut Inputs<'_>, reading: usize, value: f64) {
    let exact = rounding::of_f64(value)
        .map(|exact| rounding::to_places(&exact, PLACES, Rounding::HalfUp).to_exact());
    if let (Some(Some(input)), Some(exact)) = (inputs.readings.get_mut(reading), exact) {
        input.value = exact;
    }
}

/// Changes the last reading of an expression, of those that make it more if there is one, so that it comes to a target.
fn reach(inputs: &mut Inputs<'_>, graph: &Graph, expression: &Expression, target: f64) {
    let readings = expression.readings();
    let more = added(expression);
    let reading = readings.iter().rfind(|reading| more.contains(reading));
    // Of a gas that is worked out as a loss the last reading is the one that makes it less.
    let last = readings.last();
    let chosen = match (reading, last) {
        (Some(_), Some(last)) if more.len() > 1 && !more.contains(last) => last,
        (Some(reading), _) => reading,
        (None, Some(last)) => last,
        (None, None) => return,
    };
    let line = Line::new(graph, inputs);
    let (Some(here), Some(now)) = (
        line.value(expression),
        line.input(Variable::Reading(*chosen)),
    ) else {
        return;
    };
    let mut nudged = line.clone();
    nudged.vary(Variable::Reading(*chosen), now + 1.0);
    let Some(slope) = nudged
        .value(expression)
        .map(|there| there - here)
        .filter(|slope| slope.abs() > 1e-9)
    else {
        return;
    };
    put(inputs, *chosen, now + (target - here) / slope);
}

/// Readings that an expression adds.
pub(super) fn added(expression: &Expression) -> BTreeSet<usize> {
    signed(expression, true).0
}

/// Readings that an expression takes away.
pub(super) fn taken_away(expression: &Expression) -> BTreeSet<usize> {
    signed(expression, true).1
}

/// Readings that are added and taken away, for an expression that is itself added (`true`) or taken away.
fn signed(expression: &Expression, plus: bool) -> (BTreeSet<usize>, BTreeSet<usize>) {
    let mut found = (BTreeSet::new(), BTreeSet::new());
    let mut gather = |part: &Expression, plus: bool| {
        let (more, less) = signed(part, plus);
        found.0.extend(more);
        found.1.extend(less);
    };
    match expression {
        Expression::Difference(from, taken) => {
            gather(from, plus);
            gather(taken, !plus);
        }
        Expression::Reading(reading) => {
            let side = if plus { &mut found.0 } else { &mut found.1 };
            side.insert(*reading);
        }
        other => {
            for part in other.parts() {
                gather(part, plus);
            }
        }
    }
    found
}
