//! The planned amounts of a lab description, read.

use crate::chem::Formula;
use crate::chem::formula::State;
use crate::lab::Lab;
use crate::lab::waters::is_water;
use crate::measure::Decimal;
use crate::measure::Dimension;
use crate::measure::Unit;
use crate::measure::typed;
use crate::measure::typed::Typed;
use crate::problem::suggest;
use crate::words::Words;

/// A planned amount.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// As written, digits kept.
    pub number: Decimal,
    /// As written.
    pub unit: Unit,
    /// In its base unit: g, L, mol.
    pub base: f64,
}

/// What an amount is planned of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Item {
    /// A substance, by index into [`Lab::substances`].
    Substance(usize),
    /// What a reading is to show, by its number in [`Lab::readings`].
    Reading(usize),
}

/// Everything planned.
#[derive(Debug, Clone, Default)]
pub struct Planned {
    /// In the file's order.
    items: Vec<(Item, Amount)>,
    /// Water that one substance is dissolved in, by index into [`Lab::substances`].
    dissolving: Vec<(usize, Amount)>,
    /// Any other water, for one group.
    pub water: Option<Amount>,
    /// Washings: how many, and of how much (L).
    pub washes: Option<(u32, f64)>,
    /// What is washed with.
    pub wash_liquid: WashLiquid,
    /// Vessels that one shelf of the oven holds: how many, and as written.
    pub oven_shelf: Option<(u32, String)>,
    /// Liquid one group has left at the end, L, where that is not all that was poured together.
    pub liquid_left: Option<f64>,
    /// What the lab's working does not know, such as an acid of an earlier step.
    pub supplies: Vec<Supply>,
    /// Lines that the lab knows and whose text makes no sense: name and text.
    pub misread: Vec<(String, String)>,
}

/// What the product is washed with.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum WashLiquid {
    /// Water, as the lab says or because it works in water.
    #[default]
    Water,
    /// As the lab names it.
    Named(String),
    /// The lab has no water and names none.
    Unnamed,
}

/// Something set out that no step of the working asks for.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// Its name, as written.
    pub name: String,
    /// How much, as written.
    pub text: String,
    /// How much, if that is an amount: `5 drops` is none.
    pub amount: Option<Amount>,
    /// How many, and of what, where it is counted: 5 and `drops`.
    pub counted: Option<(u32, String)>,
    /// The name of this lab that was perhaps meant.
    pub near: Option<String>,
}

impl Planned {
    /// The `[plan]` of a lab description.
    #[must_use]
    pub fn of(lab: &Lab) -> Self {
        let mut planned = Self::default();
        for (name, text) in &lab.plan {
            if planned.read(lab, name, text).is_none() {
                planned.misread.push((name.clone(), text.clone()));
            }
        }
        let named = lab.plan.iter().any(|(name, _)| name == "wash_liquid");
        let waters = planned.water.is_some() || !planned.dissolving.is_empty();
        if !named && !waters && !in_water(lab) {
            planned.wash_liquid = WashLiquid::Unnamed;
        }
        planned
    }

    /// Takes one line in; `None` where it makes no sense.
    fn read(&mut self, lab: &Lab, name: &str, text: &str) -> Option<()> {
        let place = |key: &str| lab.substances.iter().position(|one| one.key == key);
        let positive = || amount(text, &lab.words).filter(|amount| amount.base > 0.0);
        let volume = || positive().filter(|amount| amount.is(Unit::Litre));
        if let Some(substance) = place(name) {
            let amount = positive().filter(|amount| {
                [Unit::Gram, Unit::Litre, Unit::Mole]
                    .iter()
                    .any(|unit| amount.is(*unit))
            })?;
            self.items.push((Item::Substance(substance), amount));
            return Some(());
        }
        match name {
            "water" => self.water = Some(volume()?),
            "washes" => self.washes = Some(washes(text, &lab.words)?),
            "wash_liquid" => self.wash_liquid = wash_liquid(text)?,
            "oven_shelf" => self.oven_shelf = Some(places(text, &lab.words)?),
            "liquid_left" => {
                let left = amount(text, &lab.words)
                    .filter(|left| left.is(Unit::Litre) && left.base >= 0.0)?;
                self.liquid_left = Some(left.base);
            }
            _ => {
                if let Some(substance) = name.strip_suffix("_water").and_then(place) {
                    self.dissolving.push((substance, volume()?));
                } else {
                    let Some(reading) = lab.reading_index(name) else {
                        self.supplies.push(Supply::of(lab, name, text));
                        return Some(());
                    };
                    let (_, asked) = lab.readings().nth(reading)?;
                    let amount = positive().filter(|amount| amount.is(asked.unit))?;
                    self.items.push((Item::Reading(reading), amount));
                }
            }
        }
        Some(())
    }

