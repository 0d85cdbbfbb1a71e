//! What a step is called in a formula: its symbol, its substance, and its number with unit.

use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Reading;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::say;
use crate::words::Words;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::Step;
use crate::working::StepId;
use crate::working::carried;
use crate::working::factors::Scene;
use crate::working::math::Math;
use crate::working::show;

/// Digits beyond those of the reading, where it is brought to another unit.
const GUARD: i32 = 2;

/// The most letters that a quantity has in a formula.
const LONGEST: usize = 24;

/// A number with unit and substance.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::working) struct Amount {
    pub number: String,
    pub unit: &'static str,
    pub substance: String,
}

/// A reading as an amount: masses in g and amounts in mol, volumes as read.
pub(in crate::working) fn amount_of(words: &Words, reading: &Reading) -> Amount {
    let unit = reading.unit.unwrap_or(Unit::One);
    let (number, unit): (Decimal, Unit) = match unit {
        Unit::Milligram | Unit::Microgram | Unit::Kilogram => {
            (reading.number.shifted(unit.power_to_base()), Unit::Gram)
        }
        Unit::Hectopascal | Unit::Pascal | Unit::Bar => (
            reading.number.shifted(unit.power_to_base()),
            Unit::Kilopascal,
        ),
        Unit::Atmosphere | Unit::MillimetreOfMercury | Unit::Torr => {
            let figures = reading.number.significant_figures().max(1) + GUARD;
            let exact = unit.exact_in_base(reading.number);
            let number = rounding::to_figures(&exact, figures, Rounding::HalfUp);
            (number, Unit::Kilopascal)
        }
        Unit::Millimole | Unit::Micromole => {
            (reading.number.shifted(unit.power_to_base()), Unit::Mole)
        }
        Unit::MillimolePerLitre => (
            reading.number.shifted(unit.power_to_base()),
            Unit::MolePerLitre,
        ),
        other => (reading.number, other),
    };
    Amount {
        number: words.number(&number.to_string()),
        unit: unit.symbol(),
        substance: String::new(),
    }
}

/// A reading with its label, for the given line: one in a unit whose factor is no power of ten as it was read, too.
pub(in crate::working) fn given_reading(words: &Words, reading: &Reading, label: &str) -> String {
    let amount = written(&amount_of(words, reading));
    let unit = reading.unit.filter(|unit| !unit.is_decimal());
    let read = unit.map(|unit| show::with_unit(&words.number(&reading.number.to_string()), unit));
    match read {
        Some(read) => [&read, " = ", &amount, ", ", label].concat(),
        None => [&amount, ", ", label].concat(),
    }
}

/// A step's value as an amount, with a guard digit.
pub(in crate::working) fn step_amount(scene: &Scene<'_>, id: StepId) -> Amount {
    let shown = scene.shown(id);
    Amount {
        number: shown.map_or_else(String::new, |shown| shown.guarded.clone()),
        unit: scene.graph.step(id).unit.symbol(),
        substance: shown.map_or_else(String::new, |shown| shown.substance.clone()),
    }
}

/// A step's value as it is put into the working of another.
pub(in crate::working) fn operand(scene: &Scene<'_>, id: StepId) -> Amount {
    let amount = step_amount(scene, id);
    match carried::number(scene, id, scene.further) {
        Some(number) if scene.further > 0 => Amount {
            number: scene.number(number),
            ..amount
        },
        _ => amount,
    }
}

/// A step's value as a phrase of the given line.
pub(in crate::working) fn given_step(scene: &Scene<'_>, id: StepId, amount: &Amount) -> String {
    let step = scene.graph.step(id);
    let mut phrase = written(amount);
    if !matches!(step.kind, Kind::Moles(_) | Kind::Mass(_)) {
        phrase.push_str(", ");
        phrase.push_str(&step.title);
    }
    phrase
}

/// The substance a step's number is of, as a formula; empty for percentages, ratios and the lab's own quantities.
pub(in crate::working) fn substance_of(lab: &Lab, graph: &Graph, id: StepId) -> String {
    let step = graph.step(id);
    let weighed = |index: usize| {
        let substance = &lab.substances[index];
        substance
            .weighed_as
            .as_ref()
            .unwrap_or(&substance.formula)
            .pretty()
    };
    match step.kind {
        Kind::Moles(index) | Kind::MolesCollected(index) | Kind::MolesUsed(index) => {
            lab.substances[index].formula.pretty()
        }
        Kind::Mass(index)
        | Kind::Theoretical(index)
        | Kind::Needed(index)
        | Kind::ExpectedLeft(index)
        | Kind::Collected(index)
        | Kind::MeasuredLeft(index)
        | Kind::Used(index) => {
            if step.unit == Unit::Mole {
                lab.substances[index].formula.pretty()
            } else {
                weighed(index)
            }
        }
        _ => String::new(),
    }
}

