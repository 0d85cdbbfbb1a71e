//! Slips in molar masses: water, subscripts, brackets, coefficients, the wrong number from the table.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::bench::decimal;
use crate::answers::slips::bench::molar_mass;
use crate::answers::slips::bench::number;
use crate::answers::slips::bench::variants;
use crate::answers::slips::slip;
use crate::chem::Element;
use crate::chem::Formula;
use crate::working::Constant;
use crate::working::Expression;
use crate::working::StepId;

/// What every slip here is a mistake in.
const OF: Family = Family::MolarMass;

pub(super) const SLIPS: &[Slip] = &[
    slip(
        OF,
        "water-left-out",
        "Read the label on the bottle: does the solid you weighed hold anything besides the salt?",
        |bench, at| hydrates(bench, at, |dry, _| vec![molar_mass(dry)]),
    ),
    slip(
        OF,
        "water-put-in",
        "Does the label name water of crystallisation, and does your formula?",
        |bench, at| {
            let known = every_formula(bench, at);
            masses(bench, at, |formula| {
                if formula.waters().1 > 0 {
                    return Vec::new();
                }
                let wet = known.iter().filter(|other| {
                    other.waters().1 > 0 && other.waters().0.same_substance(formula)
                });
                wet.map(molar_mass).collect()
            })
        },
    ),
    slip(
        OF,
        "water-counted-once",
        "How many waters does the number behind the dot announce?",
        |bench, at| {
            hydrates(bench, at, |dry, waters| {
                if waters > 1 {
                    vec![sum(dry, water(2, 1))]
                } else {
                    Vec::new()
                }
            })
        },
    ),
    slip(
        OF,
        "water-half-counted",
        "Does the number in front of the water count the whole molecule?",
        |bench, at| {
            hydrates(bench, at, |dry, waters| {
                if waters > 1 {
                    vec![sum(dry, water(2 * waters, 1)), sum(dry, water(2, waters))]
                } else {
                    Vec::new()
                }
            })
        },
    ),
    slip(
        OF,
        "dot-multiplied",
        "The dot in the formula joins two parts; what does joining do to their masses?",
        |bench, at| {
            hydrates(bench, at, |dry, waters| {
                vec![
                    molar_mass(dry).times(number(waters)).times(water(2, 1)),
                    molar_mass(dry).times(water(2, 1)),
                ]
            })
        },
    ),
    slip(
        OF,
        "subscript-ignored",
        "Count the atoms of each element again, with every small number.",
        |bench, at| {
            masses(bench, at, |formula| {
                let subscripts = without_subscripts(formula.plain());
                subscripts
                    .iter()
                    .filter_map(|text| Formula::parse(text).ok())
                    .map(|other| molar_mass(&other))
                    .collect()
            })
        },
    ),
    slip(
        OF,
        "bracket-ignored",
        "Which atoms does the number behind the bracket count?",
        |bench, at| {
            masses(bench, at, |formula| {
                let others = without_brackets(formula.plain());
                others
                    .iter()
                    .filter_map(|text| Formula::parse(text).ok())
                    .map(|other| molar_mass(&other))
                    .collect()
            })
        },
    ),
    slip(
        OF,
        "coefficient-in-molar-mass",
        "A molar mass belongs to one mole: where does the number in front of the formula come in?",
        |bench, at| {
            let equation = bench.equation(at);
            masses(bench, at, |formula| {
                let plain = formula.waters().0;
                let species = equation.reactants.iter().chain(&equation.products);
                species
                    .filter(|species| {
                        species.coefficient > 1
                            && (species.formula.same_substance(formula)
                                || species.formula.same_substance(&plain))
                    })
                    .map(|species| molar_mass(formula).times(number(species.coefficient)))
                    .collect()
            })
        },
    ),
    slip(
        OF,
        "atomic-number",
        "Of the two numbers in an element's box, which one is in grams per mole?",
        |bench, at| {
            masses(bench, at, |formula| {
                let by_number = |only: Option<Element>| {
                    terms(formula, |element| match only {
                        Some(only) if only != element => None,
                        _ => Some(number(element.atomic_number().into())),
                    })
                };
                let each = formula
                    .atoms()
                    .iter()
                    .map(|(element, _)| by_number(Some(*element)));
                each.chain([by_number(None)]).collect()
            })
        },
    ),
    slip(
        OF,
        "pairs-of-atoms",
        "Which elements go about in pairs, and is this one of them here?",
        |bench, at| {
            masses(bench, at, |formula| match formula.atoms() {
                [(_, 1)] => vec![molar_mass(formula).times(number(2))],
                [(_, 2)] => vec![molar_mass(formula).over(number(2))],
                _ => Vec::new(),
            })
        },
    ),
    slip(
        OF,
        "molar-mass-of-another",
        "Whose molar mass is this?",
        |bench, at| {
            let known = bench.formulas(at);
            masses(bench, at, |formula| {
                let others = known.iter().filter(|other| {
                    !other.same_substance(formula)
                        && !other.waters().0.same_substance(&formula.waters().0)
                });
                others.map(molar_mass).collect()
            })
        },
    ),
    slip(
        OF,
        "look-alike-symbol",
        "Read each symbol and its number in the table together, letter by letter.",
        |bench, at| {
            masses(bench, at, |formula| {
                let other = |symbol: &str| {
                    LOOK_ALIKES.iter().find_map(|(a, b)| {
                        if *a == symbol {
                            Some(*b)
                        } else if *b == symbol {
                            Some(*a)
                        } else {
                            None
                        }
                    })
                };
                let elements = formula.atoms().iter();
                elements
                    .filter_map(|(element, _)| {
                        let twin = Formula::parse(other(element.symbol())?).ok()?;
                        Some(terms(formula, |own| {
                            (own == *element).then(|| molar_mass(&twin))
                        }))
                    })
                    .collect()
            })
        },
    ),
    slip(
        OF,
        "rounded-atomic-weights",
        "How many figures of the periodic table does your result need?",
        |bench, at| {
            masses(bench, at, |formula| {
                vec![terms(formula, |element| {
                    let weight = bench.lab.atomic_weights.get(element)?;
                    #[expect(
                        clippy::cast_possible_truncation,
                        reason = "an atomic weight is below three hundred"
                    )]
                    let whole = weight.value.to_f64().round() as i128;
                    Some(decimal(whole, 0))
                })]
            })
        },
    ),
];

