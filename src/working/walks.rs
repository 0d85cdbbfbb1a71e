//! Ways through the steps: what one is worked from, through which others, and which are only there to be held against.

use crate::lab::Given;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;

impl Graph {
    /// Every reading that steps are worked from, themselves or by earlier ones: each once, in the order of the lab.
    #[must_use]
    pub fn readings_behind(&self, steps: impl IntoIterator<Item = StepId>) -> Vec<usize> {
        let mut open: Vec<StepId> = steps.into_iter().collect();
        let mut seen = vec![false; self.steps().len()];
        let mut readings = Vec::new();
        while let Some(step) = open.pop() {
            if std::mem::replace(&mut seen[step.index()], true) {
                continue;
            }
            let uses = self.uses(step);
            readings.extend(&uses.readings);
            open.extend(&uses.steps);
        }
        readings.sort_unstable();
        readings.dedup();
        readings
    }

    /// A step and all that it is worked from through steps that are `open`, nearest first.
    pub fn worked_through(&self, step: StepId, open: impl Fn(StepId) -> bool) -> Vec<StepId> {
        let mut found = vec![step];
        let mut place = 0;
        while place < found.len() {
            for earlier in &self.uses(found[place]).steps {
                if !found.contains(earlier) && open(*earlier) {
                    found.push(*earlier);
                }
            }
            place += 1;
        }
        found
    }

    /// How much of a substance there was at the start: its mass as weighed, else its moles.
    #[must_use]
    pub fn start(&self, substance: usize) -> Option<StepId> {
        let mass = self.of_kind(Kind::Mass(substance));
        mass.or_else(|| self.of_kind(Kind::Moles(substance)))
    }

    /// Values from labels and tables that students may read before they have answered: not those that are only there to hold
    /// results against.
    pub fn told_givens(&self) -> impl Iterator<Item = &Given> {
        let givens = self.givens.iter().enumerate();
        givens.filter_map(|(place, given)| (!self.is_accepted(place)).then_some(given))
    }

    /// Whether a given leads to accepted values and to nothing else.
    fn is_accepted(&self, given: usize) -> bool {
        let names = |id: &StepId| self.uses(*id).givens.contains(&given);
        let mut named = self.ids().filter(names).peekable();
        named.peek().is_some() && named.all(|step| !self.compared_with(step).is_empty())
    }

    /// The results that a step is only there to hold against: it is an accepted value, or leads to such values alone. Looked
    /// for once, when all steps are there.
    #[must_use]
    pub fn compared_with(&self, step: StepId) -> &[StepId] {
        let all = self.compared.get_or_init(|| self.all_compared());
        all.get(step.index()).map_or(&[], Vec::as_slice)
    }

    fn all_compared(&self) -> Vec<Vec<StepId>> {
        let steps: Vec<StepId> = self.ids().collect();
        let mut all: Vec<Vec<StepId>> = vec![Vec::new(); steps.len()];
        for (place, step) in steps.iter().enumerate().rev() {
            let mut results = match self.step(*step).kind {
                Kind::Accepted(find) => self.of_kind(Kind::Find(find)).into_iter().collect(),
                Kind::Find(_) if self.step(*step).asked.is_none() => {
                    let later = steps[place + 1..].iter();
                    let behind = later.filter(|later| self.uses(**later).steps.contains(step));
                    let behind: Vec<&Vec<StepId>> = behind.map(|one| &all[one.index()]).collect();
                    let alone = behind.iter().all(|results| !results.is_empty());
                    let behind = behind.into_iter().filter(|_| alone);
                    behind.flatten().copied().collect()
                }
                _ => Vec::new(),
            };
            results.sort_unstable();
            results.dedup();
            all[place] = results;
        }
        all
    }
}
