//! The small language of `before`, `after`, `used` and `find`: names, numbers, `+ - * / ( )` and `M(formula)`.

use crate::chem::Formula;
use crate::measure::Decimal;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;

/// An expression as written, parsed. Spans are bytes of the whole lab description.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Term {
    /// A reading, a given or a step; which one, the plan decides.
    Name(String, Span),
    /// A plain number, exact.
    Number(Decimal, Span),
    /// The molar mass of a formula.
    MolarMass(Formula, Span),
    /// `-x`
    Negative(Box<Term>, Span),
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
            | Self::MolarMass(_, span)
            | Self::Negative(_, span)
            | Self::Binary { span, .. } => span.clone(),
        }
    }

    /// Every name in it, in order of appearance.
    #[must_use]
    pub fn names(&self) -> Vec<(&str, Span)> {
        match self {
            Self::Name(name, span) => vec![(name, span.clone())],
            Self::Number(..) | Self::MolarMass(..) => Vec::new(),
            Self::Negative(inner, _) => inner.names(),
            Self::Binary { left, right, .. } => {
                let mut names = left.names();
                names.extend(right.names());
                names
            }
        }
    }
}

/// How deep brackets may nest.
const DEEPEST: usize = 40;
/// How many parts a sum or a product may have: each is one level of the tree.
const LONGEST: usize = 100;

/// Reads an expression that stands at byte `at` of the lab description.
///
/// # Errors
/// A problem pointing at the sign or name that cannot stand where it does.
pub fn parse(text: &str, at: usize) -> Result<Term, Problem> {
    let mut parser = Parser {
        text,
        at,
        next: 0,
        depth: 0,
    };
    parser.space();
    if parser.rest().is_empty() {
        let message = "an expression is missing here";
        return Err(parser.problem(
            0..text.len(),
            message,
            "name a reading, such as \"dish_with_salt - dish_empty\"",
        ));
    }
    let term = parser.sum()?;
    parser.space();
    if parser.rest().is_empty() {
        return Ok(term);
    }
    let start = parser.next;
    let c = parser.rest().chars().next().unwrap_or(' ');
    let (message, help) = match c {
        ')' => (
            "a bracket is closed that was never opened".to_owned(),
            "take it away, or open it with `(`",
        ),
        c if c.is_alphanumeric() || c == '(' => (
            "a sign is missing between two parts".to_owned(),
            "put + - * or / between them",
        ),
        c => (
            format!("`{c}` is no sign of an expression"),
            "use + - * / and round brackets",
        ),
    };
    Err(parser.problem(start..start + c.len_utf8(), message, help))
}

/// A text being read.
struct Parser<'t> {
    text: &'t str,
    at: usize,
    next: usize,
    depth: usize,
}

