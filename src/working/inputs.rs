//! What the steps are worked on: each reading, given and atomic weight as a number with its doubt.

use crate::chem::AtomicWeights;
use crate::chem::Element;
use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Instrument;
use crate::measure::Reading;
use crate::measure::Unit;
use crate::measure::figures::Figures;
use crate::measure::rounding;
use crate::measure::uncertainty::Doubt;
use crate::record::Record;
use crate::words::Words;
use crate::working::Graph;

/// A value that enters the working, in its base unit (g, mol, L, °C, kPa).
#[derive(Debug, Clone)]
pub struct Input {
    /// The exact value.
    pub value: Exact,
    /// Its digits.
    pub figures: Figures,
    /// How far it may be off.
    pub doubt: Doubt,
}

/// One independent source of uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Variable {
    /// A reading, by number.
    Reading(usize),
    /// A given, by number.
    Given(usize),
    /// An atomic weight: all atoms of an element are off together.
    Element(Element),
}

/// Everything the working of one record starts from.
#[derive(Debug, Clone)]
pub struct Inputs<'a> {
    /// One entry a reading of the lab; `None` while it is missing or impossible.
    pub readings: Vec<Option<Input>>,
    /// One entry a given of the graph.
    pub givens: Vec<Input>,
    /// Atomic weights in use.
    pub weights: &'a AtomicWeights,
    /// The language in which it is said why there is no value.
    pub words: &'a Words,
}

impl<'a> Inputs<'a> {
    /// The inputs of a record, by the instruments as the group had them.
    #[must_use]
    pub fn new(lab: &'a Lab, graph: &Graph, record: &Record, instruments: &[Instrument]) -> Self {
        let readings = lab
            .readings()
            .zip(&record.readings)
            .map(|((_, asked), recorded)| {
                let instrument = asked.instrument.and_then(|index| instruments.get(index));
                recorded
                    .usable()
                    .map(|reading| Input::new(reading, Doubt::of_reading(reading, instrument)))
            });
        let givens = graph
            .givens
            .iter()
            .map(|given| Input::of_given(&given.value));
        Self {
            readings: readings.collect(),
            givens: givens.collect(),
            weights: &lab.atomic_weights,
            words: &lab.words,
        }
    }

    /// The doubt of a variable.
    #[must_use]
    pub fn doubt(&self, variable: Variable) -> Doubt {
        match variable {
            Variable::Reading(reading) => self
                .readings
                .get(reading)
                .and_then(Option::as_ref)
                .map_or_else(Doubt::default, |input| input.doubt),
            Variable::Given(given) => self
                .givens
                .get(given)
                .map_or_else(Doubt::default, |input| input.doubt),
            Variable::Element(element) => self
                .weights
                .get(element)
                .map_or_else(Doubt::default, |weight| {
                    Doubt::limits(weight.half_width.to_f64())
                }),
        }
    }
}

impl Input {
    /// A value from a label or a table.
    #[must_use]
    pub fn of_given(value: &Reading) -> Self {
        Self::new(value, Doubt::of_reading(value, None))
    }

    /// A reading brought to its base unit.
    fn new(reading: &Reading, doubt: Doubt) -> Self {
        let unit = reading.unit.unwrap_or(Unit::One);
        let figures = if reading.exact {
            Figures::Exact
        } else if unit.is_decimal() {
            Figures::of(reading.number.shifted(unit.power_to_base()))
        } else {
            // 1 mmHg is 0.13 kPa, so that a whole number of them is good to 0.1 kPa.
            let last = Decimal::new(1, reading.number.places());
            Figures::Places(-rounding::exponent(&unit.exact_in_base(last)))
        };
        Self {
            value: unit.exact_in_base(reading.number),
            figures,
            doubt,
        }
    }
}
