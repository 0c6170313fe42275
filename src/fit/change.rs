//! One change of a job, as a way to finish asks for it: what it does to the
//! checked job, and how it is said to `--set`.

use crate::job::{Edge, Finish, Job, Mixed, Side};
use crate::length::Length;

/// How far the overhang at a side may move: down (zero or below) and up.
pub(super) fn play(job: &Job, side: Side) -> (Length, Length) {
    match job.edges.at(side) {
        Edge::Open { overhang, .. } => {
            (overhang.least - overhang.set, overhang.most - overhang.set)
        }
        Edge::Wall { .. } => (Length::ZERO, Length::ZERO),
    }
}

/// One change of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// Another overhang at an open edge, within its range.
    Overhang(Side, Length),
    /// Another gap of a fastener, by its place in the job, within its range.
    Gap(usize, Length),
    /// Another size of the frame across the boards.
    Across(Length),
    /// Another size of the frame along the boards.
    Along(Length),
    /// Another finish.
    Finish(Finish),
    /// Some gaps by another fastener.
    Mixed(Mixed),
}

impl Change {
    /// Makes the change.
    ///
    /// # Panics
    /// When the job has no such fastener.
    pub fn apply(&self, job: &mut Job) {
        match self {
            Change::Overhang(side, to) => {
                if let Edge::Open { overhang, .. } = job.edges.at_mut(*side) {
                    overhang.set = *to;
                }
            }
            Change::Gap(fastener, to) => {
                let fastener = &mut job.fasteners[*fastener];
                fastener.gap.set = *to;
                // What was measured was another gap.
                fastener.trial = None;
            }
            Change::Across(to) => job.deck.across = *to,
            Change::Along(to) => job.deck.along = *to,
            Change::Finish(finish) => job.courses.finish = *finish,
            Change::Mixed(mixed) => job.courses.mixed = Some(*mixed),
        }
    }

    /// The field's path in a job, as `--set` takes it.
    ///
    /// # Panics
    /// When the job has no such fastener.
    pub fn path(&self, job: &Job) -> String {
        match self {
            Change::Overhang(side, _) => format!("edge.{}.overhang", side.name()),
            Change::Gap(fastener, _) => {
                let name = &job.fasteners[*fastener].name;
                // A name that could be taken for something else gives way to its count.
                if name.contains(['.', '=', '"', '\'', '[']) || name.parse::<u64>().is_ok() {
                    format!("fastener.{}.gap", fastener + 1)
                } else {
                    format!("fastener.{name}.gap")
                }
            }
            Change::Across(_) => "deck.across".to_string(),
            Change::Along(_) => "deck.along".to_string(),
            Change::Finish(_) => "courses.finish".to_string(),
            Change::Mixed(_) => "courses.mixed".to_string(),
        }
    }

    /// The new value, as `--set` takes it; exact.
    ///
    /// # Panics
    /// When the job has no such fastener.
    pub fn value(&self, job: &Job) -> String {
        match self {
            Change::Overhang(_, to)
            | Change::Gap(_, to)
            | Change::Across(to)
            | Change::Along(to) => to.exact(job.unit),
            Change::Finish(finish) => finish.name().to_string(),
            Change::Mixed(mixed) => {
                let name = &job.fasteners[mixed.fastener].name;
                let name = name.replace('\\', "\\\\").replace('"', "\\\"");
                format!("{{ fastener = \"{name}\", gaps = {} }}", mixed.gaps)
            }
        }
    }
}
