//! Words that stand where a reading should: lost, spilled, ?, N/A.

/// Words that say there is no reading, in lower case.
const MISSING: &[&str] = &[
    "lost",
    "spilled",
    "spilt",
    "missing",
    "none",
    "broken",
    "broke",
    "forgot",
    "forgotten",
    "absent",
    "n/a",
    "na",
    "n.a.",
    "not",
    "no",
    "unknown",
    "tbd",
    "void",
    "dropped",
    "cracked",
    "skipped",
    "?",
    "??",
    "???",
    "-",
    "--",
    "–",
    "—",
    "x",
];

/// Whether a text says that there is no reading: one of the words alone, or at its start before more words without digits.
pub(super) fn says_missing(text: &str) -> bool {
    let lower = text.to_lowercase();
    if MISSING.contains(&lower.as_str()) {
        return true;
    }
    if lower.chars().any(|c| c.is_ascii_digit()) {
        return false;
    }
    let first = lower
        .split([' ', ',', ';', ':', '.', '('])
        .next()
        .unwrap_or_default();
    first.chars().any(char::is_alphabetic) && MISSING.contains(&first)
}
