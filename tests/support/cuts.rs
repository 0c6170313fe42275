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
            bundle: 1,
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
    let mut problem = CutProblem {
        stock,
        pieces: wanted,
        kerf: draw.pick(&[step, Length::ZERO, step * 3]),
        end_trim: draw.pick(&[Length::ZERO, Length::ZERO, step * 2]),
    };
    for _ in 0..draw.pick(&[0, 0, 1, 3]) {
        edge_case(draw, &mut problem);
    }
    problem
}

/// The same with some boards sold in bundles.
pub fn in_bundles(draw: &mut Draw, kinds: i64, pieces: i64) -> CutProblem {
    let mut problem = problem(draw, kinds, pieces);
    let first = draw.below(problem.stock.len() as u32) as usize;
    for (place, stock) in problem.stock.iter_mut().enumerate() {
        if place == first || draw.chance(50) {
            stock.bundle = draw.pick(&[2, 3, 4, 6, 1]);
        }
    }
    problem
}

/// Moves one thing to where comparisons are equal or counts run out.
fn edge_case(draw: &mut Draw, problem: &mut CutProblem) {
    let stock = draw.below(problem.stock.len() as u32) as usize;
    match draw.below(5) {
        // A board just long enough for a few pieces, or a unit too short.
        0 | 1 => {
            let pieces = draw.between(1, 4);
            let cuts: Length = (0..pieces)
                .map(|_| draw.pick(&problem.pieces).length + problem.kerf)
                .sum();
            problem.stock[stock].length =
                cuts - problem.kerf + problem.end_trim * 2 - Length::from_units(draw.between(0, 1));
        }
        2 => {
            let mut twin = problem.stock[stock].clone();
            twin.available = Some(draw.below(3).into());
            twin.price = twin
                .price
                .map(|price| Money::from_cents((price.cents() - 1).max(0)));
            problem.stock.push(twin);
        }
        3 => problem.stock[stock].price = Some(Money::ZERO),
        _ => {
            problem.stock[stock].on_hand = draw.pick(&[1, 2, 5_000, u64::MAX]);
            problem.stock[stock].available = draw.pick(&[None, Some(0), Some(u64::MAX)]);
        }
    }
}
