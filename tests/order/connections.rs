//! Nails and screws where a frame's members meet, in the treads and sold by
//! weight, counted by hand.

use crate::common::{inches, job, pack, stock};
use crate::{answer, at, line, ordered, page};
use lastcourse::frame::Part;
use lastcourse::job::*;
use lastcourse::length::Length;
use lastcourse::load::Force;
use lastcourse::money::Money;
use lastcourse::order::{Needed, Order, Trade};
use lastcourse::stairs::Stairs;
use proptest::prelude::*;

fn goods(name: &str) -> Goods {
    Goods {
        name: name.to_owned(),
        pack: Pack::of(1, None),
        spare: Percent(0),
    }
}

/// A frame 8 ft along and 10 ft across of 2x8, one board for each course: seven
/// joists at 3/4, 16, 32, 48, 64, 80 and 95-1/4 in.
fn framed() -> Job {
    let mut job = job(at("8ft"), at("10ft"));
    job.stock = vec![stock(12, 3000)];
    job.lumber = vec![Lumber {
        size: "2x8".to_owned(),
        thickness: at("1-1/2in"),
        depth: at("7-1/4in"),
        treated: false,
        stock: vec![stock(12, 1645), stock(20, 3015)],
    }];
    job.frame = Some(FrameRules {
        blocking: Some(Blocking {
            rows: 2,
            pattern: BlockingPattern::Staggered,
            size: 0,
        }),
        ..FrameRules::new(0, at("1/8in"))
    });
    job
}

fn rules(job: &mut Job) -> &mut FrameRules {
    job.frame.as_mut().expect("a frame")
}

/// A fastener that goes nowhere yet.
fn nail(name: &str) -> FrameFastener {
    FrameFastener {
        goods: goods(name),
        joist_end: 0,
        blocking_end: 0,
        plies: None,
        beam_plies: None,
    }
}

fn plies(spacing: &str, at_each: u32) -> Option<Plies> {
    Some(Plies {
        spacing: at(spacing),
        at_each,
    })
}

/// How many are needed of the job's one kind of nail.
fn needed(job: &Job) -> u64 {
    let order = ordered(job);
    let found = order.lines.iter().find(|line| line.item == "nail");
    match found.map(|line| line.needed) {
        None => 0,
        Some(Needed::Count(count)) => count,
        Some(needed) => panic!("nails are counted: {needed:?}"),
    }
}

#[test]
fn joists_at_rims_and_blocking() {
    // Seven joists at two rims are 14 ends, three nails in each: 42. Two rows of
    // six pieces of blocking are 24 ends, two nails in each: 48.
    let mut job = framed();
    rules(&mut job).fasteners = vec![FrameFastener {
        joist_end: 3,
        ..nail("nail")
    }];
    assert_eq!(needed(&job), 42);
    rules(&mut job).fasteners[0].blocking_end = 2;
    assert_eq!(needed(&job), 42 + 48);
    // Hangers at both rims carry the joists' ends; blocking stays.
    rules(&mut job).hanger = Some(Fixing {
        goods: goods("hanger"),
        nails: 10,
    });
    assert_eq!(needed(&job), 48);
    // At a ledger they hang, at the rim opposite they are nailed: 7 ends.
    job.edges.first = Edge::wall(Length::ZERO);
    rules(&mut job).ledger = Some(0);
    assert_eq!(needed(&job), 21 + 48);
}

#[test]
fn plies_of_rims_joists_and_beams() {
    // Rims doubled: 96 in at 16 in are six spaces, seven places, two nails at
    // each: 14 for each of two rims.
    let mut job = framed();
    rules(&mut job).rims = 2;
    rules(&mut job).fasteners = vec![FrameFastener {
        plies: plies("16in", 2),
        ..nail("nail")
    }];
    assert_eq!(needed(&job), 28);
    // A beam of three plies has two seams: 96 in at 12 in are nine places.
    rules(&mut job).beam = Some(Beam {
        size: 0,
        plies: 3,
        at: BeamPlaces::Even(1),
    });
    rules(&mut job).fasteners.push(FrameFastener {
        beam_plies: plies("12in", 1),
        ..nail("screw")
    });
    let order = ordered(&job);
    assert_eq!(line(&order, "screw").needed, Needed::Count(2 * 9));
    assert_eq!(line(&order, "nail").needed, Needed::Count(28));
    // Boards of 12 ft over 16 ft have a joint in each course, so that some joists
    // are doubled: 10 ft less four rims of 1-1/2 in are 114 in, at 16 in nine
    // places, two nails at each; and three to each ply's end at either rim.
    job.deck.along = at("16ft");
    let both = FrameFastener {
        joist_end: 3,
        ..rules(&mut job).fasteners[0].clone()
    };
    rules(&mut job).fasteners = vec![both];
    let order = ordered(&job);
    let joists = &order.framing.as_ref().expect("a frame").skeleton.joists;
    let doubled = joists.iter().filter(|joist| joist.plies > 1).count() as u64;
    assert!(doubled > 0);
    let ends = 2 * (joists.len() as u64 + doubled);
    // Rims of 192 in at 16 in: 13 places.
    let places = 2 * 13 + 9 * doubled;
    let expected = Needed::Count(3 * ends + 2 * places);
    assert_eq!(line(&order, "nail").needed, expected);
}

