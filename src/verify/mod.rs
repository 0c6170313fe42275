//! An independent second look at a finished plan. It works the geometry, the
//! rules, the cuts and the money out again from the job alone, in wide
//! integers, and shares no code with the stages that made the plan: a mistake
//! would have to be made twice, in two ways, to pass unseen. It finds faults;
//! finding plans is left to [`crate::plan`] and [`crate::stock`].

mod boards;
mod bundles;
mod courses;
mod cut;
mod extras;
mod geometry;
mod pieces;
mod saw;
mod stagger;
#[cfg(test)]
mod tests;
mod totals;

use std::fmt;

use crate::job::Job;
use crate::length::{Length, Unit};
use crate::plan::Plan;

pub use cut::cut;
pub(crate) use geometry::Geometry;

/// The rule that is broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Rule {
    /// The plan's fastener is one of the job's, at its set gap.
    Fastener,
    /// The supports are where the job puts them.
    Supports,
    /// The courses are as many, as wide and where the gap and the finish put them.
    Courses,
    /// A course has one run, from one end of the surface to the other.
    Run,
    /// The pieces cover their run, in order and without overlap.
    Cover,
    /// A joint sits on the centre of an inner support, the end gap shared by both sides.
    Joint,
    /// No joint falls where none may.
    KeepOut,
    /// No piece of a run cut in several is below the shortest piece.
    ShortestPiece,
    /// Every piece of a run cut in several rests on enough supports.
    Bearing,
    /// Joints of neighbouring courses are far enough apart.
    Stagger,
    /// Joints of neighbouring courses are enough supports apart.
    StaggerJoists,
    /// Enough courses lie between two joints on one support.
    SameJoist,
    /// The joints come round again after so many courses.
    Repeat,
    /// A piece is cut to its length as it lies and the allowance at an open edge.
    PieceLength,
    /// A piece is named by its course and a letter, once.
    PieceId,
    /// The other pieces are those of the job, each by its name and length.
    Extra,
    /// Every piece is cut from exactly one board, and both say so.
    OneBoard,
    /// Boards are numbered from 1, in the order of the stock.
    BoardOrder,
    /// A board is one of the job's, of that length.
    BoardStock,
    /// A board, or each strip of it, is long enough for its pieces and cuts.
    BoardHolds,
    /// A board is split only where the job allows and the strips fit its width.
    Split,
    /// What remains of a board is what is said.
    Offcut,
    /// A bought board costs its price, one from hand nothing.
    Price,
    /// No more boards are taken from hand than lie there.
    OnHand,
    /// No more boards are bought than can be had.
    Available,
    /// Boards sold in bundles are bought in whole ones, the rest told as left over.
    Bundle,
    /// Every piece asked for is cut exactly as often.
    Demand,
    /// Boards, joints, doubled joists, lengths and money add up.
    Totals,
    /// The value is that of the objective.
    Value,
    /// The bound is not above the value.
    Bound,
    /// A plan is called proven exactly when its bound is its value.
    Proven,
}

/// One rule broken, with what is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Violation {
    /// The rule.
    pub rule: Rule,
    /// What is wrong, with the values and what was expected.
    pub message: String,
}

impl fmt::Display for Violation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

/// Everything that is wrong with a plan for a job; empty if nothing is.
///
/// Lengths, places, rules, cuts, limits, money and the consistency of the
/// stated bound are all checked. Whether the bound is a true one cannot be seen
/// from a plan.
pub fn plan(job: &Job, plan: &Plan) -> Vec<Violation> {
    let mut found = Findings::new(job.unit);
    let Some(geometry) = geometry::derive(job, plan, &mut found) else {
        return found.list;
    };
    courses::check(job, plan, &geometry, &mut found);
    let mut laid = pieces::check(job, plan, &geometry, &mut found);
    extras::check(job, plan, &mut laid, &mut found);
    boards::check(job, plan, &laid, &mut found);
    totals::check(job, plan, &laid, &mut found);
    found.list
}

/// The violations found so far, and the unit they are told in.
struct Findings {
    unit: Unit,
    list: Vec<Violation>,
}

impl Findings {
    fn new(unit: Unit) -> Findings {
        Findings {
            unit,
            list: Vec::new(),
        }
    }

    fn add(&mut self, rule: Rule, message: String) {
        self.list.push(Violation { rule, message });
    }

    /// A count of 1/8 µm as people read it.
    fn show(&self, units: i128) -> String {
        match i64::try_from(units) {
            Ok(units) => Length::from_units(units).show(self.unit),
            Err(_) => format!("{units} × 1/8 µm"),
        }
    }
}

/// The geometry of a job with one of its fasteners, for other second looks;
/// nothing where there is no deck.
pub(crate) fn geometry_of(job: &Job, fastener: usize) -> Option<Geometry> {
    geometry::of(job, fastener).ok()
}

/// A length as a wide count of 1/8 µm, so that no sum of wrong values overflows.
pub(crate) fn wide(length: Length) -> i128 {
    i128::from(length.units())
}

/// Half of a length, an odd unit left off.
fn floor_half(units: i128) -> i128 {
    units.div_euclid(2)
}

/// Half of a length, an odd unit added.
fn ceil_half(units: i128) -> i128 {
    units - floor_half(units)
}
