//! Before the lab: what the planned amounts come to for one group and for all, worked by the same steps as a group's readings.

mod amounts;
mod trial;

pub use amounts::Amount;
pub use amounts::Planned;
pub use trial::Trial;

use crate::lab::Before;
use crate::lab::Lab;
use crate::measure::Unit;
use crate::working::Graph;
use crate::working::Kind;

/// How much heavier than the balance's step a mass must be for three figures.
const THREE_FIGURES: f64 = 100.0;

/// A class's preparation.
#[derive(Debug)]
pub struct Preparation<'a> {
    /// The lab.
    pub lab: &'a Lab,
    /// The lab's steps.
    pub graph: &'a Graph,
    /// Groups.
    pub groups: u32,
    /// What is set out beyond the need, as a fraction: 0.15 for 15 %.
    pub spare: f64,
    /// What the lab description plans.
    pub planned: Planned,
    /// The planned experiment, worked.
    pub trial: Trial,
}

/// A reagent as it is set out.
#[derive(Debug, Clone, PartialEq)]
pub struct Reagent {
    /// Index into [`Lab::substances`].
    pub substance: usize,
    /// For one group, in g, or in L of a solution.
    pub each: f64,
    /// For all groups, spare counted.
    pub all: f64,
    /// g, or mL for a solution or a liquid.
    pub unit: Unit,
    /// Concentration of a solution as taken, mol/L.
    pub concentration: Option<f64>,
    /// What is dissolved in the water planned: concentration for one group, mol/L.
    pub in_water: Option<f64>,
    /// Mass of the pure substance in the solution for all groups, g.
    pub pure: Option<f64>,
}

/// What the plan promises of a product or a leftover.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// Index into [`Lab::substances`].
    pub substance: usize,
    /// Whether it is a product.
    pub product: bool,
    /// In g (or mol).
    pub amount: f64,
    /// Whether it is heavy enough for three figures on the lab's balance; `None` where that is not weighed.
    pub three_figures: Option<bool>,
    /// Whether it is more than twice its own standard uncertainty above zero.
    pub measurable: bool,
}

impl<'a> Preparation<'a> {
    /// The preparation of a lab for so many groups, with a spare fraction.
    #[must_use]
    pub fn new(lab: &'a Lab, graph: &'a Graph, groups: u32, spare: f64) -> Self {
        let planned = Planned::of(lab);
        let trial = Trial::of(lab, graph, &planned, 1.0);
        Self {
            lab,
            graph,
            groups,
            spare,
            planned,
            trial,
        }
    }

    /// An amount for all groups, spare counted.
    #[must_use]
    pub fn for_all(&self, each: f64) -> f64 {
        each * f64::from(self.groups) * (1.0 + self.spare)
    }

    /// Reactants with a planned amount, in the lab's order.
    #[must_use]
    pub fn reagents(&self) -> Vec<Reagent> {
        let water = self.planned.water.as_ref().map(|amount| amount.base);
        let mut reagents = Vec::new();
        for (index, substance) in self.lab.substances.iter().enumerate() {
            let Some(amount) = self.planned.of_substance(index) else {
                continue;
            };
            let moles = self.trial.value(self.graph, Kind::Moles(index));
            let solution = amount.unit.dimension() == Unit::Litre.dimension();
            let concentration = moles
                .filter(|_| solution && substance.before.is_some())
                .map(|moles| moles / amount.base);
            let dissolves = self.dissolves(index);
            reagents.push(Reagent {
                substance: index,
                each: amount.base,
                all: self.for_all(amount.base),
                unit: if solution {
                    Unit::Millilitre
                } else {
                    Unit::Gram
                },
                concentration,
                in_water: moles
                    .zip(water)
                    .filter(|(_, water)| dissolves && !solution && *water > 0.0)
                    .map(|(moles, water)| moles / water),
                pure: concentration.and_then(|concentration| {
                    let mass = self
                        .lab
                        .atomic_weights
                        .molar_mass(&substance.formula)
                        .ok()?;
                    let mass = crate::measure::rounding::to_f64(&mass);
                    Some(concentration * self.for_all(amount.base) * mass)
                }),
            });
        }
        reagents
    }

    /// Whether a reactant is dissolved in water for the reaction.
    fn dissolves(&self, index: usize) -> bool {
        let formula = &self.lab.substances[index].formula;
        let species = self.lab.equation.find(formula);
        species.is_some_and(|(species, reactant)| {
            reactant && species.formula.state() == Some(crate::chem::formula::State::Aqueous)
        })
    }

