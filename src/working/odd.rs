//! Results that no experiment can give, or few do: the reading behind them is pointed at.
//!
//! The limits are common practice, no source: wide enough for school work, tight enough to catch
//! a wrong vessel or a slipped digit while the sample still exists.

use std::collections::BTreeMap;

use crate::lab::Lab;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Worked;

/// A product collected beyond this multiple of the most possible is no product weighed.
const MOST_PRODUCT: f64 = 1.6;
/// A leftover may weigh more than what was taken by this much (g) before it is called impossible.
const LEFTOVER_SLACK: f64 = 0.02;
/// A ratio of moles within this part of an allowed one is near it.
const FAR_RATIO: f64 = 0.15;
/// As much reacted as an equation says when it is within this part of it: then a ratio is off by the product alone.
const AS_THE_EQUATION_SAYS: f64 = 0.05;

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
        graph,
        worked,
        record,
        problems: Vec::new(),
        impossible: BTreeMap::new(),
    };
    for index in 0..lab.substances.len() {
        look.product(index);
        look.leftover(index);
        look.completion(index);
    }
    look.ratios();
    (look.problems, look.impossible)
}

/// One look over a worked record.
struct Look<'a> {
    lab: &'a Lab,
    graph: &'a Graph,
    worked: &'a Worked<'a>,
    record: &'a Record,
    problems: Vec<Problem>,
    impossible: BTreeMap<usize, String>,
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

    fn of(&self, kind: Kind) -> Option<(StepId, f64)> {
        let step = self.graph.of_kind(kind)?;
        Some((step, self.worked.value(step)?.approximate()))
    }

    /// Files a problem beside the first reading of a step.
    fn say(&mut self, severity: Severity, step: StepId, message: &str, help: &str) {
        let readings = self.graph.step(step).expression.readings();
        let code = if severity == Severity::Error {
            Code::ImpossibleResult
        } else {
            Code::OddResult
        };
        let mut problem = if severity == Severity::Error {
            Problem::error(code, message)
        } else {
            Problem::warning(code, message)
        };
        for (place, reading) in readings.iter().enumerate() {
            if let Some(entry) = self.record.readings[*reading].entries.last() {
                problem = problem.at(
                    entry.span.clone(),
                    if place == 0 {
                        "from this reading"
                    } else {
                        "and this one"
                    },
                );
            }
            if severity == Severity::Error {
                self.impossible.insert(*reading, message.to_owned());
            }
        }
        self.problems.push(problem.help(help));
    }

    /// What was collected against the most that could form and all that was taken.
    fn product(&mut self, index: usize) {
        let Some((step, collected)) = self.of(Kind::Collected(index)) else {
            return;
        };
        let name = self.lab.substances[index].name.clone();
        // A gas is collected, not weighed, and never dried.
        let gas = self.lab.substances[index].measured_as_gas();
        let how = if gas { "collected" } else { "weighed" };
        let theory = self.values(Kind::Theoretical(index));
        let most = theory.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let least = theory.iter().copied().fold(f64::INFINITY, f64::min);
        if self.graph.step(step).dimension == Unit::Gram.dimension()
            && let Some(taken) = self.total_taken()
            && collected > taken + LEFTOVER_SLACK
        {
            let message =
                format!("more {name} was weighed than there was of everything at the start");
            return self.say(
                Severity::Error,
                step,
                &message,
                "is it the right vessel, and was its empty mass taken away?",
            );
        }
        if theory.is_empty() {
            return;
        }
        if collected > MOST_PRODUCT * most {
            let message = format!("the {name} {how} is far more than could have formed");
            let help = if gas {
                "look at the volume, the temperature and the pressure, and at their units"
            } else {
                "look at the vessel's number and at the empty mass; dry it again if it is wet"
            };
            return self.say(Severity::Error, step, &message, help);
        }
        if collected > 1.05 * most {
            let message = format!("the {name} {how} is more than could have formed");
            let help = if gas {
                "was air in the tube at the start? look at volume, temperature and pressure again"
            } else {
                "is it dry and clean? weigh it once more after another drying"
            };
            self.say(Severity::Warning, step, &message, help);
        } else if collected < 0.7 * least {
            let message = format!("the {name} {how} is much less than could have formed");
            let help = if gas {
                "check the digits of these readings; look for a leak while you still can"
            } else {
                "check the digits of this reading; look for product left behind while you still can"
            };
            self.say(Severity::Warning, step, &message, help);
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
        if left > taken + LEFTOVER_SLACK {
            let message = format!("more {name} is left than was taken");
            self.say(
                Severity::Error,
                step,
                &message,
                "is something stuck to it, is it wet, or is it another group's? weigh it again",
            );
        } else if left >= taken {
            let message = format!("as much {name} is left as was taken: nothing reacted");
            self.say(
                Severity::Warning,
                step,
                &message,
                "compare the two readings with your notes",
            );
        } else if left < 0.05 * taken
            && self
                .of(Kind::ExpectedLeft(index))
                .is_some_and(|(_, expected)| expected > 0.1 * taken)
        {
            let message = format!("hardly any {name} is left");
            self.say(
                Severity::Warning,
                step,
                &message,
                "check the digits of this reading",
            );
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
        let (much, help) = if nearest > 1.0 {
            (
                "more",
                "was some lost, or did something else attack it? check the readings",
            )
        } else {
            (
                "less",
                "did the reaction run to its end, and is the leftover clean and dry? check the readings",
            )
        };
        if !(0.3..=1.7).contains(&nearest) {
            let message = format!("far {much} {name} reacted than the equation can use");
            self.say(Severity::Error, step, &message, help);
        } else if !(0.85..=1.15).contains(&nearest) {
            let message = format!("{much} {name} reacted than the equation says");
            self.say(Severity::Warning, step, &message, help);
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

    /// Mole ratios against those the equations allow, where nothing simpler says why they are far.
    fn ratios(&mut self) {
        for p in 0..self.lab.substances.len() {
            for r in 0..self.lab.substances.len() {
                if let Some((step, ratio)) = self.of(Kind::Ratio(p, r))
                    && ratio.is_finite()
                    && !self.near(ratio, (p, r))
                {
                    self.far((step, p, r));
                }
            }
        }
    }

    /// Whether a ratio of product to reactant is near one that an equation allows, or is off by no more than the product
    /// that came out: that is what the percent yield is for.
    fn near(&self, ratio: f64, (p, r): (usize, usize)) -> bool {
        let (product, reactant) = (&self.lab.substances[p], &self.lab.substances[r]);
        let equations = std::iter::once(&self.lab.equation).chain(&self.lab.alternatives);
        equations.enumerate().any(|(number, equation)| {
            let (Some((made, _)), Some((used, _))) = (
                equation.find(&product.formula),
                equation.find(&reactant.formula),
            ) else {
                return false;
            };
            let part = ratio * f64::from(used.coefficient) / f64::from(made.coefficient);
            let low_by_right = part < 1.0 && product.crystallises(equation);
            let completion = self.by_equation(number, Kind::Completion(r));
            let percent_yield = self.by_equation(number, Kind::PercentYield(p));
            let explained = percent_yield.is_some()
                && completion.is_some_and(|part| (part - 1.0).abs() <= AS_THE_EQUATION_SAYS);
            low_by_right || explained || (part - 1.0).abs() <= FAR_RATIO
        })
    }

    /// The value of a kind of step by one of the equations.
    fn by_equation(&self, number: usize, kind: Kind) -> Option<f64> {
        let step = self.graph.of_equation(number, kind)?;
        Some(self.worked.value(step)?.approximate())
    }

    /// Says that a ratio is far from all that are allowed.
    fn far(&mut self, (step, p, r): (StepId, usize, usize)) {
        let message = format!(
            "the ratio of {} formed to {} used is far from every ratio the equation allows",
            self.lab.substances[p].name, self.lab.substances[r].name
        );
        let from = self.graph.step(step).expression.steps();
        let source = from
            .first()
            .and_then(|moles| self.graph.step(*moles).expression.steps().first().copied());
        self.say(
            Severity::Warning,
            source.unwrap_or(step),
            &message,
            "look at both masses again",
        );
    }
}
