//! The verdict on each answer, in the order of the working, the first that holds.

use std::cell::LazyCell;

use crate::answers::Given;
use crate::answers::Judged;
use crate::answers::Judgement;
use crate::answers::Verdict;
use crate::answers::given;
use crate::answers::given::Number;
use crate::answers::instead;
use crate::answers::lines;
use crate::answers::marks;
use crate::answers::prompts;
use crate::answers::reading;
use crate::answers::slips;
use crate::answers::slips::Family;
use crate::answers::slips::bench::Bench;
use crate::answers::slips::matching;
use crate::answers::slips::matching::Band;
use crate::answers::slips::writing::WHOLE_WATERS;
use crate::answers::tables::ROUNDED_WEIGHTS;
use crate::answers::tables::Tables;
use crate::answers::window::Window;
use crate::answers::window::may_be_negative;
use crate::answers::writing;
use crate::lab::Lab;
use crate::problem::Problem;
use crate::record::Answer;
use crate::record::Record;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Worked;
use crate::working::line::Habit;
use crate::working::line::Line;
use crate::working::line::Standing;

/// Judges every answer of a record. Answers that cannot be read are problems, and are waited for like those that are not given.
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
        long: None,
        readings: Line::new(graph, &worked.inputs),
        tables: Tables::default(),
        verdicts: vec![None; graph.steps().len()],
        by_molar_mass: Vec::new(),
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
        let mut slips = judgement.slips.iter();
        if slips.any(|slip| slip.family == Family::MolarMass) {
            judge.by_molar_mass.push(id);
        }
        judged.answers.push(judgement);
    }
    marks::give(lab, graph, &mut judged);
    (judged, judge.problems)
}

/// One record while its answers are judged, earlier steps first.
pub(super) struct Judge<'a> {
    pub(super) lab: &'a Lab,
    pub(super) graph: &'a Graph,
    pub(super) record: &'a Record,
    pub(super) worked: &'a Worked<'a>,
    /// The line with the answers standing in, as typed.
    pub(super) line: Line<'a>,
    /// The same with the calculator's digits of every answer that stands; `None` while that makes no difference.
    pub(super) long: Option<Line<'a>>,
    /// The line of the readings alone.
    readings: Line<'a>,
    tables: Tables,
    /// One entry a step: what was said of its answer.
    pub(super) verdicts: Vec<Option<Verdict>>,
    /// Steps whose wrong answer a slip in a molar mass explains.
    by_molar_mass: Vec<StepId>,
    problems: Vec<Problem>,
}

