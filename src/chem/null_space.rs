//! The whole-number solutions of a set of linear equations, exactly.

use num_bigint::BigInt;
use num_integer::Integer;
use num_rational::BigRational;
use num_traits::Signed;
use num_traits::Zero;

/// Whole-number vectors, without common factors, that span all solutions of `rows · x = 0`.
pub(super) fn null_space(rows: &[Vec<i64>], width: usize) -> Vec<Vec<BigInt>> {
    let mut rows: Vec<Vec<BigRational>> = rows
        .iter()
        .map(|row| {
            row.iter()
                .map(|number| BigRational::from_integer(BigInt::from(*number)))
                .collect()
        })
        .collect();
    let mut pivots = Vec::new();
    for column in 0..width {
        let top = pivots.len();
        let Some(found) = (top..rows.len()).find(|&at| !rows[at][column].is_zero()) else {
            continue;
        };
        rows.swap(top, found);
        let lead = rows[top][column].clone();
        for number in &mut rows[top] {
            *number /= &lead;
        }
        let pivot = rows[top].clone();
        for (at, row) in rows.iter_mut().enumerate() {
            if at == top || row[column].is_zero() {
                continue;
            }
            let factor = row[column].clone();
            for (number, above) in row.iter_mut().zip(&pivot) {
                if !above.is_zero() {
                    *number -= above * &factor;
                }
            }
        }
        pivots.push(column);
    }
    let free = (0..width).filter(|column| !pivots.contains(column));
    free.map(|free| {
        let mut vector = vec![BigRational::zero(); width];
        vector[free] = BigRational::from_integer(1.into());
        for (row, pivot) in rows.iter().zip(&pivots) {
            vector[*pivot] = -row[free].clone();
        }
        whole(&vector)
    })
    .collect()
}

/// The smallest whole-number multiple of a vector, most of its numbers positive.
fn whole(vector: &[BigRational]) -> Vec<BigInt> {
    let multiple = vector
        .iter()
        .fold(BigInt::from(1), |all, number| all.lcm(number.denom()));
    let numbers: Vec<BigInt> = vector
        .iter()
        .map(|number| number.numer() * (&multiple / number.denom()))
        .collect();
    let common = numbers
        .iter()
        .fold(BigInt::ZERO, |all, number| all.gcd(number));
    let positive = numbers.iter().filter(|number| number.is_positive()).count();
    let negative = numbers.iter().filter(|number| number.is_negative()).count();
    let common = if negative > positive { -common } else { common };
    numbers.into_iter().map(|number| number / &common).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_null_space_is_whole_and_without_common_factors() {
        // H2 + O2 -> H2O
        let basis = null_space(&[vec![2, 0, -2], vec![0, 2, -1]], 3);
        assert_eq!(basis, vec![vec![2.into(), 1.into(), 2.into()]]);
        assert_eq!(null_space(&[], 2).len(), 2);
        assert!(null_space(&[vec![1, -1], vec![1, -2]], 2).is_empty());
    }
}
