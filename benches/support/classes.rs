//! Classes of cutting problems from fixed seeds: what a building site asks for,
//! and what the literature measures by. Published classes are drawn anew from
//! their published ranges, so that single problems differ from the published
//! files; ranges are from memory where that is said.

use std::collections::BTreeMap;

use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::stock::{CutProblem, Demand, StockBoard};

use super::draw::Draw;

/// A class: its name, what it is, and its problems.
pub struct Class {
    /// A short name to ask for it by.
    pub name: &'static str,
    /// What is in it.
    pub what: &'static str,
    /// The problems.
    pub problems: Vec<CutProblem>,
}

/// Boards (length, price, limit) and pieces (length, count) in steps of `step`.
fn problem(
    stock: &[(i64, i64, Option<i64>)],
    pieces: impl IntoIterator<Item = (i64, i64)>,
    step: Length,
    kerf: i64,
) -> CutProblem {
    let mut counts: BTreeMap<i64, i64> = BTreeMap::new();
    for (length, count) in pieces {
        *counts.entry(length).or_default() += count;
    }
    CutProblem {
        stock: stock
            .iter()
            .map(|&(length, cents, limit)| StockBoard {
                length: step * length,
                price: Some(Money::from_cents(cents)),
                on_hand: 0,
                available: limit.map(|limit| limit as u64),
                bundle: 1,
            })
            .collect(),
        pieces: counts
            .into_iter()
            .rev()
            .map(|(length, count)| Demand {
                length: step * length,
                count: count as u64,
            })
            .collect(),
        kerf: step * kerf,
        end_trim: Length::ZERO,
    }
}

/// Single items from boards of one length, to be counted.
fn bins(capacity: i64, items: impl IntoIterator<Item = i64>) -> CutProblem {
    let pieces = items.into_iter().map(|size| (size, 1));
    problem(&[(capacity, 1, None)], pieces, Length::from_mm(1), 0)
}

/// Single items from boards of several lengths and prices.
fn sizes(boards: &[(i64, i64)], items: impl IntoIterator<Item = i64>) -> CutProblem {
    let stock: Vec<_> = boards.iter().map(|b| (b.0, b.1, None)).collect();
    let pieces = items.into_iter().map(|size| (size, 1));
    problem(&stock, pieces, Length::from_mm(1), 0)
}

fn uniform(draw: &mut Draw, n: i64, least: i64, most: i64) -> Vec<i64> {
    (0..n).map(|_| draw.between(least, most)).collect()
}

/// Boards as a yard has them in metric: 2.4 to 6 m by the 0.3 m, some 1.10 a metre
/// give or take a fifth, to the cent; 6 m always among them.
fn yard(draw: &mut Draw, kinds: i64, limits: bool) -> Vec<(i64, i64, Option<i64>)> {
    let mut stock: Vec<_> = (0..kinds)
        .map(|_| {
            let length = 2400 + 300 * draw.between(0, 12);
            let cents = length * draw.between(80, 120) / 100;
            let limited = limits && draw.between(0, 3) == 0;
            let limit = draw.between(3, 40);
            (length, cents, limited.then_some(limit))
        })
        .collect();
    stock.push((6000, 6600, None));
    stock
}

/// 5 to 60 lengths of up to 12 pieces, 2 to 8 stock lengths and 6 m, limits, 3 mm kerf.
fn construction(draw: &mut Draw) -> CutProblem {
    let lengths = draw.between(5, 60);
    let kinds = draw.between(2, 8);
    let stock = yard(draw, kinds, true);
    let pieces: Vec<_> = (0..lengths)
        .map(|_| (draw.between(600, 5900), draw.between(1, 12)))
        .collect();
    problem(&stock, pieces, Length::from_mm(1), 3)
}

/// The same in feet and sixteenths, 8 to 20 ft, kerf an eighth.
fn inches(draw: &mut Draw) -> CutProblem {
    let lengths = draw.between(5, 60);
    let mut stock = Vec::new();
    for feet in [8, 10, 12, 14, 16, 20] {
        let limit = draw.between(3, 40);
        let limited = feet < 20 && draw.between(0, 3) == 0;
        let cents = feet * draw.between(200, 280);
        stock.push((feet * 192, cents, limited.then_some(limit)));
    }
    let pieces: Vec<_> = (0..lengths)
        .map(|_| (draw.between(24 * 16, 232 * 16), draw.between(1, 12)))
        .collect();
    problem(&stock, pieces, Length::from_64ths(4), 2)
}

