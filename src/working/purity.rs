//! What a purity does: the part of an amount that is the substance itself.

use crate::problem::Code;
use crate::problem::Problem;
use crate::working::Graph;
use crate::working::expression::Expression;
use crate::working::graph::Kind;
use crate::working::plan::Plan;

impl Graph {
    /// Where the purity of a substance stands among the givens, if the lab states one.
    #[must_use]
    pub fn purity(&self, substance: usize) -> Option<usize> {
        self.purities.get(substance).copied().flatten()
    }

    /// What a purity makes of an amount of a substance as it comes: the part that is the substance itself.
    pub(in crate::working) fn pure(&self, substance: usize, amount: Expression) -> Expression {
        match self.purity(substance) {
            Some(given) => amount.times(Expression::Given(given).over(Expression::hundred())),
            None => amount,
        }
    }

    /// An amount in mol from a mass as weighed: × purity ÷ molar mass; `None` for a substance whose molar mass is no step.
    #[must_use]
    pub fn in_moles(&self, substance: usize, mass: Expression) -> Option<Expression> {
        let molar_mass = self.of_kind(Kind::MolarMass(substance))?;
        Some(
            self.pure(substance, mass)
                .over(Expression::Step(molar_mass)),
        )
    }
}

impl Plan<'_> {
    /// An amount in mol from a mass as weighed: × purity ÷ molar mass.
    pub(in crate::working) fn to_moles(&mut self, index: usize, mass: Expression) -> Expression {
        let molar_mass = self.molar_mass(index);
        self.graph
            .pure(index, mass)
            .over(Expression::Step(molar_mass))
    }

    /// A mass as weighed from an amount in mol: × molar mass ÷ purity.
    pub(in crate::working) fn to_mass(&mut self, index: usize, amount: Expression) -> Expression {
        let molar_mass = self.molar_mass(index);
        let mass = amount.times(Expression::Step(molar_mass));
        match self.graph.purity(index) {
            Some(given) => mass.over(Expression::Given(given).over(Expression::hundred())),
            None => mass,
        }
    }

    /// Says of a purity that it enters no step: an amount found in mol is one of the substance itself.
    pub(in crate::working) fn idle_purities(&mut self) {
        for (index, substance) in self.lab.substances.iter().enumerate() {
            let (Some(purity), Some(given)) = (&substance.purity, self.graph.purity(index)) else {
                continue;
            };
            let mut used = false;
            for step in self.graph.steps() {
                step.expression
                    .visit(&mut |part| used |= *part == Expression::Given(given));
            }
            if !used {
                self.problems.push(
                    Problem::error(
                        Code::UnitMismatch,
                        format!("the purity of {} changes nothing: no mass of it turns into moles, and an amount in mol is one of the substance itself", substance.name),
                    )
                    .at(purity.span.clone(), "not used")
                    .help("let `before`, `after` or `used` come out in g, or take this line out"),
                );
            }
        }
    }
}
