//! Where a guard stands: its stretches along the open edges, less the stairs,
//! the posts at their ends and between them, and the balusters in each bay. It
//! knows plan geometry and counts; what is bought is left to [`crate::order`],
//! and whether it holds who leans on it to those who may say so.
//!
//! Edges are as long as the frame, and posts stand inside the ends of their
//! stretch; two stretches that meet at a corner share its post.

use crate::job::guard::{Baluster, GuardRules};
use crate::job::{Job, Side};
use crate::length::Length;

/// A guard laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Guard {
    /// Its stretches, edge by edge.
    pub runs: Vec<Run>,
    /// Posts, those at corners counted once.
    pub posts: u64,
}

/// A stretch of guard along one edge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// The edge.
    pub side: Side,
    /// Where it starts along the edge.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Bays between posts, all alike; none where it is filled by its post.
    pub bays: u64,
    /// What is clear between two posts, rounded up to a whole unit.
    pub clear: Length,
    /// Balusters in each bay.
    pub balusters: u64,
    /// The clear space beside each baluster, rounded up to a whole unit.
    pub space: Length,
}

impl Run {
    /// How long it is.
    pub fn length(&self) -> Length {
        self.to - self.from
    }
}

impl Guard {
    /// Bays of all stretches.
    pub fn bays(&self) -> u64 {
        self.runs.iter().map(|run| run.bays).sum()
    }

    /// Balusters of all bays.
    pub fn balusters(&self) -> u64 {
        self.runs.iter().map(|run| run.bays * run.balusters).sum()
    }

    /// All stretches together.
    pub fn length(&self) -> Length {
        self.runs.iter().map(Run::length).sum()
    }
}

/// How long an edge of the frame is.
pub fn edge_length(job: &Job, side: Side) -> Length {
    match side.is_along() {
        true => job.deck.along,
        false => job.deck.across,
    }
}

/// Lays out a job's guard, if it has one.
pub fn guard(job: &Job) -> Option<Guard> {
    let rules = job.guards.rules.as_ref()?;
    let stretches = rules
        .edges
        .iter()
        .flat_map(|&side| stretches(job, side).into_iter().map(move |at| (side, at)));
    let runs: Vec<Run> = stretches
        .map(|(side, [from, to])| run(rules, side, from, to))
        .collect();
    let ends = |run: &Run| run.bays + 1;
    let shared = corners(job, &runs);
    let posts = runs.iter().map(ends).sum::<u64>() - shared;
    Some(Guard { runs, posts })
}

/// What stairs leave of an edge, from and to.
fn stretches(job: &Job, side: Side) -> Vec<[Length; 2]> {
    let stairs = job.stairs.iter().zip(&job.guards.stairs);
    let mut openings: Vec<[Length; 2]> = stairs
        .filter(|(_, at)| at.side == side)
        .map(|(stairs, at)| [at.from, at.from + stairs.width])
        .collect();
    openings.sort();
    let mut left = Vec::new();
    let mut from = Length::ZERO;
    let end = edge_length(job, side);
    for [opens, closes] in openings.into_iter().chain([[end, end]]) {
        if opens > from {
            left.push([from, opens]);
        }
        from = from.max(closes);
    }
    left
}

/// The posts and balusters of a stretch.
fn run(rules: &GuardRules, side: Side, from: Length, to: Length) -> Run {
    let (width, spacing) = (rules.post.width, rules.post.spacing);
    let length = to - from;
    // Two posts side by side would fill it; one has to do.
    let bays = match length > width * 2 {
        true => div_up((length - width).units(), spacing.units()).max(1),
        false => 0,
    };
    let clear = match bays {
        0 => Length::ZERO,
        bays => Length::from_units(div_up((length - width * (bays + 1)).units(), bays)),
    };
    let balusters = match &rules.baluster {
        Some(baluster) if bays > 0 => self::balusters(clear, baluster.width, baluster.clear_most),
        _ => 0,
    };
    let space = (rules.baluster.as_ref()).map_or(clear, |one| space(clear, one, balusters));
    Run {
        side,
        from,
        to,
        bays: bays as u64,
        clear,
        balusters,
        space,
    }
}

/// The fewest balusters of a width that leave no space wider than this between
/// two posts: n of them leave n + 1 spaces, so n (width + most) + most >= clear.
pub fn balusters(clear: Length, width: Length, most: Length) -> u64 {
    div_up((clear - most).units(), (width + most).units()).max(0) as u64
}

fn space(clear: Length, baluster: &Baluster, count: u64) -> Length {
    let count = count as i64;
    let open = clear - baluster.width * count;
    Length::from_units(div_up(open.units(), count + 1)).max(Length::ZERO)
}

/// Corners where two stretches meet.
fn corners(job: &Job, runs: &[Run]) -> u64 {
    // Whether the guard of a side reaches its start, or its end.
    let reaches = |side: Side, start: bool| {
        runs.iter().any(|run| {
            let at = if start { run.from } else { run.to };
            let corner = if start {
                Length::ZERO
            } else {
                edge_length(job, side)
            };
            run.side == side && at == corner
        })
    };
    let corners = [
        (Side::First, true, Side::Left, true),
        (Side::First, false, Side::Right, true),
        (Side::Last, true, Side::Left, false),
        (Side::Last, false, Side::Right, false),
    ];
    let shared = corners
        .into_iter()
        .filter(|&(one, at, other, there)| reaches(one, at) && reaches(other, there));
    shared.count() as u64
}

/// A quotient rounded up, below zero too.
fn div_up(number: i64, by: i64) -> i64 {
    -(-number).div_euclid(by.max(1))
}
