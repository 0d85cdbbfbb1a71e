//! What students name that is answered without weighing it: slips of calculation, what cancels, and what depends on where it was.

use std::cmp::Ordering;

use crate::causes::catalogue;
use crate::causes::catalogue::Cause;
use crate::causes::grain;
use crate::causes::mention::Mention;
use crate::causes::mention::Text;
use crate::causes::places::places;
use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::say;
use crate::working::Kind;

/// The paper damp at the end, and damp when it was weighed empty.
const DAMP_PAPER: [&str; 2] = ["paper-damp", "paper-weighed-damp"];

/// The cause that an impurity is where nothing says of what.
pub(super) const IMPURE: &str = "reactant-impure";

/// How many words may stand between a thing and what is said of its amount: “the ribbon that we took was too short”.
const NEAR: usize = 4;

/// Something that is answered by itself.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Told {
    /// Something done with the readings, not at the bench.
    Slip,
    /// An offset of the balance; the reading of what is weighed alone, if there is one.
    Offset(Option<usize>),
    /// More or less of a reactant was taken, and that was measured.
    AmountTaken(usize),
    /// Something was impure, and nothing says what.
    Impurity,
    /// Something else was in a product.
    InProduct(usize),
    /// The paper was damp, and nothing says when.
    DampPaper,
    /// A reactant that is dissolved was in pieces of some size.
    Dissolved(usize),
    /// A solution was not what its label says, and nothing says which one.
    WhichSolution,
    /// A reactant was in small pieces, or had a large surface.
    SmallPieces,
}

impl Told {
    /// What is said of its direction.
    pub(super) fn direction(&self, scene: &Scene<'_>) -> String {
        let words = &scene.lab.words;
        let yields = scene.graph.ids().any(|id| {
            let step = scene.graph.step(id);
            matches!(step.kind, Kind::PercentYield(_))
        });
        // What is weighed with a residue hides some of the gas that left it.
        let driven_off = (0..scene.lab.substances.len()).any(|index| scene.gas_weighed(index));
        match self {
            Self::Slip => say!(
                words,
                "this is a slip of the calculation, not something that happened in the experiment: it changes no reading, and the check of your answers would show it."
            ),
            Self::Offset(None) => say!(
                words,
                "the offset of the balance is in both weighings and cancels when one is subtracted from the other, unless it changed between them."
            ),
            Self::Offset(Some(alone)) => say!(
                words,
                "in a difference of two weighings the offset of the balance cancels; it stays only in what is weighed alone, “{reading}”: was the display too high or too low there?",
                reading = scene.label(*alone)
            ),
            Self::AmountTaken(reactant) if yields => say!(
                words,
                "how much {substance} was taken is measured, and what could form is worked from it: to take more or less makes the percent yield neither higher nor lower.",
                substance = scene.name(*reactant)
            ),
            Self::AmountTaken(reactant) => say!(
                words,
                "how much {substance} was taken is measured, and the result is worked from it: to take more or less makes it neither higher nor lower.",
                substance = scene.name(*reactant)
            ),
            Self::Impurity if yields && !driven_off => say!(
                words,
                "it depends on what was impure: an impurity in the product makes the percent yield higher, one in the reactant that runs out makes it lower. Say what was in what."
            ),
            Self::Impurity => say!(
                words,
                "it depends on what was impure, and when it was weighed. Say what was in what."
            ),
            Self::InProduct(product) => say!(
                words,
                "whatever else is weighed with the {substance} makes it seem more, and the percent yield higher: say what it was, and how it got there.",
                substance = scene.name(*product)
            ),
            Self::DampPaper => say!(
                words,
                "it depends on when: damp when it was weighed empty, the paper makes the percent yield lower; damp at the end, higher. Say which."
            ),
            Self::Dissolved(reactant) => say!(
                words,
                "{substance} dissolves before it reacts: the size of its pieces changes only how long that takes. If some of it was still solid at the end, less of it took part than was weighed: was there any?",
                substance = scene.name(*reactant)
            ),
            Self::WhichSolution => say!(
                words,
                "it depends on which: there is more than one solution here, and they move the result in different ways. Say which one it was."
            ),
            Self::SmallPieces => say!(
                words,
                "small pieces and a large surface make the reaction faster, and that alone changes no result. But small pieces are easily lost, or get into what is weighed: did you see that?"
            ),
        }
    }

    /// What is said of its size.
    pub(super) fn size(&self, scene: &Scene<'_>) -> String {
        let words = &scene.lab.words;
        match self {
            Self::Slip => say!(words, "it changes no reading, so there is no amount of it."),
            Self::Offset(None) | Self::AmountTaken(_) => {
                say!(words, "no amount of it explains what was measured.")
            }
            Self::WhichSolution => say!(
                words,
                "how much would it take to explain the difference, and is that much possible?"
            ),
            Self::Offset(Some(_))
            | Self::Impurity
            | Self::InProduct(_)
            | Self::DampPaper
            | Self::Dissolved(_)
            | Self::SmallPieces => {
                say!(
                    words,
                    "how many grams would it take to explain the difference, and is that much possible?"
                )
            }
        }
    }
}

/// What a text says that is no cause to be weighed.
pub(super) fn of(text: &Text, mentions: &[Mention], scene: &Scene<'_>) -> Option<Told> {
    let says = |list| places(text, list, &scene.lab.words).next().is_some();
    let gas = || (0..scene.lab.substances.len()).any(|index| scene.gas_caught(index));
    if says(vocabulary::SLIPS) || (says(vocabulary::VAPOUR) && gas()) {
        return Some(Told::Slip);
    }
    if says(vocabulary::OFFSET) && !says(vocabulary::CHANGED) {
        return offset(scene);
    }
    // Large pieces are no larger amount.
    let coarse = grain::pace(text, mentions, &scene.lab.words).is_some();
    (!coarse)
        .then(|| amount_taken(text, mentions, scene))
        .flatten()
}

