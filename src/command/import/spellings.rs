//! What the columns of a lab's table may be called: names of the data file, labels and questions of the form.

use crate::command::check::csv;
use crate::command::import::columns::brackets;
use crate::command::import::columns::unit;
use crate::command::import::headings;
use crate::command::import::headings::DayWords;
use crate::command::names;
use crate::command::table;
use crate::lab::Day;
use crate::lab::Lab;
use crate::problem::suggest;
use crate::report::form;
use crate::report::form::CAUSE_KEYS;
use crate::report::form::Place;
use crate::report::steps::with_unit;
use crate::working::Graph;

/// What a column is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Meaning {
    /// The lab.
    Lab,
    /// The code of the group.
    Group,
    /// The section.
    Section,
    /// The names.
    Names,
    /// A box of the form; of a series by its number from 1, where a column has but one of its boxes.
    Box(Place, Option<usize>),
    /// A count that `check --groups-csv` adds.
    LeftOut,
    /// When and by whom a web form was sent.
    Sending,
    /// Nothing.
    Nothing,
}

/// What a heading is found to be.
pub(super) enum Found {
    /// One thing; with a bracket that looks like a unit and is none.
    Meaning(Meaning, Option<String>),
    /// One of several: their names.
    Several(Vec<String>),
    /// Nothing known.
    Nothing,
}

/// Blocks of causes that a table may have.
const CAUSES: usize = 9;

/// Boxes of a series that a table may have.
const LONGEST_SERIES: usize = 50;

/// One spelling.
struct Spelling {
    /// In [plain words](words).
    words: String,
    /// The same without blanks.
    letters: String,
    /// The names of the data file come first, then other spellings, then columns that hold nothing of a group.
    rank: u8,
    /// The name as the data file has it.
    name: String,
    meaning: Meaning,
}

/// Every spelling of a lab's columns.
pub(super) struct Spellings {
    all: Vec<Spelling>,
    /// Readings that are series.
    series: Vec<String>,
}

/// A text in small letters, with single spaces for all that is neither letter nor digit.
pub(super) fn words(text: &str) -> String {
    let lower = text.to_lowercase();
    let parts = lower.split(|c: char| !c.is_alphanumeric());
    let parts: Vec<&str> = parts.filter(|part| !part.is_empty()).collect();
    parts.join(" ")
}

impl Spellings {
    /// The spellings for a lab.
    pub(super) fn of(lab: &Lab, graph: &Graph) -> Self {
        let series = lab.readings().filter(|(_, asked)| asked.series.is_some());
        let mut all = Self {
            all: Vec::new(),
            series: series.map(|(_, asked)| asked.name.clone()).collect(),
        };
        all.who(lab);
        all.days(lab);
        for sign in &lab.signs {
            let place = Place::Sign(sign.id.clone());
            all.with_section("sign", &sign.id, place, &[&sign.question]);
        }
        for step in graph.steps() {
            let asked = step.asked.as_deref();
            let on_form = asked.map(|asked| with_unit(&lab.words, asked, step));
            let asked: Vec<&str> = asked.into_iter().chain(on_form.as_deref()).collect();
            all.with_section("answer", &step.id, Place::Answer(step.id.clone()), &asked);
        }
        for (key, note) in form::prose(lab) {
            all.with_section("word", &key, Place::Words(key.clone()), &[&note]);
        }
        all.causes();
        for name in ["file"].into_iter().chain(csv::counts()) {
            all.add(2, name, name, Meaning::LeftOut);
        }
        // What the readings give for an answer is nothing that a group has typed.
        for step in graph.steps() {
            let name = format!("{}{}", step.id, csv::EXPECTED);
            all.add(2, &name, &name, Meaning::LeftOut);
        }
        for name in headings::SENDING {
            all.add(2, name, name, Meaning::Sending);
        }
        all
    }

    /// Whether a heading is known.
    pub(super) fn knows(&self, head: &str) -> bool {
        !matches!(self.find(table::unguarded(head)), Found::Nothing)
    }

    /// The name nearest to a heading in plain words.
    pub(super) fn near(&self, bare: &str) -> Option<&str> {
        let near = suggest::closest(bare, self.own().map(|spelling| spelling.words.as_str()))?;
        self.own()
            .find(|spelling| spelling.words == near)
            .map(|spelling| spelling.name.as_str())
    }

    /// The names of the data file.
    fn own(&self) -> impl Iterator<Item = &Spelling> {
        self.all.iter().filter(|spelling| spelling.rank == 0)
    }

