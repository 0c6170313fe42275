//! What brings the deck back: the gap to set from here on so that it ends as
//! planned, or on a whole course; how that can be set in steps, and whether it
//! can; and where the next courses then fall. Which end to aim for is left to
//! whoever lays the boards.

use super::pace::Pace;
use super::rest::Rest;
use super::site::Site;
use crate::courses::{Outcome, Verdict};
use crate::job::{Edge, Span};
use crate::length::Length;

/// What is aimed for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aim {
    /// The last course as planned.
    Planned,
    /// A whole last course that ends at the edge.
    Whole,
}

/// So many gaps set to the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Setting {
    /// The gap to set.
    pub gap: Length,
    /// For how many gaps.
    pub gaps: i64,
}

/// Where the far edge of a course falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Mark {
    /// The course.
    pub course: i64,
    /// Its far edge from the starting edge.
    pub at: Length,
}

/// A way to end.
#[derive(Debug, Clone, PartialEq)]
pub struct Ending {
    /// What is aimed for.
    pub aim: Aim,
    /// The last course.
    pub courses: i64,
    /// The fastener whose gaps are set, by its place in the job.
    pub fastener: usize,
    /// The gap to set, rounded down to a unit: below or above what can be set,
    /// where it is not possible.
    pub gap: Length,
    /// Whether the fastener's range allows it.
    pub possible: bool,
    /// How to set it in steps, one after the other; as near as the range allows
    /// where it is not possible.
    pub settings: Vec<Setting>,
    /// What the courses then come to.
    pub outcome: Outcome,
    /// The overhang of the last edge that does it with the gaps left as they
    /// are, where its range allows that.
    pub overhang: Option<Length>,
    /// Where the next courses then fall.
    pub marks: Vec<Mark>,
}

/// The ways to end at a pace, the gaps now set to this and settable in steps:
/// as planned, and on a whole course more or fewer.
pub fn endings(site: &Site<'_>, pace: &Pace, gap: Length, step: Length) -> Vec<Ending> {
    let solver = Solver {
        site,
        pace,
        rest: Rest::of(site, pace, gap),
        step,
    };
    let laid = site.layout.courses.len() as i64;
    let mut endings: Vec<Ending> = solver.end(Aim::Planned, laid).into_iter().collect();
    let next = solver.rest.outcome(site).gaps;
    for courses in [next, next + 1] {
        let planned = site.layout.verdict == Verdict::Full && courses == laid;
        if !planned {
            endings.extend(solver.end(Aim::Whole, courses));
        }
    }
    endings
}

/// As planned, and nothing else.
pub fn as_planned(site: &Site<'_>, pace: &Pace, gap: Length, step: Length) -> Option<Ending> {
    let solver = Solver {
        site,
        pace,
        rest: Rest::of(site, pace, gap),
        step,
    };
    solver.end(Aim::Planned, site.layout.courses.len() as i64)
}

struct Solver<'a> {
    site: &'a Site<'a>,
    pace: &'a Pace,
    rest: Rest,
    step: Length,
}

