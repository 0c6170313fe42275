//! Boards that are too few: how much length there is and how much it takes, and
//! how many more of each kind would do.

use super::lays::Along;
use super::relax::{Asker, share};
use crate::job::Job;
use crate::joints::{Block, PathCosts};
use crate::length::{Length, Unit};
use crate::money::Money;
use crate::plan::attempts::MOST_STEPS;
use crate::plan::model::{Model, can_be_had, longest};
use crate::plan::types::Objective;

/// All that boards that can be had give in length; nothing when there is no end
/// to them.
pub(super) fn had(job: &Job) -> Option<Length> {
    let mut sum = Length::ZERO;
    for stock in job.stock.iter().filter(|stock| can_be_had(stock)) {
        let bought = match stock.price {
            Some(_) => stock.most_bought()?,
            None => 0,
        };
        let count = i64::from(bought) + i64::from(stock.on_hand);
        sum = sum.checked_add((stock.length - job.cutting.end_trim * 2).checked_mul(count)?)?;
    }
    Some(sum)
}

/// What all courses and other pieces take at least, the courses cut in the way
/// that takes the least, and in words what takes it.
pub(super) fn needed(job: &Job, fastener: usize) -> Option<(String, Length)> {
    let along = Along::of(job, fastener, longest(job)?)?;
    let (least, _) = along.course(job, |length| length.units())?;
    let mut all = Length::from_units(least).checked_mul(along.courses as i64)?;
    for extra in &job.extras {
        all = all.checked_add(extra.length.checked_mul(i64::from(extra.count))?)?;
    }
    let all_of_it = match (along.courses, job.extras.is_empty()) {
        (courses, true) => format!("{courses} courses take"),
        (courses, false) => format!("{courses} courses and the other pieces take"),
    };
    Some((all_of_it, all))
}

/// Whether the boards that can be had are too few by their mere length. Boards
/// that may be ripped in two serve for more than they measure.
pub(in crate::plan) fn is_short(job: &Job, fastener: usize) -> bool {
    let Some(had) = had(job).filter(|_| !job.cutting.split_rips) else {
        return false;
    };
    needed(job, fastener).is_some_and(|(_, needed)| had < needed)
}

/// A shortfall that no way to cut makes good: what some neighbouring courses
/// take at least, against the most that all boards give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shortfall {
    /// Of pieces so long or longer.
    Pieces {
        /// How long.
        longer: Length,
        /// How many courses side by side are looked at together.
        beside: usize,
        /// What those take.
        each: i64,
        /// What all courses take, and the other pieces.
        needed: i64,
        /// What the boards give.
        had: i64,
    },
    /// Of length, once boards are cut with as little left over as can be.
    Length {
        /// What all courses take, and the other pieces.
        needed: Length,
        /// What the boards give.
        had: Length,
    },
}

impl Shortfall {
    /// What anybody can count again; `extras` says whether there are other pieces.
    pub(super) fn told(self, unit: Unit, extras: bool) -> String {
        match self {
            Shortfall::Pieces {
                longer,
                beside,
                each,
                needed,
                had,
            } => {
                let pieces = if each == 1 { "piece" } else { "pieces" };
                let group = match beside {
                    1 => "every course takes".to_owned(),
                    _ => format!("every {beside} courses side by side take"),
                };
                format!(
                    "{group} {each} {pieces} of {} or longer at least, {needed} in all{}; the \
                     boards that can be had give {had} however they are cut",
                    longer.show(unit),
                    if extras { " with the other pieces" } else { "" }
                )
            }
            Shortfall::Length { needed, had } => format!(
                "the courses{} take {} of pieces at least; the boards that can be had give {} \
                 when as little as can be is left over of each",
                if extras { " and the other pieces" } else { "" },
                needed.show(unit),
                had.show(unit)
            ),
        }
    }
}

/// Lengths of pieces looked at as the shortest that counts.
const MOST_LOOKED_AT: usize = 100;

