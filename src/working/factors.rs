//! A product or quotient laid out as a marker wants it: plain quantities, then unit fractions, cancelling visibly.

use crate::lab::Lab;
use crate::measure::Decimal;
use crate::measure::Unit;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Worked;
use crate::working::expression::Constant;
use crate::working::expression::Expression;
use crate::working::layout::Body;
use crate::working::layout::Factor;
use crate::working::math::Math;
use crate::working::show;
use crate::working::shown::Shown;
use crate::working::symbols::Amount;
use crate::working::symbols::amount_of;
use crate::working::symbols::given_reading;
use crate::working::symbols::given_step;
use crate::working::symbols::math_of;
use crate::working::symbols::operand;
use crate::working::symbols::short;
use crate::working::symbols::symbol;
use crate::working::symbols::written;

/// What the layout is made from.
#[derive(Clone, Copy)]
pub(in crate::working) struct Scene<'a> {
    pub lab: &'a Lab,
    pub graph: &'a Graph,
    pub worked: &'a Worked<'a>,
    pub record: &'a Record,
    /// The step whose working is written.
    pub of: StepId,
    /// Further digits that the values put into it carry.
    pub further: i32,
}

impl Scene<'_> {
    /// A number for reading, with the decimal mark of the lab's language. What teachers wrote beside it is left as it is.
    pub(in crate::working) fn number(&self, number: Decimal) -> String {
        show::written(&self.lab.words, number)
    }

    /// A step's value as it is shown.
    pub(in crate::working) fn shown(&self, id: StepId) -> Option<&Shown> {
        self.worked.shown(self.lab, self.graph, id)
    }
}

/// An expression written twice: in symbols and in numbers, with what it uses.
#[derive(Debug, Clone)]
pub(in crate::working) struct Written {
    pub symbols: Math,
    pub numbers: Math,
    /// What is given, a phrase each.
    pub given: Vec<String>,
}

/// Writes any expression but a comparison.
pub(in crate::working) fn write(scene: &Scene<'_>, expression: &Expression) -> Written {
    let mut given = Vec::new();
    let (symbols, numbers) = match expression {
        Expression::Sum(_) | Expression::Difference(..) => both(scene, expression, &mut given),
        _ => {
            let mut layout = Layout::of(scene, expression, &mut given);
            layout.name_the_answer();
            layout.written()
        }
    };
    Written {
        symbols,
        numbers,
        given,
    }
}

pub(in crate::working) fn both(
    scene: &Scene<'_>,
    expression: &Expression,
    given: &mut Vec<String>,
) -> (Math, Math) {
    match expression {
        Expression::Sum(terms) => terms_of(
            scene,
            &terms.iter().map(|term| (term, "+")).collect::<Vec<_>>(),
            given,
        ),
        Expression::Difference(from, taken) => terms_of(scene, &[(from, "+"), (taken, "−")], given),
        _ => Layout::of(scene, expression, given).written(),
    }
}

