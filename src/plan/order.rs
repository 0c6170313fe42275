//! Putting blocks of two courses in order. A block used `y` times lies as
//! A B A B ... by itself, and blocks that share a course pattern run into each
//! other: counting every block twice makes a graph over course patterns whose
//! degrees are all even, so each connected part can be walked from one end of
//! any of its blocks to the other. What is left is to make the parts few, by
//! choosing among the ways to cut a block into the same pieces, and to find an
//! order of the parts in which each may follow the last.

use std::collections::BTreeMap;

use super::finite::Answer;
use super::master::Master;
use super::model::Model;
use super::search::Laid;
use crate::job::JointRules;
use crate::joints::{Path, Place, Takes, compatible};

/// A course as it is cut: its joints.
type Pattern = Vec<Place>;

/// Blocks between the same patterns, or a course or block that stands alone.
struct Part {
    /// Blocks as pairs of patterns and how often each is used.
    blocks: Vec<(Pattern, Pattern, i64)>,
    /// A single course instead.
    single: Option<Pattern>,
    /// Where the part must lie because its courses are of their own material.
    end: Option<End>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    First,
    Last,
}

/// Ways to cut one block that are looked at.
const MOST_WAYS: usize = 60;
/// Steps of the search for an order of parts.
const MOST_STEPS: u32 = 50_000;

/// Orders the blocks of an answer over a relaxation whose blocks are two courses
/// wide (the odd course being a block of its own); nothing when no order is
/// found. Only for rules that look no farther than the next course.
pub(crate) fn order(
    model: &Model,
    rules: &JointRules,
    master: &Master,
    answer: &Answer,
) -> Option<Laid> {
    if rules.same_joist_after > 1 || master.classes.iter().any(|c| c.materials.len() > 2) {
        return None;
    }
    let fits = |a: &Pattern, b: &Pattern| {
        a.iter().all(|&x| {
            b.iter().all(|&y| {
                compatible(
                    rules,
                    model.run.joints[x as usize - 1],
                    model.run.joints[y as usize - 1],
                    1,
                )
            })
        })
    };
    let parts = parts(model, master, answer, &fits)?;
    let sequence = chain(&parts, &fits)?;
    let mut courses: Vec<Pattern> = Vec::new();
    for (part, entry, exit) in sequence {
        courses.extend(walk(&parts[part], &entry, &exit));
    }
    debug_assert_eq!(courses.len(), model.materials.len());
    debug_assert!(courses.windows(2).all(|w| fits(&w[0], &w[1])));
    Some(Laid {
        weight: answer.weight,
        courses,
        boards: answer.boards.clone(),
    })
}

/// Chooses a way to cut every block so that the parts are few.
fn parts(
    model: &Model,
    master: &Master,
    answer: &Answer,
    fits: &dyn Fn(&Pattern, &Pattern) -> bool,
) -> Option<Vec<Part>> {
    let by_joint = model.weights.doubled > 0;
    let mut parts: Vec<Part> = Vec::new();
    let mut free: Vec<(Vec<Path>, i64)> = Vec::new();
    for (q, path, count) in &answer.blocks {
        let class = &master.classes[*q];
        let plain = class.materials.iter().all(|&m| m == 0);
        if !plain || class.materials.len() == 1 {
            for _ in 0..*count {
                let end = (!plain)
                    .then(|| place_of(model, &class.materials))
                    .flatten();
                if !plain && end.is_none() {
                    return None;
                }
                parts.push(match &path[..] {
                    [one] => Part {
                        blocks: Vec::new(),
                        single: Some(one.clone()),
                        end,
                    },
                    [one, two] => Part {
                        blocks: vec![(one.clone(), two.clone(), 1)],
                        single: None,
                        end,
                    },
                    _ => return None,
                });
            }
            continue;
        }
        let takes = Takes::of(path, &model.run, &class.materials, by_joint);
        let mut ways = class.block.realise(&takes, by_joint, MOST_WAYS);
        if ways.is_empty() {
            ways.push(path.clone());
        }
        free.push((ways, *count));
    }
    // Few ways first; each takes the way nearest to what is there already.
    free.sort_by_key(|(ways, count)| (ways.len(), std::cmp::Reverse(*count)));
    let mut chosen: Vec<(Pattern, Pattern, i64)> = Vec::new();
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
    // Connected parts.
    let mut part_of: BTreeMap<Pattern, usize> = BTreeMap::new();
    let mut groups: Vec<Vec<(Pattern, Pattern, i64)>> = Vec::new();
    for block in chosen {
        let (a, b) = (
            part_of.get(&block.0).copied(),
            part_of.get(&block.1).copied(),
        );
        let group = match (a, b) {
            (Some(a), Some(b)) if a != b => {
                let moved = std::mem::take(&mut groups[b]);
                for (p, q, _) in &moved {
                    part_of.insert(p.clone(), a);
                    part_of.insert(q.clone(), a);
                }
                groups[a].extend(moved);
                a
            }
            (Some(g), _) | (_, Some(g)) => g,
            (None, None) => {
                groups.push(Vec::new());
                groups.len() - 1
            }
        };
        part_of.insert(block.0.clone(), group);
        part_of.insert(block.1.clone(), group);
        groups[group].push(block);
    }
    parts.extend(
        groups
            .into_iter()
            .filter(|g| !g.is_empty())
            .map(|blocks| Part {
                blocks,
                single: None,
                end: None,
            }),
    );
    Some(parts)
}

