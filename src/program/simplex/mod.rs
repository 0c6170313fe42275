//! The simplex method on a dense inverse: primal when columns are added, dual
//! when rows are. It knows one linear program and its basis; which columns to
//! add and what to round is left to its callers.

mod basis;

use std::sync::Arc;

pub use super::Ended;
use super::{Columns, ExtraRow, jitter};

/// A basic or nonbasic variable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Variable {
    Column(u32),
    Slack(u32),
}

const FEASIBLE: f64 = 1e-9;
const PIVOT: f64 = 1e-9;
const REFACTOR_AFTER: u32 = 80;

/// A linear program `min c x, A x >= b, x >= 0` and the basis it stands on.
#[derive(Debug, Clone)]
pub struct Simplex {
    columns: Arc<Columns>,
    /// Costs as the method sees them: scaled, and shifted a little against ties.
    cost: Vec<f64>,
    scale: f64,
    rows: usize,
    base_rows: usize,
    rhs: Vec<f64>,
    at_least: Arc<Vec<i64>>,
    extra: Vec<ExtraRow>,
    basis: Vec<Variable>,
    column_at: Vec<i32>,
    slack_at: Vec<i32>,
    inverse: Vec<Vec<f64>>,
    basic: Vec<f64>,
    price: Vec<f64>,
    /// Columns that may enter; the others are out for good in this subtree.
    active: Vec<u32>,
    since_refactor: u32,
    /// The most by which right sides are loosened.
    shift: f64,
    /// Non-negative weights of the rows that show they cannot all be met.
    ray: Vec<f64>,
    /// Pivots made so far, the measure of work.
    pub pivots: u64,
    /// Entries of the inverse that they changed.
    pub touched: u64,
}

impl Simplex {
    /// A program over the columns at hand, standing on its slack basis. `scale`
    /// is a typical cost, by which all costs are divided; `shift` is the most by
    /// which a row's right side is loosened against ties (0 for none).
    pub fn new(columns: Arc<Columns>, rhs: &[i64], scale: f64, shift: f64) -> Simplex {
        let rows = rhs.len();
        let at_least = Arc::new(rhs.to_vec());
        let mut inverse = vec![vec![0.0; rows]; rows];
        for (i, row) in inverse.iter_mut().enumerate() {
            row[i] = -1.0;
        }
        let rhs: Vec<f64> = rhs
            .iter()
            .enumerate()
            .map(|(i, &b)| b as f64 - shift * (0.5 + 0.5 * jitter(i as u64)))
            .collect();
        let count = columns.len();
        let cost = (0..count).map(|j| columns.cost(j) as f64 / scale).collect();
        Simplex {
            cost,
            scale,
            rows,
            base_rows: rows,
            basic: rhs.iter().map(|b| -b).collect(),
            rhs,
            at_least,
            extra: Vec::new(),
            basis: (0..rows as u32).map(Variable::Slack).collect(),
            column_at: vec![-1; count],
            slack_at: (0..rows as i32).collect(),
            inverse,
            price: vec![0.0; rows],
            active: (0..count as u32).collect(),
            columns,
            since_refactor: 0,
            shift,
            ray: Vec::new(),
            pivots: 0,
            touched: 0,
        }
    }

    /// Lowers every cost by at most so much of itself, each by another part, so
    /// that fewer are alike; to be called before the first pivot. Prices then hold
    /// for the costs as given.
    pub(crate) fn lower_costs(&mut self, part: f64) {
        for (j, cost) in self.cost.iter_mut().enumerate() {
            *cost *= 1.0 - part * jitter(j as u64);
        }
    }

    /// Adds a column that may enter from now on; returns its place.
    pub fn add_column(&mut self, cost: i64, entries: &[(u32, i32)]) -> usize {
        debug_assert!(self.extra.is_empty(), "columns are added before rows");
        let place = Arc::make_mut(&mut self.columns).push(cost, entries.iter().copied());
        self.cost.push(cost as f64 / self.scale);
        self.column_at.push(-1);
        self.active.push(place as u32);
        place
    }

