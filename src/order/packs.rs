//! Which packs to buy when fasteners come in packs of several sizes: the
//! cheapest that together hold enough. It knows sizes, prices and a count; how
//! many pieces a deck takes is left to its caller.

use good_lp::{
    Expression, ProblemVariables, Solution, SolverModel, constraint, microlp, variable, variables,
};
use itertools::Itertools;

use crate::job::Pack;
use crate::money::Money;

/// How many to buy of each kind of pack, the largest first, kinds that are not
/// bought left out. Among equally cheap choices it is one of the fewest packs.
///
/// Packs whose price is not known are bought only where no price is known at
/// all; then the least that is enough is taken for the cheapest.
pub(super) fn cheapest(packs: &[Pack], pieces: u64) -> Vec<(Pack, u64)> {
    let kinds = worth_buying(packs);
    let alone = (0..kinds.len()).map(|kind| {
        let mut counts = vec![0; kinds.len()];
        counts[kind] = pieces.div_ceil(kinds[kind].pieces());
        counts
    });
    // A solver works in floating point: its answers stand beside the plain ones
    // and are compared with them in whole numbers.
    let best = alone
        .chain(combined(&kinds, pieces))
        .filter(|counts| held(&kinds, counts) >= u128::from(pieces))
        .min_by_key(|counts| (cost(&kinds, counts), counts.iter().sum::<u64>()));
    let best = best.unwrap_or_default();
    let bought = kinds.iter().map(|kind| kind.0).zip(best);
    bought.filter(|(_, count)| *count > 0).collect()
}

/// A pack that is compared by its price, or by its size where none has a price.
#[derive(Clone, Copy)]
struct Kind(Pack);

impl Kind {
    fn pieces(self) -> u64 {
        u64::from(self.0.pieces.max(1))
    }

    fn cost(self) -> u64 {
        let price = self.0.price.map(Money::cents);
        price.map_or(self.pieces(), |cents| u64::try_from(cents).unwrap_or(0))
    }
}

/// The packs that no other one beats in both size and price, largest first.
fn worth_buying(packs: &[Pack]) -> Vec<Kind> {
    let priced = packs.iter().any(|pack| pack.price.is_some());
    let comparable = packs.iter().filter(|pack| pack.price.is_some() == priced);
    let mut kinds: Vec<Kind> = Vec::new();
    let largest_first = comparable
        .map(|pack| Kind(*pack))
        .sorted_by_key(|kind| (std::cmp::Reverse(kind.pieces()), kind.cost()));
    for kind in largest_first {
        if kinds
            .last()
            .is_none_or(|larger| kind.cost() < larger.cost())
        {
            kinds.push(kind);
        }
    }
    kinds
}

fn held(kinds: &[Kind], counts: &[u64]) -> u128 {
    let each = kinds.iter().zip(counts);
    each.map(|(kind, &count)| u128::from(kind.pieces()) * u128::from(count))
        .sum()
}

fn cost(kinds: &[Kind], counts: &[u64]) -> u128 {
    let each = kinds.iter().zip(counts);
    each.map(|(kind, &count)| u128::from(kind.cost()) * u128::from(count))
        .sum()
}

/// The cheapest mixture, and the one of fewest packs that is no dearer.
fn combined(kinds: &[Kind], pieces: u64) -> Vec<Vec<u64>> {
    if kinds.len() < 2 {
        return Vec::new();
    }
    let Some(cheapest) = covering(kinds, pieces, |kind| kind.cost(), None) else {
        return Vec::new();
    };
    let limit = cost(kinds, &cheapest);
    let fewest = covering(kinds, pieces, |_| 1, Some(limit));
    std::iter::once(cheapest).chain(fewest).collect()
}

