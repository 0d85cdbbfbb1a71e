//! Results as text: the digits they defend, with unit, and their uncertainty.

use std::borrow::Cow;

use crate::chem::AtomicWeights;
use crate::chem::Formula;
use crate::lab::Lab;
use crate::lab::UncertaintyRule;
use crate::measure::Decimal;
use crate::measure::Exact;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::decimal::superscript;
use crate::measure::figures::Figures;
use crate::measure::rounding;
use crate::words::Words;
use crate::working::Inputs;
use crate::working::Kind;
use crate::working::Step;
use crate::working::Value;
use crate::working::expression::Constant;
use crate::working::expression::Expression;
use crate::working::percent_error;

/// The no-break space that stands between a number and its unit.
pub const NO_BREAK: &str = "\u{a0}";

/// The number of a step in the unit it is shown in.
fn number(lab: &Lab, step: &Step, value: &Value, inputs: &Inputs<'_>) -> Decimal {
    let figures = percent_error::figures(lab, step, value, inputs).unwrap_or(value.figures);
    let (exact, figures) = in_unit(lab, step, &value.exact, figures);
    plain(figures.write(&exact, 0, lab.policy.rounding), step.unit)
}

/// A number as it stands beside its unit: nobody writes 1.1×10² %, and 110 % is how two figures of it are written.
#[must_use]
pub fn plain(number: Decimal, unit: Unit) -> Decimal {
    if unit == Unit::Percent {
        number.written_out()
    } else {
        number
    }
}

/// A value of a step in the unit it is shown in: with the digits it defends, and with one more.
pub(in crate::working) fn with_guard(
    lab: &Lab,
    step: &Step,
    exact: &Exact,
    figures: Figures,
) -> (Decimal, Decimal) {
    let (exact, figures) = in_unit(lab, step, exact, figures);
    let shown = figures.write(&exact, 0, lab.policy.rounding);
    let guarded = guarded(&exact, figures, shown, lab.policy.rounding);
    (plain(shown, step.unit), plain(guarded, step.unit))
}

/// A number as shown with a digit more than it defends.
fn guarded(exact: &Exact, figures: Figures, shown: Decimal, rule: Rounding) -> Decimal {
    // A difference of readings is exact in its last decimal: a guard digit would be an invented zero.
    if shown.to_exact() == *exact {
        return shown;
    }
    // 1.9948 with a guard digit is 1.995, which a reader would round to 2.00 where the result is 1.99: one digit more
    // makes the step from one to the other plain.
    let further = |guard| figures.write(exact, guard, rule);
    let honest = |guarded: &Decimal| figures.write(&guarded.to_exact(), 0, rule) == shown;
    let first = further(1);
    let more = (2..4).map(further);
    std::iter::once(first)
        .chain(more)
        .find(honest)
        .unwrap_or(first)
}

/// A value in the unit it is shown in, and the digits it defends there.
fn in_unit<'v>(
    lab: &Lab,
    step: &Step,
    exact: &'v Exact,
    figures: Figures,
) -> (Cow<'v, Exact>, Figures) {
    let power = step.unit.power_to_base();
    let exact = if power == 0 {
        Cow::Borrowed(exact)
    } else {
        Cow::Owned(exact / Decimal::new(1, -power).to_exact())
    };
    let figures = match (&step.kind, &step.expression) {
        (Kind::MolarMass(_), Expression::Constant(Constant::MolarMass(formula))) => {
            Figures::Places(molar_mass_places(&lab.atomic_weights, formula))
        }
        _ => figures.shifted(power),
    };
    (exact, figures)
}

/// Decimals a molar mass is shown with: the fewest of its atomic weights.
#[must_use]
pub fn molar_mass_places(weights: &AtomicWeights, formula: &Formula) -> i32 {
    let places = |element| {
        weights
            .get(element)
            .map_or(0, |weight| weight.value.places())
    };
    formula
        .atoms()
        .iter()
        .map(|(element, _)| places(*element))
        .min()
        .unwrap_or(0)
}

/// A molar mass in g/mol as shown.
#[must_use]
pub fn molar_mass(lab: &Lab, formula: &Formula) -> Option<Decimal> {
    let exact = lab.atomic_weights.molar_mass(formula).ok()?;
    Some(rounding::to_places(
        &exact,
        molar_mass_places(&lab.atomic_weights, formula),
        lab.policy.rounding,
    ))
}

/// A number for reading: plain, or with a power of ten when it is very small.
#[must_use]
pub fn text(number: Decimal) -> String {
    let leading = number.significant_figures() - number.places();
    if number.is_zero() || leading > -4 {
        return number.text();
    }
    let mantissa = Decimal::new(number.coefficient(), number.significant_figures() - 1);
    format!("{mantissa}×10{}", superscript(i64::from(leading) - 1))
}

/// A number for reading, with the decimal mark of a language.
#[must_use]
pub fn written(words: &Words, number: Decimal) -> String {
    let text = text(number);
    if words.decimal_mark() == '.' {
        text
    } else {
        words.number(&text)
    }
}

