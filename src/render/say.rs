//! The helper of templates that says a text in the language of the document.

use handlebars::Context;
use handlebars::Handlebars;
use handlebars::Helper;
use handlebars::HelperResult;
use handlebars::Output;
use handlebars::RenderContext;

use super::escape;
use super::templates::parameter;
use crate::words::Filling;
use crate::words::Words;

/// The helper that says a text in the language of the document: `{{say "Data"}}`. What stands in braces in the text is filled in
/// from the helper's named values: `{{say "{count} groups" count=groups}}`.
pub(super) fn register(engine: &mut Handlebars<'static>) {
    let helper = |call: &Helper<'_>,
                  _: &Handlebars<'_>,
                  context: &Context,
                  _: &mut RenderContext<'_, '_>,
                  out: &mut dyn Output|
     -> HelperResult {
        let english: String = parameter(call, "say")?;
        let code = context
            .data()
            .get("language")
            .and_then(|code| code.as_str());
        let words = code.and_then(Words::of).unwrap_or_default();
        let texts: Vec<(&str, String)> = call
            .hash()
            .iter()
            .map(|(name, value)| {
                let value = value.value();
                let text = value
                    .as_str()
                    .map_or_else(|| value.to_string(), escape::markdown);
                (*name, text)
            })
            .collect();
        let values: Vec<(&str, &dyn Filling)> = texts
            .iter()
            .map(|(name, text)| (*name, text as &dyn Filling))
            .collect();
        Ok(out.write(&words.fill(&english, &values))?)
    };
    engine.register_helper("say", Box::new(helper));
}
