//! Answers written into a worksheet report: its table of steps read back, with the place of each answer.

use std::ops::Range;

use pulldown_cmark::Event;
use pulldown_cmark::Options;
use pulldown_cmark::Parser;
use pulldown_cmark::Tag;
use pulldown_cmark::TagEnd;

use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::suggest;
use crate::record::Answer;
use crate::say;
use crate::words::Words;

/// One cell: its text and where it stands.
type Cell = (String, Range<usize>);

/// A row: its cells, and where it stands.
type Row = (Vec<Cell>, Range<usize>);

/// An answer in a row that names no step: the name, and where answer and name stand.
type Nameless = (String, Range<usize>, Range<usize>);

/// The answers in every table whose rows end in a step's id, blank ones left out; `None` when there is no such table.
/// A row with a `|` inside its answer is read up to there, which is a warning; so is an answer beside a name that is no step.
///
/// `steps` are the ids that count.
#[must_use]
pub fn read(
    markdown: &str,
    steps: &[String],
    words: &Words,
) -> Option<(Vec<Answer>, Vec<Problem>)> {
    let mut found: Option<(Vec<Answer>, Vec<Problem>)> = None;
    for table in tables(markdown) {
        let mut nameless: Vec<Nameless> = Vec::new();
        let mut names_steps = false;
        for (row, whole) in table {
            let [.., (typed, span), (last, last_at)] = &row[..] else {
                continue;
            };
            let inner = typed.trim_matches(|c: char| c == '_' || c.is_whitespace());
            // A `|` in the answer has pushed the step out of the table.
            let pushed_out =
                || Some(last_of_line(&markdown[whole.clone()])).filter(|cell| steps.contains(cell));
            let too_many = !steps.contains(last);
            let Some(step) = (if too_many {
                pushed_out()
            } else {
                Some(last.clone())
            }) else {
                if !inner.is_empty() {
                    nameless.push((last.clone(), span.clone(), last_at.clone()));
                }
                continue;
            };
            names_steps = true;
            let (answers, problems) = found.get_or_insert_default();
            if too_many {
                problems.push(too_many_cells(span.clone(), words));
            }
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
                step,
                typed: inner.to_owned(),
                span: at,
            });
        }
        if let (true, Some((_, problems))) = (names_steps, &mut found) {
            let told = nameless.into_iter().map(|one| no_step(one, steps, words));
            problems.extend(told);
        }
    }
    found
}

/// An answer whose row names no step any more.
fn no_step((name, at, name_at): Nameless, steps: &[String], words: &Words) -> Problem {
    let message = say!(
        words,
        "this answer is not read: no step is called “{name}”",
        name = name
    );
    let joined = name.split_whitespace().collect::<Vec<_>>().join("_");
    let known = steps.iter().map(String::as_str);
    let help = suggest::closest(&joined, known).map_or_else(
        || {
            say!(
                words,
                "type the name of the step into the last column again"
            )
        },
        |near| say!(words, "did you mean `{name}`?", name = near),
    );
    Problem::warning(Code::Answer, message)
        .at(name_at, words.say("not known"))
        .at(at, words.say("not read"))
        .help(help)
}

/// The last cell of a line of a table as it is written, behind the columns of the table as well.
fn last_of_line(line: &str) -> String {
    let line = line.trim().trim_end_matches('|');
    let cell = line.rsplit('|').next().unwrap_or(line);
    cell.replace(['\\', '`'], "").trim().to_owned()
}

/// A row with more cells than its table.
fn too_many_cells(at: Range<usize>, words: &Words) -> Problem {
    let message = say!(
        words,
        "this row has too many cells: a “|” inside the answer begins a new one"
    );
    Problem::warning(Code::Answer, message)
        .at(at, say!(words, "only this was read"))
        .help(say!(
            words,
            "take the “|” out; put remarks in brackets behind the answer"
        ))
}

/// Every table: its body rows, cell by cell.
fn tables(markdown: &str) -> Vec<Vec<Row>> {
    let mut tables: Vec<Vec<Row>> = Vec::new();
    let mut cell: Option<Cell> = None;
    for (event, span) in Parser::new_ext(markdown, Options::ENABLE_TABLES).into_offset_iter() {
        match event {
            Event::Start(Tag::Table(_)) => tables.push(Vec::new()),
            Event::Start(Tag::TableRow) => {
                if let Some(rows) = tables.last_mut() {
                    rows.push((Vec::new(), span));
                }
            }
            Event::Start(Tag::TableCell) => cell = Some((String::new(), span)),
            Event::Text(text) | Event::Code(text) | Event::InlineHtml(text) => {
                if let Some((words, _)) = &mut cell {
                    words.push_str(&text);
                }
            }
            Event::End(TagEnd::TableCell) => {
                let row = tables.last_mut().and_then(|rows| rows.last_mut());
                if let (Some((row, _)), Some((words, span))) = (row, cell.take()) {
                    row.push((words.trim().to_owned(), span));
                }
            }
            _ => {}
        }
    }
    tables
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_are_found_with_their_places_and_blanks_are_not() {
        let markdown = "# Lab\n\n| step | your answer | name |\n|---|---|---|\n| mass of salt | \\_\\_6.02 g\\_\\_ | mass\\_salt |\n| moles | \\_\\_\\_\\_ | moles_salt |\n| most | 1,53 g | `theoretical_copper` |\n\n| other | 5 | nothing |\n|---|---|---|\n| other | 5 | nothing |\n";
        let steps = ["mass_salt", "moles_salt", "theoretical_copper"].map(str::to_owned);
        let words = Words::english();
        let (answers, problems) = read(markdown, &steps, &words).expect("a table");
        assert!(problems.is_empty());
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
        assert!(read("# Lab\n\nNothing here.\n", &steps, &words).is_none());
    }

    #[test]
    fn an_answer_whose_row_lost_its_name_is_told() {
        let markdown = "| step | your answer | name |\n|---|---|---|\n| mass | 2.72 g | mass soda |\n| moles | \\_\\_ | ours |\n| most | 5 g | |\n| yield | 97 % | percent_yield |\n";
        let steps = ["mass_soda", "percent_yield"].map(str::to_owned);
        let (answers, problems) = read(markdown, &steps, &Words::english()).expect("a table");
        assert_eq!(answers.len(), 1);
        assert_eq!(problems.len(), 2, "{problems:?}");
        assert!(
            problems[0]
                .message
                .contains("no step is called “mass soda”")
        );
        assert_eq!(
            problems[0].help.as_deref(),
            Some("did you mean `mass_soda`?")
        );
        assert_eq!(
            &markdown[problems[0].labels[1].span.clone()].trim(),
            &"2.72 g"
        );
    }

    #[test]
    fn an_answer_with_a_bar_is_read_up_to_it_and_said() {
        let markdown = "| step | your answer | name |\n|---|---|---|\n| mass | 2.72 g | maybe | mass\\_salt |\n";
        let steps = ["mass_salt".to_owned()];
        let (answers, problems) = read(markdown, &steps, &Words::english()).expect("a table");
        assert_eq!(answers.len(), 1);
        assert_eq!(
            (answers[0].step.as_str(), answers[0].typed.as_str()),
            ("mass_salt", "2.72 g")
        );
        assert_eq!(&markdown[answers[0].span.clone()], "2.72 g");
        assert_eq!(problems.len(), 1);
        assert!(
            problems[0].message.contains("too many cells"),
            "{problems:?}"
        );
    }
}
