//! What students are asked, how it is worked and shown, and the lab's own quantities and questions.

use crate::lab::Ask;
use crate::lab::AskedStep;
use crate::lab::FiguresRule;
use crate::lab::Find;
use crate::lab::Policy;
use crate::lab::ShowWorking;
use crate::lab::Sign;
use crate::lab::UncertaintyRule;
use crate::lab::apparatus;
use crate::lab::check;
use crate::lab::signs as built_in;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::document::Shape;
use crate::problem::document::Table;
use crate::problem::suggest;
use crate::words::Words;

/// The `[find.x]` tables, in the file's order.
pub(super) fn finds(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> Vec<Find> {
    let Some(mut all) = root.table("find", problems) else {
        return Vec::new();
    };
    let mut finds = Vec::new();
    for (id, span, value) in all.take_all() {
        let Some(mut table) = value.table(format!("[find.{id}]"), span.clone()) else {
            problems.push(value.wrong_shape(&id, &format!("a section, written `[find.{id}]`")));
            continue;
        };
        let title = table
            .text("title", problems)
            .map_or_else(|| id.replace('_', " "), |(text, _)| text.into_owned());
        let question = table
            .text("question", problems)
            .map(|(text, _)| text.into_owned());
        let unit = table
            .text("unit", problems)
            .and_then(|(text, span)| Some((apparatus::unit(&text, span.clone(), problems)?, span)));
        let expected = check::written(&mut table, "expected", problems);
        let value = table
            .required_text("value", problems)
            .and_then(|(text, span)| check::parse_expression(&text, span, problems));
        table.finish(problems);
        if let Some(value) = value {
            finds.push(Find {
                id,
                span,
                title,
                value,
                expected,
                unit,
                question,
            });
        }
    }
    finds
}

/// The `[signs]` table: built-in questions by id, said in the language of the lab, and the teacher's own.
pub(super) fn signs(root: &mut Table<'_>, words: &Words, problems: &mut Vec<Problem>) -> Vec<Sign> {
    let Some(mut table) = root.table("signs", problems) else {
        return Vec::new();
    };
    let mut signs = Vec::new();
    for (id, span) in table.texts("use", problems) {
        if let Some(question) = built_in::question(&id) {
            signs.push(Sign {
                id,
                question: words.say(question).to_owned(),
                supports: Vec::new(),
            });
            continue;
        }
        let help = suggest::closest(&id, built_in::BUILT_IN.iter().map(|(known, _)| *known))
            .map_or_else(
                || format!("write an own one: `{id} = {{ question = \"…?\" }}`"),
                |near| format!("did you mean `{near}`?"),
            );
        problems.push(
            Problem::error(
                Code::UnknownSign,
                format!("there is no built-in question `{id}`"),
            )
            .at(span, "not known")
            .help(help),
        );
    }
    for (id, span, value) in table.take_all() {
        let Some(mut own) = value.table(format!("`{id}`"), span) else {
            problems.push(value.wrong_shape(&id, "a question in braces: { question = \"…?\" }"));
            continue;
        };
        let question = own.required_text("question", problems);
        let supports = own.texts("supports", problems);
        own.finish(problems);
        if let Some((question, _)) = question {
            signs.push(Sign {
                id,
                question: question.into_owned(),
                supports,
            });
        }
    }
    signs
}

/// The `[ask]` table.
pub(super) fn ask(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> Ask {
    let Some(mut table) = root.table("ask", problems) else {
        return Ask::default();
    };
    let usual = table.flag("usual", problems).unwrap_or(false);
    let mut steps = Vec::new();
    for (id, span, value) in table.take_all() {
        let mut step = AskedStep {
            id: id.clone(),
            span: span.clone(),
            wanted: true,
            points: None,
            question: None,
        };
        match value.shape() {
            Shape::Flag(wanted) => step.wanted = wanted,
            Shape::Table => {
                if let Some(mut own) = value.table(format!("`{id}`"), span) {
                    step.points = own
                        .take("points")
                        .and_then(|points| whole_points(&points, problems));
                    step.question = own
                        .text("question", problems)
                        .map(|(text, _)| text.into_owned());
                    own.finish(problems);
                }
            }
            _ => {
                problems.push(value.wrong_shape(&id, "true, false or { points = 2 }"));
                continue;
            }
        }
        steps.push(step);
    }
    Ask {
        present: true,
        usual,
        steps,
    }
}

fn whole_points(
    value: &crate::problem::document::Value<'_>,
    problems: &mut Vec<Problem>,
) -> Option<u32> {
    if let Shape::Number(text) = value.shape()
        && let Ok(points @ 0..=100) = text.parse()
    {
        return Some(points);
    }
    problems.push(
        Problem::error(
            Code::WrongShape,
            "`points` must be a whole number from 0 to 100",
        )
        .at(value.span(), "here")
        .help("write points = 2"),
    );
    None
}

/// How often each group does the experiment.
pub(super) fn trials(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> u32 {
    let Some(value) = root.take("trials") else {
        return 1;
    };
    if let Shape::Number(text) = value.shape()
        && let Ok(trials @ 1..=20) = text.parse()
    {
        return trials;
    }
    problems.push(
        Problem::error(
            Code::WrongShape,
            "`trials` must be a whole number from 1 to 20",
        )
        .at(value.span(), "here")
        .help("write trials = 3 for an experiment that each group does three times"),
    );
    1
}

/// The `[policy]` table.
pub(super) fn policy(root: &mut Table<'_>, words: &Words, problems: &mut Vec<Problem>) -> Policy {
    let mut policy = Policy {
        show_working: ShowWorking::AfterAnswer,
        uncertainty: UncertaintyRule::Standard,
        figures: FiguresRule::Lenient,
        rounding: Rounding::HalfUp,
        constant_mass: None,
    };
    let Some(mut table) = root.table("policy", problems) else {
        return policy;
    };
    let show = [
        ("always", ShowWorking::Always),
        ("after-answer", ShowWorking::AfterAnswer),
        ("teacher", ShowWorking::Teacher),
    ];
    policy.show_working =
        word(&mut table, "show_working", &show, problems).unwrap_or(policy.show_working);
    let rules = [
        ("standard", UncertaintyRule::Standard),
        ("worst-case", UncertaintyRule::WorstCase),
        ("none", UncertaintyRule::None),
    ];
    policy.uncertainty =
        word(&mut table, "uncertainty", &rules, problems).unwrap_or(policy.uncertainty);
    let figures = [
        ("strict", FiguresRule::Strict),
        ("lenient", FiguresRule::Lenient),
        ("off", FiguresRule::Off),
    ];
    policy.figures = word(&mut table, "figures", &figures, problems).unwrap_or(policy.figures);
    let rounding = [
        ("half-up", Rounding::HalfUp),
        ("half-even", Rounding::HalfEven),
    ];
    policy.rounding = word(&mut table, "rounding", &rounding, problems).unwrap_or(policy.rounding);
    if let Some(value) = table.take("constant_mass")
        && let Some(reading) = apparatus::quantity(&value, ("constant_mass", words), problems)
    {
        let unit = reading.unit.unwrap_or(Unit::Gram);
        if unit.dimension() == Unit::Gram.dimension() && reading.number.coefficient() > 0 {
            policy.constant_mass = Some(reading.number.shifted(unit.power_to_base()));
        } else {
            problems.push(
                Problem::error(Code::WrongUnit, "`constant_mass` must be a mass above zero")
                    .at(value.inner_span(), "here")
                    .help("write it as \"0.02 g\""),
            );
        }
    }
    table.finish(problems);
    policy
}

/// One of a few words.
pub(super) fn word<T: Copy>(
    table: &mut Table<'_>,
    key: &'static str,
    words: &[(&str, T)],
    problems: &mut Vec<Problem>,
) -> Option<T> {
    let (text, span) = table.text(key, problems)?;
    if let Some((_, value)) = words.iter().find(|(word, _)| *word == text) {
        return Some(*value);
    }
    let all: Vec<String> = words
        .iter()
        .map(|(word, _)| format!("\"{word}\""))
        .collect();
    let help = suggest::closest(&text, words.iter().map(|(word, _)| *word)).map_or_else(
        || format!("write {}", all.join(" or ")),
        |near| format!("did you mean \"{near}\"?"),
    );
    problems.push(
        Problem::error(Code::UnknownWord, format!("`{key}` cannot be \"{text}\""))
            .at(span, "not known")
            .help(help),
    );
    None
}
