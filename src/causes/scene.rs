//! What kind of experiment this is, told from what the lab measures and the equation says, never from its name.

use std::cell::OnceCell;
use std::rc::Rc;

use crate::causes::vocabulary;
use crate::chem::Element;
use crate::chem::Equation;
use crate::chem::Formula;
use crate::chem::Species;
use crate::chem::formula::State;
use crate::lab::Before;
use crate::lab::Lab;
use crate::lab::Substance;
use crate::lab::ignited::FILTERS;
use crate::measure::Unit;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Variable;
use crate::working::Worked;
use crate::working::drying::Series;
use crate::working::line::Line;

/// One record seen as an experiment.
#[derive(Debug)]
pub struct Scene<'a> {
    /// Its lab.
    pub lab: &'a Lab,
    /// The lab's steps.
    pub graph: &'a Graph,
    /// The record.
    pub record: &'a Record,
    /// The record worked.
    pub worked: &'a Worked<'a>,
    /// The working in floating point, every value standing in at its step.
    pub line: Line<'a>,
    /// The equation it is held against: 0 for the lab's own.
    pub equation: usize,
    /// Products whose collected amount is held against a prediction.
    pub products: Vec<usize>,
    /// Reactants whose leftover is.
    pub leftovers: Vec<usize>,
    /// The reactants that limit.
    pub limiting: Vec<usize>,
    /// Readings that were dried in a series.
    pub dried: Rc<[Series<'a>]>,
    /// By step: the readings that its value changes with, looked for when they are asked for.
    pub(in crate::causes) readings: Vec<OnceCell<Vec<(usize, f64)>>>,
    /// By product: whether paper is weighed with it.
    pub(in crate::causes) papers: Vec<OnceCell<bool>>,
    /// By substance: its state as its use tells it.
    pub(in crate::causes) states: Vec<OnceCell<Option<State>>>,
    /// The reading of a sample that only the lab's own quantities are worked from.
    pub(in crate::causes) sample: OnceCell<Option<usize>>,
    /// The concentrations of everything that is titrated with.
    pub(in crate::causes) titrants: OnceCell<Vec<usize>>,
}

