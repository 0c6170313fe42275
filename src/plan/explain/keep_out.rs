//! Stretches that are kept free of joints and leave too few joists: which of
//! them to shorten, and by how much, to get a plan.

use super::relax::{Asker, Relaxation, rounded_up, share};
use crate::deck::supports;
use crate::job::{Job, Zone};
use crate::length::{Length, Unit};

/// The least a stretch has to give up, joist by joist from one of its ends, or
/// all stretches where no single one is enough.
pub(super) fn shorter(asker: &Asker) -> Option<Relaxation> {
    let zones = &asker.job.joints.keep_out;
    if zones.is_empty() {
        return None;
    }
    let apply = |job: &mut Job, zones: &Vec<Zone>| job.joints.keep_out = zones.clone();
    let mut ways: Vec<(i64, Vec<Zone>)> = Vec::new();
    for at in 0..zones.len() {
        for low_end in [true, false] {
            let values = shortened(asker.job, at, low_end);
            let Some(found) = asker.nearest(&values, &apply) else {
                continue;
            };
            let length = |zone: &Zone| (zone.to - zone.from).units();
            let given = match found.len() == zones.len() {
                true => share(length(&zones[at]) - length(&found[at]), length(&zones[at])),
                false => 1_000,
            };
            ways.push((given, found.clone()));
        }
    }
    let best = ways.into_iter().min_by_key(|(given, _)| *given);
    let (given, left) = match best {
        Some(best) => best,
        None => {
            let none = [Vec::new()];
            (1_000, asker.nearest(&none, &apply)?.clone())
        }
    };
    let unit = asker.job.unit;
    let written: Vec<String> = left
        .iter()
        .map(|zone| {
            format!(
                "[\"{}\", \"{}\"]",
                zone.from.exact(unit),
                zone.to.exact(unit)
            )
        })
        .collect();
    Some(Relaxation {
        what: format!("`joints.keep_out = [{}]`", written.join(", ")),
        far: (0, given),
    })
}

/// The stretches with one of them shortened past ever more joists from one end,
/// and at last left out.
fn shortened(job: &Job, at: usize, low_end: bool) -> Vec<Vec<Zone>> {
    let zones = &job.joints.keep_out;
    let zone = zones[at];
    let coarse = match job.unit {
        Unit::Inch => Length::from_inches(1),
        Unit::Millimetre => Length::from_mm(10),
    };
    let mut freed: Vec<Length> = supports(job).centres;
    freed.retain(|&centre| zone.holds(centre));
    if !low_end {
        freed.reverse();
    }
    let mut values: Vec<Vec<Zone>> = Vec::new();
    for (n, &centre) in freed.iter().enumerate() {
        let Some(&next) = freed.get(n + 1) else {
            break;
        };
        // A whole inch past the joist, if the next one is not nearer.
        let past = match low_end {
            true => rounded_up(centre + Length::from_units(1), coarse).min(next),
            false => (-rounded_up(Length::from_units(1) - centre, coarse)).max(next),
        };
        let mut shorter = zones.clone();
        match low_end {
            true => shorter[at].from = past,
            false => shorter[at].to = past,
        }
        values.push(shorter);
    }
    if !freed.is_empty() {
        let mut without = zones.clone();
        without.remove(at);
        values.push(without);
    }
    values
}
