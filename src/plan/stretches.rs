//! The integer program over single courses: what keeps neighbours apart is told by
//! how many courses may have a joint within a stretch of the run, so that the program
//! is small however many courses and ways to cut them there are. It knows counts and
//! nothing of the order of courses; what pieces are worth it takes from a relaxation
//! over blocks.

use std::ops::Range;
use std::sync::Arc;

use itertools::Itertools;
use rustc_hash::FxHashMap;

use super::class::{Class, Ways};
use super::counts::Counts;
use super::cutdown::CutDown;
use super::finite::{Closed, Work};
use super::flows::{self, Steps};
use super::listing::Listing;
use super::master::Master;
use super::model::Model;
use super::prices::Prices;
use crate::job::JointRules;
use crate::joints::{Block, Link, PathCosts, Place};
use crate::program::ExtraRow;
use crate::program::branch::{Limits, Program};
use crate::program::widen::widen;

/// What the dearest piece comes to in a cut; the others in proportion.
const FINE: i64 = 20_000;
/// What part of the work is spent on fewer joints.
const TIES: u64 = 4;
/// Times that an answer which no blocks can have is cut off.
const CUTS: usize = 30;

/// At most so many of all courses have a joint in a stretch, those with one on a
/// support of it counted more often.
struct Crowd {
    /// The first and the last joint of the stretch.
    stretch: (Place, Place),
    /// The support, and how often more it counts.
    on: Option<(Place, i32)>,
    most: i64,
}

/// The most that a sequence of so many courses can weigh when neighbours don't both
/// weigh something and those of full weight are more than so many apart.
fn most(count: usize, apart: usize, weight: i64) -> i64 {
    // What is best by how long ago the last course was that weighs something, and the
    // last of full weight.
    let far = apart + 1;
    let mut best: FxHashMap<(usize, usize), i64> = FxHashMap::default();
    best.insert((far, far), 0);
    for _ in 0..count {
        let mut next: FxHashMap<(usize, usize), i64> = FxHashMap::default();
        for (&(any, full), &so_far) in &best {
            let older = |ago: usize| (ago + 1).min(far);
            let mut enter = |state, value| {
                let value: i64 = value;
                let best = next.entry(state).or_insert(value);
                *best = value.max(*best);
            };
            enter((older(any), older(full)), so_far);
            if any > 1 {
                enter((1, older(full)), so_far + 1);
                if full > apart {
                    enter((1, 1), so_far + 1 + weight);
                }
            }
        }
        best = next;
    }
    best.into_values().max().unwrap_or(0)
}

/// How many courses may have joints where.
fn crowds(model: &Model, rules: &JointRules) -> Vec<Crowd> {
    let run = &model.run;
    let count = model.materials.len();
    let places = run.joints.len() as Place;
    let apart = rules.same_joist_after as usize;
    let meet = |a: Place, b: Place| !run.compatible(rules, a, b, 1);
    let mut crowds: Vec<Crowd> = Vec::new();
    let mut last = 0;
    for first in 1..=places {
        if !meet(first, first) {
            continue;
        }
        let to = (first..=places).take_while(|&b| meet(first, b)).last();
        let to = to.unwrap_or(first);
        if to <= last {
            continue;
        }
        last = to;
        crowds.push(Crowd {
            stretch: (first, to),
            on: None,
            most: most(count, 1, 0),
        });
        if apart >= 2 {
            let weight = apart as i64;
            let both = most(count, apart, weight);
            let each = most(count, 1, 0) + weight * model.most_on_support;
            if both < each {
                crowds.extend((first..=to).map(|support| Crowd {
                    stretch: (first, to),
                    on: Some((support, weight as i32)),
                    most: both,
                }));
            }
        }
    }
    if apart >= 2 {
        crowds.extend((1..=places).map(|support| Crowd {
            stretch: (support, support),
            on: None,
            most: model.most_on_support,
        }));
    }
    crowds
}

