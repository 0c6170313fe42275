//! Walks through all courses of a deck against every sequence of courses there
//! is, listed one by one: the cheapest at random prices, and those of just so
//! many pieces.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use itertools::Itertools;
use lastcourse::deck::{supports, surface};
use lastcourse::job::{Job, JointRules};
use lastcourse::joints::{Gathered, Path, PathCosts, Pieces, Place, Run, Slot, Walk};

use crate::support::draw::Draw;
use crate::support::jobs::{Size, job};

/// Sequences listed at most.
const MOST: usize = 60_000;

/// A run, its ways to cut a course, and every sequence of so many courses.
struct Listed {
    run: Run,
    sequences: Vec<Path>,
}

/// Whether two courses so many apart keep the job's rules.
fn may(job: &Job, run: &Run, a: &[Place], b: &[Place], apart: usize) -> bool {
    let at = |place: Place| run.joints[usize::from(place) - 1];
    a.iter().cartesian_product(b).all(|(&a, &b)| {
        let staggered = apart > 1 || (at(a) - at(b)).abs() >= job.joints.stagger;
        let same = a == b && apart <= job.joints.same_joist_after as usize;
        staggered && !same
    })
}

/// Nothing where there is more than can be listed, or a rule that `may` leaves out.
fn listed(job: &Job, courses: usize) -> Option<Listed> {
    if job.joints.same_joist_after as usize >= courses
        || job.joints.stagger_joists > 0
        || !job.joints.keep_out.is_empty()
    {
        return None;
    }
    let longest = job.stock.iter().map(|s| s.length).max()?;
    let run = Run::new(job, &surface(job).ok()?, &supports(job), longest).ok()?;
    if run.joints.len() > 10 {
        return None;
    }
    let end = run.end();
    let patterns: Vec<Vec<Place>> = (1..end)
        .powerset()
        .filter(|joints| {
            let ends = [0].into_iter().chain(joints.iter().copied()).chain([end]);
            ends.tuple_windows().all(|(a, b)| run.piece(a, b).is_some())
        })
        .collect();
    let mut sequences: Vec<Path> = vec![Vec::new()];
    for _ in 0..courses {
        let longer = sequences.iter().cartesian_product(&patterns);
        let fits = longer.filter(|(laid, next)| {
            let before = laid.iter().rev().enumerate();
            before
                .into_iter()
                .all(|(back, b)| may(job, &run, b, next, back + 1))
        });
        sequences = fits
            .map(|(laid, next)| laid.iter().chain([next]).cloned().collect())
            .take(MOST + 1)
            .collect();
        if sequences.len() > MOST {
            return None;
        }
    }
    Some(Listed { run, sequences })
}

fn rows(run: &Run, path: &Path, materials: &[u16]) -> Vec<usize> {
    let lengths = run.lengths.len();
    let mut rows = Vec::new();
    for (joints, &material) in path.iter().zip(materials) {
        let ends = [0]
            .into_iter()
            .chain(joints.iter().copied())
            .chain([run.end()]);
        for (a, b) in ends.tuple_windows() {
            let length = run.piece(a, b).expect("a course is made of pieces");
            rows.push(usize::from(material) * lengths + usize::from(length));
        }
    }
    rows
}

fn cost(run: &Run, costs: &PathCosts, path: &Path, materials: &[u16]) -> i64 {
    let pieces: i64 = rows(run, path, materials)
        .iter()
        .map(|&r| costs.row[r])
        .sum();
    let joints = path.iter().flatten().map(|&j| costs.joint[usize::from(j)]);
    pieces + joints.sum::<i64>()
}

/// Jobs by chance whose sequences of a few courses can be listed, and what is drawn
/// on.
fn cases(
    seeds: Range<u64>,
    few: i64,
    many: i64,
) -> impl Iterator<Item = (u64, Draw, Job, usize, Listed)> {
    seeds.filter_map(move |seed| {
        let mut draw = Draw::seeded(seed);
        let job = job(&mut draw, Size::Tiny);
        let courses = draw.between(few, many) as usize;
        let listed = listed(&job, courses)?;
        Some((seed, draw, job, courses, listed))
    })
}

