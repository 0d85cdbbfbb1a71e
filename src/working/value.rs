//! Evaluation: every step known, waiting for readings, or undefined with a reason.
//!
//! Three folds over the same expression: the exact value, the figures it defends, and its
//! derivatives by every independent input (first order, JCGM 100:2008, 5.1 and 5.2).

use std::borrow::Cow;
use std::collections::BTreeSet;

use crate::chem::water;
use crate::measure::Exact;
use crate::measure::figures::Figures;
use crate::measure::uncertainty;
use crate::measure::uncertainty::Share;
use crate::say;
use crate::words::Words;
use crate::working::Graph;
use crate::working::Inputs;
use crate::working::Step;
use crate::working::Variable;
use crate::working::arithmetic::exactly;
use crate::working::arithmetic::one;
use crate::working::arithmetic::product;
use crate::working::arithmetic::quotient;
use crate::working::arithmetic::sum;
use crate::working::chain;
use crate::working::expression;
use crate::working::expression::Constant;
use crate::working::expression::Expression;
use crate::working::slopes::Slopes;

/// What a step's expression comes to.
#[derive(Debug, Clone)]
pub enum State {
    /// A value.
    Known(Value),
    /// Readings that are not there yet, by number.
    Waiting(BTreeSet<usize>),
    /// There is no such value; the reason, as the end of a sentence.
    Undefined(String),
}

/// A known value in the base unit of its step (g, mol, L, %, a plain number).
#[derive(Debug, Clone)]
pub struct Value {
    /// Exact.
    pub exact: Exact,
    /// The digits it defends.
    pub figures: Figures,
    /// Derivatives by every input that changes it.
    pub slopes: Slopes,
    /// For the limiting step: the substances with the smallest share, more than one when equal.
    pub smallest: Vec<usize>,
}

/// Why an expression has no value.
enum Obstacle {
    Waiting(BTreeSet<usize>),
    Undefined(String),
}

impl State {
    /// The value, if known.
    #[must_use]
    pub const fn known(&self) -> Option<&Value> {
        match self {
            Self::Known(value) => Some(value),
            Self::Waiting(_) | Self::Undefined(_) => None,
        }
    }
}

impl Value {
    /// The nearest binary floating-point number.
    #[must_use]
    pub fn approximate(&self) -> f64 {
        self.exact.to_f64()
    }

    /// Each input's share in the uncertainty.
    #[must_use]
    pub fn budget(&self, inputs: &Inputs<'_>) -> Vec<(Variable, Share)> {
        let share = |(variable, slope): &(Variable, f64)| {
            let doubt = inputs.doubt(*variable);
            (
                *variable,
                Share {
                    contribution: slope * doubt.standard,
                    limit: slope.abs() * doubt.half_width,
                },
            )
        };
        self.slopes.iter().map(share).collect()
    }

    /// Combined standard uncertainty.
    #[must_use]
    pub fn standard_uncertainty(&self, inputs: &Inputs<'_>) -> f64 {
        let shares: Vec<Share> = self
            .budget(inputs)
            .into_iter()
            .map(|(_, share)| share)
            .collect();
        uncertainty::in_quadrature(&shares)
    }

    /// Sum of the limits.
    #[must_use]
    pub fn worst_case(&self, inputs: &Inputs<'_>) -> f64 {
        let shares: Vec<Share> = self
            .budget(inputs)
            .into_iter()
            .map(|(_, share)| share)
            .collect();
        uncertainty::worst_case(&shares)
    }
}

/// The state of every step, in the graph's order.
#[must_use]
pub fn evaluate(graph: &Graph, inputs: &Inputs<'_>) -> Vec<State> {
    let mut states: Vec<State> = Vec::with_capacity(graph.steps().len());
    for step in graph.steps() {
        let fold = Fold {
            graph,
            inputs,
            states: &states,
        };
        let state = match fold.value(&step.expression) {
            Ok(value) => State::Known(itself(graph, &states, step, value.into_owned())),
            Err(Obstacle::Waiting(readings)) => State::Waiting(readings),
            Err(Obstacle::Undefined(reason)) => State::Undefined(reason),
        };
        states.push(state);
    }
    states
}