/// 20 to 60 lengths of a range in tenths of a millimetre or whole ones.
fn range(draw: &mut Draw, least: i64, most: i64, parts: i64) -> CutProblem {
    let lengths = draw.between(20, 60);
    let mut stock = yard(draw, 5, false);
    for board in &mut stock {
        board.0 *= parts;
    }
    let pieces: Vec<_> = (0..lengths)
        .map(|_| {
            (
                draw.between(least * parts, most * parts),
                draw.between(1, 12),
            )
        })
        .collect();
    let step = Length::from_tenths_of_mm(10 / parts);
    problem(&stock, pieces, step, 3 * parts)
}

/// Many different lengths, few of each.
fn large(draw: &mut Draw, lengths: i64, most_each: i64) -> CutProblem {
    let stock = yard(draw, 5, false);
    let pieces: Vec<_> = (0..lengths)
        .map(|_| (draw.between(300, 5000), draw.between(1, most_each)))
        .collect();
    problem(&stock, pieces, Length::from_mm(1), 3)
}

/// Falkenauer (1996): three items fill a bin of 1000 exactly, the first from 380
/// to 490, the second from 250 to half of what it leaves (ranges from memory).
fn triplets(draw: &mut Draw, n: i64) -> CutProblem {
    let mut items = Vec::new();
    for _ in 0..n / 3 {
        let first = draw.between(380, 490);
        let second = draw.between(250, (1000 - first) / 2 - 1);
        items.extend([first, second, 1000 - first - second]);
    }
    bins(1000, items)
}

/// Scholl, Klein and Jürgens (1997), second set: capacity 1000, a mean of so much
/// and a deviation of so many per cent (from memory).
fn scholl2(draw: &mut Draw, n: i64, share: i64, deviation: i64) -> CutProblem {
    let mean = 1000 / share;
    let spread = mean * deviation / 100;
    let items = uniform(draw, n, (mean - spread).max(1), mean + spread);
    bins(1000, items)
}

/// Gau and Wäscher's generator CUTGEN1 (1995): so many lengths up to a share of
/// 10,000, a mean demand split by random weights (from memory). Wäscher and Gau's
/// own 17 problems (1996) were picked from very many as hard ones.
fn cutgen(draw: &mut Draw, lengths: i64, share: i64, mean: i64) -> CutProblem {
    let total = lengths * mean;
    let sizes = uniform(draw, lengths, 1, 10_000 * share / 100);
    let weights: Vec<i64> = sizes.iter().map(|_| draw.between(1, 10_000)).collect();
    let sum: i64 = weights.iter().sum();
    let counts = weights.iter().map(|w| (total * w / sum).max(1));
    let pieces: Vec<_> = sizes.iter().copied().zip(counts).collect();
    problem(&[(10_000, 1, None)], pieces, Length::from_mm(1), 0)
}

/// Monaci (2002), also the first set of Crainic, Perboli, Rei and Tadei (2011):
/// three or five bins priced by what they hold (from memory).
fn monaci(draw: &mut Draw, n: i64, least: i64, five: bool) -> CutProblem {
    let three = [(100, 100), (120, 120), (150, 150)];
    let more = [(60, 60), (80, 80), (100, 100), (120, 120), (150, 150)];
    let items = uniform(draw, n, least, 100);
    sizes(if five { &more } else { &three }, items)
}

/// After Crainic, Perboli, Rei and Tadei (2011): bins of 50 to 150 % of a size
/// with prices near their size, so many items to a bin (ranges from memory, coarse).
fn crainic(draw: &mut Draw, n: i64, per_bin: i64) -> CutProblem {
    let boards: Vec<(i64, i64)> = [500, 800, 1000, 1200, 1500]
        .into_iter()
        .map(|size| (size, size * draw.between(90, 110) / 100))
        .collect();
    let mean = 1000 / per_bin;
    let items = uniform(draw, n, mean / 5 + 1, mean * 9 / 5);
    sizes(&boards, items)
}

/// Correia, Gouveia and Saldanha-da-Gama (2008), also Haouari and Serairi (2011):
/// seven bins from 70 to 250, priced at ten times the root of what they hold,
/// rounded up; items of a range (ranges from memory).
fn haouari(draw: &mut Draw, n: i64, least: i64, most: i64) -> CutProblem {
    let boards = [
        (70, 84),
        (100, 100),
        (130, 115),
        (160, 127),
        (190, 138),
        (220, 149),
        (250, 159),
    ];
    let items = uniform(draw, n, least, most);
    sizes(&boards, items)
}

