//! What students quote as evidence of their weighings, held against the series in their readings.

use crate::causes::mention::Text;
use crate::causes::places::places;
use crate::causes::scene::Scene;
use crate::causes::vocabulary;
use crate::measure::Exact;
use crate::measure::Unit;
use crate::say;
use crate::working::drying::Series;
use crate::working::drying::Verdict;
use crate::working::show;

/// How weighings are said to have gone on.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Down,
    Up,
    Still,
}

/// Whether the readings show what a text says of weighings; `None` where it speaks of none.
pub(super) fn said(evidence: &str, scene: &Scene<'_>) -> Option<String> {
    let words = &scene.lab.words;
    let text = Text::of(evidence, scene);
    let says = |list| places(&text, list, words).next().is_some();
    if !says(vocabulary::WEIGHINGS) {
        return None;
    }
    // “Did not go down” holds the words for going down.
    let way = if says(vocabulary::UNCHANGED) {
        Some(Way::Still)
    } else {
        match (says(vocabulary::WENT_DOWN), says(vocabulary::WENT_UP)) {
            (true, false) => Some(Way::Down),
            (false, true) => Some(Way::Up),
            _ => None,
        }
    };
    let all = || {
        let dried = scene.dried.iter();
        dried.filter(|series| !series.changes.is_empty())
    };
    let shown = way.and_then(|way| {
        let found = all().find(|series| shows(series, way));
        found
            .map(|series| (true, series))
            .or(all().next().map(|series| (false, series)))
    });
    let Some((agrees, series)) = shown else {
        return Some(say!(
            words,
            "it speaks of readings: quote their numbers, so that they can be compared with yours."
        ));
    };
    let number = |value: &&crate::measure::Reading| {
        let unit = value.unit.unwrap_or(Unit::Gram);
        show::amount(words, value.number, unit)
    };
    let values: Vec<String> = series.values.iter().map(number).collect();
    let (reading, values) = (scene.label(series.reading), values.join(", "));
    Some(if agrees {
        say!(
            words,
            "your readings of “{reading}” show it: {values}.",
            reading = reading,
            values = values
        )
    } else {
        say!(
            words,
            "your readings of “{reading}” do not show it: {values}.",
            reading = reading,
            values = values
        )
    })
}

/// Whether a series goes on in a way.
fn shows(series: &Series<'_>, way: Way) -> bool {
    let zero = Exact::from_integer(0);
    let all =
        |fits: fn(&Exact, &Exact) -> bool| series.changes.iter().all(|change| fits(change, &zero));
    match way {
        Way::Down => all(|change, zero| change <= zero) && !all(|change, zero| change == zero),
        Way::Up => series.changes.last().is_some_and(|change| *change > zero),
        Way::Still => series.verdict() == Verdict::Constant,
    }
}
