//! The fascia worked by hand: lengths at corners, splices, returns, what is
//! ordered for it, and what cannot be.

use crate::common::{inches, job, lay, pack, stock};
use crate::{HERON_YARD, at, ordered};
use lastcourse::deck::supports;
use lastcourse::frame::{Face, fascia};
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::order::{Group, Needed, Order, OrderError, order};
use lastcourse::verify;
use lastcourse::watch::Unwatched;
use proptest::prelude::*;

/// An edge with a fascia of 3/4 in under an overhang of 1 in.
fn dressed() -> Edge {
    Edge::Open {
        fascia: at("3/4in"),
        overhang: Span::fixed(inches(1)),
        allowance: Length::ZERO,
    }
}

/// Boards of 20 ft at $50.00, mitred corners, splices on joists, no hardware.
fn plain(sides: &[Side]) -> FasciaRules {
    FasciaRules {
        name: "fascia board".to_owned(),
        height: None,
        sides: sides.to_vec(),
        corners: Corners::Mitred,
        runs_past: RunsPast::Along,
        returns: None,
        splices: Splices::OnJoists,
        scarf: Length::ZERO,
        stock: vec![stock(20, 5000)],
        screws: None,
        plug: None,
        packers: None,
        adhesive: None,
        kerf: at("1/8in"),
        end_trim: Length::ZERO,
    }
}

/// A frame with a fascia all around.
fn around(along: &str, across: &str) -> Job {
    let mut job = job(at(along), at(across));
    job.edges = Edges {
        first: dressed(),
        last: dressed(),
        left: dressed(),
        right: dressed(),
    };
    job.fascia = Some(plain(&Side::ALL));
    job
}

fn rules(job: &mut Job) -> &mut FasciaRules {
    job.fascia.as_mut().expect("a fascia")
}

fn faces(job: &Job) -> Vec<Face> {
    ordered(job).fascia.expect("a fascia").faces
}

/// Each side's pieces, returns in brackets.
fn pieces(faces: &[Face]) -> Vec<String> {
    let piece = |strip: &lastcourse::frame::Strip| {
        let length = strip.length.show(Unit::Inch);
        match strip.turns {
            true => format!("({length})"),
            false => length,
        }
    };
    let of = |face: &Face| {
        let pieces: Vec<String> = face.pieces.iter().map(piece).collect();
        format!("{} {}", face.side.name(), pieces.join(" + "))
    };
    faces.iter().map(of).collect()
}

#[test]
fn a_mitre_reaches_the_outside_of_the_other_fascia() {
    // 18 ft by 13 ft, 3/4 in all around: each is the frame and twice 3/4 in.
    let job = around("18ft", "13ft");
    let expected = [
        "first 18 ft 1-1/2 in",
        "last 18 ft 1-1/2 in",
        "left 13 ft 1-1/2 in",
        "right 13 ft 1-1/2 in",
    ];
    assert_eq!(pieces(&faces(&job)), expected);
}

#[test]
fn a_butted_corner_lengthens_one_of_the_two() {
    let mut job = around("18ft", "13ft");
    rules(&mut job).corners = Corners::Butted;
    let past_the_sides = [
        "first 18 ft 1-1/2 in",
        "last 18 ft 1-1/2 in",
        "left 13 ft",
        "right 13 ft",
    ];
    assert_eq!(pieces(&faces(&job)), past_the_sides);
    rules(&mut job).runs_past = RunsPast::Across;
    let sides_past = [
        "first 18 ft",
        "last 18 ft",
        "left 13 ft 1-1/2 in",
        "right 13 ft 1-1/2 in",
    ];
    assert_eq!(pieces(&faces(&job)), sides_past);
}

