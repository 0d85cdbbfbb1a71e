//! How a word may be typed: without accents, without letters that a keyboard does not have, in one case or the other.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// More ways to type one word are not gone through.
const MOST: usize = 64;

/// Whether a character is part of a word: letters, digits, marks set over them, and what nobody sees between them.
pub(super) fn in_word(c: char) -> bool {
    // Letters to Unicode, but typed for an apostrophe.
    let apostrophe = matches!(c, '\u{2b9}'..='\u{2bf}');
    c.is_alphanumeric() && !apostrophe || is_combining_mark(c) || unseen(c)
}

/// Characters of no width that may stand in a word.
pub(super) const fn unseen(c: char) -> bool {
    matches!(
        c,
        '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{2060}' | '\u{feff}'
    )
}

/// A word in small letters without accents, in whatever way they were typed.
pub(super) fn folded(word: &str) -> String {
    let plain = word
        .nfkd()
        .filter(|c| !is_combining_mark(*c) && !unseen(*c));
    plain
        .flat_map(char::to_lowercase)
        // A capital dotted I becomes two characters.
        .filter(|c| !is_combining_mark(*c))
        .collect::<String>()
}

/// Every usual way to type a word in small letters of an English keyboard: `jørgen` as `jorgen` and `joergen`. What is typed
/// in such letters has one way.
pub(super) fn spellings(word: &str) -> Vec<String> {
    let mut all = vec![String::new()];
    for letter in word.nfc().flat_map(char::to_lowercase) {
        let known = instead_of(letter);
        let parts: Vec<Vec<String>> = if known.is_empty() {
            // Under its marks it may be one that is known: ǿ.
            let bare = folded(letter.encode_utf8(&mut [0; 4]));
            let ways = bare.chars().map(|c| match instead_of(c) {
                [] => vec![c.to_string()],
                known => known.iter().map(|&way| way.to_owned()).collect(),
            });
            ways.collect()
        } else {
            vec![known.iter().map(|&way| way.to_owned()).collect()]
        };
        for mut ways in parts {
            if all.len() * ways.len() > MOST {
                ways.truncate(1);
            }
            all = all
                .iter()
                .flat_map(|start| ways.iter().map(move |way| format!("{start}{way}")))
                .collect();
        }
    }
    all
}

/// What is typed for a letter where the keyboard has none, the commonest first.
const fn instead_of(letter: char) -> &'static [&'static str] {
    match letter {
        'ä' => &["a", "ae"],
        'ö' | 'ø' => &["o", "oe"],
        'ü' => &["u", "ue"],
        'å' => &["a", "aa"],
        'æ' => &["ae", "a", "e"],
        'œ' => &["oe", "o", "e"],
        'ß' => &["ss", "s", "sz"],
        'ł' => &["l"],
        'đ' => &["d", "dj"],
        'ð' => &["d", "dh", "th"],
        'þ' => &["th", "t", "p"],
        'ı' => &["i"],
        'ħ' => &["h"],
        'ŧ' => &["t"],
        'ŋ' => &["n", "ng"],
        'ə' => &["e", "a"],
        'ş' | 'š' | 'ș' => &["s", "sh"],
        'ç' | 'č' | 'ć' => &["c", "ch"],
        'ž' => &["z", "zh"],
        'ñ' => &["n", "ny"],
        _ => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_of_other_keyboards_are_typed_in_every_usual_way() {
        for (word, ways) in [
            ("Jørgen", vec!["jorgen", "joergen"]),
            ("JO\u{308}RG", vec!["jorg", "joerg"]),
            ("Đặng", vec!["dang", "djang"]),
            ("Işık", vec!["isik", "ishik"]),
            ("İpek", vec!["ipek"]),
            ("Þóra", vec!["thora", "tora", "pora"]),
            ("Łukasz", vec!["lukasz"]),
            ("Ǿ", vec!["o", "oe"]),
            ("Ana", vec!["ana"]),
        ] {
            assert_eq!(spellings(word), ways, "{word}");
        }
        assert!(spellings(&"ß".repeat(200)).len() <= MOST);
    }
}
