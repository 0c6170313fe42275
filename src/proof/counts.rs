//! What an answer costs at least by its counts alone: how many boards of each
//! kind, and whatever else is counted. Any prices make a row that the counts of
//! every answer meet; counts that meet all rows are searched for the cheapest.
//! What rows there are is left to others.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, VecDeque};
use std::rc::Rc;

/// Something that is counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Counted {
    /// What one weighs; not below 0.
    pub weight: i128,
    /// The most there are.
    pub most: i128,
}

/// A row that the counts of every answer meet: what they are worth together is
/// no less than what is needed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    /// What one of each is worth.
    pub worth: Vec<i128>,
    /// What all must come to at least.
    pub need: i128,
}

impl Row {
    /// Whether some counts meet it.
    pub(super) fn is_met(&self, counts: &[i128]) -> bool {
        let worth = self.worth.iter().zip(counts);
        let sum = worth.fold(0, |sum: i128, (worth, count)| {
            worth.saturating_mul(*count).saturating_add(sum)
        });
        sum >= self.need
    }
}

/// What a search of the counts came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Least {
    /// No counts that meet all rows weigh less.
    pub weight: i128,
    /// Counts that meet all rows and weigh just that; none where that is enough,
    /// or where the search was too long.
    pub counts: Option<Vec<i128>>,
    /// Whether each row was of use.
    pub used: Vec<bool>,
    /// Work that it took.
    pub steps: usize,
}

/// Covers worked out in one search at most, times what is counted; what is open
/// then has its bound.
const MOST_STEPS: usize = 20_000_000;
/// Rows that are added to one another for one node at most.
const MOST_ADDED: usize = 5;
/// Sums of rows that are tried first.
const MOST_LATELY: usize = 6;
/// Shares that rows are added in are so fine.
const SHARES: i128 = 64;
/// The most that one is worth in a row that is to be added to others.
const FINE: i128 = 1 << 40;

/// Bounds on each count, both ends included.
type Bounds = Vec<(i128, i128)>;

/// The least weight of whole counts that meet all rows, or `enough` where it is
/// shown that none weigh less than that.
pub(super) fn least(counted: &[Counted], rows: &[Row], enough: i128) -> Least {
    if rows.is_empty() {
        return Least {
            weight: enough.min(0),
            counts: None,
            used: Vec::new(),
            steps: 0,
        };
    }
    let mut search = Search {
        counted,
        rows,
        even: rows.iter().map(|row| Rc::new(even(row))).collect(),
        step: counted
            .iter()
            .fold(0, |step, one| common(step, one.weight))
            .max(1),
        used: vec![false; rows.len()],
        open: BinaryHeap::new(),
        nodes: Vec::new(),
        lately: VecDeque::new(),
        steps: 0,
    };
    let bounds = counted.iter().map(|one| (0, one.most.max(0))).collect();
    search.push(bounds, 0, enough, None);
    let (weight, counts) = loop {
        let Some((Reverse(weight), id)) = search.open.pop() else {
            break (enough, None);
        };
        let node = std::mem::take(&mut search.nodes[id]);
        let (at, last) = match node.split {
            Split::At(at, last) => (at, last),
            Split::None(counts) => break (weight, Some(counts)),
        };
        if search.steps > MOST_STEPS {
            break (weight, None);
        }
        let (mut few, mut many) = (node.bounds.clone(), node.bounds);
        few[at].1 = last;
        many[at].0 = last + 1;
        search.push(few, weight, enough, node.row.clone());
        search.push(many, weight, enough, node.row);
    };
    Least {
        weight: weight.min(enough),
        counts,
        used: search.used,
        steps: search.steps,
    }
}

