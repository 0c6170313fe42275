//! What boards can hold: patterns of pieces that fit a board, the most valuable
//! one for given prices of the pieces, and all that come near it. It knows
//! sizes and capacities in whole steps of a grid; demand, supply and money are
//! left to its callers.
//!
//! A piece of length `l` takes `l + kerf` of the `L - 2 trim + kerf` that a
//! board of length `L` offers, which is the whole rule of what fits.

use crate::length::Length;

/// Tables have at most this many cells in all. Where the grid is too fine for
/// that they are built on a coarser one, all sizes rounded down: then they only
/// bound what patterns are worth, and patterns are found by search.
const MOST_CELLS: i64 = 6_000_000;
/// Steps of the search where a table is coarse.
const MOST_STEPS: u64 = 300_000;

/// Sizes of pieces and capacities of boards, in steps of a common grid.
#[derive(Debug, Clone)]
pub(crate) struct Boards {
    /// What a piece of each length takes, descending.
    sizes: Vec<i64>,
    /// What boards offer, by kind.
    capacities: Vec<i64>,
    /// The most pieces of each length in one board, if limited beyond what fits.
    most: Option<Vec<u32>>,
    /// Steps of the grid to one cell of a table.
    cell: i64,
}

/// Pieces in one board: places of lengths (ascending) and how many of each.
pub(crate) type Pattern = Vec<(u16, u16)>;

/// The most valuable pattern for one capacity.
#[derive(Debug, Clone)]
pub(crate) struct Best {
    /// No pattern is worth more than this.
    pub at_most: i64,
    /// A pattern worth that much, or nearly so if the search was cut short.
    pub pattern: Pattern,
    /// What that pattern is worth.
    pub value: i64,
}

