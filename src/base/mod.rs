//! What a deck stands on: where supports are, under its beams or under its
//! joists, and the part of the deck that each of them carries. It knows plan
//! geometry and areas; loads are multiplied out here and no more, so that whether
//! a support, a footing or the ground may carry them is left to those who may say
//! so. What is bought is left to [`crate::order`].
//!
//! Supports are a grid: every row has the same places along it.

mod grid;

use crate::frame::{Border, Skeleton};
use crate::job::base::{BaseRules, Footing, Gravel, Outline};
use crate::job::{Edge, Job};
use crate::length::Length;
use crate::load::{Force, Pressure};
use crate::volume::Volume;

/// What the supports stand under.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Under {
    /// Rows along the beams.
    Beams,
    /// Rows along joists, of which so many have none of their own.
    Joists {
        /// Joists between two rows.
        between: u64,
    },
}

/// The supports of a deck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Base {
    /// What they stand under.
    pub under: Under,
    /// Their centres along, from the frame's left side.
    pub along: Vec<Length>,
    /// Their centres across, from the frame's first edge.
    pub across: Vec<Length>,
    /// What each carries along, in halves of units.
    shares_along: Vec<i64>,
    /// What each carries across, in halves of units.
    shares_across: Vec<i64>,
}

/// Lays out the supports of a job's base under its joists (centres along) and,
/// where the frame has them, its beams.
pub fn lay(job: &Job, rules: &BaseRules, joists: &[Length], frame: Option<&Skeleton>) -> Base {
    let (length, width) = (job.deck.along, job.deck.across);
    let carried = frame.map_or([false; 2], |frame| {
        frame.edges.map(|edge| edge == Border::Ledger)
    });
    let beams = frame.map_or(&[][..], |frame| &frame.beams);
    let spread =
        |length, carried| grid::spread(length, rules.inset, rules.support.spacing, carried);
    let (under, along, across) = match beams {
        [] => {
            let rows = grid::rows(joists, rules.row_spacing);
            let between = (joists.len() - rows.len()) as u64;
            (Under::Joists { between }, rows, spread(width, carried))
        }
        beams => (Under::Beams, under_beams(job, rules), beams.to_vec()),
    };
    Base {
        under,
        shares_along: grid::shares(&along, length, [false; 2]),
        shares_across: grid::shares(&across, width, carried),
        along,
        across,
    }
}

/// The centres along of the supports under each beam of a job's frame.
pub fn under_beams(job: &Job, rules: &BaseRules) -> Vec<Length> {
    let spacing = rules.support.spacing;
    grid::spread(job.deck.along, rules.inset, spacing, [false; 2])
}

impl Base {
    /// How many supports there are.
    pub fn count(&self) -> u64 {
        (self.along.len() * self.across.len()) as u64
    }

    /// How many rows they stand in, and how many stand in each.
    pub fn rows(&self) -> [u64; 2] {
        let (along, across) = (self.along.len() as u64, self.across.len() as u64);
        match self.under {
            Under::Beams => [across, along],
            Under::Joists { .. } => [along, across],
        }
    }

    /// The area that each carries, in quarters of square units: row by row across,
    /// and along in each.
    pub fn areas(&self) -> impl Iterator<Item = i128> + '_ {
        self.shares_across.iter().flat_map(move |&across| {
            let along = self.shares_along.iter();
            along.map(move |&along| i128::from(along) * i128::from(across))
        })
    }

    /// The support that carries most, the first of them: where it stands along and
    /// across, and the area in quarters of square units.
    pub fn heaviest(&self) -> Option<(Length, Length, i128)> {
        let most = |shares: &[i64]| {
            let most = shares.iter().copied().max()?;
            let place = shares.iter().position(|share| *share == most)?;
            Some((place, most))
        };
        let ((x, along), (y, across)) = (most(&self.shares_along)?, most(&self.shares_across)?);
        let area = i128::from(along) * i128::from(across);
        Some((self.along[x], self.across[y], area))
    }

    /// What the heaviest support carries under a load.
    pub fn heaviest_load(&self, load: Pressure) -> Option<Force> {
        let (_, _, area) = self.heaviest()?;
        Some(load.on(area))
    }

    /// How wide the heaviest support has to be on the ground: the diameter where
    /// footings are round, else the side of a square. Nothing where the job does not
    /// say what the deck carries or what the ground bears.
    pub fn on_the_ground(&self, rules: &BaseRules) -> Option<Length> {
        let (load, soil) = rules.load.zip(rules.soil)?;
        let (_, _, area) = self.heaviest()?;
        let outline = rules.footing.as_ref().map(|footing| footing.outline);
        let round = matches!(outline, Some(Outline::Round(_)));
        Some(footing_side(soil.bears(load, area)?, round))
    }

    /// The greatest distance between neighbouring rows; nothing where there is one.
    pub fn widest_row(&self) -> Option<Length> {
        let places = match self.under {
            Under::Beams => &self.across,
            Under::Joists { .. } => &self.along,
        };
        places.windows(2).map(|pair| pair[1] - pair[0]).max()
    }
}

/// What stone there is once it is compacted, and how much loose stone gives it.
pub fn stone(job: &Job, gravel: &Gravel) -> [Volume; 2] {
    let [along, across] = ground(job, gravel.beyond);
    let area = i128::from(along.units()) * i128::from(across.units());
    let compacted = Volume::of(area, gravel.depth);
    [compacted, compacted.and(gravel.compaction.0)]
}

/// Just less and just more than pi, in hundred-millionths.
const PI: [i128; 2] = [314_159_265, 314_159_266];

/// The side of a square footing, or the diameter of a round one, whose area is so
/// many quarters of square units at least.
pub fn footing_side(quarters: i128, round: bool) -> Length {
    // A side of n units has 4 n² quarters, a diameter of d has pi d².
    let square = match round {
        false => quarters,
        true => (quarters * 100_000_000 + PI[0] - 1) / PI[0],
    };
    let root = square.isqrt();
    let root = root + i128::from(root * root < square);
    let side = if round { root } else { (root + 1) / 2 };
    Length::from_units(i64::try_from(side).unwrap_or(i64::MAX))
}

/// The concrete of a footing, that of a round one rounded up.
pub fn concrete(footing: &Footing) -> Volume {
    let square = |side: Length| i128::from(side.units()) * i128::from(side.units());
    let area = match footing.outline {
        Outline::Square(side) => square(side),
        Outline::Round(diameter) => (square(diameter) * PI[1]).div_euclid(400_000_000) + 1,
    };
    Volume::of(area, footing.depth)
}

/// The ground that stone or fabric covers: along and across, the frame's size
/// and what it reaches past it at open edges.
pub fn ground(job: &Job, beyond: Length) -> [Length; 2] {
    let past = |edge: &Edge| match edge {
        Edge::Open { .. } => beyond,
        Edge::Wall { .. } => Length::ZERO,
    };
    let edges = &job.edges;
    [
        job.deck.along + past(&edges.left) + past(&edges.right),
        job.deck.across + past(&edges.first) + past(&edges.last),
    ]
}
