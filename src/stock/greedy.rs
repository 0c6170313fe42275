//! Good answers quickly: boards filled one after another with what is worth
//! most for their price, by size or by the relaxation's prices.

use std::collections::BTreeMap;

use super::boards::{Boards, Pattern};
use super::instance::{Cut, Instance, Kind};
use super::relax::Relaxation;

/// Answers from the relaxation: its boards rounded down or up at several
/// thresholds, the rest filled by worth. The cheapest found, if any.
pub(crate) fn round(
    instance: &Instance,
    relaxation: &Relaxation,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Cut>> {
    [1.0, 0.9, 0.75, 0.6, 0.5]
        .into_iter()
        .filter_map(|threshold| {
            let mut rest = instance.demand.clone();
            let mut limits: Vec<Option<i64>> = instance.kinds.iter().map(|k| k.limit).collect();
            let mut cuts = Vec::new();
            for (kind, pattern, amount) in &relaxation.used {
                let whole = amount.floor();
                let up = amount - whole >= threshold - 1e-6;
                let mut count = whole as i64 + i64::from(up);
                // No more boards than still hold something whole, nor than there are.
                let useful = pattern
                    .iter()
                    .map(|&(i, n)| (rest[i as usize] + i64::from(n) - 1) / i64::from(n))
                    .max()
                    .unwrap_or(0);
                count = count.min(useful).min(limits[*kind].unwrap_or(i64::MAX));
                if count > 0 {
                    take(&mut rest, &mut limits, *kind, pattern, count);
                    cuts.push(Cut {
                        kind: *kind,
                        pattern: pattern.clone(),
                        count,
                    });
                }
            }
            let values = &relaxation.prices.length;
            let had = (limits, instance.used(&cuts));
            cuts.extend(fill(instance, rest, had, values, stop)?);
            Some(instance.trim(&cuts))
        })
        .min_by_key(|cuts| instance.cost(cuts))
}

fn take(
    rest: &mut [i64],
    limits: &mut [Option<i64>],
    kind: usize,
    pattern: &[(u16, u16)],
    count: i64,
) {
    for &(i, n) in pattern {
        rest[i as usize] = (rest[i as usize] - count * i64::from(n)).max(0);
    }
    if let Some(limit) = &mut limits[kind] {
        *limit -= count;
    }
}

/// Fills boards with what is left, each time the kind and pattern worth most
/// for its price; nothing if the boards run out, or when it is stopped. It is
/// given how many of each kind are left, and how many have been taken.
pub(crate) fn fill(
    instance: &Instance,
    mut rest: Vec<i64>,
    (mut limits, mut taken): (Vec<Option<i64>>, Vec<i64>),
    values: &[i64],
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Cut>> {
    let mut cuts = Vec::new();
    // A piece nobody pays for must still be cut: it is worth a little.
    let values: Vec<i64> = values.iter().map(|v| (*v).max(1)).collect();
    while rest.iter().any(|&r| r > 0) {
        if stop() {
            return None;
        }
        let left: Vec<usize> = (0..rest.len()).filter(|&i| rest[i] > 0).collect();
        let lengths: Vec<_> = left.iter().map(|&i| instance.lengths[i]).collect();
        let usable: Vec<_> = instance.kinds.iter().map(|k| k.usable).collect();
        let most = left
            .iter()
            .map(|&i| u32::try_from(rest[i]).unwrap_or(u32::MAX))
            .collect();
        let boards = Boards::new(&lengths, &usable, instance.kerf, Some(most));
        let worth: Vec<i64> = left.iter().map(|&i| values[i]).collect();
        let costs: Vec<i64> = (instance.kinds.iter().zip(&taken))
            .map(|(kind, &taken)| cost_of_next(instance, kind, taken, &rest))
            .collect();
        let best = boards
            .best(&worth)
            .into_iter()
            .enumerate()
            .filter(|(k, b)| !b.pattern.is_empty() && limits[*k] != Some(0))
            .max_by(|(a, x), (b, y)| {
                let (ca, cb) = (costs[*a], costs[*b]);
                // Worth for money; of what costs nothing, the fullest board first.
                (i128::from(x.value) * i128::from(cb.max(1)))
                    .cmp(&(i128::from(y.value) * i128::from(ca.max(1))))
                    .then(b.cmp(a))
            });
        let (kind, best) = best?;
        let pattern: Vec<(u16, u16)> = best
            .pattern
            .iter()
            .map(|&(i, n)| (left[i as usize] as u16, n))
            .collect();
        let mut count = pattern
            .iter()
            .map(|&(i, n)| rest[i as usize] / i64::from(n))
            .min()
            .unwrap_or(1)
            .max(1);
        if let Some(limit) = limits[kind] {
            count = count.min(limit);
        }
        let bundle = instance.kinds[kind].bundle;
        if bundle > 1 {
            // The next bundle is another choice.
            count = count.min(bundle - taken[kind].rem_euclid(bundle));
        }
        taken[kind] += count;
        take(&mut rest, &mut limits, kind, &pattern, count);
        cuts.push(Cut {
            kind,
            pattern,
            count,
        });
    }
    Some(cuts)
}

/// What the next board of a kind costs: nothing when its bundle is paid, else
/// its share of the bundle, of which no more is used than `rest` fills.
fn cost_of_next(instance: &Instance, kind: &Kind, taken: i64, rest: &[i64]) -> i64 {
    if kind.bundle == 1 {
        return kind.cost;
    }
    if kind.left_over(taken) > 0 {
        return 0;
    }
    let size = |i: usize| (instance.lengths[i] + instance.kerf).units();
    let wanted = (0..rest.len()).map(|i| i128::from(size(i)) * i128::from(rest[i]));
    let room = i128::from((kind.usable + instance.kerf).units().max(1));
    let of_use = i64::try_from(wanted.sum::<i128>() / room + 1).unwrap_or(i64::MAX);
    kind.of_bundle() / of_use.min(kind.bundle)
}

/// First fit over longest pieces first, for problems too large for anything
/// better: each piece goes where it leaves the least, else into a new board of
/// the kind with the best price for its length, one of a bundle begun first.
pub(crate) fn first_fit(instance: &Instance) -> Option<Vec<Cut>> {
    let mut left: Vec<i64> = instance
        .kinds
        .iter()
        .map(|k| k.limit.unwrap_or(i64::MAX))
        .collect();
    let mut paid = vec![0_i64; instance.kinds.len()];
    // Open boards by the room they have left: places in `open`.
    let mut by_room: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    let mut open: Vec<(usize, Vec<(u16, u16)>)> = Vec::new();
    for (i, &length) in instance.lengths.iter().enumerate() {
        let size = (length + instance.kerf).units();
        for _ in 0..instance.demand[i] {
            let (at, room) = match by_room.range_mut(size..).next() {
                Some((&room, places)) => {
                    let at = places.pop().expect("no empty entry is kept");
                    if places.is_empty() {
                        by_room.remove(&room);
                    }
                    (at, room)
                }
                None => {
                    let kind = (0..instance.kinds.len())
                        .filter(|&k| left[k] > 0 && instance.kinds[k].usable >= length)
                        .min_by(|&a, &b| {
                            let (x, y) = (&instance.kinds[a], &instance.kinds[b]);
                            let begun = (paid[b] > 0).cmp(&(paid[a] > 0));
                            let price = (i128::from(x.cost) * i128::from(y.usable.units()))
                                .cmp(&(i128::from(y.cost) * i128::from(x.usable.units())));
                            begun.then(price).then(y.usable.cmp(&x.usable))
                        })?;
                    left[kind] -= 1;
                    paid[kind] = (paid[kind] - 1).rem_euclid(instance.kinds[kind].bundle);
                    open.push((kind, Vec::new()));
                    (
                        open.len() - 1,
                        (instance.kinds[kind].usable + instance.kerf).units(),
                    )
                }
            };
            match open[at].1.last_mut() {
                Some((last, n)) if *last == i as u16 && *n < u16::MAX => *n += 1,
                _ => open[at].1.push((i as u16, 1)),
            }
            by_room.entry(room - size).or_default().push(at);
        }
    }
    // Each board may be a cheaper one that holds the same.
    let as_filled = gather(open.iter().cloned());
    let cheaper = open.into_iter().map(|(kind, pattern)| {
        let used: i64 = pattern
            .iter()
            .map(|&(i, n)| i64::from(n) * (instance.lengths[i as usize] + instance.kerf).units())
            .sum();
        let cheaper = (0..instance.kinds.len())
            .filter(|&k| {
                left[k] > 0
                    && (instance.kinds[k].usable + instance.kerf).units() >= used
                    && instance.kinds[k].cost < instance.kinds[kind].cost
            })
            .min_by_key(|&k| instance.kinds[k].cost);
        let kind = match cheaper {
            Some(k) => {
                left[k] -= 1;
                left[kind] = left[kind].saturating_add(1);
                k
            }
            None => kind,
        };
        (kind, pattern)
    });
    // A cheaper board may cost more where it begins a bundle.
    let answers = [gather(cheaper), as_filled];
    answers.into_iter().min_by_key(|cuts| instance.cost(cuts))
}

/// Equal boards together.
fn gather(boards: impl Iterator<Item = (usize, Pattern)>) -> Vec<Cut> {
    let mut alike: BTreeMap<(usize, Pattern), i64> = BTreeMap::new();
    for board in boards {
        *alike.entry(board).or_default() += 1;
    }
    let cut = |((kind, pattern), count)| Cut {
        kind,
        pattern,
        count,
    };
    alike.into_iter().map(cut).collect()
}