    /// Asks for other right sides of the first rows; the basis stays dual feasible.
    pub(crate) fn set_right_sides(&mut self, at_least: &[i64]) {
        debug_assert!(self.extra.is_empty(), "right sides change before rows come");
        for (i, (rhs, &b)) in self.rhs.iter_mut().zip(at_least).enumerate() {
            *rhs = b as f64 - self.shift * (0.5 + 0.5 * jitter(i as u64));
        }
        self.at_least = Arc::new(at_least.to_vec());
        for (basic, line) in self.basic.iter_mut().zip(&self.inverse) {
            *basic = line.iter().zip(&self.rhs).map(|(a, b)| a * b).sum();
        }
    }

    /// Adds a row; the basis stays dual feasible.
    pub fn add_row(&mut self, row: ExtraRow) {
        let mut new = vec![0.0; self.rows + 1];
        let mut value = -(row.at_least as f64);
        for &(column, coefficient) in row.entries.iter() {
            let at = self.column_at[column as usize];
            if at >= 0 {
                let c = f64::from(coefficient);
                value += c * self.basic[at as usize];
                for (n, b) in new.iter_mut().zip(&self.inverse[at as usize]) {
                    *n += c * b;
                }
            }
        }
        new[self.rows] = -1.0;
        for line in &mut self.inverse {
            line.push(0.0);
        }
        self.inverse.push(new);
        self.basic.push(value);
        self.price.push(0.0);
        self.rhs.push(row.at_least as f64);
        self.basis.push(Variable::Slack(self.rows as u32));
        self.slack_at.push(self.rows as i32);
        self.extra.push(row);
        self.rows += 1;
    }

    /// The columns of the program.
    pub fn columns(&self) -> &Columns {
        &self.columns
    }

    /// The rows added since the start.
    pub fn extra_rows(&self) -> &[ExtraRow] {
        &self.extra
    }

    /// How many rows there were at the start.
    pub fn base_rows(&self) -> usize {
        self.base_rows
    }

    /// The objective at the present basis, in the columns' own cost.
    pub fn objective(&self) -> f64 {
        let sum: f64 = self
            .basis
            .iter()
            .zip(&self.basic)
            .map(|(v, x)| match v {
                Variable::Column(j) => self.cost[*j as usize] * x,
                Variable::Slack(_) => 0.0,
            })
            .sum();
        sum * self.scale
    }

    /// The rows' prices at the present basis, in the columns' own cost, none
    /// below zero.
    pub fn prices(&self) -> Vec<f64> {
        self.price.iter().map(|p| p.max(0.0) * self.scale).collect()
    }

    /// Prices that climb past `target` (in the columns' own cost) where the rows
    /// were found impossible to meet together: any bound may be reached so.
    pub(crate) fn climbing_prices(&self, target: f64) -> Vec<f64> {
        let mut prices = self.prices();
        if self.ray.len() == prices.len() {
            let gain: f64 = self.ray.iter().zip(&self.rhs).map(|(u, b)| u * b).sum();
            let value: f64 = prices.iter().zip(&self.rhs).map(|(p, b)| p * b).sum();
            if gain > 0.0 {
                let far = 2.0 * (target - value).max(self.scale) / gain;
                prices
                    .iter_mut()
                    .zip(&self.ray)
                    .for_each(|(p, u)| *p += far * u);
            }
        }
        prices
    }

    /// The columns in use and how much of each, in the order of their places.
    pub fn values(&self) -> Vec<(usize, f64)> {
        let mut used: Vec<(usize, f64)> = self
            .basis
            .iter()
            .zip(&self.basic)
            .filter_map(|(v, &x)| match v {
                Variable::Column(j) if x > 1e-9 => Some((*j as usize, x)),
                _ => None,
            })
            .collect();
        used.sort_unstable_by_key(|&(j, _)| j);
        used
    }

    /// How much of one column is in use.
    pub fn value(&self, column: usize) -> f64 {
        match self.column_at[column] {
            -1 => 0.0,
            at => self.basic[at as usize],
        }
    }

    /// The columns that may still enter.
    pub fn active(&self) -> &[u32] {
        &self.active
    }

