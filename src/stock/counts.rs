//! How many boards of each kind an answer can have. Any prices of the pieces,
//! none below zero, make a row that every answer meets: what the boards could
//! hold at most is worth no less than all pieces. It lists, in whole bundles and by cost, the numbers
//! of boards that meet all rows; whether they hold the pieces is for others.

use super::instance::{Instance, Kind};

/// A row that the numbers of boards of every answer meet.
#[derive(Debug, Clone)]
struct Row {
    /// What a board of each kind can hold at most is worth.
    worth: Vec<i128>,
    /// What all pieces are worth.
    need: i128,
}

/// Rows over the numbers of boards of each kind.
#[derive(Debug, Clone)]
pub(crate) struct Counts {
    kinds: Vec<Kind>,
    /// No answer takes more boards of a kind than this, in whole bundles.
    most: Vec<i64>,
    rows: Vec<Row>,
    /// Kinds in the order they are counted: the worst worth for its cost first.
    order: Vec<usize>,
}

/// Numbers of boards by kind, and what they cost.
pub(crate) type Numbers = (i64, Vec<i64>);

impl Counts {
    /// The row that some prices make; it guides the listing.
    pub(crate) fn new(instance: &Instance, prices: &[i64]) -> Counts {
        let pieces = instance.pieces();
        let kinds = instance.kinds.clone();
        let most = kinds
            .iter()
            .map(|k| {
                let of_use = pieces + k.left_over(pieces);
                k.limit.unwrap_or(i64::MAX).clamp(0, of_use)
            })
            .collect();
        let mut counts = Counts {
            order: (0..kinds.len()).filter(|&k| kinds[k].cost > 0).collect(),
            kinds,
            most,
            rows: Vec::new(),
        };
        counts.add(instance, prices);
        let row = &counts.rows[0];
        counts.order.sort_by(|&a, &b| {
            let cost = |k: usize| i128::from(counts.kinds[k].cost);
            (cost(b) * row.worth[a])
                .cmp(&(cost(a) * row.worth[b]))
                .then(a.cmp(&b))
        });
        counts
    }

    /// Adds the row that some prices make.
    pub(crate) fn add(&mut self, instance: &Instance, prices: &[i64]) {
        let best = instance.boards.best(prices);
        let worth = best.iter().map(|b| i128::from(b.at_most)).collect();
        let need = instance.worth(prices);
        self.rows.push(Row { worth, need });
    }

    /// No numbers of boards that meet the first row cost less than this.
    pub(crate) fn least(&self) -> i64 {
        let free: i128 = (self.kinds.iter().zip(&self.most).zip(&self.rows[0].worth))
            .filter(|((kind, _), _)| kind.cost == 0)
            .map(|((_, &most), worth)| worth * i128::from(most))
            .sum();
        let cost = self.cover(0, self.rows[0].need - free);
        i64::try_from(cost).unwrap_or(i64::MAX)
    }

    /// Whether some numbers of boards meet all rows.
    pub(crate) fn allow(&self, numbers: &[i64]) -> bool {
        self.rows.iter().all(|row| {
            let worth: i128 = row
                .worth
                .iter()
                .zip(numbers)
                .map(|(&w, &n)| w * i128::from(n))
                .sum();
            worth >= row.need
        })
    }

    /// All numbers of boards that meet the rows and cost from `from` to `to`,
    /// cheapest first; left out are those that others beat which cost no more.
    /// Nothing if there are more than `most` or the search is too long.
    pub(crate) fn list(&self, from: i64, to: i64, most: usize, steps: u64) -> Option<Vec<Numbers>> {
        let mut numbers = vec![0; self.kinds.len()];
        let mut needs: Vec<i128> = self.rows.iter().map(|row| row.need).collect();
        for (k, kind) in self.kinds.iter().enumerate() {
            if kind.cost == 0 {
                numbers[k] = self.most[k];
                for (need, row) in needs.iter_mut().zip(&self.rows) {
                    *need -= row.worth[k] * i128::from(numbers[k]);
                }
            }
        }
        let mut listing = Listing {
            counts: self,
            from,
            to,
            most,
            numbers,
            found: Vec::new(),
            steps,
        };
        if !listing.descend(0, 0, &needs) {
            return None;
        }
        let mut found = listing.found;
        found.sort();
        Some(found)
    }

