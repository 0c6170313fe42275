//! Where the last course falls with one fastener, and how long that stays true:
//! the gaps that leave count and verdict as they are, what a wrong gap does,
//! and what errors do. Which fastener is best is left to whoever compares.

use super::across::{Across, Outcome, Verdict};
use super::chance::{Errors, Spread};
use crate::deck::Surface;
use crate::job::{Finish, Job};
use crate::length::{Length, Unit};

/// Where the last course falls with one fastener.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// The fastener, by its place in the job.
    pub fastener: usize,
    /// What decides the courses.
    pub across: Across,
    /// What they come to.
    pub outcome: Outcome,
    /// The gaps with which the count of courses stays the same.
    pub gap_holds: Holds,
    /// The gaps with which the verdict stays the same too.
    pub verdict_holds: Holds,
    /// What the courses come to when the gap is not what it is said to be,
    /// from the widest error below to the widest above.
    pub gap_wrong: Vec<GapWrong>,
    /// What the last course loses to one unit more of this or that.
    pub sensitivity: Sensitivity,
    /// What errors do to it, when anything is said to be off.
    pub risk: Option<Risk>,
}

/// The gaps with which something stays as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Holds {
    /// The least such gap.
    pub least: Length,
    /// The greatest such gap; there is none where any wider gap will do.
    pub most: Option<Length>,
}

impl Holds {
    /// Whether it stays so with this gap.
    pub fn contains(&self, gap: Length) -> bool {
        gap >= self.least && self.most.is_none_or(|most| gap <= most)
    }
}

/// What the courses come to with a gap other than was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GapWrong {
    /// How much wider the gap is; narrower below zero.
    pub by: Length,
    /// What they come to; nothing where the gap would be below zero.
    pub outcome: Option<Outcome>,
}

/// What one unit more takes from the last course's width (before a course is
/// added or dropped), in units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sensitivity {
    /// One unit more of every gap of the fastener.
    pub gap: i64,
    /// One unit more of every board's face.
    pub face: i64,
    /// One unit more of frame: it gives, so this is below zero.
    pub frame: i64,
}

/// What errors do to the last course.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Risk {
    /// Least and greatest width of the last course with every error at its limit.
    pub worst: [Length; 2],
    /// The same by root-sum-square.
    pub rss: [Length; 2],
    /// The chance that one more course is wanted.
    pub chance_extra_course: f64,
    /// The chance that a course comes out narrower than the narrowest rip.
    pub chance_sliver: f64,
}

impl Forecast {
    /// The width of course `k`, counted from 0 at the first edge.
    pub fn course_width(&self, k: i64) -> Length {
        self.across.course_width(&self.outcome, k)
    }

    /// The least error of the gap, of those that are looked at, that changes
    /// the count of courses or the verdict.
    pub fn changed_by(&self) -> Option<Length> {
        let now = (self.outcome.laid, self.outcome.verdict);
        let changes = |wrong: &&GapWrong| {
            let then = wrong.outcome.map(|then| (then.laid, then.verdict));
            then.is_some_and(|then| then != now)
        };
        let errors = self.gap_wrong.iter().filter(changes);
        errors.map(|wrong| wrong.by.abs()).min()
    }
}

/// Forecasts the last course of a job with one of its fasteners.
///
/// # Panics
/// When the job has no such fastener.
pub fn forecast(job: &Job, surface: &Surface, fastener: usize) -> Forecast {
    let across = Across::of(job, surface, fastener);
    let outcome = across.outcome();
    let gap_holds = count_holds(&across, &outcome);
    let errors = Errors::of(job, fastener);
    let wrong = |by: Length| GapWrong {
        by,
        outcome: (across.gap + by >= Length::ZERO)
            .then(|| across.with_gap(across.gap + by).outcome()),
    };
    let (own, _) = across.share(outcome.gaps);
    Forecast {
        fastener,
        across,
        outcome,
        gap_holds,
        verdict_holds: verdict_holds(&across, outcome.verdict, gap_holds),
        gap_wrong: gap_errors(job.unit).map(wrong).to_vec(),
        sensitivity: Sensitivity {
            gap: own,
            face: outcome.gaps,
            frame: -1,
        },
        risk: errors.any().then(|| risk(&across, &outcome, &errors)),
    }
}

/// The errors of a gap that are always looked at: what a tape just shows.
fn gap_errors(unit: Unit) -> [Length; 4] {
    match unit {
        Unit::Inch => [-4, -2, 2, 4].map(Length::from_64ths),
        Unit::Millimetre => [-2, -1, 1, 2].map(Length::from_mm),
    }
}

fn risk(across: &Across, outcome: &Outcome, errors: &Errors) -> Risk {
    let spread = Spread::of(across, outcome, errors);
    let about = |half: Length| [outcome.last - half, outcome.last + half];
    Risk {
        worst: about(spread.worst),
        rss: about(spread.rss()),
        chance_extra_course: spread.chance_extra_course(across, outcome),
        chance_sliver: spread.chance_sliver(across, outcome),
    }
}

/// The gaps with which as many courses are laid.
fn count_holds(across: &Across, outcome: &Outcome) -> Holds {
    let k = outcome.laid;
    // What `gaps` own gaps may take when `boards` whole boards are to end
    // exactly at the edge.
    let room = |boards: i64, gaps: i64| {
        let (own, other) = across.share(gaps);
        let mixed = across.mixed.map_or(Length::ZERO, |(_, gap)| gap * other);
        ((across.width - across.face * boards - mixed).units(), own)
    };
    let (least, most) = if across.finish == Finish::LeaveOut {
        // k whole boards fit, and k + 1 do not.
        let (fits, own) = room(k, (k - 1).max(0));
        let (too_many, next) = room(k + 1, k);
        (
            if next == 0 {
                0
            } else {
                too_many.div_euclid(next) + 1
            },
            (own > 0).then(|| fits.div_euclid(own)),
        )
    } else {
        // Course k begins before the edge, and course k + 1 would not.
        let (begins, own) = room(k - 1, k - 1);
        let (ends, next) = room(k, k);
        (
            if next == 0 {
                0
            } else {
                -(-ends).div_euclid(next)
            },
            (own > 0).then(|| (begins - 1).div_euclid(own)),
        )
    };
    Holds {
        least: Length::from_units(least.max(0)),
        most: most.map(Length::from_units),
    }
}

/// The gaps with which the verdict stays the same as well. While the count
/// stays, courses only get narrower as gaps get wider, so the verdict passes
/// through its values once each and the ends can be found by halving.
fn verdict_holds(across: &Across, verdict: Verdict, count: Holds) -> Holds {
    let Some(most) = count.most else {
        return count;
    };
    let same = |units: i64| across.with_gap(Length::from_units(units)).outcome().verdict == verdict;
    // The last gap with the verdict, going from one that has it towards one
    // that may not.
    let reach = |mut inside: i64, end: i64| {
        if same(end) {
            return end;
        }
        let mut outside = end;
        while (outside - inside).abs() > 1 {
            let middle = inside + (outside - inside) / 2;
            if same(middle) {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        inside
    };
    let gap = across.gap.units();
    Holds {
        least: Length::from_units(reach(gap, count.least.units())),
        most: Some(Length::from_units(reach(gap, most.units()))),
    }
}
