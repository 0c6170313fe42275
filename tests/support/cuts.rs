//! Random cutting problems of the kind a building site has.

use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::stock::{CutProblem, Demand, StockBoard};

use super::draw::Draw;

/// A problem with at most so many kinds of piece and pieces in all.
pub fn problem(draw: &mut Draw, kinds: i64, pieces: i64) -> CutProblem {
    let metric = draw.chance(40);
    let (step, foot) = if metric {
        (Length::from_mm(1), Length::from_mm(300))
    } else {
        (Length::from_64ths(8), Length::from_feet(1))
    };
    let mut stock = Vec::new();
    for _ in 0..draw.between(1, 6) {
        let length = foot * draw.pick(&[8, 12, 16, 10, 14, 20, 6]);
        let feet = length.units() / foot.units();
        let available = draw.chance(20).then(|| draw.below(8).into());
        stock.push(StockBoard {
            length,
            price: (available != Some(0) || draw.chance(50))
                .then(|| Money::from_cents(feet * draw.between(80, 260) + draw.between(0, 180))),
            on_hand: if draw.chance(20) {
                draw.below(5).into()
            } else {
                0
            },
            available,
        });
    }
    let longest = stock
        .iter()
        .map(|stock| stock.length)
        .max()
        .expect("a stock");
    let mut left = pieces;
    let mut wanted = Vec::new();
    for _ in 0..draw.between(1, kinds) {
        if left == 0 {
            break;
        }
        // From a twelfth of the longest board to all of it.
        let most = longest.units() / step.units();
        let least = (most / 12).max(1);
        let count = draw.between(1, left.min((pieces / 3).max(2)));
        left -= count;
        wanted.push(Demand {
            length: step * draw.between(least, most - 20),
            count: count as u64,
        });
    }
    CutProblem {
        stock,
        pieces: wanted,
        kerf: draw.pick(&[step, Length::ZERO, step * 3]),
        end_trim: draw.pick(&[Length::ZERO, Length::ZERO, step * 2]),
    }
}
