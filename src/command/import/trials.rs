//! Columns of one of several trials: `zinc_before (trial 2)`, `Trial 2: zinc strip`.

use crate::command::import::spellings::Found;
use crate::command::import::spellings::Meaning;
use crate::command::import::spellings::Spellings;
use crate::command::import::spellings::words;
use crate::report::form::FormFor;
use crate::report::form::Place;

/// Words for a trial in headings.
const TRIAL: [&str; 5] = ["trial", "run", "attempt", "versuch", "durchgang"];

impl Spellings {
    /// What a heading means, of whichever trial.
    pub(super) fn find(&self, head: &str) -> Found {
        if let known @ Found::Meaning(..) = self.exactly(&words(head)) {
            return known;
        }
        let of_trial = in_trial(head).and_then(|(trial, rest)| match self.in_one(&rest) {
            Found::Meaning(Meaning::Box(Place::Reading(name), number), bracket) => {
                let place = if trial == 1 {
                    Place::Reading(name)
                } else {
                    Place::OfTrial(trial, name)
                };
                Some(Found::Meaning(Meaning::Box(place, number), bracket))
            }
            _ => None,
        });
        of_trial.unwrap_or_else(|| self.in_one(head))
    }
}

/// The trial that a heading names, and the heading without it.
fn in_trial(head: &str) -> Option<(u32, String)> {
    let lower = head.to_ascii_lowercase();
    TRIAL.iter().find_map(|word| {
        lower.match_indices(word).find_map(|(start, _)| {
            let inside = lower[..start].ends_with(char::is_alphanumeric);
            let behind = &lower[start + word.len()..];
            let number = behind.trim_start_matches([' ', '.', '#', '-', '_', ':']);
            let rest = number.trim_start_matches(|c: char| c.is_ascii_digit());
            let digits = &number[..number.len() - rest.len()];
            let trial: u32 = digits.parse().ok()?;
            let whole = !inside && !rest.starts_with(char::is_alphanumeric);
            let end = head.len() - rest.len();
            (whole && (1..=99).contains(&trial))
                .then(|| (trial, format!("{} {}", &head[..start], &head[end..])))
        })
    })
}

/// A reading whose column belongs to no trial holds for every trial of its row, where other readings have columns of their own for
/// each. `own` are the readings that do.
pub(super) fn share_common(whose: &mut FormFor, own: &[&str]) {
    let begun = whose
        .filled
        .iter()
        .filter_map(|(place, texts)| match place {
            Place::OfTrial(trial, _) if texts.iter().any(|text| !text.is_empty()) => Some(*trial),
            _ => None,
        });
    let begun: std::collections::BTreeSet<u32> = begun.collect();
    let common: Vec<(String, Vec<String>)> = whose
        .filled
        .iter()
        .filter_map(|(place, texts)| match place {
            Place::Reading(name) if !own.contains(&name.as_str()) => {
                Some((name.clone(), texts.clone()))
            }
            _ => None,
        })
        .collect();
    for trial in begun {
        for (name, texts) in &common {
            let place = Place::OfTrial(trial, name.clone());
            whose.filled.insert(place, texts.clone());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trial_is_found_in_a_heading_wherever_it_stands() {
        for (head, expected) in [
            ("zinc (trial 2)", Some((2, "zinc ( )"))),
            ("Trial 3: zinc (g)", Some((3, " : zinc (g)"))),
            ("zinc_trial_2", Some((2, "zinc_ "))),
            ("zinc trial #2 (g)", Some((2, "zinc   (g)"))),
            ("Versuch 2 – Zink", Some((2, "  – Zink"))),
            ("trial", None),
            ("trials 2", None),
            ("industrial 2", None),
            ("trial 0", None),
            ("trial 2b", None),
        ] {
            let found = in_trial(head);
            let expected = expected.map(|(trial, rest)| (trial, rest.to_owned()));
            assert_eq!(found, expected, "{head}");
        }
    }
}
