//! What is set out for a class, in the form the lab measures it, and which reactant runs out first.

use std::collections::BTreeSet;

use crate::chem::formula::State;
use crate::lab::Before;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::planning::Amount;
use crate::planning::Item;
use crate::planning::Preparation;
use crate::planning::trial::pure_part;
use crate::planning::trial::weighed_molar_mass;
use crate::working::Expression;
use crate::working::Kind;

/// No liquid of a school weighs less, g/L: pentane has 626 (common practice, no source).
const LIGHTEST_LIQUID: f64 = 500.0;

/// A reagent as it is set out.
#[derive(Debug, Clone, PartialEq)]
pub struct Reagent {
    /// A substance, or what a reading is to show.
    pub item: Item,
    /// For one group.
    pub each: Amount,
    /// For all groups, spare counted, in the base unit.
    pub all: f64,
    /// Moles of the substance, or of the only one that the reading counts for, for one group.
    pub moles: Option<f64>,
    /// Mass of the substance for one group in a liquid that is measured by its volume and taken by its mass, g.
    pub grams: Option<f64>,
    /// Whether that liquid is a solution, which weighs more.
    pub solution: bool,
    /// Concentration of a solution as taken, mol/L.
    pub concentration: Option<f64>,
    /// The substance that a solution taken by its concentration holds for all groups, g.
    pub pure: Option<f64>,
    /// What holds so much of it, where the bottle states a purity, g.
    pub as_sold: Option<f64>,
    /// What is dissolved in water of its own: that water for one group (L), and the concentration (mol/L).
    pub dissolved: Option<(f64, f64)>,
}

/// A reactant held against what it needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Reach {
    /// Index into [`Lab::substances`](crate::lab::Lab::substances).
    pub substance: usize,
    /// How many times as much as the reactant that runs out first can use; 1 for that one.
    pub times: f64,
}

