//! The page before the lab: planned amounts, the before–change–after table to fill in, questions; for the teacher with its key.

use serde::Serialize;

use crate::chem::Equation;
use crate::chem::Formula;
use crate::lab::Before;
use crate::lab::Lab;
use crate::lab::Substance;
use crate::planning::Amount;
use crate::planning::Item;
use crate::planning::Preparation;
use crate::planning::WashLiquid;
use crate::report::bench_sheet::Whose;
use crate::report::bench_sheet::blank;
use crate::report::document::Document;
use crate::report::form::FormFor;
use crate::report::model::Chart;
use crate::report::model::Safety;
use crate::report::model::Table;
use crate::report::prediction::Prediction;
use crate::report::tables::value;
use crate::report::tables::words;
use crate::report::words::safety;
use crate::say;
use crate::words::Words;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::show;

/// A prediction page.
#[derive(Debug, Clone, Serialize)]
pub struct PreLab {
    /// The language it is written in; templates see its code, `language`: `en`.
    #[serde(rename = "language")]
    pub words: Words,
    /// Lab title.
    pub title: String,
    /// Whose it is.
    pub whose: Whose,
    /// Whether it is the teacher's copy, filled in.
    pub key: bool,
    /// Safety.
    pub safety: Safety,
    /// Questions on working safely.
    pub safety_questions: Vec<String>,
    /// The teacher's background, Markdown.
    pub background: Option<String>,
    /// The balanced equation, pretty.
    pub equation: String,
    /// Other equations the data might support, pretty.
    pub alternatives: Vec<String>,
    /// What is planned for one group, with the readings that will say it; `None` when nothing is taken.
    pub planned: Option<Table>,
    /// Before, change, after.
    pub amounts: Option<Table>,
    /// Remarks under that table.
    pub amounts_notes: Vec<String>,
    /// What to predict; `None` where the lab predicts nothing.
    pub predictions: Option<Table>,
    /// Questions to answer before the lab.
    pub questions: Vec<String>,
}

