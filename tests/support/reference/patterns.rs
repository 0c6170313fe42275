//! Every way to cut a run at the supports.

use lastcourse::deck::Surface;
use lastcourse::job::Job;
use lastcourse::length::Length;

/// One way to cut a run; lengths and places in 1/8 µm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    /// The centres of the supports under its joints, ascending.
    pub joints: Vec<i64>,
    /// The lengths of its pieces as cut, from left to right.
    pub lengths: Vec<i64>,
}

/// All patterns of a job's run, or nothing when there are more than `most`.
pub fn every(
    job: &Job,
    surface: &Surface,
    supports: &[Length],
    most: usize,
) -> Option<Vec<Pattern>> {
    let walk = Walk {
        supports: supports.iter().map(|at| at.units()).collect(),
        from: surface.from.units(),
        to: surface.to.units(),
        end_gap: job.joints.end_gap.units(),
        shortest: job.joints.shortest_piece.units(),
        bearing: job.joints.bearing as usize,
        free: (job.joints.keep_out.iter())
            .map(|zone| (zone.from.units(), zone.to.units()))
            .collect(),
        allowances: (
            job.edges.left.allowance().units(),
            job.edges.right.allowance().units(),
        ),
        most,
    };
    let mut found = Vec::new();
    walk.extend(&mut Vec::new(), &mut found).then_some(found)
}

struct Walk {
    supports: Vec<i64>,
    from: i64,
    to: i64,
    end_gap: i64,
    shortest: i64,
    bearing: usize,
    /// Where no joint may be, ends included.
    free: Vec<(i64, i64)>,
    allowances: (i64, i64),
    most: usize,
}

impl Walk {
    /// Where the piece right of a joint starts and the one left of it ends.
    fn right_of(&self, joint: i64) -> i64 {
        joint + (self.end_gap + 1).div_euclid(2)
    }

    fn left_of(&self, joint: i64) -> i64 {
        joint - self.end_gap.div_euclid(2)
    }

    /// Whether a piece of a run cut in several may lie between two joints (or
    /// run ends, where there is none).
    fn allowed(&self, left: Option<i64>, right: Option<i64>) -> bool {
        let from = left.map_or(self.from, |joint| self.right_of(joint));
        let to = right.map_or(self.to, |joint| self.left_of(joint));
        let (first, last) = (left.unwrap_or(self.from), right.unwrap_or(self.to));
        let under = self
            .supports
            .iter()
            .filter(|&&at| at >= first && at <= last)
            .count();
        to > from && to - from >= self.shortest && under >= self.bearing
    }

    /// Adds every pattern that starts with these joints; false past the limit.
    fn extend(&self, joints: &mut Vec<i64>, found: &mut Vec<Pattern>) -> bool {
        let last = joints.last().copied();
        if last.is_none() || self.allowed(last, None) {
            if found.len() == self.most {
                return false;
            }
            found.push(self.pattern(joints));
        }
        let inner = self.supports.len().saturating_sub(1);
        for index in 1..inner {
            let at = self.supports[index];
            if self.free.iter().any(|zone| zone.0 <= at && at <= zone.1) {
                continue;
            }
            if last.is_some_and(|last| at <= last) || !self.allowed(last, Some(at)) {
                continue;
            }
            joints.push(at);
            let within = self.extend(joints, found);
            joints.pop();
            if !within {
                return false;
            }
        }
        true
    }

    fn pattern(&self, joints: &[i64]) -> Pattern {
        let starts = std::iter::once(self.from).chain(joints.iter().map(|&at| self.right_of(at)));
        let ends = joints
            .iter()
            .map(|&at| self.left_of(at))
            .chain(std::iter::once(self.to));
        let mut lengths: Vec<i64> = starts.zip(ends).map(|(from, to)| to - from).collect();
        lengths[0] += self.allowances.0;
        *lengths.last_mut().expect("a piece") += self.allowances.1;
        Pattern {
            joints: joints.to_vec(),
            lengths,
        }
    }
}
