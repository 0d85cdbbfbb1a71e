//! Words by which the students' own text is recognised, in English; each language's strings file has its own in their place.
//!
//! Each is a list in small letters, a comma and a blank between its words. A translation has the words that its students write.

use crate::causes::catalogue;
use crate::lab::ignited::FILTERS;
use crate::lab::ignited::IGNITED;
use crate::words::Words;

/// Words that speak of what a sign asks, as word beginnings; one with a blank behind it is a whole word.
pub(super) const SIGNS: &[(&str, &str)] = &[
    ("air_in_tube", "air bubble, air in the, bubble of air"),
    (
        "bubbles_escaped",
        "bubbles went past, bubbles got out, gas got out, escaped, leak",
    ),
    ("bubbles_on_metal", "bubbl, fizz, gas "),
    (
        "different_balance_used",
        "other balance, another balance, different balance, second balance",
    ),
    ("filtrate_cloudy", "cloudy, milky, turbid"),
    ("label_added_later", "label, tape, sticker"),
    (
        "levels_differed",
        "levels differ, level was higher, level was lower, not equal",
    ),
    (
        "liquid_still_coloured",
        "still blue, still green, still coloured, still colored, pale blue, bluish liquid",
    ),
    (
        "metal_in_product",
        "shiny, metal specks, bits of metal, pieces of metal, grey specks",
    ),
    ("paper_torn", "torn, tore, ripped, hole in the paper"),
    ("product_still_damp", "damp, wet, moist, clump"),
    (
        "residue_still_coloured",
        "still blue, bluish, still coloured, still colored, still green",
    ),
    ("sample_spilled", "spill, spilt, knocked over, dropped"),
    ("smoke_escaped", "smoke, dust"),
    ("solid_looked_dark", "dark, black, brownish, dull"),
    (
        "solid_poured_away",
        "poured off, poured away, floated off, floated away, washed away, decanted",
    ),
    (
        "solid_stuck_to_glass",
        "stuck to the glass, stuck to the beaker, stuck to the rod, film on the glass, left on the glass",
    ),
    (
        "solid_stuck_to_metal",
        "stuck to the metal, stuck to the strip, stuck to the zinc, clung, would not come off",
    ),
    ("spattering_seen", "spatter, splash, jumped, popped, spat "),
    (
        "vapour_escaped",
        "violet vapour, purple vapour, brown vapour, violet smoke, purple smoke, fumes",
    ),
    (
        "vessel_warm_at_weighing",
        "still warm, still hot, warm to the touch",
    ),
    (
        "washing_skipped",
        "only one wash, only washed once, washed once, no time to wash, skipped",
    ),
];

/// Words that turn what follows into its opposite.
pub(super) const NOT: &str = "no, not, never, without, none, nothing, neither, nor, didn't, wasn't, weren't, hardly, couldn't";

/// The same of what stands before them: only a plain not, for “bubbles and no smoke” speaks of something else.
pub(super) const NOT_BEHIND: &str = "not, none, never, weren't, wasn't";

/// Words with which something else begins.
pub(super) const BUT: &str = "but";

/// Words of four letters or more that say nothing by themselves.
pub(super) const EMPTY: &str = "that, this, with, were, from, have, then, when, some, there, they, very, into, which, went, came, could, would, because, while, after, before, them, these, been, also";

/// How students write that a result is too high.
pub(super) const HIGHER: &str = "higher, high, more, greater, larger, bigger, up, increase, above";

/// How students write that a result is too low.
pub(super) const LOWER: &str = "lower, low, less, smaller, down, decrease, below, fewer";

/// Names of causes that say nothing of what happened.
pub(super) const NO_CAUSE: &str =
    "human error, human mistake, faulty equipment, bad equipment, measurement error, inaccura";

/// Words that say that a reading was taken wrongly, and not which way.
pub(super) const MISREAD: &str = "misread, read * wrong, read * incorrectly, not * read * right, not * read * correctly, measured * wrong, measured * incorrectly, not * measured * correctly, weighed * wrong, weighed * incorrectly, wrong reading, reading * wrong, reading * incorrect, wrongly";

/// Words in the label of a reading that weighs a filter paper.
pub(super) const PAPER: &str = "paper, filter";