/// The covering program: whole counts that hold enough, cost no more than a
/// limit, and weigh the least.
fn covering(
    kinds: &[Kind],
    pieces: u64,
    weight: impl Fn(Kind) -> u64,
    limit: Option<u128>,
) -> Option<Vec<u64>> {
    let sum = |of: &dyn Fn(Kind) -> u64, counts: &[good_lp::Variable]| -> Expression {
        let each = kinds.iter().zip(counts);
        each.map(|(kind, &count)| of(*kind) as f64 * count).sum()
    };
    let mut program: ProblemVariables = variables!();
    let counts: Vec<_> = kinds
        .iter()
        .map(|kind| {
            let most = pieces.div_ceil(kind.pieces());
            program.add(variable().integer().min(0).max(most as f64))
        })
        .collect();
    let mut model = program
        .minimise(sum(&weight, &counts))
        .using(microlp)
        .with(constraint!(
            sum(&|kind| kind.pieces(), &counts) >= pieces as f64
        ));
    if let Some(limit) = limit {
        model = model.with(constraint!(
            sum(&|kind| kind.cost(), &counts) <= limit as f64
        ));
    }
    let solution = model.solve().ok()?;
    let whole = counts.iter().map(|&count| solution.value(count).round());
    Some(whole.map(|count| count.max(0.0) as u64).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pack(pieces: u32, cents: i64) -> Pack {
        Pack::of(pieces, Some(Money::from_cents(cents)))
    }

    fn bought(packs: &[Pack], pieces: u64) -> Vec<(u32, u64)> {
        let bought = cheapest(packs, pieces).into_iter();
        bought.map(|(pack, count)| (pack.pieces, count)).collect()
    }

    /// The least cost, and with it the fewest packs, for every count up to one:
    /// a table filled from below in whole numbers.
    fn table(packs: &[Pack], most: usize) -> Vec<(i64, u64)> {
        let mut best = vec![(0, 0)];
        for need in 1..=most {
            let with = |pack: &Pack| {
                let (cost, count) = best[need.saturating_sub(pack.pieces as usize)];
                (cost + pack.price.expect("a price").cents(), count + 1)
            };
            best.push(packs.iter().map(with).min().expect("a pack"));
        }
        best
    }

    #[test]
    fn the_cheapest_mixture_need_not_be_the_smallest_or_the_largest() {
        let packs = [pack(90, 2490), pack(350, 8400)];
        // Computed: 400 pieces are 5 small packs at 124.50, 2 large ones at
        // 168.00, or one of each at 108.90.
        assert_eq!(bought(&packs, 400), [(350, 1), (90, 1)]);
        // 270 pieces are 3 small packs at 74.70, below one large at 84.00.
        assert_eq!(bought(&packs, 270), [(90, 3)]);
        // One more needs a fourth, 99.60: the large one is cheaper.
        assert_eq!(bought(&packs, 271), [(350, 1)]);
    }

    #[test]
    fn among_equals_the_fewest_packs() {
        let packs = [pack(50, 1000), pack(100, 2000), pack(200, 4000)];
        assert_eq!(bought(&packs, 350), [(200, 1), (100, 1), (50, 1)]);
        assert_eq!(bought(&[pack(5, 0), pack(50, 0)], 120), [(50, 3)]);
    }

    #[test]
    fn without_prices_the_least_that_is_enough() {
        let sizes = [30, 100].map(|pieces| Pack::of(pieces, None));
        assert_eq!(bought(&sizes, 130), [(100, 1), (30, 1)]);
        assert_eq!(bought(&sizes, 55), [(30, 2)]);
        assert_eq!(bought(&[], 55), []);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]
        #[test]
        fn no_mixture_is_cheaper(
            packs in prop::collection::vec((1u32..400, 0i64..20_000), 1..6),
            pieces in 1u64..3_000,
        ) {
            let packs: Vec<Pack> = packs.iter().map(|&(n, cents)| pack(n, cents)).collect();
            let chosen = cheapest(&packs, pieces);
            let held: u64 = chosen.iter().map(|(pack, n)| u64::from(pack.pieces) * n).sum();
            prop_assert!(held >= pieces);
            let cost: i64 = chosen
                .iter()
                .map(|(pack, n)| pack.price.expect("a price").cents() * *n as i64)
                .sum();
            let count: u64 = chosen.iter().map(|(_, n)| n).sum();
            prop_assert_eq!((cost, count), table(&packs, pieces as usize)[pieces as usize]);
        }

        /// Prices that follow the size leave many mixtures nearly as good.
        #[test]
        fn nor_where_prices_follow_the_size(
            packs in prop::collection::vec((1u32..1_200, 0i64..3), 2..6),
            pieces in 1u64..5_000,
        ) {
            let packs: Vec<Pack> =
                packs.iter().map(|&(n, more)| pack(n, i64::from(n) * 7 + more)).collect();
            let cost: i64 = cheapest(&packs, pieces)
                .iter()
                .map(|(pack, n)| pack.price.expect("a price").cents() * *n as i64)
                .sum();
            prop_assert_eq!(cost, table(&packs, pieces as usize)[pieces as usize].0);
        }
    }
}
