//! The proof of a cut list's bound: its pieces and boards as the certificate has
//! them, and what each set of prices says about the numbers of boards.

use std::collections::HashMap;

use super::boards::{Cutting, Kind, of_kinds, worths};
use super::certificate::{Certificate, CutPart, Further, Objective, Piece};
use super::check::{Proved, further_pieces, lifted};
use super::counts::{Counted, Least, Row, least};
use super::{Refused, broken};

/// A cut list's problem.
pub(super) struct Cut {
    kinds: Vec<Kind>,
    demand: HashMap<i128, u64>,
    kerf: i128,
    parts: i128,
}

impl Cut {
    /// The problem that a certificate tells.
    pub(super) fn of(certificate: &Certificate, cut: &CutPart) -> Result<Cut, Refused> {
        if certificate.objective != Objective::Cost || certificate.unit != 1 {
            return Err(broken("a cut list minimises cost, in units of 1"));
        }
        let room =
            |length: i64| i128::from(length) - 2 * i128::from(cut.end_trim) + i128::from(cut.kerf);
        let mut kinds = Vec::new();
        for (stock, board) in (1..).zip(&cut.stock) {
            let bundle = board.bundle;
            let price = board.price.unwrap_or(0);
            if bundle < 1
                || price
                    .checked_mul(i64::try_from(bundle).unwrap_or(i64::MAX))
                    .is_none()
            {
                return Err(broken("a bundle has no board, or more than can be counted"));
            }
            let kind = |on_hand, cents: i64, limit, bundle| Kind {
                stock,
                on_hand,
                weight: i128::from(cents),
                // Money is paid for whole bundles.
                sold: cents * bundle as i64,
                limit,
                bundle,
                room: room(board.length),
            };
            if board.on_hand > 0 {
                kinds.push(kind(true, 0, Some(board.on_hand), 1));
            }
            if let Some(price) = board.price {
                if price < 0 {
                    return Err(broken("a board has a price below 0"));
                }
                let most = board.available.map(|most| most - most % bundle);
                kinds.push(kind(false, price, most, bundle));
            }
        }
        if cut.kerf < 0 {
            return Err(broken("a saw cut is 0 or wider"));
        }
        let mut demand: HashMap<i128, u64> = HashMap::new();
        for piece in &cut.pieces {
            if piece.length <= 0 {
                return Err(broken("a piece has no length"));
            }
            let count = demand.entry(i128::from(piece.length)).or_default();
            *count = count.saturating_add(piece.count);
        }
        Ok(Cut {
            kinds,
            demand,
            kerf: i128::from(cut.kerf),
            parts: i128::from(certificate.parts),
        })
    }

    fn cutting(&self) -> Cutting<'_> {
        let pieces = self.demand.values();
        Cutting {
            kinds: &self.kinds,
            kerf: self.kerf,
            parts: self.parts,
            most_boards: pieces.map(|&count| i128::from(count)).sum(),
            most: Some(&self.demand),
            splits: &[],
        }
    }

    /// What the numbers of bundles have to meet at some prices: they hold no less
    /// than all pieces are worth. What a board holds at most is worth is told too.
    fn row(&self, pieces: &[Piece]) -> Result<(Row, Vec<i128>), Refused> {
        let worths = worths(pieces)?;
        let worth = |length| worths.get(&(None, length)).copied().unwrap_or(0);
        let demand = self.demand.iter();
        let cutting = self.cutting();
        let most_worth = cutting.most_worth(pieces)?;
        let row = Row {
            worth: cutting.of_bundles(&most_worth),
            need: demand
                .map(|(&length, &count)| worth(length) * i128::from(count))
                .sum(),
        };
        Ok((row, most_worth))
    }

    /// The row of further prices.
    pub(super) fn further_row(
        &self,
        certificate: &Certificate,
        further: &Further,
    ) -> Result<Row, Refused> {
        let pieces = further_pieces(certificate, further)?;
        Ok(self.row(&pieces)?.0)
    }

    /// The rows of all prices, the root's first.
    pub(super) fn rows(&self, certificate: &Certificate) -> Result<Vec<Row>, Refused> {
        let root = self.row(&certificate.pieces)?.0;
        self.and_further(certificate, root)
    }

    fn and_further(&self, certificate: &Certificate, root: Row) -> Result<Vec<Row>, Refused> {
        let further = certificate.further.iter();
        let further = further.map(|further| self.further_row(certificate, further));
        std::iter::once(Ok(root)).chain(further).collect()
    }

    /// The least that numbers of boards cost which meet all rows.
    pub(super) fn least(&self, rows: &[Row], enough: i64) -> Least {
        let counted: Vec<Counted> = self.cutting().counted();
        least(&counted, rows, i128::from(enough))
    }

    /// Boards by stock and where they come from.
    pub(super) fn boards(&self, counts: &[i128]) -> Vec<(usize, bool, i128)> {
        of_kinds(&self.kinds, counts)
    }

    /// What a certificate proves of it.
    pub(super) fn prove(&self, certificate: &Certificate, enough: i64) -> Result<Proved, Refused> {
        let (root, most_worth) = self.row(&certificate.pieces)?;
        let rows = self.and_further(certificate, root)?;
        // Boards left over of a bundle cost more still, which is left out.
        let given = self
            .cutting()
            .given_back(&most_worth, &certificate.limits)?;
        let primaries: Vec<i64> = self.kinds.iter().map(|kind| kind.sold).collect();
        let value = lifted(certificate, rows[0].need - given, &primaries)?;
        let least = self.least(&rows, enough);
        let by_counts = i64::try_from(least.weight).unwrap_or(i64::MAX);
        Ok(Proved {
            value: value.max(by_counts),
            blocks: Vec::new(),
            used: match value >= enough {
                true => vec![false; certificate.further.len()],
                false => least.used[1..].to_vec(),
            },
        })
    }
}
