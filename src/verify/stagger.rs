//! What joints owe to those of other courses.

use std::collections::BTreeMap;

use super::geometry::Geometry;
use super::{Findings, Rule, wide};
use crate::job::Job;

/// Joints of neighbouring courses are at least the stagger apart, and so many
/// supports.
pub(super) fn check_neighbours(
    job: &Job,
    geometry: &Geometry,
    joints_of: &[Vec<i128>],
    found: &mut Findings,
) {
    let stagger = wide(job.joints.stagger);
    // Supports from the nearer joint to the farther one, that one counted.
    let steps = |a: i128, b: i128| {
        let (low, high) = (a.min(b), a.max(b));
        let within = geometry.supports.iter();
        within.filter(|&&at| low < at && at <= high).count()
    };
    for (index, pair) in joints_of.windows(2).enumerate() {
        for here in &pair[0] {
            for there in &pair[1] {
                let apart = (here - there).abs();
                if apart < stagger {
                    found.add(
                        Rule::Stagger,
                        format!(
                            "joints of courses {} and {} at {} and {} are {} apart, below the stagger of {}",
                            index + 1,
                            index + 2,
                            found.show(*here),
                            found.show(*there),
                            found.show(apart),
                            found.show(stagger)
                        ),
                    );
                }
                let joists = steps(*here, *there);
                if (joists as u64) < u64::from(job.joints.stagger_joists) {
                    found.add(
                        Rule::StaggerJoists,
                        format!(
                            "joints of courses {} and {} at {} and {} are {joists} supports apart, not {}",
                            index + 1,
                            index + 2,
                            found.show(*here),
                            found.show(*there),
                            job.joints.stagger_joists
                        ),
                    );
                }
            }
        }
    }
}

/// A course has the joints of the one so many before it, if that is asked for.
pub(super) fn check_repeat(job: &Job, joints_of: &[Vec<i128>], found: &mut Findings) {
    let Some(round) = job.joints.repeat else {
        return;
    };
    let back = usize::try_from(round).unwrap_or(usize::MAX);
    for (index, joints) in joints_of.iter().enumerate() {
        let Some(before) = index.checked_sub(back) else {
            continue;
        };
        if *joints != joints_of[before] {
            found.add(
                Rule::Repeat,
                format!(
                    "courses {} and {} do not have the same joints; they repeat after {round} courses",
                    before + 1,
                    index + 1
                ),
            );
        }
    }
}

/// Between two courses with a joint on one support lie enough others.
pub(super) fn check_same_joist(
    job: &Job,
    courses_on: &BTreeMap<i128, Vec<usize>>,
    found: &mut Findings,
) {
    for (support, courses) in courses_on {
        for pair in courses.windows(2) {
            let between = (pair[1] - pair[0]) as i128 - 1;
            if between < i128::from(job.joints.same_joist_after) {
                found.add(
                    Rule::SameJoist,
                    format!(
                        "courses {} and {} both have a joint on the support at {} with {} courses between them; the job asks for {}",
                        pair[0] + 1,
                        pair[1] + 1,
                        found.show(*support),
                        between.max(0),
                        job.joints.same_joist_after
                    ),
                );
            }
        }
    }
}
