//! What is still to be laid, and how it ends if it goes on at the pace so far:
//! the courses left are a small deck of their own, which begins with the course
//! that was measured. What would bring it back to plan is left to
//! [`super::finish`].

use super::pace::Pace;
use super::site::{Site, Stretch};
use crate::courses::{Across, Outcome, Spread};
use crate::job::Finish;
use crate::length::Length;

/// How the deck ends if nothing changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Going {
    /// What the courses come to, all of them, counted from the first edge.
    pub outcome: Outcome,
    /// The same with the last course as narrow, and as wide, as it may yet come
    /// out: half the root-sum-square of all errors either way.
    pub between: [Outcome; 2],
    /// Half that root-sum-square.
    pub spread: Length,
    /// The same with every error at its limit, and how far that is either way.
    pub at_worst: [Outcome; 2],
    /// How far the last course may be off at worst.
    pub worst: Length,
    /// The chance that more courses are wanted than planned.
    pub chance_more: f64,
    /// The chance that fewer are.
    pub chance_fewer: f64,
    /// The chance that a course comes out narrower than the narrowest rip.
    pub chance_sliver: f64,
}

/// The courses still to be laid at one line.
#[derive(Debug, Clone, Copy)]
pub struct Rest {
    /// The courses left as a deck, the course measured its first one.
    pub across: Across,
    /// The courses before the one measured.
    pub before: i64,
}

impl Rest {
    /// What is left at a pace, the next gaps set to this.
    pub fn of(site: &Site<'_>, pace: &Pace, gap: Length) -> Rest {
        let planned = site.across;
        Rest {
            across: Across {
                width: planned.width - pace.last.at + planned.face,
                gap: gap + pace.drift,
                mixed: planned
                    .mixed
                    .map(|(gaps, other)| (gaps, other + pace.drift)),
                // The first course lies there already.
                finish: match planned.finish {
                    Finish::RipFirst | Finish::Balanced => Finish::RipLast,
                    finish => finish,
                },
                ..planned
            },
            before: pace.last.after - 1,
        }
    }

    /// What all courses come to.
    pub fn outcome(&self, site: &Site<'_>) -> Outcome {
        self.whole(site, self.across.outcome())
    }

    /// The same with another width left.
    pub fn wider_by(&self, by: Length) -> Rest {
        Rest {
            across: Across {
                width: self.across.width + by,
                ..self.across
            },
            ..*self
        }
    }

    fn whole(&self, site: &Site<'_>, outcome: Outcome) -> Outcome {
        Outcome {
            laid: outcome.laid + self.before,
            gaps: outcome.gaps + self.before,
            first_width: Some(site.width(1)),
            ..outcome
        }
    }

    /// Whether nothing is left to be laid.
    pub fn is_done(&self) -> bool {
        self.across.width <= self.across.face || self.across.outcome().laid <= 1
    }

    /// The gaps before the last of so many courses, and the boards among them.
    pub fn ahead(&self, courses: i64) -> Stretch {
        let gaps = courses - self.before - 1;
        let (own, other) = self.across.share(gaps);
        Stretch {
            boards: gaps - 1,
            own,
            other,
        }
    }

    /// How it ends at this pace.
    pub fn going(&self, site: &Site<'_>, pace: &Pace) -> Going {
        let outcome = self.across.outcome();
        // What is left to the frame's last edge was read, or is off with the frame.
        let frame = site.errors.frame - pace.last.frame;
        let ahead = self.ahead(outcome.gaps + 1 + self.before);
        let rss = pace.spread(site, ahead).hypot(frame.units() as f64);
        let worst = pace.worst(site, ahead) + frame;
        let spread = Spread::about(outcome.last, rss);
        let half = spread.rss();
        let planned = site.layout.courses.len() as i64 - self.before;
        // How wide the course is before which one more, or one fewer, is laid.
        let pitch = self.across.face + self.across.next_gap(outcome.gaps);
        let laid_from = match self.across.finish {
            Finish::LeaveOut => self.across.face - Length::from_units(1),
            _ => Length::ZERO,
        };
        let beyond = planned - outcome.gaps;
        Going {
            outcome: self.whole(site, outcome),
            between: [-half, half].map(|by| self.wider_by(by).outcome(site)),
            spread: half,
            at_worst: [-worst, worst].map(|by| self.wider_by(by).outcome(site)),
            worst,
            chance_more: spread.chance_above(pitch * beyond + laid_from),
            chance_fewer: 1.0 - spread.chance_above(pitch * (beyond - 1) + laid_from),
            chance_sliver: spread.chance_sliver(&self.across, &outcome),
        }
    }
}

/// Whether courses end as others do, as far as a tape can tell.
pub fn alike(one: &Outcome, other: &Outcome, tape: Length) -> bool {
    let near = |one: Length, other: Length| (one - other).abs() <= tape;
    let [a, b] = [one, other].map(|outcome| outcome.last_width.unwrap_or_default());
    one.laid == other.laid && near(a, b) && near(one.short_by, other.short_by)
}
