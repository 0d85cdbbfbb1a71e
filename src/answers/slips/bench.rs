//! One wrong answer on the bench: what a slip may look at, and the building blocks that slips are made of.

use std::ops::Deref;

use crate::answers::given::Number;
use crate::chem::Equation;
use crate::chem::Formula;
use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Unit;
use crate::record::Record;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::Step;
use crate::working::StepId;
use crate::working::line::Line;

/// What the slips of a lab have in common, whatever was read and answered.
#[derive(Clone, Copy)]
pub struct Layout<'a> {
    /// The lab.
    pub lab: &'a Lab,
    /// Its steps.
    pub graph: &'a Graph,
}

/// A wrong answer with everything it may have come from.
pub struct Bench<'a> {
    /// The lab and its steps.
    pub layout: Layout<'a>,
    /// The readings.
    pub record: &'a Record,
    /// The student's line, with every earlier answer standing in.
    pub line: &'a Line<'a>,
    /// The step answered.
    pub step: StepId,
    /// The answer.
    pub number: &'a Number,
    /// What the readings give.
    pub key: f64,
    /// What the student's earlier answers give.
    pub right: f64,
    /// What the readings of the other trials give.
    pub other_trials: &'a [f64],
}

impl<'a> Deref for Bench<'a> {
    type Target = Layout<'a>;

    fn deref(&self) -> &Layout<'a> {
        &self.layout
    }
}

impl Bench<'_> {
    /// The reactant that runs out first on the student's line.
    pub(super) fn limiting(&self, at: StepId) -> Option<usize> {
        match self.limiting_step(at) {
            Some(step) => self.line.limiting(step, None).first().copied(),
            None => self.reactants().first().copied(),
        }
    }
}

impl<'a> Layout<'a> {
    /// A step's definition.
    pub(super) fn of(&self, at: StepId) -> &'a Step {
        self.graph.step(at)
    }

    /// The equation a step belongs to.
    pub(super) fn equation(&self, at: StepId) -> &'a Equation {
        match self.of(at).equation {
            0 => &self.lab.equation,
            other => &self.lab.alternatives[other - 1],
        }
    }

    /// A step of the lab by kind.
    pub(super) fn step(&self, kind: Kind) -> Option<Expression> {
        self.graph.of_kind(kind).map(Expression::Step)
    }

    /// A substance's coefficient in the equation of a step.
    pub(super) fn coefficient(&self, at: StepId, substance: usize) -> Option<u32> {
        let formula = &self.lab.substances[substance].formula;
        self.equation(at)
            .find(formula)
            .map(|(species, _)| species.coefficient)
    }

    /// Every coefficient of the equation of a step, each once.
    pub(super) fn coefficients(&self, at: StepId) -> Vec<u32> {
        let equation = self.equation(at);
        let species = equation.reactants.iter().chain(&equation.products);
        let mut counts: Vec<u32> = species.map(|species| species.coefficient).collect();
        counts.sort_unstable();
        counts.dedup();
        counts
    }

    /// The limiting step of the equation of a step.
    pub(super) fn limiting_step(&self, at: StepId) -> Option<StepId> {
        let equation = self.of(at).equation;
        self.graph
            .ids()
            .find(|id| self.of(*id).kind == Kind::Limiting && self.of(*id).equation == equation)
    }

    /// Reactants whose moles at the start are known.
    pub(super) fn reactants(&self) -> Vec<usize> {
        (0..self.lab.substances.len())
            .filter(|index| {
                self.lab.substances[*index].reactant
                    && self.graph.of_kind(Kind::Moles(*index)).is_some()
            })
            .collect()
    }

    /// The moles of a reactant at the start.
    pub(super) fn moles(&self, substance: usize) -> Option<Expression> {
        self.step(Kind::Moles(substance))
    }

    /// The molar mass of the form a substance is weighed in.
    pub(super) fn molar_mass(&self, substance: usize) -> Expression {
        let substance = &self.lab.substances[substance];
        molar_mass(substance.weighed_as.as_ref().unwrap_or(&substance.formula))
    }

    /// An amount of a substance in what a step is in: grams where it is in grams.
    pub(super) fn finish(&self, at: StepId, substance: usize, moles: Expression) -> Expression {
        if self.of(at).dimension != Unit::Gram.dimension() {
            return moles;
        }
        let mass = moles.times(self.molar_mass(substance));
        match self.purity(substance) {
            Some(purity) => mass.over(purity.over(Expression::hundred())),
            None => mass,
        }
    }

    /// The purity of a substance, in percent, where the lab states one.
    fn purity(&self, substance: usize) -> Option<Expression> {
        self.graph.purity(substance).map(Expression::Given)
    }

    /// The masses and amounts subtracted anywhere in the working: tares.
    pub(super) fn tares(&self) -> Vec<usize> {
        let mut tares = Vec::new();
        for step in self.graph.steps() {
            step.expression.visit(&mut |part| {
                if let Expression::Difference(_, taken) = part
                    && let Expression::Reading(reading) = **taken
                    && !tares.contains(&reading)
                {
                    tares.push(reading);
                }
            });
        }
        tares
    }

    /// Every molar mass the lab's working holds, and those of the equation.
    pub(super) fn formulas(&self, at: StepId) -> Vec<Formula> {
        let equation = self.equation(at);
        let mut found: Vec<Formula> = Vec::new();
        let weighed = self
            .lab
            .substances
            .iter()
            .filter_map(|substance| substance.weighed_as.as_ref());
        let species = equation
            .reactants
            .iter()
            .chain(&equation.products)
            .map(|species| &species.formula);
        for formula in weighed.chain(species) {
            if !found.iter().any(|own| own.same_substance(formula)) {
                found.push(formula.clone());
            }
        }
        found
    }
}

