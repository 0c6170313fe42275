//! Whether the pieces cover every run and their joints keep the rules along
//! the boards. What joints owe to those of other courses is left to
//! [`super::stagger`].

use std::collections::BTreeMap;

use super::geometry::Geometry;
use super::{Findings, Rule, ceil_half, floor_half, stagger, wide};
use crate::job::Job;
use crate::plan::{Plan, PlannedPiece, PlannedRun};

/// A piece as the boards' check needs it.
pub(super) struct LaidPiece {
    /// Its length as cut.
    pub length: i128,
    /// The board it says it is cut from.
    pub board: u32,
    /// The width of its course.
    pub width: i128,
    /// Whether its course is ripped.
    pub ripped: bool,
}

/// What the pieces come to.
#[derive(Default)]
pub(super) struct Laid {
    /// The pieces by their names.
    pub pieces: BTreeMap<String, LaidPiece>,
    /// Joints in all, wherever they fall.
    pub joints: u64,
    /// Supports that carry at least one joint.
    pub doubled: usize,
    /// The pieces' lengths as they lie.
    pub length: i128,
    /// The other pieces' lengths.
    pub extra: i128,
}

pub(super) fn check(job: &Job, plan: &Plan, geometry: &Geometry, found: &mut Findings) -> Laid {
    let mut laid = Laid::default();
    // The supports under the joints of each course, and the courses by support.
    let mut joints_of: Vec<Vec<i128>> = Vec::with_capacity(plan.courses.len());
    let mut courses_on: BTreeMap<i128, Vec<usize>> = BTreeMap::new();
    for (index, course) in plan.courses.iter().enumerate() {
        let mut joints = Vec::new();
        if course.runs.len() != 1 {
            found.add(
                Rule::Run,
                format!(
                    "course {} has {} runs; on a rectangle it has one",
                    index + 1,
                    course.runs.len()
                ),
            );
        }
        let mut piece_index = 0;
        for run in &course.runs {
            if (wide(run.from), wide(run.to)) != (geometry.from, geometry.to) {
                found.add(
                    Rule::Run,
                    format!(
                        "the run of course {} goes from {} to {}, but the surface from {} to {}",
                        index + 1,
                        found.show(wide(run.from)),
                        found.show(wide(run.to)),
                        found.show(geometry.from),
                        found.show(geometry.to)
                    ),
                );
            }
            joints.extend(check_run(job, run, geometry, index, found));
            laid.joints += (run.pieces.len() as u64).saturating_sub(1);
            for piece in &run.pieces {
                laid.length += wide(piece.to) - wide(piece.from);
                check_id(piece, index, piece_index, found);
                piece_index += 1;
                let kept = LaidPiece {
                    length: wide(piece.length),
                    board: piece.board,
                    width: wide(course.width),
                    ripped: course.ripped,
                };
                if laid.pieces.insert(piece.id.clone(), kept).is_some() {
                    found.add(Rule::PieceId, format!("two pieces are named {}", piece.id));
                }
            }
        }
        for joint in &joints {
            courses_on.entry(*joint).or_default().push(index);
        }
        joints_of.push(joints);
    }
    laid.doubled = courses_on.len();
    stagger::check_neighbours(job, geometry, &joints_of, found);
    stagger::check_repeat(job, &joints_of, found);
    stagger::check_same_joist(job, &courses_on, found);
    laid
}

