//! Dives: answers from the relaxation rounded down, relaxed again for what is
//! left, and so on.

use super::instance::{Cut, Instance};
use super::relax::{Relaxation, relax};

/// Rounds the relaxation down, relaxes what is left, and so on; where nothing
/// rounds, the board nearest to whole is taken. `skip` leaves out so many of the
/// first choices, so that another dive goes another way.
pub(crate) fn dive(
    instance: &Instance,
    relaxation: &Relaxation,
    skip: usize,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Cut>> {
    let mut rest = instance.demand.clone();
    let mut limits: Vec<Option<i64>> = instance.kinds.iter().map(|k| k.limit).collect();
    let mut used = relaxation.used.clone();
    let mut cuts: Vec<Cut> = Vec::new();
    for round in 0..60 {
        let mut taken = false;
        let mut by_fraction: Vec<usize> = (0..used.len()).collect();
        by_fraction.sort_by(|&a, &b| {
            let part = |i: usize| used[i].2 - used[i].2.floor();
            part(b).total_cmp(&part(a)).then(a.cmp(&b))
        });
        let whole: Vec<(usize, i64)> = (0..used.len())
            .map(|i| (i, (used[i].2 + 1e-6).floor() as i64))
            .collect();
        let choices = if whole.iter().any(|w| w.1 > 0) {
            whole
        } else {
            let nth = if round == 0 { skip } else { 0 };
            by_fraction.get(nth).map(|&i| (i, 1)).into_iter().collect()
        };
        for (i, count) in choices {
            let (kind, pattern, _) = &used[i];
            let fits = pattern
                .iter()
                .map(|&(l, n)| (rest[l as usize] + i64::from(n) - 1) / i64::from(n))
                .max()
                .unwrap_or(0);
            let count = count.min(fits).min(limits[*kind].unwrap_or(i64::MAX));
            if count > 0 {
                for &(l, n) in pattern {
                    rest[l as usize] = (rest[l as usize] - count * i64::from(n)).max(0);
                }
                if let Some(limit) = &mut limits[*kind] {
                    *limit -= count;
                }
                cuts.push(Cut {
                    kind: *kind,
                    pattern: pattern.clone(),
                    count,
                });
                taken = true;
            }
        }
        if rest.iter().all(|&r| r == 0) {
            return Some(instance.trim(&cuts));
        }
        if !taken || stop() {
            break;
        }
        let left: Vec<usize> = (0..rest.len()).filter(|&i| rest[i] > 0).collect();
        let mut kinds = instance.kinds.clone();
        for (kind, limit) in kinds.iter_mut().zip(&limits) {
            kind.limit = *limit;
            // Of a bundle begun any part is left.
            kind.bundle = 1;
        }
        let sub = Instance::new(
            left.iter().map(|&i| instance.lengths[i]).collect(),
            left.iter().map(|&i| rest[i]).collect(),
            kinds,
            instance.kerf,
        );
        let dearest = instance.kinds.iter().map(|k| k.cost).max().unwrap_or(0);
        let most = sub.pieces().saturating_mul(dearest).min(1 << 52);
        let relaxed = relax(&sub, &[], most, stop);
        used = relaxed
            .used
            .into_iter()
            .map(|(k, p, x)| {
                (
                    k,
                    p.into_iter()
                        .map(|(i, n)| (left[i as usize] as u16, n))
                        .collect(),
                    x,
                )
            })
            .collect();
    }
    None
}
