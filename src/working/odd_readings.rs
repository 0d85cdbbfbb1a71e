//! The readings behind a result that cannot be: each is pointed at, and one that is far from the plan first.

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::say;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::odd::Look;
use crate::working::odd_plan;
use crate::working::odd_plan::Suspect;

impl Look<'_> {
    /// Files a problem beside the readings of a step that do not go with what they are compared with. An impossible result says
    /// only that not all readings behind it can be right: each is pointed at. Where one amount alone is far from the plan of the
    /// lab, that one is pointed at first and held back, and the others stand.
    pub(in crate::working) fn file(
        &mut self,
        severity: Severity,
        (step, compared): (StepId, &[Kind]),
        message: &str,
        help: &str,
    ) {
        let own = self.graph.step(step).expression.readings();
        let others = self.behind(compared);
        let suspect = self
            .suspect
            .get_or_init(|| odd_plan::suspect(self.lab, self.graph, self.worked, self.record));
        let all = || own.iter().chain(&others);
        if let Some(suspect) = suspect
            && suspect
                .readings
                .iter()
                .all(|reading| all().any(|one| one == reading))
        {
            if severity == Severity::Error {
                let problem = self.blame(suspect, &own, &others, message);
                let readings = suspect.readings.iter();
                self.impossible
                    .extend(readings.map(|reading| (*reading, message.to_owned())));
                // What else does not go with it is told by this.
                if !std::mem::replace(&mut self.blamed, true) {
                    self.problems.push(problem);
                }
                return;
            }
            let problem = self.beside(severity, &own, &[], message);
            self.explained.push(problem.help(help));
            return;
        }
        if severity == Severity::Error {
            let own = own.iter();
            self.impossible
                .extend(own.map(|reading| (*reading, message.to_owned())));
        }
        let problem = self.beside(severity, &own, &others, message);
        self.problems.push(problem.help(help));
    }

    /// A problem beside the readings of a step and, where it is an error, those they are compared with.
    fn beside(
        &self,
        severity: Severity,
        own: &[usize],
        others: &[usize],
        message: &str,
    ) -> Problem {
        let mut problem = if severity == Severity::Error {
            Problem::error(Code::ImpossibleResult, message)
        } else {
            Problem::warning(Code::OddResult, message)
        };
        for (place, reading) in own.iter().enumerate() {
            let label = match place {
                0 => self.words.say("from this reading"),
                _ => self.words.say("and this one"),
            };
            problem = self.pointing_at(problem, *reading, label);
        }
        if severity == Severity::Error {
            for reading in others.iter().filter(|reading| !own.contains(reading)) {
                let label = self.words.say("compared with this one");
                problem = self.pointing_at(problem, *reading, label);
            }
        }
        problem
    }

    /// The problem of a result that cannot be where one amount alone is far from the plan.
    fn blame(&self, suspect: &Suspect, own: &[usize], others: &[usize], message: &str) -> Problem {
        let words = self.words;
        let message = say!(
            words,
            "{result}, and one of the amounts taken is far from what the lab plans",
            result = message
        );
        let mut problem = Problem::error(Code::ImpossibleResult, message);
        for reading in &suspect.readings {
            let label = say!(words, "the plan says {amount}", amount = suspect.planned);
            problem = self.pointing_at(problem, *reading, &label);
        }
        let mut rest: Vec<usize> = [own, others].concat();
        rest.sort_unstable();
        rest.dedup();
        rest.retain(|reading| !suspect.readings.contains(reading));
        for reading in &rest {
            problem = self.pointing_at(problem, *reading, words.say("does not go with it"));
        }
        problem.help(match suspect.readings.len() {
            1 => words.say("look at this reading first: its digits, its unit, and whether it is in the right line"),
            _ => words.say(
                "look at these readings first: their digits, their units, and whether the vessel is in both of them",
            ),
        })
    }

    fn pointing_at(&self, problem: Problem, reading: usize, label: &str) -> Problem {
        match self.record.readings[reading].counting() {
            Some(entry) => problem.at(entry.span.clone(), label),
            None => problem,
        }
    }

    /// Every reading that steps of these kinds are worked from, by any equation.
    fn behind(&self, kinds: &[Kind]) -> Vec<usize> {
        let steps = self.graph.ids();
        let mut open: Vec<StepId> = steps
            .filter(|step| kinds.contains(&self.graph.step(*step).kind))
            .collect();
        let mut seen = open.clone();
        let mut readings = Vec::new();
        while let Some(step) = open.pop() {
            let uses = self.graph.uses(step);
            readings.extend(&uses.readings);
            let fresh = uses.steps.iter().filter(|step| !seen.contains(step));
            let fresh: Vec<StepId> = fresh.copied().collect();
            seen.extend(&fresh);
            open.extend(fresh);
        }
        readings.sort_unstable();
        readings.dedup();
        readings
    }
}
