//! Courses whose joints come round again: a block whose courses each stand for
//! all those that lie like it, also where the last of one round lies beside the
//! first of the next. A path through its graph is a way to lay them all.

use std::borrow::Cow;

use super::block::{Alike, Block, Path, PathCosts, Pieces, Plan, Takes, TooLarge};
use super::run::Run;
use crate::job::JointRules;

impl Block {
    /// All ways to lay the courses of these materials so that every `round` of
    /// them is alike: those at the given places of a round. A path has the
    /// courses at the first place first, then those at the next one.
    ///
    /// # Errors
    /// When the graph would pass `most` steps, or the courses are too many.
    pub fn repeating(
        run: &Run,
        rules: &JointRules,
        materials: &[u16],
        round: usize,
        places: std::ops::Range<usize>,
        most: usize,
    ) -> Result<Option<Block>, TooLarge> {
        let lots: Vec<Vec<u16>> = places
            .clone()
            .map(|place| {
                materials
                    .iter()
                    .skip(place)
                    .step_by(round)
                    .copied()
                    .collect()
            })
            .collect();
        let alike: Vec<bool> = lots.iter().map(|lot| lot.len() > 1).collect();
        let again = |at: usize| alike[at];
        // The next round's course may be nearer than that of the same round.
        let apart = |a: usize, b: usize| {
            let (near, far) = (a.min(b), a.max(b));
            match again(near) {
                true => (far - near).min(round - (far - near)),
                false => far - near,
            }
        };
        // A joint that may not lie so near to itself may not be there at all.
        let bare =
            |at: usize| again(at) && !run.joints.is_empty() && !run.compatible(rules, 1, 1, round);
        Block::of_lots(run, rules, lots, &apart, &bare, None, most)
    }

    /// All ways to cut the outermost courses of a deck, of these materials from
    /// the edge on, when the first counts as often as there are such courses, the
    /// next once less, and so on. A path has the first course first, so often.
    ///
    /// # Errors
    /// When the graph would pass `most` steps, or the courses are too many.
    pub fn edge(
        run: &Run,
        rules: &JointRules,
        materials: &[u16],
        only: Option<&Pieces>,
        most: usize,
    ) -> Result<Option<Block>, TooLarge> {
        let courses = materials.len();
        let lots = materials.iter().enumerate();
        let lots = lots.map(|(at, &m)| vec![m; courses - at]).collect();
        let apart = |a: usize, b: usize| a.abs_diff(b);
        Block::of_lots(run, rules, lots, &apart, &|_| false, only, most)
    }

    /// The graph of lots of courses that lie alike, each of its materials.
    fn of_lots(
        run: &Run,
        rules: &JointRules,
        lots: Vec<Vec<u16>>,
        apart: &dyn Fn(usize, usize) -> usize,
        bare: &dyn Fn(usize) -> bool,
        only: Option<&Pieces>,
        most: usize,
    ) -> Result<Option<Block>, TooLarge> {
        let courses: usize = lots.iter().map(Vec::len).sum();
        if courses > usize::from(u16::MAX) || lots.len() * run.lengths.len() > usize::from(u16::MAX)
        {
            return Err(TooLarge);
        }
        let mut first = 0;
        let stands: Vec<(u16, u16)> = lots
            .iter()
            .map(|lot| {
                let stand = (first, lot.len() as u16);
                first += lot.len() as u16;
                stand
            })
            .collect();
        let rows: Vec<u16> = (0..lots.len() as u16).collect();
        let plan = Plan {
            materials: &rows,
            lots: &stands,
            apart,
            bare,
            only,
        };
        let block = Block::of(run, rules, &plan, most)?;
        let lengths = run.lengths.len();
        Ok(block.map(|block| Block {
            alike: Some(Alike { lots, lengths }),
            ..block
        }))
    }

    /// What pieces cost by the rows of the graph: each is cut once for every
    /// course of its lot.
    pub(super) fn own<'c>(&self, costs: &'c PathCosts) -> Cow<'c, PathCosts> {
        let Some(alike) = &self.alike else {
            return Cow::Borrowed(costs);
        };
        let of = |lot: &Vec<u16>, length: usize| -> i64 {
            let rows = lot.iter().map(|&m| usize::from(m) * alike.lengths + length);
            rows.map(|row| costs.row[row]).sum()
        };
        let lots = alike.lots.iter();
        Cow::Owned(PathCosts {
            row: lots
                .flat_map(|lot| (0..alike.lengths).map(move |length| of(lot, length)))
                .collect(),
            joint: costs.joint.clone(),
            course: costs.course.clone(),
        })
    }

    /// Gives the joints of each lot's first course to all courses of the lot.
    pub(super) fn spread(&self, path: &mut Path) {
        let mut at = 0;
        for lot in self.alike.iter().flat_map(|alike| &alike.lots) {
            let (first, rest) = path[at..at + lot.len()]
                .split_first_mut()
                .expect("a lot has courses");
            rest.iter_mut().for_each(|joints| joints.clone_from(first));
            at += lot.len();
        }
    }

    /// What a path takes, from what was counted along the graph.
    pub(super) fn taken(&self, counted: Takes, path: &Path, by_joint: bool) -> Takes {
        let Some(alike) = &self.alike else {
            return counted;
        };
        let mut takes = Takes::default();
        for row in counted.rows {
            let (lot, length) = (
                usize::from(row) / alike.lengths,
                usize::from(row) % alike.lengths,
            );
            let lot = alike.lots[lot].iter();
            takes
                .rows
                .extend(lot.map(|&m| m * alike.lengths as u16 + length as u16));
        }
        takes.rows.sort_unstable();
        if by_joint {
            takes.joints = path.iter().flatten().copied().collect();
            takes.joints.sort_unstable();
        }
        takes
    }
}
