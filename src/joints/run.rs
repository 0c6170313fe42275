//! One run and the pieces it may be cut into: where a joint may fall, which
//! piece may lie between two places, and how long it is cut.

use super::block::TooLarge;
use crate::deck::{Supports, Surface};
use crate::job::{Job, JointRules};
use crate::length::Length;

/// A place where a piece ends: the run's start, a joint, or the run's end.
/// Places count from 0 (the start) up to [`Run::end`].
pub type Place = u16;

/// A run, its places and the pieces between them.
#[derive(Debug, Clone)]
pub struct Run {
    /// Where the run starts along.
    pub from: Length,
    /// Where it ends along.
    pub to: Length,
    /// The support under each joint place, ascending; place `p` is `joints[p - 1]`.
    pub joints: Vec<Length>,
    /// The number of each joint's support among all supports.
    numbers: Vec<u32>,
    /// Distinct lengths pieces are cut to, descending.
    pub lengths: Vec<Length>,
    end_gap: Length,
    /// Where the pieces that start at each place are listed.
    first: Vec<u32>,
    /// For each start, then for each end after it, the length that fits between
    /// them; `NONE` where no piece may lie.
    pieces: Vec<u16>,
}

/// Stands for no piece.
const NONE: u16 = u16::MAX;
/// Pairs of places looked at; more are of no use to anybody.
const MOST_PAIRS: usize = 1_000_000;
/// Different lengths of pieces, each a row of every program.
const MOST_LENGTHS: usize = 3_000;

impl Run {
    /// The run of a job's deck, with pieces no longer than `longest`.
    ///
    /// # Errors
    /// When there would be too many different pieces to be of use.
    pub fn new(
        job: &Job,
        surface: &Surface,
        supports: &Supports,
        longest: Length,
    ) -> Result<Run, TooLarge> {
        let rules = &job.joints;
        let centres = &supports.centres;
        let may_carry = |at: Length| {
            at > surface.from
                && at < surface.to
                && !rules.keep_out.iter().any(|zone| zone.holds(at))
        };
        // No joint on the first or the last support.
        let inner = 1..centres.len().saturating_sub(1);
        let numbers: Vec<usize> = inner.filter(|&n| may_carry(centres[n])).collect();
        let joints: Vec<Length> = numbers.iter().map(|&n| centres[n]).collect();
        if joints.len() >= usize::from(NONE) {
            return Err(TooLarge);
        }
        let mut run = Run {
            from: surface.from,
            to: surface.to,
            joints,
            numbers: numbers.into_iter().map(|n| n as u32).collect(),
            lengths: Vec::new(),
            end_gap: rules.end_gap,
            first: vec![0],
            pieces: Vec::new(),
        };
        let end = run.end();
        let mut cuts: Vec<Option<Length>> = Vec::new();
        for a in 0..end {
            for b in a + 1..=end {
                let (from, to) = (run.starts(a), run.ends(b));
                let mut cut = to - from;
                if a == 0 {
                    cut += job.edges.left.allowance();
                }
                if b == end {
                    cut += job.edges.right.allowance();
                }
                // Pieces to places farther on are longer still.
                if cut > longest {
                    break;
                }
                let whole = a == 0 && b == end;
                let may = whole
                    || (to - from >= rules.shortest_piece
                        && run.bearing(a, b, supports) >= rules.bearing as usize);
                cuts.push((to > from && may).then_some(cut));
                if cuts.len() > MOST_PAIRS {
                    return Err(TooLarge);
                }
            }
            run.first.push(cuts.len() as u32);
        }
        run.lengths = cuts.iter().flatten().copied().collect();
        run.lengths.sort_unstable_by(|a, b| b.cmp(a));
        run.lengths.dedup();
        if run.lengths.len() > MOST_LENGTHS {
            return Err(TooLarge);
        }
        let place = |cut| run.lengths.partition_point(|&l| l > cut) as u16;
        run.pieces = cuts.iter().map(|cut| cut.map_or(NONE, place)).collect();
        Ok(run)
    }

