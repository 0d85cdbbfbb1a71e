//! “Did you mean …?”: the nearest of the names known, if one is near enough.

/// The shortest name that may be a part of the one meant.
const SHORTEST_PART: usize = 4;

/// A misspelt part may differ from a candidate's by one letter in so many: a part fits by chance more easily than a whole name.
const LETTERS_A_SLIP: usize = 4;

/// The candidate nearest to a name, else the only one that the name is a part of, else the only one that it is a misspelt part
/// of (`zinc-coper` of `zinc-copper-sulfate`); `None` when all are too far. Ties between whole names go to the first.
#[must_use]
pub fn closest<'c>(name: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let limit = (name.chars().count() / 3).max(1);
    let mut best: Option<(usize, &'c str)> = None;
    let mut holding: Vec<&'c str> = Vec::new();
    let mut near_part: Vec<(usize, &'c str)> = Vec::new();
    for candidate in candidates {
        if name.len() >= SHORTEST_PART && candidate.to_lowercase().contains(&name.to_lowercase()) {
            holding.push(candidate);
        }
        near_part.extend(distance_of_part(name, candidate).map(|distance| (distance, candidate)));
        let distance = if candidate.eq_ignore_ascii_case(name) {
            0
        } else {
            strsim::damerau_levenshtein(&name.to_lowercase(), &candidate.to_lowercase())
        };
        if distance <= limit && best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, candidate));
        }
    }
    let least = near_part.iter().map(|(distance, _)| *distance).min();
    near_part.retain(|(distance, _)| Some(*distance) == least);
    best.map(|(_, candidate)| candidate)
        .or(match (&holding[..], &near_part[..]) {
            ([only], _) | ([], [(_, only)]) => Some(*only),
            _ => None,
        })
}

/// How far a name is from the part of a candidate that has as many words; `None` when no part is near.
fn distance_of_part(name: &str, candidate: &str) -> Option<usize> {
    let name = name.to_lowercase();
    let words = |text: &str| -> Vec<String> {
        let words = text.split(['-', '_']);
        words.map(str::to_lowercase).collect()
    };
    let (own, all) = (words(&name), words(candidate));
    let parts = all.windows(own.len()).map(|part| part.join("-"));
    let distances = parts.map(|part| strsim::damerau_levenshtein(&own.join("-"), &part));
    let nearest = distances.min()?;
    (nearest * LETTERS_A_SLIP <= name.chars().count()).then_some(nearest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_names_are_found_and_far_ones_are_not() {
        let names = ["dish_empty", "dish_with_salt", "zinc_before"];
        assert_eq!(closest("dish_emty", names), Some("dish_empty"));
        assert_eq!(closest("Zinc_Before", names), Some("zinc_before"));
        assert_eq!(closest("zzz", names), None);
        assert_eq!(closest("zinc", names), Some("zinc_before"));
        assert_eq!(closest("dish", names), None);
    }

    #[test]
    fn a_misspelt_part_of_one_name_is_found_and_one_of_several_is_not() {
        let names = [
            "copper-cycle",
            "unknown-hydrate",
            "water-in-hydrate",
            "zinc-copper-sulfate",
            "zinc-iodide",
        ];
        for (name, near) in [
            ("zinc-coper", Some("zinc-copper-sulfate")),
            ("Zinc_Coper", Some("zinc-copper-sulfate")),
            ("coper-sulfate", Some("zinc-copper-sulfate")),
            ("iodid", Some("zinc-iodide")),
            ("jodide", Some("zinc-iodide")),
            ("unknwon", Some("unknown-hydrate")),
            ("hydrat", None),
            ("zink", None),
            ("zinc-gold", None),
            ("sugar", None),
            ("-", None),
            ("", None),
        ] {
            assert_eq!(closest(name, names), near, "{name}");
        }
    }
}
