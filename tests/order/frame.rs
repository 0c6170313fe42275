//! The frame's members, their lengths and their lumber, counted by hand.

use crate::common::{inches, job, lay, stock, surface_of};
use crate::{HERON_YARD, at, line, ordered};
use lastcourse::base::under_beams;
use lastcourse::frame::{Border, Part, Skeleton, frame};
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::order::{Group, Needed, Order, Trade, order};
use lastcourse::watch::Unwatched;
use lastcourse::{deck, verify};
use proptest::prelude::*;

/// Lumber of a size in these lengths, each in feet with its price in cents.
fn lumber(size: &str, depth: &str, lengths: &[(i64, i64)]) -> Lumber {
    Lumber {
        size: size.to_owned(),
        thickness: at("1-1/2in"),
        depth: at(depth),
        treated: false,
        stock: lengths
            .iter()
            .map(|&(feet, cents)| stock(feet, cents))
            .collect(),
    }
}

/// A frame of one size with single rims and nothing else.
fn plain() -> FrameRules {
    FrameRules::new(0, at("1/8in"))
}

fn framed(along: &str, across: &str) -> Job {
    let mut job = job(at(along), at(across));
    job.lumber = vec![lumber(
        "2x8",
        "7-1/4in",
        &[(12, 1645), (16, 2230), (20, 3015)],
    )];
    job.frame = Some(plain());
    job
}

fn laid_out(job: &Job, carrying: &[Length]) -> Skeleton {
    let rules = job.frame.as_ref().expect("a frame");
    let under_beams = (job.base.as_ref()).map_or(Vec::new(), |base| under_beams(job, base));
    frame(
        job,
        rules,
        &deck::supports(job).centres,
        carrying,
        &under_beams,
    )
    .expect("a frame that can be made")
}

/// Every piece as part, length and count, in the order they are listed.
fn pieces(skeleton: &Skeleton) -> Vec<(Part, String, u64)> {
    let pieces = skeleton.pieces.iter();
    pieces
        .map(|piece| (piece.part, piece.length.show(Unit::Inch), piece.count))
        .collect()
}

fn named(pieces: &[(Part, &str, u64)]) -> Vec<(Part, String, u64)> {
    let pieces = pieces.iter();
    pieces
        .map(|&(part, length, count)| (part, length.to_owned(), count))
        .collect()
}

fn spaced_at(spacing: Length) -> Joists {
    Joists::Spaced {
        spacing,
        first: spacing,
        thickness: at("1-1/2in"),
    }
}

#[test]
fn joists_between_two_rims_are_the_frame_less_both() {
    // Common practice, no source: a frame 13 ft 2 in across with rims of
    // 1-1/2 in has joists of 12 ft 11 in.
    let mut job = framed("10ft", "13ft 2in");
    assert_eq!(laid_out(&job, &[]).joist_length(), at("12ft 11in"));
    // Doubled rims take 1-1/2 in more at each end.
    job.frame.as_mut().expect("a frame").rims = 2;
    assert_eq!(laid_out(&job, &[]).joist_length(), at("12ft 8in"));
    // A ledger takes the rims' place at a wall, single in any case.
    job.edges.first = Edge::wall(Length::ZERO);
    job.frame.as_mut().expect("a frame").ledger = Some(0);
    let skeleton = laid_out(&job, &[]);
    assert_eq!(skeleton.joist_length(), at("12ft 9-1/2in"));
    assert_eq!(skeleton.edges, [Border::Ledger, Border::Rims(2)]);
}

