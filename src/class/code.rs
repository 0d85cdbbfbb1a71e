//! Codes of groups: which may be shown, an order that tells nothing, and file names.

use sha2::Digest;
use sha2::Sha256;

/// The longest code.
const LONGEST: usize = 24;

/// Names of devices that some systems do not take as file names.
const DEVICES: [&str; 22] = [
    "con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8",
    "com9", "lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9",
];

/// Why a label cannot stand on a shared page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unfit {
    /// There is none.
    Missing,
    /// Longer than 24 characters.
    Long,
    /// It holds something besides letters, digits, points, dashes and underscores.
    Character,
    /// It has no digit: it may be a name or a word.
    NoDigit,
    /// It holds a name from the file or the roster.
    Name,
    /// Some system would not take it as a file name.
    Reserved,
}

impl Unfit {
    /// The end of a sentence that begins with the label.
    #[must_use]
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Missing => "is missing",
            Self::Long => "is longer than 24 characters",
            Self::Character => {
                "holds something besides letters, digits, points, dashes and underscores"
            }
            Self::NoDigit => "has no digit, so it may be a name",
            Self::Name => "holds a name",
            Self::Reserved => "is a name that some systems keep for themselves",
        }
    }
}

/// Whether a group's label may stand on a shared page and in a file name.
///
/// # Errors
/// Why not.
pub fn fit(label: &str, names: &[String]) -> Result<(), Unfit> {
    if label.is_empty() {
        return Err(Unfit::Missing);
    }
    if holds_a_name(label, names) {
        return Err(Unfit::Name);
    }
    if label.chars().count() > LONGEST {
        return Err(Unfit::Long);
    }
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_');
    if !label.chars().all(plain) || label.starts_with(['.', '-']) || label.ends_with('.') {
        return Err(Unfit::Character);
    }
    if !label.chars().any(|c| c.is_ascii_digit()) {
        return Err(Unfit::NoDigit);
    }
    let stem = label.split('.').next().unwrap_or(label).to_lowercase();
    if DEVICES.contains(&stem.as_str()) {
        return Err(Unfit::Reserved);
    }
    Ok(())
}

/// Whether a text holds a word of at least three letters of any of some names.
#[must_use]
pub fn holds_a_name(text: &str, names: &[String]) -> bool {
    let text = text.to_lowercase();
    let words = names.iter().flat_map(|name| {
        name.to_lowercase()
            .split(|c: char| !c.is_alphanumeric())
            .filter(|word| word.chars().count() >= 3)
            .map(str::to_owned)
            .collect::<Vec<_>>()
    });
    let mut words = words;
    words.any(|word| text.contains(&word))
}

/// What a code is sorted by: the same on every run, and telling nothing.
#[must_use]
pub fn order(lab: &str, code: &str) -> [u8; 32] {
    let mut digest = Sha256::new();
    digest.update(lab.as_bytes());
    digest.update([0]);
    digest.update(code.as_bytes());
    digest.finalize().into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_told_from_everything_else() {
        let names = vec!["Ingrid Käfer".to_owned(), "T. L.".to_owned()];
        for (label, is) in [
            ("3-07", Ok(())),
            ("P4_group.2", Ok(())),
            ("", Err(Unfit::Missing)),
            ("../../x1", Err(Unfit::Character)),
            ("CON", Err(Unfit::NoDigit)),
            ("com1.x", Err(Unfit::Reserved)),
            ("🧪7", Err(Unfit::Character)),
            ("\u{202e}3-07", Err(Unfit::Character)),
            ("ingrid-7", Err(Unfit::Name)),
            ("7KÄFER", Err(Unfit::Name)),
            ("group seven 7", Err(Unfit::Character)),
            ("seven", Err(Unfit::NoDigit)),
            ("-7", Err(Unfit::Character)),
            ("7.", Err(Unfit::Character)),
        ] {
            assert_eq!(fit(label, &names), is, "{label}");
        }
        assert_eq!(fit(&"7".repeat(25), &[]), Err(Unfit::Long));
    }

    #[test]
    fn the_order_is_none_that_a_reader_knows() {
        let codes: Vec<String> = (1..=14).map(|n| format!("3-{n:02}")).collect();
        let mut shuffled = codes.clone();
        shuffled.sort_by_key(|code| order("zinc", code));
        assert_ne!(shuffled, codes);
        let mut again = shuffled.clone();
        again.reverse();
        again.sort_by_key(|code| order("zinc", code));
        assert_eq!(again, shuffled);
    }
}
