//! Answers written into a worksheet report: its table of steps read back, with the place of each answer.

use std::ops::Range;

use pulldown_cmark::Event;
use pulldown_cmark::Options;
use pulldown_cmark::Parser;
use pulldown_cmark::Tag;
use pulldown_cmark::TagEnd;

use crate::record::Answer;

/// One cell: its text and where it stands.
type Cell = (String, Range<usize>);

/// The answers in every table whose rows end in a step's id, blank ones left out; `None` when there is no such table.
///
/// `steps` are the ids that count.
#[must_use]
pub fn read(markdown: &str, steps: &[String]) -> Option<Vec<Answer>> {
    let mut found = None;
    for row in rows(markdown) {
        let [.., (typed, span), (step, _)] = &row[..] else {
            continue;
        };
        if !steps.contains(step) {
            continue;
        }
        let answers: &mut Vec<Answer> = found.get_or_insert_default();
        let inner = typed.trim_matches(|c: char| c == '_' || c.is_whitespace());
        if inner.is_empty() {
            continue;
        }
        // Where the cell is plain text its place can be narrowed to the answer itself.
        let at = markdown[span.clone()]
            .find(inner)
            .map_or(span.clone(), |at| {
                span.start + at..span.start + at + inner.len()
            });
        answers.push(Answer {
            step: step.clone(),
            typed: inner.to_owned(),
            span: at,
        });
    }
    found
}

/// Every body row of every table, cell by cell.
fn rows(markdown: &str) -> Vec<Vec<Cell>> {
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let mut cell: Option<Cell> = None;
    for (event, span) in Parser::new_ext(markdown, Options::ENABLE_TABLES).into_offset_iter() {
        match event {
            Event::Start(Tag::TableRow) => rows.push(Vec::new()),
            Event::Start(Tag::TableCell) => cell = Some((String::new(), span)),
            Event::Text(text) | Event::Code(text) | Event::InlineHtml(text) => {
                if let Some((words, _)) = &mut cell {
                    words.push_str(&text);
                }
            }
            Event::End(TagEnd::TableCell) => {
                if let (Some(row), Some((words, span))) = (rows.last_mut(), cell.take()) {
                    row.push((words.trim().to_owned(), span));
                }
            }
            _ => {}
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_are_found_with_their_places_and_blanks_are_not() {
        let markdown = "# Lab\n\n| step | your answer | name |\n|---|---|---|\n| mass of salt | \\_\\_6.02 g\\_\\_ | mass\\_salt |\n| moles | \\_\\_\\_\\_ | moles_salt |\n| most | 1,53 g | `theoretical_copper` |\n| other | 5 | nothing |\n";
        let steps = ["mass_salt", "moles_salt", "theoretical_copper"].map(str::to_owned);
        let answers = read(markdown, &steps).expect("a table");
        let typed: Vec<(&str, &str)> = answers
            .iter()
            .map(|answer| (answer.step.as_str(), answer.typed.as_str()))
            .collect();
        assert_eq!(
            typed,
            [("mass_salt", "6.02 g"), ("theoretical_copper", "1,53 g")]
        );
        for answer in &answers {
            assert_eq!(&markdown[answer.span.clone()], answer.typed);
        }
        assert!(read("# Lab\n\nNothing here.\n", &steps).is_none());
    }
}
