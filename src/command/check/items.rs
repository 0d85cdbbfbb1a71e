//! Everything of a record that a comparison may tell: by kind and name, as typed, in the order of the data file.

use std::collections::BTreeMap;

use crate::answers::Judged;
use crate::lab::Lab;
use crate::record::Record;
use crate::record::Recorded;
use crate::say;
use crate::words::Words;
use crate::working::Graph;
use crate::working::Worked;
use crate::working::show;

const WHO: &str = "who";
const DATE: &str = "date";
const READING: &str = "reading";
const EXTRA: &str = "extra";
pub(super) const SIGN: &str = "sign";
const ANSWER: &str = "answer";
pub(super) const VERDICT: &str = "verdict";
const CAUSE: &str = "cause";
const WORDS: &str = "words";
pub(super) const VALUE: &str = "value";

/// Every kind of change, in the order in which they are told.
pub(super) const KINDS: [&str; 10] = [
    WHO, DATE, READING, EXTRA, SIGN, ANSWER, VERDICT, CAUSE, WORDS, VALUE,
];

/// A kind of change for people.
pub(super) fn kind_in_words<'w>(kind: &'w str, words: &'w Words) -> &'w str {
    match kind {
        WHO => words.say("who"),
        DATE => words.say("date"),
        READING => words.say("reading"),
        EXTRA => words.say("extra"),
        SIGN => words.say("sign"),
        ANSWER => words.say("answer"),
        VERDICT => words.say("verdict"),
        CAUSE => words.say("cause"),
        WORDS => words.say("words"),
        VALUE => words.say("value"),
        other => other,
    }
}

/// A text to compare, and whether it may be told.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Item {
    /// The name of what it is the text of, for people.
    pub shown: String,
    pub text: String,
    pub told: bool,
}

/// What something is called as data, and for people.
#[derive(Debug)]
struct Name {
    id: String,
    shown: String,
}

impl Name {
    fn new(id: impl Into<String>, shown: impl Into<String>) -> Self {
        Self {
            id: id.into(),
            shown: shown.into(),
        }
    }

    /// A name out of the data file or the lab description, which needs no other.
    fn plain(name: &str) -> Self {
        Self::new(name, name)
    }

    /// Which day.
    fn day(number: u32, words: &Words) -> Self {
        let shown = say!(words, "day {number}", number = number);
        Self::new(format!("day {number}"), shown)
    }

    /// In a further trial.
    fn in_trial(self, trial: Option<u32>, words: &Words) -> Self {
        let Some(number) = trial else { return self };
        let shown = say!(
            words,
            "trial {number} {what}",
            number = number,
            what = self.shown
        );
        Self::new(format!("trial {number} {}", self.id), shown)
    }
}

