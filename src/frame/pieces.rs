//! The pieces of a frame, each kind with the length it is cut to. Members that
//! are longer than any stick of their size are spliced: rims on a joist, a
//! ledger between two hangers, a beam over what carries it, or under a joist where that
//! is not known.

use super::{Border, FrameError, Skeleton, splice};
use crate::job::{FrameRules, Job};
use crate::length::Length;

/// What a piece of lumber is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// A joist.
    Joist,
    /// The second joist of a doubled one.
    SecondJoist,
    /// A rim or a part of one.
    Rim,
    /// A ledger or a part of one.
    Ledger,
    /// Blocking.
    Blocking,
    /// A ply of a beam or a part of one.
    Beam,
    /// A post under a beam.
    Post,
    /// The board a stringer is cut from.
    Stringer,
    /// A post of a guard.
    GuardPost,
    /// A rail between two of those.
    Rail,
}

impl Part {
    /// The part's name in every format.
    pub fn name(self) -> &'static str {
        match self {
            Part::Joist => "joist",
            Part::SecondJoist => "second joist",
            Part::Rim => "rim",
            Part::Ledger => "ledger",
            Part::Blocking => "blocking",
            Part::Beam => "beam",
            Part::Post => "post",
            Part::Stringer => "stringer",
            Part::GuardPost => "guard post",
            Part::Rail => "rail",
        }
    }
}

/// Equal pieces of one size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// What they are for.
    pub part: Part,
    /// Their size, by its place in [`Job::lumber`].
    pub size: usize,
    /// The length each is cut to.
    pub length: Length,
    /// How many.
    pub count: u64,
}

/// Pieces being gathered, equal ones together.
struct Pieces<'a> {
    job: &'a Job,
    rules: &'a FrameRules,
    gathered: Vec<Piece>,
}

impl Pieces<'_> {
    fn add(&mut self, part: Part, size: usize, length: Length, count: u64) {
        if count == 0 {
            return;
        }
        let alike =
            |piece: &&mut Piece| (piece.part, piece.size, piece.length) == (part, size, length);
        match self.gathered.iter_mut().find(alike) {
            Some(piece) => piece.count += count,
            None => self.gathered.push(Piece {
                part,
                size,
                length,
                count,
            }),
        }
    }

    /// What is left of the longest stick of a size that can be had.
    fn longest(&self, size: usize) -> Length {
        let sticks = self.job.lumber[size].stock.iter();
        let sticks = sticks.filter(|stick| stick.can_be_had());
        let longest = sticks.map(|stick| stick.length).max();
        longest.unwrap_or(Length::ZERO) - self.rules.end_trim * 2
    }

    fn too_long(&self, part: Part, size: usize, length: Length) -> FrameError {
        FrameError::TooLong {
            part: part.name(),
            length: length.show(self.job.unit),
            size: self.job.lumber[size].size.clone(),
            longest: self.longest(size).show(self.job.unit),
        }
    }

    /// A piece that is never spliced.
    fn whole(
        &mut self,
        part: Part,
        size: usize,
        length: Length,
        count: u64,
    ) -> Result<(), FrameError> {
        if count > 0 && length > self.longest(size) {
            return Err(self.too_long(part, size, length));
        }
        self.add(part, size, length, count);
        Ok(())
    }

    /// Plies side by side, as long as the frame is along, their splices apart
    /// from one another; nothing where there is no place for them.
    fn plies(&mut self, part: Part, size: usize, plies: u32, places: &[Length]) -> Option<()> {
        let (length, longest) = (self.job.deck.along, self.longest(size));
        let mut beside = Vec::new();
        for _ in 0..plies {
            let fewest = splice(length, longest, places, &[])?;
            let apart = splice(length, longest, places, &beside)?;
            // Over a support plies may be spliced side by side: a beam is not cut
            // into more pieces to keep them apart.
            let pieces = match part {
                Part::Beam if apart.len() > fewest.len() => fewest,
                _ => apart,
            };
            beside.clear();
            let mut at = Length::ZERO;
            for piece in pieces {
                self.add(part, size, piece, 1);
                at += piece;
                beside.push(at);
            }
        }
        Some(())
    }
}

/// Every piece of a frame.
pub(super) fn pieces(
    job: &Job,
    rules: &FrameRules,
    skeleton: &Skeleton,
    under_beams: &[Length],
) -> Result<Vec<Piece>, FrameError> {
    let mut pieces = Pieces {
        job,
        rules,
        gathered: Vec::new(),
    };
    let length = skeleton.joist_length();
    let centres: Vec<Length> = skeleton.joists.iter().map(|joist| joist.at).collect();
    let second = skeleton
        .joists
        .iter()
        .map(|joist| u64::from(joist.plies) - 1);
    pieces.whole(Part::Joist, rules.joist, length, centres.len() as u64)?;
    pieces.whole(Part::SecondJoist, rules.joist, length, second.sum())?;
    let between: Vec<Length> = (centres.windows(2))
        .map(|pair| Length::from_units((pair[0] + pair[1]).units() / 2))
        .collect();
    let along = job.deck.along;
    for edge in skeleton.edges {
        let (part, size, plies, places) = match (edge, rules.ledger) {
            (Border::Rims(rims), _) => (Part::Rim, rules.rim, rims, &centres),
            (Border::Ledger, Some(ledger)) => (Part::Ledger, ledger, 1, &between),
            (Border::Ledger, None) => continue,
        };
        let made = pieces.plies(part, size, plies, places);
        made.ok_or_else(|| pieces.too_long(part, size, along))?;
    }
    if let Some(blocking) = &rules.blocking {
        let thickness = job.lumber[rules.joist].thickness;
        for bay in skeleton.bays(thickness).filter(|bay| *bay > Length::ZERO) {
            let rows = u64::from(blocking.rows);
            pieces.whole(Part::Blocking, blocking.size, bay, rows)?;
        }
    }
    if let Some(beam) = &rules.beam {
        let places = match under_beams {
            [] => &centres,
            supports => supports,
        };
        for _ in &skeleton.beams {
            let made = pieces.plies(Part::Beam, beam.size, beam.plies, places);
            made.ok_or_else(|| match under_beams {
                [] => pieces.too_long(Part::Beam, beam.size, along),
                _ => FrameError::Beam {
                    length: along.show(job.unit),
                    size: job.lumber[beam.size].size.clone(),
                    longest: pieces.longest(beam.size).show(job.unit),
                },
            })?;
        }
    }
    Ok(pieces.gathered)
}
