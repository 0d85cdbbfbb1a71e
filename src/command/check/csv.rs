//! Rows for a spreadsheet: one a group and step, or one a group.

use csv::Writer;

use super::Checked;
use super::json::File;
use crate::answers::Verdict;
use crate::command::table::harmless;
use crate::record::Recorded;
use crate::report::Case;
use crate::working::show;

/// What the rows of one file hold beyond its object.
#[derive(Debug, Default)]
pub(super) struct Rows {
    /// One entry an answer: title, key, what the own earlier answers give.
    answers: Vec<[String; 3]>,
    /// Columns of the row of the group: name and text as typed.
    group: Vec<(String, String)>,
    /// Readings that are missing or impossible, in all trials together.
    pub(super) missing: usize,
    /// Trials that the lab asks for and that have no reading yet.
    pub(super) unbegun: usize,
}

impl Rows {
    pub(super) fn of(case: &Case<'_>) -> Self {
        let answers = case.judged.answers.iter().map(|judgement| {
            let step = case.graph.step(judgement.step);
            let key = case.worked.value(judgement.step);
            let key = key.map_or_else(String::new, |value| {
                show::for_spreadsheet(case.lab, step, value, &case.worked.inputs)
            });
            let own = judgement.own.as_ref().map_or_else(String::new, |own| {
                let own = crate::report::answers::own(case, own, step, show::decimal);
                own.replace(show::NO_BREAK, " ")
            });
            [step.title.clone(), key, own]
        });
        let mut group = Vec::new();
        for ((_, asked), recorded) in case.lab.readings().zip(&case.record.readings) {
            group.push((asked.name.clone(), typed(recorded)));
        }
        for trial in &case.record.trials {
            // What a trial has from the days stands here too: a table has no other place for it.
            for ((_, asked), recorded) in case.lab.readings().zip(&trial.readings) {
                let name = format!("{} (trial {})", asked.name, trial.number);
                group.push((name, typed(recorded)));
            }
        }
        for (sign, answer) in &case.record.signs {
            let mut answer = answer
                .map_or("", |yes| if yes { "yes" } else { "no" })
                .to_owned();
            if let Some(remark) = case.record.sign_remark(sign) {
                answer = format!("{answer}, {remark}");
            }
            group.push((sign.clone(), answer));
        }
        for judgement in &case.judged.answers {
            let id = case.graph.step(judgement.step).id.clone();
            group.push((id, judgement.typed.clone().unwrap_or_default()));
        }
        Self {
            answers: answers.collect(),
            group,
            missing: crate::report::standing::missing(case),
            unbegun: case.record.unbegun(case.lab.trials).count(),
        }
    }
}

/// Every entry of a reading as typed.
fn typed(recorded: &Recorded) -> String {
    let entries = recorded.entries.iter();
    let typed: Vec<&str> = entries.map(|entry| entry.typed.as_str()).collect();
    typed.join("; ")
}

/// One row a group and step.
pub(super) fn answers(all: &[Checked], key: bool) -> Result<String, csv::Error> {
    let mut table = Writer::from_writer(Vec::new());
    let mut heads = vec![
        "file", "section", "group", "step", "title", "given", "verdict", "slips", "feedback",
        "points", "out_of",
    ];
    if key {
        heads.extend(["expected", "from_own_lines"]);
    }
    table.write_record(&heads)?;
    for checked in all {
        for (answer, [title, expected, own]) in
            checked.object.answers.iter().zip(&checked.rows.answers)
        {
            let number =
                |value: Option<u32>| value.map_or_else(String::new, |value| value.to_string());
            let mut row = vec![
                checked.object.path.clone(),
                checked.section.clone(),
                checked.object.group.clone().unwrap_or_default(),
                answer.step.clone(),
                title.clone(),
                answer.given.clone().unwrap_or_default(),
                answer.verdict.to_owned(),
                answer.slips.join(" "),
                answer.feedback.clone(),
                number(answer.points),
                number(answer.out_of),
            ];
            if key {
                row.extend([expected.clone(), own.clone()]);
            }
            table.write_record(row.iter().map(|cell| harmless(cell)))?;
        }
    }
    finish(table)
}

/// What the heading of a step's key has behind its id.
pub(in crate::command) const EXPECTED: &str = "_expected";

/// One row a group: readings, signs and answers as typed, under the names of the data file; then counts; with `key`, last, what the
/// readings give for each answer.
pub(super) fn groups(all: &[Checked], key: bool) -> Result<String, csv::Error> {
    let mut names: Vec<&str> = Vec::new();
    for (name, _) in all.iter().flat_map(|checked| &checked.rows.group) {
        if !names.contains(&name.as_str()) {
            names.push(name);
        }
    }
    // The key of a group's answers by the steps' ids.
    let expected = |checked: &Checked| -> Vec<(String, String)> {
        let answers = checked.object.answers.iter().zip(&checked.rows.answers);
        answers
            .filter(|_| key)
            .map(|(answer, [_, key, _])| (answer.step.clone(), key.clone()))
            .collect()
    };
    let mut steps: Vec<String> = Vec::new();
    for (step, _) in all.iter().flat_map(expected) {
        if !steps.contains(&step) {
            steps.push(step);
        }
    }
    let mut table = Writer::from_writer(Vec::new());
    let fixed = ["file", "lab", "section", "group"];
    let heads = fixed
        .into_iter()
        .chain(names.iter().copied())
        .chain(counts().map(|name| name as &str))
        .map(str::to_owned)
        .chain(steps.iter().map(|step| format!("{step}{EXPECTED}")));
    table.write_record(heads)?;
    for checked in all {
        let File {
            path,
            lab,
            group,
            problems,
            ..
        } = &checked.object;
        let mut row = vec![
            path.clone(),
            lab.clone().unwrap_or_default(),
            checked.section.clone(),
            group.clone().unwrap_or_default(),
        ];
        for name in &names {
            let cell = checked.rows.group.iter().find(|(own, _)| own == name);
            row.push(cell.map_or_else(String::new, |(_, text)| text.clone()));
        }
        let of = |severity: &str| {
            problems
                .iter()
                .filter(|problem| problem.severity() == severity)
                .count()
                .to_string()
        };
        row.extend([of("error"), of("warning"), checked.rows.missing.to_string()]);
        row.extend(
            Verdict::ALL
                .iter()
                .map(|verdict| checked.judged.count(*verdict).to_string()),
        );
        let (points, out_of) = checked
            .judged
            .points()
            .map_or_else(Default::default, |(points, out_of)| {
                (points.to_string(), out_of.to_string())
            });
        row.extend([points, out_of]);
        let own = expected(checked);
        row.extend(steps.iter().map(|step| {
            let cell = own.iter().find(|(known, _)| known == step);
            cell.map_or_else(String::new, |(_, key)| key.clone())
        }));
        table.write_record(row.iter().map(|cell| harmless(cell)))?;
    }
    finish(table)
}

/// Columns of counts, which say nothing that a group has typed.
pub(in crate::command) fn counts() -> impl Iterator<Item = &'static str> {
    let verdicts = Verdict::ALL.iter().map(|verdict| verdict.as_str());
    ["errors", "warnings", "missing"]
        .into_iter()
        .chain(verdicts)
        .chain(["points", "out_of"])
}

fn finish(table: Writer<Vec<u8>>) -> Result<String, csv::Error> {
    let bytes = table
        .into_inner()
        .map_err(|why| csv::Error::from(why.into_error()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}
