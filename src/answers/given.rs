//! An answer as typed, read: a number with its unit, a ratio, or the names of reactants.

use crate::chem::Element;
use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Typed;
use crate::measure::Unit;
use crate::measure::typed;
use crate::measure::typed::Fault;
use crate::measure::typed::TypedError;
use crate::problem::Code;
use crate::problem::Problem;
use crate::record::Answer;
use crate::say;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::Step;

use crate::answers::ratio;
use crate::answers::reactant;
use crate::answers::reactant::Named;
use crate::answers::vocabulary;
use crate::answers::window;
use crate::working::line;

/// What an answer says.
#[derive(Debug, Clone, PartialEq)]
pub enum Given {
    /// A number.
    Number(Number),
    /// The reactants named, by index into [`Lab::substances`]; never empty.
    Substances(Vec<usize>),
    /// `?`, `lost`: no answer.
    Missing,
}

/// A number as an answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Number {
    /// Its value in the base unit of the step.
    pub value: f64,
    /// Half a unit of its last figure, in the base unit of the step; 0 for a claim in whole numbers.
    pub half: f64,
    /// How many zeros at its end may only hold a place: `1590 mg`.
    pub zeros: i32,
    /// The digits as written, in the unit they were written in.
    pub written: Decimal,
    /// The unit written.
    pub unit: WrittenUnit,
    /// `4:3`: a claim in whole numbers.
    pub whole: bool,
    /// A small whole number or a ratio of such, which an equation gives as well as a balance: `4:3`, and `1.0` or `1.0:1` too.
    pub claim: bool,
}

impl Number {
    /// A value in the base unit of its step, as somebody would write it to so many figures.
    #[must_use]
    pub fn rounded(value: f64, figures: i32) -> Self {
        let exact = crate::measure::Exact::from_float(value).unwrap_or_default();
        let written =
            crate::measure::rounding::to_figures(&exact, figures, crate::measure::Rounding::HalfUp);
        Self {
            value: line::number_of(written),
            half: 0.5 * 10.0_f64.powi(-written.places()),
            zeros: 0,
            written,
            unit: WrittenUnit::Fits,
            whole: false,
            claim: false,
        }
    }

    /// Whether it has a single figure, zeros that may only hold a place left out.
    #[must_use]
    pub fn is_single_figure(&self) -> bool {
        !self.whole && self.written.significant_figures() - self.zeros <= 1
    }

    /// The same digits as if another prefix stood before the unit, which then does not fit.
    #[must_use]
    pub(super) fn with_prefix(&self, power: i32, unit: Unit) -> Self {
        let factor = 10.0_f64.powi(power);
        Self {
            value: self.value * factor,
            half: self.half * factor,
            unit: WrittenUnit::Other(unit),
            ..self.clone()
        }
    }

    /// Half a unit of the last figure that is one beyond doubt.
    #[must_use]
    pub fn doubt(&self) -> f64 {
        self.half * 10.0_f64.powi(self.zeros)
    }
}

/// The unit beside a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WrittenUnit {
    /// One that fits, or none where none is needed.
    Fits,
    /// None, where one is needed.
    Missing,
    /// A word that is no unit known, where one is needed.
    Unread,
    /// One of another kind, or with another prefix; the number is taken as if its unit were right.
    Other(Unit),
}

/// Reads an answer to a step.
///
/// # Errors
/// When the text is no answer to that step; the span is one of bytes of the text.
pub fn read(text: &str, lab: &Lab, step: &Step) -> Result<Given, TypedError> {
    let inner = typed::inner(text);
    read_line(&text[inner.clone()], lab, step).map_err(|wrong| wrong.behind(inner.start))
}

/// Reads a whole line of working by what stands behind its last `=`: `0.324/24.305 = 0.0133 mol`, `m = 0.324 g`.
fn read_line(text: &str, lab: &Lab, step: &Step) -> Result<Given, TypedError> {
    let whole = read_inner(text, lab, step);
    let (Err(_), Some(at)) = (&whole, text.rfind('=')) else {
        return whole;
    };
    let start = at + 1;
    match read_inner(&text[start..], lab, step) {
        // A line that ends in `=` has no result yet.
        Ok(Given::Missing) => whole,
        Err(wrong) if wrong.fault != Fault::CommaOrThousands => whole,
        result => result.map_err(|wrong| wrong.behind(start)),
    }
}

