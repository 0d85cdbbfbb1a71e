//! Mole ratios that are far from every one the equations allow.

use crate::measure::Unit;
use crate::problem::Severity;
use crate::say;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::odd::Look;

/// A ratio of moles within this part of an allowed one is near it.
const FAR_RATIO: f64 = 0.15;
/// As much reacted as an equation says when it is within this part of it: then a ratio is off by the product alone.
const AS_THE_EQUATION_SAYS: f64 = 0.05;

impl Look<'_> {
    /// Mole ratios against those the equations allow, where nothing simpler says why they are far.
    pub(in crate::working) fn ratios(&mut self) {
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

    /// Says that a ratio is far from all that are allowed, beside the readings of both its sides, or of the product where as much
    /// reacted as the equation says.
    fn far(&mut self, (step, p, r): (StepId, usize, usize)) {
        let message = say!(
            self.words,
            "the ratio of {product} formed to {reactant} used is far from every ratio the equation allows",
            product = self.lab.substances[p].name,
            reactant = self.lab.substances[r].name
        );
        let [made, left] =
            [Kind::Collected(p), Kind::MeasuredLeft(r)].map(|kind| self.graph.of_kind(kind));
        let fits = |kind: Kind, whole: f64| {
            let mut values = self.values(kind).into_iter();
            values.any(|value| (value / whole - 1.0).abs() <= FAR_RATIO)
        };
        let made_fits = fits(Kind::PercentYield(p), 100.0);
        let used_fits = fits(Kind::Completion(r), 1.0);
        // What is left is told by itself then, beside its readings.
        if made_fits && !used_fits {
            return;
        }
        let both = made_fits == used_fits;
        let titrated = left.is_some_and(|left| !self.is_weighed(left));
        let help = match (both, titrated) {
            (true, false) => self.words.say("look at both masses again"),
            (true, true) => self
                .words
                .say("look at these readings again: their digits and their units"),
            (false, _) => self
                .words
                .say("look at the digits of each reading again, and at the vessel it belongs to"),
        };
        let filed = (message.as_str(), help);
        let step = made.unwrap_or(step);
        let compared = &[Kind::Ratio(p, r)];
        self.file_pointing(Severity::Warning, (step, compared), filed, both);
    }

    /// Whether an amount comes from the balance, whatever unit it is worked to.
    pub(in crate::working) fn is_weighed(&self, step: StepId) -> bool {
        let mut readings = self.graph.readings_behind([step]).into_iter();
        readings.any(|reading| self.graph.readings[reading] == Unit::Gram.dimension())
    }
}
