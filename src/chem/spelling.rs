//! What a misspelt formula may have meant: wrong capitals, the digit 0 for O, the digit 1 for l.

use crate::chem::Element;
use crate::chem::formula::FormulaError;
use crate::chem::reader;
use crate::problem::Span;

/// Elements that school formulas are made of; a guess made of others is not offered.
const COMMON: &[&str] = &[
    "H", "He", "Li", "Be", "B", "C", "N", "O", "F", "Ne", "Na", "Mg", "Al", "Si", "P", "S", "Cl",
    "Ar", "K", "Ca", "Ti", "V", "Cr", "Mn", "Fe", "Co", "Ni", "Cu", "Zn", "As", "Br", "Kr", "Sr",
    "Ag", "Cd", "Sn", "Sb", "I", "Xe", "Ba", "Pt", "Au", "Hg", "Pb", "Bi",
];

/// The error with a next step, where it has none and one can be found; `body` is the formula
/// without charge and state.
pub(super) fn advise(error: FormulaError, text: &str, body: Span) -> FormulaError {
    let typed = &text[body.clone()];
    if let Some(element) = Element::from_name(&typed.to_lowercase()) {
        let message = format!("`{typed}` is a name, not a formula.");
        return FormulaError::new(message, body)
            .help(format!("Write its symbol, `{}`.", element.symbol()));
    }
    if error.help.is_some() {
        return error;
    }
    if let Some(guess) = respell(typed) {
        let whole = format!("{guess}{}", &text[body.end..]);
        return error.help(format!("Did you mean `{}`?", whole.trim_end()));
    }
    let symbol = &text[error.span.clone()];
    match symbol.chars().next().filter(char::is_ascii_uppercase) {
        Some(first) if symbol.chars().all(|c| c.is_ascii_alphabetic()) => {
            error.help(starting_with(first))
        }
        _ => error.help("Look the formula up and write it with its capitals, such as `CuSO4`."),
    }
}

/// The error for letters that are no element.
pub(super) fn unknown_symbol(symbol: &str, at: usize) -> FormulaError {
    // `NaoH` reads as Na + o, but `Naoh` as one long word: point at what is no symbol.
    let known = (1..symbol.len().min(3))
        .rev()
        .find(|&length| Element::from_symbol(&symbol[..length]).is_some());
    match known {
        Some(length) if symbol.len() > 2 && length == 2 => {
            let rest = &symbol[length..];
            let message = format!(
                "An element symbol starts with a capital letter, and `{rest}` stands here."
            );
            FormulaError::new(message, at + length..at + symbol.len())
        }
        _ => FormulaError::new(
            format!("`{symbol}` is no element symbol."),
            at..at + symbol.len(),
        ),
    }
}

/// Whether a symbol could stand in a molecule of water or an oxide typed with a digit 0; 20 atoms
/// of carbon alone are possible, of anything else they are not.
pub(super) fn is_not_carbon(symbol: &str) -> bool {
    symbol != "C" && Element::from_symbol(symbol).is_some()
}

/// Whether the 0 in a number is likely a letter O: `SO4` typed as `S04`, `Al2O3` as `Al203`.
pub(super) fn has_letter_o(digits: &str) -> bool {
    digits.starts_with('0')
        || (digits.len() == 3 && digits[1..].starts_with('0') && !digits.ends_with('0'))
}

/// `CUSO4` reads as carbon and uranium, but nobody means that; `part` is `typed`, normalised.
pub(super) fn refuse_capitals(part: &str, typed: &str, start: usize) -> Result<(), FormulaError> {
    if !part.contains("CU") || part.contains(|c: char| c.is_ascii_lowercase()) {
        return Ok(());
    }
    let here = match typed.find("CU") {
        Some(at) => start + at + 1..start + at + 2,
        None => start..start + typed.len(),
    };
    Err(FormulaError::new(
        "A capital U is uranium; copper has a small u.",
        here,
    ))
}

