//! What several tests need: a plain job to change, and a plan laid by the
//! simplest rule there is, so that the stages after planning can be tested
//! without the planner.

#![allow(dead_code, reason = "each test binary takes what it needs")]

use lastcourse::courses::layout;
use lastcourse::deck::{Surface, supports, surface};
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;
use lastcourse::plan::*;

/// Whole inches.
pub fn inches(count: i64) -> Length {
    Length::from_inches(count)
}

/// A plain deck: open edges without overhang, 5-1/2 in boards with 1/4 in gaps
/// on joists 16 in apart, 16 ft boards at $40.00.
pub fn job(along: Length, across: Length) -> Job {
    let open = Edge::Open {
        fascia: Length::ZERO,
        overhang: Span::fixed(Length::ZERO),
        allowance: Length::ZERO,
    };
    Job {
        title: "Test deck".to_string(),
        unit: Unit::Inch,
        currency: "$".to_string(),
        deck: Frame {
            along,
            across,
            built: false,
            tolerance: Length::ZERO,
            diagonals: None,
        },
        edges: Edges {
            first: open.clone(),
            last: open.clone(),
            left: open.clone(),
            right: open,
        },
        board: Board {
            face: Length::from_64ths(352),
            face_tolerance: Length::ZERO,
            uncertainty: Length::ZERO,
            narrowest_rip: inches(2),
            movement: None,
        },
        fasteners: vec![fastener("clip", FastenerKind::Clip)],
        stock: vec![stock(16, 4000)],
        extras: Vec::new(),
        stairs: Vec::new(),
        stair_goods: Vec::new(),
        joists: Joists::Spaced {
            spacing: inches(16),
            first: inches(16),
            thickness: Length::from_64ths(96),
        },
        courses: CourseRules::default(),
        joints: JointRules {
            stagger: inches(24),
            stagger_joists: 0,
            keep_out: Vec::new(),
            same_joist_after: 1,
            repeat: None,
            shortest_piece: Length::ZERO,
            bearing: 3,
            end_gap: Length::ZERO,
            price: Money::ZERO,
            doubled_joist_price: Money::ZERO,
        },
        cutting: Cutting {
            kerf: Length::from_64ths(8),
            end_trim: Length::ZERO,
            split_rips: false,
            rip_kerf: Length::from_64ths(8),
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

/// A fastener with a gap of 1/4 in, no packs, no price, no spares.
pub fn fastener(name: &str, kind: FastenerKind) -> Fastener {
    Fastener {
        name: name.to_string(),
        gap: Span::fixed(Length::from_64ths(16)),
        tolerance: Length::ZERO,
        uncertainty: Length::ZERO,
        kind,
        packs: Vec::new(),
        spare: Percent(0),
        trial: None,
        time: FastenerTime::default(),
        starter: None,
        plug: None,
    }
}

/// A pack of so many pieces at so many cents.
pub fn pack(pieces: u32, cents: i64) -> Pack {
    Pack {
        pieces,
        weight: None,
        price: Some(Money::from_cents(cents)),
    }
}

/// Boards of so many feet at so many cents, as many as are wanted.
pub fn stock(feet: i64, cents: i64) -> Stock {
    Stock {
        item: None,
        length: Length::from_feet(feet),
        price: Some(Money::from_cents(cents)),
        on_hand: 0,
        available: None,
        bundle: 1,
    }
}

/// The deck's surface.
pub fn surface_of(job: &Job) -> Surface {
    surface(job).expect("a deck with a surface")
}

/// Lays a job course by course: every other course has its joints one support
/// further on, and each piece is cut from a board of its own.
pub fn lay(job: &Job) -> Plan {
    let surface = surface_of(job);
    let supports = supports(job).centres;
    let layout = layout(job, &surface, 0);
    let longest = |stock: &&Stock| stock.length;
    let (stock, board) = job
        .stock
        .iter()
        .enumerate()
        .max_by_key(|(_, stock)| longest(stock))
        .expect("a job with stock");
    let mut boards: Vec<PlannedBoard> = Vec::new();
    let mut courses = Vec::new();
    for course in &layout.courses {
        let short = if course.number % 2 == 0 {
            inches(32)
        } else {
            Length::ZERO
        };
        let mut pieces = Vec::new();
        let mut from = surface.from;
        let mut reach = board.length - short;
        while from < surface.to {
            let to = if surface.to - from <= reach {
                surface.to
            } else {
                let joint = supports.iter().rev().find(|&&s| s - from <= reach);
                *joint.expect("a support within a board's length")
            };
            let id = format!("{}{}", course.number, (b'a' + pieces.len() as u8) as char);
            boards.push(PlannedBoard {
                number: boards.len() as u32 + 1,
                stock,
                length: board.length,
                price: board.price.expect("a board with a price"),
                on_hand: false,
                pieces: vec![id.clone()],
                strips: None,
                offcut: (board.length - (to - from) - job.cutting.kerf).max(Length::ZERO),
            });
            pieces.push(PlannedPiece {
                id,
                from,
                to,
                length: to - from,
                board: boards.len() as u32,
            });
            from = to;
            reach = board.length;
        }
        courses.push(PlannedCourse {
            number: course.number,
            from: course.from,
            to: course.to,
            width: course.width(),
            ripped: course.ripped,
            runs: vec![PlannedRun {
                from: surface.from,
                to: surface.to,
                pieces,
            }],
        });
    }
    plan_of(job, supports, courses, boards)
}

/// A plan of these courses and boards with its totals added up.
pub fn plan_of(
    job: &Job,
    supports: Vec<Length>,
    courses: Vec<PlannedCourse>,
    boards: Vec<PlannedBoard>,
) -> Plan {
    let pieces = || courses.iter().flat_map(|c| &c.runs).flat_map(|r| &r.pieces);
    let runs: usize = courses.iter().map(|c| c.runs.len()).sum();
    let price: Money = boards.iter().map(|board| board.price).sum();
    Plan {
        proof: None,
        joints_at_most: None,
        fastener: 0,
        gap: job.fasteners[0].gap.set,
        totals: Totals {
            boards: boards.len() as u32,
            price,
            joints: (pieces().count() - runs) as u32,
            doubled_joists: 0,
            objective: Objective::Cost,
            cost: price,
            value: price.cents(),
            bound: 0,
            proven: false,
            joints_proven: false,
            stopped: false,
            bought: boards.iter().map(|board| board.length).sum(),
            laid: pieces().map(|piece| piece.to - piece.from).sum(),
            extra: Length::ZERO,
        },
        supports,
        courses,
        extras: Vec::new(),
        left_over: Vec::new(),
        boards,
    }
}
