//! The object that `check --json` prints for a file.

use serde::Serialize;

use super::changes::Since;
use crate::causes::Effect;
use crate::causes::Fit;
use crate::causes::Solved;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::problem::Source;
use crate::record;
use crate::report::Case;
use crate::words::Words;
use crate::working::Kind;
use crate::working::State;
use crate::working::Worked;
use crate::working::show;

/// One file.
#[derive(Debug, Default, Serialize)]
pub(in crate::command) struct File {
    #[serde(rename = "file")]
    pub path: String,
    pub lab: Option<String>,
    pub group: Option<String>,
    /// Only of a student who hands in apart: the group's file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub readings_of: Option<String>,
    pub problems: Vec<ProblemOf>,
    /// Absent where no other file has any.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub elsewhere: Vec<Elsewhere>,
    pub waiting_for: Vec<String>,
    pub steps: Vec<Step>,
    pub answers: Vec<Answer>,
    pub causes: Vec<Cause>,
    /// Absent for a group with one trial.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub trials: Vec<Trial>,
    /// Absent for a group with one trial.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub means: Vec<Mean>,
    /// Only with `--since`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub changes: Option<Since>,
}

/// A further trial.
#[derive(Debug, Serialize)]
pub(in crate::command) struct Trial {
    #[serde(rename = "trial")]
    number: u32,
    waiting_for: Vec<String>,
    steps: Vec<Step>,
}

/// The mean of one step over all trials.
#[derive(Debug, Serialize)]
pub(in crate::command) struct Mean {
    id: String,
    trials: usize,
    #[serde(rename = "mean")]
    value: f64,
    standard_deviation: f64,
    unit: &'static str,
    shown: String,
}

/// One problem with its place.
#[derive(Debug, Serialize)]
pub(in crate::command) struct ProblemOf {
    severity: &'static str,
    code: &'static str,
    message: String,
    line: usize,
    column: usize,
    help: Option<String>,
}

/// Problems of another file that this one is read with.
#[derive(Debug, Serialize)]
pub(in crate::command) struct Elsewhere {
    #[serde(rename = "file")]
    path: String,
    problems: Vec<ProblemOf>,
}

/// One answer judged.
#[derive(Debug, Serialize)]
pub(in crate::command) struct Answer {
    pub step: String,
    pub given: Option<String>,
    pub verdict: &'static str,
    pub slips: Vec<&'static str>,
    pub feedback: String,
    pub points: Option<u32>,
    pub out_of: Option<u32>,
}

/// A cause at the bench that could explain a result, or that the students name.
#[derive(Debug, Serialize)]
pub(in crate::command) struct Cause {
    id: &'static str,
    against: Option<String>,
    needed: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    standard_uncertainty: Option<f64>,
    unit: &'static str,
    possible: bool,
    alone: bool,
    support: &'static str,
    own: bool,
}

impl ProblemOf {
    /// `error`, `warning`, `note`.
    pub(in crate::command) const fn severity(&self) -> &'static str {
        self.severity
    }
}

/// One step.
#[derive(Debug, Serialize)]
pub(in crate::command) struct Step {
    id: String,
    title: String,
    state: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<serde_json::Value>,
    unit: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    standard_uncertainty: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shown: Option<String>,
}

/// Problems as data.
pub(in crate::command) fn problems(source: &Source, problems: &[Problem]) -> Vec<ProblemOf> {
    let one = |problem: &Problem| {
        let (line, column) =
            source.line_column(problem.labels.first().map_or(0, |label| label.span.start));
        ProblemOf {
            severity: match problem.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
                Severity::Note => "note",
            },
            code: problem.code.as_str(),
            message: problem.message.clone(),
            line,
            column,
            help: problem.help.clone(),
        }
    };
    problems.iter().map(one).collect()
}

/// Problems of the files that one is read with, as data.
pub(in crate::command) fn elsewhere(files: &[(Source, Vec<Problem>, Words)]) -> Vec<Elsewhere> {
    let one = |(source, found, _): &(Source, Vec<Problem>, Words)| Elsewhere {
        path: source.name.clone(),
        problems: problems(source, found),
    };
    let faulty = files.iter().filter(|(_, problems, _)| !problems.is_empty());
    faulty.map(one).collect()
}

/// Names of the readings that are not there yet.
pub(in crate::command) fn waiting_for(case: &Case<'_>) -> Vec<String> {
    missing(case, &case.record.readings)
}

fn missing(case: &Case<'_>, readings: &[record::Recorded]) -> Vec<String> {
    let readings = case.lab.readings().zip(readings);
    readings
        .filter(|(_, recorded)| recorded.usable().is_none())
        .map(|((_, asked), _)| asked.name.clone())
        .collect()
}

/// Every step that is asked or answered, judged; no number of the key stands in it.
pub(in crate::command) fn answers(case: &Case<'_>) -> Vec<Answer> {
    let one = |judgement: &crate::answers::Judgement| Answer {
        step: case.graph.step(judgement.step).id.clone(),
        given: judgement.typed.clone(),
        verdict: judgement.verdict.as_str(),
        slips: judgement.slips.iter().map(|slip| slip.id).collect(),
        feedback: judgement.feedback.clone(),
        points: judgement.points.map(|(points, _)| points),
        out_of: judgement.points.map(|(_, out_of)| out_of),
    };
    case.judged.answers.iter().map(one).collect()
}

