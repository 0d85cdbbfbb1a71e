//! Results that no experiment can give, or few do: the reading behind them is pointed at.
//!
//! The limits are common practice, no source: wide enough for school work, tight enough to catch
//! a wrong vessel or a slipped digit while the sample still exists.

use std::cell::OnceCell;
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
        suspect: OnceCell::new(),
        blamed: false,
        explained: Vec::new(),
    };
    for index in 0..lab.substances.len() {
        look.product(index);
        look.leftover(index);
        look.completion(index);
    }
    look.ratios();
    if !look.blamed {
        look.problems.append(&mut look.explained);
    }
    (look.problems, look.impossible)
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
    /// The amount that alone is far from the plan, looked for when a result is impossible or odd.
    pub(in crate::working) suspect: OnceCell<Option<Suspect>>,
    /// Whether it was told.
    pub(in crate::working) blamed: bool,
    /// Warnings that it would explain, for the case that it is not told.
    pub(in crate::working) explained: Vec<Problem>,
}

impl Look<'_> {
    /// The values of a kind of step by every equation.
    fn values(&self, kind: Kind) -> Vec<f64> {
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
                        "look at the volume, the temperature and the pressure, and at their units",
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
                        "was air in the tube at the start? look at volume, temperature and pressure again",
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
            let (message, help) = if gas {
                (
                    say!(
                        words,
                        "the {substance} collected is much less than could have formed",
                        substance = name
                    ),
                    words.say(
                        "check the digits of these readings; look for a leak while you still can",
                    ),
                )
            } else {
                (
                    say!(
                        words,
                        "the {substance} weighed is much less than could have formed",
                        substance = name
                    ),
                    words.say(
                        "check the digits of this reading; look for product left behind while you still can",
                    ),
                )
            };
            self.file(Severity::Warning, (step, compared), &message, help);
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
        let weighed =
            left.is_some_and(|it| self.graph.step(it).dimension == Unit::Gram.dimension());
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
                words.say("was some lost, or did something else attack it? check the readings"),
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
