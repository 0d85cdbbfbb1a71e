//! The worked text of a step: given, find, relation, numbers put in, answer, and a remark on its size.

use crate::chem::Formula;
use crate::lab::Lab;
use crate::measure::Unit;
use crate::say;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::Step;
use crate::working::StepId;
use crate::working::Value;
use crate::working::carried;
use crate::working::chain;
use crate::working::expression::Constant;
use crate::working::expression::Expression;
use crate::working::factors;
use crate::working::factors::Scene;
use crate::working::math::Chain;
use crate::working::math::Math;
use crate::working::show;
use crate::working::symbols;

/// A step worked as a marker wants it.
#[derive(Debug, Clone)]
pub struct WorkedStep {
    /// What is given, a phrase each.
    pub given: Vec<String>,
    /// What is to be found.
    pub find: String,
    /// The chain of equals signs; one a reactant where amounts are compared.
    pub chains: Vec<Chain>,
    /// What the comparison says, for the limiting step.
    pub so: Option<String>,
    /// A remark on the answer's size.
    pub check: Option<String>,
}

impl crate::working::Worked<'_> {
    /// The worked text of a step; `None` while its value is not known.
    #[must_use]
    pub fn text(
        &self,
        lab: &crate::lab::Lab,
        graph: &crate::working::Graph,
        record: &crate::record::Record,
        id: StepId,
    ) -> Option<WorkedStep> {
        let mut scene = Scene {
            lab,
            graph,
            worked: self,
            record,
            of: id,
            further: 0,
        };
        let step = graph.step(id);
        scene.further = carried::further(&scene, step);
        let value = self.value(id)?;
        let find = step.title.clone();
        match &step.expression {
            Expression::Smallest(_) => Some(limiting(&scene, step, value)),
            Expression::Constant(Constant::MolarMass(formula)) => {
                let chains = vec![molar_mass(&scene, id, formula)];
                Some(WorkedStep {
                    given: Vec::new(),
                    find,
                    chains,
                    so: None,
                    check: None,
                })
            }
            _ if let Some(start) = chain::all_of_it(graph, &self.states, step) => {
                Some(all_of_it(&scene, id, start))
            }
            expression => {
                let written = factors::write(&scene, expression);
                let mut right = Vec::new();
                let answer = answer(&scene, id);
                if written.symbols != written.numbers {
                    right.push(written.symbols);
                }
                if written.numbers != *bare(&answer) {
                    right.push(written.numbers);
                }
                right.push(answer);
                let chain = Chain {
                    left: symbols::symbol(&scene, id),
                    right,
                };
                Some(WorkedStep {
                    given: written.given,
                    find,
                    chains: vec![chain],
                    so: None,
                    check: check(&scene, step, value),
                })
            }
        }
    }
}

/// What a reactant that runs out needs of itself.
fn all_of_it(scene: &Scene<'_>, id: StepId, start: StepId) -> WorkedStep {
    let amount = symbols::step_amount(scene, start);
    let mut given = symbols::written(&amount);
    given.push_str(scene.lab.words.say(" (limiting)"));
    let chain = Chain {
        left: symbols::symbol(scene, id),
        right: vec![symbols::symbol(scene, start), answer(scene, id)],
    };
    WorkedStep {
        given: vec![given],
        find: scene.graph.step(id).title.clone(),
        chains: vec![chain],
        so: None,
        check: None,
    }
}

/// The answer: a value with a guard digit, an arrow, the value with the digits it defends.
fn answer(scene: &Scene<'_>, id: StepId) -> Math {
    let guarded = symbols::step_amount(scene, id);
    let number = scene.shown(id).map_or("", |shown| &shown.number);
    let defended = symbols::Amount {
        number: number.to_owned(),
        unit: guarded.unit,
        substance: guarded.substance.clone(),
    };
    let same = guarded == defended;
    let bold = Math::Answer(Box::new(symbols::math_of(defended, false)));
    if same {
        return bold;
    }
    Math::Row(vec![
        symbols::math_of(guarded, false),
        Math::Operator("→"),
        bold,
    ])
}

/// An answer without its weight, to see whether a line only repeats it.
fn bare(answer: &Math) -> &Math {
    match answer {
        Math::Answer(inner) => inner,
        other => other,
    }
}

/// Moles ÷ coefficient of each reactant, and which is smallest.
fn limiting(scene: &Scene<'_>, step: &Step, value: &Value) -> WorkedStep {
    let mut given = Vec::new();
    let mut chains = Vec::new();
    if let Expression::Smallest(candidates) = &step.expression {
        for candidate in candidates {
            let formula = scene.lab.substances[candidate.substance].formula.pretty();
            let Expression::Quotient(moles, divisor) = &candidate.share else {
                continue;
            };
            let (
                Expression::Step(moles),
                Expression::Constant(Constant::Coefficient { count, .. }),
            ) = (&**moles, &**divisor)
            else {
                continue;
            };
            let Some(amount) = scene.worked.value(*moles) else {
                continue;
            };
            let (shown, number) = if *count == 1 {
                let shown = symbols::step_amount(scene, *moles);
                (shown.clone(), shown.number)
            } else {
                let share = &amount.exact / crate::measure::Exact::from_integer((*count).into());
                let step = scene.graph.step(*moles);
                let (_, guarded) = show::with_guard(scene.lab, step, &share, amount.figures);
                let further = carried::further_of_share(scene, *moles, *count, guarded);
                let scene = Scene { further, ..*scene };
                (symbols::operand(&scene, *moles), scene.number(guarded))
            };
            given.push(symbols::written(&shown));
            let over = |math: Math| {
                Math::Fraction(Box::new(math), Box::new(Math::Number(count.to_string())))
            };
            let left = over(Math::Symbol {
                letter: "n",
                of: Some(formula),
                index: None,
            });
            let result = symbols::Amount {
                number,
                unit: "mol",
                substance: String::new(),
            };
            chains.push(Chain {
                left,
                right: vec![
                    over(symbols::math_of(shown, false)),
                    symbols::math_of(result, false),
                ],
            });
        }
    }
    let words = &scene.lab.words;
    let names = show::limiting(scene.lab, value);
    let so = if value.smallest.len() > 1 {
        say!(
            words,
            "the shares are equal: {substances} run out together",
            substances = names
        )
    } else {
        say!(
            words,
            "the smallest is that of {substance}: it runs out first",
            substance = names
        )
    };
    WorkedStep {
        given,
        find: step.title.clone(),
        chains,
        so: Some(so),
        check: None,
    }
}

