//! Random cutting problems: every answer verified, small ones held against the
//! reference models, larger ones against what must follow from a change.

use std::ops::Range;

use crate::support::cuts::{in_bundles, problem};
use crate::support::draw::{Draw, strategy};
use crate::support::patience::seeds;
use crate::support::reference::boards::{Boards, Kind, sources_of};
use crate::support::reference::milp;
use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::stock::{CutPlan, CutProblem, Demand, StockBoard, StockError, solve};
use lastcourse::verify;
use lastcourse::watch::Unwatched;
use proptest::prelude::*;

/// An answer without a fault, or why there is none.
fn answer(problem: &CutProblem) -> Result<CutPlan, StockError> {
    let plan = solve(problem, &Unwatched)?;
    let faults = verify::cut(problem, &plan);
    assert!(
        faults.is_empty(),
        "{faults:#?} in {plan:#?} for {problem:#?}"
    );
    Ok(plan)
}

/// The kinds of a problem, longest first, and how many of each.
fn kinds(problem: &CutProblem) -> (Vec<Kind>, Vec<u8>) {
    let mut kinds: Vec<(Kind, u8)> = problem
        .pieces
        .iter()
        .map(|piece| {
            let kind = Kind {
                length: piece.length.units(),
                split: false,
            };
            (kind, u8::try_from(piece.count).expect("a small count"))
        })
        .collect();
    kinds.sort_unstable();
    kinds.reverse();
    kinds.into_iter().unzip()
}

/// Holds an answer against the exact optimum.
fn compare(problem: &CutProblem, best: Option<i64>) {
    match (answer(problem), best) {
        (Ok(plan), Some(best)) => {
            assert!(
                plan.bound.cents() <= best,
                "bound {} above the optimum {best} of {problem:#?}",
                plan.bound.cents()
            );
            assert!(
                plan.cost.cents() >= best,
                "below the optimum {best} of {problem:#?}"
            );
            assert!(plan.proven, "a small problem is not proven: {problem:#?}");
        }
        (Err(StockError::NotEnough | StockError::TooLong(_)), None) => {}
        (answer, best) => panic!("{answer:?}, but the optimum is {best:?}: {problem:#?}"),
    }
}

/// Compares random problems with all ways to cut them; how many could be. Every
/// problem is shown to `see`.
fn by_enumeration(
    seeds: Range<u64>,
    make: impl Fn(&mut Draw) -> CutProblem,
    mut see: impl FnMut(&CutProblem),
) -> usize {
    let mut compared = 0;
    for seed in seeds {
        let problem = make(&mut Draw::seeded(seed));
        let (kinds, counts) = kinds(&problem);
        let sources = sources_of(&problem);
        let mut boards = Boards::new(&kinds, &sources, |source| (source.price, 0), 30_000);
        if let Ok(best) = boards.least(&counts) {
            compare(&problem, best.map(|taken| taken.0));
            compared += 1;
            see(&problem);
        }
    }
    compared
}

/// Compares random problems with a solver; how many it solved.
fn by_solver(seeds: Range<u64>, make: impl Fn(&mut Draw) -> CutProblem) -> usize {
    let mut compared = 0;
    for seed in seeds {
        let problem = make(&mut Draw::seeded(seed));
        let (kinds, counts) = kinds(&problem);
        if let Some(best) = milp::cut(&kinds, &sources_of(&problem), &counts) {
            compare(&problem, best);
            compared += 1;
        }
    }
    compared
}

#[test]
fn small_problems_cost_what_enumeration_says() {
    let compared = by_enumeration(seeds(0, 1500), |draw| problem(draw, 6, 14), |_| {});
    assert!(compared > 1000, "{compared}");
}

#[test]
fn medium_problems_cost_what_the_solver_says() {
    let compared = by_solver(seeds(5_000, 250), |draw| problem(draw, 6, 60));
    assert!(compared > 100, "{compared}");
}

/// Boards in bundles: all of a bundle are paid, and none of a broken one is had.
#[test]
fn small_problems_in_bundles_cost_what_enumeration_says() {
    let mut left = 0;
    let make = |draw: &mut Draw| in_bundles(draw, 5, 12);
    let compared = by_enumeration(seeds(20_000, 1000), make, |problem| {
        let plan = solve(problem, &Unwatched);
        left += i32::from(plan.is_ok_and(|plan| !plan.left_over.is_empty()));
    });
    assert!(compared > 600 && left > 150, "{compared}, {left}");
}

#[test]
fn medium_problems_in_bundles_cost_what_the_solver_says() {
    let compared = by_solver(seeds(25_000, 120), |draw| in_bundles(draw, 5, 40));
    assert!(compared > 40, "{compared}");
}

