//! The fascia's pieces: how long the fascia of each side is with its corners,
//! where short returns turn them, and where what is longer than any board is
//! spliced. It knows places and lengths; which boards are the cheapest, and so
//! which of several ways to splice is taken, is left to [`crate::order`].

use super::splice;
use crate::job::{Corners, FasciaRules, Job, RunsPast, Side, Splices};
use crate::length::Length;

/// The fascia of one side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Face {
    /// The side it dresses.
    pub side: Side,
    /// How far it reaches past the frame at the end its length is counted from.
    pub reach: Length,
    /// Its whole length, over the long points of its mitres.
    pub length: Length,
    /// Its pieces in order, their lengths as cut.
    pub pieces: Vec<Strip>,
    /// Where it is spliced, counted along from the frame's left side or across
    /// from its first edge; with scarfs where the piece after the splice begins.
    pub splices: Vec<Length>,
}

/// One piece of a fascia.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Strip {
    /// The length it is cut to, over the long point of a mitre or scarf.
    pub length: Length,
    /// Whether it is the short piece that turns a corner.
    pub turns: bool,
}

/// A side whose fascia the boards are too short for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TooShort {
    /// The side.
    pub side: Side,
    /// The longest piece that a board gives.
    pub longest: Length,
}

/// The fascia of all sides, from boards that give pieces up to a length: the
/// fewest pieces, each as long as it may be or, where `even`, the longest of
/// them as short as so few allow.
///
/// # Errors
/// When a side needs a splice and has no place for it.
pub fn fascia(
    job: &Job,
    rules: &FasciaRules,
    supports: &[Length],
    longest: Length,
    even: bool,
) -> Result<Vec<Face>, TooShort> {
    let sides = rules.sides.iter();
    let face = |&side: &Side| {
        let too_short = TooShort { side, longest };
        face(job, rules, supports, side, longest, even).ok_or(too_short)
    };
    sides.map(face).collect()
}

/// Whether the boards of a side run past the ends of its neighbours'.
fn runs_past(rules: &FasciaRules, side: Side) -> bool {
    side.is_along() == (rules.runs_past == RunsPast::Along)
}

fn face(
    job: &Job,
    rules: &FasciaRules,
    supports: &[Length],
    side: Side,
    longest: Length,
    even: bool,
) -> Option<Face> {
    let corner = side.ends().map(|end| rules.stands_off(&job.edges, end));
    let mitred = rules.corners == Corners::Mitred;
    let reach = corner.map(|thickness| match mitred || runs_past(rules, side) {
        true => thickness,
        false => Length::ZERO,
    });
    let (frame, on_joists) = match side.is_along() {
        true => (job.deck.along, rules.splices == Splices::OnJoists),
        false => (job.deck.across, false),
    };
    let length = frame + reach[0] + reach[1];
    let places = on_joists.then(|| supports.iter().map(|&at| at + reach[0]).collect());
    let run = Run {
        length,
        places,
        scarf: rules.scarf,
        longest,
        even,
    };
    let turns = corner.map(|thickness| {
        let turns = mitred && !runs_past(rules, side) && thickness > Length::ZERO;
        rules.returns.filter(|_| turns)
    });
    let (cuts, turns) = run.cuts(turns)?;
    let last = cuts.len() - 2;
    let pieces = cuts.windows(2).enumerate().map(|(number, ends)| Strip {
        length: ends[1] - ends[0]
            + if number < last {
                rules.scarf
            } else {
                Length::ZERO
            },
        turns: (number == 0 && turns[0]) || (number == last && turns[1]),
    });
    Some(Face {
        side,
        reach: reach[0],
        length,
        pieces: pieces.collect(),
        splices: cuts[1..=last].iter().map(|&at| at - reach[0]).collect(),
    })
}

/// A length to be made of pieces.
struct Run {
    length: Length,
    /// Where it may be spliced, from its start; anywhere when absent.
    places: Option<Vec<Length>>,
    scarf: Length,
    longest: Length,
    even: bool,
}