#[test]
fn nothing_is_added_at_a_wall_or_beside_a_bare_edge() {
    // At the wall the fascia ends where the frame does; the right edge is open
    // and has none, so nothing turns that corner.
    let mut job = around("18ft", "13ft");
    job.edges.first = Edge::wall(at("1/4in"));
    job.edges.right = Edge::open(inches(1));
    rules(&mut job).sides = vec![Side::Last, Side::Left];
    let expected = ["last 18 ft 0-3/4 in", "left 13 ft 0-3/4 in"];
    assert_eq!(pieces(&faces(&job)), expected);
    // A neighbour of other boards, 1 in thick, makes a corner all the same.
    job.edges.left = Edge::Open {
        fascia: inches(1),
        overhang: Span::fixed(inches(1)),
        allowance: Length::ZERO,
    };
    rules(&mut job).sides = vec![Side::Last];
    assert_eq!(pieces(&faces(&job)), ["last 18 ft 1 in"]);
}

/// 31 ft 6 in along at a wall, with joists at 3/4, 16, 32, ..., 368 and 377-1/4 in.
fn long() -> Job {
    let mut job = around("31ft 6in", "12ft");
    job.edges.first = Edge::wall(at("1/4in"));
    rules(&mut job).sides = vec![Side::Last];
    job
}

#[test]
fn a_fascia_longer_than_any_board_is_spliced_on_a_joist() {
    // 378 in and twice 3/4: 379-1/2 in, two boards of 240. The first piece ends
    // on a joist, 3/4 in further from its long point: of the joists at 144 (its
    // rest is 234-3/4) to 224 in, the one at 192 makes the longer piece
    // shortest, 192-3/4, and 186-3/4 are left; at 176 it would be 202-3/4.
    let job = long();
    let [face] = &faces(&job)[..] else {
        panic!("one side");
    };
    assert_eq!(face.length, at("379-1/2in"));
    assert_eq!(face.splices, [inches(192)]);
    let expected = ["last 16 ft 0-3/4 in + 15 ft 6-3/4 in"];
    assert_eq!(pieces(std::slice::from_ref(face)), expected);
}

#[test]
fn of_ways_with_as_few_pieces_the_cheapest_is_taken() {
    // Boards of 19 ft at $40 and of 14 ft at $20. The evenest halves, 192-3/4
    // and 186-3/4 in, take two of 19 ft, $80. With the first piece as long as
    // a board of 228 in allows, that ends at 224 in: 224-3/4, and the rest of
    // 154-3/4 comes from a board of 168: $60.
    let mut job = long();
    rules(&mut job).stock = vec![stock(19, 4000), stock(14, 2000)];
    let found = ordered(&job).fascia.expect("a fascia");
    let expected = ["last 18 ft 8-3/4 in + 12 ft 10-3/4 in"];
    assert_eq!(pieces(&found.faces), expected);
    assert_eq!(found.plan.cost, Money::from_cents(6000));
    assert!(found.plan.proven);
}

#[test]
fn packers_leave_a_gap_for_water() {
    // Common practice, no source: fascia is held off the frame so that water drains
    // behind it. 18 ft by 13 ft, 3/4 in boards on packers of 1/4 in all around: each
    // corner reaches an inch, so 18 ft 2 in and 13 ft 2 in.
    let mut job = around("18ft", "13ft");
    let packers = Packers {
        thickness: at("1/4in"),
        spaced: Spaced {
            goods: Goods {
                name: "packer".to_owned(),
                pack: pack(50, 600),
                spare: Percent(0),
            },
            spacing: at("16in"),
            at_each: 2,
        },
    };
    rules(&mut job).packers = Some(packers);
    let found = pieces(&faces(&job));
    assert_eq!(
        found,
        [
            "first 18 ft 2 in",
            "last 18 ft 2 in",
            "left 13 ft 2 in",
            "right 13 ft 2 in"
        ]
    );
    // 218 in at 16: 14 spaces, 15 places; 158 in: 10 spaces, 11 places; two at each:
    // 2 x 2 x (15 + 11) = 104, three packs of 50 at $6.00.
    let order = ordered(&job);
    let packers = crate::line(&order, "packer");
    assert_eq!((packers.needed, packers.count), (Needed::Count(104), 3));
    assert_eq!(packers.price, Some(Money::from_cents(1_800)));
    // A side that is not dressed has none behind it: 3/4 in are left there.
    rules(&mut job).sides = vec![Side::First, Side::Last];
    let found = pieces(&faces(&job));
    assert_eq!(found, ["first 18 ft 1-1/2 in", "last 18 ft 1-1/2 in"]);
}

