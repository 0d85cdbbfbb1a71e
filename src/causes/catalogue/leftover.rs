//! What can happen to the reactant that is left, and between it and the product.

use crate::causes::catalogue::Cause;
use crate::causes::catalogue::bound;
use crate::causes::catalogue::leftovers;
use crate::causes::catalogue::no_picture;
use crate::causes::catalogue::picture;
use crate::causes::catalogue::products;
use crate::causes::catalogue::unbounded;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::working::Kind;

/// Every pair of a solid product and a leftover.
fn pairs(scene: &Scene<'_>, effect: fn(usize, usize) -> Effect) -> Vec<Effect> {
    let products = scene.products.iter().filter(|p| !scene.gas(**p));
    products
        .flat_map(|p| weighed(scene, |_| true).map(move |r| effect(*p, r)))
        .collect()
}

/// The leftovers that are put on a balance and fit: what is titrated is neither damp nor in pieces.
fn weighed<'s>(
    scene: &'s Scene<'_>,
    fits: impl Fn(usize) -> bool + 's,
) -> impl Iterator<Item = usize> + 's {
    let all = scene.leftovers.iter().copied();
    all.filter(move |r| scene.weighs(Kind::MeasuredLeft(*r)) && fits(*r))
}

/// One effect for every leftover on a balance that fits.
fn on_balance(
    scene: &Scene<'_>,
    effect: fn(usize) -> Effect,
    fits: impl Fn(usize) -> bool,
) -> Vec<Effect> {
    weighed(scene, fits).map(effect).collect()
}

/// One effect for every amount that is told by a titration: of a leftover, or of a product.
fn titrated(
    scene: &Scene<'_>,
    left: fn(usize) -> Effect,
    product: fn(usize) -> Effect,
) -> Vec<Effect> {
    let mut effects = leftovers(scene, left, |r| scene.titrated(Kind::MeasuredLeft(r)));
    effects.extend(products(scene, product, |p| {
        scene.titrated(Kind::Collected(p))
    }));
    effects
}

