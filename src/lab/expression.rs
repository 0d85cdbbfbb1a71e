//! The small language of `before`, `after`, `used` and `find`: names, numbers, `+ - * / ( )`, `M(formula)` and moles of gas.

use crate::chem::Formula;
use crate::measure::Decimal;
use crate::problem::Span;

/// An expression as written, parsed. Spans are bytes of the whole lab description.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Term {
    /// A reading, a given or a step; which one, the plan decides.
    Name(String, Span),
    /// A plain number, exact.
    Number(Decimal, Span),
    /// A percentage, exact.
    Percentage(Decimal, Span),
    /// The molar mass of a formula.
    MolarMass(Formula, Span),
    /// `-x`
    Negative(Box<Term>, Span),
    /// `gas(volume, temperature, pressure)`: moles of a gas.
    Gas {
        /// Volume, temperature in °C, pressure.
        of: Box<[Term; 3]>,
        /// `gas_over_water(…)`: the pressure is shared with water vapour.
        over_water: bool,
        /// All of it.
        span: Span,
    },
    /// Two terms and the sign between them.
    Binary {
        /// The sign.
        sign: Sign,
        /// Left of it.
        left: Box<Term>,
        /// Right of it.
        right: Box<Term>,
        /// Both with the sign.
        span: Span,
    },
}

/// The sign between two terms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `*`
    Times,
    /// `/`
    Over,
}

impl Term {
    /// The bytes it was written in.
    #[must_use]
    pub fn span(&self) -> Span {
        match self {
            Self::Name(_, span)
            | Self::Number(_, span)
            | Self::Percentage(_, span)
            | Self::MolarMass(_, span)
            | Self::Negative(_, span)
            | Self::Gas { span, .. }
            | Self::Binary { span, .. } => span.clone(),
        }
    }

    /// The gases in it: volume, temperature and pressure, and whether it was collected over water.
    #[must_use]
    pub fn gases(&self) -> Vec<(&[Term; 3], bool)> {
        match self {
            Self::Gas { of, over_water, .. } => vec![(&**of, *over_water)],
            Self::Negative(inner, _) => inner.gases(),
            Self::Binary { left, right, .. } => {
                let mut gases = left.gases();
                gases.extend(right.gases());
                gases
            }
            Self::Name(..) | Self::Number(..) | Self::Percentage(..) | Self::MolarMass(..) => {
                Vec::new()
            }
        }
    }

    /// Every name in it, in order of appearance.
    #[must_use]
    pub fn names(&self) -> Vec<(&str, Span)> {
        match self {
            Self::Name(name, span) => vec![(name, span.clone())],
            Self::Number(..) | Self::Percentage(..) | Self::MolarMass(..) => Vec::new(),
            Self::Negative(inner, _) => inner.names(),
            Self::Gas { of, .. } => of.iter().flat_map(Self::names).collect(),
            Self::Binary { left, right, .. } => {
                let mut names = left.names();
                names.extend(right.names());
                names
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lab::parser::parse;

    fn shape(term: &Term) -> String {
        match term {
            Term::Name(name, _) => name.clone(),
            Term::Number(number, _) => number.to_string(),
            Term::Percentage(number, _) => format!("{number}%"),
            Term::MolarMass(formula, _) => format!("M({})", formula.plain()),
            Term::Negative(inner, _) => format!("-{}", shape(inner)),
            Term::Gas { of, over_water, .. } => {
                let [volume, temperature, pressure] = &**of;
                let wet = if *over_water { " wet" } else { "" };
                format!(
                    "gas{wet}[{}, {}, {}]",
                    shape(volume),
                    shape(temperature),
                    shape(pressure)
                )
            }
            Term::Binary {
                sign, left, right, ..
            } => format!("({} {sign:?} {})", shape(left), shape(right)),
        }
    }

    #[test]
    fn products_bind_before_sums_and_left_before_right() {
        for (text, expected) in [
            ("a - b - c", "((a Minus b) Minus c)"),
            ("a + b * c", "(a Plus (b Times c))"),
            ("100 * (a - b) / c", "((100 Times (a Minus b)) Over c)"),
            ("-a × M(Ca3(PO4)2)", "(-a Times M(Ca3(PO4)2))"),
            ("M(CuSO4.5H2O)/2", "(M(CuSO4·5H2O) Over 2)"),
            ("95 % - a", "(95% Minus a)"),
            ("gas(v, t, p - q) * 2", "(gas[v, t, (p Minus q)] Times 2)"),
            ("gas_over_water( a - b ,t,p)", "gas wet[(a Minus b), t, p]"),
        ] {
            assert_eq!(shape(&parse(text, 0).unwrap()), expected, "{text}");
        }
    }

    #[test]
    fn faults_point_at_their_place() {
        for (text, start) in [
            ("a b", 2),
            ("a -", 3),
            ("(a - b", 0),
            ("a)", 1),
            ("sin(a)", 0),
            ("a # b", 2),
            ("a %", 2),
            ("", 0),
            ("M(Xy)", 2),
            ("a * * b", 4),
            ("gas(v, t)", 0),
            ("gas(v, t, p, q)", 0),
            ("gas(v, t, p", 3),
            ("gas()", 4),
            ("gases(v, t, p)", 0),
        ] {
            let problem = parse(text, 100).unwrap_err();
            assert_eq!(
                problem.labels[0].span.start,
                100 + start,
                "{text}: {}",
                problem.message
            );
        }
        assert!(parse(&"(".repeat(5000), 0).is_err());
        assert!(parse(&("a + ".repeat(200_000) + "a"), 0).is_err());
    }
}
