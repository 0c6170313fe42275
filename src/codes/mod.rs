//! A deck held against the tables of a code: how far its joists span and reach
//! past their supports, and how far apart they are under the boards. It knows
//! what the tables say and on what basis, measures the frame as it is laid out,
//! and tells which of the two is more; it designs nothing, and what a table does
//! not cover it says so. Whether anything may be built is left to the local code
//! and to those who may say so.

mod finding;
mod joists;
pub mod tables;

pub use finding::{Check, Finding, Outcome, Rule, cautions};
pub use joists::carried;

use crate::base::Base;
use crate::frame::Skeleton;
use crate::job::{Decking, Edition, Job};
use crate::length::Length;

/// Wood at least so thick is 5/4 (PS 20-20, Table 3: 1 in dry, from memory).
const FIVE_QUARTER: Length = Length::from_inches(1);
/// Wood at least so thick is 2 in nominal (the same table: 1-1/2 in dry).
const TWO_INCH: Length = Length::from_64ths(96);

/// All that is compared: the spacing under the boards and, where the job has a
/// frame, its joists' spans and cantilevers and those of its beams.
pub fn compare(
    job: &Job,
    supports: &[Length],
    frame: Option<&Skeleton>,
    base: Option<&Base>,
) -> Vec<Finding> {
    let mut found: Vec<Finding> = decking(job, supports).into_iter().collect();
    if let (Some(rules), Some(frame)) = (&job.codes, frame) {
        found.extend(joists::joists(job, rules, supports, frame, base));
        found.extend(joists::beams(job, rules, base));
    }
    found
}

/// The widest distance between two neighbours.
fn widest(places: &[Length]) -> Option<Length> {
    places.windows(2).map(|pair| pair[1] - pair[0]).max()
}

/// The widest spacing of joists against what the boards may span; nothing where
/// the job names no table.
pub fn decking(job: &Job, supports: &[Length]) -> Option<Finding> {
    let rules = job.codes.as_ref()?;
    let ours = widest(supports)?;
    let what = match rules.decking {
        Some(Decking::FiveQuarter) => "5/4 boards".to_owned(),
        Some(Decking::TwoInch) => "2 in boards".to_owned(),
        Some(Decking::Composite) => "composite boards".to_owned(),
        Some(Decking::Thick(thick)) => format!("boards {} thick", thick.show(job.unit)),
        None => "the boards".to_owned(),
    };
    let (rule, outcome) = match (rules.decking_most, rules.edition) {
        (Some(most), _) => (Rule::own(rules), Outcome::of(ours, most)),
        (None, Some(edition)) => published(edition, rules.decking, ours),
        (None, None) => return None,
    };
    Some(Finding {
        check: Check::JoistSpacing,
        what,
        ours,
        rule,
        outcome,
    })
}

/// A spacing against an edition's table of decking.
fn published(edition: Edition, decking: Option<Decking>, ours: Length) -> (Rule, Outcome) {
    let listed = "give what the boards may span as `codes.decking_most`";
    let without = |why: &str, help: &str| (Rule::of(edition), Outcome::not_covered(why, help));
    let thick = match decking {
        Some(Decking::FiveQuarter) => false,
        Some(Decking::TwoInch) => true,
        Some(Decking::Thick(thick)) if thick >= FIVE_QUARTER => thick >= TWO_INCH,
        Some(Decking::Thick(_)) => {
            return without("wood begins with 5/4 boards, 1 in thick", listed);
        }
        Some(Decking::Composite) => {
            return without("composite boards span what their own listing says", listed);
        }
        None => {
            return without(
                "the job does not say what its boards are",
                "add `codes.decking`: \"5/4\", \"2x\", a thickness or \"composite\"",
            );
        }
    };
    match tables::decking(edition, thick) {
        Some(table) => {
            let rule = Rule {
                table: Some(table.name.to_owned()),
                basis: Some("wood boards square to the joists"),
                from_memory: table.from_memory,
                ..Rule::of(edition)
            };
            (rule, Outcome::of(ours, table.square))
        }
        None => without("no table of boards in it is known here", listed),
    }
}
