//! At which pace the courses come out: how much wider each pitch is than board
//! and gap as set, and how far that, and what is still to be laid, may be off.
//!
//! What each board and gap is off by itself adds up along the way like a random
//! walk, so that the way from the start to the last reading holds all that
//! earlier readings say of the slope; they serve to doubt it. The slope is
//! weighed against how far all boards and all gaps may be off alike, as long as
//! the reading agrees with that; else the reading alone decides.

use super::site::{Site, Stretch, squared};
use crate::length::Length;

/// The tape at one line across the courses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Point {
    /// After this course.
    pub after: i64,
    /// From the starting edge to its far edge.
    pub at: Length,
    /// How many readings it is the mean of.
    pub readings: i128,
    /// How far it is off with the frame, where it was read from its last edge.
    pub frame: Length,
}

/// What a pace rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// No gap was measured yet: boards and gaps are taken as the job has them.
    Plan,
    /// The reading, weighed against what may be off alike.
    Weighed,
    /// The reading alone: it is further off than that and chance allow for.
    Beyond,
}

/// A board and a gap.
const PITCH: Stretch = Stretch {
    boards: 1,
    own: 1,
    other: 0,
};

/// The pace of the courses at one line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    /// The last reading.
    pub last: Point,
    /// How far it is from where boards and gaps as set would be.
    pub off: Length,
    /// How far it might be off by the job's tolerances and the tape's.
    pub allowed: Length,
    /// What each pitch comes out wider than board and gap as set.
    pub drift: Length,
    /// How far the pitch may be from that, plus or minus.
    pub within: Length,
    /// What it rests on.
    pub basis: Basis,
    so_far: Stretch,
}

impl Pace {
    /// The pace at a line's last reading.
    pub fn of(site: &Site<'_>, last: Point) -> Pace {
        let off = last.at - site.far_edge(last.after);
        let so_far = site.stretch(0, last.after);
        let one = PITCH;
        let tape = squared(site.tape) / last.readings + squared(last.frame);
        let alike = site.alike(so_far, so_far);
        let chance = site.one_by_one(so_far) + tape;
        let allowed = alike + chance;
        let gaps = so_far.gaps();
        let basis = match gaps {
            0 => Basis::Plan,
            _ if squared(off) <= allowed => Basis::Weighed,
            _ => Basis::Beyond,
        };
        let (drift, within) = match basis {
            Basis::Plan => (Length::ZERO, root(site.alike(one, one) as f64)),
            Basis::Weighed => {
                let shared = site.alike(one, so_far);
                let left = site.alike(one, one) as f64 - (shared as f64).powi(2) / allowed as f64;
                (share(off, shared, allowed), root(left))
            }
            Basis::Beyond => (
                share(off, 1, i128::from(gaps)),
                root(chance as f64 / (gaps as f64).powi(2)),
            ),
        };
        Pace {
            last,
            off,
            allowed: root(allowed as f64),
            drift,
            within,
            basis,
            so_far,
        }
    }

    /// How far the near edge of a course still to be laid may be from where the
    /// pace leads, half the root-sum-square in units; `ahead` is what lies
    /// before it. The tape's error is in the place and, through the slope, once
    /// more in what is ahead.
    pub fn spread(&self, site: &Site<'_>, ahead: Stretch) -> f64 {
        let tape = squared(site.tape) as f64 / self.last.readings as f64;
        let by_chance = site.one_by_one(ahead) as f64;
        let alike = |one, other| site.alike(one, other) as f64;
        let so_far = self.so_far;
        let past = site.one_by_one(so_far) as f64 + tape + squared(self.last.frame) as f64;
        let square = match self.basis {
            Basis::Plan => by_chance + alike(ahead, ahead) + tape,
            Basis::Weighed => {
                let all = past + alike(so_far, so_far);
                let times = ahead.gaps() as f64 * alike(PITCH, so_far) / all;
                by_chance + alike(ahead, ahead) - 2.0 * times * alike(ahead, so_far)
                    + times.powi(2) * all
                    + tape
                    + 2.0 * times * tape
            }
            Basis::Beyond => {
                let times = ahead.gaps() as f64 / so_far.gaps() as f64;
                by_chance + times.powi(2) * past + tape + 2.0 * times * tape
            }
        };
        square.max(0.0).sqrt()
    }
}

impl Pace {
    /// The same with every error at its limit: the tape, the boards and gaps
    /// ahead one by one, and the slope as far from what it is taken for as the
    /// reading and what may be off alike allow. Never less than the spread.
    pub fn worst(&self, site: &Site<'_>, ahead: Stretch) -> Length {
        let slope = self.slope_off(site) * ahead.gaps();
        let worst = site.tape + site.at_limit(ahead) + slope;
        worst.max(Length::from_units(self.spread(site, ahead).ceil() as i64))
    }

    /// How far each pitch may be from the pace, every error at its limit.
    fn slope_off(&self, site: &Site<'_>) -> Length {
        let errors = &site.errors;
        let alike = errors.faces + errors.gaps.max(errors.other_gaps);
        let gaps = self.so_far.gaps();
        // What is off one by one, and what only the first board has.
        let chance = site.at_limit(self.so_far) + errors.faces + site.tape + self.last.frame;
        let up = |length: Length| Length::from_units(-(-length.units()).div_euclid(gaps.max(1)));
        let by_reading = [
            up(self.off + chance) - self.drift,
            up(chance - self.off) + self.drift,
        ];
        let by_job = [alike - self.drift, alike + self.drift];
        let mixed = site.across.mixed.is_some();
        let off = match self.basis {
            Basis::Plan => by_job,
            Basis::Beyond => by_reading,
            Basis::Weighed if mixed => by_job,
            Basis::Weighed => [0, 1].map(|way| by_reading[way].min(by_job[way])),
        };
        off[0].max(off[1]).max(Length::ZERO)
    }
}

/// The root of a square of lengths, to the nearest unit.
pub fn root(square: f64) -> Length {
    Length::from_units(square.max(0.0).sqrt().round() as i64)
}

/// A length times a fraction, to the nearest unit.
pub fn share(length: Length, over: i128, under: i128) -> Length {
    let under = under.max(1);
    let product = i128::from(length.units()) * over;
    let nearest = (product * 2 + under).div_euclid(under * 2);
    Length::from_units(nearest as i64)
}
