//! Results that no experiment can give, or few do: the reading behind them is pointed at.
//!
//! The limits are common practice, no source: wide enough for school work, tight enough to catch
//! a wrong vessel or a slipped digit while the sample still exists.

use std::collections::BTreeMap;

use crate::lab::Lab;
use crate::measure::Unit;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::record::Record;
use crate::say;
use crate::words::Words;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Worked;
use crate::working::odd_plan;
use crate::working::odd_plan::Suspect;

/// A product collected beyond this multiple of the most possible is no product weighed.
const MOST_PRODUCT: f64 = 1.6;
/// A leftover may weigh more than what was taken by this much (g) before it is called impossible.
const LEFTOVER_SLACK: f64 = 0.02;

/// What the results show to be impossible or odd: the problems, and the readings that cannot stand
/// (by number, with the sentence that says why).
#[must_use]
pub fn look(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    record: &Record,
) -> (Vec<Problem>, BTreeMap<usize, String>) {
    let mut look = Look {
        lab,
        words: &lab.words,
        graph,
        worked,
        record,
        problems: Vec::new(),
        impossible: BTreeMap::new(),
        suspects: odd_plan::suspects(lab, graph, worked, record),
        blamed: None,
    };
    for index in 0..lab.substances.len() {
        look.product(index);
        look.leftover(index);
        look.completion(index);
    }
    look.ratios();
    // What is far from the plan stands in front of what it may explain.
    let mut problems = match look.blamed.take() {
        Some(problem) => vec![problem],
        None => look.suspects.iter().map(|one| look.ask(one)).collect(),
    };
    problems.append(&mut look.problems);
    (problems, look.impossible)
}

/// One look over a worked record.
pub(in crate::working) struct Look<'a> {
    pub(in crate::working) lab: &'a Lab,
    pub(in crate::working) words: &'a Words,
    pub(in crate::working) graph: &'a Graph,
    pub(in crate::working) worked: &'a Worked<'a>,
    pub(in crate::working) record: &'a Record,
    pub(in crate::working) problems: Vec<Problem>,
    pub(in crate::working) impossible: BTreeMap<usize, String>,
    /// The amounts that are far from the plan.
    pub(in crate::working) suspects: Vec<Suspect>,
    /// The problem that tells the only one of them together with a result that it may explain.
    pub(in crate::working) blamed: Option<Problem>,
}