impl<'t> Parser<'t> {
    fn rest(&self) -> &'t str {
        &self.text[self.next..]
    }

    fn space(&mut self) {
        self.next = self.text.len() - self.rest().trim_start().len();
    }

    fn place(&self, range: Span) -> Span {
        self.at + range.start..self.at + range.end
    }

    fn problem(&self, range: Span, message: impl Into<String>, help: &str) -> Problem {
        Problem::error(Code::Expression, message)
            .at(self.place(range), "here")
            .help(help)
    }

    /// Takes one of the signs, if it comes next.
    fn sign(&mut self, signs: &[(char, Sign)]) -> Option<Sign> {
        self.space();
        let c = self.rest().chars().next()?;
        let (_, sign) = signs.iter().find(|(written, _)| *written == c)?;
        self.next += c.len_utf8();
        Some(*sign)
    }

    fn sum(&mut self) -> Result<Term, Problem> {
        self.chain(
            &[
                ('+', Sign::Plus),
                ('-', Sign::Minus),
                ('−', Sign::Minus),
                ('–', Sign::Minus),
            ],
            Self::product,
        )
    }

    fn product(&mut self) -> Result<Term, Problem> {
        self.chain(
            &[
                ('*', Sign::Times),
                ('×', Sign::Times),
                ('/', Sign::Over),
                ('÷', Sign::Over),
            ],
            Self::factor,
        )
    }

    fn chain(
        &mut self,
        signs: &[(char, Sign)],
        part: fn(&mut Self) -> Result<Term, Problem>,
    ) -> Result<Term, Problem> {
        let mut left = part(self)?;
        let mut parts = 1;
        while let Some(sign) = self.sign(signs) {
            parts += 1;
            if parts > LONGEST {
                return Err(self.problem(
                    self.next..self.next,
                    "the expression has too many parts",
                    "split the expression with a [find] quantity",
                ));
            }
            let right = part(self)?;
            let span = left.span().start..right.span().end;
            left = Term::Binary {
                sign,
                left: Box::new(left),
                right: Box::new(right),
                span,
            };
        }
        Ok(left)
    }

    fn factor(&mut self) -> Result<Term, Problem> {
        self.space();
        let start = self.next;
        let Some(c) = self.rest().chars().next() else {
            return Err(self.problem(
                start..start,
                "something is missing at the end",
                "put a name or a number behind the last sign",
            ));
        };
        match c {
            '-' | '−' | '–' => {
                self.next += c.len_utf8();
                self.deeper(start)?;
                let inner = self.factor()?;
                self.depth -= 1;
                let span = self.place(start..self.next);
                Ok(Term::Negative(Box::new(inner), span))
            }
            '(' => {
                self.next += 1;
                self.deeper(start)?;
                let inner = self.sum()?;
                self.depth -= 1;
                self.space();
                if !self.rest().starts_with(')') {
                    return Err(self.problem(
                        start..start + 1,
                        "this bracket is never closed",
                        "close it with `)`",
                    ));
                }
                self.next += 1;
                Ok(inner)
            }
            c if c.is_ascii_digit() || c == '.' => self.number(start),
            c if c.is_alphabetic() || c == '_' => self.name(start),
            c => Err(self.problem(
                start..start + c.len_utf8(),
                format!("`{c}` cannot stand here"),
                "put a name, a number or an opening bracket here",
            )),
        }
    }

    fn deeper(&mut self, start: usize) -> Result<(), Problem> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return Err(self.problem(
                start..start + 1,
                "brackets nest too deeply",
                "split the expression with a [find] quantity",
            ));
        }
        Ok(())
    }

    fn number(&mut self, start: usize) -> Result<Term, Problem> {
        let length = self
            .rest()
            .bytes()
            .take_while(|b| b.is_ascii_digit() || *b == b'.')
            .count();
        self.next += length;
        let span = start..self.next;
        match Decimal::parse(&self.text[span.clone()]) {
            Ok(number) => Ok(Term::Number(number, self.place(span))),
            Err(_) => Err(self.problem(
                span,
                "this is not a number",
                "write it with digits and one point",
            )),
        }
    }

    fn name(&mut self, start: usize) -> Result<Term, Problem> {
        let length: usize = self
            .rest()
            .chars()
            .take_while(|c| c.is_alphanumeric() || *c == '_')
            .map(char::len_utf8)
            .sum();
        self.next += length;
        let name = &self.text[start..self.next];
        if !self.rest().starts_with('(') {
            return Ok(Term::Name(name.to_owned(), self.place(start..self.next)));
        }
        if name != "M" {
            let message = format!("`{name}(…)` is not known in expressions");
            return Err(self.problem(
                start..self.next,
                message,
                "M(formula) gives a molar mass; put a sign in front of other brackets",
            ));
        }
        let open = self.next;
        let mut depth = 0_usize;
        let close = self.rest().char_indices().find_map(|(offset, c)| {
            match c {
                '(' => depth += 1,
                ')' => depth -= 1,
                _ => {}
            }
            (depth == 0).then_some(open + offset)
        });
        let Some(close) = close else {
            return Err(self.problem(
                open..open + 1,
                "this bracket is never closed",
                "close it with `)`",
            ));
        };
        self.next = close + 1;
        let inner = open + 1..close;
        match Formula::parse(&self.text[inner.clone()]) {
            Ok(formula) => Ok(Term::MolarMass(formula, self.place(start..self.next))),
            Err(wrong) => {
                let span = inner.start + wrong.span.start..inner.start + wrong.span.end;
                let help = wrong
                    .help
                    .unwrap_or_else(|| "write a formula such as CuSO4".to_owned());
                Err(self.problem(span, wrong.message, &help))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(term: &Term) -> String {
        match term {
            Term::Name(name, _) => name.clone(),
            Term::Number(number, _) => number.to_string(),
            Term::MolarMass(formula, _) => format!("M({})", formula.plain()),
            Term::Negative(inner, _) => format!("-{}", shape(inner)),
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
            ("", 0),
            ("M(Xy)", 2),
            ("a * * b", 4),
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