/// Checks the pieces of one run and gives the supports under its joints.
fn check_run(
    job: &Job,
    run: &PlannedRun,
    geometry: &Geometry,
    course: usize,
    found: &mut Findings,
) -> Vec<i128> {
    let (Some(first), Some(last)) = (run.pieces.first(), run.pieces.last()) else {
        found.add(
            Rule::Cover,
            format!("course {} has a run without a piece", course + 1),
        );
        return Vec::new();
    };
    for (at, end, side) in [
        (first.from, geometry.from, "start"),
        (last.to, geometry.to, "end"),
    ] {
        if wide(at) != end {
            found.add(
                Rule::Cover,
                format!(
                    "the pieces of course {} {side} at {}, but the run {side}s at {}",
                    course + 1,
                    found.show(wide(at)),
                    found.show(end)
                ),
            );
        }
    }
    let joints: Vec<Option<i128>> = run
        .pieces
        .windows(2)
        .map(|pair| check_joint(job, &pair[0], &pair[1], geometry, found))
        .collect();
    for (index, piece) in run.pieces.iter().enumerate() {
        let is_first = index == 0;
        let is_last = index + 1 == run.pieces.len();
        let lies = wide(piece.to) - wide(piece.from);
        if lies <= 0 {
            found.add(
                Rule::Cover,
                format!("piece {} ends at or before its start", piece.id),
            );
        }
        let mut cut = lies;
        if is_first {
            cut += wide(job.edges.left.allowance());
        }
        if is_last {
            cut += wide(job.edges.right.allowance());
        }
        if wide(piece.length) != cut {
            found.add(
                Rule::PieceLength,
                format!(
                    "piece {} is cut to {}, but it must be {}",
                    piece.id,
                    found.show(wide(piece.length)),
                    found.show(cut)
                ),
            );
        }
        if run.pieces.len() == 1 {
            continue;
        }
        if lies < wide(job.joints.shortest_piece) {
            found.add(
                Rule::ShortestPiece,
                format!(
                    "piece {} is {} long, below the shortest piece of {}",
                    piece.id,
                    found.show(lies),
                    found.show(wide(job.joints.shortest_piece))
                ),
            );
        }
        // A support under one of the piece's own joints carries it even where
        // the end gap takes the piece's end off the support's centre.
        let left = if is_first {
            Some(wide(piece.from))
        } else {
            joints[index - 1]
        };
        let right = if is_last {
            Some(wide(piece.to))
        } else {
            joints[index]
        };
        if let (Some(left), Some(right)) = (left, right) {
            let under = geometry
                .supports
                .iter()
                .filter(|at| (left..=right).contains(*at))
                .count();
            if (under as u64) < u64::from(job.joints.bearing) {
                found.add(
                    Rule::Bearing,
                    format!(
                        "piece {} rests on {under} supports, but the job asks for {}",
                        piece.id, job.joints.bearing
                    ),
                );
            }
        }
    }
    joints.into_iter().flatten().collect()
}

/// The support under the joint of two neighbouring pieces, if it is one.
fn check_joint(
    job: &Job,
    left: &PlannedPiece,
    right: &PlannedPiece,
    geometry: &Geometry,
    found: &mut Findings,
) -> Option<i128> {
    let end_gap = wide(job.joints.end_gap);
    let centre = wide(left.to) + floor_half(end_gap);
    let place = geometry.supports.iter().position(|at| *at == centre);
    let between = wide(right.from) - wide(left.to);
    if between < 0 {
        found.add(
            Rule::Cover,
            format!("pieces {} and {} overlap", left.id, right.id),
        );
    }
    if wide(right.from) != centre + ceil_half(end_gap) {
        found.add(
            Rule::Joint,
            format!(
                "between pieces {} and {} there is {}, but the end gap is {}",
                left.id,
                right.id,
                found.show(between),
                found.show(end_gap)
            ),
        );
    }
    let Some(place) = place else {
        found.add(
            Rule::Joint,
            format!(
                "the joint of pieces {} and {} at {} is on no support's centre",
                left.id,
                right.id,
                found.show(centre)
            ),
        );
        return None;
    };
    if place == 0 || place + 1 == geometry.supports.len() {
        found.add(
            Rule::Joint,
            format!(
                "the joint of pieces {} and {} is on the {} support",
                left.id,
                right.id,
                if place == 0 { "first" } else { "last" }
            ),
        );
    }
    for zone in &job.joints.keep_out {
        if wide(zone.from) <= centre && centre <= wide(zone.to) {
            found.add(
                Rule::KeepOut,
                format!(
                    "the joint of pieces {} and {} at {} lies between {} and {}, where none may be",
                    left.id,
                    right.id,
                    found.show(centre),
                    found.show(wide(zone.from)),
                    found.show(wide(zone.to))
                ),
            );
        }
    }
    Some(centre)
}

fn check_id(piece: &PlannedPiece, course: usize, index: usize, found: &mut Findings) {
    let wanted = format!("{}{}", course + 1, letters(index));
    if piece.id != wanted {
        found.add(
            Rule::PieceId,
            format!(
                "piece {} of course {} is named {}, not {wanted}",
                index + 1,
                course + 1,
                piece.id
            ),
        );
    }
}

/// a to z, then aa, ab and so on.
fn letters(index: usize) -> String {
    let mut rest = index;
    let mut name = Vec::new();
    loop {
        name.push(b'a' + (rest % 26) as u8);
        if rest < 26 {
            break;
        }
        rest = rest / 26 - 1;
    }
    name.reverse();
    name.into_iter().map(char::from).collect()
}