/// Worked by hand: eight pieces of 1.1 m, no two in a board of 2 m, two in one of
/// 3 m. Singly 3 m boards at 5.00 take four, 20.00; in bundles of three they are
/// six, 30.00; three of them and two of 2 m at 4.00, in bundles of two, are 23.00.
#[test]
fn bundles_by_hand() {
    let mm = Length::from_mm(1);
    let board = |length: i64, cents: i64, bundle: u64, available: Option<u64>| StockBoard {
        length: mm * length,
        price: Some(Money::from_cents(cents)),
        on_hand: 0,
        available,
        bundle,
    };
    let cut = |stock: Vec<StockBoard>| {
        let pieces = vec![Demand {
            length: mm * 1100,
            count: 8,
        }];
        answer(&CutProblem {
            stock,
            pieces,
            kerf: Length::ZERO,
            end_trim: Length::ZERO,
        })
    };
    let cost = |stock| cut(stock).map(|plan| (plan.cost.cents(), plan.proven));
    assert_eq!(cost(vec![board(3000, 500, 1, None)]), Ok((2000, true)));
    let plan = cut(vec![board(3000, 500, 3, None)]).expect("boards");
    assert_eq!((plan.cost.cents(), plan.proven), (3000, true));
    assert_eq!(plan.left_over[0].count, 2);
    assert_eq!(plan.left_over[0].price.cents(), 1000);
    assert_eq!(plan.bought(0), 6);
    let both = |bundle| vec![board(3000, 500, 3, None), board(2000, 400, bundle, None)];
    assert_eq!(cost(both(2)), Ok((2300, true)));
    // In bundles of four they would be 15.00 and 16.00: six of 3 m are cheaper.
    assert_eq!(cost(both(4)), Ok((3000, true)));
    // Of five only three can be had, which hold six pieces.
    let few = cost(vec![board(3000, 500, 3, Some(5))]);
    assert_eq!(few, Err(StockError::NotEnough));
    let few = cost(vec![board(3000, 500, 3, Some(2))]);
    assert_eq!(few, Err(StockError::TooLong(0)));
}

