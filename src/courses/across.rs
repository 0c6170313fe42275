//! How many courses a surface takes and how wide they come out: the counting
//! itself, without the list of courses. It knows one width, one face and the
//! gaps; what the outcome is worth is left to forecasts and ways to finish.

use crate::deck::Surface;
use crate::job::{Finish, Job};
use crate::length::Length;

/// All that decides the courses of a surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Across {
    /// The surface's width across the boards; above zero.
    pub width: Length,
    /// The boards' face; above zero.
    pub face: Length,
    /// A ripped course narrower than this is a sliver.
    pub narrowest_rip: Length,
    /// The gap between courses; zero or more.
    pub gap: Length,
    /// So many gaps, counted back from the last, are this wide instead.
    pub mixed: Option<(u32, Length)>,
    /// What is done with a course that does not come out whole.
    pub finish: Finish,
}

/// What the courses come to, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// The last course is whole and nothing is short.
    Full,
    /// All courses are whole and end short of the edge.
    Short,
    /// A course is ripped narrower than the narrowest rip.
    Sliver,
    /// A course is ripped.
    Rip,
}

/// What the courses of a surface come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Outcome {
    /// Courses laid; none only where a single ripped course is left out.
    pub laid: i64,
    /// Gaps before course `n`, `n - 1` of them, before one is added or dropped.
    pub gaps: i64,
    /// `W - (n-1)(b+g)`: the width of course `n` before one is added or dropped.
    pub last: Length,
    /// The width of the course that does not come out whole, before a finish
    /// shares it; nothing when all that is laid is whole.
    pub rip: Option<Length>,
    /// Width of the first course laid, if any.
    pub first_width: Option<Length>,
    /// Width of the last course laid, if any.
    pub last_width: Option<Length>,
    /// What is ripped off a ripped course, the later of two; zero without one.
    pub ripped_off: Length,
    /// How far the courses end short of the last edge.
    pub short_by: Length,
    /// How far they would end short if a ripped last course were not laid.
    pub short_if_omitted: Option<Length>,
    /// What it comes to.
    pub verdict: Verdict,
}

impl Across {
    /// What decides the courses of a job with one of its fasteners at its set gap.
    ///
    /// # Panics
    /// When the job has no such fastener.
    pub fn of(job: &Job, surface: &Surface, fastener: usize) -> Across {
        Across {
            width: surface.width,
            face: job.board.face,
            narrowest_rip: job.board.narrowest_rip,
            gap: job.fasteners[fastener].gap.set,
            mixed: job
                .courses
                .mixed
                .filter(|mixed| mixed.fastener != fastener)
                .map(|mixed| (mixed.gaps, job.fasteners[mixed.fastener].gap.set)),
            finish: job.courses.finish,
        }
    }

    /// The same with another gap.
    pub fn with_gap(self, gap: Length) -> Across {
        Across { gap, ..self }
    }

    /// How many of so many gaps are left by each fastener: its own, the other's.
    pub fn share(&self, gaps: i64) -> (i64, i64) {
        let other = self
            .mixed
            .map_or(0, |(count, _)| i64::from(count).min(gaps));
        (gaps - other, other)
    }

    /// The width of so many whole courses with their gaps.
    pub fn reach(&self, courses: i64) -> Length {
        self.face * courses + self.gaps((courses - 1).max(0))
    }

    /// The width of so many gaps together, the last of them mixed.
    fn gaps(&self, count: i64) -> Length {
        let (own, other) = self.share(count);
        self.gap * own + self.mixed.map_or(Length::ZERO, |(_, gap)| gap * other)
    }

