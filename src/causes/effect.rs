//! What a cause does to the readings, undone: the working again as it would have been without it, and the amount for
//! which all deviations vanish.

use std::cmp::Ordering;

use crate::causes::deviation::Deviation;
use crate::causes::deviation::Deviations;
use crate::causes::scene::Scene;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Variable;
use crate::working::line::Line;
use crate::working::line::Standing;

/// How a cause changes the experiment; numbers are indices into [`Lab::substances`](crate::lab::Lab::substances).
/// Its amount is in g, in mol for what is not weighed, and for [`Effect::Unreacted`] a fraction of the reaction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effect {
    /// Something else is weighed with a product, or more of a gas seems to have left.
    MoreProduct(usize),
    /// Some of a product is not there when it is weighed.
    LessProduct(usize),
    /// The empty vessel of a product was weighed with something in it that was gone later.
    HeavierVessel(usize),
    /// Something else is weighed with a leftover.
    MoreLeft(usize),
    /// Some of a leftover is not there when it is weighed.
    LessLeft(usize),
    /// Leftover reactant is weighed with a product.
    Carried {
        /// The product.
        product: usize,
        /// The reactant in it.
        reactant: usize,
    },
    /// A product is weighed with a leftover reactant.
    Clinging {
        /// The product.
        product: usize,
        /// The reactant it clings to.
        reactant: usize,
    },
    /// Part of the reaction did not happen.
    Unreacted,
    /// Less of a reactant took part than was weighed.
    LessTaken(usize),
    /// Less of a reactant was put to the rest than was weighed.
    NotPutIn(usize),
    /// More of a reactant took part than its formula says.
    MoreTaken(usize),
}

/// The amount of a cause that would explain what was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// The amount, negative where the cause works the other way.
    pub amount: f64,
    /// Its standard uncertainty, from the readings.
    pub standard: f64,
    /// How far it may be off when the limits of all readings add.
    pub limit: f64,
    /// What is left of the deviations: their squared distance from zero in standard uncertainties.
    pub rest: f64,
}

impl Effect {
    /// The product it is about, if any.
    #[must_use]
    pub fn product(self) -> Option<usize> {
        match self {
            Self::MoreProduct(product)
            | Self::LessProduct(product)
            | Self::HeavierVessel(product)
            | Self::Carried { product, .. }
            | Self::Clinging { product, .. } => Some(product),
            _ => None,
        }
    }

    /// The reactant it is about, if any.
    #[must_use]
    pub fn reactant(self) -> Option<usize> {
        match self {
            Self::MoreLeft(reactant)
            | Self::LessLeft(reactant)
            | Self::Carried { reactant, .. }
            | Self::Clinging { reactant, .. }
            | Self::LessTaken(reactant)
            | Self::NotPutIn(reactant)
            | Self::MoreTaken(reactant) => Some(reactant),
            _ => None,
        }
    }

    /// The readings it changes, and whether they came out higher or lower than they should have; none where the readings are
    /// right and less or more took part.
    #[must_use]
    pub fn readings(self, scene: &Scene<'_>) -> Vec<(usize, Ordering)> {
        let full = |kind: Kind, more: bool| {
            scene.full(kind).map(|(reading, slope)| {
                let up = more == (slope > 0.0);
                (
                    reading,
                    if up {
                        Ordering::Greater
                    } else {
                        Ordering::Less
                    },
                )
            })
        };
        let found = match self {
            Self::MoreProduct(p) => [full(Kind::Collected(p), true), None],
            Self::LessProduct(p) => [full(Kind::Collected(p), false), None],
            Self::HeavierVessel(p) => [
                scene
                    .empty(Kind::Collected(p))
                    .map(|(reading, _)| (reading, Ordering::Greater)),
                None,
            ],
            Self::MoreLeft(r) => [full(Kind::MeasuredLeft(r), true), None],
            Self::LessLeft(r) => [full(Kind::MeasuredLeft(r), false), None],
            Self::Carried { product, reactant } => [
                full(Kind::Collected(product), true),
                full(Kind::MeasuredLeft(reactant), false),
            ],
            Self::Clinging { product, reactant } => [
                full(Kind::Collected(product), false),
                full(Kind::MeasuredLeft(reactant), true),
            ],
            Self::Unreacted | Self::LessTaken(_) | Self::MoreTaken(_) | Self::NotPutIn(_) => {
                [None, None]
            }
        };
        found.into_iter().flatten().collect()
    }