impl Document for PreLab {
    fn title(&self) -> String {
        let (words, title, group) = (&self.words, &self.title, &self.whose.group);
        match (self.key, self.whose.is_blank()) {
            (false, true) => say!(words, "{title}, before the lab", title = title),
            (true, true) => say!(words, "{title}, before the lab, key", title = title),
            (false, false) => say!(
                words,
                "{title}, before the lab, group {group}",
                title = title,
                group = group
            ),
            (true, false) => say!(
                words,
                "{title}, before the lab, key, group {group}",
                title = title,
                group = group
            ),
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

/// The prediction page of a lab for one group; with `key` filled in from the planned amounts.
#[must_use]
pub fn compose(lab: &Lab, graph: &Graph, whose: &FormFor, key: bool) -> PreLab {
    let planned = Preparation::new(lab, graph, 1, 0.0);
    let prediction = Prediction::new(&planned, key);
    PreLab {
        words: lab.words.clone(),
        title: lab.title.clone(),
        whose: Whose::of(whose),
        key,
        safety: safety(lab, None),
        safety_questions: safety_questions(&lab.words),
        background: lab.text.background.clone(),
        equation: lab.equation.pretty(),
        alternatives: lab.alternatives.iter().map(Equation::pretty).collect(),
        planned: planned_table(&planned),
        amounts: prediction.predicts().then(|| prediction.amounts()),
        amounts_notes: prediction.notes(key),
        predictions: prediction.predictions(),
        questions: questions(&planned),
    }
}

/// Substances and water as planned, with the names of the readings that will say what was really taken.
fn planned_table(planned: &Preparation<'_>) -> Option<Table> {
    let wording = &planned.lab.words;
    let mut rows = Vec::new();
    for (index, substance) in planned.lab.substances.iter().enumerate() {
        let read = readings(planned, index);
        // Where a reading is planned, it stands by itself below.
        let planned_as_read = planned.planned.items().iter().any(|(item, _)| match item {
            Item::Reading(reading) => {
                let asked = planned.lab.readings().nth(*reading);
                asked.is_some_and(|(_, asked)| read.split(", ").any(|name| name == asked.name))
            }
            Item::Substance(_) => false,
        });
        let amount = match &substance.before {
            _ if planned_as_read => continue,
            None => continue,
            _ if !substance.reactant => continue,
            Some(Before::Excess) => say!(wording, "as much as is needed"),
            Some(Before::Measured(_)) => planned
                .planned
                .of_substance(index)
                .map_or_else(|| blank(10), |amount| as_planned(wording, amount)),
        };
        rows.push(vec![
            name(substance).to_owned(),
            form(substance).pretty(),
            amount,
            read,
        ]);
        if let Some(water) = planned.planned.water_of(index) {
            let what = say!(
                wording,
                "distilled water for {substance}",
                substance = name(substance)
            );
            let amount = as_planned(wording, water);
            rows.push(vec![what, String::new(), amount, String::new()]);
        }
    }
    for (item, amount) in planned.planned.items() {
        if let Item::Reading(reading) = item
            && let Some((_, asked)) = planned.lab.readings().nth(*reading)
        {
            let reading = vec![
                asked.label.clone(),
                String::new(),
                as_planned(wording, amount),
                asked.name.clone(),
            ];
            rows.push(reading);
        }
    }
    let water = |key: &str, what: &str| {
        let (_, text) = planned.lab.plan.iter().find(|(name, _)| name == key)?;
        Some(vec![
            what.to_owned(),
            String::new(),
            text.replace(" of ", wording.say(" of ")),
            String::new(),
        ])
    };
    rows.extend(water("water", wording.say("distilled water")));
    let washings = match &planned.planned.wash_liquid {
        WashLiquid::Named(liquid) => {
            say!(wording, "{liquid} for the washings", liquid = liquid)
        }
        WashLiquid::Water | WashLiquid::Unnamed => say!(wording, "washings"),
    };
    rows.extend(water("washes", &washings));
    // What stands on a label or in a table enters the prediction as it will enter the working.
    rows.extend(planned.graph.told_givens().map(|given| {
        vec![
            given.name.replace('_', " "),
            String::new(),
            wording.number(&value(&given.value)),
            say!(wording, "given"),
        ]
    }));
    (!rows.is_empty()).then(|| Table {
        caption: say!(
            wording,
            "What one group is to take. Use these amounts for the prediction only; in the lab your own readings count."
        ),
        columns: vec![
            words(wording.say("substance")),
            words(wording.say("formula")),
            words(wording.say("planned")),
            words(wording.say("your readings of it")),
        ],
        rows,
    })
}

/// An amount with the digits it is planned in.
fn as_planned(words: &Words, amount: &Amount) -> String {
    show::with_unit(&words.number(&amount.number.to_string()), amount.unit)
}

/// Names of the readings that say how much of a substance was taken.
fn readings(planned: &Preparation<'_>, index: usize) -> String {
    let step = [Kind::Mass(index), Kind::Moles(index)];
    let step = step
        .into_iter()
        .find_map(|kind| planned.graph.of_kind(kind));
    let used = step.map(|step| planned.graph.step(step).expression.readings());
    let asked: Vec<&str> = planned
        .lab
        .readings()
        .enumerate()
        .filter(|(place, _)| used.as_ref().is_some_and(|used| used.contains(place)))
        .map(|(_, (_, asked))| asked.name.as_str())
        .collect();
    asked.join(", ")
}

/// Questions to answer before the lab, from what the lab measures.
fn questions(planned: &Preparation<'_>) -> Vec<String> {
    let words = &planned.lab.words;
    let mut questions = vec![
        say!(
            words,
            "What is this experiment to find out? One sentence, in your own words."
        ),
        say!(
            words,
            "Which of its readings cannot be taken again once the day is over, and how will you make sure of them?"
        ),
    ];
    let hydrate = planned
        .lab
        .substances
        .iter()
        .find(|one| one.reactant && one.weighed_as.is_some());
    if let Some(salt) = hydrate {
        questions.push(say!(
            words,
            "{substance} holds water. Where does that water count in your calculation, and where does it not?",
            substance = crate::report::compose::sentence_case(name(salt))
        ));
    }
    let series = planned
        .lab
        .readings()
        .find(|(_, asked)| asked.series.is_some());
    if let Some((_, asked)) = series {
        questions.push(say!(
            words,
            "“{reading}” is read more than once. Why, and when may you stop?",
            reading = asked.label
        ));
    }
    questions
}

/// Questions on working safely; what the answers are, the room, the bottle and the teacher say.
fn safety_questions(words: &Words) -> Vec<String> {
    vec![
        say!(
            words,
            "Which of these hazards could reach you in this lab, and in which step?"
        ),
        say!(
            words,
            "What will you wear, and what will you do, because of that?"
        ),
        say!(
            words,
            "Where in your room are the eyewash and the exit, and whom do you tell first when something goes wrong?"
        ),
        say!(
            words,
            "Where does your teacher say that the waste of this lab goes?"
        ),
    ]
}

/// The name of what is weighed.
pub(in crate::report) fn name(substance: &Substance) -> &str {
    substance.weighed_name.as_ref().unwrap_or(&substance.name)
}

/// The formula of what is weighed.
pub(in crate::report) fn form(substance: &Substance) -> &Formula {
    substance.weighed_as.as_ref().unwrap_or(&substance.formula)
}
