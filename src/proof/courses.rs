//! The courses of a job again, for the proof: where a joint may fall, which
//! pieces lie between joints, and the least that a block of neighbouring
//! courses costs at given prices, by a shortest path over the last joints of
//! its courses. It stands on the verifier's geometry and on no planner.

use std::collections::{BTreeMap, HashMap};

use crate::job::{Job, JointRules};
use crate::length::Length;
use crate::verify::{Geometry, wide};

/// States of a block beyond which no path is looked for.
const MOST_STATES: usize = 1_500_000;

/// One piece that a course may have.
#[derive(Debug, Clone, Copy)]
struct Piece {
    /// Where it ends: a joint, or the run's end.
    to: usize,
    /// The length it is cut to.
    cut: i128,
}

/// A run, its joints and the pieces between them.
pub(super) struct Run {
    /// The support under each joint, from 1; 0 is the run's start.
    joints: Vec<i128>,
    /// The number of each joint's support among all supports.
    numbers: Vec<usize>,
    /// The pieces that start at each place.
    pieces: Vec<Vec<Piece>>,
}

/// What pieces and joints cost.
pub(super) struct Prices<'a> {
    /// A piece, by strip (nothing for a whole board) and length as cut.
    pub pieces: &'a HashMap<(Option<i128>, i128), i128>,
    /// Any joint.
    pub joint: i128,
    /// A joint extra, by the support's centre.
    pub supports: &'a HashMap<i128, i128>,
}

impl Run {
    /// The run of a job, without pieces longer than `longest`.
    pub(super) fn of(job: &Job, geometry: &Geometry, longest: i128) -> Run {
        // Whoever adds a rule decides here what it means for the proof. A rule
        // that only forbids may be left out: the proof then shows less, but
        // nothing wrong.
        let JointRules {
            stagger: _,
            stagger_joists: _,
            keep_out,
            same_joist_after: _,
            repeat: _,
            shortest_piece,
            bearing,
            end_gap,
            price: _,
            doubled_joist_price: _,
        } = &job.joints;
        let supports = &geometry.supports;
        let kept_out = |at: i128| {
            keep_out
                .iter()
                .any(|zone| wide(zone.from) <= at && at <= wide(zone.to))
        };
        let mut joints = vec![geometry.from];
        let mut numbers = vec![usize::MAX];
        for (number, &at) in supports.iter().enumerate() {
            let inner = number > 0 && number + 1 < supports.len();
            if inner && geometry.from < at && at < geometry.to && !kept_out(at) {
                joints.push(at);
                numbers.push(number);
            }
        }
        let end = joints.len();
        let before = wide(*end_gap).div_euclid(2);
        let after = wide(*end_gap) - before;
        let allowed = |edge: Length| wide(edge);
        let left = allowed(job.edges.left.allowance());
        let right = allowed(job.edges.right.allowance());
        let mut pieces = vec![Vec::new(); end];
        for (a, starting) in pieces.iter_mut().enumerate() {
            for b in a + 1..=end {
                let from = if a == 0 {
                    geometry.from
                } else {
                    joints[a] + after
                };
                let to = if b == end {
                    geometry.to
                } else {
                    joints[b] - before
                };
                let low = if a == 0 { geometry.from } else { joints[a] };
                let high = if b == end { geometry.to } else { joints[b] };
                let under = supports
                    .iter()
                    .filter(|&&at| low <= at && at <= high)
                    .count();
                let single = a == 0 && b == end;
                let lies = to > from
                    && (single
                        || (to - from >= wide(*shortest_piece)
                            && under as u64 >= u64::from(*bearing)));
                let cut =
                    to - from + if a == 0 { left } else { 0 } + if b == end { right } else { 0 };
                if lies && cut <= longest {
                    starting.push(Piece { to: b, cut });
                }
            }
        }
        Run {
            joints,
            numbers,
            pieces,
        }
    }

    /// How many places there are for a joint.
    pub(super) fn places(&self) -> usize {
        self.joints.len() - 1
    }

    /// The supports' centres under them.
    pub(super) fn joints(&self) -> &[i128] {
        &self.joints[1..]
    }

    /// The most joints of a course; nothing when it cannot be cut.
    pub(super) fn most_joints(&self) -> Option<usize> {
        let end = self.joints.len();
        let mut most: Vec<Option<usize>> = vec![None; end + 1];
        most[0] = Some(0);
        for at in 0..end {
            let Some(pieces) = most[at] else { continue };
            for piece in &self.pieces[at] {
                most[piece.to] = most[piece.to].max(Some(pieces + 1));
            }
        }
        most[end].map(|pieces| pieces - 1)
    }

    /// Whether joints at two places may lie in courses so many apart.
    fn may_lie(&self, rules: &JointRules, a: usize, b: usize, apart: usize) -> bool {
        let near = (self.joints[a] - self.joints[b]).abs() < wide(rules.stagger)
            || self.numbers[a].abs_diff(self.numbers[b]) < rules.stagger_joists as usize;
        let same = a == b && apart as u64 <= u64::from(rules.same_joist_after);
        !(same || (apart == 1 && near))
    }

    /// The least that neighbouring courses cost, each a whole board's or a
    /// strip's; nothing when they cannot be cut side by side, and an error when
    /// there are too many ways to look at.
    pub(super) fn least(
        &self,
        rules: &JointRules,
        courses: &[Option<i128>],
        prices: &Prices,
    ) -> Result<Option<i128>, ()> {
        let end = self.joints.len();
        let start = vec![0usize; courses.len()];
        let goal = vec![end; courses.len()];
        // States by how far the courses have come together: no step leads back.
        let mut open: BTreeMap<(usize, Vec<usize>), i128> = BTreeMap::new();
        open.insert((0, start), 0);
        let mut seen = 0;
        while let Some(((sum, state), cost)) = open.pop_first() {
            if state == goal {
                return Ok(Some(cost));
            }
            seen += 1;
            if seen > MOST_STATES {
                return Err(());
            }
            // The course that is farthest behind takes its next piece; its joint
            // is set against the last joint of each other course.
            let behind = (0..state.len()).min_by_key(|&course| state[course]);
            let Some(course) = behind else {
                return Ok(Some(0));
            };
            for piece in &self.pieces[state[course]] {
                let joint = piece.to < end;
                let clashes = joint
                    && state.iter().enumerate().any(|(other, &last)| {
                        let apart = other.abs_diff(course);
                        apart > 0
                            && last > 0
                            && last < end
                            && !self.may_lie(rules, piece.to, last, apart)
                    });
                if clashes {
                    continue;
                }
                let key = (courses[course], piece.cut);
                let mut spent = cost + prices.pieces.get(&key).copied().unwrap_or(0);
                if joint {
                    let extra = prices.supports.get(&self.joints[piece.to]);
                    spent += prices.joint + extra.copied().unwrap_or(0);
                }
                let mut next = state.clone();
                next[course] = piece.to;
                let known = open
                    .entry((sum + piece.to - state[course], next))
                    .or_insert(spent);
                *known = (*known).min(spent);
            }
        }
        Ok(None)
    }
}
