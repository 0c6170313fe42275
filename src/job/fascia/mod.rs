//! The checked fascia of a job: which sides of the frame it dresses, how its
//! corners and splices are made, what it is cut from and what holds it. Like
//! [`super::model`] it holds what was meant, with defaults filled in; where the
//! pieces lie is left to [`crate::frame`], and what they cost to
//! [`crate::order`].

pub(super) mod tables;

use super::framing::{Goods, Spaced};
use super::model::{Edge, Edges, Stock};
use crate::length::{Length, Unit};
use crate::money::Money;

/// A side of the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Where the first course starts.
    First,
    /// Where the last course ends.
    Last,
    /// At the boards' left ends.
    Left,
    /// At the boards' right ends.
    Right,
}

impl Side {
    /// All four, in the order they are named in.
    pub const ALL: [Side; 4] = [Side::First, Side::Last, Side::Left, Side::Right];

    /// Its name in job files and answers.
    pub fn name(self) -> &'static str {
        match self {
            Side::First => "first",
            Side::Last => "last",
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    /// Whether it runs along the boards.
    pub fn is_along(self) -> bool {
        matches!(self, Side::First | Side::Last)
    }

    /// The sides it ends at: the one its length is counted from, and the other.
    pub fn ends(self) -> [Side; 2] {
        match self.is_along() {
            true => [Side::Left, Side::Right],
            false => [Side::First, Side::Last],
        }
    }
}

impl Edges {
    /// What happens at a side.
    pub fn at(&self, side: Side) -> &Edge {
        match side {
            Side::First => &self.first,
            Side::Last => &self.last,
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }

    /// What happens at a side, to be changed.
    pub fn at_mut(&mut self, side: Side) -> &mut Edge {
        match side {
            Side::First => &mut self.first,
            Side::Last => &mut self.last,
            Side::Left => &mut self.left,
            Side::Right => &mut self.right,
        }
    }

    /// How thick the fascia at a side is; 0 where there is none, as at a wall.
    pub fn fascia(&self, side: Side) -> Length {
        match self.at(side) {
            Edge::Open { fascia, .. } => *fascia,
            Edge::Wall { .. } => Length::ZERO,
        }
    }
}

/// What a fascia is made of, and how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FasciaRules {
    /// What one board of it is called.
    pub name: String,
    /// Height of the boards, if the job gives it.
    pub height: Option<Length>,
    /// The sides it dresses, in the order of [`Side::ALL`]: open ones whose
    /// fascia is more than nothing, and all of one thickness.
    pub sides: Vec<Side>,
    /// How two fascias meet.
    pub corners: Corners,
    /// The sides whose boards run past the ends of the others: first and last,
    /// or left and right.
    pub runs_past: RunsPast,
    /// Least length of the short piece with which a mitred corner is turned.
    pub returns: Option<Length>,
    /// Where a fascia longer than any board may be spliced.
    pub splices: Splices,
    /// How far one piece lies over the next at a splice; 0 where they are butted.
    pub scarf: Length,
    /// The boards it is cut from; never empty.
    pub stock: Vec<Stock>,
    /// What holds it to the frame.
    pub screws: Option<Spaced>,
    /// What closes the hole over each screw.
    pub plug: Option<Goods>,
    /// Packers that hold it off the frame, so that water drains behind it.
    pub packers: Option<Packers>,
    /// What glues it to the frame.
    pub adhesive: Option<Adhesive>,
    /// Width of a crosscut.
    pub kerf: Length,
    /// Taken off each end of a board before it is used.
    pub end_trim: Length,
}

impl FasciaRules {
    /// How far the outside of a side's fascia stands from the frame: its
    /// thickness and, where it is one of those dressed, that of its packers.
    pub fn stands_off(&self, edges: &Edges, side: Side) -> Length {
        let packers = self.packers.as_ref().filter(|_| self.sides.contains(&side));
        edges.fascia(side) + packers.map_or(Length::ZERO, |packers| packers.thickness)
    }

    /// What a board of it is called in an order behind its length.
    pub fn kind(&self, unit: Unit) -> String {
        fascia_kind(&self.name, self.height, unit)
    }
}

/// What a board of this height is called: `× 7-1/4 in fascia board`.
pub(super) fn fascia_kind(name: &str, height: Option<Length>, unit: Unit) -> String {
    match height {
        Some(height) => format!("× {} {name}", height.show(unit)),
        None => name.to_owned(),
    }
}

/// Packers behind a fascia.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packers {
    /// How far they hold it off the frame.
    pub thickness: Length,
    /// What they are and how they are spaced.
    pub spaced: Spaced,
}

/// How two fascias meet at a corner of the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Corners {
    /// Both are mitred and reach the outside of the other.
    Mitred,
    /// One reaches over the end of the other.
    Butted,
}

/// Whose boards run past the ends of the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RunsPast {
    /// Those along the boards, on the first and last sides.
    Along,
    /// Those across, on the left and right sides.
    Across,
}

/// Where a fascia may be spliced.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Splices {
    /// Along the boards on a joist's centre; on the left and right sides, where
    /// a joist lies behind the whole length, anywhere.
    OnJoists,
    /// Anywhere, where a rim lies behind the whole length.
    Anywhere,
}

/// Adhesive by the length a tube is enough for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Adhesive {
    /// What it is called.
    pub name: String,
    /// Length of fascia that a tube is enough for.
    pub covers: Length,
    /// Price of a tube, if that is known.
    pub price: Option<Money>,
}
