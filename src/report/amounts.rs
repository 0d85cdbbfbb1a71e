//! The before–change–after table: what the equation predicts in moles, and what was found beside it.

use crate::chem::Species;
use crate::lab::Before;
use crate::measure::Exact;
use crate::measure::Unit;
use crate::measure::figures::Figures;
use crate::report::compose::Case;
use crate::report::compose::after_answer;
use crate::report::model::Table;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::report::trials;
use crate::say;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Value;
use crate::working::show;

/// What stands for “as much as is needed”.
const EXCESS: &str = "XS";

/// How far the reaction can go, in mol, with its digits and the steps it reveals.
pub(in crate::report) struct Extent {
    pub(in crate::report) value: Exact,
    pub(in crate::report) figures: Figures,
    pub(in crate::report) steps: Vec<StepId>,
}

impl Extent {
    /// The amount that reacts of a substance with a coefficient, in mol.
    pub(in crate::report) fn times(&self, coefficient: u32) -> Exact {
        &self.value * Exact::from_integer(coefficient.into())
    }
}

/// The extent of the lab's own equation; `None` while it is not known.
pub(in crate::report) fn extent(case: &Case<'_>) -> Option<Extent> {
    if let Some(step) = case.graph.of_kind(Kind::Limiting) {
        let value = case.worked.value(step)?;
        let mut steps = case.graph.step(step).expression.steps();
        steps.push(step);
        return Some(Extent {
            value: value.exact.clone(),
            figures: value.figures,
            steps,
        });
    }
    let mut known = case
        .lab
        .substances
        .iter()
        .enumerate()
        .filter(|(_, s)| matches!(s.before, Some(Before::Measured(_))) && s.reactant)
        .filter(|(_, s)| {
            let species = case.lab.equation.find(&s.formula);
            species.is_some_and(|(species, _)| !species.open)
        });
    let (index, substance) = known.next()?;
    let step = case.graph.of_kind(Kind::Moles(index))?;
    let value = case.worked.value(step)?;
    let share = &value.exact / Exact::from_integer(substance.coefficient.into());
    Some(Extent {
        value: share,
        figures: value.figures,
        steps: vec![step],
    })
}

/// The table and the remarks under it; no table for a lab without an extent.
pub(in crate::report) fn table(case: &Case<'_>) -> (Option<Table>, Vec<String>) {
    let has_extent = case
        .graph
        .steps()
        .iter()
        .any(|step| matches!(step.kind, Kind::Needed(_) | Kind::Theoretical(_)));
    if !has_extent {
        return (None, Vec::new());
    }
    let equation = &case.lab.equation;
    let species: Vec<Column<'_>> = equation
        .reactants
        .iter()
        .map(|species| (species, true))
        .chain(equation.products.iter().map(|species| (species, false)))
        .map(|(species, reactant)| Column {
            case,
            species,
            reactant,
            index: index_of(case, species, reactant),
        })
        .collect();
    let extent = extent(case);
    let mut columns = vec![words("")];
    columns.extend(species.iter().map(|column| figures(&column.head())));
    let row = |name: &str, cell: &dyn Fn(&Column<'_>) -> String| {
        let mut row = vec![name.to_owned()];
        row.extend(species.iter().map(cell));
        row
    };
    let wording = &case.lab.words;
    let mut rows = vec![
        row(wording.say("taken"), &|column| column.taken()),
        row(wording.say("before / mol"), &|column| column.before()),
        row(wording.say("change / mol"), &|column| {
            column.change(extent.as_ref())
        }),
        row(wording.say("after / mol"), &|column| {
            column.after(extent.as_ref())
        }),
        row(wording.say("by the equation"), &|column| column.predicted()),
        row(wording.say("found"), &|column| column.found()),
        row(wording.say("change found / mol"), &|column| {
            column.change_found()
        }),
    ];
    rows.retain(|row| row[1..].iter().any(|cell| !cell.is_empty() && cell != "–"));
    let caption = say!(
        case.lab.words,
        "Before, change and after{of_trial}: what the equation predicts in moles, and what was found.",
        of_trial = trials::of_the_first(case)
    );
    let table = Table {
        caption,
        columns,
        rows,
    };
    (Some(table), notes(case))
}

/// Which substance of the lab a species is.
fn index_of(case: &Case<'_>, species: &Species, reactant: bool) -> Option<usize> {
    case.lab
        .substances
        .iter()
        .position(|s| s.reactant == reactant && s.formula.same_substance(&species.formula))
}

fn notes(case: &Case<'_>) -> Vec<String> {
    let mut notes = Vec::new();
    for (index, substance) in case.lab.substances.iter().enumerate() {
        if let Some(form) = &substance.weighed_as
            && let Some(step) = case.graph.of_kind(Kind::MolarMass(index))
            && let Some(mass) = case.shown(step).filter(|_| case.open.step(step))
        {
            notes.push(say!(
                case.lab.words,
                "{substance} is weighed as {form}, M = {mass}.",
                substance = substance.formula.pretty(),
                form = form.pretty(),
                mass = mass
            ));
        }
        if matches!(substance.before, Some(Before::Excess)) {
            notes.push(say!(
                case.lab.words,
                "XS: {substance} was there in excess and was not weighed.",
                substance = substance.name
            ));
        }
    }
    notes
}