/// The symbol of a step: `n(CuSO₄)`, `m(Zn, left)`.
pub(in crate::working) fn symbol(scene: &Scene<'_>, id: StepId) -> Math {
    let lab = scene.lab;
    let step = scene.graph.step(id);
    let words = &lab.words;
    let quantity = |index: Option<&str>| Math::Symbol {
        letter: if step.unit == Unit::Mole { "n" } else { "m" },
        of: scene
            .shown(id)
            .map(|shown| shown.substance.clone())
            .filter(|of| !of.is_empty()),
        index: index.map(str::to_owned),
    };
    match step.kind {
        Kind::MolarMass(index) => {
            let substance = &lab.substances[index];
            let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
            Math::Symbol {
                letter: "M",
                of: Some(form.pretty()),
                index: None,
            }
        }
        Kind::Mass(_) | Kind::Moles(_) => quantity(None),
        Kind::Theoretical(_) => quantity(Some(words.say("most"))),
        Kind::Needed(_) => quantity(Some(words.say("needed"))),
        Kind::ExpectedLeft(_) => quantity(Some(words.say("left, expected"))),
        Kind::Collected(_) | Kind::MolesCollected(_) => quantity(Some(words.say("collected"))),
        Kind::MeasuredLeft(_) => quantity(Some(words.say("left, found"))),
        Kind::Used(_) | Kind::MolesUsed(_) => quantity(Some(words.say("used"))),
        Kind::PercentYield(_) => Math::Words(say!(words, "percent yield")),
        Kind::Ratio(..) => Math::Words(say!(words, "mole ratio")),
        Kind::LeftError(_) => Math::Words(say!(words, "difference")),
        Kind::Completion(_) => Math::Words(say!(words, "completion")),
        Kind::Recovery(..) => Math::Words(say!(words, "recovery")),
        Kind::MassKept => Math::Words(say!(words, "mass kept")),
        Kind::Accepted(_) => Math::Words(say!(words, "accepted value")),
        Kind::FindError(_) => Math::Words(say!(words, "percent error")),
        Kind::Find(_) => Math::Words(own_name(lab, step)),
        Kind::Limiting => Math::Words(say!(words, "result")),
    }
}

/// What a quantity of the lab's own is called in a formula: its title, or the words of its id where the title is long, since it
/// stands above the working already, or not the only one of its kind.
fn own_name(lab: &Lab, step: &Step) -> String {
    let mut others = lab.finds.iter().filter(|find| find.id != step.id);
    let is_long = step.title.chars().count() > LONGEST;
    if is_long || others.any(|find| find.title == step.title) {
        step.id.replace('_', " ")
    } else {
        step.title.clone()
    }
}

/// `0.02411 mol CuSO₄`
pub(in crate::working) fn written(amount: &Amount) -> String {
    let mut text = String::with_capacity(48);
    text.push_str(&amount.number);
    for part in [amount.unit, &amount.substance] {
        if !part.is_empty() {
            text.push_str(show::NO_BREAK);
            text.push_str(part);
        }
    }
    text
}

/// An amount as mathematics, its unit struck out or not.
pub(in crate::working) fn math_of(amount: Amount, struck: bool) -> Math {
    let number = Math::Number(amount.number);
    if amount.unit.is_empty() {
        return number;
    }
    let unit = Math::Unit {
        unit: amount.unit,
        substance: amount.substance,
        struck,
    };
    Math::Row(vec![number, unit])
}

/// A label up to its first comma: “beaker” for “beaker, empty”, so that a relation fits in its line. The given line
/// beside it has the whole label. A comma between two digits is a decimal mark.
pub(in crate::working) fn short(label: &str) -> &str {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut commas = label.match_indices(',').map(|(at, _)| at);
    let end = commas.find(|at| {
        let (before, behind) = (&label[..*at], &label[at + 1..]);
        !(digit(before.chars().next_back()) && digit(behind.chars().next()))
    });
    label[..end.unwrap_or(label.len())].trim_end()
}
