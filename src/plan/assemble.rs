//! From counts to a plan that can be carried to the saw: pieces with their
//! names and places, boards with the pieces they give, and the totals.

use std::collections::VecDeque;

use super::master::Filling;
use super::model::Model;
use super::search::Laid;
use super::types::*;
use crate::job::{Job, Stock};
use crate::length::Length;
use crate::money::Money;

/// The name of a piece: its course and a letter from the left.
fn id(course: u32, place: usize) -> String {
    let mut letters = String::new();
    let mut n = place;
    loop {
        letters.insert(0, (b'a' + (n % 26) as u8) as char);
        if n < 26 {
            break;
        }
        n = n / 26 - 1;
    }
    format!("{course}{letters}")
}

/// The plan of laid courses.
pub(super) fn assemble(
    job: &Job,
    model: &Model,
    laid: &Laid,
    objective: Objective,
    bound: i64,
    stopped: bool,
) -> Plan {
    let run = &model.run;
    let mut waiting: Vec<VecDeque<String>> = vec![VecDeque::new(); model.rows];
    let mut courses: Vec<PlannedCourse> = Vec::new();
    for ((course, joints), &material) in model
        .layout
        .courses
        .iter()
        .zip(&laid.courses)
        .zip(&model.materials)
    {
        let mut at = 0;
        let mut pieces = Vec::new();
        for (n, &to) in joints.iter().chain([&run.end()]).enumerate() {
            let length = run.piece(at, to).expect("a plan is made of pieces") as usize;
            let id = id(course.number, n);
            waiting[model.rows_of(material).start + length].push_back(id.clone());
            pieces.push(PlannedPiece {
                id,
                from: run.starts(at),
                to: run.ends(to),
                length: run.lengths[length],
                board: 0,
            });
            at = to;
        }
        courses.push(PlannedCourse {
            number: course.number,
            from: course.from,
            to: course.to,
            width: course.width(),
            ripped: course.ripped,
            runs: vec![PlannedRun {
                from: run.from,
                to: run.to,
                pieces,
            }],
        });
    }
    let mut extras = extras(job, model, &mut waiting);
    let mut boards = boards(job, model, laid, &mut waiting);
    boards.sort_by(|a, b| {
        (a.stock, !a.on_hand, a.offcut, &a.pieces).cmp(&(b.stock, !b.on_hand, b.offcut, &b.pieces))
    });
    let mut board_of = std::collections::BTreeMap::new();
    for (i, board) in boards.iter_mut().enumerate() {
        board.number = i as u32 + 1;
        for piece in &board.pieces {
            board_of.insert(piece.clone(), board.number);
        }
    }
    for piece in courses
        .iter_mut()
        .flat_map(|c| &mut c.runs)
        .flat_map(|r| &mut r.pieces)
    {
        piece.board = board_of[&piece.id];
    }
    for extra in &mut extras {
        extra.board = board_of[&extra.id];
    }
    let left_over = left_over(job, &boards);
    let totals = totals(
        job, model, laid, &courses, &boards, &left_over, objective, bound, stopped,
    );
    Plan {
        fastener: model.layout.fastener,
        gap: model.layout.gap,
        supports: model.supports.centres.clone(),
        courses,
        extras,
        left_over,
        boards,
        totals,
        proof: None,
        joints_at_most: model.joints_at_most.map(|most| most as u32),
    }
}

/// What the bundles of the boards bought leave over.
fn left_over(job: &Job, boards: &[PlannedBoard]) -> Vec<LeftOver> {
    let of = |(stock, kind): (usize, &Stock)| {
        let bought = boards
            .iter()
            .filter(|board| board.stock == stock && !board.on_hand);
        let count = kind.left_over(bought.count() as u64) as u32;
        (count > 0).then(|| LeftOver {
            stock,
            count,
            price: kind.price.unwrap_or(Money::ZERO) * i64::from(count),
        })
    };
    job.stock.iter().enumerate().filter_map(of).collect()
}

/// The other pieces, each waiting for a board behind the courses' own.
fn extras(job: &Job, model: &Model, waiting: &mut [VecDeque<String>]) -> Vec<PlannedExtra> {
    let mut extras = Vec::new();
    for (place, extra) in job.extras.iter().enumerate() {
        let row = (0..model.rows)
            .find(|&row| model.extra[row] > 0 && model.lengths[row] == extra.length)
            .expect("every other piece has a row");
        for number in 1..=extra.count {
            let id = format!("{} {number}", extra.label);
            waiting[row].push_back(id.clone());
            extras.push(PlannedExtra {
                id,
                extra: place,
                length: extra.length,
                board: 0,
            });
        }
    }
    extras
}

