//! Thousands of different lengths, more than the relaxation could take: lengths
//! near one another are taken for one, which gives a bound (all as short as the
//! shortest of them) and patterns (all as long as the mean). Boards are filled
//! from each pattern's groups as full as sums of the true lengths allow, and what
//! is left over is a smaller problem.

use super::close::Work;
use super::counts::Counts;
use super::greedy;
use super::instance::{Cut, Instance, Kind};
use super::pack::Packer;
use super::relax::relax;
use super::search::{Solved, search};
use crate::length::Length;
use crate::program::branch::Limits;

/// Lengths taken for one: so many groups.
const GROUPS: usize = 240;
/// Work on refilling boards, in words of bits.
const PACKING: u64 = 100_000_000;
/// Work on what is left over.
const WORK: Work = Work {
    patterns: 4_000,
    limits: Limits {
        nodes: 50,
        work: 600,
    },
};

/// A good answer and a bound; no answer if none was found.
pub(crate) fn large(instance: &Instance, stop: &dyn Fn() -> bool) -> Option<Solved> {
    let mut best = greedy::first_fit(instance);
    let conceivable = instance.conceivable();
    let mut bound = by_material(instance);
    let shortest = grouped(instance, |lengths, _| lengths[lengths.len() - 1]);
    let prices = relax(&shortest, &[], conceivable, stop).prices;
    bound = bound
        .max(prices.bound())
        .max(Counts::new(&shortest, &prices.length).least());
    if !stop()
        && let Some(cuts) = fill(instance, conceivable, stop)
        && best
            .as_ref()
            .is_none_or(|best| instance.cost(&cuts) < instance.cost(best))
    {
        best = Some(cuts);
    }
    let cuts = best?;
    let cost = instance.cost(&cuts);
    Some(Solved {
        cuts,
        cost,
        bound: bound.min(cost),
        prices: None,
        refuting: Vec::new(),
    })
}

/// How many neighbouring lengths are taken for one.
fn each(instance: &Instance) -> usize {
    instance.lengths.len().div_ceil(GROUPS).max(1)
}

/// The instance with neighbouring lengths taken for one; `one` says which.
fn grouped(instance: &Instance, one: impl Fn(&[Length], &[i64]) -> Length) -> Instance {
    let each = each(instance);
    let groups = instance
        .lengths
        .chunks(each)
        .zip(instance.demand.chunks(each));
    let (lengths, demand) = groups
        .map(|(lengths, demand)| (one(lengths, demand), demand.iter().sum::<i64>()))
        .unzip();
    instance.with(lengths, demand)
}

fn mean(lengths: &[Length], demand: &[i64]) -> Length {
    // To the grid of the first: what the mean is, matters little.
    let sum: i128 = lengths
        .iter()
        .zip(demand)
        .map(|(l, &d)| i128::from(l.units()) * i128::from(d))
        .sum();
    let count: i128 = demand.iter().map(|&d| i128::from(d)).sum();
    let mean = (sum / count.max(1)) as i64;
    let nearest = lengths.iter().min_by_key(|l| (l.units() - mean).abs());
    nearest.copied().unwrap_or(Length::from_units(mean))
}

