//! How coarse a reactant is said to be: large pieces or a small surface make it react slowly, small pieces fast.

use std::ops::Range;

use crate::causes::bench::is_dissolved;
use crate::causes::catalogue;
use crate::causes::catalogue::Cause;
use crate::causes::mention::Mention;
use crate::causes::mention::Text;
use crate::causes::places::places;
use crate::causes::scene::Scene;
use crate::causes::told::Told;
use crate::causes::vocabulary;
use crate::words::Words;

/// Causes by which a reaction was not at its end; the first that a lab has a place for is what slowness leads to.
const UNFINISHED: [&str; 4] = [
    "stopped-early",
    "metal-not-burnt",
    "not-decomposed",
    "not-heated-enough",
];

/// How many words may stand between a size and the pieces behind it: “big heavy marble pieces”.
const BEFORE: usize = 3;

/// How fast something of such pieces reacts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pace {
    Slow,
    Fast,
}

impl Pace {
    const fn turned(self) -> Self {
        match self {
            Self::Slow => Self::Fast,
            Self::Fast => Self::Slow,
        }
    }
}

/// What comes of it.
pub(super) enum Grain {
    /// A reaction that may not have been at its end.
    Slow(&'static Cause),
    /// Nothing that is weighed.
    Told(Told),
}

/// How fast a reaction a text speaks of by the size of pieces or of a surface.
pub(super) fn pace(text: &Text, mentions: &[Mention], language: &Words) -> Option<Pace> {
    // A filter or a balance may be coarse as well, and that is something else.
    let others = [vocabulary::PAPER, vocabulary::DISPLAYS];
    if others
        .iter()
        .any(|list| places(text, list, language).next().is_some())
    {
        return None;
    }

    let denied = |number: usize| {
        let mut clause = text.clause(number, language);
        clause.any(|word| vocabulary::has(vocabulary::NOT, text.word(word), language))
    };
    let counted = |number: usize| {
        let clause = text.clause(number, language);
        places(text, vocabulary::AMOUNTS, language)
            .any(|at| clause.contains(&text.number(at.start)))
    };
    let beside = |things: &'static str, sizes: &'static str, pace: Pace| {
        places(text, things, language).find_map(|thing| {
            let thing = text.number(thing.start);
            let clause = text.clause(thing, language);
            let near = |size: usize| clause.contains(&size) && thing <= size + BEFORE;
            let mut sizes = places(text, sizes, language).map(|size| text.number(size.start));
            let sized = sizes.any(near) && !counted(thing);
            sized.then(|| if denied(thing) { pace.turned() } else { pace })
        })
    };
    let coarse = || {
        let at = places(text, vocabulary::COARSE, language).next()?;
        // “Not ground” holds its own denial.
        let own = vocabulary::has(vocabulary::NOT, text.word(text.number(at.start)), language);
        let clause = text.clause(text.number(at.start), language);
        let lumps = places(text, vocabulary::LUMPS, language);
        let named = mentions.iter().map(|one| one.at.clone());
        let of = |thing: Range<usize>| clause.contains(&text.number(thing.start));
        if !lumps.chain(named).any(of) {
            return None;
        }
        let turned = !own && denied(text.number(at.start));
        Some(if turned { Pace::Fast } else { Pace::Slow })
    };
    beside(vocabulary::SURFACE, vocabulary::NARROW, Pace::Slow)
        .or_else(|| beside(vocabulary::SURFACE, vocabulary::WIDE, Pace::Fast))
        .or_else(|| beside(vocabulary::LUMPS, vocabulary::SMALL, Pace::Fast))
        .or_else(|| beside(vocabulary::LUMPS, vocabulary::BIG, Pace::Slow))
        .or_else(coarse)
}

/// Whether a part of a text names nothing but pieces or a surface, and whose they are: of a text that speaks of their size,
/// that says nothing of what happened to them.
pub(super) fn is_only(
    at: &Range<usize>,
    text: &Text,
    mentions: &[Mention],
    language: &Words,
) -> bool {
    let things = || {
        let lumps = places(text, vocabulary::LUMPS, language);
        lumps.chain(places(text, vocabulary::SURFACE, language))
    };
    let inside = |word: &Range<usize>| word.start < at.end && at.start < word.end;
    let is_thing =
        |word: &Range<usize>| things().any(|it| it.start < word.end && word.start < it.end);
    let is_named = |word: &Range<usize>| {
        mentions
            .iter()
            .any(|one| one.at.start < word.end && word.start < one.at.end)
    };
    let between =
        |word: &Range<usize>| vocabulary::has(vocabulary::OF, &text.plain[word.clone()], language);
    let words = || text.words.iter().filter(|word| inside(word));
    words().any(is_thing) && words().all(|word| is_thing(word) || is_named(word) || between(word))
}

/// What the size of a reactant's pieces comes to, where nothing that happened to them is said besides: `known` is the cause
/// that the text names otherwise.
pub(super) fn of(
    (text, mentions): (&Text, &[Mention]),
    known: Option<&'static Cause>,
    scene: &Scene<'_>,
) -> Option<Grain> {
    let pace = pace(text, mentions, &scene.lab.words)?;
    if known.is_some() {
        return None;
    }
    let named = || {
        let named = mentions.iter().filter(|one| !one.carrier);
        named.flat_map(|one| one.who.iter().copied())
    };
    // The size of a product's crystals is something else.
    if named().any(|index| !scene.substance(index).reactant) {
        return None;
    }
    let dissolved = |index: usize| {
        let species = scene.equation().find(&scene.substance(index).formula);
        species.is_some_and(|(species, _)| is_dissolved(species))
    };
    match named().next() {
        Some(first) if named().all(dissolved) => return Some(Grain::Told(Told::Dissolved(first))),
        _ if pace == Pace::Fast => return Some(Grain::Told(Told::SmallPieces)),
        _ => {}
    }
    let mut unfinished = UNFINISHED.iter().filter_map(|id| catalogue::find(id));
    unfinished
        .find(|cause| !(cause.at)(scene).is_empty())
        .map(Grain::Slow)
}