/// What happens to something dissolved that is not washed out of a solid.
pub(super) const HELD: &str = "left, stayed, remain, still in, stuck, was in, were in, dried in, trapped, held back, not * wash, not * rins, not * remove";

/// Words for a solid that something dissolved is left in, besides what the product is called.
pub(super) const SOLIDS: &str = "solid, residue, paper, filter";

/// What may happen to a substance, and the causes that are it: which one is told by the substance named. The first that a lab
/// has a place for is meant where none is named. A star stands for a few other words.
pub(super) const HAPPENED: &[(&str, &[&str])] = &[
    (
        "damp, wet, moist, not * dry, not * dried, still water, water left, water on the, water on it, water was in, water was still in, water still in",
        &[
            "product-damp",
            "paper-damp",
            "hydroxide-left",
            "leftover-damp",
            "more-water-than-stated",
            "reactant-damp",
            "sample-damp",
        ],
    ),
    (
        "spill, spilt, dropped, fell out, fell on the, fell off the, fell down, lost, lose, losing, loss of, flew, flown, blew, blown, wind , splash, spray, knocked, jumped, scatter, went down the, broke off, broken off, came off the paper, came off our paper, came off the filter, come off the paper, flaked off the, crumbled off the, chipped off the",
        &[
            "product-spilled",
            "leftover-pieces-lost",
            "reactant-spilled",
            "solid-lost",
            "sample-lost",
        ],
    ),
    (
        "stuck, stick to, sticking to, stayed, left behind, left on, remained on, remained in the, clung, cling, on the * rod, on the * glass, on the * spoon, on the * spatula, on the * spatulas, on the * tweezers, not * come off, not * came off, not * off the, not * all * off, attached, adher",
        &[
            "solid-left-behind",
            "product-on-metal",
            "left-in-weighing-dish",
            "sample-lost",
        ],
    ),
    (UNDISSOLVED, &["stopped-early"]),
    (LEFT_OVER, &["stopped-early"]),
    (
        "pieces, bits, specks, grains, chips, crumbs, mixed",
        &["metal-in-product"],
    ),
    (
        "oxid, rust, tarnish",
        &["product-oxidised", "leftover-oxidised", "oxide-on-reactant"],
    ),
    (
        "not * react, not * reacted, not * used up, unreacted, not * finish, not * complete , not * completed, incomplete, stop * early, stop * soon, end * early, end * soon, out too early, out too soon, not * burn, not * burnt, unburn, not * convert, unconverted, not long enough, too short, not enough time, not * enough time, more time, ran out of time, still reacting, before it was done, before it was finished",
        &[
            "stopped-early",
            "metal-not-burnt",
            "not-decomposed",
            "not-heated-enough",
        ],
    ),
    (
        "impur, not * pure, dirty, contaminat",
        &["reactant-impure", "coat-on-metal"],
    ),
];

/// What goes wrong in a calculation, and not at the bench.
pub(super) const SLIPS: &str = "forgot * subtract, forgot to take off, not * subtract, without subtracting, forgot * convert, without converting, not * convert * to mol , not * convert * to mole, not * convert * to g , not * convert * to gram, not * convert * to kg, not * convert * to ml, not * convert * to l , not * convert * to lit, not * convert * to kelvin, not * convert * to kpa, not * convert * to percent, not * convert * into mol , not * convert * into mole, not * convert * into g , not * convert * into gram, not * convert * into lit, not * convert * unit, not convert the mass, not convert the volume, not convert the temperature, not convert the pressure, not convert gram, not convert from gram, units not * convert, units were not * convert, unit was not * convert, unit not * convert, grams were not * convert, wrong molar mass, wrong units, wrong unit, miscalculat, calculation error, wrong calculation, calculation was, calculations were, in the calculation, in our calculation, calculated wrong, calculated it wrong, calculator, arithmetic";

/// What is done with a number, and may be said of a shape; it is no calculation where a cause is named besides.
pub(super) const ROUNDED: &str = "rounding, rounded";

/// What shows a number: what is rounded there is a reading.
pub(super) const DISPLAYS: &str = "balance, scale, display, reading, burette, thermometer";

