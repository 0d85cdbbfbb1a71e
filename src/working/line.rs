//! The working again in floating point, with other numbers standing in for steps, readings and atomic weights.
//!
//! The same expressions as the key; only what stands in and one rewritten step differ. Screening needs no more
//! digits than a student writes.

use std::cell::Cell;
use std::rc::Rc;

use crate::chem::AtomicWeights;
use crate::chem::Element;
use crate::chem::water;
use crate::measure::Exact;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Inputs;
use crate::working::StepId;
use crate::working::Variable;
use crate::working::expression;

/// What stands in the place of a step, such as a student's answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Standing {
    /// A number, in the base unit of the step.
    Number(f64),
    /// The reactants that run out first, by index into [`Lab::substances`](crate::lab::Lab::substances).
    Substances(Vec<usize>),
}

/// A step worked another way.
#[derive(Debug, Clone, Copy)]
pub struct Rewrite<'r> {
    /// The step.
    pub at: StepId,
    /// Its expression instead.
    pub expression: &'r Expression,
}

/// How intermediate values nobody was asked for are rounded on the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Habit {
    /// Not at all.
    Full,
    /// To this many significant figures.
    Figures(i32),
    /// To this many decimals.
    Decimals(i32),
}

/// One more than the largest atomic number.
const ELEMENTS: usize = 119;

/// Atomic weights as a line has them.
pub type Weights = Rc<Vec<Cell<f64>>>;

/// The working of one record with whatever stands in.
#[derive(Debug, Clone)]
pub struct Line<'a> {
    graph: &'a Graph,
    /// What is copied from a line shares these and the atomic weights, until one is varied.
    readings: Rc<Vec<Option<f64>>>,
    givens: Rc<Vec<f64>>,
    atomic_weights: &'a AtomicWeights,
    /// Atomic weights by atomic number, filled in as they are met.
    weights: Weights,
    /// One entry a step: what stands in.
    answers: Vec<Option<Standing>>,
    /// What stands in for parts of expressions, wherever they stand.
    replaced: Vec<(Expression, f64)>,
}

impl<'a> Line<'a> {
    /// The line of a record before any answer stands in.
    #[must_use]
    pub fn new(graph: &'a Graph, inputs: &Inputs<'a>) -> Self {
        let readings = inputs.readings.iter();
        let readings = readings.map(|input| Some(input.as_ref()?.value.to_f64()));
        let givens = inputs.givens.iter();
        Self {
            graph,
            readings: Rc::new(readings.collect()),
            givens: Rc::new(givens.map(|input| input.value.to_f64()).collect()),
            atomic_weights: inputs.weights,
            weights: Rc::new(vec![Cell::new(f64::NAN); ELEMENTS]),
            answers: vec![None; graph.steps().len()],
            replaced: Vec::new(),
        }
    }

    /// The value of an input, in its base unit; `None` while it is missing.
    #[must_use]
    pub fn input(&self, variable: Variable) -> Option<f64> {
        match variable {
            Variable::Reading(reading) => self.readings.get(reading).copied().flatten(),
            Variable::Given(given) => self.givens.get(given).copied(),
            Variable::Element(element) => {
                Some(self.weight(element)).filter(|weight| !weight.is_nan())
            }
        }
    }

    /// Puts another value in the place of an input, in its base unit.
    pub fn vary(&mut self, variable: Variable, value: f64) {
        match variable {
            Variable::Reading(reading) => {
                if let Some(kept) = Rc::make_mut(&mut self.readings).get_mut(reading) {
                    *kept = Some(value);
                }
            }
            Variable::Given(given) => {
                if let Some(kept) = Rc::make_mut(&mut self.givens).get_mut(given) {
                    *kept = value;
                }
            }
            Variable::Element(element) => {
                let weights = Rc::make_mut(&mut self.weights);
                if let Some(kept) = weights.get(usize::from(element.atomic_number())) {
                    kept.set(value);
                }
            }
        }
    }

    /// The atomic weights, for another line of the same record.
    #[must_use]
    pub fn weights(&self) -> Weights {
        Rc::clone(&self.weights)
    }

    /// The same line with other atomic weights.
    #[must_use]
    pub fn with_weights(&self, weights: &Weights) -> Self {
        Self {
            weights: Rc::clone(weights),
            ..self.clone()
        }
    }

    /// Lets an answer stand in at a step.
    pub fn stand_in(&mut self, step: StepId, answer: Standing) {
        self.answers[step.index()] = Some(answer);
    }

