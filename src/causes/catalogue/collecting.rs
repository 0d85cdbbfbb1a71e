//! What can happen to a gas that is caught and measured by its volume.

use crate::causes::catalogue::Cause;
use crate::causes::catalogue::bound;
use crate::causes::catalogue::picture;
use crate::causes::catalogue::products;
use crate::causes::catalogue::unbounded;
use crate::causes::effect::Effect;

pub(super) const CAUSES: &[Cause] = &[
    Cause {
        id: "gas-escaped",
        says: "Some of the {product} got out before it was measured",
        at: |scene| products(scene, Effect::LessProduct, |p| scene.gas_caught(p)),
        most: bound::all_of_it,
        picture: picture::in_millilitres,
        signs: &["bubbles_escaped"],
        unless: &[],
        words: "escaped, bubbles got out, leak, leaked in the, lost gas, gas was lost, got away, bubbles went past",
        test: "Watch the mouth of the tube and every joint from the first bubble on; test the joints with soapy water.",
        next_time: "Turn the tube over before the reaction begins, and keep its mouth deep under water.",
        stock: true,
    },
    Cause {
        id: "air-in-tube",
        says: "Air was in the tube or the hose and counted as {product}",
        at: |scene| products(scene, Effect::MoreProduct, |p| scene.gas_caught(p)),
        most: unbounded,
        picture: picture::in_millilitres,
        signs: &["air_in_tube"],
        unless: &[],
        words: "air bubble, air in the, air was in, not filled, leaked in, leaks in, leaking in, leaked into, leaking into, air leaked, air * leaked in, air got in, air * got in, air came in, air * came in, air went in, air * went in, air entered, air * entered, sucked in, sucked air, drew in air, let air in, gas got in, gas came in, outside air",
        test: "Look for a bubble at the top of the tube before anything reacts.",
        next_time: "Fill the tube to the brim, and read the level before the reaction begins.",
        stock: false,
    },
    Cause {
        id: "gas-still-warm",
        says: "The {product} was warmer than the thermometer said when its volume was read",
        at: |scene| products(scene, Effect::MoreProduct, |p| scene.gas_caught(p)),
        most: bound::warmer_gas,
        picture: picture::in_millilitres,
        signs: &[],
        unless: &[],
        words: "still warm, was warm, did not cool, not cooled, expanded",
        test: "Wait ten minutes and read again: the volume of a warm gas falls.",
        next_time: "Let the tube stand in the water until two readings agree.",
        stock: false,
    },
    Cause {
        id: "levels-not-equal",
        says: "The liquid did not stand equally high inside and outside when the volume was read",
        at: |scene| {
            let mut effects = products(scene, Effect::MoreProduct, |p| scene.gas_caught(p));
            effects.extend(products(scene, Effect::LessProduct, |p| {
                scene.gas_caught(p)
            }));
            effects
        },
        most: bound::column_of_water,
        picture: picture::as_column,
        signs: &["levels_differed"],
        unless: &[],
        words: "level, not level, not * level, not equal, not the same height, water column, pressure was not, not at the same height, not * same height, uneven, higher in the tube, higher inside, inside * higher, in the tube * higher, in tube * higher, lower outside, outside * lower, lower in the tube, lower inside, inside * lower, in the tube * lower, in tube * lower, higher outside, outside * higher",
        test: "Raise or lower the tube: if the reading changes, the levels were not equal.",
        next_time: "Move the tube until both levels agree, then read.",
        stock: false,
    },
    Cause {
        id: "gas-dissolved-in-water",
        says: "Some of the {product} dissolved in the water it was caught over",
        at: |scene| {
            products(scene, Effect::LessProduct, |p| {
                scene.gas_caught(p) && bound::solubility(scene, p).is_some()
            })
        },
        most: bound::dissolved_in_a_litre,
        picture: picture::in_millilitres,
        signs: &[],
        unless: &[],
        words: "dissolved in the water, dissolved in water, dissolves in water, dissolve in water, dissolved in the tub, soluble in water, dissolved",
        test: "Leave the gas over the water for ten minutes and read again: what dissolves is missing then.",
        next_time: "Let the gas bubble through little water, and read as soon as it has cooled.",
        stock: false,
    },
];