/// A difference with its sign, in the language of a lab; what is rounded to nothing has none.
#[must_use]
pub fn signed(words: &Words, number: Decimal) -> String {
    let text = written(words, number);
    if number.is_zero() || number.is_negative() {
        text
    } else {
        ["+", &text].concat()
    }
}

/// A number with its unit, which never part.
#[must_use]
pub fn with_unit(number: &str, unit: Unit) -> String {
    if unit == Unit::One {
        number.to_owned()
    } else {
        [number, NO_BREAK, unit.symbol()].concat()
    }
}

/// The same of a number.
#[must_use]
pub fn amount(words: &Words, number: Decimal, unit: Unit) -> String {
    with_unit(&written(words, plain(number, unit)), unit)
}

/// The value of a step as results show it, in the language of the lab: `1.53 g`, or the names of the limiting reactants.
#[must_use]
pub fn value(lab: &Lab, step: &Step, value: &Value, inputs: &Inputs<'_>) -> String {
    if step.kind == Kind::Limiting {
        return limiting(lab, value);
    }
    amount(&lab.words, number(lab, step, value, inputs), step.unit)
}

/// A value beside another one in the base unit of its step, to the same decimal: one digit more than the value defends, so that their
/// difference can be followed; `None` where the other is no number.
#[must_use]
pub fn beside(lab: &Lab, step: &Step, value: &Value, other: f64) -> Option<(String, String)> {
    let other = Exact::from_float(other)?;
    let (exact, figures) = in_unit(lab, step, &value.exact, value.figures);
    let (other, _) = in_unit(lab, step, &other, value.figures);
    let number = figures.write(&exact, 1, lab.policy.rounding);
    let other = rounding::to_places(&other, number.places(), lab.policy.rounding);
    let shown = |number| amount(&lab.words, number, step.unit);
    Some((shown(number), shown(other)))
}

/// The same for other programs: with a point in every language, and a plain blank before the unit.
#[must_use]
pub fn plain_value(lab: &Lab, step: &Step, value: &Value, inputs: &Inputs<'_>) -> String {
    if step.kind == Kind::Limiting {
        return limiting(lab, value);
    }
    with_unit(&text(number(lab, step, value, inputs)), step.unit).replace(NO_BREAK, " ")
}

/// The same for a spreadsheet: no power of ten, and a minus that programs know.
#[must_use]
pub fn for_spreadsheet(lab: &Lab, step: &Step, value: &Value, inputs: &Inputs<'_>) -> String {
    if step.kind == Kind::Limiting {
        return limiting(lab, value);
    }
    let number = decimal(number(lab, step, value, inputs));
    with_unit(&number, step.unit).replace(NO_BREAK, " ")
}

/// A number as programs read it: digits and a point, with a hyphen for a minus.
#[must_use]
pub fn decimal(number: Decimal) -> String {
    number.text().replace('\u{2212}', "-")
}

/// The names of the substances that run out first.
#[must_use]
pub fn limiting(lab: &Lab, value: &Value) -> String {
    let names: Vec<&str> = value
        .smallest
        .iter()
        .map(|index| lab.substances[*index].name.as_str())
        .collect();
    names.join(lab.words.say(" and "))
}

/// How far a result may be off, by the lab's rule, in the unit it is shown in; `None` when the rule is `none`.
#[must_use]
pub fn doubt(lab: &Lab, step: &Step, value: &Value, inputs: &Inputs<'_>) -> Option<f64> {
    let base = match lab.policy.uncertainty {
        UncertaintyRule::Standard => value.standard_uncertainty(inputs),
        UncertaintyRule::WorstCase => value.worst_case(inputs),
        UncertaintyRule::None => return None,
    };
    let noise = 1e-12 * value.approximate().abs().max(1e-3);
    if base < noise {
        // What cancels exactly leaves only the last binary digits.
        return None;
    }
    Some(base / 10.0_f64.powi(step.unit.power_to_base()))
}

/// The uncertainty of a result as text in the language of the lab, `0.3 %`; `None` when there is none to show.
#[must_use]
pub fn doubt_text(lab: &Lab, step: &Step, value: &Value, inputs: &Inputs<'_>) -> Option<String> {
    if step.kind == Kind::Limiting {
        return None;
    }
    let number = doubt_number(doubt(lab, step, value, inputs)?)?;
    Some(amount(&lab.words, number, step.unit))
}

/// An uncertainty with one figure, two when the first is a one.
#[must_use]
pub fn doubt_number(doubt: f64) -> Option<Decimal> {
    let exact = Exact::from_float(doubt).filter(|exact| !exact.is_zero())?;
    let two = rounding::to_figures(&exact, 2, Rounding::HalfUp);
    Some(if two.coefficient() < 20 {
        two
    } else {
        rounding::to_figures(&exact, 1, Rounding::HalfUp)
    })
}

/// A number of a chart with four significant figures.
#[must_use]
pub fn chart_number(words: &Words, number: f64) -> String {
    Exact::from_float(number).map_or_else(String::new, |exact| {
        written(words, rounding::to_figures(&exact, 4, Rounding::HalfUp))
    })
}