/// Symbols that are taken for each other; common practice, no source.
const LOOK_ALIKES: &[(&str, &str)] = &[
    ("Cu", "Co"),
    ("Mg", "Mn"),
    ("Na", "N"),
    ("K", "P"),
    ("S", "Si"),
    ("Ag", "Au"),
    ("Fe", "F"),
    ("C", "Ca"),
];

/// Every molar mass in a step, put other ways.
fn masses(
    bench: &Layout<'_>,
    at: StepId,
    ways: impl Fn(&Formula) -> Vec<Expression>,
) -> Vec<Expression> {
    variants(&bench.of(at).expression, &|part| match part {
        Expression::Constant(Constant::MolarMass(formula)) => ways(formula),
        _ => Vec::new(),
    })
}

/// Every molar mass of a hydrate in a step, put other ways by its anhydrous formula and its number of waters.
fn hydrates(
    bench: &Layout<'_>,
    at: StepId,
    ways: impl Fn(&Formula, u32) -> Vec<Expression>,
) -> Vec<Expression> {
    masses(bench, at, |formula| match formula.waters() {
        (_, 0) => Vec::new(),
        (dry, waters) => ways(&dry, waters),
    })
}

/// The formulas of the equation, of what is weighed, and of every molar mass in the working.
fn every_formula(bench: &Layout<'_>, at: StepId) -> Vec<Formula> {
    let mut found = bench.formulas(at);
    for step in bench.graph.steps() {
        step.expression.visit(&mut |part| {
            if let Expression::Constant(Constant::MolarMass(formula)) = part
                && !found.iter().any(|own| own.same_substance(formula))
            {
                found.push(formula.clone());
            }
        });
    }
    found
}