    /// Sets columns aside until few enough are left that may enter, those first
    /// whose reduced cost is highest; some are kept in any case.
    pub(crate) fn thin(&mut self, most: usize, keep: impl Fn(usize) -> bool) {
        if self.active.len() <= most {
            return;
        }
        let reduced = self.reduced_costs();
        let column_at = &self.column_at;
        let rank = |j: u32| match column_at[j as usize] {
            -1 if !keep(j as usize) => reduced[j as usize],
            _ => f64::NEG_INFINITY,
        };
        self.active
            .sort_by(|&a, &b| rank(a).total_cmp(&rank(b)).then(a.cmp(&b)));
        let basic = self.active.iter().filter(|&&j| rank(j) < -1e300).count();
        self.active.truncate(most.max(basic));
        self.active.sort_unstable();
    }

    /// Lets those columns set aside enter again, at most `most`, whose reduced
    /// cost is lowest and below zero; false if there is none.
    pub(crate) fn recall_priced(&mut self, most: usize) -> bool {
        if self.active.len() == self.columns.len() {
            return false;
        }
        let mut aside = Vec::new();
        let mut active = self.active.iter().peekable();
        for j in 0..self.columns.len() as u32 {
            if active.next_if(|a| **a == j).is_some() {
                continue;
            }
            let mut reduced = self.cost[j as usize];
            for (row, value) in self.columns.entries(j as usize) {
                reduced -= self.price[row] * f64::from(value);
            }
            if reduced < -1e-9 {
                aside.push((reduced, j));
            }
        }
        aside.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        aside.truncate(most);
        self.active.extend(aside.iter().map(|&(_, j)| j));
        self.active.sort_unstable();
        !aside.is_empty()
    }

    /// Lets a column that was set aside enter again; false if it may already.
    pub(crate) fn recall(&mut self, column: usize) -> bool {
        match self.active.binary_search(&(column as u32)) {
            Ok(_) => false,
            Err(at) => {
                self.active.insert(at, column as u32);
                true
            }
        }
    }

    /// Keeps only the columns for which `keep` holds, and those in the basis.
    pub fn retain(&mut self, mut keep: impl FnMut(usize) -> bool) {
        let column_at = &self.column_at;
        self.active
            .retain(|&j| column_at[j as usize] >= 0 || keep(j as usize));
    }

    /// The rows of the inverse whose basic column is farthest from whole, each
    /// with that column's value: what cuts are made from.
    pub(crate) fn fractional_rows(&self) -> Vec<(f64, &[f64])> {
        let mut found: Vec<(f64, usize)> = self
            .basis
            .iter()
            .enumerate()
            .filter(|(_, v)| matches!(v, Variable::Column(_)))
            .map(|(i, _)| ((self.basic[i] - self.basic[i].round()).abs(), i))
            .filter(|(f, _)| *f > 1e-3)
            .collect();
        found.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        found
            .into_iter()
            .map(|(_, i)| (self.basic[i], self.inverse[i].as_slice()))
            .collect()
    }

    /// Every active column's product with the rows' weights, written to `out`
    /// (by column place).
    fn products(&self, weights: &[f64], out: &mut Vec<f64>) {
        out.clear();
        out.resize(self.columns.len(), 0.0);
        for &j in &self.active {
            let mut sum = 0.0;
            for (row, value) in self.columns.entries(j as usize) {
                sum += weights[row] * f64::from(value);
            }
            out[j as usize] = sum;
        }
        for (i, row) in self.extra.iter().enumerate() {
            let w = weights[self.base_rows + i];
            if w != 0.0 {
                for &(j, value) in row.entries.iter() {
                    out[j as usize] += w * f64::from(value);
                }
            }
        }
    }

