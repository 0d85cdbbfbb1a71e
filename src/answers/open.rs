//! Which steps a student may see: what would give an answer away stays hidden until the own answer stands.

use crate::answers::Judged;
use crate::answers::Judgement;
use crate::answers::Verdict;
use crate::chem::Formula;
use crate::lab::Lab;
use crate::lab::ShowWorking;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;

/// Which steps are open, in the graph's order.
#[derive(Debug, Clone)]
pub struct Open {
    /// One entry a step.
    steps: Vec<bool>,
    /// Steps whose answer is right from the own lines only: they wait for a line before them.
    following: Vec<bool>,
    /// Everything is shown, whatever is answered.
    everything: bool,
}

impl Open {
    /// The steps open for a record whose answers are judged; with `key`, all of them.
    ///
    /// A step that is asked opens once the answer to it is right, and neither so rough that it could be a guess nor in the
    /// unit of another quantity. One that is right from the own lines only does not: the
    /// value by the readings would contradict the one beside it, and lead back to the line that is wrong.
    /// A step that is not asked opens when every asked step it is worked from is open and, if asked
    /// steps are worked directly from it, at least one of those is open too: nobody can be brought to the
    /// last line before an answer through a door beside it.
    #[must_use]
    pub fn of(lab: &Lab, graph: &Graph, judged: &Judged, key: bool) -> Self {
        let always = key || !lab.ask.present || lab.policy.show_working == ShowWorking::Always;
        if always || lab.policy.show_working == ShowWorking::Teacher {
            let steps = graph.steps().len();
            return Self {
                steps: vec![always; steps],
                following: vec![false; steps],
                everything: always,
            };
        }
        let verdict = |id| judged.of(id).map(|judgement| judgement.verdict);
        let is_right = |id| judged.of(id).is_some_and(Judgement::opens);
        let is_open = |id| graph.step(id).asked.is_none() || is_right(id);
        let mut open = Self {
            steps: graph.ids().map(is_open).collect(),
            following: graph
                .ids()
                .map(|id| verdict(id) == Some(Verdict::Follows))
                .collect(),
            everything: false,
        };
        // Closing one step may close what is worked from it and what leads to it: until nothing changes.
        loop {
            let closing: Vec<StepId> = graph
                .ids()
                .filter(|id| open.step(*id) && graph.step(*id).asked.is_none())
                .filter(|id| {
                    let shown = shown_in(graph, *id);
                    let consumers = || {
                        graph.ids().filter(|later| {
                            let asked = graph.step(*later).asked.is_some();
                            asked && graph.uses(*later).steps.contains(id)
                        })
                    };
                    let beside =
                        consumers().next().is_some() && !consumers().any(|later| open.step(later));
                    // All of the limiting reactant is needed: what there was of it at the start.
                    let start = match graph.step(*id).kind {
                        Kind::Needed(r) => graph.start(r),
                        _ => None,
                    };
                    !open.all(&shown)
                        || beside
                        || start.is_some_and(|step| !open.step(step))
                        || !open.all(graph.compared_with(*id))
                })
                .collect();
            if closing.is_empty() {
                return open;
            }
            for id in closing {
                open.steps[id.index()] = false;
            }
        }
    }

    /// The steps open on the pages of a class: all, but for accepted values that only the teacher is to see.
    #[must_use]
    pub fn shared(lab: &Lab, graph: &Graph) -> Self {
        let hides = lab.ask.present && lab.policy.show_working == ShowWorking::Teacher;
        let tells = |id| {
            matches!(graph.step(id).kind, Kind::FindError(_)) || !graph.compared_with(id).is_empty()
        };
        Self {
            steps: graph.ids().map(|id| !(hides && tells(id))).collect(),
            following: vec![false; graph.steps().len()],
            everything: true,
        }
    }

    /// Whether everything is shown, whatever is answered.
    #[must_use]
    pub const fn everything(&self) -> bool {
        self.everything
    }

    /// Whether a step is open.
    #[must_use]
    pub fn step(&self, step: StepId) -> bool {
        self.steps[step.index()]
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
        let is_question = |id: &StepId| {
            graph.step(*id).asked.is_some() && !self.step(*id) && !self.following[id.index()]
        };
        if is_question(&step) {
            return vec![step];
        }
        let mut closed: Vec<StepId> = Vec::new();
        for earlier in shown_in(graph, step) {
            if !self.step(earlier) {
                closed.extend(self.waits_for(graph, earlier));
            }
        }
        for found in graph.compared_with(step) {
            if !self.step(*found) {
                closed.extend(self.waits_for(graph, *found));
            }
        }
        // The line that is wrong need not stand in the working: it may name the limiting reactant.
        let before = |step: StepId| {
            graph
                .ids()
                .take_while(move |id| *id != step)
                .filter(is_question)
        };
        if closed.is_empty() && self.following[step.index()] {
            closed = before(step).collect();
        } else if closed.is_empty() {
            let later = || {
                graph
                    .ids()
                    .filter(|later| graph.uses(*later).steps.contains(&step))
            };
            closed = later().filter(is_question).collect();
            if closed.is_empty() {
                let follow = later().filter(|later| self.following[later.index()]);
                closed = follow.flat_map(before).collect();
            }
        }
        closed.sort_unstable();
        closed.dedup();
        closed
    }

    /// Whether a step's whole working may be shown: itself and every step whose number stands in it.
    #[must_use]
    pub fn working(&self, graph: &Graph, step: StepId) -> bool {
        self.step(step) && self.all(&shown_in(graph, step))
    }
}

/// The steps whose numbers stand in a worked line; the limiting step shows the moles it compares, and a relation of the lab
/// that names `M(NaCl)` shows what the step for that molar mass finds.
fn shown_in(graph: &Graph, step: StepId) -> Vec<StepId> {
    let direct = &graph.uses(step).steps;
    let mut steps = direct.clone();
    if !matches!(graph.step(step).kind, Kind::MolarMass(_)) {
        steps.extend(molar_masses_in(graph, step));
    }
    for step in direct {
        if let Expression::Smallest(_) = graph.step(*step).expression {
            steps.extend(&graph.uses(*step).steps);
        }
    }
    steps
}

/// The steps that find the molar masses written out in a step. A single atom's stands in the periodic table for everybody.
fn molar_masses_in(graph: &Graph, step: StepId) -> Vec<StepId> {
    let mut named: Vec<Formula> = Vec::new();
    graph.step(step).expression.visit(&mut |part| {
        if let Expression::Constant(Constant::MolarMass(formula)) = part
            && !matches!(formula.atoms(), [(_, 1)])
        {
            named.push(formula.clone());
        }
    });
    let finds_one = |id: &StepId| match &graph.step(*id).expression {
        Expression::Constant(Constant::MolarMass(own)) => {
            named.iter().any(|formula| formula.same_substance(own))
        }
        _ => false,
    };
    if named.is_empty() {
        return Vec::new();
    }
    graph.ids().filter(finds_one).collect()
}
