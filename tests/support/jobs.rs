//! Random jobs: decks of every size and both systems of units, with every rule
//! varied hard.

use lastcourse::deck::supports;
use lastcourse::job::*;
use lastcourse::length::{Length, Unit};
use lastcourse::money::Money;

use super::draw::Draw;

/// How large a deck is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// Few courses on few supports, for the reference models.
    Tiny,
    /// A small deck, for models that scale.
    Small,
    /// 8 to 60 ft each way.
    Full,
}

/// The lengths of a system of units that the generator draws from.
struct System {
    unit: Unit,
    /// The step that sizes are drawn in, and how many make a foot or so.
    step: Length,
    per_foot: i64,
    spacings: Vec<Length>,
    faces: Vec<Length>,
    gaps: Vec<Length>,
    kerfs: Vec<Length>,
    thickness: Length,
}

fn system(draw: &mut Draw) -> System {
    let inch = |count: i64, parts: i64| Length::from_64ths(64 * count / parts);
    if draw.chance(30) {
        let mm = Length::from_mm;
        System {
            unit: Unit::Millimetre,
            step: mm(1),
            per_foot: 300,
            spacings: vec![mm(400), mm(450), mm(600), mm(300)],
            faces: vec![mm(145), mm(120), mm(90)],
            gaps: vec![mm(5), mm(6), mm(8)],
            kerfs: vec![mm(3), Length::ZERO, mm(4)],
            thickness: mm(38),
        }
    } else {
        System {
            unit: Unit::Inch,
            step: inch(1, 4),
            per_foot: 48,
            spacings: vec![inch(16, 1), inch(12, 1), inch(24, 1)],
            faces: vec![inch(11, 2), inch(7, 2), inch(29, 4)],
            gaps: vec![inch(3, 16), inch(1, 8), inch(1, 4)],
            kerfs: vec![inch(1, 8), Length::ZERO, inch(5, 32)],
            thickness: inch(3, 2),
        }
    }
}

