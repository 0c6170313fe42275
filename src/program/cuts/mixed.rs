//! Gomory's mixed-integer cuts, computed in whole numbers: multiples of the rows are
//! added up, their surpluses among them, and what is left of each coefficient after
//! whole ones counts no more than what is left of the right side. All columns and all
//! surpluses are whole, so that a cut holds whatever the floats that suggested it were
//! worth.

use std::sync::Arc;

use super::super::ExtraRow;
use super::super::simplex::Simplex;
use super::{FACTORS, PARTS, multipliers, tried};

/// The right side's fraction is at least so many thousandths away from a whole number.
const CLEAR: i128 = 2;
/// Parts of one in which a cut is counted.
const FINE: i64 = 1 << 14;
/// No coefficient of a cut is larger.
const LARGEST: i64 = 10_000;
/// What a cut must be violated by.
const LEAST: f64 = 1e-3;
/// Cuts whose directions have more than this in common are one too many.
const ALIKE: f64 = 0.5;

/// The cuts that the present basis violates most, at most `most` of them, no two of
/// them much alike; and the work that this took, in products.
pub(crate) fn violated(simplex: &mut Simplex, most: usize) -> (Vec<ExtraRow>, u64) {
    let values = simplex.values();
    let lines = simplex.fractional_rows(2 * most);
    let simplex = &*simplex;
    let found = tried(&lines, |line, factor| {
        let rounding = Rounding::of(simplex, line, factor)?;
        Some((rounding.depth(&values)?, rounding))
    });
    let mut cuts: Vec<(f64, ExtraRow)> = Vec::new();
    let per_column = 8 + simplex.extra_rows().len() as u64;
    let mut work = (FACTORS.len() * lines.len() * values.len()) as u64 * per_column;
    for (_, rounding) in found.into_iter().take(2 * most) {
        if cuts.len() == most {
            break;
        }
        work += simplex.active().len() as u64 * per_column;
        let Some(cut) = rounding.cut() else { continue };
        let length = dot(&cut, &cut).sqrt();
        let alike = |(other, kept): &(f64, ExtraRow)| dot(&cut, kept) > ALIKE * length * other;
        if !cuts.iter().any(alike) {
            cuts.push((length, cut));
        }
    }
    (cuts.into_iter().map(|(_, cut)| cut).collect(), work)
}

/// The product of two rows' coefficients.
fn dot(a: &ExtraRow, b: &ExtraRow) -> f64 {
    let mut others = b.entries.iter().peekable();
    let mut sum = 0.0;
    for &(column, value) in a.entries.iter() {
        while others.next_if(|other| other.0 < column).is_some() {}
        if let Some(other) = others.next_if(|other| other.0 == column) {
            sum += f64::from(value) * f64::from(other.1);
        }
    }
    sum
}

/// Multiples of the rows, to be rounded.
struct Rounding<'a> {
    simplex: &'a Simplex,
    /// Of each row, in parts.
    multipliers: Vec<i64>,
    /// What a row's surplus counts in the cut, in the cut's own parts.
    surplus: Vec<i128>,
    /// The right side's fraction, in parts: what the cut is counted in.
    over: i128,
    /// What the cut must come to.
    right: i128,
}

