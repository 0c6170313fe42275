//! The ways to finish across the boards: whole courses by an overhang, a gap,
//! some other gaps or the frame, alone or together where none is enough alone,
//! and the finishes that share a rip. It solves for sizes and keeps what works;
//! what a way costs is left to its neighbours.

use super::change::{Change, play};
use super::way::{Ending, Kind, Way};
use crate::courses::{Across, Verdict};
use crate::deck::{DeckError, surface};
use crate::job::{Edge, Finish, Job, Mixed, Side};
use crate::length::Length;

/// Every way to finish across the boards with one fastener; the first leaves
/// all as it is.
///
/// # Errors
/// When the job has no deck.
///
/// # Panics
/// When the job has no such fastener.
pub fn ways(job: &Job, fastener: usize) -> Result<Vec<Way>, DeckError> {
    let surface = surface(job)?;
    let across = Across::of(job, &surface, fastener);
    let mut ways: Vec<Way> = Way::new(job, fastener, &[Kind::Leave], Vec::new())
        .into_iter()
        .collect();
    let outcome = across.outcome();
    if outcome.verdict != Verdict::Full {
        let solver = Solver {
            job,
            fastener,
            across,
        };
        let fewer = outcome.gaps;
        for courses in [fewer, fewer + 1] {
            if courses >= 1 {
                solver.whole(courses, &mut ways);
            }
        }
        let by_overhang = ways.iter().any(|way| way.kinds == [Kind::Overhang]);
        if outcome.verdict == Verdict::Sliver && !by_overhang {
            ways.extend(solver.no_sliver());
        }
        ways.extend(finishes(job, fastener, &across));
    }
    let mut seen: Vec<Vec<Change>> = Vec::new();
    ways.retain(|way| {
        let new = !seen.contains(&way.changes);
        seen.push(way.changes.clone());
        new
    });
    Ok(ways)
}

/// The finishes that do something else with a rip than the job's.
fn finishes(job: &Job, fastener: usize, across: &Across) -> Vec<Way> {
    let rip = across.outcome();
    let courses = rip.gaps + 1;
    let others = [
        (Kind::Balanced, Finish::Balanced, 2),
        (Kind::Shared, Finish::Shared, 3),
        (Kind::RipFirst, Finish::RipFirst, 2),
    ];
    others
        .into_iter()
        .filter(|(_, finish, least)| {
            rip.last > Length::ZERO && courses >= *least && *finish != job.courses.finish
        })
        .filter_map(|(kind, finish, _)| {
            Way::new(job, fastener, &[kind], vec![Change::Finish(finish)])
        })
        .collect()
}

/// Solves for a count of whole courses with one fastener.
struct Solver<'a> {
    job: &'a Job,
    fastener: usize,
    across: Across,
}

/// What a solution may move.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Moves {
    overhang: bool,
    gap: Option<Exactness>,
    /// Another fastener, by its place in the job.
    mixed: Option<usize>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Exactness {
    /// To a whole unit.
    Exact,
    /// To what can be set by hand.
    Settable,
    /// To the widest that can be set by hand and leaves all courses whole.
    SettableBelow,
}

const NOTHING: Moves = Moves {
    overhang: false,
    gap: None,
    mixed: None,
};

impl Moves {
    /// Whether these do no more than those.
    fn within(self, other: Moves) -> bool {
        (!self.overhang || other.overhang)
            && (self.gap.is_none() || other.gap.is_some())
            && (self.mixed.is_none() || other.mixed.is_some())
    }
}

