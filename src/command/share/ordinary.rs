//! Words that are names and something else besides, told apart by where they stand; and words in names that name nobody.

/// Verbs that stand behind nearly any word; typed small, they are names only where a sentence begins.
const VERBS: &[&str] = &["may", "will"];

/// Other words of English and German reports that somebody may be called.
const WORDS: &[&str] = &[
    "amber", "ash", "august", "autumn", "baker", "bell", "berg", "bill", "black", "bond", "braun",
    "brown", "clay", "cliff", "cook", "dale", "dawn", "day", "drew", "ernst", "faith", "fall",
    "fest", "field", "fine", "fisher", "ford", "frank", "fuchs", "gold", "grace", "grant", "gray",
    "green", "grey", "gross", "hand", "hazel", "heath", "hill", "hope", "hunter", "iris", "ivy",
    "jade", "jar", "joy", "kalt", "kerr", "king", "klar", "klein", "koch", "kraft", "kurz", "lake",
    "lang", "lily", "little", "long", "mark", "mason", "miles", "mills", "moon", "neu", "olive",
    "page", "park", "pearl", "penny", "poppy", "price", "ray", "reed", "rein", "rice", "rich",
    "rob", "rod", "rose", "roth", "ruby", "rusty", "salt", "sand", "sandy", "sharp", "short",
    "silver", "sky", "small", "snow", "sommer", "stark", "stein", "stone", "storm", "sue",
    "summer", "tag", "violet", "voll", "wade", "wards", "waters", "weber", "weiss", "wells",
    "west", "white", "wolf", "wood", "woods", "young",
];

/// Words beside names, typed small: `von der Leyen`, `Ana and Bo`, `Kim (they/them)`.
const BESIDE: &[&str] = &[
    "and", "und", "et", "von", "van", "vom", "der", "den", "dem", "die", "de", "del", "della",
    "di", "da", "do", "dos", "das", "du", "des", "la", "las", "le", "les", "los", "el", "al",
    "bin", "bint", "ibn", "zu", "zur", "zum", "ten", "ter", "te", "af", "av", "y", "e", "she",
    "her", "hers", "he", "him", "his", "they", "them", "theirs", "sie", "ihr", "er", "ihn",
];

/// Titles, in small letters.
const TITLES: &[&str] = &[
    "mr", "mrs", "ms", "miss", "mx", "dr", "prof", "jr", "sr", "herr", "frau",
];

/// Whether a word of a name names nobody. Somebody whose whole name is typed so may be called so all the same.
pub(super) fn names_nobody(word: &str) -> bool {
    BESIDE.contains(&word) || TITLES.contains(&word.to_lowercase().as_str())
}

/// Whether a word in small letters, which is a name too, means something else behind the text before it.
pub(super) fn is_meant(word: &str, before: &str) -> bool {
    if BESIDE.contains(&word) {
        return true;
    }
    let verb = VERBS.contains(&word);
    if !verb && !WORDS.contains(&word) {
        return false;
    }
    let before = before.trim_end_matches([' ', '\t', '\u{a0}', '*', '_', '(', '"', '“', '„', '\'']);
    if before.is_empty() || before.ends_with(['.', '!', '?', ':', ';', '\n', '\r']) {
        return false;
    }
    let last = before.rsplit(|c: char| c.is_whitespace()).next();
    let beside = [
        "and", "with", "by", "from", "und", "mit", "von", "&", "[name]",
    ];
    let listed = before.ends_with(',') || last.is_some_and(|last| beside.contains(&last));
    verb || !listed
}
