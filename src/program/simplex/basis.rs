//! The inverse of the basis: one exchange of variables, building it afresh, and
//! leaving rows out. Which variable comes and which goes is decided elsewhere.

use super::{Simplex, Variable, jitter};

impl Simplex {
    /// The column of the tableau of a variable.
    pub(super) fn tableau_column(&self, variable: Variable) -> Vec<f64> {
        match variable {
            Variable::Slack(i) => self.inverse.iter().map(|line| -line[i as usize]).collect(),
            Variable::Column(j) => {
                let mut entries: Vec<(usize, f64)> = self
                    .columns
                    .entries(j as usize)
                    .map(|(r, v)| (r, f64::from(v)))
                    .collect();
                for (i, row) in self.extra.iter().enumerate() {
                    if let Ok(at) = row.entries.binary_search_by_key(&j, |e| e.0) {
                        entries.push((self.base_rows + i, f64::from(row.entries[at].1)));
                    }
                }
                self.inverse
                    .iter()
                    .map(|line| entries.iter().map(|&(r, v)| line[r] * v).sum())
                    .collect()
            }
        }
    }

    pub(super) fn pivot(&mut self, at: usize, entering: Variable, tableau: &[f64], reduced: f64) {
        let step = self.basic[at] / tableau[at];
        let mut line = std::mem::take(&mut self.inverse[at]);
        let pivot = 1.0 / tableau[at];
        for v in &mut line {
            *v *= pivot;
        }
        for (i, row) in self.inverse.iter_mut().enumerate() {
            let factor = tableau[i];
            if i != at && factor != 0.0 {
                for (r, l) in row.iter_mut().zip(&line) {
                    *r -= factor * l;
                }
                self.basic[i] -= factor * step;
            }
        }
        for (p, l) in self.price.iter_mut().zip(&line) {
            *p += reduced * l;
        }
        self.inverse[at] = line;
        self.basic[at] = step;
        match self.basis[at] {
            Variable::Column(j) => self.column_at[j as usize] = -1,
            Variable::Slack(i) => self.slack_at[i as usize] = -1,
        }
        match entering {
            Variable::Column(j) => self.column_at[j as usize] = at as i32,
            Variable::Slack(i) => self.slack_at[i as usize] = at as i32,
        }
        self.basis[at] = entering;
        self.pivots += 1;
        self.since_refactor += 1;
    }

    /// Builds the inverse afresh from the basis; false if it has become singular.
    pub(super) fn refactor(&mut self) -> bool {
        let m = self.rows;
        let mut matrix = vec![vec![0.0; 2 * m]; m];
        for (at, variable) in self.basis.iter().enumerate() {
            match *variable {
                Variable::Slack(i) => matrix[i as usize][at] = -1.0,
                Variable::Column(j) => {
                    for (r, v) in self.columns.entries(j as usize) {
                        matrix[r][at] = f64::from(v);
                    }
                    for (i, row) in self.extra.iter().enumerate() {
                        if let Ok(e) = row.entries.binary_search_by_key(&j, |e| e.0) {
                            matrix[self.base_rows + i][at] = f64::from(row.entries[e].1);
                        }
                    }
                }
            }
        }
        for (i, line) in matrix.iter_mut().enumerate() {
            line[m + i] = 1.0;
        }
        for c in 0..m {
            let best = (c..m)
                .max_by(|&a, &b| matrix[a][c].abs().total_cmp(&matrix[b][c].abs()))
                .expect("a row is left");
            if matrix[best][c].abs() < 1e-11 {
                return false;
            }
            matrix.swap(c, best);
            let pivot = 1.0 / matrix[c][c];
            for v in &mut matrix[c][c..] {
                *v *= pivot;
            }
            let line = std::mem::take(&mut matrix[c]);
            for (r, row) in matrix.iter_mut().enumerate() {
                if r != c && row[c] != 0.0 {
                    let factor = row[c];
                    for (v, l) in row[c..].iter_mut().zip(&line[c..]) {
                        *v -= factor * l;
                    }
                }
            }
            matrix[c] = line;
        }
        for (line, row) in self.inverse.iter_mut().zip(&matrix) {
            line.clear();
            line.extend_from_slice(&row[m..]);
        }
        for at in 0..m {
            self.basic[at] = self.inverse[at]
                .iter()
                .zip(&self.rhs)
                .map(|(a, b)| a * b)
                .sum();
        }
        self.reprice();
        self.since_refactor = 0;
        true
    }

