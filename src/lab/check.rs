//! The description made sense of: from the file's tables to a [`Lab`], every problem gathered.

use std::ops::Range;
use std::sync::OnceLock;

use crate::chem::AtomicWeights;
use crate::chem::Element;
use crate::chem::Equation;
use crate::chem::Formula;
use crate::lab::Lab;
use crate::lab::MolarMasses;
use crate::lab::Safety;
use crate::lab::Text;
use crate::lab::Written;
use crate::lab::apparatus;
use crate::lab::names;
use crate::lab::parser;
use crate::lab::rules;
use crate::lab::share;
use crate::lab::substances;
use crate::lab::waters;
use crate::measure::Decimal;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Source;
use crate::problem::Span;
use crate::problem::any_error;
use crate::problem::document::Document;
use crate::problem::document::Shape;
use crate::problem::document::Table;
use crate::words::LANGUAGES;
use crate::words::Words;

/// Reads and checks a lab description; there is a lab only when nothing in it is wrong.
#[must_use]
pub fn check(source: &Source) -> (Option<Lab>, Vec<Problem>) {
    let (document, mut problems) = Document::read(source, &Words::english());
    let mut root = Table::root(&document);
    if root.key_span("who").is_some() && root.key_span("equation").is_none() {
        problems.push(
            Problem::error(
                Code::NotALab,
                "this is a group's data file, not a lab description",
            )
            .at(
                root.key_span("who").unwrap_or_default(),
                "only data files have this section",
            )
            .help("give the teacher's file here; it has a line `equation = \"…\"`"),
        );
        return (None, problems);
    }
    let lab = read(&mut root, &mut problems);
    root.finish(&mut problems);
    if any_error(&problems) {
        (None, problems)
    } else {
        (lab, problems)
    }
}