fn common(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

fn up(a: i128, b: i128) -> i128 {
    a.div_euclid(b) + i128::from(a.rem_euclid(b) != 0)
}

/// A row of another scale that all counts meet which meet this one: what one is
/// worth is rounded up, what is needed down.
fn even(row: &Row) -> Row {
    let most = row
        .worth
        .iter()
        .map(|worth| worth.abs())
        .max()
        .unwrap_or(0)
        .max(1);
    let fits = |value: &i128| value.abs() < 1 << 110;
    let scaled = |value: i128| value.checked_mul(FINE).filter(fits);
    let worth = row
        .worth
        .iter()
        .map(|&worth| scaled(worth).map(|worth| up(worth, most)));
    match (worth.collect(), scaled(row.need)) {
        (Some(worth), Some(need)) => Row {
            worth,
            need: need.div_euclid(most),
        },
        // Too large to be counted: a row that says nothing.
        _ => Row {
            worth: vec![0; row.worth.len()],
            need: 0,
        },
    }
}

/// The sum of two rows in some shares, which all counts meet that meet both.
fn sum(one: &Row, other: &Row, share: i128) -> Row {
    let mixed = |a: i128, b: i128| a * (SHARES - share) + b * share;
    let worth = one.worth.iter().zip(&other.worth);
    Row {
        worth: worth.map(|(&a, &b)| up(mixed(a, b), SHARES)).collect(),
        need: mixed(one.need, other.need).div_euclid(SHARES),
    }
}

#[derive(Default)]
struct Node {
    bounds: Bounds,
    split: Split,
    /// The sum of rows that shows most here, for the halves to begin with.
    row: Option<Rc<Row>>,
}

enum Split {
    /// The count to split, and the last value of the lower half.
    At(usize, i128),
    /// None is needed: the cheapest counts meet all rows.
    None(Vec<i128>),
}

impl Default for Split {
    fn default() -> Split {
        Split::None(Vec::new())
    }
}

struct Search<'a> {
    counted: &'a [Counted],
    rows: &'a [Row],
    /// The rows on one scale, to be added to one another.
    even: Vec<Rc<Row>>,
    /// Every weight is a multiple of this.
    step: i128,
    used: Vec<bool>,
    /// By weight, the deepest first among equals.
    open: BinaryHeap<(Reverse<i128>, usize)>,
    nodes: Vec<Node>,
    /// Sums of rows that closed something lately.
    lately: VecDeque<Rc<Row>>,
    steps: usize,
}

/// The cheapest counts within bounds that meet one row, the last one in part.
#[derive(Clone)]
struct Cover {
    weight: i128,
    counts: Vec<i128>,
    /// Which one is taken in part, and how much of it.
    part: Option<(usize, f64)>,
}

impl Cover {
    /// How much is lacking of what a row needs, as a share of what one is worth
    /// in it at most; a guide only.
    fn lacking(&self, even: &Row) -> f64 {
        let mut worth = 0;
        for (each, count) in even.worth.iter().zip(&self.counts) {
            worth = each.saturating_mul(*count).saturating_add(worth);
        }
        let part = self
            .part
            .map_or(0.0, |(k, part)| even.worth[k] as f64 * part);
        ((even.need.saturating_sub(worth)) as f64 - part) / FINE as f64
    }
}

