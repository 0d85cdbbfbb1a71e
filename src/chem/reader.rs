//! Reads the groups of atoms in a formula, with brackets, subscripts and hydrate dots.

use crate::chem::Element;
use crate::chem::ending::sign;
use crate::chem::formula::FormulaError;
use crate::chem::spelling;
use crate::problem::Span;

/// The atoms of a formula and its text, normalised; charge and state stand elsewhere.
pub(super) struct Body {
    /// `CuSO4·5H2O`
    pub text: String,
    /// In order of first appearance.
    pub atoms: Vec<(Element, u32)>,
}

/// How deep brackets may stand in each other.
const DEEPEST: usize = 16;
/// The largest subscript, multiplier and number of atoms of one element in a formula.
const LARGEST_COUNT: u32 = 99_999;
/// Lowered digits, by value.
const SUBSCRIPTS: &str = "₀₁₂₃₄₅₆₇₈₉";

/// Whether a character joins waters of crystallisation to a formula.
pub(super) const fn is_dot(c: char) -> bool {
    matches!(c, '·' | '.' | '*' | '•' | '⋅' | '∙' | '・')
}

/// The value of a raised or lowered digit.
pub(super) fn digit_in(c: char, digits: &str) -> Option<u32> {
    digits
        .chars()
        .zip(0..)
        .find(|(digit, _)| *digit == c)
        .map(|(_, value)| value)
}

/// Reads everything but charge and state; `span` covers it in `text`.
pub(super) fn read_body(text: &str, span: Span) -> Result<Body, FormulaError> {
    if span.is_empty() {
        let message = "There is no formula before the charge.";
        return Err(FormulaError::new(message, span).help("Write the formula first: `Cu^2+`."));
    }
    let mut reader = Reader {
        text,
        at: span.start,
        end: span.end,
        out: String::new(),
    };
    reader.refuse_leading_number()?;
    let mut atoms = reader.part(1)?;
    reader.skip_spaces_before_dot();
    while reader.peek().is_some_and(is_dot) {
        let dot = reader.step();
        reader.skip_spaces();
        if reader.peek().is_none() {
            return Err(FormulaError::new("Nothing stands behind the dot.", dot)
                .help("Write what belongs there, such as `·5H2O`, or leave the dot out."));
        }
        reader.out.push('·');
        let multiplier = reader.multiplier()?;
        reader.skip_spaces();
        let part = reader.part(multiplier)?;
        merge(&mut atoms, &part, 1, span.clone())?;
        reader.skip_spaces_before_dot();
    }
    reader.refuse_rest()?;
    Ok(Body {
        text: reader.out,
        atoms,
    })
}

/// A place in the text of a formula, and what has been read so far.
struct Reader<'a> {
    text: &'a str,
    at: usize,
    end: usize,
    out: String,
}

impl<'a> Reader<'a> {
    /// What is still to be read.
    fn rest(&self) -> &'a str {
        &self.text[self.at..self.end]
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// Passes one character and says where it stood.
    fn step(&mut self) -> Span {
        let start = self.at;
        self.at += self.peek().map_or(0, char::len_utf8);
        start..self.at
    }

    fn skip_spaces(&mut self) {
        self.at = self.end - self.rest().trim_start().len();
    }

    /// Spaces may stand around a dot, nowhere else.
    fn skip_spaces_before_dot(&mut self) {
        if self.rest().trim_start().starts_with(is_dot) {
            self.skip_spaces();
        }
    }

    /// Groups up to a dot, times a number.
    fn part(&mut self, multiplier: u32) -> Result<Vec<(Element, u32)>, FormulaError> {
        let (start, written) = (self.at, self.out.len());
        let groups = self.groups(0)?;
        let span = start..self.at;
        if groups.is_empty() {
            self.refuse_rest()?;
            return Err(FormulaError::new("A formula is missing here.", span));
        }
        let part = &self.out[written..];
        if let Some(symbol) = part
            .strip_suffix("20")
            .filter(|symbol| spelling::is_not_carbon(symbol))
        {
            let message = format!("`{symbol}20` has the digit 0 where the letter O may be meant.");
            return Err(FormulaError::new(message, start + symbol.len()..self.at));
        }
        spelling::refuse_capitals(part, &self.text[span.clone()], start)?;
        let mut atoms = Vec::new();
        merge(&mut atoms, &groups, multiplier, span)?;
        Ok(atoms)
    }