#[test]
fn a_row_of_blocking_has_a_piece_in_every_bay() {
    // 8 ft along, joists at 3/4, 16, 32, 48, 64, 80 and 95-1/4 in: six bays.
    // Inner bays are 16 less 1-1/2 in; the outer two 15-1/4 less 1-1/2 in.
    let mut job = framed("8ft", "10ft");
    let rules = job.frame.as_mut().expect("a frame");
    rules.blocking = Some(Blocking {
        rows: 1,
        pattern: BlockingPattern::InLine,
        size: 0,
    });
    let expected = [
        (Part::Joist, "9 ft 9 in", 7),
        (Part::Rim, "8 ft", 2),
        (Part::Blocking, "13-3/4 in", 2),
        (Part::Blocking, "14-1/2 in", 4),
    ];
    assert_eq!(pieces(&laid_out(&job, &[])), named(&expected));
    // A doubled joist is centred on its support, so that a joint lies between
    // its plies: it takes 3/4 in more of the bay on either side.
    let expected = [
        (Part::Joist, "9 ft 9 in", 7),
        (Part::SecondJoist, "9 ft 9 in", 1),
        (Part::Rim, "8 ft", 2),
        (Part::Blocking, "13-3/4 in", 4),
        (Part::Blocking, "14-1/2 in", 2),
    ];
    assert_eq!(pieces(&laid_out(&job, &[at("48in")])), named(&expected));
}

#[test]
fn an_odd_first_bay_and_end_joists_pulled_in() {
    // By hand: 10 ft along, joists at 16 in from a first one at 10 in: 3/4, 10, 26, 42,
    // 58, 74, 90, 106 and 119-1/4 in, nine; bays of 9-1/4, six of 16 and 13-1/4, each
    // less 1-1/2 in for blocking.
    let mut job = framed("10ft", "10ft");
    job.joists = Joists::Spaced {
        spacing: at("16in"),
        first: at("10in"),
        thickness: at("1-1/2in"),
    };
    let rules = job.frame.as_mut().expect("a frame");
    rules.blocking = Some(Blocking {
        rows: 2,
        pattern: BlockingPattern::InLine,
        size: 0,
    });
    let expected = [
        (Part::Joist, "9 ft 9 in", 9),
        (Part::Rim, "10 ft", 2),
        (Part::Blocking, "7-3/4 in", 2),
        (Part::Blocking, "14-1/2 in", 12),
        (Part::Blocking, "11-3/4 in", 2),
    ];
    assert_eq!(pieces(&laid_out(&job, &[])), named(&expected));
    // Common practice, no source: end joists are pulled in so that the boards' edge is
    // carried. At 2, 10 and 26 in to the last at 118 in they stand where they are put.
    let centres = [
        "2in", "10in", "26in", "42in", "58in", "74in", "90in", "106in", "118in",
    ];
    job.joists = Joists::Positions {
        centres: centres.map(at).to_vec(),
        spacing: None,
        thickness: at("1-1/2in"),
    };
    let found = pieces(&laid_out(&job, &[]));
    assert_eq!(found[0], (Part::Joist, "9 ft 9 in".to_owned(), 9));
    let blocks = |length: &str| found.contains(&(Part::Blocking, length.to_owned(), 2));
    assert!(blocks("6-1/2 in") && blocks("10-1/2 in"), "{found:?}");
}

#[test]
fn nine_pieces_of_three_feet_come_from_three_sticks_of_ten() {
    // Nine 36 in pieces: three 10 ft lengths, 12 in of each wasted, rather than
    // five of 8 ft (US Army subcourse EN0069A, Carpentry, paragraphs 4-6 and
    // 4-7). Here they are blocking in nine bays of 36 in.
    let mut job = framed("28ft 3in", "10ft");
    job.lumber
        .push(lumber("2x6", "5-1/2in", &[(8, 800), (10, 1000)]));
    job.joists = Joists::Positions {
        centres: (0..10).map(|k| at("3/4in") + at("37-1/2in") * k).collect(),
        spacing: None,
        thickness: at("1-1/2in"),
    };
    job.frame.as_mut().expect("a frame").blocking = Some(Blocking {
        rows: 1,
        pattern: BlockingPattern::InLine,
        size: 1,
    });
    // One board for each course, so that no joist is doubled.
    job.stock = vec![stock(30, 9000)];
    let order = ordered(&job);
    let sticks = line(&order, "10 ft × 2x6");
    assert_eq!((sticks.unit, sticks.count), (Trade::Stick, 3));
    assert_eq!(sticks.price, Some(Money::from_cents(3000)));
    assert!(!order.lines.iter().any(|line| line.item == "8 ft × 2x6"));
}