/// The steps that a change or an after of a substance gives away, in the table and in the chart. By the coefficients any of them
/// tells how much reacts of every reactant: while one of these is closed, all are.
pub(in crate::report) fn reveals(
    case: &Case<'_>,
    extent: &Extent,
    index: Option<usize>,
    reactant: bool,
) -> Vec<StepId> {
    let step = |kind: Kind| case.graph.of_kind(kind);
    let mut steps = extent.steps.clone();
    if !reactant {
        steps.extend(index.and_then(|index| step(Kind::Theoretical(index))));
    }
    for (index, _) in case
        .lab
        .substances
        .iter()
        .enumerate()
        .filter(|(_, s)| s.reactant)
    {
        steps.extend(step(Kind::Needed(index)));
        let left = step(Kind::ExpectedLeft(index));
        steps.extend(left.filter(|left| case.graph.step(*left).asked.is_some()));
    }
    steps
}

/// One species of the equation.
struct Column<'a> {
    case: &'a Case<'a>,
    species: &'a Species,
    reactant: bool,
    index: Option<usize>,
}

impl Column<'_> {
    fn head(&self) -> String {
        let count = if self.species.open {
            "x ".to_owned()
        } else if self.species.coefficient == 1 {
            String::new()
        } else {
            format!("{} ", self.species.coefficient)
        };
        format!("{count}{}", self.species.formula.pretty())
    }

    fn step(&self, kind: fn(usize) -> Kind) -> Option<StepId> {
        self.case.graph.of_kind(kind(self.index?))
    }

    fn is_excess(&self) -> bool {
        self.index.is_some_and(|index| {
            matches!(self.case.lab.substances[index].before, Some(Before::Excess))
        })
    }

    /// A step's value with its unit; `–` when there is no such step.
    fn value(&self, kind: fn(usize) -> Kind) -> String {
        let Some(step) = self.step(kind) else {
            return "–".to_owned();
        };
        self.guarded(step, &[step], |_| {
            self.case.shown(step).unwrap_or_default().to_owned()
        })
    }

    fn guarded(
        &self,
        step: StepId,
        reveals: &[StepId],
        write: impl FnOnce(&Value) -> String,
    ) -> String {
        match self.case.worked.value(step) {
            None => say!(self.case.lab.words, "waiting"),
            Some(_) if !self.case.open.all(reveals) => after_answer(self.case).to_owned(),
            Some(value) => write(value),
        }
    }

    fn taken(&self) -> String {
        if self.is_excess() {
            EXCESS.to_owned()
        } else {
            self.value(Kind::Mass)
        }
    }

    fn before(&self) -> String {
        if self.is_excess() {
            return EXCESS.to_owned();
        }
        match self.step(Kind::Moles) {
            Some(step) => self.guarded(step, &[step], |value| {
                number(self.case, &value.exact, value.figures)
            }),
            None => if self.reactant { "–" } else { "0" }.to_owned(),
        }
    }

    fn moles(
        &self,
        extent: Option<&Extent>,
        write: impl FnOnce(Exact, Figures) -> String,
    ) -> String {
        if self.species.open {
            return "–".to_owned();
        }
        let Some(extent) = extent else {
            return say!(self.case.lab.words, "waiting");
        };
        if !self
            .case
            .open
            .all(&reveals(self.case, extent, self.index, self.reactant))
        {
            return after_answer(self.case).to_owned();
        }
        write(extent.times(self.species.coefficient), extent.figures)
    }

    fn change(&self, extent: Option<&Extent>) -> String {
        self.moles(extent, |amount, figures| self.changed(&amount, figures))
    }

    fn after(&self, extent: Option<&Extent>) -> String {
        if self.is_excess() {
            return EXCESS.to_owned();
        }
        let start = self.step(Kind::Moles);
        self.moles(extent, |amount, figures| {
            if !self.reactant {
                return number(self.case, &amount, figures);
            }
            let Some(before) = start.and_then(|step| self.case.worked.value(step)) else {
                return "–".to_owned();
            };
            let left = &before.exact - &amount;
            if left.is_zero() {
                return say!(self.case.lab.words, "0 (limiting)");
            }
            let digits = Figures::sum([(before.figures, &before.exact), (figures, &amount)]);
            number(self.case, &left, digits)
        })
    }

    fn predicted(&self) -> String {
        if !self.reactant {
            return self.value(Kind::Theoretical);
        }
        let left = self.value(Kind::ExpectedLeft);
        self.still_there(left)
    }

    fn found(&self) -> String {
        if !self.reactant {
            return self.value(Kind::Collected);
        }
        let left = self.value(Kind::MeasuredLeft);
        self.still_there(left)
    }

    /// A value as what is left; a word in its place stays.
    fn still_there(&self, left: String) -> String {
        let wording = &self.case.lab.words;
        if left == "–" || left == wording.say("waiting") || left == after_answer(self.case) {
            left
        } else {
            say!(wording, "{mass} left", mass = left)
        }
    }

    fn change_found(&self) -> String {
        let kind = if self.reactant {
            Kind::MolesUsed
        } else {
            Kind::MolesCollected
        };
        let Some(step) = self.step(kind) else {
            return "–".to_owned();
        };
        self.guarded(step, &[step], |value| {
            self.changed(&value.exact, value.figures)
        })
    }

    /// An amount used up or formed as a change.
    fn changed(&self, amount: &Exact, figures: Figures) -> String {
        let change = if self.reactant {
            -amount
        } else {
            amount.clone()
        };
        let rounded = figures.write(&change, 1, self.case.lab.policy.rounding);
        show::signed(&self.case.lab.words, rounded)
    }
}

/// An amount in mol with a guard digit, as chains of sums and ratios are carried.
fn number(case: &Case<'_>, exact: &Exact, figures: Figures) -> String {
    debug_assert_eq!(Unit::Mole.power_to_base(), 0);
    show::written(
        &case.lab.words,
        figures.write(exact, 1, case.lab.policy.rounding),
    )
}