/// A calculation in which the water vapour in a gas was not taken off.
pub(super) const VAPOUR: &str = "forgot * vapour, forgot * vapor, forgot about * vapour, forgot about * vapor, no * vapour * subtracted, no * vapor * subtracted, ignored * vapour, ignored * vapor, left out * vapour, left out * vapor, without the vapour, without the vapor, vapour * not * taken, vapor * not * taken, vapour * forgotten, vapor * forgotten";

/// A balance that does not begin at zero.
pub(super) const OFFSET: &str = "not * tare, not * tared, forgot * tare, without taring, untared, not * zero, not * zeroed, forgot * zero, without zeroing, zero error, zero point, not at zero, tare error, wrong tare, tared wrong";

/// Words by which an offset is said of one of two weighings only.
pub(super) const CHANGED: &str = "second, last, at the end, between, once, one of, first weighing, first time, empty, later, final, every time, again, calibrat";

/// More or less of something than was wanted, in front of its name.
pub(super) const LITTLE_OF: &str = "too little, too few, too much, not enough, took less, took more, used less, used more, less of the, short, shorter, small piece, smaller piece, bigger piece, larger piece, a piece too";

/// Words between those and the name.
pub(super) const OF: &str = "of, the, a, our, this, that, my, some, any, piece, pieces";

/// The same, behind its name.
pub(super) const SHORT: &str = "too short, too small, too little, too long, too big, too large, was short, was shorter, was small, was smaller, was longer, was bigger, was larger";

/// Pieces of a reactant, as many: one piece too small is less of it.
pub(super) const LUMPS: &str =
    "pieces, grains, crystals, lumps, powder, chips, chunks, granules, particles, bits";

/// Where a solid meets a liquid or a gas.
pub(super) const SURFACE: &str = "surface";

/// Words for large pieces.
pub(super) const BIG: &str = "big, large, coarse, thick";

/// Words for small ones.
pub(super) const SMALL: &str = "small, tiny, fine";

/// Words for a large surface.
pub(super) const WIDE: &str = "big, large, more surface, much surface, enough surface";

/// Words for a small one.
pub(super) const NARROW: &str = "small, tiny, little surface, less surface";

/// Words that speak of pieces and their size at once.
pub(super) const COARSE: &str =
    "too coarse, very coarse, was coarse, were coarse, coarser, not * ground, not * crushed";

/// Words for how much there was, not how coarse it was.
pub(super) const AMOUNTS: &str = "amount, quantity, mass, weigh, volume, number of, part of";

/// Words by which something was done with what is named, or became of it: then its amount is not what is meant.
pub(super) const DONE: &str = "react, left, time, minute, hour, heat, dri, dry, burn, dissolv, stay, lost, lose, collect, form, precipitat, stir, wait, wash, water on, air , oxid, spill, fell, stuck, reach, touch, in the, in it, under";

/// An impurity, wherever it is.
pub(super) const IMPURE: &str = "impur, not * pure, contaminat";

/// Words for a paper at its weighing without anything on it.
pub(super) const WHEN_EMPTY: &str = "empty, at first, at the beginning, at the start, before we filter, before filter, before it was used, before the filtration, when we first";

/// Words for a paper at its weighing with the solid.
pub(super) const AT_END: &str = "at the end, after drying, after it was dried, after filter, after the filtration, last weigh, final, still, when we weighed it with, at last, not dried long enough, not dry enough, not dried enough";

/// Words that let a liquid stand higher inside a tube than around it.
pub(super) const HIGHER_INSIDE: &str = "higher in the tube, higher inside, inside * higher, in the tube * higher, in tube * higher, lower outside, outside * lower";

/// Words that let it stand lower inside.
pub(super) const LOWER_INSIDE: &str = "lower in the tube, lower inside, inside * lower, in the tube * lower, in tube * lower, higher outside, outside * higher";

/// Words for the metal that is taken, as word beginnings.
pub(super) const METALS: &str = "metal, strip, ribbon, nail, wire, foil";

/// Words for a solid that is no metal, taken or made.
pub(super) const SALTS: &str = "salt, crystal";

/// Words for what is made.
pub(super) const PRODUCTS: &str = "product, precipitate";

/// Words for what a reactant is dissolved in.
pub(super) const SOLUTIONS: &str = "solution, blue liquid";

/// Words for what is titrated with.
pub(super) const TITRANTS: &str =
    "titrant, titrating solution, standard solution, solution in the burette, burette solution";

