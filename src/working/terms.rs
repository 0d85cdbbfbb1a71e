//! What the parts of an expression say with every step written out, and sums: how often each reading and each given counts.

use std::collections::BTreeMap;

use crate::working::Expression;
use crate::working::Graph;

/// What a sum is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Term {
    /// A reading, by its number in the lab.
    Reading(usize),
    /// A given, by its number in [`Graph::givens`].
    Given(usize),
}

/// How often each term counts in a sum; none counts nothing.
pub type Terms = BTreeMap<Term, i32>;

/// A part of the expression of a step.
#[derive(Debug, Clone)]
pub struct Part {
    /// As it stands.
    pub expression: Expression,
    /// With every step in it written out.
    pub written_out: Expression,
    /// As a sum, where it is one.
    pub terms: Option<Terms>,
}

impl Part {
    /// Whether another part says the same, however it is put.
    #[must_use]
    pub fn says_the_same(&self, other: &Self) -> bool {
        self.written_out.is_like(&other.written_out)
            || (self.terms.is_some() && self.terms == other.terms)
    }
}

/// An expression, and whatever it holds that is worked: each part once, outermost first.
#[must_use]
pub fn parts_of(graph: &Graph, expression: &Expression) -> Vec<Part> {
    let mut found: Vec<&Expression> = vec![expression];
    expression.visit(&mut |part| {
        let worked = !matches!(part, Expression::Step(_) | Expression::Constant(_));
        if worked && !found.contains(&part) {
            found.push(part);
        }
    });
    let part = |part: &Expression| Part {
        expression: part.clone(),
        written_out: written_out(graph, part),
        terms: terms_of(graph, part),
    };
    found.into_iter().map(part).collect()
}

/// An expression with every step written out.
fn written_out(graph: &Graph, expression: &Expression) -> Expression {
    let all = |parts: &[Expression]| parts.iter().map(|part| written_out(graph, part)).collect();
    match expression {
        Expression::Step(step) => written_out(graph, &graph.step(*step).expression),
        Expression::Sum(parts) => Expression::Sum(all(parts)),
        Expression::Product(parts) => Expression::Product(all(parts)),
        Expression::Difference(a, b) => written_out(graph, a).minus(written_out(graph, b)),
        Expression::Quotient(a, b) => written_out(graph, a).over(written_out(graph, b)),
        other => other.clone(),
    }
}

/// An expression as a sum of readings and givens, through the steps that it names; `None` where it is more than that.
#[must_use]
pub fn terms_of(graph: &Graph, expression: &Expression) -> Option<Terms> {
    fn add(graph: &Graph, part: &Expression, sign: i32, sum: &mut Terms) -> Option<()> {
        match part {
            Expression::Reading(reading) => {
                *sum.entry(Term::Reading(*reading)).or_default() += sign;
            }
            Expression::Given(given) => {
                *sum.entry(Term::Given(*given)).or_default() += sign;
            }
            Expression::Step(step) => add(graph, &graph.step(*step).expression, sign, sum)?,
            Expression::Sum(terms) => {
                for term in terms {
                    add(graph, term, sign, sum)?;
                }
            }
            Expression::Difference(from, taken) => {
                add(graph, from, sign, sum)?;
                add(graph, taken, -sign, sum)?;
            }
            _ => return None,
        }
        Some(())
    }
    let mut sum = Terms::new();
    add(graph, expression, 1, &mut sum)?;
    sum.retain(|_, count| *count != 0);
    Some(sum)
}
