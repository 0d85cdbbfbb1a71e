//! The `[substance.x]` tables: matched with the equation, named, and given their amounts.

use std::sync::OnceLock;

use crate::chem::Equation;
use crate::chem::Formula;
use crate::chem::hazard;
use crate::chem::name;
use crate::lab::Before;
use crate::lab::Given;
use crate::lab::Substance;
use crate::lab::apparatus;
use crate::lab::check;
use crate::lab::names::Names;
use crate::measure::Decimal;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::problem::document::Table;
use crate::words::Words;

/// Every substance, in the file's order.
pub(super) fn read(
    root: &mut Table<'_>,
    equation: &Equation,
    (names, words): (&Names<'_>, &Words),
    problems: &mut Vec<Problem>,
) -> Vec<Substance> {
    let Some(mut all) = root.table("substance", problems) else {
        problems.push(
            Problem::error(Code::MissingKey, "the file has no `[substance.…]`")
                .at(0..0, "no substance at all")
                .help("add a section for each substance that is weighed"),
        );
        return Vec::new();
    };
    let mut substances: Vec<Substance> = Vec::new();
    for (key, span, value) in all.take_all() {
        let Some(mut table) = value.table(format!("[substance.{key}]"), span.clone()) else {
            problems
                .push(value.wrong_shape(&key, &format!("a section, written `[substance.{key}]`")));
            continue;
        };
        if !key
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
        {
            problems.push(
                Problem::error(
                    Code::SubstanceKey,
                    format!("`{key}` cannot be the name of a substance"),
                )
                .at(span.clone(), "here")
                .help("use lower-case letters and digits only, such as `zinc`"),
            );
        }
        if let Some(substance) = one(key, span, &mut table, equation, (names, words), problems) {
            if let Some(same) = substances
                .iter()
                .find(|s| s.formula == substance.formula && s.reactant == substance.reactant)
            {
                problems.push(
                    Problem::error(
                        Code::DuplicateName,
                        format!(
                            "`{}` and `{}` are the same substance",
                            same.key, substance.key
                        ),
                    )
                    .at(substance.span.clone(), "again here")
                    .at(same.span.clone(), "first here")
                    .help("keep one section for each substance"),
                );
            }
            substances.push(substance);
        }
        table.finish(problems);
    }
    substances
}

fn one(
    key: String,
    span: Span,
    table: &mut Table<'_>,
    equation: &Equation,
    (names, words): (&Names<'_>, &Words),
    problems: &mut Vec<Problem>,
) -> Option<Substance> {
    let written = table
        .required_text("formula", problems)
        .map(|(text, span)| (check::formula(&text, &span, problems), span));
    let own_name = table
        .text("name", problems)
        .map(|(text, _)| text.into_owned())
        .filter(|text| !text.trim().is_empty());
    let weighed = table
        .text("weighed_as", problems)
        .and_then(|(text, span)| Some((check::formula(&text, &span, problems)?, span)));
    let before = before(table, names, problems);
    let mut expression = |key| {
        let written = check::written(table, key, problems)?;
        names.check(&written.term, problems);
        Some(written)
    };
    let (after, used) = (expression("after"), expression("used"));
    let yields = table.flag("yield", problems).unwrap_or(false);
    let purity = table
        .take("purity")
        .and_then(|value| purity(&value, words, problems));
    let collected_as = table
        .text("collected_as", problems)
        .map(|(text, _)| text.into_owned());
    let mut hazards = Vec::new();
    for (code, span) in table.texts("hazards", problems) {
        if hazard::statement(&code).is_none() {
            problems.push(
                Problem::error(
                    Code::UnknownHazard,
                    format!("`{code}` is no GHS hazard statement"),
                )
                .at(span, "not known")
                .help("take the codes from the safety data sheet, such as H302"),
            );
        }
        hazards.push(code);
    }
    let (formula, formula_span) = written?;
    let formula = formula?;
    let Some((species, reactant)) = equation.find(&formula) else {
        problems.push(
            Problem::error(
                Code::SubstanceNotInEquation,
                format!("{} does not stand in the equation", formula.pretty()),
            )
            .at(formula_span, "not in the equation")
            .help("write it as in the equation; the form weighed goes into `weighed_as`"),
        );
        return None;
    };
    let waters = accepted_waters(table, (&formula, words), problems);
    let weighed_as =
        weighed.and_then(|(weighed, span)| weighed_form(&formula, weighed, span, problems));
    let name = own_name
        .or_else(|| name::in_language(&species.formula, words))
        .unwrap_or_else(|| formula.pretty());
    let weighed_name = weighed_as
        .as_ref()
        .map(|form| name::with_waters(&name, form.waters().1, words));
    Some(Substance {
        key,
        span,
        formula: species.formula.clone(),
        name,
        weighed_as,
        weighed_name,
        reactant,
        coefficient: species.coefficient,
        before,
        after,
        used,
        yields,
        purity,
        hazards,
        waters,
        collected_as,
        called: OnceLock::new(),
    })
}

/// The accepted number of waters of a hydrate in which it is to be found.
fn accepted_waters(
    table: &mut Table<'_>,
    (formula, words): (&Formula, &Words),
    problems: &mut Vec<Problem>,
) -> Option<(Decimal, Span)> {
    let value = table.take("waters")?;
    if !formula.open_waters() {
        let message = format!("{} has no waters to be found", formula.pretty());
        problems.push(
            Problem::error(Code::WeighedAs, message)
                .at(value.span(), "here")
                .help("write the hydrate as MgSO4·xH2O in `formula` and in the equation, or take `waters` out"),
        );
        return None;
    }
    let reading = apparatus::quantity(&value, ("waters", words), problems)?;
    let fits = matches!(reading.unit, None | Some(Unit::One)) && reading.number.coefficient() > 0;
    if !fits {
        problems.push(
            Problem::error(Code::WrongShape, "`waters` must be a number above zero")
                .at(value.span(), "here")
                .help("write the accepted number of waters, such as waters = 7"),
        );
    }
    fits.then(|| (reading.number, value.span()))
}

/// The form weighed, where it is the formula plus water; `None` when it is the formula itself.
fn weighed_form(
    formula: &Formula,
    weighed: Formula,
    span: Span,
    problems: &mut Vec<Problem>,
) -> Option<Formula> {
    if weighed.same_substance(formula) {
        return None;
    }
    let (dry, waters) = weighed.waters();
    if waters > 0 && dry.same_substance(formula) {
        return Some(weighed);
    }
    problems.push(
        Problem::error(
            Code::WeighedAs,
            format!(
                "{} is not {} plus water",
                weighed.pretty(),
                formula.pretty()
            ),
        )
        .at(span, "here")
        .help(format!(
            "write it as {}·5H2O, with the number of waters on the label",
            formula.plain()
        )),
    );
    None
}

fn before(table: &mut Table<'_>, names: &Names<'_>, problems: &mut Vec<Problem>) -> Option<Before> {
    let (text, span) = table.text("before", problems)?;
    if text.trim() == "excess" {
        return Some(Before::Excess);
    }
    let written = check::parse_expression(&text, span, problems)?;
    names.check(&written.term, problems);
    Some(Before::Measured(written))
}

/// `98.5 %` or `0.985`.
fn purity(
    value: &crate::problem::document::Value<'_>,
    words: &Words,
    problems: &mut Vec<Problem>,
) -> Option<Given> {
    let mut reading = apparatus::quantity(value, ("purity", words), problems)?;
    if matches!(reading.unit, None | Some(Unit::One)) {
        reading.number = reading.number.shifted(2);
        reading.spread = reading.spread.map(|spread| match spread {
            crate::measure::Spread::Limits(half) => crate::measure::Spread::Limits(half.shifted(2)),
            crate::measure::Spread::Standard(u) => crate::measure::Spread::Standard(u.shifted(2)),
        });
        reading.unit = Some(Unit::Percent);
    }
    let percent = reading.number.to_f64();
    if reading.unit != Some(Unit::Percent) || !(percent > 0.0 && percent <= 100.0) {
        problems.push(
            Problem::error(
                Code::WrongUnit,
                "`purity` must lie above 0 % and not above 100 %",
            )
            .at(value.inner_span(), "here")
            .help("write it as \"98.5 %\""),
        );
        return None;
    }
    Some(Given {
        name: "purity".to_owned(),
        value: reading,
        span: value.inner_span(),
    })
}