/// Whether a text speaks of numbers rounded in a calculation; what a balance rounds is a reading.
pub(super) fn rounded(text: &Text, scene: &Scene<'_>) -> bool {
    let says = |list| places(text, list, &scene.lab.words).next().is_some();
    says(vocabulary::ROUNDED) && !says(vocabulary::DISPLAYS)
}

/// What an offset of the balance does; nothing where nothing is weighed.
fn offset(scene: &Scene<'_>) -> Option<Told> {
    let all = 0..scene.lab.substances.len();
    let kinds = all.flat_map(|index| {
        [Kind::Mass, Kind::Collected, Kind::MeasuredLeft].map(|kind| kind(index))
    });
    let weighed: Vec<Kind> = kinds
        .filter(|kind| scene.step(*kind).is_some() && scene.weighs(*kind))
        .collect();
    let mut alone = weighed.iter().filter(|kind| !scene.tared(**kind));
    (!weighed.is_empty()).then(|| {
        let reading = alone.find_map(|kind| scene.full(*kind));
        Told::Offset(reading.map(|(reading, _)| reading))
    })
}

/// A reactant of which more or less is said to have been taken, where that was measured: “the ribbon was too short”, “too little
/// salt”, and nothing else that was done with it.
fn amount_taken(text: &Text, mentions: &[Mention], scene: &Scene<'_>) -> Option<Told> {
    let language = &scene.lab.words;
    let says = |list| places(text, list, language).next().is_some();
    if says(vocabulary::DONE) {
        return None;
    }
    let beside = |list: &'static str, behind: bool| {
        places(text, list, language).find_map(|at| {
            let clause = text.clause(text.number(at.start), language);
            let fits = |one: &&Mention| {
                let in_clause = clause.contains(&text.number(one.at.start));
                let near = if behind {
                    let mut between = text.number(at.end)..text.number(one.at.start);
                    one.at.start >= at.end
                        && between
                            .all(|word| vocabulary::has(vocabulary::OF, text.word(word), language))
                } else {
                    let between = text.number(one.at.end)..text.number(at.start);
                    one.at.end <= at.start && between.len() <= NEAR
                };
                in_clause && near
            };
            let one = mentions.iter().find(fits)?;
            // Of a solution made of something weighed, more or less water may be meant.
            let measured = |index: &&usize| {
                let itself = !one.carrier || scene.as_solution(**index);
                itself && scene.substance(**index).reactant && scene.measured(**index)
            };
            one.who.iter().find(measured).copied()
        })
    };
    beside(vocabulary::LITTLE_OF, true)
        .or_else(|| beside(vocabulary::SHORT, false))
        .map(Told::AmountTaken)
}

/// Which of two weighings a damp paper was damp at: as the text says, else as the students say it came out.
pub(super) fn damp_paper(
    cause: &'static Cause,
    (text, mentions): (&Text, &[Mention]),
    claimed: Option<Ordering>,
    scene: &Scene<'_>,
) -> Result<&'static Cause, Told> {
    let language = &scene.lab.words;
    let says = |list| places(text, list, language).next().is_some();
    let both = DAMP_PAPER.map(|id| catalogue::find(id).filter(|it| !(it.at)(scene).is_empty()));
    let [Some(at_end), Some(empty)] = both else {
        return Ok(cause);
    };
    let named = mentions.iter().any(|one| !one.carrier);
    if !DAMP_PAPER.contains(&cause.id) || named || !says(vocabulary::PAPER) {
        return Ok(cause);
    }
    if says(vocabulary::WHEN_EMPTY) {
        return Ok(empty);
    }
    if says(vocabulary::AT_END) {
        return Ok(at_end);
    }
    match claimed {
        Some(Ordering::Greater) => Ok(at_end),
        Some(Ordering::Less) => Ok(empty),
        _ => Err(Told::DampPaper),
    }
}

/// What is impure where it is not told, or is a product: of a reactant it is a cause to be weighed.
pub(super) fn impurity(
    cause: Option<&'static Cause>,
    (text, mentions): (&Text, &[Mention]),
    scene: &Scene<'_>,
) -> Option<Told> {
    if cause.is_some_and(|cause| cause.id == IMPURE) && mentions.is_empty() {
        return Some(Told::Impurity);
    }
    let says = places(text, vocabulary::IMPURE, &scene.lab.words).next();
    let [one] = mentions else { return None };
    let product = match one.who[..] {
        [index] if !scene.substance(index).reactant => index,
        _ => return None,
    };
    let yields = scene.step(Kind::PercentYield(product)).is_some();
    let weighed = yields && !scene.gas(product) && scene.weighs(Kind::Collected(product));
    (cause.is_none() && says.is_some() && weighed).then_some(Told::InProduct(product))
}

/// Whether the levels of the liquid are said to have stood higher inside (`true`) or lower.
pub(super) fn higher_inside(text: &Text, scene: &Scene<'_>) -> Option<bool> {
    let says = |list| places(text, list, &scene.lab.words).next().is_some();
    let (higher, lower) = (
        says(vocabulary::HIGHER_INSIDE),
        says(vocabulary::LOWER_INSIDE),
    );
    (higher != lower).then_some(higher)
}
