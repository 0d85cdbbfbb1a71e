//! Which causes fit what was measured, in direction and in size, and which are ruled out.

use std::cell::OnceCell;
use std::collections::BTreeMap;

use crate::causes::catalogue;
use crate::causes::catalogue::Cause;
use crate::causes::catalogue::Limit;
use crate::causes::deviation::Deviations;
use crate::causes::deviation::at_most;
use crate::causes::effect::Effect;
use crate::causes::effect::Solved;
use crate::causes::evidence;
use crate::causes::evidence::Evidence;
use crate::causes::scene::Scene;
use crate::causes::undo::Undoing;
use crate::say;
use crate::words::Words;

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

impl Listed {
    /// That its amount lies beyond what is possible, and is within it only by its uncertainty; nothing where that is not so.
    #[must_use]
    pub fn only_at_edge(&self, words: &Words) -> Option<String> {
        only_at_edge(self.limit.as_ref(), &self.solved, words)
    }

    /// Whether its amount lies beyond what is possible.
    #[must_use]
    pub fn is_at_edge(&self) -> bool {
        is_at_edge(self.limit.as_ref(), &self.solved)
    }
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

/// What came of each effect.
type Outcomes<'s, 'a> = BTreeMap<Effect, Outcome<'s, 'a>>;

/// An effect undone, and the amount of it that comes nearest to explaining the deviations.
struct Outcome<'s, 'a> {
    undoing: Undoing<'s, 'a>,
    solved: Option<Solved>,
}

/// An effect with its partner and its amount beside it, and the weights of the deviations in that.
type Side = (Effect, Effect, Solved, Vec<f64>);

/// A cause with one of its effects here; what few of them need is worked out when it is asked for.
struct Row<'s, 'a> {
    scene: &'s Scene<'a>,
    cause: &'static Cause,
    effect: Effect,
    limit: OnceCell<Option<Limit>>,
    score: OnceCell<i32>,
}

impl Row<'_, '_> {
    fn listed(&self, solved: &Solved, fit: Fit) -> Listed {
        Listed {
            cause: self.cause,
            effect: self.effect,
            solved: solved.clone(),
            limit: self.limit().cloned(),
            fit,
            evidence: evidence::of(self.cause, self.effect, self.scene),
        }
    }

    /// The most of it that is possible.
    fn limit(&self) -> Option<&Limit> {
        let most = || (self.cause.most)(self.scene, self.effect);
        self.limit.get_or_init(most).as_ref()
    }

    /// How strong its evidence is.
    fn score(&self) -> i32 {
        let score = || evidence::score(self.cause, self.effect, self.scene);
        *self.score.get_or_init(score)
    }

    fn possible(&self, solved: &Solved) -> bool {
        is_within(self.limit(), self.effect, solved)
    }

