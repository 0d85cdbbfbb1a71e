//! Series of weighings to constant mass: differences, verdict, and what another drying would take off.
//!
//! The limit is the lab's, else twice the readability of the balance (common practice, no source:
//! published limits for the same purpose differ by field).

use crate::lab::Asked;
use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Instrument;
use crate::measure::Reading;
use crate::measure::typed::Time;
use crate::measure::uncertainty::Doubt;
use crate::record::Record;
use crate::working::decay;
use crate::working::decay::Estimate;

/// One drying series with at least one value.
#[derive(Debug, Clone)]
pub struct Series<'a> {
    /// The reading's number.
    pub reading: usize,
    /// What is read.
    pub asked: &'a Asked,
    /// The values, in order.
    pub values: Vec<&'a Reading>,
    /// Each value minus the one before, in g; one fewer than the values.
    pub changes: Vec<Exact>,
    /// The most by which the last two may differ, in g.
    pub limit: Exact,
    /// Standard uncertainty of each value, in g: the largest of them.
    pub standard: f64,
}

/// Whether a series has come to constant mass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// One value only: nothing to compare.
    TooFew,
    /// The last two agree within the limit.
    Constant,
    /// The last one is still lower by more than the limit.
    StillFalling,
    /// The last one is higher by more than the limit.
    Rising,
}

/// Every series of the lab that has a value, read on the instruments as the group had them.
#[must_use]
pub fn series<'a>(lab: &'a Lab, record: &'a Record, instruments: &[Instrument]) -> Vec<Series<'a>> {
    let mut found = Vec::new();
    for (reading, (_, asked)) in lab.readings().enumerate() {
        let values: Vec<&Reading> = record.readings[reading].values().collect();
        if asked.series.is_none() || values.is_empty() {
            continue;
        }
        let grams: Vec<Exact> = values.iter().map(|value| in_base(value)).collect();
        let changes = grams.windows(2).map(|pair| &pair[1] - &pair[0]).collect();
        let instrument = asked.instrument.and_then(|index| instruments.get(index));
        let doubts = values
            .iter()
            .map(|value| Doubt::of_reading(value, instrument).standard);
        let standard = doubts.fold(0.0, f64::max);
        found.push(Series {
            reading,
            asked,
            values,
            changes,
            limit: limit(lab, asked),
            standard,
        });
    }
    found
}

impl Series<'_> {
    /// Whether the last two values agree.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match self.changes.last() {
            None => Verdict::TooFew,
            Some(change) if change.abs() <= self.limit => Verdict::Constant,
            Some(change) if change.is_negative() => Verdict::StillFalling,
            Some(_) => Verdict::Rising,
        }
    }

    /// What further drying would take off in all, with its uncertainty, where the readings support an estimate.
    #[must_use]
    pub fn still_to_lose(&self) -> Estimate {
        let masses: Vec<f64> = self
            .values
            .iter()
            .map(|value| in_base(value).to_f64())
            .collect();
        let times: Option<Vec<f64>> = self
            .values
            .iter()
            .map(|value| match value.time.as_ref()? {
                Time::OfDay(clock) => decay::minutes(clock),
                Time::Since(minutes) => Some(*minutes),
            })
            .map(|minutes| Some(f64::from(minutes?) / 60.0))
            .collect();
        decay::estimate(&masses, times.as_deref(), self.standard)
    }
}

/// The most by which the last two readings of a series may differ, in g.
#[must_use]
pub fn limit(lab: &Lab, asked: &Asked) -> Exact {
    if let Some(limit) = lab.policy.constant_mass {
        return limit.to_exact();
    }
    let instrument = asked
        .instrument
        .and_then(|index| lab.instruments.get(index));
    let step = instrument.and_then(|instrument| {
        let step = instrument.readability.or(instrument.tolerance)?;
        Some(step.shifted(instrument.unit.power_to_base()))
    });
    step.unwrap_or(Decimal::new(1, 2)).to_exact() * Exact::from_integer(2.into())
}

/// A reading in its base unit.
fn in_base(reading: &Reading) -> Exact {
    reading
        .number
        .shifted(reading.unit.map_or(0, crate::measure::Unit::power_to_base))
        .to_exact()
}
