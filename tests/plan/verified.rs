//! The deck's and the courses' geometry against the verifier's own, on random
//! jobs of every size.

use crate::support::draw::strategy;
use crate::support::jobs::{Size, job};
use lastcourse::courses::layout;
use lastcourse::deck::{supports, surface};
use lastcourse::job::Job;
use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::plan::{Objective, Plan, PlannedCourse, PlannedRun, Totals};
use lastcourse::verify::{self, Rule};
use proptest::prelude::*;

/// A plan with the deck's geometry and not one piece.
fn bare(job: &Job, fastener: usize) -> Plan {
    let surface = surface(job).expect("a surface");
    let layout = layout(job, &surface, fastener);
    let courses = layout.courses.iter().map(|course| PlannedCourse {
        number: course.number,
        from: course.from,
        to: course.to,
        width: course.width(),
        ripped: course.ripped,
        runs: vec![PlannedRun {
            from: surface.from,
            to: surface.to,
            pieces: Vec::new(),
        }],
    });
    Plan {
        proof: None,
        joints_at_most: None,
        fastener,
        gap: layout.gap,
        supports: supports(job).centres,
        courses: courses.collect(),
        extras: Vec::new(),
        left_over: Vec::new(),
        boards: Vec::new(),
        totals: Totals {
            boards: 0,
            price: Money::ZERO,
            joints: 0,
            doubled_joists: 0,
            objective: Objective::Cost,
            cost: Money::ZERO,
            value: 0,
            bound: 0,
            proven: true,
            joints_proven: true,
            stopped: false,
            bought: Length::ZERO,
            laid: Length::ZERO,
            extra: Length::ZERO,
        },
    }
}

fn agrees(job: &Job) {
    for fastener in 0..job.fasteners.len() {
        for violation in verify::plan(job, &bare(job, fastener)) {
            let geometry = matches!(
                violation.rule,
                Rule::Fastener | Rule::Supports | Rule::Courses | Rule::Run
            );
            assert!(!geometry, "{violation} in {job:#?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn small_decks(job in strategy(|draw| job(draw, Size::Small))) {
        agrees(&job);
    }

    #[test]
    fn full_decks(job in strategy(|draw| job(draw, Size::Full))) {
        agrees(&job);
    }
}
