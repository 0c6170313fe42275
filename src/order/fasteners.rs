//! Clips and screws by count: one clip for each support in each gap and one
//! more there for each joint beside it, starters along the outer edges, and
//! screws through the face where a course is held so.

use super::goods::{self, bought, spared};
use super::{Group, Line, Needed, Trade, packs};
use crate::courses::layout;
use crate::deck::Surface;
use crate::job::{Fastener, FastenerKind, Job};
use crate::length::Length;
use crate::plan::{Plan, PlannedCourse};

/// Wider boards take a third screw: the rule for nailing lumber.
const TWO_SCREWS_UP_TO: Length = Length::from_inches(8);

/// The fasteners of a plan.
pub(super) struct Fasteners {
    /// A line for each kind of thing bought.
    pub lines: Vec<Line>,
    /// The time it takes to set them, in hundredths of a minute.
    pub time: u64,
}

/// What fastens a plan's courses.
pub(super) fn fasteners(job: &Job, surface: &Surface, plan: &Plan) -> Fasteners {
    let laid = layout(job, surface, plan.fastener);
    let gaps: Vec<usize> = laid.gaps.iter().map(|gap| gap.fastener).collect();
    let counts = count(job, plan, &gaps);
    let time = time(job, plan, &gaps, &counts);
    let mut lines = Vec::new();
    for (place, fastener) in job.fasteners.iter().enumerate() {
        let needed = counts.fasteners[place];
        lines.extend(sold(fastener, needed));
        let plug = fastener.plug.as_ref();
        lines.extend(plug.and_then(|plug| bought(Group::Fasteners, plug, needed)));
    }
    for (place, fastener) in job.fasteners.iter().enumerate() {
        let edges = counts.outer_edges.iter();
        let edges = edges.filter(|(_, held_by, needed)| *held_by == place && *needed > 0);
        if let Some(starter) = &fastener.starter {
            let needed = edges.map(|(_, _, needed)| needed).sum();
            lines.extend(bought(Group::Fasteners, starter, needed));
            continue;
        }
        lines.extend(edges.map(|(edge, _, needed)| {
            let item = format!("starter clip or face screw, {edge} course's outer edge");
            let count = spared(*needed, fastener.spare);
            line(item, Trade::Piece, *needed, count)
        }));
    }
    Fasteners { lines, time }
}

/// The time it takes: each fastener that is set, starters like those they go
/// with, and each course by what its gap before is left by, the first by the
/// gap after it.
fn time(job: &Job, plan: &Plan, gaps: &[usize], counts: &Counts) -> u64 {
    let of = |fastener: usize| job.fasteners[fastener].time;
    let each = counts.fasteners.iter().enumerate();
    let each = each.map(|(fastener, count)| count * u64::from(of(fastener).each));
    let starters = counts.outer_edges.iter();
    let starters = starters.map(|(_, fastener, count)| count * u64::from(of(*fastener).each));
    let courses = (0..plan.courses.len()).map(|course| {
        let gap = gaps.get(course.saturating_sub(1));
        u64::from(of(gap.copied().unwrap_or(plan.fastener)).course)
    });
    each.chain(starters).chain(courses).sum()
}

/// A line for each kind of pack bought; the first one carries the need.
fn sold(fastener: &Fastener, needed: u64) -> Vec<Line> {
    let count = spared(needed, fastener.spare);
    if count == 0 {
        return Vec::new();
    }
    if fastener.packs.is_empty() {
        return vec![line(fastener.name.clone(), Trade::Piece, needed, count)];
    }
    let packs = packs::cheapest(&fastener.packs, count).into_iter();
    packs
        .enumerate()
        .map(|(k, (pack, count))| {
            let needed = if k == 0 { needed } else { 0 };
            line(fastener.name.clone(), Trade::of(&pack), needed, count).priced(pack.price)
        })
        .collect()
}

fn line(item: String, unit: Trade, needed: u64, count: u64) -> Line {
    goods::line(Group::Fasteners, item, unit, Needed::Count(needed), count)
}

/// Exact counts, before spares and packs.
#[derive(Debug, PartialEq, Eq)]
struct Counts {
    /// Clips or screws of each of the job's fasteners.
    fasteners: Vec<u64>,
    /// Starters: which course, the fastener it goes with, how many.
    outer_edges: Vec<(&'static str, usize, u64)>,
}

/// Counts for a plan whose gaps are left by these fasteners.
fn count(job: &Job, plan: &Plan, gaps: &[usize]) -> Counts {
    let mut fasteners = vec![0; job.fasteners.len()];
    let clipped = |fastener: usize| job.fasteners[fastener].kind == FastenerKind::Clip;
    for (gap, &fastener) in gaps.iter().enumerate() {
        if clipped(fastener)
            && let Some([before, after]) = plan.courses.get(gap..gap + 2)
        {
            fasteners[fastener] += in_gap(plan, before, after);
        }
    }
    // A board is held along both edges: one gap without clips is enough to
    // send screws through its face.
    for (k, course) in plan.courses.iter().enumerate() {
        let beside = [k.checked_sub(1), Some(k)].into_iter().flatten();
        let mut beside = beside.filter_map(|gap| gaps.get(gap).copied());
        let held_by = match gaps.is_empty() {
            true => Some(plan.fastener).filter(|&fastener| !clipped(fastener)),
            false => beside.find(|&fastener| !clipped(fastener)),
        };
        if let Some(fastener) = held_by {
            fasteners[fastener] += through_face(job, plan, course);
        }
    }
    let ends = [
        ("first", plan.courses.first(), gaps.first()),
        ("last", plan.courses.last(), gaps.last()),
    ];
    let outer_edges = ends
        .into_iter()
        .filter_map(|(edge, course, gap)| {
            let fastener = gap.copied().unwrap_or(plan.fastener);
            let needed = course.map(|course| under(plan, course).count() as u64)?;
            clipped(fastener).then_some((edge, fastener, needed))
        })
        .collect();
    Counts {
        fasteners,
        outer_edges,
    }
}

/// The supports a course rests on.
fn under<'a>(plan: &'a Plan, course: &'a PlannedCourse) -> impl Iterator<Item = Length> + use<'a> {
    plan.supports.iter().copied().filter(|&support| {
        let mut runs = course.runs.iter();
        runs.any(|run| run.from <= support && support <= run.to)
    })
}

/// Clips in the gap between two courses.
fn in_gap(plan: &Plan, before: &PlannedCourse, after: &PlannedCourse) -> u64 {
    let supports = under(plan, before).filter(|&s| under(plan, after).any(|other| other == s));
    supports.count() as u64 + joints(before) + joints(after)
}

/// Butt joints of a course; each lies on a support.
fn joints(course: &PlannedCourse) -> u64 {
    let runs = course.runs.iter();
    runs.map(|run| run.pieces.len().saturating_sub(1) as u64)
        .sum()
}

/// Screws through the face of a course: for each piece on each support under
/// it, so that both ends at a joint are held.
fn through_face(job: &Job, plan: &Plan, course: &PlannedCourse) -> u64 {
    let each = if job.board.face > TWO_SCREWS_UP_TO {
        3
    } else {
        2
    };
    each * (under(plan, course).count() as u64 + joints(course))
}
