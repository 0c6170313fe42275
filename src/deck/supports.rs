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
    // Where each inner joist is asked for, and where it can stand.
    let mut inner = Vec::new();
    let mut asked = first;
    while asked < right {
        if asked - left >= thickness && right - asked >= thickness {
            inner.push((asked, asked));
        } else if asked > left {
            let near_left = asked - left < thickness;
            let stands = if near_left {
                left + thickness
            } else {
                right - thickness
            };
            inner.push((asked, stands));
        }
        asked += spacing;
    }
    let stands = |k: usize| match k {
        0 => left,
        k => inner.get(k - 1).map_or(right, |joist| joist.1),
    };
    let mut centres = vec![left];
    for (k, (asked, at)) in (1..).zip(&inner) {
        let crowds = *at - stands(k - 1) < thickness || stands(k + 1) - *at < thickness;
        if at == asked || !crowds {
            centres.push(*at);
        }
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

#[cfg(test)]
mod tests {
    use super::*;

    fn at(along: &str, spacing: &str, first: &str) -> Vec<String> {
        let read = |text: &str| text.parse::<Length>().expect("a length");
        let centres = spaced(read(along), read(spacing), read(first), read("1-1/2in"));
        let inches = |centre: &Length| centre.show(crate::length::Unit::Inch);
        centres.iter().map(inches).collect()
    }

    #[test]
    fn a_joist_beside_an_end_joist_moves_clear_of_it() {
        // Computed: end joists 1-1/2 in thick are centred 3/4 in inside.
        assert_eq!(
            at("33in", "16in", "16in"),
            ["3/4 in", "16 in", "30-3/4 in", "32-1/4 in"]
        );
        assert_eq!(
            at("32in", "16in", "1in"),
            ["3/4 in", "2-1/4 in", "17 in", "31-1/4 in"]
        );
        assert_eq!(
            at("4ft", "16in", "16in"),
            ["3/4 in", "16 in", "32 in", "3 ft 11-1/4 in"]
        );
    }

    #[test]
    fn it_gives_way_to_one_that_stands_where_it_was_asked_for() {
        // The first joist would be moved to 2-1/4 in, too near to the one at
        // 3 in, which stays.
        assert_eq!(
            at("8in", "1-1/2in", "1-1/2in"),
            ["3/4 in", "3 in", "4-1/2 in", "7-1/4 in"]
        );
        // Two that would be moved onto each other both go.
        assert_eq!(at("5in", "2in", "1-1/2in"), ["3/4 in", "4-1/4 in"]);
        assert_eq!(at("1in", "16in", "16in"), ["3/4 in"]);
    }
}
