//! Which pieces of boards may be cut down to others: to the next shorter one, and a
//! piece of a whole board to a strip as long. With that, integer programs need only
//! boards none of whose pieces could be longer, a small part of all. How such boards
//! are found is left to [`crate::stock`].

use itertools::Itertools;

use super::master::{Filled, Filling};
use super::model::{Model, Split};
use crate::length::Length;
use crate::stock::{Boards, Longest, Pattern};

/// The pieces that are needed, what they may come down from, and what boards are worth
/// at some prices of theirs.
pub(crate) struct CutDown {
    needed: Vec<bool>,
    /// What whole boards are cut to.
    whole: Pieces,
    /// By material; nothing of those that are no strips.
    strips: Vec<Option<Pieces>>,
    /// Strips of which two make a board.
    splits: Vec<Split>,
    /// Rows of whole boards' pieces, and those of strips as long.
    ripped: Vec<(u16, u16)>,
}

/// Boards of one kind.
pub(super) struct OfKind {
    pub whole: Vec<Filling>,
    /// Ways to split one.
    pub splits: Vec<Split>,
    /// The strips of each material that is split off.
    pub strips: Vec<(u16, Vec<Pattern>)>,
}

/// Pieces of boards or of their strips.
struct Pieces {
    /// The row of each length, longest first.
    rows: Vec<u16>,
    longest: Longest,
}

impl Pieces {
    fn new(model: &Model, rows: Vec<u16>, price: impl Fn(u16) -> i64) -> Pieces {
        let length = |row: &u16| model.lengths[usize::from(*row)];
        let lengths: Vec<Length> = rows.iter().map(length).collect();
        let usable: Vec<Length> = model.kinds.iter().map(|kind| kind.usable).collect();
        let boards = Boards::new(&lengths, &usable, model.kerf, None);
        Pieces {
            longest: Longest::new(boards, rows.iter().map(|&row| price(row))),
            rows,
        }
    }

    /// Patterns of rows that every one worth at least `floor` comes of.
    fn near(&self, kind: usize, floor: i64, most: usize) -> Option<Vec<Pattern>> {
        let patterns = self.longest.near(kind, floor, most)?.into_iter();
        let row = |&(at, n): &(u16, u16)| (self.rows[usize::from(at)], n);
        let of_rows = |pattern: Pattern| pattern.iter().map(row).sorted().collect();
        Some(patterns.map(of_rows).collect())
    }

    /// Each row and the next shorter one, shortest first.
    fn shorter(&self) -> impl Iterator<Item = (u16, u16)> {
        let rows = self.rows.iter().rev().copied();
        rows.tuple_windows().map(|(to, from)| (from, to))
    }
}

impl CutDown {
    /// Of the rows of a model that are needed, at prices of all rows.
    pub(super) fn new(model: &Model, needed: Vec<bool>, prices: &[i64]) -> CutDown {
        let materials = model.materials.iter().copied().max().unwrap_or(0);
        let extra = model.rows_of(materials).end..model.rows;
        let alike = |length: usize| (0..=materials).map(move |m| model.rows_of(m).start + length);
        let price = |row: usize| if needed[row] { prices[row] } else { 0 };
        // Every length that is needed at all may be cut of a whole board.
        let lengths = model.rows_of(0);
        let lengths = lengths.filter(|&length| alike(length).any(|row| needed[row]));
        let whole = lengths.chain(extra.clone().filter(|&row| needed[row]));
        let whole = whole.sorted_by_key(|&row| std::cmp::Reverse(model.lengths[row]));
        let whole = whole.map(|row| row as u16).collect();
        let worth = |row: u16| match usize::from(row) {
            row if extra.contains(&row) => price(row),
            length => alike(length).map(price).max().unwrap_or(0),
        };
        let ripped = (1..=materials).flat_map(|m| model.rows_of(m));
        let ripped = ripped.filter(|&row| needed[row]);
        let as_long = |row: usize| (row % model.rows_of(0).len()) as u16;
        let strip = |material: u16| {
            let used = |&(a, b): &Split| a == material || b == material;
            let rows = model.rows_of(material).filter(|&row| needed[row]);
            let rows = rows.map(|row| row as u16).collect();
            let split = model.splits.iter().any(used);
            split.then(|| Pieces::new(model, rows, |row| price(usize::from(row))))
        };
        CutDown {
            whole: Pieces::new(model, whole, worth),
            strips: (0..=materials).map(strip).collect(),
            splits: model.splits.clone(),
            ripped: ripped.map(|row| (as_long(row), row as u16)).collect(),
            needed,
        }
    }

