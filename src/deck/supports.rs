//! Where the supports are: end joists at the frame's sides, inner joists at
//! their spacing, or the centres that were given.

use crate::caution::Caution;
use crate::job::{Job, Joists};
use crate::length::Length;

/// The supports under the boards.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Supports {
    /// Their centres along, ascending, from the frame's left side.
    pub centres: Vec<Length>,
    /// Thickness of each.
    pub thickness: Length,
    /// What a person should look at.
    pub cautions: Vec<Caution>,
}

/// The supports of a job's deck.
///
/// An inner joist that would stand nearer than its thickness to an end joist is
/// moved to exactly that distance, and left out only if it would then crowd
/// another one.
pub fn supports(job: &Job) -> Supports {
    let (centres, thickness, widest) = match &job.joists {
        Joists::Spaced {
            spacing,
            first,
            thickness,
        } => (
            spaced(job.deck.along, *spacing, *first, *thickness),
            *thickness,
            Some(*spacing),
        ),
        Joists::Positions {
            centres,
            spacing,
            thickness,
        } => (centres.clone(), *thickness, *spacing),
    };
    let mut supports = Supports {
        centres,
        thickness,
        cautions: Vec::new(),
    };
    supports.cautions = cautions(job, &supports, widest);
    supports
}

fn spaced(along: Length, spacing: Length, first: Length, thickness: Length) -> Vec<Length> {
    let left = thickness.half_down();
    let right = along - thickness.half_up();
    if right <= left {
        return vec![left];
    }
    let mut centres = vec![left];
    let mut inner = first;
    while inner < right {
        if inner > left {
            let mut at = inner;
            if at - left < thickness {
                at = left + thickness;
            }
            if right - at < thickness {
                at = right - thickness;
            }
            let previous = *centres.last().expect("the left end joist is there");
            if at - previous >= thickness && right - at >= thickness {
                centres.push(at);
            }
        }
        inner += spacing;
    }
    centres.push(right);
    centres
}

fn cautions(job: &Job, supports: &Supports, widest: Option<Length>) -> Vec<Caution> {
    let mut found = Vec::new();
    let centres = &supports.centres;
    if let Some(widest) = widest {
        for (left, right) in centres.iter().zip(centres.iter().skip(1)) {
            if *right - *left > widest {
                found.push(Caution::new(
                    format!(
                        "the bay between the supports at {} and {} is {} wide, more than the {} asked for",
                        left.show(job.unit), right.show(job.unit),
                        (*right - *left).show(job.unit), widest.show(job.unit)
                    ),
                    "add a support there, or check that the boards may span it",
                ));
            }
        }
    }
    let most = match job.unit {
        crate::length::Unit::Inch => Length::from_inches(2),
        crate::length::Unit::Millimetre => Length::from_mm(50),
    };
    let (Some(first), Some(last)) = (centres.first(), centres.last()) else {
        return found;
    };
    let outer_left = *first - supports.thickness.half_down();
    let outer_right = *last + supports.thickness.half_up();
    let ends = [
        ("left", outer_left + job.edges.left.reach()),
        (
            "right",
            job.deck.along + job.edges.right.reach() - outer_right,
        ),
    ];
    for (side, past) in ends {
        if past > most {
            found.push(Caution::new(
                format!(
                    "at the {side} edge the boards reach {} past their last support",
                    past.show(job.unit)
                ),
                format!(
                    "keep it to {} or ask the boards' maker; a board end that is not carried breaks off underfoot",
                    most.show(job.unit)
                ),
            ));
        }
    }
    found
}
