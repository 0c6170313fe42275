//! Valid plans built by hand, and every rule broken in turn.

mod boards;
mod breaks;
mod cuts;
mod deck;

use crate::job::*;
use crate::length::{Length, Unit};
use crate::money::Money;
use crate::plan::*;

/// So many 1/8 in.
fn eighths(count: i64) -> Length {
    Length::from_64ths(8 * count)
}

fn inches(count: i64) -> Length {
    Length::from_inches(count)
}

fn cents(count: i64) -> Money {
    Money::from_cents(count)
}

fn open(fascia: Length, overhang: Length, allowance: Length) -> Edge {
    Edge::Open {
        fascia,
        overhang: Span::fixed(overhang),
        allowance,
    }
}

/// A deck 16 ft along and four courses across, the last ripped to 2 in, with
/// a wall at the right, an odd end gap and every rule set.
fn job() -> Job {
    let stock = |length, price, on_hand, available| Stock {
        item: None,
        length: inches(length),
        price: Some(cents(price)),
        on_hand,
        available,
        bundle: 1,
    };
    Job {
        title: "Four courses".into(),
        unit: Unit::Inch,
        currency: "$".into(),
        deck: Frame {
            along: inches(192),
            // 19-1/4 in of surface with 1-1/2 in past each of its edges.
            across: eighths(130),
            built: false,
            tolerance: Length::ZERO,
            diagonals: None,
        },
        edges: Edges {
            first: open(eighths(4), inches(1), Length::ZERO),
            last: open(eighths(4), inches(1), Length::ZERO),
            left: open(eighths(4), eighths(4), eighths(4)),
            right: Edge::Wall {
                clearance: eighths(2),
            },
        },
        board: Board {
            face: eighths(44),
            face_tolerance: Length::ZERO,
            uncertainty: Length::ZERO,
            narrowest_rip: inches(2),
            movement: None,
        },
        fasteners: vec![fastener("clip", 2), fastener("wide clip", 4)],
        stock: vec![
            stock(108, 1137, 1, Some(3)),
            stock(144, 1499, 0, None),
            stock(192, 2203, 0, Some(1)),
        ],
        extras: Vec::new(),
        stairs: Vec::new(),
        stair_goods: Vec::new(),
        joists: Joists::Spaced {
            spacing: inches(16),
            first: inches(16),
            thickness: eighths(12),
        },
        courses: CourseRules::default(),
        joints: JointRules {
            stagger: inches(32),
            stagger_joists: 2,
            keep_out: vec![Zone {
                from: inches(100),
                to: inches(111),
            }],
            same_joist_after: 2,
            repeat: None,
            shortest_piece: inches(63),
            bearing: 5,
            end_gap: eighths(1) + Length::from_units(1),
            price: cents(150),
            doubled_joist_price: cents(405),
        },
        cutting: Cutting {
            kerf: eighths(1),
            end_trim: eighths(1),
            split_rips: true,
            rip_kerf: eighths(1),
        },
        order: OrderRules::default(),
        prices: PriceList::default(),
        alternatives: Vec::new(),
        lumber: Vec::new(),
        frame: None,
        fascia: None,
        base: None,
        codes: None,
        guards: Guards::default(),
        readings: Vec::new(),
    }
}

fn fastener(name: &str, gap: i64) -> Fastener {
    Fastener {
        name: name.into(),
        gap: Span::fixed(eighths(gap)),
        tolerance: Length::ZERO,
        uncertainty: Length::ZERO,
        kind: FastenerKind::Clip,
        packs: Vec::new(),
        spare: Percent::default(),
        trial: None,
        time: FastenerTime::default(),
        starter: None,
        plug: None,
    }
}

/// A plan of that deck: joints at 96, 64, 128 and 96 in; one board from hand,
/// one split for both pieces of the ripped course, one that holds two pieces.
fn valid() -> Plan {
    let unit = Length::from_units(1);
    // The right piece starts half an end gap past the joint, the odd unit too.
    let before = |at: i64| inches(at) - Length::from_units(12_700);
    let after = |at: i64| inches(at) + Length::from_units(12_700) + unit;
    let course = |number: u32, joint: i64, boards: [u32; 2], width: i64| {
        let from = eighths(46 * (i64::from(number) - 1));
        let piece = |letter, from, to, extra: Length, board| PlannedPiece {
            id: format!("{number}{letter}"),
            from,
            to,
            length: to - from + extra,
            board,
        };
        PlannedCourse {
            number,
            from,
            to: from + eighths(width),
            width: eighths(width),
            ripped: width < 44,
            runs: vec![PlannedRun {
                from: inches(-1),
                to: eighths(8 * 192 - 2),
                pieces: vec![
                    piece('a', inches(-1), before(joint), eighths(4), boards[0]),
                    piece(
                        'b',
                        after(joint),
                        eighths(8 * 192 - 2),
                        Length::ZERO,
                        boards[1],
                    ),
                ],
            }],
        }
    };
    let board = |number, stock, length, price: i64, pieces: &[&str], offcut| PlannedBoard {
        number,
        stock,
        length: inches(length),
        price: cents(price),
        on_hand: price == 0,
        pieces: pieces.iter().map(|id| (*id).to_string()).collect(),
        strips: None,
        offcut,
    };
    // Pieces left of a joint at j are j + 1-1/2 in less half the end gap, those
    // right of it 191-3/4 in - j less the other half.
    let left_over = |board: i64, lengths: &[Length]| {
        let used: Length = lengths.iter().map(|length| *length + eighths(1)).sum();
        inches(board) - eighths(2) - used
    };
    let a = |joint: i64| before(joint) + eighths(12);
    let b = |joint: i64| eighths(8 * 192 - 2) - after(joint);
    let mut split = board(4, 0, 108, 1137, &["4a", "4b"], left_over(108, &[b(96)]));
    split.strips = Some([vec!["4a".into()], vec!["4b".into()]]);
    Plan {
        proof: None,
        joints_at_most: None,
        fastener: 0,
        gap: eighths(2),
        supports: [eighths(6)]
            .into_iter()
            .chain((1..=11).map(|k| inches(16 * k)))
            .chain([inches(192) - eighths(6)])
            .collect(),
        courses: vec![
            course(1, 96, [1, 2], 44),
            course(2, 64, [3, 6], 44),
            course(3, 128, [5, 6], 44),
            course(4, 96, [4, 4], 16),
        ],
        extras: Vec::new(),
        left_over: Vec::new(),
        boards: vec![
            board(1, 0, 108, 0, &["1a"], left_over(108, &[a(96)])),
            board(2, 0, 108, 1137, &["1b"], left_over(108, &[b(96)])),
            board(3, 0, 108, 1137, &["2a"], left_over(108, &[a(64)])),
            split,
            board(5, 1, 144, 1499, &["3a"], left_over(144, &[a(128)])),
            board(
                6,
                2,
                192,
                2203,
                &["2b", "3b"],
                left_over(192, &[b(64), b(128)]),
            ),
        ],
        totals: Totals {
            boards: 6,
            price: cents(3 * 1137 + 1499 + 2203),
            joints: 4,
            doubled_joists: 3,
            objective: Objective::Cost,
            cost: cents(3 * 1137 + 1499 + 2203 + 4 * 150 + 3 * 405),
            value: 3 * 1137 + 1499 + 2203 + 4 * 150 + 3 * 405,
            bound: 8000,
            proven: false,
            joints_proven: false,
            stopped: false,
            bought: inches(4 * 108 + 144 + 192),
            laid: (eighths(8 * 193 - 2) - eighths(1) - unit) * 4,
            extra: Length::ZERO,
        },
    }
}