/// A shortfall that can be shown by counting, if there is one: the plainest,
/// and among its like the one that is short by most. Boards that may be ripped
/// in two are not counted so.
pub(super) fn shortfall(job: &Job, fastener: usize) -> Option<Shortfall> {
    if job.cutting.split_rips {
        return None;
    }
    let model = Model::new(job, fastener, Objective::Cost).ok()?;
    let (run, courses) = (&model.run, model.materials.len() as i64);
    let single = Block::new(run, &job.joints, &[0], MOST_STEPS).ok()??;
    let pair = Block::new(run, &job.joints, &[0, 0], MOST_STEPS);
    let pair = pair.ok().flatten();
    let least = |block: &Block, worth: &dyn Fn(Length) -> i64| {
        let row = run.lengths.iter().map(|&length| worth(length));
        let costs = PathCosts::of_pieces(row.collect(), run);
        block.least(&costs, None)
    };
    // What all boards give, each kind as much as `one` board of it.
    let given = |one: &dyn Fn(usize) -> i64| -> Option<i64> {
        let mut sum = 0i64;
        for (k, kind) in model.kinds.iter().enumerate() {
            let one = one(k);
            if one > 0 {
                sum = sum.checked_add(one.checked_mul(kind.limit?)?)?;
            }
        }
        Some(sum)
    };
    // What the other pieces take.
    let extra = |worth: &dyn Fn(Length) -> i64| -> i64 {
        let extras = job.extras.iter();
        let each = extras.map(|extra| worth(extra.length).saturating_mul(extra.count.into()));
        each.fold(0, i64::saturating_add)
    };
    let step = run.lengths.len().div_ceil(MOST_LOOKED_AT).max(1);
    for (beside, block) in [(1, Some(&single)), (2, pair.as_ref())] {
        let Some(block) = block else { continue };
        let short = run.lengths.iter().step_by(step).filter_map(|&longer| {
            let worth = |length: Length| i64::from(length >= longer);
            let each = least(block, &worth)?;
            let rest = if courses % beside == 0 {
                0
            } else {
                least(&single, &worth)?
            };
            let needed = courses / beside * each + rest + extra(&worth);
            let had = given(&|k| {
                let room = model.kinds[k].usable + model.kerf;
                room.units() / (longer + model.kerf).units()
            })?;
            (had < needed).then_some(Shortfall::Pieces {
                longer,
                beside: beside as usize,
                each,
                needed,
                had,
            })
        });
        let most = short.max_by_key(|short| match short {
            Shortfall::Pieces {
                needed,
                had,
                longer,
                ..
            } => (share(needed - had, *needed), *longer),
            Shortfall::Length { .. } => (0, Length::ZERO),
        });
        if most.is_some() {
            return most;
        }
    }
    let worth: Vec<i64> = model.lengths.iter().map(|length| length.units()).collect();
    let best = model.boards.best(&worth);
    let had = given(&|k| best[k].at_most)?;
    let units = |length: Length| length.units();
    let needed = least(&single, &units)?
        .checked_mul(courses)?
        .checked_add(extra(&units))?;
    (had < needed).then(|| Shortfall::Length {
        needed: Length::from_units(needed),
        had: Length::from_units(had),
    })
}

/// For each kind of board there are too few of, the number that gives a plan and
/// how far it is from what there is.
pub(super) fn more(asker: &Asker) -> Vec<(String, i64)> {
    (0..asker.job.stock.len())
        .filter_map(|at| one(asker, at))
        .collect()
}

fn one(asker: &Asker, at: usize) -> Option<(String, i64)> {
    let stock = &asker.job.stock[at];
    let (field, now) = match (stock.price, stock.available) {
        (Some(_), Some(available)) => ("available", available),
        (Some(_), None) => return None,
        (None, _) => ("on_hand", stock.on_hand),
    };
    let bought = few(asker, at)?;
    let base = if field == "available" { 0 } else { now };
    let set = |count: u32| {
        let mut job = asker.job.clone();
        match field {
            "available" => job.stock[at].available = Some(count),
            _ => job.stock[at].on_hand = count,
        }
        job
    };
    // Where just enough boards are hard to cut right, some more are easier.
    let bundle = if field == "available" {
        stock.bundle
    } else {
        1
    };
    let count = [0, 1, 2, 5, 10]
        .map(|spare| base.saturating_add(bought).saturating_add(spare))
        .map(|count| count.next_multiple_of(bundle))
        .into_iter()
        .filter(|&count| count > now && count <= 1_000_000)
        .find(|&count| asker.gives(&set(count)))?;
    Some((
        format!("`stock.{}.{field} = {count}`", at + 1),
        share(i64::from(count - now), i64::from(now.max(1))),
    ))
}

/// How few boards of one kind are bought when nothing else costs anything.
fn few(asker: &Asker, at: usize) -> Option<u32> {
    let mut job = asker.job.clone();
    for (place, stock) in job.stock.iter_mut().enumerate() {
        if place == at {
            stock.price = Some(Money::from_cents(1));
            stock.available = None;
        } else {
            stock.price = stock.price.map(|_| Money::ZERO);
        }
    }
    job.joints.price = Money::ZERO;
    job.joints.doubled_joist_price = Money::ZERO;
    let model = Model::new(&job, asker.fastener, Objective::Cost).ok()?;
    let found = asker.any(&model, &job)?;
    let bought = found
        .boards
        .iter()
        .filter(|(kind, _, _)| model.kinds[*kind].stock == at && !model.kinds[*kind].on_hand);
    u32::try_from(bought.map(|(_, _, count)| count).sum::<i64>()).ok()
}