#[test]
fn a_sill_of_even_lengths() {
    // Estimating in Building Construction, example 13-3: a sill around 50 ft by 23 ft
    // 1 in, 146.166 ft, from ten of 10 ft and four of 12 ft, 148 ft. Here it is the
    // fascia of that outline, butted, spliced anywhere, at a dollar a foot: 148
    // dollars, the least there is.
    let mut job = around("49ft 11-31/32in", "23ft 1in");
    for side in Side::ALL {
        *job.edges.at_mut(side) = Edge::Open {
            fascia: at("1/64in"),
            overhang: Span::fixed(inches(1)),
            allowance: Length::ZERO,
        };
    }
    let lumber = rules(&mut job);
    lumber.corners = Corners::Butted;
    lumber.splices = Splices::Anywhere;
    lumber.kerf = Length::ZERO;
    lumber.stock = vec![stock(10, 1_000), stock(12, 1_200)];
    let order = ordered(&job);
    let cut = order.fascia.as_ref().expect("a fascia");
    let lengths: Vec<Length> = cut.faces.iter().map(|face| face.length).collect();
    assert_eq!(lengths, ["50ft", "50ft", "23ft 1in", "23ft 1in"].map(at));
    assert_eq!(cut.plan.cost, Money::from_cents(14_800));
    assert_eq!([0, 1].map(|stock| cut.plan.bought(stock)), [10, 4]);
    // 148 ft of 2x6 are 148 board feet: see the sizes of lumber.
}

#[test]
fn where_the_long_boards_run_out_shorter_ones_serve() {
    // One board of 20 ft and as many of 12 ft as are wanted: two pieces cannot be
    // had (one would come from a 12 ft board, and the other be 235-1/2 in or
    // more, and end on no joist), three can. Each as long as 12 ft allow: to the joist
    // at 128 in 128-3/4, to 272 in 144, and 106-3/4 are left. The board of 20 ft
    // gives the first and the last, 235-1/2 in and a cut, for $50, one of 12 ft
    // the other for $30; pieces as even as can be would take three of 12 ft, $90.
    let mut job = long();
    let one = Stock {
        item: None,
        available: Some(1),
        ..stock(20, 5000)
    };
    rules(&mut job).stock = vec![one, stock(12, 3000)];
    let found = ordered(&job).fascia.expect("a fascia");
    let expected = ["last 10 ft 8-3/4 in + 12 ft + 8 ft 10-3/4 in"];
    assert_eq!(pieces(&found.faces), expected);
    assert_eq!(found.plan.cost, Money::from_cents(8000));
}

#[test]
fn anywhere_the_pieces_are_even() {
    // 379-1/2 in two: 189-3/4 each.
    let mut job = long();
    rules(&mut job).splices = Splices::Anywhere;
    let expected = ["last 15 ft 9-3/4 in + 15 ft 9-3/4 in"];
    assert_eq!(pieces(&faces(&job)), expected);
    // On the left and right sides a joist lies behind all of it: 25 ft and 3/4
    // (the other end is at the wall) are 300-3/4 in, half of it 150-3/8.
    let mut job = around("18ft", "25ft");
    job.edges.first = Edge::wall(at("1/4in"));
    rules(&mut job).sides = vec![Side::Left];
    let expected = ["left 12 ft 6-3/8 in + 12 ft 6-3/8 in"];
    assert_eq!(pieces(&faces(&job)), expected);
}

#[test]
fn a_scarf_lies_over_the_next_piece() {
    // As above, and 3/4 in more on the piece before the splice; the halves are
    // of 379-1/2 + 3/4 = 380-1/4: 190-1/8, and 189-3/8 of it before the splice.
    let mut job = long();
    rules(&mut job).scarf = at("3/4in");
    rules(&mut job).splices = Splices::Anywhere;
    let found = faces(&job);
    let expected = ["last 15 ft 10-1/8 in + 15 ft 10-1/8 in"];
    assert_eq!(pieces(&found), expected);
    // Counted from the frame's side, not from the long point.
    assert_eq!(found[0].splices, [at("189-3/8in") - at("3/4in")]);
}

