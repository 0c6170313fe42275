//! Small decks that tests of parts of the planner search.

use super::master::Master;
use super::model::Model;
use super::search::first_classes;
use super::types::Objective;
use crate::job::{Job, Stock};
use crate::length::{Length, Unit};
use crate::money::Money;

/// One so many inches along and across, of boards of some feet and cents: the `n`-th of a
/// row, in which rules and prices of joints take turns.
pub(super) fn deck(n: i64, along: i64, across: i64, boards: [(i64, i64); 3]) -> Job {
    let read = |text: &str| text.parse::<Length>().expect("a length");
    let (along, across) = (Length::from_inches(along), Length::from_inches(across));
    let mut job = Job::rectangle(Unit::Inch, along, across, read("5-1/2in"), read("1/8in"));
    let boards = boards.into_iter().map(|(feet, cents)| {
        let price = Money::from_cents(cents);
        Stock::bought(Length::from_feet(feet), price)
    });
    job.stock.extend(boards);
    job.joints.same_joist_after = (n % 3) as u32;
    job.joints.price = Money::from_cents(70 * (n % 2));
    job
}

/// The `n`-th of a row whose joists cost something once they carry joints.
pub(super) fn doubled(n: i64) -> (Job, Model) {
    let boards = [(8, 1_911 + 37 * n), (12, 3_003 - 11 * n), (14, 3_790)];
    let mut job = deck(n, 200 + 23 * (n % 9), 34 + 11 * (n % 4), boards);
    job.joints.doubled_joist_price = Money::from_cents(350 + 150 * (n % 5));
    let Ok(model) = Model::new(&job, 0, Objective::Cost) else {
        panic!("deck {n} is one that can be searched");
    };
    (job, model)
}

/// A deck's relaxation over its first blocks, and what no plan weighs less than by it.
pub(super) fn relaxed<'a>(job: &Job, model: &'a Model) -> Option<(Master<'a>, i64)> {
    let (_, classes) = first_classes(model, &job.joints, None, 100_000)?;
    let mut root = Master::new(model, classes, &model.extra, &[]);
    root.solve(model.conceivable, i64::MAX, &|| false);
    let bound = root.prices.as_ref().map_or(0, |p| model.lift(p.bound()));
    Some((root, bound))
}
