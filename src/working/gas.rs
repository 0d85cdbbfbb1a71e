//! Factors of the gas law as a marker wants them: absolute temperature, vapour pressure, gas constant.

use crate::chem::water;
use crate::measure::Decimal;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::say;
use crate::working::expression::Expression;
use crate::working::expression::GAS_CONSTANT;
use crate::working::expression::ZERO_CELSIUS;
use crate::working::factors::Layout;
use crate::working::factors::Scene;
use crate::working::factors::both;
use crate::working::layout::Body;
use crate::working::math::Math;
use crate::working::show;
use crate::working::symbols::Amount;
use crate::working::symbols::short;

/// Decimals of the gas constant where it is put in; it is worked with all its figures.
const SHOWN: i32 = 5;

impl Layout<'_, '_> {
    /// A temperature on the absolute scale: as one number where it was read off, else as a sum.
    pub(in crate::working) fn absolute(&mut self, celsius: &Expression, over: bool) {
        let Some((read, label)) = read_off(self.scene, celsius) else {
            let (symbols, numbers) = both(self.scene, celsius, self.given);
            let added = |row: Math| {
                let zero = Math::Number(self.scene.number(ZERO_CELSIUS));
                Math::Row(vec![row, Math::Operator("+"), zero])
            };
            let group = Body::Group(added(symbols), added(numbers));
            self.push(Math::Words(String::new()), group, over);
            return;
        };
        let kelvin = read.to_exact() + ZERO_CELSIUS.to_exact();
        let places = read.places().max(ZERO_CELSIUS.places());
        let scene = self.scene;
        let number = scene.number(rounding::to_places(&kelvin, places, Rounding::HalfUp));
        let (space, read) = (show::NO_BREAK, scene.number(read));
        self.give(format!("{read}{space}°C = {number}{space}K, {label}"));
        let symbol = letter("T", None);
        self.push(symbol, Body::Plain(amount(number, "K")), over);
    }

    /// The vapour pressure of water at a temperature that was read off.
    pub(in crate::working) fn vapour_pressure(&mut self, celsius: &Expression, over: bool) {
        let Some((read, _)) = read_off(self.scene, celsius) else {
            return;
        };
        let Some((pressure, _)) = water::vapour_pressure(&read.to_exact()) else {
            return;
        };
        let scene = self.scene;
        let number = scene.number(rounding::to_places(&pressure, 2, Rounding::HalfUp));
        self.give(say!(
            scene.lab.words,
            "{pressure}, vapour pressure of water at {temperature}",
            pressure = show::with_unit(&number, Unit::Kilopascal),
            temperature = show::with_unit(&scene.number(read), Unit::DegreeCelsius)
        ));
        let symbol = letter("p", Some("H₂O"));
        self.push(symbol, Body::Plain(amount(number, "kPa")), over);
    }

    /// The molar gas constant.
    pub(in crate::working) fn gas_constant(&mut self, over: bool) {
        let shown = rounding::to_places(&GAS_CONSTANT.to_exact(), SHOWN, Rounding::HalfUp);
        let number = self.scene.number(shown);
        let unit = "kPa·L/(mol·K)";
        self.give(format!("R = {number}{}{unit}", show::NO_BREAK));
        let body = Body::Plain(amount(number, unit));
        self.push(letter("R", None), body, over);
    }
}

/// A temperature in °C as typed, with its label.
fn read_off(scene: &Scene<'_>, celsius: &Expression) -> Option<(Decimal, String)> {
    match celsius {
        Expression::Reading(index) => {
            let (_, asked) = scene.lab.readings().nth(*index)?;
            let reading = scene.record.readings[*index].usable()?;
            Some((reading.number, short(&asked.label).to_owned()))
        }
        Expression::Given(index) => {
            let given = scene.graph.givens.get(*index)?;
            Some((given.value.number, given.name.replace('_', " ")))
        }
        _ => None,
    }
}

fn letter(letter: &'static str, of: Option<&str>) -> Math {
    Math::Symbol {
        letter,
        of: of.map(str::to_owned),
        index: None,
    }
}

fn amount(number: String, unit: &'static str) -> Amount {
    Amount {
        number,
        unit,
        substance: String::new(),
    }
}

/// Whether an amount's unit is per litre inside a compound one, as that of the gas constant is.
pub(in crate::working) fn wants_litres(amount: &Amount) -> bool {
    amount.unit.contains("·L/") && !amount.unit.starts_with(Unit::Litre.symbol())
}
