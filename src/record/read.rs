//! A data file as written: its text, mended where it is not TOML, and who made it.

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::document::Document;
use crate::problem::document::Shape;
use crate::problem::document::Table;
use crate::record::Who;
use crate::words::Words;

/// A data file as written, before its lab is known.
#[derive(Debug, Clone)]
pub struct Written {
    /// The text as it is in the file.
    pub source: Source,
    /// The same as a tree, with slips of typing mended.
    pub document: Document,
    /// What is not TOML.
    pub problems: Vec<Problem>,
    /// Who made it.
    pub who: Who,
    /// Whether it is a lab description rather than a data file.
    pub is_lab: bool,
}

/// Reads the text of a data file; what is wrong is told in English.
#[must_use]
pub fn read(source: Source) -> Written {
    read_in(source, &Words::english())
}

/// Reads the text of a data file; what is wrong is told in a language, that of its lab.
#[must_use]
pub fn read_in(source: Source, words: &Words) -> Written {
    let (document, mut problems) = Document::read(&source, words);
    let mut root = Table::root(&document);
    let is_lab = root.key_span("equation").is_some() && root.key_span("who").is_none();
    let who = if is_lab {
        problems.push(
            Problem::error(
                Code::NotARecord,
                words.say("this is a lab description, the teacher's file, not a group's data file"),
            )
            .at(
                root.key_span("equation").unwrap_or_default(),
                words.say("only lab descriptions have this line"),
            )
            .help(words.say("give a data file here, and this file behind --lab")),
        );
        Who::default()
    } else {
        who(&mut root, words, &mut problems)
    };
    Written {
        source,
        document,
        problems,
        who,
        is_lab,
    }
}

/// The `[who]` section.
fn who(root: &mut Table<'_>, words: &Words, problems: &mut Vec<Problem>) -> Who {
    let mut who = Who::default();
    let Some(mut table) = root.table("who", problems) else {
        return who;
    };
    if let Some(value) = table.take("lab") {
        who.lab_span = value.span();
        if let Shape::Text(text) = value.shape() {
            text.trim().clone_into(&mut who.lab);
        } else {
            problems.push(value.wrong_shape("lab", words.say("text between quotes")));
        }
    }
    who.section = plain(&mut table, "section", words, problems);
    who.group = plain(&mut table, "group", words, problems);
    who.names = table
        .texts("names", problems)
        .into_iter()
        .map(|(name, _)| name)
        .filter(|name| !name.trim().is_empty())
        .collect();
    let share_span = table.key_span("share_words");
    let share = plain(&mut table, "share_words", words, problems).to_lowercase();
    who.share_words = ["yes", "y", "ja", "j", "true"].contains(&share.as_str());
    if !who.share_words && !["", "no", "n", "nein", "false", "?"].contains(&share.as_str()) {
        problems.push(
            Problem::warning(
                Code::UnknownWord,
                words.say("`share_words` is answered with yes or no; it counts as no"),
            )
            .at(share_span.unwrap_or_default(), words.say("neither"))
            .help(words.say("write \"yes\" or \"no\"")),
        );
    }
    if let Some((text, span)) = table.text("readings_of", problems) {
        who.readings_of = Some((text.trim().to_owned(), span)).filter(|(text, _)| !text.is_empty());
    }
    table.finish(problems);
    who
}

/// A text, a bare number or `true`, as typed.
fn plain(
    table: &mut Table<'_>,
    key: &'static str,
    words: &Words,
    problems: &mut Vec<Problem>,
) -> String {
    let Some(value) = table.take(key) else {
        return String::new();
    };
    match value.shape() {
        Shape::Text(text) => text.trim().to_owned(),
        Shape::Number(text) | Shape::Date(text) => text.to_owned(),
        Shape::Flag(flag) => if flag { "yes" } else { "no" }.to_owned(),
        Shape::List(_) | Shape::Table => {
            problems.push(value.wrong_shape(key, words.say("text between quotes")));
            String::new()
        }
    }
}
