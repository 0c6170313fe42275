//! Boards that are sold in bundles: whether what is bought makes whole bundles
//! with what is said to be left over, and that costs what it must.

use std::collections::BTreeMap;

use super::{Findings, Rule};

/// One stock as it is sold.
pub(super) struct Sold {
    /// Its length.
    pub length: i128,
    /// Cents for one board.
    pub price: i128,
    /// Boards in a bundle.
    pub bundle: u64,
    /// The most that can be bought.
    pub available: Option<u64>,
    /// Boards that are bought and used.
    pub bought: u128,
}

/// Checks what is left over, each as stock, count and cents; `whose` is what has
/// the stock.
pub(super) fn check(
    stock: impl IntoIterator<Item = Sold>,
    left_over: impl IntoIterator<Item = (usize, u64, i128)>,
    whose: &str,
    found: &mut Findings,
) {
    let mut told: BTreeMap<usize, (u128, i128)> = BTreeMap::new();
    for (stock, left, cents) in left_over {
        let (count, price) = told.entry(stock).or_default();
        *count += u128::from(left);
        *price += cents;
    }
    for (place, stock) in stock.into_iter().enumerate() {
        let bundle = u128::from(stock.bundle.max(1));
        let due = (bundle - stock.bought % bundle) % bundle;
        let wanted = (due, due as i128 * stock.price);
        let said = told.remove(&place).unwrap_or_default();
        if said != wanted {
            found.add(
                Rule::Bundle,
                format!(
                    "{} boards of stock {} at {} cents are left over, but it should be {} at {}",
                    said.0,
                    place + 1,
                    said.1,
                    wanted.0,
                    wanted.1
                ),
            );
        }
        if let Some(available) = stock.available.filter(|_| bundle > 1)
            && stock.bought + due > u128::from(available)
        {
            found.add(
                Rule::Available,
                format!(
                    "{} boards of {} are bought in bundles, but there are {available}",
                    stock.bought + due,
                    found.show(stock.length)
                ),
            );
        }
    }
    for place in told.keys() {
        found.add(
            Rule::Bundle,
            format!(
                "boards of stock {} are left over, which the {whose} does not have",
                place + 1
            ),
        );
    }
}
