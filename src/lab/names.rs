//! Names that expressions may use, each for one thing only.

use crate::lab::Day;
use crate::lab::Find;
use crate::lab::Given;
use crate::lab::Term;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::suggest;

/// Reports a name that stands for two things.
pub(super) fn no_name_twice(days: &[Day], givens: &[Given], problems: &mut Vec<Problem>) {
    let mut seen: Vec<&str> = Vec::new();
    for asked in days.iter().flat_map(|day| &day.readings) {
        if seen.contains(&asked.name.as_str()) {
            problems.push(
                Problem::error(
                    Code::DuplicateName,
                    format!("two readings are called `{}`", asked.name),
                )
                .at(0..0, "in the `readings` of the days")
                .help("give each reading a name of its own"),
            );
        }
        seen.push(&asked.name);
    }
    for given in givens {
        if seen.contains(&given.name.as_str()) {
            problems.push(
                Problem::error(
                    Code::DuplicateName,
                    format!("`{}` is a reading and a given value", given.name),
                )
                .at(given.span.clone(), "also the name of a reading")
                .help("rename one of them"),
            );
        }
    }
}

/// The names that expressions may use.
pub(super) struct Names<'a> {
    known: Vec<&'a str>,
    finds: Vec<&'a str>,
}

impl<'a> Names<'a> {
    pub(super) fn new(days: &'a [Day], givens: &'a [Given], finds: &'a [Find]) -> Self {
        let readings = days
            .iter()
            .flat_map(|day| &day.readings)
            .map(|asked| asked.name.as_str());
        let known = readings
            .chain(givens.iter().map(|given| given.name.as_str()))
            .collect();
        Self {
            known,
            finds: finds.iter().map(|find| find.id.as_str()).collect(),
        }
    }

    pub(super) fn check_finds(&self, finds: &[Find], problems: &mut Vec<Problem>) {
        for find in finds {
            self.check(&find.value.term, problems);
            if let Some(expected) = &find.expected {
                self.check(&expected.term, problems);
            }
        }
    }

    /// Reports names that are misspelt readings; what may be a step is left to the plan.
    pub(super) fn check(&self, term: &Term, problems: &mut Vec<Problem>) {
        const STEPS: &[&str] = &[
            "molar_mass_",
            "mass_",
            "moles_",
            "limiting",
            "theoretical_",
            "expected_left_",
            "measured_left_",
            "used_",
            "needed_",
            "collected_",
            "percent_yield",
            "ratio_",
            "left_error_",
            "completion_",
            "recovery_",
            "accepted_",
            "error_",
            "alt",
        ];
        for (name, span) in term.names() {
            let may_be_step = STEPS.iter().any(|start| name.starts_with(start));
            if self.known.contains(&name) || self.finds.contains(&name) || may_be_step {
                continue;
            }
            let help = suggest::closest(name, self.known.iter().chain(&self.finds).copied())
                .map_or_else(
                    || "name a reading of `[day.N]`, a value of `[given]`, or a step".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
            problems.push(
                Problem::error(
                    Code::UnknownName,
                    format!("`{name}` is neither a reading, a given nor a step"),
                )
                .at(span, "not known")
                .help(help),
            );
        }
    }
}
