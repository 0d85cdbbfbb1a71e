//! Numbers in a column: where their decimal mark stands and what follows them.

/// A cell's text cut at its decimal mark and before its unit.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Split<'a> {
    /// Sign and whole part: `± 104`.
    pub whole: &'a str,
    /// Decimal mark and decimals: `.18`; empty for a whole number.
    pub decimals: &'a str,
    /// What follows, with its space: ` g`; empty for a bare number.
    pub unit: &'a str,
}

/// Cuts a cell's text; `None` when it does not start as a number.
pub(super) fn split(text: &str) -> Option<Split<'_>> {
    let sign = |c: char| matches!(c, '±' | '−' | '-' | '+' | '~' | '<' | '>' | '≈' | '\\');
    let digits_from = text.find(|c| !(sign(c) || matches!(c, ' ' | '\u{a0}' | '\u{202f}')))?;
    let whole = digits_from + digits(&text[digits_from..]);
    if whole == digits_from {
        return None;
    }
    let after = &text[whole..];
    let mark = after
        .starts_with(['.', ','])
        .then(|| digits(&after[1..]))
        .filter(|&n| n > 0);
    let end = whole + mark.map_or(0, |decimals| decimals + 1);
    let unit = &text[end..];
    let stands_apart = unit.is_empty() || unit.starts_with([' ', '\u{a0}', '\u{202f}', '(', '%']);
    stands_apart.then_some(Split {
        whole: &text[..whole],
        decimals: &text[whole..end],
        unit,
    })
}

/// How many bytes of ASCII digits the text starts with.
fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_cut_at_the_mark_and_before_the_unit() {
        let rows = [
            ("104.18", Some(("104", ".18", ""))),
            ("50", Some(("50", "", ""))),
            ("± 0.01", Some(("± 0", ".01", ""))),
            ("−0.7 %", Some(("−0", ".7", " %"))),
            ("1,50\u{a0}g", Some(("1", ",50", "\u{a0}g"))),
            ("2 × 10⁻³", Some(("2", "", " × 10⁻³"))),
            ("lost", None),
            ("10 Feb", Some(("10", "", " Feb"))),
            ("3-07", None),
            ("", None),
        ];
        for (text, expected) in rows {
            let found = split(text).map(|s| (s.whole, s.decimals, s.unit));
            assert_eq!(found, expected, "{text:?}");
        }
    }
}