/// Reads what stands between quote marks that are not the file's.
fn read_inner(text: &str, lab: &Lab, step: &Step) -> Result<Given, TypedError> {
    if step.kind == Kind::Limiting {
        return limiting(text, lab, step);
    }
    if let Kind::ExpectedLeft(left) | Kind::MeasuredLeft(left) = step.kind
        && says_none(text, lab, left)
    {
        let zero = number(Decimal::new(0, 0), Some(step.unit), step);
        return Ok(Given::Number(zero));
    }
    let text = match step.unit {
        Unit::One | Unit::Percent => without_like_units(text),
        _ => text,
    };
    if let Some(ratio) = ratio::read(text, lab, step) {
        return ratio.map(Given::Number);
    }
    let reading = match typed::parse_as(text, None, step.unit, &lab.words) {
        Ok(Typed::Empty | Typed::Missing(_)) => return Ok(Given::Missing),
        Ok(Typed::Value(reading)) => reading,
        Err(error) => match without_substance(text, lab) {
            Some((Typed::Value(reading), _)) => reading,
            _ => return Err(for_answers(error, lab, step)),
        },
    };
    // `1.53 (g)`: a unit in brackets is a unit.
    let in_brackets = || {
        let note = reading.note.as_deref()?;
        Unit::parse(note).or_else(|| Unit::misspelt(note))
    };
    let unit = reading.unit.or_else(in_brackets);
    Ok(Given::Number(number(reading.number, unit, step)))
}

/// Whether words say that nothing is left of a substance: “none”, “nothing left”, “no zinc”.
fn says_none(text: &str, lab: &Lab, left: usize) -> bool {
    let vocabulary = vocabulary::of(&lab.words);
    let mut rest = reactant::words(text);
    rest.retain(|word| !vocabulary.there_is.contains(&word.as_str()));
    match &rest[..] {
        [only] => vocabulary.nothing.contains(&only.as_str()),
        [first, name @ ..] if vocabulary.no.contains(&first.as_str()) => {
            reactant::named(&name.join(" "), lab, &[left]) == [left]
        }
        _ => false,
    }
}

/// What to say about an answer in a unit of another kind than its step's.
#[must_use]
pub fn other_unit(answer: &Answer, lab: &Lab, step: &Step, unit: Unit) -> Problem {
    let (words, title) = (&lab.words, &step.title);
    let message = if step.unit == Unit::One {
        say!(
            words,
            "“{title}” is a plain number, not in {unit}",
            title = title,
            unit = unit
        )
    } else {
        say!(
            words,
            "“{title}” is in {own}, not in {unit}",
            title = title,
            own = step.unit,
            unit = unit
        )
    };
    Problem::warning(Code::AnswerUnit, message)
        .at(answer.span.clone(), say!(words, "this is in {unit}", unit = unit))
        .help(words.say(
            "write the unit that your last line really has; if it is this one, a step is still to do",
        ))
}

/// A text read as a box of the lab is.
pub(super) fn typed_in(text: &str, lab: &Lab) -> Result<Typed, TypedError> {
    typed::parse_with(text, None, &lab.words)
}

/// The next step of somebody who typed no number as an answer.
fn for_answers(error: TypedError, lab: &Lab, step: &Step) -> TypedError {
    let (words, unit) = (&lab.words, step.unit);
    let help = match (error.fault, unit) {
        (Fault::Other | Fault::CommaOrThousands | Fault::UnknownUnit, _) => error.help,
        (Fault::SeveralNumbers, Unit::One) => {
            say!(words, "write only the result, such as 1.34 or 1.34:1")
        }
        (Fault::SeveralNumbers, _) => say!(
            words,
            "write only the result, with its unit, in {unit}",
            unit = unit
        ),
        (Fault::NoNumber, Unit::One) => say!(words, "write one number, such as 1.34 or 1.34:1"),
        (Fault::NoNumber, _) => say!(
            words,
            "write one number, with its unit, in {unit}",
            unit = unit
        ),
    };
    TypedError { help, ..error }
}

/// A text without a unit over itself behind its number, which is no unit: `0.9895 mol/mol`.
fn without_like_units(text: &str) -> &str {
    let Some((left, below)) = text.rsplit_once('/') else {
        return text;
    };
    let left = left.trim_end();
    let front = left.trim_end_matches(char::is_alphabetic);
    let (above, below) = (&left[front.len()..], below.trim());
    let alike = Unit::parse(above).is_some_and(|unit| Unit::parse(below) == Some(unit));
    let is_number = front.trim_end().ends_with(|c: char| c.is_ascii_digit());
    if alike && is_number { front } else { text }
}

