//! What joints owe to those of other courses.

use std::collections::BTreeMap;

use super::{Findings, Rule, wide};
use crate::job::Job;

/// Joints of neighbouring courses are at least the stagger apart.
pub(super) fn check_neighbours(job: &Job, joints_of: &[Vec<i128>], found: &mut Findings) {
    let stagger = wide(job.joints.stagger);
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
            }
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