/// All pieces and joints together cost so much at least, at some prices: what the
/// cheapest blocks do.
struct Cut {
    /// Of a piece, by row.
    row: Vec<i32>,
    /// Of a joint, by place.
    joint: Vec<i32>,
    least: i64,
}

impl Cut {
    /// What the blocks of a relaxation cost at prices near its own.
    fn of(master: &Master, prices: &Prices) -> Option<Cut> {
        let rows = &prices.path.row;
        let all = rows.iter().chain(&prices.path.joint);
        let part = (all.map(|price| price.abs()).max().unwrap_or(0) / FINE).max(1);
        let coarse = |price: i64| (price as f64 / part as f64).round() as i64;
        let costs = PathCosts {
            row: rows.iter().map(|&price| coarse(price)).collect(),
            joint: prices.path.joint.iter().map(|&j| coarse(j)).collect(),
            course: Vec::new(),
        };
        let mut least = 0;
        for class in &master.classes {
            least += class.count * class.block()?.least(&costs, class.allowed.as_ref())?;
        }
        Some(Cut {
            row: costs.row.iter().map(|&price| price as i32).collect(),
            joint: costs.joint.iter().map(|&price| price as i32).collect(),
            least,
        })
    }

    /// What a step has in it.
    fn of_link(&self, link: &Link) -> i32 {
        let joint = (link.joint != 0).then(|| self.joint[usize::from(link.joint)]);
        self.row[usize::from(link.row)] + joint.unwrap_or(0)
    }
}

/// How many places a set has.
fn size(set: &[bool]) -> i64 {
    set.iter().filter(|&&of_set| of_set).count() as i64
}

/// Ranges of so many supports: all, the halves, their halves and so on down to each. A joint
/// that may not lie on a support lies on the next one, for little more; what raises bounds is
/// how many of a range carry joints.
pub(super) fn ranges(places: usize) -> Vec<Range<usize>> {
    let mut ranges = Vec::new();
    let mut width = places.next_power_of_two();
    while width > 0 {
        let starts = (0..places).step_by(width);
        ranges.extend(starts.map(|from| from..places.min(from + width)));
        width /= 2;
    }
    ranges
}

/// Looks for whole counts that weigh less than `best`, or the proof that there are
/// none, over single courses of the pieces that blocks within the gap hold, and gives
/// the classes of those courses. Bounds are those of the primary objective. What a solved
/// relaxation over blocks knows of their pieces is a row of the program; an answer whose
/// pieces no blocks can have is cut off by another.
pub(super) fn close(
    master: &Master,
    rules: &JointRules,
    best: i64,
    work: Work,
    stop: &dyn Fn() -> bool,
) -> (Closed, Vec<Class>) {
    let model = master.model;
    let mut closed = Closed {
        better: None,
        bound: 0,
    };
    let Some(prices) = &master.prices else {
        return (closed, Vec::new());
    };
    let Some(mut courses) = Courses::new(master, prices, rules, best) else {
        return (closed, Vec::new());
    };
    let mut kept = None;
    let lift = |bound| model.level(bound);
    let blocks: Vec<i64> = master.classes.iter().map(|c| c.count).collect();
    let all = Counts::all(model, best);
    let mut blocks_alone = master.clone();
    closed.bound = prices.bound();
    for _ in 0..CUTS {
        let mut list = |cutoff| courses.list(master, prices, &mut kept, cutoff, work.columns);
        let widened = widen(closed.bound, best, &lift, work.limits, stop, &mut list);
        model.branched(widened.work);
        closed.bound = closed.bound.max(model.at_level(widened.bound));
        let Some(mut better) = widened.better else {
            closed.better = None;
            break;
        };
        // Among those as good some have fewer joints.
        if model.weights.doubled == 0 {
            let level = model.at_level(better.0.0).max(closed.bound);
            let few = Limits {
                nodes: work.limits.nodes.div_ceil(TIES),
                work: work.limits.work.div_ceil(TIES),
            };
            let fewer = widen(level, better.0.0, &|b| model.lift(b), few, stop, &mut list);
            model.branched(fewer.work);
            better = fewer.better.unwrap_or(better);
        }
        let (found, steps) = better;
        let found = flows::answer(model, &courses.classes, found, &steps);
        // With those pieces given, blocks that can have them need no boards.
        let given = found
            .pieces(model, &courses.classes)
            .into_iter()
            .map(|n| -n);
        let given: Vec<i64> = given.collect();
        blocks_alone.set(&given, &blocks, &all, None);
        blocks_alone.solve(best, i64::MAX, stop);
        let beside_boards = found.joints() * model.weights.joint + found.doubled(model);
        closed.better = Some(found);
        let prices = blocks_alone.prices.as_ref();
        let lacking = prices.filter(|prices| prices.bound() > beside_boards);
        match lacking.and_then(|prices| Cut::of(master, prices)) {
            Some(cut) if !stop() => courses.cuts.push(cut),
            _ => break,
        }
    }
    (closed, courses.classes)
}

