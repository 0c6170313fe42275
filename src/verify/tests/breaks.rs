//! The valid plan broken rule by rule: deck, courses, pieces and joints. Every
//! break must be found, and nothing but what it breaks.

use super::super::{Rule, plan as verify};
use super::{cents, eighths, inches, job, valid};
use crate::job::*;
use crate::length::Length;
use crate::plan::*;

pub(super) const UNIT: Length = Length::from_units(1);

/// Applies a change and expects exactly these rules broken.
#[track_caller]
pub(super) fn breaks(change: impl FnOnce(&mut Job, &mut Plan), rules: &[Rule]) {
    let (mut job, mut plan) = (job(), valid());
    change(&mut job, &mut plan);
    let found = verify(&job, &plan);
    let mut broken: Vec<Rule> = found.iter().map(|violation| violation.rule).collect();
    broken.sort_unstable();
    broken.dedup();
    let mut expected = rules.to_vec();
    expected.sort_unstable();
    assert_eq!(broken, expected, "{found:#?}");
    assert!(
        found
            .iter()
            .all(|violation| !violation.to_string().is_empty())
    );
}

pub(super) fn piece(plan: &mut Plan, course: usize, index: usize) -> &mut PlannedPiece {
    &mut plan.courses[course].runs[0].pieces[index]
}

/// Moves a joint and keeps the pieces' lengths true.
fn move_joint(plan: &mut Plan, course: usize, by: Length) {
    let left = piece(plan, course, 0);
    left.to += by;
    left.length += by;
    let right = piece(plan, course, 1);
    right.from += by;
    right.length -= by;
}

#[test]
fn nothing_is_wrong_with_the_valid_plan() {
    breaks(|_, _| {}, &[]);
}

#[test]
fn fastener_and_gap() {
    breaks(|_, plan| plan.fastener = 7, &[Rule::Fastener]);
    breaks(|_, plan| plan.gap += UNIT, &[Rule::Fastener]);
    // With the other fastener the courses lie elsewhere.
    breaks(
        |_, plan| {
            plan.fastener = 1;
            plan.gap = eighths(4);
        },
        &[Rule::Courses],
    );
}

#[test]
fn supports() {
    breaks(|_, plan| plan.supports[3] += UNIT, &[Rule::Supports]);
    breaks(|_, plan| plan.supports.truncate(12), &[Rule::Supports]);
    breaks(|_, plan| plan.supports.push(inches(400)), &[Rule::Supports]);
}

#[test]
fn courses() {
    breaks(|_, plan| plan.courses[1].number = 3, &[Rule::Courses]);
    breaks(|_, plan| plan.courses[1].from += UNIT, &[Rule::Courses]);
    breaks(|_, plan| plan.courses[2].to -= UNIT, &[Rule::Courses]);
    breaks(|_, plan| plan.courses[2].ripped = true, &[Rule::Courses]);
    breaks(|_, plan| plan.courses[1].width -= UNIT, &[Rule::Courses]);
    breaks(
        |_, plan| {
            let last = &mut plan.courses[3];
            last.width += UNIT;
            last.to += UNIT;
        },
        &[Rule::Courses],
    );
    // The narrow course first: the plan's own first is whole.
    breaks(
        |job, _| job.courses.finish = Finish::RipFirst,
        &[Rule::Courses],
    );
    // A course less, its pieces and money taken out everywhere.
    breaks(
        |_, plan| {
            plan.courses.pop();
            plan.boards.remove(3);
            for (index, board) in plan.boards.iter_mut().enumerate() {
                board.number = index as u32 + 1;
            }
            for (course, boards) in [(1, [3, 5]), (2, [4, 5])] {
                for (index, board) in boards.into_iter().enumerate() {
                    piece(plan, course, index).board = board;
                }
            }
            let laid = plan.totals.laid.units() / 4 * 3;
            plan.totals = Totals {
                boards: 5,
                price: plan.totals.price - cents(1137),
                joints: 3,
                cost: plan.totals.cost - cents(1137 + 150),
                value: plan.totals.value - 1137 - 150,
                bound: 0,
                bought: plan.totals.bought - inches(108),
                laid: Length::from_units(laid),
                extra: Length::ZERO,
                ..plan.totals.clone()
            };
        },
        &[Rule::Courses],
    );
}

