//! What a class says together, in words.

use crate::class::Pool;
use crate::class::signals::Reading;
use crate::class::signals::Signal;
use crate::lab::UncertaintyRule;
use crate::measure::Exact;
use crate::measure::Rounding;
use crate::measure::Unit;
use crate::measure::rounding;
use crate::report::class::plots::float;
use crate::report::compose::sentence_case;
use crate::say;
use crate::words::Words;
use crate::working::Variable;
use crate::working::show;

/// A signal in words.
pub(super) fn remark(pool: &Pool<'_>, signal: &Signal) -> String {
    let wording = &pool.lab.words;
    match signal {
        Signal::Water {
            substance,
            left_out,
            at,
        } => {
            let substance = &pool.lab.substances[*substance];
            let form = substance.weighed_as.as_ref().unwrap_or(&substance.formula);
            let (taken, counted) = if *left_out {
                (form.pretty(), substance.formula.pretty())
            } else {
                (substance.formula.pretty(), form.pretty())
            };
            say!(
                wording,
                "The median yield lies near {percent} %: that is where it would lie if everybody had weighed {taken} and counted it as {counted}. Read the label of the bottle.",
                percent = wording.number(&float(*at, 1)),
                taken = taken,
                counted = counted
            )
        }
        Signal::OneSided {
            quantity,
            above,
            below,
            left_out,
            reading,
            cause,
        } => {
            let quantity = &pool.kept.quantities[*quantity];
            let line = quantity
                .lines
                .first()
                .map_or(wording.say("it"), |(_, words)| words.as_str());
            let all = above + below;
            let title = sentence_case(&quantity.title);
            let sided = if above > below {
                say!(
                    wording,
                    "{quantity}: {many} of {all} groups lie above “{line}”, more than chance would have it (sign test, 5 %).",
                    quantity = title,
                    many = above,
                    all = all,
                    line = line
                )
            } else {
                say!(
                    wording,
                    "{quantity}: {many} of {all} groups lie below “{line}”, more than chance would have it (sign test, 5 %).",
                    quantity = title,
                    many = below,
                    all = all,
                    line = line
                )
            };
            let read = match reading {
                Reading::Common { shift, room, most } => {
                    common(pool, quantity.unit, (*shift, *room), *most)
                }
                Reading::Within { groups } => say!(
                    wording,
                    "Yet {within} of the {all} are within what their own readings may be off, so no group by itself can tell. What moves everyone a little may be the make of an instrument.",
                    within = groups,
                    all = all
                ),
                Reading::Beyond => {
                    let moved = wording.say("Something moved everyone the same way.");
                    cause.as_ref().map_or_else(
                        || moved.to_owned(),
                        |cause| {
                            say!(
                                wording,
                                "{read} One cause that most groups' reports list, and that their signs taken together do not speak against: {cause}.",
                                read = moved,
                                cause = cause
                            )
                        },
                    )
                }
            };
            format!("{sided} {read}{}", not_counted(wording, *left_out))
        }
        Signal::Nearest {
            quantity,
            candidate,
            groups,
            left_out,
        } => {
            let quantity = &pool.kept.quantities[*quantity];
            let counts: Vec<String> = quantity
                .lines
                .iter()
                .zip(groups)
                .map(|((_, ratio), count)| {
                    say!(
                        wording,
                        "{count} nearest to {ratio}",
                        count = count,
                        ratio = ratio
                    )
                })
                .collect();
            let decided = candidate.as_ref().map_or_else(
                || {
                    say!(
                        wording,
                        "The median lies in the undecided band between two of them."
                    )
                },
                |ratio| say!(wording, "The median is nearest to {ratio}.", ratio = ratio),
            );
            let nearest = say!(
                wording,
                "{quantity}: {decided} Of the groups, {counts}. Nearness is counted on a scale of ratios; damp product moves every group up, a side reaction down.",
                quantity = sentence_case(&quantity.title),
                decided = decided,
                counts = counts.join(", ")
            );
            nearest + &not_counted(wording, *left_out)
        }
    }
}

/// That what is the same for all groups may account for where they lie, with the numbers.
fn common(pool: &Pool<'_>, unit: Unit, (shift, room): (f64, f64), most: Variable) -> String {
    let words = &pool.lab.words;
    let written = |value: f64| {
        let number = Exact::from_float(value).map_or_else(String::new, |exact| {
            let number = rounding::to_figures(&exact, 2, Rounding::HalfUp);
            show::written(words, show::plain(number, unit))
        });
        // A yield that is off by 2 of 98 % is not off by 2 % of it.
        if unit == Unit::Percent {
            say!(words, "{difference} percentage points", difference = number)
        } else {
            show::with_unit(&number, unit)
        }
    };
    let source = match most {
        Variable::Given(given) => pool
            .graph
            .givens
            .get(given)
            .map_or_else(String::new, |given| {
                let value = &given.value;
                let number = show::written(words, value.number);
                format!(
                    "{} ({})",
                    given.name.replace('_', " "),
                    show::with_unit(&number, value.unit.unwrap_or(Unit::One))
                )
            }),
        Variable::Element(element) => say!(
            words,
            "atomic weight of {element}",
            element = words.say(element.name())
        ),
        Variable::Reading(_) => String::new(),
    };
    let rule = match pool.lab.policy.uncertainty {
        UncertaintyRule::Standard => words.say(" (twice its standard uncertainty)"),
        UncertaintyRule::WorstCase => words.say(" (its limits added)"),
        UncertaintyRule::None => "",
    };
    say!(
        words,
        "The median is off by {shift}, and what is the same for all groups, above all {source}, may move everyone together by {room}{rule}. That alone may account for it: no error at the bench need lie behind it.",
        shift = written(shift),
        source = source,
        room = written(room),
        rule = rule
    )
}

/// That groups which are left out are not counted, behind another sentence; nothing where there is none.
fn not_counted(words: &Words, left_out: usize) -> String {
    match left_out {
        0 => String::new(),
        1 => say!(words, " 1 group that is left out is not counted."),
        some => say!(
            words,
            " {count} groups that are left out are not counted.",
            count = some
        ),
    }
}
