//! Masses and amounts of one substance brought together, so that what was found is held against what was predicted in one unit.

use crate::lab::Written;
use crate::measure::Dimension;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::working::comparisons::GRAM;
use crate::working::comparisons::MOLE;
use crate::working::expression::Expression;
use crate::working::plan::Plan;

impl Plan<'_> {
    /// Lowers an expression that must come out as a mass or an amount.
    pub(super) fn lower_matter(
        &mut self,
        written: &Written,
        what: &str,
    ) -> Option<(Expression, Dimension)> {
        let (expression, dimension) = self.lower(written)?;
        let matter = dimension == Unit::Gram.dimension() || dimension == Unit::Mole.dimension();
        if !matter {
            let problem = Problem::error(
                    Code::UnitMismatch,
                    format!("`{what}` comes out in {dimension}, but must come out in g or in mol"),
                )
                .at(written.span.clone(), format!("comes out in {dimension}"))
                .help("a volume needs a density (g/mL) or a concentration (mol/L) beside it; of a gas, gas(volume, temperature, pressure) gives moles");
            // Several steps are worked from one expression.
            if !self.problems.contains(&problem) {
                self.problems.push(problem);
            }
        }
        matter.then_some((expression, dimension))
    }

    /// What a reactant is compared in: g where any of its amounts is weighed, or where none is measured; else mol.
    pub(super) fn compared_in(&mut self, index: usize) -> Dimension {
        let substance = self.substance(index);
        let mut found = Vec::new();
        if let Some((_, start)) = self.start(index) {
            found.push(start);
        }
        for (written, what) in [(&substance.after, "after"), (&substance.used, "used")] {
            let lowered = written
                .as_ref()
                .and_then(|written| self.lower_matter(written, what));
            found.extend(lowered.map(|(_, dimension)| dimension));
        }
        if found.is_empty() || found.contains(&GRAM) {
            GRAM
        } else {
            MOLE
        }
    }

    /// How much of a substance there was at the start: its mass as weighed, else its moles.
    pub(super) fn start(&self, index: usize) -> Option<(Expression, Dimension)> {
        let step = self.graph.start(index)?;
        Some((Expression::Step(step), self.graph.step(step).dimension))
    }

    /// A mass or an amount of a substance as the other of the two, where that is wanted; a problem where nobody knows the molar
    /// mass.
    pub(super) fn brought_to(
        &mut self,
        wanted: Dimension,
        index: usize,
        (expression, dimension): (Expression, Dimension),
    ) -> Option<Expression> {
        if dimension == wanted {
            return Some(expression);
        }
        let substance = self.substance(index);
        if substance.formula.open_waters() {
            let name = &substance.name;
            let problem = Problem::error(
                Code::UnitMismatch,
                format!("{name} is measured in g here and in mol there, and without its waters nothing turns one into the other"),
            )
            .at(substance.span.clone(), "measured in two ways")
            .help("let `before`, `after` and `used` of it all come out in g");
            if !self.problems.contains(&problem) {
                self.problems.push(problem);
            }
            return None;
        }
        Some(if wanted == GRAM {
            self.to_mass(index, expression)
        } else {
            self.to_moles(index, expression)
        })
    }
}