impl<'a> Rounding<'a> {
    fn of(simplex: &'a Simplex, line: &[f64], factor: f64) -> Option<Rounding<'a>> {
        let multipliers = multipliers(line, factor);
        let least = |i: usize| i128::from(simplex.least(i));
        let terms = multipliers.iter().enumerate();
        let sum: i128 = terms.map(|(i, &k)| i128::from(k) * least(i)).sum();
        let parts = i128::from(PARTS);
        let over = sum.rem_euclid(parts);
        if over * 1_000 < CLEAR * parts || (parts - over) * 1_000 < CLEAR * parts {
            return None;
        }
        let surplus: Vec<i128> = (multipliers.iter())
            .map(|&k| rounded(-i128::from(k), over))
            .collect();
        let right = (sum.div_euclid(parts) + 1) * over;
        let terms = surplus.iter().enumerate();
        let right = right + terms.map(|(i, &g)| g * least(i)).sum::<i128>();
        Some(Rounding {
            simplex,
            multipliers,
            surplus,
            over,
            right,
        })
    }

    /// How deep the cut goes into values, for its length; nothing if it barely does.
    fn depth(&self, values: &[(usize, f64)]) -> Option<f64> {
        let base = self.simplex.base_rows();
        let (mut reached, mut length) = (0.0, 1.0);
        for &(j, x) in values {
            let (mut sum, mut more) = (0, 0);
            let mut add = |row: usize, value: i32| {
                sum += i128::from(self.multipliers[row]) * i128::from(value);
                more += self.surplus[row] * i128::from(value);
            };
            for (row, value) in self.simplex.columns().entries(j) {
                add(row, value);
            }
            for (i, row) in self.simplex.extra_rows().iter().enumerate() {
                if self.multipliers[base + i] != 0 {
                    add(base + i, row.count(j as u32));
                }
            }
            let c = self.in_fine(sum, more) as f64 / FINE as f64;
            reached += c * x;
            length += c * c * x.min(1.0);
        }
        let violation = self.right_in_fine() as f64 / FINE as f64 - reached;
        (violation >= LEAST).then(|| violation / length.sqrt())
    }

    /// The cut; nothing if its numbers are too large.
    fn cut(&self) -> Option<ExtraRow> {
        let columns = self.simplex.columns();
        // No surplus counts more than the right side's fraction, which is less than one.
        let surplus: Vec<i64> = self.surplus.iter().map(|&g| g as i64).collect();
        let mut sums = vec![(0i64, 0i64); columns.len()];
        let mut fits = true;
        let mut add = |j: usize, row: usize, value: i32| {
            let terms = [self.multipliers[row], surplus[row]].map(|k| k * i64::from(value));
            let sum = (
                sums[j].0.checked_add(terms[0]),
                sums[j].1.checked_add(terms[1]),
            );
            match sum {
                (Some(a), Some(b)) => sums[j] = (a, b),
                _ => fits = false,
            }
        };
        for &j in self.simplex.active() {
            for (row, value) in columns.entries(j as usize) {
                add(j as usize, row, value);
            }
        }
        let base = self.simplex.base_rows();
        for (i, row) in self.simplex.extra_rows().iter().enumerate() {
            if self.multipliers[base + i] != 0 {
                for &(j, value) in row.entries.iter() {
                    add(j as usize, base + i, value);
                }
            }
        }
        if !fits {
            return None;
        }
        let largest = i128::from(FINE * LARGEST);
        let mut entries = Vec::new();
        for &j in self.simplex.active() {
            let (sum, more) = sums[j as usize];
            let c = self.in_fine(sum.into(), more.into());
            if c.abs() > largest {
                return None;
            }
            if c != 0 {
                entries.push((j, c as i32));
            }
        }
        Some(ExtraRow {
            entries: Arc::new(entries),
            at_least: i64::try_from(self.right_in_fine()).ok()?,
            part: 1.0 / FINE as f64,
        })
    }

    /// A coefficient from the rows' and their surpluses' share of it, rounded up.
    fn in_fine(&self, sum: i128, more: i128) -> i128 {
        up(
            (rounded(sum, self.over) + more) * i128::from(FINE),
            self.over,
        )
    }

    fn right_in_fine(&self) -> i128 {
        up(self.right * i128::from(FINE), self.over)
    }
}

/// Whole ones count in full, what is left of them no more than what is left of the right
/// side.
fn rounded(sum: i128, over: i128) -> i128 {
    (sum >> PARTS.ilog2()) * over + (sum & i128::from(PARTS - 1)).min(over)
}

/// A quotient rounded up.
fn up(sum: i128, by: i128) -> i128 {
    // Shorter numbers are divided much sooner.
    if let (Ok(sum), Ok(by)) = (i64::try_from(sum), i64::try_from(by)) {
        return i128::from(sum.div_euclid(by) + i64::from(sum.rem_euclid(by) != 0));
    }
    sum.div_euclid(by) + i128::from(sum.rem_euclid(by) != 0)
}

#[cfg(test)]
mod tests {
    use itertools::Itertools;
    use proptest::prelude::*;

    use super::*;
    use crate::program::{Columns, Ended};

    /// Columns with costs, coefficients by row, and right sides.
    fn programs() -> impl Strategy<Value = (Vec<(i64, Vec<i32>)>, Vec<i64>)> {
        (2usize..5, 1usize..5).prop_flat_map(|(count, rows)| {
            let column = (1i64..9, proptest::collection::vec(-3i32..=7, rows));
            let columns = proptest::collection::vec(column, count);
            (columns, proptest::collection::vec(-4i64..=11, rows))
        })
    }

    proptest! {
        #[test]
        fn whole_answers_meet_every_cut((given, at_least) in programs()) {
            let mut columns = Columns::new();
            for (cost, values) in &given {
                let entries = values.iter().enumerate().map(|(r, &v)| (r as u32, v));
                columns.push(*cost, entries);
            }
            let mut simplex = Simplex::new(Arc::new(columns), &at_least, 1.0, 0.0);
            // Cuts of cuts as well.
            for _ in 0..6 {
                if simplex.dual(500, f64::INFINITY, &|| false) != Ended::Optimal {
                    break;
                }
                for cut in violated(&mut simplex, 4).0 {
                    simplex.add_row(cut);
                }
            }
            let most = 6;
            let answers = (0..given.len()).map(|_| 0..=most).multi_cartesian_product();
            for answer in answers {
                let meets = |(row, &b): (usize, &i64)| {
                    let terms = given.iter().zip(&answer);
                    terms.map(|(c, &x)| i64::from(c.1[row]) * x).sum::<i64>() >= b
                };
                if !at_least.iter().enumerate().all(meets) {
                    continue;
                }
                for cut in simplex.extra_rows() {
                    let terms = cut.entries.iter();
                    let sum: i64 = terms.map(|&(j, v)| i64::from(v) * answer[j as usize]).sum();
                    prop_assert!(sum >= cut.at_least, "{answer:?} and {cut:?}");
                }
            }
        }
    }
}
