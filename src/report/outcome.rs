//! What the form asks about the effect of a cause: how the result of this lab came out.

use crate::say;
use crate::words::Words;
use crate::working::Graph;
use crate::working::Kind;

/// The note behind `effect`: the percent yield where the lab has one, else the quantity of its own with an accepted value, else
/// the last of its own.
pub(super) fn effect_note(graph: &Graph, words: &Words) -> String {
    let mut ids = graph.ids();
    if ids.any(|id| matches!(graph.step(id).kind, Kind::PercentYield(_))) {
        return say!(words, "higher or lower: how the percent yield came out");
    }
    match graph.finds().first() {
        Some(find) => say!(
            words,
            "higher or lower: how this came out: {quantity}",
            quantity = graph.step(*find).title
        ),
        None => say!(words, "higher or lower: how the result came out"),
    }
}
