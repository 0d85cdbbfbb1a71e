//! German typed without its own letters: `hoeher`, `groesser`, `heiss`.

use crate::words::Words;

/// A text in small letters with its umlauts: `höher` for `hoeher`, in German; as it is in another language.
///
/// Behind a, e and q the letters “ue” are no umlaut: neue, genauer, Quelle.
#[must_use]
pub fn restored(text: &str, words: &Words) -> String {
    if words.code() != "de" {
        return text.to_owned();
    }
    let mut found = String::with_capacity(text.len());
    let mut rest = text.chars().peekable();
    while let Some(letter) = rest.next() {
        let umlaut = match letter {
            'a' => 'ä',
            'o' => 'ö',
            'u' if !found.ends_with(['a', 'e', 'q', 'ä']) => 'ü',
            _ => letter,
        };
        if umlaut != letter && rest.peek() == Some(&'e') {
            rest.next();
            found.push(umlaut);
        } else {
            found.push(letter);
        }
    }
    for (typed, usual) in SHARP {
        if found.contains(typed) {
            found = found.replace(typed, usual);
        }
    }
    found
}

/// Beginnings of words with an ß, which is typed as ss where there is no key for it.
const SHARP: &[(&str, &str)] = &[
    ("gross", "groß"),
    ("gröss", "größ"),
    ("heiss", "heiß"),
    ("weiss", "weiß"),
    ("stoss", "stoß"),
    ("aussen", "außen"),
    ("liess", "ließ"),
    ("gefäss", "gefäß"),
    ("giess", "gieß"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn umlauts_are_restored_in_german_only() {
        let german = Words::of("de").unwrap();
        for (typed, meant) in [
            ("hoeher", "höher"),
            ("groesser als vorher", "größer als vorher"),
            ("naegel waren noch heiss", "nägel waren noch heiß"),
            ("verschuettet", "verschüttet"),
            ("gefaess zurueck", "gefäß zurück"),
            ("genauer, neue quelle", "genauer, neue quelle"),
            ("höher", "höher"),
        ] {
            assert_eq!(restored(typed, &german), meant);
            assert_eq!(restored(typed, &Words::english()), typed);
        }
    }
}
