//! The pieces of a frame, each kind with the length it is cut to. Members that
//! are longer than any stick of their size are spliced: rims on a joist, a
//! ledger between two hangers, a beam over what carries it.

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
    /// from one another.
    fn plies(
        &mut self,
        part: Part,
        size: usize,
        plies: u32,
        places: &[Length],
    ) -> Result<(), FrameError> {
        let length = self.job.deck.along;
        let mut beside = Vec::new();
        for _ in 0..plies {
            let pieces = splice(length, self.longest(size), places, &beside)
                .ok_or_else(|| self.too_long(part, size, length))?;
            beside.clear();
            let mut at = Length::ZERO;
            for piece in pieces {
                self.add(part, size, piece, 1);
                at += piece;
                beside.push(at);
            }
        }
        Ok(())
    }
}

/// Every piece of a frame.
pub(super) fn pieces(
    job: &Job,
    rules: &FrameRules,
    skeleton: &Skeleton,
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
    for edge in skeleton.edges {
        match (edge, rules.ledger) {
            (Border::Rims(rims), _) => pieces.plies(Part::Rim, rules.rim, rims, &centres)?,
            (Border::Ledger, Some(ledger)) => pieces.plies(Part::Ledger, ledger, 1, &between)?,
            (Border::Ledger, None) => {}
        }
    }
    if let Some(blocking) = &rules.blocking {
        let thickness = job.lumber[rules.joist].thickness;
        for bay in skeleton.bays(thickness).filter(|bay| *bay > Length::ZERO) {
            let rows = u64::from(blocking.rows);
            pieces.whole(Part::Blocking, blocking.size, bay, rows)?;
        }
    }
    if let Some(beam) = &rules.beam {
        for _ in &skeleton.beams {
            pieces.plies(Part::Beam, beam.size, beam.plies, &centres)?;
        }
    }
    Ok(pieces.gathered)
}
