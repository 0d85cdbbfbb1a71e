//! Amounts far from those that the lab plans: asked about as soon as they are known, and looked at first where a result is odd
//! or cannot be and exactly one amount is off.

use crate::lab::Before;
use crate::lab::Lab;
use crate::measure::Typed;
use crate::measure::Unit;
use crate::measure::typed;
use crate::problem::Code;
use crate::problem::Problem;
use crate::record::Record;
use crate::say;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::Worked;
use crate::working::odd::Look;

/// An amount this many times the planned one, or the planned one this many times it, is no slip of the hand at the bench but of
/// the pen (common practice, no source).
const GROSSLY: f64 = 2.0;
/// What groups take freely: within this part of the planned amount nothing is asked (common practice, no source).
const FREELY: f64 = 0.3;
/// The first digit of the plan is another one, where the digits behind it are the same within this part of its place.
const OTHER_DIGITS: f64 = 0.1;

/// An amount that the lab plans, of a substance or of a reading.
#[derive(Debug, Clone)]
pub(in crate::working) struct Planned {
    /// Its place in [`Lab::plan`].
    entry: usize,
    /// How much, in its unit; above zero.
    amount: f64,
    unit: Unit,
}

/// The amounts that a lab plans; what else stands in its plan is left out.
fn planned(lab: &Lab) -> Vec<Planned> {
    let amounts = lab
        .plan
        .iter()
        .enumerate()
        .filter_map(|(entry, (name, text))| {
            let is_substance = lab.substances.iter().any(|one| one.key == *name);
            if !is_substance && lab.reading_index(name).is_none() {
                return None;
            }
            let Ok(Typed::Value(typed)) = typed::parse_with(text, None, &lab.words) else {
                return None;
            };
            let amount = typed.number.to_f64();
            let unit = typed.unit.filter(|_| amount > 0.0)?;
            Some(Planned {
                entry,
                amount,
                unit,
            })
        });
    amounts.collect()
}

/// The readings of an amount that is far from the plan.
pub(in crate::working) struct Suspect {
    /// What was taken: the name of the substance, or the label of the reading.
    pub name: String,
    /// By number.
    pub readings: Vec<usize>,
    /// The planned amount, as the lab writes it, in the language of the lab.
    pub planned: String,
}

/// Every amount that is far from the plan, once.
pub(in crate::working) fn suspects(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    record: &Record,
) -> Vec<Suspect> {
    let mut all: Vec<Suspect> = Vec::new();
    for planned in graph.planned.get_or_init(|| planned(lab)) {
        let (name, text) = &lab.plan[planned.entry];
        let Some((mut readings, found)) = amount(lab, graph, worked, record, (name, planned))
        else {
            continue;
        };
        // The vessel with the sample in it comes behind the empty one, and is pointed at first.
        readings.sort_unstable_by(|a, b| b.cmp(a));
        // One reading may be planned twice, by its own name and by that of its substance.
        if far(found, planned.amount) && all.iter().all(|other| other.readings != readings) {
            let substance = lab.substances.iter().find(|one| one.key == *name);
            let reading = || lab.readings().find(|(_, asked)| asked.name == *name);
            all.push(Suspect {
                name: substance
                    .map(|one| one.name.clone())
                    .or_else(|| reading().map(|(_, asked)| asked.label.clone()))
                    .unwrap_or_default(),
                readings,
                planned: lab.words.number(text.trim()),
            });
        }
    }
    // Of an amount whose unit is asked about already nothing more is known.
    let doubted = |reading: &usize| record.readings[*reading].doubted_unit;
    all.retain(|suspect| !suspect.readings.is_empty() && !suspect.readings.iter().any(doubted));
    all
}