/// Hands the waiting pieces out to boards; what a pattern holds too much is left
/// off, and a board left empty is left out.
fn boards(
    job: &Job,
    model: &Model,
    laid: &Laid,
    waiting: &mut [VecDeque<String>],
) -> Vec<PlannedBoard> {
    let mut boards = Vec::new();
    let mut hand_out = |pattern: &[(u16, u16)], pieces: &mut Vec<String>| -> Length {
        let mut used = Length::ZERO;
        let mut pattern = pattern.to_vec();
        pattern.sort_by_key(|&(row, _)| std::cmp::Reverse(model.lengths[row as usize]));
        for (row, n) in pattern {
            for _ in 0..n {
                if let Some(id) = waiting[row as usize].pop_front() {
                    used += model.lengths[row as usize] + job.cutting.kerf;
                    pieces.push(id);
                }
            }
        }
        used
    };
    for (k, filling, count) in &laid.boards {
        let kind = &model.kinds[*k];
        let stock = &job.stock[kind.stock];
        for _ in 0..*count {
            let mut pieces = Vec::new();
            let (used, strips) = match filling {
                Filling::Whole(pattern) => (hand_out(pattern, &mut pieces), None),
                Filling::Split(a, b) => {
                    let (mut one, mut two) = (Vec::new(), Vec::new());
                    let used = (hand_out(a, &mut one), hand_out(b, &mut two));
                    pieces.extend(one.iter().chain(&two).cloned());
                    // With one strip left empty the board need not be split.
                    if one.is_empty() || two.is_empty() {
                        (used.0.max(used.1), None)
                    } else {
                        (used.0.min(used.1), Some([one, two]))
                    }
                }
            };
            if pieces.is_empty() {
                continue;
            }
            boards.push(PlannedBoard {
                number: 0,
                stock: kind.stock,
                length: stock.length,
                price: if kind.on_hand {
                    Money::ZERO
                } else {
                    stock.price.unwrap_or(Money::ZERO)
                },
                on_hand: kind.on_hand,
                pieces,
                strips,
                offcut: (kind.usable - used).max(Length::ZERO),
            });
        }
    }
    boards
}

#[expect(
    clippy::too_many_arguments,
    reason = "one place where everything meets"
)]
fn totals(
    job: &Job,
    model: &Model,
    laid: &Laid,
    courses: &[PlannedCourse],
    boards: &[PlannedBoard],
    left_over: &[LeftOver],
    objective: Objective,
    bound: i64,
    stopped: bool,
) -> Totals {
    let spare: Money = left_over.iter().map(|left| left.price).sum();
    let price = boards.iter().map(|b| b.price).sum::<Money>() + spare;
    let joints: usize = laid.courses.iter().map(Vec::len).sum();
    let mut carrying: Vec<u16> = laid.courses.iter().flatten().copied().collect();
    carrying.sort_unstable();
    carrying.dedup();
    let doubled = carrying.len();
    let cost =
        price + job.joints.price * joints as i64 + job.joints.doubled_joist_price * doubled as i64;
    let spare = |left: &LeftOver| job.stock[left.stock].length * i64::from(left.count);
    let spare: Length = left_over.iter().map(spare).sum();
    let bought = boards.iter().map(|b| b.length).sum::<Length>() + spare;
    let laid_length = courses
        .iter()
        .flat_map(|c| &c.runs)
        .flat_map(|r| &r.pieces)
        .map(|p| p.to - p.from)
        .sum();
    let unit = model.weights.unit;
    let step = model.length_step;
    let (value, bound_value, weight) = match objective {
        Objective::Cost => (
            cost.cents(),
            bound / unit,
            cost.cents() * unit + joints as i64,
        ),
        Objective::Joints => (
            joints as i64,
            bound / unit,
            joints as i64 * unit + cost.cents(),
        ),
        Objective::Waste => (
            bought.units(),
            bound / unit * step,
            bought.units() / step * unit + cost.cents(),
        ),
    };
    let bound_value = bound_value.min(value);
    Totals {
        boards: boards.len() as u32,
        price,
        joints: joints as u32,
        doubled_joists: doubled as u32,
        objective,
        cost,
        value,
        bound: bound_value,
        proven: bound_value == value,
        joints_proven: match objective {
            Objective::Cost => bound >= weight,
            Objective::Joints => bound_value == value,
            Objective::Waste => false,
        },
        stopped: stopped && bound < weight,
        bought,
        laid: laid_length,
        extra: (job.extras.iter())
            .map(|extra| extra.length * i64::from(extra.count))
            .sum(),
    }
}
