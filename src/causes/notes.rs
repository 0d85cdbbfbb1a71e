//! Words of the notes that suggest how a question about the bench may be answered. They are no evidence by
//! themselves: the students answer, the program only asks.

use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::lab::Lab;
use crate::record::Content;
use crate::record::Record;
use crate::say;
use crate::words::Words;
use crate::words::restored;

/// Signs of the dry product as it is weighed: what was wet, dark or blue on an earlier day was something else.
const AT_WEIGHING: [&str; 3] = [
    "product_still_damp",
    "residue_still_coloured",
    "solid_looked_dark",
];

/// How many words before a word a negation reaches.
const REACH: usize = 5;

/// Questions that the notes of a day may answer: one sentence each, only for signs the lab asks about and that are not
/// answered, or answered the other way. They are in the lab's language.
#[must_use]
pub fn hints(lab: &Lab, record: &Record) -> Vec<String> {
    let words = &lab.words;
    let mut hints = Vec::new();
    let weighed = day_of_weighing(lab);
    let days: Vec<(u32, Vec<Clause<'_>>)> = record
        .days
        .iter()
        .filter_map(|day| Some((day.number, clauses(day.seen.as_deref()?, words))))
        .collect();
    for (sign, (_, answer)) in lab.signs.iter().zip(&record.signs) {
        let Some((_, list)) = vocabulary::SIGNS.iter().find(|(id, _)| *id == sign.id) else {
            continue;
        };
        let from = if AT_WEIGHING.contains(&sign.id.as_str()) {
            weighed
        } else {
            0
        };
        let mut days = days.iter().filter(|(day, _)| *day >= from);
        let found = days.find_map(|(day, seen)| Some((*day, spoken_of(seen, list, words)?)));
        if let Some((day, (word, yes))) = found {
            hints.extend(hint(&sign.question, *answer, (day, word, yes), words));
        }
    }
    hints
}

/// The question about a sign whose words the notes of a day hold, unless it is answered as they say.
fn hint(
    question: &str,
    answer: Option<bool>,
    (day, word, yes): (u32, &str, bool),
    words: &Words,
) -> Option<String> {
    match (answer, yes) {
        (None, true) => Some(say!(
            words,
            "The notes of day {day} say “{word}”: does that answer “{question}” with yes? Then write it under [signs].",
            day = day,
            word = word,
            question = question
        )),
        (None, false) => Some(say!(
            words,
            "The notes of day {day} say “{word}”: does that answer “{question}” with no? Then write it under [signs].",
            day = day,
            word = word,
            question = question
        )),
        (Some(true), false) => Some(say!(
            words,
            "“{question}” is answered yes, but the notes of day {day} say “{word}”: which of the two is right?",
            question = question,
            day = day,
            word = word
        )),
        (Some(false), true) => Some(say!(
            words,
            "“{question}” is answered no, but the notes of day {day} say “{word}”: which of the two is right?",
            question = question,
            day = day,
            word = word
        )),
        (Some(_), _) => None,
    }
}

/// The day on which the first product is weighed at the end; 0 where none is.
fn day_of_weighing(lab: &Lab) -> u32 {
    let day_of = |name: &str| {
        let mut readings = lab.readings();
        readings
            .find(|(_, asked)| asked.name == name)
            .map(|(day, _)| day)
    };
    let products = lab.substances.iter().filter(|one| !one.reactant);
    products
        .filter_map(|product| {
            let names = product.after.as_ref()?.term.names();
            names.into_iter().filter_map(|(name, _)| day_of(name)).max()
        })
        .min()
        .unwrap_or(0)
}

/// A clause of the notes.
struct Clause<'t> {
    /// As written.
    written: &'t str,
    /// In small letters, between spaces.
    spaced: String,
    /// Where its spaces stand: a word begins behind each.
    spaces: Vec<usize>,
}

/// A text in its clauses.
fn clauses<'t>(text: &'t str, words: &Words) -> Vec<Clause<'t>> {
    let mut parts = vec![text];
    for but in vocabulary::own(vocabulary::BUT, words) {
        let but = format!(" {but} ");
        parts = parts.iter().flat_map(|part| part.split(&*but)).collect();
    }
    let ends = ['.', ',', ';', ':', '!', '?', '\n', '(', ')'];
    let clauses = parts.iter().flat_map(|part| part.split(ends));
    clauses
        .map(|clause| {
            let spaced = format!(
                " {} ",
                restored(&clause.to_lowercase(), words).replace('’', "'")
            );
            Clause {
                written: clause.trim(),
                spaces: spaced.match_indices(' ').map(|(at, _)| at).collect(),
                spaced,
            }
        })
        .collect()
}

/// The first of a list of words that a text speaks of, with its words around, and whether it says that it was so.
fn spoken_of<'t>(
    text: &[Clause<'t>],
    list: &'static str,
    words: &Words,
) -> Option<(&'t str, bool)> {
    let list: Vec<&str> = vocabulary::own(list, words).collect();
    for clause in text {
        let spaced = &clause.spaced;
        let place = |word: &&'_ str| {
            let mut spaces = clause.spaces.iter();
            let place = spaces.find(|space| spaced[**space + 1..].starts_with(word));
            place.copied()
        };
        let found = list.iter().filter_map(|word| Some((place(word)?, *word)));
        let Some((place, word)) = found.min() else {
            continue;
        };
        let before: Vec<&str> = spaced[..place].split_whitespace().collect();
        let after: Vec<&str> = spaced[place + 1 + word.trim_end().len()..]
            .split_whitespace()
            .take(REACH)
            .collect();
        let near = &before[before.len().saturating_sub(REACH)..];
        let denied = near
            .iter()
            .any(|earlier| vocabulary::has(vocabulary::NOT, earlier, words));
        let denied_later = after
            .iter()
            .any(|later| vocabulary::has(vocabulary::NOT_BEHIND, later, words));
        return Some((clause.written, !(denied || denied_later)));
    }
    None
}

