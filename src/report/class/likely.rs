//! What the report of one group lists as causes, as far as it may have moved a whole class to one side.

use std::cmp::Ordering;

use crate::causes::Cause;
use crate::causes::Effect;
use crate::class::Likely;
use crate::class::pool::Kept;
use crate::report::Case;

/// The causes that a group's report lists, each with the way it moves the pooled quantities. What is possible only at the edge of its
/// uncertainty, or can work either way, moves no class to one side.
#[must_use]
pub fn likely(case: &Case<'_>, kept: &Kept) -> Vec<Likely> {
    let weighed = case.weigh();
    let scene = &weighed.scene;
    let listed = weighed.listed.iter().filter(|one| !one.is_at_edge());
    let likely = listed.map(|one| {
        let effects = (one.cause.at)(scene);
        let moves = kept.quantities.iter().map(|quantity| {
            let way = |effect: &Effect| effect.moves(scene, quantity.found, quantity.minus);
            let own = way(&one.effect).filter(|own| *own != Ordering::Equal)?;
            let turned = |effect| way(effect) == Some(own.reverse());
            (!effects.iter().any(turned)).then_some(own)
        });
        Likely {
            id: one.cause.id,
            says: Cause::fill(case.lab.words.say(one.cause.says), one.effect, scene),
            score: one.evidence.score(),
            moves: moves.collect(),
        }
    });
    likely.collect()
}
