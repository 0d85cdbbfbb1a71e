//! The verdict on what runs out.

use crate::answers::Judgement;
use crate::answers::Verdict;
use crate::answers::judge::Judge;
use crate::answers::lines;
use crate::answers::prompts;
use crate::answers::slips::matching;
use crate::working::StepId;
use crate::working::line::Standing;

impl Judge<'_> {
    /// The verdict on named reactants.
    pub(super) fn substances(
        &self,
        id: StepId,
        named: &[usize],
        key: &[usize],
        judgement: &mut Judgement,
    ) {
        let earlier = lines::earlier(self.graph, &self.line, id);
        let wrong_before = self.is_one_wrong(&earlier);
        let own = self.line.limiting(id, None);
        // Where both run out together, naming one of them is no mistake that a balance could show.
        let says = |right: &[usize]| {
            named == right || (right.len() > 1 && named.iter().all(|index| right.contains(index)))
        };
        judgement.verdict = if says(key) {
            Verdict::Matches
        } else if wrong_before && says(&own) {
            Verdict::Follows
        } else {
            Verdict::LookAgain
        };
        if wrong_before && own != key {
            judgement.own = Some(Standing::Substances(own));
        }
        if judgement.verdict == Verdict::LookAgain {
            judgement.slips =
                matching::by_reactant(self.lab, self.graph, self.record, &self.line, id, named);
            let layout = self.layout();
            judgement.feedback =
                prompts::look_again(layout, &self.line, id, &judgement.slips, false);
            if named.len() > 1 {
                judgement.slips.clear();
                judgement.feedback = prompts::no_single_reactant(layout, id);
            }
        }
    }
}
