//! A written expression of the lab description turned into a step's expression, units checked with the place at hand.

use crate::lab::Lab;
use crate::lab::Term;
use crate::lab::expression::Sign;
use crate::measure::Decimal;
use crate::measure::Dimension;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::working::Graph;
use crate::working::expression::Constant;
use crate::working::expression::Expression;

/// An expression with its dimension.
pub type Lowered = (Expression, Dimension);

/// Turns a term into an expression over the graph's inputs and the steps it has so far.
///
/// # Errors
/// When a name is neither a reading, a given nor a step so far, or two different units are added.
pub fn lower(lab: &Lab, graph: &Graph, term: &Term) -> Result<Lowered, Problem> {
    match term {
        Term::Name(name, span) => name_of(lab, graph, name).ok_or_else(|| {
            Problem::error(
                Code::UnknownName,
                format!("`{name}` is neither a reading, a given nor a step worked before this one"),
            )
            .at(span.clone(), "not known here")
            .help(near(lab, graph, name))
        }),
        Term::Number(number, _) => Ok((
            Expression::Constant(Constant::Number(*number)),
            Dimension::ONE,
        )),
        Term::Percentage(number, _) => Ok((
            Expression::Constant(Constant::Number(*number)),
            Unit::Percent.dimension(),
        )),
        Term::MolarMass(formula, _) => Ok((
            Expression::Constant(Constant::MolarMass(formula.clone())),
            Unit::GramPerMole.dimension(),
        )),
        Term::Negative(inner, _) => {
            let (inner, dimension) = lower(lab, graph, inner)?;
            Ok((
                Expression::Product(vec![
                    Expression::Constant(Constant::Number(Decimal::new(-1, 0))),
                    inner,
                ]),
                dimension,
            ))
        }
        Term::Gas { of, over_water, .. } => {
            let [volume, temperature, pressure] = &**of;
            let part = |term: &Term, unit: Unit, what: &str| -> Result<Expression, Problem> {
                let (expression, dimension) = lower(lab, graph, term)?;
                if dimension == unit.dimension() {
                    return Ok(expression);
                }
                let message = format!(
                    "the {what} of a gas is wanted in {unit}, but this comes out in {dimension}"
                );
                Err(Problem::error(Code::UnitMismatch, message)
                    .at(term.span(), format!("in {dimension}"))
                    .help("the order is gas(volume, temperature, pressure), in mL or L, °C, and kPa or hPa"))
            };
            let volume = part(volume, Unit::Litre, "volume")?;
            let celsius = part(temperature, Unit::DegreeCelsius, "temperature")?;
            let pressure = part(pressure, Unit::Kilopascal, "pressure")?;
            let pressure = if *over_water {
                pressure.minus(Expression::VapourPressure(Box::new(celsius.clone())))
            } else {
                pressure
            };
            let moles = Expression::moles_of_gas(volume, celsius, pressure);
            Ok((moles, Unit::Mole.dimension()))
        }
        Term::Binary {
            sign, left, right, ..
        } => {
            let (a, a_is) = lower(lab, graph, left)?;
            let (b, b_is) = lower(lab, graph, right)?;
            match sign {
                Sign::Plus | Sign::Minus if a_is != b_is => {
                    Err(cannot_add(*sign, (left, a_is), (right, b_is)))
                }
                Sign::Plus => Ok((join(a, b), a_is)),
                Sign::Minus => Ok((a.minus(b), a_is)),
                Sign::Times => Ok(multiplied((a, a_is), (b, b_is))),
                Sign::Over => Ok(divided((a, a_is), (b, b_is))),
            }
        }
    }
}

/// What a name stands for.
fn name_of(lab: &Lab, graph: &Graph, name: &str) -> Option<Lowered> {
    if let Some(reading) = lab.reading_index(name) {
        return Some((
            Expression::Reading(reading),
            graph.readings.get(reading).copied().unwrap_or_default(),
        ));
    }
    if let Some(given) = lab.givens.iter().position(|given| given.name == name) {
        return Some((
            Expression::Given(given),
            lab.givens[given]
                .value
                .unit
                .unwrap_or(Unit::One)
                .dimension(),
        ));
    }
    graph
        .find(name)
        .map(|step| (Expression::Step(step), graph.step(step).dimension))
}

/// What a misspelt name may have meant, as a next step.
fn near(lab: &Lab, graph: &Graph, name: &str) -> String {
    let readings = lab.readings().map(|(_, asked)| asked.name.as_str());
    let givens = lab.givens.iter().map(|given| given.name.as_str());
    let steps = graph.steps().iter().map(|step| step.id.as_str());
    match crate::problem::suggest::closest(name, readings.chain(givens).chain(steps)) {
        Some(known) => format!("did you mean `{known}`?"),
        None => "name a reading of `[day.N]`, a value of `[given]`, or a step that comes earlier"
            .to_owned(),
    }
}

/// Adds a term to a sum without nesting.
fn join(a: Expression, b: Expression) -> Expression {
    match a {
        Expression::Sum(mut terms) => {
            terms.push(b);
            Expression::Sum(terms)
        }
        first => Expression::Sum(vec![first, b]),
    }
}

/// A product; a percentage of something with a unit counts as its fraction.
fn multiplied(a: Lowered, b: Lowered) -> Lowered {
    let (a, b) = (fraction_beside(a, &b), b);
    let b = fraction_beside(b, &a);
    let dimension = a.1.times(b.1);
    (a.0.times(b.0), dimension)
}

/// A quotient; a percentage beside something with a unit counts as its fraction.
fn divided(a: Lowered, b: Lowered) -> Lowered {
    let (a, b) = (fraction_beside(a, &b), b);
    let b = fraction_beside(b, &a);
    let dimension = a.1.over(b.1);
    (a.0.over(b.0), dimension)
}

/// `98.5 %` beside a mass is 0.985 of it; beside a plain number it stays a percentage.
fn fraction_beside(value: Lowered, other: &Lowered) -> Lowered {
    let percent = Unit::Percent.dimension();
    let has_unit = other.1 != Dimension::ONE && other.1 != percent;
    if value.1 == percent && has_unit {
        if let Expression::Constant(Constant::Number(number)) = value.0 {
            let part = Decimal::new(number.coefficient(), number.places() + 2);
            return (Expression::Constant(Constant::Number(part)), Dimension::ONE);
        }
        (value.0.over(Expression::hundred()), Dimension::ONE)
    } else {
        value
    }
}

/// The error for `g + mL`.
fn cannot_add(sign: Sign, left: (&Term, Dimension), right: (&Term, Dimension)) -> Problem {
    let doing = if sign == Sign::Plus {
        "add"
    } else {
        "subtract"
    };
    let words = |dimension: Dimension| dimension.to_string();
    Problem::error(Code::UnitMismatch, format!("cannot {doing} {} and {}", words(left.1), words(right.1)))
        .at(right.0.span(), words(right.1))
        .at(left.0.span(), words(left.1))
        .help("bring both to one unit first: volume × density is a mass, volume × concentration an amount")
}
