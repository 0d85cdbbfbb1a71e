//! How the amounts of an experiment were measured — on a balance, by a titration, after ignition — and what stays dissolved.

use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::chem::Species;
use crate::chem::formula::State;
use crate::lab::ignited::FILTERS;
use crate::measure::Unit;
use crate::working::Kind;
use crate::working::Variable;

impl Scene<'_> {
    /// The readings that a step is worked from, itself or by other steps; known before anything is read.
    fn sources(&self, kind: Kind) -> Vec<usize> {
        self.graph.readings_behind(self.step(kind))
    }

    /// Whether a reading is of the same sort as a unit: a mass, a volume.
    pub(in crate::causes) fn reads(&self, reading: usize, unit: Unit) -> bool {
        self.graph.readings.get(reading) == Some(&unit.dimension())
    }

    /// Whether an amount comes from the balance: the reading of what it is in is a mass.
    #[must_use]
    pub fn weighs(&self, kind: Kind) -> bool {
        if let Some((reading, _)) = self.full(kind) {
            return self.reads(reading, Unit::Gram);
        }
        let mut sources = self.sources(kind).into_iter();
        sources.any(|reading| self.reads(reading, Unit::Gram))
    }

    /// Whether the empty vessel of an amount was weighed as well.
    #[must_use]
    pub fn tared(&self, kind: Kind) -> bool {
        if self.readings_of(kind).is_empty() {
            let sources = self.sources(kind).into_iter();
            return sources.filter(|it| self.reads(*it, Unit::Gram)).count() > 1;
        }
        let empty = self.empty(kind);
        empty.is_some_and(|(reading, _)| self.reads(reading, Unit::Gram))
    }

    /// Whether an amount is told by the volume of a solution that was added until an end point. Of two solutions, one
    /// taken in excess and titrated back, nothing is known of which is which.
    #[must_use]
    pub fn titrated(&self, kind: Kind) -> bool {
        let caught = matches!(kind, Kind::Collected(product) if self.gas(product));
        let volumes: Vec<usize> = self.sources(kind);
        if caught
            || volumes.is_empty()
            || !volumes.iter().all(|it| self.reads(*it, Unit::Millilitre))
        {
            return false;
        }
        let slopes = self.readings_of(kind);
        let (up, down): (Vec<f64>, Vec<f64>) = slopes
            .iter()
            .map(|(_, slope)| *slope)
            .partition(|slope| *slope > 0.0);
        // The two readings of a burette count alike.
        let alike = |a: f64| up.iter().any(|b| (a + b).abs() < 1e-6 * b.abs());
        down.into_iter().all(alike)
    }

    /// The concentrations, as givens, of what an amount is titrated with.
    #[must_use]
    pub(in crate::causes) fn titrants(&self, kind: Kind) -> Vec<usize> {
        let Some(step) = self.step(kind).filter(|_| self.titrated(kind)) else {
            return Vec::new();
        };
        let givens = self.graph.uses(step).givens.iter().copied();
        givens
            .filter(|given| self.is_concentration(*given))
            .collect()
    }

    /// The state of a substance that the equation says nothing of, where the lab's readings tell it: what is taken by the volume
    /// and the concentration of a solution is dissolved, and what is weighed on paper or in a filter in the end is solid. Crystals
    /// with their water come out of what is dissolved, so that nothing is said of them.
    pub(in crate::causes) fn state_by_use(&self, index: usize) -> Option<State> {
        let concentrations = |kind: Kind| {
            let uses = self.step(kind).map(|step| self.graph.uses(step));
            let givens = uses.into_iter().flat_map(|uses| &uses.givens);
            givens
                .filter(|given| self.is_concentration(**given))
                .count()
        };
        let reads = |kind: Kind, unit: Unit| {
            let sources = self.sources(kind).into_iter();
            sources.filter(move |reading| self.reads(*reading, unit))
        };
        if self.substance(index).reactant {
            let kind = Kind::Moles(index);
            let solution = self.in_moles(index)
                && reads(kind, Unit::Millilitre).next().is_some()
                && concentrations(kind) > 0;
            return solution.then_some(State::Aqueous);
        }
        let filtered = |reading: usize| {
            let label = self.label(reading).to_lowercase();
            vocabulary::longest(&label, vocabulary::PAPER, &self.lab.words) > 0
                || vocabulary::longest(&label, FILTERS, &self.lab.words) > 0
        };
        let mut weighed = reads(Kind::Collected(index), Unit::Gram);
        (self.waters(index) == 0 && weighed.any(filtered)).then_some(State::Solid)
    }

    /// Whether a given is the concentration of a solution.
    fn is_concentration(&self, given: usize) -> bool {
        let unit = self.graph.givens[given].value.unit;
        unit.is_some_and(|unit| unit.dimension() == Unit::MolePerLitre.dimension())
    }

    /// The concentrations of everything that is titrated with in the lab, each once.
    pub(in crate::causes) fn all_titrants(&self) -> &[usize] {
        self.titrants.get_or_init(|| {
            let all = 0..self.lab.substances.len();
            let kinds = all.flat_map(|index| [Kind::Collected(index), Kind::MeasuredLeft(index)]);
            let mut found: Vec<usize> = kinds.flat_map(|kind| self.titrants(kind)).collect();
            found.sort_unstable();
            found.dedup();
            found
        })
    }

    /// The reading of a sample that only the lab's own quantities are worked from: a result falls by the share by which that
    /// mass grows, itself or less the mass of its vessel.
    #[must_use]
    pub(in crate::causes) fn sample(&self) -> Option<usize> {
        *self.sample.get_or_init(|| self.find_sample())
    }

    fn find_sample(&self) -> Option<usize> {
        let ids = self.graph.ids();
        let finds = ids.filter(|id| matches!(self.graph.step(*id).kind, Kind::Find(_)));
        let mut found = finds.filter_map(|id| {
            let result = self.line.current(id)?;
            let mut masses: Vec<(f64, f64, usize)> = Vec::new();
            for (variable, slope) in &self.worked.value(id)?.slopes {
                if let Variable::Reading(reading) = variable
                    && self.reads(*reading, Unit::Gram)
                {
                    masses.push((self.line.input(*variable)?, *slope, *reading));
                }
            }
            let inverse = |mass: f64, slope: f64| (slope * mass / result + 1.0).abs() < 1e-6;
            masses.iter().find_map(|(full, slope, reading)| {
                let tared = masses.iter().any(|(empty, other, _)| {
                    (slope + other).abs() < 1e-6 * slope.abs() && inverse(full - empty, *slope)
                });
                (tared || inverse(*full, *slope)).then_some(*reading)
            })
        });
        let of_substance = |reading: usize| {
            let all = 0..self.lab.substances.len();
            let mut kinds = all.flat_map(|index| {
                [Kind::Mass, Kind::Moles, Kind::Collected, Kind::MeasuredLeft]
                    .map(|kind| kind(index))
            });
            kinds.any(|kind| self.sources(kind).contains(&reading))
        };
        found.next().filter(|reading| !of_substance(*reading))
    }

    /// Whether a reactant was measured and is in excess, and nothing that is measured tells how much of it took part.
    #[must_use]
    pub fn idle(&self, reactant: usize) -> bool {
        self.substance(reactant).reactant
            && self.measured(reactant)
            && !self.limiting.is_empty()
            && !self.limiting.contains(&reactant)
            && !self.leftovers.contains(&reactant)
            && self.weighed_into_gas(reactant).is_none()
    }

    /// Whether a product is ignited: it is weighed in a crucible that is no filter.
    #[must_use]
    pub fn ignited(&self, product: usize) -> bool {
        let kind = Kind::Collected(product);
        let mut sources = self.sources(kind).into_iter();
        let hot = sources.any(|reading| {
            let asked = self.lab.readings().nth(reading);
            asked.is_some_and(|(_, asked)| asked.is_ignited(&self.lab.words))
        });
        hot && !self.gas(product) && self.weighs(kind)
    }

    /// Liquid in the experiment as far as the readings say, L: no gas, and nothing that was titrated with afterwards.
    #[must_use]
    pub fn liquid(&self) -> Option<f64> {
        let all = 0..self.lab.substances.len();
        let of = |kind: fn(usize) -> Kind| -> Vec<usize> {
            all.clone()
                .flat_map(|index| self.sources(kind(index)))
                .collect()
        };
        let before = of(Kind::Moles);
        let mut after = of(Kind::Collected);
        after.extend(of(Kind::MeasuredLeft));
        // The lower of two levels is taken off again.
        let level = |reading: usize| {
            let mut taken = all
                .clone()
                .flat_map(|index| self.readings_of(Kind::Moles(index)));
            taken.any(|(known, slope)| *known == reading && *slope < 0.0)
        };
        let total: f64 = (0..self.graph.readings.len())
            .filter(|reading| self.reads(*reading, Unit::Millilitre))
            .filter(|reading| before.contains(reading) || !after.contains(reading))
            .filter_map(|reading| {
                let volume = self.line.input(Variable::Reading(reading))?;
                Some(if level(reading) { -volume } else { volume })
            })
            .sum();
        (total > 0.0).then_some(total)
    }

    /// The mass of all that is dissolved when the reaction has run to its end, g: the dissolved products, what is left of the
    /// dissolved reactants, and ions that the equation leaves out.
    #[must_use]
    pub fn dissolved(&self) -> Option<f64> {
        let equation = self.equation();
        let moles = |index: usize| self.value(Kind::Moles(index));
        let mass_of = |species: &Species| self.molar_mass(species.formula.plain());
        let coefficient = |species: &Species| f64::from(species.coefficient);
        let limiting = *self.limiting.first()?;
        let (first, _) = equation.find(&self.substance(limiting).formula)?;
        let extent = moles(limiting)? / coefficient(first);
        let mut total = 0.0;
        for species in equation.products.iter().filter(|it| is_dissolved(it)) {
            total += extent * coefficient(species) * mass_of(species)?;
        }
        for index in 0..self.lab.substances.len() {
            let substance = self.substance(index);
            let Some((species, true)) = equation.find(&substance.formula) else {
                continue;
            };
            let Some(taken) = moles(index) else {
                continue;
            };
            if is_dissolved(species) {
                total += (taken - extent * coefficient(species)).max(0.0) * mass_of(species)?;
            }
            if let Some(form) = &substance.weighed_as {
                let (dry, _) = form.waters();
                let ions = self.molar_mass(dry.plain())? - mass_of(species)?;
                total += taken * ions.max(0.0);
            }
        }
        (total > 0.0).then_some(total)
    }
}

/// Whether a substance of the equation is dissolved.
pub(in crate::causes) fn is_dissolved(species: &Species) -> bool {
    species.formula.state() == Some(State::Aqueous)
}
