//! A series of weighings, one each time something was dried: rising, not yet constant, weighed once, or the last one lost.

use crate::lab::Lab;
use crate::problem::Code;
use crate::problem::Problem;
use crate::problem::Span;
use crate::record::Content;
use crate::record::Record;
use crate::record::plausible::base;
use crate::record::plausible::last;
use crate::say;

/// A drying series: rising, not yet constant, or one value only.
pub(super) fn look(lab: &Lab, record: &Record, index: usize, problems: &mut Vec<Problem>) {
    let Some((_, asked)) = lab.readings().nth(index) else {
        return;
    };
    if asked.series.is_none() {
        return;
    }
    lost_weighing(lab, record, index, problems);
    let mut values: Vec<(f64, Span)> = Vec::new();
    for entry in &record.readings[index].entries {
        if let Content::Value(reading) = &entry.content {
            values.push((base(reading), entry.span.clone()));
        }
    }
    let instrument = asked
        .instrument
        .and_then(|index| lab.instruments.get(index));
    let step = instrument
        .and_then(|i| Some(i.readability?.shifted(i.unit.power_to_base()).to_f64()))
        .unwrap_or(0.01);
    let limit = lab
        .policy
        .constant_mass
        .map_or(2.0 * step, crate::measure::Decimal::to_f64);
    // Half a step of slack: 105.70 − 105.68 is not 0.02 in binary.
    let slack = step / 2.0;
    for pair in values.windows(2) {
        if pair[1].0 - pair[0].0 > limit.max(2.0 * step) + slack {
            problems.push(
                Problem::warning(Code::DryingRises, say!(lab.words, "“{reading}” gained mass from one weighing to the next", reading = asked.label))
                    .at(pair[1].1.clone(), say!(lab.words, "heavier"))
                    .at(pair[0].1.clone(), say!(lab.words, "lighter"))
                    .help(say!(lab.words, "was it the same balance and the same vessel, cooled and dry outside? Weigh it once more")),
            );
        }
    }
    let ignited = asked.is_ignited(&lab.words);
    match &values[..] {
        [(_, at)] => {
            let (message, help) = if ignited {
                (
                    say!(
                        lab.words,
                        "“{reading}” was weighed once, so nobody can tell whether its mass was constant",
                        reading = asked.label
                    ),
                    say!(lab.words, "heat it again, let it cool and weigh it again"),
                )
            } else {
                (
                    say!(
                        lab.words,
                        "“{reading}” was weighed once, so nobody can tell whether it was dry",
                        reading = asked.label
                    ),
                    say!(lab.words, "dry it again and weigh it again"),
                )
            };
            problems.push(
                Problem::note(Code::OneDrying, message)
                    .at(at.clone(), say!(lab.words, "the only weighing"))
                    .help(help),
            );
        }
        [.., (before, _), (after, at)] if before - after > limit + slack => problems.push(
            Problem::warning(
                Code::NotConstant,
                say!(
                    lab.words,
                    "“{reading}” was still losing mass at the last weighing",
                    reading = asked.label
                ),
            )
            .at(at.clone(), say!(lab.words, "the last weighing"))
            .help(if ignited {
                say!(
                    lab.words,
                    "heat it again to constant mass: until two weighings agree"
                )
            } else {
                say!(
                    lab.words,
                    "dry it again and weigh it again, until two weighings agree"
                )
            }),
        ),
        _ => {}
    }
}

/// A series whose last weighing is lost: the one before it counts.
fn lost_weighing(lab: &Lab, record: &Record, index: usize, problems: &mut Vec<Problem>) {
    let recorded = &record.readings[index];
    let (Some((_, asked)), Some(lost), Some((_, kept))) = (
        lab.readings().nth(index),
        recorded.entries.last(),
        last(record, index),
    ) else {
        return;
    };
    let Content::Missing(word) = &lost.content else {
        return;
    };
    let message = say!(
        lab.words,
        "the last weighing of “{reading}” is lost (“{word}”), so the one before it counts",
        reading = asked.label,
        word = word
    );
    problems.push(
        Problem::note(Code::LostWeighing, message)
            .at(lost.span.clone(), say!(lab.words, "lost"))
            .at(kept, say!(lab.words, "this one counts"))
            .help(say!(
                lab.words,
                "weigh it once more if you still can; if what was in it is lost as well, say so under its day, in `seen`"
            )),
    );
}
