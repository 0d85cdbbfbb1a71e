//! Which causes fit what was measured, in direction and in size, and which are ruled out.

use std::collections::BTreeMap;

use crate::causes::catalogue;
use crate::causes::catalogue::Cause;
use crate::causes::catalogue::Limit;
use crate::causes::deviation::Deviations;
use crate::causes::deviation::most_by_chance;
use crate::causes::effect::Effect;
use crate::causes::effect::Solved;
use crate::causes::evidence;
use crate::causes::evidence::Evidence;
use crate::causes::scene::Scene;

/// Chance that a cause that is the right one is said to fit.
const FIT: f64 = 0.997;
/// Standard uncertainties by which an amount may lie beyond a bound, or on the wrong side of zero.
const LEEWAY: f64 = 2.0;

/// A cause that fits.
#[derive(Debug, Clone)]
pub struct Listed {
    /// The cause.
    pub cause: &'static Cause,
    /// Its effect here.
    pub effect: Effect,
    /// The amount of it that explains what was measured.
    pub solved: Solved,
    /// The most of it that is possible, where that is known.
    pub limit: Option<Limit>,
    /// Whether it explains everything alone.
    pub fit: Fit,
    /// What speaks for it and against it.
    pub evidence: Evidence,
}

/// How much a cause explains.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// Everything.
    Alone,
    /// Everything together with a cause of this effect.
    With(Effect),
}

/// A cause that is ruled out as the only one.
#[derive(Debug, Clone)]
pub struct RuledOut {
    /// The cause.
    pub cause: &'static Cause,
    /// Its effect here.
    pub effect: Effect,
    /// Why.
    pub why: Why,
}

/// Why a cause is ruled out.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// It works the other way.
    WrongWay,
    /// It would take more than is possible.
    TooMuch {
        /// The amount it would take.
        needed: f64,
        /// The bound.
        limit: Limit,
    },
    /// It leaves something unexplained.
    NotAll,
}

/// What came of one effect.
type Outcomes = BTreeMap<Effect, Option<Solved>>;