/// Single courses and what is known of them.
pub(super) struct Courses {
    classes: Vec<Class>,
    /// Steps, by class, and where each begins.
    links: Vec<(usize, Link)>,
    starts: Vec<Place>,
    crowds: Vec<Crowd>,
    cuts: Vec<Cut>,
    /// Sets of places that no answer may pay for, all of them and no other.
    pub barred: Vec<Vec<bool>>,
}

impl Courses {
    /// Of the pieces that blocks of a relaxation within the gap hold.
    pub(super) fn new(
        master: &Master,
        prices: &Prices,
        rules: &JointRules,
        best: i64,
    ) -> Option<Courses> {
        let (model, only) = (master.model, &master.pieces(best));
        let mut classes: Vec<Class> = Vec::new();
        for &material in model.materials.iter().sorted().dedup() {
            let run = &model.run;
            let block = Block::among(run, rules, &[material], Some(only), false, usize::MAX);
            let block = Arc::new(block.ok()??);
            let count = model.materials.iter().filter(|&&m| m == material).count();
            classes.push(Class {
                count: count as i64,
                ..Class::new(Ways::Block(block), vec![material])
            });
        }
        let free = PathCosts::of_pieces(vec![0; model.rows], &model.run);
        let mut links = Vec::new();
        let mut starts = Vec::new();
        for (q, class) in classes.iter().enumerate() {
            let block = class.block()?;
            let of_block = block.links(&free, None, 0)?;
            let mut place: FxHashMap<u32, Place> = FxHashMap::default();
            place.insert(0, 0);
            for link in &of_block {
                place.insert(link.to, link.joint);
            }
            for link in of_block {
                starts.push(place[&link.from]);
                links.push((q, link));
            }
        }
        Some(Courses {
            classes,
            links,
            starts,
            crowds: crowds(model, rules),
            cuts: Cut::of(master, prices).into_iter().collect(),
            barred: Vec::new(),
        })
    }

    /// What bars a set of places, of the columns of a program: another support, or one of
    /// these less.
    pub(super) fn barring(&self, set: &[bool]) -> ExtraRow {
        let first = self.links.len() as u32;
        let entries = set[1..].iter().zip(first..);
        let entries = entries.map(|(&of_set, j)| (j, if of_set { -1 } else { 1 }));
        ExtraRow::new(entries.collect(), 1 - size(set))
    }

    /// The places that an answer pays for.
    pub(super) fn paid(&self, model: &Model, columns: &[(usize, i64)]) -> Vec<bool> {
        let (first, places) = (self.links.len(), model.run.joints.len());
        let mut set = vec![false; places + 1];
        for &(j, _) in columns {
            if (first..first + places).contains(&j) {
                set[j - first + 1] = true;
            }
        }
        set
    }