    /// Goes back to the slack basis, with right sides as they were given.
    pub(crate) fn start_afresh(&mut self) {
        debug_assert!(self.extra.is_empty(), "columns are added before rows");
        for (i, row) in self.inverse.iter_mut().enumerate() {
            row.fill(0.0);
            row[i] = -1.0;
        }
        self.basis = (0..self.rows as u32).map(Variable::Slack).collect();
        self.column_at.fill(-1);
        self.slack_at = (0..self.rows as i32).collect();
        self.since_refactor = 0;
        let at_least = self.at_least.clone();
        self.set_right_sides(&at_least);
        self.reprice();
    }

    /// Moves right sides a little so that no basic variable is at zero, each by
    /// another amount: steps then have a length.
    pub(super) fn loosen(&mut self, turn: u64) {
        const APART: f64 = 1e-6;
        for (i, basic) in self.basic.iter_mut().enumerate() {
            let apart = APART * (0.5 + jitter(turn.wrapping_mul(1_000_003) + i as u64));
            if *basic < apart {
                *basic = apart;
            }
        }
        self.rhs.iter_mut().for_each(|b| *b = 0.0);
        for (&variable, &x) in self.basis.iter().zip(&self.basic) {
            match variable {
                Variable::Slack(i) => self.rhs[i as usize] -= x,
                Variable::Column(j) => {
                    for (r, v) in self.columns.entries(j as usize) {
                        self.rhs[r] += x * f64::from(v);
                    }
                    for (i, row) in self.extra.iter().enumerate() {
                        if let Ok(e) = row.entries.binary_search_by_key(&j, |e| e.0) {
                            self.rhs[self.base_rows + i] += x * f64::from(row.entries[e].1);
                        }
                    }
                }
            }
        }
    }

    /// The rows' prices from the costs of the basis.
    pub(super) fn reprice(&mut self) {
        self.price.iter_mut().for_each(|p| *p = 0.0);
        for (at, variable) in self.basis.iter().enumerate() {
            if let Variable::Column(j) = *variable {
                let c = self.cost[j as usize];
                if c != 0.0 {
                    for (p, l) in self.price.iter_mut().zip(&self.inverse[at]) {
                        *p += c * l;
                    }
                }
            }
        }
    }

    /// Drops the added rows from place `from` on (counted among the added) that
    /// hold with room to spare.
    pub(crate) fn drop_slack_rows(&mut self, from: usize) {
        for i in (from..self.extra.len()).rev() {
            let row = self.base_rows + i;
            let at = self.slack_at[row];
            if at < 0 || self.basic[at as usize] < 1e-6 {
                continue;
            }
            let at = at as usize;
            self.inverse.remove(at);
            for line in &mut self.inverse {
                line.remove(row);
            }
            self.basic.remove(at);
            self.basis.remove(at);
            self.price.remove(row);
            self.rhs.remove(row);
            self.slack_at.remove(row);
            self.extra.remove(i);
            self.rows -= 1;
            for variable in &mut self.basis {
                if let Variable::Slack(s) = variable
                    && *s as usize > row
                {
                    *s -= 1;
                }
            }
            for place in self.slack_at.iter_mut().chain(&mut self.column_at) {
                if *place > at as i32 {
                    *place -= 1;
                }
            }
        }
    }
}
