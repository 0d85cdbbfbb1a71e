//! Labs said to be in German, and the English that may not be left in what they print.

use std::collections::BTreeSet;

use gramleaf::causes::vocabulary;
use gramleaf::lab::builtin::BUILT_IN;
use gramleaf::words::LANGUAGES;

/// A lab description said to be in German, unless it says so itself.
#[allow(dead_code, reason = "not every test of German needs both")]
pub(crate) fn in_german(lab: &str) -> String {
    if lab.contains("\nlanguage ") {
        return lab.to_owned();
    }
    let german = lab.replacen("\nid ", "\nlanguage = \"de\"\nid ", 1);
    assert_ne!(german, lab, "no id in {lab}");
    german
}

/// What the program says in English and otherwise in German, between what is filled in: pieces of more than so many bytes, so that they
/// are nobody's own words, and in no description of a built-in lab. Lists of students' words are none of them.
#[allow(dead_code, reason = "not every test of German needs both")]
pub(crate) fn english_pieces(longer_than: usize) -> BTreeSet<String> {
    let (_, text) = LANGUAGES
        .iter()
        .find(|(code, _)| *code == "de")
        .expect("German");
    let strings: toml::Table = text.parse().expect("a strings file");
    let all = strings["say"].as_table().expect("texts").iter();
    all.filter(|(english, german)| german.as_str() != Some(english))
        .filter(|(english, _)| !vocabulary::all().any(|list| list == english.as_str()))
        .flat_map(|(english, _)| english.split(['{', '}']).step_by(2))
        .filter(|piece| piece.len() > longer_than)
        .filter(|piece| !BUILT_IN.iter().any(|(_, lab)| lab.contains(piece)))
        .map(str::to_owned)
        .collect()
}