    /// Lets a number stand in for a part of expressions, wherever it stands.
    pub fn replace(&mut self, part: Expression, value: f64) {
        self.replaced.push((part, value));
    }

    /// Takes the answer of a step out again.
    pub fn without(&mut self, step: StepId) -> Option<Standing> {
        self.answers[step.index()].take()
    }

    /// What stands in at a step.
    #[must_use]
    pub fn answer(&self, step: StepId) -> Option<&Standing> {
        self.answers[step.index()].as_ref()
    }

    /// What a step comes to from the student's earlier answers, its own answer set aside.
    #[must_use]
    pub fn worked(&self, step: StepId, habit: Habit) -> Option<f64> {
        let fold = Fold {
            line: self,
            rewrite: None,
            habit,
        };
        fold.value(&self.graph.step(step).expression)
    }

    /// What a step comes to, or what stands in for it.
    #[must_use]
    pub fn current(&self, step: StepId) -> Option<f64> {
        match self.answer(step) {
            Some(Standing::Number(number)) => Some(*number),
            _ => self.worked(step, Habit::Full),
        }
    }

    /// What a step comes to when one step, itself or an earlier one, is worked another way.
    #[must_use]
    pub fn rewritten(&self, step: StepId, rewrite: Rewrite<'_>) -> Option<f64> {
        let fold = Fold {
            line: self,
            rewrite: Some(rewrite),
            habit: Habit::Full,
        };
        if step == rewrite.at {
            fold.value(rewrite.expression)
        } else {
            fold.value(&self.graph.step(step).expression)
        }
    }

    /// What any expression comes to on this line.
    #[must_use]
    pub fn value(&self, expression: &Expression) -> Option<f64> {
        Fold {
            line: self,
            rewrite: None,
            habit: Habit::Full,
        }
        .value(expression)
    }

    /// The reactants that run out first by this line; `rewrite` as in [`Line::rewritten`].
    #[must_use]
    pub fn limiting(&self, step: StepId, rewrite: Option<Rewrite<'_>>) -> Vec<usize> {
        if let Some(Standing::Substances(chosen)) = self.answer(step) {
            return chosen.clone();
        }
        let fold = Fold {
            line: self,
            rewrite,
            habit: Habit::Full,
        };
        let expression = match rewrite {
            Some(rewrite) if rewrite.at == step => rewrite.expression,
            _ => &self.graph.step(step).expression,
        };
        fold.smallest(expression)
    }

    /// The size of the largest term on the way to a value: what 1 % is taken of, so that a small
    /// difference of large numbers is judged by the numbers. A difference of readings is taken as it is: nobody rounds on
    /// the way to it.
    #[must_use]
    pub fn scale(&self, expression: &Expression) -> Option<f64> {
        let of = |parts: &[&Expression]| -> Option<Vec<f64>> {
            parts.iter().map(|part| self.scale(part)).collect()
        };
        match expression {
            read if self.graph.is_difference(read) => self.value(read).map(f64::abs),
            Expression::Difference(a, b) => Some(of(&[a, b])?.into_iter().fold(0.0, f64::max)),
            Expression::Product(factors) => {
                let factors: Vec<&Expression> = factors.iter().collect();
                Some(of(&factors)?.into_iter().product())
            }
            Expression::Quotient(above, below) => {
                Some(self.scale(above)? / self.value(below)?.abs())
            }
            other => self.value(other).map(f64::abs),
        }
    }

    fn molar_mass(&self, formula: &crate::chem::Formula) -> f64 {
        let atoms = formula.atoms().iter();
        atoms
            .map(|(element, count)| f64::from(*count) * self.weight(*element))
            .sum()
    }

    fn weight(&self, element: Element) -> f64 {
        let Some(kept) = self.weights.get(usize::from(element.atomic_number())) else {
            return f64::NAN;
        };
        if kept.get().is_nan()
            && let Some(weight) = self.atomic_weights.get(element)
        {
            kept.set(number_of(weight.value));
        }
        kept.get()
    }
}

/// A decimal in floating point; exact enough for screening, and much faster than the exact way.
#[must_use]
pub fn number_of(decimal: crate::measure::Decimal) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a screening value")]
    let coefficient = decimal.coefficient() as f64;
    if decimal.places() >= 0 {
        coefficient / 10.0_f64.powi(decimal.places())
    } else {
        coefficient * 10.0_f64.powi(-decimal.places())
    }
}

