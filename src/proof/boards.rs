//! The boards' side of a proof: that no way to cut a board is worth more than
//! the board, or by how much it is, and what limits give back.

use std::collections::hash_map::Entry;
use std::collections::{HashMap, HashSet};

use super::certificate::{Limit, Piece};
use super::counts::Counted;
use super::knapsack::{Item, Sums};
use super::{Refused, broken};

/// One kind of board: bought or from hand.
pub(super) struct Kind {
    /// Its place among the stock, from 1.
    pub stock: usize,
    /// Whether it comes from hand.
    pub on_hand: bool,
    /// What one weighs.
    pub weight: i128,
    /// What as many as are sold together count for the objective alone.
    pub sold: i64,
    /// The most there are; no limit when absent.
    pub limit: Option<u64>,
    /// How many are sold together.
    pub bundle: u64,
    /// What it offers: its length less both trims, and one saw cut.
    pub room: i128,
}

/// What boards are cut into, and how.
pub(super) struct Cutting<'a> {
    pub kinds: &'a [Kind],
    pub kerf: i128,
    pub parts: i128,
    /// No answer takes more boards than this.
    pub most_boards: i128,
    /// The most pieces of a length in a board, where more would be of no use.
    pub most: Option<&'a HashMap<i128, u64>>,
    /// The widths of the two strips of a split board.
    pub splits: &'a [(i128, i128)],
}

/// What pieces are worth, by strip and length.
pub(super) fn worths(pieces: &[Piece]) -> Result<HashMap<(Option<i128>, i128), i128>, Refused> {
    let mut worths = HashMap::new();
    for piece in pieces {
        if piece.price < 0 || piece.length <= 0 {
            return Err(broken("a piece has a price below 0 or no length"));
        }
        let key = (piece.strip.map(i128::from), i128::from(piece.length));
        if worths.insert(key, i128::from(piece.price)).is_some() {
            return Err(broken("a piece has two prices"));
        }
    }
    Ok(worths)
}

/// Boards by stock and where they come from, of so many bundles of each kind.
pub(super) fn of_kinds(kinds: &[Kind], counts: &[i128]) -> Vec<(usize, bool, i128)> {
    let counted = kinds.iter().zip(counts);
    counted
        .map(|(kind, count)| (kind.stock, kind.on_hand, count * i128::from(kind.bundle)))
        .collect()
}

impl Cutting<'_> {
    /// What a board of each kind can hold at most is worth, in parts.
    pub(super) fn most_worth(&self, pieces: &[Piece]) -> Result<Vec<i128>, Refused> {
        let most_room = self.kinds.iter().map(|kind| kind.room).max().unwrap_or(0);
        let sums = |of: &dyn Fn(&Piece) -> bool| -> Result<Sums, Refused> {
            let items: Vec<Item> = pieces
                .iter()
                .filter(|piece| of(piece))
                .map(|piece| {
                    let length = i128::from(piece.length);
                    let most = self
                        .most
                        .map_or(u64::MAX, |most| most.get(&length).copied().unwrap_or(0));
                    Item {
                        size: length + self.kerf,
                        worth: i128::from(piece.price),
                        most,
                    }
                })
                .collect();
            Sums::of(&items, most_room).ok_or(Refused::TooLarge("ways to cut a board"))
        };
        let whole = sums(&|_| true)?;
        let mut strips: HashMap<i128, Sums> = HashMap::new();
        for width in self.splits.iter().flat_map(|&(a, b)| [a, b]) {
            if let Entry::Vacant(entry) = strips.entry(width) {
                let of_width = |piece: &Piece| piece.strip.map(i128::from) == Some(width);
                entry.insert(sums(&of_width)?);
            }
        }
        let of_kind = |kind: &Kind| {
            let split = self.splits.iter().map(|(a, b)| {
                let best = |width| strips.get(width).map_or(0, |sums| sums.best(kind.room));
                best(a) + best(b)
            });
            split.max().unwrap_or(0).max(whole.best(kind.room))
        };
        let worths = self.kinds.iter().map(of_kind);
        Ok(worths.collect())
    }

    /// What as many boards of each kind as are sold together can hold at most.
    pub(super) fn of_bundles(&self, most_worth: &[i128]) -> Vec<i128> {
        let kinds = self.kinds.iter().zip(most_worth);
        kinds
            .map(|(kind, worth)| worth * i128::from(kind.bundle))
            .collect()
    }

    /// The numbers of boards of each kind, sold in bundles where they are.
    pub(super) fn counted(&self) -> Vec<Counted> {
        let of_kind = |kind: &Kind| {
            let bundle = i128::from(kind.bundle);
            let of_use = (self.most_boards + bundle - 1) / bundle;
            let most = kind.limit.map(|limit| i128::from(limit) / bundle);
            Counted {
                weight: kind.weight * bundle,
                most: most.map_or(of_use, |most| most.min(of_use)),
            }
        };
        self.kinds.iter().map(of_kind).collect()
    }

    /// What boards and their limits may take off the sum of all pieces' worths,
    /// in parts, where a board of each kind can hold so much at most.
    pub(super) fn given_back(
        &self,
        most_worth: &[i128],
        limits: &[Limit],
    ) -> Result<i128, Refused> {
        let mut left: HashSet<(usize, bool)> = HashSet::new();
        let mut prices: HashMap<(usize, bool), i128> = HashMap::new();
        for limit in limits {
            let key = (limit.stock, limit.on_hand);
            if limit.price < 0 || prices.insert(key, i128::from(limit.price)).is_some() {
                return Err(broken("a limit has two prices, or one below 0"));
            }
            left.insert(key);
        }
        let mut given = 0;
        for (kind, worth) in self.kinds.iter().zip(most_worth) {
            let key = (kind.stock, kind.on_hand);
            let price = prices.get(&key).copied().unwrap_or(0);
            left.remove(&key);
            let most = match kind.limit {
                Some(limit) => {
                    given += price * i128::from(limit);
                    self.most_boards.min(i128::from(limit))
                }
                None if price > 0 => {
                    return Err(broken(
                        "a kind of board without a limit has a price for one",
                    ));
                }
                None => self.most_boards,
            };
            let above = worth - kind.weight * self.parts - price;
            given += above.max(0) * most;
        }
        match left.iter().all(|key| prices.get(key) == Some(&0)) {
            true => Ok(given),
            false => Err(broken("a limit has a price that no kind of board has")),
        }
    }
}
