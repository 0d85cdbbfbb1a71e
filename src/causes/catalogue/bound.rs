//! Physical bounds of causes: full oxidation, what water dissolves, all there was.

#![expect(
    clippy::unnecessary_wraps,
    reason = "a bound may have nothing to say: every one of them has the table's signature"
)]

use crate::causes::catalogue::Limit;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::say;
use crate::working::Kind;
use crate::working::show;

/// Oxygen in water that stands in air at 25 °C, g/L (about 8 mg/L; common practice, no source).
const OXYGEN_IN_WATER: f64 = 0.008;
/// Molar volume of a gas at room temperature, L/mol: R·T/p at 20 °C and 101.3 kPa is 24.06.
pub(super) const MOLAR_VOLUME: f64 = 24.06;
/// Carbon dioxide that water takes up at 25 °C and 101.3 kPa, g/L (1.45; common handbook value, from memory).
const CARBON_DIOXIDE: f64 = 1.45;

/// A number with two figures and its unit, in the language of the lab.
#[must_use]
pub fn figures(scene: &Scene<'_>, number: f64, unit: Unit) -> String {
    to_figures(scene, number, 2, unit)
}

/// A number with some figures and its unit, in the language of the lab.
pub(super) fn to_figures(scene: &Scene<'_>, number: f64, count: i32, unit: Unit) -> String {
    let Some(rounded) = rounding::float_to_figures(number, count, Rounding::HalfUp) else {
        return String::new();
    };
    show::amount(&scene.lab.words, rounded, unit)
}

/// A percentage with one decimal, as a bare number.
fn percent(scene: &Scene<'_>, fraction: f64) -> String {
    scene.lab.words.number(&format!("{:.1}", 100.0 * fraction))
}

/// What is collected of a product, else what could form.
pub(super) fn product_mass(scene: &Scene<'_>, product: usize) -> Option<f64> {
    scene
        .value(Kind::Theoretical(product))
        .or_else(|| scene.value(Kind::Collected(product)))
}

/// What is found of whatever an effect is about.
fn mass(scene: &Scene<'_>, effect: Effect) -> Option<f64> {
    match (effect.product(), effect.reactant()) {
        (Some(product), _) => product_mass(scene, product),
        (None, Some(reactant)) => scene
            .value(Kind::MeasuredLeft(reactant))
            .or_else(|| scene.value(Kind::Mass(reactant))),
        (None, None) => None,
    }
}

/// A fixed mass, with its reason.
pub(super) fn grams(most: f64, why: String) -> Option<Limit> {
    Some(Limit::most(most, why))
}

/// Readings of two balances that are in order: a few steps of the display.
pub(super) fn balances(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    const STEPS: f64 = 5.0;
    let (reading, _) = *effect.readings(scene).first()?;
    let (_, asked) = scene.lab.readings().nth(reading)?;
    let instrument = scene.worked.instruments.get(asked.instrument?)?;
    let step = instrument.readability.or(instrument.tolerance)?;
    let most = STEPS * instrument.unit.in_base(step);
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "Two balances that are in order differ by a few steps of the display, here {mass} at most.",
            mass = figures(scene, most, asked.unit)
        ),
    ))
}

/// A vessel taken for another: vessels of one kind seldom weigh so nearly the same.
pub(super) fn another_vessel(scene: &Scene<'_>, _: Effect) -> Option<Limit> {
    Some(Limit {
        least: 0.3,
        most: f64::INFINITY,
        why: say!(
            scene.lab.words,
            "Two vessels seldom agree within some tenths of a gram."
        ),
    })
}

/// Metal fully turned into its oxide.
pub(super) fn full_oxide(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let index = effect.product().or(effect.reactant())?;
    let (gain, oxide) = scene.oxide(index)?;
    let most = (gain - 1.0) * mass(scene, effect)?;
    let oxide = crate::chem::Formula::parse(oxide).ok()?.pretty();
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "All of the {substance} turned into {oxide} would gain {percent} %, here {mass}.",
            substance = scene.name(index),
            oxide = oxide,
            percent = percent(scene, gain - 1.0),
            mass = figures(scene, most, Unit::Gram)
        ),
    ))
}