    /// Elements and brackets with their subscripts, as long as there are any.
    fn groups(&mut self, depth: usize) -> Result<Vec<(Element, u32)>, FormulaError> {
        let mut atoms = Vec::new();
        while let Some(c) = self.peek() {
            let start = self.at;
            let inner = match c {
                'A'..='Z' => vec![(self.element()?, 1)],
                '(' | '[' | '{' => self.bracket(c, depth)?,
                _ => break,
            };
            let symbol = start..self.at;
            let count = self.subscript(symbol)?;
            merge(&mut atoms, &inner, count, start..self.at)?;
        }
        Ok(atoms)
    }

    /// One element symbol.
    fn element(&mut self) -> Result<Element, FormulaError> {
        let rest = self.rest();
        let letters = 1 + rest[1..].bytes().take_while(u8::is_ascii_lowercase).count();
        let symbol = &rest[..letters];
        let Some(element) = Element::from_symbol(symbol) else {
            return Err(spelling::unknown_symbol(symbol, self.at));
        };
        self.at += letters;
        self.out.push_str(symbol);
        Ok(element)
    }

    /// What stands between two brackets.
    fn bracket(&mut self, open: char, depth: usize) -> Result<Vec<(Element, u32)>, FormulaError> {
        let close = match open {
            '(' => ')',
            '[' => ']',
            _ => '}',
        };
        let opened = self.step();
        if depth >= DEEPEST {
            let message = format!("Brackets are nested more than {DEEPEST} deep.");
            return Err(FormulaError::new(message, opened)
                .help("Count the atoms and write fewer brackets."));
        }
        self.out.push(open);
        let atoms = self.groups(depth + 1)?;
        match self.peek() {
            Some(c) if c == close => {
                let closed = self.step();
                self.out.push(close);
                let inner = &self.text[opened.end..closed.start];
                if !inner.is_empty() && inner.bytes().all(|b| matches!(b, b'I' | b'V')) {
                    let message =
                        format!("`({inner})` is a Roman numeral, which belongs in a name.");
                    return Err(FormulaError::new(message, opened.start..closed.end)
                        .help("Leave it out: copper(II) sulfate is `CuSO4`."));
                }
                if atoms.is_empty() {
                    return Err(FormulaError::new(
                        "The brackets are empty.",
                        opened.start..closed.end,
                    ));
                }
                Ok(atoms)
            }
            Some(c @ (')' | ']' | '}')) => {
                let here = self.step();
                Err(FormulaError::new(
                    format!("`{c}` closes a bracket that was opened as `{open}`."),
                    here,
                )
                .help(format!("Write `{close}`.")))
            }
            Some(_) => {
                self.refuse_rest()?;
                Err(never_closed(open, close, opened))
            }
            None => Err(never_closed(open, close, opened)),
        }
    }

    /// The number behind a symbol or a bracket; 1 when there is none.
    fn subscript(&mut self, symbol: Span) -> Result<u32, FormulaError> {
        let start = self.at;
        let braced = self.rest().starts_with("_{");
        if self.rest().starts_with('_') {
            self.at += 1 + usize::from(braced);
        }
        let digits = self.digits();
        let end = self.at;
        if braced && self.peek() == Some('}') {
            self.at += 1;
        }
        if digits.is_empty() {
            if start != self.at {
                return Err(FormulaError::new(
                    "A number is missing behind `_`.",
                    start..self.at,
                ));
            }
            return Ok(1);
        }
        if spelling::has_letter_o(&digits) {
            return Err(FormulaError::new(
                "The digit 0 stands where a letter O may be meant.",
                start..end,
            ));
        }
        let name = &self.text[symbol];
        if digits == "1" && matches!(name, "C" | "A" | "T" | "F") && !braced {
            let message =
                format!("`{name}1` ends in the digit 1 where a small letter l may be meant.");
            return Err(FormulaError::new(message, start..end));
        }
        let count = read_count(&digits, start..end)?;
        if count > 1 {
            self.out.push_str(&digits);
        }
        Ok(count)
    }

    /// The number behind a dot; 1 when there is none.
    fn multiplier(&mut self) -> Result<u32, FormulaError> {
        let start = self.at;
        let digits = self.digits();
        let rest = self.rest();
        let length = rest.len()
            - rest
                .trim_start_matches(|c: char| c.is_ascii_digit() || "./,½¼¾⅓⅔".contains(c))
                .len();
        if length > 0 {
            return Err(FormulaError::new(
                "The number behind a dot must be a whole number.",
                start..self.at + length,
            )
            .help("Multiply the whole formula: `CaSO4·½H2O` is written `(CaSO4)2·H2O`."));
        }
        if rest.starts_with(['x', 'n']) {
            return Err(FormulaError::new(
                "The number of waters must stand here as a digit.",
                start..self.at + 1,
            )
            .help("Write the number; waters to be found are `·xH2O`."));
        }
        if digits.is_empty() {
            return Ok(1);
        }
        if digits.starts_with('0') {
            return Err(FormulaError::new(
                "The number behind a dot starts with 0.",
                start..self.at,
            )
            .help("Write a number from 1 up, such as `·5H2O`."));
        }
        let count = read_count(&digits, start..self.at)?;
        if count > 1 {
            self.out.push_str(&digits);
        }
        Ok(count)
    }

