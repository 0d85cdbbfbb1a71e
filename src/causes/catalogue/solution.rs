//! What can be wrong with a sample that only the lab's own quantities speak of, and with what is titrated with.

use crate::causes::catalogue::Cause;
use crate::causes::catalogue::leftovers;
use crate::causes::catalogue::no_picture;
use crate::causes::catalogue::picture;
use crate::causes::catalogue::products;
use crate::causes::catalogue::unbounded;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::working::Kind;
use crate::working::Variable;

/// One effect for the sample, where the lab weighs one.
fn sample(scene: &Scene<'_>) -> Vec<Effect> {
    let reading = scene.sample().map(Variable::Reading);
    reading.map(Effect::Overstated).into_iter().collect()
}

/// One effect for every solution that is titrated with.
fn titrants(scene: &Scene<'_>, effect: fn(Variable) -> Effect) -> Vec<Effect> {
    let measured = scene.products.iter().map(|p| Kind::Collected(*p));
    let left = scene.leftovers.iter().map(|r| Kind::MeasuredLeft(*r));
    let givens = measured.chain(left).flat_map(|kind| scene.titrants(kind));
    let mut effects: Vec<Effect> = givens.map(|it| effect(Variable::Given(it))).collect();
    effects.sort_unstable();
    effects.dedup();
    effects
}

pub(super) const CAUSES: &[Cause] = &[
    Cause {
        id: "titrant-weaker",
        says: "The solution that was titrated with was weaker than its label says ({input})",
        at: |scene| titrants(scene, Effect::Overstated),
        most: unbounded,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "weaker, diluted, concentration, wrong molarity, too dilute, too weak, concentration * too low, molarity * too low",
        test: "Titrate a solution of known strength with it.",
        next_time: "Write the date and the concentration found onto the bottle.",
        stock: false,
    },
    Cause {
        id: "titrant-stronger",
        says: "The solution that was titrated with was stronger than its label says ({input})",
        at: |scene| titrants(scene, Effect::Understated),
        most: unbounded,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "stronger, more concentrated, too concentrated, too strong, concentration, wrong molarity, concentration * too high, molarity * too high",
        test: "Titrate a solution of known strength with it.",
        next_time: "Write the date and the concentration found onto the bottle.",
        stock: false,
    },
    Cause {
        id: "air-in-burette",
        says: "A bubble of air left the burette during the titration and counted as solution",
        at: |scene| {
            let mut effects = leftovers(scene, Effect::MoreLeft, |r| {
                scene.titrated(Kind::MeasuredLeft(r))
            });
            effects.extend(products(scene, Effect::MoreProduct, |p| {
                scene.titrated(Kind::Collected(p))
            }));
            effects
        },
        most: unbounded,
        picture: no_picture,
        signs: &[],
        unless: &[],
        words: "air bubble * burette, burette * air bubble, bubble * burette, burette * bubble, air in the burette, air was in the burette, air in the tip, bubble in the tip, burette * air in",
        test: "Look at the tip below the tap: a bubble that was there before is gone.",
        next_time: "Let some solution run out until the tip is full, and only then read the start.",
        stock: false,
    },
    Cause {
        id: "sample-lost",
        says: "Some of what was weighed as “{input}” was lost before it was used",
        at: sample,
        most: unbounded,
        picture: no_picture,
        signs: &["sample_spilled"],
        unless: &[],
        words: "sample * spill, sample * spilt, sample * lost, spilled * sample, spilt * sample, lost * sample",
        test: "Nothing shows it afterwards: it has to stand in the notes.",
        next_time: "Weigh it into the vessel in which it is used.",
        stock: false,
    },
    Cause {
        id: "sample-damp",
        says: "What was weighed as “{input}” was damp",
        at: sample,
        most: unbounded,
        picture: picture::in_drops,
        signs: &[],
        unless: &[],
        words: "sample * damp, sample * wet, damp sample, wet sample, sample * not dry, sample * not dried",
        test: "Dry a part of it and see whether it loses mass.",
        next_time: "Dry it to constant mass before it is weighed.",
        stock: false,
    },
];
