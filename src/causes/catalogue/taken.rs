//! What can be wrong with the amounts that reacted: a reaction not at its end, more or less of a reactant than its mass says.

use crate::causes::catalogue::Cause;
use crate::causes::catalogue::bound;
use crate::causes::catalogue::leftovers;
use crate::causes::catalogue::limiting;
use crate::causes::catalogue::no_picture;
use crate::causes::catalogue::picture;
use crate::causes::catalogue::products;
use crate::causes::catalogue::unbounded;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::working::Kind;

/// Whether a reactant is put on a balance.
fn on_balance(scene: &Scene<'_>, reactant: usize) -> bool {
    scene.weighed(reactant) && scene.weighs(Kind::Mass(reactant))
}

/// Less of a reactant than was taken. Where it does not limit, only what is left of it shows that.
fn taken(scene: &Scene<'_>, fits: impl Fn(usize) -> bool) -> Vec<Effect> {
    let mut effects = limiting(scene, Effect::LessTaken, false, &fits);
    let others = (0..scene.lab.substances.len()).filter(|index| {
        let reactant = scene.substance(*index).reactant && scene.measured(*index);
        reactant && !scene.limiting.contains(index) && fits(*index)
    });
    effects.extend(others.map(Effect::LessTaken));
    effects
}

/// What a cause does to a reactant that limits. Of one in excess whose leftover nobody measures it changes nothing, and that is
/// worth saying where it is named.
fn any_taken(
    scene: &Scene<'_>,
    effect: fn(usize) -> Effect,
    inert: bool,
    fits: impl Fn(usize) -> bool,
) -> Vec<Effect> {
    let mut effects = limiting(scene, effect, inert, &fits);
    if !scene.heated() {
        let idle = (0..scene.lab.substances.len()).filter(|index| scene.idle(*index));
        effects.extend(idle.filter(|index| fits(*index)).map(effect));
    }
    effects
}

