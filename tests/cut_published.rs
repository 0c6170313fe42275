//! Published cutting-stock instances and their optima. Lengths are unitless in
//! the sources: one unit is 1 mm here, and one unit of cost is one cent. Optima
//! called computed were found by an exact pattern or arc-flow model in a
//! general-purpose solver with no gap left.

use lastcourse::length::Length;
use lastcourse::money::Money;
use lastcourse::stock::{CutPlan, CutProblem, Demand, StockBoard, solve};
use lastcourse::verify;
use lastcourse::watch::Unwatched;

/// Cuts pieces (tenths of a unit, count) from stock (tenths, cents) and expects
/// exactly this cost, proven.
#[track_caller]
fn costs(stock: &[(i64, i64)], pieces: &[(i64, u64)], kerf: Length, cost: i64) -> CutPlan {
    solved(&problem(stock, pieces, kerf), cost)
}

/// Pieces (tenths of a unit, count) to be cut from stock (tenths, cents).
fn problem(stock: &[(i64, i64)], pieces: &[(i64, u64)], kerf: Length) -> CutProblem {
    CutProblem {
        stock: stock
            .iter()
            .map(|&(length, price)| StockBoard {
                length: Length::from_tenths_of_mm(length),
                price: Some(Money::from_cents(price)),
                on_hand: 0,
                available: None,
                bundle: 1,
            })
            .collect(),
        pieces: pieces
            .iter()
            .map(|&(length, count)| Demand {
                length: Length::from_tenths_of_mm(length),
                count,
            })
            .collect(),
        kerf,
        end_trim: Length::ZERO,
    }
}

#[track_caller]
fn solved(problem: &CutProblem, cost: i64) -> CutPlan {
    let plan = solve(problem, &Unwatched).expect("an answer");
    let faults = verify::cut(problem, &plan);
    assert!(faults.is_empty(), "{faults:#?}");
    assert_eq!(
        (plan.cost.cents(), plan.bound.cents(), plan.proven),
        (cost, cost, true)
    );
    plan
}

/// One stock length at one cent a bar: the cost is the number of bars.
#[track_caller]
fn bars(stock: i64, pieces: &[(i64, u64)], bars: i64) -> CutPlan {
    let tenths: Vec<(i64, u64)> = pieces
        .iter()
        .map(|&(length, count)| (10 * length, count))
        .collect();
    costs(&[(10 * stock, 1)], &tenths, Length::ZERO, bars)
}

fn singles(lengths: &str) -> Vec<(i64, u64)> {
    lengths
        .split_whitespace()
        .map(|length| (length.parse().expect("a length"), 1))
        .collect()
}

/// The encyclopaedia's cutting-stock example: paper rolls of 5600 mm in 13
/// widths, 73 rolls with 0.401 % waste (Wikipedia, "Cutting stock problem").
#[test]
fn paper_rolls() {
    let plan = bars(
        5600,
        &[
            (1380, 22),
            (1520, 25),
            (1560, 12),
            (1710, 14),
            (1820, 18),
            (1880, 18),
            (1930, 20),
            (2000, 10),
            (2050, 12),
            (2100, 14),
            (2140, 16),
            (2150, 18),
            (2200, 20),
        ],
        73,
    );
    let waste: i64 = plan
        .boards
        .iter()
        .map(|board| board.offcut.units() * board.count as i64)
        .sum();
    assert_eq!(waste, Length::from_mm(1640).units());
}

/// V. Chvátal, Linear Programming (1983), pp. 195-198: 453 rolls, the linear
/// program's bound being 452.25.
#[test]
fn chvatal() {
    bars(100, &[(45, 97), (36, 610), (31, 395), (14, 211)], 453);
}

/// R. Fourer, D. M. Gay and B. W. Kernighan, AMPL, the cutting-stock example
/// `cut.mod`: 47 rolls, bound 46.25 (optimum computed).
#[test]
fn ampl_book() {
    bars(110, &[(20, 48), (45, 35), (50, 24), (55, 10), (75, 8)], 47);
}

/// Three stock lengths with prices: the numeric example of P. C. Gilmore and
/// R. E. Gomory, "A linear programming approach to the cutting-stock problem",
/// Operations Research 9 (1961), as given in Hands-On Mathematical Optimization
/// with Python; no waste at 170, and the single lengths' optima (computed).
#[test]
fn gilmore_and_gomory() {
    let pieces = [(20, 20), (30, 10), (40, 20)];
    let stock = [(50, 6), (60, 7), (90, 10)];
    let plan = costs(&stock, &pieces, Length::ZERO, 170);
    assert!(plan.boards.iter().all(|board| board.offcut == Length::ZERO));
    costs(&stock[2..], &pieces, Length::ZERO, 180);
    costs(&stock[1..2], &pieces, Length::ZERO, 175);
    costs(&stock[..1], &pieces, Length::ZERO, 210);
}