impl Solver<'_> {
    /// How wide a course is to be.
    fn width(&self, aim: Aim, course: i64) -> Length {
        match aim {
            Aim::Planned => self.site.width(course),
            Aim::Whole => self.site.across.face,
        }
    }

    /// Solves for the gaps that bring the last of so many courses to its place.
    fn end(&self, aim: Aim, courses: i64) -> Option<Ending> {
        let (site, pace) = (self.site, self.pace);
        let after = pace.last.after;
        let gaps = courses - after;
        if gaps < 1 {
            return None;
        }
        let (mut own, other) = self.rest.across.share(gaps);
        let mixed = site.job.courses.mixed;
        // Where only the other fastener is left, it is the one to be set.
        let (fastener, others) = match mixed.filter(|_| own == 0) {
            Some(mixed) => {
                own = other;
                (mixed.fastener, Length::ZERO)
            }
            None => {
                let gap = self.rest.across.mixed.map_or(Length::ZERO, |(_, gap)| gap);
                (site.fastener, gap * other)
            }
        };
        let now = match fastener == site.fastener {
            true => self.rest.across.gap,
            false => self.rest.across.mixed.map_or(Length::ZERO, |(_, gap)| gap),
        };
        let far_edge = match aim {
            Aim::Planned => site.layout.courses.last()?.to,
            Aim::Whole => site.across.width,
        };
        let boards: Length = (after + 1..=courses).map(|k| self.width(aim, k)).sum();
        // What the gaps to be set may take together, as they are set.
        let room = far_edge - pace.last.at - boards - others - pace.drift * own;
        let range = site.job.fasteners[fastener].gap;
        let (settings, possible) = self.set(aim, room, own, range);
        let taken: Length = settings.iter().map(|s| s.gap * s.gaps).sum();
        let short = room - taken;
        let as_is = now * own - pace.drift * own;
        Some(Ending {
            aim,
            courses,
            fastener,
            gap: Length::from_units(room.units().div_euclid(own)),
            possible,
            // Gaps that take less leave more for the last course.
            outcome: self.rest.wider_by(as_is - taken).outcome(site),
            overhang: overhang(&site.job.edges.last, as_is - room),
            marks: match possible {
                true => self.marks(aim, courses, &settings, short),
                false => Vec::new(),
            },
            settings,
        })
    }

    /// How so many gaps take a room together, in steps within a range: some of
    /// them a step wider than the others, so that they come to it as nearly as
    /// half a step; for a whole course within a step, and never past its edge.
    fn set(&self, aim: Aim, room: Length, gaps: i64, range: Span) -> (Vec<Setting>, bool) {
        let step = self.step.units();
        let least = -(-range.least.units()).div_euclid(step) * step;
        let most = range.most.units().div_euclid(step) * step;
        if !range.is_free() || least > most {
            let setting = Setting {
                gap: range.set,
                gaps,
            };
            let enough = (room - range.set * gaps).abs() <= self.site.tape;
            return (vec![setting], enough);
        }
        // What a tape does not show is near enough, but no whole course goes past
        // its edge.
        let near = (step / 2).max(self.site.tape.units());
        let (past, up) = match aim {
            Aim::Planned => (near, step / 2),
            Aim::Whole => (0, 0),
        };
        let inside = least * gaps - past <= room.units() && room.units() <= most * gaps + near;
        let room = room.units().clamp(least * gaps, most * gaps);
        let low = (room / gaps).div_euclid(step) * step;
        let wider = (room - low * gaps + up).div_euclid(step).min(gaps);
        let mut settings = vec![
            Setting {
                gap: Length::from_units(low),
                gaps: gaps - wider,
            },
            Setting {
                gap: Length::from_units(low + step),
                gaps: wider,
            },
        ];
        settings.retain(|setting| setting.gaps > 0);
        settings.sort_by_key(|setting| -setting.gaps);
        (settings, inside)
    }

    /// Where courses fall with these gaps.
    fn marks(&self, aim: Aim, courses: i64, settings: &[Setting], short: Length) -> Vec<Mark> {
        let mut each = settings
            .iter()
            .flat_map(|setting| std::iter::repeat_n(setting.gap, setting.gaps as usize));
        let mixed = self.rest.across.mixed.map_or(Length::ZERO, |(_, gap)| gap);
        let mut at = self.pace.last.at;
        let mut marks = Vec::new();
        for course in self.pace.last.after + 1..=courses {
            at += match each.next() {
                Some(gap) => gap + self.pace.drift,
                None => mixed,
            };
            let width = self.width(aim, course);
            at += width;
            let last = match width < self.site.across.face {
                // It is ripped to its edge.
                true => at + short,
                false => at.min(self.site.across.width),
            };
            let at = if course == courses { last } else { at };
            marks.push(Mark { course, at });
        }
        marks
    }
}

/// The overhang of the last edge moved by so much, if its range allows that.
fn overhang(edge: &Edge, by: Length) -> Option<Length> {
    let Edge::Open { overhang, .. } = edge else {
        return None;
    };
    let to = overhang.set + by;
    (overhang.is_free() && by != Length::ZERO && (overhang.least..=overhang.most).contains(&to))
        .then_some(to)
}
