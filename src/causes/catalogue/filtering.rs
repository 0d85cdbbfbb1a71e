//! What can happen to a precipitate and to the paper it is filtered on.

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

/// Whether a precipitate is put on a balance.
fn on_balance(scene: &Scene<'_>, product: usize) -> bool {
    scene.precipitate(product) && scene.weighs(Kind::Collected(product))
}

pub(super) const CAUSES: &[Cause] = &[
    Cause {
        id: "paper-damp",
        says: "The paper and the {product} on it were not dry when they were weighed",
        at: |scene| products(scene, Effect::MoreProduct, |p| scene.on_paper(p)),
        most: unbounded,
        picture: picture::in_drops,
        signs: &["product_still_damp"],
        unless: &[],
        words: "damp, wet, moist, not dry, not fully dry, not completely dry, damp paper, water left, paper took up, paper * taken up water, paper * taken up moisture, paper absorb, paper * absorbed water, paper * absorbed moisture, paper * from the air, paper * humid",
        test: "Dry the paper once more: if the mass falls, there was water in it.",
        next_time: "Open the paper while it dries, and dry it until two weighings agree.",
        stock: true,
    },
    Cause {
        id: "salt-in-paper",
        says: "{left_in_filter}",
        at: |scene| products(scene, Effect::MoreProduct, |p| on_balance(scene, p)),
        most: washing::bound,
        picture: no_picture,
        signs: &["washing_skipped"],
        unless: &[],
        words: "not * wash, not * rins, without washing, without rinsing, unwashed, salt * left, washing, rinsing, salt in the",
        test: "Test the last washing for the ions that should be gone.",
        next_time: "Wash with several small portions, each drained before the next.",
        stock: true,
    },
    Cause {
        id: "water-in-precipitate",
        says: "The {product} held water or other ions inside, not only on its surface",
        at: |scene| products(scene, Effect::MoreProduct, |p| on_balance(scene, p)),
        most: unbounded,
        picture: picture::as_share,
        signs: &[],
        unless: &[],
        words: "gel, adsorb, trapped water, holds water, inside the solid",
        test: "Dry a part at a higher temperature and weigh it again.",
        next_time: "Let the precipitate stand warm before it is filtered.",
        stock: false,
    },
    Cause {
        id: "solid-through-paper",
        says: "{through_filter}",
        at: |scene| {
            products(scene, Effect::LessProduct, |p| {
                scene.precipitate(p) || scene.wet() && scene.on_paper(p)
            })
        },
        most: bound::all_of_it,
        picture: picture::as_share,
        signs: &["filtrate_cloudy", "paper_torn"],
        unless: &[],
        words: "through the paper, through the filter, cloudy, torn, tore, filtrate, hole in the paper, hole in the filter, holes in the paper, holes in the filter, hole in our, paper * hole, filter * hole, past the paper, past the filter",
        test: "Let the filtrate stand and look for a layer of solid.",
        next_time: "{finer_filter}.",
        stock: true,
    },
    Cause {
        id: "precipitate-dissolved",
        says: "Some of the {product} dissolved in the washings",
        at: |scene| products(scene, Effect::LessProduct, |p| scene.precipitate(p)),
        most: |scene, _| {
            bound::grams(
                0.05,
                say!(
                    scene.lab.words,
                    "A solid that counts as insoluble loses some hundredths of a gram at most to a few hundred millilitres of water."
                ),
            )
        },
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "dissolved, dissolves, dissolve in the w, dissolve in w, dissolving, washed too much, overwash, over-wash, solub",
        test: "Look the solubility up and multiply it with the volume of the washings.",
        next_time: "Wash with small portions of cold water.",
        stock: false,
    },
    Cause {
        id: "paper-pieces-lost",
        says: "Pieces of the paper came off after it was weighed empty",
        at: |scene| {
            products(scene, Effect::LessProduct, |p| {
                scene.on_paper(p) && scene.tared(Kind::Collected(p))
            })
        },
        most: bound::piece_of_paper,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "pieces of paper, pieces of the paper, piece of paper, piece of the paper, bits of paper, bits of the paper, paper * came off, paper * fell off, paper * broke off, paper * ripped off, paper * torn off, paper fibres, paper * crumbl",
        test: "Look for scraps of paper in the funnel, on the glass and in the filtrate.",
        next_time: "Lift the wet paper out by its upper edge, and dry it together with every piece that came off.",
        stock: false,
    },
    Cause {
        id: "paper-weighed-damp",
        says: "The paper was weighed with the water of the air in it, and dry later",
        at: |scene| products(scene, Effect::HeavierVessel, |p| scene.on_paper(p)),
        most: bound::damp_paper,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "paper was damp, paper not dried, paper weighed, undried paper",
        test: "Dry an empty paper in the same way and weigh it before and after.",
        next_time: "Dry the empty paper before it is weighed.",
        stock: false,
    },
];
