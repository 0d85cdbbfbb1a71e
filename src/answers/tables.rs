//! Atomic weights as shorter tables print them: in whole numbers, with halves, or with one decimal; common practice, no source.

use std::cell::OnceCell;

use crate::chem::Element;
use crate::chem::Formula;
use crate::lab::Lab;
use crate::working::Variable;
use crate::working::line::Line;
use crate::working::line::Weights;

/// How far from a half a weight may be that tables in whole numbers still print with it, as 35.5 for chlorine and 63.5 for copper.
const NEAR_A_HALF: f64 = 0.051;

/// The id of the remark on an answer by one of these tables.
pub(super) const ROUNDED_WEIGHTS: &str = "rounded-atomic-weights";

/// How such a table prints a weight.
const TABLES: [fn(f64) -> f64; 3] = [f64::round, with_halves, |weight| {
    (weight * 10.0).round() / 10.0
}];

fn with_halves(weight: f64) -> f64 {
    let half = weight.floor() + 0.5;
    if (weight - half).abs() <= NEAR_A_HALF {
        half
    } else {
        weight.round()
    }
}

/// The atomic weights of each table, looked up once for all answers of a record.
#[derive(Default)]
pub(super) struct Tables(OnceCell<Vec<Weights>>);

impl Tables {
    /// A line worked again by each of the tables.
    pub(super) fn lines<'l, 'a>(
        &'l self,
        lab: &Lab,
        line: &'l Line<'a>,
    ) -> impl Iterator<Item = Line<'a>> + use<'l, 'a> {
        let tables = self.0.get_or_init(|| weights(lab, line));
        tables.iter().map(|weights| line.with_weights(weights))
    }
}

fn weights(lab: &Lab, line: &Line<'_>) -> Vec<Weights> {
    let formulas = lab.substances.iter().flat_map(|substance| {
        let weighed = substance.weighed_as.as_ref();
        weighed.into_iter().chain([&substance.formula])
    });
    let equations = std::iter::once(&lab.equation).chain(&lab.alternatives);
    let species = equations.flat_map(|equation| {
        let all = equation.reactants.iter().chain(&equation.products);
        all.map(|species| &species.formula)
    });
    let atoms = formulas.chain(species).flat_map(Formula::atoms);
    let mut elements: Vec<Element> = atoms.map(|(element, _)| *element).collect();
    elements.sort_unstable();
    elements.dedup();
    let by = |printed: &fn(f64) -> f64| {
        let mut by_table = line.clone();
        for element in elements.iter().copied().map(Variable::Element) {
            if let Some(weight) = line.input(element) {
                by_table.vary(element, printed(weight));
            }
        }
        by_table.weights()
    };
    TABLES.iter().map(by).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_near_a_half_keep_it() {
        for (weight, printed) in [
            (35.45, 35.5),
            (63.546, 63.5),
            (65.38, 65.0),
            (24.305, 24.0),
            (15.999, 16.0),
        ] {
            assert!((with_halves(weight) - printed).abs() < 1e-9, "{weight}");
        }
    }
}
