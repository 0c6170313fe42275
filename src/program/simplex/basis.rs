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
        let held: Vec<u32> = (0..line.len() as u32)
            .filter(|&r| line[r as usize] != 0.0)
            .collect();
        let few = 6 * held.len() < line.len();
        for (i, row) in self.inverse.iter_mut().enumerate() {
            let factor = tableau[i];
            if i == at || factor == 0.0 {
                continue;
            }
            self.touched += if few { held.len() } else { line.len() } as u64;
            if few {
                for &r in &held {
                    row[r as usize] -= factor * line[r as usize];
                }
            } else {
                for (r, l) in row.iter_mut().zip(&line) {
                    *r -= factor * l;
                }
            }
            self.basic[i] -= factor * step;
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
        // Variables of few rows first, each in the shortest line that is not too
        // weak: so lines stay short, and only what is in them is worked on.
        let mut weight = vec![0u32; m];
        let mut length = vec![0u32; m];
        for (r, line) in matrix.iter().enumerate() {
            for (c, _) in line[..m].iter().enumerate().filter(|(_, v)| **v != 0.0) {
                weight[c] += 1;
                length[r] += 1;
            }
        }
        let mut order: Vec<usize> = (0..m).collect();
        order.sort_by_key(|&c| weight[c]);
        let mut free = vec![true; m];
        let mut line_of = vec![0usize; m];
        let mut held: Vec<u32> = Vec::with_capacity(2 * m);
        // Laying the matrix out, and looking down each column twice.
        let mut touched = 4 * m * m;
        for &c in &order {
            let open = |r: &usize| free[*r];
            let strongest = (0..m).filter(open).map(|r| matrix[r][c].abs());
            let strongest = strongest.fold(0.0, f64::max);
            if strongest < 1e-11 {
                return false;
            }
            let strong = |r: &usize| matrix[*r][c].abs() >= 0.1 * strongest;
            let best = (0..m)
                .filter(|r| free[*r] && strong(r))
                .min_by_key(|&r| length[r])
                .expect("a line is left");
            free[best] = false;
            line_of[c] = best;
            let mut line = std::mem::take(&mut matrix[best]);
            let pivot = 1.0 / line[c];
            held.clear();
            for (at, v) in line.iter_mut().enumerate() {
                if *v != 0.0 {
                    *v *= pivot;
                    held.push(at as u32);
                }
            }
            for (r, row) in matrix.iter_mut().enumerate() {
                if r == best || row[c] == 0.0 {
                    continue;
                }
                let factor = row[c];
                touched += held.len();
                for &at in &held {
                    let entry = &mut row[at as usize];
                    length[r] += u32::from(*entry == 0.0);
                    *entry -= factor * line[at as usize];
                }
                // Exactly, so that it is not worked on again.
                row[c] = 0.0;
                length[r] -= 1;
            }
            matrix[best] = line;
        }
        for (line, &from) in self.inverse.iter_mut().zip(&line_of) {
            line.clear();
            line.extend_from_slice(&matrix[from][m..]);
        }
        for at in 0..m {
            self.basic[at] = self.inverse[at]
                .iter()
                .zip(&self.rhs)
                .map(|(a, b)| a * b)
                .sum();
        }
        self.touched += touched as u64;
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
