//! What can happen in a crucible.

use crate::causes::catalogue::Cause;
use crate::causes::catalogue::bound;
use crate::causes::catalogue::no_picture;
use crate::causes::catalogue::picture;
use crate::causes::catalogue::products;
use crate::causes::catalogue::unbounded;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::say;
use crate::working::Kind;

/// Whether heating drives off nothing but the water of crystals.
fn dries_crystals(scene: &Scene<'_>) -> bool {
    let equation = scene.equation();
    let mut gases = equation
        .products
        .iter()
        .filter(|species| species.formula.state() == Some(crate::chem::formula::State::Gas));
    scene.heated()
        && equation
            .reactants
            .iter()
            .any(|species| species.formula.waters().1 > 0 || species.formula.open_waters())
        && gases.all(|species| species.formula.plain() == "H2O")
}

/// Whether heating takes a solid apart in another way.
fn decomposes(scene: &Scene<'_>) -> bool {
    scene.heated() && !scene.burnt() && !dries_crystals(scene)
}

/// Part of the reaction left undone, in a lab where something holds.
fn undone(scene: &Scene<'_>, holds: bool) -> Vec<Effect> {
    let predicted = |p: &usize| scene.step(Kind::Theoretical(*p)).is_some();
    if !holds || scene.products.is_empty() {
        Vec::new()
    } else if scene.products.iter().any(predicted) {
        vec![Effect::Unreacted]
    } else if scene.burnt() {
        // Where nothing is predicted, only the mass of what stayed tells of what did not happen.
        less_residue(scene)
    } else {
        more_residue(scene)
    }
}

/// Whether a solid product holds magnesium and oxygen only.
fn magnesium_oxide(scene: &Scene<'_>, product: usize) -> bool {
    scene.burnt() && scene.substance(product).formula.plain() == "MgO"
}

/// Less of what stays in the crucible, which is more of the gas that left.
fn less_residue(scene: &Scene<'_>) -> Vec<Effect> {
    let mut effects = products(scene, Effect::LessProduct, |p| {
        scene.heated() && !scene.gas(p)
    });
    effects.extend(products(scene, Effect::MoreProduct, |p| {
        scene.heated() && scene.gas(p)
    }));
    effects
}

/// More of what stays in the crucible, which is less of the gas that left.
fn more_residue(scene: &Scene<'_>) -> Vec<Effect> {
    let mut effects = products(scene, Effect::MoreProduct, |p| {
        scene.heated() && !scene.gas(p)
    });
    effects.extend(products(scene, Effect::LessProduct, |p| {
        scene.heated() && scene.gas(p)
    }));
    effects
}