    /// What a heading of one trial means: as it is, without its unit, without its brackets or its number; else by a name it holds.
    pub(super) fn in_one(&self, head: &str) -> Found {
        let all: Vec<_> = brackets(head).collect();
        let is_unit = |inner: &str| unit(inner).is_some();
        let without = |which: &dyn Fn(&str) -> bool| {
            let mut rest = head.to_owned();
            for (at, _) in all.iter().rev().filter(|(_, inner)| which(inner)) {
                // Brackets in brackets end before they start anew.
                if rest.is_char_boundary(at.end.min(rest.len())) && at.end <= rest.len() {
                    rest.replace_range(at.clone(), " ");
                }
            }
            rest
        };
        let (no_unit, no_bracket) = (without(&is_unit), without(&|_| true));
        for variant in [head, &no_unit, &no_bracket] {
            for text in [variant, without_number(variant)] {
                let found = self.exactly(&words(text));
                if let Found::Meaning(meaning, _) = found {
                    let stray = all.iter().find(|(_, inner)| looks_like_unit(inner));
                    let stray = stray.filter(|_| variant == no_bracket && variant != no_unit);
                    return Found::Meaning(meaning, stray.map(|(_, inner)| (*inner).to_owned()));
                }
                if let Found::Several(_) = found {
                    return found;
                }
            }
        }
        let parts = head.split([':', ';', ',', '(', ')', '[', ']', '|', '–', '—', '=']);
        let mut held: Vec<&Meaning> = Vec::new();
        for part in parts.map(words) {
            let named = self.own().find(|spelling| spelling.words == part);
            held.extend(named.map(|spelling| &spelling.meaning));
        }
        held.dedup();
        let address = || {
            words(head)
                .split(' ')
                .any(|word| headings::ADDRESS.contains(&word))
        };
        match held[..] {
            [only] => Found::Meaning(only.clone(), None),
            [] if address() => Found::Meaning(Meaning::Sending, None),
            _ => Found::Nothing,
        }
    }

    /// What a text in plain words means: a spelling word for word, or letter for letter; or a box of a series.
    pub(super) fn exactly(&self, text: &str) -> Found {
        let squashed = text.replace(' ', "");
        if squashed.is_empty() {
            return Found::Nothing;
        }
        for rank in 0..=2 {
            for by_letter in [false, true] {
                let mut found: Vec<&Spelling> = Vec::new();
                for spelling in self.all.iter().filter(|spelling| spelling.rank == rank) {
                    let same = if by_letter {
                        spelling.letters == squashed
                    } else {
                        spelling.words == text
                    };
                    if same && found.iter().all(|one| one.meaning != spelling.meaning) {
                        found.push(spelling);
                    }
                }
                match &found[..] {
                    [] => {}
                    [only] => return Found::Meaning(only.meaning.clone(), None),
                    several => {
                        let names = several.iter().map(|one| format!("`{}`", one.name));
                        return Found::Several(names.collect());
                    }
                }
            }
        }
        self.of_series(text)
    }

    /// A box of a series: `beaker 2`, `beaker 2nd`.
    fn of_series(&self, text: &str) -> Found {
        let text = ["st", "nd", "rd", "th"]
            .iter()
            .find_map(|end| text.strip_suffix(end))
            .filter(|rest| rest.ends_with(|c: char| c.is_ascii_digit()))
            .unwrap_or(text);
        let base = text.trim_end_matches(|c: char| c.is_ascii_digit());
        let number = text[base.len()..].parse::<usize>().ok();
        let Some(number) = number.filter(|number| (1..=LONGEST_SERIES).contains(number)) else {
            return Found::Nothing;
        };
        match self.exactly(base.trim_end()) {
            Found::Meaning(Meaning::Box(Place::Reading(name), None), _)
                if self.series.contains(&name) =>
            {
                Found::Meaning(Meaning::Box(Place::Reading(name), Some(number)), None)
            }
            _ => Found::Nothing,
        }
    }

    fn add(&mut self, rank: u8, name: &str, spelling: &str, meaning: Meaning) {
        let words = words(spelling);
        self.all.push(Spelling {
            letters: words.replace(' ', ""),
            words,
            rank,
            name: name.to_owned(),
            meaning,
        });
    }

    fn who(&mut self, lab: &Lab) {
        let share = "may your observations and discussion appear on the class pages?";
        let shares = [share, lab.words.say(share)];
        for (name, meaning, others) in [
            ("lab", Meaning::Lab, &[][..]),
            ("group", Meaning::Group, table::GROUP),
            ("section", Meaning::Section, table::SECTION),
            (
                "names",
                Meaning::Names,
                &[names::NAMES, headings::WHOSE].concat(),
            ),
            (
                "share_words",
                Meaning::Box(Place::ShareWords, None),
                &shares,
            ),
        ] {
            self.add(0, name, name, meaning.clone());
            for other in others {
                self.add(1, name, other, meaning.clone());
            }
        }
    }

