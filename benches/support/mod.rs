//! The decks that are measured: invented, with what a yard commonly has.

#![allow(dead_code, reason = "each bench takes its own part")]

pub mod classes;
pub mod clock;
pub mod decks;
pub mod draw;

use lastcourse::job::{Edge, Fastener, Job, Span, Stock};
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;

/// Boards by feet and cents: not quite by the foot, as in any yard.
const BOARDS: [(i64, i64); 6] = [
    (8, 2080),
    (10, 2640),
    (12, 3120),
    (14, 3710),
    (16, 4150),
    (20, 5500),
];

/// A deck of so much along and across the boards, for boards of so many feet.
pub fn deck(along: Length, across: Length, boards: &[i64]) -> Job {
    let face = Length::from_64ths(352);
    let mut job = Job::rectangle(Unit::Inch, along, across, face, Length::from_64ths(12));
    job.stock = BOARDS
        .iter()
        .filter(|(feet, _)| boards.contains(feet))
        .map(|&(feet, cents)| Stock::bought(Length::from_feet(feet), Money::from_cents(cents)))
        .collect();
    job
}

/// A deck of whole feet for three lengths of boards.
pub fn feet(along: i64, across: i64) -> Job {
    let (along, across) = (Length::from_feet(along), Length::from_feet(across));
    deck(along, across, &[12, 16, 20])
}

/// 34 ft 3 in by 20 ft, for five lengths of boards.
pub fn odd() -> Job {
    let along = Length::from_inches(34 * 12 + 3);
    deck(along, Length::from_feet(20), &[8, 10, 12, 16, 20])
}

/// A deck with three fasteners and much that may be moved.
pub fn movable() -> Job {
    let inches = Length::from_inches;
    let along = inches(22 * 12 + 4);
    let mut job = deck(along, inches(13 * 12 + 2), &[12, 16, 20]);
    job.deck.tolerance = Length::from_64ths(8);
    job.board.face_tolerance = Length::from_64ths(2);
    job.edges.last = Edge::Open {
        fascia: Length::from_64ths(36),
        overhang: Span {
            set: inches(1),
            least: Length::from_64ths(32),
            most: Length::from_64ths(96),
        },
        allowance: Length::ZERO,
    };
    job.edges.first = job.edges.last.clone();
    job.edges.left = Edge::open(inches(1));
    job.edges.right = Edge::open(inches(1));
    let fastener = |name: &str, gap: i64, uncertainty: i64| Fastener {
        uncertainty: Length::from_64ths(uncertainty),
        ..Fastener::leaving(name, Length::from_64ths(gap))
    };
    job.fasteners = vec![
        fastener("slim clip", 12, 2),
        fastener("wide clip", 16, 2),
        fastener("screws", 12, 0),
    ];
    job.fasteners[2].gap = Span {
        set: Length::from_64ths(12),
        least: Length::from_64ths(8),
        most: Length::from_64ths(16),
    };
    job
}
