//! Which of several equations the data favour, in words, and what else would explain them.

use crate::causes::Decision;
use crate::causes::Effect;
use crate::causes::Measure;
use crate::causes::Weighed;
use crate::causes::catalogue::bound;
use crate::lab::UncertaintyRule;
use crate::measure::Exact;
use crate::measure::Rounding;
use crate::measure::rounding;
use crate::report::compose::Case;
use crate::report::compose::sentence_case;
use crate::report::model::Table;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::say;
use crate::words::Words;
use crate::working::Kind;
use crate::working::show;

/// Whether something was measured that decides between the equations, and the students still have to say which it is.
pub(in crate::report) fn wait(case: &Case<'_>) -> bool {
    let measured = case.graph.ids().any(|id| {
        let decides = match case.graph.step(id).kind {
            Kind::Ratio(..) => true,
            Kind::Collected(product) => case.lab.substances[product].yields,
            _ => false,
        };
        decides && case.worked.value(id).is_some()
    });
    measured && case.asks_which_equation()
}

/// The data held against each equation, and which they favour.
pub(in crate::report) fn equations(
    case: &Case<'_>,
    weighed: &Weighed<'_>,
) -> (Option<Table>, String) {
    let wording = &case.lab.words;
    if wait(case) {
        let waits = say!(
            wording,
            "What the data say of the equations stands here once your own answer does: the ratio, and your words to the question about it."
        );
        return (None, waits);
    }
    let Some(decision) = &weighed.decision else {
        return (None, String::new());
    };
    let step = case.graph.step(decision.step);
    let found = case.worked.value(decision.step);
    let pretty = |number: usize| match number {
        0 => case.lab.equation.pretty(),
        number => case.lab.alternatives[number - 1].pretty(),
    };
    let rows = decision.candidates.iter().map(|candidate| {
        let both = found.and_then(|found| show::beside(case.lab, step, found, candidate.predicted));
        let (found, predicted) = both.unwrap_or_default();
        vec![
            pretty(candidate.equation),
            predicted,
            found,
            distance(wording, candidate.distance),
        ]
    });
    let by = match case.lab.policy.uncertainty {
        UncertaintyRule::Standard => Some(wording.say("difference / standard uncertainties")),
        UncertaintyRule::WorstCase => Some(wording.say("difference / worst cases")),
        UncertaintyRule::None => None,
    };
    let mut columns = vec![
        words(wording.say("equation")),
        figures(wording.say("predicted")),
        figures(wording.say("found")),
    ];
    columns.extend(by.map(figures));
    let shown = columns.len();
    let table = Table {
        caption: say!(
            wording,
            "{quantity} held against each equation.",
            quantity = sentence_case(&step.title)
        ),
        columns,
        rows: rows
            .map(|mut row| {
                row.truncate(shown);
                row
            })
            .collect(),
    };
    (Some(table), decided(case, weighed, decision))
}

/// A number of uncertainties with its sign; what is rounded to nothing has none.
fn distance(wording: &Words, distance: f64) -> String {
    let exact = Exact::from_float(distance).unwrap_or_default();
    show::signed(wording, rounding::to_places(&exact, 1, Rounding::HalfUp))
}

/// What else may have been weighed with a leftover, where that is heavier than the first equation says.
fn too_much_left(weighed: &Weighed<'_>) -> Option<String> {
    weighed.deviations.all.iter().find_map(|one| {
        let (reactant, more) = match one.measure {
            Measure::Leftover(reactant) => (reactant, one.size),
            Measure::Used(reactant) => (reactant, -one.size),
            _ => return None,
        };
        let unit = Effect::MoreLeft(reactant).unit(&weighed.scene);
        let more =
            (more > 2.0 * one.standard).then(|| bound::figures(&weighed.scene, more, unit))?;
        let name = weighed.scene.name(reactant);
        Some(say!(
            weighed.scene.lab.words,
            "{amount} of water or dirt on the {substance} left",
            amount = more,
            substance = name
        ))
    })
}

/// Which equation the data favour, and what else would explain them.
fn decided(case: &Case<'_>, weighed: &Weighed<'_>, decision: &Decision) -> String {
    let pretty = |number: usize| match number {
        0 => case.lab.equation.pretty(),
        number => case.lab.alternatives[number - 1].pretty(),
    };
    let words = &case.lab.words;
    let instead = decision.instead.as_ref().map(|instead| {
        let (effect, scene) = (instead.effect, &weighed.scene);
        let amount = effect.in_words(&instead.solved, scene);
        let name =
            |index: Option<usize>| index.map_or(words.say("solid"), |index| scene.name(index));
        match effect {
            Effect::MoreLeft(r) => say!(
                words,
                "{amount} of something else, such as water, was weighed with the {substance} left",
                amount = amount,
                substance = name(Some(r))
            ),
            Effect::LessLeft(r) => say!(
                words,
                "{amount} of the {substance} left was lost before it was weighed",
                amount = amount,
                substance = name(Some(r))
            ),
            Effect::LessProduct(p) => say!(
                words,
                "{amount} of the {substance} was lost before it was weighed",
                amount = amount,
                substance = name(Some(p))
            ),
            _ => say!(
                words,
                "{amount} of something else, such as water, was weighed with the {substance}",
                amount = amount,
                substance = name(effect.product())
            ),
        }
    });
    match (decision.favoured, decision.contradicted, decision.doubted) {
        (None, Some(number), _) => say!(
            words,
            "The value alone lies nearest to {equation}; but all measured amounts together fit {first} better, so nothing is decided. What follows is held against the first.",
            equation = pretty(number),
            first = pretty(0)
        ),
        (None, None, Some(number)) => {
            let why = match instead {
                Some(instead) => say!(
                    words,
                    "it may be {first} as well, if {reason}",
                    first = pretty(0),
                    reason = instead
                ),
                None => too_much_left(weighed).map_or_else(
                    || say!(words, "the amounts measured do not fit that equation either"),
                    |left| say!(words, "the amounts measured do not fit that equation either, and {amount} would look like it", amount = left),
                ),
            };
            say!(
                words,
                "The value alone lies nearest to {equation}; but {reason}. So nothing is decided: dry and weigh once more if you can. What follows is held against the first.",
                equation = pretty(number),
                reason = why
            )
        }
        (Some(number), ..) => {
            let doubt = match case.lab.policy.uncertainty {
                UncertaintyRule::WorstCase => words.say("the limits of the readings added up"),
                UncertaintyRule::Standard => words.say("twice the uncertainty"),
                UncertaintyRule::None => words.say("the readings"),
            };
            let or = instead.map_or_else(String::new, |instead| {
                say!(
                    words,
                    " {first} is possible too, if {reason}.",
                    first = pretty(0),
                    reason = instead
                )
            });
            say!(
                words,
                "The data favour {equation}: it is nearest, and no other is as near as {doubt} and a band of 6 % allow. What follows is held against it.{or}",
                equation = pretty(number),
                doubt = doubt,
                or = or
            )
        }
        (None, None, None) => say!(
            words,
            "The data do not decide between the equations: the value lies too near the middle of two predictions. What follows is held against the first."
        ),
    }
}