#[test]
fn short_returns_turn_the_corners() {
    // All around, returns of 12 in on the left and right sides: 13 ft 1-1/2 in
    // less twice 12 in are 133-1/2 in. The others run past and have none.
    let mut job = around("18ft", "13ft");
    rules(&mut job).returns = Some(inches(12));
    let expected = [
        "first 18 ft 1-1/2 in",
        "last 18 ft 1-1/2 in",
        "left (12 in) + 11 ft 1-1/2 in + (12 in)",
        "right (12 in) + 11 ft 1-1/2 in + (12 in)",
    ];
    assert_eq!(pieces(&faces(&job)), expected);
    // The other way round they end on joists: from the left on the first one that is
    // 11-1/4 in or more from the frame's side, at 16 in, so 16-3/4 in; from
    // the right on the last at most 204-3/4, at 192, so 217-1/2 - 192-3/4 =
    // 24-3/4. Between them 176 in.
    rules(&mut job).runs_past = RunsPast::Across;
    let expected = [
        "first (16-3/4 in) + 14 ft 8 in + (24-3/4 in)",
        "last (16-3/4 in) + 14 ft 8 in + (24-3/4 in)",
        "left 13 ft 1-1/2 in",
        "right 13 ft 1-1/2 in",
    ];
    assert_eq!(pieces(&faces(&job)), expected);
    // A side with hardly anything between its returns is made of one piece: of
    // 2 ft 6 in and 1-1/2 only 7-1/2 in would be.
    let mut job = around("18ft", "2ft 6in");
    rules(&mut job).returns = Some(inches(12));
    assert_eq!(pieces(&faces(&job))[2], "left 31-1/2 in");
}

#[test]
fn what_the_heron_yard_deck_takes() {
    let job = lastcourse::job::read(HERON_YARD, "heron-yard-deck.toml", &[])
        .expect("a job")
        .job;
    let order = ordered(&job);
    let found = order.fascia.as_ref().expect("a fascia");
    // 31 ft 6 in and twice 3/4 in along, 18 ft and 3/4 in from the wall. The
    // halves of the front are worked above; boards of 12, 16 and 20 ft.
    let expected = [
        "last 16 ft 0-3/4 in + 15 ft 6-3/4 in",
        "left 18 ft 0-3/4 in",
        "right 18 ft 0-3/4 in",
    ];
    assert_eq!(pieces(&found.faces), expected);
    // 192-3/4 in is more than 16 ft, so three boards of 20 ft and one of 16:
    // 3 x 53.10 + 41.90 = 201.20.
    let lines: Vec<_> = (order.lines.iter())
        .filter(|line| line.group == Group::Fascia)
        .map(|line| (line.item.as_str(), line.needed, line.count, line.price))
        .collect();
    let cents = |cents| Some(Money::from_cents(cents));
    let count = Needed::Count;
    let expected = [
        ("20 ft × 9-1/4 in fascia board", count(3), 3, cents(15930)),
        ("16 ft × 9-1/4 in fascia board", count(1), 1, cents(4190)),
        // At 16 in: 192-3/4 in has 13 spaces and 14 places, 186-3/4 in 12 and
        // 13, each 216-3/4 in 14 and 15: 57 places of two, 114. With 5 % 120, two
        // packs of 100.
        ("fascia screw", count(114), 2, cents(5960)),
        ("fascia plug", count(114), 2, cents(3680)),
        // 379-1/2 and twice 216-3/4 in are 813 in, 67 ft 9 in; at 24 ft a tube 3.
        (
            "fascia adhesive",
            Needed::Length(at("67ft 9in")),
            3,
            cents(2295),
        ),
    ];
    assert_eq!(lines, expected);
    assert!(
        order
            .not_counted
            .iter()
            .all(|what| !what.contains("fascia"))
    );
}