    /// The same run with joints at some of its places only; places and lengths keep
    /// their numbers.
    pub fn with_joints_at(&self, may: impl Fn(Place) -> bool) -> Run {
        let mut run = self.clone();
        let ends = |place: Place| !self.is_joint(place) || may(place);
        for from in 0..self.end() {
            for to in self.reach(from).filter(|&to| !(ends(from) && ends(to))) {
                let at = self.first[from as usize] as usize + usize::from(to - from - 1);
                run.pieces[at] = NONE;
            }
        }
        run
    }

    /// How many supports lie under the piece between two places, those under its
    /// own joints counted.
    pub fn bearing(&self, from: Place, to: Place, supports: &Supports) -> usize {
        let low = match from {
            0 => self.from,
            p => self.joints[p as usize - 1],
        };
        let high = match to {
            p if p == self.end() => self.to,
            p => self.joints[p as usize - 1],
        };
        let centres = &supports.centres;
        let past = centres.partition_point(|&c| c <= high);
        past.saturating_sub(centres.partition_point(|&c| c < low))
    }

    /// The most joints a course can have; nothing when it cannot be cut.
    pub fn most_joints(&self) -> Option<usize> {
        self.joints_by(Ord::max)
    }

    /// The fewest joints a course can have; nothing when it cannot be cut.
    pub fn fewest_joints(&self) -> Option<usize> {
        self.joints_by(Ord::min)
    }

    fn joints_by(&self, better: fn(usize, usize) -> usize) -> Option<usize> {
        let end = self.end();
        // Pieces from the start to every place that can be reached.
        let mut pieces: Vec<Option<usize>> = vec![None; end as usize + 1];
        pieces[0] = Some(0);
        for a in 0..end {
            let Some(before) = pieces[a as usize] else {
                continue;
            };
            for b in self.reach(a).filter(|&b| self.piece(a, b).is_some()) {
                let there = &mut pieces[b as usize];
                *there = Some(there.map_or(before + 1, |other| better(other, before + 1)));
            }
        }
        pieces[end as usize].map(|pieces| pieces - 1)
    }

    /// The place where the run ends.
    pub fn end(&self) -> Place {
        self.joints.len() as Place + 1
    }

    /// Whether a place is a joint.
    pub fn is_joint(&self, place: Place) -> bool {
        place > 0 && place < self.end()
    }

    /// Whether joints at two places may lie in courses so many apart. What may
    /// lie so near may lie farther away too, along as well as across.
    pub fn compatible(&self, rules: &JointRules, a: Place, b: Place, apart: usize) -> bool {
        let (a, b) = (a as usize - 1, b as usize - 1);
        (apart != 1
            || (self.joints[a] - self.joints[b]).abs() >= rules.stagger
                && self.numbers[a].abs_diff(self.numbers[b]) >= rules.stagger_joists)
            && (a != b || apart > rules.same_joist_after as usize)
    }

    /// Where a piece that starts at a place begins.
    pub fn starts(&self, place: Place) -> Length {
        match place {
            0 => self.from,
            p => self.joints[p as usize - 1] + self.end_gap.half_up(),
        }
    }

    /// Where a piece that ends at a place stops.
    pub fn ends(&self, place: Place) -> Length {
        match place {
            p if p == self.end() => self.to,
            p => self.joints[p as usize - 1] - self.end_gap.half_down(),
        }
    }

    /// The places that boards are long enough to reach from one.
    pub fn reach(&self, from: Place) -> std::ops::RangeInclusive<Place> {
        let count = self.first[from as usize + 1] - self.first[from as usize];
        from + 1..=from + count as Place
    }

    /// The length, by its place in [`Run::lengths`], of the piece between two
    /// places; nothing if none may lie there.
    pub fn piece(&self, from: Place, to: Place) -> Option<u16> {
        if !self.reach(from).contains(&to) {
            return None;
        }
        let at = self.first[from as usize] as usize + usize::from(to - from - 1);
        let length = self.pieces[at];
        (length != NONE).then_some(length)
    }
}
