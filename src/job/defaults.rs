//! What the trade takes for granted where a job says nothing, in the job's
//! unit, and the shortest way to a whole job in Rust. The reader fills in from
//! here, so that a job built by hand and one read from a file agree.

use super::guard::Guards;
use super::model::{
    Board, CourseRules, Cutting, Edge, Edges, Fastener, FastenerKind, FastenerTime, Frame, Job,
    JointRules, Joists, OrderRules, Percent, Span, Stock,
};
use super::prices::PriceList;
use crate::length::{Length, Unit};
use crate::money::Money;

/// The same measure as the two systems say it.
fn either(unit: Unit, inches: Length, metric: Length) -> Length {
    match unit {
        Unit::Inch => inches,
        Unit::Millimetre => metric,
    }
}

/// How exactly a dry run is read off the tape: 1/16 in or 1.5 mm over all.
pub fn trial_reading(unit: Unit) -> Length {
    either(unit, Length::from_64ths(4), Length::from_tenths_of_mm(15))
}

impl Job {
    /// A job for a rectangular frame with one fastener, the rest as the trade
    /// takes it: flush edges, customary joists, joints and saw, and no stock yet.
    ///
    /// ```
    /// use lastcourse::job::{Edge, Job, Stock};
    /// use lastcourse::length::{Length, Unit};
    /// use lastcourse::money::Money;
    ///
    /// let mut job = Job::rectangle(
    ///     Unit::Inch,
    ///     Length::from_feet(22),
    ///     Length::from_feet(13),
    ///     Length::from_64ths(352),
    ///     Length::from_64ths(12),
    /// );
    /// job.edges.first = Edge::wall(Length::from_64ths(16));
    /// job.edges.last = Edge::open(Length::from_inches(1));
    /// job.stock.push(Stock::bought(Length::from_feet(16), Money::from_cents(4150)));
    /// assert_eq!(job.joints.stagger, Length::from_inches(24));
    /// ```
    pub fn rectangle(unit: Unit, along: Length, across: Length, face: Length, gap: Length) -> Job {
        let flush = Edge::open(Length::ZERO);
        Job {
            title: "Deck".to_owned(),
            unit,
            currency: "$".to_owned(),
            deck: Frame {
                along,
                across,
                built: false,
                tolerance: Length::ZERO,
                diagonals: None,
            },
            edges: Edges {
                first: flush.clone(),
                last: flush.clone(),
                left: flush.clone(),
                right: flush,
            },
            board: Board::of(unit, face),
            fasteners: vec![Fastener::leaving("fastener", gap)],
            stock: Vec::new(),
            extras: Vec::new(),
            stairs: Vec::new(),
            stair_goods: Vec::new(),
            joists: Joists::customary(unit),
            courses: CourseRules::default(),
            joints: JointRules::customary(unit),
            cutting: Cutting::customary(unit),
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
}

impl Edge {
    /// An open edge without fascia, the surface reaching a fixed way past the frame.
    pub fn open(overhang: Length) -> Edge {
        Edge::Open {
            fascia: Length::ZERO,
            overhang: Span::fixed(overhang),
            allowance: Length::ZERO,
        }
    }

    /// An edge at a wall, the surface stopping short of it.
    pub fn wall(clearance: Length) -> Edge {
        Edge::Wall { clearance }
    }
}

impl Board {
    /// Boards of exactly this face; a rip below 2 in or 50 mm is a sliver
    /// (common practice, no source).
    pub fn of(unit: Unit, face: Length) -> Board {
        Board {
            face,
            face_tolerance: Length::ZERO,
            uncertainty: Length::ZERO,
            narrowest_rip: either(unit, Length::from_inches(2), Length::from_mm(50)),
            movement: None,
        }
    }
}

impl Fastener {
    /// A clip that leaves exactly this gap.
    pub fn leaving(name: &str, gap: Length) -> Fastener {
        Fastener {
            name: name.to_owned(),
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
}

impl Stock {
    /// Boards of one length that can be bought without limit.
    pub fn bought(length: Length, price: Money) -> Stock {
        Stock {
            item: None,
            length,
            price: Some(price),
            on_hand: 0,
            available: None,
            bundle: 1,
        }
    }
}

impl Joists {
    /// Joists 1-1/2 in thick at 16 in on centre, or 38 mm at 400 mm (common
    /// practice, no source).
    pub fn customary(unit: Unit) -> Joists {
        let (spacing, thickness) = Joists::customary_sizes(unit);
        Joists::Spaced {
            spacing,
            first: spacing,
            thickness,
        }
    }

    /// Customary spacing on centre, and thickness.
    pub(super) fn customary_sizes(unit: Unit) -> (Length, Length) {
        (
            either(unit, Length::from_inches(16), Length::from_mm(400)),
            either(unit, Length::from_64ths(96), Length::from_mm(38)),
        )
    }
}

impl JointRules {
    /// Joints of neighbouring courses 24 in or 600 mm apart, none on a
    /// neighbour's joist, three joists under a piece.
    ///
    /// Customary for deck boards; the figure is that of structural plank
    /// decking (International Building Code, 2304.9.3.3; Canadian Wood Council,
    /// plank decking).
    pub fn customary(unit: Unit) -> JointRules {
        JointRules {
            stagger: either(unit, Length::from_inches(24), Length::from_mm(600)),
            stagger_joists: 0,
            keep_out: Vec::new(),
            same_joist_after: 1,
            repeat: None,
            shortest_piece: Length::ZERO,
            bearing: 3,
            end_gap: Length::ZERO,
            price: Money::ZERO,
            doubled_joist_price: Money::ZERO,
        }
    }
}

impl Cutting {
    /// A saw that takes 1/8 in or 3 mm, whole boards for ripped courses.
    pub fn customary(unit: Unit) -> Cutting {
        let kerf = either(unit, Length::from_64ths(8), Length::from_mm(3));
        Cutting {
            kerf,
            end_trim: Length::ZERO,
            split_rips: false,
            rip_kerf: kerf,
        }
    }
}
