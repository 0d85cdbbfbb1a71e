//! How sure the percent yield of the planned experiment will be, where the doubt comes from, and what would halve it.

use crate::planning::Item;
use crate::planning::Planned;
use crate::planning::Preparation;
use crate::planning::Trial;
use crate::say;
use crate::working::Variable;

/// The last digit of an uncertainty is worth nothing: 2 % above the half is the half.
const HALF: f64 = 0.51;

/// Planned amounts to raise so that the percent yield is twice as sure.
#[derive(Debug, Clone, PartialEq)]
pub struct Halving {
    /// The one amount that is enough; `None` for all of them.
    pub only: Option<Item>,
    /// How many times as much.
    pub factor: f64,
}

impl Preparation<'_> {
    /// Standard uncertainty of the first percent yield at the planned amounts.
    #[must_use]
    pub fn yield_uncertainty(&self) -> Option<f64> {
        self.trial.yield_uncertainty(self.graph)
    }

    /// The inputs that most of that uncertainty comes from, in words, with their parts of the variance.
    #[must_use]
    pub fn doubtful(&self) -> Vec<(String, f64)> {
        let mut told = 0.0;
        let mut parts = Vec::new();
        for (variable, part) in self.trial.shares().iter().take(4) {
            if told >= 0.8 {
                break;
            }
            told += part;
            parts.push((self.in_words(*variable), *part));
        }
        parts
    }

    /// The smallest change of the planned amounts, in halves and up to four times, that halves the uncertainty: one amount alone if that
    /// is enough and the same reactant still runs out first, or all of them.
    #[must_use]
    pub fn halving(&self) -> Option<Halving> {
        let now = self
            .yield_uncertainty()
            .filter(|now| now.is_finite() && *now > 0.0)?;
        let items = self.planned.items();
        let mut ways: Vec<Option<Item>> = Vec::new();
        if items.len() > 1 {
            ways.extend(items.iter().map(|(item, _)| Some(*item)));
        }
        ways.push(None);
        let factors = (3..=8).map(|halves| f64::from(halves) / 2.0);
        let mut choices = factors.flat_map(|factor| ways.iter().map(move |only| (*only, factor)));
        let (only, factor) = choices.find(|(only, factor)| {
            let then = self.with(self.planned.times(*only, *factor));
            then.runs_out() == self.runs_out()
                && then
                    .yield_uncertainty()
                    .is_some_and(|then| then <= HALF * now)
        })?;
        Some(Halving { only, factor })
    }

    /// The same preparation by another plan.
    fn with(&self, planned: Planned) -> Self {
        Self {
            trial: Trial::of(self.lab, self.graph, &planned),
            planned,
            ..*self
        }
    }

    /// The reactant that runs out first.
    fn runs_out(&self) -> Option<usize> {
        self.reaches().first().map(|reach| reach.substance)
    }

    /// An input in words.
    fn in_words(&self, variable: Variable) -> String {
        match variable {
            Variable::Reading(reading) => self
                .lab
                .readings()
                .nth(reading)
                .map_or_else(String::new, |(_, asked)| asked.label.clone()),
            Variable::Given(given) => self
                .graph
                .givens
                .get(given)
                .map_or_else(String::new, |given| given.name.replace('_', " ")),
            Variable::Element(element) => say!(
                self.lab.words,
                "the atomic weight of {element}",
                element = element.symbol()
            ),
        }
    }
}
