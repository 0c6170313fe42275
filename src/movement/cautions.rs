//! What movement does to the deck: gaps that close or open too far across the
//! boards, ends that meet along them. It knows the job and, along the boards,
//! the plan's pieces; what was planned stays as it is.

use super::wood::Drying;
use super::{Growing, drying};
use crate::caution::Caution;
use crate::job::{Edge, Fastener, Job};
use crate::length::{Length, Printer};
use crate::plan::Plan;

/// What a person should look at across the boards, laid with one of the job's
/// fasteners.
///
/// # Panics
/// When the job has no such fastener.
pub fn across(job: &Job, fastener: usize) -> Vec<Caution> {
    let Some(drying) = drying(job) else {
        return Vec::new();
    };
    let mixed = job.courses.mixed.map(|mixed| mixed.fastener);
    let mut found = Vec::new();
    for place in [Some(fastener), mixed.filter(|&other| other != fastener)] {
        let Some(fastener) = place.map(|place| &job.fasteners[place]) else {
            continue;
        };
        found.extend(closes(job, fastener, &drying));
        found.extend(opens(job, fastener, &drying));
        found.extend(wanted(job, fastener, &drying));
    }
    found.extend(walls(job, &drying));
    found
}

/// A length to 1/64 in or 0.1 mm: gaps differ by less than a tape shows.
fn fine(job: &Job, length: Length) -> String {
    Printer::new(job.unit).to_64ths().show(length)
}

/// Gaps that are gone in service.
fn closes(job: &Job, fastener: &Fastener, drying: &Drying) -> Option<Caution> {
    let at = |length| fine(job, length);
    let gap = drying.gap(fastener.gap.set);
    (gap <= Length::ZERO).then(|| {
        let press = match gap {
            Length::ZERO => String::new(),
            gap => format!(", and press on each other by {}", at(-gap)),
        };
        Caution::new(
            format!(
                "boards set {} apart with {} swell by {} in service, so that the gaps close{press}",
                at(fastener.gap.set),
                fastener.name,
                at(drying.change()),
            ),
            "set them further apart, or let the boards take up moisture before they are laid",
        )
    })
}

/// Gaps that open past what the fastener is made for.
fn opens(job: &Job, fastener: &Fastener, drying: &Drying) -> Option<Caution> {
    let at = |length| fine(job, length);
    let gap = drying.gap(fastener.gap.set);
    (fastener.gap.is_free() && gap > fastener.gap.most && drying.change() < Length::ZERO).then(
        || {
            Caution::new(
                format!(
                    "gaps of {} with {} open to {} in service, more than the {} it can be set to",
                    at(fastener.gap.set),
                    fastener.name,
                    at(gap),
                    at(fastener.gap.most)
                ),
                "set the boards closer now, or let them dry before they are laid",
            )
        },
    )
}

/// A gap in service other than is wanted, by what a tape shows or more.
fn wanted(job: &Job, fastener: &Fastener, drying: &Drying) -> Option<Caution> {
    let at = |length| fine(job, length);
    let wanted = drying.wood.gap_service?;
    let gap = drying.gap(fastener.gap.set);
    // Half a mark of the tape: nobody sets a gap closer.
    if (gap - wanted).abs() * 2 < job.unit.tape() {
        return None;
    }
    let set = drying.to_set(wanted);
    let range = fastener.gap;
    let help = if set < Length::ZERO {
        format!(
            "even boards laid tight open to {}; let them dry before they are laid",
            at(drying.gap(Length::ZERO))
        )
    } else if range.is_free() && !(range.least..=range.most).contains(&set) {
        format!(
            "they would be set at {}, which {} does not reach; let them come nearer to their moisture in service first",
            at(set),
            fastener.name
        )
    } else {
        format!("set them at {} now", at(set))
    };
    let gap = match gap.is_negative() {
        true => "no gap".to_owned(),
        false => format!("gaps of {}", at(gap)),
    };
    Some(Caution::new(
        format!(
            "boards set {} apart with {} have {gap} in service, where {} is wanted",
            at(fastener.gap.set),
            fastener.name,
            at(wanted)
        ),
        help,
    ))
}

/// Outer boards that swell into a wall.
fn walls(job: &Job, drying: &Drying) -> Vec<Caution> {
    // A board held in its middle gives half of what it gains to each side.
    let reach = drying.change().half_up();
    let edges = [("first", &job.edges.first), ("last", &job.edges.last)];
    edges
        .into_iter()
        .filter_map(|(name, edge)| match edge {
            Edge::Wall { clearance } if reach > *clearance => Some(Caution::new(
                format!(
                    "at the {name} edge a board swells by {} towards the wall, and {} is left there",
                    fine(job, reach),
                    fine(job, *clearance)
                ),
                format!("leave more at the wall (`edge.{name}.wall_clearance`)"),
            )),
            _ => None,
        })
        .collect()
}

/// What a person should look at along the boards of a plan.
pub fn along(job: &Job, plan: &Plan) -> Vec<Caution> {
    let runs = || plan.courses.iter().flat_map(|course| &course.runs);
    let jointed = runs().filter(|run| run.pieces.len() > 1);
    let long = |pieces: &mut dyn Iterator<Item = Length>| pieces.max();
    let at_joints = long(&mut jointed.flat_map(|run| &run.pieces).map(|p| p.to - p.from));
    let at_ends = |first: bool| {
        let pieces = runs().filter_map(|run| match first {
            true => run.pieces.first(),
            false => run.pieces.last(),
        });
        long(&mut pieces.map(|piece| piece.to - piece.from))
    };
    let mut found = Vec::new();
    found.extend(at_joints.and_then(|piece| joints(job, piece)));
    found.extend(at_ends(true).and_then(|piece| ends(job, "left", &job.edges.left, piece)));
    found.extend(at_ends(false).and_then(|piece| ends(job, "right", &job.edges.right, piece)));
    found
}

/// Ends that meet at a joint on the hottest day.
fn joints(job: &Job, piece: Length) -> Option<Caution> {
    let growing = Growing::of(job, piece)?;
    let needed = growing.gap_at(growing.heat.laid_at);
    (needed > job.joints.end_gap).then(|| {
        let tape = needed.up_to_the_tape(job.unit).show(job.unit);
        Caution::new(
            format!(
                "boards of {} laid at {} grow by {} until they are at {}, and {} is left at the joints",
                piece.show(job.unit),
                growing.heat.laid_at.show(job.unit),
                fine(job, needed),
                growing.heat.hottest.show(job.unit),
                fine(job, job.joints.end_gap)
            ),
            format!(
                "leave {tape} at the joints (`joints.end_gap`), or lay them when they are warmer; what the boards' maker asks for comes first"
            ),
        )
    })
}

/// Ends that meet a wall on the hottest day.
fn ends(job: &Job, side: &str, edge: &Edge, piece: Length) -> Option<Caution> {
    let Edge::Wall { clearance } = edge else {
        return None;
    };
    let growing = Growing::of(job, piece)?;
    // A board held in its middle gives half of its growth to each end.
    let needed = growing.gap_at(growing.heat.laid_at).half_up();
    (needed > *clearance).then(|| {
        let tape = needed.up_to_the_tape(job.unit).show(job.unit);
        Caution::new(
            format!(
                "at the {side} edge a board of {} grows by {} towards the wall until it is at {}, and {} is left there",
                piece.show(job.unit),
                fine(job, needed),
                growing.heat.hottest.show(job.unit),
                fine(job, *clearance)
            ),
            format!("leave {tape} at the wall (`edge.{side}.wall_clearance`)"),
        )
    })
}
