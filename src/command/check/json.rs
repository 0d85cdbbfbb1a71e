//! The object that `check --json` prints for a file.

use serde::Serialize;

use crate::problem::Problem;
use crate::problem::Severity;
use crate::problem::Source;
use crate::report::Case;
use crate::working::Kind;
use crate::working::State;
use crate::working::show;

/// One file.
#[derive(Debug, Default, Serialize)]
pub(in crate::command) struct File {
    #[serde(rename = "file")]
    pub path: String,
    pub lab: Option<String>,
    pub group: Option<String>,
    pub problems: Vec<ProblemOf>,
    pub waiting_for: Vec<String>,
    pub steps: Vec<Step>,
    pub answers: Vec<Answer>,
    /// Causes that could explain the result, once causes are weighed.
    pub causes: Vec<serde_json::Value>,
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

/// Names of the readings that are not there yet.
pub(in crate::command) fn waiting_for(case: &Case<'_>) -> Vec<String> {
    let readings = case.lab.readings().zip(&case.record.readings);
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

/// Every step, in order; a hidden one without its value.
pub(in crate::command) fn steps(case: &Case<'_>) -> Vec<Step> {
    case.graph.ids().map(|id| step(case, id)).collect()
}

fn step(case: &Case<'_>, id: crate::working::StepId) -> Step {
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
    let value = match case.worked.state(id) {
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
            shown: Some(show::value(case.lab, step, value)),
            ..blank("known")
        };
    }
    let scale = 10.0_f64.powi(step.unit.power_to_base());
    let exact =
        &value.exact / crate::measure::Decimal::new(1, -step.unit.power_to_base()).to_exact();
    Step {
        value: Some(crate::measure::rounding::to_f64(&exact).into()),
        standard_uncertainty: Some(value.standard_uncertainty(&case.worked.inputs) / scale),
        shown: Some(show::value(case.lab, step, value).replace(show::NO_BREAK, " ")),
        ..blank("known")
    }
}
