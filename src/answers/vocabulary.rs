//! What students write around the names of substances, in the language of their lab.

use crate::words::Words;

/// The words of one language, in small letters and without umlauts: `ueberschuss`.
pub(super) struct Vocabulary {
    /// All of them running out together.
    pub all: &'static [&'static str],
    /// Where another clause begins.
    pub joins: &'static [&'static str],
    /// Where the reason begins, which names other substances.
    pub reasons: &'static [&'static str],
    /// Beside a substance: there is enough of it.
    pub plenty: &'static [&'static str],
    /// Verbs that say so, and whose “not” stands behind them.
    pub suffices: &'static [&'static str],
    /// Beside a substance: it is not the one.
    pub negations: &'static [&'static str],
    /// Between a negation and the name it is said of.
    pub articles: &'static [&'static str],
    /// Behind a negation: it is used up.
    pub no_more: &'static [&'static str],
    /// What a name may end in besides: `Zinkblech`, `Kupfersulfats`.
    pub endings: &'static [&'static str],
    /// Words that grow together with the name before them: `Zinkueberschuss`.
    pub grown: &'static [&'static str],
    /// Parts of names and other ways to write them.
    pub spellings: &'static [(&'static str, &'static str)],
    /// Between an amount and its substance.
    pub of: &'static [&'static str],
    /// Between the two sides of a ratio.
    pub to: &'static [&'static str],
    /// Between an amount and the one mole it goes with: “0.965 mol of copper per mol of zinc”.
    pub per: &'static [&'static str],
    /// In the label of a reading, before what lies in the vessel.
    pub with: &'static [&'static str],
    /// What a word may end in behind such a word, and not where it stands alone: “mit blauen Kristallen”.
    pub cases: &'static [&'static str],
    /// Nothing, where something is left.
    pub nothing: &'static [&'static str],
    /// Before what there is none of.
    pub no: &'static [&'static str],
    /// Around it.
    pub there_is: &'static [&'static str],
    /// What a percentage may be of.
    pub yields: &'static [&'static str],
}

const ENGLISH: Vocabulary = Vocabulary {
    all: &["both", "neither", "together", "same"],
    joins: &["|", "so", "and", "but", "because", "then"],
    reasons: &["because", "since"],
    plenty: &["excess", "left", "leftover", "remains", "enough", "much"],
    suffices: &[],
    negations: &[
        "not", "no", "none", "nothing", "isn", "isnt", "wasn", "wasnt", "doesn", "doesnt", "didn",
        "didnt",
    ],
    articles: &["the"],
    no_more: &[],
    endings: &[],
    grown: &[],
    spellings: &[("sulf", "sulph"), ("aluminium", "aluminum")],
    of: &["of"],
    to: &["to"],
    per: &["per", "for each", "for every"],
    with: &["with"],
    cases: &[],
    nothing: &["none", "nothing", "zero", "nil"],
    no: &["no"],
    there_is: &[
        "there",
        "is",
        "was",
        "will",
        "be",
        "left",
        "over",
        "leftover",
        "remains",
        "remaining",
    ],
    yields: &["yield"],
};

/// With the English words that may stand in a lesson held in two languages.
const GERMAN: Vocabulary = Vocabulary {
    all: &[
        "beide",
        "beides",
        "beiden",
        "keiner",
        "keines",
        "keins",
        "weder",
        "zusammen",
        "gleichzeitig",
        "gleich",
        "both",
        "neither",
    ],
    joins: &[
        "|", "und", "aber", "sondern", "weil", "da", "denn", "also", "deshalb", "daher", "dann",
        "sodass", "dass", "waehrend", "and", "but", "because",
    ],
    reasons: &["weil", "denn", "da", "because"],
    plenty: &[
        "ueberschuss",
        "ueberschuessig",
        "ueberschuessige",
        "ueberschuessiges",
        "ueberschuessiger",
        "ueberschuessigen",
        "uebrig",
        "uebriges",
        "uebrige",
        "uebrigbleibt",
        "rest",
        "zurueck",
        "noch",
        "vorhanden",
        "viel",
        "genug",
        "genuegend",
        "ausreichend",
        "reicht",
        "genuegt",
        "excess",
        "left",
        "leftover",
    ],
    suffices: &["reicht", "genuegt"],
    negations: &["nicht", "kein", "keine", "nichts", "not"],
    articles: &["das", "die", "der", "den", "dem", "the"],
    no_more: &["mehr"],
    endings: &[
        "s",
        "blech",
        "streifen",
        "pulver",
        "stueck",
        "stuecke",
        "spaene",
        "draht",
        "band",
        "granulat",
        "wolle",
        "nagel",
        "naegel",
        "kristalle",
        "salz",
        "loesung",
    ],
    grown: &["ueberschuss", "rest"],
    spellings: &[
        ("sulf", "sulph"),
        ("iod", "jod"),
        ("calcium", "kalzium"),
        ("cobalt", "kobalt"),
        ("carbonat", "karbonat"),
        ("silicium", "silizium"),
        ("bismut", "wismut"),
    ],
    of: &["von", "of"],
    to: &["zu", "to"],
    per: &["pro", "je", "auf", "per"],
    with: &["mit"],
    cases: &["n"],
    nothing: &[
        "nichts", "keins", "keines", "keiner", "null", "none", "nothing",
    ],
    no: &["kein", "keine"],
    there_is: &[
        "es", "ist", "bleibt", "war", "mehr", "da", "uebrig", "zurueck", "left",
    ],
    yields: &["ausbeute", "yield"],
};

/// The vocabulary of a language.
pub(super) fn of(words: &Words) -> &'static Vocabulary {
    match words.code() {
        "de" => &GERMAN,
        _ => &ENGLISH,
    }
}
