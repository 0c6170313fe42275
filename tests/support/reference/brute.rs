//! The best plan by enumeration: every order of patterns, kept apart only by
//! what later courses can see and by the pieces needed, then the exact least
//! the boards take for each multiset of pieces.

use std::collections::{HashMap, HashSet};

use lastcourse::plan::Objective;

use super::boards::{Boards, Source};
use super::{Best, Instance, Outcome};

/// How much is enumerated before giving up.
const MOST_STATES: usize = 60_000;
const MOST_MULTISETS: usize = 400_000;

/// The best plan of an instance.
pub fn solve(instance: &Instance, objective: Objective) -> Outcome {
    match every(instance, objective) {
        None => Outcome::TooLarge,
        Some(all) => all
            .into_iter()
            .min()
            .map_or(Outcome::Impossible, Outcome::Best),
    }
}

/// What plans of an instance come to, at least one of the best for each number
/// of joints; nothing when there are too many.
pub fn every(instance: &Instance, objective: Objective) -> Option<Vec<Best>> {
    let ends = layouts(instance)?;
    let weigh: fn(&Source) -> (i64, i64) = match objective {
        Objective::Waste => |source| (source.length, source.price),
        Objective::Cost | Objective::Joints => |source| (source.price, 0),
    };
    let mut boards = Boards::new(&instance.kinds, &instance.sources, weigh, MOST_MULTISETS);
    let mut all = Vec::new();
    for (counts, doubled) in ends {
        let Some((first, second)) = boards.least(&counts).ok()? else {
            continue;
        };
        let taken = match objective {
            Objective::Waste => (first, second),
            Objective::Cost | Objective::Joints => (0, first),
        };
        let sum = |counts: &[u8]| -> i64 { counts.iter().map(|&count| i64::from(count)).sum() };
        let joints = sum(&counts) - sum(&instance.extra) - instance.courses as i64;
        all.push(instance.figures(objective, taken, joints, doubled));
    }
    Some(all)
}

/// The multisets of pieces that some order of patterns needs, each with the
/// fewest supports doubled for it.
fn layouts(instance: &Instance) -> Option<Vec<(Vec<u8>, i64)>> {
    let places: Vec<i64> = {
        let mut all: Vec<i64> = instance
            .patterns
            .iter()
            .flat_map(|pattern| pattern.joints.iter().copied())
            .collect();
        all.sort_unstable();
        all.dedup();
        all
    };
    if places.len() > 32 {
        return None;
    }
    // Which supports a pattern doubles matters only where doubling has a price.
    let doubles: Vec<u32> = instance
        .patterns
        .iter()
        .map(|pattern| match instance.doubled_price {
            0 => 0,
            _ => pattern
                .joints
                .iter()
                .map(|at| 1 << places.binary_search(at).expect("a place"))
                .sum(),
        })
        .collect();
    let round = instance.repeat.unwrap_or(usize::MAX);
    let remembered = instance.same_joist_after.max(1);
    let remembered = match round < instance.courses {
        true => remembered.max(round),
        false => remembered,
    };
    let mut states: HashSet<(Vec<usize>, Vec<u8>, u32)> =
        HashSet::from([(Vec::new(), instance.extra.clone(), 0)]);
    for course in 0..instance.courses {
        let needs: Vec<Vec<u8>> = instance
            .patterns
            .iter()
            .map(|pattern| instance.needs(pattern, course))
            .collect();
        let mut next = HashSet::new();
        for (recent, counts, mask) in &states {
            for (index, pattern) in instance.patterns.iter().enumerate() {
                let again = course
                    .checked_sub(round)
                    .map(|_| recent[recent.len() - round]);
                if again.is_some_and(|again| again != index) {
                    continue;
                }
                let fits = recent.iter().rev().enumerate().all(|(back, &earlier)| {
                    instance.compatible(pattern, &instance.patterns[earlier], back + 1)
                });
                if !fits {
                    continue;
                }
                let mut recent = recent.clone();
                recent.push(index);
                if recent.len() > remembered {
                    recent.remove(0);
                }
                let counts = counts
                    .iter()
                    .zip(&needs[index])
                    .map(|(a, b)| a + b)
                    .collect();
                next.insert((recent, counts, mask | doubles[index]));
                if next.len() > MOST_STATES {
                    return None;
                }
            }
        }
        states = next;
    }
    let mut ends: HashMap<Vec<u8>, i64> = HashMap::new();
    for (_, counts, mask) in states {
        let doubled = i64::from(mask.count_ones());
        ends.entry(counts)
            .and_modify(|fewest| *fewest = doubled.min(*fewest))
            .or_insert(doubled);
    }
    Some(ends.into_iter().collect())
}
