//! Quantities of the lab's own that are held against an accepted value while the equation's own predictions are weighed.

use std::cmp::Ordering;

use crate::causes::deviation::Deviation;
use crate::causes::deviation::Deviations;
use crate::causes::deviation::Measure;
use crate::causes::effect::Effect;
use crate::causes::effect::Solved;
use crate::causes::scene::Scene;
use crate::causes::undo::Undoing;
use crate::causes::weigh::Fit;
use crate::causes::weigh::Listed;
use crate::say;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::line::Line;
use crate::working::slopes::Slopes;

/// A quantity is off when it is farther from its accepted value than so many standard uncertainties.
const OFF: f64 = 3.0;

/// A quantity that is held against an accepted value.
#[derive(Debug, Clone, Copy)]
pub(super) struct Compared {
    /// The step that finds it.
    found: StepId,
    /// Its accepted value.
    accepted: StepId,
    /// Standard uncertainty of their difference.
    standard: f64,
}

/// The quantities that may be looked at, with their accepted values.
pub(super) fn compared(scene: &Scene<'_>, open: &dyn Fn(StepId) -> bool) -> Vec<Compared> {
    let all = scene.graph.ids().filter_map(|found| {
        let Kind::Find(find) = scene.graph.step(found).kind else {
            return None;
        };
        let accepted = scene.graph.of_kind(Kind::Accepted(find))?;
        let mut slopes: Slopes = scene.worked.value(found)?.slopes.clone();
        slopes.add(&scene.worked.value(accepted)?.slopes, -1.0);
        let part = |(input, slope): &(_, f64)| {
            (slope * scene.worked.inputs.doubt(*input).standard).powi(2)
        };
        let standard = slopes.iter().map(part).sum::<f64>().sqrt();
        (open(found) && open(accepted)).then_some(Compared {
            found,
            accepted,
            standard,
        })
    });
    all.collect()
}

/// Those of them that no cause is weighed by: all, unless they are what is weighed.
pub(super) fn beside<'c>(compared: &'c [Compared], deviations: &Deviations) -> &'c [Compared] {
    let predicted = |one: &Deviation| !matches!(one.measure, Measure::Find(_));
    if deviations.all.iter().any(predicted) {
        compared
    } else {
        &[]
    }
}

/// Those that are still off when so much of an effect is undone.
pub(super) fn without<'b>(
    beside: &'b [Compared],
    effect: Effect,
    solved: &Solved,
    scene: &Scene<'_>,
) -> Vec<&'b Compared> {
    if beside.is_empty() {
        return Vec::new();
    }
    let mut undoing = Undoing::of(effect, scene);
    let line = undoing.at(solved.amount);
    beside.iter().filter(|one| one.is_off(line)).collect()
}

/// Those that are still off when any of the causes listed is undone, each named; of causes that fit in pairs, those that are off at all.
#[must_use]
pub(super) fn named(beside: &[Compared], listed: &[Listed], scene: &Scene<'_>) -> Vec<String> {
    let off = |one: &&Compared| {
        listed.iter().any(|cause| match cause.fit {
            Fit::Alone => !without(
                std::slice::from_ref(*one),
                cause.effect,
                &cause.solved,
                scene,
            )
            .is_empty(),
            Fit::With(_) => one.is_off(&scene.line),
        })
    };
    beside
        .iter()
        .filter(off)
        .map(|one| one.name(scene))
        .collect()
}

impl Compared {
    /// What it is called, between quote marks.
    pub(super) fn name(&self, scene: &Scene<'_>) -> String {
        let quantity = &scene.graph.step(self.found).title;
        say!(scene.lab.words, "“{quantity}”", quantity = quantity)
    }

    /// On which side of the accepted value it is, where it is this step.
    pub(super) fn side_of(&self, found: StepId, scene: &Scene<'_>) -> Option<Ordering> {
        let exact = |step| scene.worked.value(step).map(|value| &value.exact);
        let (value, accepted) = (exact(self.found)?, exact(self.accepted)?);
        (found == self.found).then(|| value.cmp(accepted))
    }

    fn is_off(&self, line: &Line<'_>) -> bool {
        let values = line.current(self.found).zip(line.current(self.accepted));
        values.is_some_and(|(found, accepted)| (found - accepted).abs() > OFF * self.standard)
    }
}