/// The greatest common divisor.
pub(crate) fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl Boards {
    /// Boards of the given usable lengths for pieces of the given lengths
    /// (descending, none longer than the longest board).
    pub(crate) fn new(
        lengths: &[Length],
        usable: &[Length],
        kerf: Length,
        most: Option<Vec<u32>>,
    ) -> Boards {
        let sizes: Vec<i64> = lengths.iter().map(|&l| (l + kerf).units()).collect();
        let grid = sizes.iter().copied().fold(0, gcd).max(1);
        let capacities: Vec<i64> = usable
            .iter()
            .map(|&u| (u + kerf).units().div_euclid(grid))
            .collect();
        let largest = capacities.iter().copied().max().unwrap_or(0).max(0);
        let cells = MOST_CELLS / (sizes.len() as i64 + 1);
        Boards {
            sizes: sizes.iter().map(|s| s / grid).collect(),
            capacities,
            most,
            cell: largest / cells.max(1) + 1,
        }
    }

    /// The same boards for some of the lengths only.
    pub(crate) fn only(&self, lengths: std::ops::Range<usize>) -> Boards {
        Boards {
            sizes: self.sizes[lengths.clone()].to_vec(),
            capacities: self.capacities.clone(),
            most: self.most.as_ref().map(|most| most[lengths].to_vec()),
            cell: self.cell,
        }
    }

    /// The most pieces of a length that a kind of board holds.
    pub(crate) fn holds(&self, length: usize, kind: usize) -> i64 {
        let fit = self.capacities[kind].max(0) / self.sizes[length];
        self.most
            .as_ref()
            .map_or(fit, |most| fit.min(i64::from(most[length])))
    }

    /// What pieces take and boards offer, in steps of the common grid.
    pub(crate) fn grid(&self) -> (&[i64], &[i64]) {
        (&self.sizes, &self.capacities)
    }

    /// Products that finding the best patterns takes.
    pub(crate) fn effort(&self) -> u64 {
        2 * (self.sizes.len() * self.largest()) as u64
    }

    /// Cells of a table less one.
    fn largest(&self) -> usize {
        (self.capacities.iter().copied().max().unwrap_or(0).max(0) / self.cell) as usize
    }

    /// Whether tables tell exactly what patterns are worth.
    fn exact(&self) -> bool {
        self.cell == 1
    }

    /// The most valuable pattern of each kind of board; values none below zero.
    pub(crate) fn best(&self, values: &[i64]) -> Vec<Best> {
        if self.most.is_none() && self.exact() {
            return self.best_by_line(values);
        }
        if self.exact() {
            // What is best without limits often keeps them.
            let mut best = self.best_by_line(values);
            let mut tables = None;
            for (kind, best) in best.iter_mut().enumerate() {
                if self.keeps_limits(&best.pattern) {
                    continue;
                }
                let tables = tables.get_or_insert_with(|| self.suffix_tables(values));
                best.pattern = self.trace(tables, values, self.capacities[kind]);
                best.value = worth(&best.pattern, values);
                best.at_most = best.value;
            }
            return best;
        }
        let tables = self.suffix_tables(values);
        (0..self.capacities.len())
            .map(|kind| self.best_by_search(values, &tables, kind))
            .collect()
    }

    /// Valuable patterns of each kind of board, quickly: the most valuable where
    /// that keeps the limits by itself, else what is left of it and what fills up.
    pub(crate) fn quick(&self, values: &[i64]) -> Vec<Best> {
        let largest = self.capacities.iter().copied().max().unwrap_or(0);
        if largest.saturating_mul(self.sizes.len() as i64) > 4 * MOST_CELLS {
            return self.best(values);
        }
        let mut best = self.best_by_line(values);
        let mut by_worth: Vec<usize> = Vec::new();
        for (kind, best) in best.iter_mut().enumerate() {
            if self.keeps_limits(&best.pattern) {
                continue;
            }
            if by_worth.is_empty() {
                by_worth = (0..values.len()).filter(|&i| values[i] > 0).collect();
                let size = |i: usize| i128::from(self.sizes[i]);
                by_worth.sort_by(|&a, &b| {
                    (i128::from(values[b]) * size(a))
                        .cmp(&(i128::from(values[a]) * size(b)))
                        .then(a.cmp(&b))
                });
            }
            best.pattern = self.within_limits(&best.pattern, &by_worth, self.capacities[kind]);
            best.value = worth(&best.pattern, values);
        }
        best
    }

    /// A pattern cut down to the limits, and filled up with what is worth most.
    fn within_limits(&self, pattern: &[(u16, u16)], by_worth: &[usize], capacity: i64) -> Pattern {
        let most = |i: usize| self.most.as_ref().map_or(u32::MAX, |most| most[i]);
        let mut counts = vec![0u16; self.sizes.len()];
        let mut room = capacity;
        let add = |counts: &mut [u16], room: &mut i64, i: usize, wanted: i64| {
            let more = wanted
                .min(i64::from(most(i).min(65_535)) - i64::from(counts[i]))
                .min(*room / self.sizes[i]);
            counts[i] += more as u16;
            *room -= more * self.sizes[i];
        };
        for &(i, n) in pattern {
            add(&mut counts, &mut room, i as usize, i64::from(n));
        }
        for &i in by_worth {
            add(&mut counts, &mut room, i, i64::MAX);
        }
        pack(&counts)
    }

    fn keeps_limits(&self, pattern: &[(u16, u16)]) -> bool {
        let Some(most) = &self.most else { return true };
        pattern
            .iter()
            .all(|&(i, n)| u32::from(n) <= most[i as usize])
    }

    /// By the grid itself, not by cells.
    fn line(&self, values: &[i64]) -> Line {
        let largest = self.capacities.iter().copied().max().unwrap_or(0).max(0) as usize;
        let mut worth = vec![0i64; largest + 1];
        let mut used = Vec::new();
        for (i, (&size, &value)) in self.sizes.iter().zip(values).enumerate().rev() {
            // Shorter ones may be worth as much already.
            if size as usize <= largest && value > worth[size as usize] {
                repeat(&mut worth, size as usize, value);
                used.push((i as u16, size as usize, value));
            }
        }
        Line { worth, used }
    }

    /// One line of the unbounded knapsack serves every capacity.
    fn best_by_line(&self, values: &[i64]) -> Vec<Best> {
        let line = self.line(values);
        self.capacities
            .iter()
            .map(|&capacity| {
                let mut counts = vec![0u16; self.sizes.len()];
                let capacity = capacity.max(0) as usize;
                line.fill(capacity, &mut counts);
                let pattern = pack(&counts);
                Best {
                    at_most: line.worth[capacity],
                    value: worth(&pattern, values),
                    pattern,
                }
            })
            .collect()
    }

    /// For each length, the most valuable pattern through it in the kind of
    /// board where it earns most: more columns a round. Without limits only.
    pub(crate) fn best_through(&self, values: &[i64], fees: &[i64]) -> Vec<(usize, Pattern)> {
        if self.most.is_some() || !self.exact() {
            return Vec::new();
        }
        let line = self.line(values);
        let mut found = Vec::new();
        for (i, &size) in self.sizes.iter().enumerate() {
            let best = (0..self.capacities.len())
                .filter(|&k| size <= self.capacities[k])
                .map(|k| {
                    (
                        values[i] + line.worth[(self.capacities[k] - size) as usize] - fees[k],
                        k,
                    )
                })
                .max_by_key(|&(earned, k)| (earned, std::cmp::Reverse(k)));
            let Some((earned, k)) = best else { continue };
            if earned <= 0 {
                continue;
            }
            let mut counts = vec![0u16; self.sizes.len()];
            counts[i] += 1;
            line.fill((self.capacities[k] - size) as usize, &mut counts);
            found.push((k, pack(&counts)));
        }
        found
    }

    /// The most that lengths `i..` can be worth in every capacity, for each `i`.
    fn suffix_tables(&self, values: &[i64]) -> Tables {
        let width = self.largest() + 1;
        let lengths = self.sizes.len();
        let mut cells: Vec<i64> = Vec::with_capacity(width * (lengths + 1));
        cells.resize(width, 0);
        let mut before = Vec::new();
        for i in (0..lengths).rev() {
            let size = (self.sizes[i] / self.cell) as usize;
            let value = values[i].max(0);
            let most = self.most.as_ref().map_or(u32::MAX, |m| m[i]) as usize;
            let start = cells.len() - width;
            cells.extend_from_within(start..);
            let table = &mut cells[start + width..];
            if size == 0 {
                // Too small to be seen on this grid: only as many as there may be.
                let fit = self
                    .capacities
                    .iter()
                    .max()
                    .map_or(0, |c| c / self.sizes[i]);
                let most = fit.min(i64::try_from(most).unwrap_or(i64::MAX));
                table
                    .iter_mut()
                    .for_each(|worth| *worth += most.max(0) * value);
            } else if value == 0 {
                continue;
            } else if most >= (width - 1) / size {
                repeat(table, size, value);
            } else {
                // So many of 1, 2, 4, ... and the rest make any number up to all.
                let (mut left, mut part) = (most, 1);
                while left > 0 {
                    let now = part.min(left);
                    before.clear();
                    before.extend_from_slice(table);
                    let gain = now as i64 * value;
                    for (worth, less) in table[now * size..].iter_mut().zip(&before) {
                        *worth = (*worth).max(less + gain);
                    }
                    left -= now;
                    part *= 2;
                }
            }
        }
        Tables {
            cells,
            width,
            lengths,
        }
    }

    fn trace(&self, tables: &Tables, values: &[i64], capacity: i64) -> Pattern {
        let mut c = capacity.max(0) as usize;
        let mut pattern = Vec::new();
        for (i, &size) in self.sizes.iter().enumerate() {
            let target = tables.row(i)[c];
            let most = self.most.as_ref().map_or(u32::MAX, |m| m[i]) as usize;
            let fit = (c / size as usize).min(most).min(65_535);
            let count = (0..=fit)
                .find(|&t| {
                    tables.row(i + 1)[c - t * size as usize] + t as i64 * values[i].max(0) == target
                })
                .expect("a table's value can be traced");
            if count > 0 {
                pattern.push((i as u16, count as u16));
                c -= count * size as usize;
            }
        }
        pattern
    }

    fn best_by_search(&self, values: &[i64], tables: &Tables, kind: usize) -> Best {
        let mut best = Best {
            at_most: 0,
            pattern: Vec::new(),
            value: 0,
        };
        let (finished, bound) = {
            let best = &mut best;
            let mut walk = Walk::new(self, values, tables, self.capacities[kind]);
            let finished = walk.run(1, MOST_STEPS, &mut |pattern, value| {
                best.value = value;
                best.pattern = pattern.to_vec();
                Some(value + 1)
            });
            (finished, walk.bound(0, self.capacities[kind].max(0)))
        };
        best.at_most = if finished {
            best.value
        } else {
            bound.max(best.value)
        };
        best
    }

    /// Every pattern of a kind of board to which nothing can be added and that
    /// is worth at least `floor`; none if there are more than `most`.
    pub(crate) fn near(
        &self,
        values: &[i64],
        tables: &Tables,
        kind: usize,
        floor: i64,
        most: usize,
    ) -> Option<Vec<Pattern>> {
        let mut found = Vec::new();
        let mut walk = Walk::new(self, values, tables, self.capacities[kind]);
        let finished = walk.run(
            floor,
            MOST_STEPS.max(40 * most as u64),
            &mut |pattern, _| {
                found.push(pattern.to_vec());
                (found.len() <= most).then_some(floor)
            },
        );
        (finished && found.len() <= most).then_some(found)
    }

    /// No more than this can lengths `at..` be worth in some room, by tables of values.
    pub(super) fn at_most(&self, tables: &Tables, at: usize, room: i64) -> i64 {
        tables.row(at)[(room / self.cell) as usize]
    }

    /// What [`Boards::near`] prunes by, built once for one set of values.
    pub(crate) fn tables(&self, values: &[i64]) -> Tables {
        self.suffix_tables(values)
    }
}