    /// Whether it is named often, or something speaks for it.
    fn is_usual(&self) -> bool {
        self.cause.stock || self.score() > 0
    }
}

/// All causes that apply, weighed; the deviations are known to be more than the readings explain.
pub(super) fn all(scene: &Scene<'_>, deviations: &Deviations) -> (Vec<Listed>, Vec<RuledOut>) {
    let mut rows = Vec::new();
    let mut outcomes = Outcomes::new();
    for cause in catalogue::all() {
        for effect in (cause.at)(scene) {
            outcomes.entry(effect).or_insert_with(|| {
                let mut undoing = Undoing::of(effect, scene);
                let solved = effect.solve_by(&mut undoing, scene, deviations);
                Outcome { undoing, solved }
            });
            rows.push(Row {
                scene,
                cause,
                effect,
                limit: OnceCell::new(),
                score: OnceCell::new(),
            });
        }
    }
    let by_cause: Vec<&[Row<'_, '_>]> = rows.chunk_by(|a, b| a.cause.id == b.cause.id).collect();
    let mut listed: Vec<Listed> = by_cause
        .iter()
        .filter_map(|rows| alone(rows, &outcomes, deviations))
        .collect();
    if listed.is_empty() && deviations.all.len() > 1 {
        listed = in_pairs(&rows, &mut outcomes, scene, deviations);
    }
    listed.sort_by_key(|one| {
        (
            one.fit != Fit::Alone,
            // Where something speaks for it, its bound, a rule of thumb, may be what is wrong.
            one.is_at_edge() && one.evidence.score() <= 0,
            -one.evidence.score(),
            !one.cause.stock,
        )
    });
    let named = |cause: &Cause| listed.iter().any(|one| one.cause.id == cause.id);
    let ruled_out = by_cause
        .iter()
        .filter(|rows| rows[0].cause.stock && !named(rows[0].cause))
        .filter_map(|rows| ruled_out(rows, &outcomes))
        .collect();
    (listed, ruled_out)
}

/// Whether an effect explains everything by itself.
pub(super) fn explains(solved: &Solved, deviations: &Deviations) -> bool {
    solved.rest <= at_most(deviations.all.len() - 1) && solved.amount > solved.standard
}

/// Whether an amount is within the bound of a cause.
pub(super) fn is_within(limit: Option<&Limit>, effect: Effect, solved: &Solved) -> bool {
    let (least, most) = match (limit, effect) {
        (Some(limit), _) => (limit.least, limit.most),
        (None, Effect::Unreacted) => (0.0, 1.0),
        (None, _) => (0.0, f64::INFINITY),
    };
    let leeway = LEEWAY * solved.standard;
    solved.amount - leeway <= most && solved.amount + leeway >= least
}

/// Whether an amount that is within a bound is so only by its uncertainty.
fn is_at_edge(limit: Option<&Limit>, solved: &Solved) -> bool {
    limit.is_some_and(|limit| !(limit.least..=limit.most).contains(&solved.amount))
}

/// The bound, and that an amount is within it only by its uncertainty.
pub(super) fn only_at_edge(
    limit: Option<&Limit>,
    solved: &Solved,
    words: &Words,
) -> Option<String> {
    let limit = limit.filter(|limit| is_at_edge(Some(limit), solved))?;
    Some(say!(
        words,
        "{reason} This amount is possible only at the edge of its uncertainty.",
        reason = limit.why
    ))
}

/// A cause by which everything is explained; of several effects the one that leaves the least.
fn alone(
    rows: &[Row<'_, '_>],
    outcomes: &Outcomes<'_, '_>,
    deviations: &Deviations,
) -> Option<Listed> {
    let fitting = rows.iter().filter_map(|row| {
        let solved = outcomes.get(&row.effect)?.solved.as_ref()?;
        (explains(solved, deviations) && row.possible(solved)).then_some((row, solved))
    });
    let (row, solved) = fitting.min_by(|a, b| a.1.rest.total_cmp(&b.1.rest))?;
    Some(row.listed(solved, Fit::Alone))
}

/// Causes of which two together explain everything: each once, with the partner that has the strongest evidence.
fn in_pairs(
    rows: &[Row<'_, '_>],
    outcomes: &mut Outcomes<'_, '_>,
    scene: &Scene<'_>,
    deviations: &Deviations,
) -> Vec<Listed> {
    let slopes: Vec<(Effect, Vec<f64>)> = outcomes
        .iter_mut()
        .filter_map(|(effect, outcome)| {
            let slopes = effect.slopes(&mut outcome.undoing, scene, deviations)?;
            Some((*effect, slopes))
        })
        .collect();
    let sizes: Vec<f64> = deviations.all.iter().map(|one| one.size).collect();
    let here = deviations.white(&sizes);
    let mut pairs: Vec<(i32, [Side; 2])> = Vec::new();
    for (place, (first, first_slopes)) in slopes.iter().enumerate() {
        for (second, second_slopes) in &slopes[place + 1..] {
            let Some([a, b]) = two(first_slopes, second_slopes, &here) else {
                continue;
            };
            if a.rest > at_most(deviations.all.len() - 2) {
                continue;
            }
            let best = |effect: Effect, solved: &Solved| {
                let fitting = fitting(rows, effect, solved);
                // Two rare things at once are no explanation worth a line.
                let usual = fitting.filter(|row| row.is_usual());
                usual.map(Row::score).max()
            };
            if let (Some(one), Some(other)) = (best(*first, &a), best(*second, &b)) {
                let [of_a, of_b] = weights(first_slopes, second_slopes);
                let sides = [(*first, *second, a, of_a), (*second, *first, b, of_b)];
                pairs.push((one + other, sides));
            }
        }
    }
    pairs.sort_by_key(|(score, _)| -score);
    let mut listed: Vec<Listed> = Vec::new();
    for (effect, partner, solved, weights) in pairs.iter().flat_map(|(_, sides)| sides) {
        for row in fitting(rows, *effect, solved) {
            if !listed.iter().any(|known| known.cause.id == row.cause.id) {
                let mut one = row.listed(solved, Fit::With(*partner));
                one.solved.limit = deviations.worst_case(weights);
                listed.push(one);
            }
        }
    }
    listed
}

/// The causes that may have an effect of a given amount.
fn fitting<'r, 's, 'a>(
    rows: &'r [Row<'s, 'a>],
    effect: Effect,
    solved: &'r Solved,
) -> impl Iterator<Item = &'r Row<'s, 'a>> {
    let enough = solved.amount > LEEWAY * solved.standard;
    rows.iter()
        .filter(move |row| enough && row.effect == effect && row.possible(solved))
}