/// A random job.
pub fn job(draw: &mut Draw, size: Size) -> Job {
    let system = system(draw);
    let foot = |count: i64| system.step * (count * system.per_foot);
    let (along_feet, most_courses, most_stock) = match size {
        Size::Tiny => ((3, 12), 5, 3),
        Size::Small => ((6, 24), 10, 4),
        Size::Full => ((8, 60), 130, 6),
    };
    let along = foot(draw.between(along_feet.0, along_feet.1))
        + system.step * draw.between(0, system.per_foot - 1);
    let face = draw.pick(&system.faces);
    let gap = draw.pick(&system.gaps);
    let courses = match size {
        Size::Full => draw.between(6, most_courses),
        _ => draw.between(1, most_courses),
    };
    // Somewhere inside the last pitch: whole, short or ripped.
    let short = match draw.below(4) {
        0 => Length::ZERO,
        1 => system.step * draw.between(0, 8),
        _ => Length::from_units(face.units() * i64::from(draw.below(1000)) / 1000),
    };
    let edges = edges(draw, &system);
    let width = (face + gap) * courses - gap - short;
    let across = width - edges.first.reach() - edges.last.reach();
    let mut stock: Vec<Stock> = Vec::new();
    for _ in 0..draw.between(1, most_stock) {
        stock.push(one_stock(draw, &system, size, along));
    }
    if draw.chance(70) {
        stock.sort_by_key(|stock| stock.length);
    }
    let finish = draw.pick(&[
        Finish::RipLast,
        Finish::RipFirst,
        Finish::Balanced,
        Finish::Shared,
        Finish::LeaveOut,
        Finish::RipLast,
    ]);
    let mut job = Job {
        title: "Random".into(),
        unit: system.unit,
        currency: "$".into(),
        deck: Frame {
            along,
            across,
            built: false,
            tolerance: Length::ZERO,
            diagonals: None,
        },
        edges,
        board: Board {
            face,
            face_tolerance: Length::ZERO,
            uncertainty: Length::ZERO,
            narrowest_rip: Length::from_inches(2),
            movement: None,
        },
        fasteners: vec![
            fastener("one", gap),
            fastener("two", draw.pick(&system.gaps)),
        ],
        stock,
        extras: Vec::new(),
        stairs: Vec::new(),
        stair_goods: Vec::new(),
        joists: joists(draw, &system, along),
        courses: CourseRules {
            finish: if courses < 2 && finish == Finish::LeaveOut {
                Finish::RipLast
            } else {
                finish
            },
            mixed: draw.chance(8).then(|| Mixed {
                fastener: 1,
                gaps: draw.below(courses as u32 + 1),
            }),
        },
        joints: joint_rules(draw, &system),
        cutting: Cutting {
            kerf: draw.pick(&system.kerfs),
            end_trim: system.step * draw.pick(&[0, 0, 0, 1, 4]),
            split_rips: draw.chance(35),
            rip_kerf: draw.pick(&system.kerfs),
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
    };
    for _ in 0..draw.pick(&[0, 0, 1, 3]) {
        edge_case(draw, &system, &mut job);
    }
    seldom(draw, &system, size, &mut job);
    job
}

/// Rules that most decks do without.
fn seldom(draw: &mut Draw, system: &System, size: Size, job: &mut Job) {
    job.joints.stagger_joists = draw.pick(&[0, 0, 0, 0, 1, 2, 3]);
    job.joints.repeat = draw.pick(&[None, None, None, None, None, Some(2), Some(3), Some(1)]);
    if draw.chance(25) {
        let centres = supports(job).centres;
        for _ in 0..draw.between(1, 2) {
            // From one joist to another, both included, or just between them.
            let (a, b) = (draw.pick(&centres), draw.pick(&centres));
            let inside = system.step * draw.between(-1, 1);
            let (from, to) = (a.min(b) + inside, a.max(b) - inside);
            if from <= to {
                job.joints.keep_out.push(Zone { from, to });
            }
        }
    }
    if draw.chance(30) {
        for stock in &mut job.stock {
            stock.bundle = draw.pick(&[1, 2, 3, 5, 4]);
        }
    }
    if draw.chance(25) {
        let most = if size == Size::Full { 12 } else { 3 };
        for label in ["tread", "hatch"]
            .into_iter()
            .take(draw.between(1, 2) as usize)
        {
            let stock = draw.pick(&job.stock).length;
            let length = match draw.below(3) {
                // Of a course's length, a part of a board, or anything.
                0 => Length::from_units(job.deck.along.units() / draw.between(1, 4)),
                1 => {
                    let room = stock - job.cutting.end_trim * 2;
                    Length::from_units(room.units() / draw.between(1, 3)) - job.cutting.kerf
                }
                _ => Length::from_units(stock.units() * draw.between(60, 1_010) / 1_000),
            };
            job.extras.push(Extra {
                label: label.into(),
                length: length.max(system.step),
                count: draw.between(1, most) as u32,
            });
        }
    }
}

/// Moves one thing to where comparisons are equal, counts run out or a rule
/// leaves nothing.
fn edge_case(draw: &mut Draw, system: &System, job: &mut Job) {
    let stock = draw.below(job.stock.len() as u32) as usize;
    match draw.below(12) {
        // A board just long enough for one piece or for two and the cut between
        // them, or a unit too short.
        0..=2 => {
            let ends = supports(job).centres;
            let place = |draw: &mut Draw| draw.pick(&ends);
            let mut length = (place(draw) - place(draw)).abs() - job.joints.end_gap;
            if draw.chance(50) {
                length += (place(draw) - place(draw)).abs() - job.joints.end_gap + job.cutting.kerf;
            }
            length += job.cutting.end_trim * 2 - Length::from_units(draw.between(0, 1));
            if length > system.step {
                job.stock[stock].length = length;
            }
        }
        3 => {
            let mut twin = job.stock[stock].clone();
            twin.available = Some(draw.below(3));
            twin.price = twin
                .price
                .map(|price| Money::from_cents((price.cents() - 1).max(0)));
            job.stock.push(twin);
        }
        4 => job.stock[stock].price = Some(Money::ZERO),
        5 => {
            job.stock[stock].on_hand = draw.pick(&[1, 2, 5_000]);
            job.stock[stock].available = draw.pick(&[None, Some(0), Some(u32::MAX)]);
        }
        6 => job.joints.end_gap = system.step * draw.between(10, 200),
        7 => job.joints.stagger = system.step * draw.between(200, 900),
        8 => job.joints.same_joist_after = draw.pick(&[4, 100, u32::MAX]),
        9 => job.cutting.end_trim = system.step * draw.between(20, 200),
        10 => job.cutting.kerf = system.step * draw.between(4, 60),
        _ => {
            let mut centres = supports(job).centres;
            while centres.len() > 1 && draw.chance(70) {
                centres.remove(draw.below(centres.len() as u32) as usize);
            }
            job.joists = Joists::Positions {
                centres,
                spacing: None,
                thickness: system.thickness,
            };
        }
    }
}

fn fastener(name: &str, gap: Length) -> Fastener {
    Fastener {
        name: name.into(),
        gap: Span::fixed(gap),
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

fn edges(draw: &mut Draw, system: &System) -> Edges {
    let mut edge = |ends: bool| {
        if draw.chance(25) {
            Edge::Wall {
                clearance: system.step * draw.between(0, 2),
            }
        } else {
            Edge::Open {
                fascia: system.step * draw.pick(&[0, 0, 3]),
                overhang: Span::fixed(system.step * draw.between(-1, 5)),
                allowance: system.step * if ends { draw.pick(&[0, 0, 2, 3]) } else { 0 },
            }
        }
    };
    Edges {
        first: edge(false),
        last: edge(false),
        left: edge(true),
        right: edge(true),
    }
}

fn one_stock(draw: &mut Draw, system: &System, size: Size, along: Length) -> Stock {
    let foot = system.step * system.per_foot;
    let length = match size {
        Size::Full => foot * draw.pick(&[12, 16, 8, 10, 14, 20, 18, 24, 6]),
        // Around the run and its parts, so that joints are needed and possible.
        _ => {
            let eighths = draw.between(2, 11);
            let near = along.units() * eighths / 8;
            let step = system.step.units() * 4;
            Length::from_units((near / step).max(1) * step)
        }
    };
    let feet = length.units() / foot.units().max(1) + 1;
    // Odd prices, sometimes cheaper by the foot in longer or in shorter boards.
    let rate = draw.between(97, 331);
    let price = feet * rate + draw.between(0, 211);
    let on_hand = if draw.chance(25) {
        draw.between(1, 4) as u32
    } else {
        0
    };
    let available = draw
        .chance(30)
        .then(|| draw.between(0, if size == Size::Full { 40 } else { 6 }) as u32);
    Stock {
        item: None,
        length,
        price: (available != Some(0) || draw.chance(50)).then(|| Money::from_cents(price)),
        on_hand,
        available,
        bundle: 1,
    }
}

fn joists(draw: &mut Draw, system: &System, along: Length) -> Joists {
    let spacing = draw.pick(&system.spacings);
    if !draw.chance(25) {
        return Joists::Spaced {
            spacing,
            first: if draw.chance(30) {
                Length::from_units(spacing.units() * draw.between(1, 8) / 8)
            } else {
                spacing
            },
            thickness: system.thickness,
        };
    }
    // Uneven bays between a third and the whole of the spacing.
    let mut centres = vec![system.thickness.half_down()];
    let end = along - system.thickness.half_up();
    loop {
        let last = *centres.last().expect("the first");
        let next = last + Length::from_units(spacing.units() * draw.between(3, 8) / 8);
        if next >= end {
            break;
        }
        centres.push(next);
    }
    if end > *centres.last().expect("the first") {
        centres.push(end);
    }
    Joists::Positions {
        centres,
        spacing: Some(spacing),
        thickness: system.thickness,
    }
}

fn joint_rules(draw: &mut Draw, system: &System) -> JointRules {
    let foot = system.step * system.per_foot;
    let stagger = match draw.below(5) {
        0 | 1 => foot * 2,
        2 => Length::ZERO,
        // Anything up to 48 in or so.
        _ => system.step * draw.between(0, 4 * system.per_foot),
    };
    JointRules {
        stagger,
        stagger_joists: 0,
        keep_out: Vec::new(),
        same_joist_after: draw.pick(&[1, 0, 1, 2, 1, 3]),
        repeat: None,
        shortest_piece: system.step * draw.pick(&[0, 0, 1, 2, 3]) * system.per_foot,
        bearing: draw.pick(&[3, 2, 1, 4, 3, 2]),
        end_gap: match draw.below(4) {
            0 | 1 => Length::ZERO,
            2 => Length::from_64ths(8),
            _ => Length::from_units(2 * draw.between(1, 20_000) + 1),
        },
        price: Money::from_cents(draw.pick(&[0, 0, 100, 37, 450])),
        doubled_joist_price: Money::from_cents(draw.pick(&[0, 0, 0, 825])),
    }
}
