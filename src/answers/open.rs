//! Which steps a student may see: what would give an answer away stays hidden until the own answer stands.

use crate::answers::Judged;
use crate::lab::Lab;
use crate::lab::ShowWorking;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::StepId;

/// Which steps are open, in the graph's order.
#[derive(Debug, Clone)]
pub struct Open(Vec<bool>);

impl Open {
    /// The steps open for a record whose answers are judged; with `key`, all of them.
    ///
    /// A step that is asked opens once the answer to it stands: right, or right from the own lines.
    /// A step that is not asked opens when every asked step it is worked from is open and, if asked
    /// steps are worked directly from it, at least one of those is open too: nobody can be brought to the
    /// last line before an answer through a door beside it.
    #[must_use]
    pub fn of(lab: &Lab, graph: &Graph, judged: &Judged, key: bool) -> Self {
        let always = key || !lab.ask.present || lab.policy.show_working == ShowWorking::Always;
        if always || lab.policy.show_working == ShowWorking::Teacher {
            return Self(vec![always; graph.steps().len()]);
        }
        let stands = |id| {
            judged
                .of(id)
                .is_some_and(|judgement| judgement.verdict.stands())
        };
        let mut open: Vec<bool> = Vec::new();
        for id in graph.ids() {
            let step = graph.step(id);
            let earlier = step
                .expression
                .steps()
                .iter()
                .all(|earlier| open[earlier.index()]);
            open.push(if step.asked.is_some() {
                stands(id)
            } else {
                earlier
            });
        }
        // Looking ahead: what an unanswered question is worked from directly stays closed with it.
        for id in graph.ids() {
            if graph.step(id).asked.is_some() {
                continue;
            }
            let consumers = graph
                .steps()
                .iter()
                .enumerate()
                .filter(|(_, later)| later.asked.is_some());
            let mut direct = consumers
                .filter(|(_, later)| later.expression.steps().contains(&id))
                .map(|(index, _)| index)
                .peekable();
            if direct.peek().is_some() && !direct.any(|index| open[index]) {
                open[id.index()] = false;
            }
        }
        Self(open)
    }

    /// Whether a step is open.
    #[must_use]
    pub fn step(&self, step: StepId) -> bool {
        self.0[step.index()]
    }

    /// Whether every one of the steps is open.
    #[must_use]
    pub fn all(&self, steps: &[StepId]) -> bool {
        steps.iter().all(|step| self.step(*step))
    }

    /// The questions whose answers would open a step's working: those whose numbers stand in it, else those that are
    /// worked from it.
    #[must_use]
    pub fn waits_for(&self, graph: &Graph, step: StepId) -> Vec<StepId> {
        let is_question = |id: &StepId| graph.step(*id).asked.is_some() && !self.step(*id);
        if is_question(&step) {
            return vec![step];
        }
        let mut closed: Vec<StepId> = Vec::new();
        for earlier in shown_in(graph, &graph.step(step).expression) {
            if !self.step(earlier) {
                closed.extend(self.waits_for(graph, earlier));
            }
        }
        if closed.is_empty() {
            let later = graph.ids().filter(is_question);
            closed = later
                .filter(|later| graph.step(*later).expression.steps().contains(&step))
                .collect();
        }
        closed.sort_unstable();
        closed.dedup();
        closed
    }

    /// Whether a step's whole working may be shown: itself and every step whose number stands in it.
    #[must_use]
    pub fn working(&self, graph: &Graph, step: StepId) -> bool {
        self.step(step) && self.all(&shown_in(graph, &graph.step(step).expression))
    }
}

/// The steps whose numbers stand in a worked line; the limiting step shows the moles it compares.
fn shown_in(graph: &Graph, expression: &Expression) -> Vec<StepId> {
    let mut steps = expression.steps();
    for step in steps.clone() {
        if let Expression::Smallest(_) = graph.step(step).expression {
            steps.extend(graph.step(step).expression.steps());
        }
    }
    steps
}
