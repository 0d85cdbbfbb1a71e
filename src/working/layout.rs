//! Factors of a product put into one line: what stands above and below it, and what cancels.

use crate::working::factors::Layout;
use crate::working::gas;
use crate::working::math::Math;
use crate::working::symbols::Amount;
use crate::working::symbols::math_of;

/// What stands in one place of a product.
#[derive(Debug, Clone)]
pub(in crate::working) enum Body {
    /// One quantity.
    Plain(Amount),
    /// A fraction that turns one quantity into another: 63.546 g Cu for 1 mol Cu.
    Rate(Amount, Amount),
    /// A sum in brackets: its symbols and its numbers.
    Group(Math, Math),
}

/// One factor, above or below the line.
#[derive(Debug, Clone)]
pub(in crate::working) struct Factor {
    pub(in crate::working) symbol: Math,
    pub(in crate::working) body: Body,
    pub(in crate::working) over: bool,
}

/// Units cancel when they are of one substance; a volume or mass whose substance is not named goes with any.
pub(in crate::working) fn substances_meet(a: &Amount, b: &Amount) -> bool {
    a.substance == b.substance || a.substance.is_empty() || b.substance.is_empty()
}

/// Whether a factor is the 100 % that makes a percentage.
pub(in crate::working) fn is_hundred(factor: &Factor) -> bool {
    !factor.over
        && matches!(&factor.body, Body::Plain(amount) if amount.unit == "%" && amount.number == "100")
}

/// Factors in a row with multiplication signs.
pub(in crate::working) fn product(mut factors: Vec<Math>) -> Math {
    match factors.len() {
        0 => Math::Number("1".to_owned()),
        1 => factors.remove(0),
        _ => {
            let mut row = Vec::with_capacity(2 * factors.len() - 1);
            for (place, factor) in factors.into_iter().enumerate() {
                if place > 0 {
                    row.push(Math::Operator("×"));
                }
                row.push(factor);
            }
            Math::Row(row)
        }
    }
}

/// A fraction, or just what stands above when nothing stands below. A lone bracket needs no bracket there.
pub(in crate::working) fn fraction(above: Vec<Math>, below: Vec<Math>) -> Math {
    let bare = |mut factors: Vec<Math>| match (factors.pop(), factors.is_empty()) {
        (Some(Math::Brackets(inner)), true) => *inner,
        (Some(only), _) => {
            factors.push(only);
            product(factors)
        }
        (None, _) => product(factors),
    };
    if below.is_empty() {
        product(above)
    } else {
        Math::Fraction(Box::new(bare(above)), Box::new(bare(below)))
    }
}

/// A first part and what is multiplied to it; a lone 1 is left out.
pub(in crate::working) fn joined(first: Math, behind: Vec<Math>) -> Math {
    if behind.is_empty() {
        return first;
    }
    let mut factors = if matches!(&first, Math::Number(number) if number == "1") {
        Vec::new()
    } else {
        vec![first]
    };
    factors.extend(behind);
    product(factors)
}

/// The unit of everything in a sum, where that is one: a difference of two volumes in mL.
fn only_unit(sum: &Math) -> Option<&str> {
    fn units<'m>(part: &'m Math, found: &mut Vec<&'m str>) {
        match part {
            Math::Unit { unit, .. } => found.push(unit),
            Math::Row(parts) => parts.iter().for_each(|part| units(part, found)),
            Math::Brackets(inner) | Math::Answer(inner) => units(inner, found),
            Math::Fraction(above, below) => {
                units(above, found);
                units(below, found);
            }
            Math::Symbol { .. } | Math::Number(_) | Math::Operator(_) | Math::Words(_) => {}
        }
    }
    let mut found = Vec::new();
    units(sum, &mut found);
    let first = *found.first()?;
    found.iter().all(|unit| *unit == first).then_some(first)
}