    /// Planned amounts of substances and readings, in the file's order.
    #[must_use]
    pub fn items(&self) -> &[(Item, Amount)] {
        &self.items
    }

    /// The planned amount of a substance.
    #[must_use]
    pub fn of_substance(&self, index: usize) -> Option<&Amount> {
        let mut items = self.items.iter();
        let (_, amount) = items.find(|(item, _)| *item == Item::Substance(index))?;
        Some(amount)
    }

    /// Whether a reading is planned by its own name.
    #[must_use]
    pub fn has_reading(&self, reading: usize) -> bool {
        let mut items = self.items.iter();
        items.any(|(item, _)| *item == Item::Reading(reading))
    }

    /// The water that a substance is dissolved in.
    #[must_use]
    pub fn water_of(&self, substance: usize) -> Option<&Amount> {
        let mut waters = self.dissolving.iter();
        let (_, water) = waters.find(|(of, _)| *of == substance)?;
        Some(water)
    }

    /// Water that one group needs, in L: each substance's own, any other, and washings with water.
    #[must_use]
    pub fn water_each(&self) -> f64 {
        let own: f64 = self.dissolving.iter().map(|(_, water)| water.base).sum();
        let other = self.water.as_ref().map_or(0.0, |water| water.base);
        let washes = match self.wash_liquid {
            WashLiquid::Water => self.washings(),
            WashLiquid::Named(_) | WashLiquid::Unnamed => 0.0,
        };
        own + other + washes
    }

    /// Washing liquid other than water that one group needs, in L.
    #[must_use]
    pub fn wash_liquid_each(&self) -> f64 {
        match self.wash_liquid {
            WashLiquid::Water => 0.0,
            WashLiquid::Named(_) | WashLiquid::Unnamed => self.washings(),
        }
    }

    /// All washings of one group, in L.
    fn washings(&self) -> f64 {
        self.washes
            .map_or(0.0, |(count, each)| f64::from(count) * each)
    }

    /// The same plan with one amount, or all of them, times a factor.
    #[must_use]
    pub fn times(&self, only: Option<Item>, factor: f64) -> Self {
        let mut scaled = self.clone();
        for (item, amount) in &mut scaled.items {
            if only.is_none_or(|only| only == *item) {
                amount.base *= factor;
            }
        }
        scaled
    }
}

impl Supply {
    fn of(lab: &Lab, name: &str, text: &str) -> Self {
        let keys = lab.substances.iter().map(|one| one.key.as_str());
        let readings = lab.readings().map(|(_, asked)| asked.name.as_str());
        let fixed = [
            "water",
            "washes",
            "wash_liquid",
            "liquid_left",
            "oven_shelf",
        ];
        let known = keys.chain(readings).chain(fixed);
        Self {
            name: name.to_owned(),
            text: text.to_owned(),
            amount: amount(text, &lab.words).filter(|amount| amount.base > 0.0),
            counted: counted(text),
            near: suggest::closest(name, known).map(ToOwned::to_owned),
        }
    }
}

impl Amount {
    /// Whether it measures what this unit measures.
    #[must_use]
    pub fn is(&self, unit: Unit) -> bool {
        self.dimension() == unit.dimension()
    }

    /// What it measures.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }
}

/// `6.0 g`, `25 mL`.
fn amount(text: &str, words: &Words) -> Option<Amount> {
    let read = typed::parse_with(text, None, words);
    let Ok(Typed::Value(reading)) = read else {
        return None;
    };
    let unit = reading.unit?;
    Some(Amount {
        number: reading.number,
        unit,
        base: unit.in_base(reading.number),
    })
}