/// The unbounded knapsack over all capacities: the worth of each, and the
/// lengths that make it up, with size and value.
struct Line {
    worth: Vec<i64>,
    used: Vec<(u16, usize, i64)>,
}

impl Line {
    fn fill(&self, capacity: usize, counts: &mut [u16]) {
        let mut room = capacity;
        while self.worth[room] > 0 {
            let worth = self.worth[room];
            // What is not needed is left: then a piece ends just here.
            room = self.worth[..room].partition_point(|&w| w < worth);
            let length = (self.used.iter().rev()).find(|&&(_, size, value)| {
                size <= room && self.worth[room - size] + value == worth
            });
            let &(length, size, _) = length.expect("a worth can be traced");
            if counts[length as usize] == u16::MAX {
                break;
            }
            counts[length as usize] += 1;
            room -= size;
        }
    }
}

/// Completion bounds for one set of values: a line of cells for each suffix of
/// the lengths, the empty one first.
#[derive(Debug, Clone)]
pub(crate) struct Tables {
    cells: Vec<i64>,
    width: usize,
    lengths: usize,
}

impl Tables {
    /// What lengths `i..` can be worth at most, by capacity.
    fn row(&self, i: usize) -> &[i64] {
        let start = (self.lengths - i) * self.width;
        &self.cells[start..start + self.width]
    }
}

