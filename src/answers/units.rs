//! Answers of which only milli or kilo before the unit is wrong.

use crate::answers::Given;
use crate::answers::Judgement;
use crate::answers::Verdict;
use crate::answers::given;
use crate::answers::given::Number;
use crate::answers::judge::Judge;
use crate::answers::slips;
use crate::measure::Unit;
use crate::working::StepId;
use crate::working::line::Habit;

/// A power of a thousand between a number and its unit.
pub(super) const PREFIX: &str = "prefix";

/// How far, as a part of it, the number that was meant may be from the value it stands for.
const NEAR: f64 = 0.05;

impl Judge<'_> {
    /// The verdict on a number, which is taken as if its unit were right where only milli or kilo before it are wrong.
    pub(super) fn in_its_unit(
        &mut self,
        id: StepId,
        number: Number,
        key: f64,
        judgement: &mut Judgement,
    ) -> Number {
        let unjudged = judgement.clone();
        self.number(id, &number, key, judgement);
        let unit = self.graph.step(id).unit;
        // Where another slip explains the value as well, it is not the unit alone.
        let only_prefix = |slip: &slips::Slip| {
            slip.id == PREFIX || slip.family == slips::Family::Writing || !slip.explains()
        };
        let may_be = judgement.verdict == Verdict::LookAgain
            && matches!(number.unit, given::WrittenUnit::Fits)
            && !matches!(unit, Unit::One | Unit::Percent)
            && unit.is_decimal()
            && number.value != 0.0
            && !number.is_single_figure()
            && judgement.slips.iter().all(|slip| only_prefix(slip));
        if !may_be {
            return number;
        }
        let own = self.line.worked(id, Habit::Full).unwrap_or(key);
        for power in [3, -3] {
            let other = number.with_prefix(power, unit);
            // Next to nothing is within rounding of nothing, whatever its unit.
            let near = |target: f64| (other.value - target).abs() <= NEAR * target.abs();
            if !near(key) && !near(own) {
                continue;
            }
            let mut trial = unjudged.clone();
            self.number(id, &other, key, &mut trial);
            if trial.verdict.stands() {
                if let Some(prefix) = slips::by_id(PREFIX) {
                    let words = self.lab.words.say(prefix.prompt);
                    trial.feedback = format!("{words} {}", trial.feedback);
                    trial.slips.insert(0, prefix);
                }
                trial.given = Some(Given::Number(other.clone()));
                *judgement = trial;
                return other;
            }
        }
        number
    }
}
