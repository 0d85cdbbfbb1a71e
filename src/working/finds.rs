//! The lab's own quantities, with their accepted values.

use crate::measure::Dimension;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::say;
use crate::working::expression::Expression;
use crate::working::expression::StepId;
use crate::working::graph::Graph;
use crate::working::graph::Kind;
use crate::working::plan::Plan;

impl Graph {
    /// The lab's own quantities, the result that it speaks of first: those with an accepted value, then the others from the last.
    #[must_use]
    pub fn finds(&self) -> Vec<StepId> {
        let all = self.ids().filter_map(|id| match self.step(id).kind {
            Kind::Find(find) => Some((id, self.of_kind(Kind::Accepted(find)).is_some())),
            _ => None,
        });
        let (mut compared, others): (Vec<_>, Vec<_>) = all.partition(|(_, accepted)| *accepted);
        compared.extend(others.into_iter().rev());
        compared.into_iter().map(|(id, _)| id).collect()
    }
}

impl Plan<'_> {
    /// Plans one further quantity, once.
    pub(super) fn find(&mut self, index: usize) {
        let find = &self.lab.finds[index];
        if self.graph.of_kind(Kind::Find(index)).is_some() {
            return;
        }
        if self.finding.contains(&index) {
            self.problems.push(
                Problem::error(
                    Code::CircularFind,
                    format!("`{}` needs its own value", find.id),
                )
                .at(find.value.span.clone(), "leads back to itself")
                .help("write one of the quantities with readings only"),
            );
            return;
        }
        self.finding.push(index);
        let value = self.lower(&find.value);
        let accepted = find.expected.as_ref().and_then(|written| {
            self.lower(written)
                .map(|lowered| (written.span.clone(), lowered))
        });
        self.finding.pop();
        let Some((expression, dimension)) = value else {
            return;
        };
        let unit = self.find_unit(find.unit.as_ref(), dimension, &find.value.span);
        let step = self.add(
            find.id.clone(),
            find.title.clone(),
            Kind::Find(index),
            (expression, dimension),
        );
        self.graph.show_in(step, unit);
        let Some((span, (accepted, accepted_is))) = accepted else {
            return;
        };
        let comparable = accepted_is == dimension || is_plain(accepted_is) && is_plain(dimension);
        if !comparable {
            self.problems.push(
                Problem::error(
                    Code::UnitMismatch,
                    format!("`expected` comes out in {accepted_is}, `value` in {dimension}"),
                )
                .at(span, format!("in {accepted_is}"))
                .at(find.value.span.clone(), format!("in {dimension}"))
                .help("both must be of one kind"),
            );
            return;
        }
        let words = &self.lab.words;
        let title = say!(words, "accepted value: {quantity}", quantity = find.title);
        let reference = self.add(
            format!("accepted_{}", find.id),
            title,
            Kind::Accepted(index),
            (accepted, dimension),
        );
        self.graph.show_in(reference, unit);
        let difference = Expression::Step(step).minus(Expression::Step(reference));
        let error = Expression::hundred().times(difference.over(Expression::Step(reference)));
        let title = say!(words, "percent error: {quantity}", quantity = find.title);
        self.add(
            format!("error_{}", find.id),
            title,
            Kind::FindError(index),
            (error, Unit::Percent.dimension()),
        );
    }

    /// The unit a further quantity is shown in; `%` may label a plain number that holds its own factor 100.
    fn find_unit(
        &mut self,
        written: Option<&(Unit, Span)>,
        dimension: Dimension,
        value: &Span,
    ) -> Unit {
        let natural = Unit::for_dimension(dimension);
        match written {
            Some((unit, span)) => {
                if unit.dimension() != dimension && !(is_plain(unit.dimension()) && is_plain(dimension)) {
                    self.problems.push(
                        Problem::error(Code::UnitMismatch, format!("`value` comes out in {dimension}, but `unit` says {}", unit.in_words()))
                            .at(span.clone(), format!("says {}", unit.in_words()))
                            .at(value.clone(), format!("comes out in {dimension}"))
                            .help("change the unit, or the expression"),
                    );
                    return natural.unwrap_or(Unit::One);
                }
                if !unit.is_decimal() {
                    self.problems.push(
                        Problem::error(Code::UnitMismatch, format!("results are not shown in {unit}"))
                            .at(span.clone(), "here")
                            .help("write kPa or hPa; students may type their answers in any unit of pressure"),
                    );
                    return natural.unwrap_or(Unit::One);
                }
                *unit
            }
            None => natural.unwrap_or_else(|| {
                self.problems.push(
                    Problem::error(Code::UnitMismatch, format!("`value` comes out in {dimension}, which is no unit of a result"))
                        .at(value.clone(), format!("comes out in {dimension}"))
                        .help("multiply or divide so that g, mL, mol, mol/L, g/mL, g/mol, % or a plain number is left"),
                );
                Unit::One
            }),
        }
    }
}

/// A plain number or a percentage.
fn is_plain(dimension: Dimension) -> bool {
    dimension == Dimension::ONE || dimension == Unit::Percent.dimension()
}
