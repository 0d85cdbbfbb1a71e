//! Words that are names and something else besides, told apart by where they stand; and words in names that name nobody.

/// Verbs that somebody may be called.
const VERBS: &[&str] = &[
    "bill", "can", "cook", "drew", "fall", "grant", "hope", "mark", "may", "price", "rob", "rose",
    "sue", "wade", "will",
];

/// What somebody may be called and a thing is like.
const LIKE: &[&str] = &[
    "amber", "black", "braun", "brown", "fest", "fine", "frank", "gold", "gray", "green", "grey",
    "gross", "hazel", "kalt", "klar", "klein", "kurz", "lang", "little", "long", "neu", "olive",
    "rein", "rich", "rusty", "sandy", "sharp", "short", "silver", "small", "stark", "violet",
    "voll", "weiss", "white", "young",
];

/// Other words of English and German reports that somebody may be called.
const WORDS: &[&str] = &[
    "art", "ash", "august", "autumn", "baker", "bell", "berg", "bond", "chance", "clay", "cliff",
    "dale", "dawn", "day", "ernst", "faith", "field", "fisher", "ford", "fuchs", "gene", "grace",
    "hand", "heath", "hill", "hunter", "iris", "ivy", "jade", "jar", "joy", "kerr", "king", "koch",
    "kraft", "lake", "lily", "mason", "miles", "min", "mills", "moon", "page", "park", "pearl",
    "penny", "poppy", "ray", "reed", "rain", "rice", "ring", "rod", "roth", "ruby", "salt", "sand",
    "sky", "snow", "sommer", "son", "song", "star", "sun", "stein", "stone", "storm", "summer",
    "tag", "wards", "waters", "weber", "wells", "west", "wolf", "wood", "woods",
];

/// Nobody's name stands behind one of these. German articles do stand before names, and so do prepositions: `der mark`, `with mark`.
const BEFORE_A_THING: &[&str] = &[
    "the", "a", "an", "my", "our", "your", "its", "their", "every", "each", "per", "first",
    "second", "third", "last", "next", "same", "other", "two", "three", "four", "das", "ein",
    "eine", "einen", "einem", "einer", "eines", "kein", "keine", "keinen", "jede", "jeden",
    "jedem", "ins", "im", "am", "ans", "unser", "unsere", "unserem", "unseren", "dry", "wet",
    "damp", "pure", "coarse", "hot", "cold", "clean", "clear", "blue", "white", "black", "grey",
    "gray", "red", "pink", "yellow", "orange", "thin", "thick", "solid", "bright", "pale",
];

/// What a thing is like stands behind one of these.
const BEFORE_LIKE: &[&str] = &[
    "is", "was", "were", "are", "be", "been", "became", "becomes", "turned", "turns", "stayed",
    "looked", "looks", "seemed", "too", "very", "quite", "not", "as", "how", "ist", "war", "waren",
    "sind", "wird", "wurde", "wurden", "werden", "blieb", "bleibt", "zu", "ganz", "nicht", "fast",
    "etwas", "noch", "schon", "relativ", "recht",
];

/// A verb behind one of these is theirs, and no name.
const PRONOUNS: &[&str] = &[
    "i", "we", "you", "they", "he", "she", "there", "ich", "er", "es", "man", "wer",
];

/// The same, but these may also stand before a subject: `the dish which mark and rose dropped`.
const RELATIVE: &[&str] = &["it", "which", "what", "who"];

/// Things that verbs are said of, and that adjectives stand before.
const THINGS: &[&str] = &[
    "air",
    "amount",
    "amounts",
    "balance",
    "bits",
    "bubbles",
    "color",
    "colour",
    "copper",
    "crystals",
    "drops",
    "error",
    "errors",
    "filter",
    "flakes",
    "foam",
    "gas",
    "grains",
    "heat",
    "iron",
    "layer",
    "level",
    "liquid",
    "liquids",
    "loss",
    "losses",
    "mass",
    "masses",
    "metal",
    "mixture",
    "oven",
    "paper",
    "percentage",
    "pieces",
    "powder",
    "precipitate",
    "pressure",
    "product",
    "ratio",
    "reaction",
    "reading",
    "readings",
    "residue",
    "result",
    "results",
    "salt",
    "scale",
    "smoke",
    "solid",
    "solution",
    "steam",
    "strips",
    "temperature",
    "time",
    "value",
    "values",
    "vapor",
    "vapour",
    "volume",
    "water",
    "weight",
    "yield",
    "zinc",
];

/// What somebody did, where its ending does not tell: whose name stands before it has done it.
const DID: &[&str] = &[
    "was", "were", "is", "has", "had", "did", "does", "broke", "brought", "caught", "cut", "felt",
    "found", "forgot", "gave", "got", "held", "hit", "kept", "knew", "left", "let", "lost", "made",
    "put", "ran", "read", "said", "saw", "says", "set", "shook", "spilt", "spoilt", "stood",
    "swept", "thought", "threw", "told", "took", "tore", "went", "who", "wrote", "hat", "hatte",
];

/// Words beside names, typed small: `von der Leyen`, `Ana and Bo`, `Kim (they/them)`.
const BESIDE: &[&str] = &[
    "and", "und", "et", "von", "van", "vom", "der", "den", "dem", "die", "de", "del", "della",
    "di", "da", "do", "dos", "das", "du", "des", "la", "las", "le", "les", "los", "el", "al",
    "bin", "bint", "ibn", "zu", "zur", "zum", "ten", "ter", "te", "af", "av", "y", "e", "she",
    "her", "hers", "he", "him", "his", "they", "them", "theirs", "sie", "ihr", "er", "ihn",
];

