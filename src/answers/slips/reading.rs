//! Slips in taking readings from the sheet and subtracting them.

use crate::answers::slips::Family;
use crate::answers::slips::Slip;
use crate::answers::slips::Way;
use crate::answers::slips::bench::Bench;
use crate::answers::slips::bench::Layout;
use crate::answers::slips::bench::decimal;
use crate::answers::slips::bench::number;
use crate::answers::slips::bench::variants;
use crate::answers::slips::by_line;
use crate::answers::slips::slip;
use crate::measure::Decimal;
use crate::measure::Typed;
use crate::measure::Unit;
use crate::measure::typed;
use crate::working::Expression;
use crate::working::Kind;
use crate::working::StepId;

/// What every slip here is a mistake in.
const OF: Family = Family::Reading;

pub(super) const SLIPS: &[Slip] = &[
    slip(
        OF,
        "container-left-in",
        "Something besides the substance was on the balance: what was it sitting in?",
        |bench, at| differences(bench, at, |a, _| vec![a.clone()]),
    ),
    slip(
        OF,
        "another-container",
        "Does the empty mass you took away belong to the same vessel?",
        |bench, at| {
            let tares = bench.tares();
            differences(bench, at, |a, b| {
                let others = tares
                    .iter()
                    .filter(|tare| *b != Expression::Reading(**tare));
                let others = others.filter(|tare| {
                    bench.graph.readings.get(**tare)
                        == reading_of(b).and_then(|own| bench.graph.readings.get(own))
                });
                others
                    .map(|tare| a.clone().minus(Expression::Reading(*tare)))
                    .collect()
            })
        },
    ),
    slip(
        OF,
        "container-taken-twice",
        "How many times did you take the empty vessel away?",
        |bench, at| {
            differences(bench, at, |a, b| {
                vec![a.clone().minus(b.clone()).minus(b.clone())]
            })
        },
    ),
    slip(
        OF,
        "container-added",
        "Which operation takes the vessel away, plus or minus?",
        |bench, at| {
            differences(bench, at, |a, b| {
                vec![Expression::Sum(vec![a.clone(), b.clone()])]
            })
        },
    ),
    slip(
        OF,
        "subtracted-backwards",
        "A mass is not below zero: which of the two readings comes first?",
        |bench, at| differences(bench, at, |a, b| vec![b.clone().minus(a.clone())]),
    ),
    slip(
        OF,
        "other-full-vessel",
        "Do both readings belong to the same vessel, once with and once without its content?",
        |bench, at| {
            if !bench.graph.uses(at).is_difference {
                return Vec::new();
            }
            let gross = full_vessels(bench);
            let pair = |a: &usize| {
                let a = *a;
                gross
                    .iter()
                    .filter(move |b| **b != a)
                    .map(move |b| Expression::Reading(a).minus(Expression::Reading(*b)))
                    .collect::<Vec<_>>()
            };
            gross.iter().flat_map(pair).collect()
        },
    ),
    by_line(
        OF,
        "first-drying",
        "This vessel was weighed more than once: which reading was taken when the drying was finished?",
        |bench, at| {
            series(bench, at, |values| {
                values.first().copied().map(constant).into_iter().collect()
            })
        },
    ),
    by_line(
        OF,
        "earlier-drying",
        "The mass was still falling at that weighing: which reading shows that it had stopped?",
        |bench, at| {
            series(bench, at, |values| {
                values[1..values.len() - 1]
                    .iter()
                    .copied()
                    .map(constant)
                    .collect()
            })
        },
    ),
    by_line(
        OF,
        "dryings-averaged",
        "Are the dryings repeats of one value, or steps on the way to it?",
        |bench, at| {
            series(bench, at, |values| {
                let sum = values.iter().copied().map(constant).collect();
                vec![Expression::Sum(sum).over(number(u32::try_from(values.len()).unwrap_or(1)))]
            })
        },
    ),
    slip(
        OF,
        "left-for-used",
        "Is this what reacted, or what was still there afterwards?",
        |bench, at| match bench.of(at).kind {
            Kind::Used(r) => bench.step(Kind::MeasuredLeft(r)).into_iter().collect(),
            _ => Vec::new(),
        },
    ),
    slip(
        OF,
        "start-for-used",
        "Is this all there was at the start? Was any of it left at the end?",
        |bench, at| match bench.of(at).kind {
            Kind::Used(r) => bench.step(Kind::Mass(r)).into_iter().collect(),
            _ => Vec::new(),
        },
    ),
    slip(
        OF,
        "vessel-in-leftover",
        "The reading of the last day has a vessel in it: take it away before you compare with the first day.",
        |bench, at| {
            let Kind::Used(r) = bench.of(at).kind else {
                return Vec::new();
            };
            let (Some(start), Some(left)) = (
                bench.step(Kind::Mass(r)),
                bench.graph.of_kind(Kind::MeasuredLeft(r)),
            ) else {
                return Vec::new();
            };
            let Expression::Difference(gross, _) = &bench.of(left).expression else {
                return Vec::new();
            };
            vec![
                start.clone().minus((**gross).clone()),
                (**gross).clone().minus(start),
            ]
        },
    ),
    slip(
        OF,
        "used-backwards",
        "Which is larger, what there was at the start or what was left? Subtract in that order.",
        |bench, at| match &bench.of(at).expression {
            Expression::Difference(a, b) if matches!(bench.of(at).kind, Kind::Used(_)) => {
                vec![(**b).clone().minus((**a).clone())]
            }
            _ => Vec::new(),
        },
    ),
    Slip {
        id: "digits-swapped",
        prompt: "Compare your number with the line it comes from, digit by digit.",
        family: OF,
        way: Way::Answer(swapped),
    },
    by_line(
        OF,
        "reading-digits-swapped",
        "Compare the readings you used with the sheet, digit by digit.",
        |bench, at| {
            readings(bench, at, |value| {
                swaps(value).into_iter().map(constant).collect()
            })
        },
    ),
    by_line(
        OF,
        "reading-digit-lost",
        "Is a digit missing in one of the readings you used?",
        |bench, at| {
            readings(bench, at, |value| {
                dropped(value).into_iter().map(constant).collect()
            })
        },
    ),
    slip(
        OF,
        "planned-mass",
        "Is this the mass you were told to take, or the mass your balance showed?",
        |bench, at| {
            let Kind::Mass(index) = bench.of(at).kind else {
                return Vec::new();
            };
            let key = &bench.lab.substances[index].key;
            let planned = bench.lab.plan.iter().filter(|(name, _)| name == key);
            planned
                .filter_map(|(_, amount)| {
                    match typed::parse_with(amount, None, &bench.lab.words) {
                        // A liquid may be planned by its volume, which is no mass.
                        Ok(Typed::Value(reading))
                            if reading
                                .unit
                                .is_none_or(|unit| unit.dimension() == Unit::Gram.dimension()) =>
                        {
                            Some(constant(reading.number))
                        }
                        _ => None,
                    }
                })
                .collect()
        },
    ),
];

