//! The deck worked out again from the job: the surface, the supports, and the
//! courses with their places across. Nothing is taken from the plan but the
//! fastener it was made for.

use super::{Findings, Rule, ceil_half, floor_half, wide};
use crate::job::{Edge, Finish, Job, Joists};
use crate::plan::Plan;

/// More courses than any deck has; beyond it a job is not worked out at all.
const MOST_COURSES: i128 = 1_000_000;

/// What the job asks for, in counts of 1/8 µm.
pub(crate) struct Geometry {
    /// Where every run starts along.
    pub from: i128,
    /// Where every run ends along.
    pub to: i128,
    /// The supports' centres along, ascending.
    pub supports: Vec<i128>,
    /// The near and far edge of each course across.
    pub courses: Vec<(i128, i128)>,
}

/// The geometry of a job with the plan's fastener, or nothing (and a violation)
/// where the job and the plan do not go together at all.
pub(super) fn derive(job: &Job, plan: &Plan, found: &mut Findings) -> Option<Geometry> {
    let Some(fastener) = job.fasteners.get(plan.fastener) else {
        found.add(
            Rule::Fastener,
            format!(
                "the plan's fastener {} is not one of the job's {}",
                plan.fastener + 1,
                job.fasteners.len()
            ),
        );
        return None;
    };
    if plan.gap != fastener.gap.set {
        found.add(
            Rule::Fastener,
            format!(
                "the plan's gap is {}, but `{}` leaves {}",
                found.show(wide(plan.gap)),
                fastener.name,
                found.show(wide(fastener.gap.set))
            ),
        );
    }
    let geometry = of(job, plan.fastener);
    if let Err((rule, why)) = &geometry {
        found.add(*rule, (*why).into());
    }
    geometry.ok()
}

/// The geometry of a job with one of its fasteners, or the rule that cannot be
/// met.
pub(super) fn of(job: &Job, fastener: usize) -> Result<Geometry, (Rule, &'static str)> {
    let edges = &job.edges;
    let width = wide(job.deck.across) + past_frame(&edges.first) + past_frame(&edges.last);
    let from = -past_frame(&edges.left);
    let to = wide(job.deck.along) + past_frame(&edges.right);
    if width <= 0 || to <= from {
        let why = "the job's edges leave no surface to lay boards on";
        return Err((Rule::Run, why));
    }
    let why = "the job's face and gap do not lay a surface in a countable number of courses";
    Ok(Geometry {
        from,
        to,
        supports: supports(job),
        courses: courses(job, fastener, width).ok_or((Rule::Courses, why))?,
    })
}

/// How far the surface reaches past the frame at an edge.
fn past_frame(edge: &Edge) -> i128 {
    match edge {
        Edge::Open {
            fascia, overhang, ..
        } => wide(*fascia) + wide(overhang.set),
        Edge::Wall { clearance } => -wide(*clearance),
    }
}

fn supports(job: &Job) -> Vec<i128> {
    let (spacing, first, thickness) = match &job.joists {
        Joists::Positions { centres, .. } => return centres.iter().map(|at| wide(*at)).collect(),
        Joists::Spaced {
            spacing,
            first,
            thickness,
        } => (wide(*spacing), wide(*first), wide(*thickness)),
    };
    let left = floor_half(thickness);
    let right = wide(job.deck.along) - ceil_half(thickness);
    if right <= left {
        return vec![left];
    }
    // Where each inner joist is meant to stand, and where it is moved to clear
    // the end joists.
    let mut wanted = Vec::new();
    let mut at = first;
    while at < right && spacing > 0 {
        if at > left {
            let clear = if at - left < thickness {
                left + thickness
            } else if right - at < thickness {
                right - thickness
            } else {
                at
            };
            wanted.push((at, clear));
        }
        at += spacing;
    }
    // A joist that was moved gives way to any that it would crowd.
    let crowded = |index: usize, (meant, stands): (i128, i128)| {
        meant != stands
            && (stands - left < thickness
                || right - stands < thickness
                || wanted.iter().enumerate().any(|(other, (_, there))| {
                    other != index && (there - stands).abs() < thickness
                }))
    };
    let inner = wanted
        .iter()
        .enumerate()
        .filter(|(index, joist)| !crowded(*index, **joist))
        .map(|(_, (_, stands))| *stands);
    let mut all: Vec<i128> = std::iter::once(left).chain(inner).chain([right]).collect();
    all.sort_unstable();
    all
}

/// The courses' edges across, or nothing when they cannot be counted.
fn courses(job: &Job, fastener: usize, width: i128) -> Option<Vec<(i128, i128)>> {
    let face = wide(job.board.face);
    let gap = wide(job.fasteners[fastener].gap.set);
    let (other, others) = match job.courses.mixed {
        Some(mixed) => (
            wide(job.fasteners.get(mixed.fastener)?.gap.set),
            i128::from(mixed.gaps),
        ),
        None => (gap, 0),
    };
    if face <= 0 || gap < 0 || other < 0 || width / face > MOST_COURSES {
        return None;
    }
    // The gaps between so many courses, first to last.
    let gaps_of = |count: i128| {
        let between = (count - 1).max(0);
        let last = others.min(between);
        (between - last, last)
    };
    let reach = |count: i128| {
        let (usual, last) = gaps_of(count);
        count * face + usual * gap + last * other
    };
    let mut count = 1;
    while reach(count) < width {
        count += 1;
    }
    // What is left for the last course once those before it and all gaps are laid.
    let last = width - (reach(count) - face);
    let mut widths = vec![face; usize::try_from(count).ok()?];
    let end = widths.len() - 1;
    if last <= 0 {
        widths.pop();
    } else if last < face {
        match job.courses.finish {
            Finish::RipFirst => widths[0] = last,
            Finish::LeaveOut => {
                widths.pop();
            }
            Finish::Balanced if count >= 2 => {
                widths[0] = floor_half(last + face);
                widths[end] = ceil_half(last + face);
            }
            Finish::Shared if count >= 3 => {
                widths[end - 1] = floor_half(last + face);
                widths[end] = ceil_half(last + face);
            }
            Finish::RipLast | Finish::Balanced | Finish::Shared => widths[end] = last,
        }
    }
    let (usual, _) = gaps_of(widths.len() as i128);
    let mut at = 0;
    let mut laid = Vec::with_capacity(widths.len());
    for (index, width) in widths.into_iter().enumerate() {
        laid.push((at, at + width));
        at += width + if (index as i128) < usual { gap } else { other };
    }
    Some(laid)
}
