//! Numbers of boards that cannot hold the pieces, and prices that show it. Which
//! numbers are asked about is left to whoever writes a proof.

use super::boards::Pattern;
use super::instance::{Instance, instance, kinds};
use super::relax::relax;
use super::search::MOST_LENGTHS;
use super::settle::refute;
use super::types::{CutPlan, CutProblem};
use crate::watch::Watch;

/// Refutes numbers of boards of one problem.
pub struct Refuter {
    instance: Instance,
    used: Vec<(usize, Pattern, f64)>,
}

impl Refuter {
    /// For a problem and its plan; nothing where it has too many lengths, or none.
    pub fn new(problem: &CutProblem, plan: &CutPlan, watch: &dyn Watch) -> Option<Refuter> {
        let (instance, _) = instance(problem, kinds(problem)).ok()?;
        if instance.lengths.is_empty() || instance.lengths.len() > MOST_LENGTHS {
            return None;
        }
        let used = relax(&instance, &[], plan.cost.cents(), &|| watch.stop()).used;
        Some(Refuter { instance, used })
    }

    /// Prices by which boards do not hold all pieces, in the order of the plan's
    /// proof; nothing where prices do not show it. `boards` tells how many there
    /// are of a stock, by its place, and whether those from hand are meant.
    pub fn prices(
        &self,
        boards: &dyn Fn(usize, bool) -> i64,
        watch: &dyn Watch,
    ) -> Option<Vec<i64>> {
        let kinds = self.instance.kinds.iter();
        let numbers: Vec<i64> = kinds.map(|kind| boards(kind.stock, kind.on_hand)).collect();
        refute(&self.instance, &self.used, &numbers, &|| watch.stop())
    }
}
