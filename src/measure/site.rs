//! The deck as it is being laid: the courses as planned, the gaps as they were
//! set, and how far each of them and the tape may be off. It knows what should
//! have come out; what did is left to its neighbours.

use crate::courses::{Across, Errors, Layout, layout};
use crate::deck::Surface;
use crate::job::{Job, Tape, TapeReading};
use crate::length::{Length, Unit};

/// What is planned, what was set, and what may be off.
#[derive(Debug, Clone)]
pub struct Site<'a> {
    pub job: &'a Job,
    pub surface: &'a Surface,
    /// The fastener, by its place in the job.
    pub fastener: usize,
    pub across: Across,
    /// The courses as planned.
    pub layout: Layout,
    pub errors: Errors,
    /// How far all gaps are taken to be off alike, where the job says nothing of
    /// boards or gaps that are.
    pub assumed: Option<Length>,
    /// How exactly the tape is read, plus or minus.
    pub tape: Length,
    /// The gaps as they were set up to the last reading.
    set: Vec<Length>,
}

/// Boards and gaps of a stretch of courses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Stretch {
    pub boards: i64,
    /// Gaps by the fastener.
    pub own: i64,
    /// Gaps by the other one, where they are mixed.
    pub other: i64,
}

impl Stretch {
    pub fn gaps(&self) -> i64 {
        self.own + self.other
    }
}

impl<'a> Site<'a> {
    pub fn new(
        job: &'a Job,
        surface: &'a Surface,
        fastener: usize,
        readings: &[TapeReading],
        tape: Length,
    ) -> Site<'a> {
        let mut errors = Errors::of(job, fastener);
        let stated = errors.faces + errors.gaps + errors.other_gaps > Length::ZERO;
        let assumed = (!stated).then(|| unmeasured(job.unit));
        if let Some(gap) = assumed {
            errors.gaps = gap;
            errors.other_gaps = gap;
        }
        let mut site = Site {
            job,
            surface,
            fastener,
            across: Across::of(job, surface, fastener),
            layout: layout(job, surface, fastener),
            errors,
            assumed,
            tape,
            set: Vec::new(),
        };
        let last = readings.last().map_or(0, |reading| reading.after);
        site.set = (1..i64::from(last))
            .map(|before| {
                let stretch = readings.iter().find(|r| i64::from(r.after) > before);
                let stated = stretch.and_then(|reading| reading.gap);
                stated.unwrap_or_else(|| site.gap(before))
            })
            .collect();
        site
    }

    /// How wide a course is planned, counted from 1; whole beyond the last.
    pub fn width(&self, course: i64) -> Length {
        let planned = usize::try_from(course - 1).ok();
        planned
            .and_then(|k| self.layout.courses.get(k))
            .map_or(self.across.face, |course| course.width())
    }

    /// The gap after a course as planned.
    fn gap(&self, course: i64) -> Length {
        let planned = usize::try_from(course - 1).ok();
        planned
            .and_then(|k| self.layout.gaps.get(k))
            .map_or(self.across.gap, |gap| gap.width)
    }

    /// Where a course's far edge is planned; beyond the last, as it would go on.
    pub fn planned(&self, course: i64) -> Length {
        let boards: Length = (1..=course).map(|k| self.width(k)).sum();
        boards + (1..course).map(|k| self.gap(k)).sum::<Length>()
    }

    /// Whether the gap after a course is one of the mixed ones.
    fn is_mixed(&self, course: i64) -> bool {
        let planned = usize::try_from(course - 1).ok();
        planned
            .and_then(|k| self.layout.gaps.get(k))
            .is_some_and(|gap| gap.fastener != self.fastener)
    }

    /// The gap set last: the one that the next courses get if nothing changes.
    pub fn gap_now(&self, readings: &[TapeReading]) -> Length {
        let last = readings.last().and_then(|reading| reading.gap);
        last.unwrap_or(self.across.gap)
    }

    /// The far edge of a course if boards and gaps are what they are said and
    /// set to be; 0 before the first.
    pub fn far_edge(&self, course: i64) -> Length {
        let boards: Length = (1..=course).map(|k| self.width(k)).sum();
        let gaps: Length = (1..course)
            .map(|k| match self.set.get((k - 1) as usize) {
                Some(gap) => *gap,
                None => self.gap(k),
            })
            .sum();
        boards + gaps
    }

    /// What lies between the far edges of two courses; from the starting edge
    /// where the first one is course 0.
    pub fn stretch(&self, from: i64, to: i64) -> Stretch {
        let gaps = from.max(1)..to;
        let other = gaps.clone().filter(|k| self.is_mixed(*k)).count() as i64;
        Stretch {
            boards: to - from,
            own: (gaps.end - gaps.start).max(0) - other,
            other,
        }
    }

    /// The squares of what boards and gaps of a stretch may be off one by one,
    /// added up.
    pub fn one_by_one(&self, stretch: Stretch) -> i128 {
        let errors = &self.errors;
        squared(errors.face) * i128::from(stretch.boards)
            + squared(errors.gap) * i128::from(stretch.own)
            + squared(errors.other_gap) * i128::from(stretch.other)
    }

    /// What two stretches may be off together where all boards and all gaps are
    /// off alike: the square for one stretch with itself.
    pub fn alike(&self, one: Stretch, other: Stretch) -> i128 {
        let errors = &self.errors;
        let times = |one: i64, other: i64| i128::from(one) * i128::from(other);
        squared(errors.faces) * times(one.boards, other.boards)
            + squared(errors.gaps) * times(one.own, other.own)
            + squared(errors.other_gaps) * times(one.other, other.other)
    }

    /// How far a reading's place from the starting edge is off with the frame.
    pub fn frame_in(&self, tape: Tape) -> Length {
        match tape {
            Tape::ToFar { .. } => self.errors.frame,
            Tape::Once(_) | Tape::Ends { .. } => Length::ZERO,
        }
    }

    /// The most that boards and gaps of a stretch may be off one by one.
    pub fn at_limit(&self, stretch: Stretch) -> Length {
        let errors = &self.errors;
        errors.face * stretch.boards + errors.gap * stretch.own + errors.other_gap * stretch.other
    }

    /// The distance of two courses as planned.
    pub fn pitch(&self) -> Length {
        self.across.face + self.across.gap
    }
}

/// How far a gap that nobody measured may be off: 1/32 in, or a millimetre
/// (common practice, no source).
fn unmeasured(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_64ths(2),
        Unit::Millimetre => Length::from_mm(1),
    }
}

pub fn squared(length: Length) -> i128 {
    i128::from(length.units()).pow(2)
}
