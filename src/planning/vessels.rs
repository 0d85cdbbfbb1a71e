//! Vessels to set out: what the lab weighs empty, told from the order in which its differences are read.

use std::collections::BTreeSet;

use crate::measure::Unit;
use crate::planning::Preparation;
use crate::planning::trial;
use crate::working::Expression;
use crate::working::Kind;

/// One weighed difference: readings that are added and taken away.
struct Difference {
    added: BTreeSet<usize>,
    taken: BTreeSet<usize>,
}

impl<'a> Preparation<'a> {
    /// Labels of the readings that want a vessel, one each a group.
    #[must_use]
    pub fn vessels(&self) -> Vec<&'a str> {
        let mut differences = Vec::new();
        let mut alone: BTreeSet<usize> = BTreeSet::new();
        for step in self.graph.steps() {
            if !matches!(
                step.kind,
                Kind::Mass(_) | Kind::Collected(_) | Kind::MeasuredLeft(_)
            ) {
                continue;
            }
            if let Expression::Reading(reading) = &step.expression {
                alone.insert(*reading);
            } else {
                let weighed = |mut readings: BTreeSet<usize>| {
                    readings
                        .retain(|reading| self.graph.readings[*reading] == Unit::Gram.dimension());
                    readings
                };
                differences.push(Difference {
                    added: weighed(trial::added(&step.expression)),
                    taken: weighed(trial::taken_away(&step.expression)),
                });
            }
        }
        // An empty vessel is weighed before something fills it.
        let empty = |difference: &Difference, reading: usize| {
            difference.added.iter().any(|full| *full > reading)
                && !differences
                    .iter()
                    .any(|other| other.added.contains(&reading))
        };
        let mut vessels: BTreeSet<usize> = BTreeSet::new();
        let mut full: BTreeSet<usize> = BTreeSet::new();
        for difference in &differences {
            let tares: Vec<usize> = difference
                .taken
                .iter()
                .copied()
                .filter(|reading| empty(difference, *reading))
                .collect();
            vessels.extend(&tares);
            if !tares.is_empty() {
                full.extend(&difference.added);
            }
        }
        // One that is weighed full, and again when something has gone out of it, is set out as it is first weighed.
        for difference in &differences {
            let known = |reading: &usize| full.contains(reading) || vessels.contains(reading);
            let emptied = !difference.taken.is_empty() && !difference.taken.iter().any(known);
            if emptied && !difference.added.iter().any(known) {
                let mut first = difference.added.iter();
                vessels.extend(first.find(|reading| !alone.contains(reading)));
            }
        }
        let readings = self.lab.readings().enumerate();
        readings
            .filter(|(index, _)| vessels.contains(index))
            .map(|(_, (_, asked))| asked.label.as_str())
            .collect()
    }
}