#[test]
fn runs_and_coverage() {
    breaks(|_, plan| plan.courses[0].runs[0].from += UNIT, &[Rule::Run]);
    breaks(|_, plan| plan.courses[0].runs[0].to -= UNIT, &[Rule::Run]);
    breaks(
        |_, plan| {
            let empty = PlannedRun {
                pieces: Vec::new(),
                ..plan.courses[0].runs[0].clone()
            };
            plan.courses[0].runs.push(empty);
        },
        &[Rule::Run, Rule::Cover],
    );
    // Short of the left end by a unit.
    breaks(
        |_, plan| {
            let piece = piece(plan, 0, 0);
            piece.from += UNIT;
            piece.length -= UNIT;
            plan.totals.laid -= UNIT;
            plan.boards[0].offcut += UNIT;
        },
        &[Rule::Cover],
    );
    breaks(
        |_, plan| {
            let piece = piece(plan, 2, 1);
            piece.to -= UNIT;
            piece.length -= UNIT;
            plan.totals.laid -= UNIT;
            plan.boards[5].offcut += UNIT;
        },
        &[Rule::Cover],
    );
    // Overlapping pieces.
    breaks(
        |_, plan| {
            let piece = piece(plan, 0, 1);
            piece.from -= inches(1);
            piece.length += inches(1);
            plan.totals.laid += inches(1);
            plan.boards[1].offcut -= inches(1);
        },
        &[Rule::Cover, Rule::Joint],
    );
}

#[test]
fn joints_on_supports() {
    // Both pieces moved by one unit: the joint is off the centre.
    breaks(
        |_, plan| {
            move_joint(plan, 0, UNIT);
            plan.boards[0].offcut -= UNIT;
            plan.boards[1].offcut += UNIT;
            // A joint on no support doubles none; another still does at 96 in.
        },
        &[Rule::Joint],
    );
    // The pieces leave a unit more than the end gap.
    breaks(|job, _| job.joints.end_gap = eighths(1), &[Rule::Joint]);
    breaks(
        |_, plan| {
            let piece = piece(plan, 0, 1);
            piece.from += UNIT;
            piece.length -= UNIT;
            plan.totals.laid -= UNIT;
            plan.boards[1].offcut += UNIT;
        },
        &[Rule::Joint],
    );
    // With supports only where it is the first, second or last that carries it.
    for (centres, rules) in [
        (vec![64, 96, 128], vec![Rule::Joint]),
        (vec![0, 64, 96, 128], vec![Rule::Joint]),
        (vec![0, 64, 96, 128, 191], vec![]),
    ] {
        breaks(
            |job, plan| {
                let centres: Vec<Length> = centres.into_iter().map(inches).collect();
                plan.supports = centres.clone();
                job.joists = Joists::Positions {
                    centres,
                    spacing: None,
                    thickness: eighths(12),
                };
                job.joints.bearing = 1;
                job.joints.stagger_joists = 0;
            },
            &rules,
        );
    }
}

#[test]
fn shortest_piece() {
    // The shortest lies from 128 in to 191-3/4 in less the end gap's right half.
    let exact = eighths(8 * 64 - 2) - Length::from_units(12_701);
    breaks(|job, _| job.joints.shortest_piece = exact, &[]);
    breaks(
        |job, _| job.joints.shortest_piece = exact + UNIT,
        &[Rule::ShortestPiece],
    );
}

#[test]
fn bearing() {
    // From the run's start to the joint at 64 in: 3/4, 16, 32, 48 and 64 in.
    breaks(|job, _| job.joints.bearing = 5, &[]);
    breaks(|job, _| job.joints.bearing = 6, &[Rule::Bearing]);
}

#[test]
fn stagger_and_same_joist() {
    breaks(|job, _| job.joints.stagger = inches(32), &[]);
    breaks(
        |job, _| job.joints.stagger = inches(32) + UNIT,
        &[Rule::Stagger],
    );
    breaks(|job, _| job.joints.same_joist_after = 3, &[Rule::SameJoist]);
    // Joints in line in neighbouring courses are two faults, or one.
    let in_line = |job: &mut Job, plan: &mut Plan| {
        move_joint(plan, 1, inches(32));
        plan.boards[2].offcut -= inches(32);
        plan.boards[5].offcut += inches(32);
        plan.totals.doubled_joists = 2;
        plan.totals.cost = plan.totals.cost - cents(405);
        plan.totals.value -= 405;
        job.joints.same_joist_after = 0;
        job.joints.stagger_joists = 0;
    };
    breaks(in_line, &[Rule::Stagger]);
    breaks(
        |job, plan| {
            in_line(job, plan);
            job.joints.stagger = Length::ZERO;
        },
        &[],
    );
    breaks(
        |job, plan| {
            in_line(job, plan);
            job.joints.stagger = Length::ZERO;
            job.joints.same_joist_after = 1;
        },
        &[Rule::SameJoist],
    );
}

#[test]
fn stagger_by_joists() {
    // From 96 to 64 in and from 128 to 96 in there are two bays.
    breaks(|job, _| job.joints.stagger_joists = 2, &[]);
    breaks(
        |job, _| job.joints.stagger_joists = 3,
        &[Rule::StaggerJoists],
    );
}

