//! Arithmetic of values: each operation on the exact number, its figures and its derivatives at once.

use std::collections::BTreeMap;

use crate::measure::Exact;
use crate::measure::figures::Figures;
use crate::working::Value;
use crate::working::Variable;

/// The exact number one.
pub(in crate::working) fn one() -> Value {
    Value {
        exact: Exact::from_integer(1.into()),
        figures: Figures::Exact,
        slopes: BTreeMap::new(),
        smallest: Vec::new(),
    }
}

/// Terms added up, or taken away where the sign is negative.
pub(in crate::working) fn sum(terms: &[(Value, f64)]) -> Value {
    let mut total = Exact::zero();
    let mut slopes = BTreeMap::new();
    for (value, sign) in terms {
        if *sign > 0.0 {
            total += &value.exact;
        } else {
            total -= &value.exact;
        }
        add_slopes(&mut slopes, &value.slopes, *sign);
    }
    let digits: Vec<(Figures, &Exact)> = terms
        .iter()
        .map(|(value, _)| (value.figures, &value.exact))
        .collect();
    Value {
        exact: total,
        figures: Figures::sum(&digits),
        slopes,
        smallest: Vec::new(),
    }
}

/// Two values multiplied.
pub(in crate::working) fn product(a: &Value, b: &Value) -> Value {
    let mut slopes = BTreeMap::new();
    add_slopes(&mut slopes, &a.slopes, b.approximate());
    add_slopes(&mut slopes, &b.slopes, a.approximate());
    let figures = Figures::product(&[(a.figures, &a.exact), (b.figures, &b.exact)]);
    Value {
        exact: &a.exact * &b.exact,
        figures,
        slopes,
        smallest: Vec::new(),
    }
}

/// One value divided by another. The caller has seen that the divisor is not zero.
pub(in crate::working) fn quotient(above: &Value, below: &Value) -> Value {
    let mut slopes = BTreeMap::new();
    let divisor = below.approximate();
    add_slopes(&mut slopes, &above.slopes, 1.0 / divisor);
    add_slopes(
        &mut slopes,
        &below.slopes,
        -above.approximate() / (divisor * divisor),
    );
    let figures = Figures::product(&[(above.figures, &above.exact), (below.figures, &below.exact)]);
    Value {
        exact: &above.exact / &below.exact,
        figures,
        slopes,
        smallest: Vec::new(),
    }
}

/// Adds the slopes of a part, times what the whole changes with it.
pub(in crate::working) fn add_slopes(
    into: &mut BTreeMap<Variable, f64>,
    slopes: &BTreeMap<Variable, f64>,
    factor: f64,
) {
    for (variable, slope) in slopes {
        *into.entry(*variable).or_insert(0.0) += slope * factor;
    }
}