/// Words that are no name with an s behind it.
const NOT_OWNING: &[&str] = &[
    "adds", "aims", "alles", "anders", "arms", "asks", "balls", "bars", "cans", "cars", "dies",
    "does", "dots", "eins", "ends", "eyes", "falls", "goes", "hours", "ions", "jeans", "jedes",
    "keys", "lens", "lets", "lies", "links", "lots", "mins", "notes", "ours", "pans", "pens",
    "rings", "runs", "secs", "sees", "sets", "songs", "suns", "tens", "this", "thus", "times",
    "tins", "tips", "tops", "tubes", "ways", "wins", "yours",
];

/// Titles, in small letters.
const TITLES: &[&str] = &[
    "mr", "mrs", "ms", "miss", "mx", "dr", "prof", "jr", "sr", "herr", "frau",
];

/// Whether a word of a name names nobody. Somebody whose whole name is typed so may be called so all the same.
pub(super) fn names_nobody(word: &str) -> bool {
    BESIDE.contains(&word) || TITLES.contains(&word.to_lowercase().as_str())
}

/// Whether a word in small letters with an s at its end may be somebody's name with it.
pub(super) fn may_own(word: &str) -> bool {
    word.ends_with('s') && !word.ends_with("ss") && !NOT_OWNING.contains(&word)
}

/// Whether a word in small letters takes endings that no name takes: `weisse`.
pub(super) fn is_inflected(word: &str) -> bool {
    LIKE.contains(&word)
}

/// Whether a word in small letters, which is a name too, surely means something else between the text before it and the text behind:
/// `to the mark`, `the temperature rose`, `it may`. In doubt it is a name.
pub(super) fn is_meant(word: &str, before: &str, behind: &str) -> bool {
    if BESIDE.contains(&word) {
        return true;
    }
    let (verb, like) = (VERBS.contains(&word), LIKE.contains(&word));
    if !verb && !like && !WORDS.contains(&word) {
        return false;
    }
    let before = before.trim_end_matches([' ', '\u{a0}', '*', '_', '(', '"', '“', '„', '\'']);
    // A line may end anywhere in a sentence, a paragraph only behind it.
    if before.ends_with("\n\n") {
        return false;
    }
    let last = before.trim_end();
    let last = last.rsplit(|c: char| !c.is_alphanumeric()).next();
    let last = last.unwrap_or_default().to_lowercase();
    let next = behind.trim_start();
    let end = next.find(|c: char| !c.is_alphanumeric());
    let next = next[..end.unwrap_or(next.len())].to_lowercase();
    let (last, next) = (last.as_str(), next.as_str());
    let number = behind.trim_start_matches(['.', ' ', '\u{a0}']);
    let counted = (["day", "page", "tag"].contains(&word) && number.starts_with(char::is_numeric))
        || (word == "min" && last.ends_with(char::is_numeric));
    if last.is_empty() || counted || BEFORE_A_THING.contains(&last) {
        return counted || !last.is_empty();
    }
    let owns = behind.starts_with(['\'', '’']);
    let somebody_did = owns
        || next.ends_with("ed")
        || DID.contains(&next)
        || (RELATIVE.contains(&last) && ["and", "or", "und", "oder"].contains(&next));
    // Nobody is asked to do so: `and will be`.
    let modal = ["can", "may", "will"].contains(&word) && next == "be" && last != "let";
    let says = [PRONOUNS, RELATIVE, THINGS];
    let verb = verb && says.iter().any(|subjects| subjects.contains(&last));
    let like = like && (BEFORE_LIKE.contains(&last) || THINGS.contains(&next));
    modal || !somebody_did && (verb || like)
}

#[cfg(test)]
mod tests {
    use super::is_meant;

    #[test]
    fn a_word_stands_only_where_nobody_can_be_meant() {
        for (before, word, behind, meant) in [
            ("up to the ", "mark", ".", true),
            ("The temperature\n", "rose", " to 30", true),
            ("The gas ", "may", " escape", true),
            ("the dish, which ", "will", " dry", true),
            ("We ", "hope", " so", true),
            ("it was ", "white", " and dry", true),
            ("it was ", "white", ", then dry", true),
            ("Es blieb ", "klar", ".", true),
            ("weil man ", "will", "", true),
            ("dissolved and ", "will", " be dried", true),
            ("with pure ", "gold", "", true),
            ("On ", "day", " 3", true),
            ("for 5 ", "min", "", true),
            ("we ", "can", " see", true),
            ("since ", "can", " spilled it", false),
            ("gave ", "max", " 3 g", false),
            ("gave ", "white", " powder", true),
            ("The temperature ", "rose", " and fell", true),
            ("the dish which ", "mark", " and Bo dropped", false),
            ("", "rose", " spilled", false),
            ("Then ", "mark", " dropped it", false),
            ("I saw ", "rose", " spill it", false),
            ("We asked ", "will", " to weigh", false),
            ("Our partner ", "hope", " washed it", false),
            ("Because ", "rose", " spilled", false),
            ("the beaker which ", "mark", " dropped", false),
            ("After weighing it ", "rose", " went", false),
            ("We think that ", "will", " may know", false),
            ("gave it to ", "mark", ".", false),
            ("done by ", "hand", "", false),
            ("the error of ", "rose", "", false),
            ("The water, ", "rose", " says", false),
            ("It fell.\n\n", "mark", " saw", false),
            ("Danach hat ", "mark", " gewogen", false),
            ("weil ", "will", " verschüttet hat", false),
            ("der ", "mark", " war es", false),
            ("mit ", "klein", " gewogen", false),
            ("the water ", "rose", "'s beaker", false),
        ] {
            assert_eq!(
                is_meant(word, before, behind),
                meant,
                "{before}{word}{behind}"
            );
        }
    }
}
