//! Published end-joint rules for boards on joists, as this program's rules
//! express them: what each allows and forbids, checked by the verifier, and
//! plans that keep them.

use crate::support::draw::Draw;
use crate::support::jobs::{Size, job};
use crate::support::planted;
use lastcourse::job::{Edge, Extra, Job, Joists, Span, Zone};
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::plan::{Plan, PlanOptions, plan};
use lastcourse::verify::{self, Rule};
use lastcourse::watch::Unwatched;

/// A deck of so many courses on joists every `spacing` from 0 to `bays` bays,
/// with long boards and no other rule than those set here.
fn deck(courses: i64, bays: i64, spacing: Length) -> Job {
    let mut job = job(&mut Draw::listed(Vec::new()), Size::Tiny);
    let flush = Edge::Open {
        fascia: Length::ZERO,
        overhang: Span::fixed(Length::ZERO),
        allowance: Length::ZERO,
    };
    job.edges.first = flush.clone();
    job.edges.last = flush.clone();
    job.edges.left = flush.clone();
    job.edges.right = flush;
    job.unit = Unit::Inch;
    job.deck.along = spacing * bays;
    job.deck.across = (job.board.face + job.fasteners[0].gap.set) * courses;
    job.joists = Joists::Positions {
        centres: (0..=bays).map(|k| spacing * k).collect(),
        spacing: None,
        thickness: Length::from_64ths(96),
    };
    job.stock.truncate(1);
    job.stock[0].length = spacing * (bays - 1);
    job.stock[0].price = Some(Money::from_cents(1_000));
    job.stock[0].available = None;
    job.joints.stagger = Length::ZERO;
    job.joints.same_joist_after = 0;
    job.joints.shortest_piece = Length::ZERO;
    job.joints.bearing = 2;
    job.joints.end_gap = Length::ZERO;
    job
}

/// The rules broken by joints on these joists, one a course.
fn broken(job: &Job, joints: &[usize]) -> Vec<Rule> {
    let mut job = job.clone();
    let joints: Vec<Vec<usize>> = joints.iter().map(|&at| vec![at]).collect();
    let plan = planted::laid(&mut Draw::seeded(1), &mut job, &joints).expect("boards long enough");
    let mut rules: Vec<Rule> = verify::plan(&job, &plan)
        .iter()
        .map(|fault| fault.rule)
        .collect();
    rules.dedup();
    rules
}

/// The program's own plan keeps the rules, and proves it best.
fn keeps(job: &Job) -> Plan {
    let plan = plan(job, &PlanOptions::default(), &Unwatched).expect("a plan");
    let faults = verify::plan(job, &plan);
    assert!(faults.is_empty(), "{faults:#?}");
    assert!(plan.totals.proven);
    plan
}

/// Controlled random layup of mechanically laminated decking and of 2 in
/// tongue-and-groove decking: at least 24 in between joints in adjacent courses
/// (International Building Code 2304.9.3.3; also the plank-decking pages of the
/// Canadian Wood Council, 600 mm). On joists that is two bays at 12 and at
/// 16 in, one at 24 in (computed).
#[test]
fn joints_in_adjacent_courses_are_24_inches_apart() {
    for (spacing, bays) in [(12, 2), (16, 2), (24, 1)] {
        let mut deck = deck(2, 10, Length::from_inches(spacing));
        deck.joints.stagger = Length::from_inches(24);
        for apart in 0..4 {
            let wanted: &[Rule] = if apart >= bays { &[] } else { &[Rule::Stagger] };
            assert_eq!(
                broken(&deck, &[4, 4 + apart]),
                wanted,
                "{apart} bays of {spacing} in"
            );
            assert_eq!(
                broken(&deck, &[4, 4 - apart]),
                wanted,
                "{apart} bays of {spacing} in"
            );
        }
        keeps(&deck);
    }
}

/// Single diagonal sheathing: joints in adjacent boards at least one joist space
/// apart (New York City Building Code 2008, 2306.3.4.1). At 16 in that passes
/// where the 24 in rule does not.
#[test]
fn one_joist_space_is_less_than_24_inches() {
    let mut deck = deck(2, 9, Length::from_inches(16));
    deck.joints.stagger = Length::from_inches(16);
    assert_eq!(broken(&deck, &[4, 5]), []);
    assert_eq!(broken(&deck, &[4, 4]), [Rule::Stagger]);
    keeps(&deck);
    deck.joints.stagger = Length::from_inches(24);
    assert_eq!(broken(&deck, &[4, 5]), [Rule::Stagger]);
}