impl Layout<'_, '_> {
    /// Puts 1 L for 1000 mL beside a volume in mL that meets a concentration per litre.
    pub(in crate::working) fn convert_volumes(&mut self) {
        let mentions = |unit: &str| {
            self.factors.iter().any(|factor| match &factor.body {
                Body::Rate(_, below) => below.unit == unit,
                Body::Plain(amount) => unit == "L" && gas::wants_litres(amount),
                Body::Group(..) => false,
            })
        };
        let (wanted, other) = if mentions("L") {
            ("L", "mL")
        } else if mentions("mL") {
            ("mL", "L")
        } else {
            return;
        };
        let place = self.factors.iter().position(|factor| match &factor.body {
            Body::Plain(amount) => amount.unit == other,
            Body::Group(_, numbers) => only_unit(numbers) == Some(other),
            Body::Rate(..) => false,
        });
        let Some(place) = place else { return };
        let over = self.factors[place].over;
        let thousand = |unit: &'static str| {
            let number = if unit == "mL" { "1000" } else { "1" };
            Amount {
                number: number.to_owned(),
                unit,
                substance: String::new(),
            }
        };
        let factor = Factor {
            symbol: Math::Row(Vec::new()),
            body: Body::Rate(thousand(wanted), thousand(other)),
            over,
        };
        self.factors.insert(place + 1, factor);
    }

    /// The relation in symbols, and the numbers put in.
    pub(in crate::working) fn written(mut self) -> (Math, Math) {
        // One quantity by itself needs no layout.
        if let [
            Factor {
                body: Body::Plain(_),
                over: false,
                ..
            },
        ] = self.factors[..]
            && let Some(Factor {
                symbol,
                body: Body::Plain(amount),
                ..
            }) = self.factors.pop()
        {
            return (symbol, math_of(amount, false));
        }
        (self.symbols(), self.numbers())
    }

    /// The relation: symbols above and below the line, ratios and the percent sign behind. The symbols are taken out.
    fn symbols(&mut self) -> Math {
        let nothing = || Math::Row(Vec::new());
        let (mut above, mut below, mut behind) = (Vec::new(), Vec::new(), Vec::new());
        for factor in &mut self.factors {
            let symbol = match &mut factor.body {
                Body::Group(symbols, _) => {
                    Math::Brackets(Box::new(std::mem::replace(symbols, nothing())))
                }
                _ => std::mem::replace(&mut factor.symbol, nothing()),
            };
            let is_ratio =
                matches!(symbol, Math::Brackets(_)) && matches!(factor.body, Body::Rate(..));
            if symbol == nothing() {
                continue;
            }
            if is_hundred(factor) {
                behind.push(symbol);
            } else if factor.over {
                below.push(symbol);
            } else if is_ratio || (matches!(factor.body, Body::Rate(..)) && !above.is_empty()) {
                behind.push(symbol);
            } else {
                above.push(symbol);
            }
        }
        joined(fraction(above, below), behind)
    }

    /// The numbers put in: plain quantities above and below the line, then the unit fractions.
    fn numbers(self) -> Math {
        let struck = self.cancelled();
        let (mut above, mut below, mut behind, mut last) =
            (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        for (factor, (top, bottom)) in self.factors.into_iter().zip(struck) {
            let hundred = is_hundred(&factor);
            match factor.body {
                Body::Group(_, numbers) => {
                    let group = Math::Brackets(Box::new(numbers));
                    if factor.over {
                        below.push(group);
                    } else {
                        above.push(group);
                    }
                }
                Body::Plain(amount) if hundred => last.push(math_of(amount, top)),
                Body::Plain(amount) if factor.over => below.push(math_of(amount, top)),
                Body::Plain(amount) => above.push(math_of(amount, top)),
                Body::Rate(up, down) => {
                    let (up, down, top, bottom) = if factor.over {
                        (down, up, bottom, top)
                    } else {
                        (up, down, top, bottom)
                    };
                    let fraction =
                        Math::Fraction(Box::new(math_of(up, top)), Box::new(math_of(down, bottom)));
                    behind.push(Math::Brackets(Box::new(fraction)));
                }
            }
        }
        behind.extend(last);
        joined(fraction(above, below), behind)
    }

    /// For each factor, whether its own unit and that of its lower half cancel against another's.
    pub(in crate::working) fn cancelled(&self) -> Vec<(bool, bool)> {
        let mut struck = vec![(false, false); self.factors.len()];
        let mut places = Vec::with_capacity(2 * self.factors.len());
        for (index, factor) in self.factors.iter().enumerate() {
            match &factor.body {
                Body::Plain(amount) => places.push((index, false, factor.over, amount)),
                Body::Rate(up, down) => {
                    places.push((index, false, factor.over, up));
                    places.push((index, true, !factor.over, down));
                }
                Body::Group(..) => {}
            }
        }
        let same = |a: &Amount, b: &Amount| {
            a.unit == b.unit && !a.unit.is_empty() && substances_meet(a, b)
        };
        let mut used = vec![false; places.len()];
        for a in 0..places.len() {
            let partner = (a + 1..places.len()).find(|b| {
                !used[a]
                    && !used[*b]
                    && places[a].2 != places[*b].2
                    && same(places[a].3, places[*b].3)
            });
            if let Some(b) = partner {
                for place in [a, b] {
                    used[place] = true;
                    let (index, lower, ..) = places[place];
                    if lower {
                        struck[index].1 = true;
                    } else {
                        struck[index].0 = true;
                    }
                }
            }
        }
        struck
    }
}
