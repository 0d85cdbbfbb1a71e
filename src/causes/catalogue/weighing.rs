//! What can go wrong at the balance, in any lab.

use crate::causes::catalogue::Cause;
use crate::causes::catalogue::bound;
use crate::causes::catalogue::leftovers;
use crate::causes::catalogue::no_picture;
use crate::causes::catalogue::picture;
use crate::causes::catalogue::products;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::say;
use crate::working::Kind;

/// A product too heavy or too light, a leftover too heavy or too light.
fn any(scene: &Scene<'_>) -> Vec<Effect> {
    let product = |p| scene.weighs(Kind::Collected(p));
    let left = |r| scene.weighs(Kind::MeasuredLeft(r));
    let mut effects = products(scene, Effect::MoreProduct, product);
    effects.extend(products(scene, Effect::LessProduct, product));
    effects.extend(leftovers(scene, Effect::MoreLeft, left));
    effects.extend(leftovers(scene, Effect::LessLeft, left));
    effects
}

/// A vessel with its residue too light; of a gas that heat drove out of it, more seems to have left.
fn lighter(scene: &Scene<'_>, fits: impl Fn(usize) -> bool) -> Vec<Effect> {
    let fits = |p: usize| scene.weighs(Kind::Collected(p)) && fits(p);
    let mut effects = products(scene, Effect::LessProduct, |p| !scene.gas(p) && fits(p));
    effects.extend(products(scene, Effect::MoreProduct, |p| {
        driven_off(scene, p) && fits(p)
    }));
    effects
}

/// Whether a product is a gas that is told by what a heated vessel loses.
fn driven_off(scene: &Scene<'_>, product: usize) -> bool {
    scene.heated() && scene.gas_weighed(product)
}

pub(super) const CAUSES: &[Cause] = &[
    Cause {
        id: "label-added",
        says: "A label or tape was put on the vessel after it was weighed empty",
        at: |scene| {
            products(scene, Effect::MoreProduct, |p| {
                !scene.gas(p)
                    && !scene.heated()
                    && scene.weighs(Kind::Collected(p))
                    && scene.tared(Kind::Collected(p))
            })
        },
        most: |scene, _| {
            bound::grams(
                1.0,
                say!(
                    scene.lab.words,
                    "A label or a strip of tape weighs a gram at most."
                ),
            )
        },
        picture: no_picture,
        signs: &["label_added_later"],
        unless: &[],
        words: "label, tape, sticker, pen on the",
        test: "Weigh a label of the same kind.",
        next_time: "Mark the vessel before it is weighed empty.",
        stock: false,
    },
    Cause {
        id: "vessel-damp-at-first",
        says: "The empty vessel was damp or dirty when it was weighed",
        at: |scene| {
            let vessel = |p: usize| {
                let product = Kind::Collected(p);
                !scene.on_paper(p) && scene.weighs(product) && scene.tared(product)
            };
            let mut effects = products(scene, Effect::HeavierVessel, |p| {
                !scene.gas(p) && vessel(p) && scene.same_vessel(p).is_none()
            });
            effects.extend(lighter(scene, |p| {
                vessel(p) && scene.same_vessel(p).is_some()
            }));
            effects
        },
        most: |scene, _| {
            bound::grams(
                0.5,
                say!(
                    scene.lab.words,
                    "Half a gram is ten drops of water: that would have been seen."
                ),
            )
        },
        picture: picture::in_drops,
        signs: &[],
        unless: &[],
        words: "beaker * wet, beaker * damp, beaker * dirty, beaker * not * dry, dish * wet, dish * dirty, dish * not * dry, dirty beaker, dirty dish, wet dish, damp beaker, wet beaker, crucible * wet, crucible * damp, crucible * dirty, crucible * not * dry, wet crucible, damp crucible, dirty crucible",
        test: "Clean and dry the vessel after the lab, and weigh it empty again.",
        next_time: "Dry the empty vessel as the full one will be dried, then weigh it.",
        stock: false,
    },
    Cause {
        id: "weighed-warm",
        says: "The vessel was still warm when it was weighed at the end",
        at: |scene| lighter(scene, |_| true),
        most: |scene, _| {
            bound::grams(
                0.05,
                say!(
                    scene.lab.words,
                    "Warm air in and around a vessel makes it a few hundredths of a gram lighter, not more."
                ),
            )
        },
        picture: no_picture,
        signs: &["vessel_warm_at_weighing"],
        unless: &[],
        words: "warm, hot when, still hot, not cooled, too hot to",
        test: "Weigh it again when it is cold: the reading rises.",
        next_time: "Let it cool to room temperature before every weighing.",
        stock: false,
    },
    Cause {
        id: "different-balances",
        says: "Two weighings that are subtracted were made on two balances",
        at: any,
        most: bound::balances,
        picture: no_picture,
        signs: &["different_balance_used"],
        unless: &[],
        words: "other balance, another balance, different balance, second balance, two balances, balances, changed the balance, zero, tare, calibrat",
        test: "Weigh the same object on both.",
        next_time: "Note the number of the balance, and keep to it.",
        stock: true,
    },
    Cause {
        id: "vessels-exchanged",
        says: "The vessel was another one than the one weighed empty",
        at: |scene| {
            let fits = |p: usize| {
                let product = Kind::Collected(p);
                let vessel = scene.weighs(product) && scene.tared(product);
                vessel && (!scene.gas(p) || driven_off(scene, p))
            };
            let mut effects = products(scene, Effect::MoreProduct, fits);
            effects.extend(products(scene, Effect::LessProduct, fits));
            effects
        },
        most: bound::another_vessel,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "wrong beaker, wrong vessel, mixed up, exchanged, swapped, other beaker",
        test: "Weigh the vessel empty again, and compare its number with the sheet.",
        next_time: "Number the vessel, and write the number beside the reading.",
        stock: false,
    },
];