    /// Whether just these rows are needed.
    pub(super) fn is_of(&self, needed: &[bool]) -> bool {
        self.needed == needed
    }

    /// The rows that pieces may be drawn from and for. A row comes before those it is
    /// drawn from.
    pub(super) fn moves(&self) -> Vec<(u16, u16)> {
        let strips = self.strips.iter().flatten().flat_map(Pieces::shorter);
        let ripped = self.ripped.iter().copied();
        ripped.chain(strips).chain(self.whole.shorter()).collect()
    }

    /// How many moves a piece can go through at most.
    pub(super) fn most_moves(&self) -> i64 {
        let of_strips = self.strips.iter().flatten();
        let of_strips = of_strips.map(|strip| strip.rows.len()).max();
        (self.whole.rows.len() + of_strips.unwrap_or(0)) as i64
    }

    /// Boards of a kind that every one worth at least `floors`, whole or split, comes of by
    /// cutting pieces down; nothing if patterns are more than `most`.
    pub(super) fn boards(
        &self,
        kind: usize,
        floors: (i64, Option<i64>),
        most: usize,
    ) -> Option<OfKind> {
        let whole = self.whole.near(kind, floors.0, most)?;
        let floor = floors.1.unwrap_or(i64::MAX);
        let mut room = most - whole.len();
        let strip = |material: u16| self.strips[usize::from(material)].as_ref();
        let best = |material| strip(material).map_or(0, |strip| strip.longest.best(kind));
        let splits = self.splits.iter().copied();
        let splits: Vec<Split> = splits
            .filter(|&(a, b)| best(a) + best(b) >= floor)
            .collect();
        let materials = splits.iter().flat_map(|&(a, b)| [a, b]).sorted().dedup();
        let of_strip = |material: u16| {
            let beside = splits.iter().flat_map(|&(a, b)| [(a, b), (b, a)]);
            let beside = beside.filter(|split| split.0 == material);
            let other = beside.map(|(_, other)| best(other)).max()?;
            let patterns = strip(material)?.near(kind, floor - other, room)?;
            room -= patterns.len();
            Some((material, patterns))
        };
        Some(OfKind {
            whole: whole.into_iter().map(Filling::Whole).collect(),
            strips: materials.map(of_strip).collect::<Option<_>>()?,
            splits,
        })
    }
}

/// What all pieces of a model may come down from and to, needed or not: from a whole board
/// to a strip, and to the next shorter length. Boards say as much once enough of them are known; said at
/// once, the prices of hundreds of lengths need not be found one by one. A row comes
/// before those it is drawn from.
pub(super) fn all_moves(model: &Model) -> Vec<(u16, u16)> {
    let materials = model.materials.iter().copied().max().unwrap_or(0);
    let ripped = (1..=materials).flat_map(|m| model.rows_of(0).zip(model.rows_of(m)));
    let shorter = |material| {
        let shortest_first = model.rows_of(material).rev().tuple_windows();
        shortest_first.map(|(to, from)| (from, to))
    };
    let shorter = (1..=materials).chain([0]).flat_map(shorter);
    let rows = ripped.chain(shorter);
    rows.map(|(from, to)| (from as u16, to as u16)).collect()
}

/// Split boards of strips: each strip of a pair, or nothing where there are too few.
pub(super) fn pair(
    splits: &[(usize, Split, i64)],
    mut strips: Vec<(usize, u16, Pattern, i64)>,
) -> Filled {
    let mut take = |kind: usize, material: u16| -> Pattern {
        let mut left = strips.iter_mut();
        let found = left.find(|(k, m, _, n)| *k == kind && *m == material && *n > 0);
        found.map_or_else(Vec::new, |(_, _, pattern, n)| {
            *n -= 1;
            pattern.clone()
        })
    };
    let mut boards = Vec::new();
    for &(kind, (a, b), count) in splits {
        for _ in 0..count {
            boards.push((kind, Filling::Split(take(kind, a), take(kind, b)), 1));
        }
    }
    boards
}

/// Cuts pieces down: from a row to another, so many. What is cut down further has come
/// down before, whatever the order of the moves.
pub(super) fn cut_down(boards: &mut Filled, moves: &[(u16, u16, i64)]) {
    let mut waiting = moves.to_vec();
    loop {
        let before: i64 = waiting.iter().map(|step| step.2).sum();
        for (from, to, count) in &mut waiting {
            *count = come_down(boards, *from, *to, *count);
        }
        waiting.retain(|step| step.2 > 0);
        let left: i64 = waiting.iter().map(|step| step.2).sum();
        if left == 0 || left == before {
            debug_assert_eq!(left, 0, "pieces that no board has");
            return;
        }
    }
}