#[test]
fn what_is_left_out_is_said() {
    let said = |job: &Job| {
        let order = ordered(job);
        let left_out = order.not_counted.into_iter();
        left_out
            .filter(|what| what.contains("fascia"))
            .collect::<Vec<_>>()
    };
    let mut job = around("18ft", "13ft");
    assert_eq!(said(&job), ["what holds the fascia"]);
    rules(&mut job).sides = vec![Side::Last];
    assert_eq!(said(&job), ["fascia of the first, left and right edges"]);
    rules(&mut job).sides = vec![Side::First, Side::Last, Side::Left];
    assert_eq!(said(&job), ["fascia of the right edge"]);
    job.fascia = None;
    assert_eq!(said(&job), ["fascia boards"]);
    job.edges = crate::common::job(inches(1), inches(1)).edges;
    assert_eq!(said(&job), [""; 0]);
}

#[test]
fn a_fascia_that_cannot_be_made_says_why() {
    let refused =
        |job: &Job| match order(job, &crate::common::surface_of(job), &lay(job), &Unwatched) {
            Err(OrderError::Impossible { message, help }) => format!("{message}; {help}"),
            other => panic!("an order that cannot be, not {other:?}"),
        };
    // Joists 16 in apart, boards of 1 ft.
    let mut job = long();
    rules(&mut job).stock = vec![stock(1, 300)];
    let said = refused(&job);
    assert!(said.contains("the fascia of the last edge cannot be made of boards of 12 in at most"));
    assert!(said.contains("fascia.splices = \"anywhere\""));
    // A board for half of it.
    let one = Stock {
        item: None,
        available: Some(1),
        ..stock(20, 5000)
    };
    rules(&mut job).stock = vec![one];
    assert!(refused(&job).contains("not enough boards for the fascia"));
}

#[test]
fn every_field_reaches_the_job() {
    let text = r#"
unit = "mm"
[deck]
along = 6000
across = 4000
[edge.last]
fascia = 20
[edge.left]
fascia = 20
[edge.right]
fascia = 22
[board]
face = 145
[[fastener]]
name = "clip"
gap = 5
[cutting]
kerf = 4
[fascia]
name = "larch"
height = 220
edges = ["left", "Last"]
corners = "mitered"
runs_past = "across"
return = 300
splices = "anywhere"
scarf = 21
screws = { name = "screw", spacing = 400, at_each = 2, pack = 50, pack_price = 12, spare = "5%" }
plug = { price = 0.10 }
packers = { thickness = 6, spacing = 600, at_each = 2, name = "shim", pack = 100, price = 9, spare = "10%" }
glue = { name = "glue", covers = "6m", price = 8.50 }
end_trim = 10
[[fascia.stock]]
length = 4800
price_per_metre = 5.25
on_hand = 2
available = 12
bundle = 3
[[fascia.stock]]
length = 3600
price = 19
"#;
    let checked = lastcourse::job::read(text, "job.toml", &[]).expect("a job");
    // The boards end flush with a fascia on the frame: on packers it stands out.
    let said: Vec<&str> = (checked.findings.problems.iter())
        .map(|problem| problem.message.as_str())
        .collect();
    assert_eq!(
        said,
        [
            "the fascia of the last edge stands 26 mm off the frame on its packers, and the \
             boards reach 20 mm past it",
            "the fascia of the left edge stands 26 mm off the frame on its packers, and the \
             boards reach 20 mm past it",
        ]
    );
    let mm = Length::from_mm;
    let goods = |name: &str, pack, spare| Goods {
        name: name.to_owned(),
        pack,
        spare: Percent(spare),
    };
    let expected = FasciaRules {
        name: "larch".to_owned(),
        height: Some(mm(220)),
        sides: vec![Side::Last, Side::Left],
        corners: Corners::Mitred,
        runs_past: RunsPast::Across,
        returns: Some(mm(300)),
        splices: Splices::Anywhere,
        scarf: mm(21),
        stock: vec![
            Stock {
                item: None,
                length: mm(4800),
                // 5.25 x 4.8
                price: Some(Money::from_cents(2520)),
                on_hand: 2,
                available: Some(12),
                bundle: 3,
            },
            Stock::bought(mm(3600), Money::from_cents(1900)),
        ],
        screws: Some(Spaced {
            goods: goods("screw", pack(50, 1200), 500),
            spacing: mm(400),
            at_each: 2,
        }),
        plug: Some(goods("fascia plug", pack(1, 10), 0)),
        packers: Some(Packers {
            thickness: mm(6),
            spaced: Spaced {
                goods: goods("shim", pack(100, 900), 1000),
                spacing: mm(600),
                at_each: 2,
            },
        }),
        adhesive: Some(Adhesive {
            name: "glue".to_owned(),
            covers: mm(6000),
            price: Some(Money::from_cents(850)),
        }),
        kerf: mm(4),
        end_trim: mm(10),
    };
    assert_eq!(checked.job.fascia, Some(expected));
}

