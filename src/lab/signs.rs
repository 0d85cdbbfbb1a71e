//! Yes-or-no questions about the bench that any lab may use by their ids.

/// Id and question.
pub const BUILT_IN: &[(&str, &str)] = &[
    (
        "air_in_tube",
        "Was there air in the tube before the reaction began?",
    ),
    (
        "bubbles_escaped",
        "Did gas bubbles get out past the mouth of the tube?",
    ),
    ("bubbles_on_metal", "Did you see bubbles on the metal?"),
    (
        "different_balance_used",
        "Was another balance used for one of the weighings?",
    ),
    (
        "filtrate_cloudy",
        "Was the liquid that ran through the filter cloudy?",
    ),
    (
        "label_added_later",
        "Was a label or tape put on a vessel after it was weighed empty?",
    ),
    (
        "levels_differed",
        "Did the liquid stand higher or lower in the tube than outside when the gas was read?",
    ),
    (
        "liquid_still_coloured",
        "Was the liquid still coloured at the end of the reaction?",
    ),
    (
        "metal_in_product",
        "Were there shiny pieces of metal in the product?",
    ),
    ("paper_torn", "Did the filter paper tear?"),
    (
        "product_still_damp",
        "Did the product still look damp or clumped at the last weighing?",
    ),
    (
        "residue_still_coloured",
        "Did the residue still show its first colour at the last weighing?",
    ),
    ("sample_spilled", "Was anything spilled?"),
    ("smoke_escaped", "Did smoke or dust escape?"),
    (
        "solid_looked_dark",
        "Did the dry solid look darker than it should?",
    ),
    (
        "solid_poured_away",
        "Was any solid poured away with the liquid?",
    ),
    (
        "solid_stuck_to_glass",
        "Did solid stay on the glass, the rod or the tweezers?",
    ),
    ("solid_stuck_to_metal", "Did solid stay on the metal?"),
    (
        "spattering_seen",
        "Did anything jump or splash out while heating?",
    ),
    ("vapour_escaped", "Did coloured vapour escape?"),
    (
        "vessel_warm_at_weighing",
        "Was a vessel still warm when it was weighed?",
    ),
    ("washing_skipped", "Was a washing left out or cut short?"),
];

/// The question of a built-in sign.
#[must_use]
pub fn question(id: &str) -> Option<&'static str> {
    BUILT_IN
        .iter()
        .find(|(known, _)| *known == id)
        .map(|(_, question)| *question)
}
