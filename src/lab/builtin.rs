//! The labs built in: the files `samples/*/lab.toml`, embedded.

/// Id and text of every built-in lab, in order of id.
pub const BUILT_IN: &[(&str, &str)] = &[
    (
        "aluminium-copper-chloride",
        include_str!("../../samples/aluminium-copper-chloride/lab.toml"),
    ),
    ("aspirin", include_str!("../../samples/aspirin/lab.toml")),
    (
        "baking-soda",
        include_str!("../../samples/baking-soda/lab.toml"),
    ),
    (
        "calcium-carbonate-precipitate",
        include_str!("../../samples/calcium-carbonate-precipitate/lab.toml"),
    ),
    (
        "calcium-phosphate",
        include_str!("../../samples/calcium-phosphate/lab.toml"),
    ),
    (
        "copper-cycle",
        include_str!("../../samples/copper-cycle/lab.toml"),
    ),
    (
        "copper-silver-nitrate",
        include_str!("../../samples/copper-silver-nitrate/lab.toml"),
    ),
    (
        "copper-sulfate-crystals",
        include_str!("../../samples/copper-sulfate-crystals/lab.toml"),
    ),
    (
        "eisen-kupfersulfat",
        include_str!("../../samples/eisen-kupfersulfat/lab.toml"),
    ),
    (
        "hydrogen-over-water",
        include_str!("../../samples/hydrogen-over-water/lab.toml"),
    ),
    (
        "iron-copper-chloride",
        include_str!("../../samples/iron-copper-chloride/lab.toml"),
    ),
    (
        "iron-powder",
        include_str!("../../samples/iron-powder/lab.toml"),
    ),
    (
        "magnesium-oxide",
        include_str!("../../samples/magnesium-oxide/lab.toml"),
    ),
    (
        "marble-and-acid",
        include_str!("../../samples/marble-and-acid/lab.toml"),
    ),
    (
        "salt-by-evaporation",
        include_str!("../../samples/salt-by-evaporation/lab.toml"),
    ),
    (
        "soda-in-mixture",
        include_str!("../../samples/soda-in-mixture/lab.toml"),
    ),
    (
        "unknown-hydrate",
        include_str!("../../samples/unknown-hydrate/lab.toml"),
    ),
    (
        "water-in-hydrate",
        include_str!("../../samples/water-in-hydrate/lab.toml"),
    ),
    (
        "zinc-copper-sulfate",
        include_str!("../../samples/zinc-copper-sulfate/lab.toml"),
    ),
    (
        "zinc-iodide",
        include_str!("../../samples/zinc-iodide/lab.toml"),
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