/// The fewest pieces from one place to another over these places, and of the
/// ways with so few the least of the longest piece: every splice tried.
fn reference(length: Length, longest: Length, places: &[Length]) -> Option<(usize, Length)> {
    let mut ends: Vec<Length> = places
        .iter()
        .copied()
        .filter(|&p| p > Length::ZERO && p < length)
        .collect();
    ends.push(length);
    let mut best: Vec<Option<(usize, Length)>> = Vec::new();
    for (number, &end) in ends.iter().enumerate() {
        let alone = (end <= longest).then_some((1, end));
        let after = (0..number).filter_map(|before| {
            let (count, most) = best[before]?;
            let piece = end - ends[before];
            (piece <= longest).then_some((count + 1, most.max(piece)))
        });
        best.push(after.chain(alone).min());
    }
    best.pop().flatten()
}

prop_compose! {
    fn any_job()(
        along in 40i64..700,
        across in 40i64..400,
        boards in prop::collection::btree_set(4i64..21, 1..4),
        spacing in 8i64..30,
        corners in prop::bool::ANY,
        past in prop::bool::ANY,
        returns in prop::option::of(4i64..30),
        anywhere in prop::bool::ANY,
        scarf in 0i64..2,
        walls in 0usize..5,
    ) -> Job {
        let mut job = around("10ft", "10ft");
        job.deck.along = inches(along);
        job.deck.across = inches(across);
        job.joists = Joists::Spaced {
            spacing: inches(spacing),
            first: inches(spacing),
            thickness: Length::from_64ths(96),
        };
        let wall = Edge::wall(Length::ZERO);
        match walls {
            0 => job.edges.first = wall,
            1 => job.edges.last = wall,
            2 => job.edges.left = wall,
            3 => job.edges.right = wall,
            _ => {}
        }
        let sides = Side::ALL.into_iter().enumerate();
        let rules = rules(&mut job);
        rules.sides = sides.filter(|(number, _)| *number != walls).map(|(_, side)| side).collect();
        rules.corners = if corners { Corners::Mitred } else { Corners::Butted };
        rules.runs_past = if past { RunsPast::Along } else { RunsPast::Across };
        rules.returns = returns.filter(|_| corners).map(inches);
        rules.splices = if anywhere { Splices::Anywhere } else { Splices::OnJoists };
        rules.scarf = Length::from_64ths(48 * scarf);
        rules.stock = boards.iter().map(|&feet| stock(feet, feet * 270 + 400)).collect();
        rules.screws = Some(Spaced {
            goods: Goods { name: "screw".to_owned(), pack: pack(1, 10), spare: Percent(0) },
            spacing: inches(16),
            at_each: 2,
        });
        job
    }
}

/// What is ordered for a job's fascia, if it can be made.
fn bought(job: &Job) -> Option<Order> {
    match order(job, &crate::common::surface_of(job), &lay(job), &Unwatched) {
        Ok(order) => Some(order),
        Err(OrderError::Impossible { .. }) => None,
        Err(OrderError::Stopped) => panic!("nobody stops it"),
    }
}

fn screws(order: &Order) -> u64 {
    let line = order.lines.iter().find(|line| line.item == "screw");
    line.map_or(0, |line| line.count)
}

