//! Marries joints and stock: the cheapest staggered layout whose pieces are cut
//! from boards of stock lengths, with its lower bound. Hardware and what else
//! is bought are left to [`crate::order`].

mod along;
mod assemble;
mod attempts;
mod boarded;
mod budget;
mod carried;
mod carrying;
mod circuits;
mod class;
mod classes;
mod closing;
mod coloured;
mod counts;
mod curve;
mod cutdown;
#[cfg(test)]
mod decks;
mod direct;
mod dive;
mod explain;
mod families;
mod finite;
mod first;
mod flows;
mod learned;
mod listing;
mod master;
mod model;
mod order;
mod parting;
mod pieces;
mod prices;
mod proof;
mod refill;
mod refute;
mod repeat;
mod round;
mod rounds;
mod rows;
mod search;
mod sets;
mod single;
mod steps;
mod stretches;
mod strips;
mod supports;
mod tight;
mod tree;
mod types;
mod untangle;
mod used;
mod walking;
mod whole;

pub use curve::{Curve, CurvePoint, curve};
pub use refute::{Refute, refuting};
pub use types::*;

use crate::job::Job;
use crate::watch::{Progress, Watch};
use budget::Budget;
use model::Model;
use search::{Laid, search};

/// What is asked of a plan beside the job's own rules.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlanOptions {
    /// The fastener, by its place in the job.
    pub fastener: usize,
    /// What is minimised first.
    pub prefer: Objective,
    /// The most joints, if they are limited.
    pub joints_at_most: Option<u32>,
    /// How much work is spent on proof, in counts, never in seconds.
    pub effort: Effort,
    /// Whether a failure is told without ways out that would have to be planned first.
    pub brief: bool,
}

/// How much work is spent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Effort {
    /// A good plan and its bound, for tables of many plans.
    Quick,
    /// Until proven best, or as far as sensible.
    #[default]
    Full,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlanError {
    /// No plan can obey the rules; the text says which rule and how to relax it.
    #[error("{message}")]
    Impossible {
        /// What cannot be met.
        message: String,
        /// Which rule to relax, and by how much.
        help: String,
    },
    /// The search was stopped before anything was found.
    #[error("stopped before a plan was found")]
    Stopped,
    /// No plan was found, and none was proven impossible.
    #[error("{message}")]
    NotFound {
        /// What was tried.
        message: String,
        /// Which rule to relax, and by how much.
        help: String,
    },
}

/// The best plan for a job.
///
/// # Errors
/// When no plan can obey the job's rules, or the search was stopped too early.
pub fn plan(job: &Job, options: &PlanOptions, watch: &dyn Watch) -> Result<Plan, PlanError> {
    let stop = || watch.stop();
    let mut model = match Model::new(job, options.fastener, options.prefer) {
        Ok(model) => model,
        Err(why) => return Err(explain::unfit(job, options, why, &stop)),
    };
    // Told at once, for the search would be long at it.
    if explain::is_short(job, options.fastener) {
        return Err(explain::impossible(job, options, &stop));
    }
    model.joints_at_most = options.joints_at_most.map(i64::from);
    if let Some(error) = explain::too_few_joints(&model) {
        return Err(error);
    }
    let budget = match options.effort {
        Effort::Quick => Budget::QUICK,
        Effort::Full => Budget::FULL,
    };
    let unit = model.weights.unit;
    let tell = |laid: Option<&Laid>, bound: i64| {
        watch.progress(&Progress {
            value: laid.map(|l| l.weight / unit),
            bound: Some(bound / unit),
            boards: laid.map(|l| l.boards.iter().map(|b| b.2).sum::<i64>() as u32),
        });
    };
    let searched = search(&model, &job.joints, budget, &stop, &tell);
    match searched.best {
        Some(laid) => {
            let bound = searched.bound;
            let stopped = watch.stop();
            let plan = assemble::assemble(job, &model, &laid, options.prefer, bound, stopped);
            Ok(Plan {
                proof: searched.proof,
                ..plan
            })
        }
        None if model.joints_at_most.is_some()
            && (searched.bound > model.conceivable || !watch.stop())
            && explain::lays_at_all(job, options) =>
        {
            Err(explain::joints_not_found(&model, searched.bound))
        }
        None if searched.bound > model.conceivable => Err(explain::impossible(job, options, &stop)),
        None if watch.stop() => Err(PlanError::Stopped),
        None => Err(explain::not_found(job, options, &stop)),
    }
}