impl Run {
    /// Where pieces begin and end, both ends of the run among it, and whether
    /// the first and the last piece are returns.
    fn cuts(&self, turns: [Option<Length>; 2]) -> Option<(Vec<Length>, [bool; 2])> {
        let ends = [
            turns[0].map(|r| self.turn(r)),
            turns[1].map(|r| self.turn_back(r)),
        ];
        let from = ends[0].unwrap_or(Some(Length::ZERO));
        let to = ends[1].unwrap_or(Some(self.length));
        // A run so short that next to nothing is left between its returns, or
        // one without a place for them, is made without.
        let shortest = turns.into_iter().flatten().max();
        let (from, to, turns) = match (from, to, shortest) {
            (Some(from), Some(to), Some(shortest)) if to - from >= shortest => {
                (from, to, turns.map(|turn| turn.is_some()))
            }
            _ => (Length::ZERO, self.length, [false; 2]),
        };
        let returns = [from, self.length - to].map(|length| length + self.scarf);
        if (turns[0] && returns[0] > self.longest) || (turns[1] && returns[1] > self.longest) {
            return None;
        }
        let mut cuts = vec![Length::ZERO];
        if turns[0] {
            cuts.push(from);
        }
        for piece in self.between(from, to, turns[1])? {
            cuts.push(cuts[cuts.len() - 1] + piece);
        }
        if turns[1] {
            cuts.push(self.length);
        }
        Some((cuts, turns))
    }

    /// Where a return from the start ends: the first place that far in.
    fn turn(&self, least: Length) -> Option<Length> {
        match &self.places {
            None => Some(least),
            Some(places) => places.iter().copied().find(|&place| place >= least),
        }
    }

    /// Where a return to the end begins.
    fn turn_back(&self, least: Length) -> Option<Length> {
        let most = self.length - least;
        match &self.places {
            None => Some(most),
            Some(places) => places.iter().copied().rev().find(|&place| place <= most),
        }
    }

    /// The pieces of a part of the run without their scarfs; `more` when a
    /// return follows, so that the last of them has one too.
    fn between(&self, from: Length, to: Length, more: bool) -> Option<Vec<Length>> {
        // The last piece is as long as its splice to splice; the others lie over
        // the next one too. Less a scarf, all obey one limit.
        let less = if more { Length::ZERO } else { self.scarf };
        let (length, longest) = (to - from - less, self.longest - self.scarf);
        let inside = |places: &Vec<Length>| places.iter().map(|&place| place - from).collect();
        let places: Option<Vec<Length>> = self.places.as_ref().map(inside);
        let split = |longest: Length| match &places {
            Some(places) => splice(length, longest, places, &[]),
            None => anywhere(length, longest),
        };
        let mut pieces = split(longest)?;
        if self.even && pieces.len() > 1 {
            pieces = evened(pieces, longest, split);
        }
        if let Some(last) = pieces.last_mut() {
            *last += less;
        }
        Some(pieces)
    }
}

/// As few pieces as there are now, the longest of them as short as can be.
fn evened(
    pieces: Vec<Length>,
    longest: Length,
    split: impl Fn(Length) -> Option<Vec<Length>>,
) -> Vec<Length> {
    let few = pieces.len();
    let as_few = |longest: i64| {
        let split = split(Length::from_units(longest))?;
        (split.len() == few).then_some(split)
    };
    let mut best = pieces;
    let (mut below, mut enough) = (0, longest.units());
    while enough - below > 1 {
        let middle = below + (enough - below) / 2;
        match as_few(middle) {
            Some(split) => (best, enough) = (split, middle),
            None => below = middle,
        }
    }
    best
}

/// The fewest pieces where a splice may be anywhere.
fn anywhere(length: Length, longest: Length) -> Option<Vec<Length>> {
    if longest <= Length::ZERO {
        return (length <= Length::ZERO).then(|| vec![length]);
    }
    let whole = ((length.units() - 1) / longest.units()).max(0);
    let mut pieces = vec![longest; whole as usize];
    pieces.push(length - longest * whole);
    Some(pieces)
}
