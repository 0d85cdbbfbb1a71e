//! The labs built in: the files `samples/*/lab.toml`, embedded.

/// Id and text of every built-in lab, in order of id.
pub const BUILT_IN: &[(&str, &str)] = &[
    (
        "aluminium-copper-chloride",
        include_str!("../../samples/aluminium-copper-chloride/lab.toml"),
    ),
    (
        "baking-soda",
        include_str!("../../samples/baking-soda/lab.toml"),
    ),
    (
        "calcium-carbonate-precipitate",
        include_str!("../../samples/calcium-carbonate-precipitate/lab.toml"),
    ),
    (
        "iron-copper-chloride",
        include_str!("../../samples/iron-copper-chloride/lab.toml"),
    ),
    (
        "magnesium-oxide",
        include_str!("../../samples/magnesium-oxide/lab.toml"),
    ),
    (
        "water-in-hydrate",
        include_str!("../../samples/water-in-hydrate/lab.toml"),
    ),
    (
        "zinc-copper-sulfate",
        include_str!("../../samples/zinc-copper-sulfate/lab.toml"),
    ),
];

/// The text of a built-in lab.
#[must_use]
pub fn find(id: &str) -> Option<&'static str> {
    BUILT_IN
        .iter()
        .find(|(known, _)| *known == id)
        .map(|(_, text)| *text)
}
