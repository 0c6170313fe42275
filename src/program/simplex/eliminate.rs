//! Triangular factors of a square matrix found afresh: rows are taken from one another,
//! those first that bring few new numbers, until what is left of each column lies in
//! rows taken before. What becomes of the factors is not known here.

use super::factors::{PIVOT, Steps, TINY};

/// In its column a pivot is at least this part of the strongest number.
const STRONG: f64 = 0.1;

/// A matrix's columns, one after the other, each as its rows and numbers.
#[derive(Debug, Clone, Default)]
pub(super) struct Matrix {
    entries: Vec<(u32, f64)>,
    ends: Vec<u32>,
}

impl Matrix {
    /// Adds a column.
    pub(super) fn push(&mut self, entries: impl IntoIterator<Item = (usize, f64)>) {
        self.entries
            .extend(entries.into_iter().map(|(r, v)| (r as u32, v)));
        self.ends.push(self.entries.len() as u32);
    }

    fn size(&self) -> usize {
        self.ends.len()
    }

    fn column(&self, place: usize) -> &[(u32, f64)] {
        let start = place.checked_sub(1).map_or(0, |p| self.ends[p] as usize);
        &self.entries[start..self.ends[place] as usize]
    }
}

/// A matrix being brought into triangular form: its rows that are left, and in
/// which of them each column has something.
pub(super) struct Elimination {
    rows: Vec<Vec<(u32, f64)>>,
    columns: Vec<Vec<u32>>,
    /// Places left.
    left: Vec<u32>,
    open: Vec<bool>,
    /// Places, and rows, that have a single number left.
    single_columns: Vec<u32>,
    single_rows: Vec<u32>,
    pub(super) steps: Steps,
    /// The triangle, by place.
    pub(super) upper: Vec<Vec<(u32, f64)>>,
    pub(super) diagonal: Vec<f64>,
    pub(super) row: Vec<u32>,
    pub(super) order: Vec<u32>,
    /// Where a row has which place, plus one.
    mark: Vec<u32>,
}

impl Elimination {
    pub(super) fn new(matrix: &Matrix) -> Elimination {
        let size = matrix.size();
        let mut rows = vec![Vec::new(); size];
        let mut columns = vec![Vec::new(); size];
        for (place, rows_of) in columns.iter_mut().enumerate() {
            for &(r, v) in matrix.column(place) {
                rows[r as usize].push((place as u32, v));
                rows_of.push(r);
            }
        }
        let single = |lengths: &mut dyn Iterator<Item = usize>| -> Vec<u32> {
            lengths
                .enumerate()
                .filter(|&(_, length)| length == 1)
                .map(|(at, _)| at as u32)
                .collect()
        };
        Elimination {
            single_columns: single(&mut columns.iter().map(Vec::len)),
            single_rows: single(&mut rows.iter().map(Vec::len)),
            rows,
            columns,
            left: (0..size as u32).collect(),
            open: vec![true; size],
            steps: Steps::default(),
            upper: vec![Vec::new(); size],
            diagonal: vec![0.0; size],
            row: vec![0; size],
            order: Vec::with_capacity(size),
            mark: vec![0; size],
        }
    }

    /// Takes one pivot after another; none if the matrix is singular as far as numbers
    /// tell.
    pub(super) fn run(mut self) -> Option<Elimination> {
        let size = self.row.len();
        while self.order.len() < size {
            let (place, row) = self.next()?;
            self.take(place, row)?;
        }
        Some(self)
    }