/// Atomic weights added up.
fn molar_mass(scene: &Scene<'_>, id: StepId, formula: &Formula) -> Chain {
    let (mut symbols, mut numbers) = (Vec::new(), Vec::new());
    for (place, (element, count)) in formula.atoms().iter().enumerate() {
        if place > 0 {
            symbols.push(Math::Operator("+"));
            numbers.push(Math::Operator("+"));
        }
        if *count > 1 {
            for row in [&mut symbols, &mut numbers] {
                row.push(Math::Number(count.to_string()));
                row.push(Math::Operator("×"));
            }
        }
        symbols.push(Math::Symbol {
            letter: "A",
            of: Some(element.symbol().to_owned()),
            index: None,
        });
        let weight = scene
            .lab
            .atomic_weights
            .get(*element)
            .map_or_else(String::new, |weight| scene.number(weight.value));
        numbers.push(Math::Number(weight));
    }
    let number = scene.shown(id).map_or("", |shown| &shown.number);
    let amount = symbols::Amount {
        number: number.to_owned(),
        unit: Unit::GramPerMole.symbol(),
        substance: String::new(),
    };
    let bold = Math::Answer(Box::new(symbols::math_of(amount, false)));
    let single = matches!(formula.atoms(), [(_, 1)]);
    let mut right = vec![Math::Row(symbols)];
    if !single {
        right.push(Math::Row(numbers));
    }
    right.push(bold);
    Chain {
        left: symbols::symbol(scene, id),
        right,
    }
}

/// The steps whose numbers stand in a step's check.
#[must_use]
pub fn check_reveals(lab: &Lab, graph: &Graph, step: &Step) -> Vec<StepId> {
    let of = |kind: Kind| graph.of_kind(kind);
    match step.kind {
        Kind::Theoretical(_) => (0..lab.substances.len())
            .filter_map(|index| of(Kind::Mass(index)))
            .collect(),
        Kind::ExpectedLeft(r) => of(Kind::Mass(r))
            .or_else(|| of(Kind::Moles(r)))
            .into_iter()
            .collect(),
        Kind::PercentYield(_) => graph
            .ids()
            .filter(|id| {
                matches!(
                    graph.step(*id).kind,
                    Kind::Recovery(..) | Kind::Completion(_)
                ) && graph.step(*id).equation == 0
            })
            .collect(),
        _ => Vec::new(),
    }
}

/// A remark on whether the answer can be right at all.
fn check(scene: &Scene<'_>, step: &Step, value: &Value) -> Option<String> {
    let words = &scene.lab.words;
    let number = |kind: Kind| {
        let id = scene.graph.of_kind(kind)?;
        Some((
            scene.worked.value(id)?,
            symbols::written(&symbols::step_amount(scene, id)),
        ))
    };
    match step.kind {
        Kind::Theoretical(_) if step.equation == 0 => {
            let reactants = (0..scene.lab.substances.len())
                .filter(|index| scene.lab.substances[*index].reactant);
            let masses: Vec<(&Value, String)> = reactants
                .filter_map(|index| number(Kind::Mass(index)))
                .collect();
            let total: crate::measure::Exact =
                masses.iter().map(|(value, _)| value.exact.clone()).sum();
            (step.unit == Unit::Gram
                && !masses.is_empty()
                && masses.len() == scene.lab.equation.reactants.len()
                && value.exact <= total)
                .then(|| {
                    let from: Vec<String> =
                        masses.into_iter().map(|(_, written)| written).collect();
                    say!(
                        words,
                        "not more than the {masses} it comes from",
                        masses = from.join(words.say(" and "))
                    )
                })
        }
        Kind::ExpectedLeft(r) => {
            let (taken, written) = number(Kind::Mass(r)).or_else(|| number(Kind::Moles(r)))?;
            (!value.exact.is_negative() && value.exact <= taken.exact).then(|| {
                say!(
                    words,
                    "between nothing and the {amount} taken",
                    amount = written
                )
            })
        }
        Kind::PercentYield(p) if step.equation == 0 => {
            let pair = scene
                .graph
                .ids()
                .find_map(|id| match scene.graph.step(id).kind {
                    Kind::Recovery(product, r)
                        if product == p && scene.graph.step(id).equation == 0 =>
                    {
                        Some((r, id))
                    }
                    _ => None,
                })?;
            let completion = scene.graph.of_kind(Kind::Completion(pair.0))?;
            let (x, y) = (scene.shown(completion)?, scene.shown(pair.1)?);
            Some(say!(
                words,
                "100\u{a0}% × {completion} completion × {recovery} recovery gives the same",
                completion = x.guarded,
                recovery = y.guarded
            ))
        }
        _ => None,
    }
}
