//! The readings behind a result that cannot be: each is pointed at, and one that is far from the plan first.

use std::ops::RangeInclusive;

use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Severity;
use crate::record::AIR;
use crate::say;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::odd::Look;
use crate::working::odd_plan::Suspect;

/// Pressures (kPa) that the air has where there are schools (common practice, no source).
const USUAL_AIR: RangeInclusive<f64> = 80.0..=110.0;
/// Temperatures (°C) of a room, its water and a gas in it (common practice, no source).
const USUAL_ROOM: RangeInclusive<f64> = 5.0..=40.0;

impl Look<'_> {
    /// Files a problem beside the readings of a step that do not go with what they are compared with. An impossible result says
    /// only that not all readings behind it can be right: each is pointed at. Where one amount alone is far from the plan of the
    /// lab, that one is pointed at first, and held back in an impossible result, and the others stand.
    pub(in crate::working) fn file(
        &mut self,
        severity: Severity,
        (step, compared): (StepId, &[Kind]),
        message: &str,
        help: &str,
    ) {
        let all = severity == Severity::Error;
        self.file_pointing(severity, (step, compared), (message, help), all);
    }

    /// The same, where `all` decides whether the readings compared with are pointed at.
    pub(in crate::working) fn file_pointing(
        &mut self,
        severity: Severity,
        (step, compared): (StepId, &[Kind]),
        (message, help): (&str, &str),
        all_readings: bool,
    ) {
        let own = self.questionable(step);
        let others = self.behind(compared);
        let doubted: Vec<usize> = own
            .iter()
            .chain(&others)
            .copied()
            .filter(|reading| self.record.readings[*reading].doubted_unit)
            .collect();
        if !doubted.is_empty() {
            // That its unit does not go with its digits is told beside the reading, and explains the result.
            if severity == Severity::Error {
                let doubted = doubted.into_iter();
                self.impossible
                    .extend(doubted.map(|reading| (reading, message.to_owned())));
            }
            return;
        }
        if let Some(pressure) = self.no_air(&own) {
            // That no air has this pressure is told beside the reading, and explains the result.
            if severity == Severity::Error {
                self.impossible.insert(pressure, message.to_owned());
            }
            return;
        }
        let all = || own.iter().chain(&others);
        let behind = |suspect: &Suspect| {
            let mut readings = suspect.readings.iter();
            readings.all(|reading| all().any(|one| one == reading))
        };
        // Where several are off, nobody can tell which of them is wrong.
        if let [suspect] = &self.suspects[..]
            && behind(suspect)
        {
            let problem = self.blame(severity, suspect, (&own, &others), message);
            if severity == Severity::Error {
                let readings = suspect.readings.iter();
                self.impossible
                    .extend(readings.map(|reading| (*reading, message.to_owned())));
            }
            // What else does not go with it is told by this; what cannot be is told before what is odd.
            let told = self.blamed.as_ref().map(|told| told.severity);
            if told.is_none_or(|told| severity > told) {
                self.blamed = Some(problem);
            }
            return;
        }
        if severity == Severity::Error {
            let own = own.iter();
            self.impossible
                .extend(own.map(|reading| (*reading, message.to_owned())));
        }
        let others = if all_readings { &others[..] } else { &[] };
        let problem = self.beside(severity, &own, others, message);
        self.problems.push(problem.help(help));
    }

    /// The reading among those of a collected gas that is told to be no pressure of the air.
    fn no_air(&self, own: &[usize]) -> Option<usize> {
        let odd = |reading: &&usize| {
            let value = self.record.readings[**reading].usable()?;
            let unit = value.unit?;
            let pressure = unit.dimension() == Unit::Kilopascal.dimension();
            (pressure && !AIR.contains(&unit.in_base(value.number))).then_some(())
        };
        own.iter().find(|reading| odd(reading).is_some()).copied()
    }

    /// The readings of a step that a slip can have been made in, likeliest first. The volume of a gas is; its temperature and its
    /// pressure only where they are unusual themselves, for within what is usual they cannot make a result odd.
    fn questionable(&self, step: StepId) -> Vec<usize> {
        let all = self.graph.step(step).expression.readings();
        let Kind::Collected(index) = self.graph.step(step).kind else {
            return all;
        };
        if !self.lab.substances[index].measured_as_gas() {
            return all;
        }
        let rank = |reading: &usize| {
            let value = self.record.readings[*reading].usable()?;
            let unit = value.unit?;
            let base = unit.in_base(value.number);
            if unit.dimension() == Unit::Kilopascal.dimension() {
                (!USUAL_AIR.contains(&base)).then_some(0)
            } else if unit == Unit::DegreeCelsius {
                (!USUAL_ROOM.contains(&base)).then_some(1)
            } else {
                Some(2)
            }
        };
        let mut ranked: Vec<(i32, usize)> = all
            .iter()
            .filter_map(|reading| Some((rank(reading)?, *reading)))
            .collect();
        ranked.sort_unstable();
        if ranked.is_empty() {
            return all;
        }
        ranked.into_iter().map(|(_, reading)| reading).collect()
    }

    /// A problem beside the readings of a step and those they are compared with.
    fn beside(
        &self,
        severity: Severity,
        own: &[usize],
        others: &[usize],
        message: &str,
    ) -> Problem {
        let mut problem = if severity == Severity::Error {
            Problem::error(Code::ImpossibleResult, message)
        } else {
            Problem::warning(Code::OddResult, message)
        };
        for (place, reading) in own.iter().enumerate() {
            let label = match place {
                0 => self.words.say("from this reading"),
                _ => self.words.say("and this one"),
            };
            problem = self.pointing_at(problem, *reading, label);
        }
        for reading in others.iter().filter(|reading| !own.contains(reading)) {
            let label = self.words.say("compared with this one");
            problem = self.pointing_at(problem, *reading, label);
        }
        problem
    }

    /// The problem of a result that is odd or cannot be where one amount alone is far from the plan.
    fn blame(
        &self,
        severity: Severity,
        suspect: &Suspect,
        (own, others): (&[usize], &[usize]),
        message: &str,
    ) -> Problem {
        let words = self.words;
        let message = say!(
            words,
            "{result}, and one of the amounts taken is far from what the lab plans",
            result = message
        );
        let mut problem = if severity == Severity::Error {
            Problem::error(Code::ImpossibleResult, message)
        } else {
            Problem::warning(Code::OddResult, message)
        };
        let label = say!(words, "the plan says {amount}", amount = suspect.planned);
        for (place, reading) in suspect.readings.iter().enumerate() {
            let label = if place == 0 {
                &label
            } else {
                words.say("and this one")
            };
            problem = self.pointing_at(problem, *reading, label);
        }
        let mut rest: Vec<usize> = [own, others].concat();
        rest.sort_unstable();
        rest.dedup();
        rest.retain(|reading| !suspect.readings.contains(reading));
        for reading in &rest {
            problem = self.pointing_at(problem, *reading, words.say("does not go with it"));
        }
        problem.help(match suspect.readings.len() {
            1 => words.say("look at this reading first: its digits, its unit, and whether it is in the right line"),
            _ => words.say(
                "look at these readings first: their digits, their units, and whether the vessel is in both of them",
            ),
        })
    }

    pub(in crate::working) fn pointing_at(
        &self,
        problem: Problem,
        reading: usize,
        label: &str,
    ) -> Problem {
        match self.record.readings[reading].counting() {
            Some(entry) => problem.at(entry.span.clone(), label),
            None => problem,
        }
    }

    /// Every reading that steps of these kinds are worked from, by any equation.
    fn behind(&self, kinds: &[Kind]) -> Vec<usize> {
        self.graph.readings_behind(self.graph.of_kinds(kinds))
    }
}
