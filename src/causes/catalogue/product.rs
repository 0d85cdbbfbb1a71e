//! What can happen to a product between its making and its last weighing.

use crate::causes::catalogue::Cause;
use crate::causes::catalogue::bound;
use crate::causes::catalogue::no_picture;
use crate::causes::catalogue::picture;
use crate::causes::catalogue::products;
use crate::causes::catalogue::unbounded;
use crate::causes::catalogue::washing;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::say;
use crate::working::Kind;

/// Whether a product is put on a balance.
fn weighed(scene: &Scene<'_>, product: usize) -> bool {
    scene.weighs(Kind::Collected(product))
}

pub(super) const CAUSES: &[Cause] = &[
    Cause {
        id: "product-damp",
        says: "The {product} was not dry when it was weighed",
        at: |scene| {
            products(scene, Effect::MoreProduct, |p| {
                !scene.gas(p) && weighed(scene, p) && !scene.heated() && !scene.on_paper(p)
            })
        },
        most: unbounded,
        picture: picture::in_drops,
        signs: &["product_still_damp"],
        unless: &[],
        words: "damp, wet, moist, not dry, not fully dry, not completely dry, still water, water left, water in the",
        test: "{again}: if the mass falls, there was water in it.",
        next_time: "{until_dry}.",
        stock: true,
    },
    Cause {
        id: "product-oxidised",
        says: "Some of the {product} took up oxygen while it dried",
        at: |scene| {
            products(scene, Effect::MoreProduct, |p| {
                weighed(scene, p) && scene.displaced(p) && scene.oxidises(p)
            })
        },
        most: bound::full_oxide,
        picture: no_picture,
        signs: &["solid_looked_dark"],
        unless: &[],
        words: "oxid, tarnish, rust, went black, turned black, turned brown, went dark, oxygen",
        test: "Look for dark or dull patches; drying again makes the mass rise, not fall.",
        next_time: "Dry at a lower temperature, and no longer than the mass keeps falling.",
        stock: true,
    },
    Cause {
        id: "salt-not-rinsed",
        says: "Dissolved salt was left in the {product} and dried with it",
        at: |scene| {
            products(scene, Effect::MoreProduct, |p| {
                weighed(scene, p) && scene.displaced(p)
            })
        },
        most: washing::bound,
        picture: no_picture,
        signs: &["washing_skipped"],
        unless: &[],
        words: "not * wash, not * rins, without washing, without rinsing, unwashed, salt * left, rinsed badly, washed badly, washing, rinsing, salt in the",
        test: "Wash the {product} once more, dry and weigh it; look for a pale crust on the glass.",
        next_time: "Wash in several small portions, and pour off as much as you can each time.",
        stock: true,
    },
    Cause {
        id: "rust-deposited",
        says: "Rust or another brown deposit of iron settled with the {product}",
        at: |scene| {
            let iron = scene
                .leftovers
                .iter()
                .any(|r| scene.metal(*r).is_some_and(|m| m.symbol() == "Fe"));
            products(scene, Effect::MoreProduct, |p| {
                iron && weighed(scene, p) && scene.displaced(p)
            })
        },
        most: unbounded,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "rust, orange, brown film, iron hydroxide",
        test: "Look for an orange film, and for washings that stay cloudy.",
        next_time: "Do not let the wet iron stand in air; finish the washing the same day.",
        stock: false,
    },
    Cause {
        id: "tap-water-residue",
        says: "Tap water left its own salts in the {product}",
        at: |scene| {
            products(scene, Effect::MoreProduct, |p| {
                weighed(scene, p) && (scene.displaced(p) || scene.precipitate(p))
            })
        },
        most: |scene, _| {
            bound::grams(
                0.05,
                say!(
                    scene.lab.words,
                    "Even hard tap water leaves only some hundredths of a gram for each 100 mL that dries up."
                ),
            )
        },
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "tap water, hard water, limescale, impure water, not distilled",
        test: "Dry up as much of the water in a clean vessel and weigh what stays.",
        next_time: "Use distilled water from the first rinse to the last.",
        stock: false,
    },
    Cause {
        id: "product-poured-away",
        says: "Some of the {product} was poured away with the liquid",
        at: |scene| products(scene, Effect::LessProduct, |p| scene.under_liquid(p)),
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["solid_poured_away"],
        unless: &[],
        words: "poured, decant, washed away, floated, lost * wash, lost * rins, lost in the washing, tipped",
        test: "Let the liquids that were poured off settle in one beaker and look for solid at the bottom.",
        next_time: "Wait until the solid has settled, and pour along a glass rod.",
        stock: true,
    },
    Cause {
        id: "solid-left-behind",
        says: "Some of the {product} stayed on the glass, the rod or the tools",
        at: |scene| {
            products(scene, Effect::LessProduct, |p| {
                !scene.gas(p) && !scene.heated()
            })
        },
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["solid_stuck_to_glass"],
        unless: &[],
        words: "stuck, left behind, stayed on, stayed in the beaker, on the rod, on the glass, transfer, scrap",
        test: "Rinse the tools and vessels into a weighed dish, dry it and weigh it.",
        next_time: "Rinse every tool into the vessel that is weighed.",
        stock: true,
    },
    Cause {
        id: "product-spilled",
        says: "Some of the {product} was spilled",
        at: |scene| products(scene, Effect::LessProduct, |p| !scene.gas(p)),
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["sample_spilled"],
        unless: &[],
        words: "spill, dropped, fell out, knocked, lost some, was lost, got lost, losing",
        test: "Nothing on the balance shows it afterwards: it has to stand in the notes.",
        next_time: "Move the vessel less, and write down at once what is lost.",
        stock: true,
    },
    Cause {
        id: "stayed-in-solution",
        says: "Some of the {product} stayed in the liquid it crystallised from",
        at: |scene| products(scene, Effect::LessProduct, |p| scene.crystallised(p)),
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["liquid_still_coloured"],
        unless: &[],
        words: "still dissolved, in the solution, in solution, in the liquid, in the filtrate, mother liquor, solub, dissolved in the wash, washed away, rinsed away, did not crystallise, crystallis",
        test: "Let the liquid stand for some days and collect what crystallises from it.",
        next_time: "Use less water, cool the liquid longer, and rinse with little cold water.",
        stock: true,
    },
    Cause {
        id: "liquid-left-in-salt",
        says: "Water or acid was left in the {product} after evaporating",
        at: |scene| {
            products(scene, Effect::MoreProduct, |p| {
                scene.from_liquor(p) && !scene.crystallised(p)
            })
        },
        most: unbounded,
        picture: picture::in_drops,
        signs: &["product_still_damp"],
        unless: &[],
        words: "not evaporated, acid left, evaporat",
        test: "Heat and weigh again until two weighings agree.",
        next_time: "Evaporate to constant mass at low heat.",
        stock: false,
    },
    Cause {
        id: "splashed-out",
        says: "Drops of the liquid jumped out while it was evaporated",
        at: |scene| products(scene, Effect::LessProduct, |p| scene.from_liquor(p)),
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["spattering_seen"],
        unless: &[],
        words: "splash, spat, jumped, spray, boiled over",
        test: "Look for specks of salt around the dish and on the watch glass.",
        next_time: "Cover the dish with its watch glass and use a smaller flame near the end.",
        stock: false,
    },
    Cause {
        id: "spray-lost",
        says: "Fine drops of acid left the flask with the gas",
        at: |scene| {
            products(scene, Effect::MoreProduct, |p| {
                scene.gas_weighed(p) && scene.wet()
            })
        },
        most: unbounded,
        picture: picture::in_drops,
        signs: &["spattering_seen"],
        unless: &[],
        words: "spray, splash, acid lost, fizz, drops",
        test: "Weigh the plug of cotton wool before and after.",
        next_time: "Put a loose plug of cotton wool into the neck, and add the solid slowly.",
        stock: true,
    },
    Cause {
        id: "water-evaporated",
        says: "Water evaporated from the flask and counted as gas",
        at: |scene| {
            products(scene, Effect::MoreProduct, |p| {
                scene.gas_weighed(p) && scene.wet()
            })
        },
        most: unbounded,
        picture: picture::in_drops,
        signs: &[],
        unless: &[],
        words: "evaporat, water vapour, steam",
        test: "Keep weighing after the fizzing: a mass that goes on falling at an even rate is water.",
        next_time: "Weigh as soon as the fizzing is over, and keep the flask cool.",
        stock: false,
    },
    Cause {
        id: "gas-dissolved",
        says: "Some of the {product} stayed dissolved in the liquid",
        at: |scene| {
            products(scene, Effect::LessProduct, |p| {
                scene.gas_weighed(p) && scene.wet() && scene.substance(p).formula.plain() == "CO2"
            })
        },
        most: bound::dissolved_gas,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "dissolved, stayed in the liquid, gas left in",
        test: "Swirl the flask and weigh again: the mass falls as the gas comes out.",
        next_time: "Swirl until no more bubbles rise, then weigh.",
        stock: false,
    },
    Cause {
        id: "product-reduced",
        says: "Some of the {product} lost oxygen to the carbon of the paper or to the flame",
        at: |scene| {
            products(scene, Effect::LessProduct, |p| {
                let glowed = scene.heated() || scene.ignited(p);
                glowed && weighed(scene, p) && scene.lower_oxide(p).is_some()
            })
        },
        most: bound::full_reduction,
        picture: no_picture,
        signs: &["solid_looked_dark"],
        unless: &[],
        words: "magnetite, magnetic, reduced to, reduced by the, partly reduced, oxide was reduced, reduced the oxide, lower oxide",
        test: "Hold a magnet to the solid, or look for black; heat it once more with the lid off: the mass rises.",
        next_time: "Char the paper slowly and burn it away before the strong flame, with air let in.",
        stock: false,
    },
];