#[test]
fn a_splice_takes_as_much_again() {
    // 30 ft of 20 ft sticks: each rim is spliced once, on a joist.
    let mut job = framed();
    job.deck.along = at("30ft");
    job.stock = vec![stock(40, 9000)];
    rules(&mut job).fasteners = vec![FrameFastener {
        joist_end: 3,
        ..nail("nail")
    }];
    let order = ordered(&job);
    let skeleton = &order.framing.as_ref().expect("a frame").skeleton;
    let rims = skeleton.pieces.iter().filter(|p| p.part == Part::Rim);
    assert_eq!(rims.map(|piece| piece.count).sum::<u64>(), 4);
    // 360 in at 16 in: joists at 3/4, 16, ... 352 and 359-1/4, 24 of them: 48
    // ends and two splices.
    assert_eq!(skeleton.joists.len(), 24);
    assert_eq!(line(&order, "nail").needed, Needed::Count(3 * 50));
    // Doubled, each of four plies is spliced: 360 in at 24 in are 16 places in
    // each rim, and four splices; two nails at each.
    rules(&mut job).rims = 2;
    rules(&mut job).fasteners = vec![FrameFastener {
        plies: plies("24in", 2),
        ..nail("nail")
    }];
    assert_eq!(needed(&job), 2 * (2 * 16 + 4));
}

#[test]
fn what_no_fastener_is_for_is_said() {
    let mut job = framed();
    let left_out = |job: &Job| ordered(job).not_counted.join("; ");
    let said = left_out(&job);
    assert!(said.contains("nails or screws of joists at rims and blocking"));
    rules(&mut job).fasteners = vec![FrameFastener {
        joist_end: 3,
        ..nail("nail")
    }];
    assert!(left_out(&job).contains("nails or screws of blocking"));
    rules(&mut job).fasteners[0].blocking_end = 2;
    assert!(!left_out(&job).contains("nails or screws"));
    rules(&mut job).rims = 2;
    rules(&mut job).beam = Some(Beam {
        size: 0,
        plies: 2,
        at: BeamPlaces::Even(1),
    });
    let all = "nails or screws of doubled rims and joists and the plies of beams";
    assert!(left_out(&job).contains(all));
}

/// Screws by the box, so many to the pound.
fn boxed(hundredths: i64, per_pound: u32, cents: i64) -> Pack {
    let each = PerWeight {
        pieces: per_pound,
        weight: Force::POUND,
    };
    let weight = Force::pounds_100(hundredths);
    Pack::weighing(weight, each, Some(Money::from_cents(cents)))
}

#[test]
fn nails_by_the_pound() {
    // 6,000 nails and a fifth more are 7,200, at 74 10d nails to the pound
    // 97.3 lb: US Army subcourse EN0069A, Carpentry, paragraph 4-9. In boxes of
    // 5 lb that is 19.46: 20 boxes; by the pound 98. Here 50 courses on 60
    // supports take two at each of 3,000 crossings.
    let mut job = job(inches(59 * 16), Length::from_64ths(50 * 352 + 49 * 16));
    job.fasteners = vec![crate::common::fastener("nail", FastenerKind::Face)];
    job.fasteners[0].spare = Percent(2000);
    job.stock = vec![stock(110, 10_000)];
    job.joists = Joists::Positions {
        centres: (0..60).map(|k| inches(k * 16)).collect(),
        spacing: None,
        thickness: Length::from_64ths(96),
    };
    let bought = |job: &Job| -> Vec<(Trade, u64)> {
        let order = ordered(job);
        let lines = order.lines.iter().filter(|line| line.item == "nail");
        lines.map(|line| (line.unit, line.count)).collect()
    };
    let by = |hundredths, pieces| Trade::Box {
        weight: Force::pounds_100(hundredths),
        pieces,
    };
    job.fasteners[0].packs = vec![boxed(500, 74, 1_850)];
    assert_eq!(needed(&job), 6_000);
    assert_eq!(bought(&job), [(by(500, 370), 20)]);
    job.fasteners[0].packs = vec![boxed(100, 74, 400)];
    assert_eq!(bought(&job), [(by(100, 74), 98)]);
    // Of both: nineteen boxes hold 7,030, and 170 more are three single pounds,
    // 363.50 together; twenty boxes are 370.00.
    job.fasteners[0].packs = vec![boxed(100, 74, 400), boxed(500, 74, 1_850)];
    assert_eq!(bought(&job), [(by(500, 370), 19), (by(100, 74), 3)]);
    // A pack by count stands beside them: seven thousand for 320.00 and three
    // pounds, 222 nails, are 332.00.
    job.fasteners[0].packs.push(pack(7_000, 32_000));
    let mixed = [(Trade::Pack(7_000), 1), (by(100, 74), 3)];
    assert_eq!(bought(&job), mixed);
}