#[test]
fn beams_are_spread_evenly_or_stand_where_they_are_put() {
    let mut job = framed("10ft", "15ft");
    let beam = |at| {
        Some(Beam {
            size: 0,
            plies: 2,
            at,
        })
    };
    let beams = |job: &Job| -> Vec<String> {
        let beams = laid_out(job, &[]).beams.into_iter();
        beams.map(|at| at.show(Unit::Inch)).collect()
    };
    // Doubled beams are 3 in wide: the outer two are centred 1-1/2 in inside,
    // the third halfway.
    job.frame.as_mut().expect("a frame").beam = beam(BeamPlaces::Even(3));
    assert_eq!(beams(&job), ["1-1/2 in", "7 ft 6 in", "14 ft 10-1/2 in"]);
    job.frame.as_mut().expect("a frame").beam = beam(BeamPlaces::Even(1));
    assert_eq!(beams(&job), ["7 ft 6 in"]);
    // A ledger carries the first edge: two beams share 178-1/2 in.
    job.edges.first = Edge::wall(Length::ZERO);
    job.frame.as_mut().expect("a frame").ledger = Some(0);
    job.frame.as_mut().expect("a frame").beam = beam(BeamPlaces::Even(2));
    assert_eq!(beams(&job), ["7 ft 5-1/4 in", "14 ft 10-1/2 in"]);
    let centres = vec![at("6ft"), at("13ft")];
    job.frame.as_mut().expect("a frame").beam = beam(BeamPlaces::Centres(centres));
    assert_eq!(beams(&job), ["6 ft", "13 ft"]);
}

/// The Heron yard deck, 31 ft 6 in by 18 ft, with a plan laid by a plain rule:
/// 20 ft boards from -1-3/4 in reach the support at 224 in; every other course
/// starts with one 32 in shorter, which reaches 192 in.
fn heron_yard() -> Job {
    let mut job = lastcourse::job::read(HERON_YARD, "heron-yard-deck.toml", &[])
        .expect("a job")
        .job;
    job.joints.end_gap = Length::ZERO;
    job
}

#[test]
fn the_members_of_the_heron_yard_deck() {
    let skeleton = laid_out(&heron_yard(), &[at("192in"), at("224in")]);
    // Joists at 3/4 in, at 16, 32, ... 368 in (23 of them) and at 377-1/4 in:
    // 25. Across 216 in less a ledger of 1-1/2 and two rims of 1-1/2 in:
    // 211-1/2 in. Two are doubled.
    assert_eq!(skeleton.joists.len(), 25);
    // Rims are 378 in and sticks 240 at most: spliced on the joist at 240 in,
    // the second ply on the one before it, at 224. The ledger is spliced
    // halfway between the joists at 224 and 240 in.
    // Blocking, two rows: 24 bays. The first is 16 - 3/4 - 1-1/2 = 13-3/4 in,
    // the last 377-1/4 - 368 - 1-1/2 = 7-3/4 in, the four beside doubled joists
    // 16 - 3/4 - 1-1/2 = 13-3/4 in, the other 18 are 14-1/2 in.
    // Two beams of two plies: footings stand at 12 in, 8 ft 4-1/2, 15 ft 9, 23 ft
    // 1-1/2 and 30 ft 6 in. The farthest that 20 ft reach is at 15 ft 9 in, and
    // both plies are spliced there: a splice of its own would take the second
    // three pieces.
    let expected = [
        (Part::Joist, "17 ft 7-1/2 in", 25),
        (Part::SecondJoist, "17 ft 7-1/2 in", 2),
        (Part::Ledger, "19 ft 4 in", 1),
        (Part::Ledger, "12 ft 2 in", 1),
        (Part::Rim, "20 ft", 1),
        (Part::Rim, "11 ft 6 in", 1),
        (Part::Rim, "18 ft 8 in", 1),
        (Part::Rim, "12 ft 10 in", 1),
        (Part::Blocking, "13-3/4 in", 10),
        (Part::Blocking, "14-1/2 in", 36),
        (Part::Blocking, "7-3/4 in", 2),
        (Part::Beam, "15 ft 9 in", 8),
    ];
    assert_eq!(pieces(&skeleton), named(&expected));
}

