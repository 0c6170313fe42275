//! Plan geometry of the frame: joists where the supports are, rims or a ledger
//! along the edges they end at, blocking in the bays, beams below, the fascia
//! around it; and from that every piece with the length it is cut to. It knows sizes and places; what
//! lumber comes in and what it costs is left to [`crate::order`], and whether a
//! frame carries its load to those who may say so.

mod fascia;
mod pieces;
mod splice;

pub use fascia::{Face, Strip, TooShort, fascia};
pub use pieces::{Part, Piece};
pub use splice::splice;

use crate::job::{BeamPlaces, Edge, FrameRules, Job};
use crate::length::Length;

/// A frame laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skeleton {
    /// The joists, from the frame's left side.
    pub joists: Vec<Joist>,
    /// Where every joist starts across, from the frame's first edge.
    pub from: Length,
    /// Where every joist ends across.
    pub to: Length,
    /// What lies along the first edge, and along the last.
    pub edges: [Border; 2],
    /// The beams' centres across, from the frame's first edge.
    pub beams: Vec<Length>,
    /// Every kind of piece with its length and count.
    pub pieces: Vec<Piece>,
}

/// A joist, or two side by side on one centre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Joist {
    /// The centre along, from the frame's left side.
    pub at: Length,
    /// Sticks side by side, 1 or 2.
    pub plies: u32,
}

/// What lies along an edge where joists end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Border {
    /// So many rims side by side.
    Rims(u32),
    /// A ledger at a wall.
    Ledger,
}

/// Why a frame cannot be laid out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FrameError {
    /// Rims and ledger leave nothing for the joists.
    #[error("rims and ledger take all of the frame across, and leave nothing for joists")]
    NoJoist,
    /// A beam is longer than its lumber, and no two supports are near enough for
    /// a splice over one.
    #[error(
        "a beam {length} long cannot be made of {size}, of which the longest is {longest}, with \
         splices over its supports"
    )]
    Beam {
        /// How long, as it is printed.
        length: String,
        /// The size it is to be cut from.
        size: String,
        /// The longest of that size, as it is printed.
        longest: String,
    },
    /// A member is longer than its lumber, and has no place for a splice.
    #[error("a {part} {length} long cannot be made of {size}, of which the longest is {longest}")]
    TooLong {
        /// What it is.
        part: &'static str,
        /// How long, as it is printed.
        length: String,
        /// The size it is to be cut from.
        size: String,
        /// The longest of that size, as it is printed.
        longest: String,
    },
}

impl FrameError {
    /// What would help.
    pub fn way_out(&self) -> &'static str {
        match self {
            FrameError::NoJoist => "check the lumber's thickness and `deck.across`",
            FrameError::Beam { .. } => {
                "add a longer `[[lumber]]` of that size, or put supports nearer to each other: \
                 `base.support.spacing`"
            }
            FrameError::TooLong { .. } => {
                "add a longer `[[lumber]]` of that size, or make the frame smaller"
            }
        }
    }
}

impl Skeleton {
    /// How long every joist is.
    pub fn joist_length(&self) -> Length {
        self.to - self.from
    }

    /// How many edges have a ledger.
    pub fn ledgers(&self) -> u64 {
        let edges = self.edges.iter();
        edges.filter(|edge| **edge == Border::Ledger).count() as u64
    }

    /// Where each clear bay between two joists is, by its width.
    pub fn bays(&self, thickness: Length) -> impl Iterator<Item = Length> + '_ {
        self.joists.windows(2).map(move |pair| {
            let half = |joist: &Joist| (thickness * i64::from(joist.plies)).half_up();
            pair[1].at - pair[0].at - half(&pair[0]) - half(&pair[1])
        })
    }
}

/// Lays out a job's frame over its supports, with a second joist on each
/// support in `carrying` where the job wants one. What stands under the beams
/// (centres along) is where they may be spliced; where nothing is known of it,
/// they are spliced under a joist.
///
/// # Errors
/// When nothing is left for the joists, or a member cannot be made of its lumber.
pub fn frame(
    job: &Job,
    rules: &FrameRules,
    supports: &[Length],
    carrying: &[Length],
    under_beams: &[Length],
) -> Result<Skeleton, FrameError> {
    let border = |edge: &Edge| match (edge, rules.ledger) {
        (Edge::Wall { .. }, Some(_)) => Border::Ledger,
        _ => Border::Rims(rules.rims),
    };
    let edges = [border(&job.edges.first), border(&job.edges.last)];
    let takes = |border: &Border| match (border, rules.ledger) {
        (Border::Ledger, Some(ledger)) => job.lumber[ledger].thickness,
        (Border::Ledger, None) => Length::ZERO,
        (Border::Rims(rims), _) => job.lumber[rules.rim].thickness * i64::from(*rims),
    };
    let (from, to) = (takes(&edges[0]), job.deck.across - takes(&edges[1]));
    if to <= from {
        return Err(FrameError::NoJoist);
    }
    let joists = supports.iter().map(|&at| Joist {
        at,
        plies: 1 + u32::from(rules.double_joists && carrying.contains(&at)),
    });
    let mut skeleton = Skeleton {
        joists: joists.collect(),
        from,
        to,
        edges,
        beams: Vec::new(),
        pieces: Vec::new(),
    };
    skeleton.beams = beams(job, rules, &skeleton);
    skeleton.pieces = pieces::pieces(job, rules, &skeleton, under_beams)?;
    Ok(skeleton)
}

/// The beams' centres: as given, or even. Beams at open edges lie under the
/// frame with their outer face flush; a ledger carries its own edge.
fn beams(job: &Job, rules: &FrameRules, skeleton: &Skeleton) -> Vec<Length> {
    let Some(beam) = &rules.beam else {
        return Vec::new();
    };
    let count = match &beam.at {
        BeamPlaces::Centres(centres) => return centres.clone(),
        BeamPlaces::Even(count) => i64::from(*count),
    };
    let width = job.lumber[beam.size].thickness * i64::from(beam.plies);
    let carried = skeleton.edges.map(|edge| edge == Border::Ledger);
    let first = match carried[0] {
        true => Length::ZERO,
        false => width.half_up(),
    };
    let last = match carried[1] {
        true => job.deck.across,
        false => job.deck.across - width.half_up(),
    };
    // Places that are even, those of the ledgers among them.
    let ledgers = carried.map(i64::from);
    let spaces = count + ledgers[0] + ledgers[1] - 1;
    let places = (ledgers[0]..ledgers[0] + count).map(|k| match spaces {
        0 => Length::from_units((first + last).units() / 2),
        _ => first + Length::from_units((last - first).units() * k / spaces),
    });
    places.collect()
}