/// Sums of the products of two effects' slopes: each with itself, with the other, and their determinant.
fn products(a: &[f64], b: &[f64]) -> (f64, f64, f64, f64) {
    let (aa, bb, ab) = (dot(a, a), dot(b, b), dot(a, b));
    (aa, bb, ab, aa * bb - ab * ab)
}

fn dot(x: &[f64], y: &[f64]) -> f64 {
    x.iter().zip(y).map(|(p, q)| p * q).sum()
}

/// The amounts of two effects for which the deviations come nearest to zero, without their limits; `None` where they
/// cannot be told apart.
fn two(a: &[f64], b: &[f64], here: &[f64]) -> Option<[Solved; 2]> {
    let (aa, bb, ab, determinant) = products(a, b);
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
        limit: 0.0,
        rest,
    }))
}

/// The weights of the deviations in the amounts of two effects.
fn weights(a: &[f64], b: &[f64]) -> [Vec<f64>; 2] {
    let (aa, bb, ab, determinant) = products(a, b);
    [(bb, a, b), (aa, b, a)].map(|(own, x, y)| {
        let parts = x.iter().zip(y);
        parts
            .map(|(p, q)| (own * p - ab * q) / determinant)
            .collect()
    })
}

/// Why a cause is no explanation by itself; of several effects the one that comes nearest is worth a word.
fn ruled_out(rows: &[Row<'_, '_>], outcomes: &Outcomes<'_, '_>) -> Option<RuledOut> {
    let known = rows
        .iter()
        .filter_map(|row| Some((row, outcomes.get(&row.effect)?.solved.as_ref()?)));
    // A cause that can work both ways is judged by the way that would be needed.
    let wrong = |solved: &Solved| solved.amount < 0.0;
    let (row, solved) = known.min_by(|a, b| {
        let by_way = wrong(a.1).cmp(&wrong(b.1));
        by_way.then(a.1.rest.total_cmp(&b.1.rest))
    })?;
    let limit = || row.limit().filter(|_| !row.possible(solved));
    let why = match solved.amount {
        amount if amount < -LEEWAY * solved.standard => Why::WrongWay,
        amount if amount < LEEWAY * solved.standard => Why::NotAll,
        _ => limit().map_or(Why::NotAll, |limit| Why::TooMuch {
            needed: solved.amount,
            limit: limit.clone(),
        }),
    };
    Some(RuledOut {
        cause: row.cause,
        effect: row.effect,
        why,
    })
}