#[test]
fn what_else_the_heron_yard_deck_takes() {
    let order = ordered(&heron_yard());
    let needed = |item: &str| {
        let line = line(&order, item);
        (line.needed, line.count)
    };
    let count = Needed::Count;
    // 23 single joists hang from the ledger and 2 doubled ones; each of the 25
    // crosses two beams.
    assert_eq!(needed("2x8 joist hanger"), (count(23), 1));
    assert_eq!(needed("doubled 2x8 joist hanger"), (count(2), 2));
    assert_eq!(needed("joist tie"), (count(50), 1));
    // 23 x 10 + 2 x 14 + 50 x 10 = 758 nails, and 12 + 22 at each of ten posts: 1,098,
    // with a tenth more 1,208.
    assert_eq!(needed("1-1/2 in connector nail"), (count(1_098), 2));
    // 10d nails. 27 plies of joists at the rim, and two splices of its plies: three
    // in each, 87. Two rows of 24 pieces of blocking, two ends of two: 192. Two
    // seams of rim and second joists: 378 in at 16 in are 25 places and two
    // splices, 211-1/2 in are 15 places, twice: 57 of two, 114. Two beams of 25
    // places and four splices: 54 of two, 108. 501, with a tenth more 552; 5 lb of 66
    // are 330.
    assert_eq!(needed("10d nail, 3 in"), (count(501), 2));
    // 378 in at 16 in: 24 spaces, 25 places, two screws at each.
    assert_eq!(needed("ledger screw"), (count(50), 1));
    // Flashing: 120 in, then 116 in each: 120 + 2 x 116 = 352, so a fourth.
    assert_eq!(
        needed("ledger flashing, 10 ft"),
        (Needed::Length(at("378in")), 4)
    );
    // Tape of 1-5/8 in covers one ply: 23 + 2 x 2 strips of 211-1/2 in, two of
    // 378 in over the doubled rim and one over the ledger: 6,844-1/2 in. Rolls
    // of 900 in: seven laps of 6 in make 6,886-1/2, and 8 rolls hold 7,200.
    assert_eq!(needed("joist tape"), (Needed::Length(at("6886-1/2in")), 8));
    // Two joists do not fit on an 18 ft stick and each needs more than 16 ft:
    // 27 sticks of 18 ft, unless longer ones hold something else beside.
    let cuts = &order.framing.as_ref().expect("a frame").cuts;
    // 2x8, 2x10 and 6x6; rails, guard posts and stringers of three sizes more.
    assert_eq!(cuts.len(), 6);
    for cut in cuts {
        assert!(cut.plan.proven);
        assert_eq!(verify::cut(&cut.problem, &cut.plan), []);
    }
    let sticks: Money = cuts.iter().map(|cut| cut.plan.cost).sum();
    let lines = order.lines.iter().filter(|line| line.unit == Trade::Stick);
    assert_eq!(lines.filter_map(|line| line.price).sum::<Money>(), sticks);
    let total = order.lines.iter().filter_map(|line| line.price).sum();
    assert_eq!(order.total, total);
    let left_out = order.not_counted.join("; ");
    assert!(!left_out.contains("nails"), "{left_out}");
    assert!(!left_out.contains("second joist"), "{left_out}");
    assert!(!left_out.contains("frame lumber"), "{left_out}");
}

