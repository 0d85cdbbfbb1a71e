//! The bench sheet: the data file as a form on paper, day by day, a box for each digit that the instrument shows.

use serde::Serialize;

use crate::lab::Asked;
use crate::lab::Day;
use crate::lab::Lab;
use crate::measure::Unit;
use crate::report::document::Document;
use crate::report::form::FormFor;
use crate::report::model::Chart;
use crate::report::model::Safety;
use crate::report::model::Table;
use crate::report::tables::words;
use crate::report::words::safety;
use crate::say;
use crate::words::Words;
use crate::working::show;

/// Room for one digit, or for a tick.
pub const BOX: char = '□';

/// Lines to write observations on; a day without readings is all observation.
const LINES: u32 = 4;
/// Lines of a day without readings.
const LINES_ALONE: u32 = 6;

/// Rows for readings nobody planned.
const EXTRA_ROWS: usize = 2;

/// A paper form for one group.
#[derive(Debug, Clone, Serialize)]
pub struct BenchSheet {
    /// The language it is written in; templates see its code, `language`: `en`.
    #[serde(rename = "language")]
    pub words: Words,
    /// Lab title.
    pub title: String,
    /// Whose it is.
    pub whose: Whose,
    /// Safety.
    pub safety: Safety,
    /// The days, in order.
    pub days: Vec<BenchDay>,
    /// Questions about the bench to tick; `None` where the lab has none.
    pub signs: Option<Table>,
    /// Rows for readings nobody planned.
    pub extra: Table,
}

/// Whose a sheet is: what is known, or a blank to write on.
#[derive(Debug, Clone, Serialize)]
pub struct Whose {
    /// Group code, or a blank.
    pub group: String,
    /// Section, or a blank.
    pub section: String,
    /// Names, or a blank.
    pub names: String,
}

/// One day on paper.
#[derive(Debug, Clone, Serialize)]
pub struct BenchDay {
    /// 1, 2, 3, …
    pub number: u32,
    /// `Set up`.
    pub title: String,
    /// Whether anything is weighed.
    pub weighs: bool,
    /// A row a reading, with its boxes, a table for each trial; none for a day without readings.
    pub readings: Vec<Table>,
    /// What to look for.
    pub notice: Vec<String>,
    /// Lines to write on.
    pub lines: u32,
}

impl Whose {
    /// What a form knows of a group.
    pub(in crate::report) fn of(whose: &FormFor) -> Self {
        let or_blank = |text: &str, length: usize| {
            if text.trim().is_empty() {
                blank(length)
            } else {
                text.to_owned()
            }
        };
        Self {
            group: or_blank(&whose.group, 10),
            section: or_blank(&whose.section, 6),
            names: or_blank(&whose.names.join(", "), 30),
        }
    }

    /// Whether the group is still to be written.
    pub(in crate::report) fn is_blank(&self) -> bool {
        self.group.starts_with('_')
    }
}

impl Document for BenchSheet {
    fn title(&self) -> String {
        let (title, group) = (&self.title, &self.whose.group);
        if self.whose.is_blank() {
            say!(self.words, "{title}, bench sheet", title = title)
        } else {
            say!(
                self.words,
                "{title}, bench sheet, group {group}",
                title = title,
                group = group
            )
        }
    }

    fn words(&self) -> &Words {
        &self.words
    }

    fn charts(&self) -> Vec<&Chart> {
        Vec::new()
    }

    fn on_paper(&self) -> bool {
        true
    }
}

/// The bench sheet of a lab for one group.
#[must_use]
pub fn compose(lab: &Lab, whose: &FormFor) -> BenchSheet {
    let wording = &lab.words;
    BenchSheet {
        words: wording.clone(),
        title: lab.title.clone(),
        whose: Whose::of(whose),
        safety: safety(lab, None),
        days: lab
            .days
            .iter()
            .map(|day| BenchDay {
                number: day.number,
                title: day.title.clone(),
                weighs: {
                    let mut readings = day.readings.iter();
                    readings.any(|asked| asked.unit.dimension() == Unit::Gram.dimension())
                },
                readings: if day.readings.is_empty() {
                    Vec::new()
                } else {
                    let trials = 1..=lab.trials;
                    trials.map(|trial| readings(lab, day, trial)).collect()
                },
                notice: day.notice.clone(),
                lines: if day.readings.is_empty() {
                    LINES_ALONE
                } else {
                    LINES
                },
            })
            .collect(),
        signs: (!lab.signs.is_empty()).then(|| signs(lab)),
        extra: Table {
            caption: say!(wording, "Readings nobody planned."),
            columns: vec![
                words(wording.say("what was measured")),
                words(wording.say("reading, with its unit")),
                words(wording.say("its name in the data file, under [extra]")),
            ],
            rows: vec![vec![blank(24), blank(12), blank(16)]; EXTRA_ROWS],
        },
    }
}

/// Room to write on, about so many digits wide.
pub(in crate::report) fn blank(length: usize) -> String {
    "_".repeat(length)
}

