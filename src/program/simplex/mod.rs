//! The simplex method on sparse factors of the basis: primal when columns are added,
//! dual when rows are. It knows one linear program and its basis; which columns to
//! add and what to round is left to its callers.

mod basis;
mod dual;
mod eliminate;
mod factors;
mod primal;
#[cfg(test)]
mod tests;

use std::sync::Arc;

pub use super::Ended;
use super::{Columns, ExtraRow, jitter};
use factors::Factors;

/// A basic or nonbasic variable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Variable {
    Column(u32),
    Slack(u32),
}

const FEASIBLE: f64 = 1e-9;
const PIVOT: f64 = 1e-9;
/// The dual method divides by nothing smaller.
const WEAK: f64 = 1e-7;
const REFACTOR_AFTER: u32 = 80;
/// Exchanges since factors were made afresh, where they are no longer to be used.
const ROUGH: u32 = u32::MAX;

/// A linear program `min c x, A x >= b, x >= 0` and the basis it stands on.
#[derive(Debug, Clone)]
pub struct Simplex {
    columns: Arc<Columns>,
    /// Costs as the method sees them: scaled, and shifted a little against ties.
    cost: Arc<Vec<f64>>,
    scale: f64,
    rows: usize,
    base_rows: usize,
    rhs: Vec<f64>,
    at_least: Arc<Vec<i64>>,
    extra: Vec<ExtraRow>,
    /// How often in a row each of those was seen with room to spare.
    idle: Vec<u32>,
    basis: Vec<Variable>,
    column_at: Vec<i32>,
    slack_at: Vec<i32>,
    factors: Factors,
    /// The squared lengths of the inverse's rows, where known: no numbers elsewhere.
    lengths: Vec<f64>,
    basic: Vec<f64>,
    price: Vec<f64>,
    /// Columns that may enter; the others are out for good in this subtree.
    active: Vec<u32>,
    since_refactor: u32,
    /// The most by which right sides are loosened.
    shift: f64,
    /// Rows that lack no more than this are met.
    met: f64,
    /// Non-negative weights of the rows that show they cannot all be met.
    ray: Vec<f64>,
    /// Pivots made so far, the measure of work.
    pub pivots: u64,
    /// Numbers of the basis' factors that were read for them.
    pub touched: u64,
}

impl Simplex {
    /// A program over the columns at hand, standing on its slack basis. `scale`
    /// is a typical cost, by which all costs are divided; `shift` is the most by
    /// which a row's right side is loosened against ties (0 for none).
    pub fn new(columns: Arc<Columns>, rhs: &[i64], scale: f64, shift: f64) -> Simplex {
        let rows = rhs.len();
        let at_least = Arc::new(rhs.to_vec());
        let rhs: Vec<f64> = rhs
            .iter()
            .enumerate()
            .map(|(i, &b)| b as f64 - shift * (0.5 + 0.5 * jitter(i as u64)))
            .collect();
        let count = columns.len();
        let cost: Vec<f64> = (0..count).map(|j| columns.cost(j) as f64 / scale).collect();
        Simplex {
            cost: Arc::new(cost),
            scale,
            rows,
            base_rows: rows,
            basic: rhs.iter().map(|b| -b).collect(),
            rhs,
            at_least,
            extra: Vec::new(),
            idle: Vec::new(),
            basis: (0..rows as u32).map(Variable::Slack).collect(),
            column_at: vec![-1; count],
            slack_at: (0..rows as i32).collect(),
            factors: Factors::negative_unit(rows),
            lengths: vec![1.0; rows],
            price: vec![0.0; rows],
            active: (0..count as u32).collect(),
            columns,
            since_refactor: 0,
            shift,
            met: FEASIBLE,
            ray: Vec::new(),
            pivots: 0,
            touched: 0,
        }
    }

    /// Lowers every cost by at most so much of itself, each by another part, so
    /// that fewer are alike; to be called before the first pivot. Prices then hold
    /// for the costs as given.
    pub(crate) fn lower_costs(&mut self, part: f64) {
        for (j, cost) in Arc::make_mut(&mut self.cost).iter_mut().enumerate() {
            *cost *= 1.0 - part * jitter(j as u64);
        }
    }

    /// Goes on with the columns' own costs where they were lowered.
    pub(crate) fn own_costs(&mut self) {
        let cost = (0..self.columns.len()).map(|j| self.columns.cost(j) as f64 / self.scale);
        self.cost = Arc::new(cost.collect());
        self.reprice();
    }

    /// Takes rows that lack no more than so much for met.
    pub(crate) fn meet_within(&mut self, met: f64) {
        self.met = met;
    }

    /// Adds a column that may enter from now on; returns its place.
    pub fn add_column(&mut self, cost: i64, entries: &[(u32, i32)]) -> usize {
        debug_assert!(self.extra.is_empty(), "columns are added before rows");
        let place = Arc::make_mut(&mut self.columns).push(cost, entries.iter().copied());
        Arc::make_mut(&mut self.cost).push(cost as f64 / self.scale);
        self.column_at.push(-1);
        self.active.push(place as u32);
        place
    }

    /// Asks for other right sides of the first rows; the basis stays dual feasible.
    pub(crate) fn set_right_sides(&mut self, at_least: &[i64]) {
        debug_assert!(self.extra.is_empty(), "right sides change before rows come");
        self.right_sides(at_least);
        self.at_least = Arc::new(at_least.to_vec());
        self.basic = self.factors.solve(self.rhs.clone());
    }