    /// The least count of whole boards that reaches the last edge.
    fn reaching(&self) -> i64 {
        let (mixed, other) = self.mixed.map_or((0, self.gap), |(m, g)| (i64::from(m), g));
        let count = |width: Length, gap: Length| {
            let (width, pitch) = (width.units(), (self.face + gap).units());
            width.div_euclid(pitch) + i64::from(width.rem_euclid(pitch) != 0)
        };
        let all_mixed = count(self.width + other, other);
        if all_mixed - 1 <= mixed {
            all_mixed
        } else {
            count(
                self.width + self.gap * (mixed + 1) - other * mixed,
                self.gap,
            )
        }
    }

    /// Counts the courses and works out their widths.
    pub fn outcome(&self) -> Outcome {
        let count = self.reaching();
        let whole = self.face * (count - 1);
        let last = self.width - whole - self.gaps(count - 1);
        let behind = self.width - whole - self.gaps((count - 2).max(0));
        let ripped = last > Length::ZERO && last < self.face;
        let rip = (ripped && self.finish != Finish::LeaveOut).then_some(last);
        let laid = if rip.is_some() || last == self.face {
            count
        } else {
            count - 1
        };
        let ends = [0, laid - 2, laid - 1].map(|k| self.width_of(k, laid, rip));
        let narrowest = ends.into_iter().min().unwrap_or(self.face);
        let [first, _, end] = ends;
        Outcome {
            laid,
            gaps: count - 1,
            last,
            rip,
            first_width: (laid > 0).then_some(first),
            last_width: (laid > 0).then_some(end),
            ripped_off: self.face - if end < self.face { end } else { narrowest },
            short_by: if laid == count { Length::ZERO } else { behind },
            short_if_omitted: rip.map(|_| behind),
            verdict: match rip {
                Some(_) if narrowest < self.narrowest_rip => Verdict::Sliver,
                Some(_) => Verdict::Rip,
                None if laid == count => Verdict::Full,
                None => Verdict::Short,
            },
        }
    }

    /// The gap that one more course adds when there are so many gaps already.
    pub fn next_gap(&self, gaps: i64) -> Length {
        self.gaps(gaps + 1) - self.gaps(gaps)
    }

    /// The rip, before a finish shares it, below which one of so many courses
    /// is a sliver.
    pub fn sliver_below(&self, courses: i64) -> Length {
        let narrowest = self.narrowest_rip.min(self.face);
        match self.finish {
            Finish::LeaveOut => Length::ZERO,
            Finish::Balanced if courses >= 2 => narrowest * 2 - self.face,
            Finish::Shared if courses >= 3 => narrowest * 2 - self.face,
            _ => narrowest,
        }
    }

    /// The width of course `k`, counted from 0, of so many laid, where the
    /// courses come out with a rip of a given width (or with none).
    pub(super) fn width_of(&self, k: i64, laid: i64, rip: Option<Length>) -> Length {
        let Some(rip) = rip else {
            return self.face;
        };
        let finish = match self.finish {
            Finish::Balanced if laid < 2 => Finish::RipLast,
            Finish::Shared if laid < 3 => Finish::RipLast,
            finish => finish,
        };
        let both = rip + self.face;
        match finish {
            Finish::RipLast | Finish::LeaveOut if k == laid - 1 => rip,
            Finish::RipFirst if k == 0 => rip,
            // An odd unit goes to the later of the two.
            Finish::Balanced if k == 0 => both.half_down(),
            Finish::Shared if k == laid - 2 => both.half_down(),
            Finish::Balanced | Finish::Shared if k == laid - 1 => both.half_up(),
            _ => self.face,
        }
    }

    /// The width of course `k`, counted from 0, of an outcome.
    pub fn course_width(&self, outcome: &Outcome, k: i64) -> Length {
        self.width_of(k, outcome.laid, outcome.rip)
    }

    /// The width of the gap after course `k`, counted from 0, of so many laid,
    /// and whether it is one of the mixed ones.
    pub fn gap_after(&self, k: i64, laid: i64) -> (Length, bool) {
        let (own, _) = self.share(laid - 1);
        match self.mixed {
            Some((_, gap)) if k >= own => (gap, true),
            _ => (self.gap, false),
        }
    }
}