/// A value; where it is another step's whatever the inputs are, that one: what cancels neither limits it nor makes it uncertain.
fn itself(graph: &Graph, states: &[State], step: &Step, value: Value) -> Value {
    let start =
        chain::all_of_it(graph, states, step).and_then(|start| states[start.index()].known());
    match start {
        Some(start) if start.exact == value.exact => start.clone(),
        _ => value,
    }
}

/// The value of an expression over steps that are worked; `None` where it is not known.
pub(in crate::working) fn of(
    graph: &Graph,
    inputs: &Inputs<'_>,
    states: &[State],
    expression: &Expression,
) -> Option<Value> {
    let fold = Fold {
        graph,
        inputs,
        states,
    };
    fold.value(expression).ok().map(Cow::into_owned)
}

/// One expression read for its value.
struct Fold<'a> {
    graph: &'a Graph,
    inputs: &'a Inputs<'a>,
    states: &'a [State],
}

impl<'a> Fold<'a> {
    /// The value, that of an earlier step as it stands there.
    fn value(&self, expression: &Expression) -> Result<Cow<'a, Value>, Obstacle> {
        if let Expression::Step(step) = expression {
            return match &self.states[step.index()] {
                State::Known(value) => Ok(Cow::Borrowed(value)),
                State::Waiting(readings) => Err(Obstacle::Waiting(readings.clone())),
                State::Undefined(reason) => Err(Obstacle::Undefined(reason.clone())),
            };
        }
        self.worked(expression).map(Cow::Owned)
    }

    fn worked(&self, expression: &Expression) -> Result<Value, Obstacle> {
        let words = self.inputs.words;
        match expression {
            Expression::Reading(reading) => {
                match self.inputs.readings.get(*reading).and_then(Option::as_ref) {
                    Some(input) => Ok(Value::input(
                        input.value.clone(),
                        input.figures,
                        Variable::Reading(*reading),
                    )),
                    None => Err(Obstacle::Waiting(BTreeSet::from([*reading]))),
                }
            }
            Expression::Given(given) => match self.inputs.givens.get(*given) {
                Some(input) => Ok(Value::input(
                    input.value.clone(),
                    input.figures,
                    Variable::Given(*given),
                )),
                None => Err(Obstacle::Undefined(say!(words, "a given value is missing"))),
            },
            Expression::Constant(constant) => self.constant(constant),
            Expression::Step(_) => self.value(expression).map(Cow::into_owned),
            Expression::Sum(terms) => {
                let values = self.all(terms.iter().map(|term| (term, 1.0)))?;
                Ok(sum(&values))
            }
            Expression::Difference(from, taken) => {
                let values = self.all([(&**from, 1.0), (&**taken, -1.0)])?;
                let difference = sum(&values);
                if matches!(**taken, Expression::VapourPressure(_))
                    && !difference.exact.is_positive()
                {
                    return Err(Obstacle::Undefined(say!(
                        words,
                        "the pressure is no higher than that of the water vapour in it"
                    )));
                }
                Ok(difference)
            }
            Expression::Product(factors) => {
                let values = self.all(factors.iter().map(|factor| (factor, 1.0)))?;
                Ok(values
                    .into_iter()
                    .map(|(value, _)| value)
                    .reduce(|a, b| Cow::Owned(product(&a, &b)))
                    .map_or_else(one, Cow::into_owned))
            }
            Expression::Quotient(above, below) => {
                let values = self.all([(&**above, 1.0), (&**below, 1.0)])?;
                let [(above, _), (divisor, _)] = &values[..] else {
                    return Err(Obstacle::Undefined(say!(words, "nothing is divided")));
                };
                if divisor.exact.is_zero() {
                    return Err(Obstacle::Undefined(self.why_zero(below)));
                }
                Ok(quotient(above, divisor))
            }
            Expression::Absolute(celsius) => {
                let zero = exactly(expression::ZERO_CELSIUS.to_exact());
                let kelvin = sum(&[(self.value(celsius)?, 1.0), (Cow::Owned(zero), 1.0)]);
                if !kelvin.exact.is_positive() {
                    return Err(Obstacle::Undefined(say!(
                        words,
                        "nothing is as cold as that: the scale ends at −273.15 °C"
                    )));
                }
                Ok(kelvin)
            }
            Expression::VapourPressure(celsius) => vapour_pressure(words, &*self.value(celsius)?),
            Expression::Smallest(candidates) => {
                let values =
                    self.all(candidates.iter().map(|candidate| (&candidate.share, 1.0)))?;
                let Some(least) = values.iter().map(|(value, _)| &value.exact).min().cloned()
                else {
                    return Err(Obstacle::Undefined(say!(
                        words,
                        "there is nothing to compare"
                    )));
                };
                let pairs = || {
                    candidates
                        .iter()
                        .zip(&values)
                        .filter(|(_, (value, _))| value.exact == least)
                };
                let smallest: Vec<usize> =
                    pairs().map(|(candidate, _)| candidate.substance).collect();
                let first = pairs().next().map(|(_, (value, _))| Value::clone(value));
                Ok(Value {
                    smallest,
                    ..first.unwrap_or_else(one)
                })
            }
        }
    }

    /// Every part's value; what is missing for any of them is gathered, so that all of it is named at once.
    fn all<'e>(
        &self,
        parts: impl IntoIterator<Item = (&'e Expression, f64)>,
    ) -> Result<Vec<(Cow<'a, Value>, f64)>, Obstacle> {
        let parts = parts.into_iter();
        let mut values = Vec::with_capacity(parts.size_hint().0);
        let mut missing = BTreeSet::new();
        let mut reason = None;
        for (part, sign) in parts {
            match self.value(part) {
                Ok(value) => values.push((value, sign)),
                Err(Obstacle::Waiting(readings)) => missing.extend(readings),
                Err(Obstacle::Undefined(why)) => reason = reason.or(Some(why)),
            }
        }
        match (missing.is_empty(), reason) {
            (true, None) => Ok(values),
            (false, _) => Err(Obstacle::Waiting(missing)),
            (true, Some(why)) => Err(Obstacle::Undefined(why)),
        }
    }

    fn constant(&self, constant: &Constant) -> Result<Value, Obstacle> {
        Ok(match constant {
            Constant::Number(number) => exactly(number.to_exact()),
            Constant::Hundred => exactly(Exact::from_integer(100)),
            Constant::Gas => exactly(expression::GAS_CONSTANT.to_exact()),
            Constant::Coefficient { count, .. } => exactly(Exact::from_integer((*count).into())),
            Constant::MolarMass(formula) => {
                let words = self.inputs.words;
                let mass = self.inputs.weights.molar_mass(formula).map_err(|element| {
                    Obstacle::Undefined(say!(
                        words,
                        "{element} has no standard atomic weight",
                        element = words.say(element.name())
                    ))
                })?;
                let slopes = formula
                    .atoms()
                    .iter()
                    .map(|(element, count)| (Variable::Element(*element), f64::from(*count)));
                // Molar masses are known better than readings and do not limit the figures.
                Value {
                    exact: mass,
                    figures: Figures::Exact,
                    slopes: slopes.collect(),
                    smallest: Vec::new(),
                }
            }
        })
    }

    /// Says which quantity was zero.
    fn why_zero(&self, divisor: &Expression) -> String {
        let words = self.inputs.words;
        match divisor {
            Expression::Step(step) => say!(
                words,
                "{quantity} is zero",
                quantity = self.graph.step(*step).title
            ),
            _ => say!(words, "it would divide by zero"),
        }
    }
}

impl Value {
    fn input(exact: Exact, figures: Figures, variable: Variable) -> Self {
        Self {
            exact,
            figures,
            slopes: Slopes::of(variable),
            smallest: Vec::new(),
        }
    }
}

/// The vapour pressure of water, its digits those of the table.
fn vapour_pressure(words: &Words, celsius: &Value) -> Result<Value, Obstacle> {
    let Some((pressure, rise)) = water::vapour_pressure(&celsius.exact) else {
        return Err(Obstacle::Undefined(say!(
            words,
            "the table of water's vapour pressure reaches from 0 to {highest} °C",
            highest = water::HIGHEST
        )));
    };
    let mut slopes = Slopes::default();
    slopes.add(&celsius.slopes, rise);
    Ok(Value {
        exact: pressure,
        figures: Figures::Places(2),
        slopes,
        smallest: Vec::new(),
    })
}
