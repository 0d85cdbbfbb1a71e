//! Where a student's text holds the words of a list.

use std::ops::Range;

use crate::causes::mention::Text;
use crate::causes::vocabulary;
use crate::words::Words;

/// How many words may stand where a list has a star.
const GAP: usize = 6;

/// Every place where a text holds a word of a list, and the letters of the word.
///
/// An English word begins where a word begins; a German one may be the end of a longer one. What the forms offer in English
/// counts in another language too, but as a whole word.
pub(super) fn places<'t>(
    text: &'t Text,
    list: &'static str,
    language: &'t Words,
) -> impl Iterator<Item = Range<usize>> {
    let foreign = language.code() != Words::english().code();
    let own = vocabulary::own(list, language)
        .flat_map(move |word| of_word(text, word, (!foreign, false), language));
    let english = vocabulary::split(list)
        .filter(move |_| foreign)
        .flat_map(move |word| of_word(text, word, (true, true), language));
    own.chain(english)
}

/// The places of one word of a list, which may have to begin a word and to end one; a star in it stands for a few other words
/// of the same clause.
fn of_word(
    text: &Text,
    word: &str,
    (begins, ends): (bool, bool),
    language: &Words,
) -> Vec<Range<usize>> {
    let plain = text.plain.as_str();
    let mut parts = word.split(" * ");
    let first = parts.next().unwrap_or_default();
    let rest: Vec<&str> = parts.collect();
    let denies = vocabulary::has(vocabulary::NOT, first, language);
    let place = |at: usize| {
        let mut end = at + first.len();
        // “not * dry” is not in “nothing was dry”.
        if denies && plain[end..].starts_with(char::is_alphanumeric) {
            return None;
        }
        for part in &rest {
            end = soon(plain, end, part)?;
        }
        let clause = || text.clause(text.number(at), language);
        // A blank behind the last word belongs to no word.
        let last = plain[..end].trim_end().len() - 1;
        let one_clause = rest.is_empty() || clause().contains(&text.number(last));
        let goes_on = plain[end..].starts_with(char::is_alphanumeric);
        (one_clause && !(ends && goes_on)).then_some(at..end)
    };
    plain
        .match_indices(first)
        .filter(|(at, _)| !begins || !plain[..*at].ends_with(char::is_alphanumeric))
        .filter_map(|(at, _)| place(at))
        .collect()
}

/// Where a part of a word ends that begins a few words behind a place.
fn soon(text: &str, from: usize, part: &str) -> Option<usize> {
    let behind = &text[from..];
    let mut places = behind.match_indices(part).map(|(at, _)| at);
    let at = places.find(|at| behind[..*at].ends_with(' '))?;
    let between = &behind[..at];
    // The rest of a word that has begun is none of the words between.
    let begun = usize::from(!between.starts_with(' '));
    (between.split_whitespace().count() <= GAP + begun).then_some(from + at + part.len())
}
