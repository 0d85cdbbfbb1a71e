//! What changed between two records of a group, as typed; words of the students only as changed, values only for the key.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use serde::Serialize;

use crate::answers::Judged;
use crate::answers::Verdict;
use crate::lab::Lab;
use crate::record::Record;
use crate::record::Recorded;
use crate::working::Graph;
use crate::working::Worked;
use crate::working::show;

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
        let mut items = Items::default();
        items.of_record(lab, side.record);
        items.of_answers(graph, side.judged);
        if key {
            items.of_values(lab, graph, "", side.worked);
            for (trial, worked) in side.record.trials.iter().zip(&side.worked.trials) {
                items.of_values(lab, graph, &format!("trial {} ", trial.number), worked);
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
    pub(super) fn text(&self, what: &str, old: &Path) -> String {
        let old = if old.as_os_str() == "-" {
            "standard input".into()
        } else {
            old.display().to_string()
        };
        let changes = match self {
            Self::NoOlderCopy => return format!("  {what}  no older copy in {old}\n"),
            Self::NotCompared => return format!("  {what}  not compared with {old}\n"),
            Self::Changes(changes) if changes.is_empty() => {
                return format!("  {what}  none since {old}\n");
            }
            Self::Changes(changes) => changes,
        };
        let mut text = format!("  {what}  {} since {old}\n", changes.len());
        let width = |of: fn(&Change) -> String| {
            let widths = changes.iter().map(|change| of(change).chars().count());
            widths.max().unwrap_or(0).min(WIDEST)
        };
        let kind = width(|change| change.kind.to_owned());
        let name = width(|change| on_one_line(&change.name));
        for change in changes {
            let _ = writeln!(
                text,
                "    {:<kind$}  {:<name$}  {}",
                change.kind,
                on_one_line(&change.name),
                change.in_words()
            );
        }
        text
    }
}

impl Change {
    /// `4.36 g → 4.63 g`, `added: 4.63 g`.
    fn in_words(&self) -> String {
        let shown = |text: &String| {
            let verdict = Verdict::ALL
                .iter()
                .find(|verdict| self.kind == VERDICT && verdict.as_str() == text);
            verdict.map_or_else(
                || on_one_line(text),
                |verdict| verdict.in_words().to_owned(),
            )
        };
        let alone = |word: &str, text: &String| match shown(text) {
            text if text.is_empty() => word.to_owned(),
            text => format!("{word}: {text}"),
        };
        match (&self.before, &self.after) {
            (Some(before), Some(after)) => match (shown(before), shown(after)) {
                (before, after) if before.is_empty() => format!("now {after}"),
                (before, after) if after.is_empty() => format!("no longer {before}"),
                (before, after) => format!("{before} → {after}"),
            },
            (None, Some(after)) => alone("added", after),
            (Some(before), None) => alone("removed", before),
            (None, None) => "changed".to_owned(),
        }
    }
}

/// Text as typed may run over several lines.
fn on_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

const WHO: &str = "who";
const DATE: &str = "date";
const READING: &str = "reading";
const EXTRA: &str = "extra";
const SIGN: &str = "sign";
const ANSWER: &str = "answer";
const VERDICT: &str = "verdict";
const CAUSE: &str = "cause";
const WORDS: &str = "words";
const VALUE: &str = "value";

/// Every kind of change, in the order in which they are told.
const KINDS: [&str; 10] = [
    WHO, DATE, READING, EXTRA, SIGN, ANSWER, VERDICT, CAUSE, WORDS, VALUE,
];

/// A text to compare, and whether it may be told.
#[derive(Debug, PartialEq, Eq)]
struct Item {
    text: String,
    told: bool,
}

fn change(kind: &'static str, name: &str, before: Option<&Item>, after: Option<&Item>) -> Change {
    let told = |item: &Item| item.told.then(|| item.text.clone());
    Change {
        kind,
        name: name.to_owned(),
        before: before.and_then(told),
        after: after.and_then(told),
    }
}

/// Everything of one side that can be compared, by kind and name, in order.
#[derive(Debug, Default)]
struct Items {
    order: Vec<(&'static str, String)>,
    texts: BTreeMap<(&'static str, String), Item>,
    /// How often a name came.
    times: BTreeMap<(&'static str, String), usize>,
}

impl Items {
    fn of_kind(&self, kind: &'static str) -> impl Iterator<Item = (&str, &Item)> {
        let order = self.order.iter().filter(move |key| key.0 == kind);
        order.filter_map(|key| Some((key.1.as_str(), self.texts.get(key)?)))
    }

    fn get(&self, kind: &'static str, name: &str) -> Option<&Item> {
        self.texts.get(&(kind, name.to_owned()))
    }

    /// A second one of the same name gets a number.
    fn add(&mut self, kind: &'static str, name: &str, text: &str, told: bool) {
        let number = self.times.entry((kind, name.to_owned())).or_default();
        let key = loop {
            *number += 1;
            let name = match *number {
                1 => name.to_owned(),
                number => format!("{name} ({number})"),
            };
            let key = (kind, name);
            if !self.texts.contains_key(&key) {
                break key;
            }
        };
        let text = text.to_owned();
        self.order.push(key.clone());
        self.texts.insert(key, Item { text, told });
    }

    /// What may be told as it is typed.
    fn tell(&mut self, kind: &'static str, name: &str, text: &str) {
        if !text.trim().is_empty() {
            self.add(kind, name, text.trim(), true);
        }
    }

    /// What is only told to be another than before.
    fn hush(&mut self, kind: &'static str, name: &str, text: &str) {
        if !text.trim().is_empty() {
            self.add(kind, name, text.trim(), false);
        }
    }

    fn of_record(&mut self, lab: &Lab, record: &Record) {
        let who = &record.who;
        self.tell(WHO, "lab", &who.lab);
        self.tell(WHO, "section", &who.section);
        self.tell(WHO, "group", &who.group);
        self.hush(WHO, "names", &who.names.join("\n"));
        let share = if who.share_words { "yes" } else { "no" };
        self.tell(WHO, "share_words", share);
        if let Some((file, _)) = &who.readings_of {
            self.tell(WHO, "readings_of", file);
        }
        for day in &record.days {
            let name = format!("day {}", day.number);
            self.tell(DATE, &name, day.date.as_deref().unwrap_or_default());
            let seen = day.seen.as_deref().unwrap_or_default();
            self.hush(WORDS, &format!("{name} seen"), seen);
        }
        self.of_readings(lab, "", &record.readings, &[]);
        for trial in &record.trials {
            let before = format!("trial {} ", trial.number);
            self.of_readings(lab, &before, &trial.readings, &trial.common);
        }
        for (name, typed) in &record.extra {
            self.tell(EXTRA, name, typed);
        }
        for (sign, answer) in &record.signs {
            if let Some(answer) = answer {
                self.tell(SIGN, sign, if *answer { "yes" } else { "no" });
            }
        }
        for cause in &record.causes {
            let what = on_one_line(&cause.what);
            self.add(CAUSE, &what, cause.effect.trim(), true);
            self.hush(WORDS, &format!("evidence of {what}"), &cause.evidence);
            self.hush(WORDS, &format!("next_time of {what}"), &cause.next_time);
        }
        for (name, prose) in &record.words {
            self.hush(WORDS, name, prose);
        }
    }

    /// What is `common` to several trials is told once.
    fn of_readings(&mut self, lab: &Lab, before: &str, readings: &[Recorded], common: &[bool]) {
        for (index, ((_, asked), recorded)) in lab.readings().zip(readings).enumerate() {
            if common.get(index) == Some(&true) {
                continue;
            }
            for (place, entry) in recorded.entries.iter().enumerate() {
                let name = match asked.series {
                    Some(_) => format!("{before}{} {}", asked.name, place + 1),
                    None => format!("{before}{}", asked.name),
                };
                self.tell(READING, &name, &entry.typed);
            }
        }
    }

    fn of_answers(&mut self, graph: &Graph, judged: &Judged) {
        for judgement in &judged.answers {
            let step = &graph.step(judgement.step).id;
            self.tell(ANSWER, step, judgement.typed.as_deref().unwrap_or_default());
            self.tell(VERDICT, step, judgement.verdict.as_str());
        }
    }

    /// Only for the key.
    fn of_values(&mut self, lab: &Lab, graph: &Graph, before: &str, worked: &Worked<'_>) {
        for id in graph.ids() {
            if let Some(value) = worked.value(id) {
                let step = graph.step(id);
                let shown = show::value(lab, step, value).replace(show::NO_BREAK, " ");
                self.tell(VALUE, &format!("{before}{}", step.id), &shown);
            }
        }
    }
}
