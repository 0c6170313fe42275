//! A job's board plan in whole numbers: the run, the courses and their
//! materials, the kinds of boards and what everything weighs in the objective.
//! How plans are searched is left to the modules beside it.

use std::cell::Cell;

use itertools::Itertools;

use super::master::Filling;
use super::types::Objective;
use crate::courses::{Layout, layout};
use crate::deck::{DeckError, Supports, Surface, supports, surface};
use crate::job::{Job, Stock};
use crate::joints::{Place, Run, TooLarge};
use crate::length::Length;
use crate::stock::{Boards, Kind, Reach, gcd, without_dominated};

/// What a product of an integer program comes to in others.
const BRANCHED: u64 = 8;

/// What things weigh: `primary * unit + secondary` in one whole number.
#[derive(Debug, Clone)]
pub(crate) struct Weights {
    /// Parts of the primary objective in the weight; the rest breaks ties.
    pub unit: i64,
    /// Of one joint.
    pub joint: i64,
    /// Of a support that carries joints.
    pub doubled: i64,
}

/// Which strips a split board gives: the materials of its two halves.
pub(crate) type Split = (u16, u16);

/// The problem to be solved.
#[derive(Clone)]
pub(crate) struct Model {
    /// The run that every course of a rectangle has.
    pub run: Run,
    /// The supports.
    pub supports: Supports,
    /// The courses across.
    pub layout: Layout,
    /// The material of each course: 0 for whole boards, others for strips.
    pub materials: Vec<u16>,
    /// Kinds of boards, their `cost` being their weight.
    pub kinds: Vec<Kind>,
    /// Width of a crosscut.
    pub kerf: Length,
    /// What whole boards hold, by row (`material * lengths + length`).
    pub boards: Boards,
    /// Ways to split a board, if any.
    pub splits: Vec<Split>,
    /// What things weigh.
    pub weights: Weights,
    /// Boards' lengths are counted in steps of this many units.
    pub length_step: i64,
    /// Rows of pieces: those of each material, then lengths that no course has.
    pub rows: usize,
    /// The length of each row's pieces.
    pub lengths: Vec<Length>,
    /// Other pieces wanted beside the courses', by row.
    pub extra: Vec<i64>,
    /// Pieces in a plan, whatever it is like, are no more.
    pub most_pieces: i64,
    /// Joints that one support can carry at most.
    pub most_on_support: i64,
    /// No plan weighs more.
    pub conceivable: i64,
    /// The most joints a plan may have, if they are limited.
    pub joints_at_most: Option<i64>,
    /// Totals of the primary objective that can be reached.
    reach: Reach,
    /// Work spent on it so far, in products.
    spent: Cell<u64>,
}

/// Why a job cannot be searched at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Unfit {
    /// The edges leave nothing to cover.
    NoSurface(DeckError),
    /// None of its boards can be had.
    NoBoards,
    /// There are too many different pieces.
    TooManyPieces,
    /// What all boards may cost is more than can be counted.
    TooDear,
    /// Other pieces, by their place in the job, are longer than every board.
    ExtraTooLong(usize),
}

/// The longest piece that a board that can be had holds; nothing without one.
pub(crate) fn longest(job: &Job) -> Option<Length> {
    job.stock
        .iter()
        .filter(|s| can_be_had(s))
        .map(|s| s.length - job.cutting.end_trim * 2)
        .max()
        .filter(|&longest| longest > Length::ZERO)
}

/// Whether there is any board of a kind, on hand or for money.
pub(crate) fn can_be_had(stock: &Stock) -> bool {
    stock.on_hand > 0 || (stock.price.is_some() && stock.most_bought() != Some(0))
}

