//! What the plan promises of products and leftovers, and whether the lab's instruments can measure that.

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
                let amount = self.trial.value(self.graph, kind)?.max(0.0);
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
                let read = match gas {
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
                    figures: read.map(|(step, shown)| figures(shown, step)),
                    measurable: amount > 2.0 * standard,
                    times_for_three: read
                        .map(|(step, shown)| 100.0 * step / shown)
                        .filter(|times| *times > 1.0 && times.is_finite()),
                })
            })
            .collect()
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