/// One reading of an expression.
struct Fold<'f, 'a> {
    line: &'f Line<'a>,
    rewrite: Option<Rewrite<'f>>,
    habit: Habit,
}

impl Fold<'_, '_> {
    fn value(&self, expression: &Expression) -> Option<f64> {
        let mut replaced = self.line.replaced.iter();
        if let Some((_, value)) = replaced.find(|(part, _)| part.is_like(expression)) {
            return Some(*value);
        }
        match expression {
            Expression::Reading(reading) => self.line.readings.get(*reading).copied().flatten(),
            Expression::Given(given) => self.line.givens.get(*given).copied(),
            Expression::Constant(constant) => Some(match constant {
                Constant::Number(number) => number_of(*number),
                Constant::Hundred => 100.0,
                Constant::Gas => number_of(expression::GAS_CONSTANT),
                Constant::Coefficient { count, .. } => f64::from(*count),
                Constant::MolarMass(formula) => self.line.molar_mass(formula),
            }),
            Expression::Step(step) => self.step(*step),
            Expression::Sum(terms) => terms.iter().map(|term| self.value(term)).sum(),
            Expression::Difference(from, taken) => Some(self.value(from)? - self.value(taken)?),
            Expression::Product(factors) => {
                factors.iter().map(|factor| self.value(factor)).product()
            }
            Expression::Quotient(above, below) => {
                let below = self.value(below)?;
                (below != 0.0).then_some(self.value(above)? / below)
            }
            Expression::Absolute(celsius) => {
                Some(self.value(celsius)? + number_of(expression::ZERO_CELSIUS))
            }
            Expression::VapourPressure(celsius) => {
                let celsius = Exact::from_float(self.value(celsius)?)?;
                Some(water::vapour_pressure(&celsius)?.0.to_f64())
            }
            Expression::Smallest(candidates) => {
                let shares: Option<Vec<f64>> = candidates
                    .iter()
                    .map(|candidate| self.value(&candidate.share))
                    .collect();
                shares?.into_iter().reduce(f64::min)
            }
        }
    }

    fn step(&self, step: StepId) -> Option<f64> {
        let graph = self.line.graph;
        if let Some(rewrite) = self.rewrite.filter(|rewrite| rewrite.at == step) {
            return self.value(rewrite.expression);
        }
        match self.line.answer(step) {
            Some(Standing::Number(number)) => Some(*number),
            Some(Standing::Substances(chosen)) => {
                let Expression::Smallest(candidates) = &graph.step(step).expression else {
                    return None;
                };
                let mut shares = candidates.iter().filter(|c| chosen.contains(&c.substance));
                self.value(&shares.next()?.share)
            }
            None => {
                let value = self.value(&graph.step(step).expression)?;
                Some(match (&graph.step(step).expression, self.habit) {
                    (Expression::Constant(_) | Expression::Smallest(_), _) | (_, Habit::Full) => {
                        value
                    }
                    (_, Habit::Figures(figures)) => to_figures(value, figures),
                    (_, Habit::Decimals(decimals)) => to_decimals(value, decimals),
                })
            }
        }
    }

    fn smallest(&self, expression: &Expression) -> Vec<usize> {
        let Expression::Smallest(candidates) = expression else {
            return Vec::new();
        };
        let shares: Option<Vec<f64>> = candidates
            .iter()
            .map(|candidate| self.value(&candidate.share))
            .collect();
        let Some(shares) = shares else {
            return Vec::new();
        };
        let least = shares.iter().copied().fold(f64::INFINITY, f64::min);
        let near = |share: f64| share <= least + least.abs() * 1e-12;
        let pairs = candidates.iter().zip(shares);
        pairs
            .filter(|(_, share)| near(*share))
            .map(|(candidate, _)| candidate.substance)
            .collect()
    }
}

/// A value rounded to significant figures.
#[must_use]
pub fn to_figures(value: f64, figures: i32) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the exponent of a finite number is small"
    )]
    let exponent = value.abs().log10().floor() as i32;
    to_decimals(value, figures - 1 - exponent)
}

/// A value rounded to decimals.
#[must_use]
pub fn to_decimals(value: f64, decimals: i32) -> f64 {
    if decimals >= 0 {
        let power = 10.0_f64.powi(decimals);
        (value * power).round() / power
    } else {
        let power = 10.0_f64.powi(-decimals);
        (value / power).round() * power
    }
}
