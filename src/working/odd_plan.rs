//! Amounts far from those that the lab plans: where a result cannot be and exactly one amount is off, its readings are looked at
//! first.

use crate::lab::Before;
use crate::lab::Lab;
use crate::measure::Typed;
use crate::measure::Unit;
use crate::measure::typed;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::Worked;

/// An amount this many times the planned one, or the planned one this many times it, is no slip of the hand at the bench but of
/// the pen (common practice, no source).
const GROSSLY: f64 = 2.0;

/// The readings of an amount that is far from the plan.
pub(in crate::working) struct Suspect {
    /// By number.
    pub readings: Vec<usize>,
    /// The planned amount, as the lab writes it.
    pub planned: String,
}

/// The only amount that is grossly off the plan; `None` where there is none, or more than one.
pub(in crate::working) fn suspect(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    record: &Record,
) -> Option<Suspect> {
    let off = |(name, text): &(String, String)| {
        let (readings, found, planned) = amount(lab, graph, worked, record, (name, text))?;
        let near = (1.0 / GROSSLY..=GROSSLY).contains(&(found / planned));
        (!near && !readings.is_empty()).then(|| Suspect {
            readings,
            planned: text.trim().to_owned(),
        })
    };
    let mut all = lab.plan.iter().filter_map(off);
    let first = all.next()?;
    // One reading may be planned twice, by its own name and by that of its substance.
    all.all(|other| other.readings == first.readings)
        .then_some(first)
}

/// The readings of a planned amount, what they come to, and what was planned.
fn amount(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    record: &Record,
    (name, text): (&str, &str),
) -> Option<(Vec<usize>, f64, f64)> {
    let Ok(Typed::Value(planned)) = typed::parse_with(text, None, &lab.words) else {
        return None;
    };
    let unit = planned.unit?;
    let planned = Some(unit.in_base(planned.number)).filter(|planned| *planned > 0.0)?;
    let read = |reading: usize| {
        let value = record.readings[reading].usable()?;
        let own = value.unit?;
        let found = own.in_base(value.number);
        (own.dimension() == unit.dimension()).then_some((vec![reading], found, planned))
    };
    let Some(substance) = lab.substances.iter().position(|one| one.key == name) else {
        return read(lab.reading_index(name)?);
    };
    if unit.dimension() == Unit::Gram.dimension() {
        let step = graph.of_kind(Kind::Mass(substance))?;
        let found = worked.value(step)?.approximate();
        return Some((graph.step(step).expression.readings(), found, planned));
    }
    // A volume is that of the one reading that the substance was measured by.
    let Some(Before::Measured(written)) = &lab.substances[substance].before else {
        return None;
    };
    let names = written.term.names().into_iter();
    let readings = names.filter_map(|(name, _)| lab.reading_index(name));
    let mut volumes = readings.filter_map(read);
    volumes.next().filter(|_| volumes.next().is_none())
}
