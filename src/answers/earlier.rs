//! What the verdicts on earlier answers mean for the line of a later one.

use crate::answers::Verdict;
use crate::answers::judge::Judge;
use crate::answers::slips::bench::Layout;
use crate::working::StepId;
use crate::working::line::Line;
use crate::working::line::Standing;

impl<'a> Judge<'a> {
    /// The lab and its steps.
    pub(super) const fn layout(&self) -> Layout<'a> {
        Layout {
            lab: self.lab,
            graph: self.graph,
        }
    }

    /// Whether one of some earlier answers is wrong, or follows from one that is.
    pub(super) fn is_one_wrong(&self, earlier: &[StepId]) -> bool {
        let mut verdicts = earlier.iter().map(|step| self.verdicts[step.index()]);
        verdicts.any(|verdict| !matches!(verdict, Some(Verdict::Matches | Verdict::Rounding)))
    }

    /// Whether one of some earlier answers leads what follows astray, which one that has too few figures does not.
    pub(super) fn is_one_astray(&self, earlier: &[StepId]) -> bool {
        let mut verdicts = earlier.iter().map(|step| self.verdicts[step.index()]);
        verdicts.any(|verdict| matches!(verdict, Some(Verdict::LookAgain | Verdict::Follows)))
    }

    /// The student's line with the right values in the place of wrong ones.
    pub(super) fn put_right(&self) -> Line<'a> {
        let mut line = self.line.clone();
        for step in self.graph.ids().filter(|step| self.is_one_wrong(&[*step])) {
            let right = self.worked.value(step);
            match (line.without(step), right) {
                (Some(Standing::Number(_)), Some(right)) => {
                    line.stand_in(step, Standing::Number(right.approximate()));
                }
                (Some(Standing::Substances(_)), Some(right)) => {
                    line.stand_in(step, Standing::Substances(right.smallest.clone()));
                }
                _ => {}
            }
        }
        line
    }
}