#[test]
fn preservative_is_for_sawn_ends_of_treated_lumber() {
    // Frame 10 ft by 10 ft 3 in: 9 joists of 120 in, from 20 ft sticks two of
    // them do not fit with the saw cut between; rims of 120 in. All 11 are
    // whole 10 ft sticks: no sawn end.
    let mut job = framed("10ft", "10ft 3in");
    job.lumber[0].stock = vec![stock(10, 1000)];
    job.lumber[0].treated = true;
    job.frame.as_mut().expect("a frame").preservative = Some(Preservative {
        ends: 5,
        price: Some(Money::from_cents(900)),
    });
    job.stock = vec![stock(20, 9000)];
    let can = |order: &Order| {
        let mut lines = order.lines.iter();
        lines
            .find(|line| line.unit == Trade::Can)
            .map(|line| (line.needed, line.count))
    };
    assert_eq!(can(&ordered(&job)), None);
    // An inch less across: each of the 9 joists has one sawn end, the rims none.
    job.deck.across = at("10ft 2in");
    assert_eq!(can(&ordered(&job)), Some((Needed::Count(9), 2)));
    // 16 ft sticks hold no two; 21 ft ones hold two joists of 119 in and two
    // sawn ends of one, one of the other: 4 x 3 + 1, and 3 of the rims.
    job.lumber[0].stock = vec![stock(21, 1000)];
    assert_eq!(can(&ordered(&job)), Some((Needed::Count(4 * 3 + 1 + 3), 4)));
    // Trimmed at both ends, all ends of all 11 pieces are sawn.
    job.frame.as_mut().expect("a frame").end_trim = at("1/4in");
    assert_eq!(can(&ordered(&job)), Some((Needed::Count(22), 5)));
    job.lumber[0].treated = false;
    assert_eq!(can(&ordered(&job)), None);
}

#[test]
fn lumber_on_hand_costs_nothing_and_bundles_are_paid_whole() {
    // 7 joists of 9 ft 9 in and 2 rims of 8 ft: nine 10 ft sticks.
    let mut job = framed("8ft", "10ft");
    let mut sticks = stock(10, 1000);
    sticks.on_hand = 2;
    sticks.bundle = 4;
    job.lumber[0].stock = vec![sticks];
    let order = ordered(&job);
    // Seven to buy, in bundles of four: eight.
    let line = line(&order, "10 ft × 2x8");
    assert_eq!(
        (line.needed, line.on_hand, line.count),
        (Needed::Count(9), 2, 8)
    );
    assert_eq!(line.price, Some(Money::from_cents(8000)));
}

#[test]
fn beams_are_spliced_over_their_supports() {
    // 24 ft along with 6 in left at each end: 276 in, at most 6 ft apart are four
    // spaces of 69: supports at 6, 75, 144, 213 and 282 in.
    let spliced = |feet: i64| {
        let mut job = framed("24ft", "10ft");
        job.lumber.push(lumber("2x10", "9-1/4in", &[(feet, 3000)]));
        job.frame.as_mut().expect("a frame").beam = Some(Beam {
            size: 1,
            plies: 2,
            at: BeamPlaces::Even(1),
        });
        let rules = job.frame.as_ref().expect("a frame");
        let supports = [6, 75, 144, 213, 282].map(inches);
        let joists = deck::supports(&job).centres;
        frame(&job, rules, &joists, &[], &supports).map(|skeleton| {
            let mut pieces = pieces(&skeleton);
            pieces.retain(|(part, ..)| *part == Part::Beam);
            pieces
        })
    };
    // 18 ft reach to 213 in; the second ply is spliced elsewhere, at 144 in.
    let expected = [
        (Part::Beam, "17 ft 9 in", 1),
        (Part::Beam, "6 ft 3 in", 1),
        (Part::Beam, "12 ft", 2),
    ];
    assert_eq!(spliced(18), Ok(named(&expected)));
    // 14 ft reach to 144 in only. Anywhere else the second ply would be three
    // pieces, so both are spliced there.
    assert_eq!(spliced(14), Ok(named(&[(Part::Beam, "12 ft", 4)])));
    // 5 ft reach from no support to the next.
    let error = spliced(5).expect_err("no beam");
    assert_eq!(
        error.to_string(),
        "a beam 24 ft long cannot be made of 2x10, of which the longest is 5 ft, with splices over \
         its supports"
    );
    assert!(error.way_out().contains("`base.support.spacing`"));
}