impl Solver<'_> {
    /// The ways that lead to so many whole courses: single ones, then two
    /// together where no single one of them is enough, then three.
    fn whole(&self, courses: i64, ways: &mut Vec<Way>) {
        let gap = |how| Moves {
            gap: Some(how),
            ..NOTHING
        };
        let overhang = Moves {
            overhang: true,
            ..NOTHING
        };
        let mut plans = vec![
            overhang,
            gap(Exactness::Exact),
            gap(Exactness::Settable),
            gap(Exactness::SettableBelow),
        ];
        let others = (0..self.job.fasteners.len())
            .filter(|other| *other != self.fastener && self.job.courses.mixed.is_none());
        let mixed: Vec<Moves> = others
            .map(|other| Moves {
                mixed: Some(other),
                ..NOTHING
            })
            .collect();
        plans.extend(&mixed);
        plans.push(Moves {
            gap: Some(Exactness::Settable),
            ..overhang
        });
        for both in &mixed {
            plans.push(Moves {
                overhang: true,
                ..*both
            });
            plans.push(Moves {
                gap: Some(Exactness::Settable),
                ..*both
            });
        }
        for all in &mixed {
            plans.push(Moves {
                overhang: true,
                gap: Some(Exactness::Settable),
                ..*all
            });
        }
        let mut enough: Vec<Moves> = Vec::new();
        for moves in plans {
            let single = [moves.overhang, moves.gap.is_some(), moves.mixed.is_some()]
                .iter()
                .filter(|moved| **moved)
                .count()
                == 1;
            if !single && enough.iter().any(|fewer| fewer.within(moves)) {
                continue;
            }
            let Some(way) = self.solve(courses, moves) else {
                continue;
            };
            if way.ending == Ending::Whole && moves.gap != Some(Exactness::Exact) {
                enough.push(moves);
            }
            ways.push(way);
        }
        ways.extend(self.frame(courses));
    }

    /// The way that brings so many whole courses to the edge with some moves.
    fn solve(&self, courses: i64, moves: Moves) -> Option<Way> {
        let mut across = self.across;
        let mut changes = Vec::new();
        let mut kinds = Vec::new();
        if let Some(how) = moves.gap {
            let alone = !moves.overhang && moves.mixed.is_none();
            let gap = self.gap(&across, courses, how, alone)?;
            if gap == across.gap {
                return None;
            }
            across = across.with_gap(gap);
            changes.push(Change::Gap(self.fastener, gap));
            kinds.push(Kind::Gap);
        }
        if let Some(other) = moves.mixed {
            let mixed = self.mixed(&across, courses, other, moves.overhang)?;
            across.mixed = Some((mixed.gaps, self.job.fasteners[other].gap.set));
            changes.push(Change::Mixed(mixed));
            kinds.push(Kind::MixedFasteners);
        }
        if moves.overhang {
            let by = across.reach(courses) - across.width;
            changes.extend(self.overhangs(by)?);
            kinds.push(Kind::Overhang);
        }
        let way = Way::new(self.job, self.fastener, &kinds, changes)?;
        let whole = way.outcome.rip.is_none() && way.outcome.laid == courses;
        // A gap that can only nearly be set may cost a shaving; it is shown as
        // the rip it is.
        let nearly = way.kinds == [Kind::Gap] && way.ending < Ending::Rip;
        (whole || nearly).then_some(way)
    }

    /// The gap that brings so many whole courses to the edge: the exact one
    /// rounded down, or the nearest that can be set. Unless the gap is to do it
    /// alone, it comes as near as its range allows.
    fn gap(&self, across: &Across, courses: i64, how: Exactness, alone: bool) -> Option<Length> {
        let fastener = &self.job.fasteners[self.fastener];
        let range = fastener.gap;
        // A measured gap at the end of its range may lie outside what was stated.
        let measured_outside =
            fastener.trial.is_some() && (range.set == range.least || range.set == range.most);
        let (own, _) = across.share(courses - 1);
        if !range.is_free() || measured_outside || own == 0 {
            return None;
        }
        let room = across.width - across.with_gap(Length::ZERO).reach(courses);
        let exact = Length::from_units(room.units().div_euclid(own));
        let inside = |gap: &Length| (range.least..=range.most).contains(gap);
        if alone && !inside(&exact) {
            return None;
        }
        match how {
            Exactness::Exact => Some(exact),
            Exactness::Settable | Exactness::SettableBelow => {
                let step = self.job.unit.setting().units();
                let clamped = exact.clamp(range.least, range.most);
                let below = clamped.units().div_euclid(step) * step;
                let nearest = (clamped.units() + step / 2).div_euclid(step) * step;
                let tried = match how {
                    Exactness::SettableBelow => [below; 3],
                    _ => [nearest, below, below + step],
                };
                tried.map(Length::from_units).into_iter().find(inside)
            }
        }
    }

    /// How many gaps by another fastener bring so many whole courses just up to
    /// the edge, or just past it where an overhang may follow.
    fn mixed(&self, across: &Across, courses: i64, other: usize, past: bool) -> Option<Mixed> {
        let wider = (self.job.fasteners[other].gap.set - across.gap).units();
        let room = (across.width - across.reach(courses)).units();
        if wider == 0 {
            return None;
        }
        let up_to = if wider > 0 {
            room.div_euclid(wider)
        } else {
            // Ever fewer narrow gaps until the courses no longer reach past.
            -((-room).div_euclid(wider))
        };
        let count = |gaps: i64| -> Option<Mixed> {
            // None at all, or all of them, is no mixture.
            let mixture = (1..courses - 1).contains(&gaps);
            mixture.then_some(Mixed {
                fastener: other,
                gaps: u32::try_from(gaps).ok()?,
            })
        };
        let past_it = if wider > 0 { up_to + 1 } else { up_to - 1 };
        let rest = |gaps: i64| Length::from_units(gaps * wider - room);
        if past && self.overhangs(rest(up_to)).is_none() {
            return count(past_it);
        }
        count(up_to)
    }

    /// Overhangs that move the surface's width by so much: the last edge's as
    /// far as it goes, then the first's.
    fn overhangs(&self, by: Length) -> Option<Vec<Change>> {
        moved(self.job, &[Side::Last, Side::First], by)
    }

    /// The frame that is exactly so many whole courses.
    fn frame(&self, courses: i64) -> Option<Way> {
        let by = self.across.reach(courses) - self.across.width;
        let to = self.job.deck.across + by;
        if self.job.deck.built || to <= Length::ZERO {
            return None;
        }
        let change = vec![Change::Across(to)];
        Way::new(self.job, self.fastener, &[Kind::Frame], change)
            .filter(|way| way.outcome.verdict == Verdict::Full)
    }

    /// The least overhang that makes a sliver a rip that may be laid, where no
    /// overhang makes all courses whole.
    fn no_sliver(&self) -> Option<Way> {
        let outcome = self.across.outcome();
        let least = self.across.sliver_below(outcome.gaps + 1);
        let changes = self.overhangs(least - outcome.last)?;
        Way::new(self.job, self.fastener, &[Kind::Overhang], changes)
            .filter(|way| way.outcome.verdict == Verdict::Rip)
    }
}

/// Overhangs moved by so much together, the first side as far as it goes and
/// the next for the rest; nothing where they cannot move so far.
pub(super) fn moved(job: &Job, sides: &[Side], by: Length) -> Option<Vec<Change>> {
    let mut changes = Vec::new();
    let mut rest = by;
    for &side in sides {
        let (down, up) = play(job, side);
        let step = rest.clamp(down, up);
        if let Edge::Open { overhang, .. } = job.edges.at(side)
            && step != Length::ZERO
        {
            changes.push(Change::Overhang(side, overhang.set + step));
            rest -= step;
        }
    }
    (rest == Length::ZERO && !changes.is_empty()).then_some(changes)
}
