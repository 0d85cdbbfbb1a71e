//! An effect undone: what it changes in the working, and a line on which nothing else is worked again.

use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Variable;
use crate::working::line::Line;
use crate::working::line::Standing;

/// An effect in one experiment, to be undone by one amount after another.
pub(super) struct Undoing<'s, 'a> {
    /// The working as it is.
    whole: &'s Line<'a>,
    /// The working without the effect; what the effect does not touch stands in it.
    line: Line<'a>,
    /// Readings and givens it changes, each by the amount times a sign ÷ a slope.
    inputs: Vec<(Variable, f64, f64)>,
    /// Steps it changes whatever the readings say.
    steps: Vec<(StepId, Change)>,
}

/// How the value of a step changes with the amount undone.
enum Change {
    /// A part of it is gone, and so much stays in its place.
    Part { whole: f64, stays: f64 },
    /// The amount times a sign is added; nothing goes below zero.
    By { whole: f64, sign: f64 },
}

impl<'s, 'a> Undoing<'s, 'a> {
    /// What an effect changes; nothing where the experiment has no place for it.
    pub(super) fn of(effect: Effect, scene: &'s Scene<'a>) -> Self {
        let mut undoing = Self {
            whole: &scene.line,
            line: scene.line.clone(),
            inputs: Vec::new(),
            steps: Vec::new(),
        };
        match effect {
            Effect::MoreProduct(p) => undoing.shift(Kind::Collected(p), -1.0, scene),
            Effect::LessProduct(p) => undoing.shift(Kind::Collected(p), 1.0, scene),
            Effect::HeavierVessel(p) => {
                if let Some((reading, _)) = scene.empty(Kind::Collected(p)) {
                    let reading = Variable::Reading(reading);
                    undoing.inputs.push((reading, -1.0, 1.0));
                }
            }
            Effect::MoreLeft(r) => undoing.shift(Kind::MeasuredLeft(r), -1.0, scene),
            Effect::LessLeft(r) => undoing.shift(Kind::MeasuredLeft(r), 1.0, scene),
            Effect::Carried { product, reactant } => {
                undoing.shift(Kind::Collected(product), -1.0, scene);
                undoing.shift(Kind::MeasuredLeft(reactant), 1.0, scene);
            }
            Effect::Clinging { product, reactant } => {
                undoing.shift(Kind::Collected(product), 1.0, scene);
                undoing.shift(Kind::MeasuredLeft(reactant), -1.0, scene);
            }
            Effect::Unreacted => undoing.shorten(scene),
            Effect::LessTaken(r) => undoing.take(r, -1.0, scene),
            Effect::MoreTaken(r) => undoing.take(r, 1.0, scene),
            Effect::NotPutIn(r) => match scene.weighed_into_gas(r) {
                Some(reading) => {
                    let reading = Variable::Reading(reading);
                    undoing.inputs.push((reading, -1.0, 1.0));
                }
                None => undoing.take(r, -1.0, scene),
            },
            Effect::Overstated(input) => undoing.inputs.push((input, -1.0, 1.0)),
            Effect::Understated(input) => undoing.inputs.push((input, 1.0, 1.0)),
        }
        undoing.free(scene);
        undoing
    }

    /// The working as it would have been without so much of the effect.
    pub(super) fn at(&mut self, amount: f64) -> &Line<'a> {
        for (reading, ..) in &self.inputs {
            if let Some(value) = self.whole.input(*reading) {
                self.line.vary(*reading, value);
            }
        }
        // Two changes may be of the same reading.
        for (reading, sign, slope) in &self.inputs {
            if let Some(value) = self.line.input(*reading) {
                self.line.vary(*reading, value + sign * amount / slope);
            }
        }
        for (step, change) in &self.steps {
            let value = match change {
                Change::Part { whole, stays } => whole * (1.0 - amount) + stays * amount,
                Change::By { whole, sign } => (whole + sign * amount).max(0.0),
            };
            self.line.stand_in(*step, Standing::Number(value));
        }
        &self.line
    }

    /// Changes what a step comes to by changing the reading of the full vessel.
    fn shift(&mut self, kind: Kind, sign: f64, scene: &Scene<'_>) {
        if let Some((reading, slope)) = scene.full(kind).filter(|(_, slope)| *slope != 0.0) {
            self.inputs.push((Variable::Reading(reading), sign, slope));
        }
    }

    /// Lets only a part of the reaction happen. What did not react of a solid stays with a product weighed in the same
    /// vessel.
    fn shorten(&mut self, scene: &Scene<'_>) {
        for id in scene.graph.ids() {
            let step = scene.graph.step(id);
            let predicted = matches!(step.kind, Kind::Theoretical(_) | Kind::Needed(_));
            if !predicted || step.equation != scene.equation {
                continue;
            }
            let Some(whole) = self.whole.current(id) else {
                continue;
            };
            let stays = match step.kind {
                Kind::Theoretical(product) if !scene.gas(product) => scene
                    .same_vessel(product)
                    .and_then(|reactant| self.whole.current(scene.step(Kind::Mass(reactant))?))
                    .unwrap_or(0.0),
                _ => 0.0,
            };
            self.steps.push((id, Change::Part { whole, stays }));
        }
    }

    /// Changes how much of a reactant took part.
    fn take(&mut self, reactant: usize, sign: f64, scene: &Scene<'_>) {
        let step = scene
            .step(Kind::Mass(reactant))
            .or_else(|| scene.step(Kind::Moles(reactant)));
        if let Some(step) = step
            && let Some(whole) = self.whole.current(step)
        {
            self.steps.push((step, Change::By { whole, sign }));
        }
    }

    /// Lets every step be worked again that the effect changes.
    fn free(&mut self, scene: &Scene<'_>) {
        let mut moved = vec![false; scene.graph.steps().len()];
        for id in scene.graph.ids() {
            let uses = scene.graph.uses(id);
            let reads = |(input, ..): &(Variable, f64, f64)| match input {
                Variable::Reading(reading) => uses.readings.contains(reading),
                Variable::Given(given) => uses.givens.contains(given),
                Variable::Element(_) => false,
            };
            moved[id.index()] = self.inputs.iter().any(reads)
                || self.steps.iter().any(|(step, _)| *step == id)
                || uses.steps.iter().any(|step| moved[step.index()]);
            if moved[id.index()] {
                self.line.without(id);
            }
        }
    }
}

/// The working with other amounts measured.
pub(super) fn measured<'a>(amounts: &[(StepId, f64)], scene: &Scene<'a>) -> Line<'a> {
    let mut line = scene.line.clone();
    let mut moved = vec![false; scene.graph.steps().len()];
    for id in scene.graph.ids() {
        if let Some((_, amount)) = amounts.iter().find(|(step, _)| *step == id) {
            line.stand_in(id, Standing::Number(*amount));
            moved[id.index()] = true;
        } else if scene
            .graph
            .uses(id)
            .steps
            .iter()
            .any(|step| moved[step.index()])
        {
            line.without(id);
            moved[id.index()] = true;
        }
    }
    line
}