    /// The program of an answer up to `cutoff`; nothing if its columns come to more than
    /// `most`.
    pub(super) fn list(
        &self,
        master: &Master,
        prices: &Prices,
        kept: &mut Option<CutDown>,
        cutoff: i64,
        most: usize,
    ) -> Option<(Program, Steps)> {
        let (model, rows) = (master.model, &master.rows);
        let mut listing = Listing::new(master);
        // Blocks are not among these columns.
        listing.at_least[rows.class..rows.class + master.classes.len()].fill(0);
        let mut node_row: FxHashMap<(usize, u32), u32> = FxHashMap::default();
        let row = |listing: &mut Listing, at_least: i64| {
            listing.at_least.push(at_least);
            listing.at_least.len() as u32 - 1
        };
        let ends: Vec<u32> = self
            .classes
            .iter()
            .map(|class| row(&mut listing, class.count))
            .collect();
        let crowd_rows: Vec<u32> = self
            .crowds
            .iter()
            .map(|crowd| row(&mut listing, -crowd.most))
            .collect();
        let cut_rows: Vec<u32> = (self.cuts.iter())
            .map(|cut| row(&mut listing, cut.least))
            .collect();
        let mut joints: Vec<(u32, i32)> = Vec::new();
        let mut pieces: Vec<Vec<(u32, i32)>> = vec![Vec::new(); model.rows];
        let mut on: Vec<Vec<(u32, i32)>> = vec![Vec::new(); model.run.joints.len() + 1];
        for ((q, link), &start) in self.links.iter().zip(&self.starts) {
            let last = self.classes[*q].block()?.last();
            let mut entries = rows.link(0, link, false);
            for (node, sign) in [(link.from, -1), (link.to, 1)] {
                if node == last {
                    entries.push((ends[*q], sign));
                } else if node != 0 {
                    let at = *node_row
                        .entry((*q, node))
                        .or_insert_with(|| row(&mut listing, 0));
                    entries.push((at, sign));
                }
            }
            let joint = link.joint;
            if joint != 0 {
                entries.extend(rows.on_support(joint));
                for (crowd, &at) in self.crowds.iter().zip(&crowd_rows) {
                    let (first, to) = crowd.stretch;
                    let enters = start < first && (first..=to).contains(&joint);
                    let more = crowd.on.filter(|on| on.0 == joint).map_or(0, |on| on.1);
                    let n = i32::from(enters) + more;
                    if n > 0 {
                        entries.push((at, -n));
                    }
                }
            }
            for (cut, &at) in self.cuts.iter().zip(&cut_rows) {
                let n = cut.of_link(link);
                if n != 0 {
                    entries.push((at, n));
                }
            }
            let weight = if joint != 0 { model.weights.joint } else { 0 };
            let j = listing.push(weight, entries, 1 + *q as u32);
            if joint != 0 {
                joints.push((j, 1));
                on[usize::from(joint)].push((j, 1));
            }
            pieces[usize::from(link.row)].push((j, 1));
        }
        let doubled = self.doubled(&mut listing, master);
        listing.boards(master, prices, kept, cutoff, most)?;
        let sums = doubled.into_iter().chain([joints]).chain(pieces).chain(on);
        let sums = sums.filter(|sum| !sum.is_empty());
        let others = model.most_pieces + model.run.joints.len() as i64;
        let (program, boards) = listing.program(master, cutoff, others, sums);
        let links = self.links.clone();
        Some((program, Steps { links, boards }))
    }

