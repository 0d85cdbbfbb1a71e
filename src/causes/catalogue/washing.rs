//! How much of what is dissolved stays in a solid: the liquid held back, thinned by each washing.

use crate::causes::catalogue::Limit;
use crate::causes::catalogue::bound::figures;
use crate::causes::catalogue::bound::to_figures;
use crate::causes::effect::Effect;
use crate::causes::scene::Scene;
use crate::lab::waters::is_water;
use crate::measure::Unit;
use crate::say;
use crate::working::show;

/// Liquid that stays on a solid when it is poured off with care, or in a wet filter paper: generous, L.
const HELD_BACK: f64 = 0.010;

/// Salt that stays in the liquid held back by the solid after the washings the lab plans.
///
/// Kept fraction (v ÷ V)·(v ÷ (v + w))ᵏ for a hold-up v, a first volume V and k washings of w: dilution, exact.
pub(super) fn bound(scene: &Scene<'_>, _: Effect) -> Option<Limit> {
    let plan = |name: &str| {
        let mut plan = scene.lab.plan.iter();
        plan.find(|(known, _)| known == name)
            .map(|(_, amount)| amount.as_str())
    };
    let dissolved = scene.dissolved()?;
    let water = scene.liquid().filter(|water| *water > HELD_BACK)?;
    let numbers = numbers(plan("washes")?);
    let [count, each, ..] = numbers[..] else {
        return None;
    };
    let skipped = scene.sign("washing_skipped") == Some(true);
    // What another liquid takes up of the salts nobody knows.
    if !skipped && plan("wash_liquid").is_some_and(|liquid| !is_water(liquid)) {
        return None;
    }
    let washings = if skipped { 0.0 } else { count.min(20.0) };
    let each = each / 1000.0;
    let kept = HELD_BACK / water * (HELD_BACK / (HELD_BACK + each)).powf(washings);
    let most = kept * dissolved;
    let words = &scene.lab.words;
    let millilitres =
        |litres: f64| show::with_unit(&format!("{:.0}", 1000.0 * litres), Unit::Millilitre);
    let volume = millilitres(HELD_BACK);
    let mass = figures(scene, most, Unit::Gram);
    // One figure more, so that the product can be worked again from what stands there.
    let all = say!(
        words,
        "By the equation {dissolved} are dissolved in {total} at the end.",
        dissolved = to_figures(scene, dissolved, 3, Unit::Gram),
        total = millilitres(water)
    );
    let why = if skipped {
        say!(
            words,
            "{all} Without washing, {volume} of that held back keep no more than {mass}.",
            all = all,
            volume = volume,
            mass = mass
        )
    } else {
        say!(
            words,
            "{all} After {count} washings of {each}, {volume} of that held back keep no more than {mass}: each washing leaves {volume} of {together}.",
            all = all,
            count = words.number(&count.to_string()),
            each = millilitres(each),
            volume = volume,
            mass = mass,
            together = millilitres(HELD_BACK + each)
        )
    };
    Some(Limit::most(most, why))
}

/// The numbers in a text such as `3 of 25 mL`.
fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.'))
        .filter_map(|word| word.parse().ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::numbers;

    #[test]
    fn a_plan_of_washings_is_read() {
        assert_eq!(numbers("3 of 25 mL"), [3.0, 25.0]);
        assert_eq!(numbers("twice"), [] as [f64; 0]);
    }
}