/// Words for a solution of a base.
pub(super) const BASES: &str = "base, alkali, lye";

/// Words for what shows an end point.
pub(super) const INDICATORS: &str = "indicator, phenolphthalein, methyl orange, litmus";

/// Words for what is examined.
pub(super) const SAMPLES: &str = "sample";

/// Words in the label of a reading that say nothing of the substance in a vessel.
pub(super) const VESSELS: &str = "with, empty, mass, weight, weighed, same, beaker, flask, crucible, dish, boat, tube, paper, vessel, bottle, balance, zeroed, dried, taken, before, after, powder, pieces, solid, glass, filter";

/// A solid that a reaction should have dissolved is still there.
pub(super) const UNDISSOLVED: &str = "not * dissolv, undissolved";

/// What should have run out is still there.
pub(super) const LEFT_OVER: &str =
    "left over, still * left , still left, still some, left at the end";

/// More of a solution than was needed, while it is titrated with.
pub(super) const TOO_MUCH: &str = "too much, too many, added more, added * extra";

/// Less of it.
pub(super) const TOO_LITTLE: &str = "too little, too few, not * enough";

/// Words for what is read from a balance, again and again.
pub(super) const WEIGHINGS: &str = "weighing, weighed, weight, reading, the mass, masses, balance";

/// Words by which readings fall from one to the next.
pub(super) const WENT_DOWN: &str = "down, fall, fell, drop, decreas, lighter, smaller, lower, less each, lost mass, losing mass, lose mass";

/// Words by which they rise.
pub(super) const WENT_UP: &str =
    "go up, went up, goes up, going up, rise, rose, rising, increas, heavier, gained";

/// Words by which they stay.
pub(super) const UNCHANGED: &str = "not change, not * go down, not * fall, not * drop, not * decreas, the same, constant, agree, unchanged";

/// Words for a gas.
pub(super) const GASES: &str = "gas, gases";

/// Words by which what was named first is what the rest is in or on: “the zinc had copper on it”.
pub(super) const THERE: &str = "on it, on them, in it, in them";

/// Words that speak of a time before anything was left over.
pub(super) const EARLY: &str =
    "at the beginning, at the start, at first, before the reaction, before it reacted";

/// Words between something and what it is in or on.
pub(super) const PLACES: &str = "on, onto, in, inside, among, between";

/// Words between those and the name of it.
pub(super) const ARTICLES: &str = "the, a, our, this, that, its";

/// Words with which another clause begins.
pub(super) const JOINS: &str =
    "and, but, so, because, then, since, when, while, as, that, which, although, after, before";

/// Words that deny only the thing named behind them: “without a lid”.
pub(super) const NO_SUCH: &str = "no, without";

/// Words that leave a part of what is denied: “not all”, “not carefully”.
pub(super) const PARTLY: &str = "all, everything, every, enough, carefully, slowly, properly, completely, fully, entirely, well, right, correctly, whole, only, exactly, everyone, long";

/// What is done on purpose, as word beginnings: that it was not done is the cause.
pub(super) const STEPS: &str =
    "transfer, scrap, wash, rins, stir, heat, react, burn, cool, zero, tare, calibrat";

/// Words that may begin a sentence and are small within one, in a language that writes nouns large.
pub const UNLIKE_NOUNS: &str = "the, a, an, some, one, two, in, on, at, from, with, it, what";

/// Every list, for the strings files.
pub fn all() -> impl Iterator<Item = &'static str> {
    let others = [
        NOT,
        NOT_BEHIND,
        BUT,
        EMPTY,
        HIGHER,
        LOWER,
        NO_CAUSE,
        PAPER,
        UNLIKE_NOUNS,
        MISREAD,
    ];
    let kinds = [METALS, SALTS, PRODUCTS, SOLUTIONS, GASES, PLACES, ARTICLES];
    let bench = [IGNITED, FILTERS, HELD, SOLIDS, UNLIKE_NOUNS, MISREAD];
    let clauses = [THERE, EARLY, JOINS, NO_SUCH, PARTLY, STEPS];
    let told = [
        SLIPS, ROUNDED, DISPLAYS, VAPOUR, OFFSET, CHANGED, LITTLE_OF, OF, SHORT, DONE, IMPURE,
    ];
    let grain = [LUMPS, SURFACE, BIG, SMALL, WIDE, NARROW, COARSE, AMOUNTS];
    let beside = [
        TITRANTS, BASES, INDICATORS, SAMPLES, VESSELS, TOO_MUCH, TOO_LITTLE, WEIGHINGS, WENT_DOWN,
        WENT_UP, UNCHANGED,
    ];
    let when = [WHEN_EMPTY, AT_END, HIGHER_INSIDE, LOWER_INSIDE];
    let signs = SIGNS.iter().map(|(_, list)| *list);
    let happened = HAPPENED.iter().map(|(list, _)| *list);
    let causes = catalogue::all().map(|cause| cause.words);
    let single = others.into_iter().chain(kinds).chain(bench).chain(clauses);
    let single = single.chain(told).chain(grain).chain(when).chain(beside);
    single.chain(signs).chain(happened).chain(causes)
}