fn constant(value: Decimal) -> Expression {
    decimal(value.coefficient(), value.places())
}

/// The reading an expression is.
fn reading_of(expression: &Expression) -> Option<usize> {
    match expression {
        Expression::Reading(reading) => Some(*reading),
        _ => None,
    }
}

/// Every difference whose second part is a reading, put other ways.
fn differences(
    bench: &Layout<'_>,
    at: StepId,
    ways: impl Fn(&Expression, &Expression) -> Vec<Expression>,
) -> Vec<Expression> {
    variants(&bench.of(at).expression, &|part| match part {
        Expression::Difference(a, b) if reading_of(b).is_some() => ways(a, b),
        _ => Vec::new(),
    })
}

/// Readings that something is subtracted from.
fn full_vessels(bench: &Layout<'_>) -> Vec<usize> {
    let mut found = Vec::new();
    for step in bench.graph.steps() {
        step.expression.visit(&mut |part| {
            if let Expression::Difference(from, _) = part
                && let Expression::Reading(reading) = **from
                && !found.contains(&reading)
            {
                found.push(reading);
            }
        });
    }
    found
}

/// Every reading with more than one value, put other ways by its values in order.
fn series(
    bench: &Bench<'_>,
    at: StepId,
    ways: impl Fn(&[Decimal]) -> Vec<Expression>,
) -> Vec<Expression> {
    let read = &bench.record.readings;
    let is_series = |reading: &usize| {
        read.get(*reading)
            .is_some_and(|r| r.values().nth(1).is_some())
    };
    if !bench.graph.uses(at).readings.iter().any(is_series) {
        return Vec::new();
    }
    variants(&bench.of(at).expression, &|part| {
        let Some(recorded) =
            reading_of(part).and_then(|reading| bench.record.readings.get(reading))
        else {
            return Vec::new();
        };
        let values: Vec<Decimal> = recorded.values().map(base).collect();
        if values.len() < 2 {
            Vec::new()
        } else {
            ways(&values)
        }
    })
}

