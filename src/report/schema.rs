//! The JSON Schema of a lab's data file, with which an editor completes names and underlines what the lab does not ask for.

use serde_json::Map;
use serde_json::Value;
use serde_json::json;

use crate::lab::Asked;
use crate::lab::Day;
use crate::lab::Lab;
use crate::report::form;
use crate::report::steps::with_unit;
use crate::words::Words;
use crate::working::Graph;

/// The schema of the data files of a lab, as JSON text. The same lab always gives the same bytes.
///
/// Draft-07, as the schema of lab descriptions: editors for TOML understand it most widely.
#[must_use]
pub fn data_file(lab: &Lab, graph: &Graph) -> String {
    let schema = json!({
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": format!("Lab data: {}", lab.title),
        "description": "A group's readings, observations and answers. Type only between the quote marks; leave \"\" until you have done that step.",
        "type": "object",
        "additionalProperties": false,
        "required": ["who"],
        "properties": {
            "who": who(&lab.words),
            "day": section("One section for each day.", lab.days.iter().map(|day| (day.number.to_string(), one_day(day)))),
            "trial": trials(lab),
            "extra": open("Readings nobody planned: name = \"value\"", &json!({ "type": ["string", "number", "boolean"] })),
            "signs": section("yes, no, or leave empty.", lab.signs.iter().map(|sign| (sign.id.clone(), sign_answer(&lab.words, &sign.question)))),
            "answers": section("Your own working: number and unit.", graph.steps().iter().map(|step| {
                let asked = step.asked.as_deref().map(|asked| with_unit(&lab.words, asked, step));
                (step.id.clone(), described(one_value(), &step.title, &asked.unwrap_or_default()))
            })),
            "cause": causes(lab),
            "words": words(lab),
        },
    });
    // `{:#}` sets JSON out over lines, and cannot fail on a value.
    format!("{schema:#}\n")
}

/// `[who]`
fn who(words: &Words) -> Value {
    let plain = |about: &str| described(one_value(), "", about);
    json!({
        "type": "object",
        "description": "Who you are.",
        "additionalProperties": false,
        "properties": {
            "lab": { "type": "string", "description": "The lab. Do not change it." },
            "section": plain("Your section."),
            "group": plain("The code your teacher gave you, such as 3-07."),
            "names": {
                "description": "Your names. They stay on your own report, never on class pages.",
                "anyOf": [{ "type": "string" }, { "type": "array", "items": { "type": "string" } }],
            },
            "share_words": {
                "enum": yes_or_no(words),
                "description": "May your observations and discussion appear on the class pages?",
            },
            "readings_of": {
                "type": "string",
                "description": "The group's data file, where you hand in answers of your own: 3-07.toml",
            },
        },
    })
}

/// One `[day.N]`.
fn one_day(day: &Day) -> Value {
    let own = [
        (
            "date".to_owned(),
            described(one_value(), "", "The date, as you like to write it."),
        ),
        (
            "seen".to_owned(),
            described(
                json!({ "type": "string" }),
                "What did you see?",
                &day.notice.join(" · "),
            ),
        ),
    ];
    let readings = day
        .readings
        .iter()
        .map(|asked| (asked.name.clone(), reading(asked)));
    section(&day.title, own.into_iter().chain(readings))
}

/// `[trial.1]`, `[trial.2]`, …: every reading of the lab.
fn trials(lab: &Lab) -> Value {
    let readings = lab.readings();
    let readings = readings.map(|(_, asked)| (asked.name.clone(), reading(asked)));
    json!({
        "type": "object",
        "description": "The same experiment done again: one section for each trial, with readings of its own.",
        "additionalProperties": false,
        "patternProperties": { "^[1-9][0-9]*$": section("The readings of one trial.", readings) },
    })
}

/// One reading: a text or a bare number; in a series one for each box.
fn reading(asked: &Asked) -> Value {
    let shape = if asked.series.is_some() {
        json!({ "type": ["array", "string", "number"], "items": one_value() })
    } else {
        one_value()
    };
    let mut about: Vec<String> = asked.note.iter().cloned().collect();
    let unit = asked.unit.to_string();
    if !unit.is_empty() {
        about.push(format!("in {unit}"));
    }
    if asked.series.is_some() {
        about.push("the last one given counts".to_owned());
    }
    described(shape, &asked.label, &about.join("; "))
}

/// An answer to a question about the bench.
fn sign_answer(words: &Words, question: &str) -> Value {
    described(json!({ "enum": yes_or_no(words) }), question, "")
}

/// What a question is answered with: in English always, and in the lab's language.
fn yes_or_no(words: &Words) -> Vec<&str> {
    let mut answers = vec!["yes", "no", words.say("yes"), words.say("no"), ""];
    if words.code() == "en" {
        answers.drain(2..4);
    }
    answers
}

/// `[cause.1]`, `[cause.2]`, …
fn causes(lab: &Lab) -> Value {
    let text = |about: &str| described(json!({ "type": "string" }), "", about);
    let mut what = text("One of the signs, or your own words.");
    let signs: Vec<&str> = lab.signs.iter().map(|sign| sign.id.as_str()).collect();
    if !signs.is_empty() {
        what["examples"] = json!(signs);
    }
    let mut effect = text("higher or lower: how the result came out.");
    effect["examples"] = json!(["higher", "lower"]);
    json!({
        "type": "object",
        "description": "What made the result differ: one section for each cause.",
        "additionalProperties": false,
        "patternProperties": { "^[0-9]+$": {
            "type": "object",
            "additionalProperties": false,
            "properties": {
                "what": what,
                "evidence": text("Which day, what you saw or read."),
                "effect": effect,
                "next_time": text("What you would do next time."),
            },
        } },
    })
}

/// `[words]`
fn words(lab: &Lab) -> Value {
    let text = |about: &str| described(json!({ "type": "string" }), "", about);
    let mut words = open(
        "Your report's text, between ''' and '''.",
        &json!({ "type": "string" }),
    );
    let known = form::prose(lab);
    words["properties"] = known
        .iter()
        .map(|(key, about)| (key.clone(), text(about)))
        .collect::<Map<_, _>>()
        .into();
    words
}

/// What stands for one value: a text, or a bare number.
fn one_value() -> Value {
    json!({ "type": ["string", "number"] })
}

/// A section that may hold just these lines.
fn section(about: &str, lines: impl IntoIterator<Item = (String, Value)>) -> Value {
    json!({
        "type": "object",
        "description": about,
        "additionalProperties": false,
        "properties": lines.into_iter().collect::<Map<_, _>>(),
    })
}

/// A section that may hold any line of one kind, with names that could stand in a form.
fn open(about: &str, line: &Value) -> Value {
    json!({
        "type": "object",
        "description": about,
        "additionalProperties": false,
        "patternProperties": { "^[^ ]+$": line },
    })
}

/// A schema with what an editor shows beside it; empty texts are left out.
fn described(mut schema: Value, title: &str, about: &str) -> Value {
    if !title.is_empty() {
        schema["title"] = title.into();
    }
    if !about.is_empty() {
        schema["description"] = about.into();
    }
    schema
}