    /// Runs the primal method from a primal feasible basis.
    pub fn primal(&mut self, most_pivots: u64, stop: &dyn Fn() -> bool) -> Ended {
        let mut products = Vec::new();
        let mut reduced = self.reduced_costs();
        // Devex weights, of columns and of slacks: how steep their edges are.
        let mut steep = vec![1.0f64; self.columns.len() + self.rows];
        let slacks = self.columns.len();
        let mut exact = true;
        let mut stalled = 0u32;
        for round in 0..most_pivots {
            if round % 64 == 63 && stop() {
                return Ended::Stopped;
            }
            if self.since_refactor >= REFACTOR_AFTER {
                if !self.refactor() {
                    return Ended::Stopped;
                }
                reduced = self.reduced_costs();
            }
            let mut entering = None;
            let mut best = 0.0;
            for &j in &self.active {
                let d = reduced[j as usize];
                if d < -1e-10 && self.column_at[j as usize] < 0 {
                    let gain = d * d / steep[j as usize];
                    if gain > best {
                        best = gain;
                        entering = Some((Variable::Column(j), d));
                    }
                }
            }
            for i in 0..self.rows {
                let d = self.price[i];
                if d < -1e-10 && self.slack_at[i] < 0 {
                    let gain = d * d / steep[slacks + i];
                    if gain > best {
                        best = gain;
                        entering = Some((Variable::Slack(i as u32), d));
                    }
                }
            }
            let Some((entering, cost)) = entering else {
                if exact {
                    return Ended::Optimal;
                }
                // Updated reduced costs have drifted a little.
                reduced = self.reduced_costs();
                exact = true;
                continue;
            };
            exact = false;
            let tableau = self.tableau_column(entering);
            let mut leaving: Option<(usize, f64)> = None;
            for (i, &t) in tableau.iter().enumerate() {
                if t > PIVOT {
                    let ratio = self.basic[i].max(0.0) / t;
                    let better = match leaving {
                        None => true,
                        Some((at, best)) => {
                            ratio < best - 1e-12 || (ratio < best + 1e-12 && t > tableau[at])
                        }
                    };
                    if better {
                        leaving = Some((i, ratio));
                    }
                }
            }
            let Some((at, ratio)) = leaving else {
                return Ended::Stopped;
            };
            stalled = if ratio * cost.abs() < 1e-12 {
                stalled + 1
            } else {
                0
            };
            if stalled > 60 {
                self.loosen(round);
                stalled = 0;
                continue;
            }
            let line = std::mem::take(&mut self.inverse[at]);
            self.products(&line, &mut products);
            let pivot = tableau[at];
            let place = |v: Variable| match v {
                Variable::Column(j) => j as usize,
                Variable::Slack(i) => slacks + i as usize,
            };
            let own = steep[place(entering)];
            for &j in &self.active {
                let part = products[j as usize] / pivot;
                if part != 0.0 {
                    reduced[j as usize] -= cost * part;
                    let weight = &mut steep[j as usize];
                    *weight = weight.max(part * part * own);
                }
            }
            for (weight, value) in steep[slacks..].iter_mut().zip(&line) {
                let part = value / pivot;
                *weight = weight.max(part * part * own);
            }
            steep[place(self.basis[at])] = (own / (pivot * pivot)).max(1.0);
            self.inverse[at] = line;
            self.pivot(at, entering, &tableau, cost);
            if let Variable::Column(j) = entering {
                reduced[j as usize] = 0.0;
            }
        }
        Ended::Stopped
    }

    /// Runs the dual method with costs shaken against ties, then the primal method
    /// with the costs as they are.
    pub(crate) fn resolve(&mut self, most_pivots: u64, stop: &dyn Fn() -> bool) -> Ended {
        const SHAKE: f64 = 1e-6;
        let own = self.cost.clone();
        for &j in &self.active {
            if self.column_at[j as usize] < 0 {
                self.cost[j as usize] += SHAKE * (0.5 + jitter(u64::from(j)));
            }
        }
        let ended = self.dual(most_pivots, f64::INFINITY, stop);
        self.cost = own;
        self.reprice();
        match ended {
            Ended::Optimal => self.primal(most_pivots, stop),
            other => other,
        }
    }