fn sum(formula: &Formula, rest: Expression) -> Expression {
    Expression::Sum(vec![molar_mass(formula), rest])
}

/// So many hydrogen and oxygen atoms.
fn water(hydrogen: u32, oxygen: u32) -> Expression {
    let atoms = |symbol: &str, count: u32| match Formula::parse(symbol) {
        Ok(formula) => molar_mass(&formula).times(number(count)),
        Err(_) => number(0),
    };
    Expression::Sum(vec![atoms("H", hydrogen), atoms("O", oxygen)])
}

/// A molar mass summed atom by atom, with another number for some elements.
fn terms(formula: &Formula, other: impl Fn(Element) -> Option<Expression>) -> Expression {
    let atoms = formula.atoms().iter();
    let term = |(element, count): &(Element, u32)| {
        let own = || {
            Formula::parse(element.symbol())
                .map_or_else(|_| number(0), |formula| molar_mass(&formula))
        };
        other(*element).unwrap_or_else(own).times(number(*count))
    };
    Expression::Sum(atoms.map(term).collect())
}

/// The formula with one subscript left out, each in turn, and with all of them; the water stays.
fn without_subscripts(text: &str) -> Vec<String> {
    let (body, water) = text
        .split_once('·')
        .map_or((text, None), |(body, water)| (body, Some(water)));
    let bytes = body.as_bytes();
    let mut runs: Vec<(usize, usize)> = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let from = at;
        while at < bytes.len() && bytes[at].is_ascii_digit() {
            at += 1;
        }
        if at > from && from > 0 && bytes[from - 1].is_ascii_alphabetic() {
            runs.push((from, at));
        }
        at = at.max(from + 1);
    }
    let without = |left_out: &[(usize, usize)]| {
        let mut shown = String::new();
        for (at, c) in body.char_indices() {
            if !left_out.iter().any(|(from, to)| (*from..*to).contains(&at)) {
                shown.push(c);
            }
        }
        if let Some(water) = water {
            shown.push('·');
            shown.push_str(water);
        }
        shown
    };
    let mut others: Vec<String> = runs.iter().map(|run| without(&[*run])).collect();
    if runs.len() > 1 {
        others.push(without(&runs));
    }
    others
}

/// The formula with a bracket's number left out, or counted for its last or first atom only.
fn without_brackets(text: &str) -> Vec<String> {
    let (Some(open), Some(close)) = (text.find('('), text.find(')')) else {
        return Vec::new();
    };
    if close < open {
        return Vec::new();
    }
    let inner = &text[open + 1..close];
    let digits = text[close + 1..]
        .bytes()
        .take_while(u8::is_ascii_digit)
        .count();
    let (count, rest) = text[close + 1..].split_at(digits);
    let front = &text[..open];
    let mut others = vec![format!("{front}({inner}){rest}")];
    if !inner.ends_with(|c: char| c.is_ascii_digit()) {
        others.push(format!("{front}{inner}{count}{rest}"));
    }
    let first = inner
        .char_indices()
        .skip(1)
        .find(|(_, c)| !c.is_lowercase())
        .map_or(inner.len(), |(at, _)| at);
    if first < inner.len() && !inner[first..].starts_with(|c: char| c.is_ascii_digit()) {
        others.push(format!(
            "{front}{}{count}{}{rest}",
            &inner[..first],
            &inner[first..]
        ));
    }
    others
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn subscripts_and_brackets_are_left_out() {
        assert_eq!(without_subscripts("CuCl2·2H2O"), ["CuCl·2H2O"]);
        assert_eq!(without_subscripts("Na3PO4"), ["NaPO4", "Na3PO", "NaPO"]);
        assert!(without_subscripts("NaCl").is_empty());
        assert_eq!(without_brackets("Ca(OH)2"), ["Ca(OH)", "CaOH2", "CaO2H"]);
        assert_eq!(without_brackets("Cu(NO3)2"), ["Cu(NO3)", "CuN2O3"]);
        assert!(without_brackets("CuSO4").is_empty());
    }
}
