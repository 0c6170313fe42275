//! A search for an order without clashes: courses in a line, each of a kind,
//! and a table of which kinds clash so far apart. It turns stretches round,
//! moves and swaps courses and turns single ones, always where something
//! clashes, and does not undo at once what it has just done. It knows numbers
//! only.

/// Courses in a line.
pub(crate) struct Line {
    /// The kind of each course.
    pub courses: Vec<u16>,
    /// Kinds that may stand in for a kind, itself included.
    pub turns: Vec<Vec<u16>>,
    /// Whether two kinds clash, by courses apart less one: `a * kinds + b`.
    pub clash: Vec<Vec<bool>>,
    /// How many kinds there are.
    pub kinds: usize,
    /// Places whose courses may be moved.
    pub movable: std::ops::Range<usize>,
}

#[derive(Debug, Clone, Copy)]
enum Move {
    Reverse(usize, usize),
    Relocate(usize, usize),
    Swap(usize, usize),
    Turn(usize, u16),
}

/// Places looked at for each step allowed: long lines get fewer steps.
const LOOKS: u64 = 60_000;

/// Steps without fewer clashes after which a search with so many is given up: what
/// comes out at last is soon down to a few.
fn patience(clashes: usize) -> u32 {
    match clashes {
        0..=4 => 1_200,
        _ => 200,
    }
}

/// The courses in an order of few clashes, none where so many steps find such an
/// order, and the places that clash with a later one.
pub(crate) fn untangle(mut line: Line, steps: u32) -> (Vec<u16>, Vec<(usize, usize)>) {
    let count = line.courses.len();
    let mut held = vec![0u32; count];
    let mut looks = LOOKS * u64::from(steps);
    let mut random: u64 = 0x5851_F42D_4C95_7F2D;
    let mut roll = move || {
        random = random
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (random >> 33) as u32
    };
    let mut fewest = (line.courses.clone(), line.clashes());
    let mut since = 0;
    for step in 1..=steps {
        let clashes = line.clashes();
        if clashes.len() < fewest.1.len() {
            fewest = (line.courses.clone(), clashes.clone());
            since = step;
        }
        if fewest.1.is_empty() || step - since > patience(fewest.1.len()) {
            break;
        }
        let (i, j) = clashes[roll() as usize % clashes.len()];
        let mut best: Option<(u32, u32, Move)> = None;
        let moves = line.moves(i, j);
        let Some(left) = looks.checked_sub((moves.len() * count * line.clash.len()) as u64) else {
            break;
        };
        looks = left;
        for candidate in moves {
            let (from, to) = candidate.span();
            if held[from] > step && held[to.min(count - 1)] > step && roll() % 8 != 0 {
                continue;
            }
            let before = line.touched(candidate, false);
            let undo = line.apply(candidate);
            let total = clashes.len() as u32 + line.touched(candidate, true) - before;
            line.take_back(candidate, undo);
            let rank = (total, roll() % 16);
            if best.is_none_or(|(t, r, _)| rank < (t, r)) {
                best = Some((rank.0, rank.1, candidate));
            }
        }
        let Some((_, _, chosen)) = best else { break };
        line.apply(chosen);
        let (from, to) = chosen.span();
        held[from] = step + 4 + roll() % 6;
        held[to.min(count - 1)] = step + 4 + roll() % 6;
    }
    let last = line.clashes();
    match last.len() < fewest.1.len() {
        true => (line.courses, last),
        false => fewest,
    }
}

impl Move {
    fn span(self) -> (usize, usize) {
        match self {
            Move::Reverse(a, b) | Move::Relocate(a, b) | Move::Swap(a, b) => (a, b),
            Move::Turn(a, _) => (a, a),
        }
    }
}

impl Line {
    fn clashes_at(&self, i: usize, apart: usize) -> bool {
        let (a, b) = (self.courses[i] as usize, self.courses[i + apart] as usize);
        self.clash[apart - 1][a * self.kinds + b]
    }

    fn clashes(&self) -> Vec<(usize, usize)> {
        let mut found = Vec::new();
        for apart in 1..=self.clash.len() {
            for i in 0..self.courses.len().saturating_sub(apart) {
                if self.clashes_at(i, apart) {
                    found.push((i, i + apart));
                }
            }
        }
        found
    }