/// The words of a list in a language.
pub(super) fn own<'w>(list: &'static str, words: &'w Words) -> impl Iterator<Item = &'w str> {
    split(words.say(list))
}

/// The words of a list: one behind each comma and its space. They are short: no search is set up for each.
pub(super) fn split(list: &str) -> impl Iterator<Item = &str> {
    let mut rest = Some(list);
    std::iter::from_fn(move || {
        let list = rest?;
        let end = list.bytes().position(|byte| byte == b',');
        rest = end.map(|end| list[end + 1..].trim_start_matches(' '));
        Some(&list[..end.unwrap_or(list.len())])
    })
}

/// Whether a word is on a list in a language.
#[must_use]
pub fn has(list: &'static str, word: &str, words: &Words) -> bool {
    own(list, words).any(|known| known == word)
}

/// The letters of the longest word of a list that a text in small letters holds, 0 for none.
/// A word may be part of another one. What the forms offer in English, such as “lower”, counts in another language too, but
/// as a whole word: there is no “up” in “Kupfer”.
pub(super) fn longest(text: &str, list: &'static str, words: &Words) -> usize {
    let own = own(list, words).filter(|word| text.contains(*word));
    let foreign = words.code() != Words::english().code();
    let english = split(list).filter(|word| foreign && holds_whole(text, word));
    own.chain(english)
        .map(|word| word.chars().count())
        .max()
        .unwrap_or(0)
}

/// Whether a text holds a word that is no part of another one.
fn holds_whole(text: &str, word: &str) -> bool {
    let is_letter = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    text.match_indices(word).any(|(at, _)| {
        let (before, behind) = (&text[..at], &text[at + word.len()..]);
        !is_letter(before.chars().next_back()) && !is_letter(behind.chars().next())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lab::signs;
    use crate::words::LANGUAGES;

    #[test]
    fn every_built_in_sign_has_its_words() {
        for (id, _) in signs::BUILT_IN {
            assert!(SIGNS.iter().any(|(known, _)| known == id), "{id}");
        }
        assert_eq!(SIGNS.len(), signs::BUILT_IN.len());
    }

    #[test]
    fn words_are_in_small_letters_in_every_language() {
        for (code, _) in LANGUAGES {
            let words = Words::of(code).unwrap();
            for list in all() {
                for word in own(list, &words) {
                    assert_eq!(word, word.to_lowercase(), "{code}");
                    // No word at all would be found in every text.
                    assert!(!word.trim().is_empty(), "{code}: {list}");
                    assert_eq!(word, word.trim_start(), "{code}: {list}");
                }
                for at in words.say(list).match_indices(',').map(|(at, _)| at) {
                    assert!(words.say(list)[at..].starts_with(", "), "{code}: {list}");
                }
            }
        }
    }

    #[test]
    fn an_english_word_counts_as_a_whole_in_a_german_text() {
        let (english, german) = (Words::english(), Words::of("de").unwrap());
        for (text, in_english, in_german) in [
            ("lower", 5, 5),
            ("kupfer", 2, 0),
            ("went up", 2, 2),
            ("höher", 0, 5),
        ] {
            let found = |words| {
                let both = [HIGHER, LOWER].map(|list| longest(text, list, words));
                both.into_iter().max().unwrap()
            };
            assert_eq!(found(&english), in_english, "{text}");
            assert_eq!(found(&german), in_german, "{text}");
        }
    }
}
