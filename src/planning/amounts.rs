//! The planned amounts of a lab description, read.

use crate::lab::Lab;
use crate::measure::Unit;
use crate::measure::typed;
use crate::measure::typed::Typed;

/// A planned amount.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// As written.
    pub written: String,
    /// In its base unit: g, L, mol.
    pub base: f64,
    /// As written.
    pub unit: Unit,
}

/// Everything planned.
#[derive(Debug, Clone, Default)]
pub struct Planned {
    /// By index into [`Lab::substances`].
    substances: Vec<Option<Amount>>,
    /// Water to dissolve or dilute, for one group.
    pub water: Option<Amount>,
    /// Washings: how many, and of how much (L).
    pub washes: Option<(u32, f64)>,
    /// Vessels that one shelf of the oven holds.
    pub oven_places: Option<u32>,
    /// What could not be read, and what is no substance of the lab: name and text.
    pub others: Vec<(String, String)>,
}

impl Planned {
    /// The `[plan]` of a lab description.
    #[must_use]
    pub fn of(lab: &Lab) -> Self {
        let mut planned = Self {
            substances: vec![None; lab.substances.len()],
            ..Self::default()
        };
        for (name, text) in &lab.plan {
            let place = lab.substances.iter().position(|one| one.key == *name);
            let known = match (name.as_str(), place) {
                (_, Some(place)) => {
                    planned.substances[place] = amount(text);
                    planned.substances[place].is_some()
                }
                ("water", None) => {
                    planned.water = amount(text)
                        .filter(|water| water.unit.dimension() == Unit::Litre.dimension());
                    planned.water.is_some()
                }
                ("washes", None) => {
                    planned.washes = washes(text);
                    planned.washes.is_some()
                }
                ("oven_places", None) => {
                    planned.oven_places = text.trim().parse().ok().filter(|places| *places > 0);
                    planned.oven_places.is_some()
                }
                _ => false,
            };
            if !known {
                planned.others.push((name.clone(), text.clone()));
            }
        }
        planned
    }

    /// The planned amount of a substance.
    #[must_use]
    pub fn of_substance(&self, index: usize) -> Option<&Amount> {
        self.substances.get(index)?.as_ref()
    }
}

/// `6.0 g`, `25 mL`.
fn amount(text: &str) -> Option<Amount> {
    let Ok(Typed::Value(reading)) = typed::parse(text, None) else {
        return None;
    };
    let unit = reading.unit?;
    let base = reading.number.shifted(unit.power_to_base()).to_f64();
    (base > 0.0).then(|| Amount {
        written: text.to_owned(),
        base,
        unit,
    })
}

/// `3 of 25 mL`, `3 x 25 mL`.
fn washes(text: &str) -> Option<(u32, f64)> {
    let (count, each) = text
        .split_once(" of ")
        .or_else(|| text.split_once('x'))
        .or_else(|| text.split_once('×'))?;
    let each =
        amount(each.trim()).filter(|each| each.unit.dimension() == Unit::Litre.dimension())?;
    Some((count.trim().parse().ok()?, each.base))
}

#[cfg(test)]
mod tests {
    use super::washes;

    #[test]
    fn washings_are_read_in_the_ways_they_are_written() {
        for (text, is) in [
            ("3 of 25 mL", Some((3, 0.025))),
            ("2 x 10 mL", Some((2, 0.010))),
            ("4×0.02 L", Some((4, 0.020))),
            ("twice", None),
            ("3 of 25 g", None),
        ] {
            assert_eq!(washes(text), is, "{text}");
        }
    }
}