/// Takes a piece into account as often as it fits.
fn repeat(table: &mut [i64], size: usize, value: i64) {
    let mut start = size;
    while start < table.len() {
        let (head, tail) = table.split_at_mut(start);
        for (worth, less) in tail.iter_mut().zip(&head[start - size..]) {
            *worth = (*worth).max(less + value);
        }
        start += size;
    }
}

fn pack(counts: &[u16]) -> Pattern {
    counts
        .iter()
        .enumerate()
        .filter(|(_, n)| **n > 0)
        .map(|(i, &n)| (i as u16, n))
        .collect()
}

/// What a pattern is worth.
pub(crate) fn worth(pattern: &[(u16, u16)], values: &[i64]) -> i64 {
    pattern
        .iter()
        .map(|&(i, n)| i64::from(n) * values[i as usize])
        .sum()
}

/// Sees a pattern and what it is worth; answers with the least worth wanted
/// from then on, or nothing to stop.
type Visit<'a> = dyn FnMut(&[(u16, u16)], i64) -> Option<i64> + 'a;

/// A depth-first walk over the full patterns of one capacity.
struct Walk<'a> {
    boards: &'a Boards,
    values: &'a [i64],
    tables: &'a Tables,
    capacity: i64,
    /// The best value per step of size among lengths `i..`, as (value, size).
    density: Vec<(i64, i64)>,
    stack: Pattern,
    steps: u64,
    most_steps: u64,
    floor: i64,
}