    /// Adds the supports that carry joints, if they cost something, and gives what is
    /// worth branching on: how many there are in each range.
    fn doubled(&self, listing: &mut Listing, master: &Master) -> Vec<Vec<(u32, i32)>> {
        let (model, rows) = (master.model, &master.rows);
        if model.weights.doubled == 0 {
            return Vec::new();
        }
        let first = listing.at_least.len() as u32;
        for set in &self.barred {
            listing.at_least.push(1 - size(set));
        }
        let supports = (1..=model.run.joints.len() as Place).map(|joint| {
            let mut entries = rows.doubled(model, joint);
            for (set, row) in self.barred.iter().zip(first..) {
                let of_set = set[usize::from(joint)];
                entries.push((row, if of_set { -1 } else { 1 }));
            }
            (listing.doubled(model.weights.doubled, entries), 1)
        });
        let supports: Vec<(u32, i32)> = supports.collect();
        let ranges = ranges(supports.len()).into_iter();
        ranges.map(|range| supports[range].to_vec()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;
    use crate::money::Money;
    use crate::plan::budget::Budget;
    use crate::plan::decks::deck;
    use crate::plan::search::{first_classes, search};
    use crate::plan::types::Objective;

    /// The most by trying every sequence.
    fn by_trial(count: usize, apart: usize, weight: i64) -> i64 {
        let sequences = 3usize.pow(count as u32);
        let weigh = |mut code: usize| {
            let kinds = (0..count).map(|_| {
                let kind = code % 3;
                code /= 3;
                kind
            });
            let kinds: Vec<usize> = kinds.collect();
            let near = |a: usize, b: usize| {
                b - a == 1 && kinds[a] > 0 && kinds[b] > 0
                    || b - a <= apart && kinds[a] == 2 && kinds[b] == 2
            };
            let clash = (0..count).any(|a| (a + 1..count).any(|b| near(a, b)));
            let value = |&kind: &usize| match kind {
                0 => 0,
                1 => 1,
                _ => 1 + weight,
            };
            (!clash).then(|| kinds.iter().map(value).sum::<i64>())
        };
        (0..sequences).filter_map(weigh).max().unwrap_or(0)
    }

    #[test]
    fn as_many_courses_have_a_joint_in_a_stretch_as_any_sequence_has() {
        for count in 1..=9 {
            for apart in 1..=4 {
                for weight in 0..=3 {
                    assert_eq!(
                        most(count, apart, weight),
                        by_trial(count, apart, weight),
                        "{count} courses, {apart} apart, weight {weight}"
                    );
                }
            }
        }
    }

    #[test]
    fn no_bound_is_above_the_best_plan() {
        let work = Work {
            columns: 20_000,
            limits: Limits {
                nodes: 400,
                work: 20,
            },
        };
        let mut raised = 0;
        for n in 0..22i64 {
            let boards = [(8, 1_911 + 37 * n), (12, 3_003 - 11 * n), (14, 3_790)];
            let mut job = deck(n, 230 + 23 * (n % 9), 34 + 11 * (n % 4), boards);
            job.joints.stagger = Length::from_inches([0, 16, 32, 48][(n % 4) as usize]);
            if n >= 18 {
                job.joints.doubled_joist_price = Money::from_cents(650);
            }
            let Ok(model) = Model::new(&job, 0, Objective::Cost) else {
                panic!("deck {n} is one that can be searched");
            };
            let best = search(&model, &job.joints, Budget::FULL, &|| false, &|_, _| {});
            let Some(best) = best.best else { continue };
            let all = Counts::all(&model, model.conceivable);
            let Some((_, classes)) = first_classes(&model, &job.joints, None, 100_000) else {
                panic!("deck {n} has blocks");
            };
            let mut root = Master::counting(&model, classes, &model.extra, &[], all);
            root.solve(model.conceivable, model.conceivable, &|| false);
            let relaxed = root.prices.as_ref().map_or(0, Prices::bound);
            for target in [best.weight + 1, best.weight + best.weight / 50] {
                let (closed, _) = close(&root, &job.joints, target, work, &|| false);
                assert!(closed.bound <= best.weight, "deck {n}");
                raised += i32::from(closed.bound > model.lift(relaxed));
                if let Some(better) = closed.better {
                    assert!(better.weight >= model.lift(relaxed), "deck {n}");
                }
            }
        }
        assert!(raised > 5, "only {raised} bounds were raised");
    }
}