pub(super) const CAUSES: &[Cause] = &[
    Cause {
        id: "not-heated-enough",
        says: "The crystals were not heated long enough to lose all their water",
        at: |scene| undone(scene, dries_crystals(scene)),
        most: unbounded,
        picture: picture::as_unreacted,
        signs: &["residue_still_coloured"],
        unless: &["solid_looked_dark"],
        words: "not * heat, heated too short, still blue, water left, not long enough, not all the water",
        test: "Heat once more: if the mass falls, there was water left.",
        next_time: "Heat, cool and weigh until two weighings agree.",
        stock: true,
    },
    Cause {
        id: "crystals-dried-before",
        says: "The crystals had lost some of their water before they were weighed",
        at: |scene| {
            if dries_crystals(scene) {
                more_residue(scene)
            } else {
                Vec::new()
            }
        },
        most: unbounded,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "had lost * water, already lost * water, lost * water before, lost * water in the bottle, lost * water in the jar, lost * water to the air, already white, already pale, already dry, white before, pale crystals, dried out, dried before, anhydrous, effloresc",
        test: "Look for pale or powdery crystals in the bottle; if every group of the class is low by the same share, it is the salt.",
        next_time: "Take crystals from a bottle that was closed.",
        stock: false,
    },
    Cause {
        id: "salt-decomposed",
        says: "The salt itself began to decompose",
        at: |scene| {
            if dries_crystals(scene) {
                less_residue(scene)
            } else {
                Vec::new()
            }
        },
        most: unbounded,
        picture: no_picture,
        signs: &["solid_looked_dark"],
        unless: &["residue_still_coloured"],
        words: "overheat, too hot, decompos, brown, black, burnt",
        test: "Look for brown or black; more water than the formula holds cannot come from the crystals.",
        next_time: "Use a gentle flame and stop when the colour is gone.",
        stock: true,
    },
    Cause {
        id: "water-taken-up-again",
        says: "The residue held water again when it was weighed, from the air or from the lid",
        at: |scene| {
            if dries_crystals(scene) || decomposes(scene) {
                more_residue(scene)
            } else {
                Vec::new()
            }
        },
        most: unbounded,
        picture: picture::in_drops,
        signs: &[],
        unless: &[],
        words: "took up water, absorbed water, while cooling, from the air, humid, turned blue again",
        test: "Watch the balance: a mass that creeps up is water coming in.",
        next_time: "Cool it covered, and weigh it as soon as it is cold.",
        stock: false,
    },
    Cause {
        id: "not-decomposed",
        says: "Part of the solid was not decomposed yet",
        at: |scene| undone(scene, decomposes(scene)),
        most: unbounded,
        picture: picture::as_unreacted,
        signs: &["residue_still_coloured"],
        unless: &[],
        words: "not decomposed, decompos, not * heat, incomplete, not finished, too short, not long enough, unreacted",
        test: "Heat once more: if the mass falls, it was not at its end.",
        next_time: "Spread the powder thin, and heat until two weighings agree.",
        stock: true,
    },
    Cause {
        id: "metal-not-burnt",
        says: "Part of the metal was not burnt",
        at: |scene| undone(scene, scene.burnt() && scene.heated()),
        most: unbounded,
        picture: picture::as_unreacted,
        signs: &["metal_in_product"],
        unless: &[],
        words: "not * burn, not * oxidi, not * heat, not enough oxygen, not enough air, unburn, metal left, grey, incomplete, did not react",
        test: "Look for grey metal under the powder; heat once more and see whether the mass rises.",
        next_time: "Lift the lid more often, and heat until two weighings agree.",
        stock: true,
    },
    Cause {
        id: "smoke-lost",
        says: "Some of the {product} left as white smoke",
        at: |scene| {
            products(scene, Effect::LessProduct, |p| {
                scene.burnt() && scene.heated() && !scene.gas(p)
            })
        },
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["smoke_escaped"],
        unless: &[],
        words: "smoke, escaped, powder lost, dust, flew",
        test: "Look for white powder on the lid and the triangle.",
        next_time: "Lift the lid only a little, and only for a moment.",
        stock: true,
    },
    Cause {
        id: "nitride-formed",
        says: "Some of the metal took nitrogen from the air instead of oxygen",
        at: |scene| products(scene, Effect::LessProduct, |p| magnesium_oxide(scene, p)),
        most: bound::all_nitride,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "nitride, nitrogen, ammonia, smell",
        test: "A drop of water on the cold product gives a smell of ammonia.",
        next_time: "Add a few drops of water to the cold product and heat it again, as the teacher shows.",
        stock: true,
    },
    Cause {
        id: "hydroxide-left",
        says: "The {product} still held water from the step with water, as hydroxide",
        at: |scene| products(scene, Effect::MoreProduct, |p| magnesium_oxide(scene, p)),
        most: bound::all_hydroxide,
        picture: picture::in_drops,
        signs: &[],
        unless: &[],
        words: "hydroxide, water left, not heated again, still wet, damp",
        test: "Heat once more: if the mass falls, there was hydroxide in it.",
        next_time: "After the water, heat strongly until two weighings agree.",
        stock: false,
    },
    Cause {
        id: "solid-lost",
        says: "Some of the solid jumped or blew out of the crucible",
        at: |scene| {
            let mut effects = less_residue(scene);
            effects.extend(products(scene, Effect::LessProduct, |p| {
                !scene.heated() && scene.ignited(p)
            }));
            effects
        },
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["spattering_seen"],
        unless: &[],
        words: "jumped, spat, blew, blown, splash, popped, powder lost",
        test: "Look for grains on the lid and around the crucible.",
        next_time: "Start with a small flame, and leave the lid nearly shut.",
        stock: true,
    },
    Cause {
        id: "soot-on-crucible",
        says: "Soot settled on the crucible after it was weighed empty",
        at: |scene| more_residue(scene),
        most: |scene, _| {
            bound::grams(
                0.02,
                say!(
                    scene.lab.words,
                    "A film of soot weighs a hundredth of a gram or two at most."
                ),
            )
        },
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "soot, black outside, yellow flame",
        test: "Look at the outside; wipe it and weigh again.",
        next_time: "Open the air hole of the burner before the crucible goes into the flame.",
        stock: false,
    },
];
