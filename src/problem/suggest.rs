//! “Did you mean …?”: the nearest of the names known, if one is near enough.

/// The shortest name that may be a part of the one meant.
const SHORTEST_PART: usize = 4;

/// The candidate nearest to a name, else the only one that the name is a part of; `None` when all are too far. Ties go to
/// the first.
#[must_use]
pub fn closest<'c>(name: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let limit = (name.chars().count() / 3).max(1);
    let mut best: Option<(usize, &'c str)> = None;
    let mut holding: Vec<&'c str> = Vec::new();
    for candidate in candidates {
        if name.len() >= SHORTEST_PART && candidate.to_lowercase().contains(&name.to_lowercase()) {
            holding.push(candidate);
        }
        let distance = if candidate.eq_ignore_ascii_case(name) {
            0
        } else {
            strsim::damerau_levenshtein(&name.to_lowercase(), &candidate.to_lowercase())
        };
        if distance <= limit && best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, candidate));
        }
    }
    best.map(|(_, candidate)| candidate).or(match holding[..] {
        [only] => Some(only),
        _ => None,
    })
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
}