/// Causes that fit what was measured, strongest evidence first, then the students' own that do not; only what open
/// steps tell.
pub(in crate::command) fn causes(case: &Case<'_>) -> Vec<Cause> {
    let weighed = case.weigh();
    let against = |effect: Effect| {
        let measured = effect.first_moved(&weighed.scene, &weighed.deviations)?;
        Some(case.graph.step(measured.found).id.clone())
    };
    let own: Vec<&'static str> = weighed
        .own
        .iter()
        .filter_map(|own| Some(own.cause?.0.id))
        .collect();
    let listed = weighed.listed.iter().map(|one| Cause {
        id: one.cause.id,
        against: against(one.effect),
        needed: Some(one.effect.shown(one.solved.amount)),
        standard_uncertainty: Some(one.effect.shown(one.solved.standard)),
        unit: one.effect.unit(&weighed.scene).symbol(),
        possible: true,
        alone: one.fit == Fit::Alone,
        support: one.evidence.in_a_word(),
        own: own.contains(&one.cause.id),
    });
    let mut causes: Vec<Cause> = listed.collect();
    for own in &weighed.own {
        let Some((cause, effect)) = own.cause else {
            continue;
        };
        if causes.iter().any(|known| known.id == cause.id) {
            continue;
        }
        let solved = effect.and_then(|effect| {
            let solved = effect.solve(&weighed.scene, &weighed.deviations)?;
            Some((effect, solved))
        });
        let shown = |of: fn(&Solved) -> f64| {
            let (effect, solved) = solved.as_ref()?;
            Some(effect.shown(of(solved)))
        };
        causes.push(Cause {
            id: cause.id,
            against: effect.and_then(against),
            needed: shown(|solved| solved.amount),
            standard_uncertainty: shown(|solved| solved.standard),
            unit: effect.map_or("", |effect| effect.unit(&weighed.scene).symbol()),
            possible: false,
            alone: false,
            support: own.support,
            own: true,
        });
    }
    causes
}

/// Every step, in order; a hidden one without its value.
pub(in crate::command) fn steps(case: &Case<'_>) -> Vec<Step> {
    steps_of(case, case.worked)
}

/// The steps of one trial.
fn steps_of(case: &Case<'_>, worked: &Worked<'_>) -> Vec<Step> {
    let ids = case.graph.ids();
    ids.map(|id| step(case, worked, id)).collect()
}

/// Every trial behind the first.
pub(in crate::command) fn trials(case: &Case<'_>) -> Vec<Trial> {
    let trials = case.record.trials.iter().zip(&case.worked.trials);
    let one = |(trial, worked): (&record::Trial, &Worked<'_>)| Trial {
        number: trial.number,
        waiting_for: missing(case, &trial.readings),
        steps: steps_of(case, worked),
    };
    trials.map(one).collect()
}

/// Mean and spread over all trials, of what may be shown.
pub(in crate::command) fn means(case: &Case<'_>) -> Vec<Mean> {
    let spreads = crate::report::trials::spreads(case).into_iter();
    spreads
        .map(|spread| {
            let step = case.graph.step(spread.step);
            Mean {
                id: step.id.clone(),
                trials: spread.count,
                value: spread.mean,
                standard_deviation: spread.deviation,
                unit: step.unit.symbol(),
                shown: spread.mean_shown.replace(show::NO_BREAK, " "),
            }
        })
        .collect()
}

fn step(case: &Case<'_>, worked: &Worked<'_>, id: crate::working::StepId) -> Step {
    let step = case.graph.step(id);
    let blank = |state| Step {
        id: step.id.clone(),
        title: step.title.clone(),
        state,
        value: None,
        unit: step.unit.symbol(),
        standard_uncertainty: None,
        shown: None,
    };
    let value = match worked.state(id) {
        State::Waiting(_) => return blank("waiting"),
        State::Undefined(_) => return blank("undefined"),
        State::Known(_) if !case.open.step(id) => return blank("hidden"),
        State::Known(value) => value,
    };
    if step.kind == Kind::Limiting {
        let keys: Vec<&str> = value
            .smallest
            .iter()
            .map(|index| case.lab.substances[*index].key.as_str())
            .collect();
        return Step {
            value: Some(keys.join(" and ").into()),
            unit: "",
            shown: Some(show::plain_value(case.lab, step, value, &worked.inputs)),
            ..blank("known")
        };
    }
    let scale = 10.0_f64.powi(step.unit.power_to_base());
    let exact =
        &value.exact / crate::measure::Decimal::new(1, -step.unit.power_to_base()).to_exact();
    Step {
        value: Some(exact.to_f64().into()),
        standard_uncertainty: Some(value.standard_uncertainty(&worked.inputs) / scale),
        shown: Some(show::plain_value(case.lab, step, value, &worked.inputs)),
        ..blank("known")
    }
}