#[test]
fn a_frame_that_cannot_be_made_says_why() {
    let refused = |job: &Job| {
        let plan = lay(job);
        let error = order(job, &surface_of(job), &plan, &Unwatched).expect_err("no order");
        error.to_string()
    };
    let mut job = framed("10ft", "22ft");
    assert_eq!(
        refused(&job),
        "a joist 21 ft 9 in long cannot be made of 2x8, of which the longest is 20 ft"
    );
    job.deck.across = at("3in");
    assert_eq!(
        refused(&job),
        "rims and ledger take all of the frame across, and leave nothing for joists"
    );
    job.deck.across = at("10ft");
    job.lumber[0].stock[0].available = Some(3);
    job.lumber[0].stock.truncate(1);
    assert_eq!(
        refused(&job),
        "there is not enough 2x8 for all pieces that are cut from it"
    );
}

#[test]
fn a_frame_that_is_not_described_is_not_counted() {
    let mut job = framed("10ft", "10ft");
    job.frame = None;
    let order = ordered(&job);
    assert!(order.framing.is_none());
    assert!(!order.lines.iter().any(|line| line.group == Group::Frame));
    let frame = "frame lumber and its connectors";
    assert!(order.not_counted.iter().any(|what| what == frame));
}

proptest! {
    #[test]
    fn more_deck_never_needs_fewer_joists_or_less_lumber(
        along in 40i64..480,
        across in 40i64..230,
        longer in 0i64..60,
        wider in 0i64..10,
        spacing in 12i64..25,
        rims in 1u32..3,
    ) {
        let count = |along, across| {
            let mut job = framed("10ft", "10ft");
            (job.deck.along, job.deck.across) = (inches(along), inches(across));
            job.joists = spaced_at(inches(spacing));
            let rules = job.frame.as_mut().expect("a frame");
            rules.rims = rims;
            rules.blocking = Some(Blocking {
                rows: 1,
                pattern: BlockingPattern::Staggered,
                size: 0,
            });
            let skeleton = laid_out(&job, &[]);
            let of = |part: Part| -> Length {
                let pieces = skeleton.pieces.iter().filter(|piece| piece.part == part);
                pieces.map(|piece| piece.length * piece.count as i64).sum()
            };
            (skeleton.joists.len(), of(Part::Joist), of(Part::Rim))
        };
        let small = count(along, across);
        let large = count(along + longer, across + wider);
        prop_assert!(small.0 <= large.0);
        prop_assert!(small.1 <= large.1);
        prop_assert!(small.2 <= large.2);
        prop_assert_eq!(small.2, inches(along) * i64::from(2 * rims));
    }

    #[test]
    fn all_lumber_is_sound_and_sums_up(
        along in 40i64..400,
        across in 40i64..230,
        spacing in 12i64..25,
        ledger in any::<bool>(),
    ) {
        let mut job = framed("10ft", "10ft");
        (job.deck.along, job.deck.across) = (inches(along), inches(across));
        job.joists = spaced_at(inches(spacing));
        if ledger {
            job.edges.first = Edge::wall(Length::ZERO);
        }
        let rules = job.frame.as_mut().expect("a frame");
        rules.ledger = ledger.then_some(0);
        rules.blocking = Some(Blocking {
            rows: 2,
            pattern: BlockingPattern::Staggered,
            size: 0,
        });
        let order = ordered(&job);
        let framing = order.framing.as_ref().expect("a frame");
        for cut in &framing.cuts {
            prop_assert_eq!(verify::cut(&cut.problem, &cut.plan), []);
        }
        let parts: Money = order.lines.iter().filter_map(|line| line.price).sum();
        prop_assert_eq!(order.total, parts);
    }
}
