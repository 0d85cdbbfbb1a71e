//! The verdict on each answer, in the order of the working, the first that holds.

use crate::answers::Given;
use crate::answers::Judged;
use crate::answers::Judgement;
use crate::answers::Verdict;
use crate::answers::given;
use crate::answers::given::Number;
use crate::answers::marks;
use crate::answers::prompts;
use crate::answers::slips;
use crate::answers::slips::bench::Bench;
use crate::answers::slips::bench::Layout;
use crate::answers::writing;
use crate::lab::Lab;
use crate::problem::Code;
use crate::problem::Problem;
use crate::record::Answer;
use crate::record::Record;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::State;
use crate::working::StepId;
use crate::working::Worked;
use crate::working::line::Habit;
use crate::working::line::Line;
use crate::working::line::Standing;

/// What molar masses of other tables may move a product or quotient by.
const MOLAR_MASS_VARIANTS: f64 = 0.0015;

/// What honest rounding on the way may move a result by.
const ROUNDING: f64 = 0.01;

/// The largest distance, as a part of it, between a ratio and the whole numbers claimed for it.
const WHOLE_NUMBERS: f64 = 0.05;

/// The largest half of a last figure, as a part of the value it stands for, that still says something.
const COARSEST: f64 = 0.2;

/// Floating point noise, so that a value just on the edge of a window is inside.
const NOISE: f64 = 1e-9;

/// How students round what nobody asks them for.
const HABITS: &[Habit] = &[Habit::Figures(3), Habit::Figures(4), Habit::Decimals(4)];

/// Judges every answer of a record. Answers that cannot be read are problems, and count as not given.
#[must_use]
pub fn judge(
    lab: &Lab,
    graph: &Graph,
    record: &Record,
    worked: &Worked<'_>,
) -> (Judged, Vec<Problem>) {
    let mut judge = Judge {
        lab,
        graph,
        record,
        worked,
        line: Line::new(graph, &worked.inputs),
        readings: Line::new(graph, &worked.inputs),
        verdicts: vec![None; graph.steps().len()],
        problems: Vec::new(),
    };
    let mut judged = Judged::default();
    for id in graph.ids() {
        let step = graph.step(id);
        let answer = record.answers.iter().find(|answer| answer.step == step.id);
        if step.asked.is_none() && answer.is_none() {
            continue;
        }
        let judgement = judge.one(id, answer);
        judge.verdicts[id.index()] = Some(judgement.verdict);
        judged.answers.push(judgement);
    }
    marks::give(lab, graph, &mut judged);
    (judged, judge.problems)
}

/// One record while its answers are judged, earlier steps first.
struct Judge<'a> {
    lab: &'a Lab,
    graph: &'a Graph,
    record: &'a Record,
    worked: &'a Worked<'a>,
    /// The line with the answers standing in.
    line: Line<'a>,
    /// The line of the readings alone.
    readings: Line<'a>,
    /// One entry a step: what was said of its answer.
    verdicts: Vec<Option<Verdict>>,
    problems: Vec<Problem>,
}