impl Judge<'_> {
    fn one(&mut self, id: StepId, answer: Option<&Answer>) -> Judgement {
        let state = self.worked.state(id);
        let key = self.worked.value(id);
        let read = answer.map(|answer| {
            let about = reading::About {
                lab: self.lab,
                step: self.graph.step(id),
                record: self.record,
                key: key.map(crate::working::Value::approximate),
            };
            about.read(answer, &mut self.problems)
        });
        let unreadable = matches!(read, Some(None));
        let given = read.flatten().filter(|given| *given != Given::Missing);
        let mut judgement = Judgement {
            step: id,
            typed: answer.map(|answer| answer.typed.clone()),
            given,
            verdict: if unreadable {
                Verdict::Unreadable
            } else {
                Verdict::NotGiven
            },
            own: None,
            slips: Vec::new(),
            feedback: String::new(),
            points: None,
        };
        let Some(key) = key else {
            judgement.verdict = Verdict::Waiting;
            judgement.feedback = prompts::waiting(self.lab, state);
            return judgement;
        };
        match judgement.given.clone() {
            Some(Given::Number(number)) => {
                let number = self.in_its_unit(id, number, key.approximate(), &mut judgement);
                // A number in another unit that is wrong besides would only send the next lines astray.
                let other = matches!(number.unit, given::WrittenUnit::Other(_));
                if !(other && judgement.verdict == Verdict::LookAgain) {
                    let line = self.long.as_ref().unwrap_or(&self.line);
                    let key = key.approximate();
                    let tables = self.tables.lines(self.lab, line);
                    let long = lines::unrounded(tables, line, number.value, key, &judgement);
                    if long.to_bits() != number.value.to_bits() {
                        self.long.get_or_insert_with(|| self.line.clone());
                    }
                    self.stand_in(id, Standing::Number(number.value), Standing::Number(long));
                }
            }
            Some(Given::Substances(named)) => {
                self.substances(id, &named, &key.smallest, &mut judgement);
                // Several that are not the right ones choose nothing: the own moles decide in what follows.
                if named.len() == 1 || judgement.verdict.stands() {
                    let named = Standing::Substances(named);
                    self.stand_in(id, named.clone(), named);
                }
            }
            Some(Given::Missing) | None => {}
        }
        judgement
    }

    /// Takes an answer as earlier line of what follows: as typed, and with the calculator's digits.
    fn stand_in(&mut self, id: StepId, typed: Standing, long: Standing) {
        self.line.stand_in(id, typed);
        if let Some(line) = &mut self.long {
            line.stand_in(id, long);
        }
    }

    /// The verdict on a number.
    pub(super) fn number(
        &mut self,
        id: StepId,
        number: &Number,
        key: f64,
        judgement: &mut Judgement,
    ) {
        let step = self.graph.step(id);
        let own = self.line.worked(id, Habit::Full);
        let mut earlier = lines::earlier(self.graph, &self.line, id);
        if let Kind::ExpectedLeft(r) = step.kind {
            // By the way of moles the own moles at the start count as well.
            earlier.extend(
                self.graph
                    .of_kind(Kind::Moles(r))
                    .filter(|moles| self.line.answer(*moles).is_some()),
            );
        }
        let wrong_before = self.is_one_wrong(&earlier);
        let window = Window::of(self.lab, self.graph, id, number);
        let roughly =
            |target: f64, line: &Line<'_>| window.roughly(target, || line.scale(&step.expression));
        let layout = (self.lab, self.graph);
        let follows = |line: &Line<'_>| {
            let own = line.worked(id, Habit::Full)?;
            if window.within(own) || roughly(own, line) || window.in_tens(own) {
                return Some(own);
            }
            lines::by_habits(layout, &self.line, line, id).find(|other| window.within(*other))
        };
        let from_own = follows(&self.line).or_else(|| follows(self.long.as_ref()?));
        let as_rounded = |line: &Line<'_>| {
            let full = line.worked(id, Habit::Full);
            let mut all = full
                .into_iter()
                .chain(lines::by_habits(layout, &self.line, line, id));
            all.any(|own| window.within(own))
        };
        let by_table = |line: &Line<'_>| {
            let may_be = !self.graph.uses(id).is_difference && !number.whole;
            may_be
                && lines::is_by_molar_masses(self.graph, line, id)
                && !writing::is_whole_waters(self.lab, self.graph, id, number)
                && (self.tables.lines(self.lab, line)).any(|line| as_rounded(&line))
        };
        let from_table = || by_table(&self.line) || self.long.as_ref().is_some_and(by_table);
        // Right by the reactant that the own moles make run out, whatever was named.
        let as_moles = lines::as_moles_decide(self.graph, &self.line);
        let from_moles = || follows(as_moles.as_ref()?);
        // Own lines that this step is worked from without naming them.
        let others: LazyCell<Vec<Line<'_>>, _> = LazyCell::new(|| {
            let lines = [Some(&self.line), as_moles.as_ref()].into_iter().flatten();
            lines
                .flat_map(|line| {
                    let said = (&self.verdicts[..], &self.by_molar_mass[..]);
                    instead::lines(self.graph, line, id, said)
                })
                .collect()
        });
        let by_shorter_table = if wrong_before {
            Verdict::Follows
        } else {
            Verdict::Rounding
        };
        // What the own line gives to its last digit is its own, however near the right value that line has come by chance.
        let goes_astray = || {
            self.is_one_astray(&earlier) && {
                let mut lines = [Some(&self.line), self.long.as_ref()].into_iter().flatten();
                lines.any(|line| {
                    let own = line.worked(id, Habit::Full);
                    own.is_some_and(|own| matching::to_the_last_digit(number, own))
                })
            }
        };
        let impossible = number.value < 0.0 && key >= 0.0 && !may_be_negative(step.kind);
        judgement.verdict = if window.within(key) {
            Verdict::Matches
        } else if impossible {
            Verdict::LookAgain
        } else if (roughly(key, &self.readings)
            || window.in_tens(key)
            || (from_own.is_some() && !wrong_before)
            || (wrong_before && by_table(&self.readings)))
            && !goes_astray()
        {
            Verdict::Rounding
        } else if let Some(matched) = from_own {
            judgement.own = Some(Standing::Number(matched));
            Verdict::Follows
        } else if from_table() {
            judgement.slips.extend(slips::by_id(ROUNDED_WEIGHTS));
            by_shorter_table
        } else if let Some(matched) = from_moles().or_else(|| others.iter().find_map(follows)) {
            judgement.own = Some(Standing::Number(matched));
            Verdict::Follows
        } else {
            Verdict::LookAgain
        };
        if judgement.own.is_none() && wrong_before {
            judgement.own = own
                .map(|own| lines::none_left(step, &self.line, own))
                .map(Standing::Number);
        }
        let bench = Bench {
            layout: self.layout(),
            record: self.record,
            line: &self.line,
            step: id,
            number,
            key,
            right: own.unwrap_or(key),
            other_trials: &self.worked.in_other_trials(id),
        };
        if matches!(judgement.verdict, Verdict::LookAgain | Verdict::Rounding) {
            let long = self.long.as_ref().map(|line| Bench {
                line,
                right: line.worked(id, Habit::Full).unwrap_or(key),
                ..bench
            });
            let rounding = judgement.verdict == Verdict::Rounding;
            let unlike = rounding
                && !as_rounded(&self.line)
                && !as_rounded(&self.readings)
                && !others.iter().any(as_rounded);
            let band = Band {
                unlike,
                by_table: unlike && (from_table() || (wrong_before && by_table(&self.readings))),
                tables: &self.tables,
            };
            judgement.slips = matching::explaining(&bench, long.as_ref(), rounding.then_some(band));
            if judgement.slips.is_empty() && !rounding {
                judgement.slips = matching::on_lines(&bench, &others);
            }
            if judgement.slips.is_empty()
                && !rounding
                && wrong_before
                && !matching::has_few_figures(number)
            {
                // Whoever goes on with the right value makes slips as well.
                judgement.slips = matching::on_lines(&bench, &[self.put_right()]);
            }
            let by_one_weight = judgement.slips.iter().any(|s| s.id == ROUNDED_WEIGHTS);
            if by_one_weight && !rounding && !impossible {
                // One molar mass from a shorter table is no worse than all of them.
                judgement.verdict = by_shorter_table;
            }
        }
        let on_the_way = || {
            own.is_some_and(|own| roughly(own, &self.line))
                || as_rounded(&self.line)
                || self.long.as_ref().is_some_and(as_rounded)
        };
        let in_tens = |target: f64| {
            window.in_tens(target) && !window.within(target) && !roughly(target, &self.readings)
        };
        if matches!(judgement.verdict, Verdict::Matches | Verdict::Rounding)
            && (writing::is_rough(self.lab, self.graph, self.worked, id, number)
                || (judgement.verdict == Verdict::Rounding
                    && !roughly(key, &self.readings)
                    && !on_the_way()
                    && (in_tens(key) || own.is_some_and(in_tens))))
        {
            judgement.verdict = Verdict::Rough;
            judgement.slips.clear();
        }
        if judgement.verdict == Verdict::Matches
            && wrong_before
            && own.is_some_and(|own| !window.within(own) && !roughly(own, &self.line))
            && self
                .long
                .as_ref()
                .is_none_or(|long| follows(long).is_none())
        {
            judgement
                .slips
                .extend(slips::by_id("right-after-wrong-line"));
        }
        if judgement.verdict == Verdict::LookAgain && window.stands_for(key) {
            // Rounded so far that it could stand for anything: that, and no slip, is what is wrong.
            judgement.slips = slips::by_id("too-few-figures").into_iter().collect();
        }
        if judgement.verdict == Verdict::LookAgain
            && writing::is_whole_waters(self.lab, self.graph, id, number)
        {
            // The number of a formula, not a slip that comes near it by chance.
            judgement.slips = slips::by_id(WHOLE_WATERS).into_iter().collect();
        }
        if judgement.verdict == Verdict::LookAgain
            && impossible
            && matches!(step.kind, Kind::ExpectedLeft(_))
        {
            // Whatever else happened, another reactant has to run out on this line.
            judgement
                .slips
                .retain(|slip| slip.id == "unlike-subtracted");
        }
        let far = judgement.verdict == Verdict::Rounding && !roughly(key, &self.readings);
        if far
            && let Some(early) = slips::by_id("rounded-too-early")
            && !judgement
                .slips
                .iter()
                .any(|slip| [early.id, ROUNDED_WEIGHTS].contains(&slip.id))
        {
            judgement.slips.push(early);
        }
        if judgement.verdict == Verdict::Follows && own.is_some_and(in_tens) {
            judgement.slips.extend(slips::by_id("too-few-figures"));
        }
        prompts::say(bench.layout, bench.line, judgement, impossible);
        if judgement.verdict != Verdict::LookAgain {
            writing::look(self.lab, self.graph, self.worked, number, judgement);
        } else if let Some(id) = writing::no_unit(number) {
            writing::note(id, self.lab, judgement);
        }
    }
}