impl Search<'_> {
    /// Opens a node unless no counts in it weigh less than `enough`; `above` is
    /// the sum of rows that showed most of what it is a part of.
    fn push(&mut self, bounds: Bounds, weight: i128, enough: i128, above: Option<Rc<Row>>) {
        if bounds.iter().any(|(low, high)| low > high) {
            return;
        }
        let mut best: Option<(Rc<Row>, Cover)> = None;
        if let Some(row) = above {
            let Some(cover) = self.below(&row, &bounds, enough) else {
                return;
            };
            best = Some((row, cover));
        }
        for at in 0..self.lately.len() {
            let row = Rc::clone(&self.lately[at]);
            if self.below(&row, &bounds, enough).is_none() {
                return;
            }
        }
        let rows = self.rows;
        let mut place = None;
        for (at, row) in rows.iter().enumerate() {
            let Some(cover) = self.below(row, &bounds, enough) else {
                self.used[at] = true;
                return;
            };
            if best
                .as_ref()
                .is_none_or(|best| cover.weight > best.1.weight)
            {
                place = Some(at);
                best = Some((Rc::clone(&self.even[at]), cover));
            }
        }
        if let Some(at) = place {
            self.used[at] = true;
        }
        let Some((row, cover)) = best else { return };
        let Some((row, cover)) = self.together(row, cover, &bounds, enough) else {
            return;
        };
        let split = match cover.part {
            Some((k, _)) => Split::At(k, cover.counts[k]),
            None => self.broken(cover.counts, &bounds),
        };
        let id = self.nodes.len();
        self.nodes.push(Node {
            bounds,
            split,
            row: Some(row),
        });
        self.open.push((Reverse(cover.weight.max(weight)), id));
    }

    /// The cover of a row; nothing where no counts that weigh less than `enough`
    /// meet it.
    fn below(&mut self, row: &Row, bounds: &Bounds, enough: i128) -> Option<Cover> {
        self.steps += self.counted.len();
        self.cover(row, bounds)
            .filter(|cover| cover.weight < enough)
    }

    /// The best cover of sums of rows, and that sum: to one row those are added,
    /// one after the other, that its cheapest counts lack most of. Nothing where
    /// no counts that weigh less than `enough` meet a sum.
    fn together(
        &mut self,
        row: Rc<Row>,
        cover: Cover,
        bounds: &Bounds,
        enough: i128,
    ) -> Option<(Rc<Row>, Cover)> {
        let mut best = (row, cover);
        for _ in 0..MOST_ADDED {
            let (current, cover) = &best;
            let lacking = self.even.iter().enumerate();
            let lacking = lacking.map(|(at, even)| (cover.lacking(even), at));
            let most = lacking.fold((1e-9, usize::MAX), |a, b| if b.0 > a.0 { b } else { a });
            let Some(other) = self.even.get(most.1).map(Rc::clone) else {
                break;
            };
            self.used[most.1] = true;
            let current = Rc::clone(current);
            let (mut low, mut high) = (0, SHARES);
            let mut top: Option<(Rc<Row>, Cover)> = None;
            while high - low > 1 {
                let share = (low + high) / 2;
                let row = Rc::new(sum(&current, &other, share));
                let Some(found) = self.below(&row, bounds, enough) else {
                    self.lately.push_front(row);
                    self.lately.truncate(MOST_LATELY);
                    return None;
                };
                match found.lacking(&other) > 0.0 {
                    true => low = share,
                    false => high = share,
                }
                if top.as_ref().is_none_or(|top| found.weight > top.1.weight) {
                    top = Some((row, found));
                }
            }
            match top {
                Some(top) if top.1.weight > best.1.weight => best = top,
                _ => break,
            }
        }
        Some(best)
    }

    /// Where to split bounds whose cheapest counts break a row, if they do.
    fn broken(&mut self, counts: Vec<i128>, bounds: &Bounds) -> Split {
        let broken = |&at: &usize| !self.rows[at].is_met(&counts);
        let Some(at) = (0..self.rows.len()).find(broken) else {
            return Split::None(counts);
        };
        self.used[at] = true;
        let row = &self.rows[at];
        let more = |&k: &usize| row.worth[k] > 0 && counts[k] < bounds[k].1;
        if let Some(k) = (0..counts.len()).filter(more).max_by_key(|&k| row.worth[k]) {
            return Split::At(k, counts[k]);
        }
        // All that is worth something is there already; less of the rest would do.
        let less = |&k: &usize| row.worth[k] < 0 && counts[k] > bounds[k].0;
        match (0..counts.len()).find(less) {
            Some(k) => Split::At(k, counts[k] - 1),
            None => Split::None(counts),
        }
    }

    /// Nothing where no counts within the bounds meet the row.
    fn cover(&self, row: &Row, bounds: &Bounds) -> Option<Cover> {
        let mut need = row.need;
        let mut weight: i128 = 0;
        let mut counts = Vec::with_capacity(bounds.len());
        for ((one, worth), &(low, _)) in self.counted.iter().zip(&row.worth).zip(bounds) {
            weight = weight.saturating_add(one.weight.saturating_mul(low));
            need = need.saturating_sub(worth.saturating_mul(low));
            counts.push(low);
        }
        // Those first that are worth most for their weight.
        let mut order: Vec<usize> = (0..counts.len()).filter(|&k| row.worth[k] > 0).collect();
        order.sort_by(|&a, &b| {
            let (x, y) = (self.counted[a].weight, self.counted[b].weight);
            let left = x.saturating_mul(row.worth[b]);
            left.cmp(&y.saturating_mul(row.worth[a])).then(a.cmp(&b))
        });
        let mut part = None;
        for k in order {
            if need <= 0 {
                break;
            }
            let (worth, each) = (row.worth[k], self.counted[k].weight);
            let room = bounds[k].1 - bounds[k].0;
            let all = worth.saturating_mul(room);
            if all < need {
                weight = weight.saturating_add(each.saturating_mul(room));
                need -= all;
                counts[k] += room;
                continue;
            }
            let (whole, rest) = (need / worth, need % worth);
            let of_rest = rest
                .checked_mul(each)
                .map_or(0, |product| up(product, worth));
            weight = weight.saturating_add(each.saturating_mul(whole).saturating_add(of_rest));
            counts[k] += whole;
            part = (rest > 0).then_some((k, rest as f64 / worth as f64));
            need = 0;
        }
        (need <= 0).then_some(Cover {
            weight: up(weight, self.step).saturating_mul(self.step),
            counts,
            part,
        })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Every choice of counts, one after the other.
    fn brute(counted: &[Counted], rows: &[Row]) -> Option<i128> {
        let mut counts = vec![0; counted.len()];
        let mut best: Option<i128> = None;
        loop {
            let sum = |worth: &[i128]| -> i128 {
                worth
                    .iter()
                    .zip(&counts)
                    .map(|(w, n): (&i128, &i128)| w * n)
                    .sum()
            };
            if rows.iter().all(|row| sum(&row.worth) >= row.need) {
                let weights: Vec<i128> = counted.iter().map(|one| one.weight).collect();
                let weight = sum(&weights);
                best = Some(best.map_or(weight, |best| best.min(weight)));
            }
            let Some(k) = (0..counts.len()).find(|&k| counts[k] < counted[k].most) else {
                return best;
            };
            counts[k] += 1;
            counts[..k].fill(0);
        }
    }

    proptest! {
        #[test]
        fn the_least_of_all_counts_that_meet_the_rows(
            counted in prop::collection::vec((0i128..30, 0i128..6), 1..5),
            rows in prop::collection::vec(
                (prop::collection::vec(-3i128..12, 5), -10i128..80), 1..4),
        ) {
            let counted: Vec<Counted> = counted
                .into_iter()
                .map(|(weight, most)| Counted { weight, most })
                .collect();
            let rows: Vec<Row> = rows
                .into_iter()
                .map(|(worth, need)| Row { worth: worth[..counted.len()].to_vec(), need })
                .collect();
            let best = brute(&counted, &rows);
            let found = least(&counted, &rows, 10_000);
            prop_assert_eq!(found.weight, best.unwrap_or(10_000));
            let enough = best.unwrap_or(100) / 2;
            prop_assert_eq!(least(&counted, &rows, enough).weight, enough);
            // The rows of use are enough by themselves.
            let kept: Vec<Row> = rows.iter().zip(&found.used)
                .filter(|(_, used)| **used).map(|(row, _)| row.clone()).collect();
            prop_assert_eq!(least(&counted, &kept, 10_000).weight, found.weight);
        }
    }
}
