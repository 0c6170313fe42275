//! Linear and integer programs of one shape: least cost, "at least" rows, no
//! variable below zero, whole coefficients. It knows rows and columns and
//! nothing of what they stand for; floats guide it, but every bound it reports
//! holds in whole numbers (see [`branch`]).

mod answers;
pub mod branch;
mod choice;
mod cuts;
pub mod decide;
#[cfg(feature = "highs")]
pub mod general;
pub mod problem;
#[cfg(test)]
mod reference;
pub mod simplex;
pub mod widen;

use std::sync::Arc;

pub(crate) use choice::Costs;

/// A price in whole parts of a unit, `most` of them at most. Any price proves
/// something, so one that the method lets grow past all bounds is cut off where sums
/// of prices still fit, and what is no number is nothing.
pub(crate) fn whole(price: f64, parts: i64, most: i64) -> i64 {
    ((price * parts as f64).round() as i64).clamp(-most, most)
}

/// A set of columns that may grow: costs, and coefficients by row, all whole.
#[derive(Debug, Clone, Default)]
pub struct Columns {
    cost: Vec<i64>,
    start: Vec<u32>,
    row: Vec<u32>,
    value: Vec<i32>,
    /// What the coefficients of a column come to at most, all taken positive.
    most: i64,
    /// The most that a column costs.
    dearest: i64,
}

impl Columns {
    /// No columns.
    pub fn new() -> Columns {
        Columns {
            start: vec![0],
            ..Columns::default()
        }
    }

    /// Adds a column and returns its place. Zero coefficients may be left out.
    pub fn push(&mut self, cost: i64, entries: impl IntoIterator<Item = (u32, i32)>) -> usize {
        self.cost.push(cost);
        self.dearest = self.dearest.max(cost.abs());
        let mut sum = 0;
        for (row, value) in entries {
            if value != 0 {
                self.row.push(row);
                self.value.push(value);
                sum += i64::from(value).abs();
            }
        }
        self.most = self.most.max(sum);
        self.start.push(self.row.len() as u32);
        self.cost.len() - 1
    }

    /// How many columns there are.
    pub fn len(&self) -> usize {
        self.cost.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.cost.is_empty()
    }

    /// The cost of a column.
    pub fn cost(&self, column: usize) -> i64 {
        self.cost[column]
    }

    /// The reduced costs of some columns at whole prices of the rows, by column, in the
    /// prices' parts of cost.
    pub(crate) fn reduced(&self, of: &[u32], prices: &[i64], parts: i64) -> Vec<i128> {
        let dearest = prices.iter().map(|price| price.unsigned_abs()).max();
        let of_rows = i128::from(dearest.unwrap_or(0)) * i128::from(self.most);
        let most = of_rows + i128::from(self.dearest) * i128::from(parts);
        let mut reduced = vec![0; self.len()];
        // Mostly all is small enough for numbers of half the size, which is faster.
        if most < i128::from(i64::MAX) {
            for &j in of {
                let paid: i64 = (self.entries(j as usize))
                    .map(|(row, v)| prices[row] * i64::from(v))
                    .sum();
                reduced[j as usize] = i128::from(self.cost(j as usize) * parts - paid);
            }
        } else {
            let times = |a: i64, b: i64| i128::from(a) * i128::from(b);
            for &j in of {
                let paid: i128 = (self.entries(j as usize))
                    .map(|(row, v)| times(prices[row], i64::from(v)))
                    .sum();
                reduced[j as usize] = times(self.cost(j as usize), parts) - paid;
            }
        }
        reduced
    }

    /// What a column's coefficients come to with a weight for each row.
    #[inline]
    pub(crate) fn weigh(&self, column: usize, weights: &[f64]) -> f64 {
        let range = self.start[column] as usize..self.start[column + 1] as usize;
        let terms = self.row[range.clone()].iter().zip(&self.value[range]);
        terms.fold(0.0, |sum, (&row, &value)| {
            sum + weights[row as usize] * f64::from(value)
        })
    }

    /// The coefficients of a column that are not zero, by row.
    #[inline]
    pub fn entries(&self, column: usize) -> impl Iterator<Item = (usize, i32)> + '_ {
        let range = self.start[column] as usize..self.start[column + 1] as usize;
        self.row[range.clone()]
            .iter()
            .map(|&row| row as usize)
            .zip(self.value[range].iter().copied())
    }
}

/// An "at least" row given by the columns it touches: a cut or a branch.
#[derive(Debug, Clone)]
pub struct ExtraRow {
    /// Columns and their coefficients; ascending by column.
    pub entries: Arc<Vec<(u32, i32)>>,
    /// What they must come to at least.
    pub at_least: i64,
    /// What all these numbers are counted in: the simplex method sees them times this.
    pub part: f64,
}

impl ExtraRow {
    /// A row counted in ones.
    pub(crate) fn new(entries: Vec<(u32, i32)>, at_least: i64) -> ExtraRow {
        ExtraRow {
            entries: Arc::new(entries),
            at_least,
            part: 1.0,
        }
    }

    /// The coefficient of a column, zero where the row does not touch it.
    pub(crate) fn count(&self, column: u32) -> i32 {
        let found = self.entries.binary_search_by_key(&column, |e| e.0);
        found.map_or(0, |at| self.entries[at].1)
    }

    /// Whether an answer meets it.
    pub(crate) fn is_met(&self, answer: &[(usize, i64)]) -> bool {
        let terms = answer
            .iter()
            .map(|&(j, n)| n * i64::from(self.count(j as u32)));
        terms.sum::<i64>() >= self.at_least
    }

    /// The same as the method sees it.
    pub(crate) fn coefficient(&self, column: u32) -> f64 {
        f64::from(self.count(column)) * self.part
    }
}

/// How a run of the method ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// At the optimum of the columns at hand.
    Optimal,
    /// No choice of the columns at hand meets the rows.
    Infeasible,
    /// Past the cutoff, at the iteration limit, or in numerical trouble.
    Stopped,
}

/// A fixed, order-independent number in (0, 1) for a place: ties are broken the
/// same way every time.
fn jitter(seed: u64) -> f64 {
    let mut z = seed.wrapping_add(1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^= z >> 31;
    ((z >> 11) as f64 + 0.5) / (1u64 << 53) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reduced_costs_are_exact_at_any_size() {
        let mut columns = Columns::new();
        columns.push(7, [(0, 2), (1, -3)]);
        columns.push(i64::MAX / 2, [(1, i32::MAX)]);
        assert_eq!(columns.reduced(&[0, 1], &[10, 1], 5)[0], 35 - 17);
        let prices = [i64::MAX, -i64::MAX];
        let reduced = columns.reduced(&[0, 1], &prices, 1);
        let most = i128::from(i64::MAX);
        assert_eq!(reduced[0], 7 - 5 * most);
        assert_eq!(reduced[1], most / 2 + i128::from(i32::MAX) * most);
        // Those not asked for are left out.
        assert_eq!(columns.reduced(&[1], &[1, 1], 1)[0], 0);
    }

    #[test]
    fn prices_past_all_bounds_are_cut_off() {
        assert_eq!(whole(2.6, 10, 100), 26);
        assert_eq!(whole(-0.26, 10, 100), -3);
        assert_eq!(whole(26.0, 10, 100), 100);
        assert_eq!(whole(f64::INFINITY, 1_000, i64::MAX), i64::MAX);
        assert_eq!(whole(f64::NEG_INFINITY, 1_000, 7), -7);
        assert_eq!(whole(f64::NAN, 1_000, 7), 0);
    }
}
