//! Amounts of causes as something seen or known: drops, bubbles, a share of what could form.

#![expect(
    clippy::unnecessary_wraps,
    reason = "a picture may have nothing to say: every one of them has the table's signature"
)]

use crate::causes::catalogue::bound::MOLAR_VOLUME;
use crate::causes::catalogue::bound::OF_A_METRE;
use crate::causes::catalogue::bound::as_volume;
use crate::causes::catalogue::bound::figures;
use crate::causes::catalogue::bound::product_mass;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::measure::Unit;
use crate::say;
use crate::working::Kind;

/// A drop of water, g (common practice, no source: twenty drops a millilitre).
const DROP: f64 = 0.05;

/// An amount of gas as a volume.
pub(super) fn in_millilitres(scene: &Scene<'_>, _: Effect, amount: f64) -> Option<String> {
    Some(say!(
        scene.lab.words,
        "That is about {volume} of gas at room temperature.",
        volume = as_volume(scene, amount)
    ))
}

/// An amount of gas as the column of water whose pressure makes its volume so much larger or smaller.
pub(super) fn as_column(scene: &Scene<'_>, effect: Effect, amount: f64) -> Option<String> {
    let share = amount / product_mass(scene, effect.product()?).filter(|all| *all > 0.0)?;
    let words = &scene.lab.words;
    Some(say!(
        words,
        "That is about {volume} of gas at room temperature, or {height} cm of water between the two levels.",
        volume = as_volume(scene, amount),
        height = words.number(&format!("{:.0}", 100.0 * share / OF_A_METRE))
    ))
}

/// A mass of water in drops.
pub(super) fn in_drops(scene: &Scene<'_>, _: Effect, amount: f64) -> Option<String> {
    let words = &scene.lab.words;
    let drops = amount / DROP;
    Some(if drops < 1.5 {
        say!(words, "That is about a drop of water or less.")
    } else if drops < 40.0 {
        say!(
            words,
            "That is about {count} drops of water.",
            count = format!("{drops:.0}")
        )
    } else {
        say!(
            words,
            "That is about {volume} of water.",
            volume = figures(scene, amount, Unit::Millilitre)
        )
    })
}

/// The hydrogen that a mass of metal sets free.
pub(super) fn as_hydrogen(scene: &Scene<'_>, effect: Effect, amount: f64) -> Option<String> {
    let reactant = effect.reactant()?;
    let charge = f64::from(scene.attacked_by_acid(reactant)?);
    let moles = amount / scene.molar_mass(scene.metal(reactant)?.symbol())?;
    let volume = 1000.0 * MOLAR_VOLUME * moles * charge / 2.0;
    Some(say!(
        scene.lab.words,
        "So much {substance} in acid gives about {volume} of hydrogen at room temperature: bubbles that somebody would have seen.",
        substance = scene.name(reactant),
        volume = figures(scene, volume, Unit::Millilitre)
    ))
}

/// An amount as a share of what could form.
pub(super) fn as_share(scene: &Scene<'_>, effect: Effect, amount: f64) -> Option<String> {
    let product = effect.product().filter(|product| !scene.gas(*product))?;
    let whole = product_mass(scene, product).filter(|mass| *mass > 0.0)?;
    Some(say!(
        scene.lab.words,
        "That is {share} of all the {substance} that could form.",
        share = figures(scene, 100.0 * amount / whole, Unit::Percent),
        substance = scene.name(product)
    ))
}

/// How much of the limiting reactant would still be there.
pub(super) fn as_unreacted(scene: &Scene<'_>, effect: Effect, amount: f64) -> Option<String> {
    if effect != Effect::Unreacted {
        return None;
    }
    let reactant = *scene.limiting.first()?;
    let kind = if scene.in_moles(reactant) {
        Kind::Moles(reactant)
    } else {
        Kind::Mass(reactant)
    };
    let unit = scene.graph.step(scene.step(kind)?).unit;
    Some(say!(
        scene.lab.words,
        "{amount} of the {substance} taken would not have reacted.",
        amount = figures(scene, amount * scene.value(kind)?, unit),
        substance = scene.name(reactant)
    ))
}
