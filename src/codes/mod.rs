//! A deck held against the tables of a code: how far its joists span and reach
//! past their supports, and how far apart they are under the boards. It knows
//! what the tables say and on what basis, measures the frame as it is laid out,
//! and tells which of the two is more; it designs nothing, and what a table does
//! not cover it says so. Whether anything may be built is left to the local code
//! and to those who may say so.

mod boards;
mod finding;
mod joists;
pub mod tables;

pub use boards::decking;
pub use finding::{Amount, Check, Finding, Outcome, Rule, cautions};
pub use joists::carried;

use crate::base::Base;
use crate::frame::Skeleton;
use crate::job::Job;
use crate::length::Length;
use crate::plan::Plan;

/// All that is compared: how far the boards span and how many joists each lies
/// on and, where the job has a frame, its joists' spans and cantilevers and those
/// of its beams.
pub fn compare(
    job: &Job,
    plan: &Plan,
    frame: Option<&Skeleton>,
    base: Option<&Base>,
) -> Vec<Finding> {
    let supports = &plan.supports;
    let mut found = boards::planned(job, plan);
    if let (Some(rules), Some(frame)) = (&job.codes, frame) {
        found.extend(joists::joists(job, rules, supports, frame, base));
        found.extend(joists::beams(job, rules, base));
    }
    found
}

/// The widest distance between two neighbours.
fn widest(places: &[Length]) -> Option<Length> {
    places.windows(2).map(|pair| pair[1] - pair[0]).max()
}
