//! What changed between two records of a group, as typed; words of the students only as changed, values only for the key.

use std::fmt::Write as _;
use std::path::Path;

use serde::Serialize;

use super::items::Item;
use super::items::Items;
use super::items::KINDS;
use super::items::SIGN;
use super::items::VALUE;
use super::items::VERDICT;
use super::items::kind_in_words;
use super::items::on_one_line;
use crate::answers::Judged;
use crate::answers::Verdict;
use crate::lab::Lab;
use crate::record::Record;
use crate::say;
use crate::words::Words;
use crate::working::Graph;
use crate::working::Worked;

/// The widest the column of names gets; what is longer goes on as it is.
const WIDEST: usize = 30;

/// What `--since` comes to for one file.
#[derive(Debug, Serialize)]
#[serde(untagged)]
pub(in crate::command) enum Since {
    /// There is nothing to compare with.
    NoOlderCopy,
    /// The older copy, or the present file, cannot be used.
    NotCompared,
    /// What changed, in the order of the data file.
    Changes(Vec<Change>),
}

/// One thing that is not as it was.
#[derive(Debug, PartialEq, Eq, Serialize)]
pub(in crate::command) struct Change {
    kind: &'static str,
    name: String,
    /// Its name for people, in the language of the lab.
    #[serde(skip)]
    shown: String,
    /// `None` where there was nothing, and for words.
    before: Option<String>,
    /// `None` where there is nothing now, and for words.
    after: Option<String>,
}

/// A record with what follows from it.
#[derive(Debug)]
pub(super) struct Side<'a> {
    pub record: &'a Record,
    pub worked: &'a Worked<'a>,
    pub judged: &'a Judged,
}

/// What differs between an older record and the present one, both worked by the same lab.
pub(super) fn between(
    lab: &Lab,
    graph: &Graph,
    old: &Side<'_>,
    new: &Side<'_>,
    key: bool,
) -> Vec<Change> {
    let [old, new] = [old, new].map(|side| {
        let mut items = Items::new(&lab.words);
        items.of_record(lab, side.record);
        items.of_answers(graph, side.judged);
        if key {
            items.of_values(lab, graph, None, side.worked);
            for (trial, worked) in side.record.trials.iter().zip(&side.worked.trials) {
                items.of_values(lab, graph, Some(trial.number), worked);
            }
        }
        items
    });
    let mut changes = Vec::new();
    for kind in KINDS {
        for (name, item) in new.of_kind(kind) {
            let was = old.get(kind, name);
            if was != Some(item) {
                changes.push(change(kind, name, was, Some(item)));
            }
        }
        for (name, item) in old.of_kind(kind) {
            if new.get(kind, name).is_none() {
                changes.push(change(kind, name, Some(item), None));
            }
        }
    }
    changes
}

impl Since {
    /// For people: how many changes, and a line for each. `what` begins the first line.
    pub(super) fn text(&self, what: &str, old: &Path, words: &Words) -> String {
        let old = if old.as_os_str() == "-" {
            say!(words, "standard input")
        } else {
            old.display().to_string()
        };
        let line = |sentence: String| format!("  {what}  {sentence}\n");
        let changes = match self {
            Self::NoOlderCopy => return line(say!(words, "no older copy in {old}", old = old)),
            Self::NotCompared => return line(say!(words, "not compared with {old}", old = old)),
            Self::Changes(changes) if changes.is_empty() => {
                return line(say!(words, "none since {old}", old = old));
            }
            Self::Changes(changes) => changes,
        };
        let mut text = line(say!(
            words,
            "{count} since {old}",
            count = changes.len(),
            old = old
        ));
        let width = |of: &dyn Fn(&Change) -> String| {
            let widths = changes.iter().map(|change| of(change).chars().count());
            widths.max().unwrap_or(0).min(WIDEST)
        };
        let kind = width(&|change| kind_in_words(change.kind, words).to_owned());
        let name = width(&|change| on_one_line(&change.shown));
        for change in changes {
            let _ = writeln!(
                text,
                "    {:<kind$}  {:<name$}  {}",
                kind_in_words(change.kind, words),
                on_one_line(&change.shown),
                change.in_words(words)
            );
        }
        text
    }
}

impl Change {
    /// `4.36 g → 4.63 g`, `added: 4.63 g`.
    fn in_words(&self, words: &Words) -> String {
        let shown = |text: &String| {
            let verdict = Verdict::ALL
                .iter()
                .find(|verdict| self.kind == VERDICT && verdict.as_str() == text);
            match verdict {
                Some(verdict) => words.say(verdict.in_words()).to_owned(),
                // What is not typed has the decimal mark of the language; substances have names of their own.
                None if self.kind == VALUE
                    && text.starts_with(|c: char| c.is_ascii_digit() || c == '−') =>
                {
                    words.number(&on_one_line(text))
                }
                None if self.kind == SIGN => words.say(text).to_owned(),
                None => on_one_line(text),
            }
        };
        let alone = |word: &str, text: &String| match shown(text) {
            text if text.is_empty() => word.to_owned(),
            text => format!("{word}: {text}"),
        };
        match (&self.before, &self.after) {
            (Some(before), Some(after)) => match (shown(before), shown(after)) {
                (before, after) if before.is_empty() => say!(words, "now {text}", text = after),
                (before, after) if after.is_empty() => {
                    say!(words, "no longer {text}", text = before)
                }
                (before, after) => format!("{before} → {after}"),
            },
            (None, Some(after)) => alone(words.say("added"), after),
            (Some(before), None) => alone(words.say("removed"), before),
            (None, None) => say!(words, "changed"),
        }
    }
}

fn change(kind: &'static str, name: &str, before: Option<&Item>, after: Option<&Item>) -> Change {
    let told = |item: &Item| item.told.then(|| item.text.clone());
    Change {
        kind,
        name: name.to_owned(),
        shown: after
            .or(before)
            .map_or_else(String::new, |item| item.shown.clone()),
        before: before.and_then(told),
        after: after.and_then(told),
    }
}
