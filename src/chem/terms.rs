//! Takes the text of an equation apart: arrow, plus signs, coefficients.

use crate::chem::Formula;
use crate::chem::equation::EquationError;
use crate::problem::Span;

/// The largest coefficient a text may give.
const LARGEST_COEFFICIENT: u32 = 9_999_999;
/// What may stand between the two sides; longer ones first.
const ARROWS: &[&str] = &[
    "<-->", "<=>", "<->", "-->", "==>", "->", "=>", "==", "→", "⟶", "⇒", "⟹", "⇌", "⇄", "↔", "=",
];

/// A formula with the coefficient given, as it stands in the text.
pub(super) struct Term {
    /// The coefficient written, if any.
    pub given: Option<u32>,
    /// Whether the coefficient is the x of a hydrate, to be found: `x H2O`.
    pub open: bool,
    /// With its state.
    pub formula: Formula,
    /// Bytes of the text.
    pub span: Span,
    /// Whether it stands on the left.
    pub reactant: bool,
}

/// Where the arrow stands; the only one.
pub(super) fn find_arrow(text: &str) -> Result<Span, EquationError> {
    let mut found: Option<Span> = None;
    let mut at = 0;
    while at < text.len() {
        let rest = &text[at..];
        let Some(arrow) = ARROWS.iter().find(|arrow| rest.starts_with(**arrow)) else {
            at += rest.chars().next().map_or(1, char::len_utf8);
            continue;
        };
        let arrow = at..at + arrow.len();
        if found.is_some() {
            return Err(
                EquationError::new("This equation has more than one arrow.", arrow)
                    .help("Write one equation for each reaction."),
            );
        }
        at = arrow.end;
        found = Some(arrow);
    }
    found.ok_or_else(|| {
        EquationError::new("This equation has no arrow.", 0..text.trim_end().len())
            .help("Put `->` between what reacts and what forms: `Zn + CuSO4 -> ZnSO4 + Cu`.")
    })
}

/// The terms of one side.
pub(super) fn side(text: &str, span: Span, reactant: bool) -> Result<Vec<Term>, EquationError> {
    if text[span.clone()].trim().is_empty() {
        let side = if reactant { "left" } else { "right" };
        return Err(EquationError::new(
            format!("Nothing stands on the {side} of the arrow."),
            0..text.trim_end().len(),
        )
        .help("Write the formulas on both sides: `Zn + CuSO4 -> ZnSO4 + Cu`."));
    }
    let mut terms = Vec::new();
    let mut start = span.start;
    for plus in separators(&text[span.clone()])
        .into_iter()
        .map(|plus| plus + span.start)
    {
        terms.push(term(text, start..plus, reactant)?);
        start = plus + 1;
    }
    terms.push(term(text, start..span.end, reactant)?);
    Ok(terms)
}

/// The places of the `+` signs that stand between formulas and are no charges.
fn separators(side: &str) -> Vec<usize> {
    let mut found = Vec::new();
    let mut open = 0_usize;
    for (at, c) in side.char_indices() {
        match c {
            '(' | '[' | '{' => open += 1,
            ')' | ']' | '}' => open = open.saturating_sub(1),
            '+' if open == 0 && !is_charge(&side[..at], &side[at + 1..]) => found.push(at),
            _ => {}
        }
    }
    found
}

/// Whether a `+` between these texts is the charge of the ion before it.
fn is_charge(before: &str, behind: &str) -> bool {
    if before.is_empty() || before.ends_with(char::is_whitespace) {
        return false;
    }
    let before_digits = before.trim_end_matches(|c: char| c.is_ascii_digit());
    let raised = before
        .chars()
        .next_back()
        .is_some_and(|c| "⁰¹²³⁴⁵⁶⁷⁸⁹".contains(c));
    if before_digits.ends_with('^') || raised {
        return true;
    }
    let behind = behind.trim_start();
    // A second `+` is the one between the formulas; behind an ion may also stand nothing or its state.
    behind.is_empty()
        || behind.starts_with('+')
        || ["(aq)", "(s)", "(l)", "(g)"]
            .iter()
            .any(|s| behind.starts_with(s))
}

