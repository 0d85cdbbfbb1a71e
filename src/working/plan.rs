//! The graph of a lab: which steps its substances, its equation and its own quantities allow.

use crate::lab::Before;
use crate::lab::Given;
use crate::lab::Lab;
use crate::lab::Substance;
use crate::lab::Written;
use crate::measure::Dimension;
use crate::measure::Unit;
use crate::problem::Code;
use crate::problem::Problem;
use crate::say;
use crate::working::Graph;
use crate::working::chain;
use crate::working::expression::Constant;
use crate::working::expression::Expression;
use crate::working::expression::StepId;
use crate::working::graph::Kind;
use crate::working::graph::Step;
use crate::working::lower;

/// The graph of a lab, with what is wrong with the lab's expressions and questions.
#[must_use]
pub fn plan(lab: &Lab) -> (Graph, Vec<Problem>) {
    let mut plan = Plan::new(lab);
    plan.reactants();
    let extent = plan.extent();
    chain::main(&mut plan, extent.as_ref());
    for (number, equation) in lab.alternatives.iter().enumerate() {
        chain::alternative(&mut plan, number + 1, equation);
    }
    for find in 0..lab.finds.len() {
        plan.find(find);
    }
    plan.idle_purities();
    plan.questions();
    (plan.graph, plan.problems)
}

/// A graph under construction.
pub(in crate::working) struct Plan<'a> {
    pub(super) lab: &'a Lab,
    pub(super) graph: Graph,
    pub(super) problems: Vec<Problem>,
    /// Finds being planned right now, to stop two from waiting for each other.
    pub(super) finding: Vec<usize>,
}

impl<'a> Plan<'a> {
    fn new(lab: &'a Lab) -> Self {
        let mut givens = lab.givens.clone();
        let mut purities = Vec::new();
        for substance in &lab.substances {
            purities.push(substance.purity.as_ref().map(|purity| {
                givens.push(Given {
                    name: say!(
                        lab.words,
                        "purity of {substance}",
                        substance = substance.name
                    ),
                    ..purity.clone()
                });
                givens.len() - 1
            }));
        }
        let readings = lab
            .readings()
            .map(|(_, asked)| asked.unit.dimension())
            .collect();
        let mut graph = Graph::default();
        graph.givens = givens;
        graph.purities = purities;
        graph.readings = readings;
        Self {
            lab,
            graph,
            problems: Vec::new(),
            finding: Vec::new(),
        }
    }

