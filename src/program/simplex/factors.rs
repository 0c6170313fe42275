//! Sparse triangular factors of a square matrix: kept up to date as a column is
//! exchanged (Forrest and Tomlin) or a row is added, and solved with, from either
//! side. It knows numbers by row and by place (a column's), and nothing of what they
//! stand for; how factors are found is known elsewhere.

use std::sync::Arc;

use super::eliminate::{Elimination, Matrix};

/// What is smaller than this is nothing.
pub(super) const TINY: f64 = 1e-13;
/// No factor is divided by a smaller number.
pub(super) const PIVOT: f64 = 1e-11;

/// Steps of an elimination, each of one row with several others.
#[derive(Debug, Clone, Default)]
pub(super) struct Steps {
    rows: Vec<u32>,
    ends: Vec<u32>,
    entries: Vec<(u32, f64)>,
}

impl Steps {
    pub(super) fn push(&mut self, row: usize, number: f64) {
        self.entries.push((row as u32, number));
    }

    /// Ends a step, which was one of `row` with what was pushed.
    pub(super) fn close(&mut self, row: usize) {
        self.rows.push(row as u32);
        self.ends.push(self.entries.len() as u32);
    }

    fn len(&self) -> usize {
        self.rows.len()
    }

    #[inline]
    fn step(&self, k: usize) -> (usize, &[(u32, f64)]) {
        let start = if k == 0 { 0 } else { self.ends[k - 1] as usize };
        let range = start..self.ends[k] as usize;
        (self.rows[k] as usize, &self.entries[range])
    }
}

/// The sum of what is in `x` at so many places, each times its number.
#[inline]
fn sum(entries: &[(u32, f64)], x: &[f64]) -> f64 {
    let mut sum = 0.0;
    for &(r, v) in entries {
        sum += v * x[r as usize];
    }
    sum
}

/// Takes so much of each number away from what is in `x` at its place.
#[inline]
fn take(entries: &[(u32, f64)], much: f64, x: &mut [f64]) {
    for &(r, v) in entries {
        x[r as usize] -= v * much;
    }
}

/// A matrix as steps that bring it into triangular form, and that form.
#[derive(Debug, Clone)]
pub(super) struct Factors {
    /// A row's multiples are taken from others, ...
    columns: Arc<Steps>,
    /// ... then multiples of others are taken from a row.
    updates: Steps,
    /// The triangle's columns by place, without the diagonal; some of the pool is
    /// no longer used.
    pool: Vec<(u32, f64)>,
    start: Vec<u32>,
    length: Vec<u32>,
    diagonal: Vec<f64>,
    /// The row of each place's pivot.
    row: Vec<u32>,
    /// Places: what is in a row lies in its own place's column and later ones.
    order: Vec<u32>,
}

impl Factors {
    /// Of the unit matrix with its sign changed.
    pub(super) fn negative_unit(size: usize) -> Factors {
        Factors {
            columns: Arc::default(),
            updates: Steps::default(),
            pool: Vec::new(),
            start: vec![0; size],
            length: vec![0; size],
            diagonal: vec![-1.0; size],
            row: (0..size as u32).collect(),
            order: (0..size as u32).collect(),
        }
    }

    /// Of any matrix; none if it is singular as far as numbers tell.
    pub(super) fn of(matrix: &Matrix) -> Option<Factors> {
        let done = Elimination::new(matrix).run()?;
        let mut pool = Vec::new();
        let (mut start, mut length) = (Vec::new(), Vec::new());
        for column in &done.upper {
            start.push(pool.len() as u32);
            length.push(column.len() as u32);
            pool.extend_from_slice(column);
        }
        Some(Factors {
            columns: Arc::new(done.steps),
            updates: Steps::default(),
            pool,
            start,
            length,
            diagonal: done.diagonal,
            row: done.row,
            order: done.order,
        })
    }

    /// How many numbers a solution reads.
    pub(super) fn weight(&self) -> usize {
        self.columns.entries.len() + self.updates.entries.len() + self.pool.len() + self.row.len()
    }

    #[inline]
    fn column(&self, place: usize) -> &[(u32, f64)] {
        let start = self.start[place] as usize;
        &self.pool[start..start + self.length[place] as usize]
    }

    /// The first half of a solution for the right side `x`, in place: what the
    /// triangle is solved for, and what exchanging a column asks for.
    pub(super) fn spike(&self, x: &mut [f64]) {
        for k in 0..self.columns.len() {
            let (row, entries) = self.columns.step(k);
            let own = x[row];
            if own != 0.0 {
                take(entries, own, x);
            }
        }
        for k in 0..self.updates.len() {
            let (row, entries) = self.updates.step(k);
            x[row] -= sum(entries, x);
        }
    }