/// W. L. Winston, Operations Research, the Woodco lumber example: 19 boards
/// (optimum computed).
#[test]
fn woodco() {
    bars(17, &[(3, 25), (5, 20), (9, 15)], 19);
}

/// L. V. Kantorovich, "Mathematical methods of organizing and planning
/// production" (1939, English in Management Science 6, 1960, 366-422),
/// minimisation of scrap: 100 sets of 2.9, 2.1 and 1.5 m from 7.4 m bars take
/// 90 bars (figure from memory, optimum computed).
#[test]
fn kantorovich() {
    costs(
        &[(74_000, 1)],
        &[(29_000, 100), (21_000, 100), (15_000, 100)],
        Length::ZERO,
        90,
    );
}

/// H. A. Taha, Operations Research, the trim-loss example, also the sponge
/// rolls of the PuLP examples: bound 262.5 (optimum computed).
#[test]
fn trim_loss() {
    bars(20, &[(5, 150), (7, 200), (9, 300)], 263);
}

/// Lumber-yard exercises of the textbooks in 25 ft, 20 ft and 22 in boards
/// (optima computed).
#[test]
fn lumber_yards() {
    bars(25, &[(7, 5000), (9, 1200), (11, 300)], 2167);
    bars(25, &[(7, 700), (9, 1200), (10, 500)], 875);
    bars(20, &[(3, 50), (4, 25), (8, 15), (10, 70)], 54);
    bars(22, &[(3, 80), (5, 120), (7, 110)], 74);
}

/// The cutting-stock model of the MiniZinc benchmarks (after Puchinger and
/// Raidl, 2007): 4 bars (optimum computed).
#[test]
fn minizinc() {
    bars(10, &[(7, 2), (5, 2), (3, 4)], 4);
}

/// A pipe-cutting notebook example, 19 m pipes (optimum computed).
#[test]
fn pipes() {
    bars(19, &[(4, 12), (5, 15), (6, 22)], 14);
}

/// The column-generation tutorial of the JuMP documentation: 20 orders from
/// 100-unit rolls, 334 rolls. No fewer: 334 pieces are longer than half a roll.
#[test]
fn jump_tutorial() {
    costs(
        &[(1000, 1)],
        &[
            (750, 38),
            (750, 44),
            (750, 30),
            (750, 41),
            (750, 36),
            (538, 33),
            (530, 36),
            (510, 41),
            (502, 35),
            (322, 37),
            (308, 44),
            (298, 49),
            (201, 37),
            (162, 36),
            (145, 42),
            (110, 33),
            (86, 47),
            (82, 35),
            (66, 49),
            (51, 42),
        ],
        Length::ZERO,
        334,
    );
}

/// The bin-packing page of the OR-Tools documentation: 4 bins (data from
/// memory, optimum computed).
#[test]
fn eleven_items() {
    bars(
        100,
        &[
            (48, 1),
            (30, 2),
            (19, 1),
            (36, 3),
            (27, 1),
            (42, 2),
            (24, 1),
        ],
        4,
    );
}

/// A public unit test of a column-generation library: bound 600.375 (optimum
/// computed).
#[test]
fn four_widths() {
    bars(20, &[(6, 383), (7, 263), (8, 301), (9, 511)], 601);
}

/// Variable-sized bin packing with concave prices: instance conc100-1-1 after
/// M. Haouari and M. Serairi, "Heuristics for the variable sized bin-packing
/// problem", Computers & Operations Research 36 (2009). Optimum computed:
/// 3 × 190, 2 × 220 and 47 × 250 for 8185.
#[test]
fn variable_sized_bins() {
    let items = singles(
        "39 220 239 188 106 48 116 36 201 113 104 101 143 32 38 172 196 36 248 181 227 142 156 157
         208 74 132 241 226 29 197 91 91 88 158 238 112 118 207 118 34 129 224 138 98 85 213 112 79
         67 130 155 30 6 139 150 80 177 82 15 115 137 179 103 153 155 88 107 99 23 98 214 184 204 11
         193 248 126 122 5 174 153 70 5 240 187 55 188 24 86 34 144 21 75 234 212 125 66 70 81",
    );
    assert_eq!(items.iter().map(|item| item.0).sum::<i64>(), 12_518);
    let tenths: Vec<(i64, u64)> = items
        .iter()
        .map(|&(length, count)| (10 * length, count))
        .collect();
    costs(
        &[
            (700, 84),
            (1000, 100),
            (1300, 115),
            (1600, 127),
            (1900, 138),
            (2200, 149),
            (2500, 159),
        ],
        &tenths,
        Length::ZERO,
        8185,
    );
}

