//! The whole search: a quick answer, the relaxation and its bound, and the gap
//! closed by settling numbers of boards, by listing patterns, and by dives where
//! that is too much. What is done is counted, never timed.

use super::close::{Work, close};
use super::dive::dive;
use super::greedy;
use super::instance::{Cut, Instance, Kind};
use super::large::large;
use super::reach::Reach;
use super::relax::{Prices, Relaxation, relax};
use super::settle::{Effort, Settled, settle};
use super::types::StockError;

/// Distinct lengths beyond which the relaxation would take too long.
pub(crate) const MOST_LENGTHS: usize = 300;

/// With so many pieces to a board, packing boards well is easier than listing
/// patterns.
const MANY_PIECES: f64 = 5.0;

/// An answer to an instance and what is known about it.
pub(crate) struct Solved {
    /// The boards and their cuts.
    pub cuts: Vec<Cut>,
    /// What they cost.
    pub cost: i64,
    /// No answer costs less.
    pub bound: i64,
    /// The prices that prove what the relaxation gives of the bound.
    pub prices: Option<Prices>,
    /// Other prices that refute numbers of boards.
    pub refuting: Vec<Vec<i64>>,
}

/// Told of the best cost so far, the bound, and the cuts.
type Tell<'a> = dyn Fn(Option<i64>, i64, Option<&Vec<Cut>>) + 'a;

/// Searches an instance. Answers that cost more than `enough` are of no use;
/// if none is found that is not, the cheapest is returned with its bound.
pub(crate) fn search(
    instance: &Instance,
    enough: i64,
    work: Work,
    stop: &dyn Fn() -> bool,
    tell: &Tell,
) -> Result<Solved, StockError> {
    let conceivable = instance.conceivable();
    let sizes: Vec<i64> = instance
        .lengths
        .iter()
        .map(|&l| (l + instance.kerf).units())
        .collect();
    let limits: Vec<Option<i64>> = instance.kinds.iter().map(|k| k.limit).collect();
    if instance.lengths.len() > MOST_LENGTHS {
        let mut solved = large(instance, stop).ok_or(StockError::Stopped)?;
        solved.bound = reach(instance, solved.cost)
            .lift(solved.bound)
            .min(solved.cost);
        return Ok(solved);
    }
    let none = vec![0; instance.kinds.len()];
    let mut best = greedy::fill(
        instance,
        instance.demand.clone(),
        (limits, none),
        &sizes,
        stop,
    );
    if best.is_none() && stop() {
        best = greedy::first_fit(instance);
    }
    let best = best.map(|cuts| instance.trim(&cuts));
    let cost = best
        .as_ref()
        .map_or(conceivable, |cuts| instance.cost(cuts));
    let relaxation = relax(instance, best.as_deref().unwrap_or(&[]), cost, stop);
    if best.is_none() && relaxation.prices.bound() > conceivable {
        return Err(StockError::NotEnough);
    }
    let reach = reach(instance, cost.min(enough));
    let bound = reach.lift(relaxation.prices.bound()).min(cost);
    let mut search = Search {
        instance,
        conceivable,
        enough,
        work,
        relaxation,
        reach,
        settled: None,
        refuting: Vec::new(),
        best,
        cost,
        bound,
        stop,
        tell,
    };
    search.tell();
    search.run()?;
    let cuts = search.best.ok_or(StockError::Stopped)?;
    Ok(Solved {
        cuts,
        cost: search.cost,
        bound: search.bound.min(search.cost),
        prices: Some(search.relaxation.prices),
        refuting: search.refuting,
    })
}

struct Search<'a> {
    instance: &'a Instance,
    /// No answer of interest costs more.
    conceivable: i64,
    enough: i64,
    work: Work,
    relaxation: Relaxation,
    reach: Reach,
    settled: Option<Settled>,
    refuting: Vec<Vec<i64>>,
    best: Option<Vec<Cut>>,
    cost: i64,
    bound: i64,
    stop: &'a dyn Fn() -> bool,
    tell: &'a Tell<'a>,
}

impl Search<'_> {
    fn run(&mut self) -> Result<(), StockError> {
        let boards: f64 = self.relaxation.used.iter().map(|u| u.2).sum();
        // Bundles leave room to pack, and their numbers are few.
        let many = self.instance.pieces() as f64 >= MANY_PIECES * boards
            || self.instance.kinds.iter().any(|k| k.bundle > 1);
        let effort = Effort::of(self.work);
        if many {
            self.settle(effort);
        } else {
            if self.open()
                && let Some(cuts) = greedy::round(self.instance, &self.relaxation, self.stop)
            {
                self.improve(&cuts);
            }
            self.settle(Effort::LISTING);
        }
        self.close()?;
        if !many {
            self.settle(effort);
        }
        let before = self.cost;
        // Each dive relaxes what is left many times; large problems get one.
        for depth in 0..if self.instance.lengths.len() > 100 {
            1
        } else {
            2
        } {
            if self.open()
                && let Some(cuts) = dive(self.instance, &self.relaxation, depth, self.stop)
            {
                self.improve(&cuts);
            }
        }
        if self.cost < before {
            self.close()?;
        }
        Ok(())
    }

    /// Whether there is something left to find or to prove.
    fn open(&self) -> bool {
        (self.best.is_none() || self.bound < self.cost.min(self.enough.saturating_add(1)))
            && !(self.stop)()
    }

    /// What a better answer costs less than.
    fn target(&self) -> i64 {
        // One more than the best, so that an equal answer counts while there is none.
        let target = match self.best {
            Some(_) => self.cost,
            None => self.conceivable.saturating_add(1),
        };
        target.min(self.enough.saturating_add(1))
    }

    fn improve(&mut self, cuts: &[Cut]) {
        let cost = self.instance.cost(cuts);
        if self.best.is_none() || cost < self.cost {
            self.cost = cost;
            self.best = Some(self.instance.trim(cuts));
        }
    }

    fn tell(&self) {
        let found = self.best.as_ref().map(|_| self.cost);
        (self.tell)(found, self.bound, self.best.as_ref());
    }

    fn settle(&mut self, effort: Effort) {
        if !self.open() || self.best.is_none() {
            return;
        }
        let span = (self.bound, self.target());
        let mut settled = settle(
            self.instance,
            &self.relaxation,
            &self.reach,
            span,
            effort,
            self.stop,
        );
        self.bound = self.bound.max(settled.bound.min(self.cost));
        if let Some(cuts) = &settled.better {
            self.improve(cuts);
        }
        self.refuting.append(&mut settled.refuting);
        self.settled = Some(settled);
        self.tell();
    }

    fn close(&mut self) -> Result<(), StockError> {
        if !self.open() {
            return Ok(());
        }
        let lift = |b: i64| match &self.settled {
            Some(settled) => settled.lift(&self.reach, b),
            None => self.reach.lift(b),
        };
        let span = (self.bound, self.target());
        let prices = &self.relaxation.prices;
        let closed = close(self.instance, prices, span, &lift, self.work, self.stop);
        self.bound = self.bound.max(closed.bound.min(self.cost));
        match closed.better {
            Some(cuts) => self.improve(&cuts),
            None if self.best.is_none() && closed.bound > self.conceivable => {
                return Err(StockError::NotEnough);
            }
            None => {}
        }
        self.tell();
        Ok(())
    }
}

fn reach(instance: &Instance, limit: i64) -> Reach {
    Reach::new(instance.kinds.iter().map(Kind::of_bundle), limit)
}
