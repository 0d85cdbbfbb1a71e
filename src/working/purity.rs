//! What a purity does: the part of an amount that is the substance itself.

use crate::problem::Code;
use crate::problem::Problem;
use crate::working::Graph;
use crate::working::comparisons::GRAM;
use crate::working::comparisons::MOLE;
use crate::working::expression::Constant;
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
            if substance.formula.open_waters() {
                self.problems.push(
                    Problem::error(
                        Code::UnitMismatch,
                        format!("the purity of {} cannot count: before x is known no mass of it turns into moles", substance.name),
                    )
                    .at(purity.span.clone(), "not used")
                    .help("take this line out"),
                );
            } else if used {
                self.purity_left_out(index);
            } else {
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

    /// Says of what is found of a substance that its molar mass stands in it, so that a mass is one of the substance as it comes here
    /// and of the substance itself there: 90 % zinc that is weighed back and divided by M(Zn) is not zinc that was never used.
    fn purity_left_out(&mut self, index: usize) {
        let substance = self.substance(index);
        for (written, what) in [(&substance.after, "after"), (&substance.used, "used")] {
            let Some(written) = written else { continue };
            let Some((expression, dimension)) = self.lower(written) else {
                continue;
            };
            let name = &substance.name;
            let (message, help) = if dimension == MOLE && self.holds_molar_mass(index, &expression)
            {
                (
                    format!(
                        "`{what}` divides by the molar mass of {name} itself, and so leaves its purity out"
                    ),
                    "let it come out in g: purity and molar mass are counted then",
                )
            } else if dimension == GRAM && self.is_made_of_moles(index, &expression) {
                (
                    format!(
                        "`{what}` is a mass of pure {name}, but a mass of it is taken as one that holds its purity"
                    ),
                    "let it come out in mol, without the molar mass",
                )
            } else {
                continue;
            };
            self.problems.push(
                Problem::error(Code::UnitMismatch, message)
                    .at(written.span.clone(), format!("comes out in {dimension}"))
                    .help(help),
            );
        }
    }

    /// Whether the molar mass of a substance stands in an expression, or in a quantity of the lab's own that it names.
    fn holds_molar_mass(&self, index: usize, expression: &Expression) -> bool {
        let mut found = false;
        expression.visit(&mut |part| {
            found |= match part {
                Expression::Step(step) => {
                    let step = self.graph.step(*step);
                    step.kind == Kind::MolarMass(index)
                        || matches!(step.kind, Kind::Find(_))
                            && self.holds_molar_mass(index, &step.expression)
                }
                part => self.is_molar_mass(index, part),
            };
        });
        found
    }

    /// Whether an expression is moles times the molar mass of a substance: a factor of it, and no other molar mass beside it, as in
    /// the mass of a hydrate from that of its dry salt.
    fn is_made_of_moles(&self, index: usize, expression: &Expression) -> bool {
        if let Expression::Step(step) = expression {
            let step = self.graph.step(*step);
            return matches!(step.kind, Kind::Find(_))
                && self.is_made_of_moles(index, &step.expression);
        }
        let mut molar_masses = Vec::new();
        expression.visit(&mut |part| {
            if matches!(part, Expression::Constant(Constant::MolarMass(_))) {
                molar_masses.push(part);
            }
        });
        let product = matches!(
            expression,
            Expression::Product(_) | Expression::Quotient(..)
        );
        product && matches!(molar_masses[..], [one] if self.is_molar_mass(index, one))
    }

    /// Whether this is the molar mass of a substance, as it is weighed or as it stands in the equation.
    fn is_molar_mass(&self, index: usize, part: &Expression) -> bool {
        let substance = self.substance(index);
        let forms = [Some(&substance.formula), substance.weighed_as.as_ref()];
        matches!(part, Expression::Constant(Constant::MolarMass(formula))
            if forms.into_iter().flatten().any(|form| form.same_substance(formula)))
    }
}
