//! Derivatives of a value by the inputs that change it.

use std::slice::Iter;

use crate::working::Variable;

/// A derivative by each input that changes a value, in the order of the inputs.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Slopes(Vec<(Variable, f64)>);

impl Slopes {
    /// Of an input itself.
    #[must_use]
    pub fn of(variable: Variable) -> Self {
        Self(vec![(variable, 1.0)])
    }

    /// Each input once, in order.
    pub fn iter(&self) -> Iter<'_, (Variable, f64)> {
        self.0.iter()
    }

    /// Adds the slopes of a part, times what the whole changes with it.
    pub fn add(&mut self, part: &Self, factor: f64) {
        self.0.reserve(part.0.len());
        // Both are in order: the place of one input is never before that of the last.
        let mut place = 0;
        for (variable, slope) in &part.0 {
            while self.0.get(place).is_some_and(|(own, _)| own < variable) {
                place += 1;
            }
            match self.0.get_mut(place) {
                Some((own, sum)) if own == variable => *sum += slope * factor,
                // Added to zero, which has no sign.
                _ => self.0.insert(place, (*variable, 0.0 + slope * factor)),
            }
        }
    }
}

/// Of inputs named once each, in any order.
impl FromIterator<(Variable, f64)> for Slopes {
    fn from_iter<I: IntoIterator<Item = (Variable, f64)>>(slopes: I) -> Self {
        let mut slopes: Vec<(Variable, f64)> = slopes.into_iter().collect();
        slopes.sort_unstable_by_key(|(variable, _)| *variable);
        Self(slopes)
    }
}

impl<'s> IntoIterator for &'s Slopes {
    type Item = &'s (Variable, f64);
    type IntoIter = Iter<'s, (Variable, f64)>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slopes_of_the_same_input_are_added() {
        let of = |slopes: &[(usize, f64)]| -> Slopes {
            let slopes = slopes.iter();
            slopes
                .map(|(reading, slope)| (Variable::Reading(*reading), *slope))
                .collect()
        };
        let mut sum = of(&[(4, 1.0), (2, 3.0)]);
        sum.add(&of(&[(1, 1.0), (2, 1.0), (3, 0.0), (5, 2.0)]), -0.5);
        assert_eq!(
            sum,
            of(&[(1, -0.5), (2, 2.5), (3, 0.0), (4, 1.0), (5, -1.0)])
        );
    }
}