/// Cuts so many pieces of one row down to another, on whichever boards they are; how
/// many there are too few.
fn come_down(boards: &mut Filled, from: u16, to: u16, count: i64) -> i64 {
    let mut left = count;
    let mut at = 0;
    while left > 0 && at < boards.len() {
        let (kind, filling, n) = boards[at].clone();
        at += 1;
        let held = match &filling {
            Filling::Whole(p) => holds(p, from),
            Filling::Split(a, b) => holds(a, from) + holds(b, from),
        };
        if held == 0 {
            continue;
        }
        // On so many boards all of them, on one more the rest.
        let all = n.min(left / held);
        let rest = if all < n { left % held } else { 0 };
        left -= all * held + rest;
        let some = i64::from(rest > 0);
        let parts = [(all, held), (some, rest), (n - all - some, 0)];
        let parts = parts.into_iter().filter(|part| part.0 > 0);
        let parts: Filled = parts
            .map(|(n, pieces)| (kind, with(&filling, from, to, pieces as u16), n))
            .collect();
        let added = parts.len() - 1;
        boards.splice(at - 1..at, parts);
        at += added;
    }
    left
}

fn holds(pattern: &Pattern, row: u16) -> i64 {
    let of_row = pattern.iter().filter(|piece| piece.0 == row);
    of_row.map(|piece| i64::from(piece.1)).sum()
}

/// A board some pieces of which are of another row.
fn with(filling: &Filling, from: u16, to: u16, pieces: u16) -> Filling {
    let mut left = pieces;
    let mut changed = |pattern: &Pattern| {
        let mut counts = pattern.clone();
        let moved = left.min(holds(pattern, from) as u16);
        left -= moved;
        for piece in counts.iter_mut().filter(|piece| piece.0 == from) {
            piece.1 -= moved;
        }
        match counts.iter_mut().find(|piece| piece.0 == to) {
            Some(piece) => piece.1 += moved,
            None => counts.push((to, moved)),
        }
        counts.retain(|piece| piece.1 > 0);
        counts.sort_unstable();
        counts
    };
    match filling {
        Filling::Whole(pattern) => Filling::Whole(changed(pattern)),
        Filling::Split(a, b) => {
            let a = changed(a);
            Filling::Split(a, changed(b))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pieces of a row on all boards.
    fn of(boards: &[(usize, Filling, i64)], row: u16) -> i64 {
        let held = |filling: &Filling| match filling {
            Filling::Whole(p) => holds(p, row),
            Filling::Split(a, b) => holds(a, row) + holds(b, row),
        };
        boards.iter().map(|(_, filling, n)| n * held(filling)).sum()
    }

    #[test]
    fn pieces_are_cut_down_board_by_board() {
        let board = |pattern: &[(u16, u16)], n: i64| (0, Filling::Whole(pattern.to_vec()), n);
        let split = (0, Filling::Split(vec![(0, 1)], vec![(0, 2), (1, 1)]), 3);
        let mut boards = vec![board(&[(1, 1)], 2), board(&[(0, 2), (3, 1)], 4), split];
        for (count, left) in [(5, [12, 10, 4]), (9, [3, 19, 4]), (3, [0, 22, 4])] {
            cut_down(&mut boards, &[(0, 1, count)]);
            assert_eq!([0, 1, 3].map(|row| of(&boards, row)), left);
            assert_eq!(boards.iter().map(|b| b.2).sum::<i64>(), 9);
        }
    }

    #[test]
    fn pieces_come_down_more_than_once() {
        let whole = |row: u16| (0, Filling::Whole(vec![(row, 2)]), 1);
        let mut boards = vec![whole(0)];
        // A whole board's piece to a strip's, and that to a shorter one's.
        cut_down(&mut boards, &[(5, 6, 2), (1, 5, 2), (0, 1, 2)]);
        assert_eq!(boards, [whole(6)]);
    }

    #[test]
    fn split_boards_take_all_strips() {
        let strips = vec![(0, 1, vec![(5, 1)], 3), (0, 2, vec![(9, 2)], 1)];
        let boards = pair(&[(0, (1, 1), 1), (0, (1, 2), 2)], strips);
        let expected = [
            (vec![(5, 1)], vec![(5, 1)]),
            (vec![(5, 1)], vec![(9, 2)]),
            (vec![], vec![]),
        ];
        assert_eq!(boards.len(), expected.len());
        for (board, (a, b)) in boards.iter().zip(expected) {
            assert_eq!(*board, (0, Filling::Split(a, b), 1));
        }
    }
}