impl Look<'_> {
    /// The values of a kind of step by every equation.
    pub(in crate::working) fn values(&self, kind: Kind) -> Vec<f64> {
        let steps = self
            .graph
            .ids()
            .filter(|step| self.graph.step(*step).kind == kind);
        steps
            .filter_map(|step| self.worked.value(step))
            .map(super::value::Value::approximate)
            .collect()
    }

    /// A step of the lab's own equation with its value.
    pub(in crate::working) fn of(&self, kind: Kind) -> Option<(StepId, f64)> {
        let step = self.graph.of_kind(kind)?;
        Some((step, self.worked.value(step)?.approximate()))
    }

    /// What was collected against the most that could form and all that was taken.
    fn product(&mut self, index: usize) {
        let Some((step, collected)) = self.of(Kind::Collected(index)) else {
            return;
        };
        let name = self.lab.substances[index].name.clone();
        // A gas is collected, not weighed, and never dried.
        let gas = self.lab.substances[index].measured_as_gas();
        let words = self.words;
        let mut readings = self.graph.uses(step).readings.iter();
        let ignited = readings.any(|reading| {
            let asked = self.lab.readings().nth(*reading);
            asked.is_some_and(|(_, asked)| asked.is_ignited(words))
        });
        let theory = self.values(Kind::Theoretical(index));
        let most = theory.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let least = theory.iter().copied().fold(f64::INFINITY, f64::min);
        if self.graph.step(step).dimension == Unit::Gram.dimension()
            && let Some(taken) = self.total_taken()
            && collected > taken + LEFTOVER_SLACK
        {
            let message = say!(
                words,
                "more {substance} was weighed than there was of everything at the start",
                substance = name
            );
            let help = words.say("is it the right vessel, and was its empty mass taken away?");
            let taken: Vec<Kind> = (0..self.lab.substances.len()).map(Kind::Mass).collect();
            return self.file(Severity::Error, (step, &taken), &message, help);
        }
        if theory.is_empty() {
            return;
        }
        let compared = &[Kind::Theoretical(index)];
        if collected > MOST_PRODUCT * most {
            let (message, help) = if gas {
                (
                    say!(
                        words,
                        "the {substance} collected is far more than could have formed",
                        substance = name
                    ),
                    words.say(
                        "look at the digits of this reading and at its unit: mL or L? Then at those it is compared with",
                    ),
                )
            } else {
                (
                    say!(
                        words,
                        "the {substance} weighed is far more than could have formed",
                        substance = name
                    ),
                    if ignited {
                        words.say("look at the digits and the unit of each of these readings, and at the vessel's number")
                    } else {
                        words.say("look at the digits and the unit of each of these readings, and at the vessel's number; dry it again if it is wet")
                    },
                )
            };
            return self.file(Severity::Error, (step, compared), &message, help);
        }
        if collected > 1.05 * most {
            let (message, help) = if gas {
                (
                    say!(
                        words,
                        "the {substance} collected is more than could have formed",
                        substance = name
                    ),
                    words.say(
                        "was air in the tube at the start? Look at the digits of this reading again, and at the mass taken",
                    ),
                )
            } else {
                (
                    say!(
                        words,
                        "the {substance} weighed is more than could have formed",
                        substance = name
                    ),
                    if ignited {
                        words.say("is it clean, and was it heated to constant mass? Heat it again, let it cool and weigh it")
                    } else {
                        words.say("is it dry and clean? Weigh it once more after another drying")
                    },
                )
            };
            self.file(Severity::Warning, (step, compared), &message, help);
        } else if collected < 0.7 * least {
            let message = if gas {
                say!(
                    words,
                    "the {substance} collected is much less than could have formed",
                    substance = name
                )
            } else {
                say!(
                    words,
                    "the {substance} weighed is much less than could have formed",
                    substance = name
                )
            };
            let slipped = is_powers_of_ten_below(collected, least);
            let help = match (slipped, gas) {
                (true, _) => words.say("a power of ten would explain it: look at the unit and the decimal point of each of these readings"),
                (false, true) => words.say("check the digits and the unit of this reading; look for a leak while you still can"),
                (false, false) => words.say("check the digits of this reading; look for product left behind while you still can"),
            };
            let filed = (message.as_str(), help);
            self.file_pointing(Severity::Warning, (step, compared), filed, slipped);
        }
    }

    /// The mass of all reactants, where every one was weighed.
    fn total_taken(&self) -> Option<f64> {
        let mut total = 0.0;
        for species in &self.lab.equation.reactants {
            let index = self
                .lab
                .substances
                .iter()
                .position(|s| s.reactant && s.formula.same_substance(&species.formula))?;
            total += self.of(Kind::Mass(index))?.1;
        }
        Some(total)
    }

    /// What was left against what was taken.
    fn leftover(&mut self, index: usize) {
        let (Some((step, left)), Some((_, taken))) = (
            self.of(Kind::MeasuredLeft(index)),
            self.of(Kind::Mass(index)),
        ) else {
            return;
        };
        let name = self.lab.substances[index].name.clone();
        let words = self.words;
        let compared = &[Kind::Mass(index)];
        if left > taken + LEFTOVER_SLACK {
            let message = say!(
                words,
                "more {substance} is left than was taken",
                substance = name
            );
            let help = words.say(
                "look at the digits and the unit of each; is something stuck to what is left, is it wet, or is it another group's?",
            );
            self.file(Severity::Error, (step, compared), &message, help);
        } else if left >= taken {
            let message = say!(
                words,
                "as much {substance} is left as was taken: nothing reacted",
                substance = name
            );
            let help = words.say("compare the two readings with your notes");
            self.file(Severity::Warning, (step, compared), &message, help);
        } else if left < 0.05 * taken
            && self
                .of(Kind::ExpectedLeft(index))
                .is_some_and(|(_, expected)| expected > 0.1 * taken)
        {
            let message = say!(words, "hardly any {substance} is left", substance = name);
            let help = words.say("check the digits of this reading");
            self.file(Severity::Warning, (step, compared), &message, help);
        }
    }

    /// How far the reaction went, judged by a reactant whose leftover was weighed.
    fn completion(&mut self, index: usize) {
        if self.impossible_already(Kind::MeasuredLeft(index)) {
            return;
        }
        let (Some((step, _)), Some(_)) = (
            self.of(Kind::MeasuredLeft(index)),
            self.of(Kind::Used(index)),
        ) else {
            return;
        };
        let values = self.values(Kind::Completion(index));
        let Some(nearest) = values
            .iter()
            .copied()
            .min_by(|a, b| (a - 1.0).abs().total_cmp(&(b - 1.0).abs()))
        else {
            return;
        };
        let name = self.lab.substances[index].name.clone();
        let words = self.words;
        let compared = &[Kind::Completion(index)];
        let left = self.graph.of_kind(Kind::MeasuredLeft(index));
        let weighed = left.is_some_and(|it| self.is_weighed(it));
        let (far, odd, help) = if nearest > 1.0 {
            (
                say!(
                    words,
                    "far more {substance} reacted than the equation can use",
                    substance = name
                ),
                say!(
                    words,
                    "more {substance} reacted than the equation says",
                    substance = name
                ),
                if weighed {
                    words.say("was some lost, or did something else attack it? check the readings")
                } else {
                    words.say("was some of the liquid lost, or was the titration stopped too early? check the readings")
                },
            )
        } else {
            (
                say!(
                    words,
                    "far less {substance} reacted than the equation can use",
                    substance = name
                ),
                say!(
                    words,
                    "less {substance} reacted than the equation says",
                    substance = name
                ),
                if weighed {
                    words.say("did the reaction run to its end, and is the leftover clean and dry? check the readings")
                } else {
                    words.say("did the reaction run to its end? check the readings")
                },
            )
        };
        if !(0.3..=1.7).contains(&nearest) {
            self.file(Severity::Error, (step, compared), &far, help);
        } else if !(0.85..=1.15).contains(&nearest) {
            self.file(Severity::Warning, (step, compared), &odd, help);
        }
    }

    /// Whether the readings of a step are known to be impossible already.
    fn impossible_already(&self, kind: Kind) -> bool {
        let readings = self
            .graph
            .of_kind(kind)
            .map(|step| self.graph.step(step).expression.readings())
            .unwrap_or_default();
        readings
            .iter()
            .any(|reading| self.impossible.contains_key(reading))
    }
}

/// Whether what was collected would be a usual part of what could form if it were ten, a hundred, a thousand times as much.
fn is_powers_of_ten_below(collected: f64, most: f64) -> bool {
    let part = collected / most;
    part > 0.0 && (1..=6).any(|power| (0.6..=1.05).contains(&(part * 10_f64.powi(power))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_power_of_ten_is_told_from_a_poor_yield() {
        for part in [0.095, 0.0098, 0.000_9] {
            assert!(is_powers_of_ten_below(part * 1.5, 1.5), "{part}");
        }
        for part in [0.0, -0.09, 0.3, 0.5, 0.69, 0.95, 0.02] {
            assert!(!is_powers_of_ten_below(part * 1.5, 1.5), "{part}");
        }
    }
}