fn construction() -> impl Strategy<Value = CutProblem> {
    strategy(|draw| problem(draw, 12, 120))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, max_shrink_iters: 200, ..ProptestConfig::default() })]

    /// A board that is neither longer nor cheaper than another changes nothing.
    #[test]
    fn a_dominated_board_changes_nothing(problem in construction(), shorter in 0_i64..40, dearer in 0_i64..300) {
        let Some(best) = problem.stock.iter().position(|s| s.price.is_some() && s.available.is_none()) else {
            return Ok(());
        };
        let mut wider = problem.clone();
        wider.stock.push(StockBoard {
            length: problem.stock[best].length - Length::from_inches(shorter),
            price: problem.stock[best].price.map(|price| price + Money::from_cents(dearer)),
            on_hand: 0,
            available: None,
            bundle: 1,
        });
        ordered(&problem, &wider, Ordering::Same);
    }

    /// A further board, one more from hand or one more that can be had never
    /// makes an answer dearer.
    #[test]
    fn more_to_choose_from_is_never_dearer(problem in construction(), which in 0_usize..6) {
        let mut wider = problem.clone();
        let index = which % wider.stock.len();
        match which % 3 {
            0 => {
                let on_hand = &mut wider.stock[index].on_hand;
                *on_hand = on_hand.saturating_add(1);
            }
            1 => wider.stock[index].available = wider.stock[index].available.map(|count| count.saturating_add(1)),
            _ => wider.stock.push(StockBoard {
                length: Length::from_inches(131),
                price: Some(Money::from_cents(999)),
                on_hand: 0,
                available: Some(3),
                bundle: 1,
            }),
        }
        ordered(&wider, &problem, Ordering::NotDearer);
    }

    /// A raised price, a wider kerf, a deeper trim or one more piece never makes
    /// an answer cheaper.
    #[test]
    fn more_to_pay_or_to_cut_is_never_cheaper(problem in construction(), which in 0_usize..8) {
        let mut harder = problem.clone();
        match which % 4 {
            0 => {
                let index = which % harder.stock.len();
                let price = &mut harder.stock[index].price;
                *price = price.map(|price| price + Money::from_cents(131));
            }
            1 => harder.kerf += Length::from_64ths(3),
            2 => harder.end_trim += Length::from_64ths(17),
            _ => {
                let index = which % harder.pieces.len();
                harder.pieces[index].count += 1;
            }
        }
        ordered(&problem, &harder, Ordering::NotDearer);
    }

    /// Twice as long throughout costs the same, twice as dear twice as much.
    #[test]
    fn scaling_changes_only_the_scale(problem in construction()) {
        let mut scaled = problem.clone();
        scaled.kerf = scaled.kerf * 2;
        scaled.end_trim = scaled.end_trim * 2;
        for piece in &mut scaled.pieces {
            piece.length = piece.length * 2;
        }
        for stock in &mut scaled.stock {
            stock.length = stock.length * 2;
        }
        ordered(&problem, &scaled, Ordering::Same);
        let mut dearer = problem.clone();
        for stock in &mut dearer.stock {
            stock.price = stock.price.map(|price| price * 2);
        }
        if let (Ok(one), Ok(two)) = (answer(&problem), answer(&dearer)) {
            prop_assert!(two.bound.cents() <= 2 * one.cost.cents());
            prop_assert!(2 * one.bound.cents() <= two.cost.cents());
        }
    }

    /// Equal pieces in one line or in several, in whatever order, are the same.
    #[test]
    fn the_list_may_be_written_in_any_way(problem in construction()) {
        let mut split = problem.clone();
        split.pieces = problem
            .pieces
            .iter()
            .rev()
            .flat_map(|piece| {
                let half = piece.count / 2;
                [half, piece.count - half].map(|count| Demand { length: piece.length, count })
            })
            .collect();
        ordered(&problem, &split, Ordering::Same);
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Ordering {
    NotDearer,
    Same,
}

/// Checks what two related problems' answers and bounds say of one another.
#[track_caller]
fn ordered(easier: &CutProblem, harder: &CutProblem, ordering: Ordering) {
    match (answer(easier), answer(harder)) {
        (Ok(easy), Ok(hard)) => {
            assert!(
                easy.bound <= hard.cost,
                "{easier:#?} {easy:#?} {harder:#?} {hard:#?}"
            );
            if ordering == Ordering::Same {
                assert!(
                    hard.bound <= easy.cost,
                    "{easier:#?} {easy:#?} {harder:#?} {hard:#?}"
                );
            }
        }
        (Ok(_), Err(StockError::NotEnough | StockError::TooLong(_)))
            if ordering == Ordering::NotDearer => {}
        (Err(StockError::NotEnough | StockError::TooLong(_)), Err(_)) => {}
        (easy, hard) => panic!("{easier:#?} {easy:?} {harder:#?} {hard:?}"),
    }
}

/// Twenty times the pieces out of boards without limit, within a hundredth of the
/// bound.
#[track_caller]
fn by_thousands(mut problem: CutProblem, seed: u64) {
    for piece in &mut problem.pieces {
        piece.count *= 20;
    }
    for stock in &mut problem.stock {
        stock.available = None;
        stock.price = stock.price.or(Some(Money::from_cents(1999)));
    }
    let plan = answer(&problem).expect("unlimited boards");
    let (cost, bound) = (plan.cost.cents(), plan.bound.cents());
    assert!((cost - bound) * 100 <= cost, "seed {seed}: {cost} {bound}");
}

/// Thousands of pieces, as a shop floor has them.
#[test]
fn thousands_of_pieces() {
    for seed in seeds(0, 12) {
        by_thousands(problem(&mut Draw::seeded(900 + seed), 25, 250), seed);
    }
}

/// Boards filled to the last step of the grid: the planted answer costs what the
/// bare material does, so no bound may pass it, and with many pieces to a board
/// it must be found again.
#[test]
fn planted_boards_without_waste() {
    for seed in seeds(0, 16) {
        let mut draw = Draw::seeded(70_000 + seed);
        let mm = Length::from_mm(1);
        let kerf = draw.between(0, 4);
        let least = draw.pick(&[200, 250, 300]);
        let stock: Vec<(i64, i64)> = (0..draw.between(1, 4))
            .map(|_| 2400 + 300 * draw.between(0, 12))
            .map(|length| (length, (length + kerf) * 2))
            .collect();
        let mut pieces: Vec<i64> = Vec::new();
        let mut cost = 0;
        for _ in 0..draw.between(2, 14) {
            let (length, price) = draw.pick(&stock);
            cost += price;
            let mut room = length + kerf;
            while room > 2 * (least + kerf) {
                let most = (least + kerf + 700).min(room - least - kerf);
                let size = draw.between(least + kerf, most);
                pieces.push(size - kerf);
                room -= size;
            }
            pieces.push(room - kerf);
        }
        let problem = CutProblem {
            stock: stock
                .iter()
                .map(|&(length, price)| StockBoard {
                    length: mm * length,
                    price: Some(Money::from_cents(price)),
                    on_hand: 0,
                    available: None,
                    bundle: 1,
                })
                .collect(),
            pieces: pieces
                .iter()
                .map(|&length| Demand {
                    length: mm * length,
                    count: 1,
                })
                .collect(),
            kerf: mm * kerf,
            end_trim: Length::ZERO,
        };
        let plan = answer(&problem).expect("unlimited boards");
        let (found, bound) = (plan.cost.cents(), plan.bound.cents());
        assert_eq!(bound, cost, "seed {seed}: the bound, bare material");
        assert!(found >= cost, "seed {seed}");
        if least <= 250 {
            assert_eq!(found, cost, "seed {seed}");
        }
        // Not found, then missed by a board or two.
        let dearest = stock.iter().map(|s| s.1).max().expect("a board");
        assert!(found - cost <= 2 * dearest, "seed {seed}: {found} {cost}");
    }
}

/// Many short pieces to a board are proven as well, and so are problems of
/// medium size whose boards are limited.
#[test]
fn short_pieces_are_proven() {
    for seed in seeds(0, 12) {
        let mut draw = Draw::seeded(80_000 + seed);
        let mm = Length::from_mm(1);
        let lengths: Vec<i64> = (0..4).map(|_| 2400 + 300 * draw.between(0, 12)).collect();
        let mut stock: Vec<StockBoard> = lengths
            .into_iter()
            .map(|length| StockBoard {
                length: mm * length,
                price: Some(Money::from_cents(length * draw.between(80, 120) / 100)),
                on_hand: 0,
                available: draw.chance(30).then(|| draw.between(1, 12) as u64),
                bundle: 1,
            })
            .collect();
        stock[0].available = None;
        let problem = CutProblem {
            stock,
            pieces: (0..draw.between(10, 30))
                .map(|_| Demand {
                    length: mm * draw.between(200, 900),
                    count: draw.between(1, 12) as u64,
                })
                .collect(),
            kerf: mm * 3,
            end_trim: Length::ZERO,
        };
        let plan = answer(&problem).expect("enough boards");
        assert!(
            plan.proven,
            "seed {seed}: {} {}",
            plan.cost.cents(),
            plan.bound.cents()
        );
    }
}

/// Thousands of pieces and of lengths, sold in bundles.
#[test]
fn many_pieces_in_bundles() {
    for seed in seeds(0, 6) {
        by_thousands(in_bundles(&mut Draw::seeded(900 + seed), 25, 250), seed);
    }
    let mut draw = Draw::seeded(91_000);
    let mm = Length::from_mm(1);
    let board = |length: i64, cents: i64, bundle: u64, available: Option<u64>| StockBoard {
        length: mm * length,
        price: Some(Money::from_cents(cents)),
        on_hand: 0,
        available,
        bundle,
    };
    let problem = CutProblem {
        stock: vec![
            board(3600, 4_010, 8, None),
            board(4800, 5_105, 7, Some(100)),
            board(6000, 6_600, 10, None),
        ],
        pieces: (0..400)
            .map(|_| Demand {
                length: mm * draw.between(300, 5000),
                count: draw.between(1, 2) as u64,
            })
            .collect(),
        kerf: mm * 3,
        end_trim: mm * 5,
    };
    let plan = answer(&problem).expect("unlimited boards");
    let (cost, bound) = (plan.cost.cents(), plan.bound.cents());
    assert!((cost - bound) * 100 <= 5 * cost, "{cost} {bound}");
}

/// Thousands of different lengths: a good answer, and a bound near it.
#[test]
fn thousands_of_lengths() {
    let mut draw = Draw::seeded(90_000);
    let mm = Length::from_mm(1);
    let board = |length: i64, cents: i64, available: Option<u64>| StockBoard {
        length: mm * length,
        price: Some(Money::from_cents(cents)),
        on_hand: 0,
        available,
        bundle: 1,
    };
    let problem = CutProblem {
        stock: vec![
            board(3600, 4_010, None),
            board(4800, 5_105, Some(200)),
            board(6000, 6_600, None),
        ],
        pieces: (0..1500)
            .map(|_| Demand {
                length: mm * draw.between(300, 5000),
                count: draw.between(1, 3) as u64,
            })
            .collect(),
        kerf: mm * 3,
        end_trim: mm * 5,
    };
    let plan = answer(&problem).expect("unlimited boards");
    let (cost, bound) = (plan.cost.cents(), plan.bound.cents());
    assert!((cost - bound) * 100 <= 3 * cost, "{cost} {bound}");
}
