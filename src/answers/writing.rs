//! Unit and figures of an answer, judged apart from its value.

use crate::answers::Judgement;
use crate::answers::Verdict;
use crate::answers::given::Number;
use crate::answers::given::WrittenUnit;
use crate::answers::slips;
use crate::answers::slips::writing::WHOLE_WATERS;
use crate::answers::window;
use crate::lab::FiguresRule;
use crate::lab::Lab;
use crate::lab::ShowWorking;
use crate::working::Expression;
use crate::working::Graph;
use crate::working::Kind;
use crate::working::StepId;
use crate::working::Value;
use crate::working::Worked;
use crate::working::percent_error;

/// The remarks on figures.
pub(super) const FIGURES: &[&str] = &[
    "too-many-figures",
    "too-few-figures",
    WHOLE_WATERS,
    "zero-left-out",
    "figures-for-decimals",
];

/// How many times the right value a difference may be that is written with the decimals of the same balance.
const ONE_SIZE: std::ops::RangeInclusive<f64> = 0.01..=100.0;

/// Adds what is to be said of the unit and the figures of an answer whose value stands.
pub(super) fn look(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    number: &Number,
    judgement: &mut Judgement,
) {
    let mut found = Vec::new();
    found.extend(no_unit(number));
    if matches!(number.unit, WrittenUnit::Other(_)) {
        found.push("unit-of-another-kind");
    }
    if let Some(value) = worked.value(judgement.step) {
        found.extend(figures(lab, graph, worked, (judgement.step, value), number));
    }
    if judgement.verdict == Verdict::Follows {
        // A leftover by own lines may be much larger than the right one: its decimals are what the balance gives.
        if has_decimals_of(lab, graph, worked, judgement.step, number) {
            found.retain(|id| *id != "too-many-figures");
        }
        // Thousands of grams from grams said of milligrams: how many digits belong there, nobody can tell.
        let key = worked.value(judgement.step).map(Value::approximate);
        let times = key.map_or(1.0, |key| (number.value / key).abs());
        if graph.uses(judgement.step).is_difference && !ONE_SIZE.contains(&times) {
            found.retain(|id| !FIGURES.contains(id));
        }
    }
    let rough = judgement.verdict == Verdict::Rough;
    if rough && lab.policy.figures != FiguresRule::Off {
        found.retain(|id| !FIGURES.contains(id));
        found.push(if is_whole_waters(lab, graph, judgement.step, number) {
            WHOLE_WATERS
        } else {
            "too-few-figures"
        });
    }
    for id in found {
        note(id, lab, judgement);
    }
    let waits = rough || matches!(number.unit, WrittenUnit::Other(_));
    if waits && lab.policy.show_working == ShowWorking::AfterAnswer {
        judgement.feedback.push(' ');
        judgement.feedback.push_str(
            lab.words
                .say("The report does not show its working before that is put right."),
        );
        judgement.feedback = judgement.feedback.trim_start().to_owned();
    }
}

/// The remark on a number without a unit that is known.
pub(super) const fn no_unit(number: &Number) -> Option<&'static str> {
    match number.unit {
        WrittenUnit::Missing => Some("unit-missing"),
        WrittenUnit::Unread => Some("unit-unknown"),
        WrittenUnit::Fits | WrittenUnit::Other(_) => None,
    }
}

/// Adds a remark to an answer, and says it.
pub(super) fn note(id: &str, lab: &Lab, judgement: &mut Judgement) {
    if let Some(slip) = slips::by_id(id) {
        judgement.slips.push(slip);
        if !judgement.feedback.is_empty() {
            judgement.feedback.push(' ');
        }
        judgement.feedback.push_str(lab.words.say(slip.prompt));
    }
}

/// From so many figures on, a whole number with zeros behind its point is taken as measured where the readings say just that.
const FIGURES_OF_A_MEASURE: i32 = 3;

/// Whether an answer has so few figures that it could be a guess: one, or whole numbers for a ratio with or without zeros behind
/// the point, where the readings defend more and these differ from it.
pub(super) fn is_rough(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    id: StepId,
    number: &Number,
) -> bool {
    let Some(value) = worked.value(id) else {
        return false;
    };
    let given = number.written.significant_figures() - number.zeros;
    if given > 1 && !number.claim {
        return false;
    }
    // A percent error may be written by its uncertainty, too.
    let by_uncertainty = percent_error::figures(lab, graph.step(id), value, &worked.inputs);
    let places = [Some(value.figures), by_uncertainty]
        .into_iter()
        .flatten()
        .filter_map(|figures| figures.places(&value.exact))
        .min();
    let defended = places.map_or(0.0, |places| 0.5 * 10.0_f64.powi(-places));
    let variants = if graph.uses(id).is_difference {
        0.0
    } else {
        window::MOLAR_MASS_VARIANTS * value.approximate().abs()
    };
    let off = (number.value - value.approximate()).abs();
    if off <= (defended + variants) * (1.0 + window::NOISE) {
        return false;
    }
    // `1.00` for 1.003 is what was measured, `1.0` for 1.03 may stand in the equation.
    let to_given = |value: f64| Number::rounded(value, given).value.to_bits();
    number.whole
        || given < FIGURES_OF_A_MEASURE
        || to_given(value.approximate()) != to_given(number.value)
}

