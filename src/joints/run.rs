//! One run and the pieces it may be cut into: where a joint may fall, which
//! piece may lie between two places, and how long it is cut.

use crate::deck::{Supports, Surface};
use crate::job::Job;
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
    /// Distinct lengths pieces are cut to, descending.
    pub lengths: Vec<Length>,
    end_gap: Length,
    /// For each pair of places, the length that fits between them, if a piece may.
    pieces: Vec<Option<u16>>,
}

impl Run {
    /// The run of a job's deck, with pieces no longer than `longest`.
    pub fn new(job: &Job, surface: &Surface, supports: &Supports, longest: Length) -> Run {
        let rules = &job.joints;
        let centres = &supports.centres;
        // No joint on the first or the last support.
        let joints: Vec<Length> = match centres.len() {
            0..=2 => Vec::new(),
            n => centres[1..n - 1]
                .iter()
                .copied()
                .filter(|&c| c > surface.from && c < surface.to)
                .collect(),
        };
        let mut run = Run {
            from: surface.from,
            to: surface.to,
            joints,
            lengths: Vec::new(),
            end_gap: rules.end_gap,
            pieces: Vec::new(),
        };
        let end = run.end();
        let places = end as usize + 1;
        let mut cuts: Vec<Option<Length>> = vec![None; places * places];
        for a in 0..end {
            for b in a + 1..=end {
                let (from, to) = (run.starts(a), run.ends(b));
                if to <= from {
                    continue;
                }
                let (mut low, mut high, mut cut) = (from, to, to - from);
                if a == 0 {
                    cut += job.edges.left.allowance();
                } else {
                    low = run.joints[a as usize - 1];
                }
                if b == end {
                    cut += job.edges.right.allowance();
                } else {
                    high = run.joints[b as usize - 1];
                }
                let bearing = centres.iter().filter(|&&c| low <= c && c <= high).count();
                let may = (a == 0 && b == end)
                    || (to - from >= rules.shortest_piece && bearing >= rules.bearing as usize);
                if may && cut <= longest {
                    cuts[a as usize * places + b as usize] = Some(cut);
                }
            }
        }
        run.lengths = cuts.iter().flatten().copied().collect();
        run.lengths.sort_unstable_by(|a, b| b.cmp(a));
        run.lengths.dedup();
        run.pieces = cuts
            .into_iter()
            .map(|cut| cut.map(|cut| run.lengths.partition_point(|&l| l > cut) as u16))
            .collect();
        run
    }

    /// The place where the run ends.
    pub fn end(&self) -> Place {
        self.joints.len() as Place + 1
    }

    /// Whether a place is a joint.
    pub fn is_joint(&self, place: Place) -> bool {
        place > 0 && place < self.end()
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

    /// The length, by its place in [`Run::lengths`], of the piece between two
    /// places; nothing if none may lie there.
    pub fn piece(&self, from: Place, to: Place) -> Option<u16> {
        self.pieces[from as usize * (self.end() as usize + 1) + to as usize]
    }
}