    /// A substance of the lab.
    pub(super) fn substance(&self, index: usize) -> &'a Substance {
        &self.lab.substances[index]
    }

    /// Adds a step of the lab's own equation.
    pub(super) fn add(
        &mut self,
        id: String,
        title: String,
        kind: Kind,
        lowered: (Expression, Dimension),
    ) -> StepId {
        self.add_for(0, id, title, kind, lowered)
    }

    /// Adds a step of one of the equations.
    pub(super) fn add_for(
        &mut self,
        equation: usize,
        id: String,
        title: String,
        kind: Kind,
        (expression, dimension): (Expression, Dimension),
    ) -> StepId {
        let unit = Unit::for_dimension(dimension).unwrap_or(Unit::One);
        self.graph.add(Step {
            id,
            title,
            kind,
            expression,
            dimension,
            unit,
            equation,
            asked: None,
        })
    }

    /// Lowers a written expression; a name that is a further quantity is planned first.
    pub(super) fn lower(&mut self, written: &Written) -> Option<(Expression, Dimension)> {
        for (name, _) in written.term.names() {
            if self.graph.find(name).is_none()
                && let Some(find) = self.lab.finds.iter().position(|find| find.id == name)
            {
                self.find(find);
            }
        }
        match lower::lower(self.lab, &self.graph, &written.term) {
            Ok(lowered) => Some(lowered),
            Err(problem) => {
                // Two questions about one bad expression would say the same thing twice.
                if !self.problems.contains(&problem) {
                    self.problems.push(problem);
                }
                None
            }
        }
    }

    /// The molar mass of the form a substance is weighed in.
    pub(super) fn molar_mass(&mut self, index: usize) -> StepId {
        if let Some(step) = self.graph.of_kind(Kind::MolarMass(index)) {
            return step;
        }
        let substance = self.substance(index);
        let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
        let name = substance.weighed_name.as_ref().unwrap_or(&substance.name);
        let expression = Expression::Constant(Constant::MolarMass(form.clone()));
        let title = say!(
            self.lab.words,
            "molar mass of {substance}",
            substance = name
        );
        self.add(
            format!("molar_mass_{}", substance.key),
            title,
            Kind::MolarMass(index),
            (expression, Unit::GramPerMole.dimension()),
        )
    }

    /// Mass and moles at the start of everything that has them.
    fn reactants(&mut self) {
        for index in 0..self.lab.substances.len() {
            let substance = self.substance(index);
            let Some(Before::Measured(written)) = &substance.before else {
                continue;
            };
            let Some((expression, dimension)) = self.lower_matter(written, "before") else {
                continue;
            };
            let key = &substance.key;
            let name = substance.weighed_name.as_ref().unwrap_or(&substance.name);
            let words = &self.lab.words;
            let mass_title = say!(words, "mass of {substance} taken", substance = name);
            let moles_title = say!(
                words,
                "moles of {substance} at the start",
                substance = substance.name
            );
            if dimension == Unit::Gram.dimension() {
                if substance.formula.open_waters() {
                    // Without the number of waters there is no molar mass, and so no moles.
                    let kind = Kind::Mass(index);
                    let lowered = (expression, dimension);
                    self.add(format!("mass_{key}"), mass_title, kind, lowered);
                    continue;
                }
                self.molar_mass(index);
                let mass = self.add(
                    format!("mass_{key}"),
                    mass_title,
                    Kind::Mass(index),
                    (expression, dimension),
                );
                let moles = self.to_moles(index, Expression::Step(mass));
                self.add(
                    format!("moles_{key}"),
                    moles_title,
                    Kind::Moles(index),
                    (moles, Unit::Mole.dimension()),
                );
            } else {
                let moles = self.graph.pure(index, expression);
                self.add(
                    format!("moles_{key}"),
                    moles_title,
                    Kind::Moles(index),
                    (moles, dimension),
                );
            }
        }
    }

    /// The extent of reaction, and the limiting step where two or more reactants are known.
    fn extent(&mut self) -> Option<chain::Extent> {
        let wanted = self.extent_is_wanted();
        let mut complete = true;
        for species in &self.lab.equation.reactants {
            let substance = self
                .lab
                .substances
                .iter()
                .find(|s| s.reactant && s.formula.same_substance(&species.formula));
            if substance.is_some_and(|substance| substance.before.is_some()) {
                continue;
            }
            complete = false;
            if wanted {
                let pretty = species.formula.pretty();
                let place = substance.map_or(self.lab.equation_span.clone(), |substance| {
                    substance.span.clone()
                });
                self.problems.push(
                    Problem::error(Code::MissingBefore, format!("{pretty} reacts, but nothing says how much of it there was"))
                        .at(place, "no `before`")
                        .help("give it `before = \"…\"` with its readings, or `before = \"excess\"` if there was more than enough"),
                );
            }
        }
        if complete {
            chain::extent_of(self, 0, &self.lab.equation)
        } else {
            None
        }
    }

    /// Whether anything asked depends on how much each reactant there was.
    fn extent_is_wanted(&self) -> bool {
        const FROM_EXTENT: &[&str] = &[
            "limiting",
            "theoretical_",
            "expected_left_",
            "needed_",
            "percent_yield",
            "left_error_",
            "completion_",
            "recovery_",
        ];
        let ask = &self.lab.ask;
        !ask.present
            || ask.usual
            || ask.steps.iter().any(|step| {
                step.wanted && FROM_EXTENT.iter().any(|start| step.id.starts_with(start))
            })
    }

    /// Marks the steps students are asked for.
    fn questions(&mut self) {
        let lab = self.lab;
        if lab.ask.usual {
            for step in self.graph.ids() {
                if self.is_usual(step) {
                    let title = self.graph.step(step).title.clone();
                    self.graph.ask(step, Some(title));
                }
            }
        }
        for asked in &lab.ask.steps {
            let Some(step) = self.graph.find(&asked.id) else {
                let ids = self.graph.steps().iter().map(|step| step.id.as_str());
                let near = crate::problem::suggest::closest(&asked.id, ids);
                if near.is_none() && !self.problems.is_empty() {
                    // What is wrong in the expressions may be why the step is not there.
                    continue;
                }
                let help = near.map_or_else(
                    || "ask only for steps that this lab's readings allow".to_owned(),
                    |id| format!("did you mean `{id}`?"),
                );
                self.problems.push(
                    Problem::error(
                        Code::UnknownStep,
                        format!("this lab has no step `{}`", asked.id),
                    )
                    .at(asked.span.clone(), "no such step")
                    .help(help),
                );
                continue;
            };
            let words = asked
                .question
                .clone()
                .unwrap_or_else(|| self.words_of(step));
            self.graph.ask(step, asked.wanted.then_some(words));
        }
        for (index, find) in lab.finds.iter().enumerate() {
            // A teacher's own quantity is there to be asked for, unless [ask] says otherwise.
            let named = lab.ask.steps.iter().any(|asked| asked.id == find.id);
            if lab.ask.usual
                && !named
                && let Some(step) = self.graph.of_kind(Kind::Find(index))
            {
                let words = self.words_of(step);
                self.graph.ask(step, Some(words));
            }
        }
    }

    /// The question about a step that `[ask]` does not word: the one of its `[find]`, else its title.
    fn words_of(&self, step: StepId) -> String {
        let step = self.graph.step(step);
        let find = match step.kind {
            Kind::Find(find) => self.lab.finds[find].question.clone(),
            _ => None,
        };
        find.unwrap_or_else(|| step.title.clone())
    }

    /// Mass, moles, limiting, theoretical, expected left, collected, measured left, used, percent yield, ratio.
    ///
    /// A mass read directly is no question. Nor is a leftover that nobody weighs: which reactant runs out is for the students'
    /// own amounts to say, and a lab that wants to know what is left over names that step.
    fn is_usual(&self, step: StepId) -> bool {
        let step = self.graph.step(step);
        if step.equation != 0 {
            return false;
        }
        match step.kind {
            Kind::Mass(_) => !matches!(step.expression, Expression::Reading(_)),
            Kind::ExpectedLeft(r) => self.substance(r).after.is_some(),
            Kind::Moles(_)
            | Kind::Limiting
            | Kind::Theoretical(_)
            | Kind::Collected(_)
            | Kind::MeasuredLeft(_)
            | Kind::Used(_)
            | Kind::PercentYield(_)
            | Kind::Ratio(..) => true,
            _ => false,
        }
    }
}