/// Where a block of its own materials lies.
fn place_of(model: &Model, materials: &[u16]) -> Option<End> {
    let count = materials.len();
    let all = &model.materials;
    let first = all[..count] == *materials;
    let last = all[all.len() - count..] == *materials;
    // Two ends alike are told apart by the caller's order only.
    match (first, last) {
        (true, false) => Some(End::First),
        (false, true) => Some(End::Last),
        _ => None,
    }
}

/// An order of the parts in which each may follow the last: part, first course,
/// last course.
fn chain(
    parts: &[Part],
    fits: &dyn Fn(&Pattern, &Pattern) -> bool,
) -> Option<Vec<(usize, Pattern, Pattern)>> {
    let ways: Vec<Vec<(Pattern, Pattern)>> = parts
        .iter()
        .map(|part| match (&part.single, part.end) {
            (Some(p), _) => vec![(p.clone(), p.clone())],
            (None, Some(_)) => part
                .blocks
                .iter()
                .map(|(a, b, _)| (a.clone(), b.clone()))
                .collect(),
            (None, None) => part
                .blocks
                .iter()
                .flat_map(|(a, b, _)| [(a.clone(), b.clone()), (b.clone(), a.clone())])
                .collect(),
        })
        .collect();
    let mut done = vec![false; parts.len()];
    let mut sequence = Vec::new();
    let mut steps = MOST_STEPS;
    extend(parts, &ways, fits, &mut done, &mut sequence, &mut steps).then_some(sequence)
}

fn extend(
    parts: &[Part],
    ways: &[Vec<(Pattern, Pattern)>],
    fits: &dyn Fn(&Pattern, &Pattern) -> bool,
    done: &mut [bool],
    sequence: &mut Vec<(usize, Pattern, Pattern)>,
    steps: &mut u32,
) -> bool {
    if sequence.len() == parts.len() {
        return true;
    }
    for i in 0..parts.len() {
        let first = parts[i].end == Some(End::First);
        let last = parts[i].end == Some(End::Last);
        let waits = |j: usize| !done[j] && parts[j].end == Some(End::First) && j != i;
        if done[i]
            || (first && !sequence.is_empty())
            || (last && sequence.len() + 1 < parts.len())
            || (!first && (0..parts.len()).any(waits))
        {
            continue;
        }
        done[i] = true;
        for (entry, exit) in &ways[i] {
            if *steps == 0 {
                return false;
            }
            *steps -= 1;
            if sequence
                .last()
                .is_some_and(|(_, _, before)| !fits(before, entry))
            {
                continue;
            }
            sequence.push((i, entry.clone(), exit.clone()));
            if extend(parts, ways, fits, done, sequence, steps) {
                return true;
            }
            sequence.pop();
        }
        done[i] = false;
    }
    false
}

/// The courses of a part from its first to its last: a walk over every block
/// twice but for one passage between the two ends.
fn walk(part: &Part, entry: &Pattern, exit: &Pattern) -> Vec<Pattern> {
    if let Some(single) = &part.single {
        return vec![single.clone()];
    }
    let mut edges: BTreeMap<&Pattern, BTreeMap<&Pattern, i64>> = BTreeMap::new();
    for (a, b, count) in &part.blocks {
        *edges.entry(a).or_default().entry(b).or_default() += 2 * count;
        if a != b {
            *edges.entry(b).or_default().entry(a).or_default() += 2 * count;
        }
    }
    let take =
        |edges: &mut BTreeMap<&Pattern, BTreeMap<&Pattern, i64>>, a: &Pattern, b: &Pattern| {
            for (x, y) in if a == b {
                vec![(a, b)]
            } else {
                vec![(a, b), (b, a)]
            } {
                let count = edges
                    .get_mut(x)
                    .and_then(|e| e.get_mut(y))
                    .expect("a passage is there");
                *count -= 1;
            }
        };
    take(&mut edges, entry, exit);
    // Hierholzer's walk, from the exit back to the entry.
    let mut stack = vec![exit.clone()];
    let mut courses = Vec::new();
    while let Some(at) = stack.last().cloned() {
        let next = edges
            .get(&at)
            .and_then(|e| e.iter().find(|(_, n)| **n > 0))
            .map(|(next, _)| (*next).clone());
        match next {
            Some(next) => {
                take(&mut edges, &at, &next);
                stack.push(next);
            }
            None => courses.extend(stack.pop()),
        }
    }
    courses
}