/// At least two boards between joints on the same support (New York City
/// Building Code 2008, 2306.3.4.1; likewise at least two courses: Canadian Wood
/// Council, plank decking; NAVEDTRA 14044, roof planks).
#[test]
fn two_courses_between_joints_on_one_support() {
    let mut deck = deck(4, 9, Length::from_inches(16));
    deck.joints.stagger = Length::from_inches(24);
    deck.joints.same_joist_after = 2;
    assert_eq!(broken(&deck, &[2, 4, 6, 2]), []);
    assert_eq!(broken(&deck, &[2, 4, 2, 6]), [Rule::SameJoist]);
    keeps(&deck);
    deck.joints.same_joist_after = 1;
    assert_eq!(broken(&deck, &[2, 4, 2, 4]), []);
    keeps(&deck);
}

/// Joints of neighbours so many joists apart, whatever the joists' spacing.
#[test]
fn joints_are_so_many_joists_apart() {
    let mut deck = deck(3, 10, Length::from_inches(12));
    deck.joints.stagger_joists = 3;
    assert_eq!(broken(&deck, &[3, 6, 3]), []);
    assert_eq!(broken(&deck, &[3, 5, 8]), [Rule::StaggerJoists]);
    keeps(&deck);
}

/// No joint on a joist in a stretch, its ends included.
#[test]
fn stretches_are_kept_free_of_joints() {
    let mut deck = deck(3, 9, Length::from_inches(16));
    let inches = Length::from_inches;
    let zone = |from, to| Zone {
        from: inches(from),
        to: inches(to),
    };
    deck.joints.keep_out = vec![zone(0, 32), zone(64, 79), zone(112, 112)];
    assert_eq!(broken(&deck, &[3, 5, 6]), []);
    for kept_free in [2, 4, 7] {
        assert_eq!(broken(&deck, &[3, kept_free, 3]), [Rule::KeepOut]);
    }
    keeps(&deck);
}

/// Every so many courses are alike, and the last of them keeps its distance from
/// the first one again.
#[test]
fn joints_come_round_again() {
    let mut deck = deck(7, 10, Length::from_inches(16));
    deck.joints.stagger = Length::from_inches(32);
    deck.joints.repeat = Some(3);
    assert_eq!(broken(&deck, &[3, 5, 7, 3, 5, 7, 3]), []);
    assert_eq!(broken(&deck, &[3, 5, 7, 3, 7, 5, 3]), [Rule::Repeat]);
    for (round, after) in [(2, 1), (3, 1), (3, 2), (4, 2), (5, 3), (9, 1)] {
        deck.joints.repeat = Some(round);
        deck.joints.same_joist_after = after;
        keeps(&deck);
    }
    // In line in all courses, where the rules say nothing against it.
    deck.joints.repeat = Some(1);
    deck.joints.stagger = Length::ZERO;
    deck.joints.same_joist_after = 0;
    let plan = keeps(&deck);
    assert_eq!((plan.totals.joints, plan.totals.doubled_joists), (7, 1));
}

/// Courses of a round that is too wide for one block.
#[test]
fn a_long_round_comes_round_again_too() {
    let mut deck = deck(30, 14, Length::from_inches(16));
    deck.joints.stagger = Length::from_inches(24);
    deck.joints.same_joist_after = 1;
    deck.joints.repeat = Some(9);
    let plan = plan(&deck, &PlanOptions::default(), &Unwatched).expect("a plan");
    assert_eq!(verify::plan(&deck, &plan), []);
    assert!(plan.totals.bound > 0);
}

/// Each length of decking bears on at least four joists (American Wood Council,
/// DCA 6, Prescriptive Residential Wood Deck Construction Guide, as reprinted by
/// a town); a county's detail asks for three.
#[test]
fn boards_bear_on_three_or_four_joists() {
    let mut deck = deck(2, 9, Length::from_inches(16));
    for (bearing, joist, right) in [(4, 3, true), (4, 2, false), (3, 2, true), (3, 1, false)] {
        deck.joints.bearing = bearing;
        let wanted: &[Rule] = if right { &[] } else { &[Rule::Bearing] };
        assert_eq!(
            broken(&deck, &[joist, 9 - joist]),
            wanted,
            "{bearing} under joist {joist}"
        );
    }
    keeps(&deck);
}