/// `3 of 25 mL`, `3 x 25 mL`, `3 mal 25 mL`.
fn washes(text: &str, words: &Words) -> Option<(u32, f64)> {
    let (count, each) = text
        .split_once(" of ")
        .or_else(|| text.split_once(" mal "))
        .or_else(|| text.split_once('x'))
        .or_else(|| text.split_once('×'))?;
    let each = amount(each.trim(), words).filter(|each| each.is(Unit::Litre) && each.base > 0.0)?;
    Some((count.trim().parse().ok()?, each.base))
}

/// What is washed with; `None` for nothing written.
fn wash_liquid(text: &str) -> Option<WashLiquid> {
    let text = text.trim();
    match text {
        "" => None,
        _ if is_water(text) => Some(WashLiquid::Water),
        named => Some(WashLiquid::Named(named.to_owned())),
    }
}

/// Whether anything of a lab is in water, or water itself; steam is none to wash with.
fn in_water(lab: &Lab) -> bool {
    let water = Formula::parse("H2O").ok();
    let species = lab.equation.reactants.iter().chain(&lab.equation.products);
    species.into_iter().any(|one| {
        one.formula.state() == Some(State::Aqueous)
            || one.formula.state() != Some(State::Gas)
                && water
                    .as_ref()
                    .is_some_and(|water| one.formula.same_substance(water))
    })
}

/// `5 drops`, `2–3 drops`, of which more are set out.
fn counted(text: &str) -> Option<(u32, String)> {
    let (count, what) = text.trim().split_once(char::is_whitespace)?;
    let most = count.split(['-', '–']).next_back()?;
    let count = most.parse().ok().filter(|count| *count > 0)?;
    let what = what.trim();
    what.starts_with(char::is_alphabetic)
        .then(|| (count, what.to_owned()))
}

/// `12 beakers`, `12`.
fn places(text: &str, words: &Words) -> Option<(u32, String)> {
    let text = text.trim();
    let (count, what) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let count = count.parse().ok().filter(|count| *count > 0)?;
    let what = match what.trim() {
        "" => words.say("vessels"),
        what => what,
    };
    Some((count, format!("{count} {what}")))
}

#[cfg(test)]
mod tests {
    use super::WashLiquid;
    use super::counted;
    use super::places;
    use super::wash_liquid;
    use super::washes;
    use crate::words::Words;

    #[test]
    fn washings_are_read_in_the_ways_they_are_written() {
        for (text, is) in [
            ("3 of 25 mL", Some((3, 0.025))),
            ("2 x 10 mL", Some((2, 0.010))),
            ("3 mal 25 mL", Some((3, 0.025))),
            ("4×0.02 L", Some((4, 0.020))),
            ("twice", None),
            ("3 of 25 g", None),
        ] {
            assert_eq!(washes(text, &Words::english()), is, "{text}");
        }
    }

    #[test]
    fn supplies_are_counted_where_a_number_stands_before_what_they_are() {
        for (text, is) in [
            ("3 drops", Some((3, "drops"))),
            ("2–3 Tropfen", Some((3, "Tropfen"))),
            ("a little", None),
            ("3", None),
            ("0 drops", None),
            ("2 × 3 drops", None),
        ] {
            let is = is.map(|(count, what): (u32, &str)| (count, what.to_owned()));
            assert_eq!(counted(text), is, "{text}");
        }
    }

    #[test]
    fn water_is_told_from_other_washing_liquids() {
        let named = |name: &str| Some(WashLiquid::Named(name.to_owned()));
        for (text, is) in [
            ("toluene", named("toluene")),
            ("distilled water", Some(WashLiquid::Water)),
            ("kaltes Wasser", Some(WashLiquid::Water)),
            ("water with acid", named("water with acid")),
            (" ", None),
        ] {
            assert_eq!(wash_liquid(text), is, "{text}");
        }
    }

    #[test]
    fn a_shelf_of_the_oven_holds_a_number_of_something() {
        for (text, is) in [
            ("12 beakers", Some((12, "12 beakers".to_owned()))),
            (" 9 ", Some((9, "9 vessels".to_owned()))),
            ("0", None),
            ("a dozen", None),
        ] {
            assert_eq!(places(text, &Words::english()), is, "{text}");
        }
        let german = Words::of("de").expect("German");
        assert_eq!(places("9", &german), Some((9, "9 Gefäße".to_owned())));
    }
}
