//! A record made fit for sharing before anything is composed from it: what is taken out here can be on no page.

use std::collections::BTreeSet;

use crate::record::Content;
use crate::record::Record;
use crate::record::Recorded;
use crate::working::decay;

/// Stands where a name stood in words that a group shares.
const NAME: &str = "[name]";

/// Every name of a class, word by word, lower case.
#[derive(Debug, Default)]
pub(super) struct Names {
    words: BTreeSet<String>,
}

impl Names {
    /// Adds the names of one file.
    pub(super) fn add<'n>(&mut self, names: impl IntoIterator<Item = &'n String>) {
        for name in names {
            let words = name.split(|c: char| !c.is_alphanumeric());
            self.words.extend(
                words
                    .filter(|word| word.chars().count() >= 2)
                    .map(str::to_lowercase),
            );
        }
    }

    /// Whether a label holds a name of at least three letters of anybody: as a word, or as letters beside digits.
    pub(super) fn are_in(&self, label: &str) -> bool {
        let label = label.to_lowercase();
        let words = label.split(|c: char| !c.is_alphanumeric());
        let letters = label.split(|c: char| !c.is_alphabetic());
        words.chain(letters).any(|part| {
            part.chars().count() >= 3
                && part.chars().any(char::is_alphabetic)
                && self.words.contains(part)
        })
    }

    /// A text with every name in it replaced.
    pub(super) fn masked(&self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut rest = text;
        while !rest.is_empty() {
            let word = rest
                .find(|c: char| !c.is_alphanumeric())
                .map_or(rest, |end| &rest[..end]);
            if word.is_empty() {
                let first = rest.chars().next().map_or(rest.len(), char::len_utf8);
                out.push_str(&rest[..first]);
                rest = &rest[first..];
                continue;
            }
            out.push_str(if self.names(word) { NAME } else { word });
            rest = &rest[word.len()..];
        }
        out
    }

    /// Whether a word is a name. A name of two letters is one only with its capital: many are words too.
    fn names(&self, word: &str) -> bool {
        let capital = word.chars().next().is_some_and(char::is_uppercase);
        (capital || word.chars().count() > 2) && self.words.contains(&word.to_lowercase())
    }
}

/// Takes out of a record what no shared page may hold, and sets its code. Observations and prose stay only where the group says so, and
/// then without names.
pub(super) fn make_fit(record: &mut Record, code: &str, names: &Names) {
    let who = &mut record.who;
    code.clone_into(&mut who.group);
    who.section = String::new();
    who.names = Vec::new();
    let shares = who.share_words;
    record.answers.clear();
    record.extra.clear();
    for recorded in &mut record.readings {
        plain(recorded);
    }
    for day in &mut record.days {
        day.date = None;
        day.seen = day
            .seen
            .take()
            .filter(|_| shares)
            .map(|seen| names.masked(&seen));
    }
    if !shares {
        for (_, answer) in &mut record.signs {
            *answer = None;
        }
        record.causes.clear();
        record.words.clear();
        return;
    }
    for cause in &mut record.causes {
        for text in [
            &mut cause.what,
            &mut cause.evidence,
            &mut cause.effect,
            &mut cause.next_time,
        ] {
            *text = names.masked(text);
        }
    }
    record
        .words
        .retain(|(key, _)| ["discussion", "conclusion"].contains(&key.as_str()));
    for (_, text) in &mut record.words {
        *text = names.masked(text);
    }
}

/// A reading as a number only: remarks, corrections and words beside it go.
fn plain(recorded: &mut Recorded) {
    for entry in &mut recorded.entries {
        "not readable".clone_into(&mut entry.typed);
        match &mut entry.content {
            Content::Value(reading) => {
                reading.note = None;
                reading.time = reading
                    .time
                    .take()
                    .and_then(|time| decay::hours(time.split_whitespace().next()?))
                    .map(clock);
            }
            Content::Missing(word) => "no reading".clone_into(word),
            Content::Unreadable => {}
        }
    }
    if let Some(why) = &mut recorded.impossible {
        "impossible".clone_into(why);
    }
}

/// A time of day in hours as a clock shows it.
fn clock(hours: f64) -> String {
    let minutes = (hours * 60.0).round();
    format!("{:02}:{:02}", (minutes / 60.0).floor(), minutes % 60.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_masked_as_whole_words_whatever_their_case() {
        let mut names = Names::default();
        names.add(&["Ingrid Käfer".to_owned(), "Bo L.".to_owned()]);
        for (text, masked) in [
            ("Ingrid poured it away.", "[name] poured it away."),
            ("KÄFER's beaker", "[name]'s beaker"),
            ("Bo and bo", "[name] and bo"),
            ("Ingridients", "Ingridients"),
            ("we did it", "we did it"),
        ] {
            assert_eq!(names.masked(text), masked);
        }
    }

    #[test]
    fn a_label_is_held_against_every_name() {
        let mut names = Names::default();
        names.add(&["Ingrid Bo".to_owned(), "Group 307".to_owned()]);
        for (label, is) in [
            ("ingrid-7", true),
            ("7INGRID", true),
            ("3_ingrid.b", true),
            ("bo-7", false),
            ("307", false),
            ("ingridients-7", false),
        ] {
            assert_eq!(names.are_in(label), is, "{label}");
        }
    }

    #[test]
    fn a_clock_is_written_as_a_clock() {
        assert_eq!(clock(14.0 + 10.0 / 60.0), "14:10");
        assert_eq!(clock(9.0), "09:00");
    }
}