/// `Symbols that start with Z: Zn, Zr.`
fn starting_with(first: char) -> String {
    let near: Vec<&str> = Element::all()
        .map(Element::symbol)
        .filter(|symbol| symbol.starts_with(first))
        .collect();
    if near.is_empty() {
        format!("No element symbol starts with {first}.")
    } else {
        format!("Symbols that start with {first}: {}.", near.join(", "))
    }
}

/// A spelling close to the one typed that is a formula.
fn respell(typed: &str) -> Option<String> {
    let letters = zeros_to_letters(typed);
    let guesses = [
        Some(letters.clone()),
        Some(replace_digit_one(typed)),
        Some(typed.replace("AI", "Al").replace("CI", "Cl")),
        recapitalise(typed),
        recapitalise(&letters),
    ];
    guesses
        .into_iter()
        .flatten()
        .find(|guess| guess != typed && reader::read_body(guess, 0..guess.len()).is_ok())
}

/// The letter O for each 0 that starts a number, stands between two digits, or ends `20`.
fn zeros_to_letters(typed: &str) -> String {
    let chars: Vec<char> = typed.chars().collect();
    let digit = |at: usize| chars.get(at).is_some_and(char::is_ascii_digit);
    let letter_o = |at: usize| {
        let first = at == 0 || !digit(at - 1);
        let second = at > 0 && digit(at - 1) && (at < 2 || !digit(at - 2));
        let single_two = second && chars[at - 1] == '2' && at == chars.len() - 1;
        first || single_two || (second && digit(at + 1) && !digit(at + 2))
    };
    let letter = |(at, c): (usize, &char)| if *c == '0' && letter_o(at) { 'O' } else { *c };
    chars.iter().enumerate().map(letter).collect()
}

/// The letter l for a 1 behind a letter that it makes an element with.
fn replace_digit_one(typed: &str) -> String {
    let mut text = typed.to_owned();
    for letter in ["C", "A", "T", "F"] {
        text = text.replace(&format!("{letter}1"), &format!("{letter}l"));
    }
    text
}

/// The letters cut into common symbols, whatever their case; everything else stays.
fn recapitalise(typed: &str) -> Option<String> {
    let mut text = String::new();
    let mut rest = typed;
    while let Some(first) = rest.chars().next() {
        let length = rest.bytes().take_while(u8::is_ascii_alphabetic).count();
        if length == 0 {
            text.push(first);
            rest = &rest[first.len_utf8()..];
        } else {
            let (word, behind) = rest.split_at(length);
            text.push_str(&cut(&word.to_ascii_lowercase(), behind)?);
            rest = behind;
        }
    }
    Some(text)
}

/// The fewest common symbols that make up a word in small letters; `behind` follows it.
fn cut(word: &str, behind: &str) -> Option<String> {
    // best[i]: number of symbols and their text for the first i letters
    let mut best: Vec<Option<(usize, String)>> = vec![None; word.len() + 1];
    best[0] = Some((0, String::new()));
    for end in 1..=word.len() {
        for length in [2, 1] {
            let Some(start) = end.checked_sub(length) else {
                continue;
            };
            let Some((number, before)) = best[start].clone() else {
                continue;
            };
            let mut symbol = word[start..end].to_owned();
            symbol[..1].make_ascii_uppercase();
            // At the end of a word `co` is carbonate or an oxide far more often than cobalt.
            let cobalt_unlikely =
                symbol == "Co" && end == word.len() && !behind.starts_with(['(', '[']);
            if !COMMON.contains(&symbol.as_str()) || cobalt_unlikely {
                continue;
            }
            if best[end]
                .as_ref()
                .is_none_or(|(fewest, _)| number + 1 < *fewest)
            {
                best[end] = Some((number + 1, before + &symbol));
            }
        }
    }
    best.pop().flatten().map(|(_, text)| text)
}
