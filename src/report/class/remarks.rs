//! What a class says together, in words.

use crate::class::Pool;
use crate::class::signals::Signal;
use crate::report::class::plots::float;
use crate::report::compose::sentence_case;
use crate::working::Kind;

/// A signal in words.
pub(super) fn remark(pool: &Pool<'_>, signal: &Signal) -> String {
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
            format!(
                "The median yield lies near {} %: that is where it would lie if everybody had weighed {taken} and counted it as {counted}. Read the label of the bottle.",
                float(*at, 1)
            )
        }
        Signal::OneSided {
            quantity,
            above,
            below,
        } => {
            let quantity = &pool.kept.quantities[*quantity];
            let (many, side) = if above > below {
                (*above, "above")
            } else {
                (*below, "below")
            };
            let line = quantity
                .lines
                .first()
                .map_or("it", |(_, words)| words.as_str());
            let all = above + below;
            let of = match (quantity.kind, above > below) {
                (Kind::PercentYield(_), true) => "product weighed damp",
                (Kind::PercentYield(_), false) => {
                    "product lost on the way, or a reaction not at its end"
                }
                (_, true) => "a leftover weighed damp, or a reaction not at its end",
                (_, false) => "a side reaction, or pieces lost",
            };
            format!(
                "{}: {many} of {all} groups lie {side} “{line}”, more than chance would have it (sign test, 5 %). Something moved everyone the same way, such as {of}.",
                sentence_case(&quantity.title)
            )
        }
        Signal::Nearest {
            quantity,
            candidate,
            groups,
        } => {
            let quantity = &pool.kept.quantities[*quantity];
            let counts: Vec<String> = quantity
                .lines
                .iter()
                .zip(groups)
                .map(|((_, words), count)| format!("{count} nearest to {words}"))
                .collect();
            let decided = candidate.as_ref().map_or_else(
                || "The median lies in the undecided band between two of them.".to_owned(),
                |words| format!("The median is nearest to {words}."),
            );
            format!(
                "{}: {decided} Of the groups, {}. Nearness is counted on a scale of ratios; damp product moves every group up, a side reaction down.",
                sentence_case(&quantity.title),
                counts.join(", ")
            )
        }
    }
}