    /// Reactants without a planned amount, other than those in excess.
    #[must_use]
    pub fn unplanned(&self) -> Vec<usize> {
        let substances = self.lab.substances.iter().enumerate();
        substances
            .filter(|(index, substance)| {
                matches!(substance.before, Some(Before::Measured(_)))
                    && self.planned.of_substance(*index).is_none()
            })
            .map(|(index, _)| index)
            .collect()
    }

    /// Products and leftovers that are weighed, with what the plan promises.
    #[must_use]
    pub fn expected(&self) -> Vec<Expected> {
        let mut expected = Vec::new();
        for (index, substance) in self.lab.substances.iter().enumerate() {
            let (kind, found) = if substance.reactant {
                (Kind::ExpectedLeft(index), Kind::MeasuredLeft(index))
            } else {
                (Kind::Theoretical(index), Kind::Collected(index))
            };
            let (Some(amount), Some(step)) = (
                self.trial.value(self.graph, kind),
                self.graph.of_kind(found),
            ) else {
                continue;
            };
            let weighed = self.graph.step(step).unit == Unit::Gram;
            let standard = self.trial.standard(self.graph, found).unwrap_or(0.0);
            expected.push(Expected {
                substance: index,
                product: !substance.reactant,
                amount,
                three_figures: self
                    .readability()
                    .filter(|_| weighed)
                    .map(|step| amount >= THREE_FIGURES * step),
                measurable: amount > 2.0 * standard,
            });
        }
        expected
    }

    /// The step of the lab's balance, in g.
    #[must_use]
    pub fn readability(&self) -> Option<f64> {
        let balances = self
            .lab
            .instruments
            .iter()
            .filter(|one| one.unit.dimension() == Unit::Gram.dimension());
        let step = |one: &crate::measure::Instrument| {
            let step = one.readability.or(one.tolerance)?;
            Some(step.shifted(one.unit.power_to_base()).to_f64())
        };
        balances.filter_map(step).reduce(f64::max)
    }

    /// Vessels to set out: labels of readings of something empty, one each a group.
    #[must_use]
    pub fn vessels(&self) -> Vec<&'a str> {
        let mut empty: Vec<usize> = Vec::new();
        for id in self.graph.ids() {
            let step = self.graph.step(id);
            let weighs = matches!(
                step.kind,
                Kind::Mass(_) | Kind::Collected(_) | Kind::MeasuredLeft(_)
            );
            if weighs {
                empty.extend(trial::taken_away(&step.expression));
            }
        }
        // A reading that is taken away here and filled there is a vessel with something in it.
        let filled: Vec<usize> = self
            .graph
            .ids()
            .flat_map(|id| trial::added(&self.graph.step(id).expression))
            .collect();
        let readings = self.lab.readings().enumerate();
        readings
            .filter(|(index, _)| empty.contains(index) && !filled.contains(index))
            .map(|(_, (_, asked))| asked.label.as_str())
            .collect()
    }

    /// Liquid that one group has left over at the end, in L: water, washings and solutions.
    #[must_use]
    pub fn liquid_each(&self) -> f64 {
        let solutions: f64 = self
            .reagents()
            .iter()
            .filter(|reagent| reagent.unit == Unit::Millilitre)
            .map(|reagent| reagent.each)
            .sum();
        self.water_each() + solutions
    }

    /// Water that one group needs, in L: to dissolve and to wash.
    #[must_use]
    pub fn water_each(&self) -> f64 {
        let water = self.planned.water.as_ref().map_or(0.0, |water| water.base);
        let washes = self
            .planned
            .washes
            .map_or(0.0, |(count, each)| f64::from(count) * each);
        water + washes
    }

    /// Standard uncertainty of the first percent yield at the planned amounts.
    #[must_use]
    pub fn yield_uncertainty(&self) -> Option<f64> {
        self.trial.yield_uncertainty(self.graph)
    }

    /// How many times the planned amounts halve that uncertainty, in halves; `None` beyond four times.
    #[must_use]
    pub fn halving_factor(&self) -> Option<f64> {
        let now = self.yield_uncertainty()?;
        (3..=8)
            .map(|halves| f64::from(halves) / 2.0)
            .find(|factor| {
                let scaled = Trial::of(self.lab, self.graph, &self.planned, *factor);
                // The last digit of an uncertainty is worth nothing: 2 % above the half is the half.
                scaled
                    .yield_uncertainty(self.graph)
                    .is_some_and(|then| then <= 0.51 * now)
            })
    }
}