/// A day's readings in one trial; a series has a row and the time for each of its boxes.
fn readings(lab: &Lab, day: &Day, trial: u32) -> Table {
    let wording = &lab.words;
    let timed = day.readings.iter().any(|asked| asked.series.is_some());
    let mut rows = Vec::new();
    for asked in &day.readings {
        let label = asked.note.as_ref().map_or_else(
            || asked.label.clone(),
            |note| format!("{}; {note}", asked.label),
        );
        let boxes = boxes(lab, asked);
        let mut row = |label: String, time: String, name: String| {
            let mut row = vec![label, boxes.clone()];
            row.extend(timed.then_some(time));
            row.extend([String::new(), name]);
            rows.push(row);
        };
        let Some(count) = asked.series else {
            row(label, String::new(), asked.name.clone());
            continue;
        };
        for place in 1..=count {
            let label = if place == 1 {
                say!(wording, "{label}: reading 1", label = label)
            } else {
                say!(wording, "the same, reading {place}", place = place)
            };
            let time = format!("{BOX}{BOX}:{BOX}{BOX}");
            row(label, time, format!("{},\u{a0}{place}", asked.name));
        }
    }
    let mut columns = vec![
        words(wording.say("reading")),
        words(wording.say("instrument shows")),
    ];
    columns.extend(timed.then(|| words(wording.say("time"))));
    columns.extend([
        words(wording.say("corrected to; why; initials")),
        words(wording.say("in the data file")),
    ]);
    Table {
        caption: if lab.trials == 1 {
            say!(wording, "Readings of day {day}.", day = day.number)
        } else {
            say!(
                wording,
                "Readings of day {day}, trial {trial}; in the data file under [trial.{trial}].",
                day = day.number,
                trial = trial
            )
        },
        columns,
        rows,
    }
}

/// A box for each digit of an instrument, the decimal point printed; a line where no instrument is described.
fn boxes(lab: &Lab, asked: &Asked) -> String {
    let instrument = asked
        .instrument
        .and_then(|index| lab.instruments.get(index));
    let step = instrument.and_then(|one| {
        // A step in a unit whose factor is no power of ten is no number of digits.
        if one.unit != asked.unit && !(one.unit.is_decimal() && asked.unit.is_decimal()) {
            return None;
        }
        let step = one.readability.or(one.tolerance)?;
        Some(one.unit.converted(step, asked.unit))
    });
    let Some(step) = step else {
        return show::with_unit(&blank(10), asked.unit);
    };
    let places = usize::try_from(step.places()).unwrap_or(0).min(9);
    let digit = |count: usize| BOX.to_string().repeat(count);
    let mut boxes = digit(whole_digits(asked.unit));
    if places > 0 {
        // The language's own decimal mark.
        boxes.push_str(lab.words.number("0.0").trim_matches('0'));
        boxes.push_str(&digit(places));
    }
    show::with_unit(&boxes, asked.unit)
}

/// Digits in front of the decimal point that a school's instruments show (common practice, no source).
fn whole_digits(unit: Unit) -> usize {
    match unit {
        Unit::Milligram | Unit::Microgram => 6,
        Unit::Hectopascal | Unit::Microlitre => 4,
        Unit::Pascal => 6,
        Unit::Bar | Unit::Atmosphere => 1,
        Unit::Kilogram | Unit::Litre => 2,
        _ => 3,
    }
}

/// Questions about the bench.
fn signs(lab: &Lab) -> Table {
    let wording = &lab.words;
    let row = |sign: &crate::lab::Sign| {
        vec![
            sign.question.clone(),
            BOX.to_string(),
            BOX.to_string(),
            sign.id.clone(),
        ]
    };
    Table {
        caption: say!(
            wording,
            "Tick what you saw; leave both empty where you did not look."
        ),
        columns: vec![
            words(wording.say("question")),
            words(wording.say("yes")),
            words(wording.say("no")),
            words(wording.say("in the data file")),
        ],
        rows: lab.signs.iter().map(row).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lab::check;
    use crate::problem::Source;

    #[test]
    fn there_is_a_box_for_each_digit_that_the_instrument_shows() {
        for (instrument, reading, expected) in [
            (
                "unit = \"g\"\nreadability = \"0.01 g\"",
                "",
                "□□□.□□\u{a0}g",
            ),
            (
                "unit = \"g\"\nreadability = \"0.0001 g\"",
                "",
                "□□□.□□□□\u{a0}g",
            ),
            ("unit = \"g\"\nreadability = \"1 g\"", "", "□□□\u{a0}g"),
            (
                "unit = \"mg\"\nreadability = \"1 mg\"",
                "",
                "□□□□□□\u{a0}mg",
            ),
            // Asked for in g, though the balance is described in mg.
            (
                "unit = \"mg\"\nreadability = \"1 mg\"",
                ", unit = \"g\"",
                "□□□.□□□\u{a0}g",
            ),
            (
                "unit = \"g\"\nreadability = \"0.01 g\"\ntolerance = \"0.1 g\"",
                "",
                "□□□.□□\u{a0}g",
            ),
            // A vessel without an instrument: room, and no digits to count.
            (
                "unit = \"g\"\nreadability = \"0.01 g\"",
                ", unit = \"mL\"",
                "__________\u{a0}mL",
            ),
        ] {
            let text = format!(
                "id = \"x\"\ntitle = \"X\"\nequation = \"C + O2 -> CO2\"\n[substance.carbon]\nformula = \"C\"\nbefore = \"coal\"\n[substance.oxygen]\nformula = \"O2\"\nbefore = \"excess\"\n[instrument.balance]\n{instrument}\n[day.1]\ntitle = \"One\"\nreadings = [{{ name = \"coal\", label = \"coal\", unit = \"UNIT\" }}, {{ name = \"other\", label = \"other\"{reading} }}]\n"
            );
            let unit = if instrument.contains("mg") { "mg" } else { "g" };
            let source = Source {
                name: "lab.toml".to_owned(),
                text: text.replace("UNIT", unit),
            };
            let (lab, problems) = check::check(&source);
            let lab = lab.unwrap_or_else(|| panic!("{problems:?}"));
            let sheet = compose(&lab, &FormFor::default());
            let rows = &sheet.days[0].readings[0].rows;
            assert_eq!(rows[1][1], expected, "{instrument}{reading}");
        }
    }
}
