//! Packing given boards: whether so many of each kind hold all pieces, tried by
//! filling boards as full as sums of lengths allow and by refilling a few at a
//! time. It finds packings and never proves that there is none.

use super::boards::Pattern;
use super::instance::{Cut, Instance};

/// The finest grid: cells of the longest board.
const MOST_CELLS: i64 = 1 << 16;
/// Lengths that a board is filled from at most.
const MOST_HELD: usize = 90;

/// Fills boards by sums of lengths on a grid on which what fits, fits in truth.
pub(crate) struct Packer<'a> {
    /// Whether to stop with what there is.
    stop: &'a dyn Fn() -> bool,
    /// What a piece of each length takes, rounded up.
    sizes: Vec<usize>,
    /// What boards offer, rounded down.
    capacities: Vec<usize>,
    /// Sums that can be reached: one line of bits for each length of a bag.
    lines: Vec<u64>,
    state: u64,
    /// Words of bits worked on so far: the measure of work.
    pub steps: u64,
}

/// A board being filled.
#[derive(Clone)]
struct Open {
    kind: usize,
    pattern: Pattern,
    waste: usize,
}

impl<'a> Packer<'a> {
    /// A packer for an instance's lengths and kinds.
    pub(crate) fn new(instance: &Instance, stop: &'a dyn Fn() -> bool) -> Packer<'a> {
        let (sizes, capacities) = instance.boards.grid();
        let largest = capacities.iter().copied().max().unwrap_or(0).max(1);
        let cell = (largest - 1) / MOST_CELLS + 1;
        Packer {
            stop,
            sizes: sizes
                .iter()
                .map(|s| ((s - 1) / cell + 1) as usize)
                .collect(),
            capacities: capacities
                .iter()
                .map(|c| (c.max(&0) / cell) as usize)
                .collect(),
            lines: Vec::new(),
            state: 0x9E37_79B9_7F4A_7C15,
            steps: 0,
        }
    }

    /// What so many boards of each kind offer beyond what the pieces take;
    /// below zero when they cannot hold them (on this grid).
    pub(crate) fn slack(&self, demand: &[i64], numbers: &[i64]) -> i64 {
        let offer: i64 = numbers
            .iter()
            .zip(&self.capacities)
            .map(|(&n, &c)| n * c as i64)
            .sum();
        let need: i64 = demand
            .iter()
            .zip(&self.sizes)
            .map(|(&d, &s)| d * s as i64)
            .sum();
        offer - need
    }

    /// Tries to pack all pieces into so many boards of each kind, with at most
    /// so much work.
    pub(crate) fn pack(
        &mut self,
        demand: &[i64],
        numbers: &[i64],
        most_steps: u64,
    ) -> Option<Vec<Cut>> {
        if self.slack(demand, numbers) < 0 {
            return None;
        }
        let until = self.steps + most_steps;
        let mut kinds = self.kinds(numbers);
        let mut round = 0;
        while self.steps < until && !(self.stop)() {
            if round > 0 {
                for i in (1..kinds.len()).rev() {
                    kinds.swap(i, self.below(i + 1));
                }
            }
            // The longest pieces first, but for some chance after the first round.
            let greed = if round == 0 { 100 } else { 60 + self.below(40) };
            let share = until.saturating_sub(self.steps) / 3;
            let patience = share.max(most_steps / 8);
            let (boards, pool) = self.round(demand, &kinds, greed, patience);
            if pool.iter().all(|&n| n == 0) {
                return Some(gather(boards));
            }
            round += 1;
        }
        None
    }

    /// Fills boards of a kind from some lengths of a bag, as full as can be.
    pub(crate) fn fill_from(&mut self, bag: &mut [u32], among: &[usize], kind: usize) -> Pattern {
        let capacity = self.capacities[kind];
        let fits = |&i: &usize| bag[i] > 0 && self.sizes[i] <= capacity;
        let held = among.iter().copied().filter(fits).collect();
        self.fill(bag, held, capacity, 100).0
    }

    /// Refills boards from what is left in a bag, for so much work.
    pub(crate) fn improved(&mut self, cuts: Vec<Cut>, bag: &mut Vec<u32>, steps: u64) -> Vec<Cut> {
        let mut boards = Vec::new();
        for cut in cuts {
            let pieces = cut.pattern.iter();
            let used: usize = pieces
                .map(|&(i, n)| self.sizes[i as usize] * n as usize)
                .sum();
            let board = Open {
                kind: cut.kind,
                pattern: cut.pattern,
                waste: self.capacities[cut.kind] - used,
            };
            boards.extend(std::iter::repeat_n(board, cut.count as usize));
        }
        self.improve(&mut boards, bag, self.steps + steps);
        gather(boards)
    }

    /// One entry a board, the shortest first.
    fn kinds(&self, numbers: &[i64]) -> Vec<usize> {
        let mut kinds: Vec<usize> = numbers
            .iter()
            .enumerate()
            .flat_map(|(kind, &n)| std::iter::repeat_n(kind, n.max(0) as usize))
            .collect();
        kinds.sort_by_key(|&kind| self.capacities[kind]);
        kinds
    }

    /// Fills boards one after another, then improves on that for so much work.
    fn round(
        &mut self,
        demand: &[i64],
        kinds: &[usize],
        greed: usize,
        patience: u64,
    ) -> (Vec<Open>, Vec<u32>) {
        let mut pool: Vec<u32> = demand.iter().map(|&d| d as u32).collect();
        let mut boards: Vec<Open> = Vec::with_capacity(kinds.len());
        for &kind in kinds {
            let held = self.held(&pool, self.capacities[kind]);
            let (pattern, waste) = self.fill(&mut pool, held, self.capacities[kind], greed);
            boards.push(Open {
                kind,
                pattern,
                waste,
            });
        }
        self.improve(&mut boards, &mut pool, self.steps + patience);
        (boards, pool)
    }

    /// Refills a few boards at a time from their own pieces and those left over,
    /// as long as no less is packed and something is left over.
    fn improve(&mut self, boards: &mut [Open], pool: &mut Vec<u32>, until: u64) {
        while pool.iter().any(|&n| n > 0) {
            let wasteful: Vec<usize> = (0..boards.len()).filter(|&b| boards[b].waste > 0).collect();
            if wasteful.is_empty() || self.steps >= until || (self.stop)() {
                return;
            }
            let mut chosen = vec![wasteful[self.below(wasteful.len())]];
            for _ in 0..1 + self.below(3.min(boards.len())) {
                // Waste is gathered on few boards: one that has some, or any.
                let next = if self.below(2) == 0 {
                    wasteful[self.below(wasteful.len())]
                } else {
                    self.below(boards.len())
                };
                if !chosen.contains(&next) {
                    chosen.push(next);
                }
            }
            let mut bag = pool.clone();
            let mut before = 0;
            for &b in &chosen {
                before += boards[b].waste;
                for &(i, n) in &boards[b].pattern {
                    bag[i as usize] += u32::from(n);
                }
            }
            let mut refilled = Vec::with_capacity(chosen.len());
            let mut after = 0;
            let greed = [100, 80, 40][self.below(3)];
            for &b in &chosen {
                let capacity = self.capacities[boards[b].kind];
                let held = self.held(&bag, capacity);
                let (pattern, waste) = self.fill(&mut bag, held, capacity, greed);
                after += waste;
                refilled.push((pattern, waste));
                if after > before {
                    break;
                }
            }
            self.steps += 20;
            if after <= before {
                for (&b, (pattern, waste)) in chosen.iter().zip(refilled) {
                    boards[b].pattern = pattern;
                    boards[b].waste = waste;
                }
                *pool = bag;
            }
        }
    }

    /// Takes from the held lengths of a bag what fills a capacity best, long pieces first with a
    /// chance of `greed` in a hundred at each length; tells what is wasted.
    fn fill(
        &mut self,
        bag: &mut [u32],
        mut held: Vec<usize>,
        capacity: usize,
        greed: usize,
    ) -> (Pattern, usize) {
        // The longest and some of the others are choice enough.
        if held.len() > MOST_HELD {
            for at in MOST_HELD / 3..MOST_HELD {
                let other = at + self.below(held.len() - at);
                held.swap(at, other);
            }
            held.truncate(MOST_HELD);
            held.sort_unstable();
        }
        let words = capacity / 64 + 1;
        self.lines.clear();
        self.lines.resize(words * (held.len() + 1), 0);
        self.lines[words * held.len()] = 1;
        for (place, &i) in held.iter().enumerate().rev() {
            let (head, tail) = self.lines.split_at_mut(words * (place + 1));
            let line = &mut head[words * place..];
            line.copy_from_slice(&tail[..words]);
            let size = self.sizes[i];
            let mut left = (bag[i] as usize).min(capacity / size);
            let mut part = 1;
            while left > 0 {
                let now = part.min(left);
                or_shifted(line, now * size);
                self.steps += words as u64;
                left -= now;
                part *= 2;
            }
        }
        let reached = highest(&self.lines[..words], capacity);
        let mut rest = reached;
        let mut pattern = Pattern::new();
        for (place, &i) in held.iter().enumerate() {
            let size = self.sizes[i];
            let most = (bag[i] as usize).min(rest / size).min(65_535);
            let line = words * (place + 1);
            let has = |lines: &[u64], t: usize| {
                let sum = rest - t * size;
                lines[line + sum / 64] >> (sum % 64) & 1 == 1
            };
            let greedy = self.below(100) < greed;
            let start = if greedy { most } else { self.below(most + 1) };
            let count = (0..=start)
                .rev()
                .chain(start + 1..=most)
                .find(|&t| has(&self.lines, t))
                .expect("a sum that was reached can be traced");
            if count > 0 {
                pattern.push((i as u16, count as u16));
                bag[i] -= count as u32;
                rest -= count * size;
            }
        }
        (pattern, capacity - reached)
    }

    /// The lengths of a bag that fit a capacity.
    fn held(&self, bag: &[u32], capacity: usize) -> Vec<usize> {
        (0..bag.len())
            .filter(|&i| bag[i] > 0 && self.sizes[i] <= capacity)
            .collect()
    }

    /// A number below `n` by a fixed sequence (xorshift).
    fn below(&mut self, n: usize) -> usize {
        self.state ^= self.state << 13;
        self.state ^= self.state >> 7;
        self.state ^= self.state << 17;
        (((self.state >> 32) * n as u64) >> 32) as usize
    }
}

/// `line |= line << by`, what goes past the end being lost.
fn or_shifted(line: &mut [u64], by: usize) {
    let (words, bits) = (by / 64, by % 64);
    let length = line.len();
    if words >= length {
        return;
    }
    if bits == 0 {
        for at in (words..length).rev() {
            line[at] |= line[at - words];
        }
        return;
    }
    for at in (words + 1..length).rev() {
        line[at] |= line[at - words] << bits | line[at - words - 1] >> (64 - bits);
    }
    line[words] |= line[0] << bits;
}

/// The highest bit that is set, none above `most`.
fn highest(line: &[u64], most: usize) -> usize {
    let mut mask = u64::MAX >> (63 - most % 64);
    for at in (0..=most / 64).rev() {
        let word = line[at] & mask;
        if word != 0 {
            return at * 64 + 63 - word.leading_zeros() as usize;
        }
        mask = u64::MAX;
    }
    0
}

/// Equal boards together, empty ones left out.
fn gather(boards: Vec<Open>) -> Vec<Cut> {
    let mut alike = std::collections::BTreeMap::new();
    for board in boards {
        if !board.pattern.is_empty() {
            *alike.entry((board.kind, board.pattern)).or_insert(0) += 1;
        }
    }
    let cut = |((kind, pattern), count)| Cut {
        kind,
        pattern,
        count,
    };
    alike.into_iter().map(cut).collect()
}
