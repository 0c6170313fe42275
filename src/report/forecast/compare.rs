//! Fasteners set against the best of them: the cheapest where all have a plan,
//! else the one with the fewest courses.

use crate::courses::Forecast;
use crate::fit::Planned;
use crate::money::Money;
use crate::plan::Totals;

/// A fastener's forecast, and what the boards for it come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Where the last course falls.
    pub forecast: Forecast,
    /// What its boards come to.
    pub boards: Boards,
}

/// What the boards for one of several fasteners come to.
#[derive(Debug, Clone, PartialEq)]
pub enum Boards {
    /// The job does not say, or nobody asked.
    Unknown,
    /// All fasteners take the same boards, whatever they come to.
    Alike,
    /// A board plan's totals, or why there is none.
    Planned(Planned),
}

impl Row {
    /// The plan's totals, if there is a plan.
    pub fn totals(&self) -> Option<&Totals> {
        match &self.boards {
            Boards::Planned(Ok(totals)) => Some(totals),
            _ => None,
        }
    }
}

/// What a fastener takes more than the best.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Against {
    pub(super) courses: i64,
    pub(super) boards: Option<i64>,
    pub(super) cost: Option<Money>,
}

/// The best of several fasteners, by its place among them.
pub(super) fn best(rows: &[Row]) -> Option<usize> {
    let all_planned = rows.iter().all(|row| row.totals().is_some());
    let cost = |row: &Row| row.totals().filter(|_| all_planned).map(|t| t.cost);
    (0..rows.len()).min_by_key(|&k| (cost(&rows[k]), rows[k].forecast.outcome.laid))
}

/// What each fastener takes more than the best.
pub(super) fn against(row: &Row, best: &Row) -> Against {
    let both = row.totals().zip(best.totals());
    let alike = row.boards == Boards::Alike;
    let boards = both.map(|(own, best)| i64::from(own.boards) - i64::from(best.boards));
    let cost = both.map(|(own, best)| own.cost - best.cost);
    Against {
        courses: row.forecast.outcome.laid - best.forecast.outcome.laid,
        boards: boards.or(alike.then_some(0)),
        cost: cost.or(alike.then_some(Money::ZERO)),
    }
}