    /// Plain or lowered digits, as plain digits.
    fn digits(&mut self) -> String {
        let mut digits = String::new();
        while let Some(c) = self.peek() {
            let Some(value) = c.to_digit(10).or_else(|| digit_in(c, SUBSCRIPTS)) else {
                break;
            };
            digits.extend(char::from_digit(value, 10));
            self.step();
        }
        digits
    }

    /// A coefficient belongs to an equation, not to a formula.
    fn refuse_leading_number(&mut self) -> Result<(), FormulaError> {
        let start = self.at;
        if self.digits().is_empty() {
            return Ok(());
        }
        Err(FormulaError::new(
            "A formula does not start with a number; that would be a coefficient.",
            start..self.at,
        )
        .help("Leave the number out; coefficients stand in the equation only."))
    }

    /// Says what is wrong with the next character; all is well when there is none.
    fn refuse_rest(&mut self) -> Result<(), FormulaError> {
        let Some(c) = self.peek() else { return Ok(()) };
        let here = self.step();
        Err(match c {
            ')' | ']' | '}' => {
                let open = [('(', ')'), ('[', ']'), ('{', '}')].iter().find(|pair| pair.1 == c);
                let open = open.map_or('(', |pair| pair.0);
                FormulaError::new(format!("`{c}` closes a bracket that was never opened."), here)
                    .help(format!("Put the missing `{open}` in, or take `{c}` out."))
            }
            'a'..='z' => FormulaError::new(
                format!("An element symbol starts with a capital letter, and `{c}` stands here."),
                here,
            ),
            _ if c.is_whitespace() => FormulaError::new("A space stands inside the formula.", here)
                .help("Close the gap; in an equation, put a + between two substances."),
            _ if is_dot(c) => FormulaError::new("A dot stands where a formula should be.", here)
                .help("One dot joins waters to a formula: `CuSO4·5H2O`. Inside brackets there is none."),
            _ if sign(c).is_some() => FormulaError::new(format!("`{c}` stands in the middle of the formula."), here)
                .help("A charge stands at the end: `SO4^2-`."),
            _ if c.is_ascii_digit() => FormulaError::new(format!("The number {c} stands behind no symbol."), here),
            _ => FormulaError::new(format!("`{}` does not belong in a formula.", shown(c)), here)
                .help("A formula has element symbols, numbers, brackets, a dot before waters, and a charge."),
        })
    }
}

/// A character as it may be printed; control characters by their escape.
fn shown(c: char) -> String {
    if c.is_control() {
        c.escape_default().to_string()
    } else {
        c.to_string()
    }
}

/// The error for a bracket without its partner.
fn never_closed(open: char, close: char, opened: Span) -> FormulaError {
    FormulaError::new(format!("The bracket `{open}` is never closed."), opened)
        .help(format!("Put the missing `{close}` in."))
}

/// Digits as a count.
fn read_count(digits: &str, span: Span) -> Result<u32, FormulaError> {
    digits
        .parse()
        .ok()
        .filter(|count| *count <= LARGEST_COUNT)
        .ok_or_else(|| too_large(span))
}

/// Adds atoms, times a number, to those of a formula.
fn merge(
    atoms: &mut Vec<(Element, u32)>,
    more: &[(Element, u32)],
    times: u32,
    span: Span,
) -> Result<(), FormulaError> {
    for &(element, count) in more {
        let before = atoms.iter().position(|(own, _)| *own == element);
        let old = before.map_or(0, |at| atoms[at].1);
        let total = count
            .checked_mul(times)
            .and_then(|more| more.checked_add(old));
        let total = total
            .filter(|total| *total <= LARGEST_COUNT)
            .ok_or_else(|| too_large(span.clone()))?;
        match before {
            Some(at) => atoms[at].1 = total,
            None => atoms.push((element, total)),
        }
    }
    Ok(())
}

/// The error for more atoms than a formula may have.
fn too_large(span: Span) -> FormulaError {
    FormulaError::new("This number of atoms is too large.", span).help(format!(
        "A formula may have up to {LARGEST_COUNT} atoms of an element."
    ))
}