/// A number brought to the base unit of its step.
fn number(written: Decimal, unit: Option<Unit>, step: &Step) -> Number {
    let plain = step.unit == Unit::One;
    let fits = |unit: Unit| {
        unit.dimension() == step.dimension || unit.dimension() == step.unit.dimension()
    };
    let by_factor = unit.filter(|unit| fits(*unit) && !unit.is_decimal());
    let (unit, power) = match unit {
        None if plain => (WrittenUnit::Fits, 0),
        // `99 %` is another way to write 0.99.
        Some(Unit::Percent) if plain => (WrittenUnit::Fits, -2),
        None => (WrittenUnit::Missing, step.unit.power_to_base()),
        Some(unit) if fits(unit) => (WrittenUnit::Fits, unit.power_to_base()),
        // `6.00 mmol/L` for an amount is too much by the litre, and milli all the same.
        Some(unit) if unit.dimension().amount == 1 && step.dimension.amount == 1 => {
            (WrittenUnit::Other(unit), unit.power_to_base())
        }
        Some(unit) => (WrittenUnit::Other(unit), step.unit.power_to_base()),
    };
    // `1.0e2 %` says what `100 %` says: there a power of ten is no way to show figures.
    let written = match step.unit {
        Unit::One | Unit::Percent if written.significant_figures() > 1 => written.written_out(),
        _ => written,
    };
    let number = written.shifted(power);
    // A percentage in whole percents means each of them, at least below a thousand.
    let sure = match step.unit {
        Unit::One | Unit::Percent => 3,
        // `10 mmol` says no more than `0.01 mol`.
        _ => 1,
    };
    let (value, last_figure) = match by_factor {
        Some(unit) => {
            let last_figure = Decimal::new(1, written.places());
            (unit.in_base(written), unit.in_base(last_figure))
        }
        None => (line::number_of(number), 10.0_f64.powi(-number.places())),
    };
    Number {
        value,
        half: 0.5 * last_figure,
        zeros: window::zeros_in_doubt(written, sure),
        written,
        unit,
        whole: false,
        claim: plain && ratio::is_small_whole(number),
    }
}

/// An answer that names its substance behind the unit: `1.53 g Cu`, `0.0241 mol of copper sulfate`.
pub(super) fn without_substance(text: &str, lab: &Lab) -> Option<(Typed, String)> {
    let all: Vec<usize> = (0..lab.substances.len()).collect();
    let cuts = text
        .char_indices()
        .filter(|(_, c)| c.is_whitespace() || *c == '(')
        .map(|(at, _)| at);
    let cuts: Vec<usize> = cuts.collect();
    let vocabulary = vocabulary::of(&lab.words);
    let element = |name: &str| {
        let own = |element: Element| lab.words.say(element.name()).to_lowercase() == name;
        Element::from_name(name).is_some() || Element::all().any(own)
    };
    cuts.into_iter().rev().find_map(|cut| {
        let (front, tail) = text.split_at(cut);
        let tail = tail.trim();
        let mut of = vocabulary.of.iter();
        let tail = of
            .find_map(|of| tail.strip_prefix(of)?.strip_prefix(' '))
            .unwrap_or(tail);
        if tail.contains([':', '/']) {
            return None;
        }
        let names = reactant::named(tail, lab, &all).len() == 1
            || crate::chem::Formula::parse(tail).is_ok()
            || element(&tail.to_lowercase())
            || vocabulary.yields.contains(&tail.to_lowercase().as_str());
        let front = front.trim_end();
        let mut of = vocabulary.of.iter();
        let front = of
            .find_map(|of| front.strip_suffix(of)?.strip_suffix(' '))
            .unwrap_or(front);
        let value = typed_in(front, lab).ok()?;
        (names && matches!(value, Typed::Value(_))).then(|| (value, tail.to_owned()))
    })
}