/// Fills boards by the patterns of the groups; cuts what is left over from others.
fn fill(instance: &Instance, conceivable: i64, stop: &dyn Fn() -> bool) -> Option<Vec<Cut>> {
    let each = each(instance);
    let mut bag: Vec<u32> = instance.demand.iter().map(|&d| d as u32).collect();
    let mut cuts: Vec<Cut> = Vec::new();
    let mut packer = Packer::new(instance, stop);
    let mut used = relax(&grouped(instance, mean), &[], conceivable, stop).used;
    used.sort_by(|a, b| b.2.total_cmp(&a.2));
    for (kind, pattern, amount) in used {
        let among: Vec<usize> = pattern
            .iter()
            .flat_map(|&(group, _)| {
                let first = usize::from(group) * each;
                first..(first + each).min(bag.len())
            })
            .collect();
        for _ in 0..(amount + 1e-6).floor() as i64 {
            let pattern = packer.fill_from(&mut bag, &among, kind);
            if !pattern.is_empty() {
                cuts.push(Cut {
                    kind,
                    pattern,
                    count: 1,
                });
            }
        }
    }
    let mut cuts = packer.improved(cuts, &mut bag, PACKING);
    let places: Vec<usize> = (0..bag.len()).filter(|&i| bag[i] > 0).collect();
    if places.len() == bag.len() {
        return None;
    }
    if !places.is_empty() {
        let (kinds, of) = left(instance, &cuts);
        let rest = Instance::new(
            places.iter().map(|&i| instance.lengths[i]).collect(),
            places.iter().map(|&i| i64::from(bag[i])).collect(),
            kinds,
            instance.kerf,
        );
        let solved = search(&rest, i64::MAX, WORK, stop, &|_, _, _| {}).ok()?;
        cuts.extend(solved.cuts.into_iter().map(|cut| {
            let pattern = cut.pattern.iter();
            Cut {
                kind: of[cut.kind],
                pattern: pattern
                    .map(|&(i, n)| (places[i as usize] as u16, n))
                    .collect(),
                ..cut
            }
        }));
    }
    // A cheaper board may cost more where it begins a bundle.
    let answers = [cheaper(instance, cuts.clone()), cuts];
    let answers = answers.iter().map(|cuts| instance.trim(cuts));
    answers.min_by_key(|cuts| instance.cost(cuts))
}

/// The kinds of boards that are left when some are cut, what is left of bundles
/// begun for nothing, and which kind each of them is.
fn left(instance: &Instance, cuts: &[Cut]) -> (Vec<Kind>, Vec<usize>) {
    let (mut kinds, mut of) = (Vec::new(), Vec::new());
    for (k, (kind, used)) in instance.kinds.iter().zip(instance.used(cuts)).enumerate() {
        let paid = kind.left_over(used);
        if paid > 0 {
            kinds.push(Kind {
                cost: 0,
                limit: Some(paid),
                bundle: 1,
                ..kind.clone()
            });
            of.push(k);
        }
        kinds.push(Kind {
            limit: kind.limit.map(|limit| (limit - used - paid).max(0)),
            ..kind.clone()
        });
        of.push(k);
    }
    (kinds, of)
}

/// Each board may be a cheaper one that holds the same.
fn cheaper(instance: &Instance, mut cuts: Vec<Cut>) -> Vec<Cut> {
    let (sizes, capacities) = instance.boards.grid();
    let mut left: Vec<i64> = instance
        .kinds
        .iter()
        .map(|k| k.limit.unwrap_or(i64::MAX))
        .collect();
    for cut in &cuts {
        left[cut.kind] -= cut.count;
    }
    for cut in &mut cuts {
        let used: i64 = cut
            .pattern
            .iter()
            .map(|&(i, n)| i64::from(n) * sizes[i as usize])
            .sum();
        let cost = |k: usize| instance.kinds[k].cost;
        let kind = (0..capacities.len())
            .filter(|&k| left[k] >= cut.count && capacities[k] >= used && cost(k) < cost(cut.kind))
            .min_by_key(|&k| cost(k));
        if let Some(kind) = kind {
            left[kind] -= cut.count;
            left[cut.kind] += cut.count;
            cut.kind = kind;
        }
    }
    cuts
}

/// What the bare material must cost at the best price for its length.
fn by_material(instance: &Instance) -> i64 {
    let offer = |k: &Kind| i128::from((k.usable + instance.kerf).units().max(1));
    let free: i128 = instance
        .kinds
        .iter()
        .filter(|k| k.cost == 0)
        .map(|k| i128::from(k.limit.unwrap_or(i64::MAX)).saturating_mul(offer(k)))
        .sum();
    let needed: i128 = instance
        .lengths
        .iter()
        .zip(&instance.demand)
        .map(|(&l, &d)| i128::from((l + instance.kerf).units()) * i128::from(d))
        .sum();
    let bought = (needed - free).max(0);
    instance
        .kinds
        .iter()
        .filter(|k| k.cost > 0)
        .map(|k| {
            let product = bought * i128::from(k.cost);
            product / offer(k) + i128::from(product % offer(k) != 0)
        })
        .min()
        .and_then(|bound| i64::try_from(bound).ok())
        .unwrap_or(0)
}