    /// Clashes between places that a move brings together or apart, before it or after
    /// it; it changes no others.
    fn touched(&self, change: Move, after: bool) -> u32 {
        let beyond = |to: usize| move |i: usize, j: usize| i < to && j >= to;
        match change {
            Move::Reverse(a, b) => self.near(a, b, |i, j| {
                beyond(a)(i, j) && j <= b || i >= a && beyond(b + 1)(i, j)
            }),
            Move::Swap(a, b) => {
                let (a, b) = (a.min(b), a.max(b));
                self.near(a, b, |i, j| [i, j].contains(&a) || [i, j].contains(&b))
            }
            Move::Turn(at, _) => self.near(at, at, |i, j| i == at || j == at),
            Move::Relocate(a, b) => {
                let (low, high) = (a.min(b), a.max(b));
                // Where the course that moves lies now.
                let first = (a < b) != after;
                let moves = |i, j| if first { i == low } else { j == high };
                self.near(low, high, |i, j| {
                    beyond(low)(i, j) || beyond(high + 1)(i, j) || moves(i, j)
                })
            }
        }
    }

    /// Clashes that begin at or shortly before two places, of those that are asked for.
    fn near(&self, a: usize, b: usize, keep: impl Fn(usize, usize) -> bool) -> u32 {
        let reach = self.clash.len();
        let begins = (a.saturating_sub(reach)..=a).chain(b.saturating_sub(reach).max(a + 1)..=b);
        let mut found = 0;
        for i in begins {
            for apart in 1..=reach.min(self.courses.len() - 1 - i) {
                found += u32::from(keep(i, i + apart) && self.clashes_at(i, apart));
            }
        }
        found
    }

    /// The moves that touch a clash between two places.
    fn moves(&self, i: usize, j: usize) -> Vec<Move> {
        let mut moves = Vec::new();
        let range = self.movable.clone();
        for at in [i, j] {
            let kind = self.courses[at];
            moves.extend(
                self.turns[kind as usize]
                    .iter()
                    .filter(|&&turned| turned != kind)
                    .map(|&turned| Move::Turn(at, turned)),
            );
            if !range.contains(&at) {
                continue;
            }
            for other in range.clone() {
                if other != at {
                    moves.push(Move::Relocate(at, other));
                    if self.courses[other] != kind {
                        moves.push(Move::Swap(at, other));
                    }
                }
            }
        }
        for cut in i + 1..=j {
            if cut > range.start {
                moves.extend(
                    (range.start..cut - 1)
                        .filter(|_| cut <= range.end)
                        .map(|a| Move::Reverse(a, cut - 1)),
                );
            }
            if cut >= range.start {
                moves.extend((cut + 1..range.end).map(|b| Move::Reverse(cut, b)));
            }
        }
        moves
    }

    /// Makes a move; what it returns takes it back.
    fn apply(&mut self, change: Move) -> u16 {
        match change {
            Move::Reverse(a, b) => self.courses[a..=b].reverse(),
            Move::Relocate(a, b) if a < b => self.courses[a..=b].rotate_left(1),
            Move::Relocate(a, b) => self.courses[b..=a].rotate_right(1),
            Move::Swap(a, b) => self.courses.swap(a, b),
            Move::Turn(at, kind) => return std::mem::replace(&mut self.courses[at], kind),
        }
        0
    }

    fn take_back(&mut self, change: Move, undo: u16) {
        match change {
            Move::Reverse(..) | Move::Swap(..) => {
                self.apply(change);
            }
            Move::Relocate(a, b) => {
                self.apply(Move::Relocate(b, a));
            }
            Move::Turn(at, _) => self.courses[at] = undo,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_move_changes_only_the_clashes_it_touches() {
        let mut random: u64 = 7;
        let mut below = |n: usize| {
            random = random
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1);
            (random >> 33) as usize % n
        };
        for _ in 0..2_000 {
            let (kinds, count, reach) = (2 + below(4), 4 + below(12), 1 + below(3));
            let mut clash = vec![vec![false; kinds * kinds]; reach];
            for table in &mut clash {
                for a in 0..kinds {
                    for b in 0..=a {
                        let clashes = below(2) == 0;
                        table[a * kinds + b] = clashes;
                        table[b * kinds + a] = clashes;
                    }
                }
            }
            let mut line = Line {
                courses: (0..count).map(|_| below(kinds) as u16).collect(),
                turns: vec![Vec::new(); kinds],
                clash,
                kinds,
                movable: 0..count,
            };
            let (a, b) = (below(count), below(count));
            let change = match below(4) {
                0 => Move::Reverse(a.min(b), a.max(b)),
                1 => Move::Relocate(a, b),
                2 => Move::Swap(a, b),
                _ => Move::Turn(a, below(kinds) as u16),
            };
            if a == b && !matches!(change, Move::Turn(..)) {
                continue;
            }
            let (all, before) = (line.clashes().len() as u32, line.touched(change, false));
            line.apply(change);
            let after = line.touched(change, true);
            assert_eq!(
                line.clashes().len() as u32,
                all + after - before,
                "{change:?}"
            );
        }
    }
}
