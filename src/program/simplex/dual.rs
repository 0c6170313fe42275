//! The dual method: from a basis whose reduced costs are feasible, rows that are not
//! met are made so until all are. It keeps the lengths of the inverse's rows, where
//! it knows them, from one run to the next.

use std::sync::Arc;

use super::{Ended, FEASIBLE, PIVOT, Simplex, Variable, WEAK, jitter};

impl Simplex {
    /// Runs the dual method with costs shaken against ties, then the primal method
    /// with the costs as they are.
    pub(crate) fn resolve(&mut self, most_pivots: u64, stop: &dyn Fn() -> bool) -> Ended {
        const SHAKE: f64 = 1e-6;
        let own = self.cost.clone();
        let cost = Arc::make_mut(&mut self.cost);
        for &j in &self.active {
            if self.column_at[j as usize] < 0 {
                cost[j as usize] += SHAKE * (0.5 + jitter(u64::from(j)));
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
            let Some(afresh) = self.before_step(round, stop) else {
                return Ended::Stopped;
            };
            if afresh {
                reduced = self.reduced_costs();
            }
            // The row that is violated most for the length of its line (steepest edge).
            let mut leaving: Option<(usize, f64)> = None;
            for i in 0..self.rows {
                if self.basic[i] < -self.met {
                    let gain = self.basic[i] * self.basic[i] / self.length(i);
                    if leaving.is_none_or(|(_, best)| gain > best) {
                        leaving = Some((i, gain));
                    }
                }
            }
            let Some((at, _)) = leaving else {
                return Ended::Optimal;
            };
            let weights = self.line(at);
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
            let Some((entering, alpha, cost)) = entering else {
                if self.since_refactor == 0 {
                    self.ray = weights.iter().map(|w| (-w).max(0.0)).collect();
                    return Ended::Infeasible;
                }
                if !self.refactor() {
                    return Ended::Stopped;
                }
                reduced = self.reduced_costs();
                continue;
            };
            let weak = -alpha < WEAK;
            let entering = self.enter(entering);
            if weak || (entering.tableau[at] - alpha).abs() > 1e-6 * (1.0 + alpha.abs()) {
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
            self.lengthen(at, &entering.tableau, &weights);
            self.pivot(at, &entering, &weights, cost);
            if cutoff.is_finite() && round % 8 == 7 && self.objective() > cutoff {
                return Ended::Stopped;
            }
        }
        Ended::Stopped
    }

    /// The squared length of one row of the inverse.
    fn length(&mut self, at: usize) -> f64 {
        if self.lengths[at].is_nan() {
            self.lengths[at] = self.line(at).iter().map(|v| v * v).sum();
        }
        self.lengths[at].max(1e-12)
    }

    /// What becomes of the lengths where a variable enters at a place whose row of
    /// the inverse `line` is.
    fn lengthen(&mut self, at: usize, tableau: &[f64], line: &[f64]) {
        let own: f64 = line.iter().map(|v| v * v).sum();
        self.count_reading();
        let along = self.factors.solve(line.to_vec());
        let pivot = tableau[at];
        for (i, length) in self.lengths.iter_mut().enumerate() {
            let part = tableau[i] / pivot;
            if part != 0.0 {
                let new = *length - part * (2.0 * along[i] - part * own);
                // What is left of a difference of large numbers is reckoned anew.
                *length = if new > 1e-3 * *length { new } else { f64::NAN };
            }
        }
        self.lengths[at] = own / (pivot * pivot);
    }
}