impl Model {
    /// The model of a job with one of its fasteners.
    ///
    /// # Errors
    /// When the job is none that can be searched, whatever its rules.
    pub(crate) fn new(job: &Job, fastener: usize, objective: Objective) -> Result<Model, Unfit> {
        let surface: Surface = surface(job).map_err(Unfit::NoSurface)?;
        let supports = supports(job);
        let layout = layout(job, &surface, fastener);
        let usable = |length: Length| length - job.cutting.end_trim * 2;
        let longest = longest(job).ok_or(Unfit::NoBoards)?;
        if let Some(n) = (job.extras.iter()).position(|extra| extra.length > longest) {
            return Err(Unfit::ExtraTooLong(n));
        }
        let run =
            Run::new(job, &surface, &supports, longest).map_err(|TooLarge| Unfit::TooManyPieces)?;
        let (materials, splits) = materials(job, &layout);
        let count = layout.courses.len() as i64;
        let joints_at_most = count * run.most_joints().unwrap_or(0) as i64;
        let extras: i64 = job.extras.iter().map(|extra| i64::from(extra.count)).sum();
        // Bundles leave some boards over that no piece is cut from.
        let over: i64 = job.stock.iter().map(|s| i64::from(s.bundle) - 1).sum();
        let pieces_at_most = joints_at_most + count + extras + over;
        let dearest = job
            .stock
            .iter()
            .filter_map(|s| s.price)
            .map(|p| p.cents())
            .max()
            .unwrap_or(0);
        let (joint, doubled) = (
            job.joints.price.cents(),
            job.joints.doubled_joist_price.cents(),
        );
        let money_at_most = pieces_at_most
            .checked_mul(dearest)
            .and_then(|money| money.checked_add(joints_at_most.checked_mul(joint)?))
            .and_then(|money| money.checked_add(doubled.checked_mul(run.joints.len() as i64)?))
            .filter(|money| *money < i64::MAX / 4)
            .ok_or(Unfit::TooDear)?;
        let step = job
            .stock
            .iter()
            .map(|s| s.length.units())
            .fold(0, gcd)
            .max(1);
        let unit = match objective {
            Objective::Cost => joints_at_most + 1,
            Objective::Joints | Objective::Waste => money_at_most + 1,
        };
        // Primary and secondary parts of a weight in one number.
        let weight = |primary: i64, secondary: i64| {
            primary
                .checked_mul(unit)
                .and_then(|weight| weight.checked_add(secondary))
                .ok_or(Unfit::TooDear)
        };
        let (joint, doubled) = match objective {
            Objective::Cost => (weight(joint, 1)?, weight(doubled, 0)?),
            Objective::Joints => (weight(1, joint)?, doubled),
            Objective::Waste => (joint, doubled),
        };
        let weights = Weights {
            unit,
            joint,
            doubled,
        };
        let mut kinds = Vec::new();
        for (stock, s) in job.stock.iter().enumerate() {
            let weight = |cents: i64| match objective {
                Objective::Cost => weight(cents, 0),
                Objective::Joints => Ok(cents),
                Objective::Waste => weight(s.length.units() / step, cents),
            };
            let usable = usable(s.length);
            if s.on_hand > 0 {
                let limit = Some(i64::from(s.on_hand));
                kinds.push(Kind {
                    stock,
                    on_hand: true,
                    cost: weight(0)?,
                    limit,
                    bundle: 1,
                    usable,
                });
            }
            if let Some(price) = s.price
                && s.most_bought() != Some(0)
            {
                let limit = s.most_bought().map(i64::from);
                let cost = weight(price.cents())?;
                kinds.push(Kind {
                    stock,
                    on_hand: false,
                    cost,
                    limit,
                    bundle: i64::from(s.bundle),
                    usable,
                });
            }
        }
        let kinds = without_dominated(kinds);
        let material_count = materials.iter().copied().max().unwrap_or(0) as usize + 1;
        let mut lengths: Vec<Length> = (0..material_count)
            .flat_map(|_| run.lengths.iter().copied())
            .collect();
        let extra = extra_rows(job, &mut lengths, run.lengths.len());
        let usable = kinds.iter().map(|k| k.usable).collect_vec();
        if lengths.len() > usize::from(u16::MAX) {
            return Err(Unfit::TooManyPieces);
        }
        let boards = Boards::new(&lengths, &usable, job.cutting.kerf, None);
        let heaviest = kinds.iter().map(|k| k.cost).max().unwrap_or(0);
        let conceivable = pieces_at_most
            .checked_mul(heaviest)
            .and_then(|weight| weight.checked_add(joints_at_most.checked_mul(weights.joint)?))
            .and_then(|weight| {
                weight.checked_add(weights.doubled.checked_mul(run.joints.len() as i64)?)
            })
            .ok_or(Unfit::TooDear)?;
        let primary = |weight: i64| weight / unit;
        let reach = Reach::new(
            kinds
                .iter()
                .map(|k| primary(k.cost).saturating_mul(k.bundle))
                .chain([primary(weights.joint), primary(weights.doubled)]),
            primary(conceivable).min(20_000_000),
        );
        let apart = i64::from(job.joints.same_joist_after) + 1;
        Ok(Model {
            length_step: step,
            rows: lengths.len(),
            most_pieces: count * (run.joints.len() as i64 + 1) + extras,
            lengths,
            extra,
            most_on_support: (count + apart - 1) / apart,
            run,
            supports,
            layout,
            materials,
            kinds,
            kerf: job.cutting.kerf,
            boards,
            splits,
            weights,
            conceivable,
            joints_at_most: None,
            reach,
            spent: Cell::new(0),
        })
    }