/// All classes.
pub fn all() -> Vec<Class> {
    let mut classes = Vec::new();
    let mut add = |name, what, count: usize, make: &dyn Fn(&mut Draw, usize) -> CutProblem| {
        let seed = 1000 * (classes.len() as u64 + 1);
        let problems = (0..count).map(|i| make(&mut Draw(seed + i as u64), i));
        classes.push(Class {
            name,
            what,
            problems: problems.collect(),
        });
    };
    let ns = |i: usize, ns: &[i64]| ns[i % ns.len()];
    add(
        "construction",
        "5 to 60 lengths of 0.6 to 5.9 m, 3 to 9 boards, 1 mm",
        200,
        &|d, _| construction(d),
    );
    add(
        "inches",
        "5 to 60 lengths of 2 to 19 ft, 6 boards, 1/16 in",
        100,
        &|d, _| inches(d),
    );
    add("long", "20 to 60 lengths of 1.2 to 5.9 m", 30, &|d, _| {
        range(d, 1200, 5900, 1)
    });
    add("mid", "20 to 60 lengths of 0.6 to 3 m", 30, &|d, _| {
        range(d, 600, 3000, 1)
    });
    add("short", "20 to 60 lengths of 0.2 to 0.9 m", 30, &|d, _| {
        range(d, 200, 900, 1)
    });
    add("short-fine", "the same to 0.1 mm", 20, &|d, _| {
        range(d, 200, 900, 10)
    });
    add("many", "200 lengths of up to 40 pieces", 6, &|d, _| {
        large(d, 200, 40)
    });
    add("thousands", "1,000 to 4,000 lengths", 6, &|d, i| {
        large(d, ns(i, &[1000, 2000, 4000]), 3)
    });
    add(
        "falkenauer-u",
        "uniform, 120 to 1,000 items",
        40,
        &|d, i| {
            let n = ns(i, &[120, 250, 500, 1000]);
            let items = uniform(d, n, 20, 100);
            bins(150, items)
        },
    );
    add("falkenauer-t", "triplets, 60 to 501 items", 40, &|d, i| {
        triplets(d, ns(i, &[60, 120, 249, 501]))
    });
    add(
        "scholl-1",
        "50 to 500 items of up to 100 in 100, 120 or 150",
        72,
        &|d, i| {
            let n = ns(i, &[50, 100, 200, 500]);
            let least = ns(i / 4, &[1, 20, 30]);
            let items = uniform(d, n, least, 100);
            bins(ns(i / 12, &[100, 120, 150]), items)
        },
    );
    add(
        "scholl-2",
        "50 to 500 items, 3 to 9 of them in 1,000",
        48,
        &|d, i| {
            scholl2(
                d,
                ns(i, &[50, 100, 200, 500]),
                ns(i / 4, &[3, 5, 7, 9]),
                ns(i / 16, &[20, 50, 90]),
            )
        },
    );
    add(
        "scholl-3",
        "200 items of 20,000 to 35,000 in 100,000",
        10,
        &|d, _| {
            let items = uniform(d, 200, 20_000, 35_000);
            bins(100_000, items)
        },
    );
    add(
        "schwerin",
        "100 and 120 items of 150 to 200 in 1,000",
        40,
        &|d, i| {
            let items = uniform(d, ns(i, &[100, 120]), 150, 200);
            bins(1000, items)
        },
    );
    add("waescher-gau", "10 to 50 lengths in 10,000", 48, &|d, i| {
        cutgen(
            d,
            ns(i, &[10, 20, 30, 50]),
            ns(i / 4, &[25, 50, 75, 100]),
            ns(i / 16, &[1, 5, 20]),
        )
    });
    add(
        "monaci",
        "25 to 500 items, 3 or 5 bins priced by size",
        60,
        &|d, i| {
            monaci(
                d,
                ns(i, &[25, 50, 100, 200, 500]),
                ns(i / 5, &[1, 20, 50]),
                i / 15 % 2 == 1,
            )
        },
    );
    add(
        "crainic-few",
        "100 to 500 items, 5 to 8 a bin",
        30,
        &|d, i| crainic(d, ns(i, &[100, 200, 500]), ns(i / 3, &[5, 8])),
    );
    add("crainic-many", "100 to 500 items, 28 a bin", 12, &|d, i| {
        crainic(d, ns(i, &[100, 200, 500]), 28)
    });
    add(
        "haouari-serairi",
        "100 to 500 items, 7 bins at the root of their size",
        45,
        &|d, i| {
            let (least, most) = [(1, 250), (50, 250), (20, 100)][i / 3 % 3];
            haouari(d, ns(i, &[100, 200, 500]), least, most)
        },
    );
    classes
}