impl Judge<'_> {
    fn one(&mut self, id: StepId, answer: Option<&Answer>) -> Judgement {
        let given = answer.and_then(|answer| self.read(id, answer));
        let mut judgement = Judgement {
            step: id,
            typed: answer.map(|answer| answer.typed.clone()),
            given,
            verdict: Verdict::NotGiven,
            own: None,
            slips: Vec::new(),
            feedback: String::new(),
            points: None,
        };
        let state = self.worked.state(id);
        let State::Known(key) = state else {
            judgement.verdict = Verdict::Waiting;
            judgement.feedback = prompts::waiting(self.lab, state);
            return judgement;
        };
        match judgement.given.clone() {
            Some(Given::Number(number)) => {
                self.number(id, &number, key.approximate(), &mut judgement);
                // A number in another unit that is wrong besides would only send the next lines astray.
                let other = matches!(number.unit, given::WrittenUnit::Other(_));
                if !(other && judgement.verdict == Verdict::LookAgain) {
                    self.line.stand_in(id, Standing::Number(number.value));
                }
            }
            Some(Given::Substances(named)) => {
                self.substances(id, &named, &key.smallest, &mut judgement);
                self.line.stand_in(id, Standing::Substances(named));
            }
            Some(Given::Missing) | None => {}
        }
        judgement
    }

    /// Reads an answer; what cannot be read is said with its place.
    fn read(&mut self, id: StepId, answer: &Answer) -> Option<Given> {
        let step = self.graph.step(id);
        let title = step.title.clone();
        match given::read(&answer.typed, self.lab, step) {
            Ok(Given::Missing) => None,
            Ok(given) => {
                if let Given::Number(Number {
                    unit: given::WrittenUnit::Other(unit),
                    ..
                }) = given
                {
                    let problem = given::other_unit(answer, self.lab, step, unit);
                    self.problems.push(problem);
                }
                Some(given)
            }
            Err(wrong) => {
                let at = if answer.typed.len() == answer.span.len() {
                    answer.span.start + wrong.span.start..answer.span.start + wrong.span.end
                } else {
                    answer.span.clone()
                };
                self.problems.push(
                    Problem::error(Code::Answer, wrong.message)
                        .at(at, title)
                        .help(wrong.help),
                );
                None
            }
        }
    }

    /// The verdict on a number.
    fn number(&mut self, id: StepId, number: &Number, key: f64, judgement: &mut Judgement) {
        let step = self.graph.step(id);
        let own = self.line.worked(id, Habit::Full);
        let mut earlier = self.earlier(id);
        if let Kind::ExpectedLeft(r) = step.kind {
            // By the way of moles the own moles at the start count as well.
            earlier.extend(
                self.graph
                    .of_kind(Kind::Moles(r))
                    .filter(|moles| self.line.answer(*moles).is_some()),
            );
        }
        let wrong_before = earlier.iter().any(|step| {
            !matches!(
                self.verdicts[step.index()],
                Some(Verdict::Matches | Verdict::Rounding)
            )
        });
        let exact = self.graph.uses(id).is_difference;
        let within = |target: f64| {
            let variants = if exact {
                0.0
            } else {
                MOLAR_MASS_VARIANTS * target.abs()
            };
            // One figure may be half as large again as what it stands for, and then says nothing.
            let half = number.half.min(COARSEST * target.abs());
            near(number, target, half + variants)
        };
        // Of a percentage that compares two values, one in a hundred would be everything.
        let compares = matches!(step.kind, Kind::LeftError(_) | Kind::FindError(_));
        let roughly = |target: f64, line: &Line<'_>| {
            let scale = line
                .scale(&step.expression)
                .filter(|scale| scale.is_finite() && !compares);
            let width = ROUNDING * scale.unwrap_or(0.0).max(target.abs());
            !exact && near(number, target, width)
        };
        let rounded_on_the_way = || {
            let mut habits = HABITS.iter();
            habits.any(|habit| self.line.worked(id, *habit).is_some_and(within))
        };
        let by_moles = self.left_by_moles(id);
        let from_own = own.filter(|own| {
            within(*own)
                || roughly(*own, &self.line)
                || rounded_on_the_way()
                || by_moles.is_some_and(within)
        });
        let impossible = number.value < 0.0 && key >= 0.0 && !may_be_negative(step.kind);
        judgement.verdict = if within(key) {
            Verdict::Matches
        } else if impossible {
            Verdict::LookAgain
        } else if roughly(key, &self.readings) || (from_own.is_some() && !wrong_before) {
            Verdict::Rounding
        } else if from_own.is_some() {
            Verdict::Follows
        } else {
            Verdict::LookAgain
        };
        if wrong_before {
            judgement.own = own.map(Standing::Number);
        }
        let bench = Bench {
            layout: Layout {
                lab: self.lab,
                graph: self.graph,
            },
            record: self.record,
            line: &self.line,
            step: id,
            number,
            key,
            right: own.unwrap_or(key),
            other_trials: &self.worked.in_other_trials(id),
        };
        if matches!(judgement.verdict, Verdict::LookAgain | Verdict::Rounding) {
            judgement.slips = slips::matching(&bench, judgement.verdict == Verdict::Rounding);
        }
        if judgement.verdict == Verdict::Matches
            && wrong_before
            && own.is_some_and(|own| !within(own) && !roughly(own, &self.line))
        {
            judgement
                .slips
                .extend(slips::by_id("right-after-wrong-line"));
        }
        if judgement.verdict == Verdict::LookAgain && near(number, key, number.half) {
            // Rounded so far that it could stand for anything: that, and no slip, is what is wrong.
            judgement.slips = slips::by_id("too-few-figures").into_iter().collect();
        }
        let far = judgement.verdict == Verdict::Rounding && !roughly(key, &self.readings);
        if far
            && let Some(early) = slips::by_id("rounded-too-early")
            && !judgement.slips.iter().any(|slip| slip.id == early.id)
        {
            judgement.slips.push(early);
        }
        if judgement.verdict == Verdict::Rounding {
            let slips = judgement.slips.iter();
            let prompts: Vec<&str> = slips.map(|slip| self.lab.words.say(slip.prompt)).collect();
            judgement.feedback = prompts.join(" ");
        }
        if judgement.verdict == Verdict::LookAgain {
            judgement.feedback = prompts::look_again(self.lab, step, &judgement.slips, impossible);
        }
        if judgement.verdict != Verdict::LookAgain {
            let known = self.worked.value(id);
            writing::look(self.lab, self.graph, known, number, judgement);
        } else if matches!(number.unit, given::WrittenUnit::Missing) {
            judgement.slips.extend(slips::by_id("unit-missing"));
        }
    }

    /// What should be left by the other usual way: own moles at the start less moles needed, then grams.
    fn left_by_moles(&self, id: StepId) -> Option<f64> {
        let Kind::ExpectedLeft(r) = self.graph.step(id).kind else {
            return None;
        };
        let moles = self.graph.of_kind(Kind::Moles(r))?;
        let molar_mass = self.graph.of_kind(Kind::MolarMass(r))?;
        let Expression::Difference(_, needed) = &self.graph.step(id).expression else {
            return None;
        };
        if self.line.answer(moles).is_none() || self.lab.substances[r].purity.is_some() {
            return None;
        }
        let start = Expression::Step(moles).times(Expression::Step(molar_mass));
        self.line.value(&start.minus((**needed).clone()))
    }

    /// The verdict on named reactants.
    fn substances(
        &mut self,
        id: StepId,
        named: &[usize],
        key: &[usize],
        judgement: &mut Judgement,
    ) {
        let earlier = self.earlier(id);
        let wrong_before = earlier.iter().any(|step| {
            !matches!(
                self.verdicts[step.index()],
                Some(Verdict::Matches | Verdict::Rounding)
            )
        });
        let own = self.line.limiting(id, None);
        // Where both run out together, naming one of them is no mistake that a balance could show.
        let says = |right: &[usize]| {
            named == right || (right.len() > 1 && named.iter().all(|index| right.contains(index)))
        };
        judgement.verdict = if says(key) {
            Verdict::Matches
        } else if wrong_before && says(&own) {
            Verdict::Follows
        } else {
            Verdict::LookAgain
        };
        if wrong_before && own != key {
            judgement.own = Some(Standing::Substances(own));
        }
        if judgement.verdict == Verdict::LookAgain {
            judgement.slips =
                slips::matching_reactant(self.lab, self.graph, self.record, &self.line, id, named);
            judgement.feedback =
                prompts::look_again(self.lab, self.graph.step(id), &judgement.slips, false);
        }
    }

    /// The answered steps a step is worked from, looked for through those that nobody answered.
    fn earlier(&self, id: StepId) -> Vec<StepId> {
        let mut found = Vec::new();
        let mut to_see = self.graph.uses(id).steps.clone();
        while let Some(step) = to_see.pop() {
            match self.line.answer(step) {
                Some(_) if found.contains(&step) => {}
                Some(Standing::Number(_)) => found.push(step),
                // A choice says which reactant counts; how much of it there is stands in the lines before.
                Some(Standing::Substances(chosen)) => {
                    found.push(step);
                    if let Expression::Smallest(candidates) = &self.graph.step(step).expression {
                        let counts = candidates
                            .iter()
                            .filter(|candidate| chosen.contains(&candidate.substance));
                        to_see.extend(counts.flat_map(|candidate| candidate.share.steps()));
                    }
                }
                None => to_see.extend(&self.graph.uses(step).steps),
            }
        }
        found
    }
}

/// Whether an answer lies within a width of a target; whole numbers claimed for a ratio within their own.
fn near(number: &Number, target: f64, width: f64) -> bool {
    let width = if number.whole {
        WHOLE_NUMBERS * target.abs()
    } else {
        width
    };
    // A zero has no figures: it stands for nothing but zero.
    if number.value == 0.0 && target != 0.0 && number.half >= target.abs() {
        return false;
    }
    (number.value - target).abs() <= width + NOISE * target.abs().max(number.value.abs())
}

/// Steps whose value may honestly be below zero.
fn may_be_negative(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::LeftError(_) | Kind::FindError(_) | Kind::Find(_) | Kind::Accepted(_)
    )
}