    /// The second half: by place what the columns are to be multiplied by. The
    /// spike is used up.
    pub(super) fn unspike(&self, spike: &mut [f64]) -> Vec<f64> {
        let mut solution = vec![0.0; spike.len()];
        for &place in self.order.iter().rev() {
            let place = place as usize;
            let own = spike[self.row[place] as usize];
            if own != 0.0 {
                let own = own / self.diagonal[place];
                solution[place] = own;
                take(self.column(place), own, spike);
            }
        }
        solution
    }

    /// What columns, by place, have to be multiplied by to sum up to `right`, by row.
    pub(super) fn solve(&self, mut right: Vec<f64>) -> Vec<f64> {
        self.spike(&mut right);
        self.unspike(&mut right)
    }

    /// What rows have to be multiplied by to sum up to `right`, by place, with
    /// nothing before the `from`th place in order.
    fn solve_rows_from(&self, right: &[f64], from: usize) -> Vec<f64> {
        let mut x = self.triangle(right, from);
        for k in (0..self.updates.len()).rev() {
            let (row, entries) = self.updates.step(k);
            let own = x[row];
            if own != 0.0 {
                take(entries, own, &mut x);
            }
        }
        for k in (0..self.columns.len()).rev() {
            let (row, entries) = self.columns.step(k);
            x[row] -= sum(entries, &x);
        }
        x
    }

    /// The triangle solved for multiples of its rows.
    fn triangle(&self, right: &[f64], from: usize) -> Vec<f64> {
        let mut x = vec![0.0; right.len()];
        for &place in &self.order[from..] {
            let place = place as usize;
            let own = right[place] - sum(self.column(place), &x);
            if own != 0.0 {
                x[self.row[place] as usize] = own / self.diagonal[place];
            }
        }
        x
    }

    /// What rows have to be multiplied by to sum up to `right`, by place.
    pub(super) fn solve_rows(&self, right: &[f64]) -> Vec<f64> {
        self.solve_rows_from(right, 0)
    }

    /// One row of the inverse.
    pub(super) fn inverse_row(&self, place: usize) -> Vec<f64> {
        let mut right = vec![0.0; self.row.len()];
        right[place] = 1.0;
        self.solve_rows_from(&right, self.rank(place))
    }

    fn rank(&self, place: usize) -> usize {
        let found = self.order.iter().position(|&p| p as usize == place);
        found.expect("every place is in the order")
    }

    /// Another column at a place, given as its spike; `share` is what it has of the
    /// old one. False if numbers have become too rough to go on with.
    pub(super) fn exchange(&mut self, place: usize, spike: &[f64], share: f64) -> bool {
        let rank = self.rank(place);
        let row = self.row[place] as usize;
        // What is left of the row in later columns is taken out by their own rows.
        let mut factor = vec![0.0; spike.len()];
        let mut diagonal = spike[row];
        for &later in &self.order[rank + 1..] {
            let later = later as usize;
            let start = self.start[later] as usize;
            let column = &mut self.pool[start..start + self.length[later] as usize];
            let mut own = 0.0;
            let mut found = None;
            for (k, &(r, v)) in column.iter().enumerate() {
                if r as usize == row {
                    found = Some(k);
                    own += v;
                } else {
                    own -= factor[r as usize] * v;
                }
            }
            if let Some(k) = found {
                column.swap(k, self.length[later] as usize - 1);
                self.length[later] -= 1;
            }
            if own.abs() > TINY {
                let r = self.row[later];
                let own = own / self.diagonal[later];
                factor[r as usize] = own;
                diagonal -= own * spike[r as usize];
                self.updates.push(r as usize, own);
            }
        }
        self.updates.close(row);
        self.start[place] = self.pool.len() as u32;
        let entries = spike.iter().enumerate();
        let entries = entries.filter(|&(r, v)| r != row && v.abs() > TINY);
        self.pool.extend(entries.map(|(r, &v)| (r as u32, v)));
        self.length[place] = self.pool.len() as u32 - self.start[place];
        let expected = self.diagonal[place] * share;
        self.diagonal[place] = diagonal;
        self.order.remove(rank);
        self.order.push(place as u32);
        diagonal.abs() > PIVOT && (diagonal - expected).abs() <= 1e-6 * diagonal.abs()
    }

