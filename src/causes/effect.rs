//! What a cause does to the readings, undone: the working again as it would have been without it, and the amount for
//! which all deviations vanish.

use std::cmp::Ordering;

use crate::causes::deviation::Against;
use crate::causes::deviation::Deviation;
use crate::causes::deviation::Deviations;
use crate::causes::scene::Scene;
use crate::causes::undo;
use crate::causes::undo::Undoing;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Variable;
use crate::working::line::Line;

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
    /// A number that the result is worked from says more than there was: what was weighed and lost, what a label claims.
    Overstated(Variable),
    /// Such a number says less than there was.
    Understated(Variable),
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

    /// The number of a sheet or a label it is about, if any.
    #[must_use]
    pub fn input(self) -> Option<Variable> {
        match self {
            Self::Overstated(input) | Self::Understated(input) => Some(input),
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
            Self::Overstated(Variable::Reading(reading)) => {
                [Some((reading, Ordering::Greater)), None]
            }
            Self::Understated(Variable::Reading(reading)) => {
                [Some((reading, Ordering::Less)), None]
            }
            Self::Unreacted
            | Self::LessTaken(_)
            | Self::MoreTaken(_)
            | Self::NotPutIn(_)
            | Self::Overstated(_)
            | Self::Understated(_) => [None, None],
        };
        found.into_iter().flatten().collect()
    }

    /// The amount for which the deviations come as near to zero as they can, each weighed by its uncertainty
    /// (generalised least squares, by Newton's method).
    ///
    /// `None` where the effect changes none of them.
    #[must_use]
    pub fn solve(self, scene: &Scene<'_>, deviations: &Deviations) -> Option<Solved> {
        self.solve_by(&mut Undoing::of(self, scene), scene, deviations)
    }

    /// [`Effect::solve`], with what it changes known.
    pub(super) fn solve_by(
        self,
        undoing: &mut Undoing<'_, '_>,
        scene: &Scene<'_>,
        deviations: &Deviations,
    ) -> Option<Solved> {
        const ROUNDS: usize = 12;
        let mut at = |amount: f64| Some(deviations.white(&deviations.sizes(undoing.at(amount))?));
        let scale = self.scale(scene)?;
        let nudge = scale * 1e-4;
        let mut amount = 0.0_f64;
        let mut here = at(amount)?;
        let (mut slopes, mut steep): (Vec<f64>, f64) = (Vec::new(), 0.0);
        for _ in 0..ROUNDS {
            let there = at(amount + nudge)?;
            let pairs = there.iter().zip(&here);
            slopes = pairs.map(|(a, b)| (a - b) / nudge).collect();
            steep = slopes.iter().map(|slope| slope * slope).sum();
            // Less than a tenth of a standard uncertainty for all there is: it changes nothing.
            if steep.sqrt() * scale < 0.1 {
                return None;
            }
            let step: f64 = slopes.iter().zip(&here).map(|(a, b)| a * b).sum::<f64>() / steep;
            amount = (amount - step).clamp(-0.95 * scale, 20.0 * scale);
            if self == Self::Unreacted {
                amount = amount.min(1.0);
            }
            here = at(amount)?;
            if step.abs() < 1e-6 * steep.sqrt().recip().max(nudge) {
                break;
            }
        }
        let weights: Vec<f64> = slopes.iter().map(|slope| slope / steep).collect();
        Some(Solved {
            amount,
            standard: steep.sqrt().recip(),
            limit: deviations.worst_case(&weights),
            rest: here.iter().map(|part| part * part).sum(),
        })
    }

    /// How the independent deviations change when a small amount is undone, a unit of it.
    pub(super) fn slopes(
        self,
        undoing: &mut Undoing<'_, '_>,
        scene: &Scene<'_>,
        deviations: &Deviations,
    ) -> Option<Vec<f64>> {
        let nudge = 1e-4 * self.scale(scene)?;
        let there = deviations.white(&deviations.sizes(undoing.at(nudge))?);
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
        let mut undoing = Undoing::of(self, scene);
        let line = undoing.at(1e-3 * self.scale(scene)?);
        let (there, here) = (deviations.sizes(line)?, deviations.sizes(&scene.line)?);
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
            Self::Overstated(input) | Self::Understated(input) => scene.line.input(input),
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
        self.on(id, scene)
    }

    /// Whether it makes what a step comes to, less another where there is one, higher or lower.
    #[must_use]
    pub fn moves(
        self,
        scene: &Scene<'_>,
        found: StepId,
        minus: Option<StepId>,
    ) -> Option<Ordering> {
        let of = |line: &Line<'_>| {
            let less = minus.map_or(Some(0.0), |step| line.current(step))?;
            Some(line.current(found)? - less)
        };
        let mut undoing = Undoing::of(self, scene);
        let with = of(&scene.line)?;
        let without = of(undoing.at(0.01 * self.scale(scene)?))?;
        let size = scene.line.current(found)?.abs();
        Some(by_size(with, without, size))
    }

    /// Whether it makes a quantity of the lab's own higher or lower. What leaves the readings right and changes what they should
    /// have been shows in what was measured: it followed what could happen, as the amount that is solved for takes it.
    pub(super) fn on_a_find(
        self,
        id: StepId,
        scene: &Scene<'_>,
        deviations: &Deviations,
    ) -> Option<Ordering> {
        let direct = self.on(id, scene)?;
        if direct != Ordering::Equal {
            return Some(direct);
        }
        let mut undoing = Undoing::of(self, scene);
        let undone = undoing.at(0.01 * self.scale(scene)?);
        let mut measured: Vec<(StepId, f64)> = Vec::new();
        for one in &deviations.all {
            let Against::Step(predicted) = one.against else {
                continue;
            };
            let shift = scene.line.current(predicted)? - undone.current(predicted)?;
            if shift != 0.0 {
                measured.push((one.found, scene.line.current(one.found)? + shift));
            }
        }
        if measured.is_empty() {
            return Some(direct);
        }
        compared(id, &scene.line, &undo::measured(&measured, scene))
    }

    /// Whether it makes what a step comes to higher or lower.
    pub(super) fn on(self, id: StepId, scene: &Scene<'_>) -> Option<Ordering> {
        let mut undoing = Undoing::of(self, scene);
        compared(id, &scene.line, undoing.at(0.01 * self.scale(scene)?))
    }
}

/// Whether a step comes to more or less with something than without it.
fn compared(id: StepId, with: &Line<'_>, without: &Line<'_>) -> Option<Ordering> {
    let (with, without) = (with.current(id)?, without.current(id)?);
    Some(by_size(with, without, with.abs()))
}

/// Which of two numbers is larger, but for what floating point loses of numbers of some size.
fn by_size(with: f64, without: f64, size: f64) -> Ordering {
    if (with - without).abs() < 1e-9 * size {
        Ordering::Equal
    } else {
        with.total_cmp(&without)
    }
}
