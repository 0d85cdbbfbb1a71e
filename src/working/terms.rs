//! An expression as a sum: how often each reading and each given counts in it.

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
