//! Putting the blocks of an answer in order. Two things make a good start: a
//! block used `y` times lies as A B A B ... by itself, and blocks that share a
//! course pattern run into each other. Counting every block of two courses twice
//! gives a graph over patterns whose degrees are all even, so each connected
//! part of it can be walked from one end of any of its blocks to the other. The
//! parts are laid one after another; where that clashes, a search turns
//! stretches round, moves courses and cuts them into the same pieces in another
//! order until nothing clashes.

use std::collections::BTreeMap;
use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::class::Class;
use super::finite::Answer;
use super::model::Model;
use super::search::Laid;
use super::untangle::{Line, untangle};
use crate::job::JointRules;
use crate::joints::{Block, Path, Place, Takes};

/// A course as it is cut: its joints.
type Pattern = Vec<Place>;

/// Ways to cut one block that are looked at.
const MOST_WAYS: usize = 60;
/// Ways to cut one course that are looked at.
const MOST_TURNS: usize = 24;

/// Course patterns beyond which no more are looked at.
const MOST_PATTERNS: usize = 300;

/// Courses that cannot lie as near to one another as they do.
pub(crate) type Clashes = Vec<(usize, usize)>;

/// Orders the blocks of an answer; nothing when no order is found in so many
/// steps.
pub(crate) fn order(
    model: &Model,
    rules: &JointRules,
    classes: &[Class],
    answer: &Answer,
    steps: u32,
) -> Option<Laid> {
    let (laid, clashes) = nearly(model, rules, classes, answer, steps)?;
    clashes.is_empty().then_some(laid)
}

/// The blocks of an answer in an order of few clashes, and those; nothing when its
/// courses cannot be laid in any.
pub(crate) fn nearly(
    model: &Model,
    rules: &JointRules,
    classes: &[Class],
    answer: &Answer,
    steps: u32,
) -> Option<(Laid, Clashes)> {
    let marks = Marks::new(model, rules);
    let start = start(model, classes, answer, &|a, b| !marks.clash(a, b))?;
    // Every pattern that may stand in for one of the courses.
    let mut patterns: Vec<Pattern> = Vec::new();
    let mut number: FxHashMap<Pattern, u16> = FxHashMap::default();
    let mut enter = |pattern: &Pattern, patterns: &mut Vec<Pattern>| -> u16 {
        *number.entry(pattern.clone()).or_insert_with(|| {
            patterns.push(pattern.clone());
            patterns.len() as u16 - 1
        })
    };
    let courses: Vec<u16> = start.iter().map(|p| enter(p, &mut patterns)).collect();
    let mut turns: Vec<Vec<u16>> = Vec::new();
    if model.weights.doubled == 0 {
        let single = Block::new(&model.run, rules, &[0], usize::MAX)
            .ok()
            .flatten()?;
        for at in 0..patterns.len() {
            if patterns.len() > MOST_PATTERNS {
                break;
            }
            let path: Path = vec![patterns[at].clone()];
            let takes = Takes::of(&path, &model.run, &[0], false);
            let ways = single.realise(&takes, false, MOST_TURNS);
            turns.push(
                ways.iter()
                    .map(|way| enter(&way[0], &mut patterns))
                    .collect(),
            );
        }
    }
    // A turned course may be turned again, to what it was or to its fellows.
    for at in 0..turns.len() {
        for &other in &turns[at].clone() {
            if other as usize >= turns.len() {
                turns.resize(other as usize + 1, Vec::new());
            }
            if turns[other as usize].is_empty() {
                turns[other as usize] = turns[at].clone();
            }
        }
    }
    turns.resize(patterns.len(), Vec::new());
    let reach = (rules.same_joist_after as usize)
        .min(model.materials.len())
        .max(1);
    let held: Vec<Vec<u64>> = patterns.iter().map(|p| marks.of(p)).collect();
    let barred: Vec<Vec<u64>> = patterns.iter().map(|p| marks.barred(p)).collect();
    let table = |bars: &[Vec<u64>]| -> Vec<bool> {
        bars.iter()
            .flat_map(|a| held.iter().map(|b| meet(a, b)))
            .collect()
    };
    // Beyond the next course only the same support counts.
    let clash: Vec<Vec<bool>> = (1..=reach)
        .map(|apart| table(if apart == 1 { &barred } else { &held }))
        .collect();
    let plain = |material: &u16| *material == 0;
    let first = model.materials.iter().position(plain).unwrap_or(0);
    let last = model
        .materials
        .iter()
        .rposition(plain)
        .map_or(0, |at| at + 1);
    let line = Line {
        courses,
        turns,
        clash,
        kinds: patterns.len(),
        movable: first..last,
    };
    let (courses, clashes) = untangle(line, steps);
    let courses = courses
        .into_iter()
        .map(|p| patterns[p as usize].clone())
        .collect();
    let laid = Laid {
        weight: answer.weight,
        courses,
        boards: answer.boards.clone(),
    };
    Some((laid, clashes))
}

