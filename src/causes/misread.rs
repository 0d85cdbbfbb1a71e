//! A reading that students say was taken wrongly, and do not say how: asked for its direction and amount by its name.

use crate::causes::mention::Text;
use crate::causes::mention::written_out;
use crate::causes::places::places;
use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::say;

/// Shorter words of a label are in too many others.
const FEWEST_LETTERS: usize = 5;

/// More readings than these at once are not named by a word that they share.
const MOST_READINGS: usize = 2;

/// The question about readings that a text names and says were taken wrongly; `None` where it says neither.
pub(super) fn asked(what: &str, scene: &Scene<'_>) -> Option<String> {
    let words = &scene.lab.words;
    let text = Text::of(what, scene);
    places(&text, vocabulary::MISREAD, words).next()?;
    let by_own_names = named(&text, scene, |reading| {
        vec![scene.label(reading), scene.reading_name(reading)]
    });
    let instrument = |reading: usize| {
        let (_, asked) = scene.lab.readings().nth(reading)?;
        let instrument = scene.lab.instruments.get(asked.instrument?)?;
        Some(instrument.name.as_str())
    };
    let named = if by_own_names.is_empty() {
        named(&text, scene, |reading| {
            instrument(reading).into_iter().collect()
        })
    } else {
        by_own_names
    };
    let quoted: Vec<String> = named
        .iter()
        .map(|reading| say!(words, "“{reading}”", reading = *reading))
        .collect();
    (!named.is_empty() && named.len() <= MOST_READINGS).then(|| {
        say!(
            words,
            "it depends on how {reading} was off: did you read too much or too little there, and by how much?",
            reading = quoted.join(words.say(" or "))
        )
    })
}

/// The labels of the readings of whose names a text holds most.
fn named<'a>(
    text: &Text,
    scene: &Scene<'a>,
    names: impl Fn(usize) -> Vec<&'a str>,
) -> Vec<&'a str> {
    let mut named = Vec::new();
    let mut most = 1;
    for reading in 0..scene.lab.readings().count() {
        let letters = letters_named(&names(reading), text, scene);
        if letters > most {
            named.clear();
            most = letters;
        }
        if letters == most {
            named.push(scene.label(reading));
        }
    }
    named
}

/// The letters of the words of a reading's names that a text holds, as words or in longer ones: “Wassertemperatur”.
fn letters_named(names: &[&str], text: &Text, scene: &Scene<'_>) -> usize {
    let words = &scene.lab.words;
    let mut known: Vec<String> = names
        .iter()
        .flat_map(|name| name.split(|c: char| !c.is_alphanumeric()))
        .map(|word| written_out(word, words))
        .filter(|word| word.chars().count() >= FEWEST_LETTERS)
        .collect();
    known.sort();
    known.dedup();
    let held = |word: &&String| {
        let mut all = (0..text.words.len()).map(|number| text.word(number));
        all.any(|typed| typed.contains(word.as_str()))
    };
    known
        .iter()
        .filter(held)
        .map(|word| word.chars().count())
        .sum()
}
