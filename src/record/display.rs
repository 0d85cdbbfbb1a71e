//! What the display of a balance evidently shows: more than the lab description says, where every reading has it.

use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Instrument;
use crate::measure::Reading;
use crate::measure::Unit;
use crate::record::Content;
use crate::record::Record;

impl Record {
    /// The instruments of a lab as this group had them. A balance on which every reading has the same further digits, and not
    /// zeros alone, shows those: half a step of a coarser display would be said of digits that were read off. Glass is read between
    /// its marks, and a tolerance does not come from the display.
    #[must_use]
    pub fn instruments(&self, lab: &Lab) -> Vec<Instrument> {
        let as_used = |(index, described): (usize, &Instrument)| Instrument {
            readability: self.shown_by(lab, index).or(described.readability),
            ..described.clone()
        };
        lab.instruments.iter().enumerate().map(as_used).collect()
    }

    /// The step that a balance shows in this record, where it is finer than in the lab description.
    fn shown_by(&self, lab: &Lab, index: usize) -> Option<Decimal> {
        let balance = &lab.instruments[index];
        let step = balance.readability?;
        if balance.tolerance.is_some() || balance.unit.dimension() != Unit::Gram.dimension() {
            return None;
        }
        let asked = lab.readings().map(|(_, asked)| asked.instrument);
        let own = asked
            .zip(&self.readings)
            .filter(|(by, _)| *by == Some(index));
        let shift = |reading: &Reading| {
            let unit = reading.unit.unwrap_or(balance.unit);
            let power = unit.power_to_base() - balance.unit.power_to_base();
            reading.number.shifted(power)
        };
        let plain = own
            .flat_map(|(_, recorded)| &recorded.entries)
            .filter_map(|entry| match &entry.content {
                Content::Value(reading) => Some(reading),
                _ => None,
            })
            .filter(|reading| !reading.exact && !reading.approximate && reading.spread.is_none());
        let (mut places, mut count, mut beyond) = (None, 0, false);
        for number in plain.map(shift) {
            if number.places() <= step.places()
                || *places.get_or_insert(number.places()) != number.places()
            {
                return None;
            }
            count += 1;
            let steps: Exact = number.to_exact() / step.to_exact();
            beyond |= !steps.is_integer();
        }
        places
            .filter(|_| beyond && count > 1)
            .map(|places| Decimal::new(1, places))
    }
}
