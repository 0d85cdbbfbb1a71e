//! What the planned amounts predict: the before–change–after table and the students' first answers, blank or worked.

use crate::chem::Species;
use crate::lab::Before;
use crate::lab::Substance;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::planning::Preparation;
use crate::report::bench_sheet::blank;
use crate::report::model::Table;
use crate::report::pre_lab::form;
use crate::report::tables::words;
use crate::say;
use crate::working::Kind;
use crate::working::show;

/// Figures of the key.
const FIGURES: i32 = 3;

/// What stands for “as much as is needed”.
const EXCESS: &str = "XS";

/// What stands where there is nothing to write.
const NOTHING: &str = "–";

/// What a lab predicts; with a key only where every amount is planned.
pub(in crate::report) struct Prediction<'a> {
    planned: &'a Preparation<'a>,
    worked: Option<Worked>,
}

impl<'a> Prediction<'a> {
    /// Blank, or with `key` worked from the planned amounts.
    pub(in crate::report) fn new(planned: &'a Preparation<'a>, key: bool) -> Self {
        // Without the key nothing is worked at all: what is not there cannot leak.
        let worked = key.then(|| Worked::of(planned)).flatten();
        Self { planned, worked }
    }

    /// A value of the key, or room to write it.
    fn or_blank(&self, value: impl FnOnce(Worked) -> Option<String>) -> String {
        let value = self.worked.and_then(value);
        value.map_or_else(|| blank(8), |value| self.planned.lab.words.number(&value))
    }