    /// The next weight that can be reached at all and is not below `bound`.
    pub(crate) fn lift(&self, bound: i64) -> i64 {
        let primary = bound.div_euclid(self.weights.unit);
        let reachable = self.reach.lift(primary);
        if reachable > primary {
            reachable.saturating_mul(self.weights.unit)
        } else {
            bound
        }
    }

    /// The most that a plan weighs whose primary objective is no better than that of
    /// `bound`: where nothing else is minimised, all such plans are alike.
    pub(crate) fn level(&self, bound: i64) -> i64 {
        let unit = self.weights.unit;
        let least = self.at_level(self.lift(bound));
        least.saturating_add(unit - 1)
    }

    /// What a plan weighs at least whose primary objective is that of `bound`.
    pub(crate) fn at_level(&self, bound: i64) -> i64 {
        let unit = self.weights.unit;
        bound.div_euclid(unit).saturating_mul(unit)
    }

    /// More than any plan weighs whose primary objective is below that of `weight`: what
    /// lies between two sums that can be reached is no plan's.
    pub(crate) fn past_cheaper(&self, weight: i64) -> i64 {
        let unit = self.weights.unit;
        let cheaper = self.reach.below(weight.div_euclid(unit));
        cheaper.map_or(0, |primary| (primary + 1).saturating_mul(unit))
    }

    /// The same boards, of other numbers, for pieces by themselves.
    pub(crate) fn alone(&self, kinds: Vec<Kind>, pieces: Vec<i64>) -> Model {
        Model {
            kinds,
            extra: pieces,
            ..self.clone()
        }
    }

    /// The same where supports that carry joints cost nothing.
    pub(super) fn plain(&self) -> Model {
        let mut plain = self.clone();
        plain.weights.doubled = 0;
        plain
    }

    /// Counts work, of which a search has only so much.
    pub(crate) fn spend(&self, products: u64) {
        self.spent.set(self.spent.get().saturating_add(products));
    }

    /// Counts the work of an integer program, whose products take longer.
    pub(crate) fn branched(&self, products: u64) {
        self.spend(products.saturating_mul(BRANCHED));
    }

    /// How many products an integer program may still take of so many in all.
    pub(crate) fn left_to_branch(&self, total: u64) -> u64 {
        total.saturating_sub(self.spent()) / BRANCHED
    }

    /// The work counted so far.
    pub(crate) fn spent(&self) -> u64 {
        self.spent.get()
    }

    /// The most boards of a kind that come with a plan that weighs at most
    /// `at_most`, those that bundles leave over counted.
    pub(crate) fn most_bought(&self, kind: usize, at_most: i64) -> i64 {
        let kind = &self.kinds[kind];
        let pieces = (self.most_pieces + kind.bundle - 1) / kind.bundle * kind.bundle;
        let most = pieces.min(kind.limit.unwrap_or(i64::MAX));
        let most = match kind.cost {
            0 => most,
            cost => most.min(at_most / cost),
        };
        most - most % kind.bundle
    }

