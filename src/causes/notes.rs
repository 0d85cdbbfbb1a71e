//! Words of the notes that suggest how a question about the bench may be answered. They are no evidence by
//! themselves: the students answer, the program only asks.

use crate::lab::Lab;
use crate::record::Record;

/// Words that speak of what a sign asks, lower case, as word beginnings.
const WORDS: &[(&str, &[&str])] = &[
    (
        "air_in_tube",
        &["air bubble", "air in the", "bubble of air"],
    ),
    (
        "bubbles_escaped",
        &[
            "bubbles went past",
            "bubbles got out",
            "gas got out",
            "escaped",
            "leak",
        ],
    ),
    ("bubbles_on_metal", &["bubbl", "fizz", "gas "]),
    (
        "different_balance_used",
        &[
            "other balance",
            "another balance",
            "different balance",
            "second balance",
        ],
    ),
    ("filtrate_cloudy", &["cloudy", "milky", "turbid"]),
    ("label_added_later", &["label", "tape", "sticker"]),
    (
        "levels_differed",
        &[
            "levels differ",
            "level was higher",
            "level was lower",
            "not equal",
        ],
    ),
    (
        "liquid_still_coloured",
        &[
            "still blue",
            "still green",
            "still coloured",
            "still colored",
            "pale blue",
            "bluish liquid",
        ],
    ),
    (
        "metal_in_product",
        &[
            "shiny",
            "metal specks",
            "bits of metal",
            "pieces of metal",
            "grey specks",
        ],
    ),
    (
        "paper_torn",
        &["torn", "tore", "ripped", "hole in the paper"],
    ),
    ("product_still_damp", &["damp", "wet", "moist", "clump"]),
    (
        "residue_still_coloured",
        &[
            "still blue",
            "bluish",
            "still coloured",
            "still colored",
            "still green",
        ],
    ),
    (
        "sample_spilled",
        &["spill", "spilt", "knocked over", "dropped"],
    ),
    ("smoke_escaped", &["smoke", "dust"]),
    ("solid_looked_dark", &["dark", "black", "brownish", "dull"]),
    (
        "solid_poured_away",
        &[
            "poured off",
            "poured away",
            "floated off",
            "floated away",
            "washed away",
            "decanted",
        ],
    ),
    (
        "solid_stuck_to_glass",
        &[
            "stuck to the glass",
            "stuck to the beaker",
            "stuck to the rod",
            "film on the glass",
            "left on the glass",
        ],
    ),
    (
        "solid_stuck_to_metal",
        &[
            "stuck to the metal",
            "stuck to the strip",
            "stuck to the zinc",
            "clung",
            "would not come off",
        ],
    ),
    (
        "spattering_seen",
        &["spatter", "splash", "jumped", "popped", "spat "],
    ),
    (
        "vapour_escaped",
        &[
            "violet vapour",
            "purple vapour",
            "brown vapour",
            "violet smoke",
            "purple smoke",
            "fumes",
        ],
    ),
    (
        "vessel_warm_at_weighing",
        &["still warm", "still hot", "warm to the touch"],
    ),
    (
        "washing_skipped",
        &[
            "only one wash",
            "only washed once",
            "washed once",
            "no time to wash",
            "skipped",
        ],
    ),
];

/// Words that turn what follows into its opposite.
const NOT: [&str; 13] = [
    "no", "not", "never", "without", "none", "nothing", "neither", "nor", "didn't", "wasn't",
    "weren't", "hardly", "couldn't",
];

/// Signs of the dry product as it is weighed: what was wet, dark or blue on an earlier day was something else.
const AT_WEIGHING: [&str; 3] = [
    "product_still_damp",
    "residue_still_coloured",
    "solid_looked_dark",
];

/// How many words before a word a negation reaches.
const REACH: usize = 5;