#[test]
fn joints_that_repeat() {
    // At 96, 64, 128 and 96 in.
    breaks(|job, _| job.joints.repeat = Some(3), &[]);
    breaks(|job, _| job.joints.repeat = Some(4), &[]);
    breaks(|job, _| job.joints.repeat = Some(2), &[Rule::Repeat]);
    breaks(|job, _| job.joints.repeat = Some(1), &[Rule::Repeat]);
}

#[test]
fn stretches_without_joints() {
    let zone =
        |from, to| move |job: &mut Job, _: &mut Plan| job.joints.keep_out = vec![Zone { from, to }];
    breaks(zone(inches(64) + UNIT, inches(96) - UNIT), &[]);
    breaks(zone(inches(64) + UNIT, inches(96)), &[Rule::KeepOut]);
    breaks(zone(inches(64), inches(64)), &[Rule::KeepOut]);
    breaks(zone(inches(-9), inches(64) - UNIT), &[]);
}

/// A hatch of 8 in from what is left of the first board.
fn with_hatch(job: &mut Job, plan: &mut Plan) {
    job.extras.push(Extra {
        label: "hatch".into(),
        length: inches(8),
        count: 1,
    });
    plan.extras.push(PlannedExtra {
        id: "hatch 1".into(),
        extra: 0,
        length: inches(8),
        board: 1,
    });
    plan.boards[0].pieces.push("hatch 1".into());
    plan.boards[0].offcut -= inches(8) + eighths(1);
    plan.totals.extra = inches(8);
}

#[test]
fn other_pieces() {
    breaks(with_hatch, &[]);
    let and = |change: fn(&mut Job, &mut Plan)| {
        move |job: &mut Job, plan: &mut Plan| {
            with_hatch(job, plan);
            change(job, plan);
        }
    };
    breaks(and(|job, _| job.extras[0].count = 2), &[Rule::Extra]);
    breaks(and(|job, _| job.extras[0].length += UNIT), &[Rule::Extra]);
    breaks(and(|job, _| job.extras.clear()), &[Rule::Extra]);
    breaks(and(|_, plan| plan.extras[0].extra = 1), &[Rule::Extra]);
    breaks(and(|_, plan| plan.extras[0].board = 2), &[Rule::OneBoard]);
    breaks(and(|_, plan| plan.totals.extra += UNIT), &[Rule::Totals]);
    breaks(
        and(|_, plan| {
            plan.boards[0].pieces.pop();
            plan.boards[0].offcut += inches(8) + eighths(1);
        }),
        &[Rule::OneBoard],
    );
}

#[test]
fn a_single_piece_needs_neither_length_nor_bearing() {
    breaks(
        |job, plan| {
            job.joints.bearing = 99;
            job.joints.shortest_piece = inches(500);
            job.stock[1].length = inches(200);
            let run = inches(193) - eighths(2);
            for (index, course) in plan.courses.iter_mut().enumerate() {
                let pieces = &mut course.runs[0].pieces;
                pieces.pop();
                pieces[0].to = eighths(8 * 192 - 2);
                pieces[0].length = run + eighths(4);
                pieces[0].board = index as u32 + 1;
            }
            plan.boards = (1..=4)
                .map(|number| PlannedBoard {
                    number,
                    stock: 1,
                    length: inches(200),
                    price: cents(1499),
                    on_hand: false,
                    pieces: vec![format!("{number}a")],
                    strips: None,
                    offcut: inches(200) - eighths(2) - run - eighths(5),
                })
                .collect();
            plan.totals = Totals {
                boards: 4,
                price: cents(4 * 1499),
                joints: 0,
                doubled_joists: 0,
                cost: cents(4 * 1499),
                value: 4 * 1499,
                bound: 4 * 1499,
                proven: true,
                bought: inches(800),
                laid: run * 4,
                extra: Length::ZERO,
                ..plan.totals.clone()
            };
        },
        &[],
    );
}

#[test]
fn lengths_as_cut() {
    breaks(
        |_, plan| {
            piece(plan, 0, 0).length -= eighths(4);
            plan.boards[0].offcut += eighths(4);
        },
        &[Rule::PieceLength],
    );
    breaks(
        |job, _| job.edges.left = super::open(eighths(4), eighths(4), eighths(3)),
        &[Rule::PieceLength],
    );
}

#[test]
fn names() {
    breaks(
        |_, plan| {
            piece(plan, 0, 0).id = "1A".into();
            plan.boards[0].pieces[0] = "1A".into();
        },
        &[Rule::PieceId],
    );
    // Two pieces of one name: both boards hold it, so neither can be right.
    breaks(
        |_, plan| {
            piece(plan, 0, 1).id = "1a".into();
            plan.boards[1].pieces[0] = "1a".into();
        },
        &[Rule::PieceId, Rule::OneBoard, Rule::Offcut],
    );
}
