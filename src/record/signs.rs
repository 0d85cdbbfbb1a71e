//! The `[signs]` section: yes or no to the lab's questions, whatever else is said beside it.

use crate::lab::Lab;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::document::Table;
use crate::problem::suggest;
use crate::record::Record;
use crate::record::check::plain;
use crate::say;

/// Words that say yes by themselves, in small letters, in English and German.
const YES: &[&str] = &[
    "yes",
    "yep",
    "yeah",
    "yup",
    "y",
    "true",
    "a little",
    "a bit",
    "ja",
    "j",
    "jep",
    "jap",
    "ein bisschen",
    "ein wenig",
    "etwas",
];
/// Words that say no by themselves.
const NO: &[&str] = &[
    "no", "nope", "nah", "n", "false", "not", "nein", "nö", "noe", "nee",
];
/// Words that say nothing.
const UNKNOWN: &[&str] = &["?", "n/a", "don't know", "unsure"];
/// Words that still say yes or no when more stands behind them.
const CLEAR: &[(&str, bool)] = &[
    ("yes", true),
    ("yep", true),
    ("yeah", true),
    ("yup", true),
    ("ja", true),
    ("jep", true),
    ("jap", true),
    ("no", false),
    ("nope", false),
    ("nah", false),
    ("nein", false),
    ("nö", false),
    ("noe", false),
    ("nee", false),
];
/// Behind a yes or no these say that nobody knows.
const DOUBTS: &[&str] = &[
    "?",
    "not sure",
    "unsure",
    "don't know",
    "don’t know",
    "dont know",
    "no idea",
    "maybe",
    "perhaps",
    "nicht sicher",
    "unsicher",
    "weiß nicht",
    "weiss nicht",
    "keine ahnung",
    "vielleicht",
];
/// Directly behind a yes or no these make something else of it: `no idea`.
const TURNS: &[&str] = &["idea", "clue", "doubt"];
/// Between a yes and a no: `yes and no`.
const BETWEEN: &[&str] = &["and", "or", "und", "oder", "bzw"];

/// Reads the section. What stands behind a yes or no is kept as a remark.
pub(super) fn read(
    root: &mut Table<'_>,
    lab: &Lab,
    record: &mut Record,
    problems: &mut Vec<Problem>,
) {
    let Some(mut table) = root.table("signs", problems) else {
        return;
    };
    let words = &lab.words;
    for (name, span, value) in table.take_all() {
        let Some(place) = record.signs.iter().position(|(id, _)| *id == name) else {
            let help = suggest::closest(&name, lab.signs.iter().map(|sign| sign.id.as_str()))
                .map_or_else(
                    || say!(words, "write what you saw under its day, in `seen`"),
                    |near| say!(words, "did you mean `{name}`?", name = near),
                );
            problems.push(
                Problem::error(
                    Code::UnknownSign,
                    say!(words, "this lab does not ask for `{name}`", name = name),
                )
                .at(span, words.say("not known"))
                .help(help),
            );
            continue;
        };
        let Some(typed) = plain(&value) else {
            continue;
        };
        match answer(&typed) {
            Some((answer, remark)) => {
                record.signs[place].1 = answer;
                if remark.is_empty() {
                    continue;
                }
                problems.push(
                    Problem::note(
                        Code::UnknownWord,
                        words.say("of this answer only yes or no counts; the rest is kept as a remark"),
                    )
                    .at(
                        value.inner_span(),
                        match answer {
                            Some(true) => words.say("counts as yes"),
                            _ => words.say("counts as no"),
                        },
                    )
                    .help(words.say("say what you saw under its day, in `seen`, so that it stands with the rest")),
                );
                record.sign_remarks.push((name, remark.to_owned()));
            }
            None => problems.push(
                Problem::error(
                    Code::UnknownWord,
                    words.say("this question is answered with yes or no"),
                )
                .at(value.inner_span(), words.say("neither"))
                .help(words.say("write \"yes\" or \"no\", or leave it empty; say more in `seen`")),
            ),
        }
    }
}

