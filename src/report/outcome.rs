//! What the form asks about the effect of a cause: how the result of this lab came out.

use crate::say;
use crate::words::Words;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;

/// The note behind `effect`: the percent yield where the lab has one, else the quantity of its own with an accepted value, else
/// the last of its own.
pub(super) fn effect_note(graph: &Graph, words: &Words) -> String {
    let kind = |id: &StepId| graph.step(*id).kind;
    if graph
        .ids()
        .any(|id| matches!(kind(&id), Kind::PercentYield(_)))
    {
        return say!(words, "higher or lower: how the percent yield came out");
    }
    let finds = || {
        let ids = graph.ids();
        ids.filter(|id| matches!(kind(id), Kind::Find(_)))
    };
    let is_compared = |id: &StepId| matches!(kind(id), Kind::Find(find) if graph.of_kind(Kind::Accepted(find)).is_some());
    match finds().find(is_compared).or_else(|| finds().last()) {
        Some(find) => say!(
            words,
            "higher or lower: how this came out: {quantity}",
            quantity = graph.step(find).title
        ),
        None => say!(words, "higher or lower: how the result came out"),
    }
}