/// Whether an amount is so far from the planned one, both in the plan's unit, that a slip is likelier than a free hand. What unit
/// that is makes no difference: `400 mg` is `0.400 g`.
fn far(found: f64, planned: f64) -> bool {
    let part = found / planned;
    if part >= GROSSLY || part <= 1.0 / GROSSLY {
        return true;
    }
    // Noise must not take 0.001 for nearly ten times 0.0001.
    let place = 10.0_f64.powf((planned.log10() + 1e-9).floor());
    // Where the first digit is a one, the next is nearly twice as much: that is left to twice and half.
    if planned * (1.0 + 1e-9) < GROSSLY * place {
        return false;
    }
    let steps = (found - planned) / place;
    (part - 1.0).abs() > FREELY
        && steps.round() != 0.0
        && (steps - steps.round()).abs() <= OTHER_DIGITS
}

impl Look<'_> {
    /// Asks about an amount that is far from the plan.
    pub(in crate::working) fn ask(&self, suspect: &Suspect) -> Problem {
        let words = self.words;
        let message = say!(
            words,
            "what was taken is far from what the lab plans: {name}",
            name = suspect.name
        );
        let mut problem = Problem::warning(Code::OddAmount, message);
        for (place, reading) in suspect.readings.iter().enumerate() {
            let label = match place {
                0 => words.say("from this reading"),
                _ => words.say("and this one"),
            };
            problem = self.pointing_at(problem, *reading, label);
        }
        problem.help(match suspect.readings.len() {
            1 => say!(
                words,
                "the plan says about {amount}: is that what you took? If not, look at the digits and the unit",
                amount = suspect.planned
            ),
            _ => say!(
                words,
                "the plan says about {amount}: is that what you took? If not, look at the digits and the unit of both",
                amount = suspect.planned
            ),
        })
    }
}

/// The readings of a planned amount, and what they come to in the unit of the plan.
fn amount(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    record: &Record,
    (name, planned): (&str, &Planned),
) -> Option<(Vec<usize>, f64)> {
    let unit = planned.unit;
    let in_plan = |base: f64| base / 10_f64.powi(unit.power_to_base());
    let read = |reading: usize| {
        let value = record.readings[reading].usable()?;
        let own = value.unit?;
        let found = own.in_base(value.number);
        (own.dimension() == unit.dimension()).then_some((vec![reading], in_plan(found)))
    };
    let Some(substance) = lab.substances.iter().position(|one| one.key == name) else {
        return read(lab.reading_index(name)?);
    };
    if unit.dimension() == Unit::Gram.dimension() {
        let step = graph.of_kind(Kind::Mass(substance))?;
        let found = worked.value(step)?.approximate();
        return Some((graph.step(step).expression.readings(), in_plan(found)));
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twice_or_half_is_far_and_so_is_another_first_digit() {
        for (found, planned) in [
            (11.6, 1.6),
            (3.2, 1.6),
            (0.8, 1.6),
            (0.0036, 3.6),
            (35.2, 25.0),
            (15.0, 25.0),
        ] {
            assert!(far(found, planned), "{found} {planned}");
        }
        // A free hand, within three tenths; more than that where no other first digit explains it.
        for (found, planned) in [
            (1.6, 1.6),
            (2.08, 1.6),
            (1.12, 1.6),
            (60.0, 50.0),
            (40.0, 50.0),
            (33.0, 25.0),
            (2.6, 1.6),
        ] {
            assert!(!far(found, planned), "{found} {planned}");
        }
    }

    #[test]
    fn the_unit_of_the_plan_makes_no_difference() {
        for (planned, found, is_far) in [
            (0.4, 0.53, false),
            (0.4, 0.56, false),
            (0.4, 0.601, true),
            (0.4, 0.7, true),
            (0.25, 0.352, true),
            (0.25, 0.15, true),
            (0.16, 0.26, false),
            (0.001, 0.0016, false),
            (0.41, 0.83, true),
        ] {
            for unit in [1.0, 1e-3, 1e3, 1e6, 10.0] {
                assert_eq!(
                    far(found * unit, planned * unit),
                    is_far,
                    "{found} {planned} {unit}"
                );
            }
        }
    }
}