/// All causes that apply, weighed; the deviations are known to be more than the readings explain.
pub(super) fn all(scene: &Scene<'_>, deviations: &Deviations) -> (Vec<Listed>, Vec<RuledOut>) {
    let applying: Vec<(&'static Cause, Vec<Effect>)> = catalogue::all()
        .map(|cause| (cause, (cause.at)(scene)))
        .filter(|(_, effects)| !effects.is_empty())
        .collect();
    let mut outcomes = Outcomes::new();
    for effect in applying.iter().flat_map(|(_, effects)| effects) {
        outcomes
            .entry(*effect)
            .or_insert_with(|| effect.solve(scene, deviations));
    }
    let mut listed: Vec<Listed> = applying
        .iter()
        .filter_map(|(cause, effects)| alone(cause, effects, &outcomes, scene, deviations))
        .collect();
    if listed.is_empty() && deviations.all.len() > 1 {
        listed = in_pairs(&applying, &outcomes, scene, deviations);
    }
    listed.sort_by_key(|one| {
        (
            one.fit != Fit::Alone,
            -one.evidence.score(),
            !one.cause.stock,
        )
    });
    let named = |cause: &Cause| listed.iter().any(|one| one.cause.id == cause.id);
    let ruled_out = applying
        .iter()
        .filter(|(cause, _)| cause.stock && !named(cause))
        .filter_map(|(cause, effects)| ruled_out(cause, effects, &outcomes, scene))
        .collect();
    (listed, ruled_out)
}

/// Whether an effect explains everything by itself.
pub(super) fn explains(solved: &Solved, deviations: &Deviations) -> bool {
    let others = deviations.all.len() - 1;
    let fits = others == 0 || solved.rest <= most_by_chance(others, FIT);
    fits && solved.amount > solved.standard
}

/// The bound of a cause, and whether an amount is within it.
pub(super) fn within(
    cause: &Cause,
    effect: Effect,
    solved: &Solved,
    scene: &Scene<'_>,
) -> (Option<Limit>, bool) {
    let limit = (cause.most)(scene, effect);
    let (least, most) = match (&limit, effect) {
        (Some(limit), _) => (limit.least, limit.most),
        (None, Effect::Unreacted) => (0.0, 1.0),
        (None, _) => (0.0, f64::INFINITY),
    };
    let leeway = LEEWAY * solved.standard;
    let fits = solved.amount - leeway <= most && solved.amount + leeway >= least;
    (limit, fits)
}

/// A cause by which everything is explained; of several effects the one that leaves the least.
fn alone(
    cause: &'static Cause,
    effects: &[Effect],
    outcomes: &Outcomes,
    scene: &Scene<'_>,
    deviations: &Deviations,
) -> Option<Listed> {
    let fitting = effects.iter().filter_map(|effect| {
        let solved = outcomes.get(effect)?.as_ref()?;
        let (limit, possible) = within(cause, *effect, solved, scene);
        (possible && explains(solved, deviations)).then_some((*effect, solved, limit))
    });
    let (effect, solved, limit) = fitting.min_by(|a, b| a.1.rest.total_cmp(&b.1.rest))?;
    Some(Listed {
        cause,
        effect,
        solved: solved.clone(),
        limit,
        fit: Fit::Alone,
        evidence: evidence::of(cause, effect, scene),
    })
}

/// Causes of which two together explain everything: each once, with the partner that has the strongest evidence.
fn in_pairs(
    applying: &[(&'static Cause, Vec<Effect>)],
    outcomes: &Outcomes,
    scene: &Scene<'_>,
    deviations: &Deviations,
) -> Vec<Listed> {
    let effects: Vec<Effect> = outcomes.keys().copied().collect();
    let slopes: BTreeMap<Effect, Vec<f64>> = effects
        .iter()
        .filter_map(|effect| Some((*effect, effect.slopes(scene, deviations)?)))
        .collect();
    let sizes: Vec<f64> = deviations.all.iter().map(|one| one.size).collect();
    let here = deviations.white(&sizes);
    let mut found: Vec<(i32, Listed)> = Vec::new();
    for (first, first_slopes) in &slopes {
        for (second, second_slopes) in slopes.range(first..).skip(1) {
            let Some(both) = two(first_slopes, second_slopes, &here) else {
                continue;
            };
            let others = deviations.all.len() - 2;
            if others > 0 && both[0].rest > most_by_chance(others, FIT) {
                continue;
            }
            let mut sides = [(*first, *second, &both[0]), (*second, *first, &both[1])]
                .map(|(effect, partner, solved)| best(applying, effect, partner, solved, scene));
            // Two rare things at once are no explanation worth a line.
            let usual = |side: &Vec<Listed>| {
                side.iter()
                    .any(|one| one.cause.stock || one.evidence.score() > 0)
            };
            if !sides.iter().all(usual) {
                continue;
            }
            let score = sides
                .iter()
                .map(|side| side[0].evidence.score())
                .sum::<i32>();
            for side in &mut sides {
                found.extend(side.drain(..).map(|one| (score, one)));
            }
        }
    }
    found.sort_by_key(|(score, one)| (-score, -one.evidence.score()));
    let mut listed: Vec<Listed> = Vec::new();
    for (_, one) in found {
        if !listed.iter().any(|known| known.cause.id == one.cause.id) {
            listed.push(one);
        }
    }
    listed
}

/// The causes that may have an effect of a given amount, those with the strongest evidence first.
fn best(
    applying: &[(&'static Cause, Vec<Effect>)],
    effect: Effect,
    partner: Effect,
    solved: &Solved,
    scene: &Scene<'_>,
) -> Vec<Listed> {
    let mut fitting: Vec<Listed> = applying
        .iter()
        .filter(|(_, effects)| effects.contains(&effect))
        .filter_map(|(cause, _)| {
            let (limit, possible) = within(cause, effect, solved, scene);
            (possible && solved.amount > LEEWAY * solved.standard).then(|| Listed {
                cause,
                effect,
                solved: solved.clone(),
                limit,
                fit: Fit::With(partner),
                evidence: evidence::of(cause, effect, scene),
            })
        })
        .collect();
    fitting.sort_by_key(|one| (-one.evidence.score(), !one.cause.stock));
    fitting
}

/// The amounts of two effects for which the deviations come nearest to zero; `None` where they cannot be told apart.
fn two(a: &[f64], b: &[f64], here: &[f64]) -> Option<[Solved; 2]> {
    let dot = |x: &[f64], y: &[f64]| x.iter().zip(y).map(|(p, q)| p * q).sum::<f64>();
    let (aa, bb, ab) = (dot(a, a), dot(b, b), dot(a, b));
    let determinant = aa * bb - ab * ab;
    if determinant <= 1e-6 * aa * bb {
        return None;
    }
    let (ha, hb) = (-dot(a, here), -dot(b, here));
    let amounts = [
        (bb * ha - ab * hb) / determinant,
        (aa * hb - ab * ha) / determinant,
    ];
    let rest = here
        .iter()
        .zip(a.iter().zip(b))
        .map(|(h, (x, y))| (h + amounts[0] * x + amounts[1] * y).powi(2))
        .sum();
    let variances = [bb / determinant, aa / determinant];
    Some([0, 1].map(|side| Solved {
        amount: amounts[side],
        standard: variances[side].sqrt(),
        rest,
    }))
}

/// Why a cause is no explanation by itself.
fn ruled_out(
    cause: &'static Cause,
    effects: &[Effect],
    outcomes: &Outcomes,
    scene: &Scene<'_>,
) -> Option<RuledOut> {
    let solved = |effect: &Effect| Some((*effect, outcomes.get(effect)?.as_ref()?));
    let mut known: Vec<(Effect, &Solved)> = effects.iter().filter_map(solved).collect();
    // Of several effects the one that comes nearest is worth a word.
    known.sort_by(|a, b| a.1.rest.total_cmp(&b.1.rest));
    let (effect, solved) = *known.first()?;
    let (limit, possible) = within(cause, effect, solved, scene);
    let why = match limit {
        _ if solved.amount < LEEWAY * solved.standard => {
            if solved.amount > -LEEWAY * solved.standard {
                Why::NotAll
            } else {
                Why::WrongWay
            }
        }
        Some(limit) if !possible => Why::TooMuch {
            needed: solved.amount,
            limit,
        },
        _ => Why::NotAll,
    };
    Some(RuledOut { cause, effect, why })
}
