//! Courses that were measured at both ends: how far they are out of parallel
//! with the starting edge, what that makes of the last course, and how to take
//! it out. Each end is a line of its own with a pace of its own.

use super::finish::{Ending, as_planned};
use super::pace::{Pace, Point};
use super::rest::{Going, Rest};
use super::site::Site;
use crate::caution::Caution;
use crate::length::Length;

/// How the courses run.
#[derive(Debug, Clone, PartialEq)]
pub struct Parallel {
    /// How much further the right end is than the left one.
    pub off: Length,
    /// Over this length.
    pub over: Length,
    /// At the left end.
    pub left: SideOfCourses,
    /// At the right end.
    pub right: SideOfCourses,
    /// Gaps left until the last course as planned.
    pub gaps: i64,
    /// How much wider each of them is to be at the left end than at the right
    /// one, so that the last course is parallel again.
    pub each: Length,
}

/// One end of the courses.
#[derive(Debug, Clone, PartialEq)]
pub struct SideOfCourses {
    /// What the tape said.
    pub at: Length,
    /// Its pace.
    pub pace: Pace,
    /// How wide the last course is here if nothing changes; 0 where nothing is
    /// left of it.
    pub last_width: Length,
    /// How far it then ends short of the edge here.
    pub short_by: Length,
    /// What to set here to end as planned.
    pub ending: Option<Ending>,
}

/// How courses run that were measured at both ends, `laid` of them to come in
/// the middle.
pub fn parallel(
    site: &Site<'_>,
    after: i64,
    ends: [Length; 2],
    gap: Length,
    laid: i64,
    step: Length,
) -> Parallel {
    let side = |at: Length| {
        let point = Point {
            after,
            at,
            readings: 1,
            frame: Length::ZERO,
        };
        let pace = Pace::of(site, point);
        let across = Rest::of(site, &pace, gap).across;
        let gaps = laid - after;
        let (own, other) = across.share(gaps);
        let mixed = across.mixed.map_or(Length::ZERO, |(_, gap)| gap);
        let last = across.width - across.face * gaps - across.gap * own - mixed * other;
        SideOfCourses {
            at,
            pace,
            last_width: last.clamp(Length::ZERO, across.face),
            short_by: (last - across.face).max(Length::ZERO),
            ending: as_planned(site, &pace, gap, step),
        }
    };
    let [left, right] = ends.map(side);
    let gaps = (site.layout.courses.len() as i64 - after).max(0);
    let off = ends[1] - ends[0];
    // What either end runs wider it goes on doing, unless it is set narrower.
    let runs = right.pace.drift - left.pace.drift;
    let each = match gaps {
        0 => Length::ZERO,
        gaps => Length::from_units(off.units() / gaps) + runs,
    };
    Parallel {
        off,
        over: site.surface.run(),
        left,
        right,
        gaps,
        each,
    }
}

impl Parallel {
    /// A caution where an end of the last course comes out too thin, and the
    /// middle does not.
    pub(super) fn thin(&self, site: &Site<'_>, going: &Going) -> Option<Caution> {
        let unit = site.job.unit;
        let least = site.across.narrowest_rip;
        let middle = going.outcome.last_width.unwrap_or_default();
        let (name, side) = match self.left.last_width < self.right.last_width {
            true => ("left", &self.left),
            false => ("right", &self.right),
        };
        (side.last_width < least && middle >= least).then(|| {
            Caution::new(
                format!(
                    "at this pace the last course is {} wide at its {name} end, a sliver there",
                    side.last_width.show(unit)
                ),
                "take it out over the courses that are left, or see where the frame's edge runs",
            )
        })
    }
}
