//! The steps of one lab in order, each knowing what it is, and the dimensions that catch a wrong combination.

use std::sync::OnceLock;

use crate::lab::Given;
use crate::measure::Dimension;
use crate::measure::Unit;
use crate::working::expression::Constant;
use crate::working::expression::Expression;
use crate::working::expression::StepId;
use crate::working::odd_plan::Planned;
use crate::working::terms::Part;
use crate::working::terms::parts_of;

/// All steps that a lab's data allow, earlier ones first.
#[derive(Debug, Clone, Default)]
pub struct Graph {
    steps: Vec<Step>,
    /// Values from labels and tables, purities behind the lab's own givens.
    pub givens: Vec<Given>,
    /// Per substance: where its purity stands among the givens.
    pub(in crate::working) purities: Vec<Option<usize>>,
    /// Dimension of each reading of the lab.
    pub readings: Vec<Dimension>,
    /// What each step is worked from.
    uses: Vec<Uses>,
    /// Wrong ways to work each step, kept for the stage that looks for them.
    wrong_ways: Vec<OnceLock<Vec<Vec<Expression>>>>,
    /// The parts of each step.
    parts: Vec<OnceLock<Vec<Part>>>,
    /// What each step is only there to hold results against, kept for [`Graph::compared_with`].
    pub(in crate::working) compared: OnceLock<Vec<Vec<StepId>>>,
    /// Amounts that the lab plans, kept for the look at odd ones.
    pub(in crate::working) planned: OnceLock<Vec<Planned>>,
}

/// What a step is worked from directly, each once, in order of appearance.
#[derive(Debug, Clone, Default)]
pub struct Uses {
    /// Readings, by their number in the lab.
    pub readings: Vec<usize>,
    /// Givens, by their number in [`Graph::givens`].
    pub givens: Vec<usize>,
    /// Earlier steps.
    pub steps: Vec<StepId>,
    /// Whether it only adds and subtracts readings, givens and such steps: exact in its last decimal.
    pub is_difference: bool,
    /// Whether it names a molar mass.
    pub molar_masses: bool,
}

/// One step of the working.
#[derive(Debug, Clone)]
pub struct Step {
    /// `theoretical_copper`.
    pub id: String,
    /// What it finds, in words: `the most copper that could form`.
    pub title: String,
    /// What kind of step, and of which substances.
    pub kind: Kind,
    /// How it is worked.
    pub expression: Expression,
    /// What it measures.
    pub dimension: Dimension,
    /// The unit it is shown in.
    pub unit: Unit,
    /// 0 for the lab's equation, 1, 2, … for its alternatives.
    pub equation: usize,
    /// Whether students are asked for it, and in which words.
    pub asked: Option<String>,
}

/// What a step finds; numbers are indices into [`Lab::substances`](crate::lab::Lab::substances) or
/// [`Lab::finds`](crate::lab::Lab::finds).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(
    missing_docs,
    reason = "the names are the step ids, documented in the README"
)]
pub enum Kind {
    MolarMass(usize),
    Mass(usize),
    Moles(usize),
    Limiting,
    Theoretical(usize),
    Needed(usize),
    ExpectedLeft(usize),
    Collected(usize),
    MeasuredLeft(usize),
    Used(usize),
    PercentYield(usize),
    MolesCollected(usize),
    MolesUsed(usize),
    Ratio(usize, usize),
    LeftError(usize),
    Completion(usize),
    Recovery(usize, usize),
    MassKept,
    Find(usize),
    Accepted(usize),
    FindError(usize),
}

/// Two units that cannot be added.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mismatch {
    /// One.
    pub left: Dimension,
    /// The other.
    pub right: Dimension,
}

