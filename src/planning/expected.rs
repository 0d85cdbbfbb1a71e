//! What the plan promises of products and leftovers, and whether the lab's instruments can measure that.

use crate::chem::Formula;
use crate::measure::Instrument;
use crate::measure::Unit;
use crate::planning::Preparation;
use crate::working::Expression;
use crate::working::Kind;

/// What the plan promises of a product or a leftover.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// Index into [`Lab::substances`](crate::lab::Lab::substances).
    pub substance: usize,
    /// Whether it is a product.
    pub product: bool,
    /// In `unit`'s base unit; never below zero.
    pub amount: f64,
    /// g, or mol.
    pub unit: Unit,
    /// A gas that is read off by its volume.
    pub gas: Option<Gas>,
    /// A reading of volume that it is titrated by: its number, and what it comes to, L.
    pub titre: Option<(usize, f64)>,
    /// Figures that the lab's instrument shows of it; `None` where no instrument is known.
    pub figures: Option<u32>,
    /// Whether it is more than twice its own standard uncertainty above zero.
    pub measurable: bool,
    /// How many times as much would show three figures, where this shows fewer.
    pub times_for_three: Option<f64>,
}

/// A gas as it is read off in a room of 20 °C at 101.3 kPa.
#[derive(Debug, Clone, PartialEq)]
pub struct Gas {
    /// Its volume, L.
    pub volume: f64,
    /// Whether water vapour is part of that.
    pub damp: bool,
}

impl Expected {
    /// Whether the lab's instrument shows at least three figures of it.
    #[must_use]
    pub fn three_figures(&self) -> Option<bool> {
        self.figures.map(|figures| figures >= 3)
    }
}

