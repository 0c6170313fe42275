//! The basis: its factors, one exchange of variables, and leaving rows out. Which
//! variable comes and which goes is decided elsewhere.

use super::eliminate::Matrix;
use super::factors::Factors;
use super::{ROUGH, Simplex, Variable, jitter};

/// The column of the tableau of a variable, and what its exchange asks for.
pub(super) struct Entering {
    pub(super) variable: Variable,
    /// What a unit of it takes from each basic variable.
    pub(super) tableau: Vec<f64>,
    spike: Vec<f64>,
}

impl Simplex {
    /// The column of the tableau of a variable.
    pub(super) fn enter(&mut self, variable: Variable) -> Entering {
        let mut spike = vec![0.0; self.rows];
        match variable {
            Variable::Slack(i) => spike[i as usize] = -1.0,
            Variable::Column(j) => {
                for (r, v) in self.columns.entries(j as usize) {
                    spike[r] += f64::from(v);
                }
                for (i, row) in self.extra.iter().enumerate() {
                    spike[self.base_rows + i] = row.coefficient(j);
                }
            }
        }
        self.count_reading();
        self.factors.spike(&mut spike);
        let tableau = self.factors.unspike(&mut spike.clone());
        Entering {
            variable,
            tableau,
            spike,
        }
    }

    /// One row of the inverse of the basis.
    pub(super) fn line(&mut self, at: usize) -> Vec<f64> {
        self.count_reading();
        self.factors.inverse_row(at)
    }

    /// Exchanges a variable for the basic one at a place, whose row of the inverse
    /// `line` is. Where numbers become too rough, factors are made afresh before the
    /// next step.
    pub(super) fn pivot(&mut self, at: usize, entering: &Entering, line: &[f64], reduced: f64) {
        let share = entering.tableau[at];
        let step = self.basic[at] / share;
        for (basic, factor) in self.basic.iter_mut().zip(&entering.tableau) {
            *basic -= factor * step;
        }
        self.basic[at] = step;
        for (p, l) in self.price.iter_mut().zip(line) {
            *p += reduced / share * l;
        }
        match self.basis[at] {
            Variable::Column(j) => self.column_at[j as usize] = -1,
            Variable::Slack(i) => self.slack_at[i as usize] = -1,
        }
        match entering.variable {
            Variable::Column(j) => self.column_at[j as usize] = at as i32,
            Variable::Slack(i) => self.slack_at[i as usize] = at as i32,
        }
        self.basis[at] = entering.variable;
        self.pivots += 1;
        self.since_refactor += 1;
        self.count_reading();
        if !self.factors.exchange(at, &entering.spike, share) {
            self.since_refactor = ROUGH;
        }
    }

    /// Factors of the basis made afresh; false if it has become singular.
    pub(super) fn refactor(&mut self) -> bool {
        let mut added: Vec<Vec<(usize, f64)>> = vec![Vec::new(); self.rows];
        for (i, row) in self.extra.iter().enumerate() {
            for &(j, v) in row.entries.iter() {
                if let Ok(at) = usize::try_from(self.column_at[j as usize]) {
                    added[at].push((self.base_rows + i, f64::from(v) * row.part));
                }
            }
        }
        let mut matrix = Matrix::default();
        for (variable, added) in self.basis.iter().zip(added) {
            match *variable {
                Variable::Slack(i) => matrix.push([(i as usize, -1.0)]),
                Variable::Column(j) => {
                    let own = self.columns.entries(j as usize);
                    matrix.push(own.map(|(r, v)| (r, f64::from(v))).chain(added));
                }
            }
        }
        let Some(factors) = Factors::of(&matrix) else {
            self.since_refactor = ROUGH;
            return false;
        };
        self.factors = factors;
        self.touched += 10 * self.factors.weight() as u64;
        self.basic = self.factors.solve(self.rhs.clone());
        self.reprice();
        self.since_refactor = 0;
        true
    }

    /// Goes back to the slack basis, with right sides as they were given.
    pub(crate) fn start_afresh(&mut self) {
        let at_least = self.at_least.clone();
        self.right_sides(&at_least);
        self.start_from_slacks();
    }

    /// Goes back to the slack basis of all rows.
    pub(crate) fn start_from_slacks(&mut self) {
        self.factors = Factors::negative_unit(self.rows);
        self.lengths = vec![1.0; self.rows];
        self.basis = (0..self.rows as u32).map(Variable::Slack).collect();
        self.column_at.fill(-1);
        self.slack_at = (0..self.rows as i32).collect();
        self.since_refactor = 0;
        self.basic = self.factors.solve(self.rhs.clone());
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
                        self.rhs[self.base_rows + i] += x * row.coefficient(j);
                    }
                }
            }
        }
    }

    /// The rows' prices from the costs of the basis.
    pub(super) fn reprice(&mut self) {
        let costs: Vec<f64> = self
            .basis
            .iter()
            .map(|variable| match *variable {
                Variable::Column(j) => self.cost[j as usize],
                Variable::Slack(_) => 0.0,
            })
            .collect();
        self.price = self.factors.solve_rows(&costs);
    }

    /// Drops the added rows from place `from` on (counted among the added) that
    /// have held with room to spare more than so many times in a row.
    pub(crate) fn drop_slack_rows(&mut self, from: usize, times: u32) {
        let before = self.rows;
        for i in (from..self.extra.len()).rev() {
            let row = self.base_rows + i;
            let at = self.slack_at[row];
            if at < 0 || self.basic[at as usize] < 1e-6 {
                self.idle[i] = 0;
                continue;
            }
            self.idle[i] += 1;
            if self.idle[i] <= times {
                continue;
            }
            let at = at as usize;
            self.idle.remove(i);
            self.lengths.remove(at);
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
        if self.rows < before {
            self.refactor();
        }
    }
}
