//! Whether the joint rules leave a way to lay the courses of a job, boards being
//! as many as one likes: tested with the very graphs the search stands on, for
//! one course, then for ever more neighbours. What boards there are is left to
//! the search itself.

use crate::courses::layout;
use crate::deck::{Supports, supports, surface};
use crate::job::Job;
use crate::joints::{Block, PathCosts, Place, Run};
use crate::length::Length;
use crate::plan::attempts::MOST_STEPS;
use crate::plan::model::longest;
use crate::plan::repeat::round_of;

/// Neighbours that are looked at together, as far as a rule looks.
const WIDTHS: [usize; 8] = [1, 2, 3, 4, 6, 8, 12, 16];

/// Steps of a wider graph than two courses beyond which no more is looked at.
const MOST_WIDE_STEPS: usize = 30_000;

/// How far a job can be laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lays {
    /// There is no board to lay.
    NoBoards,
    /// Not even one course by itself can be cut.
    NoCourse,
    /// So many courses cannot lie side by side.
    NotBeside(usize),
    /// So many courses cannot come round again and again.
    NotRepeated(usize),
    /// No rule is in the way, as far as was looked.
    Yes,
}

/// What all courses of a job have in common.
pub(super) struct Along {
    /// The run.
    pub run: Run,
    /// Its supports.
    pub supports: Supports,
    /// How many courses there are.
    pub courses: usize,
}

impl Along {
    /// The courses of a job, with pieces no longer than `longest`; nothing when
    /// there are too many pieces to look at.
    pub(super) fn of(job: &Job, fastener: usize, longest: Length) -> Option<Along> {
        let surface = surface(job).ok()?;
        let supports = supports(job);
        Some(Along {
            run: Run::new(job, &surface, &supports, longest).ok()?,
            courses: layout(job, &surface, fastener).courses.len(),
            supports,
        })
    }

    /// The way to cut one course that costs the least, when there is any: each
    /// piece costs what is asked for its length.
    pub(super) fn course(
        &self,
        job: &Job,
        cost: impl Fn(Length) -> i64,
    ) -> Option<(i64, Vec<Place>)> {
        let block = Block::new(&self.run, &job.joints, &[0], usize::MAX).ok()??;
        let row = self.run.lengths.iter().map(|&l| cost(l));
        let costs = PathCosts::of_pieces(row.collect(), &self.run);
        let (cost, path) = block
            .cheapest(&costs, None, 0, i64::MAX)
            .into_iter()
            .next()?;
        Some((cost, path.into_iter().next()?))
    }
}

/// How far a job can be laid.
pub(super) fn lays(job: &Job, fastener: usize) -> Lays {
    let Some(longest) = longest(job) else {
        return Lays::NoBoards;
    };
    let Some(along) = Along::of(job, fastener, longest) else {
        return Lays::Yes;
    };
    let widest = (job.joints.same_joist_after as usize)
        .saturating_add(1)
        .max(2)
        .min(along.courses);
    // Neighbours so near have no joist in common.
    if let Some(joints) = along.run.fewest_joints()
        && joints * widest > along.run.joints.len()
    {
        return Lays::NotBeside(widest);
    }
    let widths = WIDTHS.into_iter().filter(|&width| width < widest);
    for width in widths.chain([widest]) {
        let most = if width > 2 {
            MOST_WIDE_STEPS
        } else {
            MOST_STEPS
        };
        let block = Block::new(&along.run, &job.joints, &vec![0; width], most);
        match block {
            Ok(None) if width == 1 => return Lays::NoCourse,
            Ok(None) => return Lays::NotBeside(width),
            Ok(Some(_)) => {}
            Err(_) => return Lays::Yes,
        }
    }
    match repeats(job, &along) {
        Some(round) => Lays::NotRepeated(round),
        None => Lays::Yes,
    }
}

/// After how many courses the joints are to repeat and cannot; nothing where
/// they may, or need not.
fn repeats(job: &Job, along: &Along) -> Option<usize> {
    let round = round_of(&job.joints, along.courses)?;
    let materials = vec![0; along.courses];
    let of = |places| {
        let rules = &job.joints;
        Block::repeating(
            &along.run,
            rules,
            &materials,
            round,
            places,
            MOST_WIDE_STEPS,
        )
    };
    let pair = of(0..round.min(2));
    let barred = matches!(pair, Ok(None)) || round > 2 && matches!(of(0..round), Ok(None));
    barred.then_some(round)
}
