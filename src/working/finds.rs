//! The lab's own quantities, with their accepted values.

use crate::measure::Dimension;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::say;
use crate::working::comparisons::PERCENT;
use crate::working::expression::Constant;
use crate::working::expression::Expression;
use crate::working::expression::StepId;
use crate::working::graph::Graph;
use crate::working::graph::Kind;
use crate::working::plan::Plan;

/// A factor 100 that was reckoned with others is hardly less: 100 ÷ 4.
const LEAST_FACTOR: f64 = 20.0;

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
        if unit == Unit::Percent {
            self.percentage("value", &find.value.span, (&expression, dimension));
        }
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
        // A number alone may be any percentage; what is worked out is one only with its factor.
        if unit == Unit::Percent && !matches!(accepted, Expression::Constant(Constant::Number(_))) {
            self.percentage("expected", &span, (&accepted, accepted_is));
        } else if unit != Unit::Percent && accepted_is == PERCENT && dimension != PERCENT {
            self.problems.push(
                Problem::error(
                    Code::UnitMismatch,
                    "`expected` is a percentage, `value` a plain number",
                )
                .at(span.clone(), "in %")
                .at(find.value.span.clone(), "a plain number")
                .help("write `100 * (…)` in `value` and `unit = \"%\"`, or `expected` as a plain number"),
            );
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

    /// Says of a plain number shown in % that it has no factor 100: a quotient of two masses would be printed a hundred times too small.
    fn percentage(
        &mut self,
        what: &str,
        span: &Span,
        (expression, dimension): (&Expression, Dimension),
    ) {
        if dimension == Dimension::ONE && !self.is_in_percent(expression) {
            self.problems.push(
                Problem::error(
                    Code::UnitMismatch,
                    format!("`{what}` comes out as a part of 1, but `unit` says %"),
                )
                .at(span.clone(), "no factor 100 in it")
                .help("write `100 * (…)`: `unit` names the unit and changes no number; or leave `unit` out"),
            );
        }
    }

    /// Whether a plain number may be a percentage: 100 or another large number stands in it, or something that is a percentage already.
    /// Coefficients and waters are smaller.
    fn is_in_percent(&self, expression: &Expression) -> bool {
        let mut found = false;
        expression.visit(&mut |part| {
            found |= match part {
                Expression::Constant(Constant::Number(number)) => {
                    number.to_f64().abs() >= LEAST_FACTOR
                }
                Expression::Given(given) => {
                    self.graph.givens[*given].value.unit == Some(Unit::Percent)
                }
                Expression::Step(step) => self.graph.step(*step).unit == Unit::Percent,
                _ => false,
            };
        });
        found
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
