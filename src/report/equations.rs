//! Which of several equations the data favour, in words, and what else would explain them.

use crate::causes::Decision;
use crate::causes::Effect;
use crate::causes::Measure;
use crate::causes::Weighed;
use crate::causes::catalogue::bound::rough;
use crate::lab::UncertaintyRule;
use crate::report::compose::Case;
use crate::report::compose::sentence_case;
use crate::report::model::Table;
use crate::report::tables::figures;
use crate::report::tables::words;
use crate::working::show;

/// The data held against each equation, and which they favour.
pub(in crate::report) fn equations(
    case: &Case<'_>,
    weighed: &Weighed<'_>,
) -> (Option<Table>, String) {
    let Some(decision) = &weighed.decision else {
        return (None, String::new());
    };
    let step = case.graph.step(decision.step);
    let found = case.worked.value(decision.step);
    let shown = found.map_or_else(String::new, |value| show::value(case.lab, step, value));
    let pretty = |number: usize| match number {
        0 => case.lab.equation.pretty(),
        number => case.lab.alternatives[number - 1].pretty(),
    };
    let rows = decision.candidates.iter().map(|candidate| {
        vec![
            pretty(candidate.equation),
            show::with_unit(&show::chart_number(candidate.predicted), step.unit),
            shown.clone(),
            format!("{:+.1}", candidate.distance).replace('-', "−"),
        ]
    });
    let worst = case.lab.policy.uncertainty == UncertaintyRule::WorstCase;
    let table = Table {
        caption: format!("{} held against each equation.", sentence_case(&step.title)),
        columns: vec![
            words("equation"),
            figures("predicted"),
            figures("found"),
            figures(if worst {
                "difference / worst cases"
            } else {
                "difference / standard uncertainties"
            }),
        ],
        rows: rows.collect(),
    };
    (Some(table), decided(case, weighed, decision))
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
        let more = (more > 2.0 * one.standard).then(|| rough(more, unit))?;
        let name = weighed.scene.name(reactant);
        Some(format!("{more} of water or dirt on the {name} left"))
    })
}

/// Which equation the data favour, and what else would explain them.
fn decided(case: &Case<'_>, weighed: &Weighed<'_>, decision: &Decision) -> String {
    let pretty = |number: usize| match number {
        0 => case.lab.equation.pretty(),
        number => case.lab.alternatives[number - 1].pretty(),
    };
    let instead = decision.instead.as_ref().map(|instead| {
        let (effect, scene) = (instead.effect, &weighed.scene);
        let amount = effect.in_words(&instead.solved, scene);
        let name = |index: Option<usize>| index.map_or("solid", |index| scene.name(index));
        match effect {
            Effect::MoreLeft(r) => format!(
                "{amount} of something else, such as water, was weighed with the {} left",
                name(Some(r))
            ),
            Effect::LessLeft(r) => format!(
                "{amount} of the {} left was lost before it was weighed",
                name(Some(r))
            ),
            Effect::LessProduct(p) => format!(
                "{amount} of the {} was lost before it was weighed",
                name(Some(p))
            ),
            _ => format!(
                "{amount} of something else, such as water, was weighed with the {}",
                name(effect.product())
            ),
        }
    });
    match (decision.favoured, decision.contradicted, decision.doubted) {
        (None, Some(number), _) => format!(
            "The value alone lies nearest to {}; but all measured amounts together fit {} better, so nothing is decided. What follows is held against the first.",
            pretty(number),
            pretty(0)
        ),
        (None, None, Some(number)) => {
            let why = match instead {
                Some(instead) => format!("it may be {} as well, if {instead}", pretty(0)),
                None => too_much_left(weighed).map_or_else(
                    || "the amounts measured do not fit that equation either".to_owned(),
                    |left| format!("the amounts measured do not fit that equation either, and {left} would look like it"),
                ),
            };
            format!(
                "The value alone lies nearest to {}; but {why}. So nothing is decided: dry and weigh once more if you can. What follows is held against the first.",
                pretty(number)
            )
        }
        (Some(number), ..) => {
            let doubt = match case.lab.policy.uncertainty {
                UncertaintyRule::WorstCase => "the limits of the readings added up",
                _ => "twice the uncertainty",
            };
            let or = instead.map_or_else(String::new, |instead| {
                format!(" {} is possible too, if {instead}.", pretty(0))
            });
            format!(
                "The data favour {}: it is nearest, and no other is as near as {doubt} and a band of 6 % allow. What follows is held against it.{or}",
                pretty(number)
            )
        }
        (None, None, None) => "The data do not decide between the equations: the value lies too near the middle of two predictions. What follows is held against the first."
            .to_owned(),
    }
}
