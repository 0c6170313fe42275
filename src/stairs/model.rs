//! Stairs as a job asks for them: nothing invalid, nothing worked out.

use crate::length::{Length, Unit};
use crate::money::Money;

/// A straight flight of stairs from the ground to the deck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stairs {
    /// What it is called; no two of a job alike.
    pub name: String,
    /// From the ground, or landing, to the deck's surface.
    pub rise: Length,
    /// Width of the steps: the length of the tread boards.
    pub width: Length,
    /// So many risers, where the job says; else as few as the limit allows.
    pub risers: Option<u32>,
    /// Run of each step, where the job says; else the treads' depth.
    pub run: Option<Length>,
    /// Boards side by side on each tread, where the job says; else as few as are deep enough.
    pub tread_boards: Option<u32>,
    /// Greatest distance of stringers on centre.
    pub stringer_spacing: Length,
    /// Thickness of a stringer.
    pub stringer_thickness: Length,
    /// The boards that stringers are cut from, as the yard sells them.
    pub timber: Vec<Timber>,
    /// In place of those: the size of the frame's lumber they are cut from, by its place among the job's.
    pub size: Option<usize>,
    /// Whether each riser is closed with a board.
    pub closed: bool,
    /// Length of a landing at the foot, if one is built.
    pub landing: Option<Length>,
    /// What the local code says.
    pub limits: Limits,
}

/// A length of board for stringers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Timber {
    /// Its length.
    pub length: Length,
    /// What one costs, if that is known.
    pub price: Option<Money>,
}

/// Limits of the local code, in place of those the program knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Limits {
    /// The highest riser.
    pub riser_most: Option<Length>,
    /// The least run of a step.
    pub tread_least: Option<Length>,
    /// The least width.
    pub width_least: Option<Length>,
}

impl Stairs {
    /// Stairs of a rise and a width, the rest as it is usually taken: stringers
    /// 1-1/2 in thick at 16 in on centre, or 38 mm at 400 mm (common practice,
    /// no source), steps left open, no landing.
    pub fn of(unit: Unit, name: &str, rise: Length, width: Length) -> Stairs {
        let (spacing, thickness) = match unit {
            Unit::Inch => (Length::from_inches(16), Length::from_64ths(96)),
            Unit::Millimetre => (Length::from_mm(400), Length::from_mm(38)),
        };
        Stairs {
            name: name.to_owned(),
            rise,
            width,
            risers: None,
            run: None,
            tread_boards: None,
            stringer_spacing: spacing,
            stringer_thickness: thickness,
            timber: Vec::new(),
            size: None,
            closed: false,
            landing: None,
            limits: Limits::default(),
        }
    }

    /// What the tread boards are called on the cut list.
    pub fn tread_label(&self) -> String {
        format!("{} tread", self.name)
    }
}