    /// A further row, given by place, and a column that has -1 in it alone.
    pub(super) fn add_row(&mut self, right: &[f64]) {
        let factor = self.triangle(right, 0);
        let entries = factor.iter().enumerate().filter(|(_, v)| v.abs() > TINY);
        self.updates
            .entries
            .extend(entries.map(|(r, &v)| (r as u32, v)));
        let size = self.row.len();
        self.updates.close(size);
        self.start.push(self.pool.len() as u32);
        self.length.push(0);
        self.diagonal.push(-1.0);
        self.row.push(size as u32);
        self.order.push(size as u32);
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    type Column = Vec<i32>;

    /// A matrix with little in it, columns to exchange, and a further row.
    fn matrices() -> impl Strategy<Value = (Vec<Column>, Vec<(usize, Column)>, Column)> {
        (2usize..14).prop_flat_map(|size| {
            let number = prop_oneof![4 => Just(0), 1 => -3i32..=3];
            let column = proptest::collection::vec(number, size);
            let matrix = proptest::collection::vec(column.clone(), size);
            let exchanges = proptest::collection::vec((0..size, column.clone()), 0..12);
            (matrix, exchanges, column)
        })
    }

    fn entries(column: &[i32]) -> impl Iterator<Item = (usize, f64)> + '_ {
        let entries = column.iter().enumerate().filter(|(_, v)| **v != 0);
        entries.map(|(r, &v)| (r, f64::from(v)))
    }

    fn factors(columns: &[Vec<i32>]) -> Option<Factors> {
        let mut matrix = Matrix::default();
        for column in columns {
            matrix.push(entries(column));
        }
        Factors::of(&matrix)
    }

    /// Solutions from both sides, put into the matrix again.
    fn check(columns: &[Vec<i32>], factors: &Factors) {
        let size = columns.len();
        for unit in 0..size {
            let mut right = vec![0.0; size];
            right[unit] = 1.0;
            let solution = factors.solve(right);
            let most = solution.iter().fold(1.0f64, |a, b| a.max(b.abs()));
            for row in 0..size {
                let terms = columns.iter().zip(&solution);
                let sum: f64 = terms.map(|(c, x)| f64::from(c[row]) * x).sum();
                assert!((sum - f64::from(u8::from(row == unit))).abs() < 1e-8 * most);
            }
            let line = factors.inverse_row(unit);
            let most = line.iter().fold(1.0f64, |a, b| a.max(b.abs()));
            for (place, column) in columns.iter().enumerate() {
                let sum: f64 = column
                    .iter()
                    .zip(&line)
                    .map(|(&c, x)| f64::from(c) * x)
                    .sum();
                assert!((sum - f64::from(u8::from(place == unit))).abs() < 1e-8 * most);
            }
        }
    }

    /// Whether a matrix is singular, in whole numbers (Bareiss).
    fn singular(columns: &[Vec<i32>]) -> bool {
        let size = columns.len();
        let mut m: Vec<Vec<i128>> = columns
            .iter()
            .map(|c| c.iter().map(|&v| i128::from(v)).collect())
            .collect();
        let mut last = 1i128;
        for k in 0..size {
            let Some(row) = (k..size).find(|&r| m[r][k] != 0) else {
                return true;
            };
            m.swap(k, row);
            for i in k + 1..size {
                for j in k + 1..size {
                    m[i][j] = (m[i][j] * m[k][k] - m[i][k] * m[k][j]) / last;
                }
            }
            last = m[k][k];
        }
        false
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        #[test]
        fn solutions_hold_after_exchanges_and_further_rows(
            (mut columns, exchanges, row) in matrices()
        ) {
            for (at, column) in columns.iter_mut().enumerate() {
                if column[at] == 0 {
                    column[at] = 1;
                }
            }
            let made = factors(&columns);
            prop_assert_eq!(made.is_none(), singular(&columns));
            let Some(mut factors) = made else { return Ok(()) };
            check(&columns, &factors);
            for (place, column) in exchanges {
                let mut spike = vec![0.0; columns.len()];
                entries(&column).for_each(|(r, v)| spike[r] = v);
                factors.spike(&mut spike);
                let share = factors.unspike(&mut spike.clone())[place];
                if share.abs() < 1e-6 {
                    continue;
                }
                prop_assert!(factors.exchange(place, &spike, share));
                columns[place] = column;
                check(&columns, &factors);
            }
            let right: Vec<f64> = row.iter().map(|&v| f64::from(v)).collect();
            factors.add_row(&right);
            for (column, v) in columns.iter_mut().zip(row) {
                column.push(v);
            }
            let mut slack = vec![0; columns.len() + 1];
            slack[columns.len()] = -1;
            columns.push(slack);
            check(&columns, &factors);
        }
    }
}