/// E. Falkenauer, "A hybrid grouping genetic algorithm for bin packing", Journal
/// of Heuristics 2 (1996): u120_00 of the OR-Library's binpack1, 48 bins.
#[test]
fn falkenauer_u120_00() {
    let items = singles(
        "42 69 67 57 93 90 38 36 45 42 33 79 27 57 44 84 86 92 46 38 85 33 82 73 49 70 59 23 57 72 74
         69 33 42 28 46 30 64 29 74 41 49 55 98 80 32 25 38 82 30 35 39 57 84 62 50 55 27 30 36 20 78
         47 26 45 41 58 98 91 96 73 84 37 93 91 43 73 85 81 79 71 80 76 83 41 78 70 23 42 87 43 84 60
         55 49 78 73 62 36 44 94 69 32 96 70 84 58 78 25 80 58 66 83 24 98 60 42 43 43 39",
    );
    assert_eq!(items.iter().map(|item| item.0).sum::<i64>(), 7_078);
    bars(150, &items, 48);
}

/// US Army correspondence course EN0069A, paras 4-6 and 4-7: nine 36 in pieces
/// come from three 10 ft boards with 12 in left of each. At one price a foot
/// that is also the cheapest (computed).
#[test]
fn nine_short_pieces() {
    let inch = |count: i64| 254 * count;
    let plan = costs(
        &[(inch(96), 800), (inch(120), 1000)],
        &[(inch(36), 9)],
        Length::ZERO,
        3000,
    );
    assert_eq!(plan.boards.iter().map(|board| board.count).sum::<u64>(), 3);
    assert_eq!(plan.boards[0].offcut, Length::from_inches(12));
}

/// US Army correspondence course EN0069A, paras 4-5 to 4-7 and their answers: the
/// length of board a piece should come from, at one price a foot. What is left
/// of each board is the course's; that the course's choice is cheapest follows
/// from it.
#[test]
fn the_board_that_wastes_least() {
    let inch = |count: i64| 254 * count;
    let feet = |count: i64| (inch(12 * count), 100 * count);
    // Out of all lengths from 8 to 20 ft, two feet apart.
    let all: Vec<(i64, i64)> = (4..=10).map(|half| feet(2 * half)).collect();
    let best = |piece: i64, count: u64, cost: i64| {
        costs(&all, &[(inch(piece), count)], Length::ZERO, cost);
    };
    // 54 in, two of them: a board of 10 ft with 12 in left, not one of 12 ft.
    let ten = costs(&[feet(10), feet(12)], &[(inch(54), 2)], Length::ZERO, 1000);
    assert_eq!(ten.boards[0].offcut, Length::from_inches(12));
    best(54, 2, 1000);
    // 36 in, two of them: 8 ft; the third piece of 10 ft would be waste.
    costs(&[feet(8), feet(10)], &[(inch(36), 2)], Length::ZERO, 800);
    best(36, 2, 800);
    // Nine of them out of 8 ft alone are five boards.
    let eights = costs(&[feet(8)], &[(inch(36), 9)], Length::ZERO, 4000);
    assert_eq!(
        eights.boards.iter().map(|board| board.count).sum::<u64>(),
        5
    );
    // 28 in, four of them: 10 ft with 8 in left; 12 ft would give five.
    let four = costs(&[feet(10), feet(12)], &[(inch(28), 4)], Length::ZERO, 1000);
    assert_eq!(four.boards[0].offcut, Length::from_inches(8));
    best(28, 4, 1000);
}

/// Kerfs, computed: pieces fit while the sum of piece and kerf is at most the
/// board and one kerf.
#[test]
fn kerfs() {
    let eighth = Length::from_64ths(8);
    let foot = 12 * 254;
    let inch = 254;
    let sixteen = [(16 * foot, 1)];
    costs(&sixteen, &[(4 * foot, 12)], Length::ZERO, 3);
    costs(&sixteen, &[(4 * foot, 12)], eighth, 4);
    costs(&sixteen, &[(5 * foot + 4 * inch, 12)], Length::ZERO, 4);
    costs(&sixteen, &[(5 * foot + 4 * inch, 12)], eighth, 6);
    let stock = [
        (8 * foot, 800),
        (10 * foot, 1060),
        (12 * foot, 1240),
        (16 * foot, 1720),
        (20 * foot, 2350),
    ];
    let pieces = [
        (13 * foot + 6 * inch, 10),
        (6 * foot + 8 * inch, 14),
        (4 * foot, 9),
        (2 * foot + 8 * inch, 6),
    ];
    costs(&stock, &pieces, Length::ZERO, 32_760);
    costs(&stock, &pieces, eighth, 33_960);
}
