//! The amount of an effect in words: its unit, and how far it may be off by the lab's rule.

use crate::causes::catalogue::bound::figures;
use crate::causes::effect::Effect;
use crate::causes::effect::Solved;
use crate::causes::scene::Scene;
use crate::lab::UncertaintyRule;
use crate::measure::Exact;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::working::Kind;
use crate::working::Variable;
use crate::working::show;

impl Effect {
    /// The unit of its amount.
    #[must_use]
    pub fn unit(self, scene: &Scene<'_>) -> Unit {
        let of = |kind| {
            scene
                .step(kind)
                .map_or(Unit::Gram, |step| scene.graph.step(step).unit)
        };
        match self {
            Self::Unreacted => Unit::Percent,
            Self::MoreProduct(p) | Self::LessProduct(p) | Self::HeavierVessel(p) => {
                of(Kind::Collected(p))
            }
            Self::MoreLeft(r) | Self::LessLeft(r) => of(Kind::MeasuredLeft(r)),
            Self::Carried { .. } | Self::Clinging { .. } => Unit::Gram,
            Self::LessTaken(r) | Self::MoreTaken(r) | Self::NotPutIn(r) => {
                if scene.in_moles(r) {
                    Unit::Mole
                } else {
                    Unit::Gram
                }
            }
            Self::Overstated(input) | Self::Understated(input) => {
                let dimension = match input {
                    Variable::Reading(reading) => scene.graph.readings.get(reading).copied(),
                    Variable::Given(given) => {
                        let given = scene.graph.givens.get(given);
                        given.and_then(|given| Some(given.value.unit?.dimension()))
                    }
                    Variable::Element(_) => None,
                };
                dimension.and_then(Unit::for_dimension).unwrap_or(Unit::One)
            }
        }
    }

    /// An amount in the unit it is shown in: fractions as percentages.
    #[must_use]
    pub fn shown(self, amount: f64) -> f64 {
        if self == Self::Unreacted {
            100.0 * amount
        } else {
            amount
        }
    }

    /// The amount with its standard uncertainty, `0.032 g (± 0.005 g)`, in the unit it is shown in and the language of the lab.
    #[must_use]
    pub fn in_words(self, solved: &Solved, scene: &Scene<'_>) -> String {
        let words = &scene.lab.words;
        let unit = self.unit(scene);
        let shows = scene.lab.policy.uncertainty != UncertaintyRule::None;
        let doubt = match scene.lab.policy.uncertainty {
            UncertaintyRule::WorstCase => solved.limit,
            _ => solved.standard,
        };
        let doubt = show::doubt_number(self.shown(doubt)).filter(|_| shows);
        let Some(doubt) = doubt else {
            return figures(scene, self.shown(solved.amount), unit);
        };
        let number = Exact::from_float(self.shown(solved.amount))
            .map(|exact| rounding::to_places(&exact, doubt.places(), scene.lab.policy.rounding))
            .map_or_else(String::new, |number| show::amount(words, number, unit));
        format!(
            "{} (±{}{})",
            number,
            show::NO_BREAK,
            show::amount(words, doubt, unit)
        )
    }
}