/// 152 in of board hold one course of 128 in; what is left of each is worth a
/// tread, so that four of them cost nothing and a fifth costs a board.
#[test]
fn other_pieces_live_on_the_offcuts() {
    let mut deck = deck(4, 8, Length::from_inches(16));
    deck.stock[0].length = Length::from_inches(152);
    let kerf = deck.cutting.kerf;
    for (treads, boards) in [(0, 4), (3, 4), (4, 4), (5, 5), (10, 5), (11, 6)] {
        deck.extras = vec![Extra {
            label: "tread".into(),
            length: Length::from_inches(24) - kerf,
            count: treads,
        }];
        deck.extras.retain(|extra| extra.count > 0);
        let plan = keeps(&deck);
        assert_eq!(plan.boards.len(), boards, "{treads} treads");
        assert_eq!(plan.extras.len(), treads as usize);
    }
}

/// Four courses of one board each: whole bundles are paid, and the best mixes
/// them with what is dearer but sold singly.
#[test]
fn boards_in_whole_bundles() {
    let mut deck = deck(4, 8, Length::from_inches(16));
    deck.stock[0].length = Length::from_inches(152);
    deck.joints.stagger = Length::from_inches(24);
    let cases = [
        (1, 1_500, (4, 0), 4_000),
        (2, 1_500, (4, 0), 4_000),
        (3, 1_500, (3, 0), 4_500),
        (3, 4_000, (4, 2), 6_000),
        (5, 1_500, (4, 1), 5_000),
        (7, 1_500, (0, 0), 6_000),
        (7, 1_800, (4, 3), 7_000),
    ];
    for (bundle, single, bought, cost) in cases {
        deck.stock.truncate(1);
        deck.stock[0].bundle = bundle;
        let mut other = deck.stock[0].clone();
        other.price = Some(Money::from_cents(single));
        other.bundle = 1;
        deck.stock.push(other);
        let plan = keeps(&deck);
        let used = plan.boards.iter().filter(|board| board.stock == 0).count();
        let left = plan.left_over.iter().map(|left| left.count).sum::<u32>();
        let what = format!("bundles of {bundle}, or one for {single}");
        assert_eq!(plan.totals.cost.cents(), cost, "{what}");
        assert_eq!((used, left), bought, "{what}");
    }
    // Of seven boards only two bundles of three can be had.
    deck.stock.truncate(1);
    deck.stock[0].bundle = 3;
    deck.stock[0].available = Some(5);
    let none = lastcourse::plan::plan(&deck, &PlanOptions::default(), &Unwatched);
    assert!(none.is_err(), "{none:?}");
    deck.stock[0].available = Some(7);
    assert_eq!(keeps(&deck).totals.cost.cents(), 6_000);
}

#[test]
fn a_deck_that_lays_no_course_may_want_other_pieces() {
    let mut job = deck(1, 6, Length::from_inches(16));
    job.deck.across = job.board.face - Length::from_inches(1);
    job.courses.finish = lastcourse::job::Finish::LeaveOut;
    job.extras = vec![Extra {
        label: "bench".into(),
        length: Length::from_inches(30),
        count: 5,
    }];
    let plan = keeps(&job);
    assert_eq!((plan.courses.len(), plan.boards.len()), (0, 3));
}

#[test]
fn a_deck_that_lays_no_course_needs_no_board() {
    let mut job = deck(1, 6, Length::from_inches(16));
    job.deck.across = job.board.face - Length::from_inches(1);
    job.courses.finish = lastcourse::job::Finish::LeaveOut;
    let plan = plan(&job, &PlanOptions::default(), &Unwatched).expect("an empty plan");
    assert_eq!(plan.courses.len(), 0);
    assert_eq!(plan.totals.cost, Money::ZERO);
    assert!(plan.totals.proven);
    assert_eq!(verify::plan(&job, &plan), Vec::new());
}
