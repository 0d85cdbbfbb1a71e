//! Comments that look like data: what stands behind a # is not read, and whoever wrote it there may not know.

use memchr::memchr_iter;

use crate::lab::Lab;
use crate::measure::Typed;
use crate::measure::typed;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::say;

/// Warns of whole-line comments that hold a line of the form, or nothing but a reading.
pub(super) fn look(source: &Source, lab: &Lab, steps: &[String], problems: &mut Vec<Problem>) {
    let mut offset = 0;
    let mut prose: Option<&str> = None;
    for line in source.text.split_inclusive('\n') {
        let start = offset;
        offset += line.len();
        let ends = |marks: &str| {
            // Counting bytes costs next to nothing, and few lines have so many.
            let quotes = memchr_iter(marks.as_bytes()[0], line.as_bytes()).count();
            quotes >= marks.len() && line.matches(marks).count() % 2 == 1
        };
        prose = match prose {
            Some(marks) => (!ends(marks)).then_some(marks),
            None => ["'''", "\"\"\""].into_iter().find(|marks| ends(marks)),
        };
        if prose.is_some() {
            continue;
        }
        let trimmed = line.trim();
        let Some(comment) = trimmed.strip_prefix('#') else {
            behind_empty_quotes(line, start, lab, problems);
            continue;
        };
        let comment = comment.trim_start_matches('#').trim();
        let named = comment.split_once('=').is_some_and(|(name, value)| {
            let name = name.trim();
            let known = lab.readings().any(|(_, asked)| asked.name == name)
                || steps.iter().any(|step| step == name);
            known
                && value
                    .trim()
                    .trim_matches(['"', '\''])
                    .chars()
                    .any(|c| c.is_ascii_digit())
        });
        let is_reading = comment.starts_with(|c: char| c.is_ascii_digit())
            && matches!(typed::parse_with(comment, None, &lab.words), Ok(Typed::Value(reading)) if reading.unit.is_some());
        if named || is_reading {
            let at = start + (line.len() - line.trim_start().len());
            problems.push(
                Problem::warning(Code::CommentedData, lab.words.say("this line begins with # and is not read, but it looks like data"))
                    .at(at..at + trimmed.len(), lab.words.say("a comment"))
                    .help(lab.words.say("if it counts, take the # away and put the value between the quotes of its line")),
            );
        }
    }
}

/// Warns of a reading behind the # of a line whose quotes are empty; a remark of the lab's own is none.
fn behind_empty_quotes(line: &str, start: usize, lab: &Lab, problems: &mut Vec<Problem>) {
    let Some((name, value)) = line.split_once('=') else {
        return;
    };
    let Some((value, comment)) = value.split_once('#') else {
        return;
    };
    // Most lines are filled in, and nothing in their comments has to be read.
    if !["\"\"", "''"].contains(&value.trim()) {
        return;
    }
    let (name, comment) = (name.trim(), comment.trim());
    let own = |text: &str| text.contains(comment);
    let asked = lab.readings().find(|(_, asked)| asked.name == name);
    let says_something = matches!(typed::parse_with(comment, None, &lab.words), Ok(Typed::Value(reading)) if reading.unit.is_some());
    if let (true, Some((_, asked))) = (says_something, asked)
        && !own(&asked.label)
        && !asked.note.as_deref().is_some_and(own)
    {
        let at = start + line.find('#').unwrap_or(0);
        problems.push(
            Problem::warning(
                Code::CommentedData,
                lab.words
                    .say("what stands behind the # is not read, but it looks like a reading"),
            )
            .at(
                at..start + line.trim_end().len(),
                lab.words.say("a comment"),
            )
            .help(say!(
                lab.words,
                "type {name} = \"{value}\"",
                name = name,
                value = comment
            )),
        );
    }
}
