//! The page before the lab: planned amounts, the before–change–after table to fill in, questions; for the teacher with its key.

use serde::Serialize;

use crate::chem::Equation;
use crate::chem::Formula;
use crate::chem::Species;
use crate::lab::Before;
use crate::lab::Lab;
use crate::lab::Substance;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::planning::Preparation;
use crate::report::bench_sheet::Whose;
use crate::report::bench_sheet::blank;
use crate::report::bench_sheet::titled;
use crate::report::document::Document;
use crate::report::form::FormFor;
use crate::report::model::Chart;
use crate::report::model::Safety;
use crate::report::model::Table;
use crate::report::tables::words;
use crate::report::words::safety;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::show;

/// Figures of the key.
const FIGURES: i32 = 3;

/// What stands for “as much as is needed”.
const EXCESS: &str = "XS";

/// What stands where there is nothing to write.
const NOTHING: &str = "–";

/// A prediction page.
#[derive(Debug, Clone, Serialize)]
pub struct PreLab {
    /// Lab title.
    pub title: String,
    /// Whose it is.
    pub whose: Whose,
    /// Whether it is the teacher's copy, filled in.
    pub key: bool,
    /// Safety.
    pub safety: Safety,
    /// Questions on working safely.
    pub safety_questions: Vec<String>,
    /// The teacher's background, Markdown.
    pub background: Option<String>,
    /// The balanced equation, pretty.
    pub equation: String,
    /// Other equations the data might support, pretty.
    pub alternatives: Vec<String>,
    /// What is planned for one group, with the readings that will say it; `None` when nothing is taken.
    pub planned: Option<Table>,
    /// Before, change, after.
    pub amounts: Table,
    /// Remarks under that table.
    pub amounts_notes: Vec<String>,
    /// What to predict; `None` where the lab predicts nothing.
    pub predictions: Option<Table>,
    /// Questions to answer before the lab.
    pub questions: Vec<String>,
}

impl Document for PreLab {
    fn title(&self) -> String {
        let what = if self.key {
            "before the lab, key"
        } else {
            "before the lab"
        };
        titled(&self.title, what, &self.whose)
    }

    fn charts(&self) -> Vec<&Chart> {
        Vec::new()
    }

    fn on_paper(&self) -> bool {
        true
    }
}