impl<'a> Walk<'a> {
    fn new(boards: &'a Boards, values: &'a [i64], tables: &'a Tables, capacity: i64) -> Walk<'a> {
        let mut density = vec![(0i64, 1i64); boards.sizes.len() + 1];
        for i in (0..boards.sizes.len()).rev() {
            let (v, s) = density[i + 1];
            let (value, size) = (values[i].max(0), boards.sizes[i]);
            density[i] = if i128::from(value) * i128::from(s) > i128::from(v) * i128::from(size) {
                (value, size)
            } else {
                (v, s)
            };
        }
        Walk {
            boards,
            values,
            tables,
            capacity,
            density,
            stack: Vec::new(),
            steps: 0,
            most_steps: 0,
            floor: 0,
        }
    }

    fn density_bound(&self, from: usize, room: i64) -> i64 {
        let (value, size) = self.density[from];
        (i128::from(value) * i128::from(room.max(0)) / i128::from(size)) as i64
    }

    fn bound(&self, from: usize, room: i64) -> i64 {
        let table = self.tables.row(from)[(room / self.boards.cell) as usize];
        if self.boards.exact() {
            table
        } else {
            table.min(self.density_bound(from, room))
        }
    }

    /// Walks; `visit` sees each pattern worth at least the floor and answers
    /// with the floor from then on, or nothing to stop. False if cut short.
    fn run(&mut self, floor: i64, most_steps: u64, visit: &mut Visit<'_>) -> bool {
        self.floor = floor;
        self.most_steps = most_steps;
        if self.capacity < 0 {
            return true;
        }
        self.descend(0, self.capacity, 0, i64::MAX, visit)
    }

    /// `spare` is the smallest size of which one more would have been allowed.
    fn descend(
        &mut self,
        at: usize,
        room: i64,
        value: i64,
        spare: i64,
        visit: &mut Visit<'_>,
    ) -> bool {
        self.steps += 1;
        if self.steps > self.most_steps {
            return false;
        }
        if at == self.boards.sizes.len() {
            if value >= self.floor && room < spare && !self.stack.is_empty() {
                match visit(&self.stack, value) {
                    Some(floor) => self.floor = floor,
                    None => return false,
                }
            }
            return true;
        }
        if value + self.bound(at, room) < self.floor {
            return true;
        }
        let size = self.boards.sizes[at];
        let allowed = self
            .boards
            .most
            .as_ref()
            .map_or(i64::MAX, |most| i64::from(most[at]));
        let fit = (room / size).min(allowed).min(65_535);
        for count in (0..=fit).rev() {
            let spare = if count < allowed {
                spare.min(size)
            } else {
                spare
            };
            // Fewer of this length only leaves more room; where the rest cannot
            // fill it, what follows is not full either, but its value may do.
            if count > 0 {
                self.stack.push((at as u16, count as u16));
            }
            let left = room - count * size;
            let gained = value + count * self.values[at].max(0);
            let open = gained + self.bound(at + 1, left) >= self.floor;
            let went_on = !open || self.descend(at + 1, left, gained, spare, visit);
            if count > 0 {
                self.stack.pop();
            }
            if !went_on {
                return false;
            }
        }
        true
    }
}
