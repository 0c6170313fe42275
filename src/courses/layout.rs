//! The courses of a surface, each with its place across.

use crate::deck::Surface;
use crate::job::Job;
use crate::length::Length;

/// What the last course comes to, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// The last course is whole and nothing is short.
    Full,
    /// All courses are whole and end short of the edge.
    Short,
    /// The last course is ripped narrower than the narrowest rip.
    Sliver,
    /// The last course is ripped.
    Rip,
}

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

/// The courses of a surface as they are laid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layout {
    /// The fastener, by its place in the job.
    pub fastener: usize,
    /// Its gap.
    pub gap: Length,
    /// The courses laid, from the first edge.
    pub courses: Vec<Course>,
    /// `W - (n-1)(b+g)`: the width of course `n` before a course is added or dropped.
    pub last: Length,
    /// What is ripped off the narrowest course laid; zero when nothing is ripped.
    pub ripped_off: Length,
    /// How far the courses end short of the last edge.
    pub short_by: Length,
    /// How far they would end short if a ripped last course were not laid.
    pub short_if_omitted: Option<Length>,
    /// What it comes to.
    pub verdict: Verdict,
}

/// Lays the courses of a job with one of its fasteners at its set gap.
pub fn layout(job: &Job, surface: &Surface, fastener: usize) -> Layout {
    let face = job.board.face;
    let gap = job.fasteners[fastener].gap.set;
    let pitch = (face + gap).units();
    let count = (surface.width + gap).units().div_euclid(pitch)
        + i64::from((surface.width + gap).units().rem_euclid(pitch) != 0);
    let last = surface.width - Length::from_units((count - 1) * pitch);
    let laid = if last > Length::ZERO {
        count
    } else {
        count - 1
    };
    let courses = (0..laid)
        .map(|k| {
            let from = Length::from_units(k * pitch);
            let to = if from + face > surface.width {
                surface.width
            } else {
                from + face
            };
            Course {
                number: k as u32 + 1,
                from,
                to,
                ripped: to - from < face,
            }
        })
        .collect();
    let ripped = last > Length::ZERO && last < face;
    Layout {
        fastener,
        gap,
        courses,
        last,
        ripped_off: if ripped { face - last } else { Length::ZERO },
        short_by: if last > Length::ZERO {
            Length::ZERO
        } else {
            last + gap
        },
        short_if_omitted: ripped.then_some(if count == 1 {
            surface.width
        } else {
            last + gap
        }),
        verdict: match (ripped, last > Length::ZERO) {
            (true, _) if last < job.board.narrowest_rip => Verdict::Sliver,
            (true, _) => Verdict::Rip,
            (false, true) => Verdict::Full,
            (false, false) if last + gap == Length::ZERO => Verdict::Full,
            (false, false) => Verdict::Short,
        },
    }
}
