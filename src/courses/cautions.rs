//! What a person should look at before boards are ordered: a course that comes
//! out narrower than the job wants any. It knows one fastener's courses; the ways
//! out are left to whoever compares them.

use super::across::{Across, Verdict};
use crate::caution::Caution;
use crate::deck::Surface;
use crate::job::Job;
use crate::length::Length;

/// A caution where a course is a sliver.
///
/// # Panics
/// When the job has no such fastener.
pub fn sliver(job: &Job, surface: &Surface, fastener: usize) -> Option<Caution> {
    let outcome = Across::of(job, surface, fastener).outcome();
    if outcome.verdict != Verdict::Sliver {
        return None;
    }
    let narrow = |width: &Option<Length>| width.is_some_and(|w| w < job.board.narrowest_rip);
    let ends = [&outcome.first_width, &outcome.last_width];
    let (which, width) = match ends.map(narrow) {
        [true, true] if outcome.laid > 1 => ("the first and the last course are", ends[0]),
        [true, _] => ("the first course is", ends[0]),
        [false, _] => ("the last course is", ends[1]),
    };
    let width = width.or(outcome.rip)?;
    Some(Caution::new(
        format!(
            "{which} ripped to {}, narrower than {} wanted at least",
            width.show(job.unit),
            job.board.narrowest_rip.show(job.unit)
        ),
        "`lastcourse fit` shows the ways to finish well, with what each changes and costs, before \
         the frame is cut and the boards are ordered",
    ))
}
