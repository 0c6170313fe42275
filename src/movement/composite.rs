//! Composite by its heat: how much longer or shorter a board is at another
//! temperature, the gap to leave at its ends, and a small table of it. It knows
//! lengths and temperatures; where the ends are is left to [`super::cautions`].

use super::length;
use crate::job::{Composite, Job, Movement, PerDegree, Temperature};
use crate::length::{Length, Unit};

/// Least and greatest growth published for wood-plastic boards along their
/// length, 2e-5 to 5e-5 by °F: A. A. Klyosov, Wood-Plastic Composites (2007),
/// chapter 10, from memory.
pub const PUBLISHED: [PerDegree; 2] = [
    PerDegree::billionths_f(20_000),
    PerDegree::billionths_f(50_000),
];

/// Where a coefficient comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The job's own.
    Job,
    /// The published range.
    Published,
}

/// What a length grows by between two temperatures; below zero it shrinks.
pub fn by_heat(over: Length, by: PerDegree, from: Temperature, to: Temperature) -> Length {
    let degrees = i128::from(to.fiftieths_f()) - i128::from(from.fiftieths_f());
    let growth = i128::from(over.units()) * i128::from(by.parts()) * degrees;
    length(growth, i128::from(PerDegree::WHOLE))
}

/// A board of one length over the temperatures of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Growing {
    /// The board's length as it is laid.
    pub piece: Length,
    /// The temperatures.
    pub heat: Composite,
    /// Least and greatest coefficient, alike where the job gives one.
    pub coefficients: [PerDegree; 2],
    /// Where they come from.
    pub basis: Basis,
}

impl Growing {
    /// A board of a length, where the job's boards are composite.
    pub fn of(job: &Job, piece: Length) -> Option<Growing> {
        let Some(Movement::Composite(heat)) = job.board.movement else {
            return None;
        };
        let (coefficients, basis) = match heat.coefficient {
            Some(own) => ([own, own], Basis::Job),
            None => (PUBLISHED, Basis::Published),
        };
        Some(Growing {
            piece,
            heat,
            coefficients,
            basis,
        })
    }

    /// The gap to leave between two such boards laid at a temperature, so that
    /// it just closes at the hottest: what one of them grows by, since each
    /// board is held in its middle and gives half of its growth to each end.
    /// By the greatest coefficient.
    pub fn gap_at(&self, laid_at: Temperature) -> Length {
        by_heat(self.piece, self.coefficients[1], laid_at, self.heat.hottest)
    }

    /// Least and greatest growth from when it is laid to the hottest.
    pub fn grows(&self) -> [Length; 2] {
        let Composite {
            laid_at, hottest, ..
        } = self.heat;
        self.coefficients
            .map(|by| by_heat(self.piece, by, laid_at, hottest))
    }

    /// Least and greatest shrinkage from when it is laid to the coldest.
    pub fn shrinks(&self) -> [Length; 2] {
        let Composite {
            laid_at, coldest, ..
        } = self.heat;
        self.coefficients
            .map(|by| by_heat(self.piece, by, coldest, laid_at))
    }

    /// What a gap left when the boards are laid comes to at another
    /// temperature, by the greatest coefficient; below zero the boards press on
    /// each other.
    pub fn gap_then(&self, left: Length, at: Temperature) -> Length {
        left - by_heat(self.piece, self.coefficients[1], self.heat.laid_at, at)
    }

    /// Temperatures to make a table of: the coldest, the hottest, the one the
    /// boards are laid at, and even ones between.
    pub fn temperatures(&self, unit: Unit) -> Vec<Temperature> {
        let Composite {
            laid_at,
            coldest,
            hottest,
            ..
        } = self.heat;
        // 20 °F or 10 °C apart, and further where the range is wide.
        let (zero, step) = match unit {
            Unit::Inch => (0, 20 * 50),
            Unit::Millimetre => (Temperature::from_tenths_c(0).fiftieths_f(), 10 * 90),
        };
        let range = hottest.fiftieths_f() - coldest.fiftieths_f();
        let step = step * (range / (step * 8) + 1);
        let from = (coldest.fiftieths_f() - zero).div_euclid(step) + 1;
        let even = (from..).map(|k| Temperature::from_fiftieths_f(zero + k * step));
        let mut all = vec![coldest, laid_at, hottest];
        all.extend(even.take_while(|at| *at < hottest));
        all.sort_unstable();
        all.dedup();
        all
    }
}