/// One formula with its coefficient.
fn term(text: &str, span: Span, reactant: bool) -> Result<Term, EquationError> {
    let typed = &text[span.clone()];
    let start = span.start + typed.len() - typed.trim_start().len();
    let end = span.start + typed.trim_end().len();
    if start >= end {
        let near = span.start.saturating_sub(1)..(span.end + 1).min(text.len());
        return Err(
            EquationError::new("A formula is missing beside `+`.", widen(text, near))
                .help("Write the formula, or take the `+` out."),
        );
    }
    let typed = &text[start..end];
    refuse_energy(typed, start)?;
    let open = typed.strip_prefix(['x', 'n']).is_some_and(is_water);
    let (given, length) = if open {
        (None, 1)
    } else {
        coefficient(typed, start)?
    };
    let formula_text = &typed[length..];
    if formula_text.trim().is_empty() {
        return Err(EquationError::new(
            format!("No formula stands behind the {}.", typed.trim()),
            start..end,
        )
        .help("Write the formula, or take the number out."));
    }
    let formula = Formula::parse(formula_text).map_err(|error| EquationError {
        message: error.message,
        span: start + length + error.span.start..start + length + error.span.end,
        help: error.help,
    })?;
    Ok(Term {
        given,
        open,
        formula,
        span: start..end,
        reactant,
    })
}

/// Whether a text is water, with its state or without.
fn is_water(text: &str) -> bool {
    let text = text.trim_start();
    ["H2O", "H₂O"].iter().any(|water| {
        text.strip_prefix(water)
            .is_some_and(|rest| rest.trim().is_empty() || rest.trim_start().starts_with('('))
    })
}

/// The nearest span around one that starts and ends between characters.
pub(super) fn widen(text: &str, span: Span) -> Span {
    text.floor_char_boundary(span.start)..text.ceil_char_boundary(span.end)
}

/// The number at the start of a term and how many bytes it takes.
fn coefficient(typed: &str, start: usize) -> Result<(Option<u32>, usize), EquationError> {
    let number = |c: char| c.is_ascii_digit() || "./,½¼¾⅓⅔".contains(c);
    let inner = typed.strip_prefix('(').unwrap_or(typed);
    let length = inner.len() - inner.trim_start_matches(number).len();
    let digits = &inner[..length];
    let bracketed = inner.len() < typed.len();
    if length == 0 || (bracketed && !inner[length..].starts_with(')')) {
        return Ok((None, 0));
    }
    if bracketed || !digits.bytes().all(|b| b.is_ascii_digit()) {
        let length = if bracketed { length + 2 } else { length };
        let span = start..start + length;
        let help = match digits {
            "1/2" | "0.5" | ".5" | "0,5" | "½" | "1.5" | "3/2" | "2.5" | "5/2" => {
                "Multiply the whole equation by 2."
            }
            _ => "Multiply the whole equation until every coefficient is a whole number.",
        };
        let message = format!(
            "A coefficient must be a plain whole number; `{}` is none.",
            &typed[..length]
        );
        return Err(EquationError::new(message, span).help(help));
    }
    let span = start..start + length;
    match digits.parse::<u32>() {
        Ok(0) => Err(EquationError::new(
            "A coefficient of 0 means that the substance takes no part.",
            span,
        )
        .help("Leave the substance out, or give its coefficient.")),
        Ok(number) if number <= LARGEST_COEFFICIENT => Ok((Some(number), length)),
        _ => Err(EquationError::new("This coefficient is too large.", span)
            .help(format!("A coefficient may be up to {LARGEST_COEFFICIENT}."))),
    }
}

/// Heat and light are no substances.
fn refuse_energy(typed: &str, start: usize) -> Result<(), EquationError> {
    let word = typed
        .trim_matches(|c: char| c == '(' || c == ')')
        .to_lowercase();
    if ["heat", "energy", "light", "electricity", "δ", "∆"].contains(&word.as_str()) {
        return Err(EquationError::new(
            format!("`{typed}` is no substance."),
            start..start + typed.len(),
        )
        .help("Leave it out of the equation."));
    }
    Ok(())
}