impl Preparation<'_> {
    /// What is planned, in the order of the lab's substances and then of the readings.
    #[must_use]
    pub fn reagents(&self) -> Vec<Reagent> {
        let mut items = self.planned.items().to_vec();
        items.sort_by_key(|(item, _)| match item {
            Item::Substance(index) => (0, *index),
            Item::Reading(reading) => (1, *reading),
        });
        items
            .into_iter()
            .map(|(item, amount)| match item {
                Item::Substance(index) => self.of_substance(index, amount),
                Item::Reading(reading) => {
                    let fed = self.fed_by(reading);
                    let moles = match fed[..] {
                        [index] => self.trial.value(self.graph, Kind::Moles(index)),
                        _ => None,
                    };
                    self.plain(item, amount, moles)
                }
            })
            .collect()
    }

    /// Reactants in excess that nothing is planned of; gases are there anyway.
    #[must_use]
    pub fn in_excess(&self) -> Vec<usize> {
        let substances = self.lab.substances.iter().enumerate();
        substances
            .filter(|(index, substance)| {
                matches!(substance.before, Some(Before::Excess))
                    && self.planned.of_substance(*index).is_none()
                    && self.state(*index) != Some(State::Gas)
            })
            .map(|(index, _)| index)
            .collect()
    }

    /// Measured reactants without a planned amount.
    #[must_use]
    pub fn unplanned(&self) -> Vec<usize> {
        let substances = self.lab.substances.iter().enumerate();
        substances
            .filter(|(index, substance)| {
                matches!(substance.before, Some(Before::Measured(_)))
                    && self.planned.of_substance(*index).is_none()
                    && !self
                        .readings_before(*index)
                        .iter()
                        .any(|reading| self.planned.has_reading(*reading))
            })
            .map(|(index, _)| index)
            .collect()
    }

    /// Substances planned by volume that the lab does not measure by volume.
    #[must_use]
    pub fn volume_not_measured(&self) -> Vec<usize> {
        let substances = self.lab.substances.iter().enumerate();
        substances
            .filter(|(index, substance)| {
                let amount = self.planned.of_substance(*index);
                matches!(substance.before, Some(Before::Measured(_)))
                    && amount.is_some_and(|amount| amount.is(Unit::Litre))
                    && self.volume_read(*index).is_none()
            })
            .map(|(index, _)| index)
            .collect()
    }

    /// Reactants against the one that runs out first, that one first; empty where fewer than two are known.
    #[must_use]
    pub fn reaches(&self) -> Vec<Reach> {
        let mut shares: Vec<(usize, f64, bool)> = Vec::new();
        for (index, substance) in self.lab.substances.iter().enumerate() {
            if !substance.reactant {
                continue;
            }
            let read = self
                .trial
                .value(self.graph, Kind::Moles(index))
                .filter(|moles| *moles > 0.0);
            if let Some(moles) = read.or_else(|| self.moles_in_excess(index)) {
                let share = moles / f64::from(substance.coefficient.max(1));
                shares.push((index, share, read.is_some()));
            }
        }
        // Whatever is said to be in excess never runs out first: the steps do not ask for it.
        let measured = shares.iter().filter(|(.., read)| *read);
        let Some(extent) = measured.map(|(_, share, _)| *share).reduce(f64::min) else {
            return Vec::new();
        };
        if shares.len() < 2 {
            return Vec::new();
        }
        let mut reaches: Vec<Reach> = shares
            .into_iter()
            .map(|(substance, share, _)| Reach {
                substance,
                times: share / extent,
            })
            .collect();
        reaches.sort_by(|left, right| {
            (left.times - 1.0)
                .abs()
                .total_cmp(&(right.times - 1.0).abs())
        });
        reaches
    }

    /// Moles of a planned amount that no step asks for.
    fn moles_in_excess(&self, index: usize) -> Option<f64> {
        let amount = self.planned.of_substance(index)?;
        if amount.is(Unit::Mole) {
            return Some(amount.base);
        }
        let molar = weighed_molar_mass(self.lab, index)?;
        let pure = pure_part(self.lab, index);
        amount.is(Unit::Gram).then(|| amount.base * pure / molar)
    }

    /// A substance as it is set out.
    fn of_substance(&self, index: usize, planned: Amount) -> Reagent {
        let moles = self
            .trial
            .value(self.graph, Kind::Moles(index))
            .filter(|moles| *moles > 0.0);
        let (item, each) = self.as_measured(index, planned);
        let excess = || self.moles_in_excess(index);
        let mut reagent = self.plain(item, each, moles.or_else(excess));
        if reagent.each.is(Unit::Litre) {
            let read_by_mass = self.graph.of_kind(Kind::Mass(index)).is_some();
            if read_by_mass {
                reagent.grams = self
                    .trial
                    .value(self.graph, Kind::Mass(index))
                    .filter(|grams| *grams > 0.0);
                reagent.solution = reagent.grams.is_some() && !self.is_pure_liquid(index);
            } else {
                reagent.concentration = moles.map(|moles| moles / reagent.each.base);
                reagent.pure = moles
                    .zip(weighed_molar_mass(self.lab, index))
                    .map(|(moles, molar)| self.for_all(moles) * molar);
                let states_purity = self.lab.substances[index].purity.is_some();
                reagent.as_sold = reagent
                    .pure
                    .filter(|_| states_purity)
                    .map(|pure| pure / pure_part(self.lab, index));
            }
        } else {
            let water = self.planned.water_of(index).map(|water| water.base);
            reagent.dissolved = moles
                .zip(water)
                .map(|(moles, water)| (water, moles / water));
        }
        reagent
    }

    /// A planned amount in the form that the lab measures: moles become grams, or what the one reading shows.
    fn as_measured(&self, index: usize, planned: Amount) -> (Item, Amount) {
        let item = Item::Substance(index);
        if planned.is(Unit::Mole) {
            if let Some(grams) = self.trial.value(self.graph, Kind::Mass(index))
                && self.volume_read(index).is_none()
            {
                return (item, rounded(grams, Unit::Gram).unwrap_or(planned));
            }
        } else if planned.is(Unit::Litre) || self.graph.of_kind(Kind::Mass(index)).is_some() {
            return (item, planned);
        }
        let readings = self.readings_before(index);
        let found = match (self.volume_read(index), &readings[..]) {
            (Some(volume), _) => self
                .trial
                .reading(volume)
                .and_then(|litres| rounded(litres, Unit::Millilitre))
                .map(|amount| (item, amount)),
            (None, [reading]) => self
                .trial
                .reading(*reading)
                .and_then(|grams| rounded(grams, Unit::Gram))
                .map(|amount| (Item::Reading(*reading), amount)),
            _ => None,
        };
        found.unwrap_or((item, planned))
    }

    fn plain(&self, item: Item, each: Amount, moles: Option<f64>) -> Reagent {
        Reagent {
            item,
            all: self.for_all(each.base),
            each,
            moles,
            grams: None,
            solution: false,
            concentration: None,
            pure: None,
            as_sold: None,
            dissolved: None,
        }
    }

    /// Readings that an amount at the start comes from.
    pub(super) fn readings_before(&self, index: usize) -> Vec<usize> {
        let mut readings = BTreeSet::new();
        for kind in [Kind::Mass(index), Kind::Moles(index)] {
            if let Some(step) = self.graph.of_kind(kind) {
                readings.extend(self.expression(step.index()).readings());
            }
        }
        readings.into_iter().collect()
    }

    fn expression(&self, step: usize) -> &Expression {
        &self.graph.steps()[step].expression
    }

    /// Whether the mass of what is measured by its volume is the liquid's own: its volume times its density, and nothing
    /// besides. A share of it, or less in a millilitre than any liquid weighs, is dissolved.
    fn is_pure_liquid(&self, index: usize) -> bool {
        let Some(step) = self.graph.of_kind(Kind::Mass(index)) else {
            return false;
        };
        let Expression::Product(factors) = self.expression(step.index()) else {
            return false;
        };
        let densities = factors.iter().filter_map(|factor| match factor {
            Expression::Given(given) => {
                let value = &self.graph.givens[*given].value;
                let unit = value.unit.unwrap_or(Unit::One);
                let density = unit.dimension() == Unit::GramPerMillilitre.dimension();
                Some(density && unit.in_base(value.number) >= LIGHTEST_LIQUID)
            }
            _ => None,
        });
        factors.len() == 2 && densities.eq([true]) && self.state(index) != Some(State::Aqueous)
    }

    /// The volume that an amount at the start is read from.
    fn volume_read(&self, index: usize) -> Option<usize> {
        let readings = self.readings_before(index);
        readings
            .into_iter()
            .find(|reading| self.graph.readings[*reading] == Unit::Litre.dimension())
    }

    /// Substances whose amount at the start comes from a reading.
    fn fed_by(&self, reading: usize) -> Vec<usize> {
        let substances = 0..self.lab.substances.len();
        substances
            .filter(|index| self.readings_before(*index).contains(&reading))
            .collect()
    }

    /// The state of a substance in the equation.
    fn state(&self, index: usize) -> Option<State> {
        let formula = &self.lab.substances[index].formula;
        let (species, _) = self.lab.equation.find(formula)?;
        species.formula.state()
    }
}

/// An amount worked out, to three figures.
fn rounded(base: f64, unit: Unit) -> Option<Amount> {
    let number = base / 10.0_f64.powi(unit.power_to_base());
    let number = rounding::float_to_figures(number, 3, Rounding::HalfUp)?;
    (base > 0.0).then_some(Amount { number, unit, base })
}
