//! The primal method: from a basis whose values are feasible, columns of negative
//! reduced cost enter until there is none. Between two looks at all columns only the
//! most promising are followed; which columns there are is for callers to say.

use super::basis::Entering;
use super::{Ended, PIVOT, Simplex, Variable};

/// A smaller reduced cost is none.
const ENTERS: f64 = -1e-10;
/// So many columns are followed at least, ...
const WATCHED: usize = 60;
/// ... and one in so many.
const WATCHED_OF: usize = 3;
/// Pivots without a gain before right sides are loosened.
const STALLED: u32 = 60;

/// A column that is followed.
struct Watched {
    column: u32,
    reduced: f64,
    /// How steep its edge is (Devex).
    steep: f64,
}

impl Simplex {
    /// Runs the primal method from a primal feasible basis.
    pub fn primal(&mut self, most_pivots: u64, stop: &dyn Fn() -> bool) -> Ended {
        let mut watched = self.promising();
        // Of slacks, by row.
        let mut steep = vec![1.0f64; self.rows];
        let mut exact = true;
        let mut stalled = 0u32;
        for round in 0..most_pivots {
            let Some(afresh) = self.before_step(round, stop) else {
                return Ended::Stopped;
            };
            if afresh {
                watched = self.promising();
                exact = true;
            }
            let Some((variable, cost, own)) = self.entering(&watched, &steep) else {
                if exact {
                    return Ended::Optimal;
                }
                // Others may enter by now, and what was followed has drifted a little.
                watched = self.promising();
                exact = true;
                continue;
            };
            exact = false;
            let entering = self.enter(variable);
            let Some((at, ratio)) = self.leaving(&entering) else {
                return Ended::Stopped;
            };
            stalled = if ratio * cost.abs() < 1e-12 {
                stalled + 1
            } else {
                0
            };
            if stalled > STALLED {
                self.loosen(round);
                stalled = 0;
                continue;
            }
            let line = self.line(at);
            let pivot = entering.tableau[at];
            for other in &mut watched {
                let part = self.product(other.column as usize, &line) / pivot;
                if part != 0.0 {
                    other.reduced -= cost * part;
                    other.steep = other.steep.max(part * part * own);
                }
            }
            for (steep, value) in steep.iter_mut().zip(&line) {
                let part = value / pivot;
                *steep = steep.max(part * part * own);
            }
            if let Variable::Slack(i) = self.basis[at] {
                steep[i as usize] = (own / (pivot * pivot)).max(1.0);
            }
            self.lengths.fill(f64::NAN);
            self.pivot(at, &entering, &line, cost);
        }
        Ended::Stopped
    }

    /// The columns whose reduced costs are lowest, and below zero.
    fn promising(&self) -> Vec<Watched> {
        let reduced = self.reduced_costs();
        let mut watched: Vec<Watched> = self
            .active
            .iter()
            .filter(|&&j| reduced[j as usize] < ENTERS && self.column_at[j as usize] < 0)
            .map(|&column| Watched {
                column,
                reduced: reduced[column as usize],
                steep: 1.0,
            })
            .collect();
        let most = WATCHED.max(self.active.len() / WATCHED_OF);
        if watched.len() > most {
            watched.sort_by(|a, b| {
                let cost = a.reduced.total_cmp(&b.reduced);
                cost.then(a.column.cmp(&b.column))
            });
            watched.truncate(most);
        }
        watched
    }

    /// The variable that gains most for how steep its edge is, with its reduced cost
    /// and that.
    fn entering(&self, watched: &[Watched], steep: &[f64]) -> Option<(Variable, f64, f64)> {
        let mut entering = None;
        let mut best = 0.0;
        let mut offer = |variable: Variable, reduced: f64, steep: f64| {
            let gain = reduced * reduced / steep;
            if gain > best {
                best = gain;
                entering = Some((variable, reduced, steep));
            }
        };
        for other in watched {
            if other.reduced < ENTERS && self.column_at[other.column as usize] < 0 {
                offer(Variable::Column(other.column), other.reduced, other.steep);
            }
        }
        for (i, &steep) in steep.iter().enumerate() {
            if self.price[i] < ENTERS && self.slack_at[i] < 0 {
                offer(Variable::Slack(i as u32), self.price[i], steep);
            }
        }
        entering
    }

    /// The place that is used up first, and how much of the entering variable does it.
    fn leaving(&self, entering: &Entering) -> Option<(usize, f64)> {
        let mut leaving: Option<(usize, f64)> = None;
        for (i, &t) in entering.tableau.iter().enumerate() {
            if t > PIVOT {
                let ratio = self.basic[i].max(0.0) / t;
                let better = leaving.is_none_or(|(at, best)| {
                    let stronger = t > entering.tableau[at];
                    ratio < best - 1e-12 || (ratio < best + 1e-12 && stronger)
                });
                if better {
                    leaving = Some((i, ratio));
                }
            }
        }
        leaving
    }
}
