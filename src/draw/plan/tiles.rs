//! A plan in parts, where the whole is too small on one sheet for its pieces to
//! be named: as many parts each way as it takes, all alike in scale, cut between
//! courses and at joists, each saying which part goes on beyond its edges.

use super::super::Subject;
use super::super::paper::Scale;
use super::super::scene::Paper;
use super::dimensions::{Across, Along};
use super::edges::Sides;
use super::{Extent, room};
use crate::length::Length;

/// A course at least this wide on paper has room for the names of its pieces.
const NAMED: Paper = 2_850;
/// So many parts are of use; a larger deck is drawn as a whole only.
const MOST: usize = 120;

/// What of a plan a sheet shows.
#[derive(Debug, Clone)]
pub struct Window {
    /// The stretch each way.
    pub extent: Extent,
    /// Which part it is, if it is not the whole.
    pub part: Option<Part>,
}

/// One part of a plan among others.
#[derive(Debug, Clone)]
pub struct Part {
    number: usize,
    of: usize,
    /// The parts that go on at the left, above, at the right and below.
    beyond: [Option<usize>; 4],
}

impl Part {
    /// Which part it is, in words.
    pub fn words(&self) -> String {
        format!("part {} of {}", self.number, self.of)
    }
}

impl Window {
    /// The whole plan.
    pub fn whole(subject: &Subject<'_>) -> Window {
        Window {
            extent: Extent::of(subject),
            part: None,
        }
    }

    /// What is said at a side where the plan goes on: left, above, right, below.
    pub fn goes_on(&self, side: usize) -> Option<String> {
        let beyond = self.part.as_ref()?.beyond[side]?;
        Some(format!("goes on in part {beyond}"))
    }
}

/// The parts, from the first course's left end on; none where there are too many.
pub fn windows(subject: &Subject<'_>) -> Vec<Window> {
    let named = |scale: &Scale| scale.paper(subject.job.board.face) >= NAMED;
    let scales = Scale::all(subject.terms.unit).take_while(named);
    let Some(scale) = scales.last() else {
        return Vec::new();
    };
    // As much room as is left beside what the whole drawing takes.
    let whole = Window::whole(subject);
    let across = Across::of(subject, &whole);
    let along = Along::of(subject, &whole);
    let free = Sides::of(subject, &whole, &across, &along).free(room(subject));
    let length = |paper: Paper| Length::from_units(paper * scale.0 * Length::UNITS_PER_MM / 1_000);
    let Extent { along, across } = whole.extent;
    let along = stretches(along, length(free.width()), &subject.plan.supports);
    let edges: Vec<Length> = subject
        .plan
        .courses
        .iter()
        .map(|course| course.from)
        .collect();
    let across = stretches(across, length(free.height()), &edges);
    let (columns, rows) = (along.len(), across.len());
    let of = columns * rows;
    if of > MOST {
        return Vec::new();
    }
    let number = |column: usize, row: usize| row * columns + column + 1;
    let window = |column: usize, row: usize| Window {
        extent: Extent {
            along: along[column],
            across: across[row],
        },
        part: Some(Part {
            number: number(column, row),
            of,
            beyond: [
                column.checked_sub(1).map(|column| number(column, row)),
                (row + 1 < rows).then(|| number(column, row + 1)),
                (column + 1 < columns).then(|| number(column + 1, row)),
                row.checked_sub(1).map(|row| number(column, row)),
            ],
        }),
    };
    (0..rows)
        .flat_map(|row| (0..columns).map(move |column| (column, row)))
        .map(|(column, row)| window(column, row))
        .collect()
}

/// A range in stretches no longer than `most`, about as long as each other, cut
/// at the last of some places that each can reach.
fn stretches(range: [Length; 2], most: Length, places: &[Length]) -> Vec<[Length; 2]> {
    let mut found = Vec::new();
    let mut from = range[0];
    while from < range[1] {
        let left = range[1] - from;
        let parts = (left.units() + most.units() - 1) / most.units().max(1);
        let even = from + Length::from_units(left.units() / parts.max(1));
        let limit = from + most;
        let inside = places.iter().copied().filter(|place| *place > from);
        let near = inside
            .filter(|place| *place <= limit)
            .min_by_key(|place| (*place - even).abs());
        let to = match parts {
            ..=1 => range[1],
            _ => near.unwrap_or(limit.min(range[1])),
        };
        found.push([from, to]);
        from = to;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_is_cut_at_places_and_left_whole_where_it_fits() {
        let feet = |n: i64| Length::from_inches(12 * n);
        let joists: Vec<Length> = (0..=60).map(feet).collect();
        let found = stretches([feet(0), feet(60)], feet(33), &joists);
        assert_eq!(found, [[feet(0), feet(30)], [feet(30), feet(60)]]);
        let found = stretches([feet(0), feet(30)], feet(33), &joists);
        assert_eq!(found, [[feet(0), feet(30)]]);
        // Without a place to cut at, as far as it goes.
        let found = stretches([feet(0), feet(50)], feet(33), &[]);
        assert_eq!(found, [[feet(0), feet(33)], [feet(33), feet(50)]]);
    }
}
