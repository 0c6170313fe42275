//! Small decks that tests of parts of the planner search.

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