/// Yes, no or nothing, and what is said beside it; `None` where neither is said clearly.
fn answer(typed: &str) -> Option<(Option<bool>, &str)> {
    let small = typed.to_lowercase();
    let whole = small.trim_end_matches(['.', '!', ',', ';']).trim_end();
    for (known, answer) in [(YES, Some(true)), (NO, Some(false)), (UNKNOWN, None)] {
        if known.contains(&whole) {
            return Some((answer, ""));
        }
    }
    let end = typed.find(|c: char| !c.is_alphabetic())?;
    let (first, rest) = typed.split_at(end);
    let first = first.to_lowercase();
    let (_, answer) = CLEAR.iter().find(|(word, _)| *word == first)?;
    let behind = rest.to_lowercase();
    let doubt = DOUBTS.iter().any(|doubt| behind.contains(doubt));
    let mut said = behind
        .split(|c: char| !c.is_alphabetic())
        .filter(|word| !word.is_empty());
    let next = said.next().unwrap_or_default();
    let opposite = |word: &str| {
        let mut clear = CLEAR.iter();
        clear.any(|(other, says)| *other == word && says != answer)
    };
    let space = &behind[..behind.find(char::is_alphabetic).unwrap_or(0)];
    // `Yes, no more came` is a yes, `yes no` and `yes/no` are neither.
    let both = opposite(next) && !space.contains([',', ';', '.', ':', '!'])
        || BETWEEN.contains(&next) && said.next().is_some_and(opposite);
    if doubt || both || TURNS.contains(&next) {
        return None;
    }
    Some((Some(*answer), remark(rest)))
}

/// What stands behind a yes or no, without the punctuation between.
fn remark(rest: &str) -> &str {
    let bracketed = rest.trim_end_matches(['.', ' ']).strip_suffix(')');
    let inside = bracketed.and_then(|rest| rest.trim_start_matches([' ', ',']).strip_prefix('('));
    let remark = inside.filter(|inside| !inside.contains(['(', ')']));
    let remark = remark.unwrap_or(rest);
    remark
        .trim_start_matches(|c: char| {
            c.is_whitespace() || matches!(c, ',' | ';' | '.' | ':' | '!' | '-' | '–' | '—' | '/')
        })
        .trim_end()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clear_yes_or_no_counts_whatever_is_said_beside_it() {
        for (typed, says, beside) in [
            ("Yes", true, ""),
            ("YES!", true, ""),
            ("Yep", true, ""),
            ("yeah.", true, ""),
            ("a little", true, ""),
            ("Yes, a little", true, "a little"),
            ("yes (a few small ones)", true, "a few small ones"),
            ("Yes - on day 2.", true, "on day 2."),
            ("yes, and it was warm", true, "and it was warm"),
            ("Yes, no more than two", true, "no more than two"),
            ("yes I am sure", true, "I am sure"),
            ("Nope", false, ""),
            ("No, nothing", false, "nothing"),
            ("no bubbles", false, "bubbles"),
            ("Ja, etwas", true, "etwas"),
            ("etwas", true, ""),
            ("Nö", false, ""),
            ("Nee", false, ""),
            ("Nein: gar nicht", false, "gar nicht"),
        ] {
            assert_eq!(answer(typed), Some((Some(says), beside)), "{typed}");
        }
        for typed in [
            "not sure",
            "No idea",
            "no, not sure",
            "yes?",
            "yes and no",
            "yes/no",
            "Ja oder nein",
            "nein, weiß nicht",
            "maybe",
            "black",
            "nobody looked",
            "yesterday",
            "we did not see any",
            "?!x",
            "keine Ahnung",
        ] {
            assert_eq!(answer(typed), None, "{typed}");
        }
        assert_eq!(answer("?"), Some((None, "")));
    }
}