#[test]
fn a_box_is_told_by_its_weight_and_all_there_is_in_it() {
    let mut job = framed();
    let screw = Goods {
        pack: boxed(500, 85, 3_890),
        spare: Percent(1000),
        ..goods("screw")
    };
    rules(&mut job).fasteners = vec![FrameFastener {
        goods: screw,
        joist_end: 20,
        blocking_end: 9,
        ..nail("")
    }];
    // 14 ends of 20 and 24 of 9 are 496, with a tenth more 546 (49.6 rounded up):
    // two boxes of 5 x 85 = 425.
    let order = ordered(&job);
    let screws = line(&order, "screw");
    assert_eq!((screws.needed, screws.count), (Needed::Count(496), 2));
    assert_eq!(screws.price, Some(Money::from_cents(7_780)));
    let text = page(&job, &order);
    assert!(text.contains("2  boxes of 5 lb (850 pieces)"), "{text}");
    let answer = answer(&job, &order);
    let lines = answer["lines"].as_array().expect("lines").iter();
    let told: Vec<_> = lines.filter(|line| line["item"] == "screw").collect();
    assert_eq!(told[0]["unit"], "box");
    assert_eq!(told[0]["pack"], 425);
    assert_eq!(told[0]["pack_weight"], 5.0);
}

#[test]
fn flights_held_by_the_same_screws_share_their_boxes() {
    let mut job = framed();
    job.frame = None;
    let flight = |name: &str| Stairs::of(job.unit, name, inches(30), inches(36));
    job.stairs = vec![flight("left stairs"), flight("right stairs")];
    let screw = Goods {
        pack: boxed(100, 85, 1_190),
        ..goods("tread screw")
    };
    // 30 in are four risers, three treads of two boards on four stringers: 48
    // screws in each flight, 96 in all: two boxes of 85, not one for each.
    let held = StairGoods {
        screws: Some(screw),
        ..StairGoods::default()
    };
    job.stair_goods = vec![held.clone(), held];
    let order = ordered(&job);
    let screws = line(&order, "tread screw");
    assert_eq!((screws.needed, screws.count), (Needed::Count(96), 2));
    assert_eq!(screws.price, Some(Money::from_cents(2_380)));
    // Where only one says what holds it, the other is listed as before.
    job.stair_goods.truncate(1);
    let order = ordered(&job);
    assert_eq!(line(&order, "tread screw").needed, Needed::Count(48));
    let other = line(&order, "screw through a tread's face, right stairs");
    assert_eq!((other.needed, other.price), (Needed::Count(48), None));
}

#[test]
fn nails_of_post_connectors_are_bought_with_the_others() {
    let without = crate::HERON_YARD.replace(", nails = 12 }", " }");
    let without = without.replace(", nails = 22 }", " }");
    let read = |text: &str| {
        lastcourse::job::read(text, "deck.toml", &[])
            .expect("a job")
            .job
    };
    let nails = |order: &Order| match line(order, "1-1/2 in connector nail").needed {
        Needed::Count(count) => count,
        needed => panic!("{needed:?}"),
    };
    let (before, after) = (ordered(&read(&without)), ordered(&read(crate::HERON_YARD)));
    // Ten posts.
    assert_eq!(nails(&after), nails(&before) + 10 * (12 + 22));
    let posts = |order: &Order, what: &str| order.not_counted.iter().any(|left| left == what);
    assert!(posts(&before, "nails, screws and bolts of posts"));
    assert!(posts(&after, "anchors of post bases"));
}

proptest! {
    #[test]
    fn more_frame_never_needs_fewer_fasteners(
        along in 40i64..480,
        across in 40i64..230,
        longer in 0i64..60,
        wider in 0i64..10,
        spacing in 12i64..25,
        rims in 1u32..3,
        beams in 1u32..4,
    ) {
        let count = |along, across| {
            let mut job = framed();
            (job.deck.along, job.deck.across) = (inches(along), inches(across));
            job.stock = vec![stock(60, 9000)];
            job.joists = Joists::Spaced {
                spacing: inches(spacing),
                first: inches(spacing),
                thickness: at("1-1/2in"),
            };
            let rules = rules(&mut job);
            rules.rims = rims;
            rules.beam = Some(Beam { size: 0, plies: 2, at: BeamPlaces::Even(beams) });
            rules.fasteners = vec![FrameFastener {
                joist_end: 3,
                blocking_end: 2,
                plies: plies("16in", 2),
                beam_plies: plies("24in", 2),
                ..nail("nail")
            }];
            needed(&job)
        };
        let small = count(along, across);
        prop_assert!(small > 0);
        prop_assert!(small <= count(along + longer, across));
        prop_assert!(small <= count(along, across + wider));
    }
}