    fn columns(&self) -> Vec<Column<'a>> {
        let equation = &self.planned.lab.equation;
        let reactants = equation.reactants.iter().map(|species| (species, true));
        let products = equation.products.iter().map(|species| (species, false));
        let of = |species: &Species, reactant: bool| {
            let mut all = self.planned.lab.substances.iter().enumerate();
            all.find(|(_, one)| {
                one.reactant == reactant && one.formula.same_substance(&species.formula)
            })
        };
        reactants
            .chain(products)
            .map(|(species, reactant)| Column {
                species,
                reactant,
                substance: of(species, reactant),
            })
            .collect()
    }

    /// Whether amounts taken settle what forms: not where a number of waters, or a share of a mixture, is to be found.
    pub(in crate::report) fn predicts(&self) -> bool {
        let equation = &self.planned.lab.equation;
        let mut species = equation.reactants.iter().chain(&equation.products);
        if species.any(Species::waits_for_x) {
            return false;
        }
        let mut steps = self.planned.graph.steps().iter();
        steps.any(|step| matches!(step.kind, Kind::Needed(_) | Kind::Theoretical(_)))
    }

    /// The before–change–after table.
    pub(in crate::report) fn amounts(&self) -> Table {
        let wording = &self.planned.lab.words;
        let columns = self.columns();
        let row = |head: &str, cell: &dyn Fn(&Column<'_>) -> String| {
            let mut row = vec![head.to_owned()];
            row.extend(columns.iter().map(cell));
            row
        };
        let rows = vec![
            row(wording.say("M / (g/mol)"), &|column| {
                self.molar_mass(column)
            }),
            row(wording.say("before / mol"), &|column| self.before(column)),
            row(wording.say("change / mol"), &|column| self.change(column)),
            row(wording.say("after / mol"), &|column| self.after(column)),
            row(wording.say("after / g"), &|column| self.mass_after(column)),
        ];
        let mut heads = vec![words("")];
        heads.extend(columns.iter().map(|column| {
            let formula = column.species.formula.pretty();
            words(&match column.species.coefficient {
                1 => formula,
                count => format!("{count} {formula}"),
            })
        }));
        Table {
            caption: say!(
                wording,
                "Before, change and after, from the planned amounts."
            ),
            columns: heads,
            rows,
        }
    }

    fn molar_mass(&self, column: &Column<'_>) -> String {
        let formula = column
            .substance
            .map_or(&column.species.formula, |(_, one)| form(one));
        self.or_blank(|_| show::molar_mass(self.planned.lab, formula).map(show::text))
    }

    fn before(&self, column: &Column<'_>) -> String {
        if column.is_excess() {
            return EXCESS.to_owned();
        }
        self.or_blank(|_| self.moles_before(column).map(figure))
    }

    /// Moles at the start; `None` where the plan cannot say.
    fn moles_before(&self, column: &Column<'_>) -> Option<f64> {
        if !column.reactant {
            return Some(0.0);
        }
        let (index, _) = column.substance?;
        self.planned
            .trial
            .value(self.planned.graph, Kind::Moles(index))
    }

    fn change(&self, column: &Column<'_>) -> String {
        let sign = if column.reactant { "−" } else { "+" };
        self.or_blank(|worked| {
            let amount = figure(worked.turnover(column));
            Some(if amount == "0" {
                amount
            } else {
                format!("{sign}{amount}")
            })
        })
    }

    fn after(&self, column: &Column<'_>) -> String {
        if column.is_excess() {
            return EXCESS.to_owned();
        }
        self.or_blank(|worked| self.moles_after(column, worked).map(figure))
    }

    fn moles_after(&self, column: &Column<'_>, worked: Worked) -> Option<f64> {
        let before = self.moles_before(column)?;
        if !column.reactant {
            return Some(before + worked.turnover(column));
        }
        Some(nothing_is_zero(before - worked.turnover(column), before))
    }

    /// The mass that is left or has formed, where it is weighed at all.
    fn mass_after(&self, column: &Column<'_>) -> String {
        if column.is_excess() {
            return EXCESS.to_owned();
        }
        let kind = column.substance.map(|(index, _)| {
            if column.reactant {
                Kind::ExpectedLeft(index)
            } else {
                Kind::Theoretical(index)
            }
        });
        let step = kind.and_then(|kind| self.planned.graph.of_kind(kind));
        let step = step.map(|step| self.planned.graph.step(step));
        match step.filter(|step| step.unit == Unit::Gram) {
            Some(step) => self.or_blank(|_| self.predicted(step.kind, step.unit)),
            None => NOTHING.to_owned(),
        }
    }

    /// What the table does not say by itself.
    pub(in crate::report) fn notes(&self, key: bool) -> Vec<String> {
        let wording = &self.planned.lab.words;
        let mut notes = Vec::new();
        for substance in &self.planned.lab.substances {
            if let Some(form) = &substance.weighed_as {
                notes.push(say!(
                    wording,
                    "{substance} is weighed as {form}: take the molar mass of that.",
                    substance = substance.formula.pretty(),
                    form = form.pretty()
                ));
            }
            if matches!(substance.before, Some(Before::Excess)) {
                notes.push(say!(
                    wording,
                    "XS: {substance} is there in excess and is not weighed.",
                    substance = substance.name
                ));
            }
        }
        if !self.predicts() {
            return vec![say!(
                wording,
                "What comes out follows from the readings alone: nothing can be predicted from the amounts taken."
            )];
        }
        if key && self.worked.is_none() {
            let missing: Vec<&str> = self
                .planned
                .unplanned()
                .into_iter()
                .map(|index| self.planned.lab.substances[index].key.as_str())
                .collect();
            notes.push(if missing.is_empty() {
                say!(
                    wording,
                    "The planned amounts do not settle how far the reaction goes, so there is no key."
                )
            } else {
                say!(
                    wording,
                    "There is no key while the lab description plans no amount, under [plan], of: {substances}.",
                    substances = missing.join(", ")
                )
            });
        }
        notes
    }

    /// What students will be asked, answered from the planned amounts.
    pub(in crate::report) fn predictions(&self) -> Option<Table> {
        let wording = &self.planned.lab.words;
        let steps = self.planned.graph.steps().iter().filter(|step| {
            let predicts = matches!(
                step.kind,
                Kind::Limiting | Kind::Theoretical(_) | Kind::ExpectedLeft(_)
            );
            predicts
                && step.equation == 0
                && (step.asked.is_some() || !self.planned.lab.ask.present)
        });
        let rows: Vec<Vec<String>> = steps
            .map(|step| {
                let question = step.asked.as_ref().unwrap_or(&step.title).clone();
                let answer = if step.kind == Kind::Limiting {
                    self.worked
                        .map_or_else(|| blank(16), |worked| self.limiting(worked))
                } else {
                    let value = self.or_blank(|_| self.predicted(step.kind, step.unit));
                    show::with_unit(&value, step.unit)
                };
                vec![question, answer, step.id.clone()]
            })
            .collect();
        (!rows.is_empty()).then(|| Table {
            caption: say!(
                wording,
                "Your prediction. After the lab you answer the same from your own readings."
            ),
            columns: vec![
                words(wording.say("question")),
                words(wording.say("from the planned amounts")),
                words(wording.say("in the data file")),
            ],
            rows,
        })
    }

    fn predicted(&self, kind: Kind, unit: Unit) -> Option<String> {
        let value = self.planned.trial.value(self.planned.graph, kind)?;
        let scale = match kind {
            // What is left is a difference of what was there: its zero has that size.
            Kind::ExpectedLeft(index) => self.planned.planned.of_substance(index)?.base,
            _ => value,
        };
        let shown = nothing_is_zero(value, scale) / 10.0_f64.powi(unit.power_to_base());
        Some(figure(shown))
    }

    /// Names of what runs out first.
    fn limiting(&self, worked: Worked) -> String {
        let reactants = self.planned.lab.substances.iter().enumerate();
        let first: Vec<&str> = reactants
            .filter(|(index, one)| {
                let moles = self
                    .planned
                    .trial
                    .value(self.planned.graph, Kind::Moles(*index));
                one.reactant
                    && matches!(one.before, Some(Before::Measured(_)))
                    && moles.is_some_and(|moles| {
                        let own = moles / f64::from(one.coefficient);
                        nothing_is_zero(own - worked.extent, own) == 0.0
                    })
            })
            .map(|(_, one)| one.name.as_str())
            .collect();
        first.join(self.planned.lab.words.say(" and "))
    }
}