    /// The most boards of a kind in a plan that weighs at most `at_most`.
    pub(crate) fn most_boards(&self, kind: usize, at_most: i64) -> i64 {
        let kind = &self.kinds[kind];
        let most = kind.limit.unwrap_or(i64::MAX).min(self.most_pieces);
        if kind.cost > 0 {
            most.min(at_most / kind.cost)
        } else {
            most
        }
    }

    /// What the boards weigh that so many of each kind leave over, because they
    /// are sold in bundles.
    pub(crate) fn left_over<'b>(
        &self,
        boards: impl IntoIterator<Item = &'b (usize, Filling, i64)>,
    ) -> i64 {
        let mut used = vec![0; self.kinds.len()];
        for (kind, _, count) in boards {
            used[*kind] += count;
        }
        self.kinds
            .iter()
            .zip(used)
            .map(|(kind, used)| (-used).rem_euclid(kind.bundle) * kind.cost)
            .sum()
    }

    /// The joints left to so many courses when the others are fixed pieces, by
    /// row, beside the extra ones; nothing where joints are not limited.
    pub(crate) fn joints_left(&self, fixed: &[i64], courses: i64) -> Option<i64> {
        let pieces: i64 = fixed.iter().sum::<i64>() - self.extra.iter().sum::<i64>();
        let laid = self.materials.len() as i64 - courses;
        self.joints_at_most.map(|most| most - (pieces - laid))
    }

    /// Whether courses have no more joints than they may.
    pub(crate) fn allows(&self, courses: &[Vec<Place>]) -> bool {
        let joints: usize = courses.iter().map(Vec::len).sum();
        self.joints_at_most.is_none_or(|most| joints as i64 <= most)
    }

    /// The rows of one material.
    pub(crate) fn rows_of(&self, material: u16) -> std::ops::Range<usize> {
        let lengths = self.run.lengths.len();
        material as usize * lengths..(material as usize + 1) * lengths
    }
}

/// Adds the lengths of other pieces that no whole course has, and gives how many
/// are wanted of each row. They are cut from whole boards, never from strips.
fn extra_rows(job: &Job, lengths: &mut Vec<Length>, of_courses: usize) -> Vec<i64> {
    let mut wanted = vec![0; lengths.len()];
    let strips_end = lengths.len();
    for extra in &job.extras {
        let known = (0..of_courses)
            .chain(strips_end..lengths.len())
            .find(|&row| lengths[row] == extra.length);
        let row = known.unwrap_or_else(|| {
            lengths.push(extra.length);
            wanted.push(0);
            lengths.len() - 1
        });
        wanted[row] += i64::from(extra.count);
    }
    wanted
}

/// The material of each course, and how boards may be split for them. Without
/// splitting, ripped courses take whole boards like the rest.
fn materials(job: &Job, layout: &Layout) -> (Vec<u16>, Vec<Split>) {
    let none = vec![0; layout.courses.len()];
    if !job.cutting.split_rips {
        return (none, Vec::new());
    }
    let widths = layout
        .courses
        .iter()
        .filter(|c| c.ripped)
        .map(|c| c.width())
        .sorted()
        .dedup()
        .collect_vec();
    let splits: Vec<Split> = (0..widths.len())
        .flat_map(|a| (a..widths.len()).map(move |b| (a, b)))
        .filter(|&(a, b)| widths[a] + widths[b] + job.cutting.rip_kerf <= job.board.face)
        .map(|(a, b)| (a as u16 + 1, b as u16 + 1))
        .collect();
    if splits.is_empty() {
        return (none, Vec::new());
    }
    let materials = layout
        .courses
        .iter()
        .map(|c| {
            if !c.ripped {
                return 0;
            }
            widths
                .iter()
                .position(|w| *w == c.width())
                .expect("a ripped width") as u16
                + 1
        })
        .collect();
    (materials, splits)
}