    /// The first rows' right sides as the method sees them.
    fn right_sides(&mut self, at_least: &[i64]) {
        for (i, (rhs, &b)) in self.rhs.iter_mut().zip(at_least).enumerate() {
            *rhs = b as f64 - self.shift * (0.5 + 0.5 * jitter(i as u64));
        }
    }

    /// Adds a row; the basis stays dual feasible.
    pub fn add_row(&mut self, row: ExtraRow) {
        let mut basic = vec![0.0; self.rows];
        let right = row.at_least as f64 * row.part;
        let mut value = -right;
        for &(column, coefficient) in row.entries.iter() {
            if let Ok(at) = usize::try_from(self.column_at[column as usize]) {
                basic[at] = f64::from(coefficient) * row.part;
                value += basic[at] * self.basic[at];
            }
        }
        // Rough factors are made afresh before the next step, of all rows.
        if self.since_refactor != ROUGH {
            self.count_reading();
            self.factors.add_row(&basic);
        }
        self.lengths.push(f64::NAN);
        self.basic.push(value);
        self.price.push(0.0);
        self.rhs.push(right);
        self.basis.push(Variable::Slack(self.rows as u32));
        self.slack_at.push(self.rows as i32);
        self.extra.push(row);
        self.idle.push(0);
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

    /// How many rows there are, those added as well.
    pub(crate) fn rows(&self) -> usize {
        self.rows
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
        self.as_given(self.paid())
    }

    /// The prices of the rows as the method sees them, in the columns' own cost.
    fn paid(&self) -> impl Iterator<Item = f64> + '_ {
        self.price.iter().map(|p| p.max(0.0) * self.scale)
    }

    /// Weights of the rows as the method sees them, made weights of the rows as given.
    fn as_given(&self, weights: impl Iterator<Item = f64>) -> Vec<f64> {
        let mut weights: Vec<f64> = weights.collect();
        for (weight, row) in weights[self.base_rows..].iter_mut().zip(&self.extra) {
            *weight *= row.part;
        }
        weights
    }

    /// Prices that climb past `target` (in the columns' own cost) where the rows
    /// were found impossible to meet together: any bound may be reached so.
    pub(crate) fn climbing_prices(&self, target: f64) -> Vec<f64> {
        let mut prices: Vec<f64> = self.paid().collect();
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
        self.as_given(prices.into_iter())
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
            let reduced = self.cost[j as usize] - self.columns.weigh(j as usize, &self.price);
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

    /// The rows of the inverse, at most so many, whose basic column is farthest from
    /// whole: what cuts are made from.
    pub(crate) fn fractional_rows(&mut self, most: usize) -> Vec<Vec<f64>> {
        if self.since_refactor == ROUGH {
            return Vec::new();
        }
        let mut found: Vec<(f64, usize)> = self
            .basis
            .iter()
            .enumerate()
            .filter(|(_, v)| matches!(v, Variable::Column(_)))
            .map(|(i, _)| ((self.basic[i] - self.basic[i].round()).abs(), i))
            .filter(|(f, _)| *f > 1e-3)
            .collect();
        found.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        found.truncate(most);
        let mut line = |(_, i)| {
            let line = self.line(i);
            self.as_given(line.into_iter())
        };
        found.into_iter().map(&mut line).collect()
    }

    /// Every active column's product with the rows' weights, written to `out`
    /// (by column place).
    fn products(&self, weights: &[f64], out: &mut Vec<f64>) {
        out.clear();
        out.resize(self.columns.len(), 0.0);
        for &j in &self.active {
            out[j as usize] = self.columns.weigh(j as usize, weights);
        }
        for (i, row) in self.extra.iter().enumerate() {
            let w = weights[self.base_rows + i] * row.part;
            if w != 0.0 {
                for &(j, value) in row.entries.iter() {
                    out[j as usize] += w * f64::from(value);
                }
            }
        }
    }

    /// One column's product with the rows' weights.
    fn product(&self, column: usize, weights: &[f64]) -> f64 {
        let mut sum = self.columns.weigh(column, weights);
        for (row, w) in self.extra.iter().zip(&weights[self.base_rows..]) {
            if *w != 0.0 {
                sum += w * row.coefficient(column as u32);
            }
        }
        sum
    }

    /// The work done so far, in products: numbers of the factors read, and columns
    /// priced at each step.
    pub(crate) fn effort(&self) -> u64 {
        let step = self.active.len() + self.extra.len() * 40 + 400;
        self.touched + self.pivots * step as u64
    }

    /// Counts one reading of the basis' factors.
    fn count_reading(&mut self) {
        self.touched += self.factors.weight() as u64 / 2;
    }

    /// What comes before each step: factors are made afresh now and then. Whether they
    /// were; nothing where the method is to stop.
    fn before_step(&mut self, round: u64, stop: &dyn Fn() -> bool) -> Option<bool> {
        if round % 64 == 63 && stop() {
            return None;
        }
        let afresh = self.since_refactor >= REFACTOR_AFTER;
        (!afresh || self.refactor()).then_some(afresh)
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
        let mut reduced = self.columns.reduced(&self.active, prices, parts);
        for (row, &price) in self.extra.iter().zip(&prices[self.base_rows..]) {
            if price != 0 {
                for &(j, v) in row.entries.iter() {
                    reduced[j as usize] -= times(price, i64::from(v));
                }
            }
        }
        (value, reduced)
    }

    /// The right side of a row as it was given.
    pub(crate) fn least(&self, row: usize) -> i64 {
        match row.checked_sub(self.base_rows) {
            None => self.at_least[row],
            Some(added) => self.extra[added].at_least,
        }
    }
}