/// Joints as sets of bits, one for each place.
struct Marks {
    words: usize,
    /// The places that a joint bars in the next course.
    bars: Vec<Vec<u64>>,
}

impl Marks {
    fn new(model: &Model, rules: &JointRules) -> Marks {
        let run = &model.run;
        let words = run.joints.len() / 64 + 1;
        let bars = (1..run.end())
            .map(|a| {
                let mut bits = vec![0; words];
                for b in 1..run.end() {
                    if !run.compatible(rules, a, b, 1) {
                        let place = b as usize - 1;
                        bits[place / 64] |= 1 << (place % 64);
                    }
                }
                bits
            })
            .collect();
        Marks { words, bars }
    }

    fn of(&self, pattern: &Pattern) -> Vec<u64> {
        let mut bits = vec![0; self.words];
        for &place in pattern {
            let place = place as usize - 1;
            bits[place / 64] |= 1 << (place % 64);
        }
        bits
    }

    fn barred(&self, pattern: &Pattern) -> Vec<u64> {
        let mut bits = vec![0; self.words];
        for &place in pattern {
            for (all, bars) in bits.iter_mut().zip(&self.bars[place as usize - 1]) {
                *all |= bars;
            }
        }
        bits
    }

    /// Whether two courses may not be neighbours.
    fn clash(&self, a: &Pattern, b: &Pattern) -> bool {
        meet(&self.barred(a), &self.of(b))
    }
}

fn meet(a: &[u64], b: &[u64]) -> bool {
    a.iter().zip(b).any(|(x, y)| x & y != 0)
}

/// All courses of an answer in an order that clashes seldom.
fn start(
    model: &Model,
    classes: &[Class],
    answer: &Answer,
    fits: &dyn Fn(&Pattern, &Pattern) -> bool,
) -> Option<Vec<Pattern>> {
    let by_joint = model.weights.doubled > 0;
    let mut special: FxHashMap<Vec<u16>, Vec<Path>> = FxHashMap::default();
    let mut free: Vec<(Vec<Path>, i64)> = Vec::new();
    let mut loose: Vec<Pattern> = Vec::new();
    for (q, path, count) in &answer.blocks {
        let class = &classes[*q];
        if class.materials.iter().any(|&m| m != 0) {
            let blocks = special.entry(class.materials.clone()).or_default();
            blocks.extend((0..*count).map(|_| path.clone()));
        } else if class.materials.len() == 2 {
            let takes = Takes::of(path, &model.run, &class.materials, by_joint);
            let ways = |block: &Arc<Block>| block.realise(&takes, by_joint, MOST_WAYS);
            let mut ways = class.block().map_or_else(Vec::new, ways);
            if ways.is_empty() {
                ways.push(path.clone());
            }
            free.push((ways, *count));
        } else {
            loose.extend((0..*count).flat_map(|_| path.iter().cloned()));
        }
    }
    let mut plain: Vec<Pattern> = Vec::new();
    let mut parts = parts(choose(free, fits));
    while !parts.is_empty() {
        // The part and the end of it that may follow, else whichever comes.
        let next = plain.last().and_then(|before| {
            parts.iter().enumerate().find_map(|(i, part)| {
                let (a, b, _) = part
                    .iter()
                    .flat_map(|(a, b, n)| [(a, b, n), (b, a, n)])
                    .find(|(entry, _, _)| fits(before, entry))?;
                Some((i, a.clone(), b.clone()))
            })
        });
        let (i, entry, exit) =
            next.unwrap_or_else(|| (0, parts[0][0].0.clone(), parts[0][0].1.clone()));
        plain.extend(walk(&parts.remove(i), &entry, &exit));
    }
    chain(&mut plain, loose, fits);
    // Courses of their own material lie where their blocks do.
    let width = classes.iter().map(|c| c.materials.len()).max()?;
    let mut plain = plain.into_iter();
    let mut courses = Vec::new();
    for materials in model.materials.chunks(width) {
        match special.get_mut(materials).and_then(Vec::pop) {
            Some(path) => courses.extend(path),
            None => courses.extend(plain.by_ref().take(materials.len())),
        }
    }
    (courses.len() == model.materials.len()).then_some(courses)
}

