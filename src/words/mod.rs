//! The program's own wording in the language of a lab.
//!
//! Sentences stand in the code and in the templates in English. A strings file for each language, `src/words/*.toml`, holds
//! every one of them under `[say]`, the English text as the key; a test holds the files against the code and the
//! templates, so that no sentence is missing in a language and none is left over. What stands in braces, `{mass}`, is filled in.

mod umlauts;

pub use umlauts::restored;

use std::collections::BTreeMap;
use std::fmt;
use std::fmt::Write as _;
use std::sync::Arc;
use std::sync::OnceLock;

use serde::Serialize;
use serde::Serializer;

/// The languages built in: code and strings file.
pub const LANGUAGES: &[(&str, &str)] = &[
    ("en", include_str!("en.toml")),
    ("de", include_str!("de.toml")),
];

/// Languages that have been read.
static READ: [OnceLock<Words>; LANGUAGES.len()] = [const { OnceLock::new() }; LANGUAGES.len()];

/// The wording of one language. Cheap to copy.
#[derive(Clone)]
pub struct Words {
    code: &'static str,
    /// Translations by their English text; `None` for English, which needs none.
    table: Option<Arc<BTreeMap<String, String>>>,
    /// The decimal mark.
    decimal: char,
}

impl Words {
    /// English.
    #[must_use]
    pub const fn english() -> Self {
        Self {
            code: "en",
            table: None,
            decimal: '.',
        }
    }

    /// The wording of a language by its tag; `None` for one that is not built in. Its file is read when it is asked for the first time.
    ///
    /// A tag is read as BCP 47 has it: in any case of letters, and what follows the language (a region, a script) changes
    /// nothing here, since there is one wording a language.
    #[must_use]
    pub fn of(tag: &str) -> Option<Self> {
        let (code, further) = tag
            .split_once('-')
            .map_or((tag, None), |(code, rest)| (code, Some(rest)));
        let is_subtag = |part: &str| {
            (1..=8).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_alphanumeric())
        };
        if !further.is_none_or(|further| further.split('-').all(is_subtag)) {
            return None;
        }
        let place = LANGUAGES
            .iter()
            .position(|(known, _)| known.eq_ignore_ascii_case(code))?;
        let (code, text) = LANGUAGES[place];
        Some(READ[place].get_or_init(|| Self::read(code, text)).clone())
    }

    /// What a strings file holds; English where it holds nothing.
    fn read(code: &'static str, text: &str) -> Self {
        if code == "en" {
            return Self::english();
        }
        let file: toml::Table = text.parse().unwrap_or_default();
        let decimal = file.get("decimal").and_then(toml::Value::as_str);
        let say = file.get("say").and_then(toml::Value::as_table);
        let entries = say.into_iter().flatten().filter_map(|(english, own)| {
            let own = own.as_str()?;
            // An empty translation is one that is still to be written.
            (!own.is_empty()).then(|| (english.clone(), own.to_owned()))
        });
        Self {
            code,
            table: Some(Arc::new(entries.collect())),
            decimal: decimal.and_then(|text| text.chars().next()).unwrap_or('.'),
        }
    }

    /// The language's code: `de`.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        self.code
    }

    /// The decimal mark: a point, or a comma.
    #[must_use]
    pub const fn decimal_mark(&self) -> char {
        self.decimal
    }

    /// A text in this language; the English one where there is no other.
    #[must_use]
    pub fn say<'w>(&'w self, english: &'w str) -> &'w str {
        let own = self.table.as_ref().and_then(|table| table.get(english));
        own.map_or(english, String::as_str)
    }

    /// A text in this language with what stands in braces filled in. [`say!`](crate::say) is the usual way to call it.
    #[must_use]
    pub fn fill(&self, english: &str, values: &[(&str, &dyn Filling)]) -> String {
        let text = self.say(english);
        let mut out = String::with_capacity(text.len() + 32 * values.len());
        let mut rest = text;
        while let Some(open) = rest.bytes().position(|byte| byte == b'{') {
            let (before, behind) = (&rest[..open], &rest[open + 1..]);
            out.push_str(before);
            let filled = values.iter().find_map(|(name, value)| {
                let after = behind.strip_prefix(name)?.strip_prefix('}')?;
                Some((value, after))
            });
            if let Some((value, after)) = filled {
                value.push_to(&mut out);
                rest = after;
            } else {
                out.push('{');
                rest = behind;
            }
        }
        out.push_str(rest);
        out
    }

    /// A number, or a text with numbers in it, with this language's decimal mark: every point between two digits.
    #[must_use]
    pub fn number(&self, text: &str) -> String {
        if self.decimal == '.' {
            return text.to_owned();
        }
        let is_digit = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_digit);
        let bytes = text.as_bytes();
        let mut out = String::with_capacity(text.len());
        let mut written = 0;
        for (point, _) in text.match_indices('.') {
            if is_digit(bytes[..point].last()) && is_digit(bytes.get(point + 1)) {
                out.push_str(&text[written..point]);
                out.push(self.decimal);
                written = point + 1;
            }
        }
        out.push_str(&text[written..]);
        out
    }
}

