//! The ways along the boards: a little less run, by an overhang at the boards'
//! ends or by a shorter frame, so that a shorter board serves. It finds where
//! a piece is just longer than a board allows; whether anything is saved, a
//! real plan decides.

use super::across::moved;
use super::change::Change;
use super::way::{Kind, Way};
use crate::deck::{Surface, supports};
use crate::job::{Job, Joists, Side};
use crate::length::{Length, Unit};

/// Pieces from one board that are looked at, where a whole run is one piece.
const FROM_ONE_BOARD: i64 = 3;
/// How many of the least changes are looked at, at each end of a run with joints.
const LEAST_CHANGES: usize = 3;

/// Ways that take a little off the run, with one fastener. Which of them save
/// anything is not known here.
///
/// # Panics
/// When the job has no such fastener.
pub fn ways(job: &Job, surface: &Surface, fastener: usize) -> Vec<Way> {
    let mut found: Vec<Vec<Change>> = Vec::new();
    for by in whole_runs(job, surface) {
        found.extend(moved(job, &[Side::Right, Side::Left], -by));
        found.extend(shorter_frame(job, by));
    }
    for by in right_ends(job, surface) {
        found.extend(moved(job, &[Side::Right], -by));
        found.extend(shorter_frame(job, by));
    }
    for by in left_ends(job, surface) {
        found.extend(moved(job, &[Side::Left], -by));
    }
    let mut ways: Vec<Way> = Vec::new();
    for changes in found {
        if ways.iter().all(|way| way.changes != changes) {
            ways.extend(Way::new(job, fastener, &[Kind::Length], changes));
        }
    }
    ways
}

/// More than this is no small change of a frame.
fn small(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_inches(6),
        Unit::Millimetre => Length::from_mm(150),
    }
}

/// A frame shorter by so much, unless it stands or its joists are fixed.
fn shorter_frame(job: &Job, by: Length) -> Option<Vec<Change>> {
    let free = !job.deck.built && matches!(job.joists, Joists::Spaced { .. });
    let to = job.deck.along - by;
    (free && to > Length::ZERO).then(|| vec![Change::Along(to)])
}

/// What a piece as long as the run is longer than a board, or an equal share of
/// a board, allows.
fn whole_runs(job: &Job, surface: &Surface) -> Vec<Length> {
    let piece = surface.run() + job.edges.left.allowance() + job.edges.right.allowance();
    let kerf = job.cutting.kerf;
    let shares = job.stock.iter().flat_map(|stock| {
        let usable = stock.length - job.cutting.end_trim * 2;
        (1..=FROM_ONE_BOARD).map(move |count| {
            let sawn = usable - kerf * (count - 1);
            Length::from_units(sawn.units().div_euclid(count))
        })
    });
    least(job, shares.map(|share| piece - share), usize::MAX)
}

/// What the piece from a joint to the right end is longer than a board allows.
fn right_ends(job: &Job, surface: &Surface) -> Vec<Length> {
    let allowance = job.edges.right.allowance();
    let starts = inner(job).into_iter();
    let starts = starts.map(|centre| centre + job.joints.end_gap.half_up());
    let pieces: Vec<Length> = starts.map(|start| surface.to - start + allowance).collect();
    over(job, &pieces)
}

/// What the piece from the left end to a joint is longer than a board allows.
fn left_ends(job: &Job, surface: &Surface) -> Vec<Length> {
    let allowance = job.edges.left.allowance();
    let ends = inner(job).into_iter();
    let ends = ends.map(|centre| centre - job.joints.end_gap.half_down());
    let pieces: Vec<Length> = ends.map(|end| end - surface.from + allowance).collect();
    over(job, &pieces)
}

/// The supports that may carry a joint.
fn inner(job: &Job) -> Vec<Length> {
    let centres = supports(job).centres;
    match centres.as_slice() {
        [_, inner @ .., _] => inner.to_vec(),
        _ => Vec::new(),
    }
}

fn over(job: &Job, pieces: &[Length]) -> Vec<Length> {
    let usable = |stock: &crate::job::Stock| stock.length - job.cutting.end_trim * 2;
    let over = job
        .stock
        .iter()
        .flat_map(|stock| pieces.iter().map(move |piece| *piece - usable(stock)));
    least(job, over, LEAST_CHANGES)
}

/// The least of some changes that are small, each once.
fn least(job: &Job, changes: impl Iterator<Item = Length>, most: usize) -> Vec<Length> {
    let mut changes: Vec<Length> = changes
        .filter(|by| *by > Length::ZERO && *by <= small(job.unit))
        .collect();
    changes.sort();
    changes.dedup();
    changes.truncate(most);
    changes
}