/// An oxide fully turned into its lower one.
pub(super) fn full_reduction(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let product = effect.product()?;
    let (lower, share) = scene.lower_oxide(product)?;
    let most = share * product_mass(scene, product)?;
    let lower = crate::chem::Formula::parse(lower).ok()?.pretty();
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "All of the {substance} turned into {oxide} would lose {percent} %, here {mass}.",
            substance = scene.name(product),
            oxide = lower,
            percent = percent(scene, share),
            mass = figures(scene, most, Unit::Gram)
        ),
    ))
}

/// An end point missed: by two millilitres, generously.
pub(super) fn past_the_end(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    const MISSED: f64 = 0.002;
    let kind = match (effect.product(), effect.reactant()) {
        (Some(product), _) => Kind::Collected(product),
        (None, Some(reactant)) => Kind::MeasuredLeft(reactant),
        (None, None) => return None,
    };
    let (_, slope) = scene.full(kind)?;
    let most = MISSED * slope.abs();
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "An end point missed by more than 2 mL, here {amount}, would be seen.",
            amount = figures(scene, most, effect.unit(scene))
        ),
    ))
}

/// All there was of what goes missing.
pub(super) fn all_of_it(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    if matches!(effect, Effect::MoreProduct(_) | Effect::MoreLeft(_)) {
        return None;
    }
    let (index, kind) = match (effect, effect.product(), effect.reactant()) {
        (Effect::Carried { reactant, .. }, ..) | (_, None, Some(reactant)) => {
            (reactant, Kind::ExpectedLeft(reactant))
        }
        (_, Some(product), _) => (product, Kind::Theoretical(product)),
        (_, None, None) => return None,
    };
    let most = scene.value(kind).filter(|most| *most > 0.0)?;
    let unit = scene.graph.step(scene.step(kind)?).unit;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "There were only {amount} of {substance} to lose.",
            amount = figures(scene, most, unit),
            substance = scene.name(index)
        ),
    ))
}

/// Metal that the oxygen dissolved in the water can take.
pub(super) fn dissolved_oxygen(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let reactant = effect.reactant()?;
    let (gain, _) = scene.oxide(reactant)?;
    let most = OXYGEN_IN_WATER * scene.liquid()? / (gain - 1.0);
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "The oxygen dissolved in the water (about 8 mg in a litre) can take no more than {mass} of {substance}; more has to come in from the air.",
            mass = figures(scene, most, Unit::Gram),
            substance = scene.name(reactant)
        ),
    ))
}

/// Carbon dioxide that the liquid can hold.
pub(super) fn dissolved_gas(scene: &Scene<'_>, _: Effect) -> Option<Limit> {
    let most = CARBON_DIOXIDE * scene.liquid()?;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "The liquid can hold about {mass} (1.45 g in a litre at 25 °C).",
            mass = figures(scene, most, Unit::Gram)
        ),
    ))
}

/// What a litre of water at 20 °C takes up of a gas under 101.3 kPa, mL (common handbook values, from memory).
const IN_WATER: [(&str, f64); 4] = [("H2", 18.0), ("O2", 31.0), ("N2", 15.0), ("CO2", 880.0)];

/// How much of a gas a litre of water takes up, L.
pub(super) fn solubility(scene: &Scene<'_>, product: usize) -> Option<f64> {
    let formula = scene.substance(product).formula.plain();
    let (_, volume) = IN_WATER.iter().find(|(known, _)| *known == formula)?;
    Some(volume / 1000.0)
}

/// A gas in the water that it bubbles through: no more than a litre of it meets the gas.
pub(super) fn dissolved_in_a_litre(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let product = effect.product()?;
    let volume = solubility(scene, product)?;
    Some(Limit::most(
        volume / MOLAR_VOLUME,
        say!(
            scene.lab.words,
            "A whole litre of water at 20 °C takes up {volume} of {substance} at most.",
            volume = figures(scene, 1000.0 * volume, Unit::Millilitre),
            substance = scene.name(product)
        ),
    ))
}

/// A gas that is read some degrees too warm: 10 °C at most, near room temperature.
pub(super) fn warmer_gas(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let most = product_mass(scene, effect.product()?)? * 10.0 / 293.0;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "Ten degrees make a gas a thirtieth larger, here {volume}.",
            volume = as_volume(scene, most)
        ),
    ))
}

/// What a column of water of a metre does to a gas under the pressure of the air: 9.81 kPa (ρ·g·h) of 101.3 kPa.
pub(super) const OF_A_METRE: f64 = 9.81 / 101.3;

