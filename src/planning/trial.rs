//! The planned experiment, worked: readings made up to show the planned amounts and the products they predict.
//!
//! Each reading is as doubtful as the lab's instruments make it.

use std::collections::BTreeSet;

use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Reading;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::figures::Figures;
use crate::measure::rounding;
use crate::measure::uncertainty::Doubt;
use crate::measure::uncertainty::Share;
use crate::planning::Amount;
use crate::planning::Item;
use crate::planning::Planned;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Inputs;
use crate::working::Kind;
use crate::working::State;
use crate::working::StepId;
use crate::working::Variable;
use crate::working::inputs::Input;
use crate::working::line::Line;
use crate::working::value;

/// Decimals of a made-up reading, in its base unit: more than any school balance shows.
const PLACES: i32 = 6;

/// Temperature at which a planned gas is read, in °C: a cool room. Common practice, no source.
const ROOM: i64 = 20;

/// Pressure at which a planned gas is read, in kPa: the standard atmosphere, 101.325 kPa, as a barometer shows it.
const ATMOSPHERE: Decimal = Decimal::new(1013, 1);

/// The steps of the planned experiment.
#[derive(Debug)]
pub struct Trial {
    states: Vec<State>,
    /// Standard uncertainties, one a step.
    standards: Vec<Option<f64>>,
    /// What the readings come to, in their base units.
    readings: Vec<Option<f64>>,
    /// The inputs' parts in the variance of the first percent yield, largest first; they add up to 1.
    shares: Vec<(Variable, f64)>,
}

impl Trial {
    /// The planned amounts, worked.
    #[must_use]
    pub fn of(lab: &Lab, graph: &Graph, planned: &Planned) -> Self {
        let mut inputs = blank(lab, graph);
        for (item, amount) in planned.items() {
            match *item {
                Item::Reading(reading) => put(&mut inputs, reading, amount.base),
                Item::Substance(index) => take(&mut inputs, lab, graph, index, amount),
            }
        }
        // Products and leftovers as the planned amounts predict them.
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
                let expression = &graph.step(found).expression;
                reach(&mut inputs, graph, expression, expression, target);
            }
        }
        let states = value::evaluate(graph, &inputs);
        let standards = states
            .iter()
            .map(|state| Some(state.known()?.standard_uncertainty(&inputs)))
            .collect();
        let shares = first_yield(graph)
            .and_then(|step| states[step.index()].known())
            .map(|value| shares(value.budget(&inputs)))
            .unwrap_or_default();
        let line = Line::new(graph, &inputs);
        let readings = (0..inputs.readings.len())
            .map(|reading| line.input(Variable::Reading(reading)))
            .collect();
        Self {
            states,
            standards,
            readings,
            shares,
        }
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

    /// What a reading comes to, in its base unit.
    #[must_use]
    pub fn reading(&self, reading: usize) -> Option<f64> {
        self.readings.get(reading).copied().flatten()
    }

    /// Standard uncertainty of the first percent yield.
    #[must_use]
    pub fn yield_uncertainty(&self, graph: &Graph) -> Option<f64> {
        self.standards[first_yield(graph)?.index()]
    }

    /// The inputs' parts in the variance of the first percent yield, largest first; they add up to 1.
    #[must_use]
    pub fn shares(&self) -> &[(Variable, f64)] {
        &self.shares
    }
}

/// The first percent yield by the lab's own equation.
fn first_yield(graph: &Graph) -> Option<StepId> {
    graph.ids().find(|id| {
        let step = graph.step(*id);
        matches!(step.kind, Kind::PercentYield(_)) && step.equation == 0
    })
}

/// Parts in a variance, largest first.
fn shares(budget: Vec<(Variable, Share)>) -> Vec<(Variable, f64)> {
    let mut parts: Vec<(Variable, f64)> = budget
        .into_iter()
        .map(|(variable, share)| (variable, share.contribution.powi(2)))
        .collect();
    let whole: f64 = parts.iter().map(|(_, part)| part).sum();
    if whole <= 0.0 {
        return Vec::new();
    }
    for (_, part) in &mut parts {
        *part /= whole;
    }
    parts.sort_by(|left, right| right.1.total_cmp(&left.1));
    parts
}