pub(super) const CAUSES: &[Cause] = &[
    Cause {
        id: "stopped-early",
        says: "The reaction was not at its end when it was stopped",
        at: |scene| {
            let any = !scene.products.is_empty() || !scene.leftovers.is_empty();
            if !any || scene.heated() || scene.limiting.is_empty() {
                Vec::new()
            } else if scene.predicts() {
                vec![Effect::Unreacted]
            } else {
                // Where nothing is predicted, what is left and what formed tell of what did not happen.
                let mut effects = leftovers(scene, Effect::MoreLeft, |_| true);
                effects.extend(products(scene, Effect::LessProduct, |p| {
                    scene.same_vessel(p).is_none()
                }));
                effects
            }
        },
        most: unbounded,
        picture: picture::as_unreacted,
        signs: &["liquid_still_coloured"],
        unless: &[],
        words: "not finished, not complete, incomplete, stopped early, too short, not enough time, still blue, still coloured, did not react, unreacted, more time",
        test: "{look}",
        next_time: "Wait until {until}, and stir or swirl now and then.",
        stock: true,
    },
    Cause {
        id: "more-water-than-stated",
        says: "The {taken} held more water than its label says, or was damp",
        at: |scene| {
            any_taken(scene, Effect::LessTaken, false, |r| {
                on_balance(scene, r) && scene.holds_water(r) && !scene.heated()
            })
        },
        most: bound::all_taken,
        picture: no_picture,
        signs: &[],
        unless: &["liquid_still_coloured"],
        words: "damp salt, damp crystals, hydrate, wet salt, wet crystals, too much water in",
        test: "Read the label of the bottle; if every group of the class is low by the same share, it is the salt.",
        next_time: "Read the formula on the label before working anything out.",
        stock: false,
    },
    Cause {
        id: "reactant-damp",
        says: "The {taken} was damp when it was weighed",
        at: |scene| {
            any_taken(scene, Effect::LessTaken, false, |r| {
                let dry = scene.metal(r).is_none() && !scene.holds_water(r);
                on_balance(scene, r) && dry && !scene.heated()
            })
        },
        most: bound::all_taken,
        picture: picture::in_drops,
        signs: &[],
        unless: &["liquid_still_coloured"],
        words: "was damp when we weighed, damp reactant, wet reactant, reactant was damp, reactant was wet, marble was wet, marble was damp",
        test: "Dry a sample of it and see whether it loses mass.",
        next_time: "Take it from a closed bottle, dry to look at and loose.",
        stock: false,
    },
    Cause {
        id: "reactant-vapour",
        says: "Some of the {taken} went off as vapour",
        at: |scene| {
            limiting(scene, Effect::NotPutIn, false, |r| {
                scene.volatile(r) && scene.weighed(r)
            })
        },
        most: bound::all_taken,
        picture: no_picture,
        signs: &["vapour_escaped"],
        unless: &[],
        words: "vapour, vapor, fumes, sublim, evaporated iodine, iodine evaporated, iodine escaped, violet smoke, purple smoke",
        test: "Look for colour above the vessel, and for crystals on a cold glass held over it.",
        next_time: "Weigh it in a closed vessel, and keep the mixture cool while it reacts.",
        stock: false,
    },
    Cause {
        id: "less-water-than-stated",
        says: "The {taken} held less water than its formula says",
        at: |scene| {
            limiting(scene, Effect::MoreTaken, false, |r| {
                on_balance(scene, r) && scene.waters(r) > 0 && !scene.heated()
            })
        },
        most: bound::all_the_water,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "anhydrous, dried out, pale crystals, lost its water, had lost * water, already lost * water, lost * water before, no water in, effloresc",
        test: "Look for pale or powdery crystals; if every group of the class is high by the same share, it is the salt.",
        next_time: "Take crystals from a bottle that was closed.",
        stock: false,
    },
    Cause {
        id: "drew-water-from-air",
        says: "The {taken} drew water from the air before it was weighed",
        at: |scene| {
            taken(scene, |r| {
                on_balance(scene, r) && scene.deliquescent(r) && !scene.heated()
            })
        },
        most: bound::all_taken,
        picture: picture::in_drops,
        signs: &[],
        unless: &[],
        words: "hygroscopic, from the air, humid, sticky, moisture, taken up water, took up water, absorbed water",
        test: "Look for sticky or wet grains; leave some on the balance and watch whether it gains.",
        next_time: "Weigh it at once, and close the bottle.",
        stock: false,
    },
    Cause {
        id: "took-up-carbon-dioxide",
        says: "The {taken} had taken up carbon dioxide from the air",
        at: |scene| taken(scene, |r| scene.binds_carbon_dioxide(r)),
        most: bound::all_taken,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "up carbon dioxide, up co2, absorbed carbon dioxide, absorbed co2, carbonated, with carbon dioxide from the air, with co2 from the air, carbon dioxide from the air, co2 from the air, turned to carbonate, carbonate in the",
        test: "Add a little barium chloride solution to a sample: a white cloud is carbonate.",
        next_time: "Keep the bottle closed, use it fresh, and compare it with an acid of known strength.",
        stock: false,
    },
    Cause {
        id: "left-in-weighing-dish",
        says: "Some of the {taken} stayed in the dish it was weighed in",
        at: |scene| {
            any_taken(scene, Effect::NotPutIn, false, |r| {
                on_balance(scene, r) && scene.metal(r).is_none() && !scene.heated()
            })
        },
        most: bound::all_taken,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "left in the dish, in the weighing, stayed in the dish, not all transferred, grains in the dish, left in the boat",
        test: "Weigh the dish again after emptying it.",
        next_time: "Weigh the dish after emptying, or rinse it into the beaker.",
        stock: false,
    },
    Cause {
        id: "reactant-spilled",
        says: "Some of the {taken} was spilled before it reacted",
        at: |scene| {
            any_taken(scene, Effect::NotPutIn, false, |r| {
                // What became of something weighed before was never weighed itself.
                let taken = scene.weighed(r) || scene.as_solution(r);
                taken && !scene.heated() && scene.metal(r).is_none()
            })
        },
        most: bound::all_taken,
        picture: no_picture,
        signs: &["sample_spilled"],
        unless: &[],
        words: "spilled salt, spilt salt, spilled crystals, spilled solution, spilt solution, splashed solution",
        test: "Nothing on the balance shows it afterwards: it has to stand in the notes.",
        next_time: "Weigh again what was spilled and picked up, or start anew.",
        stock: false,
    },
    Cause {
        id: "reactant-impure",
        says: "The {taken} was not pure",
        at: |scene| any_taken(scene, Effect::LessTaken, true, |r| scene.weighed(r)),
        most: bound::all_taken,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "impur, not pure, dirty, contaminat",
        test: "Read the purity on the label; repeat with a sample of known purity.",
        next_time: "Write the purity from the label into the lab description.",
        stock: true,
    },
    Cause {
        id: "solution-weaker",
        says: "The solution of {taken} was weaker than its label says",
        at: |scene| any_taken(scene, Effect::LessTaken, false, |r| scene.as_solution(r)),
        most: bound::all_taken,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "weaker, diluted, concentration, wrong molarity, too dilute, too weak, concentration * too low, molarity * too low",
        test: "Titrate the solution, or compare with a fresh bottle.",
        next_time: "Write the date and the concentration found onto the bottle.",
        stock: false,
    },
    Cause {
        id: "solution-stronger",
        says: "The solution of {taken} was stronger than its label says",
        at: |scene| any_taken(scene, Effect::MoreTaken, false, |r| scene.as_solution(r)),
        most: unbounded,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "stronger, more concentrated, too concentrated, too strong, concentration, wrong molarity, concentration * too high, molarity * too high",
        test: "Titrate the solution, or compare with a fresh bottle.",
        next_time: "Write the date and the concentration found onto the bottle.",
        stock: false,
    },
    Cause {
        id: "oxide-on-reactant",
        says: "The {taken} had a skin of oxide when it was weighed",
        at: |scene| limiting(scene, Effect::LessTaken, true, |r| scene.oxidises(r)),
        most: bound::skin,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "not sanded, not polished, dull, oxide layer, oxide skin, oxide on the ribbon",
        test: "Compare with a piece rubbed bright.",
        next_time: "Rub the metal bright just before the first weighing.",
        stock: false,
    },
    Cause {
        id: "too-little-metal",
        says: "The {left} did not reach all of the solution, so that not everything reacted",
        at: |scene| {
            let metal = scene.leftovers.iter().any(|r| scene.metal(*r).is_some());
            if metal && scene.wet() {
                vec![Effect::Unreacted]
            } else {
                Vec::new()
            }
        },
        most: unbounded,
        picture: picture::as_unreacted,
        signs: &["liquid_still_coloured"],
        unless: &[],
        words: "coated the, covered the, coated with copper, covered with copper, covered in copper, copper coated, copper covered, not * stir, without stirring, did not touch, surface",
        test: "Stir, and scrape the metal. {look}",
        next_time: "Stir and scrape the metal while it reacts.",
        stock: false,
    },
];