impl Preparation<'_> {
    /// Products and leftovers that are measured, with what the plan promises.
    #[must_use]
    pub fn expected(&self) -> Vec<Expected> {
        let substances = self.lab.substances.iter().enumerate();
        substances
            .filter_map(|(index, substance)| {
                let (kind, found) = if substance.reactant {
                    (Kind::ExpectedLeft(index), Kind::MeasuredLeft(index))
                } else {
                    (Kind::Theoretical(index), Kind::Collected(index))
                };
                let amount = self.trial.value(self.graph, kind);
                let amount = amount.or_else(|| self.by_accepted_waters(index))?.max(0.0);
                let step = self.graph.step(self.graph.of_kind(found)?);
                // Without planned amounts every product and every leftover comes to nothing.
                let planned = if substance.reactant {
                    self.trial.value(self.graph, Kind::Moles(index))?
                } else {
                    amount
                };
                if planned <= 0.0 {
                    return None;
                }
                let gas = self.gas_volume(&step.expression);
                let titre = self.titre(&step.expression).filter(|_| gas.is_none());
                let read = match gas.or(titre) {
                    Some((volume, litres)) => self.step_of(&[volume]).zip(Some(litres)),
                    None => self
                        .step_of(&self.weighings(&step.expression))
                        .zip(Some(amount)),
                };
                let standard = self.trial.standard(self.graph, found).unwrap_or(0.0);
                Some(Expected {
                    substance: index,
                    product: !substance.reactant,
                    amount,
                    unit: if step.dimension == Unit::Mole.dimension() {
                        Unit::Mole
                    } else {
                        Unit::Gram
                    },
                    gas: gas.map(|(_, volume)| Gas {
                        volume,
                        damp: damp(&step.expression),
                    }),
                    titre,
                    figures: read.map(|(step, shown)| figures(shown, step)),
                    measurable: amount > 2.0 * standard,
                    times_for_three: read
                        .map(|(step, shown)| 100.0 * step / shown)
                        .filter(|times| *times > 1.0 && times.is_finite()),
                })
            })
            .collect()
    }

    /// What is found of a hydrate `·xH2O`, or of what it gives, in g, with the accepted number of waters; `None` without that number.
    fn by_accepted_waters(&self, index: usize) -> Option<f64> {
        let substances = &self.lab.substances;
        let (place, hydrate) = substances
            .iter()
            .enumerate()
            .find(|(_, one)| one.formula.open_waters())?;
        let (number, _) = hydrate.waters.as_ref()?;
        let (dry, _) = hydrate.formula.waters();
        let water = Formula::parse("H2O").ok()?;
        let molar = |formula: &Formula| {
            let mass = self.lab.atomic_weights.molar_mass(formula).ok()?;
            Some(mass.to_f64())
        };
        let (of_salt, of_waters) = (molar(&dry)?, number.to_f64() * molar(&water)?);
        let is = |formula: &Formula| substances[index].formula.same_substance(formula);
        let found = if hydrate.reactant && is(&dry) {
            of_salt
        } else if hydrate.reactant && is(&water) {
            of_waters
        } else if place == index && !hydrate.reactant {
            of_salt + of_waters
        } else {
            return None;
        };
        let moles = if hydrate.reactant {
            self.trial.value(self.graph, Kind::Mass(place))? / (of_salt + of_waters)
        } else {
            let salt = substances
                .iter()
                .position(|one| one.reactant && one.formula.same_substance(&dry))?;
            self.trial.value(self.graph, Kind::Moles(salt))?
        };
        Some(moles * found)
    }

    /// The one volume that an amount is titrated by, and what it comes to: no volume that is measured out before.
    fn titre(&self, found: &Expression) -> Option<(usize, f64)> {
        let substances = 0..self.lab.substances.len();
        let before: Vec<usize> = substances
            .flat_map(|index| self.readings_before(index))
            .collect();
        let mut readings = found.readings();
        if !self.weighings(found).is_empty() {
            return None;
        }
        readings.retain(|reading| {
            self.graph.readings[*reading] == Unit::Litre.dimension()
                && !self.planned.has_reading(*reading)
                && !before.contains(reading)
        });
        let [titre] = readings[..] else {
            return None;
        };
        Some((titre, self.trial.reading(titre)?))
    }

    /// The volume a gas is read at, and what it comes to.
    fn gas_volume(&self, found: &Expression) -> Option<(usize, f64)> {
        let readings = found.readings();
        let of = |unit: Unit| {
            let mut readings = readings.iter();
            readings.find(|reading| self.graph.readings[**reading] == unit.dimension())
        };
        of(Unit::Kilopascal).or_else(|| of(Unit::DegreeCelsius))?;
        let volume = *of(Unit::Litre)?;
        Some((volume, self.trial.reading(volume)?))
    }

    /// Readings of an expression that are masses.
    fn weighings(&self, expression: &Expression) -> Vec<usize> {
        let mut readings = expression.readings();
        readings.retain(|reading| self.graph.readings[*reading] == Unit::Gram.dimension());
        readings
    }

    /// The coarsest step of the instruments that these readings are taken with, in the base unit.
    fn step_of(&self, readings: &[usize]) -> Option<f64> {
        let asked = self.lab.readings().enumerate();
        asked
            .filter(|(index, _)| readings.contains(index))
            .filter_map(|(_, (_, asked))| step(self.lab.instruments.get(asked.instrument?)?))
            .reduce(f64::max)
    }
}

/// Whether water vapour is taken off a gas.
fn damp(found: &Expression) -> bool {
    let mut damp = false;
    found.visit(&mut |part| damp |= matches!(part, Expression::VapourPressure(_)));
    damp
}

/// The step of an instrument, in the base unit.
fn step(instrument: &Instrument) -> Option<f64> {
    let step = instrument.readability.or(instrument.tolerance)?;
    let step = instrument.unit.in_base(step);
    (step > 0.0).then_some(step)
}

/// Figures of a number that is shown in steps.
fn figures(shown: f64, step: f64) -> u32 {
    // What is shown is a whole number of steps: 0.995 steps of 0.01 are shown as 1.00.
    let mut steps = (shown / step).round();
    let mut figures = 0;
    while steps >= 1.0 && figures < 12 {
        steps /= 10.0;
        figures += 1;
    }
    figures
}

#[cfg(test)]
mod tests {
    use super::figures;

    #[test]
    fn figures_are_those_the_balance_shows() {
        for (shown, step, is) in [
            (1.53, 0.01, 3),
            (0.867, 0.01, 2),
            (0.997, 0.01, 3),
            (0.58, 0.001, 3),
            (0.004, 0.01, 0),
            (12.0, 0.01, 4),
        ] {
            assert_eq!(figures(shown, step), is, "{shown} in steps of {step}");
        }
    }
}
