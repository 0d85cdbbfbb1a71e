//! Points, only where the lab description gives them: each error charged once a report.

use crate::answers::Judged;
use crate::answers::Verdict;
use crate::answers::writing::FIGURES;
use crate::answers::writing::is_intermediate;
use crate::lab::Lab;
use crate::working::Graph;

/// Gives the points of every asked step that carries any.
///
/// Value and method: all points when the value stands (right, right but for rounding, or right from the own earlier
/// line); one less, where a step carries several, when the only thing wrong is a slip that is recognised; else none.
/// Then one point, once a report, for a unit that is missing, unknown or of another kind on a final line; and one, once a
/// report, for figures. An answer that waits for a reading has no points, neither given nor to be had.
pub(super) fn give(lab: &Lab, graph: &Graph, judged: &mut Judged) {
    let mut unit_charged = false;
    let mut figures_charged = false;
    for judgement in &mut judged.answers {
        let step = graph.step(judgement.step);
        let asked = lab
            .ask
            .steps
            .iter()
            .find(|asked| asked.wanted && asked.id == step.id);
        let Some(out_of) = asked.and_then(|asked| asked.points) else {
            continue;
        };
        // What the readings do not give yet, or never will, cannot be judged: it costs nothing, and nothing is to be had for it.
        if judgement.verdict == Verdict::Waiting {
            continue;
        }
        let value = judgement.slips.iter().any(|slip| slip.explains());
        let mut points = match judgement.verdict {
            Verdict::Matches | Verdict::Rounding | Verdict::Rough | Verdict::Follows => out_of,
            Verdict::LookAgain if value => out_of.saturating_sub(1),
            Verdict::LookAgain | Verdict::Unreadable | Verdict::NotGiven | Verdict::Waiting => 0,
        };
        if judgement.verdict.stands() && !is_intermediate(step.kind) {
            let has = |ids: &[&str]| judgement.slips.iter().any(|slip| ids.contains(&slip.id));
            if !unit_charged && has(&["unit-missing", "unit-unknown", "unit-of-another-kind"]) {
                unit_charged = true;
                points = points.saturating_sub(1);
            }
            if !figures_charged && has(FIGURES) {
                figures_charged = true;
                points = points.saturating_sub(1);
            }
        }
        judgement.points = Some((points, out_of));
    }
}