/// Terms with their signs; a bracket only where a sum is taken away.
fn terms_of(
    scene: &Scene<'_>,
    terms: &[(&Expression, &'static str)],
    given: &mut Vec<String>,
) -> (Math, Math) {
    let (mut symbols, mut numbers) = (Vec::new(), Vec::new());
    for (place, (term, sign)) in terms.iter().enumerate() {
        if place > 0 {
            symbols.push(Math::Operator(sign));
            numbers.push(Math::Operator(sign));
        }
        let (mut symbol, mut number) = both(scene, term, given);
        let is_sum = matches!(term, Expression::Sum(_) | Expression::Difference(..));
        if is_sum && *sign == "−" {
            symbol = Math::Brackets(Box::new(symbol));
            number = Math::Brackets(Box::new(number));
        }
        symbols.push(symbol);
        numbers.push(number);
    }
    (Math::Row(symbols), Math::Row(numbers))
}

/// A product or quotient being laid out.
pub(in crate::working) struct Layout<'a, 'g> {
    pub(in crate::working) scene: &'a Scene<'a>,
    pub(in crate::working) factors: Vec<Factor>,
    /// Coefficients above the line, not yet paired: count and formula.
    pub(in crate::working) above: Vec<(u32, String)>,
    /// Coefficients below the line.
    pub(in crate::working) below: Vec<(u32, String)>,
    pub(in crate::working) given: &'g mut Vec<String>,
}

impl<'a, 'g> Layout<'a, 'g> {
    /// The factors of an expression.
    fn of(scene: &'a Scene<'a>, expression: &Expression, given: &'g mut Vec<String>) -> Self {
        let mut layout = Self {
            scene,
            factors: Vec::new(),
            above: Vec::new(),
            below: Vec::new(),
            given,
        };
        layout.flatten(expression, false);
        layout.pair_coefficients();
        layout.convert_volumes();
        layout
    }
}

impl Layout<'_, '_> {
    pub(in crate::working) fn push(&mut self, symbol: Math, body: Body, over: bool) {
        self.factors.push(Factor { symbol, body, over });
    }

    pub(in crate::working) fn give(&mut self, phrase: String) {
        if !self.given.contains(&phrase) {
            self.given.push(phrase);
        }
    }

    /// Takes an expression apart into factors; `over` when it stands below the line.
    fn flatten(&mut self, expression: &Expression, over: bool) {
        match expression {
            Expression::Product(factors) => {
                for factor in factors {
                    self.flatten(factor, over);
                }
            }
            Expression::Quotient(above, below) => {
                if let (Expression::Given(given), Expression::Constant(Constant::Hundred)) =
                    (&**above, &**below)
                {
                    return self.fraction_given(*given, over);
                }
                self.flatten(above, over);
                self.flatten(below, !over);
            }
            Expression::Reading(reading) => self.reading(*reading, over),
            Expression::Given(given) => self.given_value(*given, over),
            Expression::Constant(constant) => self.constant(constant, over),
            Expression::Step(step) => self.step(*step, over),
            Expression::Absolute(celsius) => self.absolute(celsius, over),
            Expression::VapourPressure(celsius) => self.vapour_pressure(celsius, over),
            Expression::Sum(_) | Expression::Difference(..) | Expression::Smallest(_) => {
                let (symbols, numbers) = both(self.scene, expression, self.given);
                self.push(
                    Math::Words(String::new()),
                    Body::Group(symbols, numbers),
                    over,
                );
            }
        }
    }

    fn reading(&mut self, index: usize, over: bool) {
        let Some((_, asked)) = self.scene.lab.readings().nth(index) else {
            return;
        };
        let Some(reading) = self.scene.record.readings[index].usable() else {
            return;
        };
        let amount = amount_of(&self.scene.lab.words, reading);
        self.give(given_reading(&self.scene.lab.words, reading, &asked.label));
        self.quantity(
            Math::Words(short(&asked.label).to_owned()),
            amount,
            reading.unit,
            over,
        );
    }

    fn given_value(&mut self, index: usize, over: bool) {
        let Some(given) = self.scene.graph.givens.get(index) else {
            return;
        };
        let amount = amount_of(&self.scene.lab.words, &given.value);
        let name = given.name.replace('_', " ");
        self.give(given_reading(&self.scene.lab.words, &given.value, &name));
        self.quantity(Math::Words(name), amount, given.value.unit, over);
    }

    /// A percentage of something: 98.5 % of 100 %.
    fn fraction_given(&mut self, index: usize, over: bool) {
        let Some(given) = self.scene.graph.givens.get(index) else {
            return;
        };
        let amount = amount_of(&self.scene.lab.words, &given.value);
        let name = given.name.replace('_', " ");
        self.give(format!("{}, {name}", written(&amount)));
        let hundred = Amount {
            number: "100".to_owned(),
            unit: "%",
            substance: String::new(),
        };
        self.push(Math::Words(name), Body::Rate(amount, hundred), over);
    }

    /// A reading or given; one with a compound unit becomes a fraction.
    fn quantity(&mut self, symbol: Math, amount: Amount, unit: Option<Unit>, over: bool) {
        let per = |below| Amount {
            number: "1".to_owned(),
            unit: below,
            substance: String::new(),
        };
        let above = |unit| Amount {
            number: amount.number.clone(),
            unit,
            substance: String::new(),
        };
        let body = match unit {
            Some(Unit::MolePerLitre) => Body::Rate(above("mol"), per("L")),
            Some(Unit::GramPerMillilitre) => Body::Rate(above("g"), per("mL")),
            Some(Unit::GramPerMole) => Body::Rate(above("g"), per("mol")),
            _ => Body::Plain(amount),
        };
        self.push(symbol, body, over);
    }

    fn constant(&mut self, constant: &Constant, over: bool) {
        match constant {
            Constant::Number(number) => {
                let number = self.scene.lab.words.number(&number.to_string());
                let amount = Amount {
                    number: number.clone(),
                    unit: "",
                    substance: String::new(),
                };
                self.push(Math::Number(number), Body::Plain(amount), over);
            }
            Constant::Hundred => {
                let amount = Amount {
                    number: "100".to_owned(),
                    unit: "%",
                    substance: String::new(),
                };
                self.push(math_of(amount.clone(), false), Body::Plain(amount), over);
            }
            Constant::Gas => self.gas_constant(over),
            Constant::Coefficient { count, of } => {
                if over {
                    self.below.push((*count, of.clone()));
                } else {
                    self.above.push((*count, of.clone()));
                }
            }
            Constant::MolarMass(formula) => {
                let name = formula.pretty();
                let number = show::molar_mass(self.scene.lab, formula)
                    .map_or_else(String::new, |mass| self.scene.number(mass));
                self.molar_mass(number, name.clone(), name, over);
            }
        }
    }

    /// A molar mass: `number` g of the form weighed hold 1 mol of the formula in the equation.
    fn molar_mass(&mut self, number: String, weighed: String, formula: String, over: bool) {
        self.give(["M(", &weighed, ") = ", &number, show::NO_BREAK, "g/mol"].concat());
        let symbol = Math::Symbol {
            letter: "M",
            of: Some(weighed.clone()),
            index: None,
        };
        let grams = Amount {
            number,
            unit: "g",
            substance: weighed,
        };
        let mole = Amount {
            number: "1".to_owned(),
            unit: "mol",
            substance: formula,
        };
        self.push(symbol, Body::Rate(grams, mole), over);
    }

    fn step(&mut self, id: StepId, over: bool) {
        let scene = self.scene;
        let step = scene.graph.step(id);
        let (Some(value), Some(shown)) = (scene.worked.value(id), scene.shown(id)) else {
            return;
        };
        match step.kind {
            Kind::MolarMass(index) => {
                let substance = &scene.lab.substances[index];
                let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
                let number = shown.number.clone();
                self.molar_mass(number, form.pretty(), substance.formula.pretty(), over);
            }
            Kind::Limiting => {
                // The extent of reaction is the limiting reactant's moles over its coefficient.
                let Expression::Smallest(candidates) = &step.expression else {
                    return;
                };
                let Some(winner) = candidates
                    .iter()
                    .find(|candidate| value.smallest.first() == Some(&candidate.substance))
                else {
                    return;
                };
                let mark = self.given.len();
                self.flatten(&winner.share, over);
                if let Some(phrase) = self.given.get_mut(mark) {
                    phrase.push_str(scene.lab.words.say(" (limiting)"));
                }
            }
            _ => {
                let amount = operand(scene, id);
                self.give(given_step(scene, id, &amount));
                self.push(symbol(scene, id), Body::Plain(amount), over);
            }
        }
    }
}