/// The length of all sides together.
fn length(order: &Order) -> Length {
    let fascia = order.fascia.as_ref().expect("a fascia");
    fascia.faces.iter().map(|face| face.length).sum()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Pieces make up their side, lie on joists where they have to, and come out
    /// of the boards; the answer is sound by the verifier of cut lists.
    #[test]
    fn pieces_make_up_their_side(job in any_job()) {
        let Some(order) = bought(&job) else { return Ok(()) };
        let rules = job.fascia.as_ref().expect("a fascia");
        let found = order.fascia.as_ref().expect("a fascia");
        prop_assert_eq!(verify::cut(&found.problem, &found.plan), vec![]);
        let supports = supports(&job).centres;
        for face in &found.faces {
            let pieces = &face.pieces;
            let sum: Length = pieces.iter().map(|piece| piece.length).sum();
            let lap = rules.scarf * (pieces.len() as i64 - 1);
            prop_assert_eq!(sum, face.length + lap);
            prop_assert_eq!(face.splices.len() + 1, pieces.len());
            if face.side.is_along() && rules.splices == Splices::OnJoists {
                prop_assert!(face.splices.iter().all(|splice| supports.contains(splice)));
            }
            // Each begins where the one before ends.
            let mut from = -face.reach;
            for (piece, splice) in pieces.iter().zip(&face.splices) {
                prop_assert_eq!(from + piece.length - rules.scarf, *splice);
                from = *splice;
            }
        }
        let cut: u64 = found.problem.pieces.iter().map(|piece| piece.count).sum();
        let laid: usize = found.faces.iter().map(|face| face.pieces.len()).sum();
        prop_assert_eq!(cut, laid as u64);
    }

    /// Without returns and scarfs: as few pieces as any way to splice has, and
    /// where they are evened the longest is as short as it is anywhere.
    #[test]
    fn no_way_to_splice_has_fewer_pieces(job in any_job(), longest in 40i64..260) {
        let longest = inches(longest);
        let rules = FasciaRules {
            returns: None,
            scarf: Length::ZERO,
            splices: Splices::OnJoists,
            ..job.fascia.clone().expect("a fascia")
        };
        let supports = supports(&job).centres;
        for even in [false, true] {
            let found = fascia(&job, &rules, &supports, longest, even).ok();
            let along = rules.sides.iter().filter(|side| side.is_along());
            for (place, side) in along.enumerate() {
                let reach: Vec<Length> = side.ends().iter().map(|&end| {
                    let runs = rules.corners == Corners::Mitred || rules.runs_past == RunsPast::Along;
                    if runs { job.edges.fascia(end) } else { Length::ZERO }
                }).collect();
                let length = job.deck.along + reach[0] + reach[1];
                let places: Vec<Length> = supports.iter().map(|&s| s + reach[0]).collect();
                let best = reference(length, longest, &places);
                let Some(found) = &found else {
                    prop_assert_eq!(best, None);
                    continue;
                };
                let face = &found[place];
                let (few, most) = best.expect("a way");
                prop_assert_eq!(face.pieces.len(), few);
                let longest_piece = face.pieces.iter().map(|piece| piece.length).max();
                if even {
                    prop_assert_eq!(longest_piece, Some(most));
                }
            }
        }
    }

    /// A longer deck never takes less fascia, nor, where nothing is spliced,
    /// fewer screws.
    #[test]
    fn more_deck_never_needs_less_fascia(
        job in any_job(),
        more_along in 0i64..60,
        more_across in 0i64..60,
    ) {
        let mut larger = job.clone();
        larger.deck.along += inches(more_along);
        larger.deck.across += inches(more_across);
        let (Some(small), Some(large)) = (bought(&job), bought(&larger)) else { return Ok(()) };
        prop_assert!(length(&large) >= length(&small));
        let pieces = |order: &Order| -> Vec<usize> {
            let fascia = order.fascia.as_ref().expect("a fascia");
            fascia.faces.iter().map(|face| face.pieces.len()).collect()
        };
        // Where the pieces lie otherwise, each splice may save a place of two.
        let spliced: u64 = pieces(&small).iter().map(|&count| count as u64 - 1).sum();
        prop_assert!(screws(&large) + 2 * spliced >= screws(&small));
    }
}