/// The reactants named.
fn limiting(text: &str, lab: &Lab, step: &Step) -> Result<Given, TypedError> {
    let Expression::Smallest(candidates) = &step.expression else {
        return Ok(Given::Missing);
    };
    let choices: Vec<usize> = candidates
        .iter()
        .map(|candidate| candidate.substance)
        .collect();
    let product = match reactant::named_of(text, lab, step.equation, &choices) {
        Named::Reactants(named) if !named.is_empty() => return Ok(Given::Substances(named)),
        Named::Reactants(_) => None,
        Named::Product(product) => Some(product),
    };
    if matches!(typed_in(text, lab), Ok(Typed::Empty | Typed::Missing(_))) {
        return Ok(Given::Missing);
    }
    let names: Vec<&str> = choices
        .iter()
        .map(|index| lab.substances[*index].name.as_str())
        .collect();
    let one_of = || say!(lab.words, "write one of: {names}", names = names.join(", "));
    let (message, help) = match product {
        Some(product) => (
            say!(
                lab.words,
                "{product} is a product: it forms in this reaction, and cannot run out",
                product = product
            ),
            one_of(),
        ),
        None => (
            say!(lab.words, "this names none of the reactants"),
            crate::problem::suggest::closest(text.trim(), names.iter().copied())
                .map_or_else(one_of, |near| {
                    say!(lab.words, "did you mean {name}?", name = near)
                }),
        ),
    };
    Err(TypedError {
        fault: Fault::Other,
        message,
        span: 0..text.len(),
        help,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Source;

    fn lab() -> Lab {
        read_lab(crate::lab::builtin::find("zinc-copper-sulfate").unwrap())
    }

    fn in_german() -> Lab {
        let text = crate::lab::builtin::find("zinc-copper-sulfate").unwrap();
        read_lab(&text.replacen("\nid ", "\nlanguage = \"de\"\nid ", 1))
    }

    fn read_lab(text: &str) -> Lab {
        let source = Source {
            name: "lab".into(),
            text: text.into(),
        };
        crate::lab::check::check(&source).0.unwrap()
    }

    fn number(step: &str, text: &str) -> Number {
        let lab = lab();
        let (graph, _) = crate::working::plan::plan(&lab);
        let id = graph.find(step).unwrap();
        match read(text, &lab, graph.step(id)) {
            Ok(Given::Number(number)) => number,
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn numbers_are_read_as_students_type_them() {
        for (step, text, value, half) in [
            ("theoretical_copper", "1.53 g", 1.53, 0.005),
            ("theoretical_copper", "1,53g", 1.53, 0.005),
            ("theoretical_copper", "1530 mg", 1.53, 0.0005),
            ("theoretical_copper", "1.53 g Cu", 1.53, 0.005),
            ("theoretical_copper", "1.53 g of copper", 1.53, 0.005),
            ("theoretical_copper", "1.53 grams (Cu)", 1.53, 0.005),
            ("moles_salt", "2.41x10^-2", 0.0241, 0.00005),
            ("moles_salt", "2.41 × 10⁻² mol CuSO4·5H2O", 0.0241, 0.00005),
            (
                "moles_salt",
                "0.0241 mol of copper(II) sulfate",
                0.0241,
                0.00005,
            ),
            ("percent_yield", "97,9 %", 97.9, 0.05),
            ("percent_yield", "97.9 percent", 97.9, 0.05),
            ("percent_yield", "97.9", 97.9, 0.05),
            ("ratio_copper_zinc", "1.34:1", 1.34, 0.005),
            ("ratio_copper_zinc", "1.34 : 1", 1.34, 0.005),
            ("ratio_copper_zinc", "1.34 to 1", 1.34, 0.005),
            ("ratio_copper_zinc", "1.34", 1.34, 0.005),
            (
                "ratio_copper_zinc",
                "0.965 mol Cu : 1 mol Zn",
                0.965,
                0.0005,
            ),
            ("ratio_copper_zinc", "1 Zn to 2.50 Cu", 2.5, 0.005),
            ("theoretical_copper", "1.53 (g)", 1.53, 0.005),
            ("percent_yield", "97.9 % yield", 97.9, 0.05),
        ] {
            let read = number(step, text);
            assert!((read.value - value).abs() < 1e-12, "{text}: {read:?}");
            assert!((read.half - half).abs() < 1e-12, "{text}: {read:?}");
            assert!(!read.whole);
        }
        assert!(number("ratio_copper_zinc", "4:3").whole);
        assert_eq!(
            number("theoretical_copper", "1.53").unit,
            WrittenUnit::Missing
        );
        assert_eq!(
            number("theoretical_copper", "1.53 mol").unit,
            WrittenUnit::Other(Unit::Mole)
        );
        assert_eq!(number("ratio_copper_zinc", "0.965").unit, WrittenUnit::Fits);
    }

    #[test]
    fn german_answers_are_read() {
        let lab = in_german();
        let (graph, _) = crate::working::plan::plan(&lab);
        for (step, text, value) in [
            ("theoretical_copper", "1,53 g Kupfer", 1.53),
            ("theoretical_copper", "1,53 g von Kupfer", 1.53),
            ("theoretical_copper", "1,53 Gramm", 1.53),
            ("theoretical_copper", "1,532 g", 1.532),
            ("theoretical_copper", "1,532 g Kupfer", 1.532),
            ("ratio_copper_zinc", "1,340 zu 1,000", 1.34),
            ("moles_salt", "0,0241 Mol Kupfer(II)-sulfat", 0.0241),
            ("moles_salt", "2,41 · 10^-2 mol CuSO4", 0.0241),
            ("percent_yield", "97,9 Prozent", 97.9),
            ("percent_yield", "97,9 % Ausbeute", 97.9),
            ("ratio_copper_zinc", "1,34 zu 1", 1.34),
            ("ratio_copper_zinc", "0,965 mol Kupfer : 1 mol Zink", 0.965),
        ] {
            match read(text, &lab, graph.step(graph.find(step).unwrap())) {
                Ok(Given::Number(number)) => {
                    assert!((number.value - value).abs() < 1e-12, "{text}: {number:?}");
                    assert_eq!(number.unit, WrittenUnit::Fits, "{text}");
                }
                other => panic!("{text}: {other:?}"),
            }
        }
    }

    #[test]
    fn what_is_no_answer_is_said_in_german() {
        let lab = in_german();
        let (graph, _) = crate::working::plan::plan(&lab);
        for (step, text, message, help) in [
            (
                "theoretical_copper",
                "etwa anderthalb",
                "in „etwa anderthalb“ steht keine Zahl",
                "schreibt eine Zahl mit ihrer Einheit, in g",
            ),
            (
                "ratio_copper_zinc",
                "viel",
                "in „viel“ steht keine Zahl",
                "schreibt eine Zahl, zum Beispiel 1,34 oder 1,34:1",
            ),
            (
                "used_zinc",
                "4,36 g - 2,76 g",
                "hier steht mehr als eine Zahl",
                "schreibt nur das Ergebnis mit seiner Einheit, in g",
            ),
            (
                "ratio_copper_zinc",
                "1,3 - 1,2",
                "hier steht mehr als eine Zahl",
                "schreibt nur das Ergebnis, zum Beispiel 1,34 oder 1,34:1",
            ),
            (
                "theoretical_copper",
                "1,53 Äpfel",
                "„Äpfel“ ist keine Einheit",
                "schreibt eine Einheit wie g, mL, mol oder °C; setzt Bemerkungen in Klammern",
            ),
            (
                "ratio_copper_zinc",
                "1:zwei",
                "dieses Verhältnis ist nicht zu lesen",
                "schreibt es so: 1,34:1",
            ),
            (
                "ratio_copper_zinc",
                "1:0",
                "in einem Verhältnis kann hinter dem Doppelpunkt keine Null stehen",
                "schreibt es so: 1,34:1",
            ),
            (
                "ratio_copper_zinc",
                "1 Kupfer : 1 Kupfer",
                "das ist das Verhältnis anderer Stoffe",
                "schreibt es so: 1,34:1",
            ),
            (
                "limiting",
                "Sauerstoff",
                "hier ist keines der Edukte genannt",
                "schreibt eins davon: Zink, copper(II) sulfate",
            ),
            (
                "limiting",
                "Kupfer",
                "Kupfer ist ein Produkt: Es entsteht bei dieser Reaktion und wird nicht verbraucht",
                "schreibt eins davon: Zink, copper(II) sulfate",
            ),
            (
                "limiting",
                "Zimk",
                "hier ist keines der Edukte genannt",
                "meintet ihr Zink?",
            ),
        ] {
            let step = graph.step(graph.find(step).unwrap());
            let error = read(text, &lab, step).unwrap_err();
            assert_eq!(error.message, message, "{text}");
            assert_eq!(error.help, help, "{text}");
        }
    }

    #[test]
    fn what_is_no_answer_is_said() {
        let lab = lab();
        let (graph, _) = crate::working::plan::plan(&lab);
        let read = |step: &str, text: &str| read(text, &lab, graph.step(graph.find(step).unwrap()));
        assert_eq!(read("theoretical_copper", "?"), Ok(Given::Missing));
        assert_eq!(read("limiting", "?"), Ok(Given::Missing));
        for (step, text, message) in [
            ("theoretical_copper", "about one and a half", "number"),
            ("theoretical_copper", "1.53 apples", "not a unit"),
            ("theoretical_copper", "1e999", "power of ten"),
            ("theoretical_copper", &"1".repeat(40), "more digits"),
            ("limiting", "oxygen", "none of the reactants"),
            ("limiting", "zinc sulfate", "zinc sulfate is a product"),
            ("ratio_copper_zinc", "1:0", "zero"),
            ("ratio_copper_zinc", "1:two", "cannot be read"),
            ("used_zinc", "4.36 g - 2.76 g", "more than one number"),
        ] {
            let error = read(step, text).unwrap_err();
            assert!(error.message.contains(message), "{text}: {error:?}");
        }
    }
}