/// What can be filled into a sentence.
pub trait Filling {
    /// Writes it behind what is there.
    fn push_to(&self, out: &mut String);
}

impl Filling for str {
    fn push_to(&self, out: &mut String) {
        out.push_str(self);
    }
}

impl Filling for String {
    fn push_to(&self, out: &mut String) {
        out.push_str(self);
    }
}

impl<T: Filling + ?Sized> Filling for &T {
    fn push_to(&self, out: &mut String) {
        (**self).push_to(out);
    }
}

impl<T: Filling + ?Sized> Filling for &mut T {
    fn push_to(&self, out: &mut String) {
        (**self).push_to(out);
    }
}

/// What is written as it displays itself.
macro_rules! displayed {
    ($($kind:ty),+) => {$(
        impl Filling for $kind {
            fn push_to(&self, out: &mut String) {
                // Writing to a String cannot fail.
                let _ = write!(out, "{self}");
            }
        }
    )+};
}

displayed!(i32, i64, u8, u32, u64, usize, char, fmt::Arguments<'_>);

/// Written as its code, by which templates find their language.
impl Serialize for Words {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.code)
    }
}

impl Default for Words {
    fn default() -> Self {
        Self::english()
    }
}

impl fmt::Debug for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Words").field(&self.code).finish()
    }
}

/// A sentence in the language of some [`Words`]: `say!(words, "{mass} of {name}", mass = "1.5 g", name = name)`.
/// The text must be a literal, so that the strings files can be held against the code.
#[macro_export]
macro_rules! say {
    ($words:expr, $text:literal) => {
        $words.say($text).to_owned()
    };
    ($words:expr, $text:literal, $($name:ident = $value:expr),+ $(,)?) => {
        $words.fill($text, &[$((stringify!($name), &$value)),+])
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_in_braces_is_filled_in() {
        let words = Words::english();
        for (text, filled) in [
            ("{a} of {b}", "1 of x"),
            ("{b}{a}", "x1"),
            ("{c} and {", "{c} and {"),
            ("none", "none"),
        ] {
            assert_eq!(words.fill(text, &[("a", &1), ("b", &"x")]), filled);
        }
        assert_eq!(say!(words, "{n} files", n = 3), "3 files");
        assert_eq!(say!(words, "plain"), "plain");
    }

    #[test]
    fn a_point_between_digits_becomes_the_decimal_mark() {
        let german = Words::of("de").expect("German");
        for (text, expected) in [
            ("1.53 g", "1,53 g"),
            ("3.07. and 2.", "3,07. and 2."),
            ("10.0 mL of 2.00 M", "10,0 mL of 2,00 M"),
            ("a.b", "a.b"),
        ] {
            assert_eq!(german.number(text), expected);
            assert_eq!(Words::english().number(text), text);
        }
    }

    #[test]
    fn a_language_is_known_in_any_case_of_letters_and_with_a_region() {
        for (tag, code) in [
            ("de", "de"),
            ("DE", "de"),
            ("De-at", "de"),
            ("de-DE", "de"),
            ("de-Latn-CH-1996", "de"),
            ("EN", "en"),
            ("en-GB", "en"),
        ] {
            assert_eq!(
                Words::of(tag).map(|words| words.code()),
                Some(code),
                "{tag}"
            );
        }
        for tag in [
            "", "xx", "den", "deutsch", "fr-DE", "de-", "-de", "de--DE", "de-Ö", "de DE",
        ] {
            assert!(Words::of(tag).is_none(), "{tag}");
        }
    }
}