/// A course of which every way to cut it costs nothing.
fn any(free: &PathCosts) -> Slot<'_> {
    Slot {
        costs: free,
        materials: &[0],
        course: 0,
        most: 0,
    }
}

/// The walks over all ways to cut a course.
fn every(run: &Run, rules: &JointRules) -> Option<Walk> {
    let free = PathCosts::of_pieces(vec![0; run.lengths.len()], run);
    let slots = [any(&free)];
    Walk::within(run, rules, &Pieces::all(run), &slots, 200_000).expect("few patterns")
}

/// What pieces and joints cost in two materials, by chance.
pub(crate) fn chance(draw: &mut Draw, run: &Run) -> PathCosts {
    PathCosts {
        row: (0..2 * run.lengths.len())
            .map(|_| draw.between(0, 900))
            .collect(),
        joint: (0..=run.joints.len())
            .map(|_| draw.between(-60, 90))
            .collect(),
        course: Vec::new(),
    }
}

#[test]
fn walks_within_a_cost_keep_whatever_blocks_can_hold() {
    let (mut kept, mut left_out) = (0, 0);
    for (seed, mut draw, job, courses, listed) in cases(33_000..33_300, 2, 4) {
        let Listed { run, sequences } = listed;
        let materials: Vec<u16> = (0..courses).map(|c| u16::from(c == 0)).collect();
        let costs = chance(&mut draw, &run);
        let of = |path: &Path| cost(&run, &costs, path, &materials);
        let Some(least) = sequences.iter().map(of).min() else {
            continue;
        };
        let most = least + draw.between(0, 400);
        let slots: Vec<Slot> = (0..courses)
            .map(|course| Slot {
                costs: &costs,
                materials: &materials,
                course,
                most,
            })
            .collect();
        let (rules, only) = (&job.joints, Pieces::all(&run));
        let walk = Walk::within(&run, rules, &only, &slots, 200_000).expect("few patterns");
        let walk = walk.expect("the cheapest");
        let every = every(&run, rules).expect("the cheapest");
        for path in sequences.iter().filter(|path| of(path) <= most) {
            for laid in path.windows(walk.memory()) {
                assert!(walk.state(laid).is_some(), "seed {seed}: {path:?}");
                kept += 1;
            }
        }
        let found = walk.cheapest(&costs, &materials, None, 0, i64::MAX);
        assert_eq!(found.first().map(|f| f.0), Some(least), "seed {seed}");
        left_out += usize::from(walk.size() < every.size());
    }
    assert!(kept > 500 && left_out > 20, "{kept} {left_out}");
}