    /// What the kinds from place `at` of the order on cost at least to be worth
    /// `need` in the first row: the best of them first, the last one in part.
    fn cover(&self, at: usize, mut need: i128) -> i128 {
        let row = &self.rows[0];
        let mut cost = 0;
        for &k in self.order[at..].iter().rev() {
            if need <= 0 {
                return cost;
            }
            let worth = row.worth[k];
            if worth <= 0 {
                break;
            }
            let price = i128::from(self.kinds[k].cost);
            let all = worth * i128::from(self.most[k]);
            if all >= need {
                return cost + need * price / worth;
            }
            cost += price * i128::from(self.most[k]);
            need -= all;
        }
        if need <= 0 { cost } else { i128::MAX / 4 }
    }

    /// Whether a bundle could be changed for as many boards as long of another
    /// kind that cost no more (and come first where all is alike).
    fn beaten(&self, numbers: &[i64]) -> bool {
        let better = |a: usize, b: usize| {
            let (x, y) = (&self.kinds[a], &self.kinds[b]);
            y.bundle % x.bundle == 0
                && x.usable >= y.usable
                && x.cost <= y.cost
                && (x.usable > y.usable || x.cost < y.cost || a < b)
        };
        self.order.iter().any(|&b| {
            let room = |a: usize| self.most[a] - numbers[a] >= self.kinds[b].bundle;
            let mut others = self.order.iter();
            numbers[b] > 0 && others.any(|&a| a != b && room(a) && better(a, b))
        })
    }
}

struct Listing<'a> {
    counts: &'a Counts,
    from: i64,
    to: i64,
    most: usize,
    numbers: Vec<i64>,
    found: Vec<Numbers>,
    /// Steps left.
    steps: u64,
}

impl Listing<'_> {
    /// False when cut short.
    fn descend(&mut self, at: usize, cost: i64, needs: &[i128]) -> bool {
        if self.steps == 0 {
            return false;
        }
        self.steps -= 1;
        let Some(&k) = self.counts.order.get(at) else {
            if cost >= self.from
                && needs.iter().all(|&need| need <= 0)
                && !self.counts.beaten(&self.numbers)
            {
                self.found.push((cost, self.numbers.clone()));
            }
            return self.found.len() <= self.most;
        };
        let (price, bundle) = (self.counts.kinds[k].cost, self.counts.kinds[k].bundle);
        let mut needs = needs.to_vec();
        let mut n = 0;
        // The last kind makes up for all that is still wanted.
        if at + 1 == self.counts.order.len() {
            for (need, row) in needs.iter().zip(&self.counts.rows) {
                if *need > 0 {
                    if row.worth[k] <= 0 {
                        return true;
                    }
                    let least = (*need - 1) / row.worth[k] + 1;
                    n = n.max(i64::try_from(least).unwrap_or(i64::MAX));
                }
            }
            n = n.max((self.from - cost - 1).div_euclid(price) + 1);
            if n > self.counts.most[k] {
                return true;
            }
            n += self.counts.kinds[k].left_over(n);
            for (need, row) in needs.iter_mut().zip(&self.counts.rows) {
                *need -= row.worth[k] * i128::from(n);
            }
        }
        loop {
            let now = i128::from(cost) + i128::from(price) * i128::from(n);
            if n > self.counts.most[k] || now > i128::from(self.to) {
                break;
            }
            // More of a kind that comes before the best never costs less in the end.
            let rest = self.counts.cover(at + 1, needs[0]);
            if now + rest > i128::from(self.to) {
                if rest == i128::MAX / 4 {
                    // The kinds to come do not suffice: more of this one is needed.
                    n += bundle;
                    for (need, row) in needs.iter_mut().zip(&self.counts.rows) {
                        *need -= row.worth[k] * i128::from(bundle);
                    }
                    self.steps = self.steps.saturating_sub(1);
                    continue;
                }
                break;
            }
            self.numbers[k] = n;
            if !self.descend(at + 1, now as i64, &needs) {
                self.numbers[k] = 0;
                return false;
            }
            n += bundle;
            for (need, row) in needs.iter_mut().zip(&self.counts.rows) {
                *need -= row.worth[k] * i128::from(bundle);
            }
        }
        self.numbers[k] = 0;
        true
    }
}