/// Moles × top ÷ bottom.
pub(super) fn in_ratio(moles: Expression, top: u32, bottom: u32) -> Expression {
    moles.times(number(top)).over(number(bottom))
}

/// A whole number.
pub(super) fn number(value: u32) -> Expression {
    Expression::Constant(Constant::Number(Decimal::new(value.into(), 0)))
}

/// A decimal number.
pub(super) fn decimal(coefficient: i128, places: i32) -> Expression {
    Expression::Constant(Constant::Number(Decimal::new(coefficient, places)))
}

/// A molar mass.
pub(super) fn molar_mass(formula: &Formula) -> Expression {
    Expression::Constant(Constant::MolarMass(formula.clone()))
}

/// The expression with one of its parts, any one, put another way; one variant a part and way.
pub(super) fn variants(
    expression: &Expression,
    ways: &dyn Fn(&Expression) -> Vec<Expression>,
) -> Vec<Expression> {
    let mut all = ways(expression);
    let boxed = |part: Expression| Box::new(part);
    match expression {
        Expression::Sum(parts) | Expression::Product(parts) => {
            for (place, part) in parts.iter().enumerate() {
                for other in variants(part, ways) {
                    let mut parts = parts.clone();
                    parts[place] = other;
                    all.push(match expression {
                        Expression::Sum(_) => Expression::Sum(parts),
                        _ => Expression::Product(parts),
                    });
                }
            }
        }
        Expression::Difference(a, b) => {
            all.extend(
                variants(a, ways)
                    .into_iter()
                    .map(|a| Expression::Difference(boxed(a), b.clone())),
            );
            all.extend(
                variants(b, ways)
                    .into_iter()
                    .map(|b| Expression::Difference(a.clone(), boxed(b))),
            );
        }
        Expression::Quotient(a, b) => {
            all.extend(
                variants(a, ways)
                    .into_iter()
                    .map(|a| Expression::Quotient(boxed(a), b.clone())),
            );
            all.extend(
                variants(b, ways)
                    .into_iter()
                    .map(|b| Expression::Quotient(a.clone(), boxed(b))),
            );
        }
        Expression::Absolute(of) => {
            let of = variants(of, ways).into_iter();
            all.extend(of.map(|of| Expression::Absolute(boxed(of))));
        }
        Expression::VapourPressure(of) => {
            let of = variants(of, ways).into_iter();
            all.extend(of.map(|of| Expression::VapourPressure(boxed(of))));
        }
        Expression::Reading(_)
        | Expression::Given(_)
        | Expression::Constant(_)
        | Expression::Step(_)
        | Expression::Smallest(_) => {}
    }
    all
}