/// Makes the readings of a substance show its planned amount.
fn take(inputs: &mut Inputs<'_>, lab: &Lab, graph: &Graph, index: usize, amount: &Amount) {
    let step = |kind| graph.of_kind(kind).map(|step| &graph.step(step).expression);
    let mass = step(Kind::Mass(index));
    let moles = step(Kind::Moles(index));
    let Some(read) = mass.or(moles) else {
        return;
    };
    if amount.is(Unit::Litre) {
        let volumes = read.readings();
        let mut volumes = volumes
            .iter()
            .filter(|reading| graph.readings[**reading] == Unit::Litre.dimension());
        if let Some(reading) = volumes.next() {
            put(inputs, *reading, amount.base);
        }
        return;
    }
    let (reached, target) = match (mass, moles) {
        (Some(mass), _) if amount.is(Unit::Gram) => (mass, amount.base),
        (_, Some(moles)) if amount.is(Unit::Mole) => (moles, amount.base),
        // A mass of something whose moles are read off otherwise.
        (None, Some(moles)) => match weighed_molar_mass(lab, index) {
            Some(molar) => (moles, amount.base * pure_part(lab, index) / molar),
            None => return,
        },
        _ => return,
    };
    reach(inputs, graph, reached, read, target);
}

/// The part of a planned mass that is the substance itself.
pub(super) fn pure_part(lab: &Lab, index: usize) -> f64 {
    let purity = lab.substances[index].purity.as_ref();
    purity.map_or(1.0, |purity| purity.value.number.to_f64() / 100.0)
}

/// Molar mass of the form that is weighed, g/mol.
pub(super) fn weighed_molar_mass(lab: &Lab, index: usize) -> Option<f64> {
    let substance = &lab.substances[index];
    let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
    if form.open_waters() {
        return None;
    }
    let mass = lab.atomic_weights.molar_mass(form).ok()?;
    Some(mass.to_f64()).filter(|mass| *mass > 0.0)
}

/// Every reading at zero, a thermometer and a barometer at those of a room, as doubtful as its instrument makes it.
fn blank<'l>(lab: &'l Lab, graph: &Graph) -> Inputs<'l> {
    let readings = lab.readings().map(|(_, asked)| {
        let instrument = asked
            .instrument
            .and_then(|index| lab.instruments.get(index));
        let shown = instrument.and_then(|one| one.readability.or(one.tolerance));
        let zero = Decimal::new(0, shown.map_or(2, Decimal::places));
        let reading = Reading::plain(zero, Some(asked.unit));
        let value = if asked.unit.dimension() == Unit::DegreeCelsius.dimension() {
            crate::measure::Exact::from_integer(ROOM.into())
        } else if asked.unit.dimension() == Unit::Kilopascal.dimension() {
            ATMOSPHERE.to_exact()
        } else {
            crate::measure::Exact::from_integer(0.into())
        };
        Some(Input {
            value,
            figures: Figures::Places(reading.number.places()),
            doubt: Doubt::of_reading(&reading, instrument),
        })
    });
    let givens = graph.givens.iter();
    Inputs {
        readings: readings.collect(),
        givens: givens.map(|given| Input::of_given(&given.value)).collect(),
        weights: &lab.atomic_weights,
        words: &lab.words,
    }
}

/// Puts a number in the place of a reading.
fn put(inputs: &mut Inputs<'_>, reading: usize, value: f64) {
    let exact = Exact::from_float(value)
        .map(|exact| rounding::to_places(&exact, PLACES, Rounding::HalfUp).to_exact());
    if let (Some(Some(input)), Some(exact)) = (inputs.readings.get_mut(reading), exact) {
        input.value = exact;
    }
}

/// Changes the last reading of an expression, of those that make it more if there is one, so that another comes to a target.
fn reach(
    inputs: &mut Inputs<'_>,
    graph: &Graph,
    reached: &Expression,
    read: &Expression,
    target: f64,
) {
    let Some(chosen) = free_reading(graph, read) else {
        return;
    };
    let line = Line::new(graph, inputs);
    let (Some(here), Some(now)) = (line.value(reached), line.input(Variable::Reading(chosen)))
    else {
        return;
    };
    let mut nudged = line.clone();
    nudged.vary(Variable::Reading(chosen), now + 1.0);
    let Some(slope) = nudged
        .value(reached)
        .map(|there| there - here)
        .filter(|slope| slope.abs() > 1e-9)
    else {
        return;
    };
    put(inputs, chosen, now + (target - here) / slope);
}

/// The reading of an expression that a planned experiment leaves open.
fn free_reading(graph: &Graph, expression: &Expression) -> Option<usize> {
    // The room decides about the thermometer and the barometer.
    let mut readings = expression.readings();
    readings.retain(|reading| {
        [Unit::Gram, Unit::Litre, Unit::Mole]
            .iter()
            .any(|unit| graph.readings[*reading] == unit.dimension())
    });
    let more = added(expression);
    let reading = readings.iter().rfind(|reading| more.contains(reading));
    // Of a gas that is worked out as a loss the last reading is the one that makes it less.
    let last = readings.last();
    match (reading, last) {
        (Some(_), Some(last)) if more.len() > 1 && !more.contains(last) => Some(*last),
        (Some(reading), _) => Some(*reading),
        (None, last) => last.copied(),
    }
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