#[test]
fn steps_near_are_those_of_all_sequences_within_the_cost() {
    let (mut within, mut beyond) = (0, 0);
    for (seed, mut draw, job, courses, listed) in cases(35_000..35_300, 3, 6) {
        let Listed { run, sequences } = listed;
        let Some(walk) = every(&run, &job.joints) else {
            continue;
        };
        // The first courses or the last ones are ripped, or none is.
        let ripped = draw.below(3);
        let materials: Vec<u16> = (0..courses)
            .map(|c| u16::from(ripped == 1 && c == 0 || ripped == 2 && c + 1 == courses))
            .collect();
        let costs = chance(&mut draw, &run);
        let of = |path: &Path| cost(&run, &costs, path, &materials);
        let Some(least) = sequences.iter().map(of).min() else {
            continue;
        };
        let most = least + draw.between(0, 300);
        let near = walk.near(&costs, &materials, most, 100_000);
        let near = near.expect("few steps");
        let stretches = materials.iter().dedup_by_with_count(|a, b| a == b);
        let stretches: Vec<(usize, u16)> = stretches.map(|(n, &m)| (n, m)).collect();
        assert_eq!(near.stretches.len(), stretches.len(), "seed {seed}");
        let stretch = |course: usize| {
            let changes = materials[..=course].windows(2).filter(|m| m[0] != m[1]);
            changes.count() as u16
        };
        // What the cheapest sequence by each step costs.
        let mut steps = BTreeMap::new();
        let mut starts = BTreeSet::new();
        for path in &sequences {
            let cost = of(path);
            let memory = walk.memory();
            let spot = |after: usize| {
                let state = walk.state(&path[..after]).expect("every course is there");
                (stretch(after - 1), state)
            };
            if cost <= most {
                starts.insert(spot(memory));
            }
            for after in memory..courses {
                let best = steps.entry((spot(after), spot(after + 1))).or_insert(cost);
                *best = cost.min(*best);
            }
        }
        let all = steps.len();
        steps.retain(|_, cost| *cost <= most);
        within += steps.len();
        beyond += all - steps.len();
        let found: BTreeMap<_, _> = near.steps.iter().copied().zip(near.costs.clone()).collect();
        assert_eq!(found, steps, "seed {seed}");
        assert_eq!(near.starts.len(), starts.len(), "seed {seed}");
        assert!(near.starts.iter().all(|start| starts.contains(start)));
        let laid: i64 = near.stretches.iter().map(|stretch| stretch.1).sum();
        assert_eq!(laid as usize, courses - walk.memory(), "seed {seed}");
    }
    assert!(within > 300 && beyond > 500, "{within} {beyond}");
}

/// Groups of courses of the same pieces, in some sequence: courses of them are found that
/// may lie so wherever any sequence has such.
#[test]
fn gathered_courses_are_laid_where_any_of_their_pieces_can() {
    let (mut laid, mut not_laid) = (0, 0);
    for (seed, mut draw, job, courses, listed) in cases(37_000..37_300, 2, 5) {
        let Listed { run, sequences } = listed;
        let (rules, only) = (&job.joints, Pieces::all(&run));
        let free = PathCosts::of_pieces(vec![0; run.lengths.len()], &run);
        let gathered = Gathered::within(&run, rules, &only, &[any(&free)], 200_000);
        let Some(gathered) = gathered.expect("few patterns") else {
            continue;
        };
        let set = |joints: &Vec<Place>| {
            let pieces = rows(&run, &vec![joints.clone()], &[0]);
            pieces.into_iter().sorted().collect::<Vec<usize>>()
        };
        let groups: Vec<Vec<usize>> = (0..gathered.groups() as u16)
            .map(|g| {
                let sets = gathered.courses([g].into_iter());
                sets.iter().map(set).dedup().exactly_one().expect("one set")
            })
            .collect();
        let sequences_of: BTreeSet<Vec<Vec<usize>>> = sequences
            .iter()
            .map(|path| path.iter().map(set).collect())
            .collect();
        for _ in 0..40 {
            let walk: Vec<u16> = match draw.below(2) {
                0 => (0..courses)
                    .map(|_| draw.below(groups.len() as u32) as u16)
                    .collect(),
                _ => {
                    let Some(path) =
                        sequences.get(draw.below(sequences.len().max(1) as u32) as usize)
                    else {
                        break;
                    };
                    let group = |joints| groups.iter().position(|g| *g == set(joints));
                    path.iter().filter_map(group).map(|g| g as u16).collect()
                }
            };
            let sought: Vec<Vec<usize>> = walk
                .iter()
                .map(|&g| groups[usize::from(g)].clone())
                .collect();
            let found = gathered.lay(&walk);
            assert_eq!(
                found.is_some(),
                sequences_of.contains(&sought),
                "seed {seed}"
            );
            let Some(found) = found else {
                not_laid += 1;
                continue;
            };
            assert!(sequences.contains(&found), "seed {seed}: {found:?}");
            assert_eq!(found.iter().map(set).collect_vec(), sought, "seed {seed}");
            laid += 1;
        }
        // What is gathered costs no more than any sequence.
        let row = (0..2 * run.lengths.len()).map(|_| draw.between(0, 900));
        let costs = PathCosts::of_pieces(row.collect(), &run);
        let materials = vec![0; courses];
        let least = sequences
            .iter()
            .map(|path| cost(&run, &costs, path, &materials))
            .min();
        if let (Some(least), true) = (least, courses >= gathered.walk.memory()) {
            let found = gathered
                .walk
                .cheapest(&costs, &materials, None, 0, i64::MAX);
            assert!(
                found.first().is_some_and(|found| found.0 <= least),
                "seed {seed}"
            );
        }
    }
    assert!(laid > 500 && not_laid > 200, "{laid} laid, {not_laid} not");
}

