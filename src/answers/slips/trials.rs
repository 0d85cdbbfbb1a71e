//! Slips with several trials: the answer of another one, or the mean of all.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::Way;
use crate::answers::slips::bench::Bench;

pub(super) const SLIPS: &[Slip] = &[
    Slip {
        id: "of-another-trial",
        prompt: "Which trial are these readings from? The answers are those of the first trial.",
        family: Family::Reading,
        way: Way::Answer(|bench| bench.other_trials.to_vec()),
    },
    Slip {
        id: "mean-of-trials",
        prompt: "Is this a mean? The answers are those of the first trial alone.",
        family: Family::Reading,
        way: Way::Answer(mean),
    },
];

/// The mean of all trials.
fn mean(bench: &Bench<'_>) -> Vec<f64> {
    let others = bench.other_trials;
    if others.is_empty() {
        return Vec::new();
    }
    // A record has at most 99 trials.
    let count = others.len() as f64 + 1.0;
    vec![(bench.key + others.iter().sum::<f64>()) / count]
}