    /// Changes the working to what it would have been without so much of this effect; nothing where the
    /// experiment has no place for it.
    pub fn undo(self, amount: f64, scene: &Scene<'_>, line: &mut Line<'_>) {
        match self {
            Self::MoreProduct(p) => shift(Kind::Collected(p), -amount, scene, line),
            Self::LessProduct(p) => shift(Kind::Collected(p), amount, scene, line),
            Self::HeavierVessel(p) => {
                if let Some((reading, _)) = scene.empty(Kind::Collected(p)) {
                    add(Variable::Reading(reading), -amount, line);
                }
            }
            Self::MoreLeft(r) => shift(Kind::MeasuredLeft(r), -amount, scene, line),
            Self::LessLeft(r) => shift(Kind::MeasuredLeft(r), amount, scene, line),
            Self::Carried { product, reactant } => {
                shift(Kind::Collected(product), -amount, scene, line);
                shift(Kind::MeasuredLeft(reactant), amount, scene, line);
            }
            Self::Clinging { product, reactant } => {
                shift(Kind::Collected(product), amount, scene, line);
                shift(Kind::MeasuredLeft(reactant), -amount, scene, line);
            }
            Self::Unreacted => shorten(amount, scene, line),
            Self::LessTaken(r) => take(r, -amount, scene, line),
            Self::MoreTaken(r) => take(r, amount, scene, line),
            Self::NotPutIn(r) => match scene.weighed_into_gas(r) {
                Some(reading) => add(Variable::Reading(reading), -amount, line),
                None => take(r, -amount, scene, line),
            },
        }
    }

    /// The amount for which the deviations come as near to zero as they can, each weighed by its uncertainty
    /// (generalised least squares, by Newton's method).
    ///
    /// `None` where the effect changes none of them.
    #[must_use]
    pub fn solve(self, scene: &Scene<'_>, deviations: &Deviations) -> Option<Solved> {
        const ROUNDS: usize = 12;
        let at = |amount: f64| {
            let mut line = scene.line.clone();
            self.undo(amount, scene, &mut line);
            Some(deviations.white(&deviations.sizes(&line)?))
        };
        let scale = self.scale(scene)?;
        let nudge = scale * 1e-4;
        let (mut amount, mut standard, mut limit) = (0.0_f64, 0.0, 0.0);
        let mut here = at(amount)?;
        for _ in 0..ROUNDS {
            let there = at(amount + nudge)?;
            let slopes: Vec<f64> = there
                .iter()
                .zip(&here)
                .map(|(a, b)| (a - b) / nudge)
                .collect();
            let steep: f64 = slopes.iter().map(|slope| slope * slope).sum();
            // Less than a tenth of a standard uncertainty for all there is: it changes nothing.
            if steep.sqrt() * scale < 0.1 {
                return None;
            }
            standard = steep.sqrt().recip();
            let weights: Vec<f64> = slopes.iter().map(|slope| slope / steep).collect();
            limit = deviations.worst_case(&weights);
            let step: f64 = slopes.iter().zip(&here).map(|(a, b)| a * b).sum::<f64>() / steep;
            amount = (amount - step).clamp(-0.95 * scale, 20.0 * scale);
            if self == Self::Unreacted {
                amount = amount.min(0.99);
            }
            here = at(amount)?;
            if step.abs() < 1e-6 * standard.max(nudge) {
                break;
            }
        }
        let rest = here.iter().map(|part| part * part).sum();
        Some(Solved {
            amount,
            standard,
            limit,
            rest,
        })
    }

    /// How the independent deviations change when a small amount is undone, a unit of it.
    pub(super) fn slopes(self, scene: &Scene<'_>, deviations: &Deviations) -> Option<Vec<f64>> {
        let nudge = 1e-4 * self.scale(scene)?;
        let mut line = scene.line.clone();
        self.undo(nudge, scene, &mut line);
        let there = deviations.white(&deviations.sizes(&line)?);
        let here = deviations.white(&deviations.sizes(&scene.line)?);
        let slopes = there.iter().zip(&here).map(|(a, b)| (a - b) / nudge);
        Some(slopes.collect())
    }