/// A column of liquid between the two levels: it is no longer than the tube. 60 cm of water are 5.9 kPa (ρ·g·h), 5.8 % of the
/// air's pressure; a eudiometer of 50 mL is about as long (common practice, no source).
pub(super) fn column_of_water(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let most = product_mass(scene, effect.product()?)? * 0.60 * OF_A_METRE;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "The levels can be no farther apart than the tube is long. 60 cm of water, the length of a tube for 50 mL, change the pressure of the gas by 6 kPa, a seventeenth, here {volume}.",
            volume = as_volume(scene, most)
        ),
    ))
}

/// Moles of gas as a volume at room temperature.
pub(super) fn as_volume(scene: &Scene<'_>, moles: f64) -> String {
    figures(scene, 1000.0 * MOLAR_VOLUME * moles, Unit::Millilitre)
}

/// Water that a paper takes up from the air.
pub(super) fn damp_paper(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    const SHARE: f64 = 0.10;
    let (paper, _) = scene.empty(Kind::Collected(effect.product()?))?;
    let paper = scene.line.input(crate::working::Variable::Reading(paper))?;
    let most = SHARE * paper.min(2.0);
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "Paper holds up to about a tenth of its mass as water from the air, here {mass}.",
            mass = figures(scene, most, Unit::Gram)
        ),
    ))
}

/// Pieces that come off a paper: more than a fifth of it would be missed.
pub(super) fn piece_of_paper(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    const SHARE: f64 = 0.2;
    let (paper, _) = scene.empty(Kind::Collected(effect.product()?))?;
    let most = SHARE * scene.line.input(crate::working::Variable::Reading(paper))?;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "A piece of more than a fifth of the paper, here {mass}, would be missed.",
            mass = figures(scene, most, Unit::Gram)
        ),
    ))
}

/// Nitride instead of oxide: 3 Mg + N₂ → Mg₃N₂.
pub(super) fn all_nitride(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let product = effect.product()?;
    let oxide = scene.molar_mass("MgO")?;
    let nitride = scene.molar_mass("Mg3N2")? / 3.0;
    let most = (1.0 - nitride / oxide) * product_mass(scene, product)?;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "If all of it had become nitride the product would weigh {percent} % of the oxide, {mass} less.",
            percent = percent(scene, nitride / oxide),
            mass = figures(scene, most, Unit::Gram)
        ),
    ))
}

/// Hydroxide instead of oxide.
pub(super) fn all_hydroxide(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let share = scene.molar_mass("Mg(OH)2")? / scene.molar_mass("MgO")? - 1.0;
    let most = share * product_mass(scene, effect.product()?)?;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "If all of it were hydroxide it would weigh {percent} % more, {mass}.",
            percent = percent(scene, share),
            mass = figures(scene, most, Unit::Gram)
        ),
    ))
}

/// All the water of a hydrate taken for part of the formula, or the reverse.
pub(super) fn all_the_water(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let reactant = effect.reactant()?;
    let substance = scene.substance(reactant);
    let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
    let (dry, waters) = form.waters();
    if waters == 0 {
        return None;
    }
    let gain = scene.molar_mass(form.plain())? / scene.molar_mass(dry.plain())? - 1.0;
    let most = gain * scene.value(Kind::Mass(reactant))?;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "Without any of its water, the same mass would hold as much {substance} as {mass} more of the crystals.",
            substance = dry.pretty(),
            mass = figures(scene, most, Unit::Gram)
        ),
    ))
}

/// Everything that the limiting reactant could take part with.
pub(super) fn all_taken(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    let reactant = effect.reactant()?;
    let most = scene
        .value(Kind::Mass(reactant))
        .or_else(|| scene.value(Kind::Moles(reactant)))?;
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "No more can be missing than the {amount} taken.",
            amount = figures(scene, most, effect.unit(scene))
        ),
    ))
}

/// A skin of oxide on metal that looks clean.
pub(super) fn skin(scene: &Scene<'_>, effect: Effect) -> Option<Limit> {
    const SHARE: f64 = 0.02;
    let most = match effect {
        Effect::Unreacted => SHARE,
        _ => SHARE * scene.value(Kind::Mass(effect.reactant()?))?,
    };
    Some(Limit::most(
        most,
        say!(
            scene.lab.words,
            "A skin on metal that still shines is no more than a fiftieth of its mass."
        ),
    ))
}