/// A line on the way to others: more figures are good there, and a missing unit is a note.
pub(super) const fn is_intermediate(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::MolarMass(_)
            | Kind::Moles(_)
            | Kind::MolesCollected(_)
            | Kind::MolesUsed(_)
            | Kind::Needed(_)
    )
}

/// What is wrong with the figures of an answer, by the lab's rule.
fn figures(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    (id, value): (StepId, &Value),
    number: &Number,
) -> Option<&'static str> {
    let room = match lab.policy.figures {
        FiguresRule::Off => return None,
        FiguresRule::Strict => 0,
        FiguresRule::Lenient => 1,
    };
    // A claim in whole numbers is a claim, not a reading.
    if number.whole {
        return None;
    }
    // Nothing at all that was worked out has no figures.
    if number.value == 0.0 && !graph.uses(id).is_difference {
        return None;
    }
    let given = number.written.significant_figures();
    let defended = value.figures.significant(&value.exact)?;
    if graph.uses(id).is_difference {
        // For sums and differences decimals count, not figures.
        let decimals = value.figures.places(&value.exact)?;
        return match decimals_of(number) - decimals {
            more if more > room => Some("too-many-figures"),
            fewer if fewer < -room && ends_in_zeros(value, fewer) => Some("zero-left-out"),
            fewer if fewer < -room && given == defended - 1 => Some("figures-for-decimals"),
            fewer if fewer < -room => Some("too-few-figures"),
            _ => None,
        };
    }
    // A percent error may be written by the rules or by its uncertainty: students are taught the one, reports go by the other.
    let shown = percent_error::figures(lab, graph.step(id), value, &worked.inputs)
        .and_then(|figures| figures.significant(&value.exact))
        .unwrap_or(defended);
    if given - number.zeros > defended.max(shown) + room && !is_intermediate(graph.step(id).kind) {
        return Some("too-many-figures");
    }
    // A percent yield in whole percents is common practice, whatever its figures.
    let whole_percent =
        matches!(graph.step(id).kind, Kind::PercentYield(_)) && number.written.places() == 0;
    let too_few = given < defended.min(shown) - room && !whole_percent;
    too_few.then_some(if is_whole_waters(lab, graph, id, number) {
        WHOLE_WATERS
    } else {
        "too-few-figures"
    })
}

/// Whether an answer to a difference has no more decimals than the readings defend.
fn has_decimals_of(
    lab: &Lab,
    graph: &Graph,
    worked: &Worked<'_>,
    id: StepId,
    number: &Number,
) -> bool {
    let room = i32::from(lab.policy.figures == FiguresRule::Lenient);
    let places = || {
        let value = worked.value(id)?;
        value.figures.places(&value.exact)
    };
    matches!(graph.step(id).expression, Expression::Difference(..))
        && places().is_some_and(|places| decimals_of(number) <= places + room)
}

/// Whether an answer is a whole number for the waters of a hydrate.
pub(super) fn is_whole_waters(lab: &Lab, graph: &Graph, id: StepId, number: &Number) -> bool {
    let step = graph.step(id);
    let mut hydrates = lab.substances.iter().filter(|s| s.formula.open_waters());
    number.written.places() <= 0
        && number.value.fract() == 0.0
        && matches!(step.kind, Kind::Find(_))
        && hydrates.any(|hydrate| step.id.strip_prefix("waters_") == Some(&hydrate.key))
}

/// The decimals of an answer in the base unit of its step.
fn decimals_of(number: &Number) -> i32 {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the place of a last figure is a small number"
    )]
    let places = -(number.half * 2.0).log10().round() as i32;
    places
}

/// Whether the last `-fewer` defended digits of a value are zeros.
fn ends_in_zeros(value: &Value, fewer: i32) -> bool {
    let Some(places) = value.figures.places(&value.exact) else {
        return false;
    };
    let full =
        crate::measure::rounding::to_places(&value.exact, places, crate::measure::Rounding::HalfUp);
    let power = 10_i128.pow(fewer.unsigned_abs().min(20));
    full.coefficient() % power == 0
}