    /// The first of the deviations that it changes.
    #[must_use]
    pub fn first_moved<'d>(
        self,
        scene: &Scene<'_>,
        deviations: &'d Deviations,
    ) -> Option<&'d Deviation> {
        let mut line = scene.line.clone();
        self.undo(1e-3 * self.scale(scene)?, scene, &mut line);
        let (there, here) = (deviations.sizes(&line)?, deviations.sizes(&scene.line)?);
        let moved = there
            .iter()
            .zip(&here)
            .map(|(a, b)| (a - b).abs() > 1e-12 * b.abs().max(1e-6));
        let mut pairs = deviations.all.iter().zip(moved);
        pairs.find(|(_, moved)| *moved).map(|(one, _)| one)
    }

    /// The size of what it could change at most, to step by.
    fn scale(self, scene: &Scene<'_>) -> Option<f64> {
        let size = match self {
            Self::Unreacted => Some(1.0),
            Self::MoreProduct(p) | Self::LessProduct(p) | Self::HeavierVessel(p) => scene
                .value(Kind::Theoretical(p))
                .or_else(|| scene.value(Kind::Collected(p))),
            Self::MoreLeft(r) | Self::LessLeft(r) => scene
                .value(Kind::Mass(r))
                .or_else(|| scene.value(Kind::Moles(r)))
                .or_else(|| scene.value(Kind::MeasuredLeft(r))),
            Self::Carried { reactant, .. } | Self::Clinging { reactant, .. } => {
                scene.value(Kind::Mass(reactant))
            }
            Self::LessTaken(r) | Self::MoreTaken(r) | Self::NotPutIn(r) => scene
                .value(Kind::Mass(r))
                .or_else(|| scene.value(Kind::Moles(r))),
        };
        size.map(f64::abs)
            .filter(|size| size.is_finite() && *size > 0.0)
    }

    /// Whether it makes the percent yield higher or lower; `Equal` when it does not touch it, `None` without a percent yield.
    #[must_use]
    pub fn on_the_yield(self, scene: &Scene<'_>) -> Option<Ordering> {
        let id = scene.graph.ids().find(|id| {
            let step = scene.graph.step(*id);
            matches!(step.kind, Kind::PercentYield(_)) && step.equation == scene.equation
        })?;
        let with = scene.line.current(id)?;
        let mut line = scene.line.clone();
        self.undo(0.01 * self.scale(scene)?, scene, &mut line);
        let without = line.current(id)?;
        Some(if (with - without).abs() < 1e-9 * with.abs() {
            Ordering::Equal
        } else {
            with.total_cmp(&without)
        })
    }
}

/// Changes what a step comes to by changing the reading of the full vessel.
fn shift(kind: Kind, by: f64, scene: &Scene<'_>, line: &mut Line<'_>) {
    if let Some((reading, slope)) = scene.full(kind).filter(|(_, slope)| *slope != 0.0) {
        add(Variable::Reading(reading), by / slope, line);
    }
}

fn add(variable: Variable, by: f64, line: &mut Line<'_>) {
    if let Some(value) = line.input(variable) {
        line.vary(variable, value + by);
    }
}

/// Lets only a part of the reaction happen. What did not react of a solid stays with a product weighed in the same vessel.
fn shorten(part: f64, scene: &Scene<'_>, line: &mut Line<'_>) {
    let predicted = |id: &StepId| {
        let step = scene.graph.step(*id);
        step.equation == scene.equation
            && matches!(step.kind, Kind::Theoretical(_) | Kind::Needed(_))
    };
    let values: Vec<(StepId, f64)> = scene
        .graph
        .ids()
        .filter(predicted)
        .filter_map(|id| {
            let whole = line.current(id)?;
            let stays = match scene.graph.step(id).kind {
                Kind::Theoretical(product) if !scene.gas(product) => scene
                    .same_vessel(product)
                    .and_then(|reactant| line.current(scene.step(Kind::Mass(reactant))?))
                    .unwrap_or(0.0),
                _ => 0.0,
            };
            Some((id, whole * (1.0 - part) + stays * part))
        })
        .collect();
    for (id, value) in values {
        line.stand_in(id, Standing::Number(value));
    }
}

/// Changes how much of a reactant took part.
fn take(reactant: usize, by: f64, scene: &Scene<'_>, line: &mut Line<'_>) {
    let step = scene
        .step(Kind::Mass(reactant))
        .or_else(|| scene.step(Kind::Moles(reactant)));
    if let Some(step) = step
        && let Some(value) = line.current(step)
    {
        line.stand_in(step, Standing::Number((value + by).max(0.0)));
    }
}