/// The planned experiment worked, where every amount is planned.
#[derive(Debug, Clone, Copy)]
struct Worked {
    /// How far the reaction can go, in mol.
    extent: f64,
}

impl Worked {
    fn of(planned: &Preparation<'_>) -> Option<Self> {
        if !planned.unplanned().is_empty() {
            return None;
        }
        let substances = planned.lab.substances.iter().enumerate();
        let extents = substances
            .filter(|(_, one)| one.reactant && matches!(one.before, Some(Before::Measured(_))))
            .map(|(index, one)| {
                let moles = planned.trial.value(planned.graph, Kind::Moles(index))?;
                Some(moles / f64::from(one.coefficient))
            });
        let extents: Option<Vec<f64>> = extents.collect();
        let extent = extents?.into_iter().reduce(f64::min)?;
        (extent > 0.0).then_some(Self { extent })
    }
}

/// A species of the equation, with the substance of the lab that it is.
struct Column<'a> {
    species: &'a Species,
    reactant: bool,
    substance: Option<(usize, &'a Substance)>,
}

impl Column<'_> {
    fn is_excess(&self) -> bool {
        self.substance
            .is_some_and(|(_, one)| matches!(one.before, Some(Before::Excess)))
    }
}

impl Worked {
    /// Moles of a species that react or form.
    fn turnover(self, column: &Column<'_>) -> f64 {
        self.extent * f64::from(column.species.coefficient)
    }
}

/// A difference that is nothing but the rounding of binary numbers is nothing.
fn nothing_is_zero(difference: f64, of: f64) -> f64 {
    if difference.abs() <= 1e-9 * of.abs() {
        0.0
    } else {
        difference
    }
}

/// A number of the key.
fn figure(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let number = rounding::float_to_figures(value, FIGURES, Rounding::HalfUp);
    number.map_or_else(String::new, show::text)
}
