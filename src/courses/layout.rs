//! The courses of a surface, each with its place across.

use super::across::{Across, Outcome, Verdict};
use crate::deck::Surface;
use crate::job::Job;
use crate::length::Length;

/// One course and its place across.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Course {
    /// Counted from 1 at the first edge.
    pub number: u32,
    /// Its near edge across; 0 is the surface's first edge.
    pub from: Length,
    /// Its far edge across.
    pub to: Length,
    /// Whether it is ripped below the board's face.
    pub ripped: bool,
}

impl Course {
    /// How wide the course is.
    pub fn width(&self) -> Length {
        self.to - self.from
    }
}

/// The gap between two courses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// The fastener that leaves it, by its place in the job.
    pub fastener: usize,
    /// How wide it is.
    pub width: Length,
}

/// The courses of a surface as they are laid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layout {
    /// The fastener, by its place in the job.
    pub fastener: usize,
    /// Its gap.
    pub gap: Length,
    /// The courses laid, from the first edge.
    pub courses: Vec<Course>,
    /// The gaps between them, one fewer than there are courses.
    pub gaps: Vec<Gap>,
    /// `W - (n-1)(b+g)`: the width of course `n` before a course is added or dropped.
    pub last: Length,
    /// What is ripped off a ripped course, the later of two; zero without one.
    pub ripped_off: Length,
    /// How far the courses end short of the last edge.
    pub short_by: Length,
    /// How far they would end short if a ripped last course were not laid.
    pub short_if_omitted: Option<Length>,
    /// What it comes to.
    pub verdict: Verdict,
}

/// Lays the courses of a job with one of its fasteners at its set gap.
///
/// # Panics
/// When the job has no such fastener.
pub fn layout(job: &Job, surface: &Surface, fastener: usize) -> Layout {
    let across = Across::of(job, surface, fastener);
    let outcome = across.outcome();
    let Outcome { laid, rip, .. } = outcome;
    let mut courses = Vec::new();
    let mut gaps = Vec::new();
    let mut from = Length::ZERO;
    for k in 0..laid {
        let width = across.width_of(k, laid, rip);
        courses.push(Course {
            number: k as u32 + 1,
            from,
            to: from + width,
            ripped: width < across.face,
        });
        let (gap, mixed) = across.gap_after(k, laid);
        from += width + gap;
        if k + 1 < laid {
            gaps.push(Gap {
                fastener: match job.courses.mixed {
                    Some(other) if mixed => other.fastener,
                    _ => fastener,
                },
                width: gap,
            });
        }
    }
    Layout {
        fastener,
        gap: across.gap,
        courses,
        gaps,
        last: outcome.last,
        ripped_off: outcome.ripped_off,
        short_by: outcome.short_by,
        short_if_omitted: outcome.short_if_omitted,
        verdict: outcome.verdict,
    }
}
