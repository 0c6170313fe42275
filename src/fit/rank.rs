//! In which order ways are listed.

use std::cmp::Reverse;

use super::price::Priced;
use super::way::{Ending, Kind};

/// What ways are ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Ranking {
    /// How well the deck ends, then how much the way disturbs, then its cost.
    #[default]
    Disturbance,
    /// Its cost, then how well the deck ends, then how much it disturbs.
    Cost,
    /// The chance that it comes out, then as by disturbance.
    Robust,
}

/// Puts ways in order.
///
/// By disturbance, whole courses come before courses that end short, those
/// before a rip of half a board or more, then other rips, then slivers; among
/// equals the way comes first whose most disturbing part disturbs least, then
/// the one whose gap can be set by hand, then the one with fewer parts, then
/// the cheaper, then the likelier. What is unknown comes last, and ways equal
/// in all this stand in the job's order.
pub fn rank(ways: &mut [Priced], ranking: Ranking) {
    ways.sort_by_key(|priced| {
        let cost = priced.cost();
        let cost = (cost.is_none(), cost);
        let unlikely = Reverse(priced.way.chance.map(millionths));
        let disturbs = disturbance(priced);
        match ranking {
            Ranking::Disturbance => Key::Disturbance(disturbs, cost, unlikely),
            Ranking::Cost => Key::Cost(cost, disturbs, unlikely),
            Ranking::Robust => Key::Robust(unlikely, disturbs, cost),
        }
    });
}

type Disturbs = (Ending, Kind, bool, usize);
type Cost = (bool, Option<crate::money::Money>);
type Unlikely = Reverse<Option<u32>>;

#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Disturbance(Disturbs, Cost, Unlikely),
    Cost(Cost, Disturbs, Unlikely),
    Robust(Unlikely, Disturbs, Cost),
}

fn disturbance(priced: &Priced) -> Disturbs {
    let way = &priced.way;
    let most = way.kinds.iter().copied().max().unwrap_or(Kind::Leave);
    (way.ending, most, !way.settable, way.kinds.len())
}

/// A chance as a whole number, so that it can be put in order.
fn millionths(chance: f64) -> u32 {
    (chance * 1e6).round() as u32
}
