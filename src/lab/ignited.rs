//! Which readings weigh something ignited: it is heated again, not dried again.

use crate::lab::Asked;
use crate::words::Words;

/// Words of a reading that weighs what was ignited or heated in a crucible.
pub const IGNITED: &str = "crucible, ignit, calcin";

/// Crucibles that filter, and are dried and not ignited.
pub const FILTERS: &str = "glass crucible, filter crucible, filtering crucible, sintered, gooch";

impl Asked {
    /// Whether it weighs what was ignited or heated in a crucible, by its words.
    #[must_use]
    pub fn is_ignited(&self, words: &Words) -> bool {
        let note = self.note.as_deref().unwrap_or_default();
        let text = format!("{} {note}", self.label).to_lowercase();
        let says = |list| words.say(list).split(", ").any(|word| text.contains(word));
        says(IGNITED) && !says(FILTERS)
    }
}

#[cfg(test)]
mod tests {
    use super::Asked;
    use crate::measure::Unit;
    use crate::words::Words;

    #[test]
    fn a_crucible_is_ignited_unless_it_filters() {
        for (code, label, note, is) in [
            ("en", "the same crucible with the oxide", "", true),
            ("en", "dish", "one reading each time you ignited it", true),
            ("en", "Glass crucible with precipitate", "", false),
            ("en", "beaker with copper", "", false),
            ("de", "derselbe Tiegel mit dem Oxid", "", true),
            ("de", "Filtertiegel mit Niederschlag", "", false),
        ] {
            let asked = Asked {
                name: String::new(),
                label: label.to_owned(),
                note: Some(note.to_owned()),
                unit: Unit::Gram,
                instrument: None,
                series: None,
            };
            assert_eq!(asked.is_ignited(&Words::of(code).unwrap()), is, "{label}");
        }
    }
}
