//! What a person should look at before boards are ordered: a course that comes
//! out narrower than the job wants any, and one that the frame does not carry. It
//! knows one fastener's courses; the ways out are left to whoever compares them.

use super::across::{Across, Verdict};
use super::layout::layout;
use crate::caution::Caution;
use crate::deck::Surface;
use crate::job::{Edge, Job};
use crate::length::{Length, Unit};

/// An outer course rests on so much of the frame at least where it is to be
/// fastened there, 3/4 in or 20 mm (common practice, no source).
fn least_rest(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_64ths(48),
        Unit::Millimetre => Length::from_mm(20),
    }
}

/// What a person should look at of the courses laid with a fastener.
///
/// # Panics
/// When the job has no such fastener.
pub fn cautions(job: &Job, surface: &Surface, fastener: usize) -> Vec<Caution> {
    let narrow = sliver(job, surface, fastener);
    let bare = unsupported(job, surface, fastener);
    narrow.into_iter().chain(bare).collect()
}

/// Cautions where an outer course hardly rests on the frame.
fn unsupported(job: &Job, surface: &Surface, fastener: usize) -> Vec<Caution> {
    let courses = layout(job, surface, fastener).courses;
    let (Some(first), Some(last)) = (courses.first(), courses.last()) else {
        return Vec::new();
    };
    let frame = job.edges.first.reach();
    let ends = [
        ("first", &job.edges.first, first.to - frame),
        ("last", &job.edges.last, frame + job.deck.across - last.from),
    ];
    let bare = ends.into_iter().filter(|(_, edge, rests)| {
        matches!(edge, Edge::Open { .. }) && *rests < least_rest(job.unit)
    });
    bare.map(|(name, edge, rests)| {
        let at = |length: Length| length.show(job.unit);
        let reach = at(edge.reach());
        let message = match rests > Length::ZERO {
            true => format!(
                "the {name} course reaches {reach} past the frame and rests on {} of it only",
                at(rests)
            ),
            false => format!(
                "the {name} course lies wholly past the frame, which ends {reach} inside the edge"
            ),
        };
        Caution::new(
            message,
            format!(
                "have at least {} of it on the frame, or lay it over a backing: a wider rip \
                 (`lastcourse fit`), or a smaller `edge.{name}.overhang`",
                at(least_rest(job.unit))
            ),
        )
    })
    .collect()
}

/// A caution where a course is a sliver.
fn sliver(job: &Job, surface: &Surface, fastener: usize) -> Option<Caution> {
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
