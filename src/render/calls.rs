//! What templates can call, and how Handlebars calls it.

use handlebars::Context;
use handlebars::Handlebars;
use handlebars::Helper;
use handlebars::HelperResult;
use handlebars::Output;
use handlebars::RenderContext;
use handlebars::RenderErrorReason;
use serde::Deserialize;
use serde_json::Value;

use super::blocks;
use super::captions::UNNUMBERED;
use super::escape;
use super::paper;
use super::prose;
use crate::words::Filling;
use crate::words::Words;

/// A part of the model that templates can print.
#[derive(Clone, Copy)]
enum Part {
    Table,
    /// Students' prose, between marks by which it is told from the program's own.
    Words,
    /// The teacher's prose.
    Given,
    Working,
    Chart,
    /// Lines to write on, as many as a number says.
    Room,
}

/// What templates call them.
const PARTS: [(&str, Part); 6] = [
    ("table", Part::Table),
    ("words", Part::Words),
    ("given", Part::Given),
    ("working", Part::Working),
    ("chart", Part::Chart),
    ("room", Part::Room),
];

impl Part {
    /// Prints it behind what is there, a table `aside` for the page too.
    ///
    /// # Errors
    /// When it is something else.
    fn print(self, part: &Value, aside: bool, out: &mut String) -> serde_json::Result<()> {
        match self {
            Self::Table => blocks::table(&blocks::Table::deserialize(part)?, aside, out),
            Self::Words => words(&String::deserialize(part)?, out),
            Self::Given => out.push_str(&prose::safe(&String::deserialize(part)?)),
            Self::Working => blocks::working(&blocks::Working::deserialize(part)?, out),
            Self::Chart => blocks::chart(&blocks::Chart::deserialize(part)?, out),
            Self::Room => out.push_str(&paper::room(u32::deserialize(part)?)),
        }
        Ok(())
    }
}

/// Says a text in the language of the document: `{{say "Data"}}`. What stands in braces in the text is filled in from
/// the named values of the call: `{{say "{count} groups" count=groups}}`.
const SAY: &str = "say";

/// The number of a heading, counted in the order of printing: `## {{numbered}} {{say "Data"}}`.
const NUMBERED: &str = "numbered";

/// Names of all that templates can call, apart from Handlebars' own.
pub(super) fn names() -> impl Iterator<Item = &'static str> {
    PARTS.iter().map(|(name, _)| *name).chain([SAY, NUMBERED])
}

/// Tells Handlebars of them. Tables are printed for the page too where they are to be put `aside`.
pub(super) fn register(engine: &mut Handlebars<'static>, aside: bool) {
    for (name, part) in PARTS {
        let helper = move |call: &Helper<'_>,
                           _: &Handlebars<'_>,
                           _: &Context,
                           _: &mut RenderContext<'_, '_>,
                           out: &mut dyn Output|
              -> HelperResult {
            // Room for what most of them print.
            let mut printed = String::with_capacity(1024);
            part.print(parameter(call, name)?, aside, &mut printed)
                .map_err(|wrong| other(name, &wrong))?;
            Ok(out.write(&printed)?)
        };
        engine.register_helper(name, Box::new(helper));
    }
    let helper = |call: &Helper<'_>,
                  _: &Handlebars<'_>,
                  context: &Context,
                  _: &mut RenderContext<'_, '_>,
                  out: &mut dyn Output|
     -> HelperResult {
        let english =
            String::deserialize(parameter(call, SAY)?).map_err(|wrong| other(SAY, &wrong))?;
        let code = context.data().get("language").and_then(Value::as_str);
        let wording = code.and_then(Words::of).unwrap_or_default();
        let values: Vec<(&str, String)> = call
            .hash()
            .iter()
            .map(|(name, value)| {
                let value = value.value();
                let text = value.as_str();
                (
                    *name,
                    text.map_or_else(|| value.to_string(), escape::markdown),
                )
            })
            .collect();
        let values: Vec<(&str, &dyn Filling)> = values
            .iter()
            .map(|(name, text)| (*name, text as &dyn Filling))
            .collect();
        Ok(out.write(&wording.fill(&english, &values))?)
    };
    engine.register_helper(SAY, Box::new(helper));
    let helper = |_: &Helper<'_>,
                  _: &Handlebars<'_>,
                  _: &Context,
                  _: &mut RenderContext<'_, '_>,
                  out: &mut dyn Output|
     -> HelperResult { Ok(out.write(UNNUMBERED.encode_utf8(&mut [0; 4]))?) };
    engine.register_helper(NUMBERED, Box::new(helper));
}

/// A call's first parameter.
fn parameter<'c>(call: &'c Helper<'_>, name: &'static str) -> Result<&'c Value, RenderErrorReason> {
    let first = call.param(0);
    Ok(first
        .ok_or(RenderErrorReason::ParamNotFoundForIndex(name, 0))?
        .value())
}

fn other(name: &str, wrong: &serde_json::Error) -> RenderErrorReason {
    RenderErrorReason::Other(format!(
        "{name} was given something else than it prints: {wrong}"
    ))
}

/// Students' prose between its marks.
fn words(prose: &str, out: &mut String) {
    let safe = prose::safe(prose);
    out.push_str("<!-- words -->\n\n");
    // Prose that holds the very marks around it, in a block of code, must not end them.
    let marked = safe
        .replace("<!-- words -->", "< !-- words -->")
        .replace("<!-- /words -->", "< !-- /words -->");
    out.push_str(&marked);
    out.push_str("\n\n<!-- /words -->\n");
}