/// Every single reading of a step that only subtracts readings, put other ways by its value.
fn readings(
    bench: &Bench<'_>,
    at: StepId,
    ways: impl Fn(Decimal) -> Vec<Expression>,
) -> Vec<Expression> {
    if at != bench.step || !bench.graph.uses(at).is_difference {
        return Vec::new();
    }
    variants(&bench.of(at).expression, &|part| {
        let recorded = reading_of(part).and_then(|reading| bench.record.readings.get(reading));
        recorded
            .and_then(|recorded| recorded.usable())
            .map_or_else(Vec::new, |reading| ways(base(reading)))
    })
}

/// A reading's number in its base unit.
fn base(reading: &crate::measure::Reading) -> Decimal {
    let unit = reading.unit.unwrap_or(Unit::One);
    unit.decimal_in_base(reading.number)
}

/// The right answer to the digits typed, with two neighbours exchanged.
fn swapped(bench: &Bench<'_>) -> Vec<f64> {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the place of a last figure is a small number"
    )]
    let places = -(bench.number.half * 2.0).log10().round() as i32;
    let scaled = (bench.right * 10.0_f64.powi(places)).round();
    if !scaled.is_finite() || scaled.abs() > 1e15 {
        return Vec::new();
    }
    #[expect(clippy::cast_possible_truncation, reason = "bounded above")]
    let right = Decimal::new(scaled as i128, places);
    swaps(right)
        .into_iter()
        .map(crate::working::line::number_of)
        .collect()
}

/// A number with two neighbouring digits exchanged.
fn swaps(value: Decimal) -> Vec<Decimal> {
    let digits: Vec<u8> = value.coefficient().unsigned_abs().to_string().into_bytes();
    let pairs = (1..digits.len()).filter(|place| digits[place - 1] != digits[*place]);
    pairs
        .filter_map(|place| {
            let mut other = digits.clone();
            other.swap(place - 1, place);
            from_digits(&other, value.places())
        })
        .collect()
}

/// A number with one digit gone.
fn dropped(value: Decimal) -> Vec<Decimal> {
    let digits: Vec<u8> = value.coefficient().unsigned_abs().to_string().into_bytes();
    (0..digits.len())
        .filter_map(|place| {
            let mut other = digits.clone();
            other.remove(place);
            from_digits(&other, value.places())
        })
        .collect()
}

fn from_digits(digits: &[u8], places: i32) -> Option<Decimal> {
    let coefficient = std::str::from_utf8(digits).ok()?.parse().ok()?;
    Some(Decimal::new(coefficient, places))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::working::Constant;

    #[test]
    fn neighbours_are_exchanged_and_digits_dropped() {
        let value = Decimal::new(409, 2);
        assert_eq!(swaps(value), [Decimal::new(49, 2), Decimal::new(490, 2)]);
        assert_eq!(
            dropped(value),
            [Decimal::new(9, 2), Decimal::new(49, 2), Decimal::new(40, 2)]
        );
        assert!(swaps(Decimal::new(11, 1)).is_empty());
        assert!(matches!(
            constant(value),
            Expression::Constant(Constant::Number(_))
        ));
    }
}