/// The day whose notes hold the words of a quotation, if any does: more than half of its longer words. Of two days that hold as
/// many it is the one whose number the quotation has.
pub(super) fn day_that_says(quotation: &str, record: &Record, language: &Words) -> Option<u32> {
    let says_nothing = |word: &str| vocabulary::has(vocabulary::EMPTY, word, language);
    let quotation = restored(&quotation.to_lowercase(), language);
    let mut words: Vec<&str> = long_words(&quotation)
        .filter(|word| !says_nothing(word))
        .map(beginning)
        .collect();
    words.sort_unstable();
    words.dedup();
    let is_number = |c: char| c.is_ascii_digit();
    let numbers: Vec<u32> = quotation
        .split(|c| !is_number(c))
        .filter_map(|digits| digits.parse().ok())
        .collect();
    let shared = |seen: &str| {
        let seen = restored(&seen.to_lowercase(), language);
        let holds = |word: &&&str| {
            let mut same = long_words(&seen).filter(|known| beginning(known) == **word);
            same.any(|known| !says_nothing(known))
        };
        words.iter().filter(holds).count()
    };
    let days = record.days.iter();
    days.filter_map(|day| Some((shared(day.seen.as_deref()?), day.number)))
        .filter(|(count, _)| *count * 2 > words.len())
        .max_by_key(|(count, day)| (*count, numbers.contains(day), std::cmp::Reverse(*day)))
        .map(|(_, day)| day)
}

/// The readings whose digits a quotation has, each with its number; `None` where it has none. A number alone that is whole and short may be
/// a day's.
pub(super) fn readings_quoted(quotation: &str, scene: &Scene<'_>) -> Option<String> {
    let words = &scene.lab.words;
    let quoted: Vec<String> = numbers(quotation).collect();
    let record = scene.record;
    let further = record.trials.iter().flat_map(|trial| &trial.readings);
    let count = scene.lab.readings().count();
    let mut found: Vec<String> = Vec::new();
    for (number, recorded) in record.readings.iter().chain(further).enumerate() {
        for entry in &recorded.entries {
            let Content::Value(_) = entry.content else {
                continue;
            };
            // What stands behind the reading is a remark: “105.68 g (was 106.58)”.
            let Some(read) = numbers(&entry.typed).next() else {
                continue;
            };
            let says = say!(
                words,
                "{number} as “{reading}”",
                number = words.number(&read),
                reading = scene.label(number % count)
            );
            if quoted.contains(&read) && !found.contains(&says) {
                found.push(says);
            }
        }
    }
    (!found.is_empty()).then(|| found.join("; "))
}

/// The numbers of a text that may be readings, each with a point for its decimal mark.
fn numbers(text: &str) -> impl Iterator<Item = String> {
    let parts = text.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','));
    parts
        .map(|part| part.trim_matches(['.', ',']).replace(',', "."))
        .filter(|number| number.contains('.') || number.len() > 2)
}

/// Words of at least four letters.
fn long_words(text: &str) -> impl Iterator<Item = &str> {
    let words = text.split(|c: char| !c.is_alphabetic());
    words.filter(|word| word.chars().nth(3).is_some())
}

/// A word without its ending: its first six letters.
fn beginning(word: &str) -> &str {
    word.char_indices()
        .nth(6)
        .map_or(word, |(end, _)| &word[..end])
}

#[cfg(test)]
mod tests {
    use super::clauses;
    use super::spoken_of;
    use crate::causes::vocabulary::SIGNS;
    use crate::words::Words;

    fn bubbles() -> &'static str {
        let mut signs = SIGNS.iter();
        signs.find(|(id, _)| *id == "bubbles_on_metal").unwrap().1
    }

    #[test]
    fn a_word_counts_unless_it_is_denied() {
        for (text, says) in [
            ("A few bubbles on the zinc.", Some(true)),
            ("No bubbles.", Some(false)),
            ("We did not see any bubbles", Some(false)),
            ("The copper did not stick, bubbles rose", Some(true)),
            ("Bubbles were not seen.", Some(false)),
            ("bubbles and no smoke", Some(true)),
            ("It went dark but bubbles kept coming", Some(true)),
            ("There weren't bubbles", Some(false)),
            ("Nothing happened. Then bubbles.", Some(true)),
            ("The strip went black.", None),
            ("", None),
        ] {
            assert_eq!(
                spoken_of(
                    &clauses(text, &Words::english()),
                    bubbles(),
                    &Words::english()
                )
                .map(|(_, yes)| yes),
                says,
                "{text}"
            );
        }
    }

    #[test]
    fn german_notes_are_read_in_german() {
        let german = Words::of("de").unwrap();
        for (text, says) in [
            ("Am Zink waren ein paar Bläschen.", Some(true)),
            ("Keine Blasen.", Some(false)),
            ("Wir haben gar keine Gasblasen gesehen", Some(false)),
            ("Das Kupfer haftete nicht, Blasen stiegen auf", Some(true)),
            ("Blasen waren nicht zu sehen.", Some(false)),
            ("Blasen und kein Rauch", Some(true)),
            ("Nichts klebte aber Blasen kamen", Some(true)),
            ("Es sprudelte kaum. Der Dampf war feucht.", Some(false)),
            ("Der Streifen wurde schwarz.", None),
        ] {
            let found = spoken_of(&clauses(text, &german), bubbles(), &german).map(|(_, yes)| yes);
            assert_eq!(found, says, "{text}");
        }
    }
}