impl Graph {
    /// The steps in order.
    #[must_use]
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// A step by its id.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<StepId> {
        self.steps.iter().position(|step| step.id == id).map(StepId)
    }

    /// A step by what it finds, in the lab's own equation.
    #[must_use]
    pub fn of_kind(&self, kind: Kind) -> Option<StepId> {
        self.steps
            .iter()
            .position(|step| step.kind == kind && step.equation == 0)
            .map(StepId)
    }

    /// A step by what it finds, by one of the equations.
    #[must_use]
    pub fn of_equation(&self, equation: usize, kind: Kind) -> Option<StepId> {
        self.steps
            .iter()
            .position(|step| step.kind == kind && step.equation == equation)
            .map(StepId)
    }

    /// A step.
    #[must_use]
    pub fn step(&self, id: StepId) -> &Step {
        &self.steps[id.0]
    }

    /// What a step is worked from.
    #[must_use]
    pub fn uses(&self, id: StepId) -> &Uses {
        &self.uses[id.0]
    }

    /// Whether an expression only adds and subtracts readings and givens, in steps before it as well.
    pub(in crate::working) fn is_difference(&self, expression: &Expression) -> bool {
        is_difference(expression, &self.uses)
    }

    /// Whether any step is worked from a reading.
    #[must_use]
    pub fn needs(&self, reading: usize) -> bool {
        self.uses
            .iter()
            .any(|uses| uses.readings.contains(&reading))
    }

    /// The steps that find any of these, by all equations.
    pub fn of_kinds<'g>(&'g self, kinds: &'g [Kind]) -> impl Iterator<Item = StepId> + 'g {
        self.ids()
            .filter(|step| kinds.contains(&self.step(*step).kind))
    }

    /// Wrong ways to work a step, list by list, looked for the first time: they follow from the lab alone.
    pub fn wrong_ways(
        &self,
        id: StepId,
        look: impl FnOnce() -> Vec<Vec<Expression>>,
    ) -> &[Vec<Expression>] {
        self.wrong_ways[id.0].get_or_init(look)
    }

    /// The expression of a step and its parts, as [`parts_of`] has them, found the first time they are asked for.
    pub fn parts(&self, id: StepId) -> &[Part] {
        self.parts[id.0].get_or_init(|| parts_of(self, &self.step(id).expression))
    }

    /// Every step's id, in order.
    pub fn ids(&self) -> impl Iterator<Item = StepId> + use<> {
        (0..self.steps.len()).map(StepId)
    }

    /// Adds a step; its expression may use only what is there already.
    pub fn add(&mut self, step: Step) -> StepId {
        let (mut molar_masses, mut givens) = (false, Vec::new());
        step.expression.visit(&mut |part| {
            molar_masses |= matches!(part, Expression::Constant(Constant::MolarMass(_)));
            if let Expression::Given(given) = part {
                givens.push(*given);
            }
        });
        self.uses.push(Uses {
            readings: step.expression.readings(),
            givens,
            steps: step.expression.steps(),
            is_difference: is_difference(&step.expression, &self.uses),
            molar_masses,
        });
        self.wrong_ways.push(OnceLock::new());
        self.parts.push(OnceLock::new());
        self.steps.push(step);
        StepId(self.steps.len() - 1)
    }

    /// Marks a step as asked for.
    pub(in crate::working) fn ask(&mut self, id: StepId, question: Option<String>) {
        self.steps[id.0].asked = question;
    }

    /// Sets the unit a step is shown in.
    pub(in crate::working) fn show_in(&mut self, id: StepId, unit: Unit) {
        self.steps[id.0].unit = unit;
    }

    /// The dimension of an expression.
    ///
    /// # Errors
    /// When two things of different dimensions are added, subtracted or compared.
    pub fn dimension(&self, expression: &Expression) -> Result<Dimension, Mismatch> {
        Ok(match expression {
            Expression::Reading(reading) => {
                self.readings.get(*reading).copied().unwrap_or_default()
            }
            Expression::Given(given) => self
                .givens
                .get(*given)
                .and_then(|given| given.value.unit)
                .unwrap_or(Unit::One)
                .dimension(),
            Expression::Constant(Constant::Hundred) => Unit::Percent.dimension(),
            Expression::Constant(Constant::MolarMass(_)) => Unit::GramPerMole.dimension(),
            Expression::Constant(Constant::Gas) => Dimension::GAS_CONSTANT,
            Expression::Absolute(celsius) => self.dimension(celsius)?,
            Expression::VapourPressure(_) => Unit::Kilopascal.dimension(),
            Expression::Constant(Constant::Number(_) | Constant::Coefficient { .. }) => {
                Dimension::ONE
            }
            Expression::Step(step) => self.steps[step.0].dimension,
            Expression::Product(factors) => {
                let mut product = Dimension::ONE;
                for factor in factors {
                    product = product.times(self.dimension(factor)?);
                }
                product
            }
            Expression::Quotient(above, below) => {
                self.dimension(above)?.over(self.dimension(below)?)
            }
            Expression::Sum(_) | Expression::Difference(..) | Expression::Smallest(_) => {
                let parts = expression.parts();
                let Some((first, rest)) = parts.split_first() else {
                    return Ok(Dimension::ONE);
                };
                let left = self.dimension(first)?;
                for part in rest {
                    let right = self.dimension(part)?;
                    if right != left {
                        return Err(Mismatch { left, right });
                    }
                }
                left
            }
        })
    }
}

/// Whether an expression only adds and subtracts readings and givens, in steps before it as well.
fn is_difference(expression: &Expression, earlier: &[Uses]) -> bool {
    match expression {
        Expression::Reading(_) | Expression::Given(_) => true,
        Expression::Step(step) => earlier[step.0].is_difference,
        Expression::Sum(_) | Expression::Difference(..) => {
            let parts = expression.parts();
            parts.iter().all(|part| is_difference(part, earlier))
        }
        Expression::Constant(_)
        | Expression::Product(_)
        | Expression::Quotient(..)
        | Expression::Absolute(_)
        | Expression::VapourPressure(_)
        | Expression::Smallest(_) => false,
    }
}

#[cfg(test)]
mod tests {
    use crate::problem::Source;
    use crate::working::plan::plan;

    #[test]
    fn readings_behind_steps_stand_each_once_in_the_order_of_the_lab() {
        let source = Source {
            name: "lab".into(),
            text: crate::lab::builtin::find("zinc-copper-sulfate")
                .unwrap()
                .into(),
        };
        let lab = crate::lab::check::check(&source).0.unwrap();
        let graph = plan(&lab).0;
        let names = |id: &str| {
            let behind = graph.readings_behind(graph.find(id));
            let readings: Vec<&str> = lab.readings().map(|(_, asked)| &*asked.name).collect();
            behind
                .into_iter()
                .map(|one| readings[one].to_owned())
                .collect::<Vec<_>>()
        };
        assert_eq!(names("molar_mass_zinc"), [""; 0]);
        assert_eq!(
            names("collected_copper"),
            ["beaker_empty", "beaker_with_copper"]
        );
        assert_eq!(
            names("percent_yield"),
            [
                "dish_empty",
                "dish_with_salt",
                "zinc_before",
                "beaker_empty",
                "beaker_with_copper"
            ]
        );
        // Steps that share readings name them once.
        let all = graph.readings_behind(graph.ids());
        assert!(all.is_sorted_by(|a, b| a < b));
    }
}