    /// The next pivot: whatever stands alone, else one that brings few new numbers.
    fn next(&mut self) -> Option<(usize, usize)> {
        while let Some(place) = self.single_columns.pop() {
            let place = place as usize;
            if self.open[place] && self.columns[place].len() == 1 {
                return Some((place, self.columns[place][0] as usize));
            }
        }
        while let Some(row) = self.single_rows.pop() {
            let row = row as usize;
            if let [(place, v)] = self.rows[row][..]
                && v.abs() >= STRONG * self.strongest(place as usize)
            {
                return Some((place as usize, row));
            }
        }
        let open = &self.open;
        self.left.retain(|&p| open[p as usize]);
        let least = self.left.iter().map(|&p| self.columns[p as usize].len());
        let least = least.min()?;
        let short = self.left.iter().map(|&p| p as usize);
        let short = short.filter(|&p| self.columns[p].len() == least).take(4);
        let mut best: Option<(usize, usize, usize)> = None;
        for place in short {
            let strong = STRONG * self.strongest(place);
            for &row in &self.columns[place] {
                let row = row as usize;
                let many = self.rows[row].len();
                if best.is_none_or(|b| many < b.0) && self.at(row, place).abs() >= strong {
                    best = Some((many, place, row));
                }
            }
        }
        best.map(|(_, place, row)| (place, row))
    }

    fn at(&self, row: usize, place: usize) -> f64 {
        let found = self.rows[row].iter().find(|e| e.0 as usize == place);
        found.map_or(0.0, |e| e.1)
    }

    fn strongest(&self, place: usize) -> f64 {
        let column = self.columns[place].iter();
        column
            .map(|&r| self.at(r as usize, place).abs())
            .fold(0.0, f64::max)
    }

    /// Takes a pivot's row and column out; none if it is too weak.
    fn take(&mut self, place: usize, row: usize) -> Option<()> {
        let line = std::mem::take(&mut self.rows[row]);
        let pivot = line.iter().find(|e| e.0 as usize == place)?.1;
        if pivot.abs() < PIVOT {
            return None;
        }
        self.open[place] = false;
        self.order.push(place as u32);
        self.row[place] = row as u32;
        self.diagonal[place] = pivot;
        for &(other, v) in line.iter().filter(|e| e.0 as usize != place) {
            self.upper[other as usize].push((row as u32, v));
            self.leave(other as usize, row);
        }
        let others = std::mem::take(&mut self.columns[place]);
        for &other in others.iter().filter(|&&r| r as usize != row) {
            let other = other as usize;
            let target = &mut self.rows[other];
            let own = target.iter().position(|e| e.0 as usize == place)?;
            let factor = target.swap_remove(own).1 / pivot;
            self.steps.push(other, factor);
            if line.len() > 1 {
                self.subtract(other, &line, place, factor);
            }
            if self.rows[other].len() == 1 {
                self.single_rows.push(other as u32);
            }
        }
        if others.len() > 1 {
            self.steps.close(row);
        }
        Some(())
    }

    /// A column no longer has anything in a row.
    fn leave(&mut self, place: usize, row: usize) {
        let rows = &mut self.columns[place];
        if let Some(at) = rows.iter().position(|&r| r as usize == row) {
            rows.swap_remove(at);
        }
        if rows.len() == 1 {
            self.single_columns.push(place as u32);
        }
    }

    /// Takes a multiple of a line, but for one place, from a row.
    fn subtract(&mut self, row: usize, line: &[(u32, f64)], but: usize, factor: f64) {
        let mut target = std::mem::take(&mut self.rows[row]);
        for (k, e) in target.iter().enumerate() {
            self.mark[e.0 as usize] = k as u32 + 1;
        }
        let before = target.len();
        for &(place, v) in line.iter().filter(|e| e.0 as usize != but) {
            match self.mark[place as usize] {
                0 => {
                    target.push((place, -factor * v));
                    self.columns[place as usize].push(row as u32);
                }
                k => target[k as usize - 1].1 -= factor * v,
            }
        }
        for e in &target[..before] {
            self.mark[e.0 as usize] = 0;
        }
        let mut k = 0;
        while k < target.len() {
            if target[k].1.abs() < TINY {
                let (place, _) = target.swap_remove(k);
                self.leave(place as usize, row);
            } else {
                k += 1;
            }
        }
        self.rows[row] = target;
    }
}
