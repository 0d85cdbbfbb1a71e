//! What of a cell goes into the boxes: every digit as typed, a series cut into its entries, the heading's unit behind
//! bare numbers.

use crate::command::import::columns::Column;
use crate::command::import::spellings::Meaning;
use crate::lab::Lab;
use crate::measure::Typed;
use crate::measure::Unit;
use crate::measure::typed;
use crate::report::form::Place;
use crate::words::Words;

/// The texts for the boxes of a column's place; one, unless it is a whole series.
pub(super) fn texts(cell: &str, column: &Column, number: Option<usize>, lab: &Lab) -> Vec<String> {
    let Meaning::Box(place, _) = &column.meaning else {
        return Vec::new();
    };
    let is_series = |name: &str| {
        let asked = lab.readings().find(|(_, asked)| asked.name == name);
        asked.is_some_and(|(_, asked)| asked.series.is_some())
    };
    match place {
        Place::Reading(name) | Place::OfTrial(_, name) if number.is_none() && is_series(name) => {
            entries(cell)
                .into_iter()
                .map(|entry| with_unit(entry, column.unit, &lab.words))
                .collect()
        }
        Place::Reading(_) | Place::OfTrial(..) | Place::Answer(_) | Place::Extra(_) => {
            vec![with_unit(cell, column.unit, &lab.words)]
        }
        _ => vec![cell.to_owned()],
    }
}

/// The entries of a series in one cell: between semicolons or on lines of their own, remarks in brackets kept whole.
fn entries(cell: &str) -> Vec<&str> {
    let mut depth = 0_usize;
    let mut open_to_the_end = cell.matches('(').count() > cell.matches(')').count();
    let cut = |c: char| {
        match c {
            // A bracket that is never closed keeps nothing together.
            '(' if open_to_the_end => open_to_the_end = false,
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        depth == 0 && matches!(c, ';' | '\n')
    };
    cell.split(cut).map(str::trim).collect()
}

/// The longest text that may be a bare number.
const LONGEST_NUMBER: usize = 200;

/// A text with a unit behind its number, where it is a reading without one; any other text as it is.
fn with_unit(text: &str, unit: Option<Unit>, words: &Words) -> String {
    let Some(unit) = unit.filter(|_| text.len() <= LONGEST_NUMBER) else {
        return text.to_owned();
    };
    let Ok(Typed::Value(bare)) = typed::parse_with(text, None, words) else {
        // Digits that could be read in two ways still have the heading's unit.
        let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+');
        return if text.ends_with(|c: char| c.is_ascii_digit()) && text.chars().all(number) {
            format!("{text} {}", unit.symbol())
        } else {
            text.to_owned()
        };
    };
    if bare.unit.is_some() {
        return text.to_owned();
    }
    // Behind the first digits where the text still says the same: in front of a remark, a time or a question mark.
    let mut whole = bare;
    whole.unit = Some(unit);
    let places = text.char_indices().map(|(at, c)| at + c.len_utf8());
    places
        .map(|at| format!("{} {}{}", &text[..at], unit.symbol(), &text[at..]))
        .find(|with| typed::parse_with(with, None, words) == Ok(Typed::Value(whole.clone())))
        .unwrap_or_else(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_goes_behind_bare_numbers_only() {
        for (typed, with) in [
            ("2,45", "2,45 g"),
            ("2.450", "2.450 g"),
            ("2,450", "2,450 g"),
            ("−5.0", "−5.0 g"),
            ("25?", "25 g?"),
            ("~25", "~25 g"),
            ("105.68 (was 106.58)", "105.68 g (was 106.58)"),
            ("105.70 at 14:10", "105.70 g at 14:10"),
            ("12.270(5)", "12.270(5) g"),
            ("2.41x10^-2", "2.41x10^-2 g"),
            ("2.45 g", "2.45 g"),
            ("2450 mg", "2450 mg"),
            ("lost", "lost"),
            ("abc", "abc"),
            ("", ""),
            ("14:10", "14:10"),
        ] {
            let english = Words::english();
            assert_eq!(
                with_unit(typed, Some(Unit::Gram), &english),
                with,
                "{typed}"
            );
            assert_eq!(with_unit(typed, None, &english), typed);
        }
        // Without German the comma would be one of two readings, and the unit stay away.
        let german = Words::of("de").expect("German");
        assert_eq!(
            with_unit("1,525 (war 1,535)", Some(Unit::Gram), &german),
            "1,525 g (war 1,535)"
        );
    }

    #[test]
    fn a_series_is_cut_outside_brackets() {
        for (cell, parts) in [
            ("1 g; 2 g;3 g", &["1 g", "2 g", "3 g"][..]),
            (
                "1 g (was 2; misread); 3 g",
                &["1 g (was 2; misread)", "3 g"],
            ),
            ("1 g\n2 g", &["1 g", "2 g"]),
            ("1 g;;3 g", &["1 g", "", "3 g"]),
            ("1 g (was; 2 g", &["1 g (was", "2 g"]),
            ("1 g) ; 2 g", &["1 g)", "2 g"]),
        ] {
            assert_eq!(entries(cell), parts, "{cell}");
        }
    }
}