#[test]
fn walks_are_all_sequences_and_no_others() {
    let (mut cheapest, mut made, mut none) = (0, 0, 0);
    for (seed, mut draw, job, courses, listed) in cases(31_000..31_300, 4, 6) {
        let Listed { run, sequences } = listed;
        let Some(walk) = every(&run, &job.joints) else {
            assert!(sequences.is_empty(), "seed {seed}: {sequences:?}");
            none += 1;
            continue;
        };
        let materials: Vec<u16> = (0..courses).map(|c| u16::from(c == 0)).collect();
        let costs = chance(&mut draw, &run);
        let of = |path: &Path| cost(&run, &costs, path, &materials);
        let found = walk.cheapest(&costs, &materials, None, 5, i64::MAX);
        let least = sequences.iter().map(of).min();
        assert_eq!(found.first().map(|f| f.0), least, "seed {seed}");
        for (stated, path) in &found {
            assert_eq!(*stated, of(path), "seed {seed}");
            assert!(sequences.contains(path), "seed {seed}: {path:?}");
            cheapest += 1;
        }
        // What costs less than another is found as among all.
        if let Some(&(below, _)) = found.get(2) {
            let mut cheaper = walk.cheapest(&costs, &materials, None, 5, below);
            cheaper.retain(|found| found.0 < below);
            let all = found.iter().filter(|found| found.0 < below);
            assert!(all.eq(&cheaper), "seed {seed}");
        }
        // On from the courses laid first, only what follows them.
        if let Some((_, path)) = found.first() {
            let laid = &path[..walk.memory()];
            let start = walk.state(laid);
            assert!(start.is_some(), "seed {seed}");
            let rest = &materials[laid.len()..];
            let on = walk.cheapest(&costs, rest, start, 0, i64::MAX);
            let after = sequences.iter().filter(|s| s.starts_with(laid));
            let least = after.map(|s| cost(&run, &costs, &s[laid.len()..].to_vec(), rest));
            assert_eq!(on.first().map(|f| f.0), least.min(), "seed {seed}");
        }
        // Of pieces that one sequence takes, and of others near them.
        for turn in 0..6 {
            let Some(one) = sequences.get(draw.below(sequences.len().max(1) as u32) as usize)
            else {
                continue;
            };
            let mut pieces = vec![0i64; 2 * run.lengths.len()];
            rows(&run, one, &materials)
                .iter()
                .for_each(|&r| pieces[r] += 1);
            if turn > 2 {
                let (from, to) = (
                    draw.below(pieces.len() as u32),
                    draw.below(pieces.len() as u32),
                );
                if pieces[from as usize] > 0 {
                    pieces[from as usize] -= 1;
                    pieces[to as usize] += 1;
                }
            }
            let takes = |path: &&Path| {
                let mut left = pieces.clone();
                rows(&run, path, &materials)
                    .iter()
                    .for_each(|&r| left[r] -= 1);
                left.iter().all(|&n| n == 0)
            };
            let walked = walk
                .of_pieces(&materials, &pieces, 1_000_000)
                .expect("small");
            assert_eq!(
                walked.is_some(),
                sequences.iter().any(|s| takes(&s)),
                "seed {seed}"
            );
            if let Some(path) = walked {
                assert!(takes(&&path) && sequences.contains(&path), "seed {seed}");
                made += 1;
            }
        }
    }
    assert!(cheapest > 100 && made > 100, "{cheapest} {made} {none}");
}