impl<'a> Scene<'a> {
    /// A substance of the lab.
    #[must_use]
    pub fn substance(&self, index: usize) -> &'a Substance {
        &self.lab.substances[index]
    }

    /// What a substance is called as it is weighed.
    #[must_use]
    pub fn name(&self, index: usize) -> &'a str {
        let substance = self.substance(index);
        substance.weighed_name.as_ref().unwrap_or(&substance.name)
    }

    /// The equation it is held against.
    #[must_use]
    pub fn equation(&self) -> &'a Equation {
        match self.equation {
            0 => &self.lab.equation,
            number => &self.lab.alternatives[number - 1],
        }
    }

    /// The value of a step of the lab's own, or of the equation it is held against, in its base unit.
    #[must_use]
    pub fn value(&self, kind: Kind) -> Option<f64> {
        Some(self.worked.value(self.step(kind)?)?.approximate())
    }

    /// A step by what it finds.
    #[must_use]
    pub fn step(&self, kind: Kind) -> Option<StepId> {
        self.graph
            .of_equation(self.equation, kind)
            .or_else(|| self.graph.of_kind(kind))
    }

    /// Whether a substance is weighed in g when it is collected or found left.
    #[must_use]
    pub fn in_grams(&self, kind: Kind) -> bool {
        self.step(kind)
            .is_some_and(|step| self.graph.step(step).unit == Unit::Gram)
    }

    /// The state of a substance in the equation.
    fn state(&self, index: usize) -> Option<State> {
        let (species, _) = self.equation().find(&self.substance(index).formula)?;
        species.formula.state().or_else(|| {
            let cell = &self.states[index];
            *cell.get_or_init(|| self.state_by_use(index))
        })
    }

    /// Whether a substance is a gas.
    #[must_use]
    pub fn gas(&self, index: usize) -> bool {
        self.state(index) == Some(State::Gas)
    }

    /// Whether a product is a gas that is measured by what the vessel loses when it leaves.
    #[must_use]
    pub fn gas_weighed(&self, product: usize) -> bool {
        self.gas(product) && self.in_grams(Kind::Collected(product))
    }

    /// Whether a product is a gas that is caught and measured by its volume.
    #[must_use]
    pub fn gas_caught(&self, product: usize) -> bool {
        self.gas(product) && !self.in_grams(Kind::Collected(product))
    }

    /// Whether anything reacts or forms in water.
    #[must_use]
    pub fn wet(&self) -> bool {
        let mut all = 0..self.lab.substances.len();
        self.species_in(State::Aqueous) || all.any(|it| self.state(it) == Some(State::Aqueous))
    }

    /// Whether the equation predicts how much of a product there is, or of what is left.
    #[must_use]
    pub fn predicts(&self) -> bool {
        self.graph.ids().any(|id| {
            let step = self.graph.step(id);
            step.equation == self.equation
                && matches!(step.kind, Kind::Theoretical(_) | Kind::Needed(_))
        })
    }

    /// Whether the experiment is dry heating: solids, and gases that come or go.
    #[must_use]
    pub fn heated(&self) -> bool {
        !self.wet() && self.species_in(State::Gas)
    }

    fn species_in(&self, state: State) -> bool {
        let equation = self.equation();
        let mut all = equation.reactants.iter().chain(&equation.products);
        all.any(|species| species.formula.state() == Some(state))
    }

    /// Whether oxygen of the air is taken up.
    #[must_use]
    pub fn burnt(&self) -> bool {
        let mut reactants = self.equation().reactants.iter();
        reactants.any(|species| species.formula.plain() == "O2")
    }

    /// The only element of a substance, where that is a metal.
    #[must_use]
    pub fn metal(&self, index: usize) -> Option<Element> {
        metal(&self.substance(index).formula)
    }

    /// Whether a product falls out of a solution as a solid that is no metal.
    #[must_use]
    pub fn precipitate(&self, product: usize) -> bool {
        // A salt that the equation gives no state may have been dissolved first, but no metal is.
        let dissolved = |species: &Species| match species.formula.state() {
            None => metal(&species.formula).is_none(),
            Some(state) => state == State::Aqueous,
        };
        self.state(product) == Some(State::Solid)
            && self.metal(product).is_none()
            && self.wet()
            && self.equation().reactants.iter().all(dissolved)
    }

    /// Whether a product is metal that comes out of a solution.
    #[must_use]
    pub fn displaced(&self, product: usize) -> bool {
        self.wet() && self.metal(product).is_some() && !self.substance(product).reactant
    }

    /// Whether a product lies in a liquid that is taken off it: a solid, or crystals.
    #[must_use]
    pub fn under_liquid(&self, product: usize) -> bool {
        let solid = self.state(product) == Some(State::Solid);
        self.wet() && (solid || self.displaced(product) || self.crystallised(product))
    }

    /// Whether a product forms in solution and is weighed as a solid: water is boiled off, or it crystallises.
    #[must_use]
    pub fn from_liquor(&self, product: usize) -> bool {
        self.state(product) == Some(State::Aqueous) && self.in_grams(Kind::Collected(product))
    }

    /// Whether a product crystallises from its liquid, and some of it stays dissolved.
    #[must_use]
    pub fn crystallised(&self, product: usize) -> bool {
        self.substance(product).crystallises(self.equation())
            && self.in_grams(Kind::Collected(product))
    }

    /// Whether paper is weighed with a product: a reading of it says so.
    #[must_use]
    pub fn on_paper(&self, product: usize) -> bool {
        *self.papers[product].get_or_init(|| {
            let mut readings = self.readings_of(Kind::Collected(product)).iter();
            readings.any(|(reading, _)| {
                let label = self.label(*reading).to_lowercase();
                let says = |list| vocabulary::longest(&label, list, &self.lab.words) > 0;
                // A crucible with a bottom of glass frit is a filter of its own.
                self.reads(*reading, Unit::Gram) && says(vocabulary::PAPER) && !says(FILTERS)
            })
        })
    }

    /// What a reading is of, in words.
    #[must_use]
    pub fn label(&self, reading: usize) -> &'a str {
        self.lab
            .readings()
            .nth(reading)
            .map_or("", |(_, asked)| asked.label.as_str())
    }

    /// The name of a reading.
    #[must_use]
    pub fn reading_name(&self, reading: usize) -> &'a str {
        self.lab
            .readings()
            .nth(reading)
            .map_or("", |(_, asked)| asked.name.as_str())
    }

    /// Readings that a step's value changes with, and how steeply.
    #[must_use]
    pub fn readings_of(&self, kind: Kind) -> &[(usize, f64)] {
        let Some(step) = self.step(kind) else {
            return &[];
        };
        self.readings[step.index()].get_or_init(|| {
            let slopes = self.worked.value(step).into_iter();
            slopes
                .flat_map(|value| &value.slopes)
                .filter_map(|(variable, slope)| match variable {
                    Variable::Reading(reading) => Some((*reading, *slope)),
                    _ => None,
                })
                .collect()
        })
    }

    /// The reading of a vessel with what it holds at the end, and how the amount changes with it.
    ///
    /// Of a solid that is the last one that makes it more; of a gas that left, the last one that makes it less; of a gas
    /// that was caught, its volume.
    #[must_use]
    pub fn full(&self, kind: Kind) -> Option<(usize, f64)> {
        let readings = self.readings_of(kind);
        if matches!(kind, Kind::Collected(product) if self.gas_caught(product)) {
            let is_volume = |(reading, _): &&(usize, f64)| {
                self.graph.readings.get(*reading) == Some(&Unit::Millilitre.dimension())
            };
            return readings.iter().find(is_volume).copied();
        }
        let gas = matches!(kind, Kind::Collected(product) if self.gas(product));
        let fits = |(_, slope): &&(usize, f64)| (*slope < 0.0) == gas;
        let last = readings.iter().rfind(fits);
        last.or(readings.last()).copied()
    }

    /// The reading of the vessel when it was still empty.
    #[must_use]
    pub fn empty(&self, kind: Kind) -> Option<(usize, f64)> {
        let readings = self.readings_of(kind);
        readings.iter().find(|(_, slope)| *slope < 0.0).copied()
    }

    /// The reactant that is weighed into the very vessel in which a product is weighed.
    #[must_use]
    pub fn same_vessel(&self, product: usize) -> Option<usize> {
        let of_product = self.readings_of(Kind::Collected(product));
        (0..self.lab.substances.len()).find(|index| {
            let shared =
                |(reading, _): &(usize, f64)| of_product.iter().any(|(other, _)| other == reading);
            self.substance(*index).reactant
                && self.readings_of(Kind::Mass(*index)).iter().any(shared)
        })
    }

    /// The reading of a reactant from which a gas is worked out too: what is weighed and never put in counts as gas lost.
    #[must_use]
    pub fn weighed_into_gas(&self, reactant: usize) -> Option<usize> {
        let (reading, _) = self.full(Kind::Mass(reactant))?;
        let mut gases = self.products.iter().filter(|product| self.gas(**product));
        gases
            .any(|product| {
                let readings = self.readings_of(Kind::Collected(*product));
                readings.iter().any(|(other, _)| *other == reading)
            })
            .then_some(reading)
    }

    /// Whether the amount of a reactant is known in mol only: a solution, or what became of something weighed before.
    #[must_use]
    pub fn in_moles(&self, reactant: usize) -> bool {
        self.step(Kind::Mass(reactant)).is_none() && self.step(Kind::Moles(reactant)).is_some()
    }

    /// Whether a reactant was taken as a solution: its amount comes from a volume.
    #[must_use]
    pub fn as_solution(&self, reactant: usize) -> bool {
        let is_volume = |(reading, _): &(usize, f64)| {
            self.graph.readings.get(*reading) == Some(&Unit::Millilitre.dimension())
        };
        let readings = self.readings_of(Kind::Moles(reactant));
        self.in_moles(reactant) && readings.iter().any(is_volume)
    }

    /// Whether a reactant was weighed itself.
    #[must_use]
    pub fn weighed(&self, reactant: usize) -> bool {
        self.step(Kind::Mass(reactant)).is_some()
    }

    /// Whether a reactant was measured at the start.
    #[must_use]
    pub fn measured(&self, reactant: usize) -> bool {
        matches!(self.substance(reactant).before, Some(Before::Measured(_)))
    }

    /// How many waters a substance holds in the form weighed.
    #[must_use]
    pub fn waters(&self, index: usize) -> u32 {
        let substance = self.substance(index);
        let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
        form.waters().1
    }

    /// A molar mass by the lab's atomic weights, g/mol.
    #[must_use]
    pub fn molar_mass(&self, formula: &str) -> Option<f64> {
        self.lab.molar_mass(formula)
    }

    /// Whether a sign was answered with yes.
    #[must_use]
    pub fn sign(&self, id: &str) -> Option<bool> {
        let mut signs = self.record.signs.iter();
        signs.find(|(known, _)| known == id)?.1
    }
}

/// The only element of a formula, where that is a metal.
fn metal(formula: &Formula) -> Option<Element> {
    let [(element, _)] = formula.atoms() else {
        return None;
    };
    (formula.charge() == 0 && element.is_metal()).then_some(*element)
}

#[cfg(test)]
mod tests {
    use super::metal;
    use crate::chem::Formula;

    #[test]
    fn metals_are_told_from_other_elements_and_from_compounds() {
        for (formula, is) in [
            ("Zn", true),
            ("Cu", true),
            ("I2", false),
            ("C", false),
            ("S8", false),
            ("Cu^2+", false),
            ("CuO", false),
        ] {
            let formula = Formula::parse(formula).unwrap();
            assert_eq!(metal(&formula).is_some(), is, "{formula:?}");
        }
    }
}
