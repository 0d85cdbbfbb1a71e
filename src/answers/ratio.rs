//! A ratio as an answer: `1.34:1`, `4/3`, `0.965 mol Cu per mol Zn`.

use crate::answers::given::Number;
use crate::answers::given::WrittenUnit;
use crate::answers::given::typed_in;
use crate::answers::given::without_substance;
use crate::answers::reactant;
use crate::answers::vocabulary;
use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Typed;
use crate::measure::Unit;
use crate::measure::typed::Fault;
use crate::measure::typed::TypedError;
use crate::say;
use crate::working::Kind;
use crate::working::Step;
use crate::working::line;

/// Whole numbers up to this one may stand in a ratio as a claim: `4:3`.
const LARGEST_WHOLE: f64 = 20.0;

/// `1.34:1`, `4 : 3`, `4/3`, `1.34 to 1`, `0.965 mol Cu : 1 mol Zn`; `None` when the text is no ratio.
pub(super) fn read(text: &str, lab: &Lab, step: &Step) -> Option<Result<Number, TypedError>> {
    if step.unit != Unit::One {
        return None;
    }
    let numbers =
        |(_, right): &(&str, &str)| right.trim_start().starts_with(|c: char| c.is_ascii_digit());
    let per = per_mole(text, lab);
    let (left, right) = per
        .as_ref()
        .map(|(left, right)| (*left, right.as_str()))
        .or_else(|| text.split_once(':'))
        .or_else(|| {
            let mut to = vocabulary::of(&lab.words).to.iter();
            to.find_map(|to| text.split_once(&format!(" {to} ")))
        })
        .or_else(|| text.split_once('/').filter(numbers))?;
    let wrong = |message: &str| {
        Some(Err(TypedError {
            fault: Fault::Other,
            message: message.to_owned(),
            span: 0..text.len(),
            help: say!(lab.words, "write it like 1.34:1"),
        }))
    };
    let (Some((above, first)), Some((below, second))) =
        (part(left, lab, step), part(right, lab, step))
    else {
        return wrong(lab.words.say("this ratio cannot be read"));
    };
    // A ratio that names its substances may stand the other way round than it was asked for.
    let (above, below) = match (step.kind, first, second) {
        (Kind::Ratio(p, r), Some(a), Some(b)) if (a, b) == (r, p) => (below, above),
        (Kind::Ratio(p, r), Some(a), Some(b)) if (a, b) != (p, r) => {
            return wrong(lab.words.say("this is the ratio of other substances"));
        }
        _ => (above, below),
    };
    if below.is_zero() {
        return wrong(lab.words.say("a ratio cannot have a zero behind its colon"));
    }
    let value = line::number_of(above) / line::number_of(below);
    // A plain 1 on either side is the measure, not a rounded number.
    let unit = |number: Decimal| number.places() == 0 && number.coefficient() == 1;
    let relative =
        |number: Decimal| 0.5 * 10.0_f64.powi(-number.places()) / line::number_of(number).abs();
    let (half, written) = match (unit(above), unit(below)) {
        (_, true) => (relative(above), above),
        (true, false) => (relative(below), below),
        _ if above.significant_figures() <= below.significant_figures() => {
            (relative(above).max(relative(below)), above)
        }
        _ => (relative(above).max(relative(below)), below),
    };
    let claim = is_small_whole(above) && is_small_whole(below);
    let whole = claim && above.places() == 0 && below.places() == 0;
    Some(Ok(Number {
        value,
        half: if whole { 0.0 } else { half * value.abs() },
        zeros: 0,
        written,
        unit: WrittenUnit::Fits,
        whole,
        claim,
    }))
}

/// Whether a number is such a whole one, whatever zeros stand behind its point.
pub(super) fn is_small_whole(number: Decimal) -> bool {
    let value = line::number_of(number);
    value.fract() == 0.0 && (1.0..=LARGEST_WHOLE).contains(&value)
}

/// `0.965 mol Cu per mol Zn`, `0.965 mol Cu/mol Zn`: an amount for one mole, which is written out for what follows.
fn per_mole<'t>(text: &'t str, lab: &Lab) -> Option<(&'t str, String)> {
    let mut per = vocabulary::of(&lab.words).per.iter();
    let (left, right) = per
        .find_map(|per| text.split_once(&format!(" {per} ")))
        .or_else(|| {
            text.split_once('/')
                .filter(|(_, right)| right.contains(char::is_whitespace))
        })?;
    let right = right.trim();
    let counts = right.starts_with(|c: char| c.is_ascii_digit());
    let one_mole =
        || Unit::parse(right.split_whitespace().next()?).filter(|unit| *unit == Unit::Mole);
    if counts {
        Some((left, right.to_owned()))
    } else {
        one_mole().map(|_| (left, format!("1 {right}")))
    }
}

/// One side of a ratio: its number, and the substance it names.
fn part(text: &str, lab: &Lab, step: &Step) -> Option<(Decimal, Option<usize>)> {
    let number = |typed: Typed| match typed {
        Typed::Value(reading) if reading.unit.is_none_or(|unit| unit == Unit::Mole) => {
            Some(reading.number)
        }
        _ => None,
    };
    if let Ok(typed) = typed_in(text, lab) {
        return Some((number(typed)?, None));
    }
    let (typed, tail) = without_substance(text, lab)?;
    let all: Vec<usize> = (0..lab.substances.len()).collect();
    match reactant::named(&tail, lab, &all)[..] {
        [only] => Some((number(typed)?, Some(only))),
        // Of what else there are moles, such as water, is plain where the lab has its own relation.
        _ if !matches!(step.kind, Kind::Ratio(..)) => Some((number(typed)?, None)),
        _ => None,
    }
}