/// Adds courses, each one of those of which most are left that may follow.
fn chain(plain: &mut Vec<Pattern>, loose: Vec<Pattern>, fits: &dyn Fn(&Pattern, &Pattern) -> bool) {
    let mut left: BTreeMap<Pattern, usize> = BTreeMap::new();
    for pattern in loose {
        *left.entry(pattern).or_default() += 1;
    }
    while !left.is_empty() {
        let last = plain.last();
        let may = |pattern: &Pattern| last.is_none_or(|last| fits(last, pattern));
        let next = left.iter().max_by_key(|(pattern, n)| (may(pattern), **n));
        let Some(next) = next.map(|(pattern, _)| pattern.clone()) else {
            break;
        };
        if let Some(n) = left.get_mut(&next) {
            *n -= 1;
        }
        left.retain(|_, n| *n > 0);
        plain.push(next);
    }
}

/// A block as the two patterns it joins, and how often it is used.
type Edge = (Pattern, Pattern, i64);

/// Chooses a way to cut every block, few ways first, each nearest to what is
/// chosen already.
fn choose(mut free: Vec<(Vec<Path>, i64)>, fits: &dyn Fn(&Pattern, &Pattern) -> bool) -> Vec<Edge> {
    free.sort_by_key(|(ways, count)| (ways.len(), std::cmp::Reverse(*count)));
    let mut chosen: Vec<Edge> = Vec::new();
    for (ways, count) in free {
        let score = |way: &Path| {
            let meets = |p: &Pattern| chosen.iter().any(|(a, b, _)| a == p || b == p);
            let follows = |p: &Pattern| chosen.iter().any(|(a, b, _)| fits(a, p) || fits(b, p));
            10 * (i32::from(meets(&way[0])) + i32::from(meets(&way[1])))
                + i32::from(follows(&way[0]))
                + i32::from(follows(&way[1]))
        };
        let way = ways
            .iter()
            .rev()
            .max_by_key(|way| score(way))
            .expect("at least one way");
        chosen.push((way[0].clone(), way[1].clone(), count));
    }
    chosen
}

/// The connected parts of some blocks.
fn parts(blocks: Vec<Edge>) -> Vec<Vec<Edge>> {
    let mut groups: Vec<Vec<Edge>> = Vec::new();
    for block in blocks {
        let touches = |group: &Vec<Edge>| {
            group
                .iter()
                .any(|(a, b, _)| [a, b].iter().any(|p| **p == block.0 || **p == block.1))
        };
        let (mut joined, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(touches);
        let mut group: Vec<Edge> = joined.drain(..).flatten().collect();
        group.push(block);
        groups = apart;
        groups.push(group);
    }
    groups
}

/// The courses of a part from one end of a block to the other: a walk over every
/// block twice but for one passage between the two ends (Hierholzer's method).
fn walk(part: &[Edge], entry: &Pattern, exit: &Pattern) -> Vec<Pattern> {
    let mut passages: BTreeMap<&Pattern, BTreeMap<&Pattern, i64>> = BTreeMap::new();
    for (a, b, count) in part {
        *passages.entry(a).or_default().entry(b).or_default() += 2 * count;
        if a != b {
            *passages.entry(b).or_default().entry(a).or_default() += 2 * count;
        }
    }
    let take =
        |a: &Pattern, b: &Pattern, passages: &mut BTreeMap<&Pattern, BTreeMap<&Pattern, i64>>| {
            let pairs = if a == b {
                vec![(a, b)]
            } else {
                vec![(a, b), (b, a)]
            };
            for (x, y) in pairs {
                *passages
                    .get_mut(x)
                    .and_then(|p| p.get_mut(y))
                    .expect("a passage is there") -= 1;
            }
        };
    take(entry, exit, &mut passages);
    let mut stack = vec![exit.clone()];
    let mut courses = Vec::new();
    while let Some(at) = stack.last().cloned() {
        let next = passages
            .get(&at)
            .and_then(|p| p.iter().find(|(_, n)| **n > 0))
            .map(|(next, _)| (*next).clone());
        match next {
            Some(next) => {
                take(&at, &next, &mut passages);
                stack.push(next);
            }
            None => courses.extend(stack.pop()),
        }
    }
    courses
}
