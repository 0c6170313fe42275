//! Sizes of paper, and the scales that drawings are made to: round ones, by
//! which a rule reads them. What is drawn is left to the drawings.

use super::scene::{Paper, Rect};
use crate::length::{Length, Unit};

/// A size of paper, its longer side across.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    /// 11 by 8-1/2 in.
    Letter,
    /// 297 by 210 mm.
    A4,
}

/// Left free on every side, 1/2 in: most printers reach no further.
const MARGIN: Paper = 12_700;

impl Sheet {
    /// The size a job is printed on where nobody says: that of its unit.
    pub fn of(unit: Unit) -> Sheet {
        match unit {
            Unit::Inch => Sheet::Letter,
            Unit::Millimetre => Sheet::A4,
        }
    }

    /// The whole sheet.
    pub fn whole(self) -> Rect {
        match self {
            Sheet::Letter => Rect::new(0, 0, 279_400, 215_900),
            Sheet::A4 => Rect::new(0, 0, 297_000, 210_000),
        }
    }

    /// The sheet inside its margins.
    pub fn inner(self) -> Rect {
        self.whole().grown(-MARGIN)
    }
}

/// A scale: one of paper for so many of the deck.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(pub i64);

impl Scale {
    /// The scales of a unit, from the largest drawing down, without end: those
    /// of a rule first, then each half of the one before.
    pub fn all(unit: Unit) -> impl Iterator<Item = Scale> {
        let round: &[i64] = match unit {
            Unit::Inch => &[
                1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 240, 360, 480, 600, 1_200,
            ],
            Unit::Millimetre => &[1, 2, 5, 10, 20, 25, 50, 75, 100, 150, 200, 250, 500, 1_000],
        };
        let last = round[round.len() - 1];
        let smaller = std::iter::successors(Some(last * 2), |last| last.checked_mul(2));
        round.iter().copied().chain(smaller).map(Scale)
    }

    /// A length of the deck on paper, to the nearest thousandth of a millimetre.
    pub fn paper(self, length: Length) -> Paper {
        let per = self.0 * Length::UNITS_PER_MM / 1_000;
        (length.units() + per / 2).div_euclid(per)
    }

    /// How it is said: `1:48, 1/4 in to the foot`.
    pub fn words(self, unit: Unit) -> String {
        let to_the_foot = match (unit, self.0) {
            (Unit::Inch, 4) => "3 in",
            (Unit::Inch, 8) => "1-1/2 in",
            (Unit::Inch, 12) => "1 in",
            (Unit::Inch, 16) => "3/4 in",
            (Unit::Inch, 24) => "1/2 in",
            (Unit::Inch, 32) => "3/8 in",
            (Unit::Inch, 48) => "1/4 in",
            (Unit::Inch, 64) => "3/16 in",
            (Unit::Inch, 96) => "1/8 in",
            (Unit::Inch, 128) => "3/32 in",
            (Unit::Inch, 192) => "1/16 in",
            _ => return format!("1:{}", self.0),
        };
        format!("1:{}, {to_the_foot} to the foot", self.0)
    }
}