fn read(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> Option<Lab> {
    let id = root.required_text("id", problems);
    let title = root.required_text("title", problems);
    let equation = root
        .required_text("equation", problems)
        .map(|(text, span)| (equation(&text, &span, problems), span));
    let words = language(root, problems);
    let alternatives = root.texts("alternatives", problems);
    let alternatives = alternatives
        .iter()
        .filter_map(|(text, span)| self::equation(text, span, problems))
        .collect();
    let instruments = apparatus::instruments(root, &words, problems);
    let givens = apparatus::givens(root, &words, problems);
    let days = apparatus::days(root, (&instruments, &words), problems);
    let trials = rules::trials(root, problems);
    names::no_name_twice(&days, &givens, problems);
    let mut finds = rules::finds(root, problems);
    let known = names::Names::new(&days, &givens, &finds);
    known.check_finds(&finds, problems);
    let signs = rules::signs(root, &words, problems);
    let ask = rules::ask(root, problems);
    let policy = rules::policy(root, &words, problems);
    let atomic_weights = atomic_weights(root, problems);
    let plan = root
        .table("plan", problems)
        .map(|mut table| all_texts(&mut table, problems))
        .unwrap_or_default();
    let share = share::read(root, problems);
    let safety = safety(root, problems);
    let text = prose(root, problems);
    let Some((Some(equation), equation_span)) = equation else {
        // The substances cannot be placed without an equation; their keys are read all the same.
        root.take("substance");
        return None;
    };
    let substances = substances::read(root, &equation, (&known, &words), problems);
    finds.extend(waters::to_find(&substances, &words));
    Some(Lab {
        id: id?.0.into_owned(),
        title: title?.0.into_owned(),
        words,
        equation,
        alternatives,
        substances,
        instruments,
        givens,
        days,
        trials,
        signs,
        ask,
        policy,
        atomic_weights,
        finds,
        plan,
        share,
        safety,
        text,
        equation_span,
        molar_masses: MolarMasses::default(),
        product_names: OnceLock::new(),
    })
}

/// The wording of the language that `language` names; English without it.
fn language(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> Words {
    let Some((code, span)) = root.text("language", problems) else {
        return Words::english();
    };
    Words::of(&code).unwrap_or_else(|| {
        let known: Vec<&str> = LANGUAGES.iter().map(|(code, _)| *code).collect();
        problems.push(
            Problem::error(Code::UnknownWord, format!("there are no words in “{code}”"))
                .at(span, "not known")
                .help(format!("languages are {}", known.join(" and "))),
        );
        Words::english()
    })
}

/// Parses and balances an equation.
fn equation(text: &str, span: &Span, problems: &mut Vec<Problem>) -> Option<Equation> {
    match Equation::parse(text) {
        Ok(equation) => Some(equation),
        Err(wrong) => {
            let problem =
                Problem::error(Code::Equation, wrong.message).at(within(span, &wrong.span), "here");
            problems.push(match wrong.help {
                Some(help) => problem.help(help),
                None => problem.help("write it as Zn(s) + CuSO4(aq) -> ZnSO4(aq) + Cu(s)"),
            });
            None
        }
    }
}

/// Parses a formula.
pub(super) fn formula(text: &str, span: &Span, problems: &mut Vec<Problem>) -> Option<Formula> {
    match Formula::parse(text) {
        Ok(formula) => Some(formula),
        Err(wrong) => {
            let problem =
                Problem::error(Code::Formula, wrong.message).at(within(span, &wrong.span), "here");
            problems.push(
                problem.help(
                    wrong
                        .help
                        .unwrap_or_else(|| "write a formula such as CuSO4·5H2O".to_owned()),
                ),
            );
            None
        }
    }
}

/// A part of a text that stands at `outer` in the file.
pub(super) fn within(outer: &Span, inner: &Range<usize>) -> Span {
    let end = (outer.start + inner.end).min(outer.end);
    (outer.start + inner.start).min(end)..end
}

/// An expression under a key.
pub(super) fn written(
    table: &mut Table<'_>,
    key: &'static str,
    problems: &mut Vec<Problem>,
) -> Option<Written> {
    let (text, span) = table.text(key, problems)?;
    parse_expression(&text, span, problems)
}

/// An expression with its place.
pub(super) fn parse_expression(
    text: &str,
    span: Span,
    problems: &mut Vec<Problem>,
) -> Option<Written> {
    match parser::parse(text, span.start) {
        Ok(term) => Some(Written { term, span }),
        Err(problem) => {
            problems.push(problem);
            None
        }
    }
}

/// Every key of a table with its text, numbers as written.
fn all_texts(table: &mut Table<'_>, problems: &mut Vec<Problem>) -> Vec<(String, String)> {
    let mut texts = Vec::new();
    for (key, _, value) in table.take_all() {
        match value.shape() {
            Shape::Text(text) => texts.push((key, text.to_owned())),
            Shape::Number(text) => texts.push((key, text.to_owned())),
            _ => problems.push(value.wrong_shape(&key, "text between quotes")),
        }
    }
    texts
}

fn atomic_weights(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> AtomicWeights {
    let mut weights = AtomicWeights::default();
    let Some(mut table) = root.table("atomic_weights", problems) else {
        return weights;
    };
    for (symbol, span, value) in table.take_all() {
        let Some(element) = Element::from_symbol(&symbol) else {
            problems.push(
                Problem::error(Code::UnknownKey, format!("`{symbol}` is no element"))
                    .at(span, "not known")
                    .help("write the element's symbol, such as Cu"),
            );
            continue;
        };
        let text = match value.shape() {
            Shape::Text(text) => text.trim(),
            Shape::Number(text) => text,
            _ => "",
        };
        match Decimal::parse(&text.replace(',', ".")) {
            Ok(number) if number.coefficient() > 0 => weights.set(element, number),
            _ => problems.push(
                Problem::error(
                    Code::NotANumber,
                    format!("the atomic weight of {symbol} is not a number above zero"),
                )
                .at(value.inner_span(), "here")
                .help("write it as \"63.55\""),
            ),
        }
    }
    weights
}

fn safety(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> Safety {
    let Some(mut table) = root.table("safety", problems) else {
        return Safety::default();
    };
    let cautions = table
        .texts("cautions", problems)
        .into_iter()
        .map(|(text, _)| text)
        .collect();
    let mut text = |key| {
        table
            .text(key, problems)
            .map(|(text, _)| text.into_owned())
            .filter(|text| !text.trim().is_empty())
    };
    let safety = Safety {
        cautions,
        waste: text("waste"),
        source: text("source"),
    };
    table.finish(problems);
    safety
}

fn prose(root: &mut Table<'_>, problems: &mut Vec<Problem>) -> Text {
    let Some(mut table) = root.table("text", problems) else {
        return Text::default();
    };
    let mut text = |key| {
        table
            .text(key, problems)
            .map(|(text, _)| text.into_owned())
            .filter(|text| !text.trim().is_empty())
    };
    let (background, procedure) = (text("background"), text("procedure"));
    let mut texts = |key| {
        table
            .texts(key, problems)
            .into_iter()
            .map(|(text, _)| text)
            .collect()
    };
    let prose = Text {
        background,
        procedure,
        questions: texts("questions"),
        references: texts("references"),
    };
    table.finish(problems);
    prose
}