/// The prediction page of a lab for one group; with `key` filled in from the planned amounts.
#[must_use]
pub fn compose(lab: &Lab, graph: &Graph, whose: &FormFor, key: bool) -> PreLab {
    let planned = Preparation::new(lab, graph, 1, 0.0);
    // Without the key nothing is worked at all: what is not there cannot leak.
    let worked = key.then(|| Worked::of(&planned)).flatten();
    let page = Page {
        lab,
        graph,
        planned: &planned,
        worked,
    };
    let mut number = 0;
    let mut next = || {
        number += 1;
        number
    };
    PreLab {
        title: lab.title.clone(),
        whose: Whose::of(whose),
        key,
        safety: safety(lab, None),
        safety_questions: safety_questions(),
        background: lab.text.background.clone(),
        equation: lab.equation.pretty(),
        alternatives: lab.alternatives.iter().map(Equation::pretty).collect(),
        planned: page.planned_table(&mut next),
        amounts: page.amounts(next()),
        amounts_notes: page.notes(key),
        predictions: page.predictions(&mut next),
        questions: page.questions(),
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

/// What a page is made from.
struct Page<'a> {
    lab: &'a Lab,
    graph: &'a Graph,
    planned: &'a Preparation<'a>,
    worked: Option<Worked>,
}

impl<'a> Page<'a> {
    /// A value of the key, or room to write it.
    fn or_blank(&self, value: impl FnOnce(Worked) -> Option<String>) -> String {
        self.worked.and_then(value).unwrap_or_else(|| blank(8))
    }

    fn columns(&self) -> Vec<Column<'a>> {
        let equation = &self.lab.equation;
        let reactants = equation.reactants.iter().map(|species| (species, true));
        let products = equation.products.iter().map(|species| (species, false));
        let of = |species: &Species, reactant: bool| {
            let mut all = self.lab.substances.iter().enumerate();
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

    /// Substances and water as planned, with the names of the readings that will say what was really taken.
    fn planned_table(&self, next: &mut impl FnMut() -> u32) -> Option<Table> {
        let mut rows = Vec::new();
        for (index, substance) in self.lab.substances.iter().enumerate() {
            let amount = match &substance.before {
                _ if !substance.reactant => continue,
                None => continue,
                Some(Before::Excess) => "as much as is needed".to_owned(),
                Some(Before::Measured(_)) => self
                    .planned
                    .planned
                    .of_substance(index)
                    .map_or_else(|| blank(10), |amount| amount.written.clone()),
            };
            rows.push(vec![
                name(substance).to_owned(),
                form(substance).pretty(),
                amount,
                self.readings(index),
            ]);
        }
        let water = |key: &str, what: &str| {
            let (_, text) = self.lab.plan.iter().find(|(name, _)| name == key)?;
            Some(vec![
                what.to_owned(),
                String::new(),
                text.clone(),
                String::new(),
            ])
        };
        rows.extend(water("water", "distilled water"));
        rows.extend(water("washes", "washings"));
        (!rows.is_empty()).then(|| Table {
            number: next(),
            caption: "What one group is to take. Use these amounts for the prediction only; in the lab your own readings count.".to_owned(),
            columns: vec![
                words("substance"),
                words("formula"),
                words("planned"),
                words("readings that will say it"),
            ],
            rows,
        })
    }

    /// Names of the readings that say how much of a substance was taken.
    fn readings(&self, index: usize) -> String {
        let step = [Kind::Mass(index), Kind::Moles(index)];
        let step = step.into_iter().find_map(|kind| self.graph.of_kind(kind));
        let used = step.map(|step| self.graph.step(step).expression.readings());
        let asked: Vec<&str> = self
            .lab
            .readings()
            .enumerate()
            .filter(|(place, _)| used.as_ref().is_some_and(|used| used.contains(place)))
            .map(|(_, (_, asked))| asked.name.as_str())
            .collect();
        asked.join(", ")
    }

    /// The before–change–after table.
    fn amounts(&self, number: u32) -> Table {
        let columns = self.columns();
        let row = |head: &str, cell: &dyn Fn(&Column<'_>) -> String| {
            let mut row = vec![head.to_owned()];
            row.extend(columns.iter().map(cell));
            row
        };
        let rows = vec![
            row("M / (g/mol)", &|column| self.molar_mass(column)),
            row("before / mol", &|column| self.before(column)),
            row("change / mol", &|column| self.change(column)),
            row("after / mol", &|column| self.after(column)),
            row("after / g", &|column| self.mass_after(column)),
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
            number,
            caption: "Before, change and after, from the planned amounts.".to_owned(),
            columns: heads,
            rows,
        }
    }

    fn molar_mass(&self, column: &Column<'_>) -> String {
        let formula = column
            .substance
            .map_or(&column.species.formula, |(_, one)| form(one));
        self.or_blank(|_| show::molar_mass(self.lab, formula).map(show::text))
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
        self.planned.trial.value(self.graph, Kind::Moles(index))
    }

    fn change(&self, column: &Column<'_>) -> String {
        let sign = if column.reactant { "−" } else { "+" };
        self.or_blank(|worked| Some(format!("{sign}{}", figure(worked.turnover(column)))))
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

    /// The mass that is left or has formed, in the form that is weighed.
    fn mass_after(&self, column: &Column<'_>) -> String {
        if column.is_excess() {
            return EXCESS.to_owned();
        }
        let Some((index, substance)) = column.substance else {
            return NOTHING.to_owned();
        };
        // A reactant taken as a solution and a product that is not weighed have no mass of their own in this lab.
        let weighed = if column.reactant {
            self.graph.of_kind(Kind::Mass(index)).is_some()
        } else {
            let most = self.graph.of_kind(Kind::Theoretical(index));
            most.is_some_and(|step| self.graph.step(step).unit == Unit::Gram)
        };
        if !weighed {
            return NOTHING.to_owned();
        }
        let formula = form(substance);
        self.or_blank(|worked| {
            let molar = self.lab.atomic_weights.molar_mass(formula).ok()?;
            let purity = column.purity();
            Some(figure(
                self.moles_after(column, worked)? * rounding::to_f64(&molar) / purity,
            ))
        })
    }

    /// What the table does not say by itself.
    fn notes(&self, key: bool) -> Vec<String> {
        let mut notes = Vec::new();
        for substance in &self.lab.substances {
            if let Some(form) = &substance.weighed_as {
                notes.push(format!(
                    "{} is weighed as {}: take the molar mass of that.",
                    substance.formula.pretty(),
                    form.pretty()
                ));
            }
            if matches!(substance.before, Some(Before::Excess)) {
                notes.push(format!(
                    "{EXCESS}: {} is there in excess and is not weighed.",
                    substance.name
                ));
            }
        }
        if key && self.worked.is_none() {
            let missing: Vec<&str> = self
                .planned
                .unplanned()
                .into_iter()
                .map(|index| self.lab.substances[index].key.as_str())
                .collect();
            notes.push(if missing.is_empty() {
                "The planned amounts do not settle how far the reaction goes, so there is no key.".to_owned()
            } else {
                format!(
                    "There is no key while the lab description plans no amount, under [plan], of: {}.",
                    missing.join(", ")
                )
            });
        }
        notes
    }

    /// What students will be asked, answered from the planned amounts.
    fn predictions(&self, next: &mut impl FnMut() -> u32) -> Option<Table> {
        let steps = self.graph.steps().iter().filter(|step| {
            let predicts = matches!(
                step.kind,
                Kind::Limiting | Kind::Theoretical(_) | Kind::ExpectedLeft(_)
            );
            predicts && step.equation == 0 && (step.asked.is_some() || !self.lab.ask.present)
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
            number: next(),
            caption: "Your prediction. After the lab you answer the same from your own readings."
                .to_owned(),
            columns: vec![
                words("question"),
                words("from the planned amounts"),
                words("name in the data file"),
            ],
            rows,
        })
    }

    fn predicted(&self, kind: Kind, unit: Unit) -> Option<String> {
        let value = self.planned.trial.value(self.graph, kind)?;
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
        let reactants = self.lab.substances.iter().enumerate();
        let first: Vec<&str> = reactants
            .filter(|(index, one)| {
                let moles = self.planned.trial.value(self.graph, Kind::Moles(*index));
                one.reactant
                    && matches!(one.before, Some(Before::Measured(_)))
                    && moles.is_some_and(|moles| {
                        let own = moles / f64::from(one.coefficient);
                        nothing_is_zero(own - worked.extent, own) == 0.0
                    })
            })
            .map(|(_, one)| one.name.as_str())
            .collect();
        first.join(" and ")
    }

    /// Questions to answer before the lab, from what the lab measures.
    fn questions(&self) -> Vec<String> {
        let mut questions = vec![
            "What is this experiment to find out? One sentence, in your own words.".to_owned(),
            "Which of its readings cannot be taken again once the day is over, and how will you make sure of them?"
                .to_owned(),
        ];
        let hydrate = self
            .lab
            .substances
            .iter()
            .find(|one| one.reactant && one.weighed_as.is_some());
        if let Some(salt) = hydrate {
            questions.push(format!(
                "{} holds water. Where does that water count in your calculation, and where does it not?",
                crate::report::compose::sentence_case(name(salt))
            ));
        }
        let series = self
            .lab
            .readings()
            .find(|(_, asked)| asked.series.is_some());
        if let Some((_, asked)) = series {
            questions.push(format!(
                "“{}” is read more than once. Why, and when may you stop?",
                asked.label
            ));
        }
        questions
    }
}

impl Column<'_> {
    fn is_excess(&self) -> bool {
        self.substance
            .is_some_and(|(_, one)| matches!(one.before, Some(Before::Excess)))
    }

    /// The fraction of a reactant in what is weighed.
    fn purity(&self) -> f64 {
        let given = self.substance.and_then(|(_, one)| one.purity.as_ref());
        given.map_or(1.0, |given| {
            let unit = given.value.unit.unwrap_or(Unit::One);
            let fraction = given.value.number.to_f64();
            if unit == Unit::Percent {
                fraction / 100.0
            } else {
                fraction
            }
        })
    }
}

impl Worked {
    /// Moles of a species that react or form.
    fn turnover(self, column: &Column<'_>) -> f64 {
        self.extent * f64::from(column.species.coefficient)
    }
}

/// Questions on working safely; what the answers are, the room, the bottle and the teacher say.
fn safety_questions() -> Vec<String> {
    [
        "Which of these hazards could reach you in this lab, and in which step?",
        "What will you wear, and what will you do, because of that?",
        "Where in your room are the eyewash and the exit, and whom do you tell first when something goes wrong?",
        "Where does your teacher say that the waste of this lab goes?",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// The name of what is weighed.
fn name(substance: &Substance) -> &str {
    substance.weighed_name.as_ref().unwrap_or(&substance.name)
}

/// The formula of what is weighed.
fn form(substance: &Substance) -> &Formula {
    substance.weighed_as.as_ref().unwrap_or(&substance.formula)
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
    rounding::of_f64(value).map_or_else(String::new, |exact| {
        show::text(rounding::to_figures(&exact, FIGURES, Rounding::HalfUp))
    })
}
