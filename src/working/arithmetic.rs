//! Arithmetic of values: each operation on the exact number, its figures and its derivatives at once.

use std::borrow::Cow;

use crate::measure::Exact;
use crate::measure::figures::Figures;
use crate::working::Value;
use crate::working::slopes::Slopes;

/// The exact number one.
pub(in crate::working) fn one() -> Value {
    exactly(Exact::from_integer(1))
}

/// A value that nothing limits and nothing changes.
pub(in crate::working) fn exactly(exact: Exact) -> Value {
    Value {
        exact,
        figures: Figures::Exact,
        slopes: Slopes::default(),
        smallest: Vec::new(),
    }
}

/// Terms added up, or taken away where the sign is negative.
pub(in crate::working) fn sum(terms: &[(Cow<'_, Value>, f64)]) -> Value {
    let mut total = Exact::zero();
    let mut slopes = Slopes::default();
    for (value, sign) in terms {
        if *sign > 0.0 {
            total += &value.exact;
        } else {
            total -= &value.exact;
        }
        slopes.add(&value.slopes, *sign);
    }
    let digits = terms.iter().map(|(value, _)| (value.figures, &value.exact));
    Value {
        exact: total,
        figures: Figures::sum(digits),
        slopes,
        smallest: Vec::new(),
    }
}

/// Two values multiplied.
pub(in crate::working) fn product(a: &Value, b: &Value) -> Value {
    let mut slopes = Slopes::default();
    slopes.add(&a.slopes, b.approximate());
    slopes.add(&b.slopes, a.approximate());
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
    let mut slopes = Slopes::default();
    let divisor = below.approximate();
    slopes.add(&above.slopes, 1.0 / divisor);
    slopes.add(&below.slopes, -above.approximate() / (divisor * divisor));
    let figures = Figures::product(&[(above.figures, &above.exact), (below.figures, &below.exact)]);
    Value {
        exact: &above.exact / &below.exact,
        figures,
        slopes,
        smallest: Vec::new(),
    }
}