    /// Runs the dual method from a dual feasible basis; stops early once the
    /// objective passes `cutoff` (in the columns' own cost).
    pub fn dual(&mut self, most_pivots: u64, cutoff: f64, stop: &dyn Fn() -> bool) -> Ended {
        let mut products = Vec::new();
        let mut reduced = self.reduced_costs();
        let mut candidates: Vec<(Variable, f64, f64)> = Vec::new();
        for round in 0..most_pivots {
            if round % 64 == 63 && stop() {
                return Ended::Stopped;
            }
            if self.since_refactor >= REFACTOR_AFTER {
                if !self.refactor() {
                    return Ended::Stopped;
                }
                reduced = self.reduced_costs();
            }
            // The row that is violated most for the length of its line (steepest edge).
            let leaving = (0..self.rows)
                .filter(|&i| self.basic[i] < -FEASIBLE)
                .map(|i| {
                    let square: f64 = self.inverse[i].iter().map(|v| v * v).sum();
                    (i, self.basic[i] * self.basic[i] / square.max(1e-12))
                })
                .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
            let Some((at, _)) = leaving else {
                return Ended::Optimal;
            };
            let weights = std::mem::take(&mut self.inverse[at]);
            self.products(&weights, &mut products);
            candidates.clear();
            for &j in &self.active {
                let alpha = products[j as usize];
                if alpha < -PIVOT && self.column_at[j as usize] < 0 {
                    candidates.push((Variable::Column(j), alpha, reduced[j as usize]));
                }
            }
            for (i, &w) in weights.iter().enumerate() {
                if w > PIVOT && self.slack_at[i] < 0 {
                    candidates.push((Variable::Slack(i as u32), -w, self.price[i]));
                }
            }
            // Among the steps that leave prices feasible within a tolerance, the
            // one with the largest pivot (Harris).
            let longest = candidates
                .iter()
                .map(|&(_, alpha, d)| (d.max(0.0) + FEASIBLE) / -alpha)
                .fold(f64::INFINITY, f64::min);
            let entering = candidates
                .iter()
                .filter(|&&(_, alpha, d)| d.max(0.0) <= longest * -alpha)
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .copied();
            self.inverse[at] = weights;
            let Some((entering, alpha, cost)) = entering else {
                if self.since_refactor == 0 {
                    self.ray = self.inverse[at].iter().map(|w| (-w).max(0.0)).collect();
                    return Ended::Infeasible;
                }
                if !self.refactor() {
                    return Ended::Stopped;
                }
                reduced = self.reduced_costs();
                continue;
            };
            let tableau = self.tableau_column(entering);
            if (tableau[at] - alpha).abs() > 1e-6 * (1.0 + alpha.abs()) {
                if self.since_refactor == 0 || !self.refactor() {
                    return Ended::Stopped;
                }
                reduced = self.reduced_costs();
                continue;
            }
            let step = cost / alpha;
            for &j in &self.active {
                reduced[j as usize] -= step * products[j as usize];
            }
            self.pivot(at, entering, &tableau, cost);
            if cutoff.is_finite() && round % 8 == 7 && self.objective() > cutoff {
                return Ended::Stopped;
            }
        }
        Ended::Stopped
    }

    /// The reduced costs of the active columns, by place, in the method's own scale.
    fn reduced_costs(&self) -> Vec<f64> {
        let mut products = Vec::new();
        self.products(&self.price, &mut products);
        for &j in &self.active {
            products[j as usize] = self.cost[j as usize] - products[j as usize];
        }
        products
    }

    /// What the rows' right sides come to at whole prices, and the reduced costs
    /// of the active columns by place, all in the prices' own parts of cost.
    pub(crate) fn value_at(&self, prices: &[i64], parts: i64) -> (i128, Vec<i128>) {
        let times = |a: i64, b: i64| i128::from(a) * i128::from(b);
        let right = self
            .at_least
            .iter()
            .copied()
            .chain(self.extra.iter().map(|r| r.at_least));
        let value = prices.iter().zip(right).map(|(&p, b)| times(p, b)).sum();
        let mut reduced = vec![0i128; self.columns.len()];
        for &j in &self.active {
            let paid: i128 = self
                .columns
                .entries(j as usize)
                .map(|(row, v)| times(prices[row], i64::from(v)))
                .sum();
            reduced[j as usize] = times(self.columns.cost(j as usize), parts) - paid;
        }
        for (row, &price) in self.extra.iter().zip(&prices[self.base_rows..]) {
            if price != 0 {
                for &(j, v) in row.entries.iter() {
                    reduced[j as usize] -= times(price, i64::from(v));
                }
            }
        }
        (value, reduced)
    }

    /// The right side of one of the first rows as it was given.
    pub(crate) fn whole_right_side(&self, row: usize) -> i64 {
        self.at_least[row]
    }
}