/// Questions that the notes of a day may answer: one sentence each, only for signs the lab asks about and that are not
/// answered, or answered the other way.
#[must_use]
pub fn hints(lab: &Lab, record: &Record) -> Vec<String> {
    let mut hints = Vec::new();
    let weighed = day_of_weighing(lab);
    for (sign, (_, answer)) in lab.signs.iter().zip(&record.signs) {
        let Some((_, words)) = WORDS.iter().find(|(id, _)| *id == sign.id) else {
            continue;
        };
        let from = if AT_WEIGHING.contains(&sign.id.as_str()) {
            weighed
        } else {
            0
        };
        for day in record.days.iter().filter(|day| day.number >= from) {
            let Some((word, yes)) = day.seen.as_deref().and_then(|seen| spoken_of(seen, words))
            else {
                continue;
            };
            let says = if yes { "yes" } else { "no" };
            let question = &sign.question;
            match answer {
                None => hints.push(format!(
                    "The notes of day {} say “{word}”: does that answer “{question}” with {says}? Then write it under [signs].",
                    day.number
                )),
                Some(answered) if *answered != yes => hints.push(format!(
                    "“{question}” is answered {}, but the notes of day {} say “{word}”: which of the two is right?",
                    if *answered { "yes" } else { "no" },
                    day.number
                )),
                Some(_) => {}
            }
            break;
        }
    }
    hints
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

/// The first of some words that a text speaks of, with its words around, and whether it says that it was so.
fn spoken_of(text: &str, words: &[&str]) -> Option<(String, bool)> {
    let clauses = text.split(['.', ',', ';', ':', '!', '?', '\n', '(', ')']);
    for clause in clauses.flat_map(|clause| clause.split(" but ")) {
        let spaced = format!(" {} ", clause.to_lowercase().replace('’', "'"));
        let place = words
            .iter()
            .filter_map(|word| Some((spaced.find(&format!(" {word}"))?, *word)))
            .min();
        let Some((place, word)) = place else {
            continue;
        };
        let before: Vec<&str> = spaced[..place].split_whitespace().collect();
        let after: Vec<&str> = spaced[place + 1 + word.trim_end().len()..]
            .split_whitespace()
            .take(REACH)
            .collect();
        let near = &before[before.len().saturating_sub(REACH)..];
        let denied = near.iter().any(|earlier| NOT.contains(earlier));
        // “Bubbles were not seen”: only a plain not, for “bubbles and no smoke” speaks of something else.
        let denied_later = after
            .iter()
            .any(|later| ["not", "none", "never", "weren't", "wasn't"].contains(later));
        return Some((clause.trim().to_owned(), !(denied || denied_later)));
    }
    None
}

/// The day whose notes hold the words of a quotation, if any does: at least two of its longer words, or its only one.
pub(super) fn day_that_says(quotation: &str, record: &Record) -> Option<u32> {
    let words = long_words(quotation);
    let needed = words.len().min(2);
    if needed == 0 {
        return None;
    }
    let shared = |seen: &str| {
        let seen = long_words(seen);
        words.iter().filter(|word| seen.contains(word)).count()
    };
    let days = record.days.iter();
    days.filter_map(|day| Some((shared(day.seen.as_deref()?), day.number)))
        .filter(|(count, _)| *count >= needed)
        .max_by_key(|(count, day)| (*count, std::cmp::Reverse(*day)))
        .map(|(_, day)| day)
}

/// Words of at least four letters, lower case, without their endings; none that say nothing by themselves.
fn long_words(text: &str) -> Vec<String> {
    const EMPTY: [&str; 14] = [
        "that", "this", "with", "were", "from", "have", "then", "when", "some", "there", "they",
        "very", "into", "which",
    ];
    let mut words: Vec<String> = text
        .to_lowercase()
        .split(|c: char| !c.is_alphabetic())
        .filter(|word| word.chars().count() >= 4 && !EMPTY.contains(word))
        .map(|word| word.chars().take(6).collect())
        .collect();
    words.sort_unstable();
    words.dedup();
    words
}

#[cfg(test)]
mod tests {
    use super::WORDS;
    use super::spoken_of;
    use crate::lab::signs;

    #[test]
    fn a_word_counts_unless_it_is_denied() {
        let words = ["bubbl"];
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
            assert_eq!(spoken_of(text, &words).map(|(_, yes)| yes), says, "{text}");
        }
    }

    #[test]
    fn every_built_in_sign_has_its_words() {
        for (id, _) in signs::BUILT_IN {
            assert!(WORDS.iter().any(|(known, _)| known == id), "{id}");
        }
        assert_eq!(WORDS.len(), signs::BUILT_IN.len());
    }
}