pub(super) const CAUSES: &[Cause] = &[
    Cause {
        id: "leftover-damp",
        says: "The {left} left over was not dry when it was weighed",
        at: |scene| on_balance(scene, Effect::MoreLeft, |_| true),
        most: unbounded,
        picture: picture::in_drops,
        signs: &[],
        unless: &[],
        words: "wet zinc, metal was wet, leftover was wet, metal was damp, leftover was damp, metal not dry, strip was wet, damp metal, wet metal",
        test: "Dry the {left} once more and weigh it again.",
        next_time: "Blot it, dry it, and weigh it until two weighings agree.",
        stock: true,
    },
    Cause {
        id: "leftover-oxidised",
        says: "The {left} left over took up oxygen while it dried",
        at: |scene| {
            on_balance(scene, Effect::MoreLeft, |r| {
                scene.wet() && scene.oxidises(r)
            })
        },
        most: bound::full_oxide,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "metal rust, metal oxid, rusted, leftover oxid, white film, oxide on the",
        test: "Look for a film on the metal that was not there before.",
        next_time: "Dry the metal quickly, and weigh it the same day.",
        stock: false,
    },
    Cause {
        id: "leftover-pieces-lost",
        says: "Small pieces of the {left} were lost",
        at: |scene| on_balance(scene, Effect::LessLeft, |_| true),
        most: bound::all_of_it,
        picture: no_picture,
        signs: &[],
        unless: &["metal_in_product"],
        words: "pieces, crumbs, bits of, metal lost, lost metal, lost some zinc, lost some of the metal, flaked off",
        test: "Let the liquids that were poured off settle and look for grey grains.",
        next_time: "Lift the metal out in one piece, and rinse it over the beaker.",
        stock: false,
    },
    Cause {
        id: "attacked-by-acid",
        says: "Acid in the solution attacked the {left} as well and made hydrogen",
        at: |scene| {
            on_balance(scene, Effect::LessLeft, |r| {
                scene.wet() && scene.attacked_by_acid(r).is_some()
            })
        },
        most: bound::all_of_it,
        picture: picture::as_hydrogen,
        signs: &["bubbles_on_metal"],
        unless: &[],
        words: "acid, bubbl, hydrogen, gas, side reaction, another reaction, fizz",
        test: "Watch whether bubbles go on forming after the colour is gone.",
        next_time: "Take the metal out as soon as the colour of the solution is gone.",
        stock: true,
    },
    Cause {
        id: "attacked-by-oxygen",
        says: "Oxygen dissolved in the water attacked the {left}",
        at: |scene| {
            on_balance(scene, Effect::LessLeft, |r| {
                scene.wet() && scene.oxidises(r) && scene.attacked_by_acid(r).is_some()
            })
        },
        most: bound::dissolved_oxygen,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "oxygen in the water, dissolved oxygen, air in the water, corrod, corrosion",
        test: "Leave a strip in the same water without the salt, and weigh it before and after.",
        next_time: "Use boiled water and cover the beaker.",
        stock: false,
    },
    Cause {
        id: "coat-on-metal",
        says: "The {left} had a coat, or was not the pure metal",
        at: |scene| on_balance(scene, Effect::LessLeft, |r| scene.metal(r).is_some()),
        most: unbounded,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "coat, galvani, alloy, lacquer, impure metal, plated",
        test: "Ask what the metal is made of, and look for a different reaction in the first minute.",
        next_time: "Clean the metal down to bright before the first weighing.",
        stock: false,
    },
    Cause {
        id: "metal-in-product",
        says: "Pieces of {left} stayed in the product and were weighed with it",
        at: |scene| {
            pairs(scene, |product, reactant| Effect::Carried {
                product,
                reactant,
            })
        },
        most: bound::all_of_it,
        picture: no_picture,
        signs: &["metal_in_product"],
        unless: &[],
        words: "zinc in the copper, metal in the, pieces in the product, unreacted metal, specks, shiny, mixed with the product",
        test: "Look for shiny specks; the sum of both masses is right, only the shares are not.",
        next_time: "Pick the pieces out before the product is washed.",
        stock: true,
    },
    Cause {
        id: "product-on-metal",
        says: "Some of the {product} stayed on the {left} and was weighed with it",
        at: |scene| {
            pairs(scene, |product, reactant| Effect::Clinging {
                product,
                reactant,
            })
        },
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["solid_stuck_to_metal"],
        unless: &[],
        words: "stuck to the metal, stuck to the strip, stuck on the metal, stuck on the strip, stayed on the metal, stayed on the strip, left on the metal, left on the strip, not * scrap",
        test: "Scrape the metal clean into the product and weigh both again; the sum stays the same.",
        next_time: "Rub and rinse the metal over the beaker until it is bright.",
        stock: true,
    },
    Cause {
        id: "over-titrated",
        says: "The titration went past its end point",
        at: |scene| titrated(scene, Effect::MoreLeft, Effect::MoreProduct),
        most: bound::past_the_end,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "over-titrat, overtitrat, over titrat, past the end point, past the endpoint, passed the end point, passed the endpoint, overshot, overshoot, end point was passed, endpoint was passed, end point was exceeded, endpoint was exceeded, exceeded the end",
        test: "Titrate another portion, drop by drop near the end, and compare the two volumes.",
        next_time: "Titrate once roughly and then twice exactly, and stop at the first lasting change of colour.",
        stock: false,
    },
    Cause {
        id: "under-titrated",
        says: "The titration was stopped before its end point",
        at: |scene| titrated(scene, Effect::LessLeft, Effect::LessProduct),
        most: bound::past_the_end,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "under-titrat, undertitrat, under titrat, before the end point, before the endpoint, not * end point, not * endpoint, titrat * too early",
        test: "Add one more drop to the same flask: if the colour comes back for good, it was too early.",
        next_time: "Swirl and wait some seconds after each drop near the end.",
        stock: false,
    },
    Cause {
        id: "leftover-liquid-lost",
        says: "Some of the liquid with the {left} left over was lost before it was titrated",
        at: |scene| {
            leftovers(scene, Effect::LessLeft, |r| {
                scene.titrated(Kind::MeasuredLeft(r))
            })
        },
        most: bound::all_of_it,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "filtrate * spill, filtrate * spilt, filtrate * lost, spill * filtrate, spilt * filtrate, spilled * filtrate, lost * filtrate, lost * of the liquid",
        test: "Nothing shows it afterwards: it has to stand in the notes.",
        next_time: "Filter straight into the measuring flask, and rinse the first vessel into it.",
        stock: false,
    },
];