/// Everything of one side that can be compared, by kind and name, in order.
#[derive(Debug)]
pub(super) struct Items<'w> {
    words: &'w Words,
    order: Vec<(&'static str, String)>,
    texts: BTreeMap<(&'static str, String), Item>,
    /// How often a name came.
    times: BTreeMap<(&'static str, String), usize>,
}

impl<'w> Items<'w> {
    pub(super) const fn new(words: &'w Words) -> Self {
        Self {
            words,
            order: Vec::new(),
            texts: BTreeMap::new(),
            times: BTreeMap::new(),
        }
    }

    pub(super) fn of_kind(&self, kind: &'static str) -> impl Iterator<Item = (&str, &Item)> {
        let order = self.order.iter().filter(move |key| key.0 == kind);
        order.filter_map(|key| Some((key.1.as_str(), self.texts.get(key)?)))
    }

    pub(super) fn get(&self, kind: &'static str, name: &str) -> Option<&Item> {
        self.texts.get(&(kind, name.to_owned()))
    }

    /// A second one of the same name gets a number.
    fn add(&mut self, kind: &'static str, name: &Name, text: &str, told: bool) {
        let number = self.times.entry((kind, name.id.clone())).or_default();
        let (key, shown) = loop {
            *number += 1;
            let numbered = |name: &str| match *number {
                1 => name.to_owned(),
                number => format!("{name} ({number})"),
            };
            let key = (kind, numbered(&name.id));
            if !self.texts.contains_key(&key) {
                break (key, numbered(&name.shown));
            }
        };
        let text = text.to_owned();
        self.order.push(key.clone());
        self.texts.insert(key, Item { shown, text, told });
    }

    /// What may be told as it is typed.
    fn tell(&mut self, kind: &'static str, name: &Name, text: &str) {
        if !text.trim().is_empty() {
            self.add(kind, name, text.trim(), true);
        }
    }

    /// What is only told to be another than before.
    fn hush(&mut self, kind: &'static str, name: &Name, text: &str) {
        if !text.trim().is_empty() {
            self.add(kind, name, text.trim(), false);
        }
    }

    pub(super) fn of_record(&mut self, lab: &Lab, record: &Record) {
        let words = self.words;
        let who = &record.who;
        let share = if who.share_words { "yes" } else { "no" };
        for (name, text) in [
            ("lab", who.lab.as_str()),
            ("section", &who.section),
            ("group", &who.group),
        ] {
            self.tell(WHO, &Name::plain(name), text);
        }
        self.hush(WHO, &Name::plain("names"), &who.names.join("\n"));
        self.tell(WHO, &Name::plain("share_words"), share);
        if let Some((file, _)) = &who.readings_of {
            self.tell(WHO, &Name::plain("readings_of"), file);
        }
        for day in &record.days {
            let name = Name::day(day.number, words);
            self.tell(DATE, &name, day.date.as_deref().unwrap_or_default());
            let shown = say!(words, "{day} seen", day = name.shown);
            let notes = Name::new(format!("{} seen", name.id), shown);
            self.hush(WORDS, &notes, day.seen.as_deref().unwrap_or_default());
        }
        self.of_readings(lab, None, &record.readings, &[]);
        for trial in &record.trials {
            self.of_readings(lab, Some(trial.number), &trial.readings, &trial.common);
        }
        for (name, typed) in &record.extra {
            self.tell(EXTRA, &Name::plain(name), typed);
        }
        for (sign, answer) in &record.signs {
            if let Some(answer) = answer {
                let answer = if *answer { "yes" } else { "no" };
                self.tell(SIGN, &Name::plain(sign), answer);
                // Words of the students are told only as changed.
                let remark = record.sign_remark(sign).unwrap_or_default();
                let shown = say!(words, "remark on {sign}", sign = sign);
                self.hush(
                    WORDS,
                    &Name::new(format!("remark on {sign}"), shown),
                    remark,
                );
            }
        }
        for cause in &record.causes {
            let what = on_one_line(&cause.what);
            self.add(CAUSE, &Name::plain(&what), cause.effect.trim(), true);
            let shown = say!(words, "evidence of {cause}", cause = what);
            let evidence = Name::new(format!("evidence of {what}"), shown);
            self.hush(WORDS, &evidence, &cause.evidence);
            let shown = say!(words, "next_time of {cause}", cause = what);
            let next = Name::new(format!("next_time of {what}"), shown);
            self.hush(WORDS, &next, &cause.next_time);
        }
        for (name, prose) in &record.words {
            self.hush(WORDS, &Name::plain(name), prose);
        }
    }

    /// What is `common` to several trials is told once.
    fn of_readings(
        &mut self,
        lab: &Lab,
        trial: Option<u32>,
        readings: &[Recorded],
        common: &[bool],
    ) {
        for (index, ((_, asked), recorded)) in lab.readings().zip(readings).enumerate() {
            if common.get(index) == Some(&true) {
                continue;
            }
            for (place, entry) in recorded.entries.iter().enumerate() {
                let name = match asked.series {
                    Some(_) => format!("{} {}", asked.name, place + 1),
                    None => asked.name.clone(),
                };
                let name = Name::plain(&name).in_trial(trial, self.words);
                self.tell(READING, &name, &entry.typed);
            }
        }
    }

    pub(super) fn of_answers(&mut self, graph: &Graph, judged: &Judged) {
        for judgement in &judged.answers {
            let step = Name::plain(&graph.step(judgement.step).id);
            let typed = judgement.typed.as_deref().unwrap_or_default();
            self.tell(ANSWER, &step, typed);
            self.tell(VERDICT, &step, judgement.verdict.as_str());
        }
    }

    /// Only for the key.
    pub(super) fn of_values(
        &mut self,
        lab: &Lab,
        graph: &Graph,
        trial: Option<u32>,
        worked: &Worked<'_>,
    ) {
        for id in graph.ids() {
            if let Some(value) = worked.value(id) {
                let step = graph.step(id);
                let shown = show::plain_value(lab, step, value, &worked.inputs);
                let name = Name::plain(&step.id).in_trial(trial, self.words);
                self.tell(VALUE, &name, &shown);
            }
        }
    }
}

/// Text as typed may run over several lines.
pub(super) fn on_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