    fn days(&mut self, lab: &Lab) {
        for day in &lab.days {
            let number = day.number;
            let date = Meaning::Box(Place::Date(number), None);
            let seen = Meaning::Box(Place::Seen(number), None);
            for (word, meaning) in [("date", date), ("seen", seen)] {
                let name = format!("day {number} {word}");
                self.add(0, &name, &name, meaning.clone());
                for language in headings::DAYS {
                    self.of_a_day(&name, language, (day, lab.days.len() == 1), &meaning);
                }
            }
            for asked in &day.readings {
                let meaning = Meaning::Box(Place::Reading(asked.name.clone()), None);
                self.add(0, &asked.name, &asked.name, meaning.clone());
                let note = asked.note.as_deref().unwrap_or_default();
                for spelling in [
                    asked.label.clone(),
                    format!("{} {note}", asked.label),
                    format!("day {number} {}", asked.name),
                    format!("day {number} {}", asked.label),
                ] {
                    self.add(1, &asked.name, &spelling, meaning.clone());
                }
            }
        }
    }

    /// What people call the date of a day, or what was seen on it, in one language.
    fn of_a_day(
        &mut self,
        name: &str,
        language: &DayWords,
        (asked, is_only): (&Day, bool),
        meaning: &Meaning,
    ) {
        let (number, day) = (asked.number, language.day);
        let is_seen = matches!(meaning, Meaning::Box(Place::Seen(_), _));
        let others = if is_seen {
            language.seen
        } else {
            language.date
        };
        for other in others {
            for spelling in [
                format!("{day} {number} {other}"),
                format!("{other} {number}"),
                format!("{other} {day} {number}"),
                format!("{other} on {day} {number}"),
                format!("{other} of {day} {number}"),
                format!("{other} am {day} {number}"),
                format!("{other} von {day} {number}"),
            ] {
                self.add(1, name, &spelling, meaning.clone());
            }
            if is_only {
                self.add(1, name, other, meaning.clone());
            }
        }
        if is_seen && !asked.notice.is_empty() {
            let question = format!("{} {}", language.asks, asked.notice.join(" "));
            self.add(1, name, &question, meaning.clone());
            self.add(
                1,
                name,
                &format!("{day} {number} {question}"),
                meaning.clone(),
            );
        }
    }

    /// A name that may have the name of its section in front, and other spellings.
    fn with_section(&mut self, section: &str, name: &str, place: Place, others: &[&str]) {
        let meaning = Meaning::Box(place, None);
        self.add(0, name, name, meaning.clone());
        let (one, several) = (format!("{section} {name}"), format!("{section}s {name}"));
        for spelling in others.iter().copied().chain([one.as_str(), &several]) {
            self.add(1, name, spelling, meaning.clone());
        }
    }

    fn causes(&mut self) {
        for number in 1..=CAUSES {
            for key in CAUSE_KEYS {
                let name = format!("cause {number} {key}");
                let meaning = Meaning::Box(Place::Cause(number, key), None);
                self.add(0, &name, &name, meaning.clone());
                self.add(1, &name, &format!("cause {key} {number}"), meaning.clone());
                self.add(1, &name, &format!("{key} {number}"), meaning.clone());
                if number == 1 {
                    self.add(1, &name, key, meaning.clone());
                    self.add(1, &name, &format!("cause {key}"), meaning.clone());
                }
                if key == "what" {
                    self.add(1, &name, &format!("cause {number}"), meaning.clone());
                }
                if key == "what" && number == 1 {
                    self.add(1, &name, "cause", meaning);
                }
            }
        }
    }
}

/// A heading without the number of a question in front: `3. `, `Q3: `.
fn without_number(head: &str) -> &str {
    let rest = head.trim_start().trim_start_matches(['Q', 'q']);
    let after = rest.trim_start_matches(|c: char| c.is_ascii_digit());
    match after.strip_prefix(['.', ')', ':']) {
        Some(text) if after.len() < rest.len() => text.trim_start(),
        _ => head,
    }
}

/// Whether a bracket holds one word that could be meant as a unit.
fn looks_like_unit(inner: &str) -> bool {
    let word = inner.trim().to_lowercase();
    let harmless = ["optional", "required", "if any"].contains(&word.as_str());
    unit(inner).is_none()
        && !harmless
        && !word.is_empty()
        && !word.contains(|c: char| c.is_whitespace() || c.is_ascii_digit())
}
