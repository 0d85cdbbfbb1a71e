//! Reads an expression of the lab description from left to right, with the place of every part.

use crate::chem::Formula;
use crate::lab::expression::Sign;
use crate::lab::expression::Term;
use crate::measure::Decimal;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;

/// What gives moles of gas, and whether it was collected over water.
const GASES: [(&str, bool); 2] = [("gas", false), ("gas_over_water", true)];

/// How deep brackets may nest.
const DEEPEST: usize = 40;
/// How many parts a sum or a product may have: each is one level of the tree.
const LONGEST: usize = 100;

/// Reads an expression that stands at byte `at` of the lab description.
///
/// # Errors
/// A problem pointing at the sign or name that cannot stand where it does.
pub(in crate::lab) fn parse(text: &str, at: usize) -> Result<Term, Problem> {
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

    /// The three parts in the brackets behind `gas`.
    fn gas(&mut self, start: usize, over_water: bool) -> Result<Term, Problem> {
        let open = self.next;
        self.next += 1;
        self.deeper(start)?;
        let mut parts = vec![self.sum()?];
        self.space();
        while self.rest().starts_with(',') {
            self.next += 1;
            parts.push(self.sum()?);
            self.space();
        }
        self.depth -= 1;
        if !self.rest().starts_with(')') {
            return Err(self.problem(
                open..open + 1,
                "this bracket is never closed",
                "close it with `)`",
            ));
        }
        self.next += 1;
        let found = parts.len();
        let span = self.place(start..self.next);
        match <[Term; 3]>::try_from(parts) {
            Ok(of) => Ok(Term::Gas {
                of: Box::new(of),
                over_water,
                span,
            }),
            Err(_) => Err(self.problem(
                start..self.next,
                format!("moles of gas are found from three things, but {found} stand here"),
                "write gas(volume, temperature, pressure)",
            )),
        }
    }

    fn number(&mut self, start: usize) -> Result<Term, Problem> {
        let length = self
            .rest()
            .bytes()
            .take_while(|b| b.is_ascii_digit() || *b == b'.')
            .count();
        self.next += length;
        let span = start..self.next;
        let number = Decimal::parse(&self.text[span.clone()]);
        let digits = self.next;
        self.space();
        if self.rest().starts_with('%') {
            self.next += 1;
            if let Ok(number) = number {
                return Ok(Term::Percentage(number, self.place(start..self.next)));
            }
        }
        self.next = digits;
        match number {
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
        if let Some((_, over_water)) = GASES.iter().find(|(known, _)| *known == name) {
            return self.gas(start, *over_water);
        }
        if name != "M" {
            let message = format!("`{name}(…)` is not known in expressions");
            return Err(self.problem(
                start..self.next,
                message,
                "M(formula) gives a molar mass, gas(volume, temperature, pressure) moles of gas; put a sign in front of other brackets",
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
            Ok(formula) if formula.open_waters() => Err(self.problem(
                inner,
                "its molar mass is not known before x is",
                "write the formula without its waters, and M(H2O) for one of them",
            )),
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
