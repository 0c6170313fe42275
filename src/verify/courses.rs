//! Whether the plan's supports and courses are those of the job.

use super::geometry::Geometry;
use super::{Findings, Rule, wide};
use crate::job::Job;
use crate::plan::Plan;

pub(super) fn check(job: &Job, plan: &Plan, geometry: &Geometry, found: &mut Findings) {
    let stated: Vec<i128> = plan.supports.iter().map(|at| wide(*at)).collect();
    if stated != geometry.supports {
        let differs = (0..)
            .find(|&i| stated.get(i) != geometry.supports.get(i))
            .unwrap_or(0);
        let tell = |list: &[i128], found: &Findings| {
            list.get(differs)
                .map_or("nowhere".to_owned(), |at| found.show(*at))
        };
        found.add(
            Rule::Supports,
            format!(
                "support {} stands at {} in the plan, but the job puts it at {}",
                differs + 1,
                tell(&stated, found),
                tell(&geometry.supports, found)
            ),
        );
    }
    if plan.courses.len() != geometry.courses.len() {
        found.add(
            Rule::Courses,
            format!(
                "the plan has {} courses, but the job makes {}",
                plan.courses.len(),
                geometry.courses.len()
            ),
        );
    }
    let face = wide(job.board.face);
    for (index, (course, &(from, to))) in plan.courses.iter().zip(&geometry.courses).enumerate() {
        if usize::try_from(course.number).ok() != Some(index + 1) {
            found.add(
                Rule::Courses,
                format!("course {} is numbered {}", index + 1, course.number),
            );
        }
        if (wide(course.from), wide(course.to)) != (from, to) {
            found.add(
                Rule::Courses,
                format!(
                    "course {} lies from {} to {}, but the job puts it from {} to {}",
                    index + 1,
                    found.show(wide(course.from)),
                    found.show(wide(course.to)),
                    found.show(from),
                    found.show(to)
                ),
            );
        }
        if wide(course.width) != to - from {
            found.add(
                Rule::Courses,
                format!(
                    "course {} is said to be {} wide, but the job makes it {}",
                    index + 1,
                    found.show(wide(course.width)),
                    found.show(to - from)
                ),
            );
        }
        if course.ripped != (to - from < face) {
            let (said, is) = if course.ripped {
                ("ripped", "whole")
            } else {
                ("whole", "ripped")
            };
            found.add(
                Rule::Courses,
                format!("course {} is said to be {said}, but it is {is}", index + 1),
            );
        }
    }
}
